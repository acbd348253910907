/* SPDX-License-Identifier: GPL-3.0-or-later */
/* wide_body.h: the short way to a circle that was touched well round, which is
 * what nearly every bore and boss is.
 *
 * Start: Kasa, IEEE Trans. Instrum. Meas. 25 (1976) 8-14.  Then the radius is
 * eliminated (it is the mean distance d from the centre) and the centre alone
 * sought: per touch the sum of squares is mean d^2 - (mean d)^2, of which
 * the first part is a parabola, so that all that is not comes from mean d.
 * With e the unit vector to a touch, n square to it and w = 1 / d,
 *     d(c + h) = d - e.h + (n.h)^2 w / 2 + (e.h) (n.h)^2 w^2 / 2 + O(h^4)
 * gives Newton's step and its third-order correction (Chebyshev's) from one
 * pass over the touches.  A last pass takes the residuals and shows by the
 * step that would follow that nothing is left to gain; of many touches, when
 * no residuals are wanted, the same expansion gives what it would have found.
 *
 * Whatever is not plainly well determined is left to bend.c.
 *
 * Once for each width of lanes, as passes_body.h; not a header of its own. */
#include "bend.h"
#include "long.h"

#include <float.h>

/* The lesser of the touches' principal extents squared against the sum of
 * both: below this arcs are short, and x, y, r lose digits; bend.c does not. */
#define WIDE_SHARE 0.03
/* Extent over coordinate: beyond, a way is needed that minds its rounding. */
#define NEAR_SHARE 0x1p-30
#define ROUNDS_MAX 4
/* What is known before the centre is sought. */
typedef struct outset {
    double part;  /* 1 / n */
    double least; /* the lesser principal sum of squares, at least */
} outset;

/* Inverse of half the second derivatives of the sum of squares per touch. */
typedef struct bowl {
    double a, b, c; /* [a b; b c] */
    double steep;   /* at most the lesser eigenvalue of the matrix inverted */
} bowl;

/* What a step does to the mean distance. */
typedef struct stepped {
    double x, y;
    double first, second; /* terms of the mean distance */
    double late;          /* what the trial's radius lacks of the second */
} stepped;

/* False also for whatever is not finite: every comparison with it fails. */
LANES_FN bool kasa(const jaw__touches *t, outset *o, jaw__trial *at)
{
    const jaw_vec2 p = *t->p;
    const jaw__moments m = moments(t, p);
    const double n = (double)t->n, part = 1 / n;
    const double xx = m.xx - m.x * m.x * part, yy = m.yy - m.y * m.y * part;
    const double xy = m.xy - m.x * m.y * part, z = (m.xx + m.yy) * part;
    const double xz = m.xz - m.x * z, yz = m.yz - m.y * z;
    const double det = xx * yy - xy * xy, both = xx + yy;
    const double far = (fabs(p.x) + fabs(p.y)) * NEAR_SHARE;

    if (!(det > WIDE_SHARE * both * both && both > far * far * n &&
          both > JAW__SMALLEST && both < JAW__LARGEST))
        return false;
    const double half = 0.5 / det;
    const double a = (xz * yy - yz * xy) * half;
    const double b = (yz * xx - xz * xy) * half;
    *o = (outset){part, 2 * half * det * det / both};
    const double square = a * a + b * b + z - 2 * (a * m.x + b * m.y) * part;
    *at = (jaw__trial){p, a, b, sqrt(square)};
    return true;
}

LANES_FN void per_touch(jaw__slopes *s, double part)
{
    s->f *= part;
    s->fu *= part;
    s->fv *= part;
    s->u *= part;
    s->v *= part;
    s->wuu *= part;
    s->wuv *= part;
    s->wvv *= part;
    s->wwuuu *= part;
    s->wwuuv *= part;
    s->wwuvv *= part;
    s->wwvvv *= part;
}

LANES_FN bool bowl_of(const jaw__slopes *s, double r, bowl *k)
{
    const double a = 1 - s->u * s->u - r * s->wvv;
    const double b = r * s->wuv - s->u * s->v;
    const double c = 1 - s->v * s->v - r * s->wuu;
    const double det = a * c - b * b, inverse = 1 / det;

    *k = (bowl){c * inverse, -b * inverse, a * inverse, det / (a + c)};
    return det > 0 && a + c > 0;
}

/* Newton's step and Chebyshev's correction; slopes per touch. */
LANES_FN bool step(const jaw__slopes *s, jaw__trial *at, bowl *k, stepped *did)
{
    const double r = at->r + s->f;

    if (!bowl_of(s, r, k))
        return false;
    double gx = s->fu - s->f * s->u, gy = s->fv - s->f * s->v;
    double x = k->a * gx + k->b * gy, y = k->b * gx + k->c * gy;
    double xx = x * x, xy = x * y, yy = y * y;
    double along = s->u * x + s->v * y;
    double wx = s->wvv * x - s->wuv * y, wy = s->wuu * y - s->wuv * x;
    double curve = (wx * x + wy * y) / 2;
    double tx = (s->wwuvv * xx - 2 * s->wwuuv * xy + s->wwuuu * yy) / 2 +
                s->wwuvv * (xx - yy) - (s->wwuuv - s->wwvvv) * xy;
    double ty = (s->wwvvv * xx - 2 * s->wwuvv * xy + s->wwuuv * yy) / 2 -
                s->wwuuv * (xx - yy) + (s->wwuuu - s->wwuvv) * xy;
    double bx = s->u * curve + along * wx - r * tx;
    double by = s->v * curve + along * wy - r * ty;
    x -= k->a * bx + k->b * by;
    y -= k->b * bx + k->c * by;
    at->a += x;
    at->b += y;
    const double first = -(s->u * x + s->v * y);
    const double second =
        (s->wvv * x * x - 2 * s->wuv * x * y + s->wuu * y * y) / 2;
    *did = (stepped){x, y, first, second, second - curve};
    at->r = r + first + curve;
    return true;
}

/* Newton's step from the last pass, which is taken too.  True when it moves no
 * touch's distance by more than rounding does, so that the residuals of this
 * pass stand. */
LANES_FN bool at_rest(jaw__closes *s, jaw__trial *at, const bowl *k)
{
    const double gx = s->fu - s->f * s->u, gy = s->fv - s->f * s->v;
    const double x = k->a * gx + k->b * gy, y = k->b * gx + k->c * gy;
    const double rest = DBL_EPSILON * at->r;

    if (!((x * x + y * y) * k->steep <= rest * rest))
        return false;
    at->a += x;
    at->b += y;
    at->r -= s->u * x + s->v * y;
    return true;
}

LANES_FN void report(const jaw__closes *s, const jaw__trial *at, double ssr,
                   double part, size_t n, jaw_circle *c)
{
    const double a = s->uu - s->u * s->u, b = s->uv - s->u * s->v;
    const double d = (1 - s->uu) - s->v * s->v;
    const double k = part / (a * d - b * b);
    double *q = c->q;

    q[0] = d * k;
    q[1] = -b * k;
    q[3] = a * k;
    q[2] = -(q[0] * s->u + q[1] * s->v);
    q[4] = -(q[1] * s->u + q[3] * s->v);
    q[5] = part - (q[2] * s->u + q[4] * s->v);
    c->x = at->from.x + at->a;
    c->y = at->from.y + at->b;
    c->r = at->r + s->f;
    jaw__circle_finish(c, ssr, (double)n, (double)n - 3, 1);
}

LANES_FN bool few(const jaw__touches *t, jaw_circle *c, double resid[])
{
    outset o;
    jaw__trial at;
    bowl k;
    stepped did;

    if (!kasa(t, &o, &at))
        return false;
    for (int round = 0; round < ROUNDS_MAX; round++) {
        jaw__slopes s = slopes(t, &at);
        per_touch(&s, o.part);
        if (!step(&s, &at, &k, &did))
            return false;
        jaw__closes last = closes(t, &at, resid);
        const double p = o.part;
        double ssr = last.ff - last.f * last.f * p;
        last = (jaw__closes){last.f * p,  last.ff,    last.fu * p, last.fv * p,
                             last.u * p, last.v * p, last.uu * p, last.uv * p};
        if (!(ssr <= JAW__CLEAR_SHARE * o.least))
            return false;
        if (!at_rest(&last, &at, &k))
            continue;
        report(&last, &at, ssr, p, t->n, c);
        for (size_t i = 0; resid && i < t->n; i++)
            resid[i] -= last.f;
        return true;
    }
    return false;
}

/* What a pass at the new centre would find, by expansion from the old. */
LANES_FN double foresee(const jaw__both *b, const stepped *did, double part,
                      double r, jaw__closes *s)
{
    const jaw__slopes *o = &b->s;
    const double x = did->x, y = did->y;
    const double gx = o->fu - o->f * o->u, gy = o->fv - o->f * o->v;
    const double third = (o->wwuvv * x * x * x + o->wwuuv * y * y * y +
                          (o->wwvvv - 2 * o->wwuuv) * x * x * y +
                          (o->wwuuu - 2 * o->wwuvv) * x * y * y) / 2;
    const double bent = did->second + third;
    const double spread = b->ff * part - o->f * o->f;

    *s = (jaw__closes){.f = did->late + third,
                       .u = o->u - (o->wvv * x - o->wuv * y),
                       .v = o->v - (o->wuu * y - o->wuv * x)};
    /* in these the step is one factor, so that w may stand for 1 / r */
    s->uu = part * b->uu + 2 * r * (o->wwuuv * y - o->wwuvv * x);
    s->uv = part * b->uv + r * ((o->wwuuv - o->wwvvv) * x +
                                (o->wwuvv - o->wwuuu) * y);
    return spread - 2 * (x * gx + y * gy) + x * x + y * y -
           did->first * did->first - 2 * (r + did->first) * bent - bent * bent;
}

/* The expansion leaves out the fourth power of the step, of which each touch
 * has its share, and of the square what passes_body.h does, the square of what
 * the touches are off; neither must count against rounding.  off: the mean
 * square of that. */
LANES_FN bool is_tiny(const stepped *did, const jaw__trial *at, double off,
                      const bowl *k)
{
    const double share = hypot(did->x, did->y) / at->r;

    return share * share * (share + off / (at->r * at->r)) <=
           4 * DBL_EPSILON * k->steep;
}

PASS_FN bool many(const jaw__touches *t, jaw_circle *c)
{
    const jaw__touches sample = {t->p, JAW__SAMPLE, t->n / JAW__SAMPLE};
    const double part = 1 / (double)t->n;
    outset o;
    jaw__trial at;
    bowl k;
    stepped did;
    jaw__closes last;

    if (!kasa(&sample, &o, &at))
        return false;
    jaw__slopes s = slopes(&sample, &at);
    per_touch(&s, o.part);
    if (!step(&s, &at, &k, &did))
        return false;
    for (int round = 0; round < ROUNDS_MAX; round++) {
        jaw__both b = both(t, &at);
        per_touch(&b.s, part);
        double r = at.r + b.s.f;
        if (!step(&b.s, &at, &k, &did))
            return false;
        if (!is_tiny(&did, &at, b.ff * part, &k))
            continue;
        double spread = foresee(&b, &did, part, r, &last);
        if (!(spread * JAW__SAMPLE <= JAW__CLEAR_SHARE * o.least))
            return false;
        report(&last, &at, fmax(spread, 0) * (double)t->n, part, t->n, c);
        return true;
    }
    return false;
}

PASS_FN bool circle(const jaw_vec2 p[], size_t n, jaw_circle *c,
                    double resid[])
{
    const jaw__touches all = {p, n, 1};

    if (n >= JAW__MANY && !resid)
        return many(&all, c);
    return few(&all, c, resid);
}
