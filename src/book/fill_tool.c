/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fill_tool.c: the length of a tool for a setup that leaves it to the book.
 *
 * Of a tool in its holder the book may know the length from the gauge line, and
 * others that count from a surface whose height it does not know, or from a
 * part.  The first is the tool's own; one of the second kind is as good where
 * the setup has that surface. */
#include "fill.h"
#include "homing.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* What the book has under the number, each the newest that holds; 0: none. */
typedef struct found {
    int number;
    const char *holder;
    long long length;     /* from the gauge line */
    long long above;      /* from a surface */
    long long part;
    long long other;      /* in another holder */
    long long fresh;      /* a new cutter, in this holder, by any datum */
    char other_in[JAW_BOOK_NAME_SIZE]; /* that holder, "": none */
    char near_in[JAW_BOOK_NAME_SIZE]; /* what may be meant by this holder */
} found;

static void take_near(found *f, const char *holder)
{
    const char *words[] = {f->near_in, holder};
    const char *near = *f->holder != '\0'
                           ? jaw_word_nearest(f->holder, words, 2) : NULL;

    if (near == holder)
        snprintf(f->near_in, sizeof f->near_in, "%s", holder);
}

static bool take_length(void *user, const jaw_book_record *r)
{
    const jaw_book_length *l = &r->as.length;
    found *f = user;

    if (l->number != f->number)
        return true;
    if (strcmp(l->holder, f->holder) != 0) {
        take_near(f, l->holder);
        if (r->id > f->other) {
            f->other = r->id;
            snprintf(f->other_in, sizeof f->other_in, "%s", l->holder);
        }
        return true;
    }
    if (l->fresh && r->id > f->fresh)
        f->fresh = r->id;
    long long *newest = *l->datum == '\0'                ? &f->length
                        : strcmp(l->datum, "part") == 0 ? &f->part
                                                        : &f->above;
    if (r->id > *newest)
        *newest = r->id;
    return true;
}

static jaw__what length_of(int number)
{
    jaw__what what;

    snprintf(what.s, sizeof what.s, "the length of tool %d", number);
    return what;
}

/* ----------------------------------------------------------- nothing found */

static void in_words(const char *holder, char text[60])
{
    if (*holder != '\0')
        snprintf(text, 60, "in holder '%s'", holder);
    else
        snprintf(text, 60, "without a holder");
}

static jaw_status say_none(jaw__fill *f, const jaw_tool_entry *e,
                           const found *had)
{
    char subject[JAW_BOOK_SUBJECT_SIZE], other[JAW_BOOK_NAME_SIZE];
    char in[60], not_in[60];
    jaw__what what = {""};
    jaw_place at = e->link.place;
    bool gone;

    snprintf(what.s, sizeof what.s, "tool %d", e->number);
    jaw_status status = jaw_book_tool_subject(e->number, had->holder, "",
                                              subject, sizeof subject);
    if (status == JAW_OK)
        status = jaw__fill_gone(f, at, JAW_BOOK_LENGTH, f->machine, subject,
                                &what, &gone);
    if (status == JAW_EDOMAIN) /* a program's; the sheet has no such names */
        gone = false;
    else if (status != JAW_OK || gone)
        return status;
    status = jaw__fill_elsewhere(f, JAW_BOOK_LENGTH, "", e->number, other);
    if (status != JAW_OK)
        return status;
    if (had->other > 0) {
        const char *meant = *had->near_in ? had->near_in : had->other_in;
        in_words(meant, in);
        in_words(had->holder, not_in);
        status = jaw__book_say_at(f->notes, at, SAY_LINK_HOLDER, e->number, in,
                                  not_in, e->number, *meant ? " holder " : "",
                                  meant);
    } else if (*other != '\0') {
        status = jaw__book_say_at(f->notes, at, SAY_LINK_ELSEWHERE, what.s,
                                  other, f->machine);
    } else {
        status = jaw__book_say_at(f->notes, at, SAY_LINK_NO_TOOL, e->number,
                                  f->machine);
    }
    jaw__fill_missing(f, status);
    return JAW_OK;
}

/* ------------------------------------------------------------- later things */

static jaw_status say_later(jaw__fill *f, const jaw_tool_entry *e,
                            const jaw_book_record *r, const found *had)
{
    bool any_holder = e->link.holder == NULL || *e->link.holder == '\0';
    long long later = had->fresh > r->id ? had->fresh : 0;
    char at[32], then[32], why[80];
    long long id = r->id;
    jaw_book_record last;

    jaw__book_time(r->at, at, sizeof at);
    snprintf(why, sizeof why, "says that a new cutter is in it");
    if (any_holder && had->other > r->id && had->other > later) {
        later = had->other;
        snprintf(why, sizeof why, "has it in holder '%s'", had->other_in);
    }
    if (later == 0)
        return JAW_OK;
    jaw_status status = jaw_book_get(f->book, later, &last);
    if (status != JAW_OK)
        return status;
    jaw__book_time(last.at, then, sizeof then);
    jaw__book_say_at(f->notes, e->link.place, SAY_LINK_LATER,
                     length_of(e->number).s, id, at, later, then, why);
    return JAW_OK;
}

/* The height that the length stands on, gone since. */
static jaw_status say_base(jaw__fill *f, const jaw_tool_entry *e,
                           long long surface)
{
    char at[32];
    bool undone = false;
    jaw_status status = surface > 0
                            ? jaw__book_is_undone(f->book, surface, &undone)
                            : JAW_OK;

    jaw__book_time(e->link.at, at, sizeof at);
    if (undone)
        jaw__book_say_at(f->notes, e->link.place, SAY_LINK_BASE,
                         length_of(e->number).s, e->link.entry, at, surface);
    return status;
}

/* --------------------------------------------------------------- how sure */

/* What is larger by no more than this is as large but for rounding. */
#define JUST_AS 1e-9

static double spread_of(jaw__fill *f, const jaw_tool_entry *e,
                        const jaw_book_record *r)
{
    const jaw_book_length *l = &r->as.length;

    if (isnan(l->u))
        jaw__book_say_at(f->notes, e->link.place, SAY_LINK_SPREAD, e->number,
                         jaw__book_mm(JAW_BOOK_REPEAT, l->unit, &f->about).s);
    return jaw__length_u(r);
}

/* The setter of the setup that comes from this very entry; NULL: none. */
static const jaw_setter_entry *setter_of(const jaw_setup *setup,
                                         long long entry)
{
    size_t n;
    const jaw_setter_entry *s = jaw_setup_setters(setup, &n);

    for (size_t i = 0; entry > 0 && i < n; i++)
        if (s[i].link.wanted && s[i].link.entry == entry && s[i].on == NULL)
            return &s[i];
    return NULL;
}

/* The share that stands on readings of its own. */
static double own_of(const jaw_book_length *l)
{
    return sqrt(fmax(l->u * l->u - l->known * l->known, 0));
}

/* That share, as the length was measured.
 * What they were held against may stand on few readings too: then no part of it
 * is known for good, and all has the degrees of freedom that its interval
 * stands for. */
static void take_seen(const jaw_book_length *l, jaw_tool_entry *e)
{
    const jaw_figure all = {l->value, l->u, l->dof, l->half95};
    double seen = own_of(l);
    double dof = seen > 0 ? l->repeat_dof : (double)INFINITY;
    double half = jaw_trust_within(seen, dof, l->known);

    if (l->half95 > half * (1 + JUST_AS)) {
        seen = l->u;
        dof = jaw__book_dof(&all);
    }
    if (!(seen > 0) || !(dof > 0) || isinf(dof))
        return;
    e->link.seen = seen;
    e->link.seen_dof = dof;
}

/* u^4 / dof, what a part adds to Welch and Satterthwaite's sum. */
static double fourth(double u, double dof)
{
    return u > 0 && dof > 0 ? pow(u, 4) / dof : 0;
}

/* As it was read above the setter, whose error is then no longer the tool's,
 * and neither are its degrees of freedom. */
static void count_from(const jaw_setter_entry *s, const jaw_book_length *l,
                       jaw_tool_entry *e)
{
    double rest = e->length_known * e->length_known -
                  s->top_known * s->top_known;
    double own = own_of(l);
    double left = fourth(l->u, l->dof) - fourth(s->link.u, s->link.dof);

    e->above = s->name;
    e->length = l->value + s->top;
    e->length_known = rest > 0 ? sqrt(rest) : 0;
    if (!(e->link.seen > 0))
        return;
    e->link.seen = own;
    e->link.seen_dof = l->repeat_dof;
    if (left > fourth(own, l->repeat_dof) * (1 + JUST_AS)) {
        e->link.seen = e->length_known;
        e->link.seen_dof = pow(e->length_known, 4) / left;
    }
}

/* -------------------------------------------------------------------- fill */

static bool has_surface(const jaw_setup *setup, const char *name)
{
    size_t n;
    const jaw_setter_entry *s = jaw_setup_setters(setup, &n);

    for (size_t i = 0; i < n; i++)
        if (strcmp(s[i].name, name) == 0)
            return true;
    const jaw_feature_entry *e = jaw_setup_features(setup, &n);
    for (size_t i = 0; i < n; i++)
        if (e[i].kind == JAW_FACE && strcmp(e[i].name, name) == 0)
            return true;
    return false;
}

static jaw_status take_record(jaw__fill *f, size_t i, jaw_tool_entry *e,
                              const jaw_book_record *r,
                              const jaw__newest *holds, const found *had)
{
    const jaw_book_length *l = &r->as.length;
    jaw__what what = length_of(e->number);
    long long surface = l->surface;
    double u = spread_of(f, e, r);
    const jaw_setter_entry *s = setter_of(f->setup, surface);

    jaw__fill_link(&e->link, r, l->value, l->u, l->dof, l->half95);
    take_seen(l, e);
    e->length = l->value;
    e->length_known = u;
    if (e->text == NULL || *e->text == '\0')
        e->text = l->text;
    if (*l->datum != '\0')
        e->above = l->datum;
    else if (s != NULL)
        count_from(s, l, e);
    /* r lives until the book is asked again, and so do its texts */
    jaw_status status = jaw__fill_doubts(f, e->link.place, r, holds, &what);
    if (status == JAW_OK)
        status = jaw_setup_fill_tool(f->setup, i, e);
    if (status == JAW_OK)
        status = say_later(f, e, r, had);
    return status == JAW_OK ? say_base(f, e, surface) : status;
}

/* Above a surface, or the part, it is a height of the machine, which a homing
 * may have moved. */
static jaw_status say_homed(jaw__fill *f, const jaw_tool_entry *e, long long id,
                            long long written)
{
    long long start[3];
    char at[32];
    jaw_status status = jaw__book_stretch(f->book, f->machine, start);

    jaw__book_time(written, at, sizeof at);
    if (status == JAW_OK && start[2] > id)
        jaw__book_say_at(f->notes, e->link.place, SAY_LINK_HOMED,
                         length_of(e->number).s, id, at, start[2]);
    return status;
}

/* What to go by of that entry's subject. */
static jaw_status stands(jaw__fill *f, long long id, jaw_book_record *r,
                         jaw__newest *holds)
{
    char subject[JAW_BOOK_SUBJECT_SIZE];
    jaw_status status = jaw_book_get(f->book, id, r);

    if (status != JAW_OK)
        return status;
    snprintf(subject, sizeof subject, "%s", r->subject);
    return jaw__book_stands(f->book, JAW_BOOK_LENGTH, f->machine, subject, r,
                            holds);
}

static jaw_status take_above(jaw__fill *f, size_t i, jaw_tool_entry *e,
                             const found *had)
{
    long long id = had->above > 0 ? had->above : had->part;
    jaw_book_record r;
    jaw__newest holds;
    jaw_status status = stands(f, id, &r, &holds);

    if (status != JAW_OK)
        return status;
    id = r.id;
    if (had->above == 0)
        status = jaw__book_say_at(f->notes, e->link.place, SAY_LINK_PART,
                                  e->number, id);
    else if (!has_surface(f->setup, r.as.length.datum))
        status = jaw__book_say_at(f->notes, e->link.place, SAY_LINK_ABOVE,
                                  e->number, r.as.length.datum, id);
    jaw__fill_missing(f, status);
    if (status != JAW_OK)
        return JAW_OK;
    jaw__book_say_at(f->notes, e->link.place, SAY_LINK_SAME, e->number,
                     r.as.length.datum);
    long long at = r.at;
    status = take_record(f, i, e, &r, &holds, had);
    return status == JAW_OK ? say_homed(f, e, id, at) : status;
}

jaw_status jaw__fill_tool(jaw__fill *f, size_t i)
{
    size_t n;
    jaw_tool_entry e = jaw_setup_tools(f->setup, &n)[i];
    found had = {.number = e.number,
                 .holder = e.link.holder ? e.link.holder : ""};
    jaw_book_record r;
    jaw__newest holds;

    jaw_status status = jaw_book_current(f->book, JAW_BOOK_LENGTH, f->machine,
                                         take_length, &had);
    if (status != JAW_OK)
        return status;
    if (had.length == 0 && had.above == 0 && had.part == 0)
        return say_none(f, &e, &had);
    if (had.length == 0)
        return take_above(f, i, &e, &had);
    status = stands(f, had.length, &r, &holds);
    return status == JAW_OK ? take_record(f, i, &e, &r, &holds, &had) : status;
}
