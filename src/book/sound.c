/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sound.c: the newest entry of a subject that shows no slip of the pen, and
 * what is said where the newest one does. */
#include "change.h"

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

static const char *first_doubt(unsigned doubts)
{
    return jaw_book_doubt_text(doubts & -doubts);
}

jaw_status jaw_book_length_find(jaw_book *book, const char *machine,
                                const char *subject, jaw_book_record *record)
{
    jaw_status status =
        jaw_book_find(book, JAW_BOOK_LENGTH, machine, subject, record);
    unsigned doubts = record->doubts & ~(unsigned)JAW_BOOK_CLOCK_BACK;
    long long newest = record->id;

    if (status != JAW_OK || doubts == 0)
        return status;
    status = jaw__book_sound(book, JAW_BOOK_LENGTH, machine, subject, record);
    if (status == JAW_EUNKNOWN)
        status = jaw_book_get(book, newest, record);
    if (status != JAW_OK)
        return status;
    if (record->id == newest)
        jaw__book_say(book, SAY_LENGTH_DOUBT, record->as.length.number, newest,
                      first_doubt(doubts));
    else
        jaw__book_say(book, SAY_LENGTH_BEFORE, record->as.length.number,
                      newest, first_doubt(doubts), record->id);
    return JAW_OK;
}
