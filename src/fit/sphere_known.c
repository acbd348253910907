/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sphere_known.c: the sphere of known radius with least sum of squared
 * distances.  A small cap has two centres that fit, one on either side, and
 * touches that do not resemble a sphere of this radius may have more: all are
 * looked at, and when two fit alike nothing is answered. */
#include "sphere.h"

enum { STARTS = 16 };

/* Kasa's centre, the mean, and the mean on the surface with the centre to each
 * face and corner of a cube along the principal axes. */
static jaw__curved start_at(const jaw__bulk *bulk, double r, int i)
{
    double normal[3] = {0, 0, 0};

    if (i == 0) {
        double c[3];
        jaw__curved kasa = jaw__sphere_kasa(bulk);
        jaw__curved_centre(&kasa, c);
        return jaw__curved_round(c, r, NULL);
    }
    if (i == 1)
        return jaw__curved_round(normal, r, NULL);
    for (int k = 0; k < 3; k++) {
        double part = i < 8 ? (i - 2) / 2 == k : 1;
        double side = (i < 8 ? i & 1 : (i - 8) >> k & 1) ? -part : part;
        for (int l = 0; l < 3; l++)
            normal[l] += side * bulk->axis[k][l];
    }
    jaw__normalise(normal);
    return jaw__bow(normal, NULL, 1 / r);
}

static double apart(const jaw__curved *a, const jaw__curved *b)
{
    double p[3], q[3];

    jaw__curved_centre(a, p);
    jaw__curved_centre(b, q);
    return hypot(hypot(p[0] - q[0], p[1] - q[1]), p[2] - q[2]);
}

/* Two centres are one when they differ by less than a millionth of the
 * touches' reach. */
static jaw_status best_of(const jaw__search *search, double r, jaw__rest *best)
{
    const double same = 1e-6 * search->bulk->reach;
    jaw__rest found[STARTS];
    int count = 0, first = 0;

    for (int i = 0; i < STARTS; i++) {
        jaw__curved start = start_at(search->bulk, r, i);
        if (jaw__settle(search, &start, &found[count]))
            count++;
    }
    if (count == 0)
        return JAW_ENOCONV;
    for (int i = 1; i < count; i++)
        if (found[i].ssr < found[first].ssr)
            first = i;
    *best = found[first];
    for (int i = 0; i < count; i++)
        if (jaw__alike(search, best->ssr, found[i].ssr) &&
            apart(&found[i].at, &best->at) > same)
            return JAW_ERANK;
    return JAW_OK;
}

jaw_status jaw_fit_sphere_known(const jaw_vec3 p[], size_t n, double r,
                                jaw_sphere *sphere, double resid[])
{
    jaw__space space;
    jaw__bulk bulk;
    jaw__rest best;
    const jaw__search search = {&space, &bulk, {true, true, true}};
    jaw_status status = n < 4          ? JAW_EFEW
                        : isnan(r)     ? JAW_ENOTFINITE
                        : !(r > 0)     ? JAW_EDOMAIN
                        : !isfinite(r) ? JAW_ENOTFINITE
                                       : jaw__sphere_begin(&space, &bulk, p, n);

    if (status == JAW_OK)
        status = best_of(&search, r * space.unit, &best);
    if (status == JAW_OK) {
        jaw__settle_near(&search, &best);
        status = jaw__sphere_report(&search, &best, sphere, resid);
    }
    if (status != JAW_OK)
        return jaw__sphere_give_up(status, n, sphere, resid);
    sphere->r = r;
    return JAW_OK;
}
