/* SPDX-License-Identifier: GPL-3.0-or-later */
/* world.h: random setups whose truth is known, because they are made from it:
 * a part lies somewhere at some angle, its walls are where they are, and a tip
 * is moved until it meets them, give or take the repeat.  Nothing here calls
 * what it tests; the only thing asked of the library is to keep the entries. */
#ifndef SIMULATE_WORLD_H
#define SIMULATE_WORLD_H

#include <jawline.h>

#include <gsl/gsl_rng.h>

enum { TRUTHS_MAX = 40, PARAMETERS = 4 };

/* A value that the solved setup gives, and what it is in truth.  A figure of a
 * finding has the finding's own words for it as name.  How far a cut will lie
 * off side one depends on the values that were entered, so its truth is found
 * when the setup is solved: at the zero, at the far end, or of the height. */
typedef enum truth_kind {
    TRUE_ZERO,
    TRUE_TURN,
    TRUE_TOOL,
    TRUE_FIGURE,
    TRUE_OFF_ZERO,
    TRUE_OFF_FAR,
    TRUE_OFF_HEIGHT
} truth_kind;

typedef struct truth {
    char name[64];
    truth_kind kind;
    size_t index; /* of the work zero, tool or finding */
    jaw_axis axis;
    double is; /* mm or rad */
} truth;

/* What the next setup is made with. */
typedef struct recipe {
    bool stated;    /* the tips state their repeat */
    double stretch; /* not stated: true repeat over the default */
    double loud;    /* 1; 0: every touch and every part is exact */
    long slip_at;   /* number of the touch that slips; -1: none */
    double slip;    /* mm, along the wall's normal */
    long also_at;   /* a second touch that slips; -1: none */
    double also;
    long hole_at;   /* number of the place that is not as drawn; -1: none */
    jaw_vec2 hole;  /* mm, by how much */
    double size_off; /* mm, by what a known diameter is stated wrong */
} recipe;

typedef struct world {
    gsl_rng *rng;
    recipe made;
    jaw_setup *setup;
    double repeat; /* mm, in truth, of one touch */
    double radius; /* mm, of the tip */
    double harmonic[4]; /* mm, of its reach, c1 s1 c3 s3 */
    jaw_vec2 p;    /* mm, on the machine: the corner that the zero stands on */
    jaw_vec2 at;   /* mm, its part coordinates */
    double skew;   /* rad */
    bool can_turn;
    double length_known; /* mm, of the tip's length; 0: exact */
    jaw_vec3 meets;      /* mm, machine: what the cut at side two's zero is to
                            meet */
    double tool;         /* mm, true length of the tool that cuts it */
    size_t tested; /* tests of tasks, each with JAW_TRUST_ALPHA, at most */
    long touches, holes;
    size_t n_truths;
    truth truths[TRUTHS_MAX];
} world;

/* world_make: one random setup by the recipe in w->made; reads from w->rng the
 * same numbers whatever the recipe says.  world_drop frees the setup. */
typedef void world_builder(world *w, const int p[PARAMETERS]);
void world_make(world *w, world_builder *build, const int p[PARAMETERS]);
void world_drop(world *w);

/* Kinds of setups; p as is said beside each. */
world_builder build_edge, build_face, build_round, build_walls, build_pattern,
    build_corner_twice, build_pattern_sheet, build_lengths, build_second_zero,
    build_lobed, build_solid;
/* tasks.c */
world_builder build_stations, build_side, build_table, build_datums,
    build_stock, build_vee, build_head, build_square;

#endif
