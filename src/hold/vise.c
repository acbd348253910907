/* SPDX-License-Identifier: GPL-3.0-or-later */
/* vise.c: stock on parallels between the jaws of a vise: heights add, and as
 * nothing ties their errors together so do their variances (JCGM 100, 5.1.2).*/
#include "hold.h"

#include <math.h>

/* Common practice, no source. */
#define LEAST_GRIP 3.0  /* mm */
#define LONG_SHARE 2.0  /* of the jaws' width */

const char *jaw_hold_text(unsigned bit)
{
    switch (bit) {
#define HOLD_TEXT(name, place, text) case name: return text;
        JAW_HOLD_LIST(HOLD_TEXT)
#undef HOLD_TEXT
    default:
        return NULL;
    }
}

/* ----------------------------------------------------------------- checking */

jaw_status jaw__length_check(jaw_length length)
{
    if (isnan(length.value))
        return JAW_EUNKNOWN;
    if (isinf(length.value) || !isfinite(length.known))
        return JAW_ENOTFINITE;
    return length.known < 0 ? JAW_EDOMAIN : JAW_OK;
}

jaw_status jaw__above_zero(jaw_length length)
{
    jaw_status status = jaw__length_check(length);

    return status == JAW_OK && length.value <= 0 ? JAW_EDOMAIN : status;
}

/* The first that is not good. */
static jaw_status first_of(const jaw_status status[], size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (status[i] != JAW_OK)
            return status[i];
    return JAW_OK;
}

/* One that may be left out. */
static jaw_status optional(jaw_length length)
{
    jaw_status status = jaw__above_zero(length);

    return status == JAW_EUNKNOWN ? JAW_OK : status;
}

static jaw_status check(const jaw_vise *v)
{
    const jaw_length grip = {v->least_grip, 0}, rise = v->parallels;
    const jaw_status status[] = {
        jaw__length_check(v->bed),
        jaw__above_zero((jaw_length){v->jaw_height, 0}),
        jaw__above_zero(v->stock[2]),
        rise.value == 0 ? jaw__length_check(rise) : optional(rise),
        optional(v->stock[0]),
        optional(v->stock[1]),
        optional((jaw_length){v->jaw_width, 0}),
        optional((jaw_length){v->opening, 0}),
        grip.value == 0 ? JAW_OK : optional(grip),
    };

    return first_of(status, sizeof status / sizeof status[0]);
}

/* ------------------------------------------------------------------ holding */

/* A comparison with what was not stated is false. */
static unsigned wrong_with(const jaw_vise *v, const jaw_held *held)
{
    const double least = isnan(v->least_grip) ? LEAST_GRIP : v->least_grip;
    unsigned wrong = 0;

    if (held->grip < least)
        wrong |= JAW_HOLD_LITTLE_GRIP;
    if (held->above < 0)
        wrong |= JAW_HOLD_BELOW_JAWS;
    if (v->stock[1].value > v->opening)
        wrong |= JAW_HOLD_TOO_WIDE;
    if (v->stock[0].value > LONG_SHARE * v->jaw_width)
        wrong |= JAW_HOLD_LONG;
    return wrong;
}

static jaw_status give_up(jaw_status status, unsigned wrong, jaw_held *held)
{
    const double none = JAW__HOLD_NAN;
    const jaw_figure nothing = jaw_figure_make(none, none, none);

    *held = (jaw_held){nothing, nothing, none, none, wrong};
    return status;
}

jaw_status jaw_hold_vise(const jaw_vise *vise, jaw_held *held)
{
    const jaw_vise v = *vise; /* held may lie where it does */
    const bool bare = isnan(v.parallels.value);
    const double rise = bare ? 0 : v.parallels.value;
    const jaw_status status = check(&v);

    if (status != JAW_OK)
        return give_up(status, 0, held);
    if (rise >= v.jaw_height)
        return give_up(JAW_ECONFLICT, JAW_HOLD_PARALLELS_HIGH, held);
    double under = v.bed.value + rise, stock = v.stock[2].value;
    double u = hypot(v.bed.known, bare ? 0 : v.parallels.known);
    held->under = jaw_figure_make(under, u, INFINITY);
    held->top = jaw_figure_make(under + stock, hypot(u, v.stock[2].known),
                                INFINITY);
    held->grip = fmin(v.jaw_height - rise, stock);
    held->above = rise + stock - v.jaw_height;
    held->wrong = wrong_with(&v, held);
    return JAW_OK;
}
