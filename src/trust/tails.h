/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tails.h: the smallest and the largest of many numbers, in order. */
#ifndef JAW__TAILS_H
#define JAW__TAILS_H

#include <jawline/base.h>

typedef struct jaw__tails {
    size_t length;
    const double *low;  /* the `length` smallest, rising */
    const double *high; /* the `length` largest, rising */
    double *room;
} jaw__tails;

/* jaw__tails_find: of v[n], all finite, 1 <= length <= n.
 * Status: JAW_OK, JAW_ENOMEM */
jaw_status jaw__tails_find(const double v[], size_t n, size_t length,
                           jaw__tails *tails);
void jaw__tails_free(jaw__tails *tails);

#endif
