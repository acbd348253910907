/* SPDX-License-Identifier: GPL-3.0-or-later */
/* circle_trials.c: groups of trials as every machine of the kind runs them. */
#include "circle_trials_body.h"

void jaw__circle_group_plain(const jaw__circle_trials *t,
                             unsigned long long first, double a[JAW__GROUP],
                             double b[JAW__GROUP], double rho[JAW__GROUP],
                             double good[JAW__GROUP])
{
    do_group(t, first, a, b, rho, good);
}
