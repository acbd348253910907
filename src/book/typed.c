/* SPDX-License-Identifier: GPL-3.0-or-later */
/* typed.c: a reading whose digits are those of last time, mistyped. */
#include "change.h"

#include <jawline/readback.h>

#include <math.h>
#include <stdio.h>

/* Slips that make few values of one (JAW_READ_LIST, rank), so that a real
 * change rarely looks like them.  A wrong digit makes too many: it counts where
 * the rest fits to a hundredth of its place, and in a lone reading, for nobody
 * mistypes each of several alike.  Inch for mm is found by itself. */
typedef struct slip {
    char text[40]; /* "": none */
} slip;

static slip slip_text(const jaw_readback_reason *why, double one, double off)
{
    slip s = {""};

    switch (why->sign_too ? JAW_READ_EXTRA : why->kind) {
    case JAW_READ_SIGN: return (slip){"its sign is another"};
    case JAW_READ_POINT: return (slip){"its point has moved"};
    case JAW_READ_TRANSPOSED: return (slip){"two digits have changed places"};
    case JAW_READ_LOST: return (slip){"a digit is lost"};
    case JAW_READ_DOUBLED: return (slip){"a digit is doubled"};
    case JAW_READ_WRONG:
        if (off <= one * pow(10, why->place[0]) / 100)
            snprintf(s.text, sizeof s.text, "%c where %c belongs",
                     why->digit[1], why->digit[0]);
        return s;
    default: return s;
    }
}

/* off: by how much `should` is not the reading of last time. */
static slip slip_of(const jaw_book_touch *t, double should, double step,
                    double off)
{
    const double nan = (double)NAN;
    jaw_readback_value value = {.name = "Z", .word = "Z", .step = step,
                                .value = should, .half95 = nan, .before = nan,
                                .shown = t->reading[0]};
    jaw_readback_found found;

    if (jaw_readback_compare(&value, 1, t->unit, &found) != JAW_OK ||
        found.n == 0)
        return (slip){""};
    if (found.reason[0].kind == JAW_READ_WRONG && t->n > 1)
        return (slip){""};
    return slip_text(&found.reason[0], jaw_unit_mm(t->unit), off);
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
    slip found = {""};

    if (t->fresh || v->change == JAW_CHANGE_SURFACE || !(off > v->limit) ||
        !(off > 100 * m->step) || (out->record.doubts & JAW_BOOK_SLIPS))
        return;
    for (int i = 0; i <= STEPS_MOST && i * m->step <= noise && !*found.text;
         i++)
        for (int side = -1; side <= 1 && !*found.text; side += 2)
            found = slip_of(t, then + side * i * m->step, m->step, i * m->step);
    if (*found.text == '\0')
        return;
    out->record.doubts |= JAW_BOOK_DIGITS;
    jaw__book_say(book, SAY_DIGITS,
                  jaw__book_mm(t->reading[0], t->unit, m).s, t->number,
                  jaw__book_mm(then, t->unit, m).s, found.text);
}
