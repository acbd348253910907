/* SPDX-License-Identifier: GPL-3.0-or-later */
/* datum_touches.c: of zeros by datums, whose slip goes unseen and how far it
 * moves a value, and where one more touch would help most.  The datums' touches
 * are no equations of the adjustment: they are fitted one datum after the other,
 * and how the whole goes with each of them jaw_datum_shares tells.  A slip shows
 * in the residuals of its own datum (Baarda's test, JAW__DOUBTFUL). */
#include "spots.h"
#include "worth.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A linear form of the corner and the skew, of one set of datums. */
typedef struct form {
    jaw__solver *sv;
    const jaw__lie *l;
    jaw_vec3 by;
    double skew;
    jaw__lie_touches all;
    jaw_datum_share *share; /* room for one touch more */
} form;

static bool form_open(form *f)
{
    bool good = jaw__lie_gather(f->sv, f->l, &f->all);

    f->share = malloc((f->all.n + 1) * sizeof *f->share);
    good = good && f->share != NULL;
    if (!good)
        f->sv->no_memory = true;
    return good;
}

static void form_close(form *f)
{
    jaw__lie_drop(&f->all);
    free(f->share);
}

/* The touches as they are now, and how the whole goes with each. */
static bool find_shares(const form *f, jaw_attitude *a)
{
    const jaw_datum *d = f->all.d;
    jaw_status status = jaw_datum_shares(&d[0], &d[1], &d[2], a, f->share);

    if (status == JAW_ENOMEM)
        f->sv->no_memory = true;
    return status == JAW_OK;
}

/* What the form goes by for what moves corner and turn; the skew's part is a
 * turn about Z but for the tilt (jaw__lie_spread). */
static double moved_by(const form *f, const double moved[6])
{
    double g[3];

    jaw__skew_gradient(&f->l->a, g);
    return f->by.x * moved[0] + f->by.y * moved[1] + f->by.z * moved[2] +
           f->skew * (g[0] * moved[3] + g[1] * moved[4] + g[2] * moved[5]);
}

/* ------------------------------------------------------------- unseen slips */

/* Which datum a touch is of, and which one of it. */
static int datum_of(const form *f, size_t touch, size_t *own)
{
    int k = 0;

    for (*own = touch; *own >= f->all.d[k].n; k++)
        *own -= f->all.d[k].n;
    return k;
}

/* As jaw_adjust_reach: one that nothing checks comes before all others, the one
 * that moves most of those. */
static double find_reach(const form *f, double u, size_t *whose)
{
    double most = 0, loosest = 0;

    *whose = f->all.n;
    for (size_t i = 0; i < f->all.n; i++) {
        const jaw_datum_share *s = &f->share[i];
        double moved =
            fabs(moved_by(f, s->moved)) * s->sigma * f->l->grown;
        bool blind = !(s->redundancy > JAW__FOLLOWS);
        if (blind && !(moved > JAW_TRUST_SHARE_NONE * u &&
                       moved * JAW__BETTER > loosest))
            continue;
        double reach = blind ? (double)INFINITY
                             : JAW_TRUST_SHIFT * moved * s->resid_u / s->sigma /
                                   s->redundancy;
        if (!(reach * JAW__BETTER > most) && !blind)
            continue;
        most = reach;
        loosest = blind ? moved : loosest;
        *whose = i;
    }
    return most;
}

double jaw__lie_reach(jaw__solver *sv, const jaw__lie *l, jaw_vec3 by,
                      double skew, double u, jaw_place *where)
{
    form f = {.sv = sv, .l = l, .by = by, .skew = skew};
    double reach = (double)NAN;
    jaw_attitude a;
    size_t whose, own;

    if (form_open(&f) && find_shares(&f, &a)) {
        reach = find_reach(&f, u, &whose);
        if (whose < f.all.n) {
            int k = datum_of(&f, whose, &own);
            size_t at = sv->setup->shares[l->feature[k]].first_touch + own;
            *where = sv->setup->touch_places[at];
        }
    }
    form_close(&f);
    return reach;
}

/* ------------------------------------------------------------- one more touch */

typedef struct choice {
    jaw__spot spot;
    double half95; /* NaN: none */
} choice;

typedef struct search {
    form f;
    const jaw_value_trust *own;
    size_t blind;    /* touch that nothing checks; f.all.n: there is none */
    choice best, best_check;
} search;

/* u: of the datums' part with the touch more. */
static void take(search *s, const jaw__spot *spot, double u, bool checks)
{
    jaw_value_trust with = *s->own;

    jaw__join(&with, u, s->f.l->dof + 1);
    choice at = {*spot, with.half95};

    if (!(at.half95 >= s->best.half95 * JAW__BETTER))
        s->best = at;
    if (checks && !(at.half95 >= s->best_check.half95 * JAW__BETTER))
        s->best_check = at;
}

/* Taken again, touch i of leverage h takes (what it moves)^2 / (1 + h) from the
 * variance (an equation more: jaw_adjust_gain).  One that its datum follows
 * wholly is checked by its own repetition and by no other's. */
static void try_again(search *s, size_t i)
{
    const jaw_datum_share *share = &s->f.share[i];
    double u = jaw__lie_spread(s->f.l, s->f.by, s->f.skew);
    double moved =
        moved_by(&s->f, share->moved) * share->sigma * s->f.l->grown;
    jaw__spot spot = {.kind = JAW__AGAIN};
    int k = datum_of(&s->f, i, &spot.touch);

    spot.feature = s->f.l->feature[k];
    u = sqrt(fmax(0, u * u - moved * moved / (2 - share->redundancy)));
    take(s, &spot, u, i == s->blind);
}

/* One more of the primary, in a new place: all is found anew. */
static void try_place(search *s, jaw_touch t, jaw__spot spot)
{
    jaw__lie_touches *all = &s->f.all;
    jaw__lie l = *s->f.l;
    size_t n = all->d[0].n, blind = s->blind + (s->blind >= n ? 1 : 0);
    bool none = s->blind == all->n;
    jaw_attitude a;

    all->t[0][all->d[0].n++] = t;
    bool good = find_shares(&s->f, &a);
    all->d[0].n--;
    if (!good)
        return;
    memcpy(l.a.cov, a.cov, sizeof l.a.cov);
    spot.feature = l.feature[0];
    take(s, &spot, l.grown * jaw__lie_spread(&l, s->f.by, s->f.skew),
         !none && s->f.share[blind].redundancy >= JAW__CHECK_LEAST);
}

/* On the plane of the primary, near a corner of what was touched of it. */
static jaw_touch corner(const search *s, jaw_vec2 at)
{
    const jaw_touch *t = s->f.all.t[0];
    const jaw_attitude *a = &s->f.l->a;

    return (jaw_touch){at.x, at.y,
                       t->z - (a->turn[0][2] * (at.x - t->x) +
                               a->turn[1][2] * (at.y - t->y)) /
                                  a->turn[2][2]};
}

static void try_corners(search *s)
{
    const jaw_touch *t = s->f.all.t[0];
    jaw_vec2 low = {HUGE_VAL, HUGE_VAL}, high = {-HUGE_VAL, -HUGE_VAL};

    for (size_t i = 0; i < s->f.all.d[0].n; i++) {
        low = (jaw_vec2){fmin(low.x, t[i].x), fmin(low.y, t[i].y)};
        high = (jaw_vec2){fmax(high.x, t[i].x), fmax(high.y, t[i].y)};
    }
    for (int k = 0; k < 4; k++) {
        jaw_vec2 at = {k & 1 ? high.x : low.x, k & 2 ? high.y : low.y};
        try_place(s, corner(s, at),
                  (jaw__spot){.kind = JAW__CORNER, .at = at});
    }
}

static void try_all(search *s)
{
    for (size_t i = 0; i < s->f.all.n; i++)
        try_again(s, i);
    try_corners(s); /* writes over the shares */
}

/* One that the adjustment proposes for its own part, where that is better. */
static void or_of_adjustment(jaw__worth *w, const search *s,
                             const jaw_value_trust *whole, jaw_next *next)
{
    double u = jaw__lie_spread(s->f.l, s->f.by, s->f.skew);
    jaw_next other;

    jaw__next_beside(w, s->own, u, s->f.l->dof, whole, &other);
    if (other.text != NULL && !(other.half95 >= next->half95))
        *next = other;
}

void jaw__next_by_datums(jaw__worth *w, const jaw__lie *l, jaw_vec3 by,
                         double skew, const jaw_value_trust *own,
                         const jaw_value_trust *whole, jaw_next *next)
{
    const double nan = (double)NAN;
    search s = {.f = {.sv = w->sv, .l = l, .by = by, .skew = skew},
                .own = own,
                .best = {.half95 = nan},
                .best_check = {.half95 = nan}};
    jaw_attitude a;

    *next = (jaw_next){.half95 = nan};
    if (form_open(&s.f) && find_shares(&s.f, &a)) {
        if (!isinf(find_reach(&s.f, whole->u, &s.blind)))
            s.blind = s.f.all.n;
        try_all(&s);
    }
    form_close(&s.f);
    bool gains = s.best.half95 <= (1 - JAW__GAIN_LEAST) * whole->half95;
    const choice *best = gains ? &s.best : &s.best_check;
    if (!w->sv->no_memory && !isnan(best->half95)) {
        next->text = jaw__spot_text(w->sv, &best->spot);
        next->half95 = best->half95;
        next->checks = !isnan(s.best_check.half95) &&
                       best->half95 == s.best_check.half95;
    }
    or_of_adjustment(w, &s, whole, next);
}
