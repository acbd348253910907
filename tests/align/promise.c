/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is promised: 95 % intervals that hold the truth in 95 of 100 sets.
 * JAW_PROMISE_SETS in the environment asks for more of them. */
#include "align_tests.h"

static const double sigma = 0.003;

static bool is_inside(jaw_figure f, double truth)
{
    ck_assert(f.u > 0 && f.half95 > 0);
    return fabs(f.value - truth) <= f.half95;
}

/* Five or six readings, spread stated or not. */
START_TEST(wall_keeps_its_promise)
{
    random_source r = random_start("wall_keeps_its_promise", 101);
    const int sets = promise_sets();
    double repeat = _i ? sigma : NOT;
    int skew = 0, tap = 0;
    for (int set = 0; set < sets; set++) {
        size_t n = 3 + random_below(&r, 4);
        double at[6], v[6], lean = random_between(&r, -0.01, 0.01);
        world_wall w = {{0, 0}, lean};
        jaw_swept_wall s;
        for (size_t i = 0; i < n; i++)
            at[i] = 20 * (double)i + random_between(&r, -5, 5);
        world_sweep(&w, JAW_SIDE_YMINUS, at, v, n);
        for (size_t i = 0; i < n; i++)
            v[i] += sigma * random_normal(&r);
        ck_status(jaw_align_wall(at, v, n, JAW_SIDE_YMINUS, repeat, &s, NULL),
                  JAW_OK, "wall");
        skew += is_inside(s.skew, lean);
        jaw_figure out = jaw_figure_make(tan(s.skew.value) * s.span, s.tap_u,
                                         s.skew.dof);
        tap += is_inside(out, tan(lean) * s.span);
    }
    holds(skew, sets, 0.95, "skew");
    holds(tap, sets, 0.95, "tap");
}
END_TEST

START_TEST(head_keeps_its_promise)
{
    random_source r = random_start("head_keeps_its_promise", 102);
    const int sets = promise_sets();
    double repeat = _i ? sigma : NOT;
    int x = 0, y = 0;
    for (int set = 0; set < sets; set++) {
        size_t n = 4 + random_below(&r, 5);
        double a[8], v[8];
        double p = random_between(&r, -0.001, 0.001);
        double q = random_between(&r, -0.001, 0.001);
        world_spindle w = world_lean(p, q);
        jaw_swung_head h;
        for (size_t i = 0; i < n; i++) {
            a[i] = 2 * PI * (double)i / (double)n +
                   random_between(&r, -0.2, 0.2);
            v[i] = world_swing(&w, 100, a[i]) + sigma * random_normal(&r);
        }
        ck_status(jaw_align_head(a, v, n, 100, NOT, NOT, repeat, &h, NULL),
                  JAW_OK, "head");
        x += is_inside(h.tilt[0], atan(p));
        y += is_inside(h.tilt[1], atan(q));
    }
    holds(x, sets, 0.95, "towards X");
    holds(y, sets, 0.95, "towards Y");
}
END_TEST

/* Shifts up to a fifth of the radius, where the second order is many times the
 * spread of a reading; bores and bosses. */
START_TEST(round_keeps_its_promise)
{
    random_source r = random_start("round_keeps_its_promise", 103);
    const int sets = promise_sets();
    double repeat = _i ? sigma : NOT;
    int x = 0, y = 0, both = 0;
    for (int set = 0; set < sets; set++) {
        size_t n = 4 + random_below(&r, 5);
        double a[8], v[8], radius = 12;
        jaw_vec2 e = {random_between(&r, -1.7, 1.7),
                      random_between(&r, -1.7, 1.7)};
        jaw_swept_round s;
        for (size_t i = 0; i < n; i++) {
            a[i] = 2 * PI * (double)i / (double)n +
                   random_between(&r, -0.2, 0.2);
            v[i] = world_round((jaw_vec2){0, 0}, e, radius, set & 1, a[i]) +
                   sigma * random_normal(&r);
        }
        ck_status(jaw_align_round(a, v, n, set & 1, radius, repeat, &s, NULL),
                  JAW_OK, "round");
        double dx = s.shift[0].value - e.x, dy = s.shift[1].value - e.y;
        x += is_inside(s.shift[0], e.x);
        y += is_inside(s.shift[1], e.y);
        /* the ellipse of both: F(2, dof), chi-square / 2 when it is stated */
        double det = s.cov[0] * s.cov[2] - s.cov[1] * s.cov[1];
        double q = (dx * dx * s.cov[2] - 2 * dx * dy * s.cov[1] +
                    dy * dy * s.cov[0]) / det / 2;
        both += q <= (isinf(s.shift[0].dof)
                          ? jaw_trust_chi2(0.05, 2) / 2
                          : jaw_trust_f(0.05, 2, s.shift[0].dof));
    }
    holds(x, sets, 0.95, "x");
    holds(y, sets, 0.95, "y");
    holds(both, sets, 0.95, "both at once");
}
END_TEST

/* Four sweeps of four readings.  Stated: exactly 95.  Not stated: the effective
 * degrees of freedom are an approximation (align.h). */
START_TEST(square_keeps_its_promise)
{
    random_source r = random_start("square_keeps_its_promise", 104);
    const int sets = promise_sets();
    static const double at[] = {0, 30, 60, 90};
    double repeat = _i ? sigma : NOT;
    int machine = 0, square = 0;
    for (int set = 0; set < sets; set++) {
        double m = random_between(&r, -1e-3, 1e-3);
        double s = random_between(&r, -1e-3, 1e-3);
        /* skews as square_of_the_world has shown them to be */
        const double lean[] = {s - m, -s - m, 0, 0};
        jaw_swept_wall w[4];
        jaw_reversed_square f;
        for (int k = 0; k < 4; k++) {
            double v[4];
            for (int i = 0; i < 4; i++)
                v[i] = tan(lean[k]) * at[i] + sigma * random_normal(&r);
            ck_status(jaw_align_wall(at, v, 4, JAW_SIDE_YPLUS, repeat, &w[k],
                                     NULL), JAW_OK, "wall");
        }
        ck_status(jaw_align_square(w, w + 2, NOT, &f), JAW_OK, "square");
        machine += is_inside(f.machine, m);
        square += is_inside(f.square, s);
    }
    if (_i) {
        holds(machine, sets, 0.95, "machine");
        holds(square, sets, 0.95, "square");
        return;
    }
    printf("square, not stated: %.4f %.4f\n", machine / (double)sets,
           square / (double)sets);
    double allowed = 4 * sqrt(0.95 * 0.05 / sets);
    ck_assert(machine > (0.95 - allowed) * sets);
    ck_assert(machine < (0.97 + allowed) * sets);
    ck_assert(square > (0.95 - allowed) * sets);
    ck_assert(square < (0.97 + allowed) * sets);
}
END_TEST

TCase *promise_case(void)
{
    TCase *tc = tcase_create("promise");
    tcase_set_timeout(tc, 600);
    tcase_add_loop_test(tc, wall_keeps_its_promise, 0, 2);
    tcase_add_loop_test(tc, head_keeps_its_promise, 0, 2);
    tcase_add_loop_test(tc, round_keeps_its_promise, 0, 2);
    tcase_add_loop_test(tc, square_keeps_its_promise, 0, 2);
    return tc;
}
