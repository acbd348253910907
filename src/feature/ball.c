/* SPDX-License-Identifier: GPL-3.0-or-later */
/* ball.c: a ball, touched with a ball.  The tip's centres lie on a sphere about
 * the same centre whose radius is that of both together. */
#include "feature.h"

#include <src/base/nan.h>

#include <math.h>

static jaw_ball ball_nan(void)
{
    const double nan = (double)NAN;

    return (jaw_ball){.centre = {nan, nan, nan},
                      .diameter = nan,
                      .cov = {nan, nan, nan, nan, nan, nan},
                      .u_diameter = nan,
                      .q_height = nan,
                      .rms = nan};
}

jaw_status jaw__solid_check(const jaw_touch t[], size_t n, const jaw_tip *tip,
                            double known)
{
    jaw_status status = jaw_tip_check(tip);

    if (status != JAW_OK)
        return status;
    if (tip->shape != JAW_TIP_BALL && tip->diameter > 0)
        return JAW_EDOMAIN;
    if (!isnan(known) && !(known > 0 && isfinite(known)))
        return JAW_EDOMAIN;
    for (size_t i = 0; i < n; i++)
        if (!isfinite(t[i].x) || !isfinite(t[i].y) || !isfinite(t[i].z))
            return JAW_ENOTFINITE;
    return JAW_OK;
}

static void take(jaw_ball *ball, const jaw_sphere *s, double side, double known)
{
    ball->centre = (jaw_vec3){s->x, s->y, s->z};
    ball->diameter = isnan(known) ? 2 * (s->r - side) : known;
    ball->cov[0] = s->cov[0];
    ball->cov[1] = s->cov[1];
    ball->cov[2] = s->cov[2];
    ball->cov[3] = s->cov[4];
    ball->cov[4] = s->cov[5];
    ball->cov[5] = s->cov[7];
    ball->u_diameter = isnan(known) ? 2 * sqrt(s->cov[9]) : 0;
    ball->q_height = s->q[7];
    ball->rms = s->rms;
    ball->dof = s->dof;
    ball->flags = s->flags;
}

static jaw_status ball_touched(const jaw_touch t[], size_t n,
                               const jaw_tip *tip, double known, jaw_ball *ball,
                               double resid[])
{
    double side = jaw_tip_side(tip);
    jaw__places places;
    jaw_sphere s;

    jaw_status status = jaw__solid_check(t, n, tip, known);
    if (status == JAW_OK)
        status = jaw__places_take(&places, t, n, tip->diameter / 2);
    if (status != JAW_OK)
        return status;
    status = isnan(known)
                 ? jaw_fit_sphere(places.p, n, &s, resid)
                 : jaw_fit_sphere_known(places.p, n, known / 2 + side, &s,
                                        resid);
    jaw__places_drop(&places);
    if (status != JAW_OK)
        return status;
    if (!(s.r > side))
        return JAW_ESIZE;
    take(ball, &s, side, known);
    ball->flags |= jaw__same_touch(t, n);
    return JAW_OK;
}

jaw_status jaw_feature_ball(const jaw_touch t[], size_t n, const jaw_tip *tip,
                            double known, jaw_ball *ball, double resid[])
{
    jaw_ball found = ball_nan();
    jaw_status status = ball_touched(t, n, tip, known, &found, resid);

    if (status != JAW_OK) {
        jaw__fill_nan(resid, n);
        found = ball_nan();
    }
    *ball = found;
    return status;
}
