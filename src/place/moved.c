/* SPDX-License-Identifier: GPL-3.0-or-later */
/* moved.c: by what marks moved that were found twice, and what that makes of a
 * work zero.  Before and after are the nominal and the touched place of a plate
 * (lie.c; where walls are among them, walls.c); about the marks' weighted
 * centre turn and shift are independent, so that chi-square is a sum of
 * squares. */
#include "place.h"

#include "src/base/nan.h"

#include <math.h>

#define NO_NUMBER ((double)NAN)
#define ENDLESS ((double)INFINITY)

typedef struct marks {
    jaw_vec2 from[JAW_MARKS_MAX], to[JAW_MARKS_MAX];
    double weight[JAW_MARKS_MAX], rise[JAW_MARKS_MAX], weight_z[JAW_MARKS_MAX];
} marks;

/* ------------------------------------------------------------------- given */

static bool are_spreads(const double u[2])
{
    return u[0] > 0 && u[1] > 0 && isfinite(u[0]) && isfinite(u[1]);
}

/* A face has no place in the plane, in both alike, and then it has a height. */
static bool is_face(const jaw_mark *m)
{
    return !m->wall && isnan(m->before.x) && isnan(m->before.y) &&
           isnan(m->after.x) && isnan(m->after.y) && !isnan(m->before.z);
}

static bool has_direction(const jaw_mark *m)
{
    return isfinite(m->theta[0]) && isfinite(m->theta[1]) &&
           !(m->u_theta[0] <= 0) && !(m->u_theta[1] <= 0) &&
           !isinf(m->u_theta[0]) && !isinf(m->u_theta[1]);
}

static jaw_status check(const jaw_mark *m)
{
    if (isinf(m->before.z) || isinf(m->after.z) ||
        (!is_face(m) && (!isfinite(m->before.x) || !isfinite(m->before.y) ||
                         !isfinite(m->after.x) || !isfinite(m->after.y))))
        return JAW_ENOTFINITE;
    if (isnan(m->before.z) != isnan(m->after.z) ||
        (!is_face(m) && !are_spreads(m->u_xy)) ||
        (!isnan(m->before.z) && !are_spreads(m->u_z)) ||
        (m->wall && (!has_direction(m) || !isnan(m->before.z))))
        return JAW_EDOMAIN;
    return JAW_OK;
}

static double weight_of(const double u[2])
{
    double both = hypot(u[0], u[1]);

    return 1 / (both * both);
}

static jaw__touched list(const jaw_mark mark[], size_t n, marks *m)
{
    jaw__touched t = {.from = m->from,
                      .to = m->to,
                      .weight = m->weight,
                      .rise = m->rise,
                      .weight_z = m->weight_z,
                      .spread_known = true,
                      .z_spread_known = true};

    for (size_t i = 0; i < n; i++) {
        if (!is_face(&mark[i])) {
            m->from[t.n] = (jaw_vec2){mark[i].before.x, mark[i].before.y};
            m->to[t.n] = (jaw_vec2){mark[i].after.x, mark[i].after.y};
            m->weight[t.n++] = weight_of(mark[i].u_xy);
        }
        if (isnan(mark[i].before.z))
            continue;
        m->rise[t.n_z] = mark[i].after.z - mark[i].before.z;
        m->weight_z[t.n_z++] = weight_of(mark[i].u_z);
    }
    return t;
}

/* ------------------------------------------------------------------- found */

static jaw_movement judge(double chi2, int dof)
{
    if (chi2 > jaw_trust_chi2(JAW_TRUST_ALPHA, dof))
        return JAW_MOVED;
    return chi2 > jaw_trust_chi2(JAW_STAYED_LEVEL, dof) ? JAW_UNCLEAR
                                                        : JAW_STAYED;
}

static jaw_figure known(double value, double variance)
{
    return jaw_figure_make(value, sqrt(variance), ENDLESS);
}

static double rms_of(const jaw__touched *t, const jaw__lie *lie)
{
    double sum = 0;

    for (size_t i = 0; i < t->n; i++) {
        jaw_vec2 p = jaw__lie_at(lie, t->from[i]);
        double off = hypot(t->to[i].x - p.x, t->to[i].y - p.y);
        sum += off * off;
    }
    return sqrt(sum / (double)t->n);
}

static unsigned flags_of(double ssr, int dof, bool turns)
{
    return (dof == 0 ? JAW_NO_CHECK : 0) |
           (turns ? 0 : JAW_DIRECTION_ASSUMED) |
           (jaw__too_much(ssr, dof) ? JAW_RESIDUAL : 0);
}

static void take_lie(const jaw__touched *t, const jaw__lie *lie, bool turns,
                     jaw_moved *moved)
{
    double x = lie->at.x - lie->about.x, y = lie->at.y - lie->about.y;
    double chi2 = (x * x + y * y) / lie->q_shift +
                  (turns ? lie->turn * lie->turn / lie->q_turn : 0);

    moved->about = lie->about;
    moved->shift[0] = known(x, lie->q_shift);
    moved->shift[1] = known(y, lie->q_shift);
    moved->turn = known(lie->turn, turns ? lie->q_turn : 0);
    moved->plane = judge(chi2, turns ? 3 : 2);
    moved->dof = lie->dof;
    moved->rms = lie->dof > 0 ? rms_of(t, lie) : NO_NUMBER;
    moved->flags |= flags_of(lie->ssr, lie->dof, turns);
}

static void take_walls(const jaw__walls *w, jaw_moved *moved)
{
    moved->about = w->about;
    for (int k = 0; k < 2; k++)
        if (!isnan(w->q[k]))
            moved->shift[k] = known(w->by[k], w->q[k]);
    moved->turn = known(w->turn, w->q_turn);
    moved->plane = judge(w->chi2, w->found);
    moved->dof = w->dof;
    moved->flags |= flags_of(w->ssr, w->dof, w->turns);
}

static void take_height(const jaw__rise *rise, jaw_moved *moved)
{
    moved->shift[2] = known(rise->rise, rise->q);
    moved->height = judge(rise->rise * rise->rise / rise->q, 1);
    if (jaw__too_much(rise->ssr, rise->dof))
        moved->flags |= JAW_RESIDUAL;
}

static void put_height(const jaw_mark mark[], size_t n, double rise,
                       jaw_vec3 resid[])
{
    for (size_t i = 0; resid != NULL && i < n; i++)
        resid[i] = (jaw_vec3){NO_NUMBER, NO_NUMBER,
                              mark[i].after.z - (mark[i].before.z + rise)};
}

static jaw_moved nothing(void)
{
    jaw_figure none = jaw_figure_make(NO_NUMBER, NO_NUMBER, NO_NUMBER);

    return (jaw_moved){.about = {NO_NUMBER, NO_NUMBER},
                       .shift = {none, none, none},
                       .turn = none,
                       .plane = JAW_UNCLEAR,
                       .height = JAW_UNCLEAR,
                       .rms = NO_NUMBER};
}

static jaw_status find_lie(const jaw_mark mark[], size_t n,
                           const jaw__touched *t, jaw_moved *moved,
                           jaw_vec3 resid[])
{
    bool turns = t->n > 1;
    jaw__lie lie;
    jaw_status status = jaw__lie_find(t, known(turns ? NO_NUMBER : 0, 0), &lie);

    if (status == JAW_OK && turns &&
        lie.q_turn > JAW_MOVED_TURN * JAW_MOVED_TURN) {
        turns = false;
        status = jaw__lie_find(t, known(0, 0), &lie);
    }
    if (status != JAW_OK)
        return status;
    take_lie(t, &lie, turns, moved);
    for (size_t i = 0; resid != NULL && i < n; i++) {
        if (is_face(&mark[i]))
            continue;
        jaw_vec2 p = jaw__lie_at(&lie, (jaw_vec2){mark[i].before.x,
                                                  mark[i].before.y});
        resid[i].x = mark[i].after.x - p.x;
        resid[i].y = mark[i].after.y - p.y;
    }
    return JAW_OK;
}

static jaw_status find_walls(const jaw_mark mark[], size_t n, jaw_moved *moved,
                             jaw_vec3 resid[])
{
    jaw__walls w;
    double sum = 0;
    size_t counted = 0;
    jaw_status status = jaw__walls_find(mark, n, &w);

    if (status != JAW_OK)
        return status;
    take_walls(&w, moved);
    for (size_t i = 0; i < n; i++) {
        if (is_face(&mark[i]))
            continue;
        jaw_vec2 off = jaw__walls_off(&w, &mark[i]);
        sum += off.x * off.x + off.y * off.y;
        counted++;
        if (resid != NULL) {
            resid[i].x = off.x;
            resid[i].y = off.y;
        }
    }
    if (w.dof > 0)
        moved->rms = sqrt(sum / (double)counted);
    return JAW_OK;
}

/* Faces alone show nothing of the plane. */
static void find_faces(jaw_moved *moved)
{
    moved->turn = known(0, 0);
    moved->flags |= JAW_NO_CHECK | JAW_DIRECTION_ASSUMED;
}

static bool has_wall(const jaw_mark mark[], size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (mark[i].wall)
            return true;
    return false;
}

static jaw_status find(const jaw_mark mark[], size_t n, jaw_moved *moved,
                       jaw_vec3 resid[])
{
    marks room;
    jaw__rise rise;
    jaw_status status = JAW_OK;

    for (size_t i = 0; i < n && status == JAW_OK; i++)
        status = check(&mark[i]);
    if (status != JAW_OK)
        return status;
    jaw__touched t = list(mark, n, &room);
    bool high = jaw__rise_find(&t, &rise);
    put_height(mark, n, rise.rise, resid);
    if (has_wall(mark, n))
        status = find_walls(mark, n, moved, resid);
    else if (t.n > 0)
        status = find_lie(mark, n, &t, moved, resid);
    else
        find_faces(moved);
    if (status == JAW_OK && high)
        take_height(&rise, moved);
    return status;
}

jaw_status jaw_place_moved(const jaw_mark mark[], size_t n, jaw_moved *moved,
                           jaw_vec3 resid[])
{
    *moved = nothing();
    if (n < 1 || n > JAW_MARKS_MAX)
        return n < 1 ? JAW_EFEW : JAW_EDOMAIN;
    jaw_status status = find(mark, n, moved, resid);
    if (status != JAW_OK) {
        *moved = nothing();
        jaw__fill_nan((double *)resid, 3 * n);
    }
    return status;
}

/* ----------------------------------------------------------------- carried */

/* What is not known of the one axis does not matter for the other without a
 * turn. */
static double times(double factor, double x)
{
    return factor == 0 ? 0 : factor * x;
}

void jaw_place_carry(const jaw_moved *moved, const jaw_figure before[4],
                     jaw_figure after[4])
{
    const double turn = moved->turn.value, c = cos(turn), s = sin(turn);
    const double x = before[0].value - moved->about.x;
    const double y = before[1].value - moved->about.y;
    const double arm[2] = {times(c, x) - times(s, y),
                           times(s, x) + times(c, y)};
    const double at[2] = {moved->about.x + moved->shift[0].value + arm[0],
                          moved->about.y + moved->shift[1].value + arm[1]};
    const double xx = before[0].u * before[0].u, yy = before[1].u * before[1].u;
    const double own[2] = {times(c * c, xx) + times(s * s, yy),
                           times(s * s, xx) + times(c * c, yy)};
    const jaw_figure high = before[2], turned = before[3];
    const jaw_figure *rise = &moved->shift[2];

    for (int k = 0; k < 2; k++) { /* a small turn moves x by -y and y by x */
        double u = hypot(moved->shift[k].u,
                         times(moved->turn.u, arm[1 - k]));
        after[k] = jaw__figure_of(at[k], own[k], before[k].dof, u * u);
    }
    after[2] = jaw__figure_of(high.value + rise->value, high.u * high.u,
                              high.dof, rise->u * rise->u);
    after[3] = jaw__figure_of(jaw_angle_full(turned.value + turn),
                              turned.u * turned.u, turned.dof,
                              moved->turn.u * moved->turn.u);
}
