/* SPDX-License-Identifier: GPL-3.0-or-later */
/* align_driver.c: solves the sweeps that arrive on standard input, one a line,
 * and prints what came out, one a line; align_compare.py writes the one and
 * reads the other.
 *
 *     wall N repeat at reading ...
 *     head N repeat radius angle reading ...
 *     round N repeat radius inside angle reading ...
 *
 * Walls face y+.  Numbers are printed with 17 digits: the status first. */
#include <jawline/align.h>

#include "driver.h"

#include <string.h>

enum { MOST = 4096 };

static double at[MOST], reading[MOST], resid[MOST];

static void take_readings(size_t n)
{
    for (size_t i = 0; i < n; i++) {
        at[i] = number();
        reading[i] = number();
    }
}

static void do_wall(void)
{
    size_t n = count(MOST);
    double repeat = number();
    jaw_swept_wall w;

    take_readings(n);
    printf("%d", jaw_align_wall(at, reading, n, JAW_SIDE_YPLUS, repeat, &w,
                                resid));
    double v[] = {w.skew.value, w.skew.u, w.skew.dof, w.skew.half95, w.tap,
                  w.tap_u,      w.span,   w.straight, w.rms};
    give(v, sizeof v / sizeof v[0]);
    give(resid, n);
    putchar('\n');
}

static void do_head(void)
{
    size_t n = count(MOST);
    double repeat = number(), radius = number();
    jaw_swung_head h;

    take_readings(n);
    printf("%d", jaw_align_head(at, reading, n, radius, radius, radius, repeat,
                                &h, resid));
    double v[] = {h.tilt[0].value, h.tilt[1].value, h.tilt[0].u, h.tilt[1].u,
                  h.tilt[0].dof,   h.rise[0],       h.rise[1],   h.dish,
                  h.rms};
    give(v, sizeof v / sizeof v[0]);
    give(resid, n);
    putchar('\n');
}

static void do_round(void)
{
    size_t n = count(MOST);
    double repeat = number(), radius = number();
    bool inside = number() > 0;
    jaw_swept_round r;

    take_readings(n);
    printf("%d", jaw_align_round(at, reading, n, inside, radius, repeat, &r,
                                 resid));
    double v[] = {r.shift[0].value, r.shift[1].value, r.shift[0].dof,
                  r.cov[0],         r.cov[1],         r.cov[2],
                  r.roundness,      r.second,         r.rms};
    give(v, sizeof v / sizeof v[0]);
    give(resid, n);
    putchar('\n');
}

int main(void)
{
    char kind[16];

    while (scanf("%15s", kind) == 1) {
        if (strcmp(kind, "wall") == 0)
            do_wall();
        else if (strcmp(kind, "head") == 0)
            do_head();
        else if (strcmp(kind, "round") == 0)
            do_round();
        else
            fail("unknown kind");
    }
    return ferror(stdout) ? EXIT_FAILURE : EXIT_SUCCESS;
}
