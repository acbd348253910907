/* SPDX-License-Identifier: GPL-3.0-or-later */
/* selftest.h: the self-test on a table that its own test can spoil. */
#ifndef JAW__SELFTEST_H
#define JAW__SELFTEST_H

#include <stdio.h>

#include "published.h"

/* selftest_run: each case on its lines, then a count; returns how many
 * failed. */
size_t selftest_run(const published_case cases[], size_t n, FILE *out);

#endif
