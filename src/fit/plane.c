/* SPDX-License-Identifier: GPL-3.0-or-later */
/* plane.c: the plane with least sum of squared distances: normal to the least
 * principal axis of the touches about their mean (Pearson, Phil. Mag. (6) 2
 * (1901) 559-572; Shakarji, J. Res. NIST 103 (1998) 633-641).
 *
 * As in parallel.c the sums are taken again along the axes found, where what
 * lies off the plane is small and carries no rounding of what lies along it;
 * there the matrix is graded, and Jacobi's rotations find its small
 * eigenvalues to full relative accuracy (Demmel & Veselic, SIAM J. Matrix
 * Anal. Appl. 13 (1992) 1204-1245). */
#include <jawline/fit.h>

#include "exact.h"
#include "long.h"
#include "view.h"

#define TURN_TINY 0x1p-30
#define PASSES_MAX 6
#define SWEEPS_MAX 40
#define BLOCK 1024
#define WEAK_COFACTOR 100

typedef struct solid {
    const jaw_vec3 *p;
    size_t n;
    double unit, noise;
    jaw_vec3 m;        /* mean, rounded, in units */
    double axis[3][3]; /* rows: along, across, normal */
    double mean[3];    /* of the touches along the axes, from m */
    double a[3][3];    /* scatter along the axes */
    double more[3][3]; /* rows: principal axes as seen along axis[] */
} solid;

static jaw_status give_up(jaw_status status, size_t n, jaw_plane *plane,
                          double resid[])
{
    const jaw_vec3 nowhere = {JAW__NAN, JAW__NAN, JAW__NAN};

    *plane = (jaw_plane){
        .p = nowhere,         .normal = nowhere,
        .axis = {nowhere, nowhere},
        .u_offset = JAW__NAN, .u_tilt = {JAW__NAN, JAW__NAN},
        .q_offset = JAW__NAN, .q_tilt = {JAW__NAN, JAW__NAN},
        .ssr = JAW__NAN,      .rms = JAW__NAN,
        .s = JAW__NAN};
    jaw__fill_nan(resid, n);
    return status;
}

static void add_mean(const solid *f, size_t from, size_t to, double sum[3])
{
    double x = 0, y = 0, z = 0;

    for (size_t i = from; i < to; i++) {
        x += (f->p[i].x - f->p->x) * f->unit;
        y += (f->p[i].y - f->p->y) * f->unit;
        z += (f->p[i].z - f->p->z) * f->unit;
    }
    sum[0] += x;
    sum[1] += y;
    sum[2] += z;
}

static jaw_status begin(solid *f, const jaw_vec3 p[], size_t n)
{
    const double size = jaw__size(&p->x, 3 * n);
    double sum[3] = {0, 0, 0};

    if (isnan(size))
        return JAW_ENOTFINITE;
    *f = (solid){.p = p, .n = n, .unit = jaw__unit(size)};
    f->noise = jaw__noise(size * f->unit, n);
    for (size_t i = 0; i < n; i += BLOCK)
        add_mean(f, i, i + BLOCK < n ? i + BLOCK : n, sum);
    f->m.x = p->x * f->unit + sum[0] / (double)n;
    f->m.y = p->y * f->unit + sum[1] / (double)n;
    f->m.z = p->z * f->unit + sum[2] / (double)n;
    for (int i = 0; i < 3; i++)
        f->axis[i][i] = 1;
    return JAW_OK;
}

/* A touch along the axes, from m; the last of the three free of the rounding
 * of the others. */
static void look(const solid *f, const jaw_vec3 *p, double w[3])
{
    const double *c = f->axis[2];
    double low[3], d[3], sum = 0, rest = 0, e;

    d[0] = jaw__differ(p->x * f->unit, f->m.x, &low[0]);
    d[1] = jaw__differ(p->y * f->unit, f->m.y, &low[1]);
    d[2] = jaw__differ(p->z * f->unit, f->m.z, &low[2]);
    for (int i = 0; i < 2; i++)
        w[i] = f->axis[i][0] * d[0] + f->axis[i][1] * d[1] +
               f->axis[i][2] * d[2];
    for (int i = 0; i < 3; i++) {
        double product = jaw__product(c[i], d[i], &e);
        rest += e + c[i] * low[i];
        sum = jaw__differ(sum, -product, &e);
        rest += e;
    }
    w[2] = sum + rest;
}

static void add_scatter(const solid *f, size_t from, size_t to, double sum[9])
{
    double part[9] = {0}, w[3];

    for (size_t i = from; i < to; i++) {
        look(f, &f->p[i], w);
        part[0] += w[0];
        part[1] += w[1];
        part[2] += w[2];
        part[3] += w[0] * w[0];
        part[4] += w[0] * w[1];
        part[5] += w[0] * w[2];
        part[6] += w[1] * w[1];
        part[7] += w[1] * w[2];
        part[8] += w[2] * w[2];
    }
    for (int k = 0; k < 9; k++)
        sum[k] += part[k];
}

/* The scatter along the axes, from sums of w and of products of w. */
static void settle(solid *f, const double sum[9])
{
    const double n = (double)f->n;

    for (int i = 0, k = 3; i < 3; i++) {
        f->mean[i] = sum[i] / n;
        for (int j = i; j < 3; j++, k++)
            f->a[i][j] = f->a[j][i] = sum[k] - sum[i] / n * sum[j];
    }
    for (int i = 0; i < 3; i++)
        f->a[i][i] = fmax(f->a[i][i], 0);
}

/* One Jacobi rotation of the scatter in the plane of i and j; the rows of
 * `more` follow.  False when there was nothing to turn. */
static bool rotate(solid *f, int i, int j)
{
    const int k = 3 - i - j;
    const double off = f->a[i][j], ii = f->a[i][i], jj = f->a[j][j];

    if (fabs(off) <= DBL_EPSILON / 4 * sqrt(ii) * sqrt(jj))
        return false;
    double zeta = (jj - ii) / (2 * off);
    double t = copysign(1, zeta) / (fabs(zeta) + hypot(1, zeta));
    double c = 1 / sqrt(1 + t * t), s = t * c;
    double ik = f->a[i][k], jk = f->a[j][k];
    f->a[i][i] = fmax(ii - t * off, 0);
    f->a[j][j] = fmax(jj + t * off, 0);
    f->a[i][j] = f->a[j][i] = 0;
    f->a[i][k] = f->a[k][i] = c * ik - s * jk;
    f->a[j][k] = f->a[k][j] = s * ik + c * jk;
    for (int l = 0; l < 3; l++) {
        double vi = f->more[i][l], vj = f->more[j][l];
        f->more[i][l] = c * vi - s * vj;
        f->more[j][l] = s * vi + c * vj;
    }
    return true;
}

static void swap_axes(solid *f, int i, int j)
{
    double t = f->a[i][i];

    f->a[i][i] = f->a[j][j];
    f->a[j][j] = t;
    for (int l = 0; l < 3; l++) {
        t = f->more[i][l];
        f->more[i][l] = f->more[j][l];
        f->more[j][l] = t;
    }
}

/* Eigenvalues on the diagonal of f->a, greatest first; axes in f->more. */
static void principal(solid *f)
{
    bool turned = true;

    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++)
            f->more[i][j] = i == j;
    for (int sweep = 0; turned && sweep < SWEEPS_MAX; sweep++) {
        turned = rotate(f, 0, 1);
        turned = rotate(f, 0, 2) || turned;
        turned = rotate(f, 1, 2) || turned;
    }
    for (int i = 0; i < 2; i++)
        for (int j = 0; j < 2 - i; j++)
            if (f->a[j][j] < f->a[j + 1][j + 1])
                swap_axes(f, j, j + 1);
}

static void normalise(double v[3])
{
    double h = hypot(hypot(v[0], v[1]), v[2]);

    for (int i = 0; i < 3; i++)
        v[i] /= h;
}

/* axis = more * axis, rows made square to one another again.  The last row is
 * kept as it comes, since it is the one that was found most exactly. */
static void turn_axes(const solid *f, double to[3][3])
{
    for (int i = 0; i < 3; i++)
        for (int l = 0; l < 3; l++)
            to[i][l] = f->more[i][0] * f->axis[0][l] +
                       f->more[i][1] * f->axis[1][l] +
                       f->more[i][2] * f->axis[2][l];
    normalise(to[2]);
    double dot = to[0][0] * to[2][0] + to[0][1] * to[2][1] +
                 to[0][2] * to[2][2];
    for (int l = 0; l < 3; l++)
        to[0][l] -= dot * to[2][l];
    normalise(to[0]);
    to[1][0] = to[2][1] * to[0][2] - to[2][2] * to[0][1];
    to[1][1] = to[2][2] * to[0][0] - to[2][0] * to[0][2];
    to[1][2] = to[2][0] * to[0][1] - to[2][1] * to[0][0];
}

static void turn_on(solid *f)
{
    double next[3][3];

    turn_axes(f, next);
    for (int i = 0; i < 9; i++)
        f->axis[i / 3][i % 3] = next[i / 3][i % 3];
}

/* To the mean, then along the axes found. */
static void move_on(solid *f)
{
    const double (*a)[3] = (const double (*)[3])f->axis;
    const double *d = f->mean;

    f->m.x += a[0][0] * d[0] + a[1][0] * d[1] + a[2][0] * d[2];
    f->m.y += a[0][1] * d[0] + a[1][1] * d[1] + a[2][1] * d[2];
    f->m.z += a[0][2] * d[0] + a[1][2] * d[1] + a[2][2] * d[2];
    turn_on(f);
}

static jaw_status solve(solid *f)
{
    for (int pass = 0;; pass++) {
        double sum[9] = {0};
        for (size_t i = 0; i < f->n; i += BLOCK)
            add_scatter(f, i, i + BLOCK < f->n ? i + BLOCK : f->n, sum);
        settle(f, sum);
        principal(f);
        if (pass == PASSES_MAX ||
            hypot(f->more[2][0], f->more[2][1]) <= TURN_TINY)
            break;
        turn_on(f);
    }
    /* one line: no second extent; as thick as wide: no plane is best */
    double wide = sqrt(f->a[1][1]), thick = sqrt(f->a[2][2]);
    return wide - thick > f->noise ? JAW_OK : JAW_ERANK;
}

static double up(const double v[3])
{
    double lead = v[2] != 0 ? v[2] : v[1] != 0 ? v[1] : v[0];

    return lead < 0 ? -1 : 1;
}

static jaw_vec3 row(const double v[3], double sign)
{
    return (jaw_vec3){sign * v[0], sign * v[1], sign * v[2]};
}

/* Returned: the sign that the residuals need to follow the normal. */
static double place(const solid *f, jaw_plane *plane)
{
    const double (*a)[3] = f->axis;
    const double *d = f->mean;
    double final[3][3];

    plane->p.x = f->m.x + (a[0][0] * d[0] + a[1][0] * d[1] + a[2][0] * d[2]);
    plane->p.y = f->m.y + (a[0][1] * d[0] + a[1][1] * d[1] + a[2][1] * d[2]);
    plane->p.z = f->m.z + (a[0][2] * d[0] + a[1][2] * d[1] + a[2][2] * d[2]);
    plane->p.x /= f->unit;
    plane->p.y /= f->unit;
    plane->p.z /= f->unit;
    turn_axes(f, final);
    plane->normal = row(final[2], up(final[2]));
    plane->axis[0] = row(final[0], 1);
    plane->axis[1] = row(final[1], up(final[2]));
    return up(final[2]);
}

static double report(const solid *f, jaw_plane *plane)
{
    const double n = (double)f->n, unit = f->unit, ssr = f->a[2][2];
    const double spread = n > 3 ? sqrt(ssr / (n - 3)) / unit : JAW__NAN;

    *plane = (jaw_plane){.q_offset = 1 / n};
    double sign = place(f, plane);
    for (int i = 0; i < 2; i++) {
        plane->q_tilt[i] = unit * unit / f->a[i][i];
        plane->u_tilt[i] = spread * unit / sqrt(f->a[i][i]);
    }
    plane->u_offset = spread / sqrt(n);
    plane->ssr = ssr / unit / unit;
    plane->rms = n > 3 ? sqrt(ssr / n) / unit : JAW__NAN;
    plane->s = spread;
    plane->dof = jaw__dof(n - 3);
    plane->flags = n > 3 ? 0 : JAW_NO_CHECK;
    if (f->a[0][0] / n > WEAK_COFACTOR * f->a[1][1])
        plane->flags |= JAW_WEAK;
    return sign;
}

static void off_plane(const solid *f, double sign, double resid[])
{
    const double *t = f->more[2];
    double w[3];

    for (size_t i = 0; i < f->n; i++) {
        look(f, &f->p[i], w);
        resid[i] = sign * (t[0] * (w[0] - f->mean[0]) +
                           t[1] * (w[1] - f->mean[1]) +
                           t[2] * (w[2] - f->mean[2]));
    }
}

/* Of what lies off the plane, so much may go away with the turn that is left;
 * as in long.c. */
#define TURN_SHARE 0.5
enum { LONG_PASSES_MAX = 3 };

/* Very many touches, no residuals: a sample says from where and along which
 * axes to look, then one pass is enough.  False says nothing. */
static bool solve_long(solid *f, const jaw_vec3 p[], size_t n,
                       const jaw__passes *passes)
{
    jaw__solids look = {p, JAW__SAMPLE, n / JAW__SAMPLE};

    if (n < JAW__MANY)
        return false;
    *f = (solid){.p = p, .n = JAW__SAMPLE, .unit = 1, .m = *p};
    for (int i = 0; i < 3; i++)
        f->axis[i][i] = 1;
    for (int pass = 0; pass < LONG_PASSES_MAX; pass++) {
        jaw__slabs s = passes->slabs(&look, f->m, (const double (*)[3])f->axis);
        settle(f, s.sum);
        double off = f->a[2][2];
        principal(f);
        if (!(s.size > JAW__SMALLEST && s.size < JAW__LARGEST) ||
            !(f->a[1][1] > JAW__SMALLEST * JAW__SMALLEST) || !(off >= 0))
            return false;
        if (look.n == n && f->a[2][2] >= TURN_SHARE * off) {
            f->noise = jaw__noise(s.size, n);
            return sqrt(f->a[1][1]) - sqrt(f->a[2][2]) > f->noise;
        }
        move_on(f);
        look = (jaw__solids){p, n, 1};
        f->n = n;
    }
    return false;
}

jaw_status jaw_fit_plane(const jaw_vec3 p[], size_t n, jaw_plane *plane,
                         double resid[])
{
    solid f;
    jaw_status status;

    if (!resid && solve_long(&f, p, n, jaw__passes_best())) {
        (void)report(&f, plane);
        return JAW_OK;
    }
    status = n < 3 ? JAW_EFEW : begin(&f, p, n);
    if (status == JAW_OK)
        status = solve(&f);
    if (status != JAW_OK)
        return give_up(status, n, plane, resid);
    double sign = report(&f, plane);
    if (resid)
        off_plane(&f, sign / f.unit, resid);
    return JAW_OK;
}
