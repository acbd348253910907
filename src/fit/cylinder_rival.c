/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cylinder_rival.c: whether touches that lie on one cylinder may as well lie on
 * another.  They then lie on the curve in which the two meet, and satisfy the
 * equations of both: more than one quadric passes by them all.
 *
 * Let x be the coefficients of a quadric's second degree, as a symmetric matrix
 * of Frobenius norm |x|, and S the covariance of the touches' pairs of
 * coordinates with what their coordinates explain taken away: x S x is the
 * least mean square of the quadric's values.  Of a cylinder along w, x is
 * I - w w^T, |x|^2 = 2, and the value at a touch is about 2 r times its
 * distance, so x S x <= 4 r^2 (mean square distance).  A rival along w', t off,
 * has x = p cos + y, p the first one's and y square to it,
 *     |y|^2 = 2 - (1 + cos^2 t)^2 / 2 >= 2 sin^2 t 3/4, and
 *     sqrt(x S x) >= sqrt(y S y) - sqrt(p S p).
 * So a lower bound of y S y on everything square to p bounds every rival. */
#include "cylinder.h"

/* Rivals 12 degrees off have |y| > 0.28.  Three times the distances, of at most
 * twice the radius, and what p takes away make 7. */
#define BOUND (7 / 0.28)

enum { PAIRS = 6 };

static double weight(int i)
{
    return i == 0 || i == 3 || i == 5 ? 1 : 0x1.6a09e667f3bcdp+0;
}

/* S, with the pairs of two coordinates weighted to make a Frobenius norm. */
static void left_of_pairs(const jaw__bulk *bulk, double s[PAIRS][PAIRS])
{
    double part[3][PAIRS];

    for (int k = 0; k < 3; k++)
        for (int i = 0; i < PAIRS; i++) {
            double sum = 0;
            for (int l = 0; l < 3; l++)
                sum += bulk->axis[k][l] * bulk->three[l][i];
            part[k][i] = sum / sqrt(bulk->extent[k]);
        }
    for (int i = 0; i < PAIRS; i++)
        for (int k = 0; k <= i; k++) {
            double sum = bulk->four[i][k] - bulk->two[i] * bulk->two[k];
            for (int l = 0; l < 3; l++)
                sum -= part[l][i] * part[l][k];
            s[i][k] = sum * weight(i) * weight(k);
        }
}

/* Whether a symmetric matrix (lower triangle) is positive: its pivots are. */
static bool is_positive(double s[PAIRS][PAIRS])
{
    for (int i = 0; i < PAIRS; i++) {
        if (!(s[i][i] > 0))
            return false;
        for (int k = i + 1; k < PAIRS; k++) {
            const double share = s[k][i] / s[i][i];
            for (int l = k; l < PAIRS; l++)
                s[l][k] -= share * s[l][i];
        }
    }
    return true;
}

bool jaw__has_rival(const jaw__bulk *bulk, const jaw__curved *at, double mean)
{
    const double *w = at->axis[0];
    const double least = 2 * sqrt(mean) / fabs(at->bend) * BOUND;
    double s[PAIRS][PAIRS], p[PAIRS], all = 0;

    left_of_pairs(bulk, s);
    jaw__pairs(w, w, p);
    for (int i = 0; i < PAIRS; i++) {
        p[i] = ((weight(i) == 1) - p[i]) / weight(i) * sqrt(0.5);
        all += s[i][i];
    }
    for (int i = 0; i < PAIRS; i++) {
        for (int k = 0; k <= i; k++)
            s[i][k] += all * p[i] * p[k];
        s[i][i] -= least * least + 0x1p-40 * all;
    }
    return !is_positive(s);
}

/* From the axis, or a plane in its stead when the bend is small, to a touch. */
static void normal_at(const jaw__curved *at, const double d[3], double n[3])
{
    for (int i = 0; i < 3; i++)
        n[i] = at->bend * (d[i] - at->foot[i]) - at->axis[2][i];
    const double along = jaw__dot(n, at->axis[0]);
    for (int i = 0; i < 3; i++)
        n[i] -= along * at->axis[0][i];
    const double h = jaw__dot(n, n);
    for (int i = 0; i < 3 && h > 0; i++)
        n[i] /= sqrt(h);
}

double jaw__shared(const jaw__space *space, const jaw__curved *a,
                   const jaw__curved *b)
{
    const double k = space->unit;
    double sum = 0, u[3], v[3];

    for (size_t i = 0; i < space->n; i++) {
        const double d[3] = {space->p[i].x * k - space->m.x,
                             space->p[i].y * k - space->m.y,
                             space->p[i].z * k - space->m.z};
        normal_at(a, d, u);
        normal_at(b, d, v);
        const double cosine = jaw__dot(u, v);
        sum += cosine * cosine;
    }
    return sum / (double)space->n;
}
