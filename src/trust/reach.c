/* SPDX-License-Identifier: GPL-3.0-or-later */
/* reach.c: how far a slip that the tests would not notice can move a value
 * (external reliability, Baarda 1968): of all equations the largest product of
 * the smallest noticeable slip and its influence. */
#include "adjust.h"

#include <math.h>

double jaw_adjust_reach(const jaw_adjust *adjust, const jaw_linear *f,
                        size_t *equation)
{
    double shift = jaw_trust_shift(JAW_TRUST_ALPHA, JAW_TRUST_POWER);
    double most = 0, size = sqrt(jaw_adjust_variance(adjust, f));

    if (equation != NULL)
        *equation = JAW_NO_BLOCK;
    if (isnan(size))
        return size;
    for (size_t i = 0; i < adjust->n_equations; i++) {
        double redundancy, moved;
        if (jaw__rate_one(adjust, i, f, &redundancy, &moved) != JAW_OK)
            return (double)NAN;
        double sigma = adjust->equations[i].sigma;
        /* An equation moves a value by rounding only when what it would add
         * to its standard deviation is lost in that. */
        if (!(fabs(moved) * sigma > 1e-9 * size))
            continue;
        double slip = redundancy > 0 ? shift * sigma / sqrt(redundancy)
                                     : (double)INFINITY;
        if (slip * fabs(moved) > most) {
            most = slip * fabs(moved);
            if (equation != NULL)
                *equation = i;
        }
    }
    return most;
}
