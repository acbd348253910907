/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pattern.c: several places with known spacing give origin and turn.  The
 * spacing is trusted, so the fit has no scale of its own; a free scale is found
 * beside it, because it shows an inch taken for a millimetre or a wrong hole
 * (Umeyama, IEEE PAMI 13 (1991) 376-380). */
#include "feature.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

static jaw_pattern pattern_nan(void)
{
    const double nan = (double)NAN;

    return (jaw_pattern){.frame = {{nan, nan}, nan, nan, nan},
                         .scale = nan,
                         .u_turn = nan,
                         .u_shift = nan,
                         .rms = nan};
}

static double spread_of(const jaw_vec2 p[], size_t n, jaw_vec2 mean)
{
    double sum = 0;

    for (size_t i = 0; i < n; i++)
        sum += (p[i].x - mean.x) * (p[i].x - mean.x) +
               (p[i].y - mean.y) * (p[i].y - mean.y);
    return sum;
}

/* One in a hundred is beyond heat and touching on any part that fits a small
 * mill.  A smaller difference counts when it is beyond one in a thousand and
 * four times what the residuals of the free-scale fit explain:
 * ssr(free) = ssr - spread (scale - 1)^2, because the turn is the same. */
static bool scale_is_off(const jaw_vec2 nominal[], size_t n,
                         const jaw_rigid *fit)
{
    double off = fabs(fit->scale - 1);

    if (!(off <= 1e-2))
        return true;
    if (n < 3 || off <= 1e-3)
        return false;
    double spread = spread_of(nominal, n, fit->from_mean);
    double left = fmax(0, fit->ssr - spread * off * off);
    double u = sqrt(left / (double)(2 * n - 4) / spread);
    return off > 4 * u;
}

static jaw_status pattern_fit(const jaw_vec2 nominal[],
                              const jaw_vec2 touched[], size_t n,
                              jaw_pattern *pattern, jaw_vec2 off[])
{
    jaw_rigid fit;
    jaw_status status = jaw_fit_rigid(nominal, touched, NULL, n, &fit, off);

    if (status != JAW_OK)
        return status;
    pattern->frame = fit.frame;
    pattern->scale = fit.scale;
    pattern->u_turn = fit.u_turn;
    pattern->u_shift = fit.u_shift;
    pattern->rms = fit.rms;
    pattern->dof = fit.dof;
    pattern->flags = fit.flags;
    if (scale_is_off(nominal, n, &fit))
        pattern->flags |= JAW_SCALE_OFF;
    if (n >= 3 && fit.mirror_ssr < fit.ssr / 16)
        pattern->flags |= JAW_MIRRORED;
    return JAW_OK;
}

jaw_status jaw_feature_pattern(const jaw_vec2 nominal[],
                               const jaw_vec2 touched[], size_t n,
                               jaw_pattern *pattern, double resid[])
{
    jaw_vec2 few[JAW__FEW], *off = resid == NULL ? NULL : few;

    *pattern = pattern_nan();
    jaw__fill_nan(resid, n);
    if (resid != NULL && n > JAW__FEW) {
        off = n > SIZE_MAX / sizeof *off ? NULL : malloc(n * sizeof *off);
        if (off == NULL)
            return JAW_ENOMEM;
    }
    jaw_status status = pattern_fit(nominal, touched, n, pattern, off);
    for (size_t i = 0; status == JAW_OK && off != NULL && i < n; i++)
        resid[i] = hypot(off[i].x, off[i].y);
    if (off != few)
        free(off);
    return status;
}
