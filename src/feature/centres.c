/* SPDX-License-Identifier: GPL-3.0-or-later */
/* centres.c: touches as positions of the tip's centre. */
#include "feature.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

jaw_status jaw__lack_of(const jaw_touch t[], size_t n, jaw__lack *lack)
{
    size_t no_x = 0, no_y = 0;

    *lack = JAW__LACK_NONE;
    for (size_t i = 0; i < n; i++) {
        if (isinf(t[i].x) || isinf(t[i].y) || (isnan(t[i].x) && isnan(t[i].y)))
            return JAW_ENOTFINITE;
        no_x += isnan(t[i].x) ? 1 : 0;
        no_y += isnan(t[i].y) ? 1 : 0;
    }
    if (no_x == 0 && no_y == 0)
        return JAW_OK;
    *lack = no_x > 0 ? JAW__LACK_X : JAW__LACK_Y;
    return no_x + no_y == n && (no_x == 0 || no_y == 0) ? JAW_OK
                                                        : JAW_ENOTFINITE;
}

jaw_status jaw__centres_take(jaw__centres *centres, const jaw_touch t[],
                             size_t n, jaw__lack lack)
{
    centres->many = NULL;
    centres->p = centres->few;
    if (n > JAW__FEW) {
        if (n > SIZE_MAX / sizeof *centres->many)
            return JAW_ENOMEM;
        centres->many = malloc(n * sizeof *centres->many);
        if (centres->many == NULL)
            return JAW_ENOMEM;
        centres->p = centres->many;
    }
    for (size_t i = 0; i < n; i++)
        centres->p[i] = (jaw_vec2){lack == JAW__LACK_X ? 0 : t[i].x,
                                   lack == JAW__LACK_Y ? 0 : t[i].y};
    return JAW_OK;
}

void jaw__centres_drop(jaw__centres *centres)
{
    free(centres->many);
    centres->many = NULL;
    centres->p = NULL;
}

double jaw__span(const jaw_vec2 p[], size_t n, jaw_vec2 dir)
{
    double low = HUGE_VAL, high = -HUGE_VAL;

    for (size_t i = 0; i < n; i++) {
        double along = dir.x * (p[i].x - p[0].x) + dir.y * (p[i].y - p[0].y);
        low = fmin(low, along);
        high = fmax(high, along);
    }
    return n > 0 ? high - low : 0;
}

static bool same(double a, double b)
{
    return a == b || (isnan(a) && isnan(b));
}

unsigned jaw__same_touch(const jaw_touch t[], size_t n)
{
    if (n > JAW__FEW)
        return 0;
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < i; j++)
            if (same(t[i].x, t[j].x) && same(t[i].y, t[j].y) &&
                same(t[i].z, t[j].z))
                return JAW_SAME_TOUCH;
    return 0;
}

jaw_status jaw__places_take(jaw__places *places, const jaw_touch t[], size_t n,
                            double up)
{
    places->p = places->few;
    places->many = NULL;
    if (n > JAW__FEW) {
        if (n > SIZE_MAX / sizeof *places->many)
            return JAW_ENOMEM;
        places->p = places->many = malloc(n * sizeof *places->many);
        if (places->many == NULL)
            return JAW_ENOMEM;
    }
    for (size_t i = 0; i < n; i++)
        places->p[i] = (jaw_vec3){t[i].x, t[i].y, t[i].z + up};
    return JAW_OK;
}

void jaw__places_drop(jaw__places *places)
{
    free(places->many);
}
