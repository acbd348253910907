/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench_book.c: a book of a million measurements (or as many as the first
 * argument says) and one of a hundred: opening takes the same time, the current
 * tools are listed within 50 ms, and recording a length, as a process, takes
 * less than 20 ms over the floor: an empty program, and one write of the same
 * size that is waited for on the same disk.  Run from the build folder. */
#include "process.h"

#include "src/book/book.h"

enum { RUNS = 60, TOOLS = 60 };

static char folder[] = "tests/bench/book-XXXXXX";

static void need(bool good, const char *what)
{
    if (good)
        return;
    fprintf(stderr, "bench_book: %s\n", what);
    exit(EXIT_FAILURE);
}

static void put_length(jaw_book *book, long i)
{
    char subject[JAW_BOOK_SUBJECT_SIZE];
    double value = 50 + (double)(i % TOOLS) + 1e-3 * even(-1, 1);
    double reading[2] = {value - 250, value - 249.999};
    jaw_book_record r = {.kind = JAW_BOOK_LENGTH, .machine = "mill",
                         .at = 1772434800000LL + i, .subject = subject,
                         .reading = reading, .n_readings = 2};
    r.as.length = (jaw_book_length){
        .number = (int)(i % TOOLS) + 1, .holder = "", .text = "end mill",
        .datum = "", .on = "setter", .through = "", .value = value,
        .u = 1e-3, .dof = 5, .half95 = 2e-3, .repeat = 1e-3, .repeat_dof = 5};
    jaw_book_tool_subject(r.as.length.number, "", "", subject, sizeof subject);
    need(jaw__book_wrong(&r) == NULL && jaw__book_put(book, &r) == JAW_OK,
         "a length can not be written");
}

static void fill(const char *path, long n)
{
    jaw_book *book;
    need(jaw_book_open(path, JAW_BOOK_WRITE, NULL, &book) == JAW_OK &&
             jaw__book_begin(book) == JAW_OK,
         "no book can be made");
    jaw_book_record h = {.kind = JAW_BOOK_HEIGHT, .machine = "mill", .at = 1,
                         .subject = "setter"};
    h.as.height = (jaw_book_height){.value = -250, .u = 1e-3, .dof = 5};
    need(jaw__book_put(book, &h) == JAW_OK, "no setter can be written");
    for (long i = 0; i < n; i++)
        put_length(book, i);
    need(jaw__book_commit(book, 0) == JAW_OK, "it can not be committed");
    jaw_book_close(book);
}

/* What a length changes in the file: six pages or so, waited for. */
static double written(void)
{
    static char bytes[6 * 4096];
    char path[200];
    snprintf(path, sizeof path, "%s/floor", folder);
    double begin = now();
    int fd = open(path, O_WRONLY | O_CREAT | O_TRUNC, 0666);
    need(fd >= 0 && write(fd, bytes, sizeof bytes) == sizeof bytes &&
             fsync(fd) == 0 && close(fd) == 0,
         "no file can be written");
    return now() - begin;
}

static double opening(const char *path)
{
    double t[RUNS];
    for (int i = 0; i < RUNS; i++) {
        jaw_book *book;
        double begin = now();
        need(jaw_book_open(path, JAW_BOOK_READ, NULL, &book) == JAW_OK,
             "a book does not open");
        t[i] = now() - begin;
        jaw_book_close(book);
    }
    return median(t, RUNS);
}

static bool count(void *user, const jaw_book_record *r)
{
    ++*(int *)user;
    sink = r->as.length.value;
    return true;
}

static double listing(const char *path)
{
    double t[RUNS];
    for (int i = 0; i < RUNS; i++) {
        jaw_book *book;
        int n = 0;
        double begin = now();
        need(jaw_book_open(path, JAW_BOOK_READ, NULL, &book) == JAW_OK &&
                 jaw_book_current(book, JAW_BOOK_LENGTH, "mill", count, &n) ==
                     JAW_OK && n == TOOLS,
             "the tools can not be listed");
        t[i] = now() - begin;
        jaw_book_close(book);
    }
    return median(t, RUNS);
}

static bool verdict(const char *what, double got, double most)
{
    printf("%-44s %9.3f ms (at most %.3f)%s\n", what, 1e3 * got, 1e3 * most,
           got <= most ? "" : "  TOO SLOW");
    return got <= most;
}

int main(int argc, char *argv[])
{
    static char tool[] = "tool", number[] = "7", reading[] = "-194.001";
    static double recording[RUNS], listed[RUNS], nothing[RUNS], floor_[RUNS];
    static double synced[RUNS];
    long n = argc > 1 ? atol(argv[1]) : 1000000;
    char big[200], small[200], command[200];
    const char *jawline = program(".libs/jawline", "./jawline");
    const char *empty =
        program("tests/bench/.libs/empty", "tests/bench/empty");
    char *record[] = {"jawline", tool, number, reading, NULL};
    char *tools[] = {"jawline", "tools", NULL};
    char *none[] = {"empty", NULL};
    need(mkdtemp(folder) != NULL, "no folder can be made");
    snprintf(big, sizeof big, "%s/big", folder);
    snprintf(small, sizeof small, "%s/small", folder);
    fill(small, 100);
    fill(big, n);
    setenv("LD_LIBRARY_PATH", ".libs", 1);
    setenv("JAWLINE_BOOK", big, 1);
    for (int i = 0; i < RUNS; i++) {
        nothing[i] = run(empty, none, "/dev/null");
        synced[i] = written();
        floor_[i] = nothing[i] + synced[i];
        recording[i] = run(jawline, record, "/dev/null");
        listed[i] = run(jawline, tools, "/dev/null");
    }
    double open_small = opening(small), open_big = opening(big);
    printf("%ld measurements; here an empty program takes %.3f ms, one synced "
           "write %.3f ms\n", n, 1e3 * median(nothing, RUNS), 1e3 * median(synced, RUNS));
    bool good = verdict("opened (a hundred measurements: at most twice)",
                        open_big, 2 * open_small + 1e-3);
    good = verdict("current tools, from opening on", listing(big), 50e-3) &&
           good;
    good = verdict("jawline tools, over an empty program",
                   median(listed, RUNS) - median(nothing, RUNS), 50e-3) && good;
    good = verdict("jawline tool, over that and one synced write",
                   median(recording, RUNS) - median(floor_, RUNS), 20e-3) && good;
    snprintf(command, sizeof command, "rm -rf '%s'", folder);
    need(system(command) == 0, "its folder can not be removed");
    return good ? EXIT_SUCCESS : EXIT_FAILURE;
}
