/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hull3.c: the convex hull in space, touch by touch, the farthest beyond each
 * facet first (Quickhull: Barber, Dobkin & Huhdanpaa, ACM Trans. Math. Softw.
 * 22 (1996) 469-483).
 *
 * What is visible from a touch is decided without rounding, and a facet in
 * whose plane the touch lies is not.  Facets of one plane are then seen all or
 * none, the horizon is always one closed line, and no facet without area is
 * made: its edge and the touch on one line would put the touch into the planes
 * on either side of the edge, of which one is visible. */
#include "hull.h"

#include <math.h>
#include <stdlib.h>

static bool beyond(const jaw__hull3 *hull, const jaw_vec3 p[], size_t facet,
                   size_t i)
{
    const size_t *c = hull->facet[facet].corner;

    return jaw__side3(&p[c[0]], &p[c[1]], &p[c[2]], &p[i]) > 0;
}

/* Room for one more element; false when there is none. */
static bool grow(void **block, size_t count, size_t *room, size_t size)
{
    if (count < *room)
        return true;
    size_t more = *room > 0 ? 2 * *room : 64;
    void *next = more < JAW__NONE / size ? realloc(*block, more * size) : NULL;
    if (!next)
        return false;
    *block = next;
    *room = more;
    return true;
}

static bool add_work(jaw__hull3 *hull, size_t item)
{
    void *block = hull->work;
    bool good = grow(&block, hull->works, &hull->work_room,
                     sizeof *hull->work);

    hull->work = block;
    if (good)
        hull->work[hull->works++] = item;
    return good;
}

static bool add_facet(jaw__hull3 *hull, size_t a, size_t b, size_t c)
{
    void *block = hull->facet;
    bool good = grow(&block, hull->count, &hull->room, sizeof *hull->facet);

    hull->facet = block;
    if (good)
        hull->facet[hull->count++] = (jaw__facet){
            {a, b, c}, {JAW__NONE, JAW__NONE, JAW__NONE}, JAW__NONE, 0, false};
    return good;
}

/* Gives a touch to the first facet from `from` on that it lies beyond; to none
 * when it lies within. */
static void give(jaw__hull3 *hull, const jaw_vec3 p[], size_t from, size_t i)
{
    for (size_t f = from; f < hull->count; f++)
        if (beyond(hull, p, f, i)) {
            hull->link[i] = hull->facet[f].outside;
            hull->facet[f].outside = i;
            return;
        }
}

/* ------------------------------------------------------- the first four */

static size_t edge_to(const jaw__facet *facet, size_t a, size_t b)
{
    size_t k = 0;

    while (k < 3 && !(facet->corner[k] == a && facet->corner[(k + 1) % 3] == b))
        k++;
    return k;
}

static void join_first(jaw__hull3 *hull)
{
    for (size_t f = 0; f < 4; f++)
        for (size_t k = 0; k < 3; k++) {
            const size_t *c = hull->facet[f].corner;
            for (size_t g = 0; g < 4; g++)
                if (edge_to(&hull->facet[g], c[(k + 1) % 3], c[k]) < 3)
                    hull->facet[f].next[k] = g;
        }
}

static bool begin(jaw__hull3 *hull, const jaw_vec3 p[], size_t n,
                  const size_t first[4])
{
    size_t a = first[0], b = first[1], c = first[2], d = first[3];

    if (jaw__side3(&p[a], &p[b], &p[c], &p[d]) > 0) {
        a = first[1];
        b = first[0];
    }
    hull->link = calloc(n, sizeof *hull->link);
    hull->start = calloc(n, sizeof *hull->start);
    if (!hull->link || !hull->start || !add_facet(hull, a, b, c) ||
        !add_facet(hull, b, a, d) || !add_facet(hull, c, b, d) ||
        !add_facet(hull, a, c, d))
        return false;
    join_first(hull);
    for (size_t i = 0; i < n; i++)
        give(hull, p, 0, i);
    return true;
}

/* ---------------------------------------------------------- one touch more */

/* How far beyond; only to choose, so rounding does not matter. */
static size_t farthest(const jaw__hull3 *hull, const jaw_vec3 p[], size_t facet)
{
    const size_t *c = hull->facet[facet].corner;
    const jaw_vec3 a = p[c[0]], b = p[c[1]], d = p[c[2]];
    const jaw_vec3 n = jaw__cross3(&a, &b, &a, &d);
    size_t best = JAW__NONE;
    double most = -HUGE_VAL;

    for (size_t i = hull->facet[facet].outside; i != JAW__NONE;
         i = hull->link[i]) {
        double h = n.x * (p[i].x - a.x) + n.y * (p[i].y - a.y) +
                   n.z * (p[i].z - a.z);
        if (h > most || (h >= most && i < best)) {
            most = h;
            best = i;
        }
    }
    return best;
}

/* A work item that stands for an edge of a facet. */
static size_t edge_item(size_t facet, size_t k)
{
    return 3 * facet + k;
}

/* From `facet` on all that is visible from touch i: taken off the hull, and
 * listed in work behind `from`; horizon edges, as those of the facets that
 * stay, behind them.  Returned: where the horizon starts, JAW__NONE without
 * memory. */
static size_t clear_visible(jaw__hull3 *hull, const jaw_vec3 p[], size_t facet,
                            size_t i, size_t from)
{
    hull->mark++;
    hull->facet[facet].mark = hull->mark;
    hull->facet[facet].gone = true;
    if (!add_work(hull, facet))
        return JAW__NONE;
    for (size_t w = from; w < hull->works; w++)
        for (size_t k = 0; k < 3; k++) {
            size_t g = hull->facet[hull->work[w]].next[k];
            if (hull->facet[g].mark == hull->mark)
                continue;
            if (!beyond(hull, p, g, i))
                continue;
            hull->facet[g].mark = hull->mark;
            hull->facet[g].gone = true;
            if (!add_work(hull, g))
                return JAW__NONE;
        }
    size_t end = hull->works;
    for (size_t w = from; w < end; w++)
        for (size_t k = 0; k < 3; k++) {
            const jaw__facet *f = &hull->facet[hull->work[w]];
            const jaw__facet *g = &hull->facet[f->next[k]];
            size_t edge = edge_to(g, f->corner[(k + 1) % 3], f->corner[k]);
            if (!g->gone && !add_work(hull, edge_item(f->next[k], edge)))
                return JAW__NONE;
        }
    return end;
}

/* A facet from each horizon edge to touch i, joined to each other. */
static bool cover(jaw__hull3 *hull, size_t i, size_t horizon)
{
    const size_t first = hull->count;

    for (size_t w = horizon; w < hull->works; w++) {
        size_t g = hull->work[w] / 3, k = hull->work[w] % 3;
        size_t b = hull->facet[g].corner[k];
        size_t a = hull->facet[g].corner[(k + 1) % 3], f = hull->count;
        if (!add_facet(hull, a, b, i))
            return false;
        hull->facet[f].next[0] = g;
        hull->facet[g].next[k] = f;
        hull->start[a] = f;
    }
    for (size_t f = first; f < hull->count; f++) {
        size_t after = hull->start[hull->facet[f].corner[1]];
        hull->facet[f].next[1] = after;
        hull->facet[after].next[2] = f;
    }
    return true;
}

/* The touches that lay beyond what is gone go to the new facets. */
static void hand_over(jaw__hull3 *hull, const jaw_vec3 p[], size_t i,
                      size_t from, size_t horizon, size_t first)
{
    for (size_t w = from; w < horizon; w++) {
        jaw__facet *old = &hull->facet[hull->work[w]];
        size_t next;
        for (size_t j = old->outside; j != JAW__NONE; j = next) {
            next = hull->link[j];
            if (j != i)
                give(hull, p, first, j);
        }
        old->outside = JAW__NONE;
    }
}

/* Takes the farthest touch beyond a facet into the hull. */
static bool take(jaw__hull3 *hull, const jaw_vec3 p[], size_t facet)
{
    const size_t i = farthest(hull, p, facet), from = hull->works;
    const size_t horizon = clear_visible(hull, p, facet, i, from);
    const size_t first = hull->count;

    if (horizon == JAW__NONE || !cover(hull, i, horizon))
        return false;
    hand_over(hull, p, i, from, horizon, first);
    hull->works = from;
    return true;
}

jaw_status jaw__hull3_make(jaw__hull3 *hull, const jaw_vec3 p[], size_t n,
                           const size_t first[4])
{
    *hull = (jaw__hull3){.facet = NULL};
    if (!begin(hull, p, n, first))
        return JAW_ENOMEM;
    for (size_t f = 0; f < hull->count; f++)
        while (!hull->facet[f].gone && hull->facet[f].outside != JAW__NONE)
            if (!take(hull, p, f))
                return JAW_ENOMEM;
    return JAW_OK;
}

void jaw__hull3_free(jaw__hull3 *hull)
{
    free(hull->facet);
    free(hull->link);
    free(hull->start);
    free(hull->work);
}
