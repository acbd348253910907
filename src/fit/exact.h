/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exact.h: differences and products of doubles with their rounding error, one
 * at a time (lanes.h has them two at a time and names the sources). */
#ifndef JAW_FIT_EXACT_H
#define JAW_FIT_EXACT_H

#include <math.h>

/* a - b = result + *rest, exactly. */
static inline double jaw__differ(double a, double b, double *rest)
{
    double d = a - b, back = d - a;

    *rest = (a - (d - back)) - (b + back);
    return d;
}

/* a * b = result + *rest, exactly while nothing over- or underflows. */
static inline double jaw__product(double a, double b, double *rest)
{
    double p = a * b;

#ifdef FP_FAST_FMA
    *rest = fma(a, b, -p);
#else
    const double split = 0x1p27 + 1;
    double a_far = split * a - a, b_far = split * b - b;
    double ah = split * a - a_far, bh = split * b - b_far;
    double al = a - ah, bl = b - bh;
    *rest = ((ah * bh - p) + (ah * bl + al * bh)) + al * bl;
#endif
    return p;
}

#endif
