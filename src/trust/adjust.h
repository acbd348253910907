/* SPDX-License-Identifier: GPL-3.0-or-later */
/* adjust.h: shared inside src/trust: what an adjustment holds. */
#ifndef JAW__ADJUST_H
#define JAW__ADJUST_H

#include <jawline/trust.h>

/* One feature.  After solving, its equations read, weighted and turned by an
 * orthogonal matrix,  R x_block + S x_shared = c  with R upper triangular. */
typedef struct jaw__block {
    size_t n;             /* unknowns */
    size_t first;         /* of them among all local unknowns */
    size_t equations;     /* how many, and where in `order` they start */
    size_t start;
    size_t n_shared;      /* shared unknowns that its equations name */
    size_t shared_at;     /* where in `names` they stand */
    size_t r_at, s_at;    /* where in `factors` R (n x n) and S (n x n_shared)
                             stand, by rows */
} jaw__block;

struct jaw_adjust {
    jaw__block *blocks;
    jaw_equation *equations;
    size_t n_blocks, room_blocks, n_equations, room_equations;
    size_t n_local, n_shared;
    size_t *order;   /* equations, block by block, shared ones last */
    size_t *names;   /* the shared unknowns of each block */
    double *factors; /* R, S of all blocks */
    double *x;       /* local unknowns, then shared */
    double *rg;      /* triangular factor of the shared system, G x G by rows */
    double *rows;    /* room for the shared parts of two turned rows */
    double *redundancy; /* of each equation, once asked for; NaN: not yet */
    double dof, ssr, s0;
    double loss;  /* elimination left 1/loss of a column, at worst */
    size_t round; /* counts solutions, so that an older turned value shows */
    bool solved;
};

/* What an equation or a linear function looks like once turned: the blocks' own
 * parts are R^-T f, the shared part Rg^-T (f - sum S^T R^-T f).  Covariances
 * are plain products of these. */

/* jaw__turn_local: u = R^-T f for one block; h -= S^T u in shared unknowns. */
void jaw__turn_local(const jaw_adjust *a, size_t block, const double f[],
                     double u[], double h[]);
/* jaw__turn_shared: h = Rg^-T h, in place. */
void jaw__turn_shared(const jaw_adjust *a, double h[]);
/* jaw__unturn: of what stands turned, local parts then the shared one, the
 * unknowns that give it: R x_block + S x_shared = c, Rg x_shared = cg, in
 * place. */
void jaw__unturn(const jaw_adjust *a, double x[]);

/* A turned row: u, a block's worth at a time, and h in shared unknowns, for
 * which the adjustment has room twice (jaw__first_row, jaw__second_row). */
typedef struct jaw__turned {
    size_t block;
    double u[JAW_ADJUST_BLOCK_MAX];
    double *h;
} jaw__turned;

jaw__turned jaw__first_row(const jaw_adjust *a);
jaw__turned jaw__second_row(const jaw_adjust *a);
void jaw__turn_equation(const jaw_adjust *a, const jaw_equation *e,
                        jaw__turned *t);
double jaw__turned_product(const jaw_adjust *a, const jaw__turned *s,
                           const jaw__turned *t);

/* jaw__explained: what unknowns x, local then shared, make of an equation;
 * jaw__residual: its off less what the solution makes of it. */
double jaw__explained(const jaw_adjust *a, const jaw_equation *e,
                      const double x[]);
double jaw__residual(const jaw_adjust *a, const jaw_equation *e);

/* jaw__redundancy_of: of an equation by its turned row; 0 when it is no more
 * than rounding. */
double jaw__redundancy_of(const jaw_adjust *a, const jaw_equation *e,
                          const jaw__turned *t);

/* jaw__equation_check: whether an equation may join. */
jaw_status jaw__equation_check(const jaw_adjust *a, const jaw_equation *e);

/* jaw__sum_of_squares: of residual / sigma, once solved. */
double jaw__sum_of_squares(const jaw_adjust *a);

/* jaw__house: Householder QR of the first n columns of m[rows][columns], by
 * rows, applied to all columns; R stands in the upper triangle, below it 0. */
void jaw__house(double m[], size_t rows, size_t columns, size_t n);

/* jaw__chi2_above, _below: probability of a chi-square this large or larger, or
 * smaller; any x >= 0, any dof > 0. */
double jaw__chi2_above(double x, double dof);
double jaw__chi2_below(double x, double dof);

#endif
