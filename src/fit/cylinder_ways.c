/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cylinder_ways.c: in which directions a cylinder may lie.  Seen along a given
 * direction a cylinder is a circle, and Kasa's circle (IEEE Trans. Instrum.
 * Meas. 25 (1976) 8-14) and what it leaves follow from means of products of
 * the coordinates alone, so that hundreds of directions cost no look at the
 * touches (the same for its own search: Eberly, Fitting 3D Data with a
 * Cylinder (2003)).  What is left of squared distances, divided by 4 r^2, is
 * about the mean square of distances (Chernov, Circular and Linear Regression
 * (2010), 5.1). */
#include "curved_passes.h"

enum { AXES = 3, GRID = 96, GRID_FIRST = 29, ROUNDS = 3 };

/* cos 17 degrees: a neighbour in a grid of 96 is 12 degrees away. */
#define SAME_WAY 0.956

/* A thousandth of a radian for slopes; a step of that length is the last, what
 * is then wrong about it Newton squares. */
#define STEP 0x1p-10
#define CLOSE 0x1p-9

static void scale_make(jaw__scale *s, const jaw__bulk *bulk)
{
    const double *a = bulk->two;

    s->bulk = bulk;
    JAW__UNROLL
    for (int i = 0; i < 6; i++)
        JAW__UNROLL
        for (int k = i; k < 6; k++)
            s->four[i][k] = (i == k ? 1 : 2) * (bulk->four[i][k] - a[i] * a[k]);
    s->minor[0] = a[3] * a[5] - a[4] * a[4];
    s->minor[1] = a[2] * a[4] - a[1] * a[5];
    s->minor[2] = a[1] * a[4] - a[2] * a[3];
    s->minor[3] = a[0] * a[5] - a[2] * a[2];
    s->minor[4] = a[1] * a[2] - a[0] * a[4];
    s->minor[5] = a[0] * a[3] - a[1] * a[1];
}

/* Evenly over a half sphere: heights in equal steps, each turned on by the
 * golden angle (Swinbank & Purser, Q. J. R. Meteorol. Soc. 132 (2006)
 * 1769-1793). */
static void make_grid(jaw__way ways[], int n)
{
    const double turn_c = -0x1.798869e0de833p-1, turn_s = 0x1.59d9dd253cc13p-1;
    double c = 1, s = 0;

    for (int i = 0; i < n; i++) {
        const double z = (i + 0.5) / n, r = sqrt(1 - z * z), was = c;
        ways[i].w[0] = r * c;
        ways[i].w[1] = r * s;
        ways[i].w[2] = z;
        c = turn_c * was - turn_s * s;
        s = turn_s * was + turn_c * s;
    }
}

/* w moved by a and b along e and f, both square to it; times by = its length
 * back to one. */
static void lean(const double w[3], const double e[3], double a,
                 const double f[3], double b, double by, double to[3])
{
    for (int i = 0; i < 3; i++)
        to[i] = (w[i] + a * e[i] + b * f[i]) * by;
}

/* Newton's step on what is left, slopes from differences; v: two ways along
 * each of two directions, two along both, and the middle.  False when the
 * middle is not next to a minimum. */
static bool newton(const double v[7], double *a, double *b)
{
    const double h = STEP, middle = 2 * v[6];
    const double gx = (v[0] - v[1]) * h / 2, gy = (v[2] - v[3]) * h / 2;
    const double xx = v[0] + v[1] - middle, yy = v[2] + v[3] - middle;
    const double xy = (v[4] + v[5] - middle - xx - yy) / 2;
    const double det = xx * yy - xy * xy;

    if (!(xx > 0 && det > 0))
        return false;
    *a = (xy * gy - yy * gx) / det;
    *b = (xy * gx - xx * gy) / det;
    const double cut = fmin(1, 0.2 / fmax(fabs(*a), fabs(*b)));
    *a *= cut;
    *b *= cut;
    return true;
}

/* False when no minimum was come near. */
static bool refine(const jaw__scale *s, jaw__way *way)
{
    static const double at[7][2] = {{1, 0}, {-1, 0},  {0, 1}, {0, -1},
                                    {1, 1}, {-1, -1}, {0, 0}};
    const double one = 1 / sqrt(1 + STEP * STEP);
    const double two = 1 / sqrt(1 + 2 * STEP * STEP);
    const double short_by[7] = {one, one, one, one, two, two, 1};
    const jaw__curved_passes *passes = jaw__curved_passes_best();
    jaw__way near[7], next = *way;
    double v[7], a, b;

    for (int round = 0; round < ROUNDS; round++) {
        double e[3], f[3];
        jaw__square_to(next.w, e);
        jaw__cross(next.w, e, f);
        for (int i = 0; i < 7; i++)
            lean(next.w, e, STEP * at[i][0], f, STEP * at[i][1], short_by[i],
                 near[i].w);
        passes->rate(s, near, 7);
        if (near[6].off > way->off)
            return false;
        *way = near[6];
        for (int i = 0; i < 7; i++)
            v[i] = near[i].off;
        if (!newton(v, &a, &b))
            return false;
        lean(way->w, e, a, f, b, 1 / sqrt(1 + a * a + b * b), next.w);
        if (fabs(a) + fabs(b) < CLOSE)
            break;
    }
    passes->rate(s, &next, 1);
    if (next.off < way->off)
        *way = next;
    return true;
}

static bool is_new(const jaw__way ways[], int count, const double w[3])
{
    for (int i = 0; i < count; i++)
        if (fabs(jaw__dot3(ways[i].w, w)) > SAME_WAY)
            return false;
    return true;
}

/* The grid and the principal axes, rated. */
static void rate_all(const jaw__scale *s, jaw__way all[], int grid)
{
    make_grid(all, grid);
    for (int i = 0; i < AXES; i++)
        for (int k = 0; k < 3; k++)
            all[grid + i].w[k] = s->bulk->axis[i][k];
    jaw__curved_passes_best()->rate(s, all, grid + AXES);
}

int jaw__ways(const jaw__bulk *bulk, int most, jaw__way ways[])
{
    jaw__way all[GRID + AXES];
    int count = 0;
    jaw__scale s;

    scale_make(&s, bulk);
    rate_all(&s, all, GRID);
    for (; count < most; count++) {
        int best = -1;
        for (int i = 0; i < GRID + AXES; i++)
            if ((best < 0 || all[i].off < all[best].off) &&
                is_new(ways, count, all[i].w))
                best = i;
        if (best < 0)
            break;
        ways[count] = all[best];
    }
    for (int i = 0; i < count; i++)
        (void)refine(&s, &ways[i]);
    return count;
}

static const jaw__way *least(const jaw__way all[], int n)
{
    const jaw__way *best = all;

    for (int i = 1; i < n; i++)
        if (all[i].off < best->off)
            best = all + i;
    return best;
}

void jaw__way_first(const jaw__bulk *bulk, jaw__way *way)
{
    jaw__way all[GRID_FIRST + AXES];
    jaw__scale s;

    scale_make(&s, bulk);
    rate_all(&s, all, GRID_FIRST);
    *way = *least(all, GRID_FIRST + AXES);
}

bool jaw__way_refine(const jaw__bulk *bulk, jaw__way *way)
{
    jaw__scale s;

    scale_make(&s, bulk);
    return refine(&s, way);
}

void jaw__way_along(const jaw__bulk *bulk, const double w[3], jaw__way *way)
{
    jaw__scale s;

    scale_make(&s, bulk);
    *way = (jaw__way){.w = {w[0], w[1], w[2]}};
    jaw__curved_passes_best()->rate(&s, way, 1);
}

/* Mean of the product of a pair and another, or of a direction and a pair. */
static double fourth(const jaw__bulk *bulk, const double p[6],
                     const double q[6])
{
    double sum = 0;

    for (int i = 0; i < 6; i++)
        for (int k = 0; k < 6; k++)
            sum += p[i] * bulk->four[i][k] * q[k];
    return sum;
}

static double third(const jaw__bulk *bulk, const double d[3],
                    const double p[6])
{
    double sum = 0;

    for (int i = 0; i < 6; i++)
        sum += p[i] * (d[0] * bulk->three[0][i] + d[1] * bulk->three[1][i] +
                       d[2] * bulk->three[2][i]);
    return sum;
}

static double second(const jaw__bulk *bulk, const double a[3],
                     const double b[3])
{
    double pairs[6], sum = 0;

    jaw__pairs(a, b, pairs);
    for (int i = 0; i < 6; i++)
        sum += pairs[i] * bulk->two[i];
    return sum;
}

/* axis[1] the longer side of what is seen along w, axis[2] the shorter. */
static jaw__curved seen_along(const jaw__bulk *bulk, const double w[3])
{
    jaw__curved flat = jaw__bow(w, NULL, 0);
    const double *e = flat.axis[0], *f = flat.axis[1];
    double normal[3];
    jaw__turn t = jaw__turn_principal(second(bulk, e, e), second(bulk, e, f),
                                      second(bulk, f, f));

    for (int i = 0; i < 3; i++)
        normal[i] = t.c * f[i] - t.s * e[i];
    return jaw__bow(normal, w, 0);
}

jaw__curved jaw__way_bow(const jaw__bulk *bulk, const double w[3])
{
    jaw__curved at = seen_along(bulk, w);
    const double *u = at.axis[1], *v = at.axis[2];
    double uu[6];

    jaw__pairs(u, u, uu);
    double square = second(bulk, u, u), cube = third(bulk, u, uu);
    double all = fourth(bulk, uu, uu);
    double left = all - square * square - cube / square * cube;
    double bow = left > 0x1p-40 * all ? third(bulk, v, uu) / left : 0;
    double slope = -bow * cube / square, h = hypot(1, slope);
    for (int i = 0; i < 3; i++) {
        at.foot[i] = -bow * square * v[i];
        at.axis[2][i] = (at.axis[2][i] - slope * at.axis[1][i]) / h;
    }
    jaw__curved_axes(at.axis);
    at.bend = 2 * bow / (h * h * h);
    return at;
}
