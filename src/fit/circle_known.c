/* SPDX-License-Identifier: GPL-3.0-or-later */
/* circle_known.c: the circle of known radius with least sum of squared
 * distances.  A flat arc has two centres that fit, one on either side, and
 * touches that do not resemble a circle of this radius may have more: all are
 * looked at, and when two fit alike nothing is answered.  Of few touches that
 * lie far off any such circle the best passes next to two of them. */
#include "bend.h"

#include <float.h>

/* FEW touches are begun from pairs as well: by trial, with the touches of
 * tests/fit/circle_known.c.  Without pairs some of three to five touches came
 * out with another minimum, and hardly any of more. */
enum { STARTS = 10, FEW = 5, PAIRS = FEW * (FEW - 1) };

/* What the searches came to. */
typedef struct rests {
    jaw__found found[STARTS + PAIRS];
    int count;
} rests;

static jaw__bend start_at(const jaw__shape *shape, double r, int i)
{
    jaw__bend at = shape->bow;

    if (i == 0)
        return jaw__bend_circle(jaw__bend_centre(&shape->kasa), r);
    if (i == 1)
        return jaw__bend_circle(at.foot, r);
    const double half = (double)(i - 2) * (1.0 / 4);
    const double pi = 0x1.921fb54442d18p+1;
    at.turn = jaw__turn_by(shape->line.dir,
                           (jaw__turn){cos(half * pi), sin(half * pi)});
    at.bend = 1 / r;
    return at;
}

static double apart(const jaw__bend *a, const jaw__bend *b)
{
    jaw_vec2 p = jaw__bend_centre(a), q = jaw__bend_centre(b);

    return hypot(p.x - q.x, p.y - q.y);
}

/* Rounding of the touches changes each distance by up to noise / n, and so the
 * sum of their squares by this. */
static double doubt(const jaw__shape *shape, double ssr)
{
    return shape->line.noise * (2 * sqrt(ssr) + shape->line.noise);
}

static void try_start(const jaw__shape *shape, const jaw__bend *start, rests *k)
{
    if (jaw__bend_settle(shape, start, true, &k->found[k->count]))
        k->count++;
}

static const jaw__found *least(const rests *k)
{
    int first = 0;

    for (int i = 1; i < k->count; i++)
        if (k->found[i].ssr < k->found[first].ssr)
            first = i;
    return &k->found[first];
}

/* From the view's m, in units. */
static jaw_vec2 seen(const jaw__view *view, size_t i)
{
    return (jaw_vec2){view->p[i].x * view->unit - view->m.x,
                      view->p[i].y * view->unit - view->m.y};
}

/* Through p and q, to the left of the way from one to the other; where they are
 * too far apart for this radius, about the middle. */
static jaw__bend through(jaw_vec2 p, jaw_vec2 q, double r)
{
    const double dx = (q.x - p.x) / 2, dy = (q.y - p.y) / 2;
    const double half = hypot(dx, dy);
    const double rise = half > 0 && half < r ? sqrt(r * r - half * half) : 0;
    const double share = half > 0 ? rise / half : 0;

    return jaw__bend_circle((jaw_vec2){p.x + dx - share * dy,
                                       p.y + dy + share * dx}, r);
}

static void try_pairs(const jaw__shape *shape, double r, rests *k)
{
    const jaw__view *view = &shape->line.view[0];

    for (size_t i = 0; i < view->n; i++)
        for (size_t j = 0; j < view->n; j++)
            if (i != j) {
                jaw__bend start = through(seen(view, i), seen(view, j), r);
                try_start(shape, &start, k);
            }
}

/* Two places for the centre are one when they differ by less than a millionth
 * of the touches' length. */
static jaw_status best_of(const jaw__shape *shape, double r, jaw__found *best)
{
    const double n = (double)shape->line.view[0].n;
    const double same = 1e-6 * sqrt(shape->line.uu / n);
    rests k = {.count = 0};

    for (int i = 0; i < STARTS; i++) {
        jaw__bend start = start_at(shape, r, i);
        try_start(shape, &start, &k);
    }
    if (shape->line.view[0].n <= FEW &&
        (k.count == 0 || least(&k)->ssr > JAW__CLEAR_SHARE * shape->line.vv))
        try_pairs(shape, r, &k);
    if (k.count == 0)
        return JAW_ENOCONV;
    *best = *least(&k);
    for (int i = 0; i < k.count; i++)
        if (k.found[i].ssr - best->ssr <= doubt(shape, best->ssr) &&
            apart(&k.found[i].at, &best->at) > same)
            return JAW_ERANK;
    return JAW_OK;
}

jaw_status jaw_fit_circle_known(const jaw_vec2 p[], size_t n, double r,
                                jaw_circle *c, double resid[])
{
    jaw__shape shape;
    jaw__found best;
    jaw_status status = n < 3          ? JAW_EFEW
                        : isnan(r)     ? JAW_ENOTFINITE
                        : !(r > 0)     ? JAW_EDOMAIN
                        : !isfinite(r) ? JAW_ENOTFINITE
                                       : jaw__shape_make(&shape, p, n);

    if (status == JAW_OK)
        status = best_of(&shape, r * shape.line.view[0].unit, &best);
    if (status == JAW_OK) {
        jaw__bend_near(&shape, true, &best);
        status = jaw__bend_report(&shape, &best, true, c, resid);
    }
    if (status != JAW_OK)
        return jaw__circle_give_up(status, n, c, resid);
    c->r = r;
    return JAW_OK;
}
