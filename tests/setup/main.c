/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of src/setup. */
#include "setup_tests.h"

#include <stdio.h>
#include <stdlib.h>

int main(void)
{
    Suite *suite = suite_create("setup");
    suite_add_tcase(suite, entries_case());
    suite_add_tcase(suite, lengths_case());
    suite_add_tcase(suite, links_case());
    suite_add_tcase(suite, links_drawn_case());
    suite_add_tcase(suite, zero_case());
    suite_add_tcase(suite, heights_case());
    suite_add_tcase(suite, where_case());
    suite_add_tcase(suite, world_case());
    suite_add_tcase(suite, solid_case());
    suite_add_tcase(suite, says_case());
    suite_add_tcase(suite, tasks_case());
    suite_add_tcase(suite, carried_case());
    suite_add_tcase(suite, tables_case());
    suite_add_tcase(suite, places_case());
    suite_add_tcase(suite, tired_case());
    suite_add_tcase(suite, large_case());
    suite_add_tcase(suite, differences_case());
    TCase *memory = memory_case();
    if (memory)
        suite_add_tcase(suite, memory);
    else
        puts("left out: setups without memory (a tool owns malloc)");
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
