/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How mistakes are told; the text of each is compared in tests/errors. */
#include "sheet_tests.h"

#include <stdio.h>
#include <string.h>

START_TEST(status_and_note)
{
    outcome g = sheet_text("unit mm\ntip finder diamter 5\n");
    ck_assert_int_eq(g.status, JAW_ESYNTAX);
    ck_assert_uint_eq(jaw_notes_count(g.notes), 1);
    const jaw_note *note = jaw_notes_get(g.notes, 0);
    ck_assert_int_eq(note->severity, JAW_ERROR);
    ck_assert_int_eq(note->status, JAW_ESYNTAX);
    ck_assert_str_eq(note->file, "t.jaw");
    ck_assert_str_eq(note->source, "tip finder diamter 5");
    got_note(&g, 0, 2, 12, "diameter");
    got_drop(&g);
}
END_TEST

/* What is only seen at the end is told where it stands. */
START_TEST(in_the_order_of_lines)
{
    outcome g = sheet_text("unit mm\n"
                       "tip t diameter 5\n"
                       "edge a tip t\n  1 2\n" /* no side, line 3 */
                       "edge a tip t faces y-\n  1 x\n" /* name 5, row 6 */
                       "zero G54 x a\nzero G54 x a\n" /* line 8 */
                       "tool 1 length\n");    /* line 9 */
    got_note(&g, 0, 3, 1, "faces");
    got_note(&g, 1, 5, 6, "names two things");
    got_note(&g, 2, 6, 5, "'x' stands among numbers");
    got_note(&g, 3, 8, 6, "G55");
    got_note(&g, 4, 9, 14, "a size is missing");
    ck_assert_uint_eq(jaw_notes_count(g.notes), 5);
    got_drop(&g);
}
END_TEST

/* Each edge's tip is found among several, wherever it stands. */
START_TEST(sides_of_many_tips)
{
    outcome g = sheet_text("unit mm\n"
                            "edge a tip d\n  1 2\nedge b tip a\n  1 2\n"
                            "edge c tip dot\n  1 2\nedge d tip none\n  1 2\n"
                            "edge e tip z\n  1 2\n"
                            "tip z diameter 1\ntip d diameter 1\n"
                            "tip a diameter 1\ntip dot diameter 0\n");
    ck_assert_uint_eq(jaw_notes_count(g.notes), 3);
    got_note(&g, 0, 2, 1, "'a' does not say");
    got_note(&g, 1, 4, 1, "'b' does not say");
    got_note(&g, 2, 10, 1, "'e' does not say");
    got_drop(&g);
}
END_TEST

/* One slip, one message. */
START_TEST(no_noise)
{
    static const char *const text[] = {
        /* a broken unit is not assumed, nor stated late */
        "tip t diameter 3in\nunit inch\nedge e tip t faces y-\n  1 2\n",
        /* a word that may have been the one that is needed */
        "unit mm\ntip t thickness 3\n",
        /* rows of an entry that is not known */
        "unit mm\nvise a\n  1 2\n  3 4\n  /\n  jaws 5\n",
        /* an edge whose tip is broken */
        "unit mm\ntip t diameter x\nedge e tip t\n  1 2\n",
        /* touches that are broken are not missing */
        "unit mm\ntip t diameter 3\nedge e tip t faces y-\n  1,5 2\n",
        /* a misspelt side is not missing */
        "unit mm\ntip t diameter 3\nedge e tip t faces ty-\n  1 2\n",
        "unit mm\ntip t diameter 3\nedge e tip t fases y-\n  1 2\n",
        /* a line that can not be read */
        "unit mm\ntip t \x01 diameter 3\nedge e tip t\n  1 2\n",
        "unit mm\ntip t diameter 3\nedge e\n  tip\x01 t\n  1 2\n",
        "unit mm\nslot s tip t\n  1 2\n  1,5 3\n",
        "unit mm\ntip t diameter 3\nedge e tip t faces y-\n1 2\n3 4\n5 6\n",
        "unit mm\ntip t diameter 3\n  1 2\n  3 4\n",
        "unit mm\ntip t diameter 3\nslot s tip t\n  1 2 /\n  1 3\n",
    };
    outcome g = sheet_text(text[_i]);
    ck_assert_int_eq(g.status, JAW_ESYNTAX);
    if (jaw_notes_count(g.notes) != 1)
        ck_abort_msg("%s\n%zu notes; the second: %s", text[_i],
                     jaw_notes_count(g.notes),
                     jaw_notes_get(g.notes, 1)->what);
    got_drop(&g);
}
END_TEST

START_TEST(a_hundred_and_one)
{
    char text[20000] = "unit mm\ntip t diameter 3\nedge e tip t\n";
    size_t len = strlen(text);
    for (int i = 0; i < 150 * (1 + _i); i++) {
        memcpy(text + len, "  1 a\n", 6);
        len += 6;
    }
    outcome g = sheet_got(text, len);
    ck_assert_int_eq(g.status, JAW_ESYNTAX);
    ck_assert_uint_eq(jaw_notes_count(g.notes), 101);
    got_note(&g, 99, 103, 5, "'a' is no number");
    got_note(&g, 100, 104, 5, "more mistakes follow");
    got_drop(&g);
}
END_TEST

START_TEST(a_hundred_are_not_too_many)
{
    char text[2000] = "unit mm\ntip t diameter 3\nedge e tip t faces y-\n";
    size_t len = strlen(text);
    for (int i = 0; i < 100; i++) {
        memcpy(text + len, "  1 a\n", 6);
        len += 6;
    }
    outcome g = sheet_got(text, len);
    ck_assert_uint_eq(jaw_notes_count(g.notes), 100);
    got_drop(&g);
}
END_TEST

/* Notes that are there already stay, and stay first. */
START_TEST(notes_are_added)
{
    jaw_setup *setup = jaw_setup_alloc();
    jaw_notes *notes = jaw_notes_alloc();
    jaw_notes_add(notes, JAW_DOUBT, JAW_OK, "f", (jaw_place){9, 9, 0}, "", "",
                  "first");
    ck_assert_int_eq(jaw_sheet_read_text("foo", 3, "f", setup, notes),
                     JAW_ESYNTAX);
    ck_assert_uint_eq(jaw_notes_count(notes), 2);
    ck_assert_str_eq(jaw_notes_get(notes, 0)->what, "first");
    jaw_notes_free(notes);
    jaw_setup_free(setup);
}
END_TEST

/* The line is kept for the caret, but never a megabyte of it. */
START_TEST(long_lines)
{
    enum { LONG = 1000000 };
    static char text[LONG + 100];
    size_t len = (size_t)sprintf(text, "unit mm\ntip t diameter 3 ");
    memset(text + len, 'x', LONG);
    strcpy(text + len + LONG, "\ntip u diameter 3");
    outcome g = sheet_text(text);
    ck_assert_uint_eq(jaw_notes_count(g.notes), 1);
    const jaw_note *note = jaw_notes_get(g.notes, 0);
    ck_assert_uint_lt(strlen(note->source), 400);
    ck_assert_uint_lt(strlen(note->what), 400);
    got_drop(&g);
    memset(text + len, ' ', LONG);
    text[len + LONG - 1] = 'x';
    g = sheet_text(text);
    got_note(&g, 0, 2, LONG + 17, "'x'");
    ck_assert_str_eq(jaw_notes_get(g.notes, 0)->source, "");
    got_drop(&g);
}
END_TEST

/* What was understood is there all the same. */
START_TEST(the_rest_is_taken)
{
    outcome g = sheet_text("unit mm\ntip t diameter 3\ntip u\n"
                           "edge e tip t faces y-\n  1 2\n  1 b\n  3 4\n"
                           "zero G54 x e at q\n  y e\n");
    size_t n, first;
    ck_assert_int_eq(g.status, JAW_ESYNTAX);
    jaw_setup_tips(g.setup, &n);
    ck_assert_uint_eq(n, 1);
    jaw_setup_touches(g.setup, 0, &n, &first);
    ck_assert_uint_eq(n, 2);
    ck_assert_str_eq(jaw_setup_zeros(g.setup, &n)->term[JAW_Y].feature, "e");
    got_drop(&g);
}
END_TEST

TCase *mistakes_case(void)
{
    TCase *tc = tcase_create("mistakes");
    tcase_add_test(tc, status_and_note);
    tcase_add_test(tc, in_the_order_of_lines);
    tcase_add_test(tc, sides_of_many_tips);
    tcase_add_loop_test(tc, no_noise, 0, 13);
    tcase_add_loop_test(tc, a_hundred_and_one, 0, 2);
    tcase_add_test(tc, a_hundred_are_not_too_many);
    tcase_add_test(tc, notes_are_added);
    tcase_add_test(tc, long_lines);
    tcase_add_test(tc, the_rest_is_taken);
    return tc;
}
