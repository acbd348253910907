/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of src/fit.  Random ones print their seed; JAW_TEST_SEED=N gives
 * another. */
#include "fit_tests.h"

int main(void)
{
    Suite *suite = suite_create("fit");
    suite_add_tcase(suite, line_case());
    suite_add_tcase(suite, pair_case());
    suite_add_tcase(suite, plane_case());
    suite_add_tcase(suite, circle_case());
    suite_add_tcase(suite, circle_exact_case());
    suite_add_tcase(suite, circle_global_case());
    suite_add_tcase(suite, circle_known_case());
    suite_add_tcase(suite, rigid_case());
    suite_add_tcase(suite, rigid3_case());
    suite_add_tcase(suite, sweep_case());
    suite_add_tcase(suite, zone_case());
    suite_add_tcase(suite, zone_search_case());
    suite_add_tcase(suite, sphere_case());
    suite_add_tcase(suite, sphere_exact_case());
    suite_add_tcase(suite, sphere_global_case());
    suite_add_tcase(suite, cylinder_case());
    suite_add_tcase(suite, cylinder_exact_case());
    suite_add_tcase(suite, many_case());
    if (alloc_works()) {
        suite_add_tcase(suite, memory_case());
        suite_add_tcase(suite, cylinder_memory_case());
    } else {
        puts("left out: counting allocations (a tool owns malloc)");
    }
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
