/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The fits allocate nothing, few touches or many, good or bad. */
#include "fit_tests.h"

enum { MANY = 100000 };

static long all_fits(const jaw_vec2 p[], const jaw_vec3 s[], size_t n,
                     double resid[], jaw_vec2 off[])
{
    jaw_line l;
    jaw_pair pair;
    jaw_plane plane;
    jaw_circle c;
    jaw_rigid rigid;
    jaw_rigid3 rigid3;
    jaw_sweep sweep;
    alloc_count_start();
    (void)jaw_fit_line(p, n, &l, resid);
    (void)jaw_fit_line_along(p, n, 0.3, &l, resid);
    (void)jaw_fit_pair(p, n / 2, p + n / 2, n - n / 2, &pair, resid);
    (void)jaw_fit_pair_along(p, n / 2, p + n / 2, n - n / 2, 1, &pair, resid);
    (void)jaw_fit_plane(s, n, &plane, resid);
    (void)jaw_fit_circle(p, n, &c, resid);
    (void)jaw_fit_circle_known(p, n, 10, &c, resid);
    (void)jaw_fit_rigid(p, p, NULL, n, &rigid, off);
    (void)jaw_fit_rigid3(s, s, NULL, n, &rigid3, NULL);
    (void)jaw_fit_sweep(&p->x, &p->x, n, &sweep, resid);
    return alloc_count_stop();
}

START_TEST(nothing_allocated)
{
    static jaw_vec2 p[MANY], off[MANY];
    static jaw_vec3 s[MANY];
    static double resid[MANY];
    static const double rough[] = {1e-3, 3};
    random_start("memory");
    for (int k = 0; k < 2; k++) {
        for (int i = 0; i < MANY; i++) {
            double t = random_even(-3, 3), r = 10 + rough[k] * random_normal();
            p[i] = (jaw_vec2){r * cos(t), r * sin(t)};
            s[i] = (jaw_vec3){p[i].x, p[i].y, rough[k] * random_normal()};
        }
        ck_assert_int_eq(all_fits(p, s, 0, resid, off), 0);
        ck_assert_int_eq(all_fits(p, s, 3, resid, off), 0);
        ck_assert_int_eq(all_fits(p, s, 8, resid, off), 0);
        ck_assert_int_eq(all_fits(p, s, 8, NULL, NULL), 0);
        ck_assert_int_eq(all_fits(p, s, MANY, resid, off), 0);
        ck_assert_int_eq(all_fits(p, s, MANY, NULL, NULL), 0);
        p[1].x = NAN_D;
        ck_assert_int_eq(all_fits(p, s, 8, resid, off), 0);
    }
}
END_TEST

/* The count does count. */
START_TEST(count_counts)
{
    alloc_count_start();
    void *volatile some = malloc(8);
    ck_assert_int_eq(alloc_count_stop(), 1);
    free(some);
}
END_TEST

TCase *memory_case(void)
{
    TCase *tc = tcase_create("memory");
    tcase_add_test(tc, nothing_allocated);
    tcase_add_test(tc, count_counts);
    return tc;
}
