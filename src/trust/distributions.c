/* SPDX-License-Identifier: GPL-3.0-or-later */
/* distributions.c: quantiles.  GSL gives the distribution functions; of its
 * inverses only Student's is used.  Those of chi-square and F end the process
 * ("inverse failed to converge") at arguments as plain as F(0.0548; 18.06,
 * 707.6), so they are found here by halving: slow, but it can not fail. */
#include "adjust.h"

#include <float.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>
#include <math.h>

#define NO_NUMBER ((double)NAN)

/* Above this many degrees of freedom Student's t differs from the normal
 * distribution by less than its own rounding (about 1 / dof). */
#define DOF_NORMAL 1e12

/* GSL's incomplete gamma function gives up, and ends the process, near its
 * middle from 5e6 degrees of freedom on.  Beyond this the cube root of
 * chi-square is normal (Wilson & Hilferty, PNAS 17 (1931) 684-688). */
#define DOF_CUBE 1e6

static bool is_share(double p)
{
    return p > 0 && p < 1;
}

/* ----------------------------------------------------------------- inverse */

/* A distribution of positive numbers. */
typedef struct shape {
    double (*above)(double x, const double dof[2]);
    double (*below)(double x, const double dof[2]);
    double dof[2];
} shape;

/* The x that is exceeded with probability p.  Halved is the ratio of the two
 * ends, so that any size is reached alike; the smaller tail is looked at. */
static double exceeded(double p, const shape *s)
{
    double low = DBL_MIN, high = DBL_MAX;

    for (;;) {
        double middle = low < high / 4 ? sqrt(low) * sqrt(high)
                                       : low + (high - low) / 2;
        if (middle <= low || middle >= high)
            return middle;
        bool further = p < 0.5 ? s->above(middle, s->dof) > p
                               : s->below(middle, s->dof) < 1 - p;
        *(further ? &low : &high) = middle;
    }
}

/* -------------------------------------------------------------- chi-square */

/* The standard normal number that stands for a chi-square, and back. */
static double cube_normal(double x, double dof)
{
    double part = 2 / (9 * dof);

    return (cbrt(x / dof) - (1 - part)) / sqrt(part);
}

static double cube_from_normal(double z, double dof)
{
    double part = 2 / (9 * dof), root = 1 - part + z * sqrt(part);

    return dof * root * root * root;
}

double jaw__chi2_above(double x, double dof)
{
    if (!(x >= 0) || isinf(x))
        return x > 0 ? 0 : NO_NUMBER;
    return dof > DOF_CUBE ? gsl_cdf_ugaussian_Q(cube_normal(x, dof))
                          : gsl_cdf_chisq_Q(x, dof);
}

double jaw__chi2_below(double x, double dof)
{
    if (!(x >= 0) || isinf(x))
        return x > 0 ? 1 : NO_NUMBER;
    return dof > DOF_CUBE ? gsl_cdf_ugaussian_P(cube_normal(x, dof))
                          : gsl_cdf_chisq_P(x, dof);
}

static double chi2_above(double x, const double dof[2])
{
    return jaw__chi2_above(x, dof[0]);
}

static double chi2_below(double x, const double dof[2])
{
    return jaw__chi2_below(x, dof[0]);
}

double jaw_trust_chi2(double p, double dof)
{
    const shape s = {chi2_above, chi2_below, {dof, 0}};

    if (!is_share(p) || !(dof > 0) || isinf(dof))
        return NO_NUMBER;
    if (dof > DOF_CUBE)
        return cube_from_normal(gsl_cdf_ugaussian_Qinv(p), dof);
    return exceeded(p, &s);
}

/* ----------------------------------------------------------------------- F */

static double f_above(double x, const double dof[2])
{
    return gsl_cdf_fdist_Q(x, dof[0], dof[1]);
}

static double f_below(double x, const double dof[2])
{
    return gsl_cdf_fdist_P(x, dof[0], dof[1]);
}

double jaw_trust_f(double p, double dof1, double dof2)
{
    const shape s = {f_above, f_below, {dof1, dof2}};

    if (!is_share(p) || !(dof1 > 0) || !(dof2 > 0) || dof1 > DOF_CUBE)
        return NO_NUMBER;
    if (dof2 > DOF_CUBE) /* differs by about dof1 / dof2 */
        return jaw_trust_chi2(p, dof1) / dof1;
    return exceeded(p, &s);
}

/* --------------------------------------------------------------- Student's */

static double t_above(double x, const double dof[2])
{
    return gsl_cdf_tdist_Q(x, dof[0]);
}

static double t_below(double x, const double dof[2])
{
    return gsl_cdf_tdist_P(x, dof[0]);
}

/* The t > 0 that is exceeded with probability tail < 1/2. */
static double student(double tail, double dof)
{
    const shape s = {t_above, t_below, {dof, 0}};

    if (dof > DOF_NORMAL)
        return gsl_cdf_ugaussian_Qinv(tail);
    return dof < 1 ? exceeded(tail, &s) : gsl_cdf_tdist_Qinv(tail, dof);
}

double jaw_trust_cover(double p, double dof)
{
    if (!is_share(p) || !(dof > 0))
        return NO_NUMBER;
    return student((1 - p) / 2, dof);
}

double jaw_trust_tau(double alpha, double dof)
{
    if (!is_share(alpha) || !(dof >= 1))
        return NO_NUMBER;
    if (dof > DOF_NORMAL)
        return gsl_cdf_ugaussian_Qinv(alpha / 2);
    if (dof == 1)
        return 1;
    double t = student(alpha / 2, dof - 1);
    /* t / sqrt((dof - 1 + t^2) / dof), without squaring a t that is huge */
    return sqrt(dof) / hypot(1, sqrt(dof - 1) / t);
}

/* ------------------------------------------------------------------- power */

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

/* Noncentral chi-square above x: half of lambda is the mean of a Poisson number
 * j, and given j it is central with dof + 2 j.  The numbers of j that matter
 * are within ten deviations of that mean, and a few. */
static double noncentral_above(double x, int dof, double lambda)
{
    double mean = lambda / 2, sum = 0, weights = 0;
    double most = mean + 10 * sqrt(mean) + 40;

    for (unsigned j = 0; j < most; j++) {
        double weight = gsl_ran_poisson_pdf(j, mean);
        sum += weight * gsl_cdf_chisq_Q(x, dof + 2.0 * j);
        weights += weight;
    }
    return sum / weights;
}

/* Beyond it no test has the power asked for with any alpha that a double can
 * hold apart from 0. */
#define SHIFT_MOST 64

double jaw_trust_chi2_shift(double alpha, double power, int dof)
{
    if (!is_share(alpha) || !is_share(power) || power <= alpha || dof < 1 ||
        dof > 100)
        return NO_NUMBER;
    double x = jaw_trust_chi2(alpha, dof), low = 0, high = SHIFT_MOST;

    if (noncentral_above(x, dof, high * high) < power)
        return NO_NUMBER;
    for (;;) { /* until the two are neighbours */
        double middle = low + (high - low) / 2;
        if (middle <= low || middle >= high)
            return middle;
        *(noncentral_above(x, dof, middle * middle) < power ? &low : &high) =
            middle;
    }
}

/* ------------------------------------------------------ degrees of freedom */

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
