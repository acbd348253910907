/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of distributions.c and decide.c. */
#include "trust_tests.h"

#include "tests/feature/random.h"
#include "tests/near.h"
#include "tests/trust/table.h"

#include <jawline/trust.h>

#include <float.h>
#include <gsl/gsl_cdf.h>

static void close_to(double got, double want, const char *name)
{
    near(got, want, 1e-11 * fabs(want), name);
}

/* -------------------------------------------------------- published tables */

/* JCGM 100:2008, Table G.2: every entry.  68.27, 95.45 and 99.73 stand for the
 * exact probabilities of 1, 2 and 3 sigma. */
START_TEST(gum_table_g2)
{
    FILE *file = table_open("unc_gum_table_g2", ".expect.csv");
    char line[512], *field[8];
    int n = 0;
    table_row(file, line, field); /* the heading */
    while (table_row(file, line, field) >= 3) {
        char *end;
        double p = strtod(field[0] + 2, &end) / 100;
        double dof = end[1] == 'i' ? INFINITY : strtod(end + 1, NULL);
        for (int k = 1; k <= 3; k++)
            if (fabs(p - (1 - 2 * gsl_cdf_ugaussian_Q(k))) < 6e-5)
                p = 1 - 2 * gsl_cdf_ugaussian_Q(k);
        close_to(jaw_trust_cover(p, dof), strtod(field[2], NULL), field[0]);
        n++;
    }
    fclose(file);
    ck_assert_int_eq(n, 168);
}
END_TEST

/* Baarda 1968, Pope 1976; recomputed to 40 digits. */
START_TEST(reliability_constants)
{
    const char *name = "reliability_constants";
    static const struct {
        const char *quantity;
        double alpha, power;
    } shift[] = {{"delta0_exact", 0.001, 0.8},
                 {"delta0_alpha0.05_power0.80", 0.05, 0.8},
                 {"delta0_alpha0.01_power0.80", 0.01, 0.8},
                 {"delta0_alpha0.001_power0.90", 0.001, 0.9},
                 {"delta0_alpha0.01_power0.90", 0.01, 0.9}};
    for (int i = 0; i < COUNT(shift); i++) /* one tail in the table, two here */
        near(jaw_trust_shift(shift[i].alpha, shift[i].power),
             table_value(name, shift[i].quantity), i == 0 ? 1e-14 : 5e-6,
             shift[i].quantity);
    ck_assert(jaw_trust_shift(JAW_TRUST_ALPHA, JAW_TRUST_POWER) ==
              JAW_TRUST_SHIFT);
    near(JAW_TRUST_SHIFT * JAW_TRUST_SHIFT, table_value(name, "lambda0_exact"),
         1e-13, "lambda0");
    near(JAW_TRUST_SHIFT, 4.13, 0.5e-2, "Baarda 1968, as printed");
    static const int nu[] = {2, 3, 5, 10, 20, 50, 100};
    for (int i = 0; i < COUNT(nu); i++) {
        char quantity[40];
        snprintf(quantity, sizeof quantity, "tau_alpha0.05_nu%d", nu[i]);
        close_to(jaw_trust_tau(0.05, nu[i]), table_value(name, quantity),
                 quantity);
        snprintf(quantity, sizeof quantity, "tau_alpha0.001_nu%d", nu[i]);
        close_to(jaw_trust_tau(0.001, nu[i]), table_value(name, quantity),
                 quantity);
    }
    ck_assert(jaw_trust_tau(0.001, 1) == 1);
    near(jaw_trust_tau(0.001, INFINITY), table_value(name, "z_crit"), 1e-14,
         "tau without end");
    near(jaw_trust_tau(0.001, 1e9), table_value(name, "z_crit"), 1e-7,
         "tau far out");
}
END_TEST

/* With one degree of freedom both ways to the shift are one.  With two, the
 * noncentral chi-square is the square of a Rice number, whose upper tail is
 * Marcum's Q (Marcum, IRE Trans. IT-6 (1960) 59-144); the figures here come
 * from a quadrature of t exp(-(t^2 + a^2) / 2) I0(a t) with 40 digits (mpmath). */
START_TEST(shift_of_chi2)
{
    for (double alpha = 0.2; alpha > 1e-5; alpha /= 3)
        for (double power = 0.3; power < 0.99; power += 0.17)
            near(jaw_trust_chi2_shift(alpha, power, 1),
                 jaw_trust_shift(alpha, power), 1e-10, "one dof");
    near(jaw_trust_chi2_shift(0.001, 0.80, 2), 4.4342288629850842392, 1e-10,
         "0.001 0.80");
    near(jaw_trust_chi2_shift(0.05, 0.90, 2), 3.5572371356657103954, 1e-10,
         "0.05 0.90");
    near(jaw_trust_chi2_shift(0.01, 0.80, 2), 3.7256811567016766407, 1e-10,
         "0.01 0.80");
    near(jaw_trust_chi2_shift(0.001, 0.80, 3), 4.6416623679832130977, 1e-10,
         "three dof");
    near(JAW_TRUST_SHIFT_PLACE,
         jaw_trust_chi2_shift(JAW_TRUST_ALPHA, JAW_TRUST_POWER, 2), 1e-10,
         "of a place");
    near(JAW_TRUST_LIMIT_PLACE, sqrt(jaw_trust_chi2(JAW_TRUST_ALPHA, 2)), 1e-10,
         "limit of a place");
    near(JAW_TRUST_LIMIT, jaw_trust_cover(1 - JAW_TRUST_ALPHA, INFINITY), 1e-10,
         "limit of one");
    static const double bad[] = {0, 1, -1, NAN};
    for (int i = 0; i < COUNT(bad); i++) {
        ck_assert(isnan(jaw_trust_chi2_shift(bad[i], 0.8, 2)));
        ck_assert(isnan(jaw_trust_chi2_shift(0.001, bad[i], 2)));
    }
    ck_assert(isnan(jaw_trust_chi2_shift(0.5, 0.4, 2)));
    ck_assert(isnan(jaw_trust_chi2_shift(0.001, 0.8, 0)));
    ck_assert(isnan(jaw_trust_chi2_shift(0.001, 0.8, 101)));
    ck_assert(isnan(jaw_trust_chi2_shift(DBL_MIN, 1 - 1e-16, 2)) ||
              jaw_trust_chi2_shift(DBL_MIN, 1 - 1e-16, 2) > 40);
}
END_TEST

/* --------------------------------------------------------- there and back */

START_TEST(there_and_back)
{
    random_source r = random_start("there_and_back", 11);
    for (int i = 0; i < 4000; i++) {
        double p = i % 2 ? random_between(&r, 1e-6, 1 - 1e-6)
                         : pow(10, random_between(&r, -12, 0));
        double dof = pow(10, random_between(&r, 0, 4));
        double dof2 = pow(10, random_between(&r, 0, 4));
        double t = jaw_trust_cover(1 - p, dof), share = 1 - (1 - p);
        close_to(2 * gsl_cdf_tdist_Q(t, dof), share, "t");
        close_to(gsl_cdf_chisq_Q(jaw_trust_chi2(p, dof), dof), p, "chi2");
        close_to(gsl_cdf_fdist_Q(jaw_trust_f(p, dof, dof2), dof, dof2), p, "F");
    }
}
END_TEST

/* t^2 is F with 1 degree of freedom; F without end is chi-square; chi-square
 * with 2 is exponential; and with 1 the square of a normal number. */
START_TEST(of_one_family)
{
    for (double p = 1e-6; p < 0.9; p *= 3) {
        for (double dof = 1; dof < 5000; dof *= 3) {
            double t = jaw_trust_cover(1 - p, dof);
            near(jaw_trust_f(p, 1, dof), t * t, 1e-9 * t * t, "F and t");
        }
        double z = gsl_cdf_ugaussian_Qinv(p / 2);
        close_to(jaw_trust_chi2(p, 1), z * z, "chi2 of 1");
        close_to(jaw_trust_chi2(p, 2), -2 * log(p), "chi2 of 2");
        close_to(jaw_trust_f(p, 7, INFINITY), jaw_trust_chi2(p, 7) / 7,
                 "F without end");
    }
}
END_TEST

/* 2026-11-25: F(0.0548; 18.06, 707.6) and chi-square with ten million degrees
 * of freedom ended the process inside the library used for them.  Any argument
 * gives a number or NaN; this test dies otherwise. */
START_TEST(nothing_ends_the_process)
{
    random_source r = random_start("nothing_ends_the_process", 12);
    ck_assert(jaw_trust_f(0.054836, 18.0587, 707.61) > 1);
    ck_assert(jaw_trust_chi2(0.5, 1e7) > 9.9e6);
    for (int i = 0; i < 6000; i++) {
        double p = pow(10, random_between(&r, -300, 0));
        double dof = pow(10, random_between(&r, -3, 13));
        double dof2 = pow(10, random_between(&r, -3, 13));
        ck_assert(jaw_trust_cover(p, dof) >= 0);
        ck_assert(jaw_trust_chi2(p, dof) >= 0);
        double f = jaw_trust_f(p, dof, dof2);
        ck_assert(f >= 0 || isnan(f));
        jaw_trust_tau(p, dof);
    }
}
END_TEST

/* Where Wilson and Hilferty take over, nothing jumps. */
START_TEST(large_numbers_join)
{
    for (double p = 1e-6; p < 1; p *= 10)
        near(jaw_trust_chi2(p, 1e6 * (1 + 1e-12)) / jaw_trust_chi2(p, 1e6), 1,
             3e-9, "chi-square at 1e6");
    near(jaw_trust_f(0.05, 3, 1.1e6) / jaw_trust_f(0.05, 3, 1e6), 1, 4e-6,
         "F at 1e6");
}
END_TEST

START_TEST(out_of_range_is_nan)
{
    static const double bad[] = {0, 1, -1, 2, NAN, INFINITY};
    for (int i = 0; i < COUNT(bad); i++) {
        ck_assert(isnan(jaw_trust_cover(bad[i], 5)));
        ck_assert(isnan(jaw_trust_chi2(bad[i], 5)));
        ck_assert(isnan(jaw_trust_f(bad[i], 5, 5)));
        ck_assert(isnan(jaw_trust_tau(bad[i], 5)));
        ck_assert(isnan(jaw_trust_shift(bad[i], 0.8)));
        ck_assert(isnan(jaw_trust_shift(0.001, bad[i])));
    }
    static const double none[] = {0, -1, NAN, -INFINITY};
    for (int i = 0; i < COUNT(none); i++) {
        ck_assert(isnan(jaw_trust_cover(0.95, none[i])));
        ck_assert(isnan(jaw_trust_chi2(0.95, none[i])));
        ck_assert(isnan(jaw_trust_f(0.95, none[i], 5)));
        ck_assert(isnan(jaw_trust_f(0.95, 5, none[i])));
        ck_assert(isnan(jaw_trust_tau(0.05, none[i])));
    }
    ck_assert(isnan(jaw_trust_chi2(0.95, INFINITY)));
    ck_assert(isnan(jaw_trust_f(0.95, INFINITY, 5)));
    ck_assert(isnan(jaw_trust_f(0.95, 1e7, 5)));
    ck_assert(isnan(jaw_trust_tau(0.05, 0.5)));
    ck_assert(isnan(jaw_trust_shift(0.5, 0.4)));
}
END_TEST

/* ----------------------------------------------------------- whole budgets */

static double half_root_sum(const double u[], int n)
{
    double sum = 0;
    for (int i = 0; i < n; i++)
        sum += u[i] * u[i];
    return sqrt(sum);
}

/* JCGM 100:2008, H.1: an end gauge against a standard, from the primary data
 * of the budget; nm. */
START_TEST(gum_h1)
{
    const char *name = "unc_gum_h1";
    const double ls = 50000623, alpha = 11.5e-6, theta = -0.1;
    double u_d[] = {13 / sqrt(5), 10 / jaw_trust_cover(0.95, 5), 20.0 / 3};
    double nu_d[] = {24, 5, 8};
    double u_theta[] = {0.2, 0.5 / sqrt(2)}, ud = half_root_sum(u_d, 3);
    double nud = jaw_trust_effective_dof(u_d, nu_d, 3);
    double u_dalpha = 1e-6 / sqrt(3), u_dtheta = 0.05 / sqrt(3);
    double ut = half_root_sum(u_theta, 2);
    double u[] = {25, ud, ls * fabs(theta) * u_dalpha, ls * alpha * u_dtheta};
    double nu[] = {18, nud, 50, 2}, uc = half_root_sum(u, 4);
    double effective = jaw_trust_effective_dof(u, nu, 4);

    close_to(u_d[1], table_value(name, "u_d1"), "u_d1");
    close_to(ud, table_value(name, "u_d"), "u_d");
    close_to(nud, table_value(name, "nu_d"), "nu_d");
    close_to(ut, table_value(name, "u_theta"), "u_theta");
    close_to(u[2], table_value(name, "contrib_dalpha"), "dalpha");
    close_to(u[3], table_value(name, "contrib_dtheta"), "dtheta");
    close_to(uc, table_value(name, "uc"), "uc");
    close_to(effective, table_value(name, "nu_eff"), "nu_eff");
    near(uc, 32, 0.5, "uc as printed");
    near(effective, 16.7, 0.05, "nu_eff as printed");
    double k99 = jaw_trust_cover(0.99, floor(effective));
    close_to(k99, table_value(name, "k99"), "k99");
    close_to(k99 * uc, table_value(name, "U99"), "U99");
    near(k99, 2.92, 0.5e-2, "k99 as printed");
    close_to(jaw_trust_cover(0.95, floor(effective)) * uc,
             table_value(name, "U95"), "U95");
}
END_TEST

/* EA-4/02:1999, S4: seven contributions, all known exactly. */
START_TEST(ea_s4)
{
    double row[16], u[8], dof[8], half;
    size_t n = table_read("unc_ea402_s4", 2, row, 8);
    ck_assert_uint_eq(n, 7);
    for (size_t i = 0; i < n; i++) {
        u[i] = row[2 * i + 1];
        dof[i] = INFINITY;
    }
    ck_assert(isinf(jaw_trust_effective_dof(u, dof, n)));
    double uc = half_root_sum(u, (int)n);
    close_to(uc, table_value("unc_ea402_s4", "uc"), "uc");
    double printed = table_printed("unc_ea402_s4", "uc", &half);
    near(uc, printed, half, "uc as printed");
    dof[2] = 9; /* one part from ten readings hardly matters */
    near(jaw_trust_effective_dof(u, dof, n),
         9 * pow(uc / u[2], 4), 1e-6, "one known by ten readings");
}
END_TEST

START_TEST(effective_dof_odd)
{
    double u[] = {3, 4}, dof[] = {7, 9}, none[] = {0, 0};
    double nan[] = {NAN, 1}, minus[] = {-1, 1}, zero[] = {0, 9};
    ck_assert(isnan(jaw_trust_effective_dof(u, dof, 0)));
    ck_assert(isnan(jaw_trust_effective_dof(none, dof, 2)));
    ck_assert(isnan(jaw_trust_effective_dof(nan, dof, 2)));
    ck_assert(isnan(jaw_trust_effective_dof(minus, dof, 2)));
    ck_assert(isnan(jaw_trust_effective_dof(u, zero, 2)));
    ck_assert(isnan(jaw_trust_effective_dof(u, nan, 2)));
    close_to(jaw_trust_effective_dof(u, dof, 1), 7, "one alone");
    u[0] = u[1];
    dof[1] = 7;
    close_to(jaw_trust_effective_dof(u, dof, 2), 14, "two alike add up");
    double far[] = {1e200, 1e200}, near_zero[] = {1e-200, 1e-200};
    close_to(jaw_trust_effective_dof(far, dof, 2), 14, "large");
    close_to(jaw_trust_effective_dof(near_zero, dof, 2), 14, "small");
}
END_TEST

TCase *distributions_case(void)
{
    TCase *tc = tcase_create("distributions");
    tcase_add_test(tc, gum_table_g2);
    tcase_add_test(tc, reliability_constants);
    tcase_add_test(tc, shift_of_chi2);
    tcase_add_test(tc, there_and_back);
    tcase_add_test(tc, of_one_family);
    tcase_add_test(tc, nothing_ends_the_process);
    tcase_add_test(tc, large_numbers_join);
    tcase_add_test(tc, out_of_range_is_nan);
    tcase_add_test(tc, gum_h1);
    tcase_add_test(tc, ea_s4);
    tcase_add_test(tc, effective_dof_odd);
    return tc;
}

/* --------------------------------------------------------------- decisions */

/* ISO 14253-1:2017: limit 10.020, u = 0.003: accepted up to 10.01505 with the
 * rounded factor 1.65; the exact factor is 1.6449. */
START_TEST(iso_14253_1)
{
    const double high = 10.020, u = 0.003;
    ck_assert(jaw_trust_decide(10.01505, u, INFINITY, 9, high) == JAW_FITS);
    double guard = 1.6448536269514727 * u;
    ck_assert(jaw_trust_decide(high - guard - 1e-9, u, INFINITY, 9, high) ==
              JAW_FITS);
    ck_assert(jaw_trust_decide(high - guard + 1e-9, u, INFINITY, 9, high) ==
              JAW_CAN_NOT_TELL);
    ck_assert(jaw_trust_decide(high + guard - 1e-9, u, INFINITY, 9, high) ==
              JAW_CAN_NOT_TELL);
    ck_assert(jaw_trust_decide(high + guard + 1e-9, u, INFINITY, 9, high) ==
              JAW_DOES_NOT);
}
END_TEST

/* Five degrees of freedom: t(95 % one-sided) is the 90 % column of Table G.2. */
START_TEST(guard_follows_dof)
{
    const double t = 2.015048373333023;
    ck_assert(jaw_trust_decide(1 - t * 0.1 - 1e-9, 0.1, 5, -INFINITY, 1) ==
              JAW_FITS);
    ck_assert(jaw_trust_decide(1 - t * 0.1 + 1e-9, 0.1, 5, -INFINITY, 1) ==
              JAW_CAN_NOT_TELL);
    ck_assert(jaw_trust_decide(t * 0.1 + 1e-9, 0.1, 5, 0, INFINITY) ==
              JAW_FITS);
    ck_assert(jaw_trust_decide(-t * 0.1 - 1e-9, 0.1, 5, 0, INFINITY) ==
              JAW_DOES_NOT);
}
END_TEST

START_TEST(decide_odd)
{
    ck_assert(jaw_trust_decide(1, 0, INFINITY, 1, 1) == JAW_FITS);
    ck_assert(jaw_trust_decide(1.1, 0, INFINITY, 1, 1) == JAW_DOES_NOT);
    ck_assert(jaw_trust_decide(1, 0.1, INFINITY, 1, 1) == JAW_CAN_NOT_TELL);
    ck_assert(jaw_trust_decide(0, 0, INFINITY, 1, -1) == JAW_CAN_NOT_TELL);
    ck_assert(jaw_trust_decide(NAN, 1, 5, -9, 9) == JAW_CAN_NOT_TELL);
    ck_assert(jaw_trust_decide(0, NAN, 5, -9, 9) == JAW_CAN_NOT_TELL);
    ck_assert(jaw_trust_decide(0, -1, 5, -9, 9) == JAW_CAN_NOT_TELL);
    ck_assert(jaw_trust_decide(0, 0.1, 0, -9, 9) == JAW_CAN_NOT_TELL);
    ck_assert(jaw_trust_decide(0, 0.1, NAN, -9, 9) == JAW_CAN_NOT_TELL);
    ck_assert(jaw_trust_decide(0, INFINITY, 5, -9, 9) == JAW_CAN_NOT_TELL);
    ck_assert(jaw_trust_decide(INFINITY, 1, 5, -9, 9) == JAW_CAN_NOT_TELL);
}
END_TEST

/* Of parts that lie on the limit at most one in twenty is said to fit, and of
 * those just within at most one in twenty not to; u from few readings. */
START_TEST(wrong_one_time_in_twenty)
{
    random_source r = random_start("wrong_one_time_in_twenty", 13);
    enum { TRIES = 100000, N = 4 };
    int fits = 0, does_not = 0;
    for (int i = 0; i < TRIES; i++) {
        double y[N], mean = 0, ss = 0;
        for (int k = 0; k < N; k++)
            mean += (y[k] = random_normal(&r)) / N;
        for (int k = 0; k < N; k++)
            ss += (y[k] - mean) * (y[k] - mean);
        jaw_verdict v = jaw_trust_decide(mean, sqrt(ss / (N - 1) / N), N - 1,
                                         -INFINITY, 0);
        fits += v == JAW_FITS;
        does_not += v == JAW_DOES_NOT;
    }
    near((double)fits / TRIES, 0.05, 0.0035, "said to fit"); /* 5 sigma */
    near((double)does_not / TRIES, 0.05, 0.0035, "said not to");
}
END_TEST

TCase *decide_case(void)
{
    TCase *tc = tcase_create("decide");
    tcase_add_test(tc, iso_14253_1);
    tcase_add_test(tc, guard_follows_dof);
    tcase_add_test(tc, decide_odd);
    tcase_add_test(tc, wrong_one_time_in_twenty);
    return tc;
}
