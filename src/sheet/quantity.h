/* SPDX-License-Identifier: GPL-3.0-or-later */
/* quantity.h: a number with the unit that it carries. */
#ifndef JAW__QUANTITY_H
#define JAW__QUANTITY_H

#include <jawline/base.h>

typedef enum jaw__suffix {
    JAW__BARE, /* no unit */
    JAW__MM,
    JAW__INCH,
    JAW__DEG,
    JAW__RAD
} jaw__suffix;

/* What keeps a text from being a number. */
typedef enum jaw__trouble {
    JAW__NO_TROUBLE,
    JAW__NOT_A_NUMBER,  /* anything else */
    JAW__NOT_FINITE,    /* nan, inf */
    JAW__TOO_LARGE,     /* 1e400 */
    JAW__DECIMAL_COMMA, /* 3,125 */
    JAW__LOOSE_COMMA,   /* "3.125," and "3.1,-2" */
    JAW__SEMICOLON,     /* 3.125;4 */
    JAW__TYPED_MINUS,   /* a minus or dash that is not the plain one */
    JAW__DEGREE_SIGN,
    JAW__INCH_MARK,
    JAW__FRACTION,      /* 3/8 */
    JAW__TWO_NUMBERS,   /* 1.5-3.1 and 1.2.3 */
    JAW__NO_DIGITS,     /* a lone sign or point */
    JAW__ODD_UNIT       /* 25.4cm */
} jaw__trouble;

enum { JAW__CURED_SIZE = 64 };

typedef struct jaw__quantity {
    double number; /* as written; NaN with trouble */
    jaw__suffix suffix;
    jaw__trouble trouble;
    size_t number_len; /* bytes before the unit */
    char cured[JAW__CURED_SIZE]; /* how it was probably meant; "" unknown */
} jaw__quantity;

/* jaw__number_like: text that was meant as a number: it begins with a digit, a
 * sign or a point, or is nan or inf. */
bool jaw__number_like(const char *s, size_t len);

/* jaw__quantity_read: all of s[len] as a number with its unit. */
jaw__quantity jaw__quantity_read(const char *s, size_t len);

#endif
