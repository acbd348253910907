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
    double *diameter; /* NULL: none */
    size_t n_diameters;
    double step; /* mm, the last digit of the diameters as typed */
    bool asked;  /* readings come from a prompt */
    const char *holder; /* "": none named */
    char typed[JAW_BOOK_NAME_SIZE];     /* the holder, from a prompt */
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

static void holder_question(const holders *h, char *text, size_t size)
{
    char names[HOLDERS_TEXT];

    snprintf(text, size, "tool %d, holder (the book has %s%s): ", h->number,
             holders_text(h, names),
             h->unnamed  ? "; empty: none that is named"
             : h->n == 1 ? "; empty: that one"
                         : "; Ctrl-D leaves");
}

/* Which of the holders that the book has the tool in, or one more. */
static bool ask_holder(tool_job *j, const holders *h)
{
    char line[200], question[HOLDERS_TEXT + 100];

    holder_question(h, question, sizeof question);
    for (;;) {
        reply a = ask(question, line, sizeof line);
        if (a == ENDED)
            return false;
        if (a == EMPTY && !h->unnamed && h->n > 1) {
            complain("one of these, or a new name", "which is not said");
            continue;
        }
        const char *name = line + strspn(line, " \t");
        if (a == EMPTY)
            name = h->unnamed ? "" : h->name[0];
        for (size_t n = strlen(line); n > 0 && strchr(" \t", line[n - 1]); n--)
            line[n - 1] = '\0';
        if (*name == '\0' || name_is_good(name, "holder")) {
            snprintf(j->typed, sizeof j->typed, "%s", name);
            j->holder = j->typed;
            return true;
        }
    }
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

/* What the book said of the same tool last time is its text now; malloc'd. */
static char *last_text(shop *s, const arguments *args, int number,
                       const char *holder)
{
    const char *on = args->value[OPT_ON];
    enum { DATUMS = 3 };
    const char *const datum[DATUMS] = {"", on ? on : "setter", "part"};
    char line[DATUMS][JAW_BOOK_SUBJECT_SIZE];
    const char *subject[DATUMS];
    int n = 0;

    for (int i = 0; i < DATUMS; i++)
        if (jaw_book_tool_subject(number, holder, datum[i], line[n],
                                  sizeof line[n]) == JAW_OK) {
            subject[n] = line[n];
            n++;
        }
    return shop_text(args, s, JAW_BOOK_LENGTH, subject, n);
}

static bool touch_read(const arguments *args, shop *s, const tool_job *j,
                       jaw_book_touch *t)
{
    const char *through = args->value[OPT_THROUGH];
    const char *on = args->value[OPT_ON];

    *t = (jaw_book_touch){.machine = s->machine,
                          .number = j->number,
                          .holder = j->holder,
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
    return touch_options(args, s, t);
}

/* ------------------------------------------------------------------ report */

static void put_length(const shop *s, const jaw_book_measured *m, long long id)
{
    const jaw_book_length *l = &m->record.as.length;

    printf("tool %d%s%s%s%s\n", l->number, *l->holder ? " in " : "", l->holder,
           *l->text ? "  " : "", l->text);
    printf("%-12s %s %s", *l->datum ? "sum" : "length",
           mm_text(s, l->value, 1).s, jaw_unit_word(s->unit));
    if (m->record.doubts & JAW_BOOK_SCATTER)
        puts("  +- not told: the readings disagree");
    else if (isnan(l->half95))
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
    jaw_length_rule rule = s->about.lengths;
    jaw_book_length ref;
    bool has = reference_find(s, l->datum, &ref);
    double value;
    jaw_status status = jaw_book_register(l, rule, has ? &ref : NULL,
                                          (double)NAN, &value);

    if (m->record.doubts & JAW_BOOK_SLIPS)
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

/* What it is since an earlier entry. */
static void put_verdict(const shop *s, const jaw_book_verdict *v,
                        const char *text, const char *what)
{
    printf("change       %s%s since entry %lld: %s\n",
           v->differ > 0 ? "+" : "", mm_text(s, v->differ, 1).s, v->last_id,
           text);
    printf("             up to %s is noise; %s would be noticed in 80 of 100\n",
           mm_text(s, v->limit, 1).s, mm_text(s, v->noticed, 1).s);
    if (v->first_id != 0)
        printf("             since entry %lld, when it was new, it is %s%s: "
               "beyond noise, up to %s\n",
               v->first_id, v->first_differ > 0 ? "+" : "",
               mm_text(s, v->first_differ, 1).s,
               mm_text(s, v->first_limit, 1).s);
    if (v->change == JAW_CHANGE_NOISE || v->change == JAW_CHANGE_UNSURE ||
        v->change == JAW_CHANGE_SURFACE)
        return;
    printf("             how likely");
    put_shares(v);
    if (v->other > 0 && v->share[JAW_CHANGE_OTHER] >= 0.005)
        printf("             tool %d%s%s is the nearest in %s\n", v->other,
               *v->other_holder ? " in " : "", v->other_holder, what);
}

typedef struct elsewhere {
    const shop *s;
    const jaw_book_length *mine;
} elsewhere;

/* One line for each other holder that the book has the tool in. */
static bool put_other_holder(void *user, const jaw_book_record *r)
{
    const elsewhere *e = user;
    const jaw_book_length *l = &r->as.length;

    if (l->number != e->mine->number ||
        strcmp(l->datum, e->mine->datum) != 0 ||
        strcmp(l->holder, e->mine->holder) == 0)
        return true;
    printf("             the book has tool %d in %s: %s %s, entry %lld\n",
           l->number, *l->holder ? l->holder : "no holder that is named",
           mm_text(e->s, l->value, 1).s, jaw_unit_word(e->s->unit), r->id);
    return true;
}

static void put_elsewhere(const shop *s, const jaw_book_measured *m)
{
    elsewhere e = {s, &m->record.as.length};

    puts("change       there is no earlier length to compare with");
    jaw_book_current(s->book, JAW_BOOK_LENGTH, s->machine, put_other_holder,
                     &e);
}

static void put_change(const shop *s, const jaw_book_measured *m)
{
    const jaw_book_verdict *v = &m->verdict;

    if (strcmp(m->record.as.length.datum, "part") == 0)
        puts("change       none is told: work Z 0 lies elsewhere on every "
             "part");
    else if (v->last_id == 0)
        put_elsewhere(s, m);
    else if (m->record.doubts & JAW_BOOK_SCATTER)
        puts("change       not told: the readings disagree");
    else if (m->record.as.length.fresh)
        puts("change       a new cutter: nothing is compared");
    else
        put_verdict(s, v, jaw_book_change_text(v->change), "length");
}

static void put_slip(const jaw_book_measured *m, long long id)
{
    if (m->record.doubts)
        printf("doubt        if it was a slip: `jawline book undo %lld'\n", id);
}

static void put_json_head(const shop *s, int number, const char *holder)
{
    printf("{\"tool\": %d, \"holder\": ", number);
    json_text(holder);
    printf(", \"unit\": \"%s\"", jaw_unit_word(s->unit));
}

/* Open at its end. */
static void put_verdict_json(const shop *s, const jaw_book_measured *m)
{
    const jaw_book_verdict *v = &m->verdict;

    printf(", \"readings\": %zu, \"change\": \"%s\", \"differ\": ",
           m->record.n_readings, jaw_book_change_word(v->change));
    json_number(s, v->differ);
    fputs(", \"noise\": ", stdout);
    json_number(s, v->limit);
    fputs(", \"doubts\": ", stdout);
    json_doubts(m->record.doubts);
}

/* Open at its end: a diameter may follow. */
static void put_json(const shop *s, const jaw_book_measured *m, long long id)
{
    const jaw_book_length *l = &m->record.as.length;

    printf("{\"tool\": %d, \"holder\": ", l->number);
    json_text(l->holder);
    printf(", \"entry\": %lld, \"unit\": \"%s\", \"above\": ", id,
           jaw_unit_word(s->unit));
    json_text(*l->datum ? l->datum : "gauge-line");
    fputs(", \"value\": ", stdout);
    json_number(s, l->value);
    fputs(", \"half95\": ", stdout);
    json_number(s, half_told(m->record.doubts, l->half95));
    put_verdict_json(s, m);
}

/* ---------------------------------------------------------------- diameter */

/* "9.98mm": two digits behind the point, so a step of 0.01 mm. */
static double step_of(const char *text, jaw_unit unit)
{
    const char *point = strchr(text, '.');
    size_t digits = point ? strspn(point + 1, "0123456789") : 0, used;
    double value;

    if (jaw_number_read(text, strlen(text), &value, &used) == JAW_OK)
        unit_read(text + used, &unit);
    return jaw_unit_mm(unit) * pow(10, -(double)digits);
}

static bool diameter_read(const char *text, const shop *s, tool_job *j)
{
    double *d = &j->diameter[j->n_diameters++];

    if (!length_read(text, s->unit, d)) {
        complain("a number with a point, such as 9.985; several with commas",
                 "--diameter: `%s' is no diameter", text);
        return false;
    }
    if (!(*d > 0)) {
        complain("what a micrometer shows", "--diameter: `%s' is not more "
                 "than 0", text);
        return false;
    }
    j->step = fmin(j->step, step_of(text, s->unit));
    return true;
}

/* 9,98 is one diameter with a comma for the point, or two of 9 and 98. */
static bool points_given(const arguments *args)
{
    const char *word = args->value[OPT_DIAMETER], *comma;

    for (; word != NULL && strchr(args->value[OPT_DIAMETER], ',') != NULL;
         word = comma != NULL ? comma + 1 : NULL) {
        comma = strchr(word, ',');
        const char *point = strchr(word, '.');
        if (point != NULL && (comma == NULL || point < comma))
            continue;
        complain("a number has a point, as 9.98; of several with commas each "
                 "has one, as 9.98,10.0",
                 "--diameter: `%s' may be one or several",
                 args->value[OPT_DIAMETER]);
        return false;
    }
    return true;
}

/* Before anything is written: a slip in one value leaves the other one out
 * too. */
static bool diameters_given(const arguments *args, const shop *s, tool_job *j)
{
    const char *given = args->value[OPT_DIAMETER];
    char text[2000], *next = text;

    if (given == NULL)
        return true;
    if (!points_given(args))
        return false;
    j->step = (double)INFINITY;
    j->diameter = calloc(strlen(given) / 2 + 1, sizeof *j->diameter);
    if (j->diameter == NULL || strlen(given) >= sizeof text) {
        complain(NULL, j->diameter ? "--diameter: too many" : "out of memory");
        return false;
    }
    memcpy(text, given, strlen(given) + 1);
    while (next != NULL) {
        char *word = next;
        next = strchr(word, ',');
        if (next != NULL)
            *next++ = '\0';
        if (!diameter_read(word, s, j))
            return false;
    }
    return true;
}

static bool gauge_read(const arguments *args, const shop *s, const tool_job *j,
                       const jaw_book_touch *t, jaw_book_gauge *g)
{
    *g = (jaw_book_gauge){.machine = s->machine, .number = j->number,
                          .holder = t->holder, .reading = j->diameter,
                          .n = j->n_diameters,
                          .repeat = j->n == 0 ? t->repeat : (double)NAN,
                          .step = j->step, .fresh = t->fresh,
                          .beside = j->n > 0, .unit = s->unit,
                          .at = s->at};
    return option_length(args, OPT_DIAMETER_REPEAT, s->unit, false, &g->repeat);
}

/* A diameter is worn by what it is less than the first of this cutter. */
static bool first_diameter(void *user, const jaw_book_record *r)
{
    if (r->undone || (r->doubts & JAW_BOOK_SLIPS))
        return true;
    *(double *)user = r->as.diameter.value;
    return !(r->as.diameter.fresh ||
             jaw_book_change_ends(r->as.diameter.change));
}

static const char *diameter_text(jaw_book_change change)
{
    return change == JAW_CHANGE_WORN ? "smaller by a little: worn"
                                     : jaw_book_change_text(change);
}

static void put_diameter(const shop *s, const jaw_book_measured *m,
                         double first, long long id)
{
    const jaw_book_diameter *d = &m->record.as.diameter;
    const jaw_book_verdict *v = &m->verdict;

    printf("diameter     %s %s", mm_text(s, d->value, 0).s,
           jaw_unit_word(s->unit));
    if (m->record.doubts & JAW_BOOK_SCATTER)
        fputs(" +- not told: the readings disagree", stdout);
    else if (!isnan(d->half95))
        printf(" +- %s (95 %%)", mm_text(s, d->half95, 1).s);
    printf(", %s since it was new; entry %lld\n",
           mm_text(s, d->value - first, 0).s, id);
    if (v->last_id != 0 && !d->fresh)
        put_verdict(s, v, diameter_text(v->change), "diameter");
}

static void put_diameter_json(const shop *s, const jaw_book_measured *m,
                              long long id)
{
    const jaw_book_diameter *d = &m->record.as.diameter;

    printf("{\"entry\": %lld, \"value\": ", id);
    json_number(s, d->value);
    fputs(", \"half95\": ", stdout);
    json_number(s, half_told(m->record.doubts, d->half95));
    put_verdict_json(s, m);
    putchar('}');
}

/* --------------------------------------------------------------- write down */

/* What was measured, and as which entries it stands; both are written together,
 * so that they are undone together. */
typedef struct measured {
    jaw_book_measured length, diameter;
    bool has_length, has_diameter;
    long long length_id, diameter_id;
    char *text;
} measured;

/* All registers hold differences to the reference tool (DESIGN): when its own
 * length is another one, by what the display shows, so are they. */
static bool all_differ(const shop *s, const jaw_book_measured *m)
{
    const jaw_book_machine *a = &s->about;
    const jaw_book_length *l = &m->record.as.length;
    double now = jaw_round_to_step(l->value, a->step);
    double then = jaw_round_to_step(m->verdict.last, a->step);

    if (m->verdict.change == JAW_CHANGE_NOISE && m->verdict.first_id == 0)
        return false; /* the registers are as right as they were */
    return a->lengths == JAW_REFERENCE_TOOL && l->number == a->reference &&
           m->verdict.last_id != 0 && fabs(now - then) > a->step / 2;
}

static jaw_status measure(const arguments *args, shop *s, jaw_book_touch *t,
                          const jaw_book_gauge *g, measured *m)
{
    jaw_status status = JAW_OK;

    m->has_length = t->n > 0 || g->n == 0;
    m->has_diameter = g->n > 0;
    t->text = m->text = last_text(s, args, t->number, t->holder);
    if (m->text == NULL)
        return JAW_ENOMEM;
    if (m->has_length)
        status = jaw_book_measure(s->book, t, &m->length);
    if (m->has_diameter && status == JAW_OK)
        status = jaw_book_measure_diameter(s->book, g, &m->diameter);
    return status;
}

static jaw_status write_both(shop *s, measured *m)
{
    jaw_book_record r[2];
    size_t n = 0;
    long long id;

    if (m->has_length)
        r[n++] = m->length.record;
    if (m->has_diameter)
        r[n++] = m->diameter.record;
    jaw_status status = jaw_book_add_all(s->book, r, n, &id);
    if (status != JAW_OK)
        return status;
    m->length_id = id;
    m->diameter_id = id + (m->has_length ? 1 : 0);
    if (m->has_length)
        m->length.record = r[0];
    if (m->has_diameter)
        m->diameter.record = r[n - 1];
    return JAW_OK;
}

/* What comes from a prompt and may be a slip is not written unasked.  Its
 * doubts are told by then. */
static bool kept_nevertheless(const tool_job *j, const measured *m)
{
    char line[200];

    if (!j->asked || !((m->length.record.doubts | m->diameter.record.doubts) &
                       (JAW_BOOK_SLIPS | JAW_BOOK_HOLDER)))
        return true;
    return ask("write it down nevertheless? (y; empty leaves): ", line,
               sizeof line) == GIVEN &&
           strchr("yY", line[strspn(line, " \t")]) != NULL;
}

static void put_both_json(const shop *s, const measured *m,
                          const jaw_book_gauge *g)
{
    if (m->has_length) {
        put_json(s, &m->length, m->length_id);
        printf(", \"enter_again\": %s",
               all_differ(s, &m->length) ? "true" : "false");
    } else {
        put_json_head(s, g->number, g->holder);
    }
    if (m->has_diameter) {
        fputs(", \"diameter\": ", stdout);
        put_diameter_json(s, &m->diameter, m->diameter_id);
    }
    puts("}");
}

static jaw_status put_both(shop *s, const measured *m)
{
    const jaw_book_measured *length = &m->length;
    double first = (double)NAN;
    jaw_status status = JAW_OK;

    if (m->has_length) {
        put_length(s, length, m->length_id);
        put_register(s, length);
        put_change(s, length);
        put_slip(length, m->length_id);
    }
    if (m->has_diameter) {
        status = jaw_book_history(s->book, JAW_BOOK_DIAMETER, s->machine,
                                  m->diameter.subject, 0, first_diameter,
                                  &first);
        put_diameter(s, &m->diameter, first, m->diameter_id);
        put_slip(&m->diameter, m->diameter_id);
    }
    if (status == JAW_OK && m->has_length && all_differ(s, length) &&
        !(length->record.doubts & JAW_BOOK_SLIPS))
        return tools_enter_again(s, "the reference tool has another length "
                                    "now");
    return status;
}

static int run(const arguments *args, shop *s, tool_job *j)
{
    jaw_book_touch t;
    jaw_book_gauge g;
    measured m = {0};

    if (!touch_read(args, s, j, &t) || !diameters_given(args, s, j) ||
        !gauge_read(args, s, j, &t, &g))
        return shop_leave(s);
    jaw_status status = measure(args, s, &t, &g, &m);
    shop_tell(s);
    if (status == JAW_OK && !kept_nevertheless(j, &m)) {
        fputs("nothing was written\n", stderr);
        free(m.text);
        return shop_close(s, JAW_OK);
    }
    if (status == JAW_OK)
        status = write_both(s, &m);
    shop_tell(s);
    if (status == JAW_OK && args->value[OPT_JSON] != NULL)
        put_both_json(s, &m, &g);
    else if (status == JAW_OK)
        status = put_both(s, &m);
    free(m.text);
    return shop_close(s, status);
}

/* What is not on the command line; false: left. */
static bool ask_all(const arguments *args, tool_job *j, shop *s)
{
    holders h = {0};

    if (j->number == 0 && !ask_number(j))
        return false;
    h.number = j->number;
    if (s->book != NULL && args->value[OPT_HOLDER] == NULL &&
        holders_find(s, &h) == JAW_OK &&
        h.n > 0 && !ask_holder(j, &h))
        return false;
    return ask_readings(j, s->unit);
}

/* Readings by the prompt come before the book is opened for writing, so that
 * leaving makes no file; the unit is that of the book, if there is one. */
static bool ask_first(const arguments *args, tool_job *j, bool *left)
{
    shop s = {.unit = JAW_MM};

    *left = false;
    if (!on_terminal()) {
        complain("such as `jawline tool 3 -8.1234'; see `jawline tool --help'",
                 j->number == 0 ? "which tool is not said"
                                : "there is no reading");
        return false;
    }
    if (book_is_there(args)) {
        if (!shop_open(args, JAW_BOOK_READ, &s))
            return false;
    } else if (!option_unit(args, &s.unit)) {
        return false;
    }
    j->asked = true;
    j->reading = calloc(READINGS_MAX, sizeof *j->reading);
    *left = j->reading != NULL && !ask_all(args, j, &s);
    shop_close(&s, JAW_OK);
    if (*left)
        fputs("nothing was written\n", stderr);
    return j->reading != NULL;
}

int command_tool(const arguments *args)
{
    bool left = false;
    const char *holder = args->value[OPT_HOLDER];
    tool_job j = {.holder = holder ? holder : ""};
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
    free(j.diameter);
    return answer;
}
