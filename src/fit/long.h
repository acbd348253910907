/* SPDX-License-Identifier: GPL-3.0-or-later */
/* long.h: the short way where there are very many touches.  Shared by the
 * fits; not public. */
#ifndef JAW_FIT_LONG_H
#define JAW_FIT_LONG_H

#include "parallel.h"
#include "passes.h"

/* So many touches are looked at in one pass, from a point and a direction that
 * a sample gives: a centre is then off by the spread of a touch over 64. */
enum { JAW__MANY = 1 << 16, JAW__SAMPLE = 1 << 14 };

/* Coordinates between these need no scaling before they are squared. */
#define JAW__SMALLEST 0x1p-100
#define JAW__LARGEST 0x1p+100

/* jaw__long_line: true when the line was found and is certain; false says
 * nothing. */
bool jaw__long_line(const jaw_vec2 p[], size_t n, const jaw__passes *passes,
                    jaw__parallel *fit);

#endif
