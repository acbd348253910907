/* SPDX-License-Identifier: GPL-3.0-or-later */
/* next.c: where one more touch would reduce a value's uncertainty most.
 *
 * What a touch says does not depend on what it will read, so its gain is known
 * before it is taken (jaw_adjust_gain). */
#include "spots.h"

#include <math.h>
#include <stdio.h>

typedef struct choice {
    const jaw__spot *spot; /* NULL: none */
    double variance;       /* of the value with it */
    bool checks;
} choice;

typedef struct search {
    jaw__solver *sv;
    const jaw_adjust *adjust;
    const jaw__want *want;
    jaw_linear *blind; /* what the unchecked equation sees; NULL: none is */
    double blind_variance;
    choice best, best_check;
} search;

static void try_spot(search *s, const jaw__spot *spot)
{
    choice at = {spot, jaw_adjust_gain(s->adjust, &spot->says, s->want->f),
                 false};

    if (!(at.variance >= 0))
        return;
    if (s->blind != NULL) {
        double left = jaw_adjust_gain(s->adjust, &spot->says, s->blind);
        at.checks = left < (1 - JAW__CHECK_LEAST) * s->blind_variance;
    }
    if (at.variance < s->best.variance * JAW__BETTER)
        s->best = at;
    if (at.checks && at.variance < s->best_check.variance * JAW__BETTER)
        s->best_check = at;
}

/* -------------------------------------------------------------------- words */

/* "line 14", or "touch 2" where there are no lines. */
static jaw__text place_text(const jaw__solver *sv, size_t f, size_t i)
{
    size_t at = sv->setup->shares[f].first_touch + i;
    jaw__text text;

    if (sv->setup->touch_places[at].line > 0)
        return jaw__line_text(sv->setup, sv->setup->touch_places[at]);
    else
        snprintf(text.s, sizeof text.s, "touch %zu", i + 1);
    return text;
}

static const char *toward(jaw_vec2 v)
{
    if (fabs(v.x) > fabs(v.y))
        return v.x > 0 ? "x+" : "x-";
    return v.y > 0 ? "y+" : "y-";
}

static void where_text(const jaw__solver *sv, const jaw__spot *at, char *text,
                       size_t size)
{
    static const char *const eighth[] = {
        "on its x+ side", "between its x+ and y+ sides", "on its y+ side",
        "between its x- and y+ sides", "on its x- side",
        "between its x- and y- sides", "on its y- side",
        "between its x+ and y- sides",
    };
    double sign = at->arm > 0 ? 1 : -1;
    jaw_vec2 end = {at->end * at->dir.x, at->end * at->dir.y};
    jaw_vec2 side = {-at->side * at->dir.y, at->side * at->dir.x};

    switch (at->kind) {
    case JAW__ALONG:
        snprintf(text, size, "%s along it toward %s from %s",
                 jaw__length_text(sv, fabs(at->arm)).s,
                 toward((jaw_vec2){sign * at->dir.x, sign * at->dir.y}),
                 place_text(sv, at->feature, at->touch).s);
        break;
    case JAW__AROUND: snprintf(text, size, "%s", eighth[at->eighth]); break;
    case JAW__ON_TOP: snprintf(text, size, "on top"); break;
    case JAW__BESIDE:
        if (at->side == 0)
            snprintf(text, size, "on top, at its %s end", toward(end));
        else
            snprintf(text, size, "on its %s side, at its %s end", toward(side),
                     toward(end));
        break;
    case JAW__CORNER:
        snprintf(text, size, "near x %s, y %s",
                 jaw__length_text(sv, at->at.x).s,
                 jaw__length_text(sv, at->at.y).s);
        break;
    default:
        snprintf(text, size, "as in %s",
                 place_text(sv, at->feature, at->touch).s);
        break;
    }
}

const char *jaw__spot_text(jaw__solver *sv, const jaw__spot *at)
{
    char text[300], where[160];
    bool ok = true;

    if (at->kind == JAW__CONTACT) {
        const jaw_contact_entry *c = &sv->setup->contacts[at->feature];
        snprintf(text, sizeof text, "touch '%.100s' once more, as in %s",
                 c->surface, jaw__line_text(sv->setup, c->place).s);
    } else {
        where_text(sv, at, where, sizeof where);
        const jaw_feature_entry *e = &sv->setup->features[at->feature];
        snprintf(text, sizeof text, "%s '%.100s' once more, %s",
                 jaw__is_indicated(e->kind) ? "read" : "touch", e->name, where);
    }
    const char *copy = jaw__pool_text(&sv->out->names, text, &ok);
    sv->no_memory |= !ok;
    return copy;
}

/* -------------------------------------------------------------------- whole */

/* The unchecked equation as a value: once its variance is less than that of its
 * own error, something else tells of it. */
static bool look_at_blind(search *s)
{
    const jaw__joint *j = s->sv->joint;

    if (!s->want->unchecked || s->want->worst >= j->n_origins)
        return true;
    const jaw_equation *e = &j->equations[s->want->worst];
    s->blind = jaw_linear_alloc(s->adjust);
    s->blind_variance = e->sigma * e->sigma;
    return jaw__add_equation(s->blind, e, 1);
}

static const choice *choose(const search *s, double now)
{
    double least = (1 - JAW__GAIN_LEAST) * (1 - JAW__GAIN_LEAST) * now;

    if (s->best.variance <= least)
        return &s->best;
    return isfinite(s->best_check.variance) ? &s->best_check : NULL;
}

/* With few degrees of freedom one more touch narrows Student's t as well; where
 * what is known has a share beside what was seen, that is left out. */
void jaw__find_next(jaw__solver *sv, const jaw__want *want, jaw_next *next)
{
    search s = {.sv = sv, .adjust = sv->joint->adjust, .want = want};
    double now = jaw_adjust_variance(s.adjust, want->f);

    *next = (jaw_next){.half95 = (double)NAN};
    s.best.variance = s.best_check.variance = (double)INFINITY;
    if (!(now > 0))
        return;
    if (sv->joint->n_spots == 0)
        jaw__list_spots(sv);
    if (look_at_blind(&s)) {
        for (size_t k = 0; k < sv->joint->n_spots; k++)
            try_spot(&s, &sv->joint->spots[k]);
    } else {
        sv->no_memory = true;
    }
    jaw_linear_free(s.blind);
    const choice *best = choose(&s, now);
    if (best == NULL)
        return;
    next->text = jaw__spot_text(sv, best->spot);
    next->checks = best->checks;
    next->half95 = want->half95 * sqrt(best->variance / now) *
                   (want->mixed ? 1
                                : jaw_trust_cover(0.95, want->dof + 1) /
                                      jaw_trust_cover(0.95, want->dof));
}
