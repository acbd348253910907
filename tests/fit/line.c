/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Line, free and along a given direction. */
#include "fit_tests.h"

/* File, and the prefix of its rows where it holds several lines. */
static const struct {
    const char *file, *key, *prefix;
} files[] = {
    /* Pearson, Phil. Mag. (6) 2 (1901) 559-572 */
    {"line_pearson1901", NULL, NULL},
    /* computed by this project with 50 digits, tests/data/README.md */
    {"stress/line_vertical", NULL, NULL},
    {"stress/line_small_skew", NULL, NULL},
    {"stress/line_far", NULL, NULL},
    {"stress/line_pi_half_branch", NULL, NULL},
    {"stress/line_exact", NULL, NULL},
    {"stress/lines_nearly_parallel", "A", "A_"},
    {"stress/lines_nearly_parallel", "B", "B_"},
    {"stress/lines_corner", "A", "A_"},
    {"stress/lines_corner", "B", "B_"},
};

START_TEST(reference)
{
    data d;
    jaw_vec2 p[ROWS];
    jaw_line l;
    double resid[ROWS], sum = 0;
    const char *file = files[_i].file, *pre = files[_i].prefix;
    data_read(&d, file);
    size_t n = data_points(&d, files[_i].key, "x", "y", p);
    ck_assert_int_eq(jaw_fit_line(p, n, &l, resid), JAW_OK);
    double root = sqrt((double)n), move = moved_by(p, n, FACTOR);
    double gap = 1 / sqrt(l.q_theta) - sqrt(l.ssr), turn = root * move / gap;
    near(l.theta, data_want(&d, pre, "theta"), turn + 2 * EPS, file);
    near(l.p.x, data_want(&d, pre, "cx"), move, file);
    near(l.p.y, data_want(&d, pre, "cy"), move, file);
    near(l.normal.x, data_want(&d, pre, "nx"), turn + 2 * EPS, file);
    near(l.normal.y, data_want(&d, pre, "ny"), turn + 2 * EPS, file);
    near(l.normal.x * l.p.x + l.normal.y * l.p.y, data_want(&d, pre, "c"),
         (turn + 4 * EPS) * 2 * size_of(p, n) + move, file);
    near(sqrt(l.ssr), sqrt(data_want(&d, pre, "ssr")), root * move, file);
    near(l.s, data_want(&d, pre, "s"), 2 * move, file);
    near(l.u_theta, data_want(&d, pre, "u_theta"),
         2 * move * sqrt(l.q_theta) + 4 * EPS * l.u_theta, file);
    near(l.u_offset, data_want(&d, pre, "u_offset"), 2 * move, file);
    near(l.rms, sqrt(l.ssr / (double)n), 2 * EPS * l.rms, file);
    near(hypot(l.dir.x, l.dir.y), 1, 2 * EPS, file);
    ck_assert(l.normal.x == -l.dir.y && l.normal.y == l.dir.x);
    ck_assert_int_eq(l.dof, (int)n - 2);
    ck_assert_uint_eq(l.flags, 0);
    for (size_t i = 0; i < n; i++) {
        char name[32];
        snprintf(name, sizeof name, "res_%zu", i + 1);
        double want = data_want(&d, pre, name);
        if (!isnan(want))
            near(resid[i], want, move, name);
        sum += resid[i] * resid[i];
    }
    near(sqrt(sum), sqrt(l.ssr), root * move, file);
    data_free(&d);
}
END_TEST

/* Slope, intercept and sum of squares as printed (12 digits), tutorial of the
 * Kapteyn package; the direction is a slope of -0.545561197521. */
START_TEST(pearson_printed)
{
    data d;
    jaw_vec2 p[ROWS];
    jaw_line l;
    double want, half;
    data_read(&d, "line_pearson1901");
    size_t n = data_points(&d, NULL, "x", "y", p);
    ck_assert_int_eq(jaw_fit_line(p, n, &l, NULL), JAW_OK);
    double slope = l.dir.y / l.dir.x;
    ck_assert(data_published(&d, "slope", &want, &half));
    near(slope, want, half, "slope");
    /* its digits are cut off, not rounded: 5.78404377453 */
    ck_assert(data_published(&d, "intercept", &want, &half));
    near(l.p.y - slope * l.p.x, want, 2 * half, "intercept");
    ck_assert(data_published(&d, "ssr", &want, &half));
    near(l.ssr, want, half, "ssr");
    data_free(&d);
}
END_TEST

/* Exact touches on a line of slope 3/4 leave no residual at all, wherever the
 * line runs: what lies across is formed without rounding of its own. */
START_TEST(exact_stays_exact)
{
    static const double far[] = {0, 1e3, 1e6, 1e9};
    jaw_vec2 p[6];
    jaw_line l;
    double resid[6];
    for (size_t k = 0; k < 4; k++) {
        for (int i = 0; i < 6; i++)
            p[i] = (jaw_vec2){far[k] + 4 * i * i, 3 * i * i - far[k]};
        ck_assert_int_eq(jaw_fit_line(p, 6, &l, resid), JAW_OK);
        near(l.theta, atan2(3, 4), 2 * EPS, "theta");
        for (int i = 0; i < 6; i++)
            near(resid[i], 0, EPS * EPS * (100 + far[k]), "exact");
    }
}
END_TEST

/* Random touches: the line turns, moves and grows with them, does not care
 * for their order, and comes out the same in inches. */
static size_t random_line(jaw_vec2 p[], double *theta)
{
    size_t n = 2 + (size_t)random_even(0, 12);
    *theta = random_even(-1.57, 1.57);
    double rough = random_size(-9, -1);
    for (size_t i = 0; i < n; i++) {
        double u = random_even(-50, 50), v = rough * random_normal();
        p[i] = (jaw_vec2){7 + cos(*theta) * u - sin(*theta) * v,
                          -3 + sin(*theta) * u + cos(*theta) * v};
    }
    return n;
}

static double half_turn_apart(double a, double b)
{
    return fabs(remainder(a - b, acos(-1.0)));
}

START_TEST(follows)
{
    random_start("line follows");
    for (int k = 0; k < 2000; k++) {
        jaw_vec2 p[16], q[16];
        jaw_line l, m;
        double theta, turn = random_even(-3, 3);
        size_t n = random_line(p, &theta);
        if (jaw_fit_line(p, n, &l, NULL) != JAW_OK)
            ck_abort_msg("no line");
        jaw_frame f = jaw_frame_make((jaw_vec2){random_even(-9, 9), 2}, turn);
        for (size_t i = 0; i < n; i++) {
            q[n - 1 - i] = jaw_machine_from_work(&f, p[i]);
            q[n - 1 - i].x *= 25.4;
            q[n - 1 - i].y *= 25.4;
        }
        ck_assert_int_eq(jaw_fit_line(q, n, &m, NULL), JAW_OK);
        double move = moved_by(q, n, 2 * FACTOR);
        double gap = 1 / sqrt(m.q_theta) - sqrt(m.ssr);
        near(half_turn_apart(m.theta, l.theta + turn), 0,
             sqrt((double)n) * move / gap + 8 * EPS, "theta");
        jaw_vec2 mean = jaw_machine_from_work(&f, l.p);
        near(m.p.x, 25.4 * mean.x, 2 * move, "x");
        near(m.p.y, 25.4 * mean.y, 2 * move, "y");
        near(sqrt(m.ssr), 25.4 * sqrt(l.ssr), sqrt((double)n) * move, "ssr");
        ck_assert(m.theta > -acos(-1.0) / 2 && m.theta <= acos(-1.0) / 2);
    }
}
END_TEST

/* Powers of two change nothing but the scale, far beyond where squares over-
 * and underflow. */
START_TEST(any_scale)
{
    static const int power[] = {-1060, -1000, -600, -300, 300, 600, 960};
    const jaw_vec2 p[] = {{1, 2}, {4, 3.5}, {7, 5.25}, {-9, -3.5}, {2, 2.25}};
    jaw_vec2 q[5];
    jaw_line one, l;
    double r1[5], r2[5];
    ck_assert_int_eq(jaw_fit_line(p, 5, &one, r1), JAW_OK);
    for (int k = 0; k < COUNT(power); k++) {
        for (int i = 0; i < 5; i++)
            q[i] = (jaw_vec2){ldexp(p[i].x, power[k]), ldexp(p[i].y, power[k])};
        ck_assert_int_eq(jaw_fit_line(q, 5, &l, r2), JAW_OK);
        double tiny = power[k] < -1000 ? 0x1p-1074 : 0;
        near(l.theta, one.theta, power[k] < -1000 ? 1e-3 : 2 * EPS, "theta");
        near(l.s, ldexp(one.s, power[k]), 4 * EPS * l.s + tiny, "s");
        near(l.u_theta, one.u_theta, power[k] < -1000 ? 1e-3 : 4 * EPS, "u");
        for (int i = 0; i < 5; i++)
            near(r2[i], ldexp(r1[i], power[k]), 4 * EPS * fabs(r2[i]) + tiny,
                 "resid");
    }
}
END_TEST

START_TEST(two_touches)
{
    const jaw_vec2 p[] = {{1, 1}, {1, 5}};
    jaw_line l;
    double resid[2];
    ck_assert_int_eq(jaw_fit_line(p, 2, &l, resid), JAW_OK);
    near(l.theta, acos(-1.0) / 2, 0, "upright is +90 degrees");
    near(l.dir.x, 0, 0, "dir x");
    near(l.dir.y, 1, 0, "dir y");
    near(l.p.x, 1, 0, "x");
    near(l.p.y, 3, 0, "y");
    near(l.q_offset, 0.5, 0, "q");
    near(l.q_theta, 0.125, EPS, "q");
    near(l.ssr, 0, 0, "ssr");
    ck_assert(isnan(l.rms) && isnan(l.s) && isnan(l.u_offset) &&
              isnan(l.u_theta));
    ck_assert_int_eq(l.dof, 0);
    ck_assert_uint_eq(l.flags, JAW_NO_CHECK);
}
END_TEST

static void refused(const jaw_vec2 p[], size_t n, jaw_status want)
{
    jaw_line l;
    double resid[8] = {0};
    memset(&l, 0, sizeof l);
    ck_assert_int_eq(jaw_fit_line(p, n, &l, resid), want);
    nan_all(&l.p.x, offsetof(jaw_line, dof) / sizeof(double), "line");
    nan_all(resid, n, "resid");
    ck_assert_int_eq(l.dof, 0);
    ck_assert_uint_eq(l.flags, 0);
    ck_assert_int_eq(jaw_fit_line(p, n, &l, NULL), want);
}

START_TEST(statuses)
{
    jaw_vec2 p[4] = {{1, 1}, {2, 2}, {3, 4}, {5, 5}};
    refused(p, 0, JAW_EFEW);
    refused(p, 1, JAW_EFEW);
    for (int i = 0; i < 4; i++) {
        const double bad[] = {NAN_D, HUGE_VAL, -HUGE_VAL};
        for (int k = 0; k < 3; k++) {
            jaw_vec2 was = p[i];
            p[i].x = bad[k];
            refused(p, 4, JAW_ENOTFINITE);
            p[i] = was;
            p[i].y = bad[k];
            refused(p, 4, JAW_ENOTFINITE);
            p[i] = was;
        }
    }
    const jaw_vec2 one[] = {{3.3, -7}, {3.3, -7}, {3.3, -7}};
    refused(one, 3, JAW_ERANK);
    const jaw_vec2 corners[] = {{0, 0}, {1, 0}, {1, 1}, {0, 1}};
    refused(corners, 4, JAW_ERANK);
    const jaw_vec2 turned[] = {{100.3, 5.1}, {100.7, 6.1}, {99.7, 6.5},
                               {99.3, 5.5}};
    refused(turned, 4, JAW_ERANK);
    /* apart by the last digit of what stands before the point */
    const jaw_vec2 digits[] = {{1e9, 1}, {1e9 + 1.2e-7, 1}, {1e9, 1}};
    refused(digits, 3, JAW_ERANK);
    const jaw_vec2 zero[] = {{0, 0}, {0, 0}};
    refused(zero, 2, JAW_ERANK);
}
END_TEST

/* Known direction: by hand.  Touches off the line y = x / 2. */
START_TEST(along)
{
    const jaw_vec2 p[] = {{0, 1}, {2, 2.1}, {4, 2.9}};
    const double theta = atan2(1, 2), pi = acos(-1.0);
    jaw_line l;
    double resid[3];
    ck_assert_int_eq(jaw_fit_line_along(p, 3, theta, &l, resid), JAW_OK);
    near(l.p.x, 2, 2 * EPS, "x");
    near(l.p.y, 2, 2 * EPS, "y");
    near(l.theta, theta, 0, "theta");
    /* across: 0, 0.1, -0.1 times 2 / sqrt(5) */
    near(resid[0], 0, 4 * EPS, "0");
    near(resid[1], 0.2 / sqrt(5), 4 * EPS, "1");
    near(resid[2], -0.2 / sqrt(5), 4 * EPS, "2");
    near(l.ssr, 0.016, 8 * EPS, "ssr");
    near(l.s, sqrt(0.008), 8 * EPS, "s");
    near(l.u_offset, sqrt(0.008 / 3), 8 * EPS, "u");
    near(l.u_theta, 0, 0, "u_theta");
    near(l.q_theta, 0, 0, "q_theta");
    ck_assert_int_eq(l.dof, 2);
    ck_assert_int_eq(jaw_fit_line_along(p, 3, theta - 3 * pi, &l, resid),
                     JAW_OK);
    near(l.theta, theta, 8 * EPS, "turned back");
    near(resid[1], 0.2 / sqrt(5), 16 * EPS, "same normal");
}
END_TEST

START_TEST(along_quarter)
{
    const jaw_vec2 p[] = {{3, -100}, {3, 700}};
    jaw_line l;
    double resid[2];
    ck_assert_int_eq(jaw_fit_line_along(p, 2, -acos(-1.0) / 2, &l, resid),
                     JAW_OK);
    near(l.theta, acos(-1.0) / 2, 0, "theta");
    near(l.dir.x, 0, 0, "a quarter turn is one");
    near(l.ssr, 0, 0, "ssr");
}
END_TEST

START_TEST(along_one)
{
    const jaw_vec2 p[] = {{3, 4}};
    jaw_line l;
    double resid[1];
    ck_assert_int_eq(jaw_fit_line_along(p, 1, 0, &l, resid), JAW_OK);
    near(l.p.y, 4, 0, "y");
    near(resid[0], 0, 0, "resid");
    ck_assert_int_eq(l.dof, 0);
    ck_assert_uint_eq(l.flags, JAW_NO_CHECK);
    ck_assert(isnan(l.rms) && isnan(l.s) && isnan(l.u_offset));
    near(l.u_theta, 0, 0, "known");
    near(l.q_offset, 1, 0, "q");
}
END_TEST

START_TEST(along_refused)
{
    const jaw_vec2 p[] = {{3, 4}, {NAN_D, 1}};
    const double theta[] = {NAN_D, HUGE_VAL, -HUGE_VAL};
    jaw_line l;
    double resid[2];
    ck_assert_int_eq(jaw_fit_line_along(p, 0, 0, &l, resid), JAW_EFEW);
    nan_all(&l.p.x, offsetof(jaw_line, dof) / sizeof(double), "few");
    ck_assert_int_eq(jaw_fit_line_along(p, 2, 0, &l, resid), JAW_ENOTFINITE);
    nan_all(resid, 2, "resid");
    for (int i = 0; i < 3; i++) {
        ck_assert_int_eq(jaw_fit_line_along(p, 1, theta[i], &l, resid),
                         JAW_ENOTFINITE);
        nan_all(&l.p.x, offsetof(jaw_line, dof) / sizeof(double), "theta");
    }
}
END_TEST

/* The promise is kept: the true direction and offset lie within two standard
 * uncertainties as often as a normal spread says (95.45 in 100; 4000 sets with
 * 18 degrees of freedom: Student's t gives 93.9). */
START_TEST(uncertainty_holds)
{
    enum { SETS = 4000, N = 20 };
    int in_turn = 0, in_offset = 0;
    random_start("line uncertainty");
    for (int k = 0; k < SETS; k++) {
        jaw_vec2 p[N];
        jaw_line l;
        for (int i = 0; i < N; i++)
            p[i] = (jaw_vec2){random_even(-50, 50), 1e-3 * random_normal()};
        ck_assert_int_eq(jaw_fit_line(p, N, &l, NULL), JAW_OK);
        in_turn += fabs(l.theta) <= 2 * l.u_theta;
        in_offset += fabs(l.p.y) <= 2 * l.u_offset;
    }
    /* three standard deviations of the count are 45 */
    ck_assert_msg(abs(in_turn - 3756) < 60, "turn: %d", in_turn);
    ck_assert_msg(abs(in_offset - 3756) < 60, "offset: %d", in_offset);
}
END_TEST

TCase *line_case(void)
{
    TCase *tc = tcase_create("line");
    tcase_add_loop_test(tc, reference, 0, COUNT(files));
    tcase_add_test(tc, pearson_printed);
    tcase_add_test(tc, exact_stays_exact);
    tcase_add_test(tc, follows);
    tcase_add_test(tc, any_scale);
    tcase_add_test(tc, two_touches);
    tcase_add_test(tc, statuses);
    tcase_add_test(tc, along);
    tcase_add_test(tc, along_quarter);
    tcase_add_test(tc, along_one);
    tcase_add_test(tc, along_refused);
    tcase_add_test(tc, uncertainty_holds);
    return tc;
}
