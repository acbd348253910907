/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shownbook.c: what the control was seen to show, in the book. */
#include "shownbook.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ------------------------------------------------------------ open, close */

/* Without --keep a book only helps: one that can not be read is said, and the
 * values are compared all the same. */
bool shownbook_begin(const arguments *args, shownbook *b)
{
    bool keep = args->value[OPT_KEEP] != NULL;
    bool named = args->value[OPT_BOOK] != NULL;

    *b = (shownbook){0};
    if (keep || named || book_is_there(args))
        b->open = shop_open(args, keep ? JAW_BOOK_WRITE : JAW_BOOK_READ,
                            &b->s);
    return b->open || !(keep || named);
}

int shownbook_end(shownbook *b)
{
    free(b->held);
    b->held = NULL;
    return b->open ? shop_close(&b->s, JAW_OK) : EXIT_STANDS;
}

/* -------------------------------------------------------------------- kept */

bool shownbook_find(shownbook *b, const char *what)
{
    jaw_book_record r;

    if (jaw_book_setup_find(b->s.book, b->s.machine, what, &r) != JAW_OK)
        return false;
    b->setup = r.id;
    return true;
}

typedef struct list {
    jaw_readback_value *value;
    size_t n;
    bool failed;
    long long setup, marks; /* entry of marks that carried some; 0: none did */
} list;

static void add(list *l, const char *name, int axis, const jaw_figure *f,
                double step)
{
    jaw_readback_value *more = realloc(l->value, (l->n + 1) * sizeof *more);

    if (!more) {
        l->failed = true;
        return;
    }
    l->value = more;
    more += l->n++;
    *more = (jaw_readback_value){
        .word = jaw_book_axis_word((unsigned)axis), .angle = axis == 3,
        .step = step, .value = jaw_round_to_step(f->value, step),
        .half95 = f->half95, .before = (double)NAN, .shown = (double)NAN};
    snprintf(more->name, sizeof more->name, "%s", name);
}

static bool take_part(void *user, const jaw_book_record *r)
{
    const jaw_book_zero *z = &r->as.zero;
    list *l = user;

    if (r->part_of != l->setup && r->part_of > l->marks)
        l->marks = r->part_of;
    if (r->kind == JAW_BOOK_OFFSET)
        add(l, r->subject, 4, &r->as.offset.length, r->as.offset.step);
    for (int a = 0; r->kind == JAW_BOOK_ZERO && a < 4; a++)
        if (!isnan(z->at[a].value) && (a < 3 || z->turns))
            add(l, r->subject, a, &z->at[a], a < 3 ? z->step : z->angle_step);
    return !l->failed;
}

bool shownbook_kept(shownbook *b, char **title, jaw_unit *unit, int *stands,
                    jaw_readback_value **value, size_t *n)
{
    list l = {.setup = b->setup};
    jaw_book_record r;
    jaw_status status = jaw_book_get(b->s.book, b->setup, &r);

    if (status == JAW_OK) {
        *title = strdup(r.subject);
        *unit = r.as.setup.unit;
        *stands = r.doubts & JAW_BOOK_DOUBTED ? EXIT_DOUBT : EXIT_STANDS;
        fprintf(stderr, "entry %lld, as it was kept %s (UTC)%s\n", r.id,
                date_text(r.at).s,
                r.undone ? ": it is undone, and does not hold" : "");
        status = jaw_book_parts_now(b->s.book, b->setup, take_part, &l);
        if (l.marks > 0)
            fprintf(stderr, "and carried over by marks since, entry %lld\n",
                    l.marks);
    }
    *value = l.value;
    *n = l.n;
    if (status == JAW_ENOMEM || l.failed || (status == JAW_OK && !*title))
        return no_memory();
    jaw_registers_sort(l.value, l.n);
    return status == JAW_OK;
}

/* ------------------------------------------------------------------ before */

/* What a register held before, other than what is to be entered: as it was
 * shown, newest first, then as it was kept.  One that was shown wrong has been
 * mended since, perhaps without being shown again. */
enum { HELD = 6, LOOKED_AT = 50 };

struct held {
    double value[HELD];
    size_t n;
    long long at; /* of the newest */
};

typedef struct search {
    const jaw_readback_value *v;
    struct held *held;
} search;

static int axis_of(const jaw_readback_value *v)
{
    int axis = 0;

    while (axis < JAW_BOOK_AXES - 1 &&
           strcmp(jaw_book_axis_word((unsigned)axis), v->word) != 0)
        axis++;
    return axis;
}

/* Half a step is what readback.h takes for the same. */
static bool is_same(const jaw_readback_value *v, double a, double b)
{
    return fabs(a - b) < v->step / 2;
}

static bool take_before(void *user, const jaw_book_record *r)
{
    const search *s = user;
    struct held *h = s->held;
    int axis = axis_of(s->v);
    double value = (double)NAN;

    if (r->undone)
        return true;
    if (r->kind == JAW_BOOK_ENTERED)
        value = r->as.entered.shown;
    else if (r->kind == JAW_BOOK_OFFSET)
        value = jaw_round_to_step(r->as.offset.length.value, s->v->step);
    else if (axis < 3 || (axis == 3 && r->as.zero.turns))
        value = jaw_round_to_step(r->as.zero.at[axis].value, s->v->step);
    bool known = isnan(value) || is_same(s->v, value, s->v->value);
    for (size_t i = 0; i < h->n; i++)
        known = known || is_same(s->v, value, h->value[i]);
    if (known)
        return true;
    h->at = h->n == 0 || r->at > h->at ? r->at : h->at;
    h->value[h->n++] = value;
    return h->n < HELD;
}

static jaw_status search_one(shownbook *b, search *s)
{
    char subject[32];
    bool tool = s->v->name[0] == 'H';
    jaw_status status = jaw_book_shown_subject(s->v->name, axis_of(s->v),
                                               subject, sizeof subject);

    if (status != JAW_OK)
        return JAW_OK; /* no register of a control */
    status = jaw_book_history(b->s.book, JAW_BOOK_ENTERED, b->s.machine,
                              subject, LOOKED_AT, take_before, s);
    if (status == JAW_OK && s->held->n < HELD)
        status = jaw_book_history(b->s.book,
                                  tool ? JAW_BOOK_OFFSET : JAW_BOOK_ZERO,
                                  b->s.machine, s->v->name, LOOKED_AT,
                                  take_before, s);
    return status;
}

void shownbook_pick(const shownbook *b, jaw_readback_value value[], size_t n)
{
    for (size_t i = 0; b->held && i < n; i++) {
        const struct held *h = &b->held[i];
        value[i].before = h->n > 0 ? h->value[0] : (double)NAN;
        for (size_t k = 0; k < h->n; k++)
            if (is_same(&value[i], h->value[k], value[i].shown))
                value[i].before = h->value[k];
    }
}

bool shownbook_before(shownbook *b, jaw_readback_value value[], size_t n)
{
    size_t found = 0;
    long long last = 0;

    b->held = calloc(n + 1, sizeof *b->held);
    for (size_t i = 0; b->held && i < n; i++) {
        search s = {&value[i], &b->held[i]};
        if (isnan(value[i].value))
            continue;
        if (search_one(b, &s) == JAW_ENOMEM)
            return false;
        found += s.held->n > 0;
        last = s.held->at > last ? s.held->at : last;
    }
    if (found > 0)
        snprintf(b->before, sizeof b->before,
                 "of %zu value%s known from the book, as of %s (UTC)", found,
                 found == 1 ? "" : "s", date_text(last).s);
    return b->held != NULL;
}

/* ------------------------------------------------------------------- write */

typedef struct text {
    char s[32];
} text;

static void put(const shownbook *b, const char *title, jaw_unit unit,
                const jaw_readback_value *v, const char *subject,
                jaw_book_record *r)
{
    *r = (jaw_book_record){.kind = JAW_BOOK_ENTERED, .at = b->s.at,
                           .machine = b->s.machine, .subject = subject};
    r->as.entered = (jaw_book_entered){
        .setup = b->setup, .title = title, .name = v->name,
        .axis = axis_of(v), .shown = v->shown, .wanted = v->value,
        .half95 = v->half95, .step = v->step, .unit = unit};
}

static jaw_status write_all(shownbook *b, const char *title, jaw_unit unit,
                            const jaw_readback_value value[], size_t n,
                            size_t *written, long long *id)
{
    jaw_book_record *r = calloc(n, sizeof *r);
    text *subject = calloc(n, sizeof *subject);
    jaw_status status = r && subject ? JAW_OK : JAW_ENOMEM;

    *written = 0;
    for (size_t i = 0; i < n && status == JAW_OK; i++) {
        if (isnan(value[i].shown))
            continue;
        status = jaw_book_shown_subject(value[i].name, axis_of(&value[i]),
                                        subject[i].s, sizeof subject[i].s);
        put(b, title, unit, &value[i], subject[i].s, &r[(*written)++]);
    }
    if (status == JAW_OK && *written > 0)
        status = jaw_book_add_all(b->s.book, r, *written, id);
    free(r);
    free(subject);
    return status;
}

bool shownbook_write(shownbook *b, const char *title, jaw_unit unit,
                     const jaw_readback_value value[], size_t n, bool say)
{
    jaw_book_record last;
    size_t written;
    long long id = 0;

    if (b->setup == 0 && *title &&
        jaw_book_find(b->s.book, JAW_BOOK_SETUP, b->s.machine, title, &last) ==
            JAW_OK)
        b->setup = last.id;
    jaw_status status = write_all(b, title, unit, value, n, &written, &id);
    if (status == JAW_ENOMEM)
        return no_memory();
    if (status != JAW_OK)
        return false;
    if (written == 0)
        complain("type or pipe what the control shows",
                 "nothing was shown, so nothing is written down");
    else if (say)
        printf("\nwritten down: %zu value%s from entry %lld on\n", written,
               written == 1 ? "," : "s,", id);
    return true;
}
