/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Circle of known radius. */
#include "fit_tests.h"

static const char *const files[] = {
    /* radius fixed at 15.001 while the touches were made with 15; computed by
     * this project with 50 digits, tests/data/README.md */
    "stress/circle_known_r_arc30",
    "stress/circle_known_r_full",
};

START_TEST(reference)
{
    data d;
    jaw_vec2 p[ROWS];
    jaw_circle c;
    const char *file = files[_i];
    data_read(&d, file);
    size_t n = data_points(&d, NULL, "x", "y", p);
    ck_assert_int_eq(jaw_fit_circle_known(p, n, 15.001, &c, NULL), JAW_OK);
    double root = sqrt((double)n), move = moved_by(p, n, FACTOR);
    double allow = move * root * sqrt(fmax(c.q[0], c.q[3])) + 64 * EPS;
    near(c.x, data_want(&d, NULL, "xc"), allow, file);
    near(c.y, data_want(&d, NULL, "yc"), allow, file);
    near(c.r, 15.001, 0, file);
    double ssr = data_want(&d, NULL, "ssr");
    near(sqrt(c.ssr), sqrt(ssr), root * move, file);
    near(c.s, data_want(&d, NULL, "s"), root * move, file);
    double share = 4 * root * move / sqrt(ssr) + 1e-12;
    double xx = data_want(&d, NULL, "cov_xc_xc");
    double yy = data_want(&d, NULL, "cov_yc_yc");
    near(c.cov[0], xx, share * xx, file);
    near(c.cov[3], yy, share * yy, file);
    near(c.cov[1], data_want(&d, NULL, "cov_xc_yc"), share * sqrt(xx * yy),
         file);
    ck_assert_int_eq(c.dof, (int)n - 2);
    near(c.cov[2], 0, 0, file);
    near(c.cov[4], 0, 0, file);
    near(c.cov[5], 0, 0, file);
    data_free(&d);
}
END_TEST

/* Resting point next to (a, b), long double. */
static void rest(const jaw_vec2 p[], size_t n, long double r, long double *a,
                 long double *b, long double *q)
{
    for (int step = 0; step < 12; step++) {
        long double gx = 0, gy = 0, xx = 0, xy = 0, yy = 0;
        for (size_t i = 0; i < n; i++) {
            long double x = p[i].x - *a, y = p[i].y - *b, d = hypotl(x, y);
            long double f = d - r, u = x / d, v = y / d, g = f / d;
            gx += f * u;
            gy += f * v;
            xx += u * u + g * v * v;
            xy += u * v - g * u * v;
            yy += v * v + g * u * u;
        }
        long double det = xx * yy - xy * xy;
        *a += (yy * gx - xy * gy) / det;
        *b += (xx * gy - xy * gx) / det;
        *q = fmaxl(xx, yy) / det;
    }
}

/* Both ways round: as many touches as a bore has, on arcs from 3 degrees. */
START_TEST(random_arcs)
{
    if (LDBL_MANT_DIG < 64) {
        puts("left out: known radius against long double");
        return;
    }
    random_start("known radius");
    for (int k = 0; k < 4000; k++) {
        jaw_vec2 p[16];
        jaw_circle c;
        double resid[16], mid = random_even(-3, 3), size = random_size(-6, 6);
        double half = random_even(0, 1) < 0.5 ? 3 : random_size(-1.6, 0.4);
        size_t n = 3 + (size_t)random_even(0, 13);
        double rough = random_size(-9, -3) * fmin(half * half, 1);
        double known = size * (1 + rough * random_normal());
        for (size_t i = 0; i < n; i++) {
            double t = mid + half * (2 * (double)i / (double)(n - 1) - 1);
            double d = size * (1 + rough * random_normal());
            p[i] = (jaw_vec2){d * cos(t), d * sin(t)};
        }
        ck_assert_int_eq(jaw_fit_circle_known(p, n, known, &c, resid), JAW_OK);
        long double a = c.x, b = c.y, q;
        rest(p, n, known, &a, &b, &q);
        double allow = EPS * (FACTOR * extent_of(p, n) *
                                  sqrt((double)n * (double)q) +
                              fabs(c.x) + fabs(c.y) + c.r);
        near((double)hypotl(a - c.x, b - c.y), 0, allow, "centre");
        /* on the touched side, not its mirror image */
        near(hypot(c.x, c.y), 0, 0.5 * size, "side");
        double ssr = 0;
        for (size_t i = 0; i < n; i++) {
            near(resid[i], (double)(hypotl(p[i].x - a, p[i].y - b) - known),
                 FACTOR_RESID * EPS * extent_of(p, n) +
                     (double)LDBL_EPSILON * 4 * size, "resid");
            ssr += resid[i] * resid[i];
        }
        near(sqrt(ssr), sqrt(c.ssr), 1e-12 * sqrt(ssr), "ssr");
        near(c.r, known, 0, "r");
    }
}
END_TEST

/* J^T J of four touches, evenly round: twice the unit matrix. */
START_TEST(cofactors)
{
    const jaw_vec2 p[] = {{6, 1}, {1, 6}, {-4, 1}, {1, -4}};
    jaw_circle c;
    double resid[4];
    ck_assert_int_eq(jaw_fit_circle_known(p, 4, 4.75, &c, resid), JAW_OK);
    near(c.x, 1, 4 * EPS, "x");
    near(c.y, 1, 4 * EPS, "y");
    near(c.q[0], 0.5, 4 * EPS, "xx");
    near(c.q[1], 0, 4 * EPS, "xy");
    near(c.q[3], 0.5, 4 * EPS, "yy");
    near(c.ssr, 0.25, 16 * EPS, "ssr");
    near(c.s, sqrt(0.125), 8 * EPS, "s");
    near(c.cov[0], 0.0625, 8 * EPS, "cov");
    near(resid[2], 0.25, 8 * EPS, "outside positive");
    ck_assert_int_eq(c.dof, 2);
    ck_assert_uint_eq(c.flags, 0);
}
END_TEST

/* A flat arc shows where the centre lies along it, and badly how far across:
 * that is known from the radius, so the centre is not weak. */
START_TEST(weak)
{
    jaw_vec2 p[5];
    jaw_circle c;
    for (int i = 0; i < 5; i++) {
        double t = 0.02 * (i - 2);
        p[i] = (jaw_vec2){100 * sin(t), 100 * cos(t)};
    }
    ck_assert_int_eq(jaw_fit_circle(p, 5, &c, NULL), JAW_OK);
    ck_assert_uint_eq(c.flags, JAW_WEAK);
    ck_assert_int_eq(jaw_fit_circle_known(p, 5, 100, &c, NULL), JAW_OK);
    ck_assert_uint_eq(c.flags, JAW_WEAK);
    near(c.q[0], 1 / (10 * 0.02 * 0.02), 1, "along");
    near(c.q[3], 0.2, 1e-3, "across");
}
END_TEST

START_TEST(any_scale)
{
    static const int power[] = {-900, -300, 300, 900};
    const jaw_vec2 p[] = {{1, 7}, {2, 6}, {5, 8}, {7, 7}, {9, 5}, {3, 7}};
    jaw_vec2 q[6];
    jaw_circle one, c;
    ck_assert_int_eq(jaw_fit_circle_known(p, 6, 4.7, &one, NULL), JAW_OK);
    for (int k = 0; k < COUNT(power); k++) {
        for (int i = 0; i < 6; i++)
            q[i] = (jaw_vec2){ldexp(p[i].x, power[k]), ldexp(p[i].y, power[k])};
        ck_assert_int_eq(
            jaw_fit_circle_known(q, 6, ldexp(4.7, power[k]), &c, NULL), JAW_OK);
        near(c.x, ldexp(one.x, power[k]), 32 * EPS * c.r, "x");
        near(c.y, ldexp(one.y, power[k]), 32 * EPS * c.r, "y");
        near(c.s, ldexp(one.s, power[k]), 32 * EPS * c.r, "s");
    }
}
END_TEST

static void refused(const jaw_vec2 p[], size_t n, double r, jaw_status want)
{
    jaw_circle c;
    double resid[16] = {0};
    memset(&c, 0, sizeof c);
    ck_assert_int_eq(jaw_fit_circle_known(p, n, r, &c, resid), want);
    nan_all(&c.x, offsetof(jaw_circle, dof) / sizeof(double), "circle");
    nan_all(resid, n, "resid");
    ck_assert_int_eq(c.dof, 0);
    ck_assert_uint_eq(c.flags, 0);
}

START_TEST(statuses)
{
    jaw_vec2 p[] = {{1, 0}, {0, 1}, {-1, 0}, {0, -1}};
    refused(p, 0, 1, JAW_EFEW);
    refused(p, 2, 1, JAW_EFEW);
    refused(p, 4, 0, JAW_EDOMAIN);
    refused(p, 4, -1, JAW_EDOMAIN);
    refused(p, 4, NAN_D, JAW_ENOTFINITE);
    refused(p, 4, HUGE_VAL, JAW_ENOTFINITE);
    p[2].y = NAN_D;
    refused(p, 4, 1, JAW_ENOTFINITE);
    const jaw_vec2 one[] = {{1, 1}, {1, 1}, {1, 1}};
    refused(one, 3, 1, JAW_ERANK);
    /* a centre on either side of the line fits alike */
    const jaw_vec2 line[] = {{0, 0}, {1, 1}, {2, 2}, {2.5, 2.5}};
    refused(line, 4, 5, JAW_ERANK);
    const jaw_vec2 two[] = {{-3, 0}, {3, 0}, {3, 0}};
    refused(two, 3, 5, JAW_ERANK);
    /* an S, and its mirror image */
    const jaw_vec2 s[] = {{-2, 0}, {-1, 0.1}, {0, 0}, {1, -0.1}, {2, 0}};
    refused(s, 5, 3, JAW_ERANK);
}
END_TEST

/* Touches that are far from any circle of this radius: still the least sum of
 * squares that a fine grid of centres shows. */
START_TEST(nothing_better)
{
    random_start("known radius, rough");
    for (int k = 0; k < 60; k++) {
        jaw_vec2 p[8];
        jaw_circle c;
        double r = random_even(2, 12), best = HUGE_VAL;
        for (int i = 0; i < 8; i++)
            p[i] = (jaw_vec2){random_even(-5, 5), random_even(-5, 5)};
        ck_assert_int_eq(jaw_fit_circle_known(p, 8, r, &c, NULL), JAW_OK);
        for (int at = 0; at < 301 * 301; at++) {
            double a = (at % 301 - 150) * 0.1, b = (at / 301 - 150) * 0.1;
            double ssr = 0;
            for (int i = 0; i < 8; i++) {
                double f = hypot(p[i].x - a, p[i].y - b) - r;
                ssr += f * f;
            }
            best = fmin(best, ssr);
        }
        ck_assert_msg(c.ssr <= best, "r %g: %g, a grid finds %g", r, c.ssr,
                      best);
    }
}
END_TEST

/* Sum of squared distances at a centre. */
static double sum_at(const jaw_vec2 p[], size_t n, double r, jaw_vec2 c)
{
    double sum = 0;
    for (size_t i = 0; i < n; i++) {
        double f = hypot(p[i].x - c.x, p[i].y - c.y) - r;
        sum += f * f;
    }
    return sum;
}

/* The least of it that a walk from there comes to. */
static double downhill(const jaw_vec2 p[], size_t n, double r, jaw_vec2 c)
{
    double best = sum_at(p, n, r, c), share = r / 4;
    static const jaw_vec2 ways[] = {{1, 0}, {-1, 0}, {0, 1}, {0, -1},
                                    {0.7, 0.7}, {-0.7, 0.7}, {0.7, -0.7},
                                    {-0.7, -0.7}};
    while (share > 1e-6 * r) {
        bool better = false;
        for (int k = 0; k < COUNT(ways); k++) {
            jaw_vec2 to = {c.x + share * ways[k].x, c.y + share * ways[k].y};
            double sum = sum_at(p, n, r, to);
            if (sum < best) {
                best = sum;
                c = to;
                better = true;
            }
        }
        if (!better)
            share /= 2;
    }
    return best;
}

/* 2026-11-26: of three touches that lie far off any circle of this radius a
 * minimum was answered that was not the least; held against walks downhill
 * from all over.  Of six touches hardly any still is (circle_known.c). */
START_TEST(few_and_far_off)
{
    random_start("few and far off");
    int missed = 0;
    for (int k = 0; k < (_i == 0 ? 3000 : 1000); k++) {
        jaw_vec2 p[8];
        jaw_circle c;
        size_t n = 3 * ((size_t)_i + 1) + (size_t)random_even(0, 2.99);
        double r = random_size(-2, 3), least = HUGE_VAL;
        for (size_t i = 0; i < n; i++) {
            double a = 6.283 * ((double)i + random_even(-0.4, 0.4)) / (double)n;
            double d = r * random_even(0.4, 1.2);
            p[i] = (jaw_vec2){r + d * cos(a), d * sin(a)};
        }
        jaw_status status = jaw_fit_circle_known(p, n, r, &c, NULL);
        if (status == JAW_ERANK) /* two fit alike */
            continue;
        ck_assert_int_eq(status, JAW_OK);
        for (int i = 0; i < 25; i++) {
            jaw_vec2 from = {r + r * 0.6 * (i % 5 - 2), r * 0.6 * (i / 5 - 2)};
            least = fmin(least, downhill(p, n, r, from));
        }
        missed += !(c.ssr <= least * (1 + 1e-9));
        ck_assert_msg(missed <= _i, "problem %d of %zu touches: "
                      "%.17g, and %.17g elsewhere", k, n, c.ssr, least);
    }
}
END_TEST

TCase *circle_known_case(void)
{
    TCase *tc = tcase_create("circle of known radius");
    tcase_add_loop_test(tc, reference, 0, COUNT(files));
    tcase_add_test(tc, random_arcs);
    tcase_add_test(tc, cofactors);
    tcase_add_test(tc, weak);
    tcase_add_test(tc, any_scale);
    tcase_add_test(tc, statuses);
    tcase_add_test(tc, nothing_better);
    tcase_add_loop_test(tc, few_and_far_off, 0, 2);
    return tc;
}
