/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of `set aside`: nothing follows from such a touch, and it is shown. */
#include "known_tests.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The same as if the row were not there, to the last digit. */
START_TEST(nothing_follows)
{
    solved s = solved_text("tip pin diameter 6 repeat 0.002\n"
                           "edge jaw tip pin faces y-\n  0 -3\n  50 -3.25 set "
                           "aside\n  100 -3.001\n"
                           "zero G54\n  y jaw\n");
    solved t = solved_text("tip pin diameter 6 repeat 0.002\n"
                           "edge jaw tip pin faces y-\n  0 -3\n"
                           "  100 -3.001\n"
                           "zero G54\n  y jaw\n");
    ck_assert(zero_of(&s)->zero.y == zero_of(&t)->zero.y);
    ck_assert(zero_of(&s)->trust[JAW_Y].u == zero_of(&t)->trust[JAW_Y].u);
    ck_assert_uint_eq(feature_of(&s, "jaw")->n, 2);
    solved_drop(&s);
    solved_drop(&t);
}
END_TEST

/* Off by hand: outward of the jaw is y-, so 0.25 deeper outside is +0.2495. */
static const struct {
    const char *rows;
    double off;
} offs[] = {
    {"edge a tip pin faces y-\n  0 -3\n  100 -3.001\n  50 -3.25 set aside\n",
     0.2495},
    {"edge a tip pin faces y+\n  0 3\n  100 3\n  50 3.25 set aside\n", 0.25},
    {"bore a tip pin\n  7 0\n  0 7\n  -7 0\n  0 -7\n  0 7.4 set aside\n", 0.4},
    {"boss a tip pin\n  x 13\n  x -13\n  y 13\n  y -13\n"
     "  x -13.2 set aside\n", -0.2},
    {"slot a tip pin\n  0 -7\n  50 -7\n  /\n  0 7\n  50 7\n"
     "  20 7.3 set aside\n", 0.3},
    {"face a tip pin\n  0 0 10\n  50 0 10\n  0 50 10\n"
     "  9 9 10.6 set aside\n", 0.6},
    {"pattern a\n  0 0 10 10\n  100 0 110 10\n  50 50 60.3 60.4 set aside\n",
     0.5},
};

START_TEST(would_lie_off)
{
    char text[400];
    snprintf(text, sizeof text, "tip pin diameter 6 repeat 0.002\n%s",
             offs[_i].rows);
    solved s = solved_text(text);
    const jaw_found *a = feature_of(&s, "a");
    ck_assert_int_eq(a->status, JAW_OK);
    ck_assert_uint_eq(a->n_aside, 1);
    near(a->aside[0], offs[_i].off, 1e-9, offs[_i].rows);
    char *page = text_of(&s), *json = json_of(&s), want[80];
    snprintf(want, sizeof want, "it would lie %.3f off", a->aside[0]);
    ck_assert_msg(strstr(page, "set aside: ") && strstr(page, want), "%s",
                  page);
    ck_assert_ptr_nonnull(strstr(json, "\"set_aside\": [{\"line\": "));
    free(page);
    free(json);
    solved_drop(&s);
}
END_TEST

START_TEST(hole_of_a_bore)
{
    solved s = solved_text(
        "tip pin diameter 6 repeat 0.002\n"
        "bore a tip pin\n  7 0\n  0 7\n  -7 0\n  0 -7\n"
        "pattern plate\n  0 0 10 10\n  100 0 110 10\n"
        "  hole a at -10 -9.7 set aside\n"
        "  hole none at 0 0 set aside\n");
    near(feature_of(&s, "plate")->aside[0], 0.3, 1e-9, "off");
    ck_assert(isnan(feature_of(&s, "plate")->aside[1]));
    char *page = text_of(&s);
    ck_assert_ptr_nonnull(strstr(page, "set aside: place at line 13\n"));
    free(page);
    solved_drop(&s);
}
END_TEST

/* Shown even where nothing is left of the feature. */
START_TEST(all_of_them)
{
    solved s = solved_text("tip pin diameter 6 repeat 0.002\n"
                           "edge jaw tip pin faces y-\n"
                           "  0 -3 set aside\n  100 -3.001 set aside\n"
                           "pattern plate\n  0 0 1 1 set aside\n"
                           "zero G54\n  y jaw\n");
    says(&s, JAW_ERROR, 4, "edge 'jaw' has too few touches left: 0, and 2 set");
    says(&s, JAW_ERROR, 7, "pattern 'plate' has too few places left: 0");
    ck_assert(isnan(zero_of(&s)->zero.y));
    char *page = text_of(&s);
    ck_assert_ptr_nonnull(strstr(page, "set aside: touch at line 6\n"));
    free(page);
    solved_drop(&s);
}
END_TEST

TCase *aside_case(void)
{
    TCase *tc = tcase_create("aside");
    tcase_add_test(tc, nothing_follows);
    tcase_add_loop_test(tc, would_lie_off, 0, COUNT(offs));
    tcase_add_test(tc, hole_of_a_bore);
    tcase_add_test(tc, all_of_them);
    return tc;
}
