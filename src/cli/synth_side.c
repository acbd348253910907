/* SPDX-License-Identifier: GPL-3.0-or-later */
/* synth_side.c: a plate that was turned over by half a turn about an axis of
 * its own.  Its drawing has zero on the left front corner of side one's top;
 * holes were bored through from there and are touched from the other side. */
#include "synth.h"

#include <stdio.h>

typedef struct plate {
    const job *j;
    char over;     /* x, y or z */
    jaw_vec3 zero; /* of side two, on side one's drawing: the corner that is
                      left, in front and on top then */
    lie w;         /* of side two */
    double stylus, tool;
} plate;

enum { DOWELS = 3 };

/* Half a turn about an axis turns the other two round. */
static jaw_vec3 turned_over(const plate *p, jaw_vec3 one)
{
    double x = one.x - p->zero.x, y = one.y - p->zero.y, z = one.z - p->zero.z;
    return (jaw_vec3){p->over == 'x' ? x : -x, p->over == 'y' ? y : -y,
                      p->over == 'z' ? z : -z};
}

static jaw_vec2 dowel(const job *j, int i)
{
    static const jaw_vec2 at[DOWELS] = {{0.1, 0.1}, {0.9, 0.1}, {0.85, 0.4}};
    return (jaw_vec2){at[i].x * j->size, at[i].y * j->size};
}

/* Each hole stands off by an error of its own. */
static void put_dowels(const plate *p)
{
    const job *j = p->j;
    for (int i = 0; i < DOWELS; i++) {
        jaw_vec2 at = dowel(j, i);
        double x = noisy(j, at.x), y = noisy(j, at.y);
        jaw_vec3 two = turned_over(p, (jaw_vec3){x, y, 0});
        printf("bore dowel%d  tip stylus\n", i + 1);
        put_circle(j, indent, place_of(&p->w, two.x, two.y),
                   0.05 * j->size - j->tip / 2);
    }
    printf("pattern dowels");
    if (j->noise > 0)
        put_setting(j, "places known to", j->noise);
    for (int i = 0; i < DOWELS; i++) {
        printf("\n  hole dowel%d at ", i + 1);
        put_number(j, dowel(j, i).x, " ");
        put_number(j, dowel(j, i).y, "");
    }
    puts("");
}

static void put_side(const plate *p)
{
    const job *j = p->j;
    printf("side two over %c  zero at ", p->over);
    put_number(j, p->zero.x, " ");
    put_number(j, p->zero.y, " ");
    put_number(j, p->zero.z, "");
    if (j->noise > 0)
        put_setting(j, "cut known to", j->noise);
    puts("");
}

/* The face on top is that of side two's zero. */
static void put_rest(const plate *p)
{
    const job *j = p->j;
    jaw_vec3 middle = {0.5 * j->size, 0.25 * j->size, p->zero.z};
    put_flat(j, "back", &p->w, turned_over(p, middle),
             (jaw_vec2){0.4 * j->size, 0.2 * j->size}, p->stylus);
    puts("zero G54\n  turn dowels\n  x dowels\n  y dowels");
    printf("  z back at ");
    put_number(j, p->zero.z, "\n");
    printf("tool 1 \"made-up tool\"\n");
    put_known(j, "length", p->tool, j->noise);
    puts("");
}

static void synth_over(const job *j, char over)
{
    double s = j->size, thick = 0.1 * j->size;
    jaw_vec3 at = any_place(j);
    plate p = {.j = j,
               .over = over,
               .zero = {over == 'x' ? 0 : s, over == 'y' ? 0 : 0.5 * s,
                        over == 'z' ? 0 : -thick},
               .w = {{at.x, at.y, at.z - 250}, j->skew}};
    p.stylus = between(j, 90, 110);
    p.tool = between(j, 60, 120);
    put_truth_zero(j, "G54", &p.w);
    put_truth(j, "tool_1", p.tool);
    put_head(j, "Made-up plate, side 2");
    put_stylus(j, p.stylus, j->noise);
    put_side(&p);
    put_dowels(&p);
    put_rest(&p);
}

void synth_side_x(const job *j)
{
    synth_over(j, 'x');
}

void synth_side_y(const job *j)
{
    synth_over(j, 'y');
}

void synth_side_z(const job *j)
{
    synth_over(j, 'z');
}
