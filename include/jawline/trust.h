/* SPDX-License-Identifier: GPL-3.0-or-later */
/* trust.h: what is known about a value's error.
 *
 * One model stands behind everything: a touch, and each thing that is known
 * beforehand (the size of a ring, the spacing of holes, the squareness of a
 * jaw), is an equation with a standard deviation.  A whole setup is one
 * weighted least-squares adjustment; its covariance (JCGM 100), the redundancy
 * of each equation, the test that names the bad touch (Baarda, A testing
 * procedure for use in geodetic networks, 1968; Pope, NOAA TR NOS 65 NGS 1,
 * 1976 where the spread is unknown) and the smallest slip that would be noticed
 * all follow from one orthogonal factorisation.
 *
 * An uncertainty is one standard deviation unless its name says otherwise. */
#ifndef JAWLINE_TRUST_H
#define JAWLINE_TRUST_H

#include <jawline/fit.h>

#ifdef __cplusplus
extern "C" {
#endif

/* ----------------------------------------------------------- distributions */

/* Accuracy of t, chi-square, F and tau for dof up to 1e4: 1e-11 of the value,
 * measured against 40-digit values and by going there and back
 * (tests/trust/distributions.c); 1e-4 of the probability up to 1e6.  Beyond,
 * chi-square is Wilson's and Hilferty's (1931), F with dof2 above 1e6 is
 * chi-square / dof1, and with dof1 above 1e6 it is NaN. */

/* jaw_trust_cover: coverage factor t_p(dof): p of all values lie within this
 * many standard deviations (Student's t, two-sided; JCGM 100, Table G.2).
 * p in (0, 1); dof > 0, INFINITY is the normal distribution; NaN otherwise. */
double jaw_trust_cover(double p, double dof);

/* jaw_trust_chi2: the value that chi-square with dof exceeds with probability
 * p; NaN unless 0 < p < 1 and dof > 0 */
double jaw_trust_chi2(double p, double dof);

/* jaw_trust_f: the value that F(dof1, dof2) exceeds with probability p. */
double jaw_trust_f(double p, double dof1, double dof2);

/* jaw_trust_tau: two-sided critical value of a residual divided by its own
 * standard deviation when that stands on the residuals themselves (Pope 1976):
 * t sqrt(dof) / sqrt(dof - 1 + t^2), t = Student's t(1 - alpha / 2; dof - 1).
 * dof = 1 gives 1 (such a residual is always +-1); NaN for dof < 1. */
double jaw_trust_tau(double alpha, double dof);

/* jaw_trust_shift: the shift of a normal mean, in standard deviations, that a
 * two-sided test at alpha notices with this power (delta_0 of Baarda: 4.13 for
 * 0.001 and 0.80); alpha, power in (0, 1), power > alpha */
double jaw_trust_shift(double alpha, double power);

/* jaw_trust_chi2_shift: the same of a test with chi-square: sqrt(lambda),
 * lambda being the noncentrality at which chi-square with dof exceeds its value
 * for alpha with this power (4.43 for 0.001, 0.80 and two dof; one is
 * jaw_trust_shift).  Noncentral chi-square is a Poisson mixture of central ones
 * (Johnson, Kotz & Balakrishnan, Continuous Univariate Distributions 2, 1995,
 * 29.3); of several slips at once: Kok, NOAA TR NOS 100 NGS 28, 1984.
 * dof 1..100; NaN otherwise.
 * Accuracy:  1e-10 of the value; tests/trust/distributions.c */
double jaw_trust_chi2_shift(double alpha, double power, int dof);

/* The test levels used throughout (Baarda 1968). */
#define JAW_TRUST_ALPHA 0.001
#define JAW_TRUST_POWER 0.80
#define JAW_TRUST_SHIFT 4.1321479650646040 /* jaw_trust_shift of these two */
#define JAW_TRUST_SHIFT_PLACE 4.4342288629850842 /* of a place: two dof */
#define JAW_TRUST_LIMIT 3.2905267314918948 /* of |standard|: alpha, two-sided */
#define JAW_TRUST_LIMIT_PLACE 3.7169221888498384 /* sqrt(-2 ln alpha) */

/* jaw_trust_effective_dof: Welch-Satterthwaite (JCGM 100, G.4.1): of the
 * combination of n independent parts of standard deviation u[i] and degrees of
 * freedom dof[i] (INFINITY: known exactly).  INFINITY when all are; NaN when a
 * u is negative or all are 0 */
double jaw_trust_effective_dof(const double u[], const double dof[], size_t n);

/* jaw_trust_within: half-width of the 95 % interval of a value whose error has
 * two independent parts: one of standard deviation u, estimated with dof
 * degrees of freedom, and one of standard deviation known, which is exact.
 *
 * Given:     u >= 0, dof > 0 (INFINITY: exact as well), known >= 0
 * Returned:  z known where u is 0, t u where known is 0 (z and t: the normal and
 *            Student's factor); NaN when one of the three is not known
 * Accuracy:  the interval holds the truth in 95.0 of 100 and more; at most in
 *            97.4 (one degree of freedom), 95.7 (two), 95.3 (three), 95.2 (four
 *            and more), whatever the ratio of the two parts;
 *            tests/trust/within.c, by quadrature.  Student's t with the degrees
 *            of freedom of Welch and Satterthwaite falls to 87, 92, 93.5
 * Source:    Welch, Biometrika 34 (1947) 28-35, from memory: for many degrees of
 *            freedom it is the first term of his series.  How it bends for few
 *            of them is ours */
double jaw_trust_within(double u, double dof, double known);

/* jaw_trust_among: the same of several such parts, u[i] of dof[i], each of them
 * weighed against all others.
 *
 * Accuracy:  of one part as above; of two and three, 95.0 of 100 and more, up to
 *            99.4 where two of one degree of freedom meet (99.9: three), 98.4
 *            where two of two (99.0: three), 96.0 of five;
 *            tests/trust/limit.c, by quadrature
 * Source:    for many degrees of freedom the first term of Aspin, Biometrika 35
 *            (1948) 88-96, from memory */
double jaw_trust_among(const double u[], const double dof[], size_t n,
                       double known);

/* jaw_trust_limit: the limit beyond which 1 of 100 such errors lie
 * (JAW_TRUST_CHANGE): for deciding whether two values differ.
 *
 * Given, returned: as jaw_trust_among
 * Accuracy:  of one part, whatever its ratio to what is known, 0.95 to 1.05 of
 *            100 lie beyond (four degrees of freedom and more), 0.80 to 1.20
 *            (two and three), 0.30 to 1.45 (one); of two and three parts not
 *            more than the one with the fewest gives, and as little as 0.02
 *            where two of one degree of freedom meet (0.0005: three), 0.05 where
 *            two of two (0.005: three); tests/trust/limit.c, by quadrature
 * Source:    as jaw_trust_within; the constants are ours: the roundest that
 *            keep four degrees of freedom within 0.05 */
#define JAW_TRUST_CHANGE 0.01
double jaw_trust_limit(const double u[], const double dof[], size_t n,
                       double known);

/* One value and what is known of its error, for results that stand by
 * themselves; jaw_figure_make fills in half95 by Student's t (NaN when u is not
 * known, 0 when u is 0). */
typedef struct jaw_figure {
    double value;
    double u;      /* standard uncertainty; NaN: not known */
    double dof;    /* its degrees of freedom; INFINITY: spreads as stated */
    double half95; /* half-width of the 95 % interval */
} jaw_figure;

jaw_figure jaw_figure_make(double value, double u, double dof);

/* -------------------------------------------------------------- adjustment */

/* Unknowns come in blocks, one block a feature, and shared ones, which several
 * features need (a turn, the diameter of a tip).  Only shared unknowns tie the
 * blocks together, so each block is eliminated by itself and the cost is linear
 * in the equations.  Everything is linear here: the caller linearises at the
 * best values known, and repeats until the corrections vanish.
 *
 * The object owns its memory; one object, one thread. */
typedef struct jaw_adjust jaw_adjust;

enum { JAW_ADJUST_BLOCK_MAX = 8, JAW_ADJUST_SHARED_MAX = 8 };

/* One equation:  sum local[k] x_block[k] + sum shared[k] x[which[k]]
 *                = off + error, error of standard deviation sigma. */
typedef struct jaw_equation {
    size_t block; /* JAW_NO_BLOCK: only shared unknowns */
    double local[JAW_ADJUST_BLOCK_MAX]; /* as many as the block has */
    size_t n_shared; /* 0..JAW_ADJUST_SHARED_MAX */
    size_t which[JAW_ADJUST_SHARED_MAX]; /* no unknown twice */
    double shared[JAW_ADJUST_SHARED_MAX];
    double off;
    double sigma;       /* > 0 */
    bool known_spread;  /* sigma is known, not only its ratio to the others */
} jaw_equation;

#define JAW_NO_BLOCK ((size_t)-1)

/* jaw_adjust_alloc: empty; NULL when out of memory.
 * jaw_adjust_clear: empty again, memory kept for the next round. */
jaw_adjust *jaw_adjust_alloc(void);
void jaw_adjust_free(jaw_adjust *adjust); /* NULL is fine */
void jaw_adjust_clear(jaw_adjust *adjust);

/* jaw_adjust_add_block: a block of n unknowns, 1..JAW_ADJUST_BLOCK_MAX.
 * jaw_adjust_add_shared: one more shared unknown.
 * jaw_adjust_add: one more equation.
 * Each returns its number, counted from 0, in *id (NULL is fine).
 * Status:    JAW_OK, JAW_ENOMEM, JAW_EDOMAIN (a count, number or sigma out of
 *            range), JAW_ENOTFINITE */
jaw_status jaw_adjust_add_block(jaw_adjust *adjust, size_t n, size_t *id);
jaw_status jaw_adjust_add_shared(jaw_adjust *adjust, size_t *id);
jaw_status jaw_adjust_add(jaw_adjust *adjust, const jaw_equation *equation,
                          size_t *id);

/* jaw_adjust_solve: the corrections with least weighted sum of squares.
 *
 * Status:    JAW_OK; JAW_ERANK: the equations do not determine every unknown:
 *            *block and *unknown name one that is loose (block JAW_NO_BLOCK: a
 *            shared one); JAW_ENOMEM
 * Accuracy:  that of Householder QR: backward stable
 * Cost:      linear in the equations, cubic in the shared unknowns */
jaw_status jaw_adjust_solve(jaw_adjust *adjust, size_t *block,
                            size_t *unknown);

/* After JAW_OK from jaw_adjust_solve: */
const double *jaw_adjust_block(const jaw_adjust *adjust, size_t block);
double jaw_adjust_shared(const jaw_adjust *adjust, size_t shared);

/* The adjustment as a whole. */
typedef struct jaw_adjust_quality {
    double ssr;    /* sum of (residual / sigma)^2 */
    double dof;    /* equations less unknowns, >= 0 */
    double s0;     /* sqrt(ssr / dof): 1 when the sigmas are right; NaN */
    double chi2_p; /* probability of an ssr this large or larger; NaN */
    double low_p;  /* of one this small or smaller; NaN */
} jaw_adjust_quality;

jaw_adjust_quality jaw_adjust_total(const jaw_adjust *adjust);

/* One equation. */
typedef struct jaw_reliability {
    double resid;      /* off minus what the unknowns explain, in its unit */
    double redundancy; /* 0: nothing checks it; 1: fully checked */
    double standard;   /* resid / (sigma sqrt(redundancy)); NaN when 0 */
    double student;    /* the same with s0 sigma (Pope); NaN without dof */
    double noticeable; /* smallest slip noticed at JAW_TRUST_ALPHA with
                          JAW_TRUST_POWER, in its unit; INFINITY: none */
} jaw_reliability;

jaw_reliability jaw_adjust_reliability(const jaw_adjust *adjust,
                                       size_t equation);

/* jaw_adjust_without: what is said of one equation if another one is left out:
 * the next step when the worst has been set aside (Kok 1984, iterated).
 * All NaN when one of the two is not there, or when nothing checks the one that
 * is left out. */
jaw_reliability jaw_adjust_without(const jaw_adjust *adjust, size_t left_out,
                                   size_t equation);

/* jaw_adjust_place: two equations that slip together in any direction, as x and
 * y of a hole do (Baarda 1968 for one; Kok 1984): the sum of squares that a
 * slip in both takes away is chi-square with as many degrees of freedom as there are
 * directions in which something checks them. */
typedef struct jaw_place_reliability {
    int directions;    /* that are checked: 0, 1 or 2 */
    double redundancy; /* in the direction that is checked least */
    double standard;   /* root of that sum of squares; NaN for no direction */
    double limit;      /* above it is a doubt, at JAW_TRUST_ALPHA; NaN */
    double slip[2];    /* the slips that explain it best, in their unit; in the
                          direction that nothing checks 0 */
    double noticeable; /* smallest slip noticed with JAW_TRUST_POWER, in the
                          direction that is checked least; INFINITY */
} jaw_place_reliability;

jaw_place_reliability jaw_adjust_place(const jaw_adjust *adjust,
                                       const size_t equation[2]);

/* jaw_adjust_worst: the equation with the largest |standard|; JAW_NO_BLOCK
 * when none is checked.  *alike: how many others can not be told from it: their
 * tests are correlated so closely with it (|correlation| > 0.999) that a slip
 * in one shows as much in the other.  alike may be NULL. */
size_t jaw_adjust_worst(const jaw_adjust *adjust, size_t *alike);

/* A value as a linear function of the unknowns, built term by term. */
typedef struct jaw_linear jaw_linear;

jaw_linear *jaw_linear_alloc(const jaw_adjust *adjust); /* 0; NULL: memory */
void jaw_linear_free(jaw_linear *f); /* NULL is fine */
void jaw_linear_zero(jaw_linear *f);
jaw_status jaw_linear_local(jaw_linear *f, size_t block, size_t unknown,
                            double coefficient); /* adds; JAW_EDOMAIN */
jaw_status jaw_linear_shared(jaw_linear *f, size_t shared,
                             double coefficient);

/* jaw_adjust_value: its correction; jaw_adjust_variance: its variance for the
 * sigmas as stated (multiply by s0^2 when only ratios are known);
 * jaw_adjust_covariance: of two;
 * jaw_adjust_influence: by how much a slip of 1 in an equation moves it.
 * NaN when the linear function was made for another adjustment. */
double jaw_adjust_value(const jaw_adjust *adjust, const jaw_linear *f);
double jaw_adjust_variance(const jaw_adjust *adjust, const jaw_linear *f);
double jaw_adjust_covariance(const jaw_adjust *adjust, const jaw_linear *f,
                             const jaw_linear *g);
double jaw_adjust_influence(const jaw_adjust *adjust, size_t equation,
                            const jaw_linear *f);

#define JAW_TRUST_SHARE_NONE 0.01

/* jaw_adjust_reach: how far a slip that would not be noticed (JAW_TRUST_ALPHA,
 * JAW_TRUST_POWER) can move f, at most, and whose slip: INFINITY when nothing
 * checks an equation that f stands on.  One that adds less than
 * JAW_TRUST_SHARE_NONE to the standard deviation of f does not bear on it:
 * whatever slips there shows elsewhere first.  Of those that are checked every
 * one counts: of ten thousand alike, each adds less than that.
 * equation may be NULL; JAW_NO_BLOCK when f stands on none. */
double jaw_adjust_reach(const jaw_adjust *adjust, const jaw_linear *f,
                        size_t *equation);

/* jaw_adjust_reach_scaled: the same when every sigma that is not known_spread
 * is this many times what was stated, scale > 0: noticeable slips grow with it,
 * those of what is known do not. */
double jaw_adjust_reach_scaled(const jaw_adjust *adjust, const jaw_linear *f,
                               double scale, size_t *equation);

/* jaw_adjust_gain: what the variance of f would be with one more equation
 * (its off does not matter); for the question where to touch next.  NaN when
 * the equation could not join. */
double jaw_adjust_gain(const jaw_adjust *adjust, const jaw_equation *more,
                       const jaw_linear *f);

/* ------------------------------------------------ touches of one feature */

/* jaw_trust_circle, _line, _plane: reliability of each touch of a feature that
 * was fitted by itself, from the cofactors of its fit; as an adjustment of one
 * block would say, at a fraction of its cost.
 *
 * Given:     p[n]     the touches that were fitted, and the fit
 *            known    the radius was known (jaw_fit_circle_known)
 *            sigma    stated standard deviation of one touch, > 0
 * Returned:  out[n]   all NaN on failure
 * Status:    JAW_OK, JAW_EDOMAIN (sigma), JAW_ENOTFINITE (the fit failed) */
jaw_status jaw_trust_circle(const jaw_vec2 p[], size_t n, const jaw_circle *c,
                            bool known, double sigma, jaw_reliability out[]);
jaw_status jaw_trust_line(const jaw_vec2 p[], size_t n, const jaw_line *line,
                          double sigma, jaw_reliability out[]);
jaw_status jaw_trust_plane(const jaw_vec3 p[], size_t n,
                           const jaw_plane *plane, double sigma,
                           jaw_reliability out[]);

/* ----------------------------------------------------- several bad touches */

/* jaw_robust_circle, _line, _plane, _sphere, _cylinder, _sweep: the touches that
 * most of the others do not agree with, however they hide one another (chips
 * come in pairs), and the fit of the rest.
 *
 * Given:     p[n]     touches; of a sweep (jaw_fit_sweep) x is the angle, rad, y
 *                     the reading
 *            known    of a sphere or cylinder its radius, mm; 0: to be found
 *            sigma    stated standard deviation of one touch; 0: not known
 * Returned:  suspect[n], the fit of those that are not; *robust
 * Status:    as the fit; JAW_EDOMAIN (sigma), JAW_ENOMEM; on failure the fit is
 *            all NaN and nothing is suspect
 * At most n - h touches can be suspect, h = [n/2] + [(p+1)/2] for p unknowns:
 * two of eight on a circle or a ball, of ten on a bar.  Spheres and cylinders
 * through few touches are looked for near that through all, so touches that are
 * off by a good part of the radius may go unnamed.  Without sigma the rest must
 * have two degrees of freedom.  Nothing is dropped for the caller: it is a hint
 * where to look.
 * False alarms: with sigma in one set of a hundred; without it, up to three of
 *            a hundred for 8 to 12 touches (tests/trust/robust.c)
 * Sources:   Rousseeuw 1984, Rousseeuw & Leroy 1987, Rosner 1983, Paul & Fung
 *            1991; places in src/trust/robust.c, robust_solid.c
 * Cost:      3000 sets of touches at most, each against all touches; ordering
 *            is quadratic, so some thousand touches at most */
#define JAW_ROBUST_ALPHA 0.01 /* over all touches of one set */

typedef struct jaw_robust {
    double scale;    /* of one touch, from the least median of squares */
    double spread;   /* of those not suspect; NaN when none is spare */
    size_t suspects; /* how many */
    size_t tried;    /* minimal sets looked at */
} jaw_robust;

jaw_status jaw_robust_circle(const jaw_vec2 p[], size_t n, double sigma,
                             bool suspect[], jaw_circle *c, jaw_robust *robust);
jaw_status jaw_robust_line(const jaw_vec2 p[], size_t n, double sigma,
                           bool suspect[], jaw_line *line, jaw_robust *robust);
jaw_status jaw_robust_plane(const jaw_vec3 p[], size_t n, double sigma,
                            bool suspect[], jaw_plane *plane,
                            jaw_robust *robust);
jaw_status jaw_robust_sphere(const jaw_vec3 p[], size_t n, double known,
                             double sigma, bool suspect[], jaw_sphere *sphere,
                             jaw_robust *robust);
jaw_status jaw_robust_cylinder(const jaw_vec3 p[], size_t n, double known,
                               double sigma, bool suspect[],
                               jaw_cylinder *cylinder, jaw_robust *robust);
jaw_status jaw_robust_sweep(const jaw_vec2 p[], size_t n, double sigma,
                            bool suspect[], jaw_sweep *sweep,
                            jaw_robust *robust);

/* jaw_trust_esd: bad readings among n repeats of one thing (Rosner 1983): up to
 * `most` are taken out, farthest first; bad is how many of those stand against
 * the rest at level alpha (two-sided).
 *
 * Returned:  found[most] in the order taken out, *bad
 * Status:    JAW_OK, JAW_EFEW (n < 3, most > n - 2), JAW_EDOMAIN (alpha),
 *            JAW_ENOTFINITE; on failure *bad = 0 */
typedef struct jaw_esd {
    size_t index;
    double stat, critical; /* off by so many deviations, and the limit */
} jaw_esd;

jaw_status jaw_trust_esd(const double y[], size_t n, size_t most, double alpha,
                         jaw_esd found[], size_t *bad);

/* ------------------------------------------------------------- Monte Carlo */

/* Propagation of distributions by trials (JCGM 101:2008), for whatever linear
 * propagation may get wrong: short arcs, few touches.
 *
 * Trial t of a seed is the same whoever does it and in whatever company, so a
 * caller may share trials out among threads, each writing its own part of the
 * arrays; nothing here starts one.  (To the last digits trials of a circle
 * depend on what the machine can do: those with and without fused multiply-add
 * differ by rounding.) */

/* Random numbers: xoshiro256++ (Blackman & Vigna 2021), one stream a trial. */
typedef struct jaw_random {
    unsigned long long s[4];
} jaw_random;

jaw_random jaw_random_stream(unsigned long long seed,
                             unsigned long long trial);
unsigned long long jaw_random_bits(jaw_random *random); /* 64 */
double jaw_random_even(jaw_random *random);   /* in (0, 1) */
double jaw_random_normal(jaw_random *random); /* mean 0, deviation 1 */

enum { JAW_MONTE_VALUES_MAX = 64 };

/* What is tried: run does trials first .. first + count - 1, value k of trial
 * first + i going to out[k][i]; one that could not be done is NaN and counted
 * in *failed. */
typedef struct jaw_monte_model {
    jaw_status (*run)(void *context, unsigned long long seed, size_t first,
                      size_t count, double *const out[], size_t *failed);
    void *context;
    size_t n_values; /* 1..JAW_MONTE_VALUES_MAX */
} jaw_monte_model;

/* jaw_monte_each: a `run` for anything that can be computed once; its context
 * is a jaw_monte_trial.  Status: JAW_OK, JAW_EDOMAIN (n_values) */
typedef struct jaw_monte_trial {
    jaw_status (*one)(void *context, jaw_random *random, double value[]);
    void *context;
    size_t n_values;
} jaw_monte_trial;

jaw_status jaw_monte_each(void *trial, unsigned long long seed, size_t first,
                          size_t count, double *const out[], size_t *failed);

/* jaw_monte_circle: a `run` for circles; its context is a jaw_monte_touches.
 * Three values: how far x, y and r of each trial lie from those
 * of jaw_fit_circle on the touches as they are, mm.  Each touch is moved along
 * its direction from the centre by sigma times a normal number.
 *
 * Status:    as jaw_fit_circle; JAW_EDOMAIN (a sigma < 0), JAW_ENOMEM
 * Accuracy:  as jaw_fit_circle for each trial: 1e-12 mm for radii of some
 *            millimetres, tests/trust/monte_circle.c
 * Speed:     make bench, bench_trust */
typedef struct jaw_monte_touches {
    const jaw_vec2 *p;
    size_t n;
    const double *sigma; /* n, mm, >= 0 */
} jaw_monte_touches;

jaw_status jaw_monte_circle(void *touches, unsigned long long seed,
                            size_t first, size_t count, double *const out[],
                            size_t *failed);

/* jaw_monte_sphere: the same for spheres; its context is a jaw_monte_places.  Four
 * values: x, y, z and r.
 *
 * Status:    as jaw_fit_sphere; JAW_EDOMAIN (a sigma < 0), JAW_ENOMEM
 * Accuracy:  as jaw_fit_sphere for each trial, and 1e-10 of the radius,
 *            tests/trust/monte_sphere.c */
typedef struct jaw_monte_places {
    const jaw_vec3 *p;
    size_t n;
    const double *sigma; /* n, mm, >= 0 */
} jaw_monte_places;

jaw_status jaw_monte_sphere(void *touches, unsigned long long seed,
                            size_t first, size_t count, double *const out[],
                            size_t *failed);

/* jaw_monte_cylinder: the same for cylinders, n >= 6; its context is a
 * jaw_monte_places, its touches are moved away from the axis.  Five values: how
 * far the axis lies off along across[0] and across[1] of jaw_fit_cylinder on the
 * touches as they are, where it passes the plane square to the axis through its
 * p, mm; how far it leans towards either, as a slope; and r, mm.
 *
 * Status:    as jaw_fit_cylinder; JAW_EDOMAIN (a sigma < 0), JAW_ENOMEM
 * Accuracy:  as jaw_fit_cylinder for each trial, and 1e-10 of the radius,
 *            tests/trust/monte_cylinder.c */
jaw_status jaw_monte_cylinder(void *touches, unsigned long long seed,
                              size_t first, size_t count, double *const out[],
                              size_t *failed);

/* jaw_monte_summarize: mean, standard uncertainty (JCGM 101, 7.6) and coverage
 * intervals for probability p (7.7) of the trials of one value.
 *
 * Status:    JAW_OK; JAW_EFEW (n (1 - p) < 1/2: no interval leaves any out),
 *            JAW_EDOMAIN (p), JAW_ENOMEM; on failure all NaN
 * Cost:      linear in n for numbers that are spread out as trials are */
typedef struct jaw_monte_summary {
    double mean, u;
    double low, high;             /* as much below as above */
    double short_low, short_high; /* the shortest */
    size_t n, failed;             /* trials that count, and that do not */
} jaw_monte_summary;

jaw_status jaw_monte_summarize(const double value[], size_t n, double p,
                               jaw_monte_summary *out);

/* jaw_monte_settle: blocks of trials until every value's mean, standard
 * uncertainty and interval ends hold still (JCGM 101, 7.9.4): twice the
 * standard deviation of each, over the blocks, is within share times the
 * numerical tolerance of the value's u to so many digits.
 *
 * Given:     plan     most: trials at most; share: 1, or 0.2 when a linear
 *                     propagation is to be judged by it (8.2)
 * Returned:  out[n_values], *trials done, *settled: whether they hold still;
 *            when not, out is the best that `most` trials can say
 * Status:    JAW_OK; JAW_EDOMAIN, JAW_EFEW (most is below one block:
 *            10000 or 100 / (1 - p)), JAW_ENOMEM, those of run */
typedef struct jaw_monte_plan {
    unsigned long long seed;
    size_t most;
    double p;
    int digits; /* of u that count: 1 or 2 */
    double share;
} jaw_monte_plan;

jaw_status jaw_monte_settle(const jaw_monte_model *model,
                            const jaw_monte_plan *plan,
                            jaw_monte_summary out[], size_t *trials,
                            bool *settled);

/* jaw_monte_tolerance: half a unit of the last of so many digits of u (JCGM
 * 101, 7.9.2); NaN unless u > 0 and digits 1..15.
 * jaw_monte_agrees: whether value +- expanded, from linear propagation, has
 * both ends within that of the trials' (clause 8.1). */
double jaw_monte_tolerance(double u, int digits);
bool jaw_monte_agrees(const jaw_monte_summary *trials, double value,
                      double expanded, int digits);

/* --------------------------------------------------------------- decisions */

typedef enum jaw_verdict { JAW_FITS, JAW_DOES_NOT, JAW_CAN_NOT_TELL } jaw_verdict;

/* jaw_trust_decide: does a measured value lie within [low, high]?
 *
 * ISO 14253-1:2017: to say that it fits, the zone is narrowed by a guard band
 * at each limit, to say that it does not it is widened by the same; between
 * the two nobody can tell.  The guard band is g = t u with Student's t at 95 %
 * one-sided for dof (1.645 u for INFINITY).
 * low may be -INFINITY, high INFINITY; low <= high, u >= 0, else
 * JAW_CAN_NOT_TELL. */
jaw_verdict jaw_trust_decide(double value, double u, double dof, double low,
                             double high);

#ifdef __cplusplus
}
#endif
#endif
