/* SPDX-License-Identifier: GPL-3.0-or-later */
/* synth_setup.c: whole sheets of one plate, with every kind of feature. */
#include "synth.h"

#include <math.h>

/* The part: a plate with its corner at the work zero, lying in +x +y, twice as
 * long as deep; a bore, a slot and a bolt circle in it. */
typedef struct part {
    lie w;
    double setter; /* mm, machine Z for a tool of length 0 */
    double stylus, tool[2];
} part;

static jaw_vec2 on_part(const part *p, double x, double y)
{
    return place_of(&p->w, x, y);
}

static void put_walls_and_holes(const job *j, const part *p)
{
    double s = j->size, r = j->tip / 2, skew = p->w.skew;
    put_front(j, "front", &p->w, s);
    put_left(j, "left", &p->w, 0.5 * s);
    put_flat(j, "top", &p->w, (jaw_vec3){0.5 * s, 0.25 * s, 0},
             (jaw_vec2){0.4 * s, 0.2 * s}, p->stylus);
    puts("bore pilot  tip stylus");
    put_circle(j, indent, on_part(p, 0.25 * s, 0.25 * s), 0.05 * s - r);
    puts("slot key  tip stylus");
    jaw_vec2 middle = on_part(p, 0.5 * s, 0.25 * s);
    put_wall(j, indent, middle, skew, 0.3 * s, 0.06 * s - r);
    puts("  /");
    put_wall(j, indent, middle, skew, 0.3 * s, r - 0.06 * s);
    puts("pattern bolts");
    put_pattern(j, indent, &p->w, (jaw_vec2){0.8 * s, 0.25 * s}, 0.1 * s,
                j->touches);
}

/* Readings of an indicator: the wall leaves the axis by its skew; of a round
 * the distance to the wall, from where the spindle stands, is in them. */
static void put_sweep(const job *j, const part *p)
{
    jaw_vec2 from = on_part(p, 0.05 * j->size, 0);
    printf("sweep swept  along x  faces y-");
    put_repeat(j);
    put_swept(j, from.x, 0.9 * j->size, -tan(j->skew));
}

static double to_wall(jaw_vec2 e, double radius, double angle)
{
    double c = cos(angle), s = sin(angle), w = e.x * s - e.y * c;
    return e.x * c + e.y * s + sqrt(radius * radius - w * w);
}

static void put_dial(const job *j, const part *p)
{
    double radius = 0.05 * j->size;
    jaw_vec2 centre = on_part(p, 0.25 * j->size, 0.25 * j->size);
    jaw_vec2 e = {0.02 * radius, -0.03 * radius};
    printf("dial dialled inside at ");
    put_number(j, centre.x - e.x, " ");
    put_number(j, centre.y - e.y, "  diameter ");
    put_number(j, 2 * radius, "");
    put_repeat(j);
    for (unsigned long i = 0; i < j->touches; i++) {
        double a = 2 * M_PI * (double)i / (double)j->touches;
        printf("  %.17g  ", jaw_deg(a));
        put_number(j, noisy(j, radius - to_wall(e, radius, a)), "\n");
    }
}

/* A ball in the corner of the plate, and round stock that lies behind it. */
static void put_solids(const job *j, const part *p)
{
    double s = j->size, down = j->tip / 2 - p->stylus;
    job bar = *j;
    jaw_vec2 at = on_part(p, 0.9 * s, 0.4 * s), behind = on_part(p, 0.5 * s, s);
    bar.touches = j->touches < 3 ? 9 : 3 * j->touches;
    puts("ball target  tip stylus");
    put_ball(j, indent, (jaw_vec3){at.x, at.y, p->w.zero.z + 0.05 * s},
             0.05 * s, j->touches + 2, down);
    puts("bar shaft  tip stylus");
    put_bar(&bar, indent, (jaw_vec3){behind.x, behind.y, p->w.zero.z},
            bar_axis(j->skew, 0), 0.1 * s, 0.8 * s, down);
}

static void put_tools_and_zero(const job *j, const part *p)
{
    printf("setter puck");
    put_setting(j, "top", p->setter);
    printf("\n");
    for (int i = 0; i < 2; i++) {
        printf("tool %d \"made-up tool %d\"\n  touched ", i + 1, i + 1);
        put_number(j, noisy(j, p->setter + p->tool[i]), " on puck\n");
    }
    puts("zero G54\n"
         "  turn  front along x\n"
         "  x  left at 0\n"
         "  y  front at 0\n"
         "  z  top at 0");
    puts("zero G55\n"
         "  turn  swept along x\n"
         "  x  dialled at 0\n"
         "  y  dialled at 0\n"
         "  z  target at 0");
    puts("zero G56\n"
         "  turn  shaft along x\n"
         "  x  target at 0\n"
         "  y  shaft at 0\n"
         "  z  shaft at 0");
}

/* The second zero is that of the bore, as high as the ball; the third lies on
 * the bar's axis beside the ball. */
static void put_setup_truth(const job *j, const part *p)
{
    double s = j->size;
    lie second = p->w, third = p->w;
    second.zero = reading_of(&p->w, (jaw_vec3){0.25 * s, 0.25 * s, 0.05 * s},
                             0);
    third.zero = reading_of(&p->w, (jaw_vec3){0.9 * s, s, 0}, 0);
    put_truth_zero(j, "G54", &p->w);
    put_truth_zero(j, "G55", &second);
    put_truth_zero(j, "G56", &third);
    put_truth_place(j, "pilot.centre", on_part(p, 0.25 * s, 0.25 * s));
    put_truth(j, "pilot.diameter", 0.1 * s);
    put_truth_place(j, "key.middle", on_part(p, 0.5 * s, 0.25 * s));
    put_truth(j, "key.width", 0.12 * s);
    put_truth(j, "tool_1", p->tool[0]);
    put_truth(j, "tool_2", p->tool[1]);
}

void synth_setup(const job *j)
{
    jaw_vec3 at = any_place(j);
    part p = {.w = {{at.x, at.y, at.z - 200}, j->skew}};
    p.setter = between(j, -320, -280);
    p.stylus = between(j, 90, 110);
    p.tool[0] = between(j, 60, 80);
    p.tool[1] = between(j, 80, 120);
    put_setup_truth(j, &p);
    put_head(j, "Made-up corner plate");
    put_stylus(j, p.stylus, 0);
    put_walls_and_holes(j, &p);
    put_sweep(j, &p);
    put_dial(j, &p);
    put_solids(j, &p);
    put_tools_and_zero(j, &p);
}

/* ------------------------------------------------------------------- posts */

/* Places that stand off by errors of their own, as well as they are known. */
static void put_places(const job *j, const lie *w)
{
    printf("pattern bolts");
    if (j->noise > 0)
        put_setting(j, "places known to", j->noise);
    put_repeat(j);
    for (unsigned long i = 0; i < j->touches; i++) {
        double a = 2 * M_PI * (double)i / (double)j->touches;
        jaw_vec2 at = along((jaw_vec2){0, 0}, a, 0.4 * j->size);
        double x = noisy(j, at.x), y = noisy(j, at.y);
        printf("%s", indent);
        put_number(j, at.x, "  ");
        put_number(j, at.y, "  ");
        put_row2(j, "", place_of(w, x, y));
    }
}

/* What is touched from outside, round the middle of the part. */
void synth_posts(const job *j)
{
    jaw_vec3 at = any_place(j);
    double s = j->size, r = j->tip / 2;
    lie w = {{at.x, at.y, at.z - 200}, j->skew};
    double stylus = between(j, 90, 110);
    put_truth_zero(j, "G54", &w);
    put_truth_zero(j, "G55", &w);
    put_truth(j, "hub.diameter", 0.3 * s);
    put_truth(j, "rib.width", 0.2 * s);
    put_head(j, "Made-up part with a hub");
    put_stylus(j, stylus, j->noise);
    puts("boss hub  tip stylus");
    put_circle(j, indent, place_of(&w, 0, 0), 0.15 * s + r);
    puts("web rib  tip stylus");
    put_wall(j, indent, place_of(&w, 0, 0), w.skew, 0.5 * s, 0.1 * s + r);
    puts("  /");
    put_wall(j, indent, place_of(&w, 0, 0), w.skew, 0.5 * s, -0.1 * s - r);
    put_places(j, &w);
    put_flat(j, "top", &w, (jaw_vec3){0, 0, 0}, (jaw_vec2){0.4 * s, 0.3 * s},
             stylus);
    puts("zero G54\n  turn rib along x\n  x hub\n  y rib\n  z top\n"
         "zero G55\n  turn bolts\n  x bolts\n  y bolts\n  z top");
}
