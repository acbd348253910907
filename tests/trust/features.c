/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A feature fitted by itself is the special case of one block: covariance and
 * residuals of fit.h come out again, and jaw_trust_circle, _line and _plane,
 * which take them from the fit's cofactors, say the same as the adjustment. */
#include "trust_tests.h"

#include "tests/feature/random.h"
#include "tests/near.h"

#include <jawline/trust.h>

enum { MOST = 20 };

static const double sigma = 0.002;

static void same(const jaw_adjust *a, const jaw_reliability got[], size_t n,
                 double tol)
{
    for (size_t i = 0; i < n; i++) {
        jaw_reliability want = jaw_adjust_reliability(a, i);
        near(got[i].redundancy, want.redundancy, tol, "redundancy");
        near(got[i].resid, want.resid, 1e-12 + tol * sigma, "residual");
        if (want.redundancy < 1e-6) {
            ck_assert(want.redundancy == 0 || want.redundancy > tol);
            continue;
        }
        near(got[i].standard, want.standard, tol * 1e3, "standard");
        near(got[i].student, want.student, tol * 1e3, "student");
        near(got[i].noticeable / want.noticeable, 1, tol * 1e3, "noticeable");
    }
}

static void covariance(jaw_adjust *a, size_t i, size_t k, double want,
                       double tol, const char *name)
{
    jaw_linear *f = jaw_linear_alloc(a), *g = jaw_linear_alloc(a);
    jaw_linear_local(f, 0, i, 1);
    jaw_linear_local(g, 0, k, 1);
    double s0 = jaw_adjust_total(a).s0;
    near(s0 * s0 * jaw_adjust_covariance(a, f, g), want, tol, name);
    jaw_linear_free(f);
    jaw_linear_free(g);
}

static void add(jaw_adjust *a, const double local[3], double off)
{
    jaw_equation e = {.block = 0, .local = {local[0], local[1], local[2]},
                      .off = off, .sigma = sigma};
    ck_assert_int_eq(jaw_adjust_add(a, &e, NULL), JAW_OK);
}

/* Linearised once at the solution, all corrections are 0. */
static void at_solution(jaw_adjust *a, size_t n, double tol)
{
    ck_assert_int_eq(jaw_adjust_solve(a, NULL, NULL), JAW_OK);
    for (size_t k = 0; k < n; k++)
        near(jaw_adjust_block(a, 0)[k], 0, tol, "correction");
}

START_TEST(circle)
{
    random_source r = random_start("circle", 51);
    for (int round = 0; round < 200; round++) {
        jaw_vec2 p[MOST];
        double resid[MOST], arc = random_between(&r, 0.3, 6.28);
        size_t n = 3 + random_below(&r, MOST - 2);
        for (size_t i = 0; i < n; i++) {
            double t = arc * (double)i / (double)n;
            double d = 12 + sigma * random_normal(&r);
            p[i] = (jaw_vec2){300 + d * cos(t), -200 + d * sin(t)};
        }
        jaw_circle c;
        ck_assert_int_eq(jaw_fit_circle(p, n, &c, resid), JAW_OK);
        jaw_adjust *a = jaw_adjust_alloc();
        jaw_adjust_add_block(a, 3, NULL);
        for (size_t i = 0; i < n; i++) {
            double dx = p[i].x - c.x, dy = p[i].y - c.y, d = hypot(dx, dy);
            add(a, (double[3]){dx / d, dy / d, 1}, resid[i]);
        }
        double weak = sqrt(c.q[0] + c.q[3]);
        at_solution(a, 3, 1e-12 * weak * weak);
        double tol = 1e-9 * (c.cov[0] + c.cov[3] + c.cov[5]);
        for (size_t i = 0, k = 0; n > 3 && i < 3; i++)
            for (size_t j = i; j < 3; j++, k++)
                covariance(a, i, j, c.cov[k], tol, "cov");
        jaw_reliability got[MOST];
        ck_assert_int_eq(jaw_trust_circle(p, n, &c, false, sigma, got), JAW_OK);
        same(a, got, n, 1e-13 * weak * weak + 1e-12);
        jaw_adjust_free(a);
    }
}
END_TEST

/* A radius that is known: two unknowns. */
START_TEST(circle_known)
{
    random_source r = random_start("circle_known", 52);
    for (int round = 0; round < 50; round++) {
        jaw_vec2 p[MOST];
        double resid[MOST];
        size_t n = 4 + random_below(&r, MOST - 3);
        for (size_t i = 0; i < n; i++) {
            double t = 5 * (double)i / (double)n;
            double d = 12 + sigma * random_normal(&r);
            p[i] = (jaw_vec2){30 + d * cos(t), -20 + d * sin(t)};
        }
        jaw_circle c;
        ck_assert_int_eq(jaw_fit_circle_known(p, n, 12, &c, resid), JAW_OK);
        jaw_adjust *a = jaw_adjust_alloc();
        jaw_adjust_add_block(a, 2, NULL);
        for (size_t i = 0; i < n; i++) {
            double dx = p[i].x - c.x, dy = p[i].y - c.y, d = hypot(dx, dy);
            add(a, (double[3]){dx / d, dy / d}, resid[i]);
        }
        at_solution(a, 2, 1e-12);
        covariance(a, 0, 1, c.cov[1], 1e-9 * c.cov[0], "cov");
        covariance(a, 1, 1, c.cov[3], 1e-9 * c.cov[3], "cov");
        jaw_reliability got[MOST];
        ck_assert_int_eq(jaw_trust_circle(p, n, &c, true, sigma, got), JAW_OK);
        same(a, got, n, 1e-11);
        jaw_adjust_free(a);
    }
}
END_TEST

START_TEST(line)
{
    random_source r = random_start("line", 53);
    for (int round = 0; round < 100; round++) {
        jaw_vec2 p[MOST];
        double resid[MOST], turn = random_between(&r, -1.5, 1.5);
        size_t n = 2 + random_below(&r, MOST - 1);
        for (size_t i = 0; i < n; i++) {
            double t = random_between(&r, -40, 40);
            double v = sigma * random_normal(&r);
            p[i] = (jaw_vec2){70 + t * cos(turn) - v * sin(turn),
                              20 + t * sin(turn) + v * cos(turn)};
        }
        jaw_line l;
        ck_assert_int_eq(jaw_fit_line(p, n, &l, resid), JAW_OK);
        jaw_adjust *a = jaw_adjust_alloc();
        jaw_adjust_add_block(a, 2, NULL);
        for (size_t i = 0; i < n; i++) {
            double t = (p[i].x - l.p.x) * l.dir.x + (p[i].y - l.p.y) * l.dir.y;
            add(a, (double[3]){1, t}, resid[i]);
        }
        at_solution(a, 2, 1e-12);
        if (n > 2) {
            covariance(a, 0, 0, l.u_offset * l.u_offset, 1e-16, "offset");
            covariance(a, 1, 1, l.u_theta * l.u_theta, 1e-10 * l.u_theta,
                       "theta");
        }
        jaw_reliability got[MOST];
        ck_assert_int_eq(jaw_trust_line(p, n, &l, sigma, got), JAW_OK);
        same(a, got, n, 1e-11);
        jaw_adjust_free(a);
    }
}
END_TEST

START_TEST(plane)
{
    random_source r = random_start("plane", 54);
    for (int round = 0; round < 100; round++) {
        jaw_vec3 p[MOST];
        double resid[MOST];
        size_t n = 3 + random_below(&r, MOST - 2);
        for (size_t i = 0; i < n; i++) {
            double x = random_between(&r, -40, 40);
            double y = random_between(&r, -20, 20);
            p[i] = (jaw_vec3){x, y, 0.3 * x + sigma * random_normal(&r)};
        }
        jaw_plane f;
        ck_assert_int_eq(jaw_fit_plane(p, n, &f, resid), JAW_OK);
        jaw_adjust *a = jaw_adjust_alloc();
        jaw_adjust_add_block(a, 3, NULL);
        for (size_t i = 0; i < n; i++) {
            jaw_vec3 d = {p[i].x - f.p.x, p[i].y - f.p.y, p[i].z - f.p.z};
            double row[3] = {1, 0, 0};
            for (int k = 0; k < 2; k++)
                row[1 + k] = d.x * f.axis[k].x + d.y * f.axis[k].y +
                             d.z * f.axis[k].z;
            add(a, row, resid[i]);
        }
        at_solution(a, 3, 1e-11);
        if (n > 3) {
            covariance(a, 0, 0, f.u_offset * f.u_offset, 1e-16, "offset");
            for (size_t k = 0; k < 2; k++)
                covariance(a, 1 + k, 1 + k, f.u_tilt[k] * f.u_tilt[k],
                           1e-8 * f.u_tilt[k] * f.u_tilt[k], "tilt");
        }
        jaw_reliability got[MOST];
        ck_assert_int_eq(jaw_trust_plane(p, n, &f, sigma, got), JAW_OK);
        same(a, got, n, 1e-9);
        jaw_adjust_free(a);
    }
}
END_TEST

START_TEST(features_odd)
{
    jaw_vec2 p[4] = {{1, 0}, {0, 1}, {-1, 0}, {0, -1.001}};
    jaw_vec3 q[4] = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {1, 1, 0.01}};
    jaw_reliability out[4];
    jaw_circle c;
    jaw_line l;
    jaw_plane f;
    jaw_fit_circle(p, 4, &c, NULL);
    jaw_fit_line(p, 4, &l, NULL);
    jaw_fit_plane(q, 4, &f, NULL);
    ck_assert_int_eq(jaw_trust_circle(p, 4, &c, false, 0, out), JAW_EDOMAIN);
    ck_assert(isnan(out[0].resid) && isnan(out[3].noticeable));
    ck_assert_int_eq(jaw_trust_line(p, 4, &l, -1, out), JAW_EDOMAIN);
    ck_assert_int_eq(jaw_trust_plane(q, 4, &f, NAN, out), JAW_EDOMAIN);
    c.x = NAN;
    ck_assert_int_eq(jaw_trust_circle(p, 4, &c, false, 1, out),
                     JAW_ENOTFINITE);
    l.theta = l.q_theta = l.dir.x = NAN;
    ck_assert_int_eq(jaw_trust_line(p, 4, &l, 1, out), JAW_ENOTFINITE);
    f.normal.x = NAN;
    ck_assert_int_eq(jaw_trust_plane(q, 4, &f, 1, out), JAW_ENOTFINITE);
    ck_assert(isnan(out[0].resid));
    /* three touches: nothing is checked, whatever rounding leaves */
    ck_assert_int_eq(jaw_fit_circle(p, 3, &c, NULL), JAW_OK);
    ck_assert_int_eq(jaw_trust_circle(p, 3, &c, false, 1, out), JAW_OK);
    for (int i = 0; i < 3; i++) {
        ck_assert(out[i].redundancy == 0 && isinf(out[i].noticeable));
        ck_assert(isnan(out[i].standard) && isnan(out[i].student));
    }
}
END_TEST

TCase *features_case(void)
{
    TCase *tc = tcase_create("features");
    tcase_add_test(tc, circle);
    tcase_add_test(tc, circle_known);
    tcase_add_test(tc, line);
    tcase_add_test(tc, plane);
    tcase_add_test(tc, features_odd);
    return tc;
}
