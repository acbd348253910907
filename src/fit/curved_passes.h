/* SPDX-License-Identifier: GPL-3.0-or-later */
/* curved_passes.h: looks at all touches for the fits of spheres and cylinders,
 * once for each width of lanes (as passes.h).  Not public. */
#ifndef JAW_FIT_CURVED_PASSES_H
#define JAW_FIT_CURVED_PASSES_H

#include "cylinder.h"

enum { JAW__PAIRS = 15 };

/* place[i][k] of JAW__FREE unknowns in an upper triangle by rows. */
static const int jaw__place[JAW__FREE][JAW__FREE] = {{0, 1, 2, 3, 4},
                                                     {1, 5, 6, 7, 8},
                                                     {2, 6, 9, 10, 11},
                                                     {3, 7, 10, 12, 13},
                                                     {4, 8, 11, 13, 14}};

/* Sums at a surface: half the gradient, half the second derivatives, and the
 * squares of the first derivatives, weighted by r / distance. */
typedef struct jaw__normal {
    double ssr, g[JAW__FREE], m[JAW__PAIRS], size[JAW__FREE];
} jaw__normal;

/* The triangle of an orthogonal factorisation of the first derivatives, and
 * what else one look shows. */
typedef struct jaw__triangle {
    double r[JAW__FREE][JAW__FREE]; /* 0 in columns of what may not move */
    double ssr;
    double low, high; /* along axis[0] */
} jaw__triangle;

/* By what a direction is rated (cylinder_ways.c). */
typedef struct jaw__scale {
    const jaw__bulk *bulk;
    double four[6][6]; /* covariances of the pairs: upper triangle, off the
                        * diagonal twice */
    double minor[6];   /* adjugate of the scatter */
} jaw__scale;

typedef struct jaw__curved_passes {
    void (*bulk)(const jaw__space *space, jaw__bulk *bulk);
    jaw__normal (*survey)(const jaw__space *space, const jaw__curved *at);
    /* resid may be NULL: g times scale */
    void (*triangle)(const jaw__search *search, const jaw__curved *at,
                     double scale, jaw__triangle *f, double resid[]);
    void (*rate)(const jaw__scale *s, jaw__way ways[], int n);
} jaw__curved_passes;

/* jaw__curved_passes_avx2: NULL where this was not built or can't run. */
const jaw__curved_passes *jaw__curved_passes_avx2(void);
const jaw__curved_passes *jaw__curved_passes_plain(void);
const jaw__curved_passes *jaw__curved_passes_best(void);

#endif
