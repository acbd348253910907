/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tools.c: `jawline tools`: what to enter in every length register, and the
 * history of one tool. */
#include "tools.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ------------------------------------------------------------------ current */

typedef struct row {
    jaw_book_length l;
    char holder[JAW_BOOK_NAME_SIZE], datum[JAW_BOOK_NAME_SIZE];
    char *text; /* whole: a letter may be several bytes */
    char subject[JAW_BOOK_SUBJECT_SIZE];
    long long at, id;
    unsigned doubts;
    jaw_book_rise rise; /* since, where it was read above the part */
    size_t n; /* readings */
    bool based; /* on a height that is undone */
    bool twice; /* of a reference: in two holders */
} row;

typedef struct rows {
    row *row;
    size_t n, room;
    row *ref; /* the reference tool above each datum; id 0: there is none */
    size_t n_ref;
    int reference; /* that tool; 0: none */
    bool measured; /* it has lengths */
    bool failed;
    const char *holder; /* only these; NULL: all */
    int number;         /* 0: all */
} rows;

/* False without memory, and *one is as it was. */
static bool row_set(row *one, const jaw_book_record *r)
{
    const jaw_book_length *l = &r->as.length;
    char *text = strdup(l->text);

    if (text == NULL)
        return false;
    *one = (row){.l = *l, .text = text, .at = r->at, .id = r->id,
                 .doubts = r->doubts, .n = r->n_readings};
    snprintf(one->holder, sizeof one->holder, "%s", l->holder);
    snprintf(one->datum, sizeof one->datum, "%s", l->datum);
    snprintf(one->subject, sizeof one->subject, "%s", r->subject);
    return true;
}

static bool take_row(void *user, const jaw_book_record *r)
{
    rows *all = user;
    const jaw_book_length *l = &r->as.length;

    all->measured = all->measured || l->number == all->reference;
    if ((all->number != 0 && l->number != all->number) ||
        (all->holder != NULL && strcmp(l->holder, all->holder) != 0))
        return true;
    if (all->n == all->room) {
        size_t room = 2 * all->room + 16;
        row *more = realloc(all->row, room * sizeof *more);
        if (more == NULL) {
            all->failed = true;
            return false;
        }
        all->row = more;
        all->room = room;
    }
    if (!row_set(&all->row[all->n], r)) {
        all->failed = true;
        return false;
    }
    all->n++;
    return true;
}

static void rows_drop(rows *all)
{
    for (size_t i = 0; i < all->n; i++)
        free(all->row[i].text);
    for (size_t i = 0; i < all->n_ref; i++)
        free(all->ref[i].text);
    free(all->row);
    free(all->ref);
}

/* The texts of a row are its own once it stays where it is. */
static void settle(row *one)
{
    one->l.holder = one->holder;
    one->l.datum = one->datum;
    one->l.text = one->text;
    one->l.on = one->l.through = "";
}

static int by_tool(const void *a, const void *b)
{
    const row *x = a, *y = b;
    int holder = strcmp(x->holder, y->holder);

    if (x->l.number != y->l.number)
        return x->l.number < y->l.number ? -1 : 1;
    if (holder != 0)
        return holder;
    return strcmp(x->datum, y->datum);
}

/* Rows that were measured by one height often follow one another. */
static jaw_status base_undone(shop *s, const row *one, long long *asked,
                              bool *undone)
{
    jaw_book_record base = {.undone = false};
    jaw_status status = JAW_OK;

    if (one->l.surface != *asked) {
        *asked = one->l.surface;
        *undone = false;
        if (*asked > 0)
            status = jaw_book_get(s->book, *asked, &base);
        if (*asked > 0 && status == JAW_OK)
            *undone = base.undone;
    }
    return status;
}

/* What is in doubt is said, before the values, and gives way to what was before
 * it. */
static jaw_status rows_sound(shop *s, rows *all)
{
    jaw_status status = JAW_OK;
    jaw_book_record r;
    char subject[JAW_BOOK_SUBJECT_SIZE];
    long long asked = 0;
    bool undone = false;

    for (size_t i = 0; i < all->n && status == JAW_OK; i++) {
        status = base_undone(s, &all->row[i], &asked, &undone);
        if (status != JAW_OK || !(all->row[i].doubts || undone))
            continue;
        memcpy(subject, all->row[i].subject, sizeof subject);
        status = jaw_book_length_find(s->book, s->machine, subject, &r);
        char *was = all->row[i].text;
        if (status == JAW_OK && !row_set(&all->row[i], &r))
            status = JAW_ENOMEM;
        else if (status == JAW_OK)
            free(was);
        if (status == JAW_OK) /* it may be another one now */
            status = base_undone(s, &all->row[i], &asked, &undone);
        all->row[i].based = undone;
    }
    return status;
}

static jaw_status rise_of(shop *s, row *one)
{
    return *one->datum ? jaw_book_rise_since(s->book, s->machine, one->id,
                                             &one->rise)
                       : JAW_OK;
}

/* Above a datum that no other row before it has. */
static jaw_status add_reference(shop *s, rows *all, const char *datum)
{
    jaw_book_record r;
    row *one = all->ref;

    for (size_t i = 0; i < all->n_ref; i++)
        if (strcmp(one[i].datum, datum) == 0)
            return JAW_OK;
    one = realloc(all->ref, (all->n_ref + 1) * sizeof *one);
    if (one == NULL)
        return JAW_ENOMEM;
    all->ref = one;
    one += all->n_ref++;
    *one = (row){.id = 0};
    snprintf(one->datum, sizeof one->datum, "%s", datum);
    jaw_status status = jaw_book_reference(s->book, s->machine,
                                           s->about.reference, datum, &r);
    one->twice = status == JAW_ECONFLICT;
    if (status == JAW_EUNKNOWN || status == JAW_ECONFLICT)
        return JAW_OK;
    if (status == JAW_OK && !row_set(one, &r))
        status = JAW_ENOMEM;
    return status == JAW_OK ? rise_of(s, one) : status;
}

static jaw_status references_read(shop *s, rows *all)
{
    jaw_status status = JAW_OK;

    for (size_t i = 0; i < all->n && status == JAW_OK; i++)
        status = add_reference(s, all, all->row[i].datum);
    for (size_t i = 0; i < all->n_ref; i++)
        settle(&all->ref[i]);
    return status;
}

static jaw_status rows_read(shop *s, rows *all, jaw_length_rule rule)
{
    all->reference = s->about.reference;
    jaw_status status = jaw_book_current(s->book, JAW_BOOK_LENGTH, s->machine,
                                         take_row, all);

    if (all->failed)
        return JAW_ENOMEM;
    if (status == JAW_OK)
        status = rows_sound(s, all);
    if (all->n > 0)
        qsort(all->row, all->n, sizeof *all->row, by_tool);
    for (size_t i = 0; i < all->n; i++)
        settle(&all->row[i]);
    for (size_t i = 0; i < all->n && status == JAW_OK; i++)
        status = rise_of(s, &all->row[i]);
    if (status == JAW_OK && rule == JAW_REFERENCE_TOOL &&
        s->about.reference > 0)
        status = references_read(s, all);
    shop_tell(s);
    return status;
}

/* ---------------------------------------------------------------- registers */

bool rule_read(const arguments *args, jaw_length_rule *rule)
{
    jaw_length_rule given;

    if (!lengths_read(args, &given))
        return false;
    if (given != JAW_LENGTH_RULES)
        *rule = given;
    return true;
}

/* What it read above the part before the machine's Z moved is no reference. */
static bool reference_holds(shop *s, int number, const char *datum,
                            long long id)
{
    jaw_book_rise rise;

    if (*datum == '\0')
        return true;
    if (jaw_book_rise_since(s->book, s->machine, id, &rise) != JAW_OK)
        return false;
    if (rise.n > 0)
        jaw_book_rise_tell(s->book, s->machine, number, datum, &rise);
    return rise.n == 0;
}

bool reference_find(shop *s, const char *datum, jaw_book_length *length)
{
    static const char none[] = "";
    int number = s->about.reference;
    jaw_book_record r;

    if (number == 0 || jaw_book_reference(s->book, s->machine, number, datum,
                                          &r) != JAW_OK)
        return false;
    if (!reference_holds(s, number, datum, r.id))
        return false;
    *length = r.as.length;
    length->holder = length->text = length->on = length->through = none;
    length->datum = datum;
    return true;
}

/* What is known of the reference tool above the same datum; NULL: it was not
 * asked for. */
static const row *asked_of(const rows *all, const row *one)
{
    for (size_t i = 0; i < all->n_ref; i++)
        if (strcmp(all->ref[i].datum, one->datum) == 0)
            return &all->ref[i];
    return NULL;
}

/* Its length there; NULL: there is none. */
static const row *reference_of(const rows *all, const row *one)
{
    const row *ref = asked_of(all, one);

    return ref != NULL && ref->id > 0 ? ref : NULL;
}

/* Which row does not hold because the machine's Z moved; NULL: none.  Of two
 * readings above the same surface the difference stays, if both are older. */
static const row *risen_of(const rows *all, const row *one,
                           jaw_length_rule rule)
{
    const row *ref = reference_of(all, one);

    if (rule == JAW_TIP_TO_PART)
        return one->rise.n > 0 ? one : NULL;
    if (rule != JAW_REFERENCE_TOOL || ref == NULL ||
        ref->rise.n == one->rise.n)
        return NULL;
    return ref->rise.n > one->rise.n ? ref : one;
}

/* A reading on a part is the register of that part's Z 0, and of no other that
 * is given. */
static bool is_of_part(const row *one, jaw_length_rule rule, double work_z)
{
    return rule == JAW_TIP_TO_PART && !isnan(work_z) &&
           strcmp(one->datum, "part") == 0;
}

static bool register_of(const rows *all, const row *one, jaw_length_rule rule,
                        double work_z, double *value)
{
    const row *ref = reference_of(all, one);

    *value = (double)NAN;
    return !is_of_part(one, rule, work_z) && risen_of(all, one, rule) == NULL &&
           jaw_book_register(&one->l, rule, ref ? &ref->l : NULL, work_z,
                             value) == JAW_OK;
}

/* What a length knows beside its readings, without the surface that another one
 * touched as well. */
static double known_of(shop *s, const row *one, bool shared)
{
    double u = one->l.known, top;
    jaw_book_record r;

    if (!shared || one->l.surface == 0 ||
        jaw_book_get(s->book, one->l.surface, &r) != JAW_OK ||
        r.kind != JAW_BOOK_HEIGHT || isnan(r.as.height.u))
        return u;
    top = r.as.height.u;
    return sqrt(fmax(u - top, 0) * (u + top));
}

/* 95 %: a register that holds a difference has the reference's share as well,
 * and what both of them have in common drops out. */
static double register_half(const rows *all, const row *one, shop *s,
                            jaw_length_rule rule)
{
    const row *ref = reference_of(all, one);
    double half = half_told(one->doubts, one->l.half95);

    if (rule != JAW_REFERENCE_TOOL || ref == NULL)
        return half;
    if (ref->id == one->id)
        return one->doubts & JAW_BOOK_SCATTER ? half : 0;
    if (isnan(half) || isnan(half_told(ref->doubts, ref->l.half95)))
        return (double)NAN;
    bool shared = one->l.surface == ref->l.surface;
    double u[] = {one->l.repeat / sqrt((double)(one->n ? one->n : 1)),
                  ref->l.repeat / sqrt((double)(ref->n ? ref->n : 1))};
    double dof[] = {one->l.repeat_dof, ref->l.repeat_dof};
    return jaw_trust_among(u, dof, 2, hypot(known_of(s, one, shared),
                                            known_of(s, ref, shared)));
}

static const char *half_text(const shop *s, double half, number_text *text)
{
    if (isnan(half))
        return "no check";
    if (half <= 0)
        return "exact"; /* the reference tool against itself */
    *text = mm_text(s, half, 1);
    return text->s;
}

/* Each length once, before the table. */
static jaw_status tell_risen(shop *s, const rows *all, jaw_length_rule rule)
{
    jaw_status status = JAW_OK;

    for (size_t i = 0; i < all->n && status == JAW_OK; i++) {
        const row *old = risen_of(all, &all->row[i], rule);
        if (old != NULL)
            status = jaw_book_rise_tell(s->book, s->machine, old->l.number,
                                        old->datum, &old->rise);
    }
    shop_tell(s);
    return status;
}

/* What is to be entered, before the table. */
static jaw_status tell_outside(shop *s, const rows *all, jaw_length_rule rule,
                               double work_z)
{
    jaw_status status = JAW_OK;
    double value;

    for (size_t i = 0; i < all->n && status == JAW_OK; i++)
        if (register_of(all, &all->row[i], rule, work_z, &value))
            status = jaw_book_register_check(s->book, s->machine, rule,
                                             all->row[i].l.number, value);
    shop_tell(s);
    return status;
}

static const char *why_not(const rows *all, const row *one,
                           jaw_length_rule rule, const shop *s)
{
    const row *risen = risen_of(all, one, rule);
    const row *asked = asked_of(all, one);

    if (risen != NULL)
        return risen == one ? "found before the machine was homed, and its Z "
                              "moved: touch it once more"
                            : "the reference tool was found before the machine "
                              "was homed, and its Z moved: touch it once more";
    switch (rule) {
    case JAW_TIP_TO_PART:
        return *one->datum ? "touched on something else than the part"
                           : "--work-z, Z of the work zero, is not given";
    case JAW_REFERENCE_TOOL:
        return s->about.reference == 0
                   ? "no reference tool is known: `jawline machine "
                     "--reference'"
               : asked != NULL && asked->twice
                   ? "the reference tool is in two holders"
               : !all->measured
                   ? "the reference tool has no length in the book: `jawline "
                     "tool' measures it"
                   : "the reference tool was not measured in the same way";
    default:
        return "the height of what it touched is not known";
    }
}

/* Another row of the same tool that has a register says enough. */
static bool is_covered(const rows *all, const row *one, jaw_length_rule rule,
                       double work_z)
{
    double value;

    for (size_t i = 0; i < all->n; i++)
        if (&all->row[i] != one && all->row[i].l.number == one->l.number &&
            strcmp(all->row[i].holder, one->holder) == 0 &&
            register_of(all, &all->row[i], rule, work_z, &value))
            return true;
    return false;
}

static void put_part(const shop *s, const row *one)
{
    printf("      touched on a part it was %s, %s: of that part's Z 0, not of "
           "--work-z\n",
           mm_text(s, jaw_round_to_step(one->l.value, s->about.step), 0).s,
           date_text(one->at).s);
}

static void put_row(const rows *all, const row *one, shop *s,
                    jaw_length_rule rule, double work_z)
{
    double value;
    number_text half;
    bool known = register_of(all, one, rule, work_z, &value);
    bool covered = !known && is_covered(all, one, rule, work_z);

    if (covered && is_of_part(one, rule, work_z))
        put_part(s, one);
    if (covered)
        return;
    printf("%4d  %-10s %12s %10s  %s%s%s%s\n", one->l.number, one->holder,
           known ? mm_text(s, jaw_round_to_step(value, s->about.step), 0).s
                 : "?",
           known ? half_text(s, register_half(all, one, s, rule), &half) : "",
           date_text(one->at).s, *one->text ? "  " : "", one->text,
           one->doubts || one->based ? "  DOUBT" : "");
    if (!known && is_of_part(one, rule, work_z))
        put_part(s, one);
    else if (!known)
        printf("      %s\n", why_not(all, one, rule, s));
}

/* Two seatings differ by the root of two times what one lies off the middle. */
static void put_seat(const shop *s)
{
    if (s->about.seat > 0)
        printf("+- is of each tool as it sat when it was measured; put back, "
               "its tip lies within %s %s of that (95 %%)\n",
               mm_text(s, jaw_trust_within(sqrt(2) * s->about.seat,
                                           (double)INFINITY, 0), 1).s,
               jaw_unit_word(s->unit));
}

static void put_table(const rows *all, shop *s, jaw_length_rule rule,
                      double work_z)
{
    printf("length registers, %s, %s: %s\n", jaw_unit_word(s->unit),
           jaw_length_word(rule), jaw_length_text(rule));
    printf("%4s  %-10s %12s %10s  %-16s  %s\n", "tool", "holder", "enter",
           "+- (95 %)", "as of (UTC)", "what it is");
    for (size_t i = 0; i < all->n; i++)
        put_row(all, &all->row[i], s, rule, work_z);
    put_seat(s);
    putchar('\n');
    cautions_print();
}

static void put_row_json(const rows *all, const row *one, const shop *s,
                         jaw_length_rule rule, double work_z)
{
    const row *risen = risen_of(all, one, rule);
    double value;

    register_of(all, one, rule, work_z, &value);
    printf("{\"tool\": %d, \"holder\": ", one->l.number);
    json_text(one->holder);
    fputs(", \"text\": ", stdout);
    json_text(one->text);
    printf(", \"above\": ");
    json_text(*one->datum ? one->datum : "gauge-line");
    fputs(", \"value\": ", stdout);
    json_number(s, one->l.value);
    fputs(", \"half95\": ", stdout);
    json_number(s, half_told(one->doubts, one->l.half95));
    fputs(", \"register\": ", stdout);
    json_number(s, value);
    printf(", \"entry\": %lld, \"at_ms\": %lld, \"risen_by\": ", one->id,
           one->at);
    json_number(s, risen ? risen->rise.by : (double)NAN);
    if (risen == NULL)
        fputs(", \"risen_since\": null}", stdout);
    else
        printf(", \"risen_since\": %lld}", risen->rise.marks);
}

static void put_json(const rows *all, const shop *s, jaw_length_rule rule,
                     double work_z)
{
    printf("{\"machine\": \"%s\", \"unit\": \"%s\", \"lengths\": \"%s\", "
           "\"tools\": [",
           s->machine, jaw_unit_word(s->unit), jaw_length_word(rule));
    for (size_t i = 0; i < all->n; i++) {
        fputs(i > 0 ? ", " : "", stdout);
        put_row_json(all, &all->row[i], s, rule, work_z);
    }
    puts("]}");
}

jaw_status tools_enter_again(shop *s, const char *why)
{
    rows all = {0};
    jaw_status status = rows_read(s, &all, s->about.lengths);

    if (status == JAW_OK && all.n > 0) {
        status = tell_risen(s, &all, s->about.lengths);
        if (status == JAW_OK)
            status = tell_outside(s, &all, s->about.lengths, (double)NAN);
        printf("\n%s; every register must be entered again:\n", why);
        put_table(&all, s, s->about.lengths, (double)NAN);
    }
    rows_drop(&all);
    return status;
}

/* ------------------------------------------------------------------ history */

typedef struct past {
    const shop *s;
    double *x, *y; /* newest first; days and mm */
    size_t n, room, seen;
    bool ended, failed, json;
} past;

static bool keep_point(past *p, long long at, double value)
{
    if (p->n == p->room) {
        size_t room = 2 * p->room + 16;
        double *x = realloc(p->x, room * sizeof *x);
        if (x != NULL)
            p->x = x;
        double *y = realloc(p->y, room * sizeof *y);
        if (y != NULL)
            p->y = y;
        if (x == NULL || y == NULL)
            return false;
        p->room = room;
    }
    p->x[p->n] = (double)at / 86400e3;
    p->y[p->n++] = value;
    return true;
}

static void put_past(past *p, const jaw_book_record *r)
{
    const jaw_book_length *l = &r->as.length;
    double half = half_told(r->doubts, l->half95);

    if (p->json) {
        printf("%s{\"entry\": %lld, \"at_ms\": %lld, \"value\": ",
               p->seen ? ", " : "", r->id, r->at);
        json_number(p->s, l->value);
        fputs(", \"half95\": ", stdout);
        json_number(p->s, half);
        printf(", \"readings\": %zu, \"change\": \"%s\", \"new\": %s, "
               "\"undone\": %s}",
               r->n_readings, jaw_book_change_word(l->change),
               l->fresh ? "true" : "false", r->undone ? "true" : "false");
        return;
    }
    printf("%6lld  %s  %12s %10s  %s%s\n", r->id, date_text(r->at).s,
           mm_text(p->s, l->value, 1).s,
           isnan(half) ? "no check" : mm_text(p->s, half, 1).s,
           l->fresh ? "new" : jaw_book_change_word(l->change),
           r->undone ? "  (undone)" : "");
}

static bool take_past(void *user, const jaw_book_record *r)
{
    past *p = user;

    put_past(p, r);
    p->seen++;
    if (r->undone || (r->doubts & JAW_BOOK_SLIPS) || p->ended)
        return true;
    p->ended = r->as.length.fresh || jaw_book_change_ends(r->as.length.change);
    p->failed = !keep_point(p, r->at, r->as.length.value);
    return !p->failed;
}

static bool take_diameter(void *user, const jaw_book_record *r)
{
    past *p = user;

    if (r->undone || (r->doubts & JAW_BOOK_SLIPS))
        return true;
    p->failed = !keep_point(p, r->at, r->as.diameter.value);
    return !p->failed && !r->as.diameter.fresh &&
           !jaw_book_change_ends(r->as.diameter.change);
}

static void turn_round(double v[], size_t n)
{
    for (size_t i = 0; i < n / 2; i++) {
        double keep = v[i];
        v[i] = v[n - 1 - i];
        v[n - 1 - i] = keep;
    }
}

static void put_forecast(const past *p, const jaw_book_line *line,
                         double ahead)
{
    double x = p->x[p->n - 1] + ahead;
    jaw_figure next = jaw_book_forecast(line, x);
    /* lengths that lie on a line to the last step are still rounded */
    double half = jaw_trust_within(next.u, next.dof,
                                   p->s->about.step / sqrt(12));

    printf("forecast     %s %s in %.1f days", mm_text(p->s, next.value, 1).s,
           jaw_unit_word(p->s->unit), ahead);
    if (isnan(half))
        printf(", without an interval: %s\n",
               line->n < 5 ? "there are fewer than five"
                           : "one of them pulls the line, and the two ways to "
                             "draw it disagree");
    else
        printf(" +- %s (95 %%, of one measurement)\n"
               "             by the line of least squares, %s %s a day, which "
               "need not pass the last length\n",
               mm_text(p->s, half, 1).s, mm_text(p->s, line->square_slope, 2).s,
               jaw_unit_word(p->s->unit));
}

static void put_wear(past *p, const char *what, double ahead)
{
    jaw_book_line line;

    turn_round(p->x, p->n);
    turn_round(p->y, p->n);
    if (p->n > 2 && p->x[p->n - 1] > p->x[0] &&
        p->x[p->n - 1] - p->x[0] < 1.0 / 24) {
        printf("%-12s no line: all within an hour, too short to tell what a "
               "day wears\n", what);
        return;
    }
    jaw_status status = jaw_book_trend(p->x, p->y, p->n,
                                       p->s->about.step, &line);
    if (status != JAW_OK) {
        printf("%-12s no line: %s\n", what,
               status == JAW_EFEW ? "fewer than three since it was new"
               : status == JAW_ERANK ? "the clock did not go forward"
                                     : jaw_status_text(status));
        return;
    }
    printf("%-12s %s %s a day", what, mm_text(p->s, line.slope, 2).s,
           jaw_unit_word(p->s->unit));
    if (isnan(line.low))
        printf(", without an interval: there are fewer than five\n");
    else
        printf(", 95 %% from %s to %s: %s\n", mm_text(p->s, line.low, 2).s,
               mm_text(p->s, line.high, 2).s,
               line.real ? "it is real" : "it may be none");
    put_forecast(p, &line,
                 isnan(ahead) ? (p->x[p->n - 1] - p->x[0]) /
                                    (double)(p->n - 1)
                              : ahead);
}

static jaw_status put_history(shop *s, const row *one, bool json,
                              double ahead)
{
    past p = {.s = s, .json = json};

    if (json) {
        printf("{\"tool\": %d, \"holder\": ", one->l.number);
        json_text(one->holder);
        fputs(", \"above\": ", stdout);
        json_text(*one->datum ? one->datum : "gauge-line");
        printf(", \"unit\": \"%s\", \"history\": [", jaw_unit_word(s->unit));
    } else {
        printf("tool %d%s%s%s%s, %s, %s%s\n", one->l.number,
               *one->holder ? " in " : "", one->holder, *one->text ? ", " : "",
               one->text, jaw_unit_word(s->unit),
               *one->datum ? "length above " : "length from the gauge line",
               one->datum);
        printf("%6s  %-16s  %12s %10s  %s\n", "entry", "at (UTC)", "length",
               "+- (95 %)", "since the one before");
    }
    jaw_status status =
        jaw_book_history(s->book, JAW_BOOK_LENGTH, s->machine, one->subject, 0,
                         take_past, &p);
    if (json)
        puts("]}");
    else if (status == JAW_OK && !p.failed)
        put_wear(&p, "wear", ahead);
    free(p.x);
    free(p.y);
    return p.failed ? JAW_ENOMEM : status;
}

/* Of the cutter that is in that holder now. */
static jaw_status put_diameter(shop *s, const row *one, double ahead)
{
    past p = {.s = s};
    char subject[JAW_BOOK_SUBJECT_SIZE];
    jaw_status status = jaw_book_tool_subject(one->l.number, one->holder, NULL,
                                              subject, sizeof subject);

    if (status == JAW_OK)
        status = jaw_book_history(s->book, JAW_BOOK_DIAMETER, s->machine,
                                  subject, 0, take_diameter, &p);
    if (status == JAW_OK && !p.failed && p.n > 0) {
        printf("diameter     %s %s, %s since it was new\n",
               mm_text(s, p.y[0], 0).s, jaw_unit_word(s->unit),
               mm_text(s, p.y[0] - p.y[p.n - 1], 0).s);
        if (p.n > 2)
            put_wear(&p, "its wear", ahead);
    }
    free(p.x);
    free(p.y);
    return p.failed ? JAW_ENOMEM : status;
}

/* The rows of one tool in one holder stand together. */
static bool is_last_of_holder(const rows *all, size_t i)
{
    return i + 1 == all->n ||
           strcmp(all->row[i].holder, all->row[i + 1].holder) != 0;
}

/* ------------------------------------------------------------------ command */

typedef struct tools_job {
    int number;
    bool json;
    jaw_length_rule rule;
    double work_z, ahead;
} tools_job;

static bool read_ahead(const arguments *args, double *ahead)
{
    const char *text = args->value[OPT_AHEAD];
    size_t used;

    *ahead = (double)NAN;
    if (text == NULL)
        return true;
    if (jaw_number_read(text, strlen(text), ahead, &used) == JAW_OK &&
        text[used] == '\0' && *ahead >= 0)
        return true;
    complain("days, such as 7", "--ahead: `%s' is no time", text);
    return false;
}

static bool job_read(const arguments *args, const shop *s, tools_job *j)
{
    char *end = NULL;
    long n = args->operands > 0 ? strtol(args->operand[0], &end, 10) : 0;

    *j = (tools_job){.number = (int)n, .json = args->value[OPT_JSON] != NULL,
                     .rule = s->about.lengths, .work_z = (double)NAN};
    if (args->operands > 1 ||
        (end != NULL && (*end != '\0' || n < 1 || n > 9999))) {
        complain("a whole number from 1 to 9999", "`%s' is no tool number",
                 args->operand[args->operands - 1]);
        return false;
    }
    return rule_read(args, &j->rule) && read_ahead(args, &j->ahead) &&
           shop_length(args, OPT_WORK_Z, s, true, &j->work_z);
}

static int no_tool(const tools_job *j, const char *holder)
{
    if (j->number == 0 && holder == NULL)
        complain("`jawline tool NUMBER READING' writes one down",
                 "there is no tool in the book");
    else if (holder == NULL)
        complain("`jawline tools' lists those that are",
                 "there is no tool %d in the book", j->number);
    else
        complain("`jawline tools' lists those that are",
                 "there is no such tool in the holder `%s' in the book",
                 holder);
    return EXIT_USAGE;
}

static jaw_status put(shop *s, const tools_job *j, const rows *all)
{
    jaw_status status = tell_risen(s, all, j->rule);

    if (status == JAW_OK && j->number == 0)
        status = tell_outside(s, all, j->rule, j->work_z);
    if (j->number == 0 && j->json)
        put_json(all, s, j->rule, j->work_z);
    else if (j->number == 0)
        put_table(all, s, j->rule, j->work_z);
    for (size_t i = 0; j->number > 0 && i < all->n && status == JAW_OK; i++) {
        status = put_history(s, &all->row[i], j->json, j->ahead);
        if (status == JAW_OK && !j->json && is_last_of_holder(all, i))
            status = put_diameter(s, &all->row[i], j->ahead);
    }
    return status;
}

int command_tools(const arguments *args)
{
    rows all = {.holder = args->value[OPT_HOLDER]};
    tools_job j;
    shop s;

    if (!shop_open(args, JAW_BOOK_READ, &s))
        return EXIT_USAGE;
    if (!job_read(args, &s, &j))
        return shop_leave(&s);
    if (!s.known) /* its entry was undone, or never made */
        jaw_book_machine_tell(s.book, s.machine);
    all.number = j.number;
    jaw_status status = rows_read(&s, &all, j.rule);
    int none = status == JAW_OK && all.n == 0 ? no_tool(&j, all.holder) : 0;
    if (status == JAW_OK && all.n > 0)
        status = put(&s, &j, &all);
    rows_drop(&all);
    int answer = shop_close(&s, status);
    return none ? none : answer;
}
