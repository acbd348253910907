/* SPDX-License-Identifier: GPL-3.0-or-later */
/* model.h: a few unknowns from many touches and some known sizes, by the
 * adjustment of trust.h repeated until nothing moves. */
#ifndef JAW__MEASURE_MODEL_H
#define JAW__MEASURE_MODEL_H

#include <jawline/measure.h>
#include <jawline/trust.h>

enum { JAW__MODEL_MAX = JAW_ADJUST_BLOCK_MAX, JAW__MODEL_KNOWN_MAX = 2 };

/* What is adjusted: n_touch equations g(x) = 0 of equal spread, and n_known
 * sizes, of which equation k says x[size[k]] = value[k].  The sizes are needed
 * to determine x and nothing checks them, so that their own spread changes no
 * result: it is carried separately. */
typedef struct jaw__model {
    size_t n_touch, unknowns, n_known;
    size_t size[JAW__MODEL_KNOWN_MAX];
    double value[JAW__MODEL_KNOWN_MAX];
    double scale; /* mm, the largest coordinate, for what rounding leaves */
    const void *data;
    /* touch i: returns g, and in dg[unknowns] its derivatives */
    double (*touch)(const void *data, const double x[], size_t i, double dg[]);
} jaw__model;

typedef struct jaw__solved {
    double x[JAW__MODEL_MAX];
    double q[JAW__MODEL_MAX][JAW__MODEL_MAX]; /* cofactors: the covariance for
                                                 touches of unit spread */
    double moved[JAW__MODEL_KNOWN_MAX][JAW__MODEL_MAX]; /* of each unknown by a
                                                 slip of 1 in a known size */
    double ssr; /* of the touches */
    int dof;
} jaw__solved;

/* jaw__model_solve: from *s->x on.
 * Status:    JAW_OK, JAW_EFEW, JAW_ERANK, JAW_ENOCONV, JAW_ENOMEM */
jaw_status jaw__model_solve(const jaw__model *m, jaw__solved *s);

/* Which spread the uncertainties stand on, by what was stated (NaN: nothing)
 * and what was seen. */
typedef struct jaw__spread {
    double repeat, seen, dof, rms;
    int spare; /* touches that say something of it; 0: none */
    unsigned flags;
} jaw__spread;

jaw__spread jaw__spread_of(double stated, double ssr, int dof, size_t n);

/* jaw__same_touches: how many of n touches are the same to the last digit as
 * one of the JAW__SAME_AMONG before them. */
enum { JAW__SAME_AMONG = 64 };
typedef bool jaw__same(const void *data, size_t i, size_t j);
int jaw__same_touches(jaw__same *same, const void *data, size_t n);

/* jaw__spread_but: without those touches, which are no spare ones; where all
 * that is left is rounding the spread is not known. */
jaw__spread jaw__spread_but(int same, double stated, const jaw__solved *s,
                            size_t n);

/* jaw__known_check: of a size and of repeat. */
jaw_status jaw__known_check(jaw_known_size known);
jaw_status jaw__repeat_check(double repeat);

/* jaw__effective: of an independent pair, the first of dof degrees of freedom
 * and the second known exactly; NaN when the first is not known. */
double jaw__effective(double u, double dof, double exact);

/* What is more than this many times less sure than one touch is weak, as in
 * jaw_circle. */
#define JAW__WEAK 10.0

/* The models themselves, so that tests can differentiate them. */
typedef struct jaw__ring {
    const jaw_vec2 *p; /* about their mean */
    jaw_vec2 mean;
    const bool *turned; /* NULL: never */
    bool outside;
    unsigned terms; /* bit 0: first harmonic, bit 1: third */
} jaw__ring;

/* x: centre x y, diameter, size, then the harmonics */
double jaw__ring_touch(const void *ring, const double x[], size_t i,
                       double dg[]);

typedef struct jaw__ball {
    const jaw_vec3 *p;
    jaw_vec3 mean;
} jaw__ball;

/* x: centre x y z, diameter, size */
double jaw__ball_touch(const void *ball, const double x[], size_t i,
                       double dg[]);

typedef struct jaw__faces {
    const jaw_tip_faces *pair;
    size_t n;
    jaw_vec2 mean[2];
    bool assumed[2];  /* the direction is */
    double theta[2];  /* to begin with, or assumed */
    size_t first[2];  /* unknown of each pair: middle, diameter, size, and the
                         direction's change when it is not assumed */
} jaw__faces;

double jaw__faces_touch(const void *faces, const double x[], size_t i,
                        double dg[]);

#endif
