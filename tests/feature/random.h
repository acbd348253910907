/* SPDX-License-Identifier: GPL-3.0-or-later */
/* random.h: numbers for random tests.  Each test starts from its own seed and
 * prints it; JAW_TEST_SEED in the environment asks for another one. */
#ifndef TESTS_RANDOM_H
#define TESTS_RANDOM_H

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

typedef struct random_source {
    uint64_t state;
} random_source;

static inline random_source random_start(const char *test, uint64_t seed)
{
    const char *asked = getenv("JAW_TEST_SEED");
    random_source r = {asked ? strtoull(asked, NULL, 0) : seed};
    printf("%s: JAW_TEST_SEED=%llu\n", test, (unsigned long long)r.state);
    fflush(stdout);
    return r;
}

/* splitmix64: Steele, Lea & Flood, OOPSLA 2014, fig. 17. */
static inline uint64_t random_bits(random_source *r)
{
    uint64_t z = r->state += 0x9e3779b97f4a7c15u;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

static inline double random_between(random_source *r, double low, double high)
{
    return low + (high - low) * (double)(random_bits(r) >> 11) * 0x1p-53;
}

/* 0 ... n - 1 */
static inline size_t random_below(random_source *r, size_t n)
{
    return (size_t)(random_bits(r) % n);
}

/* Mean 0, spread 1: Box & Muller, Ann. Math. Stat. 29 (1958) 610. */
static inline double random_normal(random_source *r)
{
    double u = 1 - random_between(r, 0, 1), v = random_between(r, 0, 1);
    return sqrt(-2 * log(u)) * cos(6.283185307179586 * v);
}

#endif
