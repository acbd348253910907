/* SPDX-License-Identifier: GPL-3.0-or-later */
/* line.c: the line with least sum of squared distances (parallel.c finds the
 * direction), and the same with the direction known. */
#include <jawline/fit.h>

#include "long.h"
#include "parallel.h"

static jaw_status give_up(jaw_status status, size_t n, jaw_line *line,
                          double resid[])
{
    *line = (jaw_line){
        .p = {JAW__NAN, JAW__NAN},      .dir = {JAW__NAN, JAW__NAN},
        .normal = {JAW__NAN, JAW__NAN}, .theta = JAW__NAN,
        .u_offset = JAW__NAN,           .u_theta = JAW__NAN,
        .q_offset = JAW__NAN,           .q_theta = JAW__NAN,
        .ssr = JAW__NAN,                .rms = JAW__NAN,
        .s = JAW__NAN};
    jaw__fill_nan(resid, n);
    return status;
}

static void report(const jaw__parallel *fit, size_t n, int free, jaw_line *line)
{
    const double unit = fit->view[0].unit;
    const double dof = (double)n - 1 - free;
    const double spread = dof > 0 ? sqrt(fit->vv / dof) / unit : JAW__NAN;

    *line = (jaw_line){.p = jaw__parallel_mean(fit, 0),
                       .dir = {fit->dir.c, fit->dir.s},
                       .normal = {-fit->dir.s, fit->dir.c},
                       .theta = atan2(fit->dir.s, fit->dir.c)};
    line->q_offset = 1 / (double)n;
    line->q_theta = free ? unit * unit / fit->uu : 0;
    line->ssr = fit->vv / unit / unit;
    line->s = spread;
    line->rms = dof > 0 ? sqrt(fit->vv / (double)n) / unit : JAW__NAN;
    line->u_offset = spread * sqrt(line->q_offset);
    line->u_theta = free ? spread * unit / sqrt(fit->uu) : 0;
    line->dof = jaw__dof(dof);
    line->flags = dof > 0 ? 0 : JAW_NO_CHECK;
}

jaw_status jaw_fit_line(const jaw_vec2 p[], size_t n, jaw_line *line,
                        double resid[])
{
    jaw__parallel fit;
    jaw_status status;

    if (!resid && jaw__long_line(p, n, jaw__passes_best(), &fit)) {
        report(&fit, n, 1, line);
        return JAW_OK;
    }
    status = n < 2 ? JAW_EFEW : jaw__parallel_begin(&fit, p, n, NULL, 0);
    if (status == JAW_OK)
        status = jaw__parallel_free(&fit);
    if (status != JAW_OK)
        return give_up(status, n, line, resid);
    report(&fit, n, 1, line);
    if (resid)
        jaw__parallel_resid(&fit, resid);
    return JAW_OK;
}

jaw_status jaw_fit_line_along(const jaw_vec2 p[], size_t n, double theta,
                              jaw_line *line, double resid[])
{
    jaw__parallel fit;
    jaw_status status = n < 1 ? JAW_EFEW
                        : !isfinite(theta)
                            ? JAW_ENOTFINITE
                            : jaw__parallel_begin(&fit, p, n, NULL, 0);

    if (status != JAW_OK)
        return give_up(status, n, line, resid);
    jaw__parallel_along(&fit, theta);
    report(&fit, n, 0, line);
    line->theta = jaw_angle_half(theta);
    if (resid)
        jaw__parallel_resid(&fit, resid);
    return JAW_OK;
}
