/* SPDX-License-Identifier: GPL-3.0-or-later */
/* feature.h: shared inside src/feature: touches as tip centres in the plane,
 * kept on the stack for the sizes that people type and on the heap beyond. */
#ifndef JAW__FEATURE_H
#define JAW__FEATURE_H

#include <jawline/feature.h>

#include "../base/nan.h"

enum { JAW__FEW = 64 };

/* Tip centres of touches, in x and y. */
typedef struct jaw__centres {
    jaw_vec2 *p;
    jaw_vec2 few[JAW__FEW];
    jaw_vec2 *many; /* NULL, or what jaw__centres_drop frees */
} jaw__centres;

/* Which coordinate every one of some touches lacks. */
typedef enum jaw__lack { JAW__LACK_NONE, JAW__LACK_X, JAW__LACK_Y } jaw__lack;

/* jaw__lack_of: JAW_OK and what is lacking in all; JAW_ENOTFINITE when only
 * some of t[n] lack it, or one lacks both, or a number is infinite. */
jaw_status jaw__lack_of(const jaw_touch t[], size_t n, jaw__lack *lack);

/* jaw__centres_take: the centres, with 0 for the coordinate that is lacking.
 * JAW_OK, JAW_ENOMEM; jaw__centres_drop is for JAW_OK only. */
jaw_status jaw__centres_take(jaw__centres *centres, const jaw_touch t[],
                             size_t n, jaw__lack lack);
void jaw__centres_drop(jaw__centres *centres);

/* The same in space: tip centres above the lowest points that were touched. */
typedef struct jaw__places {
    jaw_vec3 *p;
    jaw_vec3 few[JAW__FEW];
    jaw_vec3 *many;
} jaw__places;

/* jaw__places_take: with z raised by `up`; JAW_OK, JAW_ENOMEM; jaw__places_drop
 * is for JAW_OK only. */
jaw_status jaw__places_take(jaw__places *places, const jaw_touch t[], size_t n,
                            double up);
void jaw__places_drop(jaw__places *places);

/* jaw__solid_check: tip, known diameter and touches of a ball or bar. */
jaw_status jaw__solid_check(const jaw_touch t[], size_t n, const jaw_tip *tip,
                            double known);

/* jaw__span: distance between the outermost of p[n] along the unit vector. */
double jaw__span(const jaw_vec2 p[], size_t n, jaw_vec2 dir);

/* jaw__same_touch: JAW_SAME_TOUCH when two of t[n] are equal in every
 * coordinate, looked for among the numbers of touches that people type. */
unsigned jaw__same_touch(const jaw_touch t[], size_t n);

#endif
