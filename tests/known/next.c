/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of the touch to take next: what is promised comes true once it was
 * taken, and nothing is promised where little is to be gained. */
#include "known_tests.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* One touch of spread s: a second has both of s / sqrt(2), and checks it. */
START_TEST(a_lone_touch)
{
    solved s = solved_text("tip pin diameter 6 repeat 0.01\n"
                           "edge jaw tip pin faces y-\n  y -3\n"
                           "zero G54\n  y jaw\n");
    const jaw_next *n = &zero_of(&s)->next[JAW_Y];
    ck_assert_str_eq(n->text, "touch 'jaw' once more, as in line 5");
    near(n->half95, 1.959964 * 0.01 / sqrt(2), 1e-8, "half-width");
    ck_assert(n->checks);
    char *page = text_of(&s), *json = json_of(&s);
    ck_assert_msg(strstr(page, "next: touch 'jaw' once more, as in line 5: "
                               "G54 Y +- 0.0196 becomes 0.0139\n    and has a "
                               "check\n") != NULL, "%s", page);
    ck_assert_ptr_nonnull(strstr(json, "\"checks\": true"));
    free(page);
    free(json);
    solved_drop(&s);
}
END_TEST

/* A sheet; the touch that is asked for; the same sheet with it. */
static const struct {
    const char *before, *text, *after;
    int axis;
} cases[] = {
    {"bore a tip pin\n  7 0\n  0 7\n  -7 0\n",
     "touch 'a' once more, on its y- side", "  0 -7\n", JAW_Y},
    {"face a tip pin\n  0 0 10\n  50 0 10\n  0 50 10\n  50 50 10\n",
     NULL, "", JAW_Z},
    {"bore b tip pin\n  57 0\n  50 7\n  43 0\n  50 -7\n"
     "edge a tip pin faces y-\n  0 -3\n  100 -3\n",
     "touch 'a' once more, as in line 10", "  0 -3\n", JAW_Y},
};

static void sheet_of(char *text, size_t size, int i, const char *more)
{
    const char *axis = cases[i].axis == JAW_Z ? "z" : "y";

    snprintf(text, size,
             "tip pin diameter 6 length 100 repeat 0.01\n%s%szero G54\n"
             "  %s a\n%s",
             cases[i].before, more, axis,
             strstr(cases[i].before, "bore b") ? "  x b\n" : "");
}

START_TEST(comes_true)
{
    char text[600];
    sheet_of(text, sizeof text, _i, "");
    solved s = solved_text(text);
    const jaw_next *n = &zero_of(&s)->next[cases[_i].axis];
    if (cases[_i].text == NULL) { /* a fifth is not to be had */
        ck_assert_ptr_null(n->text);
        solved_drop(&s);
        return;
    }
    ck_assert_ptr_nonnull(n->text);
    ck_assert_str_eq(n->text, cases[_i].text);
    sheet_of(text, sizeof text, _i, cases[_i].after);
    solved t = solved_text(text);
    near(n->half95, zero_of(&t)->trust[cases[_i].axis].half95, 1e-9,
         cases[_i].text);
    solved_drop(&s);
    solved_drop(&t);
}
END_TEST

/* A stop touched once, 20 from the corner: the promise is for a second touch
 * 80 along it, away from the jaw; once it is taken, its direction is its own
 * and stands on no squareness any more, which is the smaller part. */
START_TEST(a_second_place)
{
#define JAW "tip pin diameter 6 repeat 0.01\n"                                 \
            "edge jaw tip pin faces y-\n  3 -3\n  50 -3\n  100 -3\n"           \
            "edge far tip pin faces y+\n  50 -83\n"                            \
            "edge stop tip pin faces x+\n  3 -20\n"
#define ZERO "zero G54\n  turn jaw along x\n  x stop\n  y jaw\n"               \
             "  square known to 0.2\n"
    solved s = solved_text(JAW ZERO);
    solved t = solved_text(JAW "  3 -100\n" ZERO);
    const jaw_next *n = &zero_of(&s)->next[JAW_X];
    ck_assert_str_eq(n->text, "touch 'stop' once more, 80.000 mm along it "
                              "toward y- from line 11");
    near(n->half95 / zero_of(&t)->trust[JAW_X].half95, 1, 0.1, "promise");
    ck_assert(n->half95 < 0.2 * zero_of(&s)->trust[JAW_X].half95);
    solved_drop(&s);
    solved_drop(&t);
}
END_TEST

/* Z from a tool's touch on a setter of known top: that touch again. */
START_TEST(a_contact)
{
    solved s = solved_text("tip probe ball diameter 6 repeat 0.001\n"
                           "face top tip probe\n  z 40\n  z 40\n  z 40\n"
                           "  z 40\n  z 40\n  z 40\n"
                           "setter puck top -60\n"
                           "  touched 40.1 with probe\n"
                           "zero G54\n  z top\n");
    ck_assert_str_eq(zero_of(&s)->next[JAW_Z].text,
                     "touch 'puck' once more, as in line 12");
    solved_drop(&s);
}
END_TEST

TCase *next_case(void)
{
    TCase *tc = tcase_create("next");
    tcase_add_test(tc, a_lone_touch);
    tcase_add_loop_test(tc, comes_true, 0, COUNT(cases));
    tcase_add_test(tc, a_second_place);
    tcase_add_test(tc, a_contact);
    return tc;
}
