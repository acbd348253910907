/* SPDX-License-Identifier: GPL-3.0-or-later */
/* place.h: the same part again: at other stations, and turned over.
 *
 * Stations: a plate or a row of vises has places whose nominal spacing is known.
 * Some are touched, some are not; the touched ones say how the whole lies, and
 * with that where the others are.
 *
 * Second side: the part is turned over by half a turn about an axis of its own.
 * Coordinates of side two are those of side one with two signs changed and the
 * zero moved. */
#ifndef JAWLINE_PLACE_H
#define JAWLINE_PLACE_H

#include <jawline/fit.h>
#include <jawline/trust.h>

#ifdef __cplusplus
extern "C" {
#endif

/* One station.  nominal: on the plate's drawing.  touched: the work zero found
 * there in machine coordinates, NaN when it was not; u: standard uncertainty of
 * each of its coordinates (NaN: not known, 1 is taken as relative). */
typedef struct jaw_station {
    jaw_vec3 nominal, touched;
    double u_xy, u_z; /* mm, of the touched place */
    double known;     /* mm, how well the nominal place is known, x y and z each
                         (one standard deviation, >= 0) */
} jaw_station;

typedef struct jaw_station_found {
    jaw_vec3 place;     /* machine, adjusted: for an untouched one predicted */
    jaw_figure axis[3]; /* the same with uncertainty */
    jaw_vec3 off;       /* touched less predicted from the others; NaN when not
                           touched, or when nothing is left to predict it */
    jaw_vec3 off_u;     /* of off */
} jaw_station_found;

/* jaw_place_stations: turn and shift in the plane, and Z with or without tilt,
 * from all touched stations together.
 *
 * Given:     turn     jaw_figure: turn of the plate when it was measured apart
 *                     (an edge of it); value NaN: from the stations, which then
 *                     takes two touched ones, and u the weight it enters with
 *            use_touched  true: a touched station's own place is what it is
 *                     given (found[].place = touched); false: adjusted, the
 *                     weighted mean of its own touches and what the spacing
 *                     says
 * Returned:  found[n], *turn_found, rms of all, dof
 * Z is the mean height of the touched ones (their tilt is not carried over: two
 * vises on one table stand on one level; common practice, no source) with its
 * uncertainty from `known` and u_z.
 * Status:    JAW_OK, JAW_EFEW (none touched; or one touched and turn NaN),
 *            JAW_ENOTFINITE, JAW_ERANK, JAW_EDOMAIN, JAW_ENOMEM
 * Flags:     JAW_NO_CHECK, JAW_SCALE_OFF, JAW_MIRRORED as of a pattern */
jaw_status jaw_place_stations(const jaw_station station[], size_t n,
                              jaw_figure turn, bool use_touched,
                              jaw_station_found found[], jaw_figure *turn_found,
                              double *rms, int *dof, unsigned *flags);

/* How a part is turned over: by half a turn about its own X (front to back), Y
 * (left to right) or Z (end for end, the same side up). */
typedef enum jaw_over { JAW_OVER_X, JAW_OVER_Y, JAW_OVER_Z } jaw_over;

/* jaw_place_turned: a point of side one in coordinates of side two, whose zero
 * stands at `zero` of side one; the same function leads back when zero is that
 * of side one seen from side two. */
jaw_vec3 jaw_place_turned(jaw_over over, jaw_vec3 zero, jaw_vec3 p);

#ifdef __cplusplus
}
#endif
#endif
