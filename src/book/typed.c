/* SPDX-License-Identifier: GPL-3.0-or-later */
/* typed.c: a reading whose digits are those of last time, mistyped. */
#include "change.h"

#include <jawline/readback.h>

#include <math.h>
#include <stddef.h>

/* Slips that make few values of one (JAW_READ_LIST, rank), so that a real
 * change rarely looks like them; a wrong digit makes too many.  Inch for mm is
 * found by itself. */
static const char *slip_text(const jaw_readback_found *found)
{
    switch (found->n > 0 && !found->reason[0].sign_too
                ? found->reason[0].kind
                : JAW_READ_WRONG) {
    case JAW_READ_SIGN: return "its sign is another";
    case JAW_READ_POINT: return "its point has moved";
    case JAW_READ_TRANSPOSED: return "two digits have changed places";
    case JAW_READ_LOST: return "a digit is lost";
    case JAW_READ_DOUBLED: return "a digit is doubled";
    default: return NULL;
    }
}

static const char *slip_of(double should, double shown, double step,
                           jaw_unit unit)
{
    const double nan = (double)NAN;
    jaw_readback_value value = {.name = "Z", .word = "Z", .step = step,
                                .value = should, .half95 = nan, .before = nan,
                                .shown = shown};
    jaw_readback_found found;

    if (jaw_readback_compare(&value, 1, unit, &found) != JAW_OK)
        return NULL;
    return slip_text(&found);
}

/* Readings that fall within noise of last time's, the nearest first; not more
 * than a hundredth of the jump, which chance does in one of a hundred. */
enum { STEPS_MOST = 100 };

void jaw__doubt_digits(jaw_book *book, const jaw_book_touch *t,
                       const jaw_book_machine *m, jaw_book_measured *out)
{
    const jaw_book_verdict *v = &out->verdict;
    double off = fabs(v->differ), noise = fmin(v->limit, off / 100);
    double then = jaw_round_to_step(jaw__mean(t->reading, t->n) - v->differ,
                                    m->step);
    const char *slip = NULL;

    if (t->fresh || v->change == JAW_CHANGE_SURFACE || !(off > v->limit) || !(off > 100 * m->step) ||
        (out->record.doubts & JAW_BOOK_SLIPS))
        return;
    for (int i = 0; i <= STEPS_MOST && i * m->step <= noise && !slip; i++)
        for (int side = -1; side <= 1 && !slip; side += 2)
            slip = slip_of(then + side * i * m->step, t->reading[0], m->step,
                           t->unit);
    if (slip == NULL)
        return;
    out->record.doubts |= JAW_BOOK_DIGITS;
    jaw__book_say(book, SAY_DIGITS,
                  jaw__book_mm(t->reading[0], t->unit, m).s, t->number,
                  jaw__book_mm(then, t->unit, m).s, slip);
}
