/* SPDX-License-Identifier: GPL-3.0-or-later */
/* curved_root.c: what a sphere or cylinder that was found leaves at each touch,
 * and how well the touches determine it.  The cofactors come from an
 * orthogonal factorisation of the derivatives, block after block below what
 * the blocks before have left: nothing is squared that would have to be taken
 * apart again. */
#include "curved_passes.h"

/* Inverse of the triangle in place, column by column: left of a column stands
 * the inverse already. */
static void invert(double r[JAW__FREE][JAW__FREE])
{
    JAW__UNROLL
    for (int k = 0; k < JAW__FREE; k++) {
        r[k][k] = 1 / r[k][k];
        JAW__UNROLL
        for (int i = 0; i < k; i++) {
            double sum = 0;
            JAW__UNROLL
            for (int l = i; l < k; l++)
                sum += r[i][l] * r[l][k];
            r[i][k] = -sum * r[k][k];
        }
    }
}

/* Columns brought to unit length, `by` the inverse of that; what may not move
 * is one of its own.  False when what one moves over the touches is no more
 * than their rounding, or nothing but what others do. */
static bool scale(const jaw__search *search, double r[JAW__FREE][JAW__FREE],
                  double by[JAW__FREE])
{
    const double noise = search->space->noise, reach = search->bulk->reach;
    const double least[JAW__FREE] = {0, noise, noise, noise, noise * reach};

    JAW__UNROLL
    for (int k = 0; k < JAW__FREE; k++) {
        double sum = 0;
        JAW__UNROLL
        for (int i = 0; i <= k; i++)
            sum += r[i][k] * r[i][k];
        const double size = sqrt(sum);
        by[k] = 1;
        if (!search->free[k]) {
            r[k][k] = 1;
            continue;
        }
        if (!(size > least[k] && fabs(r[k][k]) > DBL_EPSILON * size))
            return false;
        by[k] = 1 / size;
        JAW__UNROLL
        for (int i = 0; i <= k; i++)
            r[i][k] *= by[k];
    }
    return true;
}

/* Singular to rounding: of the columns, or of the touches.  What only second
 * derivatives hold is found as well as the root of rounding allows, so the
 * square counts (as in found.c). */
static bool singular(const jaw__search *search,
                     double r[JAW__FREE][JAW__FREE])
{
    const double n = (double)search->space->n;
    const double noise = search->space->noise / search->bulk->reach;
    double sum = jaw__free(search) - JAW__FREE;

    JAW__UNROLL
    for (int i = 0; i < JAW__FREE; i++)
        JAW__UNROLL
        for (int k = i; k < JAW__FREE; k++)
            sum += r[i][k] * r[i][k];
    return !(sum * n * DBL_EPSILON < 1 && sum * noise * noise < 1);
}

static bool set_root(const jaw__search *search,
                     double r[JAW__FREE][JAW__FREE],
                     double root[JAW__FREE][JAW__FREE])
{
    double by[JAW__FREE];

    if (!scale(search, r, by))
        return false;
    invert(r);
    if (singular(search, r))
        return false;
    JAW__UNROLL
    for (int i = 0; i < JAW__FREE; i++)
        JAW__UNROLL
        for (int k = 0; k < JAW__FREE; k++)
            root[i][k] = k >= i && search->free[i] ? r[i][k] * by[i] : 0;
    return true;
}

bool jaw__see(const jaw__search *search, const jaw__curved *at,
              jaw__seen *seen, double resid[])
{
    const double side = -copysign(1, at->bend) / search->space->unit;
    jaw__triangle f;

    jaw__curved_passes_best()->triangle(search, at, side, &f, resid);
    seen->ssr = f.ssr;
    seen->length = f.high - f.low;
    return set_root(search, f.r, seen->root);
}
