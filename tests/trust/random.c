/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of random.c. */
#include "trust_tests.h"

#include "tests/near.h"

#include <jawline/trust.h>

#include "src/trust/ziggurat.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_sf_erf.h>

/* xoshiro256++ from the state 1 2 3 4: first numbers as in the test vector that
 * several libraries carry (from memory; the first follows by hand:
 * rotl(1 + 4, 23) + 1 = 41943041). */
START_TEST(xoshiro_reference)
{
    static const unsigned long long want[] = {
        41943041u, 58720359u, 3588806011781223u, 3591011842654386u,
        9228616714210784205u, 9973669472204895162u};
    jaw_random r = {{1, 2, 3, 4}};
    for (int i = 0; i < COUNT(want); i++)
        ck_assert(jaw_random_bits(&r) == want[i]);
}
END_TEST

/* Every layer of the ziggurat has the area of the lowest with its tail. */
START_TEST(layers_are_equal)
{
    double r = ziggurat_x[1];
    double area = r * exp(-r * r / 2) +
                  sqrt(2 * acos(-1.0)) * gsl_cdf_ugaussian_Q(r);
    near(ziggurat_x[0] * exp(-r * r / 2), area, 1e-16, "lowest");
    for (int i = 1; i < 256; i++) {
        near(ziggurat_x[i] * (ziggurat_y[i + 1] - ziggurat_y[i]), area, 1e-15,
             "layer");
        near(ziggurat_y[i], exp(-ziggurat_x[i] * ziggurat_x[i] / 2), 1e-15, "y");
    }
    ck_assert(ziggurat_x[256] == 0 && ziggurat_y[256] == 1);
}
END_TEST

/* Moments, and chi-square over bins that reach into both tails: 1e7 numbers
 * from many short streams, as trials use them. */
START_TEST(normal_numbers)
{
    enum { STREAMS = 1000000, EACH = 10, BINS = 100 };
    long count[BINS] = {0}, beyond = 0;
    double sum[5] = {0}, n = (double)STREAMS * EACH, chi2 = 0;
    for (unsigned long long t = 0; t < STREAMS; t++) {
        jaw_random r = jaw_random_stream(77, t);
        for (int i = 0; i < EACH; i++) {
            double x = jaw_random_normal(&r), x2 = x * x;
            sum[1] += x, sum[2] += x2, sum[3] += x * x2, sum[4] += x2 * x2;
            int bin = (int)floor((x + 5) * 10);
            count[bin < 0 ? 0 : bin >= BINS ? BINS - 1 : bin]++;
            beyond += fabs(x) > ziggurat_x[1];
        }
    }
    near(sum[1] / n, 0, 5 / sqrt(n), "mean");
    near(sum[2] / n, 1, 5 * sqrt(2 / n), "variance");
    near(sum[3] / n, 0, 5 * sqrt(15 / n), "skewness");
    near(sum[4] / n, 3, 5 * sqrt(96 / n), "kurtosis");
    for (int i = 0; i < BINS; i++) {
        double low = i == 0 ? -INFINITY : -5 + 0.1 * i;
        double high = i == BINS - 1 ? INFINITY : -5 + 0.1 * (i + 1);
        double want = n * (i < BINS / 2
                               ? gsl_cdf_ugaussian_P(high) -
                                     gsl_cdf_ugaussian_P(low)
                               : gsl_cdf_ugaussian_Q(low) -
                                     gsl_cdf_ugaussian_Q(high));
        chi2 += ((double)count[i] - want) * ((double)count[i] - want) / want;
    }
    ck_assert_msg(chi2 < jaw_trust_chi2(1e-6, BINS - 1), "chi2 %g", chi2);
    double tail = 2 * n * gsl_cdf_ugaussian_Q(ziggurat_x[1]);
    near((double)beyond, tail, 5 * sqrt(tail), "beyond the layers");
}
END_TEST

/* The first numbers of neighbouring streams, and of neighbouring seeds, have
 * nothing to do with one another. */
START_TEST(streams_are_apart)
{
    enum { N = 1000000 };
    double streams = 0, seeds = 0, within = 0;
    for (unsigned long long t = 0; t < N; t++) {
        jaw_random a = jaw_random_stream(5, t), b = jaw_random_stream(5, t + 1);
        jaw_random c = jaw_random_stream(6, t);
        double x = jaw_random_normal(&a);
        streams += x * jaw_random_normal(&b);
        seeds += x * jaw_random_normal(&c);
        within += x * jaw_random_normal(&a);
    }
    near(streams / N, 0, 5 / sqrt(N), "streams");
    near(seeds / N, 0, 5 / sqrt(N), "seeds");
    near(within / N, 0, 5 / sqrt(N), "within");
}
END_TEST

START_TEST(even_numbers)
{
    enum { N = 1000000 };
    jaw_random r = jaw_random_stream(1, 2);
    double sum = 0, square = 0;
    for (int i = 0; i < N; i++) {
        double x = jaw_random_even(&r);
        ck_assert(x > 0 && x < 1);
        sum += x;
        square += x * x;
    }
    near(sum / N, 0.5, 5 * sqrt(1.0 / 12 / N), "mean");
    near(square / N, 1.0 / 3, 5 * sqrt(4.0 / 45 / N), "square");
}
END_TEST

TCase *random_case(void)
{
    TCase *tc = tcase_create("random");
    tcase_add_test(tc, xoshiro_reference);
    tcase_add_test(tc, layers_are_equal);
    tcase_add_test(tc, normal_numbers);
    tcase_add_test(tc, streams_are_apart);
    tcase_add_test(tc, even_numbers);
    return tc;
}
