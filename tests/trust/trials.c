/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What holds for trials of any shape. */
#include "trust_tests.h"

#include "tests/alloc/alloc.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { VALUES_MOST = 5 };

/* One row of n a value, from `at` on. */
static void rows(double *v, size_t n, size_t at, double *out[VALUES_MOST])
{
    for (size_t k = 0; k < VALUES_MOST; k++)
        out[k] = v + k * n + at;
}

static double *room(const jaw_monte_model *m, size_t n)
{
    ck_assert_uint_le(m->n_values, VALUES_MOST);
    double *v = calloc(n * VALUES_MOST, sizeof *v);
    ck_assert_ptr_nonnull(v);
    return v;
}

void trials_shared_out(const jaw_monte_model *m, size_t n)
{
    const size_t size = n * m->n_values * sizeof(double);
    double *v = room(m, n), *w = room(m, n), *out[VALUES_MOST];
    size_t failed, at = 0;

    rows(v, n, 0, out);
    m->run(m->context, 44, 12345, n, out, &failed);
    for (size_t piece = 1; at < n; piece = piece * 2 % 37 + 1) {
        size_t count = at + piece > n ? n - at : piece;
        rows(w, n, at, out);
        m->run(m->context, 44, 12345 + at, count, out, &failed);
        at += count;
    }
    ck_assert_mem_eq(v, w, size);
    rows(v, n, 0, out);
    m->run(m->context, 45, 12345, n, out, &failed);
    ck_assert(memcmp(v, w, size) != 0);
    free(v);
    free(w);
}

void trials_counted(const jaw_monte_model *m, size_t n)
{
    double *v = room(m, n), *out[VALUES_MOST];
    size_t failed, nan = 0;

    rows(v, n, 0, out);
    ck_assert_int_eq(m->run(m->context, 4, 0, n, out, &failed), JAW_OK);
    for (size_t i = 0; i < n; i++)
        nan += isnan(v[i]) ? 1 : 0;
    ck_assert_uint_eq(nan, failed);
    free(v);
}

void trials_without_memory(const jaw_monte_model *m, long allocations)
{
    double v[VALUES_MOST], *out[VALUES_MOST];
    size_t failed;

    if (!alloc_works()) {
        puts("left out: trials without memory (a tool owns malloc)");
        return;
    }
    rows(v, 1, 0, out);
    for (long k = 0;; k++) {
        alloc_fail_after(k);
        jaw_status status = m->run(m->context, 1, 0, 1, out, &failed);
        bool lacked = alloc_failed();
        long live = alloc_live();
        alloc_fail_never();
        ck_assert_int_eq(live, 0);
        ck_assert_int_eq(status, lacked ? JAW_ENOMEM : JAW_OK);
        if (!lacked) {
            ck_assert_int_eq(k, allocations);
            break;
        }
    }
}
