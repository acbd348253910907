/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Trials of cylinders, each against jaw_fit_cylinder on the same touches;
 * however they are shared out; and against linear propagation. */
#include "trust_tests.h"

#include "src/base/vec3.h"
#include "tests/near.h"

#include <jawline/trust.h>

#include <math.h>

enum { MOST = 12, VALUES = 5 };

typedef struct bar {
    size_t n;
    jaw_vec3 p[MOST];
    double sigma[MOST];
    jaw_cylinder c;
} bar;

/* A bar lying about along y, touched over `half` (rad) to either side of its
 * top, its length three radii. */
static bar bar_make(size_t n, double half, double r, double sigma)
{
    bar s = {.n = n};
    jaw_random random = jaw_random_stream(9, n);
    for (size_t i = 0; i < n; i++) {
        double a = half * (2 * fmod(0.618 * (double)i, 1) - 1);
        double t = 3 * r * ((double)(i % 4) / 3 - 0.5);
        double d = r + sigma * jaw_random_normal(&random);
        s.p[i] = (jaw_vec3){30 + d * sin(a) + 0.1 * t, -20 + t,
                            -90 + d * cos(a) + 0.01 * t};
        s.sigma[i] = sigma * (i % 3 == 0 ? 2 : 1);
    }
    ck_assert_int_eq(jaw_fit_cylinder(s.p, n, NULL, &s.c, NULL), JAW_OK);
    return s;
}

/* Trial t as anybody would do it. */
static void alone(const bar *s, unsigned long long t, double value[VALUES])
{
    const jaw_cylinder *f = &s->c;
    jaw_random r = jaw_random_stream(44, t);
    jaw_vec3 m[MOST];
    jaw_cylinder c;
    for (size_t i = 0; i < s->n; i++) {
        jaw_vec3 v = {s->p[i].x - f->p.x, s->p[i].y - f->p.y,
                      s->p[i].z - f->p.z};
        double along = jaw__dot(v, f->axis);
        jaw_vec3 out = {v.x - along * f->axis.x, v.y - along * f->axis.y,
                        v.z - along * f->axis.z};
        double more =
            s->sigma[i] * jaw_random_normal(&r) / sqrt(jaw__dot(out, out));
        m[i] = (jaw_vec3){s->p[i].x + out.x * more, s->p[i].y + out.y * more,
                          s->p[i].z + out.z * more};
    }
    ck_assert_int_eq(jaw_fit_cylinder(m, s->n, NULL, &c, NULL), JAW_OK);
    jaw_vec3 d = {c.p.x - f->p.x, c.p.y - f->p.y, c.p.z - f->p.z};
    double ahead = jaw__dot(c.axis, f->axis), along = jaw__dot(d, f->axis);
    for (int k = 0; k < 2; k++) {
        value[2 + k] = jaw__dot(c.axis, f->across[k]) / ahead;
        value[k] = jaw__dot(d, f->across[k]) - along * value[2 + k];
    }
    value[4] = c.r - f->r;
}

static jaw_monte_places places(const bar *s)
{
    return (jaw_monte_places){s->p, s->n, s->sigma};
}

/* All round to an arc of 34 degrees. */
static const struct {
    size_t n;
    double half, r, sigma;
} bars[] = {{12, 3, 10, 0.002}, {8, 2, 10, 0.002}, {12, 1, 25, 0.01},
            {10, 0.6, 10, 0.002}, {9, 0.3, 10, 0.0005}, {12, 1.5, 0.5, 0.01},
            {12, 1.5, 10, 0.3}};

START_TEST(as_fitted_alone_cylinder)
{
    enum { N = 500 };
    bar s = bar_make(bars[_i].n, bars[_i].half, bars[_i].r, bars[_i].sigma);
    static double v[VALUES][N];
    double *out[VALUES] = {v[0], v[1], v[2], v[3], v[4]};
    size_t failed;
    jaw_monte_places t = places(&s);
    ck_assert_int_eq(jaw_monte_cylinder(&t, 44, 0, N, out, &failed), JAW_OK);
    ck_assert_uint_eq(failed, 0);
    double tol = 1e-10 * s.c.r + 1e-12 * (s.c.q[0] + s.c.q[5]);
    for (size_t i = 0; i < N; i++) {
        double want[VALUES];
        alone(&s, i, want);
        for (int k = 0; k < VALUES; k++)
            near(v[k][i], want[k], k / 2 == 1 ? tol / s.c.r : tol, "value");
    }
}
END_TEST

START_TEST(cylinder_shared_out)
{
    bar s = bar_make(9, 1.5, 10, 0.002);
    jaw_monte_places t = {s.p, s.n, s.sigma};
    trials_shared_out(&(jaw_monte_model){jaw_monte_cylinder, &t, VALUES}, 300);
}
END_TEST

/* Over half a turn the linear figure of the height holds; on a short arc it
 * does not. */
START_TEST(arc_against_linear)
{
    for (int small = 0; small < 2; small++) {
        bar s = bar_make(12, small ? 0.2 : 1.6, 10, small ? 0.02 : 0.002);
        for (size_t i = 0; i < s.n; i++)
            s.sigma[i] = s.sigma[1];
        jaw_monte_places t = places(&s);
        jaw_monte_model model = {jaw_monte_cylinder, &t, VALUES};
        jaw_monte_plan plan = {.seed = 1, .most = 1000000,
                               .p = 0.95, .digits = 1, .share = 0.2};
        jaw_monte_summary out[VALUES];
        size_t trials;
        bool settled;
        ck_assert_int_eq(jaw_monte_settle(&model, &plan, out, &trials,
                                          &settled), JAW_OK);
        double u = s.sigma[1] * sqrt(s.c.q[5]);
        bool agrees = jaw_monte_agrees(
            &out[1], 0, jaw_trust_cover(0.95, INFINITY) * u, 1);
        ck_assert_msg(agrees == !small, "small %d: u %g, trials %g %g %g",
                      small, u, out[1].u, out[1].low, out[1].high);
        if (!small)
            near(out[1].u / u, 1, 0.02, "u");
    }
}
END_TEST

START_TEST(cylinder_odd)
{
    bar s = bar_make(8, 2, 10, 0.002);
    double v[VALUES], *out[VALUES] = {v, v + 1, v + 2, v + 3, v + 4};
    size_t failed;
    jaw_monte_places t = {s.p, 5, s.sigma};
    ck_assert_int_eq(jaw_monte_cylinder(&t, 1, 0, 1, out, &failed), JAW_EFEW);
    t.n = 8;
    ck_assert_int_eq(jaw_monte_cylinder(&t, 1, 0, 0, out, &failed), JAW_OK);
    s.sigma[2] = -1;
    ck_assert_int_eq(jaw_monte_cylinder(&t, 1, 0, 1, out, &failed),
                     JAW_EDOMAIN);
    s.sigma[2] = NAN;
    ck_assert_int_eq(jaw_monte_cylinder(&t, 1, 0, 1, out, &failed),
                     JAW_EDOMAIN);
    for (int i = 0; i < 8; i++)
        s.sigma[i] = 0; /* nothing moves */
    ck_assert_int_eq(jaw_monte_cylinder(&t, 1, 3, 1, out, &failed), JAW_OK);
    for (int k = 0; k < VALUES; k++)
        near(v[k], 0, 1e-12, "still");
    for (int i = 0; i < 8; i++)
        s.p[i] = (jaw_vec3){i, 2.0 * i, 0};
    ck_assert_int_eq(jaw_monte_cylinder(&t, 1, 0, 1, out, &failed), JAW_ERANK);
    s.p[1].x = NAN;
    ck_assert_int_eq(jaw_monte_cylinder(&t, 1, 0, 1, out, &failed),
                     JAW_ENOTFINITE);
}
END_TEST

/* Spread as large as the bar: many trials go the long way, and those that have
 * no cylinder are counted. */
START_TEST(cylinder_far_off)
{
    bar s = bar_make(9, 1, 1, 0.01);
    for (size_t i = 0; i < s.n; i++)
        s.sigma[i] = 0.5;
    jaw_monte_places t = {s.p, s.n, s.sigma};
    trials_counted(&(jaw_monte_model){jaw_monte_cylinder, &t, VALUES}, 100);
}
END_TEST

START_TEST(cylinder_without_memory)
{
    bar s = bar_make(8, 2, 10, 0.002);
    jaw_monte_places t = {s.p, s.n, s.sigma};
    trials_without_memory(&(jaw_monte_model){jaw_monte_cylinder, &t, VALUES}, 3);
}
END_TEST

TCase *monte_cylinder_case(void)
{
    TCase *tc = tcase_create("trials of cylinders");
    tcase_set_timeout(tc, 120);
    tcase_add_loop_test(tc, as_fitted_alone_cylinder, 0,
                        (int)(sizeof bars / sizeof bars[0]));
    tcase_add_test(tc, cylinder_shared_out);
    tcase_add_test(tc, arc_against_linear);
    tcase_add_test(tc, cylinder_odd);
    tcase_add_test(tc, cylinder_far_off);
    tcase_add_test(tc, cylinder_without_memory);
    return tc;
}
