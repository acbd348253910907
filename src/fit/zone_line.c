/* SPDX-License-Identifier: GPL-3.0-or-later */
/* zone_line.c: the narrowest strip that holds all touches.  One of its borders
 * lies along an edge of their convex hull, the other meets the corner farthest
 * from it; both are found in one turn round the hull (Houle & Toussaint, IEEE
 * PAMI 10 (1988) 761-765: rotating calipers). */
#include "zone.h"

#include <stdlib.h>

typedef struct strip {
    double width;  /* scaled */
    jaw_vec2 dir;  /* of the borders, as of jaw_line */
    size_t touch[3];
} strip;

static jaw_vec2 direction(jaw_vec2 from, jaw_vec2 to)
{
    const double h = hypot(to.x - from.x, to.y - from.y);
    const double x = jaw__quiet((to.x - from.x) / h);
    const double y = jaw__quiet((to.y - from.y) / h);
    const double sign = x < 0 || (x == 0 && y < 0) ? -1 : 1;

    return (jaw_vec2){sign * x, sign * y};
}

/* Of strips as narrow, the one nearest to the first axis; then the rising one;
 * of what is one direction but for rounding, the narrower. */
static bool first_of(const strip *a, const strip *b)
{
    const int turn = jaw__ranked(fabs(a->dir.y), fabs(b->dir.y), JAW__SAME);
    const int rise = jaw__ranked(b->dir.y, a->dir.y, JAW__SAME);

    return turn != 0 ? turn < 0 : rise != 0 ? rise < 0 : a->width < b->width;
}

static void compare(const strip *next, double alike, double *least, strip *best)
{
    const bool narrower = next->width < *least;

    if (narrower)
        *least = next->width;
    if (best->width > *least + alike ||
        (next->width <= *least + alike && first_of(next, best)))
        *best = *next;
}

static strip along(const jaw_vec2 p[], size_t a, size_t b, size_t far)
{
    const double h = hypot(p[b].x - p[a].x, p[b].y - p[a].y);

    return (strip){jaw__side2(p[a], p[b], p[far]) / h, direction(p[a], p[b]),
                   {a, b, far}};
}

/* corner[h], h >= 3.  The farthest corner only ever moves on; areas are right
 * to their last digits, so that it never stops too early. */
static strip narrowest(const jaw__zone_flat *f, const size_t corner[], size_t h)
{
    const jaw_vec2 *p = f->p;
    strip best = {.width = HUGE_VAL};
    double least = HUGE_VAL;

    for (size_t i = 0, k = 1; i < h; i++) {
        const size_t a = corner[i], b = corner[(i + 1) % h];
        while (jaw__side2(p[a], p[b], p[corner[(k + 1) % h]]) >
               jaw__side2(p[a], p[b], p[corner[k]]))
            k = (k + 1) % h;
        const strip next = along(p, a, b, corner[k]);
        compare(&next, JAW__ALIKE * f->extent, &least, &best);
    }
    return best;
}

static void write_zone(const jaw_vec2 p[], size_t n, double scale,
                       const strip *s, size_t touches, jaw_zone *zone)
{
    (void)jaw__zone_give_up(JAW_OK, zone);
    zone->normal = (jaw_vec3){0 - s->dir.y, s->dir.x, 0};
    zone->width = s->width / scale;
    zone->low = HUGE_VAL;
    zone->high = -HUGE_VAL;
    for (size_t i = 0; i < n; i++) {
        double d = zone->normal.x * p[i].x + zone->normal.y * p[i].y;
        zone->low = fmin(zone->low, d);
        zone->high = fmax(zone->high, d);
    }
    jaw__zone_held_by(zone, s->touch, touches);
}

jaw_status jaw_zone_line(const jaw_vec2 p[], size_t n, jaw_zone *zone)
{
    jaw__zone_flat f;
    size_t *corner = NULL, h = 0;
    jaw_status status = jaw__zone_flat_make(&f, p, n, 2);

    if (status == JAW_OK) {
        corner = calloc(n + 1, sizeof *corner);
        status = corner ? jaw__hull2(f.p, n, corner, &h) : JAW_ENOMEM;
    }
    if (status == JAW_OK) {
        const strip best = h > 2 ? narrowest(&f, corner, h)
                                 : along(f.p, corner[0], corner[1], corner[0]);
        write_zone(p, n, f.scale, &best, h > 2 ? 3 : 2, zone);
    }
    free(corner);
    free(f.p);
    return status == JAW_OK ? status : jaw__zone_give_up(status, zone);
}
