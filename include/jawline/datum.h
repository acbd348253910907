/* SPDX-License-Identifier: GPL-3.0-or-later */
/* datum.h: 3-2-1.  Three datum features in their order (ISO 5459): the primary
 * plane takes three freedoms from the part, the secondary, square to it, two,
 * the tertiary, square to both, the last.  What a three-axis machine can not be
 * told - the part's tilt - becomes shims under named points and the error in Z
 * at the part's corners. */
#ifndef JAWLINE_DATUM_H
#define JAWLINE_DATUM_H

#include <jawline/feature.h>
#include <jawline/trust.h>

#ifdef __cplusplus
extern "C" {
#endif

/* One datum: touches (x y z all needed) with one tip.  t.z of all three is the
 * reading minus the tip's length: height of its lowest point.  Where a tip
 * meets a wall:
 *   - a ball beside its centre, half a diameter above its lowest point;
 *   - a flat-ended tip (cylinder, pin, cutter) with its end when the wall leans
 *     so that it is seen from above, else at the rim where the wall ends at the
 *     primary.  A wall that rises above the primary (a jaw over its bed) and
 *     overhangs has its rim somewhere higher up: its height is not known, and
 *     the end is taken.  A wall that leans less than is known of the lean is
 *     met anywhere between: that moves it by the depth times the lean. */
typedef struct jaw_datum {
    const jaw_touch *t;
    size_t n;
    const jaw_tip *tip;
    jaw_side faces; /* of secondary and tertiary; the primary faces up */
    double repeat;  /* mm, > 0: of one touch, in the direction it measures */
} jaw_datum;

typedef struct jaw_attitude {
    /* machine = origin + turn part: columns are the part's axes in machine
     * coordinates; Z up along the primary's normal, X along or square to the
     * secondary, each next to the machine's (see jaw_datum_find) */
    double turn[3][3];
    jaw_vec3 origin;  /* where the three datum planes meet */
    double skew;      /* rad: turn about Z that is left when the tilt is not
                         entered: direction of part X seen from +Z */
    double tilt[2];   /* rad: how far part Z leans towards machine X and Y, seen
                         along the other of the two: atan(z_x / z_z) and
                         atan(z_y / z_z) */
    double cov[21];   /* upper triangle of origin x y z (mm) and small turns
                         about machine x y z through the origin (rad) */
    jaw_figure between[2]; /* rad, as touched: angle of the material between
                          primary and secondary, minus 90 degrees, and between
                          secondary and tertiary.  NaN where the touches do not
                          show it: fewer than three (two), on one line (in one
                          place), or so near together that a touch's repeat
                          turns it by more than 0.1 rad; and the first with a
                          flat-ended tip, which meets such a wall at its end or
                          at its rim only */
    double rms[3];    /* mm, sqrt(ssr / n); NaN when dof is 0 */
    double scatter[3]; /* chi-square with dof of the touches off each: less what
                          the errors of the datums before it, which turn it,
                          explain; NaN when dof is 0 */
    int dof[3];       /* n - 3, n - 2, n - 1 */
    unsigned flags;
} jaw_attitude;

/* jaw_datum_find.
 *
 * Given:     primary    n >= 3, a face
 *            secondary  n >= 2, an edge; tertiary n >= 1, an edge whose side is
 *                       on the other axis
 * Returned:  *a; resid: of all touches, primary first, mm, off the datum's own
 *            plane, outward positive; may be NULL
 *            The secondary is the plane square to the primary with the least
 *            sum of squared distances to its tip centres, and so on: fit the
 *            centres, then offset.  A secondary that faces y gives part X along
 *            it; one that faces x gives part Y along it.
 *            cov follows from the repeats through all three steps, order
 *            respected: an error of the primary turns the other two.  It is of
 *            first order; what the tip's diameter is worth is not in it.
 * Status:    JAW_OK, JAW_EFEW, JAW_ENOTFINITE, JAW_ERANK, JAW_ESIDE (the sides
 *            are not one of x and one of y, a wall runs nearer to its side
 *            than square to it, or the primary nearer to upright than level),
 *            JAW_EDOMAIN (tip, repeat), JAW_ENOMEM (more than 64 touches)
 * Flags:     JAW_NO_CHECK: one of the three has no touch to spare; JAW_WEAK: of
 *            the primary (jaw_plane); JAW_RESIDUAL: one scatters more than the
 *            repeats explain (scatter, at JAW_TRUST_ALPHA); JAW_STEEP: tilt
 *            or skew above five degrees; JAW_SAME_TOUCH
 * Accuracy:  a world built exactly, within 300 mm of the machine's zero:
 *            origin 1e-12 mm, turn 1e-14; cov against differences of the whole
 *            to 1e-7 of itself; tests/datum
 * Source:    ISO 5459:2011, 6 (the order); planes by Pearson 1901 */
jaw_status jaw_datum_find(const jaw_datum *primary, const jaw_datum *secondary,
                          const jaw_datum *tertiary, jaw_attitude *a,
                          double resid[]);

/* jaw_datum_shares: the same, and what each touch has to do with it: for the
 * question what a slip does, and what one more touch would.
 * Returned:  share[]  of all touches, primary first; all NaN on failure
 * Accuracy:  the squares of moved, times sigma squared, add up to cov: to 1e-9
 *            of it; against differences of the whole to 1e-6; tests/datum */
typedef struct jaw_datum_share {
    double moved[6];   /* what origin x y z (mm) and small turns about machine
                          x y z (rad) go by for 1 mm more of the touch, outward
                          along its datum's normal */
    double redundancy; /* 0: its datum follows it wholly; 1: not at all */
    double sigma;      /* mm, along that normal */
    double resid_u;    /* mm, of its residual: what it has of its own error, and
                          what the datums before its own are unsure by */
} jaw_datum_share;

jaw_status jaw_datum_shares(const jaw_datum *primary,
                            const jaw_datum *secondary,
                            const jaw_datum *tertiary, jaw_attitude *a,
                            jaw_datum_share share[]);

/* jaw_datum_level: how the primary plane lies at a point of the part (its x, y)
 * against the level through the work zero at part (zero_at): shim > 0 is what
 * goes under the point so that all is level with the highest point of those
 * named; error is Z of the surface there less Z at the zero.
 * Given:     work[n]  part coordinates, mm, n >= 1
 * Returned:  error[n] with uncertainty; shim[n] mm >= 0, the highest has 0
 * Status:    JAW_OK, JAW_EFEW, JAW_ENOTFINITE; on failure all NaN */
jaw_status jaw_datum_level(const jaw_attitude *a, jaw_vec2 zero_at,
                           const jaw_vec2 work[], size_t n, jaw_figure error[],
                           double shim[]);

#ifdef __cplusplus
}
#endif
#endif
