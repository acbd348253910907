/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of zero.c: work zeros by hand.  The turned parts use the triangle 41,
 * 840, 841 (2.79 degrees), so that radii and corners come out even. */
#include "setup_tests.h"

#define SKEW atan2(41, 840)

/* Where a part coordinate lies on the machine, in long double. */
static jaw_vec2 machine(double wx, double wy, double skew, double x, double y)
{
    long double c = cosl(skew), s = sinl(skew);
    return (jaw_vec2){(double)(wx + c * x - s * y),
                      (double)(wy + s * x + c * y)};
}

static void finder(shop *s, jaw_unit unit, bool can_turn)
{
    shop_open(s, unit);
    control(s, can_turn, JAW_GAUGE_LINE, 0);
    tip(s, "finder", JAW_TIP_CYLINDER, unit == JAW_IN ? 0.2 : 6,
        unit == JAW_IN ? 0.0002 : 0.005, NOT);
}

static void row(shop *s, jaw_vec2 p)
{
    touch(s, p.x / s->unit, p.y / s->unit, NOT);
}

/* A part whose zero is at wx, wy and is turned by skew: its wall at part y
 * (faces y-) touched twice, its wall at part x (faces x+) touched `n` times. */
static void corner(shop *s, double wx, double wy, double skew, double x,
                   double y, int n)
{
    double r = s->unit * (s->unit > 1 ? 0.1 : 3);
    edge(s, "jaw", "finder", JAW_SIDE_YMINUS);
    row(s, machine(wx, wy, skew, x + 20, y - r));
    row(s, machine(wx, wy, skew, x + 100, y - r));
    edge(s, "stop", "finder", JAW_SIDE_XPLUS);
    for (int i = 0; i < n; i++)
        row(s, machine(wx, wy, skew, x + r, y - 15 - 40 * i));
}

static void plane_is(const shop *s, double x, double y, double tol)
{
    const jaw_zero_found *z = zero_found(s, "G54");
    ck_status(z->status, JAW_OK);
    near(z->zero.x, x, tol, "X");
    near(z->zero.y, y, tol, "Y");
}

/* ------------------------------------------------------------------ corners */

/* definitions.md, worked: offset (100, 50), theta 1 degree, program (80, 20)
 * gives machine (179.638767, 71.393146), printed to 6 decimals.  The corner is
 * the program point; the zero that follows must be the offset. */
START_TEST(worked_skew_example)
{
    const double skew = jaw_rad(1), x = 179.638767, y = 71.393146;
    shop s;
    finder(&s, JAW_MM, true);
    corner(&s, x, y, skew, 0, 0, 2);
    zero(&s, "G54", (wanted){.turn = "jaw", .along = JAW_X, .x = "stop",
                             .y = "jaw", .at_x = 80, .at_y = 20});
    solve(&s);
    plane_is(&s, 100, 50, 1e-6);
    const jaw_zero_found *z = zero_found(&s, "G54");
    near(jaw_deg(z->skew), 1, 1e-13, "skew");
    near(jaw_deg(z->turn), 1, 1e-13, "turn to enter");
    near(z->squareness, 0, 1e-14, "squareness");
    near(z->tap_span, 80, 1e-12, "span");
    near(z->tap, 80 * sin(skew), 1e-12, "tap");
    ck_assert(isnan(z->far_cost.x) && isnan(z->zero.z) && isnan(z->enter.z));
    ck_assert_uint_eq(severe(&s, JAW_DOUBT), 0);
    ck_assert_uint_eq(z->flags, 0);
    shop_close(&s);
}
END_TEST

/* By hand: jaw from y = 5.5 - 3 outwards, stop at 12 + 3 - 3. */
START_TEST(square_corner)
{
    static const double at[][2] = {{0, 0}, {25, 0}, {-10, 40.5}};
    shop s;
    finder(&s, JAW_MM, false);
    edge(&s, "jaw", "finder", JAW_SIDE_YMINUS);
    touch(&s, 20, 2.5, NOT);
    touch(&s, 90, 2.5, NOT);
    edge(&s, "stop", "finder", JAW_SIDE_XPLUS);
    touch(&s, 15, -8, NOT);
    touch(&s, 15, -60, NOT);
    zero(&s, "G54", (wanted){.x = "stop", .y = "jaw", .at_x = at[_i][0],
                             .at_y = at[_i][1]});
    solve(&s);
    plane_is(&s, 12 - at[_i][0], 5.5 - at[_i][1], 1e-13);
    const jaw_zero_found *z = zero_found(&s, "G54");
    near(z->skew, 0, 0, "skew");
    ck_assert(isnan(z->turn) && isnan(z->tap) && isnan(z->far_work.x));
    near(z->squareness, 0, 1e-15, "squareness");
    ck_assert_uint_eq(z->flags, JAW_DIRECTION_ASSUMED);
    shop_close(&s);
}
END_TEST

/* The corner of a turned part, at part coordinates other than 0, by the control
 * that turns: W = P - R(skew) at. */
START_TEST(turned_corner)
{
    static const double at[][2] = {{0, 0}, {84.1, 0}, {-30, 50}};
    const double skew = _i < 3 ? SKEW : -SKEW;
    const double *a = at[_i % 3];
    shop s;
    finder(&s, JAW_MM, true);
    corner(&s, -120, 75, skew, a[0], a[1], 2);
    zero(&s, "G54", (wanted){.turn = "jaw", .along = JAW_X, .x = "stop",
                             .y = "jaw", .at_x = a[0], .at_y = a[1]});
    solve(&s);
    plane_is(&s, -120, 75, 1e-12);
    near(zero_found(&s, "G54")->skew, skew, 1e-14, "skew");
    shop_close(&s);
}
END_TEST

/* The same from the wall that runs along y. */
START_TEST(turn_from_the_other_wall)
{
    shop s;
    finder(&s, JAW_MM, true);
    corner(&s, -120, 75, SKEW, 10, 20, 2);
    zero(&s, "G54", (wanted){.turn = "stop", .along = JAW_Y, .x = "stop",
                             .y = "jaw", .at_x = 10, .at_y = 20});
    solve(&s);
    plane_is(&s, -120, 75, 1e-12);
    near(zero_found(&s, "G54")->skew, SKEW, 1e-14, "skew");
    near(zero_found(&s, "G54")->tap_span, 40, 1e-12, "span");
    shop_close(&s);
}
END_TEST

/* A part laid in at a right angle on purpose. */
START_TEST(stated_quarter_turn)
{
    shop s;
    finder(&s, JAW_MM, true);
    /* part walls x = 0 and y = 0 of a part turned by 90 degrees about (10, 20):
     * part x runs along machine y, so part y = 0 is the machine wall x = 10 */
    edge(&s, "a", "finder", JAW_SIDE_XPLUS);
    touch(&s, 13, 40, NOT);
    touch(&s, 13, 90, NOT);
    edge(&s, "b", "finder", JAW_SIDE_YMINUS);
    touch(&s, -20, 17, NOT);
    touch(&s, -60, 17, NOT);
    zero(&s, "G54", (wanted){.stated = PI / 2, .x = "b", .y = "a", .at_x = 7,
                             .at_y = 2});
    solve(&s);
    plane_is(&s, 12, 13, 1e-13);
    near(zero_found(&s, "G54")->turn, PI / 2, 1e-15, "turn");
    ck_assert_uint_eq(severe(&s, JAW_DOUBT), 0);
    shop_close(&s);
}
END_TEST

/* Walls that are not square meet where they really meet: jaw along y = 0, stop
 * through (100, 0) leaning by atan(1/100), touched at (99, 100) and (98, 200)
 * without a radius.  More than 90 degrees is positive. */
START_TEST(edges_that_are_not_square)
{
    int lean = _i ? -1 : 1;
    shop s;
    shop_open(&s, JAW_MM);
    control(&s, true, JAW_GAUGE_LINE, 0);
    tip(&s, "point", JAW_TIP_PIN, 0, 0.005, NOT);
    edge(&s, "jaw", "point", JAW_SIDE_NONE);
    touch(&s, 0, 0, NOT);
    touch(&s, 90, 0, NOT);
    edge(&s, "stop", "point", JAW_SIDE_NONE);
    touch(&s, 100 - lean, 100, NOT);
    touch(&s, 100 - 2 * lean, 200, NOT);
    zero(&s, "G54", (wanted){.turn = "jaw", .along = JAW_X, .x = "stop",
                             .y = "jaw", .at_x = 100});
    solve(&s);
    plane_is(&s, 0, 0, 1e-12);
    near(zero_found(&s, "G54")->squareness, lean * atan(0.01), 1e-14,
         "squareness");
    ck_assert_uint_eq(severe(&s, JAW_DOUBT), 0); /* 0.57 degrees */
    shop_close(&s);
}
END_TEST

/* One wall at 45 degrees is no corner, whatever it is called. */
START_TEST(one_wall_for_both_axes)
{
    shop s;
    shop_open(&s, JAW_MM);
    tip(&s, "point", JAW_TIP_PIN, 0, 0.005, NOT);
    edge(&s, "slant", "point", JAW_SIDE_NONE);
    touch(&s, 0, 0, NOT);
    touch(&s, 50, 50, NOT);
    zero(&s, "G54", (wanted){.x = "slant", .y = "slant"});
    solve(&s);
    ck_status(s.status, JAW_ESIDE);
    ck_status(zero_found(&s, "G54")->status, JAW_ESIDE);
    ck_assert(isnan(zero_found(&s, "G54")->zero.x));
    ck_assert(isnan(zero_found(&s, "G54")->zero.y));
    shop_close(&s);
}
END_TEST

/* ---------------------------------------------- a control that can not turn */

/* W = P - at; everything else is off by what the turn makes of the way from P:
 * the far place must lie exactly so far from where W and its part coordinates
 * put it. */
START_TEST(control_that_can_not_turn)
{
    static const double at[][2] = {{0, 0}, {84, 41}, {-200, 10}};
    const double *a = at[_i];
    shop s;
    finder(&s, JAW_MM, false);
    corner(&s, -120, 75, SKEW, a[0], a[1], 2);
    zero(&s, "G54", (wanted){.turn = "jaw", .along = JAW_X, .x = "stop",
                             .y = "jaw", .at_x = a[0], .at_y = a[1]});
    solve(&s);
    jaw_vec2 p = machine(-120, 75, SKEW, a[0], a[1]);
    plane_is(&s, p.x - a[0], p.y - a[1], 1e-12);
    const jaw_zero_found *z = zero_found(&s, "G54");
    ck_assert(isnan(z->turn));
    near(z->skew, SKEW, 1e-14, "skew");

    /* farthest from the part's zero of the four touches */
    double far = 0;
    jaw_vec2 want = {0, 0};
    jaw_vec2 work[] = {{a[0] + 20, a[1] - 3}, {a[0] + 100, a[1] - 3},
                       {a[0] + 3, a[1] - 15}, {a[0] + 3, a[1] - 55}};
    for (int i = 0; i < 4; i++)
        if (hypot(work[i].x, work[i].y) > far) {
            far = hypot(work[i].x, work[i].y);
            want = work[i];
        }
    near(z->far_work.x, want.x, 1e-11, "far x");
    near(z->far_work.y, want.y, 1e-11, "far y");
    jaw_vec2 true_place = machine(-120, 75, SKEW, want.x, want.y);
    near(z->far_cost.x, true_place.x - (z->zero.x + want.x), 1e-11, "cost x");
    near(z->far_cost.y, true_place.y - (z->zero.y + want.y), 1e-11, "cost y");
    shop_close(&s);
}
END_TEST

/* The same where the other coordinate comes from a bore: the cost is still that
 * of the true part, not of the point that the entered values meet in. */
START_TEST(cost_with_a_bore)
{
    const double r = 3;
    shop s;
    finder(&s, JAW_MM, false);
    feature(&s, JAW_BORE, "pilot", "finder");
    for (int i = 0; i < 4; i++)
        row(&s, machine(-120, 75, SKEW, 60 + (10 - r) * cos(i * PI / 2),
                        30 + (10 - r) * sin(i * PI / 2)));
    edge(&s, "jaw", "finder", JAW_SIDE_YMINUS);
    row(&s, machine(-120, 75, SKEW, 0, -r));
    row(&s, machine(-120, 75, SKEW, 100, -r));
    zero(&s, "G54", (wanted){.turn = "jaw", .along = JAW_X, .x = "pilot",
                             .y = "jaw", .at_x = 60});
    solve(&s);
    const jaw_zero_found *z = zero_found(&s, "G54");
    ck_status(z->status, JAW_OK);
    near(z->far_work.x, 100, 1e-11, "far x");
    near(z->far_work.y, -r, 1e-11, "far y");
    jaw_vec2 there = machine(-120, 75, SKEW, 100, -r);
    near(z->far_cost.x, there.x - (z->zero.x + 100), 1e-11, "cost x");
    near(z->far_cost.y, there.y - (z->zero.y - r), 1e-11, "cost y");
    shop_close(&s);
}
END_TEST

/* ----------------------------------------------------- touched in one place */

/* One touch on the stop: its wall is taken square to the jaw. */
START_TEST(single_touch_on_the_stop)
{
    shop s;
    finder(&s, JAW_MM, true);
    corner(&s, -120, 75, SKEW, 0, 0, 1);
    zero(&s, "G54", (wanted){.turn = "jaw", .along = JAW_X, .x = "stop",
                             .y = "jaw"});
    solve(&s);
    plane_is(&s, -120, 75, 1e-12);
    const jaw_zero_found *z = zero_found(&s, "G54");
    ck_assert(isnan(z->squareness));
    ck_assert_uint_eq(z->flags, JAW_DIRECTION_ASSUMED);
    ck_assert_uint_eq(severe(&s, JAW_DOUBT), 0);
    ck_assert_uint_ge(severe(&s, JAW_ASSUMPTION), 1);
    shop_close(&s);
}
END_TEST

/* x alone, on a turned part, taken beside the work zero.  Radius 8.41: the
 * centre stands 8.41 * 841/840 off in x. */
START_TEST(one_coordinate_on_the_stop)
{
    shop s;
    shop_open(&s, JAW_MM);
    control(&s, true, JAW_GAUGE_LINE, 0);
    tip(&s, "pin", JAW_TIP_PIN, 16.82, 0.005, NOT);
    edge(&s, "jaw", "pin", JAW_SIDE_YMINUS);
    touch(&s, 100 + 0.41, 50 - 8.40, NOT);
    touch(&s, 184 + 0.41, 54.1 - 8.40, NOT);
    edge(&s, "stop", "pin", JAW_SIDE_XPLUS);
    touch(&s, 100 + 8.41 * 841 / 840, NOT, NOT);
    zero(&s, "G54", (wanted){.turn = "jaw", .along = JAW_X, .x = "stop",
                             .y = "jaw"});
    solve(&s);
    plane_is(&s, 100, 50, 1e-12);
    ck_assert_uint_eq(zero_found(&s, "G54")->flags,
                      JAW_DIRECTION_ASSUMED | JAW_SAME_PLACE);
    shop_close(&s);
}
END_TEST

/* A slot and a bore read in one coordinate, no turn: plain halves. */
START_TEST(halves)
{
    shop s;
    finder(&s, JAW_MM, false);
    feature(&s, JAW_SLOT, "key", "finder");
    touch(&s, 10, NOT, NOT);
    other_wall(&s);
    touch(&s, 31, NOT, NOT);
    feature(&s, JAW_BORE, "pilot", "finder");
    touch(&s, 50, NOT, NOT);
    touch(&s, 58, NOT, NOT);
    touch(&s, NOT, -7, NOT);
    touch(&s, NOT, 5, NOT);
    zero(&s, "G54", (wanted){.x = "key", .y = "pilot", .at_x = 0.5,
                             .at_y = 4});
    solve(&s);
    plane_is(&s, 20, -5, 1e-14);
    ck_assert_uint_eq(severe(&s, JAW_DOUBT), 0);
    shop_close(&s);
}
END_TEST

/* One axis alone is what the feature has beside its touches. */
START_TEST(one_axis_alone)
{
    shop s;
    finder(&s, JAW_MM, false);
    corner(&s, 12, 5.5, 0, 0, 0, 2);
    zero(&s, "G54", (wanted){.x = "stop", .at_x = 2});
    zero(&s, "G55", (wanted){.y = "jaw", .at_y = -3});
    solve(&s);
    const jaw_zero_found *x = zero_found(&s, "G54"),
                         *y = zero_found(&s, "G55");
    ck_status(s.status, JAW_OK);
    near(x->zero.x, 10, 1e-13, "X");
    near(x->enter.x, 10, 0, "X to enter");
    ck_assert(isnan(x->zero.y) && isnan(x->enter.y) && isnan(x->zero.z));
    near(y->zero.y, 8.5, 1e-13, "Y");
    ck_assert(isnan(y->zero.x) && isnan(y->enter.x));
    shop_close(&s);
}
END_TEST

/* ----------------------------------------------------------------- patterns */

/* Two dowels give zero and turn, and a third the same from a boss. */
START_TEST(zero_from_a_pattern)
{
    shop s;
    finder(&s, JAW_MM, true);
    feature(&s, JAW_PATTERN, "dowels", NULL);
    jaw_vec2 a = machine(-120, 75, 2.5, 5, 5);
    jaw_vec2 b = machine(-120, 75, 2.5, 95, 5);
    hole(&s, 5, 5, a.x, a.y);
    hole(&s, 95, 5, b.x, b.y);
    hole_of(&s, 40, 60, "post");
    feature(&s, JAW_BOSS, "post", "finder");
    for (int i = 0; i < 5; i++)
        row(&s, machine(-120, 75, 2.5, 40 + 11 * cos(i), 60 + 11 * sin(i)));
    zero(&s, "G54", (wanted){.turn = "dowels", .along = JAW_AXES,
                             .x = "dowels", .y = "dowels"});
    solve(&s);
    plane_is(&s, -120, 75, 1e-11);
    near(zero_found(&s, "G54")->skew, 2.5, 1e-13, "skew");
    ck_assert(isnan(zero_found(&s, "G54")->tap));
    ck_assert_uint_eq(zero_found(&s, "G54")->flags, JAW_STEEP);
    shop_close(&s);
}
END_TEST

/* ----------------------------------------------------------------- rounding */

START_TEST(rounded_to_the_step)
{
    static const struct {
        jaw_unit unit;
        double step, x, enter; /* step, reading and result as typed */
    } rows[] = {
        {JAW_MM, 0.001, 12.34567, 12.346}, {JAW_MM, 0.01, 12.34567, 12.35},
        {JAW_MM, 0.005, 12.34567, 12.345}, {JAW_MM, 0.001, -12.34567, -12.346},
        {JAW_IN, 0.0001, 1.23456, 1.2346}, {JAW_IN, 0.0005, 1.23456, 1.2345},
        {JAW_IN, 0.0001, -1.23456, -1.2346},
    };
    shop s;
    shop_open(&s, rows[_i].unit);
    jaw_control c = *jaw_setup_control(s.setup);
    c.step = rows[_i].step * s.unit;
    ck_status(jaw_setup_set_control(s.setup, &c), JAW_OK);
    tip(&s, "point", JAW_TIP_PIN, 0, 0.001, NOT);
    edge(&s, "stop", "point", JAW_SIDE_NONE);
    touch(&s, rows[_i].x, NOT, NOT);
    zero(&s, "G54", (wanted){.x = "stop"});
    solve(&s);
    near(zero_found(&s, "G54")->zero.x / s.unit, rows[_i].x, 1e-14, "exact");
    near(zero_found(&s, "G54")->enter.x / s.unit, rows[_i].enter, 1e-14,
         "rounded");
    shop_close(&s);
}
END_TEST

START_TEST(turn_rounded_to_its_step)
{
    shop s;
    finder(&s, JAW_MM, true);
    jaw_control c = *jaw_setup_control(s.setup);
    c.angle_step = jaw_rad(0.01);
    ck_status(jaw_setup_set_control(s.setup, &c), JAW_OK);
    corner(&s, 0, 0, jaw_rad(1.2345), 0, 0, 2);
    zero(&s, "G54", (wanted){.turn = "jaw", .along = JAW_X, .x = "stop",
                             .y = "jaw"});
    solve(&s);
    near(jaw_deg(zero_found(&s, "G54")->turn), 1.23, 1e-12, "turn");
    near(jaw_deg(zero_found(&s, "G54")->skew), 1.2345, 1e-12, "skew");
    shop_close(&s);
}
END_TEST

/* Inches all the way: the same corner as in millimetres. */
START_TEST(corner_in_inches)
{
    shop s;
    finder(&s, JAW_IN, true);
    corner(&s, -120, 75, SKEW, 25.4, 50.8, 2);
    zero(&s, "G54", (wanted){.turn = "jaw", .along = JAW_X, .x = "stop",
                             .y = "jaw", .at_x = 1, .at_y = 2});
    solve(&s);
    plane_is(&s, -120, 75, 1e-12);
    near(zero_found(&s, "G54")->enter.x / 25.4, -4.7244, 1e-14, "to enter");
    near(zero_found(&s, "G54")->enter.y / 25.4, 2.9528, 1e-14, "to enter");
    shop_close(&s);
}
END_TEST

/* -------------------------------------------------------------------- steps */

/* The working of each value ends in the value that is entered. */
START_TEST(working_leads_to_the_value)
{
    shop s;
    finder(&s, JAW_MM, true);
    corner(&s, -120, 75, SKEW, 10, 20, 2);
    zero(&s, "G54", (wanted){.turn = "jaw", .along = JAW_X, .x = "stop",
                             .y = "jaw", .at_x = 10, .at_y = 20});
    zero(&s, "G55", (wanted){.turn = "jaw", .along = JAW_X, .x = "stop",
                             .y = "jaw"});
    solve(&s);
    const char *const names[] = {"G54", "G55"};
    for (int k = 0; k < 2; k++) {
        const jaw_zero_found *z = zero_found(&s, names[k]);
        bool x = false, y = false, turn = false;
        ck_assert_uint_ge(z->n_steps, 6);
        for (size_t i = 0; i < z->n_steps; i++) {
            ck_assert_ptr_nonnull(z->steps[i].text);
            ck_assert(!isnan(z->steps[i].value));
            x = x || z->steps[i].value == z->enter.x;
            y = y || z->steps[i].value == z->enter.y;
            turn = turn || (z->steps[i].value == z->turn &&
                            z->steps[i].quantity == JAW_ANGLE);
        }
        ck_assert(x && y && turn);
    }
    shop_close(&s);
}
END_TEST

TCase *zero_case(void)
{
    TCase *tc = tcase_create("zero");
    tcase_add_test(tc, worked_skew_example);
    tcase_add_loop_test(tc, square_corner, 0, 3);
    tcase_add_loop_test(tc, turned_corner, 0, 6);
    tcase_add_test(tc, turn_from_the_other_wall);
    tcase_add_test(tc, stated_quarter_turn);
    tcase_add_loop_test(tc, edges_that_are_not_square, 0, 2);
    tcase_add_test(tc, one_wall_for_both_axes);
    tcase_add_loop_test(tc, control_that_can_not_turn, 0, 3);
    tcase_add_test(tc, cost_with_a_bore);
    tcase_add_test(tc, single_touch_on_the_stop);
    tcase_add_test(tc, one_coordinate_on_the_stop);
    tcase_add_test(tc, halves);
    tcase_add_test(tc, one_axis_alone);
    tcase_add_test(tc, zero_from_a_pattern);
    tcase_add_loop_test(tc, rounded_to_the_step, 0, 7);
    tcase_add_test(tc, turn_rounded_to_its_step);
    tcase_add_test(tc, corner_in_inches);
    tcase_add_test(tc, working_leads_to_the_value);
    return tc;
}
