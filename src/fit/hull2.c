/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hull2.c: the convex hull in the plane: sorted by x, then the lower and the
 * upper chain (Andrew, Inf. Process. Lett. 9 (1979) 216-219). */
#include "hull.h"

#include <stdlib.h>

/* By x, y and number, so that the order hangs on nothing else. */
static bool before(const jaw_vec2 p[], size_t i, size_t j)
{
    if (p[i].x != p[j].x)
        return p[i].x < p[j].x;
    if (p[i].y != p[j].y)
        return p[i].y < p[j].y;
    return i < j;
}

static void merge(const jaw_vec2 p[], const size_t a[], size_t na,
                  const size_t b[], size_t nb, size_t out[])
{
    size_t i = 0, j = 0;

    while (i < na || j < nb) {
        bool first = j == nb || (i < na && before(p, a[i], b[j]));
        out[i + j] = first ? a[i] : b[j];
        i += first;
        j += !first;
    }
}

/* Sorts order[n], with spare[n] to merge into (qsort may allocate, and says
 * nothing when it can't). */
static void sort(const jaw_vec2 p[], size_t n, size_t order[], size_t spare[])
{
    for (size_t width = 1; width < n; width *= 2) {
        for (size_t at = 0; at < n; at += 2 * width) {
            size_t na = n - at < width ? n - at : width;
            size_t rest = n - at - na, nb = rest < width ? rest : width;
            merge(p, order + at, na, order + at + na, nb, spare + at);
        }
        for (size_t i = 0; i < n; i++)
            order[i] = spare[i];
    }
}

/* Of touches in one place only the first is kept; returned: how many. */
static size_t drop_same(const jaw_vec2 p[], size_t n, size_t order[])
{
    size_t kept = 0;

    for (size_t i = 0; i < n; i++)
        if (kept == 0 || p[order[kept - 1]].x != p[order[i]].x ||
            p[order[kept - 1]].y != p[order[i]].y)
            order[kept++] = order[i];
    return kept;
}

/* Puts next behind a chain that began at `from`; what no longer turns left
 * goes. */
static size_t put(const jaw_vec2 p[], size_t chain[], size_t from, size_t count,
                  size_t next)
{
    while (count >= from + 2 && jaw__side2(p[chain[count - 2]],
                                           p[chain[count - 1]], p[next]) <= 0)
        count--;
    chain[count] = next;
    return count + 1;
}

jaw_status jaw__hull2(const jaw_vec2 p[], size_t n, size_t corner[],
                      size_t *count)
{
    size_t *order = calloc(n, sizeof *order), k = 0;

    *count = 0;
    if (!order)
        return JAW_ENOMEM;
    for (size_t i = 0; i < n; i++)
        order[i] = i;
    sort(p, n, order, corner);
    n = drop_same(p, n, order);
    for (size_t i = 0; i < n; i++)
        k = put(p, corner, 0, k, order[i]);
    size_t top = k - 1;
    for (size_t i = n - 1; i-- > 0;)
        k = put(p, corner, top, k, order[i]);
    *count = n > 1 ? k - 1 : 1;
    free(order);
    return JAW_OK;
}
