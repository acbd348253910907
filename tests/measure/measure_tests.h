/* SPDX-License-Identifier: GPL-3.0-or-later */
/* measure_tests.h: what the files of this program share. */
#ifndef TESTS_MEASURE_H
#define TESTS_MEASURE_H

#include "tests/feature/random.h"
#include "tests/near.h"

#include <jawline/measure.h>
#include <jawline/trust.h>

#include <check.h>

#define COUNT(a) ((int)(sizeof(a) / sizeof((a)[0])))
#define NOT ((double)NAN)
#define PI 3.14159265358979323846

TCase *ring_case(void);
TCase *ball_case(void);
TCase *block_case(void);
TCase *spread_case(void);
TCase *promise_case(void);
TCase *memory_case(void); /* NULL: allocations can not be seen */

static inline void ck_status(jaw_status got, jaw_status want)
{
    ck_assert_msg(got == want, "status %d (%s), want %d (%s)", (int)got,
                  jaw_status_text(got), (int)want, jaw_status_text(want));
}

static inline void all_nan(const double v[], size_t n, const char *name)
{
    for (size_t i = 0; i < n; i++)
        ck_assert_msg(isnan(v[i]), "%s[%zu] is %g", name, i, v[i]);
}

/* Every number of a failed calibration. */
static inline void calibration_is_nan(const jaw_tip_calibration *c)
{
    double v[] = {c->diameter, c->u_diameter, c->dof,        c->repeat,
                  c->seen,     c->ssr,        c->rms,        c->size_u,
                  c->centre.x, c->centre.y,   c->u_centre.x, c->u_centre.y,
                  c->first.c,  c->third.s,    c->first.f,    c->dof_repeat,
                  c->within};
    all_nan(v, sizeof v / sizeof v[0], "calibration");
    all_nan(c->harmonic, 4, "harmonic");
    all_nan(c->cov, 15, "cov");
    double u;
    ck_assert(isnan(jaw_tip_reach(c, 0.3, &u)) && isnan(u));
    ck_assert(isnan(jaw_tip_pretravel(c, 0.3, &u)) && isnan(u));
}

#endif
