/* SPDX-License-Identifier: GPL-3.0-or-later */
/* measure.h: what touches (tips) and what was read (touches). */
#ifndef JAWLINE_MEASURE_H
#define JAWLINE_MEASURE_H

#include <jawline/base.h>

#ifdef __cplusplus
extern "C" {
#endif

/* What a tip looks like.  Only the end matters: a ball touches a tilted face
 * beside its lowest point, a flat end is taken to touch at its middle. */
#define JAW_TIP_SHAPE_LIST(X)                                                  \
    X(JAW_TIP_CYLINDER, "cylinder", "edge finder or other turning cylinder")   \
    X(JAW_TIP_BALL, "ball", "probe or stylus with a ball")                     \
    X(JAW_TIP_PIN, "pin", "gauge pin or dowel held in the spindle")            \
    X(JAW_TIP_CUTTER, "cutter", "a tool's own cutting end, with or without paper")

typedef enum jaw_tip_shape {
#define JAW_TIP_ENUM(name, word, text) name,
    JAW_TIP_SHAPE_LIST(JAW_TIP_ENUM)
#undef JAW_TIP_ENUM
    JAW_TIP_SHAPES
} jaw_tip_shape;

const char *jaw_tip_shape_word(jaw_tip_shape shape); /* NULL when unknown */

typedef struct jaw_tip {
    jaw_tip_shape shape;
    double diameter; /* mm, effective, >= 0; 0 reads the surface itself */
    double paper;    /* mm, >= 0, between tip and surface, on side and end */
    double length;   /* mm, gauge line to the end; NaN when not known */
    double repeat;   /* mm, standard deviation of one touch; NaN: not stated */
} jaw_tip;

/* jaw_tip_make: a plain tip of that diameter: no paper, the rest not known. */
jaw_tip jaw_tip_make(jaw_tip_shape shape, double diameter);

/* jaw_tip_check: JAW_OK; JAW_ENOTFINITE, JAW_EDOMAIN (negative size, repeat or
 * length not positive). */
jaw_status jaw_tip_check(const jaw_tip *tip);

/* jaw_tip_side: mm between the spindle axis and a wall that is touched. */
double jaw_tip_side(const jaw_tip *tip);

/* jaw_tip_end: mm from the tip's lowest point to a face that is touched
 * (paper), and jaw_tip_end_radius: radius of the end where it touches (ball:
 * half the diameter; flat ends: 0). */
double jaw_tip_end(const jaw_tip *tip);
double jaw_tip_end_radius(const jaw_tip *tip);

/* JAW_REPEAT_DEFAULT: mm, taken when nobody stated how well a tip repeats.
 * Common practice, no source: a mechanical edge finder used with care comes
 * back within a few tenths of a thousandth of an inch. */
#define JAW_REPEAT_DEFAULT 0.005

/* A touch: the reading when a tip met a surface: mm, machine coordinates, of
 * the spindle axis (x, y) and the gauge line (z).  A coordinate that was not
 * read is NaN. */
typedef struct jaw_touch {
    double x, y, z;
} jaw_touch;

#ifdef __cplusplus
}
#endif
#endif
