/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two equations at a time, against adjustments that are really made without
 * one of them or without both, and with slips really put in. */
#include "trust_tests.h"

#include "tests/near.h"
#include "tests/trust/problem.h"

#include <jawline/trust.h>

/* The problem less these two equations (the same one twice: less one); its
 * equations keep their order.  NULL when it is not determined. */
static jaw_adjust *solved_without(const problem *p, size_t i, size_t j)
{
    problem less = *p;

    less.n = 0;
    for (size_t k = 0; k < p->n; k++)
        if (k != i && k != j)
            less.e[less.n++] = p->e[k];
    jaw_adjust *a = problem_adjust(&less);
    if (jaw_adjust_solve(a, NULL, NULL) == JAW_OK)
        return a;
    jaw_adjust_free(a);
    return NULL;
}

static double predicted(const problem *p, const jaw_adjust *a,
                        const jaw_equation *e)
{
    double sum = 0;

    if (e->block != JAW_NO_BLOCK)
        for (size_t k = 0; k < p->size[e->block]; k++)
            sum += e->local[k] * jaw_adjust_block(a, e->block)[k];
    for (size_t k = 0; k < e->n_shared; k++)
        sum += e->shared[k] * jaw_adjust_shared(a, e->which[k]);
    return sum;
}

/* Where redundancies are not near 0, so that neither way loses its digits. */
#define CLEARLY 0.02

START_TEST(one_left_out)
{
    random_source r = random_start("one_left_out", 61);
    int tried = 0;

    for (int round = 0; round < 400; round++) {
        problem p = problem_make(&r);
        jaw_adjust *a = problem_adjust(&p);
        size_t out = random_below(&r, p.n);
        ck_assert_int_eq(jaw_adjust_solve(a, NULL, NULL), JAW_OK);
        jaw_adjust *less = solved_without(&p, out, out);
        if (less && jaw_adjust_reliability(a, out).redundancy > CLEARLY) {
            for (size_t k = 0; k < p.n; k++) {
                if (k == out)
                    continue;
                jaw_reliability got = jaw_adjust_without(a, out, k);
                jaw_reliability want =
                    jaw_adjust_reliability(less, k > out ? k - 1 : k);
                near(got.redundancy, want.redundancy, 1e-8, "redundancy");
                if (want.redundancy < CLEARLY)
                    continue;
                tried++;
                near(got.resid, want.resid, 1e-7 * p.e[k].sigma, "residual");
                near(got.standard, want.standard, 1e-7, "standard");
                near(got.student, want.student, 1e-7, "student");
                near(got.noticeable, want.noticeable, 1e-7 * want.noticeable,
                     "noticeable");
            }
        }
        jaw_adjust_free(less);
        jaw_adjust_free(a);
    }
    ck_assert_int_gt(tried, 500);
}
END_TEST

START_TEST(both_left_out)
{
    random_source r = random_start("both_left_out", 62);
    int tried = 0;

    for (int round = 0; round < 1500; round++) {
        problem p = problem_make(&r);
        jaw_adjust *a = problem_adjust(&p);
        size_t i = random_below(&r, p.n), j = random_below(&r, p.n);
        ck_assert_int_eq(jaw_adjust_solve(a, NULL, NULL), JAW_OK);
        jaw_place_reliability got =
            jaw_adjust_place(a, (size_t[]){i, j});
        jaw_adjust *less = i == j ? NULL : solved_without(&p, i, j);
        if (less && got.directions == 2 && got.redundancy > CLEARLY) {
            tried++;
            double taken = jaw_adjust_total(a).ssr - jaw_adjust_total(less).ssr;
            near(got.standard * got.standard, taken, 1e-7 * (1 + taken),
                 "sum of squares");
            near(got.slip[0], p.e[i].off - predicted(&p, less, &p.e[i]),
                 1e-6 * p.e[i].sigma, "slip");
            near(got.slip[1], p.e[j].off - predicted(&p, less, &p.e[j]),
                 1e-6 * p.e[j].sigma, "other slip");
            ck_assert(got.limit == JAW_TRUST_LIMIT_PLACE);
        }
        jaw_adjust_free(less);
        jaw_adjust_free(a);
    }
    ck_assert_int_gt(tried, 100);
}
END_TEST

/* With nothing else wrong a slip of what is stated as noticeable lifts the test
 * by at least the shift, in one direction by just that. */
START_TEST(noticeable_in_every_direction)
{
    random_source r = random_start("noticeable_in_every_direction", 63);
    int tried = 0;

    for (int round = 0; round < 300; round++) {
        problem p = problem_make(&r);
        size_t at[] = {random_below(&r, p.n), random_below(&r, p.n)};
        jaw_adjust *a = problem_adjust(&p);
        jaw_adjust_solve(a, NULL, NULL);
        jaw_place_reliability was = jaw_adjust_place(a, at);
        jaw_adjust_free(a);
        if (was.directions < 2 || !(was.redundancy > CLEARLY))
            continue;
        tried++;
        double least = HUGE_VAL;
        for (int k = 0; k < 180; k++) {
            for (size_t i = 0; i < p.n; i++)
                p.e[i].off = 0;
            p.e[at[0]].off = was.noticeable * cos(k * M_PI / 180);
            p.e[at[1]].off = was.noticeable * sin(k * M_PI / 180);
            a = problem_adjust(&p);
            jaw_adjust_solve(a, NULL, NULL);
            least = fmin(least, jaw_adjust_place(a, at).standard);
            jaw_adjust_free(a);
        }
        ck_assert_msg(least > JAW_TRUST_SHIFT_PLACE * (1 - 1e-9) &&
                          least < JAW_TRUST_SHIFT_PLACE * 1.2,
                      "%.12f", least);
    }
    ck_assert_int_gt(tried, 20);
}
END_TEST

/* Two equations that see one unknown alike: the difference is checked, what
 * they share is not. */
START_TEST(one_direction)
{
    jaw_adjust *a = jaw_adjust_alloc();
    jaw_adjust_add_block(a, 1, NULL);
    jaw_equation e = {.block = 0, .local = {1}, .off = 3, .sigma = 0.5};
    jaw_adjust_add(a, &e, NULL);
    e.off = -3;
    jaw_adjust_add(a, &e, NULL);
    ck_assert_int_eq(jaw_adjust_solve(a, NULL, NULL), JAW_OK);
    jaw_place_reliability got = jaw_adjust_place(a, (size_t[]){0, 1});
    ck_assert_int_eq(got.directions, 1);
    near(got.standard, 6 / (0.5 * sqrt(2)), 1e-12, "one direction");
    near(got.limit, JAW_TRUST_LIMIT, 1e-15, "its limit");
    near(got.slip[0], 3, 1e-12, "slip");
    near(got.slip[1], -3, 1e-12, "slip");
    ck_assert(got.redundancy == 0 && isinf(got.noticeable));
    jaw_reliability left = jaw_adjust_without(a, 0, 1);
    ck_assert(left.redundancy == 0 && isnan(left.standard));
    ck_assert(isinf(left.noticeable));
    near(left.resid, 0, 1e-12, "nothing else checks it");
    jaw_adjust_free(a);
}
END_TEST

START_TEST(neither_is_there)
{
    jaw_adjust *a = jaw_adjust_alloc();
    jaw_adjust_add_block(a, 1, NULL);
    jaw_equation e = {.block = 0, .local = {1}, .sigma = 0.5};
    jaw_adjust_add(a, &e, NULL);
    ck_assert(isnan(jaw_adjust_place(a, (size_t[]){0, 1}).standard));
    jaw_adjust_solve(a, NULL, NULL);
    ck_assert(isnan(jaw_adjust_place(a, (size_t[]){0, 1}).standard));
    ck_assert(isnan(jaw_adjust_place(a, (size_t[]){0, 0}).standard));
    ck_assert(isnan(jaw_adjust_without(a, 0, 0).resid));
    ck_assert(isnan(jaw_adjust_without(a, 0, 1).resid));
    jaw_adjust_add(a, &(jaw_equation){.block = JAW_NO_BLOCK, .sigma = 1}, NULL);
    jaw_adjust_solve(a, NULL, NULL);
    ck_assert(isnan(jaw_adjust_without(a, 0, 1).resid)); /* nothing checks it */
    ck_assert_int_eq(jaw_adjust_place(a, (size_t[]){0, 1}).directions, 1);
    jaw_adjust_free(a);
}
END_TEST

/* The unknown is touched once by hand and stated once; only the touch grows. */
START_TEST(reach_of_what_is_known)
{
    jaw_adjust *a = jaw_adjust_alloc();
    size_t whose;
    jaw_adjust_add_block(a, 1, NULL);
    jaw_equation e = {.block = 0, .local = {1}, .sigma = 0.5};
    jaw_adjust_add(a, &e, NULL);
    e.known_spread = true;
    e.sigma = 0.6;
    jaw_adjust_add(a, &e, NULL);
    ck_assert_int_eq(jaw_adjust_solve(a, NULL, NULL), JAW_OK);
    jaw_linear *f = jaw_linear_alloc(a);
    jaw_linear_local(f, 0, 0, 1);
    double reach[2];
    for (size_t i = 0; i < 2; i++)
        reach[i] = fabs(jaw_adjust_influence(a, i, f)) *
                   jaw_adjust_reliability(a, i).noticeable;
    near(jaw_adjust_reach_scaled(a, f, 3, &whose),
         fmax(3 * reach[0], reach[1]), 1e-12, "touch grows");
    ck_assert_uint_eq(whose, 0);
    near(jaw_adjust_reach_scaled(a, f, 1e-3, &whose), reach[1], 1e-12,
         "what is known does not shrink");
    ck_assert_uint_eq(whose, 1);
    ck_assert(jaw_adjust_reach_scaled(a, f, 1, NULL) ==
              jaw_adjust_reach(a, f, NULL));
    ck_assert(isnan(jaw_adjust_reach_scaled(a, f, 0, NULL)));
    ck_assert(isnan(jaw_adjust_reach_scaled(a, f, NAN, NULL)));
    ck_assert(isnan(jaw_adjust_reach_scaled(a, f, INFINITY, NULL)));
    jaw_linear_free(f);
    jaw_adjust_free(a);
}
END_TEST

TCase *together_case(void)
{
    TCase *tc = tcase_create("together");
    tcase_add_test(tc, one_left_out);
    tcase_add_test(tc, both_left_out);
    tcase_add_test(tc, noticeable_in_every_direction);
    tcase_add_test(tc, one_direction);
    tcase_add_test(tc, neither_is_there);
    tcase_add_test(tc, reach_of_what_is_known);
    return tc;
}
