/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of lengths.c: three ways to write reading = W + Rz(skew) work + L. */
#include "setup_tests.h"
#include "tests/feature/random.h"

static const struct {
    jaw_length_rule rule;
    const char *word, *text;
} rules[] = {
#define ROW(name, word, text) {name, word, text},
    JAW_LENGTH_LIST(ROW)
#undef ROW
};

START_TEST(rule_has_its_words)
{
    ck_assert_pstr_eq(jaw_length_word(rules[_i].rule), rules[_i].word);
    ck_assert_pstr_eq(jaw_length_text(rules[_i].rule), rules[_i].text);
}
END_TEST

START_TEST(rule_that_does_not_exist)
{
    static const int none[] = {-1, JAW_LENGTH_RULES, 99};
    jaw_length_rule no = (jaw_length_rule)none[_i];
    double out = 0;
    ck_assert_ptr_null(jaw_length_word(no));
    ck_assert_ptr_null(jaw_length_text(no));
    ck_status(jaw_length_convert(1, no, JAW_GAUGE_LINE, 1, 1, &out),
              JAW_EDOMAIN);
    ck_assert(isnan(out));
    out = 0;
    ck_status(jaw_length_convert(1, JAW_GAUGE_LINE, no, 1, 1, &out),
              JAW_EDOMAIN);
    ck_assert(isnan(out));
}
END_TEST

/* By hand: part zero where the gauge line reads -250, a tool of 80, a reference
 * tool of 100.  Tip to part: the tip meets the part at -250 + 80 = -170.
 * Against the reference: 80 - 100 = -20. */
START_TEST(by_hand)
{
    static const double value[] = {80, -170, -20};
    for (int a = 0; a < JAW_LENGTH_RULES; a++)
        for (int b = 0; b < JAW_LENGTH_RULES; b++) {
            double out;
            ck_status(jaw_length_convert(value[a], (jaw_length_rule)a,
                                         (jaw_length_rule)b, -250, 100, &out),
                      JAW_OK);
            near(out, value[b], 0, rules[b].word);
        }
}
END_TEST

/* What is not needed need not be known; what is, must be. */
START_TEST(only_what_is_needed)
{
    for (int a = 0; a < JAW_LENGTH_RULES; a++)
        for (int b = 0; b < JAW_LENGTH_RULES; b++) {
            jaw_length_rule from = (jaw_length_rule)a, to = (jaw_length_rule)b;
            bool part = a != b && (a == JAW_TIP_TO_PART ||
                                   b == JAW_TIP_TO_PART);
            bool ref = a != b && (a == JAW_REFERENCE_TOOL ||
                                  b == JAW_REFERENCE_TOOL);
            double out;
            ck_status(jaw_length_convert(1, from, to, NOT, 2, &out),
                      part ? JAW_ENOTFINITE : JAW_OK);
            ck_assert(isnan(out) == part);
            ck_status(jaw_length_convert(1, from, to, 2, NOT, &out),
                      ref ? JAW_ENOTFINITE : JAW_OK);
            ck_assert(isnan(out) == ref);
            ck_status(jaw_length_convert(1, from, to, 2, INFINITY, &out),
                      ref ? JAW_ENOTFINITE : JAW_OK);
            ck_status(jaw_length_convert(NOT, from, to, 2, 2, &out),
                      JAW_ENOTFINITE);
            ck_assert(isnan(out));
        }
}
END_TEST

START_TEST(there_and_back)
{
    random_source r = random_start("there_and_back", 101);
    for (int i = 0; i < 20000; i++) {
        double value = random_between(&r, -500, 500), out;
        double zero_z = random_between(&r, -500, 500);
        double ref = random_between(&r, 10, 300);
        jaw_length_rule a = (jaw_length_rule)random_below(&r, 3);
        jaw_length_rule b = (jaw_length_rule)random_below(&r, 3);
        jaw_length_rule c = (jaw_length_rule)random_below(&r, 3);
        double direct;
        ck_status(jaw_length_convert(value, a, c, zero_z, ref, &direct),
                  JAW_OK);
        ck_status(jaw_length_convert(value, a, b, zero_z, ref, &out), JAW_OK);
        ck_status(jaw_length_convert(out, b, c, zero_z, ref, &out), JAW_OK);
        near(out, direct, 1e-12, "by way of another");
        ck_status(jaw_length_convert(out, c, a, zero_z, ref, &out), JAW_OK);
        near(out, value, 1e-12, "back");
    }
}
END_TEST

/* ------------------------------------------- all conventions of one setup */

/* One morning at the machine: a stylus of known length, a face, a setter that
 * the stylus touched, a reference tool and two others, two work zeros. */
static void morning(shop *s, jaw_length_rule rule)
{
    shop_open(s, JAW_MM);
    control(s, true, rule, 1);
    tip(s, "stylus", JAW_TIP_BALL, 4, 0.002, 110);
    edge(s, "jaw", "stylus", JAW_SIDE_YMINUS);
    touch(s, 100, -82.3, NOT);
    touch(s, 180, -81.6, NOT);
    edge(s, "stop", "stylus", JAW_SIDE_XPLUS);
    touch(s, 93.5, -110, NOT);
    touch(s, 93.9, -150, NOT);
    feature(s, JAW_FACE, "top", "stylus");
    touch(s, 120, -100, -200.5);
    touch(s, 170, -100, -200.5);
    touch(s, 150, -140, -200.5);
    feature(s, JAW_FACE, "step", "stylus");
    touch(s, NOT, NOT, -212.25);
    setter(s, "puck", NOT, NOT, NULL);
    tip_touched(s, "stylus", -330.75, "puck", 0);
    tool(s, 1, NOT);
    touched(s, 1, -320.5, "puck", 0);
    tool(s, 2, NOT);
    touched(s, 2, -355.125, "puck", 0);
    tool(s, 3, NOT);
    touched(s, 3, -240.875, "top", 0.0625);
    zero(s, "G54", (wanted){.turn = "jaw", .along = JAW_X, .x = "stop",
                            .y = "jaw", .z = "top", .at_x = 5, .at_y = -3,
                            .at_z = 1.5});
    zero(s, "G55", (wanted){.turn = "jaw", .along = JAW_X, .x = "stop",
                            .y = "jaw", .z = "step"});
    solve(s);
    ck_status(s->status, JAW_OK);
    ck_assert_uint_eq(severe(s, JAW_DOUBT), 0);
}

/* By hand.  Stylus 110: top -200.5 - 110 = -310.5, step -322.25, puck -440.75.
 * Tools on the puck: 440.75 - 320.5 = 120.25 and 85.625; tool 3 on the top
 * through 0.0625: -240.875 - 0.0625 + 310.5 = 69.5625.  G54: W_z = -312. */
START_TEST(a_morning_by_hand)
{
    static const double length[] = {120.25, 85.625, 69.5625};
    static const double zero_z[][2] = {{-312, -322.25}, {0, -10.25},
                                       {-191.75, -202}};
    static const double added[] = {0, -312, -120.25};
    shop s;
    morning(&s, (jaw_length_rule)_i);
    near(surface_z(&s, "top"), -310.5, 1e-12, "top");
    near(surface_z(&s, "step"), -322.25, 1e-12, "step");
    near(surface_z(&s, "puck"), -440.75, 1e-12, "puck");
    near(zero_found(&s, "G54")->zero.z, zero_z[_i][0], 1e-12, "G54");
    near(zero_found(&s, "G55")->zero.z, zero_z[_i][1], 1e-12, "G55");
    for (int k = 0; k < 3; k++) {
        const jaw_tool_found *t = tool_found(&s, k + 1);
        ck_status(t->status, JAW_OK);
        near(t->length, length[k], 1e-12, "length");
        near(t->tip_to_part, length[k] - 312, 1e-12, "tip to part");
        near(t->value, length[k] + added[_i], 1e-12, "value");
        near(t->enter, jaw_round_to_step(t->value, 0.001), 0, "enter");
        ck_assert_int_eq((int)t->n_contacts, 1);
        ck_assert_uint_eq(t->flags, JAW_NO_CHECK);
        if (_i == JAW_REFERENCE_TOOL)
            near(t->reference, length[k] - 120.25, 1e-12, "reference");
    }
    shop_close(&s);
}
END_TEST

/* Whatever the convention, a program point with a tool leads to one reading:
 * reading = W + Rz(skew) work + (0, 0, register).  With the reference-tool rule
 * W_z is as found with the reference tool, with tip to part the register holds
 * it; both add up to the same. */
START_TEST(one_reading_in_all_conventions)
{
    shop s[JAW_LENGTH_RULES];
    random_source r = random_start("one_reading_in_all_conventions", 102);
    for (int rule = 0; rule < JAW_LENGTH_RULES; rule++)
        morning(&s[rule], (jaw_length_rule)rule);
    for (int i = 0; i < 3000; i++) {
        const char *register_name = random_below(&r, 2) ? "G54" : "G55";
        int number = 1 + (int)random_below(&r, 3);
        jaw_vec3 work = {random_between(&r, -200, 200),
                         random_between(&r, -200, 200),
                         random_between(&r, -60, 60)};
        jaw_vec3 first = {0, 0, 0};
        for (int rule = 0; rule < JAW_LENGTH_RULES; rule++) {
            const jaw_zero_found *z = zero_found(&s[rule], register_name);
            const jaw_tool_found *t = tool_found(&s[rule], number);
            long double c = cosl(z->skew), q = sinl(z->skew);
            jaw_vec3 reading = {
                (double)(z->zero.x + c * work.x - q * work.y),
                (double)(z->zero.y + q * work.x + c * work.y),
                z->zero.z + work.z + t->value};
            if (rule == 0)
                first = reading;
            near(reading.x, first.x, 1e-12, "x");
            near(reading.y, first.y, 1e-12, "y");
            near(reading.z, first.z, 1e-12, "z");
        }
    }
    /* and the tip really is where the program thinks: tool 3 met the top,
     * part Z 1.5, through 0.0625 */
    const jaw_zero_found *z = zero_found(&s[0], "G54");
    near(z->zero.z + 1.5 + 0.0625 + tool_found(&s[0], 3)->length, -240.875,
         1e-12, "tool 3 on the top");
    for (int rule = 0; rule < JAW_LENGTH_RULES; rule++)
        shop_close(&s[rule]);
}
END_TEST

/* What the setup enters is what jaw_length_convert makes of the lengths. */
START_TEST(registers_convert_into_one_another)
{
    shop gauge, other;
    morning(&gauge, JAW_GAUGE_LINE);
    morning(&other, (jaw_length_rule)_i);
    double zero_z = zero_found(&gauge, "G54")->zero.z;
    double ref = tool_found(&gauge, 1)->length;
    for (int number = 1; number <= 3; number++) {
        double out;
        ck_status(jaw_length_convert(tool_found(&gauge, number)->value,
                                     JAW_GAUGE_LINE, (jaw_length_rule)_i,
                                     zero_z, ref, &out), JAW_OK);
        near(tool_found(&other, number)->value, out, 1e-12, "value");
    }
    shop_close(&gauge);
    shop_close(&other);
}
END_TEST

TCase *lengths_case(void)
{
    TCase *tc = tcase_create("lengths");
    tcase_add_loop_test(tc, rule_has_its_words, 0, COUNT(rules));
    tcase_add_loop_test(tc, rule_that_does_not_exist, 0, 3);
    tcase_add_test(tc, by_hand);
    tcase_add_test(tc, only_what_is_needed);
    tcase_add_test(tc, there_and_back);
    tcase_add_loop_test(tc, a_morning_by_hand, 0, JAW_LENGTH_RULES);
    tcase_add_test(tc, one_reading_in_all_conventions);
    tcase_add_loop_test(tc, registers_convert_into_one_another, 0,
                        JAW_LENGTH_RULES);
    return tc;
}
