/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pair.c: two parallel lines with one shared direction (parallel.c finds it),
 * and the same with the direction known. */
#include <jawline/fit.h>

#include "parallel.h"

/* Ten times less sure than one touch. */
#define WEAK_COFACTOR 100

static jaw_status give_up(jaw_status status, size_t n, jaw_pair *pair,
                          double resid[])
{
    const jaw_vec2 nowhere = {JAW__NAN, JAW__NAN};

    *pair = (jaw_pair){
        .p = {nowhere, nowhere}, .dir = nowhere,
        .normal = nowhere,       .theta = JAW__NAN,
        .gap = JAW__NAN,         .u_theta = JAW__NAN,
        .u_middle = JAW__NAN,    .u_gap = JAW__NAN,
        .q_theta = JAW__NAN,     .q_offset = {JAW__NAN, JAW__NAN},
        .ssr = JAW__NAN,         .rms = JAW__NAN,
        .s = JAW__NAN};
    jaw__fill_nan(resid, n);
    return status;
}

/* The gap is taken between the means, which may lie anywhere along the lines:
 * a turn of the direction then changes it by their distance along. */
static double gap_of(const jaw__parallel *fit, double *along)
{
    const jaw_vec2 from = fit->view[0].m, to = fit->view[1].m;
    const jaw__turn a = fit->seen, d = fit->dir;
    const double u = fit->sums[1].u - fit->sums[0].u;
    const double v = fit->sums[1].v - fit->sums[0].v;
    const double x = (to.x - from.x) + (a.c * u - a.s * v);
    const double y = (to.y - from.y) + (a.s * u + a.c * v);

    *along = d.c * x + d.s * y;
    return d.c * y - d.s * x;
}

static void report(const jaw__parallel *fit, int free, jaw_pair *pair)
{
    const double na = (double)fit->view[0].n, nb = (double)fit->view[1].n;
    const double unit = fit->view[0].unit, dof = na + nb - 2 - free;
    const double spread = dof > 0 ? sqrt(fit->vv / dof) / unit : JAW__NAN;
    double along, gap = gap_of(fit, &along);
    double lever = free ? along / sqrt(fit->uu) : 0;
    double q_gap = 1 / na + 1 / nb + lever * lever;

    *pair = (jaw_pair){.p = {jaw__parallel_mean(fit, 0),
                             jaw__parallel_mean(fit, 1)},
                       .dir = {fit->dir.c, fit->dir.s},
                       .normal = {-fit->dir.s, fit->dir.c},
                       .theta = atan2(fit->dir.s, fit->dir.c),
                       .gap = gap / unit,
                       .q_offset = {1 / na, 1 / nb}};
    pair->q_theta = free ? unit * unit / fit->uu : 0;
    pair->ssr = fit->vv / unit / unit;
    pair->s = spread;
    pair->rms = dof > 0 ? sqrt(fit->vv / (na + nb)) / unit : JAW__NAN;
    pair->u_theta = free ? spread * unit / sqrt(fit->uu) : 0;
    pair->u_middle = spread * sqrt(1 / na + 1 / nb) / 2;
    pair->u_gap = spread * sqrt(q_gap);
    pair->dof = jaw__dof(dof);
    pair->flags = (dof > 0 ? 0u : JAW_NO_CHECK) |
                  (q_gap > WEAK_COFACTOR ? JAW_WEAK : 0u);
}

jaw_status jaw_fit_pair(const jaw_vec2 a[], size_t na, const jaw_vec2 b[],
                        size_t nb, jaw_pair *pair, double resid[])
{
    jaw__parallel fit;
    jaw_status status = na < 1 || nb < 1 || na + nb < 3
                            ? JAW_EFEW
                            : jaw__parallel_begin(&fit, a, na, b, nb);

    if (status == JAW_OK)
        status = jaw__parallel_free(&fit);
    if (status != JAW_OK)
        return give_up(status, na + nb, pair, resid);
    report(&fit, 1, pair);
    if (resid)
        jaw__parallel_resid(&fit, resid);
    return JAW_OK;
}

jaw_status jaw_fit_pair_along(const jaw_vec2 a[], size_t na,
                              const jaw_vec2 b[], size_t nb, double theta,
                              jaw_pair *pair, double resid[])
{
    jaw__parallel fit;
    jaw_status status = na < 1 || nb < 1 ? JAW_EFEW
                        : !isfinite(theta)
                            ? JAW_ENOTFINITE
                            : jaw__parallel_begin(&fit, a, na, b, nb);

    if (status != JAW_OK)
        return give_up(status, na + nb, pair, resid);
    jaw__parallel_along(&fit, theta);
    report(&fit, 0, pair);
    pair->theta = jaw_angle_half(theta);
    if (resid)
        jaw__parallel_resid(&fit, resid);
    return JAW_OK;
}
