/* SPDX-License-Identifier: GPL-3.0-or-later */
/* judge.c: which touch, place, size or tip the rest does not bear out, and in
 * which words that is said.
 *
 * Each is one thing that may have slipped.  A slip takes the square of its test
 * out of the sum of squares (Baarda 1968), so its likelihood goes with
 * exp(square / 2), and the one to blame is named only when it is far more
 * likely than all others together; several are named only when no single one
 * explains it (data snooping, iterated: Kok, NOAA TR NOS 100 NGS 28, 1984; the
 * level of the tests that follow: Rosner, Technometrics 25 (1983) 165-172). */
#include "worth.h"

#include <math.h>

/* Tests this alike are the same test, but for rounding. */
#define ALIKE 1e-3

/* Likelihood of a test against that of the largest one. */
static double likelihood(double test, double most)
{
    if (isnan(test))
        return 0;
    if (fabs(test) > (1 - ALIKE) * most)
        return 1;
    return exp((test * test - most * most) / 2);
}

/* How likely it is that one of those with the largest test is to blame; `other`
 * is a test beside theirs. */
static double blame(const jaw_touch_trust t[], size_t n, double most,
                    double other)
{
    double sum = 0, top = fmax(most, other);

    for (size_t i = 0; i < n; i++)
        sum += likelihood(t[i].standard, top);
    return likelihood(most, top) / (sum + likelihood(other, top));
}

/* The largest; of those that are equal to rounding the first. */
static size_t largest_test(const jaw_touch_trust t[], size_t n)
{
    size_t worst = 0;

    for (size_t i = 1; i < n; i++)
        if (isnan(t[worst].standard) ||
            fabs(t[i].standard) > fabs(t[worst].standard) + 1e-9)
            worst = i;
    return worst;
}

/* -------------------------------------------------------------- known sizes */

/* A size with a spread is an equation like any other: what the rest has against
 * it is its residual over its redundancy. */
static double spread_size_test(const jaw__worth *w, size_t f, double *off)
{
    size_t id = w->j->size_equation[f];
    jaw_reliability r = jaw_adjust_reliability(w->j->adjust, id);

    if (!(r.redundancy > 0))
        return 0;
    *off = -w->j->equations[id].off / r.redundancy;
    return fabs(r.standard);
}

/* By how much the touches would have the exact radius of a bore or boss larger,
 * if it were free, and the standard deviation of that: one more unknown with
 * the coefficients g = 1 is g' P v / (g' P g - g' P A N^-1 A' P g) (Baarda 1968;
 * an error of the model in more than one equation).  What is not known for good
 * of the tip is among A. */
static double radius_misfit(const jaw__worth *w, size_t f, double *spread)
{
    const jaw__share *share = &w->sv->setup->shares[f];
    const size_t *id = w->j->touch_equation + share->first_touch;
    jaw_linear *form = jaw_linear_alloc(w->j->adjust);
    double all = 0, sum = 0;
    bool good = form != NULL;

    for (size_t i = 0; good && i < share->n_touches; i++) {
        const jaw_equation *e = &w->j->equations[id[i]];
        double weight = 1 / (e->sigma * e->sigma);
        all += weight;
        sum += weight * e->off;
        good = jaw__add_equation(form, e, weight);
    }
    double left = good ? all - jaw_adjust_variance(w->j->adjust, form) : NAN;
    jaw_linear_free(form);
    if (isnan(left))
        w->sv->no_memory = true;
    if (!(left > 1e-9 * all)) /* so short an arc shows no radius */
        return 0;
    *spread = 1 / sqrt(left);
    return sum / left;
}

static double size_test(const jaw__worth *w, size_t f, double *off)
{
    const jaw_feature_entry *e = &w->sv->setup->features[f];
    const jaw__part *part = &w->j->parts[f];
    bool round = e->kind == JAW_BORE || e->kind == JAW_BOSS;
    double spread = (double)NAN;

    *off = 0;
    if (e->size_use != JAW_SIZE_KNOWN || part->pairs)
        return 0;
    if (part->sized || (round && part->n == 3))
        return spread_size_test(w, f, off);
    if (!round)
        return 0;
    *off = radius_misfit(w, f, &spread);
    return spread > 0 ? fabs(*off) / spread : 0;
}

/* ------------------------------------------------------------------ touches */

static void weigh_touches(jaw__worth *w, size_t f)
{
    const jaw__share *share = &w->sv->setup->shares[f];
    jaw_found *found = &w->sv->out->features[f];
    jaw_touch_trust *touch = w->sv->out->touch + share->first_touch;

    for (size_t i = 0; i < share->n_touches; i++) {
        size_t equation = w->j->touch_equation[share->first_touch + i];
        jaw_reliability r = jaw_adjust_reliability(w->j->adjust, equation);
        if (isnan(r.redundancy)) {
            w->sv->no_memory = true;
            return;
        }
        double times = jaw__times(w, &w->j->origins[equation]);
        touch[i] = (jaw_touch_trust){r.redundancy, r.standard, JAW__DOUBTFUL,
                                     r.noticeable * times};
    }
    found->touch = touch;
}

/* The others agree when none of their tests is a doubt; with so many of them
 * each is held to its share of that level, or one in a hundred sets would have
 * one too many (Rosner 1983). */
static bool rest_agrees(const jaw__worth *w, size_t f, size_t left_out)
{
    const jaw__share *share = &w->sv->setup->shares[f];
    const size_t *equation = w->j->touch_equation + share->first_touch;
    double others = fmax(1, (double)share->n_touches - 1);
    double limit =
        jaw_trust_cover(1 - JAW_TRUST_ALPHA / others, (double)INFINITY);

    for (size_t i = 0; i < share->n_touches; i++) {
        if (i == left_out)
            continue;
        jaw_reliability r = jaw_adjust_without(
            w->j->adjust, equation[left_out], equation[i]);
        if (fabs(r.standard) > limit)
            return false;
    }
    return true;
}

/* How many are tried: leaving one out takes its test's square away, so that
 * only large ones can be the one. */
enum { TRIED = 8 };

/* The touches of a feature agree once one of them is left out. */
static bool is_one_slip(const jaw__worth *w, size_t f)
{
    const jaw_found *found = &w->sv->out->features[f];
    double below = HUGE_VAL;

    for (int k = 0; k < TRIED; k++) { /* from the largest test down */
        size_t next = found->n;
        for (size_t i = 0; i < found->n; i++) {
            double test = fabs(found->touch[i].standard);
            if (test < below - 1e-9 &&
                (next == found->n ||
                 test > fabs(found->touch[next].standard)))
                next = i;
        }
        if (next == found->n)
            return false;
        below = fabs(found->touch[next].standard);
        if (rest_agrees(w, f, next))
            return true;
    }
    return false;
}

/* What the touch lies off the others: its residual over its redundancy. */
static double off_of(const jaw_found *found, size_t i)
{
    const jaw_touch_trust *t = &found->touch[i];

    return fabs(t->standard) * found->repeat / sqrt(t->redundancy);
}

/* Of an indicator. */
static void say_reading(jaw__worth *w, size_t f, size_t worst, jaw_place place)
{
    jaw__solver *sv = w->sv;
    const jaw_found *found = &sv->out->features[f];
    const jaw_feature_entry *e = &sv->setup->features[f];
    const char *word = jaw_feature_word(e->kind);
    jaw__text off = jaw__length_text(sv, off_of(found, worst));
    jaw__text repeat = jaw__fine_text(sv, found->repeat);
    double most = fabs(found->touch[worst].standard);

    if (blame(found->touch, found->n, most, 0) >= JAW__NAMED)
        jaw__tell(sv, SAY_READING_OFF, place, NULL, worst + 1, word, e->name,
                  off.s, repeat.s);
    else
        jaw__tell(sv, SAY_READINGS_SLIP, e->place, NULL, word, e->name, off.s,
                  repeat.s);
}

static void say_touch(jaw__worth *w, size_t f, size_t worst, double size)
{
    jaw__solver *sv = w->sv;
    const jaw_found *found = &sv->out->features[f];
    const jaw_feature_entry *e = &sv->setup->features[f];
    const char *word = jaw_feature_word(e->kind);
    jaw_place place =
        sv->setup->touch_places[sv->setup->shares[f].first_touch + worst];
    double most = fabs(found->touch[worst].standard);
    jaw__text off = jaw__length_text(sv, off_of(found, worst));
    jaw__text repeat = jaw__fine_text(sv, found->repeat);

    if (!is_one_slip(w, f) && jaw__tell_suspects(sv, f))
        return;
    if (jaw__is_indicated(e->kind)) {
        say_reading(w, f, worst, place);
        return;
    }
    if (blame(found->touch, found->n, most, size) >= JAW__NAMED)
        jaw__tell(sv, SAY_RESIDUAL, place, NULL, worst + 1, word, e->name,
                  off.s, repeat.s);
    else if (blame(found->touch, found->n, most, 0) >= JAW__NAMED ||
             size > JAW__DOUBTFUL)
        jaw__tell(sv, SAY_SIZE_OR_TOUCH, e->place, NULL, word, e->name);
    else
        jaw__tell(sv, SAY_SLIP, e->place, NULL, word, e->name, off.s,
                  repeat.s);
}

/* The size is far more likely to be wrong than any touch. */
static bool is_size(const jaw_found *found, double most, double size)
{
    double sum = 0, top = fmax(most, size), own = likelihood(size, top);

    for (size_t i = 0; i < found->n; i++)
        sum += likelihood(found->touch[i].standard, top);
    return own >= JAW__NAMED * (own + sum);
}

/* A size that is known is one more that may be wrong.  It takes the blame only
 * when it is far more likely than any touch. */
static void judge_touches(jaw__worth *w, size_t f)
{
    jaw_found *found = &w->sv->out->features[f];
    const jaw_feature_entry *e = &w->sv->setup->features[f];
    double off, size = size_test(w, f, &off);
    size_t worst = largest_test(found->touch, found->n);
    double most = fabs(found->touch[worst].standard);

    if (isnan(most))
        most = 0;
    if (!(most > JAW__DOUBTFUL) && !(size > JAW__DOUBTFUL))
        return;
    if (size > JAW__DOUBTFUL && is_size(found, most, size)) {
        found->flags |= JAW_SIZE_OFF;
        jaw__tell(w->sv, SAY_KNOWN_SIZE, e->size_place, NULL,
                  jaw_feature_word(e->kind), e->name,
                  jaw__length_text(w->sv, 2 * off).s);
        return;
    }
    found->flags |= most > JAW__DOUBTFUL ? JAW_RESIDUAL : JAW_SIZE_OFF;
    if (!w->spoken[f])
        say_touch(w, f, worst, size);
}

/* ------------------------------------------------------------------- places */

/* Logarithm of the chance of a test this large: of one direction the normal
 * distribution's (far out its asymptote), of two exp(-test^2 / 2). */
static double rarity(double test, bool two)
{
    double t = fabs(test);

    if (isnan(test))
        return 0;
    if (two)
        return -t * t / 2;
    return t < 25 ? log(erfc(t / M_SQRT2))
                  : -t * t / 2 - log(t * sqrt(M_PI / 2));
}

static jaw_place_reliability place_of(const jaw__worth *w, size_t hole)
{
    size_t first = w->j->hole_equation[hole];

    return jaw_adjust_place(w->j->adjust, (size_t[]){first, first + 1});
}

static void weigh_places(jaw__worth *w, size_t f)
{
    const jaw__share *share = &w->sv->setup->shares[f];
    jaw_found *found = &w->sv->out->features[f];
    jaw_touch_trust *place =
        w->sv->out->touch + w->sv->setup->n_touches + share->first_hole;

    for (size_t i = 0; i < share->n_holes; i++) {
        jaw_place_reliability r = place_of(w, share->first_hole + i);
        place[i] = (jaw_touch_trust){r.redundancy, r.standard, r.limit,
                                     r.noticeable};
    }
    found->touch = place;
}

/* The bore or boss behind a place; JAW__NOWHERE: it was typed. */
static long behind(const jaw__worth *w, size_t hole)
{
    return jaw__find_feature(w->sv->setup, w->sv->setup->holes[hole].feature);
}

/* A touch of the bore that stands there is the rarer, and is named instead. */
static bool is_touch(const jaw__worth *w, size_t hole,
                     const jaw_touch_trust *place)
{
    long f = behind(w, hole);

    if (f == JAW__NOWHERE || w->sv->out->features[f].touch == NULL)
        return false;
    const jaw_found *found = &w->sv->out->features[f];
    double most =
        found->touch[largest_test(found->touch, found->n)].standard;
    bool two = place->limit > JAW__DOUBTFUL + 0.1;
    return fabs(most) > JAW__DOUBTFUL &&
           rarity(most, false) < rarity(place->standard, two);
}

static void say_place(jaw__worth *w, size_t f, size_t worst)
{
    jaw__solver *sv = w->sv;
    const jaw_found *found = &sv->out->features[f];
    const jaw_feature_entry *e = &sv->setup->features[f];
    size_t hole = sv->setup->shares[f].first_hole + worst;
    jaw_place_reliability r = place_of(w, hole);
    jaw__text off = jaw__length_text(sv, hypot(r.slip[0], r.slip[1]));
    long bore = behind(w, hole);

    if (bore != JAW__NOWHERE)
        w->spoken[bore] = true;
    if (blame(found->touch, found->n, r.standard, 0) >= JAW__NAMED)
        jaw__tell(sv, SAY_HOLE_OFF, sv->setup->holes[hole].place, NULL,
                  e->name, off.s);
    else
        jaw__tell(sv, SAY_HOLES_OFF, e->place, NULL, e->name, off.s);
}

/* What the touches of the bores behind a pattern show is no news. */
static void speak_of_all(jaw__worth *w, size_t f)
{
    const jaw__share *share = &w->sv->setup->shares[f];

    for (size_t i = 0; i < share->n_holes; i++) {
        long bore = behind(w, share->first_hole + i);
        if (bore != JAW__NOWHERE)
            w->spoken[bore] = true;
    }
}

/* The place whose test exceeds its limit most. */
static void judge_places(jaw__worth *w, size_t f)
{
    jaw_found *found = &w->sv->out->features[f];
    size_t hole = w->sv->setup->shares[f].first_hole;
    size_t worst = largest_test(found->touch, found->n);
    bool doubt = false;

    for (size_t i = 0; i < found->n; i++)
        doubt = doubt || found->touch[i].standard > found->touch[i].limit;
    if (!doubt)
        return;
    found->flags |= JAW_RESIDUAL;
    if (found->flags & (JAW_SCALE_OFF | JAW_MIRRORED)) {
        speak_of_all(w, f); /* that explains it */
        return;
    }
    if (!is_touch(w, hole + worst, &found->touch[worst]))
        say_place(w, f, worst);
}

/* ------------------------------------------------------------------- set aside */

/* Signed as the residuals of its kind; of a pair, as the nearer of the two. */
static double touch_off(const jaw__worth *w, size_t f, const jaw_aside_entry *a)
{
    const jaw__part *part = &w->j->parts[f];
    double off =
        jaw__touch_equation(w->sv, (long)f, a->touch, !a->other_wall).off;

    if (part->pairs) {
        double second =
            jaw__touch_equation(w->sv, (long)f, a->touch, a->other_wall).off;
        return fabs(second) < fabs(off) ? second : off;
    }
    if (w->sv->setup->features[f].kind == JAW_EDGE && part->sides < 0)
        return -off;
    return off;
}

static double hole_off(const jaw__worth *w, size_t f,
                       const jaw_hole_entry *hole)
{
    const jaw_frame *frame = &w->sv->out->features[f].as.pattern.frame;
    double grown = 1 + w->j->growth_at;
    jaw_vec2 belongs = jaw_machine_from_work(
        frame,
        (jaw_vec2){grown * hole->nominal.x, grown * hole->nominal.y});
    jaw_vec2 at = hole->touched;
    long bore = jaw__find_feature(w->sv->setup, hole->feature);

    if (bore != JAW__NOWHERE && w->sv->out->features[bore].status == JAW_OK)
        jaw__centre_of_found(&w->sv->out->features[bore], &at);
    return hypot(at.x - belongs.x, at.y - belongs.y);
}

static void place_asides(const jaw__worth *w, size_t f)
{
    const jaw__share *share = &w->sv->setup->shares[f];
    bool pattern = w->sv->setup->features[f].kind == JAW_PATTERN;

    if (w->sv->out->features[f].status != JAW_OK)
        return;
    for (size_t i = 0; i < share->n_asides; i++) {
        const jaw_aside_entry *a =
            &w->sv->setup->asides[share->first_aside + i];
        w->sv->out->aside[share->first_aside + i] =
            pattern ? hole_off(w, f, &a->hole) : touch_off(w, f, a);
    }
}

/* --------------------------------------------------------- tips and spread */

/* A stated diameter of a tip against what the known sizes say that it touched.
 * When something was already said of what spoils the whole, it is no news. */
static void judge_tip(jaw__worth *w, size_t i)
{
    const jaw_tip_entry *e = &w->sv->setup->tips[i];
    double off = 2 * w->j->tip_off[i];

    if (w->sv->slip_said || w->j->tip_shared[i] == JAW_NO_BLOCK)
        return;
    jaw_reliability r =
        jaw_adjust_reliability(w->j->adjust, w->j->tip_equation[i]);
    if (fabs(r.standard) > JAW__DOUBTFUL)
        jaw__tell(w->sv, SAY_KNOWN_TIP, e->place, NULL, e->name,
                  jaw__length_text(w->sv, e->tip.diameter + off).s,
                  jaw__length_text(w->sv, off).s);
}

/* As for a tip: no news after that. */
static void judge_spread(jaw__solver *sv)
{
    const jaw_solution_quality *q = &sv->out->total;
    char times[48];

    if (sv->slip_said || !q->stated || !(q->s0 > 1) ||
        !(q->chance < JAW__SPREAD_CHANCE))
        return;
    jaw_number_write(q->s0, 1, times, sizeof times);
    jaw__tell(sv, SAY_SPREAD, (jaw_place){0}, "", times);
}

/* -------------------------------------------------------------------- whole */

/* A place first: then what its bore's touches show is not news. */
void jaw__judge(jaw__worth *w)
{
    const jaw_found *found = w->sv->out->features;
    size_t n = w->sv->setup->n_features;

    for (size_t f = 0; f < n; f++)
        if (found[f].status == JAW_OK)
            (found[f].kind == JAW_PATTERN ? weigh_places : weigh_touches)(w, f);
    for (size_t f = 0; f < n; f++)
        if (found[f].kind == JAW_PATTERN && found[f].touch != NULL)
            judge_places(w, f);
    for (size_t f = 0; f < n; f++) {
        if (found[f].kind != JAW_PATTERN && found[f].touch != NULL)
            judge_touches(w, f);
        place_asides(w, f);
    }
    for (size_t i = 0; i < w->sv->setup->n_tips; i++)
        judge_tip(w, i);
    judge_spread(w->sv);
}
