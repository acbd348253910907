/* SPDX-License-Identifier: GPL-3.0-or-later */
/* wall.c: a wall that is swept by an indicator: the straight line of readings
 * on places, by least squares of the readings (JCGM 100, H.3; the scale of the
 * axis is taken as exact beside them).  Places and readings are counted from
 * their means, which makes the two columns of the problem orthogonal, so that
 * each unknown is one quotient and no digit is lost. */
#include "align.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>

typedef struct swept {
    const double *at, *reading;
    size_t n;
    double low, high;     /* outermost places */
    double half;          /* half of what lies between them */
    double at0, reading0; /* means */
    double tt;            /* sum of ((at - at0) / half)^2 */
    double slope;         /* of readings, mm / mm */
    double ssr;           /* mm^2 */
} swept;

static jaw_status give_up(jaw_status status, size_t n, jaw_swept_wall *wall,
                          double resid[])
{
    const double none = JAW__ALIGN_NAN;

    *wall = (jaw_swept_wall){.skew = jaw_figure_make(none, none, none),
                             .span = none,   .tap = none,
                             .tap_u = none,  .tap_at = none,
                             .straight = none, .rms = none};
    jaw__fill_nan(resid, n);
    return status;
}

/* From the differences to the first, which keep their digits far from 0. */
static double mean(const double v[], size_t n)
{
    double sum = 0;

    for (size_t i = 0; i < n; i++)
        sum += (v[i] - v[0]) / (double)n;
    return v[0] + sum;
}

/* Places are apart when that can be told from rounding (fit.h). */
static jaw_status look(swept *s)
{
    double size = 0;

    s->low = s->high = s->at[0];
    for (size_t i = 0; i < s->n; i++) {
        s->low = fmin(s->low, s->at[i]);
        s->high = fmax(s->high, s->at[i]);
        size = fmax(size, fabs(s->at[i]));
    }
    s->half = s->high / 2 - s->low / 2;
    if (!(2 * s->half > (double)s->n * DBL_EPSILON * size))
        return JAW_ERANK;
    s->at0 = mean(s->at, s->n);
    s->reading0 = mean(s->reading, s->n);
    return JAW_OK;
}

static double place(const swept *s, size_t i)
{
    return (s->at[i] - s->at0) / s->half;
}

/* Twice: what is left over by the first round is fitted once more, which takes
 * the rounding of the first slope and mean out. */
static void fit(swept *s)
{
    double rise = 0, rest;

    s->tt = 0;
    for (size_t i = 0; i < s->n; i++)
        s->tt += place(s, i) * place(s, i);
    for (int round = 0; round < 2; round++) {
        double more = 0, off = 0;
        for (size_t i = 0; i < s->n; i++) {
            rest = s->reading[i] - s->reading0 - rise * place(s, i);
            more += place(s, i) * rest;
            off += rest;
        }
        rise += more / s->tt;
        s->reading0 += off / (double)s->n;
    }
    s->slope = rise / s->half;
    s->ssr = 0;
    for (size_t i = 0; i < s->n; i++) {
        rest = s->reading[i] - s->reading0 - rise * place(s, i);
        s->ssr += rest * rest;
    }
}

/* The narrowest strip.  One that leans by more than 45 degrees lies across the
 * sweep: the readings jump farther than the places are apart. */
static jaw_status narrowest(const swept *s, double *width)
{
    jaw_vec2 *p;
    jaw_zone zone;
    jaw_status status;

    if (s->n < 3)
        return JAW_OK; /* nothing would show it */
    p = calloc(s->n, sizeof *p);
    if (!p)
        return JAW_ENOMEM;
    for (size_t i = 0; i < s->n; i++)
        p[i] = (jaw_vec2){s->at[i] - s->at0, s->reading[i] - s->reading0};
    status = jaw_zone_line(p, s->n, &zone);
    free(p);
    if (status == JAW_OK && fabs(zone.normal.x) > fabs(zone.normal.y))
        status = JAW_ERANK;
    *width = zone.width;
    return status;
}

/* A reading grows as the wall comes nearer: reading = outward . wall + const.
 * A wall along X that faces y+ lies at y = reading, one that faces y- at
 * y = -reading; one along Y at x = +-reading, and dx/dy is the tangent of a
 * turn clockwise. */
static double ccw_slope(const swept *s, jaw_side faces)
{
    jaw_vec2 out = jaw_side_normal(faces);

    return (out.y - out.x) * s->slope;
}

static void report(const swept *s, jaw_side faces, double repeat,
                   jaw_swept_wall *w)
{
    jaw__spread spread =
        jaw__spread_of(repeat, s->ssr, (int)s->n - 2, s->n);
    double tangent = ccw_slope(s, faces);
    double u = spread.repeat / sqrt(s->tt) / s->half;

    w->skew = jaw_figure_make(atan(tangent), u / (1 + tangent * tangent),
                              spread.dof);
    w->span = 2 * s->half;
    w->tap = fabs(s->slope) * w->span;
    w->tap_u = u * w->span;
    w->tap_at = s->slope > 0   ? s->high
                : s->slope < 0 ? s->low
                               : JAW__ALIGN_NAN;
    w->rms = spread.rms;
    w->dof = (int)s->n - 2;
    w->flags = spread.flags;
    if (fabs(w->skew.value) > JAW__STEEP)
        w->flags |= JAW_STEEP;
}

static jaw_status solve(swept *s, double *width)
{
    jaw_status status = look(s);

    if (status != JAW_OK)
        return status;
    fit(s);
    if (!isfinite(s->ssr) || !isfinite(s->slope) || isinf(2 * s->half))
        return JAW_ENOTFINITE;
    if (fabs(s->slope) > 1)
        return JAW_ESIDE;
    return narrowest(s, width);
}

jaw_status jaw_align_wall(const double at[], const double reading[], size_t n,
                          jaw_side faces, double repeat, jaw_swept_wall *wall,
                          double resid[])
{
    swept s = {.at = at, .reading = reading, .n = n};
    double width = JAW__ALIGN_NAN;
    jaw_status status = n < 2 ? JAW_EFEW
                              : jaw__reading_check(at, reading, n, repeat);

    if (status == JAW_OK && !jaw_side_word(faces))
        status = JAW_EDOMAIN;
    if (status == JAW_OK)
        status = solve(&s, &width);
    if (status != JAW_OK)
        return give_up(status, n, wall, resid);
    *wall = (jaw_swept_wall){.straight = width};
    report(&s, faces, repeat, wall);
    for (size_t i = 0; resid && i < n; i++)
        resid[i] = reading[i] - s.reading0 - s.slope * (at[i] - s.at0);
    return JAW_OK;
}
