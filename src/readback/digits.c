/* SPDX-License-Identifier: GPL-3.0-or-later */
/* digits.c: what a slip of the finger makes of the digits of a number.
 *
 * A number is typed with its point, so a digit that is lost or put in moves
 * those behind it only, up to the point: of 12.345 the 2 lost gives 1.345, the
 * 4 lost 12.35.  What is put in behind the point pushes the last digit beyond
 * what the control shows. */
#include "readback.h"

enum { DIGITS = 18 };

/* The digits of what should be, on the decimals that the control shows: digit i
 * stands at the place i - decimals. */
typedef struct digits {
    int64_t m;          /* as a whole number of last decimals */
    int64_t ten[DIGITS + 1];
    int n;              /* with one before the point at least */
    int of[DIGITS];
} digits;

static digits digits_of(const jaw__slip *s, int64_t number)
{
    digits d = {.m = number / s->q, .ten = {1}};

    for (int i = 0; i < DIGITS; i++)
        d.ten[i + 1] = 10 * d.ten[i];
    for (int i = 0; i < DIGITS; i++) {
        d.of[i] = (int)(d.m / d.ten[i] % 10);
        if (d.of[i] > 0 || i <= s->decimals)
            d.n = i + 1;
    }
    return d;
}

static char letter(int digit)
{
    return (char)('0' + digit);
}

static void add_digit(jaw__slip *s, jaw_readback_kind kind, int i, int digit,
                      jaw__fit fit)
{
    jaw__slip_add(s, (jaw_readback_reason){.kind = kind,
                                           .cut = fit == JAW__CUT,
                                           .place = {i - s->decimals, 0},
                                           .digit = {letter(digit), '\0'}});
}

/* -------------------------------------------------------------- same length */

/* Digit i with another one right of it. */
static bool exchange(jaw__slip *s, const digits *d, int i, int k)
{
    int64_t moved = (d->of[i] - d->of[k]) * (d->ten[i] - d->ten[k]);

    if (moved == 0 || (d->m - moved) * s->q != s->shown)
        return false;
    jaw__slip_add(s, (jaw_readback_reason){
                         .kind = k == i - 1 ? JAW_READ_TRANSPOSED
                                            : JAW_READ_APART,
                         .place = {i - s->decimals, k - s->decimals},
                         .digit = {letter(d->of[i]), letter(d->of[k])}});
    return true;
}

static void find_exchange(jaw__slip *s, const digits *d)
{
    for (int i = d->n - 1; i > 0; i--)
        for (int k = i - 1; k >= 0; k--)
            if (exchange(s, d, i, k))
                return;
}

static void find_wrong(jaw__slip *s, const digits *d)
{
    digits shown = digits_of(s, s->shown);
    int at = -1;

    if (s->shown % s->q != 0 || shown.n > d->n)
        return;
    for (int i = 0; i < d->n; i++) {
        if (shown.of[i] == d->of[i])
            continue;
        if (at >= 0)
            return;
        at = i;
    }
    if (at >= 0)
        jaw__slip_add(s, (jaw_readback_reason){
                             .kind = JAW_READ_WRONG,
                             .place = {at - s->decimals, 0},
                             .digit = {letter(d->of[at]),
                                       letter(shown.of[at])}});
}

/* ------------------------------------------------------------ lost, put in */

static void find_lost(jaw__slip *s, const digits *d)
{
    for (int i = d->n - 1; i >= 0; i--) {
        int64_t left = d->m / d->ten[i + 1], right = d->m % d->ten[i];
        int64_t rest = i < s->decimals ? left * d->ten[i + 1] + 10 * right
                                       : left * d->ten[i] + right;
        if (rest == d->m || rest * s->q != s->shown)
            continue;
        add_digit(s, JAW_READ_LOST, i, d->of[i], JAW__SAME);
        return;
    }
}

/* `digit` put in right of the place i, which is left of the point (i >=
 * decimals) or not.  The control may round what no longer fits, or cut it
 * off. */
static jaw__fit put_in(const jaw__slip *s, const digits *d, int i, int digit,
                       bool whole)
{
    int64_t more = d->m / d->ten[i] * d->ten[i + 1] + digit * d->ten[i] +
                   d->m % d->ten[i];

    if (more == (whole ? d->m : 10 * d->m))
        return JAW__OTHER; /* a 0 before all, or behind */
    if (whole)
        return more * s->q == s->shown ? JAW__SAME : JAW__OTHER;
    return jaw__slip_cut(s, more * (s->q / 10), 1, s->q);
}

static void find_doubled(jaw__slip *s, const digits *d)
{
    for (int i = d->n - 1; i >= 0; i--) {
        jaw__fit fit = put_in(s, d, i, d->of[i], i >= s->decimals);
        if (fit == JAW__OTHER)
            continue;
        add_digit(s, JAW_READ_DOUBLED, i, d->of[i], fit);
        return;
    }
}

/* Between two digits, before the first, behind the point.  A 0 before the point
 * may as well be absent: what stands there then was put in its place, and is a
 * wrong digit already. */
static bool find_one_more(jaw__slip *s, const digits *d, int digit)
{
    bool point = d->m / d->ten[s->decimals] > 0;

    for (int i = d->n; i >= s->decimals + !point; i--)
        if ((i < d->n || digit > 0) && put_in(s, d, i, digit, true)) {
            add_digit(s, JAW_READ_EXTRA, i, digit, JAW__SAME);
            return true;
        }
    for (int i = s->decimals; i > 0; i--) {
        jaw__fit fit = put_in(s, d, i, digit, false);
        if (fit == JAW__OTHER)
            continue;
        add_digit(s, JAW_READ_EXTRA, i - 1, digit, fit);
        return true;
    }
    return false;
}

static void find_extra(jaw__slip *s, const digits *d)
{
    for (int digit = 0; digit <= 9; digit++)
        if (find_one_more(s, d, digit))
            return;
}

/* ------------------------------------------------------------------- point */

static jaw__fit point_moved(const jaw__slip *s, int64_t ten, bool right)
{
    if (right)
        return s->should <= INT64_MAX / ten && s->should * ten == s->shown
                   ? JAW__SAME
                   : JAW__OTHER;
    jaw__fit fit = jaw__slip_cut(s, s->should, ten, s->q);
    return fit == JAW__OTHER ? jaw__slip_cut(s, s->should, ten, s->step) : fit;
}

/* Up to nine places: a control that takes a number without its point as so many
 * steps moves it by all of its decimals. */
static void find_point(jaw__slip *s, const digits *d)
{
    for (int k = 1; k <= 9; k++)
        for (int right = 0; right <= 1; right++) {
            jaw__fit fit = point_moved(s, d->ten[k], right);
            if (fit != JAW__OTHER)
                jaw__slip_add(s, (jaw_readback_reason){
                                     .kind = JAW_READ_POINT,
                                     .cut = fit == JAW__CUT,
                                     .power = right ? k : -k});
        }
}

void jaw__slip_digits(jaw__slip *s)
{
    digits d = digits_of(s, s->should);

    find_point(s, &d);
    find_exchange(s, &d);
    find_lost(s, &d);
    find_doubled(s, &d);
    find_wrong(s, &d);
    find_extra(s, &d);
}
