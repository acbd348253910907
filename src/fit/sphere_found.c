/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sphere_found.c: a sphere that was found, with everything known of it. */
#include "sphere.h"

/* Ten times the spread of one touch, as of a circle. */
#define WEAK_COFACTOR 100

/* How centre (along x, y, z) and radius follow what moves, times a root of its
 * cofactors: rows x y z r. */
static void move_centre(const jaw__curved *at,
                        double root[JAW__FREE][JAW__FREE],
                        double out[4][JAW__FREE])
{
    const double r = 1 / at->bend;

    for (int k = 0; k < JAW__FREE; k++) {
        const double along[3] = {-r * root[JAW__PITCH][k],
                                 -r * root[JAW__ROLL][k],
                                 root[JAW__SHIFT][k] -
                                     r * r * root[JAW__BEND][k]};
        for (int i = 0; i < 3; i++)
            out[i][k] = along[0] * at->axis[0][i] + along[1] * at->axis[1][i] +
                        along[2] * at->axis[2][i];
        out[3][k] = -fabs(r) * r * root[JAW__BEND][k];
    }
}

/* Some direction of the centre has a larger cofactor: the limit times the unit
 * matrix, less theirs, is then not positive (its pivots by elimination). */
static bool is_weak(const double q[10])
{
    double a = WEAK_COFACTOR - q[0], d = WEAK_COFACTOR - q[4];
    double f = WEAK_COFACTOR - q[7], e = -q[5];

    if (!(a > 0))
        return true;
    d -= q[1] * q[1] / a;
    e -= q[1] * q[2] / a;
    f -= q[2] * q[2] / a;
    return !(d > 0) || !(f - e * e / d > 0);
}

static void spread(double ssr, double n, double dof, double scale,
                   jaw_sphere *sphere)
{
    const bool spare = dof > 0;
    const double variance = spare ? ssr / dof : JAW__NAN;

    sphere->dof = jaw__dof(dof);
    sphere->ssr = ssr * scale * scale;
    sphere->rms = spare ? sqrt(ssr / n) * scale : JAW__NAN;
    sphere->s = sqrt(variance) * scale;
    for (int i = 0; i < 10; i++)
        sphere->cov[i] = variance * scale * scale * sphere->q[i];
    sphere->flags = (spare ? 0u : JAW_NO_CHECK) |
                    (is_weak(sphere->q) ? JAW_WEAK : 0u);
}

jaw_status jaw__sphere_report(const jaw__search *search, const jaw__rest *rest,
                              jaw_sphere *sphere, double resid[])
{
    const jaw__space *space = search->space;
    const double n = (double)space->n, unit = space->unit;
    double centre[4][JAW__FREE], c[3];
    jaw__seen seen;

    if (!jaw__see(search, &rest->at, &seen, resid))
        return JAW_ERANK;
    move_centre(&rest->at, seen.root, centre);
    for (int i = 0, k = 0; i < 4; i++)
        for (int l = i; l < 4; l++, k++) {
            sphere->q[k] = 0;
            for (int j = 0; j < JAW__FREE; j++)
                sphere->q[k] += centre[i][j] * centre[l][j];
        }
    jaw__curved_centre(&rest->at, c);
    sphere->x = (space->m.x + c[0]) / unit;
    sphere->y = (space->m.y + c[1]) / unit;
    sphere->z = (space->m.z + c[2]) / unit;
    sphere->r = 1 / fabs(rest->at.bend) / unit;
    spread(seen.ssr, n, n - jaw__free(search), 1 / unit, sphere);
    return JAW_OK;
}

jaw_status jaw__sphere_give_up(jaw_status status, size_t n, jaw_sphere *sphere,
                               double resid[])
{
    *sphere = (jaw_sphere){.x = JAW__NAN, .y = JAW__NAN, .z = JAW__NAN,
                           .r = JAW__NAN, .ssr = JAW__NAN, .rms = JAW__NAN,
                           .s = JAW__NAN};
    for (int i = 0; i < 10; i++)
        sphere->q[i] = sphere->cov[i] = JAW__NAN;
    jaw__fill_nan(resid, n);
    return status;
}
