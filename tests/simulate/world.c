/* SPDX-License-Identifier: GPL-3.0-or-later */
/* world.c: random setups with their truth.  A wall that the sheet takes as
 * square, and a hole that it takes as drawn, are off here by normal errors of
 * the very spread that the library states for them. */
#include "world.h"

#include <gsl/gsl_randist.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static const jaw_place nowhere = {0, 0, 0};

/* ------------------------------------------------------------------ chance */

static double between(world *w, double low, double high)
{
    return low + (high - low) * gsl_rng_uniform(w->rng);
}

/* A place within so much of another, one coordinate after the other: what C
 * leaves open must not decide which random number goes where. */
static jaw_vec2 near_by(world *w, jaw_vec2 p, double dx, double dy)
{
    p.x += between(w, -dx, dx);
    p.y += between(w, -dy, dy);
    return p;
}

static double error(world *w, double sigma)
{
    return w->made.loud * gsl_ran_gaussian_ziggurat(w->rng, sigma);
}

static jaw_vec2 off_by(world *w, jaw_vec2 p, double sigma)
{
    p.x += error(w, sigma);
    p.y += error(w, sigma);
    return p;
}

static void good(jaw_status status)
{
    if (status == JAW_OK)
        return;
    fprintf(stderr, "an entry was refused: %s\n", jaw_status_text(status));
    exit(2);
}

/* ------------------------------------------------------------------ geometry */

static jaw_vec2 direction(double theta)
{
    return (jaw_vec2){cos(theta), sin(theta)};
}

static jaw_vec2 go(jaw_vec2 from, jaw_vec2 dir, double way)
{
    return (jaw_vec2){from.x + way * dir.x, from.y + way * dir.y};
}

/* The i-th of n stations over a span, each somewhere in its own share of it,
 * the two outer ones near the ends. */
static double station(world *w, int i, int n, double span)
{
    double share = span / n;

    return share * (i + between(w, 0.2, 0.8));
}

/* ------------------------------------------------------------------- entries */

static void add_tip(world *w, const char *name, double length)
{
    jaw_tip_entry e = {.name = name,
                       .tip = jaw_tip_make(JAW_TIP_BALL, 2 * w->radius)};

    e.tip.length = length;
    e.tip.repeat = w->made.stated ? w->repeat : (double)NAN;
    good(jaw_setup_add_tip(w->setup, &e));
}

/* How the error of a calibration is spread: a random lower triangle L, the
 * covariance being L L'; some thousandths of a millimetre. */
static void new_spread(world *w, double l[5][5])
{
    for (int i = 0; i < 5; i++)
        for (int k = 0; k < 5; k++) {
            double size = k == i ? between(w, 0.001, 0.004)
                                 : between(w, -0.002, 0.002);
            l[i][k] = k <= i ? size : 0;
        }
}

static double covariance(double l[5][5], int i, int k)
{
    double sum = 0;

    for (int m = 0; m < 5; m++)
        sum += l[i][m] * l[k][m];
    return sum;
}

static void state_spread(jaw_tip_entry *e, double l[5][5])
{
    for (int i = 0; i < 5; i++) {
        double u = sqrt(covariance(l, i, i));
        *(i == 0 ? &e->diameter_known : &e->harmonic_known[i - 1]) = u;
        for (int k = i + 1; k < 5; k++)
            e->correlation[jaw_tip_pair((jaw_tip_part)i, (jaw_tip_part)k)] =
                covariance(l, i, k) / u / sqrt(covariance(l, k, k));
    }
}

/* A tip that stands off the axis and has three lobes, and what a calibration
 * states of it, off by errors that hang together as stated. */
static void add_lobed_tip(world *w)
{
    jaw_tip_entry e = {.name = "probe",
                       .tip = jaw_tip_make(JAW_TIP_BALL, 2 * w->radius)};
    double l[5][5], z[5], off[5] = {0};

    for (int k = 0; k < 4; k++)
        w->harmonic[k] = k < 2 ? between(w, -0.05, 0.05)
                               : between(w, -0.02, 0.02);
    new_spread(w, l);
    for (int k = 0; k < 5; k++)
        z[k] = error(w, 1);
    for (int i = 0; i < 5; i++)
        for (int k = 0; k <= i; k++)
            off[i] += l[i][k] * z[k];
    e.tip.diameter += off[0];
    for (int k = 0; k < 4; k++)
        e.harmonic[k] = w->harmonic[k] + off[k + 1];
    state_spread(&e, l);
    e.tip.repeat = w->made.stated ? w->repeat : (double)NAN;
    good(jaw_setup_add_tip(w->setup, &e));
}

/* mm from the axis to a wall that is met while the tip moves toward angle. */
static double reach(const world *w, double angle)
{
    return w->radius + w->harmonic[0] * cos(angle) +
           w->harmonic[1] * sin(angle) + w->harmonic[2] * cos(3 * angle) +
           w->harmonic[3] * sin(3 * angle);
}

static void add_feature(world *w, jaw_feature_kind kind, const char *name,
                        jaw_side faces)
{
    jaw_feature_entry e = {.name = name,
                           .kind = kind,
                           .tip = kind == JAW_PATTERN ? NULL : "probe",
                           .faces = faces,
                           .within = (double)NAN};

    good(jaw_setup_add_feature(w->setup, &e));
}

static double slip_of(const world *w)
{
    return (w->touches == w->made.slip_at ? w->made.slip : 0) +
           (w->touches == w->made.also_at ? w->made.also : 0);
}

/* The tip's centre in truth, and the normal along which a slip would go. */
static void touch(world *w, jaw_vec2 c, jaw_vec2 normal)
{
    double slip = slip_of(w);
    jaw_vec2 read = go(off_by(w, c, w->repeat), normal, slip);
    jaw_touch t = {read.x, read.y, (double)NAN};

    good(jaw_setup_add_touch(w->setup, t, nowhere));
    w->touches++;
}

static void touch_face(world *w, jaw_vec2 c, double reading)
{
    double slip = slip_of(w);
    jaw_touch t = {c.x, c.y, reading + error(w, w->repeat) + slip};

    good(jaw_setup_add_touch(w->setup, t, nowhere));
    w->touches++;
}

/* The wall through p along theta, touched n times on its side `out`, each time
 * `times` in the same place, from `from` on. */
static void touch_wall(world *w, jaw_vec2 p, double theta, double out, int n,
                       int times, double from, double span)
{
    jaw_vec2 dir = direction(theta), normal = direction(theta + out * M_PI / 2);
    double met = reach(w, theta - out * M_PI / 2);

    for (int i = 0; i < n; i++) {
        jaw_vec2 on = go(p, dir, from + station(w, i, n, span));
        for (int k = 0; k < times; k++)
            touch(w, go(on, normal, met), normal);
    }
}

/* A wall along part x that faces the operator; it gives Y and the turn. */
static void add_rail(world *w, int n, int times)
{
    double from = between(w, 2, 30), span = between(w, 30, 120);

    add_feature(w, JAW_EDGE, "rail", JAW_SIDE_YMINUS);
    touch_wall(w, w->p, w->skew, -1, n, times, from, span);
}

/* A wall along part y that faces x-, through the corner.  Touched in one place
 * it is taken as square, and is so within the spread stated for that. */
static void add_stop(world *w, int n, int times)
{
    double off = n == 1 ? error(w, JAW_SQUARE_DEFAULT) : error(w, 1e-3);
    double from = between(w, 2, 30), span = between(w, 20, 80);

    add_feature(w, JAW_EDGE, "stop", JAW_SIDE_XMINUS);
    touch_wall(w, w->p, w->skew + M_PI / 2 + off, 1, n, times, from, span);
}

/* A tilted plane; its height is asked for midway between the touches. */
static double add_face(world *w, const char *name, int n, int times,
                       double length)
{
    double z = between(w, -400, -100), sx = between(w, -2e-3, 2e-3),
           sy = between(w, -2e-3, 2e-3), spin = between(w, 0, 2 * M_PI);
    double root = sqrt(1 + sx * sx + sy * sy);
    jaw_vec2 mean = {0, 0}, at[32];

    add_feature(w, JAW_FACE, name, JAW_SIDE_NONE);
    for (int i = 0; i < n; i++) {
        double angle = spin + station(w, i, n, 2 * M_PI);
        double way = between(w, 15, 60);
        at[i] = go(w->p, direction(angle), way);
        mean = go(mean, at[i], 1.0 / n);
    }
    for (int i = 0; i < n; i++)
        for (int k = 0; k < times; k++) {
            double plane =
                z + sx * (at[i].x - mean.x) + sy * (at[i].y - mean.y);
            /* the ball's lowest point, where the ball meets the plane */
            touch_face(w, at[i], plane + w->radius * (root - 1) + length);
        }
    return z;
}

static void add_round(world *w, jaw_feature_kind kind, const char *name,
                      jaw_vec2 centre, int n, double arc, bool known)
{
    double wall = kind == JAW_BORE ? 1 : -1;
    double diameter = between(w, 12, 60), spin = between(w, 0, 2 * M_PI);
    jaw_feature_entry e = {.name = name,
                           .kind = kind,
                           .tip = "probe",
                           .size_use = known ? JAW_SIZE_KNOWN : JAW_SIZE_FREE,
                           .size = diameter + w->made.size_off,
                           .within = (double)NAN};

    good(jaw_setup_add_feature(w->setup, &e));
    for (int i = 0; i < n; i++) {
        double angle = spin + station(w, i, n, arc);
        double met = reach(w, wall > 0 ? angle : angle + M_PI);
        jaw_vec2 normal = direction(angle);
        touch(w, go(centre, normal, diameter / 2 - wall * met), normal);
    }
}

/* Two parallel walls along theta, their middle through p.  One touch on each
 * is taken straight across, as far as the eye can tell. */
static void add_walls(world *w, jaw_feature_kind kind, const char *name,
                      double theta, int na, int nb)
{
    double in = kind == JAW_SLOT ? -1 : 1;
    double width = between(w, 10, 50), from = between(w, 2, 30),
           span = between(w, 20, 100);
    jaw_vec2 across = direction(theta + M_PI / 2);

    if (na + nb == 2)
        span = 2;
    add_feature(w, kind, name, JAW_SIDE_NONE);
    /* a web is touched from outside */
    touch_wall(w, go(w->p, across, -width / 2), theta, -in, na, 1, from, span);
    good(jaw_setup_other_wall(w->setup));
    touch_wall(w, go(w->p, across, width / 2), theta, in, nb, 1, from, span);
}

/* --------------------------------------------------------------------- zeros */

static void expect(world *w, const char *name, truth_kind kind, size_t index,
                   jaw_axis axis, double is)
{
    w->truths[w->n_truths++] = (truth){name, kind, index, axis, is};
}

typedef struct zero_names {
    const char *x, *y, *z, *turn;
    jaw_axis along;
} zero_names;

static void add_zero(world *w, const char *name, zero_names from, double z_at)
{
    jaw_zero_entry e = {.name = name,
                        .turn_use = from.turn == NULL ? JAW_TURN_NONE
                                                      : JAW_TURN_FEATURE,
                        .turn_feature = from.turn,
                        .turn_along = from.along};

    e.term[JAW_X] = (jaw_zero_term){from.x, w->at.x, nowhere};
    e.term[JAW_Y] = (jaw_zero_term){from.y, w->at.y, nowhere};
    e.term[JAW_Z] = (jaw_zero_term){from.z, z_at, nowhere};
    good(jaw_setup_add_zero(w->setup, &e));
}

/* W = P - R(turn) at, the turn being 0 on a control that takes none. */
static void expect_plane(world *w, size_t zero, bool turned)
{
    double turn = turned && w->can_turn ? w->skew : 0;
    jaw_vec2 x = direction(turn), y = direction(turn + M_PI / 2);
    jaw_vec2 zero_at = go(go(w->p, x, -w->at.x), y, -w->at.y);

    expect(w, "X", TRUE_ZERO, zero, JAW_X, zero_at.x);
    expect(w, "Y", TRUE_ZERO, zero, JAW_Y, zero_at.y);
    if (turned)
        expect(w, "turn", TRUE_TURN, zero, JAW_AXES, w->skew);
}

static void set_control(world *w, jaw_length_rule lengths)
{
    jaw_control c = jaw_control_default(JAW_MM);

    c.can_turn = w->can_turn;
    c.lengths = lengths;
    c.reference = 1;
    good(jaw_setup_set_control(w->setup, &c));
}

static void new_corner(world *w)
{
    w->p = near_by(w, (jaw_vec2){0, 0}, 400, 300);
    w->at = near_by(w, (jaw_vec2){0, 0}, 30, 30);
    w->skew = between(w, -0.05, 0.05);
}

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
    add_rail(w, p[0], 1);
    add_stop(w, 1, 1);
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

/* A corner; the centre of a bore or boss, of known size where it is touched over
 * an arc, for the lobes look like a wrong size there; or the middle of a slot beside an edge,
 * and a bore of known size, in which the tip shows itself. */
void build_lobed(world *w, const int p[PARAMETERS])
{
    zero_names names = {"stop", "rail", NULL, "rail", JAW_X};

    add_lobed_tip(w);
    if (p[0] == 0) {
        add_rail(w, 3, 1);
        add_stop(w, 2, 1);
    } else if (p[0] == 1) {
        names = (zero_names){"pilot", "pilot", NULL, NULL, JAW_AXES};
        add_round(w, (jaw_feature_kind)p[1], "pilot", w->p, p[2],
                  (p[3] != 0 ? 120 : 360) * M_PI / 180, p[3] != 0);
    } else {
        names.x = "key";
        jaw_vec2 ring = near_by(w, (jaw_vec2){500, 0}, 100, 100);
        add_round(w, JAW_BORE, "ring", ring, p[1], 2 * M_PI, true);
        add_rail(w, 2, 1);
        add_walls(w, JAW_SLOT, "key", w->skew + M_PI / 2, 2, 2);
    }
    add_zero(w, "G54", names, 0);
    expect_plane(w, 0, p[0] != 1);
}

/* The place on a surface and its normal, on the machine; the reading is that of
 * the tip's lowest point and the gauge line above it. */
static void touch_solid(world *w, jaw_vec3 on, jaw_vec3 n, double length)
{
    double off = w->radius + slip_of(w);
    jaw_vec2 c = off_by(w, (jaw_vec2){on.x + off * n.x, on.y + off * n.y},
                        w->repeat);
    double z = on.z + off * n.z - w->radius + length + error(w, w->repeat);

    good(jaw_setup_add_touch(w->setup, (jaw_touch){c.x, c.y, z}, nowhere));
    w->touches++;
}

static double add_sized(world *w, jaw_feature_kind kind, const char *name,
                        bool known)
{
    double diameter = between(w, 12, 60);
    jaw_feature_entry e = {.name = name,
                           .kind = kind,
                           .tip = "probe",
                           .size_use = known ? JAW_SIZE_KNOWN : JAW_SIZE_FREE,
                           .size = diameter + w->made.size_off,
                           .within = (double)NAN};

    good(jaw_setup_add_feature(w->setup, &e));
    return diameter / 2;
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
        add_stop(w, 2, 1);
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
        add_rail(w, 3, 1);
        double off = error(w, JAW_SQUARE_DEFAULT);
        add_walls(w, kind, "key", w->skew + M_PI / 2 + off, 1, 1);
        add_zero(w, "G54", (zero_names){"key", "rail", NULL, "rail", JAW_X},
                 0);
    } else {
        add_walls(w, kind, "key", w->skew, p[1], p[2]);
        add_stop(w, 1, 1);
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
    add_rail(w, 2, 2);
    add_stop(w, 2, 2);
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

/* A contact of a tool repeats as one touch of a tip that states nothing. */
static double contact_repeat(const world *w)
{
    return w->made.stated ? JAW_REPEAT_DEFAULT : w->repeat;
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
    add_rail(w, 3, 1);
    add_stop(w, 1, 1);
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
