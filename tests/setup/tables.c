/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bars, balls and dials on a rotary table that really turns, by Rodrigues'
 * formula about a line in space: what was laid out comes back, and 95 in 100
 * intervals hold it.
 *
 * A point of the world is (along the table's axis, first, second coordinate of
 * its plane): by the right hand, whichever machine axis that is. */
#include "setup_tests.h"

#include "tests/feature/random.h"

#include <stdio.h>
#include <string.h>

enum { MOST = 8 };

static const char *const name_of[MOST] = {"a", "b", "c", "d",
                                          "e", "f", "g", "h"};
static const double ball = 2, stylus = 110; /* radius and length of the tip */

typedef struct table {
    jaw_axis about;
    int sense;
    jaw_vec3 at, lean;  /* on its axis; along it: 1, lean, lean */
    size_t n;           /* angles, rad */
    double angle[MOST];
    double s;           /* mm, of a touch */
    double off[2];      /* mm, errors of the tip's length and diameter, which
                           all touches share */
    random_source *r;   /* NULL: no errors */
    shop *shop;
} table;

static jaw_vec3 plus(jaw_vec3 a, double t, jaw_vec3 b)
{
    return (jaw_vec3){a.x + t * b.x, a.y + t * b.y, a.z + t * b.z};
}

static double dot(jaw_vec3 a, jaw_vec3 b)
{
    return a.x * b.x + a.y * b.y + a.z * b.z;
}

static jaw_vec3 cross(jaw_vec3 a, jaw_vec3 b)
{
    return (jaw_vec3){a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z,
                      a.x * b.y - a.y * b.x};
}

static jaw_vec3 unit(jaw_vec3 a)
{
    double h = sqrt(dot(a, a));

    return (jaw_vec3){a.x / h, a.y / h, a.z / h};
}

static jaw_vec3 turned(const table *t, jaw_vec3 p, double angle)
{
    jaw_vec3 u = unit(t->lean), v = plus(p, -1, t->at), w = cross(u, v);
    double c = cos(t->sense * angle), s = sin(t->sense * angle);

    return plus(plus(plus(plus(t->at, c, v), s, w), dot(u, v), u),
                -c * dot(u, v), u);
}

/* x y z, y z x or z x y */
static jaw_vec3 on_machine(const table *t, jaw_vec3 p)
{
    return t->about == JAW_X   ? p
           : t->about == JAW_Y ? (jaw_vec3){p.z, p.x, p.y}
                               : (jaw_vec3){p.y, p.z, p.x};
}

static double noise(const table *t)
{
    return t->r ? t->s * random_normal(t->r) : 0;
}

/* The ball's centre at p, off by an error along v; the end of the ball that is
 * as long and as thick as it is, is what is read. */
static void touch_at(const table *t, jaw_vec3 p, jaw_vec3 v)
{
    jaw_vec3 q = plus(p, noise(t) + t->off[1] / 2, v);

    touch(t->shop, q.x, q.y,
          q.z - ball - t->off[1] / 2 + stylus + t->off[0]);
}

static void start(const table *t)
{
    jaw_tip_entry e = {.name = "stylus",
                       .tip = jaw_tip_make(JAW_TIP_BALL, 2 * ball),
                       .length_known = t->r ? 0.003 : 0,
                       .diameter_known = t->r ? 0.002 : 0,
                       .place = shop_next(t->shop)};
    e.tip.repeat = t->s;
    e.tip.length = stylus;
    ck_status(jaw_setup_add_tip(t->shop->setup, &e), JAW_OK);
}

/* A bar through two points of the world at angle 0: both sides and the top at
 * both ends, and the top between them. */
static void put_bar(const table *t, size_t i, const jaw_vec3 end[2],
                    double radius)
{
    jaw_vec3 a = on_machine(t, turned(t, end[0], t->angle[i]));
    jaw_vec3 b = on_machine(t, turned(t, end[1], t->angle[i]));
    jaw_vec3 d = unit(plus(b, -1, a)), side = unit((jaw_vec3){-d.y, d.x, 0});
    jaw_vec3 up = unit(cross((jaw_vec3){d.x, d.y, d.z}, side));

    sized(t->shop, JAW_BAR, name_of[i], "stylus", JAW_SIZE_FREE, 0);
    for (int k = 0; k < 7; k++) {
        double f = k == 6 ? 0.5 : k / 3;
        jaw_vec3 p = plus(a, f, plus(b, -1, a));
        jaw_vec3 v = k % 3 == 0   ? up
                     : k % 3 == 1 ? side
                                  : plus((jaw_vec3){0, 0, 0}, -1, side);
        touch_at(t, plus(p, radius + ball, v), v);
    }
}

static void put_ball(const table *t, const char *name, jaw_vec3 centre,
                     double angle)
{
    jaw_vec3 c = on_machine(t, turned(t, centre, angle));

    sized(t->shop, JAW_BALL, name, "stylus", JAW_SIZE_FREE, 0);
    for (int k = 0; k < 6; k++) {
        jaw_vec3 v = k < 4 ? (jaw_vec3){cos(k * PI / 2), sin(k * PI / 2), 0}
                           : unit((jaw_vec3){k == 4, 1, 3 - 3 * (k == 5)});
        if (k == 5)
            v = (jaw_vec3){0, 0, 1};
        touch_at(t, plus(c, 9 + ball, v), v);
    }
}

/* An indicator swept round inside a bore at p, some way off its centre. */
static void put_dial(const table *t, size_t i, jaw_vec3 p)
{
    jaw_vec3 c = on_machine(t, turned(t, p, t->angle[i]));
    double x = c.x + 0.021, y = c.y - 0.034;

    dial(t->shop, name_of[i], true, x, y, 20, t->s);
    for (int k = 0; k < 5; k++) {
        double a = 0.2 + 1.25 * k, u = cos(a), v = sin(a);
        double b = u * (x - c.x) + v * (y - c.y);
        double h = sqrt(b * b + 100 - 0.021 * 0.021 - 0.034 * 0.034);
        touch(t->shop, a, NOT, -(h - b) + noise(t)); /* farther out: less */
    }
}

static const char *const runout_name[2] = {"near", "far"};

/* An indicator that rests on the bar at s along the table's axis, on the side
 * of one of the other two; it stays while the table turns. */
static void put_runout(const table *t, int k, const jaw_vec3 end[2], double s,
                       jaw_axis on, bool minus)
{
    jaw_task e = {.kind = JAW_TASK_RUNOUT,
                  .name = runout_name[k],
                  .as.runout = {.on = on,
                                .minus = minus,
                                .at = s,
                                .repeat = t->s}};

    task(t->shop, e);
    for (int i = 0; i < 6; i++) {
        double angle = 0.4 + i;
        jaw_vec3 a = turned(t, end[0], angle), b = turned(t, end[1], angle);
        jaw_vec3 p = plus(a, (s - a.x) / (b.x - a.x), plus(b, -1, a));
        jaw_vec3 m = on_machine(t, p);
        double v = on == JAW_X ? m.x : on == JAW_Y ? m.y : m.z;
        reading(t->shop, angle, (minus ? -v : v) + noise(t), false);
    }
}

static void put_rotary(const table *t, double apart, int runouts)
{
    jaw_task e = {.kind = JAW_TASK_ROTARY,
                  .name = "table",
                  .as.rotary = {.about = t->about,
                                .runout = {runouts > 0 ? runout_name[0] : NULL,
                                           runouts > 1 ? runout_name[1] : NULL},
                                .sense = t->sense > 0 ? JAW_SENSE_RIGHT
                                                      : JAW_SENSE_LEFT,
                                .apart = apart,
                                .repeat = NOT}};
    task(t->shop, e);
    for (size_t i = 0; i < t->n; i++) {
        jaw_reading r = {.at = t->angle[i],
                         .value = NOT,
                         .other = NOT,
                         .feature = name_of[i],
                         .place = shop_next(t->shop)};
        ck_status(jaw_setup_add_reading(t->shop->setup, &r), JAW_OK);
    }
}

static void put_indexed(const table *t, const char *name, const char *source,
                        double to, double from)
{
    jaw_zero_entry e = {.name = name,
                        .turn_along = JAW_AXES,
                        .place = shop_next(t->shop),
                        .index = {.source = source,
                                  .table = "table",
                                  .to = to,
                                  .from = from}};
    ck_status(jaw_setup_add_zero(t->shop->setup, &e), JAW_OK);
}

static const char letter[] = {'X', 'Y', 'Z'};

static const jaw_item *said(const table *t, const char *format, int k)
{
    char text[80];

    snprintf(text, sizeof text, format,
             letter[((int)t->about + 1 + k) % 3]);
    return item(finding(t->shop, "table"), text);
}

static double coordinate(jaw_vec3 v, int k)
{
    return k == 0 ? v.x : k == 1 ? v.y : v.z;
}

/* -------------------------------------------------------- what is laid out */

static void lay_out(table *t, shop *s, int i)
{
    *t = (table){.about = i % 2 ? JAW_Y : JAW_X,
                 .sense = i / 2 % 2 ? -1 : 1,
                 .at = {145, -120, -210},
                 .lean = {1, 4e-4, -3e-4},
                 .n = 3,
                 .angle = {0.3, 1.9, 4.4},
                 .s = 0.002,
                 .shop = s};
    shop_open(s, JAW_MM);
}

/* A bar that runs out and leans in its chuck; the loop counts axis and sense,
 * and whether only half a turn was made. */
START_TEST(bar_on_a_table)
{
    const jaw_vec3 end[2] = {{120, -119.95, -210.03}, {170, -119.91, -210.06}};
    shop s;
    table t;

    lay_out(&t, &s, _i);
    if (_i >= 4) {
        t.n = 2;
        t.angle[1] = t.angle[0] + PI;
    }
    start(&t);
    for (size_t i = 0; i < t.n; i++)
        put_bar(&t, i, end, 8);
    put_rotary(&t, NOT, 0);
    solve(&s);
    ck_status(s.status, JAW_OK);
    ck_assert_uint_eq(severe(&s, JAW_DOUBT), 0);
    const jaw_finding *f = finding(&s, "table");
    double at = item(f, "seen at machine")->value;
    near(at, 145, 0.05, "station");
    for (int k = 0; k < 2; k++) {
        double lean = coordinate(t.lean, k + 1);
        /* of second order: leans times runout */
        near(said(&t, "centre line, machine %c", k)->value,
             coordinate(t.at, k + 1) + lean * (at - 145), 1e-5, "centre");
        near(said(&t, "leans to %c+", k)->value, lean, 2e-6, "lean");
        ck_assert(said(&t, "centre line, machine %c", k)->half95 > 0.0005);
    }
    /* the bar's axis at the station, less the table's */
    double f1 = (at - 120) / 50;
    near(item(f, "runout of the bar")->value,
         2 * hypot(0.05 + 0.04 * f1 - 4e-4 * (at - 145),
                   -0.03 - 0.03 * f1 + 3e-4 * (at - 145)), 2e-5, "runout");
    near(item(f, "the bar leans")->value, hypot(0.0008 - 4e-4, -0.0006 + 3e-4),
         2e-6, "its lean");
    ck_assert_int_eq(f->dof, _i >= 4 ? 0 : 4);
    ck_assert(_i >= 4 ? (f->flags & JAW_NO_CHECK) != 0 : f->rms < 1e-4);
    shop_close(&s);
}
END_TEST

/* The same from one angle, and an indicator beside the bar in one place or in
 * two; the loop counts axis and sense, one or two, and either side. */
START_TEST(bar_under_an_indicator)
{
    const jaw_vec3 end[2] = {{120, -119.95, -210.03}, {170, -119.91, -210.06}};
    const int runouts = _i / 4 % 2 + 1;
    shop s;
    table t;

    lay_out(&t, &s, _i);
    t.n = 1;
    start(&t);
    put_bar(&t, 0, end, 8);
    for (int k = 0; k < runouts; k++)
        put_runout(&t, k, end, k ? 166 : 124,
                   k ? JAW_Z : t.about == JAW_X ? JAW_Y : JAW_X, _i >= 8);
    put_rotary(&t, NOT, runouts);
    solve(&s);
    ck_status(s.status, JAW_OK);
    ck_assert_uint_eq(severe(&s, JAW_DOUBT), 0);
    const jaw_finding *f = finding(&s, "table");
    double at = item(f, "seen at machine")->value;
    near(at, runouts == 2 ? 145 : 124, 1e-12, "station");
    for (int k = 0; k < 2; k++) {
        double lean = coordinate(t.lean, k + 1);
        near(said(&t, "centre line, machine %c", k)->value,
             coordinate(t.at, k + 1) + lean * (at - 145), 2e-5, "centre");
        if (runouts == 2)
            near(said(&t, "leans to %c+", k)->value, lean, 3e-6, "lean");
    }
    ck_assert(f->flags & JAW_NO_CHECK);
    double f1 = (at - 120) / 50;
    near(item(f, "runout of the bar")->value,
         2 * hypot(0.05 + 0.04 * f1 - 4e-4 * (at - 145),
                   -0.03 - 0.03 * f1 + 3e-4 * (at - 145)), 4e-5, "runout");
    near(item(finding(&s, "near"), "runout")->value,
         2 * hypot(0.05 + 0.04 * 0.08 + 4e-4 * 21,
                   -0.03 - 0.03 * 0.08 - 3e-4 * 21), 4e-5, "of its own");
    shop_close(&s);
}
END_TEST

/* A ball shows a table about any axis; zeros that are indexed one from another
 * stand where the sum of their angles puts them. */
START_TEST(ball_on_a_table)
{
    const jaw_vec3 c = {160, -90, -190}, part = {180, -100, -200};
    shop s;
    table t;

    lay_out(&t, &s, _i);
    t.about = (jaw_axis)(_i % 3);
    t.lean = (jaw_vec3){1, 0, 0};
    start(&t);
    for (size_t i = 0; i < t.n; i++)
        put_ball(&t, name_of[i], c, t.angle[i]);
    put_ball(&t, "part", part, 0.2);
    put_rotary(&t, NOT, 0);
    put_indexed(&t, "G57", "G56", 3.3, NOT); /* before what it follows from */
    put_indexed(&t, "G55", "G54", 1.2, 0.2);
    put_indexed(&t, "G56", "G55", -0.7, 1.2 + 2 * PI);
    put_indexed(&t, "G58", "G54", 3.3, 0.2);
    put_indexed(&t, "G59", "G57", 0.2, NOT);
    zero(&s, "G54", (wanted){.x = "part", .y = "part", .z = "part"});
    solve(&s);
    ck_status(s.status, JAW_OK);
    for (int k = 0; k < 2; k++)
        near(said(&t, "centre line, machine %c", k)->value,
             coordinate(t.at, k + 1), 1e-8, "centre");
    near(item(finding(&s, "table"), "radius")->value, hypot(30, 20), 1e-8,
         "arm");
    const struct { const char *name; double angle; } want[] = {
        {"G55", 1.2}, {"G56", -0.7}, {"G57", 3.3}, {"G58", 3.3}, {"G59", 0.2}};
    for (int i = 0; i < COUNT(want); i++) {
        const jaw_zero_found *z = zero_found(&s, want[i].name);
        jaw_vec3 w = on_machine(&t, turned(&t, part, want[i].angle));
        ck_status(z->status, JAW_OK);
        near(z->zero.x, w.x, 1e-8, want[i].name);
        near(z->zero.y, w.y, 1e-8, want[i].name);
        near(z->zero.z, w.z, 1e-8, want[i].name);
    }
    /* by whatever way it came there */
    const jaw_zero_found *z = zero_found(&s, "G57"), *d = zero_found(&s, "G58");
    const jaw_zero_found *o = zero_found(&s, "G54"), *b = zero_found(&s, "G59");
    for (int k = 0; k < 3; k++) {
        near(z->trust[k].u, d->trust[k].u, 1e-12, "u");
        near(z->trust[k].unnoticed, d->trust[k].unnoticed, 1e-12, "unnoticed");
        near(b->trust[k].u, o->trust[k].u, 1e-12, "u there and back");
        near(b->trust[k].unnoticed, o->trust[k].unnoticed, 1e-9,
             "unnoticed there and back");
    }
    shop_close(&s);
}
END_TEST

/* What an indicator saw of a bore at four angles about z. */
START_TEST(dial_on_a_table)
{
    shop s;
    table t;

    lay_out(&t, &s, 2 * _i);
    t.about = JAW_Z;
    t.lean = (jaw_vec3){1, 0, 0};
    start(&t);
    for (size_t i = 0; i < t.n; i++)
        put_dial(&t, i, (jaw_vec3){0, -80, -190});
    put_rotary(&t, NOT, 0);
    solve(&s);
    ck_status(s.status, JAW_OK);
    near(said(&t, "centre line, machine %c", 0)->value, -120, 1e-6, "x");
    near(said(&t, "centre line, machine %c", 1)->value, -210, 1e-6, "y");
    near(item(finding(&s, "table"), "radius")->value, hypot(40, 20), 1e-6,
         "arm");
    shop_close(&s);
}
END_TEST

/* --------------------------------------------------------- what goes unseen */

static const double seen_repeat = 0.05, indexed_to = 1.3;

/* A pin in five places, as a person finds it. */
static void see_pin(table *t, shop *s, int axis, jaw_vec2 p[])
{
    lay_out(t, s, 0);
    t->about = (jaw_axis)axis;
    t->lean = (jaw_vec3){1, 0, 0};
    t->n = 5;
    for (size_t i = 0; i < t->n; i++) {
        t->angle[i] = 0.2 + 0.7 * (double)i;
        jaw_vec3 q = turned(t, (jaw_vec3){160, -90, -190}, t->angle[i]);
        p[i] = (jaw_vec2){q.y, q.z};
    }
}

static jaw_rotary centre_of(const table *t, const jaw_vec2 p[],
                            jaw_vec2 resid[])
{
    jaw_rotary r;

    ck_status(jaw_rotary_centre(t->angle, p, t->n, JAW_SENSE_RIGHT,
                                seen_repeat, &r, resid), JAW_OK);
    return r;
}

/* The zero indexed, first coordinate of the plane, with the rows as typed. */
static double indexed_zero(const table *t, const jaw_vec2 p[],
                           jaw_value_trust *told, int *first)
{
    shop *s = t->shop;
    jaw_axis axis = (jaw_axis)(((int)t->about + 1) % 3);
    jaw_task e = {.kind = JAW_TASK_ROTARY,
                  .name = "table",
                  .as.rotary = {.about = t->about, .sense = JAW_SENSE_RIGHT,
                                .apart = NOT, .repeat = seen_repeat}};

    start(t);
    put_ball(t, "part", (jaw_vec3){150, -100, -200}, 0);
    task(s, e);
    *first = s->line + 1;
    for (size_t i = 0; i < t->n; i++) {
        bool swap = t->about == JAW_Y;
        jaw_reading row = {.at = t->angle[i],
                           .value = swap ? p[i].y : p[i].x,
                           .other = swap ? p[i].x : p[i].y,
                           .place = shop_next(s)};
        ck_status(jaw_setup_add_reading(s->setup, &row), JAW_OK);
    }
    put_indexed(t, "G55", "G54", indexed_to, NOT);
    zero(s, "G54", (wanted){.x = "part", .y = "part", .z = "part"});
    solve(s);
    ck_status(s->status, JAW_OK);
    *told = zero_found(s, "G55")->trust[axis];
    return coordinate(zero_found(s, "G55")->zero, (int)axis);
}

/* That touch slips so far, the way that moves the zero most. */
static void slip_by(const table *t, jaw_vec2 p[], int which, double far)
{
    const jaw_vec2 was = p[which];
    const jaw_rotary r = centre_of(t, p, NULL);
    jaw_vec2 worst = was;
    double most = 0;

    for (int k = 0; k < 3600; k++) {
        double way = k * PI / 1800;
        p[which] = (jaw_vec2){was.x + far * cos(way), was.y + far * sin(way)};
        const jaw_rotary u = centre_of(t, p, NULL);
        double by = (1 - cos(indexed_to)) * (u.centre.x - r.centre.x) +
                    sin(indexed_to) * (u.centre.y - r.centre.y);
        if (by > most) {
            most = by;
            worst = p[which];
        }
    }
    p[which] = worst;
}

/* Numbers typed in rows: the touch whose slip is told, moved by the smallest
 * that is noticed, moves the indexed zero by as much as is told; the loop
 * counts the axes. */
START_TEST(unseen_on_a_table)
{
    shop s;
    table t;
    jaw_vec2 p[5], resid[5];
    jaw_rotary_slip slip[5];
    jaw_value_trust told, then;
    int which = 0, first;

    see_pin(&t, &s, _i, p);
    double was = indexed_zero(&t, p, &told, &first);
    shop_close(&s);
    jaw_rotary r = centre_of(&t, p, resid);
    ck_status(jaw_rotary_slips(t.angle, resid, t.n, &r, seen_repeat, slip),
              JAW_OK);
    for (int i = 1; i < 5; i++)
        if (slip[i].moves > slip[which].moves)
            which = i;
    ck_assert_int_eq(told.where.line, first + which);
    see_pin(&t, &s, _i, p);
    slip_by(&t, p, which, slip[which].noticeable);
    double now = indexed_zero(&t, p, &then, &first);
    shop_close(&s);
    near(told.unnoticed, fabs(now - was), 1e-6, "unnoticed");
}
END_TEST

/* ----------------------------------------------------------------- how sure */

static int sets(int usual)
{
    const char *asked = getenv("JAW_TEST_SETS");
    return asked ? atoi(asked) : usual;
}

/* 95 +- 0.5 of 100, and for a short run four standard deviations. */
static void holds(int inside, int all, const char *name)
{
    double got = (double)inside / all;
    printf("%s: %.4f\n", name, got);
    ck_assert_msg(fabs(got - 0.95) <=
                      fmax(0.005, 4 * sqrt(0.95 * 0.05 / all)),
                  "%s: %.4f", name, got);
}

typedef struct counts {
    int centre[2], lean[2], indexed[3], slips, all;
} counts;

static void random_table(table *t, random_source *r, shop *s, int kind)
{
    *t = (table){.about = kind == 2 ? JAW_Z : (jaw_axis)random_below(r, 2),
                 .sense = random_below(r, 2) ? 1 : -1,
                 .at = {145, -120, -210},
                 .lean = {1, 0, 0},
                 .n = kind == 3 ? 1 : 2 + random_below(r, 3),
                 .s = 0.002,
                 .off = {0.003 * random_normal(r), 0.002 * random_normal(r)},
                 .r = r,
                 .shop = s};
    for (size_t i = 0; i < t->n; i++)
        t->angle[i] = random_between(r, -0.4, 0.4) +
                      2 * PI * (double)i / (double)t->n;
    shop_open(s, JAW_MM);
    start(t);
}

static void random_features(const table *t, int kind)
{
    const jaw_vec3 at = {145, -120 + random_between(t->r, -40, 40), -190};
    jaw_vec3 end[2] = {{120, -120, -210}, {170, -120, -210}};

    for (int k = 0; k < 2; k++) {
        end[k].y += random_between(t->r, -0.05, 0.05);
        end[k].z += random_between(t->r, -0.05, 0.05);
    }
    for (size_t i = 0; i < t->n; i++)
        if (kind % 3 == 0)
            put_bar(t, i, end, 8);
        else if (kind == 1)
            put_ball(t, name_of[i], at, t->angle[i]);
        else
            put_dial(t, i, at);
    for (int k = 0; k < 2 && kind == 3; k++)
        put_runout(t, k, end, k ? 168 : 130,
                   k || t->about == JAW_Y ? JAW_Z : JAW_Y, k);
}

static void count(const table *t, int kind, jaw_vec3 part, double angle,
                  counts *c)
{
    jaw_vec3 want = on_machine(t, turned(t, part, angle));
    const jaw_zero_found *z = zero_found(t->shop, "G56");

    c->all++;
    for (int k = 0; k < 2; k++) {
        const jaw_item *i = said(t, "centre line, machine %c", k);
        c->centre[k] += fabs(i->value - coordinate(t->at, k + 1)) <= i->half95;
        if (kind % 3 != 0)
            continue;
        i = said(t, "leans to %c+", k);
        c->lean[k] += fabs(i->value) <= i->half95;
    }
    for (int k = 0; k < 3; k++)
        c->indexed[k] += fabs(coordinate(z->zero, k) - coordinate(want, k)) <=
                         z->trust[k].half95;
}

/* Two to four angles; all touches share what the tip's length and diameter are
 * off.  The loop counts bars, balls and dials, and bars at one angle under an
 * indicator. */
START_TEST(tables_hold_the_truth)
{
    static const char *const word[] = {"bars", "balls", "dials",
                                       "bars under an indicator"};
    random_source r = random_start("tables_hold_the_truth",
                                   8100 + (uint64_t)_i);
    const int all = sets(3000);
    counts c = {.all = 0};

    for (int set = 0; set < all; set++) {
        const jaw_vec3 part = {180, -100, -200};
        double angle = random_between(&r, -3, 3);
        shop s;
        table t;
        random_table(&t, &r, &s, _i);
        random_features(&t, _i);
        put_ball(&t, "part", part, 0.2);
        put_rotary(&t, NOT, _i == 3 ? 2 : 0);
        put_indexed(&t, "G56", "G55", angle, NOT);
        put_indexed(&t, "G55", "G54", 1.2, 0.2);
        zero(&s, "G54", (wanted){.x = "part", .y = "part",
                                 .z = "part"});
        solve(&s);
        ck_status(s.status, JAW_OK);
        count(&t, _i, part, angle, &c);
        shop_close(&s);
    }
    puts(word[_i]);
    for (int k = 0; k < 2; k++)
        holds(c.centre[k], all, k ? "centre, second" : "centre, first");
    for (int k = 0; k < 2 && _i % 3 == 0; k++)
        holds(c.lean[k], all, "lean");
    for (int k = 0; k < 3; k++)
        holds(c.indexed[k], all, "indexed");
}
END_TEST

TCase *tables_case(void)
{
    TCase *tc = tcase_create("tables");
    tcase_set_timeout(tc, 600);
    tcase_add_loop_test(tc, bar_on_a_table, 0, 8);
    tcase_add_loop_test(tc, bar_under_an_indicator, 0, 16);
    tcase_add_loop_test(tc, ball_on_a_table, 0, 6);
    tcase_add_loop_test(tc, dial_on_a_table, 0, 2);
    tcase_add_loop_test(tc, unseen_on_a_table, 0, 3);
    tcase_add_loop_test(tc, tables_hold_the_truth, 0, 4);
    return tc;
}
