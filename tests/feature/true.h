/* SPDX-License-Identifier: GPL-3.0-or-later */
/* true.h: features that are known exactly, and the readings that touching them
 * gives.  All in long double and straight from the geometry: where the tip's
 * centre stands when the tip meets the surface.  Nothing of src is used. */
#ifndef FEATURE_TRUE_H
#define FEATURE_TRUE_H

#include "random.h"

#include <jawline/feature.h>

typedef struct true_wall {
    long double px, py;   /* a point on it */
    long double nx, ny;   /* outward normal, unit */
    jaw_side faces;       /* the axis nearest to the normal */
} true_wall;

typedef struct true_walls { /* the wall at low has its normal inward */
    long double px, py;   /* a point halfway */
    long double dx, dy;   /* along, unit */
    long double width;
} true_walls;

typedef struct true_round {
    long double x, y, radius;
} true_round;

typedef struct true_face {
    long double px, py, pz;
    long double nx, ny, nz; /* unit, nz > 0 */
} true_face;

/* The centre of a tip that stands `side` off the wall, `at` along it from the
 * point, to the right of the outward normal. */
jaw_touch touch_wall(const true_wall *w, double at, double side);

/* which = 1: the wall on the side of the direction turned by +90 degrees, -1:
 * the other.  between: from inside (slot), else from outside (web). */
jaw_touch touch_walls(const true_walls *w, int which, double at, double side,
                      bool between);

/* angle: where on the wall, as seen from the centre. */
jaw_touch touch_round(const true_round *c, double angle, double side,
                      bool inside);

/* Lowest point of the end, when a ball (end > 0) or a flat end meets the face
 * with its centre over x, y; `gap` lies in between. */
jaw_touch touch_face(const true_face *f, double x, double y, double end,
                     double gap);

/* Random ones; angles up to `most` (rad) off an axis. */
true_wall random_wall(random_source *r, double most);
true_walls random_walls(random_source *r, double most);
true_face random_face(random_source *r, double most);

/* How far a point lies off the wall, outward positive. */
double off_wall(const true_wall *w, jaw_vec2 p);
double off_middle(const true_walls *w, jaw_vec2 p);
double off_face(const true_face *f, jaw_vec3 p);

#endif
