/* SPDX-License-Identifier: GPL-3.0-or-later */
/* wide.h: the short way to a circle that was touched well round.  Shared by
 * the fits; not public. */
#ifndef JAW_FIT_WIDE_H
#define JAW_FIT_WIDE_H

#include <jawline/fit.h>

#include "passes.h"

/* A circle that leaves less than this share of what the best line leaves is
 * the one that was touched: no other minimum of the sum of squares comes near.
 * (By trial over random touches, tests/fit/circle_global.c.)  Above it, all
 * that can be found are compared. */
#define JAW__CLEAR_SHARE 1e-3

/* jaw__wide_circle: true when the circle was found and is certain; false says
 * nothing, and *c and resid hold nothing of use. */
bool jaw__wide_circle(const jaw_vec2 p[], size_t n, const jaw__passes *passes,
                      jaw_circle *c, double resid[]);

#endif
