/* SPDX-License-Identifier: GPL-3.0-or-later */
/* weights.h: relative weights of points, for the rigid fits; not public. */
#ifndef JAW_FIT_WEIGHTS_H
#define JAW_FIT_WEIGHTS_H

#include "view.h"

#include <math.h>

typedef struct jaw__weights {
    const double *given; /* NULL: all 1 */
    double unit;         /* given ones are multiplied by this */
} jaw__weights;

static inline double jaw__weight(const jaw__weights *w, size_t i)
{
    return w->given ? w->given[i] * w->unit : 1;
}

/* jaw__weights_take: JAW_OK, JAW_ENOTFINITE, JAW_EDOMAIN (one is not > 0). */
static inline jaw_status jaw__weights_take(jaw__weights *w,
                                           const double given[], size_t n)
{
    *w = (jaw__weights){given, 1};
    if (!given)
        return JAW_OK;
    double size = jaw__size(given, n);
    if (isnan(size))
        return JAW_ENOTFINITE;
    for (size_t i = 0; i < n; i++)
        if (!(given[i] > 0))
            return JAW_EDOMAIN;
    w->unit = jaw__unit(size);
    return JAW_OK;
}

#endif
