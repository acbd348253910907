/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bend.h: a circle as a bent line, and the search for the best one.  Shared by
 * the fits; not public. */
#ifndef JAW_FIT_BEND_H
#define JAW_FIT_BEND_H

#include <jawline/fit.h>

#include "parallel.h"

/* A circle that leaves less than this share of what the best line leaves is
 * the one that was touched: no other minimum of the sum of squares comes near
 * (by trial over random touches, tests/fit/circle_global.c).  Above it, all
 * that can be found are compared. */
#define JAW__CLEAR_SHARE 1e-3

/* The circle that passes through `foot` in direction `turn` and bends left by
 * `bend` = 1 / radius, right when negative; a straight line when 0. */
typedef struct jaw__bend {
    jaw_vec2 foot; /* from the view's m */
    jaw__turn turn;
    double bend;
} jaw__bend;

/* Everything that has to do with the touches as a whole. */
typedef struct jaw__shape {
    jaw__parallel line; /* their best line; its view is theirs */
    jaw__bend kasa;     /* start: the circle of Kasa */
    jaw__bend bow;      /* start: the parabola over the line */
} jaw__shape;

typedef struct jaw__found {
    jaw__bend at;
    double ssr; /* in units */
} jaw__found;

/* jaw__shape_make: JAW_OK, JAW_ENOTFINITE; JAW_ERANK when all touches are in
 * one place.  All on one line is for the caller to see (vv). */
jaw_status jaw__shape_make(jaw__shape *shape, const jaw_vec2 p[], size_t n);
bool jaw__shape_is_line(const jaw__shape *shape);

/* jaw__bend_settle: the minimum of the sum of squared distances near start;
 * false when none was reached.  known: the bend stays as it is. */
bool jaw__bend_settle(const jaw__shape *shape, const jaw__bend *start,
                      bool known, jaw__found *found);

/* jaw__bend_near: the same circle, with its foot next to the touches. */
void jaw__bend_near(const jaw__shape *shape, bool known, jaw__found *found);

/* jaw__bend_circle: from a centre, seen from the view's m. */
jaw__bend jaw__bend_circle(jaw_vec2 centre, double r);
jaw_vec2 jaw__bend_centre(const jaw__bend *at);

/* jaw__bend_report: the circle with everything known of it. */
jaw_status jaw__bend_report(const jaw__shape *shape, const jaw__found *found,
                            bool known, jaw_circle *c, double resid[]);

/* jaw__weak: some direction of the centre has a cofactor above 100, ten times
 * the spread of a touch: the matrix less 100 of the unit matrix is then not
 * negative. */
static inline bool jaw__weak(const double q[6])
{
    const double a = q[0] - 100, c = q[3] - 100;

    return a > 0 || c > 0 || a * c < q[1] * q[1];
}

/* jaw__circle_finish: what follows from q and ssr; scale brings lengths to
 * millimetres. */
static inline void jaw__circle_finish(jaw_circle *c, double ssr, double n,
                                      double dof, double scale)
{
    const bool spare = dof > 0;
    const double variance = spare ? ssr / dof : JAW__NAN;

    c->dof = jaw__dof(dof);
    c->ssr = ssr * scale * scale;
    c->rms = spare ? sqrt(ssr / n) * scale : JAW__NAN;
    c->s = sqrt(variance) * scale;
    for (int i = 0; i < 6; i++)
        c->cov[i] = variance * scale * scale * c->q[i];
    c->flags = (spare ? 0u : JAW_NO_CHECK) | (jaw__weak(c->q) ? JAW_WEAK : 0u);
}

jaw_status jaw__circle_give_up(jaw_status status, size_t n, jaw_circle *c,
                               double resid[]);

#endif
