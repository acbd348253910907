/* SPDX-License-Identifier: GPL-3.0-or-later */
/* zone.c: touches made ready for the zones, and zones written. */
#include "zone.h"

#include <stdlib.h>

/* The power of two that brings size to between 1/2 and 1. */
static double scale_of(double size)
{
    int e;

    if (size == 0)
        return 1;
    frexp(size, &e);
    return ldexp(1, e > 1000 ? -1000 : e < -1000 ? 1000 : -e);
}

/* What both kinds have in common: v[columns * n] to the start of *out, which
 * has room for `blocks` times as much. */
static jaw_status make(const double v[], size_t n, size_t columns,
                       size_t blocks, size_t least, double *scale,
                       double *noise, double **out)
{
    double size;

    *out = NULL;
    if (n < least)
        return JAW_EFEW;
    size = jaw__size(v, columns * n);
    if (isnan(size))
        return JAW_ENOTFINITE;
    *scale = scale_of(size);
    *noise = jaw__noise(size * *scale, n);
    *out = calloc(n, blocks * columns * sizeof **out);
    if (!*out)
        return JAW_ENOMEM;
    for (size_t i = 0; i < columns * n; i++)
        (*out)[i] = jaw__tidy(v[i] * *scale);
    return JAW_OK;
}

static jaw_vec2 middle_of(const jaw_vec2 p[], size_t n)
{
    jaw_vec2 low = *p, high = *p;

    for (size_t i = 1; i < n; i++) {
        low.x = fmin(low.x, p[i].x);
        low.y = fmin(low.y, p[i].y);
        high.x = fmax(high.x, p[i].x);
        high.y = fmax(high.y, p[i].y);
    }
    return (jaw_vec2){low.x / 2 + high.x / 2, low.y / 2 + high.y / 2};
}

jaw_status jaw__zone_flat_make(jaw__zone_flat *flat, const jaw_vec2 p[],
                               size_t n, size_t least)
{
    double *v;

    *flat = (jaw__zone_flat){.n = n};
    jaw_status status = make(&p->x, n, 2, 2, least, &flat->scale, &flat->noise,
                             &v);
    flat->p = (jaw_vec2 *)(void *)v;
    if (status != JAW_OK)
        return status;
    flat->q = flat->p + n;
    flat->middle = middle_of(flat->p, n);
    for (size_t i = 0; i < n; i++) {
        flat->q[i].x = flat->p[i].x - flat->middle.x;
        flat->q[i].y = flat->p[i].y - flat->middle.y;
        flat->extent = fmax(flat->extent, hypot(flat->p[i].x - flat->p->x,
                                                flat->p[i].y - flat->p->y));
    }
    return flat->extent > flat->noise ? JAW_OK : JAW_ERANK;
}

jaw_status jaw__zone_solid_make(jaw__zone_solid *solid, const jaw_vec3 p[],
                                size_t n, size_t least)
{
    double *v;

    *solid = (jaw__zone_solid){.n = n};
    jaw_status status = make(&p->x, n, 3, 1, least, &solid->scale,
                             &solid->noise, &v);
    solid->p = (jaw_vec3 *)(void *)v;
    if (status != JAW_OK)
        return status;
    for (size_t i = 1; i < n; i++) {
        const jaw_vec3 *a = &solid->p[i], *b = solid->p;
        solid->extent = fmax(solid->extent, hypot(hypot(a->x - b->x,
                                                        a->y - b->y),
                                                  a->z - b->z));
    }
    return solid->extent > solid->noise ? JAW_OK : JAW_ERANK;
}

jaw_status jaw__zone_give_up(jaw_status status, jaw_zone *zone)
{
    *zone = (jaw_zone){.width = JAW__NAN,
                       .normal = {JAW__NAN, JAW__NAN, JAW__NAN},
                       .low = JAW__NAN, .high = JAW__NAN,
                       .centre = {JAW__NAN, JAW__NAN}};
    return status;
}

void jaw__zone_round(jaw_zone *zone, const jaw__zone_flat *flat,
                     jaw_vec2 centre, double low, double high, double width)
{
    (void)jaw__zone_give_up(JAW_OK, zone);
    zone->centre.x = (centre.x + flat->middle.x) / flat->scale;
    zone->centre.y = (centre.y + flat->middle.y) / flat->scale;
    zone->low = low / flat->scale;
    zone->high = high / flat->scale;
    zone->width = width / flat->scale;
}

static double square_of(jaw_vec2 a, jaw_vec2 b)
{
    return (b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y);
}

/* The widest angle lies opposite the longest side; it is put at a. */
static void widest_first(jaw_vec2 *a, jaw_vec2 *b, jaw_vec2 *c)
{
    const double bc = square_of(*b, *c), ca = square_of(*c, *a);
    const double ab = square_of(*a, *b);
    jaw_vec2 *other = bc >= ca && bc >= ab ? a : ca >= ab ? b : c;
    const jaw_vec2 t = *other;

    *other = *a;
    *a = t;
}

void jaw__zone_held_by(jaw_zone *zone, const size_t touch[], size_t n)
{
    zone->n_touch = n;
    for (size_t k = 0; k < n; k++)
        zone->touch[k] = touch[k];
}

jaw_vec2 jaw__through(jaw_vec2 a, jaw_vec2 b, jaw_vec2 c, double *r)
{
    widest_first(&a, &b, &c);
    const jaw_vec2 u = {b.x - a.x, b.y - a.y}, v = {c.x - a.x, c.y - a.y};
    const double area = 2 * (u.x * v.y - u.y * v.x);
    const double uu = u.x * u.x + u.y * u.y, vv = v.x * v.x + v.y * v.y;
    const jaw_vec2 w = {(v.y * uu - u.y * vv) / area,
                        (u.x * vv - v.x * uu) / area};
    const jaw_vec2 centre = {a.x + w.x, a.y + w.y};

    *r = sqrt(fmax(square_of(a, centre),
                   fmax(square_of(b, centre), square_of(c, centre))));
    return centre;
}
