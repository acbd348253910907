/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Over many plates the 95 % intervals hold the truth in 95 of 100: plates whose
 * holes are not quite where the drawing has them, touched by an unsteady hand,
 * their turn free or measured apart. */
#include "place_tests.h"

#include <stdlib.h>

static int sets(int usual)
{
    const char *asked = getenv("JAW_TEST_SETS");
    return asked ? atoi(asked) : usual;
}

/* Four standard deviations of the count. */
static void holds(int inside, int all, const char *name)
{
    double got = (double)inside / all;
    printf("%s: %.4f of %d\n", name, got, all);
    ck_assert_msg(fabs(got - 0.95) <= 4 * sqrt(0.95 * 0.05 / all), "%s: %.4f",
                  name, got);
}

enum { STATIONS = 7 };

typedef struct truth {
    double turn;
    jaw_vec3 at[STATIONS]; /* where the holes really are */
} truth;

/* Four or five of seven are touched; u and known differ from hole to hole. */
static void make(random_source *r, double spread, truth *t,
                 jaw_station s[STATIONS])
{
    t->turn = random_between(r, -0.5, 0.5);
    double c = cos(t->turn), si = sin(t->turn);
    for (int i = 0; i < STATIONS; i++) {
        double x = 90.0 * (i % 3), y = 70.0 * (i / 3), z = 3.0 * i;
        double known = spread > 0 ? 0 : 0.001 * i;
        s[i] = (jaw_station){.nominal = {x, y, z},
                             .u_xy = spread > 0 ? spread : 0.002 + 0.001 * i,
                             .u_z = spread > 0 ? spread : 0.005 - 0.0005 * i,
                             .known = known};
        t->at[i] = (jaw_vec3){50 + c * x - si * y + known * random_normal(r),
                              -20 + si * x + c * y + known * random_normal(r),
                              z - 90 + known * random_normal(r)};
        s[i].touched = (jaw_vec3){
            t->at[i].x + s[i].u_xy * random_normal(r),
            t->at[i].y + s[i].u_xy * random_normal(r),
            t->at[i].z + s[i].u_z * random_normal(r)};
        if (i == 2 || i == 4 || (i == 6 && random_below(r, 2)))
            s[i].touched = (jaw_vec3){NOT, NOT, NOT};
        if (spread > 0)
            s[i].u_xy = s[i].u_z = NOT;
    }
}

static int within(jaw_figure f, double truth_value)
{
    ck_assert(f.u > 0);
    return fabs(f.value - truth_value) <= f.half95;
}

/* 0: turn free; 1: given with its u; 2: given, kept exactly; 3: nobody knows
 * how well a touch repeats. */
START_TEST(intervals_hold_the_truth)
{
    random_source r = random_start("intervals_hold_the_truth",
                                   4200 + (uint64_t)_i);
    const int all = sets(20000);
    int turn = 0, off = 0, touched = 0, untouched = 0, z = 0, own = 0;

    for (int set = 0; set < all; set++) {
        truth t;
        jaw_station s[STATIONS];
        outcome o;
        make(&r, _i == 3 ? 0.004 : 0, &t, s);
        jaw_figure given = _i == 1 ? given_turn(t.turn + 3e-5 *
                                                random_normal(&r), 3e-5)
                           : _i == 2 ? given_turn(t.turn, 0)
                                     : free_turn();
        ck_status(stations(s, STATIONS, given, false, &o), JAW_OK);
        turn += _i == 2 ? o.turn.value == t.turn : within(o.turn, t.turn);
        touched += within(o.at[3].axis[0], t.at[3].x);
        untouched += within(o.at[4].axis[1], t.at[4].y);
        z += within(o.at[2].axis[2], t.at[2].z);
        own += within(o.at[5].axis[2], t.at[5].z);
        /* the dof of what the others leave: 2 touched less, one station less */
        double k = jaw_trust_cover(0.95, _i == 3 ? (double)o.dof - 2
                                               : (double)INFINITY);
        off += fabs(o.at[1].off.x) <= k * o.at[1].off_u.x;
    }
    if (_i == 2)
        ck_assert_int_eq(turn, all);
    else
        holds(turn, all, "turn");
    holds(touched, all, "a touched one");
    holds(untouched, all, "one that was not");
    holds(z, all, "height of one that was not");
    holds(own, all, "height of a touched one");
    holds(off, all, "off");
}
END_TEST

/* Four good stations and the flag: one in JAW_TRUST_ALPHA each, plane and
 * height. */
START_TEST(residuals_are_seldom_blamed)
{
    random_source r = random_start("residuals_are_seldom_blamed", 4300);
    const int all = sets(20000);
    int blamed = 0, scale = 0;

    for (int set = 0; set < all; set++) {
        truth t;
        jaw_station s[STATIONS];
        outcome o;
        make(&r, 0, &t, s);
        ck_status(stations(s, STATIONS, free_turn(), true, &o), JAW_OK);
        blamed += (o.flags & JAW_RESIDUAL) != 0;
        scale += (o.flags & ~(unsigned)JAW_RESIDUAL) != 0;
    }
    double want = 2 * JAW_TRUST_ALPHA * all;
    printf("blamed %d of %d\n", blamed, all);
    ck_assert(fabs(blamed - want) <= 4 * sqrt(want) + 1);
    ck_assert_int_eq(scale, 0);
}
END_TEST

TCase *spread_case(void)
{
    TCase *tc = tcase_create("spread");
    tcase_set_timeout(tc, 600);
    tcase_add_loop_test(tc, intervals_hold_the_truth, 0, 4);
    tcase_add_test(tc, residuals_are_seldom_blamed);
    return tc;
}
