/* SPDX-License-Identifier: GPL-3.0-or-later */
/* align.h: what the hand of an indicator says.  A wall swept along an axis, a
 * head swung over the table, a bore or boss swept round, a square reversed: from
 * readings to the angle, the shift and what to do with a soft hammer.
 *
 * Sign, everywhere: a reading is larger the farther the plunger is pushed in.
 * Only differences of readings count, so where the dial was set to zero does
 * not matter.  Readings and places are mm, angles rad.
 *
 * Given in all: repeat, the standard deviation of one reading, mm > 0; NaN: not
 * stated, and the residuals tell.  Uncertainties follow from it (dof INFINITY)
 * or from the residuals (their dof; with none left NaN and JAW_NO_CHECK).
 * resid may be NULL; on failure every number is NaN.
 *
 * Common status: JAW_OK, JAW_EFEW, JAW_ENOTFINITE, JAW_ERANK (readings in one
 * place), JAW_EDOMAIN (repeat, or an argument out of range). */
#ifndef JAWLINE_ALIGN_H
#define JAWLINE_ALIGN_H

#include <jawline/feature.h>
#include <jawline/trust.h>

#ifdef __cplusplus
extern "C" {
#endif

/* ------------------------------------------------------------ a wall, swept */

/* jaw_align_wall: the indicator hangs from the spindle and its plunger rests on
 * a wall while the table moves along an axis: at[n] are the readings of that
 * axis, reading[n] those of the indicator, n >= 2.
 *
 * Given:     faces    the wall's outward normal, by the nearest machine axis:
 *                     y- or y+ is swept along X, x- or x+ along Y
 * Returned:  skew     of the wall's direction against the axis, rad, ccw
 *                     positive seen from +Z; the same as that of an edge
 *            straight mm, width of the narrowest strip that holds all readings
 *                     (ISO 12780), 0 for n = 2
 *            span     mm, between the outermost places
 *            tap      mm >= 0, how far the wall leaves the axis over the span
 *            tap_at   the place of the end that stands farther out (towards
 *                     `faces`): push it in by tap, the other end being the pivot
 * Source:    least squares (JCGM 100, H.3); sign from the one line of setup.h */
typedef struct jaw_swept_wall {
    jaw_figure skew; /* rad */
    double span, tap, tap_u, tap_at;
    double straight;
    double rms;
    int dof; /* n - 2 */
    unsigned flags; /* JAW_NO_CHECK; JAW_STEEP above five degrees */
} jaw_swept_wall;

jaw_status jaw_align_wall(const double at[], const double reading[], size_t n,
                          jaw_side faces, double repeat, jaw_swept_wall *wall,
                          double resid[]);

/* --------------------------------------------------------- the head, swung */

/* jaw_align_head: the indicator is held in the spindle, off its axis by radius,
 * with its plunger down on the table, and swung round.  angle[n]: where the
 * plunger stands, ccw from X seen from +Z; n >= 3.
 *
 * Given:     cutter   mm, diameter of the cutter whose marks are asked for; NaN
 *            base     mm, between the bolts of the head or column; NaN
 * Returned:  tilt     rad: how far the spindle axis leans towards X and towards
 *                     Y, going up, against the square to the table.  A head that
 *                     leans towards X+ holds the indicator lower at X+, so it
 *                     reads more there: reading = mean + radius (tilt_x cos a +
 *                     tilt_y sin a), to first order
 *            rise     mm, reading at X+ less that at X-, at Y+ less that at Y-:
 *                     what is to go to zero
 *            over_cutter mm, how much lower one side of the cutter is than the
 *                     other along X and along Y: the step between two passes
 *                     that are fed square to it; NaN without cutter
 *            dish     mm, how hollow a pass is that is fed along the lean: half
 *                     the cutter's diameter times the sine of the whole lean
 *                     (the cutter's circle seen along the feed is an ellipse of
 *                     that half axis); NaN without cutter
 *            shim     mm, under one end of a base of that length, along X and
 *                     along Y, that takes the lean out; NaN without base */
typedef struct jaw_swung_head {
    jaw_figure tilt[2]; /* rad, towards X and towards Y */
    double rise[2];     /* mm */
    double over_cutter[2], dish;
    double shim[2];
    double rms;
    int dof; /* n - 3 */
    unsigned flags;
} jaw_swung_head;

jaw_status jaw_align_head(const double angle[], const double reading[],
                          size_t n, double radius, double cutter, double base,
                          double repeat, jaw_swung_head *head, double resid[]);

/* --------------------------------------------------------- a round, swept */

/* jaw_align_round: the indicator is held in the spindle and swept round inside
 * a bore or outside a boss.  angle[n]: where the plunger touches, ccw from X;
 * n >= 3, any azimuths.
 *
 * Given:     inside   true for a bore
 *            radius   mm, of the round, about; NaN: not known, and the second
 *                     order of a large shift is left out
 * Returned:  shift[2] mm: move the spindle by this much (machine X and Y) to
 *                     stand over the centre; add it to the spindle's reading
 *            cov[3]   mm^2, xx xy yy
 *            roundness mm, narrowest ring of the residuals (ISO 12181)
 *            second   mm, largest term of second order that was corrected, or
 *                     that is neglected when the radius is not known (NaN) */
typedef struct jaw_swept_round {
    jaw_figure shift[2];
    double cov[3];
    double roundness, second;
    double rms;
    int dof; /* n - 3 */
    unsigned flags; /* JAW_NO_CHECK, JAW_WEAK (azimuths crowd) */
} jaw_swept_round;

jaw_status jaw_align_round(const double angle[], const double reading[],
                           size_t n, bool inside, double radius, double repeat,
                           jaw_swept_round *round, double resid[]);

/* ------------------------------------------------------ squareness, by reversal */

/* jaw_align_square: one arm of a square is laid along one axis (its skew against
 * it, base, is swept too or taken as 0), and the other arm is swept along the
 * second axis; then the square is turned over and both are swept again.  Half
 * the sum of the two slopes belongs to the machine, half their difference to
 * the square (reversal: Evans, Hocken & Estler, CIRP Annals 45/2 (1996)
 * 617-634).
 *
 * Given:     arm[2]   swept walls of the second arm, as jaw_align_wall gives
 *                     them: before and after the square was turned over
 *            base[2]  of the first arm; NULL: it lay true both times
 * Returned:  machine  rad, angle between the two axes minus 90 degrees
 *            square   rad, angle of the square minus 90 degrees
 *            over     mm, machine squareness over `length`
 * Columns work alike: the second axis is Z and the sweep that of a blade. */
typedef struct jaw_reversed_square {
    jaw_figure machine, square; /* rad */
    double over;
    unsigned flags;
} jaw_reversed_square;

jaw_status jaw_align_square(const jaw_swept_wall arm[2],
                            const jaw_swept_wall base[2], double length,
                            jaw_reversed_square *found);

#ifdef __cplusplus
}
#endif
#endif
