/* SPDX-License-Identifier: GPL-3.0-or-later */
/* trials.c: where touches crowd on a short arc, or on a small cap of a ball, the
 * circle, sphere or cylinder is no longer nearly linear in them, and +- from the
 * covariance may be wrong.  There the touches are tried with errors drawn from
 * their repeat (JCGM 101), and what comes out is held against the linear figure
 * as its clause 8 asks. */
#include "solve.h"

#include <math.h>
#include <stdlib.h>

/* One block of JCGM 101, 7.9: enough for the one digit that is compared.  Where
 * the arc is so short that a trial needs a fit of its own, trials are dear and
 * few are enough to see it, so a first look goes before; its interval ends are
 * good to a tenth, and CLEARLY is twice that.  FIRST_FEW bounds what a sheet of
 * nothing but such circles may cost. */
enum { TRIALS = 10000, LOOK_MOST = 1000, LOOK_LEAST = 200, LOOK_WORK = 20000,
       FIRST_FEW = 10 };
#define CLEARLY 0.2

/* What is tried: the touches of a round in the plane, of a ball or bar in
 * space.  Axes: x, y, z; of a bar across it and in height. */
typedef struct rim {
    jaw_feature_kind kind;
    size_t n, axes;
    jaw_vec2 *p;
    jaw_vec3 *q;
    double *sigma;
    double half[3]; /* linear, of each axis */
    jaw_vec3 across[2]; /* of a bar, the directions tried */
    jaw_monte_touches flat;
    jaw_monte_places solid;
    jaw_monte_model model;
} rim;

enum { VALUES_MOST = 5 };

static jaw_monte_model rim_model(rim *r)
{
    if (r->kind == JAW_BALL)
        return (jaw_monte_model){jaw_monte_sphere, &r->solid, 4};
    if (r->kind == JAW_BAR)
        return (jaw_monte_model){jaw_monte_cylinder, &r->solid, 5};
    return (jaw_monte_model){jaw_monte_circle, &r->flat, 3};
}

static bool rim_take(const jaw__solver *sv, size_t f, rim *r)
{
    const jaw__share *share = &sv->setup->shares[f];
    const jaw_touch *t = sv->setup->touches + share->first_touch;

    r->kind = sv->out->features[f].kind;
    r->n = share->n_touches;
    r->axes = r->kind == JAW_BALL ? 3 : 2;
    r->p = malloc(r->n * sizeof *r->p);
    r->q = malloc(r->n * sizeof *r->q);
    r->sigma = malloc(r->n * sizeof *r->sigma);
    if (r->p == NULL || r->q == NULL || r->sigma == NULL)
        return false;
    for (size_t i = 0; i < r->n; i++) {
        r->p[i] = (jaw_vec2){t[i].x, t[i].y};
        r->q[i] = (jaw_vec3){t[i].x, t[i].y, t[i].z};
        r->sigma[i] = sv->out->features[f].repeat;
    }
    r->flat = (jaw_monte_touches){r->p, r->n, r->sigma};
    r->solid = (jaw_monte_places){r->q, r->n, r->sigma};
    r->model = rim_model(r);
    return true;
}

/* Cofactors of what is tried. */
static jaw_status rim_cofactors(rim *r, double q[3])
{
    jaw_circle c;
    jaw_sphere s;
    jaw_cylinder b;
    jaw_status status;

    if (r->kind == JAW_BALL) {
        status = jaw_fit_sphere(r->q, r->n, &s, NULL);
        q[0] = s.q[0];
        q[1] = s.q[4];
        q[2] = s.q[7];
    } else if (r->kind == JAW_BAR) {
        status = jaw_fit_cylinder(r->q, r->n, NULL, &b, NULL);
        q[0] = b.q[0];
        q[1] = b.q[5];
        r->across[0] = b.across[0];
        r->across[1] = b.across[1];
    } else {
        status = jaw_fit_circle(r->p, r->n, &c, NULL);
        q[0] = c.q[0];
        q[1] = c.q[3];
    }
    return status;
}

/* Linear half-widths. */
static jaw_status rim_linear(rim *r)
{
    double q[3] = {(double)NAN, (double)NAN, (double)NAN};
    jaw_status status = rim_cofactors(r, q);
    double cover = jaw_trust_cover(0.95, (double)INFINITY) * r->sigma[0];

    for (size_t k = 0; k < 3; k++)
        r->half[k] = cover * sqrt(q[k]);
    return status;
}

/* A trial of a bar that needs a fit of its own is looked for all round. */
static size_t look_trials(const rim *r)
{
    size_t n = r->kind == JAW_BAR ? LOOK_LEAST : LOOK_WORK / r->n;

    return n > LOOK_MOST ? LOOK_MOST : n < LOOK_LEAST ? LOOK_LEAST : n;
}

/* A few trials. */
static jaw_status rim_look(const rim *r, jaw_monte_summary out[])
{
    size_t n = look_trials(r), failed;
    double *x = malloc(VALUES_MOST * n * sizeof *x);

    if (x == NULL)
        return JAW_ENOMEM;
    double *const all[VALUES_MOST] = {x, x + n, x + 2 * n, x + 3 * n,
                                      x + 4 * n};
    jaw_status status =
        r->model.run(r->model.context, 1, 0, n, all, &failed);
    for (size_t k = 0; k < r->axes && status == JAW_OK; k++)
        status = jaw_monte_summarize(all[k], n, 0.95, &out[k]);
    free(x);
    return status;
}

static jaw_status rim_try(const rim *r, jaw_monte_summary out[])
{
    jaw_monte_plan plan = {.seed = 1, .most = TRIALS, .p = 0.95, .digits = 1,
                           .share = 1};
    size_t trials;
    bool settled;

    return jaw_monte_settle(&r->model, &plan, out, &trials, &settled);
}

static bool clearly_off(const jaw_monte_summary *s, double half)
{
    return fabs(s->low + half) > CLEARLY * half ||
           fabs(s->high - half) > CLEARLY * half;
}

/* Tells whether trials deny the linear half-widths. */
static jaw_status deny(const rim *r, jaw_monte_summary out[], bool *denied)
{
    jaw_status status = rim_look(r, out);

    *denied = false;
    for (size_t k = 0; k < r->axes && status == JAW_OK; k++)
        *denied = *denied || clearly_off(&out[k], r->half[k]);
    if (status != JAW_OK || *denied)
        return status;
    status = rim_try(r, out);
    for (size_t k = 0; k < r->axes && status == JAW_OK; k++)
        *denied = *denied || !jaw_monte_agrees(&out[k], 0, r->half[k], 1);
    return status;
}

/* The trials' height counts along across[1], which may point down. */
static void tell_bar(jaw__solver *sv, const jaw_feature_entry *e, const rim *r,
                     const jaw_monte_summary out[])
{
    const bool down = r->across[1].z < 0;
    const jaw__text low = jaw__fine_text(sv, out[0].low);
    const jaw__text high = jaw__fine_text(sv, out[0].high);
    const jaw__text under =
        jaw__fine_text(sv, down ? -out[1].high : out[1].low);
    const jaw__text over = jaw__fine_text(sv, down ? -out[1].low : out[1].high);

    jaw__tell(sv, SAY_TRIALS_BAR, e->place, NULL, e->name, low.s, high.s,
              r->across[0].x > r->across[0].y ? "X+" : "Y+", under.s, over.s);
}

static void tell(jaw__solver *sv, const jaw_feature_entry *e, const rim *r,
                 const jaw_monte_summary out[])
{
    jaw__text low[3], high[3];

    for (size_t k = 0; k < r->axes; k++) {
        low[k] = jaw__fine_text(sv, out[k].low);
        high[k] = jaw__fine_text(sv, out[k].high);
    }
    if (r->kind == JAW_BALL)
        jaw__tell(sv, SAY_TRIALS_BALL, e->place, NULL, e->name, low[0].s,
                  high[0].s, low[1].s, high[1].s, low[2].s, high[2].s);
    else if (r->kind == JAW_BAR)
        tell_bar(sv, e, r, out);
    else
        jaw__tell(sv, SAY_TRIALS, e->place, NULL, jaw_feature_word(e->kind),
                  e->name, low[0].s, high[0].s, low[1].s, high[1].s);
}

static void compare(jaw__solver *sv, size_t f, rim *r)
{
    jaw_monte_summary out[VALUES_MOST];
    bool denied = false;
    jaw_status status = rim_linear(r);

    if (status == JAW_OK)
        status = deny(r, out, &denied);
    if (status == JAW_ENOMEM)
        sv->no_memory = true;
    if (denied) /* else it was judged where it was fitted */
        tell(sv, &sv->setup->features[f], r, out);
}

/* A circle, ball or bar that is found, on so short an arc or so small a cap that
 * its fit says so. */
static bool is_short(const jaw__solver *sv, size_t f)
{
    const jaw_found *found = &sv->out->features[f];

    return found->status == JAW_OK && (found->flags & JAW_WEAK) &&
           (found->kind == JAW_BORE || found->kind == JAW_BOSS ||
            found->kind == JAW_BALL || found->kind == JAW_BAR) &&
           sv->setup->features[f].size_use != JAW_SIZE_KNOWN;
}

static void try_round(jaw__solver *sv, size_t f)
{
    rim r = {.p = NULL};

    if (rim_take(sv, f, &r))
        compare(sv, f, &r);
    else
        sv->no_memory = true;
    free(r.p);
    free(r.q);
    free(r.sigma);
}

void jaw__try_rounds(jaw__solver *sv)
{
    size_t seen = 0;

    for (size_t f = 0; f < sv->setup->n_features; f++) {
        if (!is_short(sv, f))
            continue;
        if (seen++ == FIRST_FEW) {
            jaw__tell(sv, SAY_NOT_TRIED, sv->setup->features[f].place, NULL,
                      (int)FIRST_FEW);
            return;
        }
        try_round(sv, f);
    }
}
