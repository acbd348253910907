/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/trust/problem.h"

#include <check.h>
#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <string.h>

/* An equation of one block, or of shared unknowns alone, with a few of them. */
static jaw_equation equation(random_source *r, const problem *p, size_t block)
{
    jaw_equation e = {.block = block, .off = random_normal(r),
                      .sigma = pow(10, random_between(r, -3, 1))};
    if (block != JAW_NO_BLOCK)
        for (size_t k = 0; k < p->size[block]; k++)
            e.local[k] = random_normal(r);
    for (size_t g = 0; g < p->n_shared && e.n_shared < 8; g++)
        if (block == JAW_NO_BLOCK || random_below(r, 3) > 0) {
            e.which[e.n_shared] = g;
            e.shared[e.n_shared++] = random_normal(r);
        }
    for (size_t k = e.n_shared; k > 1; k--) { /* in any order */
        size_t j = random_below(r, k), which = e.which[j];
        double shared = e.shared[j];
        e.which[j] = e.which[k - 1];
        e.shared[j] = e.shared[k - 1];
        e.which[k - 1] = which;
        e.shared[k - 1] = shared;
    }
    return e;
}

problem problem_make(random_source *r)
{
    problem p = {.n_blocks = random_below(r, BLOCKS_MOST),
                 .n_shared = random_below(r, 7)};
    if (p.n_blocks + p.n_shared == 0)
        p.n_shared = 1;
    for (size_t b = 0; b < p.n_blocks; b++) {
        p.first[b] = p.n_unknowns;
        p.size[b] = 1 + random_below(r, 4);
        p.n_unknowns += p.size[b];
        size_t most = p.size[b] + random_below(r, 6);
        for (size_t i = 0; i < most; i++)
            p.e[p.n++] = equation(r, &p, b);
    }
    for (size_t i = 0; i < p.n_shared; i++)
        p.e[p.n++] = equation(r, &p, JAW_NO_BLOCK);
    p.n_unknowns += p.n_shared;
    for (size_t k = p.n; k > 1; k--) { /* blocks mixed up */
        size_t j = random_below(r, k);
        jaw_equation e = p.e[j];
        p.e[j] = p.e[k - 1];
        p.e[k - 1] = e;
    }
    return p;
}

jaw_adjust *problem_adjust(const problem *p)
{
    jaw_adjust *a = jaw_adjust_alloc();
    for (size_t b = 0; b < p->n_blocks; b++)
        ck_assert_int_eq(jaw_adjust_add_block(a, p->size[b], NULL), JAW_OK);
    for (size_t g = 0; g < p->n_shared; g++)
        ck_assert_int_eq(jaw_adjust_add_shared(a, NULL), JAW_OK);
    for (size_t i = 0; i < p->n; i++) {
        size_t id;
        ck_assert_int_eq(jaw_adjust_add(a, &p->e[i], &id), JAW_OK);
        ck_assert_uint_eq(id, i);
    }
    return a;
}

/* The equation as a row of the whole matrix, not weighted. */
void problem_row(const problem *p, const jaw_equation *e, double row[])
{
    memset(row, 0, p->n_unknowns * sizeof *row);
    if (e->block != JAW_NO_BLOCK)
        memcpy(row + p->first[e->block], e->local,
               p->size[e->block] * sizeof *row);
    for (size_t k = 0; k < e->n_shared; k++)
        row[p->n_unknowns - p->n_shared + e->which[k]] = e->shared[k];
}

static void solve_svd(dense *d, gsl_matrix *u, const gsl_vector *b, size_t m)
{
    gsl_matrix *v = gsl_matrix_alloc(m, m);
    gsl_vector *s = gsl_vector_alloc(m), *x = gsl_vector_alloc(m);
    gsl_linalg_SV_decomp_jacobi(u, v, s);
    gsl_linalg_SV_solve(u, v, s, b, x);
    memcpy(d->x, x->data, m * sizeof *d->x);
    for (size_t i = 0; i < m; i++)
        for (size_t k = 0; k < m; k++) {
            double sum = 0;
            for (size_t j = 0; j < m; j++)
                sum += gsl_matrix_get(v, i, j) / gsl_vector_get(s, j) *
                       (gsl_matrix_get(v, k, j) / gsl_vector_get(s, j));
            gsl_matrix_set(d->cofactor, i, k, sum);
        }
    gsl_matrix_free(v);
    gsl_vector_free(s);
    gsl_vector_free(x);
}

dense dense_solve(const problem *p)
{
    size_t n = p->n, m = p->n_unknowns;
    dense d = {.a = gsl_matrix_alloc(n, m), .cofactor = gsl_matrix_alloc(m, m)};
    gsl_matrix *u = gsl_matrix_alloc(n, m);
    gsl_vector *b = gsl_vector_alloc(n);
    for (size_t i = 0; i < n; i++) {
        double row[UNKNOWNS_MOST];
        problem_row(p, &p->e[i], row);
        for (size_t k = 0; k < m; k++)
            gsl_matrix_set(d.a, i, k, row[k] / p->e[i].sigma);
        gsl_vector_set(b, i, p->e[i].off / p->e[i].sigma);
    }
    gsl_matrix_memcpy(u, d.a);
    solve_svd(&d, u, b, m);
    for (size_t i = 0; i < n; i++) {
        double left = gsl_vector_get(b, i);
        for (size_t k = 0; k < m; k++)
            left -= gsl_matrix_get(d.a, i, k) * d.x[k];
        d.ssr += left * left;
    }
    gsl_matrix_free(u);
    gsl_vector_free(b);
    return d;
}

void dense_free(dense *d)
{
    gsl_matrix_free(d->a);
    gsl_matrix_free(d->cofactor);
}
