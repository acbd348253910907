/* SPDX-License-Identifier: GPL-3.0-or-later */
/* synth_align.c: the machine itself, by an indicator whose reading grows as the
 * plunger is pushed in.  The truth is small angles that a seed picks. */
#include "synth.h"

#include <math.h>
#include <stdio.h>

/* The plunger hangs off the axis by radius, along it, and is pushed in as far
 * as the table rises towards it: less the height of where it hangs, measured
 * along the axis.  That goes along k, up; the arm lies square to k. */
static double hung(const double lean[2], double radius, double angle)
{
    double x = tan(lean[0]), y = tan(lean[1]);
    /* seen from above the arm points to the angle */
    double c = cos(angle), s = sin(angle), drop = -(c * x + s * y);
    double across = hypot(1, drop), up = 1 / sqrt(1 + x * x + y * y);
    return -radius * drop / across / up;
}

void synth_tram(const job *j)
{
    double radius = j->size, lean[2];
    lean[0] = between(j, -1e-3, 1e-3);
    lean[1] = between(j, -1e-3, 1e-3);
    put_truth_angle("head.leans_towards_X+,_going_up", lean[0]);
    put_truth_angle("head.leans_towards_Y+,_going_up", lean[1]);
    put_head(j, "Made-up head");
    printf("tram head");
    put_setting(j, "radius", radius);
    put_repeat(j);
    for (unsigned long i = 0; i < j->touches; i++) {
        double angle = 360 * (double)i / (double)j->touches;
        printf("  %.17g  ", angle);
        put_number(j, noisy(j, hung(lean, radius, jaw_rad(angle))), "\n");
    }
}

/* One arm lies along X; from a right angle to it the other leans by `square` to
 * X-, and turned over to X+; the Y axis leans by `axes` to X-.  So much the arm
 * comes towards X+ for each mm along Y. */
void synth_square(const job *j)
{
    double axes = between(j, -1e-3, 1e-3), square = between(j, -1e-3, 1e-3);
    double from = between(j, -200, -100);
    double first = sin(axes) - tan(square) * cos(axes);
    double second = sin(axes) + tan(square) * cos(axes);
    put_truth_angle("axes.angle_between_the_axes,_less_90", axes);
    put_truth_angle("axes.the_square's_own_angle,_less_90", square);
    put_head(j, "Made-up pair of axes");
    printf("square axes  faces x+ then x-");
    put_repeat(j);
    put_swept(j, from, j->size, first);
    puts("  /");
    put_swept(j, from, j->size, -second);
}
