/* SPDX-License-Identifier: GPL-3.0-or-later */
/* spread.c: how much one reading scatters, from what was stated or what was
 * seen, and what all sweeps ask of their readings. */
#include "align.h"

#include <limits.h>
#include <math.h>

#define PI 3.14159265358979323846
#define STEEP (5 * PI / 180)

/* Readings that scatter more than was stated (chi-square at JAW_TRUST_ALPHA)
 * are believed rather than the statement: mostly it is the wall that is not
 * straight, and that makes its direction as unsure as a bad indicator does. */
jaw__reading_spread jaw__reading_spread_of(double ssr, size_t n,
                                           size_t unknowns, double repeat)
{
    const double dof = (double)n - (double)unknowns;
    jaw__reading_spread s = {repeat, INFINITY, JAW__ALIGN_NAN,
                             dof < INT_MAX ? (int)dof : INT_MAX, 0};

    if (!(dof > 0)) {
        s.flags = JAW_NO_CHECK;
        s.dof = isnan(repeat) ? JAW__ALIGN_NAN : INFINITY;
        return s;
    }
    s.rms = sqrt(ssr / (double)n);
    if (ssr / repeat / repeat > jaw_trust_chi2(JAW_TRUST_ALPHA, dof))
        s.flags = JAW_RESIDUAL;
    if (isnan(repeat) || s.flags) {
        s.sigma = sqrt(ssr / dof);
        s.dof = dof;
    }
    return s;
}

jaw_status jaw__size_check(double size)
{
    if (isinf(size))
        return JAW_ENOTFINITE;
    return size <= 0 ? JAW_EDOMAIN : JAW_OK; /* NaN: left out */
}

jaw_status jaw__reading_check(const double at[], const double reading[],
                              size_t n, double repeat)
{
    for (size_t i = 0; i < n; i++)
        if (!isfinite(at[i]) || !isfinite(reading[i]))
            return JAW_ENOTFINITE;
    return jaw__size_check(repeat);
}

bool jaw__steep(double angle)
{
    return fabs(angle) > STEEP;
}
