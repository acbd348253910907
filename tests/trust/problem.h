/* SPDX-License-Identifier: GPL-3.0-or-later */
/* problem.h: a random adjustment by blocks, and the same as one dense matrix
 * solved by GSL's singular value decomposition. */
#ifndef TESTS_TRUST_PROBLEM_H
#define TESTS_TRUST_PROBLEM_H

#include "tests/feature/random.h"

#include <jawline/trust.h>

#include <gsl/gsl_matrix.h>
#include <gsl/gsl_vector.h>

enum { BLOCKS_MOST = 6, EQUATIONS_MOST = 80, UNKNOWNS_MOST = 40 };

typedef struct problem {
    size_t n_blocks, size[BLOCKS_MOST], first[BLOCKS_MOST];
    size_t n_shared, n_unknowns, n;
    jaw_equation e[EQUATIONS_MOST];
} problem;

/* dense: x, cofactor and hat matrix of the weighted equations. */
typedef struct dense {
    gsl_matrix *a;        /* n x m, weighted */
    gsl_matrix *cofactor; /* m x m */
    double x[UNKNOWNS_MOST], ssr;
} dense;

problem problem_make(random_source *r);
jaw_adjust *problem_adjust(const problem *p);
void problem_row(const problem *p, const jaw_equation *e, double row[]);
dense dense_solve(const problem *p);
void dense_free(dense *d);

#endif
