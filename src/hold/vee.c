/* SPDX-License-Identifier: GPL-3.0-or-later */
/* vee.c: round stock in a V-block or on parallels.  In a V it touches both
 * flanks, each a radius from the axis, so the axis stands above the sharp
 * bottom by r / sin(angle / 2); on a flat that is r, a V of 180 degrees. */
#include "hold.h"

#include <math.h>

#define PI 3.14159265358979323846

/* share: height of the axis above `below`, in radii. */
static jaw_status lay(jaw_length below, jaw_length diameter, double share,
                      jaw_held_round *held)
{
    const double none = JAW__HOLD_NAN;
    const jaw_figure nothing = jaw_figure_make(none, none, none);
    jaw_status status = jaw__length_check(below);

    if (status == JAW_OK)
        status = jaw__above_zero(diameter);
    *held = (jaw_held_round){nothing, nothing};
    if (status != JAW_OK)
        return status;
    double r = diameter.value / 2, u = diameter.known / 2;
    held->axis = jaw_figure_make(below.value + share * r,
                                 hypot(below.known, share * u), INFINITY);
    /* axis and top share the stock's error, so it does not add in squares */
    held->top = jaw_figure_make(below.value + (share + 1) * r,
                                hypot(below.known, (share + 1) * u), INFINITY);
    return JAW_OK;
}

jaw_status jaw_hold_vee(jaw_length apex, double angle, jaw_length diameter,
                        jaw_held_round *held)
{
    jaw_length none = {JAW__HOLD_NAN, 0};

    if (angle > 0 && angle < PI)
        return lay(apex, diameter, 1 / sin(angle / 2), held);
    (void)lay(none, none, 1, held); /* all NaN */
    return isfinite(angle) ? JAW_EDOMAIN : JAW_ENOTFINITE;
}

jaw_status jaw_hold_jaws(jaw_length under, jaw_length diameter,
                         jaw_held_round *held)
{
    return lay(under, diameter, 1, held);
}
