/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of frame.c and units.c. */
#include "base_tests.h"

#include "tests/near.h"

#include <jawline/base.h>

#include <float.h>
#include <stdint.h>
#include <stdlib.h>

#define PI 3.14159265358979323846

/* k quarter turns, rounded once: pi/2 to 64 bits times k, to a double. */
static double quarters(int k)
{
    return (double)((long double)k * 1.57079632679489661923132169163975144L);
}

static uint64_t random_state;

/* splitmix64: Steele, Lea & Flood, OOPSLA 2014, fig. 17. */
static uint64_t random_bits(void)
{
    uint64_t z = random_state += 0x9e3779b97f4a7c15u;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

static double random_between(double low, double high)
{
    return low + (high - low) * (double)(random_bits() >> 11) * 0x1p-53;
}

START_TEST(quarter_turns_are_exact)
{
    static const double cosine[] = {1, 0, -1, 0}, sine[] = {0, 1, 0, -1};
    for (int k = -65536; k <= 65536; k++) {
        double turn = quarters(k);
        jaw_frame f = jaw_frame_make((jaw_vec2){1, 2}, turn);
        if (f.c != cosine[k & 3] || f.s != sine[k & 3])
            ck_abort_msg("%d quarters: c %.17g s %.17g", k, f.c, f.s);
        near(f.turn, turn, 0, "turn");
        near(f.origin.x, 1, 0, "origin x");
        near(f.origin.y, 2, 0, "origin y");
    }
}
END_TEST

/* Degrees are what a person writes: they must come through jaw_rad exact. */
START_TEST(quarter_turns_in_degrees_are_exact)
{
    for (int k = -400; k <= 400; k++) {
        jaw_frame f = jaw_frame_make((jaw_vec2){0, 0}, jaw_rad(90.0 * k));
        jaw_vec2 m = jaw_machine_from_work(&f, (jaw_vec2){0.1, 0.7});
        static const double x[] = {0.1, -0.7, -0.1, 0.7};
        static const double y[] = {0.7, 0.1, -0.7, -0.1};
        ck_assert_msg(m.x == x[k & 3] && m.y == y[k & 3], "%d: %.17g %.17g", k,
                      m.x, m.y);
    }
}
END_TEST

/* A real turn near a quarter is not taken for one. */
START_TEST(nearly_a_quarter_is_not_one)
{
    for (int k = -8; k <= 8; k++) {
        if (k == 0)
            continue;
        double turn = quarters(k) * (1 + 4 * DBL_EPSILON);
        jaw_frame f = jaw_frame_make((jaw_vec2){0, 0}, turn);
        ck_assert(f.c == cos(turn));
        ck_assert(f.s == sin(turn));
        ck_assert(k & 1 ? f.c != 0 : f.s != 0);
    }
    jaw_frame tiny = jaw_frame_make((jaw_vec2){0, 0}, 1e-300);
    ck_assert(tiny.s == 1e-300 && tiny.c == 1);
}
END_TEST

START_TEST(other_turns_are_cos_and_sin)
{
    random_state = 11;
    for (int i = 0; i < 100000; i++) {
        double turn = random_between(-20, 20);
        jaw_frame f = jaw_frame_make((jaw_vec2){0, 0}, turn);
        near(f.c, cos(turn), 0, "c");
        near(f.s, sin(turn), 0, "s");
    }
    jaw_frame f = jaw_frame_make((jaw_vec2){0, 0}, 1e15);
    near(f.c, cos(1e15), 0, "c of a large turn");
    near(f.s, sin(1e15), 0, "s of a large turn");
}
END_TEST

START_TEST(turn_that_is_not_finite)
{
    static const double bad[] = {NAN, INFINITY, -INFINITY};
    jaw_frame f = jaw_frame_make((jaw_vec2){0, 0}, bad[_i]);
    ck_assert(isnan(f.c) && isnan(f.s));
    jaw_vec2 m = jaw_machine_from_work(&f, (jaw_vec2){1, 1});
    ck_assert(isnan(m.x) && isnan(m.y));
}
END_TEST

/* Counter-clockwise seen from +Z: the part's X axis swings towards machine
 * Y (ISO 841: right-handed).  3-4-5 triangle, so every value is plain. */
START_TEST(turn_is_counter_clockwise)
{
    jaw_frame f = jaw_frame_make((jaw_vec2){100, -50}, atan2(3, 4));
    jaw_vec2 x = jaw_machine_from_work(&f, (jaw_vec2){10, 0});
    near(x.x, 108, 1e-13, "x of the part's X axis");
    near(x.y, -44, 1e-13, "y of the part's X axis");
    jaw_vec2 y = jaw_machine_from_work(&f, (jaw_vec2){0, 10});
    near(y.x, 94, 1e-13, "x of the part's Y axis");
    near(y.y, -42, 1e-13, "y of the part's Y axis");
}
END_TEST

/* There and back, result and input in the same place. */
START_TEST(there_and_back)
{
    random_state = 12;
    for (int i = 0; i < 100000; i++) {
        jaw_vec2 origin = {random_between(-1e3, 1e3),
                           random_between(-1e3, 1e3)};
        jaw_vec2 p = {random_between(-1e3, 1e3), random_between(-1e3, 1e3)};
        jaw_frame f = jaw_frame_make(origin, random_between(-7, 7));
        jaw_vec2 q = p;
        q = jaw_machine_from_work(&f, q);
        near(hypot(q.x - origin.x, q.y - origin.y), hypot(p.x, p.y), 2e-12,
             "length");
        q = jaw_work_from_machine(&f, q);
        near(q.x, p.x, 2e-12, "x");
        near(q.y, p.y, 2e-12, "y");
    }
}
END_TEST

static const struct {
    double angle, half, full;
} angles[] = {
    {0, 0, 0},
    {-0.0, 0, 0},
    {PI / 2, PI / 2, PI / 2},
    {-PI / 2, PI / 2, -PI / 2},
    {PI, 0, PI},
    {-PI, 0, PI},
    {3 * PI / 2, PI / 2, -PI / 2},
    {-3 * PI / 2, PI / 2, PI / 2},
    {2 * PI, 0, 0},
    {-2 * PI, 0, 0},
    {5 * PI / 2, PI / 2, PI / 2},
    {3 * PI, 0, PI},
    {-7 * PI, 0, PI},
    {1, 1, 1},
    {2, 2 - PI, 2},
    {-2, PI - 2, -2},
    {4, 4 - PI, 4 - 2 * PI},
    {-4, PI - 4, 2 * PI - 4},
    {100, 100 - 32 * PI, 100 - 32 * PI},
};

START_TEST(angle_ranges)
{
    near(jaw_angle_half(angles[_i].angle), angles[_i].half, 2e-14, "half");
    near(jaw_angle_full(angles[_i].angle), angles[_i].full, 2e-14, "full");
}
END_TEST

START_TEST(angle_ends_of_range)
{
    for (int k = -1000; k <= 1000; k++) {
        static const double full[] = {0, PI / 2, PI, -PI / 2};
        near(jaw_angle_half(quarters(k)), k & 1 ? PI / 2 : 0, 0, "half");
        near(jaw_angle_full(quarters(k)), full[k & 3], 0, "full");
        near(jaw_angle_half(jaw_rad(90.0 * k)), k & 1 ? PI / 2 : 0, 0, "deg");
    }
    near(jaw_angle_half(nextafter(-PI / 2, -4)), PI / 2, 0, "just beyond");
    near(jaw_angle_full(nextafter(-PI, -4)), PI, 0, "just beyond");
}
END_TEST

START_TEST(angle_keeps_its_direction)
{
    random_state = 13;
    for (int i = 0; i < 200000; i++) {
        double a = random_between(-500, 500);
        double half = jaw_angle_half(a), full = jaw_angle_full(a);
        if (!(half > -PI / 2 && half <= PI / 2 && full > -PI && full <= PI))
            ck_abort_msg("%.17g: half %.17g full %.17g", a, half, full);
        near(sin(half - a), 0, 1e-13, "half");
        near(sin((full - a) / 2), 0, 1e-13, "full");
        near(jaw_angle_half(half), half, 0, "half twice");
        near(jaw_angle_full(full), full, 0, "full twice");
    }
}
END_TEST

/* Beyond exact multiples of quarters the range still holds. */
START_TEST(angle_large)
{
    static const double large[] = {1e6, -1e6, 1e15, -1e15, 1e300, DBL_MAX};
    double half = jaw_angle_half(large[_i]), full = jaw_angle_full(large[_i]);
    ck_assert(half > -PI / 2 && half <= PI / 2);
    ck_assert(full > -PI && full <= PI);
}
END_TEST

START_TEST(angle_not_finite)
{
    static const double bad[] = {NAN, INFINITY, -INFINITY};
    ck_assert(isnan(jaw_angle_half(bad[_i])));
    ck_assert(isnan(jaw_angle_full(bad[_i])));
}
END_TEST

START_TEST(units)
{
    near(jaw_unit_mm(JAW_MM), 1, 0, "mm");
    near(jaw_unit_mm(JAW_IN), 25.4, 0, "in");
    ck_assert_str_eq(jaw_unit_word(JAW_MM), "mm");
    ck_assert_str_eq(jaw_unit_word(JAW_IN), "in");
    ck_assert(isnan(jaw_unit_mm((jaw_unit)7)));
    ck_assert_ptr_null(jaw_unit_word((jaw_unit)7));
}
END_TEST

START_TEST(degrees)
{
    near(jaw_deg(PI / 180), 1, DBL_EPSILON, "1 degree");
    near(jaw_rad(1), PI / 180, DBL_EPSILON / 32, "1 degree");
    near(jaw_rad(30), PI / 6, DBL_EPSILON, "30 degrees");
    for (int k = -8; k <= 8; k++)
        near(jaw_deg(quarters(k)), 90.0 * k, 0, "quarters");
    random_state = 14;
    for (int i = 0; i < 100000; i++) {
        double deg = random_between(-720, 720);
        near(jaw_deg(jaw_rad(deg)), deg, 4 * DBL_EPSILON * fabs(deg), "back");
    }
}
END_TEST

TCase *frame_case(void)
{
    TCase *tc = tcase_create("frame");
    tcase_add_test(tc, quarter_turns_are_exact);
    tcase_add_test(tc, quarter_turns_in_degrees_are_exact);
    tcase_add_test(tc, nearly_a_quarter_is_not_one);
    tcase_add_test(tc, other_turns_are_cos_and_sin);
    tcase_add_loop_test(tc, turn_that_is_not_finite, 0, 3);
    tcase_add_test(tc, turn_is_counter_clockwise);
    tcase_add_test(tc, there_and_back);
    tcase_add_loop_test(tc, angle_ranges, 0, COUNT(angles));
    tcase_add_test(tc, angle_ends_of_range);
    tcase_add_test(tc, angle_keeps_its_direction);
    tcase_add_loop_test(tc, angle_large, 0, 6);
    tcase_add_loop_test(tc, angle_not_finite, 0, 3);
    return tc;
}

TCase *units_case(void)
{
    TCase *tc = tcase_create("units");
    tcase_add_test(tc, units);
    tcase_add_test(tc, degrees);
    return tc;
}
