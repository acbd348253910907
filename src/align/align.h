/* SPDX-License-Identifier: GPL-3.0-or-later */
/* align.h: what the files of this folder share; not public. */
#ifndef JAW_ALIGN_INSIDE_H
#define JAW_ALIGN_INSIDE_H

#include <jawline/align.h>

#include "src/base/nan.h"

#define JAW__ALIGN_NAN ((double)NAN)

/* What one reading is worth after a fit. */
typedef struct jaw__reading_spread {
    double sigma; /* mm, standard deviation of one reading; NaN: not known */
    double dof;   /* of sigma; INFINITY when it is as stated */
    double rms;   /* mm; NaN when no reading is spare */
    int left;     /* readings less unknowns */
    unsigned flags; /* JAW_NO_CHECK, JAW_RESIDUAL */
} jaw__reading_spread;

/* jaw__reading_spread_of: from the sum of squared residuals of n readings.
 * repeat: stated, or NaN. */
jaw__reading_spread jaw__reading_spread_of(double ssr, size_t n,
                                           size_t unknowns, double repeat);

/* jaw__reading_check: whether v[n] and a stated repeat can be used. */
jaw_status jaw__reading_check(const double at[], const double reading[],
                              size_t n, double repeat);

/* jaw__size_check: a size that may be left out: NaN or > 0. */
jaw_status jaw__size_check(double size);

/* jaw__steep: five degrees, beyond which the angle of a thing that was set by
 * eye is more likely a slip (the same bound as of a part's turn). */
bool jaw__steep(double angle);

#endif
