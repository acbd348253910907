/* SPDX-License-Identifier: GPL-3.0-or-later */
/* write.c: one entry, its row in the table of its kind and its readings, or
 * several that belong together, in one transaction. */
#include "book.h"

#include <stdio.h>
#include <stdlib.h>
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

static jaw_status put_entry(jaw_book *book, jaw_book_record *r)
{
    jaw_status status;
    char doubts[200];
    sqlite3_stmt *stmt = jaw__book_prepare(
        book,
        "INSERT INTO entry (id, at, kind, machine, subject, undoes, doubts,"
        " part_of) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
        &status);

    if (stmt == NULL)
        return status;
    jaw__book_doubt_words(r->doubts, doubts, sizeof doubts);
    if (r->id > 0)
        sqlite3_bind_int64(stmt, 1, r->id);
    sqlite3_bind_int64(stmt, 2, r->at);
    jaw__book_bind(stmt, 3, jaw_book_kind_word(r->kind));
    jaw__book_bind(stmt, 4, r->machine);
    jaw__book_bind(stmt, 5, r->subject);
    if (r->undoes > 0)
        sqlite3_bind_int64(stmt, 6, r->undoes);
    jaw__book_bind(stmt, 7, doubts);
    if (r->part_of > 0)
        sqlite3_bind_int64(stmt, 8, r->part_of);
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
        return jaw__book_bind(stmt, i, *(const char *const *)at);
    case JAW__WORD:
        memcpy(&word, at, sizeof word);
        return jaw__book_bind(stmt, i, field->word(word));
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
    jaw__book_bind(stmt, 1, jaw_book_kind_word(r->kind));
    jaw__book_bind(stmt, 2, r->machine);
    jaw__book_bind(stmt, 3, r->subject);
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
        book, "SELECT at FROM entry ORDER BY id DESC LIMIT 1", 0, at);
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

/* Where a record names the setup that it is of; NULL: it names none. */
static long long *setup_of(jaw_book_record *r)
{
    return r->kind == JAW_BOOK_ZERO      ? &r->as.zero.setup
           : r->kind == JAW_BOOK_OFFSET  ? &r->as.offset.setup
           : r->kind == JAW_BOOK_ENTERED ? &r->as.entered.setup
                                         : NULL;
}

/* Inside the transaction: one behind the other, the clock of the first for all
 * that have none. */
static jaw_status put_all(jaw_book *book, jaw_book_record record[], size_t n,
                          long long *before)
{
    jaw_status status = jaw__book_clock(book, &record[0], before);

    for (size_t i = 0; i < n && status == JAW_OK; i++) {
        long long *setup = setup_of(&record[i]), last;
        record[i].part_of = i > 0 ? record[0].id : 0;
        if (i > 0 && setup != NULL && *setup == JAW_BOOK_FIRST)
            *setup = record[0].id;
        if (i > 0 && record[i].at == 0)
            record[i].at = record[0].at;
        if (i > 0)
            status = jaw__book_clock(book, &record[i], &last);
        if (status == JAW_OK)
            status = jaw__book_put(book, &record[i]);
    }
    return status;
}

jaw_status jaw__book_add_now(jaw_book *book, jaw_book_record record[], size_t n)
{
    long long before = 0;
    jaw_status status = jaw__book_begin(book);

    if (status != JAW_OK)
        return status;
    if (record[0].kind == JAW_BOOK_UNDO)
        status = jaw__book_undoable(book, &record[0].undoes);
    if (status == JAW_OK)
        status = put_all(book, record, n, &before);
    if (status != JAW_OK) {
        jaw__book_back(book);
        return status;
    }
    status = jaw__book_commit(book, record[n - 1].id);
    if (status == JAW_OK)
        say_clock(book, &record[0], before);
    return status;
}

/* The first of those written together is what the others hang from. */
static const char *wrong_at(const jaw_book_record record[], size_t i)
{
    jaw_book_record copy = record[i];
    long long *setup = setup_of(&copy);

    if (copy.kind == JAW_BOOK_UNDO)
        return "an undo has its own call";
    copy.part_of = i > 0 ? 1 : 0;
    if (i > 0 && setup != NULL && *setup == JAW_BOOK_FIRST)
        *setup = 1;
    return jaw__book_wrong(&copy);
}

jaw_status jaw_book_add_all(jaw_book *book, jaw_book_record record[], size_t n,
                            long long *id)
{
    for (size_t i = 0; i < n; i++) {
        const char *wrong = wrong_at(record, i);
        const char *subject = record[i].subject;
        if (wrong != NULL)
            return jaw__book_say(book, SAY_BAD_ENTRY,
                                 subject && *subject ? subject : "this entry",
                                 wrong);
    }
    jaw_book_record *copy = n > 0 ? calloc(n, sizeof *copy) : NULL;
    if (copy == NULL)
        return n > 0 ? JAW_ENOMEM : JAW_EFEW;
    memcpy(copy, record, n * sizeof *copy);
    for (size_t i = 0; i < n; i++)
        copy[i].id = 0;
    jaw_status status = jaw__book_add_now(book, copy, n);
    if (status == JAW_OK) {
        *id = copy[0].id;
        for (size_t i = 0; i < n; i++) {
            copy[i].id = record[i].id;
            record[i] = copy[i];
        }
    }
    free(copy);
    return status;
}

jaw_status jaw_book_add(jaw_book *book, jaw_book_record *record, long long *id)
{
    return jaw_book_add_all(book, record, 1, id);
}
