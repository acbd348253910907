/* SPDX-License-Identifier: GPL-3.0-or-later */
/* number.c: numbers in text, the same in every locale.
 *
 * The C library's conversions round correctly, which is hard, and look at the
 * locale for the decimal point, which is the trap: under a German locale
 * strtod reads "1.5" as 1.  Setting the locale is either global or not
 * portable.  So the point never reaches the library: reading hands over the
 * digits as a whole number with its exponent, writing replaces whatever stands
 * between the whole and the decimal digits. */
#include <jawline/base.h>

#include <float.h>
#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ----------------------------------------------------------------- reading */

/* A point halfway between two doubles is m 2^-1075 with m < 2^54 at worst,
 * that is m 5^1075 / 10^1075, and m 5^1075 < 10^768: it has no more than 768
 * significant digits.  Of the digits behind those it matters only whether one
 * of them is not zero. */
#define DIGITS_MAX 770

/* A number as digits * 10^exponent, cut to what can matter. */
typedef struct decimal {
    char digits[DIGITS_MAX + 1]; /* without leading zeros; the last may stand
                                    for all that was cut */
    size_t count;
    long long exponent;
} decimal;

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static void add_digit(decimal *d, char digit, bool behind_point)
{
    if (behind_point)
        d->exponent--;
    if (d->count == 0 && digit == '0')
        return;
    if (d->count < DIGITS_MAX) {
        d->digits[d->count++] = digit;
        return;
    }
    d->exponent++;
    if (digit != '0')
        d->digits[DIGITS_MAX - 1] = '1';
}

/* Digits with at most one point.  Returns the characters used; 0 when there is
 * no digit. */
static size_t read_digits(const char *s, size_t len, decimal *d)
{
    bool point = false, any = false;
    size_t i = 0;
    for (; i < len; i++) {
        if (is_digit(s[i])) {
            any = true;
            add_digit(d, s[i], point);
        } else if (s[i] == '.' && !point) {
            point = true;
        } else {
            break;
        }
    }
    return any ? i : 0;
}

/* e, sign, digits.  Returns the characters used; 0 when this is no exponent
 * (the e may begin a word). */
static size_t read_exponent(const char *s, size_t len, long long *exponent)
{
    size_t i = 0;
    if (len == 0 || (s[0] != 'e' && s[0] != 'E'))
        return 0;
    i++;
    bool minus = i < len && s[i] == '-';
    if (i < len && (s[i] == '-' || s[i] == '+'))
        i++;
    if (i == len || !is_digit(s[i]))
        return 0;
    long long e = 0;
    for (; i < len && is_digit(s[i]); i++)
        if (e < LLONG_MAX / 100)
            e = 10 * e + (s[i] - '0');
    *exponent = minus ? -e : e;
    return i;
}

/* True when what follows would make the number another one than was read:
 * "1.2.3", "0x1F".  Half a number is worse than none.  A comma is left to the
 * caller, who alone knows whether it separates. */
static bool goes_on(const char *s, size_t len, size_t used)
{
    if (used == len)
        return false;
    if (s[used] == '.')
        return true;
    bool lone_zero = s[used - 1] == '0' &&
                     (used == 1 || s[used - 2] == '-' || s[used - 2] == '+');
    return lone_zero && (s[used] == 'x' || s[used] == 'X') && used + 1 < len;
}

/* The digits are a whole number here, so that strtod sees no point. */
static double decimal_value(const decimal *d)
{
    char text[DIGITS_MAX + 32];
    if (d->count == 0)
        return 0;
    long long e = d->exponent;
    if (e > 99999)
        e = 99999;
    if (e < -99999)
        e = -99999;
    snprintf(text, sizeof text, "%.*se%lld", (int)d->count, d->digits, e);
    return strtod(text, NULL);
}

jaw_status jaw_number_read(const char *s, size_t len, double *value,
                           size_t *used)
{
    decimal d;
    d.count = 0;
    d.exponent = 0;
    *value = NAN;
    *used = 0;
    size_t sign = len > 0 && (s[0] == '-' || s[0] == '+');
    size_t n = read_digits(s + sign, len - sign, &d);
    if (n == 0)
        return JAW_ESYNTAX;
    n += sign;
    long long exponent = 0;
    n += read_exponent(s + n, len - n, &exponent);
    if (goes_on(s, len, n))
        return JAW_ESYNTAX;
    d.exponent += exponent;
    double v = decimal_value(&d);
    if (!isfinite(v))
        return JAW_ENOTFINITE;
    *value = s[0] == '-' ? -v : v;
    *used = n;
    return JAW_OK;
}

/* ----------------------------------------------------------------- writing */

/* "-0.00" says that something is a little below zero, and it is not: it is
 * nothing. */
static bool all_zero(const char *s)
{
    return s[strspn(s, "0.")] == '\0';
}

/* value as printf has it in the current locale, with a point put in. */
static void write_point(double value, int decimals, char *text, size_t size)
{
    int length = snprintf(text, size, "%.*f", decimals, value);
    if (decimals == 0)
        return;
    size_t whole = 0;
    if (text[0] == '-')
        whole = 1;
    while (is_digit(text[whole]))
        whole++;
    /* a locale's point may be several bytes long */
    const char *fraction = text + length - decimals;
    text[whole] = '.';
    memmove(text + whole + 1, fraction, (size_t)decimals + 1);
}

jaw_status jaw_number_write(double value, int decimals, char *text, size_t size)
{
    /* sign, 309 digits, point (at most MB_LEN_MAX), 17 decimals, NUL */
    char all[1 + DBL_MAX_10_EXP + 1 + MB_LEN_MAX + 17 + 1];
    if (size > 0)
        text[0] = '\0';
    if (decimals < 0 || decimals > 17)
        return JAW_EDOMAIN;
    if (isfinite(value))
        write_point(value, decimals, all, sizeof all);
    else
        strcpy(all, "?");
    const char *from = all;
    if (all[0] == '-' && all_zero(all + 1))
        from++;
    size_t need = strlen(from) + 1;
    if (need > size)
        return JAW_ESIZE;
    memcpy(text, from, need);
    return JAW_OK;
}

/* ------------------------------------------------------------------- steps */

/* A step and a value that were written as decimals, or came through inches,
 * are off by up to half a last digit each, and so is their quotient: 0.00015 /
 * 0.0001 is 1.4999999999999998 and means a half.  This is four last digits. */
#define SLACK (4 * DBL_EPSILON)

/* Above this many steps the step is finer than the value's own last digits. */
#define STEPS_MAX 0x1p+49

double jaw_round_to_step(double value, double step)
{
    if (step == 0)
        return value;
    if (!(step > 0) || !isfinite(step))
        return NAN;
    double steps = value / step;
    if (!(fabs(steps) < STEPS_MAX))
        return value;
    double n = round(steps + steps * SLACK);
    /* n * 0.1 is not always the double that "0.3" reads as; n / 10 is. */
    double per_unit = round(1 / step);
    if (per_unit >= 1 && fabs(per_unit * step - 1) <= SLACK)
        return n / per_unit + 0.0; /* + 0.0: no step is 0, never -0 */
    return n * step + 0.0;
}

int jaw_step_decimals(double step)
{
    double scale = 1;
    for (int decimals = 0; decimals < 9; decimals++) {
        double n = round(step * scale);
        if (n >= 1 && fabs(step * scale - n) <= SLACK * n)
            return decimals;
        scale *= 10;
    }
    return 9;
}
