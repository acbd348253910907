/* SPDX-License-Identifier: GPL-3.0-or-later */
/* curved_place.c: spheres and cylinders as bent planes, and back. */
#include "curved.h"

void jaw__curved_axes(double axis[3][3])
{
    jaw__normalise(axis[0]);
    double lean = jaw__dot3(axis[0], axis[2]);
    for (int i = 0; i < 3; i++)
        axis[2][i] -= lean * axis[0][i];
    jaw__normalise(axis[2]);
    jaw__cross(axis[2], axis[0], axis[1]);
}

void jaw__square_to(const double a[3], double b[3])
{
    int least = 0;

    for (int i = 1; i < 3; i++)
        if (fabs(a[i]) < fabs(a[least]))
            least = i;
    for (int i = 0; i < 3; i++)
        b[i] = (i == least) - a[least] * a[i];
    jaw__normalise(b);
}

jaw__curved jaw__bow(const double normal[3], const double direction[3],
                     double bend)
{
    jaw__curved at = {.bend = bend, .round = !direction};

    for (int i = 0; i < 3; i++)
        at.axis[2][i] = normal[i];
    if (direction)
        for (int i = 0; i < 3; i++)
            at.axis[0][i] = direction[i];
    else
        jaw__square_to(normal, at.axis[0]);
    jaw__curved_axes(at.axis);
    return at;
}

jaw__curved jaw__curved_round(const double c[3], double r,
                              const double direction[3])
{
    double normal[3] = {c[0], c[1], c[2]}, far;

    /* the centre of a cylinder next to the touches' mean */
    if (direction) {
        double along = jaw__dot3(c, direction);
        for (int i = 0; i < 3; i++)
            normal[i] -= along * direction[i];
    }
    const double centre[3] = {normal[0], normal[1], normal[2]};
    far = sqrt(jaw__dot3(normal, normal));
    if (far > r * 0x1p-20) {
        jaw__normalise(normal);
    } else {
        const double up[3] = {0, 0, 1};
        jaw__square_to(direction ? direction : up, normal);
    }
    jaw__curved at = jaw__bow(normal, direction, 1 / r);
    for (int i = 0; i < 3; i++)
        at.foot[i] = far > r * 0x1p-20 ? centre[i] * (1 - r / far)
                                       : centre[i] - r * at.axis[2][i];
    return at;
}

void jaw__curved_centre(const jaw__curved *at, double c[3])
{
    for (int i = 0; i < 3; i++)
        c[i] = at->foot[i] + at->axis[2][i] / at->bend;
}

double jaw__wide(const jaw__bulk *bulk, const jaw__curved *at)
{
    double pairs[6], square = 0;

    for (int k = at->round ? 0 : 1; k < 2; k++) {
        jaw__pairs(at->axis[k], at->axis[k], pairs);
        for (int i = 0; i < 6; i++)
            square += pairs[i] * bulk->two[i];
    }
    return square;
}

bool jaw__straight(const jaw__search *search, const jaw__curved *at)
{
    const double n = (double)search->space->n;

    return fabs(at->bend) * jaw__wide(search->bulk, at) * sqrt(n) <=
           16 * search->space->noise;
}
