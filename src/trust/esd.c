/* SPDX-License-Identifier: GPL-3.0-or-later */
/* esd.c: bad readings among repeats of one thing: the generalised extreme
 * studentised deviate (Rosner, Technometrics 25 (1983) 165-172); with most = 1
 * it is Grubbs' test. */
#include <jawline/trust.h>

#include <math.h>

static bool is_gone(const jaw_esd found[], size_t n, size_t i)
{
    for (size_t k = 0; k < n; k++)
        if (found[k].index == i)
            return true;
    return false;
}

/* The reading farthest from the mean of those left, in their deviations. */
static jaw_esd farthest(const double y[], size_t n, const jaw_esd found[],
                        size_t gone)
{
    double left = (double)(n - gone), sum = 0, ss = 0, first = 0;
    jaw_esd far = {.stat = -1};

    for (size_t i = 0; i < n; i++)
        first = is_gone(found, gone, i) ? first : y[i];
    for (size_t i = 0; i < n; i++)
        sum += is_gone(found, gone, i) ? 0 : y[i] - first;
    double mean = first + sum / left;
    for (size_t i = 0; i < n; i++) {
        if (is_gone(found, gone, i))
            continue;
        double off = fabs(y[i] - mean);
        ss += off * off;
        if (off > far.stat)
            far = (jaw_esd){.index = i, .stat = off};
    }
    far.stat = ss > 0 ? far.stat / sqrt(ss / (left - 1)) : 0;
    return far;
}

jaw_status jaw_trust_esd(const double y[], size_t n, size_t most, double alpha,
                         jaw_esd found[], size_t *bad)
{
    *bad = 0;
    if (!(alpha > 0 && alpha < 1))
        return JAW_EDOMAIN;
    if (n < 3 || most > n - 2)
        return JAW_EFEW;
    for (size_t i = 0; i < n; i++)
        if (!isfinite(y[i]))
            return JAW_ENOTFINITE;
    for (size_t k = 0; k < most; k++) {
        double left = (double)(n - k);
        found[k] = farthest(y, n, found, k);
        double t = jaw_trust_cover(1 - alpha / left, left - 2);
        found[k].critical = (left - 1) / sqrt(left) *
                            (1 / hypot(1, sqrt(left - 2) / t));
        if (found[k].stat > found[k].critical)
            *bad = k + 1;
    }
    return JAW_OK;
}
