/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of time.c: moments as text. */
#include "base_tests.h"

#include <jawline/base.h>

#include <string.h>

/* Seconds of 00:00 that day: IEEE Std 1003.1 (POSIX), "Seconds since the
 * Epoch" (from memory). */
static long long day(int year, int day_of_year)
{
    const long long y = year - 1900;

    return (day_of_year + (y - 70) * 365 + (y - 69) / 4 - (y - 1) / 100 +
            (y + 299) / 400) * 86400;
}

static const struct {
    int year, day, minute;
    const char *text;
} moments[] = {
    {1970, 0, 0, "1970-01-01 00:00"},
    {2000, 59, 1439, "2000-02-29 23:59"},
    {2026, 60, 495, "2026-03-02 08:15"},
    {2100, 59, 0, "2100-03-01 00:00"}, /* no leap year */
    {9999, 364, 1439, "9999-12-31 23:59"},
};

START_TEST(moment_as_text)
{
    const long long at = 1000 * (day(moments[_i].year, moments[_i].day) +
                                 60 * moments[_i].minute);
    char text[17];

    ck_assert_int_eq(jaw_time_write(at, text, sizeof text), JAW_OK);
    ck_assert_str_eq(text, moments[_i].text);
    /* to the end of its minute */
    ck_assert_int_eq(jaw_time_write(at + 59999, text, sizeof text), JAW_OK);
    ck_assert_str_eq(text, moments[_i].text);
}
END_TEST

START_TEST(moment_outside)
{
    const long long outside[] = {-1, -60000, 1000 * day(10000, 0),
                                 -0x7fffffffffffffff - 1, 0x7fffffffffffffff};

    for (int i = 0; i < COUNT(outside); i++) {
        char text[17] = "as it was";
        ck_assert_int_eq(jaw_time_write(outside[i], text, sizeof text),
                         JAW_EDOMAIN);
        ck_assert_str_eq(text, "");
        ck_assert_int_eq(jaw_time_write(outside[i], NULL, 0), JAW_EDOMAIN);
    }
}
END_TEST

/* Nothing is written beyond the size, and no piece of a moment. */
START_TEST(moment_without_room)
{
    for (size_t size = 0; size < 17; size++) {
        char text[20];
        memset(text, 'x', sizeof text);
        ck_assert_int_eq(jaw_time_write(0, text, size), JAW_ESIZE);
        ck_assert_int_eq(text[0], size > 0 ? '\0' : 'x');
        for (size_t i = size; i < sizeof text; i++)
            ck_assert_int_eq(text[i], 'x');
    }
}
END_TEST

TCase *time_case(void)
{
    TCase *tc = tcase_create("time");
    tcase_add_loop_test(tc, moment_as_text, 0, COUNT(moments));
    tcase_add_test(tc, moment_outside);
    tcase_add_test(tc, moment_without_room);
    return tc;
}
