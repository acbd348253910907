/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cylinder_search.c: the least of many minima.  Through five touches go up to
 * six cylinders (Bottema & Veldkamp, Geometriae Dedicata 6 (1977) 121-129), and
 * through two rings of four touches at right angles three.  So directions all
 * round are tried; one start is enough only where it leaves next to nothing and
 * no other cylinder comes near. */
#include "cylinder.h"

/* As JAW__CLEAR_SHARE of circles (bend.h). */
#define CLEAR_SHARE 1e-3
#define RIVAL_SHARE 1e3

/* So many touches determine a quadric. */
enum { QUADRIC = 9 };

enum { KEPT = 12 };

/* The resting points so far that are not the same cylinder, the best first. */
typedef struct field {
    const jaw__search *search;
    jaw__rest kept[KEPT];
    int count;
    jaw__rest stuck; /* the least that no search came to rest at */
} field;

/* A cylinder as seen from the touches' mean: the way to the axis times the
 * bend, or all of it when the axis is near, and how far off the wall is. */
typedef struct seen_from {
    double to[3], wall, bend;
} seen_from;

static seen_from seen(const jaw__bulk *bulk, const jaw__curved *at)
{
    const double bend = fabs(at->bend), reach = bulk->reach;
    seen_from s = {.bend = bend * reach};
    double c[3];

    jaw__curved_centre(at, c);
    double along = jaw__dot3(c, at->axis[0]);
    for (int i = 0; i < 3; i++)
        c[i] -= along * at->axis[0][i];
    double far = sqrt(jaw__dot3(c, c));
    for (int i = 0; i < 3; i++)
        s.to[i] = c[i] / fmax(far, reach);
    s.wall = (far - 1 / bend) / reach;
    return s;
}

static bool is_same(const jaw__bulk *bulk, const jaw__curved *a,
                    const jaw__curved *b)
{
    const double same = 1e-5;
    const seen_from s = seen(bulk, a), t = seen(bulk, b);
    double turn[3], off = 0;

    jaw__cross(a->axis[0], b->axis[0], turn);
    for (int i = 0; i < 3; i++)
        off = fmax(off, fabs(s.to[i] - t.to[i]));
    return sqrt(jaw__dot3(turn, turn)) <= same && off <= same &&
           fabs(s.wall - t.wall) <= same &&
           fabs(s.bend - t.bend) <= same * fmax(s.bend, 1);
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

static void clear(field *f)
{
    f->count = 0;
    f->stuck.ssr = HUGE_VAL;
}

static double best_ssr(const field *f)
{
    return f->count > 0 ? f->kept[0].ssr : HUGE_VAL;
}

static void try_start(field *f, const jaw__curved *start)
{
    jaw__rest rest;

    if (!jaw__settle(f->search, start, &rest)) {
        if (rest.ssr < f->stuck.ssr)
            f->stuck = rest;
        return;
    }
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

/* What this start leads to leaves next to nothing, and no other cylinder comes
 * near that. */
static bool is_clear(field *f, const jaw__quadrics *quadrics,
                     const jaw__way *way)
{
    const double n = (double)f->search->space->n;
    jaw__curved start = jaw__curved_round(way->c, way->r, way->w);

    try_start(f, &start);
    return best_ssr(f) <= CLEAR_SHARE * n * f->search->bulk->extent[2] &&
           !jaw__has_rival(quadrics, &f->kept[0].at, f->kept[0].ssr / n);
}

/* One start is enough: from the direction of the quadric that leaves least, or
 * from the best of a few. */
static bool is_one(field *f)
{
    const jaw__bulk *bulk = f->search->bulk;
    jaw__quadrics quadrics;
    jaw__way way;

    jaw__quadrics_make(bulk, &quadrics);
    if (jaw__quadrics_way(&quadrics, &way) && jaw__way_refine(bulk, &way) &&
        is_clear(f, &quadrics, &way))
        return true;
    clear(f);
    jaw__way_first(bulk, &way);
    (void)jaw__way_refine(bulk, &way);
    return is_clear(f, &quadrics, &way);
}

/* Seen along a given direction all on one line, which is a plane that holds
 * it: no shift and no turn about the direction is left to a better one. */
static bool is_line(const jaw__search *search, const double w[3])
{
    const jaw__search flat = {search->space, search->bulk,
                              {[JAW__SHIFT] = true, [JAW__ROLL] = true}};
    jaw__curved start = jaw__way_bow(search->bulk, w);
    jaw__rest rest;

    start.bend = 0;
    return jaw__settle(&flat, &start, &rest) &&
           !(sqrt(rest.ssr) > search->space->noise);
}

/* Where a cylinder leaves next to nothing, so does a rival, and then the circle
 * across its direction.  Of touches too few for a quadric all is tried. */
static void look_all_round(field *f, const jaw__known *given)
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

/* No search came to rest: in a valley without an end, as touches on one ring
 * leave the tilt open, or for another reason. */
static bool is_loose(const field *f)
{
    jaw__seen seen;

    return f->stuck.ssr < HUGE_VAL &&
           !jaw__see(f->search, &f->stuck.at, &seen, NULL);
}

static jaw_status best_of(field *f, const jaw__known *given)
{
    if (!given->has_axis && !(given->r > 0) && is_one(f))
        return JAW_OK;
    if (given->has_axis && is_line(f->search, given->axis))
        return JAW_ERANK;
    look_all_round(f, given);
    if (f->count == 0)
        return is_loose(f) ? JAW_ERANK : JAW_ENOCONV;
    if (jaw__straight(f->search, &f->kept[0].at))
        return JAW_ENOCONV;
    return is_open(f) ? JAW_ERANK : JAW_OK;
}

jaw_status jaw__cylinder_search(const jaw__search *search,
                                const jaw__known *given, jaw__rest *best)
{
    field f;

    f.search = search;
    clear(&f);
    jaw_status status = best_of(&f, given);
    if (status == JAW_OK)
        *best = f.kept[0];
    return status;
}
