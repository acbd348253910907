/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of words.c: one slip of each kind (Damerau, Comm. ACM 7 (1964) 171),
 * and where it ends. */
#include "base_tests.h"

#include <jawline/base.h>

#include <stdlib.h>
#include <string.h>

static const char *const known[] = {"bore", "boss",  "edge",    "face",
                                    "slot", "web",   "pattern", "diameter",
                                    "tool", "title", "control"};

static const struct {
    const char *word, *nearest;
} words[] = {
    {"bore", "bore"},        /* itself */
    {"BORE", "bore"},        /* upper case is no slip */
    {"bre", "bore"},         /* one left out */
    {"boore", "bore"},       /* one too many */
    {"bire", "bore"},        /* one wrong */
    {"obre", "bore"},        /* two swapped */
    {"daimeter", "diameter"},
    {"diametre", "diameter"},
    {"dimeter", "diameter"},
    {"patern", "pattern"},
    {"controls", "control"},
    {"we", "web"},
    {"slto", "slot"},
    {"ttile", "title"},
    {"bo", NULL},            /* two of four are too many */
    {"hole", NULL},
    {"xyz", NULL},
    {"", NULL},
    {"diameter-of-the-thing", NULL},
};

START_TEST(nearest_word)
{
    const char *got = jaw_word_nearest(words[_i].word, known, COUNT(known));
    if (!words[_i].nearest)
        ck_assert_msg(!got, "%s: got %s", words[_i].word, got ? got : "");
    else
        ck_assert_pstr_eq(got, words[_i].nearest);
}
END_TEST

/* Both are one letter off: the first one stands. */
START_TEST(first_of_equals)
{
    static const char *const two[] = {"stop", "step"};
    ck_assert_pstr_eq(jaw_word_nearest("stup", two, 2), "stop");
}
END_TEST

START_TEST(none_known)
{
    ck_assert_ptr_null(jaw_word_nearest("bore", known, 0));
}
END_TEST

/* Sixty-four letters still count, sixty-five never do: the stack is bounded. */
START_TEST(long_words)
{
    char longest[65], longer[66], huge[5000];
    memset(longest, 'a', 64);
    longest[64] = '\0';
    memset(longer, 'a', 65);
    longer[65] = '\0';
    memset(huge, 'a', sizeof huge - 1);
    huge[sizeof huge - 1] = '\0';
    const char *const to_longest[] = {longest}, *const to_longer[] = {longer};
    ck_assert_ptr_eq(jaw_word_nearest(longest, to_longest, 1), longest);
    ck_assert_ptr_eq(jaw_word_nearest(longest + 1, to_longest, 1), longest);
    ck_assert_ptr_null(jaw_word_nearest(longer, to_longest, 1));
    ck_assert_ptr_null(jaw_word_nearest(longest, to_longer, 1));
    ck_assert_ptr_null(jaw_word_nearest(huge, to_longest, 1));
}
END_TEST

TCase *words_case(void)
{
    TCase *tc = tcase_create("words");
    tcase_add_loop_test(tc, nearest_word, 0, COUNT(words));
    tcase_add_test(tc, first_of_equals);
    tcase_add_test(tc, none_known);
    tcase_add_test(tc, long_words);
    return tc;
}
