/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef BASE_TESTS_H
#define BASE_TESTS_H

#include <check.h>

#define COUNT(a) ((int)(sizeof(a) / sizeof((a)[0])))

TCase *status_case(void);
TCase *flags_case(void);
TCase *notes_case(void);
TCase *notes_alloc_case(void); /* NULL when allocations can not be counted */
TCase *frame_case(void);
TCase *units_case(void);
TCase *number_case(void);
TCase *step_case(void);
TCase *time_case(void);
TCase *words_case(void);

#endif
