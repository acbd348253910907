/* SPDX-License-Identifier: GPL-3.0-or-later */
/* zone_plane.c: the narrowest slab that holds all touches.  Either one border
 * holds a facet of their convex hull and the other a corner, or each holds an
 * edge (Houle & Toussaint, IEEE PAMI 10 (1988) 761-765).
 *
 * Which corner lies opposite a facet is found by walking uphill from the one
 * opposite its neighbour.  While the slab turns about an edge from one of its
 * facets to the other, the corners opposite form a chain: between its two ends
 * another one is looked for where both are as low, and so on, until there is
 * none lower.  Two that follow each other in the chain are the edge opposite.
 *
 * Touches that lie in one plane but for rounding are told apart by nothing but
 * rounding: a walk that ends among such does not stop before all of them, as
 * high as each other, were looked at. */
#include "zone.h"

#include <stdlib.h>

typedef struct slab {
    double width;    /* scaled */
    jaw_vec3 normal; /* as of jaw_plane */
    size_t touch[4];
    size_t touches;
} slab;

typedef struct side {
    jaw_vec3 normal;
    size_t low; /* the corner opposite; JAW__NONE: not known yet */
} side;

typedef struct search {
    const jaw_vec3 *p;
    jaw__hull3 hull;
    side *side;     /* of each facet */
    size_t *stack;  /* facets to go on from */
    size_t *home;   /* of each corner: one of its facets */
    size_t *seen;   /* of each corner: the walk that looked at it last */
    size_t *level;  /* corners as high as each other */
    size_t walk;
    double alike, slack, least;
    slab best;
} search;

static double along(jaw_vec3 d, jaw_vec3 from, jaw_vec3 to)
{
    return d.x * (to.x - from.x) + d.y * (to.y - from.y) +
           d.z * (to.z - from.z);
}

static bool is_nothing(jaw_vec3 d)
{
    return d.x == 0 && d.y == 0 && d.z == 0;
}

/* ------------------------------------------------------ corner to corner */

static size_t place_in(const jaw__facet *facet, size_t corner)
{
    return facet->corner[0] == corner ? 0 : facet->corner[1] == corner ? 1 : 2;
}

/* The next facet round a corner; *to: the corner that their edge leads to. */
static size_t turn_round(const search *s, size_t facet, size_t corner,
                         size_t *to)
{
    const jaw__facet *f = &s->hull.facet[facet];
    const size_t k = place_in(f, corner);

    *to = f->corner[(k + 1) % 3];
    return f->next[(k + 2) % 3];
}

/* The neighbour highest along d; the corner itself when none is higher. */
static size_t step_up(const search *s, jaw_vec3 d, size_t at)
{
    size_t facet = s->home[at], next = at, to;
    double most = s->slack;

    do {
        facet = turn_round(s, facet, at, &to);
        double gain = along(d, s->p[at], s->p[to]);
        if (gain > most) {
            most = gain;
            next = to;
        }
    } while (facet != s->home[at]);
    return next;
}

/* From `at` over all corners that are as high, to one that is higher; `at`
 * when there is none. */
static size_t cross_level(search *s, jaw_vec3 d, size_t at)
{
    size_t count = 1, to;

    s->level[0] = at;
    s->seen[at] = ++s->walk;
    for (size_t k = 0; k < count; k++) {
        size_t facet = s->home[s->level[k]];
        do {
            facet = turn_round(s, facet, s->level[k], &to);
            double gain = along(d, s->p[at], s->p[to]);
            if (gain > s->slack)
                return to;
            if (gain < -s->slack || s->seen[to] == s->walk)
                continue;
            s->seen[to] = s->walk;
            s->level[count++] = to;
        } while (facet != s->home[s->level[k]]);
    }
    return at;
}

/* The corner farthest along d, but for rounding.  Each step leads higher by
 * more than that, so this ends. */
static size_t climb(search *s, jaw_vec3 d, size_t at)
{
    for (;;) {
        size_t next = step_up(s, d, at);
        if (next == at)
            next = cross_level(s, d, at);
        if (next == at)
            return at;
        at = next;
    }
}

static jaw_vec3 reversed(jaw_vec3 d)
{
    return (jaw_vec3){-d.x, -d.y, -d.z};
}

/* ------------------------------------------------------------ candidates */

static jaw_vec3 upright(jaw_vec3 d)
{
    const double x = jaw__quiet(d.x), y = jaw__quiet(d.y), z = jaw__quiet(d.z);
    const double lead = z != 0 ? z : y != 0 ? y : x;
    const double sign = lead < 0 ? -1 : 1;

    return (jaw_vec3){sign * x + 0, sign * y + 0, sign * z + 0};
}

/* Of slabs as narrow, the one that lies flattest; then the one whose normal
 * leans most to y, then to x; of what is one direction but for rounding, the
 * narrower. */
static bool first_of(const slab *a, const slab *b)
{
    const int z = jaw__ranked(b->normal.z, a->normal.z, JAW__SAME);
    const int y = jaw__ranked(b->normal.y, a->normal.y, JAW__SAME);
    const int x = jaw__ranked(b->normal.x, a->normal.x, JAW__SAME);

    if (z != 0 || y != 0)
        return z != 0 ? z < 0 : y < 0;
    return x != 0 ? x < 0 : a->width < b->width;
}

static void offer(search *s, double width, jaw_vec3 d, const size_t touch[4])
{
    slab next = {width, upright(d), {0}, 4};

    for (int k = 0; k < 4; k++)
        next.touch[k] = touch[k];
    s->least = fmin(s->least, next.width);
    if (s->best.width > s->least + s->alike ||
        (next.width <= s->least + s->alike && first_of(&next, &s->best)))
        s->best = next;
}

static void offer_facet(search *s, size_t f)
{
    const size_t *c = s->hull.facet[f].corner;
    const size_t touch[4] = {c[0], c[1], c[2], s->side[f].low};
    const jaw_vec3 d = s->side[f].normal;

    if (!is_nothing(d))
        offer(s, along(d, s->p[touch[3]], s->p[c[0]]), d, touch);
}

/* An edge, its two facets and what lies opposite of them. */
typedef struct hinge {
    size_t a, b; /* corners */
    jaw_vec3 from, to; /* normals of the facets */
} hinge;

/* The slab turns about h; low lies opposite at first, high at last.  All edges
 * of the chain between them. */
static void turn_about(search *s, const hinge *h, size_t low, size_t high)
{
    const jaw_vec3 *p = s->p;

    if (low == high || along(h->from, p[low], p[high]) <= s->slack ||
        along(h->to, p[high], p[low]) <= s->slack)
        return; /* as low as each other all the way */
    jaw_vec3 d = jaw__cross3(&p[h->a], &p[h->b], &p[low], &p[high]);
    double width = along(d, p[low], p[h->a]);
    if (width < 0) {
        d = reversed(d);
        width = -width;
    }
    const size_t next = climb(s, reversed(d), low);
    if (along(d, p[next], p[low]) > s->slack) {
        /* in between, unless d is rounding alone */
        if (along(h->from, p[next], p[high]) > 0 &&
            along(h->to, p[next], p[low]) > 0) {
            turn_about(s, h, low, next);
            turn_about(s, h, next, high);
        }
        return;
    }
    const size_t touch[4] = {h->a, h->b, low, high};
    if (!is_nothing(d))
        offer(s, width, d, touch);
}

/* ---------------------------------------------------------------- the hull */

static bool prepare(search *s, size_t n)
{
    const jaw__hull3 *hull = &s->hull;

    s->side = calloc(hull->count, sizeof *s->side);
    s->stack = calloc(hull->count, sizeof *s->stack);
    s->home = calloc(n, sizeof *s->home);
    s->seen = calloc(n, sizeof *s->seen);
    s->level = calloc(n, sizeof *s->level);
    if (!s->side || !s->stack || !s->home || !s->seen || !s->level)
        return false;
    for (size_t f = 0; f < hull->count; f++) {
        const size_t *c = hull->facet[f].corner;
        if (hull->facet[f].gone)
            continue;
        for (int k = 0; k < 3; k++)
            s->home[c[k]] = f;
        s->side[f].low = JAW__NONE;
        s->side[f].normal = jaw__cross3(&s->p[c[0]], &s->p[c[1]], &s->p[c[0]],
                                        &s->p[c[2]]);
    }
    return true;
}

static void look_down(search *s, size_t f, size_t from)
{
    s->side[f].low = climb(s, reversed(s->side[f].normal), from);
}

/* The corner opposite each facet, from facet to neighbour. */
static void find_opposites(search *s)
{
    size_t count = 0, first = 0;

    while (s->hull.facet[first].gone)
        first++;
    look_down(s, first, s->hull.facet[first].corner[0]);
    s->stack[count++] = first;
    while (count > 0) {
        const size_t f = s->stack[--count];
        for (int k = 0; k < 3; k++) {
            const size_t g = s->hull.facet[f].next[k];
            if (s->side[g].low != JAW__NONE)
                continue;
            look_down(s, g, s->side[f].low);
            s->stack[count++] = g;
        }
    }
}

static void compare_edge(search *s, size_t f, size_t k)
{
    const jaw__facet *facet = &s->hull.facet[f];
    const size_t g = facet->next[k];
    const hinge h = {facet->corner[k], facet->corner[(k + 1) % 3],
                     s->side[f].normal, s->side[g].normal};

    if (f < g)
        turn_about(s, &h, s->side[f].low, s->side[g].low);
}

static void compare_all(search *s)
{
    for (size_t f = 0; f < s->hull.count; f++)
        if (!s->hull.facet[f].gone)
            offer_facet(s, f);
    for (size_t f = 0; f < s->hull.count; f++)
        for (size_t k = 0; !s->hull.facet[f].gone && k < 3; k++)
            compare_edge(s, f, k);
}

static jaw_status search_hull(const jaw__zone_solid *solid,
                              const size_t first[4], slab *best)
{
    search s = {.p = solid->p, .alike = JAW__ALIKE * solid->extent,
                .slack = JAW__SLACK * solid->extent, .least = HUGE_VAL,
                .best = {.width = HUGE_VAL}};
    jaw_status status = jaw__hull3_make(&s.hull, solid->p, solid->n, first);

    if (status == JAW_OK && !prepare(&s, solid->n))
        status = JAW_ENOMEM;
    if (status == JAW_OK) {
        find_opposites(&s);
        compare_all(&s);
        *best = s.best;
    }
    jaw__hull3_free(&s.hull);
    free(s.side);
    free(s.stack);
    free(s.home);
    free(s.seen);
    free(s.level);
    return status;
}

/* ---------------------------------------------------------- the first four */

static size_t farthest_from(const jaw__zone_solid *s, size_t a)
{
    size_t best = a;
    double most = 0;

    for (size_t i = 0; i < s->n; i++) {
        const jaw_vec3 *p = &s->p[i], *q = &s->p[a];
        double d = hypot(hypot(p->x - q->x, p->y - q->y), p->z - q->z);
        if (d > most) {
            most = d;
            best = i;
        }
    }
    return best;
}

/* From the line through a and b; *most: how far. */
static size_t farthest_off(const jaw__zone_solid *s, size_t a, size_t b,
                           double *most)
{
    const jaw_vec3 *p = s->p, u = {p[b].x - p[a].x, p[b].y - p[a].y,
                                   p[b].z - p[a].z};
    const double length = hypot(hypot(u.x, u.y), u.z);
    size_t best = a;

    *most = 0;
    for (size_t i = 0; i < s->n; i++) {
        const jaw_vec3 v = {p[i].x - p[a].x, p[i].y - p[a].y, p[i].z - p[a].z};
        double d = hypot(hypot(u.y * v.z - u.z * v.y, u.z * v.x - u.x * v.z),
                         u.x * v.y - u.y * v.x) / length;
        if (d > *most) {
            *most = d;
            best = i;
        }
    }
    return best;
}

/* From the plane through the first three; false when all lie in it. */
static bool farthest_out(const jaw__zone_solid *s, size_t first[4])
{
    double most = 0;

    for (size_t i = 0; i < s->n; i++) {
        double v = fabs(jaw__side3(&s->p[first[0]], &s->p[first[1]],
                                   &s->p[first[2]], &s->p[i]));
        if (v > most) {
            most = v;
            first[3] = i;
        }
    }
    return most > 0;
}

static jaw_status find_slab(const jaw__zone_solid *solid, slab *best)
{
    size_t first[4] = {0, farthest_from(solid, 0), 0, 0};
    double most;

    first[2] = farthest_off(solid, first[0], first[1], &most);
    if (!(most > solid->noise))
        return JAW_ERANK;
    if (farthest_out(solid, first))
        return search_hull(solid, first, best);
    const jaw_vec3 *p = solid->p;
    *best = (slab){0, upright(jaw__cross3(&p[first[0]], &p[first[1]],
                                          &p[first[0]], &p[first[2]])),
                   {first[0], first[1], first[2]}, 3};
    return JAW_OK;
}

/* --------------------------------------------------------------- the zone */

/* Its width over all touches: none is left out, whatever the search did. */
static double measure(const jaw__zone_solid *solid, const slab *s)
{
    const jaw_vec3 from = solid->p[s->touch[0]];
    double low = 0, high = 0;

    for (size_t i = 0; i < solid->n; i++) {
        double d = along(s->normal, from, solid->p[i]);
        low = fmin(low, d);
        high = fmax(high, d);
    }
    return (high - low) / solid->scale;
}

static void write_zone(const jaw_vec3 p[], size_t n, const slab *s,
                       double width, jaw_zone *zone)
{
    (void)jaw__zone_give_up(JAW_OK, zone);
    zone->normal = s->normal;
    zone->width = width;
    zone->low = HUGE_VAL;
    zone->high = -HUGE_VAL;
    for (size_t i = 0; i < n; i++) {
        double d = s->normal.x * p[i].x + s->normal.y * p[i].y +
                   s->normal.z * p[i].z;
        zone->low = fmin(zone->low, d);
        zone->high = fmax(zone->high, d);
    }
    jaw__zone_held_by(zone, s->touch, s->touches);
}

jaw_status jaw_zone_plane(const jaw_vec3 p[], size_t n, jaw_zone *zone)
{
    jaw__zone_solid solid;
    slab best = {0};
    jaw_status status = jaw__zone_solid_make(&solid, p, n, 3);

    if (status == JAW_OK)
        status = find_slab(&solid, &best);
    if (status == JAW_OK)
        write_zone(p, n, &best, best.touches == 3 ? 0 : measure(&solid, &best),
                   zone);
    free(solid.p);
    return status == JAW_OK ? status : jaw__zone_give_up(status, zone);
}
