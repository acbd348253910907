/* SPDX-License-Identifier: GPL-3.0-or-later */
/* spread.c: what the touches' repeats make of origin and turn (JCGM 100, 5.1),
 * through all three steps.
 *
 * Six independent errors there are: height and two tilts of the primary, place
 * and direction of the secondary, place of the tertiary.  Each turns all by a
 * small vector and moves each plane outward at the origin O; its column of the
 * covariance follows.  For a wall of normal m, g = m - lean n and touches at
 * D_i from O, least squares over its shift e and its turn about n asks for
 *     e - (turn x g) . D_i = error_i + lean (shift of the primary at O)
 * in the mean and along the wall.  (At a rim the place that is met lies in the
 * primary and moves with it; its sideways part drops out, because g is level
 * there and square to the rim.) */
#include "datum.h"

typedef struct motion {
    jaw_vec3 turn;
    double out[JAW__DATUMS];
} motion;

/* The k-th error of the primary: 0 its height, 1 and 2 its tilts. */
static motion move_floor(const jaw__floor *f, int k, jaw_vec3 origin)
{
    motion m = {{0, 0, 0}, {1, 0, 0}};

    if (k == 0)
        return m;
    const jaw_vec3 axis = f->plane.axis[k - 1];
    m.turn = jaw__cross(axis, f->n);
    m.out[0] = jaw__dot(axis, jaw__minus(origin, f->p));
    return m;
}

static double move_wall(const jaw__floor *f, const jaw__wall *w,
                        const motion *m, jaw_vec3 origin)
{
    const jaw_vec3 moved = jaw__cross(m->turn, jaw__wall_arm(f, w));

    return w->lean * m->out[0] +
           jaw__dot(moved, jaw__minus(w->mean, origin));
}

/* Both walls follow what came before them. */
static void follow(const jaw__floor *f, const jaw__wall *second,
                   const jaw__wall *third, jaw_vec3 origin, int k, motion *m)
{
    const jaw_vec3 moved = jaw__cross(m->turn, jaw__wall_arm(f, second));
    const double about_n = -(k == 4) - jaw__dot(moved, second->lever);

    m->turn = jaw__plus(m->turn, about_n, f->n);
    m->out[1] = (k == 3) + move_wall(f, second, m, origin);
    m->out[2] = (k == 5) + move_wall(f, third, m, origin);
}

static void column_of(const jaw__floor *f, const jaw__wall *second,
                      const jaw__wall *third, const motion *m,
                      double column[6])
{
    jaw_vec3 shift = jaw__times(m->out[0], f->n);

    shift = jaw__plus(shift, m->out[1], second->normal);
    shift = jaw__plus(shift, m->out[2], third->normal);
    column[0] = shift.x;
    column[1] = shift.y;
    column[2] = shift.z;
    column[3] = m->turn.x;
    column[4] = m->turn.y;
    column[5] = m->turn.z;
}

static void add_outer(const double column[6], double variance, double cov[21])
{
    for (int i = 0, at = 0; i < 6; i++)
        for (int j = i; j < 6; j++, at++)
            cov[at] += variance * column[i] * column[j];
}

void jaw__datum_columns(const jaw__floor *floor, const jaw__wall *secondary,
                        const jaw__wall *tertiary, jaw_vec3 origin,
                        double column[][6])
{
    for (int k = 0; k < JAW__DATUM_SOURCES; k++) {
        motion m = {{0, 0, 0}, {0, 0, 0}};
        if (k < 3)
            m = move_floor(floor, k, origin);
        follow(floor, secondary, tertiary, origin, k, &m);
        column_of(floor, secondary, tertiary, &m, column[k]);
    }
}

void jaw__datum_cov(const jaw__floor *floor, const jaw__wall *secondary,
                    const jaw__wall *tertiary, jaw_vec3 origin, double cov[21])
{
    const jaw_plane *plane = &floor->plane;
    const double q[JAW__DATUM_SOURCES] = {
        plane->q_offset,           plane->q_tilt[0],   plane->q_tilt[1],
        1 / (double)secondary->n,  secondary->q_theta, 1 / (double)tertiary->n};
    const double second = jaw__wall_sigma(secondary);
    const double sigma[JAW__DATUM_SOURCES] = {
        floor->sigma, floor->sigma, floor->sigma,
        second,       second,       jaw__wall_sigma(tertiary)};
    double column[JAW__DATUM_SOURCES][6];

    jaw__datum_columns(floor, secondary, tertiary, origin, column);
    for (int i = 0; i < 21; i++)
        cov[i] = 0;
    for (int k = 0; k < JAW__DATUM_SOURCES; k++)
        add_outer(column[k], q[k] * sigma[k] * sigma[k], cov);
}
