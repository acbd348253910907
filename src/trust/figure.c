/* SPDX-License-Identifier: GPL-3.0-or-later */
/* figure.c: one value with its 95 % interval (JCGM 100, G.3: Student's t). */
#include <jawline/trust.h>

#include <math.h>

#define NO_NUMBER ((double)NAN)

/* Between the two ends, z^2 (u^2 + known^2) is too little by a share of
 * (t^2 - z^2) u^2.  With many degrees of freedom the share is that of u^2 in the
 * whole (Welch); with few it must rise later and faster, for where u happens to
 * come out small the interval is to stay near z known, and where it is large
 * near t u.  The two constants are the roundest that leave no ratio of the parts
 * below 95 of 100. */
static double share_of(double u, double dof, double known)
{
    double spare = fmax(dof, 1) - 0.5;
    double bend = 1 + 1.5 / spare, early = 2.55 / (spare * spare);

    return 1 / (1 + pow(known / u, 2 * bend) * exp(-early));
}

double jaw_trust_within(double u, double dof, double known)
{
    double z = jaw_trust_cover(0.95, (double)INFINITY);

    if (!(u >= 0) || !(known >= 0))
        return NO_NUMBER;
    if (u == 0)
        return z * known;
    double t = jaw_trust_cover(0.95, dof);
    /* with very many degrees of freedom t is z but for rounding */
    double more = isnan(t) ? t : sqrt(fmax(t - z, 0) * (t + z)) * u;
    return hypot(z * hypot(u, known), more * sqrt(share_of(u, dof, known)));
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
