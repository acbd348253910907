/* SPDX-License-Identifier: GPL-3.0-or-later */
/* distributions.c: quantiles, by GSL, with every argument checked first: its
 * default error handler ends the process. */
#include <jawline/trust.h>

#include <gsl/gsl_cdf.h>
#include <math.h>

#define NO_NUMBER ((double)NAN)

/* Above this many degrees of freedom Student's t differs from the normal
 * distribution by less than its own rounding (about 1 / dof). */
#define DOF_NORMAL 1e12

static bool is_share(double p)
{
    return p > 0 && p < 1;
}

double jaw_trust_cover(double p, double dof)
{
    if (!is_share(p) || !(dof > 0))
        return NO_NUMBER;
    if (dof > DOF_NORMAL)
        return gsl_cdf_ugaussian_Qinv((1 - p) / 2);
    return gsl_cdf_tdist_Qinv((1 - p) / 2, dof);
}

double jaw_trust_chi2(double p, double dof)
{
    if (!is_share(p) || !(dof > 0) || isinf(dof))
        return NO_NUMBER;
    return gsl_cdf_chisq_Qinv(p, dof);
}

double jaw_trust_f(double p, double dof1, double dof2)
{
    if (!is_share(p) || !(dof1 > 0) || !(dof2 > 0) || isinf(dof1))
        return NO_NUMBER;
    if (dof2 > DOF_NORMAL)
        return gsl_cdf_chisq_Qinv(p, dof1) / dof1;
    return gsl_cdf_fdist_Qinv(p, dof1, dof2);
}

double jaw_trust_tau(double alpha, double dof)
{
    if (!is_share(alpha) || !(dof >= 1))
        return NO_NUMBER;
    if (dof > DOF_NORMAL)
        return gsl_cdf_ugaussian_Qinv(alpha / 2);
    if (dof == 1)
        return 1;
    double t = gsl_cdf_tdist_Qinv(alpha / 2, dof - 1);
    /* t / sqrt((dof - 1 + t^2) / dof), without squaring a t that is huge */
    return sqrt(dof) / hypot(1, sqrt(dof - 1) / t);
}

/* The test rejects when |w| > k.  With the mean shifted by d that happens with
 * probability Q(k - d) + Q(k + d), which grows with d. */
static double noticed(double k, double d)
{
    return gsl_cdf_ugaussian_Q(k - d) + gsl_cdf_ugaussian_Q(k + d);
}

double jaw_trust_shift(double alpha, double power)
{
    if (!is_share(alpha) || !is_share(power) || power <= alpha)
        return NO_NUMBER;
    double k = gsl_cdf_ugaussian_Qinv(alpha / 2);
    double low = 0, high = 1;

    while (noticed(k, high) < power)
        high *= 2;
    for (;;) { /* until the two are neighbours */
        double middle = low + (high - low) / 2;
        if (middle <= low || middle >= high)
            return middle;
        *(noticed(k, middle) < power ? &low : &high) = middle;
    }
}

double jaw_trust_effective_dof(const double u[], const double dof[], size_t n)
{
    double total = 0, parts = 0, size = 0;

    for (size_t i = 0; i < n; i++) {
        if (!(u[i] >= 0) || isinf(u[i]) || !(dof[i] > 0))
            return NO_NUMBER;
        size = fmax(size, u[i]);
    }
    if (!(size > 0))
        return NO_NUMBER;
    for (size_t i = 0; i < n; i++) {
        double share = u[i] / size * (u[i] / size);
        total += share;
        parts += share * share / dof[i];
    }
    return parts > 0 ? total * total / parts : (double)INFINITY;
}
