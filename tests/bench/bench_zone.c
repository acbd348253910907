/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench_zone.c: zones of very many touches, and rigid fits of eight points
 * against the way by GSL's singular value decomposition, covariance included.
 *
 * Rigid, in the plane and in space: means, the sum of w b a^T, its SVD by
 * gsl_linalg_SV_decomp_jacobi (as fast as gsl_linalg_SV_decomp here, and more
 * exact), the proper rotation (Umeyama 1991), residuals, and the inverse of the
 * inertia for the cofactors; workspace made beforehand.
 *
 * Zones of 100000 touches: a circle with noise of a ten-thousandth of its
 * radius; one whose touches lie off it by rounding alone, so that all of them
 * are near both borders; a quarter of one; a square full of touches, which is
 * no ring at all; and the like for planes. */
#include <jawline/fit.h>

#include "bench.h"

#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { POINTS = 8, SETS = 256, ROUNDS = 200, MANY = 100000 };

/* ------------------------------------------------------------- eight points */

static jaw_vec3 from[SETS][POINTS], to[SETS][POINTS];
static jaw_vec2 from2[SETS][POINTS], to2[SETS][POINTS];

static void make_sets(void)
{
    for (int k = 0; k < SETS; k++) {
        const double t = even(-3, 3), c = cos(t), s = sin(t);
        for (int i = 0; i < POINTS; i++) {
            const jaw_vec3 a = {even(-40, 40), even(-40, 40), even(-20, 20)};
            from[k][i] = a;
            to[k][i] = (jaw_vec3){80 + c * a.x - s * a.y + even(-1e-3, 1e-3),
                                  -3 + s * a.x + c * a.y + even(-1e-3, 1e-3),
                                  a.z + 5 + even(-1e-3, 1e-3)};
            from2[k][i] = (jaw_vec2){a.x, a.y};
            to2[k][i] = (jaw_vec2){to[k][i].x, to[k][i].y};
        }
    }
}

static double ours3(void)
{
    jaw_rigid3 r;
    jaw_vec3 resid[POINTS];
    double sum = 0;

    for (int k = 0; k < SETS; k++) {
        if (jaw_fit_rigid3(from[k], to[k], NULL, POINTS, &r, resid) != JAW_OK)
            exit(EXIT_FAILURE);
        sum += r.turn[0][0] + r.cov_turn[0] + resid[0].x;
    }
    return sum;
}

static double ours2(void)
{
    jaw_rigid r;
    jaw_vec2 resid[POINTS];
    double sum = 0;

    for (int k = 0; k < SETS; k++) {
        if (jaw_fit_rigid(from2[k], to2[k], NULL, POINTS, &r, resid) != JAW_OK)
            exit(EXIT_FAILURE);
        sum += r.frame.turn + r.u_turn + resid[0].x;
    }
    return sum;
}

static gsl_matrix *u, *v, *whole, *inertia, *inverse;
static gsl_vector *s;
static gsl_permutation *order;

static void gsl_make(size_t size)
{
    u = gsl_matrix_alloc(size, size);
    v = gsl_matrix_alloc(size, size);
    whole = gsl_matrix_alloc(size, size);
    inertia = gsl_matrix_alloc(size, size);
    inverse = gsl_matrix_alloc(size, size);
    s = gsl_vector_alloc(size);
    order = gsl_permutation_alloc(size);
}

static void gsl_done(void)
{
    gsl_matrix_free(u);
    gsl_matrix_free(v);
    gsl_matrix_free(whole);
    gsl_matrix_free(inertia);
    gsl_matrix_free(inverse);
    gsl_vector_free(s);
    gsl_permutation_free(order);
}

static double sign_of(const gsl_matrix *m)
{
    const double *a = m->data;

    if (m->size1 == 2)
        return a[0] * a[3] - a[1] * a[2];
    return a[0] * (a[4] * a[8] - a[5] * a[7]) -
           a[1] * (a[3] * a[8] - a[5] * a[6]) +
           a[2] * (a[3] * a[7] - a[4] * a[6]);
}

/* Points as rows of `size` numbers.  Returned: something of everything. */
static double gsl_fit(const double *a, const double *b, size_t size)
{
    double ma[3] = {0}, mb[3] = {0}, d[POINTS][3], ssr = 0, aa[3][3] = {{0}};

    for (size_t i = 0; i < POINTS; i++)
        for (size_t k = 0; k < size; k++) {
            ma[k] += a[i * size + k] / POINTS;
            mb[k] += b[i * size + k] / POINTS;
        }
    gsl_matrix_set_zero(u);
    for (size_t i = 0; i < POINTS; i++)
        for (size_t k = 0; k < size; k++)
            for (size_t l = 0; l < size; l++) {
                const double al = a[i * size + l] - ma[l];
                u->data[k * size + l] += (b[i * size + k] - mb[k]) * al;
                aa[k][l] += (a[i * size + k] - ma[k]) * al;
            }
    gsl_linalg_SV_decomp_jacobi(u, v, s);
    const double last = sign_of(u) * sign_of(v) < 0 ? -1 : 1;
    for (size_t k = 0; k < size; k++)
        for (size_t l = 0; l < size; l++) {
            double sum = 0;
            for (size_t j = 0; j < size; j++)
                sum += u->data[k * size + j] * v->data[l * size + j] *
                       (j == size - 1 ? last : 1);
            whole->data[k * size + l] = sum;
        }
    for (size_t i = 0; i < POINTS; i++)
        for (size_t k = 0; k < size; k++) {
            d[i][k] = b[i * size + k] - mb[k];
            const double *row = &whole->data[k * size];
            for (size_t l = 0; l < size; l++)
                d[i][k] -= row[l] * (a[i * size + l] - ma[l]);
            ssr += d[i][k] * d[i][k];
        }
    if (size == 2)
        return whole->data[0] + ssr / 13 / (aa[0][0] + aa[1][1]) + d[0][0] +
               atan2(whole->data[2], whole->data[0]);
    int sign;
    for (size_t k = 0; k < 3; k++)
        for (size_t l = 0; l < 3; l++)
            inertia->data[3 * k + l] =
                (k == l ? aa[0][0] + aa[1][1] + aa[2][2] : 0) - aa[k][l];
    gsl_linalg_LU_decomp(inertia, order, &sign);
    gsl_linalg_LU_invert(inertia, order, inverse);
    double q[9] = {0};
    for (size_t k = 0; k < 9; k++)
        for (size_t l = 0; l < 9; l++)
            q[k] += whole->data[k / 3 * 3 + l / 3] * inverse->data[l] *
                    whole->data[k % 3 * 3 + l % 3];
    return whole->data[0] + ssr / 18 * q[0] + d[0][0];
}

static double gsl3(void)
{
    double sum = 0;

    for (int k = 0; k < SETS; k++)
        sum += gsl_fit(&from[k][0].x, &to[k][0].x, 3);
    return sum;
}

static double gsl2(void)
{
    double sum = 0;

    for (int k = 0; k < SETS; k++)
        sum += gsl_fit(&from2[k][0].x, &to2[k][0].x, 2);
    return sum;
}

/* Best time of one fit out of many rounds, in microseconds. */
static void clocked(double (*work)(void), double *best)
{
    double t = now();

    sink = work();
    t = (now() - t) / SETS * 1e6;
    *best = fmin(*best, t);
}

static bool eight_points(const char *what, double (*mine)(void),
                         double (*theirs)(void), size_t size)
{
    double ours = HUGE_VAL, gsl = HUGE_VAL;

    gsl_make(size);
    for (int i = 0; i < ROUNDS; i++) {
        clocked(mine, &ours);
        clocked(theirs, &gsl);
    }
    gsl_done();
    printf("%s, 8 points %8.3f us; GSL's SVD %8.3f us  %6.1f times\n", what,
           ours, gsl, gsl / ours);
    return ours <= gsl;
}

/* ------------------------------------------------------------- many touches */

static jaw_vec3 solid[MANY];
static jaw_vec2 flat[MANY];

static void make_flat(int kind)
{
    for (int i = 0; i < MANY; i++) {
        const double turn = even(0, kind == 2 ? acos(0.0) : 4 * acos(0.0));
        const double r = 10 + (kind == 1 ? 0 : even(-1e-3, 1e-3));
        flat[i] = kind == 3 ? (jaw_vec2){even(-9, 9), even(-9, 9)}
                            : (jaw_vec2){123.4 + r * cos(turn),
                                         -45.6 + r * sin(turn)};
    }
}

static void make_solid(int kind)
{
    for (int i = 0; i < MANY; i++) {
        const double x = even(-1, 1), y = even(-1, 1), z = even(-1, 1);
        const double h = sqrt(x * x + y * y + z * z);
        if (kind == 0) /* a face, in machine coordinates */
            solid[i] = (jaw_vec3){300 + 75 * x, 40 * y - 80,
                                  0.75 * x - 0.8 * y + 1e-3 * z};
        else if (kind == 1) /* the same on a grid, read to a thousandth */
            solid[i] = (jaw_vec3){0.5 * (i % 400), 0.25 * (i / 400),
                                  1e-3 * floor(5 * z)};
        else /* all of them corners */
            solid[i] = (jaw_vec3){9 * x / h, 9 * y / h, 9 * z / h};
    }
}

static bool measured(const char *what, const char *of, jaw_status status,
                     double seconds, const jaw_zone *z, double most)
{
    printf("%-7s 100000 touches, %-14s %8.1f ms  width %.9f\n", what, of,
           seconds * 1e3, z->width);
    return status == JAW_OK && seconds <= most;
}

static bool many_touches(void)
{
    static const char *const of[] = {"noisy circle", "exact circle",
                                     "quarter", "full square"};
    static const char *const is[] = {"noisy face", "grid", "ball"};
    typedef jaw_status (*zone_of)(const jaw_vec2 p[], size_t n, jaw_zone *z);
    static const zone_of kind[] = {jaw_zone_circle, jaw_zone_around,
                                   jaw_zone_within, jaw_zone_line};
    static const char *const name[] = {"circle", "around", "within", "line"};
    bool good = true;
    jaw_zone z;

    for (int set = 0; set < 4; set++) {
        make_flat(set);
        for (int k = 0; k < 4; k++) {
            double t = now();
            jaw_status status = kind[k](flat, MANY, &z);
            good = measured(name[k], of[set], status, now() - t, &z,
                            k == 0 ? 1 : 5) && good;
        }
    }
    for (int set = 0; set < 3; set++) {
        make_solid(set);
        double t = now();
        jaw_status status = jaw_zone_plane(solid, MANY, &z);
        good = measured("plane", is[set], status, now() - t, &z, 5) && good;
    }
    return good;
}

int main(void)
{
    bool good;

    make_sets();
    good = eight_points("rigid ", ours2, gsl2, 2);
    good = eight_points("rigid3", ours3, gsl3, 3) && good;
    good = many_touches() && good;
    printf("%s\n", good ? "rigid fits at least as fast as by GSL's SVD; a ring "
                          "within a second, other zones within five"
                        : "SLOWER THAN PROMISED");
    return good ? EXIT_SUCCESS : EXIT_FAILURE;
}
