/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of quantity.c. */
#include "sheet_tests.h"

#include "src/sheet/quantity.h"
#include "tests/near.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct {
    const char *text;
    double number;
    jaw__suffix suffix;
} good[] = {
    {"0", 0, JAW__BARE},
    {"-3.1120", -3.112, JAW__BARE},
    {"+.5", .5, JAW__BARE},
    {"5.", 5, JAW__BARE},
    {"1e3", 1000, JAW__BARE},
    {"25.4mm", 25.4, JAW__MM},
    {"1in", 1, JAW__INCH},
    {"1e1in", 10, JAW__INCH},
    {"0.02deg", 0.02, JAW__DEG},
    {"-1rad", -1, JAW__RAD},
    {"123456789012345", 123456789012345, JAW__BARE},
    {"0.1234567890123456789", 0.1234567890123456789, JAW__BARE},
};

START_TEST(numbers)
{
    jaw__quantity q =
        jaw__quantity_read(good[_i].text, strlen(good[_i].text));
    ck_assert_int_eq(q.trouble, JAW__NO_TROUBLE);
    ck_assert_int_eq(q.suffix, good[_i].suffix);
    near(q.number, good[_i].number, 0, good[_i].text);
}
END_TEST

static const struct {
    const char *text;
    jaw__trouble trouble;
    const char *cured;
} troubles[] = {
    {"", JAW__NOT_A_NUMBER, ""},
    {"abc", JAW__NOT_A_NUMBER, ""},
    {"0x1F", JAW__NOT_A_NUMBER, ""},
    {"nan", JAW__NOT_FINITE, ""},
    {"-Inf", JAW__NOT_FINITE, ""},
    {"+INFINITY", JAW__NOT_FINITE, ""},
    {"1e400", JAW__TOO_LARGE, ""},
    {"3,125", JAW__DECIMAL_COMMA, "3.125"},
    {",5", JAW__DECIMAL_COMMA, ".5"},
    {"-3,125mm", JAW__DECIMAL_COMMA, "-3.125mm"},
    {"1,234.5", JAW__LOOSE_COMMA, ""},
    {"3.125,", JAW__LOOSE_COMMA, ""},
    {"3.1,-2", JAW__LOOSE_COMMA, ""},
    {"1;2", JAW__SEMICOLON, ""},
    {"1,5;2", JAW__SEMICOLON, ""},
    {"\xE2\x88\x92" "3.5", JAW__TYPED_MINUS, "-3.5"},
    {"\xE2\x80\x93" "3.5mm", JAW__TYPED_MINUS, "-3.5mm"},
    {"\xE2\x80\x94" "3,5", JAW__TYPED_MINUS, "-3.5"},
    {"1e\xE2\x88\x92" "3", JAW__TYPED_MINUS, "1e-3"},
    {"0.02\xC2\xB0", JAW__DEGREE_SIGN, "0.02deg"},
    {"0.02\xC2\xBA", JAW__DEGREE_SIGN, "0.02deg"},
    {"0.2\"", JAW__INCH_MARK, "0.2in"},
    {"0.2''", JAW__INCH_MARK, "0.2in"},
    {"0.2\xE2\x80\xB3", JAW__INCH_MARK, "0.2in"},
    {"0.2\xE2\x80\x9D", JAW__INCH_MARK, "0.2in"},
    {"3/8", JAW__FRACTION, "0.375"},
    {"-3/8in", JAW__FRACTION, "-0.375in"},
    {"6/2", JAW__FRACTION, "3.0"},
    {"3/0", JAW__ODD_UNIT, ""},
    {"1.5-3.1120", JAW__TWO_NUMBERS, "1.5 -3.1120"},
    {"1.5+3mm", JAW__TWO_NUMBERS, "1.5 +3mm"},
    {"1.5\xE2\x88\x92" "3", JAW__TWO_NUMBERS, "1.5 -3"},
    {"1.2.3", JAW__TWO_NUMBERS, ""},
    {"-", JAW__NO_DIGITS, ""},
    {".", JAW__NO_DIGITS, ""},
    {"--", JAW__NO_DIGITS, ""},
    {"25.4cm", JAW__ODD_UNIT, ""},
    {"1inch", JAW__ODD_UNIT, "1in"},
    {"1inches", JAW__ODD_UNIT, "1in"},
    {"1MM", JAW__ODD_UNIT, "1mm"},
    {"2degrees", JAW__ODD_UNIT, "2deg"},
    {"1e", JAW__ODD_UNIT, ""},
};

START_TEST(what_was_meant)
{
    const char *text = troubles[_i].text;
    jaw__quantity q = jaw__quantity_read(text, strlen(text));
    ck_assert_msg(q.trouble == troubles[_i].trouble, "%s: %d", text,
                  q.trouble);
    ck_assert_msg(strcmp(q.cured, troubles[_i].cured) == 0, "%s: '%s'", text,
                  q.cured);
    ck_assert(isnan(q.number));
}
END_TEST

START_TEST(very_long)
{
    char text[5000];
    memset(text, '7', sizeof text);
    jaw__quantity q = jaw__quantity_read(text, sizeof text);
    ck_assert_int_eq(q.trouble, JAW__TOO_LARGE);
    memset(text, 'x', sizeof text);
    text[0] = '1';
    q = jaw__quantity_read(text, sizeof text);
    ck_assert_int_eq(q.trouble, JAW__ODD_UNIT);
    text[1] = ',';
    text[2] = '5';
    q = jaw__quantity_read(text, sizeof text);
    ck_assert_int_eq(q.trouble, JAW__LOOSE_COMMA);
    ck_assert_str_eq(q.cured, "");
}
END_TEST

/* The short way gives the double that the C library gives, which rounds
 * right: all counts of digits before and behind the point. */
START_TEST(short_way_rounds_right)
{
    unsigned state = 12345;
    for (int i = 0; i < 200000; i++) {
        char text[40];
        int digits = 1 + i % 16, point = i / 16 % (digits + 1), n = 0;
        for (int k = 0; k < digits; k++) {
            if (k == point)
                text[n++] = '.';
            state = state * 1103515245u + 12345u;
            text[n++] = (char)('0' + (state >> 16) % 10);
        }
        text[n] = '\0';
        jaw__quantity q = jaw__quantity_read(text, (size_t)n);
        near(q.number, strtod(text, NULL), 0, text);
    }
}
END_TEST

START_TEST(like_a_number)
{
    static const char *const yes[] = {"1", "-x", "+", ".", ",5", "nan", "INF",
                                      ("\xE2\x88\x92" "x")};
    static const char *const no[] = {"x", "/", "\"", "nano", "infin", "mm",
                                     ("\xC2\xB0" "1")};
    for (int i = 0; i < COUNT(yes); i++)
        ck_assert_msg(jaw__number_like(yes[i], strlen(yes[i])), "%s", yes[i]);
    for (int i = 0; i < COUNT(no); i++)
        ck_assert_msg(!jaw__number_like(no[i], strlen(no[i])), "%s", no[i]);
    ck_assert(!jaw__number_like("", 0));
    ck_assert(!jaw__number_like("\0", 1));
}
END_TEST

TCase *quantity_case(void)
{
    TCase *tc = tcase_create("quantity");
    tcase_add_loop_test(tc, numbers, 0, COUNT(good));
    tcase_add_loop_test(tc, what_was_meant, 0, COUNT(troubles));
    tcase_add_test(tc, very_long);
    tcase_add_test(tc, short_way_rounds_right);
    tcase_add_test(tc, like_a_number);
    return tc;
}
