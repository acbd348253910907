/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Calibrations without memory: it is told, all is NaN, nothing leaks. */
#include "measure_tests.h"

#include "tests/alloc/alloc.h"

static jaw_status call(int which, double *first, double resid[24])
{
    jaw_vec2 p[24], face[4][2] = {{{-15, 1}, {-15, 9}}, {{15, 1}, {15, 8}},
                                  {{1, -15}, {9, -15}}, {{1, 15}, {8, 15}}};
    jaw_vec3 q[9];
    bool turned[24];
    jaw_tip_calibration c;
    jaw_tip_block b;
    jaw_known_size known = {50, 0.001};
    jaw_tip_faces pair[2] = {{face[0], face[1], 2, 2, {25, 0}},
                             {face[2], face[3], 2, 2, {25, 0}}};
    jaw_status s;

    for (int i = 0; i < 24; i++) {
        turned[i] = i % 2;
        double a = PI / 6 * (i / 2) + 0.1;
        double reach = 3 + 0.02 * cos(a - PI * turned[i]) +
                       0.01 * cos(3 * (a - PI * turned[i])) +
                       0.0005 * (i % 5);
        p[i] = (jaw_vec2){(25 - reach) * cos(a), (25 - reach) * sin(a)};
    }
    for (int i = 0; i < 9; i++)
        q[i] = (jaw_vec3){28 * sin(0.2 * i) * cos(i),
                          28 * sin(0.2 * i) * sin(i), 28 * cos(0.2 * i)};
    if (which < 2) {
        s = jaw_tip_calibrate_ring(p, which ? turned : NULL, 24, false, known,
                                   NOT, &c, resid);
        *first = c.diameter;
    } else if (which == 2) {
        s = jaw_tip_calibrate_ball(q, 9, known, NOT, &c, resid);
        *first = c.diameter;
    } else {
        s = jaw_tip_calibrate_block(pair, 2, NOT, &b, resid);
        *first = b.diameter[0];
    }
    return s;
}

START_TEST(calibration_without_memory)
{
    static const size_t touches[] = {24, 24, 9, 8};
    double first, resid[24];
    int failures = 0;
    for (long k = 0;; k++) {
        alloc_fail_after(k);
        jaw_status s = call(_i, &first, resid);
        bool failed = alloc_failed();
        alloc_fail_never();
        ck_assert_int_eq(alloc_live(), 0);
        if (!failed) {
            ck_status(s, JAW_OK);
            ck_assert(first > 0);
            break;
        }
        failures++;
        ck_status(s, JAW_ENOMEM);
        ck_assert(isnan(first));
        all_nan(resid, touches[_i], "residuals");
    }
    ck_assert_int_gt(failures, 10);
}
END_TEST

TCase *memory_case(void)
{
    if (!alloc_works())
        return NULL;
    TCase *tc = tcase_create("memory");
    tcase_add_loop_test(tc, calibration_without_memory, 0, 4);
    return tc;
}
