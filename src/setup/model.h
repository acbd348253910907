/* SPDX-License-Identifier: GPL-3.0-or-later */
/* model.h: the joint adjustment while it is being made, shared by unknowns.c
 * (what is sought), equations.c (what every touch and every known thing says of
 * it) and joint.c (solving, and carrying the corrections back). */
#ifndef JAW__MODEL_H
#define JAW__MODEL_H

#include "joint.h"

#include <math.h>

typedef struct jaw__model {
    jaw__solver *sv;
    jaw__joint *j;
    jaw_status status; /* of the first that went wrong */
} jaw__model;

static inline void jaw__keep_first(jaw__model *m, jaw_status status)
{
    if (m->status == JAW_OK)
        m->status = status;
}

static inline jaw_vec2 jaw__dir_of(double theta)
{
    return (jaw_vec2){cos(theta), sin(theta)};
}

static inline double jaw__along(jaw_vec2 dir, jaw_vec2 p, jaw_vec2 p0)
{
    return dir.x * (p.x - p0.x) + dir.y * (p.y - p0.y);
}

static inline double jaw__across(jaw_vec2 dir, jaw_vec2 p, jaw_vec2 p0)
{
    return dir.x * (p.y - p0.y) - dir.y * (p.x - p0.x);
}

/* A coordinate that was not read is that of p0. */
static inline jaw_vec2 jaw__centre_of(const jaw__part *part, jaw_touch t)
{
    return (jaw_vec2){isnan(t.x) ? part->p0.x : t.x,
                      isnan(t.y) ? part->p0.y : t.y};
}

static inline bool jaw__is_wall(const jaw_found *found)
{
    return found->kind == JAW_EDGE || found->kind == JAW_SLOT ||
           found->kind == JAW_WEB || found->kind == JAW_BAR ||
           found->kind == JAW_SWEEP;
}

/* unknowns.c.  jaw__begin_part: the values to start from, as the feature was
 * found by itself.  jaw__number_unknowns: anew each round, always in the same
 * order. */
void jaw__begin_part(jaw__model *m, long f);
void jaw__number_unknowns(jaw__model *m);

/* jaw__zero_of: the zero that first names a feature in x or y, and in which;
 * NULL when none does. */
const jaw_zero_entry *jaw__zero_of(const jaw_setup *setup, long f,
                                   jaw_axis *axis);

/* jaw__dial_rest (equations.c): what one reading of a dial says beyond what its
 * centre makes of it, at the values of part; slope: of the distance to the wall
 * by the centre, NULL when not wanted. */
double jaw__dial_rest(const jaw__solver *sv, long f, const jaw__part *part,
                      jaw_touch t, jaw_vec2 *slope);

/* equations.c: all of them, at the values that the parts have now. */
void jaw__write_equations(jaw__model *m);

#endif
