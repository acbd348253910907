/* SPDX-License-Identifier: GPL-3.0-or-later */
/* space.c: touches in space as a whole (see space.h): their mean, means of
 * products up to the fourth degree, from which the starts of every fit follow
 * without another look at the touches, and principal axes by Jacobi's
 * rotations (Golub & Van Loan, Matrix Computations, 8.5). */
#include "curved_passes.h"

#define BLOCK 512
#define SWEEPS_MAX 40
/* What is left off the diagonal changes extents by its square, and the axes are
 * for starts. */
#define SETTLED 0x1p-13
/* Below this share of the greatest extent the plain scatter has lost too many
 * digits to tell a plane. */
#define THIN 0x1p-20
/* Rounding of the plain scatter, and some more. */
#define LINE 0x1p-44

static void add_mean(const jaw__space *space, size_t from, double sum[3])
{
    const jaw_vec3 *p = space->p;
    const size_t to = space->n - from < BLOCK ? space->n : from + BLOCK;
    const double k = space->unit;
    double x = 0, y = 0, z = 0;

    for (size_t i = from; i < to; i++) {
        x += (p[i].x - p->x) * k;
        y += (p[i].y - p->y) * k;
        z += (p[i].z - p->z) * k;
    }
    sum[0] += x;
    sum[1] += y;
    sum[2] += z;
}

jaw_status jaw__space_make(jaw__space *space, const jaw_vec3 p[], size_t n)
{
    const double size = jaw__size(&p->x, 3 * n), count = (double)n;
    double sum[3] = {0, 0, 0};

    if (isnan(size))
        return JAW_ENOTFINITE;
    *space = (jaw__space){.p = p, .n = n, .unit = jaw__unit(size)};
    space->noise = jaw__noise(size * space->unit, n);
    for (size_t i = 0; i < n; i += BLOCK)
        add_mean(space, i, sum);
    space->m.x = p->x * space->unit + sum[0] / count;
    space->m.y = p->y * space->unit + sum[1] / count;
    space->m.z = p->z * space->unit + sum[2] / count;
    return JAW_OK;
}

/* One Jacobi rotation of a in the plane of i and j; the rows of axis follow.
 * False when there was nothing to turn. */
static bool rotate(double a[3][3], double axis[3][3], int i, int j)
{
    const int k = 3 - i - j;
    const double off = a[i][j], apart = a[j][j] - a[i][i];

    if (!(off * off > SETTLED * SETTLED * a[i][i] * a[j][j]))
        return false;
    const double both = sqrt(apart * apart + 4 * off * off);
    const double sum = fabs(apart) + both;
    const double t = copysign(2, apart) * off / sum;
    const double c = sqrt(sum / (2 * both)), s = t * c;
    const double ik = a[i][k], jk = a[j][k];
    const double ii = a[i][i] - t * off, jj = a[j][j] + t * off;
    a[i][i] = ii > 0 ? ii : 0;
    a[j][j] = jj > 0 ? jj : 0;
    a[i][j] = a[j][i] = 0;
    a[i][k] = a[k][i] = c * ik - s * jk;
    a[j][k] = a[k][j] = s * ik + c * jk;
    for (int l = 0; l < 3; l++) {
        double vi = axis[i][l], vj = axis[j][l];
        axis[i][l] = c * vi - s * vj;
        axis[j][l] = s * vi + c * vj;
    }
    return true;
}

static void swap_axes(double axis[3][3], double extent[3], int i, int j)
{
    double e = extent[i];

    extent[i] = extent[j];
    extent[j] = e;
    for (int l = 0; l < 3; l++) {
        double t = axis[i][l];
        axis[i][l] = axis[j][l];
        axis[j][l] = t;
    }
}

/* Rows of axis turned to the principal axes of a, which is seen along them. */
static void principal(double a[3][3], double axis[3][3], double extent[3])
{
    bool turned = true;

    for (int sweep = 0; turned && sweep < SWEEPS_MAX; sweep++) {
        turned = rotate(a, axis, 0, 1);
        turned = rotate(a, axis, 0, 2) || turned;
        turned = rotate(a, axis, 1, 2) || turned;
    }
    for (int i = 0; i < 3; i++)
        extent[i] = a[i][i];
    for (int i = 0; i < 2; i++)
        for (int j = 0; j < 2 - i; j++)
            if (extent[j] < extent[j + 1])
                swap_axes(axis, extent, j, j + 1);
}

void jaw__bulk_make(const jaw__space *space, jaw__bulk *bulk)
{
    *bulk = (jaw__bulk){.axis = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};
    jaw__curved_passes_best()->bulk(space, bulk);
    const double *s = bulk->two;
    double a[3][3] = {{s[0], s[1], s[2]}, {s[1], s[3], s[4]},
                      {s[2], s[4], s[5]}};
    principal(a, bulk->axis, bulk->extent);
    bulk->reach = sqrt(s[0] + s[3] + s[5]);
}

/* The plane's own fit knows how thin is nothing.  Where it sees no plane better
 * than another the touches are as thick as wide: nothing, or a long bar. */
bool jaw__space_is_flat(const jaw__space *space, const jaw__bulk *bulk)
{
    jaw_plane plane;

    if (bulk->extent[2] > THIN * bulk->extent[0])
        return false;
    if (jaw_fit_plane(space->p, space->n, &plane, NULL) != JAW_OK)
        return !(bulk->extent[1] > LINE * bulk->extent[0]);
    return !(sqrt(plane.ssr) * space->unit > space->noise);
}
