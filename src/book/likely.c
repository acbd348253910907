/* SPDX-License-Identifier: GPL-3.0-or-later */
/* likely.c: a change that is real: what it probably was, by how likely each
 * cause would have made just this one (Bayes). */
#include "change.h"

#include <math.h>
#include <string.h>

static double normal_density(double x, double s)
{
    return exp(-x * x / (2 * s * s)) / (s * sqrt(2 * acos(-1)));
}

static double normal_below(double x)
{
    return 0.5 * erfc(-x / sqrt(2));
}

/* ln of the normal probability below x, far out by its asymptote. */
static double ln_below(double x)
{
    return x > -30 ? log(normal_below(x))
                   : -x * x / 2 - log(-x * sqrt(2 * acos(-1)));
}

/* Exponential loss of mean m, seen with a normal error s. */
static double worn_density(double d, double s, double m)
{
    double lost = -d;

    return exp(s * s / (2 * m * m) - lost / m + ln_below(lost / s - s / m)) / m;
}

/* Any amount between 0 and reach, seen with a normal error s. */
static double even_density(double amount, double s, double reach)
{
    return (normal_below(amount / s) - normal_below((amount - reach) / s)) /
           reach;
}

static double other_density(jaw_book_verdict *v, double s,
                            const jaw__other_tool other[], size_t n)
{
    double sum = 0, best = 0;

    for (size_t i = 0; i < n; i++) {
        double p = normal_density(v->differ - (other[i].value - v->last),
                                  hypot(s, other[i].u));
        sum += p;
        if (p <= best)
            continue;
        best = p;
        v->other = other[i].number;
        memcpy(v->other_holder, other[i].holder, sizeof v->other_holder);
    }
    return n > 0 ? sum / (double)n : 0;
}

/* Worn, more, less, another tool: which they are, and before anything is
 * known. */
enum { WORN, MORE, LESS, OTHER, CAUSES };
typedef struct cause {
    jaw_book_change change;
    double share;
} cause;

#define PRIOR(change, share) {change, share},
static const cause of_length[CAUSES] = {JAW_BOOK_PRIOR_LIST(PRIOR)};
static const cause of_diameter[CAUSES] = {JAW_BOOK_PRIOR_DIAMETER_LIST(PRIOR)};
#undef PRIOR

/* The normal error is as wide as the limit says, which few degrees of freedom
 * make wider. */
void jaw__book_judge(jaw_book_verdict *v, jaw_book_kind kind, double reach,
                     const jaw__other_tool other[], size_t n)
{
    double s = v->limit / jaw_trust_cover(1 - JAW_BOOK_ALPHA, (double)INFINITY);
    const cause *c = kind == JAW_BOOK_DIAMETER ? of_diameter : of_length;
    double total = 0;

    v->other = 0;
    /* beyond noise it is more, and wear takes away */
    v->share[c[WORN].change] =
        v->differ > 0 ? 0 : worn_density(v->differ, s, v->wear);
    v->share[c[MORE].change] = even_density(v->differ, s, reach);
    v->share[c[LESS].change] = even_density(-v->differ, s, reach);
    v->share[c[OTHER].change] = other_density(v, s, other, n);
    for (int i = 0; i < CAUSES; i++)
        total += v->share[c[i].change] *= c[i].share;
    v->change = c[v->differ > 0 ? MORE : LESS].change;
    for (int i = 0; i < CAUSES; i++) {
        double *share = &v->share[c[i].change];
        *share = total > 0 ? *share / total : c[i].change == v->change;
        if (*share > v->share[v->change])
            v->change = c[i].change;
    }
}
