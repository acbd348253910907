/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rigid3.c: the turn and shift in space that carry one set of points onto
 * another, weighted, never a mirror image: the orthogonal factor of the sum of
 * w b a^T, a and b about their means, with the sign of its least singular value
 * left free (Umeyama, IEEE PAMI 13 (1991) 376-380).
 *
 * The decomposition is Jacobi's from one side (Hestenes, J. SIAM 6 (1958)
 * 51-90).  Points near one line make a matrix whose small entries say how they
 * are turned about it and drown in the rounding of the large ones; such sets
 * are looked at along their own principal axes, where the matrix is graded and
 * its small singular values come out to full relative accuracy (Demmel &
 * Veselic, SIAM J. Matrix Anal. Appl. 13 (1992) 1204-1245).  One step of
 * Newton's from the residuals then takes away what rounding of the sums left
 * of the turn. */
#include <jawline/fit.h>

#include "weights.h"

typedef double square[3][3];

enum { SWEEPS_MAX = 40, FEW = 16 };

/* Above this share of the greatest singular value rounding of the sums costs
 * the turn three digits at most, which the step at the end gives back. */
#define PLAIN_SHARE 0x1p-10

/* Vectors are square to each other when their product is less than this share
 * of their lengths.  For points well spread a stricter one costs a sweep and
 * changes nothing that the step at the end would not. */
#define PLAIN_SQUARE 0x1p-50
#define FINE_SQUARE (DBL_EPSILON / 4)

typedef struct match {
    const jaw_vec3 *p[2]; /* from, to */
    jaw__weights weights;
    size_t n;
    double unit;          /* of coordinates */
    double noise;         /* of a singular value of either set */
    double total;         /* weight */
    double mean[2][3];    /* weighted, in units, rounded */
    double low[2][3];     /* what rounding took from them */
    bool plain;           /* the axes are those of the coordinates */
    double few[2][FEW][3]; /* the points along the axes, when they are few */
    square axis[2];       /* rows: along which the sets are looked at */
    square own[2];        /* sum of w a a^T, w b b^T along them */
    square common;        /* sum of w b a^T */
    square u, v;          /* rows: its singular vectors, right-handed both */
    double s[3];          /* its singular values; the last one has a sign */
    square turn;          /* from the axes of `from` to those of `to` */
} match;

static jaw_status give_up(jaw_status status, size_t n, jaw_rigid3 *fit,
                          jaw_vec3 resid[])
{
    const jaw_vec3 nowhere = {JAW__NAN, JAW__NAN, JAW__NAN};

    *fit = (jaw_rigid3){
        .origin = nowhere,        .from_mean = nowhere,
        .to_mean = nowhere,       .scale = JAW__NAN,
        .q_shift = JAW__NAN,      .u_shift = JAW__NAN,
        .mirror_ssr = JAW__NAN,   .ssr = JAW__NAN,
        .rms = JAW__NAN,          .s = JAW__NAN};
    for (int k = 0; k < 3; k++)
        jaw__fill_nan(fit->turn[k], 3);
    jaw__fill_nan(fit->q_turn, 6);
    jaw__fill_nan(fit->cov_turn, 6);
    for (size_t i = 0; resid && i < n; i++)
        resid[i] = nowhere;
    return status;
}

/* ---------------------------------------------------------- the two sets */

/* Weighted mean, from differences to the first point and then from itself:
 * rounded, and what is left. */
static void find_mean(match *m, int set)
{
    const jaw_vec3 *p = m->p[set];
    double *at = m->mean[set], *low = m->low[set];

    at[0] = p->x * m->unit;
    at[1] = p->y * m->unit;
    at[2] = p->z * m->unit;
    for (int pass = 0; pass < 2; pass++) {
        double x = 0, y = 0, z = 0;
        for (size_t i = 0; i < m->n; i++) {
            double w = jaw__weight(&m->weights, i);
            x += w * (p[i].x * m->unit - at[0]);
            y += w * (p[i].y * m->unit - at[1]);
            z += w * (p[i].z * m->unit - at[2]);
        }
        low[0] = x / m->total;
        low[1] = y / m->total;
        low[2] = z / m->total;
        for (int k = 0; pass == 0 && k < 3; k++)
            at[k] += low[k];
    }
}

/* Not by one initializer, which would clear what is set later anyway. */
static jaw_status begin(match *m, const jaw_vec3 from[], const jaw_vec3 to[],
                        const double weight[], size_t n)
{
    const double size_a = jaw__size(&from->x, 3 * n);
    const double size_b = jaw__size(&to->x, 3 * n);
    const double size = fmax(size_a, size_b);

    m->p[0] = from;
    m->p[1] = to;
    m->n = n;
    jaw_status status = jaw__weights_take(&m->weights, weight, n);
    if (isnan(size_a) || isnan(size_b))
        return JAW_ENOTFINITE;
    if (status != JAW_OK)
        return status;
    m->unit = jaw__unit(size);
    m->noise = jaw__noise(size * m->unit, n);
    m->total = 0;
    for (size_t i = 0; i < n; i++)
        m->total += jaw__weight(&m->weights, i);
    find_mean(m, 0);
    find_mean(m, 1);
    m->plain = true;
    for (int k = 0; k < 9; k++)
        m->axis[0][k / 3][k % 3] = m->axis[1][k / 3][k % 3] = k % 4 == 0;
    return JAW_OK;
}

static double dot(const double a[3], const double b[3])
{
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

static void cross(const double a[3], const double b[3], double c[3])
{
    c[0] = a[1] * b[2] - a[2] * b[1];
    c[1] = a[2] * b[0] - a[0] * b[2];
    c[2] = a[0] * b[1] - a[1] * b[0];
}

/* b = q a, or its transpose. */
static void turned(const square q, const double a[3], double b[3])
{
    for (int i = 0; i < 3; i++)
        b[i] = dot(q[i], a);
}

static void turned_back(const square q, const double a[3], double b[3])
{
    for (int i = 0; i < 3; i++)
        b[i] = q[0][i] * a[0] + q[1][i] * a[1] + q[2][i] * a[2];
}

/* A point from its set's mean, along the set's axes. */
static void see(const match *m, int set, size_t i, double w[3])
{
    const jaw_vec3 *p = &m->p[set][i];
    const double *mean = m->mean[set], *low = m->low[set];
    const double d[3] = {(p->x * m->unit - mean[0]) - low[0],
                         (p->y * m->unit - mean[1]) - low[1],
                         (p->z * m->unit - mean[2]) - low[2]};

    if (!m->plain) {
        turned((const double (*)[3])m->axis[set], d, w);
        return;
    }
    w[0] = d[0];
    w[1] = d[1];
    w[2] = d[2];
}

/* Few points are seen once for all sums over them. */
static void see_few(match *m)
{
    for (size_t i = 0; m->n <= FEW && i < m->n; i++) {
        see(m, 0, i, m->few[0][i]);
        see(m, 1, i, m->few[1][i]);
    }
}

static const double *look(const match *m, int set, size_t i, double w[3])
{
    if (m->n <= FEW)
        return m->few[set][i];
    see(m, set, i, w);
    return w;
}

static void add_own(square sum, double w, const double a[3])
{
    const double x = w * a[0], y = w * a[1];

    sum[0][0] += x * a[0];
    sum[0][1] += x * a[1];
    sum[0][2] += x * a[2];
    sum[1][1] += y * a[1];
    sum[1][2] += y * a[2];
    sum[2][2] += w * a[2] * a[2];
}

static void add_common(square sum, double w, const double a[3],
                       const double b[3])
{
    const double x = w * a[0], y = w * a[1], z = w * a[2];

    sum[0][0] += x * b[0];
    sum[0][1] += x * b[1];
    sum[0][2] += x * b[2];
    sum[1][0] += y * b[0];
    sum[1][1] += y * b[1];
    sum[1][2] += y * b[2];
    sum[2][0] += z * b[0];
    sum[2][1] += z * b[1];
    sum[2][2] += z * b[2];
}

static void complete(const square half, square whole)
{
    for (int i = 0; i < 3; i++)
        for (int j = i; j < 3; j++)
            whole[i][j] = whole[j][i] = half[i][j];
}

static void add_up(match *m)
{
    square aa = {{0}}, bb = {{0}}, ba = {{0}};
    double wa[3], wb[3];

    see_few(m);
    for (size_t i = 0; i < m->n; i++) {
        const double *a = look(m, 0, i, wa), *b = look(m, 1, i, wb);
        const double w = jaw__weight(&m->weights, i);
        add_own(aa, w, a);
        add_own(bb, w, b);
        add_common(ba, w, b, a);
    }
    complete((const double (*)[3])aa, m->own[0]);
    complete((const double (*)[3])bb, m->own[1]);
    for (int k = 0; k < 9; k++)
        m->common[k / 3][k % 3] = ba[k / 3][k % 3];
}

/* ------------------------------------------------------- Jacobi's rotations */

static void rotate_rows(double c, double s, double a[3], double b[3])
{
    const double x = a[0], y = a[1], z = a[2];

    a[0] = c * x - s * b[0];
    a[1] = c * y - s * b[1];
    a[2] = c * z - s * b[2];
    b[0] = s * x + c * b[0];
    b[1] = s * y + c * b[1];
    b[2] = s * z + c * b[2];
}

/* The rotation that makes `off` vanish between squares aa and bb; false when
 * it is as good as nothing already. */
static bool rotation(double aa, double off, double bb, double share, double *c,
                     double *s)
{
    if (!(fabs(off) > share * sqrt(aa * bb)))
        return false;
    double zeta = (bb - aa) / (2 * off);
    double t = copysign(1, zeta) / (fabs(zeta) + sqrt(1 + zeta * zeta));
    *c = 1 / sqrt(1 + t * t);
    *s = t * *c;
    return t != 0;
}

/* Makes rows i and j of g square to each other; those of v follow. */
static bool part(square g, square v, int i, int j, double share)
{
    double c, s;

    if (!rotation(dot(g[i], g[i]), dot(g[i], g[j]), dot(g[j], g[j]), share, &c,
                  &s))
        return false;
    rotate_rows(c, s, g[i], g[j]);
    rotate_rows(c, s, v[i], v[j]);
    return true;
}

static void swap_rows(double a[3], double b[3])
{
    for (int k = 0; k < 3; k++) {
        double t = a[k];
        a[k] = b[k];
        b[k] = t;
    }
}

/* Rows of g: common times the rows of v, square to each other, longest first.
 */
static void factor(const match *m, square g, square v)
{
    const double share = m->plain ? PLAIN_SQUARE : FINE_SQUARE;
    bool more = true;

    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++) {
            g[i][j] = m->common[j][i];
            v[i][j] = i == j;
        }
    for (int sweep = 0; more && sweep < SWEEPS_MAX; sweep++) {
        more = part(g, v, 0, 1, share);
        more = part(g, v, 0, 2, share) || more;
        more = part(g, v, 1, 2, share) || more;
    }
    for (int i = 0; i < 2; i++)
        for (int j = 0; j < 2 - i; j++)
            if (dot(g[j], g[j]) < dot(g[j + 1], g[j + 1])) {
                swap_rows(g[j], g[j + 1]);
                swap_rows(v[j], v[j + 1]);
            }
}

/* common = sum of s u v^T, u and v right-handed, so that u^T v is a proper
 * rotation; false when there is no second singular value. */
static bool decompose(match *m)
{
    square g;
    double third[3];

    factor(m, g, m->v);
    for (int k = 0; k < 2; k++) {
        m->s[k] = sqrt(dot(g[k], g[k]));
        if (!(m->s[k] > 0))
            return false;
        for (int l = 0; l < 3; l++)
            m->u[k][l] = g[k][l] / m->s[k];
    }
    /* what is not square yet: the turn must be a rotation all the same */
    const double lean = dot(m->u[0], m->u[1]);
    for (int l = 0; l < 3; l++)
        m->u[1][l] -= lean * m->u[0][l];
    cross(m->u[0], m->u[1], m->u[2]);
    cross(m->v[0], m->v[1], third);
    m->s[2] = copysign(1, dot(third, m->v[2])) * dot(m->u[2], g[2]);
    for (int l = 0; l < 3; l++)
        m->v[2][l] = third[l];
    return true;
}

/* Turns the axes of a set to where its own products have no off-diagonal. */
static void turn_axes(match *m, int set)
{
    double (*a)[3] = m->own[set], c, s;
    bool more = true;

    for (int sweep = 0; more && sweep < SWEEPS_MAX; sweep++) {
        more = false;
        for (int k = 0; k < 3; k++) {
            int i = k == 2, j = k == 0 ? 1 : 2;
            if (!rotation(a[i][i], a[i][j], a[j][j], FINE_SQUARE, &c, &s))
                continue;
            rotate_rows(c, s, a[i], a[j]);
            for (int l = 0; l < 3; l++) {
                double li = a[l][i], lj = a[l][j];
                a[l][i] = c * li - s * lj;
                a[l][j] = s * li + c * lj;
            }
            a[i][j] = a[j][i] = 0;
            a[i][i] = fmax(a[i][i], 0);
            a[j][j] = fmax(a[j][j], 0);
            rotate_rows(c, s, m->axis[set][i], m->axis[set][j]);
            more = true;
        }
    }
}

/* --------------------------------------------------------------- the turn */

/* How far a set reaches from its own line along d, root mean square: from the
 * sum of (a x d)^2 by components, each of which is small when the whole is. */
static double reach_off(const match *m, int set, const double d[3])
{
    const double (*a)[3] = m->own[set];
    double sum = 0;

    for (int i = 0; i < 3; i++) {
        const int j = (i + 1) % 3;
        sum += a[i][i] * d[j] * d[j] + a[j][j] * d[i] * d[i] -
               2 * a[i][j] * d[i] * d[j];
    }
    return sqrt(fmax(sum, 0) / m->total);
}

/* A set on one line (or in one place) leaves the turn about it open, and so
 * does whatever makes two turns as good: the least of what a turn about some
 * axis would cost is then no more than rounding of the points makes of it. */
static bool undetermined(const match *m)
{
    const double a = reach_off(m, 0, m->v[0]), b = reach_off(m, 1, m->u[0]);

    return a <= m->noise || b <= m->noise ||
           (m->s[1] + m->s[2]) / m->total <= m->noise * (a + b);
}

/* to = turn from, the last direction mirrored when sign is -1. */
static void set_turn(match *m, double sign)
{
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++)
            m->turn[i][j] = m->u[0][i] * m->v[0][j] + m->u[1][i] * m->v[1][j] +
                            sign * m->u[2][i] * m->v[2][j];
}

/* What the turn leaves; g: the sum that a further small turn would take away,
 * as a vector, in the axes of `to`. */
static double leave(const match *m, double g[3])
{
    double ssr = 0, x = 0, y = 0, z = 0, wa[3], wb[3], p[3];

    for (size_t i = 0; i < m->n; i++) {
        const double *a = look(m, 0, i, wa), *b = look(m, 1, i, wb);
        const double w = jaw__weight(&m->weights, i);
        turned((const double (*)[3])m->turn, a, p);
        const double dx = b[0] - p[0], dy = b[1] - p[1], dz = b[2] - p[2];
        ssr += w * (dx * dx + dy * dy + dz * dz);
        x += w * (p[1] * dz - p[2] * dy);
        y += w * (p[2] * dx - p[0] * dz);
        z += w * (p[0] * dy - p[1] * dx);
    }
    g[0] = x;
    g[1] = y;
    g[2] = z;
    return ssr;
}

static void multiply(const square a, const square b, square c)
{
    for (int i = 0; i < 3; i++)
        turned_back(b, a[i], c[i]);
}

/* turn = (small turn by w) turn, by way of the quaternion (1, w / 2). */
static void turn_more(match *m, const double w[3])
{
    const double x = w[0] / 2, y = w[1] / 2, z = w[2] / 2;
    const double k = 2 / (1 + x * x + y * y + z * z);
    const square small = {
        {1 - k * (y * y + z * z), k * (x * y - z), k * (x * z + y)},
        {k * (x * y + z), 1 - k * (x * x + z * z), k * (y * z - x)},
        {k * (x * z - y), k * (y * z + x), 1 - k * (x * x + y * y)}};
    square old;

    for (int i = 0; i < 9; i++)
        old[i / 3][i % 3] = m->turn[i / 3][i % 3];
    multiply(small, (const double (*)[3])old, m->turn);
}

/* Newton's step: about u[k] the sum of squares curves by the sum of the two
 * other singular values; where it does not, there is nothing to gain.
 * Returned: what the turn leaves after it. */
static double settle(match *m, double sign)
{
    const double third = sign * m->s[2], least = DBL_EPSILON * m->s[0];
    const double curve[3] = {m->s[1] + third, m->s[0] + third,
                             m->s[0] + m->s[1]};
    double g[3], step[3], along[3];

    set_turn(m, sign);
    const double ssr = leave(m, g);
    turned((const double (*)[3])m->u, g, along);
    for (int k = 0; k < 3; k++)
        along[k] = curve[k] > least || sign > 0 ? along[k] / curve[k] : 0;
    turned_back((const double (*)[3])m->u, along, step);
    turn_more(m, step);
    return fmax(ssr - dot(g, step), 0);
}

static jaw_status solve(match *m, jaw_rigid3 *fit)
{
    add_up(m);
    bool found = decompose(m);
    if (!found || m->s[1] + m->s[2] < PLAIN_SHARE * m->s[0]) {
        m->plain = false;
        for (int pass = 0; pass < 2; pass++) {
            turn_axes(m, 0);
            turn_axes(m, 1);
            add_up(m);
        }
        found = decompose(m);
    }
    if (!found || undetermined(m))
        return JAW_ERANK;
    fit->mirror_ssr = settle(m, -1);
    fit->ssr = settle(m, 1);
    return JAW_OK;
}

/* -------------------------------------------------------------- the report */

/* The inverse of what resists a small turn, sum of w (a.a - a a^T), along the
 * axes of `from`: either these are the principal ones, or the set is as wide
 * as it is long, and no difference in it is of like numbers. */
static void invert_inertia(const match *m, square q)
{
    const double (*a)[3] = m->own[0];
    const double x = a[1][1] + a[2][2], y = a[0][0] + a[2][2];
    const double z = a[0][0] + a[1][1];
    const double xy = -a[0][1], xz = -a[0][2], yz = -a[1][2];

    q[0][0] = y * z - yz * yz;
    q[1][1] = x * z - xz * xz;
    q[2][2] = x * y - xy * xy;
    q[0][1] = q[1][0] = xz * yz - xy * z;
    q[0][2] = q[2][0] = xy * yz - xz * y;
    q[1][2] = q[2][1] = xy * xz - yz * x;
    double det = x * q[0][0] + xy * q[0][1] + xz * q[0][2];
    for (int k = 0; k < 9; k++)
        q[k / 3][k % 3] /= det;
}

/* to = whole from, in the coordinates' own axes; and one step towards the
 * nearest rotation, which rounding of the products has left a little. */
static void whole_turn(const match *m, square half, square whole)
{
    square r;

    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++)
            half[i][j] = m->plain ? m->turn[i][j]
                                  : m->axis[1][0][i] * m->turn[0][j] +
                                        m->axis[1][1][i] * m->turn[1][j] +
                                        m->axis[1][2][i] * m->turn[2][j];
    multiply((const double (*)[3])half, (const double (*)[3])m->axis[0], r);
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++) {
            double off[3];
            for (int k = 0; k < 3; k++)
                off[k] = dot(r[i], r[k]) - (i == k);
            whole[i][j] = r[i][j] - (off[0] * r[0][j] + off[1] * r[1][j] +
                                     off[2] * r[2][j]) / 2;
        }
}

static jaw_vec3 mean_of(const match *m, int set)
{
    const double *c = m->mean[set];

    return (jaw_vec3){c[0] / m->unit, c[1] / m->unit, c[2] / m->unit};
}

static void place(const match *m, jaw_rigid3 *fit, square q)
{
    square half, inverse, image;
    double moved[3];

    whole_turn(m, half, fit->turn);
    turned((const double (*)[3])fit->turn, m->mean[0], moved);
    fit->origin.x = (m->mean[1][0] - moved[0]) / m->unit;
    fit->origin.y = (m->mean[1][1] - moved[1]) / m->unit;
    fit->origin.z = (m->mean[1][2] - moved[2]) / m->unit;
    fit->from_mean = mean_of(m, 0);
    fit->to_mean = mean_of(m, 1);
    invert_inertia(m, inverse);
    multiply((const double (*)[3])half, (const double (*)[3])inverse, image);
    for (int i = 0; i < 3; i++)
        turned((const double (*)[3])half, image[i], q[i]);
}

static void report(const match *m, jaw_rigid3 *fit)
{
    static const int row[] = {0, 0, 0, 1, 1, 2}, column[] = {0, 1, 2, 1, 2, 2};
    const double dof = 3 * (double)m->n - 6, unit = m->unit;
    const double wu = m->weights.unit, root = sqrt(fit->ssr);
    const double variance = fit->ssr / dof;
    const double aa = m->own[0][0][0] + m->own[0][1][1] + m->own[0][2][2];
    square q;

    place(m, fit, q);
    for (int k = 0; k < 6; k++) {
        double v = (q[row[k]][column[k]] + q[column[k]][row[k]]) / 2;
        fit->q_turn[k] = v * unit * unit * wu;
        fit->cov_turn[k] = v * variance;
    }
    fit->scale = (m->s[0] + m->s[1] + m->s[2]) / aa;
    fit->q_shift = wu / m->total;
    fit->rms = root / sqrt(m->total) / unit;
    fit->u_shift = sqrt(variance / m->total) / unit;
    fit->s = sqrt(variance) / unit / sqrt(wu);
    fit->ssr = fit->ssr / unit / unit / wu;
    fit->mirror_ssr = fit->mirror_ssr / unit / unit / wu;
    fit->dof = jaw__dof(dof);
    fit->flags = 0;
}

static void leave_each(match *m, const jaw_rigid3 *fit, jaw_vec3 resid[])
{
    const double back = 1 / m->unit; /* a power of two */
    double a[3], b[3], p[3];

    m->plain = true;
    for (size_t i = 0; i < m->n; i++) {
        see(m, 0, i, a);
        see(m, 1, i, b);
        turned(fit->turn, a, p);
        resid[i].x = (b[0] - p[0]) * back;
        resid[i].y = (b[1] - p[1]) * back;
        resid[i].z = (b[2] - p[2]) * back;
    }
}

jaw_status jaw_fit_rigid3(const jaw_vec3 from[], const jaw_vec3 to[],
                          const double weight[], size_t n, jaw_rigid3 *fit,
                          jaw_vec3 resid[])
{
    match m;
    jaw_status status = n < 3 ? JAW_EFEW : begin(&m, from, to, weight, n);

    if (status == JAW_OK)
        status = solve(&m, fit);
    if (status != JAW_OK)
        return give_up(status, n, fit, resid);
    report(&m, fit);
    if (resid)
        leave_each(&m, fit, resid);
    return JAW_OK;
}
