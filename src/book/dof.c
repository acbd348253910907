/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dof.c: what a figure of a setup is worth, and the degrees of freedom that its
 * 95 % interval stands for.  Where a known share is in it, those of the
 * effective kind are more. */
#include "book.h"

#include <math.h>

jaw_figure jaw__book_figure(double value, const jaw_value_trust *t)
{
    const double nan = (double)NAN;

    return isnan(value) ? jaw_figure_make(nan, nan, nan)
                        : (jaw_figure){value, t->u, t->dof, t->half95};
}

double jaw__book_dof(const jaw_figure *f)
{
    double low = 1, high = fmin(f->dof, 1e6);

    if (f->u == 0 || !isfinite(f->dof) || !(f->half95 > 0))
        return f->u == 0 ? (double)INFINITY : f->dof;
    if (!(f->half95 > jaw_trust_cover(0.95, high) * f->u))
        return f->dof;
    if (high < low)
        return f->dof;
    for (int i = 0; i < 50; i++) {
        double middle = sqrt(low * high);
        if (jaw_trust_cover(0.95, middle) * f->u > f->half95)
            low = middle;
        else
            high = middle;
    }
    return low;
}

double jaw__book_figure_spread(const jaw_figure *f)
{
    return f->half95 / jaw_trust_cover(0.95, (double)INFINITY);
}
