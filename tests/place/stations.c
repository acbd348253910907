/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plate that lies on the machine, skewed: where its stations are. */
#include "place_tests.h"

/* A plate of n holes, 100 apart along X and 80 along Y, as it lies: turned by
 * the angle about Z, its drawing's zero at `zero`. */
static void plate(size_t n, double turn, jaw_vec3 zero, jaw_station s[])
{
    const double c = cos(turn), si = sin(turn);

    for (size_t i = 0; i < n; i++) {
        double x = 100.0 * (double)(i % 4), y = 80.0 * (double)(i / 4);
        double z = i % 3 == 2 ? 12.5 : 0;
        s[i] = (jaw_station){.nominal = {x, y, z},
                             .touched = {zero.x + c * x - si * y,
                                         zero.y + si * x + c * y, zero.z + z},
                             .u_xy = 0.004,
                             .u_z = 0.005};
    }
}

static void untouch(jaw_station *s)
{
    s->touched = (jaw_vec3){NOT, NOT, NOT};
    s->u_xy = s->u_z = NOT;
}

static void same_place(jaw_vec3 got, jaw_vec3 want, double tol)
{
    near(got.x, want.x, tol, "x");
    near(got.y, want.y, tol, "y");
    near(got.z, want.z, tol, "z");
}

static const double turns[] = {0, 0.013, -0.2, PI / 2, 3.1, -PI};

START_TEST(plate_is_found)
{
    jaw_station s[12], t[12];
    outcome o;
    const double turn = turns[_i];

    plate(12, turn, (jaw_vec3){-312.5, -140.25, -87}, s);
    memcpy(t, s, sizeof s);
    for (size_t i = 0; i < 12; i++)
        if (i != 1 && i != 6 && i != 11)
            untouch(&t[i]);
    ck_status(stations(t, 12, free_turn(), false, &o), JAW_OK);
    near(jaw_angle_full(o.turn.value - turn), 0, 1e-15, "turn");
    for (size_t i = 0; i < 12; i++) {
        same_place(o.at[i].place, s[i].touched, 1e-12);
        near(o.at[i].axis[0].value, o.at[i].place.x, 0, "the same");
        near(o.at[i].axis[2].value, o.at[i].place.z, 0, "the same");
        ck_assert(o.at[i].axis[1].u > 0 && isinf(o.at[i].axis[1].dof));
        bool touched = i == 1 || i == 6 || i == 11;
        ck_assert(isnan(o.at[i].off.x) == !touched);
        if (touched) {
            same_place(o.at[i].off, (jaw_vec3){0, 0, 0}, 1e-12);
            ck_assert(o.at[i].off_u.x > 0.004 && o.at[i].off_u.z > 0.005);
        }
    }
    ck_assert_int_eq(o.dof, 3);
    ck_assert_uint_eq(o.flags, 0);
    near(o.rms, 0, 1e-12, "rms");
    /* far from the touched ones it is less sure */
    ck_assert(o.at[8].axis[0].u > o.at[5].axis[0].u);
}
END_TEST

/* Two vises in line, 200 apart, by hand: the second is touched 0.02 too far and
 * 0.01 too high, so that the row is skewed by 0.01 / 200; the third, at 100,
 * stands between. */
START_TEST(two_vises_by_hand)
{
    jaw_station s[3] = {{{0, 0, 0}, {10, 20, -50}, 0.003, 0.003, 0},
                        {{200, 0, 0}, {210.02, 20.01, -50.004}, .003, .003, 0},
                        {{100, 0, 0}, {NOT, NOT, NOT}, NOT, NOT, 0}};
    outcome o;

    ck_status(stations(s, 3, free_turn(), false, &o), JAW_OK);
    near(o.turn.value, atan2(0.01, 200.02), 1e-15, "turn");
    near(o.turn.u, 0.003 * sqrt(2) / 200, 1e-12, "u of turn");
    near(o.at[2].place.x, 110.01, 1e-12, "x");
    near(o.at[2].place.y, 20.005, 1e-12, "y");
    near(o.at[2].place.z, -50.002, 1e-12, "z");
    near(o.at[2].axis[1].u, 0.003 / sqrt(2), 1e-12, "u");
    near(o.at[0].place.x, 10.01, 1e-6, "the spacing is trusted");
    ck_assert_int_eq(o.dof, 1);
    ck_assert(isnan(o.at[0].off.x) && isnan(o.at[1].off_u.y));
    near(o.at[1].off.z, -0.004, 1e-12, "heights check one another");
    near(o.at[1].off_u.z, 0.003 * sqrt(2), 1e-12, "u of off");
    ck_assert_uint_eq(o.flags, JAW_RESIDUAL); /* 0.02 of 0.003 */
    /* what was touched is taken as it is */
    ck_status(stations(s, 3, free_turn(), true, &o), JAW_OK);
    same_place(o.at[1].place, s[1].touched, 0);
    near(o.at[1].axis[0].u, 0.003, 0, "its own");
    near(o.at[2].place.y, 20.005, 1e-12, "the others as before");
}
END_TEST

/* One station and the turn of the table's edge. */
START_TEST(one_station_and_a_turn)
{
    jaw_station s[8], t[8];
    outcome o;

    plate(8, 0.02, (jaw_vec3){5, 6, 7}, s);
    memcpy(t, s, sizeof s);
    for (size_t i = 1; i < 8; i++)
        untouch(&t[i]);
    ck_status(stations(t, 8, free_turn(), false, &o), JAW_EFEW);
    ck_status(stations(t, 8, given_turn(0.02, 1e-5), false, &o), JAW_OK);
    for (size_t i = 0; i < 8; i++)
        same_place(o.at[i].place, s[i].touched, 1e-12);
    ck_assert_uint_eq(o.flags, JAW_NO_CHECK);
    ck_assert_int_eq(o.dof, 0);
    ck_assert(isnan(o.rms) && isnan(o.at[0].off.x) && isnan(o.at[0].off.z));
    /* 300 along: its y has the touch and the turn over 300 */
    near(o.at[3].axis[1].u, hypot(0.004, 300 * cos(0.02) * 1e-5), 1e-9, "u");
    near(o.turn.value, 0.02, 1e-17, "turn");
    near(o.turn.u, 1e-5, 1e-17, "u of turn");
}
END_TEST

/* A given turn weighs as it is known: two stations say 1e-4, the edge 0. */
START_TEST(turn_has_its_weight)
{
    const double arm = 200, u = 0.004, own = u * sqrt(2) / arm;
    jaw_station s[2] = {
        {{0, 0, 0}, {0, 0, 0}, u, u, 0},
        {{arm, 0, 0}, {arm * cos(1e-4), arm * sin(1e-4), 0}, u, u, 0}};
    outcome o;

    ck_status(stations(s, 2, given_turn(0, own), false, &o), JAW_OK);
    near(o.turn.value, 0.5e-4, 1e-12, "as good as one another");
    near(o.turn.u, own / sqrt(2), 1e-9 * own, "u");
    ck_assert_int_eq(o.dof, 2);
    ck_status(stations(s, 2, given_turn(0, 0), false, &o), JAW_OK);
    near(o.turn.value, 0, 0, "exact");
    near(o.turn.u, 0, 0, "exact");
    ck_status(stations(s, 2, given_turn(0, 1), false, &o), JAW_OK);
    near(o.turn.value, 1e-4, 1e-9, "as good as nothing");
    /* a turn that is taken from the wrong edge: a quarter off */
    ck_status(stations(s, 2, given_turn(PI / 2, 1e-5), false, &o), JAW_OK);
    ck_assert(o.flags & JAW_RESIDUAL);
    ck_status(stations(s, 2, given_turn(PI, 1e-2), false, &o), JAW_OK);
    ck_assert(o.flags & JAW_RESIDUAL);
    /* the other way round the circle is the same turn */
    ck_status(stations(s, 2, given_turn(2 * PI, own), false, &o), JAW_OK);
    near(o.turn.value, 0.5e-4, 1e-12, "a whole turn more");
}
END_TEST

/* A chip under one of six: its own `off` shows it, whole and not shared out. */
START_TEST(bad_station_is_named)
{
    random_source r = random_start("bad_station_is_named", 4000);

    for (int set = 0; set < 200; set++) {
        jaw_station s[8], rest[8];
        outcome o, without;
        size_t bad = random_below(&r, 8), worst = 0, k = 0;
        double most = 0, chip = random_between(&r, 0.06, 0.4);
        double way = random_between(&r, -PI, PI);
        plate(8, random_between(&r, -0.1, 0.1), (jaw_vec3){-100, -50, -80}, s);
        for (size_t i = 0; i < 8; i++) {
            s[i].touched.x += s[i].u_xy * random_normal(&r);
            s[i].touched.y += s[i].u_xy * random_normal(&r);
            s[i].touched.z += s[i].u_z * random_normal(&r);
        }
        s[bad].touched.x += chip * cos(way);
        s[bad].touched.y += chip * sin(way);
        ck_status(stations(s, 8, free_turn(), false, &o), JAW_OK);
        for (size_t i = 0; i < 8; i++) {
            double off = hypot(o.at[i].off.x / o.at[i].off_u.x,
                               o.at[i].off.y / o.at[i].off_u.y);
            if (off > most) {
                most = off;
                worst = i;
            }
        }
        ck_assert_uint_eq(worst, bad);
        ck_assert(o.flags & JAW_RESIDUAL);
        near(o.at[bad].off.x, chip * cos(way), 6 * o.at[bad].off_u.x, "whole");
        near(o.at[bad].off.y, chip * sin(way), 6 * o.at[bad].off_u.y, "whole");
        /* it is what the others say without it, from outside */
        for (size_t i = 0; i < 8; i++)
            rest[k++] = s[i];
        untouch(&rest[bad]);
        ck_status(stations(rest, 8, free_turn(), false, &without), JAW_OK);
        near(o.at[bad].off.x, s[bad].touched.x - without.at[bad].place.x, 1e-12,
             "off x");
        near(o.at[bad].off.y, s[bad].touched.y - without.at[bad].place.y, 1e-12,
             "off y");
        near(o.at[bad].off.z, s[bad].touched.z - without.at[bad].place.z, 1e-12,
             "off z");
        near(o.at[bad].off_u.x, hypot(without.at[bad].axis[0].u, s[bad].u_xy),
             1e-12, "off_u x");
        near(o.at[bad].off_u.z, hypot(without.at[bad].axis[2].u, s[bad].u_z),
             1e-12, "off_u z");
    }
}
END_TEST

/* How well the nominal place is known decides between it and the touch. */
START_TEST(known_against_touched)
{
    jaw_station s[6];
    outcome o, p;

    plate(6, 0.01, (jaw_vec3){0, 0, 0}, s);
    s[2].touched.x += 0.05;
    s[2].touched.z += 0.05;
    ck_status(stations(s, 6, free_turn(), false, &o), JAW_OK);
    double fit = o.at[2].place.x;
    ck_assert(fit < s[2].touched.x - 0.03);
    for (int i = 0; i < 6; i++)
        s[i].known = 10; /* nothing known: each is where it was touched */
    ck_status(stations(s, 6, free_turn(), false, &p), JAW_OK);
    near(p.at[2].place.x, s[2].touched.x, 1e-6, "touched x");
    near(p.at[2].place.z, s[2].touched.z, 1e-6, "touched z");
    near(p.at[2].axis[0].u, 0.004, 1e-6, "u of the touch");
    for (int i = 0; i < 6; i++)
        s[i].known = s[i].u_xy; /* half and half */
    ck_status(stations(s, 6, free_turn(), false, &p), JAW_OK);
    near(p.at[2].place.x, (fit + s[2].touched.x) / 2, 1e-9, "half way");
}
END_TEST

/* Spreads that nobody stated come from the residuals. */
START_TEST(spread_from_residuals)
{
    jaw_station s[4];
    outcome o;
    /* a square whose corners are touched d too far out: 2 d of residual each
     * way, 8 numbers, 5 spare */
    static const double d = 0.01;
    static const jaw_vec2 corner[4] = {{-50, -50}, {50, -50}, {50, 50},
                                       {-50, 50}};

    for (int i = 0; i < 4; i++)
        s[i] = (jaw_station){
            {corner[i].x, corner[i].y, 0},
            {corner[i].x * (1 + d / 50), corner[i].y * (1 + d / 50), i},
            NOT, NOT, 0};
    ck_status(stations(s, 4, free_turn(), false, &o), JAW_OK);
    ck_assert_int_eq(o.dof, 5);
    near(o.rms, d * sqrt(2), 1e-14, "rms");
    double spread = sqrt(8 * d * d / 5);
    near(o.turn.u, spread / sqrt(4 * 5000), 1e-12, "u of turn");
    near(o.turn.dof, 5, 1e-9, "dof");
    near(o.at[0].axis[0].u, spread * sqrt(0.25 + 2500. / 20000), 1e-12, "u");
    near(o.at[0].axis[0].dof, 5, 1e-9, "dof");
    /* heights 0 1 2 3: mean 1.5, spread sqrt(5 / 3) */
    near(o.at[1].place.z, 1.5, 1e-15, "z");
    near(o.at[1].axis[2].u, sqrt(5. / 3 / 4), 1e-12, "u of z");
    near(o.at[1].axis[2].dof, 3, 1e-9, "dof of z");
    ck_assert_uint_eq(o.flags, 0);
    ck_status(stations(s, 4, free_turn(), true, &o), JAW_OK);
    near(o.at[0].place.x, s[0].touched.x, 0, "as touched");
    near(o.at[0].axis[0].u, spread, 1e-12, "u of a touch");
    near(o.at[0].axis[0].dof, 5, 1e-9, "dof");
    /* two: one number spare in the plane */
    ck_status(stations(s, 2, free_turn(), false, &o), JAW_OK);
    ck_assert_int_eq(o.dof, 1);
    /* a turn that is given is kept, and its u carried along */
    ck_status(stations(s, 1, given_turn(0.1, 1e-4), false, &o), JAW_OK);
    ck_assert(isnan(o.at[0].axis[0].u) && isnan(o.rms));
    ck_assert_uint_eq(o.flags, JAW_NO_CHECK);
    ck_status(stations(s, 4, given_turn(0, 1e-4), false, &o), JAW_OK);
    near(o.turn.u, 1e-4, 1e-18, "kept");
    ck_assert_int_eq(o.dof, 6);
    near(o.at[0].axis[0].u, hypot(sqrt(8 * d * d / 6 / 4), 50 * 1e-4), 1e-8,
         "carried along");
}
END_TEST

START_TEST(flags)
{
    jaw_station s[6];
    outcome o;

    plate(6, 0.3, (jaw_vec3){0, 0, 0}, s);
    for (int i = 0; i < 6; i++)
        s[i].nominal.x /= 25.4, s[i].nominal.y /= 25.4;
    ck_status(stations(s, 6, free_turn(), false, &o), JAW_OK);
    ck_assert_uint_eq(o.flags, JAW_SCALE_OFF | JAW_RESIDUAL);
    plate(6, 0.3, (jaw_vec3){0, 0, 0}, s);
    for (int i = 0; i < 6; i++)
        s[i].nominal.x = -s[i].nominal.x;
    ck_status(stations(s, 6, free_turn(), false, &o), JAW_OK);
    ck_assert(o.flags & JAW_MIRRORED);
    plate(6, 0.3, (jaw_vec3){0, 0, 0}, s);
    s[5].touched.z += 0.1; /* height alone */
    ck_status(stations(s, 6, free_turn(), false, &o), JAW_OK);
    ck_assert_uint_eq(o.flags, JAW_RESIDUAL);
}
END_TEST

/* x and y here, z there, or no height at all. */
START_TEST(heights_of_their_own)
{
    jaw_station s[5];
    outcome o;

    plate(5, 0.1, (jaw_vec3){1, 2, 3}, s);
    s[0].touched.z = NOT;
    s[4].touched.x = s[4].touched.y = NOT;
    ck_status(stations(s, 5, free_turn(), false, &o), JAW_OK);
    near(o.at[0].place.z, 3, 1e-14, "z from the others");
    ck_assert(isnan(o.at[0].off.z) && !isnan(o.at[0].off.x));
    ck_assert(isnan(o.at[4].off.x) && !isnan(o.at[4].off.z));
    for (int i = 0; i < 5; i++)
        s[i].touched.z = NOT;
    ck_status(stations(s, 5, free_turn(), true, &o), JAW_OK);
    for (int i = 0; i < 5; i++) {
        ck_assert(isnan(o.at[i].place.z) && isnan(o.at[i].axis[2].u));
        ck_assert(isfinite(o.at[i].place.x));
    }
}
END_TEST

/* Moved, reordered, turned, scaled. */
START_TEST(holds_for_any_data)
{
    random_source r = random_start("holds_for_any_data", 4100);

    for (int set = 0; set < 200; set++) {
        size_t n = 3 + random_below(&r, 8);
        jaw_station s[12], t[12];
        outcome o, p;
        double turn = random_between(&r, -3, 3), c = cos(turn), si = sin(turn);
        plate(n, random_between(&r, -3, 3), (jaw_vec3){9, 8, 7}, s);
        for (size_t i = 0; i < n; i++) {
            s[i].u_xy = random_between(&r, 0.001, 0.02);
            s[i].known = random_between(&r, 0, 0.02);
            s[i].touched.x += random_between(&r, -0.02, 0.02);
            s[i].touched.y += random_between(&r, -0.02, 0.02);
            s[i].touched.z += random_between(&r, -0.02, 0.02);
        }
        for (size_t i = 0; i < n; i++) {
            jaw_station *to = &t[n - 1 - i];
            jaw_vec3 q = s[i].touched;
            *to = s[i];
            to->nominal.x += 31;
            to->nominal.z -= 5;
            to->touched = (jaw_vec3){c * q.x - si * q.y, si * q.x + c * q.y,
                                     q.z + 2};
        }
        ck_status(stations(s, n, free_turn(), set & 1, &o), JAW_OK);
        ck_status(stations(t, n, free_turn(), set & 1, &p), JAW_OK);
        near(jaw_angle_full(p.turn.value - o.turn.value - turn), 0, 1e-14,
             "turn");
        near(p.rms, o.rms, 1e-12, "rms");
        for (size_t i = 0; i < n; i++) {
            const jaw_station_found *a = &o.at[i], *b = &p.at[n - 1 - i];
            near(b->place.x, c * a->place.x - si * a->place.y, 1e-12, "x");
            near(b->place.y, si * a->place.x + c * a->place.y, 1e-12, "y");
            near(b->place.z, a->place.z + 2, 1e-12, "z");
            near(b->off.x, c * a->off.x - si * a->off.y, 1e-11, "off");
            near(b->axis[2].u, a->axis[2].u, 1e-12, "u");
        }
    }
}
END_TEST

TCase *stations_case(void)
{
    TCase *tc = tcase_create("stations");
    tcase_add_loop_test(tc, plate_is_found, 0, COUNT(turns));
    tcase_add_test(tc, two_vises_by_hand);
    tcase_add_test(tc, one_station_and_a_turn);
    tcase_add_test(tc, turn_has_its_weight);
    tcase_add_test(tc, bad_station_is_named);
    tcase_add_test(tc, known_against_touched);
    tcase_add_test(tc, spread_from_residuals);
    tcase_add_test(tc, flags);
    tcase_add_test(tc, heights_of_their_own);
    tcase_add_test(tc, holds_for_any_data);
    return tc;
}
