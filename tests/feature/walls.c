/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of walls.c: slot and web, from one touch on each wall upwards. */
#include "feature_tests.h"
#include "true.h"

#include "tests/near.h"

#include <string.h>

#define NOT ((double)NAN)
#define ALONE (JAW_SAME_PLACE | JAW_DIRECTION_ASSUMED | JAW_NO_CHECK)

static jaw_tip tip_of(double diameter)
{
    return jaw_tip_make(JAW_TIP_CYLINDER, diameter);
}

typedef jaw_status find(const jaw_touch a[], size_t na, const jaw_touch b[],
                        size_t nb, const jaw_tip *tip, double along,
                        jaw_walls *walls, double resid[]);

static find *const kinds[] = {jaw_feature_slot, jaw_feature_web};
static const int wall[] = {1, -1}; /* the sign of the tip in the width */

static void walls_are_nan(const jaw_walls *w, const char *name)
{
    const double x[] = {w->middle.x, w->middle.y, w->width, w->dir.x,
                        w->dir.y,    w->theta,    w->u_middle, w->u_width,
                        w->u_theta,  w->span,     w->rms};
    all_nan(x, COUNT(x), name);
    ck_assert_uint_eq(w->flags, 0);
}

/* ------------------------------------------------------------------ by hand */

/* definitions.md: middle of two opposite touches: the radius cancels. */
START_TEST(one_coordinate_on_each_wall)
{
    jaw_tip tip = tip_of(6);
    jaw_walls w;
    double resid[2];
    for (int k = 0; k < 2; k++)
        for (int swap = 0; swap < 2; swap++) {
            jaw_touch x[] = {{103, NOT, NOT}, {127, NOT, NOT}};
            jaw_touch y[] = {{NOT, -20, NOT}, {NOT, 4, NOT}};
            ck_status(kinds[k](&x[swap], 1, &x[1 - swap], 1, &tip, NOT, &w,
                               resid), JAW_OK);
            near(w.middle.x, 115, 0, "x");
            ck_assert(isnan(w.middle.y));
            near(w.width, 24 + 6 * wall[k], 0, "width");
            near(w.theta, PI / 2, 0, "theta");
            near(w.span, 0, 0, "span");
            ck_assert_uint_eq(w.flags, ALONE);
            ck_assert(isnan(w.u_theta) && isnan(w.rms));
            ck_status(kinds[k](&y[swap], 1, &y[1 - swap], 1, &tip, NOT, &w,
                               resid), JAW_OK);
            near(w.middle.y, -8, 0, "y");
            ck_assert(isnan(w.middle.x));
            near(w.width, 24 + 6 * wall[k], 0, "width");
            near(w.theta, 0, 0, "theta");
            near(resid[0], 0, 0, "residual");
            near(resid[1], 0, 0, "residual");
            ck_assert_uint_eq(w.flags, ALONE);
        }
}
END_TEST

/* Walls turned by atan(41/840): read along the axis 84.1, square to the walls
 * 84 (41, 840, 841 is a right triangle).  Only then comes the tip. */
START_TEST(width_is_corrected_for_the_turn)
{
    static const double turns[] = {41.0 / 840, -41.0 / 840, 0};
    jaw_touch x[] = {{10, NOT, NOT}, {94.1, NOT, NOT}};
    jaw_touch y[] = {{NOT, 10, NOT}, {NOT, 94.1, NOT}};
    double turn = atan(turns[_i]), gap = turns[_i] != 0 ? 84 : 84.1;
    jaw_tip tip = tip_of(6);
    jaw_walls w;
    for (int k = 0; k < 2; k++)
        for (int half = -1; half <= 1; half++) {
            ck_status(kinds[k](&y[0], 1, &y[1], 1, &tip, turn + half * PI, &w,
                               NULL), JAW_OK);
            near(w.width, gap + 6 * wall[k], 2e-13, "width from y");
            near(w.middle.y, 52.05, 1e-14, "y");
            near(w.theta, turn, 1e-15, "theta");
            near(w.dir.y, sin(turn), 1e-15, "dir");
            ck_assert_uint_eq(w.flags, JAW_SAME_PLACE | JAW_NO_CHECK);
            ck_status(kinds[k](&x[1], 1, &x[0], 1, &tip,
                               PI / 2 + turn + half * PI, &w, NULL), JAW_OK);
            near(w.width, gap + 6 * wall[k], 2e-13, "width from x");
            near(w.middle.x, 52.05, 1e-14, "x");
            near(w.theta, jaw_angle_half(PI / 2 + turn), 1e-15, "theta");
            ck_assert_uint_eq(w.flags, JAW_SAME_PLACE | JAW_NO_CHECK);
        }
}
END_TEST

/* Residuals lie along dir turned +90 degrees, whichever way dir looks: a wall
 * nearly along y has dir upwards (normal -x) or downwards (normal +x). */
START_TEST(residuals_of_one_coordinate)
{
    jaw_touch a[] = {{10, NOT, NOT}, {10.02, NOT, NOT}};
    jaw_touch b[] = {{40, NOT, NOT}};
    static const double along[] = {NAN, 1.5, -1.5};
    static const int sign[] = {-1, -1, 1};
    double share = isnan(along[_i]) ? 1 : sin(1.5);
    jaw_tip tip = tip_of(6);
    jaw_walls w;
    double resid[3];
    ck_status(jaw_feature_slot(a, 2, b, 1, &tip, along[_i], &w, resid),
              JAW_OK);
    near(resid[0], -0.01 * sign[_i] * share, 1e-14, "first");
    near(resid[1], 0.01 * sign[_i] * share, 1e-14, "second");
    near(resid[2], 0, 1e-14, "other wall");
    near(w.middle.x, 25.005, 1e-14, "x");
    near(w.width, 29.99 * share + 6, 1e-13, "width");
    near(w.rms, 0.01 * sqrt(2.0 / 3) * share, 1e-14, "rms");
    near(w.u_width / w.rms, sqrt(4.5), 1e-12, "s sqrt(1/2 + 1/1), s^2 = 3 "
                                              "rms^2");
    ck_assert_int_eq(w.dof, 1);
}
END_TEST

/* One touch on each wall, both coordinates: the walls are taken square to the
 * line between the touches; 20, 99, 101. */
START_TEST(one_touch_on_each_wall)
{
    jaw_touch a = {7, 3, NOT}, b = {7 + 2.0, 3 + 9.9, NOT};
    jaw_tip tip = tip_of(1);
    jaw_walls w;
    for (int k = 0; k < 2; k++) {
        ck_status(kinds[k](&a, 1, &b, 1, &tip, NOT, &w, NULL), JAW_OK);
        near(w.middle.x, 8, 1e-15, "x");
        near(w.middle.y, 7.95, 1e-15, "y");
        near(w.width, 10.1 + wall[k], 4e-15, "width");
        near(w.theta, -atan2(2, 9.9), 1e-15, "theta");
        ck_assert_uint_eq(w.flags, JAW_DIRECTION_ASSUMED | JAW_NO_CHECK);
        ck_assert(isnan(w.u_theta));
        /* With the direction known the same touches are 9.9 apart. */
        ck_status(kinds[k](&a, 1, &b, 1, &tip, 0, &w, NULL), JAW_OK);
        near(w.width, 9.9 + wall[k], 4e-15, "width");
        near(w.theta, 0, 0, "theta");
        ck_assert_uint_eq(w.flags, JAW_NO_CHECK);
    }
}
END_TEST

/* Two on one wall show the direction; the third on the other wall is not
 * opposite to any of them.  84, 4.1 long, 8.41 apart (41, 840, 841). */
START_TEST(two_touches_and_one)
{
    jaw_touch two[] = {{0, 0, NOT}, {84, 4.1, NOT}};
    jaw_touch one = {21 - 0.41, 1.025 + 8.40, NOT};
    jaw_tip tip = tip_of(3);
    jaw_walls w;
    for (int k = 0; k < 2; k++) {
        ck_status(kinds[k](two, 2, &one, 1, &tip, NOT, &w, NULL), JAW_OK);
        near(w.width, 8.41 + 3 * wall[k], 1e-13, "width");
        near(w.theta, atan2(41, 840), 1e-15, "theta");
        near(w.span, 84.1, 1e-13, "span of the wall with two");
        near((w.middle.x - 42 + 0.205) * 41 - (w.middle.y - 2.05 - 4.2) * 840,
             0, 1e-10, "on the middle line");
        ck_assert_int_eq(w.dof, 0);
        ck_assert_uint_eq(w.flags, JAW_NO_CHECK);
        jaw_walls other;
        ck_status(kinds[k](&one, 1, two, 2, &tip, NOT, &other, NULL), JAW_OK);
        near(other.width, w.width, 1e-14, "the other way round");
    }
}
END_TEST

/* Three and three on a slot along x, one touch 0.03 off: dof 3. */
START_TEST(three_touches_and_three)
{
    jaw_touch a[] = {{0, 0, NOT}, {10, 0.03, NOT}, {20, 0, NOT}};
    jaw_touch b[] = {{0, 12, NOT}, {10, 12, NOT}, {20, 12, NOT}};
    jaw_tip tip = tip_of(4);
    jaw_walls w;
    double resid[6];
    ck_status(jaw_feature_slot(a, 3, b, 3, &tip, NOT, &w, resid), JAW_OK);
    near(w.theta, 0, 1e-15, "theta");
    near(w.width, 15.99, 1e-13, "12 less 0.01, and the tip");
    near(w.middle.x, 10, 1e-14, "x");
    near(w.middle.y, 6.005, 1e-14, "y");
    near(resid[0], -0.01, 1e-14, "a");
    near(resid[1], 0.02, 1e-14, "a");
    near(resid[4], 0, 1e-14, "b");
    near(w.rms, 0.01, 1e-14, "rms: 6e-4 / 6");
    /* s^2 = 6e-4 / 3; u_width^2 = s^2 (1/3 + 1/3), u_theta^2 = s^2 / 400 */
    near(w.u_width, sqrt(2e-4 * 2 / 3), 1e-14, "u_width");
    near(w.u_middle, sqrt(2e-4 / 6), 1e-14, "u_middle");
    near(w.u_theta, sqrt(2e-4 / 400), 1e-15, "u_theta");
    near(w.span, 20, 1e-14, "span");
    ck_assert_int_eq(w.dof, 3);
    ck_assert_uint_eq(w.flags, 0);
}
END_TEST

/* Paper on both sides of a cutter. */
START_TEST(paper_stands_between)
{
    jaw_touch a = {103, NOT, NOT}, b = {127, NOT, NOT};
    jaw_tip tip = jaw_tip_make(JAW_TIP_CUTTER, 6);
    jaw_walls w;
    tip.paper = 0.0625;
    for (int k = 0; k < 2; k++) {
        ck_status(kinds[k](&a, 1, &b, 1, &tip, NOT, &w, NULL), JAW_OK);
        near(w.width, 24 + 6.125 * wall[k], 0, "width");
    }
}
END_TEST

/* ------------------------------------------------------------------- status */

#define X(v) {v, NAN, NAN}
#define Y(v) {NAN, v, NAN}

static const struct {
    const char *name;
    jaw_touch a[2], b[2];
    size_t na, nb;
    double diameter, along;
    jaw_status slot, web;
} wrong[] = {
    {"none", {{0, 0, 0}}, {{0, 0, 0}}, 0, 0, 6, NAN, JAW_EFEW, JAW_EFEW},
    {"one wall", {{1, 2, 0}, {9, 2, 0}}, {{0, 0, 0}}, 2, 0, 6, NAN, JAW_EFEW,
     JAW_EFEW},
    {"the other wall", {{0, 0, 0}}, {{1, 2, 0}, {9, 2, 0}}, 0, 2, 6, NAN,
     JAW_EFEW, JAW_EFEW},
    {"same place", {{1, 2, 0}}, {{1, 2, 0}}, 1, 1, 6, NAN, JAW_ERANK,
     JAW_ERANK},
    {"same x", {X(1)}, {X(1)}, 1, 1, 6, NAN, JAW_ERANK, JAW_ERANK},
    {"two in one place", {{1, 2, 0}, {1, 2, 0}}, {{1, 9, 0}}, 2, 1, 6, NAN,
     JAW_ERANK, JAW_ERANK},
    {"two and two in one place each", {{1, 2, 0}, {1, 2, 0}},
     {{1, 9, 0}, {1, 9, 0}}, 2, 2, 6, NAN, JAW_ERANK, JAW_ERANK},
    {"x alone and y alone", {X(1)}, {Y(9)}, 1, 1, 6, NAN, JAW_ENOTFINITE,
     JAW_ENOTFINITE},
    {"x alone and both", {X(1)}, {{9, 2, 0}}, 1, 1, 6, NAN, JAW_ENOTFINITE,
     JAW_ENOTFINITE},
    {"one lacks y", {{1, 2, 0}, X(1)}, {{9, 2, 0}}, 2, 1, 6, NAN,
     JAW_ENOTFINITE, JAW_ENOTFINITE},
    {"other lacks y", {{1, 2, 0}}, {{9, 2, 0}, X(1)}, 1, 2, 6, NAN,
     JAW_ENOTFINITE, JAW_ENOTFINITE},
    {"lacks both", {{NAN, NAN, 1}}, {X(9)}, 1, 1, 6, NAN, JAW_ENOTFINITE,
     JAW_ENOTFINITE},
    {"infinite", {X(INFINITY)}, {X(9)}, 1, 1, 6, NAN, JAW_ENOTFINITE,
     JAW_ENOTFINITE},
    {"infinite there", {X(1)}, {X(-INFINITY)}, 1, 1, 6, NAN, JAW_ENOTFINITE,
     JAW_ENOTFINITE},
    {"negative tip", {X(1)}, {X(9)}, 1, 1, -6, NAN, JAW_EDOMAIN, JAW_EDOMAIN},
    {"tip nan", {X(1)}, {X(9)}, 1, 1, NAN, NAN, JAW_ENOTFINITE,
     JAW_ENOTFINITE},
    {"infinite direction", {X(1)}, {X(9)}, 1, 1, 6, INFINITY, JAW_EDOMAIN,
     JAW_EDOMAIN},
    {"x of walls along x", {X(1)}, {X(9)}, 1, 1, 6, 0, JAW_ESIDE, JAW_ESIDE},
    {"y of walls along y", {Y(1)}, {Y(9)}, 1, 1, 6, 1.5, JAW_ESIDE,
     JAW_ESIDE},
    {"tip wider than the web", {X(1)}, {X(6)}, 1, 1, 6, NAN, JAW_OK,
     JAW_ESIZE},
    {"tip as wide as the web", {X(1)}, {X(7)}, 1, 1, 6, NAN, JAW_OK,
     JAW_ESIZE},
};

START_TEST(status_provoked)
{
    jaw_status want[] = {wrong[_i].slot, wrong[_i].web};
    for (int k = 0; k < 2; k++) {
        jaw_tip tip = tip_of(wrong[_i].diameter);
        size_t n = wrong[_i].na + wrong[_i].nb;
        double resid[5] = {7, 7, 7, 7, 7};
        jaw_walls w;
        jaw_status got =
            kinds[k](wrong[_i].a, wrong[_i].na, wrong[_i].b, wrong[_i].nb,
                     &tip, wrong[_i].along, &w, resid);
        ck_assert_msg(got == want[k], "%s: got \"%s\"", wrong[_i].name,
                      jaw_status_text(got));
        if (got == JAW_OK)
            continue;
        walls_are_nan(&w, wrong[_i].name);
        all_nan(resid, n, wrong[_i].name);
        for (size_t i = n; i < 5; i++)
            near(resid[i], 7, 0, "beyond n");
    }
}
END_TEST

/* Within one wall the same row twice is a slip; the two walls may well share
 * numbers. */
START_TEST(same_touch_is_flagged)
{
    jaw_touch a[] = {{0, 0, 1}, {9, 0, 1}, {0, 0, 1}};
    jaw_touch b[] = {{0, 5, 1}, {9, 5, 1}};
    jaw_tip tip = tip_of(1);
    jaw_walls w;
    ck_status(jaw_feature_slot(a, 3, b, 2, &tip, NOT, &w, NULL), JAW_OK);
    ck_assert_uint_eq(w.flags, JAW_SAME_TOUCH);
    ck_status(jaw_feature_slot(b, 2, a, 3, &tip, NOT, &w, NULL), JAW_OK);
    ck_assert_uint_eq(w.flags, JAW_SAME_TOUCH);
    ck_status(jaw_feature_slot(a, 2, b, 2, &tip, NOT, &w, NULL), JAW_OK);
    ck_assert_uint_eq(w.flags, 0);
}
END_TEST

/* ------------------------------------------------------- what holds for any */

typedef struct case_of_walls {
    true_walls truth;
    int kind; /* 0 slot, 1 web */
    jaw_touch a[8], b[8];
    size_t na, nb;
    jaw_tip tip;
    jaw_walls w;
    double resid[16];
} case_of_walls;

static case_of_walls any_walls(random_source *r, double noise)
{
    case_of_walls c = {.truth = random_walls(r, jaw_rad(40)),
                       .kind = (int)random_below(r, 2),
                       .na = 2 + random_below(r, 7),
                       .nb = 1 + random_below(r, 8),
                       .tip = tip_of(random_between(r, 0, 9))};
    c.tip.paper = random_below(r, 2) ? 0 : random_between(r, 0, 0.2);
    double side = c.tip.diameter / 2 + c.tip.paper;
    for (size_t k = 0; k < c.na; k++)
        c.a[k] = touch_walls(&c.truth, 1,
                             random_between(r, -80, 80) + (k ? 120 : -120),
                             side + noise * random_normal(r), c.kind == 0);
    for (size_t k = 0; k < c.nb; k++)
        c.b[k] = touch_walls(&c.truth, -1, random_between(r, -80, 80),
                             side + noise * random_normal(r), c.kind == 0);
    ck_status(kinds[c.kind](c.a, c.na, c.b, c.nb, &c.tip, NOT, &c.w, c.resid),
              JAW_OK);
    return c;
}

START_TEST(truth_comes_back)
{
    random_source r = random_start("truth_comes_back", 51);
    for (int i = 0; i < 5000; i++) {
        case_of_walls c = any_walls(&r, 0);
        near(c.w.width, (double)c.truth.width, 1e-12, "width");
        near(off_middle(&c.truth, c.w.middle), 0, 1e-12, "middle");
        near((double)(c.w.dir.x * c.truth.dy - c.w.dir.y * c.truth.dx), 0,
             1e-14, "direction");
        near(sin(c.w.theta), c.w.dir.y, 1e-15, "theta");
        ck_assert(c.w.theta > -PI / 2 && c.w.theta <= PI / 2);
        ck_assert_int_eq(c.w.dof, (int)(c.na + c.nb) - 3);
        for (size_t k = 0; k < c.na + c.nb; k++)
            near(c.resid[k], 0, 1e-12, "residual");
    }
}
END_TEST

/* One coordinate on each wall at one place, the direction from elsewhere. */
START_TEST(truth_comes_back_from_one_coordinate)
{
    random_source r = random_start("truth_comes_back_from_one_coordinate", 52);
    for (int i = 0; i < 5000; i++) {
        true_walls truth = random_walls(&r, jaw_rad(40));
        int kind = (int)random_below(&r, 2);
        jaw_tip tip = tip_of(random_between(&r, 0, 9));
        bool along_y = fabsl(truth.dy) > fabsl(truth.dx);
        double along = (double)atan2l(truth.dy, truth.dx);
        jaw_touch t[2];
        for (int k = 0; k < 2; k++) {
            /* Along the wall to where the other coordinate is 33 off. */
            t[k] = touch_walls(&truth, k ? 1 : -1, 0, tip.diameter / 2,
                               kind == 0);
            double at = along_y
                            ? (double)((truth.py + 33 - t[k].y) / truth.dy)
                            : (double)((truth.px + 33 - t[k].x) / truth.dx);
            t[k] = touch_walls(&truth, k ? 1 : -1, at, tip.diameter / 2,
                               kind == 0);
            *(along_y ? &t[k].y : &t[k].x) = NOT;
        }
        jaw_walls w;
        ck_status(kinds[kind](&t[0], 1, &t[1], 1, &tip, along, &w, NULL),
                  JAW_OK);
        near(w.width, (double)truth.width, 2e-12, "width");
        if (along_y)
            w.middle.y = (double)truth.py + 33;
        else
            w.middle.x = (double)truth.px + 33;
        near(off_middle(&truth, w.middle), 0, 2e-12, "middle");
    }
}
END_TEST

/* Each residual once more, from the result alone: off the middle line less
 * half of what the centres are apart. */
START_TEST(residuals_agree_with_the_result)
{
    random_source r = random_start("residuals_agree_with_the_result", 53);
    for (int i = 0; i < 2000; i++) {
        case_of_walls c = any_walls(&r, 0.01);
        double side = c.tip.diameter / 2 + c.tip.paper;
        double half = c.w.width / 2 - wall[c.kind] * side;
        double sum = 0;
        for (size_t k = 0; k < c.na + c.nb; k++) {
            jaw_touch t = k < c.na ? c.a[k] : c.b[k - c.na];
            double off = (t.y - c.w.middle.y) * c.w.dir.x -
                         (t.x - c.w.middle.x) * c.w.dir.y;
            near(c.resid[k], off > 0 ? off - half : off + half, 2e-12,
                 "residual");
            sum += c.resid[k] * c.resid[k];
        }
        if (c.w.dof > 0)
            near(c.w.rms, sqrt(sum / (double)(c.na + c.nb)), 1e-13, "rms");
        else
            ck_assert(isnan(c.w.rms));
    }
}
END_TEST

START_TEST(walls_may_change_places)
{
    random_source r = random_start("walls_may_change_places", 54);
    for (int i = 0; i < 2000; i++) {
        case_of_walls c = any_walls(&r, 0.01);
        jaw_walls w;
        double resid[16];
        ck_status(kinds[c.kind](c.b, c.nb, c.a, c.na, &c.tip, NOT, &w, resid),
                  JAW_OK);
        near(w.width, c.w.width, 1e-12, "width");
        near(w.middle.x, c.w.middle.x, 1e-12, "x");
        near(w.middle.y, c.w.middle.y, 1e-12, "y");
        near(w.theta, c.w.theta, 1e-14, "theta");
        near(w.span, c.w.span, 1e-12, "span");
        for (size_t k = 0; k < c.na + c.nb; k++)
            near(resid[k], c.resid[k < c.nb ? k + c.na : k - c.nb], 2e-12,
                 "residual");
    }
}
END_TEST

static void carry(jaw_touch t[], size_t n, const jaw_frame *f, double unit)
{
    for (size_t k = 0; k < n / 2; k++) {
        jaw_touch swap = t[k];
        t[k] = t[n - 1 - k];
        t[n - 1 - k] = swap;
    }
    for (size_t k = 0; k < n; k++) {
        jaw_vec2 m = jaw_machine_from_work(f, (jaw_vec2){t[k].x, t[k].y});
        t[k] = (jaw_touch){m.x * unit, m.y * unit, NOT};
    }
}

START_TEST(order_turn_shift_and_unit)
{
    random_source r = random_start("order_turn_shift_and_unit", 55);
    for (int i = 0; i < 2000; i++) {
        case_of_walls c = any_walls(&r, 0.01), d = c;
        jaw_frame f = jaw_frame_make(
            (jaw_vec2){random_between(&r, -90, 90),
                       random_between(&r, -90, 90)},
            random_between(&r, -4, 4));
        double unit = random_below(&r, 2) ? 1 / JAW_MM_PER_INCH : 1;
        carry(d.a, d.na, &f, unit);
        carry(d.b, d.nb, &f, unit);
        d.tip.diameter *= unit;
        d.tip.paper *= unit;
        ck_status(kinds[d.kind](d.a, d.na, d.b, d.nb, &d.tip, NOT, &d.w,
                                d.resid), JAW_OK);
        jaw_vec2 p = jaw_machine_from_work(&f, c.w.middle);
        near(d.w.middle.x / unit, p.x, 4e-12, "x");
        near(d.w.middle.y / unit, p.y, 4e-12, "y");
        near(d.w.width / unit, c.w.width, 2e-12, "width");
        near(d.w.span / unit, c.w.span, 2e-12, "span");
        near(sin(d.w.theta - c.w.theta - f.turn), 0, 2e-14, "theta");
        double sign = cos(d.w.theta - c.w.theta - f.turn);
        for (size_t k = 0; k < c.na; k++)
            near(d.resid[c.na - 1 - k] / unit, sign * c.resid[k], 4e-12, "a");
        for (size_t k = 0; k < c.nb; k++)
            near(d.resid[c.na + c.nb - 1 - k] / unit,
                 sign * c.resid[c.na + k], 4e-12, "b");
        if (c.w.dof == 0)
            continue;
        near(d.w.u_theta, c.w.u_theta, 1e-13, "u_theta");
        near(d.w.u_width / unit, c.w.u_width, 1e-11, "u_width");
        near(d.w.u_middle / unit, c.w.u_middle, 1e-11, "u_middle");
    }
}
END_TEST

/* The same readings taken from inside and from outside. */
START_TEST(other_side_of_the_tip)
{
    random_source r = random_start("other_side_of_the_tip", 56);
    for (int i = 0; i < 2000; i++) {
        case_of_walls c = any_walls(&r, 0.01);
        jaw_walls slot, web;
        double twice = 2 * (c.tip.diameter + 2 * c.tip.paper);
        if (c.kind != 0 || c.w.width < 2 * twice)
            continue;
        slot = c.w;
        ck_status(jaw_feature_web(c.a, c.na, c.b, c.nb, &c.tip, NOT, &web,
                                  NULL), JAW_OK);
        near(web.width + twice, slot.width, 1e-12, "width");
        near(web.middle.x, slot.middle.x, 0, "x");
        near(web.middle.y, slot.middle.y, 0, "y");
    }
}
END_TEST

START_TEST(nothing_else_is_touched)
{
    random_source r = random_start("nothing_else_is_touched", 57);
    for (int i = 0; i < 500; i++) {
        case_of_walls c = any_walls(&r, 0.01), before = c;
        jaw_walls w;
        ck_status(kinds[c.kind](c.a, c.na, c.b, c.nb, &c.tip, NOT, &w, NULL),
                  JAW_OK);
        ck_assert_mem_eq(c.a, before.a, sizeof c.a);
        ck_assert_mem_eq(c.b, before.b, sizeof c.b);
        ck_assert_mem_eq(&w, &c.w, sizeof w);
    }
}
END_TEST

START_TEST(many_touches)
{
    enum { MANY = 500 };
    static jaw_touch a[MANY], b[MANY];
    static double resid[2 * MANY];
    random_source r = random_start("many_touches", 58);
    true_walls truth = random_walls(&r, jaw_rad(30));
    jaw_tip tip = tip_of(6);
    jaw_walls w;
    for (size_t k = 0; k < MANY; k++) {
        a[k] = touch_walls(&truth, 1, random_between(&r, -90, 90), 3, true);
        b[k] = touch_walls(&truth, -1, random_between(&r, -90, 90), 3, true);
    }
    for (size_t na = 63; na <= MANY; na += na < 66 ? 1 : 145)
        for (size_t nb = 63; nb <= MANY; nb += nb < 66 ? 1 : 145) {
            ck_status(jaw_feature_slot(a, na, b, nb, &tip, NOT, &w, resid),
                      JAW_OK);
            near(w.width, (double)truth.width, 1e-12, "width");
            near(off_middle(&truth, w.middle), 0, 1e-12, "middle");
            near(resid[na + nb - 1], 0, 1e-12, "last residual");
        }
}
END_TEST

TCase *walls_case(void)
{
    TCase *tc = tcase_create("walls");
    tcase_add_test(tc, one_coordinate_on_each_wall);
    tcase_add_loop_test(tc, width_is_corrected_for_the_turn, 0, 3);
    tcase_add_loop_test(tc, residuals_of_one_coordinate, 0, 3);
    tcase_add_test(tc, one_touch_on_each_wall);
    tcase_add_test(tc, two_touches_and_one);
    tcase_add_test(tc, three_touches_and_three);
    tcase_add_test(tc, paper_stands_between);
    tcase_add_loop_test(tc, status_provoked, 0, COUNT(wrong));
    tcase_add_test(tc, same_touch_is_flagged);
    tcase_add_test(tc, truth_comes_back);
    tcase_add_test(tc, truth_comes_back_from_one_coordinate);
    tcase_add_test(tc, residuals_agree_with_the_result);
    tcase_add_test(tc, walls_may_change_places);
    tcase_add_test(tc, order_turn_shift_and_unit);
    tcase_add_test(tc, other_side_of_the_tip);
    tcase_add_test(tc, nothing_else_is_touched);
    tcase_add_test(tc, many_touches);
    return tc;
}
