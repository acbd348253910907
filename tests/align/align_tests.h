/* SPDX-License-Identifier: GPL-3.0-or-later */
/* align_tests.h: what the files of this program share.  world.c makes readings
 * from geometry alone: walls, tables and rounds that a plunger runs into. */
#ifndef TESTS_ALIGN_H
#define TESTS_ALIGN_H

#include "tests/feature/random.h"
#include "tests/near.h"

#include <jawline/align.h>

#include <check.h>
#include <stdbool.h>

#define COUNT(a) ((int)(sizeof(a) / sizeof((a)[0])))
#define NOT ((double)NAN)
#define FAR ((double)INFINITY)
#define PI 3.14159265358979323846

TCase *wall_case(void);
TCase *head_case(void);
TCase *round_case(void);
TCase *square_case(void);
TCase *promise_case(void);
TCase *memory_case(void); /* NULL: allocations can not be seen */

static inline void ck_status(jaw_status got, jaw_status want, const char *name)
{
    ck_assert_msg(got == want, "%s: status %d (%s), want %d (%s)", name,
                  (int)got, jaw_status_text(got), (int)want,
                  jaw_status_text(want));
}

static inline void all_nan(const double v[], size_t n, const char *name)
{
    for (size_t i = 0; i < n; i++)
        ck_assert_msg(isnan(v[i]), "%s[%zu] is %g", name, i, v[i]);
}

static inline void figure_is_nan(jaw_figure f, const char *name)
{
    double v[] = {f.value, f.u, f.dof, f.half95};
    all_nan(v, 4, name);
}

/* Four standard deviations of a count of sets: once in 16000 runs. */
static inline void holds(int inside, int sets, double share, const char *name)
{
    double got = (double)inside / sets;
    double allowed = 4 * sqrt(share * (1 - share) / sets);
    printf("%s: %.4f, promised %.4f +- %.4f\n", name, got, share, allowed);
    ck_assert_msg(fabs(got - share) <= allowed, "%s: %.4f, promised %.4f", name,
                  got, share);
}

/* How many sets a promise is tried on: 20000, or JAW_PROMISE_SETS. */
int promise_sets(void);

/* ------------------------------------------------------------------- world */

/* A straight wall through a point in a direction, in machine coordinates. */
typedef struct world_wall {
    jaw_vec2 point;
    double direction; /* rad, ccw from X */
} world_wall;

/* world_indicator: reading of a plunger that comes from `body` along the unit
 * vector `way` and meets the wall: the nearer the wall the larger. */
double world_indicator(const world_wall *wall, jaw_vec2 body, jaw_vec2 way);

/* world_sweep: an indicator on the outer side of a wall that faces so, moved
 * along the axis to each place.  The wall is within 200 mm of the origin. */
void world_sweep(const world_wall *wall, jaw_side faces, const double at[],
                 double reading[], size_t n);

/* A spindle that leans: its axis passes the place (x, y) of the table, z = 0,
 * in the unit direction `up`. */
typedef struct world_spindle {
    jaw_vec3 up, east, north; /* east and north square to up; east over X */
} world_spindle;

world_spindle world_lean(double to_x, double to_y); /* tangents */
jaw_vec3 world_around(const world_spindle *spindle, double radius, double a);
/* world_swing: reading of a plunger parallel to the spindle, at the azimuth a,
 * on the table z = 0; the arm's hub hangs 300 mm above it. */
double world_swing(const world_spindle *spindle, double radius, double a);

/* world_round: reading of a plunger at azimuth a, of a spindle at `spindle`, on
 * a round of radius r about centre, by bisection along the ray. */
double world_round(jaw_vec2 spindle, jaw_vec2 centre, double r, bool inside,
                   double a);

#endif
