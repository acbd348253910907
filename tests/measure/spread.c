/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Repeatability and reversal. */
#include "measure_tests.h"

/* 2 4 4 4 5 5 7 9: mean 5, sum of squares 32. */
START_TEST(spread_by_hand)
{
    static const double v[] = {2, 4, 4, 4, 5, 5, 7, 9};
    jaw_spread s;
    ck_status(jaw_measure_spread(v, 8, &s), JAW_OK);
    ck_assert_uint_eq(s.n, 8);
    near(s.mean, 5, 1e-15, "mean");
    near(s.s, sqrt(32.0 / 7), 1e-15, "s");
    near(s.u_mean, sqrt(32.0 / 56), 1e-15, "u of the mean");
    near(s.range, 7, 0, "range");
    /* chi-square with 7: 16.0128 and 1.6899 (common tables) */
    near(s.low, sqrt(32 / 16.0128), 1e-5, "low");
    near(s.high, sqrt(32 / 1.68987), 1e-5, "high");
}
END_TEST

/* The digits behind a large value are not lost: 500 mm off, exact in binary. */
START_TEST(spread_far_from_zero)
{
    double v[1001];
    jaw_spread s;
    for (int i = 0; i < 1001; i++)
        v[i] = 500 + (i % 2 ? 0x1p-20 : -0x1p-20);
    ck_status(jaw_measure_spread(v, 1001, &s), JAW_OK);
    near(s.mean, 500 - 0x1p-20 / 1001, 1e-13, "mean");
    near(s.s * 0x1p20, sqrt((1001 - 1.0 / 1001) / 1000), 1e-14, "s");
}
END_TEST

START_TEST(spread_can_fail)
{
    static const double v[] = {1, 2, NAN}, w[] = {1, INFINITY},
                        large[] = {-1.7e308, 1.7e308}, wide[] = {0, 1e200};
    jaw_spread s;
    ck_status(jaw_measure_spread(v, 0, &s), JAW_EFEW);
    ck_status(jaw_measure_spread(v, 1, &s), JAW_EFEW);
    ck_assert(isnan(s.mean) && isnan(s.s) && isnan(s.range) && isnan(s.low) &&
              isnan(s.high) && isnan(s.u_mean));
    ck_status(jaw_measure_spread(v, 3, &s), JAW_ENOTFINITE);
    ck_status(jaw_measure_spread(w, 2, &s), JAW_ENOTFINITE);
    ck_status(jaw_measure_spread(large, 2, &s), JAW_ENOTFINITE);
    ck_status(jaw_measure_spread(wide, 2, &s), JAW_ENOTFINITE);
    ck_assert(isnan(s.mean));
    ck_status(jaw_measure_spread(v, 2, &s), JAW_OK);
}
END_TEST

START_TEST(no_scatter_at_all)
{
    static const double v[] = {0.1, 0.1, 0.1}, w[] = {0.2, 0.2};
    jaw_spread s;
    jaw_reversal r;
    ck_status(jaw_measure_spread(v, 3, &s), JAW_OK);
    near(s.s, 0, 0, "s");
    near(s.mean, 0.1, 0, "mean");
    ck_status(jaw_measure_reversal(v, 3, w, 2, &r), JAW_OK);
    near(r.reversal, -0.1, 1e-16, "reversal");
    ck_assert(r.real && isnan(r.dof));
    ck_status(jaw_measure_reversal(v, 3, v, 2, &r), JAW_OK);
    ck_assert(!r.real);
}
END_TEST

/* Up 0.010 0.012 0.014, down 0.000 0.002 0.004: each mean has u = 0.002 / root
 * of 3, together 0.002 root of 2/3; four degrees of freedom. */
START_TEST(reversal_by_hand)
{
    static const double up[] = {0.010, 0.012, 0.014},
                        down[] = {0.000, 0.002, 0.004};
    jaw_reversal r;
    ck_status(jaw_measure_reversal(up, 3, down, 3, &r), JAW_OK);
    near(r.reversal, 0.010, 1e-17, "reversal");
    near(r.u_reversal, 0.002 * sqrt(2.0 / 3), 1e-16, "u");
    near(r.dof, 4, 1e-12, "dof");
    ck_assert(r.real);
    near(r.repeat_up, 0.008, 1e-16, "4 s");
    near(r.repeat_both, 0.018, 1e-16, "2 s + 2 s + B");
    ck_status(jaw_measure_reversal(up, 3, up, 3, &r), JAW_OK);
    ck_assert(!r.real);
    near(r.repeat_both, 0.008, 1e-16, "4 s");
}
END_TEST

START_TEST(reversal_can_fail)
{
    static const double v[] = {1, 2, NAN};
    jaw_reversal r;
    jaw_positioning axis;
    ck_status(jaw_measure_reversal(v, 2, v, 1, &r), JAW_EFEW);
    ck_assert(isnan(r.reversal) && isnan(r.up.mean) && isnan(r.repeat_both));
    ck_status(jaw_measure_reversal(v, 1, v, 2, &r), JAW_EFEW);
    ck_status(jaw_measure_reversal(v, 2, v, 3, &r), JAW_ENOTFINITE);
    ck_status(jaw_measure_positioning(&r, 1, &axis), JAW_ENOTFINITE);
    ck_assert(isnan(axis.accuracy) && isnan(axis.reversal));
    ck_status(jaw_measure_positioning(&r, 0, &axis), JAW_EFEW);
    ck_assert(isnan(axis.accuracy));
}
END_TEST

/* Five places approached five times from each side, micrometres: the project's
 * own numbers with answers by 50-digit arithmetic; ISO 230-2:2014 formulas
 * from memory. */
static const double deviation[5][2][5] = {
    {{2.70, 3.89, 4.20, 3.74, 3.47},
     {5.73, 6.11, 5.83, 5.60, 5.96}},
    {{-0.71, -0.71, -1.60, -0.65, -1.73},
     {1.44, 0.82, 0.92, -0.46, 1.47}},
    {{0.88, 2.56, 2.21, 1.92, 1.75},
     {3.01, 2.37, 3.73, 3.33, 2.52}},
    {{-0.15, 0.80, -0.25, -0.49, -0.21},
     {2.19, 1.20, 0.51, 1.25, 1.51}},
    {{0.08, -0.88, -0.34, -0.46, 0.11},
     {0.79, 2.12, 0.26, 0.63, 0.93}}};
static const double want[5][5] = { /* mean up, down, s up, down, reversal */
    {3.6, 5.846,
     0.568022886862844638, 0.198065645683445063, -2.246},
    {-1.08, 0.838,
     0.536563137011852501, 0.783211338018034567, -1.918},
    {1.864, 2.992,
     0.630182513245170902, 0.563222868853884518, -1.128},
    {-0.06, 1.332,
     0.497795138586145696, 0.605739217815719770, -1.392},
    {-0.298, 0.946,
     0.411120420315021569, 0.702374543957851593, -1.244}};

START_TEST(positioning_against_many_digits)
{
    jaw_reversal r[5];
    jaw_positioning axis;
    for (int i = 0; i < 5; i++) {
        ck_status(jaw_measure_reversal(deviation[i][0], 5, deviation[i][1], 5,
                                       &r[i]),
                  JAW_OK);
        near(r[i].up.mean, want[i][0], 1e-14, "mean up");
        near(r[i].down.mean, want[i][1], 1e-14, "mean down");
        near(r[i].up.s, want[i][2], 1e-14, "s up");
        near(r[i].down.s, want[i][3], 1e-14, "s down");
        near(r[i].reversal, want[i][4], 1e-14, "B");
    }
    ck_status(jaw_measure_positioning(r, 5, &axis), JAW_OK);
    near(axis.reversal, 2.246, 1e-14, "B");
    near(axis.reversal_mean, -1.5856, 1e-14, "mean B");
    near(axis.repeat_up, 2.520730052980683610, 1e-14, "R up");
    near(axis.repeat_down, 3.132845352072138271, 1e-14, "R down");
    near(axis.repeat_both, 4.557548950059774139, 1e-14, "R");
    near(axis.mean_range, 4.844, 1e-14, "M");
    near(axis.systematic, 6.926, 1e-14, "E");
    near(axis.accuracy, 8.395257565390595129, 1e-14, "A");
}
END_TEST

TCase *spread_case(void)
{
    TCase *tc = tcase_create("spread");
    tcase_add_test(tc, spread_by_hand);
    tcase_add_test(tc, spread_far_from_zero);
    tcase_add_test(tc, spread_can_fail);
    tcase_add_test(tc, no_scatter_at_all);
    tcase_add_test(tc, reversal_by_hand);
    tcase_add_test(tc, reversal_can_fail);
    tcase_add_test(tc, positioning_against_many_digits);
    return tc;
}
