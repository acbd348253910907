/* SPDX-License-Identifier: GPL-3.0-or-later */
/* passes.h: sums over the touches as they stand in memory, for the short ways
 * (wide_body.h, long.c, plane.c).  Shared by the fits; not public.
 *
 * Every pass takes every stride-th of the touches, n in all, and adds up in
 * blocks, so that the rounding of ten million additions stays that of some
 * thousand.  What is not finite comes out as not finite. */
#ifndef JAW_FIT_PASSES_H
#define JAW_FIT_PASSES_H

#include <jawline/fit.h>

typedef struct jaw__touches {
    const jaw_vec2 *p;
    size_t n, stride;
} jaw__touches;

typedef struct jaw__solids {
    const jaw_vec3 *p;
    size_t n, stride;
} jaw__solids;

/* A circle's centre as from + (a, b), so that it has more digits than its
 * coordinates. */
typedef struct jaw__trial {
    jaw_vec2 from;
    double a, b, r;
} jaw__trial;

/* Sums of the coordinates from `from`; z = x^2 + y^2. */
typedef struct jaw__moments {
    double x, y, xx, xy, yy, xz, yz;
} jaw__moments;

/* Sums at a trial circle: f = d - r for distance d from the centre; u, v the
 * unit vector from the centre; w = 1 / d. */
typedef struct jaw__slopes {
    double f, fu, fv, u, v;
    double wuu, wuv, wvv;            /* w times */
    double wwuuu, wwuuv, wwuvv, wwvvv; /* w^2 times */
} jaw__slopes;

typedef struct jaw__closes {
    double f, ff, fu, fv, u, v, uu, uv;
} jaw__closes;

/* For many touches: what both of the above have. */
typedef struct jaw__both {
    jaw__slopes s;
    double ff, uu, uv;
} jaw__both;

/* Sums along (u) and across (v) a direction, from a point. */
typedef struct jaw__strips {
    double u, v, uu, uv, vv;
    double size; /* largest |coordinate| */
} jaw__strips;

/* Sums along three axes, from a point: u v w, uu uv uw vv vw ww. */
typedef struct jaw__slabs {
    double sum[9];
    double size;
} jaw__slabs;

typedef struct jaw__passes {
    /* The circle when it was touched well round: true when it was found and is
     * certain; false says nothing, and *c and resid hold nothing of use. */
    bool (*circle)(const jaw_vec2 p[], size_t n, jaw_circle *c,
                   double resid[]);
    jaw__strips (*strips)(const jaw__touches *t, jaw_vec2 from, double c,
                          double s);
    jaw__slabs (*slabs)(const jaw__solids *t, jaw_vec3 from,
                        const double axis[3][3]);
} jaw__passes;

extern const jaw__passes jaw__passes_plain;

/* jaw__passes_avx2: NULL where this was not built or can't run. */
const jaw__passes *jaw__passes_avx2(void);
const jaw__passes *jaw__passes_best(void);

#endif
