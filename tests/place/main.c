/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of src/place: the same part again, elsewhere and turned over. */
#include "place_tests.h"

#include <stdlib.h>

int main(void)
{
    Suite *suite = suite_create("place");
    suite_add_tcase(suite, stations_case());
    suite_add_tcase(suite, spread_case());
    suite_add_tcase(suite, status_case());
    suite_add_tcase(suite, turned_case());
    suite_add_tcase(suite, moved_case());
    suite_add_tcase(suite, walls_case());
    suite_add_tcase(suite, published_case());
    TCase *tc = memory_case();
    if (tc)
        suite_add_tcase(suite, tc);
    else
        puts("allocations can not be counted here: their failure is not "
             "tested");
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
