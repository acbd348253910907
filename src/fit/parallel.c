/* SPDX-License-Identifier: GPL-3.0-or-later */
/* parallel.c: the direction that one or two sets of touches share: the first
 * principal axis of their summed scatter, each about its own mean (Pearson,
 * Phil. Mag. (6) 2 (1901) 559-572; for two sets Shakarji & Srinivasan, J.
 * Comput. Inf. Sci. Eng. 13 (2013) 031008).
 *
 * The scatter of long thin sets loses what lies across to rounding.  So the
 * sums are taken again in the turned direction, where what lies across is a
 * column of its own and small, until no turn worth the name is left (one-sided
 * rotations: Hestenes, J. SIAM 6 (1958) 51-90). */
#include "parallel.h"

/* A turn below this is applied to first order in the residuals; its square
 * vanishes against 1. */
#define TURN_TINY 0x1p-30
#define PASSES_MAX 6

jaw_status jaw__parallel_begin(jaw__parallel *fit, const jaw_vec2 a[],
                               size_t na, const jaw_vec2 b[], size_t nb)
{
    double size = jaw__size(&a->x, 2 * na);

    double other = b ? jaw__size(&b->x, 2 * nb) : 0;

    if (isnan(size) || isnan(other))
        return JAW_ENOTFINITE;
    size = fmax(size, other);
    double unit = jaw__unit(size);
    fit->sides = b ? 2 : 1;
    fit->noise = jaw__noise(size * unit, na + nb);
    jaw__view_make(&fit->view[0], a, na, unit);
    if (b)
        jaw__view_make(&fit->view[1], b, nb, unit);
    return JAW_OK;
}

static void look(jaw__parallel *fit, double *uu, double *uv, double *vv)
{
    *uu = *uv = *vv = 0;
    for (size_t i = 0; i < fit->sides; i++) {
        fit->sums[i] = jaw__view_sums(&fit->view[i], fit->seen);
        *uu += fit->sums[i].uu;
        *uv += fit->sums[i].uv;
        *vv += fit->sums[i].vv;
    }
}

/* theta in (-pi/2, pi/2] */
static void face_forward(jaw__parallel *fit)
{
    bool back = fit->dir.c < 0 || (fit->dir.c == 0 && fit->dir.s < 0);

    fit->sign = back ? -1 : 1;
    fit->dir.c = fabs(fit->dir.c);
    fit->dir.s *= fit->sign;
}

jaw_status jaw__parallel_settle(jaw__parallel *fit, double uu, double uv,
                                double vv)
{
    const double gain = uv * fit->more.s / fit->more.c;

    fit->uu = uu + gain;
    fit->vv = fmax(vv - gain, 0);
    fit->dir = jaw__turn_by(fit->seen, fit->more);
    face_forward(fit);
    /* one place: no extent at all; as wide as long: no direction is best */
    return sqrt(fit->uu) - sqrt(fit->vv) > fit->noise ? JAW_OK : JAW_ERANK;
}

jaw_status jaw__parallel_free(jaw__parallel *fit)
{
    double uu, uv, vv;

    fit->seen = (jaw__turn){1, 0};
    for (int pass = 0;; pass++) {
        look(fit, &uu, &uv, &vv);
        fit->more = jaw__turn_principal(uu, uv, vv);
        if (fabs(fit->more.s) <= TURN_TINY || pass == PASSES_MAX)
            break;
        fit->seen = jaw__turn_by(fit->seen, fit->more);
    }
    return jaw__parallel_settle(fit, uu, uv, vv);
}

void jaw__parallel_along(jaw__parallel *fit, double theta)
{
    const jaw_vec2 origin = {0, 0};
    jaw_frame frame = jaw_frame_make(origin, jaw_angle_half(theta));
    double uv;

    fit->seen = fit->dir = (jaw__turn){frame.c, frame.s};
    fit->more = (jaw__turn){1, 0};
    fit->sign = 1;
    look(fit, &fit->uu, &uv, &fit->vv);
}

jaw_vec2 jaw__parallel_mean(const jaw__parallel *fit, size_t side)
{
    const jaw__view *view = &fit->view[side];
    const jaw__sums *sums = &fit->sums[side];
    const jaw__turn t = fit->seen;

    return (jaw_vec2){
        (view->m.x + (t.c * sums->u - t.s * sums->v)) / view->unit,
        (view->m.y + (t.s * sums->u + t.c * sums->v)) / view->unit,
    };
}

void jaw__parallel_resid(const jaw__parallel *fit, double resid[])
{
    for (size_t i = 0; i < fit->sides; i++) {
        jaw__view_across(&fit->view[i], fit->seen, &fit->sums[i], fit->more,
                         fit->sign, resid);
        resid += fit->view[i].n;
    }
}
