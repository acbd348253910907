/* SPDX-License-Identifier: GPL-3.0-or-later */
/* turn_driver.c: solves what arrives on standard input, one problem a line, and
 * prints what came out, one a line; turn_compare.py writes the one and reads
 * the other.
 *
 *     rigid3 N fx fy fz tx ty tz w ...
 *     sweep N angle reading ...
 *
 * Numbers are printed with 17 digits: the status first, then the result in the
 * order of the struct, then the residuals. */
#include <jawline/fit.h>

#include "driver.h"

#include <string.h>

enum { MOST = 512 };

static double in[7 * MOST], resid[3 * MOST];

static void do_rigid3(void)
{
    static jaw_vec3 from[MOST], to[MOST], off[MOST];
    static double weight[MOST];
    const size_t n = count(MOST);
    jaw_rigid3 r;

    take(in, 7 * n);
    for (size_t i = 0; i < n; i++) {
        const double *v = &in[7 * i];
        from[i] = (jaw_vec3){v[0], v[1], v[2]};
        to[i] = (jaw_vec3){v[3], v[4], v[5]};
        weight[i] = v[6];
    }
    printf("%d", jaw_fit_rigid3(from, to, weight, n, &r, off));
    for (int i = 0; i < 3; i++)
        give(r.turn[i], 3);
    const double v[] = {r.origin.x,  r.origin.y,  r.origin.z, r.from_mean.x,
                        r.from_mean.y, r.from_mean.z, r.to_mean.x,
                        r.to_mean.y, r.to_mean.z, r.scale};
    give(v, sizeof v / sizeof v[0]);
    give(r.q_turn, 6);
    give(&r.q_shift, 1);
    give(r.cov_turn, 6);
    const double w[] = {r.u_shift, r.mirror_ssr, r.ssr, r.rms, r.s};
    give(w, sizeof w / sizeof w[0]);
    for (size_t i = 0; i < n; i++) {
        resid[3 * i] = off[i].x;
        resid[3 * i + 1] = off[i].y;
        resid[3 * i + 2] = off[i].z;
    }
    end(r.dof, r.flags, resid, 3 * n);
}

static void do_sweep(void)
{
    static double angle[MOST], reading[MOST];
    const size_t n = count(MOST);
    jaw_sweep r;

    take(in, 2 * n);
    for (size_t i = 0; i < n; i++) {
        angle[i] = in[2 * i];
        reading[i] = in[2 * i + 1];
    }
    printf("%d", jaw_fit_sweep(angle, reading, n, &r, resid));
    const double v[] = {r.mean, r.along, r.across, r.amplitude, r.phase};
    give(v, sizeof v / sizeof v[0]);
    give(r.cov, 6);
    give(r.q, 6);
    const double w[] = {r.ssr, r.rms, r.s};
    give(w, sizeof w / sizeof w[0]);
    end(r.dof, r.flags, resid, n);
}

int main(void)
{
    char kind[16];

    while (scanf("%15s", kind) == 1) {
        if (strcmp(kind, "rigid3") == 0)
            do_rigid3();
        else if (strcmp(kind, "sweep") == 0)
            do_sweep();
        else
            fail("unknown kind");
    }
    return ferror(stdout) ? EXIT_FAILURE : EXIT_SUCCESS;
}
