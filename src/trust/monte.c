/* SPDX-License-Identifier: GPL-3.0-or-later */
/* monte.c: propagation of distributions by trials (JCGM 101:2008): the trials
 * of any model, their summary (7.6, 7.7), trials until the summary holds still
 * (7.9), and the comparison with the linear propagation (clause 8). */
#include "random.h"

#include "tails.h"

#include <stdlib.h>
#include <string.h>

#define NO_NUMBER ((double)NAN)

/* ------------------------------------------------------------------ trials */

jaw_status jaw_monte_each(void *trial, unsigned long long seed, size_t first,
                          size_t count, double *const out[], size_t *failed)
{
    const jaw_monte_trial *t = trial;
    double value[JAW_MONTE_VALUES_MAX];

    if (t->n_values < 1 || t->n_values > JAW_MONTE_VALUES_MAX)
        return JAW_EDOMAIN;
    *failed = 0;
    for (size_t i = 0; i < count; i++) {
        jaw_random random = jaw__random_start(seed, first + i);
        bool good = t->one(t->context, &random, value) == JAW_OK;
        for (size_t k = 0; k < t->n_values; k++)
            out[k][i] = good ? value[k] : NO_NUMBER;
        *failed += good ? 0 : 1;
    }
    return JAW_OK;
}

/* ----------------------------------------------------------------- summary */

static const jaw_monte_summary nothing = {NO_NUMBER, NO_NUMBER, NO_NUMBER,
                                          NO_NUMBER, NO_NUMBER, NO_NUMBER,
                                          0, 0};

/* Sums of v - from and of its square, four at a time: one alone waits for each
 * addition. */
static void sums_from(const double v[], size_t n, double from, double *plain,
                      double *square)
{
    double sum[4] = {0}, squares[4] = {0};
    size_t i = 0;

    for (; i + 4 <= n; i += 4)
        for (size_t k = 0; k < 4; k++) {
            double d = v[i + k] - from;
            sum[k] += d;
            squares[k] += d * d;
        }
    for (; i < n; i++) {
        sum[0] += v[i] - from;
        squares[0] += (v[i] - from) * (v[i] - from);
    }
    *plain = (sum[0] + sum[1]) + (sum[2] + sum[3]);
    *square = (squares[0] + squares[1]) + (squares[2] + squares[3]);
}

static void moments(const double v[], size_t n, jaw_monte_summary *out)
{
    double s, ss, m = (double)n;

    sums_from(v, n, v[0], &s, &ss);
    double near = v[0] + s / m;
    sums_from(v, n, near, &s, &ss);
    out->mean = near + s / m;
    out->u = sqrt(fmax(ss - s * s / m, 0) / (m - 1));
}

/* JCGM 101, 7.7.2; ranks count from 1 there. */
static void intervals(const jaw__tails *t, jaw_monte_summary *out)
{
    size_t r = (t->length + 1) / 2, best = 0;

    out->low = t->low[r - 1];
    out->high = t->high[r - 1];
    for (size_t i = 1; i < t->length; i++)
        if (t->high[i] - t->low[i] < t->high[best] - t->low[best])
            best = i;
    out->short_low = t->low[best];
    out->short_high = t->high[best];
}

/* How many of n values an interval leaves out. */
static size_t left_out(size_t n, double p)
{
    return n - (size_t)floor(p * (double)n + 0.5);
}

static jaw_status summarize(const double v[], size_t n, double p,
                            jaw_monte_summary *out)
{
    jaw__tails tails;

    if (n < 2 || left_out(n, p) < 1)
        return JAW_EFEW;
    jaw_status status = jaw__tails_find(v, n, left_out(n, p), &tails);
    if (status != JAW_OK)
        return status;
    moments(v, n, out);
    intervals(&tails, out);
    jaw__tails_free(&tails);
    return JAW_OK;
}

/* The finite ones of v; NULL without memory. */
static double *finite_ones(const double v[], size_t n, size_t *count)
{
    double *good = malloc((n > 0 ? n : 1) * sizeof *good);

    *count = 0;
    for (size_t i = 0; good != NULL && i < n; i++)
        if (isfinite(v[i]))
            good[(*count)++] = v[i];
    return good;
}

jaw_status jaw_monte_summarize(const double value[], size_t n, double p,
                               jaw_monte_summary *out)
{
    size_t bad = 0, good = n;
    double *some = NULL;

    *out = nothing;
    if (!(p > 0 && p < 1))
        return JAW_EDOMAIN;
    for (size_t i = 0; i < n; i++)
        bad += isfinite(value[i]) ? 0 : 1;
    if (bad > 0 && (some = finite_ones(value, n, &good)) == NULL)
        return JAW_ENOMEM;
    jaw_status status = summarize(some ? some : value, good, p, out);
    free(some);
    if (status != JAW_OK)
        *out = nothing;
    out->n = good;
    out->failed = bad;
    return status;
}

/* ------------------------------------------------------- until it is still */

double jaw_monte_tolerance(double u, int digits)
{
    if (!(u > 0) || isinf(u) || digits < 1 || digits > 15)
        return NO_NUMBER;
    int power = (int)floor(log10(u)) - digits + 1;
    if (round(u / pow(10, power)) >= pow(10, digits))
        power++;
    return 0.5 * pow(10, power);
}

/* Sums over the blocks of four figures of each value: mean, u and both ends. */
typedef struct drift {
    double sum[4], square[4], first[4];
} drift;

static void drift_add(drift *d, const jaw_monte_summary *s, size_t blocks)
{
    const double now[4] = {s->mean, s->u, s->low, s->high};

    for (int k = 0; k < 4; k++) {
        if (blocks == 0)
            d->first[k] = now[k];
        double off = now[k] - d->first[k];
        d->sum[k] += off;
        d->square[k] += off * off;
    }
}

/* Twice the standard deviation of each figure's mean is below tolerance. */
static bool is_still(const drift *d, size_t blocks, double tolerance)
{
    double h = (double)blocks;

    if (blocks < 2)
        return false;
    for (int k = 0; k < 4; k++) {
        double ss = fmax(d->square[k] - d->sum[k] * d->sum[k] / h, 0);
        if (!(2 * sqrt(ss / (h * (h - 1))) <= tolerance))
            return false;
    }
    return true;
}

/* What a run needs: all trials of each value, one row a value. */
typedef struct run {
    const jaw_monte_model *model;
    const jaw_monte_plan *plan;
    double *all; /* n_values rows of plan->most */
    drift *drifts;
    size_t done, blocks;
} run;

static jaw_status next_block(run *r, size_t size)
{
    const jaw_monte_plan *p = r->plan;
    double *out[JAW_MONTE_VALUES_MAX];
    size_t failed;

    for (size_t k = 0; k < r->model->n_values; k++)
        out[k] = r->all + k * p->most + r->done;
    jaw_status status = r->model->run(r->model->context, p->seed, r->done,
                                      size, out, &failed);
    for (size_t k = 0; k < r->model->n_values && status == JAW_OK; k++) {
        jaw_monte_summary s;
        status = jaw_monte_summarize(out[k], size, p->p, &s);
        drift_add(&r->drifts[k], &s, r->blocks);
    }
    r->done += size;
    r->blocks++;
    return status;
}

/* The tolerance follows from all trials so far (7.9.4 f to h). */
static bool all_still(const run *r)
{
    const jaw_monte_plan *p = r->plan;

    for (size_t k = 0; k < r->model->n_values; k++) {
        jaw_monte_summary all;
        const double *v = r->all + k * p->most;
        moments(v, r->done, &all);
        if (all.u == 0)
            continue;
        if (!is_still(&r->drifts[k], r->blocks,
                      jaw_monte_tolerance(all.u, p->digits) * p->share))
            return false;
    }
    return true;
}

static jaw_status run_until(run *r, jaw_monte_summary out[], bool *settled)
{
    const jaw_monte_plan *p = r->plan;
    double wanted = ceil(100 / (1 - p->p));
    size_t size = wanted < 10000 ? 10000 : (size_t)wanted;
    jaw_status status = JAW_OK;

    *settled = false;
    while (status == JAW_OK && !*settled && p->most - r->done >= size) {
        status = next_block(r, size);
        *settled = status == JAW_OK && all_still(r);
    }
    if (status == JAW_OK && r->blocks == 0)
        status = JAW_EFEW;
    for (size_t k = 0; k < r->model->n_values && status == JAW_OK; k++)
        status = jaw_monte_summarize(r->all + k * p->most, r->done, p->p,
                                     &out[k]);
    return status;
}

static bool is_good(const jaw_monte_model *m, const jaw_monte_plan *p)
{
    return m->n_values >= 1 && m->n_values <= JAW_MONTE_VALUES_MAX &&
           p->p > 0 && p->p < 1 && p->digits >= 1 && p->digits <= 15 &&
           p->share > 0 && p->share <= 1 &&
           p->most < SIZE_MAX / sizeof(double) / JAW_MONTE_VALUES_MAX;
}

jaw_status jaw_monte_settle(const jaw_monte_model *model,
                            const jaw_monte_plan *plan,
                            jaw_monte_summary out[], size_t *trials,
                            bool *settled)
{
    run r = {.model = model, .plan = plan};
    jaw_status status = JAW_EDOMAIN;
    size_t n = model->n_values;

    *settled = false;
    if (is_good(model, plan)) {
        r.all = malloc((n * plan->most + 1) * sizeof *r.all);
        r.drifts = calloc(n, sizeof *r.drifts);
        status = r.all && r.drifts ? run_until(&r, out, settled) : JAW_ENOMEM;
    }
    for (size_t k = 0; status != JAW_OK && k < n && k < JAW_MONTE_VALUES_MAX;
         k++)
        out[k] = nothing;
    free(r.all);
    free(r.drifts);
    *trials = r.done;
    *settled = *settled && status == JAW_OK;
    return status;
}

/* -------------------------------------------------------------- comparison */

bool jaw_monte_agrees(const jaw_monte_summary *trials, double value,
                      double expanded, int digits)
{
    double tolerance = jaw_monte_tolerance(trials->u, digits);

    return fabs(value - expanded - trials->low) <= tolerance &&
           fabs(value + expanded - trials->high) <= tolerance;
}
