/* SPDX-License-Identifier: GPL-3.0-or-later */
/* next.c: where one more touch would reduce a value's uncertainty most.
 *
 * What a touch says does not depend on what it will read, so its gain is known
 * before it is taken (jaw_adjust_gain).  Tried are the places that were touched
 * already; for a wall that was touched in one place a second one, as far away
 * as the touched part of the sheet is long; for a round eight directions, for a
 * ball its top as well; for a bar sides and top at both ends; for a face the
 * corners of what was touched on it. */
#include "joint.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* What is worth a word: a fifth of the uncertainty, or a check in which at
 * least a tenth of a slip shows. */
#define GAIN_LEAST 0.2
#define CHECK_LEAST 0.1

typedef enum spot_kind {
    AGAIN,
    ALONG,
    AROUND,
    ON_TOP,
    BESIDE,
    CORNER,
    CONTACT
} spot_kind;

/* A touch that could be taken. */
typedef struct spot {
    spot_kind kind;
    size_t feature; /* or contact */
    size_t touch;
    double arm;   /* mm, of ALONG */
    int eighth;   /* of AROUND */
    int side;     /* of BESIDE: 1 on the left of its direction, -1, 0 on top */
    int end;      /* of BESIDE: 1 where its direction points, -1 */
    jaw_vec2 at;  /* of CORNER */
    double variance; /* of the value with it */
    bool checks;
} spot;

typedef struct search {
    jaw__solver *sv;
    const jaw_adjust *adjust;
    const jaw__want *want;
    jaw_linear *blind; /* what the unchecked equation sees; NULL: none is */
    double blind_variance;
    spot best, best_check;
} search;

#define BETTER (1 - 1e-9)

static void try_spot(search *s, spot at, const jaw_equation *e)
{
    at.variance = jaw_adjust_gain(s->adjust, e, s->want->f);
    if (!(at.variance >= 0))
        return;
    if (s->blind != NULL) {
        double left = jaw_adjust_gain(s->adjust, e, s->blind);
        at.checks = left < (1 - CHECK_LEAST) * s->blind_variance;
    }
    /* of two that gain alike, to rounding, the first is named */
    if (at.variance < s->best.variance * BETTER)
        s->best = at;
    if (at.checks && at.variance < s->best_check.variance * BETTER)
        s->best_check = at;
}

/* ------------------------------------------------------------------- places */

static const jaw_touch *touches_of(const search *s, size_t f)
{
    return s->sv->setup->touches + s->sv->setup->shares[f].first_touch;
}

/* Among very many one more adds nothing, so not all of them are tried. */
static void try_again(search *s, size_t f)
{
    const jaw_found *found = &s->sv->out->features[f];

    for (size_t i = 0; i < found->n && i < JAW__SAME_AMONG; i++) {
        jaw_equation e =
            jaw__touch_equation(s->sv, (long)f, touches_of(s, f)[i],
                                jaw__touch_first(s->sv, (long)f, i));
        try_spot(s, (spot){.kind = AGAIN, .feature = f, .touch = i}, &e);
    }
}

/* From where to where everything was touched, along a direction. */
static void extent_along(const jaw_setup *setup, jaw_vec2 dir, double *low,
                         double *high)
{
    *low = HUGE_VAL;
    *high = -HUGE_VAL;
    for (size_t i = 0; i < setup->n_touches; i++) {
        double at = dir.x * setup->touches[i].x + dir.y * setup->touches[i].y;
        if (isnan(at))
            continue;
        *low = fmin(*low, at);
        *high = fmax(*high, at);
    }
}

static jaw_vec2 along_of(const search *s, size_t f)
{
    double theta = s->sv->joint->parts[f].at[1];

    return (jaw_vec2){cos(theta), sin(theta)};
}

/* To the side on which it stays nearer to what was touched: past the other end
 * there may be a jaw. */
static void try_along(search *s, size_t f)
{
    jaw_vec2 dir = along_of(s, f);
    double low, high;

    extent_along(s->sv->setup, dir, &low, &high);
    if (!s->sv->joint->parts[f].assumed || !(high > low))
        return;
    for (size_t i = 0; i < s->sv->out->features[f].n; i++) {
        jaw_touch t = touches_of(s, f)[i];
        double at = dir.x * t.x + dir.y * t.y;
        double arm = at - low > high - at ? low - high : high - low;
        t.x += arm * dir.x;
        t.y += arm * dir.y;
        jaw_equation e =
            jaw__touch_equation(s->sv, (long)f, t,
                                jaw__touch_first(s->sv, (long)f, i));
        try_spot(s,
                 (spot){.kind = ALONG, .feature = f, .touch = i, .arm = arm},
                 &e);
    }
}

static void try_around(search *s, size_t f)
{
    const jaw__part *part = &s->sv->joint->parts[f];

    for (int k = 0; k < 8 && !part->pairs; k++) {
        double a = M_PI / 4 * k, r = part->at[2];
        jaw_touch t = {part->at[0] + r * cos(a), part->at[1] + r * sin(a),
                       (double)NAN};
        jaw_equation e = jaw__touch_equation(s->sv, (long)f, t, true);
        try_spot(s, (spot){.kind = AROUND, .feature = f, .eighth = k}, &e);
    }
}

/* The reading of z of a tip whose centre stands at that machine Z. */
static double reading_of(const search *s, size_t f, double z)
{
    const jaw_setup *setup = s->sv->setup;
    jaw_tip tip = jaw__tip_now(s->sv, &setup->features[f]);
    long at = jaw__find_tip(setup, setup->features[f].tip);

    return z - jaw_tip_side(&tip) -
           s->sv->joint->node_at[jaw__tip_node(s->sv, (size_t)at)];
}

static double reach_of(const search *s, size_t f, double radius)
{
    jaw_tip tip = jaw__tip_now(s->sv, &s->sv->setup->features[f]);

    return radius + jaw_tip_side(&tip);
}

/* Level with its centre, and on top. */
static void try_ball(search *s, size_t f)
{
    const double *at = s->sv->joint->parts[f].at;
    double r = reach_of(s, f, at[3]);

    for (int k = 0; k < 9; k++) {
        double a = M_PI / 4 * k, level = k < 8 ? r : 0;
        jaw_touch t = {at[0] + level * cos(a), at[1] + level * sin(a),
                       reading_of(s, f, at[2] + (k < 8 ? 0 : r))};
        jaw_equation e = jaw__touch_equation(s->sv, (long)f, t, true);
        try_spot(s,
                 (spot){.kind = k < 8 ? AROUND : ON_TOP,
                        .feature = f,
                        .eighth = k},
                 &e);
    }
}

/* On both sides level with its axis and on top, at both ends of what was
 * touched. */
static void try_bar(search *s, size_t f)
{
    const double *at = s->sv->joint->parts[f].at;
    const jaw_bar *bar = &s->sv->out->features[f].as.bar;
    jaw_vec2 dir = along_of(s, f);
    double r = reach_of(s, f, at[4]), w = hypot(1, at[3]);

    for (int k = 0; k < 6; k++) {
        int end = k % 2 ? 1 : -1, side = k / 2 - 1;
        double run = end * bar->span / 2 / w;
        double up = side == 0 ? r * w : 0;
        jaw_touch t = {bar->point.x + run * dir.x - side * r * dir.y,
                       bar->point.y + run * dir.y + side * r * dir.x,
                       reading_of(s, f, at[2] + at[3] * run + up)};
        jaw_equation e = jaw__touch_equation(s->sv, (long)f, t, true);
        try_spot(s,
                 (spot){.kind = BESIDE, .feature = f, .side = side, .end = end},
                 &e);
    }
}

/* Any direction that was not read yet. */
static void try_dial(search *s, size_t f)
{
    for (int k = 0; k < 8; k++) {
        jaw_touch t = {M_PI / 4 * k, (double)NAN, 0};
        jaw_equation e = jaw__touch_equation(s->sv, (long)f, t, true);
        try_spot(s, (spot){.kind = AROUND, .feature = f, .eighth = k}, &e);
    }
}

static void try_corners(search *s, size_t f)
{
    const jaw_touch *t = touches_of(s, f);
    jaw_vec2 low = {HUGE_VAL, HUGE_VAL}, high = {-HUGE_VAL, -HUGE_VAL};

    if (s->sv->joint->parts[f].n != 3)
        return;
    for (size_t i = 0; i < s->sv->out->features[f].n; i++) {
        low = (jaw_vec2){fmin(low.x, t[i].x), fmin(low.y, t[i].y)};
        high = (jaw_vec2){fmax(high.x, t[i].x), fmax(high.y, t[i].y)};
    }
    for (int k = 0; k < 4; k++) {
        jaw_vec2 at = {k & 1 ? high.x : low.x, k & 2 ? high.y : low.y};
        jaw_equation e = jaw__touch_equation(
            s->sv, (long)f, (jaw_touch){at.x, at.y, 0}, true);
        try_spot(s, (spot){.kind = CORNER, .feature = f, .at = at}, &e);
    }
}

static void try_feature(search *s, size_t f)
{
    const jaw_found *found = &s->sv->out->features[f];

    if (found->status != JAW_OK || found->kind == JAW_PATTERN)
        return;
    try_again(s, f);
    switch (found->kind) {
    case JAW_FACE: try_corners(s, f); break;
    case JAW_BORE:
    case JAW_BOSS: try_around(s, f); break;
    case JAW_BALL: try_ball(s, f); break;
    case JAW_BAR: try_bar(s, f); break;
    case JAW_DIAL: try_dial(s, f); break;
    default: try_along(s, f); break; /* a sweep is never assumed */
    }
}

static void try_contacts(search *s)
{
    jaw_equation e;

    for (size_t i = 0; i < s->sv->setup->n_contacts; i++)
        if (jaw__contact_equation(s->sv, i, &e))
            try_spot(s, (spot){.kind = CONTACT, .feature = i}, &e);
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

static void where_text(const search *s, const spot *at, char *text,
                       size_t size)
{
    static const char *const eighth[] = {
        "on its x+ side", "between its x+ and y+ sides", "on its y+ side",
        "between its x- and y+ sides", "on its x- side",
        "between its x- and y- sides", "on its y- side",
        "between its x+ and y- sides",
    };
    jaw_vec2 dir = along_of(s, at->feature);
    double sign = at->arm > 0 ? 1 : -1;

    switch (at->kind) {
    case ALONG:
        snprintf(text, size, "%s along it toward %s from %s",
                 jaw__length_text(s->sv, fabs(at->arm)).s,
                 toward((jaw_vec2){sign * dir.x, sign * dir.y}),
                 place_text(s->sv, at->feature, at->touch).s);
        break;
    case AROUND: snprintf(text, size, "%s", eighth[at->eighth]); break;
    case ON_TOP: snprintf(text, size, "on top"); break;
    case BESIDE:
        if (at->side == 0)
            snprintf(text, size, "on top, at its %s end",
                     toward((jaw_vec2){at->end * dir.x, at->end * dir.y}));
        else
            snprintf(text, size, "on its %s side, at its %s end",
                     toward((jaw_vec2){-at->side * dir.y, at->side * dir.x}),
                     toward((jaw_vec2){at->end * dir.x, at->end * dir.y}));
        break;
    case CORNER:
        snprintf(text, size, "near x %s, y %s",
                 jaw__length_text(s->sv, at->at.x).s,
                 jaw__length_text(s->sv, at->at.y).s);
        break;
    default:
        snprintf(text, size, "as in %s",
                 place_text(s->sv, at->feature, at->touch).s);
        break;
    }
}

static const char *spot_text(const search *s, const spot *at)
{
    char text[300], where[160];
    bool ok = true;

    if (at->kind == CONTACT) {
        const jaw_contact_entry *c = &s->sv->setup->contacts[at->feature];
        snprintf(text, sizeof text, "touch '%.100s' once more, as in %s",
                 c->surface, jaw__line_text(s->sv->setup, c->place).s);
    } else {
        where_text(s, at, where, sizeof where);
        const jaw_feature_entry *e = &s->sv->setup->features[at->feature];
        snprintf(text, sizeof text, "%s '%.100s' once more, %s",
                 jaw__is_indicated(e->kind) ? "read" : "touch", e->name, where);
    }
    const char *copy = jaw__pool_text(&s->sv->out->names, text, &ok);
    s->sv->no_memory |= !ok;
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
    bool good = s->blind != NULL;
    for (size_t k = 0; good && k < JAW_ADJUST_BLOCK_MAX; k++)
        if (e->block != JAW_NO_BLOCK && e->local[k] != 0)
            good = jaw_linear_local(s->blind, e->block, k, e->local[k]) ==
                   JAW_OK;
    for (size_t k = 0; good && k < e->n_shared; k++)
        good = jaw_linear_shared(s->blind, e->which[k], e->shared[k]) ==
               JAW_OK;
    s->blind_variance = e->sigma * e->sigma;
    return good;
}

static const spot *choose(const search *s, double now)
{
    double least = (1 - GAIN_LEAST) * (1 - GAIN_LEAST) * now;

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
    if (look_at_blind(&s)) {
        for (size_t f = 0; f < sv->setup->n_features; f++)
            try_feature(&s, f);
        try_contacts(&s);
    } else {
        sv->no_memory = true;
    }
    jaw_linear_free(s.blind);
    const spot *best = choose(&s, now);
    if (best == NULL)
        return;
    next->text = spot_text(&s, best);
    next->checks = best->checks;
    next->half95 = want->half95 * sqrt(best->variance / now) *
                   (want->mixed ? 1
                                : jaw_trust_cover(0.95, want->dof + 1) /
                                      jaw_trust_cover(0.95, want->dof));
}
