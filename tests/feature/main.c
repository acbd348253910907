/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of src/feature. */
#include "feature_tests.h"

#include <stdio.h>
#include <stdlib.h>

int main(void)
{
    Suite *suite = suite_create("feature");
    suite_add_tcase(suite, words_case());
    suite_add_tcase(suite, edge_case());
    suite_add_tcase(suite, face_case());
    suite_add_tcase(suite, round_case());
    suite_add_tcase(suite, solid_case());
    suite_add_tcase(suite, walls_case());
    suite_add_tcase(suite, pattern_case());
    suite_add_tcase(suite, promise_case());
    TCase *memory = memory_case();
    if (memory)
        suite_add_tcase(suite, memory);
    else
        puts("left out: features without memory (a tool owns malloc)");
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
