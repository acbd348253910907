/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hull.h: convex hulls, and on which side a point lies, decided without
 * rounding.  Shared by the zones; not public.
 *
 * All coordinates are multiples of 2^-150 and at most 1 (jaw__zone_flat and
 * jaw__zone_solid make them so): then nothing here over- or underflows and a
 * sign is that of the exact value. */
#ifndef JAW_FIT_HULL_H
#define JAW_FIT_HULL_H

#include <jawline/base.h>

/* jaw__side2: twice the area of a, b, c, counter-clockwise positive; the sign
 * (and 0) exact, the value to its last digits. */
double jaw__side2(jaw_vec2 a, jaw_vec2 b, jaw_vec2 c);

/* jaw__side3: positive where p lies on the side from which a, b, c are seen
 * counter-clockwise; the sign (and 0) exact. */
double jaw__side3(const jaw_vec3 *a, const jaw_vec3 *b, const jaw_vec3 *c,
                  const jaw_vec3 *p);

/* jaw__cross3: (b - a) x (d - c) of length 1, each component to its last
 * digits; all 0 when the two are parallel. */
jaw_vec3 jaw__cross3(const jaw_vec3 *a, const jaw_vec3 *b, const jaw_vec3 *c,
                     const jaw_vec3 *d);

/* jaw__hull2: the corners of the convex hull of p[n], counter-clockwise from
 * the lowest x (of these the lowest y); nothing on an edge is a corner, and of
 * touches in one place the first stands for all.  One corner: one place; two:
 * one line.  corner[n + 1]: given; the first *count of it are the hull.
 * Status: JAW_OK, JAW_ENOMEM */
jaw_status jaw__hull2(const jaw_vec2 p[], size_t n, size_t corner[],
                      size_t *count);

#define JAW__NONE ((size_t)-1)

/* A triangle of a hull in space, seen counter-clockwise from outside. */
typedef struct jaw__facet {
    size_t corner[3];
    size_t next[3];   /* beyond the edge from corner[k] to corner[k + 1] */
    size_t outside;   /* while it is made: first touch beyond; JAW__NONE */
    unsigned mark;    /* while it is made: by whom it was looked at last */
    bool gone;        /* no part of the hull any more */
} jaw__facet;

typedef struct jaw__hull3 {
    jaw__facet *facet;
    size_t count, room;
    size_t *link;  /* of each touch: the next one beyond the same facet */
    size_t *start; /* of each touch: the new facet whose first corner it is */
    unsigned mark;
    size_t *work;  /* facets to look at; horizon edges as facet and edge */
    size_t works, work_room;
} jaw__hull3;

/* jaw__hull3_make: the hull of p[n] as triangles, from four of them that span
 * space (side3 not 0).  Only facets that are not gone count; those in one
 * plane are not merged.
 * Status: JAW_OK, JAW_ENOMEM; in any case hull is to be freed */
jaw_status jaw__hull3_make(jaw__hull3 *hull, const jaw_vec3 p[], size_t n,
                           const size_t first[4]);
void jaw__hull3_free(jaw__hull3 *hull);

#endif
