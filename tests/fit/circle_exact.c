/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Circle against long double: accuracy as fit.h promises it, cofactors against
 * a numerically inverted J^T J, and uncertainties that hold what they say. */
#include "fit_tests.h"

typedef long double real;

static bool no_reals(const char *what)
{
    if (LDBL_MANT_DIG >= 64)
        return false;
    printf("left out: %s against long double (it is a double here)\n", what);
    return true;
}

/* The resting point next to (a, b): Newton's steps on the centre with the
 * radius eliminated. */
static void rest(const jaw_vec2 p[], size_t n, real *a, real *b, real *r,
                 real *ssr)
{
    for (int step = 0; step < 12; step++) {
        real m = (real)n, d = 0, u = 0, v = 0, du = 0, dv = 0, dd = 0;
        real uu = 0, uv = 0, vv = 0;
        for (size_t i = 0; i < n; i++) {
            real x = p[i].x - *a, y = p[i].y - *b, h = sqrtl(x * x + y * y);
            d += h / m;
            u += x / h / m;
            v += y / h / m;
            uu += x * x / (h * h * h) / m;
            uv += x * y / (h * h * h) / m;
            vv += y * y / (h * h * h) / m;
        }
        for (size_t i = 0; i < n; i++) {
            real x = p[i].x - *a, y = p[i].y - *b, h = sqrtl(x * x + y * y);
            real f = h - d;
            du += f * (x / h - u) / m;
            dv += f * (y / h - v) / m;
            dd += f * f;
        }
        real hxx = 1 - u * u - d * vv, hxy = d * uv - u * v;
        real hyy = 1 - v * v - d * uu, det = hxx * hyy - hxy * hxy;
        *a += (hyy * du - hxy * dv) / det;
        *b += (hxx * dv - hxy * du) / det;
        *r = d;
        *ssr = dd;
    }
}

/* (J^T J)^-1 at a circle, by Gauss-Jordan elimination. */
static void invert(const jaw_vec2 p[], size_t n, const jaw_circle *c,
                   real q[6])
{
    real m[3][6] = {{0}};
    for (int i = 0; i < 3; i++)
        m[i][3 + i] = 1;
    for (size_t k = 0; k < n; k++) {
        real x = (real)p[k].x - c->x, y = (real)p[k].y - c->y;
        real h = sqrtl(x * x + y * y), j[3] = {-x / h, -y / h, -1};
        for (int i = 0; i < 3; i++)
            for (int l = 0; l < 3; l++)
                m[i][l] += j[i] * j[l];
    }
    for (int i = 0; i < 3; i++) {
        int top = i;
        for (int k = i + 1; k < 3; k++)
            top = fabsl(m[k][i]) > fabsl(m[top][i]) ? k : top;
        for (int l = 0; l < 6; l++) {
            real t = m[i][l];
            m[i][l] = m[top][l];
            m[top][l] = t;
        }
        for (int l = 5; l >= i; l--)
            m[i][l] /= m[i][i];
        for (int k = 0; k < 3; k++)
            for (int l = 5; k != i && l >= i; l--)
                m[k][l] -= m[k][i] * m[i][l];
    }
    for (int i = 0, k = 0; i < 3; i++)
        for (int l = i; l < 3; l++)
            q[k++] = m[i][3 + l];
}

static size_t round_bore(jaw_vec2 p[], double r, double half, double rough)
{
    size_t n = 4 + (size_t)random_even(0, 28);
    double mid = random_even(-3, 3);
    double a = random_even(-2, 2) * r, b = random_even(-2, 2) * r;
    for (size_t i = 0; i < n; i++) {
        double t = 2 * ((double)i + random_even(-0.3, 0.3)) / (double)n - 1;
        double d = r * (1 + rough * random_normal());
        p[i] = (jaw_vec2){a + d * cos(mid + half * t),
                          b + d * sin(mid + half * t)};
    }
    return n;
}

/* fit.h, Accuracy: touched over more than half a turn, near the origin, noise
 * at most a hundredth: x, y and r to 1e-14 of the radius. */
START_TEST(full_turn)
{
    double worst = 0;
    if (no_reals("circle"))
        return;
    random_start("circle 1e-14");
    for (int k = 0; k < 20000; k++) {
        jaw_vec2 p[32];
        jaw_circle c;
        double resid[32], size = random_size(-9, 12);
        size_t n = round_bore(p, size, random_even(1.6, 3.14),
                              random_size(-15, -2));
        ck_assert_int_eq(jaw_fit_circle(p, n, &c, resid), JAW_OK);
        real a = c.x, b = c.y, r, ssr;
        rest(p, n, &a, &b, &r, &ssr);
        double off = (double)fmaxl(hypotl(a - c.x, b - c.y), fabsl(r - c.r));
        worst = fmax(worst, off / size);
        near(off, 0, 1e-14 * size, "1e-14 of the radius");
        near(sqrt(c.ssr), sqrt((double)ssr), 16 * EPS * c.r * sqrt((double)n),
             "ssr");
        for (size_t i = 0; i < n; i++) {
            double f = (double)(hypotl(p[i].x - a, p[i].y - b) - r);
            near(resid[i], f, FACTOR_RESID * EPS * extent_of(p, n), "resid");
        }
    }
    printf("circle: at most %.2g of the radius off, 1e-14 promised\n", worst);
}
END_TEST

/* 2026-11-26: the short way left its last step out of the residuals when that
 * was up to four last digits of the radius, which is more than the touches of
 * half a turn are long: one in some ten thousand broke its promise.  They keep
 * to half of it. */
START_TEST(half_turn)
{
    double worst = 0;
    if (no_reals("half a turn"))
        return;
    random_start("half a turn");
    for (int k = 0; k < 20000; k++) {
        jaw_vec2 p[32];
        jaw_circle c;
        double resid[32];
        size_t n = round_bore(p, random_size(-3, 3), random_even(0.5, 2),
                              random_size(-10, -3));
        ck_assert_int_eq(jaw_fit_circle(p, n, &c, resid), JAW_OK);
        real a = c.x, b = c.y, r, ssr;
        rest(p, n, &a, &b, &r, &ssr);
        double allow = FACTOR_RESID * EPS * extent_of(p, n);
        for (size_t i = 0; i < n; i++) {
            double f = (double)(hypotl(p[i].x - a, p[i].y - b) - r);
            worst = fmax(worst, fabs(resid[i] - f) / allow);
            near(resid[i], f, allow / 2, "resid");
        }
    }
    printf("half a turn: at most %.2g of what is promised\n", worst);
}
END_TEST

START_TEST(cofactors)
{
    if (no_reals("cofactors"))
        return;
    random_start("circle cofactors");
    for (int k = 0; k < 4000; k++) {
        jaw_vec2 p[32];
        jaw_circle c;
        real q[6];
        double half = random_even(0, 1) < 0.5 ? 3 : random_size(-1.3, 0.4);
        size_t n = round_bore(p, random_size(-3, 3), half,
                              random_size(-9, -4) * half * half);
        ck_assert_int_eq(jaw_fit_circle(p, n, &c, NULL), JAW_OK);
        invert(p, n, &c, q);
        static const int row[] = {0, 0, 0, 3, 3, 5}, col[] = {0, 3, 5, 3, 5, 5};
        /* rounding of x, y, r turns the unit vectors by EPS r / r, and an arc
         * enlarges that by its cofactors */
        double share = 64 * EPS * sqrt((double)n * (double)q[5]) + 1e-13;
        for (int i = 0; i < 6; i++) {
            double scale = (double)sqrtl(q[row[i]] * q[col[i]]);
            near(c.q[i], (double)q[i], share * scale, "q");
            near(c.cov[i], c.s * c.s * c.q[i], 1e-14 * c.s * c.s * scale,
                 "cov");
        }
        double mean = (c.q[0] + c.q[3]) / 2;
        double worst = mean + hypot((c.q[0] - c.q[3]) / 2, c.q[1]);
        if (fabs(worst - 100) > 1e-6)
            ck_assert_int_eq((c.flags & JAW_WEAK) != 0, worst > 100);
        ck_assert_int_eq((c.flags & JAW_NO_CHECK) != 0, n == 3);
    }
}
END_TEST

/* An arc of 90 degrees, 9 touches: the true centre's x and the true radius lie
 * within two standard uncertainties as often as a Student's t with 6 degrees
 * of freedom says, 90.8 in 100. */
START_TEST(uncertainty_holds)
{
    enum { SETS = 6000, N = 9 };
    int in_x = 0, in_y = 0, in_r = 0;
    random_start("circle uncertainty");
    for (int k = 0; k < SETS; k++) {
        jaw_vec2 p[N];
        jaw_circle c;
        for (int i = 0; i < N; i++) {
            double t = 1.5708 * i / (N - 1), d = 20 + 1e-3 * random_normal();
            p[i] = (jaw_vec2){d * cos(t), d * sin(t)};
        }
        ck_assert_int_eq(jaw_fit_circle(p, N, &c, NULL), JAW_OK);
        in_x += fabs(c.x) <= 2 * sqrt(c.cov[0]);
        in_y += fabs(c.y) <= 2 * sqrt(c.cov[3]);
        in_r += fabs(c.r - 20) <= 2 * sqrt(c.cov[5]);
    }
    /* 5446 expected; three standard deviations are 67 */
    ck_assert_msg(abs(in_x - 5446) < 80, "x: %d", in_x);
    ck_assert_msg(abs(in_y - 5446) < 80, "y: %d", in_y);
    ck_assert_msg(abs(in_r - 5446) < 80, "r: %d", in_r);
}
END_TEST

TCase *circle_exact_case(void)
{
    TCase *tc = tcase_create("circle exact");
    tcase_add_test(tc, full_turn);
    tcase_add_test(tc, half_turn);
    tcase_add_test(tc, cofactors);
    tcase_add_test(tc, uncertainty_holds);
    return tc;
}
