/* SPDX-License-Identifier: GPL-3.0-or-later */
/* alloc.c: malloc and its family, put before the C library's.
 *
 * The dynamic linker looks in the program first, so that these serve the
 * program and every library.  The real ones are glibc's __libc_ names; where
 * they do not exist, or where a sanitizer has put itself in this place, there
 * is nothing to count and alloc_works says so. */
#include "alloc.h"

#include <errno.h>
#include <stdlib.h>

#if defined(__has_feature)
#if __has_feature(address_sanitizer) || __has_feature(memory_sanitizer)
#define TOOL_OWNS_MALLOC
#endif
#endif
#if defined(__SANITIZE_ADDRESS__) || !defined(__GLIBC__)
#define TOOL_OWNS_MALLOC
#endif

static long asked, live;
static long good_left = -1; /* -1: none is to fail */
static bool for_ever, failed;

static void restart(void)
{
    asked = 0;
    live = 0;
    failed = false;
}

void alloc_count_start(void)
{
    restart();
    good_left = -1;
}

long alloc_count_stop(void)
{
    return asked;
}

long alloc_live(void)
{
    return live;
}

void alloc_fail_after(long k)
{
    restart();
    for_ever = false;
    good_left = k;
}

void alloc_fail_always_after(long k)
{
    alloc_fail_after(k);
    for_ever = true;
}

void alloc_fail_never(void)
{
    good_left = -1;
}

bool alloc_failed(void)
{
    return failed;
}

bool alloc_works(void)
{
    long before = asked;
    void *volatile block = malloc(1);
    free(block);
    bool seen = asked == before + 1;
    asked = before;
    return seen;
}

#ifndef TOOL_OWNS_MALLOC

/* Reserved names, but this is where the C library keeps the real ones. */
extern void *__libc_malloc(size_t size);
extern void *__libc_calloc(size_t count, size_t size);
extern void *__libc_realloc(void *block, size_t size);
extern void __libc_free(void *block);

static bool refused(void)
{
    asked++;
    if (good_left < 0)
        return false;
    if (good_left > 0) {
        good_left--;
        return false;
    }
    if (!for_ever)
        good_left = -1;
    failed = true;
    errno = ENOMEM;
    return true;
}

static void *counted(void *block)
{
    if (block)
        live++;
    return block;
}

void *malloc(size_t size)
{
    return refused() ? NULL : counted(__libc_malloc(size));
}

void *calloc(size_t count, size_t size)
{
    return refused() ? NULL : counted(__libc_calloc(count, size));
}

void free(void *block)
{
    if (!block)
        return;
    live--;
    __libc_free(block);
}

void *realloc(void *block, size_t size)
{
    if (block && size == 0) {
        free(block);
        return NULL;
    }
    if (refused())
        return NULL;
    return block ? __libc_realloc(block, size)
                 : counted(__libc_realloc(NULL, size));
}

#endif
