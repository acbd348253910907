/* SPDX-License-Identifier: GPL-3.0-or-later */
/* figure.c: one value with its 95 % interval (JCGM 100, G.3: Student's t). */
#include <jawline/trust.h>

#include <math.h>

#define NO_NUMBER ((double)NAN)

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
