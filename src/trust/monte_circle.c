/* SPDX-License-Identifier: GPL-3.0-or-later */
/* monte_circle.c: trials of a circle fit.  Each touch is moved along its
 * direction from the centre, that is along the wall's normal: what moves along
 * the wall changes nothing to first order.  The trials start from the known
 * answer and are fitted several at a time (circle_trials_body.h); one that
 * moves too far for that goes to jaw_fit_circle. */
#include "circle_trials.h"
#include "trials.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>

typedef struct plan {
    jaw__circle_trials t;
    jaw_circle fit;
    const jaw_monte_touches *touches;
    jaw_vec2 *moved; /* the touches of one trial */
    double c, s;     /* of the turn into the trials' axes */
    jaw__circle_group *group;
} plan;

/* Axes in which the directions' spreads are independent. */
static void turn_axes(plan *p, const double resid[])
{
    jaw__circle_trials *t = &p->t;
    double n = (double)t->n, um = 0, vm = 0, uu = 0, uv = 0, vv = 0;

    for (size_t i = 0; i < t->n; i++) {
        const jaw_vec2 *q = &p->touches->p[i];
        double d = p->fit.r + resid[i];
        t->ray[i] = (jaw__ray){.u = (q->x - p->fit.x) / d,
                               .v = (q->y - p->fit.y) / d,
                               .off = resid[i],
                               .sigma = p->touches->sigma[i]};
        um += t->ray[i].u / n;
        vm += t->ray[i].v / n;
    }
    for (size_t i = 0; i < t->n; i++) {
        double u = t->ray[i].u - um, v = t->ray[i].v - vm;
        uu += u * u;
        uv += u * v;
        vv += v * v;
    }
    double turn = atan2(2 * uv, uu - vv) / 2;
    p->c = cos(turn);
    p->s = sin(turn);
    t->um = p->c * um + p->s * vm;
    t->vm = p->c * vm - p->s * um;
}

static void respond_to(plan *p)
{
    jaw__circle_trials *t = &p->t;
    double uu = 0, vv = 0;

    for (size_t i = 0; i < t->n; i++) {
        jaw__ray *ray = &t->ray[i];
        double u = p->c * ray->u + p->s * ray->v;
        ray->v = p->c * ray->v - p->s * ray->u;
        ray->u = u;
        uu += (u - t->um) * (u - t->um);
        vv += (ray->v - t->vm) * (ray->v - t->vm);
    }
    for (size_t i = 0; i < t->n; i++) {
        t->ray[i].ka = (t->ray[i].u - t->um) / uu;
        t->ray[i].kb = (t->ray[i].v - t->vm) / vv;
    }
}

/* A trial by itself, as anybody would. */
static bool fit_alone(plan *p, size_t lane, double *x, double *y, double *r)
{
    const jaw__circle_trials *t = &p->t;
    jaw_circle c;

    for (size_t i = 0; i < t->n; i++) {
        const jaw__ray *ray = &t->ray[i];
        double d = t->r + ray->off + t->error[i * JAW__GROUP + lane];
        p->moved[i] = (jaw_vec2){d * (p->c * ray->u - p->s * ray->v),
                                 d * (p->s * ray->u + p->c * ray->v)};
    }
    bool good = jaw_fit_circle(p->moved, t->n, &c, NULL) == JAW_OK;
    *x = good ? c.x : (double)NAN;
    *y = good ? c.y : (double)NAN;
    *r = good ? c.r - t->r : (double)NAN;
    return good;
}

/* Trials first .. first + JAW__GROUP - 1, those within [from, to) into out. */
static size_t do_group(plan *p, size_t first, size_t from, size_t to,
                       double *const out[])
{
    const jaw__circle_trials *t = &p->t;
    double a[JAW__GROUP], b[JAW__GROUP], rho[JAW__GROUP], good[JAW__GROUP];
    size_t failed = 0;

    p->group(t, first, a, b, rho, good);
    for (size_t k = 0; k < JAW__GROUP; k++) {
        if (first + k < from || first + k >= to)
            continue;
        size_t i = first + k - from;
        double far = JAW__FAR_SHARE * t->r;
        out[0][i] = p->c * a[k] - p->s * b[k];
        out[1][i] = p->s * a[k] + p->c * b[k];
        out[2][i] = rho[k] - (t->um * a[k] + t->vm * b[k]);
        bool done = (good[k] > 0 && fabs(a[k]) < far && fabs(b[k]) < far) ||
                    fit_alone(p, k, &out[0][i], &out[1][i], &out[2][i]);
        failed += done ? 0 : 1;
    }
    return failed;
}

static jaw_status prepare(plan *p, double resid[])
{
    const jaw_monte_touches *touches = p->touches;
    jaw_status status = jaw_fit_circle(touches->p, touches->n, &p->fit, resid);

    if (status != JAW_OK)
        return status;
    p->t.r = p->fit.r;
    p->t.tolerance = 64 * DBL_EPSILON * p->fit.r;
    turn_axes(p, resid);
    respond_to(p);
    p->group = jaw__circle_group_avx2();
    if (p->group == NULL)
        p->group = jaw__circle_group_plain;
    return JAW_OK;
}

jaw_status jaw_monte_circle(void *touches, unsigned long long seed,
                            size_t first, size_t count, double *const out[],
                            size_t *failed)
{
    plan p = {.touches = touches, .t.seed = seed};
    size_t n = p.touches->n, start = first - first % JAW__GROUP;
    jaw_status status = jaw__check_sigmas(p.touches->sigma, n);

    *failed = 0;
    if (status != JAW_OK || n < 3)
        return status != JAW_OK ? status : JAW_EFEW;
    p.t.n = n;
    p.t.ray = malloc(n * sizeof *p.t.ray);
    p.t.error = malloc(n * JAW__GROUP * sizeof *p.t.error);
    p.moved = malloc(n * sizeof *p.moved);
    status = p.t.ray && p.t.error && p.moved ? prepare(&p, p.t.error)
                                             : JAW_ENOMEM;
    for (; status == JAW_OK && start < first + count; start += JAW__GROUP)
        *failed += do_group(&p, start, first, first + count, out);
    free(p.t.ray);
    free(p.t.error);
    free(p.moved);
    return status;
}
