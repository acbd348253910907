/* SPDX-License-Identifier: GPL-3.0-or-later */
/* between.c: how square the datums are to one another, as touched: each by the
 * plane or line of its own touches.  Where two outward normals enclose 90
 * degrees less b, the material between them has 90 degrees and b. */
#include "datum.h"

/* What follows to first order only (a variance, a sign) needs angles whose
 * error is small against one: at 0.1 rad the second order is a twentieth of the
 * first. */
#define UNSURE 0.1

static jaw_figure unknown(void)
{
    return (jaw_figure){(double)NAN, (double)NAN, (double)NAN, (double)NAN};
}

/* Variance of the component along d of a plane's normal, touches of unit
 * spread. */
static double tilt_of(const jaw_plane *plane, jaw_vec3 d)
{
    const double a = jaw__dot(plane->axis[0], d);
    const double b = jaw__dot(plane->axis[1], d);

    return plane->q_tilt[0] * a * a + plane->q_tilt[1] * b * b;
}

static double arc_sine(double x)
{
    return asin(fmin(fmax(x, -1), 1));
}

/* A wall's lean from heights that are told from places along it: what is left
 * of them then says how sure it is. */
static double own_lean(const jaw__floor *floor, const jaw__wall *wall,
                       const jaw_vec3 p[])
{
    const double slope = jaw__dot(floor->n, wall->lever);
    double sum = 0;

    for (size_t i = 0; i < wall->n; i++) {
        jaw_vec3 d = jaw__minus(p[i], wall->mean);
        double h = jaw__dot(floor->n, d) - slope * jaw__dot(wall->along, d);
        sum += h * h;
    }
    return wall->sigma / sqrt(sum);
}

/* By how much it exceeds 90 degrees, from the outward normals. */
static double excess(jaw_vec3 free, jaw_vec3 outward, jaw_vec3 other)
{
    const double sine = arc_sine(jaw__dot(free, other));

    return jaw__dot(free, outward) < 0 ? -sine : sine;
}

jaw_figure jaw__between_floor(const jaw_datum *secondary,
                              const jaw__floor *floor, const jaw__wall *wall,
                              const jaw__bench *bench)
{
    jaw_plane free;

    if (secondary->tip->shape != JAW_TIP_BALL || wall->n < 3)
        return unknown();
    const double own = own_lean(floor, wall, bench->p);
    if (!(own <= UNSURE) ||
        jaw_fit_plane(bench->p, wall->n, &free, NULL) != JAW_OK)
        return unknown();
    double floor_u = floor->sigma * sqrt(tilt_of(&floor->plane, wall->normal));
    return jaw_figure_make(excess(free.normal, wall->normal, floor->n),
                           hypot(own, floor_u), (double)INFINITY);
}

/* By how much more the k-th tilt of the primary turns one wall's own direction
 * about its normal than the other's. */
static double turn_apart(const jaw__floor *floor, const jaw__wall *a,
                         const jaw__wall *b, int k)
{
    const jaw_vec3 turn = jaw__cross(floor->plane.axis[k], floor->n);
    const jaw_vec3 moved_a = jaw__cross(turn, jaw__wall_arm(floor, a));
    const jaw_vec3 moved_b = jaw__cross(turn, jaw__wall_arm(floor, b));

    return jaw__dot(moved_a, a->lever) - jaw__dot(moved_b, b->lever);
}

static double variance_apart(const jaw__floor *floor, const jaw__wall *a,
                             const jaw__wall *b)
{
    const double sa = jaw__wall_sigma(a), sb = jaw__wall_sigma(b);
    double sum = sa * sa * a->q_theta + sb * sb * b->q_theta;

    for (int k = 0; k < 2; k++) {
        double turn = floor->sigma * turn_apart(floor, a, b, k);
        sum += turn * turn * floor->plane.q_tilt[k];
    }
    return sum;
}

jaw_figure jaw__between_walls(const jaw__floor *floor,
                              const jaw__wall *secondary,
                              const jaw__wall *tertiary,
                              const jaw__bench *bench)
{
    jaw_line line;

    if (tertiary->n < 2 ||
        !(jaw__wall_sigma(tertiary) * sqrt(tertiary->q_theta) <= UNSURE))
        return unknown();
    jaw__flatten(floor, bench->p, tertiary->n, bench->flat);
    if (jaw_fit_line(bench->flat, tertiary->n, &line, NULL) != JAW_OK)
        return unknown();
    jaw_vec3 free = jaw__plus(jaw__times(line.normal.x, floor->ahead),
                              line.normal.y, floor->aside);
    return jaw_figure_make(
        excess(free, tertiary->normal, secondary->normal),
        sqrt(variance_apart(floor, secondary, tertiary)), (double)INFINITY);
}
