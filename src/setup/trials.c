/* SPDX-License-Identifier: GPL-3.0-or-later */
/* trials.c: where touches crowd on a short arc the circle is no longer nearly
 * linear in them, and +- from the covariance may be wrong.  There the touches
 * are tried with errors drawn from their repeat (JCGM 101), and what comes out
 * is held against the linear figure as its clause 8 asks. */
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

typedef struct rim {
    jaw_vec2 *p;
    double *sigma;
    size_t n;
} rim;

static bool rim_take(const jaw__solver *sv, size_t f, rim *r)
{
    const jaw__share *share = &sv->setup->shares[f];
    const jaw_touch *t = sv->setup->touches + share->first_touch;

    r->n = share->n_touches;
    r->p = malloc(r->n * sizeof *r->p);
    r->sigma = malloc(r->n * sizeof *r->sigma);
    if (r->p == NULL || r->sigma == NULL)
        return false;
    for (size_t i = 0; i < r->n; i++) {
        r->p[i] = (jaw_vec2){t[i].x, t[i].y};
        r->sigma[i] = sv->out->features[f].repeat;
    }
    return true;
}

/* Linear half-widths of x and y, from the cofactors of the circle. */
static jaw_status rim_linear(const rim *r, double half[2])
{
    jaw_circle c;
    jaw_status status = jaw_fit_circle(r->p, r->n, &c, NULL);

    if (status != JAW_OK)
        return status;
    double cover = jaw_trust_cover(0.95, (double)INFINITY) * r->sigma[0];
    half[0] = cover * sqrt(c.q[0]);
    half[1] = cover * sqrt(c.q[3]);
    return JAW_OK;
}

static size_t look_trials(const rim *r)
{
    size_t n = LOOK_WORK / r->n;

    return n > LOOK_MOST ? LOOK_MOST : n < LOOK_LEAST ? LOOK_LEAST : n;
}

/* A few trials of x and y. */
static jaw_status rim_look(const rim *r, jaw_monte_summary out[2])
{
    jaw_monte_touches touches = {r->p, r->n, r->sigma};
    size_t n = look_trials(r), failed;
    double *x = malloc(3 * n * sizeof *x);

    if (x == NULL)
        return JAW_ENOMEM;
    double *const all[] = {x, x + n, x + 2 * n};
    jaw_status status = jaw_monte_circle(&touches, 1, 0, n, all, &failed);
    for (size_t k = 0; k < 2 && status == JAW_OK; k++)
        status = jaw_monte_summarize(all[k], n, 0.95, &out[k]);
    free(x);
    return status;
}

static jaw_status rim_try(const rim *r, jaw_monte_summary out[3])
{
    jaw_monte_touches touches = {r->p, r->n, r->sigma};
    jaw_monte_model model = {jaw_monte_circle, &touches, 3};
    jaw_monte_plan plan = {.seed = 1, .most = TRIALS, .p = 0.95, .digits = 1,
                           .share = 1};
    size_t trials;
    bool settled;

    return jaw_monte_settle(&model, &plan, out, &trials, &settled);
}

static bool clearly_off(const jaw_monte_summary *s, double half)
{
    return fabs(s->low + half) > CLEARLY * half ||
           fabs(s->high - half) > CLEARLY * half;
}

/* Tells whether trials deny the linear half-widths. */
static jaw_status deny(const rim *r, const double half[2],
                       jaw_monte_summary out[3], bool *denied)
{
    jaw_status status = rim_look(r, out);

    *denied = status == JAW_OK && (clearly_off(&out[0], half[0]) ||
                                   clearly_off(&out[1], half[1]));
    if (status != JAW_OK || *denied)
        return status;
    status = rim_try(r, out);
    *denied = status == JAW_OK &&
              !(jaw_monte_agrees(&out[0], 0, half[0], 1) &&
                jaw_monte_agrees(&out[1], 0, half[1], 1));
    return status;
}

static void compare(jaw__solver *sv, size_t f, const rim *r)
{
    const jaw_feature_entry *e = &sv->setup->features[f];
    jaw_monte_summary out[3];
    double half[2];
    bool denied = false;
    jaw_status status = rim_linear(r, half);

    if (status == JAW_OK)
        status = deny(r, half, out, &denied);
    if (status == JAW_ENOMEM)
        sv->no_memory = true;
    if (!denied)
        return; /* the circle itself was judged where it was fitted */
    jaw__tell(sv, SAY_TRIALS, e->place, NULL, jaw_feature_word(e->kind),
              e->name, jaw__fine_text(sv, out[0].low).s,
              jaw__fine_text(sv, out[0].high).s,
              jaw__fine_text(sv, out[1].low).s,
              jaw__fine_text(sv, out[1].high).s);
}

/* A circle that is found, on an arc so short that its fit says so. */
static bool is_short(const jaw__solver *sv, size_t f)
{
    const jaw_found *found = &sv->out->features[f];

    return found->status == JAW_OK && (found->flags & JAW_WEAK) &&
           (found->kind == JAW_BORE || found->kind == JAW_BOSS) &&
           sv->setup->features[f].size_use != JAW_SIZE_KNOWN;
}

static void try_round(jaw__solver *sv, size_t f)
{
    rim r = {NULL, NULL, 0};

    if (rim_take(sv, f, &r))
        compare(sv, f, &r);
    else
        sv->no_memory = true;
    free(r.p);
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
