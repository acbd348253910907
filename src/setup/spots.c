/* SPDX-License-Identifier: GPL-3.0-or-later */
/* spots.c: where one more touch could be taken.
 *
 * The places that were touched already; for a wall that was touched in one
 * place a second one, as far away as the touched part of the sheet is long; for
 * a round eight directions, for a ball its top as well; for a bar sides and top
 * at both ends; for a face the corners of what was touched on it. */
#include "spots.h"

#include <math.h>

static void add(jaw__solver *sv, jaw__spot spot)
{
    jaw__joint *j = sv->joint;
    jaw__spot *spots =
        jaw__grow(j->spots, j->n_spots, &j->room_spots, sizeof *spots);

    if (spots == NULL) {
        sv->no_memory = true;
        return;
    }
    j->spots = spots;
    spots[j->n_spots++] = spot;
}

/* first: as for jaw__touch_equation. */
static void add_touch(jaw__solver *sv, jaw__spot spot, jaw_touch t, bool first)
{
    spot.says = jaw__touch_equation(sv, (long)spot.feature, t, first);
    add(sv, spot);
}

static const jaw_touch *touches_of(const jaw__solver *sv, size_t f)
{
    return sv->setup->touches + sv->setup->shares[f].first_touch;
}

/* Among very many one more adds nothing, so not all of them are listed. */
static void list_again(jaw__solver *sv, size_t f)
{
    const jaw_found *found = &sv->out->features[f];

    for (size_t i = 0; i < found->n && i < JAW__SAME_AMONG; i++)
        add_touch(sv, (jaw__spot){.kind = JAW__AGAIN, .feature = f, .touch = i},
                  touches_of(sv, f)[i], jaw__touch_first(sv, (long)f, i));
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

static jaw_vec2 along_of(const jaw__solver *sv, size_t f)
{
    double theta = sv->joint->parts[f].at[1];

    return (jaw_vec2){cos(theta), sin(theta)};
}

/* To the side on which it stays nearer to what was touched: past the other end
 * there may be a jaw. */
static void list_along(jaw__solver *sv, size_t f)
{
    jaw_vec2 dir = along_of(sv, f);
    double low, high;

    if (!sv->joint->parts[f].assumed)
        return;
    extent_along(sv->setup, dir, &low, &high);
    if (!(high > low))
        return;
    for (size_t i = 0; i < sv->out->features[f].n; i++) {
        jaw_touch t = touches_of(sv, f)[i];
        double at = dir.x * t.x + dir.y * t.y;
        double arm = at - low > high - at ? low - high : high - low;
        t.x += arm * dir.x;
        t.y += arm * dir.y;
        add_touch(sv,
                  (jaw__spot){.kind = JAW__ALONG,
                              .feature = f,
                              .touch = i,
                              .dir = dir,
                              .arm = arm},
                  t, jaw__touch_first(sv, (long)f, i));
    }
}

static void list_around(jaw__solver *sv, size_t f)
{
    const jaw__part *part = &sv->joint->parts[f];

    for (int k = 0; k < 8 && !part->pairs; k++) {
        double a = M_PI / 4 * k, r = part->at[2];
        jaw_touch t = {part->at[0] + r * cos(a), part->at[1] + r * sin(a),
                       (double)NAN};
        add_touch(sv,
                  (jaw__spot){.kind = JAW__AROUND, .feature = f, .eighth = k},
                  t, true);
    }
}

/* The reading of z of a tip whose centre stands at that machine Z. */
static double reading_of(const jaw__solver *sv, size_t f, double z)
{
    const jaw_setup *setup = sv->setup;
    jaw_tip tip = jaw__tip_now(sv, &setup->features[f]);
    long at = jaw__find_tip(setup, setup->features[f].tip);

    return z - jaw_tip_side(&tip) -
           sv->joint->node_at[jaw__tip_node(sv, (size_t)at)];
}

static double reach_of(const jaw__solver *sv, size_t f, double radius)
{
    jaw_tip tip = jaw__tip_now(sv, &sv->setup->features[f]);

    return radius + jaw_tip_side(&tip);
}

/* Level with its centre, and on top. */
static void list_ball(jaw__solver *sv, size_t f)
{
    const double *at = sv->joint->parts[f].at;
    double r = reach_of(sv, f, at[3]);

    for (int k = 0; k < 9; k++) {
        bool top = k == 8;
        double a = M_PI / 4 * k, level = top ? 0 : r;
        jaw_touch t = {at[0] + level * cos(a), at[1] + level * sin(a),
                       reading_of(sv, f, at[2] + (top ? r : 0))};
        add_touch(sv,
                  (jaw__spot){.kind = top ? JAW__ON_TOP : JAW__AROUND,
                              .feature = f,
                              .eighth = k},
                  t, true);
    }
}

/* On both sides level with its axis and on top, at both ends of what was
 * touched. */
static void list_bar(jaw__solver *sv, size_t f)
{
    const double *at = sv->joint->parts[f].at;
    const jaw_bar *bar = &sv->out->features[f].as.bar;
    jaw_vec2 dir = along_of(sv, f);
    double r = reach_of(sv, f, at[4]), w = hypot(1, at[3]);

    for (int k = 0; k < 6; k++) {
        int end = k % 2 ? 1 : -1, side = k / 2 - 1;
        double run = end * bar->span / 2 / w;
        double up = side == 0 ? r * w : 0;
        jaw_touch t = {bar->point.x + run * dir.x - side * r * dir.y,
                       bar->point.y + run * dir.y + side * r * dir.x,
                       reading_of(sv, f, at[2] + at[3] * run + up)};
        add_touch(sv,
                  (jaw__spot){.kind = JAW__BESIDE,
                              .feature = f,
                              .dir = dir,
                              .side = side,
                              .end = end},
                  t, true);
    }
}

/* Any direction that was not read yet. */
static void list_dial(jaw__solver *sv, size_t f)
{
    for (int k = 0; k < 8; k++)
        add_touch(sv,
                  (jaw__spot){.kind = JAW__AROUND, .feature = f, .eighth = k},
                  (jaw_touch){M_PI / 4 * k, (double)NAN, 0}, true);
}

static void list_corners(jaw__solver *sv, size_t f)
{
    const jaw_touch *t = touches_of(sv, f);
    jaw_vec2 low = {HUGE_VAL, HUGE_VAL}, high = {-HUGE_VAL, -HUGE_VAL};

    if (sv->joint->parts[f].n != 3)
        return;
    for (size_t i = 0; i < sv->out->features[f].n; i++) {
        low = (jaw_vec2){fmin(low.x, t[i].x), fmin(low.y, t[i].y)};
        high = (jaw_vec2){fmax(high.x, t[i].x), fmax(high.y, t[i].y)};
    }
    for (int k = 0; k < 4; k++) {
        jaw_vec2 at = {k & 1 ? high.x : low.x, k & 2 ? high.y : low.y};
        add_touch(sv, (jaw__spot){.kind = JAW__CORNER, .feature = f, .at = at},
                  (jaw_touch){at.x, at.y, 0}, true);
    }
}

static void list_feature(jaw__solver *sv, size_t f)
{
    const jaw_found *found = &sv->out->features[f];

    if (found->status != JAW_OK || found->kind == JAW_PATTERN)
        return;
    list_again(sv, f);
    switch (found->kind) {
    case JAW_FACE: list_corners(sv, f); break;
    case JAW_BORE:
    case JAW_BOSS: list_around(sv, f); break;
    case JAW_BALL: list_ball(sv, f); break;
    case JAW_BAR: list_bar(sv, f); break;
    case JAW_DIAL: list_dial(sv, f); break;
    default: list_along(sv, f); break; /* a sweep is never assumed */
    }
}

static void list_contacts(jaw__solver *sv)
{
    jaw__spot spot = {.kind = JAW__CONTACT};

    for (size_t i = 0; i < sv->setup->n_contacts; i++) {
        spot.feature = i;
        if (jaw__contact_equation(sv, i, &spot.says))
            add(sv, spot);
    }
}

void jaw__list_spots(jaw__solver *sv)
{
    for (size_t f = 0; f < sv->setup->n_features; f++)
        list_feature(sv, f);
    list_contacts(sv);
}
