/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tasks: what each finding says, held against a world that was laid out by
 * hand, and what no setup may hold. */
#include "setup_tests.h"

#include <string.h>

static bool advises(const jaw_finding *f, const char *text)
{
    for (size_t i = 0; i < f->n_advice; i++)
        if (strstr(f->advice[i], text))
            return true;
    return false;
}

/* Bed -300, parallels 30, stock 20 known to 0.01: top -250 +- 1.96 0.01; and a
 * zero takes it, in each convention's own way. */
START_TEST(stack_and_zero)
{
    shop s;

    shop_open(&s, JAW_MM);
    vise(&s, "bench", -300, NULL);
    stock(&s, "blank", "bench", (double[]){80, 60, 20}, 30, NULL);
    zero(&s, "G54", (wanted){.z = "blank", .at_z = 1});
    solve(&s);
    const jaw_finding *f = finding(&s, "blank");
    ck_assert_int_eq(f->status, JAW_OK);
    near(item(f, "in the jaws")->value, 10, 1e-12, "grip");
    near(item(f, "above")->value, 10, 1e-12, "above");
    near(item(f, "machine Z")->value, -250, 1e-9, "top");
    near(item(f, "machine Z")->half95, 1.959964 * 0.01, 1e-7, "its interval");
    near(zero_found(&s, "G54")->zero.z, -251, 1e-9, "zero");
    near(zero_found(&s, "G54")->trust[JAW_Z].half95, 1.959964 * 0.01, 1e-7,
         "the zero's");
    shop_close(&s);
}
END_TEST

/* A jaw that faces y-, its X+ end 0.1 nearer to the operator over 100: that
 * end is pushed away; and mirrored for the other three sides. */
static const struct {
    jaw_side faces;
    double x[2], y[2];
    const char *end, *push;
} jaws[] = {
    {JAW_SIDE_YMINUS, {0, 100}, {0, -0.1}, "the x+ end", "toward y+"},
    {JAW_SIDE_YPLUS, {0, 100}, {0, -0.1}, "the x- end", "toward y-"},
    {JAW_SIDE_XPLUS, {0, 0.1}, {0, 100}, "the y+ end", "toward x-"},
    {JAW_SIDE_XMINUS, {0, 0.1}, {0, 100}, "the y- end", "toward x+"},
};

START_TEST(which_end_to_tap)
{
    shop s;

    shop_open(&s, JAW_MM);
    tip(&s, "finder", JAW_TIP_CYLINDER, 6, 0.002, NOT);
    edge(&s, "jaw", "finder", jaws[_i].faces);
    for (int k = 0; k < 2; k++)
        touch(&s, jaws[_i].x[k], jaws[_i].y[k], NOT);
    vise(&s, "bench", -300, "jaw");
    solve(&s);
    const jaw_finding *f = finding(&s, "bench");
    near(fabs(item(f, "skew")->value), 1e-3, 1e-8, "skew");
    near(item(f, "skew")->half95, 1.959964 * M_SQRT2 * 0.002 / 100, 1e-8,
         "its interval");
    ck_assert(advises(f, jaws[_i].end) && advises(f, jaws[_i].push));
    ck_assert(advises(f, "0.1000 mm"));
    shop_close(&s);
}
END_TEST

/* A spindle that leans by 0.001 towards X+ and -0.0005 towards Y+, by vectors:
 * the plunger's circle is square to it. */
START_TEST(head_that_leans)
{
    jaw_task t = {.kind = JAW_TASK_TRAM,
                  .name = "head",
                  .as.tram = {100, 50, 200, 0.001}};
    shop s;

    shop_open(&s, JAW_MM);
    task(&s, t);
    for (int i = 0; i < 8; i++) {
        double a = M_PI / 4 * i;
        /* the holder's height on its circle: square to (0.001, -0.0005, 1) */
        double drop = 100 * (0.001 * cos(a) - 0.0005 * sin(a));
        reading(&s, a, 0.3 + drop, false);
    }
    /* a chip: set aside, it is counted and moves nothing */
    jaw_reading chip = {.at = 1, .value = 0.9, .aside = true};
    ck_status(jaw_setup_add_reading(s.setup, &chip), JAW_OK);
    solve(&s);
    const jaw_finding *f = finding(&s, "head");
    near(item(f, "towards X+")->value, 0.001, 1e-8, "x");
    near(item(f, "towards Y+")->value, -0.0005, 1e-8, "y");
    near(item(f, "X+ reads")->value, 0.2, 1e-6, "rise");
    near(item(f, "hollow")->value, 25 * hypot(0.001, 0.0005), 1e-6, "hollow");
    ck_assert(advises(f, "0.057 deg toward X-"));
    ck_assert(advises(f, "0.029 deg toward Y+"));
    ck_assert_int_eq(f->dof, 5);
    ck_assert_uint_eq(f->n, 9);
    ck_assert_uint_eq(f->n_aside, 1);
    ck_assert(isnan(f->resid[8]) && fabs(f->resid[7]) < 1e-6);
    shop_close(&s);
}
END_TEST

START_TEST(head_that_is_true)
{
    jaw_task t = {.kind = JAW_TASK_TRAM,
                  .name = "head",
                  .as.tram = {100, NOT, NOT, 0.001}};
    shop s;

    shop_open(&s, JAW_MM);
    task(&s, t);
    for (int i = 0; i < 4; i++)
        reading(&s, M_PI / 2 * i, i % 2 ? 0.001 : 0, false);
    solve(&s);
    ck_assert(advises(finding(&s, "head"), "no lean"));
    shop_close(&s);
}
END_TEST

/* Y leans by 0.0002 to X- and the square is 0.0001 over: seen from Y its arm
 * leans to X+ by 0.0001, and by 0.0003 when the other arm points to X-. */
START_TEST(square_and_axes)
{
    jaw_task t = {.kind = JAW_TASK_SQUARE,
                  .name = "axes",
                  .as.square = {{JAW_SIDE_XPLUS, JAW_SIDE_XPLUS}, 300, 0.001}};
    shop s;

    shop_open(&s, JAW_MM);
    task(&s, t);
    for (int k = 0; k < 2; k++)
        for (int i = 0; i < 4; i++) {
            double lean = k == 0 ? 0.0001 : 0.0003;
            reading(&s, 50.0 * i, lean * 50.0 * i, k == 1);
        }
    solve(&s);
    const jaw_finding *f = finding(&s, "axes");
    ck_assert_int_eq(f->status, JAW_OK);
    near(item(f, "between the axes")->value, 0.0002, 1e-8, "machine");
    near(item(f, "the square's own")->value, 0.0001, 1e-8, "square");
    near(item(f, "the axes, over 300")->value, 0.06, 1e-6, "over");
    ck_assert_int_eq(f->dof, 4);
    shop_close(&s);
}
END_TEST

START_TEST(what_no_setup_holds)
{
    jaw_setup *setup = jaw_setup_alloc();
    jaw_task nameless = {.kind = JAW_TASK_TRAM, .as.tram = {1, NOT, NOT, NOT}};
    jaw_task bad[] = {
        {.kind = JAW_TASK_KINDS, .name = "t"},
        {.kind = JAW_TASK_TRAM, .name = "t", .as.tram = {0, NOT, NOT, NOT}},
        {.kind = JAW_TASK_TRAM, .name = "t", .as.tram = {1, -1, NOT, NOT}},
        {.kind = JAW_TASK_SQUARE, .name = "t",
         .as.square = {{JAW_SIDE_NONE, JAW_SIDE_XPLUS}, NOT, NOT}},
        {.kind = JAW_TASK_SQUARE, .name = "t",
         .as.square = {{JAW_SIDE_YPLUS, JAW_SIDE_YPLUS}, NOT, NOT}},
        {.kind = JAW_TASK_VISE, .name = "t",
         .as.vise = {.bed = {NOT, 0}, .jaw_height = NOT, .jaw_width = NOT,
                     .opening = NOT}},
        {.kind = JAW_TASK_STOCK, .name = "t",
         .as.stock = {.vise = "v", .size = {{NOT, 0}, {NOT, 0}, {NOT, 0}},
                      .parallels = {NOT, 0}, .least_grip = NOT}},
    };
    jaw_reading lost = {.at = NOT};
    size_t n;

    ck_assert(setup);
    ck_status(jaw_setup_add_reading(setup, &lost), JAW_EUNKNOWN);
    ck_status(jaw_setup_add_task(setup, &nameless), JAW_EDOMAIN);
    for (int i = 0; i < COUNT(bad); i++)
        ck_status(jaw_setup_add_task(setup, &bad[i]), JAW_EDOMAIN);
    jaw_setup_tasks(setup, &n);
    ck_assert_uint_eq(n, 0);
    nameless.name = "head";
    ck_status(jaw_setup_add_task(setup, &nameless), JAW_OK);
    ck_status(jaw_setup_add_reading(setup, &lost), JAW_EDOMAIN);
    ck_assert_ptr_null(jaw_setup_readings(setup, 9, &n));
    for (int k = 0; k < JAW_TASK_KINDS; k++)
        ck_assert_ptr_nonnull(jaw_task_word((jaw_task_kind)k));
    ck_assert_ptr_null(jaw_task_word(JAW_TASK_KINDS));
    jaw_setup_free(setup);
}
END_TEST

TCase *tasks_case(void)
{
    TCase *tc = tcase_create("tasks");
    tcase_add_test(tc, stack_and_zero);
    tcase_add_loop_test(tc, which_end_to_tap, 0, COUNT(jaws));
    tcase_add_test(tc, head_that_leans);
    tcase_add_test(tc, head_that_is_true);
    tcase_add_test(tc, square_and_axes);
    tcase_add_test(tc, what_no_setup_holds);
    return tc;
}
