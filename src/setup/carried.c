/* SPDX-License-Identifier: GPL-3.0-or-later */
/* carried.c: work zeros that follow from something else as a whole: from three
 * datums, or from another register's zero when a rotary table is indexed.
 *
 * With R the turn of the table in the plane square to its axis and c its centre
 * there, a point p goes to c + R (p - c), so a value is linear in the other
 * zero's with R and in the centre with 1 - R.  What the part was turned by
 * before (s about Z) is turned along: its axis Z goes to R Z, so s cos a of it
 * is left about Z and s sin a is a lean that no control takes. */
#include "worth.h"
#include "zero.h"

#include <math.h>
#include <string.h>

static void round_zero(jaw__zero_work *w)
{
    double step = w->sv->setup->control.step;

    w->z->enter = (jaw_vec3){jaw_round_to_step(w->z->zero.x, step),
                             jaw_round_to_step(w->z->zero.y, step),
                             jaw_round_to_step(w->z->zero.z, step)};
}

static double axis_value(jaw_vec3 v, jaw_axis axis)
{
    return axis == JAW_X ? v.x : axis == JAW_Y ? v.y : v.z;
}

static void step_rounded(jaw__zero_work *w, jaw_axis axis)
{
    jaw__step(w->sv, axis_value(w->z->zero, axis), JAW_LENGTH, "%s  work zero",
              jaw__axis_cap(axis));
    jaw__step(w->sv, axis_value(w->z->enter, axis), JAW_LENGTH,
              "%s  rounded to the control's step", jaw__axis_cap(axis));
}

/* ------------------------------------------------------------------- datums */

static void take_corner(jaw__zero_work *w, const jaw__lie *l)
{
    jaw_vec3 at = l->task->as.datums.at, from = l->a.origin;
    jaw_frame turned = jaw_frame_make((jaw_vec2){0, 0}, w->turn);
    jaw_frame skewed = jaw_frame_make((jaw_vec2){0, 0}, w->skew);
    jaw_vec2 shift = jaw_machine_from_work(&turned, (jaw_vec2){at.x, at.y});
    jaw_vec2 full = jaw_machine_from_work(&skewed, (jaw_vec2){at.x, at.y});

    w->z->zero.x = from.x - shift.x;
    w->z->zero.y = from.y - shift.y;
    w->turned = (jaw_vec2){from.x - full.x, from.y - full.y};
    for (jaw_axis a = JAW_X; a <= JAW_Y; a++) {
        jaw__step(w->sv, a == JAW_X ? from.x : from.y, JAW_LENGTH,
                  "%s  where the datums of '%s' meet, machine %s",
                  jaw__axis_cap(a), w->e->datums, jaw__axis_word(a));
        jaw__step(w->sv, a == JAW_X ? -shift.x : -shift.y, JAW_LENGTH,
                  "%s  less the part coordinates stated there, turned by the "
                  "skew", jaw__axis_cap(a));
    }
}

bool jaw__zero_by_datums(jaw__zero_work *w)
{
    const jaw__lie *l = jaw__lie_of(w->sv, w->e->datums);

    if (l == NULL)
        jaw__tell(w->sv, SAY_DATUMS_UNKNOWN, w->e->datums_place, NULL,
                  w->e->datums);
    else if (l->status != JAW_OK)
        jaw__tell(w->sv, SAY_TASK_UNSOLVED, w->e->datums_place, w->e->datums,
                  w->e->name, w->e->datums);
    if (l == NULL || l->status != JAW_OK) {
        jaw__zero_fail(w, JAW_EUNKNOWN);
        return false;
    }
    w->skew = w->z->skew = l->a.skew;
    w->skew_known = true;
    w->turn = w->sv->setup->control.can_turn ? w->skew : 0;
    w->z->squareness = l->a.between[1].value;
    take_corner(w, l);
    round_zero(w);
    step_rounded(w, JAW_X);
    step_rounded(w, JAW_Y);
    jaw__node corner = w->sv->nodes[l->tip];
    corner.value = l->a.origin.z;
    jaw__z_of_node(w, &corner, "corner", l->task->as.datums.at.z,
                   w->e->datums);
    return true;
}

/* ------------------------------------------------------------------ indexed */

static long zero_index(const jaw__solver *sv, const char *name)
{
    for (size_t i = 0; i < sv->setup->n_zeros; i++)
        if (strcmp(sv->setup->zeros[i].name, name) == 0)
            return (long)i;
    return JAW__NOWHERE;
}

/* Where the table stood when the zero of number i was where it is. */
static double stood_at(const jaw_zero_entry *e)
{
    return e->index.table != NULL ? e->index.to : 0;
}

static double from_of(const jaw__solver *sv, const jaw_zero_entry *e,
                      long source)
{
    return isnan(e->index.from) ? stood_at(&sv->setup->zeros[source])
                                : e->index.from;
}

/* Two angles of a table, but for whole turns and the rounding of angles. */
static bool same_angle(double a, double b)
{
    return fabs(remainder(a - b, 2 * M_PI)) < 1e-9;
}

static bool same_table(const jaw_zero_entry *a, const jaw_zero_entry *b)
{
    return strcmp(a->index.table, b->index.table) == 0;
}

/* Whether an indexed zero can follow from the one that it names. */
static bool is_linked(const jaw__solver *sv, const jaw_zero_entry *e,
                      long source)
{
    const jaw_zero_entry *of = source == JAW__NOWHERE
                                   ? NULL
                                   : &sv->setup->zeros[source];

    if (of == NULL || of->index.table == NULL)
        return of != NULL;
    return same_table(e, of) &&
           same_angle(from_of(sv, e, source), of->index.to);
}

/* Turns about one axis add: whatever was indexed in between, a zero follows
 * from the touched one at the end of its chain. */
static void follow(const jaw__solver *sv, jaw__chain *c, size_t i)
{
    const jaw_zero_entry *e = &sv->setup->zeros[i];
    size_t links = 0;
    long at = (long)i;

    c->root = JAW__NOWHERE;
    c->by = 0;
    for (; e->index.table != NULL; e = &sv->setup->zeros[at]) {
        long source = sv->chains[at].source;
        if (links++ == sv->setup->n_zeros) {
            c->round = true;
            return;
        }
        if (!is_linked(sv, e, source))
            return;
        c->by += e->index.to - from_of(sv, e, source);
        at = source;
    }
    c->root = at;
}

void jaw__find_chains(jaw__solver *sv)
{
    const jaw_setup *setup = sv->setup;

    for (size_t i = 0; i < setup->n_zeros; i++) {
        const jaw_zero_index *index = &setup->zeros[i].index;
        sv->chains[i].source = index->table == NULL
                                   ? JAW__NOWHERE
                                   : zero_index(sv, index->source);
    }
    for (size_t i = 0; i < setup->n_zeros; i++)
        follow(sv, &sv->chains[i], i);
}

static const jaw__chain *chain_of(const jaw__solver *sv,
                                  const jaw_zero_entry *e)
{
    return &sv->chains[e - sv->setup->zeros];
}

static double turn_of(const jaw__solver *sv, const jaw__table *t,
                      const jaw_zero_entry *e)
{
    return (double)t->place[0].r.sense * chain_of(sv, e)->by;
}

/* Row `coordinate` of the turn; less: of 1 less the turn. */
static void row_of(double turn, int coordinate, double row[2], double less[2])
{
    double c = cos(turn), s = sin(turn), h = sin(turn / 2);

    row[0] = coordinate == 0 ? c : s;
    row[1] = coordinate == 0 ? -s : c;
    less[0] = coordinate == 0 ? 2 * h * h : -s;
    less[1] = coordinate == 0 ? s : 2 * h * h;
}

/* Machine Z of a zero for a tool of length 0. */
static bool height_of(const jaw__solver *sv, long i, double *z)
{
    const jaw_zero_entry *e = &sv->setup->zeros[i];
    const jaw__lie *l = jaw__lie_of(sv, e->datums);
    size_t node;

    if (e->datums != NULL) {
        if (l == NULL || l->status != JAW_OK || !sv->nodes[l->tip].grounded)
            return false;
        *z = l->a.origin.z - l->task->as.datums.at.z;
        return true;
    }
    if (!jaw__height_node(sv, e->term[JAW_Z].feature, &node) ||
        !sv->nodes[node].grounded)
        return false;
    *z = sv->nodes[node].value - e->term[JAW_Z].at;
    return true;
}

static const jaw__table *index_table(jaw__zero_work *w)
{
    const jaw_zero_index *index = &w->e->index;
    const jaw__table *t = jaw__table_of(w->sv, index->table);

    if (t == NULL)
        jaw__tell(w->sv, SAY_TABLE_UNKNOWN, index->table_place, NULL,
                  index->table);
    else if (t->status != JAW_OK)
        jaw__tell(w->sv, SAY_TASK_UNSOLVED, index->table_place, index->table,
                  w->e->name, index->table);
    return t != NULL && t->status == JAW_OK ? t : NULL;
}

/* The touched zero at the end; JAW__NOWHERE: the message was given. */
static long index_source(jaw__zero_work *w)
{
    const jaw_zero_index *index = &w->e->index;
    const jaw__chain *c = chain_of(w->sv, w->e);
    const jaw_zero_entry *of = c->source == JAW__NOWHERE
                                   ? NULL
                                   : &w->sv->setup->zeros[c->source];

    if (c->root != JAW__NOWHERE)
        return c->root;
    if (of == NULL)
        jaw__tell(w->sv, SAY_INDEX_NONE, index->place, NULL, index->source);
    else if (c->round)
        jaw__tell(w->sv, SAY_INDEX_ROUND, index->place, NULL, w->e->name);
    else if (is_linked(w->sv, w->e, c->source))
        jaw__tell(w->sv, SAY_TASK_UNSOLVED, index->place, index->source,
                  w->e->name, index->source);
    else if (!same_table(w->e, of))
        jaw__tell(w->sv, SAY_INDEX_TABLES, index->place, NULL, of->name,
                  of->index.table, index->table);
    else
        jaw__tell(w->sv, SAY_INDEX_FROM, index->place, NULL, of->name,
                  jaw__angle_text(of->index.to).s, w->e->name,
                  jaw__angle_text(index->from).s);
    return JAW__NOWHERE;
}

/* The two coordinates that turn; false when one is not there. */
static bool source_point(jaw__zero_work *w, const jaw__table *t, long from,
                         double p[2], double *beyond)
{
    const jaw_zero_found *z = &w->sv->out->zeros[from];

    *beyond = 0;
    for (int k = 0; k < 2; k++) {
        jaw_axis axis = jaw__plane_axis(t, k);
        double height;
        p[k] = axis_value(z->zero, axis);
        if (axis == JAW_Z && !isnan(p[k])) {
            if (!height_of(w->sv, from, &height)) {
                jaw__tell(w->sv, SAY_INDEX_HEIGHT, w->e->index.place, NULL,
                          z->name);
                return false;
            }
            *beyond = p[k] - height;
            p[k] = height;
        }
        if (isnan(p[k])) {
            jaw__tell(w->sv, SAY_INDEX_AXIS, w->e->index.place,
                      jaw__axis_word(axis), z->name, jaw__axis_cap(axis),
                      jaw__axis_cap(t->task->as.rotary.about));
            return false;
        }
    }
    return true;
}

static void carry_skew(jaw__zero_work *w, const jaw__table *t, long from)
{
    const jaw_control *c = &w->sv->setup->control;
    const jaw_zero_found *z = &w->sv->out->zeros[from];
    bool upright = t->task->as.rotary.about == JAW_Z;
    double a = upright ? 0 : turn_of(w->sv, t, w->e);
    double lean = z->skew * sin(a);

    w->z->flags |= z->flags & JAW_DIRECTION_ASSUMED;
    if (isnan(z->skew))
        return;
    w->skew = w->z->skew = z->skew * cos(a);
    if (c->can_turn && !isnan(z->turn))
        w->z->turn = jaw_round_to_step(w->skew, c->angle_step);
    if (fabs(lean) > c->angle_step)
        jaw__tell(w->sv, SAY_INDEX_LEAN, w->e->index.place, NULL, w->e->name,
                  jaw__angle_text(lean).s);
}

static void set_axis(jaw_vec3 *v, jaw_axis axis, double value)
{
    *(axis == JAW_X ? &v->x : axis == JAW_Y ? &v->y : &v->z) = value;
}

static void step_carried(jaw__zero_work *w, const jaw__table *t, long from)
{
    const jaw_zero_found *z = &w->sv->out->zeros[from];

    for (jaw_axis a = JAW_X; a < JAW_AXES; a++) {
        if (isnan(axis_value(w->z->zero, a)))
            continue;
        jaw__step(w->sv, axis_value(z->zero, a), JAW_LENGTH, "%s  of %s",
                  jaw__axis_cap(a), z->name);
        for (int k = 0; k < 2; k++)
            if (jaw__plane_axis(t, k) == a)
                jaw__step(w->sv,
                          k == 0 ? t->place[0].r.centre.x
                                 : t->place[0].r.centre.y,
                          JAW_LENGTH, "%s  centre line of '%s'",
                          jaw__axis_cap(a), t->task->name);
        step_rounded(w, a);
    }
    jaw__step(w->sv, turn_of(w->sv, t, w->e), JAW_ANGLE,
              "turned about %s+ by the right hand",
              jaw__axis_cap(t->task->as.rotary.about));
}

static void carry(jaw__zero_work *w, const jaw__table *t, long from)
{
    double p[2], beyond;
    jaw_vec2 out, in;

    if (w->sv->out->zeros[from].status != JAW_OK) {
        const char *name = w->sv->setup->zeros[from].name;
        jaw__tell(w->sv, SAY_TASK_UNSOLVED, w->e->index.place, name,
                  w->e->name, name);
        jaw__zero_fail(w, JAW_EUNKNOWN);
        return;
    }
    if (!source_point(w, t, from, p, &beyond)) {
        jaw__zero_fail(w, JAW_EUNKNOWN);
        return;
    }
    in = (jaw_vec2){p[0], p[1]};
    jaw_status status =
        jaw_rotary_index(&t->place[0].r, in, NULL, 0,
                         chain_of(w->sv, w->e)->by, &out, NULL);
    if (status != JAW_OK) {
        jaw__zero_fail(w, status);
        return;
    }
    w->z->zero = w->sv->out->zeros[from].zero;
    for (int k = 0; k < 2; k++)
        set_axis(&w->z->zero, jaw__plane_axis(t, k),
                 (k == 0 ? out.x : out.y) +
                     (jaw__plane_axis(t, k) == JAW_Z ? beyond : 0));
    round_zero(w);
    carry_skew(w, t, from);
    step_carried(w, t, from);
}

void jaw__zero_indexed(jaw__zero_work *w)
{
    const jaw__table *t = index_table(w);
    long from = index_source(w);

    if (t == NULL || from == JAW__NOWHERE)
        jaw__zero_fail(w, JAW_EUNKNOWN);
    else
        carry(w, t, from);
}

/* --------------------------------------------------------- what it is worth */

static bool put_indexed(jaw__worth *w, const jaw_zero_entry *e, jaw_axis axis,
                        double c)
{
    const jaw__table *t = jaw__table_of(w->sv, e->index.table);
    size_t from = (size_t)chain_of(w->sv, e)->root;
    double row[2], less[2];

    if (axis == t->task->as.rotary.about)
        return jaw__put_zero(w, from, axis, c);
    row_of(turn_of(w->sv, t, e), jaw__plane_axis(t, 0) == axis ? 0 : 1, row,
           less);
    for (int k = 0; k < 2; k++) {
        jaw_axis a = jaw__plane_axis(t, k);
        if (!jaw__put_zero(w, from, a, c * row[k]))
            return false;
        if (a == JAW_Z)
            jaw__put_base(w, c * row[k]);
        jaw__put_centre(w, t, 0, k, c * less[k]);
    }
    if (axis == JAW_Z)
        jaw__put_base(w, -c);
    return true;
}

bool jaw__put_carried(jaw__worth *w, size_t i, jaw_axis axis, double c)
{
    const jaw_zero_entry *e = &w->sv->setup->zeros[i];

    if (w->sv->no_memory)
        return false;
    if (e->index.table != NULL)
        return put_indexed(w, e, axis, c);
    jaw__put_lie(w, jaw__lie_of(w->sv, e->datums), axis, c);
    if (axis == JAW_Z)
        jaw__put_base(w, -c);
    return true;
}

static double tilted(const jaw__solver *sv, const jaw_zero_entry *e)
{
    const jaw__table *t = jaw__table_of(sv, e->index.table);

    return t->task->as.rotary.about == JAW_Z ? 1 : cos(turn_of(sv, t, e));
}

bool jaw__put_carried_turn(jaw__worth *w, size_t i, double c)
{
    const jaw_zero_entry *e = &w->sv->setup->zeros[i];

    if (w->sv->no_memory)
        return false;
    if (e->index.table == NULL)
        return true; /* by its touches alone: jaw__beside_of */
    return jaw__put_turn(w, (size_t)chain_of(w->sv, e)->root,
                         c * tilted(w->sv, e));
}

/* The datums that a zero is found by, and what of turn its corner brings with
 * it; NULL: it is none. */
static const jaw__lie *lie_of_zero(const jaw__solver *sv, size_t i, jaw_vec3 by,
                                   double *turn)
{
    const jaw_zero_entry *e = &sv->setup->zeros[i];
    const jaw__lie *l = jaw__lie_of(sv, e->datums);

    if (l == NULL || l->status != JAW_OK)
        return NULL;
    if (sv->setup->control.can_turn) { /* W = corner - R(skew) at */
        jaw_frame r = jaw_frame_make((jaw_vec2){0, 0}, l->a.skew);
        jaw_vec3 at = l->task->as.datums.at;
        jaw_vec2 shift = jaw_machine_from_work(&r, (jaw_vec2){at.x, at.y});
        *turn += by.x * shift.y - by.y * shift.x;
    }
    return l;
}

/* The touches of the datums, for a combination of the zero and its turn. */
static void beside_datums(const jaw__solver *sv, size_t i, jaw_vec3 by,
                          double turn, jaw__beside *b)
{
    const jaw__lie *l = lie_of_zero(sv, i, by, &turn);

    if (l == NULL)
        return;
    b->u[0] = jaw__lie_spread(l, by, turn);
    b->dof[0] = l->dof;
    b->task[0] = l->task;
    b->lie = l;
    b->by = by;
    b->turn = turn;
}

/* What rounding leaves of a whole turn. */
#define NO_TURN 1e-12

static void beside_table(const jaw__table *t, double turn, const double by[2],
                         jaw__beside *b)
{
    double row[2], less[2], sum[2] = {0, 0};

    for (int k = 0; k < 2; k++) {
        row_of(turn, k, row, less);
        sum[0] += by[k] * less[0];
        sum[1] += by[k] * less[1];
    }
    b->u[1] = jaw__centre_beside(t, 0, sum);
    b->dof[1] = t->place[0].r.dof_of;
    b->task[1] = t->task;
    /* where nothing turns, no slip moves it, not even one that goes unseen */
    double moved = hypot(sum[0], sum[1]);
    b->reach = moved > NO_TURN ? t->place[0].reach * moved : 0;
    b->whose = t->place[0].whose;
}

static void beside_indexed(const jaw__solver *sv, const jaw_zero_entry *e,
                           jaw_vec3 by, double turn, jaw__beside *b)
{
    const jaw__table *t = jaw__table_of(sv, e->index.table);
    size_t from = (size_t)chain_of(sv, e)->root;
    double turned = turn_of(sv, t, e);
    double own[2], back[2] = {0, 0}, row[2], less[2];
    jaw_vec3 source = by;

    for (int k = 0; k < 2; k++) {
        own[k] = axis_value(by, jaw__plane_axis(t, k));
        row_of(turned, k, row, less);
        back[0] += own[k] * row[0];
        back[1] += own[k] * row[1];
    }
    for (int k = 0; k < 2; k++)
        set_axis(&source, jaw__plane_axis(t, k), back[k]);
    beside_datums(sv, from, source, turn * tilted(sv, e), b);
    beside_table(t, turned, own, b);
}

void jaw__beside_of(const jaw__solver *sv, size_t i, jaw_vec3 by, double turn,
                    jaw__beside *b)
{
    const jaw_zero_entry *e = &sv->setup->zeros[i];

    *b = (jaw__beside){.dof = {(double)INFINITY, (double)INFINITY}};
    if (sv->out->zeros[i].status != JAW_OK || sv->no_memory)
        return;
    if (e->index.table != NULL)
        beside_indexed(sv, e, by, turn, b);
    else
        beside_datums(sv, i, by, turn, b);
}
