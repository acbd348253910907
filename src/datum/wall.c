/* SPDX-License-Identifier: GPL-3.0-or-later */
/* wall.c: the secondary and the tertiary.  Seen along the primary a wall that
 * stands square to it is a line, so the plane with the least sum of squares is
 * the line through the tip's centres as they appear there (Pearson 1901). */
#include "datum.h"

void jaw__flatten(const jaw__floor *floor, const jaw_vec3 p[], size_t n,
                  jaw_vec2 flat[])
{
    for (size_t i = 0; i < n; i++) {
        jaw_vec3 d = jaw__minus(p[i], floor->p);
        flat[i] = (jaw_vec2){jaw__dot(floor->ahead, d),
                             jaw__dot(floor->aside, d)};
    }
}

static void take_centres(const jaw_datum *datum, jaw_vec3 p[])
{
    const double radius = jaw_tip_end_radius(datum->tip);

    for (size_t i = 0; i < datum->n; i++)
        p[i] = (jaw_vec3){datum->t[i].x, datum->t[i].y,
                          datum->t[i].z + radius};
}

/* The normal that looks to the stated side. */
static jaw_status look_out(jaw_vec3 normal, jaw_side faces, jaw_vec3 *out)
{
    const jaw_vec2 side = jaw_side_normal(faces);
    const double cosine = normal.x * side.x + normal.y * side.y;

    *out = jaw__times(cosine < 0 ? -1 : 1, normal);
    return fabs(cosine) < M_SQRT1_2 ? JAW_ESIDE : JAW_OK;
}

static jaw_status find_normal(const jaw_datum *datum, const jaw__floor *floor,
                              const jaw__wall *before, jaw__bench *bench,
                              jaw__wall *wall)
{
    jaw_vec3 normal;

    if (before != NULL) {
        normal = before->along;
    } else {
        jaw_line line;
        jaw__flatten(floor, bench->p, datum->n, bench->flat);
        jaw_status status = jaw_fit_line(bench->flat, datum->n, &line, NULL);
        if (status != JAW_OK)
            return status;
        normal = jaw__plus(jaw__times(line.normal.x, floor->ahead),
                           line.normal.y, floor->aside);
        wall->ssr = line.ssr;
    }
    jaw_status status = look_out(normal, datum->faces, &wall->normal);
    wall->along = jaw__cross(floor->n, wall->normal);
    return status;
}

/* The rim, where the primary ends, can be met by a flat end that reaches below
 * it. */
static bool reaches_rim(const jaw_datum *datum, const jaw__floor *floor,
                        const jaw_vec3 p[])
{
    double height = 0;

    if (datum->tip->shape == JAW_TIP_BALL)
        return false;
    for (size_t i = 0; i < datum->n; i++)
        height += jaw__dot(floor->n, jaw__minus(p[i], floor->p));
    return height < 0;
}

static void raise_to_rim(const jaw__floor *floor, jaw_vec3 p[], size_t n)
{
    const jaw_vec3 up = floor->n;

    for (size_t i = 0; i < n; i++) {
        double dx = p[i].x - floor->p.x, dy = p[i].y - floor->p.y;
        p[i].z = floor->p.z - (up.x * dx + up.y * dy) / up.z;
    }
}

/* From the wall to the tip's centre, for a tip of unit radius.  A cylinder that
 * stands upright has the wall, or the rim, square to one of its radii. */
static jaw_vec3 way_off(const jaw_datum *datum, const jaw__floor *floor,
                        const jaw__wall *wall, bool rim)
{
    const jaw_vec3 m = wall->normal, rim_dir = wall->along, up = floor->n;

    if (datum->tip->shape == JAW_TIP_BALL)
        return m;
    if (!rim)
        return jaw__unit_of((jaw_vec3){m.x, m.y, 0});
    jaw_vec3 off = jaw__unit_of((jaw_vec3){rim_dir.y, -rim_dir.x, 0});
    off.z = -(up.x * off.x + up.y * off.y) / up.z;
    return off;
}

static jaw_vec3 mean_of(const jaw_vec3 p[], size_t n)
{
    jaw_vec3 sum = {0, 0, 0};

    for (size_t i = 0; i < n; i++)
        sum = jaw__plus(sum, 1, jaw__minus(p[i], p[0]));
    return jaw__plus(p[0], 1 / (double)n, sum);
}

static void measure(jaw__wall *wall, const jaw_vec3 p[], double resid[])
{
    double ssr = 0;

    wall->mean = mean_of(p, wall->n);
    for (size_t i = 0; i < wall->n; i++) {
        double off = jaw__dot(wall->normal, jaw__minus(p[i], wall->mean));
        ssr += off * off;
        if (resid != NULL)
            resid[i] = off;
    }
    wall->ssr = ssr;
}

/* What the touches' own direction is worth, and how it follows a turn of the
 * primary. */
static void find_lever(jaw__wall *wall, const jaw_vec3 p[])
{
    jaw_vec3 sum = {0, 0, 0};
    double ss = 0;

    for (size_t i = 0; i < wall->n; i++) {
        jaw_vec3 d = jaw__minus(p[i], wall->mean);
        double s = jaw__dot(wall->along, d);
        sum = jaw__plus(sum, s, d);
        ss += s * s;
    }
    if (!(ss > 0)) /* one place has no direction */
        return;
    wall->lever = jaw__times(1 / ss, sum);
    wall->q_theta = 1 / ss;
}

/* Whether a wall met by the tip's end, if it can be found so, is the better
 * explanation than the rim of one that overhangs.  Where both hold (touches
 * near together, at depths that differ) the residuals tell, if any. */
static bool end_is_better(jaw_status status, const jaw__wall *end,
                          const jaw__wall *rim)
{
    return status == JAW_OK && end->normal.z >= 0 &&
           (end->n < 3 || end->ssr <= rim->ssr);
}

/* Finds the normal, and whether the rim is met: centres are in bench->p, raised
 * to the rim when it is. */
static jaw_status find_met(const jaw_datum *datum, const jaw__floor *floor,
                           const jaw__wall *before, jaw__bench *bench,
                           jaw__wall *wall, bool *rim)
{
    jaw__wall raised = *wall;

    *rim = false;
    take_centres(datum, bench->p);
    jaw_status status = find_normal(datum, floor, before, bench, wall);
    if (!reaches_rim(datum, floor, bench->p))
        return status;
    raise_to_rim(floor, bench->p, datum->n);
    *rim = find_normal(datum, floor, before, bench, &raised) == JAW_OK &&
           raised.normal.z < 0 && !end_is_better(status, wall, &raised);
    if (!*rim) {
        take_centres(datum, bench->p);
        return status;
    }
    *wall = raised;
    wall->lean = wall->normal.z / floor->n.z;
    return JAW_OK;
}

jaw_status jaw__wall_find(const jaw_datum *datum, const jaw__floor *floor,
                          const jaw__wall *before, jaw__bench *bench,
                          jaw__wall *wall, double resid[])
{
    bool rim;

    *wall = (jaw__wall){.n = datum->n, .sigma = datum->repeat};
    jaw_status status = find_met(datum, floor, before, bench, wall, &rim);
    if (status != JAW_OK)
        return status;
    const jaw_vec3 off = way_off(datum, floor, wall, rim);
    for (size_t i = 0; i < datum->n; i++)
        bench->p[i] = jaw__plus(bench->p[i], -jaw_tip_side(datum->tip), off);
    measure(wall, bench->p, resid);
    find_lever(wall, bench->p);
    return JAW_OK;
}
