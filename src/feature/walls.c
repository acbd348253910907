/* SPDX-License-Identifier: GPL-3.0-or-later */
/* walls.c: slot and web.  Two parallel lines with one shared direction are
 * fitted to the tip's centres; the middle needs no radius, the width has one
 * diameter added (slot) or taken away (web). */
#include "feature.h"

#include <math.h>

static jaw_walls walls_nan(void)
{
    const double nan = (double)NAN;

    return (jaw_walls){.middle = {nan, nan},
                       .width = nan,
                       .dir = {nan, nan},
                       .theta = nan,
                       .u_middle = nan,
                       .u_width = nan,
                       .u_theta = nan,
                       .span = nan,
                       .rms = nan};
}

/* The direction to hold fixed, or NaN to find it. */
static double walls_direction(const jaw_vec2 *a, size_t na, const jaw_vec2 *b,
                              size_t nb, jaw__lack lack, double along,
                              unsigned *flags)
{
    if (lack != JAW__LACK_NONE) {
        *flags |= JAW_SAME_PLACE;
        if (isnan(along))
            *flags |= JAW_DIRECTION_ASSUMED;
        return lack == JAW__LACK_Y ? M_PI / 2 : 0;
    }
    if (!isnan(along) || na + nb > 2)
        return along;
    *flags |= JAW_DIRECTION_ASSUMED;
    return atan2(b->y - a->y, b->x - a->x) + M_PI / 2;
}

static jaw_status walls_fit(const jaw_vec2 a[], size_t na, const jaw_vec2 b[],
                            size_t nb, double along, jaw_pair *pair,
                            double resid[])
{
    if (na == 1 && nb == 1 && a[0].x == b[0].x && a[0].y == b[0].y)
        return JAW_ERANK;
    if (isnan(along))
        return jaw_fit_pair(a, na, b, nb, pair, resid);
    return jaw_fit_pair_along(a, na, b, nb, along, pair, resid);
}

/* Both walls were touched at the same unknown place along them: what was read
 * along the machine axis is longer than what lies square to the walls by
 * 1 / cos(skew).  The share is negative where `along` looks the other way. */
static jaw_status walls_turn(jaw_walls *walls, double *gap, jaw__lack lack,
                             double along, double resid[], size_t n)
{
    if (lack == JAW__LACK_NONE)
        return JAW_OK;
    if (lack == JAW__LACK_X)
        walls->middle.x = (double)NAN;
    else
        walls->middle.y = (double)NAN;
    if (isnan(along))
        return JAW_OK;
    walls->theta = jaw_angle_half(along);
    walls->dir = (jaw_vec2){cos(walls->theta), sin(walls->theta)};
    double share = lack == JAW__LACK_Y ? walls->dir.y : walls->dir.x;
    if (fabs(share) < M_SQRT1_2)
        return JAW_ESIDE;
    *gap *= fabs(share);
    walls->u_middle *= fabs(share);
    walls->u_width *= fabs(share);
    walls->rms *= fabs(share);
    for (size_t i = 0; resid != NULL && i < n; i++)
        resid[i] *= share;
    return JAW_OK;
}

static double both_spans(const jaw__centres *a, size_t na,
                         const jaw__centres *b, size_t nb, jaw_vec2 dir)
{
    return fmax(jaw__span(a->p, na, dir), jaw__span(b->p, nb, dir));
}

static jaw_status walls_solve(const jaw__centres *a, size_t na,
                              const jaw__centres *b, size_t nb, double between,
                              jaw__lack lack, double along, jaw_walls *walls,
                              double resid[])
{
    jaw_pair pair;
    unsigned flags = 0;
    double held = walls_direction(a->p, na, b->p, nb, lack, along, &flags);
    jaw_status status = walls_fit(a->p, na, b->p, nb, held, &pair, resid);

    if (status != JAW_OK)
        return status;
    double gap = fabs(pair.gap);
    walls->middle = (jaw_vec2){pair.p[0].x + (pair.p[1].x - pair.p[0].x) / 2,
                               pair.p[0].y + (pair.p[1].y - pair.p[0].y) / 2};
    walls->dir = pair.dir;
    walls->theta = pair.theta;
    walls->u_middle = pair.u_middle;
    walls->u_width = pair.u_gap;
    walls->u_theta = isnan(held) ? pair.u_theta : (double)NAN;
    walls->span = both_spans(a, na, b, nb, pair.dir);
    walls->rms = pair.rms;
    walls->dof = pair.dof;
    walls->flags = pair.flags | flags;
    status = walls_turn(walls, &gap, lack, along, resid, na + nb);
    if (status != JAW_OK)
        return status;
    walls->width = gap + between;
    return walls->width > 0 ? JAW_OK : JAW_ESIZE;
}

static jaw_status walls_lack(const jaw_touch a[], size_t na,
                             const jaw_touch b[], size_t nb, jaw__lack *lack)
{
    jaw__lack other;
    jaw_status status = jaw__lack_of(a, na, lack);

    if (status == JAW_OK)
        status = jaw__lack_of(b, nb, &other);
    if (status == JAW_OK && other != *lack)
        status = JAW_ENOTFINITE;
    return status;
}

static jaw_status walls_touched(const jaw_touch a[], size_t na,
                                const jaw_touch b[], size_t nb,
                                const jaw_tip *tip, int wall, double along,
                                jaw_walls *walls, double resid[])
{
    jaw__centres ca, cb;
    jaw__lack lack;

    if (na < 1 || nb < 1)
        return JAW_EFEW;
    jaw_status status = jaw_tip_check(tip);
    if (status == JAW_OK && isinf(along))
        status = JAW_EDOMAIN;
    if (status == JAW_OK)
        status = walls_lack(a, na, b, nb, &lack);
    if (status == JAW_OK)
        status = jaw__centres_take(&ca, a, na, lack);
    if (status != JAW_OK)
        return status;
    status = jaw__centres_take(&cb, b, nb, lack);
    if (status == JAW_OK) {
        status = walls_solve(&ca, na, &cb, nb, 2 * wall * jaw_tip_side(tip),
                             lack, along, walls, resid);
        jaw__centres_drop(&cb);
    }
    jaw__centres_drop(&ca);
    if (status == JAW_OK)
        walls->flags |= jaw__same_touch(a, na) | jaw__same_touch(b, nb);
    return status;
}

static jaw_status walls_find(const jaw_touch a[], size_t na,
                             const jaw_touch b[], size_t nb,
                             const jaw_tip *tip, int wall, double along,
                             jaw_walls *walls, double resid[])
{
    jaw_walls found = walls_nan();
    jaw_status status =
        walls_touched(a, na, b, nb, tip, wall, along, &found, resid);

    if (status != JAW_OK) {
        jaw__fill_nan(resid, na + nb);
        found = walls_nan();
    }
    *walls = found;
    return status;
}

jaw_status jaw_feature_slot(const jaw_touch a[], size_t na,
                            const jaw_touch b[], size_t nb, const jaw_tip *tip,
                            double along, jaw_walls *walls, double resid[])
{
    return walls_find(a, na, b, nb, tip, 1, along, walls, resid);
}

jaw_status jaw_feature_web(const jaw_touch a[], size_t na, const jaw_touch b[],
                           size_t nb, const jaw_tip *tip, double along,
                           jaw_walls *walls, double resid[])
{
    return walls_find(a, na, b, nb, tip, -1, along, walls, resid);
}
