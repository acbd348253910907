/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sphere and cylinder through rough touches: no other start leads a plain
 * search to a smaller sum of squares.  The search is Levenberg & Marquardt's on
 * centre (or axis) and radius, in long double, written for this test alone. */
#include "sphere_tests.h"

enum { MOST = 24, UNKNOWNS = 5 };

/* A sphere: centre and radius, direction 0.  A cylinder: a point of the axis,
 * direction, radius; e and f square to the direction. */
typedef struct form {
    bool round;
    double c[3], w[3], e[3], f[3], r;
} form;

static void set_sides(form *at)
{
    int least = 0;
    double h = 0;
    for (int i = 1; i < 3; i++)
        least = fabs(at->w[i]) < fabs(at->w[least]) ? i : least;
    for (int i = 0; i < 3; i++) {
        at->e[i] = (i == least) - at->w[least] * at->w[i];
        h += at->e[i] * at->e[i];
    }
    for (int i = 0; i < 3; i++)
        at->e[i] /= sqrt(h);
    at->f[0] = at->w[1] * at->e[2] - at->w[2] * at->e[1];
    at->f[1] = at->w[2] * at->e[0] - at->w[0] * at->e[2];
    at->f[2] = at->w[0] * at->e[1] - at->w[1] * at->e[0];
}

/* Distance less radius, and its slope by what moves. */
static double slope(const form *at, const jaw_vec3 *p, double j[UNKNOWNS])
{
    double v[3] = {p->x - at->c[0], p->y - at->c[1], p->z - at->c[2]};
    double t = 0, h = 0, e = 0, f = 0;
    for (int i = 0; i < 3 && !at->round; i++)
        t += v[i] * at->w[i];
    for (int i = 0; i < 3; i++) {
        v[i] -= at->round ? 0 : t * at->w[i];
        h += v[i] * v[i];
        e += v[i] * at->e[i];
        f += v[i] * at->f[i];
    }
    h = sqrt(h) + 1e-300;
    if (at->round) {
        for (int i = 0; i < 3; i++)
            j[i] = -v[i] / h;
        j[3] = -1;
    } else {
        const double all[] = {-e / h, -f / h, -t * e / h, -t * f / h, -1};
        memcpy(j, all, sizeof all);
    }
    return h - at->r;
}

static double sum_at(const jaw_vec3 p[], size_t n, const form *at,
                     real m[5][5], real g[5])
{
    double ssr = 0, j[UNKNOWNS];
    const int free = at->round ? 4 : 5;
    memset(m, 0, 25 * sizeof m[0][0]);
    memset(g, 0, 5 * sizeof g[0]);
    for (size_t k = 0; k < n; k++) {
        double f = slope(at, &p[k], j);
        ssr += f * f;
        for (int i = 0; i < free; i++) {
            g[i] -= f * j[i];
            for (int l = 0; l < free; l++)
                m[i][l] += j[i] * j[l];
        }
    }
    return ssr;
}

static form moved(const form *at, const real x[5])
{
    form to = *at;
    double h = 0;
    if (at->round) {
        for (int i = 0; i < 3; i++)
            to.c[i] += (double)x[i];
        to.r += (double)x[3];
        return to;
    }
    for (int i = 0; i < 3; i++) {
        to.c[i] += (double)(x[0] * at->e[i] + x[1] * at->f[i]);
        to.w[i] += (double)(x[2] * at->e[i] + x[3] * at->f[i]);
        h += to.w[i] * to.w[i];
    }
    for (int i = 0; i < 3; i++)
        to.w[i] /= sqrt(h);
    to.r += (double)x[4];
    set_sides(&to);
    return to;
}

static double search(const jaw_vec3 p[], size_t n, form at)
{
    real m[5][5], g[5], next[5][5], to[5];
    double damp = 1e-2, ssr = sum_at(p, n, &at, m, g);
    const int free = at.round ? 4 : 5;
    for (int k = 0; k < 150 && damp < 1e12; k++) {
        real a[5][5], x[5];
        memcpy(a, m, sizeof a);
        memcpy(x, g, sizeof x);
        for (int i = 0; i < free; i++)
            a[i][i] += damp * (a[i][i] + 1e-9L);
        if (!eliminate(free, a, x))
            break;
        form try = moved(&at, x);
        double fell = sum_at(p, n, &try, next, to);
        if (fell < ssr) {
            at = try;
            memcpy(m, next, sizeof m);
            memcpy(g, to, sizeof g);
            ssr = fell;
            damp = fmax(damp / 5, 1e-14);
        } else {
            damp *= 4;
        }
    }
    return ssr;
}

/* 24 directions, and circles of three sizes to six sides in turn; or centres as
 * many. */
static double least(const jaw_vec3 p[], size_t n, bool round)
{
    double size = solid_extent(p, n), best = HUGE_VAL;
    jaw_vec3 mean = {0, 0, 0};
    for (size_t i = 0; i < n; i++) {
        mean.x += p[i].x / (double)n;
        mean.y += p[i].y / (double)n;
        mean.z += p[i].z / (double)n;
    }
    for (int k = 0; k < 24; k++) {
        double z = (k + 0.5) / 24, a = 2.399963 * k;
        double c = sqrt(1 - z * z);
        form at = {.round = round, .w = {c * cos(a), c * sin(a), z}};
        set_sides(&at);
        for (int i = 0; i < (round ? 6 : 7); i++) {
            const double share[] = {0.4, 1, 4}, t = 1.0471976 * i;
            double r = i ? size * share[i % 3] : 0;
            double e = round ? 0 : r * cos(t), f = round ? 0 : r * sin(t);
            double side = round ? (i < 3 ? r : -r) : 0;
            for (int l = 0; l < 3; l++)
                at.c[l] = (&mean.x)[l] + e * at.e[l] + f * at.f[l] +
                          side * at.w[l];
            at.r = fmax(r, size / 2);
            best = fmin(best, search(p, n, at));
        }
    }
    return best;
}

static size_t rough_touches(jaw_vec3 p[], double half, double length,
                            double rough, size_t least_n)
{
    size_t n = least_n + (size_t)random_even(0, MOST - (double)least_n);
    pose f = random_pose(30);
    for (size_t i = 0; i < n; i++) {
        double a = half * random_even(-1, 1), t = length * random_even(-1, 1);
        double d = 10 * (1 + rough * random_normal());
        if (length == 0) { /* a ball */
            double z = 1 - (1 - cos(half)) * random_even(0, 1);
            double b = random_even(0, 6.2832), c = d * sqrt(1 - z * z);
            p[i] = carried(&f, (jaw_vec3){c * cos(b), c * sin(b), d * z});
        } else {
            p[i] = carried(&f, (jaw_vec3){d * cos(a), d * sin(a), t});
        }
    }
    return n;
}

static void spheres(const char *what, double low, double high)
{
    random_start(what);
    for (int k = 0; k < 100; k++) {
        jaw_vec3 p[MOST];
        jaw_sphere s;
        size_t n = rough_touches(p, random_even(low, high), 0,
                                 random_size(-2, -0.6), 6);
        ck_assert_int_eq(jaw_fit_sphere(p, n, &s, NULL), JAW_OK);
        double best = least(p, n, true);
        ck_assert_msg(s.ssr <= best * (1 + 1e-9) + 1e-24,
                      "%s %d: %.17g, a search finds %.17g", what, k, s.ssr,
                      best);
    }
}

START_TEST(whole_balls)
{
    spheres("rough balls", 3.1, 3.14);
}
END_TEST

START_TEST(caps)
{
    spheres("rough caps", 0.5, 2);
}
END_TEST

/* The share of touches that may leave the choice open is bounded, so that a fit
 * that never answers would not pass. */
static void cylinders(const char *what, double half, double length,
                      double roughest, int open_most)
{
    int open = 0;
    random_start(what);
    for (int k = 0; k < 60; k++) {
        jaw_vec3 p[MOST];
        jaw_cylinder c;
        size_t n = rough_touches(p, half, length, random_size(-4, roughest), 6);
        jaw_status status = jaw_fit_cylinder(p, n, NULL, &c, NULL);
        if (status == JAW_ERANK) {
            open++;
            continue;
        }
        ck_assert_int_eq(status, JAW_OK);
        double best = least(p, n, false);
        ck_assert_msg(c.ssr <= best * (1 + 1e-9) + 1e-24,
                      "%s %d: %zu touches: %.17g, a search finds %.17g", what,
                      k, n, c.ssr, best);
    }
    ck_assert_msg(open <= open_most, "%s: %d open", what, open);
}

START_TEST(whole_bars)
{
    cylinders("rough bars", 3.14, 20, -1.2, 15);
}
END_TEST

START_TEST(short_bars)
{
    cylinders("short bars", 3.14, 4, -1.7, 25);
}
END_TEST

START_TEST(arcs)
{
    cylinders("rough arcs", 0.8, 10, -2, 20);
}
END_TEST

TCase *sphere_global_case(void)
{
    TCase *tc = tcase_create("sphere and cylinder global");
    tcase_set_timeout(tc, 120);
    tcase_add_test(tc, whole_balls);
    tcase_add_test(tc, caps);
    tcase_add_test(tc, whole_bars);
    tcase_add_test(tc, short_bars);
    tcase_add_test(tc, arcs);
    return tc;
}
