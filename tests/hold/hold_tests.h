/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hold_tests.h: what the files of this program share. */
#ifndef TESTS_HOLD_H
#define TESTS_HOLD_H

#include "tests/feature/random.h"
#include "tests/near.h"

#include <jawline/hold.h>

#include <check.h>
#include <stdbool.h>

#define COUNT(a) ((int)(sizeof(a) / sizeof((a)[0])))
#define NOT ((double)NAN)
#define FAR ((double)INFINITY)
#define PI 3.14159265358979323846

TCase *vise_case(void);
TCase *vee_case(void);
TCase *sine_case(void);

static inline void ck_status(jaw_status got, jaw_status want, const char *name)
{
    ck_assert_msg(got == want, "%s: status %d (%s), want %d (%s)", name,
                  (int)got, jaw_status_text(got), (int)want,
                  jaw_status_text(want));
}

static inline void figure_is(jaw_figure f, double value, double u, double tol,
                             const char *name)
{
    near(f.value, value, tol, name);
    near(f.u, u, tol, name);
    /* 1.959964: the 97.5 % point of the normal distribution, any table */
    near(f.half95, 1.959964 * u, 1e-6 * u + tol, name);
    ck_assert_msg(isinf(f.dof) && f.dof > 0, "%s: dof %g", name, f.dof);
}

static inline void figure_is_nan(jaw_figure f, const char *name)
{
    ck_assert_msg(isnan(f.value) && isnan(f.u) && isnan(f.dof) &&
                      isnan(f.half95), "%s: %g %g %g %g", name, f.value, f.u,
                  f.dof, f.half95);
}

/* Mean and standard deviation of what a function makes of lengths whose errors
 * are normal: the yardstick of every uncertainty here. */
typedef struct spread {
    double n, mean, ss;
} spread;

static inline void spread_add(spread *s, double v)
{
    double off = v - s->mean;
    s->n += 1;
    s->mean += off / s->n;
    s->ss += off * (v - s->mean);
}

static inline double spread_of(const spread *s)
{
    return sqrt(s->ss / (s->n - 1));
}

#endif
