/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of src/book. */
#include "book_tests.h"

#include <stdio.h>
#include <stdlib.h>

int main(void)
{
    Suite *suite = suite_create("book");
    suite_add_tcase(suite, keep_case());
    suite_add_tcase(suite, refuse_case());
    suite_add_tcase(suite, move_case());
    suite_add_tcase(suite, change_case());
    suite_add_tcase(suite, conventions_case());
    suite_add_tcase(suite, diameter_case());
    suite_add_tcase(suite, published_case());
    suite_add_tcase(suite, trend_case());
    suite_add_tcase(suite, together_case());
    suite_add_tcase(suite, fill_case());
    suite_add_tcase(suite, tips_case());
    suite_add_tcase(suite, moved_case());
    suite_add_tcase(suite, homing_case());
    TCase *memory = memory_case(), *setups_memory = setups_memory_case();
    TCase *homing_memory = homing_memory_case();
    if (memory && setups_memory && homing_memory) {
        suite_add_tcase(suite, memory);
        suite_add_tcase(suite, setups_memory);
        suite_add_tcase(suite, homing_memory);
    } else
        puts("left out: books without memory (a tool owns malloc)");
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
