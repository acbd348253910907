/* SPDX-License-Identifier: GPL-3.0-or-later */
/* find.c: every feature from its touches, what spoils it said in words. */
#include "joint.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static jaw_found found_nan(jaw_feature_kind kind)
{
    return (jaw_found){.kind = kind,
                       .status = JAW_EUNKNOWN,
                       .rms = (double)NAN,
                       .grown = (double)NAN,
                       .grown_over = (double)NAN,
                       .size = jaw__trust_none(),
                       .turn = jaw__trust_none(),
                       .centre = {jaw__trust_none(), jaw__trust_none()},
                       .height = (double)NAN,
                       .changed = (double)NAN,
                       .changed_trust = jaw__trust_none(),
                       .repeat = (double)NAN,
                       .where = jaw__nowhere()};
}

/* -------------------------------------------------- what is wrong, in words */

static const char *few_cure(jaw_feature_kind kind)
{
    switch (kind) {
    case JAW_BALL:
        return "touch it in at least four places: well spread round it, and "
               "on top";
    case JAW_BAR:
        return "touch it on both sides and on top at both ends, and once more "
               "between them; five touches are the least";
    case JAW_BORE:
    case JAW_BOSS:
        return "touch the wall in at least three places, well spread; or in "
               "opposite pairs, two rows with x alone and two with y alone";
    case JAW_SLOT:
    case JAW_WEB:
        return "touch each wall at least once, with a lone `/` between the "
               "two walls";
    default: return "touch it at least once";
    }
}

static const char *rank_text(jaw_feature_kind kind)
{
    switch (kind) {
    case JAW_FACE: return "lie on one line, so the tilt across it is unknown";
    case JAW_BORE:
    case JAW_BOSS:
        return "lie on one line or in too few places, so no circle follows";
    case JAW_BALL:
        return "lie on one ring or in too few places, so no ball follows";
    case JAW_BAR:
        return "lie so that more than one bar goes through them";
    case JAW_PATTERN: return "show no turn";
    default: return "are in one place, so no direction follows";
    }
}

static const char *rank_cure(jaw_feature_kind kind)
{
    switch (kind) {
    case JAW_FACE: return "take one touch well off that line";
    case JAW_BORE:
    case JAW_BOSS: return "spread the touches round the wall";
    case JAW_BALL: return "spread them round it, and take one on top";
    case JAW_BAR:
        return "touch both sides and the top at both ends, and once more "
               "between them: without that, a bar that lies across fits as "
               "well; or state its diameter as known";
    case JAW_PATTERN:
        return "use places that lie apart; where they do, check the signs and "
               "the order of the nominal ones: a mirror image shows no turn";
    default: return "touch it in a second place, far from the first";
    }
}

static const char *coordinate_cure(jaw_feature_kind kind)
{
    switch (kind) {
    case JAW_FACE: return "give x y z in each row, or z alone in all of them";
    case JAW_BALL:
    case JAW_BAR: return "give x, y and z in each row";
    case JAW_BORE:
    case JAW_BOSS:
        return "give x and y in each row; or opposite pairs, two rows with x "
               "alone and two with y alone";
    default:
        return "give x and y in each row, or the same one alone in all of "
               "them";
    }
}

static jaw_place touch_place(const jaw__solver *sv, size_t f, size_t i)
{
    const jaw__share *share = &sv->setup->shares[f];

    return sv->setup->touch_places[share->first_touch + i];
}

/* The first touch that lacks what most others have; the entry itself when none
 * stands out. */
static jaw_place lacking_place(const jaw__solver *sv, size_t f)
{
    const jaw_setup *setup = sv->setup;
    const jaw__share *share = &setup->shares[f];
    const jaw_touch *t = setup->touches + share->first_touch;
    bool high = jaw__has_height(setup->features[f].kind);

    for (size_t i = 0; i < share->n_touches; i++)
        if (high ? isnan(t[i].z) || isnan(t[i].x) || isnan(t[i].y)
                 : isnan(t[i].x) || isnan(t[i].y))
            return touch_place(sv, f, i);
    return setup->features[f].place;
}

static void say_all_aside(jaw__solver *sv, size_t f, const char *what,
                          size_t n)
{
    const jaw_feature_entry *e = &sv->setup->features[f];

    jaw__tell(sv, SAY_ALL_ASIDE, e->place, NULL, jaw_feature_word(e->kind),
              e->name, what, n, sv->setup->shares[f].n_asides);
}

static void say_few(jaw__solver *sv, size_t f)
{
    const jaw_feature_entry *e = &sv->setup->features[f];
    const jaw__share *share = &sv->setup->shares[f];

    if (share->n_asides > 0)
        say_all_aside(sv, f, "touches", share->n_touches);
    else
        jaw__tell(sv, SAY_FEW, e->place, few_cure(e->kind),
                  jaw_feature_word(e->kind), e->name, share->n_touches);
}

static void say_size(jaw__solver *sv, const jaw_feature_entry *e)
{
    jaw__tell(sv, SAY_SIZE, e->place,
              e->size_use == JAW_SIZE_KNOWN
                  ? "the size stated for it"
                  : "whether it was touched from inside or outside",
              jaw_feature_word(e->kind), e->name);
}

static void say_side_wrong(jaw__solver *sv, const jaw_feature_entry *e)
{
    char stated[40];

    snprintf(stated, sizeof stated, "faces %s",
             jaw_side_word(jaw__side_of(e)));
    jaw__tell(sv, SAY_SIDE_WRONG, e->faces_place, NULL,
              jaw_feature_word(e->kind), e->name, stated);
}

/* What an indicator read. */
static void say_unread(jaw__solver *sv, size_t f, jaw_status status)
{
    const jaw_feature_entry *e = &sv->setup->features[f];
    const jaw__share *share = &sv->setup->shares[f];
    const char *word = jaw_feature_word(e->kind);

    switch (status) {
    case JAW_EFEW:
        if (share->n_asides > 0)
            say_all_aside(sv, f, "readings", share->n_touches);
        else
            jaw__tell(sv, SAY_READINGS_FEW, e->place, NULL, word, e->name,
                      e->kind == JAW_SWEEP ? 2 : 3, share->n_touches);
        break;
    case JAW_ERANK:
        jaw__tell(sv, SAY_READINGS_RANK, e->place, NULL, word, e->name);
        break;
    case JAW_ESIDE:
        jaw__tell(sv, SAY_READINGS_ODD, e->place, NULL, word, e->name);
        break;
    case JAW_ECONFLICT:
        jaw__tell(sv, SAY_DIAL_FAR, e->size_place, NULL, e->name);
        break;
    case JAW_ENOMEM: sv->no_memory = true; break;
    default:
        jaw__tell(sv, SAY_FIT_OTHER, e->place, NULL, word, e->name,
                  jaw_status_text(status));
        break;
    }
}

static const char *shape_word(jaw_feature_kind kind)
{
    return kind == JAW_BALL ? "ball" : kind == JAW_BAR ? "bar" : "circle";
}

static void say_unsolved(jaw__solver *sv, size_t f, jaw_status status)
{
    const jaw_feature_entry *e = &sv->setup->features[f];
    const char *word = jaw_feature_word(e->kind);

    if (jaw__is_indicated(e->kind)) {
        say_unread(sv, f, status);
        return;
    }
    switch (status) {
    case JAW_EFEW: say_few(sv, f); break;
    case JAW_ERANK:
        jaw__tell(sv, SAY_RANK, e->place, rank_cure(e->kind), word, e->name,
                  rank_text(e->kind));
        break;
    case JAW_ENOTFINITE:
        jaw__tell(sv, SAY_COORDINATE, lacking_place(sv, f),
                  coordinate_cure(e->kind), word, e->name);
        break;
    case JAW_ENOCONV:
        jaw__tell(sv, SAY_NO_BEST, e->place, NULL, shape_word(e->kind),
                  e->name);
        break;
    case JAW_ESIZE: say_size(sv, e); break;
    case JAW_ESIDE:
        if (e->kind == JAW_BAR)
            jaw__tell(sv, SAY_BAR_STANDS, e->place, NULL, e->name);
        else
            say_side_wrong(sv, e);
        break;
    case JAW_ENOMEM: sv->no_memory = true; break;
    default:
        jaw__tell(sv, SAY_FIT_OTHER, e->place, NULL, word, e->name,
                  jaw_status_text(status));
        break;
    }
}

/* ------------------------------------------------------------------ solving */

/* Something round is met with a ball: where another shape meets it, its
 * readings do not say (feature.h). */
static bool tip_is_round(jaw__solver *sv, const jaw_feature_entry *e)
{
    jaw_tip tip = jaw__tip_of(sv->setup, e);

    if ((e->kind != JAW_BALL && e->kind != JAW_BAR) || tip.diameter == 0 ||
        tip.shape == JAW_TIP_BALL)
        return true;
    jaw__tell(sv, SAY_ROUND_TIP, e->tip_place, NULL, jaw_feature_word(e->kind),
              e->name, e->tip);
    return false;
}

static bool tip_is_known(jaw__solver *sv, const jaw_feature_entry *e)
{
    if (e->kind == JAW_PATTERN || jaw__is_indicated(e->kind))
        return true;
    if (e->tip == NULL || e->tip[0] == '\0') {
        jaw__tell(sv, SAY_NO_TIP, e->place, NULL, jaw_feature_word(e->kind),
                 e->name);
        return false;
    }
    long tip = jaw__find_tip(sv->setup, e->tip);
    if (tip != JAW__NOWHERE)
        return !sv->tip_bad[tip] /* said where the tip stands */ &&
               tip_is_round(sv, e);
    jaw__text hint = jaw__tip_hint(sv->setup, e->tip);
    jaw__tell(sv, SAY_TIP_UNKNOWN, e->tip_place, hint.s, e->tip);
    return false;
}

static bool sides_agree(jaw__solver *sv, const jaw_feature_entry *e,
                        const jaw_tip *tip)
{
    if (e->kind != JAW_EDGE)
        return true;
    if (e->faces != JAW_SIDE_NONE && e->moving != JAW_SIDE_NONE &&
        e->moving != jaw_side_opposite(e->faces)) {
        jaw__tell(sv, SAY_SIDES_CONFLICT, e->faces_place,
                 jaw_side_word(e->faces), e->name, jaw_side_word(e->faces),
                 jaw_side_word(e->moving));
        return false;
    }
    if (jaw__side_of(e) == JAW_SIDE_NONE &&
        (jaw_tip_side(tip) > 0 || jaw__has_harmonics(sv->setup, e))) {
        jaw__tell(sv, SAY_NO_SIDE, e->place, NULL, e->name);
        return false;
    }
    return true;
}

static jaw_status find_touched(const jaw_feature_entry *e, const jaw_tip *tip,
                               const jaw_touch *t, const jaw__share *share,
                               jaw_found *found, double resid[])
{
    const double find = (double)NAN;
    size_t n = share->n_touches, na = share->first_wall;
    double known = e->size_use == JAW_SIZE_KNOWN ? e->size : find;

    switch (e->kind) {
    case JAW_EDGE:
        return jaw_feature_edge(t, n, tip, jaw__side_of(e), find,
                                &found->as.edge, resid);
    case JAW_FACE: return jaw_feature_face(t, n, tip, &found->as.face, resid);
    case JAW_BORE:
        return jaw_feature_bore(t, n, tip, known, &found->as.round, resid);
    case JAW_BOSS:
        return jaw_feature_boss(t, n, tip, known, &found->as.round, resid);
    case JAW_SLOT:
        return jaw_feature_slot(t, na, t + na, n - na, tip, find,
                                &found->as.walls, resid);
    case JAW_BALL:
        return jaw_feature_ball(t, n, tip, known, &found->as.ball, resid);
    case JAW_BAR:
        return jaw_feature_bar(t, n, tip, known, &found->as.bar, resid);
    default:
        return jaw_feature_web(t, na, t + na, n - na, tip, find,
                               &found->as.walls, resid);
    }
}

enum { MEETINGS_MAX = 20 };

/* Settled when nothing moves by more than rounding of machine coordinates. */
#define MEETING_SETTLED 1e-11

/* With a reach that depends on the direction: the tip's centres are fitted,
 * from that the directions follow, from these where the centre of a plain tip would
 * have stood, and so on.  A round gains a digit or more each time (an error of
 * the centre turns a direction by its share of the radius, and that changes the
 * reach by as small a share of a harmonic), a wall is done at once; what a
 * short arc leaves after MEETINGS_MAX the joint adjustment takes away. */
static jaw_status find_met(jaw__solver *sv, size_t f, const jaw_tip *tip,
                           double resid[])
{
    const jaw__share *share = &sv->setup->shares[f];
    const jaw_feature_entry *e = &sv->setup->features[f];
    const jaw_touch *t = sv->setup->touches + share->first_touch;
    jaw_found *found = &sv->out->features[f];
    jaw_touch *met = malloc(share->n_touches * sizeof *met);

    if (met == NULL)
        return JAW_ENOMEM;
    memcpy(met, t, share->n_touches * sizeof *met);
    jaw_status status = find_touched(e, tip, met, share, found, resid);
    for (int i = 0; i < MEETINGS_MAX && status == JAW_OK; i++) {
        jaw__came came = jaw__came_of(sv, f);
        if (jaw__meet(sv, f, &came, met) <= MEETING_SETTLED)
            break;
        status = find_touched(e, tip, met, share, found, resid);
    }
    free(met);
    return status;
}

static jaw_status find_any(jaw__solver *sv, size_t f, const jaw_tip *tip,
                           double resid[])
{
    const jaw__share *share = &sv->setup->shares[f];
    const jaw_feature_entry *e = &sv->setup->features[f];

    if (share->n_touches == 0)
        return JAW_EFEW;
    if (jaw__is_indicated(e->kind))
        return jaw__find_swept(sv, f, &sv->out->features[f], resid);
    if (e->kind != JAW_FACE && jaw__has_harmonics(sv->setup, e))
        return find_met(sv, f, tip, resid);
    return find_touched(e, tip, sv->setup->touches + share->first_touch, share,
                        &sv->out->features[f], resid);
}

/* rms, dof and flags stand in each kind of result. */
#define TAKE_QUALITY(found, part)                                              \
    ((found)->rms = (found)->as.part.rms, (found)->dof = (found)->as.part.dof, \
     (found)->flags = (found)->as.part.flags)

static void take_quality(jaw_found *found)
{
    switch (found->kind) {
    case JAW_EDGE: TAKE_QUALITY(found, edge); break;
    case JAW_FACE: TAKE_QUALITY(found, face); break;
    case JAW_BORE:
    case JAW_BOSS: TAKE_QUALITY(found, round); break;
    case JAW_SLOT:
    case JAW_WEB: TAKE_QUALITY(found, walls); break;
    case JAW_BALL: TAKE_QUALITY(found, ball); break;
    case JAW_BAR: TAKE_QUALITY(found, bar); break;
    case JAW_SWEEP: TAKE_QUALITY(found, sweep); break;
    case JAW_DIAL: TAKE_QUALITY(found, dial); break;
    default: TAKE_QUALITY(found, pattern); break;
    }
}

static void take_largest(jaw_found *found)
{
    for (size_t i = 1; i < found->n; i++)
        if (fabs(found->resid[i]) > fabs(found->resid[found->largest]))
            found->largest = i;
}

static double found_size(const jaw_found *found)
{
    switch (found->kind) {
    case JAW_BORE:
    case JAW_BOSS: return found->as.round.diameter;
    case JAW_SLOT:
    case JAW_WEB: return found->as.walls.width;
    case JAW_BALL: return found->as.ball.diameter;
    case JAW_BAR: return found->as.bar.diameter;
    default: return (double)NAN;
    }
}

/* -------------------------------------------------------------------- doubts */

static bool same_number(double a, double b)
{
    return a == b || (isnan(a) && isnan(b));
}

/* Each wall of a slot or web stands alone here: the two may share numbers. */
static void say_same_touch(jaw__solver *sv, size_t f)
{
    const jaw__share *share = &sv->setup->shares[f];
    const jaw_touch *t = sv->setup->touches + share->first_touch;
    const jaw_feature_entry *e = &sv->setup->features[f];

    for (size_t i = 1; i < share->n_touches; i++) {
        size_t from = i < share->first_wall ? 0 : share->first_wall;
        if (i - from > JAW__SAME_AMONG)
            continue;
        for (size_t j = from; j < i; j++)
            if (same_number(t[i].x, t[j].x) && same_number(t[i].y, t[j].y) &&
                same_number(t[i].z, t[j].z)) {
                jaw__tell(sv, SAY_SAME_TOUCH, touch_place(sv, f, i), NULL,
                         jaw_feature_word(e->kind), e->name, j + 1);
                break;
            }
    }
}

static void say_repeat(jaw__solver *sv, size_t f, const jaw_found *found)
{
    const jaw_feature_entry *e = &sv->setup->features[f];
    long tip = jaw__find_tip(sv->setup, e->tip);

    if (jaw__is_indicated(e->kind) && !found->repeat_stated)
        jaw__tell(sv, SAY_READING_REPEAT, e->place, NULL,
                  jaw_feature_word(e->kind), e->name,
                  jaw__fine_text(sv, found->repeat).s);
    if (tip == JAW__NOWHERE || found->repeat_stated || sv->repeat_said[tip])
        return;
    jaw__tell(sv, SAY_REPEAT_DEFAULT, sv->setup->tips[tip].place, NULL,
              e->tip, jaw__fine_text(sv, found->repeat).s);
    sv->repeat_said[tip] = true;
}

/* The first harmonic turns with the spindle.  Said once a tip. */
static void say_spindle(jaw__solver *sv, size_t f)
{
    const jaw_feature_entry *e = &sv->setup->features[f];
    long tip = jaw__find_tip(sv->setup, e->tip);

    if (e->kind == JAW_FACE || tip == JAW__NOWHERE || sv->spindle_said[tip])
        return;
    const double *h = sv->setup->tips[tip].harmonic;
    if (h[0] == 0 && h[1] == 0)
        return;
    jaw__tell(sv, SAY_SPINDLE, sv->setup->tips[tip].place, NULL, e->tip);
    sv->spindle_said[tip] = true;
}

/* Where limits are stated and the uncertainty is known, ISO 14253-1 decides;
 * otherwise the size alone. */
static bool size_fits(const jaw_feature_entry *e, double size, double within,
                      jaw_found *found)
{
    found->decided = !isnan(e->within) && !isnan(found->size.u);
    if (!found->decided)
        return fabs(size - e->size) <= within;
    found->verdict =
        jaw_trust_decide(size, found->size.u, found->size.dof,
                         e->size - within, e->size + within);
    return found->verdict != JAW_DOES_NOT;
}

/* What a drawing leaves to a hole or a slot stays far below half a percent of
 * its size; a wrong tip, unit or side does not.  Common practice, no source. */
static void judge_size(jaw__solver *sv, size_t f, jaw_found *found)
{
    const jaw_feature_entry *e = &sv->setup->features[f];
    double size = found_size(found);

    if (e->size_use != JAW_SIZE_EXPECTED || isnan(size))
        return;
    double within = isnan(e->within)
                        ? e->size / 200 + JAW__DOUBTFUL * found->repeat
                        : e->within;
    double off = size - e->size;
    if (size_fits(e, size, within, found))
        return;
    found->flags |= JAW_SIZE_OFF;
    jaw__tell(sv, SAY_SIZE_OFF, e->size_place, NULL, jaw_feature_word(e->kind),
             e->name, jaw__length_text(sv, size).s,
             jaw__length_text(sv, off).s);
}

/* After the work zeros, which may have turned walls touched in one place, and
 * when it is known how sure the sizes are. */
void jaw__judge_sizes(jaw__solver *sv)
{
    for (size_t f = 0; f < sv->setup->n_features; f++)
        if (sv->out->features[f].status == JAW_OK)
            judge_size(sv, f, &sv->out->features[f]);
}

/* A face that rises over its touches by more than they leave open is met at
 * another height elsewhere, so where Z was taken is said. */
static void say_rise(jaw__solver *sv, size_t f, const jaw_found *found)
{
    const jaw__share *share = &sv->setup->shares[f];
    const jaw_touch *t = sv->setup->touches + share->first_touch;
    const jaw_feature_entry *e = &sv->setup->features[f];
    jaw_vec2 slope = found->as.face.slope;
    double low = HUGE_VAL, high = -HUGE_VAL;

    for (size_t i = 0; i < share->n_touches; i++) {
        double z = slope.x * t[i].x + slope.y * t[i].y;
        low = fmin(low, z);
        high = fmax(high, z);
    }
    if (high - low > JAW__DOUBTFUL * M_SQRT2 * found->repeat)
        jaw__tell(sv, SAY_RISE, e->place, NULL, e->name,
                  jaw__length_text(sv, high - low).s);
}

static void judge_tilt(jaw__solver *sv, size_t f, jaw_found *found)
{
    const jaw_feature_entry *e = &sv->setup->features[f];

    if (found->kind != JAW_FACE)
        return;
    double tilt = atan(hypot(found->as.face.slope.x, found->as.face.slope.y));
    if (tilt <= JAW__STEEP) {
        say_rise(sv, f, found);
        return;
    }
    found->flags |= JAW_STEEP;
    jaw__tell(sv, SAY_TILTED, e->place, NULL, e->name, jaw__angle_text(tilt).s);
}

static void say_flags(jaw__solver *sv, size_t f, const jaw_found *found)
{
    const jaw_feature_entry *e = &sv->setup->features[f];

    if (found->flags & JAW_WEAK)
        jaw__tell(sv, SAY_WEAK, e->place, NULL, jaw_feature_word(e->kind),
                 e->name);
    if (found->flags & JAW_SAME_TOUCH)
        say_same_touch(sv, f);
    if (found->flags & JAW_LEVEL_ASSUMED)
        jaw__tell(sv, SAY_LEVEL_ASSUMED, e->place, NULL, e->name);
}

/* ------------------------------------------------------------------ patterns */

/* The touched place of one row: given, or the centre of another feature. */
static bool hole_place(jaw__solver *sv, const jaw_feature_entry *e,
                       const jaw_hole_entry *hole, jaw_vec2 *place)
{
    *place = hole->touched;
    if (hole->feature == NULL)
        return true;
    long at = jaw__find_feature(sv->setup, hole->feature);
    if (at == JAW__NOWHERE) {
        jaw__text hint = jaw__feature_hint(sv->setup, hole->feature);
        jaw__tell(sv, SAY_FEATURE_UNKNOWN, hole->place, hint.s, hole->feature);
        return false;
    }
    const jaw_found *found = &sv->out->features[at];
    if (!jaw__centre_of_found(found, place)) {
        jaw__tell(sv, SAY_HOLE_UNROUND, hole->place, NULL, hole->feature);
        return false;
    }
    if (found->status != JAW_OK) {
        jaw__tell(sv, SAY_HOLE_UNSOLVED, hole->place, hole->feature,
                 hole->feature, e->name);
        return false;
    }
    return true;
}

static void judge_pattern(jaw__solver *sv, size_t f, jaw_found *found,
                          double repeat)
{
    const jaw_feature_entry *e = &sv->setup->features[f];
    double scale = found->as.pattern.scale;
    char times[48];

    found->repeat = repeat;
    if (!(e->places_known > 0))
        jaw__tell(sv, SAY_SPACING_DEFAULT, e->place, NULL, e->name,
                  jaw__fine_text(sv, JAW_SPACING_DEFAULT).s);
    jaw_number_write(scale, 5, times, sizeof times);
    if (found->flags & JAW_SCALE_OFF && !(found->flags & JAW_MIRRORED))
        jaw__tell(sv, SAY_SCALE, e->place,
                 scale > 20 || scale < 0.05
                     ? "one of the two is in inches, the other in millimetres"
                     : "check the nominal places, and that each row names the "
                       "right hole",
                 e->name, times);
    if (found->flags & JAW_MIRRORED)
        jaw__tell(sv, SAY_MIRRORED, e->place,
                  jaw__side_task(sv->setup) == NULL
                      ? "; if the part was turned over, add `side two over x "
                        "zero at X Y Z`"
                      : ", and about which axis the part was turned over",
                  e->name);
}

/* The largest repeat of the tips behind the places; default for typed ones. */
static double pattern_repeat(const jaw_setup *setup, size_t f)
{
    const jaw__share *share = &setup->shares[f];
    double repeat = 0;

    for (size_t i = 0; i < share->n_holes; i++) {
        const char *name = setup->holes[share->first_hole + i].feature;
        long at = jaw__find_feature(setup, name);
        repeat = fmax(repeat, jaw__repeat_at(
                                  setup, &setup->features[at == JAW__NOWHERE
                                                              ? (long)f
                                                              : at]));
    }
    return repeat;
}

static bool collect_holes(jaw__solver *sv, size_t f, jaw_vec2 nominal[],
                          jaw_vec2 touched[])
{
    const jaw__share *share = &sv->setup->shares[f];
    double grown = 1 + jaw__growth_of(sv->setup, NULL);
    bool all = true;

    for (size_t i = 0; i < share->n_holes; i++) {
        const jaw_hole_entry *hole = &sv->setup->holes[share->first_hole + i];
        nominal[i] = (jaw_vec2){hole->nominal.x * grown,
                                hole->nominal.y * grown};
        if (!hole_place(sv, &sv->setup->features[f], hole, &touched[i]))
            all = false;
    }
    return all;
}

/* The longest distance between two places of the drawing, and what the part's
 * temperature adds to it. */
static void take_growth(jaw__solver *sv, size_t f, jaw_found *found)
{
    const jaw__share *share = &sv->setup->shares[f];
    const jaw_hole_entry *hole = sv->setup->holes + share->first_hole;
    double longest = 0;

    if (!sv->setup->temperature_stated)
        return;
    for (size_t i = 0; i < share->n_holes; i++)
        for (size_t k = 0; k < i; k++) {
            double x = hole[i].nominal.x - hole[k].nominal.x;
            double y = hole[i].nominal.y - hole[k].nominal.y;
            longest = fmax(longest, x * x + y * y);
        }
    found->grown_over = sqrt(longest);
    found->grown = found->grown_over * jaw__growth_of(sv->setup, NULL);
}

/* A shop is between freezing and 45 degrees; anything else was Fahrenheit or a
 * slip.  Common practice, no source. */
static void judge_temperature(jaw__solver *sv)
{
    const jaw_temperature *t = &sv->setup->temperature;
    size_t patterns = 0;
    char at[48];

    if (!sv->setup->temperature_stated)
        return;
    for (size_t f = 0; f < sv->setup->n_features; f++)
        patterns += sv->setup->features[f].kind == JAW_PATTERN ? 1 : 0;
    if (patterns == 0)
        jaw__tell(sv, SAY_NO_SPACING, t->place, NULL);
    jaw_number_write(t->at, 1, at, sizeof at);
    if (t->at < 0 || t->at > 45)
        jaw__tell(sv, SAY_TEMPERATURE, t->place, NULL, at);
}

static void say_few_holes(jaw__solver *sv, size_t f)
{
    const jaw_feature_entry *e = &sv->setup->features[f];
    const jaw__share *share = &sv->setup->shares[f];

    if (share->n_asides > 0)
        say_all_aside(sv, f, "places", share->n_holes);
    else
        jaw__tell(sv, SAY_FEW_HOLES, e->place, NULL, e->name, share->n_holes);
}

static void find_pattern(jaw__solver *sv, size_t f)
{
    const jaw__share *share = &sv->setup->shares[f];
    jaw_found *found = &sv->out->features[f];
    size_t n = share->n_holes;
    double *resid = sv->out->resid + sv->setup->n_touches + share->first_hole;

    if (n < 2) {
        say_few_holes(sv, f);
        return;
    }
    jaw_vec2 *nominal = malloc(2 * n * sizeof *nominal);
    if (nominal == NULL) {
        sv->no_memory = true;
        return;
    }
    if (collect_holes(sv, f, nominal, nominal + n)) {
        found->status = jaw_feature_pattern(nominal, nominal + n, n,
                                            &found->as.pattern, resid);
        if (found->status != JAW_OK)
            say_unsolved(sv, f, found->status);
    }
    free(nominal);
    if (found->status != JAW_OK)
        return;
    found->resid = resid;
    found->n = n;
    take_quality(found);
    take_largest(found);
    take_growth(sv, f, found);
    judge_pattern(sv, f, found, pattern_repeat(sv->setup, f));
}

/* --------------------------------------------------------------------- order */

static void find_one(jaw__solver *sv, size_t f)
{
    const jaw_feature_entry *e = &sv->setup->features[f];
    const jaw__share *share = &sv->setup->shares[f];
    jaw_found *found = &sv->out->features[f];
    double *resid = sv->out->resid + share->first_touch;

    if (!tip_is_known(sv, e))
        return;
    jaw_tip tip = jaw__tip_of(sv->setup, e);
    if (!sides_agree(sv, e, &tip))
        return;
    found->repeat = jaw__repeat_at(sv->setup, e);
    found->repeat_stated = e->repeat > 0 || !isnan(tip.repeat);
    found->status = find_any(sv, f, &tip, resid);
    if (found->status != JAW_OK) {
        say_unsolved(sv, f, found->status);
        return;
    }
    found->resid = resid;
    found->n = share->n_touches;
    take_quality(found);
    take_largest(found);
    say_repeat(sv, f, found);
    say_spindle(sv, f);
    judge_tilt(sv, f, found);
    say_flags(sv, f, found);
}

static bool outside(double value, double low, double high)
{
    return value < low || value > high; /* NaN is never outside */
}

/* The axis on which a touch lies outside the travel, or NULL. */
static const char *outside_axis(const jaw_control *c, jaw_touch t)
{
    if (outside(t.x, c->low.x, c->high.x))
        return "x";
    if (outside(t.y, c->low.y, c->high.y))
        return "y";
    return outside(t.z, c->low.z, c->high.z) ? "z" : NULL;
}

/* A reading that the machine can not have shown was typed wrong.  The first of
 * a feature is said: when the unit is wrong, all of them are. */
static void judge_travel(jaw__solver *sv, size_t f)
{
    const jaw__share *share = &sv->setup->shares[f];
    bool indicated = jaw__is_indicated(sv->setup->features[f].kind);
    char which[32];

    if (sv->setup->features[f].kind == JAW_DIAL)
        return; /* one angle is as good as another */

    for (size_t i = 0; i < share->n_touches; i++) {
        jaw_touch t = sv->setup->touches[share->first_touch + i];
        if (indicated)
            t.z = (double)NAN; /* what the indicator says */
        const char *axis = outside_axis(&sv->setup->control, t);
        if (axis == NULL)
            continue;
        snprintf(which, sizeof which, "of %s %zu",
                 indicated ? "reading" : "touch", i + 1);
        jaw__tell(sv, SAY_TRAVEL, touch_place(sv, f, i), NULL, axis, which,
                  sv->setup->features[f].name);
        return;
    }
}

static void judge_hole_travel(jaw__solver *sv, size_t f)
{
    const jaw_control *c = &sv->setup->control;
    const jaw__share *share = &sv->setup->shares[f];
    const char *name = sv->setup->features[f].name;
    char which[32];

    for (size_t i = 0; i < share->n_holes; i++) {
        const jaw_hole_entry *e = &sv->setup->holes[share->first_hole + i];
        snprintf(which, sizeof which, "of place %zu", i + 1);
        if (outside(e->touched.x, c->low.x, c->high.x))
            jaw__tell(sv, SAY_TRAVEL, e->place, NULL, "x", which, name);
        if (outside(e->touched.y, c->low.y, c->high.y))
            jaw__tell(sv, SAY_TRAVEL, e->place, NULL, "y", which, name);
    }
}

static void judge_contact_travel(jaw__solver *sv)
{
    const jaw_setup *setup = sv->setup;
    const jaw_control *c = &setup->control;

    for (size_t i = 0; i < setup->n_contacts; i++) {
        const jaw_contact_entry *e = &setup->contacts[i];
        if (outside(e->reading, c->low.z, c->high.z))
            jaw__tell(sv, SAY_TRAVEL, e->place, NULL, "z", "of a touch",
                      e->surface);
    }
}

/* An inch taken for a millimetre, or a lost point.  Common practice, no source:
 * styli and finders are between a third of a millimetre and forty thick, and
 * cutters that are brought up to an edge below eighty. */
static void judge_tip_size(jaw__solver *sv, const jaw_tip_entry *e)
{
    double most = e->tip.shape == JAW_TIP_CUTTER ? 80 : 40;

    if (e->tip.diameter == 0 ||
        (e->tip.diameter >= 0.3 && e->tip.diameter <= most))
        return;
    jaw__tell(sv, SAY_TIP_SIZE, e->place, NULL, e->name,
              jaw__length_text(sv, e->tip.diameter).s);
}

/* A tip that stands a quarter of a millimetre off, or off by its own radius,
 * was typed in the wrong unit or is bent.  Common practice, no source: a stylus
 * is set to a few hundredths. */
#define RUNOUT_MOST 0.25

static void judge_runout(jaw__solver *sv, const jaw_tip_entry *e)
{
    const double *h = e->harmonic;
    double off = hypot(h[0], h[1]) + hypot(h[2], h[3]);

    if (off > fmin(RUNOUT_MOST, e->tip.diameter / 2))
        jaw__tell(sv, SAY_TIP_RUNOUT, e->place, NULL, e->name,
                  jaw__length_text(sv, off).s);
}

static void judge_prior(jaw__solver *sv, size_t i)
{
    const jaw_tip_entry *e = &sv->setup->tips[i];
    jaw__prior prior;

    if (jaw__prior_of(e, &prior))
        return;
    sv->tip_bad[i] = true;
    jaw__tell(sv, SAY_TIP_CORRELATION, e->place, NULL, e->name);
}

static void judge_tips(jaw__solver *sv)
{
    for (size_t i = 0; i < sv->setup->n_tips; i++) {
        judge_tip_size(sv, &sv->setup->tips[i]);
        judge_runout(sv, &sv->setup->tips[i]);
        judge_prior(sv, i);
    }
}

/* Patterns last, because they may stand on bores that come after them. */
void jaw__solve_features(jaw__solver *sv)
{
    size_t n = sv->setup->n_features;

    sv->out->n_features = n;
    judge_tips(sv);
    for (size_t i = 0; i < sv->setup->n_asides; i++)
        sv->out->aside[i] = (double)NAN;
    for (size_t f = 0; f < n; f++) {
        const jaw__share *share = &sv->setup->shares[f];
        sv->out->features[f] = found_nan(sv->setup->features[f].kind);
        sv->out->features[f].aside = sv->out->aside + share->first_aside;
        sv->out->features[f].n_aside = share->n_asides;
    }
    for (size_t f = 0; f < n; f++)
        if (sv->setup->features[f].kind != JAW_PATTERN &&
            !sv->feature_bad[f]) {
            find_one(sv, f);
            judge_travel(sv, f);
        }
    for (size_t f = 0; f < n; f++)
        if (sv->setup->features[f].kind == JAW_PATTERN &&
            !sv->feature_bad[f]) {
            find_pattern(sv, f);
            judge_hole_travel(sv, f);
        }
    judge_contact_travel(sv);
    judge_temperature(sv);
}
