/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of a part that is not at 20 degrees Celsius (ISO 1). */
#include "known_tests.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Expansion of aluminium, 23.1e-6 per K (Swyt, J. Res. NIST 99 (1994) 31-44):
 * 300 mm that are 5 K warmer are 0.03465 mm longer.  The touched places lie
 * that far apart, so nothing is left over. */
START_TEST(aluminium_300_mm)
{
    solved s = solved_text("temperature 25 expansion 23.1\n"
                           "pattern plate\n  0 0 10 20\n"
                           "  300 0 310.03465 20\n"
                           "zero G54\n  turn plate\n  x plate\n  y plate\n");
    const jaw_found *plate = feature_of(&s, "plate");
    near(plate->grown, 0.034650, 1e-12, "growth");
    near(plate->grown_over, 300, 1e-12, "span");
    near(plate->rms, 0, 1e-12, "rms");
    near(plate->as.pattern.scale, 1, 1e-12, "spacing");
    near(zero_of(&s)->zero.x, 10, 1e-9, "x");
    char *page = text_of(&s), *json = json_of(&s);
    ck_assert_msg(strstr(page, "at 25.0 degrees Celsius its 300.000 are taken "
                               "as 0.0346 longer") ||
                      strstr(page, "taken as 0.0347 longer"),
                  "%s", page);
    ck_assert_ptr_nonnull(strstr(json, "\"grown\": 0.0346"));
    free(page);
    free(json);
    solved_drop(&s);
}
END_TEST

/* A rod read as 500.035 mm at 23.7 degrees, of 11.7e-6 per K, has 500.013 mm at
 * 20 (NPL, note on correcting lengths to 20 degrees, 2010, printed to 3
 * decimals): 500.013 on the drawing is what the machine reads as 500.035. */
START_TEST(rod_of_500_mm)
{
    solved s = solved_text("temperature 23.7 expansion 11.7\n"
                           "pattern rod\n  0 0 0 0\n"
                           "  500.013 0 500.035 0\n");
    near(feature_of(&s, "rod")->grown, 0.022, 0.5e-3, "growth");
    near(feature_of(&s, "rod")->rms, 0, 0.5e-3, "rms");
    solved_drop(&s);
}
END_TEST

/* A colder part is shorter, and in any unit. */
START_TEST(colder)
{
    solved s = solved_text("temperature 10 expansion 11.5\n"
                           "pattern plate\n  0in 0in 0 0\n"
                           "  10in 0in 253.97079 0\n");
    near(feature_of(&s, "plate")->grown, -254 * 10 * 11.5e-6, 1e-12, "growth");
    near(feature_of(&s, "plate")->rms, 0, 1e-9, "rms");
    char *page = text_of(&s);
    ck_assert_ptr_nonnull(strstr(page, "0.0292 shorter"));
    free(page);
    solved_drop(&s);
}
END_TEST

/* Two places at part (150, 0) and (150, 80), known to 0.01 each.  The origin
 * follows from their mean at (150, 40): W = mean - (1 + k) R (150, 40), so X
 * has the spread of the mean, 40 times that of the turn and 150 times that of k. */
START_TEST(its_spread_enters)
{
    double u = hypot(hypot(23.1e-6 * 0.5, 5 * 1.2e-6), 0.5 * 1.2e-6);
    solved s = solved_text(
        "temperature 25 known to 0.5 expansion 23.1 known to 1.2\n"
        "pattern plate places known to 0.01 repeat 0.000001\n"
        "  150 0 160.01733 20\n  150 80 160.01733 100.00924\n"
        "zero G54\n  turn plate\n  x plate\n  y plate\n");
    double mean = 0.01 / sqrt(2), turn = 0.01 * sqrt(2) / 80;
    double x = hypot(hypot(mean, 40 * turn), 150 * u);
    /* the two places themselves tell a little of k: less than 1e-5 */
    near(zero_of(&s)->trust[JAW_X].u, x, 1e-5, "x");
    near(zero_of(&s)->zero.x, 10, 1e-5, "value");
    solved_drop(&s);
}
END_TEST

/* At 20 degrees sharp, of a material of which little is known, only the product
 * of both spreads is left: 0.005.  The two places, 1 apart and known to 0.01,
 * tell k to 0.01 sqrt(2) as well. */
START_TEST(second_order)
{
    double k = 1 / sqrt(1 / (0.005 * 0.005) + 1 / (2 * 0.01 * 0.01));
    solved s = solved_text(
        "temperature 20 known to 10 expansion 0 known to 500\n"
        "pattern plate places known to 0.01 repeat 0.000001\n"
        "  100 0 110 20\n  100 1 110 21\n"
        "zero G54\n  x plate\n  y plate\n");
    /* the mean and half of the turn over 1 are 0.01 together */
    near(zero_of(&s)->trust[JAW_X].u, hypot(0.01, 100 * k), 1e-4, "x");
    solved_drop(&s);
}
END_TEST

START_TEST(fahrenheit)
{
    solved s = solved_text("temperature 68 expansion 11.5\n"
                           "pattern plate\n  0 0 10 20\n  300 0 310.03 20\n");
    says(&s, JAW_DOUBT, 3, "stated to be at 68.0 degrees Celsius");
    solved_drop(&s);
}
END_TEST

START_TEST(nothing_to_grow)
{
    solved s = solved_text("temperature 22 expansion 11.5\n"
                           "tip pin diameter 6\nedge jaw tip pin faces y-\n"
                           "  y 3\n");
    says(&s, JAW_ASSUMPTION, 3, "the temperature changes nothing");
    solved_drop(&s);
}
END_TEST

START_TEST(refused)
{
    static const jaw_temperature bad[] = {
        {.at = (double)NAN}, {.at = 1001}, {.at = 20, .expansion = 0.0011},
        {.at = 20, .at_known = -1}, {.at = 20, .expansion_known = -1e-6},
        {.at = 20, .at_known = (double)INFINITY},
    };
    jaw_setup *setup = jaw_setup_alloc();
    ck_assert_ptr_nonnull(setup);
    ck_assert_int_eq(jaw_setup_set_temperature(setup, &bad[_i]), JAW_EDOMAIN);
    ck_assert_ptr_null(jaw_setup_temperature(setup));
    jaw_setup_free(setup);
}
END_TEST

TCase *warm_case(void)
{
    TCase *tc = tcase_create("warm");
    tcase_add_test(tc, aluminium_300_mm);
    tcase_add_test(tc, rod_of_500_mm);
    tcase_add_test(tc, colder);
    tcase_add_test(tc, its_spread_enters);
    tcase_add_test(tc, second_order);
    tcase_add_test(tc, fahrenheit);
    tcase_add_test(tc, nothing_to_grow);
    tcase_add_loop_test(tc, refused, 0, 6);
    return tc;
}
