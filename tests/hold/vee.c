/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Round stock in a V and on a flat. */
#include "hold_tests.h"

/* Three wires over a thread lie in two V grooves with the thread's flank angle,
 * one on either side, and the caliper closes on their tops:
 *     M = E - P cot(angle / 2) / 2 + factor W
 * with factor W twice the height of a wire's top above the sharp bottom.
 * Machinery's Handbook, measurement of screw threads by three wires (formulas
 * also in NBS Handbook H28); printed factors from memory. */
static const struct {
    const char *name;
    double degrees, factor, half; /* half of the last printed digit */
} threads[] = {
    {"unified and metric, 60", 60, 3, 0.5e-9},
    {"whitworth, 55", 55, 3.1657, 0.5e-4},
    {"acme, 29", 29, 4.9939, 0.5e-4},
};

START_TEST(wires_over_a_thread)
{
    static const double wire[] = {0.5, 1, 3.2};
    for (int i = 0; i < COUNT(wire); i++) {
        jaw_held_round h;
        ck_status(jaw_hold_vee((jaw_length){0, 0},
                               threads[_i].degrees * PI / 180,
                               (jaw_length){wire[i], 0}, &h),
                  JAW_OK, threads[_i].name);
        near(2 * h.top.value / wire[i], threads[_i].factor, threads[_i].half,
             threads[_i].name);
        near(h.top.value - h.axis.value, wire[i] / 2, 1e-14, "a radius more");
    }
}
END_TEST

/* The axis stands a radius off both flanks, and nowhere nearer: the flanks are
 * lines through the apex, distances by the cross product. */
START_TEST(touches_both_flanks)
{
    random_source r = random_start("touches_both_flanks", 41);
    for (int i = 0; i < 1000; i++) {
        double angle = random_between(&r, 0.05, 3.1);
        double apex = random_between(&r, -500, 500);
        double d = random_between(&r, 1, 200);
        jaw_held_round h;
        ck_status(jaw_hold_vee((jaw_length){apex, 0}, angle, (jaw_length){d, 0},
                               &h),
                  JAW_OK, "vee");
        double up = h.axis.value - apex;
        for (int side = -1; side <= 1; side += 2) {
            double x = side * sin(angle / 2), y = cos(angle / 2);
            near(fabs(x * up), d / 2, 1e-11, "off the flank");
            ck_assert(y * up > 0); /* it meets the flank, not its far side */
        }
        near(h.top.value, apex + up + d / 2, 1e-11, "top");
    }
}
END_TEST

/* The wider the V the deeper the stock lies, down to a flat. */
START_TEST(flat_is_the_widest_vee)
{
    jaw_held_round vee, flat;
    jaw_length at = {12, 0.003}, d = {20, 0.008};
    ck_status(jaw_hold_vee(at, PI - 1e-8, d, &vee), JAW_OK, "vee");
    ck_status(jaw_hold_jaws(at, d, &flat), JAW_OK, "flat");
    near(vee.axis.value, flat.axis.value, 1e-12, "axis");
    figure_is(flat.axis, 22, 0.005, 1e-14, "3-4-5");
    figure_is(flat.top, 32, hypot(0.003, 0.008), 1e-14, "top");
}
END_TEST

START_TEST(spread_is_that_of_simulated_bars)
{
    random_source r = random_start("spread_is_that_of_simulated_bars", 42);
    spread axis = {0, 0, 0}, top = {0, 0, 0};
    jaw_length apex = {-300, 0.004}, d = {30, 0.01};
    jaw_held_round h, k;
    ck_status(jaw_hold_vee(apex, PI / 2, d, &h), JAW_OK, "stated");
    for (int i = 0; i < 20000; i++) {
        jaw_length a = {apex.value + apex.known * random_normal(&r), 0};
        jaw_length e = {d.value + d.known * random_normal(&r), 0};
        ck_status(jaw_hold_vee(a, PI / 2, e, &k), JAW_OK, "as it is");
        spread_add(&axis, k.axis.value);
        spread_add(&top, k.top.value);
    }
    /* 0.5 % of a standard deviation of 20000, four times */
    near(spread_of(&axis), h.axis.u, 0.02 * h.axis.u, "axis");
    near(spread_of(&top), h.top.u, 0.02 * h.top.u, "top");
}
END_TEST

static const struct {
    const char *name;
    jaw_length below, diameter;
    double angle;
    jaw_status status;
} spoilt[] = {
    {"no apex", {NOT, 0}, {10, 0}, 1.5, JAW_EUNKNOWN},
    {"no diameter", {0, 0}, {NOT, 0}, 1.5, JAW_EUNKNOWN},
    {"apex infinite", {FAR, 0}, {10, 0}, 1.5, JAW_ENOTFINITE},
    {"diameter infinite", {0, 0}, {FAR, 0}, 1.5, JAW_ENOTFINITE},
    {"apex's u nan", {0, NOT}, {10, 0}, 1.5, JAW_ENOTFINITE},
    {"apex's u", {0, -1}, {10, 0}, 1.5, JAW_EDOMAIN},
    {"diameter's u", {0, 0}, {10, -1}, 1.5, JAW_EDOMAIN},
    {"diameter 0", {0, 0}, {0, 0}, 1.5, JAW_EDOMAIN},
    {"diameter negative", {0, 0}, {-10, 0}, 1.5, JAW_EDOMAIN},
    {"angle 0", {0, 0}, {10, 0}, 0, JAW_EDOMAIN},
    {"angle negative", {0, 0}, {10, 0}, -1.5, JAW_EDOMAIN},
    {"angle 180", {0, 0}, {10, 0}, PI, JAW_EDOMAIN},
    {"angle in degrees", {0, 0}, {10, 0}, 90, JAW_EDOMAIN},
    {"angle nan", {0, 0}, {10, 0}, NOT, JAW_ENOTFINITE},
    {"angle infinite", {0, 0}, {10, 0}, FAR, JAW_ENOTFINITE},
};

START_TEST(vee_status)
{
    jaw_held_round h;
    bool angle = spoilt[_i].angle > 1.4 && spoilt[_i].angle < 1.6;
    ck_status(jaw_hold_vee(spoilt[_i].below, spoilt[_i].angle,
                           spoilt[_i].diameter, &h),
              spoilt[_i].status, spoilt[_i].name);
    figure_is_nan(h.axis, spoilt[_i].name);
    figure_is_nan(h.top, spoilt[_i].name);
    ck_status(jaw_hold_jaws(spoilt[_i].below, spoilt[_i].diameter, &h),
              angle ? spoilt[_i].status : JAW_OK, spoilt[_i].name);
    if (angle)
        figure_is_nan(h.axis, spoilt[_i].name);
}
END_TEST

TCase *vee_case(void)
{
    TCase *tc = tcase_create("vee");
    tcase_add_loop_test(tc, wires_over_a_thread, 0, COUNT(threads));
    tcase_add_test(tc, touches_both_flanks);
    tcase_add_test(tc, flat_is_the_widest_vee);
    tcase_add_test(tc, spread_is_that_of_simulated_bars);
    tcase_add_loop_test(tc, vee_status, 0, COUNT(spoilt));
    return tc;
}
