/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fit.h: least-squares geometry as pure numbers.  No tips, no sides: what is
 * fitted here are positions of tip centres, so published data tests it
 * directly.  Nothing allocates but the zones; nothing is kept between calls.
 *
 * Common to all fits:
 *   - distances are orthogonal;
 *   - rms = sqrt(sum of squared residuals / n) says how far the touches lie
 *     off; s = sqrt(ssr / dof) estimates the spread of one touch;
 *   - covariance is s^2 (J^T J)^-1 at the solution, first order, and with
 *     dof = 0 it is NaN, as are rms and s, and JAW_NO_CHECK is set: a fit that
 *     must go through every touch is no evidence;
 *   - cofactor q (where given) is (J^T J)^-1: the covariance for touches of
 *     unit spread.  It is known even with dof = 0;
 *   - resid may be NULL.  Input arrays are never written to;
 *   - on failure every number of the result and every residual is NaN, dof and
 *     flags are 0;
 *   - touches are alike, on a line and so on when that can't be told from
 *     rounding of their coordinates: n eps times the greatest |coordinate|,
 *     eps = 2.2e-16, in a singular value;
 *   - any scale: coordinates from 1e-300 to 1e300 fit alike, only ssr and cov
 *     of such can over- and underflow;
 *   - accuracy, in what follows, is that of the best fit to the coordinates as
 *     the doubles that they are.  L is the greatest distance of a touch from
 *     the mean of all, and a fit is as good as if each touch had been moved by
 *     8 eps L: what that means for a result depends on where the touches lie,
 *     and the cofactors say it.  Tests: tests/fit and, against other solvers,
 *     tests/compare;
 *   - 65536 touches and more with resid NULL are looked at once, which takes
 *     one to three times as long as reading them where the machine has AVX2
 *     (tests/bench); the cofactors of a circle are then good to 1e-7 of the
 *     largest. */
#ifndef JAWLINE_FIT_H
#define JAWLINE_FIT_H

#include <jawline/base.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef struct jaw_line {
    jaw_vec2 p;      /* mean of the touches; it lies on the line */
    jaw_vec2 dir;    /* unit vector along the line, theta in (-pi/2, pi/2] */
    jaw_vec2 normal; /* dir turned by +90 degrees */
    double theta;    /* rad, direction, in (-pi/2, pi/2] */
    double u_offset; /* mm, standard uncertainty of the line at p */
    double u_theta;  /* rad, of theta; independent of u_offset */
    double q_offset, q_theta; /* cofactors: 1/n, 1/sum of squared positions */
    double ssr, rms, s;
    int dof; /* n - 2 */
    unsigned flags; /* JAW_NO_CHECK; never JAW_WEAK: between the touches the
                       line is no less sure than one of them */
} jaw_line;

typedef struct jaw_plane {
    jaw_vec3 p;      /* mean of the touches; it lies on the plane */
    jaw_vec3 normal; /* unit, z > 0 (z = 0: y > 0; y = 0 too: x > 0) */
    jaw_vec3 axis[2]; /* unit, in the plane: most and least extent of touches */
    double u_offset; /* mm, of the plane at p, along the normal */
    double u_tilt[2]; /* rad, of tilting about axis[1] (that is along axis[0])
                         and about axis[0]; all three are independent */
    double q_offset, q_tilt[2];
    double ssr, rms, s;
    int dof; /* n - 3 */
    unsigned flags; /* JAW_NO_CHECK; JAW_WEAK: the touches are a strip so
                       narrow that the plane, as far to its side as the strip
                       reaches along (root mean square), is more than ten times
                       less sure than one touch */
} jaw_plane;

typedef struct jaw_circle {
    double x, y, r;  /* mm, r > 0 */
    double cov[6];   /* mm^2, upper triangle: xx xy xr yy yr rr; a known
                        radius has zero variance */
    double q[6];     /* cofactors, same order */
    double ssr, rms, s;
    int dof; /* n - 3; n - 2 when the radius is known */
    unsigned flags; /* JAW_NO_CHECK; JAW_WEAK: the centre is more than ten
                       times less sure than one touch in some direction
                       (short arc): a cofactor above 100 */
} jaw_circle;

typedef struct jaw_pair {
    jaw_vec2 p[2];   /* mean of the touches of each side; lies on its line */
    jaw_vec2 dir;    /* shared direction, unit, theta in (-pi/2, pi/2] */
    jaw_vec2 normal; /* dir turned by +90 degrees */
    double theta;    /* rad, in (-pi/2, pi/2] */
    double gap;      /* mm, signed distance normal . (p[1] - p[0]) */
    double u_theta, u_middle, u_gap; /* of direction, middle line at the mean
                        of p[0] and p[1], and gap (with theta's share) */
    double q_theta, q_offset[2]; /* cofactors: of theta, and 1/n of each side */
    double ssr, rms, s;
    int dof; /* n0 + n1 - 3; one more when the direction is given */
    unsigned flags; /* JAW_NO_CHECK; JAW_WEAK: the gap is more than ten times
                       less sure than one touch, since the sides were touched
                       at places far apart along them */
} jaw_pair;

typedef struct jaw_rigid {
    jaw_frame frame; /* to = origin + R(turn) from; turn in (-pi, pi] */
    jaw_vec2 from_mean, to_mean; /* weighted means of the two sets */
    double scale;    /* of the best similarity, for comparison only */
    double u_turn;   /* rad; independent of the shift at to_mean */
    double u_shift;  /* mm, each of x and y, at to_mean */
    double q_turn, q_shift; /* cofactors */
    double mirror_ssr; /* what the best mirror image would leave */
    double ssr;      /* weighted */
    double rms;      /* sqrt(ssr / sum of weights) */
    double s;        /* sqrt(ssr / dof) */
    int dof; /* 2 n - 3 */
    unsigned flags; /* always 0 */
} jaw_rigid;

/* Upper triangles are stored by rows: of x y z r that is xx xy xz xr yy ... */
typedef struct jaw_sphere {
    double x, y, z, r; /* mm, r > 0 */
    double cov[10];    /* mm^2, of x y z r; a known radius has no variance */
    double q[10];      /* cofactors, same order */
    double ssr, rms, s;
    int dof; /* n - 4; n - 3 when the radius is known */
    unsigned flags; /* JAW_NO_CHECK; JAW_WEAK as of a circle (a small cap) */
} jaw_sphere;

typedef struct jaw_cylinder {
    jaw_vec3 p;         /* on the axis, nearest to the mean of the touches */
    jaw_vec3 axis;      /* unit, z > 0 (z = 0: y > 0; y = 0 too: x > 0) */
    jaw_vec3 across[2]; /* unit, across[0] x across[1] = axis */
    double r;           /* mm, > 0 */
    double cov[15];     /* of: shift of p along across[0] and across[1], mm;
                           tilt of the axis about p towards across[0] and
                           towards across[1], rad; r, mm.  What is given has no
                           variance */
    double q[15];       /* cofactors, same order */
    double ssr, rms, s;
    int dof; /* n less what was to be found: 5, 2 less for a given direction,
                1 less for a given radius */
    unsigned flags; /* JAW_NO_CHECK; JAW_WEAK: a shift is more than ten times
                       less sure than one touch, or a tilt over the length that
                       was touched is */
} jaw_cylinder;

/* What of a cylinder is known before. */
typedef struct jaw_cylinder_given {
    const jaw_vec3 *axis; /* any length but 0; NULL: to be found */
    double r;             /* mm, > 0; 0: to be found */
} jaw_cylinder_given;

typedef struct jaw_rigid3 {
    double turn[3][3];   /* proper rotation: to = origin + turn from */
    jaw_vec3 origin;     /* mm */
    jaw_vec3 from_mean, to_mean; /* weighted means of the two sets */
    double scale;        /* of the best similarity, for comparison only */
    double q_turn[6];    /* cofactors of a small turn about to_mean, as a vector
                            in the axes of `to`: rad^2 for touches of unit
                            spread; independent of the shift */
    double q_shift;      /* cofactor of each of x, y, z at to_mean */
    double cov_turn[6], u_shift;
    double mirror_ssr;   /* what the best mirror image would leave */
    double ssr;          /* weighted */
    double rms, s;       /* as of jaw_rigid */
    int dof; /* 3 n - 6 */
    unsigned flags; /* always 0 */
} jaw_rigid3;

/* reading = mean + along cos(angle) + across sin(angle) */
typedef struct jaw_sweep {
    double mean, along, across; /* mm */
    double amplitude; /* mm, >= 0: half of what an indicator's hand moves */
    double phase;     /* rad in (-pi, pi], where the reading is largest */
    double cov[6];    /* mm^2, of mean along across */
    double q[6];      /* cofactors, same order */
    double ssr, rms, s;
    int dof; /* n - 3 */
    unsigned flags; /* JAW_NO_CHECK; JAW_WEAK as of a circle */
} jaw_sweep;

/* Form in the sense of ISO 12780, 12781 and 12181: the narrowest zone that
 * holds all touches, and the two circles that touch from one side. */
typedef struct jaw_zone {
    double width;      /* mm, >= 0; of the two circles: high - low */
    jaw_vec3 normal;   /* of a line (z = 0) or plane: unit, sign as of jaw_line
                          and jaw_plane */
    double low, high;  /* mm: line and plane, normal . p of the two borders;
                          circle, the two radii */
    jaw_vec2 centre;   /* of a circle; what does not belong to a kind is NaN */
    size_t touch[4];   /* those that hold it, as numbered in p; 0 behind them */
    size_t n_touch;    /* 0 on failure */
} jaw_zone;

/* jaw_fit_line: the line with least sum of squared distances.
 *
 * Given:     p[n]     mm, n >= 2
 * Returned:  *line, resid[n] signed distance along line->normal
 * Status:    JAW_OK, JAW_EFEW, JAW_ENOTFINITE, JAW_ERANK (all in one place,
 *            or no direction is better than another)
 * Accuracy:  with a = 1 / sqrt(q_theta), b = sqrt(ssr): theta to
 *            8 eps L sqrt(n) / (a - b) + 2 eps, p to 8 eps L and its last
 *            digit, rms and each residual to 8 eps L a / (a - b)
 * Source:    Pearson, Phil. Mag. (6) 2 (1901) 559-572; Shakarji, J. Res.
 *            NIST 103 (1998) 633-641 */
jaw_status jaw_fit_line(const jaw_vec2 p[], size_t n, jaw_line *line,
                        double resid[]);

/* jaw_fit_line_along: the same with the direction known; n >= 1, dof = n - 1.
 * theta: any finite angle, rad; reduced to (-pi/2, pi/2].  u_theta = 0. */
jaw_status jaw_fit_line_along(const jaw_vec2 p[], size_t n, double theta,
                              jaw_line *line, double resid[]);

/* jaw_fit_pair: two parallel lines, one shared direction.
 *
 * Given:     a[na], b[nb]  mm, na, nb >= 1, na + nb >= 3
 * Returned:  *pair, resid[na + nb] signed distance along pair->normal, side a
 *            first
 * Status:    as jaw_fit_line; JAW_ERANK also when no side has two places
 * Accuracy:  as jaw_fit_line; gap to 8 eps L and theta's share of it
 * Source:    Shakarji & Srinivasan, J. Comput. Inf. Sci. Eng. 13 (2013)
 *            031008 */
jaw_status jaw_fit_pair(const jaw_vec2 a[], size_t na, const jaw_vec2 b[],
                        size_t nb, jaw_pair *pair, double resid[]);

/* jaw_fit_pair_along: the same with the direction known; na, nb >= 1,
 * dof = na + nb - 2. */
jaw_status jaw_fit_pair_along(const jaw_vec2 a[], size_t na,
                              const jaw_vec2 b[], size_t nb, double theta,
                              jaw_pair *pair, double resid[]);

/* jaw_fit_plane: the plane with least sum of squared distances.
 *
 * Given:     p[n]     mm, n >= 3
 * Returned:  *plane, resid[n] signed distance along plane->normal
 * Status:    JAW_OK, JAW_EFEW, JAW_ENOTFINITE, JAW_ERANK (on one line, or no
 *            plane is better than another)
 * Accuracy:  with a = 1 / sqrt(q_tilt[1]), b = sqrt(ssr): normal to
 *            8 eps L sqrt(n) / (a - b) + 2 eps, the rest as jaw_fit_line
 * Source:    Shakarji 1998, as above */
jaw_status jaw_fit_plane(const jaw_vec3 p[], size_t n, jaw_plane *plane,
                         double resid[]);

/* jaw_fit_circle: the circle with least sum of squared distances.
 *
 * Given:     p[n]     tip centres, mm, n >= 3
 * Returned:  *c, resid[n] distance from the circle, outside positive
 * Status:    JAW_OK, JAW_EFEW, JAW_ENOTFINITE, JAW_ERANK (one line, or two
 *            places), JAW_ENOCONV (a straight line is better than any circle,
 *            or no minimum was reached)
 * Accuracy:  x, y, r to eps (8 L sqrt(n q) + |x| + |y| + r), q the largest of
 *            q[0], q[3], q[5]; each residual to 12 eps L.  Of touches that lie
 *            off by more than a hundredth of the radius q understates it, as
 *            it leaves out second derivatives.  Touched over half a turn and
 *            more, within 4 r of the origin: 1e-14 r (measured: 7e-16)
 *            Which minimum: where the circle leaves a thousandth of what the
 *            best line leaves, or less, the one next to Kasa's; else the least
 *            of those that ten starts lead to
 * Source:    Gander, Golub & Strebel, BIT 34 (1994) 558-578; Chernov, Circular
 *            and Linear Regression (2010), chapter 3; start: Kasa, IEEE Trans.
 *            Instrum. Meas. 25 (1976) 8-14 */
jaw_status jaw_fit_circle(const jaw_vec2 p[], size_t n, jaw_circle *c,
                          double resid[]);

/* jaw_fit_circle_known: the same with the radius known, r > 0; n >= 3 (two
 * touches leave two mirrored centres).
 * Status:    also JAW_EDOMAIN (r); JAW_ERANK when two centres fit equally
 *            well (touches on one line: one on either side of it), or none is
 *            better than another
 * Accuracy:  as jaw_fit_circle */
jaw_status jaw_fit_circle_known(const jaw_vec2 p[], size_t n, double r,
                                jaw_circle *c, double resid[]);

/* jaw_fit_rigid: turn and shift that carry one set of points onto another,
 * never a mirror image.
 *
 * Given:     from[n], to[n]  mm, n >= 2
 *            weight[n]       > 0, relative; NULL: all 1
 * Returned:  *fit, resid[n]  vectors to - (origin + R from); may be NULL
 * Status:    JAW_OK, JAW_EFEW, JAW_ENOTFINITE, JAW_EDOMAIN (weight),
 *            JAW_ERANK (one set in one place, or no turn better than another)
 * Flags:     JAW_NO_CHECK never (two points leave dof = 1: their distance)
 * Accuracy:  turn to 8 eps L sqrt(q_turn / q_shift) / scale + 2 eps (L of the
 *            larger set), residuals to 8 eps L and the turn's share, origin to
 *            the turn's share of the coordinates
 * Source:    Umeyama, IEEE PAMI 13 (1991) 376-380 */
jaw_status jaw_fit_rigid(const jaw_vec2 from[], const jaw_vec2 to[],
                         const double weight[], size_t n, jaw_rigid *fit,
                         jaw_vec2 resid[]);

/* jaw_fit_sphere: the sphere with least sum of squared distances.
 *
 * Given:     p[n]     tip centres, mm, n >= 4
 * Returned:  *sphere, resid[n] distance from the sphere, outside positive
 * Status:    JAW_OK, JAW_EFEW, JAW_ENOTFINITE, JAW_ERANK (one plane, or too few
 *            places), JAW_ENOCONV (a plane is better than any sphere, or no
 *            minimum was reached)
 * Accuracy:  x, y, z, r to eps (8 L sqrt(n q) + |x| + |y| + |z| + r), q the
 *            largest of q[0], q[4], q[7], q[9] (measured: four tenths of it);
 *            each residual to 12 eps L.  Of rough touches q understates it, as
 *            with a circle.  Touched over half a sphere and more, within 4 r of
 *            the origin, with noise of at most r / 100: 1e-14 r (measured:
 *            7e-16)
 *            Which minimum: where the sphere leaves a thousandth of what the
 *            best plane leaves, or less, the one next to Kasa's; else the least
 *            of those that fourteen starts lead to
 * Source:    as jaw_fit_circle, in space; Forbes, NPL Report DITC 140/89 */
jaw_status jaw_fit_sphere(const jaw_vec3 p[], size_t n, jaw_sphere *sphere,
                          double resid[]);

/* jaw_fit_sphere_known: the same with the radius known, r > 0; n >= 4 (three
 * touches leave two mirrored centres).
 * Status:    also JAW_EDOMAIN (r); JAW_ERANK also when two centres fit about
 *            equally well: for a spread that only the touches show the odds
 *            between them, the ratio of their ssr to the power dof / 2, are
 *            less than 19 to 1
 * Accuracy:  as jaw_fit_sphere */
jaw_status jaw_fit_sphere_known(const jaw_vec3 p[], size_t n, double r,
                                jaw_sphere *sphere, double resid[]);

/* jaw_fit_cylinder: the cylinder with least sum of squared distances.
 *
 * Given:     p[n]     tip centres, mm; n >= 6 with nothing given (on five
 *                     touches lie two, four or six cylinders, or none), 5 with
 *                     the radius, 3 with the direction or with both
 *            given    NULL: nothing
 * Returned:  *cylinder, resid[n] distance from it, outside positive; across[0]
 *            is as near to x as the axis leaves it, to y where the axis is
 *            within 45 degrees of x
 * Status:    JAW_OK, JAW_EFEW, JAW_ENOTFINITE, JAW_EDOMAIN (given), JAW_ERANK
 *            (the touches fit cylinders of any direction or radius, or two
 *            about equally well: odds of less than 19 to 1 as with
 *            jaw_fit_sphere_known, where the other cylinder's ssr counts with
 *            the share that its normals have in those of the best; six touches
 *            in a regular pattern, and the corners of a box, do),
 *            JAW_ENOCONV (a plane is better than any cylinder, or no minimum
 *            was reached)
 * Accuracy:  p across the axis and r to eps (8 L sqrt(n q) + |p.x| + |p.y| +
 *            |p.z| + r), q the largest of q[0], q[5], q[14]; axis to
 *            8 eps L sqrt(n q) + 2 eps, q the larger of q[9], q[12] (measured:
 *            six tenths of it); p along the axis to 8 eps L and the axis's
 *            share of L; each residual to 12 eps L.  Of rough touches q
 *            understates it, as with a circle.
 *            Touched over half a turn and more, half r to 10 r to either side,
 *            within 4 r of the origin, noise at most r / 1000: p and r to 1e-14
 *            of r or that length, axis to 1e-14 rad (measured: 8e-16)
 *            Which minimum: where the cylinder leaves a thousandth of what the
 *            best plane leaves, or less, and the touches admit no other that
 *            leaves less than nine times as much, that one; else the least of
 *            those that directions all round lead to (by trial, no better one
 *            is known of)
 * Source:    Forbes, NPL Report DITC 140/89 (the model); Shakarji, J. Res.
 *            NIST 103 (1998) 633-641; directions: Eberly, Fitting 3D Data with
 *            a Cylinder (2003) */
jaw_status jaw_fit_cylinder(const jaw_vec3 p[], size_t n,
                            const jaw_cylinder_given *given,
                            jaw_cylinder *cylinder, double resid[]);

/* jaw_fit_rigid3: jaw_fit_rigid in space; n >= 3, not on one line.
 *
 * Given:     as jaw_fit_rigid
 * Returned:  *fit, resid[n] vectors to - (origin + turn from); may be NULL.
 *            Points in one plane are their own mirror image, turned over:
 *            mirror_ssr is then ssr and says nothing
 * Status:    as jaw_fit_rigid; JAW_ERANK also for points on one line
 * Accuracy:  turn about any axis to 8 eps L sqrt(q / q_shift) + 2 eps (q its
 *            cofactor about that axis, L of the larger set) while the residuals
 *            are small against the points' distances from it; residuals to
 *            8 eps L and the turn's share, turn square and of length 1 to 2 eps
 * Source:    Umeyama, IEEE PAMI 13 (1991) 376-380 */
jaw_status jaw_fit_rigid3(const jaw_vec3 from[], const jaw_vec3 to[],
                          const double weight[], size_t n, jaw_rigid3 *fit,
                          jaw_vec3 resid[]);

/* jaw_fit_sweep: mean, cosine and sine of readings at known angles.
 *
 * Given:     angle[n] rad, any; reading[n] mm, n >= 3
 * Returned:  *sweep, resid[n] reading less fitted
 * Status:    JAW_OK, JAW_EFEW, JAW_ENOTFINITE, JAW_ERANK (fewer than three
 *            different angles: such as differ, full turns apart, by less than n
 *            eps times the largest of them, or of 1, are one)
 * Flags:     JAW_WEAK when along and across are, in some direction, more than
 *            ten times less sure than one reading: the angles crowd
 * Accuracy:  mean, along, across to eps (8 M sqrt(n q) + |value|), q the
 *            largest of q[0], q[3], q[5], and M the greatest distance of a
 *            reading from their mean and the amplitude together (what an
 *            angle's last digit makes of a reading); residuals to 8 eps M,
 *            cofactors to 8 eps (1 + sqrt(n q)) q
 * Source:    Gentleman, J. Inst. Maths Applics 12 (1973) 329-336 */
jaw_status jaw_fit_sweep(const double angle[], const double reading[], size_t n,
                         jaw_sweep *sweep, double resid[]);

/* jaw_zone_line, _plane, _circle: minimum zones, exact: no zone that holds all
 * touches is narrower.  A circle's is the narrowest ring of all, wherever its
 * centre lies.
 *
 * Given:     p[n]  mm; n >= 2, 3, 3
 * Returned:  *zone.  It is held by 3 touches (a strip: an edge and one
 *            opposite) or 4; by 2 or 3 when all lie on its one border.  Of
 *            several as narrow: the strip or slab that lies flattest to x or to
 *            x and y, the smallest ring
 * Status:    JAW_OK, JAW_EFEW, JAW_ENOTFINITE, JAW_ERANK (all in one place; for
 *            a plane on one line, for a circle no ring is narrower than a
 *            strip), JAW_ENOMEM; on failure all NaN
 * Accuracy:  width to 16 eps L, and a touch may lie off the zone by as much;
 *            centre and normal such that the zone they give is as narrow, but
 *            for rounding of their own last digits; tests: every zone of small
 *            sets, tests/fit/zone_search.c
 * Cost:      allocates; n log n, of a ring n times the few rounds it takes.  Of
 *            100000 touches a ring within a second, others within five
 *            (held by tests/bench)
 * Source:    Houle & Toussaint, IEEE PAMI 10 (1988) 761-765; Rivlin, Computing
 *            21 (1979) 93-104; ISO 12181-1, 12780-1, 12781-1 (the terms) */
jaw_status jaw_zone_line(const jaw_vec2 p[], size_t n, jaw_zone *zone);
jaw_status jaw_zone_plane(const jaw_vec3 p[], size_t n, jaw_zone *zone);
jaw_status jaw_zone_circle(const jaw_vec2 p[], size_t n, jaw_zone *zone);

/* jaw_zone_around: the smallest circle that holds all touches (what a ring must
 * be to slip over a boss); high its radius, low the distance of the innermost
 * touch from its centre.  n >= 2.  jaw_zone_within: the largest circle that no
 * touch lies in, its centre within the touches' convex hull (the largest pin
 * that a bore takes); low its radius, high the distance of the outermost touch.
 * n >= 3; of several as large the one farthest to the left, then the lowest.
 *
 * Returned:  *zone, held by 2 or 3 touches; width = high - low
 * Status:    as jaw_zone_circle; JAW_ERANK (all in one place; within: on one
 *            line)
 * Accuracy:  the radius to 16 eps L (within: 32)
 * Source:    Welzl, LNCS 555 (1991) 359-370; Toussaint, Int. J. Comput. Inf.
 *            Sci. 12 (1983) 347-358; ISO 12181-1 (the terms) */
jaw_status jaw_zone_around(const jaw_vec2 p[], size_t n, jaw_zone *zone);
jaw_status jaw_zone_within(const jaw_vec2 p[], size_t n, jaw_zone *zone);

#ifdef __cplusplus
}
#endif
#endif
