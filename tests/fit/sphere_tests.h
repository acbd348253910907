/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sphere_tests.h: what the tests of spheres and cylinders share. */
#ifndef SPHERE_TESTS_H
#define SPHERE_TESTS_H

#include "fit_tests.h"

/* A rotation, and where it is carried to. */
typedef struct pose {
    double turn[3][3];
    jaw_vec3 to;
} pose;

/* Touches of columns x, y, z. */
static inline size_t data_solids(const data *d, jaw_vec3 p[])
{
    size_t x = data_column(d, "x"), y = data_column(d, "y");
    size_t z = data_column(d, "z");
    for (size_t i = 0; i < d->rows; i++)
        p[i] = (jaw_vec3){d->cell[i][x], d->cell[i][y], d->cell[i][z]};
    return d->rows;
}

static inline double solid_size(const jaw_vec3 p[], size_t n)
{
    double size = 0;
    for (size_t i = 0; i < n; i++)
        size = fmax(fmax(size, fabs(p[i].x)), fmax(fabs(p[i].y), fabs(p[i].z)));
    return size;
}

static inline double solid_extent(const jaw_vec3 p[], size_t n)
{
    double m[3] = {0, 0, 0}, far = 0;
    for (size_t i = 0; i < n; i++) {
        m[0] += (p[i].x - p[0].x) / (double)n;
        m[1] += (p[i].y - p[0].y) / (double)n;
        m[2] += (p[i].z - p[0].z) / (double)n;
    }
    for (size_t i = 0; i < n; i++)
        far = fmax(far, hypot(hypot(p[i].x - p[0].x - m[0],
                                    p[i].y - p[0].y - m[1]),
                              p[i].z - p[0].z - m[2]));
    return far;
}

static inline double solid_moved(const jaw_vec3 p[], size_t n, double factor)
{
    return EPS * (solid_size(p, n) + factor * solid_extent(p, n));
}

/* The same when the touches were turned, moved and enlarged on the way. */
static inline double solid_carried(const jaw_vec3 p[], size_t n)
{
    return EPS * (4 * solid_size(p, n) + 2 * FACTOR * solid_extent(p, n));
}

/* Row i made square to those before it, and of unit length. */
static inline void square_row(double turn[3][3], int i)
{
    double h = 0;
    for (int j = 0; j < i; j++) {
        double dot = 0;
        for (int k = 0; k < 3; k++)
            dot += turn[i][k] * turn[j][k];
        for (int k = 0; k < 3; k++)
            turn[i][k] -= dot * turn[j][k];
    }
    for (int k = 0; k < 3; k++)
        h += turn[i][k] * turn[i][k];
    for (int k = 0; k < 3; k++)
        turn[i][k] /= sqrt(h);
}

/* Any rotation, by Gram & Schmidt twice from normal numbers. */
static inline pose random_pose(double far)
{
    pose f;
    for (int i = 0; i < 9; i++)
        f.turn[i / 3][i % 3] = random_normal();
    for (int i = 0; i < 6; i++)
        square_row(f.turn, i / 2);
    f.to = (jaw_vec3){random_even(-far, far), random_even(-far, far),
                      random_even(-far, far)};
    return f;
}

static inline jaw_vec3 turned(const pose *f, jaw_vec3 p)
{
    return (jaw_vec3){
        f->turn[0][0] * p.x + f->turn[1][0] * p.y + f->turn[2][0] * p.z,
        f->turn[0][1] * p.x + f->turn[1][1] * p.y + f->turn[2][1] * p.z,
        f->turn[0][2] * p.x + f->turn[1][2] * p.y + f->turn[2][2] * p.z};
}

static inline jaw_vec3 carried(const pose *f, jaw_vec3 p)
{
    jaw_vec3 q = turned(f, p);
    return (jaw_vec3){f->to.x + q.x, f->to.y + q.y, f->to.z + q.z};
}

static inline double dot3(jaw_vec3 a, jaw_vec3 b)
{
    return a.x * b.x + a.y * b.y + a.z * b.z;
}

static inline jaw_vec3 less3(jaw_vec3 a, jaw_vec3 b)
{
    return (jaw_vec3){a.x - b.x, a.y - b.y, a.z - b.z};
}

/* Solves m x = x for n unknowns (long double, rows exchanged); false when a
 * pivot is 0. */
typedef long double real;

static inline bool eliminate(int n, real m[5][5], real x[5])
{
    for (int i = 0; i < n; i++) {
        int top = i;
        for (int k = i + 1; k < n; k++)
            top = fabsl(m[k][i]) > fabsl(m[top][i]) ? k : top;
        if (m[top][i] == 0)
            return false;
        for (int l = 0; l < n; l++) {
            real t = m[i][l];
            m[i][l] = m[top][l];
            m[top][l] = t;
        }
        real t = x[i];
        x[i] = x[top];
        x[top] = t;
        for (int k = i + 1; k < n; k++) {
            real share = m[k][i] / m[i][i];
            for (int l = i; l < n; l++)
                m[k][l] -= share * m[i][l];
            x[k] -= share * x[i];
        }
    }
    for (int i = n - 1; i >= 0; i--) {
        for (int l = i + 1; l < n; l++)
            x[i] -= m[i][l] * x[l];
        x[i] /= m[i][i];
    }
    return true;
}

static inline bool no_reals(const char *what)
{
    if (LDBL_MANT_DIG >= 64)
        return false;
    printf("left out: %s against long double (it is a double here)\n", what);
    return true;
}

#endif
