/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench_trust.c: what it costs to know how good a value is.  All in one run, in
 * processor time, so that ratios hold on a machine that others use too.
 *
 * 1. A million trials of an eight-touch circle, interval ends of x, y and r
 *    included, against GSL's mt19937, ziggurat and multifit_nlinear (analytic
 *    Jacobian, workspace made beforehand, started at the known circle, until
 *    the step is below 1e-10) with the same summary; and shared out between two
 *    threads, which must give the very same numbers.
 * 2. Reliability of the touches of one circle, against its fit.
 * 3. One adjustment of 50 blocks, 20 shared unknowns and 1000 touches, with the
 *    reliability of each touch and its influence on a value; and ten and a
 *    hundred times the touches.
 * Exits with 1 when one of the promises that are ratios is broken. */
#include <jawline/trust.h>

#include <gsl/gsl_blas.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { TOUCHES = 8, TRIALS = 1000000, GSL_TRIALS = 200000 };

static jaw_vec2 touches[TOUCHES];
static double sigma[TOUCHES];
static jaw_circle fitted;
static int broken;

static double clock_of(clockid_t id)
{
    struct timespec t;

    clock_gettime(id, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static double cpu(void)
{
    return clock_of(CLOCK_PROCESS_CPUTIME_ID);
}

static void *room(size_t n)
{
    void *p = malloc(n);

    if (p == NULL)
        exit(EXIT_FAILURE);
    memset(p, 0, n); /* so that the first use pays for no page */
    return p;
}

static void must(bool good, const char *what)
{
    printf("  %s: %s\n", good ? "kept" : "BROKEN", what);
    broken += good ? 0 : 1;
}

static void make_touches(void)
{
    jaw_random r = jaw_random_stream(20240611, 0);

    for (int i = 0; i < TOUCHES; i++) {
        double turn = 2 * acos(-1.0) * (i + 0.2 * jaw_random_even(&r)) / TOUCHES;
        double d = 10 + 0.002 * jaw_random_normal(&r);
        touches[i] = (jaw_vec2){123.4 + d * cos(turn), -45.6 + d * sin(turn)};
        sigma[i] = 0.002;
    }
    if (jaw_fit_circle(touches, TOUCHES, &fitted, NULL) != JAW_OK)
        exit(EXIT_FAILURE);
}

/* ------------------------------------------------------------------ trials */

static void summarize(double *const out[3], size_t n, jaw_monte_summary s[3])
{
    for (int k = 0; k < 3; k++)
        if (jaw_monte_summarize(out[k], n, 0.95, &s[k]) != JAW_OK)
            exit(EXIT_FAILURE);
}

static double ours(double *const out[3], jaw_monte_summary s[3])
{
    jaw_monte_touches t = {touches, TOUCHES, sigma};
    size_t failed;
    double start = cpu();

    if (jaw_monte_circle(&t, 1, 0, TRIALS, out, &failed) != JAW_OK || failed)
        exit(EXIT_FAILURE);
    summarize(out, TRIALS, s);
    return cpu() - start;
}

/* One half of the trials and of the values' summaries. */
typedef struct half {
    double *out[3];
    size_t first, count;
} half;

static void *do_half(void *of)
{
    half *h = of;
    double *out[3];
    jaw_monte_touches t = {touches, TOUCHES, sigma};
    size_t failed;

    for (int k = 0; k < 3; k++)
        out[k] = h->out[k] + h->first;
    if (jaw_monte_circle(&t, 1, h->first, h->count, out, &failed) != JAW_OK)
        exit(EXIT_FAILURE);
    return NULL;
}

static void *do_summary(void *of)
{
    half *h = of;
    jaw_monte_summary s;

    for (size_t k = h->first; k < h->first + h->count; k++)
        if (jaw_monte_summarize(h->out[k], TRIALS, 0.95, &s) != JAW_OK)
            exit(EXIT_FAILURE);
    return NULL;
}

static void in_two(void *(*what)(void *), half h[2])
{
    pthread_t other;

    if (pthread_create(&other, NULL, what, &h[1]) != 0)
        exit(EXIT_FAILURE);
    what(&h[0]);
    pthread_join(other, NULL);
}

/* Wall time with `threads` threads, in all and of the trials alone; the summaries
 * of three values can only be shared out 2 and 1. */
static double wall(double *const out[3], int threads, double *trials)
{
    half h[2] = {{.first = 0, .count = TRIALS},
                 {.first = TRIALS / 2 + 3, .count = TRIALS / 2 - 3}};
    half s[2] = {{.first = 0, .count = 3}, {.first = 2, .count = 1}};
    double start = clock_of(CLOCK_MONOTONIC);

    for (int k = 0; k < 3; k++)
        h[0].out[k] = h[1].out[k] = s[0].out[k] = s[1].out[k] = out[k];
    if (threads == 1) {
        do_half(&h[0]);
        *trials = fmin(*trials, clock_of(CLOCK_MONOTONIC) - start);
        do_summary(&s[0]);
    } else {
        h[0].count = h[1].first;
        s[0].count = 2;
        in_two(do_half, h);
        *trials = fmin(*trials, clock_of(CLOCK_MONOTONIC) - start);
        in_two(do_summary, s);
    }
    return clock_of(CLOCK_MONOTONIC) - start;
}

/* --------------------------------------------------------------------- GSL */

static int gsl_distance(const gsl_vector *x, void *data, gsl_vector *f)
{
    const jaw_vec2 *p = data;
    const double *v = x->data;

    for (size_t i = 0; i < TOUCHES; i++) {
        double dx = p[i].x - v[0], dy = p[i].y - v[1];
        f->data[i] = sqrt(dx * dx + dy * dy) - v[2];
    }
    return GSL_SUCCESS;
}

static int gsl_slope(const gsl_vector *x, void *data, gsl_matrix *j)
{
    const jaw_vec2 *p = data;
    const double *v = x->data;

    for (size_t i = 0; i < TOUCHES; i++) {
        double dx = p[i].x - v[0], dy = p[i].y - v[1];
        double d = sqrt(dx * dx + dy * dy);
        j->data[i * j->tda] = -dx / d;
        j->data[i * j->tda + 1] = -dy / d;
        j->data[i * j->tda + 2] = -1;
    }
    return GSL_SUCCESS;
}

static double theirs(double *const out[3], size_t trials,
                     jaw_monte_summary s[3])
{
    jaw_vec2 p[TOUCHES];
    gsl_multifit_nlinear_parameters how =
        gsl_multifit_nlinear_default_parameters();
    gsl_multifit_nlinear_workspace *w = gsl_multifit_nlinear_alloc(
        gsl_multifit_nlinear_trust, &how, TOUCHES, 3);
    gsl_multifit_nlinear_fdf fdf = {.f = gsl_distance, .df = gsl_slope,
                                    .n = TOUCHES, .p = 3, .params = p};
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    double known[3] = {fitted.x, fitted.y, fitted.r};
    gsl_vector_const_view start = gsl_vector_const_view_array(known, 3);
    double from = cpu();

    for (size_t t = 0; t < trials; t++) {
        for (size_t i = 0; i < TOUCHES; i++) {
            double dx = touches[i].x - known[0], dy = touches[i].y - known[1];
            double d = sqrt(dx * dx + dy * dy);
            double more = gsl_ran_gaussian_ziggurat(rng, sigma[i]) / d;
            p[i] = (jaw_vec2){touches[i].x + more * dx,
                              touches[i].y + more * dy};
        }
        int info;
        gsl_multifit_nlinear_init(&start.vector, &fdf, w);
        gsl_multifit_nlinear_driver(20, 1e-10, 0, 0, NULL, NULL, &info, w);
        for (int k = 0; k < 3; k++)
            out[k][t] = gsl_vector_get(w->x, (size_t)k) - known[k];
    }
    summarize(out, trials, s);
    double time = cpu() - from;
    gsl_multifit_nlinear_free(w);
    gsl_rng_free(rng);
    return time;
}

static void bench_trials(void)
{
    double *out[3], *again[3], best = HUGE_VAL, one = HUGE_VAL, two = HUGE_VAL;
    double trials_one = HUGE_VAL, trials_two = HUGE_VAL;
    jaw_monte_summary s[3], g[3];
    bool same = true;

    for (int k = 0; k < 3; k++) {
        out[k] = room(TRIALS * sizeof(double));
        again[k] = room(TRIALS * sizeof(double));
    }
    double gsl = theirs(again, GSL_TRIALS, g) * TRIALS / GSL_TRIALS;
    for (int i = 0; i < 5; i++) {
        best = fmin(best, ours(out, s));
        one = fmin(one, wall(again, 1, &trials_one));
        two = fmin(two, wall(again, 2, &trials_two));
    }
    for (int k = 0; k < 3; k++)
        same = same && memcmp(out[k], again[k], TRIALS * sizeof(double)) == 0;
    printf("1e6 trials of %d touches, interval ends included\n", TOUCHES);
    printf("  GSL (%d trials, scaled) %.3f s, jawline %.4f s: %.1f times\n",
           GSL_TRIALS, gsl, best, gsl / best);
    printf("  u of x: GSL %.6f, jawline %.6f, linear %.6f\n", g[0].u, s[0].u,
           0.002 * sqrt(fitted.q[0]));
    printf("  wall time: one thread %.4f s, two %.4f s: %.2f times; of the "
           "trials alone %.2f times\n", one, two, one / two,
           trials_one / trials_two);
    must(gsl / best > 30, "below one thirtieth of GSL");
    must(same, "two threads give the same numbers as one");
    must(fabs(g[0].u / s[0].u - 1) < 0.01, "both find the same spread");
    for (int k = 0; k < 3; k++) {
        free(out[k]);
        free(again[k]);
    }
}

/* ----------------------------------------------------------------- one fit */

static void bench_reliability(void)
{
    enum { ROUNDS = 200000 };
    jaw_reliability r[TOUCHES];
    jaw_circle c;
    double resid[TOUCHES], sum = 0, fit = HUGE_VAL, rate = HUGE_VAL;

    for (int k = 0; k < 5; k++) {
        double start = cpu();
        for (int i = 0; i < ROUNDS; i++) {
            jaw_fit_circle(touches, TOUCHES, &c, resid);
            sum += c.cov[0];
        }
        double middle = cpu();
        for (int i = 0; i < ROUNDS; i++) {
            jaw_trust_circle(touches, TOUCHES, &c, false, 0.002, r);
            sum += r[i % TOUCHES].noticeable;
        }
        fit = fmin(fit, middle - start);
        rate = fmin(rate, cpu() - middle);
    }
    printf("one circle of %d touches: fit with covariance %.0f ns, reliability "
           "of all touches %.0f ns (%.3g)\n",
           TOUCHES, fit / ROUNDS * 1e9, rate / ROUNDS * 1e9, sum);
    must(rate < fit, "reliability costs less than the fit");
}

/* --------------------------------------------------------- one large setup */

enum { SHARED = 20 };

/* Circles of touches; each names two shared unknowns besides its own three. */
static jaw_adjust *make_sheet(size_t blocks, size_t per_block)
{
    jaw_adjust *a = jaw_adjust_alloc();
    jaw_random r = jaw_random_stream(5, blocks);

    for (size_t g = 0; g < SHARED; g++) {
        jaw_equation e = {.block = JAW_NO_BLOCK, .n_shared = 1, .which = {g},
                          .shared = {1}, .sigma = 0.01};
        jaw_adjust_add_shared(a, NULL);
        jaw_adjust_add(a, &e, NULL);
    }
    for (size_t b = 0; b < blocks; b++) {
        jaw_adjust_add_block(a, 3, NULL);
        for (size_t i = 0; i < per_block; i++) {
            double t = 6.28 * jaw_random_even(&r);
            jaw_equation e = {.block = b, .local = {cos(t), sin(t), 1},
                              .n_shared = 2,
                              .which = {b % SHARED, (b * 7 + 3) % SHARED},
                              .shared = {cos(2 * t), sin(3 * t)},
                              .off = 0.002 * jaw_random_normal(&r),
                              .sigma = 0.002};
            if (e.which[0] == e.which[1])
                e.n_shared = 1;
            if (jaw_adjust_add(a, &e, NULL) != JAW_OK)
                exit(EXIT_FAILURE);
        }
    }
    return a;
}

/* Solving, and then everything that is said of each touch. */
static double solve_sheet(size_t blocks, size_t per_block, double *rates)
{
    double best = HUGE_VAL, sum = 0;

    *rates = HUGE_VAL;
    for (int round = 0; round < 3; round++) {
        jaw_adjust *a = make_sheet(blocks, per_block);
        double start = cpu();
        if (jaw_adjust_solve(a, NULL, NULL) != JAW_OK)
            exit(EXIT_FAILURE);
        double middle = cpu();
        jaw_linear *f = jaw_linear_alloc(a);
        jaw_linear_local(f, 0, 0, 1);
        sum += jaw_adjust_variance(a, f) + jaw_adjust_reach(a, f, NULL);
        for (size_t i = 0; i < blocks * per_block; i++)
            sum += jaw_adjust_reliability(a, i).redundancy +
                   jaw_adjust_influence(a, i, f);
        best = fmin(best, middle - start);
        *rates = fmin(*rates, cpu() - middle);
        jaw_linear_free(f);
        jaw_adjust_free(a);
    }
    if (isnan(sum))
        exit(EXIT_FAILURE);
    return best;
}

static void bench_sheet(void)
{
    double r1, r2, r3, m1, m2;
    double few = solve_sheet(50, 20, &r1);
    double more = solve_sheet(500, 20, &r2), most = solve_sheet(5000, 20, &r3);
    double long1 = solve_sheet(50, 200, &m1), long2 = solve_sheet(50, 2000, &m2);

    printf("a sheet of 50 features, 1000 touches, 20 shared unknowns: solved in "
           "%.2f ms, all touches rated in %.2f ms\n", few * 1e3, r1 * 1e3);
    printf("  10 times the features: %.1f and %.1f times as long; 100 times: "
           "%.1f and %.1f\n", more / few, r2 / r1, most / few, r3 / r1);
    printf("  10 times the touches of each: %.1f and %.1f times; 100 times: "
           "%.1f and %.1f\n", long1 / few, m1 / r1, long2 / few, m2 / r1);
    must(few + r1 < 0.050, "below 50 ms");
    must(most / few < 200 && r3 / r1 < 200 && long2 / few < 200 &&
             m2 / r1 < 200, "linear in touches (a hundredfold below 200)");
}

int main(void)
{
    make_touches();
    bench_trials();
    bench_reliability();
    bench_sheet();
    return broken ? EXIT_FAILURE : EXIT_SUCCESS;
}
