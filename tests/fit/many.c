/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Very many touches: the way that passes over them once agrees with the way
 * that takes its time, which is the one that also gives residuals. */
#include "fit_tests.h"

#include "src/fit/long.h"

enum { MANY = 200003 };

static double *room;

static void make_room(void)
{
    room = malloc(4 * MANY * sizeof(double));
    ck_assert_ptr_nonnull(room);
}

static void free_room(void)
{
    free(room);
}

static double *residuals(void)
{
    return room + 3 * (size_t)MANY;
}

START_TEST(line)
{
    static const double rough[] = {0, 1e-6, 1e-3, 1};
    jaw_vec2 *p = (jaw_vec2 *)room;
    jaw_line a, b;
    random_start("many, line");
    for (int k = 0; k < COUNT(rough); k++) {
        for (int i = 0; i < MANY; i++) {
            double u = random_even(-75, 75), v = rough[k] * random_normal();
            p[i] = (jaw_vec2){300 + 0.8 * u - 0.6 * v, -80 + 0.6 * u + 0.8 * v};
        }
        ck_assert_int_eq(jaw_fit_line(p, MANY, &a, NULL), JAW_OK);
        ck_assert_int_eq(jaw_fit_line(p, MANY, &b, residuals()), JAW_OK);
        near(a.theta, b.theta, 4 * EPS, "theta");
        near(a.p.x, b.p.x, 1e-12, "x");
        near(a.p.y, b.p.y, 1e-12, "y");
        near(a.s, b.s, 1e-13 + 1e-12 * b.s, "s");
        near(a.u_theta, b.u_theta, 1e-15 + 1e-12 * b.u_theta, "u");
        ck_assert_int_eq(a.dof, MANY - 2);
    }
}
END_TEST

/* Sorted so that a sample, every so many, sees another direction. */
START_TEST(line_misleading)
{
    jaw_vec2 *p = (jaw_vec2 *)room;
    jaw_line a, b;
    for (int i = 0; i < MANY; i++)
        p[i] = i % (MANY / JAW__SAMPLE) == 0
                   ? (jaw_vec2){0, i % 7}
                   : (jaw_vec2){i % 1001, (i % 13) * 1e-3};
    ck_assert_int_eq(jaw_fit_line(p, MANY, &a, NULL), JAW_OK);
    ck_assert_int_eq(jaw_fit_line(p, MANY, &b, residuals()), JAW_OK);
    near(a.theta, b.theta, 8 * EPS, "theta");
    near(a.s, b.s, 1e-11 * b.s, "s");
}
END_TEST

START_TEST(plane)
{
    static const double rough[] = {0, 1e-6, 1e-3, 1};
    jaw_vec3 *p = (jaw_vec3 *)room;
    jaw_plane a, b;
    random_start("many, plane");
    for (int k = 0; k < COUNT(rough); k++) {
        for (int i = 0; i < MANY; i++) {
            double x = random_even(-75, 75), y = random_even(-40, 40);
            p[i] = (jaw_vec3){300 + x, -80 + y,
                              0.1 * x - 0.2 * y + rough[k] * random_normal()};
        }
        ck_assert_int_eq(jaw_fit_plane(p, MANY, &a, NULL), JAW_OK);
        ck_assert_int_eq(jaw_fit_plane(p, MANY, &b, residuals()), JAW_OK);
        near(a.normal.x, b.normal.x, 8 * EPS, "x");
        near(a.normal.y, b.normal.y, 8 * EPS, "y");
        near(a.normal.z, b.normal.z, 8 * EPS, "z");
        near(a.p.z, b.p.z, 1e-12, "height");
        near(a.s, b.s, 1e-13 + 1e-12 * b.s, "s");
        near(a.u_tilt[1], b.u_tilt[1], 1e-15 + 1e-11 * b.u_tilt[1], "u");
    }
}
END_TEST

static void rings(jaw_vec2 p[], double rough, double half)
{
    for (int i = 0; i < MANY; i++) {
        double t = random_even(-half, half);
        double r = 10 + rough * random_normal();
        p[i] = (jaw_vec2){123.4 + r * cos(t), -45.6 + r * sin(t)};
    }
}

static void same_circle(const jaw_circle *a, const jaw_circle *b)
{
    double q = fmax(b->q[0], fmax(b->q[3], b->q[5]));
    double allow = EPS * (FACTOR * 10 * sqrt(MANY * q) + 180);
    near(a->x, b->x, allow, "x");
    near(a->y, b->y, allow, "y");
    near(a->r, b->r, allow, "r");
    near(a->s, b->s, 1e-13 + 1e-11 * b->s, "s");
    for (int i = 0; i < 6; i++)
        near(a->q[i], b->q[i], 1e-7 * q, "q");
    ck_assert_int_eq(a->dof, b->dof);
    ck_assert_uint_eq(a->flags, b->flags);
}

START_TEST(circle)
{
    static const double rough[] = {0, 1e-6, 1e-3, 3e-2, 0.2};
    jaw_vec2 *p = (jaw_vec2 *)room;
    jaw_circle a, b;
    random_start("many, circle");
    for (int k = 0; k < COUNT(rough); k++) {
        rings(p, rough[k], 3.1415);
        ck_assert_int_eq(jaw_fit_circle(p, MANY, &a, NULL), JAW_OK);
        ck_assert_int_eq(jaw_fit_circle(p, MANY, &b, residuals()), JAW_OK);
        same_circle(&a, &b);
        const jaw__passes *wide = jaw__passes_avx2();
        if (wide && jaw__passes_plain.circle(p, MANY, &b, NULL))
            same_circle(&a, &b);
    }
}
END_TEST

START_TEST(circle_arc)
{
    static const double half[] = {1.5, 0.7, 0.2};
    jaw_vec2 *p = (jaw_vec2 *)room;
    jaw_circle a, b;
    random_start("many, arc");
    for (int k = 0; k < COUNT(half); k++) {
        rings(p, 1e-4, half[k]);
        ck_assert_int_eq(jaw_fit_circle(p, MANY, &a, NULL), JAW_OK);
        ck_assert_int_eq(jaw_fit_circle(p, MANY, &b, residuals()), JAW_OK);
        same_circle(&a, &b);
    }
}
END_TEST

/* The other width of lanes, where there is one. */
START_TEST(lanes_agree)
{
    const jaw__passes *wide = jaw__passes_avx2();
    if (!wide) {
        puts("left out: four lanes (not on this machine)");
        return;
    }
    random_start("many, lanes");
    rings((jaw_vec2 *)room, 1e-2, 3);
    const jaw__touches t = {(jaw_vec2 *)room, MANY, 1};
    jaw_vec2 from = {123, -45};
    jaw__strips a = jaw__passes_plain.strips(&t, from, 0.6, 0.8);
    jaw__strips b = wide->strips(&t, from, 0.6, 0.8);
    near(a.uu, b.uu, 1e-12 * a.uu, "uu");
    near(a.vv, b.vv, 1e-12 * a.vv, "vv");
    near(a.uv, b.uv, 1e-12 * a.uu, "uv");
    near(a.size, b.size, 0, "size");
    const jaw__solids s = {(jaw_vec3 *)room, MANY / 2 * 2 / 3, 1};
    const double axis[3][3] = {{0.6, 0.8, 0}, {-0.8, 0.6, 0}, {0, 0, 1}};
    jaw_vec3 near_by = {100, 0, -40};
    jaw__slabs c = jaw__passes_plain.slabs(&s, near_by, axis);
    jaw__slabs d = wide->slabs(&s, near_by, axis);
    for (int i = 0; i < 9; i++)
        near(c.sum[i], d.sum[i], 1e-12 * (c.sum[3] + c.sum[6] + c.sum[8]),
             "slabs");
    near(c.size, d.size, 0, "size");
}
END_TEST

/* One that is not finite, among very many, anywhere. */
START_TEST(not_finite)
{
    static const int at[] = {0, 1, 13, 100000, MANY - 2, MANY - 1};
    const double bad[] = {NAN_D, HUGE_VAL, -HUGE_VAL};
    jaw_vec2 *p = (jaw_vec2 *)room;
    jaw_line l;
    jaw_circle c;
    random_start("many, not finite");
    rings(p, 1e-3, 3.1);
    for (int k = 0; k < COUNT(at) * 3; k++) {
        jaw_vec2 was = p[at[k / 3]];
        p[at[k / 3]].y = bad[k % 3];
        ck_assert_int_eq(jaw_fit_line(p, MANY, &l, NULL), JAW_ENOTFINITE);
        ck_assert_int_eq(jaw_fit_circle(p, MANY, &c, NULL), JAW_ENOTFINITE);
        p[at[k / 3]] = was;
    }
    jaw_vec3 *s = (jaw_vec3 *)room;
    for (int i = 0; i < MANY; i++)
        s[i] = (jaw_vec3){random_even(-9, 9), random_even(-9, 9), 1};
    for (int k = 0; k < COUNT(at) * 3; k++) {
        jaw_plane r;
        jaw_vec3 was = s[at[k / 3]];
        s[at[k / 3]].z = bad[k % 3];
        ck_assert_int_eq(jaw_fit_plane(s, MANY, &r, NULL), JAW_ENOTFINITE);
        s[at[k / 3]] = was;
    }
}
END_TEST

/* No direction, no plane, no circle: also among very many. */
START_TEST(undetermined)
{
    jaw_vec2 *p = (jaw_vec2 *)room;
    jaw_vec3 *s = (jaw_vec3 *)room;
    jaw_line l;
    jaw_plane r;
    jaw_circle c;
    for (int i = 0; i < MANY; i++)
        p[i] = (jaw_vec2){3.7, -12};
    ck_assert_int_eq(jaw_fit_line(p, MANY, &l, NULL), JAW_ERANK);
    ck_assert_int_eq(jaw_fit_circle(p, MANY, &c, NULL), JAW_ERANK);
    for (int i = 0; i < MANY; i++)
        p[i] = (jaw_vec2){i, 3.0 * i};
    ck_assert_int_eq(jaw_fit_circle(p, MANY, &c, NULL), JAW_ERANK);
    for (int i = 0; i < MANY; i++)
        s[i] = (jaw_vec3){i, 3.0 * i, -i};
    ck_assert_int_eq(jaw_fit_plane(s, MANY, &r, NULL), JAW_ERANK);
}
END_TEST

START_TEST(any_scale)
{
    static const int power[] = {-500, 500};
    jaw_vec2 *p = (jaw_vec2 *)room;
    jaw_circle one, c;
    jaw_line l;
    random_start("many, scale");
    rings(p, 1e-3, 3.1);
    ck_assert_int_eq(jaw_fit_circle(p, MANY, &one, NULL), JAW_OK);
    for (int k = 0; k < 2; k++) {
        rings(p, 1e-3, 3.1);
        for (int i = 0; i < MANY; i++)
            p[i] = (jaw_vec2){ldexp(p[i].x, power[k]), ldexp(p[i].y, power[k])};
        ck_assert_int_eq(jaw_fit_circle(p, MANY, &c, NULL), JAW_OK);
        near(ldexp(c.r, -power[k]), one.r, 1e-4, "r");
        ck_assert_int_eq(jaw_fit_line(p, MANY, &l, NULL), JAW_OK);
        near(ldexp(l.p.x, -power[k]), one.x, 0.2, "x");
    }
}
END_TEST

TCase *many_case(void)
{
    TCase *tc = tcase_create("many");
    tcase_add_checked_fixture(tc, make_room, free_room);
    tcase_add_test(tc, line);
    tcase_add_test(tc, line_misleading);
    tcase_add_test(tc, plane);
    tcase_add_test(tc, circle);
    tcase_add_test(tc, circle_arc);
    tcase_add_test(tc, lanes_agree);
    tcase_add_test(tc, not_finite);
    tcase_add_test(tc, undetermined);
    tcase_add_test(tc, any_scale);
    return tc;
}
