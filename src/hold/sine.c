/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sine.c: the angle of a sine bar on gauge blocks, and the blocks for an angle. */
#include "hold.h"

#include <math.h>

static jaw_status check(jaw_length bar, jaw_length blocks)
{
    jaw_status status = jaw__above_zero(bar);

    if (status == JAW_OK)
        status = jaw__length_check(blocks);
    if (status != JAW_OK)
        return status;
    return blocks.value < 0 || blocks.value >= bar.value ? JAW_EDOMAIN : JAW_OK;
}

/* asin loses digits near 90 degrees; the other leg by (bar - blocks) does not.
 * d angle = (d blocks - sin(angle) d bar) / leg. */
jaw_status jaw_hold_sine(jaw_length bar, jaw_length blocks, jaw_figure *angle)
{
    const double none = JAW__HOLD_NAN;
    jaw_status status = check(bar, blocks);

    *angle = jaw_figure_make(none, none, none);
    if (status != JAW_OK)
        return status;
    double part = blocks.value / bar.value;
    double leg = sqrt((bar.value - blocks.value) / bar.value * (1 + part)) *
                 bar.value;
    *angle = jaw_figure_make(atan2(blocks.value, leg),
                             hypot(blocks.known, part * bar.known) / leg,
                             INFINITY);
    return JAW_OK;
}

jaw_status jaw_hold_stack(jaw_length bar, double angle, jaw_figure *stack)
{
    const double none = JAW__HOLD_NAN;
    jaw_status status = jaw__above_zero(bar);

    *stack = jaw_figure_make(none, none, none);
    if (status == JAW_OK && !isfinite(angle))
        status = JAW_ENOTFINITE;
    if (status == JAW_OK && !(angle >= 0 && angle < M_PI_2))
        status = JAW_EDOMAIN;
    if (status == JAW_OK)
        *stack = jaw_figure_make(bar.value * sin(angle),
                                 bar.known * sin(angle), INFINITY);
    return status;
}
