/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sweep.c: mean, cosine and sine of readings at known angles, by orthogonal
 * factorisation, one reading after the other (Givens' rotations: Gentleman, J.
 * Inst. Maths Applics 12 (1973) 329-336; Golub & Van Loan, Matrix
 * Computations, 5.2.5).
 *
 * Over a short arc 1, cosine and sine are nearly dependent and the last digits
 * of the cosine are all that tells them apart.  So angles are counted from the
 * middle of the arc, and 1 - cosine stands for the cosine: what is small is
 * then known to its own last digit, and the columns are graded, which
 * orthogonal factorisation does not mind. */
#include <jawline/fit.h>

#include "bend.h"
#include "exact.h"

typedef struct sweep {
    const double *angle, *reading;
    size_t n;
    double unit;  /* readings are multiplied by this */
    double base;  /* a reading, in units: the others are seen from it */
    double middle; /* angles are seen from it */
    double r[3][3]; /* upper triangle of the factorisation */
    double z[3];    /* right-hand side */
    double x[3];    /* solution: of 1, sine, versine */
    double ssr;     /* in units */
} sweep;

static jaw_status give_up(jaw_status status, size_t n, jaw_sweep *fit,
                          double resid[])
{
    *fit = (jaw_sweep){
        .mean = JAW__NAN,      .along = JAW__NAN, .across = JAW__NAN,
        .amplitude = JAW__NAN, .phase = JAW__NAN, .ssr = JAW__NAN,
        .rms = JAW__NAN,       .s = JAW__NAN};
    jaw__fill_nan(fit->cov, 6);
    jaw__fill_nan(fit->q, 6);
    jaw__fill_nan(resid, n);
    return status;
}

/* Sine and versine (1 - cosine) of a - b, as if the difference were not
 * rounded: sin(d + e) = sin d + e cos d. */
static void seen_from(double a, double b, double *sine, double *versine)
{
    double rest, d = jaw__differ(a, b, &rest);
    double half = sin(d / 2) + rest / 2 * cos(d / 2);

    *sine = sin(d) + rest * cos(d);
    *versine = 2 * half * half;
}

/* How far apart two angles are on the circle of radius 1, straight across. */
static double apart(double a, double b)
{
    double sine, versine;

    seen_from(a, b, &sine, &versine);
    return sqrt(2 * versine);
}

/* Three different angles are three places on a circle, and never on one line:
 * all that can be missing for a solution is one of them. */
static bool has_three(const double angle[], size_t n, double noise)
{
    size_t far = 0;
    double most = 0;

    for (size_t i = 1; i < n; i++) {
        double d = apart(angle[i], angle[0]);
        if (d > most) {
            most = d;
            far = i;
        }
    }
    if (!(most > noise))
        return false;
    for (size_t i = 1; i < n; i++)
        if (apart(angle[i], angle[0]) > noise &&
            apart(angle[i], angle[far]) > noise)
            return true;
    return false;
}

/* The middle of an arc; of angles all round, or in two opposite places, one
 * that the most lie near to or opposite of. */
static double middle_of(const double angle[], size_t n)
{
    double c = 0, s = 0, side = 0, sine, versine;

    for (size_t i = 0; i < n; i++) {
        seen_from(angle[i], angle[0], &sine, &versine);
        c += 1 - 2 * sine * sine;
        s += 2 * sine * (1 - versine);
    }
    double middle = angle[0] + atan2(s, c) / 2;
    for (size_t i = 0; i < n; i++) {
        seen_from(angle[i], middle, &sine, &versine);
        side += 1 - versine;
    }
    return side < 0 ? middle + acos(-1.0) : middle;
}

static jaw_status begin(sweep *m)
{
    const double far = jaw__size(m->angle, m->n);
    const double size = jaw__size(m->reading, m->n);

    if (isnan(far) || isnan(size))
        return JAW_ENOTFINITE;
    if (!has_three(m->angle, m->n, jaw__noise(fmax(far, 1), m->n)))
        return JAW_ERANK;
    m->unit = jaw__unit(size);
    m->base = m->reading[0] * m->unit;
    m->middle = middle_of(m->angle, m->n);
    return JAW_OK;
}

static void row_of(const sweep *m, size_t i, double row[3])
{
    row[0] = 1;
    seen_from(m->angle[i], m->middle, &row[1], &row[2]);
}

/* Takes a row and its right-hand side into the triangle. */
static void take(sweep *m, double row[3], double y)
{
    for (int k = 0; k < 3; k++) {
        if (row[k] == 0)
            continue;
        double h = sqrt(m->r[k][k] * m->r[k][k] + row[k] * row[k]);
        double c = m->r[k][k] / h, s = row[k] / h, z = m->z[k];
        for (int l = k; l < 3; l++) {
            double old = m->r[k][l];
            m->r[k][l] = c * old + s * row[l];
            row[l] = c * row[l] - s * old;
        }
        m->z[k] = c * z + s * y;
        y = c * y - s * z;
    }
}

/* Adds to the solution what the triangle says. */
static void solve_back(sweep *m)
{
    double x[3];

    for (int k = 2; k >= 0; k--) {
        x[k] = m->z[k];
        for (int l = k + 1; l < 3; l++)
            x[k] -= m->r[k][l] * x[l];
        x[k] /= m->r[k][k];
        m->x[k] += x[k];
    }
}

static double left_of(const sweep *m, const double row[3], size_t i)
{
    return (m->reading[i] * m->unit - m->base) -
           (m->x[0] + m->x[1] * row[1] + m->x[2] * row[2]);
}

/* Twice: what the first solution leaves, taken as readings, gives back what
 * rounding took from it (Golub & Van Loan, 5.3.8). */
static void solve(sweep *m)
{
    double row[3];

    for (int pass = 0; pass < 2; pass++) {
        for (int k = 0; k < 9; k++)
            m->r[k / 3][k % 3] = 0;
        m->z[0] = m->z[1] = m->z[2] = 0;
        for (size_t i = 0; i < m->n; i++) {
            row_of(m, i, row);
            take(m, row, left_of(m, row, i));
        }
        solve_back(m);
    }
    for (size_t i = 0; i < m->n; i++) {
        row_of(m, i, row);
        double left = left_of(m, row, i);
        m->ssr += left * left;
    }
}

/* From 1, sine and versine about the middle to 1, cosine and sine: the rows of
 * the matrix that does it. */
static void way_back(const sweep *m, double to[3][3])
{
    const double c = cos(m->middle), s = sin(m->middle);
    const double way[3][3] = {{1, 0, 1}, {0, -s, -c}, {0, c, -s}};

    for (int k = 0; k < 9; k++)
        to[k / 3][k % 3] = way[k / 3][k % 3];
}

/* Rows of to, each times the inverse of the triangle: products of these are
 * the cofactors. */
static void divide(const sweep *m, double to[3][3])
{
    for (int i = 0; i < 3; i++)
        for (int k = 0; k < 3; k++) {
            for (int l = 0; l < k; l++)
                to[i][k] -= to[i][l] * m->r[l][k];
            to[i][k] /= m->r[k][k];
        }
}

static void report(const sweep *m, jaw_sweep *fit)
{
    const double n = (double)m->n, unit = m->unit;
    const double variance = n > 3 ? m->ssr / (n - 3) : JAW__NAN;
    double to[3][3], at[3];

    way_back(m, to);
    for (int i = 0; i < 3; i++)
        at[i] = to[i][0] * m->x[0] + to[i][1] * m->x[1] + to[i][2] * m->x[2];
    fit->mean = (m->base + at[0]) / unit;
    fit->along = at[1] / unit;
    fit->across = at[2] / unit;
    fit->amplitude = hypot(at[1], at[2]) / unit;
    fit->phase = jaw_angle_full(atan2(at[2], at[1]));
    divide(m, to);
    for (int i = 0, k = 0; i < 3; i++)
        for (int j = i; j < 3; j++, k++) {
            fit->q[k] = to[i][0] * to[j][0] + to[i][1] * to[j][1] +
                        to[i][2] * to[j][2];
            fit->cov[k] = fit->q[k] * variance / unit / unit;
        }
    fit->ssr = m->ssr / unit / unit;
    fit->rms = n > 3 ? sqrt(m->ssr / n) / unit : JAW__NAN;
    fit->s = sqrt(variance) / unit;
    fit->dof = jaw__dof(n - 3);
    /* along, across and mean take the places of a circle's x, y and radius */
    const double q[6] = {fit->q[3], fit->q[4], fit->q[1],
                         fit->q[5], fit->q[2], fit->q[0]};
    fit->flags = (n > 3 ? 0u : JAW_NO_CHECK) | (jaw__weak(q) ? JAW_WEAK : 0u);
}

jaw_status jaw_fit_sweep(const double angle[], const double reading[], size_t n,
                         jaw_sweep *fit, double resid[])
{
    sweep m = {.angle = angle, .reading = reading, .n = n};
    jaw_status status = n < 3 ? JAW_EFEW : begin(&m);
    double row[3];

    if (status != JAW_OK)
        return give_up(status, n, fit, resid);
    solve(&m);
    report(&m, fit);
    for (size_t i = 0; resid && i < n; i++) {
        row_of(&m, i, row);
        resid[i] = left_of(&m, row, i) / m.unit;
    }
    return JAW_OK;
}
