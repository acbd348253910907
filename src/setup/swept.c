/* SPDX-License-Identifier: GPL-3.0-or-later */
/* swept.c: what an indicator saw: a wall's direction (sweep) and a round's centre
 * (dial), from align.h; and how a wall lies after it was tapped, against how it
 * lay before. */
#include "worth.h"

#include <math.h>
#include <stdlib.h>

/* The joint adjustment judges the scatter, so no repeat is given here. */
static const double no_repeat = (double)NAN;

static jaw_status find_sweep(const jaw_feature_entry *e, const double at[],
                             const double reading[], size_t n,
                             jaw_swept_edge *sweep, double resid[])
{
    jaw_swept_wall wall;
    jaw_status status = jaw_align_wall(at, reading, n, e->faces, no_repeat,
                                       &wall, resid);
    double skew = wall.skew.value;

    *sweep = (jaw_swept_edge){
        .faces = e->faces,
        .skew = skew,
        .theta = jaw__along_x(e->faces) ? skew : jaw_angle_half(skew + M_PI / 2),
        .straight = wall.straight,
        .span = wall.span,
        .rms = wall.rms,
        .dof = wall.dof,
        .flags = wall.flags,
    };
    return status;
}

static jaw_status find_dial(const jaw_feature_entry *e, const double angle[],
                            const double reading[], size_t n,
                            jaw_swept_centre *dial, double resid[])
{
    jaw_swept_round round;
    double radius =
        e->size_use == JAW_SIZE_FREE ? (double)NAN : e->size / 2;
    jaw_status status = jaw_align_round(angle, reading, n, e->inside, radius,
                                        no_repeat, &round, resid);
    jaw_vec2 shift = {round.shift[0].value, round.shift[1].value};

    *dial = (jaw_swept_centre){
        .centre = {e->stands.x + shift.x, e->stands.y + shift.y},
        .shift = shift,
        .roundness = round.roundness,
        .second = round.second,
        .rms = round.rms,
        .dof = round.dof,
        .flags = round.flags,
    };
    return status;
}

jaw_status jaw__find_swept(const jaw__solver *sv, size_t f, jaw_found *found,
                           double resid[])
{
    const jaw_feature_entry *e = &sv->setup->features[f];
    const jaw__share *share = &sv->setup->shares[f];
    const jaw_touch *t = sv->setup->touches + share->first_touch;
    size_t n = share->n_touches;
    double *at = malloc(2 * n * sizeof *at);

    if (at == NULL)
        return JAW_ENOMEM;
    for (size_t i = 0; i < n; i++) {
        at[i] = e->kind == JAW_SWEEP && !jaw__along_x(e->faces) ? t[i].y : t[i].x;
        at[n + i] = t[i].z;
    }
    jaw_status status =
        e->kind == JAW_SWEEP
            ? find_sweep(e, at, at + n, n, &found->as.sweep, resid)
            : find_dial(e, at, at + n, n, &found->as.dial, resid);
    free(at);
    return status;
}

/* -------------------------------------------------------------------- tapped */

/* The sweep that came before; JAW__NOWHERE when there is none, which was then
 * said. */
static long before_of(jaw__solver *sv, const jaw_feature_entry *e, size_t f)
{
    long at = jaw__find_feature(sv->setup, e->after);

    if (at == JAW__NOWHERE || sv->setup->features[at].kind != JAW_SWEEP ||
        (size_t)at == f) {
        jaw__tell(sv, SAY_AFTER_UNKNOWN, e->after_place, NULL, e->after);
        return JAW__NOWHERE;
    }
    if (sv->setup->features[at].faces != e->faces) {
        jaw__tell(sv, SAY_AFTER_OTHER, e->after_place, NULL, e->after,
                  jaw_side_word(sv->setup->features[at].faces), e->name,
                  jaw_side_word(e->faces));
        return JAW__NOWHERE;
    }
    return sv->out->features[at].status == JAW_OK ? at : JAW__NOWHERE;
}

static void compare(jaw__worth *w, size_t f)
{
    const jaw_feature_entry *e = &w->sv->setup->features[f];
    jaw_found *found = &w->sv->out->features[f];
    long before = before_of(w->sv, e, f);

    if (before == JAW__NOWHERE || found->status != JAW_OK)
        return;
    found->changed = found->as.sweep.skew -
                     w->sv->out->features[before].as.sweep.skew;
    jaw__form_start(w);
    jaw__put_direction(w, f, 1);
    jaw__put_direction(w, (size_t)before, -1);
    found->changed_trust = jaw__weigh(w);
}

void jaw__compare_sweeps(jaw__worth *w)
{
    for (size_t f = 0; f < w->sv->setup->n_features; f++)
        if (w->sv->setup->features[f].kind == JAW_SWEEP &&
            w->sv->setup->features[f].after != NULL)
            compare(w, f);
}
