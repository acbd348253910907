/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How often the interval of two shares holds the truth: quadrature over what
 * the spread may come out as, for any ratio of the shares. */
#include "spreads.h"
#include "trust_tests.h"

#include "tests/near.h"

#include <jawline/trust.h>

/* What trust.h promises. */
static const struct {
    double dof, most;
} promised[] = {{1, 0.974},  {1.5, 0.961}, {2, 0.957},  {3, 0.953},
                {4, 0.952},  {6, 0.952},   {10, 0.952}, {30, 0.952}};

static double inside(double half)
{
    return erf(half / sqrt(2));
}

typedef double interval(double u, double dof, double known);

/* Of unit variance in all, the share `seen` of which is estimated. */
static double held(interval *half, double dof, double seen)
{
    static spreads s;
    double sum = 0;

    spreads_of(dof, SPREADS_MOST, &s);
    for (int i = 0; i < s.n; i++)
        sum += s.weight[i] *
               inside(half(sqrt(seen) * s.s[i], dof, sqrt(1 - seen)));
    return sum;
}

START_TEST(within_holds)
{
    double dof = promised[_i].dof, most = 0;

    for (int i = 0; i <= 60; i++) {
        double odds = pow(10, -4 + i * 0.15);
        double h = held(jaw_trust_within, dof, odds / (1 + odds));
        ck_assert_msg(h >= 0.9499, "dof %g, %g to 1: %.5f", dof, odds, h);
        most = fmax(most, h);
    }
    ck_assert_msg(most <= promised[_i].most, "dof %g: %.5f", dof, most);
}
END_TEST

static double students(double u, double dof, double known)
{
    double both[] = {u, known}, dofs[] = {dof, INFINITY};

    return jaw_trust_cover(0.95, jaw_trust_effective_dof(both, dofs, 2)) *
           hypot(u, known);
}

/* What trust.h says of Student's t, and this test can see a promise broken. */
static const struct {
    double dof, least;
} fallen[] = {{1, 0.87}, {2, 0.92}, {3, 0.935}};

START_TEST(within_is_needed)
{
    double least = 1;

    for (int i = 0; i <= 60; i++) {
        double odds = pow(10, -4 + i * 0.15);
        least = fmin(least, held(students, fallen[_i].dof, odds / (1 + odds)));
    }
    near(least, fallen[_i].least, 0.005, "what Student's t holds");
    ck_assert(held(jaw_trust_within, 1, 0.3) > 0.97);
}
END_TEST

START_TEST(within_ends)
{
    near(jaw_trust_within(0, 1, 2), 2 * jaw_trust_cover(0.95, INFINITY), 1e-14,
         "known alone");
    near(jaw_trust_within(0, NAN, 2), 2 * jaw_trust_cover(0.95, INFINITY),
         1e-14, "known alone, of no spread");
    near(jaw_trust_within(2, 3, 0), 2 * jaw_trust_cover(0.95, 3), 1e-14,
         "seen alone");
    near(jaw_trust_within(3, INFINITY, 4), 5 * jaw_trust_cover(0.95, INFINITY),
         1e-13, "both known");
    for (double dof = 1e3; dof < 1e12; dof *= 10)
        near(jaw_trust_within(3, dof, 4), 5 * jaw_trust_cover(0.95, dof), 2e-2,
             "many degrees of freedom");
    near(jaw_trust_within(1e-300, 1, 1), jaw_trust_cover(0.95, INFINITY), 1e-14,
         "hardly seen");
    near(jaw_trust_within(1, 1, 1e-300), jaw_trust_cover(0.95, 1), 1e-12,
         "hardly known");
    near(jaw_trust_within(0, 2, 0), 0, 0, "nothing");
}
END_TEST

START_TEST(within_not_known)
{
    ck_assert(isnan(jaw_trust_within(NAN, 3, 1)));
    ck_assert(isnan(jaw_trust_within(-1, 3, 1)));
    ck_assert(isnan(jaw_trust_within(1, NAN, 1)));
    ck_assert(isnan(jaw_trust_within(1, 0, 1)));
    ck_assert(isnan(jaw_trust_within(1, -2, 1)));
    ck_assert(isnan(jaw_trust_within(1, 3, NAN)));
    ck_assert(isnan(jaw_trust_within(1, 3, -1)));
    ck_assert(isnan(jaw_trust_within(0, 3, NAN)));
    ck_assert(isnan(jaw_trust_within(0, 3, -1)));
}
END_TEST

/* More scatter seen never makes it narrower. */
START_TEST(within_grows)
{
    for (int i = 0; i < COUNT(promised); i++)
        for (double known = 0; known < 3; known += 0.5) {
            double last = -1;
            for (double u = 0; u < 20; u += 0.01) {
                double w = jaw_trust_within(u, promised[i].dof, known);
                ck_assert(w >= last);
                last = w;
            }
        }
}
END_TEST

TCase *within_case(void)
{
    TCase *tc = tcase_create("within");
    tcase_add_loop_test(tc, within_holds, 0, COUNT(promised));
    tcase_add_loop_test(tc, within_is_needed, 0, COUNT(fallen));
    tcase_add_test(tc, within_ends);
    tcase_add_test(tc, within_not_known);
    tcase_add_test(tc, within_grows);
    return tc;
}
