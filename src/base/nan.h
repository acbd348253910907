/* SPDX-License-Identifier: GPL-3.0-or-later */
/* nan.h: what arrays hold after a failure; shared by the modules, not public. */
#ifndef JAW__NAN_H
#define JAW__NAN_H

#include <math.h>
#include <stddef.h>

/* jaw__fill_nan: out[n] = NaN; NULL is fine. */
static inline void jaw__fill_nan(double out[], size_t n)
{
    for (size_t i = 0; out != NULL && i < n; i++)
        out[i] = (double)NAN;
}

#endif
