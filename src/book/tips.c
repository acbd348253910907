/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tips.c: what a book keeps of a tip's calibration, and whether it measures as
 * it did last time: its diameter by Student's t, its runout and its lobes each
 * as a vector of two (Hotelling's T^2). */
#include "change.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

void jaw_book_tip_of(const jaw_tip_calibration *cal, jaw_book_tip *tip)
{
    tip->value = cal->diameter;
    tip->u = cal->u_diameter;
    tip->dof = cal->dof;
    tip->half95 = cal->within;
    tip->runout = cal->first.state;
    tip->lobes = cal->third.state;
    memcpy(tip->harmonic, cal->harmonic, sizeof tip->harmonic);
    memcpy(tip->cov, cal->cov, sizeof tip->cov);
    tip->repeat = cal->repeat;
    tip->repeat_dof = cal->dof_repeat;
    tip->size_u = cal->size_u;
}

/* ----------------------------------------------------------------- compare */

/* What the touches leave of the diameter, without the known size. */
static double touched_u(const jaw_book_tip *t)
{
    double left = t->u * t->u - t->size_u * t->size_u;

    return left > 0 ? sqrt(left) : isnan(left) ? left : 0; /* 0: rounding */
}

static bool same_size(const jaw_book_tip *a, const jaw_book_tip *b)
{
    return strcmp(a->on, b->on) == 0 && a->size == b->size &&
           a->size_u == b->size_u &&
           (a->size_2 == b->size_2 || (isnan(a->size_2) && isnan(b->size_2)));
}

/* Touches that agree to the last digit are known to a step of the display. */
static void compare_diameter(const jaw_book_tip *now, const jaw_book_tip *last,
                             double step, jaw_book_tip_change *c)
{
    double u[4] = {touched_u(now), touched_u(last)};
    double dof[4] = {now->repeat_dof, last->repeat_dof, (double)INFINITY,
                     (double)INFINITY};

    c->last = last->value;
    c->last_half95 = last->half95;
    c->differ = now->value - last->value;
    c->same_size = same_size(now, last);
    u[2] = c->same_size ? 0 : now->size_u;
    u[3] = c->same_size ? 0 : last->size_u;
    c->u = hypot(hypot(u[0], u[1]), hypot(u[2], u[3]));
    c->limit = c->u == 0 ? step
                         : c->u * jaw_trust_cover(
                                      1 - JAW_BOOK_ALPHA,
                                      jaw_trust_effective_dof(u, dof, 4));
}

/* Where the pair begins in harmonic[], and its three terms in cov[]. */
typedef struct pair {
    size_t at, cov[3];
} pair;

static const pair runout = {0, {5, 6, 9}};
static const pair lobes = {2, {12, 13, 14}};

/* How far d moved, and how far it may in its own direction: with
 * T^2 = d' C^-1 d, of which 2 F(2, dof) is exceeded by chance. */
static void compare_pair(const jaw_book_tip *now, const jaw_book_tip *last,
                         const pair *p, double *moved, double *limit)
{
    double x = now->harmonic[p->at] - last->harmonic[p->at];
    double y = now->harmonic[p->at + 1] - last->harmonic[p->at + 1];
    double xx = now->cov[p->cov[0]] + last->cov[p->cov[0]];
    double xy = now->cov[p->cov[1]] + last->cov[p->cov[1]];
    double yy = now->cov[p->cov[2]] + last->cov[p->cov[2]];
    double det = xx * yy - xy * xy;
    double t2 = (x * x * yy - 2 * x * y * xy + y * y * xx) / det;
    double free = fmin(now->repeat_dof, last->repeat_dof);

    *moved = hypot(x, y);
    *limit = (double)NAN;
    if (det > 0 && t2 > 0)
        *limit = *moved * sqrt(2 * jaw_trust_f(JAW_BOOK_ALPHA, 2, free) / t2);
    else if (det > 0) /* it did not move at all */
        *limit = sqrt(2 * jaw_trust_f(JAW_BOOK_ALPHA, 2, free) *
                      fmax(xx, yy));
}

static bool kept(jaw_tip_term_state a, jaw_tip_term_state b)
{
    return a == JAW_TERM_KEPT && b == JAW_TERM_KEPT;
}

static void compare(const jaw_book_tip *now, const jaw_book_tip *last,
                    double step, jaw_book_tip_change *c)
{
    compare_diameter(now, last, step, c);
    if (kept(now->runout, last->runout))
        compare_pair(now, last, &runout, &c->runout, &c->runout_limit);
    if (kept(now->lobes, last->lobes))
        compare_pair(now, last, &lobes, &c->lobes, &c->lobes_limit);
    c->changed = fabs(c->differ) > c->limit || c->runout > c->runout_limit ||
                 c->lobes > c->lobes_limit;
}

/* ------------------------------------------------------------------- judge */

static void tell(jaw_book *book, jaw_book_record *record,
                 const jaw_book_machine *m, const jaw_book_tip_change *c)
{
    const jaw_book_tip *t = &record->as.tip;
    const char *name = record->subject;

    if (fabs(c->differ) > c->limit &&
        jaw__slip_of(c->last, t->value, 0) == JAW_SLIP_INCH) {
        record->doubts |= JAW_BOOK_UNIT_JUMP;
        jaw__book_say(book, SAY_TIP_UNIT, name,
                      jaw__times_of(c->last, t->value));
        return;
    }
    record->doubts |= JAW_BOOK_CHANGED;
    if (fabs(c->differ) > c->limit)
        jaw__book_say(book, SAY_TIP_CHANGED, name,
                      c->differ > 0 ? "larger" : "smaller",
                      jaw__book_fine(fabs(c->differ), t->unit, m).s,
                      jaw__book_fine(c->limit, t->unit, m).s);
    if (c->runout > c->runout_limit)
        jaw__book_say(book, SAY_TIP_MOVED, "runout", name,
                      jaw__book_fine(c->runout, t->unit, m).s,
                      jaw__book_fine(c->runout_limit, t->unit, m).s);
    if (c->lobes > c->lobes_limit)
        jaw__book_say(book, SAY_TIP_MOVED, "pre-travel", name,
                      jaw__book_fine(c->lobes, t->unit, m).s,
                      jaw__book_fine(c->lobes_limit, t->unit, m).s);
}

jaw_status jaw_book_tip_judge(jaw_book *book, jaw_book_record *record,
                              jaw_book_tip_change *change)
{
    const double nan = (double)NAN;
    jaw_book_record last;
    jaw_book_machine m;
    bool known;

    *change = (jaw_book_tip_change){.last = nan, .last_half95 = nan,
                                    .differ = nan, .u = nan, .limit = nan,
                                    .runout = nan, .runout_limit = nan,
                                    .lobes = nan, .lobes_limit = nan};
    jaw_status status = jaw__book_sound(book, record->kind, record->machine,
                                        record->subject, &last);
    if (status != JAW_OK)
        return status == JAW_EUNKNOWN ? JAW_OK : status;
    change->last_id = last.id;
    change->last_at = last.at;
    if (record->as.tip.fresh)
        return JAW_OK;
    jaw_book_tip before = last.as.tip;
    char on[20];
    snprintf(on, sizeof on, "%s", before.on); /* the next call frees it */
    before.on = on;
    status = jaw_book_machine_of(book, record->machine, &m, &known);
    if (status == JAW_OK)
        compare(&record->as.tip, &before, m.step, change);
    if (status == JAW_OK && change->changed)
        tell(book, record, &m, change);
    return status;
}
