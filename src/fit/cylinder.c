/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cylinder.c: the cylinder with least sum of squared distances (Forbes, NPL
 * Report DITC 140/89; Shakarji, J. Res. NIST 103 (1998) 633-641).
 *
 * The sum has many minima: through five touches go up to six cylinders
 * (Bottema & Veldkamp, Geometriae Dedicata 6 (1977) 121-129), and through two
 * rings of four touches at right angles three.  So directions all round are
 * tried; one start is enough only where it leaves next to nothing and no other
 * direction comes near. */
#include "cylinder.h"

/* As JAW__CLEAR_SHARE of circles (bend.h). */
#define CLEAR_SHARE 1e-3
#define RIVAL_SHARE 1e3

/* So many touches determine a quadric. */
enum { QUADRIC = 9 };

/* What is known, in units. */
typedef struct known {
    bool has_axis;
    double axis[3], r; /* r 0: not known */
} known;

enum { KEPT = 12 };

/* The resting points so far that are not the same cylinder, the best first. */
typedef struct field {
    const jaw__search *search;
    jaw__rest kept[KEPT];
    int count;
} field;

static bool is_same(const jaw__bulk *bulk, const jaw__curved *a,
                    const jaw__curved *b)
{
    const double same = 1e-5, reach = bulk->reach;
    const bool tight = fabs(a->bend) * reach > 0.1;
    double turn[3], p[3], q[3], d[3];

    jaw__cross(a->axis[0], b->axis[0], turn);
    if (jaw__dot(turn, turn) > same * same ||
        fabs(fabs(a->bend) - fabs(b->bend)) >
            same * fmax(fabs(a->bend), 1 / reach))
        return false;
    /* a long radius carries its centre along: then where it is touched counts,
     * and to which side it bends */
    jaw__curved_centre(a, p);
    jaw__curved_centre(b, q);
    for (int i = 0; i < 3; i++)
        d[i] = tight ? p[i] - q[i]
                     : a->axis[2][i] * a->bend - b->axis[2][i] * b->bend;
    double along = jaw__dot(d, a->axis[0]);
    double square = jaw__dot(d, d) - along * along;
    return square <= same * same * (tight ? reach * reach : 1 / reach / reach);
}

/* Where a new one belongs: in place of the same cylinder, behind all others,
 * or in place of the worst. */
static int place_of(field *f, const jaw__curved *at)
{
    for (int i = 0; i < f->count; i++)
        if (is_same(f->search->bulk, at, &f->kept[i].at))
            return i;
    if (f->count == KEPT)
        return KEPT - 1;
    f->kept[f->count].ssr = HUGE_VAL;
    return f->count++;
}

static void keep(field *f, const jaw__rest *rest)
{
    int at = place_of(f, &rest->at);

    if (!(rest->ssr < f->kept[at].ssr))
        return;
    for (; at > 0 && f->kept[at - 1].ssr > rest->ssr; at--)
        f->kept[at] = f->kept[at - 1];
    f->kept[at] = *rest;
}

static double best_ssr(const field *f)
{
    return f->count > 0 ? f->kept[0].ssr : HUGE_VAL;
}

static void try_start(field *f, const jaw__curved *start)
{
    jaw__rest rest;

    if (!jaw__settle(f->search, start, &rest))
        return;
    jaw__settle_near(f->search, &rest);
    keep(f, &rest);
}

/* Bows to all sides of one direction; known radius: with it. */
static void try_bows(field *f, const jaw__curved *bow, double r)
{
    static const double share[] = {-1, -0.25, 0.25, 1};
    const double *w = bow->axis[0], reach = f->search->bulk->reach;

    for (int i = 0; i < 8; i++) {
        if (r > 0 && (i / 2) % 3 != 0)
            continue;
        double bend = r > 0 ? share[i / 2] / r : share[i / 2] / reach;
        jaw__curved start = jaw__bow(bow->axis[1 + (i & 1)], w, bend);
        try_start(f, &start);
    }
}

static void try_way(field *f, const jaw__way *way, double r, bool all)
{
    jaw__curved start = jaw__curved_round(way->c, r > 0 ? r : way->r, way->w);
    jaw__curved bow = jaw__way_bow(f->search->bulk, way->w);

    try_start(f, &start);
    if (!(r > 0))
        try_start(f, &bow);
    if (all || r > 0)
        try_bows(f, &bow, r);
}

/* Directions in the best plane: what a patch may lie along. */
static void try_plane(field *f, double r)
{
    const jaw__bulk *bulk = f->search->bulk;

    for (int i = 0; i < 6; i++) {
        const double angle = i * 0x1.0c152382d7365p-1;
        const double c = cos(angle), s = sin(angle);
        double w[3];
        for (int k = 0; k < 3; k++)
            w[k] = c * bulk->axis[0][k] + s * bulk->axis[1][k];
        jaw__curved bow = jaw__way_bow(bulk, w);
        if (!(r > 0))
            try_start(f, &bow);
        try_bows(f, &bow, r);
    }
}

/* One start, from the best direction, is enough: true when what it leads to
 * leaves next to nothing and no other cylinder comes near that. */
static bool is_clear(field *f, bool axes)
{
    const jaw__bulk *bulk = f->search->bulk;
    const double n = (double)f->search->space->n;
    jaw__way way;

    jaw__way_first(bulk, axes, &way);
    jaw__way_refine(bulk, &way);
    jaw__curved start = jaw__curved_round(way.c, way.r, way.w);
    try_start(f, &start);
    return best_ssr(f) <= CLEAR_SHARE * n * bulk->extent[2] &&
           !jaw__has_rival(bulk, &f->kept[0].at, f->kept[0].ssr / n);
}

/* Where a cylinder leaves next to nothing, so does a rival, and then the circle
 * across its direction.  Of touches too few for a quadric all is tried. */
static void look_all_round(field *f, const known *given)
{
    const double n = (double)f->search->space->n;
    const double plane = n * f->search->bulk->extent[2];
    jaw__way ways[JAW__WAYS_MOST];

    if (given->has_axis) {
        jaw__way_along(f->search->bulk, given->axis, &ways[0]);
        try_way(f, &ways[0], given->r, true);
        return;
    }
    int count = jaw__ways(f->search->bulk, JAW__WAYS_MOST, ways);
    for (int i = 0; i < count; i++)
        if (n < QUADRIC || best_ssr(f) > CLEAR_SHARE * plane ||
            n * ways[i].off <= RIVAL_SHARE * best_ssr(f) + 1e-12 * plane)
            try_way(f, &ways[i], given->r, false);
    if (n < QUADRIC || best_ssr(f) > CLEAR_SHARE * plane)
        try_plane(f, given->r);
}

/* Whether another cylinder may be the one that was touched.  If it is, the
 * touches lie off along its normals, and the best shows only what of that
 * lies along its own: corners of a box, touched on the cylinder round four
 * edges, fit those round the others better. */
static bool is_open(const field *f)
{
    const jaw__space *space = f->search->space;
    const jaw__rest *best = &f->kept[0];

    if (!((double)space->n > jaw__free(f->search)))
        return false;
    for (int i = 1; i < f->count; i++) {
        const double share = jaw__shared(space, &best->at, &f->kept[i].at);
        if (jaw__alike(f->search, best->ssr, share * f->kept[i].ssr))
            return true;
    }
    return false;
}

static jaw_status best_of(field *f, const known *given)
{
    if (!given->has_axis && !(given->r > 0) &&
        (is_clear(f, true) || is_clear(f, false)))
        return JAW_OK;
    look_all_round(f, given);
    if (f->count == 0)
        return JAW_ENOCONV;
    if (jaw__straight(f->search, &f->kept[0].at))
        return JAW_ENOCONV;
    return is_open(f) ? JAW_ERANK : JAW_OK;
}

static jaw_status take_axis(const jaw_vec3 *axis, known *given)
{
    const double size = axis ? jaw__size(&axis->x, 3) : 0;
    int e;

    *given = (known){.has_axis = axis != NULL};
    if (!axis)
        return JAW_OK;
    if (isnan(size))
        return JAW_ENOTFINITE;
    if (!(size > 0))
        return JAW_EDOMAIN;
    frexp(size, &e);
    given->axis[0] = ldexp(axis->x, -e);
    given->axis[1] = ldexp(axis->y, -e);
    given->axis[2] = ldexp(axis->z, -e);
    jaw__normalise(given->axis);
    return JAW_OK;
}

static jaw_status take_given(const jaw_cylinder_given *from, known *given)
{
    const jaw_cylinder_given nothing = {NULL, 0};

    if (!from)
        from = &nothing;
    jaw_status status = take_axis(from->axis, given);
    if (status != JAW_OK)
        return status;
    if (!isfinite(from->r))
        return JAW_ENOTFINITE;
    if (from->r < 0)
        return JAW_EDOMAIN;
    given->r = from->r;
    return JAW_OK;
}

static size_t needed(const known *given)
{
    return given->has_axis ? 3 : given->r > 0 ? 5 : 6;
}

static jaw_status begin(jaw__space *space, jaw__bulk *bulk, const jaw_vec3 p[],
                        size_t n, bool has_axis)
{
    jaw_status status = jaw__space_make(space, p, n);

    if (status != JAW_OK)
        return status;
    jaw__bulk_make(space, bulk);
    if (!has_axis && jaw__space_is_flat(space, bulk))
        return JAW_ERANK;
    return bulk->reach * sqrt((double)n) > space->noise ? JAW_OK : JAW_ERANK;
}

jaw_status jaw_fit_cylinder(const jaw_vec3 p[], size_t n,
                            const jaw_cylinder_given *given,
                            jaw_cylinder *cylinder, double resid[])
{
    jaw__space space;
    jaw__bulk bulk;
    known what;
    jaw_status status = take_given(given, &what);

    if (status == JAW_OK)
        status = n < needed(&what) ? JAW_EFEW
                                   : begin(&space, &bulk, p, n, what.has_axis);
    if (status != JAW_OK)
        return jaw__cylinder_give_up(status, n, cylinder, resid);
    what.r *= space.unit;
    const jaw__search search = {
        &space, &bulk,
        {true, !what.has_axis, true, !what.has_axis, !(what.r > 0)}};
    field f;
    f.search = &search;
    f.count = 0;
    status = best_of(&f, &what);
    if (status == JAW_OK)
        status = jaw__cylinder_report(&search, &f.kept[0], cylinder, resid);
    if (status != JAW_OK)
        return jaw__cylinder_give_up(status, n, cylinder, resid);
    if (what.r > 0)
        cylinder->r = given->r;
    return JAW_OK;
}
