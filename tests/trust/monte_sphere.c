/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Trials of spheres, each against jaw_fit_sphere on the same touches; however
 * they are shared out; and against linear propagation. */
#include "trust_tests.h"

#include "tests/near.h"

#include <jawline/trust.h>

#include <math.h>

enum { MOST = 12 };

typedef struct cap {
    size_t n;
    jaw_vec3 p[MOST];
    double sigma[MOST];
    jaw_sphere s;
} cap;

/* A ring that reaches so far down from the top (rad), one half way, the top. */
static cap cap_make(size_t n, double down, double r, double sigma)
{
    cap s = {.n = n};
    jaw_random random = jaw_random_stream(9, n);
    for (size_t i = 0; i < n; i++) {
        double t = 2.4 * (double)i;
        double a = i == 0 ? 0 : i % 3 == 2 ? down / 2 : down;
        double d = r + sigma * jaw_random_normal(&random);
        s.p[i] = (jaw_vec3){30 + d * sin(a) * cos(t), -20 + d * sin(a) * sin(t),
                            -90 + d * cos(a)};
        s.sigma[i] = sigma * (i % 3 == 0 ? 2 : 1);
    }
    ck_assert_int_eq(jaw_fit_sphere(s.p, n, &s.s, NULL), JAW_OK);
    return s;
}

/* Trial t as anybody would do it. */
static jaw_sphere alone(const cap *s, unsigned long long t)
{
    jaw_random r = jaw_random_stream(44, t);
    jaw_vec3 m[MOST];
    jaw_sphere c;
    for (size_t i = 0; i < s->n; i++) {
        double x = s->p[i].x - s->s.x, y = s->p[i].y - s->s.y;
        double z = s->p[i].z - s->s.z, d = hypot(hypot(x, y), z);
        double more = s->sigma[i] * jaw_random_normal(&r) / d;
        m[i] = (jaw_vec3){s->p[i].x + x * more, s->p[i].y + y * more,
                          s->p[i].z + z * more};
    }
    ck_assert_int_eq(jaw_fit_sphere(m, s->n, &c, NULL), JAW_OK);
    return c;
}

/* Half a ball to a cap of 17 degrees. */
static const struct {
    size_t n;
    double down, r, sigma;
} caps[] = {{8, 1.5, 10, 0.002}, {4, 1.5, 10, 0.002}, {12, 1.6, 25, 0.01},
            {8, 0.8, 10, 0.002}, {6, 0.6, 10, 0.001}, {8, 0.3, 10, 0.002},
            {8, 1.5, 0.5, 0.02}, {8, 1.5, 10, 0.5}};

START_TEST(as_fitted_alone_sphere)
{
    enum { N = 500 };
    cap s = cap_make(caps[_i].n, caps[_i].down, caps[_i].r, caps[_i].sigma);
    static double v[4][N];
    double *out[4] = {v[0], v[1], v[2], v[3]};
    size_t failed;
    jaw_monte_places t = {s.p, s.n, s.sigma};
    ck_assert_int_eq(jaw_monte_sphere(&t, 44, 0, N, out, &failed), JAW_OK);
    ck_assert_uint_eq(failed, 0);
    double tol = 1e-10 * s.s.r + 1e-12 * s.s.q[7];
    for (size_t i = 0; i < N; i++) {
        jaw_sphere c = alone(&s, i);
        near(v[0][i], c.x - s.s.x, tol, "x");
        near(v[1][i], c.y - s.s.y, tol, "y");
        near(v[2][i], c.z - s.s.z, tol, "z");
        near(v[3][i], c.r - s.s.r, tol, "r");
    }
}
END_TEST

START_TEST(sphere_shared_out)
{
    cap s = cap_make(8, 1.5, 10, 0.002);
    jaw_monte_places t = {s.p, s.n, s.sigma};
    trials_shared_out(&(jaw_monte_model){jaw_monte_sphere, &t, 4}, 300);
}
END_TEST

/* Over half a ball the linear figure of z holds; on a small cap it does not. */
START_TEST(cap_against_linear)
{
    for (int small = 0; small < 2; small++) {
        cap s = cap_make(8, small ? 0.2 : 1.5, 10, small ? 0.01 : 0.002);
        for (size_t i = 0; i < s.n; i++)
            s.sigma[i] = s.sigma[1];
        jaw_monte_places t = {s.p, s.n, s.sigma};
        jaw_monte_model model = {jaw_monte_sphere, &t, 4};
        jaw_monte_plan plan = {.seed = 1, .most = 1000000,
                               .p = 0.95, .digits = 1, .share = 0.2};
        jaw_monte_summary out[4];
        size_t trials;
        bool settled;
        ck_assert_int_eq(jaw_monte_settle(&model, &plan, out,
                                          &trials, &settled), JAW_OK);
        double u = s.sigma[1] * sqrt(s.s.q[7]);
        bool agrees = jaw_monte_agrees(&out[2], 0, jaw_trust_cover(0.95,
                                       INFINITY) * u, 1);
        ck_assert_msg(agrees == !small, "small %d: u %g, trials %g %g %g",
                      small, u, out[2].u, out[2].low, out[2].high);
        if (!small)
            near(out[2].u / u, 1, 0.02, "u");
    }
}
END_TEST

START_TEST(sphere_odd)
{
    cap s = cap_make(6, 1.5, 10, 0.002);
    double v[4], *out[4] = {v, v + 1, v + 2, v + 3};
    size_t failed;
    jaw_monte_places t = {s.p, 3, s.sigma};
    ck_assert_int_eq(jaw_monte_sphere(&t, 1, 0, 1, out, &failed), JAW_EFEW);
    t.n = 6;
    ck_assert_int_eq(jaw_monte_sphere(&t, 1, 0, 0, out, &failed), JAW_OK);
    s.sigma[2] = -1;
    ck_assert_int_eq(jaw_monte_sphere(&t, 1, 0, 1, out, &failed), JAW_EDOMAIN);
    s.sigma[2] = NAN;
    ck_assert_int_eq(jaw_monte_sphere(&t, 1, 0, 1, out, &failed), JAW_EDOMAIN);
    for (int i = 0; i < 6; i++)
        s.sigma[i] = 0; /* nothing moves */
    ck_assert_int_eq(jaw_monte_sphere(&t, 1, 3, 1, out, &failed), JAW_OK);
    for (int k = 0; k < 4; k++)
        near(v[k], 0, 1e-12, "still");
    for (int i = 0; i < 6; i++)
        s.p[i] = (jaw_vec3){i, 2.0 * i, 0};
    ck_assert_int_eq(jaw_monte_sphere(&t, 1, 0, 1, out, &failed), JAW_ERANK);
    s.p[1].x = NAN;
    ck_assert_int_eq(jaw_monte_sphere(&t, 1, 0, 1, out, &failed),
                     JAW_ENOTFINITE);
}
END_TEST

/* Spread as large as the ball: many trials go the long way, and any that
 * had no sphere would be counted. */
START_TEST(sphere_far_off)
{
    cap s = cap_make(5, 1, 1, 0.01);
    for (size_t i = 0; i < s.n; i++)
        s.sigma[i] = 0.5;
    jaw_monte_places t = {s.p, s.n, s.sigma};
    trials_counted(&(jaw_monte_model){jaw_monte_sphere, &t, 4}, 300);
}
END_TEST

START_TEST(sphere_without_memory)
{
    cap s = cap_make(6, 1.5, 10, 0.002);
    jaw_monte_places t = {s.p, s.n, s.sigma};
    trials_without_memory(&(jaw_monte_model){jaw_monte_sphere, &t, 4}, 3);
}
END_TEST

TCase *monte_sphere_case(void)
{
    TCase *tc = tcase_create("monte_sphere");
    tcase_set_timeout(tc, 60);
    tcase_add_loop_test(tc, as_fitted_alone_sphere, 0, COUNT(caps));
    tcase_add_test(tc, sphere_shared_out);
    tcase_add_test(tc, cap_against_linear);
    tcase_add_test(tc, sphere_odd);
    tcase_add_test(tc, sphere_far_off);
    tcase_add_test(tc, sphere_without_memory);
    return tc;
}
