/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of src/report. */
#include "report_tests.h"

#include <stdio.h>
#include <stdlib.h>

int main(void)
{
    Suite *suite = suite_create("report");
    suite_add_tcase(suite, note_case());
    suite_add_tcase(suite, feature_case());
    suite_add_tcase(suite, page_case());
    suite_add_tcase(suite, readback_case());
    suite_add_tcase(suite, moved_case());
    TCase *alloc = alloc_case();
    if (alloc)
        suite_add_tcase(suite, alloc);
    else
        puts("left out: reports without memory (a tool owns malloc)");
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
