/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sine bar. */
#include "hold_tests.h"

/* Heights for a sine bar of 5 in: Machinery's Handbook, constants for setting
 * a 5-inch sine bar; from memory, printed to 5 decimals.  100 mm: the same
 * sine, common practice, no source. */
static const struct {
    const char *name;
    double bar, blocks, degrees, half;
} tables[] = {
    {"5 in, 1", 5, 0.08726, 1, 0.5e-5},
    {"5 in, 5", 5, 0.43578, 5, 0.5e-5},
    {"5 in, 10", 5, 0.86824, 10, 0.5e-5},
    {"5 in, 10 30'", 5, 0.91118, 10.5, 0.5e-5},
    {"5 in, 15", 5, 1.29410, 15, 0.5e-5},
    {"5 in, 20", 5, 1.71010, 20, 0.5e-5},
    {"5 in, 30", 5, 2.50000, 30, 0.5e-5},
    {"5 in, 45", 5, 3.53553, 45, 0.5e-5},
    {"100 mm, 15", 100, 25.882, 15, 0.5e-3},
};

/* Half the last digit of the height is this much of the angle. */
START_TEST(sine_tables)
{
    double angle = tables[_i].degrees * PI / 180;
    double half = tables[_i].half / (tables[_i].bar * cos(angle));
    jaw_figure f;
    ck_status(jaw_hold_sine((jaw_length){tables[_i].bar, 0},
                            (jaw_length){tables[_i].blocks, 0}, &f),
              JAW_OK, tables[_i].name);
    near(f.value, angle, 1.001 * half, tables[_i].name);
    near(f.u, 0, 0, "both exact");
}
END_TEST

/* There and back, up to a hair's breadth of 90 degrees, where the arc sine of
 * the quotient has lost half its digits.  Long double is the yardstick: the
 * three sides close a right triangle. */
START_TEST(sine_there_and_back)
{
    random_source r = random_start("sine_there_and_back", 51);
    double worst = 0;
    for (int i = 0; i < 20000; i++) {
        double bar = random_between(&r, 10, 500);
        double part = i % 2 ? random_between(&r, 0, 1)
                            : 1 - pow(10, random_between(&r, -15, -1));
        double h = bar * part;
        jaw_figure f;
        if (h >= bar)
            continue;
        ck_status(jaw_hold_sine((jaw_length){bar, 0}, (jaw_length){h, 0}, &f),
                  JAW_OK, "sine");
        long double b = bar, g = h;
        double want = (double)atan2l(g, sqrtl((b - g) * (b + g)));
        worst = fmax(worst, fabs(f.value - want) / want);
    }
    printf("sine: worst relative error %.2g\n", worst);
    ck_assert(worst <= 4e-16);
}
END_TEST

/* The same tables the other way; and what is not to be had. */
START_TEST(stack_tables)
{
    double angle = tables[_i].degrees * PI / 180;
    jaw_figure f, back;
    jaw_length bar = {tables[_i].bar, 0.001};
    ck_status(jaw_hold_stack(bar, angle, &f), JAW_OK, tables[_i].name);
    near(f.value, tables[_i].blocks, 1.001 * tables[_i].half, tables[_i].name);
    near(f.u, 0.001 * sin(angle), 1e-15, "by the bar");
    ck_status(jaw_hold_sine(bar, (jaw_length){f.value, 0}, &back), JAW_OK,
              "back");
    near(back.value, angle, 1e-14, "back");
}
END_TEST

START_TEST(stack_odd)
{
    static const struct {
        jaw_length bar;
        double angle;
        jaw_status status;
    } odd[] = {
        {{0, 0}, 0.5, JAW_EDOMAIN},     {{-5, 0}, 0.5, JAW_EDOMAIN},
        {{NAN, 0}, 0.5, JAW_EUNKNOWN},   {{5, -1}, 0.5, JAW_EDOMAIN},
        {{5, 0}, -0.1, JAW_EDOMAIN},    {{5, 0}, PI / 2, JAW_EDOMAIN},
        {{5, 0}, NAN, JAW_ENOTFINITE},
    };
    for (size_t i = 0; i < sizeof odd / sizeof odd[0]; i++) {
        jaw_figure f;
        ck_status(jaw_hold_stack(odd[i].bar, odd[i].angle, &f), odd[i].status,
                  "odd");
        ck_assert(isnan(f.value) && isnan(f.u) && isnan(f.half95));
    }
}
END_TEST

START_TEST(sine_flat)
{
    jaw_figure f;
    ck_status(jaw_hold_sine((jaw_length){127, 0.001}, (jaw_length){0, 0.002},
                            &f),
              JAW_OK, "flat");
    near(f.value, 0, 0, "flat");
    near(f.u, 0.002 / 127, 1e-18, "only the blocks tell");
}
END_TEST

START_TEST(spread_is_that_of_simulated_bars)
{
    static const double height[] = {5, 60, 115};
    random_source r = random_start("sine: simulated bars", 52);
    spread angle = {0, 0, 0};
    jaw_length bar = {127, 0.003}, blocks = {height[_i], 0.002};
    jaw_figure f, k;
    ck_status(jaw_hold_sine(bar, blocks, &f), JAW_OK, "stated");
    for (int i = 0; i < 20000; i++) {
        jaw_length b = {bar.value + bar.known * random_normal(&r), 0};
        jaw_length h = {blocks.value + blocks.known * random_normal(&r), 0};
        ck_status(jaw_hold_sine(b, h, &k), JAW_OK, "as it is");
        spread_add(&angle, k.value);
    }
    /* 0.5 % of a standard deviation of 20000, four times */
    near(spread_of(&angle), f.u, 0.02 * f.u, "angle");
}
END_TEST

static const struct {
    const char *name;
    jaw_length bar, blocks;
    jaw_status status;
} spoilt[] = {
    {"no bar", {NOT, 0}, {10, 0}, JAW_EUNKNOWN},
    {"no blocks", {127, 0}, {NOT, 0}, JAW_EUNKNOWN},
    {"bar infinite", {FAR, 0}, {10, 0}, JAW_ENOTFINITE},
    {"blocks infinite", {127, 0}, {FAR, 0}, JAW_ENOTFINITE},
    {"bar's u nan", {127, NOT}, {10, 0}, JAW_ENOTFINITE},
    {"bar's u", {127, -1}, {10, 0}, JAW_EDOMAIN},
    {"blocks' u", {127, 0}, {10, -1}, JAW_EDOMAIN},
    {"bar 0", {0, 0}, {0, 0}, JAW_EDOMAIN},
    {"bar negative", {-127, 0}, {10, 0}, JAW_EDOMAIN},
    {"blocks negative", {127, 0}, {-10, 0}, JAW_EDOMAIN},
    {"straight up", {127, 0}, {127, 0}, JAW_EDOMAIN},
    {"higher than long", {127, 0}, {130, 0}, JAW_EDOMAIN},
};

START_TEST(sine_status)
{
    jaw_figure f;
    ck_status(jaw_hold_sine(spoilt[_i].bar, spoilt[_i].blocks, &f),
              spoilt[_i].status, spoilt[_i].name);
    figure_is_nan(f, spoilt[_i].name);
}
END_TEST

TCase *sine_case(void)
{
    TCase *tc = tcase_create("sine");
    tcase_add_loop_test(tc, sine_tables, 0, COUNT(tables));
    tcase_add_loop_test(tc, stack_tables, 0, COUNT(tables));
    tcase_add_test(tc, stack_odd);
    tcase_add_test(tc, sine_there_and_back);
    tcase_add_test(tc, sine_flat);
    tcase_add_loop_test(tc, spread_is_that_of_simulated_bars, 0, 3);
    tcase_add_loop_test(tc, sine_status, 0, COUNT(spoilt));
    return tc;
}
