/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tests of src/rotary: a table that really turns in space, what it tells of its
 * centre line, and what must not be believed. */
#include "tests/alloc/alloc.h"
#include "tests/feature/random.h"
#include "tests/near.h"

#include <jawline/rotary.h>

#include <check.h>
#include <stdlib.h>
#include <string.h>

#define COUNT(a) ((int)(sizeof(a) / sizeof((a)[0])))
#define NOT ((double)NAN)
#define PI 3.14159265358979323846

enum { MOST = 40 };

static void ck_status(jaw_status got, jaw_status want)
{
    ck_assert_msg(got == want, "status %d (%s), want %d (%s)", (int)got,
                  jaw_status_text(got), (int)want, jaw_status_text(want));
}

/* How many sets a simulation makes: JAW_TEST_SETS, or `usual`. */
static int sets(int usual)
{
    const char *asked = getenv("JAW_TEST_SETS");
    return asked ? atoi(asked) : usual;
}

/* Four standard deviations of the count. */
static void holds(int inside, int all, double share, const char *name)
{
    double got = (double)inside / all;
    printf("%s: %.4f, promised %.4f\n", name, got, share);
    ck_assert_msg(fabs(got - share) <= 4 * sqrt(share * (1 - share) / all),
                  "%s: %.4f, promised %.4f", name, got, share);
}

/* -------------------------------------------------------------------- world */

/* p turned by the right hand about the line through c along the unit vector u
 * (Rodrigues). */
static jaw_vec3 turn_about(jaw_vec3 c, jaw_vec3 u, double angle, jaw_vec3 p)
{
    double x = p.x - c.x, y = p.y - c.y, z = p.z - c.z;
    double co = cos(angle), si = sin(angle);
    double along = (u.x * x + u.y * y + u.z * z) * (1 - co);
    return (jaw_vec3){
        c.x + co * x + si * (u.y * z - u.z * y) + along * u.x,
        c.y + co * y + si * (u.z * x - u.x * z) + along * u.y,
        c.z + co * z + si * (u.x * y - u.y * x) + along * u.z};
}

static const jaw_vec3 axes[3] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};

/* A table about X shows y z, about Y z x, about Z x y. */
static jaw_vec2 plane_of(int axis, jaw_vec3 p)
{
    return axis == 0   ? (jaw_vec2){p.y, p.z}
           : axis == 1 ? (jaw_vec2){p.z, p.x}
                       : (jaw_vec2){p.x, p.y};
}

static jaw_vec3 somewhere(random_source *r, double size)
{
    return (jaw_vec3){random_between(r, -size, size),
                      random_between(r, -size, size),
                      random_between(r, -size, size)};
}

/* ----------------------------------------------------------------- geometry */

/* Either sense, each axis, known and found. */
START_TEST(table_is_found)
{
    random_source r = random_start("table_is_found", 3000 + (uint64_t)_i);
    const int axis = _i % 3, sense = _i / 3 % 2 ? -1 : 1, known = _i / 6;

    for (int set = 0; set < 300; set++) {
        jaw_vec3 c = somewhere(&r, 300), at = somewhere(&r, 80);
        size_t n = 3 + random_below(&r, 6);
        double angle[MOST], start = random_between(&r, -2, 2);
        jaw_vec2 p[MOST], resid[MOST], out;
        jaw_rotary t;
        at = (jaw_vec3){c.x + at.x, c.y + at.y, c.z + at.z};
        jaw_vec2 want = plane_of(axis, c), feature = plane_of(axis, at);
        if (hypot(feature.x - want.x, feature.y - want.y) < 10)
            continue;
        for (size_t i = 0; i < n; i++) {
            angle[i] = start + 2.5 * (double)i / (double)(n - 1);
            p[i] = plane_of(axis, turn_about(c, axes[axis], sense * angle[i],
                                             at));
        }
        ck_status(jaw_rotary_centre(angle, p, n,
                                    known ? (jaw_sense)sense : JAW_SENSE_FIND,
                                    0.002, &t, resid), JAW_OK);
        ck_assert_int_eq(t.sense, (jaw_sense)sense);
        near(t.centre.x, want.x, 1e-12, "centre");
        near(t.centre.y, want.y, 1e-12, "centre");
        near(t.arm.x, feature.x - want.x, 1e-12, "arm");
        near(t.arm.y, feature.y - want.y, 1e-12, "arm");
        near(t.rms, 0, 1e-12, "rms");
        ck_assert(t.other_rms > 1);
        ck_assert_int_eq(t.dof, 2 * (int)n - 4);
        ck_assert(isinf(t.dof_of));
        ck_assert_uint_eq(t.flags, 0);
        for (size_t i = 0; i < n; i++)
            near(hypot(resid[i].x, resid[i].y), 0, 1e-12, "resid");
        /* another point of the part, indexed */
        jaw_vec3 q = somewhere(&r, 200);
        double from = random_between(&r, -9, 9), to = random_between(&r, -9, 9);
        jaw_vec2 there = plane_of(axis, turn_about(c, axes[axis],
                                                   sense * (to - from), q));
        ck_status(jaw_rotary_index(&t, plane_of(axis, q), NULL, from, to, &out,
                                   NULL), JAW_OK);
        near(out.x, there.x, 1e-11, "indexed");
        near(out.y, there.y, 1e-11, "indexed");
    }
}
END_TEST

/* By hand: a pin 10 to the right of a rotary centre at (100, 50), a table about
 * Z; at 90 degrees by the right hand it stands above the centre, by the left
 * below. */
START_TEST(by_hand)
{
    const double angle[2] = {0, PI / 2};
    const jaw_vec2 right[2] = {{110, 50}, {100, 60}},
                   left[2] = {{110, 50}, {100, 40}};
    jaw_rotary t;
    jaw_vec2 out;

    ck_status(jaw_rotary_centre(angle, right, 2, JAW_SENSE_RIGHT, 0.01, &t,
                                NULL), JAW_OK);
    near(t.centre.x, 100, 1e-13, "x");
    near(t.centre.y, 50, 1e-13, "y");
    near(t.arm.x, 10, 1e-13, "arm x");
    near(t.arm.y, 0, 1e-13, "arm y");
    ck_assert_uint_eq(t.flags, JAW_NO_CHECK);
    ck_assert(isnan(t.rms) && isnan(t.other_rms) && t.dof == 0);
    /* c = middle of both plus half their difference turned: half of each
     * touch's variance and half of the arm's, (1 / 2 + 1 / 2) repeat^2 */
    near(t.cov[0], 1e-4, 1e-18, "cov");
    near(t.cov[1], 0, 0, "cov");
    near(t.cov[2], 1e-4, 1e-18, "cov");
    ck_status(jaw_rotary_index(&t, (jaw_vec2){120, 50}, NULL, 0, PI, &out,
                               NULL), JAW_OK);
    near(out.x, 80, 1e-13, "half a turn");
    near(out.y, 50, 1e-13, "half a turn");
    ck_status(jaw_rotary_centre(angle, left, 2, JAW_SENSE_LEFT, NOT, &t, NULL),
              JAW_OK);
    near(t.centre.x, 100, 1e-13, "x");
    near(t.centre.y, 50, 1e-13, "y");
    ck_assert(isnan(t.cov[0]) && isnan(t.cov[1]) && isnan(t.dof_of));
}
END_TEST

/* Factors of a bolt circle of diameter 1, five decimals (Machinery's Handbook,
 * tables of hole coordinate factors, from memory): first hole at the top, holes
 * counter-clockwise, x from the left and y down from the top of the enclosing
 * square.  One hole that is indexed stands where the others are; y down makes
 * the sense left. */
static const struct {
    size_t n;
    jaw_vec2 hole[5];
} handbook[] = {
    {3, {{0.50000, 0.00000}, {0.06699, 0.75000}, {0.93301, 0.75000}}},
    {5, {{0.50000, 0.00000}, {0.02447, 0.34549}, {0.20611, 0.90451},
         {0.79389, 0.90451}, {0.97553, 0.34549}}},
};

START_TEST(bolt_circle_of_the_handbook)
{
    double angle[5];
    jaw_rotary t;
    jaw_vec2 resid[5];
    size_t n = handbook[_i].n;

    for (size_t i = 0; i < n; i++)
        angle[i] = 2 * PI * (double)i / (double)n;
    ck_status(jaw_rotary_centre(angle, handbook[_i].hole, n, JAW_SENSE_FIND,
                                NOT, &t, resid), JAW_OK);
    ck_assert_int_eq(t.sense, JAW_SENSE_LEFT);
    near(t.centre.x, 0.5, 0.5e-5, "x");
    near(t.centre.y, 0.5, 0.5e-5, "y");
    near(t.arm.x, 0, 0.5e-5, "arm x");
    near(t.arm.y, -0.5, 0.5e-5, "arm y");
    for (size_t i = 0; i < n; i++)
        near(hypot(resid[i].x, resid[i].y), 0, 1e-5, "resid");
    /* the first hole, indexed to each */
    for (size_t i = 0; i < n; i++) {
        jaw_vec2 out;
        ck_status(jaw_rotary_index(&t, handbook[_i].hole[0], NULL, 0, angle[i],
                                   &out, NULL), JAW_OK);
        near(out.x, handbook[_i].hole[i].x, 1e-5, "hole x");
        near(out.y, handbook[_i].hole[i].y, 1e-5, "hole y");
    }
    ck_status(jaw_rotary_centre(angle, handbook[_i].hole, n, JAW_SENSE_RIGHT,
                                NOT, &t, resid), JAW_ECONFLICT);
}
END_TEST

/* Moved, scaled, turned, reordered, angles counted from elsewhere, seen in a
 * mirror. */
START_TEST(holds_for_any_data)
{
    random_source r = random_start("holds_for_any_data", 3100);

    for (int set = 0; set < 200; set++) {
        size_t n = 4 + random_below(&r, 6);
        double a[MOST], b[MOST], count = random_between(&r, -5, 5);
        double turn = random_between(&r, -3, 3), c = cos(turn), s = sin(turn);
        jaw_vec2 p[MOST], q[MOST], m[MOST];
        jaw_rotary t, u, v;
        for (size_t i = 0; i < n; i++) {
            a[i] = 3.0 * (double)i / (double)n;
            p[i] = (jaw_vec2){40 * cos(a[i]) + random_between(&r, -.1, .1),
                              40 * sin(a[i]) + random_between(&r, -.1, .1)};
        }
        for (size_t i = 0; i < n; i++) {
            size_t j = n - 1 - i;
            b[i] = a[j] + count;
            q[i] = (jaw_vec2){7 + 2 * (c * p[j].x - s * p[j].y),
                              -9 + 2 * (s * p[j].x + c * p[j].y)};
            m[i] = (jaw_vec2){p[i].x, -p[i].y};
        }
        ck_status(jaw_rotary_centre(a, p, n, JAW_SENSE_FIND, NOT, &t, NULL),
                  JAW_OK);
        ck_status(jaw_rotary_centre(b, q, n, JAW_SENSE_FIND, NOT, &u, NULL),
                  JAW_OK);
        ck_status(jaw_rotary_centre(a, m, n, JAW_SENSE_FIND, NOT, &v, NULL),
                  JAW_OK);
        near(u.centre.x, 7 + 2 * (c * t.centre.x - s * t.centre.y), 1e-12, "x");
        near(u.centre.y, -9 + 2 * (s * t.centre.x + c * t.centre.y), 1e-12,
             "y");
        near(hypot(u.arm.x, u.arm.y), 2 * hypot(t.arm.x, t.arm.y), 1e-12,
             "arm");
        near(u.rms, 2 * t.rms, 1e-12, "rms");
        near(u.other_rms, 2 * t.other_rms, 1e-11, "other rms");
        near(u.cov[0], 4 * t.cov[0], 1e-9 * u.cov[0], "cov");
        ck_assert_int_eq(v.sense, JAW_SENSE_LEFT);
        near(v.centre.x, t.centre.x, 1e-13, "mirrored");
        near(v.centre.y, -t.centre.y, 1e-13, "mirrored");
        near(v.arm.y, -t.arm.y, 1e-13, "mirrored");
    }
}
END_TEST

/* Angles within a second of arc keep the digits that such angles have. */
START_TEST(crowded_angles)
{
    const double second = PI / 180 / 3600, angle[3] = {0, second / 2, second};
    jaw_vec2 p[3];
    jaw_rotary t;

    for (int i = 0; i < 3; i++) {
        jaw_vec3 q = turn_about((jaw_vec3){3, 4, 0}, axes[2], angle[i],
                                (jaw_vec3){103, 4, 0});
        p[i] = (jaw_vec2){q.x, q.y};
    }
    ck_status(jaw_rotary_centre(angle, p, 3, JAW_SENSE_RIGHT, 0.001, &t, NULL),
              JAW_OK);
    ck_assert_uint_eq(t.flags, JAW_WEAK);
    /* half a last digit of 103 in each touch */
    near(t.centre.x, 3, 103 * 2.2e-16 / second * 2, "x");
    near(t.centre.y, 4, 103 * 2.2e-16 / second * 2, "y");
    ck_assert(sqrt(t.cov[0]) > 100);
}
END_TEST

/* --------------------------------------------------------------------- tilt */

START_TEST(leaning_axis)
{
    const jaw_vec3 c = {20, -30, 10};
    jaw_vec3 u = {2e-4, -3e-4, 1};
    double h = sqrt(u.x * u.x + u.y * u.y + 1), angle[6];
    jaw_rotary at[2];
    jaw_figure tilt[2];
    jaw_vec2 p[6];

    u = (jaw_vec3){u.x / h, u.y / h, 1 / h};
    for (int k = 0; k < 2; k++) {
        jaw_vec3 pin = {c.x + 40, c.y, c.z + 150 * k};
        for (int i = 0; i < 6; i++) {
            angle[i] = PI / 3 * i;
            jaw_vec3 q = turn_about(c, u, angle[i], pin);
            p[i] = (jaw_vec2){q.x, q.y};
        }
        ck_status(jaw_rotary_centre(angle, p, 6, JAW_SENSE_RIGHT, 0.003,
                                    &at[k], NULL), JAW_OK);
    }
    ck_status(jaw_rotary_tilt(at, 150, tilt), JAW_OK);
    /* the circle seen at a slant: second order of the lean, 1e-7 of the arm */
    near(tilt[0].value, 2e-4, 1e-7, "towards x");
    near(tilt[1].value, -3e-4, 1e-7, "towards y");
    /* six touches all round: each centre has repeat / sqrt(6) */
    near(tilt[0].u, 0.003 / sqrt(6) * sqrt(2) / 150, 1e-9, "u");
    ck_assert(isinf(tilt[0].dof));
    jaw_rotary swap[2] = {at[1], at[0]};
    ck_status(jaw_rotary_tilt(swap, -150, tilt), JAW_OK);
    near(tilt[0].value, 2e-4, 1e-7, "the other way round");
    ck_status(jaw_rotary_tilt(at, 0, tilt), JAW_EDOMAIN);
    ck_assert(isnan(tilt[0].value) && isnan(tilt[1].u));
    ck_status(jaw_rotary_tilt(at, NOT, tilt), JAW_ENOTFINITE);
    at[1].centre.x = NOT;
    ck_status(jaw_rotary_tilt(at, 150, tilt), JAW_ENOTFINITE);
    ck_assert(isnan(tilt[0].value) && isnan(tilt[1].half95));
}
END_TEST

/* ------------------------------------------------------------------- spread */

/* The problem is linear: the covariance is that of differences. */
START_TEST(covariance_is_that_of_differences)
{
    random_source r = random_start("covariance_is_that_of_differences", 3200);

    for (int set = 0; set < 100; set++) {
        size_t n = 2 + random_below(&r, 6);
        double a[MOST], cov[3] = {0, 0, 0}, h = 1e-3, s = 0.004;
        jaw_vec2 p[MOST];
        jaw_rotary t, u;
        for (size_t i = 0; i < n; i++) {
            a[i] = random_between(&r, -3, 3) + (double)i;
            p[i] = (jaw_vec2){30 * cos(a[i]) + 5, 30 * sin(a[i]) - 8};
        }
        ck_status(jaw_rotary_centre(a, p, n, JAW_SENSE_RIGHT, s, &t, NULL),
                  JAW_OK);
        for (size_t i = 0; i < 2 * n; i++) {
            double *x = i % 2 ? &p[i / 2].y : &p[i / 2].x, was = *x;
            *x += h;
            /* a slip of h is a conflict for no sense at all here */
            ck_status(jaw_rotary_centre(a, p, n, JAW_SENSE_RIGHT, s, &u, NULL),
                      JAW_OK);
            *x = was;
            double dx = (u.centre.x - t.centre.x) / h * s;
            double dy = (u.centre.y - t.centre.y) / h * s;
            cov[0] += dx * dx;
            cov[1] += dx * dy;
            cov[2] += dy * dy;
        }
        near(t.cov[0], cov[0], 1e-8 * cov[0], "xx");
        near(t.cov[1], cov[1], 1e-8 * cov[0], "xy");
        near(t.cov[2], cov[2], 1e-8 * cov[2], "yy");
    }
}
END_TEST

/* 95 % of the intervals of the centre, of a point indexed and of a lean hold
 * the truth; repeat stated (_i = 0) or from the residuals. */
START_TEST(intervals_hold_the_truth)
{
    random_source r = random_start("intervals_hold_the_truth", 3300);
    const int all = sets(20000);
    const double s = 0.003, repeat = _i ? NOT : s;
    int centre = 0, indexed = 0, lean = 0;

    for (int set = 0; set < all; set++) {
        jaw_rotary t[2];
        jaw_figure tilt[2];
        for (int k = 0; k < 2; k++) {
            size_t n = 4 + random_below(&r, 4);
            double a[MOST];
            jaw_vec2 p[MOST];
            for (size_t i = 0; i < n; i++) {
                a[i] = 0.9 * (double)i + 0.2;
                p[i] = (jaw_vec2){50 + 30 * cos(a[i]) + s * random_normal(&r),
                                  -7 + 30 * sin(a[i]) + s * random_normal(&r)};
            }
            ck_status(jaw_rotary_centre(a, p, n, JAW_SENSE_FIND, repeat, &t[k],
                                        NULL), JAW_OK);
        }
        double k95 = jaw_trust_cover(0.95, t[0].dof_of);
        centre += fabs(t[0].centre.x - 50) <= k95 * sqrt(t[0].cov[0]);
        ck_status(jaw_rotary_tilt(t, 100, tilt), JAW_OK);
        lean += fabs(tilt[1].value) <= tilt[1].half95;
        /* a point at (60, 0), touched itself, over 0.7 rad */
        jaw_vec2 q = {60 + s * random_normal(&r), s * random_normal(&r)}, out;
        double cov_p[3] = {s * s, 0, s * s}, cov[3];
        ck_status(jaw_rotary_index(&t[0], q, cov_p, 0.1, 0.8, &out, cov),
                  JAW_OK);
        double want = 50 + 10 * cos(0.7) - 7 * sin(0.7);
        if (_i == 0)
            indexed += fabs(out.x - want) <= k95 * sqrt(cov[0]);
    }
    holds(centre, all, 0.95, "centre");
    if (_i == 0) {
        holds(lean, all, 0.95, "lean");
        holds(indexed, all, 0.95, "indexed");
    } else {
        /* dof by Welch and Satterthwaite: an approximation, rather too wide */
        printf("lean: %.4f\n", (double)lean / all);
        ck_assert(lean >= 0.945 * all && lean <= 0.97 * all);
    }
}
END_TEST

/* cov of an indexed point by differences of all that it is made of. */
START_TEST(indexed_covariance)
{
    jaw_rotary t = {.centre = {12, -5}, .cov = {4e-4, 1e-4, 9e-4},
                    .sense = JAW_SENSE_LEFT};
    const double from = 0.4, to = 2.7, h = 1e-3;
    const double cov_p[3] = {1e-4, -5e-5, 2e-4};
    double d[4][2], cov[3], want[3] = {0, 0, 0};
    jaw_vec2 p = {80, 33}, out, moved;

    ck_status(jaw_rotary_index(&t, p, cov_p, from, to, &out, cov), JAW_OK);
    for (int k = 0; k < 4; k++) {
        jaw_rotary u = t;
        jaw_vec2 q = p;
        *(k == 0   ? &u.centre.x
          : k == 1 ? &u.centre.y
          : k == 2 ? &q.x
                   : &q.y) += h;
        ck_status(jaw_rotary_index(&u, q, NULL, from, to, &moved, NULL),
                  JAW_OK);
        d[k][0] = (moved.x - out.x) / h;
        d[k][1] = (moved.y - out.y) / h;
    }
    for (int half = 0; half < 4; half += 2) {
        const double *v = half ? cov_p : t.cov;
        for (int i = 0, k = 0; i < 2; i++)
            for (int j = i; j < 2; j++, k++)
                want[k] += d[half][i] * d[half][j] * v[0] +
                           (d[half][i] * d[half + 1][j] +
                            d[half + 1][i] * d[half][j]) * v[1] +
                           d[half + 1][i] * d[half + 1][j] * v[2];
    }
    for (int k = 0; k < 3; k++)
        near(cov[k], want[k], 1e-12, "cov");
    /* not turned: it stays where it is, whatever the centre is worth */
    ck_status(jaw_rotary_index(&t, p, cov_p, 1.5, 1.5, &out, cov), JAW_OK);
    near(out.x, p.x, 0, "stays");
    near(out.y, p.y, 0, "stays");
    near(cov[0], cov_p[0], 1e-19, "cov stays");
    t.cov[0] = NOT;
    ck_status(jaw_rotary_index(&t, p, cov_p, 0, 1.5, &out, cov), JAW_OK);
    ck_assert(isnan(cov[0]) && isfinite(out.x));
}
END_TEST

/* -------------------------------------------------------------------- sense */

/* A true sense is denied as seldom as said, and a wrong one is not believed. */
START_TEST(sense_is_seldom_denied)
{
    random_source r = random_start("sense_is_seldom_denied", 3400);
    const int all = sets(20000);
    const double s = 0.003, repeat = _i ? NOT : s;
    int denied = 0, wrong = 0, unsure = 0;

    for (int set = 0; set < all; set++) {
        size_t n = 3 + random_below(&r, 4);
        /* arms from nothing to where the sense shows */
        double arm = s * random_between(&r, 0, 20), a[MOST];
        jaw_vec2 p[MOST];
        jaw_rotary t;
        for (size_t i = 0; i < n; i++) {
            a[i] = 1.1 * (double)i;
            p[i] = (jaw_vec2){arm * cos(a[i]) + s * random_normal(&r),
                              arm * sin(a[i]) + s * random_normal(&r)};
        }
        jaw_status status = jaw_rotary_centre(a, p, n, JAW_SENSE_RIGHT, repeat,
                                              &t, NULL);
        denied += status == JAW_ECONFLICT;
        ck_assert(status == JAW_OK || status == JAW_ECONFLICT);
        status = jaw_rotary_centre(a, p, n, JAW_SENSE_FIND, repeat, &t, NULL);
        wrong += status == JAW_OK && t.sense == JAW_SENSE_LEFT;
        unsure += status == JAW_ERANK;
        ck_assert(status == JAW_OK || status == JAW_ERANK);
    }
    printf("denied %d, wrong %d, unsure %d of %d\n", denied, wrong, unsure,
           all);
    /* JAW_TRUST_ALPHA and four standard deviations of the count */
    double most = JAW_TRUST_ALPHA * all + 4 * sqrt(JAW_TRUST_ALPHA * all);
    ck_assert(denied <= most);
    ck_assert(wrong <= most);
    ck_assert(unsure > 0 && unsure < all);
}
END_TEST

START_TEST(wrong_sense_is_denied)
{
    const double a[4] = {0, 1, 2, 3};
    jaw_vec2 p[4], resid[4];
    jaw_rotary t;

    for (int i = 0; i < 4; i++)
        p[i] = (jaw_vec2){25 * cos(a[i]) + 0.002 * (i % 2),
                          -25 * sin(a[i]) - 0.001 * i};
    for (int k = 0; k < 2; k++) {
        double repeat = k ? NOT : 0.003;
        ck_status(jaw_rotary_centre(a, p, 4, JAW_SENSE_RIGHT, repeat, &t,
                                    resid), JAW_ECONFLICT);
        ck_assert(isnan(t.centre.x) && isnan(t.cov[2]) && isnan(t.rms));
        ck_assert(isnan(resid[3].y) && t.dof == 0 && t.flags == 0);
        ck_assert_int_eq(t.sense, JAW_SENSE_FIND);
        ck_status(jaw_rotary_centre(a, p, 4, JAW_SENSE_LEFT, repeat, &t, resid),
                  JAW_OK);
        ck_assert_int_eq(t.sense, JAW_SENSE_LEFT);
    }
    /* a chip on one touch is a residual, not another sense */
    p[2].x += 0.05;
    ck_status(jaw_rotary_centre(a, p, 4, JAW_SENSE_LEFT, 0.003, &t, NULL),
              JAW_OK);
    ck_assert_uint_eq(t.flags, JAW_RESIDUAL);
}
END_TEST

/* -------------------------------------------------------------------- slips */

/* n touches on a circle of radius 40, each with the spread s. */
static void touch_all(random_source *r, size_t n, double s, double a[],
                      jaw_vec2 p[])
{
    for (size_t i = 0; i < n; i++) {
        a[i] = 0.3 + 5.5 * (double)i / (double)n;
        p[i] = (jaw_vec2){12 + 40 * cos(a[i]) + s * random_normal(r),
                          -9 + 40 * sin(a[i]) + s * random_normal(r)};
    }
}

/* One touch moved by a slip: the residual falls short of it by what the centre
 * and the arm follow, and the centre moves by what is said. */
START_TEST(a_slip_moves_the_centre)
{
    random_source r = random_start("a_slip_moves_the_centre", 3500);

    for (int set = 0; set < 200; set++) {
        size_t n = 3 + random_below(&r, 6), k = random_below(&r, n);
        double a[MOST], turn = random_between(&r, -PI, PI), by = 0.004;
        jaw_vec2 p[MOST], was[MOST], now[MOST];
        jaw_rotary t, u;
        jaw_rotary_slip slip[MOST];
        touch_all(&r, n, 0, a, p);
        ck_status(jaw_rotary_centre(a, p, n, JAW_SENSE_RIGHT, 0.01, &t, was),
                  JAW_OK);
        ck_status(jaw_rotary_slips(a, was, n, &t, 0.01, slip), JAW_OK);
        p[k].x += by * cos(turn);
        p[k].y += by * sin(turn);
        ck_status(jaw_rotary_centre(a, p, n, JAW_SENSE_RIGHT, 0.01, &u, now),
                  JAW_OK);
        near(hypot(now[k].x, now[k].y), by * slip[k].redundancy, 1e-12,
             "redundancy");
        near(hypot(u.centre.x - t.centre.x, u.centre.y - t.centre.y),
             by * slip[k].moves / slip[k].noticeable, 1e-12, "moves");
        double all = 0;
        for (size_t i = 0; i < n; i++)
            all += 2 * slip[i].redundancy;
        near(all, t.dof, 1e-12, "they sum up to what is spare");
        near(slip[k].noticeable,
             JAW_TRUST_SHIFT_PLACE * 0.01 / sqrt(slip[k].redundancy), 1e-12,
             "noticeable");
    }
}
END_TEST

/* A touch without slip is doubted as seldom as said, one with the smallest that
 * is noticed as often; repeat stated (_i = 0) or from the residuals. */
START_TEST(slips_are_noticed)
{
    random_source r = random_start("slips_are_noticed", 3600 + (uint64_t)_i);
    const int all = sets(20000);
    const double s = 0.003, repeat = _i ? NOT : s;
    int good = 0, found = 0, named = 0;

    for (int set = 0; set < all; set++) {
        size_t n = 5;
        double a[MOST], turn = random_between(&r, -PI, PI), shift;
        jaw_vec2 p[MOST], resid[MOST];
        jaw_rotary t;
        jaw_rotary_slip slip[MOST];
        touch_all(&r, n, s, a, p);
        ck_status(jaw_rotary_centre(a, p, n, JAW_SENSE_RIGHT, repeat, &t,
                                    resid), JAW_OK);
        ck_status(jaw_rotary_slips(a, resid, n, &t, repeat, slip), JAW_OK);
        good += slip[3].standard > slip[3].limit;
        /* for the true spread */
        shift = _i ? slip[3].noticeable / sqrt(t.cov[0]) : slip[3].noticeable;
        if (_i) {
            jaw_rotary known;
            ck_status(jaw_rotary_centre(a, p, n, JAW_SENSE_RIGHT, s, &known,
                                        NULL), JAW_OK);
            shift *= sqrt(known.cov[0]);
        }
        p[3].x += shift * cos(turn);
        p[3].y += shift * sin(turn);
        ck_status(jaw_rotary_centre(a, p, n, JAW_SENSE_RIGHT, repeat, &t,
                                    resid), JAW_OK);
        ck_status(jaw_rotary_slips(a, resid, n, &t, repeat, slip), JAW_OK);
        found += slip[3].standard > slip[3].limit;
        size_t worst = 0;
        for (size_t i = 1; i < n; i++)
            if (slip[i].standard > slip[worst].standard)
                worst = i;
        named += worst == 3;
    }
    printf("doubted %d, noticed %d, named %d of %d\n", good, found, named, all);
    double most = JAW_TRUST_ALPHA * all + 4 * sqrt(JAW_TRUST_ALPHA * all);
    ck_assert(good <= most);
    if (_i == 0)
        holds(found, all, JAW_TRUST_POWER, "noticed");
    else
        ck_assert(found >= JAW_TRUST_POWER * all);
    /* where it is noticed it is, most often, the one that is off most */
    ck_assert(named >= JAW_TRUST_POWER * all);
}
END_TEST

START_TEST(slips_fail)
{
    random_source r = random_start("slips_fail", 3700);
    double a[MOST];
    jaw_vec2 p[MOST], resid[MOST];
    jaw_rotary t;
    jaw_rotary_slip slip[MOST];

    touch_all(&r, 3, 0.003, a, p);
    /* three angles that judge themselves: nothing is noticed */
    ck_status(jaw_rotary_centre(a, p, 3, JAW_SENSE_RIGHT, NOT, &t, resid),
              JAW_OK);
    ck_status(jaw_rotary_slips(a, resid, 3, &t, NOT, slip), JAW_OK);
    for (int i = 0; i < 3; i++) {
        near(slip[i].standard, slip[i].limit, 1e-9, "always the whole");
        ck_assert(isinf(slip[i].noticeable) && isinf(slip[i].moves));
    }
    /* of two nothing is checked */
    ck_status(jaw_rotary_centre(a, p, 2, JAW_SENSE_RIGHT, 0.01, &t, resid),
              JAW_OK);
    ck_status(jaw_rotary_slips(a, resid, 2, &t, 0.01, slip), JAW_OK);
    for (int i = 0; i < 2; i++) {
        ck_assert(slip[i].redundancy == 0 && isnan(slip[i].standard));
        ck_assert(isnan(slip[i].limit) && isinf(slip[i].moves));
    }
    ck_status(jaw_rotary_slips(a, resid, 2, &t, 0, slip), JAW_EDOMAIN);
    ck_status(jaw_rotary_slips(a, resid, 3, &t, 0.01, slip), JAW_ENOTFINITE);
    ck_assert(isnan(slip[2].redundancy) && isnan(slip[0].moves));
    t.centre.x = NOT;
    ck_status(jaw_rotary_slips(a, resid, 2, &t, 0.01, slip), JAW_ENOTFINITE);
}
END_TEST

/* ------------------------------------------------------------------- runout */

/* A bar of radius 8 whose axis lies at q from the table's, seen from f: the
 * plunger's ball of radius 1 rests on it from outside. */
static double reading_at(jaw_vec2 q, double f, double turn)
{
    double x = q.x * cos(turn) - q.y * sin(turn);
    double y = q.x * sin(turn) + q.y * cos(turn);
    double along = x * cos(f) + y * sin(f), aside = y * cos(f) - x * sin(f);

    return along + sqrt(81 - aside * aside) - 9;
}

/* Either sense, any direction; then one place of the bar gives the centre. */
START_TEST(runout_is_found)
{
    random_source r = random_start("runout_is_found", 3800);

    for (int set = 0; set < 300; set++) {
        size_t n = 3 + random_below(&r, 6);
        double sense = random_below(&r, 2) ? 1 : -1, a[MOST], z[MOST], at[MOST];
        double f = random_between(&r, -4, 4), base = random_between(&r, -1, 1);
        jaw_vec2 q = {random_between(&r, -.03, .03),
                      random_between(&r, -.03, .03)};
        double h = hypot(q.x, q.y), most = h * h / 16;
        jaw_rotary_runout found;
        for (size_t i = 0; i < n; i++) {
            a[i] = 1 + 2 * PI * (double)i / (double)n;
            z[i] = base + reading_at(q, f, sense * a[i]);
        }
        ck_status(jaw_rotary_find_runout(a, z, n, f, (jaw_sense)(int)sense,
                                         0.001, &found, at), JAW_OK);
        near(found.arm.x, q.x, 2 * most, "arm");
        near(found.arm.y, q.y, 2 * most, "arm");
        near(found.full.value, 2 * h, 4 * most, "full");
        /* nowhere is more read than at the high spot */
        double high = reading_at(q, f, sense * found.high);
        near(high, h, most, "at the high spot");
        ck_assert(found.high >= 0 && found.high < 2 * PI);
        ck_assert_int_eq(found.dof, (int)n - 3);
        /* n all the way round: each of both has 2 / n of one reading */
        near(found.cov[0], 2e-6 / (double)n, 1e-15, "cov");
        near(found.cov[1], 0, 1e-15, "cov");
        near(found.cov[2], 2e-6 / (double)n, 1e-15, "cov");
        ck_assert((found.flags & JAW_RESIDUAL) == 0);
        for (size_t i = 0; i < n; i++)
            near(at[i], 0, most, "resid");
    }
}
END_TEST

/* 95 % of the intervals of each of both, and of the whole, hold the truth:
 * repeat stated (_i = 0) or from the residuals; angles over part of a turn, so
 * that both are tied. */
START_TEST(runout_holds_the_truth)
{
    random_source r = random_start("runout_holds_the_truth", 3900);
    const int all = sets(20000);
    const double s = 0.0005, repeat = _i ? NOT : s;
    int x = 0, both = 0, full = 0, doubted = 0;

    for (int set = 0; set < all; set++) {
        size_t n = 4 + random_below(&r, 4);
        double a[MOST], z[MOST];
        const jaw_vec2 q = {0.011, -0.007};
        jaw_rotary_runout t;
        for (size_t i = 0; i < n; i++) {
            a[i] = 0.8 * (double)i;
            z[i] = 0.011 * cos(0.4 + a[i]) - 0.007 * sin(0.4 + a[i]) +
                   s * random_normal(&r);
        }
        ck_status(jaw_rotary_find_runout(a, z, n, 0.4, JAW_SENSE_LEFT, repeat,
                                         &t, NULL), JAW_OK);
        double k95 = jaw_trust_cover(0.95, t.dof_of);
        x += fabs(t.arm.x - q.x) <= k95 * sqrt(t.cov[0]);
        double u = sqrt(t.cov[0] + t.cov[2] - 2 * t.cov[1]);
        both += fabs(t.arm.x - t.arm.y - q.x + q.y) <= k95 * u;
        full += fabs(t.full.value - 2 * hypot(q.x, q.y)) <= t.full.half95;
        doubted += (t.flags & JAW_RESIDUAL) != 0;
    }
    holds(x, all, 0.95, "x");
    holds(both, all, 0.95, "x less y");
    holds(full, all, 0.95, "runout");
    double most = JAW_TRUST_ALPHA * all + 4 * sqrt(JAW_TRUST_ALPHA * all);
    ck_assert(doubted <= most && (_i == 0 || doubted == 0));
}
END_TEST

START_TEST(runout_fails)
{
    double a[4] = {0, 1, 2, 3}, z[4] = {0, 1, 2, 1}, resid[4];
    const double equal[4] = {1, 1, 2, 2};
    jaw_rotary_runout t;
    const struct {
        const double *a;
        size_t n;
        double f, repeat;
        jaw_sense sense;
        jaw_status want;
    } bad[] = {{a, 2, 0, 1, JAW_SENSE_RIGHT, JAW_EFEW},
               {a, 4, 0, 0, JAW_SENSE_RIGHT, JAW_EDOMAIN},
               {a, 4, 0, -1, JAW_SENSE_RIGHT, JAW_EDOMAIN},
               {a, 4, 0, INFINITY, JAW_SENSE_RIGHT, JAW_EDOMAIN},
               {a, 4, 0, 1, JAW_SENSE_FIND, JAW_EDOMAIN},
               {a, 4, NOT, 1, JAW_SENSE_LEFT, JAW_ENOTFINITE},
               {equal, 4, 0, 1, JAW_SENSE_LEFT, JAW_ERANK}};

    for (int i = 0; i < COUNT(bad); i++) {
        ck_status(jaw_rotary_find_runout(bad[i].a, z, bad[i].n, bad[i].f,
                                         bad[i].sense, bad[i].repeat, &t,
                                         resid), bad[i].want);
        ck_assert(isnan(t.arm.x) && isnan(t.cov[2]) && isnan(t.full.value));
        ck_assert(isnan(t.high) && isnan(t.rms) && isnan(resid[0]));
        ck_assert(t.dof == 0 && t.flags == 0);
    }
    /* three tell, without a check; an oval bar is a residual */
    ck_status(jaw_rotary_find_runout(a, z, 3, 0, JAW_SENSE_LEFT, NOT, &t,
                                     NULL), JAW_OK);
    ck_assert((t.flags & JAW_NO_CHECK) && isnan(t.cov[0]));
    ck_assert(isfinite(t.full.value) && isnan(t.full.half95));
    ck_status(jaw_rotary_find_runout(a, z, 4, 0, JAW_SENSE_LEFT, 0.01, &t,
                                     NULL), JAW_OK);
    ck_assert(t.flags & JAW_RESIDUAL);
    for (int i = 0; i < 4; i++)
        z[i] = 0;
    ck_status(jaw_rotary_find_runout(a, z, 4, 0, JAW_SENSE_LEFT, 0.01, &t,
                                     NULL), JAW_OK);
    near(t.full.value, 0, 1e-15, "runs true");
    ck_assert(t.full.half95 > 0);
}
END_TEST

/* ------------------------------------------------------------------- status */

static void fails(const double a[], const jaw_vec2 p[], size_t n,
                  jaw_sense sense, double repeat, jaw_status want)
{
    jaw_rotary t;
    jaw_vec2 resid[MOST] = {{0, 0}};

    ck_status(jaw_rotary_centre(a, p, n, sense, repeat, &t, resid), want);
    ck_assert(isnan(t.centre.x) && isnan(t.centre.y) && isnan(t.arm.x) &&
              isnan(t.arm.y) && isnan(t.cov[0]) && isnan(t.cov[1]) &&
              isnan(t.cov[2]) && isnan(t.dof_of) && isnan(t.rms) &&
              isnan(t.other_rms));
    ck_assert(t.dof == 0 && t.flags == 0 && t.sense == JAW_SENSE_FIND);
    for (size_t i = 0; i < n; i++)
        ck_assert(isnan(resid[i].x) && isnan(resid[i].y));
}

START_TEST(every_status)
{
    double a[4] = {0, 1, 2, 3};
    jaw_vec2 p[4], same[4] = {{5, 6}, {5, 6}, {5, 6}, {5, 6}};

    for (int i = 0; i < 4; i++)
        p[i] = (jaw_vec2){25 * cos(a[i]), 25 * sin(a[i])};
    fails(a, p, 1, JAW_SENSE_RIGHT, 0.01, JAW_EFEW);
    fails(a, p, 2, JAW_SENSE_FIND, 0.01, JAW_EFEW);
    fails(a, p, 0, JAW_SENSE_LEFT, 0.01, JAW_EFEW);
    fails(a, p, 4, (jaw_sense)2, 0.01, JAW_EDOMAIN);
    fails(a, p, 4, JAW_SENSE_RIGHT, 0, JAW_EDOMAIN);
    fails(a, p, 4, JAW_SENSE_RIGHT, -1, JAW_EDOMAIN);
    fails(a, p, 4, JAW_SENSE_RIGHT, INFINITY, JAW_EDOMAIN);
    /* on the centre the sense can not be seen, and nobody needs it: stated is
     * fine */
    fails(a, same, 4, JAW_SENSE_FIND, 0.01, JAW_ERANK);
    fails(a, same, 4, JAW_SENSE_FIND, NOT, JAW_ERANK);
    jaw_rotary t;
    ck_status(jaw_rotary_centre(a, same, 4, JAW_SENSE_LEFT, NOT, &t, NULL),
              JAW_OK);
    near(t.centre.x, 5, 1e-15, "on the centre");
    near(hypot(t.arm.x, t.arm.y), 0, 1e-15, "no arm");
    /* all angles the same, but for whole turns and but for half turns */
    double whole[4] = {1, 1 + 2 * PI, 1 - 2 * PI, 1 + 4 * PI};
    fails(whole, same, 4, JAW_SENSE_RIGHT, 0.01, JAW_ERANK);
    double equal[4] = {1, 1, 1, 1};
    fails(equal, same, 4, JAW_SENSE_RIGHT, 0.01, JAW_ERANK);
    double half[4] = {0, PI, 2 * PI, -PI};
    jaw_vec2 q[4] = {{30, 1}, {-30, -1}, {30, 1}, {-30, -1}};
    fails(half, q, 4, JAW_SENSE_FIND, 0.01, JAW_ERANK);
    fails(half, q, 4, JAW_SENSE_FIND, NOT, JAW_ERANK);
    ck_status(jaw_rotary_centre(half, q, 4, JAW_SENSE_LEFT, 0.01, &t, NULL),
              JAW_OK);
    near(hypot(t.centre.x, t.centre.y), 0, 1e-13, "half turns show the centre");
    /* two angles only, one touched twice */
    double two[3] = {0, 0, 1};
    jaw_vec2 three[3] = {{25, 0}, {25, 0}, {25 * cos(1), 25 * sin(1)}};
    fails(two, three, 3, JAW_SENSE_FIND, 0.01, JAW_ERANK);
    fails(two, three, 3, JAW_SENSE_FIND, NOT, JAW_ERANK);
    for (int k = 0; k < 3; k++) {
        double *x = k == 0 ? &a[1] : k == 1 ? &p[2].x : &p[3].y, was = *x;
        *x = k == 1 ? INFINITY : NOT;
        fails(a, p, 4, JAW_SENSE_RIGHT, 0.01, JAW_ENOTFINITE);
        *x = was;
    }
}
END_TEST

START_TEST(index_fails)
{
    jaw_rotary t = {.centre = {1, 2}, .cov = {1, 0, 1},
                    .sense = JAW_SENSE_RIGHT}, bad = t;
    jaw_vec2 out, p = {3, 4};
    double cov[3], nan_p[3] = {1, NOT, 1};

    bad.sense = JAW_SENSE_FIND;
    ck_status(jaw_rotary_index(&bad, p, NULL, 0, 1, &out, cov), JAW_EDOMAIN);
    ck_assert(isnan(out.x) && isnan(out.y) && isnan(cov[0]) && isnan(cov[2]));
    bad = t;
    bad.centre.y = NOT;
    ck_status(jaw_rotary_index(&bad, p, NULL, 0, 1, &out, cov), JAW_ENOTFINITE);
    ck_status(jaw_rotary_index(&t, p, NULL, NOT, 1, &out, cov), JAW_ENOTFINITE);
    ck_status(jaw_rotary_index(&t, p, NULL, 0, INFINITY, &out, cov),
              JAW_ENOTFINITE);
    ck_status(jaw_rotary_index(&t, (jaw_vec2){NOT, 0}, NULL, 0, 1, &out, cov),
              JAW_ENOTFINITE);
    ck_status(jaw_rotary_index(&t, p, nan_p, 0, 1, &out, cov), JAW_ENOTFINITE);
    ck_assert(isnan(out.x) && isnan(out.y) && isnan(cov[1]));
}
END_TEST

/* Nothing allocates, so that nothing can fail for want of memory. */
START_TEST(no_memory_is_asked_for)
{
    double a[MOST];
    jaw_vec2 p[MOST], out;
    jaw_rotary t[2];
    jaw_rotary_slip slip[MOST];
    jaw_rotary_runout runout;
    jaw_figure tilt[2];

    for (int i = 0; i < MOST; i++) {
        a[i] = 0.1 * i;
        p[i] = (jaw_vec2){9 * cos(a[i]), 9 * sin(a[i])};
    }
    alloc_count_start();
    jaw_status one = jaw_rotary_centre(a, p, MOST, JAW_SENSE_FIND, NOT, &t[0],
                                       NULL);
    t[1] = t[0];
    jaw_status two = jaw_rotary_tilt(t, 1, tilt);
    jaw_status three = jaw_rotary_index(&t[0], p[3], NULL, 0, 1, &out, NULL);
    jaw_status four = jaw_rotary_slips(a, p, MOST, &t[0], NOT, slip);
    jaw_status five = jaw_rotary_find_runout(a, a, MOST, 0, JAW_SENSE_RIGHT,
                                             NOT, &runout, NULL);
    long asked = alloc_count_stop();
    ck_assert_int_eq(asked, 0);
    ck_assert(one == JAW_OK && two == JAW_OK && three == JAW_OK);
    ck_assert(four == JAW_OK && five == JAW_OK);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("rotary");
    TCase *tc = tcase_create("rotary");
    tcase_set_timeout(tc, 600);
    tcase_add_loop_test(tc, table_is_found, 0, 12);
    tcase_add_test(tc, by_hand);
    tcase_add_loop_test(tc, bolt_circle_of_the_handbook, 0, COUNT(handbook));
    tcase_add_test(tc, holds_for_any_data);
    tcase_add_test(tc, crowded_angles);
    tcase_add_test(tc, leaning_axis);
    tcase_add_test(tc, covariance_is_that_of_differences);
    tcase_add_loop_test(tc, intervals_hold_the_truth, 0, 2);
    tcase_add_test(tc, indexed_covariance);
    tcase_add_loop_test(tc, sense_is_seldom_denied, 0, 2);
    tcase_add_test(tc, wrong_sense_is_denied);
    tcase_add_test(tc, a_slip_moves_the_centre);
    tcase_add_loop_test(tc, slips_are_noticed, 0, 2);
    tcase_add_test(tc, slips_fail);
    tcase_add_test(tc, runout_is_found);
    tcase_add_loop_test(tc, runout_holds_the_truth, 0, 2);
    tcase_add_test(tc, runout_fails);
    tcase_add_test(tc, every_status);
    tcase_add_test(tc, index_fails);
    if (alloc_works())
        tcase_add_test(tc, no_memory_is_asked_for);
    suite_add_tcase(suite, tc);
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
