/* SPDX-License-Identifier: GPL-3.0-or-later */
/* By what marks moved: a movement that is known is found, what stayed is said
 * to have stayed as often as promised, and a work zero that is carried stands
 * where it really is in 95 of 100. */
#include "place_tests.h"

#include <stdlib.h>

static jaw_mark mark_at(const movement *m, jaw_vec3 p)
{
    return (jaw_mark){.before = p,
                      .after = move(m, p),
                      .u_xy = {0.003, 0.004},
                      .u_z = {0.002, 0.002}};
}

static jaw_figure exact(double value)
{
    return jaw_figure_make(value, 0, (double)INFINITY);
}

static const movement some[] = {{0, {0, 0, 0}},
                                {0, {0.034, -0.052, 0.011}},
                                {0.002, {1.5, -0.2, -0.3}},
                                {-1.3, {400, -250, 20}},
                                {3.1, {-10, 20, 30}}};

/* A zero goes where the marks went, whatever the weights, to rounding. */
START_TEST(moved_is_found)
{
    const movement *m = &some[_i];
    jaw_mark mark[3] = {mark_at(m, (jaw_vec3){-200, 35, -310}),
                        mark_at(m, (jaw_vec3){240, -60, -305}),
                        mark_at(m, (jaw_vec3){15, 150, -300})};
    jaw_moved moved;
    jaw_vec3 resid[3], zero = {123.4, -56.7, -250};
    jaw_figure after[4], before[4] = {exact(zero.x), exact(zero.y),
                                      exact(zero.z), exact(0.01)};

    mark[1].u_xy[1] = 0.009;
    for (size_t n = 2; n <= 3; n++) {
        ck_status(jaw_place_moved(mark, n, &moved, resid), JAW_OK);
        near(jaw_angle_full(moved.turn.value - m->turn), 0, 1e-14, "turn");
        jaw_vec3 a = move(m, (jaw_vec3){moved.about.x, moved.about.y, 0});
        near(moved.shift[0].value, a.x - moved.about.x, 1e-12, "x");
        near(moved.shift[1].value, a.y - moved.about.y, 1e-12, "y");
        near(moved.shift[2].value, m->shift.z, 1e-12, "z");
        near(moved.rms, 0, 1e-12, "rms");
        ck_assert_int_eq(moved.dof, 2 * (int)n - 3);
        ck_assert_int_eq(moved.flags, 0);
        ck_assert_int_eq(moved.plane, _i == 0 ? JAW_STAYED : JAW_MOVED);
        ck_assert_int_eq(moved.height, _i == 0 ? JAW_STAYED : JAW_MOVED);
        for (size_t i = 0; i < n; i++)
            near(hypot(resid[i].x, resid[i].y) + fabs(resid[i].z), 0, 1e-12,
                 "resid");
        jaw_place_carry(&moved, before, after);
        jaw_vec3 there = move(m, zero);
        near(after[0].value, there.x, 1e-12, "zero x");
        near(after[1].value, there.y, 1e-12, "zero y");
        near(after[2].value, there.z, 1e-12, "zero z");
        near(after[3].value, jaw_angle_full(m->turn + 0.01), 1e-14, "skew");
    }
}
END_TEST

/* One mark says nothing of a turn, and that is said. */
START_TEST(moved_one_mark)
{
    const movement m = {0, {0.5, -0.25, 0.125}};
    jaw_mark mark = mark_at(&m, (jaw_vec3){100, 50, -200});
    jaw_moved moved;
    jaw_figure after[4], before[4] = {
        jaw_figure_make(10, 0.001, 3), jaw_figure_make(20, 0.002, INFINITY),
        jaw_figure_make(30, 0.003, INFINITY),
        jaw_figure_make(0.1, 0.0004, INFINITY)};

    ck_status(jaw_place_moved(&mark, 1, &moved, NULL), JAW_OK);
    ck_assert_int_eq(moved.flags, JAW_NO_CHECK | JAW_DIRECTION_ASSUMED);
    ck_assert_int_eq(moved.dof, 0);
    ck_assert(isnan(moved.rms));
    near(moved.shift[0].u, 0.005, 1e-17, "u: 3, 4, 5");
    near(moved.turn.value, 0, 0, "turn");
    near(moved.turn.u, 0, 0, "its u");
    jaw_place_carry(&moved, before, after);
    near(after[0].value, 10.5, 1e-13, "x");
    near(after[1].value, 19.75, 1e-13, "y");
    near(after[2].value, 30.125, 1e-13, "z");
    near(after[3].value, 0.1, 1e-17, "skew");
    near(after[0].u, hypot(0.001, 0.005), 1e-16, "u of x");
    near(after[0].half95, jaw_trust_within(0.001, 3, 0.005), 1e-16, "half95");
    near(after[2].u, sqrt(0.003 * 0.003 + 2 * 0.002 * 0.002), 1e-16, "u of z");
    near(after[3].u, 0.0004, 1e-17, "u of the skew");

    mark.before.z = mark.after.z = NOT; /* an edge, a bore without a face */
    ck_status(jaw_place_moved(&mark, 1, &moved, NULL), JAW_OK);
    ck_assert(isnan(moved.shift[2].value));
    ck_assert_int_eq(moved.height, JAW_UNCLEAR);
    jaw_place_carry(&moved, before, after);
    ck_assert(isnan(after[2].value) && isnan(after[2].half95));
    near(after[0].value, 10.5, 1e-13, "x still");
}
END_TEST

/* A zero of one axis, and bores side by side, which show no turn. */
START_TEST(moved_in_part)
{
    const movement m = {0, {0.5, -0.25, 0.125}};
    jaw_mark mark[2] = {mark_at(&m, (jaw_vec3){100, 50, NOT}),
                        mark_at(&m, (jaw_vec3){100.05, 50, NOT})};
    jaw_figure after[4], before[4] = {
        jaw_figure_make(10, 0.001, INFINITY), jaw_figure_make(NOT, NOT, NOT),
        jaw_figure_make(NOT, NOT, NOT), jaw_figure_make(NOT, NOT, NOT)};
    jaw_moved moved;

    ck_status(jaw_place_moved(mark, 1, &moved, NULL), JAW_OK);
    jaw_place_carry(&moved, before, after);
    near(after[0].value, 10.5, 1e-13, "x");
    near(after[0].u, hypot(0.001, 0.005), 1e-16, "its u");
    ck_assert(isnan(after[1].value) && isnan(after[1].half95));
    mark[1].after.y += 0.01;
    ck_status(jaw_place_moved(mark, 2, &moved, NULL), JAW_OK);
    ck_assert_int_eq(moved.flags, JAW_DIRECTION_ASSUMED);
    ck_assert_int_eq(moved.dof, 2);
    near(moved.turn.value, 0, 0, "turn");
    near(moved.turn.u, 0, 0, "its u");
    jaw_place_carry(&moved, before, after);
    near(after[0].value, 10.5, 1e-13, "x");
}
END_TEST

/* Two marks 300 apart, one of which was knocked by 0.05. */
START_TEST(moved_against_one_another)
{
    const movement m = {0.0001, {0.2, 0.1, 0}};
    jaw_mark mark[2] = {mark_at(&m, (jaw_vec3){0, 0, -300}),
                        mark_at(&m, (jaw_vec3){300, 0, -300})};
    jaw_moved moved;
    jaw_vec3 resid[2];

    mark[1].after.x += 0.05;
    ck_status(jaw_place_moved(mark, 2, &moved, resid), JAW_OK);
    ck_assert_int_eq(moved.flags, JAW_RESIDUAL);
    near(moved.rms, 0.025, 1e-6, "rms");
    near(resid[1].x, 0.025, 1e-6, "resid");
    mark[1].after.x -= 0.05;
    mark[1].after.z += 0.02;
    ck_status(jaw_place_moved(mark, 2, &moved, resid), JAW_OK);
    ck_assert_int_eq(moved.flags, JAW_RESIDUAL);
    near(resid[1].z, 0.01, 1e-12, "in height");
}
END_TEST

static jaw_mark spoilt(int how)
{
    jaw_mark k = mark_at(&some[1], (jaw_vec3){1, 2, 3});
    switch (how) {
    case 0: k.before.x = NOT; break;
    case 1: k.after.y = INFINITY; break;
    case 2: k.after.z = INFINITY; break;
    case 3: k.after.z = NOT; break;
    case 4: k.u_xy[0] = 0; break;
    case 5: k.u_xy[1] = NOT; break;
    case 6: k.u_z[1] = -1; break;
    default: k.u_z[0] = INFINITY; break;
    }
    return k;
}

static void ck_nothing(const jaw_moved *moved, const jaw_vec3 *resid)
{
    ck_assert(isnan(moved->about.x) && isnan(moved->shift[0].value) &&
              isnan(moved->shift[2].u) && isnan(moved->turn.value) &&
              isnan(moved->rms) && moved->plane == JAW_UNCLEAR);
    ck_assert(isnan(resid->x) && isnan(resid->y) && isnan(resid->z));
}

START_TEST(moved_refused)
{
    static const jaw_status want[] = {JAW_ENOTFINITE, JAW_ENOTFINITE,
                                      JAW_ENOTFINITE, JAW_EDOMAIN, JAW_EDOMAIN,
                                      JAW_EDOMAIN, JAW_EDOMAIN, JAW_EDOMAIN};
    jaw_mark mark[JAW_MARKS_MAX + 1];
    jaw_vec3 resid[JAW_MARKS_MAX + 1] = {{0, 0, 0}};
    jaw_moved moved;

    for (int how = 0; how < COUNT(want); how++) {
        mark[0] = spoilt(how);
        ck_status(jaw_place_moved(mark, 1, &moved, resid), want[how]);
        ck_nothing(&moved, resid);
    }
    ck_status(jaw_place_moved(mark, 0, &moved, NULL), JAW_EFEW);
    for (int i = 0; i <= JAW_MARKS_MAX; i++)
        mark[i] = mark_at(&some[2], (jaw_vec3){i, i * i, 1});
    ck_status(jaw_place_moved(mark, JAW_MARKS_MAX + 1, &moved, NULL),
              JAW_EDOMAIN);
    ck_status(jaw_place_moved(mark, JAW_MARKS_MAX, &moved, resid), JAW_OK);
    mark[1] = mark[0];
    ck_status(jaw_place_moved(mark, 2, &moved, resid), JAW_ERANK);
    ck_nothing(&moved, resid);
}
END_TEST

/* ----------------------------------------------------------- as often as said */

static double noisy(random_source *r, double at, double u)
{
    return at + u * random_normal(r);
}

static jaw_mark find_twice(random_source *r, const movement *m, jaw_vec3 p)
{
    jaw_vec3 q = move(m, p);
    jaw_mark k = {.u_xy = {0.004, 0.003}, .u_z = {0.002, 0.005}};

    k.before = (jaw_vec3){noisy(r, p.x, 0.004), noisy(r, p.y, 0.004),
                          noisy(r, p.z, 0.002)};
    k.after = (jaw_vec3){noisy(r, q.x, 0.003), noisy(r, q.y, 0.003),
                         noisy(r, q.z, 0.005)};
    return k;
}

/* One mark, two, four. */
START_TEST(moved_as_often)
{
    static const jaw_vec3 at[] = {
        {-150, 40, -300}, {180, -70, -280}, {10, 160, -310}, {60, 20, -305}};
    const char *asked = getenv("JAW_TEST_SETS");
    int sets = asked ? atoi(asked) : 20000, inside[4] = {0};
    int noise = 0, false_alarm = 0, high_noise = 0, apart = 0;
    size_t n = (size_t)1 << _i;
    random_source r = random_start("moved_as_often", (uint64_t)_i + 4200);

    for (int set = 0; set < sets; set++) {
        movement m = {n > 1 ? random_between(&r, -0.01, 0.01) : 0,
                      {random_between(&r, -1, 1), random_between(&r, -1, 1),
                       2}};
        jaw_mark mark[4], same[4];
        jaw_moved moved;
        jaw_vec3 zero = {random_between(&r, -99, 99), 80, -250};
        jaw_figure after[4], before[4];
        for (size_t i = 0; i < n; i++) {
            mark[i] = find_twice(&r, &m, at[i]);
            same[i] = find_twice(&r, &some[0], at[i]);
        }
        const double is[4] = {zero.x, zero.y, zero.z, 0.02};
        const double u[4] = {0.002, 0.003, 0.004, 0.00002};
        for (int k = 0; k < 4; k++)
            before[k] = jaw_figure_make(noisy(&r, is[k], u[k]), u[k], INFINITY);
        ck_status(jaw_place_moved(mark, n, &moved, NULL), JAW_OK);
        jaw_place_carry(&moved, before, after);
        jaw_vec3 there = move(&m, zero);
        const double want[4] = {there.x, there.y, there.z, 0.02 + m.turn};
        for (int k = 0; k < 4; k++)
            inside[k] += fabs(after[k].value - want[k]) <= after[k].half95;
        apart += (moved.flags & JAW_RESIDUAL) != 0;
        ck_status(jaw_place_moved(same, n, &moved, NULL), JAW_OK);
        noise += moved.plane == JAW_STAYED;
        false_alarm += moved.plane == JAW_MOVED;
        high_noise += moved.height == JAW_STAYED;
    }
    for (int k = 0; k < 4; k++)
        share("carried, within its interval", inside[k], sets, 0.95);
    share("stayed, and is said to", noise, sets, 1 - JAW_STAYED_LEVEL);
    share("the same in height", high_noise, sets, 1 - JAW_STAYED_LEVEL);
    share("stayed, and is said to have moved", false_alarm, sets,
          JAW_TRUST_ALPHA);
    double alarms = n == 1 ? 0 : 1 - (1 - JAW_TRUST_ALPHA) *
                                         (1 - JAW_TRUST_ALPHA);
    if (n > 1)
        share("marks said to have moved apart", apart, sets, alarms);
    ck_assert(n > 1 || apart == 0);
}
END_TEST

TCase *moved_case(void)
{
    TCase *tc = tcase_create("moved");
    tcase_set_timeout(tc, 60);
    tcase_add_loop_test(tc, moved_is_found, 0, COUNT(some));
    tcase_add_test(tc, moved_one_mark);
    tcase_add_test(tc, moved_in_part);
    tcase_add_test(tc, moved_against_one_another);
    tcase_add_test(tc, moved_refused);
    tcase_add_loop_test(tc, moved_as_often, 0, 3);
    return tc;
}
