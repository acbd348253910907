/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fixture.c: a vise or fixture that was found again: by what it moved since
 * last time, and what it comes back to when it is put back. */
#include "homing.h"

#include <math.h>

#define NO_NUMBER ((double)NAN)

/* ------------------------------------------------------------- since last */

static jaw_book_move judge(const jaw_figure *by, int n)
{
    const double endless = (double)INFINITY;
    double off = fabs(by->value) / by->u;

    if (isnan(off))
        return JAW_MOVE_FIRST;
    if (off > jaw_trust_cover(1 - JAW_TRUST_ALPHA / n, endless))
        return JAW_MOVE_MOVED;
    return off > jaw_trust_cover(1 - JAW_STAYED_LEVEL / n, endless)
               ? JAW_MOVE_UNCLEAR
               : JAW_MOVE_STAYED;
}

static void compare(const jaw_book_fixture *last, const jaw_book_fixture *now,
                    jaw_book_put_back *out)
{
    int n = 0;

    for (int k = 0; k < 4; k++) {
        double off = now->at[k].value - last->at[k].value;
        out->by[k] = jaw_figure_make(
            k == 3 && isfinite(off) ? jaw_angle_full(off) : off,
            hypot(jaw__book_figure_spread(&last->at[k]),
                  jaw__book_figure_spread(&now->at[k])), (double)INFINITY);
        n += isfinite(out->by[k].value) && out->by[k].u > 0;
    }
    for (int k = 0; k < 4 && n > 0; k++) {
        out->move[k] = judge(&out->by[k], n);
        if (out->move[k] > out->all)
            out->all = out->move[k];
    }
}

/* --------------------------------------------------------- what it repeats */

typedef struct places {
    jaw_book_put_back *out;
    double newer[4];   /* of the entry behind, which may be a carried one */
    double carried[4]; /* by what all that came before was carried since */
    bool was_carried;
    bool first;
    /* sums by Welford, Technometrics 4 (1962) 419-420 */
    double n[4], mean[4], m2[4], u2[4];
    jaw_book_fixture last;
} places;

static void count(places *p, const jaw_book_fixture *f)
{
    for (int k = 0; k < 4; k++) {
        double x = f->at[k].value + p->carried[k];
        double u = jaw__book_figure_spread(&f->at[k]);
        if (isnan(x))
            continue;
        double d = x - p->mean[k];
        p->n[k]++;
        p->mean[k] += d / p->n[k];
        p->m2[k] += d * (x - p->mean[k]);
        p->u2[k] += u * u;
    }
    p->out->times++;
}

/* Newest first: what a homing carried, all that came before was carried by. */
static bool take(void *user, const jaw_book_record *r)
{
    places *p = user;
    const jaw_book_fixture *f = &r->as.fixture;

    if (r->undone)
        return true;
    if (p->first) {
        p->first = false;
        p->last = *f;
        p->out->since = r->id;
    }
    for (int k = 0; k < 4 && p->was_carried; k++) {
        p->carried[k] += p->newer[k] - f->at[k].value;
    }
    for (int k = 0; k < 4; k++)
        p->newer[k] = f->at[k].value;
    p->was_carried = f->move == JAW_MOVE_CARRIED;
    if (!f->stood)
        count(p, f);
    return !f->fresh;
}

static void take_repeat(const places *p, jaw_book_put_back *out)
{
    for (int k = 0; k < 4; k++) {
        if (p->n[k] < 2)
            continue;
        double dof = out->dof[k] = p->n[k] - 1;
        out->repeat[k] = sqrt(p->m2[k] / dof);
        out->repeat_high[k] =
            out->repeat[k] * sqrt(dof / jaw_trust_chi2(0.95, dof));
        out->measuring[k] = sqrt(p->u2[k] / p->n[k]);
        out->as_measured[k] = p->m2[k] <= jaw_trust_chi2(0.05, dof) *
                                              p->u2[k] / p->n[k];
    }
}

static jaw_book_put_back nothing(void)
{
    jaw_book_put_back out = {.times = 0};

    for (int k = 0; k < 4; k++) {
        out.by[k] = jaw_figure_make(NO_NUMBER, NO_NUMBER, NO_NUMBER);
        out.repeat[k] = out.repeat_high[k] = NO_NUMBER;
        out.dof[k] = out.measuring[k] = NO_NUMBER;
    }
    return out;
}

static jaw_status check(jaw_book *book, const jaw_book_record *record)
{
    const char *wrong = record->kind == JAW_BOOK_FIXTURE
                            ? jaw__book_wrong(record)
                            : "it is no fixture";

    if (wrong == NULL)
        return JAW_OK;
    return jaw__book_say(book, SAY_BAD_ENTRY,
                         record->subject ? record->subject : "a fixture",
                         wrong);
}

static jaw_status doubt_name(jaw_book *book, const jaw_book_record *record,
                             jaw_book_put_back *out)
{
    char near[JAW_BOOK_NAME_SIZE];
    jaw_status status = jaw__book_near(book, JAW_BOOK_FIXTURE, record->machine,
                                       record, 1, record->subject, near);

    if (status != JAW_OK || near[0] == '\0')
        return status;
    out->doubtful = true;
    jaw__book_say(book, SAY_FIXTURE_NEAR, record->subject, near);
    return JAW_OK;
}

/* What a slip made of it is no place that it comes back to. */
static jaw_status weigh(jaw_book *book, const jaw_book_record *record,
                        double tip, const places *p, jaw_book_put_back *out)
{
    const jaw_book_fixture *f = &record->as.fixture;
    jaw_book_machine m;
    bool known;
    jaw_status status =
        jaw_book_machine_of(book, record->machine, &m, &known);

    if (status != JAW_OK)
        return status;
    compare(&p->last, f, out);
    jaw__book_say(book, SAY_FIXTURE_HOMED);
    out->doubtful = jaw__book_fixture_slips(book, record->subject, &p->last, f,
                                            tip, m.step);
    if (out->doubtful)
        return JAW_OK;
    take_repeat(p, out);
    if (f->stood && out->all == JAW_MOVE_MOVED)
        jaw__book_say(book, SAY_FIXTURE_KNOCKED, record->subject);
    return JAW_OK;
}

jaw_status jaw_book_compare_fixture(jaw_book *book, jaw_book_record *record,
                                    double tip, jaw_book_put_back *out)
{
    jaw_book_fixture *f = &record->as.fixture;
    places p = {.out = out, .first = true};

    *out = nothing();
    f->move = JAW_MOVE_FIRST;
    f->since = 0;
    if (check(book, record) != JAW_OK)
        return JAW_EDOMAIN;
    if (!f->stood)
        count(&p, f);
    if (f->fresh)
        return JAW_OK;
    jaw_status status = jaw_book_history(book, JAW_BOOK_FIXTURE,
                                         record->machine, record->subject, 0,
                                         take, &p);
    if (status == JAW_OK && out->since == 0)
        return doubt_name(book, record, out);
    if (status != JAW_OK)
        return status;
    status = weigh(book, record, tip, &p, out);
    f->move = out->all;
    f->since = out->since;
    return status;
}

jaw_status jaw_book_fixture_keep(jaw_book *book, jaw_book_record *record,
                                 const jaw_book_put_back *compared,
                                 long long *id)
{
    if (compared->doubtful)
        return jaw__book_say(book, SAY_FIXTURE_DOUBTFUL);
    return jaw_book_add(book, record, id);
}
