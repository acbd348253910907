/* SPDX-License-Identifier: GPL-3.0-or-later */
/* book.h: what the files of src/book share. */
#ifndef JAW__BOOK_H
#define JAW__BOOK_H

#include <jawline/book.h>

#include <sqlite3.h>

#include "messages.h"

/* In the header of the file (sqlite.org/fileformat2.html, 1.3): "JawL". */
#define JAW__BOOK_MARK 0x4a61774c
/* The tables that this version knows; kinds.h says what came with which. */
#define JAW__BOOK_VERSION 3

struct jaw_book {
    sqlite3 *db;
    jaw_notes *notes;
    char *path;
    int patience;          /* ms */
    long long waits_since; /* ms, of a clock that only goes forward */

    char *text[16];     /* of jaw_book_find and _get, copied */
    size_t n_texts;
    double *reading;
};

/* ---------------------------------------------------------------- messages */

/* jaw__book_say: adds a note; returns the status of that message. */
jaw_status jaw__book_say(const jaw_book *book, enum jaw__book_message id, ...);
/* jaw__book_say_at: the same at a place of a setup, to its notes. */
jaw_status jaw__book_say_at(jaw_notes *notes, jaw_place place,
                            enum jaw__book_message id, ...);
/* jaw__book_failed: what a result code of SQLite means, said. */
jaw_status jaw__book_failed(const jaw_book *book, int code);

/* ------------------------------------------------------------------- kinds */

typedef enum jaw__field_type {
    JAW__REAL, /* double; NaN is NULL */
    JAW__INT,  /* int */
    JAW__ID,   /* long long */
    JAW__BOOL,
    JAW__TEXT, /* const char *, never NULL */
    JAW__WORD  /* an enum, kept as its word */
} jaw__field_type;

typedef struct jaw__field {
    const char *name;
    jaw__field_type type;
    size_t offset; /* in jaw_book_record */
    int since;     /* version of the tables that it came with */
    const char *(*word)(unsigned value); /* JAW__WORD */
} jaw__field;

typedef struct jaw__kind {
    const jaw__field *field;
    size_t n_fields;
    int since;
} jaw__kind;

extern const jaw__kind jaw__book_kinds[JAW_BOOK_KINDS];

/* jaw__book_kind_find: by its word; JAW_BOOK_KINDS when unknown. */
jaw_book_kind jaw__book_kind_find(const char *word);

/* jaw__book_field_at: where a field of a record stands. */
void *jaw__book_field_at(const jaw__field *field, jaw_book_record *record);
const void *jaw__book_field_of(const jaw__field *field,
                          const jaw_book_record *record);
/* jaw__word_value: which value has that word; -1: none.  words ends at NULL. */
int jaw__word_value(const char *(*word)(unsigned value), const char *text);
/* jaw__book_blank: every field of a kind not known. */
void jaw__book_blank(jaw_book_kind kind, jaw_book_record *record);

/* jaw__book_subject: the subject that follows from the rest of a record;
 * JAW_BOOK_SUBJECT_SIZE is enough.  JAW_EUNKNOWN: it does not follow. */
jaw_status jaw__book_subject(const jaw_book_record *record, char *subject,
                             size_t size);

/* jaw__book_wrong: what is wrong with a record; NULL: nothing. */
const char *jaw__book_wrong(const jaw_book_record *record);

/* jaw__book_figure: a value of a setup and what it is worth; all NaN when the
 * value is. */
jaw_figure jaw__book_figure(double value, const jaw_value_trust *trust);

/* jaw__book_dof: the degrees of freedom with which Student's t over u is the
 * 95 % interval of a figure, at most its own; INFINITY where u is 0. */
double jaw__book_dof(const jaw_figure *figure);

/* jaw__book_figure_spread: the standard uncertainty that a normal distribution
 * with the same 95 % interval has. */
double jaw__book_figure_spread(const jaw_figure *figure);

/* -------------------------------------------------------------- statements */

/* jaw__book_prepare: NULL after telling.  jaw__book_run: one that gives no
 * rows. */
sqlite3_stmt *jaw__book_prepare(jaw_book *book, const char *sql,
                                jaw_status *status);
jaw_status jaw__book_run(jaw_book *book, const char *sql);
/* jaw__book_bind: a text that lives until the statement is finalized. */
int jaw__book_bind(sqlite3_stmt *stmt, int i, const char *text);
/* jaw__book_done: one that was bound and gives no rows; finalizes it. */
jaw_status jaw__book_done(jaw_book *book, sqlite3_stmt *stmt);
/* jaw__book_number: one whole number, by statement and the parameter that it
 * may have. */
jaw_status jaw__book_number(jaw_book *book, const char *sql, long long a,
                            long long *value);

/* jaw__book_file: the path, so that SQLite takes it for a file (":memory:" and
 * the like are none); malloc'd, NULL when out of memory. */
char *jaw__book_file(const char *path);

/* jaw__book_migrate: brings the tables up to JAW__BOOK_VERSION. */
jaw_status jaw__book_migrate(jaw_book *book);

/* jaw__book_forget: frees what jaw_book_find or _get gave last. */
void jaw__book_forget(jaw_book *book);

/* A transaction that may write; jaw__book_commit tells, and rolls back, when
 * it can not be finished: `last` is an entry by which it is seen afterwards
 * whether it was. */
jaw_status jaw__book_begin(jaw_book *book);
jaw_status jaw__book_commit(jaw_book *book, long long last);
void jaw__book_back(jaw_book *book);

/* jaw__book_put: inside a transaction: one checked record, under its id when
 * that is not 0, undo not minded. */
jaw_status jaw__book_put(jaw_book *book, jaw_book_record *record);
/* jaw__book_add_now: checked records in a transaction of their own, of which
 * the others are part of the first; the clock is compared with the entry before
 * (jaw__book_clock), an undo's choice made (jaw__book_undoable: 0 is the
 * newest; of what was written together the first). */
jaw_status jaw__book_add_now(jaw_book *book, jaw_book_record record[],
                             size_t n);
jaw_status jaw__book_clock(jaw_book *book, jaw_book_record *record,
                           long long *before);
jaw_status jaw__book_undoable(jaw_book *book, long long *id);
/* jaw__book_flip: entry `id` holds no longer, or again; what it undid, the
 * other way round. */
jaw_status jaw__book_flip(jaw_book *book, long long id, bool holds);
/* jaw__book_is_undone: whether entry `id` does not hold; records that were read
 * live on. */
jaw_status jaw__book_is_undone(jaw_book *book, long long id, bool *undone);

/* Whether an entry, by its name in a statement, holds no longer. */
#define JAW__UNDONE(entry)                                                     \
    "EXISTS (SELECT 1 FROM undone d WHERE d.id = " #entry ".id)"

/* jaw__book_each: records of a statement over `entry e` whose columns are
 * JAW__ENTRY_COLUMNS; finalizes it. */
#define JAW__ENTRY_COLUMNS                                                     \
    "e.id, e.at, e.kind, e.machine, e.subject, e.undoes, e.doubts, "           \
    "e.part_of, " JAW__UNDONE(e)
jaw_status jaw__book_each(jaw_book *book, sqlite3_stmt *stmt,
                          jaw_book_take take, void *user);

/* jaw__book_near: of all of a kind on the machine that are not among those
 * given, one with nearly that name; "": there is none, or the name itself is
 * there. */
jaw_status jaw__book_near(jaw_book *book, jaw_book_kind kind,
                          const char *machine, const jaw_book_record given[],
                          size_t n, const char *subject,
                          char name[JAW_BOOK_NAME_SIZE]);

/* jaw__book_doubt_words: "clock-back changed", in text[size >= 200];
 * jaw__book_doubt_bits: the other way; false for a word that does not exist. */
void jaw__book_doubt_words(unsigned doubts, char *text, size_t size);
bool jaw__book_doubt_bits(const char *text, unsigned *doubts);

/* jaw__book_time: "2026-03-02 08:15:00" UTC; 32 characters are enough. */
void jaw__book_time(long long at, char *text, size_t size);

#endif
