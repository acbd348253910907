/* SPDX-License-Identifier: GPL-3.0-or-later */
/* steep.h: an angle that is more likely a slip; not public. */
#ifndef JAW_BASE_STEEP_H
#define JAW_BASE_STEEP_H

#include <math.h>

/* More than hand setting leaves (rad).  Common practice, no source: stock pushed
 * against a jaw or laid on parallels by hand lies within a degree; five leave
 * no doubt that something is off. */
#define JAW__STEEP (5 * M_PI / 180)

#endif
