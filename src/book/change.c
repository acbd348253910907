/* SPDX-License-Identifier: GPL-3.0-or-later */
/* change.c: is the tool what it was?  First whether it changed at all, by a
 * test with a stated rate of false alarms; then, if it did, what that probably
 * was (likely.c).
 *
 * The difference of two values has only the uncertainty that the two do not
 * share: the same surface and the same block are wrong by the same both times.
 * What was seen of the rest (readings, a surface or a block that was calibrated
 * in between) has few degrees of freedom, each part its own; beside them stands
 * what is known (jaw_trust_limit). */
#include "change.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* -------------------------------------------------------------------- parts */

void jaw__parts_add(jaw__parts *p, double u, double dof)
{
    if (isnan(u))
        return;
    if (isnan(dof) || isinf(dof) || p->n == JAW__PARTS_MAX) {
        p->known = hypot(p->known, u);
        return;
    }
    p->u[p->n] = u;
    p->dof[p->n++] = dof;
}

double jaw__parts_u(const jaw__parts *p, double *dof)
{
    double u[JAW__PARTS_MAX + 1], f[JAW__PARTS_MAX + 1], all = p->known;

    for (size_t i = 0; i < p->n; i++) {
        all = hypot(all, u[i] = p->u[i]);
        f[i] = p->dof[i];
    }
    u[p->n] = p->known;
    f[p->n] = (double)INFINITY;
    *dof = jaw_trust_effective_dof(u, f, p->n + 1);
    return all;
}

/* ------------------------------------------------------------ what is known */

/* Of a length or a diameter. */
typedef struct what {
    int number;
    const char *holder, *datum; /* datum "" of a diameter */
    double value, u;
    bool fresh;
    jaw_book_change change;
} what;

static what what_of(const jaw_book_record *r)
{
    const jaw_book_length *l = &r->as.length;
    const jaw_book_diameter *d = &r->as.diameter;

    return r->kind == JAW_BOOK_LENGTH
               ? (what){l->number, l->holder, l->datum, l->value, l->u,
                        l->fresh, l->change}
               : (what){d->number, d->holder, "", d->value, d->u, d->fresh,
                        d->change};
}

typedef struct others {
    what mine;
    jaw__other_tool tool[300];
    size_t n;
} others;

static bool take_other(void *user, const jaw_book_record *r)
{
    others *o = user;
    what w = what_of(r);

    if (w.number == o->mine.number || strcmp(w.datum, o->mine.datum) != 0)
        return true;
    jaw__other_tool *tool = &o->tool[o->n++];
    *tool = (jaw__other_tool){.number = w.number, .value = w.value,
                              .u = isnan(w.u) ? JAW_BOOK_REPEAT : w.u};
    snprintf(tool->holder, sizeof tool->holder, "%s", w.holder);
    return o->n < sizeof o->tool / sizeof o->tool[0];
}

/* What it lost a change since it was fresh, over at least three changes. */
typedef struct wear {
    double first, last;
    int n;
} wear;

static bool take_wear(void *user, const jaw_book_record *r)
{
    wear *w = user;
    what one = what_of(r);

    if (r->undone || (r->doubts & JAW_BOOK_SLIPS))
        return true;
    w->first = one.value; /* the history comes newest first */
    if (w->n++ == 0)
        w->last = w->first;
    return !one.fresh && !jaw_book_change_ends(one.change);
}

static jaw_status find_wear(jaw_book *book, const jaw_book_measured *out,
                            double *mean)
{
    wear w = {0};
    jaw_book_kind kind = out->record.kind;
    jaw_status status = jaw_book_history(book, kind, out->record.machine,
                                         out->subject, 30, take_wear, &w);

    *mean = (kind == JAW_BOOK_DIAMETER ? 2 : 1) * JAW_BOOK_WEAR;
    if (status == JAW_OK && w.n >= 4 && w.first > w.last)
        *mean = (w.first - w.last) / (w.n - 1);
    return status;
}

/* ----------------------------------------------------------------- compare */

void jaw__compare_begin(jaw_book_verdict *v)
{
    const double nan = (double)NAN;

    *v = (jaw_book_verdict){.change = JAW_CHANGE_FIRST, .last = nan,
                            .differ = nan, .u = nan, .dof = nan, .limit = nan,
                            .noticed = nan, .wear = nan,
                            .first_differ = nan, .first_limit = nan};
}

/* A change is missed where the limit comes out large and the readings fall
 * back: the limit varies by limit / sqrt(2 dof), and lies a quarter of a degree
 * of freedom lower than it should (Johnson & Welch 1940). */
static double noticed_of(double limit, double u, double dof)
{
    double below = isinf(dof) ? 0 : 1 / (4 * dof);
    double varies = isinf(dof) ? 0 : limit / sqrt(2 * dof);
    double z = jaw_trust_shift(JAW_BOOK_ALPHA, JAW_TRUST_POWER) -
               jaw_trust_cover(1 - JAW_BOOK_ALPHA, (double)INFINITY);

    return limit * (1 - below) + z * hypot(u, varies);
}

static double over_root(size_t n)
{
    return 1 / sqrt(n > 0 ? (double)n : 1);
}

/* Readings that were both seen have one spread, of which the newer one is the
 * better one: it is pooled with all before it. */
static void add_readings(jaw__parts *p, jaw__read now, jaw__read then,
                         bool alike)
{
    if (alike && !isinf(now.repeat_dof) && !isinf(then.repeat_dof)) {
        jaw__parts_add(p, now.repeat * hypot(over_root(now.n),
                                             over_root(then.n)),
                       now.repeat_dof);
        return;
    }
    jaw__parts_add(p, now.repeat * over_root(now.n), now.repeat_dof);
    jaw__parts_add(p, then.repeat * over_root(then.n), then.repeat_dof);
}

void jaw__compare_limit(jaw_book_verdict *v, jaw__read now, jaw__read then,
                        bool alike, jaw__parts p)
{
    const jaw__read assumed = {JAW_BOOK_REPEAT, (double)INFINITY, 0};

    v->repeat_assumed = isnan(now.repeat) || (!alike && isnan(then.repeat));
    if (isnan(now.repeat)) {
        now.repeat = assumed.repeat;
        now.repeat_dof = assumed.repeat_dof;
    }
    if (isnan(then.repeat)) {
        then.repeat = alike ? now.repeat : assumed.repeat;
        then.repeat_dof = alike ? now.repeat_dof : assumed.repeat_dof;
    }
    add_readings(&p, now, then, alike);
    v->u = jaw__parts_u(&p, &v->dof);
    v->limit = jaw_trust_limit(p.u, p.dof, p.n, p.known);
    v->noticed = noticed_of(v->limit, v->u, v->dof);
}

/* What a real change probably is, with what the book knows of this and of other
 * tools. */
static jaw_status judge(jaw_book *book, double reach, jaw_book_measured *out)
{
    jaw_book_verdict *v = &out->verdict;
    others o = {.mine = what_of(&out->record)};
    jaw_status status = find_wear(book, out, &v->wear);

    if (status == JAW_OK)
        status = jaw_book_current(book, out->record.kind, out->record.machine,
                                  take_other, &o);
    if (status == JAW_OK)
        jaw__book_judge(v, out->record.kind, reach, o.tool, o.n);
    if (jaw_book_change_ends(v->change))
        out->record.doubts |= JAW_BOOK_CHANGED;
    return status;
}

jaw_status jaw__compare_settle(jaw_book *book, double reach,
                               jaw_book_measured *out)
{
    jaw_book_verdict *v = &out->verdict;
    jaw_status status = JAW_OK;

    if (what_of(&out->record).fresh)
        v->change = JAW_CHANGE_FIRST;
    else if (fabs(v->differ) <= v->limit)
        v->change = JAW_CHANGE_NOISE;
    else if (v->change != JAW_CHANGE_SURFACE)
        status = judge(book, reach, out);
    if (out->record.kind == JAW_BOOK_LENGTH)
        out->record.as.length.change = v->change;
    else
        out->record.as.diameter.change = v->change;
    return status;
}

/* ----------------------------------------------------------------- lengths */

jaw__top jaw__top_of(const jaw_book_record *r)
{
    return (jaw__top){r->as.height, r->n_readings, r->part_of};
}

/* A height, or nothing. */
static jaw__top top_at(jaw_book *book, long long id)
{
    jaw_book_record r;

    if (id == 0 || jaw_book_get(book, id, &r) != JAW_OK ||
        r.kind != JAW_BOOK_HEIGHT)
        return (jaw__top){
            {.value = (double)NAN, .u = 0, .dof = (double)INFINITY}, 0, 0};
    return jaw__top_of(&r);
}

/* Two calibrations by the same tool of the same length are wrong by the same
 * share of it, which does not count between them. */
void jaw__parts_tops(jaw__parts *p, const jaw__top *a, const jaw__top *b)
{
    const jaw__top *top[2] = {a, b};
    const jaw_book_height *x = &a->h, *y = &b->h;
    bool same = x->length_u > 0 && x->tool == y->tool &&
                !(x->length < y->length) && !(x->length > y->length) &&
                !(x->length_u < y->length_u) && !(x->length_u > y->length_u);

    for (int i = 0; i < 2; i++) {
        double u = top[i]->h.u, dof = top[i]->h.dof;
        double own = same ? sqrt(fmax(u - x->length_u, 0) * (u + x->length_u))
                          : u;
        /* u^4 / dof is that of the seen part, if what drops out is known; if it
           was seen as well, its readings have these at least */
        if (u > 0 && same)
            dof = fmax(dof * pow(own / u, 4), (double)top[i]->n - 1);
        jaw__parts_add(p, own, u > 0 ? dof : (double)INFINITY);
    }
}

typedef struct block {
    double value, u, dof;
} block;

static bool take_block(void *user, const jaw_book_record *r)
{
    block *b = user;
    const jaw_book_height *h = &r->as.height;

    if (h->value < b->value || h->value > b->value || h->u < b->u ||
        h->u > b->u)
        return true;
    b->dof = h->dof;
    return false;
}

/* Of the block as it was when it lay in between. */
static double block_dof(jaw_book *book, const char *name, double thickness,
                        double u)
{
    block b = {thickness, u, (double)INFINITY};

    if (*name != '\0' &&
        jaw_book_history(book, JAW_BOOK_HEIGHT, "", name, 0, take_block, &b) !=
            JAW_OK)
        return (double)INFINITY;
    return b.dof;
}

/* The length before this one; its texts are its own. */
typedef struct before {
    jaw_book_length l;
    size_t n;
    char on[JAW_BOOK_NAME_SIZE], through[JAW_BOOK_NAME_SIZE];
} before;

static before before_of(const jaw_book_record *r)
{
    before b = {.l = r->as.length, .n = r->n_readings};

    snprintf(b.on, sizeof b.on, "%s", b.l.on);
    snprintf(b.through, sizeof b.through, "%s", b.l.through);
    return b;
}

/* What the two do not share beside their readings and the surface. */
static jaw__parts unshared(jaw_book *book, const jaw_book_machine *m,
                           const jaw_book_measured *out, const before *last)
{
    const jaw_book_length *l = &out->record.as.length, *then = &last->l;
    jaw__parts p = {.n = 0};

    if (m->seat > 0)
        jaw__parts_add(&p, m->seat * sqrt(2), (double)INFINITY);
    jaw__parts_add(&p, jaw__rounding_u(m->step, l->repeat, l->repeat_dof,
                                       out->record.n_readings),
                   (double)INFINITY);
    jaw__parts_add(&p, jaw__rounding_u(m->step, then->repeat, then->repeat_dof,
                                       last->n > 0 ? last->n : 1),
                   (double)INFINITY);
    if (then->between < l->between || then->between > l->between ||
        strcmp(last->through, l->through) != 0) {
        jaw__parts_add(&p, l->between_u, out->between_dof);
        jaw__parts_add(&p, then->between_u,
                       block_dof(book, last->through, then->between,
                                 then->between_u));
    }
    return p;
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

/* What was read is what it was, and the surface alone is another one. */
static void blame_surface(const before *last, double risen, double noise,
                          bool carried, jaw_book_measured *out)
{
    jaw_book_verdict *v = &out->verdict;

    if (!(fabs(v->differ) > v->limit) || !(fabs(v->differ + risen) <= noise))
        return;
    v->surface = out->record.as.length.surface;
    v->surface_last = last->l.surface;
    v->surface_carried = carried;
    v->change = JAW_CHANGE_SURFACE;
    out->record.doubts |= JAW_BOOK_CHANGED;
}

static void compare_with(jaw_book *book, const jaw_book_machine *m,
                         const before *last, jaw_book_measured *out)
{
    const jaw_book_length *l = &out->record.as.length;
    const jaw__read now = {l->repeat, l->repeat_dof, out->record.n_readings};
    const jaw__read then = {last->l.repeat, last->l.repeat_dof, last->n};
    bool alike = strcmp(last->on, l->on) == 0 &&
                 (last->l.between > 0) == (l->between > 0);
    jaw__parts p = unshared(book, m, out, last);
    jaw_book_verdict readings;

    if (last->l.surface == l->surface) {
        jaw__compare_limit(&out->verdict, now, then, alike, p);
        return;
    }
    jaw__compare_limit(&readings, now, then, alike, p);
    const jaw__top top = top_at(book, l->surface);
    const jaw__top earlier = top_at(book, last->l.surface);
    jaw__parts_tops(&p, &top, &earlier);
    jaw__compare_limit(&out->verdict, now, then, alike, p);
    if (!l->fresh && strcmp(last->on, l->on) == 0)
        blame_surface(last, top.h.value - earlier.h.value, readings.limit,
                      top.part_of > 0, out);
}

/* The first of this cutter, if it is among so many: a number that keeps the
 * command quick in any book; 100 is our choice. */
enum { SINCE_NEW = 100 };

typedef struct first_seen {
    long long id;
    before first;
    int n; /* looked at */
    bool ended;
} first_seen;

static bool take_first(void *user, const jaw_book_record *r)
{
    first_seen *f = user;

    f->n++;
    if (r->undone || (r->doubts & JAW_BOOK_SLIPS))
        return true;
    f->id = r->id;
    f->first = before_of(r);
    f->ended = r->as.length.fresh || jaw_book_change_ends(r->as.length.change);
    return !f->ended;
}

/* Steps that are noise each may add up to what is none. */
static jaw_status since_new(jaw_book *book, const jaw_book_machine *m,
                            jaw_book_measured *out)
{
    jaw_book_measured whole = *out;
    jaw_book_verdict *v = &whole.verdict;
    first_seen f = {.id = 0};
    jaw_status status = jaw_book_history(book, JAW_BOOK_LENGTH,
                                         out->record.machine, out->subject,
                                         SINCE_NEW, take_first, &f);

    if (status != JAW_OK || f.id == 0 || f.id == v->last_id ||
        (!f.ended && f.n == SINCE_NEW))
        return status;
    jaw__compare_begin(v);
    v->differ = out->record.as.length.value - f.first.l.value;
    compare_with(book, m, &f.first, &whole);
    if (v->change == JAW_CHANGE_SURFACE || !(fabs(v->differ) > v->limit))
        return JAW_OK;
    out->verdict.first_id = f.id;
    out->verdict.first_differ = v->differ;
    out->verdict.first_limit = v->limit;
    return JAW_OK;
}

jaw_status jaw__book_compare(jaw_book *book, const jaw_book_machine *m,
                             jaw_book_measured *out)
{
    jaw_book_verdict *v = &out->verdict;
    const jaw_book_length *l = &out->record.as.length;
    jaw_book_record r;

    jaw__compare_begin(v);
    if (strcmp(l->datum, "part") == 0)
        return JAW_OK; /* work Z 0 is elsewhere on every part */
    jaw_status status = jaw__book_sound(book, JAW_BOOK_LENGTH,
                                        out->record.machine, out->subject, &r);
    if (status != JAW_OK)
        return status == JAW_EUNKNOWN ? JAW_OK : status;
    before last = before_of(&r);
    v->last_id = r.id;
    v->last = last.l.value;
    v->differ = l->value - v->last;
    compare_with(book, m, &last, out);
    status = jaw__compare_settle(book, reach_of(l, v, m), out);
    if (status == JAW_OK && v->change == JAW_CHANGE_NOISE)
        status = since_new(book, m, out);
    return status;
}

/* -------------------------------------------------------------------- notes */

static const char *what_it_is(jaw_book_change change)
{
    switch (change) {
    case JAW_CHANGE_PULLED: return "pulled out of the holder";
    case JAW_CHANGE_BROKEN: return "broken, or pushed in";
    case JAW_CHANGE_SMALLER: return "chipped, or ground anew";
    default: return "something sticks to it, or it is another tool";
    }
}

static void tell_seat(jaw_book *book, const jaw_book_machine *m,
                      jaw_book_change change)
{
    if (isnan(m->seat) && change != JAW_CHANGE_NOISE &&
        change != JAW_CHANGE_UNSURE)
        jaw__book_say(book, SAY_SEAT_ASSUMED);
}

void jaw__book_tell_change(jaw_book *book, const jaw_book_machine *m,
                           const jaw_book_measured *out)
{
    const jaw_book_verdict *v = &out->verdict;
    bool length = out->record.kind == JAW_BOOK_LENGTH, more = v->differ > 0;
    jaw_unit unit = length ? out->record.as.length.unit
                           : out->record.as.diameter.unit;
    what w = what_of(&out->record);
    const char *how = length ? (more ? "longer" : "shorter")
                             : (more ? "larger" : "smaller");
    double share = 100 * v->share[v->change];
    jaw__book_text by = jaw__book_mm(fabs(v->differ), unit, m);

    if (v->last_id == 0 || w.fresh)
        return;
    if (v->repeat_assumed)
        jaw__book_say(book, SAY_REPEAT_ASSUMED,
                      jaw__book_mm(JAW_BOOK_REPEAT, unit, m).s);
    if (v->change == JAW_CHANGE_SURFACE) {
        jaw__book_say(book, v->surface_carried ? SAY_CHANGED_CARRIED
                                               : SAY_CHANGED_SURFACE,
                      w.number, by.s, out->record.as.length.on,
                      v->surface_last, v->surface);
        return;
    }
    if (v->change == JAW_CHANGE_OTHER)
        jaw__book_say(book, length ? SAY_CHANGED_TO : SAY_DIAMETER_TO,
                      w.number, how, by.s, v->other, share);
    else if (jaw_book_change_ends(v->change) &&
             v->change != JAW_CHANGE_UNSURE)
        jaw__book_say(book, length ? SAY_CHANGED : SAY_DIAMETER, w.number, how,
                      by.s, what_it_is(v->change), share);
    if (length)
        tell_seat(book, m, v->change);
}
