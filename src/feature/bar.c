/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bar.c: round stock that lies down, touched with a ball.  The tip's centres lie
 * on a cylinder about the same axis.  A person wants to know of the axis which
 * way it runs, how far to the side it lies, how high, and how much it rises, so
 * the fit's own two directions are turned into those. */
#include "feature.h"

#include <src/base/nan.h>
#include <src/base/vec3.h>

#include <math.h>

static jaw_bar bar_nan(void)
{
    const double nan = (double)NAN;

    return (jaw_bar){.point = {nan, nan, nan},
                     .axis = {nan, nan, nan},
                     .theta = nan,
                     .slope = nan,
                     .diameter = nan,
                     .u_side = nan,
                     .u_height = nan,
                     .u_theta = nan,
                     .u_slope = nan,
                     .u_diameter = nan,
                     .q_height = nan,
                     .span = nan,
                     .rms = nan};
}

/* Standard deviation of a shift or a tilt along v, a unit vector across the
 * axis, by covariances or by cofactors q. */
static double spread_along(const jaw_cylinder *c, const double q[15],
                           jaw_vec3 v, bool tilt)
{
    double a = jaw__dot(v, c->across[0]), b = jaw__dot(v, c->across[1]);
    double aa = tilt ? q[9] : q[0], ab = tilt ? q[10] : q[1];
    double bb = tilt ? q[12] : q[5];

    return sqrt(a * a * aa + 2 * a * b * ab + b * b * bb);
}

/* Along theta in (-pi/2, pi/2]. */
static jaw_vec3 axis_toward(jaw_vec3 a)
{
    bool turn = a.x < 0 || (a.x == 0 && a.y < 0);

    return turn ? (jaw_vec3){-a.x, -a.y, -a.z} : a;
}

static void take(jaw_bar *bar, const jaw_cylinder *c, double side, double known)
{
    jaw_vec3 a = axis_toward(c->axis);
    double run = hypot(a.x, a.y);
    jaw_vec3 level = {-a.y / run, a.x / run, 0};
    jaw_vec3 up = {-a.z * a.x / run, -a.z * a.y / run, run};

    bar->point = c->p;
    bar->axis = a;
    bar->theta = atan2(a.y, a.x);
    bar->slope = a.z / run;
    bar->diameter = isnan(known) ? 2 * (c->r - side) : known;
    bar->u_side = spread_along(c, c->cov, level, false);
    bar->u_height = spread_along(c, c->cov, up, false) / run;
    bar->u_theta = spread_along(c, c->cov, level, true) / run;
    bar->u_slope = spread_along(c, c->cov, up, true) / (run * run);
    double height = spread_along(c, c->q, up, false) / run;
    bar->q_height = height * height;
    bar->u_diameter = isnan(known) ? 2 * sqrt(c->cov[14]) : 0;
    bar->rms = c->rms;
    bar->dof = c->dof;
    bar->flags = c->flags;
}

static double span_along(const jaw_vec3 p[], size_t n, jaw_vec3 axis)
{
    double low = 0, high = 0;

    for (size_t i = 0; i < n; i++) {
        jaw_vec3 d = {p[i].x - p[0].x, p[i].y - p[0].y, p[i].z - p[0].z};
        low = fmin(low, jaw__dot(d, axis));
        high = fmax(high, jaw__dot(d, axis));
    }
    return high - low;
}

static jaw_status bar_fitted(const jaw_vec3 p[], size_t n, double side,
                             double known, jaw_bar *bar, double resid[])
{
    jaw_cylinder_given given = {NULL, isnan(known) ? 0 : known / 2 + side};
    jaw_cylinder c;
    jaw_status status = jaw_fit_cylinder(p, n, &given, &c, resid);

    if (status != JAW_OK)
        return status;
    if (!(c.r > side))
        return JAW_ESIZE;
    if (!(hypot(c.axis.x, c.axis.y) > fabs(c.axis.z)))
        return JAW_ESIDE;
    take(bar, &c, side, known);
    bar->span = span_along(p, n, bar->axis);
    return JAW_OK;
}

static jaw_status bar_touched(const jaw_touch t[], size_t n, const jaw_tip *tip,
                              double known, jaw_bar *bar, double resid[])
{
    jaw__places places;
    jaw_status status = jaw__solid_check(t, n, tip, known);

    if (status == JAW_OK)
        status = jaw__places_take(&places, t, n, tip->diameter / 2);
    if (status != JAW_OK)
        return status;
    status = bar_fitted(places.p, n, jaw_tip_side(tip), known, bar, resid);
    jaw__places_drop(&places);
    if (status == JAW_OK)
        bar->flags |= jaw__same_touch(t, n);
    return status;
}

jaw_status jaw_feature_bar(const jaw_touch t[], size_t n, const jaw_tip *tip,
                           double known, jaw_bar *bar, double resid[])
{
    jaw_bar found = bar_nan();
    jaw_status status = bar_touched(t, n, tip, known, &found, resid);

    if (status != JAW_OK) {
        jaw__fill_nan(resid, n);
        found = bar_nan();
    }
    *bar = found;
    return status;
}
