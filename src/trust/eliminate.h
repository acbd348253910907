/* SPDX-License-Identifier: GPL-3.0-or-later */
/* eliminate.h: a few linear equations, by elimination with row exchange; shared
 * inside src/trust.  Inside Newton's steps, where nothing is allocated. */
#ifndef JAW__ELIMINATE_H
#define JAW__ELIMINATE_H

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

enum { JAW__COLUMNS = 6 }; /* five unknowns and what they make */

/* jaw__eliminate: n equations a[i] . x = a[i][n], n < JAW__COLUMNS; x into
 * a[i][n].  False when they are singular. */
static inline bool jaw__eliminate(size_t n, double a[][JAW__COLUMNS])
{
    for (size_t k = 0; k < n; k++) {
        size_t top = k;
        for (size_t i = k + 1; i < n; i++)
            top = fabs(a[i][k]) > fabs(a[top][k]) ? i : top;
        if (!(fabs(a[top][k]) > 0))
            return false;
        for (size_t j = 0; j <= n; j++) {
            double swap = a[k][j];
            a[k][j] = a[top][j];
            a[top][j] = swap;
        }
        for (size_t i = 0; i < n; i++) {
            double by = i == k ? 0 : a[i][k] / a[k][k];
            for (size_t j = k; j <= n; j++)
                a[i][j] -= by * a[k][j];
        }
    }
    for (size_t k = 0; k < n; k++)
        a[k][n] /= a[k][k];
    return true;
}

#endif
