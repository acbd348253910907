/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Circle: published answers, the stress set, statuses. */
#include "fit_tests.h"

#include "src/fit/passes.h"

static const struct {
    const char *file;
    unsigned flags;
} files[] = {
    /* Gander, Golub & Strebel, BIT 34 (1994) 558-578; answers to 7 digits:
     * programs to Chernov, Circular and Linear Regression (2010) */
    {"circle_ggs1994", 0},
    /* Pratt, SIGGRAPH 1987; orthogonal answer computed by this project */
    {"circle_pratt1987", JAW_WEAK},
    /* SciPy Cookbook (2011) */
    {"circle_scipy_full", 0},
    /* computed by this project with 50 digits, tests/data/README.md */
    {"stress/circle_arc5deg", JAW_WEAK},
    {"stress/circle_arc5deg_noisy", JAW_WEAK},
    {"stress/circle_arc1deg", JAW_WEAK},
    {"stress/circle_arc20deg", JAW_WEAK},
    {"stress/circle_far_arc60", 0},
    {"stress/circle_far_full", 0},
    {"stress/circle_far_1e6", 0},
    {"stress/circle_tiny", 0},
    {"stress/circle_huge", JAW_WEAK},
    {"stress/circle_exact_4pt", 0},
    {"stress/circle_zero_residual", 0},
    {"stress/circle_3pt_nearly_collinear", JAW_WEAK | JAW_NO_CHECK},
    {"stress/circle_outlier", 0},
    {"stress/circle_repeated_points", 0},
};

static double largest_q(const jaw_circle *c)
{
    return fmax(c->q[0], fmax(c->q[3], c->q[5]));
}

static void same_cov(const data *d, const jaw_circle *c, double share)
{
    static const char *const name[] = {"cov_xc_xc", "cov_xc_yc", "cov_xc_r",
                                       "cov_yc_yc", "cov_yc_r",  "cov_r_r"};
    static const int row[] = {0, 0, 0, 3, 3, 5}, column[] = {0, 3, 5, 3, 5, 5};
    for (int i = 0; i < 6; i++) {
        double want = data_want(d, NULL, name[i]);
        if (!isnan(want))
            near(c->cov[i], want,
                 share * sqrt(c->cov[row[i]] * c->cov[column[i]]), name[i]);
    }
}

START_TEST(reference)
{
    data d;
    jaw_vec2 p[ROWS];
    jaw_circle c;
    double resid[ROWS], most = -HUGE_VAL, least = HUGE_VAL;
    const char *file = files[_i].file;
    data_read(&d, file);
    size_t n = data_points(&d, NULL, "x", "y", p);
    ck_assert_int_eq(jaw_fit_circle(p, n, &c, resid), JAW_OK);
    double root = sqrt((double)n), move = moved_by(p, n, FACTOR);
    double allow = move * root * sqrt(largest_q(&c)) +
                   EPS * (fabs(c.x) + fabs(c.y) + c.r);
    near(c.x, data_want(&d, NULL, "xc"), allow, file);
    near(c.y, data_want(&d, NULL, "yc"), allow, file);
    near(c.r, data_want(&d, NULL, "r"), allow, file);
    ck_assert_uint_eq(c.flags, files[_i].flags);
    ck_assert_int_eq(c.dof, (int)n - 3);
    if (n == 3) {
        data_free(&d);
        return;
    }
    double ssr = data_want(&d, NULL, "ssr");
    near(sqrt(c.ssr), sqrt(ssr), root * move, file);
    near(c.s, sqrt(ssr / (double)(n - 3)), root * move, file);
    near(c.rms, sqrt(ssr / (double)n), move, file);
    /* the residuals' digits bound those of s, and those of the angles q */
    if (ssr > 0)
        same_cov(&d, &c, 4 * root * move / sqrt(ssr) +
                             8 * move / extent_of(p, n) *
                                 sqrt((double)n * largest_q(&c)));
    double resid_move = moved_by(p, n, FACTOR_RESID);
    for (size_t i = 0; i < n; i++) {
        char name[32];
        snprintf(name, sizeof name, "res_%zu", i + 1);
        double want = data_want(&d, NULL, name);
        if (!isnan(want))
            near(resid[i], want, resid_move, name);
        most = fmax(most, resid[i]);
        least = fmin(least, resid[i]);
    }
    near(most, data_want(&d, NULL, "res_max"), resid_move, "res_max");
    near(least, data_want(&d, NULL, "res_min"), resid_move, "res_min");
    data_free(&d);
}
END_TEST

/* Of Pratt's arc only other fits' answers were printed. */
static const char *const printed_files[] = {"circle_ggs1994",
                                            "circle_scipy_full"};

START_TEST(printed)
{
    data d;
    jaw_vec2 p[ROWS];
    jaw_circle c;
    double want, half;
    const char *file = printed_files[_i];
    data_read(&d, file);
    size_t n = data_points(&d, NULL, "x", "y", p);
    ck_assert_int_eq(jaw_fit_circle(p, n, &c, NULL), JAW_OK);
    ck_assert(data_published(&d, "xc", &want, &half));
    near(c.x, want, half, file);
    ck_assert(data_published(&d, "yc", &want, &half));
    near(c.y, want, half, file);
    ck_assert(data_published(&d, "r", &want, &half));
    near(c.r, want, half, file);
    if (data_published(&d, "rms_n", &want, &half))
        near(c.rms, want, half, file);
    data_free(&d);
}
END_TEST

static size_t random_arc(jaw_vec2 p[], double *r)
{
    size_t n = 4 + (size_t)random_even(0, 12);
    double mid = random_even(-3, 3);
    double half = random_even(0, 1) < 0.5 ? 3.1 : random_size(-1.5, 0.3);
    *r = random_size(-1, 2);
    double rough = random_size(-8, -3) * fmin(half * half, 1) * *r;
    for (size_t i = 0; i < n; i++) {
        double t = mid + half * (2 * ((double)i + random_even(-0.3, 0.3)) /
                                     (double)(n - 1) - 1);
        double d = *r + rough * random_normal();
        p[i] = (jaw_vec2){3 + d * cos(t), -8 + d * sin(t)};
    }
    return n;
}

/* The circle turns, moves and grows with the touches, whatever their order. */
START_TEST(follows)
{
    random_start("circle follows");
    for (int k = 0; k < 4000; k++) {
        jaw_vec2 p[16], q[16];
        jaw_circle c, e;
        double r;
        size_t n = random_arc(p, &r);
        ck_assert_int_eq(jaw_fit_circle(p, n, &c, NULL), JAW_OK);
        jaw_frame f = jaw_frame_make(
            (jaw_vec2){random_even(-99, 99), random_even(-99, 99)},
            random_even(-3, 3));
        for (size_t i = 0; i < n; i++) {
            q[n - 1 - i] = jaw_machine_from_work(&f, p[i]);
            q[n - 1 - i].x *= 25.4;
            q[n - 1 - i].y *= 25.4;
        }
        ck_assert_int_eq(jaw_fit_circle(q, n, &e, NULL), JAW_OK);
        jaw_vec2 want = jaw_machine_from_work(&f, (jaw_vec2){c.x, c.y});
        double root = sqrt((double)n), move = moved_by(q, n, 2 * FACTOR);
        double allow = 2 * move * root * sqrt(largest_q(&e)) +
                       4 * EPS * (fabs(e.x) + fabs(e.y) + e.r);
        near(e.x, 25.4 * want.x, allow, "x");
        near(e.y, 25.4 * want.y, allow, "y");
        near(e.r, 25.4 * c.r, allow, "r");
        near(sqrt(e.ssr), 25.4 * sqrt(c.ssr), root * move, "ssr");
        near(e.q[5], c.q[5], 1e-6 * c.q[5], "q of r");
        near(e.q[0] + e.q[3], c.q[0] + c.q[3], 1e-6 * (c.q[0] + c.q[3]),
             "q of the centre");
        ck_assert(e.flags == c.flags);
    }
}
END_TEST

START_TEST(any_scale)
{
    static const int power[] = {-1000, -500, -200, 200, 500, 900};
    static const jaw_vec2 wide[] = {{1, 7}, {2, 6}, {5, 8},
                                    {7, 7}, {9, 5}, {3, 7}};
    static const jaw_vec2 flat[] = {{-3, 0.1}, {-2, 0.5}, {-1, 0.7},
                                    {1, 0.8}, {2, 0.4}, {3, 0}};
    for (int form = 0; form < 2; form++) {
        const jaw_vec2 *p = form ? flat : wide;
        jaw_vec2 q[6];
        jaw_circle one, c;
        double r1[6], r2[6];
        ck_assert_int_eq(jaw_fit_circle(p, 6, &one, r1), JAW_OK);
        for (int k = 0; k < COUNT(power); k++) {
            for (int i = 0; i < 6; i++)
                q[i] = (jaw_vec2){ldexp(p[i].x, power[k]),
                                  ldexp(p[i].y, power[k])};
            ck_assert_int_eq(jaw_fit_circle(q, 6, &c, r2), JAW_OK);
            near(c.x, ldexp(one.x, power[k]), 32 * EPS * c.r, "x");
            near(c.y, ldexp(one.y, power[k]), 32 * EPS * c.r, "y");
            near(c.r, ldexp(one.r, power[k]), 32 * EPS * c.r, "r");
            near(c.s, ldexp(one.s, power[k]), 64 * EPS * c.s, "s");
            near(c.q[5], one.q[5], 64 * EPS * one.q[5], "q");
            for (int i = 0; i < 6; i++)
                near(r2[i], ldexp(r1[i], power[k]), 32 * EPS * c.r, "resid");
        }
    }
}
END_TEST

START_TEST(three_touches)
{
    const jaw_vec2 p[] = {{5, 0}, {0, 5}, {-5, 0}};
    jaw_circle c;
    double resid[3];
    ck_assert_int_eq(jaw_fit_circle(p, 3, &c, resid), JAW_OK);
    near(c.x, 0, 4 * EPS, "x");
    near(c.y, 0, 4 * EPS, "y");
    near(c.r, 5, 8 * EPS, "r");
    ck_assert_int_eq(c.dof, 0);
    ck_assert_uint_eq(c.flags, JAW_NO_CHECK);
    ck_assert(isnan(c.rms) && isnan(c.s));
    nan_all(c.cov, 6, "cov");
    /* (J^T J)^-1 by hand: J rows -(1 0 1), -(0 1 1), -(-1 0 1) */
    const double q[] = {0.5, 0, 0, 1.5, -0.5, 0.5};
    for (int i = 0; i < 6; i++)
        near(c.q[i], q[i], 8 * EPS, "q");
    for (int i = 0; i < 3; i++)
        near(resid[i], 0, 8 * EPS, "resid");
}
END_TEST

static void refused(const jaw_vec2 p[], size_t n, jaw_status want)
{
    jaw_circle c;
    double resid[16] = {0};
    memset(&c, 0, sizeof c);
    ck_assert_int_eq(jaw_fit_circle(p, n, &c, resid), want);
    nan_all(&c.x, offsetof(jaw_circle, dof) / sizeof(double), "circle");
    nan_all(resid, n, "resid");
    ck_assert_int_eq(c.dof, 0);
    ck_assert_uint_eq(c.flags, 0);
    ck_assert_int_eq(jaw_fit_circle(p, n, &c, NULL), want);
}

START_TEST(statuses)
{
    jaw_vec2 p[] = {{1, 7}, {2, 6}, {5, 8}, {7, 7}, {9, 5}, {3, 7}};
    refused(p, 0, JAW_EFEW);
    refused(p, 2, JAW_EFEW);
    for (int i = 0; i < 6; i++) {
        const double bad[] = {NAN_D, HUGE_VAL, -HUGE_VAL};
        for (int k = 0; k < 3; k++) {
            jaw_vec2 was = p[i];
            p[i].x = bad[k];
            refused(p, 6, JAW_ENOTFINITE);
            p[i] = was;
            p[i].y = bad[k];
            refused(p, 6, JAW_ENOTFINITE);
            p[i] = was;
        }
    }
    const jaw_vec2 one[] = {{2, 3}, {2, 3}, {2, 3}, {2, 3}};
    refused(one, 4, JAW_ERANK);
    const jaw_vec2 two[] = {{2, 3}, {2, 3}, {7, -1}, {7, -1}};
    refused(two, 4, JAW_ERANK);
}
END_TEST

/* On a line as far as the last digits can tell: y = 0.3 x + 0.1 anywhere. */
START_TEST(collinear)
{
    random_start("circle collinear");
    for (int k = 0; k < 1000; k++) {
        jaw_vec2 p[12];
        size_t n = 3 + (size_t)random_even(0, 9);
        double far = random_even(0, 1) < 0.5 ? 0 : random_size(0, 9);
        for (size_t i = 0; i < n; i++) {
            double x = far + random_even(-10, 10);
            p[i] = (jaw_vec2){x, 0.3 * x + 0.1};
        }
        refused(p, n, JAW_ERANK);
    }
    const jaw_vec2 upright[] = {{0.1, 5}, {0.1, -7.3}, {0.1, 1e5}};
    refused(upright, 3, JAW_ERANK);
}
END_TEST

/* An S of touches: whatever bends with one half bends against the other, and
 * the straight line beats every circle. */
START_TEST(straight_is_best)
{
    const jaw_vec2 s[] = {{-2, 0}, {-1, 0.1}, {0, 0}, {1, -0.1}, {2, 0}};
    const jaw_vec2 steep[] = {{-2, 0}, {-1, 0.9}, {0, 0}, {1, -0.9}, {2, 0}};
    const jaw_vec2 four[] = {{-3, 0}, {-1, 1}, {1, -1}, {3, 0}};
    jaw_vec2 turned[5];
    refused(s, 5, JAW_ENOCONV);
    refused(steep, 5, JAW_ENOCONV);
    refused(four, 4, JAW_ENOCONV);
    jaw_frame f = jaw_frame_make((jaw_vec2){-40, 30}, 0.7);
    for (int i = 0; i < 5; i++)
        turned[i] = jaw_machine_from_work(&f, s[i]);
    refused(turned, 5, JAW_ENOCONV);
}
END_TEST

/* Corners of a rectangle, long or not: exactly on the circle round it. */
START_TEST(rectangle)
{
    static const double high[] = {5, 1, 0.1, 1e-3, 1e-6};
    for (int k = 0; k < COUNT(high); k++) {
        const double h = high[k];
        const jaw_vec2 p[] = {{-5, -h}, {5, -h}, {5, h}, {-5, h}};
        jaw_circle c;
        ck_assert_int_eq(jaw_fit_circle(p, 4, &c, NULL), JAW_OK);
        near(c.r, hypot(5, h), 64 * EPS / h, "r");
        near(c.y, 0, 512 * EPS / h, "y");
        near(c.ssr, 0, 1e-26, "ssr");
    }
}
END_TEST

/* Both widths of lanes give the same circle to rounding; where the wider is
 * not there, that is said. */
START_TEST(lanes_agree)
{
    const jaw__passes *wide = jaw__passes_avx2();
    if (!wide) {
        puts("left out: four lanes (not on this machine)");
        return;
    }
    ck_assert(jaw__passes_best() == wide);
    random_start("circle lanes");
    int found = 0;
    for (int k = 0; k < 4000; k++) {
        jaw_vec2 p[16];
        jaw_circle a, b;
        double ra[16], rb[16], r;
        size_t n = random_arc(p, &r);
        bool is = jaw__passes_plain.circle(p, n, &a, ra);
        if (!is || !wide->circle(p, n, &b, rb))
            continue;
        found++;
        double allow = 32 * EPS * r * sqrt((double)n * largest_q(&a)) +
                       2 * EPS * (fabs(a.x) + fabs(a.y));
        near(a.x, b.x, allow, "x");
        near(a.y, b.y, allow, "y");
        near(a.r, b.r, allow, "r");
        near(a.q[0], b.q[0], 1e-11 * a.q[0], "q");
        for (size_t i = 0; i < n; i++)
            near(ra[i], rb[i], 64 * EPS * r, "resid");
    }
    ck_assert_msg(found > 1000, "only %d", found);
}
END_TEST

TCase *circle_case(void)
{
    TCase *tc = tcase_create("circle");
    tcase_add_loop_test(tc, reference, 0, COUNT(files));
    tcase_add_loop_test(tc, printed, 0, COUNT(printed_files));
    tcase_add_test(tc, follows);
    tcase_add_test(tc, any_scale);
    tcase_add_test(tc, three_touches);
    tcase_add_test(tc, statuses);
    tcase_add_test(tc, collinear);
    tcase_add_test(tc, straight_is_best);
    tcase_add_test(tc, rectangle);
    tcase_add_test(tc, lanes_agree);
    return tc;
}
