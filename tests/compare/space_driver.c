/* SPDX-License-Identifier: GPL-3.0-or-later */
/* space_driver.c: solves the spheres and cylinders that arrive on standard
 * input, one a line, and prints what came out, one a line; space_compare.py
 * writes the one and reads the other.
 *
 *     sphere N r x y z ...                 r 0: to be found
 *     cylinder N r ax ay az x y z ...      r 0, axis 0 0 0: to be found
 *
 * Numbers are printed with 17 digits: the status first, then the result in the
 * order of the struct without cov, then dof, flags and the residuals. */
#include <jawline/fit.h>

#include "driver.h"

#include <string.h>

enum { MOST = 512 };

static jaw_vec3 p[MOST];
static double resid[MOST];

static void take_touches(size_t n)
{
    for (size_t i = 0; i < n; i++)
        take(&p[i].x, 3);
}

static void do_sphere(void)
{
    const size_t n = count(MOST);
    double r;
    jaw_sphere s;

    take(&r, 1);
    take_touches(n);
    printf("%d", r > 0 ? jaw_fit_sphere_known(p, n, r, &s, resid)
                       : jaw_fit_sphere(p, n, &s, resid));
    const double v[] = {s.x, s.y, s.z, s.r};
    give(v, 4);
    give(s.q, 10);
    give((double[]){s.ssr, s.rms, s.s}, 3);
    end(s.dof, s.flags, resid, n);
}

static void do_cylinder(void)
{
    const size_t n = count(MOST);
    double r;
    jaw_vec3 axis;
    jaw_cylinder c;

    take(&r, 1);
    take(&axis.x, 3);
    take_touches(n);
    const bool along = axis.x != 0 || axis.y != 0 || axis.z != 0;
    const jaw_cylinder_given given = {along ? &axis : NULL, r};
    printf("%d", jaw_fit_cylinder(p, n, &given, &c, resid));
    const double v[] = {c.p.x, c.p.y, c.p.z, c.axis.x, c.axis.y, c.axis.z, c.r};
    give(v, 7);
    give(c.q, 15);
    give((double[]){c.ssr, c.rms, c.s}, 3);
    end(c.dof, c.flags, resid, n);
}

int main(void)
{
    char kind[16];

    while (scanf("%15s", kind) == 1) {
        if (strcmp(kind, "sphere") == 0)
            do_sphere();
        else if (strcmp(kind, "cylinder") == 0)
            do_cylinder();
        else
            fail("unknown kind");
    }
    return ferror(stdout) ? EXIT_FAILURE : EXIT_SUCCESS;
}
