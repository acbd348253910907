/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fit_driver.c: solves the fits that arrive on standard input, one a line,
 * and prints what came out, one a line; fit_compare.py writes the one and
 * reads the other.
 *
 *     line N x y ...              line-along N theta x y ...
 *     pair NA NB x y ...          pair-along NA NB theta x y ...
 *     plane N x y z ...
 *     circle N x y ...            circle-known N r x y ...
 *     rigid N fx fy tx ty w ...
 *
 * Numbers are printed with 17 digits: the status first, then the result in the
 * order of the struct, then the residuals. */
#include <jawline/fit.h>

#include "driver.h"

#include <string.h>

enum { MOST = 4096 };

static double in[5 * MOST], resid[2 * MOST];

static void do_line(int along)
{
    size_t n = count(MOST);
    double theta = 0;
    jaw_line l;

    if (along)
        take(&theta, 1);
    take(in, 2 * n);
    const jaw_vec2 *p = (const jaw_vec2 *)in;
    printf("%d", along ? jaw_fit_line_along(p, n, theta, &l, resid)
                       : jaw_fit_line(p, n, &l, resid));
    double v[] = {l.p.x,      l.p.y,     l.dir.x,    l.dir.y,   l.normal.x,
                  l.normal.y, l.theta,   l.u_offset, l.u_theta, l.q_offset,
                  l.q_theta,  l.ssr,     l.rms,      l.s};
    give(v, sizeof v / sizeof v[0]);
    end(l.dof, l.flags, resid, n);
}

static void do_pair(int along)
{
    size_t na = count(MOST), nb = count(MOST);
    double theta = 0;
    jaw_pair r;

    if (na + nb > MOST)
        fail("too many touches");
    if (along)
        take(&theta, 1);
    take(in, 2 * (na + nb));
    const jaw_vec2 *p = (const jaw_vec2 *)in;
    printf("%d", along ? jaw_fit_pair_along(p, na, p + na, nb, theta, &r, resid)
                       : jaw_fit_pair(p, na, p + na, nb, &r, resid));
    double v[] = {r.p[0].x, r.p[0].y,      r.p[1].x,      r.p[1].y,
                  r.dir.x,  r.dir.y,       r.normal.x,    r.normal.y,
                  r.theta,  r.gap,         r.u_theta,     r.u_middle,
                  r.u_gap,  r.q_theta,     r.q_offset[0], r.q_offset[1],
                  r.ssr,    r.rms,         r.s};
    give(v, sizeof v / sizeof v[0]);
    end(r.dof, r.flags, resid, na + nb);
}

static void do_plane(void)
{
    size_t n = count(MOST);
    jaw_plane r;

    take(in, 3 * n);
    printf("%d", jaw_fit_plane((const jaw_vec3 *)in, n, &r, resid));
    double v[] = {r.p.x,       r.p.y,       r.p.z,       r.normal.x,
                  r.normal.y,  r.normal.z,  r.axis[0].x, r.axis[0].y,
                  r.axis[0].z, r.axis[1].x, r.axis[1].y, r.axis[1].z,
                  r.u_offset,  r.u_tilt[0], r.u_tilt[1], r.q_offset,
                  r.q_tilt[0], r.q_tilt[1], r.ssr,       r.rms,
                  r.s};
    give(v, sizeof v / sizeof v[0]);
    end(r.dof, r.flags, resid, n);
}

static void do_circle(int known)
{
    size_t n = count(MOST);
    double r = 0;
    jaw_circle c;

    if (known)
        take(&r, 1);
    take(in, 2 * n);
    const jaw_vec2 *p = (const jaw_vec2 *)in;
    printf("%d", known ? jaw_fit_circle_known(p, n, r, &c, resid)
                       : jaw_fit_circle(p, n, &c, resid));
    double v[] = {c.x, c.y, c.r};
    give(v, 3);
    give(c.cov, 6);
    give(c.q, 6);
    double w[] = {c.ssr, c.rms, c.s};
    give(w, 3);
    end(c.dof, c.flags, resid, n);
}

static void do_rigid(void)
{
    static jaw_vec2 from[MOST], to[MOST], off[MOST];
    static double weight[MOST];
    size_t n = count(MOST);
    jaw_rigid r;

    take(in, 5 * n);
    for (size_t i = 0; i < n; i++) {
        from[i] = (jaw_vec2){in[5 * i], in[5 * i + 1]};
        to[i] = (jaw_vec2){in[5 * i + 2], in[5 * i + 3]};
        weight[i] = in[5 * i + 4];
    }
    printf("%d", jaw_fit_rigid(from, to, weight, n, &r, off));
    double v[] = {r.frame.origin.x, r.frame.origin.y, r.frame.turn, r.frame.c,
                  r.frame.s,        r.from_mean.x,    r.from_mean.y,
                  r.to_mean.x,      r.to_mean.y,      r.scale,      r.u_turn,
                  r.u_shift,        r.q_turn,         r.q_shift,
                  r.mirror_ssr,     r.ssr,            r.rms,        r.s};
    give(v, sizeof v / sizeof v[0]);
    for (size_t i = 0; i < n; i++) {
        resid[2 * i] = off[i].x;
        resid[2 * i + 1] = off[i].y;
    }
    end(r.dof, r.flags, resid, 2 * n);
}

int main(void)
{
    char kind[16];

    while (scanf("%15s", kind) == 1) {
        if (strcmp(kind, "line") == 0 || strcmp(kind, "line-along") == 0)
            do_line(kind[4] == '-');
        else if (strcmp(kind, "pair") == 0 || strcmp(kind, "pair-along") == 0)
            do_pair(kind[4] == '-');
        else if (strcmp(kind, "plane") == 0)
            do_plane();
        else if (strcmp(kind, "circle") == 0 ||
                 strcmp(kind, "circle-known") == 0)
            do_circle(kind[6] == '-');
        else if (strcmp(kind, "rigid") == 0)
            do_rigid();
        else
            fail("unknown kind");
    }
    return ferror(stdout) ? EXIT_FAILURE : EXIT_SUCCESS;
}
