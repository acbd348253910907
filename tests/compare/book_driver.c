/* SPDX-License-Identifier: GPL-3.0-or-later */
/* book_driver.c: solves what arrives on standard input, one problem a line, and
 * prints what came out, one a line; book_compare.py writes the one and reads
 * the other.
 *
 *     trend N x y ...
 *     limit N known u dof ...
 *
 * Numbers are printed with 17 digits: the status first, then the result. */
#include <jawline/book.h>

#include "driver.h"

#include <string.h>

enum { MOST = 512 };

static void do_trend(void)
{
    static double in[2 * MOST], x[MOST], y[MOST];
    const size_t n = count(MOST);
    jaw_book_line l;

    take(in, 2 * n);
    for (size_t i = 0; i < n; i++) {
        x[i] = in[2 * i];
        y[i] = in[2 * i + 1];
    }
    printf("%d", jaw_book_trend(x, y, n, 0, &l));
    const double v[] = {l.slope, l.low, l.high, l.square_slope, l.s, l.mean_y};
    give(v, sizeof v / sizeof v[0]);
    putchar('\n');
}

static void do_limit(void)
{
    double u[8], dof[8];
    const size_t n = count(8);
    double known = number();

    for (size_t i = 0; i < n; i++) {
        u[i] = number();
        dof[i] = number();
    }
    const double v[] = {jaw_trust_limit(u, dof, n, known),
                        jaw_trust_among(u, dof, n, known)};
    printf("0");
    give(v, 2);
    putchar('\n');
}

int main(void)
{
    char kind[16];

    while (scanf("%15s", kind) == 1) {
        if (strcmp(kind, "trend") == 0)
            do_trend();
        else if (strcmp(kind, "limit") == 0)
            do_limit();
        else
            fail("unknown kind");
    }
    return ferror(stdout) ? EXIT_FAILURE : EXIT_SUCCESS;
}
