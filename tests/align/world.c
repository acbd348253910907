/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Readings from geometry: rays that meet lines, planes and circles. */
#include "align_tests.h"

int promise_sets(void)
{
    const char *asked = getenv("JAW_PROMISE_SETS");
    return asked ? atoi(asked) : 20000;
}

double world_indicator(const world_wall *wall, jaw_vec2 body, jaw_vec2 way)
{
    /* body + t way on the wall: the cross product with its direction is 0 */
    double dx = cos(wall->direction), dy = sin(wall->direction);
    double px = wall->point.x - body.x, py = wall->point.y - body.y;
    double t = (px * dy - py * dx) / (way.x * dy - way.y * dx);
    ck_assert(t > 0); /* the plunger points at it */
    return 1000 - t;
}

void world_sweep(const world_wall *wall, jaw_side faces, const double at[],
                 double reading[], size_t n)
{
    jaw_vec2 out = jaw_side_normal(faces), in = {-out.x, -out.y};
    for (size_t i = 0; i < n; i++) {
        /* the axis that is not the normal's carries the spindle along */
        jaw_vec2 body = {out.x != 0 ? 500 * out.x : at[i],
                         out.y != 0 ? 500 * out.y : at[i]};
        reading[i] = world_indicator(wall, body, in);
    }
}

static jaw_vec3 scaled(jaw_vec3 v, double k)
{
    return (jaw_vec3){k * v.x, k * v.y, k * v.z};
}

static double dot(jaw_vec3 a, jaw_vec3 b)
{
    return a.x * b.x + a.y * b.y + a.z * b.z;
}

static jaw_vec3 minus(jaw_vec3 a, jaw_vec3 b)
{
    return (jaw_vec3){a.x - b.x, a.y - b.y, a.z - b.z};
}

static jaw_vec3 cross(jaw_vec3 a, jaw_vec3 b)
{
    return (jaw_vec3){a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z,
                      a.x * b.y - a.y * b.x};
}

static jaw_vec3 unit(jaw_vec3 a)
{
    return scaled(a, 1 / sqrt(dot(a, a)));
}

world_spindle world_lean(double to_x, double to_y)
{
    world_spindle s;
    const jaw_vec3 x = {1, 0, 0};
    s.up = unit((jaw_vec3){to_x, to_y, 1});
    s.east = unit(minus(x, scaled(s.up, dot(x, s.up))));
    s.north = cross(s.up, s.east);
    return s;
}

jaw_vec3 world_around(const world_spindle *s, double radius, double a)
{
    double c = radius * cos(a), k = radius * sin(a);
    return (jaw_vec3){c * s->east.x + k * s->north.x,
                      c * s->east.y + k * s->north.y,
                      c * s->east.z + k * s->north.z};
}

double world_swing(const world_spindle *s, double radius, double a)
{
    double z = 300 + world_around(s, radius, a).z;
    return 1000 - z / s->up.z; /* down along the spindle until z = 0 */
}

double world_round(jaw_vec2 spindle, jaw_vec2 centre, double r, bool inside,
                   double a)
{
    double low = 0, high = 4 * r;
    while (high - low > 1e-15 * r) {
        double t = (low + high) / 2;
        double x = spindle.x + t * cos(a) - centre.x;
        double y = spindle.y + t * sin(a) - centre.y;
        if (t <= low || t >= high)
            break;
        *(hypot(x, y) < r ? &low : &high) = t;
    }
    return inside ? 1000 - low : 1000 + low;
}
