/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "known_tests.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define HEAD "unit mm\ncontrol step 0.001 turn yes angle-step 0.0001\n"

static void print_notes(const jaw_notes *notes)
{
    const jaw_note *n;

    for (size_t i = 0; (n = jaw_notes_get(notes, i)) != NULL; i++)
        printf("%d: %s; %s\n", n->place.line, n->what, n->cure);
}

solved solved_text(const char *text)
{
    solved s = {jaw_setup_alloc(), jaw_notes_alloc(), NULL};
    char sheet[4000];

    /* two lines, so that the text begins in line 3 */
    int n = snprintf(sheet, sizeof sheet, "%s%s", HEAD, text);
    ck_assert(n > 0 && (size_t)n < sizeof sheet);
    jaw_status status = jaw_sheet_read_text(sheet, (size_t)n, "sheet",
                                            s.setup, s.notes);
    if (status != JAW_OK)
        print_notes(s.notes);
    ck_assert_int_eq(status, JAW_OK);
    jaw_setup_solve(s.setup, s.notes, &s.solution);
    ck_assert_ptr_nonnull(s.solution);
    return s;
}

void solved_drop(solved *s)
{
    jaw_solution_free(s->solution);
    jaw_setup_free(s->setup);
    jaw_notes_free(s->notes);
}

const jaw_found *feature_of(const solved *s, const char *name)
{
    size_t n, m;
    const jaw_feature_entry *e = jaw_setup_features(s->setup, &n);
    const jaw_found *found = jaw_solution_features(s->solution, &m);

    for (size_t i = 0; i < n; i++)
        if (strcmp(e[i].name, name) == 0)
            return &found[i];
    ck_abort_msg("no feature %s", name);
}

const jaw_zero_found *zero_of(const solved *s)
{
    size_t n;
    const jaw_zero_found *z = jaw_solution_zeros(s->solution, &n);

    ck_assert_uint_ge(n, 1);
    return z;
}

const jaw_tool_found *tool_of(const solved *s, int number)
{
    size_t n;
    const jaw_tool_found *t = jaw_solution_tools(s->solution, &n);

    for (size_t i = 0; i < n; i++)
        if (t[i].number == number)
            return &t[i];
    ck_abort_msg("no tool %d", number);
}

int said(const solved *s, const char *part)
{
    const jaw_note *n;
    int hits = 0;

    for (size_t i = 0; (n = jaw_notes_get(s->notes, i)) != NULL; i++)
        hits += strstr(n->what, part) != NULL ? 1 : 0;
    return hits;
}

void says(const solved *s, jaw_severity severity, int line, const char *part)
{
    const jaw_note *n;
    int hits = 0;

    for (size_t i = 0; (n = jaw_notes_get(s->notes, i)) != NULL; i++) {
        if (strstr(n->what, part) == NULL)
            continue;
        hits++;
        ck_assert_int_eq(n->severity, severity);
        ck_assert_int_eq(n->place.line, line);
    }
    if (hits != 1)
        print_notes(s->notes);
    ck_assert_msg(hits == 1, "\"%s\" was said %d times", part, hits);
}

char *text_of(const solved *s)
{
    char *text = jaw_report_text(s->setup, s->solution, s->notes,
                                 (jaw_report_style){0});
    ck_assert_ptr_nonnull(text);
    return text;
}

char *json_of(const solved *s)
{
    char *text = jaw_report_json(s->setup, s->solution, s->notes,
                                 (jaw_report_style){0});
    ck_assert_ptr_nonnull(text);
    return text;
}
