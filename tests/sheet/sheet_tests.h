/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SHEET_TESTS_H
#define SHEET_TESTS_H

#include <jawline/sheet.h>

#include <check.h>

#define COUNT(a) ((int)(sizeof(a) / sizeof((a)[0])))

/* One text read into a new setup; to be dropped. */
typedef struct outcome {
    jaw_setup *setup;
    jaw_notes *notes;
    jaw_status status;
} outcome;

outcome sheet_got(const char *text, size_t len);
outcome sheet_text(const char *text); /* NUL-terminated */
void got_drop(outcome *g);
/* got_good: fails the test with the first note when the text was not good. */
void got_good(const outcome *g);
/* got_note: the i-th note says this, at this place. */
void got_note(const outcome *g, size_t i, int line, int column,
              const char *part);

/* shelf_fetch: brings the sheets of include.c. */
jaw_status shelf_fetch(void *user, const char *name, const char *from,
                       jaw_sheet_text *sheet);

TCase *lines_case(void);
TCase *quantity_case(void);
TCase *grammar_case(void);
TCase *entries_case(void);
TCase *mistakes_case(void);
TCase *include_case(void);
TCase *rows_case(void);
TCase *shown_case(void);
TCase *large_case(void);
TCase *random_case(void);
TCase *sheet_alloc_case(void); /* NULL when allocations can not be counted */

#endif
