/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of what is known beforehand and how well, from the words of a sheet to
 * the values: the expected uncertainties are worked by hand (JCGM 100, 5.1.2).
 */
#include "known_tests.h"

#include <stdio.h>
#include <stdlib.h>

int main(void)
{
    Suite *suite = suite_create("known");
    suite_add_tcase(suite, known_case());
    suite_add_tcase(suite, next_case());
    suite_add_tcase(suite, warm_case());
    suite_add_tcase(suite, decide_case());
    suite_add_tcase(suite, aside_case());
    suite_add_tcase(suite, budget_case());
    suite_add_tcase(suite, places_case());
    TCase *memory = memory_case();
    if (memory)
        suite_add_tcase(suite, memory);
    else
        puts("left out: sheets without memory (a tool owns malloc)");
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
