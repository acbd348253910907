/* SPDX-License-Identifier: GPL-3.0-or-later */
/* circle_trials.h: what the trials of a circle need, made once.
 *
 * Everything is told from the fitted circle, in axes turned so that the touches
 * spread most along the second: centre (a, b) off, and rho, the distance at the
 * mean of the touch directions, which for a short arc is well determined while
 * a and the radius are not. */
#ifndef JAW__CIRCLE_TRIALS_H
#define JAW__CIRCLE_TRIALS_H

#include <jawline/trust.h>

/* Trials are done in groups that start at multiples of this. */
enum { JAW__GROUP = 8 };

typedef struct jaw__ray {
    double u, v;   /* direction from the centre */
    double off;    /* how far off the circle the touch lies, mm */
    double sigma;
    double ka, kb; /* what an error of 1 does to a and b, first order */
} jaw__ray;

typedef struct jaw__circle_trials {
    size_t n;
    double r;         /* fitted */
    double um, vm;    /* mean direction */
    double tolerance; /* mm; corrections that remain are of this size */
    jaw__ray *ray;    /* n */
    double *error;    /* n rows of a group */
    unsigned long long seed;
} jaw__circle_trials;

/* jaw__circle_group: trials first .. first + JAW__GROUP - 1: errors into
 * t->error; off and rho; whether each has settled (0 or 1). */
typedef void jaw__circle_group(const jaw__circle_trials *t,
                               unsigned long long first, double a[JAW__GROUP],
                               double b[JAW__GROUP], double rho[JAW__GROUP],
                               double good[JAW__GROUP]);

jaw__circle_group jaw__circle_group_plain;

/* NULL where this was not built or can't run. */
jaw__circle_group *jaw__circle_group_avx2(void);

#endif
