/* SPDX-License-Identifier: GPL-3.0-or-later */
/* check.c: is the book whole?  First the file, as SQLite sees it; then what we
 * promise of it. */
#include "book.h"

#include <stdio.h>

static jaw_status found(jaw_book *book, const char *what)
{
    return jaw__book_say(book, SAY_FOUND, book->path, what);
}

/* Every row of a statement is a finding, but "ok". */
static jaw_status each_row(jaw_book *book, const char *sql, const char *what,
                           jaw_status worst)
{
    char text[300];
    jaw_status status;
    sqlite3_stmt *stmt = jaw__book_prepare(book, sql, &status);
    int code = SQLITE_DONE;

    if (stmt == NULL)
        return status;
    while ((code = sqlite3_step(stmt)) == SQLITE_ROW) {
        const char *row = (const char *)sqlite3_column_text(stmt, 0);
        if (sqlite3_stricmp(row, "ok") == 0)
            continue;
        snprintf(text, sizeof text, what, row == NULL ? "?" : row);
        worst = found(book, text);
    }
    status = jaw__book_failed(book, code);
    sqlite3_finalize(stmt);
    return status == JAW_OK ? worst : status;
}

static jaw_status check_file(jaw_book *book)
{
    jaw_status status =
        each_row(book, "PRAGMA integrity_check(20)", "%s", JAW_OK);

    return each_row(book, "PRAGMA foreign_key_check",
                    "a row of `%s' hangs from no entry", status);
}

/* An entry is undone when an undo of it holds, or of what it is part of.  Where
 * that is so of each entry alone it is so of all: an undo comes after what it
 * undoes. */
static jaw_status check_undone(jaw_book *book, jaw_status status)
{
    return each_row(
        book,
        "SELECT e.id FROM entry e WHERE " JAW__UNDONE(e) " <>"
        " EXISTS (SELECT 1 FROM entry u WHERE u.undoes IN (e.id, e.part_of)"
        "  AND NOT " JAW__UNDONE(u) ")",
        "whether entry %s is undone is not what follows from the undos",
        status);
}

/* What parts hang from came before them and hangs from nothing. */
static jaw_status check_parts(jaw_book *book, jaw_status status)
{
    return each_row(
        book,
        "SELECT e.id FROM entry e JOIN entry f ON f.id = e.part_of"
        " WHERE f.part_of IS NOT NULL OR f.id >= e.id",
        "what entry %s is part of can not have parts", status);
}

static const char current[] =
    "WITH c (kind, machine, subject, id) AS"
    " (SELECT kind, machine, subject, max(id) FROM entry e"
    "  WHERE kind <> 'undo' AND NOT " JAW__UNDONE(e) " GROUP BY 1, 2, 3)"
    " SELECT subject FROM (SELECT * FROM c EXCEPT"
    "  SELECT kind, machine, subject, id FROM newest)"
    " UNION SELECT subject FROM (SELECT kind, machine, subject, id FROM newest"
    "  EXCEPT SELECT * FROM c)";

static jaw_status check_triggers(jaw_book *book, jaw_status status)
{
    long long n = 0, want = 2 * 3;
    jaw_status read = jaw__book_number(
        book,
        "SELECT count(*) FROM sqlite_schema WHERE type = 'trigger'"
        " AND name GLOB '*_no_*'",
        0, &n);

    for (int k = 0; k < JAW_BOOK_KINDS; k++)
        want += jaw__book_kinds[k].n_fields > 0 ? 3 : 0;
    if (read != JAW_OK)
        return read;
    return n == want ? status
                     : found(book, "what keeps its entries as they are has "
                                   "been taken out");
}

static bool pass_over(void *user, const jaw_book_record *record)
{
    (void)user;
    (void)record;
    return true;
}

jaw_status jaw_book_check(jaw_book *book, long long *entries)
{
    long long n = 0;
    jaw_status status = check_file(book);

    if (status == JAW_OK || status == JAW_EDAMAGED)
        status = check_triggers(book, status);
    if (status == JAW_OK)
        status = check_undone(book, status);
    if (status == JAW_OK)
        status = check_parts(book, status);
    if (status == JAW_OK)
        status = each_row(book, current,
                          "what is current of `%s' is not what follows from "
                          "its entries", status);
    if (status == JAW_OK)
        status = jaw_book_log(book, 0, pass_over, NULL);
    if (status == JAW_OK)
        status = jaw__book_number(book, "SELECT count(*) FROM entry", 0, &n);
    if (entries != NULL)
        *entries = n;
    return status;
}
