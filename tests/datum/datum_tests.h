/* SPDX-License-Identifier: GPL-3.0-or-later */
/* datum_tests.h: what the files of this program share: a world of one block
 * that lies turned and tilted on the machine, and tips that meet it. */
#ifndef TESTS_DATUM_H
#define TESTS_DATUM_H

#include "tests/feature/random.h"
#include "tests/near.h"

#include <jawline/datum.h>

#include <check.h>
#include <string.h>

#define COUNT(a) ((int)(sizeof(a) / sizeof((a)[0])))
#define NOT ((double)NAN)

enum { MOST = 80 };

/* The block: its part axes (columns of r) and corner on the machine.  Material
 * lies at part x between 0 and size.x (negative: on the other side), so with y
 * and z; the corner is where the three datums meet. */
typedef struct block {
    double r[3][3];
    jaw_vec3 corner, size;
} block;

/* Everything that was touched. */
typedef struct touched {
    jaw_touch t[3][MOST];
    jaw_tip tip[3];
    jaw_datum d[3];
} touched;

/* about X, then Y, then Z of the machine */
void world_turn(double about_x, double about_y, double about_z,
                double r[3][3]);
jaw_vec3 world_at(const block *b, jaw_vec3 part);
/* A block of the sides given, turned and tilted by up to `tilt` and `skew`. */
block world_block(random_source *r, jaw_side second, jaw_side third,
                  double tilt, double skew);

/* Touches of the three datums, n[3] of each with its tip, in places spread over
 * the block at random: moved down, or along the axis of its side, until the tip
 * meets the block.  The readings are exact. */
void world_touch(random_source *r, const block *b, jaw_side second,
                 jaw_side third, const size_t n[3], const jaw_tip tip[3],
                 touched *out);
/* Adds sigma of each datum's repeat to every coordinate. */
void world_scatter(random_source *r, const touched *from, touched *to);

jaw_status find(const touched *t, jaw_attitude *a, double resid[]);

/* The small turn from one attitude to the other, about machine axes. */
jaw_vec3 turn_between(const double from[3][3], const double to[3][3]);
int at(int i, int j); /* of an upper triangle of six */

/* How many sets a simulation makes: JAW_TEST_SETS, or `usual`. */
int sets(int usual);

static inline void ck_status(jaw_status got, jaw_status want)
{
    ck_assert_msg(got == want, "status %d (%s), want %d (%s)", (int)got,
                  jaw_status_text(got), (int)want, jaw_status_text(want));
}

void attitude_is_nan(const jaw_attitude *a);

TCase *geometry_case(void);
TCase *spread_case(void);
TCase *status_case(void);
TCase *level_case(void);
TCase *published_case(void);
TCase *memory_case(void); /* NULL: allocations can not be seen */

#endif
