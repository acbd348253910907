/* SPDX-License-Identifier: GPL-3.0-or-later */
/* spreads.h: what a spread of so many degrees of freedom may come out as, for
 * quadrature over it. */
#ifndef TESTS_TRUST_SPREADS_H
#define TESTS_TRUST_SPREADS_H

#include <math.h>

enum { SPREADS_MOST = 1201 };

/* What a spread may come out as, in true spreads, and how likely. */
typedef struct spreads {
    double s[SPREADS_MOST], weight[SPREADS_MOST];
    int n;
} spreads;

/* With y the logarithm of chi-square its density is
 * exp(dof y / 2 - exp(y) / 2) but for a factor; the trapezoid rule, for it falls
 * to nothing at both ends. */
static inline void spreads_of(double dof, int n, spreads *out)
{
    const double low = -60 / dof - 4, high = log(dof + 12 * sqrt(2 * dof) + 60);
    double all = 0;

    out->n = n;
    for (int i = 0; i < n; i++) {
        double y = low + (high - low) * i / (n - 1);
        out->s[i] = sqrt(exp(y) / dof);
        out->weight[i] = exp(dof / 2 * (y - log(dof)) - exp(y) / 2 + dof / 2);
        all += out->weight[i];
    }
    for (int i = 0; i < n; i++)
        out->weight[i] /= all;
}

#endif
