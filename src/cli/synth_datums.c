/* SPDX-License-Identifier: GPL-3.0-or-later */
/* synth_datums.c: a block that lies tilted and turned.  Its top, front and left
 * are square to one another; they meet at a corner of the part that need not be
 * its zero. */
#include "synth.h"

#include <math.h>
#include <stdio.h>

typedef struct block {
    const job *j;
    jaw_vec3 corner;  /* on the machine, for a tool of length 0 */
    jaw_vec3 at;      /* its part coordinates */
    jaw_vec3 axis[3]; /* of the part, on the machine: of length 1 */
    double lean[2];   /* rad, of part Z towards X and Y */
    double stylus;
} block;

/* rad, at most.  An edge by itself is taken as upright: of walls that are
 * touched at several depths it would doubt the touches if they leaned much. */
#define LEAN 5e-4

static jaw_vec3 of_length_1(jaw_vec3 v)
{
    double r = sqrt(v.x * v.x + v.y * v.y + v.z * v.z);
    return (jaw_vec3){v.x / r, v.y / r, v.z / r};
}

/* Z leans as it is said to; X is square to it, and seen from above it lies at
 * the skew; Y is square to both. */
static void lay(block *b)
{
    double c = cos(b->j->skew), s = sin(b->j->skew);
    double x = tan(b->lean[0]), y = tan(b->lean[1]);
    jaw_vec3 z = of_length_1((jaw_vec3){x, y, 1});
    jaw_vec3 a = of_length_1((jaw_vec3){c, s, -(c * x + s * y)});
    b->axis[0] = a;
    b->axis[1] = (jaw_vec3){z.y * a.z - z.z * a.y, z.z * a.x - z.x * a.z,
                            z.x * a.y - z.y * a.x};
    b->axis[2] = z;
}

/* A point of the block, from the corner on along its own axes. */
static jaw_vec3 on_block(const block *b, jaw_vec3 p)
{
    const jaw_vec3 *a = b->axis;
    return (jaw_vec3){
        b->corner.x + a[0].x * p.x + a[1].x * p.y + a[2].x * p.z,
        b->corner.y + a[0].y * p.x + a[1].y * p.y + a[2].y * p.z,
        b->corner.z + a[0].z * p.x + a[1].z * p.y + a[2].z * p.z};
}

/* The ball's centre is its radius off; what is read is its lowest point, and
 * the gauge line above that. */
static void put_met(const block *b, jaw_vec3 p, int axis, int way)
{
    double r = b->j->tip / 2, out = way * r;
    jaw_vec3 on = on_block(b, p), n = b->axis[axis];
    put_row3(b->j, indent,
             (jaw_vec3){on.x + out * n.x, on.y + out * n.y,
                        on.z + out * n.z - r + b->stylus});
}

static void put_touches(const block *b)
{
    const job *j = b->j;
    double s = j->size;
    puts("face top  tip stylus");
    for (unsigned long i = 0; i < j->touches; i++) {
        double a = 2 * M_PI * (double)i / (double)j->touches + 0.3;
        put_met(b, (jaw_vec3){(0.5 + 0.4 * cos(a)) * s,
                              (0.3 + 0.25 * sin(a)) * s, 0}, 2, 1);
    }
    /* at two depths, which show how square it is to the top */
    puts("edge front  tip stylus  faces y-");
    for (unsigned long i = 0; i < j->touches; i++)
        put_met(b, (jaw_vec3){(0.5 + 0.9 * spread(i, j->touches)) * s, 0,
                              i % 2 ? -0.12 * s : -0.08 * s}, 1, -1);
    puts("edge left  tip stylus  faces x-");
    for (unsigned long i = 0; i < j->touches; i++)
        put_met(b, (jaw_vec3){0, (0.3 + 0.5 * spread(i, j->touches)) * s,
                              -0.1 * s}, 0, -1);
}

/* A corner of the top, in part coordinates, to the digits of a message. */
static void put_corner(const block *b, const char *before, double x, double y,
                       char text[80])
{
    double mm = jaw_unit_mm(b->j->unit);
    int digits = b->j->unit == JAW_IN ? 4 : 3;
    snprintf(text, 80, "%s%.*f%s%.*f", before, digits, x / mm,
             before[0] == ' ' ? " " : "_", digits, y / mm);
}

/* How much higher the top stands there than at the corner. */
static void put_truth_corner(const block *b, double x, double y)
{
    jaw_vec3 there = on_block(b, (jaw_vec3){x - b->at.x, y - b->at.y, 0});
    char name[80];
    put_corner(b, "block.Z_off_at_", x, y, name);
    put_truth(b->j, name, there.z - b->corner.z);
}

static void put_corner_line(const block *b, double x, double y)
{
    char text[80];
    put_corner(b, "  corner ", x, y, text);
    puts(text);
}

static void put_truths(const block *b, double far)
{
    const job *j = b->j;
    lie at = {b->corner, j->skew}, w = at;
    w.zero = reading_of(&at, (jaw_vec3){-b->at.x, -b->at.y, -b->at.z}, 0);
    put_truth_zero(j, "G54", &w);
    put_truth_angle("block.skew,_seen_from_above", j->skew);
    put_truth_angle("block.part_Z_leans_to_X+", b->lean[0]);
    put_truth_angle("block.part_Z_leans_to_Y+", b->lean[1]);
    put_truth_angle("block.angle_'top'_to_'front',_less_90", 0);
    put_truth_angle("block.angle_'front'_to_'left',_less_90", 0);
    put_truth_corner(b, far, 0);
    put_truth_corner(b, far, far);
}

void synth_datums(const job *j)
{
    jaw_vec3 at = any_place(j);
    double far = floor(j->size / jaw_unit_mm(j->unit)) * jaw_unit_mm(j->unit);
    block b = {.j = j, .corner = {at.x, at.y, at.z - 250}};
    b.at.x = between(j, -20, 20);
    b.at.y = between(j, -20, 20);
    b.at.z = between(j, -20, 0);
    b.lean[0] = between(j, -LEAN, LEAN);
    b.lean[1] = between(j, -LEAN, LEAN);
    b.stylus = between(j, 90, 110);
    lay(&b);
    put_truths(&b, far);
    put_head(j, "Made-up block on its rough side");
    put_stylus(j, b.stylus, j->noise);
    put_touches(&b);
    puts("datums block  primary top  secondary front  tertiary left");
    printf("  at ");
    put_number(j, b.at.x, " ");
    put_number(j, b.at.y, " ");
    put_number(j, b.at.z, "\n");
    put_corner_line(&b, far, 0);
    put_corner_line(&b, far, far);
    puts("zero G54\n  datums block");
}
