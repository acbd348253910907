/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Places of a pattern, each with a test of its own in two directions.
 *
 * Four corners of a square, of spread s each: what the fit takes of a place is
 * a quarter in both directions, and across the line to the middle another quarter
 * for the turn.  So redundancy is 3/4 along that line and 1/2 across it. */
#include "known_tests.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define SQUARE "pattern plate places known to 0.003 repeat 0.004\n"
#define ZERO "zero G54\n  turn plate\n  x plate\n  y plate\n"

START_TEST(square_by_hand)
{
    /* off outward by 0.05 */
    solved s = solved_text(SQUARE "  0 0 0 0\n  100 0 100 0\n"
                           "  100 100 100.035355339 100.035355339\n"
                           "  0 100 0 100\n" ZERO);
    const jaw_found *plate = feature_of(&s, "plate");
    ck_assert_ptr_nonnull(plate->touch);
    for (size_t i = 0; i < 4; i++) {
        near(plate->touch[i].redundancy, 0.5, 1e-6, "redundancy");
        near(plate->touch[i].noticeable,
             JAW_TRUST_SHIFT_PLACE * 0.005 / sqrt(0.5), 1e-6, "noticeable");
        near(plate->touch[i].limit, JAW_TRUST_LIMIT_PLACE, 1e-12, "limit");
    }
    near(plate->touch[2].standard, 0.05 / 0.005 * sqrt(0.75), 1e-4,
         "standard");
    ck_assert_uint_ne(plate->flags & JAW_RESIDUAL, 0);
    says(&s, JAW_DOUBT, 6, "this place of pattern 'plate' lies 0.050 mm off");
    char *json = json_of(&s);
    ck_assert_ptr_nonnull(strstr(json, "\"doubted_beyond\": [3.7169"));
    free(json);
    solved_drop(&s);
}
END_TEST

START_TEST(nothing_is_off)
{
    solved s = solved_text(SQUARE "  0 0 0.006 0\n  100 0 100 0\n"
                           "  100 100 100 100.006\n  0 100 0 100\n" ZERO);
    ck_assert_uint_eq(feature_of(&s, "plate")->flags & JAW_RESIDUAL, 0);
    ck_assert_uint_eq(jaw_notes_at_least(s.notes, JAW_DOUBT), 0);
    solved_drop(&s);
}
END_TEST

/* Of two places one is off along their line, and nobody can tell which; what
 * one is off across it would be taken for a turn. */
START_TEST(two_places)
{
    solved s = solved_text(SQUARE "  0 0 0 0\n  100 0 100.05 0\n" ZERO);
    const jaw_found *plate = feature_of(&s, "plate");
    for (size_t i = 0; i < 2; i++) {
        near(plate->touch[i].standard, 0.05 / (0.005 * sqrt(2)), 1e-4, "test");
        near(plate->touch[i].limit, JAW_TRUST_LIMIT, 1e-12, "limit");
        ck_assert(plate->touch[i].redundancy == 0);
        ck_assert(isinf(plate->touch[i].noticeable));
    }
    says(&s, JAW_DOUBT, 3, "the places of pattern 'plate' disagree by");
    solved_drop(&s);
}
END_TEST

/* A bore that is not as drawn is named as the place, not its touches; a touch
 * that slipped in one is named as the touch. */
#define FOUR(x, last)                                                          \
    "tip pin diameter 6 repeat 0.002\n"                                        \
    "bore a tip pin\n  17 10\n  10 17\n  3 10\n  10 3\n"                       \
    "bore b tip pin\n  117 10\n  110 17\n  103 10\n  110 3\n"                  \
    "bore c tip pin\n  117" x " 110\n  110" x " 117\n  103" x " 110\n"         \
    "  110" last " 103\n"                                                      \
    "bore d tip pin\n  17 110\n  10 117\n  3 110\n  10 103\n"                  \
    "pattern plate\n  hole a at 0 0\n  hole b at 100 0\n"                      \
    "  hole c at 100 100\n  hole d at 0 100\n" ZERO

START_TEST(a_bore_out_of_place)
{
    solved s = solved_text(FOUR(".05", ".05"));
    says(&s, JAW_DOUBT, 27, "this place of pattern 'plate' lies 0.050 mm off");
    ck_assert_int_eq(said(&s, "touches of"), 0);
    ck_assert_int_eq(said(&s, "touch "), 0);
    solved_drop(&s);
}
END_TEST

START_TEST(a_touch_in_a_bore)
{
    solved s =
        solved_text("tip pin diameter 6 repeat 0.002\n"
                    "bore a tip pin\n  17 10\n  10 17\n  3 10\n  10 3\n"
                    "bore b tip pin\n  117 10\n  110 17\n  103 10\n  110 3\n"
                    "bore c tip pin\n  117 110\n  114.9497475 114.9497475\n"
                    "  110 117\n  103 110\n  105.0502525 105.0502525\n"
                    "  110 102.96\n"
                    "pattern plate\n  hole a at 0 0\n  hole b at 100 0\n"
                    "  hole c at 100 100\n" ZERO);
    says(&s, JAW_DOUBT, 20, "touch 6 of bore 'c' lies");
    ck_assert_int_eq(said(&s, "of pattern 'plate' lies"), 0);
    solved_drop(&s);
}
END_TEST

TCase *places_case(void)
{
    TCase *tc = tcase_create("places");
    tcase_add_test(tc, square_by_hand);
    tcase_add_test(tc, nothing_is_off);
    tcase_add_test(tc, two_places);
    tcase_add_test(tc, a_bore_out_of_place);
    tcase_add_test(tc, a_touch_in_a_bore);
    return tc;
}
