/* SPDX-License-Identifier: GPL-3.0-or-later */
/* writer.c: what the scripts beside it run.
 *
 *   writer write BOOK N SEED   writes N times (0: without end) of each kind in
 *                              turn, each reported on stdout as `ID VALUE` once
 *                              it is written
 *   writer check BOOK REPORT   integrity; every reported entry is there with
 *                              its value, and every entry that is there is
 *                              whole: with its three readings, a setup with
 *                              its zero and its offset
 *   writer one BOOK KIND       opens, writes once, of the kind KIND (0 and up),
 *                              reports it; exit 3 and the message when that
 *                              fails
 *   writer count BOOK          how many entries, after checking it
 */
#include <jawline.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static jaw_notes *notes;

static void tell(void)
{
    const jaw_note *note;
    for (size_t i = 0; (note = jaw_notes_get(notes, i)) != NULL; i++)
        fprintf(stderr, "%s%s%s\n", note->what, *note->cure ? "; " : "",
                note->cure);
}

/* What is written in turn; a setup with a zero and an offset, together. */
static const jaw_book_kind kinds[] = {
    JAW_BOOK_LENGTH, JAW_BOOK_DIAMETER, JAW_BOOK_MARK,    JAW_BOOK_HEIGHT,
    JAW_BOOK_SETUP,  JAW_BOOK_MACHINE,  JAW_BOOK_FIXTURE, JAW_BOOK_LENGTH,
    JAW_BOOK_TIP,    JAW_BOOK_ENTERED};
enum { KINDS = sizeof kinds / sizeof *kinds, TOGETHER = 3, READINGS = 3 };

/* Where the value of an entry stands; NULL: it has none. */
static double *value_of(jaw_book_record *r)
{
    switch (r->kind) {
    case JAW_BOOK_MACHINE: return &r->as.machine.step;
    case JAW_BOOK_HEIGHT: return &r->as.height.value;
    case JAW_BOOK_LENGTH: return &r->as.length.value;
    case JAW_BOOK_DIAMETER: return &r->as.diameter.value;
    case JAW_BOOK_MARK: return &r->as.mark.at[0].value;
    case JAW_BOOK_FIXTURE: return &r->as.fixture.at[0].value;
    case JAW_BOOK_TIP: return &r->as.tip.value;
    case JAW_BOOK_ENTERED: return &r->as.entered.shown;
    case JAW_BOOK_SETUP: return &r->as.setup.step;
    case JAW_BOOK_ZERO: return &r->as.zero.at[0].value;
    case JAW_BOOK_OFFSET: return &r->as.offset.length.value;
    default: return NULL;
    }
}

static bool has_readings(jaw_book_kind kind)
{
    return kind != JAW_BOOK_ENTERED && kind != JAW_BOOK_SETUP &&
           kind != JAW_BOOK_ZERO && kind != JAW_BOOK_OFFSET;
}

static void fill_places(jaw_figure at[], int n)
{
    for (int i = 0; i < n; i++)
        at[i] = jaw_figure_make(i, 1e-3, 4);
}

static void fill_setup(jaw_book_record r[TOGETHER], double value)
{
    r[1] = r[2] = r[0];
    r[0].subject = "plate";
    r[0].as.setup = (jaw_book_setup){
        .file = "plate.jaw", .sheet = "title  plate\n", .included = "",
        .report = "plate\n", .step = value, .angle_step = 1e-6};
    r[1].kind = JAW_BOOK_ZERO;
    r[1].subject = "G54";
    r[1].as.zero = (jaw_book_zero){.setup = JAW_BOOK_FIRST, .step = 1e-3,
                                   .angle_step = 1e-6};
    fill_places(r[1].as.zero.at, 4);
    r[2].kind = JAW_BOOK_OFFSET;
    r[2].subject = "H3";
    r[2].as.offset = (jaw_book_offset){.setup = JAW_BOOK_FIRST, .number = 3,
                                       .text = "", .step = 1e-3};
    fill_places(&r[2].as.offset.length, 1);
}

/* What the kind asks for; the rest is 0. */
static void fill(jaw_book_record *r, int number,
                 char subject[JAW_BOOK_SUBJECT_SIZE])
{
    const double nan = strtod("nan", NULL);

    switch (r->kind) {
    case JAW_BOOK_MACHINE:
        r->as.machine.decimals = -1;
        for (int i = 0; i < 3; i++)
            r->as.machine.high[i] = 1;
        break;
    case JAW_BOOK_HEIGHT:
        r->as.height.dof = 1;
        strcpy(subject, "setter");
        break;
    case JAW_BOOK_DIAMETER:
        r->as.diameter.number = number;
        r->as.diameter.holder = "";
        r->as.diameter.dof = r->as.diameter.repeat_dof = 1;
        jaw_book_tool_subject(number, "", NULL, subject,
                              JAW_BOOK_SUBJECT_SIZE);
        break;
    case JAW_BOOK_MARK:
        strcpy(subject, "post");
        r->as.mark = (jaw_book_mark){.feature = "bore"};
        fill_places(r->as.mark.at, 3);
        r->as.mark.direction = jaw_figure_make(nan, 0, 0);
        break;
    case JAW_BOOK_FIXTURE:
        strcpy(subject, "vise");
        r->as.fixture = (jaw_book_fixture){
            .text = "", .jaw_width = nan, .jaw_height = nan, .opening = nan,
            .parallels = nan};
        fill_places(r->as.fixture.at, 4);
        break;
    case JAW_BOOK_TIP:
        strcpy(subject, "stylus");
        r->as.tip = (jaw_book_tip){
            .shape = JAW_TIP_BALL, .on = "ring", .size = 50, .size_2 = nan,
            .dof = 1, .repeat_dof = 1, .length = nan, .length_u = nan,
            .columns = 3};
        break;
    case JAW_BOOK_ENTERED:
        strcpy(subject, "G54 X");
        r->as.entered = (jaw_book_entered){.title = "plate", .name = "G54",
                                           .wanted = 1, .step = 1e-3};
        break;
    default:
        r->as.length = (jaw_book_length){
            .number = number, .holder = "", .text = "", .datum = "",
            .on = "setter", .through = "", .dof = 1, .repeat_dof = 1};
        jaw_book_tool_subject(number, "", "", subject,
                              JAW_BOOK_SUBJECT_SIZE);
    }
}

static jaw_status write_one(jaw_book *book, int i, double value, long long *id)
{
    char subject[JAW_BOOK_SUBJECT_SIZE] = "";
    double readings[READINGS] = {value - 1, value, value + 1};
    jaw_book_record r[TOGETHER] = {
        {.kind = kinds[i % KINDS], .machine = "mill", .subject = subject}};
    size_t n = 1;

    if (has_readings(r->kind)) {
        r->reading = readings;
        r->n_readings = READINGS;
    }
    if (r->kind == JAW_BOOK_SETUP) {
        fill_setup(r, value);
        n = TOGETHER;
    } else {
        fill(r, i % 20 + 1, subject);
    }
    for (size_t k = 0; k < n; k++)
        *value_of(&r[k]) = value;
    return jaw_book_add_all(book, r, n, id);
}

static int run_write(const char *path, long n, unsigned seed)
{
    jaw_book *book;
    if (jaw_book_open(path, JAW_BOOK_WRITE, notes, &book) != JAW_OK)
        return 3;
    jaw_book_patience(book, 60000);
    for (long i = 0; n == 0 || i < n; i++) {
        long long id;
        char line[64];
        double value = 50 + (double)((seed * 7919u + (unsigned)i) % 1000) / 8;
        if (write_one(book, (int)i, value, &id) != JAW_OK)
            return 3;
        int len = snprintf(line, sizeof line, "%lld %.3f\n", id, value);
        if (write(STDOUT_FILENO, line, (size_t)len) != len)
            return 4;
    }
    jaw_book_close(book);
    return 0;
}

/* All of the log, newest first: what follows the entry that is looked at. */
typedef struct log_seen {
    bool whole;
    jaw_book_kind kind[2];
    long long part_of[2];
} log_seen;

/* A setup, its zero and its offset stand behind one another, and none alone. */
static bool is_complete(const log_seen *l, const jaw_book_record *r)
{
    switch (r->kind) {
    case JAW_BOOK_SETUP:
        return l->kind[0] == JAW_BOOK_ZERO && l->kind[1] == JAW_BOOK_OFFSET &&
               l->part_of[0] == r->id && l->part_of[1] == r->id;
    case JAW_BOOK_ZERO:
        return r->part_of > 0 && l->kind[0] == JAW_BOOK_OFFSET &&
               l->part_of[0] == r->part_of;
    default:
        return l->part_of[0] == 0 || l->kind[0] == JAW_BOOK_SETUP;
    }
}

static bool is_whole(void *user, const jaw_book_record *r)
{
    log_seen *l = user;
    jaw_book_record copy = *r;
    const double *v = value_of(&copy);
    bool whole = v != NULL && is_complete(l, r);

    if (whole && has_readings(r->kind))
        whole = r->n_readings == READINGS && r->reading[0] == *v - 1 &&
                r->reading[1] == *v && r->reading[2] == *v + 1;
    if (!whole) {
        printf("entry %lld is not whole\n", r->id);
        l->whole = false;
    }
    l->kind[1] = l->kind[0];
    l->kind[0] = r->kind;
    l->part_of[1] = l->part_of[0];
    l->part_of[0] = r->part_of;
    return true;
}

static bool reported_are_there(jaw_book *book, FILE *report)
{
    long long id, n = 0;
    double value;
    jaw_book_record r;
    while (fscanf(report, "%lld %lf", &id, &value) == 2) {
        if (jaw_book_get(book, id, &r) != JAW_OK ||
            value_of(&r) == NULL || *value_of(&r) != value) {
            printf("entry %lld was reported and is not there\n", id);
            return false;
        }
        n++;
    }
    printf("%lld reported, all there\n", n);
    return true;
}

static int run_check(const char *path, const char *report)
{
    jaw_book *book;
    log_seen seen = {.whole = true};
    FILE *f = fopen(report, "r");
    jaw_status status = jaw_book_open(path, JAW_BOOK_READ, notes, &book);
    if (f == NULL)
        return 4;
    if (status == JAW_ENOBOOK) /* killed before anything was written */
        return fgetc(f) == EOF ? 0 : 3;
    if (status != JAW_OK || jaw_book_check(book, NULL) != JAW_OK ||
        jaw_book_log(book, 0, is_whole, &seen) != JAW_OK || !seen.whole ||
        seen.part_of[0] != 0 ||
        !reported_are_there(book, f))
        return 3;
    fclose(f);
    jaw_book_close(book);
    return 0;
}

static int run_count(const char *path)
{
    jaw_book *book;
    long long n = 0;
    if (jaw_book_open(path, JAW_BOOK_READ, notes, &book) != JAW_OK ||
        jaw_book_check(book, &n) != JAW_OK)
        return 3;
    jaw_book_close(book);
    printf("%lld\n", n);
    return 0;
}

static int run_one(const char *path, int kind)
{
    jaw_book *book;
    long long id;
    if (jaw_book_open(path, JAW_BOOK_WRITE, notes, &book) != JAW_OK)
        return 3;
    jaw_status status = write_one(book, kind, 60, &id);
    jaw_book_close(book);
    if (status == JAW_OK)
        printf("%lld 60.000\n", id);
    return status == JAW_OK ? 0 : 3;
}

int main(int argc, char *argv[])
{
    int answer = 4;
    notes = jaw_notes_alloc();
    if (argc == 5 && strcmp(argv[1], "write") == 0)
        answer = run_write(argv[2], atol(argv[3]), (unsigned)atoi(argv[4]));
    else if (argc == 4 && strcmp(argv[1], "check") == 0)
        answer = run_check(argv[2], argv[3]);
    else if (argc == 4 && strcmp(argv[1], "one") == 0)
        answer = run_one(argv[2], atoi(argv[3]));
    else if (argc == 3 && strcmp(argv[1], "count") == 0)
        answer = run_count(argv[2]);
    tell();
    jaw_notes_free(notes);
    return answer;
}
