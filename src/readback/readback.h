/* SPDX-License-Identifier: GPL-3.0-or-later */
/* readback.h: two numbers as the control displays them, and what explains the
 * one by the other. */
#ifndef JAW__READBACK_H
#define JAW__READBACK_H

#include <jawline/readback.h>

#include <stdint.h>

/* A displayed number as a whole number of 1e-10: one decimal more than the nine
 * that can be told apart, for a digit that is doubled behind the last. */
#define JAW__READ_SCALE INT64_C(10000000000)

/* Beyond it products would not fit 63 bits: 1e6 * 1e10 * 254 is 2.5e18. */
#define JAW__READ_LARGEST 1e6

typedef struct jaw__slip {
    int64_t should, shown; /* without their signs */
    int64_t q, step;       /* the last decimal, the smallest entry */
    int decimals;          /* that the control shows */
    bool sign_too;
    int best;              /* what comes first, of found so far: see order */
    jaw_readback_found *found;
} jaw__slip;

/* jaw__slip_add: a reason that fits; kept if none comes before it. */
void jaw__slip_add(jaw__slip *s, jaw_readback_reason reason);

typedef enum jaw__fit { JAW__OTHER, JAW__SAME, JAW__CUT } jaw__fit;

/* jaw__slip_cut: whether shown is num / den > 0, or that on decimals of q:
 * rounded or cut off. */
jaw__fit jaw__slip_cut(const jaw__slip *s, int64_t num, int64_t den, int64_t q);

/* jaw__slip_digits: all that is a matter of digits and the point. */
void jaw__slip_digits(jaw__slip *s);

#endif
