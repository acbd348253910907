/* SPDX-License-Identifier: GPL-3.0-or-later */
/* decide.c: fits, does not, can not tell (ISO 14253-1:2017). */
#include <jawline/trust.h>

#include <math.h>

jaw_verdict jaw_trust_decide(double value, double u, double dof, double low,
                             double high)
{
    /* 95 % one-sided is 90 % two-sided */
    double guard = u > 0 ? jaw_trust_cover(0.90, dof) * u : u;

    if (!isfinite(value) || !(guard >= 0) || !(low <= high))
        return JAW_CAN_NOT_TELL;
    if (value >= low + guard && value <= high - guard)
        return JAW_FITS;
    if (value < low - guard || value > high + guard)
        return JAW_DOES_NOT;
    return JAW_CAN_NOT_TELL;
}
