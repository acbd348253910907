/* SPDX-License-Identifier: GPL-3.0-or-later */
/* parts.c: what setups with a known truth are made of.  A wall that the sheet
 * takes as square, and a hole that it takes as drawn, are off here by normal
 * errors of the very spread that the library states for them. */
#include "parts.h"

#include <gsl/gsl_randist.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

const jaw_place nowhere = {0, 0, 0};

/* ------------------------------------------------------------------ chance */

double between(world *w, double low, double high)
{
    return low + (high - low) * gsl_rng_uniform(w->rng);
}

jaw_vec2 near_by(world *w, jaw_vec2 p, double dx, double dy)
{
    p.x += between(w, -dx, dx);
    p.y += between(w, -dy, dy);
    return p;
}

double error(world *w, double sigma)
{
    return w->made.loud * gsl_ran_gaussian_ziggurat(w->rng, sigma);
}

jaw_vec2 off_by(world *w, jaw_vec2 p, double sigma)
{
    p.x += error(w, sigma);
    p.y += error(w, sigma);
    return p;
}

void good(jaw_status status)
{
    if (status == JAW_OK)
        return;
    fprintf(stderr, "an entry was refused: %s\n", jaw_status_text(status));
    exit(2);
}

/* ------------------------------------------------------------------ geometry */

jaw_vec2 direction(double theta)
{
    return (jaw_vec2){cos(theta), sin(theta)};
}

jaw_vec2 go(jaw_vec2 from, jaw_vec2 dir, double way)
{
    return (jaw_vec2){from.x + way * dir.x, from.y + way * dir.y};
}

double station(world *w, int i, int n, double span)
{
    double share = span / n;

    return share * (i + between(w, 0.2, 0.8));
}

/* ------------------------------------------------------------------- entries */

void add_tip(world *w, const char *name, double length)
{
    jaw_tip_entry e = {.name = name,
                       .tip = jaw_tip_make(JAW_TIP_BALL, 2 * w->radius),
                       .length_known = w->length_known};

    e.tip.length = length;
    if (w->length_known > 0)
        e.tip.length += error(w, w->length_known);
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

void add_lobed_tip(world *w)
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

void add_feature(world *w, jaw_feature_kind kind, const char *name,
                 jaw_side faces)
{
    jaw_feature_entry e = {.name = name,
                           .kind = kind,
                           .tip = kind == JAW_PATTERN ? NULL : "probe",
                           .faces = faces,
                           .within = (double)NAN};

    good(jaw_setup_add_feature(w->setup, &e));
}

double slip_of(const world *w)
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

void touch_solid(world *w, jaw_vec3 on, jaw_vec3 n, double length)
{
    double off = w->radius + slip_of(w);
    jaw_vec2 c = off_by(w, (jaw_vec2){on.x + off * n.x, on.y + off * n.y},
                        w->repeat);
    double z = on.z + off * n.z - w->radius + length + error(w, w->repeat);

    good(jaw_setup_add_touch(w->setup, (jaw_touch){c.x, c.y, z}, nowhere));
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

void add_rail(world *w, const char *name, int n, int times)
{
    double from = between(w, 2, 30), span = between(w, 30, 120);

    add_feature(w, JAW_EDGE, name, JAW_SIDE_YMINUS);
    touch_wall(w, w->p, w->skew, -1, n, times, from, span);
}

void add_stop(world *w, const char *name, int n, int times)
{
    double off = n == 1 ? error(w, JAW_SQUARE_DEFAULT) : error(w, 1e-3);
    double from = between(w, 2, 30), span = between(w, 20, 80);

    add_feature(w, JAW_EDGE, name, JAW_SIDE_XMINUS);
    touch_wall(w, w->p, w->skew + M_PI / 2 + off, 1, n, times, from, span);
}

void add_face_at(world *w, const char *name, double z, int n, int times,
                 double length)
{
    double sx = between(w, -2e-3, 2e-3), sy = between(w, -2e-3, 2e-3),
           spin = between(w, 0, 2 * M_PI);
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
}

double add_face(world *w, const char *name, int n, int times, double length)
{
    double z = between(w, -400, -100);

    add_face_at(w, name, z, n, times, length);
    return z;
}

double add_sized(world *w, jaw_feature_kind kind, const char *name, bool known)
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

void add_round(world *w, jaw_feature_kind kind, const char *name,
               jaw_vec2 centre, int n, double arc, bool known)
{
    double wall = kind == JAW_BORE ? 1 : -1;
    double radius = add_sized(w, kind, name, known);
    double spin = between(w, 0, 2 * M_PI);

    for (int i = 0; i < n; i++) {
        double angle = spin + station(w, i, n, arc);
        double met = reach(w, wall > 0 ? angle : angle + M_PI);
        jaw_vec2 normal = direction(angle);
        touch(w, go(centre, normal, radius - wall * met), normal);
    }
}

void add_walls(world *w, jaw_feature_kind kind, const char *name, double theta,
               int na, int nb)
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

void expect(world *w, const char *name, truth_kind kind, size_t index,
            jaw_axis axis, double is)
{
    if (w->n_truths == TRUTHS_MAX) {
        fputs("too many truths\n", stderr);
        exit(2);
    }
    truth *t = &w->truths[w->n_truths++];
    *t = (truth){.kind = kind, .index = index, .axis = axis, .is = is};
    snprintf(t->name, sizeof t->name, "%s", name);
}

void add_zero(world *w, const char *name, zero_names from, double z_at)
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

void expect_plane(world *w, size_t zero, bool turned)
{
    double turn = turned && w->can_turn ? w->skew : 0;
    jaw_vec2 x = direction(turn), y = direction(turn + M_PI / 2);
    jaw_vec2 zero_at = go(go(w->p, x, -w->at.x), y, -w->at.y);

    expect(w, "X", TRUE_ZERO, zero, JAW_X, zero_at.x);
    expect(w, "Y", TRUE_ZERO, zero, JAW_Y, zero_at.y);
    if (turned)
        expect(w, "turn", TRUE_TURN, zero, JAW_AXES, w->skew);
}

void set_control(world *w, jaw_length_rule lengths)
{
    jaw_control c = jaw_control_default(JAW_MM);

    c.can_turn = w->can_turn;
    c.lengths = lengths;
    c.reference = 1;
    good(jaw_setup_set_control(w->setup, &c));
}

void new_corner(world *w)
{
    w->p = near_by(w, (jaw_vec2){0, 0}, 400, 300);
    w->at = near_by(w, (jaw_vec2){0, 0}, 30, 30);
    w->skew = between(w, -0.05, 0.05);
}

double contact_repeat(const world *w)
{
    return w->made.stated ? JAW_REPEAT_DEFAULT : w->repeat;
}
