/* SPDX-License-Identifier: GPL-3.0-or-later */
/* slip.c: which touch of a feature on a table is off, and how far one that
 * nobody notices moves the centre (Baarda 1968; of two coordinates that slip
 * together: Kok, NOAA TR NOS 100 NGS 28, 1984).
 *
 * The two coordinates of a touch are one complex number, and so is all that is
 * sought (centre.c): both follow their own touch by the same share h_i = 1 / n
 * + |w_i|^2 / sum |w|^2, and a slip of one moves the centre by the length of
 * b_i = 1 / n - z w_i* / sum |w|^2 times as far, whichever way it goes. */
#include "turns.h"

#include <jawline/rotary.h>

#include <float.h>
#include <math.h>

#define NO_NUMBER ((double)NAN)

typedef struct limits {
    double sigma; /* of one coordinate; NaN: no spread known */
    double limit, shift;
} limits;

/* With a spread that is not stated, the touch's own square over all is a
 * beta variate of 2 and dof - 2 (of one coordinate it is Pope's tau); with two
 * degrees of freedom it is always the whole.  A slip is noticed with the power
 * asked for when, in nine of ten each, it comes out as large and the others as
 * small as the limit wants. */
static limits limits_of(double ssr, int dof, double repeat)
{
    const double m = dof - 2;
    limits t = {.sigma = repeat,
              .limit = JAW_TRUST_LIMIT_PLACE,
              .shift = JAW_TRUST_SHIFT_PLACE};

    if (!isnan(repeat))
        return t;
    t.sigma = dof > 0 ? sqrt(ssr / dof) : NO_NUMBER;
    t.limit = sqrt(dof);
    t.shift = (double)INFINITY;
    if (m < 1)
        return t;
    t.limit = sqrt(dof * (1 - pow(JAW_TRUST_ALPHA, 2 / m)));
    t.shift = sqrt(2 * jaw_trust_f(JAW_TRUST_ALPHA, 2, m) *
                   jaw_trust_chi2(1 - sqrt(JAW_TRUST_POWER), m) / m) +
              jaw_trust_cover(2 * sqrt(JAW_TRUST_POWER) - 1, (double)INFINITY);
    return t;
}

static jaw_rotary_slip slip_of(const jaw__turns *t, const limits *l,
                               jaw_vec2 resid, size_t i)
{
    const jaw_vec2 w = jaw__turn_off(t, i), z = {1 + t->mean.x, t->mean.y};
    const double n = (double)t->n, own = 1 / n;
    const jaw_vec2 b = {own - (z.x * w.x + z.y * w.y) / t->ss,
                        -(z.y * w.x - z.x * w.y) / t->ss};
    const double q = own + (z.x * z.x + z.y * z.y) / t->ss;
    const double moves = hypot(b.x, b.y);
    double r = 1 - own - (w.x * w.x + w.y * w.y) / t->ss;

    /* what rounding leaves of nothing */
    if (!(r > 64 * n * DBL_EPSILON))
        r = 0;
    jaw_rotary_slip s = {
        .redundancy = r,
        .standard = r > 0 ? hypot(resid.x, resid.y) / (l->sigma * sqrt(r))
                          : NO_NUMBER,
        .limit = r > 0 ? l->limit : NO_NUMBER,
        .noticeable = r > 0 && isfinite(l->shift)
                          ? l->shift * l->sigma / sqrt(r)
                          : (double)INFINITY};
    s.moves = isfinite(s.noticeable)         ? moves * s.noticeable
              : moves > JAW_TRUST_SHARE_NONE * sqrt(q) ? (double)INFINITY
                                             : 0;
    return s;
}

jaw_status jaw_rotary_slips(const double angle[], const jaw_vec2 resid[],
                            size_t n, const jaw_rotary *found, double repeat,
                            jaw_rotary_slip slip[])
{
    jaw_status status = JAW_OK;
    double ssr = 0;

    if (isinf(repeat) || repeat <= 0)
        status = JAW_EDOMAIN;
    else if (!isfinite(found->centre.x) || found->dof != 2 * (int)n - 4)
        status = JAW_ENOTFINITE;
    for (size_t i = 0; status != JAW_OK && i < n; i++)
        slip[i] = (jaw_rotary_slip){NO_NUMBER, NO_NUMBER, NO_NUMBER, NO_NUMBER,
                                    NO_NUMBER};
    if (status != JAW_OK)
        return status;
    const jaw__turns t = jaw__turns_of(angle, n, (double)found->sense);
    for (size_t i = 0; i < n; i++)
        ssr += resid[i].x * resid[i].x + resid[i].y * resid[i].y;
    const limits l = limits_of(ssr, found->dof, repeat);
    for (size_t i = 0; i < n; i++)
        slip[i] = slip_of(&t, &l, resid[i], i);
    return JAW_OK;
}
