/* SPDX-License-Identifier: GPL-3.0-or-later */
/* trend.c: a line through lengths over time: the median of the slopes of all
 * pairs (Theil 1950), which one wrong length does not move, with the interval
 * that follows from Kendall's S (Sen 1968); and least squares beside it, whose
 * prediction interval is exact for normal errors. */
#include <jawline/book.h>

#include <math.h>
#include <stdlib.h>

/* ---------------------------------------------------------- Kendall's S */

enum { EXACT = 60 };

/* How many of the S that n ranks can have are below half: with k inversions
 * S = N - 2k.  The largest k with P(inversions <= k) <= p, by the counts of
 * permutations with k inversions (Kendall 1938), as shares; -1: none. */
static long exact_place(size_t n, double p)
{
    size_t most = n * (n - 1) / 2 + 1;
    double *share = calloc(most, sizeof *share);
    double *next = calloc(most, sizeof *next);
    long k = -1;

    if (share == NULL || next == NULL) {
        free(share);
        free(next);
        return -2;
    }
    share[0] = 1;
    for (size_t m = 2; m <= n; m++) {
        double sum = 0;
        for (size_t i = 0; i < most; i++) {
            sum += share[i];
            if (i >= m)
                sum -= share[i - m];
            next[i] = sum / (double)m;
        }
        double *was = share;
        share = next;
        next = was;
    }
    double sum = share[0];
    while (sum <= p) {
        k++;
        sum += share[k + 1];
    }
    free(share);
    free(next);
    return k;
}

static double share_of_variance(double n)
{
    return n * (n - 1) * (2 * n + 5);
}

/* The place, from 1, of the lower end among the ordered slopes; 0: none, -1:
 * out of memory.  Of the two ends each leaves 2.5 % out.  Where several x are
 * the same their pairs have no slope, and S varies less (Sen 1968, 2.6). */
static long lower_place(const double x[], size_t n, size_t pairs)
{
    double variance = share_of_variance((double)n);

    if (n <= EXACT && pairs == n * (n - 1) / 2) {
        long k = exact_place(n, 0.025);
        return k == -2 ? -1 : k + 1;
    }
    for (size_t i = 0, k; i < n; i = k) {
        for (k = i + 1; k < n && x[k] <= x[i]; k++)
            ;
        variance -= share_of_variance((double)(k - i));
    }
    double c = jaw_trust_cover(0.95, (double)INFINITY) * sqrt(variance / 18);
    return c < (double)pairs ? (long)floor(((double)pairs - c) / 2) : 0;
}

/* ------------------------------------------------------------------- line */

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;

    return (x > y) - (x < y);
}

static double median(double v[], size_t n)
{
    qsort(v, n, sizeof *v, by_size);
    return n % 2 ? v[n / 2] : v[n / 2 - 1] + (v[n / 2] - v[n / 2 - 1]) / 2;
}

static jaw_book_line line_nan(void)
{
    const double nan = (double)NAN;

    return (jaw_book_line){0,   nan, nan, nan, false, nan, nan,
                           nan, nan, nan, nan, nan,   false};
}

static void find_squares(const double x[], const double y[], jaw_book_line *l)
{
    double n = (double)l->n, xy = 0, ssr = 0;

    l->mean_x = l->mean_y = l->sum_xx = 0;
    for (size_t i = 0; i < l->n; i++) {
        l->mean_x += x[i] / n;
        l->mean_y += y[i] / n;
    }
    for (size_t i = 0; i < l->n; i++) {
        l->sum_xx += (x[i] - l->mean_x) * (x[i] - l->mean_x);
        xy += (x[i] - l->mean_x) * (y[i] - l->mean_y);
    }
    l->square_slope = xy / l->sum_xx;
    for (size_t i = 0; i < l->n; i++) {
        double r = y[i] - l->mean_y - l->square_slope * (x[i] - l->mean_x);
        ssr += r * r;
    }
    l->s = l->n > 2 ? sqrt(ssr / (n - 2)) : (double)NAN;
}

/* What rounding, a rectangle of width step, leaves in the slope of least
 * squares: lengths on a line to the last step have no other spread.  NaN stays
 * what it is. */
static void widen(double step, jaw_book_line *l)
{
    double least = jaw_trust_cover(0.95, (double)INFINITY) * step /
                   sqrt(12 * l->sum_xx);

    if (isnan(l->low) || !(step > 0))
        return;
    l->low = fmin(l->low, l->slope - least);
    l->high = fmax(l->high, l->slope + least);
}

static jaw_status find_robust(const double x[], const double y[], double step,
                              double slope[], jaw_book_line *l)
{
    size_t pairs = 0;

    for (size_t i = 0; i < l->n; i++)
        for (size_t k = i + 1; k < l->n; k++)
            if (x[k] > x[i])
                slope[pairs++] = (y[k] - y[i]) / (x[k] - x[i]);
    long place = lower_place(x, l->n, pairs);
    l->slope = median(slope, pairs);
    if (place < 0)
        return JAW_ENOMEM;
    l->low = place > 0 ? slope[place - 1] : (double)NAN;
    l->high = place > 0 ? slope[pairs - (size_t)place] : (double)NAN;
    widen(step, l);
    l->real = l->low > 0 || l->high < 0;
    l->agree = !(l->square_slope < l->low) && !(l->square_slope > l->high);
    for (size_t i = 0; i < l->n; i++)
        slope[i] = x[i];
    l->middle_x = median(slope, l->n);
    for (size_t i = 0; i < l->n; i++)
        slope[i] = y[i] - l->slope * (x[i] - l->middle_x);
    l->middle_y = median(slope, l->n);
    return JAW_OK;
}

jaw_status jaw_book_trend(const double x[], const double y[], size_t n,
                          double step, jaw_book_line *line)
{
    *line = line_nan();
    if (n < 3)
        return JAW_EFEW;
    for (size_t i = 0; i < n; i++)
        if (!isfinite(x[i]) || !isfinite(y[i]))
            return JAW_ENOTFINITE;
    for (size_t i = 1; i < n; i++)
        if (x[i] < x[i - 1])
            return JAW_ERANK;
    if (!(x[n - 1] > x[0]))
        return JAW_ERANK;
    double *slope = n > 40000 ? NULL : calloc(n * (n - 1) / 2, sizeof *slope);
    if (slope == NULL)
        return JAW_ENOMEM;
    line->n = n;
    find_squares(x, y, line);
    jaw_status status = find_robust(x, y, step, slope, line);
    free(slope);
    if (status != JAW_OK)
        *line = line_nan();
    return status;
}

jaw_figure jaw_book_forecast(const jaw_book_line *l, double x)
{
    const double nan = (double)NAN;
    double off = x - l->mean_x, n = (double)l->n;

    if (l->n < 5 || !l->agree)
        return jaw_figure_make(l->middle_y + l->slope * (x - l->middle_x), nan,
                               nan);
    return jaw_figure_make(l->mean_y + l->square_slope * off,
                           l->s * sqrt(1 + 1 / n + off * off / l->sum_xx),
                           n - 2);
}
