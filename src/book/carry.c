/* SPDX-License-Identifier: GPL-3.0-or-later */
/* carry.c: what of the book goes along when the machine was homed anew: work
 * zeros, length registers from tip to part, surfaces and fixtures; and all of
 * it, with the marks, into the book at once. */
#include "homing.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct carrier {
    jaw_book_homing *h;
    jaw_moved by; /* what stayed within noise is by 0, not without noise */
    long long homed;
    bool no_memory;
    int sums; /* lengths above the part or a surface of unknown height */
    jaw_book *book;
    const jaw_book_machine *machine;
} carrier;

/* ------------------------------------------------------------------- store */

static const char *keep(carrier *c, const char *text)
{
    jaw_book_homing *h = c->h;
    char **more = realloc(h->text, (h->n_texts + 1) * sizeof *more);
    char *copy = strdup(text);

    if (more != NULL)
        h->text = more;
    if (more == NULL || copy == NULL) {
        free(copy);
        c->no_memory = true;
        return "";
    }
    h->text[h->n_texts++] = copy;
    return copy;
}

static jaw_book_carried *add(carrier *c, const jaw_book_record *r)
{
    jaw_book_homing *h = c->h;
    jaw_book_carried *more =
        realloc(h->carried, (h->n_carried + 1) * sizeof *more);

    if (more == NULL) {
        c->no_memory = true;
        return NULL;
    }
    h->carried = more;
    jaw_book_carried *one = &more[h->n_carried++];
    *one = (jaw_book_carried){.how = JAW_CARRY_DONE, .before = *r};
    one->before.machine = h->mark[0].machine;
    one->before.subject = keep(c, r->subject);
    one->before.reading = NULL;
    one->before.n_readings = 0;
    if (r->kind == JAW_BOOK_OFFSET)
        one->before.as.offset.text = keep(c, r->as.offset.text);
    if (r->kind == JAW_BOOK_FIXTURE)
        one->before.as.fixture.text = keep(c, r->as.fixture.text);
    one->after = one->before;
    one->after.id = one->after.part_of = 0;
    one->after.doubts = 0;
    one->after.at = h->mark[0].at;
    return one;
}

/* ------------------------------------------------------------------- carry */

static void rise(const carrier *c, jaw_figure *f)
{
    jaw_figure before[4] = {jaw_figure_make(0, 0, (double)INFINITY),
                            jaw_figure_make(0, 0, (double)INFINITY), *f,
                            jaw_figure_make(0, 0, (double)INFINITY)};
    jaw_figure after[4];

    jaw_place_carry(&c->by, before, after);
    *f = after[2];
}

/* From tip to part the work Z is 0 wherever the machine was homed. */
static void carry_zero(const carrier *c, jaw_book_zero *z)
{
    jaw_figure after[4];

    jaw_place_carry(&c->by, z->at, after);
    if (z->lengths == JAW_TIP_TO_PART)
        after[2] = z->at[2];
    if (isnan(z->at[3].value)) /* taken as square, and still is */
        after[3] = z->at[3];
    memcpy(z->at, after, sizeof after);
}

static void carry_fixture(const carrier *c, jaw_book_record *before,
                          jaw_book_fixture *f)
{
    jaw_figure after[4];

    jaw_place_carry(&c->by, f->at, after);
    memcpy(f->at, after, sizeof after);
    f->move = JAW_MOVE_CARRIED;
    f->since = before->id;
    f->stood = true;
    f->fresh = false;
}

static void carry_height(const carrier *c, jaw_book_height *h)
{
    jaw_figure f = {h->value, h->u, h->dof, h->half95};

    rise(c, &f);
    h->value = f.value;
    h->u = f.u;
    h->dof = f.dof;
    h->half95 = f.half95;
}

static void carry(const carrier *c, jaw_book_carried *one)
{
    switch (one->before.kind) {
    case JAW_BOOK_ZERO: carry_zero(c, &one->after.as.zero); break;
    case JAW_BOOK_OFFSET: rise(c, &one->after.as.offset.length); break;
    case JAW_BOOK_FIXTURE:
        carry_fixture(c, &one->before, &one->after.as.fixture);
        break;
    default: carry_height(c, &one->after.as.height); break;
    }
}

static bool needs_height(const jaw_book_record *r)
{
    return r->kind == JAW_BOOK_OFFSET || r->kind == JAW_BOOK_HEIGHT;
}

/* From tip to part a register goes along with the machine's Z; from the gauge
 * line and against another tool it stays.  A block lies on no machine. */
static bool goes_along(const jaw_book_record *r)
{
    if (r->kind == JAW_BOOK_OFFSET)
        return r->as.offset.lengths == JAW_TIP_TO_PART;
    return r->kind != JAW_BOOK_HEIGHT || !r->as.height.block;
}

static bool take(void *user, const jaw_book_record *r)
{
    carrier *c = user;

    if (!goes_along(r))
        return true;
    jaw_book_carried *one = add(c, r);
    if (one == NULL)
        return false;
    if (r->id < c->h->first)
        one->how = JAW_CARRY_BEFORE;
    else if (c->homed > 0 && r->at >= c->homed)
        one->how = JAW_CARRY_AFTER;
    else if (needs_height(r) && isnan(c->by.shift[2].value))
        one->how = JAW_CARRY_UNSHOWN;
    else
        carry(c, one);
    return !c->no_memory;
}

static bool is_carried(const carrier *c, long long entry)
{
    for (size_t i = 0; i < c->h->n_carried; i++)
        if (c->h->carried[i].how == JAW_CARRY_DONE &&
            c->h->carried[i].before.id == entry)
            return true;
    return false;
}

/* Readings above a surface whose height nobody knows fell or rose with it; what
 * was read after the homing goes by the height of before it. */
static bool take_length(void *user, const jaw_book_record *r)
{
    carrier *c = user;
    const jaw_book_length *l = &r->as.length;
    bool late = c->homed > 0 && r->at >= c->homed;

    if (*l->datum != '\0' && !late)
        c->sums++;
    if (*l->datum == '\0' && late && c->by.height != JAW_STAYED &&
        is_carried(c, l->surface))
        jaw__book_say(c->book, SAY_MARK_LATE, l->number, r->id,
                      jaw__book_mm(c->by.shift[2].value, c->machine->unit,
                                   c->machine).s);
    return true;
}

static void leave_noise(jaw_moved *m)
{
    if (m->plane == JAW_STAYED) {
        m->shift[0].value *= 0; /* NaN stays */
        m->shift[1].value *= 0;
        m->turn.value = 0;
    }
    if (m->height == JAW_STAYED)
        m->shift[2].value *= 0;
}

static void say_carried(jaw_book *book, const jaw_book_machine *m,
                        const carrier *c)
{
    const double rise = c->by.shift[2].value;
    size_t done = 0;

    for (size_t i = 0; i < c->h->n_carried; i++)
        done += c->h->carried[i].how == JAW_CARRY_DONE;
    if (done > 0 && c->homed == 0)
        jaw__book_say(book, SAY_MARK_HOMED);
    if (c->sums > 0 && c->by.height != JAW_STAYED && !isnan(rise))
        jaw__book_say(book, SAY_MARK_SUMS, c->sums, c->sums == 1 ? "" : "s",
                      c->sums == 1 ? "was" : "were",
                      jaw__book_mm(rise, m->unit, m).s);
}

jaw_status jaw__book_carry(jaw_book *book, const jaw_book_machine *machine,
                           long long homed, jaw_book_homing *h)
{
    static const jaw_book_kind kinds[] = {JAW_BOOK_ZERO, JAW_BOOK_OFFSET,
                                          JAW_BOOK_HEIGHT, JAW_BOOK_FIXTURE};
    carrier c = {.h = h, .by = h->moved, .homed = homed, .book = book,
                 .machine = machine};
    jaw_status status = JAW_OK;

    leave_noise(&c.by);
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0] && status == JAW_OK;
         i++)
        status = jaw_book_current(book, kinds[i], h->mark[0].machine, take, &c);
    if (status == JAW_OK)
        status = jaw_book_current(book, JAW_BOOK_LENGTH, h->mark[0].machine,
                                  take_length, &c);
    if (status == JAW_OK && c.no_memory)
        status = JAW_ENOMEM;
    if (status == JAW_OK)
        say_carried(book, machine, &c);
    return status;
}

/* -------------------------------------------------------------------- keep */

jaw_status jaw_book_homing_keep(jaw_book *book, jaw_book_homing *h,
                                long long *id)
{
    size_t n = h->n;

    if (h->doubtful)
        return jaw__book_say(book, SAY_MARK_DOUBTFUL);
    jaw_book_record *all = calloc(n + h->n_carried + 1, sizeof *all);
    if (all == NULL)
        return JAW_ENOMEM;
    if (n > 0)
        memcpy(all, h->mark, n * sizeof *all);
    for (size_t i = 0; i < h->n_carried && h->move == JAW_MOVE_MOVED; i++)
        if (h->carried[i].how == JAW_CARRY_DONE)
            all[n++] = h->carried[i].after;
    jaw_status status = jaw_book_add_all(book, all, n, id);
    free(all);
    return status;
}
