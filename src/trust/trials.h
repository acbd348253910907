/* SPDX-License-Identifier: GPL-3.0-or-later */
/* trials.h: what trials of a circle, a sphere and a cylinder ask of their
 * touches, and where their steps end; shared inside src/trust. */
#ifndef JAW__TRIALS_H
#define JAW__TRIALS_H

#include <jawline/base.h>

#include <math.h>

/* A centre that moves by more than this share of the radius is no small
 * change: which of several circles, spheres or cylinders is the best is then a
 * question again. */
#define JAW__FAR_SHARE 0.5

/* Of the radius: a step that no figure of a trial shows. */
#define JAW__SETTLED 1e-11

enum { JAW__STEPS_MOST = 40 };

/* jaw__check_sigmas: JAW_EDOMAIN unless each is a number from 0 on. */
static inline jaw_status jaw__check_sigmas(const double sigma[], size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (!(sigma[i] >= 0) || isinf(sigma[i]))
            return JAW_EDOMAIN;
    return JAW_OK;
}

#endif
