/* SPDX-License-Identifier: GPL-3.0-or-later */
/* synth_shape.c: where a tip stands that meets a wall, a circle, a flat, a ball
 * or a bar of a part. */
#include "synth.h"

#include <math.h>

const char indent[] = "  ";

jaw_vec3 reading_of(const lie *w, jaw_vec3 work, double length)
{
    double c = cos(w->skew), s = sin(w->skew);
    return (jaw_vec3){w->zero.x + c * work.x - s * work.y,
                      w->zero.y + s * work.x + c * work.y,
                      w->zero.z + work.z + length};
}

jaw_vec2 place_of(const lie *w, double x, double y)
{
    jaw_vec3 p = reading_of(w, (jaw_vec3){x, y, 0}, 0);
    return (jaw_vec2){p.x, p.y};
}

jaw_vec2 along(jaw_vec2 p, double angle, double mm)
{
    return (jaw_vec2){p.x + mm * cos(angle), p.y + mm * sin(angle)};
}

double spread(unsigned long i, unsigned long n)
{
    return n < 2 ? 0 : (double)i / (double)(n - 1) - 0.5;
}

/* Round places: a whole turn does not touch its start twice. */
static double round_angle(const job *j, unsigned long i)
{
    bool whole = fabs(j->arc) >= jaw_rad(360);
    unsigned long parts = whole || j->touches < 2 ? j->touches : j->touches - 1;
    return j->arc * (double)i / (double)parts;
}

void put_wall(const job *j, const char *before, jaw_vec2 p, double direction,
              double length, double out)
{
    jaw_vec2 centre = along(p, direction - M_PI / 2, out);
    for (unsigned long i = 0; i < j->touches; i++)
        put_row2(j, before,
                 along(centre, direction, length * spread(i, j->touches)));
}

void put_circle(const job *j, const char *before, jaw_vec2 centre,
                double radius)
{
    double start = between(j, 0, 2 * M_PI);
    for (unsigned long i = 0; i < j->touches; i++)
        put_row2(j, before, along(centre, start + round_angle(j, i), radius));
}

void put_swept(const job *j, double from, double length, double slope)
{
    for (unsigned long i = 0; i < j->touches; i++) {
        double at = length * (spread(i, j->touches) + 0.5);
        printf("%s", indent);
        put_number(j, from + at, "  ");
        put_number(j, noisy(j, slope * at), "\n");
    }
}

/* One touch on a surface: the noise is along the normal.  The rows are the
 * centre of a ball, `down` of it. */
static void put_met(const job *j, const char *before, jaw_vec3 p, jaw_vec3 n,
                    double down)
{
    double off = noisy(j, j->tip / 2);
    printf("%s", before);
    put_number(j, p.x + off * n.x, "  ");
    put_number(j, p.y + off * n.y, "  ");
    put_number(j, p.z + off * n.z - down, "\n");
}

void put_ball(const job *j, const char *before, jaw_vec3 centre, double radius,
              unsigned long n, double down)
{
    for (unsigned long i = 0; i < n; i++) {
        double a = 2.4 * (double)i; /* about the golden angle */
        double up = i == 0 ? M_PI / 2 : i % 3 == 0 ? 0.7 : 0.1;
        jaw_vec3 u = {cos(up) * cos(a), cos(up) * sin(a), sin(up)};
        put_met(j, before,
                (jaw_vec3){centre.x + radius * u.x, centre.y + radius * u.y,
                           centre.z + radius * u.z},
                u, down);
    }
}

void put_bar(const job *j, const char *before, jaw_vec3 at, jaw_vec3 axis,
             double radius, double length, double down)
{
    double run = hypot(axis.x, axis.y);
    jaw_vec3 level = {-axis.y / run, axis.x / run, 0};
    jaw_vec3 up = {-axis.z * axis.x / run, -axis.z * axis.y / run, run};
    for (unsigned long i = 0; i < j->touches; i++) {
        double a = 0.05 + (double)(i % 3) * 0.48 * M_PI;
        double c = cos(a), s = sin(a);
        double t = length * spread(i / 3, (j->touches + 2) / 3);
        jaw_vec3 n = {c * level.x + s * up.x, c * level.y + s * up.y, s * up.z};
        put_met(j, before,
                (jaw_vec3){at.x + t * axis.x + radius * n.x,
                           at.y + t * axis.y + radius * n.y,
                           at.z + t * axis.z + radius * n.z},
                n, down);
    }
}

jaw_vec3 bar_axis(double direction, double slope)
{
    double w = hypot(1, slope);
    return (jaw_vec3){cos(direction) / w, sin(direction) / w, slope / w};
}

void put_pattern(const job *j, const char *before, const lie *w,
                 jaw_vec2 middle, double radius, unsigned long n)
{
    for (unsigned long i = 0; i < n; i++) {
        double a = M_PI / 2 + 2 * M_PI * (double)i / (double)n;
        jaw_vec2 nominal = along(middle, a, radius);
        printf("%s", before);
        put_number(j, nominal.x, "  ");
        put_number(j, nominal.y, "  ");
        put_row2(j, "", place_of(w, nominal.x, nominal.y));
    }
}

void put_front(const job *j, const char *name, const lie *w, double length)
{
    printf("edge %s  tip stylus  faces y-\n", name);
    put_wall(j, indent, place_of(w, 0.5 * length, 0), w->skew, 0.9 * length,
             j->tip / 2);
}

void put_left(const job *j, const char *name, const lie *w, double length)
{
    printf("edge %s  tip stylus  faces x-\n", name);
    put_wall(j, indent, place_of(w, 0, 0.5 * length), w->skew - M_PI / 2,
             0.9 * length, j->tip / 2);
}

/* A ball on a level flat: its lowest point is where it meets. */
void put_flat(const job *j, const char *name, const lie *w, jaw_vec3 middle,
              jaw_vec2 reach, double stylus)
{
    printf("face %s  tip stylus\n", name);
    for (unsigned long i = 0; i < j->touches; i++) {
        double a = 2 * M_PI * (double)i / (double)j->touches + 0.3;
        jaw_vec3 on = {middle.x + reach.x * cos(a),
                       middle.y + reach.y * sin(a), middle.z};
        put_row3(j, indent, reading_of(w, on, stylus));
    }
}
