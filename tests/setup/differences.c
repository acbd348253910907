/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The derivatives behind every uncertainty (joint.c, worth.c) against finite
 * differences of the whole solver: each coordinate that was read is moved a
 * little both ways, everything is solved again, and what the values do gives
 *     u^2 = sum (d value / d coordinate)^2 repeat^2        (JCGM 100, 5.1.2)
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
};

/* Which coordinate is moved: of a touch, counted through all features; off. */
typedef struct nudge {
    size_t touch;
    int axis;
    double by;
} nudge;

static void copy_touches(const jaw_setup *from, size_t f, jaw_setup *to,
                         const nudge *move, size_t *count)
{
    size_t n, first;
    const jaw_touch *t = jaw_setup_touches(from, f, &n, &first);
    const jaw_place *place = jaw_setup_touch_places(from, f);

    for (size_t i = 0; i < n; i++, (*count)++) {
        jaw_touch moved = t[i];
        if (*count == move->touch)
            *(move->axis == 0 ? &moved.x : &moved.y) += move->by;
        if (i == first && first > 0)
            jaw_setup_other_wall(to);
        jaw_setup_add_touch(to, moved, place[i]);
    }
}

static jaw_setup *copy_moved(const jaw_setup *from, const nudge *move,
                             size_t *touches)
{
    jaw_setup *to = jaw_setup_alloc();
    size_t n;

    jaw_setup_set_control(to, jaw_setup_control(from));
    const jaw_tip_entry *tips = jaw_setup_tips(from, &n);
    for (size_t i = 0; i < n; i++)
        jaw_setup_add_tip(to, &tips[i]);
    const jaw_feature_entry *features = jaw_setup_features(from, &n);
    *touches = 0;
    for (size_t f = 0; f < n; f++) {
        jaw_setup_add_feature(to, &features[f]);
        copy_touches(from, f, to, move, touches);
    }
    const jaw_zero_entry *zeros = jaw_setup_zeros(from, &n);
    for (size_t i = 0; i < n; i++)
        jaw_setup_add_zero(to, &zeros[i]);
    return to;
}

enum { VALUES = 6 };

/* x, y and turn of each work zero, with what each is said to be worth. */
static size_t values_of(const jaw_setup *from, const nudge *move,
                        double value[], double u[], double repeat[],
                        size_t *touches)
{
    jaw_setup *setup = copy_moved(from, move, touches);
    jaw_solution *solution;
    size_t n, count = 0, at = 0;

    ck_assert_int_eq(jaw_setup_solve(setup, NULL, &solution), JAW_OK);
    const jaw_zero_found *z = jaw_solution_zeros(solution, &n);
    for (size_t i = 0; i < n && count + 3 <= VALUES; i++) {
        value[count] = z[i].zero.x;
        u[count++] = z[i].trust[JAW_X].u;
        value[count] = z[i].zero.y;
        u[count++] = z[i].trust[JAW_Y].u;
        value[count] = z[i].skew;
        u[count++] = z[i].turn_trust.u;
    }
    /* uncertainties as stated, whatever these touches scatter by */
    jaw_solution_quality q = jaw_solution_total(solution);
    double scale = q.s0 > 1 && q.chance < 0.001 ? q.s0 : 1;
    for (size_t k = 0; k < count; k++)
        u[k] /= scale;
    const jaw_found *found = jaw_solution_features(solution, &n);
    for (size_t f = 0; f < n; f++)
        for (size_t i = 0; i < found[f].n; i++)
            repeat[at++] = found[f].repeat;
    jaw_solution_free(solution);
    jaw_setup_free(setup);
    return count;
}

START_TEST(uncertainty_by_differences)
{
    const double h = 1e-4; /* mm: the third derivative leaves 1e-8 of it */
    double value[VALUES], u[VALUES], sum[VALUES] = {0}, repeat[64];
    double up[VALUES], down[VALUES], rest[VALUES], other[64];
    nudge none = {(size_t)-1, 0, 0};
    size_t touches, same;
    jaw_setup *base = jaw_setup_alloc();

    ck_assert_int_eq(jaw_sheet_read_text(sheets[_i], strlen(sheets[_i]),
                                         "sheet", base, NULL),
                     JAW_OK);
    size_t n = values_of(base, &none, value, u, repeat, &touches);
    ck_assert_uint_ge(n, 3);
    ck_assert_uint_ge(touches, 7);
    for (size_t t = 0; t < touches; t++)
        for (int axis = 0; axis < 2; axis++) {
            nudge plus = {t, axis, h}, minus = {t, axis, -h};
            values_of(base, &plus, up, rest, other, &same);
            values_of(base, &minus, down, rest, other, &same);
            for (size_t k = 0; k < n; k++) {
                double part = (up[k] - down[k]) / (2 * h) * repeat[t];
                sum[k] += part * part;
            }
        }
    for (size_t k = 0; k < n; k++)
        near(u[k], sqrt(sum[k]), 2e-3 * u[k], "u against differences");
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
