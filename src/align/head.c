/* SPDX-License-Identifier: GPL-3.0-or-later */
/* head.c: a head that is swung over the table.
 *
 * With the spindle axis along (p, q, 1) the plunger, a radius off the axis and
 * parallel to it, stands at the azimuth a of the spindle's own plane; where
 * that plane is lower, by radius (p cos a + q sin a) along the axis, the
 * plunger is pushed in farther.  So the sinusoid is exact, and tan tilt_x =
 * p, tan tilt_y = q are its two amplitudes over the radius. */
#include "align.h"

#include <math.h>

static jaw_status give_up(jaw_status status, size_t n, jaw_swung_head *head,
                          double resid[])
{
    const double none = JAW__ALIGN_NAN;
    const jaw_figure nothing = jaw_figure_make(none, none, none);

    *head = (jaw_swung_head){.tilt = {nothing, nothing},
                             .rise = {none, none},
                             .over_cutter = {none, none},
                             .dish = none,
                             .shim = {none, none},
                             .rms = none};
    jaw__fill_nan(resid, n);
    return status;
}

static jaw_status check(double radius, double cutter, double base)
{
    jaw_status status = isnan(radius) ? JAW_ENOTFINITE
                                      : jaw__repeat_check(radius);

    if (status == JAW_OK)
        status = jaw__repeat_check(cutter);
    return status == JAW_OK ? jaw__repeat_check(base) : status;
}

static void report(const jaw_sweep *sweep, double radius, double cutter,
                   double base, const jaw__spread *spread,
                   jaw_swung_head *head)
{
    const double amplitude[2] = {sweep->along, sweep->across};
    const double q[2] = {sweep->q[3], sweep->q[5]};

    for (int k = 0; k < 2; k++) {
        double tangent = amplitude[k] / radius, tilt = atan(tangent);
        double u = spread->repeat * sqrt(q[k]) / radius;
        head->tilt[k] = jaw_figure_make(tilt, u / (1 + tangent * tangent),
                                        spread->dof);
        head->rise[k] = 2 * amplitude[k];
        head->over_cutter[k] = cutter * sin(tilt);
        head->shim[k] = base * sin(tilt);
    }
    double whole = atan(hypot(amplitude[0], amplitude[1]) / radius);
    head->dish = cutter / 2 * sin(whole);
    head->rms = spread->rms;
    head->dof = sweep->dof;
    head->flags = spread->flags | (sweep->flags & JAW_WEAK);
    if (fabs(whole) > JAW__STEEP)
        head->flags |= JAW_STEEP;
}

jaw_status jaw_align_head(const double angle[], const double reading[],
                          size_t n, double radius, double cutter, double base,
                          double repeat, jaw_swung_head *head, double resid[])
{
    jaw_sweep sweep;
    jaw_status status = n < 3 ? JAW_EFEW
                              : jaw__reading_check(angle, reading, n, repeat);

    if (status == JAW_OK)
        status = check(radius, cutter, base);
    if (status == JAW_OK)
        status = jaw_fit_sweep(angle, reading, n, &sweep, resid);
    if (status == JAW_OK && !isfinite(sweep.ssr))
        status = JAW_ENOTFINITE;
    if (status != JAW_OK)
        return give_up(status, n, head, resid);
    jaw__spread spread =
        jaw__spread_of(repeat, sweep.ssr, sweep.dof, n);
    *head = (jaw_swung_head){.dof = 0};
    report(&sweep, radius, cutter, base, &spread, head);
    return JAW_OK;
}
