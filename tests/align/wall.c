/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A wall that is swept. */
#include "align_tests.h"

#include "tests/trust/table.h"

static const jaw_side sides[] = {JAW_SIDE_XPLUS, JAW_SIDE_XMINUS,
                                 JAW_SIDE_YPLUS, JAW_SIDE_YMINUS};

/* The direction that a wall which faces so runs along. */
static double axis_of(jaw_side faces)
{
    return jaw_side_normal(faces).x != 0 ? PI / 2 : 0;
}

/* The place of the wall whose coordinate along the axis is `at`. */
static jaw_vec2 place_on(const world_wall *w, jaw_side faces, double at)
{
    double c = cos(w->direction), s = sin(w->direction);
    bool along_y = axis_of(faces) > 0;
    double t = along_y ? (at - w->point.y) / s : (at - w->point.x) / c;
    return (jaw_vec2){w->point.x + t * c, w->point.y + t * s};
}

static double outward(jaw_side faces, jaw_vec2 p)
{
    jaw_vec2 n = jaw_side_normal(faces);
    return n.x * p.x + n.y * p.y;
}

/* From the world alone: the skew is the wall's; the end that stands farther out
 * is named; the wall turned about the other end until that end has gone in by
 * tap runs true. */
START_TEST(wall_of_the_world)
{
    static const double at[] = {-80, -31, 4.5, 40, 77};
    random_source r = random_start("wall_of_the_world", 61 + (uint64_t)_i);
    jaw_side faces = sides[_i];
    for (int k = 0; k < 500; k++) {
        double skew = random_between(&r, -0.05, 0.05), reading[5], resid[5];
        world_wall w = {{random_between(&r, -50, 50),
                         random_between(&r, -50, 50)}, axis_of(faces) + skew};
        jaw_swept_wall s;
        world_sweep(&w, faces, at, reading, 5);
        ck_status(jaw_align_wall(at, reading, 5, faces, NOT, &s, resid), JAW_OK,
                  "wall");
        near(s.skew.value, skew, 1e-13, "skew");
        near(s.span, 157, 1e-12, "span");
        near(s.straight, 0, 1e-11, "straight");
        ck_assert_int_eq(s.dof, 3);
        ck_assert_uint_eq(s.flags, 0);
        for (int i = 0; i < 5; i++)
            near(resid[i], 0, 1e-11, "residual");

        double low = outward(faces, place_on(&w, faces, at[0]));
        double high = outward(faces, place_on(&w, faces, at[4]));
        near(s.tap_at, high > low ? at[4] : at[0], 0, "end");
        near(s.tap, fabs(high - low), 1e-11, "tap");

        /* the soft hammer */
        double pivot_at = s.tap_at == at[0] ? at[4] : at[0];
        jaw_vec2 pivot = place_on(&w, faces, pivot_at);
        jaw_vec2 struck = place_on(&w, faces, s.tap_at);
        jaw_vec2 n = jaw_side_normal(faces);
        struck.x -= s.tap * n.x;
        struck.y -= s.tap * n.y;
        world_wall trued = {pivot, atan2(struck.y - pivot.y,
                                         struck.x - pivot.x)};
        world_sweep(&trued, faces, at, reading, 5);
        for (int i = 1; i < 5; i++)
            near(reading[i], reading[0], 1e-11, "tapped true");
    }
}
END_TEST

/* A probe that touches the same wall finds the same skew. */
START_TEST(wall_and_edge_agree)
{
    static const double at[] = {-60, 0, 60};
    random_source r = random_start("wall_and_edge_agree", 65 + (uint64_t)_i);
    jaw_side faces = sides[_i];
    jaw_tip tip = jaw_tip_make(JAW_TIP_BALL, 6);
    for (int k = 0; k < 100; k++) {
        double skew = random_between(&r, -0.05, 0.05), reading[3];
        world_wall w = {{7, -3}, axis_of(faces) + skew};
        jaw_vec2 n = {-sin(w.direction), cos(w.direction)};
        jaw_touch t[3];
        jaw_swept_wall s;
        jaw_edge e;
        if (outward(faces, n) < 0)
            n = (jaw_vec2){-n.x, -n.y};
        world_sweep(&w, faces, at, reading, 3);
        for (int i = 0; i < 3; i++) {
            jaw_vec2 p = place_on(&w, faces, at[i]);
            t[i] = (jaw_touch){p.x + 3 * n.x, p.y + 3 * n.y, 0};
        }
        ck_status(jaw_align_wall(at, reading, 3, faces, NOT, &s, NULL), JAW_OK,
                  "wall");
        ck_status(jaw_feature_edge(t, 3, &tip, faces, NOT, &e, NULL), JAW_OK,
                  "edge");
        near(jaw_angle_half(e.theta - axis_of(faces)), s.skew.value, 1e-13,
             "skew");
    }
}
END_TEST

/* JCGM 100:2008, H.3: calibration of a thermometer, a straight line of eleven
 * corrections on temperatures; tests/data/README.md. */
START_TEST(wall_gum_h3)
{
    const char *name = "unc_gum_h3";
    double data[2 * 20], at[20], reading[20];
    size_t n = table_read(name, 2, data, 20);
    jaw_swept_wall s;
    for (size_t i = 0; i < n; i++) {
        at[i] = data[2 * i];
        reading[i] = data[2 * i + 1];
    }
    ck_status(jaw_align_wall(at, reading, n, JAW_SIDE_YPLUS, NOT, &s, NULL),
              JAW_OK, name);
    near(tan(s.skew.value), 0.00218, 0.5e-5, "slope, printed");
    near(s.skew.u, 0.00067, 0.5e-5, "u, printed");
    near(s.rms * sqrt(11. / 9), 0.0035, 0.5e-4, "s, printed");
    near(tan(s.skew.value), 0.002182697739887278, 1e-16, "slope, 40 digits");
    near(s.tap_u / s.span, 0.0006679387732278317, 1e-16, "u, 40 digits");
    near(s.skew.half95 / s.skew.u, 2.262, 0.5e-3, "t of 9 (Table G.2)");
    near(s.skew.dof, 9, 0, "dof");
}
END_TEST

/* NIST StRD, Norris: certified to 15 digits.  Half of each y, as a slope above
 * 1 is no wall any more. */
START_TEST(wall_nist_norris)
{
    const char *name = "reg_nist_norris";
    double data[2 * 40], at[40], reading[40];
    size_t n = table_read(name, 2, data, 40);
    jaw_swept_wall s;
    ck_assert_uint_eq(n, 36);
    for (size_t i = 0; i < n; i++) {
        at[i] = data[2 * i];
        reading[i] = data[2 * i + 1] / 2;
    }
    ck_status(jaw_align_wall(at, reading, n, JAW_SIDE_YPLUS, NOT, &s, NULL),
              JAW_OK, name);
    near(s.tap / s.span * 2, 1.00211681802045, 0.5e-14, "b1");
    near(s.tap_u / s.span * 2, 0.429796848199937e-3, 0.5e-16, "u of b1");
    near(2 * s.rms * sqrt(36. / 34), 0.884796396144373, 1e-13, "s");
    ck_assert_uint_eq(s.flags, JAW_STEEP);
}
END_TEST

/* Common practice, no source: half a thousandth over a jaw of six inches. */
START_TEST(wall_half_a_thousandth)
{
    double at[] = {0, 6 * 25.4}, reading[] = {0, 0.0005 * 25.4};
    jaw_swept_wall s;
    ck_status(jaw_align_wall(at, reading, 2, JAW_SIDE_YMINUS, 0.001, &s, NULL),
              JAW_OK, "two readings");
    near(s.skew.value, -0.0005 / 6, 1e-12, "clockwise: the right end is near");
    near(s.tap, 0.0005 * 25.4, 1e-17, "tap");
    near(s.tap_at, at[1], 0, "at the right end");
    near(s.tap_u, 0.001 * sqrt(2), 1e-15, "two readings' worth");
    near(s.skew.u, 0.001 * sqrt(2) / 152.4, 1e-12, "u");
    ck_assert(isinf(s.skew.dof));
    all_nan((double[]){s.straight, s.rms}, 2, "no reading is spare");
    ck_assert_uint_eq(s.flags, JAW_NO_CHECK);
    ck_assert_int_eq(s.dof, 0);
    ck_status(jaw_align_wall(at, reading, 2, JAW_SIDE_YMINUS, NOT, &s, NULL),
              JAW_OK, "nothing stated");
    all_nan((double[]){s.skew.u, s.skew.dof, s.skew.half95, s.tap_u}, 4, "u");
    near(s.skew.value, -0.0005 / 6, 1e-12, "the skew stands");
}
END_TEST

START_TEST(wall_that_runs_true)
{
    double at[] = {0, 10, 20}, reading[] = {0.25, 0.25, 0.25};
    jaw_swept_wall s;
    ck_status(jaw_align_wall(at, reading, 3, JAW_SIDE_XPLUS, NOT, &s, NULL),
              JAW_OK, "true");
    near(s.skew.value, 0, 0, "skew");
    near(s.tap, 0, 0, "tap");
    ck_assert(isnan(s.tap_at));
    near(s.skew.half95, 0, 0, "nothing scatters");
    near(s.straight, 0, 0, "straight");
}
END_TEST

/* A bow: least squares and the narrowest strip by hand.  Readings 0 h 0 at 0 a
 * 2a: slope 0; the strip from the outer two to the middle one is h wide, and
 * that along one flank h cos, with tan = h / a. */
START_TEST(wall_with_a_bow)
{
    double at[] = {0, 50, 100}, reading[] = {1, 1.03, 1}, resid[3];
    jaw_swept_wall s;
    ck_status(jaw_align_wall(at, reading, 3, JAW_SIDE_YPLUS, NOT, &s, resid),
              JAW_OK, "bow");
    near(s.skew.value, 0, 1e-17, "skew");
    near(resid[0], -0.01, 1e-15, "left");
    near(resid[1], 0.02, 1e-15, "middle");
    near(s.straight, 0.03 * cos(atan(0.03 / 50)), 1e-8, "straight");
    near(s.rms, sqrt(0.0006 / 3), 1e-15, "rms");
}
END_TEST

/* Where the dial stood, where the axis counts from and in what order it was
 * read do not matter; the wall turned end for end turns the other way. */
START_TEST(wall_invariances)
{
    random_source r = random_start("wall_invariances", 66);
    double at[9], reading[9], b[9], c[9];
    jaw_swept_wall s, t;
    for (int k = 0; k < 300; k++) {
        for (int i = 0; i < 9; i++) {
            at[i] = random_between(&r, -100, 100);
            reading[i] = 0.002 * at[i] + random_between(&r, -0.01, 0.01);
        }
        ck_status(jaw_align_wall(at, reading, 9, JAW_SIDE_YPLUS, 0.006, &s,
                                 NULL), JAW_OK, "as read");
        for (int i = 0; i < 9; i++) {
            b[i] = at[8 - i] + 300;
            c[i] = reading[8 - i] - 5;
        }
        ck_status(jaw_align_wall(b, c, 9, JAW_SIDE_YPLUS, 0.006, &t, NULL),
                  JAW_OK, "moved");
        near(t.skew.value, s.skew.value, 1e-15, "moved");
        near(t.straight, s.straight, 1e-12, "moved");
        near(t.skew.u, s.skew.u, 1e-17, "moved");
        near(t.tap_at, s.tap_at + 300, 1e-12, "moved");
        for (int i = 0; i < 9; i++)
            b[i] = -at[i];
        ck_status(jaw_align_wall(b, reading, 9, JAW_SIDE_YPLUS, 0.006, &t,
                                 NULL), JAW_OK, "mirrored");
        near(t.skew.value, -s.skew.value, 1e-16, "mirrored");
        near(t.tap_at, -s.tap_at, 0, "mirrored");
        ck_status(jaw_align_wall(at, reading, 9, JAW_SIDE_YMINUS, 0.006, &t,
                                 NULL), JAW_OK, "other side");
        near(t.skew.value, -s.skew.value, 0, "other side");
        ck_status(jaw_align_wall(at, reading, 9, JAW_SIDE_XMINUS, 0.006, &t,
                                 NULL), JAW_OK, "along y");
        near(t.skew.value, s.skew.value, 0, "x- turns as y+ does");
        ck_status(jaw_align_wall(at, reading, 9, JAW_SIDE_XPLUS, 0.006, &t,
                                 NULL), JAW_OK, "along y");
        near(t.skew.value, -s.skew.value, 0, "x+ turns as y- does");
    }
}
END_TEST

/* Far from the origin no digit is lost that the places still have. */
START_TEST(wall_far_away)
{
    double at[5], reading[5];
    jaw_swept_wall s;
    for (int i = 0; i < 5; i++) {
        at[i] = 0x1p40 + 8 * i;
        reading[i] = 0x1p20 + 0.25 * i;
    }
    ck_status(jaw_align_wall(at, reading, 5, JAW_SIDE_YPLUS, NOT, &s, NULL),
              JAW_OK, "far");
    near(s.skew.value, atan(0.03125), 1e-16, "skew");
    near(s.rms, 0, 1e-15, "rms");
}
END_TEST

/* A wall that is bowed by more than the indicator scatters: told, and the
 * uncertainty is that of the bow. */
START_TEST(wall_that_scatters_more_than_stated)
{
    double at[] = {0, 25, 50, 75, 100},
           reading[] = {0, 0.01, 0.02, 0.01, 0};
    jaw_swept_wall s, t;
    ck_status(jaw_align_wall(at, reading, 5, JAW_SIDE_YPLUS, 0.001, &s, NULL),
              JAW_OK, "bow");
    ck_status(jaw_align_wall(at, reading, 5, JAW_SIDE_YPLUS, NOT, &t, NULL),
              JAW_OK, "bow");
    ck_assert_uint_eq(s.flags, JAW_RESIDUAL);
    ck_assert_uint_eq(t.flags, 0);
    near(s.skew.u, t.skew.u, 0, "as seen");
    near(s.skew.dof, 3, 0, "dof");
    ck_status(jaw_align_wall(at, reading, 5, JAW_SIDE_YPLUS, 0.01, &s, NULL),
              JAW_OK, "as stated");
    ck_assert_uint_eq(s.flags, 0);
    ck_assert(isinf(s.skew.dof));
}
END_TEST

START_TEST(wall_steep)
{
    double at[] = {0, 100, 200}, reading[3];
    jaw_swept_wall s;
    for (int sign = -1; sign <= 1; sign += 2)
        for (int k = 0; k < 2; k++) {
            double skew = sign * (k ? 5.001 : 4.999) * PI / 180;
            for (int i = 0; i < 3; i++)
                reading[i] = tan(skew) * at[i];
            ck_status(jaw_align_wall(at, reading, 3, JAW_SIDE_YPLUS, NOT, &s,
                                     NULL), JAW_OK, "steep");
            ck_assert_uint_eq(s.flags, k ? JAW_STEEP : 0);
        }
}
END_TEST

static void wall_is_nan(const jaw_swept_wall *s, const char *name)
{
    double v[] = {s->span, s->tap, s->tap_u, s->tap_at, s->straight, s->rms};
    figure_is_nan(s->skew, name);
    all_nan(v, 6, name);
    ck_assert_int_eq(s->dof, 0);
    ck_assert_uint_eq(s->flags, 0);
}

static const struct {
    const char *name;
    double at[3], reading[3];
    size_t n;
    jaw_side faces;
    double repeat;
    jaw_status status;
} spoilt[] = {
    {"none", {0}, {0}, 0, JAW_SIDE_YPLUS, NOT, JAW_EFEW},
    {"one", {0}, {0}, 1, JAW_SIDE_YPLUS, NOT, JAW_EFEW},
    {"place nan", {0, NOT, 2}, {0}, 3, JAW_SIDE_YPLUS, NOT, JAW_ENOTFINITE},
    {"reading infinite", {0, 1, 2}, {0, FAR, 0}, 3, JAW_SIDE_YPLUS, NOT,
     JAW_ENOTFINITE},
    {"repeat infinite", {0, 1, 2}, {0}, 3, JAW_SIDE_YPLUS, FAR,
     JAW_ENOTFINITE},
    {"repeat 0", {0, 1, 2}, {0}, 3, JAW_SIDE_YPLUS, 0, JAW_EDOMAIN},
    {"repeat negative", {0, 1, 2}, {0}, 3, JAW_SIDE_YPLUS, -1, JAW_EDOMAIN},
    {"no side", {0, 1, 2}, {0}, 3, JAW_SIDE_NONE, NOT, JAW_EDOMAIN},
    {"no such side", {0, 1, 2}, {0}, 3, JAW_SIDES, NOT, JAW_EDOMAIN},
    {"one place", {5, 5, 5}, {0, 1, 2}, 3, JAW_SIDE_YPLUS, NOT, JAW_ERANK},
    {"one place but for rounding", {5, 5 + 2e-15, 5}, {0, 1, 2}, 3,
     JAW_SIDE_YPLUS, NOT, JAW_ERANK},
    {"nearer to the other axis", {0, 1, 2}, {0, 1.1, 2.2}, 3, JAW_SIDE_YPLUS,
     NOT, JAW_ESIDE},
    {"jumps", {0, 0.001, 0.002}, {0, 1, 0}, 3, JAW_SIDE_YPLUS, NOT, JAW_ERANK},
    {"too large", {0, 1e300, 2e300}, {1e300, 2e300, 1e300}, 3, JAW_SIDE_YPLUS,
     NOT, JAW_ENOTFINITE},
    {"too far apart", {-1.7e308, 0, 1.7e308}, {0, 0, 0}, 3, JAW_SIDE_YPLUS,
     NOT, JAW_ENOTFINITE},
};

START_TEST(wall_status)
{
    double resid[3] = {1, 1, 1};
    jaw_swept_wall s;
    ck_status(jaw_align_wall(spoilt[_i].at, spoilt[_i].reading, spoilt[_i].n,
                             spoilt[_i].faces, spoilt[_i].repeat, &s, resid),
              spoilt[_i].status, spoilt[_i].name);
    wall_is_nan(&s, spoilt[_i].name);
    all_nan(resid, spoilt[_i].n, spoilt[_i].name);
    ck_status(jaw_align_wall(spoilt[_i].at, spoilt[_i].reading, spoilt[_i].n,
                             spoilt[_i].faces, spoilt[_i].repeat, &s, NULL),
              spoilt[_i].status, spoilt[_i].name);
}
END_TEST

TCase *wall_case(void)
{
    TCase *tc = tcase_create("wall");
    tcase_add_loop_test(tc, wall_of_the_world, 0, COUNT(sides));
    tcase_add_loop_test(tc, wall_and_edge_agree, 0, COUNT(sides));
    tcase_add_test(tc, wall_gum_h3);
    tcase_add_test(tc, wall_nist_norris);
    tcase_add_test(tc, wall_half_a_thousandth);
    tcase_add_test(tc, wall_that_runs_true);
    tcase_add_test(tc, wall_with_a_bow);
    tcase_add_test(tc, wall_invariances);
    tcase_add_test(tc, wall_far_away);
    tcase_add_test(tc, wall_that_scatters_more_than_stated);
    tcase_add_test(tc, wall_steep);
    tcase_add_loop_test(tc, wall_status, 0, COUNT(spoilt));
    return tc;
}
