/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What can not be compared, and what the words are. */
#include "readback_tests.h"

START_TEST(not_compared)
{
    jaw_readback_value v[2] = {register_of("G54", "X", JAW_MM, 0.001, NOT),
                               register_of("G54", "Y", JAW_MM, 0.001, 3)};
    jaw_readback_found f[2];

    v[0].shown = 5;
    ck_assert_int_eq(jaw_readback_compare(v, 2, JAW_MM, f), JAW_OK);
    ck_assert_int_eq(f[0].state, JAW_READ_UNKNOWN);
    ck_assert_int_eq(f[1].state, JAW_READ_MISSING);
    ck_assert(isnan(f[0].off) && isnan(f[1].off));
    ck_assert(f[0].n == 0 && f[1].n == 0);
    ck_assert_int_eq(jaw_readback_compare(NULL, 0, JAW_MM, NULL), JAW_OK);
}
END_TEST

START_TEST(out_of_range)
{
    static const double step[] = {0, -0.001, NOT, (double)INFINITY, 1e-12};
    static const double value[] = {1.1e6, -(double)INFINITY};
    jaw_readback_found f[2];

    for (int i = 0; i < COUNT(step) + COUNT(value) + 1; i++) {
        jaw_readback_value v[2] = {register_of("G54", "X", JAW_MM, 0.001, 1),
                                   register_of("G54", "Y", JAW_MM, 0.001, 1)};
        v[0].shown = v[1].shown = 1;
        if (i < COUNT(step))
            v[1].step = step[i];
        else if (i < COUNT(step) + COUNT(value))
            v[1].value = value[i - COUNT(step)];
        else
            v[1].half95 = -1;
        ck_assert_int_eq(jaw_readback_compare(v, 2, JAW_MM, f), JAW_EDOMAIN);
        for (int k = 0; k < 2; k++) {
            ck_assert_int_eq(f[k].state, JAW_READ_UNKNOWN);
            ck_assert(isnan(f[k].off));
        }
    }
}
END_TEST

START_TEST(words)
{
    for (int i = 0; i < JAW_READ_KINDS; i++) {
        ck_assert(jaw_readback_word((jaw_readback_kind)i) != NULL);
        ck_assert_int_ge(jaw_readback_rank((jaw_readback_kind)i), 0);
        for (int k = 0; k < i; k++)
            ck_assert_str_ne(jaw_readback_word((jaw_readback_kind)i),
                             jaw_readback_word((jaw_readback_kind)k));
    }
    ck_assert(jaw_readback_word(JAW_READ_KINDS) == NULL);
    ck_assert_int_eq(jaw_readback_rank(JAW_READ_KINDS), -1);
}
END_TEST

TCase *status_case(void)
{
    TCase *tc = tcase_create("status");
    tcase_add_test(tc, not_compared);
    tcase_add_test(tc, out_of_range);
    tcase_add_test(tc, words);
    return tc;
}
