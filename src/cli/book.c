/* SPDX-License-Identifier: GPL-3.0-or-later */
/* book.c: `jawline book`: look after it. */
#include "shop.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What may stand behind an action: how many, an entry or none, a file that is
 * made, one that is read. */
typedef enum takes { NOTHING, COUNT, ENTRY, NEW_FILE, OLD_FILE } takes;

#define ACTION_LIST(X)                                                         \
    X(log, COUNT, JAW_BOOK_READ)                                               \
    X(check, NOTHING, JAW_BOOK_READ)                                           \
    X(undo, ENTRY, JAW_BOOK_WRITE)                                             \
    X(backup, NEW_FILE, JAW_BOOK_READ)                                         \
    X(export, NEW_FILE, JAW_BOOK_READ)                                         \
    X(import, OLD_FILE, JAW_BOOK_WRITE)

typedef struct job {
    shop s;
    const char *operand; /* NULL: none */
    input in;            /* what an OLD_FILE says */
} job;

/* --------------------------------------------------------------------- log */

static void put_tool(int number, const char *holder)
{
    printf(" tool %d%s%s", number, *holder ? " in " : "", holder);
}

static void put_subject(const jaw_book_record *r)
{
    const jaw_book_length *l = &r->as.length;

    switch (r->kind) {
    case JAW_BOOK_UNDO:
        printf(" of entry %lld", r->undoes);
        break;
    case JAW_BOOK_LENGTH:
        put_tool(l->number, l->holder);
        if (*l->datum)
            printf(" above '%s'", l->datum);
        break;
    case JAW_BOOK_ENTERED:
        printf(" %s, shown", r->subject);
        break;
    case JAW_BOOK_DIAMETER:
        put_tool(r->as.diameter.number, r->as.diameter.holder);
        break;
    default:
        printf("%s%s", *r->subject ? " " : "", r->subject);
        break;
    }
}

/* Newest first: what was written together comes before the entry that stands
 * for it, and is counted there. */
typedef struct log_lines {
    int left;
    long long id;   /* of the last line */
    int parts;      /* seen of the next one */
    long long last; /* of them */
} log_lines;

/* One figure of an entry, in the unit in which it was typed, a digit finer than
 * any control shows. */
static void put_length(const char *word, double mm, jaw_unit unit)
{
    char number[40] = "?";

    if (isnan(mm))
        return;
    jaw_number_write(mm / jaw_unit_mm(unit), unit == JAW_IN ? 5 : 4, number,
                     sizeof number);
    printf(" %s%s%s %s", word, *word ? " " : "", number,
           jaw_unit_word(unit));
}

static void put_axes(const jaw_figure at[], jaw_unit unit)
{
    for (int k = 0; k < 3; k++)
        put_length(jaw_book_axis_word((unsigned)k), at[k].value, unit);
}

static void put_travel(const jaw_book_machine *m)
{
    for (int k = 0; k < 3; k++) {
        if (isnan(m->low[k]))
            continue;
        put_length(jaw_book_axis_word((unsigned)k), m->low[k], m->unit);
        put_length("to", m->high[k], m->unit);
    }
}

static void put_shown(const jaw_book_entered *e)
{
    char number[40] = "?";

    if (e->axis != 3)
        put_length("", e->shown, e->unit);
    else if (jaw_number_write(jaw_deg(e->shown), 4, number, sizeof number) ==
             JAW_OK)
        printf(" %s deg", number);
}

static void put_values(const jaw_book_record *r)
{
    const jaw_book_offset *o = &r->as.offset;

    switch (r->kind) {
    case JAW_BOOK_LENGTH:
        put_length("", r->as.length.value, r->as.length.unit);
        break;
    case JAW_BOOK_DIAMETER:
        put_length("", r->as.diameter.value, r->as.diameter.unit);
        break;
    case JAW_BOOK_HEIGHT:
        put_length("", r->as.height.value, r->as.height.unit);
        break;
    case JAW_BOOK_TIP: put_length("", r->as.tip.value, r->as.tip.unit); break;
    case JAW_BOOK_OFFSET: put_length("", o->length.value, o->unit); break;
    case JAW_BOOK_MACHINE: put_travel(&r->as.machine); break;
    case JAW_BOOK_MARK: put_axes(r->as.mark.at, r->as.mark.unit); break;
    case JAW_BOOK_FIXTURE:
        put_axes(r->as.fixture.at, r->as.fixture.unit);
        break;
    case JAW_BOOK_ZERO: put_axes(r->as.zero.at, r->as.zero.unit); break;
    case JAW_BOOK_ENTERED: put_shown(&r->as.entered); break;
    case JAW_BOOK_UNDO:
    case JAW_BOOK_SETUP:
    case JAW_BOOK_KINDS: break;
    }
}

/* What every line about an entry begins with. */
static void put_line(const jaw_book_record *r)
{
    printf("%6lld  %s  %-9s", r->id, date_text(r->at).s,
           jaw_book_kind_word(r->kind));
    put_subject(r);
    if (*r->machine)
        printf(" on %s", r->machine);
    put_values(r);
}

static bool put_entry(void *user, const jaw_book_record *r)
{
    log_lines *l = user;

    if (r->part_of > 0) {
        l->last = l->parts++ == 0 ? r->id : l->last;
        return true;
    }
    put_line(r);
    if (l->parts > 0)
        printf(", and %d more, to entry %lld", l->parts, l->last);
    l->parts = 0;
    l->id = r->id;
    put_entry_end(r);
    putchar('\n');
    return --l->left > 0;
}

static jaw_status run_log(job *j)
{
    enum { LINES = 40, MOST = INT_MAX };
    const char *most = j->operand;
    char *end = NULL;
    long lines = most ? strtol(most, &end, 10) : LINES;
    log_lines l = {.left = (int)lines};
    long long older = 0;

    if (most != NULL && (*end != '\0' || lines < 1 || lines > MOST)) {
        complain("such as `jawline book log 100'",
                 "`%s' is no number of entries", most);
        return JAW_ESYNTAX;
    }
    jaw_status status = jaw_book_log(j->s.book, 0, put_entry, &l);
    if (status == JAW_OK && l.left == 0)
        status = jaw_book_older(j->s.book, l.id, &older);
    if (status == JAW_OK && older > 0)
        printf("and %lld older: `jawline book log %lld' shows them too\n",
               older, lines + older);
    return status;
}

static jaw_status run_check(job *j)
{
    long long n;
    jaw_status status = jaw_book_check(j->s.book, &n);

    if (status == JAW_OK)
        printf("the book is whole: %lld entr%s\n", n, n == 1 ? "y" : "ies");
    return status;
}

/* What does not hold any more, as in the log. */
static bool put_undone(void *user, const jaw_book_record *r)
{
    *(long long *)user = r->id;
    put_line(r);
    putchar('\n');
    return true;
}

static jaw_status put_way_back(shop *s, long long undone)
{
    long long by = 0;
    jaw_status status = jaw_book_undone_by(s->book, undone, &by);

    if (status == JAW_OK && by > 0)
        printf("to take this back: `jawline book undo %lld'\n", by);
    return status;
}

static jaw_status run_undo(job *j)
{
    shop *s = &j->s;
    const char *number = j->operand;
    char *end = NULL;
    long long id = number ? strtoll(number, &end, 10) : 0, undone;

    if (number != NULL && (*end != '\0' || id < 1)) {
        complain("`jawline book log' lists them", "`%s' is no entry", number);
        return JAW_ESYNTAX;
    }
    jaw_status status = jaw_book_undo(s->book, id, s->at, &undone);
    if (status != JAW_OK)
        return status;
    long long last = undone;
    jaw_book_record first;
    status = jaw_book_get(s->book, undone, &first);
    if (status == JAW_OK)
        put_undone(&last, &first);
    if (status == JAW_OK)
        status = jaw_book_parts(s->book, undone, put_undone, &last);
    if (last > undone)
        printf("entries %lld to %lld do not hold any more\n", undone, last);
    else
        printf("entry %lld does not hold any more\n", undone);
    return status == JAW_OK ? put_way_back(s, undone) : status;
}

/* ------------------------------------------------------------------- files */

static jaw_status run_backup(job *j)
{
    jaw_status status = jaw_book_backup(j->s.book, j->operand);

    if (status == JAW_OK)
        printf("copied to %s\n", j->operand);
    return status;
}

/* What is written; it may fail where the book can be read, and the other way
 * round. */
typedef struct paper {
    FILE *f;
    bool failed;
} paper;

static bool put_piece(void *user, const char *text, size_t len)
{
    paper *p = user;

    p->failed = fwrite(text, 1, len, p->f) != len;
    return !p->failed;
}

static jaw_book_form form_of(const char *file)
{
    size_t len = strlen(file);

    return len >= 4 && strcmp(file + len - 4, ".csv") == 0 ? JAW_BOOK_CSV
                                                           : JAW_BOOK_JSON;
}

/* No file stays that is half of a book. */
static jaw_status run_export(job *j)
{
    const char *file = j->operand;
    bool standard = strcmp(file, "-") == 0;
    paper p = {.f = standard ? stdout : fopen(file, "wx")};

    if (p.f == NULL) {
        complain("name another one, or see to its folder",
                 "`%s' can not be made, or is there already", file);
        return JAW_EIO;
    }
    jaw_status status =
        jaw_book_export(j->s.book, form_of(file), put_piece, &p);
    if (standard)
        return status;
    if (fclose(p.f) != 0 && status == JAW_OK)
        p.failed = true;
    if (p.failed)
        complain("make room, then try again", "`%s' can not be written", file);
    if (status != JAW_OK || p.failed)
        remove(file);
    return p.failed ? JAW_EIO : status;
}

static jaw_status run_import(job *j)
{
    long long added, held;
    jaw_status status = jaw_book_import(j->s.book, j->in.text, j->in.len,
                                        j->in.name, j->s.at, &added, &held);

    if (status == JAW_OK)
        printf("%lld entr%s written, %lld held already\n", added,
               added == 1 ? "y" : "ies", held);
    return status;
}

/* ------------------------------------------------------------------ command */

typedef struct action {
    const char *word;
    takes takes;
    jaw_book_use use;
    jaw_status (*run)(job *j);
} action;

static const action actions[] = {
#define ACTION(word, takes, use) {#word, takes, use, run_##word},
    ACTION_LIST(ACTION)
#undef ACTION
};

enum { ACTIONS = sizeof actions / sizeof actions[0] };

static const action *action_find(const char *word)
{
    const char *words[ACTIONS];

    for (int i = 0; i < ACTIONS; i++) {
        words[i] = actions[i].word;
        if (strcmp(word, words[i]) == 0)
            return &actions[i];
    }
    const char *near = jaw_word_nearest(word, words, ACTIONS);
    if (near)
        complain(NULL, "a book can not be `%s'; did you mean `%s'?", word,
                 near);
    else
        complain("it is log, check, undo, backup, export or import",
                 "what is to be done with the book: `%s'?", word);
    return NULL;
}

/* A file that can not be read makes no book: it is read first. */
static bool operand_read(const arguments *args, const action *a, job *j)
{
    static const char *const what[] = {"no operand",
                                       "how many entries to list",
                                       "one entry", "one file", "one file"};
    int given = args->operands > 0 ? args->operands - 1 : 0;

    if (given > (a->takes != NOTHING ? 1 : 0) ||
        (a->takes >= NEW_FILE && given == 0)) {
        complain("see `jawline book --help'", "`book %s' takes %s", a->word,
                 what[a->takes]);
        return false;
    }
    j->operand = given > 0 ? args->operand[1] : NULL;
    return a->takes != OLD_FILE || input_read(j->operand, &j->in);
}

/* In a book that is not there is nothing to undo: none is made for that. */
static jaw_book_use use_of(const arguments *args, const action *a)
{
    return a->takes == ENTRY && !book_is_there(args) ? JAW_BOOK_READ : a->use;
}

int command_book(const arguments *args)
{
    const action *a = action_find(args->operands ? args->operand[0] : "log");
    job j = {.operand = NULL};
    int answer = EXIT_USAGE;

    if (a == NULL || !operand_read(args, a, &j))
        return EXIT_USAGE;
    if (shop_open(args, use_of(args, a), &j.s))
        answer = shop_close(&j.s, a->run(&j));
    input_drop(&j.in);
    return answer;
}
