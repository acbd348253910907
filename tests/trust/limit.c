/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How often errors of several parts lie beyond the limit, and within the
 * interval: quadrature over what two spreads may come out as, for any ratio of
 * the two and of what is known beside them. */
#include "spreads.h"
#include "trust_tests.h"

#include "tests/near.h"

#include <jawline/trust.h>

enum { NODES = 81 };

typedef double half_width(const double u[], const double dof[], size_t n,
                          double known);

/* Of unit variance in all, percent that lies beyond: of two parts and what is
 * known, whose odds to the first are given. */
static double beyond(half_width *half, const double dof[2], const spreads *a,
                     const spreads *b, const double odds[2])
{
    double all = sqrt(1 + odds[0] * odds[0] + odds[1] * odds[1]), sum = 0;

    for (int i = 0; i < a->n; i++)
        for (int k = 0; k < b->n; k++) {
            double u[2] = {a->s[i] / all, odds[0] * b->s[k] / all};
            double h = half(u, dof, 2, odds[1] / all);
            sum += a->weight[i] * b->weight[k] * erfc(h / sqrt(2));
        }
    return 100 * sum;
}

/* The same of three parts, and nothing known; what weighs less than 1e-9 of all
 * is left out. */
static double beyond_three(half_width *half, const double dof[3],
                           const spreads part[3], const double odds[2])
{
    double all = sqrt(1 + odds[0] * odds[0] + odds[1] * odds[1]), sum = 0;

    for (int i = 0; i < part[0].n; i++)
        for (int k = 0; k < part[1].n; k++)
            for (int m = 0; m < part[2].n; m++) {
                double weight = part[0].weight[i] * part[1].weight[k] *
                                part[2].weight[m];
                double u[3] = {part[0].s[i] / all,
                               odds[0] * part[1].s[k] / all,
                               odds[1] * part[2].s[m] / all};
                if (weight > 1e-9)
                    sum += weight * erfc(half(u, dof, 3, 0) / sqrt(2));
            }
    return 100 * sum;
}

static double one(half_width *half, double dof, double odds)
{
    static spreads a;
    double sum = 0, all = sqrt(1 + odds * odds);

    spreads_of(dof, SPREADS_MOST, &a);
    for (int i = 0; i < a.n; i++) {
        double u = a.s[i] / all;
        sum += a.weight[i] * erfc(half(&u, &dof, 1, odds / all) / sqrt(2));
    }
    return 100 * sum;
}

/* What trust.h promises of one part. */
static const struct {
    double dof, least, most;
} promised[] = {{1, 0.30, 1.45},   {1.5, 0.30, 1.45}, {2, 0.80, 1.20},
                {2.5, 0.80, 1.20}, {3, 0.80, 1.20},   {4, 0.95, 1.05},
                {6, 0.95, 1.05},   {10, 0.95, 1.05},  {80, 0.95, 1.05}};

START_TEST(limit_of_one)
{
    for (int i = 0; i <= 40; i++) {
        double odds = pow(10, -3 + i * 0.15);
        double p = one(jaw_trust_limit, promised[_i].dof, odds);
        ck_assert_msg(p >= promised[_i].least && p <= promised[_i].most,
                      "dof %g, %g to 1: %.4f", promised[_i].dof, odds, p);
    }
}
END_TEST

/* Two parts: percent beyond the limit, and outside the interval, at least. */
static const struct {
    double dof[2], limit_least, limit_most, among_least;
} two[] = {
    {{1, 1}, 0.02, 1.45, 0.6},  {{1, 10}, 0.20, 1.45, 2.0},
    {{2, 2}, 0.05, 1.20, 1.6},  {{2, 20}, 0.55, 1.20, 4.0},
    {{3, 10}, 0.55, 1.10, 4.0}, {{5, 5}, 0.45, 1.05, 4.0},
    {{5, 40}, 0.85, 1.05, 4.6}, {{40, 40}, 0.95, 1.05, 4.8},
};

START_TEST(limit_of_two)
{
    static spreads a, b;

    spreads_of(two[_i].dof[0], NODES, &a);
    spreads_of(two[_i].dof[1], NODES, &b);
    for (int i = 0; i <= 8; i++)
        for (int k = 0; k < 4; k++) {
            double odds[2] = {pow(10, -2 + 0.5 * i),
                              k == 0 ? 0 : pow(10, k - 2)};
            double p = beyond(jaw_trust_limit, two[_i].dof, &a, &b, odds);
            ck_assert_msg(p >= two[_i].limit_least && p <= two[_i].limit_most,
                          "limit, %d: 1 to %g to %g: %.4f", _i, odds[0],
                          odds[1], p);
            p = beyond(jaw_trust_among, two[_i].dof, &a, &b, odds);
            ck_assert_msg(p >= two[_i].among_least && p <= 5.02,
                          "among, %d: 1 to %g to %g: %.4f", _i, odds[0],
                          odds[1], p);
        }
}
END_TEST

/* Three parts: the same. */
static const struct {
    double dof[3], limit_least, limit_most, among_least;
} three[] = {
    {{1, 1, 1}, 0.0005, 1.45, 0.1}, {{1, 10, 10}, 0.20, 1.45, 2.0},
    {{2, 2, 2}, 0.005, 1.20, 1.0},  {{5, 5, 5}, 0.45, 1.05, 4.0},
};

START_TEST(limit_of_three)
{
    static spreads part[3];

    for (int i = 0; i < 3; i++)
        spreads_of(three[_i].dof[i], 61, &part[i]);
    for (int i = 0; i <= 2; i++)
        for (int k = 0; k <= 2; k++) {
            double odds[2] = {pow(10, i - 1), pow(10, k - 1)};
            double p = beyond_three(jaw_trust_limit, three[_i].dof, part, odds);
            ck_assert_msg(p >= three[_i].limit_least &&
                              p <= three[_i].limit_most,
                          "limit, %d: 1 to %g to %g: %.4f", _i, odds[0],
                          odds[1], p);
            p = beyond_three(jaw_trust_among, three[_i].dof, part, odds);
            ck_assert_msg(p >= three[_i].among_least && p <= 5.02,
                          "among, %d: 1 to %g to %g: %.4f", _i, odds[0],
                          odds[1], p);
        }
}
END_TEST

START_TEST(limit_ends)
{
    const double z = jaw_trust_cover(0.99, INFINITY), inf = INFINITY;
    double u[] = {3, 0}, dof[] = {2, NAN};

    near(jaw_trust_limit(u, dof, 2, 0), 3 * jaw_trust_cover(0.99, 2), 1e-12,
         "seen alone");
    near(jaw_trust_among(u, dof, 2, 4), jaw_trust_within(3, 2, 4), 0, "one");
    near(jaw_trust_limit(u, &inf, 1, 4), 5 * z, 1e-12, "both known");
    near(jaw_trust_limit(NULL, NULL, 0, 4), 4 * z, 1e-12, "known alone");
    near(jaw_trust_limit(NULL, NULL, 0, 0), 0, 0, "nothing");
    u[1] = 1;
    ck_assert(isnan(jaw_trust_limit(u, dof, 2, 0)));
    u[1] = -1;
    dof[1] = 3;
    ck_assert(isnan(jaw_trust_limit(u, dof, 2, 0)));
    ck_assert(isnan(jaw_trust_among(u, dof, 1, NAN)));
    ck_assert(isnan(jaw_trust_among(u, dof, 1, -1)));
}
END_TEST

TCase *limit_case(void)
{
    TCase *tc = tcase_create("limit");
    tcase_set_timeout(tc, 60);
    tcase_add_loop_test(tc, limit_of_one, 0, COUNT(promised));
    tcase_add_loop_test(tc, limit_of_two, 0, COUNT(two));
    tcase_add_loop_test(tc, limit_of_three, 0, COUNT(three));
    tcase_add_test(tc, limit_ends);
    return tc;
}
