/* SPDX-License-Identifier: GPL-3.0-or-later */
/* place.h: the same part again: at other stations, turned over, and after
 * something moved.
 *
 * Stations: a plate or a row of vises has places whose nominal spacing is
 * known.  Some are touched, some are not; the touched ones say how the whole
 * lies, and with that where the others are.
 *
 * Second side: the part is turned over by half a turn about an axis of its own.
 * Coordinates of side two are those of side one with two signs changed and the
 * zero moved.
 *
 * Moved: marks that stay (a bore, a ball, an edge of the table) are found again
 * after the machine was homed, or features of a vise after it came back.  What
 * they moved by, everything that was found before moved by as well. */
#ifndef JAWLINE_PLACE_H
#define JAWLINE_PLACE_H

#include <jawline/fit.h>
#include <jawline/trust.h>

#ifdef __cplusplus
extern "C" {
#endif

/* One station.  nominal: on the plate's drawing.  touched: the work zero found
 * there in machine coordinates; x and y NaN when they were not found, z NaN
 * when it was not. */
typedef struct jaw_station {
    jaw_vec3 nominal, touched;
    double u_xy, u_z; /* mm, > 0, standard uncertainty of each coordinate of the
                         touched place; NaN: not known (of all or of none) */
    double known;     /* mm, how well the nominal place is known, x y and z each
                         (one standard deviation, >= 0) */
} jaw_station;

typedef struct jaw_station_found {
    jaw_vec3 place;     /* machine, adjusted: for an untouched one predicted */
    jaw_figure axis[3]; /* the same with uncertainty */
    jaw_vec3 off;       /* touched less predicted from the others; NaN when not
                           touched, or when nothing is left to predict it */
    jaw_vec3 off_u;     /* of off: of the touch, its nominal place and what is
                           predicted together; NaN: not known */
} jaw_station_found;

/* jaw_place_stations: turn and shift in the plane, and height, from all touched
 * stations together.
 *
 * Given:     turn     jaw_figure: turn of the plate when it was measured apart
 *                     (an edge of it), u >= 0 the weight it enters with; value
 *                     NaN: from the stations, which then takes two touched ones
 *            use_touched  true: a touched station's own place is what it is
 *                     given (found[].place = touched); false: adjusted, the
 *                     weighted mean of its own touches and what the spacing
 *                     says: with known = 0 the spacing alone
 * Returned:  found[n]; *turn_found; *rms, mm, of the distances in the plane
 *            that touched stations have from where they belong; *dof, of the
 *            plane: 2 a station touched, less 2, less 1 for the turn unless
 *            it was given; *flags
 * A touch weighs 1 / (u^2 + known^2).  With u not known all weigh alike, the
 * residuals tell the spread of touching and nominal places together (dof of
 * rms; NaN with none left), no own touch counts more than the others in the
 * adjusted place, and a given turn is kept as it is.
 * Z is the mean height of the touched ones above their nominal (their tilt is
 * not carried over: two vises on one table stand on one level; common practice,
 * no source) with its uncertainty from `known` and u_z; NaN when none has z.
 * A bad place spoils what the others are predicted to be: `off` of each is free
 * of its own touch, and the one largest against its off_u is the first to look
 * at.
 * Status:    JAW_OK, JAW_EFEW (none touched; or one touched and turn NaN),
 *            JAW_ENOTFINITE, JAW_ERANK (the touched ones are in one place and
 *            turn is NaN), JAW_EDOMAIN (u, known, turn.u), JAW_ENOMEM; on
 *            failure all is NaN
 * Flags:     JAW_NO_CHECK: dof is 0; JAW_SCALE_OFF, JAW_MIRRORED as of a
 *            pattern; JAW_RESIDUAL: stations, or station and turn, disagree by
 *            more than u, known and turn.u explain (chi-square at
 *            JAW_TRUST_ALPHA, plane and height)
 * Accuracy:  as jaw_fit_rigid
 * Source:    turn and shift: jaw_fit_rigid; the adjusted place: Henderson,
 *            Biometrics 31 (1975) 423-447 (best linear unbiased prediction) */
jaw_status jaw_place_stations(const jaw_station station[], size_t n,
                              jaw_figure turn, bool use_touched,
                              jaw_station_found found[], jaw_figure *turn_found,
                              double *rms, int *dof, unsigned *flags);

/* How a part is turned over: by half a turn about its own X (front to back), Y
 * (left to right) or Z (end for end, the same side up). */
typedef enum jaw_over { JAW_OVER_X, JAW_OVER_Y, JAW_OVER_Z } jaw_over;

/* jaw_place_turned: a point of side one in coordinates of side two, whose zero
 * stands at `zero` of side one; the same function leads back when zero is that
 * of side one seen from side two (jaw_place_turned of (0, 0, 0)).  NaN for a
 * way that does not exist. */
jaw_vec3 jaw_place_turned(jaw_over over, jaw_vec3 zero, jaw_vec3 p);

/* ------------------------------------------------------------------- moved */

enum { JAW_MARKS_MAX = 16 };

/* A mark found twice, in machine coordinates, mm.  A place (a bore, a ball) has
 * x and y, perhaps z (NaN in both: no height); a face has z alone, x and y NaN;
 * a wall has any place of it and its direction, and shows what is across it.
 * u: standard uncertainty of each coordinate, > 0, before and after; of a wall
 * across it; where few degrees of freedom stand behind one, the half-width of
 * its 95 % interval over that of the normal distribution; where x and y differ,
 * the larger one: false alarms are then fewer than is said below, and what is
 * missed is more. */
typedef struct jaw_mark {
    jaw_vec3 before, after;
    double u_xy[2], u_z[2];
    bool wall;
    double theta[2];   /* rad, of a wall: as of jaw_edge */
    double u_theta[2]; /* rad, > 0: it tells of a turn too; NaN: it does not */
} jaw_mark;

/* Is it more than noise?  Chi-square of shift and turn together, in the plane;
 * of the shift, in height. */
typedef enum jaw_movement {
    JAW_STAYED,  /* 5 of 100 that stayed look like more */
    JAW_UNCLEAR, /* between the two */
    JAW_MOVED    /* 1 of 1000 that stayed look like this (JAW_TRUST_ALPHA) */
} jaw_movement;

#define JAW_STAYED_LEVEL 0.05

typedef struct jaw_moved {
    jaw_vec2 about;      /* mm, before: there the shift is that of shift[] and
                            independent of the turn */
    jaw_figure shift[3]; /* mm, after less before; NaN: no mark shows it */
    jaw_figure turn;     /* rad; 0 with u = 0: none is shown, that is assumed */
    jaw_movement plane, height; /* JAW_UNCLEAR when nothing is known of it */
    double rms;          /* mm, of the distances in the plane that marks have
                            from where they are carried; NaN: dof is 0 */
    int dof;             /* of the plane: 2 a place, 1 a wall and 1 its
                            direction, less what was found: 3, without a turn 2,
                            of walls along one axis 1; at least 0 */
    unsigned flags;
} jaw_moved;

/* Walls show a shift in x and y when the directions across them differ: the
 * one that they show least must not be more than 100 times less sure than the
 * other; else what lies along them is not known.  A turn that is known to no
 * better than five degrees (one standard deviation: by eye nothing is put on a
 * table worse than that) is not shown by marks so near to one another, walls or
 * places: it is assumed to be none.
 *
 * A wall that runs a little askew to its axis moves across as well when the
 * machine moved along it, by the sine of the angle.  What the marks do not show
 * is therefore assumed to be less than JAW_MOVED_UNSEEN: a whole turn of a
 * small mill's screw, by which a homing to an index mark can be wrong (common
 * practice, no source).  The u of what they show holds that. */
#define JAW_MOVED_UNSEEN 5.0 /* mm */
#define JAW_MOVED_FLAT 100.0
#define JAW_MOVED_ALONG 0.99 /* cosine of 8 degrees: an axis, not askew */
#define JAW_MOVED_TURN (5 * 0.017453292519943295)

/* jaw_place_moved: by what all marks together moved.
 *
 * Given:     mark[n], 1 <= n <= JAW_MARKS_MAX
 * Returned:  *moved; resid[n] after less where it was carried, of a wall across
 *            it, NaN what a mark does not show; may be NULL
 * Status:    JAW_OK, JAW_EFEW (none), JAW_ENOTFINITE, JAW_EDOMAIN (u, too many,
 *            z in one of the two only), JAW_ERANK (two and more, all places, in
 *            one place; one wall alone that runs askew to both axes); on
 *            failure all is NaN
 * Assumed:   where the marks show one axis of the plane alone, that along the
 *            other one the middle of the marks moved by less than
 *            JAW_MOVED_UNSEEN
 * Flags:     JAW_NO_CHECK (no spare coordinate in the plane: if a mark alone
 *            moved, nobody sees it), JAW_DIRECTION_ASSUMED (no turn is shown);
 *            JAW_RESIDUAL: marks moved against one another by more than u
 *            explains, in the plane or in height (chi-square at
 *            JAW_TRUST_ALPHA)
 * Accuracy:  as jaw_fit_rigid; with walls to 1e-9 of what the marks moved by
 * Source:    places alone: as jaw_place_stations; with walls: least squares by
 *            Gauss-Newton, each wall one equation across it and one for its
 *            direction */
jaw_status jaw_place_moved(const jaw_mark mark[], size_t n, jaw_moved *moved,
                           jaw_vec3 resid[]);

/* jaw_place_carry: a work zero after that from what it was before: x y z (mm)
 * and turn (rad), the uncertainty of the movement added.  The marks were not
 * used to find it.
 * Returned:  after[4]; NaN what the marks do not show and what must be found
 *            again; a figure that was NaN stays so */
void jaw_place_carry(const jaw_moved *moved, const jaw_figure before[4],
                     jaw_figure after[4]);

#ifdef __cplusplus
}
#endif
#endif
