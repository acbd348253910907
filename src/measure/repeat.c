/* SPDX-License-Identifier: GPL-3.0-or-later */
/* repeat.c: how well one place is found again, and what it matters from which
 * side an axis came: terms of ISO 230-10 and ISO 230-2 (from memory). */
#include <jawline/measure.h>
#include <jawline/trust.h>

#include <math.h>

#define NO_NUMBER ((double)NAN)

/* The readings lie close together and far from 0: what is summed are their
 * differences from the first, and then from the mean. */
static void put_moments(const double v[], size_t n, jaw_spread *s)
{
    double shift = 0, sum = 0, rest = 0, squares = 0;

    for (size_t i = 0; i < n; i++)
        shift += (v[i] - v[0]) / (double)n;
    for (size_t i = 0; i < n; i++)
        rest += (v[i] - v[0] - shift) / (double)n;
    shift += rest;
    for (size_t i = 0; i < n; i++) {
        double d = v[i] - v[0] - shift;
        sum += d;
        squares += d * d;
    }
    squares -= sum * sum / (double)n; /* what rounding left of the mean */
    s->mean = v[0] + shift;
    s->s = sqrt(fmax(squares, 0) / (double)(n - 1));
}

static jaw_status spread_failed(jaw_spread *s, jaw_status status)
{
    *s = (jaw_spread){0,         NO_NUMBER, NO_NUMBER, NO_NUMBER,
                      NO_NUMBER, NO_NUMBER, NO_NUMBER};
    return status;
}

jaw_status jaw_measure_spread(const double reading[], size_t n,
                              jaw_spread *spread)
{
    double least = (double)INFINITY, most = -(double)INFINITY;

    for (size_t i = 0; i < n; i++) {
        if (!isfinite(reading[i]))
            return spread_failed(spread, JAW_ENOTFINITE);
        least = fmin(least, reading[i]);
        most = fmax(most, reading[i]);
    }
    if (n < 2)
        return spread_failed(spread, JAW_EFEW);
    if (!isfinite(most - least))
        return spread_failed(spread, JAW_ENOTFINITE);
    double dof = (double)(n - 1);
    spread->n = n;
    spread->range = most - least;
    put_moments(reading, n, spread);
    spread->u_mean = spread->s / sqrt((double)n);
    spread->low = spread->s * sqrt(dof / jaw_trust_chi2(0.025, dof));
    spread->high = spread->s * sqrt(dof / jaw_trust_chi2(0.975, dof));
    return isfinite(spread->s) ? JAW_OK
                               : spread_failed(spread, JAW_ENOTFINITE);
}

/* ----------------------------------------------------------------- reversal */

static jaw_status reversal_failed(jaw_reversal *r, jaw_status status)
{
    spread_failed(&r->up, status);
    spread_failed(&r->down, status);
    r->reversal = r->u_reversal = r->dof = NO_NUMBER;
    r->repeat_up = r->repeat_down = r->repeat_both = NO_NUMBER;
    r->real = false;
    return status;
}

static double dof_of(const jaw_reversal *r)
{
    double u[2] = {r->up.u_mean, r->down.u_mean};
    double dof[2] = {(double)(r->up.n - 1), (double)(r->down.n - 1)};

    return jaw_trust_effective_dof(u, dof, 2);
}

/* Nothing that scatters: any difference at all is real. */
static bool is_real(const jaw_reversal *r)
{
    if (!(r->u_reversal > 0))
        return r->reversal != 0;
    return fabs(r->reversal) > jaw_trust_cover(0.95, r->dof) * r->u_reversal;
}

jaw_status jaw_measure_reversal(const double up[], size_t nu,
                                const double down[], size_t nd,
                                jaw_reversal *reversal)
{
    jaw_reversal *r = reversal;
    jaw_status status = jaw_measure_spread(up, nu, &r->up);

    if (status == JAW_OK)
        status = jaw_measure_spread(down, nd, &r->down);
    if (status != JAW_OK)
        return reversal_failed(r, status);
    r->reversal = r->up.mean - r->down.mean;
    r->u_reversal = hypot(r->up.u_mean, r->down.u_mean);
    r->dof = dof_of(r);
    r->real = is_real(r);
    r->repeat_up = 4 * r->up.s;
    r->repeat_down = 4 * r->down.s;
    r->repeat_both =
        fmax(2 * r->up.s + 2 * r->down.s + fabs(r->reversal),
             fmax(r->repeat_up, r->repeat_down));
    return JAW_OK;
}

/* -------------------------------------------------------------- positioning */

typedef struct range {
    double least, most;
} range;

static const range empty = {(double)INFINITY, -(double)INFINITY};

static void widen(range *r, double value)
{
    r->least = fmin(r->least, value);
    r->most = fmax(r->most, value);
}

static jaw_status positioning_failed(jaw_positioning *axis, jaw_status status)
{
    *axis = (jaw_positioning){NO_NUMBER, NO_NUMBER, NO_NUMBER, NO_NUMBER,
                              NO_NUMBER, NO_NUMBER, NO_NUMBER, NO_NUMBER};
    return status;
}

jaw_status jaw_measure_positioning(const jaw_reversal place[], size_t n,
                                   jaw_positioning *axis)
{
    range means = empty, middles = empty, reach = empty;
    jaw_positioning a = {0};

    if (n < 1)
        return positioning_failed(axis, JAW_EFEW);
    for (size_t i = 0; i < n; i++) {
        const jaw_reversal *r = &place[i];
        if (!isfinite(r->reversal) || !isfinite(r->repeat_both))
            return positioning_failed(axis, JAW_ENOTFINITE);
        a.reversal = fmax(a.reversal, fabs(r->reversal));
        a.reversal_mean += r->reversal / (double)n;
        a.repeat_up = fmax(a.repeat_up, r->repeat_up);
        a.repeat_down = fmax(a.repeat_down, r->repeat_down);
        a.repeat_both = fmax(a.repeat_both, r->repeat_both);
        widen(&middles, (r->up.mean + r->down.mean) / 2);
        for (int way = 0; way < 2; way++) {
            const jaw_spread *s = way == 0 ? &r->up : &r->down;
            widen(&means, s->mean);
            widen(&reach, s->mean - 2 * s->s);
            widen(&reach, s->mean + 2 * s->s);
        }
    }
    a.mean_range = middles.most - middles.least;
    a.systematic = means.most - means.least;
    a.accuracy = reach.most - reach.least;
    *axis = a;
    return JAW_OK;
}
