/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The derivatives behind every uncertainty (joint.c, worth.c) against finite
 * differences of the whole solver: everything that was read or stated is moved
 * a little both ways, all is solved again, and what the values do gives
 *     u^2 = sum_i sum_j (d value / d i) (d value / d j) u_i u_j r_ij
 *                                                       (JCGM 100, 5.2.2)
 * with nothing linearised by hand.  The sheets assume nothing, so this sum is
 * all there is. */
#include "setup_tests.h"

#include "tests/near.h"

#include <jawline.h>

#include <stdlib.h>
#include <string.h>

#define CONTROL                                                                \
    "unit mm\ncontrol step 0.001 turn yes angle-step 0.0001 "                  \
    "lengths gauge-line\n"                                                     \
    "tip finder cylinder diameter 5 repeat 0.004\n"                            \
    "tip stylus ball diameter 4 repeat 0.002\n"

#define LOBED                                                                  \
    "unit mm\ncontrol step 0.001 turn yes angle-step 0.0001 "                  \
    "lengths gauge-line\n"                                                     \
    "tip probe ball diameter 4 known to 0.003 repeat 0.002\n"                  \
    "  runout 0.05 -0.03 known to 0.002 0.003\n"                               \
    "  lobes 0.02 0.03 known to 0.0015 0.001\n"                                \
    "  correlation diameter with lobes-cos -0.5\n"                             \
    "  correlation runout-x with runout-y 0.6\n"                               \
    "  correlation runout-x with lobes-sin -0.3\n"

#define HEIGHTS(rule)                                                          \
    "unit mm\ncontrol step 0.001 lengths " rule "\n"                           \
    "tip stylus ball diameter 4 length 100 known to 0.004 repeat 0.002\n"      \
    "face top tip stylus\n  0 0 -250\n  80 3 -250.1\n  40 60 -249.8\n"         \
    "setter block height 20 on top known to 0.003\n"                           \
    "  touched -229.9 with stylus\n"                                           \
    "setter puck top -400 known to 0.01\n  touched -299.9 with stylus\n"       \
    "tool 1 length 90 known to 0.02\n"                                         \
    "  touched -310.01 on puck\n  touched -240 on block\n"                     \
    "tool 2\n  touched -280 on puck block 10\n  touched -220.02 on top\n"      \
    "zero G54\n  z top at 5\n"

#define WALLS                                                                  \
    "edge rail tip finder faces y-\n"                                          \
    "  20 -51.013\n  61 -50.204\n  118 -49.083\n  140 -48.650\n"                \
    "edge stop tip finder faces x+\n"                                          \
    "  -5.1 -80.2\n  -4.405 -115.4\n  -3.511 -160.9\n"

#define STATIONS(more)                                                         \
    "tip long ball diameter 4 length 90 known to 0.01 repeat 0.002\n"          \
    "stations row places known to 0.004 " more "\n" WALLS                      \
    "bore pilot tip stylus\n"                                                  \
    "  258 -80\n  252.071 -72.273\n  242.482 -77.264\n"                           \
    "  244.858 -86.128\n  254 -86.928\n"      \
    "face top tip long\n  0 0 -250\n  80 3 -250.1\n  40 60 -249.8\n"          \
    "face low tip long\n  200 0 -260\n  280 3 -260.1\n  240 60 -259.8\n"

#define ROW                                                                    \
    "zero G54\n  turn rail along x\n  x stop at 3\n  y rail at -4\n  z top\n"   \
    "  station row at 0 0 0\n"                                                 \
    "zero G55\n  turn rail along x\n  x pilot\n  y pilot\n  z low\n"           \
    "  station row at 260.555 -40.008 -10\n"                                        \
    "zero G56\n  station row at 130 240 5\n"                                   \
    "zero G57\n  z low at 2\n  station row at -40 -70 -8\n"

static const char *const sheets[] = {
    /* a corner off square, at other part coordinates, turned by 3 degrees */
    CONTROL "edge jaw tip finder faces y-\n"
            "  20 -51.013\n  61 -48.868\n  118 -45.883\n  140 -44.731\n"
            "edge stop tip finder faces x+\n"
            "  -5.1 -80.2\n  -3.34 -115.4\n  -1.01 -160.9\n"
            "zero G54\n  turn jaw along x\n  x stop at -12.5\n  y jaw at 7\n",
    /* the middle of a web one way, of a slot the other; unequal touches */
    CONTROL "slot key tip stylus\n"
            "  10 20.31\n  55 20.84\n  90 21.27\n  /\n  12 10.02\n  80 10.79\n"
            "web hub tip finder\n"
            "  -3.2 0\n  -3.55 31\n  /\n  77.4 5\n  77.06 33\n  76.8 58\n"
            "zero G54\n  turn key along x\n  x hub at 4\n  y key at -9\n",
    /* a bore and a boss on a part that an edge turns */
    CONTROL "edge side tip finder faces x-\n"
            "  10 0\n  10.9 40\n  12.04 88\n"
            "bore pilot tip stylus\n"
            "  58 -80\n  52.3 -72.2\n  42.1 -79\n  48 -87.7\n  56.6 -84.5\n"
            "boss post tip finder\n"
            "  112 -30\n  100.3 -17.9\n  88 -31\n  101 -42\n"
            "zero G54\n  turn side along y\n  x pilot at 30\n  y post at 11\n"
            "zero G55\n  turn side along y\n  x side at 2\n  y pilot at -6\n",
    /* a tip whose diameter is not exact, on walls, a middle and a bore */
    CONTROL "tip worn pin diameter 6 known to 0.005 repeat 0.003\n"
            "edge jaw tip worn faces y+\n"
            "  20 -51.013\n  61 -48.868\n  118 -45.883\n"
            "slot key tip worn\n"
            "  10 20.31\n  9.4 55.84\n  /\n  -2.3 15.02\n  -3.071 60.79\n"
            "bore ring tip worn diameter 25 known to 0.004\n"
            "  209.502 0\n  200 9.501\n  190.503 0\n  200 -9.502\n"
            "zero G54\n  turn jaw along x\n  x key at 4\n  y jaw at -9\n"
            "zero G55\n  turn jaw along x\n  x ring\n  y jaw\n",
    /* runout and lobes, correlated, partly seen in a ring and a plug; residuals
       are micrometres, for what they bend is left out of any uncertainty */
    LOBED "edge jaw tip probe faces y-\n"
          "  20.074 -50.889\n  61.018 -48.738\n  117.939 -45.745\n"
          "  139.909 -44.592\n"
          "slot key tip probe\n"
          "  43.922 20.206\n  41.770 61.150\n  /\n"
          "  35.775 22.782\n  33.624 63.726\n"
          "bore ring tip probe diameter 25 known to 0.001\n"
          "  210.386 0.909\n  200.000 10.561\n  189.466 -0.922\n"
          "  200.000 -10.440\n  208.017 6.726\n"
          "boss plug tip probe\n"
          "  311.930 -30\n  299.579 -17.948\n  287.931 -30\n"
          "  301.041 -41.897\n  291.208 -21.801\n"
          "zero G54\n  turn jaw along x\n  x ring at 4\n  y jaw at -9\n"
          "zero G55\n  turn jaw along x\n  x key at 4\n  y plug at -9\n",
    /* lobes so large, and touches so near one another, that the reach changes
       as the wall turns */
    CONTROL "tip worn ball diameter 4 repeat 0.002\n"
            "  runout 0.05 -0.03 known to 0.002 0.003\n"
            "  lobes 0.2 -0.1 known to 0.002 0.003\n"
            "edge jaw tip worn faces y-\n"
            "  18.471 -57.897\n  21.328 -58.813\n  25.138 -60.033\n"
            "web rib tip worn\n"
            "  47.374 17.638\n  48.595 21.447\n  /\n"
            "  33.052 25.376\n  33.967 28.233\n"
            "zero G54\n  turn jaw along x\n  x rib\n  y jaw at -9\n"
            "zero G55\n  turn rib along y\n  x rib\n  y jaw\n",
    /* the same on walls that were read one way, and on pairs */
    LOBED "edge stop tip probe faces x+\n  x -5.1\n"
          "web stock tip probe\n  y -31.2\n  /\n  y 40.5\n"
          "bore pilot tip probe\n"
          "  x 209\n  x 191.2\n  y 8.7\n  y -9.1\n"
          "boss hub tip probe\n"
          "  x 59\n  x 41.2\n  y 108.7\n  y 90.9\n"
          "edge side tip probe faces y+\n  10 70\n  60 70.3\n"
          "zero G54\n  x stop at 3\n  y stock at 4\n"
          "zero G55\n  x pilot\n  y pilot\n"
          "zero G56\n  x hub\n  y side\n",
    /* drawn spacings, on a part that is warm, of bores and of typed places */
    LOBED "temperature 35 known to 2 expansion 23.1 known to 1.2\n"
          "bore a tip probe\n"
          "  9.930 0\n  0 10.060\n  -10.070 0\n  0 -9.940\n"
          "bore b tip probe\n"
          "  409.967 9.002\n  400.037 19.062\n  389.967 9.002\n"
          "  400.037 -0.938\n"
          "pattern plate places known to 0.002 repeat 0.003\n"
          "  hole a at 5 5\n  hole b at 405 5\n  5 305 -6.752 300.028\n"
          "zero G54\n  turn plate\n  x plate\n  y plate\n"
          "zero G55\n  turn plate\n  x a\n  y b\n",
    /* bores on a table about z, and a zero that it indexes; a tip whose
       diameter is not exact cancels in both */
    CONTROL "tip worn pin diameter 6 known to 0.005 repeat 0.003\n"
            "edge jaw tip worn faces y+\n"
            "  20 -51.013\n  61 -50.968\n  118 -50.901\n"
            "edge stop tip finder faces x+\n"
            "  -5.1 -80.2\n  -5.144 -115.4\n  -5.199 -160.9\n"
            "bore a tip worn\n"
            "  208 0\n  200 8\n  192 0\n  200 -8\n  206.9 4.05\n"
            "bore b tip stylus\n"
            "  108 100\n  100 108\n  92 100\n  100 92\n"
            "bore c tip stylus\n"
            "  37.2893 70.7107\n  29.2893 78.7107\n  21.2893 70.7107\n"
            "rotary table about z sense right\n"
            "  at 0 a\n  at 90 b\n  at 135 c\n"
            "zero G54\n  turn jaw along x\n  x stop at 3\n  y jaw at 4\n"
            "zero G55\n  indexed G54 on table to 70\n",
    /* rows about x and a tip's length in z; and about y from datums */
    "unit mm\ncontrol step 0.001 turn yes angle-step 0.0001 "
    "lengths gauge-line\n"
    "tip stylus ball diameter 4 known to 0.003 length 100 known to 0.004 "
    "repeat 0.002\n"
    "face top tip stylus\n"
    "  10 10 -150\n  110 10 -150.05\n  110 60 -150.02\n  10 60 -149.97\n"
    "edge front tip stylus faces y-\n"
    "  10 -2 -160\n  110 -0.8 -158\n"
    "edge end tip stylus faces x-\n  -2 30 -161\n"
    "datums block primary top secondary front tertiary end at 5 7 3\n"
    "rotary table about x tip stylus repeat 0.002\n"
    "  0 50 -200\n  90 20 -170\n  180 -10 -200\n"
    "rotary other about y sense right repeat 0.003\n"
    "  0 50 -200\n  90 20 -230\n"
    "zero G54\n  datums block\n"
    "zero G55\n  indexed G54 on table to 70\n"
    "zero G56\n  indexed G54 on other to 35 from 5\n",
    /* a ball and a bar, on a part that a bar turns */
    CONTROL
            "tip gauged ball diameter 4 length 109.5 known to 0.003 "
            "repeat 0.002\n"
            "ball target tip gauged\n"
            "  38.3915 -39.2555 -191.7722\n"
            "  28.7536 -32.4973 -193.0825\n"
            "  22.0567 -42.1359 -191.3380\n"
            "  31.6420 -48.8783 -191.6272\n"
            "  30.2000 -40.7000 -184.1500\n"
            "  33.9952 -36.9044 -186.1036\n"
            "bar shaft tip gauged diameter 19.05 known to 0.004\n"
            "  59.7377 30.5701 -202.6954\n"
            "  61.6724 19.5325 -192.1267\n"
            "  60.2775 7.5774 -203.2974\n"
            "  99.5708 28.1414 -194.3541\n"
            "  139.6925 32.4129 -200.6977\n"
            "  141.6489 19.9404 -189.7645\n"
            "  140.2085 9.4126 -200.4969\n"
            "zero G54\n  turn shaft along x\n  x target at 7\n  y shaft at -5\n"
            "  z shaft at 3\n"
            "zero G55\n  turn shaft along x\n  x target\n  y target at 4\n"
            "  z target\n",
    /* the same with a tip that reaches farther one way than another, and
       whose diameter is not exact */
    LOBED "tip worn ball diameter 6 known to 0.005 length 80 repeat 0.003\n"
            "ball target tip probe diameter 12.7 known to 0.002\n"
            "  38.3163 -39.2688 -191.7722\n"
            "  28.7442 -32.4434 -193.0825\n"
            "  21.9820 -42.1491 -191.3379\n"
            "  31.6327 -48.8246 -191.6272\n"
            "  30.1300 -40.7000 -184.1502\n"
            "  33.9804 -36.9198 -186.1032\n"
            "bar shaft tip probe\n"
            "  89.3581 -20.2639 -202.2956\n"
            "  100.3938 -18.2236 -191.7437\n"
            "  112.3511 -19.7301 -202.8977\n"
            "  91.7850 19.6506 -194.3522\n"
            "  87.5156 59.7069 -201.0971\n"
            "  99.9855 61.7724 -190.1810\n"
            "  110.5161 60.2249 -200.8964\n"
            "ball second tip worn diameter 20 known to 0.003\n"
            "  -37.2462 12.2489 -231.8669\n"
            "  -52.2519 22.7711 -233.9069\n"
            "  -62.6780 7.7645 -231.1907\n"
            "  -47.7550 -2.7331 -231.6411\n"
            "  -50.0000 10.0000 -220.0000\n"
            "  -44.0914 15.9087 -223.0413\n"
            "  -56.1082 7.7768 -221.7417\n"
            "setter puck top -400\n  touched -290.5 with probe\n"
            "zero G54\n  turn shaft along y\n  x shaft at 7\n  y target at -5\n"
            "  z target\n"
            "zero G55\n  x second\n  y second at 4\n  z second\n",
    /* indicators: two sweeps of a wall, a bore and a boss swept round, as
       places and as holes */
    CONTROL "tip gauged ball diameter 4 length 109.5 repeat 0.002\n"
            "sweep first along y faces x- repeat 0.001\n"
            "  10 0.3575\n  35 0.7496\n  80 1.4570\n"
            "  121 2.1012\n"
            "sweep wall along y faces x- repeat 0.001 after first\n"
            "  10 0.2523\n  42 0.4194\n  80 0.6186\n"
            "  119 0.8232\n"
            "dial pilot inside at 50 -20 diameter 25 repeat 0.001\n"
            "  0 0.0921\n  70 0.5065\n  140 0.7786\n"
            "  215 0.5329\n  290 0.0893\n"
            "dial hub outside at 250 80 repeat 0.0015\n"
            "  0 0.4100\n  90 0.4113\n  180 0.3902\n"
            "  270 0.3887\n  300 0.3949\n"
            "ball target tip gauged\n"
            "  38.3916 -39.2556 -191.7722\n"
            "  28.7534 -32.4967 -193.0825\n"
            "  22.0564 -42.1358 -191.3378\n"
            "  31.6420 -48.8780 -191.6272\n"
            "  30.2000 -40.7000 -184.1499\n"
            "  33.9950 -36.9049 -186.1037\n"
            "pattern plate places known to 0.002\n  hole pilot at 20 10\n"
            "  hole hub at 220.222 109.185\n  hole target at -0.217 -10.374\n"
            "zero G54\n  turn wall along y\n  x pilot at 7\n  y hub at -5\n"
            "zero G55\n  turn plate\n  x plate\n  y plate\n",
    /* stations: two touched, one predicted, one that keeps its own height; a turn
       that was measured apart weighs against theirs */
    CONTROL STATIONS("turn rail along x") ROW,
    CONTROL STATIONS("") ROW,
    CONTROL STATIONS("adjusted yes") ROW,
    CONTROL STATIONS("turn 1.1 adjusted yes") ROW,
    /* one alone, by its own turn */
    CONTROL "stations row places known to 0.004\n" WALLS
            "zero G54\n  turn rail along x\n  x stop at 3\n  y rail at -4\n"
            "  station row at 10 20\n"
            "zero G55\n  station row at 250 -60\n",
    /* heights: a chain with a second way round, in all three conventions */
    HEIGHTS("gauge-line"), HEIGHTS("tip-to-part"),
    HEIGHTS("reference-tool 2"),
};

/* What is moved, by how much: number `of` of its kind, `part` of that. */
typedef enum moved_kind {
    TOUCH,   /* counted through all features; x, y, z */
    HOLE,    /* nominal x, y */
    SIZE,    /* of a feature */
    TIP,     /* diameter c1 s1 c3 s3, length */
    DEGREES, /* temperature, expansion */
    TOOL,    /* length */
    STATION, /* its nominal x, y, z */
    SETTER,  /* top, height */
    CONTACT,
    READING, /* of a table: value, other */
    NOTHING
} moved_kind;

typedef struct nudge {
    moved_kind kind;
    size_t of, part;
    double by;
} nudge;

static double shift(const nudge *m, moved_kind kind, size_t of, size_t part)
{
    return m->kind == kind && m->of == of && m->part == part ? m->by : 0;
}

static void copy_touches(const jaw_setup *from, size_t f, jaw_setup *to,
                         const nudge *m, size_t *count)
{
    size_t n, first;
    const jaw_touch *t = jaw_setup_touches(from, f, &n, &first);
    const jaw_place *place = jaw_setup_touch_places(from, f);

    for (size_t i = 0; i < n; i++, (*count)++) {
        jaw_touch moved = {t[i].x + shift(m, TOUCH, *count, 0),
                           t[i].y + shift(m, TOUCH, *count, 1),
                           t[i].z + shift(m, TOUCH, *count, 2)};
        if (i == first && first > 0)
            jaw_setup_other_wall(to);
        jaw_setup_add_touch(to, moved, place[i]);
    }
}

static void copy_holes(const jaw_setup *from, size_t f, jaw_setup *to,
                       const nudge *m, size_t *count)
{
    size_t n;
    const jaw_hole_entry *h = jaw_setup_holes(from, f, &n);

    for (size_t i = 0; i < n; i++, (*count)++) {
        jaw_hole_entry moved = h[i];
        moved.nominal.x += shift(m, HOLE, *count, 0);
        moved.nominal.y += shift(m, HOLE, *count, 1);
        jaw_setup_add_hole(to, &moved);
    }
}

static void copy_tips(const jaw_setup *from, jaw_setup *to, const nudge *m)
{
    size_t n;
    const jaw_tip_entry *tips = jaw_setup_tips(from, &n);

    for (size_t i = 0; i < n; i++) {
        jaw_tip_entry tip = tips[i];
        tip.tip.diameter += shift(m, TIP, i, 0);
        for (size_t k = 0; k < 4; k++)
            tip.harmonic[k] += shift(m, TIP, i, k + 1);
        tip.tip.length += shift(m, TIP, i, 5);
        jaw_setup_add_tip(to, &tip);
    }
}

static void copy_heights(const jaw_setup *from, jaw_setup *to, const nudge *m)
{
    size_t n;
    const jaw_setter_entry *setters = jaw_setup_setters(from, &n);
    for (size_t i = 0; i < n; i++) {
        jaw_setter_entry setter = setters[i];
        setter.top += shift(m, SETTER, i, 0);
        setter.height += shift(m, SETTER, i, 1);
        jaw_setup_add_setter(to, &setter);
    }
    const jaw_tool_entry *tools = jaw_setup_tools(from, &n);
    for (size_t i = 0; i < n; i++) {
        jaw_tool_entry tool = tools[i];
        tool.length += shift(m, TOOL, i, 0);
        jaw_setup_add_tool(to, &tool);
    }
    const jaw_contact_entry *contacts = jaw_setup_contacts(from, &n);
    for (size_t i = 0; i < n; i++) {
        jaw_contact_entry contact = contacts[i];
        contact.reading += shift(m, CONTACT, i, 0);
        jaw_setup_add_contact(to, &contact);
    }
}

static void copy_features(const jaw_setup *from, jaw_setup *to,
                          const nudge *m)
{
    size_t n, touches = 0, holes = 0;
    const jaw_feature_entry *features = jaw_setup_features(from, &n);

    for (size_t f = 0; f < n; f++) {
        jaw_feature_entry feature = features[f];
        feature.size += shift(m, SIZE, f, 0);
        jaw_setup_add_feature(to, &feature);
        copy_touches(from, f, to, m, &touches);
        copy_holes(from, f, to, m, &holes);
    }
}

static void copy_tasks(const jaw_setup *from, jaw_setup *to, const nudge *m)
{
    size_t n, readings, of = 0;
    const jaw_task *tasks = jaw_setup_tasks(from, &n);

    for (size_t i = 0; i < n; i++) {
        const jaw_reading *r = jaw_setup_readings(from, i, &readings);
        jaw_setup_add_task(to, &tasks[i]);
        for (size_t k = 0; k < readings; k++, of++) {
            jaw_reading moved = r[k];
            moved.value += shift(m, READING, of, 0);
            moved.other += shift(m, READING, of, 1);
            jaw_setup_add_reading(to, &moved);
        }
    }
}

static jaw_setup *copy_moved(const jaw_setup *from, const nudge *m)
{
    jaw_setup *to = jaw_setup_alloc();
    size_t n;

    jaw_setup_set_control(to, jaw_setup_control(from));
    const jaw_temperature *warm = jaw_setup_temperature(from);
    if (warm != NULL) {
        jaw_temperature t = *warm;
        t.at += shift(m, DEGREES, 0, 0);
        t.expansion += shift(m, DEGREES, 0, 1);
        jaw_setup_set_temperature(to, &t);
    }
    copy_tips(from, to, m);
    copy_features(from, to, m);
    copy_heights(from, to, m);
    copy_tasks(from, to, m);
    const jaw_zero_entry *zeros = jaw_setup_zeros(from, &n);
    for (size_t i = 0; i < n; i++) {
        jaw_zero_entry zero = zeros[i];
        if (isnan(zero.station_at.z))
            zero.station_at.z = 0;
        zero.station_at.x += shift(m, STATION, i, 0);
        zero.station_at.y += shift(m, STATION, i, 1);
        zero.station_at.z += shift(m, STATION, i, 2);
        jaw_setup_add_zero(to, &zero);
    }
    return to;
}

/* ------------------------------------------------------------------- values */

enum { VALUES = 80, TOUCHES = 64 };

typedef struct values {
    size_t n, touches;
    double is[VALUES], u[VALUES];
    double repeat[TOUCHES]; /* of each touch */
    unsigned axes[TOUCHES]; /* on which it is read: 1 x, 2 y, 4 z */
} values;

static void take(values *v, double is, double u)
{
    if (isnan(is) || isnan(u))
        return;
    ck_assert_uint_lt(v->n, VALUES);
    v->is[v->n] = is;
    v->u[v->n++] = u;
}

/* What bars and indicators tell by themselves. */
static void take_own(const jaw_found *f, values *v)
{
    take(v, f->kind == JAW_BAR ? f->as.bar.theta : f->as.sweep.theta,
         f->turn.u);
    take(v, f->as.dial.centre.x, f->centre[0].u);
    take(v, f->as.dial.centre.y, f->centre[1].u);
    take(v, f->changed, f->changed_trust.u);
}

/* Where it stands, for marks; of a wall its direction alone, for its middle
 * moves along it with the touches (where.c tests what is across).  What touches
 * that scatter by hundredths bend is left out of any uncertainty. */
static void take_where(const jaw_found *f, values *v)
{
    const jaw_where *w = &f->where;

    if (f->rms > 0.01)
        return;
    take(v, w->theta, w->turn.u);
    take(v, w->at.x, w->wall ? NOT : w->trust[0].u);
    take(v, w->at.y, w->trust[1].u);
    take(v, w->at.z, w->trust[2].u);
}

/* A normal in space makes one error of three. */
static unsigned axes_of(jaw_feature_kind kind)
{
    switch (kind) {
    case JAW_BALL:
    case JAW_BAR: return 7;
    case JAW_FACE:
    case JAW_SWEEP:
    case JAW_DIAL: return 4;
    default: return 3;
    }
}

static void take_values(const jaw_solution *s, values *v)
{
    size_t n;
    const jaw_zero_found *z = jaw_solution_zeros(s, &n);

    for (size_t i = 0; i < n; i++) {
        take(v, z[i].zero.x, z[i].trust[JAW_X].u);
        take(v, z[i].zero.y, z[i].trust[JAW_Y].u);
        take(v, z[i].zero.z, z[i].trust[JAW_Z].u);
        take(v, z[i].skew, z[i].turn_trust.u);
    }
    const jaw_found *found = jaw_solution_features(s, &n);
    for (size_t i = 0; i < n; i++)
        take_own(&found[i], v);
    for (size_t i = 0; i < n; i++)
        take_where(&found[i], v);
    const jaw_surface_found *surface = jaw_solution_surfaces(s, &n);
    for (size_t i = 0; i < n; i++)
        take(v, surface[i].z, /* what is exact is so to 5e-6 */
             surface[i].trust.u > 1e-5 ? surface[i].trust.u : NOT);
    const jaw_tool_found *tools = jaw_solution_tools(s, &n);
    for (size_t i = 0; i < n; i++)
        take(v, tools[i].value, tools[i].trust.u);
    const jaw_finding *f = jaw_solution_findings(s, &n);
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; f[i].kind == JAW_TASK_STATIONS && k < f[i].n_items;
             k++)
            take(v, f[i].items[k].value,
                 f[i].items[k].half95 / jaw_trust_cover(0.95, INFINITY));
}

static values values_of(const jaw_setup *from, const nudge *m)
{
    jaw_setup *setup = copy_moved(from, m);
    jaw_solution *solution;
    values v = {0};
    size_t n;

    jaw_setup_ask_where(setup);
    ck_assert_int_eq(jaw_setup_solve(setup, NULL, &solution), JAW_OK);
    take_values(solution, &v);
    /* uncertainties as stated, whatever these touches scatter by */
    jaw_solution_quality q = jaw_solution_total(solution);
    double scale = q.s0 > 1 && q.chance < 0.001 ? q.s0 : 1;
    for (size_t k = 0; k < v.n; k++)
        v.u[k] /= scale;
    const jaw_found *found = jaw_solution_features(solution, &n);
    for (size_t f = 0; f < n; f++)
        for (size_t i = 0; i < found[f].n && found[f].kind != JAW_PATTERN;
             i++) {
            v.axes[v.touches] = axes_of(found[f].kind);
            v.repeat[v.touches++] = found[f].repeat;
        }
    jaw_solution_free(solution);
    jaw_setup_free(setup);
    return v;
}

/* --------------------------------------------------------------- differences */

typedef struct sums {
    const jaw_setup *base;
    values at;
    double sum[VALUES];
} sums;

/* d value / d what is moved, times u */
static void differ(sums *s, moved_kind kind, size_t of, size_t part, double u,
                   double part_of[VALUES])
{
    double h = 1e-4; /* mm: the third derivative leaves 1e-8 of it */
    if (kind == DEGREES)
        h = part == 0 ? 0.1 : 1e-7;
    nudge plus = {kind, of, part, h}, minus = {kind, of, part, -h};
    values up = values_of(s->base, &plus), down = values_of(s->base, &minus);

    for (size_t k = 0; k < s->at.n; k++)
        part_of[k] = (up.is[k] - down.is[k]) / (2 * h) * u;
}

static void add_one(sums *s, moved_kind kind, size_t of, size_t part, double u)
{
    double by[VALUES];

    if (!(u > 0))
        return;
    differ(s, kind, of, part, u, by);
    for (size_t k = 0; k < s->at.n; k++)
        s->sum[k] += by[k] * by[k];
}

static void add_tip(sums *s, const jaw_tip_entry *tip, size_t i)
{
    double by[JAW_TIP_PARTS][VALUES] = {{0}};

    for (size_t a = 0; a < JAW_TIP_PARTS; a++) {
        double u = a == 0 ? tip->diameter_known : tip->harmonic_known[a - 1];
        if (u > 0)
            differ(s, TIP, i, a, u, by[a]);
    }
    for (int a = 0; a < JAW_TIP_PARTS; a++)
        for (int b = 0; b < JAW_TIP_PARTS; b++)
            for (size_t k = 0; k < s->at.n; k++)
                s->sum[k] +=
                    by[a][k] * by[b][k] *
                    (a == b ? 1
                            : tip->correlation[jaw_tip_pair(
                                  (jaw_tip_part)a, (jaw_tip_part)b)]);
    add_one(s, TIP, i, 5, tip->length_known);
}

static void add_touches(sums *s)
{
    for (size_t t = 0; t < s->at.touches; t++)
        for (size_t axis = 0; axis < 3; axis++)
            if (s->at.axes[t] & 1u << axis)
                add_one(s, TOUCH, t, axis, s->at.repeat[t]);
}

/* Sizes and places; a typed place adds the repeat of one touch. */
static void add_drawn(sums *s)
{
    size_t n, holes, of = 0;
    const jaw_feature_entry *f = jaw_setup_features(s->base, &n);

    for (size_t i = 0; i < n; i++) {
        add_one(s, SIZE, i, 0, f[i].size_known);
        const jaw_hole_entry *h = jaw_setup_holes(s->base, i, &holes);
        for (size_t k = 0; k < holes; k++, of++)
            for (size_t axis = 0; axis < 2; axis++)
                add_one(s, HOLE, of, axis,
                        hypot(f[i].places_known,
                              h[k].feature == NULL ? f[i].repeat : 0));
    }
    const jaw_temperature *warm = jaw_setup_temperature(s->base);
    if (warm != NULL) {
        add_one(s, DEGREES, 0, 0, warm->at_known);
        add_one(s, DEGREES, 0, 1, warm->expansion_known);
    }
}

static void add_heights(sums *s, double tip_repeat)
{
    size_t n;
    const jaw_setter_entry *setters = jaw_setup_setters(s->base, &n);
    for (size_t i = 0; i < n; i++) {
        add_one(s, SETTER, i, 0, setters[i].top_known);
        add_one(s, SETTER, i, 1, setters[i].height_known);
    }
    const jaw_tool_entry *tools = jaw_setup_tools(s->base, &n);
    for (size_t i = 0; i < n; i++)
        add_one(s, TOOL, i, 0, tools[i].length_known);
    const jaw_contact_entry *contacts = jaw_setup_contacts(s->base, &n);
    for (size_t i = 0; i < n; i++)
        add_one(s, CONTACT, i, 0,
                contacts[i].tool == 0 ? tip_repeat : JAW_REPEAT_DEFAULT);
}

static void add_readings(sums *s)
{
    size_t n, readings, of = 0;
    const jaw_task *tasks = jaw_setup_tasks(s->base, &n);

    for (size_t i = 0; i < n; i++) {
        const jaw_reading *r = jaw_setup_readings(s->base, i, &readings);
        for (size_t k = 0; k < readings; k++, of++)
            for (size_t part = 0; part < 2 && !r[k].feature; part++)
                add_one(s, READING, of, part, tasks[i].as.rotary.repeat);
    }
}

static void add_stations(sums *s)
{
    size_t n;
    const jaw_task *task = jaw_setup_tasks(s->base, &n);
    const jaw_zero_entry *zeros = jaw_setup_zeros(s->base, &n);

    for (size_t i = 0; i < n; i++)
        for (size_t axis = 0; axis < 3 && zeros[i].station != NULL; axis++)
            add_one(s, STATION, i, axis, task[0].as.stations.known);
}

START_TEST(uncertainty_by_differences)
{
    const nudge none = {NOTHING, 0, 0, 0};
    jaw_setup *base = jaw_setup_alloc();
    sums s = {.base = base};
    size_t tips;

    ck_assert_int_eq(jaw_sheet_read_text(sheets[_i], strlen(sheets[_i]),
                                         "sheet", base, NULL),
                     JAW_OK);
    s.at = values_of(base, &none);
    ck_assert_uint_ge(s.at.n, 3);
    add_touches(&s);
    add_drawn(&s);
    add_stations(&s);
    const jaw_tip_entry *tip = jaw_setup_tips(base, &tips);
    for (size_t i = 0; i < tips; i++)
        add_tip(&s, &tip[i], i);
    add_heights(&s, tip[0].tip.repeat);
    add_readings(&s);
    for (size_t k = 0; k < s.at.n; k++)
        near(s.at.u[k], sqrt(s.sum[k]), 2e-3 * s.at.u[k],
             "u against differences");
    jaw_setup_free(base);
}
END_TEST

TCase *differences_case(void)
{
    TCase *tc = tcase_create("differences");
    tcase_add_loop_test(tc, uncertainty_by_differences, 0,
                        (int)(sizeof sheets / sizeof *sheets));
    return tc;
}
