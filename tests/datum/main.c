/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of src/datum: 3-2-1. */
#include "datum_tests.h"

#include <stdlib.h>

int main(void)
{
    Suite *suite = suite_create("datum");
    suite_add_tcase(suite, geometry_case());
    suite_add_tcase(suite, spread_case());
    suite_add_tcase(suite, status_case());
    suite_add_tcase(suite, level_case());
    suite_add_tcase(suite, published_case());
    TCase *tc = memory_case();
    if (tc)
        suite_add_tcase(suite, tc);
    else
        puts("allocations can not be counted here: their failure is not "
             "tested");
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
