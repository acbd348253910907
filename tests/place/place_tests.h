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

/* An even movement of the machine's coordinates. */
typedef struct movement {
    double turn;
    jaw_vec3 shift;
} movement;

static inline jaw_vec3 move(const movement *m, jaw_vec3 p)
{
    double c = cos(m->turn), s = sin(m->turn);
    return (jaw_vec3){c * p.x - s * p.y + m->shift.x,
                      s * p.x + c * p.y + m->shift.y, p.z + m->shift.z};
}

/* As often as promised, as far as n cases tell: four of their own spreads. */
static inline void share(const char *name, int k, int n, double want)
{
    double got = (double)k / n;

    printf("%s: %.4f of %d\n", name, got, n);
    ck_assert_msg(fabs(got - want) <= 4 * sqrt(want * (1 - want) / n),
                  "%s: %.4f", name, got);
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
