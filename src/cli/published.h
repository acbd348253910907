/* SPDX-License-Identifier: GPL-3.0-or-later */
/* published.h: cases with an answer from outside this program. */
#ifndef JAW__PUBLISHED_H
#define JAW__PUBLISHED_H

#include <stddef.h>

/* What is fitted, and which numbers of it are compared, in this order. */
typedef enum published_kind {
    PUBLISHED_CIRCLE,  /* x y; x, y, r, sum of squares */
    PUBLISHED_LINE,    /* x y; direction rad, distance from the origin, sum of
                          squares */
    PUBLISHED_PLANE,   /* x y z; normal x y z, distance, sum of squares */
    PUBLISHED_RIGID,   /* from x y, to x y; turn rad, shift x y, sum of squares,
                          scale */
    PUBLISHED_PATTERN, /* nominal x y, touched x y; origin x y, turn rad, scale,
                          largest residual */
    PUBLISHED_SKEW,    /* offset x y, turn deg, work x, work y; machine x y */
    PUBLISHED_INCH,    /* nothing; millimetres in one inch */
    PUBLISHED_SHEET    /* a sheet's text; X Y Z of the first zero, skew rad,
                          lengths of the first two tools */
} published_kind;

enum { PUBLISHED_WANTS = 6 };

typedef struct published_want {
    const char *what;
    double want, allowed;
} published_want;

typedef struct published_case {
    const char *name, *source;
    published_kind kind;
    const double *data; /* n rows, of as many numbers as the kind has */
    size_t n;
    const char *sheet;
    published_want want[PUBLISHED_WANTS]; /* ends at what == NULL */
} published_case;

extern const published_case published_cases[];
extern const size_t published_count;

#endif
