/* SPDX-License-Identifier: GPL-3.0-or-later */
/* monte_sphere.c: trials of a sphere fit, as monte_circle.c does those of a
 * circle: each touch is moved along its direction from the centre.  A trial
 * starts from the known answer and goes on by Gauss and Newton's steps; the
 * radius is eliminated (it is the mean distance), which leaves three unknowns
 * whose directions are seen from their mean.  One that moves too far for that,
 * or does not settle, goes to jaw_fit_sphere. */
#include "eliminate.h"
#include "random.h"
#include "trials.h"

#include <math.h>
#include <stdlib.h>

typedef struct plan {
    const jaw_monte_places *touches;
    jaw_sphere fit;
    double *off;     /* n: residuals of the fit */
    jaw_vec3 *moved; /* n: the touches of one trial, seen from its centre */
    jaw_vec3 *out;   /* n: their directions */
} plan;

/* Mean direction and mean distance of the touches from c. */
static double look_from(const plan *p, const double c[3], double mean[3])
{
    size_t n = p->touches->n;
    double r = 0;

    mean[0] = mean[1] = mean[2] = 0;
    for (size_t i = 0; i < n; i++) {
        jaw_vec3 d = {p->moved[i].x - c[0], p->moved[i].y - c[1],
                      p->moved[i].z - c[2]};
        double far = sqrt(d.x * d.x + d.y * d.y + d.z * d.z);
        p->out[i] = (jaw_vec3){d.x / far, d.y / far, d.z / far};
        p->off[i] = far;
        mean[0] += p->out[i].x / (double)n;
        mean[1] += p->out[i].y / (double)n;
        mean[2] += p->out[i].z / (double)n;
        r += far / (double)n;
    }
    return r;
}

/* One step of c; how far it went, or NaN.  *r belongs to c as it was. */
static double step(const plan *p, double c[3], double *r)
{
    double mean[3], a[3][JAW__COLUMNS] = {{0}};

    *r = look_from(p, c, mean);
    for (size_t i = 0; i < p->touches->n; i++) {
        const double u[3] = {p->out[i].x - mean[0], p->out[i].y - mean[1],
                             p->out[i].z - mean[2]};
        for (int k = 0; k < 3; k++) {
            for (int j = 0; j < 3; j++)
                a[k][j] += u[k] * u[j];
            a[k][3] += u[k] * (p->off[i] - *r);
        }
    }
    if (!jaw__eliminate(3, a))
        return (double)NAN;
    for (int k = 0; k < 3; k++)
        c[k] += a[k][3];
    return sqrt(a[0][3] * a[0][3] + a[1][3] * a[1][3] + a[2][3] * a[2][3]);
}

/* How far the sphere of one trial lies from that of all. */
static bool settle(const plan *p, double value[4])
{
    double c[3] = {0, 0, 0}, r = 0, went = HUGE_VAL, far = p->fit.r;

    for (int i = 0; i < JAW__STEPS_MOST && went > JAW__SETTLED * far; i++)
        went = step(p, c, &r);
    double moved = sqrt(c[0] * c[0] + c[1] * c[1] + c[2] * c[2]);
    for (int k = 0; k < 3; k++)
        value[k] = c[k];
    value[3] = r - p->fit.r;
    return went <= JAW__SETTLED * far && moved < JAW__FAR_SHARE * far;
}

/* A trial by itself, as anybody would. */
static bool fit_alone(const plan *p, double value[4])
{
    jaw_sphere s;

    if (jaw_fit_sphere(p->moved, p->touches->n, &s, NULL) != JAW_OK)
        return false;
    value[0] = s.x;
    value[1] = s.y;
    value[2] = s.z;
    value[3] = s.r - p->fit.r;
    return true;
}

static jaw_status one(void *context, jaw_random *random, double value[])
{
    const plan *p = context;
    const jaw_monte_places *t = p->touches;

    for (size_t i = 0; i < t->n; i++) {
        jaw_vec3 d = {t->p[i].x - p->fit.x, t->p[i].y - p->fit.y,
                      t->p[i].z - p->fit.z};
        double far = sqrt(d.x * d.x + d.y * d.y + d.z * d.z);
        double by = 1 + t->sigma[i] * jaw__random_normal(random) / far;
        p->moved[i] = (jaw_vec3){by * d.x, by * d.y, by * d.z};
    }
    return settle(p, value) || fit_alone(p, value) ? JAW_OK : JAW_ENOCONV;
}

jaw_status jaw_monte_sphere(void *touches, unsigned long long seed,
                            size_t first, size_t count, double *const out[],
                            size_t *failed)
{
    plan p = {.touches = touches};
    jaw_monte_trial trial = {one, &p, 4};
    size_t n = p.touches->n;
    jaw_status status = jaw__check_sigmas(p.touches->sigma, n);

    *failed = 0;
    if (status != JAW_OK || n < 4)
        return status != JAW_OK ? status : JAW_EFEW;
    status = jaw_fit_sphere(p.touches->p, n, &p.fit, NULL);
    if (status != JAW_OK)
        return status;
    p.off = malloc(n * sizeof *p.off);
    p.moved = malloc(n * sizeof *p.moved);
    p.out = malloc(n * sizeof *p.out);
    status = p.off && p.moved && p.out
                 ? jaw_monte_each(&trial, seed, first, count, out, failed)
                 : JAW_ENOMEM;
    free(p.off);
    free(p.moved);
    free(p.out);
    return status;
}
