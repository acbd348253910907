/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hold.h: what the files of this folder share; not public. */
#ifndef JAW_HOLD_INSIDE_H
#define JAW_HOLD_INSIDE_H

#include <jawline/hold.h>

#define JAW__HOLD_NAN ((double)NAN)

/* jaw__length_check: JAW_OK when a length can be used; JAW_EUNKNOWN: it is not
 * stated; JAW_ENOTFINITE; JAW_EDOMAIN: its spread is negative. */
jaw_status jaw__length_check(jaw_length length);
/* jaw__above_zero: the same, and JAW_EDOMAIN unless it is > 0. */
jaw_status jaw__above_zero(jaw_length length);

#endif
