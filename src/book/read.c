/* SPDX-License-Identifier: GPL-3.0-or-later */
/* read.c: records out of the tables.  Texts are those that SQLite holds while
 * its statements stand on their rows, so nothing is copied for a callback. */
#include "book.h"

#include <src/base/grow.h>

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct reader {
    jaw_book *book;
    sqlite3_stmt *kind[JAW_BOOK_KINDS]; /* prepared at first use */
    sqlite3_stmt *readings;
    double *reading;
    size_t room;
} reader;

static const char *text_of(sqlite3_stmt *stmt, int i)
{
    const char *text = (const char *)sqlite3_column_text(stmt, i);

    return text == NULL ? "" : text;
}

/* What the tables do not allow, but a damaged file may hold. */
static jaw_status odd(reader *r, long long id, const char *what)
{
    char text[120];

    snprintf(text, sizeof text, "entry %lld: %s", id, what);
    return jaw__book_say(r->book, SAY_DAMAGED, r->book->path, text);
}

/* ------------------------------------------------------------------- parts */

static jaw_status take_entry(reader *r, sqlite3_stmt *stmt,
                             jaw_book_record *record)
{
    jaw_book_kind kind = jaw__book_kind_find(text_of(stmt, 2));
    long long id = sqlite3_column_int64(stmt, 0);

    if (kind == JAW_BOOK_KINDS)
        return odd(r, id, "its kind does not exist");
    jaw__book_blank(kind, record);
    record->id = id;
    record->at = sqlite3_column_int64(stmt, 1);
    record->machine = text_of(stmt, 3);
    record->subject = text_of(stmt, 4);
    record->undoes = sqlite3_column_int64(stmt, 5);
    record->part_of = sqlite3_column_int64(stmt, 7);
    record->undone = sqlite3_column_int(stmt, 8) != 0;
    if (!jaw__book_doubt_bits(text_of(stmt, 6), &record->doubts))
        return odd(r, id, "a doubt that does not exist");
    return JAW_OK;
}

static jaw_status take_field(reader *r, sqlite3_stmt *stmt, int i,
                             const jaw__field *field, jaw_book_record *record)
{
    void *at = jaw__book_field_at(field, record);
    int word;

    switch (field->type) {
    case JAW__REAL:
        *(double *)at = sqlite3_column_type(stmt, i) == SQLITE_NULL
                            ? (double)NAN
                            : sqlite3_column_double(stmt, i);
        break;
    case JAW__INT: *(int *)at = sqlite3_column_int(stmt, i); break;
    case JAW__ID: *(long long *)at = sqlite3_column_int64(stmt, i); break;
    case JAW__BOOL: *(bool *)at = sqlite3_column_int(stmt, i) != 0; break;
    case JAW__TEXT: *(const char **)at = text_of(stmt, i); break;
    case JAW__WORD:
        if (field->since > 1 && sqlite3_column_type(stmt, i) == SQLITE_NULL)
            break; /* an entry from before there was such a column */
        word = jaw__word_value(field->word, text_of(stmt, i));
        if (word < 0)
            return odd(r, record->id, "a word that does not exist");
        memcpy(at, &word, sizeof word);
        break;
    }
    return JAW_OK;
}

static sqlite3_stmt *kind_statement(reader *r, jaw_book_kind kind,
                                    jaw_status *status)
{
    const jaw__kind *k = &jaw__book_kinds[kind];
    char sql[2000];

    *status = JAW_OK;
    if (r->kind[kind] != NULL)
        return r->kind[kind];
    int n = snprintf(sql, sizeof sql, "SELECT id");
    for (size_t i = 0; i < k->n_fields; i++)
        n += snprintf(sql + n, sizeof sql - (size_t)n, ", \"%s\"",
                      k->field[i].name);
    snprintf(sql + n, sizeof sql - (size_t)n, " FROM %s WHERE id = ?1",
             jaw_book_kind_word(kind));
    return r->kind[kind] = jaw__book_prepare(r->book, sql, status);
}

static jaw_status take_kind(reader *r, jaw_book_record *record)
{
    const jaw__kind *k = &jaw__book_kinds[record->kind];
    jaw_status status;

    if (k->n_fields == 0)
        return JAW_OK;
    sqlite3_stmt *stmt = kind_statement(r, record->kind, &status);
    if (stmt == NULL)
        return status;
    sqlite3_reset(stmt);
    sqlite3_bind_int64(stmt, 1, record->id);
    int code = sqlite3_step(stmt);
    if (code == SQLITE_DONE)
        return odd(r, record->id, "the half of it is missing");
    status = jaw__book_failed(r->book, code);
    for (size_t i = 0; i < k->n_fields && status == JAW_OK; i++)
        status = take_field(r, stmt, (int)i + 1, &k->field[i], record);
    return status;
}

static bool make_room(reader *r, size_t n)
{
    double *more = jaw__grow(r->reading, n, &r->room, sizeof *more);

    if (more != NULL)
        r->reading = more;
    return more != NULL;
}

static jaw_status take_readings(reader *r, jaw_book_record *record)
{
    jaw_status status = JAW_OK;
    int code;

    if (r->readings == NULL)
        r->readings = jaw__book_prepare(
            r->book, "SELECT value FROM reading WHERE id = ?1 ORDER BY n",
            &status);
    if (r->readings == NULL)
        return status;
    sqlite3_reset(r->readings);
    sqlite3_bind_int64(r->readings, 1, record->id);
    while ((code = sqlite3_step(r->readings)) == SQLITE_ROW) {
        if (!make_room(r, record->n_readings))
            return JAW_ENOMEM;
        r->reading[record->n_readings++] =
            sqlite3_column_double(r->readings, 0);
    }
    record->reading = r->reading;
    return jaw__book_failed(r->book, code);
}

/* -------------------------------------------------------------------- each */

static void reader_drop(reader *r)
{
    for (int k = 0; k < JAW_BOOK_KINDS; k++)
        sqlite3_finalize(r->kind[k]);
    sqlite3_finalize(r->readings);
    free(r->reading);
}

jaw_status jaw__book_each(jaw_book *book, sqlite3_stmt *stmt,
                          jaw_book_take take, void *user)
{
    reader r = {.book = book};
    jaw_status status = JAW_OK;
    bool goes_on = true;
    int code = SQLITE_DONE;

    while (status == JAW_OK && goes_on &&
           (code = sqlite3_step(stmt)) == SQLITE_ROW) {
        jaw_book_record record;
        status = take_entry(&r, stmt, &record);
        if (status == JAW_OK)
            status = take_kind(&r, &record);
        if (status == JAW_OK)
            status = take_readings(&r, &record);
        if (status == JAW_OK)
            goes_on = take(user, &record);
    }
    if (status == JAW_OK)
        status = jaw__book_failed(book, code);
    reader_drop(&r);
    sqlite3_finalize(stmt);
    return status;
}

jaw_status jaw_book_current(jaw_book *book, jaw_book_kind kind,
                            const char *machine, jaw_book_take take,
                            void *user)
{
    const char *word = jaw_book_kind_word(kind);
    jaw_status status;

    if (word == NULL)
        return JAW_EDOMAIN;
    sqlite3_stmt *stmt = jaw__book_prepare(
        book,
        machine == NULL
            ? "SELECT " JAW__ENTRY_COLUMNS " FROM newest w JOIN entry e"
              " ON e.id = w.id WHERE w.kind = ?1"
              " ORDER BY w.kind, w.machine, w.subject"
            : "SELECT " JAW__ENTRY_COLUMNS " FROM newest w JOIN entry e"
              " ON e.id = w.id WHERE w.kind = ?1 AND w.machine = ?2"
              " ORDER BY w.kind, w.machine, w.subject",
        &status);
    if (stmt == NULL)
        return status;
    jaw__book_bind(stmt, 1, word);
    if (machine != NULL)
        jaw__book_bind(stmt, 2, machine);
    return jaw__book_each(book, stmt, take, user);
}

static sqlite3_int64 limit_of(size_t most)
{
    return most == 0 || most > INT32_MAX ? -1 : (sqlite3_int64)most;
}

jaw_status jaw_book_history(jaw_book *book, jaw_book_kind kind,
                            const char *machine, const char *subject,
                            size_t most, jaw_book_take take, void *user)
{
    const char *word = jaw_book_kind_word(kind);
    jaw_status status;

    if (word == NULL)
        return JAW_EDOMAIN;
    sqlite3_stmt *stmt = jaw__book_prepare(
        book,
        "SELECT " JAW__ENTRY_COLUMNS " FROM entry e WHERE e.kind = ?1"
        " AND e.machine = ?2 AND e.subject = ?3 ORDER BY e.id DESC LIMIT ?4",
        &status);
    if (stmt == NULL)
        return status;
    jaw__book_bind(stmt, 1, word);
    jaw__book_bind(stmt, 2, machine);
    jaw__book_bind(stmt, 3, subject);
    sqlite3_bind_int64(stmt, 4, limit_of(most));
    return jaw__book_each(book, stmt, take, user);
}

jaw_status jaw_book_log(jaw_book *book, size_t most, jaw_book_take take,
                        void *user)
{
    jaw_status status;
    sqlite3_stmt *stmt = jaw__book_prepare(
        book,
        "SELECT " JAW__ENTRY_COLUMNS
        " FROM entry e ORDER BY e.id DESC LIMIT ?1",
        &status);

    if (stmt == NULL)
        return status;
    sqlite3_bind_int64(stmt, 1, limit_of(most));
    return jaw__book_each(book, stmt, take, user);
}

jaw_status jaw_book_older(jaw_book *book, long long id, long long *n)
{
    return jaw__book_number(
        book,
        "SELECT count(*) FROM entry WHERE id < ?1 AND part_of IS NULL", id,
        n);
}

jaw_status jaw_book_parts(jaw_book *book, long long id, jaw_book_take take,
                          void *user)
{
    jaw_status status;
    sqlite3_stmt *stmt = jaw__book_prepare(
        book,
        "SELECT " JAW__ENTRY_COLUMNS
        " FROM entry e WHERE e.part_of = ?1 ORDER BY e.id",
        &status);

    if (stmt == NULL)
        return status;
    sqlite3_bind_int64(stmt, 1, id);
    return jaw__book_each(book, stmt, take, user);
}

/* The newest entry of a register that names the setup. */
#define CARRIED(kind)                                                          \
    "SELECT max(c.id) FROM entry c JOIN " kind " k ON k.id = c.id"             \
    " WHERE c.kind = '" kind "' AND c.machine = p.machine"                     \
    " AND c.subject = p.subject AND k.setup = ?1 AND p.kind = c.kind"          \
    " AND NOT " JAW__UNDONE(c)

jaw_status jaw_book_parts_now(jaw_book *book, long long id, jaw_book_take take,
                              void *user)
{
    jaw_status status;
    sqlite3_stmt *stmt = jaw__book_prepare(
        book,
        "SELECT " JAW__ENTRY_COLUMNS
        " FROM entry p JOIN entry e ON e.id = coalesce((" CARRIED("zero")
        "), (" CARRIED("offset") "), p.id) WHERE p.part_of = ?1 ORDER BY p.id",
        &status);

    if (stmt == NULL)
        return status;
    sqlite3_bind_int64(stmt, 1, id);
    return jaw__book_each(book, stmt, take, user);
}

/* --------------------------------------------------------------------- one */

typedef struct copier {
    jaw_book *book;
    jaw_book_record *record;
    bool found, failed;
} copier;

static const char *keep(copier *c, const char *text)
{
    jaw_book *book = c->book;
    char *copy = strdup(text);

    if (copy == NULL || book->n_texts == sizeof book->text / sizeof(char *)) {
        c->failed = true;
        free(copy);
        return "";
    }
    book->text[book->n_texts++] = copy;
    return copy;
}

static void keep_readings(copier *c)
{
    jaw_book_record *r = c->record;
    size_t n = r->n_readings;

    c->book->reading = malloc((n + 1) * sizeof *r->reading);
    c->failed = c->failed || c->book->reading == NULL;
    if (c->book->reading != NULL && n > 0)
        memcpy(c->book->reading, r->reading, n * sizeof *r->reading);
    r->reading = c->book->reading;
}

static bool copy_record(void *user, const jaw_book_record *record)
{
    copier *c = user;
    const jaw__kind *k = &jaw__book_kinds[record->kind];

    *c->record = *record;
    c->found = true;
    c->record->machine = keep(c, record->machine);
    c->record->subject = keep(c, record->subject);
    for (size_t i = 0; i < k->n_fields; i++) {
        if (k->field[i].type != JAW__TEXT)
            continue;
        const char **text = jaw__book_field_at(&k->field[i], c->record);
        *text = keep(c, *text);
    }
    keep_readings(c);
    return false;
}

static jaw_status copied(const copier *c, jaw_status status)
{
    if (status == JAW_OK && c->failed)
        status = JAW_ENOMEM;
    return status == JAW_OK && !c->found ? JAW_EUNKNOWN : status;
}

jaw_status jaw_book_get(jaw_book *book, long long id, jaw_book_record *record)
{
    copier c = {.book = book, .record = record};
    jaw_status status;
    sqlite3_stmt *stmt = jaw__book_prepare(
        book, "SELECT " JAW__ENTRY_COLUMNS " FROM entry e WHERE e.id = ?1",
        &status);

    if (stmt == NULL)
        return status;
    jaw__book_forget(book);
    sqlite3_bind_int64(stmt, 1, id);
    return copied(&c, jaw__book_each(book, stmt, copy_record, &c));
}

jaw_status jaw_book_find(jaw_book *book, jaw_book_kind kind,
                         const char *machine, const char *subject,
                         jaw_book_record *record)
{
    const char *word = jaw_book_kind_word(kind);
    copier c = {.book = book, .record = record};
    jaw_status status;

    if (word == NULL)
        return JAW_EDOMAIN;
    sqlite3_stmt *stmt = jaw__book_prepare(
        book,
        "SELECT " JAW__ENTRY_COLUMNS " FROM newest w JOIN entry e"
        " ON e.id = w.id WHERE w.kind = ?1 AND w.machine = ?2"
        " AND w.subject = ?3",
        &status);
    if (stmt == NULL)
        return status;
    jaw__book_bind(stmt, 1, word);
    /* copied: they may be what jaw__book_forget frees */
    sqlite3_bind_text(stmt, 2, machine, -1, SQLITE_TRANSIENT);
    sqlite3_bind_text(stmt, 3, subject, -1, SQLITE_TRANSIENT);
    jaw__book_forget(book);
    return copied(&c, jaw__book_each(book, stmt, copy_record, &c));
}
