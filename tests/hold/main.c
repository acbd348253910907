/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of src/hold. */
#include "hold_tests.h"

#include <stdlib.h>

int main(void)
{
    Suite *suite = suite_create("hold");
    suite_add_tcase(suite, vise_case());
    suite_add_tcase(suite, vee_case());
    suite_add_tcase(suite, sine_case());
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
