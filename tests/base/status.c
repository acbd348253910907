/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of status.c and flags.c: every row of the lists in base.h. */
#include "base_tests.h"

#include <jawline/base.h>

#include <string.h>

static const struct {
    jaw_status status;
    int value;
    const char *text;
} statuses[] = {
#define ROW(name, value, text) {name, value, text},
    JAW_STATUS_LIST(ROW)
#undef ROW
};

START_TEST(status_has_its_text)
{
    ck_assert_int_eq(statuses[_i].status, statuses[_i].value);
    ck_assert_str_eq(jaw_status_text(statuses[_i].status), statuses[_i].text);
}
END_TEST

START_TEST(status_zero_is_good_and_the_rest_is_negative)
{
    ck_assert_int_eq(JAW_OK, 0);
    for (int i = 0; i < COUNT(statuses); i++) {
        ck_assert(statuses[i].value == 0 || statuses[i].value < 0);
        for (int j = 0; j < i; j++) {
            ck_assert_int_ne(statuses[i].value, statuses[j].value);
            ck_assert_str_ne(statuses[i].text, statuses[j].text);
        }
    }
}
END_TEST

START_TEST(status_that_does_not_exist_has_a_text)
{
    static const int none[] = {1, -19, -1000, 1000000};
    const char *text = jaw_status_text((jaw_status)none[_i]);
    ck_assert_ptr_nonnull(text);
    for (int i = 0; i < COUNT(statuses); i++)
        ck_assert_str_ne(text, statuses[i].text);
}
END_TEST

static const struct {
    unsigned flag;
    int bit;
    const char *word, *text;
    bool doubt;
} flags[] = {
#define ROW(name, bit, word, text, doubt) {name, bit, word, text, doubt},
    JAW_FLAG_LIST(ROW)
#undef ROW
};

START_TEST(flag_has_its_row)
{
    ck_assert_uint_eq(flags[_i].flag, 1u << flags[_i].bit);
    ck_assert_str_eq(jaw_flag_word(flags[_i].flag), flags[_i].word);
    ck_assert_str_eq(jaw_flag_text(flags[_i].flag), flags[_i].text);
    ck_assert(jaw_flag_is_doubt(flags[_i].flag) == flags[_i].doubt);
}
END_TEST

START_TEST(flags_differ)
{
    for (int i = 0; i < COUNT(flags); i++)
        for (int j = 0; j < i; j++) {
            ck_assert_uint_ne(flags[i].flag, flags[j].flag);
            ck_assert_str_ne(flags[i].word, flags[j].word);
            ck_assert_str_ne(flags[i].text, flags[j].text);
        }
}
END_TEST

/* Words are read by programs: lower case and hyphens, like any JSON name. */
START_TEST(flag_words_are_plain)
{
    const char *word = flags[_i].word;
    ck_assert_uint_eq(strspn(word, "abcdefghijklmnopqrstuvwxyz-"),
                      strlen(word));
}
END_TEST

START_TEST(flag_that_does_not_exist)
{
    static const unsigned none[] = {0, 3, 1u << 31, JAW_NO_CHECK | JAW_WEAK,
                                    ~0u};
    ck_assert_ptr_null(jaw_flag_word(none[_i]));
    ck_assert_ptr_null(jaw_flag_text(none[_i]));
    ck_assert(!jaw_flag_is_doubt(none[_i]));
}
END_TEST

START_TEST(flags_doubts_keeps_the_doubts)
{
    unsigned all = 0, doubts = 0;
    for (int i = 0; i < COUNT(flags); i++) {
        all |= flags[i].flag;
        if (flags[i].doubt)
            doubts |= flags[i].flag;
    }
    ck_assert_uint_ne(doubts, 0);
    ck_assert_uint_ne(doubts, all);
    ck_assert_uint_eq(jaw_flags_doubts(all), doubts);
    ck_assert_uint_eq(jaw_flags_doubts(~0u), doubts);
    ck_assert_uint_eq(jaw_flags_doubts(0), 0);
    ck_assert_uint_eq(jaw_flags_doubts(JAW_NO_CHECK), 0);
    ck_assert_uint_eq(jaw_flags_doubts(JAW_NO_CHECK | JAW_RESIDUAL),
                      JAW_RESIDUAL);
}
END_TEST

TCase *status_case(void)
{
    TCase *tc = tcase_create("status");
    tcase_add_loop_test(tc, status_has_its_text, 0, COUNT(statuses));
    tcase_add_test(tc, status_zero_is_good_and_the_rest_is_negative);
    tcase_add_loop_test(tc, status_that_does_not_exist_has_a_text, 0, 4);
    return tc;
}

TCase *flags_case(void)
{
    TCase *tc = tcase_create("flags");
    tcase_add_loop_test(tc, flag_has_its_row, 0, COUNT(flags));
    tcase_add_test(tc, flags_differ);
    tcase_add_loop_test(tc, flag_words_are_plain, 0, COUNT(flags));
    tcase_add_loop_test(tc, flag_that_does_not_exist, 0, 5);
    tcase_add_test(tc, flags_doubts_keeps_the_doubts);
    return tc;
}
