/* SPDX-License-Identifier: GPL-3.0-or-later */
/* since.c: a setup that is solved again as it was before the machine was homed:
 * its values were right then, and marks carried them since. */
#include "moved.h"

#include <math.h>

/* One value of a register, sought among what was kept of it, newest first. */
typedef struct sought {
    const jaw_book_record *all; /* of it */
    double angle_step;
    int axis;
    double value, step;
    jaw_length_rule lengths;
    bool was_carried; /* the entry behind, by marks */
    double newer;     /* its value */
    double by;        /* by what all that follow were carried since */
    bool lost;        /* one of them did not show that */
    long long marks;  /* newest that carried it; 0: none */
    long long setup;  /* of what they carried */
    double holds;
    long long then;   /* entry with the same value, touched; 0 */
    bool same_setup;
} sought;

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

static void take_carried(sought *s, const jaw_book_record *r)
{
    if (s->marks > 0)
        return;
    s->marks = r->part_of;
    s->setup = setup_of(r);
    s->holds = s->newer;
}

static bool is_same(const sought *s, const jaw_book_record *r, int axis)
{
    bool by_rule = axis == 2 || axis == 4;
    double step = axis == 3 ? s->angle_step : s->step;

    return fabs(value_of(r, axis) - value_of(s->all, axis)) < step / 2 &&
           (!by_rule || lengths_of(r) == s->lengths);
}

/* A value or two come out as before by chance, most of all the turn in a vise
 * that stayed; of a setup that was not touched anew all do, or all but what was:
 * three, or as many as there are. */
static bool is_sought(const sought *s, const jaw_book_record *r)
{
    int same = 0, known = 0;

    for (int a = s->axis < 4 ? 0 : 4; a < (s->axis < 4 ? 4 : 5); a++) {
        known += !isnan(value_of(s->all, a));
        same += is_same(s, r, a);
    }
    return is_same(s, r, s->axis) && same >= (known < 3 ? known : 3);
}

/* Half a step is what readback.h takes for the same.  What was carried was
 * there before the machine was homed, and so was all that is older. */
static bool take(void *user, const jaw_book_record *r)
{
    sought *s = user;

    if (r->undone)
        return true;
    double value = value_of(r, s->axis);
    if (s->was_carried && !isnan(value)) {
        s->lost = s->lost || isnan(s->newer);
        s->by += isnan(s->newer) ? 0 : s->newer - value;
    }
    s->was_carried = is_carried(r);
    s->newer = value;
    if (s->was_carried) {
        take_carried(s, r);
        return true;
    }
    if (!is_sought(s, r))
        return true;
    s->then = s->marks > 0 ? r->id : 0;
    s->same_setup = setup_of(r) == s->setup;
    return false;
}

static void say(const jaw_book *book, const char *register_name,
                const sought *s, const jaw_book_setup *rules)
{
    const jaw__value_text was = jaw__value_text_of(s->axis, s->value, rules);
    const jaw__value_text holds = jaw__value_text_of(s->axis, s->holds, rules);
    char name[JAW_REGISTER_NAME + 8];

    jaw_book_shown_subject(register_name, s->axis, name, sizeof name);
    if (s->same_setup && !isnan(s->holds))
        jaw__book_say(book, SAY_OLD_CARRIED, name, was.s, s->then, s->marks,
                      holds.s);
    else
        jaw__book_say(book, SAY_OLD_LOST, name, was.s, s->then, s->marks);
}

static jaw_status seek(jaw_book *book, const jaw_book_record *r, int axis,
                       const jaw_book_setup *rules, size_t *n)
{
    sought s = {.all = r, .axis = axis, .value = value_of(r, axis),
                .step = rules->step, .angle_step = rules->angle_step,
                .lengths = rules->lengths};
    double step = axis == 3 ? s.angle_step : s.step;
    jaw_status status = JAW_OK;

    if (!isnan(s.value))
        status = jaw_book_history(book, r->kind, r->machine, r->subject, 0,
                                  take, &s);
    if (status != JAW_OK || s.then == 0 ||
        (!s.lost && fabs(s.by) < step / 2))
        return status;
    ++*n;
    say(book, r->subject, &s, rules);
    return JAW_OK;
}

jaw_status jaw_book_kept_old(jaw_book *book, const jaw_book_kept *kept,
                             size_t *n)
{
    const jaw_book_setup *rules = &kept->record[0].as.setup;
    jaw_status status = JAW_OK;

    *n = 0;
    for (size_t i = 1; i < kept->n; i++) {
        const jaw_book_record *r = &kept->record[i];
        bool zero = r->kind == JAW_BOOK_ZERO;
        for (int a = zero ? 0 : 4; a < (zero ? 4 : 5) && status == JAW_OK; a++)
            status = seek(book, r, a, rules, n);
    }
    return status;
}
