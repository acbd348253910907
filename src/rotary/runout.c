/* SPDX-License-Identifier: GPL-3.0-or-later */
/* runout.c: how far the axis of a round bar lies off that of the table which
 * holds it, from an indicator that stands still while the table turns.
 *
 * The indicator stands in the direction f of the plane.  With the table at a
 * the bar's axis lies at R(s a) q from the table's, and pushes the plunger in by
 * its part along f:
 *     reading = b + qx cos(f - s a) + qy sin(f - s a)
 * (to first order: what the bar moves aside takes half its square over the
 * bar's radius away).  So it is a sinusoid of a, of which the sweep of fit.h finds
 * the cosine A and the sine B, and with both as a vector
 *     q = M (A, s B),  M = (cos f, sin f; sin f, -cos f). */
#include <jawline/rotary.h>

#include "src/base/nan.h"

#include <math.h>

#define NO_NUMBER ((double)NAN)

static jaw_status give_up(jaw_status status, size_t n, jaw_rotary_runout *found,
                          double resid[])
{
    const jaw_figure nothing =
        jaw_figure_make(NO_NUMBER, NO_NUMBER, NO_NUMBER);

    *found = (jaw_rotary_runout){.arm = {NO_NUMBER, NO_NUMBER},
                                 .cov = {NO_NUMBER, NO_NUMBER, NO_NUMBER},
                                 .dof_of = NO_NUMBER,
                                 .full = nothing,
                                 .high = NO_NUMBER,
                                 .rms = NO_NUMBER};
    jaw__fill_nan(resid, n);
    return status;
}

/* cos(f - b) and sin(f - b) span any sense of b = s a. */
static void take_arm(const jaw_sweep *sweep, double towards, double sense,
                     double scale, jaw_rotary_runout *found)
{
    const double c = cos(towards), s = sin(towards);
    const double m[2][2] = {{c, s * sense}, {s, -c * sense}};
    const double v[3] = {sweep->q[3], sweep->q[4], sweep->q[5]};

    found->arm.x = m[0][0] * sweep->along + m[0][1] * sweep->across;
    found->arm.y = m[1][0] * sweep->along + m[1][1] * sweep->across;
    for (int i = 0, k = 0; i < 2; i++)
        for (int j = i; j < 2; j++, k++)
            found->cov[k] =
                scale * scale *
                (m[i][0] * m[j][0] * v[0] +
                 (m[i][0] * m[j][1] + m[i][1] * m[j][0]) * v[1] +
                 m[i][1] * m[j][1] * v[2]);
}

/* Of the length of the arm, by its derivative; where the arm is nothing, of its
 * less sure direction. */
static double spread_of(const jaw_rotary_runout *r)
{
    const double h = hypot(r->arm.x, r->arm.y);
    const double x = r->arm.x / h, y = r->arm.y / h;

    if (!(h > 0))
        return sqrt(fmax(r->cov[0], r->cov[2]));
    double variance = x * x * r->cov[0] + 2 * x * y * r->cov[1] +
                      y * y * r->cov[2];

    return sqrt(variance < 0 ? 0 : variance); /* rounding; NaN stays */
}

static void take(const jaw_sweep *sweep, double towards, double sense,
                 double repeat, jaw_rotary_runout *found)
{
    const bool stated = !isnan(repeat);
    const double scale = stated           ? repeat
                         : sweep->dof > 0 ? sweep->s
                                          : NO_NUMBER;

    /* tables count from 0 to a whole turn */
    *found = (jaw_rotary_runout){.high = sweep->phase < 0
                                             ? sweep->phase + 2 * M_PI
                                             : sweep->phase,
                                 .rms = sweep->rms,
                                 .dof = sweep->dof,
                                 .flags = sweep->flags};
    found->dof_of = stated           ? (double)INFINITY
                    : sweep->dof > 0 ? sweep->dof
                                     : NO_NUMBER;
    take_arm(sweep, towards, sense, scale, found);
    found->full = jaw_figure_make(2 * hypot(found->arm.x, found->arm.y),
                                  2 * spread_of(found), found->dof_of);
    if (stated && sweep->dof > 0 &&
        sweep->ssr / (repeat * repeat) >
            jaw_trust_chi2(JAW_TRUST_ALPHA, sweep->dof))
        found->flags |= JAW_RESIDUAL;
}

jaw_status jaw_rotary_find_runout(const double angle[], const double reading[],
                                  size_t n, double towards, jaw_sense sense,
                                  double repeat, jaw_rotary_runout *found,
                                  double resid[])
{
    jaw_sweep sweep;

    if (sense != JAW_SENSE_RIGHT && sense != JAW_SENSE_LEFT)
        return give_up(JAW_EDOMAIN, n, found, resid);
    if (isinf(repeat) || repeat <= 0)
        return give_up(JAW_EDOMAIN, n, found, resid);
    if (!isfinite(towards))
        return give_up(JAW_ENOTFINITE, n, found, resid);
    jaw_status status = jaw_fit_sweep(angle, reading, n, &sweep, resid);
    if (status != JAW_OK)
        return give_up(status, n, found, resid);
    take(&sweep, towards, (double)sense, repeat, found);
    return JAW_OK;
}
