/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The second side: a part that is really turned over, by rotation matrices of
 * its axes, and put back under the machine. */
#include "place_tests.h"

/* By `angle` about part axis k: x 0, y 1, z 2. */
static jaw_vec3 rotated(int k, double angle, jaw_vec3 p)
{
    const double c = cos(angle), s = sin(angle);

    switch (k) {
    case 0:
        return (jaw_vec3){p.x, c * p.y - s * p.z, s * p.y + c * p.z};
    case 1:
        return (jaw_vec3){c * p.x + s * p.z, p.y, -s * p.x + c * p.z};
    default:
        return (jaw_vec3){c * p.x - s * p.y, s * p.x + c * p.y, p.z};
    }
}

static jaw_vec3 anywhere(random_source *r)
{
    return (jaw_vec3){random_between(r, -100, 100),
                      random_between(r, -100, 100),
                      random_between(r, -100, 100)};
}

static void same(jaw_vec3 got, jaw_vec3 want)
{
    near(got.x, want.x, 1e-12, "x");
    near(got.y, want.y, 1e-12, "y");
    near(got.z, want.z, 1e-12, "z");
}

/* Both sides' coordinates lie along the machine's axes while that side is up:
 * turned about the part axis, the point stands from the zero as the second
 * side's coordinates say. */
START_TEST(turned_by_rotation)
{
    random_source r = random_start("turned_by_rotation", 4400 + (uint64_t)_i);
    const jaw_over over = (jaw_over)_i;

    for (int set = 0; set < 200; set++) {
        jaw_vec3 zero = anywhere(&r), p = anywhere(&r), q = anywhere(&r);
        /* about an axis through any place q, either way round */
        double half = set & 1 ? PI : -PI;
        jaw_vec3 a = rotated(_i, half, (jaw_vec3){p.x - q.x, p.y - q.y,
                                                  p.z - q.z});
        jaw_vec3 b = rotated(_i, half, (jaw_vec3){zero.x - q.x, zero.y - q.y,
                                                  zero.z - q.z});
        jaw_vec3 want = {a.x - b.x, a.y - b.y, a.z - b.z};
        jaw_vec3 got = jaw_place_turned(over, zero, p);
        same(got, want);
        /* and back */
        jaw_vec3 first = jaw_place_turned(over, zero, (jaw_vec3){0, 0, 0});
        same(jaw_place_turned(over, first, got), p);
        same(jaw_place_turned(over, first, (jaw_vec3){0, 0, 0}), zero);
    }
}
END_TEST

/* A plate 60 by 40 by 10, side one's zero at its front left corner on top.  It
 * is turned over front to back; the second zero is the corner that is then at
 * the front left on top: part (0, 40, -10).  A hole at (15, 8), 4 deep from the
 * first side, comes out at 32 from the front, and its bottom 6 under the new
 * top; by hand. */
START_TEST(plate_by_hand)
{
    const jaw_vec3 zero = {0, 40, -10};
    jaw_vec3 p = jaw_place_turned(JAW_OVER_X, zero, (jaw_vec3){15, 8, -4});

    same(p, (jaw_vec3){15, 32, -6});
    p = jaw_place_turned(JAW_OVER_Y, (jaw_vec3){60, 0, -10},
                         (jaw_vec3){15, 8, -4});
    same(p, (jaw_vec3){45, 8, -6});
    p = jaw_place_turned(JAW_OVER_Z, (jaw_vec3){60, 40, 0},
                         (jaw_vec3){15, 8, -4});
    same(p, (jaw_vec3){45, 32, -4});
    /* the zero itself is plainly 0, not -0 */
    p = jaw_place_turned(JAW_OVER_X, zero, zero);
    ck_assert(!signbit(p.x) && !signbit(p.y) && !signbit(p.z));
}
END_TEST

START_TEST(no_such_way)
{
    jaw_vec3 p = jaw_place_turned((jaw_over)3, (jaw_vec3){0, 0, 0},
                                  (jaw_vec3){1, 2, 3});
    ck_assert(isnan(p.x) && isnan(p.y) && isnan(p.z));
}
END_TEST

TCase *turned_case(void)
{
    TCase *tc = tcase_create("turned");
    tcase_add_loop_test(tc, turned_by_rotation, 0, 3);
    tcase_add_test(tc, plate_by_hand);
    tcase_add_test(tc, no_such_way);
    return tc;
}
