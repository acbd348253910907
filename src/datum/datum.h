/* SPDX-License-Identifier: GPL-3.0-or-later */
/* datum.h: shared inside src/datum: the three planes as they are found one
 * after the other. */
#ifndef JAW__DATUM_H
#define JAW__DATUM_H

#include <jawline/datum.h>

#include "space.h"

enum { JAW__DATUMS = 3 };

/* The primary: its plane, and the touched surface below the tip's end. */
typedef struct jaw__floor {
    jaw_plane plane;
    jaw_vec3 p, n;   /* of the surface */
    jaw_vec3 ahead, aside; /* unit, in it: next to machine X, square to that */
    double sigma;
} jaw__floor;

/* A wall square to the primary. */
typedef struct jaw__wall {
    jaw_vec3 normal; /* outward */
    jaw_vec3 along;  /* primary's normal x normal */
    jaw_vec3 mean;   /* of the places where the tip met it */
    jaw_vec3 lever;  /* sum (s - mean s) place / sum (s - mean s)^2, s along the
                        wall: how its touches' own direction follows a turn */
    double q_theta;  /* cofactor of that direction; 0: all in one place */
    double lean;     /* met at its rim: normal.z / n.z; else 0 */
    double sigma, ssr;
    double scatter; /* chi-square: jaw__wall_scatter */
    size_t n;
} jaw__wall;

/* Where the touches of one datum are worked on: as many as the largest has. */
typedef struct jaw__bench {
    jaw_vec3 *p;    /* of the tip's centre, later of where it met the wall */
    jaw_vec2 *flat; /* the same as seen in the primary */
} jaw__bench;

/* jaw__wall_find: the secondary (before NULL), or the tertiary, square to
 * `before`.
 * Returned:  *wall, the places where the tip met it in bench->p; resid NULL or
 *            n numbers
 * Status:    JAW_OK, JAW_ERANK, JAW_ESIDE */
jaw_status jaw__wall_find(const jaw_datum *datum, const jaw__floor *floor,
                          const jaw__wall *before, jaw__bench *bench,
                          jaw__wall *wall, double resid[]);

/* jaw__wall_scatter: chi-square of a wall's residuals, of which those before it
 * have their part; p[n]: where the tip met it.  second: NULL for that itself.
 * share[].resid_u: what that part is in each residual; share may be NULL. */
double jaw__wall_scatter(const jaw__floor *floor, const jaw__wall *second,
                         const jaw__wall *wall, const jaw_vec3 p[],
                         jaw_datum_share share[]);

/* jaw__flatten: p[n] as seen in the primary. */
void jaw__flatten(const jaw__floor *floor, const jaw_vec3 p[], size_t n,
                  jaw_vec2 flat[]);

/* jaw__between_floor, jaw__between_walls: the angles as touched; bench as
 * jaw__wall_find left it for the secondary and for the tertiary. */
jaw_figure jaw__between_floor(const jaw_datum *secondary,
                              const jaw__floor *floor, const jaw__wall *wall,
                              const jaw__bench *bench);
jaw_figure jaw__between_walls(const jaw__floor *floor,
                              const jaw__wall *secondary,
                              const jaw__wall *tertiary,
                              const jaw__bench *bench);

/* jaw__wall_arm: what turns a wall: its normal, less what the primary does that
 * a rim lies in. */
static inline jaw_vec3 jaw__wall_arm(const jaw__floor *floor,
                                     const jaw__wall *wall)
{
    return jaw__plus(wall->normal, -wall->lean, floor->n);
}

/* jaw__wall_sigma: of one touch along the normal (a rim is met level). */
static inline double jaw__wall_sigma(const jaw__wall *wall)
{
    return wall->sigma * hypot(1, wall->lean);
}

/* jaw__datum_columns: how origin and turn go with each of the six errors
 * (spread.c); jaw__datum_cov: upper triangle of their covariance. */
enum { JAW__DATUM_SOURCES = 6 };
void jaw__datum_columns(const jaw__floor *floor, const jaw__wall *secondary,
                        const jaw__wall *tertiary, jaw_vec3 origin,
                        double column[][6]);
void jaw__datum_cov(const jaw__floor *floor, const jaw__wall *secondary,
                    const jaw__wall *tertiary, jaw_vec3 origin,
                    double cov[21]);

#endif
