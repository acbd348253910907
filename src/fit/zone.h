/* SPDX-License-Identifier: GPL-3.0-or-later */
/* zone.h: what the zones share; not public.
 *
 * The narrowest zone is one of finitely many, each held by a few touches, and
 * several may be as narrow: of a square, two strips.  Which of them comes out
 * is then not left to rounding: widths that differ by less than JAW__ALIKE
 * times the extent are the same, and a rule of the zone's own decides.
 *
 * A touch is left out of a zone when it lies off by more than JAW__SLACK times
 * the extent: a few more roundings than make it. */
#ifndef JAW_FIT_ZONE_H
#define JAW_FIT_ZONE_H

#include <jawline/fit.h>

#include "hull.h"
#include "view.h"

#define JAW__ALIKE (4 * DBL_EPSILON)
#define JAW__SLACK (8 * DBL_EPSILON)

/* Directions and places that differ by less are one, for rules that prefer. */
#define JAW__SAME 1e-9

/* Touches as hull.h wants them: times a power of two, at most 1, and rounded
 * to multiples of 2^-150. */
typedef struct jaw__zone_flat {
    jaw_vec2 *p;
    jaw_vec2 *q;     /* from the middle, for numbers that need no exact sign;
                        of one block with p */
    jaw_vec2 middle;
    size_t n;
    double scale;  /* by which coordinates were multiplied */
    double extent; /* greatest distance from the first touch */
    double noise;  /* jaw__noise of the coordinates, scaled */
} jaw__zone_flat;

typedef struct jaw__zone_solid {
    jaw_vec3 *p;
    size_t n;
    double scale, extent, noise;
} jaw__zone_solid;

/* jaw__zone_flat_make: JAW_OK, JAW_EFEW (n < least), JAW_ENOTFINITE, JAW_ERANK
 * (all in one place), JAW_ENOMEM.  In any case p is to be freed. */
jaw_status jaw__zone_flat_make(jaw__zone_flat *flat, const jaw_vec2 p[],
                               size_t n, size_t least);
jaw_status jaw__zone_solid_make(jaw__zone_solid *solid, const jaw_vec3 p[],
                                size_t n, size_t least);

jaw_status jaw__zone_give_up(jaw_status status, jaw_zone *zone);

/* jaw__zone_round: writes a zone between two circles; scaled numbers, the
 * centre from the middle. */
void jaw__zone_round(jaw_zone *zone, const jaw__zone_flat *flat,
                     jaw_vec2 centre, double low, double high, double width);

/* jaw__zone_held_by: the n touches that hold it, n at most four. */
void jaw__zone_held_by(jaw_zone *zone, const size_t touch[], size_t n);

static inline double jaw__apart(jaw_vec2 a, jaw_vec2 b)
{
    return hypot(b.x - a.x, b.y - a.y);
}

/* jaw__through: the centre of the circle through three touches; of three on one
 * line: not finite.  From the corner with the widest angle, where it is as good
 * as the touches are; *r: the largest of their distances. */
jaw_vec2 jaw__through(jaw_vec2 a, jaw_vec2 b, jaw_vec2 c, double *r);

/* jaw__tidy: to a multiple of 2^-150; what is larger than 2^-99 is one. */
static inline double jaw__tidy(double v)
{
    return fabs(v) < 0x1p-99 ? (v + 0x1p-98) - 0x1p-98 : v;
}

/* jaw__quiet: a component of a unit vector; 0 when it is rounding alone, so
 * that a sign that hangs on it does not. */
static inline double jaw__quiet(double component)
{
    return fabs(component) <= 2 * DBL_EPSILON ? 0 : component;
}

/* jaw__ranked: -1 when a comes first, 1 when b does, 0 when they are one. */
static inline int jaw__ranked(double a, double b, double same)
{
    return a < b - same ? -1 : a > b + same ? 1 : 0;
}

#endif
