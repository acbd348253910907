/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sound.c: the newest entry of a subject that shows no slip of the pen, what is
 * said where the newest one does, and the length that others count from. */
#include "change.h"

#include <stdio.h>
#include <string.h>

static bool take_good(void *user, const jaw_book_record *r)
{
    if (r->undone || (r->doubts & JAW_BOOK_SLIPS))
        return true;
    *(long long *)user = r->id;
    return false;
}

jaw_status jaw__book_sound(jaw_book *book, jaw_book_kind kind,
                           const char *machine, const char *subject,
                           jaw_book_record *record)
{
    long long id = 0;
    jaw_status status = jaw_book_find(book, kind, machine, subject, record);

    if (status != JAW_OK || !(record->doubts & JAW_BOOK_SLIPS))
        return status;
    status = jaw_book_history(book, kind, machine, subject, 0, take_good, &id);
    if (status != JAW_OK)
        return status;
    return id > 0 ? jaw_book_get(book, id, record) : JAW_EUNKNOWN;
}

jaw_status jaw__book_stands(jaw_book *book, jaw_book_kind kind,
                            const char *machine, const char *subject,
                            jaw_book_record *record, jaw__newest *newest)
{
    jaw_status status = jaw_book_find(book, kind, machine, subject, record);

    *newest = (jaw__newest){0, 0};
    if (status != JAW_OK)
        return status;
    newest->id = record->id;
    newest->doubts = record->doubts & ~(unsigned)JAW_BOOK_CLOCK_BACK;
    if (!(newest->doubts & JAW_BOOK_SLIPS))
        return JAW_OK;
    status = jaw__book_sound(book, kind, machine, subject, record);
    return status == JAW_EUNKNOWN ? jaw_book_get(book, newest->id, record)
                                  : status;
}

const char *jaw__book_first_doubt(unsigned doubts)
{
    return jaw_book_doubt_text(doubts & -doubts);
}

/* A height that was taken back takes along what stands on it. */
static jaw_status say_base(jaw_book *book, const jaw_book_record *record)
{
    long long surface = record->as.length.surface;
    bool undone = false;
    jaw_status status = surface > 0
                            ? jaw__book_is_undone(book, surface, &undone)
                            : JAW_OK;

    if (undone)
        jaw__book_say(book, SAY_LENGTH_BASE, record->as.length.number, surface);
    return status;
}

static jaw_status find_sound(jaw_book *book, const char *machine,
                             const char *subject, jaw_book_record *record)
{
    jaw__newest newest;
    jaw_status status = jaw__book_stands(book, JAW_BOOK_LENGTH, machine,
                                         subject, record, &newest);

    if (status != JAW_OK || newest.doubts == 0)
        return status;
    if (record->id == newest.id)
        jaw__book_say(book, SAY_LENGTH_DOUBT, record->as.length.number,
                      newest.id, jaw__book_first_doubt(newest.doubts));
    else
        jaw__book_say(book, SAY_LENGTH_BEFORE, record->as.length.number,
                      newest.id, jaw__book_first_doubt(newest.doubts),
                      record->id);
    return JAW_OK;
}

jaw_status jaw_book_length_find(jaw_book *book, const char *machine,
                                const char *subject, jaw_book_record *record)
{
    jaw_status status = find_sound(book, machine, subject, record);

    return status == JAW_OK ? say_base(book, record) : status;
}

/* -------------------------------------------------------------- reference */

/* The subjects of one tool above one datum: it is in one holder, or in two. */
typedef struct holders {
    int number, n;
    const char *datum;
    char subject[JAW_BOOK_SUBJECT_SIZE], where[2][60];
    long long id[2];
} holders;

static bool take_holder(void *user, const jaw_book_record *r)
{
    holders *h = user;
    const jaw_book_length *l = &r->as.length;

    if (l->number != h->number || strcmp(l->datum, h->datum) != 0)
        return true;
    snprintf(h->subject, sizeof h->subject, "%s", r->subject);
    snprintf(h->where[h->n], sizeof h->where[0],
             *l->holder ? "in '%s'" : "in no holder", l->holder);
    h->id[h->n++] = r->id;
    return h->n < 2;
}

jaw_status jaw_book_reference(jaw_book *book, const char *machine, int number,
                              const char *datum, jaw_book_record *record)
{
    holders h = {.number = number, .datum = datum};
    jaw_status status =
        jaw_book_current(book, JAW_BOOK_LENGTH, machine, take_holder, &h);

    if (status != JAW_OK || h.n == 0)
        return status == JAW_OK ? JAW_EUNKNOWN : status;
    if (h.n == 1)
        return jaw_book_length_find(book, machine, h.subject, record);
    jaw__book_say(book, SAY_REFERENCES, number, h.where[0], h.id[0],
                  h.where[1], h.id[1]);
    return JAW_ECONFLICT;
}
