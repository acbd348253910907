/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cylinder_found.c: a cylinder that was found, with everything known of it. */
#include "cylinder.h"

#define WEAK_COFACTOR 100

enum { WORTH = 5 };

/* across[0] as near to x as the axis leaves it, to y where the axis is nearer
 * than 45 degrees to x; so it does not jump for axes along x, y or z. */
static void set_across(const double axis[3], double across[2][3])
{
    const int to = fabs(axis[0]) > 0x1.6a09e667f3bcdp-1 ? 1 : 0;

    for (int i = 0; i < 3; i++)
        across[0][i] = (i == to) - axis[to] * axis[i];
    jaw__normalise(across[0]);
    jaw__cross(axis, across[0], across[1]);
}

static double up(const double v[3])
{
    double lead = v[2] != 0 ? v[2] : v[1] != 0 ? v[1] : v[0];

    return lead < 0 ? -1 : 1;
}

/* How the axis (shift at the foot's height and tilt, along axis[1] and
 * axis[2]) and the radius follow what moves, times a root of its cofactors;
 * then shifts at `height`. */
static void move_axis(const jaw__curved *at,
                      double root[JAW__FREE][JAW__FREE], double height,
                      double out[WORTH][JAW__FREE])
{
    const double r = 1 / at->bend;

    for (int k = 0; k < JAW__FREE; k++) {
        out[2][k] = root[JAW__YAW][k];
        out[3][k] = root[JAW__PITCH][k];
        out[0][k] = -r * root[JAW__ROLL][k] + height * out[2][k];
        out[1][k] = root[JAW__SHIFT][k] - r * r * root[JAW__BEND][k] +
                    height * out[3][k];
        out[4][k] = -fabs(r) * r * root[JAW__BEND][k];
    }
}

/* From axis[1] and axis[2] to across[]; sign: of the axis that is reported. */
static void turn_to(const jaw__curved *at, const double across[2][3],
                    double sign, double out[WORTH][JAW__FREE])
{
    double part[2][2];

    for (int i = 0; i < 2; i++)
        for (int k = 0; k < 2; k++)
            part[i][k] = jaw__dot3(across[i], at->axis[1 + k]);
    JAW__UNROLL
    for (int k = 0; k < JAW__FREE; k++) {
        const double e = out[0][k], f = out[1][k];
        const double te = sign * out[2][k], tf = sign * out[3][k];
        out[0][k] = e * part[0][0] + f * part[0][1];
        out[1][k] = e * part[1][0] + f * part[1][1];
        out[2][k] = te * part[0][0] + tf * part[0][1];
        out[3][k] = te * part[1][0] + tf * part[1][1];
    }
}

static bool is_weak(double a, double b, double c, double most)
{
    return !(most - a > 0 && most - c > 0 &&
             (most - a) * (most - c) - b * b > 0);
}

static void place(const jaw__space *space, const jaw__curved *at,
                  double across[2][3], jaw_cylinder *cylinder)
{
    const double sign = up(at->axis[0]), unit = space->unit;
    const double height = -jaw__dot3(at->foot, at->axis[0]);
    double axis[3], c[3];

    jaw__curved_centre(at, c);
    for (int i = 0; i < 3; i++) {
        axis[i] = sign * at->axis[0][i];
        c[i] += height * at->axis[0][i];
    }
    set_across(axis, across);
    cylinder->p = (jaw_vec3){(space->m.x + c[0]) / unit,
                             (space->m.y + c[1]) / unit,
                             (space->m.z + c[2]) / unit};
    cylinder->axis = (jaw_vec3){axis[0], axis[1], axis[2]};
    for (int i = 0; i < 2; i++)
        cylinder->across[i] =
            (jaw_vec3){across[i][0], across[i][1], across[i][2]};
    cylinder->r = 1 / fabs(at->bend) / unit;
}

/* Tilts are per length, so their cofactors depend on the unit. */
static void set_cofactors(double out[WORTH][JAW__FREE], double unit,
                          double q[15])
{
    const double scale[WORTH] = {1, 1, unit, unit, 1};

    JAW__UNROLL
    for (int i = 0, k = 0; i < WORTH; i++)
        JAW__UNROLL
        for (int l = i; l < WORTH; l++, k++) {
            double sum = 0;
            JAW__UNROLL
            for (int j = 0; j < JAW__FREE; j++)
                sum += out[i][j] * out[l][j];
            q[k] = sum * scale[i] * scale[l];
        }
}

static void spread(double ssr, double n, double dof, double scale,
                   jaw_cylinder *cylinder)
{
    const bool spare = dof > 0;
    const double variance = spare ? ssr / dof : JAW__NAN;

    cylinder->dof = jaw__dof(dof);
    cylinder->ssr = ssr * scale * scale;
    cylinder->rms = spare ? sqrt(ssr / n) * scale : JAW__NAN;
    cylinder->s = sqrt(variance) * scale;
    for (int i = 0; i < 15; i++)
        cylinder->cov[i] = variance * scale * scale * cylinder->q[i];
    cylinder->flags = spare ? 0u : JAW_NO_CHECK;
}

jaw_status jaw__cylinder_report(const jaw__search *search,
                                const jaw__rest *rest, jaw_cylinder *cylinder,
                                double resid[])
{
    const jaw__space *space = search->space;
    const jaw__curved *at = &rest->at;
    const double n = (double)space->n, unit = space->unit;
    double out[WORTH][JAW__FREE], across[2][3];
    jaw__seen seen;

    if (!jaw__see(search, at, &seen, resid))
        return JAW_ERANK;
    place(space, at, across, cylinder);
    move_axis(at, seen.root, -jaw__dot3(at->foot, at->axis[0]), out);
    turn_to(at, (const double (*)[3])across, up(at->axis[0]), out);
    set_cofactors(out, unit, cylinder->q);
    spread(seen.ssr, n, n - jaw__free(search), 1 / unit, cylinder);
    const double *q = cylinder->q;
    const double touched = seen.length / unit;
    const double tilt = touched * touched;
    if (is_weak(q[0], q[1], q[5], WEAK_COFACTOR) ||
        is_weak(q[9] * tilt, q[10] * tilt, q[12] * tilt, WEAK_COFACTOR))
        cylinder->flags |= JAW_WEAK;
    return JAW_OK;
}

jaw_status jaw__cylinder_give_up(jaw_status status, size_t n,
                                 jaw_cylinder *cylinder, double resid[])
{
    const jaw_vec3 nowhere = {JAW__NAN, JAW__NAN, JAW__NAN};

    *cylinder = (jaw_cylinder){.p = nowhere, .axis = nowhere,
                               .across = {nowhere, nowhere}, .r = JAW__NAN,
                               .ssr = JAW__NAN, .rms = JAW__NAN,
                               .s = JAW__NAN};
    for (int i = 0; i < 15; i++)
        cylinder->q[i] = cylinder->cov[i] = JAW__NAN;
    jaw__fill_nan(resid, n);
    return status;
}
