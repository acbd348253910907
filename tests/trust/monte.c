/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of monte.c and tails.c: JCGM 101's examples and closed forms; summaries
 * against plain sorting; settling; comparison. */
#include "trust_tests.h"

#include "tests/alloc/alloc.h"
#include "tests/feature/random.h"
#include "tests/near.h"
#include "tests/trust/table.h"

#include <jawline/trust.h>

#include <stdlib.h>

/* ----------------------------------------------------------------- summary */

static int rising(const void *a, const void *b)
{
    const double *x = a, *y = b;
    return (*x > *y) - (*x < *y);
}

/* JCGM 101, 7.7.2 to the letter, on sorted numbers. */
static void by_the_letter(double v[], size_t m, double p, double out[4])
{
    qsort(v, m, sizeof *v, rising);
    double pm = p * (double)m;
    size_t q = fabs(pm - round(pm)) < 1e-9 ? (size_t)round(pm)
                                           : (size_t)(pm + 0.5);
    size_t r = (m - q) % 2 == 0 ? (m - q) / 2 : (m - q + 1) / 2, best = 1;
    out[0] = v[r - 1];
    out[1] = v[r + q - 1];
    for (size_t i = 1; i <= m - q; i++)
        if (v[i + q - 1] - v[i - 1] < v[best + q - 1] - v[best - 1])
            best = i;
    out[2] = v[best - 1];
    out[3] = v[best + q - 1];
}

static double odd_number(random_source *r, int kind)
{
    switch (kind) {
    case 0: return random_normal(r);
    case 1: return floor(3 * random_normal(r));         /* many alike */
    case 2: return tan(3.14 * random_between(r, -.5, .5)); /* far ones */
    case 3: return random_below(r, 50) ? 1 : 1e300 * random_normal(r);
    case 4: return 7;
    case 5: return 1e-310 * random_normal(r);
    default: return random_between(r, -1, 1) + 1e9;
    }
}

START_TEST(summary_as_sorted)
{
    random_source r = random_start("summary_as_sorted", 71 + (uint64_t)_i);
    static const double ps[] = {0.95, 0.99, 0.5, 0.1, 0.9545};
    static double v[20000];
    for (int round = 0; round < 60; round++) {
        size_t n = 50 + random_below(&r, round < 50 ? 400 : 19000);
        double p = ps[random_below(&r, COUNT(ps))], want[4];
        for (size_t i = 0; i < n; i++)
            v[i] = odd_number(&r, _i);
        jaw_monte_summary s;
        jaw_status status = jaw_monte_summarize(v, n, p, &s);
        if (status == JAW_EFEW) {
            ck_assert((double)n * (1 - p) <= 0.5);
            continue;
        }
        ck_assert_int_eq(status, JAW_OK);
        by_the_letter(v, n, p, want);
        ck_assert(s.low == want[0] && s.high == want[1]);
        ck_assert(s.short_low == want[2] && s.short_high == want[3]);
        ck_assert(s.n == n && s.failed == 0);
    }
}
END_TEST

START_TEST(summary_odd)
{
    double v[8] = {1, 2, NAN, 3, INFINITY, 4, -INFINITY, 5};
    jaw_monte_summary s;
    ck_assert_int_eq(jaw_monte_summarize(v, 8, 0.6, &s), JAW_OK);
    ck_assert(s.n == 5 && s.failed == 3 && s.mean == 3);
    near(s.u, sqrt(2.5), 1e-15, "u");
    ck_assert(s.low == 1 && s.high == 4);
    ck_assert_int_eq(jaw_monte_summarize(v, 8, 0.99, &s), JAW_EFEW);
    ck_assert(isnan(s.mean) && isnan(s.low) && s.failed == 3);
    ck_assert_int_eq(jaw_monte_summarize(v, 1, 0.5, &s), JAW_EFEW);
    ck_assert_int_eq(jaw_monte_summarize(v, 0, 0.5, &s), JAW_EFEW);
    ck_assert_int_eq(jaw_monte_summarize(v + 2, 1, 0.5, &s), JAW_EFEW);
    static const double bad[] = {0, 1, -1, NAN};
    for (int i = 0; i < COUNT(bad); i++)
        ck_assert_int_eq(jaw_monte_summarize(v, 8, bad[i], &s), JAW_EDOMAIN);
}
END_TEST

/* ------------------------------------------------------------- propagation */

static jaw_status four_normal(void *context, jaw_random *r, double y[])
{
    (void)context;
    y[0] = 0;
    for (int i = 0; i < 4; i++)
        y[0] += jaw_random_normal(r);
    return JAW_OK;
}

static jaw_status four_even(void *context, jaw_random *r, double y[])
{
    (void)context;
    y[0] = 0;
    for (int i = 0; i < 4; i++)
        y[0] += sqrt(12) * (jaw_random_even(r) - 0.5);
    return JAW_OK;
}

/* JCGM 101:2008, 9.4 (comparison loss of a power meter): x1^2 + x2^2 with both
 * known to u about 0, where linear propagation gives an uncertainty of 0. */
static jaw_status sum_of_squares(void *context, jaw_random *r, double y[])
{
    double u = *(double *)context;
    double a = u * jaw_random_normal(r), b = u * jaw_random_normal(r);
    y[0] = a * a + b * b;
    return JAW_OK;
}

/* EA-4/02, S10: two rectangles, half widths 50 and 25. */
static jaw_status trapezoid(void *context, jaw_random *r, double y[])
{
    (void)context;
    y[0] = 100 * (jaw_random_even(r) - 0.5) + 50 * (jaw_random_even(r) - 0.5);
    return JAW_OK;
}

static void run(jaw_monte_trial t, size_t n, jaw_monte_summary *s)
{
    double *v = malloc(n * sizeof *v), *out[1] = {v};
    size_t failed;
    ck_assert_int_eq(jaw_monte_each(&t, 20080901, 0, n, out, &failed), JAW_OK);
    ck_assert_uint_eq(failed, 0);
    ck_assert_int_eq(jaw_monte_summarize(v, n, 0.95, s), JAW_OK);
    free(v);
}

/* JCGM 101, 9.2.2 and 9.2.3, a million trials.  An end of a 95 % interval has
 * standard deviation sqrt(p q / M) / density: 0.0027 u and 0.0024 u here; four
 * of them are allowed. */
START_TEST(jcgm101_additive)
{
    const char *name = "unc_jcgm101_additive";
    jaw_monte_summary s;
    double normal = table_value(name, "half_width_95_normal");
    double even = table_value(name, "half_width_95_rectangular");
    run((jaw_monte_trial){four_normal, NULL, 1}, 1000000, &s);
    near(s.mean, 0, 0.008, "mean");
    near(s.u, table_value(name, "u_y"), 0.006, "u");
    near(s.low, -normal, 0.022, "low");
    near(s.high, normal, 0.022, "high");
    ck_assert(jaw_monte_agrees(&s, 0, normal, 1));
    run((jaw_monte_trial){four_even, NULL, 1}, 1000000, &s);
    near(s.u, 2, 0.006, "u");
    near(s.low, -even, 0.02, "low");
    near(s.high, even, 0.02, "high");
    near(s.short_high - s.short_low, 2 * even, 0.04, "shortest");
    /* 9.2.3.4: 3.92 against 3.88 is told apart with two digits, not with one */
    ck_assert(jaw_monte_agrees(&s, 0, normal, 1));
    ck_assert(jaw_monte_agrees(&s, 0, normal, 2) ==
              (fabs(normal - s.high) <= 0.05 && fabs(normal + s.low) <= 0.05));
}
END_TEST

/* The sum of two squares is u^2 times chi-square with 2: mean 2 u^2, deviation
 * 2 u^2, and the shortest interval starts at 0 and ends at -2 u^2 ln 0.05
 * (JCGM 101, 9.4.2.2: 50e-6, 50e-6 and 150e-6 for u = 0.005; from memory). */
START_TEST(jcgm101_mismatch)
{
    double u = 0.005;
    jaw_monte_summary s;
    run((jaw_monte_trial){sum_of_squares, &u, 1}, 1000000, &s);
    near(s.mean, 50e-6, 0.25e-6, "mean");
    near(s.u, 50e-6, 0.5e-6, "u");
    near(s.short_low, 0, 1e-7, "from 0");
    near(s.short_high, -2 * u * u * log(0.05), 1e-6, "to 150e-6");
    near(s.low, -2 * u * u * log(0.975), 5e-8, "symmetric, low");
    near(s.high, -2 * u * u * log(0.025), 1.5e-6, "symmetric, high");
    ck_assert(!jaw_monte_agrees(&s, 0, 1.96 * 0, 1)); /* linear says 0 +- 0 */
}
END_TEST

START_TEST(ea_s10)
{
    jaw_monte_summary s;
    run((jaw_monte_trial){trapezoid, NULL, 1}, 1000000, &s);
    double k = table_value("unc_ea402_s10", "k95");
    near(s.u, 1e3 * table_value("unc_ea402_s10", "u_mm"), 0.07, "u");
    near((s.high - s.low) / 2 / s.u, k, 0.006, "k");
    near(k, 1.83, 0.5e-2, "k as printed");
}
END_TEST

/* JCGM 101, 7.9.2, examples 1 and 2. */
START_TEST(tolerance)
{
    near(jaw_monte_tolerance(0.00032, 2), 5e-6, 1e-20, "0.32 mg: 0.005 mg");
    near(jaw_monte_tolerance(0.35, 2), 0.005, 1e-17, "0.35");
    near(jaw_monte_tolerance(2, 1), 0.5, 1e-16, "2, one digit");
    near(jaw_monte_tolerance(0.0996, 2), 0.005, 1e-17, "rounds up to 0.10");
    near(jaw_monte_tolerance(1e-7, 1), 0.5e-7, 1e-22, "a power of ten");
    ck_assert(isnan(jaw_monte_tolerance(0, 1)));
    ck_assert(isnan(jaw_monte_tolerance(-1, 1)));
    ck_assert(isnan(jaw_monte_tolerance(NAN, 1)));
    ck_assert(isnan(jaw_monte_tolerance(INFINITY, 1)));
    ck_assert(isnan(jaw_monte_tolerance(1, 0)));
    ck_assert(isnan(jaw_monte_tolerance(1, 16)));
}
END_TEST

/* ---------------------------------------------------------------- settling */

static jaw_status scaled(void *context, jaw_random *r, double y[])
{
    (void)context;
    y[0] = jaw_random_normal(r);
    y[1] = 1000 + 0.01 * jaw_random_normal(r);
    y[2] = 5; /* known exactly */
    return JAW_OK;
}

START_TEST(settles)
{
    jaw_monte_trial t = {scaled, NULL, 3};
    jaw_monte_model model = {jaw_monte_each, &t, 3};
    jaw_monte_plan plan = {.seed = 3, .most = 3000000,
                           .p = 0.95, .digits = 2, .share = 1};
    jaw_monte_summary s[3], one[3];
    size_t trials, fewer;
    bool settled;
    ck_assert_int_eq(jaw_monte_settle(&model, &plan, s, &trials,
                                      &settled), JAW_OK);
    ck_assert(settled && trials % 10000 == 0 && trials > 10000);
    ck_assert(s[0].n == trials);
    /* y[0]: u = 1.0, tolerance 0.05; the ends: 4 sigma of what is left */
    near(s[0].low, -1.959964, 0.05 * 2, "low");
    near(s[1].mean, 1000, 0.0005 * 2, "mean");
    ck_assert(s[2].u == 0 && s[2].low == 5 && s[2].high == 5);
    plan.digits = 1;
    jaw_monte_settle(&model, &plan, one, &fewer, &settled);
    ck_assert(settled && fewer <= trials);
    plan.share = 0.2;
    size_t more;
    jaw_monte_settle(&model, &plan, one, &more, &settled);
    ck_assert(settled && more >= fewer);
    plan.digits = 4; /* out of reach */
    ck_assert_int_eq(jaw_monte_settle(&model, &plan, one, &more,
                                      &settled), JAW_OK);
    ck_assert(!settled && more == plan.most && one[0].n == plan.most);
}
END_TEST

static jaw_status refuses(void *context, jaw_random *r, double y[])
{
    (void)context;
    y[0] = jaw_random_normal(r);
    return y[0] > 2 ? JAW_ERANK : JAW_OK;
}

static jaw_status breaks(void *context, unsigned long long seed, size_t first,
                         size_t count, double *const out[], size_t *failed)
{
    (void)context, (void)seed, (void)first, (void)count, (void)out;
    *failed = 0;
    return JAW_ENOCONV;
}

START_TEST(settle_odd)
{
    jaw_monte_trial t = {refuses, NULL, 1};
    jaw_monte_model model = {jaw_monte_each, &t, 1}, broken = {breaks, NULL, 1};
    jaw_monte_plan good = {.seed = 3, .most = 200000, .p = 0.95,
                           .digits = 1, .share = 1}, plan = good;
    jaw_monte_summary s;
    size_t trials;
    bool settled;
    ck_assert_int_eq(jaw_monte_settle(&model, &plan, &s, &trials,
                                      &settled), JAW_OK);
    ck_assert(s.failed > 0 && s.failed + s.n == trials);
    near((double)s.failed / (double)trials, 0.02275, 0.004, "refused");
    ck_assert_int_eq(jaw_monte_settle(&broken, &plan, &s, &trials,
                                      &settled), JAW_ENOCONV);
    ck_assert(!settled && isnan(s.mean));
    plan.most = 9999;
    ck_assert_int_eq(jaw_monte_settle(&model, &plan, &s, &trials,
                                      &settled), JAW_EFEW);
    ck_assert(isnan(s.mean) && trials == 0);
    plan = good, plan.p = 1;
    ck_assert_int_eq(jaw_monte_settle(&model, &plan, &s, &trials,
                                      &settled), JAW_EDOMAIN);
    plan = good, plan.digits = 0;
    ck_assert_int_eq(jaw_monte_settle(&model, &plan, &s, &trials,
                                      &settled), JAW_EDOMAIN);
    plan = good, plan.share = 0;
    ck_assert_int_eq(jaw_monte_settle(&model, &plan, &s, &trials,
                                      &settled), JAW_EDOMAIN);
    plan = good, model.n_values = 0;
    ck_assert_int_eq(jaw_monte_settle(&model, &plan, &s, &trials,
                                      &settled), JAW_EDOMAIN);
    t.n_values = JAW_MONTE_VALUES_MAX + 1;
    double *out[1] = {&s.mean};
    ck_assert_int_eq(jaw_monte_each(&t, 1, 0, 1, out, &trials), JAW_EDOMAIN);
}
END_TEST

START_TEST(without_memory)
{
    if (!alloc_works()) {
        puts("left out: trials without memory (a tool owns malloc)");
        return;
    }
    jaw_vec2 p[4] = {{1, 0}, {0, 1}, {-1, 0}, {0, -1.001}};
    double sigma[4] = {0.001, 0.001, 0.001, 0.001};
    jaw_monte_touches t = {p, 4, sigma};
    jaw_monte_model model = {jaw_monte_circle, &t, 3};
    jaw_monte_plan plan = {.seed = 3, .most = 20000, .p = 0.95,
                           .digits = 1, .share = 1};
    jaw_monte_summary s[3];
    size_t trials;
    bool settled;
    for (long k = 0;; k++) {
        alloc_fail_after(k);
        jaw_status status = jaw_monte_settle(&model, &plan, s,
                                             &trials, &settled);
        bool failed = alloc_failed();
        long live = alloc_live();
        alloc_fail_never();
        ck_assert_int_eq(live, 0);
        if (!failed) {
            ck_assert_int_eq(status, JAW_OK);
            ck_assert_int_gt(k, 10);
            break;
        }
        ck_assert_int_eq(status, JAW_ENOMEM);
        ck_assert(isnan(s[0].mean) && isnan(s[2].high) && !settled);
    }
}
END_TEST

TCase *monte_case(void)
{
    TCase *tc = tcase_create("monte");
    tcase_add_loop_test(tc, summary_as_sorted, 0, 7);
    tcase_add_test(tc, summary_odd);
    tcase_add_test(tc, jcgm101_additive);
    tcase_add_test(tc, jcgm101_mismatch);
    tcase_add_test(tc, ea_s10);
    tcase_add_test(tc, tolerance);
    tcase_add_test(tc, settles);
    tcase_add_test(tc, settle_odd);
    tcase_add_test(tc, without_memory);
    return tc;
}
