/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of face.c: a flat from above, level or tilted, round end or flat. */
#include "feature_tests.h"
#include "true.h"

#include "tests/near.h"

#define NOT ((double)NAN)

static jaw_tip ball_of(double diameter)
{
    return jaw_tip_make(JAW_TIP_BALL, diameter);
}

static void face_is_nan(const jaw_face *f, const char *name)
{
    const double x[] = {f->point.x,  f->point.y,  f->point.z, f->normal.x,
                        f->normal.y, f->normal.z, f->slope.x, f->slope.y,
                        f->u_offset, f->rms};
    all_nan(x, COUNT(x), name);
    ck_assert_uint_eq(f->flags, 0);
}

/* ------------------------------------------------------------------ by hand */

START_TEST(one_touch_is_taken_as_level)
{
    jaw_touch t = {NOT, NOT, -50.25};
    jaw_tip tip = ball_of(4);
    jaw_face f;
    double resid;
    ck_status(jaw_feature_face(&t, 1, &tip, &f, &resid), JAW_OK);
    near(f.point.z, -50.25, 0, "the lowest point of a ball is its end");
    ck_assert(isnan(f.point.x) && isnan(f.point.y));
    near(f.normal.z, 1, 0, "normal");
    near(f.slope.x, 0, 0, "slope x");
    near(f.slope.y, 0, 0, "slope y");
    near(resid, 0, 0, "residual");
    ck_assert(isnan(f.rms) && isnan(f.u_offset));
    ck_assert_int_eq(f.dof, 0);
    ck_assert_uint_eq(f.flags, JAW_LEVEL_ASSUMED | JAW_NO_CHECK);
}
END_TEST

/* -10.00 and -10.04: mean -10.02, each 0.02 off, s = 0.02 sqrt 2. */
START_TEST(two_touches_are_a_mean)
{
    jaw_touch t[] = {{0, 0, -10.00}, {50, 8, -10.04}};
    jaw_tip tip = ball_of(4);
    jaw_face f;
    double resid[2];
    ck_status(jaw_feature_face(t, 2, &tip, &f, resid), JAW_OK);
    near(f.point.x, 25, 0, "x");
    near(f.point.y, 4, 0, "y");
    near(f.point.z, -10.02, 1e-14, "z");
    near(resid[0], 0.02, 1e-14, "above is positive");
    near(resid[1], -0.02, 1e-14, "below is negative");
    near(f.rms, 0.02, 1e-14, "rms");
    near(f.u_offset, 0.02, 1e-14, "s / sqrt 2");
    ck_assert_int_eq(f.dof, 1);
    ck_assert_uint_eq(f.flags, JAW_LEVEL_ASSUMED);
}
END_TEST

/* Heights alone, however many, show no tilt; one read twice is no slip. */
START_TEST(heights_alone)
{
    jaw_touch t[] = {{NOT, NOT, -3}, {NOT, NOT, -3.03}, {NOT, NOT, -3},
                     {NOT, NOT, -3.01}};
    jaw_tip tip = ball_of(4);
    jaw_face f;
    ck_status(jaw_feature_face(t, 4, &tip, &f, NULL), JAW_OK);
    near(f.point.z, -3.01, 1e-15, "z");
    ck_assert_int_eq(f.dof, 3);
    ck_assert_uint_eq(f.flags, JAW_LEVEL_ASSUMED);
}
END_TEST

START_TEST(level_face_in_three_places)
{
    jaw_touch t[] = {{0, 0, -20}, {60, 0, -20}, {0, 30, -20}};
    jaw_face f;
    for (int s = 0; s < JAW_TIP_SHAPES; s++) {
        jaw_tip tip = jaw_tip_make((jaw_tip_shape)s, 6);
        ck_status(jaw_feature_face(t, 3, &tip, &f, NULL), JAW_OK);
        near(f.point.x, 20, 1e-14, "x");
        near(f.point.y, 10, 1e-14, "y");
        near(f.point.z, -20, 1e-14, "z");
        near(f.normal.z, 1, 1e-15, "normal");
        ck_assert_uint_eq(f.flags, JAW_NO_CHECK);
    }
}
END_TEST

/* A face that rises 41 in 840 along x (41, 840, 841): a ball of radius 8.41
 * stands with its centre (-0.41, 8.40) off the point it meets, so its lowest
 * point is 0.01 above the face.  A flat end reads the face at its middle. */
START_TEST(tilted_face_meets_a_ball_beside_its_end)
{
    const double rise = 41.0 / 840;
    jaw_touch t[] = {{0, 0, 0}, {84, 0, 84 * rise}, {0, 50, 0}};
    jaw_tip tip = jaw_tip_make(JAW_TIP_CUTTER, 16.82);
    jaw_face f;
    ck_status(jaw_feature_face(t, 3, &tip, &f, NULL), JAW_OK);
    near(f.slope.x, rise, 1e-15, "slope x");
    near(f.slope.y, 0, 1e-15, "slope y");
    near(f.normal.x, -41.0 / 841, 1e-15, "nx");
    near(f.normal.z, 840.0 / 841, 1e-15, "nz");
    near(f.point.z, rise * f.point.x, 1e-14, "on the face itself");

    tip.shape = JAW_TIP_BALL;
    double above = 8.41 * (841.0 / 840 - 1);
    for (int i = 0; i < 3; i++)
        t[i].z += above;
    ck_status(jaw_feature_face(t, 3, &tip, &f, NULL), JAW_OK);
    near(above, 0.01, 1.2e-5, "what a ball leaves");
    near(f.slope.x, rise, 1e-15, "slope x");
    near(f.point.z, rise * f.point.x, 1e-14, "on the face as well");
}
END_TEST

START_TEST(paper_lies_on_the_face)
{
    jaw_touch t[] = {{NOT, NOT, -5}, {0, 0, -5}, {60, 0, -5}, {0, 30, -5}};
    jaw_tip tip = jaw_tip_make(JAW_TIP_CUTTER, 6);
    jaw_face f;
    tip.paper = 0.08;
    ck_status(jaw_feature_face(t, 1, &tip, &f, NULL), JAW_OK);
    near(f.point.z, -5.08, 1e-15, "level");
    ck_status(jaw_feature_face(t + 1, 3, &tip, &f, NULL), JAW_OK);
    near(f.point.z, -5.08, 2e-15, "three places");
}
END_TEST

/* What is steep is for a setup to judge. */
START_TEST(any_tilt_is_found)
{
    static const double tilt[] = {0.001, 4.99, 5.01, 30, 80};
    double rise = tan(jaw_rad(tilt[_i]));
    jaw_touch t[] = {{0, 0, 0}, {0, 84, 84 * rise}, {40, 0, 0}};
    jaw_tip tip = ball_of(0);
    jaw_face f;
    ck_status(jaw_feature_face(t, 3, &tip, &f, NULL), JAW_OK);
    near(f.slope.y, rise, 1e-13, "slope");
    ck_assert_uint_eq(f.flags, JAW_NO_CHECK);
}
END_TEST

/* The middle of a square and its corners, one corner 0.04 high. */
START_TEST(residuals_above_are_positive)
{
    jaw_touch t[] = {{-9, -9, 0}, {9, -9, 0}, {9, 9, 0.04}, {-9, 9, 0}};
    jaw_tip tip = ball_of(3);
    jaw_face f;
    double resid[4];
    ck_status(jaw_feature_face(t, 4, &tip, &f, resid), JAW_OK);
    near(f.slope.x, 0.02 / 18, 1e-7, "slope x");
    near(resid[2], 0.01, 1e-7, "the high corner");
    near(resid[0], 0.01, 1e-7, "the one opposite");
    near(resid[1], -0.01, 1e-7, "beside");
    near(f.rms, 0.01, 1e-7, "rms");
    ck_assert_int_eq(f.dof, 1);
    ck_assert_uint_eq(f.flags, 0);
}
END_TEST

START_TEST(same_touch_is_flagged)
{
    jaw_touch t[] = {{0, 0, 1}, {50, 0, 1}, {0, 50, 1}, {50, 0, 1}};
    jaw_tip tip = ball_of(3);
    jaw_face f;
    ck_status(jaw_feature_face(t, 4, &tip, &f, NULL), JAW_OK);
    ck_assert_uint_eq(f.flags, JAW_SAME_TOUCH);
    t[3].z = 1.002;
    ck_status(jaw_feature_face(t, 4, &tip, &f, NULL), JAW_OK);
    ck_assert_uint_eq(f.flags, 0);
}
END_TEST

/* ------------------------------------------------------------------- status */

static const struct {
    const char *name;
    jaw_touch t[4];
    size_t n;
    double diameter;
    jaw_status status;
} wrong[] = {
    {"none", {{0, 0, 0}}, 0, 6, JAW_EFEW},
    {"no height", {{1, 2, NAN}}, 1, 6, JAW_ENOTFINITE},
    {"one height lacks", {{0, 0, 1}, {9, 0, 1}, {0, 9, NAN}}, 3, 6,
     JAW_ENOTFINITE},
    {"infinite height", {{1, 2, -INFINITY}}, 1, 6, JAW_ENOTFINITE},
    {"infinite x", {{INFINITY, 2, 0}}, 1, 6, JAW_ENOTFINITE},
    {"infinite y", {{1, -INFINITY, 0}}, 1, 6, JAW_ENOTFINITE},
    {"one place lacks", {{0, 0, 1}, {9, 0, 1}, {NAN, NAN, 1}}, 3, 6,
     JAW_ENOTFINITE},
    {"one x lacks", {{0, 0, 1}, {9, 0, 1}, {NAN, 7, 1}}, 3, 6,
     JAW_ENOTFINITE},
    {"on one line", {{0, 0, 1}, {9, 9, 1}, {18, 18, 1}}, 3, 6, JAW_ERANK},
    {"in two places", {{0, 0, 1}, {9, 9, 1}, {9, 9, 1}, {0, 0, 1}}, 4, 6,
     JAW_ERANK},
    {"an upright wall", {{0, 0, 0}, {9, 0, 0}, {0, 0, 9}}, 3, 6, JAW_ERANK},
    {"negative tip", {{0, 0, 1}}, 1, -6, JAW_EDOMAIN},
    {"tip nan", {{0, 0, 1}}, 1, NAN, JAW_ENOTFINITE},
};

START_TEST(status_provoked)
{
    jaw_tip tip = ball_of(wrong[_i].diameter);
    double resid[4] = {7, 7, 7, 7};
    jaw_face f;
    jaw_status got =
        jaw_feature_face(wrong[_i].t, wrong[_i].n, &tip, &f, resid);
    ck_assert_msg(got == wrong[_i].status, "%s: got \"%s\"", wrong[_i].name,
                  jaw_status_text(got));
    face_is_nan(&f, wrong[_i].name);
    all_nan(resid, wrong[_i].n, wrong[_i].name);
    for (size_t i = wrong[_i].n; i < 4; i++)
        near(resid[i], 7, 0, "beyond n");
}
END_TEST

/* ------------------------------------------------------- what holds for any */

typedef struct case_of_face {
    true_face truth;
    jaw_touch t[12];
    size_t n;
    jaw_tip tip;
    jaw_face f;
    double resid[12];
} case_of_face;

static case_of_face any_face(random_source *r, double noise)
{
    case_of_face c = {.truth = random_face(r, jaw_rad(20)),
                      .n = 3 + random_below(r, 10)};
    c.tip = jaw_tip_make((jaw_tip_shape)random_below(r, JAW_TIP_SHAPES),
                         random_between(r, 0, 12));
    c.tip.paper = random_below(r, 2) ? 0 : random_between(r, 0, 0.2);
    double end = c.tip.shape == JAW_TIP_BALL ? c.tip.diameter / 2 : 0;
    for (size_t k = 0; k < c.n; k++) {
        /* three well apart, the others anywhere */
        double x = (k == 1 ? 80 : 0) + random_between(r, 0, k < 3 ? 20 : 80);
        double y = (k == 2 ? 80 : 0) + random_between(r, 0, k < 3 ? 20 : 80);
        c.t[k] = touch_face(&c.truth, x + (double)c.truth.px,
                            y + (double)c.truth.py, end, c.tip.paper);
        c.t[k].z += noise * random_normal(r);
    }
    ck_status(jaw_feature_face(c.t, c.n, &c.tip, &c.f, c.resid), JAW_OK);
    return c;
}

START_TEST(truth_comes_back)
{
    random_source r = random_start("truth_comes_back", 31);
    for (int i = 0; i < 5000; i++) {
        case_of_face c = any_face(&r, 0);
        near(off_face(&c.truth, c.f.point), 0, 1e-12, "point");
        near(c.f.normal.x, (double)c.truth.nx, 1e-13, "nx");
        near(c.f.normal.y, (double)c.truth.ny, 1e-13, "ny");
        near(c.f.normal.z, (double)c.truth.nz, 1e-13, "nz");
        near(c.f.slope.x, (double)(-c.truth.nx / c.truth.nz), 1e-13, "slope");
        near(c.f.slope.y, (double)(-c.truth.ny / c.truth.nz), 1e-13, "slope");
        for (size_t k = 0; k < c.n; k++)
            near(c.resid[k], 0, 1e-12, "residual");
    }
}
END_TEST

START_TEST(order_turn_shift_and_unit)
{
    random_source r = random_start("order_turn_shift_and_unit", 32);
    for (int i = 0; i < 2000; i++) {
        case_of_face c = any_face(&r, 0.01);
        jaw_frame f = jaw_frame_make(
            (jaw_vec2){random_between(&r, -90, 90),
                       random_between(&r, -90, 90)},
            random_between(&r, -4, 4));
        jaw_frame turn = jaw_frame_make((jaw_vec2){0, 0}, f.turn);
        double up = random_between(&r, -90, 90), unit = 1 / JAW_MM_PER_INCH;
        jaw_touch t[12];
        jaw_face g;
        double resid[12];
        for (size_t k = 0; k < c.n; k++) {
            jaw_touch *to = &t[c.n - 1 - k];
            jaw_vec2 m = jaw_machine_from_work(
                &f, (jaw_vec2){c.t[k].x, c.t[k].y});
            *to = (jaw_touch){m.x * unit, m.y * unit, (c.t[k].z + up) * unit};
        }
        c.tip.diameter *= unit;
        c.tip.paper *= unit;
        ck_status(jaw_feature_face(t, c.n, &c.tip, &g, resid), JAW_OK);
        jaw_vec2 p = jaw_machine_from_work(
            &f, (jaw_vec2){c.f.point.x, c.f.point.y});
        jaw_vec2 slope = jaw_machine_from_work(&turn, c.f.slope);
        near(g.point.x / unit, p.x, 2e-12, "x");
        near(g.point.y / unit, p.y, 2e-12, "y");
        near(g.point.z / unit, c.f.point.z + up, 2e-12, "z");
        near(g.slope.x, slope.x, 1e-13, "slope x");
        near(g.slope.y, slope.y, 1e-13, "slope y");
        near(g.normal.z, c.f.normal.z, 1e-13, "nz");
        for (size_t k = 0; k < c.n; k++)
            near(resid[c.n - 1 - k] / unit, c.resid[k], 2e-12, "residual");
    }
}
END_TEST

START_TEST(nothing_else_is_touched)
{
    random_source r = random_start("nothing_else_is_touched", 33);
    for (int i = 0; i < 500; i++) {
        case_of_face c = any_face(&r, 0.01), before = c;
        jaw_face f;
        ck_status(jaw_feature_face(c.t, c.n, &c.tip, &f, NULL), JAW_OK);
        ck_assert_mem_eq(c.t, before.t, sizeof c.t);
        ck_assert_mem_eq(&f, &c.f, sizeof f);
    }
}
END_TEST

START_TEST(many_touches)
{
    enum { MANY = 700 };
    static jaw_touch t[MANY];
    static double resid[MANY];
    random_source r = random_start("many_touches", 34);
    true_face truth = random_face(&r, jaw_rad(10));
    jaw_tip tip = ball_of(6);
    jaw_face f;
    for (size_t k = 0; k < MANY; k++)
        t[k] = touch_face(&truth, random_between(&r, -200, 200),
                          random_between(&r, -200, 200), 3, 0);
    for (size_t n = 60; n <= MANY; n += n < 70 ? 1 : 90) {
        ck_status(jaw_feature_face(t, n, &tip, &f, resid), JAW_OK);
        near(off_face(&truth, f.point), 0, 1e-12, "point");
        near(resid[n - 1], 0, 1e-12, "last residual");
        ck_assert_int_eq(f.dof, (int)n - 3);
    }
}
END_TEST

TCase *face_case(void)
{
    TCase *tc = tcase_create("face");
    tcase_add_test(tc, one_touch_is_taken_as_level);
    tcase_add_test(tc, two_touches_are_a_mean);
    tcase_add_test(tc, heights_alone);
    tcase_add_test(tc, level_face_in_three_places);
    tcase_add_test(tc, tilted_face_meets_a_ball_beside_its_end);
    tcase_add_test(tc, paper_lies_on_the_face);
    tcase_add_loop_test(tc, any_tilt_is_found, 0, 5);
    tcase_add_test(tc, residuals_above_are_positive);
    tcase_add_test(tc, same_touch_is_flagged);
    tcase_add_loop_test(tc, status_provoked, 0, COUNT(wrong));
    tcase_add_test(tc, truth_comes_back);
    tcase_add_test(tc, order_turn_shift_and_unit);
    tcase_add_test(tc, nothing_else_is_touched);
    tcase_add_test(tc, many_touches);
    return tc;
}
