/* SPDX-License-Identifier: GPL-3.0-or-later */
/* simulate.c: does what is stated hold?
 *
 *     simulate [TRIALS [SEED [CASE...]]]
 *
 * For each case as many random setups with known truth (world.h), and each of
 * them solved: with the repeat of every tip stated; with none stated and the
 * true one anything from 0.4 to 2.5 times the default; and with it stated and
 * one touch slipped by exactly what is stated as noticeable.  Counted is how
 * often each value lies within its 95 % interval, how often a touch is doubted
 * though nothing is wrong with it, how often the slip is found, and whether the
 * right touch is named.
 *
 * Further: one place of a pattern is off by what is stated as noticeable, in
 * the direction that is checked least; a known diameter is stated wrong; two
 * touches slip at once.  Printed above a case is how often each is found and
 * named, and in its last columns how often one slip is blamed on several
 * touches, on a known size, or on either.
 *
 * Of tasks (tasks.c) the figures of their findings are counted like values, and
 * how often a finding doubts what is as it should be; no touch slips there.
 *
 * Allowed is what is promised beside the figure plus four standard deviations
 * of the binomial. */
#include "asked.h"
#include "world.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { TOUCHES_MAX = 64, CASES_MAX = 200, WORLDS = 400 };

#define COVERED 0.95
#define COVERED_WITHIN 0.005
/* Without repeats, where a known share stands beside the seen one: with one
 * touch to spare (trust.h); and of a tip with lobes, for what is left of those
 * scatters like the touches and so counts twice. */
#define COVERED_ONE 0.974
#define COVERED_LOBED 0.98
/* Of a pattern's places, known with errors, the same to a small part: touches
 * and places are weighed against one another by the default repeat. */
#define COVERED_PLACES 0.96
/* A square of unknown repeat: align.h. */
#define COVERED_SQUARE 0.97
/* Where two spreads are joined that are both seen (a table's and the touches':
 * worth.c, jaw__join); and of datums, whose tertiary shows an error of the turn:
 * what is seen is large when that is. */
#define COVERED_SEEN 0.974
#define FOUND_WITHIN 0.02
#define NAMED 0.95
/* No promise: what a good touch may be drawn into before somebody looks. */
#define SEVERAL 0.003
#define SIZED 0.01
/* A slip is small beside the distance of places, but turns them a little. */
#define BENT 0.01
/* No promise either: how often two that slipped are named and no other. */
#define PAIRS 0.75
#define STRETCH 2.5
#define NEVER -1

/* Beyond this a touch is doubted; two tests nearer than SAME are the same. */
#define DOUBTED 3.29
#define SAME 0.999

typedef struct sim_case {
    char name[64];
    world_builder *build;
    int p[PARAMETERS];
    bool assumes; /* squareness or spacing, whose spread is known */
    bool tasks;   /* no touch slips */
    bool own;     /* readings of the task tell their own spread */
} sim_case;

typedef struct counts {
    size_t inside[TRUTHS_MAX], inside_unstated[TRUTHS_MAX], denied;
    size_t wide[TRUTHS_MAX]; /* setups that leave the value open at all */
    size_t tests, alarms, holes, hole_alarms, size_alarms, features,
        flags_wrong;
    size_t slips, own, found, named, nameable, alone, said, said_right,
        several, sized, either, placed, note_wrong;
    size_t place_slips, place_own, place_found, place_said, place_right;
    size_t sizes, sizes_named, sizes_open, sizes_wrong;
    size_t pairs, pairs_named, pairs_right;
    size_t task_alarms;
    size_t unsolved;
} counts;

/* How the tests of a case's touches hang together. */
typedef struct geometry {
    size_t touches;
    bool checked[TOUCHES_MAX], has_twin[TOUCHES_MAX];
    double wrong; /* chance, at most, that another touch than a nameable one
                     that slipped has the largest test */
    double dof;
} geometry;

typedef struct run {
    gsl_rng *rng, *start, *choice;
    size_t trials, passed, failed;
    world w;
} run;

static void judge(run *r, const char *what, double seen, double low,
                  double high)
{
    if (seen >= low && seen <= high) {
        r->passed++;
        return;
    }
    r->failed++;
    printf("  OFF: %s %.5f, allowed %.5f to %.5f\n", what, seen, low, high);
}

/* -------------------------------------------------------------------- values */

static const jaw_item *item_of(const jaw_solution *s, const truth *t)
{
    size_t n;
    const jaw_finding *f = jaw_solution_findings(s, &n);

    for (size_t i = 0; t->index < n && i < f[t->index].n_items; i++)
        if (strcmp(f[t->index].items[i].text, t->name) == 0)
            return &f[t->index].items[i];
    return NULL;
}

/* How far a cut of side two really lies off what it is to meet, which stands at
 * `meets` when it is at the zero.  W = what was entered: a tool whose register
 * holds H cuts as high as W + H less its length. */
static double real_mismatch(const world *w, const jaw_solution *s,
                            const truth *t)
{
    size_t n;
    const jaw_zero_found *z = jaw_solution_zeros(s, &n) + t->index;
    jaw_vec2 at = t->kind == TRUE_OFF_FAR ? z->far_work : (jaw_vec2){0, 0};
    double turn = isnan(z->turn) ? 0 : z->turn;

    if (t->kind == TRUE_OFF_HEIGHT)
        return z->enter.z + jaw_solution_tools(s, &n)->enter - w->tool -
               w->meets.z;
    if (t->axis == JAW_X)
        return z->enter.x + at.x * cos(turn) - at.y * sin(turn) - w->meets.x -
               at.x * cos(w->skew) + at.y * sin(w->skew);
    return z->enter.y + at.x * sin(turn) + at.y * cos(turn) - w->meets.y -
           at.x * sin(w->skew) - at.y * cos(w->skew);
}

/* A figure that is not there is never inside. */
static void read_figure(const world *w, const jaw_solution *s, const truth *t,
                        double *is, double *half95)
{
    const jaw_item *item = item_of(s, t);

    *half95 = item == NULL ? (double)NAN : item->half95;
    *is = item == NULL ? (double)NAN : item->value;
    if (t->kind != TRUE_FIGURE)
        *is -= real_mismatch(w, s, t);
}

static void read_value(const world *w, const jaw_solution *s, const truth *t,
                       double *is, double *half95)
{
    size_t n;

    if (t->kind >= TRUE_FIGURE) {
        read_figure(w, s, t, is, half95);
        return;
    }
    if (t->kind == TRUE_TOOL) {
        const jaw_tool_found *tool = jaw_solution_tools(s, &n) + t->index;
        *is = tool->value;
        *half95 = tool->trust.half95;
        return;
    }
    const jaw_zero_found *z = jaw_solution_zeros(s, &n) + t->index;
    double zero[] = {z->zero.x, z->zero.y, z->zero.z};
    *is = t->kind == TRUE_TURN ? z->skew : zero[t->axis];
    *half95 = t->kind == TRUE_TURN ? z->turn_trust.half95
                                   : z->trust[t->axis].half95;
}

/* Rounding of machine coordinates is no error; NaN is never inside. */
static void count_inside(const world *w, const jaw_solution *s,
                         size_t inside[], size_t wide[])
{
    double is, half95;

    for (size_t i = 0; i < w->n_truths; i++) {
        read_value(w, s, &w->truths[i], &is, &half95);
        inside[i] += fabs(is - w->truths[i].is) <= half95 + 1e-10;
        wide[i] += half95 != 0;
    }
}

/* ------------------------------------------------------------------- touches */

/* The tests of all touches in a row; NaN where nothing checks one. */
static size_t list_tests(const jaw_solution *s, jaw_touch_trust t[],
                         size_t feature[])
{
    size_t features, n = 0;
    const jaw_found *f = jaw_solution_features(s, &features);

    for (size_t i = 0; i < features; i++)
        for (size_t k = 0; f[i].kind != JAW_PATTERN && f[i].touch != NULL &&
                           k < f[i].n; k++) {
            feature[n] = i;
            t[n++] = f[i].touch[k];
        }
    return n;
}

static void count_alarms(const jaw_solution *s, counts *c)
{
    size_t n;
    const jaw_found *f = jaw_solution_features(s, &n);

    for (size_t i = 0; i < n; i++) {
        size_t alarms = 0;
        bool flag = (f[i].flags & JAW_RESIDUAL) != 0;
        if (f[i].kind == JAW_PATTERN) {
            for (size_t k = 0; k < f[i].n; k++) {
                alarms += f[i].touch[k].standard > f[i].touch[k].limit;
                c->holes += isnan(f[i].touch[k].standard) ? 0u : 1u;
            }
            c->hole_alarms += alarms;
            c->flags_wrong += flag != (alarms > 0);
            continue;
        }
        for (size_t k = 0; k < f[i].n; k++) {
            c->tests += isnan(f[i].touch[k].standard) ? 0u : 1u;
            alarms += fabs(f[i].touch[k].standard) > DOUBTED;
        }
        /* a known size has a test of its own, and takes the blame when that
         * is the largest */
        bool size = (f[i].flags & JAW_SIZE_OFF) != 0;
        c->alarms += alarms;
        c->size_alarms += size;
        c->flags_wrong += (flag || size) != (alarms > 0 || size);
        c->features++;
    }
}

static size_t largest_of(const jaw_touch_trust t[], const size_t feature[],
                         size_t n, size_t which)
{
    size_t largest = which;

    for (size_t i = 0; i < n; i++)
        if (feature[i] == feature[which] &&
            fabs(t[i].standard) > fabs(t[largest].standard))
            largest = i;
    return largest;
}

/* --------------------------------------------------------------------- setups */

static jaw_solution *make_and_solve(run *r, const sim_case *c, recipe made,
                                    jaw_notes *notes)
{
    jaw_solution *s = NULL;

    gsl_rng_memcpy(r->rng, r->start);
    r->w.rng = r->rng;
    r->w.made = made;
    world_make(&r->w, c->build, c->p);
    if (jaw_setup_solve(r->w.setup, notes, &s) == JAW_OK)
        return s;
    jaw_solution_free(s);
    return NULL;
}

static void let_go(run *r, jaw_solution *s)
{
    jaw_solution_free(s);
    world_drop(&r->w);
}

static recipe recipe_stated(double loud)
{
    return (recipe){.stated = true, .loud = loud, .slip_at = NEVER,
                    .also_at = NEVER, .hole_at = NEVER};
}

/* What is stated as noticeable, of every touch. */
static size_t list_noticeable(run *r, const sim_case *c, double loud,
                              jaw_touch_trust t[])
{
    size_t feature[TOUCHES_MAX], n = 0;
    jaw_solution *s = make_and_solve(r, c, recipe_stated(loud), NULL);

    if (s != NULL)
        n = list_tests(s, t, feature);
    let_go(r, s);
    return n;
}

/* ------------------------------------------------------------------- geometry */

/* With nothing else wrong a slip in touch i shows in test j by their
 * correlation. */
static void correlate(run *r, const sim_case *c, size_t i, double slip,
                      double rho[])
{
    recipe made = recipe_stated(0);
    jaw_touch_trust t[TOUCHES_MAX];
    size_t feature[TOUCHES_MAX];

    made.slip_at = (long)i;
    made.slip = slip;
    jaw_solution *s = make_and_solve(r, c, made, NULL);
    size_t n = s == NULL ? 0 : list_tests(s, t, feature);
    for (size_t j = 0; j < n; j++)
        rho[j] = feature[j] == feature[i] && !isnan(t[j].standard)
                     ? fabs(t[j].standard / t[i].standard)
                     : 0;
    let_go(r, s);
}

static double upper_tail(double x)
{
    return 0.5 * erfc(x / sqrt(2));
}

/* A slip that lifts test i by `shift` leaves it above test j unless the
 * difference or the sum of the two, of variance 2 (1 -+ rho), falls below 0. */
static double may_lose(const double rho[], size_t n, size_t i)
{
    double shift =
        jaw_trust_shift(JAW_TRUST_ALPHA, JAW_TRUST_POWER) / sqrt(2);
    double wrong = 0;

    for (size_t j = 0; j < n; j++)
        if (j != i && rho[j] > 0)
            wrong += upper_tail(shift * sqrt(fmax(0, 1 - rho[j]))) +
                     upper_tail(shift * sqrt(1 + rho[j]));
    return fmin(wrong, 1);
}

/* Twins are those that are so in every setup of the case. */
static void study(run *r, const sim_case *c, geometry *g)
{
    static jaw_touch_trust t[TOUCHES_MAX];
    double rho[TOUCHES_MAX], wrong[TOUCHES_MAX] = {0};
    size_t worlds = c->tasks            ? 0
                    : r->trials < WORLDS ? r->trials
                                         : WORLDS;
    size_t twins[TOUCHES_MAX] = {0}, nameable = 0;

    for (size_t k = 0; k < worlds; k++) {
        size_t n = list_noticeable(r, c, 0, t);
        g->touches = n;
        for (size_t i = 0; i < n; i++) {
            bool twin = false;
            g->checked[i] = isfinite(t[i].noticeable);
            if (!g->checked[i])
                continue;
            correlate(r, c, i, t[i].noticeable, rho);
            wrong[i] += may_lose(rho, n, i) / (double)worlds;
            for (size_t j = 0; j < n; j++)
                twin = twin || (j != i && rho[j] > SAME);
            twins[i] += twin;
        }
        gsl_rng_memcpy(r->start, r->rng);
    }
    for (size_t i = 0; i < g->touches; i++) {
        g->has_twin[i] = twins[i] == worlds;
        if (!g->checked[i] || g->has_twin[i])
            continue;
        g->wrong += wrong[i];
        nameable++;
    }
    g->wrong = nameable == 0 ? 0 : g->wrong / (double)nameable;
    jaw_solution *s = make_and_solve(r, c, recipe_stated(1), NULL);
    g->dof = s == NULL ? 0 : jaw_solution_total(s).dof;
    let_go(r, s);
}

/* --------------------------------------------------------------------- trials */

static size_t says(const jaw_notes *notes, const char *words)
{
    size_t n = 0;

    for (size_t i = 0; i < jaw_notes_count(notes); i++)
        n += strstr(jaw_notes_get(notes, i)->what, words) != NULL;
    return n;
}

static bool is_doubted(const jaw_solution *s, const jaw_notes *notes)
{
    size_t n;
    const jaw_finding *f = jaw_solution_findings(s, &n);

    for (size_t i = 0; i < n; i++)
        if (f[i].flags & JAW_RESIDUAL)
            return true;
    return says(notes, "than the stack") > 0;
}

static bool try_stated(run *r, const sim_case *c, counts *k,
                       jaw_touch_trust t[])
{
    size_t feature[TOUCHES_MAX];
    jaw_notes *notes = jaw_notes_alloc();
    jaw_solution *s = make_and_solve(r, c, recipe_stated(1), notes);

    if (s != NULL) {
        count_inside(&r->w, s, k->inside, k->wide);
        count_alarms(s, k);
        list_tests(s, t, feature);
        k->denied += jaw_solution_total(s).chance < 0.001;
        k->task_alarms += c->tasks && is_doubted(s, notes);
    }
    jaw_notes_free(notes);
    let_go(r, s);
    return s != NULL;
}

/* Without a spare touch the default is all there is, so it must be right. */
static bool try_unstated(run *r, const sim_case *c, const geometry *g,
                         counts *k)
{
    double u = 2 * gsl_rng_uniform(r->choice) - 1;
    recipe made = {.stated = false,
                   .stretch = g->dof > 0 || c->own ? pow(STRETCH, u) : 1,
                   .loud = 1,
                   .slip_at = NEVER,
                   .also_at = NEVER,
                   .hole_at = NEVER};
    jaw_solution *s = make_and_solve(r, c, made, NULL);

    if (s != NULL)
        count_inside(&r->w, s, k->inside_unstated, k->wide);
    let_go(r, s);
    return s != NULL;
}

/* One note tells of the slip; it may name a touch, and then names the one with
 * the largest test, but never one of twins; or several, or a size that is
 * known, or either, or the place of a bore in its pattern, or its spacings.
 * Where another feature is in doubt as well, the notes of the two are not told
 * apart here. */
static void judge_note(const jaw_notes *notes, const geometry *g,
                       size_t largest, size_t which, counts *k)
{
    size_t named = says(notes, "off what the others agree on");
    size_t shared = says(notes, "disagree by");
    size_t size = says(notes, "away from the known one");
    size_t several = says(notes, "do not agree with the other");
    size_t either = says(notes, "is off or its known size is");
    size_t place = says(notes, "off where the others put it") +
                   says(notes, "the places of pattern 'plate' disagree") +
                   says(notes, "the touched spacings of pattern 'plate'");
    size_t all = named + shared + size + several + either + place;

    if (all > 1)
        return;
    k->alone++;
    k->placed += place;
    k->several += several;
    k->sized += size;
    k->either += either;
    k->note_wrong += all != 1 || (named == 1 && g->has_twin[largest]);
    k->said += named;
    k->said_right += named == 1 && largest == which;
}

static void judge_slip(const jaw_solution *s, const jaw_notes *notes,
                       const geometry *g, size_t which, counts *k)
{
    jaw_touch_trust t[TOUCHES_MAX];
    size_t feature[TOUCHES_MAX];
    size_t n = list_tests(s, t, feature);
    size_t largest = largest_of(t, feature, n, which);
    bool found = fabs(t[largest].standard) > DOUBTED;

    k->slips++;
    k->own += fabs(t[which].standard) > DOUBTED;
    k->found += found;
    if (found)
        judge_note(notes, g, largest, which, k);
    if (g->has_twin[which])
        return;
    k->nameable++;
    k->named += largest == which;
}

static bool try_slip(run *r, const sim_case *c, const geometry *g,
                     const jaw_touch_trust before[], counts *k)
{
    size_t which = gsl_rng_uniform_int(r->choice, g->touches);
    double sign = gsl_rng_uniform_int(r->choice, 2) == 0 ? 1 : -1;
    recipe made = recipe_stated(1);

    if (!g->checked[which])
        return true;
    made.slip_at = (long)which;
    made.slip = sign * before[which].noticeable;
    jaw_notes *notes = jaw_notes_alloc();
    jaw_solution *s = make_and_solve(r, c, made, notes);
    if (s != NULL)
        judge_slip(s, notes, g, which, k);
    jaw_notes_free(notes);
    let_go(r, s);
    return s != NULL;
}

/* -------------------------------------------------------------------- places */

static const jaw_found *pattern_of(const jaw_solution *s)
{
    size_t n;
    const jaw_found *f = jaw_solution_features(s, &n);

    for (size_t i = 0; i < n; i++)
        if (f[i].kind == JAW_PATTERN)
            return &f[i];
    return NULL;
}

/* The square of a place's test when it alone is off, by this much. */
static double shown(run *r, const sim_case *c, long at, jaw_vec2 by,
                    double *noticeable, size_t *n)
{
    recipe made = recipe_stated(0);

    made.hole_at = at;
    made.hole = by;
    jaw_solution *s = make_and_solve(r, c, made, NULL);
    const jaw_found *f = s == NULL ? NULL : pattern_of(s);
    double test = f == NULL ? (double)NAN : f->touch[at].standard;
    *noticeable = f == NULL ? (double)NAN : f->touch[at].noticeable;
    *n = f == NULL ? 0 : f->n;
    let_go(r, s);
    return test * test;
}

/* The direction in which a place is checked least, from what really shows; and
 * whether a slip by what is stated as noticeable shows there by the shift that
 * is promised (of chi-square with two degrees of freedom). */
static jaw_vec2 least_checked(run *r, const sim_case *c, long at, double by)
{
    double same;
    size_t n;
    double xx = shown(r, c, at, (jaw_vec2){by, 0}, &same, &n);
    double yy = shown(r, c, at, (jaw_vec2){0, by}, &same, &n);
    double xy = (shown(r, c, at, (jaw_vec2){by, by}, &same, &n) - xx - yy) / 2;
    double angle = atan2(2 * xy, xx - yy) / 2 + M_PI / 2;
    double least = (xx + yy) / 2 - hypot((xx - yy) / 2, xy);
    double want =
        jaw_trust_chi2_shift(JAW_TRUST_ALPHA, JAW_TRUST_POWER, 2);

    judge(r, "shift by what is noticeable", sqrt(least), want * (1 - BENT),
          want * (1 + BENT));
    return (jaw_vec2){by * cos(angle), by * sin(angle)};
}

static void judge_place(const jaw_solution *s, const jaw_notes *notes,
                        long which, counts *k)
{
    const jaw_found *f = pattern_of(s);
    bool found = false;

    for (size_t i = 0; i < f->n; i++)
        found = found || f->touch[i].standard > f->touch[i].limit;
    k->place_slips++;
    k->place_found += found;
    k->place_own += f->touch[which].standard > f->touch[which].limit;
    for (size_t i = 0; i < jaw_notes_count(notes); i++) {
        const jaw_note *note = jaw_notes_get(notes, i);
        if (strstr(note->what, "off where the others put it") == NULL)
            continue;
        k->place_said++;
        k->place_right += note->place.line == (int)which + 1;
    }
}

static bool try_place(run *r, const sim_case *c, counts *k)
{
    double noticeable;
    size_t n;
    recipe made = recipe_stated(1);

    shown(r, c, 0, (jaw_vec2){0, 0}, &noticeable, &n);
    if (n == 0)
        return true;
    made.hole_at = (long)gsl_rng_uniform_int(r->choice, n);
    shown(r, c, made.hole_at, (jaw_vec2){0, 0}, &noticeable, &n);
    if (!isfinite(noticeable))
        return true;
    double sign = gsl_rng_uniform_int(r->choice, 2) == 0 ? 1 : -1;
    made.hole = least_checked(r, c, made.hole_at, sign * noticeable);
    jaw_notes *notes = jaw_notes_alloc();
    jaw_solution *s = make_and_solve(r, c, made, notes);
    if (s != NULL)
        judge_place(s, notes, made.hole_at, k);
    jaw_notes_free(notes);
    let_go(r, s);
    return s != NULL;
}

/* ------------------------------------------------- wrong sizes, and two slips */

/* A known diameter that is stated wrong by twenty repeats. */
static bool try_size(run *r, const sim_case *c, counts *k)
{
    recipe made = recipe_stated(1);

    if (c->build != build_round || c->p[3] == 0)
        return true;
    made.size_off = gsl_rng_uniform_int(r->choice, 2) == 0 ? 1 : -1;
    made.size_off *= 20 * r->w.repeat;
    jaw_notes *notes = jaw_notes_alloc();
    jaw_solution *s = make_and_solve(r, c, made, notes);
    k->sizes++;
    k->sizes_named += says(notes, "away from the known one");
    k->sizes_open += says(notes, "is off or its known size is");
    k->sizes_wrong += says(notes, "off what the others agree on") +
                      says(notes, "do not agree with the other");
    jaw_notes_free(notes);
    let_go(r, s);
    return s != NULL;
}

/* Two touches that slip the same way by three times what is noticeable, of
 * enough of them that there is a majority. */
static bool try_pair(run *r, const sim_case *c, const geometry *g,
                     const jaw_touch_trust before[], counts *k)
{
    recipe made = recipe_stated(1);
    char both[64];

    if (c->build != build_round || c->p[1] < 8 || c->p[2] < 360)
        return true;
    size_t a = gsl_rng_uniform_int(r->choice, g->touches);
    size_t b = gsl_rng_uniform_int(r->choice, g->touches - 1);
    b += b >= a;
    made.slip_at = (long)(a < b ? a : b);
    made.also_at = (long)(a < b ? b : a);
    made.slip = made.also = 3 * before[a].noticeable;
    jaw_notes *notes = jaw_notes_alloc();
    jaw_solution *s = make_and_solve(r, c, made, notes);
    snprintf(both, sizeof both, "touches %ld and %ld of", made.slip_at + 1,
             made.also_at + 1);
    k->pairs++;
    k->pairs_named += says(notes, "do not agree with the other");
    k->pairs_right += says(notes, both);
    jaw_notes_free(notes);
    let_go(r, s);
    return s != NULL;
}

static void try_all(run *r, const sim_case *c, const geometry *g, counts *k)
{
    jaw_touch_trust t[TOUCHES_MAX];

    for (size_t i = 0; i < r->trials; i++) {
        bool good = try_stated(r, c, k, t) && try_unstated(r, c, g, k) &&
                    (g->touches == 0 || try_slip(r, c, g, t, k)) &&
                    try_place(r, c, k) && try_size(r, c, k) &&
                    (g->touches == 0 || try_pair(r, c, g, t, k));
        k->unsolved += !good;
        gsl_rng_memcpy(r->start, r->rng);
    }
}

/* ----------------------------------------------------------------- judgement */

static double share(size_t k, size_t n)
{
    return n == 0 ? (double)NAN : (double)k / (double)n;
}

static double chance(double p, size_t n)
{
    return 4 * sqrt(p * (1 - p) / (double)n);
}


/* A register that is 0 by convention is not counted, only that it is so. */
static void judge_inside(run *r, const char *how, const size_t inside[],
                         const size_t wide[], double upper, double *least,
                         double *most)
{
    double within = COVERED_WITHIN + chance(COVERED, r->trials);
    char what[64];

    *least = 1;
    *most = 0;
    for (size_t i = 0; i < r->w.n_truths; i++) {
        double seen = share(inside[i], r->trials);
        if (wide[i] == 0) {
            judge(r, "exact where nothing is left open", seen, 1, 1);
            continue;
        }
        *least = fmin(*least, seen);
        *most = fmax(*most, seen);
        snprintf(what, sizeof what, "%s within its interval, %s",
                 r->w.truths[i].name, how);
        judge(r, what, seen, COVERED - within, upper + within);
    }
}

/* The tests of one setup hang together, so the count is judged as if there were
 * only one of them a setup. */
static void judge_alarms(run *r, const counts *k)
{
    double alpha = JAW_TRUST_ALPHA, within = chance(alpha, r->trials);

    if (k->tests > 0)
        judge(r, "false alarms a test", share(k->alarms, k->tests),
              alpha - within, alpha + within);
    if (k->features > 0)
        judge(r, "flags that the tests do not explain",
              share(k->flags_wrong, k->features), 0, 0);
    judge(r, "false alarms a known size", share(k->size_alarms, r->trials), 0,
          alpha + within);
    /* at most as many as if no two of its tests hung together */
    double tested = (double)r->w.tested * alpha;
    if (r->w.tested > 0)
        judge(r, "false alarms of tasks", share(k->task_alarms, r->trials),
              alpha - within, tested + chance(tested, r->trials));
    if (k->holes > 0)
        judge(r, "false alarms a place", share(k->hole_alarms, k->holes),
              alpha - within, alpha + within);
}

static void judge_places(run *r, const counts *k)
{
    double power = JAW_TRUST_POWER;

    if (k->place_slips == 0)
        return;
    double within = FOUND_WITHIN + chance(power, k->place_slips);
    judge(r, "places off that their own test finds",
          share(k->place_own, k->place_slips), power - within, power + within);
    judge(r, "places off that are found", share(k->place_found, k->place_slips),
          power - within, 1);
    if (k->place_said > 0)
        judge(r, "named places that are right",
              share(k->place_right, k->place_said),
              NAMED - chance(NAMED, k->place_said), 1);
    printf("  places: alarm a place %.5f; of places off by what is noticeable "
           "found by own test %.4f, found %.4f, named %.4f, right %.4f; a "
           "touch's slip taken for a place's %.4f\n",
           share(k->hole_alarms, k->holes),
           share(k->place_own, k->place_slips),
           share(k->place_found, k->place_slips),
           share(k->place_said, k->place_slips),
           share(k->place_right, k->place_said),
           share(k->placed, k->slips));
}

static void judge_more(run *r, const counts *k)
{
    if (k->sizes > 0) {
        judge(r, "a wrong size is blamed on touches",
              share(k->sizes_wrong, k->sizes), 0,
              1 - NAMED + chance(NAMED, k->sizes));
        printf("  a known size off by twenty repeats: named %.4f, left open %.4f, "
               "blamed on touches %.4f\n", share(k->sizes_named, k->sizes),
               share(k->sizes_open, k->sizes),
               share(k->sizes_wrong, k->sizes));
    }
    if (k->pairs > 0) {
        judge(r, "two slips named as just these",
              share(k->pairs_right, k->pairs), PAIRS, 1);
        printf("  two slips of three times what is noticeable: said to be "
               "several %.4f, just these two %.4f\n",
               share(k->pairs_named, k->pairs),
               share(k->pairs_right, k->pairs));
    }
}

static void judge_slips(run *r, const geometry *g, const counts *k)
{
    double power = JAW_TRUST_POWER;

    if (k->slips == 0)
        return;
    double within = FOUND_WITHIN + chance(power, k->slips);
    judge(r, "slips found by their own test", share(k->own, k->slips),
          power - within, power + within);
    judge(r, "slips found", share(k->found, k->slips), power - within, 1);
    judge(r, "notes of the wrong kind", share(k->note_wrong, k->slips), 0, 0);
    judge(r, "one slip blamed on several touches", share(k->several, k->slips),
          0, SEVERAL + chance(SEVERAL, k->slips));
    judge(r, "one slip blamed on a known size", share(k->sized, k->slips), 0,
          SIZED + chance(SIZED, k->slips));
    if (k->said > 0)
        judge(r, "named touches that are right", share(k->said_right, k->said),
              NAMED - chance(NAMED, k->said), 1);
    if (k->nameable == 0)
        return;
    judge(r, "largest test is not that of the slip",
          1 - share(k->named, k->nameable), 0,
          g->wrong + 0.005 + chance(fmin(g->wrong + 0.005, 0.5), k->nameable));
}

static double most_covered(const sim_case *c, double dof)
{
    if (c->build == build_lobed)
        return COVERED_LOBED;
    if (c->build == build_square)
        return COVERED_SQUARE;
    if (c->build == build_table || c->build == build_datums)
        return COVERED_SEEN;
    if (dof != 1 &&
        (c->build == build_pattern || c->build == build_pattern_sheet))
        return COVERED_PLACES;
    return c->assumes && dof == 1 ? COVERED_ONE : COVERED;
}

static void simulate(run *r, const sim_case *c)
{
    geometry g = {0};
    counts k = {0};
    double low, high, low_unstated, high_unstated;

    study(r, c, &g);
    try_all(r, c, &g, &k);
    size_t before = r->failed;
    judge(r, "not solved", share(k.unsolved, r->trials), 0, 0);
    judge_inside(r, "repeats stated", k.inside, k.wide, COVERED, &low,
                 &high);
    judge_inside(r, "repeats not stated", k.inside_unstated, k.wide,
                 most_covered(c, g.dof), &low_unstated, &high_unstated);
    judge_alarms(r, &k);
    judge_slips(r, &g, &k);
    judge_places(r, &k);
    judge_more(r, &k);
    printf("%-22s %3.0f  %.4f %.4f  %.4f %.4f  %8.5f %8.5f  %6.4f %6.4f  "
           "%6.4f %6.4f  %6.4f %6.4f  %6.4f %6.4f %6.4f  %s\n",
           c->name, g.dof, low, high, low_unstated, high_unstated,
           share(k.alarms, k.tests), share(k.hole_alarms, k.holes),
           share(k.own, k.slips), share(k.found, k.slips),
           share(k.nameable, k.slips), share(k.named, k.nameable),
           share(k.said, k.alone), share(k.said_right, k.said),
           share(k.several, k.slips), share(k.sized, k.slips),
           share(k.either, k.slips),
           r->failed > before ? "OFF" : "ok");
    fflush(stdout);
}

/* ---------------------------------------------------------------------- cases */

static void add_case(sim_case cases[], size_t *n, const char *name,
                          world_builder *build, const int p[PARAMETERS])
{
    sim_case *c = &cases[(*n)++];

    *c = (sim_case){.build = build};
    c->assumes = build == build_edge || build == build_walls ||
                 build == build_pattern || build == build_pattern_sheet ||
                 build == build_second_zero || build == build_lobed;
    snprintf(c->name, sizeof c->name, "%s", name);
    memcpy(c->p, p, sizeof c->p);
}

static void add_straight(sim_case cases[], size_t *n)
{
    char name[32];

    for (int i = 2; i <= 8; i++) {
        snprintf(name, sizeof name, "edge-%d", i);
        add_case(cases, n, name, build_edge, (int[PARAMETERS]){i});
    }
    for (int i = 3; i <= 8; i++) {
        snprintf(name, sizeof name, "face-%d", i);
        add_case(cases, n, name, build_face, (int[PARAMETERS]){i});
    }
    for (int i = 0; i < 6; i++) {
        static const int walls[][2] = {{1, 1}, {2, 2}, {3, 2}};
        const int *at = walls[i % 3];
        jaw_feature_kind kind = i < 3 ? JAW_SLOT : JAW_WEB;
        snprintf(name, sizeof name, "%s-%d+%d", jaw_feature_word(kind), at[0],
                 at[1]);
        add_case(cases, n, name, build_walls,
                 (int[PARAMETERS]){(int)kind, at[0], at[1]});
    }
}

/* All round and over an arc of 120 degrees, the diameter found or known. */
static void add_rounds(sim_case cases[], size_t *n)
{
    char name[32];

    for (int kind = JAW_BORE; kind <= (int)JAW_BOSS; kind++)
        for (int variant = 0; variant < 4; variant++)
            for (int i = 4; i <= 12; i++) {
                int arc = variant % 2 == 0 ? 360 : 120, known = variant / 2;
                snprintf(name, sizeof name, "%s-%d%s%s",
                         jaw_feature_word((jaw_feature_kind)kind), i,
                         arc == 120 ? "-arc" : "", known ? "-known" : "");
                add_case(cases, n, name, build_round,
                         (int[PARAMETERS]){kind, i, arc, known});
            }
}

/* Places that were typed in, or bores of four touches each. */
static void add_patterns(sim_case cases[], size_t *n)
{
    char name[32];

    for (int bores = 0; bores <= 4; bores += 4)
        for (int i = 2; i <= 5; i++) {
            snprintf(name, sizeof name, "pattern-%d-%s", i,
                     bores ? "bores" : "typed");
            add_case(cases, n, name, build_pattern,
                     (int[PARAMETERS]){i, bores});
        }
}

static void add_sheets(sim_case cases[], size_t *n)
{
    char name[32];

    add_case(cases, n, "corner-twice", build_corner_twice,
             (int[PARAMETERS]){0});
    add_case(cases, n, "pattern-sheet", build_pattern_sheet,
             (int[PARAMETERS]){0});
    for (int rule = 0; rule < (int)JAW_LENGTH_RULES; rule++) {
        snprintf(name, sizeof name, "lengths-%s",
                 jaw_length_word((jaw_length_rule)rule));
        add_case(cases, n, name, build_lengths, (int[PARAMETERS]){rule});
    }
    add_case(cases, n, "second-zero", build_second_zero, (int[PARAMETERS]){0});
}

/* A tip with runout and lobes, of which a calibration with errors tells. */
static void add_lobed(sim_case cases[], size_t *n)
{
    add_case(cases, n, "lobed-corner", build_lobed, (int[PARAMETERS]){0});
    add_case(cases, n, "lobed-bore-5", build_lobed,
             (int[PARAMETERS]){1, JAW_BORE, 5});
    add_case(cases, n, "lobed-boss-9", build_lobed,
             (int[PARAMETERS]){1, JAW_BOSS, 9});
    add_case(cases, n, "lobed-bore-6-arc-known", build_lobed,
             (int[PARAMETERS]){1, JAW_BORE, 6, 1});
    add_case(cases, n, "lobed-ring-12", build_lobed, (int[PARAMETERS]){2, 12});
}

/* In space, and by an indicator. */
static void add_solid(sim_case cases[], size_t *n)
{
    char name[32];

    for (int known = 0; known < 2; known++) {
        for (int i = 5; i <= 8; i += 3) {
            snprintf(name, sizeof name, "ball-%d%s", i, known ? "-known" : "");
            add_case(cases, n, name, build_solid,
                     (int[PARAMETERS]){0, i, 0, known});
        }
        for (int i = 3; i <= 5; i += 2) {
            snprintf(name, sizeof name, "bar-%d%s", 3 * i,
                     known ? "-known" : "");
            add_case(cases, n, name, build_solid,
                     (int[PARAMETERS]){1, i, 0, known});
        }
    }
    for (int i = 4; i <= 8; i += 2) {
        snprintf(name, sizeof name, "dial-%d", i);
        add_case(cases, n, name, build_solid, (int[PARAMETERS]){2, i, i - 1});
    }
}

static void add_task(sim_case cases[], size_t *n, const char *name,
                     world_builder *build, const int p[PARAMETERS])
{
    add_case(cases, n, name, build, p);
    cases[*n - 1].tasks = true;
    cases[*n - 1].own = build == build_head || build == build_square;
}

static void add_places(sim_case cases[], size_t *n)
{
    static const int stations[][PARAMETERS] = {
        {1}, {1, 1}, {2}, {2, 1}, {3}, {2, 1, 1}, {3, 0, 1}, {2, 1, 1, 1}};
    static const int tables[][PARAMETERS] = {
        {0, 6}, {1, 6}, {2, 6}, {0, 4, 0, 1}, {1, 4, 0, 1}, {2, 4, 0, 1},
        {2, 5, 1}};
    char name[64];

    for (size_t i = 0; i < sizeof stations / sizeof stations[0]; i++) {
        const int *p = stations[i];
        snprintf(name, sizeof name, "stations-%d%s%s%s", p[0],
                 p[1] ? "-rail" : "", p[2] ? "-adjusted" : "",
                 p[3] ? "-unknown" : "");
        add_task(cases, n, name, build_stations, p);
    }
    for (int over = 0; over < 3; over++) {
        snprintf(name, sizeof name, "side-%c", 'x' + over);
        add_task(cases, n, name, build_side, (int[PARAMETERS]){over});
    }
    for (size_t i = 0; i < sizeof tables / sizeof tables[0]; i++) {
        const int *p = tables[i];
        snprintf(name, sizeof name, "rotary-%c-%d%s%s", 'x' + p[0], p[1],
                 p[2] ? "-bores" : "", p[3] ? "-two" : "");
        add_task(cases, n, name, build_table, p);
    }
}

static void add_others(sim_case cases[], size_t *n)
{
    char name[64];

    add_task(cases, n, "datums-4-3-2", build_datums,
             (int[PARAMETERS]){4, 3, 2});
    add_task(cases, n, "datums-8-6-4", build_datums,
             (int[PARAMETERS]){8, 6, 4});
    add_task(cases, n, "stock", build_stock, (int[PARAMETERS]){0});
    add_task(cases, n, "vee", build_vee, (int[PARAMETERS]){0});
    for (int i = 4; i <= 8; i += 4) {
        snprintf(name, sizeof name, "tram-%d", i);
        add_task(cases, n, name, build_head, (int[PARAMETERS]){i});
        snprintf(name, sizeof name, "square-%d", i);
        add_task(cases, n, name, build_square, (int[PARAMETERS]){i});
    }
}

int main(int argc, char *argv[])
{
    static sim_case cases[CASES_MAX];
    size_t n = 0;
    run r = {.trials = argc > 1 ? strtoul(argv[1], NULL, 10) : 1000};
    unsigned long seed = argc > 2 ? strtoul(argv[2], NULL, 10) : 20240611;

    add_straight(cases, &n);
    add_rounds(cases, &n);
    add_patterns(cases, &n);
    add_sheets(cases, &n);
    add_lobed(cases, &n);
    add_solid(cases, &n);
    add_places(cases, &n);
    add_others(cases, &n);
    r.rng = gsl_rng_alloc(gsl_rng_taus2);
    r.start = gsl_rng_alloc(gsl_rng_taus2);
    r.choice = gsl_rng_alloc(gsl_rng_taus2);
    printf("%zu setups a case, seed %lu\n", r.trials, seed);
    printf("%-22s dof  stated         not stated     alarm a touch place    "
           "own    found   nameable largest told   right   several size   "
           "either\n", "");
    for (size_t i = 0; i < n; i++) {
        gsl_rng_set(r.start, seed + i);
        gsl_rng_set(r.choice, ~seed + i);
        if (is_asked(cases[i].name, argc, argv))
            simulate(&r, &cases[i]);
    }
    gsl_rng_free(r.rng);
    gsl_rng_free(r.start);
    gsl_rng_free(r.choice);
    printf("%zu passed, %zu failed\n", r.passed, r.failed);
    return r.failed > 0 || r.passed == 0 ? 1 : 0;
}
