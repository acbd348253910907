/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Turn and shift in space of one set of points onto another. */
#include "fit_tests.h"

enum { MOST = 24 };

/* Computed by this project with 50 digits, tests/data/README.md.  How exact
 * each can be: its points lie off their line by `reach`. */
static const struct {
    const char *file;
    double reach;
} files[] = {
    {"stress/rigid3_planar", 20},     {"stress/rigid3_nearly_collinear", 0.03},
    {"stress/rigid3_near_180", 10},   {"stress/rigid3_tiny_angle", 10},
    {"stress/rigid3_nearly_cubic", 10}, {"stress/rigid3_mirrored", 1},
};

static size_t places(const data *d, const char *x, const char *y,
                     const char *z, jaw_vec3 p[])
{
    const size_t cx = data_column(d, x), cy = data_column(d, y);
    const size_t cz = data_column(d, z);
    for (size_t i = 0; i < d->rows; i++)
        p[i] = (jaw_vec3){d->cell[i][cx], d->cell[i][cy], d->cell[i][cz]};
    return d->rows;
}

static double farthest(const jaw_vec3 p[], size_t n)
{
    double far = 0;
    for (size_t i = 0; i < n; i++)
        far = fmax(far, hypot(hypot(p[i].x, p[i].y), p[i].z));
    return far;
}

static double turn_of(const jaw_rigid3 *r, int i, int j)
{
    return r->turn[i][j];
}

/* Square to each other, of length 1, right-handed: to 2 eps. */
static void is_rotation(const jaw_rigid3 *r)
{
    for (int i = 0; i < 3; i++)
        for (int j = i; j < 3; j++) {
            long double sum = 0;
            for (int k = 0; k < 3; k++)
                sum += (long double)r->turn[i][k] * r->turn[j][k];
            near((double)sum, i == j, 2 * EPS, "turn is square");
        }
    const double (*t)[3] = r->turn;
    near(t[0][0] * (t[1][1] * t[2][2] - t[1][2] * t[2][1]) -
             t[0][1] * (t[1][0] * t[2][2] - t[1][2] * t[2][0]) +
             t[0][2] * (t[1][0] * t[2][1] - t[1][1] * t[2][0]),
         1, 8 * EPS, "turn is proper");
}

START_TEST(reference)
{
    data d;
    jaw_vec3 a[ROWS], b[ROWS], resid[ROWS];
    jaw_rigid3 r;
    const char *file = files[_i].file;
    data_read(&d, file);
    const size_t n = places(&d, "ax", "ay", "az", a);
    (void)places(&d, "bx", "by", "bz", b);
    ck_assert_int_eq(jaw_fit_rigid3(a, b, NULL, n, &r, resid), JAW_OK);
    is_rotation(&r);
    /* decimals became doubles: that moved each by eps of its coordinates */
    const double far = farthest(a, n) + farthest(b, n), move = 8 * EPS * far;
    const double lean = move / files[_i].reach + 2 * EPS;
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++) {
            char name[4] = {'R', (char)('1' + i), (char)('1' + j), 0};
            near(turn_of(&r, i, j), data_want(&d, NULL, name), lean, file);
        }
    near(r.origin.x, data_want(&d, NULL, "tx"), lean * far + move, file);
    near(r.origin.y, data_want(&d, NULL, "ty"), lean * far + move, file);
    near(r.origin.z, data_want(&d, NULL, "tz"), lean * far + move, file);
    near(sqrt(r.ssr), sqrt(data_want(&d, NULL, "ssr")),
         sqrt((double)n) * move, file);
    near(r.s, data_want(&d, NULL, "s"), sqrt((double)n) * move, file);
    ck_assert_int_eq(r.dof, 3 * (int)n - 6);
    ck_assert_uint_eq(r.flags, 0);
    double ssr = 0;
    for (size_t i = 0; i < n; i++)
        ssr += resid[i].x * resid[i].x + resid[i].y * resid[i].y +
               resid[i].z * resid[i].z;
    near(sqrt(ssr), sqrt(r.ssr), sqrt((double)n) * move, "residuals");
    data_free(&d);
}
END_TEST

/* A mirrored set is told from its image; one in a plane is its own. */
START_TEST(mirrors)
{
    const jaw_vec3 a[] = {{0, 0, 0}, {9, 0, 0}, {0, 5, 0}, {1, 1, 3}};
    jaw_vec3 b[4];
    jaw_rigid3 r;
    for (int i = 0; i < 4; i++)
        b[i] = (jaw_vec3){3 - a[i].y, a[i].x, -a[i].z};
    ck_assert_int_eq(jaw_fit_rigid3(a, b, NULL, 4, &r, NULL), JAW_OK);
    is_rotation(&r);
    ck_assert(r.ssr > 1);
    near(r.mirror_ssr, 0, 1e-28, "mirrored");
    ck_assert_int_eq(jaw_fit_rigid3(a, a, NULL, 4, &r, NULL), JAW_OK);
    near(r.ssr, 0, 1e-28, "as it is");
    ck_assert(r.mirror_ssr > 1);
    ck_assert_int_eq(jaw_fit_rigid3(a, b, NULL, 3, &r, NULL), JAW_OK);
    is_rotation(&r);
    near(r.ssr, 0, 1e-28, "in one plane");
    near(r.mirror_ssr, 0, 1e-28, "in one plane, mirrored");
}
END_TEST

/* The rotation of a unit quaternion (Shoemake, Graphics Gems III, 1992). */
static void random_turn(double t[3][3])
{
    double q[4], h = 0;
    for (int k = 0; k < 4; k++) {
        q[k] = random_normal();
        h += q[k] * q[k];
    }
    for (int k = 0; k < 4; k++)
        q[k] /= sqrt(h);
    const double w = q[0], x = q[1], y = q[2], z = q[3];
    const double all[9] = {1 - 2 * (y * y + z * z), 2 * (x * y - z * w),
                           2 * (x * z + y * w),     2 * (x * y + z * w),
                           1 - 2 * (x * x + z * z), 2 * (y * z - x * w),
                           2 * (x * z - y * w),     2 * (y * z + x * w),
                           1 - 2 * (x * x + y * y)};
    for (int k = 0; k < 9; k++)
        t[k / 3][k % 3] = all[k];
}

static jaw_vec3 moved(const double t[3][3], jaw_vec3 o, jaw_vec3 p)
{
    return (jaw_vec3){o.x + (t[0][0] * p.x + t[0][1] * p.y + t[0][2] * p.z),
                      o.y + (t[1][0] * p.x + t[1][1] * p.y + t[1][2] * p.z),
                      o.z + (t[2][0] * p.x + t[2][1] * p.y + t[2][2] * p.z)};
}

/* Without noise the turn comes back: of solid sets, flat ones, and such as are
 * a line but for a trifle, as far as the trifle tells. */
START_TEST(there_and_back)
{
    random_start("rigid3 there and back");
    for (int k = 0; k < 3000; k++) {
        const size_t n = 3 + (size_t)random_even(0, MOST - 3);
        const double flat = k % 4 == 1 ? 0 : random_even(0.2, 1);
        const double thin = k % 4 == 2 ? random_size(-9, 0) : 1;
        const jaw_vec3 o = {random_even(-99, 99), random_even(-9, 9), 7};
        double t[3][3], u[3][3], w[MOST];
        jaw_vec3 a[MOST], b[MOST], resid[MOST];
        jaw_rigid3 r;
        random_turn(t);
        random_turn(u);
        for (size_t i = 0; i < n; i++) {
            const jaw_vec3 p = {random_even(-40, 40),
                                thin * random_even(-40, 40),
                                thin * flat * random_even(-40, 40)};
            a[i] = moved((const double (*)[3])u, (jaw_vec3){0, 0, 0}, p);
            b[i] = moved((const double (*)[3])t, o, a[i]);
            w[i] = random_size(-2, 2);
        }
        const double *weight = k % 2 ? w : NULL;
        ck_assert_int_eq(jaw_fit_rigid3(a, b, weight, n, &r, resid), JAW_OK);
        is_rotation(&r);
        const double q = r.q_turn[0] + r.q_turn[3] + r.q_turn[5];
        const double move = 8 * EPS * (farthest(a, n) + farthest(b, n));
        const double lean = move * sqrt(q / r.q_shift) * (k % 2 ? 10 : 1);
        for (int i = 0; i < 9; i++)
            near(r.turn[i / 3][i % 3], t[i / 3][i % 3], lean + 4 * EPS, "turn");
        near(r.origin.y, o.y, 100 * lean + move, "origin");
        near(r.scale, 1, move / 10, "scale");
        for (size_t i = 0; i < n; i++)
            near(hypot(resid[i].x, resid[i].y), 0, 4 * move, "residual");
        near(sqrt(r.mirror_ssr) * (flat == 0), 0,
             sqrt((double)n) * 100 * move, "flat");
    }
}
END_TEST

/* A weight of k is k equal points; only their proportion matters. */
START_TEST(weights)
{
    const jaw_vec3 a[] = {{0, 0, 1}, {9, 0, 0}, {9, 0, 0}, {9, 0, 0},
                          {0, 5, 0}, {0, 5, 0}, {4, 4, 8}};
    const jaw_vec3 b[] = {{1, 1, 1.01}, {1, 10.02, 0}, {1, 10.02, 0},
                          {1, 10.02, 0}, {-4, 1, 0.03}, {-4, 1, 0.03},
                          {-3, 5.04, 8}};
    const int first[] = {0, 1, 4, 6};
    static const double scale[] = {1, 3e-7, 1e250, 1e-250};
    jaw_vec3 a4[4], b4[4];
    jaw_rigid3 all, r;
    for (int i = 0; i < 4; i++) {
        a4[i] = a[first[i]];
        b4[i] = b[first[i]];
    }
    ck_assert_int_eq(jaw_fit_rigid3(a, b, NULL, 7, &all, NULL), JAW_OK);
    for (int k = 0; k < COUNT(scale); k++) {
        const double c = scale[k], w[] = {c, 3 * c, 2 * c, c};
        ck_assert_int_eq(jaw_fit_rigid3(a4, b4, w, 4, &r, NULL), JAW_OK);
        for (int i = 0; i < 9; i++)
            near(r.turn[i / 3][i % 3], all.turn[i / 3][i % 3], 8 * EPS, "turn");
        near(r.origin.z, all.origin.z, 64 * EPS, "z");
        near(r.ssr / c, all.ssr, 1e-12 * all.ssr, "ssr");
        near(r.mirror_ssr / c, all.mirror_ssr, 1e-12 * all.mirror_ssr,
             "mirror");
        near(r.rms, all.rms, 1e-12 * all.rms, "rms");
        near(r.q_shift * c, all.q_shift, 1e-13 * all.q_shift, "q_shift");
        near(r.s / sqrt(c), sqrt(all.ssr / 6), 1e-12 * r.s / sqrt(c), "s");
        near(r.u_shift, sqrt(all.ssr / 6 * all.q_shift), 1e-12 * r.u_shift,
             "u_shift does not depend on the scale of weights");
        for (int i = 0; i < 6; i++) {
            near(r.q_turn[i] * c, all.q_turn[i], 1e-13 * all.q_turn[0], "q");
            near(r.cov_turn[i], all.ssr / 6 * all.q_turn[i],
                 1e-12 * r.cov_turn[0], "cov");
        }
    }
}
END_TEST

START_TEST(any_scale)
{
    static const int power[] = {-900, -300, 300, 900};
    const jaw_vec3 a[] = {{0, 0, 1}, {10, 1, 2}, {0, 5, -3}, {3, 3, 3}};
    const jaw_vec3 b[] = {{3, 1, 0}, {12, 4.5, 1}, {1, 5.75, -4}, {5, 5, 1}};
    jaw_rigid3 one, r;
    ck_assert_int_eq(jaw_fit_rigid3(a, b, NULL, 4, &one, NULL), JAW_OK);
    for (int k = 0; k < COUNT(power); k++) {
        jaw_vec3 p[4], q[4], resid[4];
        const double c = ldexp(1, power[k]);
        for (int i = 0; i < 4; i++) {
            p[i] = (jaw_vec3){a[i].x * c, a[i].y * c, a[i].z * c};
            q[i] = (jaw_vec3){b[i].x * c, b[i].y * c, b[i].z * c};
        }
        ck_assert_int_eq(jaw_fit_rigid3(p, q, NULL, 4, &r, resid), JAW_OK);
        for (int i = 0; i < 9; i++)
            near(r.turn[i / 3][i % 3], one.turn[i / 3][i % 3], 4 * EPS, "turn");
        near(r.s / c, one.s, 16 * EPS * one.s, "s");
        near(r.cov_turn[0], one.cov_turn[0], 64 * EPS * one.cov_turn[0], "cov");
    }
}
END_TEST

static void refused(const jaw_vec3 a[], const jaw_vec3 b[], const double w[],
                    size_t n, jaw_status want)
{
    jaw_rigid3 r;
    jaw_vec3 resid[8] = {{0, 0, 0}};
    memset(&r, 0, sizeof r);
    ck_assert_int_eq(jaw_fit_rigid3(a, b, w, n, &r, resid), want);
    nan_all(&r.turn[0][0], offsetof(jaw_rigid3, dof) / sizeof(double),
            "rigid3");
    nan_all(&resid[0].x, 3 * n, "resid");
    ck_assert_int_eq(r.dof, 0);
    ck_assert_uint_eq(r.flags, 0);
}

START_TEST(statuses)
{
    jaw_vec3 a[] = {{0, 0, 0}, {10, 0, 0}, {0, 5, 0}};
    jaw_vec3 b[] = {{1, 1, 2}, {1, 9, 2}, {-4, 1, 2}};
    const jaw_vec3 one[] = {{7, 7, 7}, {7, 7, 7}, {7, 7, 7}};
    const jaw_vec3 line[] = {{0.1, 0.2, 0.3}, {0.2, 0.4, 0.6}, {0.4, 0.8, 1.2},
                             {-0.1, -0.2, -0.3}};
    refused(a, b, NULL, 0, JAW_EFEW);
    refused(a, b, NULL, 2, JAW_EFEW);
    refused(a, one, NULL, 3, JAW_ERANK);
    refused(one, b, NULL, 3, JAW_ERANK);
    refused(line, b, NULL, 3, JAW_ERANK);
    refused(a, line, NULL, 3, JAW_ERANK);
    refused(line, line, NULL, 4, JAW_ERANK);
    const double bad[] = {0, -1, NAN_D, HUGE_VAL};
    const jaw_status want[] = {JAW_EDOMAIN, JAW_EDOMAIN, JAW_ENOTFINITE,
                               JAW_ENOTFINITE};
    for (int k = 0; k < 4; k++) {
        const double w[] = {1, bad[k], 1};
        refused(a, b, w, 3, want[k]);
    }
    a[1].x = NAN_D;
    refused(a, b, NULL, 3, JAW_ENOTFINITE);
    a[1].x = 10;
    b[2].z = -HUGE_VAL;
    refused(a, b, NULL, 3, JAW_ENOTFINITE);
    /* an octahedron onto its mirror image: all turns of a cube fit alike */
    const jaw_vec3 o[] = {{1, 0, 0}, {-1, 0, 0}, {0, 1, 0},
                          {0, -1, 0}, {0, 0, 1}, {0, 0, -1}};
    const jaw_vec3 m[] = {{-1, 0, 0}, {1, 0, 0}, {0, -1, 0},
                          {0, 1, 0}, {0, 0, -1}, {0, 0, 1}};
    refused(o, m, NULL, 6, JAW_ERANK);
}
END_TEST

/* Turns that differ by a small one: as a vector, 15 degrees of freedom each
 * component; Student's t gives 93.6 in 100 within two.  The three together: F
 * with 3 and 15 gives 95 in 100 below 3.287 (table of F). */
START_TEST(uncertainty_holds)
{
    enum { SETS = 5000, N = 7 };
    int in_each[3] = {0}, in_shift = 0, in_all = 0;
    random_start("rigid3 uncertainty");
    for (int k = 0; k < SETS; k++) {
        jaw_vec3 a[N], b[N];
        double t[3][3];
        jaw_rigid3 r;
        random_turn(t);
        for (int i = 0; i < N; i++) {
            a[i] = (jaw_vec3){random_even(-40, 40), random_even(-9, 9),
                              random_even(-3, 3)};
            b[i] = moved((const double (*)[3])t, (jaw_vec3){5, 6, 7}, a[i]);
            b[i].x += 1e-3 * random_normal();
            b[i].y += 1e-3 * random_normal();
            b[i].z += 1e-3 * random_normal();
        }
        ck_assert_int_eq(jaw_fit_rigid3(a, b, NULL, N, &r, NULL), JAW_OK);
        double small[3][3] = {{0}}, want[3];
        for (int i = 0; i < 9; i++) /* fitted = small true */
            for (int l = 0; l < 3; l++)
                small[i / 3][i % 3] += r.turn[i / 3][l] * t[i % 3][l];
        want[0] = (small[2][1] - small[1][2]) / 2;
        want[1] = (small[0][2] - small[2][0]) / 2;
        want[2] = (small[1][0] - small[0][1]) / 2;
        const double *c = r.cov_turn;
        const double diagonal[] = {c[0], c[3], c[5]};
        for (int i = 0; i < 3; i++)
            in_each[i] += fabs(want[i]) <= 2 * sqrt(diagonal[i]);
        const jaw_vec3 at = moved((const double (*)[3])t, (jaw_vec3){5, 6, 7},
                                  r.from_mean);
        in_shift += fabs(r.to_mean.y - at.y) <= 2 * r.u_shift;
        const double x = c[3] * c[5] - c[4] * c[4];
        const double y = c[2] * c[4] - c[1] * c[5];
        const double z = c[1] * c[4] - c[2] * c[3];
        const double det = c[0] * x + c[1] * y + c[2] * z;
        const double f = want[0] * want[0] * x +
                         want[1] * want[1] * (c[0] * c[5] - c[2] * c[2]) +
                         want[2] * want[2] * (c[0] * c[3] - c[1] * c[1]) +
                         2 * want[0] * want[1] * y + 2 * want[0] * want[2] * z +
                         2 * want[1] * want[2] * (c[1] * c[2] - c[0] * c[4]);
        in_all += f / det / 3 <= 3.287;
    }
    for (int i = 0; i < 3; i++)
        ck_assert_msg(abs(in_each[i] - 4681) < 70, "turn: %d", in_each[i]);
    ck_assert_msg(abs(in_shift - 4681) < 70, "shift: %d", in_shift);
    ck_assert_msg(abs(in_all - 4750) < 62, "all three: %d", in_all);
}
END_TEST

TCase *rigid3_case(void)
{
    TCase *tc = tcase_create("rigid3");
    tcase_add_loop_test(tc, reference, 0, COUNT(files));
    tcase_add_test(tc, mirrors);
    tcase_add_test(tc, there_and_back);
    tcase_add_test(tc, weights);
    tcase_add_test(tc, any_scale);
    tcase_add_test(tc, statuses);
    tcase_add_test(tc, uncertainty_holds);
    return tc;
}
