/* SPDX-License-Identifier: GPL-3.0-or-later */
/* quantity.c: a number with the unit that it carries, and for what is none a
 * guess at what was meant, for the message only: a wrong guess at a position
 * breaks a cutter, so nothing is ever repaired in silence. */
#include "quantity.h"

#include <float.h>
#include <math.h>
#include <string.h>

/* ---------------------------------------------------------------- spelling */

static const struct {
    const char *word;
    jaw__suffix suffix;
} units[] = {
    {"mm", JAW__MM},
    {"in", JAW__INCH},
    {"deg", JAW__DEG},
    {"rad", JAW__RAD},
};

/* Signs of word processors and other keyboards, and what they were meant as:
 * hyphens and dashes U+2010 to U+2015, minus U+2212, small hyphen U+FE63,
 * full-width hyphen U+FF0D; primes and quotes for inches; degree signs. */
static const struct {
    const char *text, *meant;
    jaw__trouble trouble;
} signs[] = {
    {"\xE2\x80\x90", "-", JAW__TYPED_MINUS},
    {"\xE2\x80\x91", "-", JAW__TYPED_MINUS},
    {"\xE2\x80\x92", "-", JAW__TYPED_MINUS},
    {"\xE2\x80\x93", "-", JAW__TYPED_MINUS},
    {"\xE2\x80\x94", "-", JAW__TYPED_MINUS},
    {"\xE2\x80\x95", "-", JAW__TYPED_MINUS},
    {"\xE2\x88\x92", "-", JAW__TYPED_MINUS},
    {"\xEF\xB9\xA3", "-", JAW__TYPED_MINUS},
    {"\xEF\xBC\x8D", "-", JAW__TYPED_MINUS},
    {"\"", "in", JAW__INCH_MARK},
    {"''", "in", JAW__INCH_MARK},
    {"\xE2\x80\xB3", "in", JAW__INCH_MARK},
    {"\xE2\x80\x9D", "in", JAW__INCH_MARK},
    {"\xC2\xB0", "deg", JAW__DEGREE_SIGN},
    {"\xC2\xBA", "deg", JAW__DEGREE_SIGN},
};

enum { UNITS = sizeof units / sizeof units[0],
       SIGNS = sizeof signs / sizeof signs[0] };

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static bool starts(const char *s, size_t len, const char *with)
{
    size_t n = strlen(with);
    return n <= len && memcmp(s, with, n) == 0;
}

/* The sign at s, -1 when there is none of the list. */
static int sign_at(const char *s, size_t len)
{
    for (int i = 0; i < SIGNS; i++)
        if (starts(s, len, signs[i].text))
            return i;
    return -1;
}

static bool same_letters(const char *s, size_t len, const char *word)
{
    if (strlen(word) != len)
        return false;
    for (size_t i = 0; i < len; i++)
        if ((s[i] | 0x20) != word[i])
            return false;
    return true;
}

static bool is_not_finite(const char *s, size_t len)
{
    size_t sign = len > 0 && (s[0] == '-' || s[0] == '+');
    return same_letters(s + sign, len - sign, "nan") ||
           same_letters(s + sign, len - sign, "inf") ||
           same_letters(s + sign, len - sign, "infinity");
}

bool jaw__number_like(const char *s, size_t len)
{
    if (len == 0)
        return false;
    if (is_digit(s[0]) || strchr("+-.,", s[0]))
        return s[0] != '\0';
    int sign = sign_at(s, len);
    return (sign >= 0 && signs[sign].trouble == JAW__TYPED_MINUS) ||
           is_not_finite(s, len);
}

/* ------------------------------------------------------ what was not meant */

/* A copy in which odd signs and a decimal comma are what they were meant as.
 * Returns its length; 0 when it does not fit.  *first is the first that was
 * put right. */
static size_t put_right(const char *s, size_t len, char *out,
                        jaw__trouble *first)
{
    size_t n = 0;
    bool point = memchr(s, '.', len) != NULL;

    *first = JAW__NO_TROUBLE;
    for (size_t i = 0; i < len;) {
        int sign = sign_at(s + i, len - i);
        jaw__trouble trouble =
            sign >= 0 ? signs[sign].trouble : JAW__NO_TROUBLE;
        char plain[2] = {s[i], '\0'};
        const char *put = sign >= 0 ? signs[sign].meant : plain;
        if (s[i] == ',' && !point && i + 1 < len && is_digit(s[i + 1])) {
            point = true;
            trouble = JAW__DECIMAL_COMMA;
            put = ".";
        }
        size_t bytes = strlen(put);
        if (n + bytes >= JAW__CURED_SIZE)
            return 0;
        memcpy(out + n, put, bytes);
        n += bytes;
        i += sign >= 0 ? strlen(signs[sign].text) : 1;
        if (*first == JAW__NO_TROUBLE)
            *first = trouble;
    }
    out[n] = '\0';
    return n;
}

static jaw__suffix suffix_read(const char *s, size_t len)
{
    for (int i = 0; i < UNITS; i++)
        if (starts(s, len, units[i].word) && strlen(units[i].word) == len)
            return units[i].suffix;
    return JAW__BARE;
}

/* The short way for what nearly all touches look like: at most 15 digits and
 * no exponent.  Digits and power of ten are then exact in a double, so that
 * one division rounds once, as it should (Clinger, PLDI 1990, section 3).
 * Returns the bytes used; 0 when this is nothing for the short way. */
static size_t read_short(const char *s, size_t len, double *value)
{
    static const double ten[] = {1e0, 1e1, 1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};
    size_t i = len > 0 && (s[0] == '-' || s[0] == '+');
    int digits = 0, decimals = 0;
    bool point = false;
    double n = 0;

    for (; i < len && digits <= 15; i++) {
        if (is_digit(s[i])) {
            n = 10 * n + (s[i] - '0');
            decimals += point;
            digits++;
        } else if (s[i] == '.' && !point) {
            point = true;
        } else {
            break;
        }
    }
    if (FLT_EVAL_METHOD != 0 || digits == 0 || digits > 15 ||
        (i < len && strchr("0123456789.,eExX", s[i])))
        return 0;
    n /= ten[decimals];
    *value = s[0] == '-' ? -n : n;
    return i;
}

/* number and unit, nothing else; false when it is not. */
static bool read_plain(const char *s, size_t len, jaw__quantity *q)
{
    size_t used = read_short(s, len, &q->number);

    if (used == 0 && jaw_number_read(s, len, &q->number, &used) != JAW_OK)
        return false;
    q->number_len = used;
    q->suffix = suffix_read(s + used, len - used);
    return used == len || q->suffix != JAW__BARE;
}

static void say_units(jaw__quantity *q, const char *s, size_t used, size_t len)
{
    char word[JAW__CURED_SIZE];
    const char *words[UNITS];
    size_t n = len - used;

    if (n >= sizeof word)
        return;
    memcpy(word, s + used, n);
    word[n] = '\0';
    for (int i = 0; i < UNITS; i++)
        words[i] = units[i].word;
    const char *near = jaw_word_nearest(word, words, UNITS);
    /* Too long for the distance, and what most people write. */
    if (same_letters(word, n, "inch") || same_letters(word, n, "inches"))
        near = "in";
    if (same_letters(word, n, "degree") || same_letters(word, n, "degrees"))
        near = "deg";
    if (near && used + strlen(near) < sizeof q->cured) {
        memcpy(q->cured, s, used);
        memcpy(q->cured + used, near, strlen(near) + 1);
    }
}

/* 3/8in as 0.375in. */
static void say_fraction(jaw__quantity *q, const char *s, size_t used,
                         size_t len)
{
    double below;
    size_t n, end;

    if (jaw_number_read(s + used + 1, len - used - 1, &below, &n) != JAW_OK ||
        !(below > 0) || !(fabs(q->number) < 1e6) ||
        jaw_number_write(q->number / below, 6, q->cured, 32) != JAW_OK)
        return;
    for (end = strlen(q->cured); q->cured[end - 1] == '0'; end--)
        ;
    end += q->cured[end - 1] == '.'; /* 3.0 and not 3. */
    const char *unit = s + used + 1 + n;
    size_t unit_len = (size_t)(s + len - unit);
    q->cured[0] = unit_len < 8 ? q->cured[0] : '\0';
    if (unit_len < 8) {
        memcpy(q->cured + end, unit, unit_len);
        q->cured[end + unit_len] = '\0';
    }
}

/* Two numbers with a blank put between them, where both are plain. */
static void say_two(jaw__quantity *q, const char *s, size_t used, size_t len)
{
    jaw__quantity second = {0};

    if (len + 1 >= sizeof q->cured ||
        !read_plain(s + used, len - used, &second))
        return;
    memcpy(q->cured, s, used);
    q->cured[used] = ' ';
    memcpy(q->cured + used + 1, s + used, len - used);
    q->cured[len + 1] = '\0';
}

/* A number stands at the start, and what follows it is no unit. */
static jaw__trouble judge_rest(jaw__quantity *q, const char *s, size_t used,
                               size_t len)
{
    const char *rest = s + used;
    size_t n = len - used;

    if (memchr(rest, ';', n))
        return JAW__SEMICOLON;
    if (rest[0] == ',')
        return JAW__LOOSE_COMMA;
    if (rest[0] == '/' && n > 1 && is_digit(rest[1])) {
        say_fraction(q, s, used, len);
        return q->cured[0] ? JAW__FRACTION : JAW__ODD_UNIT;
    }
    if (rest[0] == '+' || rest[0] == '-') {
        say_two(q, s, used, len);
        return q->cured[0] ? JAW__TWO_NUMBERS : JAW__ODD_UNIT;
    }
    say_units(q, s, used, len);
    return JAW__ODD_UNIT;
}

static bool any_digit(const char *s, size_t len)
{
    for (size_t i = 0; i < len; i++)
        if (is_digit(s[i]))
            return true;
    return false;
}

/* No number stands at the start. */
static jaw__trouble judge_start(const char *s, size_t len)
{
    if (is_not_finite(s, len))
        return JAW__NOT_FINITE;
    if (!any_digit(s, len))
        return jaw__number_like(s, len) ? JAW__NO_DIGITS : JAW__NOT_A_NUMBER;
    if (memchr(s, ';', len))
        return JAW__SEMICOLON;
    if (memchr(s, ',', len))
        return JAW__LOOSE_COMMA;
    const char *point = memchr(s, '.', len);
    if (point && memchr(point + 1, '.', (size_t)(s + len - point - 1)))
        return JAW__TWO_NUMBERS;
    return JAW__NOT_A_NUMBER;
}

static void judge(jaw__quantity *q, const char *s, size_t len)
{
    char meant[JAW__CURED_SIZE];
    jaw__trouble first;
    jaw__quantity plain = {0};
    size_t n = put_right(s, len, meant, &first);

    if (n > 0 && first != JAW__NO_TROUBLE && read_plain(meant, n, &plain)) {
        q->trouble = first;
        memcpy(q->cured, meant, n + 1);
        return;
    }
    if (n > 0) {
        s = meant;
        len = n;
    }
    size_t used;
    jaw_status status = jaw_number_read(s, len, &q->number, &used);
    if (status == JAW_ENOTFINITE)
        q->trouble = JAW__TOO_LARGE;
    else if (status == JAW_OK)
        q->trouble = judge_rest(q, s, used, len);
    else
        q->trouble = judge_start(s, len);
}

jaw__quantity jaw__quantity_read(const char *s, size_t len)
{
    jaw__quantity q;

    q.trouble = JAW__NO_TROUBLE;
    q.suffix = JAW__BARE;
    q.number_len = 0;
    q.cured[0] = '\0';
    if (read_plain(s, len, &q))
        return q;
    judge(&q, s, len);
    q.number = (double)NAN;
    q.suffix = JAW__BARE;
    return q;
}
