/* SPDX-License-Identifier: GPL-3.0-or-later */
/* zone_around.c: the smallest circle that holds all touches (ISO 12181-1:
 * minimum circumscribed circle).  Two or three touches hold it.  From those of
 * the circle so far and the touch farthest outside it the next one follows;
 * each is larger, so this ends (Welzl, LNCS 555 (1991) 359-370; that the
 * farthest comes next: Gaertner, LNCS 1643 (1999) 325-338). */
#include "zone.h"

#include <stdlib.h>

typedef struct circle {
    jaw_vec2 c; /* scaled */
    double r;
    size_t touch[3];
    size_t touches;
} circle;

static circle through_two(const jaw_vec2 p[], size_t a, size_t b)
{
    const jaw_vec2 c = {p[a].x / 2 + p[b].x / 2, p[a].y / 2 + p[b].y / 2};
    const double r = fmax(jaw__apart(c, p[a]), jaw__apart(c, p[b]));

    return (circle){c, r, {a, b}, 2};
}

static circle through_three(const jaw_vec2 p[], size_t a, size_t b, size_t d)
{
    circle out = {.touch = {a, b, d}, .touches = 3};

    out.c = jaw__through(p[a], p[b], p[d], &out.r);
    return out;
}

static bool holds(const circle *c, const jaw_vec2 p[], const size_t touch[],
                  size_t count, double slack)
{
    for (size_t k = 0; k < count; k++)
        if (jaw__apart(c->c, p[touch[k]]) > c->r + slack)
            return false;
    return true;
}

static void keep_smaller(circle *best, const circle *next, const jaw_vec2 p[],
                         const size_t touch[], size_t count, double slack)
{
    if (next->r < best->r && holds(next, p, touch, count, slack))
        *best = *next;
}

/* Of at most four touches.  Three are tried when no two hold it, so that a
 * third one that only just lies on the circle is not taken for one of them. */
static circle smallest(const jaw_vec2 p[], const size_t touch[], size_t count,
                       double slack)
{
    circle best = {.r = HUGE_VAL}, next;

    for (size_t i = 0; i < count; i++)
        for (size_t j = i + 1; j < count; j++) {
            next = through_two(p, touch[i], touch[j]);
            keep_smaller(&best, &next, p, touch, count, slack);
        }
    if (best.r < HUGE_VAL)
        return best;
    for (size_t i = 0; i < count; i++)
        for (size_t j = i + 1; j < count; j++)
            for (size_t k = j + 1; k < count; k++) {
                next = through_three(p, touch[i], touch[j], touch[k]);
                keep_smaller(&best, &next, p, touch, count, slack);
            }
    return best;
}

static size_t farthest(const jaw__zone_flat *f, jaw_vec2 c)
{
    size_t best = 0;
    double most = -1;

    for (size_t i = 0; i < f->n; i++) {
        double x = f->q[i].x - c.x, y = f->q[i].y - c.y, d = x * x + y * y;
        if (d > most) {
            most = d;
            best = i;
        }
    }
    return best;
}

static circle enclose(const jaw__zone_flat *f)
{
    const double slack = JAW__SLACK * f->extent;
    circle c = through_two(f->q, 0, farthest(f, f->q[0]));

    for (;;) {
        size_t touch[4], count = c.touches;
        const size_t far = farthest(f, c.c);
        if (jaw__apart(c.c, f->q[far]) <= c.r + slack)
            return c;
        for (size_t k = 0; k < count; k++)
            touch[k] = c.touch[k];
        touch[count++] = far;
        const circle next = smallest(f->q, touch, count, slack);
        if (!(next.r > c.r) || next.r == HUGE_VAL)
            return c;
        c = next;
    }
}

static void write_zone(const jaw__zone_flat *f, const circle *c, jaw_zone *zone)
{
    double low = HUGE_VAL, high = 0;

    for (size_t i = 0; i < f->n; i++) {
        double d = jaw__apart(c->c, f->q[i]);
        low = fmin(low, d);
        high = fmax(high, d);
    }
    jaw__zone_round(zone, f, c->c, low, high, high - low);
    jaw__zone_held_by(zone, c->touch, c->touches);
}

jaw_status jaw_zone_around(const jaw_vec2 p[], size_t n, jaw_zone *zone)
{
    jaw__zone_flat f;
    jaw_status status = jaw__zone_flat_make(&f, p, n, 2);

    if (status == JAW_OK) {
        const circle c = enclose(&f);
        write_zone(&f, &c, zone);
    }
    free(f.p);
    return status == JAW_OK ? status : jaw__zone_give_up(status, zone);
}
