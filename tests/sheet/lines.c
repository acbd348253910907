/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of lines.c. */
#include "sheet_tests.h"

#include "src/sheet/lines.h"

#include <string.h>

/* Line ends, and the bytes of each line. */
static const struct {
    const char *text;
    size_t len;
    const char *line[4]; /* NULL after the last */
} ends[] = {
    {"", 0, {NULL}},
    {"a", 1, {"a"}},
    {"a\n", 2, {"a"}},
    {"a\nb", 3, {"a", "b"}},
    {"a\r\nb\r\n", 6, {"a", "b"}},
    {"a\rb\r", 4, {"a", "b"}},
    {"a\r\rb", 4, {"a", "", "b"}},
    {"a\n\rb", 4, {"a", "", "b"}},
    {"\n", 1, {""}},
    {"\xEF\xBB\xBF" "a", 4, {"a"}},
    {"\xEF\xBB\xBF", 3, {NULL}},
    {"\xEF\xBB", 2, {"\xEF\xBB"}},
};

START_TEST(line_ends)
{
    jaw__lines lines = jaw__lines_start(ends[_i].text, ends[_i].len);
    jaw__line line;
    int n = 0;
    for (; jaw__lines_next(&lines, &line); n++) {
        ck_assert_ptr_nonnull(ends[_i].line[n]);
        ck_assert_uint_eq(line.len, strlen(ends[_i].line[n]));
        ck_assert_int_eq(memcmp(line.text, ends[_i].line[n], line.len), 0);
        ck_assert_int_eq(line.number, n + 1);
    }
    ck_assert_ptr_null(ends[_i].line[n]);
}
END_TEST

/* Unicode 15, table 3-7, and what stands just outside of its ranges. */
static const struct {
    const char *bytes;
    size_t want;
    bool valid;
} chars[] = {
    {"a", 1, true},
    {"\x7F", 1, true},
    {"\x80", 1, false},
    {"\xBF", 1, false},
    {"\xC1\xBF", 1, false},
    {"\xC2\x80", 2, true},
    {"\xDF\xBF", 2, true},
    {"\xC2", 1, false},
    {"\xC2\x41", 1, false},
    {"\xE0\x9F\xBF", 1, false},
    {"\xE0\xA0\x80", 3, true},
    {"\xED\x9F\xBF", 3, true},
    {"\xED\xA0\x80", 1, false},
    {"\xEF\xBF\xBF", 3, true},
    {"\xF0\x8F\xBF\xBF", 1, false},
    {"\xF0\x90\x80\x80", 4, true},
    {"\xF4\x8F\xBF\xBF", 4, true},
    {"\xF4\x90\x80\x80", 1, false},
    {"\xF5\x80\x80\x80", 1, false},
    {"\xFF", 1, false},
};

START_TEST(characters)
{
    bool valid;
    size_t bytes =
        jaw__char_bytes(chars[_i].bytes, strlen(chars[_i].bytes), &valid);
    ck_assert_uint_eq(bytes, chars[_i].want);
    ck_assert_int_eq(valid, chars[_i].valid);
}
END_TEST

static const struct {
    const char *line;
    size_t len;
    jaw__bad_char bad;
    int column;
} bad[] = {
    {"x 1\t2", 5, JAW__CHAR_GOOD, 0},
    {"x \0", 3, JAW__CHAR_NUL, 3},
    {"x # \0", 5, JAW__CHAR_GOOD, 0},
    {"x \"#\0", 5, JAW__CHAR_NUL, 5},
    {"x\"#\0", 4, JAW__CHAR_GOOD, 0}, /* no quote opens within a word */
    {"\xC3\xA4\x01", 3, JAW__CHAR_CONTROL, 2},
    {"\xC2\x85", 2, JAW__CHAR_CONTROL, 1},
    {"a\x7F", 2, JAW__CHAR_CONTROL, 2},
    {"a\xE4", 2, JAW__CHAR_NOT_UTF8, 2},
    {"a\xC2\xA0", 3, JAW__CHAR_BLANK, 2},
    {"a\xE2\x80\x87", 4, JAW__CHAR_BLANK, 2},
    {"a\xE2\x80\xAF", 4, JAW__CHAR_BLANK, 2},
    {"a\xE3\x80\x80", 4, JAW__CHAR_BLANK, 2},
    {"a\xEF\xBB\xBF", 4, JAW__CHAR_BLANK, 2},
    {"a\xE2\x80\x93", 4, JAW__CHAR_GOOD, 0},
};

START_TEST(bad_characters)
{
    jaw__line line = {bad[_i].line, bad[_i].len, 1, 0};
    int column;
    ck_assert_int_eq(jaw__line_check(&line, &column), bad[_i].bad);
    if (bad[_i].bad != JAW__CHAR_GOOD)
        ck_assert_int_eq(column, bad[_i].column);
}
END_TEST

START_TEST(columns_count_characters)
{
    static const char text[] = "\tm\xC3\xB6rk \"\xE2\x88\x92 x\" y#z";
    jaw__line line = {text, sizeof text - 1, 7, 0};
    jaw__cursor c = jaw__cursor_start(&line);
    jaw__token t = jaw__token_next(&c);
    ck_assert_int_eq(t.kind, JAW__WORD);
    ck_assert_int_eq(t.place.line, 7);
    ck_assert_int_eq(t.place.column, 2);
    ck_assert_uint_eq(t.len, 5);
    t = jaw__token_next(&c);
    ck_assert_int_eq(t.kind, JAW__TEXT_TOKEN);
    ck_assert_int_eq(t.place.column, 7);
    ck_assert_uint_eq(t.len, 5);
    t = jaw__token_next(&c);
    ck_assert(jaw__token_is(&t, "y"));
    ck_assert_int_eq(t.place.column, 13);
    t = jaw__token_next(&c);
    ck_assert_int_eq(t.kind, JAW__END);
    ck_assert_int_eq(t.place.column, 14);
}
END_TEST

START_TEST(rest_of_a_line)
{
    static const char *const text[] = {"  a b  # c", "  \"a b\" c", "  # a",
                                       "  \"a b"};
    static const jaw__token_kind kind[] = {JAW__WORD, JAW__TEXT_TOKEN, JAW__END,
                                           JAW__OPEN_TEXT};
    jaw__line line = {text[_i], strlen(text[_i]), 1, 0};
    jaw__cursor c = jaw__cursor_start(&line);
    jaw__token t = jaw__token_rest(&c);
    ck_assert_int_eq(t.kind, kind[_i]);
    ck_assert_uint_eq(t.len, kind[_i] == JAW__END ? 0 : 3);
}
END_TEST

START_TEST(two_bytes_a_character)
{
    ck_assert(jaw__looks_utf16("\xFF\xFEt\0", 4));
    ck_assert(jaw__looks_utf16("\xFE\xFF\0t", 4));
    ck_assert(jaw__looks_utf16("t\0i\0", 4));
    ck_assert(jaw__looks_utf16("\0t\0i", 4));
    ck_assert(!jaw__looks_utf16("titl", 4));
    ck_assert(!jaw__looks_utf16("t\0\0\0", 4));
    ck_assert(!jaw__looks_utf16("t\0", 2));
    ck_assert(!jaw__looks_utf16("", 0));
}
END_TEST

TCase *lines_case(void)
{
    TCase *tc = tcase_create("lines");
    tcase_add_loop_test(tc, line_ends, 0, COUNT(ends));
    tcase_add_loop_test(tc, characters, 0, COUNT(chars));
    tcase_add_loop_test(tc, bad_characters, 0, COUNT(bad));
    tcase_add_test(tc, columns_count_characters);
    tcase_add_loop_test(tc, rest_of_a_line, 0, 4);
    tcase_add_test(tc, two_bytes_a_character);
    return tc;
}
