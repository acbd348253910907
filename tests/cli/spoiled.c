/* SPDX-License-Identifier: GPL-3.0-or-later */
/* spoiled.c: the self-test must notice a library that answers otherwise.  Each
 * compared number of each case is spoiled in turn, by twice what is allowed,
 * and exactly that one case must fail. */
#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "src/cli/cli.h"
#include "src/cli/selftest.h"

/* The rest of the command is not linked here. */
void complain(const char *cure, const char *format, ...)
{
    (void)cure;
    (void)format;
}

static FILE *quiet(void)
{
    FILE *out = tmpfile();
    ck_assert_ptr_nonnull(out);
    return out;
}

START_TEST(all_good)
{
    FILE *out = quiet();
    ck_assert_uint_eq(selftest_run(published_cases, published_count, out), 0);
    fclose(out);
}
END_TEST

/* What a wrong answer of the library looks like from here. */
static size_t spoil(size_t i, size_t k)
{
    published_case *all = malloc(published_count * sizeof *all);
    ck_assert_ptr_nonnull(all);
    memcpy(all, published_cases, published_count * sizeof *all);
    published_want *want = &all[i].want[k];
    want->want += fmax(2.5 * want->allowed, 1e-12 * fabs(want->want));
    FILE *out = quiet();
    size_t bad = selftest_run(all, published_count, out);
    fclose(out);
    free(all);
    return bad;
}

START_TEST(each_spoiled)
{
    for (size_t i = 0; i < published_count; i++)
        for (size_t k = 0; k < PUBLISHED_WANTS; k++) {
            const published_want *want = &published_cases[i].want[k];
            if (!want->what)
                break;
            if (*want->what)
                ck_assert_msg(spoil(i, k) == 1, "%s, %s: not noticed",
                              published_cases[i].name, want->what);
        }
}
END_TEST

START_TEST(unsolved)
{
    published_case one = published_cases[0];
    one.n = 2;
    FILE *out = quiet();
    ck_assert_uint_eq(selftest_run(&one, 1, out), 1);
    one.n = 1000;
    ck_assert_uint_eq(selftest_run(&one, 1, out), 1);
    fclose(out);
}
END_TEST

int main(void)
{
    Suite *s = suite_create("selftest");
    TCase *tc = tcase_create("spoiled");
    tcase_add_test(tc, all_good);
    tcase_add_test(tc, each_spoiled);
    tcase_add_test(tc, unsolved);
    suite_add_tcase(s, tc);
    SRunner *sr = srunner_create(s);
    srunner_run_all(sr, CK_NORMAL);
    int failed = srunner_ntests_failed(sr);
    srunner_free(sr);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
