/* SPDX-License-Identifier: GPL-3.0-or-later */
/* known_tests.h: sheets as text, solved, and what came of them. */
#ifndef KNOWN_TESTS_H
#define KNOWN_TESTS_H

#include "tests/near.h"

#include <check.h>
#include <jawline/report.h>
#include <jawline/sheet.h>

#include <math.h>

#define COUNT(a) ((int)(sizeof(a) / sizeof((a)[0])))

typedef struct solved {
    jaw_setup *setup;
    jaw_notes *notes;
    jaw_solution *solution;
} solved;

/* solved_text: two lines (mm, a control that turns), then this; to be dropped.
 */
solved solved_text(const char *text);
void solved_drop(solved *s);
const jaw_found *feature_of(const solved *s, const char *name);
const jaw_zero_found *zero_of(const solved *s);
const jaw_tool_found *tool_of(const solved *s, int number);
/* said: how many notes hold this text; says: exactly one of that severity does,
 * in this line. */
int said(const solved *s, const char *part);
void says(const solved *s, jaw_severity severity, int line, const char *part);
/* text_of, json_of: the report, to be freed. */
char *text_of(const solved *s);
char *json_of(const solved *s);

TCase *aside_case(void);
TCase *budget_case(void);
TCase *decide_case(void);
TCase *known_case(void);
TCase *memory_case(void); /* NULL when allocations can not be counted */
TCase *next_case(void);
TCase *places_case(void);
TCase *warm_case(void);

#endif
