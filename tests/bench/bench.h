/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench.h: touches that are the same on every machine, the time, and where
 * results go so that no compiler leaves their making out. */
#ifndef TESTS_BENCH_BENCH_H
#define TESTS_BENCH_BENCH_H

#include <stdlib.h>
#include <time.h>

static volatile double sink;

/* splitmix64: Steele, Lea & Flood, OOPSLA 2014. */
static inline double even(double low, double high)
{
    static unsigned long long state = 20240611;
    unsigned long long z = state += 0x9e3779b97f4a7c15u;

    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    z ^= z >> 31;
    return low + (high - low) * (double)(z >> 11) * 0x1p-53;
}

static inline double now(void)
{
    struct timespec t;

    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static inline int by_size(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;

    return (x > y) - (x < y);
}

/* median: sorts t. */
static inline double median(double t[], size_t n)
{
    qsort(t, n, sizeof t[0], by_size);
    return t[n / 2];
}

#endif
