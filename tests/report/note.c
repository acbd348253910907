/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One note as a person sees it, to the letter. */
#include "report_tests.h"

#include <stdlib.h>
#include <string.h>

static const struct {
    jaw_note note;
    const char *text;
} rows[] = {
    {{JAW_ERROR, JAW_ESYNTAX, {3, 7, 0}, "a.jaw", "wrong", "right", "edge jwa 1"},
     "a.jaw:3:7: error: wrong; right\n  edge jwa 1\n        ^\n"},
    {{JAW_DOUBT, JAW_OK, {3, 0, 0}, "a.jaw", "odd", "", "  1 2"},
     "a.jaw:3: doubt: odd\n    1 2\n"},
    {{JAW_ASSUMPTION, JAW_OK, {0, 0, 0}, "", "square", "measure it", ""},
     "assumption: square; measure it\n"},
    {{JAW_ERROR, JAW_ENOMEM, {0, 0, 0}, "a.jaw", "wrong", "", ""},
     "a.jaw: error: wrong\n"},
    {{JAW_ERROR, JAW_ESYNTAX, {3, 2, 0}, "", "wrong", "", ""},
     "line 3:2: error: wrong\n"},
    /* tabs stay under the line, so that the caret stands where it should */
    {{JAW_ERROR, JAW_ESYNTAX, {1, 4, 0}, "f", "w", "", "\tx\ty"},
     "f:1:4: error: w\n  \tx\ty\n  \t \t^\n"},
    /* a letter of two bytes is one character; behind the end of the line */
    {{JAW_ERROR, JAW_ESYNTAX, {1, 3, 0}, "f", "w", "", "\xc3\xb6\xc3\xa4"},
     "f:1:3: error: w\n  \xc3\xb6\xc3\xa4\n    ^\n"},
    {{JAW_ERROR, JAW_ESYNTAX, {1, 99, 0}, "f", "w", "", "ab"},
     "f:1:99: error: w\n  ab\n    ^\n"},
    /* what a terminal would obey */
    {{JAW_ERROR, JAW_ESYNTAX, {1, 1, 0}, "\033f", "w\033[2J", "c\r",
      "\033[1m\x7f"},
     "?f:1:1: error: w?[2J; c?\n  ?[1m?\n  ^\n"},
};

START_TEST(note_text)
{
    char *text = jaw_report_note(&rows[_i].note, (jaw_report_style){0});
    ck_assert_str_eq(text, rows[_i].text);
    free(text);
}
END_TEST

START_TEST(note_colour)
{
    char *text =
        jaw_report_note(&rows[0].note, (jaw_report_style){.colour = true});
    ck_assert_str_eq(text, "a.jaw:3:7: \033[1;31merror:\033[m wrong; right\n"
                           "  edge jwa 1\n        ^\n");
    free(text);
}
END_TEST

/* A file without line ends is one line; only what is near is shown. */
START_TEST(note_long_line)
{
    char line[5001];
    memset(line, 'a', 5000);
    line[4000] = 'X';
    line[5000] = '\0';
    jaw_note note = {JAW_ERROR, JAW_ESYNTAX, {1, 4001, 0}, "f", "w", "", line};
    char *text = jaw_report_note(&note, (jaw_report_style){0});
    ck_assert_uint_lt(strlen(text), 500);
    const char *x = strchr(text, 'X'), *start = x;
    while (start[-1] != '\n')
        start--;
    const char *caret = strchr(text, '^');
    const char *below = strchr(x, '\n') + 1;
    ck_assert_int_eq(caret - below, x - start);
    free(text);
}
END_TEST

TCase *note_case(void)
{
    TCase *tc = tcase_create("note");
    tcase_add_loop_test(tc, note_text, 0,
                        (int)(sizeof rows / sizeof rows[0]));
    tcase_add_test(tc, note_colour);
    tcase_add_test(tc, note_long_line);
    return tc;
}
