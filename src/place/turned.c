/* SPDX-License-Identifier: GPL-3.0-or-later */
/* turned.c: the second side.  Half a turn about an axis keeps the coordinate
 * along it and reverses the other two. */
#include <jawline/place.h>

#include <math.h>

jaw_vec3 jaw_place_turned(jaw_over over, jaw_vec3 zero, jaw_vec3 p)
{
    const double nan = (double)NAN;

    switch (over) {
    case JAW_OVER_X:
        return (jaw_vec3){p.x - zero.x, zero.y - p.y, zero.z - p.z};
    case JAW_OVER_Y:
        return (jaw_vec3){zero.x - p.x, p.y - zero.y, zero.z - p.z};
    case JAW_OVER_Z:
        return (jaw_vec3){zero.x - p.x, zero.y - p.y, p.z - zero.z};
    }
    return (jaw_vec3){nan, nan, nan};
}
