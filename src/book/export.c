/* SPDX-License-Identifier: GPL-3.0-or-later */
/* export.c: all entries as JSON, one object a line (RFC 8259), or as CSV (RFC
 * 4180). */
#include "columns.h"

#include <stdio.h>
#include <math.h>
#include <string.h>

typedef struct writer {
    jaw__columns columns;
    jaw_book_form form;
    jaw_book_put put;
    void *user;
    bool ended, comma;
} writer;

static void put_n(writer *w, const char *text, size_t len)
{
    w->ended = w->ended || !w->put(w->user, text, len);
}

static void put(writer *w, const char *text)
{
    put_n(w, text, strlen(text));
}

/* ------------------------------------------------------------------- texts */

static void put_json_text(writer *w, const char *text)
{
    char escaped[8];

    put(w, "\"");
    while (*text != '\0') {
        size_t plain = 0;
        while ((unsigned char)text[plain] >= 0x20 && text[plain] != '"' &&
               text[plain] != '\\')
            plain++;
        put_n(w, text, plain);
        text += plain;
        if (*text == '\0')
            break;
        snprintf(escaped, sizeof escaped, "\\u%04x", (unsigned char)*text++);
        put(w, escaped);
    }
    put(w, "\"");
}

static void put_csv_text(writer *w, const char *text)
{
    if (*text != '\0' && strpbrk(text, ",\"\r\n") == NULL) {
        put(w, text);
        return;
    }
    put(w, "\"");
    for (; *text != '\0'; text++)
        put_n(w, *text == '"' ? "\"\"" : text, *text == '"' ? 2 : 1);
    put(w, "\"");
}

/* The name in JSON, the comma in CSV. */
static void begin_cell(writer *w, size_t column)
{
    if (w->comma)
        put(w, w->form == JAW_BOOK_JSON ? ", " : ",");
    w->comma = true;
    if (w->form == JAW_BOOK_CSV)
        return;
    put_json_text(w, w->columns.name[column]);
    put(w, ": ");
}

static void put_text(writer *w, const char *text)
{
    if (w->form == JAW_BOOK_JSON)
        put_json_text(w, text);
    else
        put_csv_text(w, text);
}

static void put_whole(writer *w, long long value)
{
    char text[32];

    snprintf(text, sizeof text, "%lld", value);
    put(w, text);
}

static void put_real(writer *w, double value)
{
    char text[32];

    jaw__digits(value, text, sizeof text);
    if (w->form == JAW_BOOK_JSON && isnan(value))
        put(w, "null");
    else if (w->form == JAW_BOOK_JSON && isinf(value))
        put_json_text(w, text);
    else
        put(w, text);
}

/* ------------------------------------------------------------------ record */

static void put_readings(writer *w, const jaw_book_record *r)
{
    bool json = w->form == JAW_BOOK_JSON;

    put(w, json ? "[" : "");
    for (size_t i = 0; i < r->n_readings; i++) {
        if (i > 0)
            put(w, json ? ", " : " ");
        put_real(w, r->reading[i]);
    }
    put(w, json ? "]" : "");
}

/* Of another entry; nothing where there is none. */
static void put_link(writer *w, long long id)
{
    if (id > 0)
        put_whole(w, id);
    else if (w->form == JAW_BOOK_JSON)
        put(w, "null");
}

static void put_entry_cell(writer *w, const jaw_book_record *r, int column)
{
    char doubts[200];

    switch (column) {
    case JAW__COLUMN_ENTRY: put_whole(w, r->id); break;
    case JAW__COLUMN_AT: put_whole(w, r->at); break;
    case JAW__COLUMN_KIND: put_text(w, jaw_book_kind_word(r->kind)); break;
    case JAW__COLUMN_MACHINE: put_text(w, r->machine); break;
    case JAW__COLUMN_SUBJECT: put_text(w, r->subject); break;
    case JAW__COLUMN_UNDOES: put_link(w, r->undoes); break;
    case JAW__COLUMN_PART_OF: put_link(w, r->part_of); break;
    case JAW__COLUMN_DOUBTS:
        jaw__book_doubt_words(r->doubts, doubts, sizeof doubts);
        put_text(w, doubts);
        break;
    default: put_readings(w, r); break;
    }
}

static void put_field(writer *w, const jaw_book_record *r,
                      const jaw__field *field)
{
    const void *at = jaw__book_field_of(field, r);
    bool json = w->form == JAW_BOOK_JSON;
    unsigned word;

    switch (field->type) {
    case JAW__REAL: put_real(w, *(const double *)at); break;
    case JAW__INT: put_whole(w, *(const int *)at); break;
    case JAW__ID: put_whole(w, *(const long long *)at); break;
    case JAW__BOOL:
        put(w, *(const bool *)at ? json ? "true" : "1" : json ? "false" : "0");
        break;
    case JAW__TEXT: put_text(w, *(const char *const *)at); break;
    case JAW__WORD:
        memcpy(&word, at, sizeof word);
        put_text(w, field->word(word));
        break;
    }
}

static bool put_record(void *user, const jaw_book_record *r)
{
    writer *w = user;
    bool json = w->form == JAW_BOOK_JSON;

    put(w, json ? "{" : "");
    w->comma = false;
    for (size_t i = 0; i < w->columns.n; i++) {
        bool common = i < JAW__ENTRY_COLUMN_COUNT;
        const jaw__field *field =
            common ? NULL : jaw__book_field_find(r->kind, w->columns.name[i]);
        if (json && !common && field == NULL)
            continue;
        begin_cell(w, i);
        if (common)
            put_entry_cell(w, r, (int)i);
        else if (field != NULL)
            put_field(w, r, field);
    }
    put(w, json ? "}\n" : ",\r\n"); /* nothing under the count */
    return !w->ended;
}

/* How many entries follow is said first: a file that was cut off ends like a
 * whole one.  In CSV it is the name of a last column, which holds nothing. */
static void put_head(writer *w, long long entries)
{
    if (w->form == JAW_BOOK_JSON) {
        put(w, "{\"book\": \"jawline\", \"version\": ");
        put_whole(w, JAW__BOOK_VERSION);
        put(w, ", \"entries\": ");
        put_whole(w, entries);
        put(w, "}\n");
        return;
    }
    for (size_t i = 0; i < w->columns.n; i++) {
        put(w, w->columns.name[i]);
        put(w, ",");
    }
    put(w, JAW__COUNT_COLUMN);
    put_whole(w, entries);
    put(w, "\r\n");
}

static jaw_status put_all(jaw_book *book, writer *w)
{
    long long entries;
    jaw_status status =
        jaw__book_number(book, "SELECT count(*) FROM entry", 0, &entries);

    if (status != JAW_OK)
        return status;
    sqlite3_stmt *stmt = jaw__book_prepare(
        book, "SELECT " JAW__ENTRY_COLUMNS " FROM entry e ORDER BY e.id",
        &status);
    if (stmt == NULL)
        return status;
    jaw__columns_fill(&w->columns);
    put_head(w, entries);
    return jaw__book_each(book, stmt, put_record, w);
}

jaw_status jaw_book_export(jaw_book *book, jaw_book_form form,
                           jaw_book_put put_piece, void *user)
{
    writer w = {.form = form, .put = put_piece, .user = user};
    jaw_status status = jaw__book_run(book, "BEGIN"); /* one moment */

    if (status != JAW_OK)
        return status;
    status = put_all(book, &w);
    jaw__book_back(book); /* nothing was written */
    return status == JAW_OK && w.ended ? JAW_EIO : status;
}
