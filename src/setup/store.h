/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store.h: arrays that grow and names that stay, shared by src/setup and
 * src/sheet. */
#ifndef JAW__STORE_H
#define JAW__STORE_H

#include <stdbool.h>
#include <stddef.h>

#include <src/base/grow.h>

/* Text that lives until the pool is dropped; its addresses never change. */
typedef struct jaw__pool {
    struct jaw__block *first;
} jaw__pool;

/* jaw__pool_copy: a copy of text[len] with a NUL behind it; NULL when out of
 * memory.  jaw__pool_text: of a NUL-terminated text; NULL stays NULL, and then
 * *ok is not touched; out of memory makes *ok false. */
char *jaw__pool_copy(jaw__pool *pool, const char *text, size_t len);
const char *jaw__pool_text(jaw__pool *pool, const char *text, bool *ok);
void jaw__pool_drop(jaw__pool *pool);

#endif
