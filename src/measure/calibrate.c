/* SPDX-License-Identifier: GPL-3.0-or-later */
/* calibrate.c: the reach of a tip from a round thing of known size.
 *
 * A touch at the distance r from the ring's centre c, in the direction a of
 * the approach as the tip sees it, says
 *     ring   r + reach(a) = size / 2        plug   r - reach(a) = size / 2
 * with the reach of measure.h.  Its unknowns are the centre, the diameter and
 * the harmonics; the size is one more, with what is known of it as one more
 * equation. */
#include "model.h"

#include <jawline/fit.h>

#include <float.h>
#include <math.h>

#define NO_NUMBER ((double)NAN)
#define PI 3.14159265358979323846

enum { CX, CY, DIAMETER, SIZE, FIRST_TERM }; /* unknowns */
enum { FIRST = 1, THIRD = 2 };               /* bits of terms */

static const char *const words[JAW_TERM_STATES] = {
#define TERM_WORD(name, word, text) [name] = word,
    JAW_TIP_TERM_LIST(TERM_WORD)
#undef TERM_WORD
};

static const char *const texts[JAW_TERM_STATES] = {
#define TERM_TEXT(name, word, text) [name] = text,
    JAW_TIP_TERM_LIST(TERM_TEXT)
#undef TERM_TEXT
};

const char *jaw_tip_term_word(jaw_tip_term_state state)
{
    return (int)state < 0 || state >= JAW_TERM_STATES ? NULL : words[state];
}

const char *jaw_tip_term_text(jaw_tip_term_state state)
{
    return (int)state < 0 || state >= JAW_TERM_STATES ? NULL : texts[state];
}

/* -------------------------------------------------------------------- model */

/* The sum of the harmonics at a; side times its derivatives by each go to dg,
 * that by a itself is returned in *slope. */
static double harmonics(const jaw__ring *r, const double x[], double a,
                        double side, double dg[], double *slope)
{
    double sum = 0;
    size_t k = FIRST_TERM;

    *slope = 0;
    for (unsigned term = FIRST; term <= THIRD; term <<= 1) {
        if (!(r->terms & term))
            continue;
        double order = term == FIRST ? 1 : 3;
        double c = cos(order * a), s = sin(order * a);
        dg[k] = side * c;
        dg[k + 1] = side * s;
        sum += x[k] * c + x[k + 1] * s;
        *slope += order * (x[k + 1] * c - x[k] * s);
        k += 2;
    }
    return sum;
}

double jaw__ring_touch(const void *ring, const double x[], size_t i,
                       double dg[])
{
    const jaw__ring *r = ring;
    double dx = r->p[i].x - r->mean.x - x[CX];
    double dy = r->p[i].y - r->mean.y - x[CY];
    double rho = hypot(dx, dy), side = r->outside ? -1 : 1, slope;
    double a = atan2(side * dy, side * dx); /* where the tip was moving */

    if (r->turned != NULL && r->turned[i])
        a -= PI;
    double h = harmonics(r, x, a, side, dg, &slope);
    dg[CX] = (-dx + side * slope * dy / rho) / rho;
    dg[CY] = (-dy - side * slope * dx / rho) / rho;
    dg[DIAMETER] = side / 2;
    dg[SIZE] = -0.5;
    return rho + side * (x[DIAMETER] / 2 + h) - x[SIZE] / 2;
}

static size_t unknowns_with(unsigned terms)
{
    size_t n = FIRST_TERM;

    n += terms & FIRST ? 2 : 0;
    n += terms & THIRD ? 2 : 0;
    return n;
}

static jaw__model model_of(const jaw__ring *r, size_t n, double size,
                           double scale)
{
    return (jaw__model){.n_touch = n,
                        .unknowns = unknowns_with(r->terms),
                        .n_known = 1,
                        .size = {SIZE},
                        .value = {size},
                        .scale = scale,
                        .data = r,
                        .touch = jaw__ring_touch};
}

/* ---------------------------------------------------------------- selection */

/* Fits with each set of harmonics, by the bits of terms. */
typedef struct job {
    jaw__ring ring;
    size_t n;
    double size, scale, repeat;
    int same; /* touches that were typed twice */
    jaw__solved fit[4];
} job;

static jaw_status fit_with(job *j, unsigned terms)
{
    j->ring.terms = terms;
    jaw__model m = model_of(&j->ring, j->n, j->size, j->scale);
    jaw__solved *s = &j->fit[terms];
    *s = (jaw__solved){.x = {j->fit[0].x[CX], j->fit[0].x[CY],
                             j->fit[0].x[DIAMETER], j->size}};
    return jaw__model_solve(&m, s);
}

/* Nothing that is less sure than one touch corrects a touch. */
static bool is_sure(const jaw__solved *s, unsigned terms)
{
    for (size_t k = FIRST_TERM; k < unknowns_with(terms); k++)
        if (!(s->q[k][k] <= 1))
            return false;
    return sqrt(s->q[DIAMETER][DIAMETER]) / 2 <= 1;
}

/* With the spread unknown a test needs touches to spare: with fewer than three
 * its limit is 99 and more, and a spread that is small by chance both passes it
 * and is believed. */
static bool has_spare(const job *j, int dof)
{
    return dof >= (isnan(j->repeat) ? 3 : 0);
}

/* Adds a harmonic to those to be tested.  Only memory is a failure: a fit that
 * can not be had says that the touches do not show it. */
static jaw_status try_term(job *j, unsigned term, unsigned *tried)
{
    int terms = 1 + (*tried != 0);
    int dof = (int)j->n - j->same - 3 - 2 * terms;

    if (!has_spare(j, dof))
        return JAW_OK;
    jaw_status status = fit_with(j, *tried | term);
    if (status == JAW_ENOMEM)
        return status;
    if (status == JAW_OK && is_sure(&j->fit[*tried | term], *tried | term))
        *tried |= term;
    return JAW_OK;
}

static bool both_positions(const bool turned[], size_t n)
{
    for (size_t i = 1; turned != NULL && i < n; i++)
        if (turned[i] != turned[0])
            return true;
    return false;
}

/* The sum of squares that the term takes away, against the spread: as stated,
 * unless the fit with everything contradicts it. */
static void test_term(const job *j, unsigned term, unsigned tried,
                      jaw_tip_term *t)
{
    const jaw__solved *with = &j->fit[tried], *without = &j->fit[tried & ~term];
    jaw__spread spread = jaw__spread_but(j->same, j->repeat, with, j->n);
    size_t k = FIRST_TERM + (term == THIRD && (tried & FIRST) ? 2 : 0);
    double less = without->ssr - with->ssr;

    t->c = with->x[k];
    t->s = with->x[k + 1];
    t->f = less > 0 ? less / 2 / (spread.repeat * spread.repeat) : 0;
    t->limit = jaw_trust_f(JAW_TIP_LEVEL, 2, spread.dof);
    t->state = t->f > t->limit ? JAW_TERM_KEPT : JAW_TERM_DROPPED;
}

static jaw_status choose_terms(job *j, jaw_tip_calibration *cal,
                               unsigned *kept)
{
    unsigned tried = 0;
    bool separable = both_positions(j->ring.turned, j->n);
    jaw_status status = separable ? try_term(j, FIRST, &tried) : JAW_OK;

    if (status == JAW_OK)
        status = try_term(j, THIRD, &tried);
    if (status == JAW_OK && tried == (FIRST | THIRD))
        status = fit_with(j, THIRD); /* FIRST was had on the way */
    if (status != JAW_OK)
        return status;
    cal->first.state = separable ? JAW_TERM_NOT_SEEN : JAW_TERM_INSEPARABLE;
    cal->third.state = JAW_TERM_NOT_SEEN;
    if (tried & FIRST)
        test_term(j, FIRST, tried, &cal->first);
    if (tried & THIRD)
        test_term(j, THIRD, tried, &cal->third);
    *kept = (cal->first.state == JAW_TERM_KEPT ? FIRST : 0) |
            (cal->third.state == JAW_TERM_KEPT ? THIRD : 0);
    return JAW_OK;
}

/* ------------------------------------------------------------------ results */

static void clear(jaw_tip_calibration *cal)
{
    *cal = (jaw_tip_calibration){.diameter = NO_NUMBER};
    double *const all[] = {&cal->u_diameter, &cal->dof,    &cal->within,
                           &cal->repeat,     &cal->seen,   &cal->ssr,
                           &cal->rms,        &cal->size_u, &cal->dof_repeat};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++)
        *all[i] = NO_NUMBER;
    for (size_t i = 0; i < 4; i++)
        cal->harmonic[i] = NO_NUMBER;
    for (size_t i = 0; i < 15; i++)
        cal->cov[i] = NO_NUMBER;
    cal->centre = cal->u_centre = (jaw_vec3){NO_NUMBER, NO_NUMBER, NO_NUMBER};
    cal->first = cal->third =
        (jaw_tip_term){JAW_TERM_NOT_SEEN, NO_NUMBER, NO_NUMBER, NO_NUMBER,
                       NO_NUMBER};
}

static jaw_status failed(jaw_tip_calibration *cal, double resid[], size_t n,
                         jaw_status status)
{
    clear(cal);
    for (size_t i = 0; resid != NULL && i < n; i++)
        resid[i] = NO_NUMBER;
    return status;
}

/* What a ring and a ball share: d is the unknown that is the diameter. */
static void put_quality(jaw_tip_calibration *cal, const jaw__solved *s,
                        size_t d, size_t n, int same, double stated,
                        double size_u)
{
    jaw__spread spread = jaw__spread_but(same, stated, s, n);
    double u = sqrt(s->q[d][d]) * spread.repeat;

    cal->diameter = s->x[d];
    cal->u_diameter = hypot(u, size_u);
    cal->dof = jaw__effective(u, spread.dof, size_u);
    cal->within = jaw_trust_within(u, spread.dof, size_u);
    cal->repeat = spread.repeat;
    cal->seen = spread.seen;
    cal->rms = spread.rms;
    cal->dof_repeat = spread.dof;
    cal->dof_touch = spread.spare;
    cal->ssr = s->ssr;
    cal->size_u = size_u;
    cal->flags = spread.flags;
    cal->u_centre.x = sqrt(s->q[CX][CX]) * spread.repeat;
    cal->u_centre.y = sqrt(s->q[CY][CY]) * spread.repeat;
    double worst = fmax(s->q[d][d] / 4, fmax(s->q[CX][CX], s->q[CY][CY]));
    if (!(worst <= JAW__WEAK * JAW__WEAK))
        cal->flags |= JAW_WEAK;
}

/* Unknowns of the fit in the order of cov; -1: not kept. */
static void put_harmonics(jaw_tip_calibration *cal, const jaw__solved *s,
                          size_t d, unsigned kept)
{
    int third = FIRST_TERM + (kept & FIRST ? 2 : 0);
    int at[5] = {(int)d, kept & FIRST ? FIRST_TERM : -1,
                 kept & FIRST ? FIRST_TERM + 1 : -1, kept & THIRD ? third : -1,
                 kept & THIRD ? third + 1 : -1};
    double variance = cal->repeat * cal->repeat, *cov = cal->cov;

    for (size_t i = 0; i < 5; i++) {
        if (i > 0)
            cal->harmonic[i - 1] = at[i] < 0 ? 0 : s->x[at[i]];
        for (size_t j = i; j < 5; j++)
            *cov++ = at[i] < 0 || at[j] < 0
                         ? 0
                         : s->q[at[i]][at[j]] * variance;
    }
    cal->cov[0] += cal->size_u * cal->size_u;
}

/* -------------------------------------------------------------------- rings */

static jaw_status check_ring(const jaw_vec2 p[], size_t n, jaw_known_size known,
                             double repeat)
{
    jaw_status status = jaw__known_check(known);

    if (status == JAW_OK)
        status = jaw__repeat_check(repeat);
    if (status == JAW_OK && n < 3)
        return JAW_EFEW;
    for (size_t i = 0; status == JAW_OK && i < n; i++)
        if (!isfinite(p[i].x) || !isfinite(p[i].y))
            return JAW_ENOTFINITE;
    return status;
}

static bool same_on_ring(const void *ring, size_t i, size_t j)
{
    const jaw__ring *r = ring;

    return r->p[i].x == r->p[j].x && r->p[i].y == r->p[j].y &&
           (r->turned == NULL || r->turned[i] == r->turned[j]);
}

/* The circle is the fit without harmonics, but for the size. */
static jaw_status start_ring(job *j)
{
    jaw_circle c;
    jaw_status status = jaw_fit_circle(j->ring.p, j->n, &c, NULL);

    if (status != JAW_OK)
        return status;
    j->ring.mean = (jaw_vec2){c.x, c.y};
    j->scale = 0;
    for (size_t i = 0; i < j->n; i++)
        j->scale = fmax(j->scale, hypot(j->ring.p[i].x - c.x,
                                        j->ring.p[i].y - c.y));
    double d = j->ring.outside ? 2 * c.r - j->size : j->size - 2 * c.r;
    j->fit[0] = (jaw__solved){.x = {0, 0, d, j->size}};
    return fit_with(j, 0);
}

static void ring_residuals(const job *j, const jaw__solved *s, unsigned kept,
                           double resid[])
{
    double dg[JAW__MODEL_MAX];
    jaw__ring r = j->ring;

    r.terms = kept;
    for (size_t i = 0; i < j->n; i++)
        resid[i] = jaw__ring_touch(&r, s->x, i, dg);
}

jaw_status jaw_tip_calibrate_ring(const jaw_vec2 p[], const bool turned[],
                                  size_t n, bool outside, jaw_known_size known,
                                  double repeat, jaw_tip_calibration *cal,
                                  double resid[])
{
    job j = {.ring = {.p = p, .turned = turned, .outside = outside},
             .n = n,
             .size = known.size,
             .repeat = repeat};
    unsigned kept = 0;
    jaw_status status = check_ring(p, n, known, repeat);

    clear(cal);
    if (status == JAW_OK) {
        j.same = jaw__same_touches(same_on_ring, &j.ring, n);
        status = start_ring(&j);
    }
    if (status == JAW_OK)
        status = choose_terms(&j, cal, &kept);
    const jaw__solved *s = &j.fit[kept];
    if (status == JAW_OK && !(s->x[DIAMETER] > 0))
        status = JAW_ESIZE;
    if (status != JAW_OK)
        return failed(cal, resid, n, status);
    put_quality(cal, s, DIAMETER, n, j.same, repeat, known.u);
    put_harmonics(cal, s, DIAMETER, kept);
    cal->centre.x = j.ring.mean.x + s->x[CX];
    cal->centre.y = j.ring.mean.y + s->x[CY];
    if (resid != NULL)
        ring_residuals(&j, s, kept, resid);
    return JAW_OK;
}

/* -------------------------------------------------------------------- balls */

enum { BALL_Z = 2, BALL_DIAMETER, BALL_SIZE, BALL_UNKNOWNS };

double jaw__ball_touch(const void *ball, const double x[], size_t i,
                       double dg[])
{
    const jaw__ball *b = ball;
    double dx = b->p[i].x - b->mean.x - x[CX];
    double dy = b->p[i].y - b->mean.y - x[CY];
    double dz = b->p[i].z - b->mean.z - x[BALL_Z];
    double rho = hypot(hypot(dx, dy), dz);

    dg[CX] = -dx / rho;
    dg[CY] = -dy / rho;
    dg[BALL_Z] = -dz / rho;
    dg[BALL_DIAMETER] = -0.5;
    dg[BALL_SIZE] = -0.5;
    return rho - (x[BALL_DIAMETER] + x[BALL_SIZE]) / 2;
}

/* The start: |p|^2 = 2 c . p + k is linear in c and k (Coope, J. Optim. Theory
 * Appl. 76 (1993) 381-388); k is scaled to the size of the rest. */
typedef struct start {
    const jaw__ball *ball;
    double scale;
} start;

static double start_touch(const void *data, const double x[], size_t i,
                          double dg[])
{
    const start *s = data;
    double q[3] = {(s->ball->p[i].x - s->ball->mean.x) / s->scale,
                   (s->ball->p[i].y - s->ball->mean.y) / s->scale,
                   (s->ball->p[i].z - s->ball->mean.z) / s->scale};
    double g = -x[3];

    dg[3] = -1;
    for (size_t k = 0; k < 3; k++) {
        dg[k] = -2 * q[k];
        g += q[k] * q[k] - 2 * q[k] * x[k];
    }
    return g;
}

/* In one plane but for the rounding of the readings: that alone would move the
 * centre by a thousandth of the ball. */
static jaw_status start_ball(const jaw__ball *b, size_t n, double scale,
                             double size, double x[])
{
    start data = {b, scale};
    double far = hypot(hypot(b->mean.x, b->mean.y), b->mean.z) + scale;
    double rounding = 8 * DBL_EPSILON * far / scale;
    jaw__model m = {.n_touch = n,
                    .unknowns = 4,
                    .scale = 1,
                    .data = &data,
                    .touch = start_touch};
    jaw__solved s = {.x = {0}};
    jaw_status status = jaw__model_solve(&m, &s);

    if (status == JAW_ENOCONV) /* linear: only rounding keeps it moving */
        return JAW_ERANK;
    if (status != JAW_OK)
        return status;
    double r2 = s.x[3];
    for (size_t k = 0; k < 3; k++) {
        if (!(sqrt(s.q[k][k]) * rounding < 1e-3))
            return JAW_ERANK;
        r2 += s.x[k] * s.x[k];
        x[k] = s.x[k] * scale;
    }
    if (!(r2 > 0))
        return JAW_ENOCONV;
    x[BALL_DIAMETER] = 2 * sqrt(r2) * scale - size;
    x[BALL_SIZE] = size;
    return JAW_OK;
}

static jaw_status centre_ball(jaw__ball *b, size_t n, double *scale)
{
    jaw_vec3 m = {0, 0, 0};

    if (n < 4)
        return JAW_EFEW;
    for (size_t i = 0; i < n; i++) {
        jaw_vec3 p = b->p[i];
        if (!isfinite(p.x) || !isfinite(p.y) || !isfinite(p.z))
            return JAW_ENOTFINITE;
        m.x += p.x / (double)n;
        m.y += p.y / (double)n;
        m.z += p.z / (double)n;
    }
    *scale = 0;
    for (size_t i = 0; i < n; i++)
        *scale = fmax(*scale, hypot(hypot(b->p[i].x - m.x, b->p[i].y - m.y),
                                    b->p[i].z - m.z));
    b->mean = m;
    if (!isfinite(*scale))
        return JAW_ENOTFINITE;
    return *scale > 0 ? JAW_OK : JAW_ERANK;
}

static jaw_status fit_ball(jaw__ball *b, size_t n, double size, jaw__solved *s)
{
    double scale;
    jaw_status status = centre_ball(b, n, &scale);

    if (status == JAW_OK)
        status = start_ball(b, n, scale, size, s->x);
    if (status != JAW_OK)
        return status;
    jaw__model m = {.n_touch = n,
                    .unknowns = BALL_UNKNOWNS,
                    .n_known = 1,
                    .size = {BALL_SIZE},
                    .value = {size},
                    .scale = scale,
                    .data = b,
                    .touch = jaw__ball_touch};
    status = jaw__model_solve(&m, s);
    if (status == JAW_OK && !(s->x[BALL_DIAMETER] > 0))
        return JAW_ESIZE;
    return status;
}

static bool same_on_ball(const void *touches, size_t i, size_t j)
{
    const jaw_vec3 *p = touches;

    return p[i].x == p[j].x && p[i].y == p[j].y && p[i].z == p[j].z;
}

jaw_status jaw_tip_calibrate_ball(const jaw_vec3 p[], size_t n,
                                  jaw_known_size known, double repeat,
                                  jaw_tip_calibration *cal, double resid[])
{
    jaw__ball b = {.p = p};
    jaw__solved s = {.x = {0}};
    double dg[JAW__MODEL_MAX];
    jaw_status status = jaw__known_check(known);

    if (status == JAW_OK)
        status = jaw__repeat_check(repeat);
    if (status == JAW_OK)
        status = fit_ball(&b, n, known.size, &s);
    if (status != JAW_OK)
        return failed(cal, resid, n, status);
    clear(cal);
    put_quality(cal, &s, BALL_DIAMETER, n,
                jaw__same_touches(same_on_ball, p, n), repeat, known.u);
    put_harmonics(cal, &s, BALL_DIAMETER, 0);
    cal->centre = (jaw_vec3){b.mean.x + s.x[CX], b.mean.y + s.x[CY],
                             b.mean.z + s.x[BALL_Z]};
    cal->u_centre.z = sqrt(s.q[BALL_Z][BALL_Z]) * cal->repeat;
    if (!(s.q[BALL_Z][BALL_Z] <= JAW__WEAK * JAW__WEAK))
        cal->flags |= JAW_WEAK;
    for (size_t i = 0; resid != NULL && i < n; i++)
        resid[i] = jaw__ball_touch(&b, s.x, i, dg);
    return JAW_OK;
}

/* ------------------------------------------------------------ later touches */

/* sum of w[i] w[j] cov over the upper triangle */
static double spread_along(const double cov[15], const double w[5])
{
    double sum = 0;

    for (size_t i = 0; i < 5; i++)
        for (size_t j = i; j < 5; j++)
            sum += (i == j ? 1 : 2) * w[i] * w[j] * *cov++;
    return sqrt(fmax(sum, 0));
}

static double along(const jaw_tip_calibration *cal, double angle,
                    double of_diameter, double *u)
{
    double w[5] = {of_diameter, cos(angle), sin(angle), cos(3 * angle),
                   sin(3 * angle)};
    double sum = of_diameter * cal->diameter;

    for (size_t i = 0; i < 4; i++)
        sum += w[i + 1] * cal->harmonic[i];
    if (u != NULL) {
        bool unknown = isnan(sum) || isnan(cal->u_diameter);
        *u = unknown ? NO_NUMBER : spread_along(cal->cov, w);
    }
    return sum;
}

double jaw_tip_reach(const jaw_tip_calibration *cal, double angle, double *u)
{
    return along(cal, angle, 0.5, u);
}

double jaw_tip_pretravel(const jaw_tip_calibration *cal, double angle,
                         double *u)
{
    return 0 - along(cal, angle, 0, u); /* 0 stays +0 */
}

double jaw_tip_harmonics(const double harmonic[4], double angle, double *slope)
{
    double c1 = cos(angle), s1 = sin(angle);
    double c3 = cos(3 * angle), s3 = sin(3 * angle);
    const double *h = harmonic;

    if (slope != NULL)
        *slope = h[1] * c1 - h[0] * s1 + 3 * (h[3] * c3 - h[2] * s3);
    return h[0] * c1 + h[1] * s1 + h[2] * c3 + h[3] * s3;
}

/* The known size has a share in the diameter alone, and that is known for good
 * already. */
void jaw_tip_carry(const jaw_tip_calibration *cal, double cov[15])
{
    double size = cal->size_u * cal->size_u;
    double wider = jaw_trust_cover(0.95, cal->dof_repeat) /
                   jaw_trust_cover(0.95, (double)INFINITY);

    for (size_t i = 0; i < 15; i++)
        cov[i] = (cal->cov[i] - (i == 0 ? size : 0)) * wider * wider;
    cov[0] += size;
}
