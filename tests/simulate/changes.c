/* SPDX-License-Identifier: GPL-3.0-or-later */
/* changes.c: does what book.h says of changes hold?
 *
 *     changes [TRIALS [SEED [CASE...]]]
 *
 * For each case as many tools of known length, each measured twice in a book of
 * its own: unchanged, which is to be called a change by 1 of 100; and changed by
 * what is stated as noticeable, which is to be missed by 20 of 100; and the
 * interval of the second is to hold its truth in 95 of 100 and more.  Then tools
 * to which something known happened: how often it is named.
 *
 * Allowed is what is promised plus four standard deviations: of the binomial, or
 * where trials share a history of what their groups show; and of what is missed
 * also those of the change, which is itself a mean over trials. */
#include "asked.h"

#include <jawline/book.h>

#include "src/book/book.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Trials that share a book, and those that share a machine where it has a
 * history: too few to feel one another. */
enum { BOOK_TRIALS = 200, SHARED = 10, READINGS_MAX = 10 };

/* The change that is tried is found by so many at most, to spare time in a long
 * run; how well it is known then is allowed for (off). */
enum { PILOT = 20000 };

#define STEP 1e-3
#define NOT_STATED ((double)NAN)

typedef struct change_case {
    const char *name;
    double sigma;        /* mm, of one reading */
    double stated[2];    /* then and now; NaN: not stated */
    size_t n[2];         /* readings then and now */
    size_t others;       /* tools measured before, three readings each */
    size_t calibrated;   /* readings of the setter, before each of the two */
    double block_dof;    /* of two blocks, another one each time; 0: none */
    double seat;         /* mm */
    bool diameter, holders, reference;
    double least, most;  /* percent of unchanged ones */
    double missed_least, missed_most;
} change_case;


static change_case cases[64];

typedef struct run {
    jaw_book *book;
    jaw_random random;
    size_t trials, passed, failed;
    long machine;
    char name[JAW_BOOK_NAME_SIZE];
    char folder[64], path[80];
} run;

static void need(bool good, const char *what)
{
    if (good)
        return;
    fprintf(stderr, "changes: %s\n", what);
    exit(EXIT_FAILURE);
}

/* A new book; nothing here is about disks, so none is waited for. */
static void new_book(run *r)
{
    jaw_book_close(r->book);
    remove(r->path);
    need(jaw_book_open(r->path, JAW_BOOK_WRITE, NULL, &r->book) == JAW_OK &&
             sqlite3_exec(r->book->db,
                          "PRAGMA synchronous = OFF; PRAGMA journal_mode = OFF;"
                          "PRAGMA locking_mode = EXCLUSIVE", NULL, NULL,
                          NULL) == SQLITE_OK,
         "no book can be made");
}

static void add(run *r, jaw_book_record *record)
{
    long long id;

    record->at = 1772434800000LL;
    need(jaw_book_add(r->book, record, &id) == JAW_OK, "it can not be added");
}

static void readings(run *r, double truth, double sigma, size_t n,
                     double out[])
{
    for (size_t i = 0; i < n; i++)
        out[i] = jaw_round_to_step(
            truth + sigma * jaw_random_normal(&r->random), STEP);
}

/* ------------------------------------------------------------ what is there */

static void add_machine(run *r, const change_case *c)
{
    const double nan = (double)NAN;
    jaw_book_record m = {.kind = JAW_BOOK_MACHINE, .machine = r->name,
                         .subject = ""};

    m.as.machine = (jaw_book_machine){
        .step = STEP, .decimals = 3, .low = {nan, nan, -400},
        .high = {nan, nan, 0}, .seat = c->seat > 0 ? c->seat : nan,
        .lengths = c->reference ? JAW_REFERENCE_TOOL : JAW_GAUGE_LINE,
        .reference = c->reference ? 90 : 0};
    add(r, &m);
}

/* By a tool whose length is known to a hundredth of a reading's spread. */
static void calibrate(run *r, const change_case *c)
{
    double reading[READINGS_MAX];
    jaw_book_touch t = {.machine = r->name, .number = 90, .holder = "",
                        .text = "", .on = "setter", .through = "",
                        .reading = reading, .n = c->calibrated,
                        .repeat = NOT_STATED};
    jaw_book_record h;
    double known = c->sigma / 100;

    if (c->calibrated == 0)
        return;
    readings(r, -150 + known * jaw_random_normal(&r->random), c->sigma,
             c->calibrated, reading);
    need(jaw_book_calibrate(r->book, &t, 100, known, (double)INFINITY, &h) ==
             JAW_OK, "no calibration");
    add(r, &h);
}

/* Chi-square of whole dof. */
static double chi_square(run *r, double dof)
{
    double sum = 0;

    for (int i = 0; i < (int)dof; i++) {
        double z = jaw_random_normal(&r->random);
        sum += z * z;
    }
    return sum;
}

/* A block of 10 mm, known to sigma, which was seen with few dof; how much
 * thicker it is. */
static double add_block(run *r, const change_case *c, const char *name)
{
    double off = c->sigma * jaw_random_normal(&r->random);
    double u = c->sigma * sqrt(chi_square(r, c->block_dof) / c->block_dof);
    jaw_book_record h = {.kind = JAW_BOOK_HEIGHT, .machine = "",
                         .subject = name};

    h.as.height = (jaw_book_height){.block = true, .value = 10, .u = u,
                                    .dof = c->block_dof,
                                    .half95 = 2 * u, .length = NOT_STATED,
                                    .length_u = NOT_STATED};
    add(r, &h);
    return off;
}

/* ------------------------------------------------------------- measure */

/* Which of the two, and what became of the tool. */
static void measure(run *r, const change_case *c, int which, double truth,
                    const char *through, int number, jaw_book_measured *m)
{
    static double reading[READINGS_MAX]; /* the record points at it */
    size_t n = c->n[which];

    if (c->seat > 0)
        truth += c->seat * jaw_random_normal(&r->random);
    readings(r, c->diameter ? truth : truth - 250, c->sigma, n, reading);
    if (c->diameter) {
        jaw_book_gauge g = {.machine = r->name, .number = number, .holder = "",
                            .reading = reading, .n = n,
                            .repeat = c->stated[which], .step = STEP};
        need(jaw_book_measure_diameter(r->book, &g, m) == JAW_OK,
             "no diameter");
        return;
    }
    jaw_book_touch t = {.machine = r->name, .number = number,
                        .holder = c->holders ? "er20-1" : "",
                        .text = "", .on = c->reference ? "bed" : "setter",
                        .through = through, .reading = reading, .n = n,
                        .repeat = c->stated[which]};
    need(jaw_book_measure(r->book, &t, m) == JAW_OK, "no length");
}

static void measure_other(run *r, const change_case *c, int number,
                          const char *holder, double length)
{
    double reading[3];
    jaw_book_touch t = {.machine = r->name, .number = number,
                        .holder = holder, .text = "",
                        .on = c->reference ? "bed" : "setter", .through = "",
                        .reading = reading, .n = 3, .repeat = NOT_STATED};
    jaw_book_gauge g = {.machine = r->name, .number = number,
                        .holder = holder, .reading = reading, .n = 3,
                        .repeat = NOT_STATED, .step = STEP};
    jaw_book_measured m;

    readings(r, c->diameter ? length : length - 250, c->sigma, 3, reading);
    need((c->diameter ? jaw_book_measure_diameter(r->book, &g, &m)
                      : jaw_book_measure(r->book, &t, &m)) == JAW_OK,
         "no other tool");
    add(r, &m.record);
}

/* A sum over trials, of which so many that follow one another share what the
 * book knew before. */
typedef struct tally {
    double sum, squares, open;
    size_t n, groups, in_open, size;
} tally;

static void tally_close(tally *t)
{
    t->sum += t->open;
    t->squares += t->open * t->open;
    t->groups++;
    t->open = 0;
    t->in_open = 0;
}

static void tally_add(tally *t, double x)
{
    t->open += x;
    t->n++;
    if (++t->in_open == t->size)
        tally_close(t);
}

static double tally_mean(const tally *t)
{
    return (t->sum + t->open) / (double)t->n;
}

/* Of the mean, from how far whole groups lie apart (Cochran, Sampling Techniques,
 * 3rd ed. 1977, 9.2: clusters of equal size). */
static double tally_sd(const tally *t)
{
    double n = (double)t->groups;

    return sqrt(fmax(t->squares - t->sum * t->sum / n, 0) * n / (n - 1)) /
           (n * (double)t->size);
}

typedef struct counts {
    tally alarms, missed, held, noticed2;
} counts;

/* The interval of a value: of a length above a surface whose height is not known
 * it is that of the sum; how well the tool sits is no part of it. */
static bool is_held(const change_case *c, const jaw_book_measured *m,
                    double length)
{
    const jaw_book_record *r = &m->record;

    if (c->diameter)
        return fabs(r->as.diameter.value - length) <= r->as.diameter.half95;
    double truth = length - (c->calibrated > 0 ? 0 : 250) -
                   (c->block_dof > 0 ? 10 : 0);
    return c->seat > 0 ||
           fabs(r->as.length.value - truth) <= r->as.length.half95;
}

static bool is_noise(const jaw_book_measured *m)
{
    return fabs(m->verdict.differ) <= m->verdict.limit;
}

/* One without a history for each trial, or one with it; a tool's number. */
static int new_machine(run *r, const change_case *c, size_t i)
{
    if (c->others > 0 && i % SHARED > 0)
        return 300 + (int)(i % SHARED);
    snprintf(r->name, sizeof r->name, "m%ld", r->machine++);
    add_machine(r, c);
    calibrate(r, c);
    for (size_t k = 0; k < c->others; k++)
        measure_other(r, c, 10 + (int)k, "", 60 + (double)k);
    return 300;
}

/* One tool; change 0: only what would be noticed is wanted. */
static void try_one(run *r, const change_case *c, size_t i, double change,
                    counts *n)
{
    double length = 50 + jaw_random_even(&r->random), off[2] = {0, 0};
    jaw_book_measured m;
    const char *block[2] = {"", ""};

    int number = new_machine(r, c, i);
    calibrate(r, c);
    if (c->block_dof > 0) {
        off[0] = add_block(r, c, block[0] = "one");
        off[1] = add_block(r, c, block[1] = "two");
    }
    if (c->holders)
        measure_other(r, c, number, "er20-2", 61);
    do /* what is in doubt is read again */
        measure(r, c, 0, length + off[0], block[0], number, &m);
    while (m.record.doubts & JAW_BOOK_SLIPS);
    add(r, &m.record);
    calibrate(r, c);
    measure(r, c, 1, length + off[1], block[1], number, &m);
    tally_add(&n->alarms, !is_noise(&m));
    tally_add(&n->held, is_held(c, &m, length));
    tally_add(&n->noticed2, m.verdict.noticed * m.verdict.noticed);
    if (!(change > 0))
        return;
    if (jaw_random_even(&r->random) < 0.5)
        change = -change;
    measure(r, c, 1, length + off[1] + change, block[1], number, &m);
    tally_add(&n->missed, is_noise(&m));
}

static counts tries(run *r, const change_case *c, size_t trials, double change)
{
    const tally none = {.size = c->others > 0 ? SHARED : 1};
    counts n = {none, none, none, none};

    for (size_t i = 0; i < trials; i++) {
        if (i % BOOK_TRIALS == 0)
            new_book(r);
        try_one(r, c, i, change, &n);
    }
    return n;
}

/* -------------------------------------------------------------------- judge */

/* more: a standard deviation beside the binomial's, percent. */
static void judge(run *r, const char *what, double percent, double least,
                  double most, double more)
{
    double n = (double)r->trials;
    double low = least - 4 * hypot(sqrt(fmax(least, 0.01) * (100 - least) / n),
                                   more);
    double high = most + 4 * hypot(sqrt(most * (100 - most) / n), more);

    if (percent >= low && percent <= high) {
        r->passed++;
        return;
    }
    r->failed++;
    printf("FAIL %s: %.3f %%, allowed %.3f to %.3f\n", what, percent, low,
           high);
}

/* By how much groups lie farther apart than the binomial has it, percent. */
static double beyond(const run *r, const tally *t)
{
    double p = tally_mean(t), sd = t->size > 1 ? tally_sd(t) : 0;

    return 100 * sqrt(fmax(sd * sd - p * (1 - p) / (double)r->trials, 0));
}

static void simulate(run *r, const change_case *c)
{
    size_t half = r->trials / 2 < PILOT ? r->trials / 2 : PILOT;
    size_t first = (half / SHARED + 1) * SHARED;
    counts pilot = tries(r, c, first, 0);
    double square = tally_mean(&pilot.noticed2), change = sqrt(square);
    counts n = tries(r, c, r->trials, change);

    /* a change larger by 1 in 100 is missed less often by at most 1 of 100:
       where 20 are missed it is 3.4 standard deviations at 1 % false alarms, and
       the normal density there 0.28 (from memory; both by z of 0.005 and 0.20) */
    double off = 100 * tally_sd(&pilot.noticed2) / square / 2;

    printf("%-22s %8.3f %8.2f %8.2f  of %.4f mm\n", c->name,
           100 * tally_mean(&n.alarms), 100 * tally_mean(&n.missed),
           100 * tally_mean(&n.held), change);
    fflush(stdout);
    judge(r, "unchanged and doubted", 100 * tally_mean(&n.alarms), c->least,
          c->most, beyond(r, &n.alarms));
    judge(r, "changed and missed", 100 * tally_mean(&n.missed),
          c->missed_least, c->missed_most, hypot(beyond(r, &n.missed), off));
    judge(r, "held by its interval", 100 * tally_mean(&n.held), 95, 100,
          beyond(r, &n.held));
}

/* -------------------------------------------------------------------- named */

/* What befalls a tool, as a person would tell it: how much, in mm. */
typedef struct event {
    const char *name;
    jaw_book_change change;
    bool diameter;
    int worn_before; /* measurements that each found it worn */
    double least;    /* percent of those that are noticed, at least, named so */
} event;

static const event events[] = {
    {"worn", JAW_CHANGE_WORN, false, 0, 97},
    {"worn-as-before", JAW_CHANGE_WORN, false, 5, 97},
    {"pulled-out", JAW_CHANGE_PULLED, false, 0, 99},
    {"broken", JAW_CHANGE_BROKEN, false, 0, 99},
    {"broken-once-worn", JAW_CHANGE_BROKEN, false, 5, 98},
    {"other-tool", JAW_CHANGE_OTHER, false, 0, 97},
    {"diameter-worn", JAW_CHANGE_WORN, true, 0, 97},
    {"diameter-smaller", JAW_CHANGE_SMALLER, true, 0, 80},
    {"diameter-larger", JAW_CHANGE_LARGER, true, 0, 98},
    {"diameter-other-tool", JAW_CHANGE_OTHER, true, 0, 97},
};

enum { TOOLS = 9 };

static const double diameters[TOOLS] = {10, 2, 3, 4, 5, 6, 8, 12, 16};

/* Of this median; two of three within a factor of e to the power `wide`. */
static double about(run *r, double median, double wide)
{
    return median * exp(wide * jaw_random_normal(&r->random));
}

static double between(run *r, double low, double high)
{
    return low + (high - low) * jaw_random_even(&r->random);
}

static double happened(run *r, const event *e, const double value[])
{
    int other = 1 + (int)(jaw_random_even(&r->random) * (TOOLS - 1));

    switch (e->change) {
    case JAW_CHANGE_WORN: return -about(r, 0.03, 0.6);
    case JAW_CHANGE_PULLED: return about(r, 0.4, 1);
    case JAW_CHANGE_BROKEN: return -between(r, 0.5, value[0] - 5);
    case JAW_CHANGE_SMALLER: return -between(r, 0.3, 3);
    case JAW_CHANGE_LARGER: return about(r, 0.05, 0.5);
    default: return value[other] - value[0];
    }
}

static void make_tools(run *r, const change_case *c, double value[])
{
    snprintf(r->name, sizeof r->name, "m%ld", r->machine++);
    add_machine(r, c);
    calibrate(r, c);
    for (int i = 0; i < TOOLS; i++) {
        value[i] = c->diameter ? diameters[i] - between(r, 0.005, 0.03)
                               : between(r, 40, 110);
        measure_other(r, c, i + 1, "", value[i]);
    }
}

static jaw_book_change what_is_said(run *r, const event *e)
{
    change_case c = {.sigma = 3e-3, .stated = {NOT_STATED, NOT_STATED},
                     .n = {3, 3}, .calibrated = 3, .diameter = e->diameter};
    double value[TOOLS];
    jaw_book_measured m;

    make_tools(r, &c, value);
    for (int i = 0; i < e->worn_before; i++) {
        value[0] -= about(r, 0.03, 0.6);
        measure_other(r, &c, 1, "", value[0]);
    }
    measure(r, &c, 1, value[0] + happened(r, e, value), "", 1, &m);
    return m.verdict.change;
}

static void name_them(run *r, const event *e)
{
    size_t said[JAW_BOOK_CHANGES] = {0}, seen;

    for (size_t i = 0; i < r->trials; i++) {
        if (i % BOOK_TRIALS == 0)
            new_book(r);
        said[what_is_said(r, e)]++;
    }
    seen = r->trials - said[JAW_CHANGE_NOISE];
    printf("%-22s %zu seen:", e->name, seen);
    for (int i = 0; i < JAW_BOOK_CHANGES; i++)
        if (said[i] > 0 && i != JAW_CHANGE_NOISE)
            printf("  %s %.2f", jaw_book_change_word((jaw_book_change)i),
                   100 * (double)said[i] / (double)seen);
    puts("");
    fflush(stdout);
    judge(r, "named", 100 * (double)said[e->change] / (double)seen, e->least,
          100, 0);
}

/* -------------------------------------------------------------------- cases */

static change_case *add_case(size_t *n, const char *name)
{
    change_case *c = &cases[(*n)++];

    *c = (change_case){.name = name, .sigma = 10e-3,
                       .stated = {NOT_STATED, NOT_STATED}, .n = {3, 3},
                       .least = 0.95, .most = 1.05, .missed_least = 19,
                       .missed_most = 21};
    return c;
}

static void few(change_case *c, size_t then, size_t now)
{
    c->n[0] = then;
    c->n[1] = now;
    c->least = 0.8;
    c->most = 1.2;
    c->missed_least = 15;
}

static size_t make_cases(void)
{
    size_t n = 0;
    change_case *c = add_case(&n, "stated");

    c->stated[0] = c->stated[1] = c->sigma;
    c = add_case(&n, "stated-one-reading");
    c->stated[0] = c->stated[1] = c->sigma;
    c->n[0] = c->n[1] = 1;
    add_case(&n, "seen-3-3");
    few(add_case(&n, "seen-2-2"), 2, 2);
    few(add_case(&n, "seen-3-1"), 3, 1);
    c = add_case(&n, "seen-2-1");
    few(c, 2, 1);
    c->least = 0;
    c->most = 1.45;
    c = add_case(&n, "pooled-1-1");
    c->others = 10;
    c->n[0] = c->n[1] = 1;
    c = add_case(&n, "pooled-3-3");
    c->others = 10;
    c = add_case(&n, "stated-then-seen");
    c->stated[0] = c->sigma;
    few(c, 3, 3);
    c = add_case(&n, "seen-then-stated");
    c->stated[1] = c->sigma;
    few(c, 3, 3);
    c = add_case(&n, "setter-recalibrated");
    c->calibrated = 5;
    c->others = 10;
    c->least = 0.5;
    c->missed_least = 15;
    c = add_case(&n, "two-blocks");
    c->block_dof = 8;
    c->others = 10;
    c->least = 0.5;
    c->missed_least = 15;
    c = add_case(&n, "seat");
    c->seat = 15e-3;
    c = add_case(&n, "seat-2-2");
    few(c, 2, 2);
    c->seat = 15e-3;
    c = add_case(&n, "two-holders");
    c->holders = true;
    c = add_case(&n, "reference-tool");
    c->reference = true;
    c = add_case(&n, "diameter");
    c->diameter = true;
    c->others = 10;
    c = add_case(&n, "half-a-step");
    c->sigma = 0.5 * STEP;
    c->others = 10;
    c = add_case(&n, "a-step-stated");
    c->sigma = STEP;
    c->stated[0] = c->stated[1] = c->sigma;
    c = add_case(&n, "tenth-of-a-step");
    c->sigma = 0.1 * STEP;
    c->others = 10;
    c->least = 0;
    c->missed_least = 0;
    c->missed_most = 45;
    return n;
}

int main(int argc, char *argv[])
{
    unsigned long long seed =
        argc > 2 ? strtoull(argv[2], NULL, 10) : 20261126;
    run r = {.trials = argc > 1 ? strtoul(argv[1], NULL, 10) : 400};
    size_t n = make_cases();

    strcpy(r.folder, "/tmp/jawline-changes-XXXXXX");
    need(mkdtemp(r.folder) != NULL, "no folder can be made");
    snprintf(r.path, sizeof r.path, "%s/book", r.folder);
    printf("%zu tools a case, seed %llu\n", r.trials, seed);
    printf("%-22s %8s %8s %8s\n", "", "doubted", "missed", "held");
    for (size_t i = 0; i < n; i++) {
        r.random = jaw_random_stream(seed, i);
        if (is_asked(cases[i].name, argc, argv))
            simulate(&r, &cases[i]);
    }
    puts("what befell it, and what was said in 100 of those that were seen");
    for (size_t i = 0; i < sizeof events / sizeof events[0]; i++) {
        r.random = jaw_random_stream(seed, n + i);
        if (is_asked(events[i].name, argc, argv))
            name_them(&r, &events[i]);
    }
    jaw_book_close(r.book);
    remove(r.path);
    remove(r.folder);
    printf("%zu passed, %zu failed\n", r.passed, r.failed);
    return r.failed > 0 || r.passed == 0 ? EXIT_FAILURE : EXIT_SUCCESS;
}
