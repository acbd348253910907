/* SPDX-License-Identifier: GPL-3.0-or-later */
/* readback.h: what the control shows, held against what was to be entered.
 *
 * A value that was typed wrongly is rarely just any other number: two digits
 * have changed places, the minus is lost, it stands in the register beside.
 * All of that is decided on the decimals that the control shows, as whole
 * numbers: a reason that is given turns the one number into the other exactly,
 * and no tolerance is left to choose. */
#ifndef JAWLINE_READBACK_H
#define JAWLINE_READBACK_H

#include <jawline/base.h>

#ifdef __cplusplus
extern "C" {
#endif

/* One register, or one axis of it. */
enum { JAW_REGISTER_NAME = 16 };
typedef struct jaw_readback_value {
    char name[JAW_REGISTER_NAME]; /* "G54", "H3" */
    const char *word; /* "X", "Y", "Z", "turn", "length"; lives on */
    bool angle;       /* rad; otherwise mm */
    double step;      /* smallest entry, > 0 */
    double value;     /* to be entered, rounded to the step; NaN: not found */
    double half95;    /* half-width of its 95 % interval; NaN: not known */
    double before;    /* what it held before; NaN: not known */
    double shown;     /* what the control shows; NaN: not shown */
} jaw_readback_value;

typedef enum jaw_readback_state {
    JAW_READ_UNKNOWN, /* nothing was found to compare with */
    JAW_READ_MISSING, /* the control's value was not given */
    JAW_READ_GOOD,    /* less than half a step from what it should be */
    JAW_READ_OFF      /* it differs */
} jaw_readback_state;

/* Why a value is off.  Columns: name, the word of JSON, rank: how many values
 * such a slip can make of one.  0: a handful, whatever the digits; 1: one for
 * each digit or register; 2: ten for each digit, or one for each two.  The
 * fewer, the less likely it fits by chance.  Of one rank those that explain
 * every digit come before those whose rest was rounded or cut off; a slip
 * together with a changed sign comes behind all that need no second one. */
#define JAW_READ_LIST(X)                                                       \
    X(JAW_READ_LAST_DIGIT, "last-digit", 0)   /* one step off, or less */      \
    X(JAW_READ_SIGN, "sign", 0)               /* lost, or one too many */      \
    X(JAW_READ_INCH, "inch-for-mm", 0)        /* 25.4 times, or 1/25.4 */      \
    X(JAW_READ_NOTHING, "nothing-entered", 0) /* it shows 0 */                 \
    X(JAW_READ_STALE, "stale", 0)             /* what it held before */        \
    X(JAW_READ_EXCHANGED, "exchanged", 0)     /* two hold each other's value */\
    X(JAW_READ_OTHER, "other-register", 1)    /* the value of another one */   \
    X(JAW_READ_POINT, "point-moved", 1)                                        \
    X(JAW_READ_TRANSPOSED, "transposed", 1)   /* two neighbours */             \
    X(JAW_READ_LOST, "digit-lost", 1)                                          \
    X(JAW_READ_DOUBLED, "digit-doubled", 1)                                    \
    X(JAW_READ_WRONG, "digit-wrong", 2)                                        \
    X(JAW_READ_EXTRA, "digit-extra", 2)       /* one too many, of any kind */  \
    X(JAW_READ_APART, "transposed-apart", 2)  /* two that are not neighbours */

typedef enum jaw_readback_kind {
#define JAW_READ_ENUM(name, word, rank) name,
    JAW_READ_LIST(JAW_READ_ENUM)
#undef JAW_READ_ENUM
    JAW_READ_KINDS
} jaw_readback_kind;

/* jaw_readback_word: NULL for what is no kind; jaw_readback_rank: -1. */
const char *jaw_readback_word(jaw_readback_kind kind);
int jaw_readback_rank(jaw_readback_kind kind);

typedef struct jaw_readback_reason {
    jaw_readback_kind kind;
    bool sign_too;  /* and its sign is changed as well */
    bool cut;       /* DOUBLED, EXTRA, POINT: what no longer fits the control's
                       decimals was rounded or cut off */
    size_t other;   /* OTHER, EXCHANGED: which register */
    int power;      /* INCH: shown is 25.4^power times, POINT: 10^power times
                       what it should be */
    int place[2];   /* of a digit, as a power of ten: 0 ones, -1 first decimal;
                       of two, the left one first; LOST, WRONG and DOUBLED: in
                       what it should be, EXTRA: in what is shown */
    char digit[2];  /* TRANSPOSED, APART: as it should be, left one first; LOST,
                       DOUBLED, EXTRA: the digit; WRONG: as it should be, and
                       as shown */
} jaw_readback_reason;

enum { JAW_READ_MOST = 4 };
typedef struct jaw_readback_found {
    jaw_readback_state state;
    double off;   /* mm or rad, shown less value; NaN where not compared */
    bool within;  /* it is off by no more than half95 */
    jaw_readback_reason reason[JAW_READ_MOST];
    size_t n;     /* reasons that fit and come first, the first four of them;
                     0: it is good, was not compared, or is just wrong */
} jaw_readback_found;

/* jaw_readback_compare: each of value[n] with what is shown for it.
 *
 * Given:     value[n]  as it is displayed (in `unit`, or in degrees) each is a
 *                      number of no more than a million and nine decimals
 *            unit      of lengths on the control
 * Returned:  found[n]  good only within less than half a step; a value from
 *                      before or of another register is recognised within the
 *                      same.  Where digits do not fit the step (a point that
 *                      moved left, a doubled decimal, inch and mm), the rest
 *                      may be rounded or cut off, on the control's own decimals
 *                      or on those that it has in the other unit (one more in
 *                      inch, one less in mm; common practice, no source) or on
 *                      nine, if two digits at least are left to see it by.
 *                      A shown value beyond a million is just wrong.
 * Status:    JAW_OK; JAW_EDOMAIN: a step that is none, a value or half95 that
 *            can not be; every found[] is then UNKNOWN, its off NaN
 * Cost:      n, and n more for each that is off
 * Source:    of kinds of slips: Damerau, Comm. ACM 7 (1964) 171-176 (one letter
 *            wrong, one lost, one extra, two neighbours transposed); the rest
 *            common practice, no source */
jaw_status jaw_readback_compare(const jaw_readback_value value[], size_t n,
                                jaw_unit unit, jaw_readback_found found[]);

#ifdef __cplusplus
}
#endif
#endif
