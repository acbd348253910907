/* SPDX-License-Identifier: GPL-3.0-or-later */
/* space.h: vectors in space, as far as the datums need them. */
#ifndef JAW_DATUM_SPACE_H
#define JAW_DATUM_SPACE_H

#include "src/base/vec3.h"

#include <math.h>

static inline jaw_vec3 jaw__plus(jaw_vec3 a, double k, jaw_vec3 b)
{
    return (jaw_vec3){a.x + k * b.x, a.y + k * b.y, a.z + k * b.z};
}

static inline jaw_vec3 jaw__minus(jaw_vec3 a, jaw_vec3 b)
{
    return (jaw_vec3){a.x - b.x, a.y - b.y, a.z - b.z};
}

static inline jaw_vec3 jaw__times(double k, jaw_vec3 a)
{
    return (jaw_vec3){k * a.x, k * a.y, k * a.z};
}

static inline jaw_vec3 jaw__unit_of(jaw_vec3 a)
{
    return jaw__times(1 / hypot(hypot(a.x, a.y), a.z), a);
}

#endif
