/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Circle through rough touches, off by up to three tenths of the radius: no
 * other start leads a plain search to a smaller sum of squares. */
#include "fit_tests.h"

enum { MOST = 16 };

static double sum_at(const jaw_vec2 p[], size_t n, const double x[3],
                     double m[3][4])
{
    double ssr = 0;
    for (int i = 0; i < 12; i++)
        m[i / 4][i % 4] = 0;
    for (size_t k = 0; k < n; k++) {
        double dx = p[k].x - x[0], dy = p[k].y - x[1], d = hypot(dx, dy);
        double f = d - x[2], j[4] = {-dx / d, -dy / d, -1, -f};
        ssr += f * f;
        for (int i = 0; i < 3; i++)
            for (int l = 0; l < 4; l++)
                m[i][l] += j[i] * j[l];
    }
    return ssr;
}

static void eliminate(double m[3][4], double x[3])
{
    for (int i = 0; i < 3; i++)
        for (int k = i + 1; k < 3; k++)
            for (int l = 3; l >= i; l--)
                m[k][l] -= m[k][i] / m[i][i] * m[i][l];
    for (int i = 2; i >= 0; i--) {
        x[i] = m[i][3];
        for (int k = i + 1; k < 3; k++)
            x[i] -= m[i][k] * x[k];
        x[i] /= m[i][i];
    }
}

/* Levenberg-Marquardt on x, y, r, written for this test alone; r < 0 is
 * allowed to lead astray, as it would in a general solver. */
static double search(const jaw_vec2 p[], size_t n, const double start[3])
{
    double x[3] = {start[0], start[1], start[2]}, m[3][4], next[3][4];
    double damp = 1e-3, ssr = sum_at(p, n, x, m);
    for (int step = 0; step < 200; step++) {
        double a[3][4], by[3], to[3];
        memcpy(a, m, sizeof a);
        for (int i = 0; i < 3; i++)
            a[i][i] += damp * (double)n + 1e-300;
        eliminate(a, by);
        for (int i = 0; i < 3; i++)
            to[i] = x[i] + by[i];
        double fell = sum_at(p, n, to, next);
        if (fell < ssr) {
            memcpy(x, to, sizeof x);
            memcpy(m, next, sizeof m);
            ssr = fell;
            damp = fmax(damp / 5, 1e-14);
        } else {
            damp *= 4;
        }
        if (damp > 1e12)
            break;
    }
    return ssr;
}

/* From the mean, and from circles through it to sixteen sides. */
static double least(const jaw_vec2 p[], size_t n)
{
    static const double share[] = {0.5, 1.5, 5, 40};
    jaw_vec2 mean = {0, 0};
    double size = extent_of(p, n), best;
    for (size_t i = 0; i < n; i++) {
        mean.x += p[i].x / (double)n;
        mean.y += p[i].y / (double)n;
    }
    best = search(p, n, (double[]){mean.x, mean.y, size});
    for (int k = 0; k < 64; k++) {
        double t = acos(-1.0) * (k % 16) / 8, r = size * share[k / 16];
        double start[3] = {mean.x + r * cos(t), mean.y + r * sin(t), r};
        best = fmin(best, search(p, n, start));
    }
    return best;
}

static size_t rough_touches(jaw_vec2 p[], double half, double rough)
{
    size_t n = 4 + (size_t)random_even(0, MOST - 4);
    for (size_t i = 0; i < n; i++) {
        double t = half * random_even(-1, 1);
        double d = 10 * (1 + rough * random_normal());
        p[i] = (jaw_vec2){d * cos(t), d * sin(t)};
    }
    return n;
}

static void nothing_better(const char *what, double low, double high)
{
    random_start(what);
    for (int k = 0; k < 600; k++) {
        jaw_vec2 p[MOST];
        jaw_circle c;
        double half = random_even(low, high);
        size_t n = rough_touches(p, half, random_size(-2, log10(0.3)));
        ck_assert_int_eq(jaw_fit_circle(p, n, &c, NULL), JAW_OK);
        double best = least(p, n);
        ck_assert_msg(c.ssr <= best * (1 + 1e-9) + 1e-24,
                      "%s %d: %.17g, a search finds %.17g", what, k, c.ssr,
                      best);
    }
}

START_TEST(full)
{
    nothing_better("rough, full turn", 3.1415, 3.1416);
}
END_TEST

START_TEST(arc)
{
    nothing_better("rough, arc", 0.2, 2);
}
END_TEST

TCase *circle_global_case(void)
{
    TCase *tc = tcase_create("circle global");
    tcase_add_test(tc, full);
    tcase_add_test(tc, arc);
    return tc;
}
