/* SPDX-License-Identifier: GPL-3.0-or-later */
/* monte_cylinder.c: trials of a cylinder fit, as monte_sphere.c does those of a
 * sphere: each touch is moved square to the axis, away from it.  A trial starts
 * from the known answer and goes on by Gauss and Newton's steps; the radius is
 * eliminated (it is the mean distance), which leaves two shifts and two tilts.
 * One that moves too far for that, or does not settle, goes to
 * jaw_fit_cylinder. */
#include "eliminate.h"
#include "random.h"
#include "trials.h"

#include "src/base/vec3.h"

#include <math.h>
#include <stdlib.h>

enum { FREE = 4 };

typedef struct plan {
    const jaw_monte_places *touches;
    jaw_cylinder fit;
    double length;       /* how far the touches reach along the axis */
    jaw_vec3 *moved;     /* n: touches of one trial, from fit.p, along
                            fit.across[0], fit.across[1] and fit.axis */
    double *far;         /* n: their distances from a trial's axis */
    double (*row)[FREE]; /* n: how those change */
} plan;

/* Distance of one touch from the axis through (at[0], at[1], 0) in direction
 * (at[2], at[3], 1), and its derivatives: with v square to the axis from a
 * touch's place beside it, a shift moves it by -v, a tilt by height times
 * that. */
static double look_at(const double at[FREE], const jaw_vec3 *p,
                      double row[FREE])
{
    const double s = at[2], t = at[3], square = 1 + s * s + t * t;
    const double x = p->x - at[0], y = p->y - at[1];
    const double height = (s * x + t * y + p->z) / square;
    const double vx = x - height * s, vy = y - height * t, vz = p->z - height;
    const double far = sqrt(vx * vx + vy * vy + vz * vz);

    row[0] = -vx / far;
    row[1] = -vy / far;
    row[2] = height * row[0];
    row[3] = height * row[1];
    return far;
}

/* One step; by how much it moves the touches at most, or NaN.  *r belongs to
 * the axis as it was. */
static double step(const plan *p, double at[FREE], double *r)
{
    const size_t n = p->touches->n;
    const double part = 1 / (double)n;
    double mean[FREE] = {0}, a[FREE][JAW__COLUMNS] = {{0}};

    *r = 0;
    for (size_t i = 0; i < n; i++) {
        p->far[i] = look_at(at, &p->moved[i], p->row[i]);
        *r += p->far[i] * part;
        for (int k = 0; k < FREE; k++)
            mean[k] += p->row[i][k] * part;
    }
    for (size_t i = 0; i < n; i++)
        for (int k = 0; k < FREE; k++) {
            const double u = p->row[i][k] - mean[k];
            for (int j = 0; j < FREE; j++)
                a[k][j] += u * (p->row[i][j] - mean[j]);
            a[k][FREE] -= u * (p->far[i] - *r);
        }
    if (!jaw__eliminate(FREE, a))
        return (double)NAN;
    for (int k = 0; k < FREE; k++)
        at[k] += a[k][FREE];
    return fabs(a[0][FREE]) + fabs(a[1][FREE]) +
           p->length * (fabs(a[2][FREE]) + fabs(a[3][FREE]));
}

/* How far the cylinder of one trial lies from that of all. */
static bool settle(const plan *p, double value[])
{
    double at[FREE] = {0}, r = 0, went = HUGE_VAL;
    const double far = p->fit.r;

    for (int i = 0; i < JAW__STEPS_MOST && went > JAW__SETTLED * far; i++)
        went = step(p, at, &r);
    for (int k = 0; k < FREE; k++)
        value[k] = at[k];
    value[FREE] = r - far;
    return went <= JAW__SETTLED * far &&
           hypot(at[0], at[1]) < JAW__FAR_SHARE * far &&
           p->length * hypot(at[2], at[3]) < JAW__FAR_SHARE * far;
}

/* A trial by itself, as anybody would. */
static bool fit_alone(const plan *p, double value[])
{
    jaw_cylinder c;

    if (jaw_fit_cylinder(p->moved, p->touches->n, NULL, &c, NULL) != JAW_OK ||
        !(fabs(c.axis.z) > JAW__FAR_SHARE))
        return false;
    value[2] = c.axis.x / c.axis.z;
    value[3] = c.axis.y / c.axis.z;
    value[0] = c.p.x - c.p.z * value[2];
    value[1] = c.p.y - c.p.z * value[3];
    value[4] = c.r - p->fit.r;
    return true;
}

/* A touch from fit.p, along the fit's own directions. */
static jaw_vec3 seen(const jaw_cylinder *fit, jaw_vec3 q)
{
    const jaw_vec3 d = {q.x - fit->p.x, q.y - fit->p.y, q.z - fit->p.z};

    return (jaw_vec3){jaw__dot(d, fit->across[0]), jaw__dot(d, fit->across[1]),
                      jaw__dot(d, fit->axis)};
}

static jaw_status one(void *context, jaw_random *random, double value[])
{
    const plan *p = context;
    const jaw_monte_places *t = p->touches;

    for (size_t i = 0; i < t->n; i++) {
        jaw_vec3 d = seen(&p->fit, t->p[i]);
        const double by =
            1 + t->sigma[i] * jaw__random_normal(random) / hypot(d.x, d.y);
        p->moved[i] = (jaw_vec3){by * d.x, by * d.y, d.z};
    }
    return settle(p, value) || fit_alone(p, value) ? JAW_OK : JAW_ENOCONV;
}

static double length_of(const jaw_monte_places *t, const jaw_cylinder *fit)
{
    double most = 0;

    for (size_t i = 0; i < t->n; i++)
        most = fmax(most, fabs(seen(fit, t->p[i]).z));
    return most;
}

jaw_status jaw_monte_cylinder(void *touches, unsigned long long seed,
                              size_t first, size_t count, double *const out[],
                              size_t *failed)
{
    plan p = {.touches = touches};
    jaw_monte_trial trial = {one, &p, FREE + 1};
    size_t n = p.touches->n;
    jaw_status status = jaw__check_sigmas(p.touches->sigma, n);

    *failed = 0;
    if (status != JAW_OK || n < 6)
        return status != JAW_OK ? status : JAW_EFEW;
    status = jaw_fit_cylinder(p.touches->p, n, NULL, &p.fit, NULL);
    if (status != JAW_OK)
        return status;
    p.length = length_of(p.touches, &p.fit);
    p.moved = malloc(n * sizeof *p.moved);
    p.far = malloc(n * sizeof *p.far);
    p.row = malloc(n * sizeof *p.row);
    status = p.moved && p.far && p.row
                 ? jaw_monte_each(&trial, seed, first, count, out, failed)
                 : JAW_ENOMEM;
    free(p.moved);
    free(p.far);
    free(p.row);
    return status;
}
