/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of edge.c: a wall, its side, and the tip's radius along the true
 * normal. */
#include "feature_tests.h"
#include "true.h"

#include "tests/near.h"

#include <string.h>

#define NOT ((double)NAN)

static jaw_tip tip_of(double diameter)
{
    return jaw_tip_make(JAW_TIP_CYLINDER, diameter);
}

static void edge_is_nan(const jaw_edge *e, const char *name)
{
    const double x[] = {e->point.x,  e->point.y, e->normal.x, e->normal.y,
                        e->dir.x,    e->dir.y,   e->theta,    e->u_offset,
                        e->u_theta,  e->span,    e->rms};
    all_nan(x, COUNT(x), name);
    ck_assert_uint_eq(e->flags, 0);
}

/* ------------------------------------------------------------------ by hand */

/* definitions.md: edge = ball centre + r n, n towards the work.  Two touches
 * 40 apart on a wall along a machine axis, tip 6. */
static const struct {
    jaw_side faces;
    jaw_touch t[2];
    double x, y, nx, ny, theta;
} square[] = {
    {JAW_SIDE_XPLUS, {{13, 0, 1}, {13, 40, 2}}, 10, 20, 1, 0, PI / 2},
    {JAW_SIDE_XMINUS, {{7, 40, 1}, {7, 0, 2}}, 10, 20, -1, 0, PI / 2},
    {JAW_SIDE_YPLUS, {{-20, 8, NAN}, {20, 8, NAN}}, 0, 5, 0, 1, 0},
    {JAW_SIDE_YMINUS, {{20, 2, NAN}, {-20, 2, NAN}}, 0, 5, 0, -1, 0},
};

START_TEST(walls_along_the_axes)
{
    jaw_tip tip = tip_of(6);
    jaw_edge e;
    double resid[2];
    ck_status(jaw_feature_edge(square[_i].t, 2, &tip, square[_i].faces, NOT,
                               &e, resid), JAW_OK);
    near(e.point.x, square[_i].x, 1e-14, "x");
    near(e.point.y, square[_i].y, 1e-14, "y");
    near(e.normal.x, square[_i].nx, 1e-15, "nx");
    near(e.normal.y, square[_i].ny, 1e-15, "ny");
    near(e.theta, square[_i].theta, 1e-15, "theta");
    near(e.span, 40, 1e-14, "span");
    near(resid[0], 0, 0, "first residual");
    near(resid[1], 0, 0, "second residual");
    ck_assert_int_eq(e.dof, 0);
    ck_assert_uint_eq(e.flags, JAW_NO_CHECK);
    ck_assert(isnan(e.rms) && isnan(e.u_offset) && isnan(e.u_theta));
}
END_TEST

/* The wall turned by atan(41/840) = 2.79 degrees: 41, 840, 841 is a right
 * triangle, so that a radius of 8.41 moves the centre by (0.41, 8.40).
 * Compensated along the axis the wall would come out 0.01 off. */
START_TEST(turned_wall_is_offset_along_its_own_normal)
{
    static const jaw_side sides[] = {JAW_SIDE_YMINUS, JAW_SIDE_XPLUS,
                                     JAW_SIDE_YPLUS, JAW_SIDE_XMINUS};
    static const double theta0[] = {0, PI / 2, 0, PI / 2};
    jaw_vec2 centre[2] = {{0.41, -8.40}, {84.41, -4.30}}, wall = {42, 2.05};
    jaw_vec2 normal = {41.0 / 841, -840.0 / 841};
    jaw_frame turn = jaw_frame_make((jaw_vec2){0, 0}, _i * PI / 2);
    jaw_touch t[2];
    for (int i = 0; i < 2; i++) {
        jaw_vec2 m = jaw_machine_from_work(&turn, centre[i]);
        t[i] = (jaw_touch){m.x, m.y, NOT};
    }
    wall = jaw_machine_from_work(&turn, wall);
    normal = jaw_machine_from_work(&turn, normal);
    jaw_tip tip = tip_of(16.82);
    jaw_edge e;
    ck_status(jaw_feature_edge(t, 2, &tip, sides[_i], NOT, &e, NULL), JAW_OK);
    near(e.point.x, wall.x, 2e-14, "x");
    near(e.point.y, wall.y, 2e-14, "y");
    near(e.normal.x, normal.x, 2e-15, "nx");
    near(e.normal.y, normal.y, 2e-15, "ny");
    near(e.theta, jaw_angle_half(theta0[_i] + atan2(41, 840)), 2e-15, "theta");
    near(e.dir.x, cos(e.theta), 2e-16, "dir x");
    near(e.dir.y, sin(e.theta), 2e-16, "dir y");
    near(e.span, 84.1, 1e-13, "span");
}
END_TEST

/* Paper on the side of a cutter counts like a larger radius. */
START_TEST(paper_stands_between)
{
    jaw_touch t[] = {{13.08, 0, NOT}, {13.08, 40, NOT}};
    jaw_tip tip = jaw_tip_make(JAW_TIP_CUTTER, 6);
    jaw_edge e;
    tip.paper = 0.08;
    ck_status(jaw_feature_edge(t, 2, &tip, JAW_SIDE_XPLUS, NOT, &e, NULL),
              JAW_OK);
    near(e.point.x, 10, 4e-15, "x");
}
END_TEST

/* ------------------------------------------------------------- single touch */

static const struct {
    const char *name;
    jaw_side faces;
    jaw_touch t;
    double x, y;
    unsigned flags;
} single[] = {
    {"x-", JAW_SIDE_XMINUS, {100, 20, NAN}, 105, 20, 0},
    {"x+", JAW_SIDE_XPLUS, {100, 20, NAN}, 95, 20, 0},
    {"y-", JAW_SIDE_YMINUS, {100, 20, NAN}, 100, 25, 0},
    {"y+", JAW_SIDE_YPLUS, {100, 20, NAN}, 100, 15, 0},
    {"x- alone", JAW_SIDE_XMINUS, {100, NAN, NAN}, 105, NAN, JAW_SAME_PLACE},
    {"x+ alone", JAW_SIDE_XPLUS, {100, NAN, NAN}, 95, NAN, JAW_SAME_PLACE},
    {"y- alone", JAW_SIDE_YMINUS, {NAN, 20, NAN}, NAN, 25, JAW_SAME_PLACE},
    {"y+ alone", JAW_SIDE_YPLUS, {NAN, 20, 7}, NAN, 15, JAW_SAME_PLACE},
};

static void near_or_nan(double got, double want, double tol, const char *name)
{
    if (isnan(want))
        ck_assert_msg(isnan(got), "%s: %.17g, not NaN", name, got);
    else
        near(got, want, tol, name);
}

START_TEST(single_touch_takes_the_axis)
{
    jaw_tip tip = tip_of(10);
    jaw_edge e;
    double resid;
    bool along_y = single[_i].faces == JAW_SIDE_XPLUS ||
                   single[_i].faces == JAW_SIDE_XMINUS;
    ck_status(jaw_feature_edge(&single[_i].t, 1, &tip, single[_i].faces, NOT,
                               &e, &resid), JAW_OK);
    near_or_nan(e.point.x, single[_i].x, 0, single[_i].name);
    near_or_nan(e.point.y, single[_i].y, 0, single[_i].name);
    near(e.theta, along_y ? PI / 2 : 0, 0, "theta");
    ck_assert(isnan(e.u_theta));
    near(resid, 0, 0, "residual");
    ck_assert_uint_eq(e.flags, single[_i].flags | JAW_NO_CHECK |
                                   JAW_DIRECTION_ASSUMED);
}
END_TEST

/* The same x read twice: 105.00 and 105.02 outward of a wall that faces x-. */
START_TEST(one_coordinate_read_twice)
{
    jaw_touch t[] = {{100.00, NOT, NOT}, {100.02, NOT, NOT}};
    jaw_tip tip = tip_of(10);
    jaw_edge e;
    double resid[2];
    ck_status(jaw_feature_edge(t, 2, &tip, JAW_SIDE_XMINUS, NOT, &e, resid),
              JAW_OK);
    near(e.point.x, 105.01, 1e-13, "x");
    ck_assert(isnan(e.point.y));
    near(resid[0], 0.01, 1e-13, "outward is positive");
    near(resid[1], -0.01, 1e-13, "inward is negative");
    near(e.rms, 0.01, 1e-13, "rms");
    near(e.u_offset, 0.01, 1e-13, "s / sqrt n, s = 0.02 / sqrt 2");
    ck_assert_int_eq(e.dof, 1);
    ck_assert_uint_eq(e.flags, JAW_DIRECTION_ASSUMED | JAW_SAME_PLACE);
}
END_TEST

/* -------------------------------------------------------------- along given */

START_TEST(direction_given_from_elsewhere)
{
    jaw_touch t = {0.41, -8.40, NOT};
    jaw_tip tip = tip_of(16.82);
    jaw_edge e;
    for (int turns = -3; turns <= 3; turns++) {
        double along = atan2(41, 840) + turns * PI;
        ck_status(jaw_feature_edge(&t, 1, &tip, JAW_SIDE_YMINUS, along, &e,
                                   NULL), JAW_OK);
        near(e.point.x, 0, 2e-14, "x");
        near(e.point.y, 0, 2e-14, "y");
        near(e.theta, atan2(41, 840), 2e-15, "theta");
        ck_assert_uint_eq(e.flags, JAW_NO_CHECK);
        ck_assert(isnan(e.u_theta));
    }
}
END_TEST

/* The direction is held although the touches lie along another. */
START_TEST(given_direction_is_held)
{
    jaw_touch t[] = {{0, -3.1, NOT}, {50, -3, NOT}, {100, -2.9, NOT}};
    jaw_tip tip = tip_of(6);
    jaw_edge e;
    double resid[3];
    ck_status(jaw_feature_edge(t, 3, &tip, JAW_SIDE_YMINUS, 0, &e, resid),
              JAW_OK);
    near(e.point.x, 50, 1e-13, "x");
    near(e.point.y, 0, 1e-15, "y");
    near(resid[0], 0.1, 1e-15, "first lies outward");
    near(resid[2], -0.1, 1e-15, "last lies inward");
    ck_assert_int_eq(e.dof, 2);
    ck_assert_uint_eq(e.flags, 0);
}
END_TEST

/* Where along the wall it was touched is not known, so a wall that is turned
 * can not be found; along the axis it can. */
START_TEST(one_coordinate_and_a_direction)
{
    jaw_touch t = {100, NOT, NOT};
    jaw_tip tip = tip_of(10);
    jaw_edge e;
    ck_status(jaw_feature_edge(&t, 1, &tip, JAW_SIDE_XMINUS, PI / 2, &e, NULL),
              JAW_OK);
    near(e.point.x, 105, 0, "x");
    ck_assert_uint_eq(e.flags, JAW_NO_CHECK | JAW_SAME_PLACE);
    ck_status(jaw_feature_edge(&t, 1, &tip, JAW_SIDE_XMINUS, -PI / 2, &e,
                               NULL), JAW_OK);
    ck_status(jaw_feature_edge(&t, 1, &tip, JAW_SIDE_XMINUS, 1.55, &e, NULL),
              JAW_ENOTFINITE);
    edge_is_nan(&e, "turned");
}
END_TEST

/* ---------------------------------------------------------- side not stated */

START_TEST(without_radius_no_side_is_needed)
{
    jaw_touch t[] = {{0, 5, NOT}, {30, 5.001, NOT}, {60, 5, NOT}};
    jaw_tip tip = tip_of(0);
    jaw_edge e;
    double resid[3];
    ck_status(jaw_feature_edge(t, 3, &tip, JAW_SIDE_NONE, NOT, &e, resid),
              JAW_OK);
    ck_assert_uint_eq(e.flags, JAW_SIDE_NOT_STATED);
    ck_assert(isnan(e.normal.x) && isnan(e.normal.y));
    near(e.point.y, 5.001 / 3 + 10.0 / 3, 1e-14, "y");
    near(resid[1], 0.002 / 3, 1e-14, "dir turned +90 degrees is +y");
    t[0].x = NOT;
    ck_status(jaw_feature_edge(t, 1, &tip, JAW_SIDE_NONE, NOT, &e, resid),
              JAW_OK);
    near(e.point.y, 5, 0, "y alone");
}
END_TEST

START_TEST(paper_is_a_radius_too)
{
    jaw_touch t[] = {{0, 5, NOT}, {30, 5, NOT}};
    jaw_tip tip = tip_of(0);
    jaw_edge e;
    tip.paper = 0.05;
    ck_status(jaw_feature_edge(t, 2, &tip, JAW_SIDE_NONE, NOT, &e, NULL),
              JAW_EUNKNOWN);
    edge_is_nan(&e, "paper");
}
END_TEST

/* ------------------------------------------------------------------- status */

static const struct {
    const char *name;
    jaw_touch t[3];
    size_t n;
    double diameter;
    jaw_side faces;
    double along;
    jaw_status status;
} wrong[] = {
    {"none", {{0, 0, 0}}, 0, 6, JAW_SIDE_XPLUS, NAN, JAW_EFEW},
    {"one, no side, no direction", {{1, 2, NAN}}, 1, 0, JAW_SIDE_NONE, NAN,
     JAW_EFEW},
    {"no coordinate", {{NAN, NAN, 3}}, 1, 6, JAW_SIDE_XPLUS, NAN,
     JAW_ENOTFINITE},
    {"infinite x", {{INFINITY, 0, 0}, {1, 2, 0}}, 2, 6, JAW_SIDE_XPLUS, NAN,
     JAW_ENOTFINITE},
    {"infinite y", {{1, 0, 0}, {1, -INFINITY, 0}}, 2, 6, JAW_SIDE_XPLUS, NAN,
     JAW_ENOTFINITE},
    {"infinite x, y lacking", {{INFINITY, NAN, 0}}, 1, 6, JAW_SIDE_XPLUS, NAN,
     JAW_ENOTFINITE},
    {"one lacks y", {{1, 0, 0}, {1, NAN, 0}}, 2, 6, JAW_SIDE_XPLUS, NAN,
     JAW_ENOTFINITE},
    {"x alone and y alone", {{1, NAN, 0}, {NAN, 1, 0}}, 2, 6, JAW_SIDE_XPLUS,
     NAN, JAW_ENOTFINITE},
    {"one place", {{1, 2, 0}, {1, 2, 5}}, 2, 6, JAW_SIDE_XPLUS, NAN,
     JAW_ERANK},
    {"negative tip", {{1, 0, 0}, {1, 9, 0}}, 2, -6, JAW_SIDE_XPLUS, NAN,
     JAW_EDOMAIN},
    {"tip nan", {{1, 0, 0}, {1, 9, 0}}, 2, NAN, JAW_SIDE_XPLUS, NAN,
     JAW_ENOTFINITE},
    {"infinite direction", {{1, 0, 0}, {1, 9, 0}}, 2, 6, JAW_SIDE_XPLUS,
     INFINITY, JAW_EDOMAIN},
    {"no side", {{1, 0, 0}, {1, 9, 0}}, 2, 6, JAW_SIDE_NONE, NAN,
     JAW_EUNKNOWN},
    {"side out of range", {{1, 0, 0}, {1, 9, 0}}, 2, 6, (jaw_side)17, NAN,
     JAW_EDOMAIN},
    {"side below range", {{1, 0, 0}, {1, 9, 0}}, 2, 6, (jaw_side)-1, NAN,
     JAW_EDOMAIN},
    {"wall along y faces y", {{1, 0, 0}, {1, 9, 0}}, 2, 6, JAW_SIDE_YPLUS, NAN,
     JAW_ESIDE},
    {"wall along x faces x", {{0, 1, 0}, {9, 1, 0}}, 2, 6, JAW_SIDE_XMINUS,
     NAN, JAW_ESIDE},
    {"y alone of a wall that faces x", {{NAN, 1, 0}}, 1, 6, JAW_SIDE_XMINUS,
     NAN, JAW_ESIDE},
    {"direction given across", {{1, 0, 0}}, 1, 6, JAW_SIDE_XPLUS, 0.1,
     JAW_ESIDE},
};

START_TEST(status_provoked)
{
    jaw_tip tip = tip_of(wrong[_i].diameter);
    double resid[3] = {7, 7, 7};
    jaw_edge e;
    jaw_status got =
        jaw_feature_edge(wrong[_i].t, wrong[_i].n, &tip, wrong[_i].faces,
                         wrong[_i].along, &e, resid);
    ck_assert_msg(got == wrong[_i].status, "%s: got \"%s\"", wrong[_i].name,
                  jaw_status_text(got));
    edge_is_nan(&e, wrong[_i].name);
    all_nan(resid, wrong[_i].n, wrong[_i].name);
    for (size_t i = wrong[_i].n; i < 3; i++)
        near(resid[i], 7, 0, "beyond n");
}
END_TEST

/* Up to 45 degrees the axis nearest to the normal is still the stated one. */
START_TEST(side_holds_to_half_a_quarter)
{
    random_source r = random_start("side_holds_to_half_a_quarter", 21);
    for (int i = 0; i < 2000; i++) {
        true_wall w = random_wall(&r, jaw_rad(44.9));
        jaw_touch t[] = {touch_wall(&w, 0, 3), touch_wall(&w, 50, 3)};
        jaw_tip tip = tip_of(6);
        jaw_edge e;
        for (int s = JAW_SIDE_XPLUS; s < JAW_SIDES; s++) {
            jaw_side faces = (jaw_side)s;
            bool fits = faces == w.faces ||
                        faces == jaw_side_opposite(w.faces);
            ck_status(jaw_feature_edge(t, 2, &tip, faces, NOT, &e, NULL),
                      fits ? JAW_OK : JAW_ESIDE);
        }
    }
}
END_TEST

START_TEST(same_touch_is_flagged)
{
    jaw_touch t[] = {{0, 1, 2}, {9, 1, 2}, {0, 1, 2}};
    jaw_tip tip = tip_of(6);
    jaw_edge e;
    ck_status(jaw_feature_edge(t, 3, &tip, JAW_SIDE_YPLUS, NOT, &e, NULL),
              JAW_OK);
    ck_assert_uint_eq(e.flags, JAW_SAME_TOUCH);
    t[2].z = 2.001; /* the same place deeper down is another touch */
    ck_status(jaw_feature_edge(t, 3, &tip, JAW_SIDE_YPLUS, NOT, &e, NULL),
              JAW_OK);
    ck_assert_uint_eq(e.flags, 0);
}
END_TEST

/* ------------------------------------------------------- what holds for any */

/* Synthesized walls come back.  1e-12 mm is four units in the last place of
 * the largest readings. */
START_TEST(truth_comes_back)
{
    random_source r = random_start("truth_comes_back", 22);
    for (int i = 0; i < 5000; i++) {
        true_wall w = random_wall(&r, jaw_rad(40));
        double side = random_between(&r, 0, 10);
        size_t n = 2 + random_below(&r, 9);
        jaw_touch t[10];
        double resid[10], low = HUGE_VAL, high = -HUGE_VAL;
        for (size_t k = 0; k < n; k++) {
            double at = random_between(&r, -100, 100) + (k ? 150 : -150);
            t[k] = touch_wall(&w, at, side);
            low = fmin(low, at);
            high = fmax(high, at);
        }
        jaw_tip tip = tip_of(2 * side);
        jaw_edge e;
        ck_status(jaw_feature_edge(t, n, &tip, w.faces, NOT, &e, resid),
                  JAW_OK);
        near(off_wall(&w, e.point), 0, 1e-12, "point");
        near(e.normal.x, (double)w.nx, 1e-14, "nx");
        near(e.normal.y, (double)w.ny, 1e-14, "ny");
        near(e.normal.x * e.dir.x + e.normal.y * e.dir.y, 0, 1e-16, "square");
        near(sin(e.theta), e.dir.y, 1e-15, "theta");
        near(e.span, high - low, 1e-12, "span");
        for (size_t k = 0; k < n; k++)
            near(resid[k], 0, 1e-12, "residual");
        ck_assert(e.theta > -PI / 2 && e.theta <= PI / 2);
    }
}
END_TEST

/* One touch and the direction from elsewhere. */
START_TEST(truth_comes_back_from_one_touch)
{
    random_source r = random_start("truth_comes_back_from_one_touch", 23);
    for (int i = 0; i < 5000; i++) {
        true_wall w = random_wall(&r, jaw_rad(40));
        jaw_tip tip = tip_of(random_between(&r, 0, 20));
        jaw_touch t = touch_wall(&w, random_between(&r, -200, 200),
                                 tip.diameter / 2);
        double along = (double)atan2l(w.nx, -w.ny);
        jaw_edge e;
        ck_status(jaw_feature_edge(&t, 1, &tip, w.faces, along, &e, NULL),
                  JAW_OK);
        near(off_wall(&w, e.point), 0, 1e-12, "point");
    }
}
END_TEST

typedef struct case_of_edge {
    jaw_touch t[12];
    size_t n;
    jaw_tip tip;
    jaw_side faces;
    jaw_edge e;
    double resid[12];
} case_of_edge;

/* A wall with every touch a little off. */
static case_of_edge rough_edge(random_source *r)
{
    case_of_edge c = {.n = 3 + random_below(r, 10),
                      .tip = tip_of(random_between(r, 0.5, 20))};
    true_wall w = random_wall(r, jaw_rad(30));
    c.faces = w.faces;
    for (size_t k = 0; k < c.n; k++)
        c.t[k] = touch_wall(&w, random_between(r, -80, 80),
                            c.tip.diameter / 2 + 0.01 * random_normal(r));
    ck_status(jaw_feature_edge(c.t, c.n, &c.tip, c.faces, NOT, &c.e, c.resid),
              JAW_OK);
    return c;
}

START_TEST(order_does_not_matter)
{
    random_source r = random_start("order_does_not_matter", 24);
    for (int i = 0; i < 2000; i++) {
        case_of_edge c = rough_edge(&r);
        jaw_touch t[12];
        double resid[12];
        jaw_edge e;
        for (size_t k = 0; k < c.n; k++)
            t[k] = c.t[c.n - 1 - k];
        ck_status(jaw_feature_edge(t, c.n, &c.tip, c.faces, NOT, &e, resid),
                  JAW_OK);
        near(e.point.x, c.e.point.x, 1e-12, "x");
        near(e.point.y, c.e.point.y, 1e-12, "y");
        near(e.theta, c.e.theta, 2e-12 / c.e.span, "theta");
        near(e.rms, c.e.rms, 1e-13, "rms");
        for (size_t k = 0; k < c.n; k++)
            near(resid[k], c.resid[c.n - 1 - k], 1e-12, "residual");
    }
}
END_TEST

/* Quarter turns, so that `faces` turns along; and a shift. */
START_TEST(turn_and_shift)
{
    static const jaw_side next[JAW_SIDES] = {
        [JAW_SIDE_XPLUS] = JAW_SIDE_YPLUS, [JAW_SIDE_YPLUS] = JAW_SIDE_XMINUS,
        [JAW_SIDE_XMINUS] = JAW_SIDE_YMINUS,
        [JAW_SIDE_YMINUS] = JAW_SIDE_XPLUS};
    random_source r = random_start("turn_and_shift", 25);
    for (int i = 0; i < 2000; i++) {
        case_of_edge c = rough_edge(&r);
        jaw_frame f = jaw_frame_make(
            (jaw_vec2){random_between(&r, -300, 300),
                       random_between(&r, -300, 300)}, PI / 2);
        jaw_frame turn = jaw_frame_make((jaw_vec2){0, 0}, PI / 2);
        jaw_touch t[12];
        double resid[12];
        jaw_edge e;
        for (size_t k = 0; k < c.n; k++) {
            jaw_vec2 m = jaw_machine_from_work(
                &f, (jaw_vec2){c.t[k].x, c.t[k].y});
            t[k] = (jaw_touch){m.x, m.y, NOT};
        }
        ck_status(jaw_feature_edge(t, c.n, &c.tip, next[c.faces], NOT, &e,
                                   resid), JAW_OK);
        jaw_vec2 p = jaw_machine_from_work(&f, c.e.point);
        jaw_vec2 normal = jaw_machine_from_work(&turn, c.e.normal);
        near(e.point.x, p.x, 2e-12, "x");
        near(e.point.y, p.y, 2e-12, "y");
        near(e.normal.x, normal.x, 4e-12 / e.span, "nx");
        near(e.normal.y, normal.y, 4e-12 / e.span, "ny");
        near(e.rms, c.e.rms, 1e-12, "rms");
        near(e.span, c.e.span, 2e-12, "span");
        for (size_t k = 0; k < c.n; k++)
            near(resid[k], c.resid[k], 2e-12, "residual");
    }
}
END_TEST

START_TEST(unit_does_not_matter)
{
    random_source r = random_start("unit_does_not_matter", 26);
    for (int i = 0; i < 2000; i++) {
        case_of_edge c = rough_edge(&r);
        jaw_tip tip = tip_of(c.tip.diameter / JAW_MM_PER_INCH);
        jaw_edge e;
        double resid[12];
        for (size_t k = 0; k < c.n; k++) {
            c.t[k].x /= JAW_MM_PER_INCH;
            c.t[k].y /= JAW_MM_PER_INCH;
        }
        ck_status(jaw_feature_edge(c.t, c.n, &tip, c.faces, NOT, &e, resid),
                  JAW_OK);
        near(e.point.x * JAW_MM_PER_INCH, c.e.point.x, 1e-12, "x");
        near(e.point.y * JAW_MM_PER_INCH, c.e.point.y, 1e-12, "y");
        near(e.theta, c.e.theta, 2e-12 / c.e.span, "theta");
        near(e.u_theta, c.e.u_theta, 1e-11 / c.e.span,
             "u_theta has no unit");
        near(e.u_offset * JAW_MM_PER_INCH, c.e.u_offset, 1e-12, "u_offset");
        for (size_t k = 0; k < c.n; k++)
            near(resid[k] * JAW_MM_PER_INCH, c.resid[k], 1e-12, "residual");
    }
}
END_TEST

/* The same readings with the wall on the other side: two radii away. */
START_TEST(other_side_of_the_tip)
{
    random_source r = random_start("other_side_of_the_tip", 27);
    for (int i = 0; i < 2000; i++) {
        case_of_edge c = rough_edge(&r);
        jaw_edge e;
        double resid[12];
        ck_status(jaw_feature_edge(c.t, c.n, &c.tip,
                                   jaw_side_opposite(c.faces), NOT, &e,
                                   resid), JAW_OK);
        near(e.normal.x, -c.e.normal.x, 0, "nx");
        near(e.normal.y, -c.e.normal.y, 0, "ny");
        near(e.point.x, c.e.point.x + c.tip.diameter * c.e.normal.x, 1e-12,
             "x");
        near(e.point.y, c.e.point.y + c.tip.diameter * c.e.normal.y, 1e-12,
             "y");
        near(e.theta, c.e.theta, 0, "theta");
        for (size_t k = 0; k < c.n; k++)
            near(resid[k], -c.resid[k], 0, "residual");
    }
}
END_TEST

START_TEST(nothing_else_is_touched)
{
    random_source r = random_start("nothing_else_is_touched", 28);
    for (int i = 0; i < 500; i++) {
        case_of_edge c = rough_edge(&r), before = c;
        jaw_edge e;
        ck_status(jaw_feature_edge(c.t, c.n, &c.tip, c.faces, NOT, &e, NULL),
                  JAW_OK);
        ck_assert_mem_eq(c.t, before.t, sizeof c.t);
        ck_assert_mem_eq(&c.tip, &before.tip, sizeof c.tip);
        ck_assert_mem_eq(&e, &c.e, sizeof e); /* without residuals the same */
    }
}
END_TEST

/* More touches than stand on the stack. */
START_TEST(many_touches)
{
    enum { MANY = 1000 };
    static jaw_touch t[MANY];
    static double resid[MANY];
    random_source r = random_start("many_touches", 29);
    true_wall w = random_wall(&r, jaw_rad(30));
    jaw_tip tip = tip_of(6);
    jaw_edge e;
    for (size_t k = 0; k < MANY; k++)
        t[k] = touch_wall(&w, random_between(&r, -200, 200), 3);
    for (size_t n = 60; n <= MANY; n += n < 70 ? 1 : 93) {
        ck_status(jaw_feature_edge(t, n, &tip, w.faces, NOT, &e, resid),
                  JAW_OK);
        near(off_wall(&w, e.point), 0, 1e-12, "point");
        near(resid[n - 1], 0, 1e-12, "last residual");
        ck_assert_int_eq(e.dof, (int)n - 2);
    }
    t[500].y = INFINITY;
    ck_status(jaw_feature_edge(t, MANY, &tip, w.faces, NOT, &e, resid),
              JAW_ENOTFINITE);
    all_nan(resid, MANY, "many");
}
END_TEST

TCase *edge_case(void)
{
    TCase *tc = tcase_create("edge");
    tcase_add_loop_test(tc, walls_along_the_axes, 0, COUNT(square));
    tcase_add_loop_test(tc, turned_wall_is_offset_along_its_own_normal, 0, 4);
    tcase_add_test(tc, paper_stands_between);
    tcase_add_loop_test(tc, single_touch_takes_the_axis, 0, COUNT(single));
    tcase_add_test(tc, one_coordinate_read_twice);
    tcase_add_test(tc, direction_given_from_elsewhere);
    tcase_add_test(tc, given_direction_is_held);
    tcase_add_test(tc, one_coordinate_and_a_direction);
    tcase_add_test(tc, without_radius_no_side_is_needed);
    tcase_add_test(tc, paper_is_a_radius_too);
    tcase_add_loop_test(tc, status_provoked, 0, COUNT(wrong));
    tcase_add_test(tc, side_holds_to_half_a_quarter);
    tcase_add_test(tc, same_touch_is_flagged);
    tcase_add_test(tc, truth_comes_back);
    tcase_add_test(tc, truth_comes_back_from_one_touch);
    tcase_add_test(tc, order_does_not_matter);
    tcase_add_test(tc, turn_and_shift);
    tcase_add_test(tc, unit_does_not_matter);
    tcase_add_test(tc, other_side_of_the_tip);
    tcase_add_test(tc, nothing_else_is_touched);
    tcase_add_test(tc, many_touches);
    return tc;
}
