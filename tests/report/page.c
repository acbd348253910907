/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A solved setup as text and as JSON. */
#include "report_tests.h"

#include <jansson.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "tests/near.h"

static void good(jaw_status status)
{
    ck_assert_int_eq(status, JAW_OK);
}

static void add_edge(jaw_setup *setup, const char *name, jaw_side faces,
                     jaw_touch a, jaw_touch b, int line)
{
    jaw_feature_entry entry = {.name = name,
                               .kind = JAW_EDGE,
                               .tip = "pin",
                               .faces = faces,
                               .size = (double)NAN,
                               .within = (double)NAN,
                               .place = {line, 1, 0}};
    good(jaw_setup_add_feature(setup, &entry));
    good(jaw_setup_add_touch(setup, a, (jaw_place){line + 1, 3, 0}));
    good(jaw_setup_add_touch(setup, b, (jaw_place){line + 2, 3, 0}));
}

static void add_top(jaw_setup *setup)
{
    jaw_feature_entry entry = {.name = "top",
                               .kind = JAW_FACE,
                               .tip = "pin",
                               .size = (double)NAN,
                               .within = (double)NAN,
                               .place = {12, 1, 0}};
    good(jaw_setup_add_feature(setup, &entry));
    good(jaw_setup_add_touch(setup, (jaw_touch){150, 80, -200},
                             (jaw_place){13, 3, 0}));
}

static void add_tool(jaw_setup *setup)
{
    jaw_setter_entry setter = {.name = "puck",
                               .top = -250,
                               .height = (double)NAN,
                               .place = {20, 1, 0}};
    jaw_tool_entry tool = {.number = 3,
                           .text = "ball mill",
                           .length = (double)NAN,
                           .diameter = (double)NAN,
                           .place = {21, 1, 0}};
    jaw_contact_entry contact = {
        .tool = 3, .reading = -170, .surface = "puck", .place = {22, 3, 0}};
    good(jaw_setup_add_setter(setup, &setter));
    good(jaw_setup_add_tool(setup, &tool));
    good(jaw_setup_add_contact(setup, &contact));
}

/* The triangle 23, 264, 265, as in src/cli/published.c. */
jaw_setup *corner_setup(bool can_turn)
{
    jaw_setup *setup = jaw_setup_alloc();
    ck_assert_ptr_nonnull(setup);
    jaw_control control = jaw_control_default(JAW_MM);
    control.can_turn = can_turn;
    good(jaw_setup_set_control(setup, &control));
    good(jaw_setup_set_title(setup, "Corner"));
    jaw_tip_entry tip = {.name = "pin",
                         .tip = jaw_tip_make(JAW_TIP_PIN, 10.6)};
    tip.tip.length = 100;
    good(jaw_setup_add_tip(setup, &tip));
    add_edge(setup, "front", JAW_SIDE_YMINUS,
             (jaw_touch){126.86, 47.02, (double)NAN},
             (jaw_touch){285.26, 60.82, (double)NAN}, 5);
    add_edge(setup, "left", JAW_SIDE_XMINUS,
             (jaw_touch){92.42, 75.94, (double)NAN},
             (jaw_touch){87.82, 128.74, (double)NAN}, 9);
    add_top(setup);
    add_tool(setup);
    jaw_zero_entry zero = {.name = "G54",
                           .turn_use = JAW_TURN_FEATURE,
                           .turn_feature = "front",
                           .turn_along = JAW_X,
                           .term = {{"left", 0, {31, 3, 0}},
                                    {"front", 0, {32, 3, 0}},
                                    {"top", 0, {33, 3, 0}}},
                           .place = {30, 1, 0}};
    good(jaw_setup_add_zero(setup, &zero));
    return setup;
}

typedef char *report(const jaw_setup *, const jaw_solution *,
                     const jaw_notes *, jaw_report_style);

static char *page(report *make, jaw_setup *setup, jaw_report_style style)
{
    jaw_notes *notes = jaw_notes_alloc();
    jaw_solution *solution;
    jaw_setup_solve(setup, notes, &solution);
    char *text = make(setup, solution, notes, style);
    ck_assert_ptr_nonnull(text);
    jaw_solution_free(solution);
    jaw_setup_free(setup);
    jaw_notes_free(notes);
    return text;
}

static void has(const char *text, const char *part)
{
    ck_assert_msg(strstr(text, part) != NULL, "no '%s' in:\n%s", part, text);
}

static void lacks(const char *text, const char *part)
{
    ck_assert_msg(strstr(text, part) == NULL, "'%s' in:\n%s", part, text);
}

START_TEST(page_turn)
{
    char *text = page(jaw_report_text, corner_setup(true),
                      (jaw_report_style){0});
    has(text, "Corner\n");
    has(text, "  G54     X            100.000  +- 0.0155\n");
    has(text, "          Y             50.000  +- 0.0116\n");
    has(text, "          Z           -300.000  +- 0.0098\n");
    has(text, "          turn          4.9791  +- 0.0050 deg\n");
    has(text, "  tool 3    length      80.000  +- 0.0098   ball mill\n");
    has(text, "from the gauge line");
    has(text, "no check");
    has(text, "off square by 0.0000 deg");
    has(text, "Taken for granted");
    has(text, "Before you press start");
    lacks(text, "tap");
    lacks(text, "nan");
    lacks(text, "0.0000\n");
    lacks(text, "\033");
    free(text);
}
END_TEST

/* Tapping back what lies counter-clockwise: its x+ end goes to y-. */
START_TEST(page_no_turn)
{
    char *text = page(jaw_report_text, corner_setup(false),
                      (jaw_report_style){.explain = true});
    has(text, "turned by 4.9791 deg");
    has(text, "tap its x+ end toward y- by 13.800 over 159.000");
    has(text, "as it lies, the part is off by");
    has(text, "How each value came about");
    has(text, "rounded to the control's step");
    lacks(text, "deg\n  tool");
    free(text);
}
END_TEST

START_TEST(page_colour)
{
    char *text = page(jaw_report_text, corner_setup(true),
                      (jaw_report_style){.colour = true});
    has(text, "\033[1mHow good\033[m");
    free(text);
}
END_TEST

START_TEST(page_json)
{
    char *text = page(jaw_report_json, corner_setup(true),
                      (jaw_report_style){.explain = true});
    json_error_t error;
    json_t *json = json_loads(text, JSON_REJECT_DUPLICATES, &error);
    ck_assert_msg(json != NULL, "%s in %s", error.text, text);
    const char *title, *unit, *lengths, *reg, *word;
    double value, exact, turn, length;
    int tool;
    json_t *features, *notes;
    ck_assert_int_eq(
        json_unpack_ex(json, &error, 0,
                       "{s:s,s:s,s:s,s:[{s:s,s:s,s:F,s:F},{},{},{s:F},"
                       "{s:i,s:F}],s:o,s:o}",
                       "title", &title, "unit", &unit, "lengths", &lengths,
                       "values", "register", &reg, "word", &word, "value",
                       &value, "exact", &exact, "value", &turn, "tool", &tool,
                       "value", &length, "features", &features, "notes",
                       &notes),
        0);
    ck_assert_str_eq(title, "Corner");
    ck_assert_str_eq(reg, "G54");
    ck_assert_str_eq(word, "X");
    ck_assert_str_eq(lengths, "gauge-line");
    near(value, 100, 1e-12, "X");
    near(exact, 100, 1e-9, "exact X");
    near(turn, 4.9791, 1e-9, "turn");
    near(length, 80, 1e-12, "length");
    ck_assert_int_eq(tool, 3);
    ck_assert_uint_eq(json_array_size(features), 3);
    ck_assert_uint_gt(json_array_size(notes), 0);
    ck_assert(json_is_null(
        json_object_get(json_array_get(features, 0), "rms")));
    json_decref(json);
    free(text);
}
END_TEST

/* What could not be found is said where it would stand. */
START_TEST(page_unsolved)
{
    jaw_setup *setup = corner_setup(true);
    jaw_tool_entry tool = {.number = 7,
                           .length = (double)NAN,
                           .diameter = (double)NAN};
    good(jaw_setup_add_tool(setup, &tool));
    jaw_zero_entry zero = {.name = "G55",
                           .turn_use = JAW_TURN_FEATURE,
                           .turn_feature = "nowhere",
                           .term = {{"left", 0, {41, 3, 0}}}};
    good(jaw_setup_add_zero(setup, &zero));
    char *text = page(jaw_report_text, setup, (jaw_report_style){0});
    has(text, "not solved: ");
    has(text, "  tool 7    length   not found\n");
    has(text, "  G55     X          not found\n");
    free(text);
}
END_TEST

START_TEST(page_odd_bytes)
{
    jaw_setup *setup = corner_setup(true);
    good(jaw_setup_set_title(setup, "a\xff\xc3\xb6\xed\xa0\x80z"));
    char *text = page(jaw_report_json, setup, (jaw_report_style){0});
    has(text, "\"a?\xc3\xb6???z\"");
    free(text);
}
END_TEST

START_TEST(page_of_nothing)
{
    char *text = page(jaw_report_text, jaw_setup_alloc(),
                      (jaw_report_style){.explain = true});
    has(text, "Enter on the control\n  nothing: ");
    lacks(text, "How good");
    lacks(text, "unseen");
    lacks(text, "helps most");
    lacks(text, "came about");
    lacks(text, "made of");
    lacks(text, "granted");
    free(text);
}
END_TEST

/* Something is found, but nothing is asked for. */
START_TEST(page_without_values)
{
    jaw_setup *setup = jaw_setup_alloc();
    jaw_tip_entry tip = {.name = "pin",
                         .tip = jaw_tip_make(JAW_TIP_PIN, 10.6)};
    good(jaw_setup_add_tip(setup, &tip));
    add_edge(setup, "front", JAW_SIDE_YMINUS,
             (jaw_touch){126.86, 47.02, (double)NAN},
             (jaw_touch){285.26, 60.82, (double)NAN}, 5);
    char *text = page(jaw_report_text, setup, (jaw_report_style){0});
    has(text, "  nothing: no work zero asks for a value, and there is no tool");
    has(text, "How good\n  front");
    lacks(text, "unseen");
    free(text);
}
END_TEST

/* Its squares add up, and every share says where it comes from. */
START_TEST(page_budget)
{
    char *text = page(jaw_report_text, corner_setup(true),
                      (jaw_report_style){.explain = true});
    has(text, "What each +- is made of");
    has(text, "  G54 X      u ");
    has(text, "    touches of 'left'");
    has(text, "    touches of tool 3");
    has(text, "dof no limit");
    free(text);
    text = page(jaw_report_json, corner_setup(true),
                (jaw_report_style){.explain = true});
    has(text, "\"budget\": [{\"source\": \"touches of '");
    has(text, "\"cover\": 1.959963");
    free(text);
    text = page(jaw_report_json, corner_setup(true), (jaw_report_style){0});
    lacks(text, "budget");
    free(text);
}
END_TEST

TCase *page_case(void)
{
    TCase *tc = tcase_create("page");
    tcase_add_test(tc, page_turn);
    tcase_add_test(tc, page_no_turn);
    tcase_add_test(tc, page_colour);
    tcase_add_test(tc, page_json);
    tcase_add_test(tc, page_unsolved);
    tcase_add_test(tc, page_odd_bytes);
    tcase_add_test(tc, page_of_nothing);
    tcase_add_test(tc, page_without_values);
    tcase_add_test(tc, page_budget);
    return tc;
}
