/* SPDX-License-Identifier: GPL-3.0-or-later */
/* schema.c: the tables of a book, and bringing older ones up to this version.
 *
 * `entry` says what became known in which order; a table for each kind of entry
 * (kinds.h) and `reading` hang from it.  Triggers keep them as they are: an
 * UPDATE, a DELETE and an INSERT in place of a row that is there all fail,
 * whoever tries.  `undone` and `newest` follow from `entry` and are kept beside
 * it within the same transaction, so that what is current is found without
 * looking through the history. */
#include "book.h"

#include <stdio.h>

static const char base[] =
    "CREATE TABLE entry ("
    " id INTEGER PRIMARY KEY AUTOINCREMENT,"
    " at INTEGER NOT NULL," /* ms since 1970 UTC, as the clock said */
    " kind TEXT NOT NULL,"
    " machine TEXT NOT NULL,"
    " subject TEXT NOT NULL,"
    " undoes INTEGER REFERENCES entry (id),"
    " doubts TEXT NOT NULL) STRICT;"
    "CREATE INDEX entry_subject ON entry (kind, machine, subject, id);"
    "CREATE INDEX entry_undoes ON entry (undoes) WHERE undoes IS NOT NULL;"
    "CREATE TABLE reading ("
    " id INTEGER NOT NULL REFERENCES entry (id),"
    " n INTEGER NOT NULL,"
    " value REAL NOT NULL," /* mm, as read */
    " PRIMARY KEY (id, n)) STRICT, WITHOUT ROWID;"
    "CREATE TABLE undone ("
    " id INTEGER PRIMARY KEY REFERENCES entry (id)) STRICT;"
    "CREATE TABLE newest ("
    " kind TEXT NOT NULL, machine TEXT NOT NULL, subject TEXT NOT NULL,"
    " id INTEGER NOT NULL REFERENCES entry (id),"
    " PRIMARY KEY (kind, machine, subject)) STRICT, WITHOUT ROWID;";

/* REPLACE deletes without a DELETE trigger, so it is caught on its way in. */
static jaw_status keep_rows(jaw_book *book, const char *table,
                            const char *same_row)
{
    char sql[1000];

    snprintf(sql, sizeof sql,
             "CREATE TRIGGER %s_no_update BEFORE UPDATE ON %s BEGIN"
             " SELECT RAISE(ABORT, 'what is written in a book stays'); END;"
             "CREATE TRIGGER %s_no_delete BEFORE DELETE ON %s BEGIN"
             " SELECT RAISE(ABORT, 'what is written in a book stays'); END;"
             "CREATE TRIGGER %s_no_replace BEFORE INSERT ON %s"
             " WHEN EXISTS (SELECT 1 FROM %s WHERE %s) BEGIN"
             " SELECT RAISE(ABORT, 'what is written in a book stays'); END;",
             table, table, table, table, table, table, table, same_row);
    return jaw__book_run(book, sql);
}

/* With version 2: what was written together. */
static const char together[] =
    "ALTER TABLE entry ADD COLUMN part_of INTEGER REFERENCES entry (id);"
    "CREATE INDEX entry_part_of ON entry (part_of)"
    " WHERE part_of IS NOT NULL;";

static jaw_status make_base(jaw_book *book)
{
    jaw_status status = jaw__book_run(book, base);

    if (status == JAW_OK)
        status = keep_rows(book, "entry", "id = NEW.id");
    if (status == JAW_OK)
        status = keep_rows(book, "reading", "id = NEW.id AND n = NEW.n");
    return status;
}

static const char *column_type(jaw__field_type type)
{
    switch (type) {
    case JAW__REAL: return "REAL";
    case JAW__INT:
    case JAW__ID:
    case JAW__BOOL: return "INTEGER";
    case JAW__TEXT:
    case JAW__WORD: return "TEXT";
    }
    return "BLOB";
}

static jaw_status make_kind(jaw_book *book, jaw_book_kind kind, int version)
{
    const jaw__kind *k = &jaw__book_kinds[kind];
    const char *table = jaw_book_kind_word(kind);
    char sql[2000];
    int n = snprintf(sql, sizeof sql,
                     "CREATE TABLE %s (id INTEGER PRIMARY KEY"
                     " REFERENCES entry (id)", table);

    for (size_t i = 0; i < k->n_fields; i++)
        if (k->field[i].since <= version)
            n += snprintf(sql + n, sizeof sql - (size_t)n, ", \"%s\" %s",
                          k->field[i].name, column_type(k->field[i].type));
    snprintf(sql + n, sizeof sql - (size_t)n, ") STRICT;");
    jaw_status status = jaw__book_run(book, sql);
    return status == JAW_OK ? keep_rows(book, table, "id = NEW.id") : status;
}

static jaw_status add_columns(jaw_book *book, jaw_book_kind kind, int version)
{
    const jaw__kind *k = &jaw__book_kinds[kind];
    jaw_status status = JAW_OK;
    char sql[200];

    for (size_t i = 0; i < k->n_fields && status == JAW_OK; i++) {
        if (k->field[i].since != version)
            continue;
        snprintf(sql, sizeof sql, "ALTER TABLE %s ADD COLUMN \"%s\" %s;",
                 jaw_book_kind_word(kind), k->field[i].name,
                 column_type(k->field[i].type));
        status = jaw__book_run(book, sql);
    }
    return status;
}

/* From version - 1 to version. */
static jaw_status step(jaw_book *book, int version)
{
    jaw_status status = version == 1   ? make_base(book)
                        : version == 2 ? jaw__book_run(book, together)
                                       : JAW_OK;

    for (int k = 0; k < JAW_BOOK_KINDS && status == JAW_OK; k++) {
        jaw_book_kind kind = (jaw_book_kind)k;
        if (jaw__book_kinds[k].n_fields == 0)
            continue;
        if (jaw__book_kinds[k].since == version)
            status = make_kind(book, kind, version);
        else if (jaw__book_kinds[k].since < version)
            status = add_columns(book, kind, version);
    }
    return status;
}

/* Another program may have done it in the meantime, so the version is read
 * again once nobody else can write. */
jaw_status jaw__book_migrate(jaw_book *book)
{
    long long version = 0;
    char sql[100];
    jaw_status status = jaw__book_begin(book);

    if (status == JAW_OK)
        status = jaw__book_number(book, "PRAGMA user_version", 0, &version);
    for (int v = (int)version + 1; v <= JAW__BOOK_VERSION && status == JAW_OK;
         v++)
        status = step(book, v);
    snprintf(sql, sizeof sql,
             "PRAGMA application_id = %d; PRAGMA user_version = %d;",
             JAW__BOOK_MARK, JAW__BOOK_VERSION);
    if (status == JAW_OK && version < JAW__BOOK_VERSION)
        status = jaw__book_run(book, sql);
    if (status == JAW_OK)
        status = jaw__book_commit(book, 0);
    else
        jaw__book_back(book);
    if (status == JAW_OK && version == 0)
        status = jaw__book_say(book, SAY_NEW_BOOK, book->path);
    return status;
}
