/* SPDX-License-Identifier: GPL-3.0-or-later */
/* world.c: random setups with their truth: of single features, and of sheets
 * that have more than one. */
#include "parts.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

void world_make(world *w, world_builder *build, const int p[PARAMETERS])
{
    double stated = exp(between(w, log(0.001), log(0.01)));

    w->setup = jaw_setup_alloc();
    if (w->setup == NULL) {
        fputs("out of memory\n", stderr);
        exit(2);
    }
    w->repeat = w->made.stated ? stated : w->made.stretch * JAW_REPEAT_DEFAULT;
    w->radius = between(w, 0.5, 3);
    w->can_turn = gsl_rng_uniform_int(w->rng, 2) == 1;
    for (int k = 0; k < 4; k++)
        w->harmonic[k] = 0;
    w->length_known = 0;
    w->tested = 0;
    w->touches = 0;
    w->holes = 0;
    w->n_truths = 0;
    new_corner(w);
    set_control(w, JAW_GAUGE_LINE);
    build(w, p);
}

void world_drop(world *w)
{
    jaw_setup_free(w->setup);
    w->setup = NULL;
}

/* ------------------------------------------------------------------ features */

void build_edge(world *w, const int p[PARAMETERS])
{
    add_tip(w, "probe", (double)NAN);
    add_rail(w, "rail", p[0], 1);
    add_stop(w, "stop", 1, 1);
    add_zero(w, "G54", (zero_names){"stop", "rail", NULL, "rail", JAW_X}, 0);
    expect_plane(w, 0, true);
}

void build_face(world *w, const int p[PARAMETERS])
{
    double length = between(w, 60, 200), at = between(w, -20, 20);

    add_tip(w, "probe", length);
    double z = add_face(w, "top", p[0], 1, length);
    add_zero(w, "G54", (zero_names){NULL, NULL, "top", NULL, JAW_AXES}, at);
    expect(w, "Z", TRUE_ZERO, 0, JAW_Z, z - at);
}

/* A corner; the centre of a bore or boss, of known size where it is touched
 * over an arc, for the lobes look like a wrong size there; or the middle of a
 * slot beside an edge, and a bore of known size, in which the tip shows itself.
 */
void build_lobed(world *w, const int p[PARAMETERS])
{
    zero_names names = {"stop", "rail", NULL, "rail", JAW_X};

    add_lobed_tip(w);
    if (p[0] == 0) {
        add_rail(w, "rail", 3, 1);
        add_stop(w, "stop", 2, 1);
    } else if (p[0] == 1) {
        names = (zero_names){"pilot", "pilot", NULL, NULL, JAW_AXES};
        add_round(w, (jaw_feature_kind)p[1], "pilot", w->p, p[2],
                  (p[3] != 0 ? 120 : 360) * M_PI / 180, p[3] != 0);
    } else {
        names.x = "key";
        jaw_vec2 ring = near_by(w, (jaw_vec2){500, 0}, 100, 100);
        add_round(w, JAW_BORE, "ring", ring, p[1], 2 * M_PI, true);
        add_rail(w, "rail", 2, 1);
        add_walls(w, JAW_SLOT, "key", w->skew + M_PI / 2, 2, 2);
    }
    add_zero(w, "G54", names, 0);
    expect_plane(w, 0, p[0] != 1);
}

/* On top, and round it at heights of its own. */
static void add_ball(world *w, const char *name, jaw_vec3 centre, int n,
                     bool known, double length)
{
    double r = add_sized(w, JAW_BALL, name, known);
    double spin = between(w, 0, 2 * M_PI);

    for (int i = 0; i < n; i++) {
        double angle = spin + station(w, i, n - 1, 2 * M_PI);
        double up = i == n - 1 ? M_PI / 2 : between(w, 0, 0.9);
        jaw_vec2 level = direction(angle);
        jaw_vec3 u = {cos(up) * level.x, cos(up) * level.y, sin(up)};
        touch_solid(w,
                    (jaw_vec3){centre.x + r * u.x, centre.y + r * u.y,
                               centre.z + r * u.z},
                    u, length);
    }
}

/* Level, along the part's x: left, top and right at n stations. */
static void add_bar(world *w, const char *name, jaw_vec3 on, int n, bool known,
                    double length)
{
    double r = add_sized(w, JAW_BAR, name, known);
    jaw_vec2 dir = direction(w->skew), left = direction(w->skew + M_PI / 2);

    for (int i = 0; i < 3 * n; i++) {
        double a = 0.1 + (i % 3) * 0.46 * M_PI;
        double way = station(w, i / 3, n, 100) - 50;
        jaw_vec3 u = {cos(a) * left.x, cos(a) * left.y, sin(a)};
        jaw_vec2 p = go((jaw_vec2){on.x, on.y}, dir, way);
        touch_solid(w,
                    (jaw_vec3){p.x + r * u.x, p.y + r * u.y, on.z + r * u.z},
                    u, length);
    }
}

static void read_hand(world *w, double x, double y, double reading)
{
    jaw_touch t = {x, y, reading + error(w, w->repeat) + slip_of(w)};

    good(jaw_setup_add_touch(w->setup, t, nowhere));
    w->touches++;
}

static void add_indicated(world *w, jaw_feature_entry e)
{
    e.within = (double)NAN;
    e.repeat = w->made.stated ? w->repeat : 0;
    good(jaw_setup_add_feature(w->setup, &e));
}

/* A wall that faces y-, through the corner: the plunger goes in as the wall
 * comes nearer, to y-. */
static void add_sweep(world *w, const char *name, int n)
{
    double zero = between(w, -1, 1);

    add_indicated(w, (jaw_feature_entry){.name = name,
                                         .kind = JAW_SWEEP,
                                         .faces = JAW_SIDE_YMINUS});
    for (int i = 0; i < n; i++) {
        double x = w->p.x + station(w, i, n, 120);
        read_hand(w, x, (double)NAN, zero - (x - w->p.x) * tan(w->skew));
    }
}

/* A bore that is met along a ray from where the spindle stands. */
static void add_dial(world *w, const char *name, int n)
{
    double r = between(w, 6, 40), zero = between(w, -1, 1);
    jaw_vec2 stands = near_by(w, w->p, 0.5, 0.5);

    add_indicated(w, (jaw_feature_entry){.name = name,
                                         .kind = JAW_DIAL,
                                         .inside = true,
                                         .stands = stands,
                                         .size_use = JAW_SIZE_KNOWN,
                                         .size = 2 * r});
    for (int i = 0; i < n; i++) {
        double a = station(w, i, n, 2 * M_PI);
        jaw_vec2 u = direction(a);
        jaw_vec2 c = {w->p.x - stands.x, w->p.y - stands.y};
        /* |t u - c| = r */
        double along = u.x * c.x + u.y * c.y;
        double aside = u.x * c.y - u.y * c.x;
        read_hand(w, a, (double)NAN,
                  zero - along - sqrt(r * r - aside * aside));
    }
}

/* A ball of p[1] touches; a bar of p[1] stations, across which the ball gives
 * what it does not; a dial of p[1] readings and a sweep of p[2]. */
void build_solid(world *w, const int p[PARAMETERS])
{
    double length = between(w, 60, 200), z = between(w, -400, -100);
    bool known = p[3] != 0;

    add_tip(w, "probe", length);
    if (p[0] == 0) {
        add_ball(w, "target", (jaw_vec3){w->p.x, w->p.y, z}, p[1], known,
                 length);
        add_zero(w, "G54",
                 (zero_names){"target", "target", "target", NULL, JAW_AXES},
                 0);
    } else if (p[0] == 1) {
        add_bar(w, "shaft", (jaw_vec3){w->p.x, w->p.y, z}, p[1], known, length);
        add_stop(w, "stop", 2, 1);
        add_zero(w, "G54",
                 (zero_names){"stop", "shaft", "shaft", "shaft", JAW_X}, 0);
    } else {
        add_dial(w, "pilot", p[1]);
        add_sweep(w, "jaw", p[2]);
        add_zero(w, "G54", (zero_names){"pilot", "pilot", NULL, "jaw", JAW_X},
                 0);
    }
    expect_plane(w, 0, p[0] != 0);
    if (p[0] != 2)
        expect(w, "Z", TRUE_ZERO, 0, JAW_Z, z);
}

void build_round(world *w, const int p[PARAMETERS])
{
    add_tip(w, "probe", (double)NAN);
    add_round(w, (jaw_feature_kind)p[0], "pilot", w->p, p[1],
              p[2] * M_PI / 180, p[3] != 0);
    add_zero(w, "G54", (zero_names){"pilot", "pilot", NULL, NULL, JAW_AXES},
             0);
    expect_plane(w, 0, false);
}

/* Touched once on each side it has the part's direction, which a rail gives. */
void build_walls(world *w, const int p[PARAMETERS])
{
    jaw_feature_kind kind = (jaw_feature_kind)p[0];

    add_tip(w, "probe", (double)NAN);
    if (p[1] + p[2] == 2) {
        add_rail(w, "rail", 3, 1);
        double off = error(w, JAW_SQUARE_DEFAULT);
        add_walls(w, kind, "key", w->skew + M_PI / 2 + off, 1, 1);
        add_zero(w, "G54", (zero_names){"key", "rail", NULL, "rail", JAW_X},
                 0);
    } else {
        add_walls(w, kind, "key", w->skew, p[1], p[2]);
        add_stop(w, "stop", 1, 1);
        add_zero(w, "G54", (zero_names){"stop", "key", NULL, "key", JAW_X}, 0);
    }
    expect_plane(w, 0, true);
}

/* Nominal places well apart, and where each lies on the machine: p and the skew
 * are those of the drawing's own zero. */
static void add_holes(world *w, const char *const bores[], int n, int touches)
{
    static const jaw_vec2 corner[] = {{0, 0}, {60, 5}, {55, 45}, {-5, 40},
                                      {30, 20}};
    double size = between(w, 0.5, 1.5);
    jaw_vec2 shift = near_by(w, (jaw_vec2){0, 0}, 30, 30);
    jaw_vec2 x = direction(w->skew), y = direction(w->skew + M_PI / 2);
    jaw_hole_entry hole[5];

    for (int i = 0; i < n; i++) {
        jaw_vec2 nominal = {shift.x + size * corner[i].x,
                            shift.y + size * corner[i].y};
        nominal = near_by(w, nominal, 3, 3);
        jaw_vec2 is = go(go(w->p, x, nominal.x), y, nominal.y);
        is = off_by(w, is, JAW_SPACING_DEFAULT);
        if (w->holes++ == w->made.hole_at)
            is = (jaw_vec2){is.x + w->made.hole.x, is.y + w->made.hole.y};
        hole[i] = (jaw_hole_entry){.nominal = nominal,
                                   .place = {.line = i + 1, .column = 1},
                                   .touched = {(double)NAN, (double)NAN},
                                   .feature = bores == NULL ? NULL : bores[i]};
        if (bores != NULL)
            add_round(w, JAW_BORE, bores[i], is, touches, 2 * M_PI, false);
        else
            hole[i].touched = off_by(w, is, JAW_REPEAT_DEFAULT);
    }
    add_feature(w, JAW_PATTERN, "plate", JAW_SIDE_NONE);
    for (int i = 0; i < n; i++)
        good(jaw_setup_add_hole(w->setup, &hole[i]));
}

static const char *const bore_names[] = {"a", "b", "c", "d", "e"};

void build_pattern(world *w, const int p[PARAMETERS])
{
    add_tip(w, "probe", (double)NAN);
    add_holes(w, p[1] != 0 ? bore_names : NULL, p[0], p[1]);
    add_zero(w, "G54",
             (zero_names){"plate", "plate", NULL, "plate", JAW_AXES}, 0);
    expect_plane(w, 0, true);
}

/* -------------------------------------------------------------------- sheets */

/* Two walls and the top, each place touched twice. */
void build_corner_twice(world *w, const int p[PARAMETERS])
{
    double length = between(w, 60, 200);

    (void)p;
    add_tip(w, "probe", length);
    add_rail(w, "rail", 2, 2);
    add_stop(w, "stop", 2, 2);
    double z = add_face(w, "top", 3, 2, length);
    add_zero(w, "G54", (zero_names){"stop", "rail", "top", "rail", JAW_X}, 0);
    expect_plane(w, 0, true);
    expect(w, "Z", TRUE_ZERO, 0, JAW_Z, z);
}

/* Four bores with known spacing, and the top. */
void build_pattern_sheet(world *w, const int p[PARAMETERS])
{
    double length = between(w, 60, 200);

    (void)p;
    add_tip(w, "probe", length);
    add_holes(w, bore_names, 4, 4);
    double z = add_face(w, "top", 4, 1, length);
    add_zero(w, "G54", (zero_names){"plate", "plate", "top", "plate", JAW_AXES},
             0);
    expect_plane(w, 0, true);
    expect(w, "Z", TRUE_ZERO, 0, JAW_Z, z);
}

static void add_contacts(world *w, int tool, double length, double top,
                         double between_them)
{
    jaw_tool_entry e = {.number = tool,
                        .length = (double)NAN,
                        .diameter = (double)NAN};

    good(jaw_setup_add_tool(w->setup, &e));
    for (int i = 0; i < 2; i++) {
        jaw_contact_entry c = {.tool = tool,
                               .reading = top + length + between_them +
                                          error(w, contact_repeat(w)),
                               .surface = "block",
                               .between = between_them};
        good(jaw_setup_add_contact(w->setup, &c));
    }
}

/* Each tool and the probe met one setter twice, the probe the part's top. */
void build_lengths(world *w, const int p[PARAMETERS])
{
    jaw_length_rule rule = (jaw_length_rule)p[0];
    double top = between(w, -500, -300), length = between(w, 60, 200),
           tools[3];
    jaw_setter_entry block = {.name = "block",
                              .top = rule == JAW_GAUGE_LINE ? top
                                                            : (double)NAN,
                              .height = (double)NAN};

    set_control(w, rule);
    add_tip(w, "probe", (double)NAN);
    good(jaw_setup_add_setter(w->setup, &block));
    for (int i = 0; i < 2; i++) {
        jaw_contact_entry c = {.tip = "probe",
                               .reading = top + length + error(w, w->repeat),
                               .surface = "block"};
        good(jaw_setup_add_contact(w->setup, &c));
    }
    double z = add_face(w, "top", 4, 1, length);
    for (int i = 0; i < 3; i++) {
        tools[i] = between(w, 40, 180);
        add_contacts(w, i + 1, tools[i], top, between(w, 0, 50));
    }
    add_zero(w, "G54", (zero_names){NULL, NULL, "top", NULL, JAW_AXES}, 0);
    /* setup.h, the three rewritings */
    double base = rule == JAW_TIP_TO_PART      ? z
                  : rule == JAW_REFERENCE_TOOL ? -tools[0]
                                               : 0;
    static const char *const names[] = {"tool 1", "tool 2", "tool 3"};
    for (size_t i = 0; i < 3; i++)
        expect(w, names[i], TRUE_TOOL, i, JAW_Z, tools[i] + base);
    expect(w, "Z", TRUE_ZERO, 0, JAW_Z, z - base);
}

/* A second part on the same table with a bore of its own and a web that gives
 * its turn. */
void build_second_zero(world *w, const int p[PARAMETERS])
{
    double length = between(w, 60, 200);

    (void)p;
    add_tip(w, "probe", length);
    add_rail(w, "rail", 3, 1);
    add_stop(w, "stop", 1, 1);
    double z = add_face(w, "top", 4, 1, length);
    add_zero(w, "G54", (zero_names){"stop", "rail", "top", "rail", JAW_X}, 0);
    expect_plane(w, 0, true);
    expect(w, "Z", TRUE_ZERO, 0, JAW_Z, z);
    new_corner(w);
    add_round(w, JAW_BORE, "pilot", w->p, 4, 2 * M_PI, false);
    add_walls(w, JAW_WEB, "rib", w->skew, 2, 2);
    double low = add_face(w, "floor", 4, 1, length);
    add_zero(w, "G55", (zero_names){"pilot", "pilot", "floor", "rib", JAW_X},
             0);
    expect_plane(w, 1, true);
    expect(w, "second Z", TRUE_ZERO, 1, JAW_Z, low);
}
