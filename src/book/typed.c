/* SPDX-License-Identifier: GPL-3.0-or-later */
/* typed.c: a reading whose digits are those of last time, mistyped. */
#include "change.h"

#include <jawline/readback.h>

#include <math.h>
#include <stdio.h>

/* Slips that make few values of one (JAW_READ_LIST, rank), so that a real
 * change rarely looks like them.  A wrong digit makes too many: it counts where
 * the rest fits to a hundredth of its place, off being what it lacks, and in a
 * lone reading, for nobody mistypes each of several alike.  Inch for mm is found
 * by itself. */
static bool is_slip(const jaw__typing *t, const jaw_readback_reason *why,
                    double off)
{
    switch (why->sign_too ? JAW_READ_EXTRA : why->kind) {
    case JAW_READ_SIGN:
    case JAW_READ_POINT:
    case JAW_READ_TRANSPOSED:
    case JAW_READ_LOST:
    case JAW_READ_DOUBLED:
        return true;
    case JAW_READ_WRONG:
        return t->lone &&
               off <= jaw_unit_mm(t->unit) * pow(10, why->place[0]) / 100;
    default:
        return false;
    }
}

static bool slip_of(const jaw__typing *t, double should, double off,
                    jaw_readback_reason *why)
{
    const double nan = (double)NAN;
    jaw_readback_value value = {.name = "Z", .word = "Z", .step = t->step,
                                .value = should, .half95 = nan, .before = nan,
                                .shown = t->now};
    jaw_readback_found found;

    if (jaw_readback_compare(&value, 1, t->unit, &found) != JAW_OK ||
        found.n == 0)
        return false;
    *why = found.reason[0];
    return is_slip(t, why, off);
}

/* Readings that fall within noise of last time's, the nearest first; not more
 * than a hundredth of the jump, which chance does in one of a hundred. */
enum { STEPS_MOST = 100 };

static bool find_slip(const jaw__typing *t, jaw_readback_reason *why)
{
    double off = fabs(t->now - t->then), noise = fmin(t->noise, off / 100);
    double then = jaw_round_to_step(t->then, t->step);

    if (!(off > t->noise) || !(off > 100 * t->step))
        return false;
    for (int i = 0; i <= STEPS_MOST && i * t->step <= noise; i++)
        for (int side = i > 0 ? -1 : 1; side <= 1; side += 2)
            if (slip_of(t, then + side * i * t->step, i * t->step, why))
                return true;
    return false;
}

static const char *slip_text(jaw_readback_kind kind)
{
    switch (kind) {
    case JAW_READ_SIGN: return "its sign is another";
    case JAW_READ_POINT: return "its point has moved";
    case JAW_READ_LOST: return "a digit is lost";
    default: return "a digit is doubled";
    }
}

bool jaw__typed_slip(const jaw__typing *typing, char text[60])
{
    jaw_readback_reason why;

    if (!find_slip(typing, &why))
        return false;
    if (why.kind == JAW_READ_TRANSPOSED)
        snprintf(text, 60, "%c and %c have changed places", why.digit[0],
                 why.digit[1]);
    else if (why.kind == JAW_READ_WRONG)
        snprintf(text, 60, "%c where %c belongs", why.digit[1], why.digit[0]);
    else
        snprintf(text, 60, "%s", slip_text(why.kind));
    return true;
}

void jaw__doubt_digits(jaw_book *book, const jaw_book_touch *t,
                       const jaw_book_machine *m, jaw_book_measured *out)
{
    const jaw_book_verdict *v = &out->verdict;
    double then = jaw__mean(t->reading, t->n) - v->differ;
    const jaw__typing typing = {then, t->reading[0], v->limit, m->step,
                                t->unit, t->n == 1};
    char text[60];

    if (t->fresh || v->change == JAW_CHANGE_SURFACE ||
        !(fabs(v->differ) > v->limit) ||
        (out->record.doubts & JAW_BOOK_SLIPS) ||
        !jaw__typed_slip(&typing, text))
        return;
    out->record.doubts |= JAW_BOOK_DIGITS;
    jaw__book_say(book, SAY_DIGITS,
                  jaw__book_mm(t->reading[0], t->unit, m).s, t->number,
                  jaw__book_mm(jaw_round_to_step(then, m->step), t->unit, m).s,
                  text);
}
