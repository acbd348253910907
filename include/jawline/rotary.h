/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rotary.h: the centre line of a rotary table, and where the work zero goes
 * when it is indexed.
 *
 * A table about X turns the plane y z, about Y the plane z x, about Z the plane
 * x y: in each the first axis turns towards the second for a positive angle
 * (right hand, ISO 841).  "Plane coordinates" below are those two, in order.
 * One feature, touched at known angles a_i, lies at
 *     p_i = c + R(s a_i) q
 * with s = +1 when the table's angles count by the right hand and -1 when they
 * count the other way.  For known angles this is linear in c and q, so it is
 * plain least squares (cf. Umeyama 1991 for the free angle). */
#ifndef JAWLINE_ROTARY_H
#define JAWLINE_ROTARY_H

#include <jawline/fit.h>
#include <jawline/trust.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef enum jaw_sense {
    JAW_SENSE_FIND,        /* let the touches tell */
    JAW_SENSE_RIGHT = 1,   /* by the right hand */
    JAW_SENSE_LEFT = -1
} jaw_sense;

/* jaw_rotary_centre.
 *
 * Given:     angle[n], p[n]  rad and plane coordinates of one feature, mm,
 *                     n >= 2
 *            sense    stated, or JAW_SENSE_FIND (n >= 3)
 *            repeat   mm, of each coordinate; NaN: from the residuals
 * Returned:  *found, resid[n] vectors p less fitted; may be NULL
 * Status:    JAW_OK, JAW_EFEW, JAW_ENOTFINITE, JAW_EDOMAIN (repeat, sense),
 *            JAW_ERANK (all angles the same modulo a turn; or the sense is to
 *            be found and the touches do not deny the other one: angles the
 *            same modulo half a turn, two angles only, or a feature too near
 *            the centre), JAW_ECONFLICT (the touches deny the stated sense); on
 *            failure all is NaN and sense JAW_SENSE_FIND
 * A sense is denied when it leaves more than chance makes of the other's
 * residuals (F test of the two at JAW_TRUST_ALPHA; with a stated repeat it must
 * leave more than that explains, chi-square, and either the other does not or
 * the F test says so).
 * Flags:     JAW_NO_CHECK: dof is 0; JAW_WEAK: the centre is more than ten
 *            times less sure than one touch (angles crowd); JAW_RESIDUAL: the
 *            touches scatter more than repeat explains (chi-square at
 *            JAW_TRUST_ALPHA)
 * Accuracy:  centre and arm as if each touch had been moved by 8 eps L, L the
 *            largest of the coordinates about their mean and of the arm times
 *            the largest angle; tests/compare */
typedef struct jaw_rotary {
    jaw_vec2 centre;
    jaw_vec2 arm;     /* q: the feature at angle 0, from the centre */
    double cov[3];    /* mm^2, of centre: xx xy yy; NaN: no spread known */
    double dof_of;    /* of cov: INFINITY with a stated repeat */
    jaw_sense sense;  /* as stated or found */
    double rms;       /* mm, root mean square distance from the fit; NaN when
                         dof is 0 */
    double other_rms; /* what the opposite sense would leave */
    int dof;          /* 2 n - 4 */
    unsigned flags;
} jaw_rotary;

jaw_status jaw_rotary_centre(const double angle[], const jaw_vec2 p[], size_t n,
                             jaw_sense sense, double repeat, jaw_rotary *found,
                             jaw_vec2 resid[]);

/* jaw_rotary_slips: what is known of each touch that found a centre.
 *
 * Given:     angle[n], resid[n], *found, repeat  of jaw_rotary_centre
 * Returned:  slip[n]; all NaN on failure
 * Status:    JAW_OK, JAW_EDOMAIN (repeat), JAW_ENOTFINITE (*found is none of n
 *            touches)
 * Without a stated repeat the touches have their own spread: `limit` then is
 * exact, and nothing can be noticed with three angles; `noticeable` is noticed
 * at least as often as JAW_TRUST_POWER says, if their spread is the true one.
 * Sources:   src/rotary/slip.c; tests/rotary counts both */
typedef struct jaw_rotary_slip {
    double redundancy; /* 0: nothing checks it; 1: fully checked */
    double standard;   /* length of its residual over the standard deviation of
                          each coordinate of that; NaN when nothing checks it */
    double limit;      /* above it is a doubt, at JAW_TRUST_ALPHA; NaN */
    double noticeable; /* mm, smallest slip noticed at JAW_TRUST_ALPHA with
                          JAW_TRUST_POWER; INFINITY: none */
    double moves;      /* mm, how far a smaller one can move the centre;
                          INFINITY: any distance */
} jaw_rotary_slip;

jaw_status jaw_rotary_slips(const double angle[], const jaw_vec2 resid[],
                            size_t n, const jaw_rotary *found, double repeat,
                            jaw_rotary_slip slip[]);

/* jaw_rotary_find_runout: how far the axis of a round bar lies off that of the
 * table which holds it, from an indicator that stands still beside the bar
 * while the table turns: more, the farther it is pushed in.  One place of the
 * bar's axis that was found with the table at a then gives the centre, that place
 * less R(s a) arm, without touching the bar at any other angle.
 *
 * Given:     angle[n], reading[n]  rad and mm, n >= 3
 *            towards  rad, of the plane: from the bar to where the indicator
 *                     stands; 0 along the first axis, pi / 2 along the second
 *            sense    stated: of these readings it only turns arm
 *            repeat   mm, of one reading; NaN: from the residuals
 * Returned:  *found, resid[n] reading less fitted; may be NULL
 * Status:    as jaw_fit_sweep; JAW_EDOMAIN (sense, repeat)
 * Flags:     JAW_NO_CHECK, JAW_WEAK (the angles crowd), JAW_RESIDUAL (the
 *            readings scatter more than repeat explains, chi-square at
 *            JAW_TRUST_ALPHA: the bar is not round, say)
 * Accuracy:  as jaw_fit_sweep; the model leaves out |arm|^2 over twice the
 *            bar's radius */
typedef struct jaw_rotary_runout {
    jaw_vec2 arm;    /* mm, the bar's axis at angle 0, from the table's */
    double cov[3];   /* mm^2, of arm: xx xy yy; NaN: no spread known */
    double dof_of;   /* of cov: INFINITY with a stated repeat */
    jaw_figure full; /* mm, what the indicator's hand moves in a turn: twice the
                        length of arm, >= 0 */
    double high;     /* rad in [0, 2 pi), as the table counts: there it is
                        pushed in farthest */
    double rms;      /* mm */
    int dof;         /* n - 3 */
    unsigned flags;
} jaw_rotary_runout;

jaw_status jaw_rotary_find_runout(const double angle[], const double reading[],
                                  size_t n, double towards, jaw_sense sense,
                                  double repeat, jaw_rotary_runout *found,
                                  double resid[]);

/* jaw_rotary_tilt: from the centres found at two places along the axis, how far
 * the axis leans towards the first and the second axis of its plane, rad, seen
 * along the other of the two (atan of centre per length), with uncertainty
 * (dof by Welch and Satterthwaite).
 * Given:     apart  mm, signed, where place[1] lies less place[0], along the
 *                   axis of the table
 * Status:    JAW_OK, JAW_ENOTFINITE, JAW_EDOMAIN (apart is 0); else NaN */
jaw_status jaw_rotary_tilt(const jaw_rotary place[2], double apart,
                           jaw_figure tilt[2]);

/* jaw_rotary_index: where a point that stands at plane coordinates p with the
 * table at angle `from` stands at angle `to`, and its covariance from that of
 * the centre and of p (cov_p may be NULL: exact; the two independent: p is not
 * one of the touches that found the centre).  cov may be NULL; NaN when that of
 * the centre is.
 * Status:    JAW_OK, JAW_ENOTFINITE, JAW_EDOMAIN (a table without sense) */
jaw_status jaw_rotary_index(const jaw_rotary *table, jaw_vec2 p,
                            const double cov_p[3], double from, double to,
                            jaw_vec2 *out, double cov[3]);

#ifdef __cplusplus
}
#endif
#endif
