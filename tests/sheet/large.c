/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Large texts: a million rows, long lines, many names. */
#include "sheet_tests.h"

#include "tests/near.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { MILLION = 1000000 };

typedef struct text {
    char *s;
    size_t len;
} text;

static text text_alloc(size_t room)
{
    text t = {.s = malloc(room)};
    ck_assert_ptr_nonnull(t.s);
    return t;
}

static double seconds(clock_t since)
{
    return (double)(clock() - since) / CLOCKS_PER_SEC;
}

START_TEST(a_million_rows)
{
    text t = text_alloc(20 * MILLION);
    jaw_rows *rows;
    size_t n;
    for (int i = 0; i < MILLION; i++)
        t.len += (size_t)sprintf(t.s + t.len, "%.4f %.4f\n", i * 1e-4,
                                 -i * 0.1);
    clock_t start = clock();
    ck_assert_int_eq(jaw_rows_read_text(t.s, t.len, "", JAW_MM, 2, 3, &rows,
                                        NULL),
                     JAW_OK);
    printf("a million rows: %.2f s\n", seconds(start));
    const jaw_row *row = jaw_rows_get(rows, &n);
    ck_assert_uint_eq(n, MILLION);
    near(row[MILLION - 1].value[0], 99.9999, 0, "x");
    near(row[MILLION - 1].value[1], -99999.9, 0, "y");
    ck_assert_int_eq(row[MILLION - 1].place.line, MILLION);
    jaw_rows_free(rows);
    free(t.s);
}
END_TEST

START_TEST(a_million_touches)
{
    text t = text_alloc(20 * MILLION);
    size_t n, first;
    t.len = (size_t)sprintf(t.s, "unit in\ntip t diameter 1\nedge e tip t "
                                 "faces y-\n");
    for (int i = 0; i < MILLION; i++)
        t.len += (size_t)sprintf(t.s + t.len, " %d %.3f\n", i % 100, i * 1e-3);
    clock_t start = clock();
    outcome g = sheet_got(t.s, t.len);
    printf("a million touches: %.2f s\n", seconds(start));
    got_good(&g);
    jaw_setup_touches(g.setup, 0, &n, &first);
    ck_assert_uint_eq(n, MILLION);
    got_drop(&g);
    free(t.s);
}
END_TEST

/* A sheet of n entries of all kinds that have names; *len is its length. */
static char *many_entries(int n, size_t *len)
{
    text t = text_alloc((size_t)n * 150 + 100);
    t.len = (size_t)sprintf(t.s, "unit mm\n");
    for (int i = 0; i < n; i++)
        t.len += (size_t)sprintf(t.s + t.len,
                                 "tip t%d diameter 1\n"
                                 "edge e%d tip t%d faces y-\n  1 2\n"
                                 "setter s%d top 3 touched 1 with t%d\n",
                                 i, i, n - 1 - i, i, i);
    *len = t.len;
    return t.s;
}

static double time_of_entries(int n)
{
    size_t len, count;
    char *s = many_entries(n, &len);
    clock_t start = clock();
    outcome g = sheet_got(s, len);
    double took = seconds(start);
    got_good(&g);
    jaw_setup_features(g.setup, &count);
    ck_assert_uint_eq(count, (size_t)n);
    got_drop(&g);
    free(s);
    return took;
}

/* Ten times the entries, and not a hundred times the time: names are sorted,
 * never compared each with each, which would take minutes here. */
START_TEST(many_names)
{
    double one = time_of_entries(10000), ten = time_of_entries(100000);
    printf("entries: %.3f s, ten times as many: %.3f s\n", one, ten);
    ck_assert_msg(ten < 40 * one + 0.5, "%g s, then %g s", one, ten);
}
END_TEST

/* One line of two million characters, in one word and in many. */
START_TEST(megabyte_lines)
{
    enum { LONG = 2000000 };
    text t = text_alloc(LONG + 100);
    static const char *const fill[] = {"1", "1 ", "x", "x ", "\"", "#", "/ ",
                                       "diameter ", "\xE2\x88\x92", "\xFF",
                                       "1,", "y 1 ", "-", ".", "\" \""};
    const char *f = fill[_i];
    t.len = (size_t)sprintf(t.s, "unit mm\nedge e tip t faces y-\n%s",
                            _i % 2 ? " " : "  1 ");
    while (t.len < LONG) {
        memcpy(t.s + t.len, f, strlen(f));
        t.len += strlen(f);
    }
    clock_t start = clock();
    outcome g = sheet_got(t.s, t.len);
    got_drop(&g);
    jaw_rows *rows;
    jaw_rows_read_text(t.s, t.len, "", JAW_MM, 1, 4, &rows, NULL);
    jaw_rows_free(rows);
    ck_assert_msg(seconds(start) < 20, "%s: %g s", f, seconds(start));
    free(t.s);
}
END_TEST

TCase *large_case(void)
{
    TCase *tc = tcase_create("large");
    tcase_set_timeout(tc, 120);
    tcase_add_test(tc, a_million_rows);
    tcase_add_test(tc, a_million_touches);
    tcase_add_test(tc, many_names);
    tcase_add_loop_test(tc, megabyte_lines, 0, 15);
    return tc;
}
