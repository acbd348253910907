/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A tilted block, touched: its corner and axes come back. */
#include "datum_tests.h"

static const struct {
    jaw_side second, third;
} sides[] = {
    {JAW_SIDE_YMINUS, JAW_SIDE_XMINUS}, {JAW_SIDE_YMINUS, JAW_SIDE_XPLUS},
    {JAW_SIDE_YPLUS, JAW_SIDE_XMINUS},  {JAW_SIDE_YPLUS, JAW_SIDE_XPLUS},
    {JAW_SIDE_XMINUS, JAW_SIDE_YMINUS}, {JAW_SIDE_XMINUS, JAW_SIDE_YPLUS},
    {JAW_SIDE_XPLUS, JAW_SIDE_YMINUS},  {JAW_SIDE_XPLUS, JAW_SIDE_YPLUS},
};

static const size_t counts[][3] = {{3, 2, 1}, {5, 3, 2}, {9, 6, 4}};

static void same_attitude(const jaw_attitude *a, const block *b, double move,
                          double lean)
{
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++)
            near(a->turn[i][j], b->r[i][j], lean, "turn");
    near(a->origin.x, b->corner.x, move, "origin x");
    near(a->origin.y, b->corner.y, move, "origin y");
    near(a->origin.z, b->corner.z, move, "origin z");
}

/* datum.h: origin 1e-12 mm, turn 1e-14 (a ball; three touches near a line have
 * less, so that those that are weak are passed over). */
START_TEST(ball_finds_the_block)
{
    random_source r = random_start("ball_finds_the_block", 1000 + (uint64_t)_i);
    double worst_move = 0, worst_turn = 0;
    int done = 0;

    while (done < 300) {
        block b = world_block(&r, sides[_i].second, sides[_i].third, 0.04, 0.3);
        jaw_tip tip[3];
        touched t;
        jaw_attitude a;
        double resid[MOST];
        const size_t *n = counts[done % 3];
        for (int k = 0; k < 3; k++) {
            tip[k] = jaw_tip_make(JAW_TIP_BALL, random_between(&r, 1, 8));
            tip[k].paper = k == 1 ? 0.05 : 0;
        }
        world_touch(&r, &b, sides[_i].second, sides[_i].third, n, tip, &t);
        ck_status(find(&t, &a, resid), JAW_OK);
        /* a touch of 1 mm must not turn anything by more than a tenth */
        double repeat = t.d[0].repeat;
        if (!(a.cov[15] + a.cov[18] + a.cov[20] < 0.01 * repeat * repeat))
            continue;
        done++;
        same_attitude(&a, &b, 1e-12, 1e-14);
        worst_move = fmax(worst_move, fabs(a.origin.x - b.corner.x));
        worst_turn = fmax(worst_turn, fabs(a.turn[0][1] - b.r[0][1]));
        for (size_t i = 0; i < n[0] + n[1] + n[2]; i++)
            near(resid[i], 0, 1e-12, "resid");
        near(a.tilt[0], atan2(b.r[0][2], b.r[2][2]), 1e-14, "tilt x");
        near(a.tilt[1], atan2(b.r[1][2], b.r[2][2]), 1e-14, "tilt y");
        near(a.skew, atan2(b.r[1][0], b.r[0][0]), 1e-14, "skew");
        if (!isnan(a.between[0].value))
            near(a.between[0].value, 0, 1e-11, "between");
        if (!isnan(a.between[1].value))
            near(a.between[1].value, 0, 1e-11, "between walls");
    }
    printf("worst: origin %.2g mm, turn %.2g\n", worst_move, worst_turn);
}
END_TEST

/* A cylinder meets what leans over it at the rim, else with its end. */
START_TEST(cylinder_finds_the_block)
{
    random_source r = random_start("cylinder_finds_the_block",
                                   1100 + (uint64_t)_i);
    int rims = 0, ends = 0;

    for (int set = 0; set < 200; set++) {
        block b = world_block(&r, sides[_i].second, sides[_i].third, 0.05,
                              0.25);
        jaw_tip_shape shape = set % 2 ? JAW_TIP_CYLINDER : JAW_TIP_PIN;
        jaw_tip tip[3] = {jaw_tip_make(JAW_TIP_BALL, 4),
                          jaw_tip_make(shape, 10), jaw_tip_make(shape, 6)};
        const size_t n[3] = {9, 4, 2};
        touched t;
        jaw_attitude a;
        tip[2].paper = 0.1;
        world_touch(&r, &b, sides[_i].second, sides[_i].third, n, tip, &t);
        ck_status(find(&t, &a, NULL), JAW_OK);
        jaw_vec2 out = jaw_side_normal(sides[_i].second);
        double lean = out.x * b.r[2][0] + out.y * b.r[2][1];
        rims += lean < 0;
        ends += lean > 0;
        same_attitude(&a, &b, 1e-9, 1e-10);
        ck_assert(isnan(a.between[0].value));
    }
    ck_assert_int_gt(rims, 50);
    ck_assert_int_gt(ends, 50);
}
END_TEST

/* 2026-11-25: a wall was said to face elsewhere when two touches of a cylinder
 * lay 1 mm apart, one deep and one not, at a wall that overhangs by 3 degrees:
 * by the tip's ends, 1.5 mm off the wall below, it would run the other way. */
START_TEST(close_touches_at_a_rim)
{
    random_source r = random_start("close_touches_at_a_rim", 1250);
    const size_t n[3] = {4, 2, 1};
    block b = {.corner = {12, -34, -50}, .size = {90, 60, -40}};
    jaw_tip ball = jaw_tip_make(JAW_TIP_BALL, 4);
    jaw_tip tip[3] = {ball, jaw_tip_make(JAW_TIP_CYLINDER, 10), ball};
    touched t;
    jaw_attitude a;

    world_turn(0.05, 0, 0, b.r); /* the wall that faces y- looks down */
    world_touch(&r, &b, JAW_SIDE_YMINUS, JAW_SIDE_XMINUS, n, tip, &t);
    jaw_vec3 rim = world_at(&b, (jaw_vec3){40, 0, 0});
    for (int i = 0; i < 2; i++)
        t.t[1][i] = (jaw_touch){rim.x + i, rim.y - 5, rim.z - 2 - 30 * i};
    ck_status(find(&t, &a, NULL), JAW_OK);
    same_attitude(&a, &b, 1e-9, 1e-10);
}
END_TEST

/* A flat end on top is taken to touch at its middle; the walls with a ball. */
START_TEST(flat_end_on_top)
{
    random_source r = random_start("flat_end_on_top", 1200);
    const size_t n[3] = {6, 3, 2};

    for (int set = 0; set < 100; set++) {
        block b = world_block(&r, JAW_SIDE_YMINUS, JAW_SIDE_XMINUS, 0.05, 0.2);
        jaw_tip tip[3] = {jaw_tip_make(JAW_TIP_CUTTER, 10),
                          jaw_tip_make(JAW_TIP_BALL, 4),
                          jaw_tip_make(JAW_TIP_BALL, 4)};
        touched t;
        jaw_attitude a;
        tip[0].paper = 0.08;
        world_touch(&r, &b, JAW_SIDE_YMINUS, JAW_SIDE_XMINUS, n, tip, &t);
        ck_status(find(&t, &a, NULL), JAW_OK);
        same_attitude(&a, &b, 1e-10, 1e-11);
    }
}
END_TEST

/* A jaw that rises 30 mm over its bed and leans back, and an upright pin whose
 * end stands 5 mm over the bed: what it meets is the jaw beside its end.  The
 * fixed jaw faces y-; a stop beside it faces x+. */
START_TEST(pin_against_a_jaw)
{
    const double lean = 0.01, radius = 3;
    block b = {.corner = {20, 50, -100}, .size = {-100, -60, 30}};
    /* the bed and the jaw tilt about X: the jaw's top goes back */
    world_turn(-lean, 0, 0, b.r);
    jaw_vec3 m = {-b.r[0][1], -b.r[1][1], -b.r[2][1]}; /* faces y- */
    ck_assert(m.z > 0);
    touched t = {.tip = {jaw_tip_make(JAW_TIP_BALL, 0),
                         jaw_tip_make(JAW_TIP_PIN, 2 * radius),
                         jaw_tip_make(JAW_TIP_BALL, 0)}};
    static const double bed[4][2] = {{10, -10}, {80, -12}, {15, -50},
                                     {70, -45}};
    for (int i = 0; i < 4; i++) {
        jaw_vec3 p = world_at(&b, (jaw_vec3){bed[i][0], bed[i][1], 0});
        t.t[0][i] = (jaw_touch){p.x, p.y, p.z};
    }
    for (int i = 0; i < 2; i++) {
        /* a place of the jaw 5 mm over the bed, and the pin beside it: its axis
         * lies square to the jaw's level line, which runs along X here */
        jaw_vec3 p = world_at(&b, (jaw_vec3){20 + 50 * i, 0, 5});
        t.t[1][i] = (jaw_touch){p.x, p.y - radius, p.z};
    }
    jaw_vec3 stop = world_at(&b, (jaw_vec3){0, -20, 5});
    t.t[2][0] = (jaw_touch){stop.x, stop.y, stop.z};
    t.d[0] = (jaw_datum){t.t[0], 4, &t.tip[0], JAW_SIDE_NONE, 0.002};
    t.d[1] = (jaw_datum){t.t[1], 2, &t.tip[1], JAW_SIDE_YMINUS, 0.002};
    t.d[2] = (jaw_datum){t.t[2], 1, &t.tip[2], JAW_SIDE_XPLUS, 0.002};
    jaw_attitude a;
    ck_status(find(&t, &a, NULL), JAW_OK);
    same_attitude(&a, &b, 1e-10, 1e-12);
}
END_TEST

/* A block whose walls are not square: 3-2-1 takes what it takes, and says by
 * how much.  The secondary leans 1/2 degree out below (the material has 90.5
 * degrees at the top), the tertiary meets it at 89.2 degrees. */
START_TEST(not_square)
{
    const double first = 0.5 * M_PI / 180, second = -0.8 * M_PI / 180;
    const double sf = sin(first), cf = cos(first);
    touched t = {.tip = {jaw_tip_make(JAW_TIP_BALL, 2),
                         jaw_tip_make(JAW_TIP_BALL, 2),
                         jaw_tip_make(JAW_TIP_BALL, 2)}};
    double r[3][3];
    world_turn(0.02, -0.01, 0.1, r);
    const block b = {.r = {{r[0][0], r[0][1], r[0][2]},
                           {r[1][0], r[1][1], r[1][2]},
                           {r[2][0], r[2][1], r[2][2]}}};
    for (int i = 0; i < 4; i++) {
        double u = i & 1 ? 60 : 5, v = i & 2 ? 35 : 4;
        jaw_vec3 top = world_at(&b, (jaw_vec3){u, v, 1});
        /* centre one radius off the wall, whose outward normal is (0, -cf, sf)
         * in part axes: y = -w tan(first) at depth w */
        jaw_vec3 wall = {u, -v * tan(first) - cf, -v + sf};
        wall = world_at(&b, wall);
        t.t[0][i] = (jaw_touch){top.x, top.y, top.z - 1};
        t.t[1][i] = (jaw_touch){wall.x, wall.y, wall.z - 1};
    }
    for (int i = 0; i < 3; i++) {
        /* material lies at x > 0; along the tertiary from the corner: its
         * direction leaves the secondary's at 90 degrees plus `second` */
        double s = 10 + 15 * i, angle = M_PI / 2 + second;
        jaw_vec3 p = {s * cos(angle) - sin(angle), s * sin(angle) + cos(angle),
                      -10};
        p = world_at(&b, p);
        t.t[2][i] = (jaw_touch){p.x, p.y, p.z - 1};
    }
    static const size_t n[3] = {4, 4, 3};
    static const jaw_side side[3] = {JAW_SIDE_NONE, JAW_SIDE_YMINUS,
                                     JAW_SIDE_XMINUS};
    for (int k = 0; k < 3; k++)
        t.d[k] = (jaw_datum){t.t[k], n[k], &t.tip[k], side[k], 0.002};
    jaw_attitude a;
    double resid[11];
    ck_status(find(&t, &a, resid), JAW_OK);
    near(a.between[0].value, first, 1e-13, "primary to secondary");
    near(a.between[1].value, second, 1e-13, "secondary to tertiary");
    ck_assert(a.flags & JAW_RESIDUAL);
    for (int i = 0; i < 3; i++)
        near(a.turn[i][2], r[i][2], 1e-14, "the primary is as it is");
    /* deeper means farther out: touches 0, 1 are high, 2, 3 deep */
    ck_assert(resid[4] < -0.1 && resid[5] < -0.1);
    ck_assert(resid[6] > 0.1 && resid[7] > 0.1);
}
END_TEST

/* What comes later never moves what came before. */
START_TEST(order_is_respected)
{
    random_source r = random_start("order_is_respected", 1300);
    const size_t n[3] = {5, 3, 2};
    block b = world_block(&r, JAW_SIDE_XPLUS, JAW_SIDE_YMINUS, 0.03, 0.2);
    jaw_tip ball = jaw_tip_make(JAW_TIP_BALL, 4), tip[3] = {ball, ball, ball};
    touched t;
    jaw_attitude a, c, d;

    world_touch(&r, &b, JAW_SIDE_XPLUS, JAW_SIDE_YMINUS, n, tip, &t);
    ck_status(find(&t, &a, NULL), JAW_OK);
    t.t[2][1].y += 0.7;
    ck_status(find(&t, &c, NULL), JAW_OK);
    ck_assert_mem_eq(a.turn, c.turn, sizeof a.turn);
    t.t[1][1].x += 0.7;
    ck_status(find(&t, &d, NULL), JAW_OK);
    for (int i = 0; i < 3; i++) {
        ck_assert(a.turn[i][2] == d.turn[i][2]);
        ck_assert(fabs(a.turn[0][1] - d.turn[0][1]) > 1e-4);
    }
    near(jaw_side_normal(JAW_SIDE_XPLUS).x * d.turn[0][0], 1, 0.05, "X");
}
END_TEST

/* Moved, reordered, and turned by a quarter with the sides. */
START_TEST(holds_for_any_data)
{
    random_source r = random_start("holds_for_any_data", 1400);
    const size_t n[3] = {7, 5, 3};
    jaw_tip ball = jaw_tip_make(JAW_TIP_BALL, 4), tip[3] = {ball, ball, ball};

    for (int set = 0; set < 100; set++) {
        block b = world_block(&r, JAW_SIDE_YMINUS, JAW_SIDE_XMINUS, 0.03, 0.2);
        touched t, s, u;
        jaw_attitude a, c;
        world_touch(&r, &b, JAW_SIDE_YMINUS, JAW_SIDE_XMINUS, n, tip, &t);
        world_scatter(&r, &t, &s);
        ck_status(find(&s, &a, NULL), JAW_OK);
        world_scatter(&r, &t, &u);
        for (int k = 0; k < 3; k++)
            for (size_t i = 0; i < n[k]; i++) {
                jaw_touch p = s.t[k][n[k] - 1 - i];
                u.t[k][i] = (jaw_touch){10 - p.y, -20 + p.x, p.z + 5};
            }
        u.d[1].faces = JAW_SIDE_XPLUS; /* y- turned by a quarter */
        u.d[2].faces = JAW_SIDE_YMINUS;
        ck_status(find(&u, &c, NULL), JAW_OK);
        near(c.origin.x, 10 - a.origin.y, 1e-11, "x");
        near(c.origin.y, -20 + a.origin.x, 1e-11, "y");
        near(c.origin.z, a.origin.z + 5, 1e-11, "z");
        /* part X is next to machine X in both: c's X is a's -Y, turned */
        near(c.turn[0][0], a.turn[1][1], 1e-12, "xx");
        near(c.turn[1][0], -a.turn[0][1], 1e-12, "xy");
        near(c.turn[2][0], -a.turn[2][1], 1e-12, "xz");
        near(c.turn[0][2], -a.turn[1][2], 1e-12, "zx");
        near(c.cov[0], a.cov[at(1, 1)], 1e-9 * a.cov[at(1, 1)], "cov xx");
        near(c.cov[at(5, 5)], a.cov[at(5, 5)], 1e-9 * a.cov[at(5, 5)],
             "cov about z");
        near(c.between[0].value, a.between[0].value, 1e-10, "between");
        near(c.rms[0], a.rms[0], 1e-12, "rms");
    }
}
END_TEST

TCase *geometry_case(void)
{
    TCase *tc = tcase_create("geometry");
    tcase_add_loop_test(tc, ball_finds_the_block, 0, COUNT(sides));
    tcase_add_loop_test(tc, cylinder_finds_the_block, 0, COUNT(sides));
    tcase_add_test(tc, close_touches_at_a_rim);
    tcase_add_test(tc, flat_end_on_top);
    tcase_add_test(tc, pin_against_a_jaw);
    tcase_add_test(tc, not_square);
    tcase_add_test(tc, order_is_respected);
    tcase_add_test(tc, holds_for_any_data);
    return tc;
}
