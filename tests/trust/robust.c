/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of robust.c and esd.c: pairs that mask one another, false alarms by
 * simulation, published outliers. */
#include "trust_tests.h"

#include "tests/alloc/alloc.h"
#include "tests/feature/random.h"
#include "tests/near.h"
#include "tests/trust/table.h"

#include <jawline/trust.h>

enum { MOST = 40 };

static const double sigma = 0.002;

static void ring(random_source *r, jaw_vec2 p[], size_t n)
{
    for (size_t i = 0; i < n; i++) {
        double t = 6.283185307179586 * (double)i / (double)n;
        double d = 10 + sigma * random_normal(r);
        p[i] = (jaw_vec2){300 + d * cos(t), -200 + d * sin(t)};
    }
}

/* A chip under the tip: towards the centre. */
static void chip(jaw_vec2 *p, double by)
{
    double x = p->x - 300, y = p->y + 200, d = hypot(x, y);
    p->x -= by * x / d;
    p->y -= by * y / d;
}

/* Ten touches, two chips side by side: with the spread unknown no residual over
 * its own deviation is above Pope's limit, so testing one touch at a time finds
 * nothing (masking); the robust start names both. */
START_TEST(masked_pair)
{
    random_source r = random_start("masked_pair", 81);
    int masked = 0, found = 0;
    for (int round = 0; round < 200; round++) {
        jaw_vec2 p[10];
        jaw_circle c;
        jaw_reliability rate[10];
        bool suspect[10], single = false;
        jaw_robust out;
        ring(&r, p, 10);
        chip(&p[3], 0.05);
        chip(&p[4], 0.05);
        jaw_fit_circle(p, 10, &c, NULL);
        jaw_trust_circle(p, 10, &c, false, sigma, rate);
        for (int i = 0; i < 10; i++)
            single = single || fabs(rate[i].student) >
                                   jaw_trust_tau(JAW_TRUST_ALPHA, 7);
        masked += !single ? 1 : 0;
        ck_assert_int_eq(jaw_robust_circle(p, 10, 0, suspect, &c, &out),
                         JAW_OK);
        ck_assert_uint_eq(out.tried, 120);
        found += out.suspects == 2 && suspect[3] && suspect[4] ? 1 : 0;
        if (suspect[3] && suspect[4]) {
            near(c.x, 300, 0.01, "x");
            near(c.r, 10, 0.01, "r");
            ck_assert(out.spread < 3 * sigma);
        }
    }
    ck_assert_int_eq(masked, 200);
    ck_assert_msg(found >= 190, "%d of 200", found);
}
END_TEST

/* Share of sets in which something is suspected without cause. */
static double false_alarms(random_source *r, size_t n, double stated)
{
    enum { SETS = 4000 };
    int sets = 0;
    for (int i = 0; i < SETS; i++) {
        jaw_vec2 p[MOST];
        bool suspect[MOST];
        jaw_circle c;
        jaw_robust out;
        ring(r, p, n);
        ck_assert_int_eq(jaw_robust_circle(p, n, stated, suspect, &c, &out),
                         JAW_OK);
        size_t count = 0;
        for (size_t k = 0; k < n; k++)
            count += suspect[k] ? 1 : 0;
        ck_assert_uint_eq(count, out.suspects);
        sets += count > 0 ? 1 : 0;
    }
    return (double)sets / SETS;
}

/* The figures of trust.h; three standard deviations of 4000 sets are 0.5 % and
 * 0.8 %. */
START_TEST(false_alarms_as_stated)
{
    static const size_t n[] = {5, 6, 8, 12};
    random_source r = random_start("false_alarms", 82 + (uint64_t)_i);
    double known = false_alarms(&r, n[_i], sigma);
    double unknown = false_alarms(&r, n[_i], 0);
    printf("%zu touches: %.4f of sets with sigma, %.4f without\n", n[_i],
           known, unknown);
    near(known, 0.01, 0.005, "with sigma");
    ck_assert_msg(unknown > 0.003 && unknown < 0.038, "%g", unknown);
}
END_TEST

/* A fifth of many touches, and lines and planes with clusters. */
START_TEST(many_bad)
{
    random_source r = random_start("many_bad", 87);
    for (int round = 0; round < 20; round++) {
        jaw_vec2 p[MOST], q[MOST];
        jaw_vec3 s[MOST];
        bool suspect[MOST];
        jaw_circle c;
        jaw_line l;
        jaw_plane f;
        jaw_robust out;
        ring(&r, p, MOST);
        for (int i = 0; i < MOST; i++) {
            bool bad = i % 5 == 0;
            double x = random_between(&r, -30, 30), y = random_between(&r, 0, 9);
            if (bad)
                chip(&p[i], 0.03);
            double off = sigma * random_normal(&r) + (bad ? 0.04 : 0);
            q[i] = (jaw_vec2){x, 0.1 * x + off};
            s[i] = (jaw_vec3){x, y, 0.2 * x - 0.1 * y + off};
        }
        for (int kind = 0; kind < 3; kind++) {
            ck_assert_int_eq(
                kind == 0 ? jaw_robust_circle(p, MOST, sigma, suspect, &c, &out)
                : kind == 1 ? jaw_robust_line(q, MOST, sigma, suspect, &l, &out)
                            : jaw_robust_plane(s, MOST, sigma, suspect, &f,
                                               &out), JAW_OK);
            for (int i = 0; i < MOST; i += 5)
                ck_assert(suspect[i]);
            ck_assert_uint_le(out.suspects, 9);
            near(out.scale / sigma, 1, 0.7, "scale");
            near(out.spread / sigma, 1, 0.45, "spread");
        }
        near(c.r, 10, 0.002, "r");
        near(l.theta, atan(0.1), 2e-4, "theta");
    }
}
END_TEST

/* The same answer every time, with drawn sets; no suspects: the plain fit. */
START_TEST(same_again)
{
    random_source r = random_start("same_again", 88);
    jaw_vec2 p[MOST];
    bool a[MOST], b[MOST];
    jaw_circle c, d;
    jaw_robust one, two;
    ring(&r, p, MOST); /* 9880 sets: some are drawn */
    jaw_robust_circle(p, MOST, 0, a, &c, &one);
    jaw_robust_circle(p, MOST, 0, b, &d, &two);
    ck_assert(c.x == d.x && c.r == d.r && one.scale == two.scale);
    jaw_robust_circle(p, MOST, 1, a, &c, &one);
    jaw_fit_circle(p, MOST, &d, NULL);
    ck_assert_uint_eq(one.suspects, 0);
    near(c.x, d.x, 1e-12, "x");
    near(c.r, d.r, 1e-12, "r");
}
END_TEST

START_TEST(robust_odd)
{
    jaw_vec2 p[6] = {{0, 0}, {1, 0}, {2, 0}, {3, 0}, {4, 0}, {5, 0}};
    bool suspect[6] = {true, true, true, true, true, true};
    jaw_circle c;
    jaw_line l;
    jaw_robust out;
    ck_assert_int_eq(jaw_robust_circle(p, 6, 0, suspect, &c, &out), JAW_ERANK);
    ck_assert(isnan(c.x) && isnan(out.scale) && out.suspects == 0);
    ck_assert(!suspect[0] && !suspect[5]);
    ck_assert_int_eq(jaw_robust_circle(p, 2, 0, suspect, &c, &out), JAW_EFEW);
    ck_assert(isnan(c.r));
    ck_assert_int_eq(jaw_robust_line(p, 1, 0, suspect, &l, &out), JAW_EFEW);
    ck_assert(isnan(l.theta));
    ck_assert_int_eq(jaw_robust_line(p, 6, -1, suspect, &l, &out), JAW_EDOMAIN);
    ck_assert_int_eq(jaw_robust_line(p, 6, NAN, suspect, &l, &out),
                     JAW_EDOMAIN);
    ck_assert_int_eq(jaw_robust_line(p, 2, 0, suspect, &l, &out), JAW_OK);
    ck_assert(isnan(out.spread) && out.suspects == 0);
    p[3].y = 0.5; /* exact but for one */
    ck_assert_int_eq(jaw_robust_line(p, 6, 1e-3, suspect, &l, &out), JAW_OK);
    ck_assert(suspect[3] && out.suspects == 1 && l.theta == 0);
    p[2].x = NAN;
    ck_assert_int_eq(jaw_robust_line(p, 6, 0, suspect, &l, &out),
                     JAW_ENOTFINITE);
}
END_TEST

START_TEST(robust_without_memory)
{
    if (!alloc_works()) {
        puts("left out: robust fits without memory (a tool owns malloc)");
        return;
    }
    random_source r = random_start("robust_without_memory", 89);
    jaw_vec2 p[8];
    bool suspect[8];
    jaw_circle c;
    jaw_robust out;
    ring(&r, p, 8);
    for (long k = 0;; k++) {
        alloc_fail_after(k);
        jaw_status status = jaw_robust_circle(p, 8, 0, suspect, &c, &out);
        bool failed = alloc_failed();
        long live = alloc_live();
        alloc_fail_never();
        ck_assert_int_eq(live, 0);
        ck_assert_int_eq(status, failed ? JAW_ENOMEM : JAW_OK);
        ck_assert(failed == isnan(c.x));
        if (!failed) {
            ck_assert_int_eq(k, 4);
            break;
        }
    }
}
END_TEST

TCase *robust_case(void)
{
    TCase *tc = tcase_create("robust");
    tcase_add_test(tc, masked_pair);
    tcase_add_loop_test(tc, false_alarms_as_stated, 0, 4);
    tcase_add_test(tc, many_bad);
    tcase_add_test(tc, same_again);
    tcase_add_test(tc, robust_odd);
    tcase_add_test(tc, robust_without_memory);
    return tc;
}

/* ---------------------------------------------------- repeats of one thing */

static double y[100];

/* Tietjen & Moore 1972: one-sided 0.05 is two-sided 0.10.  The statistic is the
 * largest studentised residual of a mean, and Pope's tau is its limit for one
 * reading. */
START_TEST(grubbs)
{
    const char *name = "outlier_grubbs_uranium";
    size_t n = table_read(name, 1, y, 100), bad;
    jaw_esd found[1];
    ck_assert_int_eq(jaw_trust_esd(y, n, 1, 0.10, found, &bad), JAW_OK);
    ck_assert_uint_eq(bad, 1);
    ck_assert_uint_eq(found[0].index + 1, (size_t)table_value(name, "index"));
    near(found[0].stat, table_value(name, "G"), 1e-13, "G");
    near(found[0].critical, table_value(name, "crit_one_sided_0.05"), 1e-11,
         "critical");
    jaw_trust_esd(y, n, 1, 0.05, found, &bad);
    near(found[0].critical, table_value(name, "crit_two_sided_0.05"), 1e-11,
         "two-sided 0.05");
    jaw_trust_esd(y, n, 1, 0.01, found, &bad);
    near(found[0].critical, table_value(name, "crit_two_sided_0.01"), 1e-11,
         "two-sided 0.01");

    jaw_adjust *a = jaw_adjust_alloc();
    jaw_adjust_add_block(a, 1, NULL);
    for (size_t i = 0; i < n; i++) {
        jaw_equation e = {.block = 0, .local = {1}, .off = y[i], .sigma = 1};
        jaw_adjust_add(a, &e, NULL);
    }
    ck_assert_int_eq(jaw_adjust_solve(a, NULL, NULL), JAW_OK);
    size_t worst = jaw_adjust_worst(a, NULL);
    ck_assert_uint_eq(worst, found[0].index);
    double root = sqrt(1 - 1 / (double)n); /* their deviation is not its own */
    near(jaw_adjust_reliability(a, worst).student * root, found[0].stat, 1e-12,
         "studentised residual");
    near(jaw_trust_tau(0.05 / (double)n, (double)n - 1) * root,
         table_value(name, "crit_two_sided_0.05"), 1e-11, "tau");
    jaw_adjust_free(a);
}
END_TEST

/* The first two statistics are below their limits, the third is above. */
START_TEST(rosner)
{
    const char *name = "outlier_rosner1983";
    size_t n = table_read(name, 1, y, 100), bad;
    jaw_esd found[10];
    ck_assert_uint_eq(n, 54);
    ck_assert_int_eq(jaw_trust_esd(y, n, 10, 0.05, found, &bad), JAW_OK);
    ck_assert_uint_eq(bad, (size_t)table_value(name, "outliers"));
    for (int i = 1; i <= 10; i++) {
        char quantity[16];
        snprintf(quantity, sizeof quantity, "R%d", i);
        near(found[i - 1].stat, table_value(name, quantity), 1e-13, quantity);
        snprintf(quantity, sizeof quantity, "lambda%d", i);
        near(found[i - 1].critical, table_value(name, quantity), 1e-11,
             quantity);
    }
    ck_assert(found[0].stat < found[0].critical);
    jaw_trust_esd(y, n, 1, 0.05, found, &bad);
    ck_assert_uint_eq(bad, 0); /* one at a time: masked */
}
END_TEST

START_TEST(esd_odd)
{
    double same[5] = {2, 2, 2, 2, 2};
    jaw_esd found[5];
    size_t bad = 9;
    ck_assert_int_eq(jaw_trust_esd(same, 5, 3, 0.05, found, &bad), JAW_OK);
    ck_assert_uint_eq(bad, 0);
    ck_assert_int_eq(jaw_trust_esd(same, 5, 4, 0.05, found, &bad), JAW_EFEW);
    ck_assert_int_eq(jaw_trust_esd(same, 2, 1, 0.05, found, &bad), JAW_EFEW);
    ck_assert_int_eq(jaw_trust_esd(same, 5, 1, 1, found, &bad), JAW_EDOMAIN);
    ck_assert_int_eq(jaw_trust_esd(same, 5, 1, NAN, found, &bad), JAW_EDOMAIN);
    same[3] = INFINITY;
    ck_assert_int_eq(jaw_trust_esd(same, 5, 1, 0.05, found, &bad),
                     JAW_ENOTFINITE);
}
END_TEST

TCase *esd_case(void)
{
    TCase *tc = tcase_create("esd");
    tcase_add_test(tc, grubbs);
    tcase_add_test(tc, rosner);
    tcase_add_test(tc, esd_odd);
    return tc;
}
