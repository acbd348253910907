/* SPDX-License-Identifier: GPL-3.0-or-later */
/* figure.c: one value with its 95 % interval (JCGM 100, G.3: Student's t). */
#include <jawline/trust.h>

#include <math.h>

#define NO_NUMBER ((double)NAN)

/* Between the two ends, z^2 (u^2 + known^2) is too little by a share of
 * (t^2 - z^2) u^2.  With many degrees of freedom the share is that of u^2 in the
 * whole (Welch); with few it must rise later and faster, for where u happens to
 * come out small the interval is to stay near z known, and where it is large
 * near t u.  `odds` is known / u.
 *
 * Of the interval the two constants are the roundest that leave no ratio of the
 * parts below 95 of 100. */
static double share_within(double odds, double dof)
{
    double spare = fmax(dof, 1) - 0.5;
    double bend = 1 + 1.5 / spare, early = 2.55 / (spare * spare);

    return 1 / (1 + pow(odds, 2 * bend) * exp(-early));
}

/* Of the limit those that leave every ratio near 1 of 100, on both sides. */
static double share_beyond(double odds, double dof)
{
    double bend = 1 + 1.69 / (fmax(dof, 2.8) - 2.4);
    double early = 3.2 / (dof * dof + 0.7);

    return 1 / (1 + pow(odds * exp(-early), 2 * bend));
}

typedef double share_of(double odds, double dof);

static double sum_but(size_t i, const double u[], size_t n, double known)
{
    double sum = known;

    for (size_t k = 0; k < n; k++)
        if (k != i)
            sum = hypot(sum, u[k]);
    return sum;
}

/* What the parts come to; the odds of each are those of all others to it. */
static double half_of(double p, share_of *share, const double u[],
                      const double dof[], size_t n, double known)
{
    double z = jaw_trust_cover(p, (double)INFINITY), more = 0;

    if (!(known >= 0))
        return NO_NUMBER;
    for (size_t i = 0; i < n; i++) {
        if (!(u[i] >= 0))
            return NO_NUMBER;
        if (u[i] == 0)
            continue;
        double t = jaw_trust_cover(p, dof[i]);
        double odds = sum_but(i, u, n, known) / u[i];
        /* with very many degrees of freedom t is z but for rounding */
        double add = isnan(t) ? t : sqrt(fmax(t - z, 0) * (t + z)) * u[i];
        more = hypot(more, add * sqrt(share(odds, dof[i])));
    }
    return hypot(z * sum_but(n, u, n, known), more);
}

double jaw_trust_among(const double u[], const double dof[], size_t n,
                       double known)
{
    return half_of(0.95, share_within, u, dof, n, known);
}

double jaw_trust_limit(const double u[], const double dof[], size_t n,
                       double known)
{
    return half_of(1 - JAW_TRUST_CHANGE, share_beyond, u, dof, n, known);
}

double jaw_trust_within(double u, double dof, double known)
{
    return jaw_trust_among(&u, &dof, 1, known);
}

jaw_figure jaw_figure_make(double value, double u, double dof)
{
    jaw_figure f = {value, NO_NUMBER, NO_NUMBER, NO_NUMBER};

    if (!isfinite(value))
        f.value = NO_NUMBER;
    if (isnan(f.value) || !(u >= 0) || isinf(u))
        return f;
    f.u = u;
    f.dof = dof > 0 ? dof : NO_NUMBER;
    /* what is known exactly needs no degrees of freedom */
    f.half95 = u > 0 ? jaw_trust_cover(0.95, f.dof) * u : 0;
    return f;
}
