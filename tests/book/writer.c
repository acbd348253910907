/* SPDX-License-Identifier: GPL-3.0-or-later */
/* writer.c: what the scripts beside it run.
 *
 *   writer write BOOK N SEED   writes N entries (0: without end) of each kind in
 *                              turn, each reported on stdout as `ID VALUE` once
 *                              it is written
 *   writer check BOOK REPORT   integrity; every reported entry is there with
 *                              its value and its three readings, and every
 *                              entry that is there is whole
 *   writer one BOOK            opens, writes one entry, reports it; exit 3 and
 *                              the message when that fails
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

/* Where the value of an entry stands; NULL: it has none. */
static double *value_of(jaw_book_record *r)
{
    switch (r->kind) {
    case JAW_BOOK_MACHINE: return &r->as.machine.step;
    case JAW_BOOK_HEIGHT: return &r->as.height.value;
    case JAW_BOOK_LENGTH: return &r->as.length.value;
    case JAW_BOOK_DIAMETER: return &r->as.diameter.value;
    default: return NULL;
    }
}

/* What the kind asks for; the rest is 0. */
static void fill(jaw_book_record *r, int number, char subject[100])
{
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
        jaw_book_tool_subject(number, "", NULL, subject, 100);
        break;
    default:
        r->as.length = (jaw_book_length){
            .number = number, .holder = "", .text = "", .datum = "",
            .on = "setter", .through = "", .dof = 1, .repeat_dof = 1};
        jaw_book_tool_subject(number, "", "", subject, 100);
    }
}

static jaw_status write_one(jaw_book *book, int i, double value, long long *id)
{
    static const jaw_book_kind kinds[] = {JAW_BOOK_LENGTH, JAW_BOOK_DIAMETER,
                                          JAW_BOOK_LENGTH, JAW_BOOK_HEIGHT,
                                          JAW_BOOK_MACHINE};
    char subject[100] = "";
    double readings[3] = {value - 1, value, value + 1};
    jaw_book_record r = {.kind = kinds[i % 5], .machine = "mill",
                         .subject = subject, .reading = readings,
                         .n_readings = 3};
    fill(&r, i % 20 + 1, subject);
    *value_of(&r) = value;
    return jaw_book_add(book, &r, id);
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

static bool is_whole(void *user, const jaw_book_record *r)
{
    jaw_book_record copy = *r;
    const double *v = value_of(&copy);
    bool whole = v != NULL && r->n_readings == 3 && r->reading[0] == *v - 1 &&
                 r->reading[1] == *v && r->reading[2] == *v + 1;
    if (!whole) {
        printf("entry %lld is not whole\n", r->id);
        *(bool *)user = false;
    }
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
    bool whole = true;
    FILE *f = fopen(report, "r");
    jaw_status status = jaw_book_open(path, JAW_BOOK_READ, notes, &book);
    if (f == NULL)
        return 4;
    if (status == JAW_ENOBOOK) /* killed before anything was written */
        return fgetc(f) == EOF ? 0 : 3;
    if (status != JAW_OK || jaw_book_check(book, NULL) != JAW_OK ||
        jaw_book_log(book, 0, is_whole, &whole) != JAW_OK || !whole ||
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

static int run_one(const char *path)
{
    jaw_book *book;
    long long id;
    if (jaw_book_open(path, JAW_BOOK_WRITE, notes, &book) != JAW_OK)
        return 3;
    jaw_status status = write_one(book, 5, 60, &id);
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
    else if (argc == 3 && strcmp(argv[1], "one") == 0)
        answer = run_one(argv[2]);
    else if (argc == 3 && strcmp(argv[1], "count") == 0)
        answer = run_count(argv[2]);
    tell();
    jaw_notes_free(notes);
    return answer;
}
