/* SPDX-License-Identifier: GPL-3.0-or-later */
/* grow.c: arrays that grow by doubling. */
#include "grow.h"

#include <stdint.h>
#include <stdlib.h>

void *jaw__grow(void *array, size_t n, size_t *room, size_t size)
{
    if (n < *room)
        return array;
    size_t want = *room == 0 ? 8 : 2 * *room;
    if (want > SIZE_MAX / 2 / size)
        return NULL;
    void *more = realloc(array, want * size);
    if (more != NULL)
        *room = want;
    return more;
}
