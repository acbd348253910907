/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sphere.c: the sphere with least sum of squared distances, as circle.c in
 * space.  Starts: Kasa's sphere (IEEE Trans. Instrum. Meas. 25 (1976) 8-14; a
 * dimension more changes nothing), the paraboloid over the best plane, which
 * is the limit of a flat cap, and bows through the mean to all sides. */
#include "sphere.h"

/* As JAW__CLEAR_SHARE of circles (bend.h): what leaves less than this share of
 * what a plane leaves has no rival; tests/fit/sphere_global.c. */
#define CLEAR_SHARE 1e-3

jaw_status jaw__sphere_begin(jaw__space *space, jaw__bulk *bulk,
                             const jaw_vec3 p[], size_t n)
{
    jaw_status status = jaw__space_make(space, p, n);

    if (status != JAW_OK)
        return status;
    jaw__bulk_make(space, bulk);
    return jaw__space_is_flat(space, bulk) ? JAW_ERANK : JAW_OK;
}

/* Along the principal axes each coordinate of the centre is one division. */
jaw__curved jaw__sphere_kasa(const jaw__bulk *bulk)
{
    double c[3] = {0, 0, 0}, cube[3], square = bulk->reach * bulk->reach;

    for (int i = 0; i < 3; i++)
        cube[i] = bulk->three[i][0] + bulk->three[i][3] + bulk->three[i][5];
    for (int k = 0; k < 3; k++) {
        const double *axis = bulk->axis[k];
        double along = jaw__dot3(axis, cube) / (2 * bulk->extent[k]);
        for (int i = 0; i < 3; i++)
            c[i] += along * axis[i];
        square += along * along;
    }
    return jaw__curved_round(c, sqrt(square), NULL);
}

/* v = lift + bow (t^2 + u^2) over the best plane, t and u left out. */
static jaw__curved start_bow(const jaw__bulk *bulk)
{
    double pairs[6] = {0}, one[6], square = 0, fourth = 0, cross = 0;

    for (int k = 0; k < 2; k++) {
        jaw__pairs(bulk->axis[k], bulk->axis[k], one);
        for (int i = 0; i < 6; i++)
            pairs[i] += one[i];
    }
    for (int i = 0; i < 6; i++) {
        square += pairs[i] * bulk->two[i];
        for (int k = 0; k < 3; k++)
            cross += pairs[i] * bulk->axis[2][k] * bulk->three[k][i];
        for (int k = 0; k < 6; k++)
            fourth += pairs[i] * bulk->four[i][k] * pairs[k];
    }
    double left = fourth - square * square;
    double bow = left > 0x1p-40 * fourth ? cross / left : 0;
    jaw__curved at = jaw__bow(bulk->axis[2], NULL, 2 * bow);
    for (int i = 0; i < 3; i++)
        at.foot[i] = -bow * square * at.axis[2][i];
    return at;
}

static void keep_better(const jaw__search *search, const jaw__curved *start,
                        jaw__rest *best)
{
    jaw__rest rest;

    if (jaw__settle(search, start, &rest) && rest.ssr < best->ssr)
        *best = rest;
}

static jaw_status best_of(const jaw__search *search, jaw__rest *best)
{
    static const double share[] = {-1, -0.25, 0.25, 1};
    const jaw__bulk *bulk = search->bulk;
    const double n = (double)search->space->n;
    jaw__curved start = jaw__sphere_kasa(bulk);

    best->ssr = HUGE_VAL;
    keep_better(search, &start, best);
    if (best->ssr <= CLEAR_SHARE * n * bulk->extent[2])
        return JAW_OK;
    start = start_bow(bulk);
    keep_better(search, &start, best);
    for (int i = 0; i < 12; i++) {
        start = jaw__bow(bulk->axis[i % 3], NULL, share[i / 3] / bulk->reach);
        keep_better(search, &start, best);
    }
    return best->ssr < HUGE_VAL ? JAW_OK : JAW_ENOCONV;
}

jaw_status jaw_fit_sphere(const jaw_vec3 p[], size_t n, jaw_sphere *sphere,
                          double resid[])
{
    jaw__space space;
    jaw__bulk bulk;
    jaw__rest best;
    const jaw__search search = {&space, &bulk, {true, true, true, false, true}};
    jaw_status status = n < 4 ? JAW_EFEW
                              : jaw__sphere_begin(&space, &bulk, p, n);

    if (status == JAW_OK)
        status = best_of(&search, &best);
    if (status == JAW_OK && jaw__straight(&search, &best.at))
        status = JAW_ENOCONV;
    if (status == JAW_OK) {
        jaw__settle_near(&search, &best);
        status = jaw__sphere_report(&search, &best, sphere, resid);
    }
    return status == JAW_OK ? status
                            : jaw__sphere_give_up(status, n, sphere, resid);
}
