/* SPDX-License-Identifier: GPL-3.0-or-later */
/* round.c: bore and boss.  The circle of the tip's centres is fitted; the tip
 * lies inside a bore and outside a boss, so its radius is added or taken away.
 * A known diameter becomes a known radius of that circle. */
#include "feature.h"

#include <math.h>

static jaw_round round_nan(void)
{
    const double nan = (double)NAN;

    return (jaw_round){.centre = {nan, nan},
                       .diameter = nan,
                       .cov = {nan, nan, nan},
                       .u_diameter = nan,
                       .rms = nan};
}

/* wall = 1 for a bore: the wall lies outside the tip's centres; -1: boss. */
static jaw_status round_circle(const jaw_vec2 p[], size_t n, double side,
                               int wall, double known, jaw_round *found,
                               double resid[])
{
    jaw_circle c;
    jaw_status status;

    if (isnan(known)) {
        status = jaw_fit_circle(p, n, &c, resid);
    } else {
        double r = known / 2 - wall * side;
        if (!(r > 0))
            return JAW_ESIZE;
        status = jaw_fit_circle_known(p, n, r, &c, resid);
    }
    if (status != JAW_OK)
        return status;
    double radius = c.r + wall * side;
    if (!(radius > 0))
        return JAW_ESIZE;
    found->centre = (jaw_vec2){c.x, c.y};
    found->diameter = isnan(known) ? 2 * radius : known;
    found->cov[0] = c.cov[0];
    found->cov[1] = c.cov[1];
    found->cov[2] = c.cov[3];
    found->u_diameter = isnan(known) ? 2 * sqrt(c.cov[5]) : 0;
    found->rms = c.rms;
    found->dof = c.dof;
    found->flags = c.flags;
    return JAW_OK;
}

/* The middle of two readings along one axis; both must be there, and apart. */
static jaw_status pair_middle(const double at[2], size_t n, double *middle)
{
    if (n != 2)
        return n < 2 ? JAW_EFEW : JAW_ENOTFINITE;
    if (at[0] == at[1])
        return JAW_ERANK;
    *middle = at[0] + (at[1] - at[0]) / 2;
    return JAW_OK;
}

/* Opposite pairs, as with an edge finder: each pair of readings along one axis
 * is halved by the centre, wherever the chord lies. */
static jaw_status round_pairs(const jaw_touch t[], size_t n, jaw_round *found,
                              double resid[])
{
    double x[2] = {0, 0}, y[2] = {0, 0};
    size_t nx = 0, ny = 0;

    for (size_t i = 0; i < n; i++) {
        if (isnan(t[i].x) == isnan(t[i].y))
            return JAW_ENOTFINITE;
        if (isnan(t[i].y)) {
            x[nx < 2 ? nx : 1] = t[i].x;
            nx++;
        } else {
            y[ny < 2 ? ny : 1] = t[i].y;
            ny++;
        }
    }
    jaw_status status = pair_middle(x, nx, &found->centre.x);
    if (status == JAW_OK)
        status = pair_middle(y, ny, &found->centre.y);
    if (status != JAW_OK)
        return status;
    jaw__fill_nan(resid, n);
    found->flags = JAW_NO_CHECK | JAW_SIZE_NOT_SEEN | JAW_SAME_PLACE;
    return JAW_OK;
}

static jaw_status round_touched(const jaw_touch t[], size_t n,
                                const jaw_tip *tip, int wall, double known,
                                jaw_round *found, double resid[])
{
    jaw__centres centres;
    size_t lacking = 0;

    if (n < 1)
        return JAW_EFEW;
    jaw_status status = jaw_tip_check(tip);
    if (status != JAW_OK)
        return status;
    if (!isnan(known) && !(known > 0 && isfinite(known)))
        return JAW_EDOMAIN;
    for (size_t i = 0; i < n; i++) {
        if (isinf(t[i].x) || isinf(t[i].y))
            return JAW_ENOTFINITE;
        lacking += isnan(t[i].x) || isnan(t[i].y);
    }
    if (lacking > 0)
        return round_pairs(t, n, found, resid);
    status = jaw__centres_take(&centres, t, n, JAW__LACK_NONE);
    if (status != JAW_OK)
        return status;
    status = round_circle(centres.p, n, jaw_tip_side(tip), wall, known, found,
                          resid);
    jaw__centres_drop(&centres);
    if (status == JAW_OK)
        found->flags |= jaw__same_touch(t, n);
    return status;
}

static jaw_status round_find(const jaw_touch t[], size_t n, const jaw_tip *tip,
                             int wall, double known, jaw_round *out,
                             double resid[])
{
    jaw_round found = round_nan();
    jaw_status status = round_touched(t, n, tip, wall, known, &found, resid);

    if (status != JAW_OK) {
        jaw__fill_nan(resid, n);
        found = round_nan();
    }
    *out = found;
    return status;
}

jaw_status jaw_feature_bore(const jaw_touch t[], size_t n, const jaw_tip *tip,
                            double known, jaw_round *found, double resid[])
{
    return round_find(t, n, tip, 1, known, found, resid);
}

jaw_status jaw_feature_boss(const jaw_touch t[], size_t n, const jaw_tip *tip,
                            double known, jaw_round *found, double resid[])
{
    return round_find(t, n, tip, -1, known, found, resid);
}
