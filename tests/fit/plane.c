/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plane. */
#include "fit_tests.h"

static const struct {
    const char *file, *key, *prefix;
} files[] = {
    /* Niemeier, Ausgleichungsrechnung (2008), 11.3.5; orthogonal answer
     * computed by this project, tests/data/README.md */
    {"plane_niemeier", NULL, NULL},
    {"stress/plane_steep", NULL, NULL},
    {"stress/plane_flat_tiny_tilt", NULL, NULL},
    {"stress/plane_far", NULL, NULL},
    {"stress/plane_narrow_strip", NULL, NULL},
    {"stress/plane_4pt", NULL, NULL},
    {"stress/planes_corner", "1", "P1_"},
    {"stress/planes_corner", "2", "P2_"},
    {"stress/planes_corner", "3", "P3_"},
};

static size_t solids(const data *d, const char *key, jaw_vec3 p[])
{
    size_t x = data_column(d, "x"), n = 0;
    for (size_t i = 0; i < d->rows; i++)
        if (!key || strcmp(d->key[i], key) == 0)
            p[n++] = (jaw_vec3){d->cell[i][x], d->cell[i][x + 1],
                                d->cell[i][x + 2]};
    return n;
}

static double solid_extent(const jaw_vec3 p[], size_t n, double *size)
{
    double far = 0;
    *size = 0;
    for (size_t i = 0; i < n; i++) {
        double d = hypot(hypot(p[i].x - p[0].x, p[i].y - p[0].y),
                         p[i].z - p[0].z);
        far = fmax(far, d);
        *size = fmax(*size, fmax(fabs(p[i].x), fmax(fabs(p[i].y),
                                                    fabs(p[i].z))));
    }
    return far;
}

START_TEST(reference)
{
    data d;
    jaw_vec3 p[ROWS];
    jaw_plane r;
    double resid[ROWS], size, most = -HUGE_VAL, least = HUGE_VAL;
    const char *file = files[_i].file, *pre = files[_i].prefix;
    data_read(&d, file);
    size_t n = solids(&d, files[_i].key, p);
    ck_assert_int_eq(jaw_fit_plane(p, n, &r, resid), JAW_OK);
    double root = sqrt((double)n);
    double extent = solid_extent(p, n, &size);
    double move = EPS * (FACTOR * extent + size);
    double tilt = root * move / (1 / sqrt(r.q_tilt[1]) - sqrt(r.ssr));
    /* the file's normal may look the other way */
    double side = copysign(1, data_want(&d, pre, "nx") * r.normal.x +
                                  data_want(&d, pre, "ny") * r.normal.y +
                                  data_want(&d, pre, "nz") * r.normal.z);
    near(side * r.normal.x, data_want(&d, pre, "nx"), tilt + 2 * EPS, file);
    near(side * r.normal.y, data_want(&d, pre, "ny"), tilt + 2 * EPS, file);
    near(side * r.normal.z, data_want(&d, pre, "nz"), tilt + 2 * EPS, file);
    near(r.p.x, data_want(&d, pre, "cx"), move, file);
    near(r.p.y, data_want(&d, pre, "cy"), move, file);
    near(r.p.z, data_want(&d, pre, "cz"), move, file);
    double along = r.normal.x * r.p.x + r.normal.y * r.p.y +
                   r.normal.z * r.p.z;
    near(side * along, data_want(&d, pre, "d"),
         (tilt + 4 * EPS) * 3 * size + move, file);
    near(sqrt(r.ssr), sqrt(data_want(&d, pre, "ssr")), root * move, file);
    near(r.s, data_want(&d, pre, "s"), root * move, file);
    near(r.u_tilt[1], data_want(&d, pre, "u_tilt_max"),
         2 * root * move * sqrt(r.q_tilt[1]) + 1e-9 * r.u_tilt[1], file);
    near(r.u_tilt[0], data_want(&d, pre, "u_tilt_min"),
         2 * root * move * sqrt(r.q_tilt[0]) + 1e-9 * r.u_tilt[0], file);
    near(r.u_offset, r.s / root, 4 * EPS * r.s, file);
    ck_assert_int_eq(r.dof, (int)n - 3);
    for (size_t i = 0; i < n; i++) {
        char name[32];
        snprintf(name, sizeof name, "res_%zu", i + 1);
        double want = data_want(&d, pre, name);
        if (!isnan(want))
            near(side * resid[i], want, move, name);
        most = fmax(most, side * resid[i]);
        least = fmin(least, side * resid[i]);
    }
    if (!isnan(data_want(&d, pre, "res_max"))) {
        near(most, data_want(&d, pre, "res_max"), move, "res_max");
        near(least, data_want(&d, pre, "res_min"), move, "res_min");
    }
    data_free(&d);
}
END_TEST

/* Only the strip, 200 long and 0.5 wide, is weak across. */
START_TEST(weak_strip)
{
    data d;
    jaw_vec3 p[ROWS];
    jaw_plane r;
    data_read(&d, "stress/plane_narrow_strip");
    size_t n = solids(&d, NULL, p);
    ck_assert_int_eq(jaw_fit_plane(p, n, &r, NULL), JAW_OK);
    ck_assert_uint_eq(r.flags, JAW_WEAK);
    data_free(&d);
    data_read(&d, "plane_niemeier");
    n = solids(&d, NULL, p);
    ck_assert_int_eq(jaw_fit_plane(p, n, &r, NULL), JAW_OK);
    ck_assert_uint_eq(r.flags, 0);
    data_free(&d);
}
END_TEST

static jaw_vec3 at(const jaw_vec3 axes[3], double u, double v, double w)
{
    return (jaw_vec3){axes[0].x * u + axes[1].x * v + axes[2].x * w,
                      axes[0].y * u + axes[1].y * v + axes[2].y * w,
                      axes[0].z * u + axes[1].z * v + axes[2].z * w};
}

static double dot(jaw_vec3 a, jaw_vec3 b)
{
    return a.x * b.x + a.y * b.y + a.z * b.z;
}

/* Any three axes square to one another. */
static void random_axes(jaw_vec3 axes[3])
{
    double q[4], h = 0;
    for (int i = 0; i < 4; i++) {
        q[i] = random_normal();
        h += q[i] * q[i];
    }
    for (int i = 0; i < 4; i++)
        q[i] /= sqrt(h);
    double a = q[0], b = q[1], c = q[2], e = q[3];
    axes[0] = (jaw_vec3){a * a + b * b - c * c - e * e, 2 * (b * c + a * e),
                         2 * (b * e - a * c)};
    axes[1] = (jaw_vec3){2 * (b * c - a * e), a * a - b * b + c * c - e * e,
                         2 * (c * e + a * b)};
    axes[2] = (jaw_vec3){2 * (b * e + a * c), 2 * (c * e - a * b),
                         a * a - b * b - c * c + e * e};
}

/* Touches whose answer is known: a cross of eight, off by +-h in a pattern
 * that tilts nothing, turned anywhere.  A strip of any width. */
START_TEST(known_answer)
{
    static const double u[] = {-8, -8, 8, 8, -4, -4, 4, 4};
    static const double v[] = {-1, 1, -1, 1, -1, 1, -1, 1};
    static const double w[] = {1, -1, -1, 1, -1, 1, 1, -1};
    random_start("plane known");
    for (int k = 0; k < 3000; k++) {
        jaw_vec3 axes[3], p[8];
        jaw_plane r;
        double resid[8], h = random_size(-9, -2), wide = random_size(-2, 0);
        random_axes(axes);
        for (int i = 0; i < 8; i++)
            p[i] = at(axes, u[i], wide * v[i], h * wide * w[i]);
        ck_assert_int_eq(jaw_fit_plane(p, 8, &r, resid), JAW_OK);
        /* u w summed with v is 8 - 8 + 4 - 4: nothing tilts */
        double move = EPS * 8 * (FACTOR + 4);
        double side = copysign(1, dot(r.normal, axes[2]));
        near(fabs(dot(r.normal, axes[2])), 1, 8 * EPS, "normal");
        near(dot(r.normal, axes[1]), 0, move * 2 / wide, "across");
        near(dot(r.normal, axes[0]), 0, move, "along");
        near(1 / sqrt(r.q_tilt[0]), sqrt(320), 20 * move, "along");
        near(1 / sqrt(r.q_tilt[1]), sqrt(8) * wide, 8 * move, "across");
        for (int i = 0; i < 8; i++)
            near(side * resid[i], h * wide * w[i], 2 * move, "resid");
        near(sqrt(r.ssr), sqrt(8) * h * wide, 8 * move, "ssr");
        ck_assert(r.normal.z > 0);
        near(dot(r.axis[0], r.axis[1]), 0, 4 * EPS, "square");
        near(dot(r.axis[0], r.normal), 0, 4 * EPS, "square");
        near(dot(r.axis[1], r.normal), 0, 4 * EPS, "square");
    }
}
END_TEST

START_TEST(upright)
{
    const jaw_vec3 facing_y[] = {{0, 2, 0}, {1, 2, 0}, {0, 2, 1}, {1, 2, 3}};
    const jaw_vec3 facing_x[] = {{2, 0, 0}, {2, 1, 0}, {2, 0, 1}, {2, 1, 3}};
    const jaw_vec3 level[] = {{0, 0, 5}, {3, 0, 5}, {0, 2, 5}};
    jaw_plane r;
    double resid[4];
    ck_assert_int_eq(jaw_fit_plane(facing_y, 4, &r, resid), JAW_OK);
    near(r.normal.y, 1, 0, "y up");
    near(r.normal.z, 0, 0, "z");
    ck_assert_int_eq(jaw_fit_plane(facing_x, 4, &r, resid), JAW_OK);
    near(r.normal.x, 1, 0, "x up");
    near(r.ssr, 0, 0, "exact");
    ck_assert_int_eq(jaw_fit_plane(level, 3, &r, resid), JAW_OK);
    near(r.normal.z, 1, 0, "z up");
    near(r.p.z, 5, 0, "height");
    ck_assert_int_eq(r.dof, 0);
    ck_assert_uint_eq(r.flags, JAW_NO_CHECK);
    ck_assert(isnan(r.rms) && isnan(r.s) && isnan(r.u_offset) &&
              isnan(r.u_tilt[0]) && isnan(r.u_tilt[1]));
    near(r.q_offset, 1.0 / 3, 0, "q");
    for (int i = 0; i < 3; i++)
        near(resid[i], 0, 0, "resid");
}
END_TEST

START_TEST(any_scale)
{
    static const int power[] = {-900, -300, 300, 900};
    const jaw_vec3 p[] = {{1, 2, 0.1}, {4, 3, 0}, {7, -5, 0.2}, {-9, 0, 0.1},
                          {2, 6, -0.1}};
    jaw_vec3 q[5];
    jaw_plane one, r;
    ck_assert_int_eq(jaw_fit_plane(p, 5, &one, NULL), JAW_OK);
    for (int k = 0; k < COUNT(power); k++) {
        for (int i = 0; i < 5; i++)
            q[i] = (jaw_vec3){ldexp(p[i].x, power[k]), ldexp(p[i].y, power[k]),
                              ldexp(p[i].z, power[k])};
        ck_assert_int_eq(jaw_fit_plane(q, 5, &r, NULL), JAW_OK);
        near(r.normal.x, one.normal.x, 2 * EPS, "x");
        near(r.normal.y, one.normal.y, 2 * EPS, "y");
        near(r.s, ldexp(one.s, power[k]), 8 * EPS * r.s, "s");
        near(r.u_tilt[0], one.u_tilt[0], 8 * EPS, "tilt");
    }
}
END_TEST

static void refused(const jaw_vec3 p[], size_t n, jaw_status want)
{
    jaw_plane r;
    double resid[8] = {0};
    memset(&r, 0, sizeof r);
    ck_assert_int_eq(jaw_fit_plane(p, n, &r, resid), want);
    nan_all(&r.p.x, offsetof(jaw_plane, dof) / sizeof(double), "plane");
    nan_all(resid, n, "resid");
    ck_assert_int_eq(r.dof, 0);
    ck_assert_uint_eq(r.flags, 0);
}

START_TEST(statuses)
{
    jaw_vec3 p[] = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {1, 1, 1}};
    refused(p, 0, JAW_EFEW);
    refused(p, 2, JAW_EFEW);
    for (int i = 0; i < 4; i++) {
        jaw_vec3 was = p[i];
        p[i].x = NAN_D;
        refused(p, 4, JAW_ENOTFINITE);
        p[i] = was;
        p[i].z = HUGE_VAL;
        refused(p, 4, JAW_ENOTFINITE);
        p[i] = was;
    }
    const jaw_vec3 line[] = {{0.1, 0.2, 0.3}, {0.2, 0.4, 0.6}, {0.7, 1.4, 2.1},
                             {-0.3, -0.6, -0.9}};
    refused(line, 4, JAW_ERANK);
    const jaw_vec3 one[] = {{7, 7, 7}, {7, 7, 7}, {7, 7, 7}};
    refused(one, 3, JAW_ERANK);
    const jaw_vec3 cube[] = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {1, 1, 0},
                             {0, 0, 1}, {1, 0, 1}, {0, 1, 1}, {1, 1, 1}};
    refused(cube, 8, JAW_ERANK);
    /* a long square bar: its axis is known, a face is not */
    const jaw_vec3 bar[] = {{0, 0, 0}, {9, 0, 0}, {0, 1, 0}, {9, 1, 0},
                            {0, 0, 1}, {9, 0, 1}, {0, 1, 1}, {9, 1, 1}};
    refused(bar, 8, JAW_ERANK);
}
END_TEST

/* 21 degrees of freedom: Student's t gives 94.15 in 100. */
START_TEST(uncertainty_holds)
{
    enum { SETS = 3000, N = 24 };
    int in_tilt = 0;
    random_start("plane uncertainty");
    for (int k = 0; k < SETS; k++) {
        jaw_vec3 p[N];
        jaw_plane r;
        for (int i = 0; i < N; i++)
            p[i] = (jaw_vec3){random_even(-50, 50), random_even(-20, 20),
                              1e-3 * random_normal()};
        ck_assert_int_eq(jaw_fit_plane(p, N, &r, NULL), JAW_OK);
        /* tilt along axis 0 is what the normal leans along it */
        in_tilt += fabs(r.axis[0].z) <= 2 * r.u_tilt[0];
        in_tilt += fabs(r.axis[1].z) <= 2 * r.u_tilt[1];
    }
    ck_assert_msg(abs(in_tilt - 5649) < 75, "tilt: %d", in_tilt);
}
END_TEST

TCase *plane_case(void)
{
    TCase *tc = tcase_create("plane");
    tcase_add_loop_test(tc, reference, 0, COUNT(files));
    tcase_add_test(tc, weak_strip);
    tcase_add_test(tc, known_answer);
    tcase_add_test(tc, upright);
    tcase_add_test(tc, any_scale);
    tcase_add_test(tc, statuses);
    tcase_add_test(tc, uncertainty_holds);
    return tc;
}
