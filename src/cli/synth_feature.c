/* SPDX-License-Identifier: GPL-3.0-or-later */
/* synth_feature.c: rows of one feature, as `jawline fit' takes them. */
#include "synth.h"

#include <math.h>

static void put_fit(const job *j, const char *more)
{
    printf("# to find it: jawline fit %s --unit %s", jaw_feature_word(j->kind),
           jaw_unit_word(j->unit));
    if (j->tip > 0 && j->kind != JAW_PATTERN)
        printf(" --tip %.17g%s", j->tip / jaw_unit_mm(j->unit), more);
    printf("\n");
}

/* ------------------------------------------------------------------- kinds */

static void synth_edge(const job *j)
{
    jaw_vec3 at = any_place(j);
    jaw_vec2 p = {at.x, at.y};
    put_truth_place(j, "point", p);
    put_truth_angle("direction_deg", j->skew);
    put_fit(j, " --faces y-");
    put_wall(j, "", p, j->skew, j->size, j->tip / 2);
}

/* Tilted by the skew along x and by half of it, downward, along y.  The rows
 * are the centre of a ball. */
static void synth_face(const job *j)
{
    jaw_vec3 at = any_place(j);
    double sx = tan(j->skew), sy = -0.5 * tan(j->skew);
    double h = j->tip / 2 / sqrt(1 + sx * sx + sy * sy);
    put_truth_place(j, "point_xy", (jaw_vec2){at.x, at.y});
    put_truth(j, "point_z", at.z);
    printf("# truth slope %.17g %.17g\n", sx, sy);
    put_fit(j, "");
    for (unsigned long i = 0; i < j->touches; i++) {
        double a = 2 * M_PI * (double)i / (double)j->touches + 0.3;
        double x = 0.5 * j->size * cos(a), y = 0.3 * j->size * sin(a);
        put_row3(j, "",
                 (jaw_vec3){at.x + x - h * sx, at.y + y - h * sy,
                            at.z + sx * x + sy * y + h});
    }
}

static void synth_round(const job *j)
{
    jaw_vec3 at = any_place(j);
    jaw_vec2 centre = {at.x, at.y};
    double tip = j->kind == JAW_BORE ? -j->tip : j->tip;
    put_truth_place(j, "centre", centre);
    put_truth(j, "diameter", j->size);
    put_fit(j, "");
    put_circle(j, "", centre, (j->size + tip) / 2);
}

static void synth_ball(const job *j)
{
    jaw_vec3 at = any_place(j);
    put_truth_place(j, "centre_xy", (jaw_vec2){at.x, at.y});
    put_truth(j, "centre_z", at.z);
    put_truth(j, "diameter", j->size);
    put_fit(j, "");
    put_ball(j, "", at, j->size / 2, j->touches, 0);
}

/* It rises by half of the skew. */
static void synth_bar(const job *j)
{
    jaw_vec3 at = any_place(j);
    double slope = 0.5 * tan(j->skew);
    put_truth_place(j, "axis_xy", (jaw_vec2){at.x, at.y});
    put_truth(j, "axis_z", at.z);
    put_truth_angle("direction_deg", j->skew);
    printf("# truth slope %.17g\n", slope);
    put_truth(j, "diameter", j->size);
    put_fit(j, "");
    put_bar(j, "", at, bar_axis(j->skew, slope), j->size / 2, 5 * j->size, 0);
}

static void synth_walls(const job *j)
{
    jaw_vec3 at = any_place(j);
    jaw_vec2 middle = {at.x, at.y};
    double tip = j->kind == JAW_SLOT ? -j->tip : j->tip;
    double out = (j->size + tip) / 2, length = 3 * j->size;
    put_truth_place(j, "middle", middle);
    put_truth(j, "width", j->size);
    put_truth_angle("direction_deg", j->skew);
    put_fit(j, "");
    put_wall(j, "", middle, j->skew, length, out);
    puts("/");
    put_wall(j, "", middle, j->skew, length, -out);
}

static void synth_pattern(const job *j)
{
    jaw_vec3 at = any_place(j);
    const lie w = {at, j->skew};
    put_truth_place(j, "origin", (jaw_vec2){at.x, at.y});
    put_truth_angle("turn_deg", j->skew);
    put_fit(j, "");
    put_pattern(j, "", &w, (jaw_vec2){0, 0}, j->size / 2, j->touches);
}

void synth_feature(const job *j)
{
    switch (j->kind) {
    case JAW_EDGE:
        synth_edge(j);
        break;
    case JAW_FACE:
        synth_face(j);
        break;
    case JAW_BORE:
    case JAW_BOSS:
        synth_round(j);
        break;
    case JAW_SLOT:
    case JAW_WEB:
        synth_walls(j);
        break;
    case JAW_BALL:
        synth_ball(j);
        break;
    case JAW_BAR:
        synth_bar(j);
        break;
    default:
        synth_pattern(j);
        break;
    }
}

