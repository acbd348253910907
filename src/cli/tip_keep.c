/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tip_keep.c: a tip's calibration into the book, and what is there of it. */
#include "shop.h"
#include "tip.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ------------------------------------------------------------------ record */

static void take_block(const jaw_tip_block *b, const tip_job *j,
                       jaw_book_tip *t)
{
    double variance = b->u_both * b->u_both;

    t->value = b->both;
    t->u = b->u_both;
    t->dof = b->dof_both;
    t->half95 = b->within_both;
    t->runout = t->lobes = JAW_TERM_NOT_SEEN;
    for (int i = 0; i < 15; i++)
        t->cov[i] = isnan(variance) ? (double)NAN : i == 0 ? variance : 0;
    t->repeat = b->repeat;
    t->repeat_dof = b->dof_repeat;
    t->size_u = j->known[0].u;
    if (b->n == 2)
        t->size_2 = j->known[1].size;
}

static jaw_book_tip tip_of(const tip_job *j, const tip_found *f)
{
    jaw_book_tip t = {.on = tip_kind_word(j->kind),
                      .size = j->known[0].size,
                      .size_2 = (double)NAN,
                      .shape = tip_shape_of(j),
                      .length = j->length,
                      .length_u = isnan(j->length) ? (double)NAN : j->length_u,
                      .fresh = j->fresh,
                      .columns = 3,
                      .unit = j->unit};

    if (j->kind == TIP_BLOCK)
        take_block(&f->block, j, &t);
    else
        jaw_book_tip_of(&f->round, &t);
    return t;
}

/* x, y and what the kind has as a third (jaw_book_tip). */
static double *readings_of(const tip_job *j, const jaw_row *row, size_t n)
{
    double *at = calloc(3 * n + 1, sizeof *at);

    for (size_t i = 0; at != NULL && i < n; i++) {
        at[3 * i] = row[i].value[0];
        at[3 * i + 1] = row[i].value[1];
        if (j->kind == TIP_BALL)
            at[3 * i + 2] = row[i].value[2];
        else if (j->kind == TIP_BLOCK)
            at[3 * i + 2] = row[i].group;
        else if (row[i].n > 2)
            at[3 * i + 2] = row[i].value[2] != 0;
    }
    return at;
}

/* ----------------------------------------------------------------- history */

static double runout_of(const jaw_book_tip *t)
{
    return t->runout == JAW_TERM_KEPT ? hypot(t->harmonic[0], t->harmonic[1])
                                      : (double)NAN;
}

static bool take_entry(void *user, const jaw_book_record *r)
{
    tip_kept *k = user;
    const jaw_book_tip *t = &r->as.tip;

    k->entry[k->n++] = (tip_entry){
        .id = r->id,
        .at = r->at,
        .diameter = t->value,
        .half95 = t->half95,
        .runout = runout_of(t),
        .undone = r->undone};
    return k->n < TIP_HISTORY;
}

/* The shape that was kept last stays, until another is stated. */
static jaw_status take_shape(shop *s, const tip_job *j, jaw_book_tip *t,
                             tip_kept *k)
{
    jaw_book_record last;

    if (j->shape_stated || j->fresh || j->kind == TIP_BALL)
        return JAW_OK;
    jaw_status status = jaw_book_find(s->book, JAW_BOOK_TIP, s->machine,
                                      j->name, &last);
    if (status == JAW_OK) {
        t->shape = last.as.tip.shape;
        k->shape_taken = true;
    }
    return status == JAW_EUNKNOWN ? JAW_OK : status;
}

/* -------------------------------------------------------------------- keep */

static jaw_status write_tip(shop *s, const tip_job *j, const double *reading,
                            tip_found *f)
{
    tip_kept *k = &f->kept;
    jaw_book_record r = {.kind = JAW_BOOK_TIP, .machine = s->machine,
                         .subject = j->name, .at = s->at, .reading = reading,
                         .n_readings = 3 * f->n};

    r.as.tip = tip_of(j, f);
    if (tip_doubts(j, f))
        r.doubts |= JAW_BOOK_SCATTER;
    jaw_status status = take_shape(s, j, &r.as.tip, k);
    if (status == JAW_OK)
        status = jaw_book_tip_judge(s->book, &r, &k->change);
    if (status == JAW_OK)
        status = jaw_book_add(s->book, &r, &k->id);
    if (status == JAW_OK)
        status = jaw_book_history(s->book, JAW_BOOK_TIP, s->machine, j->name,
                                  0, take_entry, k);
    k->shape = r.as.tip.shape;
    memcpy(k->machine, s->machine, sizeof k->machine);
    k->done = status == JAW_OK;
    return status;
}

/* Inch and mm differ too little in a ring for anything else to notice. */
static bool unit_is_said(const arguments *args, const shop *s,
                         const tip_job *j)
{
    if (args->value[OPT_UNIT] != NULL || s->about.unit == j->unit)
        return true;
    complain("add --unit; nothing was kept",
             "numbers without a unit count as %s here, and the book has the "
             "machine in %s",
             jaw_unit_word(j->unit), jaw_unit_word(s->about.unit));
    return false;
}

int tip_keep(const arguments *args, const tip_job *j, const jaw_row *row,
             tip_found *f)
{
    double *reading;
    shop s;

    if (!shop_open(args, JAW_BOOK_WRITE, &s))
        return EXIT_USAGE;
    if (!unit_is_said(args, &s, j))
        return shop_leave(&s);
    reading = readings_of(j, row, f->n);
    jaw_status status = reading ? write_tip(&s, j, reading, f) : JAW_ENOMEM;
    free(reading);
    return shop_close(&s, status);
}

/* -------------------------------------------------------------------- list */

/* A list under way. */
typedef struct listing {
    shop s;
    bool json;
    size_t n;
} listing;

static void put_part(const shop *s, const char *name, double mm)
{
    if (!isnan(mm))
        printf("  %s %s", name, mm_text(s, mm, 1).s);
}

static void put_tip(const shop *s, const jaw_book_record *r)
{
    const jaw_book_tip *t = &r->as.tip;

    printf("%-12s %s  %-5s %6lld  %-8s", r->subject, date_text(r->at).s, t->on,
           r->id, jaw_tip_shape_word(t->shape));
    put_part(s, "diameter", t->value);
    put_part(s, "within", t->half95);
    put_part(s, "runout", runout_of(t));
    put_part(s, "length", t->length);
    put_entry_end(r);
    putchar('\n');
}

static void json_part(const shop *s, const char *name, double mm)
{
    printf(", \"%s\": ", name);
    json_number(s, mm);
}

static void json_tip(const listing *l, const jaw_book_record *r)
{
    const jaw_book_tip *t = &r->as.tip;

    printf("%s{\"name\": ", l->n > 0 ? ", " : "");
    json_text(r->subject);
    printf(", \"entry\": %lld, \"at_ms\": %lld, \"on\": \"%s\", "
           "\"shape\": \"%s\"",
           r->id, r->at, t->on, jaw_tip_shape_word(t->shape));
    json_part(&l->s, "diameter", t->value);
    json_part(&l->s, "u", t->u);
    json_part(&l->s, "within", t->half95);
    json_part(&l->s, "runout", runout_of(t));
    json_part(&l->s, "repeat", t->repeat);
    json_part(&l->s, "length", t->length);
    printf(", \"undone\": %s}", r->undone ? "true" : "false");
}

static bool take_tip(void *user, const jaw_book_record *r)
{
    listing *l = user;

    if (l->json)
        json_tip(l, r);
    else
        put_tip(&l->s, r);
    l->n++;
    return true;
}

static jaw_status list_all(const arguments *args, const tip_job *j, listing *l)
{
    if (args->value[OPT_NAME] == NULL)
        return jaw_book_current(l->s.book, JAW_BOOK_TIP, l->s.machine,
                                take_tip, l);
    return jaw_book_history(l->s.book, JAW_BOOK_TIP, l->s.machine, j->name, 0,
                            take_tip, l);
}

int tip_list(const arguments *args, const tip_job *j)
{
    listing l = {.json = j->json};

    if (args->operands > 1) {
        complain("leave it out", "`%s' is one operand too many",
                 args->operand[1]);
        return EXIT_USAGE;
    }
    if (!shop_open(args, JAW_BOOK_READ, &l.s))
        return EXIT_USAGE;
    if (l.json)
        printf("{\"unit\": \"%s\", \"tips\": [", jaw_unit_word(l.s.unit));
    jaw_status status = list_all(args, j, &l);
    if (l.json)
        puts("]}");
    if (status == JAW_OK && l.n == 0)
        complain("`jawline tip ring --keep' and its like write one",
                 "the book has no such tip on %s", l.s.machine);
    int answer = shop_close(&l.s, status);
    return l.n > 0 ? answer : EXIT_USAGE;
}
