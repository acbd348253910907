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
 * reading minus the tip's length: height of its lowest point.  A flat-ended tip
 * (cylinder, pin, cutter) touches a wall all along its side: z matters only for
 * a ball, whose centre stands half a diameter above its lowest point. */
typedef struct jaw_datum {
    const jaw_touch *t;
    size_t n;
    const jaw_tip *tip;
    jaw_side faces; /* of secondary and tertiary; the primary faces up */
    double repeat;  /* mm, > 0 */
} jaw_datum;

typedef struct jaw_attitude {
    /* machine = origin + turn part: columns are the part's axes in machine
     * coordinates; Z up along the primary's normal, X along or square to the
     * secondary as it faces (see jaw_datum_find) */
    double turn[3][3];
    jaw_vec3 origin;  /* where the three datum planes meet */
    double skew;      /* rad: turn about Z that is left when the tilt is not
                         entered: direction of part X seen from +Z */
    double tilt[2];   /* rad: how far part Z leans towards machine X and Y */
    double cov[21];   /* upper triangle of origin x y z (mm) and small turns
                         about machine x y z (rad) */
    double between[2]; /* rad, as touched: angle between primary and secondary,
                          minus 90 degrees (NaN when the secondary was touched
                          at one height), and secondary to tertiary (NaN for a
                          single touch) */
    double rms[3];
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
 *            respected: an error of the primary turns the other two.
 * Status:    JAW_OK, JAW_EFEW, JAW_ENOTFINITE, JAW_ERANK, JAW_ESIDE (the sides
 *            are not one of x and one of y, or a wall runs nearer to its side
 *            than square to it), JAW_EDOMAIN, JAW_ENOMEM
 * Source:    ISO 5459:2011, 6 (the order); planes by Pearson 1901 */
jaw_status jaw_datum_find(const jaw_datum *primary, const jaw_datum *secondary,
                          const jaw_datum *tertiary, jaw_attitude *a,
                          double resid[]);

/* jaw_datum_level: how the primary plane lies at a point of the part (part x, y)
 * against the level through the work zero at part (at_x, at_y): shim > 0 is what
 * goes under the point so that all is level with the highest point of those
 * named; error is Z of the surface there less Z at the zero.
 * Given:     work[n]  part coordinates, mm
 * Returned:  error[n] with uncertainty; shim[n] mm >= 0, the highest has 0 */
jaw_status jaw_datum_level(const jaw_attitude *a, jaw_vec2 zero_at,
                           const jaw_vec2 work[], size_t n, jaw_figure error[],
                           double shim[]);

#ifdef __cplusplus
}
#endif
#endif
