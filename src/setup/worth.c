/* SPDX-License-Identifier: GPL-3.0-or-later */
/* worth.c: what each value to enter is worth: from its derivative by every
 * unknown of the joint adjustment (forms.c) its uncertainty (JCGM 100, 5.2), the
 * 95 % interval (Student's t) and the slip that would go unseen. */
#include "spots.h"
#include "worth.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

jaw_value_trust jaw__trust_none(void)
{
    const double nan = (double)NAN;

    return (jaw_value_trust){
        .u = nan, .dof = nan, .half95 = nan, .unnoticed = nan};
}

/* -------------------------------------------------------------------- spread */

/* A share of the sum of squares, and of what is spare. */
typedef struct spread {
    double ssr, spare;
} spread;

static void add_spread(const jaw__joint *j, size_t i, spread *s)
{
    jaw_reliability r = jaw_adjust_reliability(j->adjust, i);
    double v = r.resid / j->origins[i].sigma;

    s->ssr += v * v;
    s->spare += r.redundancy;
}

/* With less than one to spare there is nothing to judge a spread by. */
static bool has_spare(const spread *s)
{
    return s->spare > 0.999 && s->ssr > 0;
}

static bool is_denied(const spread *s)
{
    return s->spare > 1e-6 &&
           s->ssr > jaw_trust_chi2(JAW__SPREAD_CHANCE, s->spare);
}

static void grow(jaw__worth *w, jaw__grown grown, const spread *s)
{
    w->grown = grown;
    w->scale = sqrt(s->ssr / s->spare);
    w->dof = s->spare;
}

/* With every repeat stated the sigmas hold until the touches deny it; with one
 * that is not, only the scatter of the touches themselves can tell.  What is
 * known beside them (the spacing of holes) has its own share of the sum of
 * squares, which says nothing of a touch; but where less than one touch is
 * spare, only all together can tell. */
static void find_scale(jaw__worth *w)
{
    const jaw_solution_quality *q = &w->sv->out->total;
    spread shown = {0, 0}, hands = {0, 0}, rest = {0, 0};
    spread all = {q->s0 * q->s0 * q->dof, q->dof};

    w->grown = JAW__NONE;
    w->scale = 1;
    w->dof = (double)INFINITY;
    if (!(q->dof > 0) || !(q->s0 > 0))
        return;
    if (q->stated && q->chance >= JAW__SPREAD_CHANCE)
        return;
    for (size_t i = 0; i < w->j->n_origins; i++) {
        const jaw__origin *o = &w->j->origins[i];
        add_spread(w->j, i, jaw__is_by_hand(o->source) ? &hands : &rest);
        if (o->shown)
            add_spread(w->j, i, &shown);
    }
    if (!q->stated)
        grow(w, JAW__SHOWN, has_spare(&shown) ? &shown : &all);
    else if (has_spare(&hands) && is_denied(&hands) && !is_denied(&rest))
        grow(w, JAW__HANDS, &hands);
    else
        grow(w, JAW__ALL, &all);
}

/* ------------------------------------------------------------------- a value */

/* Student's t with the degrees of freedom of a seen share, which are few, and
 * of a known one, which are any number (Welch and Satterthwaite), holds too
 * little where both matter (trust.h), so they only say how much is known of u,
 * and the interval is that of the two shares. */
static void take_two(const jaw__worth *w, double seen, double known,
                     jaw_value_trust *t)
{
    const double u[] = {seen, known}, dof[] = {w->dof, (double)INFINITY};

    t->u = hypot(seen, known);
    t->dof = known > 0 ? jaw_trust_effective_dof(u, dof, 2) : w->dof;
    t->half95 = jaw_trust_within(seen, w->dof, known);
}

/* The root of what is left of a square; fmax: rounding. */
static double less(double u, double variance)
{
    return sqrt(fmax(u * u - variance, 0));
}

/* What a book knows by readings of its own are seen shares as well, each with
 * other degrees of freedom: they are weighed against one another. */
static void take_shares(const jaw__worth *w, double seen, double known,
                        jaw_value_trust *t)
{
    const jaw__recorded *b = &w->recorded;
    bool in_seen = w->grown == JAW__NONE; /* as is all that is stated */
    double u[JAW__RECORDED_PARTS + 1], dof[JAW__RECORDED_PARTS + 1];

    if (!(b->variance > 0)) {
        take_two(w, seen, known, t);
        return;
    }
    memcpy(u, b->u, sizeof b->u);
    memcpy(dof, b->dof, sizeof b->dof);
    u[b->n] = in_seen ? 0 : seen;
    dof[b->n] = w->dof;
    double rest = in_seen ? hypot(less(seen, b->variance), known)
                          : less(known, b->variance);
    double u4 = b->u4 + (u[b->n] > 0 ? pow(u[b->n], 4) / w->dof : 0);
    t->u = hypot(seen, known);
    t->dof = pow(t->u, 4) / u4;
    t->half95 = jaw_trust_among(u, dof, b->n + 1, rest);
}

static void spread_value(jaw__worth *w, double variance, jaw_value_trust *t)
{
    double known = fmin(jaw__budget_sum(w), variance);

    take_shares(w, w->scale * sqrt(variance - known), sqrt(known), t);
}

jaw_value_trust jaw__weigh(jaw__worth *w)
{
    jaw_value_trust t = jaw__trust_none();
    size_t equation;

    if (w->f == NULL)
        return t;
    double variance = jaw_adjust_variance(w->j->adjust, w->f);
    if (!(variance >= 0)) { /* the value belongs to it, so memory ran out */
        w->sv->no_memory = true;
        return t;
    }
    spread_value(w, variance, &t);
    t.unnoticed = jaw_adjust_reach_scaled(w->j->adjust, w->f, w->scale,
                                          &equation);
    if (equation != JAW_NO_BLOCK && equation < w->j->n_origins)
        t.where = w->j->origins[equation].place;
    w->worst = equation;
    return t;
}

void jaw__weigh_value(jaw__worth *w, jaw_value_trust *t)
{
    *t = jaw__weigh(w);
    if (!isnan(t->u))
        jaw__budget_write(w, t);
}

static void find_next(jaw__worth *w, const jaw_value_trust *t, jaw_next *next)
{
    jaw__want want = {.f = w->f,
                      .worst = w->worst,
                      .unchecked = isinf(t->unnoticed),
                      .half95 = t->half95,
                      .dof = w->dof,
                      .mixed = t->dof != w->dof};

    jaw__find_next(w->sv, &want, next);
}

void jaw__next_beside(jaw__worth *w, const jaw_value_trust *own, double u,
                      double dof, const jaw_value_trust *whole, jaw_next *next)
{
    jaw_value_trust with = *own;

    find_next(w, own, next);
    with.u *= next->half95 / own->half95;
    with.half95 = next->half95;
    jaw__join(&with, u, dof);
    next->half95 = with.half95;
    if (!next->checks &&
        !(next->half95 <= (1 - JAW__GAIN_LEAST) * whole->half95))
        *next = (jaw_next){.half95 = (double)NAN};
}

/* The same, and what one more touch would make of it. */
static void weigh_value(jaw__worth *w, jaw_value_trust *trust, jaw_next *next)
{
    jaw__weigh_value(w, trust);
    if (!isnan(trust->u))
        find_next(w, trust, next);
}

/* ----------------------------------------------------------------------- sizes */

static void weigh_size(jaw__worth *w, size_t f)
{
    jaw_found *found = &w->sv->out->features[f];
    const jaw__part *part = &w->j->parts[f];
    const jaw_feature_entry *e = &w->sv->setup->features[f];
    bool walls = found->kind == JAW_SLOT || found->kind == JAW_WEB;
    bool round = found->kind == JAW_BORE || found->kind == JAW_BOSS;

    if (found->status != JAW_OK ||
        (!walls && (!round || part->n != 3) &&
         (!part->sized || jaw__is_exact(e))))
        return;
    jaw__form_start(w);
    jaw__put_local(w, part, walls ? 1 : part->sized ? 3 : 2, walls ? 1 : 2);
    jaw__weigh_value(w, &found->size);
}

/* What a rotary table holds rises and falls with it. */
static bool is_on_table(const jaw_setup *setup, size_t f)
{
    for (size_t i = 0; i < setup->n_readings; i++)
        if (setup->readings[i].feature != NULL &&
            strcmp(setup->readings[i].feature, setup->features[f].name) == 0)
            return true;
    return false;
}

/* A bar that rises over its touches by more than they leave open is met at
 * another height elsewhere. */
static void judge_slope(jaw__worth *w, size_t f)
{
    const jaw_bar *bar = &w->sv->out->features[f].as.bar;

    if (is_on_table(w->sv->setup, f))
        return;
    jaw__form_start(w);
    jaw__put_local(w, &w->j->parts[f], 2, 1);
    if (!(fabs(bar->slope) > jaw__weigh(w).half95))
        return;
    double rise = bar->slope * bar->span / hypot(1, bar->slope);
    bool x = fabs(bar->axis.x) > fabs(bar->axis.y);
    bool plus = (x ? bar->axis.x : bar->axis.y) * rise > 0;
    jaw__tell(w->sv, SAY_BAR_RISES, w->sv->setup->features[f].place, NULL,
              w->sv->setup->features[f].name,
              jaw__length_text(w->sv, fabs(rise)).s,
              x ? plus ? "x+" : "x-" : plus ? "y+" : "y-");
}

/* What a bar, a sweep or a dial tells beyond what a zero takes from it. */
static void weigh_own(jaw__worth *w, size_t f)
{
    jaw_found *found = &w->sv->out->features[f];
    bool bar = found->kind == JAW_BAR;

    if (found->status != JAW_OK)
        return;
    if (bar || found->kind == JAW_SWEEP) {
        jaw__form_start(w);
        jaw__put_direction(w, f, 1);
        jaw__weigh_value(w, &found->turn);
    }
    for (size_t k = 0; found->kind == JAW_DIAL && k < 2; k++) {
        jaw__form_start(w);
        jaw__put_local(w, &w->j->parts[f], k, 1);
        jaw__weigh_value(w, &found->centre[k]);
    }
    if (bar)
        judge_slope(w, f);
}

/* ----------------------------------------------------------------------- whole */

/* Independent errors: variances add; and so do the squares of intervals that
 * both stand on what was seen, which is on the safe side. */
void jaw__join(jaw_value_trust *t, double u, double dof)
{
    double both[2] = {t->u, u}, dofs[2] = {t->dof, dof};

    if (u == 0 || isnan(t->u))
        return;
    t->half95 = isinf(t->dof)
                    ? jaw_trust_within(u, dof, t->u)
                    : hypot(t->half95, jaw_figure_make(0, u, dof).half95);
    t->dof = t->u > 0 ? jaw_trust_effective_dof(both, dofs, 2) : dof;
    t->u = hypot(t->u, u);
}

void jaw__join_known(jaw__worth *w, jaw_value_trust *t, double u)
{
    if (u == 0 || isnan(t->u) || w->f == NULL)
        return;
    double known = fmin(jaw__budget_sum(w), t->u * t->u);
    /* fmax: rounding */
    take_shares(w, sqrt(fmax(t->u * t->u - known, 0)), sqrt(known + u * u), t);
}

/* What goes unseen of it beside its own touches; slips come one at a time. */
static void add_unseen(jaw__worth *w, const jaw__beside *b,
                       const jaw_value_trust *own, jaw_value_trust *t)
{
    if (b->lie != NULL && !isnan(t->u)) {
        jaw_place where = t->where;
        if (!(own->u > JAW_TRUST_SHARE_NONE * t->u)) /* an exact length, say */
            t->unnoticed = 0;
        double reach =
            jaw__lie_reach(w->sv, b->lie, b->by, b->turn, t->u, &where);
        if (reach > t->unnoticed) {
            t->unnoticed = reach;
            t->where = where;
        }
    }
    if (isinf(b->reach) || b->reach > t->unnoticed) {
        t->unnoticed = b->reach;
        t->where = b->whose;
    }
}

static void add_beside(jaw__worth *w, const jaw__beside *b, jaw_value_trust *t)
{
    static const char *const of[2] = {"touches of the datums of '%.60s'",
                                      "what was seen on rotary '%.60s'"};
    char text[120];

    for (int k = 0; k < 2; k++) {
        jaw__join(t, b->u[k], b->dof[k]);
        if (b->u[k] == 0 || isnan(b->u[k]))
            continue;
        snprintf(text, sizeof text, of[k], b->task[k]->name);
        jaw__budget_beside(w, t, b->u[k], b->dof[k], text);
    }
}

/* What was put together of a zero: by, of its axes, and turn.  For one that is
 * indexed no touch more is proposed: what would help is not of the adjustment
 * alone. */
static void weigh_part(jaw__worth *w, size_t i, jaw_vec3 by, double turn,
                       jaw_value_trust *t, jaw_next *next)
{
    const jaw_zero_entry *e = &w->sv->setup->zeros[i];
    jaw__beside b;

    if (!jaw__is_carried(e)) {
        weigh_value(w, t, next);
        return;
    }
    jaw__weigh_value(w, t);
    const jaw_value_trust own = *t;
    jaw__beside_of(w->sv, i, by, turn, &b);
    add_beside(w, &b, t);
    add_unseen(w, &b, &own, t);
    if (e->index.table == NULL && b.lie != NULL && !isnan(t->u))
        jaw__next_by_datums(w, b.lie, b.by, b.turn, &own, t, next);
}

static void weigh_zero(jaw__worth *w, size_t i)
{
    jaw_zero_found *z = &w->sv->out->zeros[i];

    if (jaw__is_carried(&w->sv->setup->zeros[i]) && z->status != JAW_OK)
        return;
    for (jaw_axis axis = JAW_X; axis < JAW_AXES; axis++) {
        jaw_vec3 by = {axis == JAW_X, axis == JAW_Y, axis == JAW_Z};
        jaw__form_start(w);
        if (jaw__put_zero(w, i, axis, 1))
            weigh_part(w, i, by, 0, &z->trust[axis], &z->next[axis]);
    }
    jaw__form_start(w);
    if (jaw__put_turn(w, i, 1))
        weigh_part(w, i, (jaw_vec3){0, 0, 0}, 1, &z->turn_trust, &z->turn_next);
}

/* What all else says of a length that a book states, less what the book says:
 * the residual over its redundancy, which has the variance of both (Baarda
 * 1968).  Of the sheet's share nobody knows more than its repeats. */
static double find_since(const jaw__worth *w, size_t i, jaw_tool_found *tool)
{
    size_t at = w->j->length_equation[i];

    if (!w->sv->setup->tools[i].link.wanted || at == JAW_NO_BLOCK)
        return (double)NAN;
    const jaw__origin *o = &w->j->origins[at];
    jaw_reliability r = jaw_adjust_reliability(w->j->adjust, at);
    if (!(r.redundancy > JAW__FOLLOWS))
        return (double)NAN;
    double whole = o->sigma / sqrt(r.redundancy), u[2], dof[2];
    u[0] = fmin(o->seen, o->sigma);
    u[1] = less(whole, u[0] * u[0]);
    dof[0] = o->seen_dof > 0 ? o->seen_dof : (double)INFINITY;
    dof[1] = (double)INFINITY;
    double free = jaw_trust_effective_dof(u, dof, 2);
    tool->since_limit = whole * jaw_trust_cover(0.99, free);
    /* a length counted from a surface is stated with its own sign */
    double sign = w->sv->setup->tools[i].above == NULL ? 1 : -1;
    tool->since = sign * r.resid / r.redundancy;
    return whole * jaw_trust_cover(0.999, free);
}

static void judge_since(jaw__worth *w, size_t i, jaw_tool_found *tool)
{
    const jaw_tool_entry *e = &w->sv->setup->tools[i];
    double doubtful = find_since(w, i, tool);

    if (!(fabs(tool->since) > doubtful))
        return;
    tool->flags |= JAW_RESIDUAL;
    jaw__tell(w->sv, SAY_TOOL_SINCE, e->place, NULL, e->number,
              tool->since > 0 ? "longer" : "shorter",
              jaw__length_text(w->sv, fabs(tool->since)).s, e->link.entry);
}

static void weigh_tool(jaw__worth *w, size_t i, jaw_tool_found *tool)
{
    jaw__form_start(w);
    jaw__put_tool(w, i, 1);
    jaw__weigh_value(w, &tool->trust);
    judge_since(w, i, tool);
}

static void take_total(jaw__solver *sv)
{
    jaw_adjust_quality q = jaw_adjust_total(sv->joint->adjust);

    sv->out->total = (jaw_solution_quality){q.dof, q.s0, q.chi2_p,
                                            sv->joint->all_stated};
}

static bool make_room(jaw__worth *w)
{
    w->f = jaw_linear_alloc(w->j->adjust);
    w->spoken = calloc(w->sv->setup->n_features + 1, sizeof *w->spoken);
    return w->f != NULL && w->spoken != NULL && jaw__budget_start(w);
}

static void weigh_all(jaw__worth *w)
{
    jaw_solution *out = w->sv->out;

    find_scale(w);
    for (size_t i = 0; i < out->n_zeros; i++)
        weigh_zero(w, i);
    for (size_t i = 0; i < out->n_tools; i++)
        if (out->tools[i].status == JAW_OK)
            weigh_tool(w, i, &out->tools[i]);
    for (size_t f = 0; f < w->sv->setup->n_features; f++) {
        weigh_size(w, f);
        weigh_own(w, f);
    }
    if (w->sv->setup->asks_where)
        jaw__weigh_where(w);
    jaw__judge(w);
}

void jaw__solve_worth(jaw__solver *sv)
{
    const double nan = (double)NAN;
    jaw__worth w = {.sv = sv, .j = sv->joint};

    sv->out->total = (jaw_solution_quality){nan, nan, nan, false};
    if (sv->joint != NULL && sv->joint->solved) {
        take_total(sv);
        if (make_room(&w))
            weigh_all(&w);
        else
            sv->no_memory = true;
    }
    if (!sv->no_memory)
        jaw__compare_sweeps(&w);
    jaw__solve_tasks(&w);
    jaw__budget_hand_out(sv->out);
    jaw_linear_free(w.f);
    free(w.spoken);
    free(w.sums);
    free(w.order);
}
