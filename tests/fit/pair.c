/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two parallel lines, free and along a given direction. */
#include "fit_tests.h"


/* Slot of width 6 along y = 0, by hand: touches +-d off each wall in a pattern
 * that turns nothing. */
START_TEST(by_hand)
{
    const double d = 1.0 / 64;
    const jaw_vec2 a[] = {{-2, d}, {0, -2 * d}, {2, d}};
    const jaw_vec2 b[] = {{-1, 6 + d}, {0, 6 - 2 * d}, {1, 6 + d}};
    jaw_pair r;
    double resid[6];
    ck_assert_int_eq(jaw_fit_pair(a, 3, b, 3, &r, resid), JAW_OK);
    near(r.theta, 0, EPS, "theta");
    near(r.gap, 6, 8 * EPS, "gap");
    near(r.p[0].x, 0, 0, "ax");
    near(r.p[0].y, 0, EPS, "ay");
    near(r.p[1].y, 6, 8 * EPS, "by");
    near(r.ssr, 12 * d * d, 8 * EPS * d, "ssr");
    near(r.q_theta, 0.1, EPS, "q");
    near(r.q_offset[0], 1.0 / 3, EPS, "q");
    near(r.q_offset[1], 1.0 / 3, EPS, "q");
    ck_assert_int_eq(r.dof, 3);
    near(r.s, 2 * d, 8 * EPS, "s");
    near(r.rms, sqrt(2) * d, 8 * EPS, "rms");
    near(r.u_theta, 2 * d * sqrt(0.1), 8 * EPS, "u_theta");
    near(r.u_middle, d * sqrt(2.0 / 3), 8 * EPS, "u_middle");
    near(r.u_gap, 2 * d * sqrt(2.0 / 3), 8 * EPS, "u_gap");
    ck_assert_uint_eq(r.flags, 0);
    near(resid[0], d, 8 * EPS, "side a first");
    near(resid[4], -2 * d, 8 * EPS, "then b");
}
END_TEST

/* The gap is taken at the means; where these lie apart along the walls, the
 * direction's share comes in, and is said when it is all that counts. */
START_TEST(reach_counts)
{
    const jaw_vec2 a[] = {{0, 0}, {1, 0.001}, {2, -0.001}};
    const jaw_vec2 b[] = {{101, 3}};
    jaw_pair r;
    double resid[4];
    ck_assert_int_eq(jaw_fit_pair(a, 3, b, 1, &r, resid), JAW_OK);
    ck_assert_int_eq(r.dof, 1);
    double along = r.dir.x * (r.p[1].x - r.p[0].x) +
                   r.dir.y * (r.p[1].y - r.p[0].y);
    double q = 1.0 / 3 + 1 + along * along * r.q_theta;
    near(r.u_gap, r.s * sqrt(q), 1e-12, "u_gap");
    near(r.gap, r.normal.x * (r.p[1].x - r.p[0].x) +
                    r.normal.y * (r.p[1].y - r.p[0].y), 1e-13, "gap");
    near(resid[3], 0, 1e-18, "a lone touch has no residual");
    ck_assert_uint_eq(r.flags, JAW_WEAK);
    ck_assert_int_eq(jaw_fit_pair(b, 1, a, 3, &r, NULL), JAW_OK);
    ck_assert_uint_eq(r.flags, JAW_WEAK);
    ck_assert(r.gap < 0);
}
END_TEST

/* Against the summed scatter in long double, random touches. */
static void exact(const jaw_vec2 p[], size_t na, size_t n, long double out[2])
{
    long double m[2][2] = {{0, 0}, {0, 0}}, xx = 0, xy = 0, yy = 0;
    for (size_t i = 0; i < n; i++) {
        int side = i >= na;
        m[side][0] += (long double)p[i].x / (long double)(side ? n - na : na);
        m[side][1] += (long double)p[i].y / (long double)(side ? n - na : na);
    }
    for (size_t i = 0; i < n; i++) {
        long double x = p[i].x - m[i >= na][0], y = p[i].y - m[i >= na][1];
        xx += x * x;
        xy += x * y;
        yy += y * y;
    }
    long double t = atan2l(2 * xy, xx - yy) / 2;
    out[0] = t;
    out[1] = cosl(t) * (m[1][1] - m[0][1]) - sinl(t) * (m[1][0] - m[0][0]);
}

START_TEST(random_pairs)
{
    if (LDBL_MANT_DIG < 64) {
        puts("left out: pair against long double (it is a double here)");
        return;
    }
    random_start("pair");
    for (int k = 0; k < 4000; k++) {
        jaw_vec2 p[16];
        jaw_pair r;
        long double want[2];
        size_t na = 1 + (size_t)random_even(0, 6);
        size_t n = na + 1 + (size_t)random_even(na < 2, 6);
        double t = random_even(-1.57, 1.57), rough = random_size(-9, -2);
        double gap = random_even(-40, 40);
        for (size_t i = 0; i < n; i++) {
            double u = random_even(-20, 20);
            double v = rough * random_normal() + (i < na ? 0 : gap);
            p[i] = (jaw_vec2){9 + cos(t) * u - sin(t) * v,
                              5 + sin(t) * u + cos(t) * v};
        }
        jaw_status got = jaw_fit_pair(p, na, p + na, n - na, &r, NULL);
        ck_assert_msg(got == JAW_OK, "%zu %zu", na, n);
        exact(p, na, n, want);
        double move = moved_by(p, n, FACTOR), root = sqrt((double)n);
        double turn = root * move / (1 / sqrt(r.q_theta) - sqrt(r.ssr));
        near(remainder(r.theta - (double)want[0], acos(-1.0)), 0,
             turn + 2 * EPS, "theta");
        double lever = hypot(r.p[1].x - r.p[0].x, r.p[1].y - r.p[0].y);
        near(fabs(r.gap), fabs((double)want[1]),
             2 * move + lever * (turn + 4 * EPS), "gap");
    }
}
END_TEST

START_TEST(any_scale)
{
    static const int power[] = {-900, -300, 300, 900};
    const jaw_vec2 p[] = {{1, 2}, {4, 3.5}, {7, 5.25}, {-9, 0}, {2, 6.25}};
    jaw_vec2 q[5];
    jaw_pair one, r;
    ck_assert_int_eq(jaw_fit_pair(p, 3, p + 3, 2, &one, NULL), JAW_OK);
    for (int k = 0; k < COUNT(power); k++) {
        for (int i = 0; i < 5; i++)
            q[i] = (jaw_vec2){ldexp(p[i].x, power[k]), ldexp(p[i].y, power[k])};
        ck_assert_int_eq(jaw_fit_pair(q, 3, q + 3, 2, &r, NULL), JAW_OK);
        near(r.theta, one.theta, 2 * EPS, "theta");
        near(r.gap, ldexp(one.gap, power[k]), 4 * EPS * fabs(r.gap), "gap");
        near(r.u_gap, ldexp(one.u_gap, power[k]), 8 * EPS * r.u_gap, "u_gap");
        near(r.u_theta, one.u_theta, 8 * EPS, "u_theta");
    }
}
END_TEST

static void refused(const jaw_vec2 a[], size_t na, const jaw_vec2 b[],
                    size_t nb, jaw_status want)
{
    jaw_pair r;
    double resid[8] = {0};
    memset(&r, 0, sizeof r);
    ck_assert_int_eq(jaw_fit_pair(a, na, b, nb, &r, resid), want);
    nan_all(&r.p[0].x, offsetof(jaw_pair, dof) / sizeof(double), "pair");
    nan_all(resid, na + nb, "resid");
    ck_assert_int_eq(r.dof, 0);
    ck_assert_uint_eq(r.flags, 0);
}

START_TEST(statuses)
{
    jaw_vec2 a[] = {{0, 0}, {1, 0}, {2, 0}}, b[] = {{0, 1}, {1, 1}};
    const jaw_vec2 same[] = {{1, 1}, {1, 1}};
    refused(a, 0, b, 2, JAW_EFEW);
    refused(a, 3, b, 0, JAW_EFEW);
    refused(a, 1, b, 1, JAW_EFEW);
    refused(same, 2, b, 1, JAW_ERANK);
    refused(same, 2, same, 2, JAW_ERANK);
    const jaw_vec2 cross[] = {{5, -1}, {5, 0}, {5, 1}};
    const jaw_vec2 level[] = {{-1, 3}, {0, 3}, {1, 3}};
    refused(level, 3, cross, 3, JAW_ERANK);
    b[1].y = NAN_D;
    refused(a, 3, b, 2, JAW_ENOTFINITE);
    b[1].y = 1;
    a[0].x = HUGE_VAL;
    refused(a, 3, b, 2, JAW_ENOTFINITE);
}
END_TEST

START_TEST(three_touches)
{
    const jaw_vec2 a[] = {{0, 0}, {4, 0}}, b[] = {{1, 5}};
    jaw_pair r;
    ck_assert_int_eq(jaw_fit_pair(a, 2, b, 1, &r, NULL), JAW_OK);
    near(r.gap, 5, 0, "gap");
    ck_assert_int_eq(r.dof, 0);
    ck_assert_uint_eq(r.flags, JAW_NO_CHECK);
    ck_assert(isnan(r.u_gap) && isnan(r.u_theta) && isnan(r.u_middle) &&
              isnan(r.rms) && isnan(r.s));
    near(r.q_theta, 0.125, EPS, "q");
}
END_TEST

START_TEST(along)
{
    const jaw_vec2 a[] = {{0, 0.5}, {4, -0.5}}, b[] = {{1, 5}};
    const double pi = acos(-1.0);
    jaw_pair r;
    double resid[3];
    ck_assert_int_eq(jaw_fit_pair_along(a, 2, b, 1, pi, &r, resid), JAW_OK);
    near(r.theta, 0, 0, "theta");
    near(r.gap, 5, 0, "gap");
    near(r.ssr, 0.5, 0, "ssr");
    near(r.s, sqrt(0.5), EPS, "s");
    near(r.u_gap, sqrt(0.5 * 1.5), 2 * EPS, "u_gap");
    near(r.u_theta, 0, 0, "u_theta");
    near(r.q_theta, 0, 0, "q");
    ck_assert_int_eq(r.dof, 1);
    ck_assert_int_eq(jaw_fit_pair_along(a, 1, b, 1, pi / 2, &r, resid), JAW_OK);
    near(r.gap, -1, 0, "across x");
    ck_assert_uint_eq(r.flags, JAW_NO_CHECK);
    ck_assert(isnan(r.u_gap));
    ck_assert_int_eq(jaw_fit_pair_along(a, 0, b, 1, 0, &r, resid), JAW_EFEW);
    ck_assert_int_eq(jaw_fit_pair_along(a, 1, b, 0, 0, &r, resid), JAW_EFEW);
    ck_assert_int_eq(jaw_fit_pair_along(a, 2, b, 1, NAN_D, &r, resid),
                     JAW_ENOTFINITE);
    nan_all(&r.p[0].x, offsetof(jaw_pair, dof) / sizeof(double), "theta");
    nan_all(resid, 3, "resid");
}
END_TEST

/* A slot's width lies within two standard uncertainties as often as promised
 * (17 degrees of freedom: Student's t gives 93.8 in 100). */
START_TEST(uncertainty_holds)
{
    enum { SETS = 4000 };
    int in_gap = 0, in_turn = 0;
    random_start("pair uncertainty");
    for (int k = 0; k < SETS; k++) {
        jaw_vec2 p[20];
        jaw_pair r;
        for (int i = 0; i < 20; i++)
            p[i] = (jaw_vec2){random_even(0, 50) + (i < 12 ? 0 : 40),
                              1e-3 * random_normal() + (i < 12 ? 0 : 8)};
        ck_assert_int_eq(jaw_fit_pair(p, 12, p + 12, 8, &r, NULL), JAW_OK);
        in_gap += fabs(r.gap - 8) <= 2 * r.u_gap;
        in_turn += fabs(r.theta) <= 2 * r.u_theta;
    }
    ck_assert_msg(abs(in_gap - 3752) < 60, "gap: %d", in_gap);
    ck_assert_msg(abs(in_turn - 3752) < 60, "turn: %d", in_turn);
}
END_TEST

TCase *pair_case(void)
{
    TCase *tc = tcase_create("pair");
    tcase_add_test(tc, by_hand);
    tcase_add_test(tc, reach_counts);
    tcase_add_test(tc, random_pairs);
    tcase_add_test(tc, any_scale);
    tcase_add_test(tc, statuses);
    tcase_add_test(tc, three_touches);
    tcase_add_test(tc, along);
    tcase_add_test(tc, uncertainty_holds);
    return tc;
}
