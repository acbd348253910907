/* SPDX-License-Identifier: GPL-3.0-or-later */
/* parts.h: what setups with a known truth are made of: chance, places, tips,
 * features and zeros.  All is made forward, by the one line of setup.h and
 * plain geometry. */
#ifndef SIMULATE_PARTS_H
#define SIMULATE_PARTS_H

#include "world.h"

extern const jaw_place nowhere;

/* ------------------------------------------------------------------ chance */

double between(world *w, double low, double high);
/* A place within so much of another, one coordinate after the other: what C
 * leaves open must not decide which random number goes where. */
jaw_vec2 near_by(world *w, jaw_vec2 p, double dx, double dy);
double error(world *w, double sigma);
jaw_vec2 off_by(world *w, jaw_vec2 p, double sigma);
/* The program ends where an entry is refused. */
void good(jaw_status status);

/* ---------------------------------------------------------------- geometry */

jaw_vec2 direction(double theta);
jaw_vec2 go(jaw_vec2 from, jaw_vec2 dir, double way);
/* The i-th of n stations over a span, each somewhere in its own share of it,
 * the two outer ones near the ends. */
double station(world *w, int i, int n, double span);

/* ----------------------------------------------------------------- entries */

void set_control(world *w, jaw_length_rule lengths);
void new_corner(world *w);
/* Its length is stated with an error when w->length_known says so. */
void add_tip(world *w, const char *name, double length);
/* A tip that stands off the axis and has three lobes, and what a calibration
 * states of it, off by errors that hang together as stated. */
void add_lobed_tip(world *w);
/* A contact of a tool repeats as one touch of a tip that states nothing. */
double contact_repeat(const world *w);

void add_feature(world *w, jaw_feature_kind kind, const char *name,
                 jaw_side faces);
/* What is added to the next touch because it slips. */
double slip_of(const world *w);
/* The place on a surface and its normal, on the machine; the reading is that of
 * the tip's lowest point and the gauge line above it. */
void touch_solid(world *w, jaw_vec3 on, jaw_vec3 n, double length);
/* A wall along part x that faces the operator; it gives Y and the turn. */
void add_rail(world *w, const char *name, int n, int times);
/* A wall along part y that faces x-, through the corner.  Touched in one place
 * it is taken as square, and is so within the spread stated for that. */
void add_stop(world *w, const char *name, int n, int times);
/* A tilted plane, whose height is asked for midway between the touches: that is
 * z, or what is returned. */
void add_face_at(world *w, const char *name, double z, int n, int times,
                 double length);
double add_face(world *w, const char *name, int n, int times, double length);
/* Of a size of its own, known or not; returned: its radius. */
double add_sized(world *w, jaw_feature_kind kind, const char *name, bool known);
void add_round(world *w, jaw_feature_kind kind, const char *name,
               jaw_vec2 centre, int n, double arc, bool known);
/* Two parallel walls along theta, their middle through p.  One touch on each
 * is taken straight across, as far as the eye can tell. */
void add_walls(world *w, jaw_feature_kind kind, const char *name, double theta,
               int na, int nb);

typedef struct zero_names {
    const char *x, *y, *z, *turn;
    jaw_axis along;
} zero_names;

void add_zero(world *w, const char *name, zero_names from, double z_at);

/* ------------------------------------------------------------------- truths */

void expect(world *w, const char *name, truth_kind kind, size_t index,
            jaw_axis axis, double is);
/* W = P - R(turn) at, the turn being 0 on a control that takes none. */
void expect_plane(world *w, size_t zero, bool turned);

#endif
