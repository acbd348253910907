/* SPDX-License-Identifier: GPL-3.0-or-later */
/* synth.h: what the files of `jawline synth` share.
 *
 * Everything is made forward, from a known truth to what would be read, by the
 * one line
 *
 *     reading = W + Rz(skew) work + (0, 0, L)
 *
 * and plain geometry; nothing here asks the solver.  What a sheet states with
 * `known to` is off by an error of just that spread, drawn like the others.
 *
 * A line `# truth NAME NUMBER` gives one truth.  In a sheet NAME is made of
 * what the JSON report calls it: REGISTER.WORD of a value, tool_N of a tool's
 * length, NAME.diameter or NAME.width of a feature, and NAME.WHAT of a task's
 * figure, with _ for each blank. */
#ifndef JAW__CLI_SYNTH_H
#define JAW__CLI_SYNTH_H

#include "cli.h"

#include <gsl/gsl_rng.h>

/* What the work zero and the turn of a part are in truth. */
typedef struct lie {
    jaw_vec3 zero; /* mm, machine, for a tool of length 0 */
    double skew;   /* rad */
} lie;

typedef struct job {
    sheet_id sheet;        /* SHEETS: rows of one feature */
    jaw_feature_kind kind; /* of that */
    jaw_unit unit;
    double tip, noise, size; /* mm */
    double skew, arc;        /* rad */
    unsigned long touches, seed;
    gsl_rng *rng;
} job;

/* Each prints what it makes. */
void synth_feature(const job *j);
#define SHEET_MAKE(id, word, make, text) void make(const job *j);
SHEET_LIST(SHEET_MAKE)
#undef SHEET_MAKE

/* ------------------------------------------------------------------ chance */

double noisy(const job *j, double mm);
double between(const job *j, double low, double high);
/* A place on the table of a small mill. */
jaw_vec3 any_place(const job *j);

/* ----------------------------------------------------------------- numbers */

void put_number(const job *j, double mm, const char *after);
void put_setting(const job *j, const char *word, double mm);
/* One that is stated with an error of so much, and `known to` that. */
void put_known(const job *j, const char *word, double mm, double spread);
/* `repeat` unless there is no noise, and the end of the line. */
void put_repeat(const job *j);

void put_truth(const job *j, const char *name, double mm);
void put_truth_angle(const char *name, double rad);
void put_truth_place(const job *j, const char *name, jaw_vec2 p);
/* X, Y and Z of a register, and its turn. */
void put_truth_zero(const job *j, const char *name, const lie *w);

/* A row of two or three readings, each with its own noise. */
void put_row2(const job *j, const char *before, jaw_vec2 p);
void put_row3(const job *j, const char *before, jaw_vec3 p);

/* ---------------------------------------------------------------- geometry */

extern const char indent[]; /* of a row in a sheet */

/* The one line. */
jaw_vec3 reading_of(const lie *w, jaw_vec3 work, double length);
/* The same in the plane. */
jaw_vec2 place_of(const lie *w, double x, double y);

jaw_vec2 along(jaw_vec2 p, double angle, double mm);
/* The i-th of n places from -1/2 to 1/2; one alone lies in the middle. */
double spread(unsigned long i, unsigned long n);

/* Touches along a wall through p, `out` away from it on its right side. */
void put_wall(const job *j, const char *before, jaw_vec2 p, double direction,
              double length, double out);
void put_circle(const job *j, const char *before, jaw_vec2 centre,
                double radius);
/* The first on top, the others in turn level with the centre and above; `down`
 * of the ball that touches is what is read. */
void put_ball(const job *j, const char *before, jaw_vec3 centre, double radius,
              unsigned long n, double down);
/* Left, top and right in turn, from one end to the other. */
void put_bar(const job *j, const char *before, jaw_vec3 at, jaw_vec3 axis,
             double radius, double length, double down);
jaw_vec3 bar_axis(double direction, double slope);
/* Places on a bolt circle. */
void put_pattern(const job *j, const char *before, const lie *w,
                 jaw_vec2 middle, double radius, unsigned long n);
/* Rows of an indicator: along a wall that leaves the axis by so much. */
void put_swept(const job *j, double from, double length, double slope);

/* ------------------------------------------------------------------- sheets */

/* Title, unit, control; and a ball that touches, of which that length is true,
 * stated as exact or with an error. */
void put_head(const job *j, const char *title);
void put_stylus(const job *j, double length, double spread);
/* Walls of a part that face y- and x-, as long as said, from its zero on; and a
 * flat with its middle there, and as far as `reach` from it. */
void put_front(const job *j, const char *name, const lie *w, double length);
void put_left(const job *j, const char *name, const lie *w, double length);
void put_flat(const job *j, const char *name, const lie *w, jaw_vec3 middle,
              jaw_vec2 reach, double stylus);

#endif
