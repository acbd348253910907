/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of src/sheet. */
#include "sheet_tests.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

outcome sheet_got(const char *text, size_t len)
{
    outcome g = {.setup = jaw_setup_alloc(), .notes = jaw_notes_alloc()};
    ck_assert(g.setup && g.notes);
    jaw_sheet_text sheet = {text, len, "t.jaw"};
    g.status = jaw_sheet_read(&sheet, shelf_fetch, NULL, g.setup, g.notes);
    return g;
}

outcome sheet_text(const char *text)
{
    return sheet_got(text, strlen(text));
}

void got_drop(outcome *g)
{
    jaw_setup_free(g->setup);
    jaw_notes_free(g->notes);
}

void got_good(const outcome *g)
{
    const jaw_note *note = jaw_notes_get(g->notes, 0);
    ck_assert_msg(g->status == JAW_OK, "status %d: %d:%d: %s", g->status,
                  note ? note->place.line : 0, note ? note->place.column : 0,
                  note ? note->what : "no note");
}

void got_note(const outcome *g, size_t i, int line, int column,
              const char *part)
{
    const jaw_note *note = jaw_notes_get(g->notes, i);
    ck_assert_msg(note != NULL, "no note %zu: %s", i, part);
    ck_assert_msg(strstr(note->what, part) || strstr(note->cure, part),
                  "'%s' is not in: %s; %s", part, note->what, note->cure);
    ck_assert_msg(note->place.line == line && note->place.column == column,
                  "%s: at %d:%d, not at %d:%d", note->what, note->place.line,
                  note->place.column, line, column);
}

int main(void)
{
    Suite *suite = suite_create("sheet");
    suite_add_tcase(suite, lines_case());
    suite_add_tcase(suite, quantity_case());
    suite_add_tcase(suite, grammar_case());
    suite_add_tcase(suite, entries_case());
    suite_add_tcase(suite, mistakes_case());
    suite_add_tcase(suite, include_case());
    suite_add_tcase(suite, rows_case());
    suite_add_tcase(suite, shown_case());
    suite_add_tcase(suite, large_case());
    suite_add_tcase(suite, random_case());
    TCase *alloc = sheet_alloc_case();
    if (alloc)
        suite_add_tcase(suite, alloc);
    else
        puts("left out: a sheet without memory (a tool owns malloc)");
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
