/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef REPORT_TESTS_H
#define REPORT_TESTS_H

#include <check.h>
#include <jawline.h>

TCase *note_case(void);
TCase *feature_case(void);
TCase *page_case(void);
TCase *readback_case(void);
TCase *moved_case(void);
TCase *alloc_case(void); /* NULL when allocations can not be counted */

/* A small setup with everything in it; can_turn as stated.  Ends the test when
 * out of memory. */
jaw_setup *corner_setup(bool can_turn);

/* A list of what the control shows, with everything in it. */
void some_readback(jaw_readback_value v[6], jaw_readback_found f[6]);

/* What moved since a setup was kept, every kind of it, and that setup. */
const jaw_book_moved *some_moved(void);
const jaw_book_setup *some_setup(void);

/* What a bore of four touches looks like. */
jaw_found some_bore(const double resid[4]);

#endif
