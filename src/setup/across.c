/* SPDX-License-Identifier: GPL-3.0-or-later */
/* across.c: where a feature that a rotary table holds stands across the table's
 * axis, as a number and as a linear form of the adjustment.
 *
 * A bore, a boss and a dial stand upright and show a table about Z; a ball
 * shows any; a bar that is held along the axis shows one about X or Y.  Of a bar
 * the axis is a line, so it shows two places: the point at one station along
 * the table's axis, and how far it runs aside over a length.  With the bar's
 * line P0 + t dir, n = dir turned by +90 degrees, e along the table's axis and o
 * the other level axis, at a station s
 *     t = (s - P0 . e) / (dir . e),  aside = P0 . o + t dir . o,
 *     z = height + t slope,
 * and over a length L the same t = L / (dir . e) without P0 and height. */
#include "worth.h"
#include "zero.h"

#include <src/base/steep.h>

#include <math.h>

/* ------------------------------------------------------------------- a bar */

typedef struct lying {
    double t;           /* mm along it, of the station or the length */
    double run, aside;  /* dir . e, dir . o */
    double n_run, n_aside;
    double point_aside; /* P0 . o */
} lying;

static double along_axis(jaw_vec2 v, jaw_axis axis)
{
    return axis == JAW_X ? v.x : v.y;
}

static lying lying_of(const jaw__table *t, const jaw_bar *bar, int k)
{
    jaw_axis e = t->task->as.rotary.about, o = jaw__other_axis(e);
    jaw_vec2 dir = {cos(bar->theta), sin(bar->theta)}, n = {-dir.y, dir.x};
    jaw_vec2 p = {bar->point.x, bar->point.y};
    lying l = {.run = along_axis(dir, e),
               .aside = along_axis(dir, o),
               .n_run = along_axis(n, e),
               .n_aside = along_axis(n, o),
               .point_aside = along_axis(p, o)};

    l.t = (k == 0 ? t->station - along_axis(p, e) : t->apart) / l.run;
    return l;
}

static double bar_at(const jaw__solver *sv, const jaw__table *t, size_t f,
                     int k, jaw_axis axis)
{
    const jaw_bar *bar = &sv->out->features[f].as.bar;
    lying l = lying_of(t, bar, k);

    if (axis == JAW_Z)
        return (k == 0 ? sv->nodes[f].value : 0) + l.t * bar->slope;
    return (k == 0 ? l.point_aside : 0) + l.t * l.aside;
}

/* side: of a shift along n; turn: of theta.  Both move t, for the station
 * stays where it is. */
static void put_bar(jaw__worth *w, const jaw__table *t, size_t f, int k,
                    jaw_axis axis, double c)
{
    const jaw_bar *bar = &w->sv->out->features[f].as.bar;
    const jaw__part *part = &w->j->parts[f];
    lying l = lying_of(t, bar, k);
    double by = axis == JAW_Z ? bar->slope : l.aside;
    double side = -l.n_run / l.run * by, turn = l.t * side;

    if (axis == JAW_Z) {
        jaw__put_local(w, part, 2, c * l.t);
        if (k == 0)
            jaw__put_node(w, f, c);
    } else {
        side += l.n_aside;
        turn += l.t * l.n_aside;
    }
    if (k == 0)
        jaw__put_local(w, part, 0, c * side);
    jaw__put_direction(w, f, c * turn);
}

/* ------------------------------------------------------------ each feature */

static size_t feature_of(const jaw__solver *sv, const jaw_reading *r)
{
    return (size_t)jaw__find_feature(sv->setup, r->feature);
}

jaw_axis jaw__plane_axis(const jaw__table *t, int coordinate)
{
    return (jaw_axis)(((int)t->task->as.rotary.about + 1 + coordinate) % 3);
}

static double seen_at(const jaw__solver *sv, const jaw__table *t,
                      const jaw_reading *r, int k, jaw_axis axis)
{
    size_t f = feature_of(sv, r);
    const jaw_found *found = &sv->out->features[f];

    switch (found->kind) {
    case JAW_BAR: return bar_at(sv, t, f, k, axis);
    case JAW_BALL:
        return axis == JAW_Z ? sv->nodes[f].value
                             : along_axis((jaw_vec2){found->as.ball.centre.x,
                                                     found->as.ball.centre.y},
                                          axis);
    case JAW_DIAL: return along_axis(found->as.dial.centre, axis);
    default: return along_axis(found->as.round.centre, axis);
    }
}

jaw_vec2 jaw__seen_across(const jaw__solver *sv, const jaw__table *t,
                          const jaw_reading *r, int k)
{
    return (jaw_vec2){seen_at(sv, t, r, k, jaw__plane_axis(t, 0)),
                      seen_at(sv, t, r, k, jaw__plane_axis(t, 1))};
}

void jaw__put_across(jaw__worth *w, const jaw__table *t, const jaw_reading *r,
                     int k, int coordinate, double c)
{
    size_t f = feature_of(w->sv, r);
    jaw_axis axis = jaw__plane_axis(t, coordinate);

    if (w->f == NULL || c == 0)
        return;
    if (w->sv->out->features[f].kind == JAW_BAR)
        put_bar(w, t, f, k, axis, c);
    else if (axis == JAW_Z)
        jaw__put_node(w, f, c);
    else
        jaw__put_local(w, &w->j->parts[f], axis == JAW_X ? 0 : 1, c);
}

void jaw__put_across_tip(jaw__worth *w, const jaw__table *t,
                         const jaw_reading *r, double c)
{
    size_t f = feature_of(w->sv, r);
    long tip = jaw__find_tip(w->sv->setup, w->sv->setup->features[f].tip);

    if (w->f != NULL && t->task->as.rotary.about != JAW_Z &&
        tip != JAW__NOWHERE)
        jaw__put_node(w, jaw__tip_node(w->sv, (size_t)tip), c);
}

/* ------------------------------------------------------ what it repeats to */

/* Of its touches alone: a tip's diameter is the same at every angle. */
static double variance_of(jaw__worth *w, const jaw__table *t,
                          const jaw_reading *r, int k, int coordinate)
{
    const jaw__share *share = &w->sv->setup->shares[feature_of(w->sv, r)];
    double sum = 0;

    jaw__form_start(w);
    jaw__put_across(w, t, r, k, coordinate, 1);
    for (size_t i = 0; i < share->n_touches; i++) {
        size_t e = w->j->touch_equation[share->first_touch + i];
        if (e == JAW_NO_BLOCK)
            continue;
        double moved = jaw_adjust_influence(w->j->adjust, e, w->f) *
                       w->j->origins[e].sigma;
        sum += moved * moved;
    }
    return sum;
}

/* The larger of both coordinates', so that none is doubted more often than is
 * said. */
static double repeat_of(jaw__worth *w, const jaw__table *t,
                        const jaw_reading *r, int k)
{
    double sum[2] = {0, 0};

    for (size_t i = 0; i < t->place[k].n; i++)
        for (int c = 0; c < 2 && !r[i].aside; c++)
            sum[c] += variance_of(w, t, &r[i], k, c);
    return sqrt(fmax(sum[0], sum[1]) / (double)t->place[k].used);
}

double jaw__across_repeat(jaw__solver *sv, const jaw__table *t,
                          const jaw_reading *r, int k)
{
    jaw__worth w = {.sv = sv, .j = sv->joint};

    if (!sv->joint->solved)
        return (double)NAN;
    w.f = jaw_linear_alloc(sv->joint->adjust);
    if (w.f == NULL) {
        sv->no_memory = true;
        return (double)NAN;
    }
    double repeat = repeat_of(&w, t, r, k);
    jaw_linear_free(w.f);
    return repeat > 0 ? repeat : (double)NAN;
}

/* --------------------------------------------------------------- what fits */

static bool lies_along(const jaw__table *t, const jaw_bar *bar, double *off)
{
    jaw_axis about = t->task->as.rotary.about;
    double aside = along_axis((jaw_vec2){bar->axis.x, bar->axis.y},
                              jaw__other_axis(about));
    double run = along_axis((jaw_vec2){bar->axis.x, bar->axis.y}, about);

    *off = atan2(hypot(aside, bar->axis.z), fabs(run));
    return *off <= JAW__STEEP;
}

static bool check_bar(jaw__solver *sv, const jaw__table *t,
                      const jaw_reading *r, const jaw_bar *bar)
{
    double off;

    if (t->task->as.rotary.about == JAW_Z)
        jaw__tell(sv, SAY_ROTARY_LIES, r->place, NULL, r->feature);
    else if (!lies_along(t, bar, &off))
        jaw__tell(sv, SAY_ROTARY_ACROSS, r->place, NULL, r->feature,
                  jaw__angle_text(off).s, t->task->name);
    else
        return true;
    return false;
}

static bool is_upright(const jaw_found *f)
{
    return f->kind == JAW_BORE || f->kind == JAW_BOSS || f->kind == JAW_DIAL;
}

/* Solved, and of a kind that has a centre. */
static bool check_kind(jaw__solver *sv, const jaw__table *t,
                       const jaw_reading *r, size_t f)
{
    const jaw_found *found = &sv->out->features[f];
    bool high = found->kind == JAW_BALL || found->kind == JAW_BAR;

    if (!high && !is_upright(found))
        jaw__tell(sv, SAY_ROTARY_UNROUND, r->place, NULL, r->feature);
    else if (is_upright(found) && t->task->as.rotary.about != JAW_Z)
        jaw__tell(sv, SAY_ROTARY_UPRIGHT, r->place, NULL, r->feature);
    else if (found->status != JAW_OK)
        jaw__tell(sv, SAY_ROTARY_UNSOLVED, r->place, r->feature, r->feature,
                  t->task->name);
    else if (high && t->task->as.rotary.about != JAW_Z &&
             !sv->nodes[f].grounded)
        jaw__tell(sv, SAY_ROTARY_HEIGHT, r->place, NULL, r->feature,
                  t->task->name);
    else
        return found->kind != JAW_BAR ||
               check_bar(sv, t, r, &found->as.bar);
    return false;
}

bool jaw__check_across(jaw__solver *sv, const jaw__table *t,
                       const jaw_reading *r)
{
    long f = jaw__find_feature(sv->setup, r->feature);

    if (f != JAW__NOWHERE)
        return check_kind(sv, t, r, (size_t)f);
    jaw__tell(sv, SAY_FEATURE_UNKNOWN, r->place,
              jaw__feature_hint(sv->setup, r->feature).s, r->feature);
    return false;
}

bool jaw__is_bar(const jaw__solver *sv, const jaw_reading *r)
{
    long f = jaw__find_feature(sv->setup, r->feature);

    return f != JAW__NOWHERE && sv->setup->features[f].kind == JAW_BAR;
}

/* In the middle of what was touched of the bars, and over as much of them:
 * there the point and the direction do not feel one another. */
void jaw__place_bars(const jaw__solver *sv, jaw__table *t,
                     const jaw_reading *r)
{
    const jaw__table_place *place = &t->place[0];
    jaw_axis about = t->task->as.rotary.about;

    t->station = t->apart = 0;
    for (size_t i = 0; i < place->n; i++) {
        if (r[i].aside)
            continue;
        const jaw_bar *bar = &sv->out->features[feature_of(sv, &r[i])].as.bar;
        jaw_vec2 p = {bar->point.x, bar->point.y};
        t->station += along_axis(p, about) / (double)place->used;
        t->apart += bar->span / (double)place->used;
    }
}
