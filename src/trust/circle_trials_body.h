/* SPDX-License-Identifier: GPL-3.0-or-later */
/* circle_trials_body.h: Newton's method for several circles at once, from the
 * known answer's linear response.
 *
 * With w = (r + off) (u, v) - (a, b) the touch seen from the moved centre and
 * d = |w|, a touch lies f = d - r - rho + um a + vm b off.  d - r is taken as
 * (d^2 - r^2) / (d + r) with d^2 - r^2 = 2 r (u, v).q + q.q for the small
 * q = off (u, v) - (a, b), so what is small keeps all its digits.
 *
 * Included once for each width of lanes. */
#include "circle_trials.h"
#include "random.h"

#include "../fit/lanes.h"

#include <string.h>

/* ------------------------------------------------------------------ errors */

/* As many words as lanes; GCC and Clang multiply them too. */
#ifdef __GNUC__
typedef uint64_t words __attribute__((vector_size(8 * JAW__LANES)));
#else
typedef uint64_t words;
#endif

enum { VECTORS = JAW__GROUP / JAW__LANES };

/* The streams of a group, JAW__LANES of them in each vector. */
typedef struct streams {
    words s[VECTORS][4];
} streams;

LANES_FN words mixed(words z)
{
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

/* jaw__random_start of trials first, first + 1 ... */
LANES_FN void streams_start(streams *all, uint64_t seed, uint64_t first)
{
    static const uint64_t count[JAW__GROUP] = {0, 1, 2, 3, 4, 5, 6, 7};
    const uint64_t step = 0x9e3779b97f4a7c15u;
    uint64_t from = jaw__mix(seed + step) + 4 * first * step;

    for (size_t v = 0; v < VECTORS; v++) {
        words at;
        memcpy(&at, count + v * JAW__LANES, sizeof at);
        at = at * (4 * step) + from;
        for (size_t i = 0; i < 4; i++)
            all->s[v][i] = mixed(at + (i + 1) * step);
    }
}

LANES_FN words rotated(words x, int by)
{
    return (x << by) | (x >> (64 - by));
}

/* jaw__random_next of the streams of one vector. */
LANES_FN words streams_next(words s[4])
{
    words bits = rotated(s[0] + s[3], 23) + s[0], t = s[1] << 17;

    s[2] ^= s[0];
    s[3] ^= s[1];
    s[1] ^= s[2];
    s[0] ^= s[3];
    s[2] ^= t;
    s[3] = rotated(s[3], 45);
    return bits;
}

/* The one in a hundred that needs a second look: its stream goes on alone. */
static double second_look(words s[4], size_t lane, uint64_t bits)
{
    jaw_random one;

    for (size_t i = 0; i < 4; i++)
        memcpy(&one.s[i], (const char *)&s[i] + 8 * lane, 8);
    double x = jaw__random_edge(&one, bits);
    for (size_t i = 0; i < 4; i++)
        memcpy((char *)&s[i] + 8 * lane, &one.s[i], 8);
    return x;
}

/* As jaw__random_normal says for each trial by itself, to the last bit. */
LANES_FN void make_errors(const jaw__circle_trials *t, uint64_t first)
{
    streams all;
    uint64_t bits[JAW__GROUP];

    streams_start(&all, t->seed, first);
    for (size_t i = 0; i < t->n; i++) {
        double *row = t->error + i * JAW__GROUP, sigma = t->ray[i].sigma;
        for (size_t v = 0; v < VECTORS; v++) {
            words next = streams_next(all.s[v]);
            memcpy(bits + v * JAW__LANES, &next, sizeof next);
        }
        for (size_t k = 0; k < JAW__GROUP; k++) {
            const size_t layer = bits[k] & 255;
            double x = (double)(int64_t)(bits[k] >> 11) * 0x1p-53 *
                       ziggurat_x[layer];
            row[k] = sigma * jaw__signed(x, bits[k]);
            if (!(x < ziggurat_x[layer + 1]))
                row[k] = sigma * second_look(all.s[k / JAW__LANES],
                                             k % JAW__LANES, bits[k]);
        }
    }
}

/* -------------------------------------------------------------------- fits */

typedef struct state {
    lanes a, b, rho;
} state;

/* Gradient and second derivatives of the sum of f^2 / 2. */
typedef struct slopes {
    lanes f, fu, fv, u, v, aa, ab, bb;
} slopes;

LANES_FN void add_touch(const jaw__circle_trials *t, const jaw__ray *ray,
                        lanes error, const state *s, lanes dr, slopes *sum)
{
    const lanes r = lanes_all(t->r);
    lanes u = lanes_all(ray->u), v = lanes_all(ray->v);
    lanes off = lanes_all(ray->off) + error;
    lanes qx = off * u - s->a, qy = off * v - s->b;
    lanes wx = r * u + qx, wy = r * v + qy;
    lanes d = lanes_root(wx * wx + wy * wy), both = d + r;
    lanes inverse = lanes_all(1) / (d * both), per_d = inverse * both;
    lanes along = off - (u * s->a + v * s->b);
    lanes more = (lanes_all(2) * r * along + (qx * qx + qy * qy)) * inverse * d;
    lanes f = more - dr, bent = f * per_d;

    u = wx * per_d;
    v = wy * per_d;
    lanes cu = u - lanes_all(t->um), cv = v - lanes_all(t->vm);
    sum->f += f;
    sum->fu += f * cu;
    sum->fv += f * cv;
    sum->u += cu;
    sum->v += cv;
    sum->aa += cu * cu + bent * v * v;
    sum->ab += cu * cv - bent * u * v;
    sum->bb += cv * cv + bent * u * u;
}

/* One step; rho is eliminated first.  Returned: how far a and b moved, squared;
 * NaN (0 / 0) or negative det shows as not settled. */
LANES_FN lanes step(const jaw__circle_trials *t, const double error[], state *s,
                    lanes *det)
{
    const lanes n = lanes_all(1 / (double)t->n), zero = lanes_all(0);
    slopes sum = {zero, zero, zero, zero, zero, zero, zero, zero};
    lanes dr = s->rho - (lanes_all(t->um) * s->a + lanes_all(t->vm) * s->b);

    for (size_t i = 0; i < t->n; i++) {
        lanes e;
        memcpy(&e, error + i * JAW__GROUP, sizeof e);
        add_touch(t, &t->ray[i], e, s, dr, &sum);
    }
    lanes aa = sum.aa - sum.u * sum.u * n, bb = sum.bb - sum.v * sum.v * n;
    lanes ab = sum.ab - sum.u * sum.v * n;
    lanes ga = sum.fu - sum.u * sum.f * n, gb = sum.fv - sum.v * sum.f * n;
    *det = aa * bb - ab * ab;
    lanes over = lanes_all(1) / *det;
    lanes da = (bb * ga - ab * gb) * over, db = (aa * gb - ab * ga) * over;
    s->a += da;
    s->b += db;
    s->rho += (sum.f - sum.u * da - sum.v * db) * n;
    return da * da + db * db;
}

/* First order: errors along each ray, nothing else moves. */
LANES_FN state respond(const jaw__circle_trials *t, const double error[])
{
    const lanes zero = lanes_all(0), n = lanes_all(1 / (double)t->n);
    state s = {zero, zero, zero};

    for (size_t i = 0; i < t->n; i++) {
        lanes e;
        memcpy(&e, error + i * JAW__GROUP, sizeof e);
        s.a += lanes_all(t->ray[i].ka) * e;
        s.b += lanes_all(t->ray[i].kb) * e;
        s.rho += e * n;
    }
    return s;
}

/* Newton's method squares what is left: c step^2 after a step, with c at least
 * 1 / r, and at least what the step before it had: step / before^2. */
static bool all_settled(const jaw__circle_trials *t, const double now[],
                        const double before[], const double det[],
                        double good[])
{
    bool all = true;

    for (int k = 0; k < JAW__LANES; k++) {
        bool still = now[k] <= t->tolerance * t->r &&
                     now[k] * sqrt(now[k]) <= t->tolerance * before[k];
        /* nothing has moved that could be seen */
        still = still || now[k] <= t->tolerance * t->tolerance;
        good[k] = still && det[k] > 0;
        all = all && still;
    }
    return all;
}

LANES_FN void settle(const jaw__circle_trials *t, const double error[],
                     double a[], double b[], double rho[], double good[])
{
    state s = respond(t, error);
    lanes before = s.a * s.a + s.b * s.b, det;
    double now_all[JAW__LANES], before_all[JAW__LANES], det_all[JAW__LANES];

    for (int i = 0; i < 12; i++) {
        lanes now = step(t, error, &s, &det);
        lanes_store(now, now_all);
        lanes_store(before, before_all);
        lanes_store(det, det_all);
        if (all_settled(t, now_all, before_all, det_all, good))
            break;
        before = now;
    }
    lanes_store(s.a, a);
    lanes_store(s.b, b);
    lanes_store(s.rho, rho);
}

LANES_FN void do_group(const jaw__circle_trials *t, uint64_t first, double a[],
                       double b[], double rho[], double good[])
{
    make_errors(t, first);
    for (size_t k = 0; k < JAW__GROUP; k += JAW__LANES)
        settle(t, t->error + k, a + k, b + k, rho + k, good + k);
}
