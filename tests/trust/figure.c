/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One value and what is known of its error. */
#include "trust_tests.h"

#include "tests/near.h"

#include <jawline/trust.h>

/* Student's t at 95 %: JCGM 100, Table G.2 (two decimals, from memory). */
static const struct {
    double dof, t;
} table[] = {{1, 12.71}, {2, 4.30}, {5, 2.57}, {10, 2.23}, {30, 2.04},
             {INFINITY, 1.96}};

START_TEST(figure_interval)
{
    jaw_figure f = jaw_figure_make(-7.25, 0.5, table[_i].dof);
    near(f.value, -7.25, 0, "value");
    near(f.u, 0.5, 0, "u");
    ck_assert(f.dof == table[_i].dof);
    near(f.half95 / 0.5, table[_i].t, 0.5e-2, "t");
}
END_TEST

START_TEST(figure_that_is_exact)
{
    static const double dofs[] = {3, INFINITY, NAN};
    for (int i = 0; i < COUNT(dofs); i++) {
        jaw_figure f = jaw_figure_make(1, 0, dofs[i]);
        near(f.u, 0, 0, "u");
        near(f.half95, 0, 0, "half95");
    }
}
END_TEST

/* Not known is never a number. */
static const struct {
    const char *name;
    double value, u, dof;
    int known; /* value, u, dof, half95: bits 1, 2, 4, 8 */
} odd[] = {
    {"u not known", 3, NAN, 5, 1},
    {"u negative", 3, -1, 5, 1},
    {"u infinite", 3, INFINITY, 5, 1},
    {"no dof", 3, 1, NAN, 3},
    {"dof 0", 3, 1, 0, 3},
    {"dof negative", 3, 1, -2, 3},
    {"no value", NAN, 1, 5, 0},
    {"value infinite", INFINITY, 1, 5, 0},
    {"nothing", NAN, NAN, NAN, 0},
    {"all", 3, 1, 5, 15},
};

START_TEST(figure_not_known)
{
    jaw_figure f = jaw_figure_make(odd[_i].value, odd[_i].u, odd[_i].dof);
    int known = (isnan(f.value) ? 0 : 1) | (isnan(f.u) ? 0 : 2) |
                (isnan(f.dof) ? 0 : 4) | (isnan(f.half95) ? 0 : 8);
    ck_assert_msg(known == odd[_i].known, "%s: %d", odd[_i].name, known);
}
END_TEST

TCase *figure_case(void)
{
    TCase *tc = tcase_create("figure");
    tcase_add_loop_test(tc, figure_interval, 0, COUNT(table));
    tcase_add_test(tc, figure_that_is_exact);
    tcase_add_loop_test(tc, figure_not_known, 0, COUNT(odd));
    return tc;
}
