/* SPDX-License-Identifier: GPL-3.0-or-later */
/* place_tests.h: what the files of this program share. */
#ifndef TESTS_PLACE_H
#define TESTS_PLACE_H

#include "tests/feature/random.h"
#include "tests/near.h"

#include <jawline/place.h>

#include <check.h>
#include <string.h>

#define COUNT(a) ((int)(sizeof(a) / sizeof((a)[0])))
#define NOT ((double)NAN)
#define PI 3.14159265358979323846

enum { MOST = 32 };

/* What came out. */
typedef struct outcome {
    jaw_station_found at[MOST];
    jaw_figure turn;
    double rms;
    int dof;
    unsigned flags;
} outcome;

static inline jaw_status stations(const jaw_station s[], size_t n,
                                  jaw_figure turn, bool use_touched,
                                  outcome *o)
{
    return jaw_place_stations(s, n, turn, use_touched, o->at, &o->turn,
                              &o->rms, &o->dof, &o->flags);
}

static inline jaw_figure free_turn(void)
{
    return (jaw_figure){NOT, NOT, NOT, NOT};
}

static inline jaw_figure given_turn(double value, double u)
{
    return jaw_figure_make(value, u, (double)INFINITY);
}

static inline void ck_status(jaw_status got, jaw_status want)
{
    ck_assert_msg(got == want, "status %d (%s), want %d (%s)", (int)got,
                  jaw_status_text(got), (int)want, jaw_status_text(want));
}

TCase *stations_case(void);
TCase *spread_case(void);
TCase *status_case(void);
TCase *turned_case(void);
TCase *moved_case(void);
TCase *walls_case(void);
TCase *published_case(void);
TCase *memory_case(void); /* NULL: allocations can not be seen */

#endif
