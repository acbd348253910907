/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of src/readback: what the control shows, and why it is off. */
#include "readback_tests.h"

#include <stdlib.h>

int main(void)
{
    Suite *suite = suite_create("readback");
    suite_add_tcase(suite, kinds_case());
    suite_add_tcase(suite, random_case());
    suite_add_tcase(suite, status_case());
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
