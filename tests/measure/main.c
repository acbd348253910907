/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of src/measure: what touches, and how far it stands off. */
#include "measure_tests.h"

#include <float.h>
#include <stdlib.h>
#include <string.h>

static const struct {
    jaw_tip_shape shape;
    const char *word;
    double end; /* of a tip of diameter 6 */
} shapes[] = {
    {JAW_TIP_CYLINDER, "cylinder", 0},
    {JAW_TIP_BALL, "ball", 3},
    {JAW_TIP_PIN, "pin", 0},
    {JAW_TIP_CUTTER, "cutter", 0},
};

START_TEST(every_shape_has_a_row_here)
{
    ck_assert_int_eq(COUNT(shapes), JAW_TIP_SHAPES);
}
END_TEST

START_TEST(shape_has_its_word)
{
    ck_assert_pstr_eq(jaw_tip_shape_word(shapes[_i].shape), shapes[_i].word);
}
END_TEST

START_TEST(shape_that_does_not_exist)
{
    static const int none[] = {-1, JAW_TIP_SHAPES, 1000, -1000};
    ck_assert_ptr_null(jaw_tip_shape_word((jaw_tip_shape)none[_i]));
    jaw_tip tip = jaw_tip_make((jaw_tip_shape)none[_i], 6);
    ck_assert_int_eq(jaw_tip_check(&tip), JAW_EDOMAIN);
}
END_TEST

START_TEST(made_tip_is_plain)
{
    jaw_tip tip = jaw_tip_make(shapes[_i].shape, 6);
    ck_assert_int_eq(tip.shape, shapes[_i].shape);
    near(tip.diameter, 6, 0, "diameter");
    near(tip.paper, 0, 0, "paper");
    ck_assert(isnan(tip.length));
    ck_assert(isnan(tip.repeat));
    ck_assert_int_eq(jaw_tip_check(&tip), JAW_OK);
}
END_TEST

/* A wall is met by the side: half the diameter, and the paper.  A face is met
 * by the end: the paper alone; only a ball is round there. */
START_TEST(stands_off)
{
    jaw_tip tip = jaw_tip_make(shapes[_i].shape, 6);
    near(jaw_tip_side(&tip), 3, 0, "side");
    near(jaw_tip_end(&tip), 0, 0, "end");
    near(jaw_tip_end_radius(&tip), shapes[_i].end, 0, "end radius");
    tip.paper = 0.0625;
    near(jaw_tip_side(&tip), 3.0625, 0, "side with paper");
    near(jaw_tip_end(&tip), 0.0625, 0, "end with paper");
    near(jaw_tip_end_radius(&tip), shapes[_i].end, 0, "paper is not round");
}
END_TEST

/* An edge finder of 0.2 in has its axis 0.1 in = 2.54 mm off the wall. */
START_TEST(edge_finder_in_inches)
{
    jaw_tip tip = jaw_tip_make(JAW_TIP_CYLINDER, 0.2 * JAW_MM_PER_INCH);
    near(jaw_tip_side(&tip), 2.54, 2 * DBL_EPSILON, "side");
}
END_TEST

START_TEST(tip_without_size_reads_the_surface)
{
    jaw_tip tip = jaw_tip_make(JAW_TIP_BALL, 0);
    ck_assert_int_eq(jaw_tip_check(&tip), JAW_OK);
    near(jaw_tip_side(&tip), 0, 0, "side");
    near(jaw_tip_end_radius(&tip), 0, 0, "end");
}
END_TEST

/* Only what is wrong differs from a good tip. */
static const struct {
    const char *name;
    double diameter, paper, length, repeat;
    jaw_status status;
} stated[] = {
    {"all stated", 6, 0.05, 80, 0.002, JAW_OK},
    {"length and repeat not stated", 6, 0.05, NAN, NAN, JAW_OK},
    {"very small", DBL_MIN, 0, DBL_MIN, DBL_MIN, JAW_OK},
    {"diameter negative", -6, 0, 80, 0.002, JAW_EDOMAIN},
    {"diameter nan", NAN, 0, 80, 0.002, JAW_ENOTFINITE},
    {"diameter infinite", INFINITY, 0, 80, 0.002, JAW_ENOTFINITE},
    {"diameter minus infinite", -INFINITY, 0, 80, 0.002, JAW_ENOTFINITE},
    {"paper negative", 6, -0.05, 80, 0.002, JAW_EDOMAIN},
    {"paper nan", 6, NAN, 80, 0.002, JAW_ENOTFINITE},
    {"paper infinite", 6, INFINITY, 80, 0.002, JAW_ENOTFINITE},
    {"length zero", 6, 0, 0, 0.002, JAW_EDOMAIN},
    {"length negative", 6, 0, -80, 0.002, JAW_EDOMAIN},
    {"length infinite", 6, 0, INFINITY, 0.002, JAW_ENOTFINITE},
    {"repeat zero", 6, 0, 80, 0, JAW_EDOMAIN},
    {"repeat negative", 6, 0, 80, -0.002, JAW_EDOMAIN},
    {"repeat infinite", 6, 0, 80, INFINITY, JAW_ENOTFINITE},
};

START_TEST(tip_is_checked)
{
    for (int s = 0; s < JAW_TIP_SHAPES; s++) {
        jaw_tip tip = {(jaw_tip_shape)s, stated[_i].diameter, stated[_i].paper,
                       stated[_i].length, stated[_i].repeat};
        jaw_tip before = tip;
        ck_assert_msg(jaw_tip_check(&tip) == stated[_i].status, "%s: %s",
                      stated[_i].name, jaw_status_text(jaw_tip_check(&tip)));
        ck_assert_mem_eq(&tip, &before, sizeof tip);
    }
}
END_TEST

/* A few ten-thousandths of an inch: more than one, fewer than five. */
START_TEST(default_repeat_is_a_few_tenths)
{
    ck_assert(JAW_REPEAT_DEFAULT > 0.0001 * JAW_MM_PER_INCH);
    ck_assert(JAW_REPEAT_DEFAULT < 0.0005 * JAW_MM_PER_INCH);
}
END_TEST

static Suite *measure_suite(void)
{
    Suite *suite = suite_create("measure");
    TCase *tc = tcase_create("tip");
    tcase_add_test(tc, every_shape_has_a_row_here);
    tcase_add_loop_test(tc, shape_has_its_word, 0, COUNT(shapes));
    tcase_add_loop_test(tc, shape_that_does_not_exist, 0, 4);
    tcase_add_loop_test(tc, made_tip_is_plain, 0, COUNT(shapes));
    tcase_add_loop_test(tc, stands_off, 0, COUNT(shapes));
    tcase_add_test(tc, edge_finder_in_inches);
    tcase_add_test(tc, tip_without_size_reads_the_surface);
    tcase_add_loop_test(tc, tip_is_checked, 0, COUNT(stated));
    tcase_add_test(tc, default_repeat_is_a_few_tenths);
    suite_add_tcase(suite, tc);
    suite_add_tcase(suite, ring_case());
    suite_add_tcase(suite, ball_case());
    suite_add_tcase(suite, block_case());
    suite_add_tcase(suite, spread_case());
    suite_add_tcase(suite, promise_case());
    tc = memory_case();
    if (tc)
        suite_add_tcase(suite, tc);
    else
        puts("allocations can not be counted here: their failure is not "
             "tested");
    return suite;
}

int main(void)
{
    SRunner *runner = srunner_create(measure_suite());
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
