/* SPDX-License-Identifier: GPL-3.0-or-later */
/* robust_solid.c: several bad touches of a sphere or a cylinder, and several bad
 * readings of an indicator that goes round.
 *
 * Through few touches a cylinder has no formula, so the one through a set is
 * reached by Newton's steps from the one through all: a blunder is small against
 * the radius, or the fit to all would not stand.  Coordinates are seen from that
 * fit: of a sphere from its centre, of a cylinder along across[0], across[1] and
 * the axis.  Unknowns, of a sphere: x y z r; of a cylinder: where its axis
 * crosses the plane of across[0] and across[1], its slopes along both, r.  With
 * w from the axis to a touch (at its height h), t the axis' direction with
 * t_3 = 1, and k = w . t / t . t:
 *     d = |w - k t|,  dd = -(w_i - k t_i) / d  (da_i + (h + k) dt_i). */
#include "robust.h"

#include "eliminate.h"
#include "lever.h"

#include <src/base/vec3.h>

#include <math.h>
#include <stddef.h>

enum { STEPS_MOST = 12 };

/* Of the radius: where Newton's steps are at the end of what doubles can. */
#define ROUNDING 1e-11

/* ------------------------------------------------------------------ shapes */

static double sphere_from(const jaw__robust *w, size_t i, const double shape[],
                          double slope[])
{
    const jaw_vec3 *p = w->p;
    const jaw_sphere *o = &w->whole.sphere;
    double x = p[i].x - o->x - shape[0], y = p[i].y - o->y - shape[1];
    double z = p[i].z - o->z - shape[2], d = hypot(hypot(x, y), z);

    slope[0] = -x / d;
    slope[1] = -y / d;
    slope[2] = -z / d;
    slope[3] = -1;
    return d - shape[3];
}

static double cylinder_from(const jaw__robust *w, size_t i,
                            const double shape[], double slope[])
{
    const jaw_vec3 *p = w->p;
    const jaw_cylinder *o = &w->whole.cylinder;
    jaw_vec3 from = {p[i].x - o->p.x, p[i].y - o->p.y, p[i].z - o->p.z};
    double h = jaw__dot(from, o->axis), s = shape[2], t = shape[3];
    double a = jaw__dot(from, o->across[0]) - shape[0] - h * s;
    double b = jaw__dot(from, o->across[1]) - shape[1] - h * t;
    double k = (a * s + b * t) / (1 + s * s + t * t);
    double d = hypot(hypot(a - k * s, b - k * t), k);

    slope[0] = -(a - k * s) / d;
    slope[1] = -(b - k * t) / d;
    slope[2] = slope[0] * (h + k);
    slope[3] = slope[1] * (h + k);
    slope[4] = -1;
    return d - shape[4];
}

typedef double distance(const jaw__robust *w, size_t i, const double shape[],
                        double slope[]);

/* One of Newton's steps; the largest distance that it started from, or NaN. */
static double step(const jaw__robust *w, distance *from, const size_t pick[],
                   double shape[])
{
    double rows[JAW__NEED_MOST][JAW__COLUMNS], slope[JAW__NEED_MOST];
    size_t need = w->kind->need;
    double far = 0;

    for (size_t i = 0; i < need; i++) {
        double off = from(w, pick[i], shape, slope);
        for (size_t k = 0; k < need; k++)
            rows[i][k] = slope[k];
        rows[i][need] = -off;
        far = fmax(far, fabs(off));
    }
    if (!jaw__eliminate(need, rows))
        return (double)NAN;
    for (size_t k = 0; k < need; k++)
        shape[k] += rows[k][need];
    return far;
}

/* Four touches level with one another lie on spheres of any size, and of a huge
 * one every touch lies off by nothing that a double shows. */
static bool is_near(const double shape[], size_t last, double r)
{
    return fabs(shape[0]) <= r && fabs(shape[1]) <= r &&
           fabs(shape[last] - r) <= r / 2;
}

/* From the fit to all; its radius r is the last of what a shape holds. */
static bool reach(const jaw__robust *w, distance *from, size_t last, double r,
                  const size_t pick[], double shape[])
{
    double far = HUGE_VAL;

    for (size_t k = 0; k < last; k++)
        shape[k] = 0;
    shape[last] = r;
    for (int i = 0; i < STEPS_MOST && far > ROUNDING * r; i++)
        far = step(w, from, pick, shape);
    return far <= ROUNDING * r && is_near(shape, last, r);
}

static bool sphere_through(const jaw__robust *w, const size_t pick[],
                           double shape[])
{
    return reach(w, sphere_from, 3, w->whole.sphere.r, pick, shape);
}

static bool cylinder_through(const jaw__robust *w, const size_t pick[],
                             double shape[])
{
    return reach(w, cylinder_from, 4, w->whole.cylinder.r, pick, shape);
}

static double sphere_off(const jaw__robust *w, size_t i, const double shape[])
{
    double slope[4];

    return sphere_from(w, i, shape, slope);
}

static double cylinder_off(const jaw__robust *w, size_t i, const double shape[])
{
    double slope[5];

    return cylinder_from(w, i, shape, slope);
}

static bool sweep_through(const jaw__robust *w, const size_t pick[],
                          double shape[])
{
    const jaw_vec2 *p = w->p;
    double rows[3][JAW__COLUMNS];

    for (int i = 0; i < 3; i++) {
        rows[i][0] = 1;
        rows[i][1] = cos(p[pick[i]].x);
        rows[i][2] = sin(p[pick[i]].x);
        rows[i][3] = p[pick[i]].y;
    }
    bool good = jaw__eliminate(3, rows);
    for (int k = 0; k < 3 && good; k++)
        shape[k] = rows[k][3];
    return good;
}

static double sweep_off(const jaw__robust *w, size_t i, const double shape[])
{
    const jaw_vec2 *p = w->p;

    return p[i].y - shape[0] - shape[1] * cos(p[i].x) - shape[2] * sin(p[i].x);
}

/* -------------------------------------------------------------------- fits */

static jaw_status sphere_fit(jaw__robust *w, const void *p, size_t n)
{
    jaw_sphere *s = &w->fit.sphere;
    jaw_status status = w->known > 0
                            ? jaw_fit_sphere_known(p, n, w->known, s, NULL)
                            : jaw_fit_sphere(p, n, s, NULL);

    w->ssr = s->ssr;
    return status;
}

static jaw_status cylinder_fit(jaw__robust *w, const void *p, size_t n)
{
    jaw_cylinder_given given = {NULL, w->known};
    jaw_status status = jaw_fit_cylinder(p, n, &given, &w->fit.cylinder, NULL);

    w->ssr = w->fit.cylinder.ssr;
    return status;
}

/* The fit wants angles and readings apart. */
static jaw_status sweep_fit(jaw__robust *w, const void *of, size_t n)
{
    const jaw_vec2 *p = of;

    for (size_t i = 0; i < n; i++) {
        w->off[i] = p[i].x;
        w->off[w->n + i] = p[i].y;
    }
    jaw_status status = jaw_fit_sweep(w->off, w->off + w->n, n, &w->fit.sweep,
                                      NULL);

    w->ssr = w->fit.sweep.ssr;
    return status;
}

static double sphere_lever(const jaw__robust *w, const void *of, size_t i,
                           double *resid)
{
    const jaw_vec3 *p = of;

    return jaw__lever_sphere(&w->fit.sphere, w->known > 0, p[i], resid);
}

static double cylinder_lever(const jaw__robust *w, const void *of, size_t i,
                             double *resid)
{
    const jaw_vec3 *p = of;

    return jaw__lever_cylinder(&w->fit.cylinder, p[i], resid);
}

static double sweep_lever(const jaw__robust *w, const void *of, size_t i,
                          double *resid)
{
    const jaw_vec2 *p = of;
    const jaw_sweep *s = &w->fit.sweep;
    const double slope[3] = {1, cos(p[i].x), sin(p[i].x)};

    *resid = p[i].y - s->mean - s->along * slope[1] - s->across * slope[2];
    return jaw__lever_by(s->q, slope, 3);
}

/* ------------------------------------------------------------------ public */

jaw_status jaw_robust_sphere(const jaw_vec3 p[], size_t n, double known,
                             double sigma, bool suspect[], jaw_sphere *sphere,
                             jaw_robust *robust)
{
    const jaw__robust_kind ball = {
        sizeof(jaw_vec3), known > 0 ? 3 : 4, sphere_through, sphere_off,
        sphere_fit, sphere_lever};
    jaw__robust w = {
        .kind = &ball, .p = p, .n = n, .sigma = sigma, .known = known};
    jaw_status all = sphere_fit(&w, p, n);

    w.whole = w.fit;
    jaw_status status = jaw__robust_run(&w, suspect, robust, all);
    if (status != JAW_OK) /* as the fit says it of nothing */
        jaw_fit_sphere(NULL, 0, &w.fit.sphere, NULL);
    *sphere = w.fit.sphere;
    return status;
}

jaw_status jaw_robust_cylinder(const jaw_vec3 p[], size_t n, double known,
                               double sigma, bool suspect[],
                               jaw_cylinder *cylinder, jaw_robust *robust)
{
    const jaw__robust_kind bar = {
        sizeof(jaw_vec3), known > 0 ? 4 : 5, cylinder_through, cylinder_off,
        cylinder_fit, cylinder_lever};
    jaw__robust w = {
        .kind = &bar, .p = p, .n = n, .sigma = sigma, .known = known};
    jaw_status all = cylinder_fit(&w, p, n);

    w.whole = w.fit;
    jaw_status status = jaw__robust_run(&w, suspect, robust, all);
    if (status != JAW_OK)
        jaw_fit_cylinder(NULL, 0, NULL, &w.fit.cylinder, NULL);
    *cylinder = w.fit.cylinder;
    return status;
}

jaw_status jaw_robust_sweep(const jaw_vec2 p[], size_t n, double sigma,
                            bool suspect[], jaw_sweep *sweep,
                            jaw_robust *robust)
{
    static const jaw__robust_kind round = {
        sizeof(jaw_vec2), 3, sweep_through, sweep_off, sweep_fit, sweep_lever};
    jaw__robust w = {.kind = &round, .p = p, .n = n, .sigma = sigma};
    jaw_status status = jaw__robust_run(&w, suspect, robust, JAW_OK);

    if (status != JAW_OK)
        jaw_fit_sweep(NULL, NULL, 0, &w.fit.sweep, NULL);
    *sweep = w.fit.sweep;
    return status;
}
