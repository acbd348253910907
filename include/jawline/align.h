/* SPDX-License-Identifier: GPL-3.0-or-later */
/* align.h: what the hand of an indicator says.  A wall swept along an axis, a
 * head swung over the table, a bore or boss swept round, a square reversed:
 * from readings to the angle, the shift and what to do with a soft hammer.
 *
 * Sign, everywhere: a reading is larger the farther the plunger is pushed in.
 * Only differences of readings count, so where the dial was set to zero does
 * not matter.  Readings and places are mm, angles rad.
 *
 * Given in all: repeat, the standard deviation of one reading, mm > 0; NaN: not
 * stated, and the residuals tell.  Uncertainties follow from it (dof INFINITY)
 * or from the residuals (their dof; with none left NaN).  Readings that scatter
 * more than repeat explains (chi-square at JAW_TRUST_ALPHA) set JAW_RESIDUAL,
 * and the uncertainties then stand on what was seen.
 * resid[n]: reading less fitted, mm; may be NULL.  On failure every number is
 * NaN.  What only spare readings can show (rms, straight, roundness) is NaN
 * without one, and JAW_NO_CHECK is set.
 *
 * Common status: JAW_OK, JAW_EFEW, JAW_ENOTFINITE (also a result too large for
 * a double), JAW_ERANK (readings in one place), JAW_EDOMAIN (repeat, or an
 * argument out of range), JAW_ENOMEM (not of a head or a square).
 *
 * Intervals: half95 holds the truth in 95 +- 0.5 of 100
 *            (tests/align/promise.c); that of jaw_align_square, from four
 *            sweeps of four readings of unknown spread, in 95 to 97: its dof are
 *            an approximation (JCGM 100, G.4), good for walls swept alike */
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
 *                     at their places, measured square to the strip (ISO 12780)
 *            span     mm, between the outermost places
 *            tap      mm >= 0, how far the wall leaves the axis over the span;
 *                     tap_u its standard uncertainty, of skew.dof
 *            tap_at   the place of the end that stands farther out (towards
 *                     `faces`): push it in by tap, the other end being the
 *                     pivot; NaN when neither end does
 * Status:    also JAW_EDOMAIN (faces), JAW_ESIDE (the wall stands nearer to the
 *            other axis), JAW_ERANK also when readings jump farther than their
 *            places lie apart (the narrowest strip lies across the sweep)
 * Source:    least squares of the readings, places being exact (JCGM 100, H.3);
 *            sign from the one line of setup.h */
typedef struct jaw_swept_wall {
    jaw_figure skew; /* rad */
    double span, tap, tap_u, tap_at;
    double straight;
    double rms;
    int dof; /* n - 2 */
    unsigned flags; /* JAW_NO_CHECK, JAW_RESIDUAL, JAW_STEEP (over 5 degrees) */
} jaw_swept_wall;

jaw_status jaw_align_wall(const double at[], const double reading[], size_t n,
                          jaw_side faces, double repeat, jaw_swept_wall *wall,
                          double resid[]);

/* --------------------------------------------------------- the head, swung */

/* jaw_align_head: the indicator is held in the spindle, off its axis by radius,
 * with its plunger down on the table, and swung round.  angle[n]: where the
 * plunger stands, rad, ccw from X seen from +Z; n >= 3.
 *
 * Given:     radius   mm > 0
 *            cutter   mm > 0, diameter of the cutter whose marks are asked for;
 *                     NaN: none
 *            base     mm > 0, between the bolts of the head or column, along X
 *                     and along Y, lying flat; NaN: not asked for
 * Returned:  tilt     rad: how far the spindle axis leans towards X and towards
 *                     Y, going up, against the square to the table: it runs
 *                     along (tan tilt_x, tan tilt_y, 1).  A head that leans
 *                     towards X+ holds the indicator lower at X+, so it reads
 *                     more there: reading = mean + radius (tan tilt_x cos a +
 *                     tan tilt_y sin a), to third order
 *            rise     mm, reading at X+ less that at X-, at Y+ less that at Y-:
 *                     what is to go to zero
 *            over_cutter mm, how much lower the X+ side of the cutter is than
 *                     its X- side, and Y+ than Y-: the step between two passes
 *                     of full width that are fed square to it; NaN without
 *                     cutter
 *            dish     mm >= 0, how hollow a pass is that is fed along the lean:
 *                     half the cutter's diameter times the sine of the whole
 *                     lean (the cutter's circle seen along the feed is an
 *                     ellipse of that half axis); NaN without cutter
 *            shim     mm, under the X+ end of the base and under its Y+ end,
 *                     that takes the lean out; negative: under the other end;
 *                     NaN without base
 * Flags:     JAW_NO_CHECK, JAW_RESIDUAL, JAW_STEEP (the whole lean above five
 *            degrees), JAW_WEAK (azimuths crowd) */
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
 * a bore or outside a boss.  angle[n]: where the plunger touches, seen from the
 * spindle, ccw from X; n >= 3, any azimuths.
 *
 * Given:     inside   true for a bore
 *            radius   mm > 0, of the round, about (less, in a bore, the radius
 *                     of the plunger's ball; outside a boss with it); NaN: not
 *                     known, and the second order of a large shift is left out
 * Returned:  shift[2] mm: move the spindle by this much (machine X and Y) to
 *                     stand over the centre; add it to the spindle's reading
 *            cov[3]   mm^2, xx xy yy
 *            roundness mm, narrowest ring that holds the wall as it was read
 *                     (ISO 12181); without radius to a part in 10^6; NaN also
 *                     when the azimuths crowd so that no ring is narrower than
 *                     a strip
 *            second   mm, largest term of second order, about shift^2 / 2
 *                     radius, which was corrected; NaN when the radius is not
 *                     known
 * Status:    also JAW_ECONFLICT (the shift is as large as the radius),
 *            JAW_ENOCONV
 * Source:    least squares of the readings, Gauss-Newton; model and sign in
 *            src/align/round.c */
typedef struct jaw_swept_round {
    jaw_figure shift[2];
    double cov[3];
    double roundness, second;
    double rms;
    int dof; /* n - 3 */
    unsigned flags; /* JAW_NO_CHECK, JAW_RESIDUAL, JAW_WEAK (azimuths crowd) */
} jaw_swept_round;

jaw_status jaw_align_round(const double angle[], const double reading[],
                           size_t n, bool inside, double radius, double repeat,
                           jaw_swept_round *round, double resid[]);

/* ------------------------------------------------- squareness, by reversal */

/* jaw_align_square: one arm of a square is laid along the first axis (its skew
 * against it, base, is swept too or taken as 0), and the other arm is swept
 * along the second axis; then the square is turned over and both are swept
 * again.  Half the sum of the two slopes belongs to the machine, half their
 * difference to the square (reversal: Evans, Hocken & Estler, CIRP Annals 45/2
 * (1996) 617-634).
 *
 * The second axis is the one that is met ccw from the first: X and Y.  Columns
 * work alike, with X and Z seen from -Y or Y and Z seen from X+: sweep them
 * with jaw_align_wall as if they were X and Y.
 *
 * Given:     arm[2]   swept walls of the second arm, as jaw_align_wall gives
 *                     them.  arm[0]: both arms of the square point to plus, or
 *                     both to minus; arm[1]: turned over, one to plus and one
 *                     to minus.  (Changed round, square changes its sign.)
 *            base[2]  of the first arm; NULL: it lay true both times, and
 *                     JAW_DIRECTION_ASSUMED is set
 *            length   mm > 0; NaN: not asked for
 * Returned:  machine  rad, angle between the plus ends of the two axes minus 90
 *                     degrees
 *            square   rad, angle that the square's arms include minus 90
 *                     degrees
 *            over     mm, length times tan(machine): how far the second axis
 *                     leaves the square over that length, towards the first
 *                     axis's minus
 * Flags:     those of the walls and JAW_DIRECTION_ASSUMED
 * Status:    JAW_OK, JAW_ENOTFINITE (a wall that failed), JAW_EDOMAIN (length)
 * Accuracy:  to third order in the angles: 5e-6 rad for leans of 0.01 rad */
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
