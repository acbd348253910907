/* SPDX-License-Identifier: GPL-3.0-or-later */
/* lie.c: how a plate lies.  In the plane: weighted turn and shift (Umeyama,
 * IEEE PAMI 13 (1991) 376-380, by jaw_fit_rigid), and a turn that was measured
 * apart as one more equation; in height a weighted mean. */
#include "place.h"

#include <math.h>

#define NO_NUMBER ((double)NAN)

/* ------------------------------------------------------------------- plane */

static void weighted_means(const jaw__touched *t, jaw__lie *lie)
{
    jaw_vec2 a = {0, 0}, b = {0, 0};
    double total = 0;

    for (size_t i = 0; i < t->n; i++) {
        a.x += t->weight[i] * (t->from[i].x - t->from[0].x);
        a.y += t->weight[i] * (t->from[i].y - t->from[0].y);
        b.x += t->weight[i] * (t->to[i].x - t->to[0].x);
        b.y += t->weight[i] * (t->to[i].y - t->to[0].y);
        total += t->weight[i];
    }
    lie->about = (jaw_vec2){t->from[0].x + a.x / total,
                            t->from[0].y + a.y / total};
    lie->at = (jaw_vec2){t->to[0].x + b.x / total, t->to[0].y + b.y / total};
    lie->q_shift = 1 / total;
}

static void set_turn(jaw__lie *lie, double turn, double c, double s)
{
    lie->turn = turn;
    lie->c = c;
    lie->s = s;
}

/* The turn x from the stations' towards the given one, by `apart` of which it
 * lies off, that satisfies  pull sin x = (apart - x) / u^2.  Between 0 and
 * apart (half a turn at most) the difference of the two bends one way only, so
 * that Newton's steps from 0 come nearer from one side and never beyond. */
static double compromise(double pull, double apart, double u)
{
    const double k = u * u * pull;
    double x = 0;

    for (int round = 0; round < 100; round++) {
        double next = x - (k * sin(x) + x - apart) / (k * cos(x) + 1);
        if (!(fabs(next) > fabs(x)))
            break;
        x = next;
    }
    return x;
}

/* The given turn, and as much of the stations' as they weigh against it. */
static void weigh_turn(const jaw_rigid *fit, jaw_figure given, jaw__lie *lie)
{
    const double pull = fit->scale / fit->q_turn;
    const double apart = jaw_angle_full(given.value - fit->frame.turn);
    const double x = compromise(pull, apart, given.u);
    const double turn = jaw_angle_full(fit->frame.turn + x);
    const double over = (apart - x) / given.u;

    set_turn(lie, turn, cos(turn), sin(turn));
    lie->q_turn = 1 / (1 / fit->q_turn + 1 / given.u / given.u);
    lie->ssr = over * over;
}

static jaw_status find_turn(const jaw__touched *t, jaw_figure given,
                            jaw__lie *lie)
{
    const bool free = isnan(given.value);
    const bool weighs = given.u > 0 && t->spread_known;
    jaw_rigid fit;
    jaw_status status = JAW_ERANK; /* of one place, and when nobody asks */

    if (t->n < 1 || (free && t->n < 2))
        return JAW_EFEW;
    if (t->n >= 2 && (free || weighs))
        status = jaw_fit_rigid(t->from, t->to, t->weight, t->n, &fit, NULL);
    if (free && status != JAW_OK)
        return status;
    if (free) {
        set_turn(lie, fit.frame.turn, fit.frame.c, fit.frame.s);
        lie->q_turn = fit.q_turn;
    } else if (status == JAW_OK) {
        weigh_turn(&fit, given, lie);
    } else {
        const double turn = jaw_angle_full(given.value);
        set_turn(lie, turn, cos(turn), sin(turn));
        lie->u_turn_given = given.u;
    }
    return JAW_OK;
}

jaw_vec2 jaw__lie_at(const jaw__lie *lie, jaw_vec2 nominal)
{
    const double x = nominal.x - lie->about.x, y = nominal.y - lie->about.y;

    return (jaw_vec2){lie->at.x + lie->c * x - lie->s * y,
                      lie->at.y + lie->s * x + lie->c * y};
}

void jaw__lie_var(const jaw__lie *lie, jaw_vec2 nominal, double touches[2],
                  double given[2])
{
    const jaw_vec2 p = jaw__lie_at(lie, nominal);
    /* a small turn moves x by -dy and y by dx */
    const double arm[2] = {p.y - lie->at.y, p.x - lie->at.x};
    const double u = lie->u_turn_given;

    for (int k = 0; k < 2; k++) {
        touches[k] = lie->scale2 *
                     (lie->q_shift + lie->q_turn * arm[k] * arm[k]);
        given[k] = u * u * arm[k] * arm[k];
    }
}

jaw_status jaw__lie_find(const jaw__touched *t, jaw_figure turn, jaw__lie *lie)
{
    *lie = (jaw__lie){.dof = 2 * (int)t->n - (isnan(turn.value) ? 3 : 2)};
    jaw_status status = find_turn(t, turn, lie);
    if (status != JAW_OK)
        return status;
    weighted_means(t, lie);
    for (size_t i = 0; i < t->n; i++) {
        jaw_vec2 p = jaw__lie_at(lie, t->from[i]);
        double x = t->to[i].x - p.x, y = t->to[i].y - p.y;
        lie->ssr += t->weight[i] * (x * x + y * y);
    }
    const double dof = lie->dof;
    lie->scale2 = t->spread_known ? 1 : dof > 0 ? lie->ssr / dof : NO_NUMBER;
    lie->dof_of = t->spread_known ? (double)INFINITY
                  : dof > 0       ? dof
                                  : NO_NUMBER;
    return JAW_OK;
}

/* ----------------------------------------------------------------- figures */

bool jaw__too_much(double ssr, int dof)
{
    return dof > 0 && ssr > jaw_trust_chi2(JAW_TRUST_ALPHA, dof);
}

jaw_figure jaw__figure_of(double value, double variance, double dof,
                          double known_variance)
{
    const double u[2] = {sqrt(variance), sqrt(known_variance)};
    const double each[2] = {dof, (double)INFINITY};
    const double both = hypot(u[0], u[1]);

    if (!(both > 0))
        return jaw_figure_make(value, both, both == 0 ? each[1] : NO_NUMBER);
    jaw_figure f =
        jaw_figure_make(value, both, jaw_trust_effective_dof(u, each, 2));
    if (!isnan(f.half95))
        f.half95 = jaw_trust_within(u[0], dof, u[1]);
    return f;
}

/* ------------------------------------------------------------------ height */

bool jaw__rise_find(const jaw__touched *t, jaw__rise *rise)
{
    double total = 0, sum = 0;

    *rise = (jaw__rise){NO_NUMBER, NO_NUMBER, 0, NO_NUMBER, NO_NUMBER, 0};
    if (t->n_z < 1)
        return false;
    for (size_t i = 0; i < t->n_z; i++) {
        total += t->weight_z[i];
        sum += t->weight_z[i] * (t->rise[i] - t->rise[0]);
    }
    rise->rise = t->rise[0] + sum / total;
    rise->q = 1 / total;
    for (size_t i = 0; i < t->n_z; i++) {
        double off = t->rise[i] - rise->rise;
        rise->ssr += t->weight_z[i] * off * off;
    }
    rise->dof = (int)t->n_z - 1;
    const double dof = rise->dof;
    rise->scale2 = t->z_spread_known ? 1
                   : dof > 0         ? rise->ssr / dof
                                     : NO_NUMBER;
    rise->dof_of = t->z_spread_known ? (double)INFINITY
                   : dof > 0         ? dof
                                     : NO_NUMBER;
    return true;
}
