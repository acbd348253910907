/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tips calibrated on a ball and on a block. */
#include "measure_tests.h"

#include <string.h>

static const jaw_known_size ball20 = {20, 0};

/* Ball 20, tip 6: centres 13 apart.  (5, 12, 13) and (3, 4, 12, 13). */
static const jaw_vec3 touched[] = {{0, 0, 13},  {5, 0, 12},  {-5, 0, 12},
                                   {0, 5, 12},  {0, -5, 12}, {3, 4, 12},
                                   {12, 3, 4},  {-12, 4, 3}, {-3, -12, 4}};

START_TEST(ball_by_hand)
{
    jaw_tip_calibration c;
    double resid[9];
    jaw_vec3 p[9];
    for (int i = 0; i < 9; i++)
        p[i] = (jaw_vec3){touched[i].x + 400, touched[i].y - 300,
                          touched[i].z - 250};
    ck_status(jaw_tip_calibrate_ball(p, 9, ball20, NOT, &c, resid), JAW_OK);
    near(c.diameter, 6, 1e-11, "diameter");
    near(c.centre.x, 400, 1e-11, "x");
    near(c.centre.y, -300, 1e-11, "y");
    near(c.centre.z, -250, 1e-11, "z");
    ck_assert_int_eq(c.dof_touch, 5);
    for (int i = 0; i < 9; i++)
        near(resid[i], 0, 1e-11, "residual");
    ck_assert_uint_eq(c.flags, 0);
    ck_assert_int_eq(c.first.state, JAW_TERM_NOT_SEEN);
}
END_TEST

/* The six ends of the axes: every unknown is a mean of its own. */
START_TEST(ball_uncertainty_by_hand)
{
    static const jaw_vec3 p[] = {{13, 0, 0},  {-13, 0, 0}, {0, 13, 0},
                                 {0, -13, 0}, {0, 0, 13},  {0, 0, -13}};
    jaw_tip_calibration c;
    ck_status(jaw_tip_calibrate_ball(p, 6, (jaw_known_size){20, 0.003}, 0.006,
                                     &c, NULL),
              JAW_OK);
    near(c.u_centre.z, 0.006 * sqrt(0.5), 1e-12, "u z");
    near(c.u_diameter, sqrt(4 * 0.006 * 0.006 / 6 + 0.003 * 0.003), 1e-12,
         "u diameter");
    ck_assert_int_eq(c.dof_touch, 2);
}
END_TEST

START_TEST(ball_can_fail)
{
    jaw_vec3 p[9];
    jaw_tip_calibration c;
    double resid[9];
    memcpy(p, touched, sizeof p);
    ck_status(jaw_tip_calibrate_ball(p, 3, ball20, NOT, &c, resid), JAW_EFEW);
    calibration_is_nan(&c);
    all_nan(resid, 3, "resid");
    ck_status(jaw_tip_calibrate_ball(p, 9, (jaw_known_size){-1, 0}, NOT, &c,
                                     NULL),
              JAW_EDOMAIN);
    ck_status(jaw_tip_calibrate_ball(p, 9, (jaw_known_size){20, NAN}, NOT, &c,
                                     NULL),
              JAW_ENOTFINITE);
    ck_status(jaw_tip_calibrate_ball(p, 9, ball20, -1, &c, NULL), JAW_EDOMAIN);
    ck_status(jaw_tip_calibrate_ball(p, 9, (jaw_known_size){26.5, 0}, NOT, &c,
                                     NULL),
              JAW_ESIZE);
    calibration_is_nan(&c);
    /* one plane, also where rounding hides it: far out, and tilted */
    for (int i = 0; i < 9; i++)
        p[i] = (jaw_vec3){cos(i) * 10, sin(i) * 10, 0};
    ck_status(jaw_tip_calibrate_ball(p, 9, ball20, NOT, &c, NULL), JAW_ERANK);
    for (int i = 0; i < 9; i++)
        p[i] = (jaw_vec3){700.1 + cos(i) * 10, sin(i) * 10 - 412.7,
                          0.3 * cos(i) * 10 - 0.7 * sin(i) * 10 + 33.3};
    ck_status(jaw_tip_calibrate_ball(p, 9, ball20, NOT, &c, NULL), JAW_ERANK);
    for (int i = 0; i < 9; i++)
        p[i] = (jaw_vec3){1, 2, 3};
    ck_status(jaw_tip_calibrate_ball(p, 9, ball20, NOT, &c, NULL), JAW_ERANK);
    p[4].z = INFINITY;
    ck_status(jaw_tip_calibrate_ball(p, 9, ball20, NOT, &c, NULL),
              JAW_ENOTFINITE);
    calibration_is_nan(&c);
}
END_TEST

/* Four touches determine it and leave no check. */
START_TEST(four_touches_of_a_ball)
{
    static const jaw_vec3 p[] = {{13, 0, 0}, {-13, 0, 0}, {0, 13, 0},
                                 {0, 0, 13}};
    jaw_tip_calibration c;
    ck_status(jaw_tip_calibrate_ball(p, 4, ball20, NOT, &c, NULL), JAW_OK);
    near(c.diameter, 6, 1e-12, "diameter");
    ck_assert_uint_eq(c.flags, JAW_NO_CHECK);
    ck_assert(isnan(c.u_diameter) && isnan(c.u_centre.z));
}
END_TEST

/* All near the pole: the height takes what the diameter lacks. */
START_TEST(pole_of_a_ball_is_weak)
{
    jaw_vec3 p[8];
    jaw_tip_calibration c;
    for (int i = 0; i < 8; i++) {
        double t = i % 2 ? 0.1 : 0.2;
        p[i] = (jaw_vec3){13 * sin(t) * cos(i), 13 * sin(t) * sin(i),
                          13 * cos(t)};
    }
    ck_status(jaw_tip_calibrate_ball(p, 8, ball20, 0.002, &c, NULL), JAW_OK);
    ck_assert_uint_eq(c.flags, JAW_WEAK);
    near(c.diameter, 6, 1e-9, "diameter");
}
END_TEST

TCase *ball_case(void)
{
    TCase *tc = tcase_create("ball");
    tcase_add_test(tc, ball_by_hand);
    tcase_add_test(tc, ball_uncertainty_by_hand);
    tcase_add_test(tc, ball_can_fail);
    tcase_add_test(tc, four_touches_of_a_ball);
    tcase_add_test(tc, pole_of_a_ball_is_weak);
    return tc;
}

/* ------------------------------------------------------------------- blocks */

/* A block of 25 and a tip of 5: the spindle stands 30 apart. */
START_TEST(block_of_two_touches)
{
    static const jaw_vec2 low = {85, 40}, high = {115, 40.3};
    jaw_tip_faces pair = {&low, &high, 1, 1, {25, 0.0003}};
    jaw_tip_block b;
    double resid[2];
    ck_status(jaw_tip_calibrate_block(&pair, 1, NOT, &b, resid), JAW_OK);
    near(b.diameter[0], 5, 1e-13, "diameter");
    near(b.theta[0], 0, 0, "direction");
    ck_assert_uint_eq(b.flags, JAW_NO_CHECK | JAW_DIRECTION_ASSUMED);
    ck_assert(isnan(b.u_diameter[0]) && isnan(b.diameter[1]));
    ck_assert(isnan(b.differ) && !b.differs);
    near(b.both, 5, 1e-13, "of one pair");
    ck_status(jaw_tip_calibrate_block(&pair, 1, 0.0004 / sqrt(2), &b, resid),
              JAW_OK);
    near(b.u_diameter[0], 0.0005, 1e-12, "u: 3, 4, 5");
    ck_assert(isinf(b.dof[0]));
}
END_TEST

/* Repeated touches in one place show no direction. */
START_TEST(block_touched_again_and_again)
{
    static const jaw_vec2 low[] = {{85.001, 40}, {84.999, 40.001}},
                          high[] = {{115.002, 39.9}, {114.998, 39.9}};
    jaw_tip_faces pair = {low, high, 2, 2, {25, 0}};
    jaw_tip_block b;
    ck_status(jaw_tip_calibrate_block(&pair, 1, NOT, &b, NULL), JAW_OK);
    ck_assert_uint_eq(b.flags, JAW_DIRECTION_ASSUMED);
    near(b.diameter[0], 5, 1e-12, "diameter");
    ck_assert_int_eq(b.dof_touch, 2);
    /* ssr = 2 (0.001^2 + 0.002^2) with 2 degrees of freedom */
    near(b.seen, sqrt(5) * 0.001, 1e-12, "seen");
    near(b.u_diameter[0], b.seen, 1e-12, "u: two means of two");
}
END_TEST

/* Turned by the angle whose sine is 0.6: each pair finds its own direction. */
START_TEST(block_that_is_turned)
{
    jaw_vec2 n = {0.8, 0.6}, d = {-0.6, 0.8}, face[4][2];
    double half[4] = {-15, 15, -20, 20}; /* blocks of 25 and 35, tip 5 */
    for (int f = 0; f < 4; f++)
        for (int i = 0; i < 2; i++) {
            double t = i ? 8 : -6;
            jaw_vec2 a = f < 2 ? n : d, b = f < 2 ? d : n;
            face[f][i] = (jaw_vec2){50 + half[f] * a.x + t * b.x,
                                    -20 + half[f] * a.y + t * b.y};
        }
    jaw_tip_faces pair[2] = {{face[0], face[1], 2, 2, {25, 0}},
                             {face[2], face[3], 2, 2, {35, 0}}};
    jaw_tip_block b;
    ck_status(jaw_tip_calibrate_block(pair, 2, 0.001, &b, NULL), JAW_OK);
    near(b.diameter[0], 5, 1e-11, "first");
    near(b.diameter[1], 5, 1e-11, "second");
    near(b.both, 5, 1e-11, "both");
    near(sin(b.theta[0]), 0.6, 1e-12, "direction");
    near(cos(b.theta[1]), 0.6, 1e-12, "direction of the second");
    near(b.u_both, b.u_diameter[0] / sqrt(2), 1e-9, "mean of two");
    ck_assert(!b.differs);
    ck_assert_int_eq(b.dof_touch, 2);
    ck_assert_uint_eq(b.flags, 0);
    for (int i = 0; i < 2; i++)
        face[3][i].x += 0.02 * d.x, face[3][i].y += 0.02 * d.y;
    ck_status(jaw_tip_calibrate_block(pair, 2, 0.001, &b, NULL), JAW_OK);
    near(b.differ, -0.02, 1e-11, "differ");
    ck_assert(b.differs);
}
END_TEST

START_TEST(block_can_fail)
{
    static const jaw_vec2 low = {85, 40}, high = {115, 40}, bad = {NAN, 1};
    static const struct {
        const char *name;
        jaw_tip_faces pair;
        double repeat;
        jaw_status status;
    } wrong[] = {
        {"no touch low", {&low, &high, 0, 1, {25, 0}}, NAN, JAW_EFEW},
        {"no touch high", {&low, &high, 1, 0, {25, 0}}, NAN, JAW_EFEW},
        {"nan", {&bad, &high, 1, 1, {25, 0}}, NAN, JAW_ENOTFINITE},
        {"size", {&low, &high, 1, 1, {0, 0}}, NAN, JAW_EDOMAIN},
        {"u", {&low, &high, 1, 1, {25, -1}}, NAN, JAW_EDOMAIN},
        {"repeat", {&low, &high, 1, 1, {25, 0}}, 0, JAW_EDOMAIN},
        {"one place", {&low, &low, 1, 1, {25, 0}}, NAN, JAW_ERANK},
        {"larger block", {&low, &high, 1, 1, {31, 0}}, NAN, JAW_ESIZE},
    };
    jaw_tip_block b;
    double resid[2];
    for (int i = 0; i < COUNT(wrong); i++) {
        jaw_status s = jaw_tip_calibrate_block(&wrong[i].pair, 1,
                                               wrong[i].repeat, &b, resid);
        ck_assert_msg(s == wrong[i].status, "%s: %s", wrong[i].name,
                      jaw_status_text(s));
        ck_assert(isnan(b.diameter[0]) && isnan(b.both) && isnan(b.seen));
        all_nan(resid, wrong[i].pair.n_low + wrong[i].pair.n_high,
                wrong[i].name);
    }
    ck_status(jaw_tip_calibrate_block(&wrong[0].pair, 0, NOT, &b, NULL),
              JAW_EDOMAIN);
    ck_status(jaw_tip_calibrate_block(&wrong[0].pair, 3, NOT, &b, NULL),
              JAW_EDOMAIN);
}
END_TEST

TCase *block_case(void)
{
    TCase *tc = tcase_create("block");
    tcase_add_test(tc, block_of_two_touches);
    tcase_add_test(tc, block_touched_again_and_again);
    tcase_add_test(tc, block_that_is_turned);
    tcase_add_test(tc, block_can_fail);
    return tc;
}
