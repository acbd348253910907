/* SPDX-License-Identifier: GPL-3.0-or-later */
/* reliability.c: what an adjustment says of its equations and of values that
 * follow from it.  Everything is a product of turned rows (adjust.h): with
 * a(i) the turned row of equation i and f that of a value,
 *     variance of f            f . f
 *     leverage of i            a . a / sigma^2, redundancy 1 - leverage
 *     slip of 1 in i moves f   f . a / sigma^2
 * the last without turning i, by turning f back: f . a is what equation i makes
 * of the unknowns R^-1 f.  A redundancy is found once for a solution.
 * (JCGM 100, 5.1; Baarda 1968). */
#include "adjust.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define NO_NUMBER ((double)NAN)

/* A redundancy is 1 less a sum of squares of turned numbers, and turning loses
 * as many digits as elimination has lost; what is smaller is 0 to rounding. */
#define REDUNDANCY_NONE 1e-12

enum { TURNED, TURNED_BACK, STEPS };

struct jaw_linear {
    const jaw_adjust *of;
    size_t n_local, n_shared;
    double *f; /* local unknowns, then shared; the same turned; turned back */
    size_t *done_in; /* the rounds of the adjustment in which it was turned and
                        turned back; 0: not yet */
};

/* ------------------------------------------------------------- turned rows */

void jaw__turn_equation(const jaw_adjust *a, const jaw_equation *e,
                        jaw__turned *t)
{
    memset(t->h, 0, (a->n_shared + 1) * sizeof *t->h);
    memset(t->u, 0, sizeof t->u);
    for (size_t k = 0; k < e->n_shared; k++)
        t->h[e->which[k]] = e->shared[k];
    t->block = e->block;
    if (e->block != JAW_NO_BLOCK)
        jaw__turn_local(a, e->block, e->local, t->u, t->h);
    jaw__turn_shared(a, t->h);
}

static double product(const double a[], const double b[], size_t n)
{
    double sum = 0;

    for (size_t k = 0; k < n; k++)
        sum += a[k] * b[k];
    return sum;
}

double jaw__turned_product(const jaw_adjust *a, const jaw__turned *s,
                           const jaw__turned *t)
{
    double sum = product(s->h, t->h, a->n_shared);

    if (s->block != JAW_NO_BLOCK && s->block == t->block)
        sum += product(s->u, t->u, a->blocks[s->block].n);
    return sum;
}

/* Rows that two equations at a time are turned in. */
jaw__turned jaw__first_row(const jaw_adjust *a)
{
    return (jaw__turned){.h = a->rows};
}

jaw__turned jaw__second_row(const jaw_adjust *a)
{
    return (jaw__turned){.h = a->rows + a->n_shared + 1};
}

/* --------------------------------------------------------------- equations */

double jaw__explained(const jaw_adjust *a, const jaw_equation *e,
                      const double x[])
{
    double sum = 0;

    if (e->block != JAW_NO_BLOCK)
        sum = product(e->local, x + a->blocks[e->block].first,
                      a->blocks[e->block].n);
    for (size_t k = 0; k < e->n_shared; k++)
        sum += e->shared[k] * x[a->n_local + e->which[k]];
    return sum;
}

double jaw__residual(const jaw_adjust *a, const jaw_equation *e)
{
    return e->off - jaw__explained(a, e, a->x);
}

double jaw__sum_of_squares(const jaw_adjust *a)
{
    double ssr = 0;

    for (size_t i = 0; i < a->n_equations; i++) {
        double v = jaw__residual(a, &a->equations[i]) / a->equations[i].sigma;
        ssr += v * v;
    }
    return ssr;
}

jaw_adjust_quality jaw_adjust_total(const jaw_adjust *adjust)
{
    jaw_adjust_quality q = {NO_NUMBER, NO_NUMBER, NO_NUMBER, NO_NUMBER,
                            NO_NUMBER};

    if (!adjust->solved)
        return q;
    q.ssr = adjust->ssr;
    q.dof = adjust->dof;
    if (q.dof > 0) {
        q.s0 = adjust->s0;
        q.chi2_p = jaw__chi2_above(q.ssr, q.dof);
        q.low_p = jaw__chi2_below(q.ssr, q.dof);
    }
    return q;
}

double jaw__redundancy_of(const jaw_adjust *a, const jaw_equation *e,
                          const jaw__turned *t)
{
    double r = 1 - jaw__turned_product(a, t, t) / e->sigma / e->sigma;

    double none = fmax(REDUNDANCY_NONE, 64 * DBL_EPSILON * a->loss);

    return a->dof > 0 && r > none ? fmin(r, 1) : 0;
}

static double redundancy_at(const jaw_adjust *a, size_t i)
{
    if (isnan(a->redundancy[i])) {
        jaw__turned t = jaw__first_row(a);
        jaw__turn_equation(a, &a->equations[i], &t);
        a->redundancy[i] = jaw__redundancy_of(a, &a->equations[i], &t);
    }
    return a->redundancy[i];
}

static jaw_reliability rate(const jaw_adjust *a, size_t i, double s0,
                            double shift)
{
    const jaw_equation *e = &a->equations[i];
    jaw_reliability out = {.resid = jaw__residual(a, e),
                           .redundancy = redundancy_at(a, i),
                           .standard = NO_NUMBER,
                           .student = NO_NUMBER,
                           .noticeable = (double)INFINITY};

    if (out.redundancy > 0) {
        double root = sqrt(out.redundancy);
        out.standard = out.resid / (e->sigma * root);
        out.noticeable = shift * e->sigma / root;
        if (s0 > 0)
            out.student = out.standard / s0;
    }
    return out;
}

jaw_reliability jaw_adjust_reliability(const jaw_adjust *adjust,
                                       size_t equation)
{
    jaw_reliability none = {NO_NUMBER, NO_NUMBER, NO_NUMBER, NO_NUMBER,
                            NO_NUMBER};

    if (!adjust->solved || equation >= adjust->n_equations)
        return none;
    return rate(adjust, equation, adjust->s0, JAW_TRUST_SHIFT);
}

/* Correlation of the tests of two equations: their residuals'. */
static double correlation(const jaw_adjust *a, size_t i, const jaw__turned *s,
                          size_t j, jaw__turned *t)
{
    const jaw_equation *ei = &a->equations[i], *ej = &a->equations[j];

    if (!(a->redundancy[j] > 0))
        return 0;
    jaw__turn_equation(a, ej, t);
    return -jaw__turned_product(a, s, t) / (ei->sigma * ej->sigma) /
           sqrt(a->redundancy[i] * a->redundancy[j]);
}

/* All redundancies are known by now. */
static size_t count_alike(const jaw_adjust *a, size_t worst)
{
    jaw__turned s = jaw__first_row(a), t = jaw__second_row(a);
    size_t alike = 0;

    jaw__turn_equation(a, &a->equations[worst], &s);
    for (size_t j = 0; j < a->n_equations; j++)
        if (j != worst && fabs(correlation(a, worst, &s, j, &t)) > 0.999)
            alike++;
    return alike;
}

size_t jaw_adjust_worst(const jaw_adjust *adjust, size_t *alike)
{
    const jaw_adjust *a = adjust;
    size_t worst = JAW_NO_BLOCK;
    double most = -1;

    if (alike != NULL)
        *alike = 0;
    if (!a->solved)
        return worst;
    for (size_t i = 0; i < a->n_equations; i++) {
        double w = fabs(rate(a, i, 1, 1).standard);
        if (w > most) {
            most = w;
            worst = i;
        }
    }
    if (worst != JAW_NO_BLOCK && alike != NULL)
        *alike = count_alike(a, worst);
    return worst;
}

/* ------------------------------------------------------------------ values */

jaw_linear *jaw_linear_alloc(const jaw_adjust *adjust)
{
    jaw_linear *f = calloc(1, sizeof *f);

    if (f == NULL)
        return NULL;
    f->of = adjust;
    f->n_local = adjust->n_local;
    f->n_shared = adjust->n_shared;
    f->f = calloc(3 * (f->n_local + f->n_shared) + 1, sizeof *f->f);
    f->done_in = calloc(STEPS, sizeof *f->done_in);
    if (f->f == NULL || f->done_in == NULL) {
        jaw_linear_free(f);
        return NULL;
    }
    return f;
}

void jaw_linear_free(jaw_linear *f)
{
    if (f == NULL)
        return;
    free(f->f);
    free(f->done_in);
    free(f);
}

static void undo(jaw_linear *f)
{
    f->done_in[TURNED] = f->done_in[TURNED_BACK] = 0;
}

void jaw_linear_zero(jaw_linear *f)
{
    memset(f->f, 0, (f->n_local + f->n_shared) * sizeof *f->f);
    undo(f);
}

/* The adjustment has the unknowns it had when f was made. */
static bool still_fits(const jaw_linear *f)
{
    return f->n_local == f->of->n_local && f->n_shared == f->of->n_shared;
}

jaw_status jaw_linear_local(jaw_linear *f, size_t block, size_t unknown,
                            double coefficient)
{
    const jaw_adjust *a = f->of;

    if (!still_fits(f) || block >= a->n_blocks ||
        unknown >= a->blocks[block].n || !isfinite(coefficient))
        return JAW_EDOMAIN;
    f->f[a->blocks[block].first + unknown] += coefficient;
    undo(f);
    return JAW_OK;
}

jaw_status jaw_linear_shared(jaw_linear *f, size_t shared, double coefficient)
{
    if (shared >= f->n_shared || !isfinite(coefficient))
        return JAW_EDOMAIN;
    f->f[f->n_local + shared] += coefficient;
    undo(f);
    return JAW_OK;
}

static bool belongs(const jaw_adjust *a, const jaw_linear *f)
{
    return a->solved && f != NULL && f->of == a && still_fits(f);
}

double jaw_adjust_value(const jaw_adjust *adjust, const jaw_linear *f)
{
    if (!belongs(adjust, f))
        return NO_NUMBER;
    return product(f->f, adjust->x, f->n_local + f->n_shared);
}

/* The value's turned row: every block's part, then the shared one.  It is kept
 * for as long as neither the value nor the solution changes. */
static const double *turn_value(const jaw_adjust *a, const jaw_linear *f)
{
    double *t = f->f + f->n_local + f->n_shared, *h = t + f->n_local;

    if (f->done_in[TURNED] == a->round)
        return t;
    memset(t, 0, f->n_local * sizeof *t);
    memcpy(h, f->f + f->n_local, f->n_shared * sizeof *h);
    for (size_t b = 0; b < a->n_blocks; b++) {
        const double *own = f->f + a->blocks[b].first;
        bool any = false;
        for (size_t k = 0; k < a->blocks[b].n; k++)
            any = any || own[k] != 0;
        if (any)
            jaw__turn_local(a, b, own, t + a->blocks[b].first, h);
    }
    jaw__turn_shared(a, h);
    f->done_in[TURNED] = a->round;
    return t;
}

/* The unknowns R^-1 f, likewise kept. */
static const double *turn_value_back(const jaw_adjust *a, const jaw_linear *f)
{
    size_t n = f->n_local + f->n_shared;
    double *y = f->f + 2 * n;

    if (f->done_in[TURNED_BACK] == a->round)
        return y;
    memcpy(y, turn_value(a, f), n * sizeof *y);
    jaw__unturn(a, y);
    f->done_in[TURNED_BACK] = a->round;
    return y;
}

double jaw_adjust_covariance(const jaw_adjust *adjust, const jaw_linear *f,
                             const jaw_linear *g)
{
    if (!belongs(adjust, f) || !belongs(adjust, g))
        return NO_NUMBER;
    return product(turn_value(adjust, f), turn_value(adjust, g),
                   f->n_local + f->n_shared);
}

double jaw_adjust_variance(const jaw_adjust *adjust, const jaw_linear *f)
{
    return jaw_adjust_covariance(adjust, f, f);
}

double jaw_adjust_influence(const jaw_adjust *adjust, size_t equation,
                            const jaw_linear *f)
{
    if (!belongs(adjust, f) || equation >= adjust->n_equations)
        return NO_NUMBER;
    const jaw_equation *e = &adjust->equations[equation];
    return jaw__explained(adjust, e, turn_value_back(adjust, f)) / e->sigma /
           e->sigma;
}

/* sum (a - c b)^2 */
static double apart(const double a[], double c, const double b[], size_t n)
{
    double sum = 0;

    for (size_t k = 0; k < n; k++)
        sum += (a[k] - c * b[k]) * (a[k] - c * b[k]);
    return sum;
}

/* v.v - (v.t)^2 / (t.t + sigma^2), as the sum of squares that it is:
 * |v - c t|^2 + (c sigma)^2 with c = v.t / (t.t + sigma^2). */
double jaw_adjust_gain(const jaw_adjust *adjust, const jaw_equation *more,
                       const jaw_linear *f)
{
    const jaw_adjust *a = adjust;

    if (!belongs(a, f) || jaw__equation_check(a, more) != JAW_OK)
        return NO_NUMBER;
    const double *value = turn_value(a, f);
    double common = jaw__explained(a, more, turn_value_back(a, f));
    if (common == 0) /* as an equation of another feature, most often */
        return product(value, value, f->n_local + f->n_shared);
    jaw__turned t = jaw__first_row(a);
    jaw__turn_equation(a, more, &t);
    double c = common / (jaw__turned_product(a, &t, &t) +
                         more->sigma * more->sigma);
    double left = apart(value + f->n_local, c, t.h, f->n_shared);
    size_t first = 0, n = 0;
    if (t.block != JAW_NO_BLOCK) {
        first = a->blocks[t.block].first;
        n = a->blocks[t.block].n;
    }
    left += product(value, value, first) + apart(value + first, c, t.u, n) +
            product(value + first + n, value + first + n,
                    f->n_local - first - n);
    return left + c * more->sigma * (c * more->sigma);
}

/* Equal to rounding. */
#define TIED (1 + 1e-9)

/* External reliability (Baarda 1968): of all equations the largest product of
 * the smallest noticeable slip and its influence; among those that nothing
 * checks, the one with most influence. */
static double find_reach(const jaw_adjust *a, const jaw_linear *f,
                         double scale, size_t *equation)
{
    const double *value = turn_value(a, f), *back = turn_value_back(a, f);
    double size = sqrt(product(value, value, f->n_local + f->n_shared));
    double most = 0, loosest = 0;

    for (size_t i = 0; i < a->n_equations; i++) {
        const jaw_equation *e = &a->equations[i];
        double times = e->known_spread ? 1 : scale;
        double moved = times * fabs(jaw__explained(a, e, back)) / e->sigma;
        double redundancy = redundancy_at(a, i);
        if (!(redundancy > 0) && !(moved > JAW_TRUST_SHARE_NONE * size))
            continue;
        double reach = redundancy > 0
                           ? JAW_TRUST_SHIFT * moved / sqrt(redundancy)
                           : (double)INFINITY;
        /* of two that are equal to rounding the first is named */
        if (!(reach > most * TIED) &&
            !(isinf(reach) && moved > loosest * TIED))
            continue;
        most = reach;
        loosest = isinf(reach) ? moved : 0;
        *equation = i;
    }
    return most;
}

double jaw_adjust_reach_scaled(const jaw_adjust *adjust, const jaw_linear *f,
                               double scale, size_t *equation)
{
    size_t whose = JAW_NO_BLOCK;

    if (equation != NULL)
        *equation = whose;
    if (!belongs(adjust, f) || !(scale > 0) || isinf(scale))
        return NO_NUMBER;
    double most = find_reach(adjust, f, scale, &whose);
    if (equation != NULL)
        *equation = whose;
    return most;
}

double jaw_adjust_reach(const jaw_adjust *adjust, const jaw_linear *f,
                        size_t *equation)
{
    return jaw_adjust_reach_scaled(adjust, f, 1, equation);
}
