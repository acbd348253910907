/* SPDX-License-Identifier: GPL-3.0-or-later */
/* change.c: is the tool what it was?  First whether it changed at all, by a
 * test with a stated rate of false alarms; then, if it did, what that probably was,
 * by how likely each cause would have made just this change (Bayes).
 *
 * The difference of two lengths has only the uncertainty that the two do not
 * share: the same surface and the same block are wrong by the same both times.
 * The readings' share follows Student's t with the degrees of freedom of the
 * pooled spread; what is known beside it, and is normal, makes the distribution
 * narrower, as the effective degrees of freedom say (JCGM 100, G.4). */
#include "change.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* ------------------------------------------------------------- likelihoods */

static double normal_density(double x, double s)
{
    return exp(-x * x / (2 * s * s)) / (s * sqrt(2 * acos(-1)));
}

static double normal_below(double x)
{
    return 0.5 * erfc(-x / sqrt(2));
}

/* ln of the normal probability below x, far out by its asymptote. */
static double ln_below(double x)
{
    return x > -30 ? log(normal_below(x))
                   : -x * x / 2 - log(-x * sqrt(2 * acos(-1)));
}

/* Exponential loss of mean m, seen with a normal error s. */
static double worn_density(double d, double s, double m)
{
    double lost = -d;

    return exp(s * s / (2 * m * m) - lost / m + ln_below(lost / s - s / m)) / m;
}

/* Any amount between 0 and reach, seen with a normal error s. */
static double even_density(double amount, double s, double reach)
{
    return (normal_below(amount / s) - normal_below((amount - reach) / s)) /
           reach;
}

static double other_density(jaw_book_verdict *v, double s,
                            const jaw__other_tool other[], size_t n)
{
    double sum = 0, best = 0;

    for (size_t i = 0; i < n; i++) {
        double p = normal_density(v->differ - (other[i].value - v->last),
                                  hypot(s, other[i].u));
        sum += p;
        if (p <= best)
            continue;
        best = p;
        v->other = other[i].number;
        memcpy(v->other_holder, other[i].holder, sizeof v->other_holder);
    }
    return n > 0 ? sum / (double)n : 0;
}

/* The normal error is as wide as the limit says, which few degrees of freedom
 * make wider. */
void jaw__book_judge(jaw_book_verdict *v, double reach,
                     const jaw__other_tool other[], size_t n)
{
    double s = v->limit / jaw_trust_cover(1 - JAW_BOOK_ALPHA, (double)INFINITY);
    double total = 0;
    static const struct {
        jaw_book_change change;
        double share;
    } prior[] = {
#define PRIOR(change, share) {change, share},
        JAW_BOOK_PRIOR_LIST(PRIOR)
#undef PRIOR
    };

    v->other = 0;
    v->share[JAW_CHANGE_WORN] = worn_density(v->differ, s, v->wear);
    v->share[JAW_CHANGE_PULLED] = even_density(v->differ, s, reach);
    v->share[JAW_CHANGE_BROKEN] = even_density(-v->differ, s, reach);
    v->share[JAW_CHANGE_OTHER] = other_density(v, s, other, n);
    for (size_t i = 0; i < sizeof prior / sizeof prior[0]; i++)
        total += v->share[prior[i].change] *= prior[i].share;
    v->change = v->differ > 0 ? JAW_CHANGE_PULLED : JAW_CHANGE_BROKEN;
    for (size_t i = 0; i < sizeof prior / sizeof prior[0]; i++) {
        double *share = &v->share[prior[i].change];
        *share = total > 0 ? *share / total : prior[i].change == v->change;
        if (*share > v->share[v->change])
            v->change = prior[i].change;
    }
}

/* ------------------------------------------------------------ what is known */

typedef struct others {
    const jaw_book_length *mine;
    const char *machine;
    jaw__other_tool tool[300];
    size_t n;
} others;

static bool take_other(void *user, const jaw_book_record *r)
{
    others *o = user;
    const jaw_book_length *l = &r->as.length;

    if (l->number == o->mine->number || strcmp(l->datum, o->mine->datum) != 0)
        return true;
    jaw__other_tool *tool = &o->tool[o->n++];
    *tool = (jaw__other_tool){.number = l->number, .value = l->value,
                              .u = isnan(l->u) ? JAW_BOOK_REPEAT : l->u};
    snprintf(tool->holder, sizeof tool->holder, "%s", l->holder);
    return o->n < sizeof o->tool / sizeof o->tool[0];
}

/* What it lost a change since it was fresh, over at least three changes. */
typedef struct wear {
    double first, last;
    int n;
    bool ended;
} wear;

static bool ends_wear(jaw_book_change change)
{
    return change == JAW_CHANGE_PULLED || change == JAW_CHANGE_BROKEN ||
           change == JAW_CHANGE_OTHER || change == JAW_CHANGE_UNSURE;
}

static bool take_wear(void *user, const jaw_book_record *r)
{
    wear *w = user;

    if (r->undone)
        return true;
    w->first = r->as.length.value; /* the history comes newest first */
    if (w->n++ == 0)
        w->last = w->first;
    return !r->as.length.fresh && !ends_wear(r->as.length.change);
}

static jaw_status find_wear(jaw_book *book, const jaw_book_measured *out,
                            double *mean)
{
    wear w = {0};
    jaw_status status =
        jaw_book_history(book, JAW_BOOK_LENGTH, out->record.machine,
                         out->subject, 30, take_wear, &w);

    *mean = JAW_BOOK_WEAR;
    if (status == JAW_OK && w.n >= 4 && w.first > w.last)
        *mean = (w.first - w.last) / (w.n - 1);
    return status;
}

/* ----------------------------------------------------------------- compare */

static double surface_u(jaw_book *book, long long id)
{
    jaw_book_record r;

    if (id == 0 || jaw_book_get(book, id, &r) != JAW_OK ||
        r.kind != JAW_BOOK_HEIGHT || isnan(r.as.height.u))
        return 0;
    return r.as.height.u;
}

/* What is known of both lengths and is not the same for both. */
static double unshared(jaw_book *book, const jaw_book_machine *m,
                       const jaw_book_measured *out,
                       const jaw_book_length *last)
{
    const jaw_book_length *l = &out->record.as.length;
    double seat = isnan(m->seat) ? 0 : m->seat;
    double sum = hypot(m->step / sqrt(12), seat) * sqrt(2);

    if (last->between != l->between)
        sum = hypot(sum, hypot(last->between_u, l->between_u));
    if (last->surface == l->surface)
        return sum;
    return hypot(sum, hypot(isnan(out->top_u) ? 0 : out->top_u,
                            surface_u(book, last->surface)));
}

static void find_limit(jaw_book_verdict *v, const jaw_book_length *l,
                       size_t n, const jaw_book_length *last, size_t n_last,
                       double known)
{
    double now = isnan(l->repeat) ? JAW_BOOK_REPEAT : l->repeat;
    double dof[2] = {isnan(l->repeat) ? (double)INFINITY : l->repeat_dof,
                     (double)INFINITY};
    /* a spread that was seen is pooled with all before it: the newer one is
     * the better one for both */
    double then = isinf(last->repeat_dof) ? last->repeat : now;
    double u[2] = {hypot(now / sqrt((double)n),
                         then / sqrt(n_last > 0 ? (double)n_last : 1)),
                   known};

    v->repeat_assumed = isnan(l->repeat);
    v->u = hypot(u[0], u[1]);
    double effective = jaw_trust_effective_dof(u, dof, 2);
    v->limit = v->u * jaw_trust_cover(1 - JAW_BOOK_ALPHA, effective);
    v->noticed = v->limit * jaw_trust_shift(JAW_BOOK_ALPHA, JAW_TRUST_POWER) /
                 jaw_trust_cover(1 - JAW_BOOK_ALPHA, (double)INFINITY);
}

/* How much can stick out of a holder: not more than the tool is long. */
static double reach_of(const jaw_book_length *l, const jaw_book_verdict *v,
                       const jaw_book_machine *m)
{
    double travel = m->high[2] - m->low[2];

    if (*l->datum == '\0' && v->last > 0)
        return fmax(v->last, fabs(v->differ));
    return fmax(isnan(travel) ? 100 : travel, fabs(v->differ));
}

void jaw__book_tell_change(jaw_book *book, const jaw_book_machine *m,
                           const jaw_book_measured *out)
{
    const jaw_book_verdict *v = &out->verdict;
    const jaw_book_length *l = &out->record.as.length;
    const char *how = v->differ > 0 ? "longer" : "shorter";
    double share = 100 * v->share[v->change];
    jaw__book_text by = jaw__book_mm(fabs(v->differ), l->unit, m);

    if (v->last_id == 0 || l->fresh)
        return;
    if (v->repeat_assumed)
        jaw__book_say(book, SAY_REPEAT_ASSUMED,
                      jaw__book_mm(JAW_BOOK_REPEAT, l->unit, m).s);
    if (v->change == JAW_CHANGE_OTHER)
        jaw__book_say(book, SAY_CHANGED_TO, l->number, how, by.s, v->other,
                      share);
    else if (v->change == JAW_CHANGE_PULLED || v->change == JAW_CHANGE_BROKEN)
        jaw__book_say(book, SAY_CHANGED, l->number, how, by.s,
                      v->change == JAW_CHANGE_PULLED ? "pulled out of the "
                                                       "holder"
                                                     : "broken, or pushed in",
                      share);
}

static jaw_status judge(jaw_book *book, const jaw_book_machine *m,
                        jaw_book_measured *out)
{
    jaw_book_verdict *v = &out->verdict;
    others o = {.mine = &out->record.as.length};
    jaw_status status = find_wear(book, out, &v->wear);

    if (status == JAW_OK)
        status = jaw_book_current(book, JAW_BOOK_LENGTH, out->record.machine,
                                  take_other, &o);
    if (status == JAW_OK)
        jaw__book_judge(v, reach_of(o.mine, v, m), o.tool, o.n);
    if (ends_wear(v->change))
        out->record.doubts |= JAW_BOOK_CHANGED;
    return status;
}

jaw_status jaw__book_compare(jaw_book *book, const jaw_book_machine *m,
                             jaw_book_measured *out)
{
    jaw_book_verdict *v = &out->verdict;
    jaw_book_length *l = &out->record.as.length;
    const double nan = (double)NAN;
    jaw_book_record last;

    *v = (jaw_book_verdict){.change = JAW_CHANGE_FIRST, .last = nan,
                            .differ = nan, .u = nan, .limit = nan,
                            .noticed = nan, .wear = nan};
    if (strcmp(l->datum, "part") == 0)
        return JAW_OK; /* work Z 0 is elsewhere on every part */
    jaw_status status = jaw_book_find(book, JAW_BOOK_LENGTH,
                                      out->record.machine, out->subject, &last);
    if (status != JAW_OK)
        return status == JAW_EUNKNOWN ? JAW_OK : status;
    v->last_id = last.id;
    v->last = last.as.length.value;
    v->differ = l->value - v->last;
    jaw_book_length before = last.as.length;
    find_limit(v, l, out->record.n_readings, &before, last.n_readings,
               unshared(book, m, out, &before));
    if (l->fresh)
        v->change = JAW_CHANGE_FIRST;
    else if (fabs(v->differ) <= v->limit)
        v->change = JAW_CHANGE_NOISE;
    else
        status = judge(book, m, out);
    l->change = v->change;
    return status;
}
