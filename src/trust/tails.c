/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tails.c: an interval's ends need only the tails in order, and sorting a
 * million numbers costs more than the trials that made them.  The numbers are
 * counted in few bins, so few that the counts stay next to the processor; they
 * tell where the tails end.  Only what is in those bins is written out and put in
 * order, dealt into bins of equal width, each by itself (Knuth, TAOCP 3, 5.2.5;
 * insertion for a few, heapsort for many, so that the cost stays n log n
 * whatever the numbers). */
#include "tails.h"

#include <stdint.h>
#include <stdlib.h>

enum { COARSE = 1 << 10, BINS_MOST = 1 << 16, FEW = 24 };

typedef struct bins {
    double low, scale;
    size_t n;
    size_t *count;
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

/* v[n] in rising order into out: each number goes where its bin's numbers do. */
static jaw_status put_in_order(const double v[], size_t n, double out[])
{
    bins b = {.n = n / 2 + 1 < BINS_MOST ? n / 2 + 1 : BINS_MOST};
    size_t *end = malloc(b.n * sizeof *end), at = 0;

    b.count = calloc(b.n, sizeof *b.count);
    if (n == 0 || end == NULL || b.count == NULL) {
        free(end);
        free(b.count);
        return n == 0 ? JAW_OK : JAW_ENOMEM;
    }
    deal(&b, v, n);
    for (size_t i = 0; i < b.n; i++) {
        end[i] = at;
        at += b.count[i];
    }
    for (size_t i = 0; i < n; i++)
        out[end[bin_of(&b, v[i])]++] = v[i];
    for (size_t i = 0; i < b.n; i++)
        if (b.count[i] > 1)
            (b.count[i] < FEW ? insert_sort
                              : heap_sort)(out + end[i] - b.count[i],
                                           b.count[i]);
    free(end);
    free(b.count);
    return JAW_OK;
}

/* Bins up to `last` hold `below` numbers, the whole of the lower tail; those from
 * `first` on `above`. */
typedef struct ends {
    size_t last, below, first, above;
} ends;

static ends find_ends(const bins *b, size_t length)
{
    ends e = {.first = b->n - 1};

    e.below = b->count[0];
    e.above = b->count[e.first];
    while (e.below < length)
        e.below += b->count[++e.last];
    while (e.above < length)
        e.above += b->count[--e.first];
    return e;
}

/* The lower ones first, the upper ones behind them. */
static void gather(const bins *b, const ends *e, const double v[], size_t n,
                   double out[])
{
    double *low = out, *high = out + e->below;

    for (size_t i = 0; i < n; i++) {
        size_t k = bin_of(b, v[i]);
        if (k <= e->last)
            *low++ = v[i];
        else if (k >= e->first)
            *high++ = v[i];
    }
}

/* Both tails one after the other, or everything when they meet. */
static jaw_status collect(const bins *b, const double v[], size_t n,
                          jaw__tails *t)
{
    ends e = find_ends(b, t->length);
    bool meet = e.last >= e.first;
    size_t all = meet ? n : e.below + e.above;
    jaw_status status;

    t->room = all > SIZE_MAX / 2 / sizeof *t->room
                  ? NULL
                  : malloc(2 * all * sizeof *t->room);
    if (t->room == NULL)
        return JAW_ENOMEM;
    if (meet) {
        status = put_in_order(v, n, t->room);
    } else {
        double *found = t->room + all;
        gather(b, &e, v, n, found);
        status = put_in_order(found, e.below, t->room);
        if (status == JAW_OK)
            status = put_in_order(found + e.below, e.above,
                                  t->room + e.below);
    }
    t->low = t->room;
    t->high = t->room + all - t->length;
    return status;
}

jaw_status jaw__tails_find(const double v[], size_t n, size_t length,
                           jaw__tails *tails)
{
    size_t count[COARSE] = {0};
    bins b = {.n = COARSE, .count = count};

    *tails = (jaw__tails){.length = length};
    deal(&b, v, n);
    jaw_status status = collect(&b, v, n, tails);
    if (status != JAW_OK)
        jaw__tails_free(tails);
    return status;
}

void jaw__tails_free(jaw__tails *tails)
{
    free(tails->room);
    *tails = (jaw__tails){.length = 0};
}
