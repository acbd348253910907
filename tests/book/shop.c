/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shop.c: a shop to write down. */
#include "book_tests.h"

#include "src/book/book.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

void shop_begin(shop *s)
{
    strcpy(s->folder, "/tmp/jawline-book-XXXXXX");
    ck_assert_ptr_nonnull(mkdtemp(s->folder));
    snprintf(s->path, sizeof s->path, "%s/book.sqlite", s->folder);
    s->notes = jaw_notes_alloc();
    s->book = NULL;
    shop_reopen(s, JAW_BOOK_WRITE);
    shop_said(s, "a new book was made");
    jaw_notes_free(s->notes);
    s->notes = jaw_notes_alloc();
    shop_reopen(s, JAW_BOOK_WRITE);
}

void shop_end(shop *s)
{
    char command[128];

    jaw_book_close(s->book);
    jaw_notes_free(s->notes);
    snprintf(command, sizeof command, "rm -rf '%s'", s->folder);
    ck_assert_int_eq(system(command), 0);
}

void shop_reopen(shop *s, jaw_book_use use)
{
    jaw_book_close(s->book);
    jaw_notes_free(s->notes);
    s->notes = jaw_notes_alloc();
    ck_assert_int_eq(jaw_book_open(s->path, use, s->notes, &s->book), JAW_OK);
}

long long shop_time(int minutes)
{
    return 1772434800000LL + 60000LL * minutes;
}

jaw_book_record shop_length(int number, double value, int minutes)
{
    static double readings[3];
    static char subject[JAW_BOOK_SUBJECT_SIZE];
    jaw_book_record r = {.kind = JAW_BOOK_LENGTH, .machine = "mill",
                         .at = shop_time(minutes), .reading = readings,
                         .n_readings = 3};

    readings[0] = value - 150.001;
    readings[1] = value - 150.0;
    readings[2] = value - 149.999;
    ck_assert_int_eq(jaw_book_tool_subject(number, "", "", subject,
                                           sizeof subject), JAW_OK);
    r.subject = subject;
    r.as.length = (jaw_book_length){
        .number = number, .holder = "", .text = "3/8 ball mill", .datum = "",
        .on = "setter", .through = "", .value = value, .u = 0.6e-3, .dof = 2,
        .half95 = 2.6e-3, .repeat = 1e-3, .repeat_dof = 2, .known = 0.3e-3};
    return r;
}

void shop_setup(const char *title, double x, int minutes,
                jaw_book_record r[SHOP_SETUP])
{
    static const char *const subject[] = {NULL, "G54", "G55", "H3"};
    const jaw_figure none = jaw_figure_make((double)NAN, 0, 0);

    for (int i = 0; i < SHOP_SETUP; i++)
        r[i] = (jaw_book_record){.kind = JAW_BOOK_ZERO, .machine = "mill",
                                 .subject = i > 0 ? subject[i] : title,
                                 .at = shop_time(minutes)};
    r[0].kind = JAW_BOOK_SETUP;
    r[0].as.setup = (jaw_book_setup){
        .file = "plate.jaw", .sheet = "title  Plate\n", .included = "",
        .report = "Plate\n\nEnter on the control, mm\n", .turns = true,
        .step = 1e-3, .angle_step = 1e-6};
    for (int i = 1; i < 3; i++)
        r[i].as.zero = (jaw_book_zero){
            .setup = JAW_BOOK_FIRST, .step = 1e-3, .angle_step = 1e-6,
            .at = {jaw_figure_make(x + 100 * i, 2e-3, 4),
                   jaw_figure_make(-200.0 / 3, 1e-3, (double)INFINITY), none,
                   jaw_figure_make(1e-3 / 3, 1e-5, 4)}};
    r[3].kind = JAW_BOOK_OFFSET;
    r[3].as.offset = (jaw_book_offset){
        .setup = JAW_BOOK_FIRST, .number = 3, .text = "3/8 ball mill",
        .length = jaw_figure_make(60.0 / 7, 2e-3, 3), .step = 1e-3};
}

jaw_book_record shop_machine(const char *name)
{
    const double nan = (double)NAN;
    jaw_book_record m = {.kind = JAW_BOOK_MACHINE, .machine = name,
                         .subject = "", .at = shop_time(0)};

    m.as.machine = (jaw_book_machine){.step = 1e-3, .decimals = 3,
                                      .low = {nan, nan, -400},
                                      .high = {nan, nan, 0}, .seat = nan};
    return m;
}

jaw_book_record shop_height(const char *name, double value, double u,
                            int minutes)
{
    jaw_book_record h = {.kind = JAW_BOOK_HEIGHT, .machine = "mill",
                         .subject = name, .at = shop_time(minutes)};

    h.as.height = (jaw_book_height){
        .value = value, .u = u, .dof = (double)INFINITY,
        .half95 = 1.959963984540054 * u, .length = (double)NAN,
        .length_u = (double)NAN};
    return h;
}

jaw_book_record shop_block(const char *name, double value, double u,
                           int minutes)
{
    jaw_book_record b = shop_height(name, value, u, minutes);

    b.machine = "";
    b.as.height.block = true;
    return b;
}

jaw_book_touch shop_touch(int number, const double reading[], size_t n)
{
    return (jaw_book_touch){.machine = "mill", .number = number, .holder = "",
                            .text = "", .on = "setter", .through = "",
                            .reading = reading, .n = n,
                            .repeat = (double)NAN, .at = shop_time(1)};
}

long long shop_write(shop *s, jaw_book_record record)
{
    long long id = 0;

    ck_assert_int_eq(jaw_book_add(s->book, &record, &id), JAW_OK);
    return id;
}

double shop_value(shop *s, int number)
{
    char subject[JAW_BOOK_SUBJECT_SIZE];
    jaw_book_record r;

    jaw_book_tool_subject(number, "", "", subject, sizeof subject);
    jaw_status status =
        jaw_book_find(s->book, JAW_BOOK_LENGTH, "mill", subject, &r);
    ck_assert(status == JAW_OK || status == JAW_EUNKNOWN);
    return status == JAW_OK ? r.as.length.value : (double)NAN;
}

jaw_book_measured shop_measure(shop *s, const jaw_book_touch *t)
{
    jaw_book_measured m;

    ck_assert_int_eq(jaw_book_measure(s->book, t, &m), JAW_OK);
    shop_write(s, m.record);
    return m;
}

void shop_quick(const shop *s)
{
    ck_assert_int_eq(sqlite3_exec(s->book->db, "PRAGMA synchronous = OFF",
                                  NULL, NULL, NULL), SQLITE_OK);
}

/* A text that grows. */
static bool put(void *user, const char *text, size_t len)
{
    char **all = user;
    const size_t had = *all != NULL ? strlen(*all) : 0;

    *all = realloc(*all, had + len + 1);
    ck_assert_ptr_nonnull(*all);
    memcpy(*all + had, text, len);
    (*all)[had + len] = '\0';
    return true;
}

char *shop_export(const shop *s, jaw_book_form form)
{
    char *all = NULL;

    ck_assert_int_eq(jaw_book_export(s->book, form, put, &all), JAW_OK);
    ck_assert_ptr_nonnull(all);
    return all;
}

shop_solved shop_solve(const char *sheet, bool where)
{
    shop_solved v = {.setup = jaw_setup_alloc()};
    jaw_notes *notes = jaw_notes_alloc();

    ck_assert_int_eq(jaw_sheet_read_text(sheet, strlen(sheet), "sheet",
                                         v.setup, notes), JAW_OK);
    if (where)
        jaw_setup_ask_where(v.setup);
    ck_assert_int_eq(jaw_setup_solve(v.setup, notes, &v.solution), JAW_OK);
    jaw_notes_free(notes);
    return v;
}

void shop_drop(shop_solved *v)
{
    jaw_solution_free(v->solution);
    jaw_setup_free(v->setup);
}

void shop_said(const shop *s, const char *text)
{
    size_t n = jaw_notes_count(s->notes);
    char said[2000];

    ck_assert_uint_gt(n, 0);
    const jaw_note *note = jaw_notes_get(s->notes, n - 1);
    snprintf(said, sizeof said, "%s%s%s", note->what,
             *note->cure ? "; " : "", note->cure);
    ck_assert_msg(strstr(said, text) != NULL, "said: %s\nnot: %s", said, text);
}

void shop_told(const shop *s, const char *text)
{
    bool told = false;

    for (size_t i = 0; i < jaw_notes_count(s->notes); i++)
        told = told || strstr(jaw_notes_get(s->notes, i)->what, text) != NULL;
    ck_assert_msg(told, "not said: %s", text);
}

bool shop_lacked(long k, bool failed, jaw_status status)
{
    /* SQLite does without some of what it asks for */
    ck_assert_msg(status == JAW_OK || (failed && status == JAW_ENOMEM),
                  "allocation %ld: %s", k, jaw_status_text(status));
    return failed;
}

const char *shop_sql(const shop *s, const char *sql)
{
    static char text[400];
    char *said = NULL;
    sqlite3 *db;

    ck_assert_int_eq(sqlite3_open(s->path, &db), SQLITE_OK);
    sqlite3_exec(db, sql, NULL, NULL, &said);
    snprintf(text, sizeof text, "%s", said ? said : "");
    sqlite3_free(said);
    sqlite3_close(db);
    return text;
}
