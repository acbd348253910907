/* SPDX-License-Identifier: GPL-3.0-or-later */
/* curved.c: the best sphere or cylinder near a start, sought as a bent plane:
 * bend.c in space (its reasons stand there).  The model is that of Forbes, NPL
 * Report DITC 140/89, and Shakarji, J. Res. NIST 103 (1998) 633-641, in other
 * unknowns: of a small patch the centre runs away with the radius and takes
 * the digits with it; the foot stays.
 *
 * Seen from the foot a touch has t along axis[0], u along axis[1] and v along
 * the normal.  With z = t^2 + u^2 + v^2 for a sphere, u^2 + v^2 for a cylinder,
 * and q = 2 v - bend z, it lies
 *     g = q / (1 + root),  root = sqrt(1 - bend q) = distance / r
 * on the side of the normal.  From 2 g - bend g^2 = q follow all derivatives
 * by (shift, pitch, roll, yaw, bend); those of a patch go as 1, t, u, t u,
 * t^2 + u^2 (u^2 of a cylinder).
 *
 * The steps are Newton's with the full second derivatives, damped as by
 * Levenberg and Marquardt. */
#include "curved_passes.h"

#define STEPS_MAX 200
#define DAMPING_FIRST 0x1p-10
#define DAMPING_MAX 0x1p+60

/* Step from sums s; what may not move is an unknown of its own, and 0.  A pivot
 * is positive when it is more than rounding of what the column holds. */
static bool next_step(const jaw__normal *s, double damping,
                      const bool free[JAW__FREE], double x[JAW__FREE])
{
    double m[JAW__SOLVE_MOST][JAW__SOLVE_MOST], least[JAW__FREE];

    JAW__UNROLL
    for (int i = 0; i < JAW__FREE; i++) {
        JAW__UNROLL
        for (int k = 0; k < i; k++)
            m[i][k] = free[i] && free[k] ? s->m[jaw__place[k][i]] : 0;
        m[i][i] = s->m[jaw__place[i][i]] + damping * s->size[i];
        least[i] = 4 * DBL_EPSILON * s->size[i];
        x[i] = -s->g[i];
        if (free[i] && !(s->size[i] > 0))
            return false;
        if (!free[i]) {
            m[i][i] = 1;
            least[i] = x[i] = 0;
        }
    }
    return jaw__solve(JAW__FREE, m, least, x);
}

/* By how much the step moves the distances, root mean square, at most. */
static double stir(const jaw__normal *s, const double x[JAW__FREE], size_t n)
{
    double sum = 0;

    for (int i = 0; i < JAW__FREE; i++)
        sum += fabs(x[i]) * sqrt(s->size[i]);
    return sum / sqrt((double)n);
}

/* Steps beyond these sizes mean nothing: half a radius, half a radian, and a
 * bend that doubles, or appears over the length of the touches. */
static bool shorten(const jaw__curved *at, double length, double x[JAW__FREE])
{
    const double most[JAW__FREE] = {0.5 / fabs(at->bend), 0.5, 0.5, 0.5,
                                    fmax(fabs(at->bend), 1 / length)};
    double cut = 1;

    for (int i = 0; i < JAW__FREE; i++)
        if (fabs(x[i]) > cut * most[i])
            cut = most[i] / fabs(x[i]);
    for (int i = 0; i < JAW__FREE; i++)
        x[i] *= cut;
    return cut < 1;
}

/* Turned by the three angles at once: I + B + B^2 / 2, which is a rotation but
 * for the fourth order, and made one. */
static void turn(const double x[JAW__FREE], double axis[3][3])
{
    const double f = x[JAW__PITCH], r = x[JAW__ROLL], y = x[JAW__YAW];
    const double e[3][3] = {
        {-(y * y + f * f) / 2, y - f * r / 2, f + y * r / 2},
        {-y - f * r / 2, -(y * y + r * r) / 2, r - y * f / 2},
        {-f + y * r / 2, -r - y * f / 2, -(f * f + r * r) / 2}};
    double was[3][3];

    for (int i = 0; i < 9; i++)
        was[i / 3][i % 3] = axis[i / 3][i % 3];
    for (int i = 0; i < 3; i++)
        for (int l = 0; l < 3; l++)
            axis[i][l] += e[i][0] * was[0][l] + e[i][1] * was[1][l] +
                          e[i][2] * was[2][l];
    jaw__curved_axes(axis);
}

static jaw__curved moved(const jaw__curved *at, const double x[JAW__FREE])
{
    jaw__curved to = *at;

    turn(x, to.axis);
    for (int i = 0; i < 3; i++)
        to.foot[i] += to.axis[2][i] * x[JAW__SHIFT];
    to.bend += x[JAW__BEND];
    return to;
}

/* What a step is measured by: what the touches' distances from a plane and the
 * bow amount to, and of a whole turn the radius, which is what bends the sum. */
static double amount(const jaw__bulk *bulk, const jaw__curved *at)
{
    const double wide = sqrt(jaw__wide(bulk, at));
    const double r = 1 / fabs(at->bend), thin = sqrt(bulk->extent[2]);

    if (at->bend == 0)
        return bulk->reach;
    return wide > r ? r + fmin(thin, r) : thin + wide * wide / r;
}

/* A step is the last when what it leaves is rounding.  Newton takes all but the
 * second order, by which a touch moves no more than this: a turn moves it along
 * an arc, and whatever moves it along the surface, off that by the bend. */
static bool leaves_little(const jaw__bulk *bulk, const jaw__curved *at,
                          const double x[JAW__FREE])
{
    const double far = 2 * bulk->reach;
    const double turn = fabs(x[JAW__PITCH]) + fabs(x[JAW__ROLL]) +
                        fabs(x[JAW__YAW]);
    const double move = fabs(x[JAW__SHIFT]) + far * turn +
                        2 * jaw__wide(bulk, at) * fabs(x[JAW__BEND]);

    return fabs(at->bend) * move * move + far * turn * turn <=
           DBL_EPSILON * bulk->reach;
}

/* By how much a step changes the sum: half its slope, as it is Newton's. */
static double fall(const jaw__normal *s, const double x[JAW__FREE])
{
    double sum = 0;

    for (int i = 0; i < JAW__FREE; i++)
        sum += s->g[i] * x[i];
    return sum;
}

/* And what the second order makes of the slopes comes back larger the less the
 * touches determine what moves: as the steps show, of which each is the square
 * of the one before times the same factor, so that the next is this one times
 * the square of how it fell short of the last.  move, before: by how much two
 * steps move the distances, root mean square; before: infinite when that was
 * not Newton's, which shows nothing. */
static bool next_is_nothing(const jaw__bulk *bulk, double move, double before)
{
    const double rounding = DBL_EPSILON * bulk->reach;
    const double share = isfinite(before) ? move / before : 1;

    return move <= 2 * rounding || move * share * share <= rounding;
}

/* Whether the sum fell; near the end its fall drowns in its rounding. */
static bool is_less(const jaw__search *search, const jaw__curved *at,
                    const jaw__normal *here, const double x[JAW__FREE],
                    double ssr)
{
    const size_t n = search->space->n;
    const double slack = 4 * DBL_EPSILON * (double)n;

    return ssr <= here->ssr ||
           (ssr <= here->ssr * (1 + slack) &&
            stir(here, x, n) < 0x1p-12 * amount(search->bulk, at));
}

bool jaw__settle(const jaw__search *search, const jaw__curved *start,
                 jaw__rest *rest)
{
    const jaw__curved_passes *passes = jaw__curved_passes_best();
    jaw__normal here = passes->survey(search->space, start), next;
    double damping = 0, before = HUGE_VAL, x[JAW__FREE];

    *rest = (jaw__rest){*start, here.ssr};
    for (int step = 0; step < STEPS_MAX && damping < DAMPING_MAX; step++) {
        if (!next_step(&here, damping, search->free, x)) {
            damping = fmax(4 * damping, DAMPING_FIRST);
            continue;
        }
        bool cut = shorten(&rest->at, search->bulk->reach, x);
        const bool newton = damping == 0 && !cut;
        const double gain = fall(&here, x);
        const double move = sqrt(fabs(gain) / (double)search->space->n);
        const bool little = leaves_little(search->bulk, &rest->at, x);
        jaw__curved to = moved(&rest->at, x);
        if (newton && little && next_is_nothing(search->bulk, move, before)) {
            *rest = (jaw__rest){to, fmax(here.ssr + gain, 0)};
            return true;
        }
        next = passes->survey(search->space, &to);
        if (!little && !is_less(search, &rest->at, &here, x, next.ssr)) {
            damping = fmax(4 * damping, DAMPING_FIRST);
            continue;
        }
        *rest = (jaw__rest){to, next.ssr};
        before = newton ? move : HUGE_VAL;
        here = next;
        damping = damping > DAMPING_FIRST ? damping / 8 : 0;
    }
    return false;
}

void jaw__settle_near(const jaw__search *search, jaw__rest *rest)
{
    const double *foot = rest->at.foot, reach = search->bulk->reach;
    double c[3];
    jaw__rest near;

    if (jaw__dot3(foot, foot) <= 2 * reach * reach)
        return;
    jaw__curved_centre(&rest->at, c);
    jaw__curved start = jaw__curved_round(
        c, 1 / fabs(rest->at.bend), rest->at.round ? NULL : rest->at.axis[0]);
    start.bend = fabs(rest->at.bend);
    if (jaw__settle(search, &start, &near))
        *rest = near;
}
