/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bound.c: the line on the machine on which a part coordinate holds: a wall
 * itself, the middle between two, or the line through a centre along the other
 * part axis. */
#include "zero.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

typedef jaw__bound bound;
typedef jaw__zero_work zero_work;

/* Direction of the wall that gives an axis, when nobody measured it. */
double jaw__wall_direction(const zero_work *w, jaw_axis axis)
{
    return w->skew + (axis == JAW_X ? M_PI / 2 : 0);
}

static bool runs_along(const zero_work *w, double theta, jaw_axis axis)
{
    return fabs(jaw_angle_half(theta - jaw__wall_direction(w, axis))) <=
           M_PI / 4;
}

bool jaw__say_across(zero_work *w, jaw_axis axis, long f)
{
    jaw__tell(w->sv, SAY_TERM_ACROSS, w->e->term[axis].place,
             jaw__axis_word(jaw__other_axis(axis)), jaw__name_of(w, f),
             jaw__axis_word(axis),
             jaw__axis_word(axis));
    jaw__zero_fail(w, JAW_ESIDE);
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
    snprintf(hint, sizeof hint,
             "read both; each %s away from there shifts it by %s",
             unit == JAW_IN ? "inch" : "millimetre",
             jaw__fine_text(w->sv, cost).s);
    jaw__tell(w->sv, SAY_PLACE_ASSUMED, w->e->term[axis].place, hint, b->name,
             jaw__axis_word(jaw__other_axis(axis)));
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

/* An edge of which one coordinate was not read.  seen->point stands one reach
 * inside the mean reading of the wall; came has the direction it has now. */
static bool bound_edge_beside(zero_work *w, jaw_axis axis, long f,
                              const jaw__came *came, bound *b)
{
    const jaw_feature_entry *entry = &w->sv->setup->features[f];
    const jaw_edge *seen = &w->sv->out->features[f].as.edge;
    jaw__came was = jaw__came_of(w->sv, (size_t)f);
    double along = jaw__wall_direction(w, axis);
    double at = axis == JAW_X ? seen->point.x : seen->point.y;
    double sign = axis == JAW_X ? seen->normal.x : seen->normal.y;
    double n = fabs(axis == JAW_X ? sin(along) : cos(along));

    if (isnan(at))
        return jaw__say_across(w, axis, f);
    if (isnan(sign))
        sign = 0;
    at += sign * jaw__reach_now(w->sv, entry, jaw__approach(&was, none, true),
                                NULL);
    double off = jaw__reach_now(w->sv, entry, jaw__approach(came, none, true),
                                NULL);
    return bound_beside(w, axis, at, -sign * off, n, b);
}

/* Fitted again with the direction that the part has. */
static jaw_status fit_along(zero_work *w, long f, const jaw__came *came,
                            double along, jaw_edge *edge)
{
    const jaw_feature_entry *entry = &w->sv->setup->features[f];
    jaw_tip tip = jaw__tip_now(w->sv, entry);
    jaw_touch *met = met_touches(w, f, came);

    if (met == NULL)
        return JAW_ENOMEM;
    jaw_status status =
        jaw_feature_edge(met, w->sv->setup->shares[f].n_touches, &tip,
                         jaw__side_of(entry), along, edge, NULL);
    free(met);
    return status;
}

/* One place on a wall. */
static bool bound_edge_assumed(zero_work *w, jaw_axis axis, long f, bound *b)
{
    jaw_edge *seen = &w->sv->out->features[f].as.edge, edge;
    double along = jaw__wall_direction(w, axis);

    if (!runs_along(w, seen->theta, axis))
        return jaw__say_across(w, axis, f);
    say_square_assumed(w, axis, b->name);
    jaw__came came = jaw__came_of(w->sv, (size_t)f);
    came.theta += jaw_angle_half(along - came.theta); /* on the same side */
    if (isnan(seen->point.x) || isnan(seen->point.y))
        return bound_edge_beside(w, axis, f, &came, b);
    jaw_status status = fit_along(w, f, &came, along, &edge);
    if (status == JAW_ENOMEM) {
        w->sv->no_memory = true;
        return false;
    }
    if (status != JAW_OK)
        return jaw__say_across(w, axis, f);
    if (w->skew_known) {
        edge.flags = seen->flags;
        *seen = edge;
    }
    b->n = (jaw_vec2){cos(along + M_PI / 2), sin(along + M_PI / 2)};
    b->c = jaw__dot(b->n, edge.point);
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
        return jaw__say_across(w, axis, f);
    b->n = (jaw_vec2){-edge->dir.y, edge->dir.x};
    b->c = jaw__dot(b->n, edge->point);
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
    double along = jaw__wall_direction(w, axis);
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
        return jaw__say_across(w, axis, f);
    if (assumed && w->skew_known)
        turn_walls(w, axis, f);
    if (isnan(walls->middle.x) || isnan(walls->middle.y)) {
        double at = axis == JAW_X ? walls->middle.x : walls->middle.y;
        if (isnan(at))
            return jaw__say_across(w, axis, f);
        return bound_beside(w, axis, at, 0, 1, b);
    }
    if (assumed)
        say_square_assumed(w, axis, b->name);
    double theta = assumed ? jaw__wall_direction(w, axis) : walls->theta;
    b->n = (jaw_vec2){-sin(theta), cos(theta)};
    b->c = jaw__dot(b->n, walls->middle);
    b->wall = !assumed;
    b->theta = theta;
    b->span = walls->span;
    return true;
}

/* Like the middle between its two sides. */
static bool bound_bar(zero_work *w, jaw_axis axis, long f, bound *b)
{
    const jaw_bar *bar = &w->sv->out->features[f].as.bar;

    if (!runs_along(w, bar->theta, axis))
        return jaw__say_across(w, axis, f);
    b->point = (jaw_vec2){bar->point.x, bar->point.y};
    b->n = (jaw_vec2){-sin(bar->theta), cos(bar->theta)};
    b->c = jaw__dot(b->n, b->point);
    b->wall = true;
    b->theta = bar->theta;
    b->span = bar->span;
    return true;
}

static const char *term_cure(jaw_feature_kind kind)
{
    return kind == JAW_SWEEP
               ? "an indicator shows how a wall lies, not where: touch the "
                 "wall with a tip, as an edge"
               : "a face gives z; name an edge, bore, boss, slot, web or "
                 "pattern";
}

/* Through a centre, along the other axis of the work coordinates. */
bool jaw__bound_point(double turn, jaw_axis axis, jaw_vec2 at, bound *b)
{
    jaw_frame frame = jaw_frame_make((jaw_vec2){0, 0}, turn);

    b->n = axis == JAW_X ? (jaw_vec2){frame.c, frame.s}
                         : (jaw_vec2){-frame.s, frame.c};
    b->c = jaw__dot(b->n, at);
    b->point = at;
    b->turns = true;
    return true;
}

bool jaw__find_bound(zero_work *w, jaw_axis axis, bound *b)
{
    const jaw_zero_term *term = &w->e->term[axis];
    long index;
    jaw_vec2 centre;
    const jaw_found *f = jaw__zero_feature(w, term->feature, term->place,
                                        jaw__axis_cap(axis), &index);

    if (f == NULL)
        return false;
    *b = (bound){.name = jaw__name_of(w, index),
                 .feature = index,
                 .repeat = f->repeat,
                 .theta = (double)NAN};
    if (f->kind == JAW_EDGE)
        return bound_edge(w, axis, index, b);
    if (jaw__is_walls(f))
        return bound_walls(w, axis, index, b);
    if (f->kind == JAW_BAR)
        return bound_bar(w, axis, index, b);
    if (jaw__centre_of_found(f, &centre))
        return jaw__bound_point(w->turn, axis, centre, b);
    if (f->kind == JAW_PATTERN)
        return jaw__bound_point(w->turn, axis, f->as.pattern.frame.origin, b);
    jaw__tell(w->sv, SAY_TERM_KIND, term->place,
              term_cure(f->kind), jaw_feature_word(f->kind), b->name,
              jaw__axis_word(axis));
    jaw__zero_fail(w, JAW_EUNKNOWN);
    return false;
}
