/* SPDX-License-Identifier: GPL-3.0-or-later */
/* truth_held.c: does what is stated hold the truth?
 *
 *     truth_held REPORTS SHEET...
 *
 * SHEETs by jawline synth, all of one kind, and REPORTS, what jawline solve
 * --json says of them: one object a line, in the same order.  Of each truth in
 * the sheets is counted how often it lies within the interval that its report
 * states.  Allowed are 95 of 100, give or take what the library promises (0.5)
 * and four standard deviations of the binomial.
 *
 * A truth with two numbers is a place, which no report gives an interval; every
 * other one must be in every report.  Exit 0: all hold; 1: one does not. */
#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { TRUTHS_MAX = 64, NAME_MAX_ = 128 };

#define COVERED 0.95
#define WITHIN 0.005
/* What is printed has 9 decimals. */
#define PRINTED 2e-9

typedef struct truth {
    char name[NAME_MAX_];
    size_t seen, inside, exact; /* exact: an interval that no digit shows */
    const char *wrong;          /* the first thing wrong with it; NULL */
} truth;

typedef struct tally {
    truth truths[TRUTHS_MAX];
    size_t n;
} tally;

static void stop(const char *what, const char *which)
{
    fprintf(stderr, "truth_held: %s: %s\n", which, what);
    exit(2);
}

/* ------------------------------------------------------------------ reports */

/* Blanks are _ in a truth's name. */
static int same_name(const char *name, const char *a, char between,
                     const char *b)
{
    char text[2 * NAME_MAX_];

    snprintf(text, sizeof text, "%s%c%s", a, between, b);
    for (char *c = text; *c; c++)
        *c = *c == ' ' ? '_' : *c;
    return strcmp(name, text) == 0;
}

static const char *word(const json_t *of, const char *key)
{
    const char *text = json_string_value(json_object_get(of, key));

    return text ? text : "";
}

static json_t *find_value(const json_t *report, const char *name)
{
    json_t *v;
    size_t i;
    char tool[32];

    json_array_foreach(json_object_get(report, "values"), i, v) {
        snprintf(tool, sizeof tool, "%d",
                 (int)json_integer_value(json_object_get(v, "tool")));
        if (json_object_get(v, "tool")
                ? same_name(name, "tool", '_', tool)
                : same_name(name, word(v, "register"), '.', word(v, "word")))
            return v;
    }
    return NULL;
}

static json_t *find_figure(const json_t *report, const char *name)
{
    json_t *f, *figure;
    size_t i, k;

    json_array_foreach(json_object_get(report, "findings"), i, f)
        json_array_foreach(json_object_get(f, "figures"), k, figure)
            if (same_name(name, word(f, "name"), '.', word(figure, "what")))
                return figure;
    return NULL;
}

/* Of a feature, its size: key is set to which. */
static json_t *find_size(const json_t *report, const char *name,
                         const char **key)
{
    static const char *const sizes[] = {"diameter", "width"};
    json_t *f;
    size_t i;

    json_array_foreach(json_object_get(report, "features"), i, f)
        for (int k = 0; k < 2; k++)
            if (same_name(name, word(f, "name"), '.', sizes[k])) {
                *key = sizes[k];
                return f;
            }
    return NULL;
}

/* What is stated of a truth; NULL: nothing. */
static const json_t *find_stated(const json_t *report, const char *name,
                                 double *half95)
{
    const char *is = "exact", *half = "half95";
    json_t *at = find_value(report, name);

    if (!at) {
        at = find_figure(report, name);
        is = "value";
    }
    if (!at) {
        at = find_size(report, name, &is);
        half = "size_half95";
    }
    *half95 = json_is_number(json_object_get(at, half))
                  ? json_number_value(json_object_get(at, half))
                  : (double)NAN;
    at = json_object_get(at, is);
    return json_is_number(at) ? at : NULL;
}

/* ------------------------------------------------------------------- counts */

static truth *truth_of(tally *t, const char *name)
{
    for (size_t i = 0; i < t->n; i++)
        if (strcmp(t->truths[i].name, name) == 0)
            return &t->truths[i];
    if (t->n == TRUTHS_MAX)
        stop("too many truths", name);
    snprintf(t->truths[t->n].name, NAME_MAX_, "%s", name);
    return &t->truths[t->n++];
}

static void count(tally *t, const char *name, double is, const json_t *report)
{
    double half95;
    truth *at = truth_of(t, name);
    const json_t *stated = find_stated(report, name, &half95);

    at->seen++;
    if (!stated)
        at->wrong = "it is not in the report";
    else if (isnan(half95))
        at->wrong = "it has no interval";
    else
        at->inside += fabs(json_number_value(stated) - is) <= half95 + PRINTED;
    at->exact += half95 <= PRINTED;
}

static void read_sheet(tally *t, const char *path, const json_t *report)
{
    char line[512], name[NAME_MAX_];
    double a, b;
    FILE *in = fopen(path, "r");
    size_t before = t->n, truths = 0;

    if (!in)
        stop("can not be read", path);
    while (fgets(line, sizeof line, in)) {
        int numbers = sscanf(line, "# truth %127s %lf %lf", name, &a, &b) - 1;
        truths += numbers == 1;
        if (numbers == 1)
            count(t, name, a, report);
    }
    fclose(in);
    if (truths == 0 || (before > 0 && t->n != before))
        stop("its truths are not those of the others", path);
}

/* ---------------------------------------------------------------- judgement */

static int judge(const truth *t, size_t sheets)
{
    double n = (double)sheets, seen = (double)t->inside / n;
    double within = WITHIN + 4 * sqrt(COVERED * (1 - COVERED) / n);
    int exact = t->exact == t->seen;
    double low = exact ? 1 : COVERED - within;
    double high = exact ? 1 : COVERED + within;
    int good = !t->wrong && t->seen == sheets && seen >= low && seen <= high;

    printf("  %-44s %.4f  %s%s%s\n", t->name, seen, good ? "ok" : "OFF",
           t->wrong ? ": " : "", t->wrong ? t->wrong : "");
    if (!good && !t->wrong)
        printf("    in %zu of %zu sheets; allowed %.4f to %.4f\n", t->seen,
               sheets, low, high);
    return good;
}

int main(int argc, char *argv[])
{
    static tally t;
    json_error_t error;
    int good = 1;

    if (argc < 3)
        stop("REPORTS SHEET...", "usage");
    FILE *reports = fopen(argv[1], "r");
    if (!reports)
        stop("can not be read", argv[1]);
    for (int i = 2; i < argc; i++) {
        json_t *report = json_loadf(reports, JSON_DISABLE_EOF_CHECK, &error);
        if (!json_is_object(report))
            stop("there is no report of it", argv[i]);
        read_sheet(&t, argv[i], report);
        json_decref(report);
    }
    fclose(reports);
    for (size_t i = 0; i < t.n; i++)
        good &= judge(&t.truths[i], (size_t)argc - 2);
    return good ? 0 : 1;
}
