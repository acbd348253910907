/* SPDX-License-Identifier: GPL-3.0-or-later */
/* slope.h: how far a touch lies off a sphere or cylinder, and how that changes
 * with what can move (curved.c says why so).  Private to curved*.c. */
#ifndef JAW_FIT_SLOPE_H
#define JAW_FIT_SLOPE_H

#include "curved.h"

/* g on the side of the normal; w = r / distance; a = the first derivatives of
 * g. */
typedef struct jaw__slope {
    lanes g, w, a[JAW__FREE];
} jaw__slope;

LANES_FN jaw__slope jaw__slope_at(lanes t, lanes u, lanes v, lanes bend,
                                  bool round)
{
    const lanes one = lanes_all(1), half = lanes_all(0.5);
    lanes z = u * u + v * v;
    jaw__slope s;

    if (round)
        z += t * t;
    lanes q = 2 * v - bend * z;
    lanes root = lanes_root(lanes_larger(one - bend * q, lanes_all(0)));
    s.g = q / (one + root);
    /* a touch in the centre has no direction; it is given a steep one */
    s.w = one / lanes_larger(root, lanes_all(DBL_EPSILON));
    s.a[JAW__SHIFT] = (bend * v - one) * s.w;
    s.a[JAW__PITCH] = round ? -(t * s.w) : t * s.a[JAW__SHIFT];
    s.a[JAW__ROLL] = -(u * s.w);
    s.a[JAW__YAW] = round ? lanes_all(0) : bend * t * u * s.w;
    s.a[JAW__BEND] = (s.g * s.g - z) * half * s.w;
    return s;
}

#endif
