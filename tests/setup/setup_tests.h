/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef SETUP_TESTS_H
#define SETUP_TESTS_H

#include "shop.h"

#include "tests/near.h"

#include <check.h>
#include <jawline/setup.h>
#include <math.h>

#define COUNT(a) ((int)(sizeof(a) / sizeof((a)[0])))
#define PI 3.14159265358979323846
#define NOT ((double)NAN)

TCase *entries_case(void);
TCase *lengths_case(void);
TCase *links_case(void);
TCase *links_drawn_case(void);
TCase *zero_case(void);
TCase *heights_case(void);
TCase *where_case(void);
TCase *world_case(void);
TCase *solid_case(void);
TCase *says_case(void);
TCase *tasks_case(void);
TCase *carried_case(void);
TCase *tables_case(void);
TCase *places_case(void);
TCase *tired_case(void);
TCase *large_case(void);
TCase *differences_case(void);
TCase *memory_case(void); /* NULL when allocations can not be counted */

/* A status, by its text when it is another one. */
#define ck_status(got, want)                                                   \
    do {                                                                       \
        jaw_status status_ = (got);                                            \
        ck_assert_msg(status_ == (want), "%s: got \"%s\", want \"%s\"", #got,  \
                      jaw_status_text(status_), jaw_status_text(want));        \
    } while (0)

#endif
