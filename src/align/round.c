/* SPDX-License-Identifier: GPL-3.0-or-later */
/* round.c: a bore or boss that is swept round by an indicator in the spindle.
 *
 * Seen from the spindle, the wall of a round of radius R whose centre lies at e
 * is in the direction a (unit vector u) at the distance
 *     d(a) = e.u + sqrt(R^2 - w^2) = e.u + R - g,   w = e x u,
 *     g = w^2 / (R + sqrt(R^2 - w^2)),
 * as the intersection of a ray with a circle has it.  In a bore the plunger
 * points outward and goes in as the wall comes nearer: reading = const - d.
 * Outside a boss it points inward: reading = const + d.  To first order that
 * is a sinusoid; g is the rest, some e^2 / 2R, and is fitted by Gauss-Newton
 * steps (rows reduced by Householder reflections) when R is known. */
#include "align.h"

#include "src/trust/adjust.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>

enum { ROUNDS = 100 };

typedef struct swept {
    const double *angle, *reading;
    size_t n;
    double side;   /* reading = const + side d */
    double radius; /* NaN: not known */
    double mean;   /* of side * reading, less R */
    jaw_vec2 e;    /* the centre, seen from the spindle */
    double q[3];   /* cofactors of x and y: xx xy yy */
    double ssr;
    double second; /* largest g */
} swept;

static jaw_status give_up(jaw_status status, size_t n, jaw_swept_round *round,
                          double resid[])
{
    const double none = JAW__ALIGN_NAN;
    const jaw_figure nothing = jaw_figure_make(none, none, none);

    *round = (jaw_swept_round){.shift = {nothing, nothing},
                               .cov = {none, none, none},
                               .roundness = none,
                               .second = none,
                               .rms = none};
    jaw__fill_nan(resid, n);
    return status;
}

/* -------------------------------------------------------------------- model */

/* What the model says of one reading: its residual (of side * reading, so that
 * outward is positive), g, and the derivatives of d by the centre. */
typedef struct seen {
    double rest, g;
    jaw_vec2 slope;
} seen;

static seen see(const swept *s, size_t i)
{
    double c = cos(s->angle[i]), k = sin(s->angle[i]);
    double w = s->e.x * k - s->e.y * c;
    seen v = {0, 0, {c, k}};

    if (!isnan(s->radius)) {
        double root = sqrt((s->radius - w) * (s->radius + w));
        v.g = w * w / (s->radius + root);
        v.slope.x -= w * k / root;
        v.slope.y += w * c / root;
    }
    v.rest = s->side * s->reading[i] - s->mean -
             (s->e.x * c + s->e.y * k - v.g);
    return v;
}

/* Rows are reduced one by one: the triangle so far and the new one. */
static void reduce(const swept *s, double m[4 * 4])
{
    for (int i = 0; i < 16; i++)
        m[i] = 0;
    for (size_t i = 0; i < s->n; i++) {
        seen v = see(s, i);
        m[12] = 1;
        m[13] = v.slope.x;
        m[14] = v.slope.y;
        m[15] = v.rest;
        jaw__house(m, 4, 4, 3);
    }
}

/* One Gauss-Newton step; its length. */
static double step(swept *s)
{
    double m[16];

    reduce(s, m);
    double y = m[11] / m[10];
    double x = (m[7] - m[6] * y) / m[5];
    double mean = (m[3] - m[1] * x - m[2] * y) / m[0];
    s->mean += mean;
    s->e.x += x;
    s->e.y += y;
    return hypot(mean, hypot(x, y));
}

/* The inverse of the triangle, times its transpose. */
static void cofactors(swept *s)
{
    double m[16];

    reduce(s, m);
    double d = 1 / m[5], f = 1 / m[10], e = -m[6] * d * f;
    s->q[0] = d * d + e * e;
    s->q[1] = e * f;
    s->q[2] = f * f;
}

static bool within(const swept *s)
{
    return hypot(s->e.x, s->e.y) < s->radius; /* false: not a number */
}

/* Steps shrink by at least the shift over the radius until rounding of the
 * readings is all that is left; then they no longer do. */
static jaw_status refine(swept *s)
{
    double last = INFINITY, size = 0;

    for (size_t i = 0; i < s->n; i++)
        size = fmax(size, fabs(s->reading[i]));
    for (int i = 0; i < ROUNDS; i++) {
        if (!within(s))
            return JAW_ECONFLICT;
        double now = step(s);
        if (now == 0 || (!(now < last / 2) &&
                         now < 0x1p12 * DBL_EPSILON * size))
            return within(s) ? JAW_OK : JAW_ECONFLICT;
        last = now;
    }
    return JAW_ENOCONV;
}

static void measure(swept *s, double resid[])
{
    s->ssr = 0;
    s->second = isnan(s->radius) ? JAW__ALIGN_NAN : 0;
    for (size_t i = 0; i < s->n; i++) {
        seen v = see(s, i);
        s->ssr += v.rest * v.rest;
        if (v.g > s->second)
            s->second = v.g;
        if (resid)
            resid[i] = s->side * v.rest;
    }
}

/* ---------------------------------------------------------------- roundness */

/* Without a radius the ring is that of a round so large that its bend does not
 * matter (a limacon): 2^20 times the largest residual, which leaves 33 bits of
 * it and errs by a part in 10^6 at most. */
static double base_radius(const swept *s)
{
    double most = 0;

    if (!isnan(s->radius))
        return s->radius;
    for (size_t i = 0; i < s->n; i++)
        most = fmax(most, fabs(see(s, i).rest));
    return 0x1p20 * most;
}

/* The places of the wall, from the fitted centre. */
static void places(const swept *s, double base, jaw_vec2 p[])
{
    for (size_t i = 0; i < s->n; i++) {
        double c = cos(s->angle[i]), k = sin(s->angle[i]);
        double d = isnan(s->radius)
                       ? base + see(s, i).rest
                       : base + (s->side * s->reading[i] - s->mean);
        p[i] = (jaw_vec2){d * c, d * k};
        if (isnan(s->radius))
            continue;
        p[i].x -= s->e.x;
        p[i].y -= s->e.y;
    }
}

static jaw_status ring(const swept *s, double *width)
{
    const double base = base_radius(s);
    jaw_zone zone;
    jaw_vec2 *p;
    jaw_status status;

    *width = s->n > 3 ? 0 : JAW__ALIGN_NAN; /* of three nothing shows it */
    if (s->n < 4 || base == 0)
        return JAW_OK;
    p = calloc(s->n, sizeof *p);
    if (!p)
        return JAW_ENOMEM;
    places(s, base, p);
    status = jaw_zone_circle(p, s->n, &zone);
    free(p);
    *width = zone.width; /* NaN: left open by azimuths that crowd */
    return status == JAW_ENOMEM ? status : JAW_OK;
}

/* ------------------------------------------------------------------- report */

static void report(const swept *s, const jaw__spread *spread,
                   jaw_swept_round *round)
{
    const double ss = spread->repeat * spread->repeat;

    round->cov[0] = ss * s->q[0];
    round->cov[1] = ss * s->q[1];
    round->cov[2] = ss * s->q[2];
    round->shift[0] = jaw_figure_make(s->e.x, sqrt(round->cov[0]),
                                      spread->dof);
    round->shift[1] = jaw_figure_make(s->e.y, sqrt(round->cov[2]),
                                      spread->dof);
    round->second = s->second;
    round->rms = spread->rms;
    round->dof = (int)s->n - 3;
    round->flags |= spread->flags;
}

static jaw_status solve(swept *s, jaw_swept_round *round)
{
    jaw_sweep sweep;
    jaw_status status =
        jaw_fit_sweep(s->angle, s->reading, s->n, &sweep, NULL);

    if (status != JAW_OK)
        return status;
    s->mean = s->side * sweep.mean;
    s->e = (jaw_vec2){s->side * sweep.along, s->side * sweep.across};
    if (!isfinite(sweep.ssr))
        return JAW_ENOTFINITE;
    if (!isnan(s->radius))
        status = refine(s);
    if (status == JAW_OK)
        cofactors(s);
    *round = (jaw_swept_round){.flags = sweep.flags & JAW_WEAK};
    return status == JAW_OK ? ring(s, &round->roundness) : status;
}

jaw_status jaw_align_round(const double angle[], const double reading[],
                           size_t n, bool inside, double radius, double repeat,
                           jaw_swept_round *round, double resid[])
{
    swept s = {.angle = angle, .reading = reading, .n = n,
               .side = inside ? -1 : 1, .radius = radius};
    jaw_status status = n < 3 ? JAW_EFEW
                              : jaw__reading_check(angle, reading, n, repeat);

    if (status == JAW_OK)
        status = jaw__repeat_check(radius);
    if (status == JAW_OK)
        status = solve(&s, round);
    if (status != JAW_OK)
        return give_up(status, n, round, resid);
    measure(&s, resid);
    jaw__spread spread = jaw__spread_of(repeat, s.ssr, (int)n - 3, n);
    report(&s, &spread, round);
    return JAW_OK;
}
