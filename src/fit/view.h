/* SPDX-License-Identifier: GPL-3.0-or-later */
/* view.h: touches seen from a near point and in a turned direction.  Shared by
 * the fits; not public.
 *
 * Everything is summed about a point among the touches, and the distance from
 * a line through that point is formed without rounding of its own, so what a
 * fit finds is as good as its residuals are small, however far off the origin
 * lies and whatever the direction. */
#ifndef JAW_FIT_VIEW_H
#define JAW_FIT_VIEW_H

#include <jawline/base.h>

#include "../base/nan.h"
#include "lanes.h"

#include <float.h>
#include <limits.h>

#define JAW__NAN ((double)NAN)

/* jaw__size: the largest |coordinate| of v[n]; NaN when one is not finite. */
double jaw__size(const double v[], size_t n);

/* jaw__unit: the power of two by which coordinates of this size are multiplied
 * before they are squared; 1 for every size that needs none. */
double jaw__unit(double size);

/* jaw__noise: by how much rounding of n coordinates of this size, half a last
 * digit each, can change a singular value of the touches.  Whatever is smaller
 * than this can't be told from nothing (rank rule of Golub & Van Loan, Matrix
 * Computations, 5.4.1: n eps times the size). */
static inline double jaw__noise(double size, size_t n)
{
    return (double)n * DBL_EPSILON * size;
}

/* jaw__dof: as an int, at most INT_MAX. */
static inline int jaw__dof(double dof)
{
    return dof < INT_MAX ? (int)dof : INT_MAX;
}

typedef struct jaw__view {
    const jaw_vec2 *p;
    size_t n;
    double unit; /* coordinates are multiplied by this */
    jaw_vec2 m;  /* mean of the touches, rounded, in units */
} jaw__view;

/* A direction; c^2 + s^2 = 1 to rounding. */
typedef struct jaw__turn {
    double c, s;
} jaw__turn;

/* What the touches look like along (u) and across (v) a direction, from m. */
typedef struct jaw__sums {
    double u, v;       /* means */
    double uu, uv, vv; /* sums of products about the means */
} jaw__sums;

void jaw__view_make(jaw__view *view, const jaw_vec2 p[], size_t n,
                    double unit);
jaw__sums jaw__view_sums(const jaw__view *view, jaw__turn turn);

/* jaw__view_across: signed distances across turn and then `more`, from the
 * means in sums (which belong to turn), times sign, in the touches' unit. */
void jaw__view_across(const jaw__view *view, jaw__turn turn,
                      const jaw__sums *sums, jaw__turn more, double sign,
                      double resid[]);

/* jaw__turn_principal: the turn that makes uv vanish and uu the larger.
 * jaw__turn_by: both turns, one after the other. */
jaw__turn jaw__turn_principal(double uu, double uv, double vv);
jaw__turn jaw__turn_by(jaw__turn a, jaw__turn b);

/* Touches p[0 .. count) as seen along turn from m - o: u along, v across.
 * v is right to its own last digits: the differences and products carry
 * their rounding along.  o may be zero. */
LANES_FN void jaw__look(const jaw__view *view, const jaw_vec2 *p,
                             size_t count, jaw_vec2 o, jaw__turn turn,
                             lanes *u, lanes *v)
{
    lanes x, y, xl, yl, ol, e1, e2, e3;
    const lanes k = lanes_all(view->unit);
    const lanes c = lanes_all(turn.c), s = lanes_all(turn.s);

    if (count >= JAW__LANES)
        lanes_load(p, 1, &x, &y);
    else
        lanes_load_some(p, 1, count, &x, &y);
    x = lanes_differ(x * k, lanes_all(view->m.x), &xl);
    y = lanes_differ(y * k, lanes_all(view->m.y), &yl);
    x = lanes_differ(x, lanes_all(o.x), &ol);
    xl = xl + ol;
    y = lanes_differ(y, lanes_all(o.y), &ol);
    yl = yl + ol;
    *u = c * x + s * y;
    lanes cy = lanes_product(c, y, &e1);
    lanes sx = lanes_product(s, x, &e2);
    lanes d = lanes_differ(cy, sx, &e3);
    *v = d + (e3 + (e1 - e2) + (c * yl - s * xl));
}

#endif
