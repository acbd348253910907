/* SPDX-License-Identifier: GPL-3.0-or-later */
/* zero.h: a work zero while it is being found, shared by zero.c (the corner and
 * the order), bound.c (the line on which a term holds) and zero_z.c (Z). */
#ifndef JAW__ZERO_H
#define JAW__ZERO_H

#include "joint.h"

/* The line n . P = c on which a term holds. */
typedef struct jaw__bound {
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
} jaw__bound;

typedef struct jaw__zero_work {
    jaw__solver *sv;
    const jaw_zero_entry *e;
    jaw_zero_found *z;
    double skew; /* rad, of the part */
    double turn; /* rad, that the control will apply: skew or 0 */
    bool skew_known;
    jaw_vec2 turned; /* mm, the work zero if the control applied the skew */
} jaw__zero_work;

static inline const char *jaw__axis_word(jaw_axis axis)
{
    return axis == JAW_X ? "x" : axis == JAW_Y ? "y" : "z";
}

static inline const char *jaw__axis_cap(jaw_axis axis)
{
    return axis == JAW_X ? "X" : axis == JAW_Y ? "Y" : "Z";
}

static inline jaw_axis jaw__other_axis(jaw_axis axis)
{
    return axis == JAW_X ? JAW_Y : JAW_X;
}

static inline double jaw__dot(jaw_vec2 a, jaw_vec2 b)
{
    return a.x * b.x + a.y * b.y;
}

static inline bool jaw__is_walls(const jaw_found *f)
{
    return f->kind == JAW_SLOT || f->kind == JAW_WEB;
}

static inline const char *jaw__name_of(const jaw__zero_work *w, long f)
{
    return w->sv->setup->features[f].name;
}

static inline void jaw__zero_fail(jaw__zero_work *w, jaw_status status)
{
    if (w->z->status == JAW_OK)
        w->z->status = status;
}

/* jaw__zero_feature: a feature by name, solved; otherwise the message is given
 * and NULL returned.  `what` is the term that asks for it. */
const jaw_found *jaw__zero_feature(jaw__zero_work *w, const char *name,
                                   jaw_place place, const char *what,
                                   long *index);

/* bound.c.  jaw__find_bound: the line of one term; false when there is none,
 * and then the message was given.  jaw__bound_point: through a centre, along
 * the other axis of work coordinates that are turned.  jaw__wall_direction:
 * that of the wall that gives an axis, when nobody measured it.
 * jaw__say_across: that a feature runs along the axis that it is to give. */
bool jaw__find_bound(jaw__zero_work *w, jaw_axis axis, jaw__bound *b);
bool jaw__bound_point(double turn, jaw_axis axis, jaw_vec2 at, jaw__bound *b);
double jaw__wall_direction(const jaw__zero_work *w, jaw_axis axis);
bool jaw__say_across(jaw__zero_work *w, jaw_axis axis, long f);

/* zero.c.  jaw__find_skew: the turn of the part; false when it was not found,
 * and then the message was given.  jaw__judge_zero_travel: x and y against the
 * travel. */
bool jaw__find_skew(jaw__zero_work *w);
void jaw__judge_zero_travel(jaw__zero_work *w);

/* side.c: what the stated part coordinates are on side two, as steps. */
void jaw__step_over(jaw__zero_work *w);

/* zero_z.c: Z, by the convention for lengths. */
void jaw__find_z(jaw__zero_work *w);
/* jaw__z_of_node: Z from the height of something, less its part coordinate. */
void jaw__z_of_node(jaw__zero_work *w, const jaw__node *node, const char *kind,
                    double at, const char *name);

/* carried.c: all of a zero from three datums, false when they are not found;
 * or from another zero by a rotary table, after those that are not indexed. */
bool jaw__zero_by_datums(jaw__zero_work *w);
void jaw__zero_indexed(jaw__zero_work *w);
void jaw__find_chains(jaw__solver *sv); /* before any of these */

#endif
