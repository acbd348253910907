/* SPDX-License-Identifier: GPL-3.0-or-later */
/* edge.c: a straight wall.  The line through the tip's centres is fitted, then
 * moved inward by the tip's radius along its own normal. */
#include "feature.h"

#include <math.h>

#define EDGE_SQUARE (M_PI / 2)

static jaw_edge edge_nan(void)
{
    const double nan = (double)NAN;

    return (jaw_edge){.point = {nan, nan},
                      .normal = {nan, nan},
                      .dir = {nan, nan},
                      .theta = nan,
                      .u_offset = nan,
                      .u_theta = nan,
                      .span = nan,
                      .rms = nan};
}

/* The direction to hold fixed, or NaN to find it.  A wall that gives no
 * direction of its own takes that of the machine axis, and says so. */
static jaw_status edge_direction(size_t n, jaw_side faces, jaw__lack lack,
                                 double *along, unsigned *flags)
{
    if (lack != JAW__LACK_NONE) {
        double axis = lack == JAW__LACK_Y ? EDGE_SQUARE : 0;
        if (!isnan(*along) && jaw_angle_half(*along) != axis)
            return JAW_ENOTFINITE;
        if (isnan(*along))
            *flags |= JAW_DIRECTION_ASSUMED;
        *along = axis;
        *flags |= JAW_SAME_PLACE;
        return JAW_OK;
    }
    if (!isnan(*along) || n > 1)
        return JAW_OK;
    if (faces == JAW_SIDE_NONE)
        return JAW_EFEW;
    *along = jaw_side_normal(faces).x != 0 ? EDGE_SQUARE : 0;
    *flags |= JAW_DIRECTION_ASSUMED;
    return JAW_OK;
}

static bool edge_side_exists(jaw_side faces)
{
    return faces == JAW_SIDE_NONE || jaw_side_word(faces) != NULL;
}

/* Which way the fitted normal must be turned to look outward: 1 or -1; 0 when
 * the wall runs nearer to `faces` than square to it. */
static int edge_outward(jaw_vec2 normal, jaw_side faces)
{
    jaw_vec2 out = jaw_side_normal(faces);
    double cosine = normal.x * out.x + normal.y * out.y;

    if (fabs(cosine) < M_SQRT1_2)
        return 0;
    return cosine > 0 ? 1 : -1;
}

static void edge_from_line(const jaw_line *line, jaw_side faces, int sign,
                           double radius, jaw_edge *edge)
{
    jaw_vec2 out = {sign * line->normal.x, sign * line->normal.y};

    edge->dir = line->dir;
    edge->theta = line->theta;
    edge->u_offset = line->u_offset;
    edge->u_theta = line->u_theta;
    edge->rms = line->rms;
    edge->dof = line->dof;
    edge->flags = line->flags;
    edge->point = line->p;
    if (faces == JAW_SIDE_NONE) {
        edge->flags |= JAW_SIDE_NOT_STATED;
        return;
    }
    edge->normal = out;
    edge->point.x -= radius * out.x;
    edge->point.y -= radius * out.y;
}

static jaw_status edge_solve(const jaw__centres *centres, size_t n,
                             const jaw_tip *tip, jaw_side faces, double along,
                             jaw_edge *edge, double resid[])
{
    jaw_line line;
    jaw_status status =
        isnan(along) ? jaw_fit_line(centres->p, n, &line, resid)
                     : jaw_fit_line_along(centres->p, n, along, &line, resid);
    if (status != JAW_OK)
        return status;
    int sign = faces == JAW_SIDE_NONE ? 1 : edge_outward(line.normal, faces);
    if (sign == 0)
        return JAW_ESIDE;
    edge_from_line(&line, faces, sign, jaw_tip_side(tip), edge);
    edge->span = jaw__span(centres->p, n, line.dir);
    for (size_t i = 0; resid != NULL && i < n; i++)
        resid[i] *= sign;
    return JAW_OK;
}

static jaw_status edge_touched(const jaw_touch t[], size_t n,
                               const jaw_tip *tip, jaw_side faces,
                               double along, jaw_edge *edge, double resid[])
{
    jaw__centres centres;
    jaw__lack lack;
    unsigned flags = jaw__same_touch(t, n);

    if (n < 1)
        return JAW_EFEW;
    jaw_status status = jaw_tip_check(tip);
    if (status == JAW_OK && (isinf(along) || !edge_side_exists(faces)))
        status = JAW_EDOMAIN;
    if (status == JAW_OK && faces == JAW_SIDE_NONE && jaw_tip_side(tip) > 0)
        status = JAW_EUNKNOWN;
    if (status == JAW_OK)
        status = jaw__lack_of(t, n, &lack);
    if (status == JAW_OK)
        status = edge_direction(n, faces, lack, &along, &flags);
    if (status == JAW_OK)
        status = jaw__centres_take(&centres, t, n, lack);
    if (status != JAW_OK)
        return status;
    status = edge_solve(&centres, n, tip, faces, along, edge, resid);
    jaw__centres_drop(&centres);
    if (status != JAW_OK)
        return status;
    edge->flags |= flags;
    if (lack == JAW__LACK_X)
        edge->point.x = (double)NAN;
    if (lack == JAW__LACK_Y)
        edge->point.y = (double)NAN;
    if (!isnan(along))
        edge->u_theta = (double)NAN;
    return JAW_OK;
}

jaw_status jaw_feature_edge(const jaw_touch t[], size_t n, const jaw_tip *tip,
                            jaw_side faces, double along, jaw_edge *edge,
                            double resid[])
{
    jaw_edge found = edge_nan();
    jaw_status status = edge_touched(t, n, tip, faces, along, &found, resid);

    if (status != JAW_OK) {
        jaw__fill_nan(resid, n);
        found = edge_nan();
    }
    *edge = found;
    return status;
}
