/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A head that is swung over the table. */
#include "align_tests.h"

static void swing(const world_spindle *w, double radius, const double a[],
                  double reading[], size_t n)
{
    for (size_t i = 0; i < n; i++)
        reading[i] = world_swing(w, radius, a[i]);
}

static const double quarters[] = {0, PI / 2, PI, 3 * PI / 2};

/* The sign, from vectors alone: the axis found is the axis that was there, the
 * lean to X+ reads more at X+. */
START_TEST(head_of_the_world)
{
    random_source r = random_start("head_of_the_world", 71);
    for (int k = 0; k < 500; k++) {
        double p = random_between(&r, -0.01, 0.01);
        double q = random_between(&r, -0.01, 0.01);
        double radius = random_between(&r, 50, 200), a[7], reading[7];
        world_spindle w = world_lean(p, q);
        jaw_swung_head h;
        for (int i = 0; i < 7; i++)
            a[i] = 2 * PI * i / 7 + random_between(&r, -0.3, 0.3);
        swing(&w, radius, a, reading, 7);
        ck_status(jaw_align_head(a, reading, 7, radius, 50, 300, NOT, &h, NULL),
                  JAW_OK, "head");
        /* third order: (0.01 sqrt 2)^3 */
        near(tan(h.tilt[0].value), p, 3e-6, "x");
        near(tan(h.tilt[1].value), q, 3e-6, "y");
        near(h.rise[0], world_swing(&w, radius, 0) -
                            world_swing(&w, radius, PI), 1e-9, "rise x");
        near(h.rise[1], world_swing(&w, radius, PI / 2) -
                            world_swing(&w, radius, -PI / 2), 1e-9, "rise y");
        ck_assert((h.rise[0] > 0) == (p > 0) && (h.rise[1] > 0) == (q > 0));
        ck_assert_uint_eq(h.flags, 0);
    }
}
END_TEST

/* A lean along an axis is found to rounding, however large. */
START_TEST(head_along_an_axis)
{
    static const double lean[] = {-0.08, -0.001, 0, 1e-6, 0.02, 0.08};
    for (int along = 0; along < 2; along++) {
        double p = along ? 0 : lean[_i], q = along ? lean[_i] : 0, reading[4];
        world_spindle w = world_lean(p, q);
        jaw_swung_head h;
        swing(&w, 120, quarters, reading, 4);
        ck_status(jaw_align_head(quarters, reading, 4, 120, NOT, NOT, NOT, &h,
                                 NULL), JAW_OK, "head");
        near(h.tilt[along].value, atan(lean[_i]), 1e-14, "lean");
        near(h.tilt[1 - along].value, 0, 1e-14, "the other");
        all_nan((double[]){h.over_cutter[0], h.over_cutter[1], h.dish,
                           h.shim[0], h.shim[1]}, 5, "not asked for");
    }
}
END_TEST

/* The lowest point of the cutter's circle that passes over each place of a line
 * across the feed: what is left standing. */
static void pass(const world_spindle *w, double r, bool feed_x, double *left,
                 double *right, double *middle)
{
    double most = -FAR, least = FAR;
    *middle = FAR;
    for (int i = 0; i < 200000; i++) {
        jaw_vec3 p = world_around(w, r, 2 * PI * i / 200000);
        double across = feed_x ? p.y : p.x;
        if (across > most)
            most = across, *right = p.z;
        if (across < least)
            least = across, *left = p.z;
        if (fabs(across) < 1e-3 * r)
            *middle = fmin(*middle, p.z);
    }
}

/* What the cutter leaves: a step between passes that are fed square to the
 * lean, the far side (Y+, X+) being lower for a positive one; a hollow when fed
 * along it. */
START_TEST(head_marks_of_the_cutter)
{
    static const double lean[] = {0.004, -0.01};
    for (int along = 0; along < 2; along++) {
        double p = along ? 0 : lean[_i], q = along ? lean[_i] : 0, reading[4];
        double left, right, middle;
        world_spindle w = world_lean(p, q);
        jaw_swung_head h;
        swing(&w, 120, quarters, reading, 4);
        ck_status(jaw_align_head(quarters, reading, 4, 120, 80, NOT, NOT, &h,
                                 NULL), JAW_OK, "head");
        pass(&w, 40, along == 1, &left, &right, &middle);
        near(h.over_cutter[along], left - right, 1e-8, "step");
        near(h.over_cutter[1 - along], 0, 1e-12, "none the other way");
        pass(&w, 40, along == 0, &left, &right, &middle);
        near(left, right, 1e-8, "level across");
        near(h.dish, left - middle, 1e-6, "hollow"); /* 1e-3: middle's width */
    }
}
END_TEST

/* The base of the head stands square to its spindle: the end towards the lean
 * is the lower one, by the shim that goes under it. */
START_TEST(head_shim)
{
    static const double lean[] = {0.003, -0.02};
    for (int along = 0; along < 2; along++) {
        double p = along ? 0 : lean[_i], q = along ? lean[_i] : 0, reading[4];
        world_spindle w = world_lean(p, q);
        jaw_swung_head h;
        double a = along ? PI / 2 : 0;
        swing(&w, 120, quarters, reading, 4);
        ck_status(jaw_align_head(quarters, reading, 4, 120, NOT, 350, NOT, &h,
                                 NULL), JAW_OK, "head");
        double plus = world_around(&w, 175, a).z;
        double minus = world_around(&w, 175, a + PI).z;
        near(h.shim[along], minus - plus, 1e-11, "shim");
        near(h.shim[1 - along], 0, 1e-11, "none the other way");
    }
}
END_TEST

/* Common practice, no source: a thousandth over a swing of ten inches is a
 * ten-thousandth an inch. */
START_TEST(head_a_thousandth_in_ten_inches)
{
    const double in = 25.4;
    double reading[] = {0.001 * in, 0.0005 * in, 0, 0.0005 * in};
    jaw_swung_head h;
    ck_status(jaw_align_head(quarters, reading, 4, 5 * in, 2 * in, 12 * in,
                             0.0002 * in, &h, NULL), JAW_OK, "head");
    near(h.tilt[0].value, 0.0001, 1e-12, "tilt");
    near(h.tilt[1].value, 0, 1e-15, "tilt");
    near(h.rise[0], 0.001 * in, 1e-15, "rise");
    near(h.over_cutter[0], 0.0002 * in, 1e-10, "a cutter of two inches");
    near(h.dish, 0.0001 * in, 1e-10, "its hollow");
    near(h.shim[0], 0.0012 * in, 1e-9, "a base of twelve inches");
    /* four readings a quarter apart: the amplitude is worth sqrt(1/2) of one */
    near(h.tilt[0].u, 0.0002 / sqrt(2) / 5, 1e-12, "u");
    near(h.tilt[0].half95, 1.959964 * h.tilt[0].u, 1e-10, "half95");
}
END_TEST

/* The place where counting starts turns the lean along. */
START_TEST(head_invariances)
{
    random_source r = random_start("head_invariances", 72);
    for (int k = 0; k < 200; k++) {
        double a[6], b[6], v[6], w[6], turn = random_between(&r, -7, 7);
        jaw_swung_head h, g;
        for (int i = 0; i < 6; i++) {
            a[i] = random_between(&r, -10, 10);
            v[i] = random_between(&r, 0, 0.1);
            b[5 - i] = a[i] + turn + 2 * PI;
            w[5 - i] = v[i] + 3;
        }
        if (jaw_align_head(a, v, 6, 100, 60, NOT, NOT, &h, NULL) != JAW_OK ||
            h.flags)
            continue;
        ck_status(jaw_align_head(b, w, 6, 100, 60, NOT, NOT, &g, NULL), JAW_OK,
                  "turned");
        double x = tan(h.tilt[0].value), y = tan(h.tilt[1].value);
        near(tan(g.tilt[0].value), x * cos(turn) - y * sin(turn), 1e-12, "x");
        near(tan(g.tilt[1].value), x * sin(turn) + y * cos(turn), 1e-12, "y");
        near(g.dish, h.dish, 1e-11, "dish");
        near(g.rms, h.rms, 1e-12, "rms");
    }
}
END_TEST

START_TEST(head_flags)
{
    double three[] = {0, 2, 4}, crowd[] = {0, 0.01, 0.02, 0.03};
    double reading[] = {0, 0.01, 0, 0.02}, steep[] = {0, 9, 0, -9};
    jaw_swung_head h;
    ck_status(jaw_align_head(three, reading, 3, 100, 50, NOT, NOT, &h, NULL),
              JAW_OK, "three");
    ck_assert_uint_eq(h.flags, JAW_NO_CHECK);
    all_nan((double[]){h.rms, h.tilt[0].u, h.tilt[1].half95}, 3, "no check");
    ck_status(jaw_align_head(crowd, reading, 4, 1e6, NOT, NOT, NOT, &h, NULL),
              JAW_OK, "crowd");
    ck_assert_uint_eq(h.flags, JAW_WEAK);
    ck_status(jaw_align_head(quarters, steep, 4, 100, NOT, NOT, NOT, &h, NULL),
              JAW_OK, "steep");
    ck_assert_uint_eq(h.flags, JAW_STEEP);
    ck_status(jaw_align_head(quarters, reading, 4, 100, NOT, NOT, 1e-4, &h,
                             NULL), JAW_OK, "warped table");
    ck_assert_uint_eq(h.flags, JAW_RESIDUAL);
    near(h.tilt[0].dof, 1, 0, "dof");
}
END_TEST

static const struct {
    const char *name;
    double a[4], v[4];
    size_t n;
    double radius, cutter, base, repeat;
    jaw_status status;
} spoilt[] = {
    {"two", {0, 1}, {0}, 2, 100, 50, 300, NOT, JAW_EFEW},
    {"angle nan", {0, NOT, 2, 4}, {0}, 4, 100, 50, 300, NOT, JAW_ENOTFINITE},
    {"reading infinite", {0, 1, 2, 4}, {0, -FAR}, 4, 100, 50, 300, NOT,
     JAW_ENOTFINITE},
    {"one azimuth", {1, 1, 1, 1}, {0}, 4, 100, 50, 300, NOT, JAW_ERANK},
    {"two azimuths", {1, 2, 1, 2}, {0}, 4, 100, 50, 300, NOT, JAW_ERANK},
    {"no radius", {0, 1, 2, 4}, {0}, 4, NOT, 50, 300, NOT, JAW_ENOTFINITE},
    {"radius 0", {0, 1, 2, 4}, {0}, 4, 0, 50, 300, NOT, JAW_EDOMAIN},
    {"radius infinite", {0, 1, 2, 4}, {0}, 4, FAR, 50, 300, NOT,
     JAW_ENOTFINITE},
    {"cutter 0", {0, 1, 2, 4}, {0}, 4, 100, 0, 300, NOT, JAW_EDOMAIN},
    {"cutter infinite", {0, 1, 2, 4}, {0}, 4, 100, FAR, 300, NOT,
     JAW_ENOTFINITE},
    {"base negative", {0, 1, 2, 4}, {0}, 4, 100, 50, -300, NOT, JAW_EDOMAIN},
    {"repeat 0", {0, 1, 2, 4}, {0}, 4, 100, 50, 300, 0, JAW_EDOMAIN},
    {"too large", {0, 1, 2, 4}, {1e200, 0, 0, 0}, 4, 100, 50, 300, NOT,
     JAW_ENOTFINITE},
};

START_TEST(head_status)
{
    double resid[4] = {1, 1, 1, 1};
    jaw_swung_head h;
    ck_status(jaw_align_head(spoilt[_i].a, spoilt[_i].v, spoilt[_i].n,
                             spoilt[_i].radius, spoilt[_i].cutter,
                             spoilt[_i].base, spoilt[_i].repeat, &h, resid),
              spoilt[_i].status, spoilt[_i].name);
    double v[] = {h.rise[0], h.rise[1], h.over_cutter[0], h.over_cutter[1],
                  h.dish,    h.shim[0], h.shim[1],        h.rms};
    all_nan(v, 8, spoilt[_i].name);
    figure_is_nan(h.tilt[0], spoilt[_i].name);
    figure_is_nan(h.tilt[1], spoilt[_i].name);
    all_nan(resid, spoilt[_i].n, spoilt[_i].name);
    ck_assert_int_eq(h.dof, 0);
    ck_assert_uint_eq(h.flags, 0);
}
END_TEST

TCase *head_case(void)
{
    TCase *tc = tcase_create("head");
    tcase_add_test(tc, head_of_the_world);
    tcase_add_loop_test(tc, head_along_an_axis, 0, 6);
    tcase_add_loop_test(tc, head_marks_of_the_cutter, 0, 2);
    tcase_add_loop_test(tc, head_shim, 0, 2);
    tcase_add_test(tc, head_a_thousandth_in_ten_inches);
    tcase_add_test(tc, head_invariances);
    tcase_add_test(tc, head_flags);
    tcase_add_loop_test(tc, head_status, 0, COUNT(spoilt));
    return tc;
}
