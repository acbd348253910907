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
 * So a lower bound of y S y on everything square to p bounds every rival.
 *
 * The least of x S x shows besides in which direction a cylinder may lie that
 * so many touches determine. */
#include "cylinder.h"

/* Rivals 12 degrees off have |y| > 0.28.  Three times the distances, of at most
 * twice the radius, and what p takes away make 7. */
#define BOUND (7 / 0.28)

/* Exact touches leave S singular but for rounding, which is no more than this
 * of its trace. */
#define ROUNDING 0x1p-40

enum { PAIRS = JAW__SOLVE_MOST };

static const double weight[PAIRS] = {1, 0x1.6a09e667f3bcdp+0,
                                     0x1.6a09e667f3bcdp+0, 1,
                                     0x1.6a09e667f3bcdp+0, 1};

/* What the coordinates explain of the pairs, part^T diag(by) part: with their
 * scatter as L D L^T, part is L^-1 times the means of coordinates times pairs,
 * and by the inverse of D. */
static void explain(const jaw__bulk *bulk, double part[3][PAIRS], double by[3])
{
    const double *a = bulk->two;
    const double down = a[1] / a[0], far = a[2] / a[0];
    const double second = a[3] - down * a[1], low = a[4] - down * a[2];
    const double on = low / second, third = a[5] - far * a[2] - on * low;

    JAW__UNROLL
    for (int i = 0; i < PAIRS; i++) {
        part[0][i] = bulk->three[0][i];
        part[1][i] = bulk->three[1][i] - down * part[0][i];
        part[2][i] = bulk->three[2][i] - far * part[0][i] - on * part[1][i];
    }
    by[0] = 1 / a[0];
    by[1] = second > 0 ? 1 / second : JAW__NAN;
    by[2] = third > 0 ? 1 / third : JAW__NAN;
}

/* The pairs of two coordinates are weighted to make a Frobenius norm. */
void jaw__quadrics_make(const jaw__bulk *bulk, jaw__quadrics *quadrics)
{
    double part[3][PAIRS], by[3];

    explain(bulk, part, by);
    quadrics->all = 0;
    JAW__UNROLL
    for (int i = 0; i < PAIRS; i++) {
        const double own[3] = {part[0][i] * by[0], part[1][i] * by[1],
                               part[2][i] * by[2]};
        JAW__UNROLL
        for (int k = 0; k <= i; k++)
            quadrics->s[i][k] =
                (bulk->four[i][k] - bulk->two[i] * bulk->two[k] -
                 own[0] * part[0][k] - own[1] * part[1][k] -
                 own[2] * part[2][k]) *
                (weight[i] * weight[k]);
        quadrics->all += quadrics->s[i][i];
    }
}

static bool solve(jaw__quadrics *q, double x[PAIRS])
{
    static const double least[PAIRS] = {0};

    return jaw__solve(PAIRS, q->s, least, x);
}

/* What a cylinder's matrix takes to nothing: the longest column of the
 * adjugate, which is w w^T but for a factor. */
static void direction_of(const double p[PAIRS], double w[3])
{
    const double xx = p[0], xy = p[1] / weight[1], xz = p[2] / weight[2];
    const double yy = p[3], yz = p[4] / weight[4], zz = p[5];
    const double a[3][3] = {
        {yy * zz - yz * yz, xz * yz - xy * zz, xy * yz - xz * yy},
        {xz * yz - xy * zz, xx * zz - xz * xz, xy * xz - xx * yz},
        {xy * yz - xz * yy, xy * xz - xx * yz, xx * yy - xy * xy}};
    int most = 0;

    for (int i = 1; i < 3; i++)
        if (a[i][i] > a[most][most])
            most = i;
    for (int i = 0; i < 3; i++)
        w[i] = a[most][i];
}

/* What leaves least is the eigenvector of S for its least eigenvalue.  A step
 * of inverse iteration (Golub & Van Loan, Matrix Computations, 7.6) from the
 * sphere, of which every cylinder has its share, comes as near to it as the
 * next eigenvalue is far. */
bool jaw__quadrics_way(const jaw__quadrics *quadrics, jaw__way *way)
{
    jaw__quadrics q = *quadrics;
    double p[PAIRS] = {1, 0, 0, 1, 0, 1};

    for (int i = 0; i < PAIRS; i++)
        q.s[i][i] += ROUNDING * q.all;
    if (!solve(&q, p))
        return false;
    direction_of(p, way->w);
    jaw__normalise(way->w);
    way->off = HUGE_VAL;
    return jaw__dot3(way->w, way->w) > 0;
}

bool jaw__has_rival(const jaw__quadrics *quadrics, const jaw__curved *at,
                    double mean)
{
    const double *w = at->axis[0];
    const double least = 2 * sqrt(mean) / fabs(at->bend) * BOUND;
    jaw__quadrics q = *quadrics;
    double p[PAIRS], any[PAIRS] = {0};

    jaw__pairs(w, w, p);
    JAW__UNROLL
    for (int i = 0; i < PAIRS; i++) {
        p[i] = ((weight[i] == 1) - p[i]) / weight[i] * sqrt(0.5);
        JAW__UNROLL
        for (int k = 0; k <= i; k++)
            q.s[i][k] += q.all * p[i] * p[k];
        q.s[i][i] -= least * least + ROUNDING * q.all;
    }
    return !solve(&q, any);
}

/* From the axis, or a plane in its stead when the bend is small, to a touch. */
static void normal_at(const jaw__curved *at, const double d[3], double n[3])
{
    for (int i = 0; i < 3; i++)
        n[i] = at->bend * (d[i] - at->foot[i]) - at->axis[2][i];
    const double along = jaw__dot3(n, at->axis[0]);
    for (int i = 0; i < 3; i++)
        n[i] -= along * at->axis[0][i];
    const double h = jaw__dot3(n, n);
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
        const double cosine = jaw__dot3(u, v);
        sum += cosine * cosine;
    }
    return sum / (double)space->n;
}
