/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Marks of which some are walls or faces: a movement that is known is found,
 * what they do not show is NaN, and what stayed is said to have stayed as often
 * as promised. */
#include "place_tests.h"

static jaw_mark place_at(const movement *m, double x, double y)
{
    jaw_vec3 p = {x, y, NOT};
    return (jaw_mark){.before = p, .after = move(m, p),
                      .u_xy = {0.003, 0.004}};
}

/* A wall, found again `along` farther down. */
static jaw_mark wall_at(const movement *m, double x, double y, double theta,
                        double along)
{
    jaw_mark k = {.wall = true, .before = {x, y, NOT}, .u_xy = {0.003, 0.004},
                  .theta = {theta, jaw_angle_half(theta + m->turn)},
                  .u_theta = {NOT, NOT}};
    k.after = move(m, (jaw_vec3){x + along * cos(theta),
                                 y + along * sin(theta), NOT});
    return k;
}

static jaw_mark face_at(double z, double rise)
{
    return (jaw_mark){.before = {NOT, NOT, z}, .after = {NOT, NOT, z + rise},
                      .u_z = {0.002, 0.002}};
}

static const movement some[] = {{0, {0, 0, 0}},
                                {0, {0.034, -0.052, 0}},
                                {0.0004, {0.03, -0.2, 0}},
                                {0.03, {15, -20, 0}}};

static void ck_found(const jaw_moved *moved, const movement *m)
{
    jaw_figure after[4], before[4] = {
        given_turn(120, 0), given_turn(-30, 0), given_turn(5, 0),
        given_turn(0.01, 0)};
    jaw_vec3 there = move(m, (jaw_vec3){120, -30, NOT});

    near(jaw_angle_full(moved->turn.value - m->turn), 0, 1e-12, "turn");
    jaw_place_carry(moved, before, after);
    near(after[0].value, there.x, 1e-9, "zero x");
    near(after[1].value, there.y, 1e-9, "zero y");
    near(after[3].value, 0.01 + m->turn, 1e-12, "skew");
    near(moved->dof > 0 ? moved->rms : 0, 0, 1e-9, "rms");
}

START_TEST(walls_and_places)
{
    const movement *m = &some[_i];
    jaw_mark mark[4] = {place_at(m, -150, 40), wall_at(m, 100, 90, 0.002, 30),
                        wall_at(m, 180, -60, PI / 2 - 0.001, -12),
                        place_at(m, 20, -90)};
    jaw_moved moved;
    jaw_vec3 resid[4];

    for (size_t n = 2; n <= 4; n++) {
        ck_status(jaw_place_moved(mark, n, &moved, resid), JAW_OK);
        ck_found(&moved, m);
        ck_assert_int_eq(moved.dof, n == 4 ? 3 : (int)n - 2);
        ck_assert_int_eq(moved.flags, n == 2 ? JAW_NO_CHECK : 0);
        ck_assert_int_eq(moved.plane, _i == 0 ? JAW_STAYED : JAW_MOVED);
        ck_assert_int_eq(moved.height, JAW_UNCLEAR);
        for (size_t i = 0; i < n; i++) {
            near(hypot(resid[i].x, resid[i].y), 0, 1e-9, "resid");
            ck_assert(isnan(resid[i].z));
        }
    }
}
END_TEST

/* Two that cross: a shift; a turn only by their directions. */
START_TEST(two_walls_that_cross)
{
    const movement m = {0, {0.034, -0.052, 0}}, turned = {0.001, {0.1, 0.2, 0}};
    jaw_mark mark[2] = {wall_at(&m, 100, 90, 0.003, 20),
                        wall_at(&m, -80, 10, PI / 2, -40)};
    jaw_moved moved;

    ck_status(jaw_place_moved(mark, 2, &moved, NULL), JAW_OK);
    ck_assert_int_eq(moved.flags, JAW_NO_CHECK | JAW_DIRECTION_ASSUMED);
    ck_assert_int_eq(moved.dof, 0);
    ck_found(&moved, &m);
    near(moved.shift[0].u, 0.005, 1e-7, "u of x");
    near(moved.turn.u, 0, 0, "no turn");
    mark[0] = wall_at(&turned, 100, 90, 0.003, 20);
    mark[1] = wall_at(&turned, -80, 10, PI / 2, -40);
    for (int k = 0; k < 2; k++)
        mark[k].u_theta[0] = mark[k].u_theta[1] = 0.00002;
    ck_status(jaw_place_moved(mark, 2, &moved, NULL), JAW_OK);
    ck_assert_int_eq(moved.flags, 0);
    ck_assert_int_eq(moved.dof, 1); /* two directions */
    ck_found(&moved, &turned);
    near(moved.turn.u, 0.00002, 1e-12, "of two, before and after");
}
END_TEST

/* Along one axis nothing is known of the other. */
START_TEST(walls_along_one_axis)
{
    const movement m = {0, {0, 0.25, 0}};
    jaw_mark mark[2] = {wall_at(&m, 100, 90, 0.0005, 0),
                        wall_at(&m, 300, -90, 0.0007, 0)};
    jaw_figure after[4], before[4] = {given_turn(1, 0), given_turn(2, 0),
                                      given_turn(3, 0), given_turn(0, 0)};
    jaw_moved moved;

    ck_status(jaw_place_moved(mark, 1, &moved, NULL), JAW_OK);
    ck_assert(isnan(moved.shift[0].value) && isnan(moved.shift[0].half95));
    near(moved.shift[1].value, 0.25, 1e-9, "y");
    near(moved.shift[1].u, hypot(0.005, tan(0.0005) * 5 / sqrt(3)), 1e-8,
         "its u, and what X may have done");
    ck_assert_int_eq(moved.flags, JAW_NO_CHECK | JAW_DIRECTION_ASSUMED);
    ck_assert_int_eq(moved.plane, JAW_MOVED);
    jaw_place_carry(&moved, before, after);
    ck_assert(isnan(after[0].value) && isnan(after[0].half95));
    near(after[1].value, 2.25, 1e-9, "carried in y");
    ck_status(jaw_place_moved(mark, 2, &moved, NULL), JAW_OK);
    ck_assert(isnan(moved.shift[0].value));
    near(moved.shift[1].value, 0.25, 1e-9, "of two");
    near(moved.turn.value, 0, 1e-12, "they show a turn");
    ck_assert(moved.turn.u > 0);
    mark[0] = wall_at(&m, 0, 0, PI / 4, 0);
    ck_status(jaw_place_moved(mark, 1, &moved, NULL), JAW_ERANK);
    ck_assert(isnan(moved.shift[1].value) && isnan(moved.turn.value));
}
END_TEST

/* 2026-11-26: walls a little askew, and a machine that moved along them. */
START_TEST(what_walls_hide)
{
    const movement x = {0, {1, 0, 0}}, far = {0, {5, 0, 0}};
    jaw_mark one = wall_at(&x, 100, 90, -5 * PI / 180, 0);
    jaw_mark two[2] = {wall_at(&far, 100, 90, 0, 0),
                       wall_at(&far, 110, 80, 0.2 * PI / 180, 0)};
    jaw_figure after[4], before[4] = {given_turn(300, 0), given_turn(50, 0),
                                      given_turn(3, 0), given_turn(0, 0)};
    jaw_moved moved;

    ck_status(jaw_place_moved(&one, 1, &moved, NULL), JAW_OK);
    ck_assert(isnan(moved.shift[0].value));
    near(moved.shift[1].u, 0.253, 0.001, "5 tan 5 deg / sqrt 3");
    ck_status(jaw_place_moved(two, 2, &moved, NULL), JAW_OK);
    jaw_place_carry(&moved, before, after);
    ck_assert(isnan(after[0].value));
    ck_assert(fabs(after[1].value - 50) <= after[1].half95);
    for (int k = 0; k < 2; k++)
        two[k].u_theta[0] = two[k].u_theta[1] = 0.00005;
    ck_status(jaw_place_moved(two, 2, &moved, NULL), JAW_OK);
    ck_assert_int_eq(moved.flags, 0);
    jaw_place_carry(&moved, before, after);
    ck_assert(fabs(after[1].value - 50) <= after[1].half95);
    one = wall_at(&x, 100, 90, PI / 2 - 9 * PI / 180, 0);
    ck_status(jaw_place_moved(&one, 1, &moved, NULL), JAW_ERANK);
}
END_TEST

START_TEST(faces)
{
    const movement m = {0, {0.1, 0, 0}};
    jaw_mark mark[3] = {face_at(-300, 0.04), face_at(-200, 0.05),
                        place_at(&m, 10, 20)};
    jaw_figure after[4], before[4] = {given_turn(1, 0), given_turn(2, 0),
                                      given_turn(3, 0), given_turn(0.1, 0)};
    jaw_moved moved;
    jaw_vec3 resid[3];

    ck_status(jaw_place_moved(mark, 2, &moved, resid), JAW_OK);
    ck_assert(isnan(moved.shift[0].value) && isnan(resid[0].x));
    near(moved.shift[2].value, 0.045, 1e-12, "z");
    near(resid[0].z, -0.005, 1e-12, "resid");
    ck_assert(moved.plane == JAW_UNCLEAR && moved.height == JAW_MOVED);
    jaw_place_carry(&moved, before, after);
    ck_assert(isnan(after[0].value));
    near(after[2].value, 3.045, 1e-12, "carried");
    near(after[3].value, 0.1, 0, "the turn");
    ck_status(jaw_place_moved(mark, 3, &moved, resid), JAW_OK);
    near(moved.shift[0].value, 0.1, 1e-12, "x");
    near(resid[2].x, 0, 1e-12, "resid x");
    ck_assert(isnan(resid[2].z) && isnan(resid[0].x));
}
END_TEST

static const jaw_status refused[] = {JAW_ENOTFINITE, JAW_EDOMAIN, JAW_EDOMAIN,
                                     JAW_EDOMAIN, JAW_EDOMAIN, JAW_ENOTFINITE};

START_TEST(walls_refused)
{
    jaw_mark k = wall_at(&some[1], 1, 2, 0, 0);
    jaw_moved moved;
    jaw_vec3 resid;

    switch (_i) {
    case 0: k.before.x = k.after.x = k.before.y = k.after.y = NOT; break;
    case 1: k.theta[1] = NOT; break;
    case 2: k.u_theta[0] = 0; break;
    case 3: k.before.z = k.after.z = 1; k.u_z[0] = k.u_z[1] = 1; break;
    case 4: k.u_xy[1] = INFINITY; break;
    default: k.wall = false; k.before.x = NOT; break;
    }
    ck_status(jaw_place_moved(&k, 1, &moved, &resid), refused[_i]);
    ck_assert(isnan(resid.x) && isnan(moved.turn.value) &&
              moved.plane == JAW_UNCLEAR);
}
END_TEST

/* --------------------------------------------------------- as often as said */

static void stir(random_source *r, jaw_mark *k)
{
    const double c = cos(k->theta[0]), s = sin(k->theta[0]);

    for (int i = 0; i < 2; i++) {
        jaw_vec3 *p = i == 0 ? &k->before : &k->after;
        double d = k->u_xy[i] * random_normal(r);
        if (!k->wall) {
            p->x += d;
            p->y += k->u_xy[i] * random_normal(r);
            continue;
        }
        p->x -= s * d;
        p->y += c * d;
        if (k->u_theta[i] > 0)
            k->theta[i] += k->u_theta[i] * random_normal(r);
    }
}

/* Two walls; three; two with directions and a place. */
START_TEST(walls_as_often)
{
    enum { SETS = 20000 };
    const movement still = {0, {0, 0, 0}}, m = {0, {0.2, -0.3, 0}};
    random_source r = random_start("walls_as_often", (uint64_t)_i + 5200);
    int noise = 0, false_alarm = 0, apart = 0, inside[2] = {0};
    size_t n = _i == 0 ? 2 : 3;

    for (int set = 0; set < SETS; set++) {
        jaw_mark same[3], mark[3];
        for (int k = 0; k < 2; k++) {
            jaw_mark *to = k == 0 ? same : mark;
            const movement *by = k == 0 ? &still : &m;
            to[0] = wall_at(by, 100, 90, 0.001, 0);
            to[1] = wall_at(by, -80, 10, PI / 2, 0);
            to[2] = _i == 1 ? wall_at(by, -150, 60, 0, 0)
                            : place_at(by, 150, -60);
            for (int i = 0; _i == 2 && i < 2; i++)
                to[i].u_theta[0] = to[i].u_theta[1] = 0.00005;
            for (size_t i = 0; i < n; i++)
                stir(&r, &to[i]);
        }
        jaw_moved moved;
        jaw_figure after[4], before[4] = {given_turn(40, 0), given_turn(50, 0),
                                          given_turn(0, 0), given_turn(0, 0)};
        ck_status(jaw_place_moved(same, n, &moved, NULL), JAW_OK);
        noise += moved.plane == JAW_STAYED;
        false_alarm += moved.plane == JAW_MOVED;
        apart += (moved.flags & JAW_RESIDUAL) != 0;
        ck_status(jaw_place_moved(mark, n, &moved, NULL), JAW_OK);
        jaw_place_carry(&moved, before, after);
        jaw_vec3 there = move(&m, (jaw_vec3){40, 50, NOT});
        inside[0] += fabs(after[0].value - there.x) <= after[0].half95;
        inside[1] += fabs(after[1].value - there.y) <= after[1].half95;
    }
    share("carried in x", inside[0], SETS, 0.95);
    share("carried in y", inside[1], SETS, 0.95);
    share("stayed, and is said to", noise, SETS, 1 - JAW_STAYED_LEVEL);
    share("stayed, and is said to have moved", false_alarm, SETS,
          JAW_TRUST_ALPHA);
    if (_i == 2)
        share("apart", apart, SETS, JAW_TRUST_ALPHA);
    else
        ck_assert_int_eq(apart, 0);
}
END_TEST

/* One wall, two, two with directions, three; each up to a degree askew, while
 * the machine moved along them by anything that is not ruled out. */
START_TEST(hidden_as_often)
{
    enum { SETS = 10000 };
    random_source r = random_start("hidden_as_often", (uint64_t)_i + 5300);
    size_t n = _i == 0 ? 1 : _i == 3 ? 3 : 2;
    int inside = 0, apart = 0, false_alarm = 0;

    for (int set = 0; set < SETS; set++) {
        movement m = {0, {random_between(&r, -5, 5), 0.3, 0}};
        jaw_mark mark[3], same[3];
        jaw_moved moved;
        jaw_figure after[4], before[4] = {given_turn(40, 0), given_turn(50, 0),
                                          given_turn(0, 0), given_turn(0, 0)};
        for (size_t i = 0; i < n; i++) {
            double theta = random_between(&r, -0.0175, 0.0175);
            double at = random_between(&r, -50, 50) + 150 * (double)i;
            mark[i] = wall_at(&m, at, 30 * (double)i, theta, 0);
            same[i] = wall_at(&some[0], at, 30 * (double)i, theta, 0);
            if (_i == 2)
                for (int k = 0; k < 2; k++)
                    mark[i].u_theta[k] = same[i].u_theta[k] = 0.00005;
            stir(&r, &mark[i]);
            stir(&r, &same[i]);
        }
        /* several that cross by enough show X too */
        ck_status(jaw_place_moved(mark, n, &moved, NULL), JAW_OK);
        jaw_place_carry(&moved, before, after);
        inside += fabs(after[1].value - 50.3) <= after[1].half95;
        apart += (moved.flags & JAW_RESIDUAL) != 0;
        ck_status(jaw_place_moved(same, n, &moved, NULL), JAW_OK);
        false_alarm += moved.plane == JAW_MOVED;
    }
    printf("within %.4f, apart %.4f, moved %.4f\n", (double)inside / SETS,
           (double)apart / SETS, (double)false_alarm / SETS);
    ck_assert(inside >= 0.95 * SETS - 4 * sqrt(0.95 * 0.05 * SETS));
    ck_assert(apart <= JAW_TRUST_ALPHA * SETS +
                           4 * sqrt(JAW_TRUST_ALPHA * SETS));
    ck_assert(false_alarm <= JAW_TRUST_ALPHA * SETS +
                                 4 * sqrt(JAW_TRUST_ALPHA * SETS));
}
END_TEST

TCase *walls_case(void)
{
    TCase *tc = tcase_create("walls");
    tcase_set_timeout(tc, 60);
    tcase_add_loop_test(tc, walls_and_places, 0, COUNT(some));
    tcase_add_test(tc, two_walls_that_cross);
    tcase_add_test(tc, walls_along_one_axis);
    tcase_add_test(tc, what_walls_hide);
    tcase_add_loop_test(tc, hidden_as_often, 0, 4);
    tcase_add_test(tc, faces);
    tcase_add_loop_test(tc, walls_refused, 0, COUNT(refused));
    tcase_add_loop_test(tc, walls_as_often, 0, 3);
    return tc;
}
