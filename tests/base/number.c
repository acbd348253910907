/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of number.c.  What strtod makes of the same text in the C locale is
 * the measure for values; the texts themselves are plain. */
#include "base_tests.h"

#include "tests/near.h"

#include <jawline/base.h>

#include <float.h>
#include <locale.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct {
    const char *text;
    double value;
    size_t used;
} good[] = {
    {"0", 0, 1},
    {"7", 7, 1},
    {"-3.1120", -3.112, 7},
    {"+0.5", 0.5, 4},
    {".5", 0.5, 2},
    {"-.25", -0.25, 4},
    {"5.", 5, 2},
    {"007.50", 7.5, 6},
    {"1e3", 1000, 3},
    {"1E+3", 1000, 4},
    {"12.5e-1", 1.25, 7},
    {".5e1", 5, 4},
    {"1e-400", 0, 6},
    {"0e400", 0, 5},
    {"0e99999999999999999999", 0, 22},
    {"1e-99999999999999999999", 0, 23},
    {"1.7976931348623157e308", DBL_MAX, 22},
    {"4.9e-324", 4.9406564584124654e-324, 8},
    /* what follows belongs to somebody else */
    {"25.4mm", 25.4, 4},
    {"1in", 1, 1},
    {"0.02deg", 0.02, 4},
    {"1e", 1, 1},
    {"1e+", 1, 1},
    {"1em", 1, 1},
    {"1exact", 1, 1},
    {"2 3", 2, 1},
    {"3x2", 3, 1},
    {"10x2", 10, 2},
    {"1-2", 1, 1},
    {"1, 2", 1, 1},
    {"1,5", 1, 1}, /* a comma may separate: the caller knows */
    {"1,000.5", 1, 1},
    {"1.000,5", 1, 5},
    {"1,", 1, 1},
    {"0x", 0, 1},
    {"4\"", 4, 1},
};

START_TEST(reads)
{
    double value = 99;
    size_t used = 99;
    const char *s = good[_i].text;
    ck_assert_int_eq(jaw_number_read(s, strlen(s), &value, &used), JAW_OK);
    near(value, good[_i].value, 0, s);
    ck_assert_uint_eq(used, good[_i].used);
}
END_TEST

static const struct {
    const char *text;
    jaw_status status;
} bad[] = {
    {"", JAW_ESYNTAX},        {"-", JAW_ESYNTAX},
    {"+", JAW_ESYNTAX},       {".", JAW_ESYNTAX},
    {"-.", JAW_ESYNTAX},      {".e1", JAW_ESYNTAX},
    {"e1", JAW_ESYNTAX},      {"x", JAW_ESYNTAX},
    {" 1", JAW_ESYNTAX},      {"\t1", JAW_ESYNTAX},
    {"--1", JAW_ESYNTAX},     {"+-1", JAW_ESYNTAX},
    {"- 1", JAW_ESYNTAX},     {",5", JAW_ESYNTAX},
    {"nan", JAW_ESYNTAX},     {"NAN", JAW_ESYNTAX},
    {"-nan", JAW_ESYNTAX},    {"inf", JAW_ESYNTAX},
    {"-inf", JAW_ESYNTAX},    {"Infinity", JAW_ESYNTAX},
    {"0x1F", JAW_ESYNTAX},    {"0X10", JAW_ESYNTAX},
    {"-0x1p3", JAW_ESYNTAX},  {"+0x1", JAW_ESYNTAX},
    {"1.2.3", JAW_ESYNTAX},   {"1..2", JAW_ESYNTAX},
    {"1e2.5", JAW_ESYNTAX},   {"\xd9\xa1", JAW_ESYNTAX},
    {"1e400", JAW_ENOTFINITE},
    {"-1e400", JAW_ENOTFINITE},
    {"1.7976931348623159e308", JAW_ENOTFINITE},
    {"1e99999999999999999999", JAW_ENOTFINITE},
};

START_TEST(reads_not)
{
    double value = 99;
    size_t used = 99;
    const char *s = bad[_i].text;
    ck_assert_int_eq(jaw_number_read(s, strlen(s), &value, &used),
                     bad[_i].status);
    ck_assert_msg(isnan(value), "%s", s);
    ck_assert_uint_eq(used, 0);
}
END_TEST

START_TEST(minus_nothing_is_nothing)
{
    double value = 99;
    size_t used;
    ck_assert_int_eq(jaw_number_read("-0.0", 4, &value, &used), JAW_OK);
    near(value, 0, 0, "-0.0");
}
END_TEST

/* The text need not end in NUL: len ends it, whatever stands behind. */
START_TEST(reads_no_farther_than_len)
{
    static const struct {
        size_t len;
        double value;
    } cut[] = {{1, 1}, {2, 1}, {3, 1.2}, {4, 1.23}, {5, 1.23}, {6, 1.23},
               {7, 12.3}};
    double value;
    size_t used;
    ck_assert_int_eq(jaw_number_read("1.23e+19", cut[_i].len, &value, &used),
                     JAW_OK);
    near(value, cut[_i].value, 0, "cut");
}
END_TEST

START_TEST(every_byte_but_digits_stops)
{
    for (int c = 0; c < 256; c++) {
        char text[] = {'4', (char)c, '\0'};
        double value;
        size_t used;
        jaw_status status = jaw_number_read(text, 2, &value, &used);
        ck_assert_int_eq(status, JAW_OK);
        ck_assert_uint_eq(used, (c >= '0' && c <= '9') || c == '.' ? 2 : 1);
    }
}
END_TEST

static uint64_t random_state = 20250921;

/* splitmix64: Steele, Lea & Flood, OOPSLA 2014, fig. 17. */
static uint64_t random_bits(void)
{
    uint64_t z = random_state += 0x9e3779b97f4a7c15u;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

static double double_from_bits(uint64_t bits)
{
    double value;
    memcpy(&value, &bits, sizeof value);
    return value;
}

/* printf's text, whatever the locale, with a point. */
static void c_text(char *text, size_t size, double value)
{
    snprintf(text, size, "%.17g", value);
    for (char *c = text; *c; c++)
        if (*c == ',')
            *c = '.';
}

/* 17 significant digits name a double (IEEE 754-2019, 5.12.2), so a million
 * of all sizes must come back to the last bit. */
START_TEST(a_million_come_back)
{
    for (int i = 0; i < 1000000; i++) {
        double want = double_from_bits(random_bits()), got;
        char text[40];
        size_t used;
        if (!isfinite(want))
            continue;
        c_text(text, sizeof text, want);
        jaw_status status = jaw_number_read(text, strlen(text), &got, &used);
        if (status != JAW_OK || got != want || used != strlen(text))
            ck_abort_msg("%s came back as %.17g, status %d", text, got, status);
    }
}
END_TEST

/* Values of the size that a machine has, as the sheet prints them. */
START_TEST(written_and_read_back)
{
    for (int i = 0; i < 200000; i++) {
        double want = (double)(int64_t)(random_bits() % 20000000) - 1e7, got;
        int decimals = (int)(random_bits() % 8);
        for (int d = 0; d < decimals; d++)
            want /= 10;
        char text[40];
        size_t used;
        if (jaw_number_write(want, decimals, text, sizeof text) != JAW_OK ||
            jaw_number_read(text, strlen(text), &got, &used) != JAW_OK)
            ck_abort_msg("%.17g with %d decimals", want, decimals);
        near(got, want, fabs(want) * 8 * DBL_EPSILON, text);
    }
}
END_TEST

/* Halfway cases that only the last of many digits decides: the middle between
 * 1 and the next double has 54 significant digits. */
START_TEST(the_last_digit_decides)
{
    static const char half[] =
        "1.00000000000000011102230246251565404236316680908203125";
    double value;
    size_t used;
    char text[3000];
    ck_assert_int_eq(jaw_number_read(half, strlen(half), &value, &used),
                     JAW_OK);
    near(value, 1, 0, "a half goes to the even one");
    memset(text, '0', sizeof text);
    memcpy(text, half, strlen(half));
    ck_assert_int_eq(jaw_number_read(text, sizeof text, &value, &used), JAW_OK);
    near(value, 1, 0, "zeros behind");
    ck_assert_uint_eq(used, sizeof text);
    text[sizeof text - 1] = '1';
    ck_assert_int_eq(jaw_number_read(text, sizeof text, &value, &used), JAW_OK);
    near(value, 1 + DBL_EPSILON, 0, "a one far behind");
}
END_TEST

START_TEST(many_digits_keep_their_size)
{
    char text[2000];
    double value;
    size_t used;
    memset(text, '0', sizeof text); /* 1 and 1993 zeros */
    text[0] = '1';
    memcpy(text + sizeof text - 6, "e-1993", 6);
    ck_assert_int_eq(jaw_number_read(text, sizeof text, &value, &used), JAW_OK);
    near(value, 1, 0, "1 with many zeros");
    memset(text, '0', sizeof text); /* 0.000...01, the 1993rd decimal */
    text[1] = '.';
    memcpy(text + sizeof text - 6, "1e1993", 6);
    ck_assert_int_eq(jaw_number_read(text, sizeof text, &value, &used), JAW_OK);
    near(value, 1, 0, "many zeros, then 1");
    memset(text, '9', sizeof text);
    ck_assert_int_eq(jaw_number_read(text, sizeof text, &value, &used),
                     JAW_ENOTFINITE);
}
END_TEST

static const struct {
    double value;
    int decimals;
    const char *text;
} written[] = {
    {0, 0, "0"},
    {0, 3, "0.000"},
    {-0.0, 0, "0"},
    {-0.0, 3, "0.000"},
    {-0.0004, 3, "0.000"},
    {-0.4, 0, "0"},
    {-0.0006, 3, "-0.001"},
    {-0.6, 0, "-1"},
    {1.5, 1, "1.5"},
    {-3.112, 4, "-3.1120"},
    {25.4, 0, "25"},
    {1234567.891, 2, "1234567.89"},
    {-1234567.891, 2, "-1234567.89"},
    {0.1, 17, "0.10000000000000001"},
    {9.9999, 3, "10.000"},
    {-9.9999, 3, "-10.000"},
    {1e15, 1, "1000000000000000.0"},
    {4.9e-324, 17, "0.00000000000000000"},
    {-4.9e-324, 17, "0.00000000000000000"},
    {NAN, 3, "?"},
    {-NAN, 0, "?"},
    {INFINITY, 3, "?"},
    {-INFINITY, 3, "?"},
};

START_TEST(writes)
{
    char text[40];
    ck_assert_int_eq(jaw_number_write(written[_i].value, written[_i].decimals,
                                      text, sizeof text),
                     JAW_OK);
    ck_assert_str_eq(text, written[_i].text);
}
END_TEST

START_TEST(writes_the_largest)
{
    char text[400];
    ck_assert_int_eq(jaw_number_write(-DBL_MAX, 17, text, sizeof text), JAW_OK);
    ck_assert_uint_eq(strlen(text), 1 + 309 + 1 + 17);
    ck_assert_ptr_eq(strchr(text, '.'), text + 310);
    ck_assert_int_eq(strncmp(text, "-17976931348623157", 18), 0);
}
END_TEST

/* As the header promises: 40 is enough below 1e18, at any decimals. */
START_TEST(forty_is_enough)
{
    char text[40];
    ck_assert_int_eq(
        jaw_number_write(-999999999999999872.0, 17, text, sizeof text), JAW_OK);
    ck_assert_uint_eq(strlen(text), 1 + 18 + 1 + 17);
}
END_TEST

START_TEST(decimals_out_of_range)
{
    static const int none[] = {-1, 18, 1000, -1000};
    char text[40] = "before";
    ck_assert_int_eq(jaw_number_write(1, none[_i], text, sizeof text),
                     JAW_EDOMAIN);
    ck_assert_str_eq(text, "");
}
END_TEST

/* Part of a number is a believable number, so too small a text holds none. */
START_TEST(text_too_small)
{
    char text[16];
    for (size_t size = 0; size < 8; size++) {
        memset(text, '#', sizeof text);
        ck_assert_int_eq(jaw_number_write(-12.3456, 4, text, size), JAW_ESIZE);
        ck_assert_int_eq(text[0], size > 0 ? '\0' : '#');
        ck_assert_int_eq(text[size > 0 ? size : 1], '#');
    }
    ck_assert_int_eq(jaw_number_write(-12.3456, 4, text, 9), JAW_OK);
    ck_assert_str_eq(text, "-12.3456");
    ck_assert_int_eq(jaw_number_write(NAN, 4, text, 1), JAW_ESIZE);
    ck_assert_int_eq(jaw_number_write(-0.0, 1, text, 4), JAW_OK);
    ck_assert_int_eq(jaw_number_write(1, 1, NULL, 0), JAW_ESIZE);
}
END_TEST

/* ------------------------------------------------------------------- steps */

static const struct {
    double value, step, want;
} rounded[] = {
    {0, 0.001, 0},
    {-0.0004, 0.001, 0},
    {0.0005, 0.001, 0.001},
    {-0.0005, 0.001, -0.001},
    {0.00049999, 0.001, 0},
    {1.2345, 0.001, 1.235},
    {-1.2345, 0.001, -1.235},
    {0.00015, 0.0001, 0.0002}, /* 1.4999999999999998 in doubles */
    {0.15, 0.1, 0.2},
    {0.25, 0.1, 0.3},
    {0.35, 0.1, 0.4},
    {-0.35, 0.1, -0.4},
    {2.675, 0.01, 2.68}, /* 2.67499999999999982 in doubles */
    {1.005, 0.01, 1.01},
    {2.5, 1, 3},
    {-2.5, 1, -3},
    {0.5, 1, 1},
    {7, 2, 8},
    {5, 10, 10},
    {4.9999, 10, 0},
    {0.3, 0.1, 0.3},
    {1.23449, 0.0005, 1.2345},
    {1.23424, 0.0005, 1.234},
    {10, 3, 9},
    {10.5, 3, 12},
    {12.7, 0.00254, 12.7}, /* 0.0001 in */
    {0.00381, 0.00254, 0.00508},
    {1e300, 0.001, 1e300},
    {1.2345678, 0, 1.2345678},
    {1, 1e300, 0},
};

START_TEST(rounds_to_step)
{
    double got = jaw_round_to_step(rounded[_i].value, rounded[_i].step);
    near(got, rounded[_i].want, 2 * DBL_EPSILON * fabs(rounded[_i].want),
         "rounded");
    ck_assert(!(got == 0 && signbit(got)));
}
END_TEST

/* A decimal step gives the very double that its text reads as. */
START_TEST(decimal_steps_are_exact)
{
    static const struct {
        double step;
        int decimals;
    } steps[] = {{0.1, 1}, {0.01, 2}, {0.001, 3}, {0.0001, 4}, {0.0005, 4},
                 {0.002, 3}, {0.00005, 5}, {0.025, 3}};
    for (int i = 0; i < 200000; i++) {
        double value = (double)(int64_t)(random_bits() % 2000000) / 777 - 1000;
        double got = jaw_round_to_step(value, steps[_i].step), read;
        size_t used;
        char text[40];
        near(got, value, steps[_i].step * (0.5 + 1e-9), "distance");
        jaw_number_write(got, steps[_i].decimals, text, sizeof text);
        jaw_number_read(text, strlen(text), &read, &used);
        near(got, read, 0, text);
        near(jaw_round_to_step(got, steps[_i].step), got, 0, "twice");
    }
}
END_TEST

START_TEST(step_is_odd)
{
    static const double odd[] = {-0.001, -INFINITY, INFINITY, NAN};
    ck_assert(isnan(jaw_round_to_step(1, odd[_i])));
    ck_assert(isnan(jaw_round_to_step(NAN, 0.001)));
    ck_assert(isnan(jaw_round_to_step(NAN, 0)));
}
END_TEST

static const struct {
    double step;
    int decimals;
} shown[] = {
    {1, 0},       {10, 0},      {25, 0},     {0.5, 1},       {0.1, 1},
    {0.2, 1},     {0.25, 2},    {0.01, 2},   {0.005, 3},     {0.001, 3},
    {0.0001, 4},  {0.0005, 4},  {0.00254, 5}, {1e-9, 9},     {2e-9, 9},
    {1e-10, 9},   {1e-300, 9},  {1.0 / 3, 9}, {0.00254 / 25.4, 4},
    {12.5, 1},    {2.5e-7, 8},  {1.25e-9, 9}, {1e20, 0},
};

START_TEST(step_shown)
{
    ck_assert_int_eq(jaw_step_decimals(shown[_i].step), shown[_i].decimals);
}
END_TEST

/* Nothing is hidden when there is no step: all nine are shown. */
START_TEST(no_step_hides_nothing)
{
    static const double odd[] = {0, -0.001, NAN};
    ck_assert_int_eq(jaw_step_decimals(odd[_i]), 9);
}
END_TEST

TCase *number_case(void)
{
    TCase *tc = tcase_create("number");
    tcase_set_timeout(tc, 60);
    tcase_add_loop_test(tc, reads, 0, COUNT(good));
    tcase_add_loop_test(tc, reads_not, 0, COUNT(bad));
    tcase_add_test(tc, minus_nothing_is_nothing);
    tcase_add_loop_test(tc, reads_no_farther_than_len, 0, 7);
    tcase_add_test(tc, every_byte_but_digits_stops);
    tcase_add_test(tc, a_million_come_back);
    tcase_add_test(tc, written_and_read_back);
    tcase_add_test(tc, the_last_digit_decides);
    tcase_add_test(tc, many_digits_keep_their_size);
    tcase_add_loop_test(tc, writes, 0, COUNT(written));
    tcase_add_test(tc, writes_the_largest);
    tcase_add_test(tc, forty_is_enough);
    tcase_add_loop_test(tc, decimals_out_of_range, 0, 4);
    tcase_add_test(tc, text_too_small);
    return tc;
}

TCase *step_case(void)
{
    TCase *tc = tcase_create("step");
    tcase_set_timeout(tc, 60);
    tcase_add_loop_test(tc, rounds_to_step, 0, COUNT(rounded));
    tcase_add_loop_test(tc, decimal_steps_are_exact, 0, 8);
    tcase_add_loop_test(tc, step_is_odd, 0, 4);
    tcase_add_loop_test(tc, step_shown, 0, COUNT(shown));
    tcase_add_loop_test(tc, no_step_hides_nothing, 0, 3);
    return tc;
}
