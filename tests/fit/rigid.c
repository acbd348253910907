/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Turn and shift of one set of points onto another. */
#include "fit_tests.h"

static const struct {
    const char *file, *prefix;
} files[] = {
    /* Umeyama, IEEE PAMI 13 (1991) 376-380, section IV: a mirror image would
     * fit without residual and must not be returned */
    {"rigid2_umeyama1991", "rigid_"},
    /* computed by this project with 50 digits, tests/data/README.md */
    {"stress/rigid2_tiny_angle", NULL},
    {"stress/rigid2_near_180", NULL},
    {"stress/rigid2_nearly_symmetric", NULL},
    {"stress/rigid2_far", NULL},
    {"stress/rigid2_close_points", NULL},
    {"stress/rigid2_two_points", NULL},
};

START_TEST(reference)
{
    data d;
    jaw_vec2 a[ROWS], b[ROWS], resid[ROWS];
    jaw_rigid r;
    const char *file = files[_i].file, *pre = files[_i].prefix;
    data_read(&d, file);
    size_t n = data_points(&d, NULL, "ax", "ay", a);
    (void)data_points(&d, NULL, "bx", "by", b);
    ck_assert_int_eq(jaw_fit_rigid(a, b, NULL, n, &r, resid), JAW_OK);
    double root = sqrt((double)n);
    double move = moved_by(a, n, FACTOR) + moved_by(b, n, FACTOR);
    double turn = root * move * sqrt(r.q_turn) / r.scale + 2 * EPS;
    near(r.frame.turn, data_want(&d, pre, "theta"), turn, file);
    double reach = size_of(a, n) + size_of(b, n);
    near(r.frame.origin.x, data_want(&d, pre, "tx"), turn * reach + move, file);
    near(r.frame.origin.y, data_want(&d, pre, "ty"), turn * reach + move, file);
    near(sqrt(r.ssr), sqrt(data_want(&d, pre, "ssr")), root * move, file);
    near(r.s, data_want(&d, pre, "s"), 2 * root * move, file);
    near(r.frame.c, cos(r.frame.turn), 2 * EPS, "c");
    near(r.frame.s, sin(r.frame.turn), 2 * EPS, "s");
    ck_assert_int_eq(r.dof, 2 * (int)n - 3);
    ck_assert_uint_eq(r.flags, 0);
    double u = data_want(&d, pre, "u_theta");
    if (!isnan(u))
        near(r.u_turn, u, 2 * root * move * sqrt(r.q_turn) + 1e-14 * u, file);
    for (size_t i = 0; i < n; i++) {
        char name[32];
        snprintf(name, sizeof name, "vx_%zu", i + 1);
        double want = data_want(&d, pre, name);
        if (!isnan(want))
            near(resid[i].x, want, 2 * move, name);
        name[1] = 'y';
        want = data_want(&d, pre, name);
        if (!isnan(want))
            near(resid[i].y, want, 2 * move, name);
    }
    data_free(&d);
}
END_TEST

/* Umeyama's example: scale sqrt(13)/5, and the mirror image fits exactly.
 * With scale 1 the best turn is the same. */
START_TEST(umeyama)
{
    const jaw_vec2 a[] = {{0, 0}, {1, 0}, {0, 2}};
    const jaw_vec2 b[] = {{0, 0}, {-1, 0}, {0, 2}};
    jaw_rigid r;
    ck_assert_int_eq(jaw_fit_rigid(a, b, NULL, 3, &r, NULL), JAW_OK);
    near(r.scale, sqrt(13) / 5, 4 * EPS, "scale");
    near(r.frame.c, 3 / sqrt(13), 4 * EPS, "cos");
    near(r.frame.s, -2 / sqrt(13), 4 * EPS, "sin");
    near(r.mirror_ssr, 0, 1e-30, "mirror");
    near(r.from_mean.x, 1.0 / 3, EPS, "mean");
    near(r.to_mean.y, 2.0 / 3, EPS, "mean");
}
END_TEST

/* Ghilani, Adjustment Computations, chapter 18: four-parameter transformation,
 * parameters as printed a = -4.51249, b = -0.25371. */
START_TEST(ghilani)
{
    data d;
    jaw_vec2 a[ROWS], b[ROWS];
    jaw_rigid r;
    double want, half;
    data_read(&d, "similarity2_ghilani");
    size_t n = data_points(&d, NULL, d.head[d.columns - 4],
                           d.head[d.columns - 3], a);
    (void)data_points(&d, NULL, d.head[d.columns - 2], d.head[d.columns - 1],
                      b);
    ck_assert_int_eq(jaw_fit_rigid(a, b, NULL, n, &r, NULL), JAW_OK);
    near(r.scale, data_want(&d, NULL, "scale"), 1e-12, "scale");
    near(r.frame.turn, data_want(&d, NULL, "theta"), 1e-12, "turn");
    ck_assert(data_published(&d, "a", &want, &half));
    near(r.scale * r.frame.c, want, half, "a");
    ck_assert(data_published(&d, "b", &want, &half));
    near(r.scale * r.frame.s, want, half, "b");
    data_free(&d);
}
END_TEST

static size_t random_sets(jaw_vec2 a[], jaw_vec2 b[], double w[],
                          jaw_frame *f, double rough)
{
    size_t n = 2 + (size_t)random_even(0, 10);
    *f = jaw_frame_make((jaw_vec2){random_even(-99, 99), random_even(-9, 9)},
                        random_even(-3.1415, 3.1415));
    for (size_t i = 0; i < n; i++) {
        a[i] = (jaw_vec2){random_even(-40, 40), random_even(-40, 40)};
        b[i] = jaw_machine_from_work(f, a[i]);
        b[i].x += rough * random_normal();
        b[i].y += rough * random_normal();
        w[i] = random_size(-2, 2);
    }
    return n;
}

/* Without noise the frame comes back, whatever the weights. */
START_TEST(there_and_back)
{
    random_start("rigid there and back");
    for (int k = 0; k < 3000; k++) {
        jaw_vec2 a[12], b[12], resid[12];
        double w[12];
        jaw_frame f;
        jaw_rigid r;
        size_t n = random_sets(a, b, w, &f, 0);
        ck_assert_int_eq(jaw_fit_rigid(a, b, k % 2 ? w : NULL, n, &r, resid),
                         JAW_OK);
        double move = 4 * moved_by(b, n, FACTOR);
        double total = k % 2 ? 1 / r.q_shift : (double)n;
        double turn = move * sqrt(r.q_turn * total);
        near(remainder(r.frame.turn - f.turn, 2 * acos(-1.0)), 0,
             turn + 4 * EPS, "turn");
        near(r.frame.origin.x, f.origin.x, 200 * turn + move, "x");
        near(r.frame.origin.y, f.origin.y, 200 * turn + move, "y");
        near(r.scale, 1, turn + 8 * EPS, "scale");
        ck_assert(r.frame.turn > -acos(-1.0) && r.frame.turn <= acos(-1.0));
    }
}
END_TEST

/* A weight of k is k equal points; only their proportion matters. */
START_TEST(weights)
{
    const jaw_vec2 a[] = {{0, 0}, {10, 0}, {10, 0}, {10, 0}, {0, 5}, {0, 5}};
    const jaw_vec2 b[] = {{1, 1}, {1, 11.01}, {1, 11.01}, {1, 11.01},
                          {-4, 1.02}, {-4, 1.02}};
    const jaw_vec2 a3[] = {{0, 0}, {10, 0}, {0, 5}};
    const jaw_vec2 b3[] = {{1, 1}, {1, 11.01}, {-4, 1.02}};
    static const double scale[] = {1, 3e-7, 1e250, 1e-250};
    jaw_rigid six, r;
    ck_assert_int_eq(jaw_fit_rigid(a, b, NULL, 6, &six, NULL), JAW_OK);
    for (int k = 0; k < COUNT(scale); k++) {
        const double c = scale[k], w[] = {c, 3 * c, 2 * c};
        ck_assert_int_eq(jaw_fit_rigid(a3, b3, w, 3, &r, NULL), JAW_OK);
        near(r.frame.turn, six.frame.turn, 4 * EPS, "turn");
        near(r.frame.origin.x, six.frame.origin.x, 32 * EPS, "x");
        near(r.ssr / c, six.ssr, 1e-12 * six.ssr, "ssr");
        near(r.rms, six.rms, 1e-12 * six.rms, "rms");
        near(r.q_turn * c, six.q_turn, 1e-13 * six.q_turn, "q_turn");
        near(r.q_shift * c, six.q_shift, 1e-13 * six.q_shift, "q_shift");
        near(r.s / sqrt(c), sqrt(six.ssr / 3), 1e-12 * r.s / sqrt(c), "s");
        near(r.u_turn, sqrt(six.ssr / 3 * six.q_turn), 1e-12 * r.u_turn,
             "u_turn does not depend on the scale of weights");
        near(r.u_shift, sqrt(six.ssr / 3 * six.q_shift), 1e-12 * r.u_shift,
             "u_shift");
        near(r.mirror_ssr / c, six.mirror_ssr, 1e-12 * six.mirror_ssr,
             "mirror");
    }
}
END_TEST

START_TEST(quarter_turns)
{
    const jaw_vec2 a[] = {{0, 0}, {10, 0}, {0, 5}};
    const jaw_vec2 b[][3] = {{{0, 0}, {0, 10}, {-5, 0}},
                             {{0, 0}, {-10, 0}, {0, -5}},
                             {{0, 0}, {0, -10}, {5, 0}}};
    const double turn[] = {acos(-1.0) / 2, acos(-1.0), -acos(-1.0) / 2};
    for (int k = 0; k < 3; k++) {
        jaw_rigid r;
        ck_assert_int_eq(jaw_fit_rigid(a, b[k], NULL, 3, &r, NULL), JAW_OK);
        near(r.frame.turn, turn[k], 2 * EPS, "turn");
        near(fabs(r.frame.c) + fabs(r.frame.s), 1, 4 * EPS, "square");
    }
}
END_TEST

START_TEST(any_scale)
{
    static const int power[] = {-900, -300, 300, 900};
    const jaw_vec2 a[] = {{0, 0}, {10, 1}, {0, 5}};
    const jaw_vec2 b[] = {{3, 1}, {12, 4.5}, {1, 5.75}};
    jaw_rigid one, r;
    ck_assert_int_eq(jaw_fit_rigid(a, b, NULL, 3, &one, NULL), JAW_OK);
    for (int k = 0; k < COUNT(power); k++) {
        jaw_vec2 p[3], q[3], resid[3];
        for (int i = 0; i < 3; i++) {
            p[i] = (jaw_vec2){ldexp(a[i].x, power[k]), ldexp(a[i].y, power[k])};
            q[i] = (jaw_vec2){ldexp(b[i].x, power[k]), ldexp(b[i].y, power[k])};
        }
        ck_assert_int_eq(jaw_fit_rigid(p, q, NULL, 3, &r, resid), JAW_OK);
        near(r.frame.turn, one.frame.turn, 2 * EPS, "turn");
        near(r.s, ldexp(one.s, power[k]), 16 * EPS * r.s, "s");
        near(r.u_turn, one.u_turn, 16 * EPS, "u_turn");
        near(r.u_shift, ldexp(one.u_shift, power[k]), 16 * EPS * r.s,
             "u_shift");
    }
}
END_TEST

static void refused(const jaw_vec2 a[], const jaw_vec2 b[], const double w[],
                    size_t n, jaw_status want)
{
    jaw_rigid r;
    jaw_vec2 resid[8] = {{0, 0}};
    memset(&r, 0, sizeof r);
    ck_assert_int_eq(jaw_fit_rigid(a, b, w, n, &r, resid), want);
    nan_all(&r.frame.origin.x, offsetof(jaw_rigid, dof) / sizeof(double),
            "rigid");
    nan_all(&resid[0].x, 2 * n, "resid");
    ck_assert_int_eq(r.dof, 0);
    ck_assert_uint_eq(r.flags, 0);
}

START_TEST(statuses)
{
    jaw_vec2 a[] = {{0, 0}, {10, 0}, {0, 5}}, b[] = {{1, 1}, {1, 9}, {-4, 1}};
    const jaw_vec2 one[] = {{7, 7}, {7, 7}, {7, 7}};
    refused(a, b, NULL, 0, JAW_EFEW);
    refused(a, b, NULL, 1, JAW_EFEW);
    refused(a, one, NULL, 3, JAW_ERANK);
    refused(one, b, NULL, 3, JAW_ERANK);
    const double bad[] = {0, -1, NAN_D, HUGE_VAL};
    const jaw_status want[] = {JAW_EDOMAIN, JAW_EDOMAIN, JAW_ENOTFINITE,
                               JAW_ENOTFINITE};
    for (int k = 0; k < 4; k++) {
        const double w[] = {1, bad[k], 1};
        refused(a, b, w, 3, want[k]);
    }
    a[1].x = NAN_D;
    refused(a, b, NULL, 3, JAW_ENOTFINITE);
    a[1].x = 10;
    b[2].y = -HUGE_VAL;
    refused(a, b, NULL, 3, JAW_ENOTFINITE);
    /* a square carried onto its mirror image: every turn fits as badly */
    const jaw_vec2 square[] = {{1, 0}, {0, 1}, {-1, 0}, {0, -1}};
    const jaw_vec2 mirror[] = {{1, 0}, {0, -1}, {-1, 0}, {0, 1}};
    refused(square, mirror, NULL, 4, JAW_ERANK);
}
END_TEST

/* 13 degrees of freedom: Student's t gives 93.3 in 100. */
START_TEST(uncertainty_holds)
{
    enum { SETS = 5000, N = 8 };
    int in_turn = 0, in_x = 0;
    random_start("rigid uncertainty");
    for (int k = 0; k < SETS; k++) {
        jaw_vec2 a[N], b[N];
        jaw_rigid r;
        for (int i = 0; i < N; i++) {
            a[i] = (jaw_vec2){random_even(-40, 40), random_even(-40, 40)};
            b[i] = (jaw_vec2){a[i].x + 1e-3 * random_normal(),
                              a[i].y + 1e-3 * random_normal()};
        }
        ck_assert_int_eq(jaw_fit_rigid(a, b, NULL, N, &r, NULL), JAW_OK);
        in_turn += fabs(r.frame.turn) <= 2 * r.u_turn;
        in_x += fabs(r.to_mean.x - r.from_mean.x) <= 2 * r.u_shift;
    }
    ck_assert_msg(abs(in_turn - 4665) < 70, "turn: %d", in_turn);
    ck_assert_msg(abs(in_x - 4665) < 70, "x: %d", in_x);
}
END_TEST

TCase *rigid_case(void)
{
    TCase *tc = tcase_create("rigid");
    tcase_add_loop_test(tc, reference, 0, COUNT(files));
    tcase_add_test(tc, umeyama);
    tcase_add_test(tc, ghilani);
    tcase_add_test(tc, there_and_back);
    tcase_add_test(tc, weights);
    tcase_add_test(tc, quarter_turns);
    tcase_add_test(tc, any_scale);
    tcase_add_test(tc, statuses);
    tcase_add_test(tc, uncertainty_holds);
    return tc;
}
