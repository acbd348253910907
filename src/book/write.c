/* SPDX-License-Identifier: GPL-3.0-or-later */
/* write.c: one entry, its row in the table of its kind and its readings, in one
 * transaction. */
#include "book.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

/* ------------------------------------------------------------------ doubts */

void jaw__book_doubt_words(unsigned doubts, char *text, size_t size)
{
    size_t len = 0;

    text[0] = '\0';
    for (unsigned bit = 1; bit < JAW_BOOK_DOUBTS_END; bit <<= 1) {
        const char *word = jaw_book_doubt_word(bit);
        if ((doubts & bit) == 0 || word == NULL || len >= size)
            continue;
        len += (size_t)snprintf(text + len, size - len, "%s%s",
                                len > 0 ? " " : "", word);
    }
}

bool jaw__book_doubt_bits(const char *text, unsigned *doubts)
{
    *doubts = 0;
    while (*text != '\0') {
        size_t len = strcspn(text, " ");
        unsigned bit = 1;
        for (; bit < JAW_BOOK_DOUBTS_END; bit <<= 1) {
            const char *word = jaw_book_doubt_word(bit);
            if (word != NULL && strlen(word) == len &&
                strncmp(word, text, len) == 0)
                break;
        }
        if (bit >= JAW_BOOK_DOUBTS_END)
            return false;
        *doubts |= bit;
        text += len;
        text += strspn(text, " ");
    }
    return true;
}

/* ------------------------------------------------------------------ insert */

static int bind_text(sqlite3_stmt *stmt, int i, const char *text)
{
    return sqlite3_bind_text(stmt, i, text, -1, SQLITE_STATIC);
}

static jaw_status put_entry(jaw_book *book, jaw_book_record *r)
{
    jaw_status status;
    char doubts[200];
    sqlite3_stmt *stmt = jaw__book_prepare(
        book,
        "INSERT INTO entry (id, at, kind, machine, subject, undoes, doubts)"
        " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
        &status);

    if (stmt == NULL)
        return status;
    jaw__book_doubt_words(r->doubts, doubts, sizeof doubts);
    if (r->id > 0)
        sqlite3_bind_int64(stmt, 1, r->id);
    sqlite3_bind_int64(stmt, 2, r->at);
    bind_text(stmt, 3, jaw_book_kind_word(r->kind));
    bind_text(stmt, 4, r->machine);
    bind_text(stmt, 5, r->subject);
    if (r->undoes > 0)
        sqlite3_bind_int64(stmt, 6, r->undoes);
    bind_text(stmt, 7, doubts);
    status = jaw__book_done(book, stmt);
    if (status == JAW_OK)
        r->id = sqlite3_last_insert_rowid(book->db);
    return status;
}

static int bind_field(sqlite3_stmt *stmt, int i, const jaw__field *field,
                      const jaw_book_record *r)
{
    const void *at = jaw__book_field_of(field, r);
    unsigned word;

    switch (field->type) {
    case JAW__REAL: /* NaN is bound as NULL */
        return sqlite3_bind_double(stmt, i, *(const double *)at);
    case JAW__INT:
        return sqlite3_bind_int(stmt, i, *(const int *)at);
    case JAW__ID:
        return sqlite3_bind_int64(stmt, i, *(const long long *)at);
    case JAW__BOOL:
        return sqlite3_bind_int(stmt, i, *(const bool *)at);
    case JAW__TEXT:
        return bind_text(stmt, i, *(const char *const *)at);
    case JAW__WORD:
        memcpy(&word, at, sizeof word);
        return bind_text(stmt, i, field->word(word));
    }
    return SQLITE_MISUSE;
}

static jaw_status put_kind(jaw_book *book, const jaw_book_record *r)
{
    const jaw__kind *k = &jaw__book_kinds[r->kind];
    char sql[2000];
    jaw_status status;

    if (k->n_fields == 0)
        return JAW_OK;
    int n = snprintf(sql, sizeof sql, "INSERT INTO %s (id",
                     jaw_book_kind_word(r->kind));
    for (size_t i = 0; i < k->n_fields; i++)
        n += snprintf(sql + n, sizeof sql - (size_t)n, ", \"%s\"",
                      k->field[i].name);
    n += snprintf(sql + n, sizeof sql - (size_t)n, ") VALUES (?");
    for (size_t i = 0; i < k->n_fields; i++)
        n += snprintf(sql + n, sizeof sql - (size_t)n, ", ?");
    snprintf(sql + n, sizeof sql - (size_t)n, ")");
    sqlite3_stmt *stmt = jaw__book_prepare(book, sql, &status);
    if (stmt == NULL)
        return status;
    int code = sqlite3_bind_int64(stmt, 1, r->id);
    for (size_t i = 0; i < k->n_fields && code == SQLITE_OK; i++)
        code = bind_field(stmt, (int)i + 2, &k->field[i], r);
    if (code == SQLITE_OK)
        return jaw__book_done(book, stmt);
    sqlite3_finalize(stmt);
    return jaw__book_failed(book, code);
}

static jaw_status put_readings(jaw_book *book, const jaw_book_record *r)
{
    jaw_status status = JAW_OK;

    if (r->n_readings == 0)
        return JAW_OK;
    sqlite3_stmt *stmt = jaw__book_prepare(
        book, "INSERT INTO reading (id, n, value) VALUES (?1, ?2, ?3)",
        &status);
    for (size_t i = 0; i < r->n_readings && status == JAW_OK; i++) {
        sqlite3_bind_int64(stmt, 1, r->id);
        sqlite3_bind_int64(stmt, 2, (sqlite3_int64)i + 1);
        sqlite3_bind_double(stmt, 3, r->reading[i]);
        status = jaw__book_failed(book, sqlite3_step(stmt));
        sqlite3_reset(stmt);
    }
    sqlite3_finalize(stmt);
    return status;
}

/* ------------------------------------------------------------ what follows */

static jaw_status set_newest(jaw_book *book, const jaw_book_record *r)
{
    jaw_status status;
    sqlite3_stmt *stmt = jaw__book_prepare(
        book,
        "INSERT INTO newest (kind, machine, subject, id)"
        " VALUES (?1, ?2, ?3, ?4)"
        " ON CONFLICT DO UPDATE SET id = excluded.id",
        &status);

    if (stmt == NULL)
        return status;
    bind_text(stmt, 1, jaw_book_kind_word(r->kind));
    bind_text(stmt, 2, r->machine);
    bind_text(stmt, 3, r->subject);
    sqlite3_bind_int64(stmt, 4, r->id);
    return jaw__book_done(book, stmt);
}

jaw_status jaw__book_put(jaw_book *book, jaw_book_record *r)
{
    jaw_status status = put_entry(book, r);

    if (status == JAW_OK)
        status = put_kind(book, r);
    if (status == JAW_OK)
        status = put_readings(book, r);
    if (status != JAW_OK)
        return status;
    return r->kind == JAW_BOOK_UNDO ? jaw__book_flip(book, r->undoes, false)
                                    : set_newest(book, r);
}

/* --------------------------------------------------------------------- add */

/* The clock of the entry before; 0: there is none. */
static jaw_status last_clock(jaw_book *book, long long *at)
{
    return jaw__book_number(
        book, "SELECT at FROM entry ORDER BY id DESC LIMIT 1", 0, 0, at);
}

static long long now(void)
{
    struct timespec t;

    clock_gettime(CLOCK_REALTIME, &t);
    return 1000LL * t.tv_sec + t.tv_nsec / 1000000;
}

/* Inside the transaction, so that of two programs that write at once the one
 * that waits is also the later one. */
jaw_status jaw__book_clock(jaw_book *book, jaw_book_record *r,
                           long long *before)
{
    jaw_status status = last_clock(book, before);

    if (r->at == 0)
        r->at = now();
    if (status == JAW_OK && r->at < *before)
        r->doubts |= JAW_BOOK_CLOCK_BACK;
    return status;
}

static void say_clock(const jaw_book *book, const jaw_book_record *r,
                      long long before)
{
    char at[32], then[32];

    if (!(r->doubts & JAW_BOOK_CLOCK_BACK))
        return;
    jaw__book_time(r->at, at, sizeof at);
    jaw__book_time(before, then, sizeof then);
    jaw__book_say(book, SAY_CLOCK_BACK, at, then);
}

jaw_status jaw__book_add_now(jaw_book *book, jaw_book_record *copy)
{
    long long before = 0;
    jaw_status status = jaw__book_begin(book);

    if (status != JAW_OK)
        return status;
    if (copy->kind == JAW_BOOK_UNDO)
        status = jaw__book_undoable(book, &copy->undoes);
    if (status == JAW_OK)
        status = jaw__book_clock(book, copy, &before);
    if (status == JAW_OK)
        status = jaw__book_put(book, copy);
    if (status != JAW_OK) {
        jaw__book_back(book);
        return status;
    }
    status = jaw__book_commit(book, copy->id);
    if (status == JAW_OK)
        say_clock(book, copy, before);
    return status;
}

jaw_status jaw_book_add(jaw_book *book, jaw_book_record *record, long long *id)
{
    jaw_book_record copy = *record;
    const char *wrong = jaw__book_wrong(record);

    if (wrong != NULL || record->kind == JAW_BOOK_UNDO)
        return jaw__book_say(book, SAY_BAD_ENTRY,
                             record->subject && *record->subject
                                 ? record->subject : "this entry",
                             wrong ? wrong : "an undo has its own call");
    copy.id = 0;
    jaw_status status = jaw__book_add_now(book, &copy);
    if (status != JAW_OK)
        return status;
    record->doubts = copy.doubts;
    record->at = copy.at;
    *id = copy.id;
    return JAW_OK;
}
