/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Three nearly square faces, solved by this project with 50 digits
 * (tests/data/README.md): as datums. */
#include "tests/fit/fit_tests.h"

#include <jawline/datum.h>

TCase *published_case(void);

static size_t take(const data *d, const char *plane, jaw_touch t[])
{
    size_t x = data_column(d, "x"), y = data_column(d, "y"),
           z = data_column(d, "z"), n = 0;

    for (size_t i = 0; i < d->rows; i++)
        if (strcmp(d->key[i], plane) == 0)
            t[n++] = (jaw_touch){d->cell[i][x], d->cell[i][y], d->cell[i][z]};
    return n;
}

static jaw_vec3 normal_of(const data *d, const char *plane)
{
    return (jaw_vec3){data_want(d, plane, "_nx"), data_want(d, plane, "_ny"),
                      data_want(d, plane, "_nz")};
}

START_TEST(three_faces)
{
    data d;
    jaw_touch t[3][ROWS];
    jaw_tip surface = jaw_tip_make(JAW_TIP_BALL, 0);
    jaw_attitude a;

    data_read(&d, "stress/planes_corner");
    jaw_datum z = {t[0], take(&d, "3", t[0]), &surface, JAW_SIDE_NONE, 0.001};
    jaw_datum y = {t[1], take(&d, "2", t[1]), &surface, JAW_SIDE_YPLUS, 0.001};
    jaw_datum x = {t[2], take(&d, "1", t[2]), &surface, JAW_SIDE_XPLUS, 0.001};
    ck_assert_int_eq(jaw_datum_find(&z, &y, &x, &a, NULL), JAW_OK);
    jaw_vec3 n = normal_of(&d, "P3"), m = normal_of(&d, "P2");
    near(a.turn[0][2], n.x, 1e-14, "n x");
    near(a.turn[1][2], n.y, 1e-14, "n y");
    near(a.turn[2][2], n.z, 1e-14, "n z");
    near(sin(a.between[0].value), n.x * m.x + n.y * m.y + n.z * m.z, 1e-14,
         "primary to secondary");
    near(a.rms[0], sqrt(data_want(&d, "P3", "_ssr") / (double)z.n), 1e-14,
         "rms");
    /* as sure as printed, with the spread that was seen instead of 0.001 */
    double s = data_want(&d, "P3", "_s");
    double worst = data_want(&d, "P3", "_u_tilt_max");
    double least = data_want(&d, "P3", "_u_tilt_min");
    double trace = a.cov[15] + a.cov[18];
    near(sqrt(trace) * s / 0.001, hypot(worst, least), 1e-3 * worst, "tilt");
    data_free(&d);
}
END_TEST

TCase *published_case(void)
{
    TCase *tc = tcase_create("published");
    tcase_add_test(tc, three_faces);
    return tc;
}
