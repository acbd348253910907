/* SPDX-License-Identifier: GPL-3.0-or-later */
/* align.h: what the files of this folder share; not public. */
#ifndef JAW_ALIGN_INSIDE_H
#define JAW_ALIGN_INSIDE_H

#include <jawline/align.h>

#include "src/base/nan.h"
#include "src/base/steep.h"
#include "src/measure/model.h"

#define JAW__ALIGN_NAN ((double)NAN)

/* Readings that scatter more than was stated are believed rather than the
 * statement (jaw__spread_of): mostly it is the wall that is not straight, and
 * that makes its direction as unsure as a bad indicator does.  A size that may
 * be left out is checked like a repeat (jaw__repeat_check). */

/* jaw__reading_check: whether at[n], reading[n] and a stated repeat can be
 * used. */
jaw_status jaw__reading_check(const double at[], const double reading[],
                              size_t n, double repeat);

#endif
