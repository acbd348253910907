/* SPDX-License-Identifier: GPL-3.0-or-later */
/* wide.c: the short way to a circle that was touched well round, which is what
 * nearly every bore and boss is.
 *
 * Start: Kasa, IEEE Trans. Instrum. Meas. 25 (1976) 8-14.  Then the radius is
 * eliminated (it is the mean distance d from the centre) and the centre alone
 * sought: per touch the sum of squares is mean d^2 - (mean d)^2, of which
 * the first part is a parabola, so that all that is not comes from mean d.
 * With e the unit vector to a touch, n square to it and w = 1 / d,
 *     d(c + h) = d - e.h + (n.h)^2 w / 2 + (e.h) (n.h)^2 w^2 / 2 + O(h^4)
 * gives Newton's step and its third-order correction (Chebyshev's) from one
 * pass over the touches.  A last pass takes the residuals and shows by the
 * step that would follow that nothing is left to gain.
 *
 * Whatever is not plainly well determined is left to bend.c. */
#include "wide.h"

#include "bend.h"

#include <float.h>

/* The lesser of the touches' principal extents squared against the sum of
 * both: below this arcs are short, and x, y, r lose digits (bend.c does not). */
#define WIDE_SHARE 0.01
/* Extent over coordinate and over 1: beyond, scaling is needed. */
#define NEAR_SHARE 0x1p-30
#define SMALLEST 0x1p-100
#define LARGEST 0x1p+100
#define ROUNDS_MAX 4

typedef struct moments {
    double x, y, xx, xy, yy, xz, yz; /* from the first touch; z = x^2 + y^2 */
} moments;

typedef struct start {
    jaw_vec2 from;   /* the first touch; everything is seen from it */
    double n;
    double least;    /* the lesser principal sum of squares, at least */
    double a, b, r;  /* centre and radius */
} start;

/* Means at a centre. */
typedef struct slopes {
    double f, fu, fv;          /* f = d - r */
    double u, v;               /* e */
    double uu, uv, vv;         /* w times products of e */
    double uuu, uuv, uvv, vvv; /* w^2 times */
} slopes;

typedef struct fine {
    double f, ff, fu, fv, u, v, uu, uv;
} fine;

static moments moments_of(const jaw_vec2 p[], size_t n)
{
    const lanes zero = lanes_all(0);
    lanes sx = zero, sy = zero, xx = zero, xy = zero, yy = zero;
    lanes xz = zero, yz = zero, x, y;

    for (size_t i = 0; i < n; i += JAW__LANES) {
        lanes_load(p + i, n - i, &x, &y);
        lanes on = lanes_mask(n - i);
        x = (x - lanes_all(p->x)) * on;
        y = (y - lanes_all(p->y)) * on;
        lanes x2 = x * x, y2 = y * y, z = x2 + y2;
        sx += x;
        sy += y;
        xx += x2;
        yy += y2;
        xy += x * y;
        xz += x * z;
        yz += y * z;
    }
    return (moments){lanes_sum(sx), lanes_sum(sy), lanes_sum(xx),
                     lanes_sum(xy), lanes_sum(yy), lanes_sum(xz),
                     lanes_sum(yz)};
}

/* False also for whatever is not finite: every comparison with it fails. */
static bool kasa(const jaw_vec2 p[], size_t count, start *at)
{
    const moments m = moments_of(p, count);
    const double n = (double)count, part = 1 / n;
    const double xx = m.xx - m.x * m.x * part, yy = m.yy - m.y * m.y * part;
    const double xy = m.xy - m.x * m.y * part, z = (m.xx + m.yy) * part;
    const double xz = m.xz - m.x * z, yz = m.yz - m.y * z;
    const double det = xx * yy - xy * xy, both = xx + yy;
    const double far = (fabs(p->x) + fabs(p->y)) * NEAR_SHARE;

    if (!(det > WIDE_SHARE * both * both && both > far * far * n &&
          both > SMALLEST && both < LARGEST))
        return false;
    double half = 0.5 / det;
    at->from = *p;
    at->n = n;
    at->least = det / both;
    at->a = (xz * yy - yz * xy) * half;
    at->b = (yz * xx - xz * xy) * half;
    at->r = sqrt(at->a * at->a + at->b * at->b + z -
                 2 * (at->a * m.x + at->b * m.y) * part);
    return true;
}

static slopes slopes_at(const jaw_vec2 p[], size_t n, const start *at)
{
    const lanes zero = lanes_all(0), one = lanes_all(1);
    lanes sf = zero, fu = zero, fv = zero, su = zero, sv = zero;
    lanes uu = zero, uv = zero, vv = zero;
    lanes uuu = zero, uuv = zero, uvv = zero, vvv = zero, x, y;

    for (size_t i = 0; i < n; i += JAW__LANES) {
        lanes_load(p + i, n - i, &x, &y);
        lanes on = lanes_mask(n - i);
        x = (x - lanes_all(at->from.x)) - lanes_all(at->a);
        y = (y - lanes_all(at->from.y)) - lanes_all(at->b);
        lanes d = lanes_root(x * x + y * y), w = one / d;
        lanes f = (d - lanes_all(at->r)) * on;
        lanes u = x * w * on, v = y * w * on;
        lanes wu = w * u, wv = w * v, wuu = wu * u, wuv = wu * v, wvv = wv * v;
        sf += f;
        fu += f * u;
        fv += f * v;
        su += u;
        sv += v;
        uu += wuu;
        uv += wuv;
        vv += wvv;
        uuu += wuu * wu;
        uuv += wuu * wv;
        uvv += wvv * wu;
        vvv += wvv * wv;
    }
    const double k = 1 / at->n;
    return (slopes){lanes_sum(sf) * k,  lanes_sum(fu) * k,  lanes_sum(fv) * k,
                    lanes_sum(su) * k,  lanes_sum(sv) * k,  lanes_sum(uu) * k,
                    lanes_sum(uv) * k,  lanes_sum(vv) * k,  lanes_sum(uuu) * k,
                    lanes_sum(uuv) * k, lanes_sum(uvv) * k, lanes_sum(vvv) * k};
}

/* Inverse of half the second derivatives of the sum of squares per touch. */
typedef struct bowl {
    double a, b, c;  /* [a b; b c] */
    double steep;    /* of the matrix inverted: at most its lesser eigenvalue */
} bowl;

static bool bowl_of(const slopes *s, double r, bowl *k)
{
    const double a = 1 - s->u * s->u - r * s->vv;
    const double b = r * s->uv - s->u * s->v;
    const double c = 1 - s->v * s->v - r * s->uu;
    const double det = a * c - b * b;

    if (!(det > 0 && a + c > 0))
        return false;
    *k = (bowl){c / det, -b / det, a / det, det / (a + c)};
    return true;
}

/* Newton's step and Chebyshev's correction. */
static bool step(const slopes *s, start *at, bowl *k)
{
    const double r = at->r + s->f;

    if (!bowl_of(s, r, k))
        return false;
    double gx = s->fu - s->f * s->u, gy = s->fv - s->f * s->v;
    double x = k->a * gx + k->b * gy, y = k->b * gx + k->c * gy;
    double xx = x * x, xy = x * y, yy = y * y;
    double along = s->u * x + s->v * y;
    double wx = s->vv * x - s->uv * y, wy = s->uu * y - s->uv * x;
    double curve = (wx * x + wy * y) / 2;
    double tx = (s->uvv * xx - 2 * s->uuv * xy + s->uuu * yy) / 2 +
                s->uvv * (xx - yy) - (s->uuv - s->vvv) * xy;
    double ty = (s->vvv * xx - 2 * s->uvv * xy + s->uuv * yy) / 2 -
                s->uuv * (xx - yy) + (s->uuu - s->uvv) * xy;
    double bx = s->u * curve + along * wx - r * tx;
    double by = s->v * curve + along * wy - r * ty;
    x -= k->a * bx + k->b * by;
    y -= k->b * bx + k->c * by;
    at->a += x;
    at->b += y;
    at->r = r - (s->u * x + s->v * y) + curve;
    return true;
}

static fine fine_at(const jaw_vec2 p[], size_t n, const start *at,
                    double resid[])
{
    const lanes zero = lanes_all(0), one = lanes_all(1);
    lanes sf = zero, ff = zero, fu = zero, fv = zero;
    lanes su = zero, sv = zero, uu = zero, uv = zero, x, y;

    for (size_t i = 0; i < n; i += JAW__LANES) {
        lanes_load(p + i, n - i, &x, &y);
        lanes on = lanes_mask(n - i);
        x = (x - lanes_all(at->from.x)) - lanes_all(at->a);
        y = (y - lanes_all(at->from.y)) - lanes_all(at->b);
        lanes d = lanes_root(x * x + y * y), w = one / d;
        lanes f = (d - lanes_all(at->r)) * on;
        lanes u = x * w * on, v = y * w * on;
        if (resid)
            lanes_store(f, resid + i, n - i);
        sf += f;
        ff += f * f;
        fu += f * u;
        fv += f * v;
        su += u;
        sv += v;
        uu += u * u;
        uv += u * v;
    }
    const double k = 1 / at->n;
    return (fine){lanes_sum(sf) * k, lanes_sum(ff),     lanes_sum(fu) * k,
                  lanes_sum(fv) * k, lanes_sum(su) * k, lanes_sum(sv) * k,
                  lanes_sum(uu) * k, lanes_sum(uv) * k};
}

/* Whether one more step would only stir rounding, which is that of d in every
 * slope and reaches the centre by way of the bowl. */
static bool at_rest(const fine *s, const start *at, const bowl *k)
{
    double gx = s->fu - s->f * s->u, gy = s->fv - s->f * s->v;
    double x = k->a * gx + k->b * gy, y = k->b * gx + k->c * gy;
    double least = 4 * DBL_EPSILON * at->r / k->steep;

    return x * x + y * y <= least * least;
}

static void report(const fine *s, const start *at, double ssr, jaw_circle *c)
{
    const double a = s->uu - s->u * s->u, b = s->uv - s->u * s->v;
    const double d = (1 - s->uu) - s->v * s->v;
    const double k = 1 / ((a * d - b * b) * at->n);
    double *q = c->q;

    q[0] = d * k;
    q[1] = -b * k;
    q[3] = a * k;
    q[2] = -(q[0] * s->u + q[1] * s->v);
    q[4] = -(q[1] * s->u + q[3] * s->v);
    q[5] = 1 / at->n - (q[2] * s->u + q[4] * s->v);
    c->x = at->from.x + at->a;
    c->y = at->from.y + at->b;
    c->r = at->r + s->f;
    jaw__circle_finish(c, ssr, at->n, at->n - 3, 1);
}

bool jaw__wide_circle(const jaw_vec2 p[], size_t n, jaw_circle *c,
                      double resid[])
{
    start at;
    bowl k;

    if (!kasa(p, n, &at))
        return false;
    for (int round = 0; round < ROUNDS_MAX; round++) {
        slopes s = slopes_at(p, n, &at);
        if (!step(&s, &at, &k))
            return false;
        fine last = fine_at(p, n, &at, resid);
        double ssr = last.ff - at.n * last.f * last.f;
        if (!(ssr <= JAW__CLEAR_SHARE * at.least))
            return false;
        if (!at_rest(&last, &at, &k))
            continue;
        report(&last, &at, ssr, c);
        for (size_t i = 0; resid && i < n; i++)
            resid[i] -= last.f;
        return true;
    }
    return false;
}
