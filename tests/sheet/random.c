/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Random texts: no text crashes the reader, and what it says is in order.
 * JAW_TEST_SEED repeats a run. */
#include "sheet_tests.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { RUNS = 20000, LONGEST = 400 };

/* Marsaglia, J. Stat. Soft. 8 (2003) no. 14: xorshift, 64 bits. */
static uint64_t state;

static unsigned next(unsigned below)
{
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return (unsigned)(state >> 33) % below;
}

static void seed(void)
{
    const char *given = getenv("JAW_TEST_SEED");
    state = given ? strtoull(given, NULL, 10) : 20240229;
    printf("seed %llu\n", (unsigned long long)state);
    fflush(stdout);
}

static const char *const words[] = {
    "title", "unit", "mm", "in", "control", "step", "turn", "yes", "lengths",
    "reference-tool", "travel", "x", "y", "z", "tip", "t", "ball", "diameter",
    "repeat", "edge", "e", "faces", "y-", "x+", "moving", "face", "bore",
    "expected", "known", "within", "slot", "web", "/", "pattern", "hole", "at",
    "setter", "top", "height", "on", "touched", "with", "tool", "1", "2.5",
    "-3", "1,5", "3/8", "0.02deg", "1in", "\"a b\"", "\"", "zero", "G54",
    "G60", "along", "#", "nan", "1e400", "\xC2\xB0", ("\xE2\x88\x92" "1"),
    "\xFF", "\n", "\n", "\n", "\n  ", "\n  ", "\n  ", "\r\n", "\t",
};

/* Half of the texts are words of the grammar, half are any bytes. */
static size_t make(char *text)
{
    size_t len = 0, want = next(LONGEST);
    bool bytes = next(2);
    while (len < want) {
        if (bytes) {
            text[len++] = (char)next(256);
            continue;
        }
        const char *word = words[next(COUNT(words))];
        memcpy(text + len, word, strlen(word));
        len += strlen(word);
        text[len++] = ' ';
    }
    return len;
}

static void check_notes(const jaw_notes *notes, jaw_status status)
{
    int line = 0;
    size_t errors = jaw_notes_at_least(notes, JAW_ERROR);
    ck_assert_int_eq(status, errors > 0 ? JAW_ESYNTAX : JAW_OK);
    ck_assert_uint_le(errors, 101);
    for (size_t i = 0; i < jaw_notes_count(notes); i++) {
        const jaw_note *note = jaw_notes_get(notes, i);
        ck_assert_str_ne(note->what, "");
        ck_assert_str_ne(note->cure, "");
        ck_assert(!strstr(note->what, "%") || strstr(note->source, "%"));
        if (note->place.line == 0)
            continue;
        ck_assert_int_ge(note->place.line, line);
        line = note->place.line;
        ck_assert_int_ge(note->place.column, 1);
    }
}

START_TEST(sheets)
{
    char text[LONGEST + 50];
    seed();
    for (int i = 0; i < RUNS; i++) {
        size_t len = make(text);
        char *exact = malloc(len + 1); /* a tool sees one byte too far */
        memcpy(exact, text, len);
        exact = realloc(exact, len > 0 ? len : 1);
        outcome g = sheet_got(exact, len);
        check_notes(g.notes, g.status);
        got_drop(&g);
        free(exact);
    }
}
END_TEST

START_TEST(rows)
{
    char text[LONGEST + 50];
    seed();
    for (int i = 0; i < RUNS; i++) {
        size_t len = make(text);
        jaw_notes *notes = jaw_notes_alloc();
        jaw_rows *all;
        int min = 1 + (int)next(4), max = min + (int)next(5 - (unsigned)min);
        jaw_status status = jaw_rows_read_text(text, len, "", JAW_IN, min, max,
                                               &all, notes);
        check_notes(notes, status);
        size_t n;
        const jaw_row *row = jaw_rows_get(all, &n);
        for (size_t k = 0; k < n; k++)
            ck_assert(row[k].n >= min && row[k].n <= max);
        jaw_rows_free(all);
        jaw_notes_free(notes);
    }
}
END_TEST

TCase *random_case(void)
{
    TCase *tc = tcase_create("random");
    tcase_set_timeout(tc, 120);
    tcase_add_test(tc, sheets);
    tcase_add_test(tc, rows);
    return tc;
}
