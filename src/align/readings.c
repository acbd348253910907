/* SPDX-License-Identifier: GPL-3.0-or-later */
/* readings.c: what all sweeps ask of their readings. */
#include "align.h"

#include <math.h>

jaw_status jaw__reading_check(const double at[], const double reading[],
                              size_t n, double repeat)
{
    for (size_t i = 0; i < n; i++)
        if (!isfinite(at[i]) || !isfinite(reading[i]))
            return JAW_ENOTFINITE;
    return jaw__repeat_check(repeat);
}
