/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fuzz_book.c: any bytes at all as an export that is imported; or, behind a byte
 * 1, as damage to the file of a book: each four bytes further are a place (three
 * bytes, high first) and what stands there now.  Nothing may crash, leak or
 * hang, and what book.h promises is checked here for every input.
 *
 *   clang -fsanitize=fuzzer,address,undefined: searches on its own (.ci/run)
 *   replay.c: goes through the corpus and its neighbours (make check) */
#include "fuzz.h"

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "src/book/book.h"

/* The files of an empty and of a small book. */
typedef struct file {
    char *bytes;
    size_t len;
} file;

static char folder[64], path[100], journal[120];
static file empty, small;

static void clean_up(void)
{
    remove(path);
    remove(journal);
    remove(folder);
    free(empty.bytes);
    free(small.bytes);
}

/* Nothing here is about disks. */
static jaw_book *open_it(jaw_notes *notes)
{
    jaw_book *book;

    if (jaw_book_open(path, JAW_BOOK_WRITE, notes, &book) != JAW_OK)
        return NULL;
    sqlite3_exec(book->db, "PRAGMA synchronous = OFF", NULL, NULL, NULL);
    return book;
}

static void add_length(jaw_book *book, int number, double value)
{
    char subject[100];
    double reading[2] = {value - 250, value - 249.5};
    long long id;
    jaw_book_record r = {.kind = JAW_BOOK_LENGTH, .machine = "mill",
                         .subject = subject, .at = 1772434800000LL,
                         .reading = reading, .n_readings = 2};

    r.as.length = (jaw_book_length){
        .number = number, .holder = "", .text = "end mill", .datum = "",
        .on = "setter", .through = "", .value = value, .u = 1e-3, .dof = 5,
        .half95 = 2e-3, .repeat = 1e-3, .repeat_dof = 5};
    MUST(jaw_book_tool_subject(number, "", "", subject, sizeof subject) ==
         JAW_OK);
    MUST(jaw_book_add(book, &r, &id) == JAW_OK);
}

static file take_file(void)
{
    file got = {calloc(1, 1 << 20), 0};
    FILE *f = fopen(path, "rb");

    MUST(f != NULL && got.bytes != NULL);
    got.len = fread(got.bytes, 1, 1 << 20, f);
    fclose(f);
    return got;
}

/* Every input begins with the same file; the places of the damage lie in it. */
static void put_file(file it, const uint8_t *data, size_t size)
{
    FILE *f = fopen(path, "wb");

    remove(journal);
    MUST(f != NULL && fwrite(it.bytes, 1, it.len, f) == it.len);
    for (size_t i = 0; i + 4 <= size; i += 4) {
        size_t at = ((size_t)data[i] << 16 | (size_t)data[i + 1] << 8 |
                     data[i + 2]) % it.len;
        MUST(fseek(f, (long)at, SEEK_SET) == 0 && fputc(data[i + 3], f) >= 0);
    }
    MUST(fclose(f) == 0);
}

static void begin(void)
{
    strcpy(folder, "/tmp/jawline-fuzz-XXXXXX");
    MUST(mkdtemp(folder) != NULL);
    snprintf(path, sizeof path, "%s/book", folder);
    snprintf(journal, sizeof journal, "%s-journal", path);
    atexit(clean_up);
    jaw_book *book = open_it(NULL);
    MUST(book != NULL);
    jaw_book_close(book);
    empty = take_file();
    book = open_it(NULL);
    for (int i = 0; i < 12; i++)
        add_length(book, i % 5 + 1, 50 + i);
    MUST(jaw_book_undo(book, 0, 0, NULL) == JAW_OK);
    jaw_book_close(book);
    small = take_file();
}

/* ------------------------------------------------------------------- import */

static bool put(void *user, const char *text, size_t len)
{
    (void)user;
    return text != NULL && len < (size_t)1 << 30;
}

static void check_notes(const jaw_notes *notes, jaw_status status)
{
    MUST((status == JAW_OK) == (jaw_notes_at_least(notes, JAW_ERROR) == 0));
    for (size_t i = 0; i < jaw_notes_count(notes); i++)
        MUST(jaw_notes_get(notes, i)->what[0] != '\0');
}

/* All of it or nothing. */
static void try_import(const char *text, size_t len)
{
    put_file(empty, NULL, 0);
    jaw_notes *notes = jaw_notes_alloc();
    jaw_book *book = open_it(notes);
    long long after, added = -1, held = -1;

    MUST(notes != NULL && book != NULL);
    jaw_status status = jaw_book_import(book, text, len, "any", 1772434800000LL,
                                        &added, &held);
    MUST(status == JAW_OK || status == JAW_ESYNTAX || status == JAW_EDOMAIN ||
         status == JAW_ECONFLICT);
    check_notes(notes, status);
    MUST(jaw__book_number(book, "SELECT count(*) FROM entry", 0, &after) ==
         JAW_OK);
    MUST(after == (status == JAW_OK ? added : 0));
    if (status == JAW_OK) {
        MUST(jaw_book_check(book, NULL) == JAW_OK);
        MUST(jaw_book_export(book, JAW_BOOK_JSON, put, NULL) == JAW_OK);
        MUST(jaw_book_export(book, JAW_BOOK_CSV, put, NULL) == JAW_OK);
    }
    jaw_book_close(book);
    jaw_notes_free(notes);
}

/* ------------------------------------------------------------------- damage */

static bool look(void *user, const jaw_book_record *r)
{
    size_t *n = user;

    MUST(r->machine != NULL && r->subject != NULL);
    for (size_t i = 0; i < r->n_readings; i++)
        *n += r->reading[i] > 0;
    return true;
}

static void read_it(jaw_book *book)
{
    jaw_book_record r;
    size_t n = 0;

    jaw_book_check(book, NULL);
    jaw_book_log(book, 0, look, &n);
    jaw_book_current(book, JAW_BOOK_LENGTH, NULL, look, &n);
    jaw_book_history(book, JAW_BOOK_LENGTH, "mill", "1//", 0, look, &n);
    jaw_book_get(book, 3, &r);
    jaw_book_export(book, JAW_BOOK_JSON, put, NULL);
    jaw_book_export(book, JAW_BOOK_CSV, put, NULL);
}

static void try_damage(const uint8_t *data, size_t size)
{
    jaw_notes *notes = jaw_notes_alloc();
    jaw_book *book;
    double reading[] = {-190, -190.001};
    jaw_book_touch t = {.machine = "mill", .number = 3, .holder = "",
                        .text = "", .on = "setter", .through = "",
                        .reading = reading, .n = 2, .repeat = 1e-3};
    jaw_book_measured m;
    long long id;

    put_file(small, data, size);
    if (jaw_book_open(path, JAW_BOOK_READ, notes, &book) == JAW_OK)
        read_it(book);
    jaw_book_close(book);
    book = open_it(notes);
    if (book != NULL && jaw_book_measure(book, &t, &m) == JAW_OK)
        jaw_book_add(book, &m.record, &id);
    if (book != NULL)
        jaw_book_undo(book, 2, 0, NULL);
    jaw_book_close(book);
    jaw_notes_free(notes);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static bool begun;

    if (!begun)
        begin();
    begun = true;
    if (size > 0 && data[0] == 1) {
        try_damage(data + 1, size - 1);
        return 0;
    }
    char *text = malloc(size + 1);
    MUST(text != NULL);
    if (size > 0)
        memcpy(text, data, size);
    try_import(text, size);
    free(text);
    return 0;
}
