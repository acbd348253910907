/* SPDX-License-Identifier: GPL-3.0-or-later */
/* near.h: a number is what it should be, within tol (not strictly less: a tol
 * of 0 asks for the very same number).  NaN is never near anything. */
#ifndef TESTS_NEAR_H
#define TESTS_NEAR_H

#include <check.h>
#include <math.h>

static inline void near(double got, double want, double tol, const char *name)
{
    /* ck_assert_msg would note each success in a file, and loops make millions */
    if (!(fabs(got - want) <= tol))
        ck_abort_msg("%s: got %.17g, want %.17g, off by %.3g, allowed %.3g",
                     name, got, want, got - want, tol);
}

#endif
