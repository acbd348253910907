/* SPDX-License-Identifier: GPL-3.0-or-later */
/* model.c: Gauss-Newton by the block adjustment.  The equations are nearly
 * linear (residuals are micrometres, radii millimetres), so that full steps
 * from a good start arrive in a few rounds (Bjoerck, Numerical Methods for
 * Least Squares Problems, 1996, 9.2). */
#include "model.h"

#include <float.h>
#include <math.h>

#define NO_NUMBER ((double)NAN)

enum { ROUNDS = 60 };

jaw_status jaw__known_check(jaw_known_size known)
{
    if (!isfinite(known.size) || !isfinite(known.u))
        return JAW_ENOTFINITE;
    return known.size > 0 && known.u >= 0 ? JAW_OK : JAW_EDOMAIN;
}

jaw_status jaw__repeat_check(double repeat)
{
    if (isnan(repeat))
        return JAW_OK;
    if (isinf(repeat))
        return JAW_ENOTFINITE;
    return repeat > 0 ? JAW_OK : JAW_EDOMAIN;
}

/* ------------------------------------------------------------------- rounds */

static jaw_status add_touches(const jaw__model *m, const double x[],
                              jaw_adjust *a)
{
    for (size_t i = 0; i < m->n_touch; i++) {
        jaw_equation e = {.sigma = 1};
        e.off = -m->touch(m->data, x, i, e.local);
        jaw_status status = jaw_adjust_add(a, &e, NULL);
        if (status != JAW_OK)
            return status;
    }
    return JAW_OK;
}

static jaw_status add_known(const jaw__model *m, const double x[],
                            jaw_adjust *a)
{
    for (size_t k = 0; k < m->n_known; k++) {
        jaw_equation e = {.sigma = 1, .known_spread = true};
        e.local[m->size[k]] = 1;
        e.off = m->value[k] - x[m->size[k]];
        jaw_status status = jaw_adjust_add(a, &e, NULL);
        if (status != JAW_OK)
            return status;
    }
    return JAW_OK;
}

/* The adjustment about x, solved. */
static jaw_status adjust_about(const jaw__model *m, const double x[],
                               jaw_adjust *a)
{
    jaw_adjust_clear(a);
    jaw_status status = jaw_adjust_add_block(a, m->unknowns, NULL);
    if (status == JAW_OK)
        status = add_touches(m, x, a);
    if (status == JAW_OK)
        status = add_known(m, x, a);
    if (status == JAW_ENOTFINITE)
        return JAW_ENOCONV; /* the touches are finite: x has run away */
    return status == JAW_OK ? jaw_adjust_solve(a, NULL, NULL) : status;
}

/* The largest change of an equation by the step: what the touches can see. */
static double step_seen(const jaw__model *m, const double x[],
                        const double step[])
{
    double most = 0, dg[JAW__MODEL_MAX];

    for (size_t i = 0; i < m->n_touch; i++) {
        double change = 0;
        m->touch(m->data, x, i, dg);
        for (size_t k = 0; k < m->unknowns; k++)
            change += dg[k] * step[k];
        if (!(fabs(change) <= most))
            most = fabs(change);
    }
    return most;
}

/* Ends at rounding level: what remains is noise of the equations themselves,
 * and stops growing smaller. */
static jaw_status iterate(const jaw__model *m, jaw__solved *s, jaw_adjust *a)
{
    double last = (double)INFINITY;

    for (int round = 0; round < ROUNDS; round++) {
        jaw_status status = adjust_about(m, s->x, a);
        if (status != JAW_OK)
            return status;
        const double *step = jaw_adjust_block(a, 0);
        double seen = step_seen(m, s->x, step);
        for (size_t k = 0; k < m->unknowns; k++)
            s->x[k] += step[k];
        if (seen <= 4 * DBL_EPSILON * m->scale ||
            (seen <= 1e-12 * m->scale && seen >= last / 2))
            return JAW_OK;
        last = seen;
    }
    return JAW_ENOCONV;
}

/* ------------------------------------------------------------------ results */

static jaw_status read_pair(const jaw__model *m, jaw__solved *s,
                            const jaw_adjust *a, jaw_linear *f, jaw_linear *g)
{
    for (size_t k = 0; k < m->unknowns; k++) {
        jaw_linear_zero(f);
        jaw_linear_local(f, 0, k, 1);
        for (size_t j = 0; j < m->n_known; j++)
            s->moved[j][k] = jaw_adjust_influence(a, m->n_touch + j, f);
        for (size_t l = k; l < m->unknowns; l++) {
            jaw_linear_zero(g);
            jaw_linear_local(g, 0, l, 1);
            s->q[k][l] = s->q[l][k] = jaw_adjust_covariance(a, f, g);
            if (isnan(s->q[k][l]))
                return JAW_ENOMEM;
        }
    }
    return JAW_OK;
}

/* The sizes went in with a spread of 1; what they brought is taken off. */
static jaw_status take_off_known(const jaw__model *m, jaw__solved *s)
{
    for (size_t k = 0; k < m->unknowns; k++)
        for (size_t l = 0; l < m->unknowns; l++)
            for (size_t j = 0; j < m->n_known; j++) {
                if (isnan(s->moved[j][k]))
                    return JAW_ENOMEM;
                s->q[k][l] -= s->moved[j][k] * s->moved[j][l];
            }
    return JAW_OK;
}

static jaw_status read_cofactors(const jaw__model *m, jaw__solved *s,
                                 const jaw_adjust *a)
{
    jaw_linear *f = jaw_linear_alloc(a), *g = jaw_linear_alloc(a);
    jaw_status status = JAW_ENOMEM;

    if (f != NULL && g != NULL)
        status = read_pair(m, s, a, f, g);
    if (status == JAW_OK)
        status = take_off_known(m, s);
    jaw_linear_free(f);
    jaw_linear_free(g);
    return status;
}

static double sum_of_squares(const jaw__model *m, const double x[])
{
    double ssr = 0, dg[JAW__MODEL_MAX];

    for (size_t i = 0; i < m->n_touch; i++) {
        double g = m->touch(m->data, x, i, dg);
        ssr += g * g;
    }
    return ssr;
}

jaw_status jaw__model_solve(const jaw__model *m, jaw__solved *s)
{
    if (m->n_touch + m->n_known < m->unknowns)
        return JAW_EFEW;
    jaw_adjust *a = jaw_adjust_alloc();
    if (a == NULL)
        return JAW_ENOMEM;
    jaw_status status = iterate(m, s, a);
    if (status == JAW_OK)
        status = read_cofactors(m, s, a);
    jaw_adjust_free(a);
    if (status != JAW_OK)
        return status;
    s->ssr = sum_of_squares(m, s->x);
    s->dof = (int)(m->n_touch + m->n_known - m->unknowns);
    return JAW_OK;
}

/* ------------------------------------------------------------------- spread */

/* What was stated counts until the touches contradict it. */
jaw__spread jaw__spread_of(double stated, double ssr, int dof, size_t n)
{
    jaw__spread s = {.repeat = stated,
                     .seen = NO_NUMBER,
                     .dof = (double)INFINITY,
                     .rms = NO_NUMBER,
                     .spare = dof < 1 ? 0 : dof,
                     .flags = dof < 1 ? JAW_NO_CHECK : 0};

    if (dof < 1) {
        s.dof = isnan(stated) ? NO_NUMBER : s.dof;
        return s;
    }
    s.seen = sqrt(ssr / dof);
    s.rms = sqrt(ssr / (double)n);
    double ratio = s.seen / stated; /* NaN: nothing was stated */
    if (ratio * ratio * dof > jaw_trust_chi2(JAW_TRUST_ALPHA, dof))
        s.flags |= JAW_RESIDUAL;
    if (isnan(stated) || (s.flags & JAW_RESIDUAL)) {
        s.repeat = s.seen;
        s.dof = dof;
    }
    return s;
}

int jaw__same_touches(jaw__same *same, const void *data, size_t n)
{
    int count = 0;

    for (size_t i = 1; i < n; i++) {
        size_t j = i > JAW__SAME_AMONG ? i - JAW__SAME_AMONG : 0;
        while (j < i && !same(data, i, j))
            j++;
        count += j < i;
    }
    return count;
}

/* mm: rounding of readings of some hundred leaves less of each. */
#define ROUNDING 1e-12

jaw__spread jaw__spread_but(int same, double stated, const jaw__solved *s,
                            size_t n)
{
    bool nothing = same > 0 && !(s->ssr > (double)n * ROUNDING * ROUNDING);
    int dof = nothing ? 0 : s->dof - same;
    jaw__spread spread = jaw__spread_of(stated, s->ssr, dof, n);

    spread.flags |= same > 0 ? JAW_SAME_TOUCH : 0;
    return spread;
}

double jaw__effective(double u, double dof, double exact)
{
    if (isnan(u) || isnan(dof))
        return NO_NUMBER;
    if (u == 0)
        return exact > 0 ? (double)INFINITY : dof;
    return jaw_trust_effective_dof((double[]){u, exact},
                                   (double[]){dof, (double)INFINITY}, 2);
}
