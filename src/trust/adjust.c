/* SPDX-License-Identifier: GPL-3.0-or-later */
/* adjust.c: weighted least squares by blocks.
 *
 * The equations of one feature hold its own few unknowns and some shared ones.
 * An orthogonal triangularisation of its own columns leaves
 *     [R S c]   its own unknowns, once the shared ones are known
 *     [0 T d]   what it says of the shared ones alone
 * and T d, reduced to as many rows as it has columns, joins the shared system
 * (nested dissection of a bordered block diagonal; Golub & Plemmons, Linear
 * Algebra Appl. 34 (1980) 3-28, on geodetic nets).  Normal equations are never
 * formed. */
#include "adjust.h"

#include <src/base/grow.h>

#include <float.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* -------------------------------------------------------------- collecting */

jaw_adjust *jaw_adjust_alloc(void)
{
    return calloc(1, sizeof(jaw_adjust));
}

static void drop_solution(jaw_adjust *a)
{
    free(a->order);
    free(a->names);
    free(a->factors);
    free(a->x);
    free(a->rg);
    free(a->rows);
    free(a->redundancy);
    a->order = a->names = NULL;
    a->factors = a->x = a->rg = a->rows = a->redundancy = NULL;
    a->solved = false;
}

void jaw_adjust_free(jaw_adjust *adjust)
{
    if (adjust == NULL)
        return;
    drop_solution(adjust);
    free(adjust->blocks);
    free(adjust->equations);
    free(adjust);
}

void jaw_adjust_clear(jaw_adjust *adjust)
{
    drop_solution(adjust);
    adjust->n_blocks = adjust->n_equations = 0;
    adjust->n_local = adjust->n_shared = 0;
}

jaw_status jaw_adjust_add_block(jaw_adjust *adjust, size_t n, size_t *id)
{
    if (n < 1 || n > JAW_ADJUST_BLOCK_MAX)
        return JAW_EDOMAIN;
    jaw__block *blocks = jaw__grow(adjust->blocks, adjust->n_blocks,
                                   &adjust->room_blocks, sizeof *blocks);
    if (blocks == NULL)
        return JAW_ENOMEM;
    adjust->blocks = blocks;
    if (id != NULL)
        *id = adjust->n_blocks;
    blocks[adjust->n_blocks++] = (jaw__block){.n = n,
                                              .first = adjust->n_local};
    adjust->n_local += n;
    adjust->solved = false;
    return JAW_OK;
}

jaw_status jaw_adjust_add_shared(jaw_adjust *adjust, size_t *id)
{
    if (id != NULL)
        *id = adjust->n_shared;
    adjust->n_shared++;
    adjust->solved = false;
    return JAW_OK;
}

static jaw_status check_shared(const jaw_adjust *a, const jaw_equation *e)
{
    if (e->n_shared > JAW_ADJUST_SHARED_MAX)
        return JAW_EDOMAIN;
    for (size_t k = 0; k < e->n_shared; k++) {
        if (e->which[k] >= a->n_shared)
            return JAW_EDOMAIN;
        if (!isfinite(e->shared[k]))
            return JAW_ENOTFINITE;
        for (size_t j = 0; j < k; j++)
            if (e->which[j] == e->which[k])
                return JAW_EDOMAIN;
    }
    return JAW_OK;
}

jaw_status jaw__equation_check(const jaw_adjust *a, const jaw_equation *e)
{
    if (e->block != JAW_NO_BLOCK && e->block >= a->n_blocks)
        return JAW_EDOMAIN;
    if (!isfinite(e->off) || !isfinite(e->sigma))
        return JAW_ENOTFINITE;
    if (!(e->sigma > 0))
        return JAW_EDOMAIN;
    if (e->block != JAW_NO_BLOCK)
        for (size_t k = 0; k < a->blocks[e->block].n; k++)
            if (!isfinite(e->local[k]))
                return JAW_ENOTFINITE;
    return check_shared(a, e);
}

jaw_status jaw_adjust_add(jaw_adjust *adjust, const jaw_equation *equation,
                          size_t *id)
{
    jaw_status status = jaw__equation_check(adjust, equation);

    if (status != JAW_OK)
        return status;
    jaw_equation *all = jaw__grow(adjust->equations, adjust->n_equations,
                                  &adjust->room_equations, sizeof *all);
    if (all == NULL)
        return JAW_ENOMEM;
    adjust->equations = all;
    if (id != NULL)
        *id = adjust->n_equations;
    all[adjust->n_equations++] = *equation;
    adjust->solved = false;
    return JAW_OK;
}

/* ---------------------------------------------------------------- ordering */

/* What solving needs beside what it leaves behind. */
typedef struct work {
    jaw_adjust *a;
    size_t *column; /* of each shared unknown within the block at hand */
    double *norm;   /* of each shared unknown's column, over all equations */
    double *m;      /* the block at hand */
    double *top;    /* the shared system, by rows of n_shared + 1 */
    size_t n_top, room_top;
    size_t block, unknown; /* what is loose */
} work;

/* Equations block by block (a counting sort keeps their order). */
static void sort_equations(jaw_adjust *a)
{
    size_t at = 0;

    for (size_t b = 0; b < a->n_blocks; b++)
        a->blocks[b].equations = 0;
    for (size_t i = 0; i < a->n_equations; i++)
        if (a->equations[i].block != JAW_NO_BLOCK)
            a->blocks[a->equations[i].block].equations++;
    for (size_t b = 0; b < a->n_blocks; b++) {
        a->blocks[b].start = at;
        at += a->blocks[b].equations;
        a->blocks[b].equations = 0;
    }
    for (size_t i = 0; i < a->n_equations; i++) {
        size_t b = a->equations[i].block;
        if (b == JAW_NO_BLOCK)
            a->order[at++] = i;
        else
            a->order[a->blocks[b].start + a->blocks[b].equations++] = i;
    }
}

static const jaw_equation *nth(const jaw_adjust *a, size_t i)
{
    return &a->equations[a->order[i]];
}

/* Which shared unknowns each block names, and how large its matrix is. */
static size_t name_shared(work *w, size_t *largest, size_t *n_factors)
{
    jaw_adjust *a = w->a;
    size_t names = 0;

    *largest = *n_factors = 0;
    for (size_t k = 0; k < a->n_shared; k++)
        w->column[k] = SIZE_MAX;
    for (size_t b = 0; b < a->n_blocks; b++) {
        jaw__block *block = &a->blocks[b];
        block->shared_at = names;
        block->n_shared = 0;
        for (size_t i = 0; i < block->equations; i++) {
            const jaw_equation *e = nth(a, block->start + i);
            for (size_t k = 0; k < e->n_shared; k++)
                if (w->column[e->which[k]] != b) {
                    w->column[e->which[k]] = b;
                    block->n_shared++;
                }
        }
        names += block->n_shared;
        block->r_at = *n_factors;
        block->s_at = block->r_at + block->n * block->n;
        *n_factors = block->s_at + block->n * block->n_shared;
        size_t size =
            block->equations * (block->n + block->n_shared + 1);
        *largest = size > *largest ? size : *largest;
    }
    return names;
}

/* ------------------------------------------------------------- elimination */

/* The block's equations, weighted: its own columns, shared ones, right side. */
static void fill_block(work *w, const jaw__block *block)
{
    jaw_adjust *a = w->a;
    size_t columns = block->n + block->n_shared + 1, named = 0;
    size_t *names = a->names + block->shared_at;

    memset(w->m, 0, block->equations * columns * sizeof *w->m);
    for (size_t i = 0; i < block->equations; i++) {
        const jaw_equation *e = nth(a, block->start + i);
        double *row = w->m + i * columns;
        for (size_t k = 0; k < block->n; k++)
            row[k] = e->local[k] / e->sigma;
        for (size_t k = 0; k < e->n_shared; k++) {
            size_t g = e->which[k], c = w->column[g];
            if (c >= named || names[c] != g) {
                c = w->column[g] = named;
                names[named++] = g;
            }
            row[block->n + c] = e->shared[k] / e->sigma;
        }
        row[columns - 1] = e->off / e->sigma;
    }
}

/* Rank by what is left of a column when the others have been taken out of it,
 * against what it was: rounding leaves n eps of it (Golub & Van Loan 5.4.1). */
static bool is_loose(jaw_adjust *a, double left, double norm, size_t n)
{
    if (!(fabs(left) > 8 * DBL_EPSILON * sqrt((double)n) * norm))
        return true;
    a->loss = fmax(a->loss, norm / fabs(left));
    return false;
}

static double norm_of(const double m[], size_t rows, size_t columns, size_t k)
{
    double norm = 0;

    for (size_t i = 0; i < rows; i++)
        norm = hypot(norm, m[i * columns + k]);
    return norm;
}

/* One more row of the shared system. */
static jaw_status add_top(work *w, double **row)
{
    size_t columns = w->a->n_shared + 1;
    double *top = jaw__grow(w->top, w->n_top, &w->room_top,
                            columns * sizeof *top);

    if (top == NULL)
        return JAW_ENOMEM;
    w->top = top;
    *row = top + w->n_top++ * columns;
    memset(*row, 0, columns * sizeof **row);
    return JAW_OK;
}

/* What the block says of the shared unknowns, as few rows as it takes. */
static jaw_status pass_on(work *w, const jaw__block *block)
{
    size_t columns = block->n + block->n_shared + 1;
    size_t rows = block->equations - block->n, keep = block->n_shared;
    const size_t *names = w->a->names + block->shared_at;
    double *rest = w->m;

    if (keep == 0)
        return JAW_OK;
    /* the lower right part, closed up in place */
    for (size_t i = 0; i < rows; i++)
        memmove(rest + i * (keep + 1),
                w->m + (block->n + i) * columns + block->n,
                (keep + 1) * sizeof *rest);
    jaw__house(rest, rows, keep + 1, keep);
    for (size_t i = 0; i < rows && i < keep; i++) {
        double *row;
        if (add_top(w, &row) != JAW_OK)
            return JAW_ENOMEM;
        for (size_t c = 0; c < keep; c++)
            row[names[c]] = rest[i * (keep + 1) + c];
        row[w->a->n_shared] = rest[i * (keep + 1) + keep];
    }
    return JAW_OK;
}

static jaw_status eliminate(work *w, size_t b)
{
    jaw_adjust *a = w->a;
    const jaw__block *block = &a->blocks[b];
    size_t columns = block->n + block->n_shared + 1;
    double norm[JAW_ADJUST_BLOCK_MAX];

    w->block = b;
    fill_block(w, block);
    for (size_t k = 0; k < block->n; k++)
        norm[k] = norm_of(w->m, block->equations, columns, k);
    jaw__house(w->m, block->equations, columns, block->n);
    for (size_t k = 0; k < block->n; k++) {
        w->unknown = k;
        if (k >= block->equations ||
            is_loose(a, w->m[k * columns + k], norm[k], block->equations))
            return JAW_ERANK;
        const double *row = w->m + k * columns;
        memcpy(a->factors + block->r_at + k * block->n, row,
               block->n * sizeof *row);
        memcpy(a->factors + block->s_at + k * block->n_shared,
               row + block->n, block->n_shared * sizeof *row);
        a->x[block->first + k] = row[columns - 1];
    }
    return pass_on(w, block);
}

/* Equations that hold shared unknowns only. */
static jaw_status add_plain(work *w)
{
    const jaw_adjust *a = w->a;

    for (size_t i = 0; i < a->n_equations; i++) {
        const jaw_equation *e = &a->equations[i];
        for (size_t k = 0; k < e->n_shared; k++)
            w->norm[e->which[k]] =
                hypot(w->norm[e->which[k]], e->shared[k] / e->sigma);
        if (e->block != JAW_NO_BLOCK)
            continue;
        double *row;
        if (add_top(w, &row) != JAW_OK)
            return JAW_ENOMEM;
        for (size_t k = 0; k < e->n_shared; k++)
            row[e->which[k]] = e->shared[k] / e->sigma;
        row[a->n_shared] = e->off / e->sigma;
    }
    return JAW_OK;
}

static jaw_status solve_top(work *w)
{
    jaw_adjust *a = w->a;
    size_t n = a->n_shared, columns = n + 1;

    w->block = JAW_NO_BLOCK;
    if (n == 0)
        return JAW_OK;
    jaw__house(w->top, w->n_top, columns, n);
    for (size_t k = 0; k < n; k++) {
        w->unknown = k;
        if (k >= w->n_top || is_loose(a, w->top[k * columns + k], w->norm[k],
                                      a->n_equations))
            return JAW_ERANK;
        memcpy(a->rg + k * n, w->top + k * columns, n * sizeof *a->rg);
        a->x[a->n_local + k] = w->top[k * columns + n];
    }
    return JAW_OK;
}

static jaw_status solve_all(work *w)
{
    jaw_adjust *a = w->a;
    jaw_status status = JAW_OK;

    for (size_t k = 0; k < a->n_shared; k++)
        w->column[k] = SIZE_MAX;
    for (size_t b = 0; b < a->n_blocks && status == JAW_OK; b++)
        status = eliminate(w, b);
    if (status == JAW_OK)
        status = add_plain(w);
    if (status == JAW_OK)
        status = solve_top(w);
    if (status == JAW_OK)
        jaw__unturn(a, a->x);
    return status;
}

static void *room_for(size_t n, size_t size)
{
    return calloc(n == 0 ? 1 : n, size);
}

jaw_status jaw_adjust_solve(jaw_adjust *adjust, size_t *block, size_t *unknown)
{
    jaw_adjust *a = adjust;
    work w = {.a = a};
    size_t largest, n_factors, names;
    jaw_status status = JAW_ENOMEM;

    drop_solution(a);
    a->loss = 1;
    a->order = room_for(a->n_equations, sizeof *a->order);
    w.column = room_for(a->n_shared, sizeof *w.column);
    w.norm = room_for(a->n_shared, sizeof *w.norm);
    a->x = room_for(a->n_local + a->n_shared, sizeof *a->x);
    a->rg = room_for(a->n_shared * a->n_shared, sizeof *a->rg);
    a->rows = room_for(2 * (a->n_shared + 1), sizeof *a->rows);
    a->redundancy = room_for(a->n_equations, sizeof *a->redundancy);
    if (a->order && w.column && w.norm && a->x && a->rg && a->rows &&
        a->redundancy) {
        sort_equations(a);
        names = name_shared(&w, &largest, &n_factors);
        a->names = room_for(names, sizeof *a->names);
        a->factors = room_for(n_factors, sizeof *a->factors);
        w.m = room_for(largest, sizeof *w.m);
        if (a->names && a->factors && w.m)
            status = solve_all(&w);
    }
    free(w.column);
    free(w.norm);
    free(w.m);
    free(w.top);
    a->dof = (double)a->n_equations - (double)(a->n_local + a->n_shared);
    a->solved = status == JAW_OK;
    if (status == JAW_ERANK && block != NULL)
        *block = w.block;
    if (status == JAW_ERANK && unknown != NULL)
        *unknown = w.unknown;
    if (status != JAW_OK) {
        drop_solution(a);
        return status;
    }
    a->ssr = jaw__sum_of_squares(a);
    a->s0 = a->dof > 0 ? sqrt(a->ssr / a->dof) : (double)NAN;
    for (size_t i = 0; i < a->n_equations; i++)
        a->redundancy[i] = (double)NAN;
    a->round++;
    return JAW_OK;
}

const double *jaw_adjust_block(const jaw_adjust *adjust, size_t block)
{
    if (!adjust->solved || block >= adjust->n_blocks)
        return NULL;
    return adjust->x + adjust->blocks[block].first;
}

double jaw_adjust_shared(const jaw_adjust *adjust, size_t shared)
{
    if (!adjust->solved || shared >= adjust->n_shared)
        return (double)NAN;
    return adjust->x[adjust->n_local + shared];
}

/* ----------------------------------------------------------------- turning */

void jaw__turn_local(const jaw_adjust *a, size_t block, const double f[],
                     double u[], double h[])
{
    const jaw__block *b = &a->blocks[block];
    const double *r = a->factors + b->r_at, *s = a->factors + b->s_at;
    const size_t *names = a->names + b->shared_at;

    for (size_t k = 0; k < b->n; k++) {
        u[k] = f[k];
        for (size_t j = 0; j < k; j++)
            u[k] -= r[j * b->n + k] * u[j];
        u[k] /= r[k * b->n + k];
    }
    for (size_t c = 0; c < b->n_shared; c++)
        for (size_t k = 0; k < b->n; k++)
            h[names[c]] -= s[k * b->n_shared + c] * u[k];
}

void jaw__turn_shared(const jaw_adjust *a, double h[])
{
    size_t n = a->n_shared, first = 0;

    while (first < n && h[first] == 0)
        first++; /* 0 stays 0 */
    for (size_t k = first; k < n; k++) {
        for (size_t j = first; j < k; j++)
            h[k] -= a->rg[j * n + k] * h[j];
        h[k] /= a->rg[k * n + k];
    }
}

/* The shared unknowns first, then R x = c - S x_shared; all from below. */
void jaw__unturn(const jaw_adjust *a, double x[])
{
    size_t n = a->n_shared;
    double *shared = x + a->n_local;

    for (size_t k = n; k-- > 0;) {
        for (size_t j = k + 1; j < n; j++)
            shared[k] -= a->rg[k * n + j] * shared[j];
        shared[k] /= a->rg[k * n + k];
    }
    for (size_t b = 0; b < a->n_blocks; b++) {
        const jaw__block *block = &a->blocks[b];
        const double *r = a->factors + block->r_at;
        const double *s = a->factors + block->s_at;
        const size_t *names = a->names + block->shared_at;
        double *own = x + block->first;
        for (size_t k = block->n; k-- > 0;) {
            for (size_t c = 0; c < block->n_shared; c++)
                own[k] -= s[k * block->n_shared + c] * shared[names[c]];
            for (size_t j = k + 1; j < block->n; j++)
                own[k] -= r[k * block->n + j] * own[j];
            own[k] /= r[k * block->n + k];
        }
    }
}
