/* SPDX-License-Identifier: GPL-3.0-or-later */
/* feature.h: what was touched.  The only place where fitted geometry meets the
 * radius of the tip: the tip's centres are fitted first, then the result is
 * offset by the radius (a touch compensated on its own along a nominal
 * direction would leave a cosine error). */
#ifndef JAWLINE_FEATURE_H
#define JAWLINE_FEATURE_H

#include <jawline/fit.h>
#include <jawline/measure.h>

#ifdef __cplusplus
extern "C" {
#endif

#define JAW_FEATURE_LIST(X)                                                    \
    X(JAW_EDGE, "edge", "a straight wall, touched from one side")              \
    X(JAW_FACE, "face", "a flat that is touched from above")                   \
    X(JAW_BORE, "bore", "a round hole, touched from inside")                   \
    X(JAW_BOSS, "boss", "a round post, touched from outside")                  \
    X(JAW_SLOT, "slot", "two parallel walls, touched from between them")       \
    X(JAW_WEB, "web", "two parallel walls, touched from outside")              \
    X(JAW_PATTERN, "pattern", "several places with known spacing")             \
    X(JAW_BALL, "ball", "a ball, touched from outside")                        \
    X(JAW_BAR, "bar", "round stock that lies down, touched from outside")      \
    X(JAW_SWEEP, "sweep", "a straight wall, swept by an indicator")            \
    X(JAW_DIAL, "dial", "a bore or boss, swept round by an indicator")

typedef enum jaw_feature_kind {
#define JAW_FEATURE_ENUM(name, word, text) name,
    JAW_FEATURE_LIST(JAW_FEATURE_ENUM)
#undef JAW_FEATURE_ENUM
    JAW_FEATURE_KINDS
} jaw_feature_kind;

const char *jaw_feature_word(jaw_feature_kind kind); /* NULL when unknown */
const char *jaw_feature_text(jaw_feature_kind kind);

/* A side is an outward normal, by the machine axis nearest to it: the jaw face
 * that looks at the operator faces y-. */
#define JAW_SIDE_LIST(X)                                                       \
    X(JAW_SIDE_XPLUS, "x+", 1, 0)                                              \
    X(JAW_SIDE_XMINUS, "x-", -1, 0)                                            \
    X(JAW_SIDE_YPLUS, "y+", 0, 1)                                              \
    X(JAW_SIDE_YMINUS, "y-", 0, -1)

typedef enum jaw_side {
    JAW_SIDE_NONE, /* not stated */
#define JAW_SIDE_ENUM(name, word, nx, ny) name,
    JAW_SIDE_LIST(JAW_SIDE_ENUM)
#undef JAW_SIDE_ENUM
    JAW_SIDES
} jaw_side;

const char *jaw_side_word(jaw_side side); /* NULL for NONE */
jaw_vec2 jaw_side_normal(jaw_side side);  /* unit; NaN for NONE */
jaw_side jaw_side_opposite(jaw_side side);
/* jaw_side_read: "x+" and so on; JAW_SIDE_NONE for anything else */
jaw_side jaw_side_read(const char *word);

typedef struct jaw_edge {
    jaw_vec2 point;  /* on the wall, beside the mean of the touches */
    jaw_vec2 normal; /* unit, outward; NaN when the side is not known */
    jaw_vec2 dir;    /* unit, theta in (-pi/2, pi/2] */
    double theta;    /* rad */
    double u_offset, u_theta; /* as jaw_line; u_theta NaN when assumed */
    double span;     /* mm, between the outermost touches along the wall */
    double rms;
    int dof;
    unsigned flags;
} jaw_edge;

typedef struct jaw_face {
    jaw_vec3 point;    /* on the face; z as jaw_feature_face says */
    jaw_vec3 normal;   /* unit, z > 0 */
    jaw_vec2 slope;    /* dz/dx, dz/dy */
    double u_offset;   /* mm */
    double rms;
    int dof;
    unsigned flags;
} jaw_face;

typedef struct jaw_round {
    jaw_vec2 centre;
    double diameter; /* mm; NaN with JAW_SIZE_NOT_SEEN */
    double cov[3];   /* mm^2, of the centre: xx xy yy */
    double u_diameter;
    double rms;
    int dof;
    unsigned flags;
} jaw_round;

typedef struct jaw_walls {
    jaw_vec2 middle; /* halfway between the walls, beside the touches' mean */
    double width;    /* mm, > 0 */
    jaw_vec2 dir;    /* unit, along the walls */
    double theta;    /* rad, in (-pi/2, pi/2] */
    double u_middle, u_width, u_theta;
    double span;     /* mm, between the outermost touches along the walls */
    double rms;
    int dof;
    unsigned flags;
} jaw_walls;

typedef struct jaw_pattern {
    jaw_frame frame; /* machine from nominal: origin and turn */
    double scale;    /* of the free-scale fit, for comparison only */
    double u_turn, u_shift; /* as jaw_rigid */
    double rms;
    int dof;
    unsigned flags;
} jaw_pattern;

typedef struct jaw_ball {
    jaw_vec3 centre;  /* z as jaw_feature_ball says */
    double diameter;  /* mm */
    double cov[6];    /* mm^2, of the centre: xx xy xz yy yz zz */
    double u_diameter;
    double q_height;  /* cofactor of its z: variance for touches of unit spread */
    double rms;
    int dof;
    unsigned flags;
} jaw_ball;

typedef struct jaw_bar {
    jaw_vec3 point;   /* on the axis, beside the mean of the touches */
    jaw_vec3 axis;    /* unit; its part in x and y points along theta */
    double theta;     /* rad, direction in the plane, in (-pi/2, pi/2] */
    double slope;     /* rise in z over run in the plane, along theta */
    double diameter;  /* mm */
    double u_side;    /* mm, of the axis, level and square to it, at point */
    double u_height;  /* mm, of its z at point */
    double u_theta;   /* rad */
    double u_slope;
    double u_diameter;
    double q_height;  /* cofactor of the axis' z at point */
    double span;      /* mm, between the outermost touches along the axis */
    double rms;
    int dof;
    unsigned flags;
} jaw_bar;

/* In all of these: t[n] are touches with one tip, readings in mm.  On failure
 * every result is NaN.  resid may be NULL; it has one number a touch.
 * Common status: JAW_OK, JAW_EFEW, JAW_ENOTFINITE (a needed coordinate is
 * missing or not finite), JAW_ERANK, JAW_ENOCONV, JAW_EDOMAIN (tip or
 * argument), JAW_ENOMEM (many touches), JAW_ESIDE. */

/* jaw_feature_edge: a wall from one or more touches.
 *
 * Given:     faces    JAW_SIDE_NONE only for a tip without radius
 *            along    rad, direction of the wall when it is known from
 *                     elsewhere; NaN: find it; one touch then takes the
 *                     machine axis square to `faces` and says so
 * Returned:  resid    off the wall, outward positive (side unknown: along
 *                     dir turned +90 degrees)
 * A single touch may lack the coordinate along the wall when the wall lies
 * along a machine axis; see setup.h for what happens when it does not.
 * Status:    JAW_ESIDE: the wall runs nearer to `faces` than square to it;
 *            JAW_EUNKNOWN: JAW_SIDE_NONE for a tip with a radius
 * Flags:     JAW_NO_CHECK, JAW_DIRECTION_ASSUMED, JAW_SIDE_NOT_STATED,
 *            JAW_SAME_PLACE (a coordinate was not read), JAW_SAME_TOUCH */
jaw_status jaw_feature_edge(const jaw_touch t[], size_t n, const jaw_tip *tip,
                            jaw_side faces, double along, jaw_edge *edge,
                            double resid[]);

/* jaw_feature_face: a flat touched from above.  One or two touches assume it
 * level (mean height, dof = n - 1).
 *
 * Given:     t[n]     z needed; x and y needed when n >= 3
 *            t.z is the reading minus the tip's length, that is the height of
 *            the tip's lowest point
 * Returned:  *face, resid along the normal, above positive */
jaw_status jaw_feature_face(const jaw_touch t[], size_t n, const jaw_tip *tip,
                            jaw_face *face, double resid[]);

/* jaw_feature_bore, jaw_feature_boss: centre and diameter.
 *
 * Given:     known    mm, diameter when it is known (a ring, a dowel): only
 *                     the centre is fitted; NaN: fit it too
 * Touches that all lack one coordinate are taken as opposite pairs: exactly
 * two with x alone and two with y alone; the centre is in the middle of each
 * pair, the diameter is not seen (JAW_SIZE_NOT_SEEN, JAW_SAME_PLACE).
 * Returned:  resid    off the wall, away from the centre positive
 * Status:    JAW_ESIZE: boss: the tip is larger than what was touched; known
 *            bore: the tip does not fit */
jaw_status jaw_feature_bore(const jaw_touch t[], size_t n, const jaw_tip *tip,
                            double known, jaw_round *found, double resid[]);
jaw_status jaw_feature_boss(const jaw_touch t[], size_t n, const jaw_tip *tip,
                            double known, jaw_round *found, double resid[]);

/* jaw_feature_slot, jaw_feature_web: middle and width of two parallel walls.
 *
 * Given:     a[na], b[nb]  touches of the two walls, in either order
 *            along    rad, direction of the walls when known; NaN: find it;
 *                     one touch on each side then takes the walls square to
 *                     the line between them (JAW_DIRECTION_ASSUMED)
 * With one coordinate missing in every touch both touches are taken at the
 * same place along the wall (JAW_SAME_PLACE); middle has NaN there and the
 * width is corrected for `along`.
 * Returned:  resid[na + nb] off the wall along dir turned +90 degrees
 * Status:    JAW_ESIZE: web: the tip is wider than the two walls are apart */
jaw_status jaw_feature_slot(const jaw_touch a[], size_t na,
                            const jaw_touch b[], size_t nb, const jaw_tip *tip,
                            double along, jaw_walls *walls, double resid[]);
jaw_status jaw_feature_web(const jaw_touch a[], size_t na, const jaw_touch b[],
                           size_t nb, const jaw_tip *tip, double along,
                           jaw_walls *walls, double resid[]);

/* jaw_feature_ball: centre and diameter of a ball touched from outside; and
 * jaw_feature_bar: axis and diameter of round stock that lies down.
 *
 * Given:     t[n]     x, y and z needed; t.z is the reading minus the tip's
 *                     length, that is the height of the tip's lowest point
 *            tip      a ball, or of diameter 0: where a flat end or a straight
 *                     side meets something round its readings do not say
 *                     (JAW_EDOMAIN); the sides of a bar are a web for those
 *            known    mm, diameter when it is known; NaN: fit it too
 *            n >= 4 (ball); 5, or 6 with a known diameter (bar)
 * Returned:  resid    off the surface, outward positive
 * Status:    JAW_ESIZE: the tip is larger than what was touched; JAW_ESIDE: the
 *            bar stands rather than lies (steeper than 45 degrees): a boss
 * Flags:     JAW_NO_CHECK, JAW_WEAK, JAW_SAME_TOUCH */
jaw_status jaw_feature_ball(const jaw_touch t[], size_t n, const jaw_tip *tip,
                            double known, jaw_ball *ball, double resid[]);
jaw_status jaw_feature_bar(const jaw_touch t[], size_t n, const jaw_tip *tip,
                           double known, jaw_bar *bar, double resid[]);

/* jaw_feature_pattern: origin and turn from two or more known places.
 *
 * Given:     nominal[n] on the drawing, touched[n] on the machine, mm
 * Returned:  *pattern; resid[n] distance of each place from where it belongs
 * Flags:     JAW_SCALE_OFF: the free scale differs from 1 by more than one in
 *            a hundred; or, with three places or more, by more than one in a
 *            thousand and than the residuals explain (their spread 4 times
 *            over); JAW_MIRRORED: three places or more fit better as a mirror
 *            image, with less than a quarter of the rms */
jaw_status jaw_feature_pattern(const jaw_vec2 nominal[],
                               const jaw_vec2 touched[], size_t n,
                               jaw_pattern *pattern, double resid[]);

#ifdef __cplusplus
}
#endif
#endif
