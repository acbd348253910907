/* SPDX-License-Identifier: GPL-3.0-or-later */
/* between.c: a tool that is longer or shorter by just what a block or a feeler
 * is thick: it lay in between and was not said, it was said and did not lie
 * there, or it was another one. */
#include "change.h"

#include <math.h>
#include <stdio.h>

/* What would explain the change; the nearest. */
typedef struct sought {
    double between, differ, noise; /* mm, as said; of the length */
    double off;                    /* mm, how near; INFINITY: nothing */
    double thick;                  /* mm */
    bool as_well;                  /* beside what was said */
    char name[JAW_BOOK_NAME_SIZE];  /* "": no block of the book */
} sought;

/* A name of the book is better than a size. */
static void try_sum(sought *s, const char *name, double thick, double u,
                    bool as_well)
{
    double differ = as_well ? thick : thick - s->between;
    double off = fabs(s->differ - differ);
    double noise = hypot(
        s->noise, u * jaw_trust_cover(1 - JAW_BOOK_ALPHA, (double)INFINITY));

    if (!(off <= noise) || (*name != '\0' ? off > s->off : off >= s->off) ||
        !(fabs(differ) > noise))
        return;
    s->off = off;
    s->thick = thick;
    s->as_well = as_well;
    snprintf(s->name, sizeof s->name, "%s", name);
}

static void try_one(sought *s, const char *name, double thick, double u)
{
    try_sum(s, name, thick, u, false);
    if (s->between > 0 && thick > 0)
        try_sum(s, name, thick, u, true);
}

static bool take_block(void *user, const jaw_book_record *r)
{
    const jaw_book_height *h = &r->as.height;

    if (h->block)
        try_one(user, r->subject, h->value, isnan(h->u) ? 0 : h->u);
    return true;
}

static bool take_length(void *user, const jaw_book_record *r)
{
    const jaw_book_length *l = &r->as.length;

    if (!r->undone && l->between > 0)
        try_one(user, "", l->between, 0);
    return true;
}

static void say(jaw_book *book, const jaw_book_touch *t,
                const jaw_book_machine *m, const sought *s)
{
    char why[160];
    bool named = *s->name != '\0';

    if (s->thick > 0)
        snprintf(why, sizeof why, "%s%s%s%s%s lay in between%s",
                 named ? "'" : "", s->name, named ? "' (" : "",
                 jaw__book_mm(s->thick, t->unit, m).s, named ? ")" : "",
                 s->as_well         ? " as well"
                 : s->between > 0 ? " instead"
                                  : ", and it was not said");
    else
        snprintf(why, sizeof why, "nothing lay in between");
    jaw__book_say(book, SAY_BETWEEN, t->number,
                  s->differ > 0 ? "longer" : "shorter",
                  jaw__book_mm(fabs(s->differ), t->unit, m).s, why);
}

/* An edge that lost as much as a feeler is thick is as likely, and goes on
 * being held for worn. */
jaw_status jaw__doubt_between(jaw_book *book, const jaw_book_touch *t,
                              const jaw_book_machine *m,
                              jaw_book_measured *out)
{
    const jaw_book_verdict *v = &out->verdict;
    sought s = {.between = out->record.as.length.between, .differ = v->differ,
                .noise = v->limit, .off = (double)INFINITY};

    if (t->fresh || *t->on == '\0' || v->change == JAW_CHANGE_SURFACE ||
        !(fabs(v->differ) > v->limit) || (out->record.doubts & JAW_BOOK_SLIPS))
        return JAW_OK;
    try_one(&s, "", 0, out->record.as.length.between_u);
    jaw_status status = jaw_book_history(book, JAW_BOOK_LENGTH, t->machine,
                                         out->subject, 30, take_length, &s);
    if (status == JAW_OK)
        status = jaw_book_current(book, JAW_BOOK_HEIGHT, "", take_block, &s);
    if (status != JAW_OK || isinf(s.off))
        return status;
    if (v->change != JAW_CHANGE_WORN)
        out->record.doubts |= JAW_BOOK_BETWEEN;
    say(book, t, m, &s);
    return JAW_OK;
}
