/* SPDX-License-Identifier: GPL-3.0-or-later */
/* found.c: a circle that was found, with everything known of it: its
 * cofactors are formed along and across the direction at the foot, where even
 * a short arc leaves them their digits, and then turned to x and y. */
#include "bend.h"

#define BLOCK 512

/* Sums over the touches of t = sin and k = 1 - cos of the angle at the centre,
 * counted from the foot. */
typedef struct spread {
    double t, k, tt, tk, kk;
} spread;

/* A symmetric 2 x 2 matrix. */
typedef struct square {
    double a, b, c; /* [a b; b c] */
} square;

static void add_block(const jaw__view *view, size_t from, const jaw__bend *at,
                      double side, double resid[], spread *sum)
{
    const size_t n = view->n - from < BLOCK ? view->n - from : BLOCK;
    const lanes zero = lanes_all(0), one = lanes_all(1);
    const lanes bend = lanes_all(at->bend);
    lanes st = zero, sk = zero, tt = zero, tk = zero, kk = zero, u, v;

    for (size_t i = 0; i < n; i += JAW__LANES) {
        lanes on = lanes_mask(n - i);
        jaw__look(view, view->p + from + i, n - i, at->foot, at->turn, &u, &v);
        lanes q = 2 * v - bend * (u * u + v * v);
        lanes root = lanes_root(lanes_larger(one - bend * q, zero));
        lanes w = on / lanes_larger(root, lanes_all(DBL_EPSILON));
        lanes t = bend * u * w;
        lanes cosine = (one - bend * v) * w;
        lanes ahead = lanes_larger(cosine, zero), back = ahead - cosine;
        /* 1 - cos without cancelling: sin^2 / (1 + cos) ahead of the foot's
         * quarter turn, 1 + |cos| beyond */
        lanes k = (t * t + back * back) / (one + ahead) + back;
        st += t;
        sk += k;
        tt += t * t;
        tk += t * k;
        kk += k * k;
        if (resid)
            lanes_store_some(q / (one + root) * lanes_all(side),
                             resid + from + i, n - i);
    }
    sum->t += lanes_sum(st);
    sum->k += lanes_sum(sk);
    sum->tt += lanes_sum(tt);
    sum->tk += lanes_sum(tk);
    sum->kk += lanes_sum(kk);
}

static square inverse(square m, double n)
{
    double det = m.a * m.c - m.b * m.b;

    return (square){m.c / det / n, -m.b / det / n, m.a / det / n};
}

/* Singular to rounding, whatever the scale of either column. */
static bool singular(square m, size_t n)
{
    double det = m.a * m.c - m.b * m.b;

    return !(det > jaw__noise(1, n) * m.a * m.c);
}

/* Turned by t: from along and across to x and y. */
static square turned(square m, jaw__turn t)
{
    double cc = t.c * t.c, cs = t.c * t.s, ss = t.s * t.s;

    return (square){cc * m.a - 2 * cs * m.b + ss * m.c,
                    cs * (m.a - m.c) + (cc - ss) * m.b,
                    ss * m.a + 2 * cs * m.b + cc * m.c};
}

/* The radius free: its row and column are eliminated first, which leaves the
 * spread of the directions about their mean. */
static bool cofactors_free(const spread *sum, size_t count, double side,
                           jaw__turn turn, double q[6])
{
    const double n = (double)count, t = sum->t / n, k = sum->k / n;
    const double along = side * t, across = side * (k - 1);
    square m = {sum->tt / n - t * t, sum->tk / n - t * k, sum->kk / n - k * k};

    if (singular(m, count))
        return false;
    m = inverse(m, n);
    double ra = -(m.a * along + m.b * across);
    double rb = -(m.b * along + m.c * across);
    q[5] = 1 / n - (ra * along + rb * across);
    m = turned(m, turn);
    q[0] = m.a;
    q[1] = m.b;
    q[3] = m.c;
    q[2] = turn.c * ra - turn.s * rb;
    q[4] = turn.s * ra + turn.c * rb;
    return true;
}

static bool cofactors_known(const spread *sum, size_t count, jaw__turn turn,
                            double q[6])
{
    const double n = (double)count;
    square m = {sum->tt / n, (sum->tk - sum->t) / n,
                1 - (2 * sum->k - sum->kk) / n};

    if (singular(m, count))
        return false;
    m = turned(inverse(m, n), turn);
    q[0] = m.a;
    q[1] = m.b;
    q[3] = m.c;
    q[2] = q[4] = q[5] = 0;
    return true;
}

jaw_status jaw__bend_report(const jaw__shape *shape, const jaw__found *found,
                            bool known, jaw_circle *c, double resid[])
{
    const jaw__view *view = &shape->line.view[0];
    const jaw__bend *at = &found->at;
    const double side = copysign(1, at->bend), unit = view->unit;
    spread sum = {0, 0, 0, 0, 0};

    for (size_t i = 0; i < view->n; i += BLOCK)
        add_block(view, i, at, -side / unit, resid, &sum);
    if (known ? !cofactors_known(&sum, view->n, at->turn, c->q)
              : !cofactors_free(&sum, view->n, side, at->turn, c->q))
        return JAW_ERANK;
    jaw_vec2 centre = jaw__bend_centre(at);
    c->x = (view->m.x + centre.x) / unit;
    c->y = (view->m.y + centre.y) / unit;
    c->r = 1 / fabs(at->bend) / unit;
    jaw__circle_finish(c, found->ssr, (double)view->n,
                       (double)view->n - (known ? 2 : 3), 1 / unit);
    return JAW_OK;
}

jaw_status jaw__circle_give_up(jaw_status status, size_t n, jaw_circle *c,
                               double resid[])
{
    *c = (jaw_circle){.x = JAW__NAN, .y = JAW__NAN, .r = JAW__NAN,
                      .ssr = JAW__NAN, .rms = JAW__NAN, .s = JAW__NAN};
    for (int i = 0; i < 6; i++)
        c->q[i] = c->cov[i] = JAW__NAN;
    jaw__fill_nan(resid, n);
    return status;
}
