/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of src/base.  With JAW_TEST_LOCALE set to the name of a locale whose
 * decimal point is a comma, everything runs in that locale (comma.sh). */
#include "base_tests.h"

#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Both ways in which a program may have a locale: its own and the thread's. */
static int enter_locale(const char *name)
{
    if (!setlocale(LC_ALL, name)) {
        fprintf(stderr, "no locale %s here\n", name);
        return -1;
    }
    locale_t thread = newlocale(LC_ALL_MASK, name, (locale_t)0);
    if (!thread) {
        fprintf(stderr, "no newlocale %s here\n", name);
        return -1;
    }
    uselocale(thread);
    if (strcmp(localeconv()->decimal_point, ",") != 0) {
        fprintf(stderr, "the decimal point of %s is no comma\n", name);
        return -1;
    }
    char text[8];
    snprintf(text, sizeof text, "%.1f", 1.5);
    return strcmp(text, "1,5") == 0 ? 0 : -1;
}

int main(void)
{
    const char *locale = getenv("JAW_TEST_LOCALE");
    if (locale && enter_locale(locale))
        return EXIT_FAILURE;
    Suite *suite = suite_create("base");
    suite_add_tcase(suite, status_case());
    suite_add_tcase(suite, flags_case());
    suite_add_tcase(suite, notes_case());
    TCase *alloc = notes_alloc_case();
    if (alloc)
        suite_add_tcase(suite, alloc);
    else
        puts("left out: notes without memory (a tool owns malloc)");
    suite_add_tcase(suite, frame_case());
    suite_add_tcase(suite, units_case());
    suite_add_tcase(suite, number_case());
    suite_add_tcase(suite, step_case());
    suite_add_tcase(suite, time_case());
    suite_add_tcase(suite, words_case());
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
