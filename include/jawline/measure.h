/* SPDX-License-Identifier: GPL-3.0-or-later */
/* measure.h: what touches (tips), what was read (touches), and how well both
 * are known (calibration, repeatability, reversal). */
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

/* ------------------------------------------------------------- calibration */

/* A tip is calibrated by touching something of known size.  What follows is
 * its reach: the mm between the spindle axis and a wall that is met while the
 * tip moves in the direction a,
 *
 *     reach(a) = D / 2 + c1 cos a + s1 sin a + c3 cos 3a + s3 sin 3a
 *
 * a is the approach angle: where the tip was moving, seen from the tip as it
 * stands at spindle position 0, counter-clockwise from X (a spindle that was
 * turned half a turn takes half a turn off it).  D is the effective diameter:
 * the tip's own, less twice the pre-travel that every direction shares.  The
 * first harmonic turns with the spindle.  It is the runout of the tip's centre
 * and the first harmonic of the pre-travel, together: both move a reading by
 * the same vector, and no touch can tell them apart.  The third harmonic is
 * that of a tip on three supports.
 *
 * Without the spindle turned the first harmonic is also the same as a shift of
 * the ring's centre; then it is not fitted, and later touches of opposite
 * walls are what takes it out.  A harmonic that does not turn with the spindle
 * is never seen in a ring.  The ring is taken to be round: a third harmonic of
 * its own is only told from the tip's when the spindle was turned.
 *
 * A harmonic is kept when the touches support it: F test against the fit
 * without it, level JAW_TIP_LEVEL, both harmonics in the reference fit.  One
 * that would be less sure than a single touch is not tried: correcting by it
 * would do more harm than good. */
#define JAW_TIP_LEVEL 0.01

/* What became of a harmonic. */
#define JAW_TIP_TERM_LIST(X)                                                   \
    X(JAW_TERM_INSEPARABLE, "inseparable",                                     \
      "not to be told from the centre: the spindle was not turned")            \
    X(JAW_TERM_NOT_SEEN, "not-seen",                                           \
      "not seen: too few touches, or from too few directions")                 \
    X(JAW_TERM_DROPPED, "dropped", "tried; the touches do not support it")     \
    X(JAW_TERM_KEPT, "kept", "kept")

typedef enum jaw_tip_term_state {
#define JAW_TERM_ENUM(name, word, text) name,
    JAW_TIP_TERM_LIST(JAW_TERM_ENUM)
#undef JAW_TERM_ENUM
    JAW_TERM_STATES
} jaw_tip_term_state;

/* jaw_tip_term_word, jaw_tip_term_text: NULL when unknown. */
const char *jaw_tip_term_word(jaw_tip_term_state state);
const char *jaw_tip_term_text(jaw_tip_term_state state);

typedef struct jaw_tip_term {
    jaw_tip_term_state state;
    double c, s;  /* mm, as fitted when it was tried; NaN otherwise */
    double f;     /* of the F test with 2 degrees of freedom; NaN: not tried */
    double limit; /* kept when f is above it */
} jaw_tip_term;

/* A size that is known, and how well. */
typedef struct jaw_known_size {
    double size; /* mm, > 0 */
    double u;    /* mm, one standard deviation, >= 0 */
} jaw_known_size;

typedef struct jaw_tip_calibration {
    double diameter;   /* mm, effective, > 0 */
    double u_diameter; /* mm, with the share of the known size */
    double dof;        /* of u_diameter (Welch-Satterthwaite); INFINITY */
    double within;     /* mm, 95 %: jaw_trust_within, of the touches' share and
                          the known size's */
    jaw_tip_term first, third; /* a ball: JAW_TERM_NOT_SEEN */
    double harmonic[4]; /* mm, c1 s1 c3 s3; 0: not kept */
    double cov[15];     /* mm^2, upper triangle in the order diameter c1 s1 c3
                           s3; 0 where not kept */
    jaw_vec3 centre;    /* mm, of the ring, in machine coordinates; with the
                           first harmonic when that is inseparable; z: ball */
    jaw_vec3 u_centre;  /* NaN: no z, or no spread known */
    double repeat; /* mm, standard deviation of one touch that the uncertainties
                      stand on: stated, or seen; NaN: neither */
    double seen;   /* mm, sqrt(ssr / dof_touch); NaN when dof_touch is 0 */
    double ssr, rms;
    double size_u;    /* mm, as given */
    int dof_touch;    /* touches less unknowns, and less those that are the same
                         as another one */
    double dof_repeat; /* of repeat: dof_touch, or INFINITY when stated */
    unsigned flags;
} jaw_tip_calibration;

/* jaw_tip_calibrate_ring: from touches inside a ring, or outside a plug or
 * round the equator of a ball.
 *
 * Given:     p[n]      readings of the spindle axis, mm, n >= 3
 *            turned[n] whether the spindle stood half a turn from its position
 *                      0; NULL: never
 *            outside   a plug or ball, touched moving inward; false: a ring,
 *                      touched moving outward
 *            known     its diameter
 *            repeat    mm, > 0, standard deviation of one touch; NaN: not
 *                      stated, then the residuals say
 * Returned:  *cal; resid[n] how far each touch lies off, mm, away from the
 *            centre positive; may be NULL
 * Status:    JAW_OK, JAW_EFEW, JAW_ENOTFINITE, JAW_EDOMAIN (size, u, repeat),
 *            JAW_ERANK (one line, or two places), JAW_ENOCONV, JAW_ESIZE (the
 *            diameter that follows is not positive), JAW_ENOMEM; on failure
 *            all is NaN
 * Flags:     JAW_NO_CHECK: no touch is spare; uncertainties are NaN unless
 *            repeat was stated.  JAW_WEAK: the diameter or the centre is more
 *            than ten times less sure than one touch.  JAW_RESIDUAL: the
 *            touches scatter more than repeat explains (chi-square at
 *            JAW_TRUST_ALPHA); the uncertainties then stand on what was seen.
 *            JAW_SAME_TOUCH: two are the same to the last digit, so that one
 *            of them is no spare touch
 * Accuracy:  over 20000 sets of 4 to 12 touches, and over those with harmonics
 *            that exist, the 95 % intervals (Student's t) hold the truth in 95
 *            +- 0.7 of 100, harmonics that do not exist are kept in 1 +- 0.3 of
 *            100; tests/measure/promise.c
 * Source:    adjustment: trust.h; JCGM 100, G.4 for dof.  The form of the
 *            reach: the harmonics of a lever on three supports, common
 *            practice, no source */
jaw_status jaw_tip_calibrate_ring(const jaw_vec2 p[], const bool turned[],
                                  size_t n, bool outside, jaw_known_size known,
                                  double repeat, jaw_tip_calibration *cal,
                                  double resid[]);

/* jaw_tip_calibrate_ball: from touches over the upper half of a ball of known
 * diameter by a tip that ends in a ball.
 *
 * Given:     p[n]  readings, mm, n >= 4; z is that of any fixed place of the
 *                  tip (the centre of the ball that follows is shifted alike)
 * The rest is that of jaw_tip_calibrate_ring; JAW_ERANK also when all lie in
 * one plane.  No harmonics. */
jaw_status jaw_tip_calibrate_ball(const jaw_vec3 p[], size_t n,
                                  jaw_known_size known, double repeat,
                                  jaw_tip_calibration *cal, double resid[]);

/* jaw_tip_reach: mm between the spindle axis and a wall met at that approach
 * angle (rad), and jaw_tip_pretravel: by how much that falls short of D / 2:
 * the part of the pre-travel, and of the runout, that depends on direction; a
 * reading is that much farther on than D / 2 has it.
 * Returned:  *u one standard deviation (NULL: not wanted), of dof_repeat
 *            degrees of freedom (pretravel); NaN as cal's are.  It is that of
 *            the harmonics that were kept: with none, pretravel is 0 and its u
 *            0, and what the touches did not show is not in it */
double jaw_tip_reach(const jaw_tip_calibration *cal, double angle, double *u);
double jaw_tip_pretravel(const jaw_tip_calibration *cal, double angle,
                         double *u);

/* jaw_tip_harmonics: c1 cos a + s1 sin a + c3 cos 3a + s3 sin 3a, mm, of
 * harmonic[4] in that order at an approach angle (rad).
 * Returned:  *slope its derivative by the angle, mm a rad; NULL: not wanted */
double jaw_tip_harmonics(const double harmonic[4], double angle,
                         double *slope);

/* jaw_tip_carry: the covariance with which a calibration goes into later
 * touches, where it is taken as known for good.
 *
 * Of the touches' share few degrees of freedom may stand behind, and what is
 * known for good has no such thing: that share is made larger, by the square of
 * what Student's t has more than the normal distribution at 95 %.  Then the
 * 95 % interval of a value that stands on the calibration alone is right, and
 * one that stands on other things too is not too short.
 *
 * Returned:  cov[15] mm^2, in the order of cal->cov; NaN as that is */
void jaw_tip_carry(const jaw_tip_calibration *cal, double cov[15]);

/* Two opposite faces of a block, touched from outside. */
typedef struct jaw_tip_faces {
    const jaw_vec2 *low, *high; /* readings of the spindle axis, mm */
    size_t n_low, n_high;       /* >= 1 each */
    jaw_known_size known;       /* across the two */
} jaw_tip_faces;

typedef struct jaw_tip_block {
    size_t n;             /* pairs of faces: 1 or 2 */
    double diameter[2];   /* mm, effective, along each pair's normal */
    double u_diameter[2]; /* mm */
    double dof[2];
    double within[2];     /* mm, 95 %, as in jaw_tip_calibration */
    double theta[2];      /* rad, direction of the first pair's and of the
                             second's normal, in (-pi/2, pi/2] */
    double both;   /* mm, the weighted mean of the two; of one: that one */
    double u_both; /* mm */
    double dof_both;
    double within_both; /* mm, 95 % */
    double differ;   /* mm, diameter[0] - diameter[1]; NaN: one pair */
    double u_differ; /* mm */
    bool differs;    /* by more than JAW_TIP_LEVEL allows (F test) */
    double repeat, seen, dof_repeat; /* as in jaw_tip_calibration */
    double ssr, rms;
    int dof_touch;
    unsigned flags;
} jaw_tip_block;

/* jaw_tip_calibrate_block: from one or two pairs of opposite faces.
 *
 * A pair of which one face at least was touched in two places (a hundredth of
 * the block apart or more) gives its own direction; otherwise the faces are
 * taken to stand square to the machine axis that the two lie along, and
 * JAW_DIRECTION_ASSUMED is set (a block turned by t then seems larger by its
 * size times t^2 / 2).
 *
 * Given:     pair[n]   n = 1 or 2
 *            repeat    as above
 * Returned:  *block; resid[] off its face, outward positive, in the order low
 *            high, of the first pair and then of the second; may be NULL
 * Status:    JAW_OK, JAW_EFEW (a face without touches), JAW_ENOTFINITE,
 *            JAW_EDOMAIN (n, size, u, repeat), JAW_ERANK (both faces in one
 *            place), JAW_ENOCONV, JAW_ESIZE, JAW_ENOMEM
 * Flags:     as above, and JAW_DIRECTION_ASSUMED */
jaw_status jaw_tip_calibrate_block(const jaw_tip_faces pair[], size_t n,
                                   double repeat, jaw_tip_block *block,
                                   double resid[]);

/* -------------------------------------------------- repeatability, reversal */

/* Readings of one place.  ISO 230-10: repeatability of a touch is the range of
 * repeated readings of one point (from memory). */
typedef struct jaw_spread {
    size_t n;
    double mean, s; /* mm; s with n - 1 */
    double u_mean;  /* mm, s / sqrt(n) */
    double range;   /* mm, largest less smallest */
    double low, high; /* mm, 95 % interval of the standard deviation that s
                         estimates (chi-square) */
} jaw_spread;

/* jaw_measure_spread: of n >= 2 readings.
 * Status:    JAW_OK, JAW_EFEW, JAW_ENOTFINITE; on failure all NaN
 * Accuracy:  mean and s to 14 digits of the readings' size
 * Source:    two passes: Chan, Golub & LeVeque, Am. Stat. 37 (1983) 242-247 */
jaw_status jaw_measure_spread(const double reading[], size_t n,
                              jaw_spread *spread);

/* One place reached from both ways.  ISO 230-2 (from memory): up is toward
 * plus, down toward minus. */
typedef struct jaw_reversal {
    jaw_spread up, down;
    double reversal;   /* mm, mean of up less mean of down */
    double u_reversal; /* mm */
    double dof;        /* Welch-Satterthwaite; NaN when nothing scatters */
    bool real;         /* reversal is not 0 at 95 % (Welch's test) */
    double repeat_up, repeat_down; /* mm, 4 s */
    double repeat_both; /* mm, the largest of 2 s up + 2 s down + |reversal|
                           and the two above */
} jaw_reversal;

/* jaw_measure_reversal: from nu, nd >= 2 readings.
 * Status:    as jaw_measure_spread */
jaw_status jaw_measure_reversal(const double up[], size_t nu,
                                const double down[], size_t nd,
                                jaw_reversal *reversal);

/* Several places along one axis (ISO 230-2, from memory); readings are then
 * deviations from where each place should be. */
typedef struct jaw_positioning {
    double reversal;      /* mm, largest |reversal| */
    double reversal_mean; /* mm */
    double repeat_up, repeat_down, repeat_both; /* mm, the largest of each */
    double mean_range;    /* mm, range of the mean deviations of both ways */
    double systematic;    /* mm, range of all directional means */
    double accuracy; /* mm, largest mean + 2 s less smallest mean - 2 s */
} jaw_positioning;

/* jaw_measure_positioning: of n >= 1 places.
 * Status:    JAW_OK, JAW_EFEW, JAW_ENOTFINITE */
jaw_status jaw_measure_positioning(const jaw_reversal place[], size_t n,
                                   jaw_positioning *axis);

#ifdef __cplusplus
}
#endif
#endif
