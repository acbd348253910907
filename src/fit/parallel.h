/* SPDX-License-Identifier: GPL-3.0-or-later */
/* parallel.h: the direction that one or two sets of touches share.  A line is
 * one set, a pair is two.  Shared by the fits; not public. */
#ifndef JAW_FIT_PARALLEL_H
#define JAW_FIT_PARALLEL_H

#include "view.h"

typedef struct jaw__parallel {
    size_t sides; /* 1 or 2 */
    jaw__view view[2];
    jaw__sums sums[2]; /* seen along `seen` */
    jaw__turn seen;
    jaw__turn more; /* what `seen` still lacks to the direction; tiny */
    double sign;    /* -1 when the direction had to be reversed */
    double noise;   /* jaw__noise of the touches */
    double uu, vv;  /* sums along and across the direction; vv is the ssr */
    jaw__turn dir;  /* the direction, theta in (-pi/2, pi/2] */
} jaw__parallel;

/* jaw__parallel_begin: checks and centres; b may be NULL. */
jaw_status jaw__parallel_begin(jaw__parallel *fit, const jaw_vec2 a[],
                               size_t na, const jaw_vec2 b[], size_t nb);
/* jaw__parallel_free: the best direction. */
jaw_status jaw__parallel_free(jaw__parallel *fit);
/* jaw__parallel_settle: the end of it, from sums along `seen` and the turn
 * `more` that they ask for. */
jaw_status jaw__parallel_settle(jaw__parallel *fit, double uu, double uv,
                                double vv);
/* jaw__parallel_along: a given direction, finite. */
void jaw__parallel_along(jaw__parallel *fit, double theta);

/* jaw__parallel_mean: mean of the touches of a side, in their own unit. */
jaw_vec2 jaw__parallel_mean(const jaw__parallel *fit, size_t side);
void jaw__parallel_resid(const jaw__parallel *fit, double resid[]);

#endif
