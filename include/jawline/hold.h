/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hold.h: what holds the part, as a stack of known things: a vise with its bed,
 * parallels and jaws, a V-block, and the stock in them.  Before anything is
 * touched it says where the part's zero will be, how sure that is, and whether
 * the stack can hold at all.
 *
 * Heights are machine Z for a tool of length 0, or above any level that all of
 * them share; lengths mm.  Every one may carry a standard uncertainty: a
 * jaw_length with known = 0 is exact, with value NaN not stated.  Errors of
 * different lengths are independent, so variances add (JCGM 100, 5.1.2); what
 * follows has dof INFINITY.
 *
 * Common status: JAW_OK, JAW_EUNKNOWN (a value that is needed is not stated),
 * JAW_ENOTFINITE, JAW_EDOMAIN (a size that is not positive, a known that is
 * negative); on failure every number is NaN. */
#ifndef JAWLINE_HOLD_H
#define JAWLINE_HOLD_H

#include <jawline/trust.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef struct jaw_length {
    double value; /* mm; NaN: not stated */
    double known; /* mm, one standard deviation, >= 0 */
} jaw_length;

typedef struct jaw_vise {
    jaw_length bed;       /* height of the bed */
    jaw_length parallels; /* how high they are; 0 or NaN: none */
    double jaw_height;    /* mm, top of the jaws above the bed, > 0 */
    double jaw_width;     /* mm, along the jaw, > 0; NaN */
    double opening;       /* mm, as far as the jaws go apart; NaN */
    jaw_length stock[3];  /* x along the jaw, y across, z up; x, y NaN: not
                             stated */
    double least_grip;    /* mm >= 0, height of stock in the jaws that is asked
                             for; NaN: 3 mm (common practice, no source) */
} jaw_vise;

/* What can be wrong with a stack: bits, each one message. */
#define JAW_HOLD_LIST(X)                                                       \
    X(JAW_HOLD_PARALLELS_HIGH, 0, "the parallels reach the top of the jaws: nothing is gripped") \
    X(JAW_HOLD_LITTLE_GRIP, 1, "the jaws grip little of the stock")            \
    X(JAW_HOLD_BELOW_JAWS, 2, "the stock's top lies below the jaws' top: a cutter meets the jaws") \
    X(JAW_HOLD_TOO_WIDE, 3, "the stock is wider than the jaws open")           \
    X(JAW_HOLD_LONG, 4, "the stock reaches far beyond the jaws")

enum {
#define JAW_HOLD_ENUM(name, bit, text) name = 1 << (bit),
    JAW_HOLD_LIST(JAW_HOLD_ENUM)
#undef JAW_HOLD_ENUM
    JAW_HOLD_END
};

/* jaw_hold_text: the message of one bit; NULL for one that is none of these. */
const char *jaw_hold_text(unsigned bit);

typedef struct jaw_held {
    jaw_figure top;     /* of the stock */
    jaw_figure under;   /* of the stock: top of the parallels, or the bed */
    double grip;        /* mm, height of stock between the jaws */
    double above;       /* mm, of stock over the jaws; negative: below */
    unsigned wrong;     /* bits of JAW_HOLD_LIST */
} jaw_held;

/* jaw_hold_vise: the stack in a vise.  JAW_HOLD_LONG: longer than twice the
 * jaws' width (common practice, no source).
 * Status:    as above (needed: bed, jaw_height, stock z), JAW_OK also with bits
 *            in wrong; JAW_ECONFLICT: the parallels are as high as the jaws or
 *            higher, nothing is held, and wrong says so */
jaw_status jaw_hold_vise(const jaw_vise *vise, jaw_held *held);

/* jaw_hold_vee: round stock of a diameter in a V of included angle `angle`
 * (rad, (0, pi), else JAW_EDOMAIN), whose sharp bottom stands at `apex`: the
 * height of the axis, apex + r / sin(angle / 2), and of the top.
 * jaw_hold_jaws: round stock on parallels between flat jaws: axis at under + r.
 * The errors of axis and top are not independent. */
typedef struct jaw_held_round {
    jaw_figure axis, top;
} jaw_held_round;

jaw_status jaw_hold_vee(jaw_length apex, double angle, jaw_length diameter,
                        jaw_held_round *held);
jaw_status jaw_hold_jaws(jaw_length under, jaw_length diameter,
                         jaw_held_round *held);

/* jaw_hold_sine: the angle (rad) of a sine bar of length `bar`
 * between its rollers: sin angle = blocks / bar; its uncertainty from both.
 * Status:    also JAW_EDOMAIN unless 0 <= blocks < bar
 * Accuracy:  4e-16 of the angle (tests/hold/sine.c) */
jaw_status jaw_hold_sine(jaw_length bar, jaw_length blocks, jaw_figure *angle);

/* jaw_hold_stack: the stack for an angle (rad): blocks = bar sin angle; its
 * uncertainty from that of the bar.
 * Status:    also JAW_EDOMAIN unless 0 <= angle < pi / 2
 * Accuracy:  4e-16 of the stack (tests/hold/sine.c) */
jaw_status jaw_hold_stack(jaw_length bar, double angle, jaw_figure *stack);

#ifdef __cplusplus
}
#endif
#endif
