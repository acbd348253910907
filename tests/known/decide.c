/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of decisions against stated limits.  Four touches at right angles give
 * a diameter of spread 2 s / sqrt(4) = s; ISO 14253-1:2017 narrows the limits
 * by 1.645 of it, one-sided 95 % of the normal distribution (JCGM 100, Table
 * G.2, last row at 90 %: 1.645), and widens them by the same to deny. */
#include "known_tests.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct {
    double off; /* of the diameter, mm; s = 0.01, within 0.05 */
    jaw_verdict verdict;
    const char *words;
} cases[] = {
    {0, JAW_FITS, "fits"},
    {0.0335, JAW_FITS, "fits"}, /* 0.05 - 0.01645 = 0.03355 */
    {0.0336, JAW_CAN_NOT_TELL, "can not tell"},
    {-0.0336, JAW_CAN_NOT_TELL, "can not tell"},
    {0.0664, JAW_CAN_NOT_TELL, "can not tell"}, /* 0.06645 */
    {0.0665, JAW_DOES_NOT, "does not fit"},
    {-0.0665, JAW_DOES_NOT, "does not fit"},
};

START_TEST(by_the_guard_band)
{
    char text[400], words[60];
    double r = 7 + cases[_i].off / 2;
    snprintf(text, sizeof text,
             "tip pin diameter 6 repeat 0.01\n"
             "bore a tip pin diameter 20 expected within 0.05\n"
             "  %.8f 0\n  0 %.8f\n  -%.8f 0\n  0 -%.8f\n", r, r, r, r);
    solved s = solved_text(text);
    const jaw_found *a = feature_of(&s, "a");
    near(a->size.u, 0.01, 1e-12, "u");
    near(a->size.half95, 0.01 * 1.959964, 1e-7, "half-width");
    ck_assert(a->decided);
    ck_assert_int_eq(a->verdict, cases[_i].verdict);
    ck_assert_int_eq(said(&s, "away from what was expected"),
                     cases[_i].verdict == JAW_DOES_NOT ? 1 : 0);
    char *page = text_of(&s), *json = json_of(&s);
    snprintf(words, sizeof words, "+- 0.0196: %s", cases[_i].words);
    ck_assert_msg(strstr(page, words) != NULL, "%s", page);
    snprintf(words, sizeof words, "\"verdict\": \"%s\"", cases[_i].words);
    ck_assert_msg(strstr(json, words) != NULL, "%s", json);
    free(page);
    free(json);
    solved_drop(&s);
}
END_TEST

/* A width carries the error of the tip's whole diameter, and two touches. */
START_TEST(width_carries_the_tip)
{
    solved s = solved_text("tip pin diameter 6 known to 0.03 repeat 0.01\n"
                           "web a tip pin width 10 expected within 0.05\n"
                           "  y -8\n  /\n  y 8\n");
    const jaw_found *a = feature_of(&s, "a");
    near(a->size.u, hypot(0.03, 0.01 * sqrt(2)), 1e-12, "u");
    ck_assert_int_eq(a->verdict, JAW_CAN_NOT_TELL); /* 0.05 < 1.645 u */
    solved_drop(&s);
}
END_TEST

/* Without stated limits nothing is decided. */
START_TEST(nothing_to_decide)
{
    solved s = solved_text("tip pin diameter 6 repeat 0.01\n"
                           "web a tip pin width 10 expected\n"
                           "  y -8\n  /\n  y 8\n");
    ck_assert(!feature_of(&s, "a")->decided);
    char *json = json_of(&s);
    ck_assert_ptr_nonnull(strstr(json, "\"verdict\": null"));
    free(json);
    solved_drop(&s);
}
END_TEST

TCase *decide_case(void)
{
    TCase *tc = tcase_create("decide");
    tcase_add_loop_test(tc, by_the_guard_band, 0, COUNT(cases));
    tcase_add_test(tc, width_carries_the_tip);
    tcase_add_test(tc, nothing_to_decide);
    return tc;
}
