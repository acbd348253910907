/* SPDX-License-Identifier: GPL-3.0-or-later */
/* moved.c: a setup that is solved again, compared with what was kept of it.
 *
 * Of two values each was found with an uncertainty of its own, and where
 * repeats are not stated each with few degrees of freedom.  The difference is
 * held against a bound that never has more false alarms than stated, whatever
 * the two uncertainties are (Banerjee 1960); Student's t with the effective
 * degrees of freedom (Welch 1947) would have up to forty times as many at these
 * levels, where one share is seen by one touch to spare and the other known. */
#include "moved.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define NO_NUMBER ((double)NAN)
#define ENDLESS ((double)INFINITY)

/* ------------------------------------------------------------------- judge */

static double reach_of(const jaw_figure *f, double alpha)
{
    return f->u == 0 ? 0 : jaw_trust_cover(1 - alpha, jaw__book_dof(f)) * f->u;
}

/* A sign that was lost before the tip's half diameter was put on comes back as
 * that much less; and so does a figure in the other unit. */
static jaw_book_slip slip_of(const jaw_book_shift *s, double tip)
{
    double a = s->before.value, b = s->after.value;
    double small = fmin(fabs(a), fabs(b)), large = fmax(fabs(a), fabs(b));
    const double k = JAW_MM_PER_INCH;
    double sign = s->limit + tip, inch = k * s->limit + (k - 1) * tip / 2;

    if (s->axis == 3) { /* a turn has no unit that could be taken for inch */
        bool lost = fabs(a + b) <= s->limit && small > 2 * s->limit;
        return lost ? JAW_SLIP_SIGN : JAW_SLIP_NONE;
    }
    /* what is less than a few times as large as the room given fits anything */
    if (fabs(a + b) <= sign && small > 2 * sign)
        return JAW_SLIP_SIGN;
    if (fabs(large - k * small) <= inch && large > 4 * inch)
        return JAW_SLIP_INCH;
    return JAW_SLIP_NONE;
}

static void judge(jaw_book_shift *s, double alpha, double tip)
{
    double z = jaw_trust_cover(1 - alpha, ENDLESS);

    s->u = hypot(s->before.u, s->after.u);
    s->half95 = hypot(s->before.half95, s->after.half95);
    if (isnan(s->u)) {
        s->kind = JAW_SHIFT_UNSURE;
        return;
    }
    s->limit = hypot(reach_of(&s->before, alpha), reach_of(&s->after, alpha));
    s->noticed = s->limit +
                 (jaw_trust_shift(alpha, JAW_TRUST_POWER) - z) * s->u;
    if (isnan(s->limit))
        s->kind = JAW_SHIFT_UNSURE;
    else
        s->kind = fabs(s->differ) > s->limit ? JAW_SHIFT_REAL
                                             : JAW_SHIFT_NOISE;
    if (s->kind == JAW_SHIFT_REAL)
        s->slip = slip_of(s, tip);
}

static bool is_compared(jaw_book_shift *s)
{
    bool was = !isnan(s->before.value), is = !isnan(s->after.value);

    s->differ = s->u = s->half95 = s->limit = s->noticed = NO_NUMBER;
    s->slip = JAW_SLIP_NONE;
    if (!was || !is)
        s->kind = was ? JAW_SHIFT_GONE : JAW_SHIFT_NEW;
    return was && is && s->kind != JAW_SHIFT_RULE;
}

void jaw__shifts_judge(jaw_book_shift shift[], size_t n, double tip)
{
    size_t compared = 0;

    for (size_t i = 0; i < n; i++)
        compared += is_compared(&shift[i]);
    for (size_t i = 0; i < n; i++) {
        jaw_book_shift *s = &shift[i];
        if (!is_compared(s))
            continue;
        s->differ = s->after.value - s->before.value;
        if (s->axis == 3)
            s->differ = jaw_angle_full(s->differ);
        judge(s, JAW_SHIFT_ALPHA / (double)compared,
              s->name[0] == 'H' ? 0 : tip);
    }
}

/* -------------------------------------------------------------------- list */

static const jaw_figure nothing = {NO_NUMBER, NO_NUMBER, NO_NUMBER, NO_NUMBER};

typedef struct finder {
    jaw_book *book;
    jaw_book_moved *moved;
    const jaw_book_setup *then, *now;
    bool failed;
} finder;

static jaw_book_shift *add(finder *f, const char *name, int axis)
{
    jaw_book_moved *m = f->moved;
    jaw_book_shift *more = realloc(m->shift, (m->n + 1) * sizeof *more);

    if (more == NULL) {
        f->failed = true;
        return NULL;
    }
    m->shift = more;
    more += m->n++;
    *more = (jaw_book_shift){.axis = axis, .before = nothing,
                             .after = nothing};
    snprintf(more->name, sizeof more->name, "%s", name);
    return more;
}

static jaw_book_shift *find(finder *f, const char *name, int axis)
{
    jaw_book_moved *m = f->moved;

    for (size_t i = 0; i < m->n; i++)
        if (m->shift[i].axis == axis && strcmp(m->shift[i].name, name) == 0)
            return &m->shift[i];
    return add(f, name, axis);
}

/* Z and lengths mean another thing by another rule. */
static bool same_rule(const finder *f)
{
    return f->then->lengths == f->now->lengths &&
           (f->then->lengths != JAW_REFERENCE_TOOL ||
            f->then->reference == f->now->reference);
}

static void put(finder *f, const char *name, int axis, const jaw_figure *value,
                bool after)
{
    if (isnan(value->value))
        return;
    jaw_book_shift *s = find(f, name, axis);
    if (s == NULL)
        return;
    *(after ? &s->after : &s->before) = *value;
    if ((axis == 2 || axis == 4) && !same_rule(f))
        s->kind = JAW_SHIFT_RULE;
}

static void put_record(finder *f, const jaw_book_record *r, bool after)
{
    if (r->kind == JAW_BOOK_OFFSET)
        put(f, r->subject, 4, &r->as.offset.length, after);
    for (int axis = 0; r->kind == JAW_BOOK_ZERO && axis < 4; axis++)
        put(f, r->subject, axis, &r->as.zero.at[axis], after);
}

static bool take_before(void *user, const jaw_book_record *r)
{
    finder *f = user;

    put_record(f, r, false);
    return !f->failed;
}

/* ---------------------------------------------------------------- together */

static const jaw_book_shift *shift_of(const jaw_book_moved *m,
                                      const char *name, int axis)
{
    for (size_t i = 0; i < m->n; i++)
        if (m->shift[i].axis == axis && strcmp(m->shift[i].name, name) == 0 &&
            m->shift[i].kind <= JAW_SHIFT_REAL)
            return &m->shift[i];
    return NULL;
}

static double spread_of(const jaw_figure *a, const jaw_figure *b)
{
    return fmax(jaw__book_figure_spread(a), jaw__book_figure_spread(b));
}

/* A work zero as a mark that was found twice; false: X and Y were not
 * compared. */
static bool mark_of(const jaw_book_moved *m, const char *name, jaw_mark *mark)
{
    const jaw_book_shift *x = shift_of(m, name, 0), *y = shift_of(m, name, 1);
    const jaw_book_shift *z = shift_of(m, name, 2);

    if (x == NULL || y == NULL)
        return false;
    *mark = (jaw_mark){
        .before = {x->before.value, y->before.value, NO_NUMBER},
        .after = {x->after.value, y->after.value, NO_NUMBER},
        .u_xy = {spread_of(&x->before, &y->before),
                 spread_of(&x->after, &y->after)}};
    if (z == NULL)
        return true;
    mark->before.z = z->before.value;
    mark->after.z = z->after.value;
    mark->u_z[0] = jaw__book_figure_spread(&z->before);
    mark->u_z[1] = jaw__book_figure_spread(&z->after);
    return true;
}

/* Each zero's own turn is that of the whole. */
static bool turns_agree(const jaw_book_moved *m)
{
    for (size_t i = 0; i < m->n; i++) {
        const jaw_book_shift *s = &m->shift[i];
        if (s->axis == 3 && s->kind <= JAW_SHIFT_REAL &&
            fabs(s->differ - m->whole.turn.value) >
                hypot(s->limit, m->whole.turn.half95))
            return false;
    }
    return true;
}

/* As when the machine was homed anew.  Zeros that stand still, or differ in how
 * they moved, are told one by one. */
static void find_together(jaw_book_moved *m, const jaw_book_kept *kept)
{
    jaw_mark mark[JAW_MARKS_MAX];
    size_t n = 0;

    for (size_t i = 1; i < kept->n; i++) {
        if (kept->record[i].kind != JAW_BOOK_ZERO)
            continue;
        if (n == JAW_MARKS_MAX ||
            !mark_of(m, kept->record[i].subject, &mark[n]))
            return;
        n++;
    }
    if (n < 2 || jaw_place_moved(mark, n, &m->whole, NULL) != JAW_OK)
        return;
    m->together = !(m->whole.flags & JAW_RESIDUAL) && turns_agree(m) &&
                  m->real > 0 &&
                  (m->whole.plane == JAW_MOVED || m->whole.height == JAW_MOVED);
}

/* -------------------------------------------------------------------- said */

jaw__value_text jaw__value_text_of(int axis, double value,
                                   const jaw_book_setup *rules)
{
    bool turn = axis == 3;
    double one = turn ? jaw_rad(1) : jaw_unit_mm(rules->unit);
    double step = turn ? rules->angle_step : rules->step;
    jaw__value_text t = {"?"};

    jaw_number_write(value / one, jaw_step_decimals(step / one), t.s,
                     sizeof t.s - 5);
    strcat(t.s, turn ? " deg" : rules->unit == JAW_IN ? " in" : " mm");
    return t;
}

static void say_slip(const jaw_book *book, const jaw_book_shift *s,
                     const jaw_book_setup *now, long long before)
{
    char name[JAW_REGISTER_NAME + 8];
    const char *times = fabs(s->after.value) > fabs(s->before.value)
                            ? "25.4 times as much"
                            : "a 25.4th of it";
    const jaw__value_text was =
        jaw__value_text_of(s->axis, s->before.value, now);
    const jaw__value_text is = jaw__value_text_of(s->axis, s->after.value, now);

    jaw_book_shown_subject(s->name, s->axis, name, sizeof name);
    if (s->slip == JAW_SLIP_SIGN)
        jaw__book_say(book, SAY_SLIP_SIGN, name, is.s, was.s, before);
    else if (s->slip == JAW_SLIP_INCH)
        jaw__book_say(book, SAY_SLIP_INCH, name, is.s, was.s, before, times);
}

static void take_stock(finder *f, const jaw_book_kept *kept, double tip)
{
    jaw_book_moved *m = f->moved;

    jaw__shifts_judge(m->shift, m->n, tip);
    for (size_t i = 0; i < m->n; i++) {
        m->real += m->shift[i].kind == JAW_SHIFT_REAL;
        m->unsure += m->shift[i].kind == JAW_SHIFT_UNSURE;
        say_slip(f->book, &m->shift[i], f->now, m->before);
    }
    find_together(m, kept);
}

jaw_status jaw_book_moved_find(jaw_book *book, long long before,
                               const jaw_book_kept *kept, double tip,
                               jaw_book_moved *moved)
{
    jaw_book_record then;
    jaw_book_setup rules;
    finder f = {.book = book, .moved = moved, .then = &rules,
                .now = &kept->record[0].as.setup};

    *moved = (jaw_book_moved){.before = before};
    jaw_status status = jaw_book_get(book, before, &then);
    if (status == JAW_OK && then.kind != JAW_BOOK_SETUP)
        status = JAW_EUNKNOWN;
    if (status != JAW_OK)
        return status;
    rules = then.as.setup;
    moved->at = then.at;
    for (size_t i = 1; i < kept->n && !f.failed; i++)
        put_record(&f, &kept->record[i], true);
    if (!f.failed)
        status = jaw_book_parts_now(book, before, take_before, &f);
    if (status == JAW_OK && f.failed)
        status = JAW_ENOMEM;
    if (status == JAW_OK)
        take_stock(&f, kept, tip);
    else
        jaw_book_moved_free(moved);
    return status;
}

void jaw_book_moved_free(jaw_book_moved *moved)
{
    free(moved->shift);
    *moved = (jaw_book_moved){0};
}
