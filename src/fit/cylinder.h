/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cylinder.h: what the files of the fit of cylinders share; not public. */
#ifndef JAW_FIT_CYLINDER_H
#define JAW_FIT_CYLINDER_H

#include "curved.h"

/* What is known, in units. */
typedef struct jaw__known {
    bool has_axis;
    double axis[3], r; /* r 0: not known */
} jaw__known;

/* A direction and how well the best circle across it does: mean square
 * distance as far as an algebraic fit shows it. */
typedef struct jaw__way {
    double w[3], off;
    double c[3], r; /* that circle (Kasa's), its centre from the mean */
} jaw__way;

enum { JAW__WAYS_MOST = 16 };

/* jaw__ways: the `most` best directions that differ from one another by 17
 * degrees at least, best first; returns how many. */
int jaw__ways(const jaw__bulk *bulk, int most, jaw__way ways[]);

/* jaw__way_first: the best of fewer, sooner.
 * jaw__way_refine: the minimum of `off` next to it; false when none is near. */
void jaw__way_first(const jaw__bulk *bulk, jaw__way *way);
bool jaw__way_refine(const jaw__bulk *bulk, jaw__way *way);

/* jaw__way_along: a given one. */
void jaw__way_along(const jaw__bulk *bulk, const double w[3], jaw__way *way);

/* jaw__way_bow: along a direction the parabola over the longer side of what is
 * seen along it. */
jaw__curved jaw__way_bow(const jaw__bulk *bulk, const double w[3]);

/* jaw__quadrics: what quadrics leave, by the coefficients of their second
 * degree (S of cylinder_rival.c, its lower triangle), and its trace. */
typedef struct jaw__quadrics {
    double s[JAW__SOLVE_MOST][JAW__SOLVE_MOST], all;
} jaw__quadrics;

void jaw__quadrics_make(const jaw__bulk *bulk, jaw__quadrics *quadrics);

/* jaw__quadrics_way: the direction of the one that leaves least, as if it were
 * a cylinder; of *way no more than that is set, as of one that is worse than
 * any.  False when there is none. */
bool jaw__quadrics_way(const jaw__quadrics *quadrics, jaw__way *way);

/* jaw__has_rival: whether, next to a cylinder that leaves this mean square, one
 * in a direction that differs by 12 degrees and more may leave less than nine
 * times as much. */
bool jaw__has_rival(const jaw__quadrics *quadrics, const jaw__curved *at,
                    double mean);

/* jaw__shared: of what touches lie off one cylinder along its normals, the mean
 * share of the square that lies along the normals of another: so much of the
 * spread of touches on one is seen from the other. */
double jaw__shared(const jaw__space *space, const jaw__curved *a,
                   const jaw__curved *b);

/* jaw__cylinder_search: the best there is; JAW_OK, JAW_ERANK, JAW_ENOCONV. */
jaw_status jaw__cylinder_search(const jaw__search *search,
                                const jaw__known *given, jaw__rest *best);

jaw_status jaw__cylinder_report(const jaw__search *search,
                                const jaw__rest *rest, jaw_cylinder *cylinder,
                                double resid[]);
jaw_status jaw__cylinder_give_up(jaw_status status, size_t n,
                                 jaw_cylinder *cylinder, double resid[]);

#endif
