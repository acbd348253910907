/* SPDX-License-Identifier: GPL-3.0-or-later */
/* house.c: Householder triangularisation by rows (Golub & Van Loan, Matrix
 * Computations, 5.2).  GSL's keeps the reflections and wants a workspace; here
 * they are applied to the right-hand sides at once and forgotten, which lets a
 * block of any length be reduced in its own storage. */
#include "adjust.h"

#include <math.h>

static double column_norm(const double m[], size_t rows, size_t columns,
                          size_t k)
{
    double size = 0, sum = 0;

    for (size_t i = k; i < rows; i++)
        size = fmax(size, fabs(m[i * columns + k]));
    if (!(size > 0))
        return 0;
    for (size_t i = k; i < rows; i++) {
        double part = m[i * columns + k] / size;
        sum += part * part;
    }
    return size * sqrt(sum);
}

/* The reflection that takes column k below the diagonal away; v stands in the
 * column itself until it has been applied. */
static void reflect(double m[], size_t rows, size_t columns, size_t k)
{
    double norm = column_norm(m, rows, columns, k);
    double *top = &m[k * columns + k];

    if (!(norm > 0))
        return;
    double alpha = *top > 0 ? -norm : norm;
    double v0 = *top - alpha; /* no cancellation: the signs differ */
    double beta = -1 / (alpha * v0); /* 2 / v.v */
    *top = v0;
    for (size_t j = k + 1; j < columns; j++) {
        double sum = 0;
        for (size_t i = k; i < rows; i++)
            sum += m[i * columns + k] * m[i * columns + j];
        sum *= beta;
        for (size_t i = k; i < rows; i++)
            m[i * columns + j] -= sum * m[i * columns + k];
    }
    *top = alpha;
    for (size_t i = k + 1; i < rows; i++)
        m[i * columns + k] = 0;
}

void jaw__house(double m[], size_t rows, size_t columns, size_t n)
{
    for (size_t k = 0; k < n && k < rows; k++)
        reflect(m, rows, columns, k);
}
