/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The blocks against the whole matrix at once (GSL's SVD), on random problems;
 * influence by really slipping an equation, gain by really adding one. */
#include "trust_tests.h"

#include "tests/near.h"
#include "tests/trust/problem.h"

#include <jawline/trust.h>

#include <string.h>
#include <time.h>

/* A random value: all unknowns, or those of one block. */
static jaw_linear *value(random_source *r, const problem *p, jaw_adjust *a,
                         double c[])
{
    jaw_linear *f = jaw_linear_alloc(a);
    bool some = random_below(r, 2) == 0;
    memset(c, 0, UNKNOWNS_MOST * sizeof *c);
    for (size_t b = 0; b < p->n_blocks; b++) {
        if (some && random_below(r, 2) == 0)
            continue;
        for (size_t k = 0; k < p->size[b]; k++) {
            c[p->first[b] + k] = random_normal(r);
            ck_assert_int_eq(jaw_linear_local(f, b, k, c[p->first[b] + k]),
                             JAW_OK);
        }
    }
    for (size_t g = 0; g < p->n_shared; g++) {
        double x = random_normal(r);
        c[p->n_unknowns - p->n_shared + g] = x;
        /* in two steps: terms add up */
        ck_assert_int_eq(jaw_linear_shared(f, g, x / 2), JAW_OK);
        ck_assert_int_eq(jaw_linear_shared(f, g, x / 2), JAW_OK);
    }
    return f;
}

static double quadratic(const dense *d, const double a[], const double b[],
                        size_t m)
{
    double sum = 0;
    for (size_t i = 0; i < m; i++)
        for (size_t k = 0; k < m; k++)
            sum += a[i] * gsl_matrix_get(d->cofactor, i, k) * b[k];
    return sum;
}

static double dot(const double a[], const double b[], size_t m)
{
    double sum = 0;
    for (size_t i = 0; i < m; i++)
        sum += a[i] * b[i];
    return sum;
}

/* How much larger than 1 the numbers at hand get by the problem's condition:
 * sizes of weighted columns times sizes of the answer. */
static double worst_of(const dense *d, size_t m)
{
    double most = 1;
    for (size_t k = 0; k < m; k++) {
        double sum = 0;
        for (size_t i = 0; i < d->a->size1; i++)
            sum += gsl_matrix_get(d->a, i, k) * gsl_matrix_get(d->a, i, k);
        most = fmax(most, sum * gsl_matrix_get(d->cofactor, k, k));
    }
    return sqrt(most);
}

static void same_redundancy(const problem *p, const jaw_adjust *a,
                            const dense *d, double tol)
{
    double row[UNKNOWNS_MOST], sum = 0;
    for (size_t i = 0; i < p->n; i++) {
        const jaw_equation *e = &p->e[i];
        problem_row(p, e, row);
        double lever = quadratic(d, row, row, p->n_unknowns);
        jaw_reliability r = jaw_adjust_reliability(a, i);
        double want = 1 - lever / e->sigma / e->sigma;
        near(r.redundancy, want, tol, "redundancy");
        near(r.resid / e->sigma,
             (e->off - dot(row, d->x, p->n_unknowns)) / e->sigma, 1e3 * tol,
             "residual");
        if (r.redundancy > 1e-3) {
            double root = sqrt(r.redundancy);
            near(r.standard * root, r.resid / e->sigma, 1e-12 * fabs(r.standard),
                 "standard");
            near(r.noticeable, JAW_TRUST_SHIFT * e->sigma / root,
                 1e-12 * r.noticeable, "noticeable");
        }
        sum += r.redundancy;
    }
    near(sum, jaw_adjust_total(a).dof, 1e-10, "sum of redundancies");
}

/* Slips equation i by 1 and solves again. */
static double moved(const problem *p, size_t i, const double c[])
{
    problem q = *p;
    q.e[i].off += 1;
    dense before = dense_solve(p), after = dense_solve(&q);
    double by = dot(c, after.x, p->n_unknowns) - dot(c, before.x, p->n_unknowns);
    dense_free(&before);
    dense_free(&after);
    return by;
}

static double with_one_more(const problem *p, const jaw_equation *e,
                            const double c[])
{
    problem q = *p;
    q.e[q.n++] = *e;
    dense d = dense_solve(&q);
    double variance = quadratic(&d, c, c, p->n_unknowns);
    dense_free(&d);
    return variance;
}

START_TEST(same_as_dense)
{
    random_source r = random_start("same_as_dense", 31 + (uint64_t)_i);
    for (int round = 0; round < 60; round++) {
        problem p = problem_make(&r);
        jaw_adjust *a = problem_adjust(&p);
        ck_assert_int_eq(jaw_adjust_solve(a, NULL, NULL), JAW_OK);
        dense d = dense_solve(&p);
        double c[UNKNOWNS_MOST], g[UNKNOWNS_MOST], loss = worst_of(&d,
                                                                   p.n_unknowns);
        jaw_linear *f = value(&r, &p, a, c), *h = value(&r, &p, a, g);
        double var = quadratic(&d, c, c, p.n_unknowns);
        double varg = quadratic(&d, g, g, p.n_unknowns);
        double tol = 1e-13 * loss * loss;
        near(jaw_adjust_value(a, f), dot(c, d.x, p.n_unknowns),
             tol * (sqrt(var) * sqrt(d.ssr + 1e8) + 1), "value");
        near(jaw_adjust_variance(a, f), var, tol * var, "variance");
        near(jaw_adjust_covariance(a, f, h),
             quadratic(&d, c, g, p.n_unknowns), tol * sqrt(var * varg),
             "covariance");
        near(jaw_adjust_total(a).ssr, d.ssr, 1e-7 * (d.ssr + 1), "ssr");
        same_redundancy(&p, a, &d, tol);
        size_t i = random_below(&r, p.n);
        near(jaw_adjust_influence(a, i, f), moved(&p, i, c),
             1e-6 * sqrt(var) / p.e[i].sigma, "influence");
        jaw_equation more = p.e[random_below(&r, p.n)];
        more.sigma *= pow(10, random_between(&r, -2, 2));
        double gain = jaw_adjust_gain(a, &more, f);
        ck_assert(gain <= jaw_adjust_variance(a, f) * (1 + 1e-12));
        near(gain, with_one_more(&p, &more, c), 1e-8 * var, "gain");
        jaw_linear_free(f);
        jaw_linear_free(h);
        dense_free(&d);
        jaw_adjust_free(a);
    }
}
END_TEST

/* The slip that can do most, by trying each. */
START_TEST(reach_is_the_largest)
{
    random_source r = random_start("reach_is_the_largest", 41);
    for (int round = 0; round < 200; round++) {
        problem p = problem_make(&r);
        jaw_adjust *a = problem_adjust(&p);
        ck_assert_int_eq(jaw_adjust_solve(a, NULL, NULL), JAW_OK);
        double c[UNKNOWNS_MOST], most = 0;
        jaw_linear *f = value(&r, &p, a, c);
        double size = sqrt(jaw_adjust_variance(a, f));
        for (size_t i = 0; i < p.n; i++) {
            double by = fabs(jaw_adjust_influence(a, i, f));
            jaw_reliability rate = jaw_adjust_reliability(a, i);
            if (rate.redundancy > 0 || by * p.e[i].sigma > 0.01 * size)
                most = fmax(most, by * rate.noticeable);
        }
        size_t whose;
        double reach = jaw_adjust_reach(a, f, &whose);
        ck_assert_msg(reach == most || fabs(reach - most) < 1e-12 * most,
                      "reach %g, want %g", reach, most);
        if (isinf(most))
            ck_assert(isinf(jaw_adjust_reliability(a, whose).noticeable));
        else if (most > 0)
            near(fabs(jaw_adjust_influence(a, whose, f)) *
                     jaw_adjust_reliability(a, whose).noticeable,
                 most, 1e-12 * most, "whose");
        jaw_linear_free(f);
        jaw_adjust_free(a);
    }
}
END_TEST

/* Twice the same answer; a value made before solving again is turned anew. */
START_TEST(solved_again)
{
    random_source r = random_start("solved_again", 42);
    problem p = problem_make(&r);
    jaw_adjust *a = problem_adjust(&p);
    double c[UNKNOWNS_MOST];
    jaw_linear *f = value(&r, &p, a, c);
    ck_assert(isnan(jaw_adjust_value(a, f)));
    ck_assert_int_eq(jaw_adjust_solve(a, NULL, NULL), JAW_OK);
    double v = jaw_adjust_variance(a, f), x = jaw_adjust_value(a, f);
    ck_assert_int_eq(jaw_adjust_solve(a, NULL, NULL), JAW_OK);
    ck_assert(v == jaw_adjust_variance(a, f) && x == jaw_adjust_value(a, f));
    jaw_equation more = p.e[0];
    double gain = jaw_adjust_gain(a, &more, f);
    ck_assert_int_eq(jaw_adjust_add(a, &more, NULL), JAW_OK);
    ck_assert(isnan(jaw_adjust_variance(a, f))); /* not solved since */
    ck_assert_int_eq(jaw_adjust_solve(a, NULL, NULL), JAW_OK);
    near(jaw_adjust_variance(a, f), gain, 1e-9 * v, "gain, then added");
    jaw_linear_zero(f);
    ck_assert(jaw_adjust_variance(a, f) == 0 && jaw_adjust_value(a, f) == 0);
    jaw_linear_free(f);
    jaw_adjust_clear(a);
    ck_assert_int_eq(jaw_adjust_solve(a, NULL, NULL), JAW_OK); /* empty */
    jaw_adjust_free(a);
}
END_TEST

/* ------------------------------------------------------------ many touches */

/* Lines of ten touches that share a direction: seconds for everything. */
static double many(size_t n)
{
    random_source r = random_start("many", n);
    jaw_adjust *a = jaw_adjust_alloc();
    size_t turn;
    jaw_adjust_add_shared(a, &turn);
    for (size_t i = 0; i < n; i++) {
        size_t block = i / 10;
        if (i % 10 == 0)
            jaw_adjust_add_block(a, 1, NULL);
        jaw_equation e = {.block = block, .local = {1}, .n_shared = 1,
                          .shared = {random_between(&r, -50, 50)},
                          .off = 0.001 * random_normal(&r), .sigma = 0.001};
        ck_assert_int_eq(jaw_adjust_add(a, &e, NULL), JAW_OK);
    }
    clock_t start = clock();
    ck_assert_int_eq(jaw_adjust_solve(a, NULL, NULL), JAW_OK);
    jaw_linear *f = jaw_linear_alloc(a);
    jaw_linear_shared(f, turn, 1);
    double sum = 0;
    for (size_t i = 0; i < n; i++)
        sum += jaw_adjust_reliability(a, i).redundancy +
               0 * jaw_adjust_influence(a, i, f);
    size_t worst = jaw_adjust_worst(a, NULL), whose;
    ck_assert_uint_lt(worst, n);
    ck_assert(jaw_adjust_reach(a, f, &whose) > 0);
    double time = (double)(clock() - start) / CLOCKS_PER_SEC;
    near(sum, jaw_adjust_total(a).dof, 1e-9 * (double)n, "sum of redundancies");
    ck_assert(jaw_adjust_total(a).chi2_p > 1e-6);
    jaw_linear_free(f);
    jaw_adjust_free(a);
    return time;
}

/* Ten times the touches cost about ten times as much; what is not linear would
 * cost a hundred times as much. */
START_TEST(linear_in_touches)
{
    double few = many(10000), lots = many(100000);
    printf("1e4 touches %.4f s, 1e5 touches %.4f s\n", few, lots);
    ck_assert_msg(lots < 40 * few + 0.05, "%g s, then %g s", few, lots);
}
END_TEST

TCase *dense_case(void)
{
    TCase *tc = tcase_create("dense");
    tcase_add_loop_test(tc, same_as_dense, 0, 5);
    tcase_add_test(tc, reach_is_the_largest);
    tcase_add_test(tc, solved_again);
    tcase_add_test(tc, linear_in_touches);
    return tc;
}
