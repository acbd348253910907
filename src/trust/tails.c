/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tails.c: an interval's ends need only the tails in order, and sorting a
 * million numbers costs more than the trials that made them.  The numbers are
 * dealt into bins of equal width; only the bins of a tail are written out and
 * put in order, each bin by itself (Knuth, TAOCP 3, 5.2.5; insertion for a few,
 * heapsort for many, so that the cost stays n log n whatever the numbers). */
#include "tails.h"

#include <stdlib.h>

enum { BINS_MOST = 1 << 16, FEW = 24 };

typedef struct bins {
    double low, scale;
    size_t n;
    size_t *count, *start; /* start: where each bin's numbers are written */
} bins;

static size_t bin_of(const bins *b, double x)
{
    size_t i = (size_t)((x - b->low) * b->scale);

    return i < b->n ? i : b->n - 1;
}

static void deal(bins *b, const double v[], size_t n)
{
    double low = v[0], high = v[0];

    for (size_t i = 1; i < n; i++) {
        low = v[i] < low ? v[i] : low;
        high = v[i] > high ? v[i] : high;
    }
    b->low = low;
    /* halved, so that no width overflows; 0: all are alike, or too near */
    double half = high / 2 - low / 2;
    b->scale = half > 0 ? ((double)b->n / 2 - 0.25) / half : 0;
    if (!(b->scale <= 1e300))
        b->scale = 0;
    for (size_t i = 0; i < n; i++)
        b->count[bin_of(b, v[i])]++;
}

static void insert_sort(double v[], size_t n)
{
    for (size_t i = 1; i < n; i++) {
        double x = v[i];
        size_t k = i;
        for (; k > 0 && v[k - 1] > x; k--)
            v[k] = v[k - 1];
        v[k] = x;
    }
}

static void sift(double v[], size_t root, size_t n)
{
    double x = v[root];

    for (size_t child; (child = 2 * root + 1) < n; root = child) {
        if (child + 1 < n && v[child + 1] > v[child])
            child++;
        if (!(v[child] > x))
            break;
        v[root] = v[child];
    }
    v[root] = x;
}

static void heap_sort(double v[], size_t n)
{
    for (size_t i = n / 2; i-- > 0;)
        sift(v, i, n);
    for (size_t last = n; last-- > 1;) {
        double x = v[last];
        v[last] = v[0];
        v[0] = x;
        sift(v, 0, last);
    }
}

/* Where the bins' numbers go: those up to `last` first, then those from `first`
 * on; how many in all. */
static size_t lay_out(bins *b, size_t last, size_t first)
{
    size_t at = 0;

    for (size_t i = 0; i < b->n; i++) {
        if (i > last && i < first)
            continue;
        b->start[i] = at;
        at += b->count[i];
    }
    return at;
}

static void write_out(const bins *b, const double v[], size_t n, size_t last,
                      size_t first, double out[])
{
    for (size_t i = 0; i < n; i++) {
        size_t k = bin_of(b, v[i]);
        if (k <= last || k >= first)
            out[b->start[k]++] = v[i];
    }
    for (size_t i = 0; i < b->n; i++) {
        if (b->count[i] < 2 || (i > last && i < first))
            continue;
        double *own = out + b->start[i] - b->count[i];
        (b->count[i] < FEW ? insert_sort : heap_sort)(own, b->count[i]);
    }
}

/* Both tails one after the other, or everything when they meet. */
static jaw_status collect(bins *b, const double v[], size_t n, jaw__tails *t)
{
    size_t last = 0, below = b->count[0];
    size_t first = b->n - 1, above = b->count[first];

    while (below < t->length)
        below += b->count[++last];
    while (above < t->length)
        above += b->count[--first];
    size_t all = lay_out(b, last, first);
    t->room = malloc(all * sizeof *t->room);
    if (t->room == NULL)
        return JAW_ENOMEM;
    write_out(b, v, n, last, first, t->room);
    t->low = t->room;
    t->high = t->room + all - t->length;
    return JAW_OK;
}

jaw_status jaw__tails_find(const double v[], size_t n, size_t length,
                           jaw__tails *tails)
{
    bins b = {.n = n / 16 + 1 < BINS_MOST ? n / 16 + 1 : BINS_MOST};
    jaw_status status = JAW_ENOMEM;

    *tails = (jaw__tails){.length = length};
    b.count = calloc(b.n, sizeof *b.count);
    b.start = malloc(b.n * sizeof *b.start);
    if (b.count != NULL && b.start != NULL) {
        deal(&b, v, n);
        status = collect(&b, v, n, tails);
    }
    free(b.count);
    free(b.start);
    return status;
}

void jaw__tails_free(jaw__tails *tails)
{
    free(tails->room);
    *tails = (jaw__tails){.length = 0};
}
