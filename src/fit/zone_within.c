/* SPDX-License-Identifier: GPL-3.0-or-later */
/* zone_within.c: the largest circle that no touch lies in, its centre within
 * the touches' convex hull (ISO 12181-1: maximum inscribed circle).  Its centre
 * is a corner of the touches' Voronoi diagram, or lies where one of the
 * diagram's edges crosses the border of the hull (Toussaint, Int. J. Comput.
 * Inf. Sci. 12 (1983) 347-358).
 *
 * The diagram comes from the lower side of a hull in space, of the touches
 * lifted to x^2 + y^2 (Brown, Inf. Process. Lett. 9 (1979) 223-228).  Rounding
 * of that square may join touches differently where nearly four lie on one
 * circle; so each centre that is found is measured over all touches before it
 * counts. */
#include "zone.h"

#include <stdlib.h>

typedef struct hole {
    jaw_vec2 c;
    double r;
    size_t touch[3];
    size_t touches;
} hole;

typedef struct search {
    const jaw_vec2 *q;
    size_t n;
    double extent, alike;
    size_t *corner; /* of the hull in the plane */
    size_t corners;
    jaw_vec3 *lift; /* n touches, and one far above that closes the hull */
    jaw__hull3 hull;
    double most;
    hole best;
} search;

static double side_of(jaw_vec2 a, jaw_vec2 b, jaw_vec2 c)
{
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

/* ------------------------------------------------------------ candidates */

/* Of holes as large, the one farthest to the left, then the lowest. */
static bool first_of(const hole *a, const hole *b, double extent)
{
    const int x = jaw__ranked(a->c.x, b->c.x, JAW__SAME * extent);

    return x != 0 ? x < 0 : a->c.y < b->c.y - JAW__SAME * extent;
}

/* A hole with its radius as it should be; measured only when it could be the
 * best. */
static void offer(search *s, hole next)
{
    const bool larger = next.r > s->best.r + s->alike;
    double square = HUGE_VAL;

    if (!(next.r >= s->most - s->alike) ||
        (!larger && !first_of(&next, &s->best, s->extent)))
        return;
    for (size_t i = 0; i < s->n; i++) {
        const double x = s->q[i].x - next.c.x, y = s->q[i].y - next.c.y;
        square = fmin(square, x * x + y * y);
    }
    next.r = sqrt(square);
    if (!(next.r >= s->most - s->alike))
        return;
    const bool first = next.r > s->best.r + s->alike ||
                       first_of(&next, &s->best, s->extent);
    s->most = fmax(s->most, next.r);
    if (first || s->best.r < s->most - s->alike)
        s->best = next;
}

/* A triangle fan from the first corner, halved until one triangle is left; its
 * own sides inside the hull do not count. */
static bool is_within(const search *s, jaw_vec2 c)
{
    const jaw_vec2 *q = s->q, a = q[s->corner[0]];
    const size_t last = s->corners - 1;
    size_t low = 1, high = last;

    if (!(side_of(a, q[s->corner[1]], c) >= 0) ||
        !(side_of(q[s->corner[last]], a, c) >= 0))
        return false;
    while (high - low > 1) {
        const size_t mid = low + (high - low) / 2;
        if (side_of(a, q[s->corner[mid]], c) >= 0)
            low = mid;
        else
            high = mid;
    }
    return side_of(q[s->corner[low]], q[s->corner[high]], c) >= 0;
}

static jaw_vec2 shadow(const jaw_vec3 *p)
{
    return (jaw_vec2){p->x, p->y};
}

/* Seen from below, without the lid; and not upright, as of touches on one edge
 * of the plane's hull. */
static bool is_lower(const search *s, size_t facet)
{
    const jaw__facet *f = &s->hull.facet[facet];
    const size_t *k = f->corner;

    return !f->gone && k[0] != s->n && k[1] != s->n && k[2] != s->n &&
           jaw__side2(shadow(&s->lift[k[0]]), shadow(&s->lift[k[1]]),
                      shadow(&s->lift[k[2]])) < 0;
}

/* The circle through the corners of a facet. */
static hole circle_of(const search *s, size_t facet)
{
    const size_t *k = s->hull.facet[facet].corner;
    hole out = {.touch = {k[0], k[1], k[2]}, .touches = 3};

    out.c = jaw__through(s->q[k[0]], s->q[k[1]], s->q[k[2]], &out.r);
    return out;
}

typedef struct edge {
    jaw_vec2 foot, n; /* points of the diagram's edge: foot + t n */
    double from, to;  /* t */
    size_t a, b;      /* the two touches it lies between */
} edge;

/* Where a line crosses the border of the hull, if within the edge. */
static void offer_crossings(search *s, const edge *e)
{
    const double slack = JAW__SAME * s->extent;

    for (size_t i = 0; i < s->corners; i++) {
        const jaw_vec2 p = s->q[s->corner[i]];
        const jaw_vec2 r = s->q[s->corner[(i + 1) % s->corners]];
        const double hp = e->n.x * (p.y - e->foot.y) -
                          e->n.y * (p.x - e->foot.x);
        const double hr = e->n.x * (r.y - e->foot.y) -
                          e->n.y * (r.x - e->foot.x);
        if ((hp > 0) == (hr > 0))
            continue;
        const double k = hp / (hp - hr);
        const jaw_vec2 c = {p.x + k * (r.x - p.x), p.y + k * (r.y - p.y)};
        const double t = e->n.x * (c.x - e->foot.x) +
                         e->n.y * (c.y - e->foot.y);
        if (t >= e->from - slack && t <= e->to + slack)
            offer(s, (hole){c, jaw__apart(c, s->q[e->a]), {e->a, e->b}, 2});
    }
}

/* The diagram's edge between facets f and g, across the k-th edge of f; when
 * g is no lower facet it runs on to the outside without end. */
static void offer_edge(search *s, size_t f, size_t k, size_t g)
{
    const jaw__facet *facet = &s->hull.facet[f];
    edge e = {.a = facet->corner[k], .b = facet->corner[(k + 1) % 3]};
    const jaw_vec2 a = s->q[e.a], b = s->q[e.b], c = circle_of(s, f).c;
    const double h = jaw__apart(a, b);

    /* seen from above, a lower facet runs clockwise: outside is to the left */
    e.foot = (jaw_vec2){a.x / 2 + b.x / 2, a.y / 2 + b.y / 2};
    e.n = (jaw_vec2){-(b.y - a.y) / h, (b.x - a.x) / h};
    e.from = e.n.x * (c.x - e.foot.x) + e.n.y * (c.y - e.foot.y);
    e.to = HUGE_VAL;
    if (is_lower(s, g)) {
        const jaw_vec2 d = circle_of(s, g).c;
        e.to = e.n.x * (d.x - e.foot.x) + e.n.y * (d.y - e.foot.y);
    }
    offer_crossings(s, &e);
}

static void offer_all(search *s)
{
    for (size_t f = 0; f < s->hull.count; f++) {
        if (!is_lower(s, f))
            continue;
        const hole c = circle_of(s, f);
        const bool within = is_within(s, c.c);
        if (within)
            offer(s, c);
        for (size_t k = 0; k < 3; k++) {
            const size_t g = s->hull.facet[f].next[k];
            const bool lower = is_lower(s, g);
            if (lower && g < f)
                continue;
            if (!within || (lower && !is_within(s, circle_of(s, g).c)))
                offer_edge(s, f, k, g);
        }
    }
}

/* ----------------------------------------------------------------- lifting */

/* Made larger so that squares keep their digits: to between 1/8 and 1/4. */
static void lift_all(search *s)
{
    int e;

    frexp(s->extent, &e);
    const double k = ldexp(1, -e - 2);
    for (size_t i = 0; i < s->n; i++) {
        const double x = s->q[i].x * k, y = s->q[i].y * k;
        s->lift[i] = (jaw_vec3){jaw__tidy(x), jaw__tidy(y),
                                jaw__tidy(x * x + y * y)};
    }
}

/* Above the middle of three touches, so that it hides nothing that is seen
 * from below. */
static void put_lid(search *s, const size_t first[3])
{
    const jaw_vec3 *a = &s->lift[first[0]], *b = &s->lift[first[1]];
    const jaw_vec3 *c = &s->lift[first[2]];

    s->lift[s->n].x = jaw__tidy((a->x + b->x + c->x) / 3);
    s->lift[s->n].y = jaw__tidy((a->y + b->y + c->y) / 3);
    s->lift[s->n].z = 1;
}

/* To begin with: three of the plane's hull, not on one line, and the lid. */
static jaw_status find_hole(search *s)
{
    const size_t first[4] = {s->corner[0], s->corner[s->corners / 3],
                             s->corner[2 * s->corners / 3], s->n};
    jaw_status status;

    s->lift = calloc(s->n + 1, sizeof *s->lift);
    if (!s->lift)
        return JAW_ENOMEM;
    lift_all(s);
    put_lid(s, first);
    if (jaw__side3(&s->lift[first[0]], &s->lift[first[1]], &s->lift[first[2]],
                   &s->lift[first[3]]) == 0)
        return JAW_ERANK;
    status = jaw__hull3_make(&s->hull, s->lift, s->n + 1, first);
    if (status == JAW_OK)
        offer_all(s);
    return status == JAW_OK && !(s->best.r > 0) ? JAW_ERANK : status;
}

/* Wider than rounding, so that there is an inside. */
static bool is_wide(const jaw__zone_flat *f, const size_t corner[],
                    size_t corners)
{
    double wide = 0;

    for (size_t i = 0; corners > 2 && i < corners; i++)
        wide = fmax(wide, jaw__side2(f->p[corner[0]],
                                     f->p[corner[corners / 2]],
                                     f->p[corner[i]]));
    return corners > 2 && wide > f->noise * f->extent;
}

static void write_zone(const jaw__zone_flat *f, const hole *best,
                       jaw_zone *zone)
{
    double high = 0;

    for (size_t i = 0; i < f->n; i++)
        high = fmax(high, jaw__apart(best->c, f->q[i]));
    jaw__zone_round(zone, f, best->c, best->r, high, high - best->r);
    jaw__zone_held_by(zone, best->touch, best->touches);
}

static jaw_status search_all(const jaw__zone_flat *f, jaw_zone *zone)
{
    search s = {.q = f->q, .n = f->n, .extent = f->extent,
                .alike = JAW__ALIKE * f->extent, .most = 0, .best = {.r = 0}};
    jaw_status status;

    s.corner = calloc(f->n + 1, sizeof *s.corner);
    status = s.corner ? jaw__hull2(f->p, f->n, s.corner, &s.corners)
                      : JAW_ENOMEM;
    if (status == JAW_OK)
        status = is_wide(f, s.corner, s.corners) ? find_hole(&s) : JAW_ERANK;
    if (status == JAW_OK)
        write_zone(f, &s.best, zone);
    free(s.corner);
    free(s.lift);
    jaw__hull3_free(&s.hull);
    return status;
}

jaw_status jaw_zone_within(const jaw_vec2 p[], size_t n, jaw_zone *zone)
{
    jaw__zone_flat f;
    jaw_status status = jaw__zone_flat_make(&f, p, n, 3);

    if (status == JAW_OK)
        status = search_all(&f, zone);
    free(f.p);
    return status == JAW_OK ? status : jaw__zone_give_up(status, zone);
}
