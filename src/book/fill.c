/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fill.c: what a setup leaves to the book: the book is opened, and surfaces,
 * tools and tips are looked up in this order, because what a tool was measured
 * on may be among the surfaces. */
#include "fill.h"

#include <jawline/measure.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

/* ------------------------------------------------------------------ shared */

void jaw__fill_missing(jaw__fill *f, jaw_status told)
{
    if (f->missing == JAW_OK)
        f->missing = told;
}

typedef struct search {
    const char *subject;
    int number;
    const char *not_on;
    char machine[JAW_BOOK_NAME_SIZE];
} search;

static bool take_elsewhere(void *user, const jaw_book_record *r)
{
    search *s = user;
    bool same = s->number > 0 ? r->as.length.number == s->number
                              : strcmp(r->subject, s->subject) == 0;

    if (!same || *r->machine == '\0' || strcmp(r->machine, s->not_on) == 0)
        return true;
    snprintf(s->machine, sizeof s->machine, "%s", r->machine);
    return false;
}

jaw_status jaw__fill_elsewhere(jaw__fill *f, jaw_book_kind kind,
                               const char *subject, int number,
                               char machine[JAW_BOOK_NAME_SIZE])
{
    search s = {.subject = subject, .number = number, .not_on = f->machine};
    jaw_status status =
        jaw_book_current(f->book, kind, NULL, take_elsewhere, &s);

    memcpy(machine, s.machine, sizeof s.machine);
    return status;
}

typedef struct newest {
    long long id, at;
    bool undone;
} newest;

static bool take_newest(void *user, const jaw_book_record *r)
{
    *(newest *)user = (newest){r->id, r->at, r->undone};
    return false;
}

static jaw_status newest_of(jaw__fill *f, jaw_book_kind kind,
                            const char *machine, const char *subject,
                            newest *n)
{
    *n = (newest){0, 0, false};
    return jaw_book_history(f->book, kind, machine, subject, 1, take_newest,
                            n);
}

jaw_status jaw__fill_gone(jaw__fill *f, jaw_place place, jaw_book_kind kind,
                          const char *machine, const char *subject,
                          const jaw__what *what, bool *gone)
{
    char at[32];
    newest n;
    long long by = 0;
    jaw_status status = newest_of(f, kind, machine, subject, &n);

    *gone = n.id > 0;
    if (status != JAW_OK || !*gone)
        return status;
    status = jaw_book_undone_by(f->book, n.id, &by);
    if (status != JAW_OK)
        return status;
    jaw__book_time(n.at, at, sizeof at);
    jaw__fill_missing(f, jaw__book_say_at(f->notes, place, SAY_LINK_GONE,
                                          what->s, n.id, at, by));
    return JAW_OK;
}

jaw_status jaw__fill_doubts(jaw__fill *f, jaw_place place,
                            const jaw_book_record *r,
                            const jaw__newest *holds, const jaw__what *what)
{
    char at[32];
    newest n;
    jaw_status status = newest_of(f, r->kind, r->machine, r->subject, &n);

    jaw__book_time(r->at, at, sizeof at);
    for (unsigned bit = 1; bit < JAW_BOOK_DOUBTS_END; bit <<= 1)
        if (r->doubts & bit)
            jaw__book_say_at(f->notes, place, SAY_LINK_DOUBT, what->s, r->id,
                             at, jaw_book_doubt_text(bit));
    if (holds->id != r->id)
        jaw__book_say_at(f->notes, place, SAY_LINK_BEFORE, what->s, r->id, at,
                         holds->id, jaw__book_first_doubt(holds->doubts));
    if (status == JAW_OK && n.undone)
        jaw__book_say_at(f->notes, place, SAY_LINK_UNDONE, what->s, r->id, at,
                         n.id);
    return status;
}

void jaw__fill_link(jaw_link *link, const jaw_book_record *r, double value,
                    double u, double dof, double half95)
{
    link->entry = r->id;
    link->at = r->at;
    link->value = value;
    link->u = u;
    link->dof = dof;
    link->half95 = half95;
}

/* ---------------------------------------------------------------- surfaces */

/* A setter that waits, and what is known of why. */
typedef struct waiting {
    jaw__fill *f;
    const jaw_setter_entry *e;
    bool block;
    const char *called;
    jaw__what what;
    bool told;
} waiting;

/* Told of it; what comes after need not look any more. */
static void say_of(waiting *w, jaw_status told)
{
    jaw__fill_missing(w->f, told);
    w->told = true;
}

/* A block where a surface is wanted, or the other way round. */
static jaw_status say_other_kind(waiting *w)
{
    jaw_book_record r;
    jaw_status status =
        jaw_book_find(w->f->book, JAW_BOOK_HEIGHT,
                      w->block ? w->f->machine : "", w->e->name, &r);

    if (status == JAW_OK)
        say_of(w, jaw__book_say_at(w->f->notes, w->e->link.place,
                                   w->block ? SAY_LINK_IS_TOP
                                            : SAY_LINK_IS_BLOCK,
                                   w->e->name));
    return status == JAW_EUNKNOWN ? JAW_OK : status;
}

static jaw_status say_elsewhere(waiting *w)
{
    char other[JAW_BOOK_NAME_SIZE];
    jaw_status status = jaw__fill_elsewhere(w->f, JAW_BOOK_HEIGHT, w->e->name,
                                            0, other);

    if (status == JAW_OK && *other != '\0')
        say_of(w, jaw__book_say_at(w->f->notes, w->e->link.place,
                                   SAY_LINK_ELSEWHERE, w->what.s, other,
                                   w->f->machine));
    return status;
}

static jaw_status say_near(waiting *w)
{
    char near[JAW_BOOK_NAME_SIZE];
    jaw_status status = jaw__book_near(w->f->book, JAW_BOOK_HEIGHT,
                                       w->block ? "" : w->f->machine, NULL, 0,
                                       w->e->name, near);

    if (status != JAW_OK)
        return status;
    if (*near != '\0')
        say_of(w, jaw__book_say_at(w->f->notes, w->e->link.place,
                                   SAY_LINK_NEAR, w->called, w->e->name,
                                   near));
    else
        say_of(w, jaw__book_say_at(w->f->notes, w->e->link.place,
                                   SAY_LINK_NO_SETTER, w->called, w->e->name));
    return JAW_OK;
}

/* Nothing under this name where it was looked for. */
static jaw_status say_no_setter(jaw__fill *f, const jaw_setter_entry *e)
{
    bool block = e->on != NULL;
    waiting w = {.f = f, .e = e, .block = block,
                 .called = block ? "block" : "surface"};

    snprintf(w.what.s, sizeof w.what.s, "%s '%.44s'", w.called, e->name);
    jaw_status status = jaw__fill_gone(f, e->link.place, JAW_BOOK_HEIGHT,
                                       block ? "" : f->machine, e->name,
                                       &w.what, &w.told);
    if (status == JAW_OK && !w.told)
        status = say_other_kind(&w);
    if (status == JAW_OK && !w.told && !block)
        status = say_elsewhere(&w);
    if (status == JAW_OK && !w.told)
        status = say_near(&w);
    return status;
}

/* A height may stand on readings and on what is known besides: its interval
 * says how much of it is which. */
static void take_height(const jaw_book_height *h, jaw_setter_entry *e)
{
    const jaw_figure f = {h->value, isnan(h->u) ? 0 : h->u, h->dof, h->half95};
    double u = f.u, dof = jaw__book_dof(&f);
    bool block = e->on != NULL;

    *(block ? &e->height : &e->top) = h->value;
    *(block ? &e->height_known : &e->top_known) = u;
    if (u > 0 && isfinite(dof)) {
        e->link.seen = u;
        e->link.seen_dof = dof;
    }
}

static jaw_status fill_setter(jaw__fill *f, size_t i)
{
    size_t n;
    jaw_setter_entry e = jaw_setup_setters(f->setup, &n)[i];
    bool block = e.on != NULL;
    jaw_book_record r;
    jaw__newest holds;
    jaw__what what;

    jaw_status status = jaw__book_stands(f->book, JAW_BOOK_HEIGHT,
                                         block ? "" : f->machine, e.name, &r,
                                         &holds);
    if (status == JAW_EUNKNOWN)
        return say_no_setter(f, &e);
    if (status != JAW_OK)
        return status;
    const jaw_book_height *h = &r.as.height;
    jaw__fill_link(&e.link, &r, h->value, h->u, h->dof, h->half95);
    take_height(h, &e);
    snprintf(what.s, sizeof what.s, "%s '%.44s'",
             block ? "the thickness of" : "the top of", e.name);
    status = jaw__fill_doubts(f, e.link.place, &r, &holds, &what);
    return status == JAW_OK ? jaw_setup_fill_setter(f->setup, i, &e) : status;
}

/* -------------------------------------------------------------------- tips */

static jaw_status say_no_tip(jaw__fill *f, const jaw_tip_entry *e)
{
    char near[JAW_BOOK_NAME_SIZE], other[JAW_BOOK_NAME_SIZE];
    jaw__what what;
    bool gone;

    snprintf(what.s, sizeof what.s, "tip '%.44s'", e->name);
    jaw_status status = jaw__fill_gone(f, e->link.place, JAW_BOOK_TIP,
                                       f->machine, e->name, &what, &gone);
    if (status != JAW_OK || gone)
        return status;
    status = jaw__fill_elsewhere(f, JAW_BOOK_TIP, e->name, 0, other);
    if (status == JAW_OK)
        status = jaw__book_near(f->book, JAW_BOOK_TIP, f->machine, NULL, 0,
                                e->name, near);
    if (status != JAW_OK)
        return status;
    jaw_place at = e->link.place;
    if (*other != '\0')
        status = jaw__book_say_at(f->notes, at, SAY_LINK_ELSEWHERE, what.s,
                                  other, f->machine);
    else if (*near != '\0')
        status = jaw__book_say_at(f->notes, at, SAY_LINK_NEAR, "tip", e->name,
                                  near);
    else
        status = jaw__book_say_at(f->notes, at, SAY_LINK_NO_TIP, e->name,
                                  f->machine);
    jaw__fill_missing(f, status);
    return JAW_OK;
}

/* What was calibrated on a block has no harmonics, and its touches and the
 * known width are in one interval. */
static void take_tip(const jaw_book_tip *t, jaw_tip_entry *e)
{
    const double z = jaw_trust_cover(0.95, (double)INFINITY);
    double repeat = e->tip.repeat;
    jaw_tip_calibration cal = {.diameter = t->value,
                               .size_u = t->size_u,
                               .repeat = t->repeat,
                               .dof_repeat = t->repeat_dof};

    memcpy(cal.harmonic, t->harmonic, sizeof cal.harmonic);
    memcpy(cal.cov, t->cov, sizeof cal.cov);
    jaw_tip_calibrated(&cal, e);
    if (strcmp(t->on, "block") == 0)
        e->diameter_known = t->half95 > 0 ? t->half95 / z : 0;
    if (!isnan(repeat))
        e->tip.repeat = repeat;
    if (!e->link.shape)
        e->tip.shape = t->shape;
    if (isnan(e->tip.length) && e->tool == 0) {
        e->tip.length = t->length;
        e->length_known = t->length_u > 0 ? t->length_u : 0;
    }
}

static jaw_status fill_tip(jaw__fill *f, size_t i)
{
    size_t n;
    jaw_tip_entry e = jaw_setup_tips(f->setup, &n)[i];
    jaw_book_record r;
    jaw__newest holds;
    jaw__what what;
    char at[32];

    jaw_status status = jaw__book_stands(f->book, JAW_BOOK_TIP, f->machine,
                                         e.name, &r, &holds);
    if (status == JAW_EUNKNOWN)
        return say_no_tip(f, &e);
    if (status != JAW_OK)
        return status;
    const jaw_book_tip *t = &r.as.tip;
    take_tip(t, &e);
    jaw__fill_link(&e.link, &r, t->value, t->u, t->dof, t->half95);
    snprintf(what.s, sizeof what.s, "tip '%.44s'", e.name);
    if (!(e.diameter_known > 0))
        jaw__book_say_at(f->notes, e.link.place, SAY_LINK_EXACT, e.name);
    jaw__book_time(r.at, at, sizeof at);
    status = jaw__fill_doubts(f, e.link.place, &r, &holds, &what);
    if (status != JAW_OK)
        return status;
    status = jaw_setup_fill_tip(f->setup, i, &e);
    if (status != JAW_EDOMAIN)
        return status;
    jaw__fill_missing(f, jaw__book_say_at(f->notes, e.link.place, SAY_LINK_BAD,
                                          what.s, e.link.entry, at));
    return JAW_OK;
}

/* ------------------------------------------------------------------- whole */

typedef struct machines {
    char name[JAW_BOOK_NAME_SIZE];
    int n;
} machines;

static bool take_machine(void *user, const jaw_book_record *r)
{
    machines *m = user;

    snprintf(m->name, sizeof m->name, "%s", r->machine);
    return ++m->n < 2;
}

jaw_status jaw_book_machine_pick(jaw_book *book, char *name, size_t size)
{
    machines m = {"mill", 0};
    jaw_status status =
        jaw_book_current(book, JAW_BOOK_MACHINE, NULL, take_machine, &m);

    if (status == JAW_OK && m.n > 1)
        return JAW_ECONFLICT;
    if (status == JAW_OK)
        snprintf(name, size, "%s", m.name);
    return status;
}

/* The first thing that waits, and where. */
static jaw_place first_waiting(const jaw_setup *setup, jaw__what *what)
{
    size_t n;
    const jaw_setter_entry *s = jaw_setup_setters(setup, &n);

    for (size_t i = 0; i < n; i++)
        if (s[i].link.wanted && s[i].link.entry == 0) {
            snprintf(what->s, sizeof what->s, "setter '%.44s'", s[i].name);
            return s[i].link.place;
        }
    const jaw_tool_entry *t = jaw_setup_tools(setup, &n);
    for (size_t i = 0; i < n; i++)
        if (t[i].link.wanted && t[i].link.entry == 0) {
            snprintf(what->s, sizeof what->s, "tool %d", t[i].number);
            return t[i].link.place;
        }
    const jaw_tip_entry *p = jaw_setup_tips(setup, &n);
    for (size_t i = 0; i < n; i++)
        if (p[i].link.wanted && p[i].link.entry == 0) {
            snprintf(what->s, sizeof what->s, "tip '%.44s'", p[i].name);
            return p[i].link.place;
        }
    return (jaw_place){0};
}

static void say_rule(jaw__fill *f, jaw_place place)
{
    const jaw_control *c = jaw_setup_control(f->setup);

    if (f->known && f->about.lengths != c->lengths)
        jaw__book_say_at(f->notes, place, SAY_LINK_RULE, f->machine,
                         jaw_length_word(f->about.lengths),
                         jaw_length_word(c->lengths));
}

static jaw_status fill_all(jaw__fill *f)
{
    jaw_status status = JAW_OK;
    bool rule_said = false;
    size_t n;

    const jaw_setter_entry *s = jaw_setup_setters(f->setup, &n);
    for (size_t i = 0; i < n && status == JAW_OK; i++)
        if (s[i].link.wanted && s[i].link.entry == 0)
            status = fill_setter(f, i);
    const jaw_tool_entry *t = jaw_setup_tools(f->setup, &n);
    for (size_t i = 0; i < n && status == JAW_OK; i++) {
        if (!t[i].link.wanted || t[i].link.entry != 0)
            continue;
        if (!rule_said)
            say_rule(f, t[i].link.place);
        rule_said = true;
        status = jaw__fill_tool(f, i);
    }
    const jaw_tip_entry *p = jaw_setup_tips(f->setup, &n);
    for (size_t i = 0; i < n && status == JAW_OK; i++)
        if (p[i].link.wanted && p[i].link.entry == 0)
            status = fill_tip(f, i);
    return status;
}

static jaw_status find_machine(jaw__fill *f, const char *machine)
{
    jaw_status status = JAW_OK;
    jaw__what what;

    if (machine != NULL)
        snprintf(f->machine, sizeof f->machine, "%s", machine);
    else
        status = jaw_book_machine_pick(f->book, f->machine, sizeof f->machine);
    if (status == JAW_ECONFLICT) {
        jaw_place place = first_waiting(f->setup, &what);
        return jaw__book_say_at(f->notes, place, SAY_LINK_MACHINES, what.s);
    }
    return status == JAW_OK ? jaw_book_machine_of(f->book, f->machine,
                                                  &f->about, &f->known)
                            : status;
}

/* What opening says has no place in the setup, so it is passed on, but that
 * there is no book, which is told where one is asked for. */
static jaw_status open_for(jaw__fill *f, const char *path, jaw_notes *own)
{
    jaw_status status = jaw_book_open(path, JAW_BOOK_READ, own, &f->book);
    const jaw_note *note;
    jaw__what what;

    if (status == JAW_ENOBOOK) {
        jaw_place place = first_waiting(f->setup, &what);
        return jaw__book_say_at(f->notes, place, SAY_LINK_NO_BOOK, what.s,
                                path);
    }
    for (size_t i = 0; (note = jaw_notes_get(own, i)) != NULL; i++)
        jaw_notes_add(f->notes, note->severity, note->status, note->file,
                      note->place, note->source, note->cure, "%s", note->what);
    return status;
}

jaw_status jaw_book_fill(const char *path, const char *machine,
                         jaw_setup *setup, jaw_notes *notes)
{
    jaw__fill f = {.setup = setup, .notes = notes};
    size_t first = jaw_notes_count(notes);

    if (jaw_setup_waits(setup) == 0)
        return JAW_OK;
    jaw_notes *own = jaw_notes_alloc();
    if (own == NULL)
        return JAW_ENOMEM;
    jaw_status status = open_for(&f, path, own);
    if (status == JAW_OK) {
        f.book->notes = notes;
        status = find_machine(&f, machine);
    }
    if (status == JAW_OK)
        status = fill_all(&f);
    jaw_book_close(f.book);
    jaw_notes_free(own);
    jaw_notes_sort(notes, first);
    return status == JAW_OK ? f.missing : status;
}
