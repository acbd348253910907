/* SPDX-License-Identifier: GPL-3.0-or-later */
/* face.c: a flat touched from above.  The plane through the centres of the
 * tip's end is fitted, then moved along its own normal: a ball meets a tilted
 * face beside its lowest point. */
#include "feature.h"

#include <math.h>

static jaw_face face_nan(void)
{
    const double nan = (double)NAN;

    return (jaw_face){.point = {nan, nan, nan},
                      .normal = {nan, nan, nan},
                      .slope = {nan, nan},
                      .u_offset = nan,
                      .rms = nan};
}

/* Mean by way of the first value: heights share their leading digits. */
static double mean_of(const jaw_touch t[], size_t n, size_t axis)
{
    double first = axis == 0 ? t[0].x : axis == 1 ? t[0].y : t[0].z;
    double sum = 0;

    for (size_t i = 0; i < n; i++)
        sum += (axis == 0 ? t[i].x : axis == 1 ? t[i].y : t[i].z) - first;
    return first + sum / (double)n;
}

/* The mean height of a face that is taken as level. */
static void face_level(const jaw_touch t[], size_t n, const jaw_tip *tip,
                       jaw_face *face, double resid[])
{
    double z = mean_of(t, n, 2), ssr = 0;

    for (size_t i = 0; i < n; i++) {
        double off = t[i].z - z;
        ssr += off * off;
        if (resid != NULL)
            resid[i] = off;
    }
    face->point = (jaw_vec3){mean_of(t, n, 0), mean_of(t, n, 1),
                             z - jaw_tip_end(tip)};
    face->normal = (jaw_vec3){0, 0, 1};
    face->slope = (jaw_vec2){0, 0};
    face->dof = (int)n - 1;
    face->flags = JAW_LEVEL_ASSUMED;
    if (n == 1) {
        face->flags |= JAW_NO_CHECK;
        return;
    }
    face->rms = sqrt(ssr / (double)n);
    face->u_offset = sqrt(ssr / (double)(n - 1) / (double)n);
}

static jaw_status face_tilted(const jaw_touch t[], size_t n,
                              const jaw_tip *tip, jaw_face *face,
                              double resid[])
{
    jaw__places places;
    double radius = jaw_tip_end_radius(tip);
    double off = radius + jaw_tip_end(tip);
    jaw_plane plane;

    jaw_status status = jaw__places_take(&places, t, n, radius);
    if (status != JAW_OK)
        return status;
    status = jaw_fit_plane(places.p, n, &plane, resid);
    jaw__places_drop(&places);
    if (status != JAW_OK)
        return status;
    /* A wall that stands upright is no face to touch from above. */
    if (!(plane.normal.z > 0))
        return JAW_ERANK;
    face->point = (jaw_vec3){plane.p.x - off * plane.normal.x,
                             plane.p.y - off * plane.normal.y,
                             plane.p.z - off * plane.normal.z};
    face->normal = plane.normal;
    face->slope = (jaw_vec2){-plane.normal.x / plane.normal.z,
                             -plane.normal.y / plane.normal.z};
    face->u_offset = plane.u_offset;
    face->rms = plane.rms;
    face->dof = plane.dof;
    face->flags = plane.flags;
    return JAW_OK;
}

static jaw_status face_touched(const jaw_touch t[], size_t n,
                               const jaw_tip *tip, jaw_face *face,
                               double resid[])
{
    size_t no_place = 0;

    if (n < 1)
        return JAW_EFEW;
    jaw_status status = jaw_tip_check(tip);
    if (status != JAW_OK)
        return status;
    for (size_t i = 0; i < n; i++) {
        if (!isfinite(t[i].z) || isinf(t[i].x) || isinf(t[i].y))
            return JAW_ENOTFINITE;
        no_place += isnan(t[i].x) || isnan(t[i].y);
    }
    if (no_place > 0 && no_place < n && n >= 3)
        return JAW_ENOTFINITE;
    if (n >= 3 && no_place == 0)
        status = face_tilted(t, n, tip, face, resid);
    else
        face_level(t, n, tip, face, resid);
    /* The height alone, read twice, is a check and not a slip of the pen. */
    if (status == JAW_OK && no_place == 0)
        face->flags |= jaw__same_touch(t, n);
    return status;
}

jaw_status jaw_feature_face(const jaw_touch t[], size_t n, const jaw_tip *tip,
                            jaw_face *face, double resid[])
{
    jaw_face found = face_nan();
    jaw_status status = face_touched(t, n, tip, &found, resid);

    if (status != JAW_OK) {
        jaw__fill_nan(resid, n);
        found = face_nan();
    }
    *face = found;
    return status;
}
