/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Zeros that follow from three datums or from a rotary table, against worlds in
 * which a block is really tilted, by rotation matrices, and a table really
 * turned, by rotating points about a line in space. */
#include "setup_tests.h"

#include <jawline/sheet.h>

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

typedef struct text {
    char s[6000];
    size_t n;
} text;

static void add(text *t, const char *format, ...)
{
    va_list args;

    va_start(args, format);
    int n = vsnprintf(t->s + t->n, sizeof t->s - t->n, format, args);
    va_end(args);
    ck_assert(n > 0 && t->n + (size_t)n < sizeof t->s);
    t->n += (size_t)n;
}

static void read_text(shop *s, const text *t)
{
    shop_open(s, JAW_MM);
    ck_status(jaw_sheet_read_text(t->s, t->n, "t.jaw", s->setup, s->notes),
              JAW_OK);
    solve(s);
    if (s->status != JAW_OK)
        print_notes(s);
}

static double figure(const shop *s, const char *what, double *half95)
{
    size_t n;
    const jaw_finding *f = jaw_solution_findings(s->solution, &n);

    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < f[i].n_items; k++)
            if (strstr(f[i].items[k].text, what)) {
                if (half95)
                    *half95 = f[i].items[k].half95;
                return f[i].items[k].value;
            }
    ck_abort_msg("nothing says '%s'", what);
    return 0;
}

static const char *const axis_word[] = {"x", "y", "z"};

/* p turned by angle about the line through c along axis 0 1 2: Rodrigues */
static jaw_vec3 turned(jaw_vec3 p, jaw_vec3 c, int axis, double angle)
{
    double v[3] = {p.x - c.x, p.y - c.y, p.z - c.z};
    double k[3] = {axis == 0, axis == 1, axis == 2};
    double dot = k[0] * v[0] + k[1] * v[1] + k[2] * v[2];
    double cross[3] = {k[1] * v[2] - k[2] * v[1], k[2] * v[0] - k[0] * v[2],
                       k[0] * v[1] - k[1] * v[0]};
    double r[3];

    for (int i = 0; i < 3; i++)
        r[i] = v[i] * cos(angle) + cross[i] * sin(angle) +
               k[i] * dot * (1 - cos(angle));
    return (jaw_vec3){c.x + r[0], c.y + r[1], c.z + r[2]};
}

/* ------------------------------------------------------------------- datums */

static const jaw_vec3 origin = {40, -70, -250};
static const double lie[3] = {0.0008, -0.0011, 0.013}; /* about x, y, z */

/* part to machine: turned about x, then y, then z, through the origin */
static jaw_vec3 placed(double x, double y, double z)
{
    const jaw_vec3 none = {0, 0, 0};
    jaw_vec3 p = {x, y, z};

    for (int k = 0; k < 3; k++)
        p = turned(p, none, k, lie[k]);
    return (jaw_vec3){origin.x + p.x, origin.y + p.y, origin.z + p.z};
}

/* A ball of 4 mm whose length is 100: its centre is there, its end read. */
static void ball_at(text *t, double x, double y, double z)
{
    jaw_vec3 c = placed(x, y, z);

    add(t, "  %.12f %.12f %.12f\n", c.x, c.y, c.z - 2 + 100);
}

static void touched_block(text *t, const char *control)
{
    add(t,
        "unit mm\ncontrol step 0.001 angle-step 0.0001 %s\n"
        "tip stylus ball diameter 4 length 100 repeat 0.002\n"
        "face top tip stylus\n",
        control);
    ball_at(t, 10, 10, 2);
    ball_at(t, 110, 10, 2);
    ball_at(t, 110, 60, 2);
    ball_at(t, 10, 60, 2);
    add(t, "edge front tip stylus faces y-\n");
    ball_at(t, 10, -2, -8);
    ball_at(t, 110, -2, -6);
    add(t, "edge end tip stylus faces x-\n");
    ball_at(t, -2, 30, -8);
}

static void tilted_block(text *t, const char *control)
{
    touched_block(t, control);
    add(t, "datums block primary top secondary front tertiary end at 5 7 3\n"
           "  shim 15 17\n  shim 115 67\n  corner 5 7\n  corner 125 77\n"
           "zero G54\n  datums block\n");
}

START_TEST(block_that_is_tilted)
{
    text t = {.n = 0};
    shop s;

    tilted_block(&t, "turn yes");
    read_text(&s, &t);
    const jaw_zero_found *z = zero_found(&s, "G54");
    /* X of the part as seen from above */
    jaw_vec3 x = placed(1, 0, 0), up = placed(0, 0, 1);
    double skew = atan2(x.y - origin.y, x.x - origin.x);
    ck_status(z->status, JAW_OK);
    near(z->skew, skew, 1e-9, "skew");
    near(z->zero.x, origin.x - (5 * cos(skew) - 7 * sin(skew)), 1e-8, "x");
    near(z->zero.y, origin.y - (5 * sin(skew) + 7 * cos(skew)), 1e-8, "y");
    near(z->zero.z, origin.z - 3, 1e-8, "z");
    near(figure(&s, "leans to X+", NULL),
         atan((up.x - origin.x) / (up.z - origin.z)), 1e-9, "lean to x");
    near(figure(&s, "leans to Y+", NULL),
         atan((up.y - origin.y) / (up.z - origin.z)), 1e-9, "lean to y");
    near(figure(&s, "off at 5.000 7.000", NULL), 0, 1e-9, "at the corner");
    /* 120 and 70 from the corner */
    near(figure(&s, "off at 125", NULL), placed(120, 70, 0).z - origin.z, 2e-5,
         "at the far one");
    double low = placed(10, 10, 0).z, high = placed(110, 60, 0).z;
    near(figure(&s, "under 15", NULL), fmax(0, high - low), 2e-5, "shim");
    near(figure(&s, "under 115", NULL), fmax(0, low - high), 2e-5, "shim");
    shop_close(&s);
}
END_TEST

static void side_two(shop *s, const char *control, double off[3])
{
    text t = {.n = 0};

    tilted_block(&t, control);
    add(&t, "side two over x zero at 0 0 0 cut known to 0.001\n");
    read_text(s, &t);
    figure(s, "X off, at the zero", &off[0]);
    figure(s, "Y off, at the zero", &off[1]);
    figure(s, "G54 Z off", &off[2]);
}

/* On side two the cut is as sure as the zero, and both cuts: the datums' touches
 * are in it (2026-11-25: only the tip's share was).  The part's zero lies where
 * it lies, whether or not the control can turn. */
START_TEST(block_on_side_two)
{
    const double more = 1.959964 * M_SQRT2 * 0.001;
    double off[3], straight[3];
    shop s;

    side_two(&s, "turn yes", off);
    const jaw_zero_found *z = zero_found(&s, "G54");
    for (int a = 0; a < 3; a++)
        near(off[a], hypot(z->trust[a].half95, more), 1e-8, "turned");
    shop_close(&s);
    side_two(&s, "turn no", straight);
    for (int a = 0; a < 3; a++)
        near(straight[a], off[a], 1e-8, "not turned");
    shop_close(&s);
}
END_TEST

/* The same block, of which all is stated as on side one's drawing: x, y and z
 * of it are a sign each and where its zero is, and the rest is as before. */
START_TEST(block_that_was_turned_over)
{
    static const double sign[3][3] = {{1, -1, -1}, {-1, 1, -1}, {-1, -1, 1}};
    const double zero_at[3] = {200, 31, -9}, *by = sign[_i];
    text plain = {.n = 0}, over = {.n = 0};
    shop a, b;

    tilted_block(&plain, "turn yes");
    touched_block(&over, "turn yes");
    add(&over, "datums block primary top secondary front tertiary end at"
               " %g %g %g\n", zero_at[0] + 5 * by[0], zero_at[1] + 7 * by[1],
        zero_at[2] + 3 * by[2]);
    static const double at[][2] = {{15, 17}, {115, 67}, {5, 7}, {125, 77}};
    char name[4][40];
    for (int k = 0; k < 4; k++) {
        double x = zero_at[0] + at[k][0] * by[0];
        double y = zero_at[1] + at[k][1] * by[1];
        add(&over, "  %s %g %g\n", k < 2 ? "shim" : "corner", x, y);
        snprintf(name[k], sizeof name[k], "%s %.3f %.3f",
                 k < 2 ? "under" : "off at", x, y);
    }
    add(&over, "zero G54\n  datums block\nside two over %s zero at %g %g %g\n",
        axis_word[_i], zero_at[0], zero_at[1], zero_at[2]);
    read_text(&a, &plain);
    read_text(&b, &over);
    const jaw_zero_found *z = zero_found(&a, "G54"), *o = zero_found(&b, "G54");
    near(o->zero.x, z->zero.x, 1e-9, "x");
    near(o->zero.y, z->zero.y, 1e-9, "y");
    near(o->zero.z, z->zero.z, 1e-9, "z");
    near(o->skew, z->skew, 1e-12, "skew");
    /* named as they are stated */
    near(figure(&b, name[0], NULL), figure(&a, "under 15", NULL), 1e-9, "");
    near(figure(&b, name[1], NULL), figure(&a, "under 115", NULL), 1e-9, "");
    near(figure(&b, name[2], NULL), 0, 1e-9, "at the corner");
    near(figure(&b, name[3], NULL), figure(&a, "at 125", NULL), 1e-9, "far");
    shop_close(&a);
    shop_close(&b);
}
END_TEST

static const jaw_vec3 line_at = {150, -120, -300};

/* The coordinates across the axis, in the order of the letters. */
static void across(text *t, int axis, double degrees, jaw_vec3 p)
{
    double v[3] = {p.x, p.y, p.z};
    int a = axis == 0 ? 1 : 0, b = axis == 2 ? 1 : 2;

    add(t, "  %g %.12f %.12f\n", degrees, v[a], v[b]);
}

/* Nine touches with a spare one of each datum.  slip: which one is moved outward
 * by how much; again: which one is taken twice. */
static const double rows[9][3] = {
    {10, 10, 2}, {110, 10, 2}, {110, 60, 2}, {10, 60, 2}, {10, -2, -8},
    {60, -2, -8}, {110, -2, -8}, {-2, 20, -8}, {-2, 50, -8}};

static void nine(text *t, int slip, double by, int again)
{
    static const char *const head[] = {"face top tip stylus",
                                       "edge front tip stylus faces y-",
                                       "edge end tip stylus faces x-"};

    add(t, "unit mm\ncontrol step 0.001 angle-step 0.0001 turn yes\n"
           "tip stylus ball diameter 4 length 100 repeat 0.002\n");
    for (int i = 0; i < 9; i++) {
        int k = i < 4 ? 0 : i < 7 ? 1 : 2;
        double off = i == slip ? by : 0;
        if (i == 0 || i == 4 || i == 7)
            add(t, "%s\n", head[k]);
        for (int n = 0; n < (i == again ? 2 : 1); n++)
            ball_at(t, rows[i][0] - (k == 2 ? off : 0),
                    rows[i][1] - (k == 1 ? off : 0),
                    rows[i][2] + (k == 0 ? off : 0));
    }
    add(t, "datums block primary top secondary front tertiary end at 5 7 3\n"
           "zero G54\n  datums block\n");
}

static void four_values(const text *t, const char *name, double value[4],
                        jaw_value_trust trust[4], jaw_next next[4])
{
    shop s;

    read_text(&s, t);
    const jaw_zero_found *z = zero_found(&s, name);
    const double all[4] = {z->zero.x, z->zero.y, z->zero.z, z->skew};
    for (int k = 0; k < 4; k++) {
        value[k] = all[k];
        trust[k] = k < 3 ? z->trust[k] : z->turn_trust;
        next[k] = k < 3 ? z->next[k] : z->turn_next;
        next[k].text = NULL; /* goes with the solution */
    }
    shop_close(&s);
}

/* The same on a table about y that is known so well that it slips by nothing. */
static void nine_on_a_table(text *t, int slip, double by)
{
    const jaw_vec3 p = {line_at.x + 31, line_at.y, line_at.z + 22};

    nine(t, slip, by, -1);
    add(t, "zero G55\n  indexed G54 on table to 30\n"
           "rotary table about y sense right repeat 0.0000001\n");
    for (int i = 0; i < 4; i++)
        across(t, 1, 90 * i, turned(p, line_at, 1, i * PI / 2));
}

/* Unnoticed is the largest of what Baarda's smallest slip does, 4.13 sigma over
 * the root of the redundancy: of four on a plane 1/4, of three along a wall 1/6,
 * 2/3 and 1/6, of two at a stop 1/2.  What it does is by differences.  The loop:
 * the zero of the datums, and one that is indexed from it. */
START_TEST(slips_of_datums)
{
    const char *name = _i == 0 ? "G54" : "G55";
    static const double spare[9] = {0.25,    0.25,    0.25,    0.25, 1 / 6.0,
                                    2 / 3.0, 1 / 6.0, 1 / 2.0, 1 / 2.0};
    text t = {.n = 0};
    double value[4], most[4] = {0};
    double reach[4][9];
    jaw_value_trust trust[4], other[4];
    jaw_next next[4];

    nine_on_a_table(&t, -1, 0);
    four_values(&t, name, value, trust, next);
    for (int i = 0; i < 9; i++) {
        const double h = 1e-4;
        double up[4], down[4];
        t.n = 0;
        nine_on_a_table(&t, i, h);
        four_values(&t, name, up, other, next);
        t.n = 0;
        nine_on_a_table(&t, i, -h);
        four_values(&t, name, down, other, next);
        for (int k = 0; k < 4; k++) {
            reach[k][i] = fabs(up[k] - down[k]) / (2 * h) * 0.002 *
                          JAW_TRUST_SHIFT / sqrt(spare[i]);
            most[k] = fmax(most[k], reach[k][i]);
        }
    }
    for (int k = 0; k < 4; k++) {
        near(trust[k].unnoticed, most[k], 1e-3 * most[k], "unnoticed");
        int at = trust[k].where.line - 5; /* a head stands before each */
        at -= at > 8 ? 2 : at > 4 ? 1 : 0;
        near(reach[k][at], most[k], 1e-3 * most[k], "whose");
    }
}
END_TEST

/* The touch that is proposed does, once taken, what was said of it; and none
 * that is taken again does more. */
START_TEST(one_more_of_datums)
{
    text t = {.n = 0};
    double value[4], best[4] = {HUGE_VAL, HUGE_VAL, HUGE_VAL, HUGE_VAL};
    jaw_value_trust trust[4], with[4];
    jaw_next next[4], later[4];
    int proposed = 0;

    nine(&t, -1, 0, -1);
    four_values(&t, "G54", value, trust, next);
    for (int i = 0; i < 9; i++) {
        t.n = 0;
        nine(&t, -1, 0, i);
        four_values(&t, "G54", value, with, later);
        for (int k = 0; k < 4; k++)
            best[k] = fmin(best[k], with[k].half95);
    }
    for (int k = 0; k < 4; k++) {
        if (isnan(next[k].half95)) {
            ck_assert_double_gt(best[k], 0.8 * trust[k].half95);
            continue;
        }
        proposed++;
        /* corners are a little outside of what was touched */
        ck_assert_double_lt(next[k].half95, best[k] * (1 + 1e-9));
        near(next[k].half95, best[k], (k == 2 ? 5e-3 : 1e-6) * best[k],
             "half95");
        ck_assert(!next[k].checks);
    }
    ck_assert_int_gt(proposed, 0);
}
END_TEST

/* A stop touched once: of X a slip of any size goes unseen, of Z none does; and
 * to touch it again is what helps. */
START_TEST(stop_touched_once)
{
    text t = {.n = 0};
    shop s;

    nine(&t, -1, 0, -1);
    char *last = strstr(t.s, "datums block"), *row = last - 1;
    while (row > t.s && row[-1] != '\n')
        row--;
    memmove(row, last, strlen(last) + 1);
    t.n = strlen(t.s);
    read_text(&s, &t);
    const jaw_zero_found *z = zero_found(&s, "G54");
    ck_assert(isinf(z->trust[JAW_X].unnoticed));
    ck_assert_int_eq(z->trust[JAW_X].where.line, 14);
    ck_assert(isfinite(z->trust[JAW_Z].unnoticed));
    ck_assert_ptr_nonnull(z->next[JAW_X].text);
    ck_assert_msg(strstr(z->next[JAW_X].text, "touch 'end' once more, as in"
                                              " line 14") != NULL, "%s",
                  z->next[JAW_X].text);
    ck_assert(z->next[JAW_X].checks);
    shop_close(&s);
}
END_TEST

/* A control that can not turn has the same corner, and its Z by its own way of
 * lengths. */
START_TEST(block_on_other_controls)
{
    text t = {.n = 0}, r = {.n = 0};
    shop s;

    tilted_block(&t, "turn no");
    read_text(&s, &t);
    near(zero_found(&s, "G54")->zero.x, origin.x - 5, 1e-8, "x");
    near(zero_found(&s, "G54")->zero.y, origin.y - 7, 1e-8, "y");
    ck_assert(isnan(zero_found(&s, "G54")->turn));
    shop_close(&s);
    tilted_block(&r, "lengths reference-tool 3");
    add(&r, "tool 3 length 60\n  touched %.9f on top\n",
        (placed(10, 10, 0).z + placed(110, 60, 0).z) / 2 + 60);
    read_text(&s, &r);
    near(zero_found(&s, "G54")->zero.z, origin.z - 3 + 60, 1e-6, "z");
    shop_close(&s);
}
END_TEST

/* ------------------------------------------------------------------- tables */

static void seen_on_table(text *t, int axis, int sense, bool stated)
{
    jaw_vec3 p = {line_at.x + 31, line_at.y - 17, line_at.z + 22};

    add(t, "rotary table about %s repeat 0.002%s\n", axis_word[axis],
        !stated     ? ""
        : sense > 0 ? " sense right"
                    : " sense left");
    for (int i = 0; i < 4; i++)
        across(t, axis, 20 + 70 * i,
               turned(p, line_at, axis, sense * (20 + 70 * i) * PI / 180));
}

static void square_block(text *t, const char *control, const char *skewed)
{
    add(t,
        "unit mm\ncontrol step 0.001 turn yes angle-step 0.0001 %s\n"
        "tip stylus ball diameter 4 length 100 repeat 0.002\n"
        "edge front tip stylus faces y-\n  0 -102\n  80 -%s\n"
        "edge end tip stylus faces x-\n  118 -50\n  118 0\n"
        "face top tip stylus\n"
        "  120 -90 -150\n  180 -90 -150\n  150 -50 -150\n",
        control, skewed);
}

/* The zero at (120, -100, -250) is turned with the table, whichever way it
 * counts and lies; the loop counts axis, sense, whether it is stated. */
START_TEST(zero_on_a_table)
{
    int axis = _i / 4, sense = _i & 1 ? 1 : -1;
    text t = {.n = 0};
    shop s;

    square_block(&t, "", "102");
    seen_on_table(&t, axis, sense, _i & 2);
    add(&t, "zero G54\n  turn front along x\n  x end\n  y front\n  z top\n"
            "zero G55\n  indexed G54 on table to 125 from 30\n"
            "zero G56\n  indexed G54 on table to -30\n");
    read_text(&s, &t);
    jaw_vec3 w = {120, -100, -250};
    jaw_vec3 a = turned(w, line_at, axis, sense * 95 * PI / 180);
    jaw_vec3 b = turned(w, line_at, axis, sense * -30 * PI / 180);
    const jaw_zero_found *z = zero_found(&s, "G55");
    ck_status(z->status, JAW_OK);
    near(z->zero.x, a.x, 1e-8, "x");
    near(z->zero.y, a.y, 1e-8, "y");
    near(z->zero.z, a.z, 1e-8, "z");
    near(zero_found(&s, "G56")->zero.x, b.x, 1e-8, "x");
    near(zero_found(&s, "G56")->zero.y, b.y, 1e-8, "y");
    near(zero_found(&s, "G56")->zero.z, b.z, 1e-8, "z");
    near(z->skew, 0, 1e-9, "skew");
    for (int k = 0; k < 3; k++)
        ck_assert(z->trust[k].u > 0);
    shop_close(&s);
}
END_TEST

/* Z of an indexed zero has the same offset as that of the other, whatever a
 * length register holds. */
START_TEST(table_in_each_convention)
{
    static const char *const rule[] = {"lengths gauge-line",
                                       "lengths tip-to-part",
                                       "lengths reference-tool 3"};
    static const double beyond[] = {0, 250, 60};
    text t = {.n = 0};
    shop s;

    square_block(&t, rule[_i], "102");
    seen_on_table(&t, 0, 1, true);
    add(&t, "tool 3 length 60\n"
            "zero G54\n  turn front along x\n  x end\n  y front\n  z top\n"
            "zero G55\n  indexed G54 on table to 125\n");
    if (_i == 2)
        add(&t, "tool 4\n  touched -190 on top\n");
    read_text(&s, &t);
    jaw_vec3 a = turned((jaw_vec3){120, -100, -250}, line_at, 0,
                        125 * PI / 180);
    near(zero_found(&s, "G55")->zero.y, a.y, 1e-8, "y");
    near(zero_found(&s, "G55")->zero.z, a.z + beyond[_i], 1e-8, "z");
    shop_close(&s);
}
END_TEST

/* Bores as they were found at each angle, about z: the centre has the joint
 * adjustment's own uncertainty, and the part's turn goes along. */
START_TEST(bores_on_a_table)
{
    text t = {.n = 0};
    shop s;
    double half95;

    square_block(&t, "", "102.8"); /* -0.01 rad, to first order */
    for (int i = 0; i < 4; i++) {
        jaw_vec3 p = turned((jaw_vec3){200, -120, 0}, line_at, 2, i * PI / 2);
        add(&t, "bore at%d tip stylus\n", 90 * i);
        for (int k = 0; k < 4; k++)
            add(&t, "  %.9f %.9f\n", p.x + 8 * cos(k * PI / 2),
                p.y + 8 * sin(k * PI / 2));
    }
    add(&t, "rotary table about z\n  at 0 at0\n  at 90 at90\n  at 180 at180\n"
            "  at 270 at270\n  at 300 at0 set aside\n"
            "zero G54\n  turn front along x\n  x end\n  y front\n  z top\n"
            "zero G55\n  indexed G54 on table to 90\n");
    read_text(&s, &t);
    near(figure(&s, "machine X", &half95), line_at.x, 1e-8, "x");
    /* 16 touches, each 0.002: a circle's centre is worth sigma sqrt(2 / n) */
    near(half95, 1.959964 * 0.002 * sqrt(2.0 / 16), 1e-6, "its interval");
    near(figure(&s, "radius to the", NULL), 50, 1e-8, "arm");
    const jaw_zero_found *a = zero_found(&s, "G54"), *b = zero_found(&s, "G55");
    jaw_vec3 w = turned(a->zero, line_at, 2, PI / 2);
    near(b->zero.x, w.x, 1e-8, "x");
    near(b->zero.y, w.y, 1e-8, "y");
    near(b->zero.z, a->zero.z, 1e-12, "z");
    near(b->skew, a->skew, 1e-12, "skew");
    near(b->turn_trust.u, a->turn_trust.u, 1e-12, "its uncertainty");
    shop_close(&s);
}
END_TEST

/* Two places 80 apart on an axis that leans; the second by another arm. */
START_TEST(table_that_leans)
{
    text t = {.n = 0};
    shop s;
    double half95;

    add(&t, "unit mm\ncontrol step 0.001\n"
            "rotary table about x sense right repeat 0.002 apart 80\n");
    for (int place = 0; place < 2; place++) {
        jaw_vec3 c = {0, -120 + 0.08 * place, -300 - 0.04 * place};
        jaw_vec3 p = {0, c.y + 20 + 10 * place, c.z};
        for (int i = 0; i < 4; i++)
            across(&t, 0, 90 * i, turned(p, c, 0, i * PI / 2));
        if (place == 0)
            add(&t, "  /\n");
    }
    read_text(&s, &t);
    near(figure(&s, "leans to Y+", &half95), 0.001, 1e-8, "to y");
    /* each centre is worth sigma / sqrt(4) */
    near(half95, 1.959964 * 0.001 * sqrt(2) / 80, 1e-8, "its interval");
    near(figure(&s, "leans to Z+", NULL), -0.0005, 1e-8, "to z");
    shop_close(&s);
}
END_TEST

/* Datums on a table: what the touches leave is turned along with the zero. */
START_TEST(datums_on_a_table)
{
    text t = {.n = 0};
    shop s;

    tilted_block(&t, "turn yes");
    seen_on_table(&t, 1, 1, true);
    add(&t, "zero G55\n  indexed G54 on table to 90\n"
            "zero G56\n  indexed G54 on table to 0\n");
    read_text(&s, &t);
    const jaw_zero_found *a = zero_found(&s, "G54"), *b = zero_found(&s, "G55");
    const jaw_zero_found *c = zero_found(&s, "G56");
    jaw_vec3 w = turned(a->zero, line_at, 1, PI / 2);
    near(b->zero.x, w.x, 1e-8, "x");
    near(b->zero.y, w.y, 1e-12, "y");
    near(b->zero.z, w.z, 1e-8, "z");
    /* at 90 x is z, and the centre adds its own twice: by 1 and by 1; four
       angles over 210 degrees */
    ck_assert(b->trust[JAW_X].u > a->trust[JAW_Z].u);
    near(b->trust[JAW_Y].u, a->trust[JAW_Y].u, 1e-12, "u of y");
    for (int k = 0; k < 3; k++)
        near(c->trust[k].u, a->trust[k].u, 1e-12, "u where it was");
    shop_close(&s);
}
END_TEST

/* A V of 60 degrees holds the axis a diameter above its bottom. */
START_TEST(stock_in_a_vee)
{
    text t = {.n = 0};
    shop s;
    double half95;

    add(&t, "unit mm\ncontrol step 0.001\n"
            "vee block apex -300 known to 0.003 angle 60 "
            "stock 40 known to 0.008\nzero G54\n  z block at 1\n");
    read_text(&s, &t);
    near(figure(&s, "axis", &half95), -260, 1e-9, "axis");
    near(half95, 1.959964 * hypot(0.003, 0.008), 1e-7, "its interval");
    near(figure(&s, "its top", NULL), -240, 1e-9, "top");
    near(zero_found(&s, "G54")->zero.z, -241, 1e-9, "zero");
    near(zero_found(&s, "G54")->trust[JAW_Z].u, hypot(0.003, 0.012), 1e-9, "u");
    shop_close(&s);
}
END_TEST

/* 10 deg 30' on 5 in: the handbook's 0.91118 (tests/hold/sine.c). */
START_TEST(sine_bar_in_a_sheet)
{
    text t = {.n = 0};
    shop s;
    double half95;
    const double bar = 127, stack = 0.9115 * 25.4, angle = asin(0.9115 / 5);

    add(&t, "unit in\ncontrol step 0.0001\n"
            "sine plate bar 5 known to 0.0001 angle 10.5 stack 0.9115 known to "
            "0.00005\nsine flat bar 5 stack 0\nsine steep bar 5 angle 60\n");
    read_text(&s, &t);
    near(figure(&s, "stack for 10.5", &half95), 0.91118 * 25.4, 0.5e-5 * 25.4,
         "stack");
    near(half95, 1.959964 * 0.0001 * 25.4 * sin(10.5 * PI / 180), 1e-8, "u");
    near(figure(&s, "more of it turns it by", NULL),
         0.0001 / (5 * cos(10.5 * PI / 180)), 1e-12, "a step");
    near(figure(&s, "angle of the stack", &half95), angle, 1e-12, "angle");
    near(half95, 1.959964 * hypot(0.00005, stack / bar * 0.0001) /
                     (5 * cos(angle)), 1e-9, "its interval");
    near(figure(&s, "more than is wanted", NULL), angle - 10.5 * PI / 180,
         1e-12, "off");
    const jaw_finding *f = finding(&s, "plate");
    ck_assert_uint_eq(f->n_advice, 1);
    ck_assert(strstr(f->advice[0], "0.0003") && strstr(f->advice[0], "less"));
    f = finding(&s, "flat");
    ck_assert(f->n_items == 1 && f->items[0].value == 0 &&
              isnan(f->items[0].half95));
    f = finding(&s, "steep");
    ck_assert_uint_eq(f->n_advice, 1);
    ck_assert(strstr(f->advice[0], "30") != NULL);
    shop_close(&s);
}
END_TEST

START_TEST(what_no_setup_holds)
{
    jaw_setup *setup = jaw_setup_alloc();
    const jaw_length none = {NOT, 0}, some = {10, 0};
    jaw_task bad[] = {
        {.kind = JAW_TASK_ROTARY, .name = "t",
         .as.rotary = {.about = JAW_AXES, .apart = NOT, .repeat = NOT}},
        {.kind = JAW_TASK_ROTARY, .name = "t",
         .as.rotary = {.sense = (jaw_sense)2, .apart = NOT, .repeat = NOT}},
        {.kind = JAW_TASK_ROTARY, .name = "t",
         .as.rotary = {.apart = NOT, .repeat = -1}},
        {.kind = JAW_TASK_ROTARY, .name = "t",
         .as.rotary = {.apart = INFINITY, .repeat = NOT}},
        {.kind = JAW_TASK_DATUMS, .name = "t",
         .as.datums = {.feature = {"a", "b", NULL}}},
        {.kind = JAW_TASK_DATUMS, .name = "t",
         .as.datums = {.feature = {"a", "b", "c"}, .at = {NOT, 0, 0}}},
        {.kind = JAW_TASK_VEE, .name = "t", .as.vee = {none, 1, some}},
        {.kind = JAW_TASK_VEE, .name = "t", .as.vee = {some, 4, some}},
        {.kind = JAW_TASK_SINE, .name = "t", .as.sine = {some, NOT, none}},
        {.kind = JAW_TASK_SINE, .name = "t", .as.sine = {none, 1, none}},
        {.kind = JAW_TASK_SINE, .name = "t", .as.sine = {some, 2, none}},
        {.kind = JAW_TASK_SINE, .name = "t", .as.sine = {some, NOT, some}},
    };
    jaw_zero_entry zero = {.name = "G54", .index = {.table = "t"}};

    for (int i = 0; i < COUNT(bad); i++)
        ck_status(jaw_setup_add_task(setup, &bad[i]), JAW_EDOMAIN);
    ck_status(jaw_setup_add_zero(setup, &zero), JAW_EDOMAIN);
    zero.index.source = "G55";
    zero.index.to = NOT;
    ck_status(jaw_setup_add_zero(setup, &zero), JAW_EDOMAIN);
    jaw_setup_free(setup);
}
END_TEST

TCase *carried_case(void)
{
    TCase *tc = tcase_create("carried");
    tcase_add_test(tc, block_that_is_tilted);
    tcase_add_test(tc, block_on_side_two);
    tcase_add_loop_test(tc, block_that_was_turned_over, 0, 3);
    tcase_add_loop_test(tc, slips_of_datums, 0, 2);
    tcase_add_test(tc, one_more_of_datums);
    tcase_add_test(tc, stop_touched_once);
    tcase_add_test(tc, block_on_other_controls);
    tcase_add_loop_test(tc, zero_on_a_table, 0, 12);
    tcase_add_loop_test(tc, table_in_each_convention, 0, 3);
    tcase_add_test(tc, bores_on_a_table);
    tcase_add_test(tc, table_that_leans);
    tcase_add_test(tc, datums_on_a_table);
    tcase_add_test(tc, stock_in_a_vee);
    tcase_add_test(tc, sine_bar_in_a_sheet);
    tcase_add_test(tc, what_no_setup_holds);
    return tc;
}
