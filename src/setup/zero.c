/* SPDX-License-Identifier: GPL-3.0-or-later */
/* zero.c: a work zero from whatever was touched.
 *
 * In the plane each term (`x stop at 0.25`) is one line on the machine on which
 * that part coordinate holds: the wall itself, the middle between two walls, or
 * the line through a centre along the other part axis.  The two lines meet at
 * P, whose part coordinates are the two stated ones; with walls that are not
 * square this is their true corner.  Then W = P - R(turn) at. */
#include "joint.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The line n . P = c on which a term holds. */
typedef struct bound {
    jaw_vec2 n;
    double c;
    jaw_vec2 point; /* where it was touched; NaN where not read */
    bool wall;      /* has a direction that was measured */
    bool turns;     /* n follows the work coordinates */
    double repeat;  /* mm, of one touch */
    double theta;   /* rad, of the wall, when measured */
    double span;    /* mm, over which it was measured */
    const char *name;
    long feature;
} bound;

typedef struct zero_work {
    jaw__solver *sv;
    const jaw_zero_entry *e;
    jaw_zero_found *z;
    double skew; /* rad, of the part */
    double turn; /* rad, that the control will apply: skew or 0 */
    bool skew_known;
    jaw_vec2 turned; /* mm, the work zero if the control applied the skew */
} zero_work;

static const char *const axis_words[JAW_AXES] = {"x", "y", "z"};
static const char *const axis_caps[JAW_AXES] = {"X", "Y", "Z"};

static jaw_axis other_axis(jaw_axis axis)
{
    return axis == JAW_X ? JAW_Y : JAW_X;
}

static double dot(jaw_vec2 a, jaw_vec2 b)
{
    return a.x * b.x + a.y * b.y;
}

static bool is_round(const jaw_found *f)
{
    return f->kind == JAW_BORE || f->kind == JAW_BOSS;
}

static bool is_walls(const jaw_found *f)
{
    return f->kind == JAW_SLOT || f->kind == JAW_WEB;
}

static const char *name_of(const zero_work *w, long f)
{
    return w->sv->setup->features[f].name;
}

static void fail(zero_work *w, jaw_status status)
{
    if (w->z->status == JAW_OK)
        w->z->status = status;
}

/* A feature by name, solved; otherwise the message is given. */
static const jaw_found *solved_feature(zero_work *w, const char *name,
                                       jaw_place place, const char *what,
                                       long *index)
{
    *index = jaw__find_feature(w->sv->setup, name);
    if (*index == JAW__NOWHERE) {
        jaw__text hint = jaw__feature_hint(w->sv->setup, name);
        jaw__tell(w->sv, SAY_FEATURE_UNKNOWN, place, hint.s, name);
        fail(w, JAW_EUNKNOWN);
        return NULL;
    }
    const jaw_found *found = &w->sv->out->features[*index];
    if (found->status == JAW_OK)
        return found;
    jaw__tell(w->sv, SAY_TERM_UNSOLVED, place, name, w->e->name, what, name);
    fail(w, found->status);
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
    if (is_walls(f)) {
        *theta = f->as.walls.theta;
        *span = f->as.walls.span;
        return true;
    }
    return false;
}

static bool skew_from_pattern(zero_work *w, const jaw_found *f, long index)
{
    if (w->e->turn_along == JAW_Y) {
        jaw__tell(w->sv, SAY_TURN_OWN_AXES, w->e->turn_place, NULL,
                  name_of(w, index));
        fail(w, JAW_ECONFLICT);
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
                 f->kind == JAW_EDGE || is_walls(f)
                     ? "touch it in a second place, far from the first"
                     : "name an edge, a slot, a web or a pattern",
                 jaw_feature_word(f->kind), name_of(w, index));
        fail(w, JAW_EUNKNOWN);
        return false;
    }
    if (e->turn_along == JAW_AXES) {
        jaw__tell(w->sv, SAY_TURN_NO_AXIS, e->turn_place, NULL,
                  jaw_feature_word(f->kind), name_of(w, index));
        fail(w, JAW_EUNKNOWN);
        return false;
    }
    double skew =
        jaw_angle_half(theta - (e->turn_along == JAW_Y ? M_PI / 2 : 0));
    if (fabs(skew) > M_PI / 4) {
        jaw__tell(w->sv, SAY_TURN_ACROSS, e->turn_place,
                 axis_words[other_axis(e->turn_along)], name_of(w, index),
                 jaw__angle_text(theta).s, axis_words[e->turn_along]);
        fail(w, JAW_ESIDE);
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
    const jaw_found *f = solved_feature(w, e->turn_feature, e->turn_place,
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

static bool find_skew(zero_work *w)
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

/* -------------------------------------------------------------------- bounds */

/* Direction of the wall that gives an axis, when nobody measured it. */
static double wall_direction(const zero_work *w, jaw_axis axis)
{
    return w->skew + (axis == JAW_X ? M_PI / 2 : 0);
}

static bool runs_along(const zero_work *w, double theta, jaw_axis axis)
{
    return fabs(jaw_angle_half(theta - wall_direction(w, axis))) <= M_PI / 4;
}

static bool say_across(zero_work *w, jaw_axis axis, long f)
{
    jaw__tell(w->sv, SAY_TERM_ACROSS, w->e->term[axis].place,
             axis_words[other_axis(axis)], name_of(w, f), axis_words[axis],
             axis_words[axis]);
    fail(w, JAW_ESIDE);
    return false;
}

/* The coordinate along the wall was not read: it is taken as that of the work
 * zero, where n . (P - centre) = -radius becomes, with P and centre at the same
 * place along the axis, P_a = centre_a - radius / n_a. */
static bool bound_beside(zero_work *w, jaw_axis axis, double at, double off,
                         double share, bound *b)
{
    jaw_unit unit = w->sv->setup->control.unit;
    double cost = jaw_unit_mm(unit) * fabs(tan(w->skew));
    char hint[120];

    b->n = axis == JAW_X ? (jaw_vec2){1, 0} : (jaw_vec2){0, 1};
    b->c = at + off / share;
    *(axis == JAW_X ? &b->point.x : &b->point.y) = b->c;
    if (w->skew == 0)
        return true;
    w->z->flags |= JAW_SAME_PLACE;
    snprintf(hint, sizeof hint, "read both; each %s away from there shifts it by %s",
             unit == JAW_IN ? "inch" : "millimetre",
             jaw__fine_text(w->sv, cost).s);
    jaw__tell(w->sv, SAY_PLACE_ASSUMED, w->e->term[axis].place, hint, b->name,
             axis_words[other_axis(axis)]);
    return true;
}

static void say_square_assumed(zero_work *w, jaw_axis axis, const char *name)
{
    if (!w->skew_known)
        return;
    jaw__tell(w->sv,
              w->e->square_known > 0 ? SAY_SQUARE_KNOWN : SAY_SQUARE_ASSUMED,
              w->e->term[axis].place, NULL, name,
              jaw__angle_text(jaw__square_of(w->e)).s);
    w->z->flags |= JAW_DIRECTION_ASSUMED;
}

static const jaw_touch none = {(double)NAN, (double)NAN, (double)NAN};

/* The touches of a feature as a plain tip would have read them; to be freed,
 * NULL when out of memory. */
static jaw_touch *met_touches(zero_work *w, long f, const jaw__came *came)
{
    size_t n = w->sv->setup->shares[f].n_touches;
    jaw_touch *met = calloc(n + 1, sizeof *met);

    if (met == NULL)
        w->sv->no_memory = true;
    else
        jaw__meet(w->sv, (size_t)f, came, met);
    return met;
}

/* One place on a wall: fitted again with the direction that the part has. */
static bool bound_edge_assumed(zero_work *w, jaw_axis axis, long f, bound *b)
{
    const jaw_setup *setup = w->sv->setup;
    const jaw_feature_entry *entry = &setup->features[f];
    const jaw__share *share = &setup->shares[f];
    jaw_edge *seen = &w->sv->out->features[f].as.edge;
    jaw_tip tip = jaw__tip_now(w->sv, entry);
    jaw_side side = jaw__side_of(entry);
    double along = wall_direction(w, axis);
    jaw_edge edge;

    if (!runs_along(w, seen->theta, axis))
        return say_across(w, axis, f);
    say_square_assumed(w, axis, entry->name);
    jaw_vec2 out = {cos(along + M_PI / 2), sin(along + M_PI / 2)};
    jaw__came came = jaw__came_of(w->sv, (size_t)f);
    double before = jaw__approach(&came, none, true);
    came.theta += jaw_angle_half(along - came.theta); /* on the same side */
    if (isnan(seen->point.x) || isnan(seen->point.y)) {
        /* seen->point stands one reach inside the wall's mean reading. */
        double at = axis == JAW_X ? seen->point.x : seen->point.y;
        double sign = axis == JAW_X ? seen->normal.x : seen->normal.y;
        double n = fabs(axis == JAW_X ? out.x : out.y);
        if (isnan(at))
            return say_across(w, axis, f);
        if (isnan(sign))
            sign = 0;
        at += sign * jaw__reach_now(w->sv, entry, before, NULL);
        double off = jaw__reach_now(w->sv, entry,
                                    jaw__approach(&came, none, true), NULL);
        return bound_beside(w, axis, at, -sign * off, n, b);
    }
    jaw_touch *met = met_touches(w, f, &came);
    if (met == NULL)
        return false;
    jaw_status status = jaw_feature_edge(met, share->n_touches, &tip, side,
                                         along, &edge, NULL);
    free(met);
    if (status != JAW_OK)
        return say_across(w, axis, f);
    if (w->skew_known) {
        edge.flags = seen->flags;
        *seen = edge;
    }
    b->n = out;
    b->c = dot(out, edge.point);
    b->point = edge.point;
    return true;
}

static bool bound_edge(zero_work *w, jaw_axis axis, long f, bound *b)
{
    const jaw_edge *edge = &w->sv->out->features[f].as.edge;

    b->point = edge->point;
    if (edge->flags & JAW_DIRECTION_ASSUMED)
        return bound_edge_assumed(w, axis, f, b);
    if (!runs_along(w, edge->theta, axis))
        return say_across(w, axis, f);
    b->n = (jaw_vec2){-edge->dir.y, edge->dir.x};
    b->c = dot(b->n, edge->point);
    b->wall = true;
    b->theta = edge->theta;
    b->span = edge->span;
    return true;
}

/* Walls touched in one place each are as far apart as the part's direction
 * says, which is known only here. */
static void turn_walls(zero_work *w, jaw_axis axis, long f)
{
    const jaw_setup *setup = w->sv->setup;
    const jaw_feature_entry *e = &setup->features[f];
    const jaw__share *share = &setup->shares[f];
    size_t na = share->first_wall, nb = share->n_touches - na;
    jaw_walls *seen = &w->sv->out->features[f].as.walls, turned;
    jaw_tip tip = jaw__tip_now(w->sv, e);
    double along = wall_direction(w, axis);
    jaw__came came = jaw__came_of(w->sv, (size_t)f);
    came.theta += jaw_angle_half(along - came.theta);
    jaw_touch *t = met_touches(w, f, &came);
    if (t == NULL)
        return;
    jaw_status status =
        (e->kind == JAW_SLOT ? jaw_feature_slot : jaw_feature_web)(
            t, na, t + na, nb, &tip, along, &turned, NULL);

    free(t);
    if (status != JAW_OK)
        return;
    turned.flags = seen->flags;
    *seen = turned;
}

static bool bound_walls(zero_work *w, jaw_axis axis, long f, bound *b)
{
    const jaw_walls *walls = &w->sv->out->features[f].as.walls;
    bool assumed = (walls->flags & JAW_DIRECTION_ASSUMED) != 0;

    b->point = walls->middle;
    if (!runs_along(w, walls->theta, axis))
        return say_across(w, axis, f);
    if (assumed && w->skew_known)
        turn_walls(w, axis, f);
    if (isnan(walls->middle.x) || isnan(walls->middle.y)) {
        double at = axis == JAW_X ? walls->middle.x : walls->middle.y;
        if (isnan(at))
            return say_across(w, axis, f);
        return bound_beside(w, axis, at, 0, 1, b);
    }
    if (assumed)
        say_square_assumed(w, axis, b->name);
    double theta = assumed ? wall_direction(w, axis) : walls->theta;
    b->n = (jaw_vec2){-sin(theta), cos(theta)};
    b->c = dot(b->n, walls->middle);
    b->wall = !assumed;
    b->theta = theta;
    b->span = walls->span;
    return true;
}

/* Through a centre, along the other axis of the work coordinates. */
static bool bound_point(double turn, jaw_axis axis, jaw_vec2 at, bound *b)
{
    jaw_frame frame = jaw_frame_make((jaw_vec2){0, 0}, turn);

    b->n = axis == JAW_X ? (jaw_vec2){frame.c, frame.s}
                         : (jaw_vec2){-frame.s, frame.c};
    b->c = dot(b->n, at);
    b->point = at;
    b->turns = true;
    return true;
}

static bool find_bound(zero_work *w, jaw_axis axis, bound *b)
{
    const jaw_zero_term *term = &w->e->term[axis];
    long index;
    const jaw_found *f = solved_feature(w, term->feature, term->place,
                                        axis_caps[axis], &index);

    if (f == NULL)
        return false;
    *b = (bound){.name = name_of(w, index),
                 .feature = index,
                 .repeat = f->repeat,
                 .theta = (double)NAN};
    if (f->kind == JAW_EDGE)
        return bound_edge(w, axis, index, b);
    if (is_walls(f))
        return bound_walls(w, axis, index, b);
    if (is_round(f))
        return bound_point(w->turn, axis, f->as.round.centre, b);
    if (f->kind == JAW_PATTERN)
        return bound_point(w->turn, axis, f->as.pattern.frame.origin, b);
    jaw__tell(w->sv, SAY_TERM_KIND, term->place,
             "a face gives z; name an edge, bore, boss, slot, web or pattern",
             jaw_feature_word(f->kind), b->name, axis_words[axis]);
    fail(w, JAW_EUNKNOWN);
    return false;
}

/* ---------------------------------------------------------------- the corner */

/* How the feature itself came from where the tip's centre was. */
static void step_feature(zero_work *w, const bound *b, jaw_axis axis)
{
    const jaw_setup *setup = w->sv->setup;
    const jaw_found *f = &w->sv->out->features[b->feature];
    const char *cap = axis_caps[axis], *word = axis_words[axis];
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
              : is_walls(f)          ? "halfway between the walls of"
              : f->kind == JAW_PATTERN ? "origin of"
                                       : "centre of",
              b->name, word);
}

static void step_corner(zero_work *w, const bound b[2], jaw_vec2 p,
                        jaw_vec2 shift, jaw_axis axis)
{
    const char *cap = axis_caps[axis];
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
    double skew = jaw_angle_half(b->theta - wall_direction(w, axis));
    if (fabs(sin(skew)) * b->span <= JAW__DOUBTFUL * M_SQRT2 * b->repeat)
        return;
    if (w->e->turn_use == JAW_TURN_STATED) {
        jaw__tell(w->sv, SAY_TURN_DIFFERS, w->e->turn_place, b->name, b->name,
                  jaw__angle_text(skew).s);
        return;
    }
    char hint[120];
    snprintf(hint, sizeof hint, "%.60s along %s", b->name,
             axis_words[other_axis(axis)]);
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
            bound_point(w->skew, a, t[a].point, &t[a]);
    jaw_vec2 p = meet(t), shift = turned_at(w, w->skew);
    return (jaw_vec2){p.x - shift.x, p.y - shift.y};
}

static void find_corner(zero_work *w, const bound b[2])
{
    if (between(b) == 0) { /* one wall at 45 degrees for both */
        say_across(w, JAW_Y, b[JAW_Y].feature);
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
                 axis_words[other_axis(axis)], w->e->name, axis_caps[axis]);
        fail(w, JAW_EUNKNOWN);
        return;
    }
    if (b->wall)
        jaw__tell(w->sv, SAY_TERM_FREE, term->place, NULL, w->e->name,
                 axis_caps[axis], b->name);
    *value = point - term->at;
    round_plane(w);
    step_feature(w, b, axis);
    jaw__step(w->sv, -term->at, JAW_LENGTH,
              "%s  less the part coordinate stated there", axis_caps[axis]);
    jaw__step(w->sv, axis == JAW_X ? w->z->enter.x : w->z->enter.y, JAW_LENGTH,
              "%s  rounded to the control's step", axis_caps[axis]);
}

static void find_plane(zero_work *w)
{
    bound b[2];
    bool have[2];

    for (jaw_axis a = JAW_X; a <= JAW_Y; a++) {
        have[a] = w->e->term[a].feature != NULL && find_bound(w, a, &b[a]);
        if (have[a])
            judge_wall_turn(w, &b[a], a);
    }
    if (have[0] && have[1])
        find_corner(w, b);
    for (jaw_axis a = JAW_X; a <= JAW_Y; a++)
        if (have[a] && w->e->term[other_axis(a)].feature == NULL)
            find_lone(w, &b[a], a);
}

/* ------------------------------------------------------------------------- Z */

/* The node whose value, with the face's, makes this zero's Z. */
static bool z_by_rule(zero_work *w, const jaw__node *face, double at,
                      const char *name)
{
    const jaw_control *c = &w->sv->setup->control;
    long tool = jaw__find_tool(w->sv->setup, c->reference);
    double z = face->value - at;

    if (c->lengths == JAW_REFERENCE_TOOL) {
        const jaw__node *ref =
            tool == JAW__NOWHERE
                ? NULL
                : &w->sv->nodes[jaw__tool_node(w->sv, (size_t)tool)];
        if (ref == NULL || ref->chain != face->chain) {
            char hint[64];
            snprintf(hint, sizeof hint, "'%.50s'", name);
            jaw__tell(w->sv, SAY_NO_REFERENCE, w->e->term[JAW_Z].place, hint,
                     w->e->name, c->reference);
            fail(w, JAW_EUNKNOWN);
            return false;
        }
        jaw__step(w->sv, -ref->value, JAW_LENGTH,
                  "Z  length of reference tool %d%s", c->reference,
                  ref->grounded ? "" : ", in the same chain of touches");
        w->z->zero.z = z - ref->value;
        return true;
    }
    if (!face->grounded) {
        jaw__tell(w->sv, SAY_NO_HEIGHT, w->e->term[JAW_Z].place, NULL, name);
        fail(w, JAW_EUNKNOWN);
        return false;
    }
    w->z->zero.z = z;
    return true;
}

/* Tip to part: the registers of the tools carry the first zero's height, so its
 * own Z is 0, and that of the others is the difference. */
static bool z_tip_to_part(zero_work *w, const jaw__node *face, double at,
                          const char *name)
{
    const jaw_setup *setup = w->sv->setup;

    for (size_t i = 0; i < setup->n_zeros; i++) {
        const jaw_zero_entry *first = &setup->zeros[i];
        long f = jaw__find_feature(setup, first->term[JAW_Z].feature);
        if (f == JAW__NOWHERE || setup->features[f].kind != JAW_FACE)
            continue;
        const jaw__node *base = &w->sv->nodes[jaw__feature_node(w->sv,
                                                                (size_t)f)];
        if (base->chain != face->chain)
            break;
        w->z->zero.z =
            (face->value - at) - (base->value - first->term[JAW_Z].at);
        jaw__step(w->sv, w->z->zero.z, JAW_LENGTH,
                  "Z  against %s, whose height the tool registers carry",
                  first->name);
        return true;
    }
    jaw__tell(w->sv, SAY_NO_HEIGHT, w->e->term[JAW_Z].place, NULL, name);
    fail(w, JAW_EUNKNOWN);
    return false;
}

static void find_height(zero_work *w)
{
    const jaw_zero_term *term = &w->e->term[JAW_Z];
    const jaw_control *c = &w->sv->setup->control;
    long index;

    if (term->feature == NULL)
        return;
    const jaw_found *f =
        solved_feature(w, term->feature, term->place, "Z", &index);
    if (f == NULL)
        return;
    if (f->kind != JAW_FACE) {
        jaw__tell(w->sv, SAY_TERM_KIND, term->place,
                 "name a face that was touched from above",
                 jaw_feature_word(f->kind), term->feature, "z");
        fail(w, JAW_EUNKNOWN);
        return;
    }
    const jaw__node *node =
        &w->sv->nodes[jaw__feature_node(w->sv, (size_t)index)];
    if (node->grounded)
        jaw__step(w->sv, node->value, JAW_LENGTH, "Z  machine Z of face '%s'",
                  term->feature);
    jaw__step(w->sv, -term->at, JAW_LENGTH,
              "Z  less the part coordinate stated there");
    bool known = c->lengths == JAW_TIP_TO_PART
                     ? z_tip_to_part(w, node, term->at, term->feature)
                     : z_by_rule(w, node, term->at, term->feature);
    if (!known)
        return;
    w->z->enter.z = jaw_round_to_step(w->z->zero.z, c->step);
    jaw__step(w->sv, w->z->enter.z, JAW_LENGTH,
              "Z  rounded to the control's step");
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
        jaw__step(w->sv, w->skew, JAW_ANGLE, "turn  of the part%s%s%s",
                  w->e->turn_use == JAW_TURN_FEATURE ? ", from '" : ", stated",
                  w->e->turn_use == JAW_TURN_FEATURE ? w->e->turn_feature : "",
                  w->e->turn_use == JAW_TURN_FEATURE ? "'" : "");
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

static void judge_zero_travel(zero_work *w)
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

static void solve_zero(jaw__solver *sv, size_t i)
{
    zero_work w = {.sv = sv,
                   .e = &sv->setup->zeros[i],
                   .z = &sv->out->zeros[i],
                   .turned = {(double)NAN, (double)NAN}};
    size_t before = sv->out->n_steps;

    *w.z = zero_nan(w.e->name);
    if (is_repeated(sv, i)) {
        fail(&w, JAW_ECONFLICT);
        return;
    }
    if (find_skew(&w)) {
        bool plane = w.e->term[JAW_X].feature || w.e->term[JAW_Y].feature;
        if (plane && !w.skew_known)
            jaw__tell(sv, SAY_TURN_NONE, w.e->place, NULL, w.e->name);
        find_plane(&w);
        find_turn(&w);
        judge_zero_travel(&w);
    }
    find_height(&w);
    w.z->n_steps = sv->out->n_steps - before;
}

void jaw__solve_zeros(jaw__solver *sv)
{
    sv->out->n_zeros = sv->setup->n_zeros;
    for (size_t i = 0; i < sv->setup->n_zeros; i++)
        solve_zero(sv, i);
}
