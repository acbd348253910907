/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rigid sets of tests/data (published, and solved with 50 digits) as stations
 * whose spread is not known. */
#include "tests/fit/fit_tests.h"

#include <jawline/place.h>

TCase *published_case(void);

static const struct {
    const char *file, *prefix;
} sets[] = {
    {"rigid2_umeyama1991", "rigid_"}, /* Umeyama, IEEE PAMI 13 (1991) 376-380 */
    {"stress/rigid2_far", NULL},
    {"stress/rigid2_nearly_symmetric", NULL},
    {"stress/rigid2_tiny_angle", NULL},
    {"stress/rigid2_near_180", NULL},
};

START_TEST(rigid_sets_as_stations)
{
    data d;
    const char *file = sets[_i].file, *pre = sets[_i].prefix;
    jaw_vec2 a[ROWS], b[ROWS];
    jaw_station s[ROWS];
    jaw_station_found found[ROWS];
    jaw_figure turn = {NAN_D, NAN_D, NAN_D, NAN_D}, turn_found;
    double rms, size = 0;
    int dof;
    unsigned flags;

    data_read(&d, file);
    size_t n = data_points(&d, NULL, "ax", "ay", a);
    data_points(&d, NULL, "bx", "by", b);
    for (size_t i = 0; i < n; i++) {
        s[i] = (jaw_station){.nominal = {a[i].x, a[i].y, 0},
                             .touched = {b[i].x, b[i].y, 0},
                             .u_xy = NAN_D,
                             .u_z = NAN_D};
        size = fmax(size, fmax(hypot(a[i].x, a[i].y), hypot(b[i].x, b[i].y)));
    }
    ck_assert_int_eq(jaw_place_stations(s, n, turn, false, found, &turn_found,
                                        &rms, &dof, &flags),
                     JAW_OK);
    ck_assert_int_eq(dof, 2 * (int)n - 3);
    double theta = data_want(&d, pre, "theta");
    double spread = data_want(&d, pre, "s");
    double ssr = data_want(&d, pre, "ssr"), q = 0, mx = 0, my = 0;
    near(turn_found.value, theta, 1e-12, file);
    near(rms, sqrt(ssr / (double)n), 1e-9 * rms + 64 * EPS * size, file);
    for (size_t i = 0; i < n; i++) {
        mx += a[i].x / (double)n;
        my += a[i].y / (double)n;
    }
    for (size_t i = 0; i < n; i++)
        q += (a[i].x - mx) * (a[i].x - mx) + (a[i].y - my) * (a[i].y - my);
    near(turn_found.u, spread / sqrt(q), 1e-7 * turn_found.u, "u of turn");
    double c = cos(theta), si = sin(theta), tx = data_want(&d, pre, "tx"),
           ty = data_want(&d, pre, "ty");
    for (size_t i = 0; i < n; i++) {
        near(found[i].place.x, c * a[i].x - si * a[i].y + tx, 8 * EPS * size,
             file);
        near(found[i].place.y, si * a[i].x + c * a[i].y + ty, 8 * EPS * size,
             file);
    }
    data_free(&d);
}
END_TEST

TCase *published_case(void)
{
    TCase *tc = tcase_create("published");
    tcase_add_loop_test(tc, rigid_sets_as_stations, 0, COUNT(sets));
    return tc;
}
