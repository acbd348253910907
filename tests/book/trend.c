/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The line through lengths: published regressions, what holds for any data, and
 * intervals that hold as often as promised. */
#include "book_tests.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* x,y rows of tests/data, by x. */
typedef struct data {
    double x[200], y[200];
    size_t n;
} data;

static void sort_in(data *d, double x, double y)
{
    size_t i = d->n++;
    for (; i > 0 && d->x[i - 1] > x; i--) {
        d->x[i] = d->x[i - 1];
        d->y[i] = d->y[i - 1];
    }
    d->x[i] = x;
    d->y[i] = y;
}

static data read_data(const char *name)
{
    char path[1000], line[200];
    const char *top = getenv("abs_srcdir");
    data d = {.n = 0};
    snprintf(path, sizeof path, "%s/tests/data/%s", top ? top : ".", name);
    FILE *f = fopen(path, "r");
    ck_assert_ptr_nonnull(f);
    while (fgets(line, sizeof line, f)) {
        double x, y;
        if (sscanf(line, "%lf,%lf", &x, &y) == 2)
            sort_in(&d, x, y);
    }
    fclose(f);
    return d;
}

/* NIST StRD, Norris, certified: slope and residual standard deviation. */
START_TEST(norris)
{
    data d = read_data("reg_nist_norris.csv");
    jaw_book_line line;
    ck_assert_uint_eq(d.n, 36);
    ck_assert_int_eq(jaw_book_trend(d.x, d.y, d.n, 0, &line), JAW_OK);
    ck_assert(fabs(line.square_slope - 1.00211681802045) < 1e-13);
    ck_assert(fabs(line.s - 0.884796396144373) < 1e-11);
    ck_assert(fabs(line.mean_y - line.square_slope * line.mean_x +
                   0.262323073774029) < 1e-10);
    ck_assert(line.low < line.slope && line.slope < line.high && line.real);
}
END_TEST

/* Every step by hand: ten slopes, median between the fifth and sixth; with five
 * points only the order of all ten leaves less than 2.5 % out (1/120). */
START_TEST(five_points_by_hand)
{
    const double x[] = {1, 2, 3, 4, 5}, y[] = {1.26, 1.27, 1.12, 1.16, 1.03};
    jaw_book_line line;
    ck_assert_int_eq(jaw_book_trend(x, y, 5, 0, &line), JAW_OK);
    ck_assert(fabs(line.slope + 0.05625) < 1e-12);
    ck_assert(fabs(line.low + 0.15) < 1e-12);
    ck_assert(fabs(line.high - 0.04) < 1e-12);
    ck_assert(!line.real);
}
END_TEST

/* Nothing scatters but the rounding, a rectangle of width step: of least
 * squares 1.96 step / sqrt(12 sum of squares), by hand. */
START_TEST(a_straight_line_is_as_sure_as_its_step)
{
    const double x[] = {0, 1, 2, 3, 4};
    const double y[] = {60, 59.994, 59.988, 59.982, 59.976};
    jaw_book_line line;
    ck_assert_int_eq(jaw_book_trend(x, y, 5, 1e-3, &line), JAW_OK);
    ck_assert(fabs(line.high + 0.006 - 1.96 * 1e-3 / sqrt(120)) < 1e-7);
    ck_assert(fabs(line.low + 0.006 + 1.96 * 1e-3 / sqrt(120)) < 1e-7);
    ck_assert(line.agree && line.real);
    ck_assert_int_eq(jaw_book_trend(x, y, 4, 1e-3, &line), JAW_OK);
    ck_assert(isnan(line.low) && isnan(line.high));
}
END_TEST

START_TEST(one_wrong_length_does_not_move_it)
{
    double x[12], y[12];
    jaw_book_line line;
    for (int i = 0; i < 12; i++) {
        x[i] = i;
        y[i] = 60 - 0.01 * i + (i % 2 ? 1e-3 : -1e-3);
    }
    y[7] = 61;
    ck_assert_int_eq(jaw_book_trend(x, y, 12, 0, &line), JAW_OK);
    ck_assert(fabs(line.slope + 0.01) < 1e-3 && line.real);
    ck_assert(!line.agree);
    ck_assert(isnan(jaw_book_forecast(&line, 13).half95));
    ck_assert(fabs(jaw_book_forecast(&line, 13).value - 59.87) < 5e-3);
}
END_TEST

START_TEST(what_gives_no_line)
{
    const double x[] = {1, 2, 3}, same[] = {1, 1, 1}, back[] = {1, 3, 2};
    const double y[] = {1, 2, (double)NAN};
    jaw_book_line line;
    ck_assert_int_eq(jaw_book_trend(x, x, 2, 0, &line), JAW_EFEW);
    ck_assert(isnan(line.slope));
    ck_assert_int_eq(jaw_book_trend(same, x, 3, 0, &line), JAW_ERANK);
    ck_assert_int_eq(jaw_book_trend(back, x, 3, 0, &line), JAW_ERANK);
    ck_assert_int_eq(jaw_book_trend(x, y, 3, 0, &line), JAW_ENOTFINITE);
    ck_assert_int_eq(jaw_book_trend(x, x, 3, 0, &line), JAW_OK);
    ck_assert(line.slope == 1 && isnan(line.low) && !line.real);
    ck_assert(isnan(jaw_book_forecast(&line, 4).u));
    ck_assert(jaw_book_forecast(&line, 4).value == 4);
}
END_TEST

/* The share of slopes follows from Kendall's S alone: 1 - 2/120 with five, and
 * so on.  Of 4000, three deviations; of forecasts 95 % has one of 0.35 %. */
START_TEST(intervals_hold)
{
    static const struct {
        size_t n;
        double share;
    } row[] = {{5, 0.9833}, {7, 0.9698}, {12, 0.9553}, {30, 0.9509}};
    const double share = row[_i].share;
    double off = 3 * sqrt(share * (1 - share) * 4000);
    size_t n = row[_i].n;
    jaw_random random = jaw_random_stream(3, n);
    int slope = 0, next = 0, with = 0;
    for (int t = 0; t < 4000; t++) {
        double x[30], y[30], at = 0;
        jaw_book_line line;
        for (size_t i = 0; i < n; i++) {
            x[i] = at += 0.2 + jaw_random_even(&random);
            y[i] = 60 - 0.004 * x[i] + 2e-3 * jaw_random_normal(&random);
        }
        ck_assert_int_eq(jaw_book_trend(x, y, n, 0, &line), JAW_OK);
        slope += line.low <= -0.004 && -0.004 <= line.high;
        jaw_figure f = jaw_book_forecast(&line, at + 1);
        double truth = 60 - 0.004 * (at + 1) +
                       2e-3 * jaw_random_normal(&random);
        with += !isnan(f.half95);
        next += fabs(truth - f.value) <= f.half95;
    }
    ck_assert_msg(fabs(slope - 4000 * share) <= off, "slope: %d of 4000",
                  slope);
    ck_assert_int_gt(with, 3900);
    ck_assert_msg(next >= with * 0.94 && next <= with * 0.96,
                  "forecast: %d of %d", next, with);
}
END_TEST

START_TEST(many_points_by_the_normal_limit)
{
    static double x[300], y[300];
    jaw_random random = jaw_random_stream(3, 0);
    jaw_book_line line;
    for (int i = 0; i < 300; i++) {
        x[i] = i / 2; /* two at a time */
        y[i] = -0.1 * x[i] + jaw_random_normal(&random);
    }
    ck_assert_int_eq(jaw_book_trend(x, y, 300, 0, &line), JAW_OK);
    ck_assert(line.low < -0.1 && line.high > -0.1);
    ck_assert(line.high - line.low < 0.02);
}
END_TEST

TCase *trend_case(void)
{
    TCase *tc = tcase_create("trend");
    tcase_add_test(tc, norris);
    tcase_add_test(tc, five_points_by_hand);
    tcase_add_test(tc, a_straight_line_is_as_sure_as_its_step);
    tcase_add_test(tc, one_wrong_length_does_not_move_it);
    tcase_add_test(tc, what_gives_no_line);
    tcase_add_loop_test(tc, intervals_hold, 0, 4);
    tcase_add_test(tc, many_points_by_the_normal_limit);
    return tc;
}
