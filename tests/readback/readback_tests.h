/* SPDX-License-Identifier: GPL-3.0-or-later */
/* readback_tests.h: what the files of this program share. */
#ifndef TESTS_READBACK_H
#define TESTS_READBACK_H

#include "tests/feature/random.h"
#include "tests/near.h"
#include "tests/readback/register.h"

#include <check.h>

#define COUNT(a) ((int)(sizeof(a) / sizeof((a)[0])))
#define NOT ((double)NAN)

/* One value alone. */
static inline jaw_readback_found compare_one(jaw_unit unit, double step,
                                             double value, double shown)
{
    jaw_readback_value v = register_of("G54", "X", unit, step, value);
    jaw_readback_found f;
    v.shown = shown * jaw_unit_mm(unit);
    ck_assert_int_eq(jaw_readback_compare(&v, 1, unit, &f), JAW_OK);
    return f;
}

static inline const jaw_readback_reason *reason(const jaw_readback_found *f,
                                                jaw_readback_kind kind)
{
    for (size_t i = 0; i < f->n; i++)
        if (f->reason[i].kind == kind)
            return &f->reason[i];
    return NULL;
}

/* --- slips.c: the same slips made in text, as a finger makes them */

enum { TEXT = 48 };

/* slip_make: a slip of a kind in `text`, which the control shows; false when
 * this one can not have it.  which: any number, says where. */
bool slip_make(jaw_readback_kind kind, const char *text, size_t which,
               char out[TEXT]);

/* slip_repeat: what a reason makes of `text`, as its fields say. */
void slip_repeat(const jaw_readback_reason *why, const char *text,
                 char out[TEXT]);

TCase *kinds_case(void);
TCase *random_case(void);
TCase *status_case(void);

#endif
