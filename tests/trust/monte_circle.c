/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Trials of circles, each against jaw_fit_circle on the same touches; both
 * widths; however they are shared out; and against linear propagation. */
#include "trust_tests.h"

#include "tests/near.h"

#include <jawline/trust.h>

#include "src/trust/circle_trials.h"

#include <stdio.h>

#include <stdlib.h>

enum { MOST = 12 };

typedef struct ring {
    size_t n;
    jaw_vec2 p[MOST];
    double sigma[MOST];
    jaw_circle c;
} ring;

static ring ring_make(size_t n, double arc, double r, double sigma)
{
    ring s = {.n = n};
    jaw_random random = jaw_random_stream(9, n);
    for (size_t i = 0; i < n; i++) {
        double t = 0.7 + arc * (double)i / (double)(n - 1);
        double d = r + sigma * jaw_random_normal(&random);
        s.p[i] = (jaw_vec2){30 + d * cos(t), -20 + d * sin(t)};
        s.sigma[i] = sigma * (i % 3 == 0 ? 2 : 1);
    }
    ck_assert_int_eq(jaw_fit_circle(s.p, n, &s.c, NULL), JAW_OK);
    return s;
}

/* Trial t as anybody would do it. */
static jaw_circle alone(const ring *s, unsigned long long t)
{
    jaw_random r = jaw_random_stream(44, t);
    jaw_vec2 m[MOST];
    jaw_circle c;
    for (size_t i = 0; i < s->n; i++) {
        double x = s->p[i].x - s->c.x, y = s->p[i].y - s->c.y, d = hypot(x, y);
        double more = s->sigma[i] * jaw_random_normal(&r) / d;
        m[i] = (jaw_vec2){s->p[i].x + x * more, s->p[i].y + y * more};
    }
    ck_assert_int_eq(jaw_fit_circle(m, s->n, &c, NULL), JAW_OK);
    return c;
}

/* Whole circle to a bow of 17 degrees.  Rounding of the touches themselves is
 * magnified by the shape, so the tolerance is 1e-12 mm times that. */
static const struct {
    size_t n;
    double arc, r, sigma;
} rings[] = {{8, 5.5, 10, 0.002}, {3, 4, 10, 0.002},   {12, 6, 25, 0.01},
             {8, 2, 10, 0.002},   {8, 1, 10, 0.002},   {5, 0.6, 10, 0.001},
             {8, 0.3, 50, 0.001}, {8, 5.5, 0.5, 0.02}, {8, 5.5, 10, 0.5},
             {8, 0.3, 10, 0.01}};

START_TEST(as_fitted_alone)
{
    enum { N = 4000 };
    ring s = ring_make(rings[_i].n, rings[_i].arc, rings[_i].r,
                       rings[_i].sigma);
    static double v[3][N];
    double *out[3] = {v[0], v[1], v[2]};
    size_t failed;
    jaw_monte_touches t = {s.p, s.n, s.sigma};
    ck_assert_int_eq(jaw_monte_circle(&t, 44, 0, N, out, &failed), JAW_OK);
    ck_assert_uint_eq(failed, 0);
    double tol = 1e-12 * fmax(1, s.c.q[0] + s.c.q[3]);
    for (size_t i = 0; i < N; i++) {
        jaw_circle c = alone(&s, i);
        near(v[0][i], c.x - s.c.x, tol, "x");
        near(v[1][i], c.y - s.c.y, tol, "y");
        near(v[2][i], c.r - s.c.r, tol, "r");
    }
}
END_TEST

/* In pieces that end anywhere, to the last bit. */
START_TEST(however_shared_out)
{
    ring s = ring_make(8, 5.5, 10, 0.002);
    jaw_monte_touches t = {s.p, s.n, s.sigma};
    trials_shared_out(&(jaw_monte_model){jaw_monte_circle, &t, 3}, 1000);
}
END_TEST

/* Both widths on the same group. */
START_TEST(both_widths)
{
    jaw__circle_group *wide = jaw__circle_group_avx2();
    if (wide == NULL) {
        puts("left out: four lanes (not on this machine)");
        return;
    }
    enum { N = 6 };
    jaw__ray ray[N];
    double error[2][N * JAW__GROUP], um = 0;
    for (int i = 0; i < N; i++) /* a whole turn: both means are 0 */
        ray[i] = (jaw__ray){.u = cos(1.0471975511965976 * i),
                            .v = sin(1.0471975511965976 * i),
                            .sigma = 0.01,
                            .ka = cos(1.0471975511965976 * i) / 3,
                            .kb = sin(1.0471975511965976 * i) / 3};
    jaw__circle_trials t = {.n = N, .r = 10, .um = um, .tolerance = 1.4e-13,
                            .ray = ray, .error = error[0], .seed = 8};
    double a[2][JAW__GROUP], b[2][JAW__GROUP], rho[2][JAW__GROUP];
    double good[2][JAW__GROUP];
    for (unsigned long long first = 0; first < 8000; first += JAW__GROUP) {
        t.error = error[0];
        jaw__circle_group_plain(&t, first, a[0], b[0], rho[0], good[0]);
        t.error = error[1];
        wide(&t, first, a[1], b[1], rho[1], good[1]);
        ck_assert_mem_eq(error[0], error[1], sizeof error[0]);
        for (int k = 0; k < JAW__GROUP; k++) {
            ck_assert(good[0][k] == 1 && good[1][k] == 1);
            /* one may stop a step earlier: what remains is some t.tolerance */
            near(a[0][k], a[1][k], 1e-12, "a");
            near(b[0][k], b[1][k], 1e-12, "b");
            near(rho[0][k], rho[1][k], 1e-12, "rho");
        }
    }
}
END_TEST

/* A whole circle: the linear propagation holds, and the supplement's test says
 * so; a bow with coarse touches: it does not, and the test says so. */
START_TEST(against_linear)
{
    for (int bow = 0; bow < 2; bow++) {
        ring s = ring_make(8, bow ? 0.35 : 5.5, 10, bow ? 0.01 : 0.002);
        for (size_t i = 0; i < s.n; i++)
            s.sigma[i] = s.sigma[1];
        jaw_monte_touches t = {s.p, s.n, s.sigma};
        jaw_monte_model model = {jaw_monte_circle, &t, 3};
        jaw_monte_plan plan = {.seed = 1, .most = 3000000,
                               .p = 0.95, .digits = 1, .share = 0.2};
        jaw_monte_summary out[3];
        size_t trials;
        bool settled;
        ck_assert_int_eq(jaw_monte_settle(&model, &plan, out,
                                          &trials, &settled), JAW_OK);
        ck_assert(settled);
        double u = s.sigma[1] * sqrt(s.c.q[5]);
        bool agrees = jaw_monte_agrees(&out[2], 0, jaw_trust_cover(0.95,
                                       INFINITY) * u, 1);
        ck_assert_msg(agrees == !bow, "bow %d: u %g, trials %g %g %g", bow, u,
                      out[2].u, out[2].low, out[2].high);
        if (!bow)
            near(out[2].u / u, 1, 0.02, "u");
    }
}
END_TEST

START_TEST(circle_odd)
{
    ring s = ring_make(5, 4, 10, 0.002);
    double v[3], *out[3] = {v, v + 1, v + 2};
    size_t failed;
    jaw_monte_touches t = {s.p, 2, s.sigma};
    ck_assert_int_eq(jaw_monte_circle(&t, 1, 0, 1, out, &failed), JAW_EFEW);
    t.n = 5;
    ck_assert_int_eq(jaw_monte_circle(&t, 1, 0, 0, out, &failed), JAW_OK);
    s.sigma[2] = -1;
    ck_assert_int_eq(jaw_monte_circle(&t, 1, 0, 1, out, &failed), JAW_EDOMAIN);
    s.sigma[2] = NAN;
    ck_assert_int_eq(jaw_monte_circle(&t, 1, 0, 1, out, &failed), JAW_EDOMAIN);
    for (int i = 0; i < 5; i++)
        s.sigma[i] = 0; /* nothing moves */
    ck_assert_int_eq(jaw_monte_circle(&t, 1, 3, 1, out, &failed), JAW_OK);
    for (int k = 0; k < 3; k++)
        near(v[k], 0, 1e-14, "still");
    for (int i = 0; i < 5; i++)
        s.p[i] = (jaw_vec2){i, 2.0 * i};
    ck_assert_int_eq(jaw_monte_circle(&t, 1, 0, 1, out, &failed), JAW_ERANK);
    s.p[1].x = NAN;
    ck_assert_int_eq(jaw_monte_circle(&t, 1, 0, 1, out, &failed),
                     JAW_ENOTFINITE);
}
END_TEST

/* Spread as large as the ring: many trials go the long way, and those that
 * have no circle are counted. */
START_TEST(far_off)
{
    ring s = ring_make(4, 3, 1, 0.01);
    for (size_t i = 0; i < s.n; i++)
        s.sigma[i] = 0.5;
    jaw_monte_touches t = {s.p, s.n, s.sigma};
    trials_counted(&(jaw_monte_model){jaw_monte_circle, &t, 3}, 2000);
}
END_TEST

TCase *monte_circle_case(void)
{
    TCase *tc = tcase_create("monte_circle");
    tcase_add_loop_test(tc, as_fitted_alone, 0, COUNT(rings));
    tcase_add_test(tc, however_shared_out);
    tcase_add_test(tc, both_widths);
    tcase_add_test(tc, against_linear);
    tcase_add_test(tc, circle_odd);
    tcase_add_test(tc, far_off);
    return tc;
}
