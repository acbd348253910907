/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of src/trust. */
#include "trust_tests.h"

#include <stdio.h>
#include <stdlib.h>

int main(void)
{
    Suite *suite = suite_create("trust");
    suite_add_tcase(suite, distributions_case());
    suite_add_tcase(suite, decide_case());
    suite_add_tcase(suite, published_case());
    suite_add_tcase(suite, dense_case());
    suite_add_tcase(suite, together_case());
    suite_add_tcase(suite, features_case());
    suite_add_tcase(suite, figure_case());
    suite_add_tcase(suite, limit_case());
    suite_add_tcase(suite, within_case());
    suite_add_tcase(suite, loose_case());
    suite_add_tcase(suite, robust_case());
    suite_add_tcase(suite, robust_solid_case());
    suite_add_tcase(suite, esd_case());
    suite_add_tcase(suite, random_case());
    suite_add_tcase(suite, monte_case());
    suite_add_tcase(suite, monte_circle_case());
    suite_add_tcase(suite, monte_sphere_case());
    suite_add_tcase(suite, monte_cylinder_case());
    TCase *memory = memory_case();
    if (memory)
        suite_add_tcase(suite, memory);
    else
        puts("left out: adjustments without memory (a tool owns malloc)");
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
