/* SPDX-License-Identifier: GPL-3.0-or-later */
/* feature.c: the reliability of the touches of one feature, from the cofactors
 * that its fit leaves: with J's row a of a touch and Q = (J^T J)^-1, the touch
 * has leverage a^T Q a and redundancy 1 less that (Hoaglin & Welsch, The
 * American Statistician 32 (1978) 17-22).  It is what an adjustment of one
 * block says, at a fraction of its cost. */
#include "lever.h"

#include <src/base/vec3.h>

#include <float.h>
#include <math.h>

#define NO_NUMBER ((double)NAN)

/* --------------------------------------------------------------- leverage */

double jaw__lever_circle(const jaw_circle *c, bool known, jaw_vec2 p,
                         double *resid)
{
    double x = p.x - c->x, y = p.y - c->y, d = sqrt(x * x + y * y);
    double u = x / d, v = y / d, w = known ? 0 : 1;
    const double *q = c->q;

    *resid = d - c->r;
    return u * (q[0] * u + 2 * (q[1] * v + q[2] * w)) +
           v * (q[3] * v + 2 * q[4] * w) + w * q[5];
}

double jaw__lever_line(const jaw_line *l, jaw_vec2 p, double *resid)
{
    double x = p.x - l->p.x, y = p.y - l->p.y;
    double along = x * l->dir.x + y * l->dir.y;

    *resid = x * l->normal.x + y * l->normal.y;
    return l->q_offset + along * along * l->q_theta;
}

double jaw__lever_plane(const jaw_plane *f, jaw_vec3 p, double *resid)
{
    jaw_vec3 d = {p.x - f->p.x, p.y - f->p.y, p.z - f->p.z};
    double a = jaw__dot(d, f->axis[0]), b = jaw__dot(d, f->axis[1]);

    *resid = jaw__dot(d, f->normal);
    return f->q_offset + a * a * f->q_tilt[0] + b * b * f->q_tilt[1];
}

double jaw__lever_by(const double q[], const double slope[], size_t n)
{
    double sum = 0;

    for (size_t i = 0, at = 0; i < n; i++)
        for (size_t j = i; j < n; j++, at++)
            sum += (i == j ? 1 : 2) * q[at] * slope[i] * slope[j];
    return sum;
}

double jaw__lever_sphere(const jaw_sphere *s, bool known, jaw_vec3 p,
                         double *resid)
{
    jaw_vec3 from = {p.x - s->x, p.y - s->y, p.z - s->z};
    double d = sqrt(jaw__dot(from, from));
    const double slope[4] = {from.x / d, from.y / d, from.z / d, known ? 0 : 1};

    *resid = d - s->r;
    return jaw__lever_by(s->q, slope, 4);
}

/* What is given of a cylinder has no cofactors. */
double jaw__lever_cylinder(const jaw_cylinder *c, jaw_vec3 p, double *resid)
{
    jaw_vec3 from = {p.x - c->p.x, p.y - c->p.y, p.z - c->p.z};
    double a = jaw__dot(from, c->across[0]), b = jaw__dot(from, c->across[1]);
    double h = jaw__dot(from, c->axis), d = hypot(a, b);
    const double slope[5] = {a / d, b / d, h * a / d, h * b / d, 1};

    *resid = d - c->r;
    return jaw__lever_by(c->q, slope, 5);
}

/* ------------------------------------------------------------- reliability */

/* What holds for all touches of a feature. */
typedef struct common {
    double sigma, s0, none;
    bool spare;
} common;

static common common_of(double sigma, double ssr, int dof, double loss)
{
    return (common){.sigma = sigma,
                    .s0 = dof > 0 ? sqrt(ssr / dof) : NO_NUMBER,
                    .none = fmax(1e-12, 64 * DBL_EPSILON * loss),
                    .spare = dof > 0};
}

static jaw_reliability rate(const common *c, double lever, double resid)
{
    jaw_reliability r = {.resid = resid,
                         .standard = NO_NUMBER,
                         .student = NO_NUMBER,
                         .noticeable = (double)INFINITY};

    if (!c->spare || !(1 - lever > c->none))
        return r;
    r.redundancy = fmin(1 - lever, 1);
    double root = sqrt(r.redundancy);
    r.standard = resid / (c->sigma * root);
    r.noticeable = JAW_TRUST_SHIFT * c->sigma / root;
    if (c->s0 > 0)
        r.student = resid / (c->s0 * root);
    return r;
}

/* The fit is a fit, and sigma can be one. */
static jaw_status check(double whole, double sigma, size_t n,
                        jaw_reliability out[])
{
    jaw_status status = !isfinite(whole) ? JAW_ENOTFINITE
                        : !(sigma > 0) || isinf(sigma) ? JAW_EDOMAIN
                                                       : JAW_OK;

    for (size_t i = 0; status != JAW_OK && i < n; i++)
        out[i] = (jaw_reliability){NO_NUMBER, NO_NUMBER, NO_NUMBER, NO_NUMBER,
                                   NO_NUMBER};
    return status;
}

jaw_status jaw_trust_circle(const jaw_vec2 p[], size_t n, const jaw_circle *c,
                            bool known, double sigma, jaw_reliability out[])
{
    jaw_status status = check(c->x + c->y + c->r + c->q[0] + c->q[3], sigma, n,
                              out);
    /* leverages are differences of cofactors as large as q */
    const common all = common_of(sigma, c->ssr, c->dof,
                                 c->q[0] + c->q[3] + c->q[5]);

    for (size_t i = 0; status == JAW_OK && i < n; i++) {
        double resid, lever = jaw__lever_circle(c, known, p[i], &resid);
        out[i] = rate(&all, lever, resid);
    }
    return status;
}

jaw_status jaw_trust_line(const jaw_vec2 p[], size_t n, const jaw_line *line,
                          double sigma, jaw_reliability out[])
{
    jaw_status status = check(line->p.x + line->p.y + line->dir.x +
                                  line->dir.y + line->q_theta,
                              sigma, n, out);
    const common all = common_of(sigma, line->ssr, line->dof, 1);

    for (size_t i = 0; status == JAW_OK && i < n; i++) {
        double resid, lever = jaw__lever_line(line, p[i], &resid);
        out[i] = rate(&all, lever, resid);
    }
    return status;
}

jaw_status jaw_trust_plane(const jaw_vec3 p[], size_t n,
                           const jaw_plane *plane, double sigma,
                           jaw_reliability out[])
{
    jaw_status status = check(jaw__dot(plane->p, plane->normal) +
                                  plane->q_tilt[0] + plane->q_tilt[1],
                              sigma, n, out);
    const common all = common_of(sigma, plane->ssr, plane->dof, 1);

    for (size_t i = 0; status == JAW_OK && i < n; i++) {
        double resid, lever = jaw__lever_plane(plane, p[i], &resid);
        out[i] = rate(&all, lever, resid);
    }
    return status;
}
