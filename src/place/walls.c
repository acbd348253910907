/* SPDX-License-Identifier: GPL-3.0-or-later */
/* walls.c: by what marks moved of which some are walls.  A wall shows what is
 * across it, and its direction shows a turn; a place is two walls along X and
 * Y.  Least squares by Gauss-Newton for shift and turn about the one place for
 * which the two are independent.  Chi-square is what no movement would leave
 * less what is left: where arms are short a turn is not linear enough for more.
 *
 * Along n, a row's normal before, at p from that place:
 *     n . R'(to - from) = n . R' shift + a turn,    a = n . J p
 * with J a quarter turn; as normals turn with the marks, n and a stay.
 *
 * Walls along one axis say next to nothing of a shift along them, and where
 * they run askew by a little, such a shift looks like one across.  It is then
 * one equation more: 0, with the standard deviation of an even distribution
 * within JAW_MOVED_UNSEEN (JCGM 100:2008, 4.3.7). */
#include "place.h"

#include <math.h>

typedef struct row {
    jaw_vec2 n, from, to;
    double weight, arm;
} row;

enum { ROWS_MAX = 2 * JAW_MARKS_MAX + 1 };

#define UNSEEN_WEIGHT (3 / (JAW_MOVED_UNSEEN * JAW_MOVED_UNSEEN))

typedef struct rows {
    row row[ROWS_MAX];
    size_t n;
    double theta[JAW_MARKS_MAX], weight[JAW_MARKS_MAX]; /* of directions */
    size_t n_theta;
    double sum_theta;
} rows;

static double dot(jaw_vec2 a, jaw_vec2 b)
{
    return a.x * b.x + a.y * b.y;
}

static jaw_vec2 turned(jaw_vec2 p, double turn)
{
    const double c = cos(turn), s = sin(turn);

    return (jaw_vec2){c * p.x - s * p.y, s * p.x + c * p.y};
}

/* ------------------------------------------------------------------- rows */

static void add_row(rows *r, const jaw_mark *m, jaw_vec2 n, double variance)
{
    r->row[r->n++] = (row){.n = n,
                           .from = {m->before.x, m->before.y},
                           .to = {m->after.x, m->after.y},
                           .weight = 1 / variance};
}

static bool shows_turn(const jaw_mark *m)
{
    return m->u_theta[0] > 0 && m->u_theta[1] > 0;
}

/* Found again at another stretch of it, a wall is carried there along its
 * direction, whose error adds. */
static void add_wall(rows *r, const jaw_mark *m, double variance)
{
    const double c = cos(m->theta[0]), s = sin(m->theta[0]);
    const double off = c * (m->after.x - m->before.x) +
                       s * (m->after.y - m->before.y);

    if (m->u_theta[0] > 0)
        variance += m->u_theta[0] * m->u_theta[0] * off * off;
    add_row(r, m, (jaw_vec2){-s, c}, variance);
    if (!shows_turn(m))
        return;
    double u = hypot(m->u_theta[0], m->u_theta[1]);
    r->theta[r->n_theta] = jaw_angle_half(m->theta[1] - m->theta[0]);
    r->weight[r->n_theta] = 1 / (u * u);
    r->sum_theta += r->weight[r->n_theta++];
}

static void list_rows(const jaw_mark mark[], size_t n, rows *r)
{
    *r = (rows){.n = 0};
    for (size_t i = 0; i < n; i++) {
        const jaw_mark *m = &mark[i];
        double u = hypot(m->u_xy[0], m->u_xy[1]);
        if (isnan(m->before.x))
            continue;
        if (m->wall) {
            add_wall(r, m, u * u);
            continue;
        }
        add_row(r, m, (jaw_vec2){1, 0}, u * u);
        add_row(r, m, (jaw_vec2){0, 1}, u * u);
    }
}

/* ---------------------------------------------------------------- normals */

/* The sum of weight n n', by its eigenvectors: across[0] is shown best. */
typedef struct normals {
    jaw_vec2 across[2];
    double weight[2];
    int unseen; /* axis of whose shift something is assumed; -1: none */
} normals;

static normals normals_of(const rows *r)
{
    double xx = 0, xy = 0, yy = 0;
    normals m = {.unseen = -1};

    for (size_t i = 0; i < r->n; i++) {
        const row *k = &r->row[i];
        xx += k->weight * k->n.x * k->n.x;
        xy += k->weight * k->n.x * k->n.y;
        yy += k->weight * k->n.y * k->n.y;
    }
    double half = (xx + yy) / 2, apart = hypot((xx - yy) / 2, xy);
    double angle = atan2(2 * xy, xx - yy) / 2;
    m.across[0] = (jaw_vec2){cos(angle), sin(angle)};
    m.across[1] = (jaw_vec2){-sin(angle), cos(angle)};
    m.weight[0] = half + apart;
    m.weight[1] = half - apart;
    return m;
}

/* The axis that walls along the other one do not show; -1: they run askew. */
static int unseen_of(const normals *m)
{
    if (fabs(m->across[0].x) >= JAW_MOVED_ALONG)
        return 1;
    return fabs(m->across[0].y) >= JAW_MOVED_ALONG ? 0 : -1;
}

/* The shift that is not shown, in the middle of the marks. */
static void add_unseen(rows *r, int unseen, normals *m)
{
    const double w = UNSEEN_WEIGHT, all = m->weight[0] + m->weight[1];
    jaw_vec2 middle = {0, 0};

    for (size_t i = 0; i < r->n; i++) {
        middle.x += r->row[i].from.x / (double)r->n;
        middle.y += r->row[i].from.y / (double)r->n;
    }
    r->row[r->n++] = (row){.n = {unseen == 0, unseen == 1}, .from = middle,
                           .to = middle, .weight = w};
    *m = normals_of(r);
    m->unseen = unseen;
    /* it is never less, whatever rounding left of a difference */
    m->weight[1] = fmax(m->weight[1], JAW_MOVED_ALONG * JAW_MOVED_ALONG * all *
                                          w / (all + w));
}

/* With what is assumed where walls take that; false: they run askew.  Returned:
 * by how many numbers a shift is told, those that are told but a little too. */
static bool complete(rows *r, normals *m, int *found)
{
    *m = normals_of(r);
    bool both = m->weight[1] * JAW_MOVED_FLAT * JAW_MOVED_FLAT > m->weight[0];
    *found = both || m->weight[1] * 10 > UNSEEN_WEIGHT ? 2 : 1;
    if (both)
        return true;
    int unseen = unseen_of(m);
    if (unseen >= 0)
        add_unseen(r, unseen, m);
    return unseen >= 0;
}

/* What makes v the sum of weight n n' times it. */
static jaw_vec2 normals_solve(const normals *m, jaw_vec2 v)
{
    jaw_vec2 out = {0, 0};

    for (int k = 0; k < 2; k++) {
        double c = dot(m->across[k], v) / m->weight[k];
        out.x += c * m->across[k].x;
        out.y += c * m->across[k].y;
    }
    return out;
}

/* ------------------------------------------------------------------- arms */

static double arm_of(const row *k, jaw_vec2 about)
{
    return k->n.y * (k->from.x - about.x) - k->n.x * (k->from.y - about.y);
}

/* The place about which sum weight n arm is 0; arms from there on.  Returned:
 * the weight of the turn that they show. */
static double set_arms(rows *r, const normals *m, jaw_vec2 *about)
{
    jaw_vec2 sum = {0, 0};
    double total = 0;

    *about = r->row[0].from; /* near, so that nothing is lost */
    for (size_t i = 0; i < r->n; i++) {
        const row *k = &r->row[i];
        double c = k->weight * arm_of(k, *about);
        sum.x += c * k->n.x;
        sum.y += c * k->n.y;
    }
    jaw_vec2 t = normals_solve(m, sum);
    *about = (jaw_vec2){about->x + t.y, about->y - t.x};
    for (size_t i = 0; i < r->n; i++) {
        r->row[i].arm = arm_of(&r->row[i], *about);
        total += r->row[i].weight * r->row[i].arm * r->row[i].arm;
    }
    return total;
}

/* ------------------------------------------------------------------ solve */

static jaw_vec2 missing(const row *k, const jaw__walls *w)
{
    jaw_vec2 p = turned((jaw_vec2){k->from.x - w->about.x,
                                   k->from.y - w->about.y}, w->turn);
    jaw_vec2 e = {k->to.x - (w->about.x + w->shift.x + p.x),
                  k->to.y - (w->about.y + w->shift.y + p.y)};

    return turned(e, -w->turn);
}

/* One round; how far it went, mm. */
static double improve(const rows *r, const normals *m, jaw__walls *w)
{
    jaw_vec2 sum = {0, 0};
    double pull = 0, reach = 0;

    for (size_t i = 0; i < r->n; i++) {
        const row *k = &r->row[i];
        double d = dot(k->n, missing(k, w));
        sum.x += k->weight * d * k->n.x;
        sum.y += k->weight * d * k->n.y;
        pull += k->weight * k->arm * d;
        reach = fmax(reach, fabs(k->arm));
    }
    for (size_t i = 0; i < r->n_theta; i++)
        pull += r->weight[i] * (r->theta[i] - w->turn);
    jaw_vec2 step = turned(normals_solve(m, sum), w->turn);
    double turn = w->turns ? pull * w->q_turn : 0;
    w->shift.x += step.x;
    w->shift.y += step.y;
    w->turn += turn;
    return hypot(step.x, step.y) + reach * fabs(turn);
}

static double squares(const rows *r, const jaw__walls *w)
{
    double sum = 0;

    for (size_t i = 0; i < r->n; i++) {
        double d = dot(r->row[i].n, missing(&r->row[i], w));
        sum += r->row[i].weight * d * d;
    }
    for (size_t i = 0; w->turns && i < r->n_theta; i++) {
        double d = r->theta[i] - w->turn;
        sum += r->weight[i] * d * d;
    }
    return sum;
}

/* What is shown of one machine axis; false: nothing. */
static bool take_axis(const normals *m, int axis, jaw__walls *w)
{
    const jaw_vec2 e = turned(m->across[0], w->turn);
    const jaw_vec2 f = turned(m->across[1], w->turn);
    const double share = axis == 0 ? e.x : e.y, other = axis == 0 ? f.x : f.y;

    /* after a turn they may run askew */
    if (m->unseen >= 0 &&
        (axis == m->unseen || fabs(share) < JAW_MOVED_ALONG))
        return false;
    w->by[axis] = axis == 0 ? w->shift.x : w->shift.y;
    w->q[axis] = share * share / m->weight[0] + other * other / m->weight[1];
    return true;
}

static void take_fit(const rows *r, jaw__walls *w)
{
    const jaw__walls still = {.about = w->about, .turns = w->turns};
    const int shown = (int)r->n + (w->turns ? (int)r->n_theta - 1 : 0);

    w->ssr = squares(r, w);
    w->chi2 = squares(r, &still) - w->ssr;
    w->found += w->turns;
    w->dof = shown > 2 ? shown - 2 : 0;
}

jaw_status jaw__walls_find(const jaw_mark mark[], size_t n, jaw__walls *w)
{
    const double nan = (double)NAN;
    rows r;
    normals m;

    list_rows(mark, n, &r);
    *w = (jaw__walls){.by = {nan, nan}, .q = {nan, nan}};
    if (!complete(&r, &m, &w->found))
        return JAW_ERANK;
    double weight = set_arms(&r, &m, &w->about) + r.sum_theta;
    w->turns = weight * JAW_MOVED_TURN * JAW_MOVED_TURN > 1;
    w->q_turn = w->turns ? 1 / weight : 0;
    for (int round = 0; round < 100; round++)
        if (!(improve(&r, &m, w) > 1e-13))
            break;
    bool x = take_axis(&m, 0, w), y = take_axis(&m, 1, w);
    if (!x && !y)
        return JAW_ERANK;
    take_fit(&r, w);
    w->turn = jaw_angle_full(w->turn);
    return JAW_OK;
}

jaw_vec2 jaw__walls_off(const jaw__walls *w, const jaw_mark *m)
{
    row k = {.from = {m->before.x, m->before.y},
             .to = {m->after.x, m->after.y}};
    jaw_vec2 e = missing(&k, w);

    if (m->wall) {
        jaw_vec2 across = {-sin(m->theta[0]), cos(m->theta[0])};
        double d = dot(across, e);
        e = (jaw_vec2){d * across.x, d * across.y};
    }
    return turned(e, w->turn);
}
