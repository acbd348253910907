/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shop.h: a setup told line by line, as a sheet would, and what came of it.
 * Every entry and every row gets the next line number as its place; `line` is
 * that of the last one. */
#ifndef SETUP_SHOP_H
#define SETUP_SHOP_H

#include <jawline/setup.h>

typedef struct shop {
    jaw_setup *setup;
    jaw_notes *notes;
    jaw_solution *solution;
    jaw_status status;
    double unit; /* mm of one unit that is typed */
    int line;
} shop;

void shop_open(shop *s, jaw_unit unit);
void shop_close(shop *s);
jaw_place shop_next(shop *s);

/* The control takes turns and holds this in its length registers. */
void control(shop *s, bool can_turn, jaw_length_rule lengths, int reference);

void tip(shop *s, const char *name, jaw_tip_shape shape, double diameter,
         double repeat, double length);
void edge(shop *s, const char *name, const char *tip, jaw_side faces);
void feature(shop *s, jaw_feature_kind kind, const char *name,
             const char *tip);
void sized(shop *s, jaw_feature_kind kind, const char *name, const char *tip,
           jaw_size_use use, double size);
/* repeat 0: not stated; rows of both by touch(): NOT where nothing is read. */
void sweep(shop *s, const char *name, jaw_side faces, double repeat,
           const char *after);
void dial(shop *s, const char *name, bool inside, double x, double y,
          double diameter, double repeat);
void touch(shop *s, double x, double y, double z);
void other_wall(shop *s);
void hole(shop *s, double nx, double ny, double x, double y);
void hole_of(shop *s, double nx, double ny, const char *feature);
void setter(shop *s, const char *name, double top, double height,
            const char *on);
void tool(shop *s, int number, double length);
void touched(shop *s, int tool, double reading, const char *surface,
             double between);
void tip_touched(shop *s, const char *tip, double reading,
                 const char *surface, double between);

/* Tasks, and a reading of the last one. */
void vise(shop *s, const char *name, double bed, const char *fixed);
void stock(shop *s, const char *name, const char *vise, const double size[3],
           double parallels, const char *top);
void task(shop *s, jaw_task task);
void reading(shop *s, double at, double value, bool second);

/* A work zero; NULL for an axis that is not asked for. */
typedef struct wanted {
    const char *turn; /* feature; NULL: none */
    jaw_axis along;
    double stated;    /* rad; NaN: not stated */
    const char *x, *y, *z;
    double at_x, at_y, at_z;
    const char *station; /* NULL: none; and its place */
    double among[3];
} wanted;
void zero(shop *s, const char *name, wanted w);

/* Solve; the status is kept. */
void solve(shop *s);

const jaw_found *found(const shop *s, const char *feature);
const jaw_zero_found *zero_found(const shop *s, const char *name);
const jaw_tool_found *tool_found(const shop *s, int number);
const jaw_finding *finding(const shop *s, const char *name);
/* The first item of a finding whose name holds that text. */
const jaw_item *item(const jaw_finding *f, const char *text);
double surface_z(const shop *s, const char *name);

/* Notes that are at least this severe; all of them to stdout. */
size_t severe(const shop *s, jaw_severity severity);
void print_notes(const shop *s);

#endif
