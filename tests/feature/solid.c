/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of ball.c and bar.c: a ball and round stock in space, touched by a ball
 * that is laid against them by vectors. */
#include "feature_tests.h"
#include "random.h"

#include "tests/near.h"

#define NOT ((double)NAN)

static const jaw_tip stylus = {JAW_TIP_BALL, 4, 0, NOT, NOT};

/* The lowest point of a stylus of that radius whose centre is there. */
static jaw_touch touch_at(double x, double y, double z, double radius)
{
    return (jaw_touch){x, y, z - radius};
}

/* A touch in direction (azimuth, height angle) from the centre of a ball. */
static jaw_touch on_ball(jaw_vec3 c, double diameter, double azimuth,
                         double height, double off)
{
    double d = diameter / 2 + 2 + off;

    return touch_at(c.x + d * cos(height) * cos(azimuth),
                    c.y + d * cos(height) * sin(azimuth),
                    c.z + d * sin(height), 2);
}

/* A touch of a bar whose axis passes p along theta with a slope: `along` it, at
 * an angle from its level side over its top. */
static jaw_touch on_bar(jaw_vec3 p, double theta, double slope, double diameter,
                        double along, double angle, double off)
{
    double n = hypot(1, slope), d = diameter / 2 + 2 + off;
    jaw_vec3 a = {cos(theta) / n, sin(theta) / n, slope / n};
    jaw_vec3 side = {-sin(theta), cos(theta), 0};
    jaw_vec3 up = {a.y * side.z - a.z * side.y, a.z * side.x - a.x * side.z,
                   a.x * side.y - a.y * side.x};
    double c = d * cos(angle), s = d * sin(angle);

    return touch_at(p.x + along * a.x + c * side.x + s * up.x,
                    p.y + along * a.y + c * side.y + s * up.y,
                    p.z + along * a.z + c * side.z + s * up.z, 2);
}

static const double azimuth[] = {0.1, 1.3, 2.9, 4.1, 5.2, 0};
static const double height[] = {0.1, 0.3, 0.2, 0.1, 0.25, 1.5};

START_TEST(ball_by_vectors)
{
    jaw_vec3 c = {-120.5, 48.25, -310.75};
    jaw_touch t[6];
    jaw_ball b;
    double resid[6];

    for (int i = 0; i < 6; i++)
        t[i] = on_ball(c, 25, azimuth[i], height[i], 0);
    ck_status(jaw_feature_ball(t, 6, &stylus, NOT, &b, resid), JAW_OK);
    near(b.centre.x, c.x, 1e-11, "x");
    near(b.centre.y, c.y, 1e-11, "y");
    near(b.centre.z, c.z, 1e-11, "z");
    near(b.diameter, 25, 1e-11, "diameter");
    ck_assert_int_eq(b.dof, 2);
    t[5] = on_ball(c, 25, azimuth[5], height[5], 0.01);
    ck_status(jaw_feature_ball(t, 6, &stylus, 25, &b, resid), JAW_OK);
    ck_assert_double_gt(resid[5], 0.001);
    near(b.diameter, 25, 0, "as stated");
    near(b.u_diameter, 0, 0, "known");
    ck_assert_int_eq(b.dof, 3);
}
END_TEST

/* Ten places along, over the top and both sides, at every direction. */
START_TEST(bar_by_vectors)
{
    double theta = -1.5 + 0.32 * _i, slope = 0.02 * (_i % 5 - 2);
    jaw_vec3 p = {40, -75, -220};
    jaw_touch t[10];
    jaw_bar b;

    for (int i = 0; i < 10; i++)
        t[i] = on_bar(p, theta, slope, 30, 12.0 * i - 54, 0.5 * (i % 7) + 0.1,
                      0);
    ck_status(jaw_feature_bar(t, 10, &stylus, NOT, &b, NULL), JAW_OK);
    near(b.theta, theta, 1e-12, "theta");
    near(b.slope, slope, 1e-12, "slope");
    near(b.diameter, 30, 1e-10, "diameter");
    near(sin(theta) * (b.point.x - p.x) - cos(theta) * (b.point.y - p.y), 0,
         1e-10, "the axis passes there");
    double run = cos(theta) * (b.point.x - p.x) +
                 sin(theta) * (b.point.y - p.y);
    near(b.point.z, p.z + slope * run, 1e-10, "height");
    near(b.span, 108, 16, "span"); /* places, not the tip's centres */
    ck_assert_int_eq(b.dof, 5);
    ck_assert_uint_eq(b.flags, 0);
    ck_status(jaw_feature_bar(t, 10, &stylus, 30, &b, NULL), JAW_OK);
    near(b.theta, theta, 1e-12, "theta");
    ck_assert_int_eq(b.dof, 6);
}
END_TEST

/* What is said of each value is how it scatters. */
START_TEST(bar_scatters_as_said)
{
    enum { RUNS = 2000, N = 12 };
    double sum[5] = {0}, said[5] = {0};
    random_source random = random_start("bar_scatters_as_said", 5);

    for (int k = 0; k < RUNS; k++) {
        jaw_vec3 p = {10, 20, -30};
        jaw_touch t[N];
        jaw_bar b;
        for (int i = 0; i < N; i++)
            t[i] = on_bar(p, 0.4, 0.1, 20, 10.0 * i - 55,
                          0.3 + 0.8 * (i % 4), 0.01 * random_normal(&random));
        ck_status(jaw_feature_bar(t, N, &stylus, NOT, &b, NULL), JAW_OK);
        double run = cos(0.4) * (b.point.x - 10) + sin(0.4) * (b.point.y - 20);
        double off[] = {
            cos(0.4) * (b.point.y - 20) - sin(0.4) * (b.point.x - 10),
            b.point.z - (-30 + 0.1 * run), b.theta - 0.4, b.slope - 0.1,
            b.diameter - 20};
        double u[] = {b.u_side, b.u_height, b.u_theta, b.u_slope,
                      b.u_diameter};
        for (int j = 0; j < 5; j++) {
            sum[j] += off[j] * off[j] / RUNS;
            said[j] += u[j] * u[j] / RUNS;
        }
    }
    for (int j = 0; j < 5; j++) /* 4 sigma of a variance from 2000 */
        near(sum[j] / said[j], 1, 4 * sqrt(2.0 / RUNS) + 0.02, "variance");
}
END_TEST

static void ball_is_nan(const jaw_ball *b)
{
    const double x[] = {b->centre.x, b->centre.y, b->centre.z, b->diameter,
                        b->cov[0],   b->cov[5],   b->rms};
    all_nan(x, COUNT(x), "ball");
    ck_assert_uint_eq(b->flags, 0);
}

static void bar_is_nan(const jaw_bar *b)
{
    const double x[] = {b->point.x, b->axis.z, b->theta,    b->slope,
                        b->u_side,  b->rms,    b->diameter, b->span};
    all_nan(x, COUNT(x), "bar");
    ck_assert_uint_eq(b->flags, 0);
}

START_TEST(what_can_not_be)
{
    jaw_vec3 c = {1, 2, 3};
    jaw_tip flat = jaw_tip_make(JAW_TIP_CYLINDER, 5);
    jaw_tip point = jaw_tip_make(JAW_TIP_CYLINDER, 0), fat = stylus;
    jaw_touch t[70];
    jaw_ball ball;
    jaw_bar bar;
    double resid[70];

    for (int i = 0; i < 70; i++)
        t[i] = on_ball(c, 10, 0.37 * i, 0.05 + 0.017 * i, 0);
    ck_status(jaw_feature_ball(t, 6, &flat, NOT, &ball, resid), JAW_EDOMAIN);
    ball_is_nan(&ball);
    all_nan(resid, 6, "resid");
    ck_status(jaw_feature_bar(t, 6, &flat, NOT, &bar, NULL), JAW_EDOMAIN);
    bar_is_nan(&bar);
    ck_status(jaw_feature_ball(t, 6, &point, NOT, &ball, NULL), JAW_OK);
    near(ball.diameter, 14, 1e-10, "a point reads the tip's centres");
    ck_status(jaw_feature_ball(t, 6, &stylus, -1, &ball, NULL), JAW_EDOMAIN);
    ck_status(jaw_feature_ball(t, 3, &stylus, NOT, &ball, NULL), JAW_EFEW);
    ck_status(jaw_feature_bar(t, 4, &stylus, NOT, &bar, NULL), JAW_EFEW);
    fat.diameter = 40;
    ck_status(jaw_feature_ball(t, 6, &fat, NOT, &ball, NULL), JAW_ESIZE);
    ck_status(jaw_feature_ball(t, 70, &stylus, NOT, &ball, NULL), JAW_OK);
    t[2].z = NOT;
    ck_status(jaw_feature_ball(t, 6, &stylus, NOT, &ball, NULL),
              JAW_ENOTFINITE);
    ck_status(jaw_feature_bar(t, 6, &stylus, NOT, &bar, NULL),
              JAW_ENOTFINITE);
    t[2] = t[1];
    ck_status(jaw_feature_ball(t, 6, &stylus, NOT, &ball, NULL), JAW_OK);
    ck_assert_uint_eq(ball.flags & JAW_SAME_TOUCH, JAW_SAME_TOUCH);
    /* a post that stands */
    for (int i = 0; i < 12; i++)
        t[i] = (jaw_touch){10 * cos(0.6 * i), 10 * sin(0.6 * i), 3.0 * (i % 4)};
    ck_status(jaw_feature_bar(t, 12, &stylus, NOT, &bar, NULL), JAW_ESIDE);
    bar_is_nan(&bar);
}
END_TEST

TCase *solid_case(void)
{
    TCase *tc = tcase_create("solid");
    tcase_add_test(tc, ball_by_vectors);
    tcase_add_loop_test(tc, bar_by_vectors, 0, 10);
    tcase_add_test(tc, bar_scatters_as_said);
    tcase_add_test(tc, what_can_not_be);
    return tc;
}
