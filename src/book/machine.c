/* SPDX-License-Identifier: GPL-3.0-or-later */
/* machine.c: a travel or a step that does not fit what the book has of the
 * machine.  The book may be what is wrong, so this is a doubt, and names the
 * entry. */
#include "change.h"

#include <math.h>
#include <stdio.h>

/* Of each kind the first that does not fit, and how many do not. */
typedef struct misfit {
    long long entry;
    int n, tool;
    double value;
    char name[JAW_BOOK_NAME_SIZE];
} misfit;

typedef struct fitting {
    const jaw_book_machine *m;
    double step; /* as it was; NaN: it was not known */
    misfit height, reading, length, coarse;
} fitting;

static void take(misfit *f, const jaw_book_record *r, int tool, double value)
{
    if (f->n++ > 0)
        return;
    f->entry = r->id;
    f->tool = tool;
    f->value = value;
    snprintf(f->name, sizeof f->name, "%s", r->subject);
}

/* None is outside a travel that is not known. */
static bool is_outside(const jaw_book_machine *m, double z)
{
    return z < m->low[2] || z > m->high[2];
}

static bool take_height(void *user, const jaw_book_record *r)
{
    fitting *f = user;
    const jaw_book_height *h = &r->as.height;

    if (!h->block && !jaw__top_fits(f->m, h->value))
        take(&f->height, r, 0, h->value);
    return true;
}

static bool take_length(void *user, const jaw_book_record *r)
{
    fitting *f = user;
    const jaw_book_length *l = &r->as.length;
    const jaw_book_machine *m = f->m;

    if (r->doubts & JAW_BOOK_SLIPS)
        return true; /* it may itself be what is wrong */
    for (size_t i = 0; *l->on != '\0' && i < r->n_readings; i++)
        if (is_outside(m, r->reading[i])) {
            take(&f->reading, r, l->number, r->reading[i]);
            break;
        }
    if (*l->datum == '\0' && l->value > m->high[2] - m->low[2])
        take(&f->length, r, l->number, l->value);
    /* a step has a share of a third of itself in every +-, so only a step that
     * grew says something */
    if (m->step > f->step && m->step > l->half95)
        take(&f->coarse, r, l->number, l->half95);
    return true;
}

static const char *others(const misfit *f, char text[40])
{
    text[0] = '\0';
    if (f->n > 1)
        snprintf(text, 40, ", and %d more", f->n - 1);
    return text;
}

static void say_travel(jaw_book *book, const fitting *f)
{
    const jaw_book_machine *m = f->m;
    jaw__book_text low = jaw__book_mm(m->low[2], m->unit, m);
    jaw__book_text high = jaw__book_mm(m->high[2], m->unit, m);
    char more[40];

    if (f->height.n > 0)
        jaw__book_say(book, SAY_TRAVEL_HEIGHT, low.s, high.s, f->height.name,
                      jaw__book_mm(f->height.value, m->unit, m).s,
                      f->height.entry, others(&f->height, more));
    if (f->reading.n > 0)
        jaw__book_say(book, SAY_TRAVEL_READING, low.s, high.s,
                      jaw__book_mm(f->reading.value, m->unit, m).s,
                      f->reading.tool, f->reading.entry,
                      others(&f->reading, more));
    if (f->length.n > 0)
        jaw__book_say(book, SAY_TRAVEL_LENGTH,
                      jaw__book_mm(m->high[2] - m->low[2], m->unit, m).s,
                      f->length.tool,
                      jaw__book_mm(f->length.value, m->unit, m).s,
                      f->length.entry, others(&f->length, more));
}

/* A moved point makes ten of one; less than that are the steps of controls. */
static bool is_tenfold(double a, double b)
{
    return a > 9.99 * b || b > 9.99 * a;
}

/* With as many decimals as it needs itself. */
static jaw__book_text step_text(double step, const jaw_book_machine *m)
{
    const jaw_book_machine own = {.unit = m->unit, .step = step,
                                  .decimals = -1};

    return jaw__book_mm(step, m->unit, &own);
}

static void say_step(jaw_book *book, const fitting *f, const char *machine,
                     long long entry)
{
    const jaw_book_machine *m = f->m;
    jaw__book_text step = step_text(m->step, m);
    jaw_book_machine before = *m;
    char more[40];

    before.step = f->step;
    before.decimals = -1;

    if (is_tenfold(m->step, f->step))
        jaw__book_say(book, SAY_STEP_TENFOLD, machine, step.s,
                      step_text(f->step, m).s, entry);
    if (f->coarse.n > 0)
        jaw__book_say(book, SAY_STEP_COARSE, machine, step.s, f->coarse.tool,
                      jaw__book_fine(f->coarse.value, m->unit, &before).s,
                      f->coarse.entry,
                      others(&f->coarse, more));
}

jaw_status jaw_book_machine_check(jaw_book *book,
                                  const jaw_book_record *record)
{
    fitting f = {.m = &record->as.machine, .step = (double)NAN};
    const char *name = record->machine;
    jaw_book_record last;
    long long entry = 0;
    jaw_status status =
        jaw_book_find(book, JAW_BOOK_MACHINE, name, "", &last);

    if (status == JAW_OK) {
        f.step = last.as.machine.step;
        entry = last.id;
    }
    if (status == JAW_OK || status == JAW_EUNKNOWN)
        status = jaw_book_current(book, JAW_BOOK_HEIGHT, name, take_height,
                                  &f);
    if (status == JAW_OK)
        status = jaw_book_current(book, JAW_BOOK_LENGTH, name, take_length,
                                  &f);
    if (status != JAW_OK)
        return status;
    say_travel(book, &f);
    say_step(book, &f, name, entry);
    return JAW_OK;
}
