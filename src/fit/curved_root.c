/* SPDX-License-Identifier: GPL-3.0-or-later */
/* curved_root.c: what a sphere or cylinder that was found leaves at each touch,
 * and how well the touches determine it.  The cofactors come from an
 * orthogonal factorisation of the derivatives, block after block below what
 * the blocks before have left: nothing is squared that would have to be taken
 * apart again. */
#include "curved_passes.h"

/* Inverse of the triangle in place, column by column: left of a column stands
 * the inverse already. */
static void invert(jaw__triangle *f)
{
    for (int k = 0; k < f->n; k++) {
        f->r[k][k] = 1 / f->r[k][k];
        for (int i = 0; i < k; i++) {
            double sum = 0;
            for (int l = i; l < k; l++)
                sum += f->r[i][l] * f->r[l][k];
            f->r[i][k] = -sum * f->r[k][k];
        }
    }
}

/* Columns to unit length; false when what one moves over the touches is no
 * more than their rounding. */
static bool scale(const jaw__search *search, jaw__triangle *f,
                  double size[JAW__FREE])
{
    const double noise = search->space->noise, reach = search->bulk->reach;
    const double least[JAW__FREE] = {0, noise, noise, noise, noise * reach};

    for (int k = 0; k < f->n; k++) {
        double sum = 0;
        for (int i = 0; i <= k; i++)
            sum += f->r[i][k] * f->r[i][k];
        size[k] = sqrt(sum);
        if (!(size[k] > least[f->from[k]]))
            return false;
        for (int i = 0; i <= k; i++)
            f->r[i][k] /= size[k];
    }
    return true;
}

/* Singular to rounding: of the columns, or of the touches.  What only second
 * derivatives hold is found as well as the root of rounding allows, so the
 * square counts (as in found.c). */
static bool singular(const jaw__search *search, const jaw__triangle *f)
{
    const double n = (double)search->space->n;
    const double noise = search->space->noise / search->bulk->reach;
    double sum = 0;

    for (int i = 0; i < f->n; i++)
        for (int k = i; k < f->n; k++)
            sum += f->r[i][k] * f->r[i][k];
    return !(sum * n * DBL_EPSILON < 1 && sum * noise * noise < 1);
}

static bool set_root(const jaw__search *search, jaw__triangle *f,
                     double root[JAW__FREE][JAW__FREE])
{
    double size[JAW__FREE];

    for (int i = 0; i < JAW__FREE * JAW__FREE; i++)
        root[i / JAW__FREE][i % JAW__FREE] = 0;
    if (!scale(search, f, size))
        return false;
    for (int i = 0; i < f->n; i++)
        if (!(fabs(f->r[i][i]) > DBL_EPSILON))
            return false;
    invert(f);
    if (singular(search, f))
        return false;
    for (int i = 0; i < f->n; i++)
        for (int k = i; k < f->n; k++)
            root[f->from[i]][k] = f->r[i][k] / size[i];
    return true;
}

bool jaw__see(const jaw__search *search, const jaw__curved *at,
              jaw__seen *seen, double resid[])
{
    const double side = -copysign(1, at->bend) / search->space->unit;
    jaw__triangle f = {.n = 0};

    for (int i = 0; i < JAW__FREE; i++)
        if (search->free[i])
            f.from[f.n++] = i;
    jaw__curved_passes_best()->triangle(search->space, at, side, &f, resid);
    seen->ssr = f.ssr;
    seen->length = f.high - f.low;
    return set_root(search, &f, seen->root);
}
