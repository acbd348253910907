/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bend.c: the best circle near a start, sought as a bent line.
 *
 * Centre and radius are poor unknowns for a short arc: both run away together
 * and take the digits with them.  A bent line has a foot that lies among the
 * touches, a direction there, and a bend that passes through zero without
 * harm (Chernov, Circular and Linear Regression (2010), 3.3-3.4, on the same
 * idea in the coefficients of the circle's equation).  With u along and v
 * across the line at the foot and q = 2 v - bend (u^2 + v^2), a touch lies
 *     g = q / (1 + root),  root = sqrt(1 - bend q) = distance to centre / r
 * to the left of it; nothing cancels, however long the radius.  From
 *     2 g - bend g^2 = q
 * follow the derivatives by (shift, turn, bend) that `add_touch` forms; for a
 * short arc they go as 1, u, u^2, and stay independent; for a full turn as
 * cos, sin, 1 - cos of the angle from the foot.
 *
 * The steps are Newton's with the full second derivatives, damped as
 * Levenberg (Quart. Appl. Math. 2 (1944) 164-168) and Marquardt (J. SIAM 11
 * (1963) 431-441) do where the sum is not yet convex or did not fall. */
#include "bend.h"

#include <float.h>

#define STEPS_MAX 400
/* A step that moves the touches' distances by no more than this share of what
 * they amount to is the last: Newton squares it. */
#define LAST_STEP 0x1p-27
#define DAMPING_FIRST 0x1p-10
#define DAMPING_MAX 0x1p+60
#define BLOCK 512

enum { SHIFT, TURN, BEND, FREE };

/* Sums at a bend; upper triangles in order 00 01 02 11 12 22. */
typedef struct normal {
    double ssr;
    double g[3]; /* half the gradient of ssr */
    double j[6]; /* products of first derivatives */
    double h[6]; /* g times second derivatives */
} normal;

typedef struct tally {
    lanes ssr, g[3], j[6], h[6];
} tally;

static inline void add_touch(tally *t, lanes u, lanes v, lanes bend, lanes on)
{
    const lanes one = lanes_all(1), half = lanes_all(0.5);
    lanes q = 2 * v - bend * (u * u + v * v);
    lanes root = lanes_root(lanes_larger(one - bend * q, lanes_all(0)));
    lanes g = q / (one + root);
    /* a touch in the centre has no direction; it is given a steep one */
    lanes w = one / lanes_larger(root, lanes_all(DBL_EPSILON));
    lanes a0 = (bend * v - one) * w;
    lanes a1 = -(u * w);
    lanes a2 = (g * g - u * u - v * v) * half * w;

    g = g * on;
    t->ssr += g * g;
    t->g[0] += g * a0;
    t->g[1] += g * a1;
    t->g[2] += g * a2;
    t->j[0] += a0 * a0 * on;
    t->j[1] += a0 * a1 * on;
    t->j[2] += a0 * a2 * on;
    t->j[3] += a1 * a1 * on;
    t->j[4] += a1 * a2 * on;
    t->j[5] += a2 * a2 * on;
    lanes gw = g * w;
    t->h[0] += gw * (bend * (a0 * a0 - one));
    t->h[1] += gw * (bend * (a0 * a1 - u));
    t->h[2] += gw * (g * a0 + bend * a0 * a2 + v);
    t->h[3] += gw * (bend * a1 * a1 - v);
    t->h[4] += gw * (g * a1 + bend * a1 * a2);
    t->h[5] += gw * (2 * g * a2 + bend * a2 * a2);
}

static void add_block(const jaw__view *view, size_t from, const jaw__bend *at,
                      normal *sum)
{
    const size_t n = view->n - from < BLOCK ? view->n - from : BLOCK;
    const lanes bend = lanes_all(at->bend);
    tally t;
    lanes u, v;

    t.ssr = lanes_all(0);
    for (int k = 0; k < 6; k++)
        t.g[k / 2] = t.j[k] = t.h[k] = t.ssr;
    for (size_t i = 0; i < n; i += JAW__LANES) {
        jaw__look(view, view->p + from + i, n - i, at->foot, at->turn, &u, &v);
        add_touch(&t, u, v, bend, lanes_mask(n - i));
    }
    sum->ssr += lanes_sum(t.ssr);
    for (int k = 0; k < 3; k++)
        sum->g[k] += lanes_sum(t.g[k]);
    for (int k = 0; k < 6; k++) {
        sum->j[k] += lanes_sum(t.j[k]);
        sum->h[k] += lanes_sum(t.h[k]);
    }
}

static normal survey(const jaw__view *view, const jaw__bend *at)
{
    normal sum = {0, {0}, {0}, {0}};

    for (size_t i = 0; i < view->n; i += BLOCK)
        add_block(view, i, at, &sum);
    return sum;
}

static const int place[3][3] = {{0, 1, 2}, {1, 3, 4}, {2, 4, 5}};

/* Lower Cholesky factor of m (order n) in place; false when not positive. */
static bool factor(double m[3][3], int n)
{
    for (int i = 0; i < n; i++) {
        for (int k = 0; k < i; k++) {
            for (int l = 0; l < k; l++)
                m[i][k] -= m[i][l] * m[k][l];
            m[i][k] /= m[k][k];
            m[i][i] -= m[i][k] * m[i][k];
        }
        if (!(m[i][i] > 4 * DBL_EPSILON))
            return false;
        m[i][i] = sqrt(m[i][i]);
    }
    return true;
}

static void substitute(double m[3][3], int n, double x[3])
{
    for (int i = 0; i < n; i++) {
        for (int k = 0; k < i; k++)
            x[i] -= m[i][k] * x[k];
        x[i] /= m[i][i];
    }
    for (int i = n - 1; i >= 0; i--) {
        for (int k = i + 1; k < n; k++)
            x[i] -= m[k][i] * x[k];
        x[i] /= m[i][i];
    }
}

/* Step from sums s, columns brought to unit length first. */
static bool next_step(const normal *s, double damping, int n, double x[3])
{
    double m[3][3], d[3];

    for (int i = 0; i < n; i++) {
        d[i] = sqrt(s->j[place[i][i]]);
        if (!(d[i] > 0))
            return false;
    }
    for (int i = 0; i < n; i++)
        for (int k = 0; k < n; k++)
            m[i][k] = (s->j[place[i][k]] + s->h[place[i][k]]) / d[i] / d[k];
    for (int i = 0; i < n; i++) {
        m[i][i] += damping;
        x[i] = -s->g[i] / d[i];
    }
    if (!factor(m, n))
        return false;
    substitute(m, n, x);
    for (int i = 0; i < n; i++)
        x[i] /= d[i];
    for (int i = n; i < 3; i++)
        x[i] = 0;
    return true;
}

/* By how much the step moves the distances, root mean square. */
static double stir(const normal *s, const double x[3], size_t n)
{
    double sum = 0;

    for (int i = 0; i < 3; i++)
        for (int k = 0; k < 3; k++)
            sum += x[i] * s->j[place[i][k]] * x[k];
    return sqrt(fmax(sum, 0) / (double)n);
}

/* Steps beyond these sizes mean nothing: half a radius, half a radian, and a
 * bend that doubles, or appears over the length of the touches. */
static bool shorten(const jaw__bend *at, double length, double x[3])
{
    double cut = 1;
    const double most[3] = {0.5 / fabs(at->bend), 0.5,
                            fmax(fabs(at->bend), 1 / length)};

    for (int i = 0; i < 3; i++)
        if (fabs(x[i]) > cut * most[i])
            cut = most[i] / fabs(x[i]);
    for (int i = 0; i < 3; i++)
        x[i] *= cut;
    return cut < 1;
}

static jaw__bend moved(const jaw__bend *at, const double x[3])
{
    jaw__bend to = *at;

    to.turn = jaw__turn_by(at->turn, (jaw__turn){cos(x[TURN]), sin(x[TURN])});
    to.foot.x -= to.turn.s * x[SHIFT];
    to.foot.y += to.turn.c * x[SHIFT];
    to.bend += x[BEND];
    return to;
}

/* What the touches' distances from a line and the bow amount to. */
static double amount(const jaw__shape *shape, double bend)
{
    const double n = (double)shape->line.view[0].n;
    const double along = sqrt(shape->line.uu / n);

    return sqrt(shape->line.vv / n) +
           along * fmin(along * fabs(bend), 1);
}

bool jaw__bend_settle(const jaw__shape *shape, const jaw__bend *start,
                      bool known, jaw__found *found)
{
    const jaw__view *view = &shape->line.view[0];
    const double slack = 4 * DBL_EPSILON * (double)view->n;
    const double length = sqrt(shape->line.uu / (double)view->n);
    const int unknowns = known ? BEND : FREE;
    normal here = survey(view, start), next;
    double damping = 0, x[3];

    found->at = *start;
    for (int step = 0; step < STEPS_MAX && damping < DAMPING_MAX; step++) {
        if (!next_step(&here, damping, unknowns, x)) {
            damping = fmax(4 * damping, DAMPING_FIRST);
            continue;
        }
        bool cut = shorten(&found->at, length, x);
        double share = stir(&here, x, view->n) / amount(shape, found->at.bend);
        jaw__bend to = moved(&found->at, x);
        next = survey(view, &to);
        /* near the end the fall of the sum drowns in its rounding */
        double allow = share < 0x1p-12 ? 1 + slack : 1;
        if (!(next.ssr <= here.ssr * allow) && share > LAST_STEP) {
            damping = fmax(4 * damping, DAMPING_FIRST);
            continue;
        }
        found->at = to;
        found->ssr = next.ssr;
        if (share <= LAST_STEP && damping == 0 && !cut)
            return true;
        here = next;
        damping = damping > DAMPING_FIRST ? damping / 8 : 0;
    }
    return false;
}

/* A circle that was come to from afar may have its foot anywhere, even across
 * from the touches; then it is taken up again from the foot next to them. */
void jaw__bend_near(const jaw__shape *shape, bool known, jaw__found *found)
{
    const double n = (double)shape->line.view[0].n;
    const jaw_vec2 foot = found->at.foot;
    const double reach = 2 * (shape->line.uu + shape->line.vv) / n;
    jaw__found near;

    if (foot.x * foot.x + foot.y * foot.y <= reach)
        return;
    jaw__bend start = jaw__bend_circle(jaw__bend_centre(&found->at),
                                       1 / fabs(found->at.bend));
    start.bend = fabs(found->at.bend);
    if (jaw__bend_settle(shape, &start, known, &near))
        *found = near;
}

jaw__bend jaw__bend_circle(jaw_vec2 centre, double r)
{
    double far = hypot(centre.x, centre.y);
    jaw__bend at = {{centre.x, centre.y - r}, {1, 0}, 1 / r};

    if (far > r * 0x1p-20) {
        at.turn = (jaw__turn){centre.y / far, -centre.x / far};
        at.foot.x = centre.x * (1 - r / far);
        at.foot.y = centre.y * (1 - r / far);
    }
    return at;
}

jaw_vec2 jaw__bend_centre(const jaw__bend *at)
{
    return (jaw_vec2){at->foot.x - at->turn.s / at->bend,
                      at->foot.y + at->turn.c / at->bend};
}
