/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Balls, bars and what an indicator sees, in worlds made by hand from vectors:
 * a place on the surface, the tip's centre one radius off along the normal, the
 * tip's lowest point below that and the gauge line above it; an indicator's
 * plunger that is pushed forward until it meets the wall, found by halving.
 * Nothing of the formulas in src is used; the truth must come back. */
#include "setup_tests.h"

#include "tests/feature/random.h"

#include <string.h>

enum { ROUNDS = 40 };

/* mm: what is left of coordinates of 500 mm after a fit and an adjustment */
#define BACK 2e-8
#define BACK_ANGLE 1e-9

typedef struct world {
    random_source r;
    shop s;
    double skew, length, radius; /* of the part; of the tip */
    jaw_vec3 w;                  /* work zero */
} world;

static jaw_vec3 add(jaw_vec3 a, double t, jaw_vec3 b)
{
    return (jaw_vec3){a.x + t * b.x, a.y + t * b.y, a.z + t * b.z};
}

static jaw_vec3 unit_of(jaw_vec3 a)
{
    double n = sqrt(a.x * a.x + a.y * a.y + a.z * a.z);

    return (jaw_vec3){a.x / n, a.y / n, a.z / n};
}

static jaw_vec3 cross(jaw_vec3 a, jaw_vec3 b)
{
    return (jaw_vec3){a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z,
                      a.x * b.y - a.y * b.x};
}

static jaw_vec3 on_machine(const world *w, jaw_vec3 p)
{
    double c = cos(w->skew), s = sin(w->skew);

    return (jaw_vec3){w->w.x + c * p.x - s * p.y, w->w.y + s * p.x + c * p.y,
                      w->w.z + p.z};
}

static world start(uint64_t seed)
{
    world w = {.r = random_start("solid", seed)};

    shop_open(&w.s, JAW_MM);
    control(&w.s, true, JAW_GAUGE_LINE, 0);
    w.skew = random_between(&w.r, -0.05, 0.05);
    w.length = random_between(&w.r, 60, 150);
    w.radius = random_between(&w.r, 0.5, 4);
    w.w = (jaw_vec3){random_between(&w.r, -400, 400),
                     random_between(&w.r, -400, 400),
                     random_between(&w.r, -400, -200)};
    tip(&w.s, "stylus", JAW_TIP_BALL, 2 * w.radius, 0.002, w.length);
    return w;
}

/* What the control shows when the tip rests on the surface at p, whose outward
 * normal is n. */
static jaw_vec3 reading_of(const world *w, jaw_vec3 p, jaw_vec3 n)
{
    jaw_vec3 centre = add(p, w->radius, n);

    return add(centre, 1, (jaw_vec3){0, 0, w->length - w->radius});
}

static void meet(world *w, jaw_vec3 p, jaw_vec3 n)
{
    jaw_vec3 t = reading_of(w, p, n);

    touch(&w->s, t.x, t.y, t.z);
}

/* ------------------------------------------------------------ balls and bars */

static jaw_vec3 upward(world *w, size_t i, size_t n)
{
    double a = 2 * PI * (double)i / (double)n + random_between(&w->r, 0, 0.4);

    return unit_of((jaw_vec3){cos(a), sin(a), random_between(&w->r, 0, 0.8)});
}

static void put_ball(world *w, const char *name, jaw_vec3 centre,
                     double radius, jaw_size_use use)
{
    size_t n = 4 + random_below(&w->r, 4);

    sized(&w->s, JAW_BALL, name, "stylus", use, 2 * radius);
    for (size_t i = 0; i < n; i++) {
        jaw_vec3 u = upward(w, i, n);
        meet(w, add(centre, radius, u), u);
    }
    jaw_vec3 top = {0, 0, 1};
    meet(w, add(centre, radius, top), top);
}

/* Anywhere on it but below. */
static void put_bar(world *w, const char *name, jaw_vec3 on, jaw_vec3 axis,
                    double radius, jaw_size_use use)
{
    jaw_vec3 level = unit_of(cross((jaw_vec3){0, 0, 1}, axis));
    jaw_vec3 up = cross(axis, level);

    sized(&w->s, JAW_BAR, name, "stylus", use, 2 * radius);
    for (int i = 0; i < 9; i++) {
        double a = (i % 3) * PI / 2 + random_between(&w->r, -0.1, 0.1);
        jaw_vec3 n = add((jaw_vec3){cos(a) * level.x, cos(a) * level.y,
                                    cos(a) * level.z},
                         sin(a), up);
        double along = 40 * (i / 3) + random_between(&w->r, -60, -50);
        meet(w, add(add(on, along, axis), radius, n), n);
    }
}

static void check_ball(const world *w)
{
    const jaw_zero_found *z = zero_found(&w->s, "G54");

    ck_status(z->status, JAW_OK);
    near(z->zero.x, w->w.x, BACK, "x of a ball");
    near(z->zero.y, w->w.y, BACK, "y of a ball");
    near(z->zero.z, w->w.z, BACK, "z of a ball");
    near(z->skew, w->skew, BACK_ANGLE, "turn by a bar");
}

/* The axis' own height above the place that is told. */
static void check_bar(const world *w, jaw_vec3 on, jaw_vec3 axis)
{
    const jaw_found *f = found(&w->s, "shaft");
    const jaw_zero_found *z = zero_found(&w->s, "G55");
    double t = ((f->as.bar.point.x - on.x) * axis.x +
                (f->as.bar.point.y - on.y) * axis.y) /
               (axis.x * axis.x + axis.y * axis.y);
    jaw_vec3 there = add(on, t, axis);

    near(f->as.bar.point.x, there.x, BACK, "axis x");
    near(f->as.bar.point.y, there.y, BACK, "axis y");
    near(f->height, there.z, BACK, "axis z");
    near(z->zero.z, there.z - 3, BACK, "z of a bar");
    near(f->as.bar.slope, axis.z / hypot(axis.x, axis.y), BACK_ANGLE,
         "slope");
    near(z->zero.x, w->w.x, BACK, "x beside a bar");
    near(z->zero.y, w->w.y, BACK, "y of a bar");
}

START_TEST(balls_and_bars_come_back)
{
    world w = start(100 + (uint64_t)_i);
    jaw_size_use use = _i % 2 ? JAW_SIZE_KNOWN : JAW_SIZE_EXPECTED;
    jaw_vec3 at = {random_between(&w.r, -90, 90), random_between(&w.r, -90, 90),
                   random_between(&w.r, -30, 30)};
    double radius = random_between(&w.r, 5, 20), rise = 0.02 * (_i % 3 - 1);
    jaw_vec3 on = on_machine(&w, (jaw_vec3){12, 34, -20});
    jaw_vec3 axis = unit_of(
        (jaw_vec3){cos(w.skew), sin(w.skew), rise});

    put_ball(&w, "target", on_machine(&w, at), radius, use);
    put_bar(&w, "shaft", on, axis, radius + 2, use);
    zero(&w.s, "G54", (wanted){.turn = "shaft", .along = JAW_X,
                               .x = "target", .at_x = at.x,
                               .y = "target", .at_y = at.y,
                               .z = "target", .at_z = at.z});
    zero(&w.s, "G55", (wanted){.turn = "shaft", .along = JAW_X,
                               .x = "target", .at_x = at.x,
                               .y = "shaft", .at_y = 34,
                               .z = "shaft", .at_z = 3});
    solve(&w.s);
    ck_assert_uint_eq(severe(&w.s, JAW_DOUBT), 0);
    check_ball(&w);
    check_bar(&w, on, axis);
    near(found(&w.s, "target")->as.ball.diameter, 2 * radius, BACK, "size");
    near(found(&w.s, "shaft")->as.bar.diameter, 2 * radius + 4, BACK, "size");
    shop_close(&w.s);
}
END_TEST

/* A tip that stands off the spindle's axis: every reading is that much less.
 * Runout is felt square to the wall; what it does along it is of second order,
 * off^2 / (R + r), and is left out (as for a bore). */
START_TEST(runout_on_a_ball)
{
    world w = start(300 + (uint64_t)_i);
    jaw_vec3 off = {random_between(&w.r, -0.1, 0.1),
                    random_between(&w.r, -0.1, 0.1), 0};
    jaw_tip_entry e = {.name = "bent",
                       .tip = jaw_tip_make(JAW_TIP_BALL, 2 * w.radius),
                       .harmonic = {off.x, off.y},
                       .place = shop_next(&w.s)};
    jaw_vec3 at = {10, 20, -250}, axis = unit_of((jaw_vec3){1, 0.3, 0.01});
    double left = 2 * (off.x * off.x + off.y * off.y) / 9;
    size_t n;

    e.tip.length = w.length;
    e.tip.repeat = 0.002;
    ck_status(jaw_setup_add_tip(w.s.setup, &e), JAW_OK);
    feature(&w.s, JAW_BALL, "target", "bent");
    for (size_t i = 0; i < 7; i++) {
        jaw_vec3 u = i < 6 ? upward(&w, i, 6) : (jaw_vec3){0, 0, 1};
        jaw_vec3 t = add(reading_of(&w, add(at, 9, u), u), -1, off);
        touch(&w.s, t.x, t.y, t.z);
    }
    put_bar(&w, "shaft", at, axis, 9, JAW_SIZE_EXPECTED);
    const jaw_touch *t = jaw_setup_touches(w.s.setup, 1, &n, &n);
    feature(&w.s, JAW_BAR, "bent-shaft", "bent");
    for (size_t i = 0; i < 9; i++) {
        jaw_touch bent = t[i];
        touch(&w.s, bent.x - off.x, bent.y - off.y, bent.z);
        t = jaw_setup_touches(w.s.setup, 1, &n, &n);
    }
    solve(&w.s);
    const jaw_found *f = found(&w.s, "target");
    near(f->as.ball.centre.x, at.x, left, "x");
    near(f->as.ball.centre.y, at.y, left, "y");
    near(f->height, at.z, left, "z");
    near(f->as.ball.diameter, 18, left, "size");
    near(found(&w.s, "bent-shaft")->as.bar.theta, atan2(axis.y, axis.x),
         left / 30, "direction");
    near(found(&w.s, "bent-shaft")->as.bar.diameter, 18, left, "size");
    near(found(&w.s, "bent-shaft")->height, found(&w.s, "shaft")->height, left,
         "height");
    shop_close(&w.s);
}
END_TEST

/* ---------------------------------------------------------------- indicators */

/* How far along the ray from p the wall is met: inside it `in` is below 0. */
typedef double wall(const void *what, jaw_vec2 p);

static double forward(wall *in, const void *what, jaw_vec2 p, jaw_vec2 ray,
                      double low, double high)
{
    for (int i = 0; i < 200; i++) {
        double t = low + (high - low) / 2;
        jaw_vec2 at = {p.x + t * ray.x, p.y + t * ray.y};
        *(in(what, at) < 0 ? &high : &low) = t;
    }
    return low;
}

/* Free of material: 3 numbers are a circle that is bored, or one that stands. */
static double outside_post(const void *what, jaw_vec2 p)
{
    const double *c = what;

    return hypot(p.x - c[0], p.y - c[1]) - c[2];
}

static double inside_bore(const void *what, jaw_vec2 p)
{
    return -outside_post(what, p);
}

/* 4 numbers: a place on it and its normal. */
static double off_wall(const void *what, jaw_vec2 p)
{
    const double *c = what;

    return (p.x - c[0]) * c[2] + (p.y - c[1]) * c[3];
}

/* The plunger reaches out from the spindle, or in from 40 mm off; it stands out
 * by 5 mm where it reads 0. */
static void put_dial(world *w, const char *name, bool inside,
                     const double c[3], jaw_vec2 at)
{
    dial(&w->s, name, inside, at.x, at.y, 2 * c[2], 0.001);
    for (int i = 0; i < 6; i++) {
        double a = i + random_between(&w->r, 0, 0.3);
        jaw_vec2 out = {cos(a), sin(a)};
        jaw_vec2 from = {at.x + 40 * out.x, at.y + 40 * out.y};
        double stroke =
            inside ? forward(inside_bore, c, at, out, 0, 60)
                   : forward(outside_post, c, from,
                             (jaw_vec2){-out.x, -out.y}, 0, 40);
        touch(&w->s, a, NOT, 5 - stroke);
    }
}

START_TEST(dials_come_back)
{
    world w = start(500 + (uint64_t)_i);
    double bore[3] = {100.4, -20.3, random_between(&w.r, 6, 20)};
    double post[3] = {-30.2, 44.7, random_between(&w.r, 6, 20)};

    put_dial(&w, "pilot", true, bore, (jaw_vec2){99.1, -19.8});
    put_dial(&w, "hub", false, post, (jaw_vec2){-30, 45.5});
    zero(&w.s, "G54", (wanted){.stated = 0.01, .x = "pilot", .y = "pilot"});
    solve(&w.s);
    ck_assert_uint_eq(severe(&w.s, JAW_DOUBT), 0);
    const jaw_found *f = found(&w.s, "pilot");
    near(f->as.dial.centre.x, bore[0], BACK, "bore x");
    near(f->as.dial.centre.y, bore[1], BACK, "bore y");
    near(f->as.dial.shift.x, bore[0] - 99.1, BACK, "shift x");
    near(f->as.dial.shift.y, bore[1] + 19.8, BACK, "shift y");
    near(zero_found(&w.s, "G54")->zero.x, bore[0], BACK, "zero x");
    near(zero_found(&w.s, "G54")->zero.y, bore[1], BACK, "zero y");
    f = found(&w.s, "hub");
    near(f->as.dial.centre.x, post[0], BACK, "post x");
    near(f->as.dial.centre.y, post[1], BACK, "post y");
    shop_close(&w.s);
}
END_TEST

/* A wall turned by `skew` that faces any way, read by a plunger that stands
 * square to the axis of the sweep. */
static void put_sweep(world *w, const char *name, jaw_side faces, double skew,
                      const char *after)
{
    jaw_vec2 out = jaw_side_normal(faces);
    double c = cos(skew), s = sin(skew);
    double what[4] = {20, -30, c * out.x - s * out.y, s * out.x + c * out.y};

    sweep(&w->s, name, faces, 0.001, after);
    for (int i = 0; i < 5; i++) {
        double place = 30 * i + random_between(&w->r, -5, 5);
        jaw_vec2 from = {out.x != 0 ? 20 + 100 * out.x : place,
                         out.y != 0 ? -30 + 100 * out.y : place};
        double reading = 100 - forward(off_wall, what, from,
                                       (jaw_vec2){-out.x, -out.y}, 0, 200);
        touch(&w->s, out.x != 0 ? NOT : place, out.x != 0 ? place : NOT,
              reading);
    }
}

START_TEST(sweeps_come_back)
{
    world w = start(700 + (uint64_t)_i);
    jaw_side faces = (jaw_side)(JAW_SIDE_XPLUS + _i % 4);
    bool x = faces == JAW_SIDE_YPLUS || faces == JAW_SIDE_YMINUS;
    double before = random_between(&w.r, -0.04, 0.04);
    size_t n;

    put_sweep(&w, "first", faces, before, NULL);
    put_sweep(&w, "jaw", faces, w.skew, "first");
    vise(&w.s, "bench", -300, "jaw");
    put_ball(&w, "target", on_machine(&w, (jaw_vec3){7, 8, 9}), 6,
             JAW_SIZE_EXPECTED);
    zero(&w.s, "G54", (wanted){.turn = "jaw", .along = x ? JAW_X : JAW_Y,
                               .x = "target", .at_x = 7,
                               .y = "target", .at_y = 8,
                               .z = "target", .at_z = 9});
    solve(&w.s);
    ck_assert_uint_eq(severe(&w.s, JAW_DOUBT), 0);
    const jaw_zero_found *z = zero_found(&w.s, "G54");
    near(z->skew, w.skew, BACK_ANGLE, "turn");
    near(z->zero.x, w.w.x, BACK, "x");
    near(z->zero.y, w.w.y, BACK, "y");
    near(found(&w.s, "jaw")->changed, w.skew - before, BACK_ANGLE, "change");
    const jaw_finding *f = jaw_solution_findings(w.s.solution, &n);
    ck_assert_uint_eq(n, 1);
    ck_assert_uint_eq(f[0].n_items, 3);
    ck_assert_str_eq(f[0].items[1].text, "skew of the fixed jaw");
    near(f[0].items[1].value, w.skew, BACK_ANGLE, "skew of the jaw");
    near(f[0].items[2].value, 0, 1e-9, "straightness");
    ck_assert_uint_eq(f[0].n_advice, 1);
    shop_close(&w.s);
}
END_TEST

/* ------------------------------------------------------ what else is told */

/* A touch that is off is named; set aside, it is told how far off it lies, and
 * the truth comes back. */
START_TEST(a_chip_on_a_ball)
{
    for (int aside = 0; aside < 2; aside++) {
        world w = start(900);
        jaw_vec3 at = {10, 20, -250}, u = unit_of((jaw_vec3){1, 1, 1});
        put_ball(&w, "target", at, 8, JAW_SIZE_KNOWN);
        put_ball(&w, "other", at, 8, JAW_SIZE_KNOWN);
        jaw_vec3 t = reading_of(&w, add(at, 8.05, u), u);
        if (aside)
            ck_status(jaw_setup_aside_touch(w.s.setup,
                                            (jaw_touch){t.x, t.y, t.z},
                                            shop_next(&w.s)),
                      JAW_OK);
        else
            touch(&w.s, t.x, t.y, t.z);
        solve(&w.s);
        const jaw_found *f = found(&w.s, "other");
        ck_assert_uint_eq(severe(&w.s, JAW_DOUBT), aside ? 0 : 1);
        if (!aside)
            ck_assert_int_eq(jaw_notes_get(w.s.notes, 0)->place.line,
                             w.s.line);
        else
            near(f->aside[0], 0.05, BACK, "set aside");
        shop_close(&w.s);
    }
}
END_TEST

/* Three touches level with the centre of a ball of known size and one on top:
 * one more is named, and the words say where. */
START_TEST(next_touch_of_a_ball)
{
    world w = start(1000);
    jaw_vec3 at = {10, 20, -250};
    sized(&w.s, JAW_BALL, "target", "stylus", JAW_SIZE_EXPECTED, 16);
    for (int i = 0; i < 4; i++) {
        jaw_vec3 u = {cos(PI / 2 * i), i < 3 ? sin(PI / 2 * i) : 0,
                      i < 3 ? 0 : 1};
        u.x = i < 3 ? u.x : 0;
        meet(&w, add(at, 8, u), u);
    }
    zero(&w.s, "G54", (wanted){.stated = 0.01, .x = "target", .y = "target"});
    solve(&w.s);
    const jaw_next *next = &zero_found(&w.s, "G54")->next[JAW_Y];
    ck_assert_ptr_nonnull(next->text);
    ck_assert_msg(strstr(next->text, "on its y- side") != NULL, "%s",
                  next->text);
    shop_close(&w.s);
}
END_TEST

/* 2026-11-26: a touch that is as good as unchecked lies twelve metres off; the
 * corrections came down to rounding, which so weak a ball magnifies above what
 * was taken for settled, and the whole was given up. */
START_TEST(jitter_is_settled)
{
    static const jaw_touch t[] = {
        {22.071175217540688, 66.641431471966669, -54.067753307616059},
        {49.364813259958922, 67.419524321044719, -58.487237300396046},
        {45.803525513762281, 90.753887397838824, -62.5813596989735},
        {22.89950153094469, 90.128793885855046, -58.880135324531388},
        {34.389044742750237, 76.690563917751774, 12261.908761368}};
    world w = start(1100);

    sized(&w.s, JAW_BALL, "target", "stylus", JAW_SIZE_FREE, 0);
    for (size_t i = 0; i < sizeof t / sizeof *t; i++)
        touch(&w.s, t[i].x, t[i].y, t[i].z);
    zero(&w.s, "G54", (wanted){.stated = 0.01, .x = "target", .y = "target"});
    solve(&w.s);
    ck_assert(isfinite(zero_found(&w.s, "G54")->trust[JAW_X].u));
    shop_close(&w.s);
}
END_TEST

TCase *solid_case(void)
{
    TCase *tc = tcase_create("solid");
    tcase_add_loop_test(tc, balls_and_bars_come_back, 0, ROUNDS);
    tcase_add_loop_test(tc, runout_on_a_ball, 0, ROUNDS);
    tcase_add_loop_test(tc, dials_come_back, 0, ROUNDS);
    tcase_add_loop_test(tc, sweeps_come_back, 0, ROUNDS);
    tcase_add_test(tc, a_chip_on_a_ball);
    tcase_add_test(tc, next_touch_of_a_ball);
    tcase_add_test(tc, jitter_is_settled);
    return tc;
}
