/* SPDX-License-Identifier: GPL-3.0-or-later */
/* synth_rotary.c: a rotary table about a machine axis.  Whatever stands on it
 * goes round a point of its centre line by the right hand, or by the left where
 * the table counts that way; its axis leans a little, which shows farther on.
 * A part is touched with the table at 0, and its zero goes round likewise. */
#include "synth.h"

#include <gsl/gsl_randist.h>
#include <math.h>
#include <stdio.h>

typedef struct table {
    const job *j;
    int about;       /* 0 x, 1 y, 2 z */
    int sense;       /* 1 right, -1 left */
    jaw_vec3 centre; /* on its centre line, at the first place */
    double lean[2];  /* rad: towards the next axis and the one after */
    double apart;    /* mm, from there to the second place */
    double stylus;
    lie part;        /* with the table at 0 */
} table;

enum { INDEXED = 3 };
static const double to_deg[INDEXED] = {90, 180, -35};

static double *axis_of(jaw_vec3 *p, int axis)
{
    axis %= 3;
    return axis == 0 ? &p->x : axis == 1 ? &p->y : &p->z;
}

/* By the right hand about an axis the next one turns towards the one after. */
static jaw_vec3 carried(const table *t, jaw_vec3 p, double shown)
{
    jaw_vec3 out = p, centre = t->centre;
    double a = t->sense * shown;
    double u = *axis_of(&p, t->about + 1) - *axis_of(&centre, t->about + 1);
    double v = *axis_of(&p, t->about + 2) - *axis_of(&centre, t->about + 2);
    *axis_of(&out, t->about + 1) =
        *axis_of(&centre, t->about + 1) + cos(a) * u - sin(a) * v;
    *axis_of(&out, t->about + 2) =
        *axis_of(&centre, t->about + 2) + sin(a) * u + cos(a) * v;
    return out;
}

/* The axes of the work stay along the machine's, but for the part's own turn.
 * About Z that goes along; of a part that is tipped it is about an axis that
 * leans, and so much of it is left about Z. */
static double turn_left(const table *t, double shown)
{
    return t->about == 2 ? t->part.skew : t->part.skew * cos(shown);
}

static void put_truths(const table *t)
{
    static const char *const line[] = {"YZ", "ZX", "XY"};
    const job *j = t->j;
    jaw_vec3 centre = t->centre;
    char text[64];
    put_truth_zero(j, "G54", &t->part);
    for (int i = 0; i < INDEXED; i++) {
        lie w = {carried(t, t->part.zero, jaw_rad(to_deg[i])),
                 turn_left(t, jaw_rad(to_deg[i]))};
        snprintf(text, sizeof text, "G%d", 55 + i);
        put_truth_zero(j, text, &w);
    }
    for (int k = 0; k < 2; k++) {
        char axis = line[t->about][k];
        snprintf(text, sizeof text, "table.centre_line,_machine_%c", axis);
        put_truth(j, text, *axis_of(&centre, t->about + 1 + k));
    }
    for (int k = 0; k < 2; k++) {
        snprintf(text, sizeof text, "table.leans_to_%c+,_going_%c+",
                 line[t->about][k], 'X' + t->about);
        put_truth_angle(text, t->lean[k]);
    }
}

/* Two coordinates across the axis, x before y before z; z as read. */
static void put_seen(const table *t, jaw_vec3 p)
{
    const job *j = t->j;
    p.z += t->stylus;
    if (t->about == 0)
        put_row2(j, "", (jaw_vec2){p.y, p.z});
    else
        put_row2(j, "",
                 t->about == 1 ? (jaw_vec2){p.x, p.z} : (jaw_vec2){p.x, p.y});
}

/* A pin at angles all round, carried about the centre line there. */
static void put_pin(const table *t, double far, double arm)
{
    unsigned long n = t->j->touches + 2;
    table there = *t;
    for (int k = 0; k < 2; k++)
        *axis_of(&there.centre, t->about + 1 + k) += far * tan(t->lean[k]);
    jaw_vec3 pin = there.centre;
    *axis_of(&pin, t->about + 1) += 0.8 * arm;
    *axis_of(&pin, t->about + 2) += 0.6 * arm;
    for (unsigned long i = 0; i < n; i++) {
        double shown = 360 * (double)i / (double)n;
        printf("  %.17g  ", shown);
        put_seen(&there, carried(&there, pin, jaw_rad(shown)));
    }
}

static void put_table(const table *t)
{
    const job *j = t->j;
    printf("rotary table  about %c  tip stylus", 'x' + t->about);
    put_setting(j, "apart", t->apart);
    put_repeat(j);
    put_pin(t, 0, 0.3 * j->size);
    puts("  /");
    put_pin(t, t->apart, 0.3 * j->size);
}

static void put_part(const table *t)
{
    const job *j = t->j;
    double s = 0.5 * j->size;
    put_front(j, "front", &t->part, s);
    put_left(j, "left", &t->part, 0.5 * s);
    put_flat(j, "top", &t->part, (jaw_vec3){0.5 * s, 0.25 * s, 0},
             (jaw_vec2){0.4 * s, 0.2 * s}, t->stylus);
    puts("zero G54\n  turn front along x\n  x left\n  y front\n  z top");
    for (int i = 0; i < INDEXED; i++)
        printf("zero G%d\n  indexed G54 on table to %g\n", 55 + i, to_deg[i]);
}

static void synth_about(const job *j, int about)
{
    jaw_vec3 at = any_place(j);
    table t = {.j = j, .about = about, .apart = j->size};
    t.centre = (jaw_vec3){at.x, at.y, at.z - 250};
    t.sense = gsl_rng_uniform_int(j->rng, 2) ? 1 : -1;
    t.lean[0] = gsl_ran_gaussian(j->rng, 2e-4);
    t.lean[1] = gsl_ran_gaussian(j->rng, 2e-4);
    t.stylus = between(j, 90, 110);
    t.part.skew = j->skew;
    t.part.zero.x = t.centre.x + between(j, -20, 20);
    t.part.zero.y = t.centre.y + between(j, -20, 20);
    t.part.zero.z = t.centre.z + between(j, 10, 30);
    put_truths(&t);
    put_head(j, "Made-up hub on a rotary table");
    put_stylus(j, t.stylus, j->noise);
    put_table(&t);
    put_part(&t);
}

void synth_rotary_x(const job *j)
{
    synth_about(j, 0);
}

void synth_rotary_y(const job *j)
{
    synth_about(j, 1);
}

void synth_rotary_z(const job *j)
{
    synth_about(j, 2);
}
