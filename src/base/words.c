/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words.c: which known word a person most likely meant.
 *
 * Distance: insertion, deletion, substitution and the swap of two neighbours
 * count one each (Damerau, Comm. ACM 7 (1964) 171-176), no letter edited
 * twice (optimal string alignment).  Upper and lower case are the same. */
#include <jawline/base.h>

#include <limits.h>
#include <string.h>

/* Nobody means a known word by anything longer, and it bounds the stack. */
enum { WORD_MAX = 64 };

static char lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static int least(int a, int b)
{
    return a < b ? a : b;
}

static int distance(const char *a, size_t na, const char *b, size_t nb)
{
    int rows[3][WORD_MAX + 1];
    int *before = rows[0], *above = rows[1], *row = rows[2];

    for (size_t j = 0; j <= nb; j++)
        above[j] = before[j] = (int)j;
    for (size_t i = 1; i <= na; i++) {
        row[0] = (int)i;
        for (size_t j = 1; j <= nb; j++) {
            int change = lower(a[i - 1]) != lower(b[j - 1]);
            int d = least(above[j] + 1, row[j - 1] + 1);
            d = least(d, above[j - 1] + change);
            if (i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) &&
                lower(a[i - 2]) == lower(b[j - 1]))
                d = least(d, before[j - 2] + 1);
            row[j] = d;
        }
        int *old = before;
        before = above;
        above = row;
        row = old;
    }
    return above[nb];
}

const char *jaw_word_nearest(const char *word, const char *const words[],
                             size_t n)
{
    const char *best = NULL;
    int best_distance = INT_MAX;
    size_t len = strnlen(word, WORD_MAX + 1);

    if (len > WORD_MAX)
        return NULL;
    for (size_t i = 0; i < n; i++) {
        size_t other = strnlen(words[i], WORD_MAX + 1);
        size_t longer = other > len ? other : len;
        size_t shorter = other > len ? len : other;
        if (other > WORD_MAX || 3 * (longer - shorter) > longer)
            continue;
        int d = distance(word, len, words[i], other);
        if (d < best_distance && 3 * (size_t)d <= longer) {
            best = words[i];
            best_distance = d;
        }
    }
    return best;
}
