/* SPDX-License-Identifier: GPL-3.0-or-later */
/* mark.c: a mark's place: from a feature of a solved setup, or from readings
 * that were typed by hand. */
#include "book.h"

#include <math.h>

#define NO_NUMBER ((double)NAN)

static jaw_figure unknown(void)
{
    return jaw_figure_make(NO_NUMBER, NO_NUMBER, NO_NUMBER);
}

static jaw_book_mark blank(const char *feature)
{
    return (jaw_book_mark){.feature = feature,
                           .at = {unknown(), unknown(), unknown()},
                           .direction = unknown()};
}

/* --------------------------------------------------------------- a feature */

jaw_status jaw_book_mark_found(const jaw_found *found, jaw_book_mark *mark)
{
    const jaw_where *w = &found->where;
    const double at[3] = {w->at.x, w->at.y, w->at.z};

    *mark = blank(jaw_feature_word(found->kind));
    if (found->status != JAW_OK || (isnan(at[0]) && isnan(at[1]) &&
                                    isnan(at[2])))
        return JAW_EUNKNOWN;
    if (isnan(at[0]) != isnan(at[1]))
        return JAW_ERANK;
    for (int k = 0; k < 3; k++)
        mark->at[k] = jaw__book_figure(at[k], &w->trust[w->wall ? 0 : k]);
    mark->direction = jaw__book_figure(w->theta, &w->turn);
    return JAW_OK;
}

/* ---------------------------------------------------------------- readings */

static double axis_of(const jaw_vec3 *p, int k)
{
    return k == 0 ? p->x : k == 1 ? p->y : p->z;
}

static jaw_status check(const jaw_book_typed *t)
{
    if (t->n == 0)
        return JAW_EFEW;
    for (size_t i = 0; i < t->n; i++)
        for (int k = 0; k < 3; k++) {
            double v = axis_of(&t->reading[i], k);
            if (isinf(v))
                return JAW_ENOTFINITE;
            if (isnan(v) != isnan(axis_of(&t->reading[0], k)))
                return JAW_EDOMAIN;
        }
    const jaw_vec3 *p = &t->reading[0];
    return isnan(p->x) != isnan(p->y) || (isnan(p->x) && isnan(p->z))
               ? JAW_EDOMAIN
               : JAW_OK;
}

static double mean_of(const jaw_book_typed *t, int k)
{
    double first = axis_of(&t->reading[0], k), sum = 0;

    for (size_t i = 0; i < t->n; i++)
        sum += axis_of(&t->reading[i], k) - first;
    return first + sum / (double)t->n;
}

/* Sum of squares about the means, and degrees of freedom, of all. */
static double pool(const jaw_book_typed typed[], size_t n, double *dof)
{
    double sum = 0;

    *dof = 0;
    for (size_t i = 0; i < n; i++)
        for (int k = 0; k < 3; k++) {
            double mean = mean_of(&typed[i], k);
            if (isnan(mean))
                continue;
            for (size_t j = 0; j < typed[i].n; j++) {
                double d = axis_of(&typed[i].reading[j], k) - mean;
                sum += d * d;
            }
            *dof += (double)(typed[i].n - 1);
        }
    return sum;
}

/* The step is a rectangle (JCGM 100, F.2.2.1), and alike for readings of one
 * place. */
static jaw_figure typed_figure(double mean, size_t n, double repeat, double dof,
                               double step)
{
    const double u[2] = {repeat / sqrt((double)n), step / sqrt(12)};
    const double each[2] = {dof, (double)INFINITY};

    if (isnan(mean))
        return unknown();
    return (jaw_figure){mean, hypot(u[0], u[1]),
                        jaw_trust_effective_dof(u, each, 2),
                        jaw_trust_within(u[0], dof, u[1])};
}

jaw_status jaw_book_mark_typed(const jaw_book_typed typed[], size_t n,
                               double repeat, double step,
                               jaw_book_mark mark[])
{
    double dof = (double)INFINITY;

    for (size_t i = 0; i < n; i++)
        mark[i] = blank("");
    for (size_t i = 0; i < n; i++) {
        jaw_status status = check(&typed[i]);
        if (status != JAW_OK)
            return status;
    }
    if (!(step > 0) || isinf(step) || repeat <= 0 || isinf(repeat))
        return JAW_EDOMAIN;
    if (isnan(repeat))
        repeat = sqrt(pool(typed, n, &dof) / dof);
    if (!(dof > 0))
        return JAW_EUNKNOWN;
    for (size_t i = 0; i < n; i++)
        for (int k = 0; k < 3; k++)
            mark[i].at[k] = typed_figure(mean_of(&typed[i], k), typed[i].n,
                                         repeat, dof, step);
    return JAW_OK;
}
