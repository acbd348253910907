/* SPDX-License-Identifier: GPL-3.0-or-later */
/* undo.c: an entry that says that another does not hold.
 *
 * At any time an entry is undone by at most one undo that holds, so one pass
 * along the chain of undos turns each of them over.  What was written together
 * is undone together: an undo names the first of it, and its parts turn over
 * with it. */
#include "book.h"

#define ENTRY_AND_PARTS                                                        \
    "(SELECT kind, machine, subject FROM entry WHERE id = ?1"                  \
    " UNION SELECT kind, machine, subject FROM entry WHERE part_of = ?1)"

/* What is current of the subjects of entry id and its parts, found again from
 * the entries. */
static jaw_status renew_newest(jaw_book *book, long long id)
{
    static const char *const sql[] = {
        "DELETE FROM newest WHERE (kind, machine, subject) IN "
        ENTRY_AND_PARTS,
        "INSERT INTO newest (kind, machine, subject, id)"
        " SELECT * FROM (SELECT s.kind, s.machine, s.subject,"
        "  (SELECT e.id FROM entry e WHERE e.kind = s.kind"
        "   AND e.machine = s.machine AND e.subject = s.subject"
        "   AND NOT " JAW__UNDONE(e)
        "   ORDER BY e.id DESC LIMIT 1) AS last FROM "
        ENTRY_AND_PARTS " s WHERE s.kind <> 'undo')"
        " WHERE last IS NOT NULL"};
    jaw_status status = JAW_OK;
    long long none;

    for (int i = 0; i < 2 && status == JAW_OK; i++)
        status = jaw__book_number(book, sql[i], id, &none);
    return status;
}

static jaw_status turn_over(jaw_book *book, long long id, bool holds)
{
    long long none;
    jaw_status status = jaw__book_number(
        book,
        holds ? "DELETE FROM undone WHERE id = ?1 OR id IN"
                " (SELECT id FROM entry WHERE part_of = ?1)"
              : "INSERT INTO undone (id) SELECT ?1"
                " UNION ALL SELECT id FROM entry WHERE part_of = ?1",
        id, &none);

    return status == JAW_OK ? renew_newest(book, id) : status;
}

jaw_status jaw__book_flip(jaw_book *book, long long id, bool holds)
{
    jaw_status status = JAW_OK;

    while (id > 0 && status == JAW_OK) {
        status = turn_over(book, id, holds);
        if (status == JAW_OK)
            status = jaw__book_number(
                book, "SELECT undoes FROM entry WHERE id = ?1", id, &id);
        holds = !holds;
    }
    return status;
}

/* ------------------------------------------------------------- which one */

static jaw_status pick(jaw_book *book, long long *id)
{
    jaw_status status = jaw__book_number(
        book,
        "SELECT id FROM entry e WHERE kind <> 'undo' AND NOT " JAW__UNDONE(e)
        " ORDER BY id DESC LIMIT 1",
        0, id);

    if (status == JAW_OK && *id == 0)
        status = jaw__book_say(book, SAY_NOTHING);
    return status;
}

jaw_status jaw_book_undone_by(jaw_book *book, long long id, long long *by)
{
    return jaw__book_number(
        book,
        "SELECT max(u.id) FROM entry e JOIN entry u"
        " ON u.undoes = coalesce(e.part_of, e.id) WHERE e.id = ?1"
        " AND NOT " JAW__UNDONE(u),
        id, by);
}

jaw_status jaw__book_is_undone(jaw_book *book, long long id, bool *undone)
{
    long long n;
    jaw_status status = jaw__book_number(
        book, "SELECT count(*) FROM undone WHERE id = ?1", id, &n);

    *undone = status == JAW_OK && n > 0;
    return status;
}

static jaw_status holds(jaw_book *book, long long id)
{
    long long there, by = 0;
    bool undone = false;
    jaw_status status = jaw__book_number(
        book, "SELECT count(*) FROM entry WHERE id = ?1", id, &there);

    if (status == JAW_OK && there == 0)
        return jaw__book_say(book, SAY_NO_ENTRY, id);
    if (status == JAW_OK)
        status = jaw__book_is_undone(book, id, &undone);
    if (undone && status == JAW_OK)
        status = jaw_book_undone_by(book, id, &by);
    return status == JAW_OK && undone
               ? jaw__book_say(book, SAY_UNDONE, id, by)
               : status;
}

jaw_status jaw__book_undoable(jaw_book *book, long long *id)
{
    long long first = 0;
    jaw_status status = *id == 0 ? pick(book, id) : holds(book, *id);

    if (status == JAW_OK)
        status = jaw__book_number(
            book, "SELECT part_of FROM entry WHERE id = ?1", *id, &first);
    if (status == JAW_OK && first > 0)
        *id = first;
    return status;
}

jaw_status jaw_book_undo(jaw_book *book, long long id, long long at,
                         long long *undone)
{
    jaw_book_record record = {.kind = JAW_BOOK_UNDO, .at = at, .machine = "",
                              .subject = "", .undoes = id};
    jaw_book_record looked = record;

    looked.undoes = 1;
    const char *wrong = id < 0 ? "entries count from 1"
                               : jaw__book_wrong(&looked);
    if (wrong != NULL)
        return jaw__book_say(book, SAY_BAD_ENTRY, "undo", wrong);
    jaw_status status = jaw__book_add_now(book, &record, 1);
    if (status == JAW_OK && undone != NULL)
        *undone = record.undoes;
    return status;
}
