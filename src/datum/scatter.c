/* SPDX-License-Identifier: GPL-3.0-or-later */
/* scatter.c: how far the touches of a wall lie off it, against what they
 * should.
 *
 * A wall takes its turn, or a part of it, from the datums before it, so that
 * its residuals have their errors in them.  With the errors t_k of those, each of
 * which turns by a vector T_k, and d_i from the mean place to each touch
 *     r_i = e_i - mean e - sum of a_ik t_k,    a_ik = (T_k x g) . d_i
 * (g as in spread.c; of the secondary less what its own direction takes up).
 * Chi-square is r' V^-1 r, V = sigma^2 I + A diag(var t) A', which is
 *     (r'r - b' M^-1 b) / sigma^2,  M = A'A + sigma^2 / diag(var t),  b = A'r
 * (Woodbury 1950, from memory). */
#include "datum.h"

enum { BEFORE = 3 }; /* two tilts of the primary, direction of the secondary */

typedef struct sums {
    int n; /* of errors */
    double m[BEFORE][BEFORE], b[BEFORE];
    double s[BEFORE], ss; /* sums of along a and along along */
} sums;

typedef struct error {
    jaw_vec3 turn;
    double variance;
} error;

/* What turns the second wall, or the third, which the second one turns. */
static int list_errors(const jaw__floor *f, const jaw__wall *second,
                       error list[BEFORE])
{
    int n = 0;

    for (int k = 0; k < 2; k++) {
        jaw_vec3 turn = jaw__cross(f->plane.axis[k], f->n);
        if (second != NULL) {
            jaw_vec3 moved = jaw__cross(turn, jaw__wall_arm(f, second));
            turn = jaw__plus(turn, -jaw__dot(moved, second->lever), f->n);
        }
        list[n++] = (error){turn, f->plane.q_tilt[k] * f->sigma * f->sigma};
    }
    if (second != NULL) {
        double sigma = jaw__wall_sigma(second);
        list[n++] = (error){f->n, second->q_theta * sigma * sigma};
    }
    return n;
}

/* How a touch at d goes with each error. */
static void follow(const error list[], int n, jaw_vec3 arm, jaw_vec3 d,
                   double a[BEFORE])
{
    for (int k = 0; k < n; k++)
        a[k] = jaw__dot(jaw__cross(list[k].turn, arm), d);
}

static void add_touch(const jaw__wall *w, const double a[], jaw_vec3 d, sums *t)
{
    double r = jaw__dot(w->normal, d), s = jaw__dot(w->along, d);

    t->ss += s * s;
    for (int k = 0; k < t->n; k++) {
        t->b[k] += a[k] * r;
        t->s[k] += a[k] * s;
        for (int i = 0; i <= k; i++)
            t->m[k][i] += a[k] * a[i];
    }
}

/* b' M^-1 b, by elimination: M is positive definite. */
static double explained(sums *t)
{
    double sum = 0;

    for (int k = 0; k < t->n; k++) {
        sum += t->b[k] * t->b[k] / t->m[k][k];
        for (int i = k + 1; i < t->n; i++) {
            double share = t->m[i][k] / t->m[k][k];
            t->b[i] -= share * t->b[k];
            for (int j = k + 1; j <= i; j++)
                t->m[i][j] -= share * t->m[j][k];
        }
    }
    return sum;
}

/* What the errors make of the residual of a touch; the secondary's own direction
 * takes its part of them up. */
static double inherited(const error list[], const sums *t, const double a[],
                        double s, bool turns)
{
    double sum = 0;

    for (int k = 0; k < t->n; k++) {
        double left = turns && t->ss > 0 ? a[k] - s * t->s[k] / t->ss : a[k];
        sum += left * left * list[k].variance;
    }
    return sqrt(sum);
}

double jaw__wall_scatter(const jaw__floor *floor, const jaw__wall *second,
                         const jaw__wall *wall, const jaw_vec3 p[],
                         jaw_datum_share share[])
{
    error list[BEFORE];
    sums t = {.n = list_errors(floor, second, list)};
    const double variance = wall->sigma * wall->sigma;
    const jaw_vec3 arm = jaw__wall_arm(floor, wall);
    const bool turns = second == NULL;
    double a[BEFORE];

    for (size_t i = 0; i < wall->n; i++) {
        const jaw_vec3 d = jaw__minus(p[i], wall->mean);
        follow(list, t.n, arm, d, a);
        add_touch(wall, a, d, &t);
    }
    for (size_t i = 0; share != NULL && i < wall->n; i++) {
        const jaw_vec3 d = jaw__minus(p[i], wall->mean);
        follow(list, t.n, arm, d, a);
        share[i].resid_u =
            inherited(list, &t, a, jaw__dot(wall->along, d), turns);
    }
    for (int k = 0; k < t.n; k++) {
        for (int i = 0; i <= k && turns && t.ss > 0; i++)
            t.m[k][i] -= t.s[k] * t.s[i] / t.ss;
        t.m[k][k] += variance / list[k].variance;
    }
    return (wall->ssr - explained(&t)) / variance;
}
