/* SPDX-License-Identifier: GPL-3.0-or-later */
/* say.c: what a book says: notes in the words of messages.h, and what SQLite's
 * result codes mean to a person (sqlite.org/rescode.html). */
#include "book.h"

#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

static const struct {
    jaw_severity severity;
    jaw_status status;
    const char *what, *cure;
} messages[JAW__BOOK_MESSAGE_COUNT] = {
#define MESSAGE_ROW(id, severity, status, what, cure)                          \
    [id] = {severity, status, what, cure},
    JAW__BOOK_MESSAGES(MESSAGE_ROW)
#undef MESSAGE_ROW
};

/* The formats are the literals of messages.h, so they may be passed on. */
#if defined(__GNUC__)
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
#endif

/* What is filled in goes into the text first and then into the cure, so both
 * are written at once. */
static jaw_status add(jaw_notes *notes, enum jaw__book_message id,
                      jaw_place place, va_list args)
{
    char format[1000], what[1500];

    snprintf(format, sizeof format, "%s\v%s", messages[id].what,
             messages[id].cure);
    vsnprintf(what, sizeof what, format, args);
    char *end = strrchr(what, '\v'); /* NULL: a text that was cut off */
    const char *cure = end != NULL ? end + 1 : messages[id].cure;
    if (end != NULL)
        *end = '\0';
    if (jaw_notes_add(notes, messages[id].severity, messages[id].status, NULL,
                      place, NULL, cure, "%s", what) != JAW_OK)
        return JAW_ENOMEM;
    return messages[id].status;
}

#if defined(__GNUC__)
#pragma GCC diagnostic pop
#endif

jaw_status jaw__book_say(const jaw_book *book, enum jaw__book_message id, ...)
{
    va_list args;

    va_start(args, id);
    jaw_status status = add(book->notes, id, (jaw_place){0}, args);
    va_end(args);
    return status;
}

jaw_status jaw__book_say_at(jaw_notes *notes, jaw_place place,
                            enum jaw__book_message id, ...)
{
    va_list args;

    va_start(args, id);
    jaw_status status = add(notes, id, place, args);
    va_end(args);
    return status;
}

static jaw_status io_failed(const jaw_book *book, int code)
{
    int number = sqlite3_system_errno(book->db);

    if ((code & 0xff) == SQLITE_FULL || number == ENOSPC || number == EDQUOT)
        return jaw__book_say(book, SAY_FULL, book->path);
    return jaw__book_say(book, SAY_IO, book->path,
                         number != 0 ? strerror(number)
                                     : sqlite3_errstr(code));
}

jaw_status jaw__book_failed(const jaw_book *book, int code)
{
    if (code == SQLITE_IOERR_NOMEM)
        return JAW_ENOMEM;
    switch (code & 0xff) {
    case SQLITE_OK:
    case SQLITE_ROW:
    case SQLITE_DONE:
        return JAW_OK;
    case SQLITE_NOMEM:
        return JAW_ENOMEM;
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
        return jaw__book_say(book, SAY_BUSY, book->path,
                             book->patience / 1000);
    case SQLITE_READONLY:
    case SQLITE_PERM:
        return jaw__book_say(book, SAY_READONLY, book->path);
    case SQLITE_NOTADB:
        return jaw__book_say(book, SAY_NOT_A_BOOK, book->path);
    case SQLITE_CORRUPT:
    case SQLITE_CONSTRAINT:
    case SQLITE_ERROR: /* tables that are not those of a book */
    case SQLITE_SCHEMA:
        return jaw__book_say(book, SAY_DAMAGED, book->path,
                             sqlite3_errmsg(book->db));
    case SQLITE_TOOBIG:
        return jaw__book_say(book, SAY_BAD_ENTRY, "this entry",
                             "it is too large");
    default:
        return io_failed(book, code);
    }
}

void jaw__book_time(long long at, char *text, size_t size)
{
    time_t seconds = (time_t)(at / 1000);
    struct tm tm;

    if (gmtime_r(&seconds, &tm) == NULL ||
        strftime(text, size, "%Y-%m-%d %H:%M:%S", &tm) == 0)
        snprintf(text, size, "?");
}
