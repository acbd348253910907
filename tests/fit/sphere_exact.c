/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sphere against long double: accuracy as fit.h promises it, cofactors against
 * a numerically inverted J^T J, and uncertainties that hold what they say. */
#include "sphere_tests.h"

typedef struct answer {
    real c[3], r, ssr;
} answer;

/* From the centre to a touch: its length, and its direction u. */
static real ray(const answer *a, const jaw_vec3 *p, real u[3])
{
    u[0] = p->x - a->c[0];
    u[1] = p->y - a->c[1];
    u[2] = p->z - a->c[2];
    real d = sqrtl(u[0] * u[0] + u[1] * u[1] + u[2] * u[2]);
    for (int i = 0; i < 3; i++)
        u[i] /= d;
    return d;
}

/* One of Newton's steps on the centre: the radius is the mean distance unless
 * it is known.  All about the mean direction, as a small cap has only little
 * beside it. */
static void step(const jaw_vec3 p[], size_t n, bool known, answer *a)
{
    real m[5][5] = {{0}}, g[5] = {0}, mean[3] = {0}, u[3], r = 0;
    for (size_t k = 0; k < n && !known; k++) {
        r += ray(a, &p[k], u) / (real)n;
        for (int i = 0; i < 3; i++)
            mean[i] += u[i] / (real)n;
    }
    a->r = known ? a->r : r;
    a->ssr = 0;
    for (size_t k = 0; k < n; k++) {
        real d = ray(a, &p[k], u), f = d - a->r;
        a->ssr += f * f;
        for (int i = 0; i < 3; i++) {
            g[i] += f * (u[i] - mean[i]);
            for (int l = 0; l < 3; l++)
                m[i][l] += (u[i] - mean[i]) * (u[l] - mean[l]) +
                           f * ((i == l) - u[i] * u[l]) / d;
        }
    }
    if (eliminate(3, m, g))
        for (int i = 0; i < 3; i++)
            a->c[i] += g[i];
}

static answer rest(const jaw_vec3 p[], size_t n, bool known,
                   const jaw_sphere *s)
{
    answer a = {{s->x, s->y, s->z}, s->r, 0};
    for (int k = 0; k < 12; k++)
        step(p, n, known, &a);
    return a;
}

static double off_centre(const answer *a, const jaw_sphere *s)
{
    return (double)hypotl(hypotl(a->c[0] - s->x, a->c[1] - s->y),
                          a->c[2] - s->z);
}

static size_t ball(jaw_vec3 p[], double r, double half, double rough)
{
    size_t n = 5 + (size_t)random_even(0, 27);
    pose f = random_pose(2 * r);
    for (size_t i = 0; i < n; i++) {
        double a = 6.2832 * ((double)i * 0.382 + random_even(-0.05, 0.05));
        double u = (1 - cos(half)) * ((double)i + random_even(0.2, 0.8)) /
                   (double)n;
        double d = r * (1 + rough * random_normal());
        double c = d * sqrt(u * (2 - u));
        p[i] = carried(&f, (jaw_vec3){c * cos(a), c * sin(a), d * (1 - u)});
    }
    return n;
}

/* fit.h, Accuracy: touched over half the sphere and more, within 4 r of the
 * origin, noise at most a hundredth: to 1e-14 of the radius. */
START_TEST(half_and_more)
{
    double worst = 0;
    if (no_reals("sphere"))
        return;
    random_start("sphere 1e-14");
    for (int k = 0; k < 10000; k++) {
        jaw_vec3 p[32];
        jaw_sphere s;
        double resid[32], size = random_size(-9, 12);
        size_t n = ball(p, size, random_even(1.6, 3.14), random_size(-15, -2));
        ck_assert_int_eq(jaw_fit_sphere(p, n, &s, resid), JAW_OK);
        answer a = rest(p, n, false, &s);
        double off = fmax(off_centre(&a, &s), fabs((double)(a.r - s.r)));
        worst = fmax(worst, off / size);
        near(off, 0, 1e-14 * size, "1e-14 of the radius");
        near(sqrt(s.ssr), sqrt((double)a.ssr), 16 * EPS * s.r * sqrt((double)n),
             "ssr");
        for (size_t i = 0; i < n; i++) {
            real v[3];
            near(resid[i], (double)(ray(&a, &p[i], v) - a.r),
                 FACTOR_RESID * EPS * solid_extent(p, n), "resid");
        }
    }
    printf("sphere: at most %.2g of the radius off, 1e-14 promised\n", worst);
}
END_TEST

static double largest_q(const jaw_sphere *s)
{
    return fmax(fmax(s->q[0], s->q[4]), fmax(s->q[7], s->q[9]));
}

/* Caps down to two degrees, free and known: as fit.h promises by q. */
START_TEST(caps)
{
    double worst = 0;
    if (no_reals("sphere caps"))
        return;
    random_start("sphere caps");
    for (int k = 0; k < 6000; k++) {
        jaw_vec3 p[32];
        jaw_sphere s;
        double size = random_size(-3, 3), half = random_size(-1.4, 0.4);
        bool known = k & 1;
        size_t n = ball(p, size, half, random_size(-9, -4) * half * half);
        ck_assert_int_eq(known ? jaw_fit_sphere_known(p, n, size, &s, NULL)
                               : jaw_fit_sphere(p, n, &s, NULL), JAW_OK);
        answer a = rest(p, n, known, &s);
        double off = fmax(off_centre(&a, &s), fabs((double)(a.r - s.r)));
        double allow = EPS * (FACTOR * solid_extent(p, n) *
                                  sqrt((double)n * largest_q(&s)) +
                              fabs(s.x) + fabs(s.y) + fabs(s.z) + s.r);
        worst = fmax(worst, off / allow);
        near(off, 0, allow, "cap");
    }
    printf("sphere caps: at most %.2g of what is promised\n", worst);
}
END_TEST

/* Rows of the inverse of J^T J at a sphere. */
static void invert(const jaw_vec3 p[], size_t n, const jaw_sphere *s, int free,
                   real q[10])
{
    const answer a = {{s->x, s->y, s->z}, s->r, 0};
    for (int row = 0, k = 0; row < 4; row++) {
        real m[5][5] = {{0}}, x[5] = {0}, u[4];
        for (size_t i = 0; i < n; i++) {
            (void)ray(&a, &p[i], u);
            u[3] = 1;
            for (int l = 0; l < free; l++)
                for (int j = 0; j < free; j++)
                    m[l][j] += u[l] * u[j];
        }
        x[row] = row < free;
        ck_assert(eliminate(free, m, x));
        for (int l = row; l < 4; l++)
            q[k++] = row < free && l < free ? x[l] : 0;
    }
}

START_TEST(cofactors)
{
    if (no_reals("sphere cofactors"))
        return;
    random_start("sphere cofactors");
    for (int k = 0; k < 3000; k++) {
        static const int row[] = {0, 0, 0, 0, 4, 4, 4, 7, 7, 9};
        static const int column[] = {0, 4, 7, 9, 4, 7, 9, 7, 9, 9};
        jaw_vec3 p[32];
        jaw_sphere s;
        real q[10];
        double size = random_size(-3, 3);
        double half = random_even(0, 1) < 0.5 ? 3 : random_size(-1.2, 0.4);
        bool known = k & 1;
        size_t n = ball(p, size, half, random_size(-9, -4) * half * half);
        ck_assert_int_eq(known ? jaw_fit_sphere_known(p, n, size, &s, NULL)
                               : jaw_fit_sphere(p, n, &s, NULL), JAW_OK);
        invert(p, n, &s, known ? 3 : 4, q);
        /* rounding of x, y, z, r turns the directions by EPS, and a cap
         * enlarges that by its cofactors */
        double share = 64 * EPS * sqrt((double)n * largest_q(&s)) + 1e-13;
        for (int i = 0; i < 10; i++) {
            double scale = (double)sqrtl(q[row[i]] * q[column[i]]);
            near(s.q[i], (double)q[i], share * scale, "q");
            near(s.cov[i], s.s * s.s * s.q[i], 1e-14 * s.s * s.s * scale,
                 "cov");
        }
        ck_assert(!(s.q[0] > 100 || s.q[4] > 100 || s.q[7] > 100) ||
                  s.flags == JAW_WEAK);
        ck_assert(s.q[0] + s.q[4] + s.q[7] > 100 || s.flags == 0);
    }
}
END_TEST

/* A cap of 70 degrees, 12 touches: the true centre and radius lie within two
 * standard uncertainties as often as a Student's t with 8 degrees of freedom
 * says, 91.95 in 100. */
START_TEST(uncertainty_holds)
{
    enum { SETS = 6000, N = 12 };
    int in_x = 0, in_z = 0, in_r = 0;
    random_start("sphere uncertainty");
    for (int k = 0; k < SETS; k++) {
        jaw_vec3 p[N];
        jaw_sphere s;
        for (int i = 0; i < N; i++) {
            double a = 2.4 * i, z = 1 - 0.66 * (i + 0.5) / N;
            double d = 20 + 1e-3 * random_normal(), c = d * sqrt(1 - z * z);
            p[i] = (jaw_vec3){c * cos(a), c * sin(a), d * z};
        }
        ck_assert_int_eq(jaw_fit_sphere(p, N, &s, NULL), JAW_OK);
        in_x += fabs(s.x) <= 2 * sqrt(s.cov[0]);
        in_z += fabs(s.z) <= 2 * sqrt(s.cov[7]);
        in_r += fabs(s.r - 20) <= 2 * sqrt(s.cov[9]);
    }
    /* 5517 expected; three standard deviations are 63 */
    ck_assert_msg(abs(in_x - 5517) < 75, "x: %d", in_x);
    ck_assert_msg(abs(in_z - 5517) < 75, "z: %d", in_z);
    ck_assert_msg(abs(in_r - 5517) < 75, "r: %d", in_r);
}
END_TEST

TCase *sphere_exact_case(void)
{
    TCase *tc = tcase_create("sphere exact");
    tcase_add_test(tc, half_and_more);
    tcase_add_test(tc, caps);
    tcase_add_test(tc, cofactors);
    tcase_add_test(tc, uncertainty_holds);
    return tc;
}
