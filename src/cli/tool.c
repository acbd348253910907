/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tool.c: `jawline tool`: one length into the book, in as few key strokes as a
 * person has patience for between two tools. */
#include "tools.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { READINGS_MAX = 100 };

typedef struct tool_job {
    int number;
    double *reading;
    size_t n;
    bool asked; /* readings come from a prompt */
} tool_job;

/* ------------------------------------------------------------------ prompt */

typedef enum reply { GIVEN, EMPTY, ENDED } reply;

/* One line without its end. */
static reply ask(const char *question, char *line, size_t size)
{
    fputs(question, stderr);
    fflush(stderr);
    if (fgets(line, (int)size, stdin) == NULL) {
        fputc('\n', stderr); /* Ctrl-D leaves the cursor where it was */
        return ENDED;
    }
    line[strcspn(line, "\r\n")] = '\0';
    return line[strspn(line, " \t")] == '\0' ? EMPTY : GIVEN;
}

static bool read_number(const char *text, int *number)
{
    char *end;
    long n = strtol(text, &end, 10);

    end += strspn(end, " \t");
    *number = (int)n;
    return end != text && *end == '\0' && n >= 1 && n <= 9999;
}

static bool ask_number(tool_job *j)
{
    char line[200];

    while (ask("tool number (empty leaves): ", line, sizeof line) == GIVEN) {
        if (read_number(line, &j->number))
            return true;
        complain("a whole number from 1 to 9999", "`%s' is no tool number",
                 line);
    }
    return false;
}

/* Readings, several on a line or one a line, until an empty one. */
static bool ask_readings(tool_job *j, jaw_unit unit)
{
    char line[1000], question[120];

    for (;;) {
        snprintf(question, sizeof question,
                 j->n == 0 ? "tool %d, reading of Z (%s; empty leaves): "
                           : "tool %d, another reading (%s; empty: that is "
                             "all; Ctrl-D leaves): ",
                 j->number, jaw_unit_word(unit));
        reply a = ask(question, line, sizeof line);
        if (a != GIVEN)
            return a == EMPTY && j->n > 0;
        for (char *word = strtok(line, " \t"); word != NULL;
             word = strtok(NULL, " \t")) {
            if (j->n == READINGS_MAX ||
                !length_read(word, unit, &j->reading[j->n])) {
                complain("a number with a point, such as -8.1234; what stood "
                         "before it counts",
                         "`%s' is no reading", word);
                break;
            }
            j->n++;
        }
    }
}

static bool on_terminal(void)
{
    return isatty(STDIN_FILENO) && isatty(STDERR_FILENO);
}

/* --------------------------------------------------------------- arguments */

static bool number_given(const arguments *args, tool_job *j)
{
    if (read_number(args->operand[0], &j->number))
        return true;
    complain("a whole number from 1 to 9999", "`%s' is no tool number",
             args->operand[0]);
    return false;
}

static bool readings_given(const arguments *args, const shop *s, tool_job *j)
{
    j->n = (size_t)args->operands - 1;
    j->reading = readings_read(args->operand + 1, args->operands - 1, s->unit);
    return j->reading != NULL;
}

/* What the book said of the same tool last time is its text now. */
static const char *last_text(shop *s, const arguments *args, int number,
                             char *text, size_t size)
{
    static const char *const datum[] = {"", "part"};
    const char *holder = args->value[OPT_HOLDER];
    char subject[130];
    jaw_book_record r;

    if (args->value[OPT_TEXT] != NULL)
        return args->value[OPT_TEXT];
    text[0] = '\0';
    for (int i = 0; i < 2 && *text == '\0'; i++)
        if (jaw_book_tool_subject(number, holder ? holder : "", datum[i],
                                  subject, sizeof subject) == JAW_OK &&
            jaw_book_find(s->book, JAW_BOOK_LENGTH, s->machine, subject, &r) ==
                JAW_OK)
            snprintf(text, size, "%s", r.as.length.text);
    return text;
}

static bool touch_read(const arguments *args, shop *s, const tool_job *j,
                       jaw_book_touch *t)
{
    const char *through = args->value[OPT_THROUGH];
    const char *on = args->value[OPT_ON], *holder = args->value[OPT_HOLDER];

    *t = (jaw_book_touch){.machine = s->machine,
                          .number = j->number,
                          .holder = holder ? holder : "",
                          .text = "",
                          .on = on ? on : "setter",
                          .through = through ? through : "",
                          .reading = j->reading,
                          .n = j->n,
                          .repeat = (double)NAN,
                          .fresh = args->value[OPT_NEW] != NULL,
                          .unit = s->unit,
                          .at = s->at};
    if (args->value[OPT_STATED] != NULL) {
        if (on != NULL || through != NULL ||
            args->value[OPT_BETWEEN] != NULL) {
            complain("leave one of them out",
                     "--stated lengths were touched on nothing");
            return false;
        }
        t->on = "";
    }
    if (through != NULL && args->value[OPT_BETWEEN] != NULL) {
        complain("leave one of them out", "--through and --between contradict");
        return false;
    }
    return shop_length(args, OPT_BETWEEN, s, false, &t->between) &&
           shop_length(args, OPT_BETWEEN_U, s, false, &t->between_u) &&
           option_length(args, OPT_REPEAT, s->unit, false, &t->repeat);
}

/* ------------------------------------------------------------------ report */

static void put_length(const shop *s, const jaw_book_measured *m, long long id)
{
    const jaw_book_length *l = &m->record.as.length;

    printf("tool %d%s%s%s%s\n", l->number, *l->holder ? " in " : "", l->holder,
           *l->text ? "  " : "", l->text);
    printf("%-12s %s %s", *l->datum ? "sum" : "length",
           mm_text(s, l->value, 1).s, jaw_unit_word(s->unit));
    if (isnan(l->half95))
        printf("  (no check: one reading, and how well it comes back is not "
               "known)\n");
    else
        printf("  +- %s (95 %%)\n", mm_text(s, l->half95, 1).s);
    if (*l->datum)
        printf("             that is its length and the height of '%s'\n",
               l->datum);
    printf("from         %zu reading%s%s%s\n", m->record.n_readings,
           m->record.n_readings == 1 ? "" : "s", *l->on ? " on " : "", l->on);
    printf("entry        %lld\n", id);
}

static void put_register(shop *s, const jaw_book_measured *m)
{
    const jaw_book_length *l = &m->record.as.length;
    jaw_length_rule rule =
        strcmp(l->datum, "part") == 0 ? JAW_TIP_TO_PART : s->about.lengths;
    jaw_book_length ref;
    bool has = reference_find(s, l->datum, &ref);
    double value;
    jaw_status status = jaw_book_register(l, rule, has ? &ref : NULL,
                                          (double)NAN, &value);

    if (m->verdict.change == JAW_CHANGE_UNSURE)
        puts("enter        nothing, before the doubt above is cleared");
    else if (status == JAW_OK)
        printf("enter        %s in H%d  (%s)\n",
               mm_text(s, jaw_round_to_step(value, s->about.step), 0).s,
               l->number, jaw_length_word(rule));
    else
        printf("enter        by %s it does not follow; `jawline tools' says "
               "more\n",
               jaw_length_word(rule));
}

static void put_shares(const jaw_book_verdict *v)
{
    const char *between = "  (";

    for (int i = 0; i < JAW_BOOK_CHANGES; i++) {
        if (!(v->share[i] >= 0.005))
            continue;
        printf("%s%s %.0f in 100", between,
               jaw_book_change_word((jaw_book_change)i), 100 * v->share[i]);
        between = ", ";
    }
    puts(*between == ',' ? ")" : "");
}

static void put_change(const shop *s, const jaw_book_measured *m)
{
    const jaw_book_verdict *v = &m->verdict;

    if (v->last_id == 0) {
        puts("change       there is no earlier length to compare with");
        return;
    }
    if (m->record.as.length.fresh) {
        puts("change       a new cutter: nothing is compared");
        return;
    }
    printf("change       %s%s since entry %lld: %s\n",
           v->differ > 0 ? "+" : "", mm_text(s, v->differ, 1).s, v->last_id,
           jaw_book_change_text(v->change));
    printf("             up to %s is noise; %s would be noticed in 80 of 100\n",
           mm_text(s, v->limit, 1).s, mm_text(s, v->noticed, 1).s);
    if (v->change == JAW_CHANGE_NOISE || v->change == JAW_CHANGE_UNSURE)
        return;
    printf("             how likely");
    put_shares(v);
    if (v->other > 0 && v->share[JAW_CHANGE_OTHER] >= 0.005)
        printf("             tool %d%s%s is the nearest in length\n", v->other,
               *v->other_holder ? " in " : "", v->other_holder);
}

static void put_doubts(unsigned doubts)
{
    const char *comma = "";

    for (unsigned bit = 1; bit < JAW_BOOK_DOUBTS_END; bit <<= 1) {
        if (!(doubts & bit))
            continue;
        fputs(comma, stdout);
        json_text(jaw_book_doubt_word(bit));
        comma = ", ";
    }
}

static void put_json(const shop *s, const jaw_book_measured *m, long long id)
{
    const jaw_book_length *l = &m->record.as.length;
    const jaw_book_verdict *v = &m->verdict;

    printf("{\"tool\": %d, \"holder\": ", l->number);
    json_text(l->holder);
    printf(", \"entry\": %lld, \"unit\": \"%s\", \"above\": ", id,
           jaw_unit_word(s->unit));
    json_text(*l->datum ? l->datum : "gauge-line");
    fputs(", \"value\": ", stdout);
    json_number(s, l->value);
    fputs(", \"half95\": ", stdout);
    json_number(s, l->half95);
    printf(", \"readings\": %zu, \"change\": \"%s\", \"differ\": ",
           m->record.n_readings, jaw_book_change_word(v->change));
    json_number(s, v->differ);
    fputs(", \"noise\": ", stdout);
    json_number(s, v->limit);
    fputs(", \"doubts\": [", stdout);
    put_doubts(m->record.doubts);
    puts("]}");
}

/* --------------------------------------------------------------- write down */

/* A diameter is worn by what it is less than the first of this cutter. */
static bool first_diameter(void *user, const jaw_book_record *r)
{
    if (!r->undone)
        *(double *)user = r->as.diameter.value;
    return r->undone || !r->as.diameter.fresh;
}

static jaw_status write_diameter(const arguments *args, shop *s,
                                 const jaw_book_touch *t)
{
    char subject[130];
    double first = (double)NAN, d = (double)NAN;
    long long id;

    if (!option_length(args, OPT_DIAMETER, s->unit, false, &d))
        return JAW_ESYNTAX;
    if (isnan(d))
        return JAW_OK;
    jaw_status status = jaw_book_tool_subject(t->number, t->holder, NULL,
                                              subject, sizeof subject);
    jaw_book_record r = {.kind = JAW_BOOK_DIAMETER, .machine = s->machine,
                         .subject = subject, .at = s->at};
    r.as.diameter = (jaw_book_diameter){.number = t->number,
                                        .holder = t->holder, .value = d,
                                        .u = t->repeat,
                                        .dof = isnan(t->repeat)
                                                   ? (double)NAN
                                                   : (double)INFINITY,
                                        .fresh = t->fresh, .unit = s->unit};
    if (status == JAW_OK)
        status = jaw_book_add(s->book, &r, &id);
    if (status == JAW_OK)
        status = jaw_book_history(s->book, JAW_BOOK_DIAMETER, s->machine,
                                  subject, 0, first_diameter, &first);
    if (status == JAW_OK && args->value[OPT_JSON] == NULL)
        printf("diameter     %s %s, %s since it was new; entry %lld\n",
               mm_text(s, d, 0).s, jaw_unit_word(s->unit),
               mm_text(s, d - first, 0).s, id);
    return status;
}

static jaw_status write_length(const arguments *args, shop *s,
                               jaw_book_touch *t)
{
    jaw_book_measured m;
    char text[200];
    long long id;

    t->text = last_text(s, args, t->number, text, sizeof text);
    jaw_status status = jaw_book_measure(s->book, t, &m);
    if (status == JAW_OK)
        status = jaw_book_add(s->book, &m.record, &id);
    if (status != JAW_OK)
        return status;
    shop_tell(s);
    if (args->value[OPT_JSON] != NULL) {
        put_json(s, &m, id);
        return JAW_OK;
    }
    put_length(s, &m, id);
    put_register(s, &m);
    put_change(s, &m);
    if (m.record.doubts)
        printf("doubt        if it was a slip: `jawline book undo %lld'\n", id);
    return JAW_OK;
}

static int run(const arguments *args, shop *s, tool_job *j)
{
    jaw_book_touch t;

    if (!touch_read(args, s, j, &t)) {
        shop_close(s, JAW_OK);
        return EXIT_USAGE;
    }
    bool only_diameter = j->n == 0 && args->value[OPT_DIAMETER] != NULL;
    jaw_status status = only_diameter ? JAW_OK : write_length(args, s, &t);
    if (status == JAW_OK)
        status = write_diameter(args, s, &t);
    return shop_close(s, status);
}

/* Readings by the prompt come before the book is opened for writing, so that
 * leaving makes no file; the unit is that of the book, if there is one. */
static bool ask_first(const arguments *args, tool_job *j, bool *left)
{
    char path[4096];
    jaw_unit unit = JAW_MM;
    shop s;

    *left = false;
    if (!on_terminal()) {
        complain("such as `jawline tool 3 -8.1234'; see `jawline tool --help'",
                 j->number == 0 ? "which tool is not said"
                                : "there is no reading");
        return false;
    }
    if (jaw_book_path(args->value[OPT_BOOK], path, sizeof path) == JAW_OK &&
        access(path, F_OK) == 0) {
        if (!shop_open(args, JAW_BOOK_READ, &s))
            return false;
        unit = s.unit;
        shop_close(&s, JAW_OK);
    } else if (!option_unit(args, &unit)) {
        return false;
    }
    j->asked = true;
    j->reading = calloc(READINGS_MAX, sizeof *j->reading);
    *left = j->reading != NULL &&
            ((j->number == 0 && !ask_number(j)) || !ask_readings(j, unit));
    if (*left)
        fputs("nothing was written\n", stderr);
    return j->reading != NULL;
}

int command_tool(const arguments *args)
{
    bool left = false;
    tool_job j = {0};
    shop s;
    int answer = EXIT_USAGE;

    if (args->operands > 0 && !number_given(args, &j))
        return EXIT_USAGE;
    bool ok = args->operands > 1 ||
              (args->operands == 1 && args->value[OPT_DIAMETER] != NULL) ||
              ask_first(args, &j, &left);
    if (left)
        answer = EXIT_STANDS;
    else if (ok && shop_open(args, JAW_BOOK_WRITE, &s)) {
        if (j.asked || readings_given(args, &s, &j))
            answer = run(args, &s, &j);
        else
            shop_close(&s, JAW_OK);
    }
    free(j.reading);
    return answer;
}
