/* SPDX-License-Identifier: GPL-3.0-or-later */
/* near.c: a name that is not in the book, and nearly one that is.  By a slip of
 * the keyboard a mark, a fixture or a machine would begin anew, and the one
 * that was meant would not be compared. */
#include "book.h"

#include <stdio.h>
#include <string.h>
#include <strings.h>

typedef struct nearness {
    const char *wanted;
    const jaw_book_record *given;
    size_t n;
    char *name;
} nearness;

static bool is_given(const nearness *s, const char *name)
{
    for (size_t i = 0; i < s->n; i++)
        if (strcmp(s->given[i].subject, name) == 0)
            return true;
    return false;
}

static bool take(void *user, const jaw_book_record *r)
{
    nearness *s = user;
    const char *words[] = {r->subject};

    if (strcmp(r->subject, s->wanted) == 0) {
        s->name[0] = '\0';
        return false;
    }
    if (s->name[0] == '\0' && !is_given(s, r->subject) &&
        jaw_word_nearest(s->wanted, words, 1) != NULL)
        snprintf(s->name, JAW_BOOK_NAME_SIZE, "%s", r->subject);
    return true;
}

jaw_status jaw__book_near(jaw_book *book, jaw_book_kind kind,
                          const char *machine, const jaw_book_record given[],
                          size_t n, const char *subject,
                          char name[JAW_BOOK_NAME_SIZE])
{
    nearness s = {subject, given, n, name};

    name[0] = '\0';
    return jaw_book_current(book, kind, machine, take, &s);
}

/* ---------------------------------------------------------------- machine */

/* Capitals are no other name. */
static bool is_near(const char *wanted, const char *name)
{
    const char *words[] = {name};

    return strcasecmp(wanted, name) == 0 ||
           jaw_word_nearest(wanted, words, 1) != NULL;
}

/* Every machine that something which holds was written of; near empty: it
 * is one of them, or like none. */
static jaw_status find_machine(jaw_book *book, const char *name,
                               char near[JAW_BOOK_NAME_SIZE])
{
    jaw_status status;
    sqlite3_stmt *stmt = jaw__book_prepare(
        book,
        "SELECT DISTINCT machine FROM newest WHERE machine <> ''"
        " ORDER BY machine",
        &status);
    int code = SQLITE_DONE;

    near[0] = '\0';
    if (stmt == NULL)
        return status;
    while ((code = sqlite3_step(stmt)) == SQLITE_ROW) {
        const char *known = (const char *)sqlite3_column_text(stmt, 0);
        if (known == NULL)
            continue;
        if (strcmp(known, name) == 0) {
            near[0] = '\0';
            code = SQLITE_DONE;
            break;
        }
        if (near[0] == '\0' && is_near(name, known))
            snprintf(near, JAW_BOOK_NAME_SIZE, "%s", known);
    }
    status = jaw__book_failed(book, code);
    sqlite3_finalize(stmt);
    return status;
}

jaw_status jaw_book_machine_near(jaw_book *book, const char *name)
{
    char near[JAW_BOOK_NAME_SIZE];
    jaw_status status = find_machine(book, name, near);

    if (status == JAW_OK && near[0] != '\0')
        status = jaw__book_say(book, SAY_MACHINE_NEAR, name, near);
    return status;
}
