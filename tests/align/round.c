/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A bore or boss that is swept round. */
#include "align_tests.h"

/* The spindle moved by the shift stands over the centre: from rays that meet a
 * circle, whatever the azimuths and up to half a radius off. */
START_TEST(round_of_the_world)
{
    random_source r = random_start("round_of_the_world", 81 + (uint64_t)_i);
    bool inside = _i;
    for (int k = 0; k < 500; k++) {
        double radius = random_between(&r, 3, 80), a[6], v[6], resid[6];
        double off = radius * pow(10, random_between(&r, -4, -0.31));
        double way = random_between(&r, 0, 7);
        jaw_vec2 at = {random_between(&r, -200, 200),
                       random_between(&r, -200, 200)};
        jaw_vec2 centre = {at.x + off * cos(way), at.y + off * sin(way)};
        jaw_swept_round s;
        for (int i = 0; i < 6; i++) {
            a[i] = 2 * PI * i / 6 + random_between(&r, -0.4, 0.4);
            v[i] = world_round(at, centre, radius, inside, a[i]);
        }
        ck_status(jaw_align_round(a, v, 6, inside, radius, NOT, &s, resid),
                  JAW_OK, "round");
        near(at.x + s.shift[0].value, centre.x, 1e-11, "x");
        near(at.y + s.shift[1].value, centre.y, 1e-11, "y");
        near(s.roundness, 0, 1e-11, "round");
        near(s.rms, 0, 1e-11, "rms");
        ck_assert(s.second <= off * off / radius);
        ck_assert_int_eq(s.dof, 3);

        jaw_vec2 there = {at.x + s.shift[0].value, at.y + s.shift[1].value};
        double first = world_round(there, centre, radius, inside, a[0]);
        for (int i = 1; i < 6; i++)
            near(world_round(there, centre, radius, inside, a[i]), first,
                 1e-10, "runs true");
    }
}
END_TEST

/* What the hand moves is twice the eccentricity: total indicator reading 0.024,
 * shift 0.012 (common practice, no source); towards where a bore's wall reads
 * least and a boss's most. */
START_TEST(round_total_indicator_reading)
{
    double a[] = {0, PI / 2, PI, 3 * PI / 2}, v[] = {0, 0.012, 0.024, 0.012};
    jaw_swept_round s;
    ck_status(jaw_align_round(a, v, 4, true, NOT, NOT, &s, NULL), JAW_OK,
              "bore");
    near(s.shift[0].value, 0.012, 1e-16, "bore: less at X+, it is far there");
    near(s.shift[1].value, 0, 1e-16, "bore");
    ck_assert(isnan(s.second));
    ck_status(jaw_align_round(a, v, 4, false, NOT, NOT, &s, NULL), JAW_OK,
              "boss");
    near(s.shift[0].value, -0.012, 1e-16, "boss: more at X-, it is near there");
}
END_TEST

/* Three azimuths mistake the second order for a shift of e^2 / 4 r; known,
 * it is taken out. */
START_TEST(round_second_order)
{
    const double e = 0.5, r = 10;
    double a[3], v[3];
    jaw_swept_round s, t;
    for (int i = 0; i < 3; i++) {
        a[i] = 2 * PI * i / 3;
        v[i] = world_round((jaw_vec2){0, 0}, (jaw_vec2){e, 0}, r, true, a[i]);
    }
    ck_status(jaw_align_round(a, v, 3, true, r, NOT, &s, NULL), JAW_OK, "r");
    ck_status(jaw_align_round(a, v, 3, true, NOT, NOT, &t, NULL), JAW_OK, "-");
    near(s.shift[0].value, e, 1e-13, "corrected");
    near(fabs(t.shift[0].value - e), e * e / 4 / r, 1e-3 * e * e / r, "left");
    near(s.second, e * e / 2 / r * 0.75, 1e-4, "sin^2 of 120 degrees");
    /* a radius that is ten percent off leaves a tenth of it */
    ck_status(jaw_align_round(a, v, 3, true, 1.1 * r, NOT, &t, NULL), JAW_OK,
              "about");
    near(t.shift[0].value, e, 0.11 * e * e / 4 / r, "about");
    ck_assert_uint_eq(s.flags, JAW_NO_CHECK);
    all_nan((double[]){s.roundness, s.rms, s.shift[0].u, s.cov[0], s.cov[1]},
            5, "no reading is spare");
}
END_TEST

/* Lobes of a bore, centred: the ring that holds them is as wide as they are
 * high, and they shift nothing. */
START_TEST(round_with_lobes)
{
    static const double radius[] = {NOT, 20};
    double a[24], v[24];
    jaw_swept_round s;
    for (int i = 0; i < 24; i++) {
        a[i] = 2 * PI * i / 24;
        v[i] = -0.005 * cos(3 * a[i]); /* out where the wall is far */
    }
    ck_status(jaw_align_round(a, v, 24, true, radius[_i], NOT, &s, NULL),
              JAW_OK, "lobes");
    near(s.shift[0].value, 0, 1e-16, "shift");
    near(s.roundness, 0.01, 1e-8, "three lobes");
    near(s.rms, 0.005 / sqrt(2), 1e-8, "rms");
}
END_TEST

/* Of the readings 0 0 0 h at quarter turns nothing is left but cos 2 a, with
 * +-h / 4, and no ring is narrower. */
START_TEST(round_of_four_readings)
{
    const double h = 0.02;
    double a[] = {0, PI / 2, PI, 3 * PI / 2}, v[] = {0, 0, 0, h}, resid[4];
    jaw_swept_round s;
    ck_status(jaw_align_round(a, v, 4, false, NOT, NOT, &s, resid), JAW_OK,
              "four");
    for (int i = 0; i < 4; i++)
        near(resid[i], i % 2 ? h / 4 : -h / 4, 1e-16, "residual");
    near(s.shift[1].value, -h / 2, 1e-16, "half of what it read");
    near(s.roundness, h / 2, 1e-7 * h, "ring");
    near(s.shift[0].u, h / 2 / sqrt(2), 1e-15, "s sqrt(1/2)");
    near(s.cov[0], h * h / 8, 1e-17, "xx");
    near(s.cov[1], 0, 1e-18, "xy");
    near(s.shift[0].dof, 1, 0, "dof");
}
END_TEST

START_TEST(round_invariances)
{
    random_source r = random_start("round_invariances", 83);
    for (int k = 0; k < 300; k++) {
        double a[8], b[8], v[8], w[8], turn = random_between(&r, -7, 7);
        double radius = k % 2 ? NOT : 25;
        jaw_swept_round s, t;
        for (int i = 0; i < 8; i++) {
            a[i] = 2 * PI * i / 8 + random_between(&r, -0.3, 0.3);
            v[i] = 0.3 * cos(a[i] - 1) + random_between(&r, -0.01, 0.01);
            b[7 - i] = a[i] + turn;
            w[7 - i] = v[i] - 2;
        }
        ck_status(jaw_align_round(a, v, 8, k % 3, radius, 0.01, &s, NULL),
                  JAW_OK, "as read");
        ck_status(jaw_align_round(b, w, 8, k % 3, radius, 0.01, &t, NULL),
                  JAW_OK, "turned");
        double c = cos(turn), d = sin(turn);
        double x = s.shift[0].value, y = s.shift[1].value;
        near(t.shift[0].value, c * x - d * y, 1e-13, "x");
        near(t.shift[1].value, d * x + c * y, 1e-13, "y");
        near(t.roundness, s.roundness, 1e-8, "round");
        near(t.rms, s.rms, 1e-13, "rms");
        near(t.cov[0] + t.cov[2], s.cov[0] + s.cov[2], 1e-16, "trace");
        near(t.cov[0], c * c * s.cov[0] - 2 * c * d * s.cov[1] +
                           d * d * s.cov[2], 1e-16, "cov");
        /* reversed readings outside a boss are those inside a bore */
        for (int i = 0; i < 8; i++)
            w[i] = -v[i];
        ck_status(jaw_align_round(a, w, 8, !(k % 3), radius, 0.01, &t, NULL),
                  JAW_OK, "reversed");
        near(t.shift[0].value, x, 1e-16, "reversed");
        near(t.shift[1].value, y, 1e-16, "reversed");
    }
}
END_TEST

/* At rest: no small change of shift and dial makes the sum of squares less, far
 * off the centre and with readings that scatter. */
START_TEST(round_is_the_least)
{
    random_source r = random_start("round_is_the_least", 84);
    for (int k = 0; k < 100; k++) {
        double a[9], v[9], resid[9], sum = 0;
        jaw_vec2 e = {random_between(&r, -6, 6), random_between(&r, -6, 6)};
        jaw_swept_round s;
        bool inside = k & 1;
        for (int i = 0; i < 9; i++) {
            a[i] = random_between(&r, 0, 2 * PI);
            v[i] = world_round((jaw_vec2){0, 0}, e, 15, inside, a[i]) +
                   random_between(&r, -0.1, 0.1);
        }
        jaw_status status = jaw_align_round(a, v, 9, inside, 15, NOT, &s,
                                            resid);
        ck_status(status, JAW_OK, "scatter");
        if (s.flags & JAW_WEAK)
            continue;
        for (int i = 0; i < 9; i++)
            sum += resid[i] * resid[i];
        for (int move = 0; move < 6; move++) {
            double step = move % 2 ? 1e-4 : -1e-4, other = 0, mean = 0;
            jaw_vec2 at = {s.shift[0].value + (move / 2 == 0 ? step : 0),
                           s.shift[1].value + (move / 2 == 1 ? step : 0)};
            double d[9];
            for (int i = 0; i < 9; i++) {
                d[i] = v[i] - world_round((jaw_vec2){0, 0}, at, 15, inside,
                                          a[i]);
                mean += d[i] / 9;
            }
            for (int i = 0; i < 9; i++) {
                double off = d[i] - mean + (move / 2 == 2 ? step : 0);
                other += off * off;
            }
            ck_assert_msg(other > sum, "%d: %.17g, found %.17g", move, other,
                          sum);
        }
    }
}
END_TEST

START_TEST(round_flags)
{
    double crowd[] = {0, 0.02, 0.04, 0.06, 0.08};
    double a[] = {0, 1, 2, 3, 4, 5}, v[] = {0, 0.01, 0, 0.01, 0, 0.01};
    jaw_swept_round s;
    ck_status(jaw_align_round(crowd, v, 5, true, NOT, NOT, &s, NULL), JAW_OK,
              "crowd");
    ck_assert_uint_eq(s.flags, JAW_WEAK);
    ck_status(jaw_align_round(a, v, 6, true, 20, 0.0005, &s, NULL), JAW_OK,
              "out of round");
    ck_assert_uint_eq(s.flags, JAW_RESIDUAL);
    near(s.shift[0].dof, 3, 0, "as seen");
    ck_status(jaw_align_round(a, v, 6, true, 20, 0.005, &s, NULL), JAW_OK,
              "as stated");
    ck_assert_uint_eq(s.flags, 0);
    ck_assert(isinf(s.shift[1].dof));
}
END_TEST

START_TEST(round_without_scatter)
{
    double a[] = {0, 1, 2, 3, 4}, v[] = {0.5, 0.5, 0.5, 0.5, 0.5};
    static const double radius[] = {NOT, 12};
    jaw_swept_round s;
    ck_status(jaw_align_round(a, v, 5, true, radius[_i], NOT, &s, NULL),
              JAW_OK, "centred");
    near(s.shift[0].value, 0, 1e-16, "x");
    near(s.shift[1].value, 0, 1e-16, "y");
    near(s.roundness, 0, 1e-14, "round");
    near(s.shift[0].half95, 0, 1e-14, "nothing scatters");
}
END_TEST

static const struct {
    const char *name;
    double a[4], v[4];
    size_t n;
    double radius, repeat;
    jaw_status status;
} spoilt[] = {
    {"two", {0, 1}, {0}, 2, 10, NOT, JAW_EFEW},
    {"angle nan", {0, NOT, 2, 4}, {0}, 4, 10, NOT, JAW_ENOTFINITE},
    {"reading infinite", {0, 1, 2, 4}, {0, FAR}, 4, 10, NOT, JAW_ENOTFINITE},
    {"two azimuths", {1, 2, 1, 2}, {0}, 4, 10, NOT, JAW_ERANK},
    {"radius 0", {0, 1, 2, 4}, {0}, 4, 0, NOT, JAW_EDOMAIN},
    {"radius negative", {0, 1, 2, 4}, {0}, 4, -1, NOT, JAW_EDOMAIN},
    {"radius infinite", {0, 1, 2, 4}, {0}, 4, FAR, NOT, JAW_ENOTFINITE},
    {"repeat 0", {0, 1, 2, 4}, {0}, 4, 10, 0, JAW_EDOMAIN},
    {"repeat infinite", {0, 1, 2, 4}, {0}, 4, 10, FAR, JAW_ENOTFINITE},
    {"as far off as it is wide", {0, 1.57, 3.14, 4.71}, {12, 0, -12, 0}, 4, 10,
     NOT, JAW_ECONFLICT},
    {"too large", {0, 1, 2, 4}, {1e200, 0, 0, 0}, 4, NOT, NOT, JAW_ENOTFINITE},
};

START_TEST(round_status)
{
    double resid[4] = {1, 1, 1, 1};
    jaw_swept_round s;
    ck_status(jaw_align_round(spoilt[_i].a, spoilt[_i].v, spoilt[_i].n, true,
                              spoilt[_i].radius, spoilt[_i].repeat, &s, resid),
              spoilt[_i].status, spoilt[_i].name);
    double v[] = {s.cov[0], s.cov[1], s.cov[2], s.roundness, s.second, s.rms};
    all_nan(v, 6, spoilt[_i].name);
    figure_is_nan(s.shift[0], spoilt[_i].name);
    figure_is_nan(s.shift[1], spoilt[_i].name);
    all_nan(resid, spoilt[_i].n, spoilt[_i].name);
    ck_assert_int_eq(s.dof, 0);
    ck_assert_uint_eq(s.flags, 0);
}
END_TEST

TCase *round_case(void)
{
    TCase *tc = tcase_create("round");
    tcase_add_loop_test(tc, round_of_the_world, 0, 2);
    tcase_add_test(tc, round_total_indicator_reading);
    tcase_add_test(tc, round_second_order);
    tcase_add_loop_test(tc, round_with_lobes, 0, 2);
    tcase_add_test(tc, round_of_four_readings);
    tcase_add_test(tc, round_invariances);
    tcase_add_test(tc, round_is_the_least);
    tcase_add_test(tc, round_flags);
    tcase_add_loop_test(tc, round_without_scatter, 0, 2);
    tcase_add_loop_test(tc, round_status, 0, COUNT(spoilt));
    return tc;
}
