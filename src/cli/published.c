/* SPDX-License-Identifier: GPL-3.0-or-later */
/* published.c: data and answers of the self-test.
 *
 * Where a source prints fewer digits than a double holds, the answer here was
 * recomputed from its data with 90-digit arithmetic and agrees with what is
 * printed; what is allowed is then rounding.  Where the printed digits are the
 * data, half of the last one is allowed. */
#include "published.h"

static const double gander[] = {1, 7, 2, 6, 5, 8, 7, 7, 9, 5, 3, 7};

static const double pratt[] = {-1, 0, -0.3, -0.06, 0.3, 0.1, 1, 0};

static const double cookbook[] = {9,  34,  35, 10, -13, 6,
                                  10, -14, 23, 27, 0,   -10};

static const double pearson[] = {0.0, 5.9, 0.9, 5.4, 1.8, 4.4, 2.6,
                                 4.6, 3.3, 3.5, 4.4, 3.7, 5.2, 2.8,
                                 6.1, 2.8, 6.5, 2.4, 7.4, 1.5};

static const double niemeier[] = {
    0, 0, -1.0013, 1, 0, -0.6700, 2, 0, -0.3309, 3, 0, 0.0001,
    0, 1, -0.5023, 1, 1, -0.1669, 2, 1, 0.1606,  3, 1, 0.5033,
    0, 2, -0.0029, 1, 2, 0.3313,  2, 2, 0.6707,  3, 2, 0.9973,
    0, 3, 0.4988,  1, 3, 0.8318,  2, 3, 1.1715,  3, 3, 1.5002};

static const double umeyama[] = {0, 0, 0, 0, 1, 0, -1, 0, 0, 2, 0, 2};

static const double ghilani[] = {
    121.622,    -128.066, 1049422.40, 51089.20,   141.228,  187.718,
    1049413.95, 49659.30, 175.802,    135.728,    1049244.95, 49884.95};

/* Factors of the handbook's table for five holes on a circle of diameter 1,
 * first hole at the top, moved to the circle's middle and y turned upward,
 * against the circle itself about (10, 20). */
static const double bolts[] = {
    0.00000,  0.50000,  10.0,                20.5,
    -0.47553, 0.15451,  9.5244717418524232,  20.154508497187474,
    -0.29389, -0.40451, 9.7061073738537635,  19.595491502812526,
    0.29389,  -0.40451, 10.293892626146237,  19.595491502812526,
    0.47553,  0.15451,  10.475528258147577,  20.154508497187474};

/* A sine bar of 5 in on blocks of the height that the handbook prints: its two
 * ends. */
static const double sine_30[] = {0, 0, 4.3301270189221932, 2.50000};
static const double sine_10_30[] = {0, 0, 4.9162740980950204, 0.91118};

static const double skewed[] = {100, 50, 1, 80, 20};

/* Worked by hand with the triangle 23, 264, 265: sine 23/265, cosine 264/265,
 * so that a pin of radius 5.3 is off by 0.46 and 5.28.  The walls meet at
 * (100, 50); the corner is part x 2.65, y 5.3, which the turn makes
 * (2.18, 5.51).  Z: -200 - 100.  Lengths: -170 + 250, -120.5 + 250 - 20. */
static const char corner[] =
    "unit mm\n"
    "control  step 0.001  angle-step 0.0001  turn yes  lengths gauge-line\n"
    "tip gauge  pin  diameter 10.6  repeat 0.005  length 100\n"
    "edge front  tip gauge  faces y-\n"
    "  126.86  47.02\n"
    "  206.06  53.92\n"
    "  285.26  60.82\n"
    "edge left  tip gauge  faces x-\n"
    "  92.42  75.94\n"
    "  87.82  128.74\n"
    "face top  tip gauge\n"
    "  150  80  -200\n"
    "  200  80  -200\n"
    "  150  120  -200\n"
    "setter puck  top -250\n"
    "tool 1  touched -170 on puck\n"
    "tool 2  touched -120.5 on puck block 20\n"
    "zero G54\n"
    "  turn  front along x\n"
    "  x  left at 2.65\n"
    "  y  front at 5.3\n"
    "  z  top at 0\n";

#define ROWS(array, columns)                                                   \
    .data = array, .n = sizeof array / sizeof array[0] / (columns)

const published_case published_cases[] = {
    {"circle, six touches",
     "Gander, Golub & Strebel, BIT 34 (1994) 558-578; Chernov 2010",
     PUBLISHED_CIRCLE, ROWS(gander, 2),
     .want = {{"x", 4.7397824109060744, 1e-12},
              {"y", 2.9835326992924753, 1e-12},
              {"r", 4.7142260377921099, 1e-12},
              {"sum of squares", 1.2275990781836563, 1e-12}}},
    {"circle, short flat arc",
     "Pratt, Computer Graphics 21 (1987) 145-152, data; answer recomputed",
     PUBLISHED_CIRCLE, ROWS(pratt, 2),
     .want = {{"x", 0.49933272579526861, 1e-10},
              {"y", -22.535339674961108, 1e-10},
              {"r", 22.5629572619215, 1e-10},
              {"sum of squares", 0.011735308517602256, 1e-12}}},
    {"circle, touches all round",
     "SciPy Cookbook, Least squares circle (2011)",
     PUBLISHED_CIRCLE, ROWS(cookbook, 2),
     .want = {{"x", 10.500086213944376, 1e-12},
              {"y", 9.6599495058364298, 1e-12},
              {"r", 23.333527646182876, 1e-12},
              {"sum of squares", 7.7118522388199624, 1e-12}}},
    {"line of closest fit", "Pearson, Phil. Mag. (6) 2 (1901) 559-572",
     PUBLISHED_LINE, ROWS(pearson, 2),
     .want = {{"direction", -0.49942891481036722, 1e-14},
              {"distance", 5.0775587555998509, 1e-13},
              {"sum of squares", 0.61857275943704582, 1e-13}}},
    {"plane over a grid",
     "Niemeier, Ausgleichungsrechnung (2008), data; answer recomputed",
     PUBLISHED_PLANE, ROWS(niemeier, 3),
     .want = {{"normal x", -0.28642677249130749, 1e-14},
              {"normal y", -0.42873299246429131, 1e-14},
              {"normal z", 0.85682420902588108, 1e-14},
              {"distance", -0.85899949334058578, 1e-14},
              {"sum of squares", 8.0279965333044615e-05, 1e-14}}},
    {"turn and shift, no mirror image", "Umeyama, IEEE PAMI 13 (1991) 376-380",
     PUBLISHED_RIGID, ROWS(umeyama, 4),
     .want = {{"turn", -0.5880026035475675, 1e-14},
              {"shift x", -0.98048356226276734, 1e-14},
              {"shift y", 0.29686653584984724, 1e-14},
              {"sum of squares", 1.8592649660480143, 1e-13},
              {"scale", 0.72111025509279791, 1e-14}}},
    {"turn and scale, large coordinates",
     "Ghilani, Adjustment Computations (Wiley), chapter 18",
     PUBLISHED_RIGID, ROWS(ghilani, 4),
     .want = {{"turn", -3.0854268893270733, 1e-11},
              /* the rigid shift and its squares are not published */
              {"", 0, 0},
              {"", 0, 0},
              {"", 0, 0},
              {"scale", 4.5196205204990649, 1e-9}}},
    {"bolt circle of five",
     "Machinery's Handbook, hole coordinate factors; from memory",
     PUBLISHED_PATTERN, ROWS(bolts, 4),
     .want = {{"origin x", 10, 0.5e-5},
              {"origin y", 20, 0.5e-5},
              {"turn", 0, 1e-5},
              {"scale", 1, 1e-5},
              {"largest residual", 0, 0.71e-5}}},
    {"sine bar, 30 deg", "Machinery's Handbook, sine bar table; from memory",
     PUBLISHED_LINE, ROWS(sine_30, 2),
     .want = {{"direction", 0.52359877559829887, 1.2e-6}}},
    {"sine bar, 10 deg 30 min",
     "Machinery's Handbook, sine bar table; from memory",
     PUBLISHED_LINE, ROWS(sine_10_30, 2),
     .want = {{"direction", 0.18325957145940461, 1.1e-6}}},
    {"inch", "1959 agreement; ISO 31", PUBLISHED_INCH,
     .want = {{"millimetres", 25.4, 0}}},
    {"skewed work coordinates", "worked by hand: turn by 1 deg, then shift",
     PUBLISHED_SKEW, ROWS(skewed, 5),
     .want = {{"x", 179.638767, 0.5e-6}, {"y", 71.393146, 0.5e-6}}},
    {"a whole sheet", "worked by hand with the triangle 23, 264, 265",
     PUBLISHED_SHEET, .sheet = corner,
     .want = {{"X", 97.82, 1e-10},
              {"Y", 44.49, 1e-10},
              {"Z", -300, 1e-10},
              {"skew", 0.086901790783061683, 1e-13},
              {"tool 1", 80, 1e-10},
              {"tool 2", 109.5, 1e-10}}},
};

const size_t published_count =
    sizeof published_cases / sizeof published_cases[0];
