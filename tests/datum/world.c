/* SPDX-License-Identifier: GPL-3.0-or-later */
/* world.c: a block in space and tips that are moved until they meet it.
 *
 * A ball meets a plane when its centre is one radius from it.  An upright
 * cylinder with a flat end is tried against the block itself: of all that lies
 * above its end, as seen from above, the nearest point is sought, and the
 * cylinder moved by halving until that is one radius off.  Nothing here knows
 * what the library takes to be met. */
#include "datum_tests.h"

#include <stdlib.h>

void world_turn(double about_x, double about_y, double about_z, double r[3][3])
{
    double cx = cos(about_x), sx = sin(about_x), cy = cos(about_y),
           sy = sin(about_y), cz = cos(about_z), sz = sin(about_z);
    double x[3][3] = {{1, 0, 0}, {0, cx, -sx}, {0, sx, cx}};
    double y[3][3] = {{cy, 0, sy}, {0, 1, 0}, {-sy, 0, cy}};
    double z[3][3] = {{cz, -sz, 0}, {sz, cz, 0}, {0, 0, 1}}, yx[3][3];

    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++)
            yx[i][j] = y[i][0] * x[0][j] + y[i][1] * x[1][j] +
                       y[i][2] * x[2][j];
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++)
            r[i][j] = z[i][0] * yx[0][j] + z[i][1] * yx[1][j] +
                      z[i][2] * yx[2][j];
}

static jaw_vec3 turned(const block *b, jaw_vec3 p)
{
    return (jaw_vec3){b->r[0][0] * p.x + b->r[0][1] * p.y + b->r[0][2] * p.z,
                      b->r[1][0] * p.x + b->r[1][1] * p.y + b->r[1][2] * p.z,
                      b->r[2][0] * p.x + b->r[2][1] * p.y + b->r[2][2] * p.z};
}

jaw_vec3 world_at(const block *b, jaw_vec3 part)
{
    jaw_vec3 p = turned(b, part);
    return (jaw_vec3){b->corner.x + p.x, b->corner.y + p.y, b->corner.z + p.z};
}

static double extent(jaw_side a, jaw_side b, bool x, double size)
{
    jaw_vec2 n = jaw_side_normal(a), m = jaw_side_normal(b);
    double out = x ? n.x + m.x : n.y + m.y;
    return -out * size;
}

block world_block(random_source *r, jaw_side second, jaw_side third,
                  double tilt, double skew)
{
    block b = {.corner = {random_between(r, -200, 200),
                          random_between(r, -200, 200),
                          random_between(r, -200, 0)},
               .size = {extent(second, third, true, 90),
                        extent(second, third, false, 60), -40}};
    world_turn(random_between(r, -tilt, tilt), random_between(r, -tilt, tilt),
               random_between(r, -skew, skew), b.r);
    return b;
}

/* -------------------------------------------------------------------- ball */

/* A place of the machine, moved along `way` until it is `off` from the face
 * through the corner whose outward normal is the part axis k times `sign`. */
static jaw_vec3 move_to(const block *b, int k, double sign, jaw_vec3 p,
                        jaw_vec3 way, double off)
{
    jaw_vec3 n = {sign * b->r[0][k], sign * b->r[1][k], sign * b->r[2][k]};
    double gap = n.x * (p.x - b->corner.x) + n.y * (p.y - b->corner.y) +
                 n.z * (p.z - b->corner.z) - off;
    double far = -gap / (n.x * way.x + n.y * way.y + n.z * way.z);
    return (jaw_vec3){p.x + far * way.x, p.y + far * way.y, p.z + far * way.z};
}

/* ---------------------------------------------------------------- cylinder */

/* What of the block lies at height z or above: points whose outline it is. */
static size_t above(const block *b, double z, jaw_vec2 out[])
{
    jaw_vec3 v[8];
    size_t n = 0;

    for (int i = 0; i < 8; i++)
        v[i] = world_at(b, (jaw_vec3){i & 1 ? b->size.x : 0,
                                      i & 2 ? b->size.y : 0,
                                      i & 4 ? b->size.z : 0});
    for (int i = 0; i < 8; i++) {
        if (v[i].z >= z)
            out[n++] = (jaw_vec2){v[i].x, v[i].y};
        for (int bit = 1; bit < 8; bit <<= 1) {
            const jaw_vec3 *p = &v[i], *q = &v[i | bit];
            if ((i & bit) || (p->z >= z) == (q->z >= z))
                continue;
            double f = (z - p->z) / (q->z - p->z);
            out[n++] = (jaw_vec2){p->x + f * (q->x - p->x),
                                  p->y + f * (q->y - p->y)};
        }
    }
    return n;
}

static double to_segment(jaw_vec2 p, jaw_vec2 a, jaw_vec2 b)
{
    double x = b.x - a.x, y = b.y - a.y, square = x * x + y * y;
    double f = square > 0 ? ((p.x - a.x) * x + (p.y - a.y) * y) / square : 0;
    f = fmin(fmax(f, 0), 1);
    return hypot(p.x - a.x - f * x, p.y - a.y - f * y);
}

/* From outside: the nearest of all segments between two of the points. */
static double distance(const jaw_vec2 v[], size_t n, jaw_vec2 p)
{
    double least = HUGE_VAL;

    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < i; j++)
            least = fmin(least, to_segment(p, v[i], v[j]));
    return least;
}

static jaw_vec3 cylinder_to(const block *b, jaw_vec3 p, jaw_vec2 way,
                            double radius)
{
    jaw_vec2 v[24];
    size_t n = above(b, p.z, v);
    double low = -50, high = 50; /* off, and well inside: see world_touch */

    ck_assert(n >= 4);
    for (int i = 0; i < 100; i++) {
        double mid = (low + high) / 2;
        jaw_vec2 q = {p.x + mid * way.x, p.y + mid * way.y};
        /* inside some pair of points is near too, for the tip is wide */
        if (distance(v, n, q) > radius)
            low = mid;
        else
            high = mid;
    }
    return (jaw_vec3){p.x + low * way.x, p.y + low * way.y, p.z};
}

/* ---------------------------------------------------------------- touching */

static jaw_touch touch_top(const block *b, jaw_vec3 part, const jaw_tip *tip)
{
    bool ball = tip->shape == JAW_TIP_BALL;
    double radius = ball ? tip->diameter / 2 : 0;
    jaw_vec3 p = move_to(b, 2, 1, world_at(b, part), (jaw_vec3){0, 0, -1},
                         radius + tip->paper);
    return (jaw_touch){p.x, p.y, p.z - radius};
}

static jaw_touch touch_wall(const block *b, jaw_side side, jaw_vec3 part,
                            const jaw_tip *tip)
{
    jaw_vec2 n = jaw_side_normal(side), way = {-n.x, -n.y};
    double radius = tip->diameter / 2, off = radius + tip->paper;
    int k = n.x != 0 ? 0 : 1;
    jaw_vec3 p = world_at(b, part);

    if (tip->shape != JAW_TIP_BALL) {
        /* 50 mm before the wall; 50 mm behind it is inside */
        p = cylinder_to(b, p, way, off);
        return (jaw_touch){p.x, p.y, p.z};
    }
    p = move_to(b, k, k == 0 ? n.x : n.y, p, (jaw_vec3){way.x, way.y, 0}, off);
    return (jaw_touch){p.x, p.y, p.z - radius};
}

static jaw_vec3 place(random_source *r, const block *b, int datum,
                      jaw_side side)
{
    jaw_vec3 p = {b->size.x * random_between(r, 0.15, 0.85),
                  b->size.y * random_between(r, 0.15, 0.85),
                  b->size.z * random_between(r, 0.15, 0.85)};
    if (datum == 0)
        p.z = 0;
    else if (jaw_side_normal(side).x != 0)
        p.x = 0;
    else
        p.y = 0;
    return p;
}

void world_touch(random_source *r, const block *b, jaw_side second,
                 jaw_side third, const size_t n[3], const jaw_tip tip[3],
                 touched *out)
{
    const jaw_side side[3] = {JAW_SIDE_NONE, second, third};

    for (int k = 0; k < 3; k++) {
        out->tip[k] = tip[k];
        for (size_t i = 0; i < n[k]; i++) {
            jaw_vec3 p = place(r, b, k, side[k]);
            out->t[k][i] = k == 0 ? touch_top(b, p, &tip[k])
                                  : touch_wall(b, side[k], p, &tip[k]);
        }
        out->d[k] = (jaw_datum){out->t[k], n[k], &out->tip[k], side[k], 0.002};
    }
}

void world_scatter(random_source *r, const touched *from, touched *to)
{
    *to = *from;
    for (int k = 0; k < 3; k++) {
        to->d[k].t = to->t[k];
        to->d[k].tip = &to->tip[k];
        double s = to->d[k].repeat;
        for (size_t i = 0; i < to->d[k].n; i++) {
            to->t[k][i].x += s * random_normal(r);
            to->t[k][i].y += s * random_normal(r);
            to->t[k][i].z += s * random_normal(r);
        }
    }
}

/* -------------------------------------------------------------------- small */

jaw_status find(const touched *t, jaw_attitude *a, double resid[])
{
    return jaw_datum_find(&t->d[0], &t->d[1], &t->d[2], a, resid);
}

jaw_vec3 turn_between(const double from[3][3], const double to[3][3])
{
    double m[3][3]; /* to from^T = 1 + the small turn */

    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++)
            m[i][j] = to[i][0] * from[j][0] + to[i][1] * from[j][1] +
                      to[i][2] * from[j][2];
    return (jaw_vec3){(m[2][1] - m[1][2]) / 2, (m[0][2] - m[2][0]) / 2,
                      (m[1][0] - m[0][1]) / 2};
}

int at(int i, int j)
{
    return i > j ? at(j, i) : 6 * i - i * (i - 1) / 2 + j - i;
}

int sets(int usual)
{
    const char *asked = getenv("JAW_TEST_SETS");
    return asked ? atoi(asked) : usual;
}

void attitude_is_nan(const jaw_attitude *a)
{
    for (int i = 0; i < 3; i++) {
        ck_assert(isnan(a->turn[i][0]) && isnan(a->turn[i][1]) &&
                  isnan(a->turn[i][2]) && isnan(a->rms[i]));
        ck_assert_int_eq(a->dof[i], 0);
    }
    for (int i = 0; i < 21; i++)
        ck_assert(isnan(a->cov[i]));
    for (int i = 0; i < 2; i++)
        ck_assert(isnan(a->tilt[i]) && isnan(a->between[i].value) &&
                  isnan(a->between[i].u) && isnan(a->between[i].half95));
    ck_assert(isnan(a->origin.x) && isnan(a->origin.y) && isnan(a->origin.z));
    ck_assert(isnan(a->skew));
    ck_assert_uint_eq(a->flags, 0);
}
