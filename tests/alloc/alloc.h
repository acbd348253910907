/* SPDX-License-Identifier: GPL-3.0-or-later */
/* alloc.h: counts what the code under test allocates, and makes one allocation
 * fail.  A test program that is linked with tests/alloc/alloc.c gets these
 * malloc, calloc, realloc and free in place of the C library's own, so GSL's
 * and jansson's allocations count too.
 *
 *     for (long k = 0;; k++) {
 *         alloc_fail_after(k);             k good ones, then one failure
 *         status = the_call(...);
 *         bool failed = alloc_failed();
 *         alloc_fail_never();
 *         ... when failed: status is JAW_ENOMEM, nothing leaked ...
 *         if (!failed)
 *             break;                       every allocation was tried
 *     }
 *
 * Not thread-safe: one test at a time. */
#ifndef TESTS_ALLOC_H
#define TESTS_ALLOC_H

#include <stdbool.h>

/* alloc_works: whether allocations are really seen.  Under a sanitizer or
 * valgrind they belong to the tool and there is nothing to count: add the test
 * cases that count only when this is true, and print what was left out. */
bool alloc_works(void);

/* alloc_count_start: from here on count.  alloc_count_stop: how many
 * allocations were asked for since (malloc, calloc, realloc that asks for
 * bytes; failed ones too). */
void alloc_count_start(void);
long alloc_count_stop(void);

/* alloc_live: blocks that were allocated since alloc_count_start (or
 * alloc_fail_after) and not freed yet, less the older blocks freed since. */
long alloc_live(void);

/* alloc_fail_after: the next k allocations are good and the one after fails;
 * those behind it are good again.  alloc_fail_always_after: all behind it fail
 * too.  Both also start the counts. */
void alloc_fail_after(long k);
void alloc_fail_always_after(long k);
void alloc_fail_never(void);

/* alloc_failed: whether an allocation was made to fail since. */
bool alloc_failed(void);

#endif
