/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Zones: data with known answers, what holds for any data, every status, and
 * without memory.  Small sets against all that could be: zone_search.c. */
#include "fit_tests.h"

enum { MANY = 4000 };

static const double turn = 6.283185307179586476925;

/* No published minimum zone could be found whose answer holds to its last
 * digit; these were computed by this project with 50 digits, by going through
 * all that could be (tests/data/README.md). */
static const struct {
    const char *file;
    bool within; /* the first is no bore: its largest circle has its centre on
                    the border of the hull, where those who computed the answer
                    did not look */
} rings[] = {{"circle_ggs1994", false},
             {"circle_scipy_full", true},
             {"stress/circle_minimum_zone", true}};

START_TEST(circles)
{
    data d;
    jaw_vec2 p[ROWS];
    jaw_zone z;
    const char *file = rings[_i].file;
    data_read(&d, file);
    const size_t n = data_points(&d, NULL, "x", "y", p);
    const double tol = moved_by(p, n, 16), about = 8 * tol;
    ck_assert_int_eq(jaw_zone_circle(p, n, &z), JAW_OK);
    near(z.width, data_want(&d, NULL, "mzc_zone"), tol, file);
    near(z.centre.x, data_want(&d, NULL, "mzc_xc"), about, file);
    near(z.centre.y, data_want(&d, NULL, "mzc_yc"), about, file);
    near(z.high, data_want(&d, NULL, "mzc_r_out"), about, file);
    near(z.low, data_want(&d, NULL, "mzc_r_in"), about, file);
    ck_assert_uint_eq(z.n_touch, 4);
    ck_assert_int_eq(jaw_zone_around(p, n, &z), JAW_OK);
    near(z.centre.x, data_want(&d, NULL, "mcc_xc"), about, file);
    near(z.centre.y, data_want(&d, NULL, "mcc_yc"), about, file);
    near(z.high, data_want(&d, NULL, "mcc_r"), tol, file);
    ck_assert_int_eq(jaw_zone_within(p, n, &z), JAW_OK);
    const double r = data_want(&d, NULL, "mic_r");
    ck_assert(z.low >= r - tol);
    if (rings[_i].within) {
        near(z.centre.x, data_want(&d, NULL, "mic_xc"), about, file);
        near(z.centre.y, data_want(&d, NULL, "mic_yc"), about, file);
        near(z.low, r, tol, file);
    }
    data_free(&d);
}
END_TEST

START_TEST(line_and_plane)
{
    data d;
    jaw_vec2 p[ROWS];
    jaw_vec3 s[ROWS];
    jaw_zone z;
    data_read(&d, "line_pearson1901");
    size_t n = data_points(&d, NULL, "x", "y", p);
    ck_assert_int_eq(jaw_zone_line(p, n, &z), JAW_OK);
    near(z.width, data_want(&d, NULL, "mz_straightness"), 1e-14, "width");
    const double theta = data_want(&d, NULL, "mz_theta");
    near(z.normal.x, -sin(theta), 1e-15, "normal");
    near(z.normal.y, cos(theta), 1e-15, "normal");
    near(z.high - z.low, z.width, 1e-14, "borders");
    ck_assert(isnan(z.centre.x) && z.normal.z == 0);
    ck_assert_uint_eq(z.n_touch, 3);
    data_free(&d);

    data_read(&d, "plane_niemeier");
    n = d.rows;
    for (size_t i = 0; i < n; i++)
        s[i] = (jaw_vec3){d.cell[i][data_column(&d, "x")],
                          d.cell[i][data_column(&d, "y")],
                          d.cell[i][data_column(&d, "z")]};
    ck_assert_int_eq(jaw_zone_plane(s, n, &z), JAW_OK);
    near(z.width, data_want(&d, NULL, "mz_flatness"), 1e-14, "width");
    near(z.normal.x, -data_want(&d, NULL, "mz_nx"), 1e-13, "normal");
    near(z.normal.y, -data_want(&d, NULL, "mz_ny"), 1e-13, "normal");
    near(z.normal.z, -data_want(&d, NULL, "mz_nz"), 1e-13, "normal");
    near(z.high - z.low, z.width, 1e-14, "borders");
    ck_assert_uint_eq(z.n_touch, 4);
    data_free(&d);
}
END_TEST

/* Of zones as narrow as each other the one that the header names. */
START_TEST(equals)
{
    const jaw_vec2 square[] = {{2, 1}, {4, 1}, {4, 3}, {2, 3}};
    const jaw_vec2 tip[] = {{0, 1}, {1, 0}, {2, 1}, {1, 2}};
    /* four holes as large as each other */
    const jaw_vec2 grid[] = {{0, 0}, {1, 0}, {2, 0}, {0, 1}, {1, 1}, {2, 1},
                             {0, 2}, {1, 2}, {2, 2}};
    jaw_vec3 cube[8];
    jaw_zone z;
    for (int i = 0; i < 8; i++)
        cube[i] = (jaw_vec3){i & 1, i >> 1 & 1, i >> 2};
    ck_assert_int_eq(jaw_zone_line(square, 4, &z), JAW_OK);
    near(z.width, 2, 0, "square");
    ck_assert(z.normal.x == 0 && z.normal.y == 1);
    near(z.low, 1, 0, "low");
    near(z.high, 3, 0, "high");
    ck_assert_int_eq(jaw_zone_line(tip, 4, &z), JAW_OK);
    near(z.normal.x, -sqrt(0.5), EPS, "rising");
    near(z.normal.y, sqrt(0.5), EPS, "rising");
    ck_assert_int_eq(jaw_zone_plane(cube, 8, &z), JAW_OK);
    near(z.width, 1, 0, "cube");
    ck_assert(z.normal.z == 1 && z.normal.x == 0 && z.normal.y == 0);
    ck_assert_int_eq(jaw_zone_circle(square, 4, &z), JAW_OK);
    near(z.width, 0, 4 * EPS, "corners of a square");
    near(z.high, sqrt(2), 4 * EPS, "radius");
    near(z.centre.x, 3, 4 * EPS, "centre");
    ck_assert_int_eq(jaw_zone_around(square, 4, &z), JAW_OK);
    ck_assert_uint_eq(z.n_touch, 2);
    near(z.high, sqrt(2), 4 * EPS, "around");
    ck_assert_int_eq(jaw_zone_within(grid, 9, &z), JAW_OK);
    near(z.low, sqrt(0.5), 2 * EPS, "within");
    near(z.centre.x, 0.5, 2 * EPS, "left");
    near(z.centre.y, 0.5, 2 * EPS, "low");
}
END_TEST

/* ------------------------------------------------- what holds for any data */

typedef jaw_status (*zone_of)(const jaw_vec2 p[], size_t n, jaw_zone *zone);

static const zone_of kinds[] = {jaw_zone_line, jaw_zone_circle,
                                jaw_zone_around, jaw_zone_within};

static size_t some_ring(jaw_vec2 p[], double rough)
{
    const size_t n = 5 + (size_t)random_even(0, 40);
    for (size_t i = 0; i < n; i++) {
        const double a = random_even(0, turn);
        const double r = 10 + random_even(-rough, rough);
        p[i] = (jaw_vec2){r * cos(a), r * sin(a)};
    }
    return n;
}

/* Turned, moved, in reverse and every touch twice: the same zone. */
START_TEST(turn_and_move)
{
    random_start("zones turned and moved");
    for (int k = 0; k < 400; k++) {
        jaw_vec2 p[50], q[100];
        jaw_zone one, z;
        const size_t n = some_ring(p, k % 2 ? 1e-3 : 6);
        const jaw_frame f = jaw_frame_make((jaw_vec2){30, -20},
                                           random_even(-3, 3));
        for (size_t i = 0; i < n; i++)
            q[2 * n - 1 - i] = q[i] = jaw_machine_from_work(&f, p[i]);
        const jaw_status was = kinds[_i](p, n, &one);
        ck_assert_int_eq(kinds[_i](q, 2 * n, &z), was);
        if (was != JAW_OK)
            continue;
        near(z.width, one.width, 1e-12 + 1e-12 * one.high * (_i > 1), "width");
        if (_i == 0)
            continue;
        const jaw_vec2 c = jaw_machine_from_work(&f, one.centre);
        /* a centre far off is as exact as its radius */
        near(hypot(z.centre.x - c.x, z.centre.y - c.y), 0,
             1e-10 * (1 + one.high * one.high), "centre");
    }
}
END_TEST

START_TEST(any_scale)
{
    static const int power[] = {-980, -300, 300, 980};
    random_start("zones of any scale");
    for (int k = 0; k < 40; k++) {
        jaw_vec2 p[50], q[50];
        jaw_zone one, z;
        const size_t n = some_ring(p, 1);
        const double c = ldexp(1, power[k % 4]);
        for (size_t i = 0; i < n; i++)
            q[i] = (jaw_vec2){p[i].x * c, p[i].y * c};
        ck_assert_int_eq(kinds[_i](p, n, &one), JAW_OK);
        ck_assert_int_eq(kinds[_i](q, n, &z), JAW_OK);
        near(z.width / c, one.width, 0, "width");
        if (_i > 0) {
            near(z.centre.x / c, one.centre.x, 0, "centre");
            near(z.high / c, one.high, 0, "high");
        }
        ck_assert_uint_eq(z.n_touch, one.n_touch);
        for (size_t i = 0; i < z.n_touch; i++)
            ck_assert_uint_eq(z.touch[i], one.touch[i]);
    }
}
END_TEST

typedef struct contact {
    double angle;
    bool outer;
} contact;

static int by_angle(const void *a, const void *b)
{
    const double x = ((const contact *)a)->angle;
    const double y = ((const contact *)b)->angle;
    return (x > y) - (x < y);
}

/* How often, once round, touches on the outer circle follow such on the inner
 * one or the other way; all must lie between the two. */
static int changes_round(const jaw_vec2 p[], int n, const jaw_zone *z)
{
    contact c[64];
    int count = 0, changes = 0;
    for (int i = 0; i < n; i++) {
        const double x = p[i].x - z->centre.x, y = p[i].y - z->centre.y;
        const double r = hypot(x, y), tol = 2e-13;
        ck_assert(r <= z->high + tol && r >= z->low - tol);
        if (r < z->high - tol && r > z->low + tol)
            continue;
        ck_assert(count < COUNT(c));
        c[count++] = (contact){atan2(y, x), r >= z->high - tol};
    }
    qsort(c, (size_t)count, sizeof c[0], by_angle);
    for (int i = 0; i < count; i++)
        changes += c[i].outer != c[(i + 1) % count].outer;
    return changes;
}

/* A ring of very many: all lie in it, and round it two touches on the outer
 * circle take turns with two on the inner one: then none near it is narrower
 * (Rivlin 1979), and none that is not near it is, since there the touches all
 * round lie off by more. */
START_TEST(many_round)
{
    static jaw_vec2 p[MANY];
    jaw_zone z;
    random_start("ring of very many");
    for (int k = 0; k < 20; k++) {
        const double rough = random_size(-9, -2);
        for (int i = 0; i < MANY; i++) {
            const double a = random_even(0, turn);
            const double r = 25 + rough * random_even(-1, 1);
            p[i] = (jaw_vec2){100 + r * cos(a), r * sin(a) - 3};
        }
        ck_assert_int_eq(jaw_zone_circle(p, MANY, &z), JAW_OK);
        ck_assert(z.width > rough && z.width <= 2 * rough + 1e-13);
        ck_assert_int_ge(changes_round(p, MANY, &z), 4);
        ck_assert_uint_eq(z.n_touch, 4);
        for (int i = 0; i < 4; i++) {
            const jaw_vec2 t = p[z.touch[i]];
            const double r = hypot(t.x - z.centre.x, t.y - z.centre.y);
            near(r, i < 2 || fabs(r - z.high) < 2e-13 ? z.high : z.low, 2e-13,
                 "holds");
        }
    }
}
END_TEST

/* A slab of many: all lie in it, and no direction is narrower: neither any, nor
 * any next to it. */
START_TEST(many_corners)
{
    static jaw_vec3 p[MANY];
    jaw_zone z;
    random_start("slab of very many");
    for (int k = 0; k < 6; k++) {
        const int n = k < 3 ? 300 : MANY;
        const double thin = random_size(-4, 0);
        for (int i = 0; i < n; i++) {
            const double x = random_normal(), y = random_normal();
            const double w = random_normal(), h = sqrt(x * x + y * y + w * w);
            const double z0 = thin * random_even(0, 4);
            p[i] = k % 3 == 0 ? (jaw_vec3){9 * x / h, 9 * y / h, thin * w / h}
                 : k % 3 == 1 ? (jaw_vec3){x, y, 0.3 * x + z0}
                              : (jaw_vec3){i % 60, i / 60,
                                           floor(z0 / thin) * thin};
        }
        ck_assert_int_eq(jaw_zone_plane(p, (size_t)n, &z), JAW_OK);
        near(z.high - z.low, z.width, 1e-13, "borders");
        for (int t = 0; t < 2000; t++) {
            const double near_by = t % 2 ? 1 : random_size(-8, 0);
            double d[3] = {z.normal.x + near_by * random_normal(),
                           z.normal.y + near_by * random_normal(),
                           z.normal.z + near_by * random_normal()};
            const double h = hypot(hypot(d[0], d[1]), d[2]);
            double low = HUGE_VAL, high = -HUGE_VAL;
            for (int i = 0; i < n; i++) {
                const double v = (d[0] * p[i].x + d[1] * p[i].y +
                                  d[2] * p[i].z) / h;
                low = fmin(low, v);
                high = fmax(high, v);
            }
            ck_assert(high - low >= z.width - 1e-13);
        }
    }
}
END_TEST

/* --------------------------------------------------------------- statuses */

static void is_nothing(jaw_status got, jaw_status want, const jaw_zone *z)
{
    ck_assert_int_eq(got, want);
    ck_assert(isnan(z->width) && isnan(z->low) && isnan(z->high));
    ck_assert(isnan(z->normal.x) && isnan(z->normal.y) && isnan(z->normal.z));
    ck_assert(isnan(z->centre.x) && isnan(z->centre.y));
    ck_assert_uint_eq(z->n_touch, 0);
}

START_TEST(statuses)
{
    const jaw_vec2 one[] = {{0.1, 7}, {0.1, 7}, {0.1, 7}};
    const jaw_vec2 line[] = {{0, 0}, {0.1, 0.2}, {0.3, 0.6}, {0.2, 0.4}};
    const jaw_vec2 two[] = {{0, 0}, {1, 1}, {0, 0}, {1, 1}};
    /* straight, touched on either side: a strip is narrower than any ring */
    const jaw_vec2 slot[] = {{0, 0}, {5, 0}, {10, 0}, {0, 1}, {5, 1}, {10, 1}};
    jaw_vec2 bad[] = {{0, 0}, {NAN_D, 1}, {3, 3}};
    jaw_zone z;
    for (int k = 0; k < COUNT(kinds); k++) {
        is_nothing(kinds[k](one, 0, &z), JAW_EFEW, &z);
        is_nothing(kinds[k](one, 1, &z), JAW_EFEW, &z);
        is_nothing(kinds[k](one, 3, &z), JAW_ERANK, &z);
        is_nothing(kinds[k](bad, 3, &z), JAW_ENOTFINITE, &z);
    }
    bad[1].x = HUGE_VAL;
    is_nothing(jaw_zone_circle(bad, 3, &z), JAW_ENOTFINITE, &z);
    is_nothing(jaw_zone_circle(two, 2, &z), JAW_EFEW, &z);
    is_nothing(jaw_zone_within(two, 2, &z), JAW_EFEW, &z);
    is_nothing(jaw_zone_circle(two, 4, &z), JAW_ERANK, &z);
    is_nothing(jaw_zone_within(two, 4, &z), JAW_ERANK, &z);
    is_nothing(jaw_zone_circle(line, 4, &z), JAW_ERANK, &z);
    is_nothing(jaw_zone_within(line, 4, &z), JAW_ERANK, &z);
    is_nothing(jaw_zone_circle(slot, 6, &z), JAW_ERANK, &z);
    ck_assert_int_eq(jaw_zone_line(two, 4, &z), JAW_OK);
    near(z.width, 0, 0, "through two");
    ck_assert_uint_eq(z.n_touch, 2);
    ck_assert_int_eq(jaw_zone_line(line, 4, &z), JAW_OK);
    near(z.width, 0, EPS, "on one line");
    ck_assert_int_eq(jaw_zone_around(line, 4, &z), JAW_OK);
    near(z.high, hypot(0.3, 0.6) / 2, EPS, "around a line");
    ck_assert_int_eq(jaw_zone_around(two, 2, &z), JAW_OK);
    near(z.high, sqrt(0.5), EPS, "around two");
}
END_TEST

START_TEST(plane_statuses)
{
    const jaw_vec3 one[] = {{1, 2, 3}, {1, 2, 3}, {1, 2, 3}};
    const jaw_vec3 line[] = {{0, 0, 0}, {0.1, 0.2, 0.3}, {0.3, 0.6, 0.9},
                             {0.2, 0.4, 0.6}};
    const jaw_vec3 flat[] = {{0, 0, 0.1}, {1, 0, 0.1}, {0, 1, 0.1},
                             {0.3, 0.4, 0.1}, {3, 3, 0.1}};
    jaw_vec3 bad[] = {{0, 0, 0}, {1, 0, NAN_D}, {0, 1, 0}};
    jaw_zone z;
    is_nothing(jaw_zone_plane(flat, 0, &z), JAW_EFEW, &z);
    is_nothing(jaw_zone_plane(flat, 2, &z), JAW_EFEW, &z);
    is_nothing(jaw_zone_plane(bad, 3, &z), JAW_ENOTFINITE, &z);
    bad[1].z = -HUGE_VAL;
    is_nothing(jaw_zone_plane(bad, 3, &z), JAW_ENOTFINITE, &z);
    is_nothing(jaw_zone_plane(one, 3, &z), JAW_ERANK, &z);
    is_nothing(jaw_zone_plane(line, 4, &z), JAW_ERANK, &z);
    ck_assert_int_eq(jaw_zone_plane(flat, 5, &z), JAW_OK);
    near(z.width, 0, 0, "in one plane");
    near(z.low, 0.1, EPS, "low");
    ck_assert(z.normal.z == 1 && z.normal.x == 0);
    ck_assert_uint_eq(z.n_touch, 3);
}
END_TEST

/* ----------------------------------------------------------- without memory */

static jaw_status nth_zone(int kind, const jaw_vec2 p[], const jaw_vec3 s[],
                           size_t n, jaw_zone *z)
{
    return kind < COUNT(kinds) ? kinds[kind](p, n, z) : jaw_zone_plane(s, n, z);
}

START_TEST(without_memory)
{
    jaw_vec2 p[200];
    jaw_vec3 s[200];
    jaw_zone z;
    random_start("zones without memory");
    for (int i = 0; i < 200; i++) {
        const double a = random_even(0, turn), r = random_even(1, 9);
        p[i] = (jaw_vec2){r * cos(a), r * sin(a)};
        s[i] = (jaw_vec3){p[i].x, p[i].y, random_even(0, 1)};
    }
    for (long k = 0;; k++) {
        alloc_fail_after(k);
        const jaw_status status = nth_zone(_i, p, s, 200, &z);
        const bool failed = alloc_failed();
        alloc_fail_never();
        ck_assert_int_eq(alloc_live(), 0);
        if (!failed) {
            ck_assert_int_eq(status, JAW_OK);
            ck_assert(k > 0);
            break;
        }
        is_nothing(status, JAW_ENOMEM, &z);
    }
}
END_TEST

TCase *zone_case(void)
{
    TCase *tc = tcase_create("zone");
    tcase_add_loop_test(tc, circles, 0, COUNT(rings));
    tcase_add_test(tc, line_and_plane);
    tcase_add_test(tc, equals);
    tcase_add_loop_test(tc, turn_and_move, 0, COUNT(kinds));
    tcase_add_loop_test(tc, any_scale, 0, COUNT(kinds));
    tcase_add_test(tc, many_round);
    tcase_add_test(tc, many_corners);
    tcase_add_test(tc, statuses);
    tcase_add_test(tc, plane_statuses);
    if (alloc_works())
        tcase_add_loop_test(tc, without_memory, 0, COUNT(kinds) + 1);
    return tc;
}
