/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of src/align. */
#include "align_tests.h"

#include <stdlib.h>

int main(void)
{
    Suite *suite = suite_create("align");
    suite_add_tcase(suite, wall_case());
    suite_add_tcase(suite, head_case());
    suite_add_tcase(suite, round_case());
    suite_add_tcase(suite, square_case());
    suite_add_tcase(suite, promise_case());
    TCase *memory = memory_case();
    if (memory)
        suite_add_tcase(suite, memory);
    else
        puts("left out: sweeps without memory (a tool owns malloc)");
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
