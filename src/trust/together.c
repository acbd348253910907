/* SPDX-License-Identifier: GPL-3.0-or-later */
/* together.c: what an adjustment says of two equations at a time: one when the
 * other is left out, and both when they slip together.
 *
 * With w the residuals over their sigmas and R their cofactors (redundancies on
 * the diagonal, less the product of two turned rows beside it), a slip d in two
 * equations, in sigmas, moves w by R d.  So R^-1 w is the slip that explains
 * most, w . R^-1 w what it takes out of the sum of squares, and d . R d how far
 * that is shifted by a true one (Baarda 1968; Kok, NOAA TR NOS 100 NGS 28,
 * 1984).  Leaving an equation out is the same as letting it slip freely. */
#include "adjust.h"

#include <float.h>
#include <math.h>

#define NO_NUMBER ((double)NAN)

/* Two equations, in sigmas. */
typedef struct two {
    double w[2], r[2], beside; /* residuals; R: its diagonal, and beside that */
} two;

static two take_two(const jaw_adjust *a, size_t i, size_t j)
{
    const jaw_equation *e = &a->equations[i], *g = &a->equations[j];
    jaw__turned s = jaw__first_row(a), t = jaw__second_row(a);

    jaw__turn_equation(a, e, &s);
    jaw__turn_equation(a, g, &t);
    return (two){
        .w = {jaw__residual(a, e) / e->sigma, jaw__residual(a, g) / g->sigma},
        .r = {jaw__redundancy_of(a, e, &s), jaw__redundancy_of(a, g, &t)},
        .beside = -jaw__turned_product(a, &s, &t) / e->sigma / g->sigma};
}

/* What is left of a redundancy once another equation is left out loses digits
 * twice; below this it is 0 to rounding. */
static double left_none(const jaw_adjust *a)
{
    return fmax(1e-9, 64 * DBL_EPSILON * a->loss);
}

jaw_reliability jaw_adjust_without(const jaw_adjust *adjust, size_t left_out,
                                   size_t equation)
{
    const jaw_adjust *a = adjust;
    jaw_reliability out = {NO_NUMBER, NO_NUMBER, NO_NUMBER, NO_NUMBER,
                           NO_NUMBER};

    if (!a->solved || left_out >= a->n_equations ||
        equation >= a->n_equations || equation == left_out)
        return out;
    two t = take_two(a, left_out, equation);
    if (!(t.r[0] > 0))
        return out;
    double sigma = a->equations[equation].sigma;
    double r = t.r[1] - t.beside * t.beside / t.r[0];
    double w = t.w[1] - t.beside * t.w[0] / t.r[0];
    out.resid = w * sigma;
    out.redundancy = r > left_none(a) ? fmin(r, 1) : 0;
    out.noticeable = (double)INFINITY;
    if (!(out.redundancy > 0))
        return out;
    out.standard = w / sqrt(r);
    out.noticeable = JAW_TRUST_SHIFT * sigma / sqrt(r);
    double ssr = a->ssr - t.w[0] * t.w[0] / t.r[0];
    if (ssr > 0 && a->dof > 1)
        out.student = out.standard / sqrt(ssr / (a->dof - 1));
    return out;
}

/* ------------------------------------------------------------------ a place */

/* Principal directions of R, the one that is checked most first. */
typedef struct principal {
    double value[2], x[2], y[2];
} principal;

static principal principal_of(const two *t)
{
    double half = (t->r[0] - t->r[1]) / 2, middle = (t->r[0] + t->r[1]) / 2;
    double size = hypot(half, t->beside);
    double angle = atan2(t->beside, half) / 2;

    return (principal){.value = {middle + size, middle - size},
                       .x = {cos(angle), -sin(angle)},
                       .y = {sin(angle), cos(angle)}};
}

/* The slip per sigma along a direction, as long as it is noticed: sigmas of the
 * two may differ, and then the longest such slip lies between. */
static double longest(const two *t, const double sigma[2], double shift)
{
    /* smallest principal value of S^-1 R S^-1 */
    two per = {.r = {t->r[0] / (sigma[0] * sigma[0]),
                     t->r[1] / (sigma[1] * sigma[1])},
               .beside = t->beside / (sigma[0] * sigma[1])};
    principal p = principal_of(&per);

    return shift / sqrt(p.value[1]);
}

static void explain(const two *t, const principal *p, const double sigma[2],
                    jaw_place_reliability *out)
{
    double sum = 0;

    for (int k = 0; k < out->directions; k++) {
        double w = p->x[k] * t->w[0] + p->y[k] * t->w[1];
        sum += w * w / p->value[k];
        out->slip[0] += w / p->value[k] * p->x[k] * sigma[0];
        out->slip[1] += w / p->value[k] * p->y[k] * sigma[1];
    }
    out->standard = sqrt(sum);
    out->limit =
        out->directions == 2 ? JAW_TRUST_LIMIT_PLACE : JAW_TRUST_LIMIT;
}

jaw_place_reliability jaw_adjust_place(const jaw_adjust *adjust,
                                       const size_t equation[2])
{
    const jaw_adjust *a = adjust;
    jaw_place_reliability out = {.redundancy = NO_NUMBER,
                                 .standard = NO_NUMBER,
                                 .limit = NO_NUMBER,
                                 .slip = {NO_NUMBER, NO_NUMBER},
                                 .noticeable = NO_NUMBER};

    if (!a->solved || equation[0] >= a->n_equations ||
        equation[1] >= a->n_equations || equation[0] == equation[1])
        return out;
    two t = take_two(a, equation[0], equation[1]);
    principal p = principal_of(&t);
    double sigma[] = {a->equations[equation[0]].sigma,
                      a->equations[equation[1]].sigma};
    double none = left_none(a);
    out.directions = (p.value[0] > none ? 1 : 0) + (p.value[1] > none ? 1 : 0);
    out.redundancy = out.directions == 2 ? fmin(p.value[1], 1) : 0;
    out.noticeable = (double)INFINITY;
    out.slip[0] = out.slip[1] = 0;
    if (out.directions > 0)
        explain(&t, &p, sigma, &out);
    if (out.directions == 2)
        out.noticeable = longest(&t, sigma, JAW_TRUST_SHIFT_PLACE);
    return out;
}
