/* SPDX-License-Identifier: GPL-3.0-or-later */
/* level.c: a tilt that a three-axis machine can not be told, as shims and as
 * errors in Z. */
#include "datum.h"

static jaw_figure error_at(const jaw_attitude *a, jaw_vec2 from, jaw_vec2 to)
{
    const double x = to.x - from.x, y = to.y - from.y;
    const double dx = a->turn[0][0] * x + a->turn[0][1] * y;
    const double dy = a->turn[1][0] * x + a->turn[1][1] * y;
    const double dz = a->turn[2][0] * x + a->turn[2][1] * y;
    /* a small turn (a, b, c) moves it up by a dy - b dx; cov[15], [16] and [18]
     * are those of a and b */
    const double variance = dy * dy * a->cov[15] -
                            2 * dx * dy * a->cov[16] + dx * dx * a->cov[18];

    return jaw_figure_make(dz, sqrt(fmax(variance, 0)), (double)INFINITY);
}

static bool is_known(const jaw_attitude *a)
{
    for (int i = 0; i < 3; i++)
        if (!isfinite(a->turn[i][0]) || !isfinite(a->turn[i][1]))
            return false;
    return isfinite(a->cov[15]) && isfinite(a->cov[16]) &&
           isfinite(a->cov[18]);
}

static bool is_place(jaw_vec2 p)
{
    return isfinite(p.x) && isfinite(p.y);
}

jaw_status jaw_datum_level(const jaw_attitude *a, jaw_vec2 zero_at,
                           const jaw_vec2 work[], size_t n, jaw_figure error[],
                           double shim[])
{
    jaw_status status = n < 1 ? JAW_EFEW
                        : is_known(a) && is_place(zero_at) ? JAW_OK
                                                           : JAW_ENOTFINITE;
    double highest = (double)-INFINITY;

    for (size_t i = 0; i < n; i++)
        if (!is_place(work[i]))
            status = JAW_ENOTFINITE;
    for (size_t i = 0; i < n; i++) {
        error[i] = status == JAW_OK
                       ? error_at(a, zero_at, work[i])
                       : jaw_figure_make((double)NAN, (double)NAN,
                                         (double)NAN);
        highest = fmax(highest, error[i].value);
    }
    for (size_t i = 0; i < n; i++)
        shim[i] = status == JAW_OK ? highest - error[i].value : (double)NAN;
    return status;
}
