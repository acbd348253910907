/* SPDX-License-Identifier: GPL-3.0-or-later */
/* since.c: a setup that is solved again as it was before the machine was homed:
 * its values were right then, and marks carried them since. */
#include "moved.h"

#include <math.h>

/* One value of a register. */
typedef struct sought {
    bool ended;     /* nothing older is of interest */
    double newer;   /* what it was in the entry behind */
    double by;      /* by what all that follow were carried since */
    bool lost;      /* one of them did not show that */
    double holds;   /* as the newest marks carried it */
    long long then; /* entry with the same value, touched; 0 */
    bool same_setup;
} sought;

/* What was kept of a register, newest first. */
typedef struct past {
    const jaw_book_record *r; /* as it is solved now */
    const jaw_book_setup *rules;
    bool was_carried; /* the entry behind, by marks */
    long long marks;  /* newest that carried it; 0: none */
    long long setup;  /* of what they carried */
    sought axis[JAW_BOOK_AXES];
} past;

/* A zero has the first four axes, an offset the last. */
static int first_axis(const jaw_book_record *r)
{
    return r->kind == JAW_BOOK_ZERO ? 0 : 4;
}

static int end_axis(const jaw_book_record *r)
{
    return r->kind == JAW_BOOK_ZERO ? 4 : 5;
}

static double value_of(const jaw_book_record *r, int axis)
{
    return r->kind == JAW_BOOK_OFFSET ? r->as.offset.length.value
                                      : r->as.zero.at[axis].value;
}

static long long setup_of(const jaw_book_record *r)
{
    return r->kind == JAW_BOOK_OFFSET ? r->as.offset.setup : r->as.zero.setup;
}

static jaw_length_rule lengths_of(const jaw_book_record *r)
{
    return r->kind == JAW_BOOK_OFFSET ? r->as.offset.lengths
                                      : r->as.zero.lengths;
}

/* In the book because marks carried it, and not as it was found. */
static bool is_carried(const jaw_book_record *r)
{
    return r->part_of > 0 && r->part_of != setup_of(r);
}

/* Half a step is what readback.h takes for the same. */
static double half_step(const past *p, int axis)
{
    return (axis == 3 ? p->rules->angle_step : p->rules->step) / 2;
}

static bool is_same(const past *p, const jaw_book_record *r, int axis)
{
    bool by_rule = axis == 2 || axis == 4;

    return fabs(value_of(r, axis) - value_of(p->r, axis)) <
               half_step(p, axis) &&
           (!by_rule || lengths_of(r) == p->rules->lengths);
}

/* A value or two come out as before by chance, most of all the turn in a vise
 * that stayed; of a setup that was not touched anew all do, or all but what was:
 * three, or as many as there are. */
static bool is_as_before(const past *p, const jaw_book_record *r)
{
    int same = 0, known = 0;

    for (int a = first_axis(r); a < end_axis(r); a++) {
        known += !isnan(value_of(p->r, a));
        same += is_same(p, r, a);
    }
    return same >= (known < 3 ? known : 3);
}

/* What was carried was there before the machine was homed, and so was all that
 * is older. */
static void take_axis(past *p, const jaw_book_record *r, int axis, bool carried,
                      bool first_marks)
{
    sought *s = &p->axis[axis];
    double value = value_of(r, axis);

    if (p->was_carried && !isnan(value)) {
        s->lost = s->lost || isnan(s->newer);
        s->by += isnan(s->newer) ? 0 : s->newer - value;
    }
    s->newer = value;
    if (carried && first_marks)
        s->holds = value;
    if (carried || !is_same(p, r, axis) || !is_as_before(p, r))
        return;
    s->ended = true;
    s->then = p->marks > 0 ? r->id : 0;
    s->same_setup = setup_of(r) == p->setup;
}

static bool take(void *user, const jaw_book_record *r)
{
    past *p = user;
    bool carried = is_carried(r), first_marks = p->marks == 0, left = false;

    if (r->undone)
        return true;
    if (carried && first_marks) {
        p->marks = r->part_of;
        p->setup = setup_of(r);
    }
    for (int a = first_axis(r); a < end_axis(r); a++) {
        if (!p->axis[a].ended)
            take_axis(p, r, a, carried, first_marks);
        left = left || !p->axis[a].ended;
    }
    p->was_carried = carried;
    return left;
}

static void say(const jaw_book *book, const past *p, int axis)
{
    const sought *s = &p->axis[axis];
    const jaw__value_text was =
        jaw__value_text_of(axis, value_of(p->r, axis), p->rules);
    const jaw__value_text holds = jaw__value_text_of(axis, s->holds, p->rules);
    char name[JAW_REGISTER_NAME + 8];

    jaw_book_shown_subject(p->r->subject, axis, name, sizeof name);
    if (s->same_setup && !isnan(s->holds))
        jaw__book_say(book, SAY_OLD_CARRIED, name, was.s, s->then, p->marks,
                      holds.s);
    else
        jaw__book_say(book, SAY_OLD_LOST, name, was.s, s->then, p->marks);
}

static jaw_status seek(jaw_book *book, const jaw_book_record *r,
                       const jaw_book_setup *rules, size_t *n)
{
    past p = {.r = r, .rules = rules};

    for (int a = first_axis(r); a < end_axis(r); a++)
        p.axis[a].ended = isnan(value_of(r, a));
    jaw_status status = jaw_book_history(book, r->kind, r->machine, r->subject,
                                         0, take, &p);
    for (int a = first_axis(r); a < end_axis(r) && status == JAW_OK; a++) {
        const sought *s = &p.axis[a];
        if (s->then == 0 || (!s->lost && fabs(s->by) < half_step(&p, a)))
            continue;
        ++*n;
        say(book, &p, a);
    }
    return status;
}

jaw_status jaw_book_kept_old(jaw_book *book, const jaw_book_kept *kept,
                             size_t *n)
{
    const jaw_book_setup *rules = &kept->record[0].as.setup;
    jaw_status status = JAW_OK;

    *n = 0;
    for (size_t i = 1; i < kept->n && status == JAW_OK; i++)
        status = seek(book, &kept->record[i], rules, n);
    return status;
}
