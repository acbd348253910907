/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fuzz_sheet.c: any bytes at all as a sheet, and as rows of numbers: read,
 * solved, reported.  Nothing may crash, leak or hang, and what the headers
 * promise for every input is checked here for every input.
 *
 *   clang -fsanitize=fuzzer,address,undefined: searches on its own (.ci/run)
 *   replay.c: goes through the corpus and its neighbours (make check) */
#include "fuzz.h"

#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <jawline.h>

static size_t count_lines(const char *text, size_t len)
{
    size_t lines = 1;
    for (size_t i = 0; i < len; i++)
        lines += text[i] == '\n' || text[i] == '\r';
    return lines;
}

/* Each note has something to say, and its place lies in the text. */
static void check_notes(const jaw_notes *notes, const char *text, size_t len)
{
    size_t lines = count_lines(text, len);
    MUST(jaw_notes_lost(notes) == 0);
    for (size_t i = 0; i < jaw_notes_count(notes); i++) {
        const jaw_note *n = jaw_notes_get(notes, i);
        MUST(n->what[0] != '\0');
        MUST(n->place.line >= 0 && (size_t)n->place.line <= lines);
        MUST(n->place.column >= 0 && (size_t)n->place.column <= len + 1);
        MUST((n->severity == JAW_ERROR) == (n->status != JAW_OK));
        char *said = jaw_report_note(n, (jaw_report_style){0});
        MUST(said && said[0] && said[strlen(said) - 1] == '\n');
        free(said);
    }
}

/* A value that is to be entered is a multiple of the step, or there is none:
 * never half a result. */
static void check_values(const jaw_setup *setup, const jaw_solution *solution)
{
    double step = jaw_setup_control(setup)->step;
    size_t n;
    const jaw_zero_found *zero = jaw_solution_zeros(solution, &n);
    for (size_t i = 0; i < n; i++) {
        const double v[] = {zero[i].zero.x, zero[i].zero.y, zero[i].zero.z};
        const double e[] = {zero[i].enter.x, zero[i].enter.y, zero[i].enter.z};
        for (int axis = 0; axis < 3; axis++) {
            MUST(isnan(v[axis]) == isnan(e[axis]));
            MUST(isnan(e[axis]) ||
                 fabs(e[axis] - v[axis]) <=
                     0.5 * step + 1e-12 * (fabs(v[axis]) + step));
        }
    }
    const jaw_tool_found *tool = jaw_solution_tools(solution, &n);
    for (size_t i = 0; i < n; i++)
        MUST(isnan(tool[i].value) == isnan(tool[i].enter));
}

static void check_report(const jaw_setup *setup, const jaw_solution *solution,
                         const jaw_notes *notes, bool explain)
{
    jaw_report_style style = {.explain = explain, .colour = explain};
    char *text = jaw_report_text(setup, solution, notes, style);
    MUST(text);
    free(text);
    char *json = jaw_report_json(setup, solution, notes, style);
    MUST(json);
    json_error_t error;
    json_t *value = json_loads(json, JSON_REJECT_DUPLICATES, &error);
    if (!value)
        fprintf(stderr, "%s\n%s\n", error.text, json);
    MUST(json_is_object(value));
    json_decref(value);
    free(json);
}

static void try_sheet(const char *text, size_t len)
{
    jaw_setup *setup = jaw_setup_alloc();
    jaw_notes *notes = jaw_notes_alloc();
    MUST(setup && notes);
    jaw_status read = jaw_sheet_read_text(text, len, "any.jaw", setup, notes);
    MUST(read == JAW_OK || read == JAW_ESYNTAX);
    MUST((read == JAW_ESYNTAX) == (jaw_notes_at_least(notes, JAW_ERROR) > 0));
    check_notes(notes, text, len);

    jaw_solution *solution = NULL;
    jaw_setup_solve(setup, notes, &solution);
    MUST(solution);
    check_notes(notes, text, len);
    check_values(setup, solution);
    check_report(setup, solution, notes, false);
    check_report(setup, solution, notes, true);
    jaw_solution_free(solution);
    jaw_notes_free(notes);
    jaw_setup_free(setup);
}

static void try_rows(const char *text, size_t len)
{
    jaw_notes *notes = jaw_notes_alloc();
    jaw_rows *rows = NULL;
    MUST(notes);
    int want = len > 0 ? 1 + text[0] % 2 : 1;
    jaw_status status = jaw_rows_read_text(text, len, "any.txt", JAW_IN, want,
                                           want + 2, &rows, notes);
    MUST(status == JAW_OK || status == JAW_ESYNTAX);
    MUST((status == JAW_OK) == (jaw_notes_at_least(notes, JAW_ERROR) == 0));
    MUST(rows);
    size_t n;
    const jaw_row *row = jaw_rows_get(rows, &n);
    for (size_t i = 0; i < n; i++) {
        MUST(row[i].n >= want && row[i].n <= want + 2);
        for (int k = 0; k < 4; k++)
            MUST(k < row[i].n ? isfinite(row[i].value[k])
                              : isnan(row[i].value[k]));
    }
    check_notes(notes, text, len);
    jaw_rows_free(rows);
    jaw_notes_free(notes);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    /* its own block of exactly this size, so that a read past its end is seen;
     * not ended by a NUL */
    char *text = malloc(size ? size : 1);
    MUST(text);
    if (size > 0)
        memcpy(text, data, size);
    try_sheet(text, size);
    try_rows(text, size);
    free(text);
    return 0;
}
