/* SPDX-License-Identifier: GPL-3.0-or-later */
/* curved.h: spheres and cylinders as a bent plane, and the search for the best
 * one.  Shared by their fits; not public. */
#ifndef JAW_FIT_CURVED_H
#define JAW_FIT_CURVED_H

#include "space.h"

/* What can move: the surface along its normal at the foot; turns about the
 * foot, of the normal against axis[0] and against axis[1] and, of a cylinder,
 * of axis[0] towards axis[1]; the bend. */
enum { JAW__SHIFT, JAW__PITCH, JAW__ROLL, JAW__YAW, JAW__BEND, JAW__FREE };

/* The surface that passes through `foot`, where its normal is axis[2], and
 * bends towards axis[2] by `bend` = 1 / radius, away from it when negative.  Of
 * a cylinder axis[0] is its direction. */
typedef struct jaw__curved {
    double foot[3];    /* from the space's m */
    double axis[3][3]; /* rows, right-handed */
    double bend;
    bool round; /* a sphere */
} jaw__curved;

/* A search: what is looked at and what may move. */
typedef struct jaw__search {
    const jaw__space *space;
    const jaw__bulk *bulk;
    bool free[JAW__FREE];
} jaw__search;

typedef struct jaw__rest {
    jaw__curved at;
    double ssr; /* in units */
} jaw__rest;

/* jaw__settle: the minimum of the sum of squared distances near start; false,
 * and where it ended, when none was reached. */
bool jaw__settle(const jaw__search *search, const jaw__curved *start,
                 jaw__rest *rest);

/* jaw__settle_near: the same surface with its foot next to the touches. */
void jaw__settle_near(const jaw__search *search, jaw__rest *rest);

/* jaw__curved_round: a sphere or, with a direction, a cylinder of centre c. */
jaw__curved jaw__curved_round(const double c[3], double r,
                              const double direction[3]);
/* jaw__curved_centre: of a sphere; of a cylinder the point of its axis that is
 * square to the foot. */
void jaw__curved_centre(const jaw__curved *at, double c[3]);

/* jaw__curved_axes: right-handed, from axis[0] and about axis[2]. */
void jaw__curved_axes(double axis[3][3]);

/* jaw__square_to: any direction square to a: against its least coordinate. */
void jaw__square_to(const double a[3], double b[3]);

/* jaw__seen: what a surface that was found leaves, and how well the touches
 * determine it: a square root of the cofactors of what moves, row by row of
 * JAW__FREE (cofactors are root root^T). */
typedef struct jaw__seen {
    double root[JAW__FREE][JAW__FREE];
    double ssr;    /* in units */
    double length; /* of the touches along axis[0] */
} jaw__seen;

/* jaw__see: false when the touches do not determine it.  resid: outside
 * positive, in the touches' unit; may be NULL. */
bool jaw__see(const jaw__search *search, const jaw__curved *at,
              jaw__seen *seen, double resid[]);

/* jaw__wide: mean square extent of the touches across the normal in which the
 * surface bends. */
double jaw__wide(const jaw__bulk *bulk, const jaw__curved *at);

/* jaw__straight: over the touches the surface leaves a plane by no more than
 * rounding. */
bool jaw__straight(const jaw__search *search, const jaw__curved *at);

/* jaw__bow: a surface through the mean with this bend towards `normal`;
 * direction NULL: a sphere. */
jaw__curved jaw__bow(const double normal[3], const double direction[3],
                     double bend);

/* jaw__free: how many unknowns. */
static inline int jaw__free(const jaw__search *search)
{
    int count = 0;

    for (int i = 0; i < JAW__FREE; i++)
        count += search->free[i];
    return count;
}

/* jaw__alike: the least sum of squares leaves another open.  For touches of
 * normal but unknown spread the odds between two answers are the ratio of the
 * sums to the power dof / 2 (the spread integrated out: Box & Tiao, Bayesian
 * Inference in Statistical Analysis (1973), 2.2); less than 19 to 1 is open.
 * Of touches that fit exactly rounding is what is left of either sum. */
static inline bool jaw__alike(const jaw__search *search, double least,
                              double other)
{
    const double dof = (double)search->space->n - jaw__free(search);
    const double doubt = search->space->noise * search->space->noise;
    const double ratio = (other + doubt) / (least + doubt);

    return pow(ratio, dof / 2) < 19;
}

#endif
