/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef FEATURE_TESTS_H
#define FEATURE_TESTS_H

#include <check.h>
#include <jawline/feature.h>
#include <math.h>

#define COUNT(a) ((int)(sizeof(a) / sizeof((a)[0])))
#define PI 3.14159265358979323846

TCase *words_case(void);
TCase *edge_case(void);
TCase *face_case(void);
TCase *round_case(void);
TCase *solid_case(void);
TCase *walls_case(void);
TCase *pattern_case(void);
TCase *promise_case(void);
TCase *memory_case(void); /* NULL when allocations can not be counted */

/* A status, by its text when it is another one. */
#define ck_status(got, want)                                                   \
    do {                                                                       \
        jaw_status status_ = (got);                                            \
        ck_assert_msg(status_ == (want), "%s: got \"%s\", want \"%s\"", #got,  \
                      jaw_status_text(status_), jaw_status_text(want));        \
    } while (0)

static inline void all_nan(const double *x, size_t n, const char *name)
{
    for (size_t i = 0; i < n; i++)
        ck_assert_msg(isnan(x[i]), "%s: number %zu is %.17g, not NaN", name, i,
                      x[i]);
}

#endif
