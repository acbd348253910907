/* SPDX-License-Identifier: GPL-3.0-or-later */
/* true.c: where the tip's centre stands when the tip meets a known surface. */
#include "true.h"

jaw_touch touch_wall(const true_wall *w, double at, double side)
{
    return (jaw_touch){
        (double)(w->px + w->ny * at + w->nx * side),
        (double)(w->py - w->nx * at + w->ny * side),
        (double)NAN,
    };
}

jaw_touch touch_walls(const true_walls *w, int which, double at, double side,
                      bool between)
{
    long double off = w->width / 2 + (between ? -side : side);
    return (jaw_touch){
        (double)(w->px + w->dx * at - w->dy * off * which),
        (double)(w->py + w->dy * at + w->dx * off * which),
        (double)NAN,
    };
}

jaw_touch touch_round(const true_round *c, double angle, double side,
                      bool inside)
{
    long double r = inside ? c->radius - side : c->radius + side;
    return (jaw_touch){
        (double)(c->x + r * cosl(angle)),
        (double)(c->y + r * sinl(angle)),
        (double)NAN,
    };
}

jaw_touch touch_face(const true_face *f, double x, double y, double end,
                     double gap)
{
    /* (centre - p) . n = end + gap, and the lowest point is `end` below. */
    long double z = f->pz + (end + (long double)gap - (x - f->px) * f->nx -
                             (y - f->py) * f->ny) / f->nz;
    return (jaw_touch){x, y, (double)(z - end)};
}

true_wall random_wall(random_source *r, double most)
{
    static const double nx[] = {1, -1, 0, 0}, ny[] = {0, 0, 1, -1};
    static const jaw_side sides[] = {JAW_SIDE_XPLUS, JAW_SIDE_XMINUS,
                                     JAW_SIDE_YPLUS, JAW_SIDE_YMINUS};
    size_t k = random_below(r, 4);
    long double turn = random_between(r, -most, most);
    long double c = cosl(turn), s = sinl(turn);
    return (true_wall){
        .px = random_between(r, -500, 500),
        .py = random_between(r, -500, 500),
        .nx = c * nx[k] - s * ny[k],
        .ny = s * nx[k] + c * ny[k],
        .faces = sides[k],
    };
}

true_walls random_walls(random_source *r, double most)
{
    long double turn = random_between(r, -most, most);
    if (random_below(r, 2))
        turn += 1.57079632679489661923132169163975144L;
    return (true_walls){
        .px = random_between(r, -500, 500),
        .py = random_between(r, -500, 500),
        .dx = cosl(turn),
        .dy = sinl(turn),
        .width = random_between(r, 10, 120),
    };
}

true_face random_face(random_source *r, double most)
{
    long double tilt = random_between(r, 0, most);
    long double way = random_between(r, -3.2, 3.2);
    return (true_face){
        .px = random_between(r, -500, 500),
        .py = random_between(r, -500, 500),
        .pz = random_between(r, -400, 0),
        .nx = sinl(tilt) * cosl(way),
        .ny = sinl(tilt) * sinl(way),
        .nz = cosl(tilt),
    };
}

double off_wall(const true_wall *w, jaw_vec2 p)
{
    return (double)((p.x - w->px) * w->nx + (p.y - w->py) * w->ny);
}

double off_middle(const true_walls *w, jaw_vec2 p)
{
    return (double)((p.y - w->py) * w->dx - (p.x - w->px) * w->dy);
}

double off_face(const true_face *f, jaw_vec3 p)
{
    return (double)((p.x - f->px) * f->nx + (p.y - f->py) * f->ny +
                    (p.z - f->pz) * f->nz);
}
