/* SPDX-License-Identifier: GPL-3.0-or-later */
/* circle.c: the circle with least sum of squared distances. */
#include "bend.h"

#include "passes.h"

static void keep_better(const jaw__shape *shape, const jaw__bend *start,
                        jaw__found *best)
{
    jaw__found found;

    if (jaw__bend_settle(shape, start, false, &found) && found.ssr < best->ssr)
        *best = found;
}

/* A bow through the mean along or across the touches, either way round. */
static jaw__bend bow(const jaw__shape *shape, bool across, double share)
{
    const jaw__turn quarter = {0, 1};
    const double n = (double)shape->line.view[0].n;
    jaw__bend at = shape->bow;

    at.turn = across ? jaw__turn_by(shape->line.dir, quarter)
                     : shape->line.dir;
    at.bend = share / sqrt(shape->line.uu / n);
    return at;
}

static jaw_status best_of(const jaw__shape *shape, jaw__found *best)
{
    static const double share[] = {-1, -0.25, 0.25, 1};

    best->ssr = HUGE_VAL;
    keep_better(shape, &shape->kasa, best);
    if (best->ssr <= JAW__CLEAR_SHARE * shape->line.vv)
        return JAW_OK;
    keep_better(shape, &shape->bow, best);
    for (int i = 0; i < 8; i++) {
        jaw__bend start = bow(shape, i & 1, share[i / 2]);
        keep_better(shape, &start, best);
    }
    return best->ssr < HUGE_VAL ? JAW_OK : JAW_ENOCONV;
}

/* Over the touches' length the circle leaves its tangent by no more than
 * rounding of the touches, and of the sums over them (hence not 1), would make
 * of a straight line: the line is as good, and nothing bounds the radius. */
static bool is_straight(const jaw__shape *shape, const jaw__bend *at)
{
    const double n = (double)shape->line.view[0].n;
    const double bow = fabs(at->bend) * shape->line.uu / sqrt(n);

    return bow <= 16 * shape->line.noise;
}

jaw_status jaw_fit_circle(const jaw_vec2 p[], size_t n, jaw_circle *c,
                          double resid[])
{
    jaw__shape shape;
    jaw__found best;
    jaw_status status;

    if (n >= 3 && jaw__passes_best()->circle(p, n, c, resid))
        return JAW_OK;
    status = n < 3 ? JAW_EFEW : jaw__shape_make(&shape, p, n);
    if (status == JAW_OK)
        status = jaw__shape_is_line(&shape) ? JAW_ERANK
                                            : best_of(&shape, &best);
    if (status == JAW_OK && is_straight(&shape, &best.at))
        status = JAW_ENOCONV;
    if (status == JAW_OK) {
        jaw__bend_near(&shape, false, &best);
        status = jaw__bend_report(&shape, &best, false, c, resid);
    }
    return status == JAW_OK ? status
                            : jaw__circle_give_up(status, n, c, resid);
}
