/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hull_side.c: on which side a point lies.  A determinant of differences is
 * formed in doubles; where rounding might decide its sign, in pairs of doubles
 * (Dekker, Numer. Math. 18 (1971) 224-242); where that might, as a sum of
 * doubles without any rounding.  Filters and sums follow Shewchuk, Discrete
 * Comput. Geom. 18 (1997) 305-363. */
#include "hull.h"

#include "exact.h"

#include <float.h>

/* Generous bounds of what rounding can do, as a share of the sum of absolute
 * values: his are 7 and 3 half units for doubles; a handful of operations in
 * pairs leaves 2^-100. */
#define DOUBLES_SHARE (8 * DBL_EPSILON)
#define PAIRS_SHARE 0x1p-96

typedef struct pair {
    double high, low;
} pair;

/* What a sum of doubles is without rounding: parts that do not overlap, the
 * least first. */
enum { PARTS_MOST = 192 };

typedef struct sum {
    double part[PARTS_MOST];
    int count;
} sum;

static pair differ(double a, double b)
{
    pair d;

    d.high = jaw__differ(a, b, &d.low);
    return d;
}

static pair settle(double high, double low)
{
    return differ(high, -low);
}

static pair times(pair a, pair b)
{
    double rest, high = jaw__product(a.high, b.high, &rest);

    return settle(high, rest + (a.high * b.low + a.low * b.high));
}

static pair less(pair a, pair b)
{
    pair d = differ(a.high, b.high);

    return settle(d.high, d.low + (a.low - b.low));
}

static pair plus(pair a, pair b)
{
    return less(a, (pair){-b.high, -b.low});
}

/* Grow-expansion, zeros left out: Shewchuk's theorem 10. */
static void add(sum *s, double b)
{
    int k = 0;

    for (int i = 0; i < s->count; i++) {
        double low;
        b = jaw__differ(b, -s->part[i], &low);
        if (low != 0)
            s->part[k++] = low;
    }
    if (b != 0)
        s->part[k++] = b;
    s->count = k;
}

static void add_product(sum *s, double a, double b)
{
    double rest, high = jaw__product(a, b, &rest);

    if (rest != 0)
        add(s, rest);
    if (high != 0)
        add(s, high);
}

static void add_times(sum *s, pair a, pair b, double sign)
{
    add_product(s, sign * a.low, b.low);
    add_product(s, sign * a.low, b.high);
    add_product(s, sign * a.high, b.low);
    add_product(s, sign * a.high, b.high);
}

/* The largest part has the sign of all. */
static double value_of(const sum *s)
{
    double value = 0;

    for (int i = 0; i < s->count; i++)
        value += s->part[i];
    return value;
}

double jaw__side2(jaw_vec2 a, jaw_vec2 b, jaw_vec2 c)
{
    const pair bx = differ(b.x, a.x), by = differ(b.y, a.y);
    const pair cx = differ(c.x, a.x), cy = differ(c.y, a.y);
    const pair value = less(times(bx, cy), times(by, cx));
    const double all = fabs(bx.high * cy.high) + fabs(by.high * cx.high);
    sum s = {.count = 0};

    if (fabs(value.high) > PAIRS_SHARE * all)
        return value.high;
    add_times(&s, bx, cy, 1);
    add_times(&s, by, cx, -1);
    return value_of(&s);
}

/* --------------------------------------------------------------- in space */

typedef struct spread {
    pair x, y, z;
} spread;

static spread spread_of(const jaw_vec3 *p, const jaw_vec3 *from)
{
    return (spread){differ(p->x, from->x), differ(p->y, from->y),
                    differ(p->z, from->z)};
}

static pair minor_of(pair a, pair b, pair c, pair d)
{
    return less(times(a, d), times(b, c));
}

static double side3_pairs(const spread *b, const spread *c, const spread *p)
{
    const pair x = times(p->x, minor_of(b->y, b->z, c->y, c->z));
    const pair y = times(p->y, minor_of(b->z, b->x, c->z, c->x));
    const pair z = times(p->z, minor_of(b->x, b->y, c->x, c->y));

    return plus(plus(x, y), z).high;
}

/* Adds e (a d - b c). */
static void add_minor(sum *s, pair e, pair a, pair b, pair c, pair d)
{
    sum part = {.count = 0};

    add_times(&part, a, d, 1);
    add_times(&part, b, c, -1);
    for (int i = 0; i < part.count; i++) {
        add_product(s, e.low, part.part[i]);
        add_product(s, e.high, part.part[i]);
    }
}

static double side3_exact(const spread *b, const spread *c, const spread *p)
{
    sum s = {.count = 0};

    add_minor(&s, p->x, b->y, b->z, c->y, c->z);
    add_minor(&s, p->y, b->z, b->x, c->z, c->x);
    add_minor(&s, p->z, b->x, b->y, c->x, c->y);
    return value_of(&s);
}

static double side3_near(const jaw_vec3 *a, const jaw_vec3 *b,
                         const jaw_vec3 *c, const jaw_vec3 *p, double all)
{
    const spread sb = spread_of(b, a), sc = spread_of(c, a);
    const spread sp = spread_of(p, a);
    const double value = side3_pairs(&sb, &sc, &sp);

    return fabs(value) > PAIRS_SHARE * all ? value
                                           : side3_exact(&sb, &sc, &sp);
}

double jaw__side3(const jaw_vec3 *a, const jaw_vec3 *b, const jaw_vec3 *c,
                  const jaw_vec3 *p)
{
    const double bx = b->x - a->x, by = b->y - a->y, bz = b->z - a->z;
    const double cx = c->x - a->x, cy = c->y - a->y, cz = c->z - a->z;
    const double px = p->x - a->x, py = p->y - a->y, pz = p->z - a->z;
    const double value = px * (by * cz - bz * cy) + py * (bz * cx - bx * cz) +
                         pz * (bx * cy - by * cx);
    const double all = fabs(px) * (fabs(by * cz) + fabs(bz * cy)) +
                       fabs(py) * (fabs(bz * cx) + fabs(bx * cz)) +
                       fabs(pz) * (fabs(bx * cy) + fabs(by * cx));

    if (fabs(value) > DOUBLES_SHARE * all)
        return value;
    return side3_near(a, b, c, p, all);
}

jaw_vec3 jaw__cross3(const jaw_vec3 *a, const jaw_vec3 *b, const jaw_vec3 *c,
                     const jaw_vec3 *d)
{
    const spread e = spread_of(b, a), f = spread_of(d, c);
    const double x = minor_of(e.y, e.z, f.y, f.z).high;
    const double y = minor_of(e.z, e.x, f.z, f.x).high;
    const double z = minor_of(e.x, e.y, f.x, f.y).high;
    const double h = hypot(hypot(x, y), z);

    return h > 0 ? (jaw_vec3){x / h, y / h, z / h} : (jaw_vec3){0, 0, 0};
}
