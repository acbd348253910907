/* SPDX-License-Identifier: GPL-3.0-or-later */
/* twice.c: names that were given to two things.  Whoever refers to one may mean
 * either, so nothing is found by it.  A sheet's reader has told of them before
 * (src/sheet/names.c); this is for programs that fill a setup themselves.
 * Tools and registers, which have numbers, are told where they are solved. */
#include "solve.h"

#include <stdlib.h>
#include <string.h>

typedef struct named {
    const char *name;
    jaw_place place;
    size_t order;
    bool *bad; /* NULL: none to set */
} named;

static int compare(const void *a, const void *b)
{
    const named *x = a, *y = b;
    int by_name = strcmp(x->name, y->name);

    if (by_name != 0)
        return by_name;
    return (x->order > y->order) - (x->order < y->order);
}

static void mark(const named *it)
{
    if (it->bad != NULL)
        *it->bad = true;
}

static void tell(jaw__solver *sv, enum jaw__message id, named all[], size_t n)
{
    if (n > 0)
        qsort(all, n, sizeof *all, compare);
    for (size_t i = 1; i < n; i++) {
        if (strcmp(all[i].name, all[i - 1].name) != 0)
            continue;
        mark(&all[i - 1]);
        mark(&all[i]);
        jaw__tell(sv, id, all[i].place, NULL, all[i].name);
    }
}

static size_t list_tips(jaw__solver *sv, named all[])
{
    const jaw_setup *setup = sv->setup;

    for (size_t i = 0; i < setup->n_tips; i++)
        all[i] = (named){setup->tips[i].name, setup->tips[i].place, i,
                         &sv->tip_bad[i]};
    return setup->n_tips;
}

/* Features and setters share their names: both can carry something. */
static size_t list_features(jaw__solver *sv, named all[])
{
    const jaw_setup *setup = sv->setup;
    size_t n = 0;

    for (size_t i = 0; i < setup->n_features; i++, n++)
        all[n] = (named){setup->features[i].name, setup->features[i].place, n,
                         &sv->feature_bad[i]};
    for (size_t i = 0; i < setup->n_setters; i++, n++)
        all[n] = (named){setup->setters[i].name, setup->setters[i].place, n,
                         NULL};
    return n;
}

void jaw__tell_twice(jaw__solver *sv)
{
    const jaw_setup *setup = sv->setup;
    size_t room = setup->n_tips + setup->n_features + setup->n_setters + 1;
    named *all = malloc(room * sizeof *all);

    if (all == NULL) {
        sv->no_memory = true;
        return;
    }
    tell(sv, SAY_TIP_TWICE, all, list_tips(sv, all));
    tell(sv, SAY_NAME_TWICE, all, list_features(sv, all));
    free(all);
}
