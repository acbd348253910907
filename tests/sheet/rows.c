/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of rows.c. */
#include "sheet_tests.h"

#include "tests/near.h"

#include <string.h>

static jaw_status read_rows(const char *text, jaw_unit unit, int min, int max,
                            jaw_rows **rows)
{
    jaw_notes *notes = jaw_notes_alloc();
    jaw_status status = jaw_rows_read_text(text, strlen(text), "t.rows", unit,
                                           min, max, rows, notes);
    ck_assert_int_eq(status == JAW_OK, jaw_notes_count(notes) == 0);
    jaw_notes_free(notes);
    return status;
}

START_TEST(all_ways_to_part)
{
    static const char text[] = "1,2\n1 2\n1, 2\n1 ,2\n 1\t2 \n1 , 2# c\n1,2";
    jaw_rows *rows;
    size_t n;
    ck_assert_int_eq(read_rows(text, JAW_MM, 2, 2, &rows), JAW_OK);
    const jaw_row *row = jaw_rows_get(rows, &n);
    ck_assert_uint_eq(n, 7);
    for (size_t i = 0; i < n; i++) {
        ck_assert_int_eq(row[i].n, 2);
        near(row[i].value[0], 1, 0, "first");
        near(row[i].value[1], 2, 0, "second");
        ck_assert(isnan(row[i].value[2]) && isnan(row[i].value[3]));
        ck_assert_int_eq(row[i].place.line, (int)i + 1);
        ck_assert_int_eq(row[i].group, 0);
    }
    jaw_rows_free(rows);
}
END_TEST

START_TEST(units)
{
    jaw_rows *rows;
    size_t n;
    ck_assert_int_eq(read_rows("1 2mm,3in 4", JAW_IN, 1, 4, &rows), JAW_OK);
    const jaw_row *row = jaw_rows_get(rows, &n);
    ck_assert_uint_eq(n, 1);
    ck_assert_int_eq(row->n, 4);
    near(row->value[0], 25.4, 0, "bare");
    near(row->value[1], 2, 0, "mm");
    near(row->value[2], 3 * 25.4, 0, "in");
    near(row->value[3], 4 * 25.4, 0, "bare");
    jaw_rows_free(rows);
}
END_TEST

static const struct {
    const char *text;
    int group[6]; /* -1 after the last */
} groups[] = {
    {"", {-1}},
    {"\n\n", {-1}},
    {"# c\n", {-1}},
    {"/\n", {-1}},
    {"1\n2\n", {0, 0, -1}},
    {"\n\n/\n1\n2\n\n/\n", {0, 0, -1}},
    {"1\n\n2", {0, 1, -1}},
    {"1\n/\n2", {0, 1, -1}},
    {"1\n \t\n2", {0, 1, -1}},
    {"1\n\n\n/\n\n2", {0, 1, -1}},
    {"1\n# c\n2", {0, 0, -1}},
    {"1\n\n# c\n2", {0, 1, -1}},
    {"1\n\n2\n3\n/ # the other\n4", {0, 1, 1, 2, -1}},
    {"1\r\n\r\n2\r\n", {0, 1, -1}},
    {"\xEF\xBB\xBF" "1\n", {0, -1}},
};

START_TEST(grouping)
{
    jaw_rows *rows;
    size_t n;
    int count = 0;
    ck_assert_int_eq(read_rows(groups[_i].text, JAW_MM, 1, 1, &rows), JAW_OK);
    const jaw_row *row = jaw_rows_get(rows, &n);
    while (groups[_i].group[count] >= 0)
        count++;
    ck_assert_uint_eq(n, (size_t)count);
    for (size_t i = 0; i < n; i++)
        ck_assert_int_eq(row[i].group, groups[_i].group[i]);
    jaw_rows_free(rows);
}
END_TEST

static const struct {
    const char *text;
    int min, max;
} wrong[] = {
    {"1\n", 2, 3},
    {"1 2 3 4\n", 2, 3},
    {"1 2 3 4 5 6 7\n", 2, 4},
    {"3,125 4,250", 2, 2},
    {"3,125,4,250", 2, 2},
    {"3,125 4", 2, 3}, /* as three numbers it would pass */
    {"1,,2", 2, 3},
    {"1,2,", 2, 3},
    {",1,2", 2, 3},
    {",", 1, 4},
    {"1;2", 2, 3},
    {"1 x", 2, 3},
    {"1 nan", 2, 3},
    {"1 2deg", 2, 3},
    {"1 1e400", 2, 3},
    {"1 2 /", 2, 3},
    {"/ 2", 1, 3},
    {"\xFF\xFE" "1", 1, 1},
};

START_TEST(mistakes)
{
    jaw_rows *rows;
    size_t n;
    ck_assert_int_eq(
        read_rows(wrong[_i].text, JAW_MM, wrong[_i].min, wrong[_i].max, &rows),
        JAW_ESYNTAX);
    ck_assert_ptr_nonnull(rows);
    jaw_rows_get(rows, &n);
    ck_assert_uint_eq(n, 0);
    jaw_rows_free(rows);
}
END_TEST

START_TEST(good_rows_beside_bad)
{
    jaw_rows *rows;
    size_t n;
    ck_assert_int_eq(read_rows("1 2\n1 x\n\n3 4\n", JAW_MM, 2, 2, &rows),
                     JAW_ESYNTAX);
    ck_assert_int_eq(jaw_rows_get(rows, &n)[1].group, 1);
    ck_assert_uint_eq(n, 2);
    jaw_rows_free(rows);
}
END_TEST

START_TEST(nothing)
{
    size_t n = 1;
    ck_assert_ptr_null(jaw_rows_get(NULL, &n));
    ck_assert_uint_eq(n, 0);
    jaw_rows_free(NULL);
}
END_TEST

TCase *rows_case(void)
{
    TCase *tc = tcase_create("rows");
    tcase_add_test(tc, all_ways_to_part);
    tcase_add_test(tc, units);
    tcase_add_loop_test(tc, grouping, 0, COUNT(groups));
    tcase_add_loop_test(tc, mistakes, 0, COUNT(wrong));
    tcase_add_test(tc, good_rows_beside_bad);
    tcase_add_test(tc, nothing);
    return tc;
}
