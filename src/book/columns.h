/* SPDX-License-Identifier: GPL-3.0-or-later */
/* columns.h: the columns of exports: those of every entry, then the fields of
 * all kinds, each name once. */
#ifndef JAW__BOOK_COLUMNS_H
#define JAW__BOOK_COLUMNS_H

#include "book.h"

/* Columns of every entry, in this order. */
#define JAW__ENTRY_COLUMN_LIST(X)                                              \
    X(JAW__COLUMN_ENTRY, "entry")                                              \
    X(JAW__COLUMN_AT, "at")                                                    \
    X(JAW__COLUMN_KIND, "kind")                                                \
    X(JAW__COLUMN_MACHINE, "machine")                                          \
    X(JAW__COLUMN_SUBJECT, "subject")                                          \
    X(JAW__COLUMN_UNDOES, "undoes")                                            \
    X(JAW__COLUMN_PART_OF, "part_of")                                          \
    X(JAW__COLUMN_DOUBTS, "doubts")                                            \
    X(JAW__COLUMN_READINGS, "readings")

/* "entries=8": in the row of names, how many rows there are below it. */
#define JAW__COUNT_COLUMN "entries="

enum {
#define COLUMN_ENUM(id, name) id,
    JAW__ENTRY_COLUMN_LIST(COLUMN_ENUM)
#undef COLUMN_ENUM
    JAW__ENTRY_COLUMN_COUNT,
    JAW__COLUMNS_MAX = 200
};

typedef struct jaw__columns {
    const char *name[JAW__COLUMNS_MAX];
    size_t n;
} jaw__columns;

void jaw__columns_fill(jaw__columns *columns);
/* jaw__column_find: by name; n when there is none. */
size_t jaw__column_find(const jaw__columns *columns, const char *name);
/* jaw__book_field_find: the field of that name of a kind; NULL: it has none. */
const jaw__field *jaw__book_field_find(jaw_book_kind kind, const char *name);

/* One row as text: NULL is not given. */
typedef struct jaw__row {
    const char *cell[JAW__COLUMNS_MAX];
    jaw_place place;
} jaw__row;

/* An import under way. */
typedef struct jaw__import {
    jaw_book *book;
    jaw__columns columns;
    const char *text, *name;
    size_t len;
    long long at;
    long long added, held;
    long long entries; /* as its first line says; -1: it does not */
    long long rows;    /* that were looked at */
    int mistakes;
    bool ended;        /* by something else than a mistake in a row */
    jaw_status status; /* of the first mistake, or what ended it */
} jaw__import;

enum { JAW__MISTAKES_MAX = 20 }; /* then it gives up */

/* jaw__import_wrong: tells one mistake.  jaw__import_row: one row into the
 * book; false when it is to end. */
void jaw__import_wrong(jaw__import *im, jaw_place place, const char *cure,
                       const char *format, ...) JAW_PRINTF(4, 5);
bool jaw__import_row(jaw__import *im, const jaw__row *row);
/* jaw__import_count: how many entries there are to be, as text; false: it is
 * no such number. */
bool jaw__import_count(jaw__import *im, const char *text);

/* jaw__import_cure: of a name that is no column. */
typedef struct jaw__cure {
    char s[100];
} jaw__cure;
jaw__cure jaw__import_cure(const jaw__import *im, const char *name);

/* The two forms; each calls jaw__import_row. */
void jaw__import_csv(jaw__import *im);
void jaw__import_json(jaw__import *im);

/* jaw__digits: every digit of a number, whatever the locale: "inf" too; ""
 * for NaN.  text[32] is enough. */
void jaw__digits(double value, char *text, size_t size);

#endif
