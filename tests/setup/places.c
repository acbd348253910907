/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stations and the second side against worlds laid out by hand: a plate with
 * its stations is put somewhere and turned, a part is turned over in space by a
 * matrix; what touching them would read is told, and the truth must come
 * back. */
#include "setup_tests.h"

#include <stdio.h>
#include <string.h>

static bool noted(const shop *s, const char *text)
{
    for (size_t i = 0; i < jaw_notes_count(s->notes); i++) {
        const jaw_note *n = jaw_notes_get(s->notes, i);
        if (strstr(n->what, text) || strstr(n->cure, text))
            return true;
    }
    return false;
}

/* A bore of 20 with its centre there, in four touches. */
static void ring(shop *s, const char *name, double x, double y)
{
    feature(s, JAW_BORE, name, "stylus");
    for (int i = 0; i < 4; i++)
        touch(s, x + 8 * cos(0.3 + PI / 2 * i), y + 8 * sin(0.3 + PI / 2 * i),
              NOT);
}

static void level(shop *s, const char *name, double x, double y, double z)
{
    feature(s, JAW_FACE, name, "stylus");
    touch(s, x, y, z + 100);
    touch(s, x + 30, y, z + 100);
    touch(s, x, y + 30, z + 100);
}

/* ----------------------------------------------------------------- stations */

/* The plate's zero stands at (-300, -200, -400), turned by `turn`. */
static jaw_vec3 on_plate(double turn, double x, double y, double z)
{
    return (jaw_vec3){-300 + cos(turn) * x - sin(turn) * y,
                      -200 + sin(turn) * x + cos(turn) * y, -400 + z};
}

static const double places[][3] = {
    {0, 0, 0}, {150, 0, 0}, {150, 120, 12}, {0, 120, 12}, {300, 60, -5}};
static const char *const registers[] = {"G54", "G55", "G56", "G57",
                                        "G54.1P1"};

static void start(shop *s, bool can_turn)
{
    shop_open(s, JAW_MM);
    control(s, can_turn, JAW_GAUGE_LINE, 0);
    tip(s, "stylus", JAW_TIP_BALL, 4, 0.002, 100);
}

static void stations(shop *s, const char *turn, bool adjusted, double known)
{
    jaw_task t = {.kind = JAW_TASK_STATIONS,
                  .name = "grid",
                  .as.stations = {.turn_use = turn ? JAW_TURN_FEATURE
                                                   : JAW_TURN_NONE,
                                  .turn_feature = turn,
                                  .turn_along = JAW_X,
                                  .known = known,
                                  .adjusted = adjusted,
                                  .turn_place = {s->line + 1, 1, 0}}};
    task(s, t);
}

static void rail(shop *s, double turn)
{
    jaw_vec3 a = on_plate(turn, 0, -30, 0), b = on_plate(turn, 300, -30, 0);

    edge(s, "rail", "stylus", JAW_SIDE_YMINUS);
    touch(s, a.x + 2 * sin(turn), a.y - 2 * cos(turn), NOT);
    touch(s, b.x + 2 * sin(turn), b.y - 2 * cos(turn), NOT);
}

/* Its own ring stands at part coordinates (20, 10); off is how far station and
 * drawing differ in machine x. */
static void touched_station(shop *s, int i, double turn, double off)
{
    static char names[10][8];
    double at[3] = {places[i][0], places[i][1], places[i][2]};
    jaw_vec3 c = on_plate(turn, at[0] + 20, at[1] + 10, at[2]);

    snprintf(names[i], 8, "ring%d", i);
    snprintf(names[5 + i], 8, "top%d", i);
    ring(s, names[i], c.x + off, c.y);
    level(s, names[5 + i], c.x, c.y, c.z);
    zero(s, registers[i],
         (wanted){.turn = "rail", .along = JAW_X, .x = names[i],
                  .y = names[i], .z = names[5 + i], .at_x = 20, .at_y = 10,
                  .station = "grid", .among = {at[0], at[1], at[2]}});
}

static void predicted_station(shop *s, int i)
{
    zero(s, registers[i],
         (wanted){.station = "grid",
                  .among = {places[i][0], places[i][1], places[i][2]}});
}

static void is_at(const shop *s, int i, double turn)
{
    const jaw_zero_found *z = zero_found(s, registers[i]);
    jaw_vec3 want = on_plate(turn, places[i][0], places[i][1], places[i][2]);

    ck_status(z->status, JAW_OK);
    near(z->zero.x, want.x, 1e-8, "x");
    near(z->zero.y, want.y, 1e-8, "y");
    near(z->zero.z, want.z, 1e-8, "z");
    near(z->turn, turn, 1e-6, "turn");
    near(z->enter.x, want.x, 0.00051, "x to enter");
    for (int a = 0; a < JAW_AXES; a++)
        ck_assert(z->trust[a].u > 0);
}

/* One, two or three touched; the rest follows, whatever else is stated. */
START_TEST(untouched_follow)
{
    const int touched = 1 + _i % 3;
    const bool adjusted = _i / 3 % 2 == 1;
    const double turn = 0.02;
    shop s;

    start(&s, true);
    rail(&s, turn);
    stations(&s, _i >= 6 ? "rail" : NULL, adjusted, 0.01);
    for (int i = 0; i < 5; i++)
        if (i < touched)
            touched_station(&s, i, turn, 0);
        else
            predicted_station(&s, i);
    solve(&s);
    ck_status(s.status, JAW_OK);
    ck_assert_uint_eq(severe(&s, JAW_DOUBT), 0);
    for (int i = 0; i < 5; i++)
        is_at(&s, i, turn);
    const jaw_finding *f = finding(&s, "grid");
    near(item(f, "turn of")->value, turn, 1e-8, "turn of the stations");
    ck_assert_int_eq(f->dof, 2 * touched - (_i >= 6 || touched == 1 ? 2 : 3));
    shop_close(&s);
}
END_TEST

/* One station, its own turn, a place 150 away: u of x is that of the touched
 * one and of two nominal places, of y the turn's share at the arm as well. */
START_TEST(uncertainty_of_a_neighbour)
{
    shop s;

    start(&s, true);
    rail(&s, 0);
    stations(&s, NULL, false, 0.01);
    touched_station(&s, 0, 0, 0);
    predicted_station(&s, 1);
    solve(&s);
    const jaw_value_trust *a = zero_found(&s, "G54")->trust;
    const jaw_value_trust *b = zero_found(&s, "G55")->trust;
    const double places2 = 2 * 0.01 * 0.01, ring2 = 0.002 * 0.002 / 2;
    const double turn = 0.002 * sqrt(2.0) / 300;
    /* W = ring - R (20, 10): x goes with +10, y with -20 times the turn */
    near(a[JAW_X].u, sqrt(ring2 + 100 * turn * turn), 1e-8, "x, touched");
    near(b[JAW_X].u, sqrt(ring2 + 100 * turn * turn + places2), 1e-8, "x");
    near(b[JAW_Y].u,
         sqrt(ring2 + pow((150 - 20) * turn, 2) + places2), 1e-8, "y");
    near(b[JAW_X].half95, 1.959964 * b[JAW_X].u, 1e-8, "x, interval");
    double sum = 0;
    for (size_t k = 0; k < b[JAW_Y].n_budget; k++)
        sum += b[JAW_Y].budget[k].u * b[JAW_Y].budget[k].u;
    near(sqrt(sum), b[JAW_Y].u, 1e-9, "what it is made of");
    near(zero_found(&s, "G55")->turn_trust.u, turn, 1e-9, "turn");
    shop_close(&s);
}
END_TEST

/* A far station stands on how the rail lies: its ends again are what helps, and
 * taken twice they do what was said. */
static jaw_value_trust far_station(bool twice, jaw_next *next)
{
    shop s;

    start(&s, true);
    rail(&s, 0);
    if (twice) {
        jaw_vec3 a = on_plate(0, 0, -30, 0);
        touch(&s, a.x, a.y - 2, NOT);
    }
    stations(&s, NULL, false, 0.0001);
    touched_station(&s, 0, 0, 0);
    predicted_station(&s, 4);
    solve(&s);
    const jaw_zero_found *z = zero_found(&s, registers[4]);
    *next = z->next[JAW_Y];
    if (!twice) {
        ck_assert_ptr_nonnull(next->text);
        ck_assert_msg(strstr(next->text, "touch 'rail' once more") != NULL,
                      "%s", next->text);
    }
    next->text = NULL; /* goes with the solution */
    jaw_value_trust t = z->trust[JAW_Y];
    shop_close(&s);
    return t;
}

START_TEST(one_more_for_a_neighbour)
{
    jaw_next next, later;
    jaw_value_trust before = far_station(false, &next);
    jaw_value_trust after = far_station(true, &later);

    ck_assert_double_lt(after.half95, before.half95);
    near(next.half95, after.half95, 1e-6 * after.half95, "half95");
}
END_TEST

/* One of four is 0.2 off: it is named, the others are not; with two the
 * distance alone is seen. */
START_TEST(one_that_is_off)
{
    shop s;

    start(&s, true);
    rail(&s, 0.01);
    stations(&s, "rail", false, 0.005);
    for (int i = 0; i < 4; i++)
        touched_station(&s, i, 0.01, i == 2 ? 0.2 : 0);
    predicted_station(&s, 4);
    solve(&s);
    const jaw_finding *f = finding(&s, "grid");
    near(item(f, "G56 off in X")->value, 0.2, 0.001, "its own");
    near(item(f, "G56 off in Z")->value, 0, 1e-8, "its height");
    ck_assert(f->flags & JAW_RESIDUAL);
    ck_assert(noted(&s, "G56 lies 0.2"));
    ck_assert_uint_eq(severe(&s, JAW_DOUBT), 1);
    near(zero_found(&s, "G56")->zero.x - on_plate(0.01, 150, 120, 12).x, 0.2,
         1e-8, "keeps its own");
    shop_close(&s);
    start(&s, true);
    rail(&s, 0);
    stations(&s, NULL, false, 0.005);
    touched_station(&s, 0, 0, 0);
    touched_station(&s, 1, 0, 0.2);
    solve(&s);
    ck_assert(noted(&s, "disagree by 0.200"));
    shop_close(&s);
}
END_TEST

/* Spacing known exactly: all touched ones take what they say together, and lie
 * apart as stated to the last digit. */
START_TEST(adjusted_lie_as_stated)
{
    shop s;

    start(&s, true);
    rail(&s, 0);
    stations(&s, "rail", true, 1e-6);
    touched_station(&s, 0, 0, 0.001);
    touched_station(&s, 1, 0, -0.001);
    solve(&s);
    const jaw_zero_found *a = zero_found(&s, "G54"),
                         *b = zero_found(&s, "G55");
    near(b->zero.x - a->zero.x, 150, 1e-6, "apart");
    near(a->zero.x, -300, 1e-6, "the mean");
    shop_close(&s);
}
END_TEST

/* A control that can not turn still finds the neighbour where it is; parts that
 * lie square in a row that does not are not turned; what stands alone keeps its
 * own. */
START_TEST(row_that_is_not_square)
{
    shop s;
    jaw_vec3 want = on_plate(0.03, 300, 60, -5);

    start(&s, true);
    stations(&s, NULL, false, 0.01);
    ring(&s, "a", -300, -200);
    jaw_vec3 b = on_plate(0.03, 150, 0, 0);
    ring(&s, "b", b.x, b.y);
    zero(&s, "G54", (wanted){.x = "a", .y = "a", .station = "grid"});
    zero(&s, "G55", (wanted){.x = "b", .y = "b", .station = "grid",
                             .among = {150, 0, 0}});
    predicted_station(&s, 4);
    solve(&s);
    near(zero_found(&s, "G54.1P1")->zero.x, want.x, 1e-8, "x");
    near(zero_found(&s, "G54.1P1")->zero.y, want.y, 1e-8, "y");
    ck_assert(isnan(zero_found(&s, "G54.1P1")->turn));
    ck_assert(isnan(zero_found(&s, "G54.1P1")->zero.z));
    ck_assert(noted(&s, "G54.1P1: no turn is stated"));
    shop_close(&s);
}
END_TEST

/* ---------------------------------------------------------------- side two */

typedef struct turned {
    double m[3][3]; /* part of side one to machine */
    jaw_vec3 at;    /* machine place of side one's zero */
} turned;

/* Half a turn about an axis of the part, then a turn by `skew` on the table. */
static turned lay(jaw_over over, double skew)
{
    const double half[3][3] = {{1, -1, -1}, {-1, 1, -1}, {-1, -1, 1}};
    const double c = cos(skew), s = sin(skew);
    const double table[3][3] = {{c, -s, 0}, {s, c, 0}, {0, 0, 1}};
    turned t = {.at = {-250, -180, -350}};

    for (int i = 0; i < 3; i++)
        for (int k = 0; k < 3; k++)
            t.m[i][k] = table[i][k] * half[over][k];
    return t;
}

static jaw_vec3 direction(const turned *t, double x, double y, double z)
{
    return (jaw_vec3){t->m[0][0] * x + t->m[0][1] * y + t->m[0][2] * z,
                      t->m[1][0] * x + t->m[1][1] * y + t->m[1][2] * z,
                      t->m[2][0] * x + t->m[2][1] * y + t->m[2][2] * z};
}

static jaw_vec3 lies(const turned *t, double x, double y, double z)
{
    jaw_vec3 d = direction(t, x, y, z);

    return (jaw_vec3){t->at.x + d.x, t->at.y + d.y, t->at.z + d.z};
}

static jaw_side nearest(jaw_vec3 n)
{
    if (fabs(n.x) > fabs(n.y))
        return n.x > 0 ? JAW_SIDE_XPLUS : JAW_SIDE_XMINUS;
    return n.y > 0 ? JAW_SIDE_YPLUS : JAW_SIDE_YMINUS;
}

/* A wall of the part from one place to another, with its outward normal. */
static void wall(shop *s, const turned *t, const char *name, const double a[2],
                 const double b[2], const double normal[2])
{
    jaw_vec3 n = direction(t, normal[0], normal[1], 0);
    jaw_vec3 p = lies(t, a[0], a[1], 0), q = lies(t, b[0], b[1], 0);

    edge(s, name, "stylus", nearest(n));
    touch(s, p.x + 2 * n.x, p.y + 2 * n.y, NOT);
    touch(s, q.x + 2 * n.x, q.y + 2 * n.y, NOT);
}

static void side_two(shop *s, jaw_over over, const double at[3], double cut)
{
    jaw_task t = {.kind = JAW_TASK_SIDE,
                  .name = "two",
                  .as.side = {over, {at[0], at[1], at[2]}, cut}};
    task(s, t);
}

static const double new_zero[3] = {120, 10, -25};

/* The part is 120 by 80 by 25, its zero on the left front corner of its top. */
static void tell_walls(shop *s, const turned *t, jaw_over over)
{
    bool up = over == JAW_OVER_Z;
    jaw_vec3 z = lies(t, 40, 40, up ? 0 : -25);

    wall(s, t, "front", (double[]){5, 0}, (double[]){110, 0},
         (double[]){0, -1});
    wall(s, t, "right", (double[]){120, 10}, (double[]){120, 70},
         (double[]){1, 0});
    level(s, "top", z.x, z.y, z.z);
    zero(s, "G55", (wanted){.turn = "front", .along = JAW_X, .x = "right",
                            .at_x = 120, .y = "front", .at_y = 0, .z = "top",
                            .at_z = up ? 0 : -25});
}

static const double holes[][2] = {{10, 10}, {100, 14}, {90, 70}, {12, 61}};

/* Its drawing may have an origin of its own on the part. */
static void tell_pattern(shop *s, const turned *t, const double own[2])
{
    feature(s, JAW_PATTERN, "dowels", NULL);
    for (int i = 0; i < COUNT(holes); i++) {
        jaw_vec3 p = lies(t, holes[i][0], holes[i][1], 0);
        hole(s, holes[i][0] - own[0], holes[i][1] - own[1], p.x, p.y);
    }
    zero(s, "G56", (wanted){.turn = "dowels", .along = JAW_AXES,
                            .x = "dowels", .y = "dowels", .at_x = own[0],
                            .at_y = own[1]});
}

START_TEST(turned_over)
{
    const jaw_over over = (jaw_over)(_i % 3);
    const double skew = _i < 3 ? 0.01 : -0.015;
    turned t = lay(over, skew);
    jaw_vec3 want = lies(&t, new_zero[0], new_zero[1], new_zero[2]);
    shop s;

    start(&s, true);
    side_two(&s, over, new_zero, 0.01);
    tell_walls(&s, &t, over);
    tell_pattern(&s, &t, _i < 3 ? (double[]){0, 0} : (double[]){30, -20});
    solve(&s);
    ck_status(s.status, JAW_OK);
    ck_assert_uint_eq(severe(&s, JAW_DOUBT), 0);
    const jaw_zero_found *z = zero_found(&s, "G55");
    near(z->zero.x, want.x, 1e-8, "x");
    near(z->zero.y, want.y, 1e-8, "y");
    near(z->zero.z, want.z, 1e-8, "z");
    near(z->skew, skew, 1e-9, "skew");
    const jaw_zero_found *p = zero_found(&s, "G56");
    ck_assert_uint_eq(found(&s, "dowels")->flags & JAW_MIRRORED, 0);
    near(p->zero.x, want.x, 1e-8, "by the pattern, x");
    near(p->zero.y, want.y, 1e-8, "by the pattern, y");
    near(p->skew, skew, 1e-9, "the pattern's");
    shop_close(&s);
}
END_TEST

/* Not told: a mirror image, and what to write; about its own Z it is none. */
START_TEST(not_told)
{
    turned t = lay((jaw_over)_i, 0.01);
    shop s;

    start(&s, true);
    tell_pattern(&s, &t, (double[]){0, 0});
    solve(&s);
    bool mirrored = _i != JAW_OVER_Z;
    ck_assert_int_eq((found(&s, "dowels")->flags & JAW_MIRRORED) != 0,
                     mirrored);
    ck_assert_int_eq(noted(&s, "`side two over"), mirrored);
    shop_close(&s);
    start(&s, true); /* told of a part that was not turned */
    side_two(&s, (jaw_over)_i, new_zero, 0);
    t = (turned){{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, {0, 0, 0}};
    tell_pattern(&s, &t, (double[]){0, 0});
    solve(&s);
    ck_assert_int_eq((found(&s, "dowels")->flags & JAW_MIRRORED) != 0,
                     mirrored);
    ck_assert_int_eq(noted(&s, "about which axis"), mirrored);
    shop_close(&s);
}
END_TEST

/* u of the mismatch: of the zero, and twice cut^2; at the far end with the
 * turn's share; a skew that the control can not take shows there. */
START_TEST(both_sides_meet)
{
    const double cut = 0.008, skew = 0.002;
    const bool can_turn = _i == 1;
    turned t = lay(JAW_OVER_X, skew);
    shop s;

    start(&s, can_turn);
    side_two(&s, JAW_OVER_X, new_zero, cut);
    tell_walls(&s, &t, JAW_OVER_X);
    tool(&s, 3, 80);
    solve(&s);
    const jaw_zero_found *z = zero_found(&s, "G55");
    const jaw_finding *f = finding(&s, "two");
    const double wide = 1.959964;
    jaw_vec3 zero_is = lies(&t, new_zero[0], new_zero[1], new_zero[2]);
    near(item(f, "X off, at the zero")->value, z->enter.x - zero_is.x, 1e-8,
         "x");
    near(item(f, "Y off, at the zero")->value, z->enter.y - zero_is.y, 1e-8,
         "y");
    if (can_turn) {
        near(item(f, "X off, at the zero")->half95,
             wide * sqrt(pow(z->trust[JAW_X].u, 2) + 2 * cut * cut), 1e-6,
             "its interval");
    }
    near(item(f, "tool 3")->half95,
         wide * sqrt(pow(z->trust[JAW_Z].u, 2) + 2 * cut * cut), 1e-6, "z");
    /* the far end in space: side two's place back on side one's drawing */
    jaw_vec3 one = {new_zero[0] + z->far_work.x, new_zero[1] - z->far_work.y,
                    new_zero[2]};
    jaw_vec3 is = lies(&t, one.x, one.y, one.z);
    double c = can_turn ? cos(z->turn) : 1, q = can_turn ? sin(z->turn) : 0;
    double x = z->enter.x + c * z->far_work.x - q * z->far_work.y;
    double y = z->enter.y + q * z->far_work.x + c * z->far_work.y;
    near(item(f, "X off, at the far end")->value, x - is.x, 1e-8, "far x");
    near(item(f, "Y off, at the far end")->value, y - is.y, 1e-8, "far y");
    ck_assert(hypot(x - is.x, y - is.y) > (can_turn ? 0 : 0.1));
    shop_close(&s);
}
END_TEST

START_TEST(what_no_setup_holds)
{
    shop s;
    jaw_task side = {.kind = JAW_TASK_SIDE, .name = "two"};
    jaw_task row = {.kind = JAW_TASK_STATIONS, .name = "row"};
    jaw_zero_entry e = {.name = "G54", .station = "row",
                        .station_at = {NOT, 0, 0}};

    shop_open(&s, JAW_MM);
    side.as.side.over = (jaw_over)3;
    ck_status(jaw_setup_add_task(s.setup, &side), JAW_EDOMAIN);
    side.as.side = (jaw_side_task){JAW_OVER_X, {0, NOT, 0}, 0};
    ck_status(jaw_setup_add_task(s.setup, &side), JAW_EDOMAIN);
    side.as.side = (jaw_side_task){JAW_OVER_X, {0, 0, 0}, -1};
    ck_status(jaw_setup_add_task(s.setup, &side), JAW_EDOMAIN);
    side.as.side.cut = 0;
    ck_status(jaw_setup_add_task(s.setup, &side), JAW_OK);
    ck_status(jaw_setup_add_task(s.setup, &side), JAW_EDOMAIN);
    row.as.stations.known = -1;
    ck_status(jaw_setup_add_task(s.setup, &row), JAW_EDOMAIN);
    row.as.stations = (jaw_stations_task){.turn_use = JAW_TURN_STATED,
                                          .turn = NOT};
    ck_status(jaw_setup_add_task(s.setup, &row), JAW_EDOMAIN);
    row.as.stations = (jaw_stations_task){.turn_use = JAW_TURN_FEATURE};
    ck_status(jaw_setup_add_task(s.setup, &row), JAW_EDOMAIN);
    ck_status(jaw_setup_add_zero(s.setup, &e), JAW_EDOMAIN);
    shop_close(&s);
}
END_TEST

TCase *places_case(void)
{
    TCase *tc = tcase_create("places");
    tcase_add_loop_test(tc, untouched_follow, 0, 12);
    tcase_add_test(tc, uncertainty_of_a_neighbour);
    tcase_add_test(tc, one_more_for_a_neighbour);
    tcase_add_test(tc, one_that_is_off);
    tcase_add_test(tc, adjusted_lie_as_stated);
    tcase_add_test(tc, row_that_is_not_square);
    tcase_add_loop_test(tc, turned_over, 0, 6);
    tcase_add_loop_test(tc, not_told, 0, 3);
    tcase_add_loop_test(tc, both_sides_meet, 0, 2);
    tcase_add_test(tc, what_no_setup_holds);
    return tc;
}
