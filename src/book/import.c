/* SPDX-License-Identifier: GPL-3.0-or-later */
/* import.c: rows of text into the book, all or nothing: one transaction, which
 * a single mistake takes back. */
#include "columns.h"

#include <limits.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void jaw__import_wrong(jaw__import *im, jaw_place place, const char *cure,
                       const char *format, ...)
{
    char what[400], all[600];
    va_list args;

    va_start(args, format);
    vsnprintf(what, sizeof what, format, args);
    va_end(args);
    snprintf(all, sizeof all, "%s%snothing was imported", cure,
             *cure ? "; " : "");
    bool told = jaw_notes_add(im->book->notes, JAW_ERROR, JAW_ESYNTAX,
                              im->name, place, NULL, all, "%s",
                              what) == JAW_OK;
    if (im->status == JAW_OK)
        im->status = told ? JAW_ESYNTAX : JAW_ENOMEM;
    im->mistakes++;
}

/* The one of words[n] that was probably meant, or what is said otherwise. */
static jaw__cure cure_of(const char *word, const char *const words[], size_t n,
                         const char *otherwise)
{
    const char *near = jaw_word_nearest(word, words, n);
    jaw__cure cure;

    if (near != NULL)
        snprintf(cure.s, sizeof cure.s, "did you mean `%s'?", near);
    else
        snprintf(cure.s, sizeof cure.s, "%s", otherwise);
    return cure;
}

jaw__cure jaw__import_cure(const jaw__import *im, const char *name)
{
    return cure_of(name, im->columns.name, im->columns.n,
                   "the names are those of an export");
}

/* ------------------------------------------------------------------- cells */

static bool read_real(const char *cell, double *value)
{
    size_t used;

    if (strcmp(cell, "inf") == 0) {
        *value = (double)INFINITY;
        return true;
    }
    return jaw_number_read(cell, strlen(cell), value, &used) == JAW_OK &&
           cell[used] == '\0';
}

static bool read_whole(const char *cell, long long low, long long high,
                       long long *value)
{
    char *end;

    if (strspn(cell, "-0123456789") != strlen(cell) || strlen(cell) > 18)
        return false;
    *value = strtoll(cell, &end, 10);
    return *end == '\0' && end != cell && *value >= low && *value <= high;
}

static bool read_bool(const char *cell, bool *value)
{
    *value = strcmp(cell, "true") == 0 || strcmp(cell, "1") == 0;
    return *value || strcmp(cell, "false") == 0 || strcmp(cell, "0") == 0;
}

static bool read_field(const char *cell, const jaw__field *field,
                       jaw_book_record *r)
{
    void *at = jaw__book_field_at(field, r);
    long long whole = 0;
    int word;

    switch (field->type) {
    case JAW__REAL:
        return *cell == '\0' || read_real(cell, at);
    case JAW__INT:
        if (!read_whole(cell, INT_MIN, INT_MAX, &whole))
            return *cell == '\0';
        *(int *)at = (int)whole;
        return true;
    case JAW__ID:
        if (!read_whole(cell, 0, LLONG_MAX, &whole))
            return *cell == '\0';
        *(long long *)at = whole;
        return true;
    case JAW__BOOL:
        return *cell == '\0' || read_bool(cell, at);
    case JAW__TEXT:
        *(const char **)at = cell;
        return true;
    case JAW__WORD:
        word = jaw__word_value(field->word, cell);
        if (word >= 0)
            memcpy(at, &word, sizeof word);
        return word >= 0 || *cell == '\0';
    }
    return false;
}

static const char *type_cure(const jaw__field *field)
{
    switch (field->type) {
    case JAW__REAL: return "a number with a point, such as 63.5";
    case JAW__BOOL: return "it is true or false";
    case JAW__WORD: return "it is one of the words that an export has there";
    default: return "a whole number";
    }
}

/* -------------------------------------------------------------------- rows */

static const char *cell_of(const jaw__row *row, int column)
{
    return row->cell[column] == NULL ? "" : row->cell[column];
}

static bool read_fields(jaw__import *im, const jaw__row *row,
                        jaw_book_record *r)
{
    for (size_t i = JAW__ENTRY_COLUMN_COUNT; i < im->columns.n; i++) {
        const char *cell = row->cell[i], *name = im->columns.name[i];
        if (cell == NULL)
            continue;
        const jaw__field *field = jaw__book_field_find(r->kind, name);
        if (field == NULL) {
            jaw__import_wrong(im, row->place, "leave it out",
                              "an entry of kind `%s' has no `%s'",
                              jaw_book_kind_word(r->kind), name);
            return false;
        }
        if (!read_field(cell, field, r)) {
            jaw__import_wrong(im, row->place, type_cure(field),
                              "`%.60s' can not be the %s", cell, name);
            return false;
        }
    }
    return true;
}

/* A tool's subject follows from its number and holder, and so on. */
static const char *subject_of(const jaw_book_record *r, const char *cell,
                              char *made, size_t size)
{
    if (*cell != '\0')
        return cell;
    return jaw__book_subject(r, made, size) == JAW_OK ? made : cell;
}

static bool read_kind(jaw__import *im, const jaw__row *row,
                      jaw_book_record *r)
{
    const char *word = cell_of(row, JAW__COLUMN_KIND);
    const char *words[JAW_BOOK_KINDS];
    jaw_book_kind kind = jaw__book_kind_find(word);

    if (kind != JAW_BOOK_KINDS) {
        jaw__book_blank(kind, r);
        return true;
    }
    for (int k = 0; k < JAW_BOOK_KINDS; k++)
        words[k] = jaw_book_kind_word((jaw_book_kind)k);
    jaw__cure cure = cure_of(word, words, JAW_BOOK_KINDS,
                             "every entry says its kind, such as length");
    jaw__import_wrong(im, row->place, cure.s, "there is no kind `%.60s'",
                      word);
    return false;
}

static bool read_whole_cell(jaw__import *im, const jaw__row *row, int column,
                            long long missing, long long *value)
{
    const char *cell = cell_of(row, column);

    *value = missing;
    if (*cell == '\0' || read_whole(cell, 0, LLONG_MAX, value))
        return true;
    jaw__import_wrong(im, row->place, "a whole number",
                      "`%.60s' can not be the %s", cell,
                      im->columns.name[column]);
    return false;
}

static bool read_readings(jaw__import *im, const jaw__row *row,
                          jaw_book_record *r)
{
    const char *cell = cell_of(row, JAW__COLUMN_READINGS);
    double *reading = calloc(strlen(cell) / 2 + 1, sizeof *reading);
    size_t used;

    r->reading = reading;
    if (reading == NULL) {
        im->status = JAW_ENOMEM;
        return false;
    }
    for (cell += strspn(cell, " "); *cell != '\0'; cell += strspn(cell, " ")) {
        double *value = &reading[r->n_readings];
        if (jaw_number_read(cell, strlen(cell), value, &used) != JAW_OK ||
            (cell[used] != ' ' && cell[used] != '\0')) {
            jaw__import_wrong(im, row->place,
                              "readings are numbers parted by blanks",
                              "`%.60s' can not be readings", cell);
            return false;
        }
        r->n_readings++;
        cell += used;
    }
    return true;
}

static bool read_record(jaw__import *im, const jaw__row *row,
                        jaw_book_record *r, char *made, size_t size)
{
    const char *doubts = cell_of(row, JAW__COLUMN_DOUBTS);

    if (!read_kind(im, row, r) ||
        !read_whole_cell(im, row, JAW__COLUMN_ENTRY, 0, &r->id) ||
        !read_whole_cell(im, row, JAW__COLUMN_AT, im->at, &r->at) ||
        !read_whole_cell(im, row, JAW__COLUMN_UNDOES, 0, &r->undoes) ||
        !read_whole_cell(im, row, JAW__COLUMN_PART_OF, 0, &r->part_of) ||
        !read_fields(im, row, r) || !read_readings(im, row, r))
        return false;
    if (!jaw__book_doubt_bits(doubts, &r->doubts)) {
        jaw__import_wrong(im, row->place, "leave it empty",
                          "`%.60s' are no doubts", doubts);
        return false;
    }
    r->machine = cell_of(row, JAW__COLUMN_MACHINE);
    r->subject = subject_of(r, cell_of(row, JAW__COLUMN_SUBJECT), made, size);
    const char *wrong = jaw__book_wrong(r);
    if (wrong != NULL)
        jaw__import_wrong(im, row->place, "", "%s", wrong);
    return wrong == NULL;
}

/* --------------------------------------------------------------- into it */

static bool same_field(const jaw__field *field, const jaw_book_record *a,
                       const jaw_book_record *b)
{
    const void *p = jaw__book_field_of(field, a);
    const void *q = jaw__book_field_of(field, b);
    double x, y;

    switch (field->type) {
    case JAW__REAL:
        memcpy(&x, p, sizeof x);
        memcpy(&y, q, sizeof y);
        return x == y || (isnan(x) && isnan(y));
    case JAW__INT: return *(const int *)p == *(const int *)q;
    case JAW__ID: return *(const long long *)p == *(const long long *)q;
    case JAW__BOOL: return *(const bool *)p == *(const bool *)q;
    case JAW__TEXT:
        return strcmp(*(const char *const *)p, *(const char *const *)q) == 0;
    case JAW__WORD: return memcmp(p, q, sizeof(unsigned)) == 0;
    }
    return false;
}

static bool same_record(const jaw_book_record *a, const jaw_book_record *b)
{
    const jaw__kind *k = &jaw__book_kinds[a->kind];

    if (a->kind != b->kind || a->at != b->at || a->undoes != b->undoes ||
        a->part_of != b->part_of || a->doubts != b->doubts ||
        strcmp(a->machine, b->machine) != 0 ||
        strcmp(a->subject, b->subject) != 0 || a->n_readings != b->n_readings)
        return false;
    for (size_t i = 0; i < k->n_fields; i++)
        if (!same_field(&k->field[i], a, b))
            return false;
    return a->n_readings == 0 ||
           memcmp(a->reading, b->reading,
                  a->n_readings * sizeof *a->reading) == 0;
}

static void stop(jaw__import *im, jaw_status status)
{
    im->ended = im->ended || status != JAW_OK;
    if (status != JAW_OK && im->status == JAW_OK)
        im->status = status;
}

/* One that has a number: held already, or behind all that are there. */
static bool is_new(jaw__import *im, const jaw__row *row,
                   const jaw_book_record *r)
{
    jaw_book_record held;
    long long last = 0;

    if (r->id == 0)
        return true;
    jaw_status status = jaw_book_get(im->book, r->id, &held);
    if (status == JAW_OK && same_record(r, &held)) {
        im->held++;
        return false;
    }
    if (status == JAW_OK) {
        jaw__import_wrong(im, row->place,
                          "leave the number out to write it at the end",
                          "entry %lld is another one in this book", r->id);
        return false;
    }
    if (status == JAW_EUNKNOWN)
        status = jaw__book_number(im->book, "SELECT max(id) FROM entry", 0,
                                  &last);
    stop(im, status);
    if (status == JAW_OK && r->id < last)
        jaw__import_wrong(im, row->place, "write the rows in order",
                          "entry %lld comes behind entry %lld", r->id, last);
    return status == JAW_OK && r->id > last;
}

/* An entry that holds and is no part of another, as it must be to be undone or
 * to have parts. */
static bool is_whole(jaw__import *im, long long id)
{
    long long holds = 0;
    jaw_status status = jaw__book_number(
        im->book,
        "SELECT count(*) FROM entry e WHERE id = ?1 AND part_of IS NULL"
        " AND NOT " JAW__UNDONE(e),
        id, &holds);

    stop(im, status);
    return status == JAW_OK && holds > 0;
}

/* The entry that a row names beside undoes and part_of; 0: none. */
static long long names(const jaw_book_record *r)
{
    const jaw__kind *k = &jaw__book_kinds[r->kind];

    for (size_t i = 0; i < k->n_fields; i++) {
        if (k->field[i].type != JAW__ID)
            continue;
        long long id = *(const long long *)jaw__book_field_of(&k->field[i], r);
        if (id > 0)
            return id;
    }
    return 0;
}

static bool may_link(jaw__import *im, const jaw__row *row,
                     const jaw_book_record *r)
{
    long long other = r->undoes > 0    ? r->undoes
                      : r->part_of > 0 ? r->part_of
                                       : names(r);

    if (r->undoes > 0 && !is_whole(im, r->undoes)) {
        jaw__import_wrong(im, row->place,
                          "an undo names an earlier entry, of those that were "
                          "written together the first",
                          "there is no entry %lld that could be undone",
                          r->undoes);
        return false;
    }
    if (r->part_of > 0 && !is_whole(im, r->part_of)) {
        jaw__import_wrong(im, row->place,
                          "it names an earlier entry that holds and is no part "
                          "of another",
                          "there is no entry %lld that this could be part of",
                          r->part_of);
        return false;
    }
    if (r->id == 0 && other > 0) {
        jaw__import_wrong(im, row->place,
                          "import it with all numbers, into a book of its own; "
                          "or leave out what names the other",
                          "it names entry %lld, and without numbers nobody "
                          "knows which one that is here",
                          other);
        return false;
    }
    return true;
}

static void put_record(jaw__import *im, const jaw__row *row,
                       jaw_book_record *r)
{
    jaw_status status = JAW_OK;
    long long before;

    if (!is_new(im, row, r) || !may_link(im, row, r))
        return;
    if (r->id == 0)
        status = jaw__book_clock(im->book, r, &before);
    if (status == JAW_OK)
        status = jaw__book_put(im->book, r);
    if (status == JAW_OK)
        im->added++;
    stop(im, status);
}

bool jaw__import_row(jaw__import *im, const jaw__row *row)
{
    jaw_book_record r = {0};
    char subject[JAW_BOOK_SUBJECT_SIZE];

    im->rows++;
    if (read_record(im, row, &r, subject, sizeof subject))
        put_record(im, row, &r);
    free((void *)r.reading);
    return im->mistakes < JAW__MISTAKES_MAX && !im->ended;
}

bool jaw__import_count(jaw__import *im, const char *text)
{
    return read_whole(text, 0, LLONG_MAX, &im->entries);
}

/* Of a file that was cut off between two rows nothing else shows it. */
static void check_count(jaw__import *im)
{
    if (im->status == JAW_OK && im->rows < im->entries)
        jaw__import_wrong(im, (jaw_place){1, 0, 0},
                          "take the whole file; where rows were taken out on "
                          "purpose, take the count out of the first line",
                          "the first line says %lld entries, and %lld are "
                          "there",
                          im->entries, im->rows);
}

jaw_status jaw_book_import(jaw_book *book, const char *text, size_t len,
                           const char *name, long long at, long long *added,
                           long long *held)
{
    jaw__import im = {.book = book, .text = text, .len = len, .name = name,
                      .at = at, .entries = -1};
    size_t blank = 0;
    jaw_status status = jaw__book_begin(book);

    if (status != JAW_OK)
        return status;
    jaw__columns_fill(&im.columns);
    while (blank < len && strchr(" \t\r\n", text[blank]) != NULL)
        blank++;
    if (blank < len && text[blank] == '{')
        jaw__import_json(&im);
    else
        jaw__import_csv(&im);
    check_count(&im);
    if (im.status != JAW_OK) {
        jaw__book_back(book);
        return im.status;
    }
    status = jaw__book_commit(book, 0);
    if (status == JAW_OK) {
        *added = im.added;
        *held = im.held;
    }
    return status;
}
