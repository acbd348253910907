/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The one line of DESIGN, reading = W + work + L, against what a control does
 * with the registers of each convention; and changing the convention or the
 * reference tool rewrites nothing. */
#include "book_tests.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static shop s;

static void begin(void)
{
    shop_begin(&s);
}

static void end(void)
{
    shop_end(&s);
}

enum { TOOLS = 4, REFERENCE = 2 };

static const double top = -311.275, length[TOOLS] = {63.517, 88.2041, 101.93,
                                                     25.4};

static void add_machine(jaw_unit unit, jaw_length_rule rule, int reference)
{
    jaw_book_record m = shop_machine("mill");
    m.as.machine.unit = unit;
    m.as.machine.step = unit == JAW_IN ? 0.0001 * 25.4 : 0.001;
    m.as.machine.decimals = -1;
    m.as.machine.lengths = rule;
    m.as.machine.reference = reference;
    shop_write(&s, m);
}

/* Tool i + 1 touches the setter: reading = top + L. */
static void measure_all(jaw_unit unit)
{
    jaw_book_record h = shop_height("setter", top, 0, 1);
    h.as.height.unit = unit;
    shop_write(&s, h);
    for (int i = 0; i < TOOLS; i++) {
        double reading[2] = {top + length[i], top + length[i]};
        jaw_book_touch t = shop_touch(i + 1, reading, 2);
        t.repeat = 1e-3;
        t.unit = unit;
        t.at = shop_time(2 + i);
        shop_measure(&s, &t);
    }
}

static jaw_book_length length_of(int number)
{
    char subject[JAW_BOOK_SUBJECT_SIZE];
    jaw_book_record r;
    jaw_book_tool_subject(number, "", "", subject, sizeof subject);
    ck_assert_int_eq(jaw_book_find(s.book, JAW_BOOK_LENGTH, "mill", subject,
                                   &r), JAW_OK);
    r.as.length.holder = r.as.length.text = r.as.length.datum =
        r.as.length.on = r.as.length.through = "";
    return r.as.length;
}

/* Where a control drives the spindle for work z, with its two registers. */
static double reading_of(jaw_length_rule rule, double register_, double w_z,
                         double l_ref, double z)
{
    switch (rule) {
    case JAW_GAUGE_LINE: return w_z + z + register_;
    case JAW_TIP_TO_PART: return 0 + z + register_;
    default: return (w_z + l_ref) + z + register_; /* found with that tool */
    }
}

START_TEST(all_conventions_are_the_one_line)
{
    jaw_unit unit = _i % 2 ? JAW_IN : JAW_MM;
    jaw_length_rule rule = (jaw_length_rule)(_i / 2);
    const double w_z = -350.0071, z = 3.25;
    add_machine(unit, rule, REFERENCE);
    measure_all(unit);
    double step = unit == JAW_IN ? 0.0001 * 25.4 : 0.001;
    jaw_book_length ref = length_of(REFERENCE);
    for (int i = 0; i < TOOLS; i++) {
        jaw_book_length l = length_of(i + 1);
        double h;
        ck_assert_int_eq(jaw_book_register(&l, rule, &ref, w_z, &h), JAW_OK);
        double truth = w_z + z + length[i];
        double exact = reading_of(rule, h, w_z, length[REFERENCE - 1], z);
        ck_assert(fabs(exact - truth) < 1e-9);
        double enter = jaw_round_to_step(h, step);
        double typed = reading_of(rule, enter, w_z, length[REFERENCE - 1], z);
        ck_assert(fabs(typed - truth) <= step / 2 + 1e-9);
        ck_assert(fabs(enter / step - nearbyint(enter / step)) < 1e-6);
    }
}
END_TEST

/* ------------------------------------------------------------- no rewriting */

START_TEST(a_convention_rewrites_nothing)
{
    add_machine(JAW_MM, JAW_GAUGE_LINE, 0);
    measure_all(JAW_MM);
    char *before = shop_export(&s, JAW_BOOK_JSON);
    add_machine(JAW_MM, JAW_REFERENCE_TOOL, 1);
    add_machine(JAW_IN, JAW_REFERENCE_TOOL, 3);
    add_machine(JAW_IN, JAW_TIP_TO_PART, 0);
    char *after = shop_export(&s, JAW_BOOK_JSON);
    /* what was there stands first, to the letter, below how many there are */
    const char *rows[] = {strchr(before, '\n'), strchr(after, '\n')};
    ck_assert(rows[0] != NULL && rows[1] != NULL);
    ck_assert(strncmp(rows[0], rows[1], strlen(rows[0])) == 0);
    ck_assert_uint_gt(strlen(after), strlen(before));
    free(before);
    free(after);
    for (int i = 0; i < TOOLS; i++)
        ck_assert(fabs(length_of(i + 1).value - length[i]) < 1e-9);
}
END_TEST

TCase *conventions_case(void)
{
    TCase *tc = tcase_create("conventions");
    tcase_add_checked_fixture(tc, begin, end);
    tcase_add_loop_test(tc, all_conventions_are_the_one_line, 0,
                        2 * JAW_LENGTH_RULES);
    tcase_add_test(tc, a_convention_rewrites_nothing);
    return tc;
}
