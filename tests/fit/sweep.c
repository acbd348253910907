/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Mean, cosine and sine of readings at known angles. */
#include "fit_tests.h"

enum { MOST = 40 };

static const double turn = 6.283185307179586476925;

/* Equal steps over whole turns: the sums of the discrete Fourier transform,
 * covariance 1/n, 2/n, 2/n (Bloomfield, Fourier Analysis of Time Series, 2nd
 * ed. (2000), section 2.2). */
START_TEST(even_steps)
{
    double angle[MOST], y[MOST], resid[MOST];
    random_start("sweep of even steps");
    for (int k = 0; k < 200; k++) {
        const int n = 4 + k % (MOST - 4);
        double mean = 0, c = 0, s = 0;
        jaw_sweep w;
        for (int i = 0; i < n; i++) {
            angle[i] = turn * i / n;
            y[i] = 3 + 0.02 * random_normal();
            mean += y[i] / n;
            c += 2 * y[i] * cos(angle[i]) / n;
            s += 2 * y[i] * sin(angle[i]) / n;
        }
        ck_assert_int_eq(jaw_fit_sweep(angle, y, (size_t)n, &w, resid), JAW_OK);
        near(w.mean, mean, 1e-14, "mean");
        near(w.along, c, 1e-14, "cosine");
        near(w.across, s, 1e-14, "sine");
        near(w.amplitude, hypot(c, s), 1e-14, "amplitude");
        near(w.phase, atan2(s, c), 1e-11, "phase");
        const double q[] = {1.0 / n, 0, 0, 2.0 / n, 0, 2.0 / n};
        double ssr = 0;
        for (int i = 0; i < 6; i++) {
            near(w.q[i], q[i], 4 * EPS, "q");
            near(w.cov[i], w.s * w.s * w.q[i], 4 * EPS * w.cov[5], "cov");
        }
        for (int i = 0; i < n; i++) {
            near(resid[i], y[i] - (w.mean + w.along * cos(angle[i]) +
                                   w.across * sin(angle[i])), 1e-14, "resid");
            ssr += resid[i] * resid[i];
        }
        near(w.ssr, ssr, 1e-12 * ssr, "ssr");
        near(w.rms, sqrt(ssr / n), 1e-12 * w.rms, "rms");
        near(w.s, sqrt(ssr / (n - 3)), 1e-12 * w.s, "s");
        ck_assert_int_eq(w.dof, n - 3);
        ck_assert_uint_eq(w.flags, 0);
    }
}
END_TEST

/* Readings without noise give back what made them, over arcs down to a
 * thousandth of a turn and any number of turns off. */
START_TEST(there_and_back)
{
    random_start("sweep there and back");
    for (int k = 0; k < 3000; k++) {
        const int n = 3 + (int)random_even(0, MOST - 3);
        const double width = random_size(-3, 0) * turn;
        const double from = k % 3 ? random_even(-turn, turn)
                                  : random_even(-1000, 1000);
        const double m = random_even(-9, 9), c = random_even(-1, 1);
        const double s = random_even(-1, 1);
        double angle[MOST], y[MOST], far = 0;
        jaw_sweep w;
        for (int i = 0; i < n; i++) {
            angle[i] = from + width * (i + random_even(0, 0.5)) / n;
            y[i] = (double)(m + (long double)c * cosl(angle[i]) +
                            (long double)s * sinl(angle[i]));
            far = fmax(far, fabs(y[i] - y[0]));
        }
        ck_assert_int_eq(jaw_fit_sweep(angle, y, (size_t)n, &w, NULL), JAW_OK);
        /* each reading was rounded in its own last digit, each angle not */
        const double q = fmax(w.q[0], fmax(w.q[3], w.q[5]));
        const double tol = EPS * ((8 * far + 10) * sqrt(n * q) + 10);
        near(w.mean, m, tol, "mean");
        near(w.along, c, tol, "along");
        near(w.across, s, tol, "across");
        ck_assert_uint_eq(w.flags & JAW_NO_CHECK, n == 3 ? JAW_NO_CHECK : 0);
        ck_assert(w.phase > -turn / 2 && w.phase <= turn / 2);
        near(w.amplitude * cos(w.phase), w.along, 4 * EPS * w.amplitude, "cos");
    }
}
END_TEST

START_TEST(phases)
{
    const double angle[] = {0, turn / 4, turn / 2, 3 * turn / 4};
    const double y[][4] = {{1, 0, -1, 0}, {0, 1, 0, -1}, {-1, 0, 1, 0},
                           {0, -1, 0, 1}, {5, 5, 5, 5}};
    const double want[] = {0, turn / 4, turn / 2, -turn / 4, 0};
    for (int k = 0; k < 5; k++) {
        jaw_sweep w;
        ck_assert_int_eq(jaw_fit_sweep(angle, y[k], 4, &w, NULL), JAW_OK);
        near(w.amplitude, k < 4, 2 * EPS, "amplitude");
        if (k < 4)
            near(fabs(w.phase), fabs(want[k]), 2 * EPS, "phase");
    }
}
END_TEST

/* Crowded angles are weak: eight readings over a sixteenth of a turn. */
START_TEST(weak)
{
    double angle[8], y[8] = {1, 2, 1, 2, 1, 2, 1, 2};
    jaw_sweep w;
    for (int i = 0; i < 8; i++)
        angle[i] = turn * i / 8;
    ck_assert_int_eq(jaw_fit_sweep(angle, y, 8, &w, NULL), JAW_OK);
    ck_assert_uint_eq(w.flags, 0);
    for (int i = 0; i < 8; i++)
        angle[i] = turn / 16 * i / 8;
    ck_assert_int_eq(jaw_fit_sweep(angle, y, 8, &w, NULL), JAW_OK);
    ck_assert_uint_eq(w.flags, JAW_WEAK);
    ck_assert(w.q[3] > 100 || w.q[5] > 100);
    /* with three readings nothing is spare */
    ck_assert_int_eq(jaw_fit_sweep(angle, y, 3, &w, NULL), JAW_OK);
    ck_assert_uint_eq(w.flags, JAW_WEAK | JAW_NO_CHECK);
    nan_all(w.cov, 6, "cov");
    ck_assert(isnan(w.rms) && isnan(w.s));
    ck_assert(w.q[0] > 0);
}
END_TEST

START_TEST(any_scale)
{
    const double angle[] = {0.1, 1, 2.5, 4, 5.5}, y[] = {1, 3, 2, -1, 0.5};
    static const double scale[] = {1e-290, 1e-100, 1e100, 1e290};
    jaw_sweep one, w;
    ck_assert_int_eq(jaw_fit_sweep(angle, y, 5, &one, NULL), JAW_OK);
    for (int k = 0; k < COUNT(scale); k++) {
        double z[5];
        for (int i = 0; i < 5; i++)
            z[i] = y[i] * scale[k];
        ck_assert_int_eq(jaw_fit_sweep(angle, z, 5, &w, NULL), JAW_OK);
        near(w.amplitude / scale[k], one.amplitude, 1e-14, "amplitude");
        near(w.s / scale[k], one.s, 1e-14, "s");
        near(w.phase, one.phase, 1e-14, "phase");
        near(w.q[4], one.q[4], 4 * EPS, "q");
    }
}
END_TEST

static void refused(const double angle[], const double y[], size_t n,
                    jaw_status want)
{
    jaw_sweep w;
    double resid[8] = {0};
    memset(&w, 0, sizeof w);
    ck_assert_int_eq(jaw_fit_sweep(angle, y, n, &w, resid), want);
    nan_all(&w.mean, offsetof(jaw_sweep, dof) / sizeof(double), "sweep");
    nan_all(resid, n, "resid");
    ck_assert_int_eq(w.dof, 0);
    ck_assert_uint_eq(w.flags, 0);
}

START_TEST(statuses)
{
    const double y[] = {1, 2, 3, 4}, bad[] = {1, NAN_D, 3, 4};
    const double good[] = {0, 2, 4, 5}, odd[] = {0, 2, HUGE_VAL, 5};
    const double same[][4] = {{1, 1, 1, 1},
                              {1, 2, 1, 2},
                              {0, 1, turn, 1 - turn},
                              {1e5, 1e5 + 3 * turn, 2, 2},
                              {0, turn / 2, 1.5 * turn, 1e-16},
                              {0, 1e-17, 2e-17, 1e-16}};
    jaw_sweep w;
    refused(good, y, 0, JAW_EFEW);
    refused(good, y, 2, JAW_EFEW);
    refused(good, bad, 4, JAW_ENOTFINITE);
    refused(odd, y, 4, JAW_ENOTFINITE);
    for (int k = 0; k < COUNT(same); k++)
        refused(same[k], y, 4, JAW_ERANK);
    /* far from a turn, but different */
    const double close[] = {0, 1e-9, 2e-9, 3e-9};
    ck_assert_int_eq(jaw_fit_sweep(close, y, 4, &w, NULL), JAW_OK);
    ck_assert_uint_eq(w.flags, JAW_WEAK);
}
END_TEST

/* Nine degrees of freedom: Student's t gives 92.3 in 100 within two. */
START_TEST(uncertainty_holds)
{
    enum { SETS = 5000, N = 12 };
    int in[3] = {0};
    random_start("sweep uncertainty");
    for (int k = 0; k < SETS; k++) {
        double angle[N], y[N];
        jaw_sweep w;
        for (int i = 0; i < N; i++) {
            angle[i] = random_even(0, turn / 3);
            y[i] = 2 + 0.3 * cos(angle[i]) - 0.1 * sin(angle[i]) +
                   1e-3 * random_normal();
        }
        ck_assert_int_eq(jaw_fit_sweep(angle, y, N, &w, NULL), JAW_OK);
        in[0] += fabs(w.mean - 2) <= 2 * sqrt(w.cov[0]);
        in[1] += fabs(w.along - 0.3) <= 2 * sqrt(w.cov[3]);
        in[2] += fabs(w.across + 0.1) <= 2 * sqrt(w.cov[5]);
    }
    for (int i = 0; i < 3; i++)
        ck_assert_msg(abs(in[i] - 4617) < 75, "%d: %d", i, in[i]);
}
END_TEST

TCase *sweep_case(void)
{
    TCase *tc = tcase_create("sweep");
    tcase_add_test(tc, even_steps);
    tcase_add_test(tc, there_and_back);
    tcase_add_test(tc, phases);
    tcase_add_test(tc, weak);
    tcase_add_test(tc, any_scale);
    tcase_add_test(tc, statuses);
    tcase_add_test(tc, uncertainty_holds);
    return tc;
}
