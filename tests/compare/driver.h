/* SPDX-License-Identifier: GPL-3.0-or-later */
/* driver.h: how the drivers read problems and print answers.  Numbers are
 * printed with 17 digits, so that nothing of them is lost. */
#ifndef TESTS_COMPARE_DRIVER_H
#define TESTS_COMPARE_DRIVER_H

#include <stdio.h>
#include <stdlib.h>

static inline void fail(const char *what)
{
    fprintf(stderr, "driver: %s\n", what);
    exit(EXIT_FAILURE);
}

static inline double number(void)
{
    double v;

    if (scanf("%lf", &v) != 1)
        fail("a number is wanted");
    return v;
}

static inline size_t count(size_t most)
{
    double n = number(); /* some write 5 as 5.0 */

    if (!(n >= 0 && n <= (double)most) || n != (double)(size_t)n)
        fail("a number of touches is wanted");
    return (size_t)n;
}

static inline void take(double v[], size_t n)
{
    for (size_t i = 0; i < n; i++)
        v[i] = number();
}

static inline void give(const double v[], size_t n)
{
    for (size_t i = 0; i < n; i++)
        printf(" %.17g", v[i]);
}

/* The end of an answer: what is spare, the flags and the residuals. */
static inline void end(int dof, unsigned flags, const double resid[], size_t n)
{
    printf(" %d %u", dof, flags);
    give(resid, n);
    putchar('\n');
}

#endif
