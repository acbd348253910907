/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tip.c: what touches.  A tip stands off a wall by its radius and off a face
 * by whatever lies between; paper counts on both. */
#include <jawline/measure.h>

#include <math.h>

static const char *const shape_words[JAW_TIP_SHAPES] = {
#define TIP_WORD(name, word, text) [name] = word,
    JAW_TIP_SHAPE_LIST(TIP_WORD)
#undef TIP_WORD
};

const char *jaw_tip_shape_word(jaw_tip_shape shape)
{
    if ((int)shape < 0 || shape >= JAW_TIP_SHAPES)
        return NULL;
    return shape_words[shape];
}

jaw_tip jaw_tip_make(jaw_tip_shape shape, double diameter)
{
    return (jaw_tip){.shape = shape,
                     .diameter = diameter,
                     .paper = 0,
                     .length = (double)NAN,
                     .repeat = (double)NAN};
}

/* Not stated (NaN) is fine; anything that was stated must be above zero. */
static jaw_status check_optional(double value)
{
    if (isnan(value))
        return JAW_OK;
    if (!isfinite(value))
        return JAW_ENOTFINITE;
    return value > 0 ? JAW_OK : JAW_EDOMAIN;
}

jaw_status jaw_tip_check(const jaw_tip *tip)
{
    if (jaw_tip_shape_word(tip->shape) == NULL)
        return JAW_EDOMAIN;
    if (!isfinite(tip->diameter) || !isfinite(tip->paper))
        return JAW_ENOTFINITE;
    if (tip->diameter < 0 || tip->paper < 0)
        return JAW_EDOMAIN;
    jaw_status status = check_optional(tip->length);
    return status != JAW_OK ? status : check_optional(tip->repeat);
}

double jaw_tip_side(const jaw_tip *tip)
{
    return tip->diameter / 2 + tip->paper;
}

double jaw_tip_end(const jaw_tip *tip)
{
    return tip->paper;
}

double jaw_tip_end_radius(const jaw_tip *tip)
{
    return tip->shape == JAW_TIP_BALL ? tip->diameter / 2 : 0;
}
