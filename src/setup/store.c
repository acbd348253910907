/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store.c: a pool for text. */
#include "store.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

struct jaw__block {
    struct jaw__block *next;
    size_t used, room;
    char text[];
};

enum { BLOCK_ROOM = 1000 };

static struct jaw__block *block_with(jaw__pool *pool, size_t need)
{
    struct jaw__block *b = pool->first;

    if (b != NULL && b->room - b->used >= need)
        return b;
    size_t room = need > BLOCK_ROOM ? need : BLOCK_ROOM;
    if (room > SIZE_MAX - sizeof *b)
        return NULL;
    b = malloc(sizeof *b + room);
    if (b == NULL)
        return NULL;
    b->used = 0;
    b->room = room;
    b->next = pool->first;
    pool->first = b;
    return b;
}

char *jaw__pool_copy(jaw__pool *pool, const char *text, size_t len)
{
    struct jaw__block *b = len < SIZE_MAX ? block_with(pool, len + 1) : NULL;

    if (b == NULL)
        return NULL;
    char *copy = b->text + b->used;
    memcpy(copy, text, len);
    copy[len] = '\0';
    b->used += len + 1;
    return copy;
}

const char *jaw__pool_text(jaw__pool *pool, const char *text, bool *ok)
{
    if (text == NULL)
        return NULL;
    const char *copy = jaw__pool_copy(pool, text, strlen(text));
    if (copy == NULL)
        *ok = false;
    return copy;
}

void jaw__pool_drop(jaw__pool *pool)
{
    while (pool->first != NULL) {
        struct jaw__block *next = pool->first->next;
        free(pool->first);
        pool->first = next;
    }
}
