/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of shown.c: what the control shows, as text; and of the list that it is
 * put into. */
#include "sheet_tests.h"

#include "tests/feature/random.h"
#include "tests/near.h"
#include "tests/readback/register.h"

#include <stdlib.h>
#include <string.h>

static jaw_status read_shown(const char *text, jaw_unit unit,
                             jaw_shown_list **list)
{
    jaw_notes *notes = jaw_notes_alloc();
    jaw_status status = jaw_shown_read_text(text, strlen(text), "t", unit, list,
                                            notes);
    ck_assert_int_eq(status == JAW_OK, jaw_notes_count(notes) == 0);
    jaw_notes_free(notes);
    return status;
}

static void is_shown(const jaw_shown *s, const char *name, const char *word,
                     double value)
{
    ck_assert_str_eq(s->name, name);
    ck_assert_str_eq(s->word, word);
    near(s->value, value, fabs(value) * 1e-15, word);
}

/* One way of writing a row of four or five values, and all of them say the
 * same. */
START_TEST(all_ways_to_write)
{
    static const char *const text[] = {
        "G54 X -12.345 Y 3.2 TURN 0.5 H3 101.2",
        "g54 x -12.345\n  y 3.2\n# comment\n\n turn 0.5 # more\nh3\n101.2\n",
        "G54 X-12.345 Y+3.2 turn .5\r\nH03 length 101.2",
        "tool 3 101.2mm\rG54 x\n-12.345 y 3.20 turn 0.5deg",
        "H3 101.2\nG54 turn 0.5 y 3.2\n\nG54 x-1.2345e1",
        "\xEF\xBB\xBFTool 3 length 1.012e2 G54 y3.2 x-12.345 Turn 0.5",
    };
    jaw_shown_list *list;
    size_t n;

    ck_assert_int_eq(read_shown(text[_i], JAW_MM, &list), JAW_OK);
    const jaw_shown *s = jaw_shown_get(list, &n);
    ck_assert_uint_eq(n, 4);
    for (size_t i = 0; i < n; i++)
        if (strcmp(s[i].name, "H3") == 0)
            is_shown(&s[i], "H3", "length", 101.2);
        else if (strcmp(s[i].word, "X") == 0)
            is_shown(&s[i], "G54", "X", -12.345);
        else if (strcmp(s[i].word, "Y") == 0)
            is_shown(&s[i], "G54", "Y", 3.2);
        else
            is_shown(&s[i], "G54", "turn", jaw_rad(0.5));
    jaw_shown_free(list);
}
END_TEST

START_TEST(registers_and_units)
{
    static const char text[] = "G59 z 1 G54.1 P2 x 2 y 25.4mm\n"
                               "g54.1p999 turn 0.1rad H9999 -3in";
    jaw_shown_list *list;
    size_t n;

    ck_assert_int_eq(read_shown(text, JAW_IN, &list), JAW_OK);
    const jaw_shown *s = jaw_shown_get(list, &n);
    ck_assert_uint_eq(n, 5);
    is_shown(&s[0], "G59", "Z", 25.4);
    is_shown(&s[1], "G54.1P2", "X", 50.8);
    is_shown(&s[2], "G54.1P2", "Y", 25.4);
    is_shown(&s[3], "G54.1P999", "turn", 0.1);
    is_shown(&s[4], "H9999", "length", -76.2);
    ck_assert_int_eq(s[3].place.line, 2);
    ck_assert_int_eq(s[3].place.column, 16);
    jaw_shown_free(list);
}
END_TEST

/* None of these is read as something else. */
START_TEST(refused)
{
    static const char *const text[] = {
        "", "# x", "X 3", "3", "G54", "G54 X", "G54 X Y 3", "G53 X 3",
        "G54 X 3,5", "G54 X 1 X 2", "G54 A 3", "G54 X 3 4", "H3", "H3 x 3",
        "H0 3", "H12345 3", "tool", "tool 3", "tool x 3", "G54.1", "G54.1 3",
        "G54.1 P0 x 3", "G54.1P1000 x 3", "G54 \"X\" 3", "G54 X \"3\"",
        "G54 X nan", "G54 X 1e400", "G54 X 1e7", "G54 X 3deg",
        "G54 turn 3mm", "G54 X = 3", "G54:X 3", "G54 length 3",
        "G54.1 P9990000000000000000 x 1", "G54 X 3 H3 1 G54 X 3",
        "G54 X \xE2\x88\x92" "3", "G54 X\xC2\xA0" "3", "G\0" "54",
    };
    jaw_shown_list *list;

    ck_assert_int_eq(read_shown(text[_i], JAW_MM, &list), JAW_ESYNTAX);
    ck_assert(list != NULL);
    jaw_shown_free(list);
}
END_TEST

/* Any bytes: no crash, and a status that the notes bear out. */
START_TEST(any_bytes)
{
    static const char *const parts[] = {
        "G54", "g54.1", "P7", "H3", "tool", "x", "Y", "turn", "length", "-1.5",
        "3,2", "1in", "\n", " ", "#", "\"", "\xE2", "X-3", "999999", "\t"};
    random_source r = random_start("any bytes", 5);

    for (int i = 0; i < 20000; i++) {
        char text[200] = "";
        jaw_shown_list *list;
        for (size_t k = random_below(&r, 20); k > 0; k--) {
            strcat(text, parts[random_below(&r, sizeof parts / sizeof *parts)]);
            if (random_below(&r, 3) > 0)
                strcat(text, " ");
        }
        read_shown(text, JAW_MM, &list);
        jaw_shown_free(list);
    }
}
END_TEST

static const char part[] =
    "unit mm\ncontrol step 0.001 angle-step 0.001 turn yes lengths gauge-line\n"
    "tip g diameter 10 length 100\n"
    "edge f tip g faces y-\n 10 20\n 90 20\n"
    "edge l tip g faces x-\n 5 30\n 5 70\n"
    "face t tip g\n 50 50 -200\n"
    "setter p top -250\n"
    "tool 12 touched -170 on p\ntool 3 touched -160 on p\ntool 7\n"
    "zero G54.1 P2 x l\nzero G55 y f z t\nzero G54 turn f along x x l y f\n";

/* In the order in which they are read off; what was not found is NaN. */
START_TEST(registers_in_order)
{
    static const char *const want[] = {
        "G54 X", "G54 Y", "G54 turn", "G55 Y", "G55 Z", "G55 turn",
        "G54.1P2 X", "G54.1P2 turn", "H3 length", "H7 length", "H12 length"};
    outcome g = sheet_text(part);
    jaw_solution *solution;
    jaw_readback_value *value;
    size_t n, k = 0;

    ck_assert_int_eq(g.status, JAW_OK);
    ck_assert_int_eq(jaw_setup_solve(g.setup, NULL, &solution), JAW_EUNKNOWN);
    ck_assert_int_eq(
        jaw_solution_registers(g.setup, solution, &value, &n), JAW_OK);
    for (size_t i = 0; i < n; i++, k++) {
        char text[40];
        snprintf(text, sizeof text, "%s %s", value[i].name, value[i].word);
        /* a turn that nobody asked for is not there */
        while (k < sizeof want / sizeof *want && strcmp(text, want[k]) != 0 &&
               strstr(want[k], "turn"))
            k++;
        ck_assert(k < sizeof want / sizeof *want);
        ck_assert_str_eq(text, want[k]);
        ck_assert(isnan(value[i].shown) && isnan(value[i].before));
        ck_assert(value[i].step > 0);
        ck_assert_int_eq(value[i].angle, strcmp(value[i].word, "turn") == 0);
        ck_assert_int_eq(isnan(value[i].value),
                         strcmp(value[i].name, "H7") == 0);
    }
    ck_assert_uint_eq(k, sizeof want / sizeof *want);
    near(value[n - 1].value, 80, 1e-12, "H12");
    free(value);
    jaw_solution_free(solution);
    got_drop(&g);
}
END_TEST

START_TEST(put)
{
    jaw_readback_value v[2] = {
        register_of("G54", "X", JAW_MM, 0.001, 1),
        register_of("H3", "length", JAW_MM, 0.001, 1)};
    jaw_shown_list *list, *more;
    jaw_notes *notes = jaw_notes_alloc();

    ck_assert_int_eq(read_shown("H3 3 G54 X 4", JAW_MM, &list), JAW_OK);
    ck_assert_int_eq(jaw_shown_put(list, false, v, 2, notes), JAW_OK);
    near(v[0].shown, 4, 0, "G54 X");
    near(v[1].shown, 3, 0, "H3");
    ck_assert(isnan(v[0].before) && isnan(v[1].before));
    ck_assert_int_eq(read_shown("H4 5 G54 X 6", JAW_MM, &more), JAW_OK);
    ck_assert_int_eq(jaw_shown_put(more, true, v, 2, notes), JAW_OK);
    ck_assert_uint_eq(jaw_notes_count(notes), 0);
    near(v[0].before, 6, 0, "G54 X before");
    near(v[0].shown, 4, 0, "G54 X");
    ck_assert_int_eq(jaw_shown_put(more, false, v, 2, notes), JAW_ESYNTAX);
    ck_assert_uint_eq(jaw_notes_count(notes), 1);
    ck_assert(strstr(jaw_notes_get(notes, 0)->what, "H4") != NULL);
    ck_assert(strstr(jaw_notes_get(notes, 0)->cure, "G54 X, H3") != NULL);
    ck_assert_int_eq(jaw_shown_put(more, false, v, 0, NULL), JAW_ESYNTAX);
    jaw_notes_free(notes);
    jaw_shown_free(more);
    jaw_shown_free(list);
    jaw_shown_free(NULL);
}
END_TEST

/* More registers than a message has room for. */
START_TEST(many_registers)
{
    enum { N = 300 };
    static jaw_readback_value v[N];
    jaw_shown_list *list;
    jaw_notes *notes = jaw_notes_alloc();

    for (int i = 0; i < N; i++) {
        char name[JAW_REGISTER_NAME];
        snprintf(name, sizeof name, "H%d", i + 1);
        v[i] = register_of(name, "length", JAW_MM, 0.001, 1);
    }
    ck_assert_int_eq(read_shown("H999 3", JAW_MM, &list), JAW_OK);
    ck_assert_int_eq(jaw_shown_put(list, false, v, N, notes), JAW_ESYNTAX);
    const char *cure = jaw_notes_get(notes, 0)->cure;
    ck_assert(strstr(cure, "H1, H2") != NULL);
    ck_assert_str_eq(cure + strlen(cure) - 5, ", ...");
    jaw_notes_free(notes);
    jaw_shown_free(list);
}
END_TEST

TCase *shown_case(void)
{
    TCase *tc = tcase_create("shown");
    tcase_add_loop_test(tc, all_ways_to_write, 0, 6);
    tcase_add_test(tc, registers_and_units);
    tcase_add_loop_test(tc, refused, 0, 38);
    tcase_add_test(tc, any_bytes);
    tcase_add_test(tc, registers_in_order);
    tcase_add_test(tc, put);
    tcase_add_test(tc, many_registers);
    return tc;
}
