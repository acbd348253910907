/* SPDX-License-Identifier: GPL-3.0-or-later */
/* find.c: 3-2-1, the three datums in their order (ISO 5459:2011, 6). */
#include "datum.h"

#include "../base/steep.h"
#include "../feature/feature.h"

#include <stdint.h>
#include <stdlib.h>

typedef struct finder {
    const jaw_datum *datum[JAW__DATUMS];
    jaw__floor floor;
    jaw__wall wall[2];
    jaw__bench bench;
    jaw_vec3 few[JAW__FEW]; /* the bench for the sizes that people type */
    jaw_vec2 few_flat[JAW__FEW];
    double *resid[JAW__DATUMS]; /* NULL: not wanted */
    jaw_datum_share *share[JAW__DATUMS]; /* the same */
    jaw_attitude *a;
} finder;

static void clear(jaw_attitude *a)
{
    const double nan = (double)NAN;

    *a = (jaw_attitude){.origin = {nan, nan, nan},
                        .skew = nan,
                        .tilt = {nan, nan},
                        .between = {{nan, nan, nan, nan}, {nan, nan, nan, nan}},
                        .rms = {nan, nan, nan},
                        .scatter = {nan, nan, nan}};
    jaw__fill_nan(&a->turn[0][0], 9);
    jaw__fill_nan(a->cov, 21);
}

/* ------------------------------------------------------------------- given */

static jaw_status check_datum(const jaw_datum *d, size_t least)
{
    if (d->n < least)
        return JAW_EFEW;
    jaw_status status = jaw_tip_check(d->tip);
    if (status != JAW_OK)
        return status;
    for (size_t i = 0; i < d->n; i++)
        if (!isfinite(d->t[i].x) || !isfinite(d->t[i].y) ||
            !isfinite(d->t[i].z))
            return JAW_ENOTFINITE;
    if (isnan(d->repeat))
        return JAW_ENOTFINITE;
    return d->repeat > 0 && isfinite(d->repeat) ? JAW_OK : JAW_EDOMAIN;
}

static jaw_status check_sides(jaw_side second, jaw_side third)
{
    const jaw_vec2 a = jaw_side_normal(second), b = jaw_side_normal(third);

    /* NaN when one is not stated */
    return fabs(a.x) + fabs(b.x) == 1 ? JAW_OK : JAW_ESIDE;
}

static jaw_status check_all(const finder *f)
{
    static const size_t least[JAW__DATUMS] = {3, 2, 1};
    jaw_status status = JAW_OK;

    for (size_t k = 0; status == JAW_OK && k < JAW__DATUMS; k++)
        status = check_datum(f->datum[k], least[k]);
    return status != JAW_OK
               ? status
               : check_sides(f->datum[1]->faces, f->datum[2]->faces);
}

/* ------------------------------------------------------------------- planes */

static jaw_status find_floor(finder *f)
{
    const jaw_datum *d = f->datum[0];
    jaw__floor *floor = &f->floor;
    const double radius = jaw_tip_end_radius(d->tip);

    for (size_t i = 0; i < d->n; i++)
        f->bench.p[i] = (jaw_vec3){d->t[i].x, d->t[i].y, d->t[i].z + radius};
    jaw_status status = jaw_fit_plane(f->bench.p, d->n, &floor->plane,
                                      f->resid[0]);
    if (status != JAW_OK)
        return status;
    const jaw_vec3 n = floor->plane.normal;
    if (n.z < M_SQRT1_2)
        return JAW_ESIDE;
    floor->n = n;
    floor->p = jaw__plus(floor->plane.p, -(radius + jaw_tip_end(d->tip)), n);
    floor->ahead = jaw__unit_of((jaw_vec3){n.z, 0, -n.x});
    floor->aside = jaw__cross(n, floor->ahead);
    floor->sigma = d->repeat;
    return JAW_OK;
}

/* How the touches of a wall scatter; and where each stands along it, which is kept
 * in its share for put_shares, for the bench is needed again. */
static void look_along(finder *f, int k)
{
    jaw__wall *w = &f->wall[k - 1];

    w->scatter = jaw__wall_scatter(&f->floor, k == 1 ? NULL : &f->wall[0], w,
                                   f->bench.p, f->share[k]);
    for (size_t i = 0; f->share[k] != NULL && i < w->n; i++)
        f->share[k][i].redundancy =
            jaw__dot(w->along, jaw__minus(f->bench.p[i], w->mean));
}

static jaw_status find_walls(finder *f)
{
    jaw__wall *second = &f->wall[0], *third = &f->wall[1];
    jaw_status status = jaw__wall_find(f->datum[1], &f->floor, NULL, &f->bench,
                                       second, f->resid[1]);

    if (status != JAW_OK)
        return status;
    look_along(f, 1);
    f->a->between[0] =
        jaw__between_floor(f->datum[1], &f->floor, second, &f->bench);
    status = jaw__wall_find(f->datum[2], &f->floor, second, &f->bench, third,
                            f->resid[2]);
    if (status != JAW_OK)
        return status;
    look_along(f, 2);
    f->a->between[1] = jaw__between_walls(&f->floor, second, third, &f->bench);
    return fabs(f->a->between[1].value) > M_PI / 4 ? JAW_ESIDE : JAW_OK;
}

/* ------------------------------------------------------------------ results */

static void put_column(jaw_attitude *a, int k, jaw_vec3 v)
{
    a->turn[0][k] = v.x;
    a->turn[1][k] = v.y;
    a->turn[2][k] = v.z;
}

static void put_axes(const finder *f)
{
    const jaw_vec2 side = jaw_side_normal(f->datum[1]->faces);
    const jaw_vec3 z = f->floor.n, out = f->wall[0].normal;
    jaw_vec3 x, y;

    if (side.x != 0) {
        x = jaw__times(side.x, out);
        y = jaw__cross(z, x);
    } else {
        y = jaw__times(side.y, out);
        x = jaw__cross(y, z);
    }
    put_column(f->a, 0, x);
    put_column(f->a, 1, y);
    put_column(f->a, 2, z);
    f->a->skew = atan2(x.y, x.x);
    f->a->tilt[0] = atan2(z.x, z.z);
    f->a->tilt[1] = atan2(z.y, z.z);
}

static void put_origin(const finder *f)
{
    jaw_vec3 at = f->floor.p;

    for (int k = 0; k < 2; k++) {
        const jaw__wall *w = &f->wall[k];
        double off = jaw__dot(w->normal, jaw__minus(w->mean, f->floor.p));
        at = jaw__plus(at, off, w->normal);
    }
    f->a->origin = at;
}

static void put_quality(const finder *f, int k, double ssr, double scatter,
                        int dof)
{
    const jaw_datum *d = f->datum[k];
    jaw_attitude *a = f->a;

    a->dof[k] = dof;
    a->flags |= jaw__same_touch(d->t, d->n);
    if (dof < 1) {
        a->flags |= JAW_NO_CHECK;
        return;
    }
    a->rms[k] = sqrt(ssr / (double)d->n);
    a->scatter[k] = scatter;
    if (scatter > jaw_trust_chi2(JAW_TRUST_ALPHA, dof))
        a->flags |= JAW_RESIDUAL;
}

static void put_all(const finder *f)
{
    jaw_attitude *a = f->a;
    const jaw_plane *plane = &f->floor.plane;

    put_axes(f);
    put_origin(f);
    jaw__datum_cov(&f->floor, &f->wall[0], &f->wall[1], a->origin, a->cov);
    a->flags = plane->flags & JAW_WEAK;
    put_quality(f, 0, plane->ssr,
                plane->ssr / f->floor.sigma / f->floor.sigma, plane->dof);
    for (int k = 1; k < JAW__DATUMS; k++) {
        const jaw__wall *w = &f->wall[k - 1];
        put_quality(f, k, w->ssr, w->scatter, (int)w->n - 3 + k);
    }
    if (fabs(a->skew) > JAW__STEEP || fabs(a->tilt[0]) > JAW__STEEP ||
        fabs(a->tilt[1]) > JAW__STEEP)
        a->flags |= JAW_STEEP;
}

/* How much each touch has of the errors of its own datum (spread.c): least
 * squares gives an error e the share e / n of a place, and e s / sum s^2 of a
 * direction. */
static void put_share(const finder *f, int k, const double part[], int n_parts,
                      double column[][6], jaw_datum_share *share)
{
    const double sigma = k == 0 ? f->floor.sigma
                                : jaw__wall_sigma(&f->wall[k - 1]);

    for (int j = 0; j < 6; j++) {
        share->moved[j] = 0;
        for (int i = 0; i < n_parts; i++)
            share->moved[j] += part[i] * column[i][j];
    }
    share->sigma = sigma;
}

static double own_share(const jaw_datum_share *share)
{
    return share->sigma * sqrt(share->redundancy);
}

static void put_floor_shares(const finder *f, double column[][6])
{
    const jaw_datum *d = f->datum[0];
    const jaw_plane *plane = &f->floor.plane;
    const double radius = jaw_tip_end_radius(d->tip);

    for (size_t i = 0; i < d->n; i++) {
        jaw_vec3 p = {d->t[i].x, d->t[i].y, d->t[i].z + radius};
        jaw_vec3 from = jaw__minus(p, plane->p);
        double a = jaw__dot(from, plane->axis[0]);
        double b = jaw__dot(from, plane->axis[1]);
        const double part[3] = {plane->q_offset, a * plane->q_tilt[0],
                                b * plane->q_tilt[1]};
        put_share(f, 0, part, 3, column, &f->share[0][i]);
        f->share[0][i].redundancy =
            fmax(0, 1 - part[0] - a * part[1] - b * part[2]);
        f->share[0][i].resid_u = own_share(&f->share[0][i]);
    }
}

static void put_wall_shares(const finder *f, int k, double column[][6])
{
    const jaw__wall *w = &f->wall[k - 1];

    for (size_t i = 0; i < w->n; i++) {
        double s = f->share[k][i].redundancy; /* look_along */
        const double part[2] = {1 / (double)w->n, s * w->q_theta};
        put_share(f, k, part, k == 1 ? 2 : 1, column, &f->share[k][i]);
        f->share[k][i].redundancy =
            fmax(0, 1 - part[0] - (k == 1 ? s * part[1] : 0));
        f->share[k][i].resid_u =
            hypot(f->share[k][i].resid_u, own_share(&f->share[k][i]));
    }
}

static void put_shares(const finder *f)
{
    double column[JAW__DATUM_SOURCES][6];

    if (f->share[0] == NULL)
        return;
    jaw__datum_columns(&f->floor, &f->wall[0], &f->wall[1], f->a->origin,
                       column);
    put_floor_shares(f, column);
    put_wall_shares(f, 1, column + 3);
    put_wall_shares(f, 2, column + 5);
}

static jaw_status find(finder *f)
{
    jaw_status status = find_floor(f);

    if (status == JAW_OK)
        status = find_walls(f);
    if (status == JAW_OK)
        put_all(f);
    if (status == JAW_OK)
        put_shares(f);
    return status;
}

/* ------------------------------------------------------------------- memory */

static jaw_status find_on_bench(finder *f, size_t most)
{
    f->bench = (jaw__bench){f->few, f->few_flat};
    if (most <= JAW__FEW)
        return find(f);
    if (most > SIZE_MAX / sizeof *f->bench.p)
        return JAW_ENOMEM;
    f->bench.p = malloc(most * sizeof *f->bench.p);
    f->bench.flat = malloc(most * sizeof *f->bench.flat);
    jaw_status status = f->bench.p == NULL || f->bench.flat == NULL
                            ? JAW_ENOMEM
                            : find(f);
    free(f->bench.p);
    free(f->bench.flat);
    return status;
}

static jaw_status find_any(finder *f)
{
    size_t most = 0;

    clear(f->a);
    for (size_t k = 0; k < JAW__DATUMS; k++)
        most = f->datum[k]->n > most ? f->datum[k]->n : most;
    jaw_status status = check_all(f);
    if (status == JAW_OK)
        status = find_on_bench(f, most);
    if (status != JAW_OK)
        clear(f->a);
    return status;
}

jaw_status jaw_datum_find(const jaw_datum *primary, const jaw_datum *secondary,
                          const jaw_datum *tertiary, jaw_attitude *a,
                          double resid[])
{
    finder f = {.datum = {primary, secondary, tertiary}, .a = a};
    size_t count = 0;

    for (size_t k = 0; k < JAW__DATUMS; k++) {
        f.resid[k] = resid == NULL ? NULL : resid + count;
        count += f.datum[k]->n;
    }
    jaw_status status = find_any(&f);
    if (status != JAW_OK)
        jaw__fill_nan(resid, count);
    return status;
}

jaw_status jaw_datum_shares(const jaw_datum *primary,
                            const jaw_datum *secondary,
                            const jaw_datum *tertiary, jaw_attitude *a,
                            jaw_datum_share share[])
{
    finder f = {.datum = {primary, secondary, tertiary}, .a = a};
    size_t count = 0;

    for (size_t k = 0; k < JAW__DATUMS; k++) {
        f.share[k] = share + count;
        count += f.datum[k]->n;
    }
    jaw_status status = find_any(&f);
    for (size_t i = 0; status != JAW_OK && i < count; i++) {
        jaw__fill_nan(share[i].moved, 6);
        share[i].redundancy = share[i].sigma = share[i].resid_u = (double)NAN;
    }
    return status;
}
