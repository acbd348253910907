/* SPDX-License-Identifier: GPL-3.0-or-later */
/* centre.c: the centre line of a rotary table from one feature at known angles.
 *
 * With places and turns as complex numbers, p_i = c + z_i q and z_i is
 * exp(i s a_i).  About their means (p_i - p) = (z_i - z) q: one complex unknown
 * and one column, of which orthogonal factorisation is the column over its own
 * length, so q is the projection on it and nothing is squared that is not the
 * answer's own condition.  Angles count from one of them, so that those that
 * crowd keep their digits: z_i - 1 = (-2 sin^2 (a/2), sin a).  Then the centre
 * is p - z q, and the two parts are independent. */
#include "turns.h"

#include <jawline/rotary.h>

#include <float.h>
#include <math.h>

#define NO_NUMBER ((double)NAN)
/* the centre is ten times less sure than one touch, as of a circle (fit.h) */
#define WEAK_COFACTOR 100

typedef struct table {
    const double *angle;
    const jaw_vec2 *p;
    size_t n;
    double repeat;
    jaw_vec2 mean; /* of p */
    double noise;  /* ssr that rounding alone may leave */
    double wide;   /* rad, of the angles from the first; 0 at the start */
} table;

/* One sense, solved. */
typedef struct solved {
    jaw__turns z;
    jaw_vec2 arm; /* at angle[0] */
    double ssr;
} solved;

static jaw_vec2 times(jaw_vec2 a, jaw_vec2 b)
{
    return (jaw_vec2){a.x * b.x - a.y * b.y, a.x * b.y + a.y * b.x};
}

static jaw_vec2 minus(jaw_vec2 a, jaw_vec2 b)
{
    return (jaw_vec2){a.x - b.x, a.y - b.y};
}

/* ------------------------------------------------------------------- given */

static jaw_status check(const table *t, jaw_sense sense)
{
    if (sense != JAW_SENSE_FIND && sense != JAW_SENSE_RIGHT &&
        sense != JAW_SENSE_LEFT)
        return JAW_EDOMAIN;
    if (isinf(t->repeat) || t->repeat <= 0)
        return JAW_EDOMAIN;
    if (t->n < (sense == JAW_SENSE_FIND ? 3 : 2))
        return JAW_EFEW;
    for (size_t i = 0; i < t->n; i++)
        if (!isfinite(t->angle[i]) || !isfinite(t->p[i].x) ||
            !isfinite(t->p[i].y))
            return JAW_ENOTFINITE;
    return JAW_OK;
}

static void begin(table *t)
{
    const double n = (double)t->n;
    jaw_vec2 sum = {0, 0};
    double size = 0;

    for (size_t i = 0; i < t->n; i++) {
        sum.x += t->p[i].x - t->p[0].x;
        sum.y += t->p[i].y - t->p[0].y;
        size = fmax(size, fmax(fabs(t->p[i].x), fabs(t->p[i].y)));
        t->wide = fmax(t->wide, fabs(t->angle[i] - t->angle[0]));
    }
    t->mean = (jaw_vec2){t->p[0].x + sum.x / n, t->p[0].y + sum.y / n};
    /* of each coordinate and angle the last digit: the rank rule of fit.h */
    const double digit = n * DBL_EPSILON * fmax(t->wide, 1) * size;
    t->noise = n * digit * digit;
}

/* --------------------------------------------------------------- one sense */

/* (p_i less mean) less (z_i less mean) q */
static jaw_vec2 left_over(const table *t, const solved *s, size_t i)
{
    return minus(minus(t->p[i], t->mean),
                 times(jaw__turn_off(&s->z, i), s->arm));
}

/* Projects what is left on the column and adds it to the arm. */
static void improve(const table *t, solved *s)
{
    const double length = sqrt(s->z.ss);
    jaw_vec2 along = {0, 0};

    for (size_t i = 0; i < t->n; i++) {
        jaw_vec2 w = jaw__turn_off(&s->z, i);
        jaw_vec2 unit = {w.x / length, -w.y / length};
        jaw_vec2 part = times(unit, left_over(t, s, i));
        along.x += part.x;
        along.y += part.y;
    }
    s->arm.x += along.x / length;
    s->arm.y += along.y / length;
}

static jaw_status solve(const table *t, double sense, solved *s)
{
    *s = (solved){.z = jaw__turns_of(t->angle, t->n, sense)};
    /* all angles the same, but for the rounding of the angles */
    if (!(sqrt(s->z.ss) > (double)t->n * DBL_EPSILON * t->wide))
        return JAW_ERANK;
    improve(t, s);
    improve(t, s); /* what rounding left */
    for (size_t i = 0; i < t->n; i++) {
        jaw_vec2 r = left_over(t, s, i);
        s->ssr += r.x * r.x + r.y * r.y;
    }
    return JAW_OK;
}

/* ------------------------------------------------------------------- sense */

/* Whether the touches deny a sense that leaves ssr, and not the one that leaves
 * `other` (rotary.h says how). */
static bool denied(const table *t, double ssr, double other)
{
    const double dof = 2 * (double)t->n - 4;

    if (dof < 1 || ssr <= t->noise)
        return false;
    if (!isnan(t->repeat)) {
        double most = jaw_trust_chi2(JAW_TRUST_ALPHA, dof) * t->repeat *
                      t->repeat;
        if (ssr <= most)
            return false;
        if (other <= most)
            return true;
    }
    /* equal degrees of freedom: the ratio of the sums is that of the spreads */
    return ssr > jaw_trust_f(JAW_TRUST_ALPHA, dof, dof) * other;
}

static jaw_status choose(const table *t, jaw_sense sense, solved *s,
                         solved *other)
{
    const double first = sense == JAW_SENSE_LEFT ? -1 : 1;
    jaw_status status = solve(t, first, s);

    if (status == JAW_OK)
        status = solve(t, -first, other);
    if (status != JAW_OK)
        return status;
    if (sense != JAW_SENSE_FIND)
        return denied(t, s->ssr, other->ssr) ? JAW_ECONFLICT : JAW_OK;
    if (other->ssr < s->ssr) {
        const solved swap = *s;
        *s = *other;
        *other = swap;
    }
    return denied(t, other->ssr, s->ssr) ? JAW_OK : JAW_ERANK;
}

/* ----------------------------------------------------------------- results */

static void clear(jaw_rotary *found)
{
    *found = (jaw_rotary){.centre = {NO_NUMBER, NO_NUMBER},
                          .arm = {NO_NUMBER, NO_NUMBER},
                          .cov = {NO_NUMBER, NO_NUMBER, NO_NUMBER},
                          .dof_of = NO_NUMBER,
                          .sense = JAW_SENSE_FIND,
                          .rms = NO_NUMBER,
                          .other_rms = NO_NUMBER};
}

static void put_spread(const table *t, const solved *s, jaw_rotary *found)
{
    const double n = (double)t->n, dof = found->dof;
    const double z = hypot(1 + s->z.mean.x, s->z.mean.y);
    const double q = 1 / n + z * z / s->z.ss;
    const bool stated = !isnan(t->repeat);
    const double variance = stated    ? t->repeat * t->repeat
                            : dof > 0 ? s->ssr / dof
                                      : NO_NUMBER;

    found->cov[0] = found->cov[2] = q * variance;
    found->cov[1] = isnan(variance) ? NO_NUMBER : 0;
    found->dof_of = stated ? (double)INFINITY : dof > 0 ? dof : NO_NUMBER;
    found->flags = q > WEAK_COFACTOR ? JAW_WEAK : 0;
    if (dof < 1)
        found->flags |= JAW_NO_CHECK;
    else if (stated && s->ssr / variance > jaw_trust_chi2(JAW_TRUST_ALPHA, dof))
        found->flags |= JAW_RESIDUAL;
}

static void put(const table *t, const solved *s, const solved *other,
                jaw_rotary *found)
{
    const jaw_vec2 z = {1 + s->z.mean.x, s->z.mean.y};
    const double back = -s->z.sense * t->angle[0];
    const double n = (double)t->n;

    found->centre = minus(t->mean, times(z, s->arm));
    found->arm = times((jaw_vec2){cos(back), sin(back)}, s->arm);
    found->sense = s->z.sense > 0 ? JAW_SENSE_RIGHT : JAW_SENSE_LEFT;
    found->dof = 2 * (int)t->n - 4;
    put_spread(t, s, found);
    if (found->dof < 1)
        return;
    found->rms = sqrt(s->ssr / n);
    found->other_rms = sqrt(other->ssr / n);
}

jaw_status jaw_rotary_centre(const double angle[], const jaw_vec2 p[], size_t n,
                             jaw_sense sense, double repeat, jaw_rotary *found,
                             jaw_vec2 resid[])
{
    table t = {.angle = angle, .p = p, .n = n, .repeat = repeat};
    solved s, other;
    jaw_status status = check(&t, sense);

    clear(found);
    if (status == JAW_OK) {
        begin(&t);
        status = choose(&t, sense, &s, &other);
    }
    if (status == JAW_OK)
        put(&t, &s, &other, found);
    for (size_t i = 0; resid != NULL && i < n; i++)
        resid[i] = status == JAW_OK ? left_over(&t, &s, i)
                                    : (jaw_vec2){NO_NUMBER, NO_NUMBER};
    return status;
}
