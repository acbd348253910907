/* SPDX-License-Identifier: GPL-3.0-or-later */
/* slips.c: slips of the finger, made in text.  Nothing here is computed as the
 * library does it: digits are characters that are moved about. */
#include "readback_tests.h"

#include <stdlib.h>

/* Where the digits stand in text, the left one first; returns how many. */
static size_t digits_at(const char *text, size_t at[TEXT])
{
    size_t n = 0;

    for (size_t i = 0; text[i]; i++)
        if (text[i] >= '0' && text[i] <= '9')
            at[n++] = i;
    return n;
}

/* The index of the digit of a place, -1 when the text has none. */
static long place_at(const char *text, int place)
{
    const char *point = strchr(text, '.');
    long i = place >= 0 ? point - text - 1 - place : point - text - place;

    return i >= 0 && text[i] >= '0' && text[i] <= '9' ? i : -1;
}

static void take_out(char *text, size_t at)
{
    memmove(text + at, text + at + 1, strlen(text + at));
}

static void put_in(char *text, size_t at, char c)
{
    memmove(text + at + 1, text + at, strlen(text + at) + 1);
    text[at] = c;
}

static void change_sign(char *text)
{
    if (text[0] == '-')
        take_out(text, 0);
    else
        put_in(text, 0, '-');
}

static void swap(char *text, size_t i, size_t k)
{
    char c = text[i];

    text[i] = text[k];
    text[k] = c;
}

/* Zeros where the point needs them, to either side. */
static void move_point(char *text, int right)
{
    size_t sign = text[0] == '-';

    for (; right > 0; right--) {
        size_t at = (size_t)(strchr(text, '.') - text);
        if (text[at + 1] == '\0')
            put_in(text, at + 1, '0');
        swap(text, at, at + 1);
    }
    for (; right < 0; right++) {
        size_t at = (size_t)(strchr(text, '.') - text);
        if (at == sign)
            put_in(text, at++, '0');
        swap(text, at, at - 1);
    }
    if (text[sign] == '.')
        put_in(text, sign, '0');
    if (text[strlen(text) - 1] == '.')
        strcat(text, "0");
}

static void convert(char *text, bool larger)
{
    double value = strtod(text, NULL);

    snprintf(text, TEXT, "%.12f", larger ? value * 25.4 : value / 25.4);
}

bool slip_make(jaw_readback_kind kind, const char *text, size_t which,
               char out[TEXT])
{
    size_t at[TEXT], n = digits_at(text, at), i = which % n, k = i + 1;
    char any = (char)('0' + which / n % 10);

    strcpy(out, text);
    switch (kind) {
    case JAW_READ_SIGN: change_sign(out); return true;
    case JAW_READ_INCH: convert(out, which % 2 == 0); return true;
    case JAW_READ_NOTHING: strcpy(out, "0.0"); return true;
    case JAW_READ_POINT:
        move_point(out, which % 2 == 0 ? (int)(which / 2 % 2) + 1
                                       : -(int)(which / 2 % 2) - 1);
        return true;
    case JAW_READ_APART: k = i + 2; /* fall through */
    case JAW_READ_TRANSPOSED:
        if (k < n)
            swap(out, at[i], at[k]);
        return k < n;
    case JAW_READ_LOST: take_out(out, at[i]); return true;
    case JAW_READ_DOUBLED: put_in(out, at[i], text[at[i]]); return true;
    case JAW_READ_WRONG: out[at[i]] = any; return true;
    case JAW_READ_EXTRA: put_in(out, at[i], any); return true;
    default: return false;
    }
}

void slip_repeat(const jaw_readback_reason *why, const char *text,
                 char out[TEXT])
{
    long i, k;

    strcpy(out, text);
    i = place_at(text, why->place[0]);
    k = place_at(text, why->place[1]);
    switch (why->kind) {
    case JAW_READ_SIGN: change_sign(out); break;
    case JAW_READ_INCH: convert(out, why->power > 0); break;
    case JAW_READ_NOTHING: strcpy(out, "0.0"); break;
    case JAW_READ_POINT: move_point(out, why->power); break;
    case JAW_READ_APART:
    case JAW_READ_TRANSPOSED:
        ck_assert(i >= 0 && k > i);
        ck_assert(text[i] == why->digit[0] && text[k] == why->digit[1]);
        ck_assert((k - i - (text[i + 1] == '.') == 1) ==
                  (why->kind == JAW_READ_TRANSPOSED));
        swap(out, (size_t)i, (size_t)k);
        break;
    case JAW_READ_LOST:
        ck_assert(i >= 0 && text[i] == why->digit[0]);
        take_out(out, (size_t)i);
        break;
    case JAW_READ_DOUBLED:
        ck_assert(i >= 0 && text[i] == why->digit[0]);
        put_in(out, (size_t)i, text[i]);
        break;
    case JAW_READ_WRONG:
        ck_assert(i >= 0 && text[i] == why->digit[0]);
        out[i] = why->digit[1];
        break;
    case JAW_READ_EXTRA:
        i = strchr(text, '.') - text - why->place[0] - (why->place[0] >= 0);
        i += why->place[0] >= 0; /* its place is that in what is shown */
        put_in(out, (size_t)i, why->digit[0]);
        break;
    default:
        ck_abort_msg("%s is not made of one value",
                     jaw_readback_word(why->kind));
    }
    if (why->sign_too)
        change_sign(out);
}
