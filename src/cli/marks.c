/* SPDX-License-Identifier: GPL-3.0-or-later */
/* marks.c: `jawline marks' and `jawline fixtures': what the book has of a
 * machine's marks, vises and fixtures, and the history of one. */
#include "homed.h"

#include <math.h>

typedef struct list {
    const shop *s;
    bool json, history;
    size_t n;
} list;

/* ------------------------------------------------------------------- marks */

static void put_mark_json(list *l, const jaw_book_record *r)
{
    const jaw_book_mark *m = &r->as.mark;

    fputs(l->n > 0 ? ", {\"name\": " : "{\"name\": ", stdout);
    json_text(r->subject);
    printf(", \"entry\": %lld, \"at_ms\": %lld, ", r->id, r->at);
    mark_json(l->s, m);
    printf(", \"readings\": %zu, \"move\": \"%s\", \"since\": %lld, "
           "\"undone\": %s}",
           r->n_readings, jaw_book_move_word(m->move), m->since,
           r->undone ? "true" : "false");
}

static bool take_mark(void *user, const jaw_book_record *r)
{
    list *l = user;
    const jaw_book_mark *m = &r->as.mark;

    if (l->json) {
        put_mark_json(l, r);
        l->n++;
        return true;
    }
    if (l->n++ == 0)
        printf("%-12s %-8s %12s %12s %12s  %10s  %-16s  %6s  %s\n", "name",
               "what", "X", "Y", "Z", "+- (95 %)", "as of (UTC)", "entry",
               "since the time before");
    printf("%-12s %-8s", r->subject, mark_what(m));
    put_place(l->s, m->at);
    printf("  %10s  %s  %6lld  %s%s\n", mm_text(l->s, mark_half(m), 1).s,
           date_text(r->at).s, r->id, jaw_book_move_word(m->move),
           r->undone ? "  (undone)" : "");
    return true;
}

/* ---------------------------------------------------------------- fixtures */

static void put_fixture_json(list *l, const jaw_book_record *r)
{
    static const char *const name[4] = {"x", "y", "z", "skew"};
    const jaw_book_fixture *f = &r->as.fixture;

    fputs(l->n > 0 ? ", {\"name\": " : "{\"name\": ", stdout);
    json_text(r->subject);
    fputs(", \"text\": ", stdout);
    json_text(f->text);
    printf(", \"entry\": %lld, \"at_ms\": %lld", r->id, r->at);
    for (int k = 0; k < 4; k++) {
        fputs(", ", stdout);
        figure_json(l->s, name[k], &f->at[k], k == 3);
    }
    fputs(", \"jaw_width\": ", stdout);
    json_number(l->s, f->jaw_width);
    fputs(", \"jaw_height\": ", stdout);
    json_number(l->s, f->jaw_height);
    fputs(", \"opening\": ", stdout);
    json_number(l->s, f->opening);
    fputs(", \"parallels\": ", stdout);
    json_number(l->s, f->parallels);
    printf(", \"stood\": %s, \"new\": %s, \"move\": \"%s\", \"since\": %lld, "
           "\"undone\": %s}",
           f->stood ? "true" : "false", f->fresh ? "true" : "false",
           jaw_book_move_word(f->move), f->since,
           r->undone ? "true" : "false");
}

static const char *how(const jaw_book_fixture *f)
{
    return f->fresh  ? "set there anew"
           : f->stood && f->move != JAW_MOVE_CARRIED ? "stood"
                                                     : "";
}

static void put_size(const shop *s, const char *name, double mm)
{
    if (!isnan(mm))
        printf("  %s %s", name, mm_text(s, mm, 0).s);
}

static void put_sizes(const shop *s, const jaw_book_fixture *f)
{
    if (isnan(f->jaw_width) && isnan(f->jaw_height) && isnan(f->opening) &&
        isnan(f->parallels))
        return;
    printf("%14s", "");
    put_size(s, "jaws: width", f->jaw_width);
    put_size(s, "height", f->jaw_height);
    put_size(s, "opening", f->opening);
    put_size(s, "parallels", f->parallels);
    puts("");
}

static bool take_fixture(void *user, const jaw_book_record *r)
{
    list *l = user;
    const jaw_book_fixture *f = &r->as.fixture;

    if (l->json) {
        put_fixture_json(l, r);
        l->n++;
        return true;
    }
    if (l->n++ == 0)
        printf("%-14s %12s %12s %12s %10s  %-16s  %6s  %s\n", "name", "X", "Y",
               "Z", "skew, deg", "as of (UTC)", "entry",
               "since the time before");
    printf("%-14s", r->subject);
    put_place(l->s, f->at);
    printf(" %10s  %s  %6lld  %s%s%s%s%s%s\n",
           isnan(f->at[3].value) ? "-" : angle_text(f->at[3].value, 4).s,
           date_text(r->at).s, r->id, jaw_book_move_word(f->move),
           *how(f) ? ", " : "", how(f), *f->text ? "  " : "", f->text,
           r->undone ? "  (undone)" : "");
    if (!l->history)
        put_sizes(l->s, f);
    return true;
}

/* ---------------------------------------------------------------- commands */

/* What is listed, as the command is called and as one of it is. */
typedef struct listed {
    jaw_book_kind kind;
    const char *word, *one;
    jaw_book_take take;
} listed;

static jaw_status read_list(const arguments *args, shop *s, const listed *what,
                            list *l)
{
    if (l->json) {
        fputs("{\"machine\": ", stdout);
        json_text(s->machine);
        printf(", \"unit\": \"%s\", \"%s\": [", jaw_unit_word(s->unit),
               what->word);
    }
    jaw_status status =
        l->history ? jaw_book_history(s->book, what->kind, s->machine,
                                      args->operand[0], 0, what->take, l)
                   : jaw_book_current(s->book, what->kind, s->machine,
                                      what->take, l);
    if (l->json)
        puts("]}");
    return status;
}

static void complain_none(const arguments *args, const shop *s,
                          const listed *what)
{
    char cure[80];

    snprintf(cure, sizeof cure, "find one, `jawline %s SHEET --keep'",
             what->one);
    if (args->operands > 0)
        complain(cure, "the book has no %s `%s' of the machine `%s'", what->one,
                 args->operand[0], s->machine);
    else
        complain(cure, "the book has no %s of the machine `%s'", what->one,
                 s->machine);
}

static int run(const arguments *args, const listed *what)
{
    list l = {.json = args->value[OPT_JSON] != NULL,
              .history = args->operands > 0};
    shop s;

    if (args->operands > 1) {
        complain("one name", "`%s' is one operand too many",
                 args->operand[1]);
        return EXIT_USAGE;
    }
    if (!shop_open(args, JAW_BOOK_READ, &s))
        return EXIT_USAGE;
    l.s = &s;
    jaw_status status = read_list(args, &s, what, &l);
    bool none = status == JAW_OK && l.n == 0;
    if (none)
        complain_none(args, &s, what);
    int answer = shop_close(&s, status);
    return none && l.history ? EXIT_USAGE : answer;
}

int command_marks(const arguments *args)
{
    static const listed what = {JAW_BOOK_MARK, "marks", "mark", take_mark};

    return run(args, &what);
}

int command_fixtures(const arguments *args)
{
    static const listed what = {JAW_BOOK_FIXTURE, "fixtures", "fixture",
                                take_fixture};

    return run(args, &what);
}
