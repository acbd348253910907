/* SPDX-License-Identifier: GPL-3.0-or-later */
/* zero.c: a work zero from whatever was touched.
 *
 * In the plane each term (`x stop at 0.25`) is one line on the machine on which
 * that part coordinate holds: the wall itself, the middle between two walls, or
 * the line through a centre along the other part axis.  The two lines meet at
 * P, whose part coordinates are the two stated ones; with walls that are not
 * square this is their true corner.  Then W = P - R(turn) at. */
#include "zero.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

typedef jaw__bound bound;
typedef jaw__zero_work zero_work;

const jaw_found *jaw__zero_feature(zero_work *w, const char *name,
                                   jaw_place place, const char *what,
                                   long *index)
{
    *index = jaw__find_feature(w->sv->setup, name);
    if (*index == JAW__NOWHERE) {
        jaw__text hint = jaw__feature_hint(w->sv->setup, name);
        jaw__tell(w->sv, SAY_FEATURE_UNKNOWN, place, hint.s, name);
        jaw__zero_fail(w, JAW_EUNKNOWN);
        return NULL;
    }
    const jaw_found *found = &w->sv->out->features[*index];
    if (found->status == JAW_OK)
        return found;
    jaw__tell(w->sv, SAY_TERM_UNSOLVED, place, name, w->e->name, what, name);
    jaw__zero_fail(w, found->status);
    return NULL;
}

/* ---------------------------------------------------------------------- turn */

/* The direction a feature shows, when its touches do. */
static bool shown_direction(const jaw_found *f, double *theta, double *span)
{
    if (f->flags & JAW_DIRECTION_ASSUMED)
        return false;
    if (f->kind == JAW_EDGE) {
        *theta = f->as.edge.theta;
        *span = f->as.edge.span;
        return true;
    }
    if (jaw__is_walls(f)) {
        *theta = f->as.walls.theta;
        *span = f->as.walls.span;
        return true;
    }
    if (f->kind == JAW_BAR || f->kind == JAW_SWEEP) {
        *theta = jaw__theta_of_found(f);
        *span = f->kind == JAW_BAR ? f->as.bar.span : f->as.sweep.span;
        return true;
    }
    return false;
}

static bool skew_from_pattern(zero_work *w, const jaw_found *f, long index)
{
    if (w->e->turn_along == JAW_Y) {
        jaw__tell(w->sv, SAY_TURN_OWN_AXES, w->e->turn_place, NULL,
                  jaw__name_of(w, index));
        jaw__zero_fail(w, JAW_ECONFLICT);
        return false;
    }
    w->skew = f->as.pattern.frame.turn;
    return true;
}

/* A wall runs along part x or part y; the skew is what is left over. */
static bool skew_from_wall(zero_work *w, const jaw_found *f, long index)
{
    const jaw_zero_entry *e = w->e;
    double theta, span;

    if (!shown_direction(f, &theta, &span)) {
        jaw__tell(w->sv, SAY_TURN_UNKNOWN, e->turn_place,
                 f->kind == JAW_EDGE || jaw__is_walls(f)
                     ? "touch it in a second place, far from the first"
                     : "name an edge, a slot, a web or a pattern",
                 jaw_feature_word(f->kind), jaw__name_of(w, index));
        jaw__zero_fail(w, JAW_EUNKNOWN);
        return false;
    }
    if (e->turn_along == JAW_AXES) {
        jaw__tell(w->sv, SAY_TURN_NO_AXIS, e->turn_place, NULL,
                  jaw_feature_word(f->kind), jaw__name_of(w, index));
        jaw__zero_fail(w, JAW_EUNKNOWN);
        return false;
    }
    double skew =
        jaw_angle_half(theta - (e->turn_along == JAW_Y ? M_PI / 2 : 0));
    if (fabs(skew) > M_PI / 4) {
        jaw__tell(w->sv, SAY_TURN_ACROSS, e->turn_place,
                 jaw__axis_word(jaw__other_axis(e->turn_along)),
                  jaw__name_of(w, index),
                 jaw__angle_text(theta).s, jaw__axis_word(e->turn_along));
        jaw__zero_fail(w, JAW_ESIDE);
        return false;
    }
    w->skew = skew;
    w->z->tap_span = span;
    w->z->tap = span * sin(skew);
    return true;
}

static bool skew_from_feature(zero_work *w)
{
    const jaw_zero_entry *e = w->e;
    long index;
    const jaw_found *f = jaw__zero_feature(w, e->turn_feature, e->turn_place,
                                        "turn", &index);

    if (f == NULL)
        return false;
    if (f->kind == JAW_PATTERN ? !skew_from_pattern(w, f, index)
                               : !skew_from_wall(w, f, index))
        return false;
    if (fabs(w->skew) > JAW__STEEP) {
        w->z->flags |= JAW_STEEP;
        jaw__tell(w->sv, SAY_TURN_STEEP, e->turn_place, e->turn_feature,
                 jaw__angle_text(w->skew).s);
    }
    return true;
}

bool jaw__find_skew(zero_work *w)
{
    const jaw_zero_entry *e = w->e;

    w->skew = 0;
    w->skew_known = e->turn_use != JAW_TURN_NONE;
    if (e->turn_use == JAW_TURN_STATED)
        w->skew = jaw_angle_full(e->turn);
    if (e->turn_use == JAW_TURN_FEATURE && !skew_from_feature(w))
        return false;
    if (e->turn_use == JAW_TURN_NONE)
        w->z->flags |= JAW_DIRECTION_ASSUMED;
    w->turn = w->sv->setup->control.can_turn ? w->skew : 0;
    w->z->skew = w->skew;
    return true;
}

/* ---------------------------------------------------------------- the corner */

/* How the feature itself came from where the tip's centre was. */
static void step_feature(zero_work *w, const bound *b, jaw_axis axis)
{
    const jaw_setup *setup = w->sv->setup;
    const jaw_found *f = &w->sv->out->features[b->feature];
    const char *cap = jaw__axis_cap(axis), *word = jaw__axis_word(axis);
    double point = axis == JAW_X ? b->point.x : b->point.y;

    if (f->kind == JAW_EDGE && !isnan(f->as.edge.normal.x)) {
        const jaw_feature_entry *e = &setup->features[b->feature];
        jaw_vec2 normal = f->as.edge.normal;
        double reach = jaw__reach_now(w->sv, e, atan2(-normal.y, -normal.x),
                                      NULL);
        double off = -reach * (axis == JAW_X ? normal.x : normal.y);
        jaw__step(w->sv, point - off, JAW_LENGTH,
                  "%s  tip's centre at '%s', mean %s of %zu touch%s", cap,
                  b->name, word, f->n, f->n == 1 ? "" : "es");
        jaw__step(w->sv, off, JAW_LENGTH,
                  jaw__has_harmonics(setup, e)
                      ? "%s  tip's reach that way, square to the wall"
                      : "%s  tip's radius, square to the wall",
                  cap);
    }
    jaw__step(w->sv, point, JAW_LENGTH, "%s  %s '%s', machine %s", cap,
              f->kind == JAW_EDGE    ? "beside the touches of"
              : f->kind == JAW_BAR     ? "the axis beside the touches of"
              : jaw__is_walls(f)          ? "halfway between the walls of"
              : f->kind == JAW_PATTERN ? "origin of"
                                       : "centre of",
              b->name, word);
}

static void step_corner(zero_work *w, const bound b[2], jaw_vec2 p,
                        jaw_vec2 shift, jaw_axis axis)
{
    const char *cap = jaw__axis_cap(axis);
    double value = axis == JAW_X ? w->z->zero.x : w->z->zero.y;
    double enter = axis == JAW_X ? w->z->enter.x : w->z->enter.y;

    step_feature(w, &b[axis], axis);
    if (b[0].feature != b[1].feature)
        jaw__step(w->sv, axis == JAW_X ? p.x : p.y, JAW_LENGTH,
                  "%s  where '%s' and '%s' meet", cap, b[0].name, b[1].name);
    jaw__step(w->sv, axis == JAW_X ? -shift.x : -shift.y, JAW_LENGTH,
              "%s  less the part coordinates stated there, turned by the skew",
              cap);
    jaw__step(w->sv, value, JAW_LENGTH, "%s  work zero", cap);
    jaw__step(w->sv, enter, JAW_LENGTH, "%s  rounded to the control's step",
              cap);
}

/* How far two walls are off square, when both were measured. */
static void find_squareness(zero_work *w, const bound b[2])
{
    if (!b[0].wall || !b[1].wall)
        return;
    double off = jaw_angle_half(b[0].theta - b[1].theta - M_PI / 2);
    w->z->squareness = off;
    if (fabs(off) > jaw_rad(1))
        jaw__tell(w->sv, SAY_SQUARENESS, w->e->place, NULL, b[0].name,
                 b[1].name, jaw__angle_text(off).s);
}

/* A wall that shows another turn than the one that is stated, or one where none
 * is: beyond what its two ends leave open. */
static void judge_wall_turn(zero_work *w, const bound *b, jaw_axis axis)
{
    if (w->e->turn_use == JAW_TURN_FEATURE || !b->wall)
        return;
    double skew = jaw_angle_half(b->theta - jaw__wall_direction(w, axis));
    if (fabs(sin(skew)) * b->span <= JAW__DOUBTFUL * M_SQRT2 * b->repeat)
        return;
    if (w->e->turn_use == JAW_TURN_STATED) {
        jaw__tell(w->sv, SAY_TURN_DIFFERS, w->e->turn_place, b->name, b->name,
                  jaw__angle_text(skew).s);
        return;
    }
    char hint[120];
    snprintf(hint, sizeof hint, "%.60s along %s", b->name,
             jaw__axis_word(jaw__other_axis(axis)));
    jaw__tell(w->sv, SAY_TURN_FORGOTTEN, w->e->term[axis].place, hint, b->name,
             jaw__angle_text(skew).s);
}

static void round_plane(zero_work *w)
{
    double step = w->sv->setup->control.step;

    w->z->enter.x = jaw_round_to_step(w->z->zero.x, step);
    w->z->enter.y = jaw_round_to_step(w->z->zero.y, step);
}

static double between(const bound b[2])
{
    return b[0].n.x * b[1].n.y - b[0].n.y * b[1].n.x;
}

static jaw_vec2 meet(const bound b[2])
{
    double det = between(b);

    return (jaw_vec2){(b[0].c * b[1].n.y - b[1].c * b[0].n.y) / det,
                      (b[0].n.x * b[1].c - b[1].n.x * b[0].c) / det};
}

static jaw_vec2 turned_at(const zero_work *w, double turn)
{
    jaw_frame frame = jaw_frame_make((jaw_vec2){0, 0}, turn);

    return jaw_machine_from_work(&frame, (jaw_vec2){w->e->term[JAW_X].at,
                                                    w->e->term[JAW_Y].at});
}

/* Where the part's own zero lies, whatever the control can do. */
static jaw_vec2 turned_zero(const zero_work *w, const bound b[2])
{
    bound t[2] = {b[0], b[1]};

    for (jaw_axis a = JAW_X; a <= JAW_Y; a++)
        if (t[a].turns)
            jaw__bound_point(w->skew, a, t[a].point, &t[a]);
    jaw_vec2 p = meet(t), shift = turned_at(w, w->skew);
    return (jaw_vec2){p.x - shift.x, p.y - shift.y};
}

static void find_corner(zero_work *w, const bound b[2])
{
    if (between(b) == 0) { /* one wall at 45 degrees for both */
        jaw__say_across(w, JAW_Y, b[JAW_Y].feature);
        return;
    }
    jaw_vec2 p = meet(b), shift = turned_at(w, w->turn);

    w->turned = turned_zero(w, b);
    w->z->zero.x = p.x - shift.x;
    w->z->zero.y = p.y - shift.y;
    round_plane(w);
    find_squareness(w, b);
    step_corner(w, b, p, shift, JAW_X);
    step_corner(w, b, p, shift, JAW_Y);
}

/* One axis alone: it is what the line has beside the touches. */
static void find_lone(zero_work *w, const bound *b, jaw_axis axis)
{
    const jaw_zero_term *term = &w->e->term[axis];
    double *value = axis == JAW_X ? &w->z->zero.x : &w->z->zero.y;
    double point = axis == JAW_X ? b->point.x : b->point.y;

    if (w->turn != 0) {
        jaw__tell(w->sv, SAY_TERM_LONE, term->place,
                 jaw__axis_word(jaw__other_axis(axis)), w->e->name,
                  jaw__axis_cap(axis));
        jaw__zero_fail(w, JAW_EUNKNOWN);
        return;
    }
    if (b->wall)
        jaw__tell(w->sv, SAY_TERM_FREE, term->place, NULL, w->e->name,
                 jaw__axis_cap(axis), b->name);
    *value = point - term->at;
    round_plane(w);
    step_feature(w, b, axis);
    jaw__step(w->sv, -term->at, JAW_LENGTH,
              "%s  less the part coordinate stated there", jaw__axis_cap(axis));
    jaw__step(w->sv, axis == JAW_X ? w->z->enter.x : w->z->enter.y, JAW_LENGTH,
              "%s  rounded to the control's step", jaw__axis_cap(axis));
}

static void find_plane(zero_work *w)
{
    bound b[2];
    bool have[2];

    for (jaw_axis a = JAW_X; a <= JAW_Y; a++) {
        have[a] = w->e->term[a].feature != NULL && jaw__find_bound(w, a, &b[a]);
        if (have[a])
            judge_wall_turn(w, &b[a], a);
    }
    if (have[0] && have[1])
        find_corner(w, b);
    for (jaw_axis a = JAW_X; a <= JAW_Y; a++)
        if (have[a] && w->e->term[jaw__other_axis(a)].feature == NULL)
            find_lone(w, &b[a], a);
}

/* ------------------------------------------------------- turn, tap and cost */

/* A place that lacks a coordinate is NaN, and never farther. */
static void take_farther(zero_work *w, const jaw_frame *frame, jaw_vec2 at,
                         double *best)
{
    jaw_vec2 work = jaw_work_from_machine(frame, at);
    double far = hypot(work.x, work.y);

    if (!(far > *best))
        return;
    *best = far;
    w->z->far_work = work;
}

/* The touched place farthest from the zero, in part coordinates. */
static void find_far(zero_work *w)
{
    const jaw_setup *setup = w->sv->setup;
    jaw_frame frame = jaw_frame_make(w->turned, w->skew);
    double best = -1;

    for (size_t i = 0; i < setup->n_touches; i++)
        take_farther(w, &frame, (jaw_vec2){setup->touches[i].x,
                                           setup->touches[i].y}, &best);
    for (size_t i = 0; i < setup->n_holes; i++)
        take_farther(w, &frame, setup->holes[i].touched, &best);
}

static void find_turn(zero_work *w)
{
    const jaw_control *c = &w->sv->setup->control;

    if (!w->skew_known)
        return;
    find_far(w);
    if (c->can_turn) {
        w->z->turn = jaw_round_to_step(w->skew, c->angle_step);
        const char *from = w->e->datums ? w->e->datums
                           : w->e->turn_use == JAW_TURN_FEATURE
                               ? w->e->turn_feature
                               : NULL;
        jaw__step(w->sv, w->skew, JAW_ANGLE, "turn  of the part%s%s%s",
                  from ? ", from '" : ", stated", from ? from : "",
                  from ? "'" : "");
        jaw__step(w->sv, w->z->turn, JAW_ANGLE,
                  "turn  rounded to the control's step");
        return;
    }
    jaw_frame frame = jaw_frame_make(w->turned, w->skew);
    jaw_vec2 at = jaw_machine_from_work(&frame, w->z->far_work);
    w->z->far_cost = (jaw_vec2){at.x - w->z->zero.x - w->z->far_work.x,
                                at.y - w->z->zero.y - w->z->far_work.y};
}

/* --------------------------------------------------------------------- order */

static jaw_zero_found zero_nan(const char *name)
{
    const double nan = (double)NAN;

    return (jaw_zero_found){.name = name,
                            .zero = {nan, nan, nan},
                            .enter = {nan, nan, nan},
                            .skew = nan,
                            .turn = nan,
                            .squareness = nan,
                            .far_work = {nan, nan},
                            .far_cost = {nan, nan},
                            .tap_span = nan,
                            .tap = nan,
                            .trust = {jaw__trust_none(), jaw__trust_none(),
                                      jaw__trust_none()},
                            .turn_trust = jaw__trust_none()};
}

static bool outside(double value, double low, double high)
{
    return value < low || value > high; /* NaN is never outside */
}

void jaw__judge_zero_travel(zero_work *w)
{
    const jaw_control *c = &w->sv->setup->control;

    if (outside(w->z->zero.x, c->low.x, c->high.x))
        jaw__tell(w->sv, SAY_TRAVEL, w->e->place, NULL, "the", "X",
                 w->e->name);
    if (outside(w->z->zero.y, c->low.y, c->high.y))
        jaw__tell(w->sv, SAY_TRAVEL, w->e->place, NULL, "the", "Y",
                 w->e->name);
}

static bool is_repeated(jaw__solver *sv, size_t i)
{
    const jaw_zero_entry *e = sv->setup->zeros;

    for (size_t j = 0; j < i; j++)
        if (strcmp(e[i].name, e[j].name) == 0) {
            jaw__tell(sv, SAY_ZERO_TWICE, e[i].place, NULL, e[i].name);
            return true;
        }
    return false;
}

/* A station is touched in x and y, or in neither. */
static bool judge_station(zero_work *w)
{
    const jaw_zero_entry *e = w->e;
    const bool x = e->term[JAW_X].feature != NULL;
    const bool y = e->term[JAW_Y].feature != NULL;

    if (e->station == NULL)
        return true;
    if (jaw__find_task(w->sv->setup, JAW_TASK_STATIONS, e->station) == NULL) {
        jaw__tell(w->sv, SAY_STATIONS_UNKNOWN, e->station_place,
                  jaw__task_hint(w->sv->setup, JAW_TASK_STATIONS,
                                 e->station).s,
                  e->station);
        jaw__zero_fail(w, JAW_EUNKNOWN);
        return false;
    }
    if (x == y)
        return true;
    jaw__tell(w->sv, SAY_STATION_HALF, e->station_place, x ? "y" : "x",
              e->name, x ? "x" : "y");
    jaw__zero_fail(w, JAW_EUNKNOWN);
    return false;
}

static void solve_zero(jaw__solver *sv, size_t i)
{
    zero_work w = {.sv = sv,
                   .e = &sv->setup->zeros[i],
                   .z = &sv->out->zeros[i],
                   .turned = {(double)NAN, (double)NAN}};

    sv->step_of = i;
    *w.z = zero_nan(w.e->name);
    if (is_repeated(sv, i)) {
        jaw__zero_fail(&w, JAW_ECONFLICT);
        return;
    }
    if (!judge_station(&w))
        return;
    jaw__step_over(&w);
    if (w.e->datums != NULL) {
        if (jaw__zero_by_datums(&w)) {
            find_turn(&w);
            jaw__judge_zero_travel(&w);
        }
    } else if (w.e->index.table != NULL) {
        jaw__zero_indexed(&w);
        jaw__judge_zero_travel(&w);
    } else if (jaw__find_skew(&w)) {
        bool plane = w.e->term[JAW_X].feature || w.e->term[JAW_Y].feature;
        if (plane && !w.skew_known)
            jaw__tell(sv, SAY_TURN_NONE, w.e->place, NULL, w.e->name);
        find_plane(&w);
        find_turn(&w);
        jaw__judge_zero_travel(&w);
    }
    jaw__find_z(&w);
}

void jaw__solve_zeros(jaw__solver *sv)
{
    sv->out->n_zeros = sv->setup->n_zeros;
    jaw__find_chains(sv);
    for (int indexed = 0; indexed < 2; indexed++)
        for (size_t i = 0; i < sv->setup->n_zeros; i++)
            if ((sv->setup->zeros[i].index.table != NULL) == indexed)
                solve_zero(sv, i);
}
