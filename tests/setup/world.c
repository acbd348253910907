/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Random whole setups: a part whose work zero, skew, features and a shop whose
 * tool lengths are known exactly; the readings that touching them gives, worked
 * out in long double from reading = W + Rz(skew) work + (0, 0, L) and the
 * tip's radius; the truth must come back.  Nothing of src is used but
 * jaw_setup_solve. */
#include "setup_tests.h"

#include "tests/feature/random.h"

#include <stdio.h>

typedef struct world {
    random_source *r;
    shop s;
    long double wx, wy, wz, c, q; /* W, cosine and sine of the skew */
    double skew;
    double radius, stylus; /* mm, of the tip that touches */
} world;

/* Machine reading of a tip's centre over part x, y (mm). */
static void at_part(world *w, long double x, long double y)
{
    touch(&w->s, (double)(w->wx + w->c * x - w->q * y) / w->s.unit,
          (double)(w->wy + w->q * x + w->c * y) / w->s.unit, NOT);
}

/* The same, with `along` and `off` for y and x when the axis is x. */
static void at_axis(world *w, jaw_axis axis, long double off,
                    long double along)
{
    if (axis == JAW_X)
        at_part(w, off, along);
    else
        at_part(w, along, off);
}

static double spot(world *w)
{
    return random_between(w->r, -150, 150);
}

/* ------------------------------------------ features at one part coordinate */

static void put_edge(world *w, const char *name, jaw_axis axis, double at,
                     size_t touches)
{
    bool plus = random_below(w->r, 2) == 1;
    double off = at + (plus ? w->radius : -w->radius), start = spot(w);
    jaw_side side = axis == JAW_X ? (plus ? JAW_SIDE_XPLUS : JAW_SIDE_XMINUS)
                                  : (plus ? JAW_SIDE_YPLUS : JAW_SIDE_YMINUS);
    edge(&w->s, name, "stylus", side);
    for (size_t i = 0; i < touches; i++)
        at_axis(w, axis, off, start + 60 * (double)i);
}

static void put_walls(world *w, const char *name, jaw_axis axis, double at,
                      bool slot, size_t touches)
{
    double half = random_between(w->r, 12, 40);
    double off = half + (slot ? -w->radius : w->radius), start = spot(w);
    feature(&w->s, slot ? JAW_SLOT : JAW_WEB, name, "stylus");
    for (size_t i = 0; i < touches; i++)
        at_axis(w, axis, at + off, start + 50 * (double)i);
    other_wall(&w->s);
    at_axis(w, axis, at - off, start + 1);
}

static void put_round(world *w, const char *name, jaw_axis axis, double at,
                      bool bore)
{
    double radius = random_between(w->r, 12, 40), along = spot(w);
    double off = bore ? radius - w->radius : radius + w->radius;
    size_t n = 3 + random_below(w->r, 4);
    feature(&w->s, bore ? JAW_BORE : JAW_BOSS, name, "stylus");
    for (size_t i = 0; i < n; i++) {
        long double a = 6.2L * (long double)i / (long double)n;
        at_axis(w, axis, at + off * cosl(a), along + off * sinl(a));
    }
}

/* Nominal zero at the coordinate asked for. */
static void put_pattern(world *w, const char *name, jaw_axis axis, double at)
{
    size_t n = 2 + random_below(w->r, 4);
    double along = spot(w), unit = w->s.unit;
    double ox = axis == JAW_X ? at : along, oy = axis == JAW_X ? along : at;
    feature(&w->s, JAW_PATTERN, name, NULL);
    for (size_t i = 0; i < n; i++) {
        double x = 40 * (double)i + random_between(w->r, 0, 9);
        double y = random_between(w->r, -70, 70);
        hole(&w->s, x / unit, y / unit,
             (double)(w->wx + w->c * (ox + x) - w->q * (oy + y)) / unit,
             (double)(w->wy + w->q * (ox + x) + w->c * (oy + y)) / unit);
    }
}

enum { EDGE, EDGE_ONCE, SLOT, SLOT_ONCE, WEB, BORE, BOSS, PATTERN, KINDS };

static void put(world *w, int kind, const char *name, jaw_axis axis,
                double at)
{
    switch (kind) {
    case EDGE: put_edge(w, name, axis, at, 2 + random_below(w->r, 3)); break;
    case EDGE_ONCE: put_edge(w, name, axis, at, 1); break;
    case SLOT: put_walls(w, name, axis, at, true, 2); break;
    case SLOT_ONCE: put_walls(w, name, axis, at, true, 1); break;
    case WEB: put_walls(w, name, axis, at, false, 3); break;
    case BORE: put_round(w, name, axis, at, true); break;
    case BOSS: put_round(w, name, axis, at, false); break;
    default: put_pattern(w, name, axis, at); break;
    }
}

/* ---------------------------------------------------------------- the world */

static world make_world(random_source *r, bool can_turn, jaw_length_rule rule)
{
    world w = {.r = r,
               .wx = random_between(r, -400, 400),
               .wy = random_between(r, -300, 0),
               .wz = random_between(r, -450, -250),
               .skew = random_between(r, -0.08, 0.08),
               .radius = random_between(r, 0.5, 5),
               .stylus = random_between(r, 60, 150)};
    w.c = cosl(w.skew);
    w.q = sinl(w.skew);
    shop_open(&w.s, random_below(r, 2) ? JAW_MM : JAW_IN);
    control(&w.s, can_turn, rule, 1);
    /* Made exact in the unit that is typed. */
    w.radius = 2 * w.radius / w.s.unit * w.s.unit / 2;
    tip(&w.s, "stylus", JAW_TIP_BALL, 2 * w.radius / w.s.unit,
        0.001 / w.s.unit, w.stylus / w.s.unit);
    return w;
}

/* The turn: the first zero line, from a random source. */
static wanted put_turn(world *w)
{
    switch (random_below(w->r, 5)) {
    case 0:
        put_edge(w, "guide", JAW_Y, spot(w), 3);
        return (wanted){.turn = "guide", .along = JAW_X};
    case 1:
        put_edge(w, "guide", JAW_X, spot(w), 2);
        return (wanted){.turn = "guide", .along = JAW_Y};
    case 2:
        put_walls(w, "guide", JAW_Y, spot(w), true, 2);
        return (wanted){.turn = "guide", .along = JAW_X};
    case 3:
        put_pattern(w, "guide", JAW_X, spot(w));
        return (wanted){.turn = "guide", .along = JAW_AXES};
    default: return (wanted){.stated = w->skew};
    }
}

static void no_doubt(const world *w)
{
    if (severe(&w->s, JAW_DOUBT) > 0)
        print_notes(&w->s);
    ck_assert_uint_eq(severe(&w->s, JAW_DOUBT), 0);
}

/* Every kind for X with every kind for Y, the turn from anywhere. */
START_TEST(plane_comes_back)
{
    random_source r = random_start("plane_comes_back", 111);
    for (int i = 0; i < 40 * KINDS * KINDS; i++) {
        world w = make_world(&r, true, JAW_GAUGE_LINE);
        wanted want = put_turn(&w);
        double at_x = spot(&w), at_y = spot(&w);
        put(&w, i % KINDS, "one", JAW_X, at_x);
        put(&w, i / KINDS % KINDS, "two", JAW_Y, at_y);
        want.x = "one";
        want.y = "two";
        want.at_x = at_x / w.s.unit;
        want.at_y = at_y / w.s.unit;
        zero(&w.s, "G54", want);
        solve(&w.s);
        ck_status(w.s.status, JAW_OK);
        no_doubt(&w);
        const jaw_zero_found *z = zero_found(&w.s, "G54");
        near(z->skew, w.skew, 1e-13, "skew");
        near(z->zero.x, (double)w.wx, 4e-11, "X");
        near(z->zero.y, (double)w.wy, 4e-11, "Y");
        double step = jaw_setup_control(w.s.setup)->step;
        near(z->enter.x, z->zero.x, step * 0.5000001, "X to enter");
        near(z->enter.y, z->zero.y, step * 0.5000001, "Y to enter");
        near(z->turn, w.skew, jaw_rad(0.00005001), "turn to enter");
        shop_close(&w.s);
    }
}
END_TEST

/* A control that does not turn: the point where the two stated coordinates hold
 * has them on the control, to the last digit. */
START_TEST(plane_without_turn_is_right_at_the_corner)
{
    random_source r = random_start("plane_without_turn_is_right_at_the_corner",
                                   112);
    for (int i = 0; i < 2000; i++) {
        world w = make_world(&r, false, JAW_GAUGE_LINE);
        double x = spot(&w), y = spot(&w), unit = w.s.unit;
        wanted want = put_turn(&w);
        put_edge(&w, "one", JAW_X, x, 2);
        put_edge(&w, "two", JAW_Y, y, 2);
        want.x = "one";
        want.y = "two";
        want.at_x = x / unit;
        want.at_y = y / unit;
        zero(&w.s, "G54", want);
        solve(&w.s);
        ck_status(w.s.status, JAW_OK);
        const jaw_zero_found *z = zero_found(&w.s, "G54");
        near(z->zero.x + x, (double)(w.wx + w.c * x - w.q * y), 4e-11, "X");
        near(z->zero.y + y, (double)(w.wy + w.q * x + w.c * y), 4e-11, "Y");
        /* and elsewhere it is off by what is said */
        long double fx = z->far_work.x, fy = z->far_work.y;
        near(z->far_cost.x, (double)(w.wx + w.c * fx - w.q * fy - fx) -
                                z->zero.x, 1e-10, "cost x");
        near(z->far_cost.y, (double)(w.wy + w.q * fx + w.c * fy - fy) -
                                z->zero.y, 1e-10, "cost y");
        shop_close(&w.s);
    }
}
END_TEST

/* Tools of known lengths, each on the face, on a setter of known or unknown
 * height or on a block that stands on the face, through paper or not. */
static void put_tools(world *w, double lengths[], int n, double face_z)
{
    double unit = w->s.unit, block = random_between(w->r, 5, 80);
    double puck = random_between(w->r, -500, -400);
    bool known = random_below(w->r, 2) == 1;
    setter(&w->s, "block", NOT, block / unit, "top");
    setter(&w->s, "puck", known ? puck / unit : NOT, NOT, NULL);
    if (!known)
        tip_touched(&w->s, "stylus", (puck + w->stylus) / unit, "puck", 0);
    for (int k = 0; k < n; k++) {
        static const char *const names[] = {"top", "block", "puck"};
        const double z[] = {face_z, face_z + block, puck};
        size_t on = random_below(w->r, 3);
        double gap = random_below(w->r, 2) ? 0 : random_between(w->r, 0, 2);
        lengths[k] = random_between(w->r, 40, 200);
        tool(&w->s, k + 1, NOT);
        touched(&w->s, k + 1, (z[on] + gap + lengths[k]) / unit, names[on],
                gap / unit);
    }
}

START_TEST(heights_come_back)
{
    random_source r = random_start("heights_come_back", 113);
    enum { TOOLS = 6 };
    for (int i = 0; i < 3000; i++) {
        jaw_length_rule rule = (jaw_length_rule)(i % JAW_LENGTH_RULES);
        world w = make_world(&r, true, rule);
        double at = random_between(&r, -20, 20), unit = w.s.unit;
        double lengths[TOOLS], face_z = (double)w.wz + at;
        feature(&w.s, JAW_FACE, "top", "stylus");
        size_t n = random_below(&r, 2) ? 1 : 4;
        for (size_t k = 0; k < n; k++)
            touch(&w.s, (double)(k % 2 * 50), (double)(k / 2 * 40),
                  (face_z + w.stylus) / unit);
        put_tools(&w, lengths, TOOLS, face_z);
        zero(&w.s, "G54", (wanted){.z = "top", .at_z = at / unit});
        solve(&w.s);
        ck_status(w.s.status, JAW_OK);
        no_doubt(&w);
        double wz = (double)w.wz, ref = lengths[0];
        const double zero_z[] = {wz, 0, wz + ref};
        const double added[] = {0, wz, -ref};
        near(zero_found(&w.s, "G54")->zero.z, zero_z[rule], 1e-10, "Z");
        for (int k = 0; k < TOOLS; k++) {
            const jaw_tool_found *t = tool_found(&w.s, k + 1);
            near(t->length, lengths[k], 1e-10, "length");
            near(t->tip_to_part, lengths[k] + wz, 1e-10, "tip to part");
            near(t->value, lengths[k] + added[rule], 1e-10, "value");
            ck_assert_int_eq(t->dof, 0);
            ck_assert_uint_eq(t->flags, JAW_NO_CHECK);
        }
        shop_close(&w.s);
    }
}
END_TEST

/* Without a known length anywhere the same tools still come back in the two
 * conventions that need differences only. */
START_TEST(heights_without_ground)
{
    random_source r = random_start("heights_without_ground", 114);
    enum { TOOLS = 5 };
    for (int i = 0; i < 1000; i++) {
        jaw_length_rule rule = i % 2 ? JAW_TIP_TO_PART : JAW_REFERENCE_TOOL;
        double lengths[TOOLS], wz = random_between(&r, -400, -200);
        shop s;
        shop_open(&s, JAW_MM);
        control(&s, false, rule, 1);
        tip(&s, "stylus", JAW_TIP_BALL, 4, 0.001, NOT);
        feature(&s, JAW_FACE, "top", "stylus");
        touch(&s, NOT, NOT, wz + 100);
        setter(&s, "puck", NOT, NOT, NULL);
        tip_touched(&s, "stylus", wz - 50 + 100, "puck", 0);
        for (int k = 0; k < TOOLS; k++) {
            lengths[k] = random_between(&r, 40, 200);
            tool(&s, k + 1, NOT);
            touched(&s, k + 1, wz - 50 + lengths[k], "puck", 0);
        }
        zero(&s, "G54", (wanted){.z = "top"});
        solve(&s);
        ck_status(s.status, JAW_OK);
        near(zero_found(&s, "G54")->zero.z,
             rule == JAW_TIP_TO_PART ? 0 : wz + lengths[0], 1e-11, "Z");
        ck_assert(isnan(surface_z(&s, "puck")));
        for (int k = 0; k < TOOLS; k++) {
            const jaw_tool_found *t = tool_found(&s, k + 1);
            near(t->value, rule == JAW_TIP_TO_PART ? wz + lengths[k]
                                                   : lengths[k] - lengths[0],
                 1e-11, "value");
            ck_assert(isnan(t->length));
        }
        shop_close(&s);
    }
}
END_TEST

TCase *world_case(void)
{
    TCase *tc = tcase_create("world");
    tcase_set_timeout(tc, 120);
    tcase_add_test(tc, plane_comes_back);
    tcase_add_test(tc, plane_without_turn_is_right_at_the_corner);
    tcase_add_test(tc, heights_come_back);
    tcase_add_test(tc, heights_without_ground);
    return tc;
}
