/* SPDX-License-Identifier: GPL-3.0-or-later */
/* setter.c: `jawline setter`: heights of surfaces, thicknesses of blocks. */
#include "shop.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool put_height(void *user, const jaw_book_record *r)
{
    const shop *s = user;
    const jaw_book_height *h = &r->as.height;

    printf("%-12s %-9s %12s %s", r->subject, h->block ? "thickness" : "top",
           mm_text(s, h->value, 1).s, jaw_unit_word(s->unit));
    if (h->u > 0)
        printf("  +- %s (95 %%)", mm_text(s, h->half95, 1).s);
    else
        printf("  taken as exact");
    printf("  %s", date_text(r->at).s);
    if (h->tool > 0)
        printf("  by tool %d", h->tool);
    puts("");
    return true;
}

static bool is_here(void *user, const jaw_book_record *r)
{
    shop *s = user;

    if (r->as.height.block || strcmp(r->machine, s->machine) == 0)
        put_height(user, r);
    return true;
}

static bool no_length(shop *s, int number, const char *holder)
{
    holders h = {.number = number, .gauge_line = true};
    const char *in = *holder ? " in holder " : "";
    char names[HOLDERS_TEXT];

    if (holders_find(s, &h) == JAW_OK && (h.unnamed || h.n > 0))
        complain("say which holder it is in with --holder, or give its length "
                 "with --length",
                 "there is no length of tool %d%s%s from the gauge line in the "
                 "book; there is one of it in %s%s%s",
                 number, in, holder, h.unnamed ? "none that is named" : "",
                 h.unnamed && h.n > 0 ? ", " : "", holders_text(&h, names));
    else
        complain("give its length with --length",
                 "there is no length of tool %d%s%s from the gauge line in the "
                 "book",
                 number, in, holder);
    return false;
}

/* Of a tool in the book; one whose every length is in doubt is no yardstick. */
static bool length_found(shop *s, const jaw_book_touch *t, double *length,
                         double *u, double *dof)
{
    jaw_status status = JAW_EUNKNOWN;
    char subject[JAW_BOOK_SUBJECT_SIZE];
    jaw_book_record r;

    if (jaw_book_tool_subject(t->number, t->holder, "", subject,
                              sizeof subject) == JAW_OK)
        status = jaw_book_length_find(s->book, s->machine, subject, &r);
    if (status == JAW_OK && (r.doubts & JAW_BOOK_SLIPS)) {
        shop_tell(s);
        complain("measure it again, or give its length with --length",
                 "there is no length of tool %d without a doubt", t->number);
        return false;
    }
    if (status != JAW_OK)
        return no_length(s, t->number, t->holder);
    *length = r.as.length.value;
    return jaw_book_length_sure(s->book, &r, t->on, u, dof) == JAW_OK;
}

/* A length from the book, or as stated, and its uncertainty. */
static bool tool_length(const arguments *args, shop *s,
                        const jaw_book_touch *t, double *length, double *u,
                        double *dof)
{
    if (args->value[OPT_LENGTH] != NULL)
        return shop_length(args, OPT_LENGTH, s, false, length) &&
               shop_length(args, OPT_LENGTH_U, s, false, u);
    if (t->number > 0)
        return length_found(s, t, length, u, dof);
    complain("add --tool NUMBER or --length L",
             "how long the tool that touched is, is not said");
    return false;
}

static bool from_readings(const arguments *args, shop *s, jaw_book_touch *t,
                          jaw_book_record *r, jaw_status *status)
{
    double length = (double)NAN, u = 0, dof = (double)INFINITY;

    if (!shop_number(args, OPT_TOOL, 9999, &t->number) ||
        !tool_length(args, s, t, &length, &u, &dof) ||
        !touch_options(args, s, t))
        return false;
    *status = jaw_book_calibrate(s->book, t, length, u, dof, r);
    return true;
}

/* Without readings: a top or a thickness that is stated. */
static bool as_stated(const arguments *args, shop *s, jaw_book_record *r)
{
    bool block = args->value[OPT_BETWEEN] != NULL;
    jaw_book_height *h = &r->as.height;

    if (block == (args->value[OPT_TOP] != NULL)) {
        complain("readings with --tool or --length, or --top, or --between",
                 "how high `%s' is, is not said", r->subject);
        return false;
    }
    *h = (jaw_book_height){.block = block, .dof = (double)INFINITY,
                           .length = (double)NAN, .length_u = (double)NAN,
                           .unit = s->unit};
    if (block)
        r->machine = "";
    if (!shop_length(args, block ? OPT_BETWEEN : OPT_TOP, s, !block,
                     &h->value) ||
        !shop_length(args, block ? OPT_BETWEEN_U : OPT_TOP_U, s, false, &h->u))
        return false;
    h->half95 = h->u * jaw_trust_cover(0.95, (double)INFINITY);
    return true;
}

typedef struct older {
    const char *on;
    int n; /* printed */
} older;

/* A tool whose length stands on an earlier height. */
static bool put_older(void *user, const jaw_book_record *r)
{
    older *o = user;
    const jaw_book_length *l = &r->as.length;

    if (l->surface == 0 || strcmp(l->on, o->on) != 0)
        return true;
    printf("%s%d%s%s",
           o->n++ > 0 ? ", "
                      : "             an earlier one was used for tool ",
           l->number, *l->holder ? " in " : "", l->holder);
    return true;
}

static void put_change(shop *s, const jaw_book_record *r,
                       const jaw_book_verdict *v)
{
    older o = {.on = r->subject};

    if (v->last_id == 0)
        return;
    printf("change       %s%s since entry %lld: ", v->differ > 0 ? "+" : "",
           mm_text(s, v->differ, 1).s, v->last_id);
    if (v->limit > 0)
        printf("%s noise, up to %s\n",
               v->change == JAW_CHANGE_NOISE ? "within" : "beyond",
               mm_text(s, v->limit, 1).s);
    else
        puts("both are taken as exact");
    if (v->change == JAW_CHANGE_NOISE || r->as.height.block)
        return;
    jaw_book_current(s->book, JAW_BOOK_LENGTH, s->machine, put_older, &o);
    if (o.n > 0)
        printf("; what the book has of %s stays as it is\n",
               o.n > 1 ? "them" : "it");
}

static jaw_status add(shop *s, jaw_book_record *r)
{
    long long id;
    jaw_book_verdict v;
    jaw_status status = jaw_book_height_check(s->book, r);

    if (status == JAW_OK)
        status = jaw_book_height_compare(s->book, r, &v);
    if (status == JAW_OK)
        status = jaw_book_add(s->book, r, &id);
    shop_tell(s);
    if (status != JAW_OK)
        return status;
    put_height(s, r);
    put_change(s, r, &v);
    return JAW_OK;
}

static int write_down(const arguments *args, shop *s)
{
    const char *through = args->value[OPT_THROUGH];
    const char *holder = args->value[OPT_HOLDER];
    int n = args->operands - 1;
    double *reading = readings_read(args->operand + 1, n, s->unit);
    jaw_book_touch t = {.machine = s->machine,
                        .holder = holder ? holder : "", .text = "",
                        .on = args->operand[0],
                        .through = through ? through : "",
                        .reading = reading, .n = (size_t)n,
                        .repeat = (double)NAN, .unit = s->unit, .at = s->at};
    jaw_book_record r = {.kind = JAW_BOOK_HEIGHT, .machine = s->machine,
                         .subject = args->operand[0], .at = s->at};
    jaw_status status = JAW_OK;

    bool ok = reading != NULL &&
              (n > 0 ? from_readings(args, s, &t, &r, &status)
                     : as_stated(args, s, &r));
    if (ok && status == JAW_OK)
        status = add(s, &r);
    free(reading);
    int answer = shop_close(s, status);
    return ok ? answer : EXIT_USAGE;
}

int command_setter(const arguments *args)
{
    bool writes = args->operands > 0;
    shop s;

    if (!shop_open(args, writes ? JAW_BOOK_WRITE : JAW_BOOK_READ, &s))
        return EXIT_USAGE;
    if (writes)
        return write_down(args, &s);
    return shop_close(&s, jaw_book_current(s.book, JAW_BOOK_HEIGHT, NULL,
                                           is_here, &s));
}
