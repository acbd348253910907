/* SPDX-License-Identifier: GPL-3.0-or-later */
/* vec3.h: products of vectors in space; shared by the modules, not public. */
#ifndef JAW__VEC3_H
#define JAW__VEC3_H

#include <jawline/base.h>

static inline double jaw__dot(jaw_vec3 a, jaw_vec3 b)
{
    return a.x * b.x + a.y * b.y + a.z * b.z;
}

static inline jaw_vec3 jaw__cross(jaw_vec3 a, jaw_vec3 b)
{
    return (jaw_vec3){a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z,
                      a.x * b.y - a.y * b.x};
}

#endif
