/* SPDX-License-Identifier: GPL-3.0-or-later */
/* run.c: statements and transactions.  Values are bound, never pasted into the
 * text of a statement. */
#include "book.h"

sqlite3_stmt *jaw__book_prepare(jaw_book *book, const char *sql,
                                jaw_status *status)
{
    sqlite3_stmt *stmt = NULL;

    *status = jaw__book_failed(
        book, sqlite3_prepare_v2(book->db, sql, -1, &stmt, NULL));
    return stmt;
}

jaw_status jaw__book_run(jaw_book *book, const char *sql)
{
    return jaw__book_failed(book,
                            sqlite3_exec(book->db, sql, NULL, NULL, NULL));
}

int jaw__book_bind(sqlite3_stmt *stmt, int i, const char *text)
{
    return sqlite3_bind_text(stmt, i, text, -1, SQLITE_STATIC);
}

jaw_status jaw__book_done(jaw_book *book, sqlite3_stmt *stmt)
{
    int code = sqlite3_step(stmt);
    jaw_status status = jaw__book_failed(book, code);

    sqlite3_finalize(stmt);
    return status;
}

jaw_status jaw__book_number(jaw_book *book, const char *sql, long long a,
                            long long *value)
{
    jaw_status status;
    sqlite3_stmt *stmt = jaw__book_prepare(book, sql, &status);

    *value = 0;
    if (stmt == NULL)
        return status;
    if (sqlite3_bind_parameter_count(stmt) > 0)
        sqlite3_bind_int64(stmt, 1, a);
    int code = sqlite3_step(stmt);
    if (code == SQLITE_ROW)
        *value = sqlite3_column_int64(stmt, 0);
    status = jaw__book_failed(book, code);
    sqlite3_finalize(stmt);
    return status;
}

/* ------------------------------------------------------------ transactions */

/* A file that can not be written is said before anything is tried: SQLite
 * would let the transaction begin. */
jaw_status jaw__book_begin(jaw_book *book)
{
    if (sqlite3_db_readonly(book->db, "main") == 1)
        return jaw__book_say(book, SAY_READONLY, book->path);
    return jaw__book_run(book, "BEGIN IMMEDIATE");
}

void jaw__book_back(jaw_book *book)
{
    if (!sqlite3_get_autocommit(book->db))
        sqlite3_exec(book->db, "ROLLBACK", NULL, NULL, NULL);
}

/* Whether an entry is in the book now; -1: can not be told. */
static int is_written(jaw_book *book, long long id)
{
    jaw_book quiet = *book;
    long long n = 0;

    quiet.notes = NULL;
    if (jaw__book_number(&quiet, "SELECT count(*) FROM entry WHERE id = ?1",
                         id, &n) != JAW_OK)
        return -1;
    return n > 0;
}

/* The disk may fail after the last byte was written; then only looking shows
 * on which side the transaction came down. */
jaw_status jaw__book_commit(jaw_book *book, long long last)
{
    int code = sqlite3_exec(book->db, "COMMIT", NULL, NULL, NULL);

    if (code == SQLITE_OK)
        return JAW_OK;
    const char *why = sqlite3_errstr(code);
    jaw_book then = *book; /* its own system error is gone after ROLLBACK */
    jaw_notes *notes = jaw_notes_alloc();
    then.notes = notes;
    jaw_status status = jaw__book_failed(&then, code);
    jaw__book_back(book);
    if (last > 0 && is_written(book, last) != 0) {
        jaw_notes_free(notes);
        return jaw__book_say(book, SAY_UNSURE, book->path, why);
    }
    const jaw_note *note = jaw_notes_get(notes, 0);
    if (note != NULL)
        jaw_notes_add(book->notes, note->severity, note->status, NULL,
                      note->place, NULL, note->cure, "%s", note->what);
    jaw_notes_free(notes);
    return status;
}
