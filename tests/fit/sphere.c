/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sphere: published answer, the stress set, statuses. */
#include "sphere_tests.h"

static const struct {
    const char *file;
    double known; /* radius; 0: to be found */
    unsigned flags;
} files[] = {
    /* OSGeoLab, Budapest University of Technology, tutorial on data processing
     * (Z. Siki): regression sphere, four touches; 3 decimals printed */
    {"sphere_osgeolab_4pt", 0, JAW_NO_CHECK | JAW_WEAK},
    /* computed by this project with 50 digits, tests/data/README.md */
    {"stress/sphere_full", 0, 0},
    {"stress/sphere_cap15", 0, JAW_WEAK},
    {"stress/sphere_cap3", 0, JAW_WEAK},
    {"stress/sphere_far", 0, 0},
    {"stress/sphere_known_r", 3.002, 0},
};

static double largest_q(const jaw_sphere *s)
{
    return fmax(fmax(s->q[0], s->q[4]), fmax(s->q[7], s->q[9]));
}

static jaw_status fit(const jaw_vec3 p[], size_t n, double known, jaw_sphere *s,
                      double resid[])
{
    return known > 0 ? jaw_fit_sphere_known(p, n, known, s, resid)
                     : jaw_fit_sphere(p, n, s, resid);
}

static void same_cov(const data *d, const jaw_sphere *s, double share)
{
    static const char *const name[] = {
        "cov_xc_xc", "cov_xc_yc", "cov_xc_zc", "cov_xc_r", "cov_yc_yc",
        "cov_yc_zc", "cov_yc_r",  "cov_zc_zc", "cov_zc_r", "cov_r_r"};
    static const int row[] = {0, 0, 0, 0, 4, 4, 4, 7, 7, 9};
    static const int column[] = {0, 4, 7, 9, 4, 7, 9, 7, 9, 9};
    int found = 0;
    for (int i = 0; i < 10; i++) {
        double want = data_want(d, NULL, name[i]);
        if (isnan(want))
            continue;
        found++;
        near(s->cov[i], want,
             share * sqrt(s->cov[row[i]] * s->cov[column[i]]), name[i]);
    }
    ck_assert_msg(found >= 6, "%d covariances", found);
}

START_TEST(reference)
{
    data d;
    jaw_vec3 p[ROWS];
    jaw_sphere s;
    double resid[ROWS], most = -HUGE_VAL, least = HUGE_VAL;
    const char *file = files[_i].file;
    data_read(&d, file);
    size_t n = data_solids(&d, p), free = files[_i].known > 0 ? 3 : 4;
    ck_assert_int_eq(fit(p, n, files[_i].known, &s, resid), JAW_OK);
    double root = sqrt((double)n), move = solid_moved(p, n, FACTOR);
    double allow = move * root * sqrt(largest_q(&s)) +
                   EPS * (fabs(s.x) + fabs(s.y) + fabs(s.z) + s.r);
    near(s.x, data_want(&d, NULL, "xc"), allow, file);
    near(s.y, data_want(&d, NULL, "yc"), allow, file);
    near(s.z, data_want(&d, NULL, "zc"), allow, file);
    near(s.r, data_want(&d, NULL, "r"), allow, file);
    ck_assert_uint_eq(s.flags, files[_i].flags);
    ck_assert_int_eq(s.dof, (int)(n - free));
    double ssr = data_want(&d, NULL, "ssr");
    near(sqrt(s.ssr), sqrt(ssr), root * move, file);
    if (n > free) {
        near(s.s, data_want(&d, NULL, "s"), root * move, file);
        near(s.rms, sqrt(ssr / (double)n), move, file);
        same_cov(&d, &s, 4 * root * move / sqrt(ssr) +
                             8 * move / solid_extent(p, n) *
                                 sqrt((double)n * largest_q(&s)));
        for (size_t i = 0; i < n; i++) {
            most = fmax(most, resid[i]);
            least = fmin(least, resid[i]);
        }
        double off = solid_moved(p, n, FACTOR_RESID);
        near(most, data_want(&d, NULL, "res_max"), off, file);
        near(least, data_want(&d, NULL, "res_min"), off, file);
    }
    data_free(&d);
}
END_TEST

START_TEST(printed)
{
    static const char *const name[] = {"xc", "yc", "zc", "r"};
    data d;
    jaw_vec3 p[ROWS];
    jaw_sphere s;
    data_read(&d, files[0].file);
    size_t n = data_solids(&d, p);
    ck_assert_int_eq(jaw_fit_sphere(p, n, &s, NULL), JAW_OK);
    const double have[] = {s.x, s.y, s.z, s.r};
    for (int i = 0; i < 4; i++) {
        double want, half;
        ck_assert(data_published(&d, name[i], &want, &half));
        near(have[i], want, half, name[i]);
    }
    data_free(&d);
}
END_TEST

/* Touches on a cap of this half angle about any direction. */
static size_t random_cap(jaw_vec3 p[], double *r, double half, double rough)
{
    size_t n = 5 + (size_t)random_even(0, 11);
    pose f = random_pose(9);
    *r = random_size(-1, 2);
    for (size_t i = 0; i < n; i++) {
        double a = 6.2832 * ((double)i * 0.382 + random_even(-0.05, 0.05));
        double u = (1 - cos(half)) * ((double)i + random_even(0.2, 0.8)) /
                   (double)n;
        double z = 1 - u, d = *r * (1 + rough * random_normal());
        double c = d * sqrt(u * (2 - u));
        p[i] = carried(&f, (jaw_vec3){c * cos(a), c * sin(a), d * z});
    }
    return n;
}

static size_t any_cap(jaw_vec3 p[], double *r)
{
    double half = random_even(0, 1) < 0.5 ? 3 : random_size(-1.3, 0.3);
    return random_cap(p, r, half,
                      random_size(-8, -3) * fmin(half * half, 1));
}

/* The sphere turns, moves and grows with the touches, whatever their order. */
START_TEST(follows)
{
    random_start("sphere follows");
    for (int k = 0; k < 2000; k++) {
        jaw_vec3 p[16], q[16];
        jaw_sphere s, e;
        double r;
        size_t n = any_cap(p, &r);
        double known = k & 1 ? r : 0;
        ck_assert_int_eq(fit(p, n, known, &s, NULL), JAW_OK);
        pose f = random_pose(99);
        for (size_t i = 0; i < n; i++) {
            jaw_vec3 *to = &q[n - 1 - i];
            *to = carried(&f, p[i]);
            *to = (jaw_vec3){25.4 * to->x, 25.4 * to->y, 25.4 * to->z};
        }
        ck_assert_int_eq(fit(q, n, 25.4 * known, &e, NULL), JAW_OK);
        jaw_vec3 want = carried(&f, (jaw_vec3){s.x, s.y, s.z});
        double root = sqrt((double)n), move = solid_carried(q, n);
        double allow = 2 * move * root * sqrt(largest_q(&e)) +
                       4 * EPS * (fabs(e.x) + fabs(e.y) + fabs(e.z) + e.r);
        near(e.x, 25.4 * want.x, allow, "x");
        near(e.y, 25.4 * want.y, allow, "y");
        near(e.z, 25.4 * want.z, allow, "z");
        near(e.r, 25.4 * s.r, allow, "r");
        near(sqrt(e.ssr), 25.4 * sqrt(s.ssr), root * move, "ssr");
        near(e.q[9], s.q[9], 1e-6 * s.q[9], "q of r");
        double trace = s.q[0] + s.q[4] + s.q[7];
        near(e.q[0] + e.q[4] + e.q[7], trace, 1e-6 * trace, "q of the centre");
        ck_assert(e.flags == s.flags);
    }
}
END_TEST

START_TEST(any_scale)
{
    static const int power[] = {-1000, -500, -200, 200, 500, 900};
    static const jaw_vec3 p[] = {{1, 7, 3}, {2, 6, -2}, {5, 8, 4},
                                 {7, 7, -1}, {9, 5, 2}, {3, 7, 5.5}};
    for (int form = 0; form < 2; form++) {
        jaw_vec3 q[6];
        jaw_sphere one, s;
        double r1[6], r2[6];
        const double known = form ? 5.5 : 0;
        ck_assert_int_eq(fit(p, 6, known, &one, r1), JAW_OK);
        for (int k = 0; k < COUNT(power); k++) {
            const int e = power[k];
            for (int i = 0; i < 6; i++)
                q[i] = (jaw_vec3){ldexp(p[i].x, e), ldexp(p[i].y, e),
                                  ldexp(p[i].z, e)};
            ck_assert_int_eq(fit(q, 6, ldexp(known, e), &s, r2), JAW_OK);
            near(s.x, ldexp(one.x, e), 64 * EPS * s.r, "x");
            near(s.y, ldexp(one.y, e), 64 * EPS * s.r, "y");
            near(s.z, ldexp(one.z, e), 64 * EPS * s.r, "z");
            near(s.r, ldexp(one.r, e), 64 * EPS * s.r, "r");
            near(s.s, ldexp(one.s, e), 64 * EPS * s.r, "s");
            near(s.q[0], one.q[0], 256 * EPS * one.q[0], "q");
            for (int i = 0; i < 6; i++)
                near(r2[i], ldexp(r1[i], e), 64 * EPS * s.r, "resid");
        }
    }
}
END_TEST

/* J^T J by hand: rows -(1 0 0 1) (0 1 0 1) (-1 0 0 1) (0 -1 0 1) (0 0 1 1)
 * (0 0 -1 1). */
START_TEST(six_touches)
{
    const jaw_vec3 p[] = {{6, 1, 1}, {1, 6, 1}, {-4, 1, 1},
                          {1, -4, 1}, {1, 1, 6}, {1, 1, -4}};
    const double q[] = {0.5, 0, 0, 0, 0.5, 0, 0, 0.5, 0, 1.0 / 6};
    jaw_sphere s;
    double resid[6];
    ck_assert_int_eq(jaw_fit_sphere(p, 6, &s, resid), JAW_OK);
    for (int i = 0; i < 10; i++)
        near(s.q[i], q[i], 8 * EPS, "q");
    near(s.x, 1, 8 * EPS, "x");
    near(s.r, 5, 16 * EPS, "r");
    ck_assert_uint_eq(s.flags, 0);
    ck_assert_int_eq(jaw_fit_sphere_known(p, 6, 4.75, &s, resid), JAW_OK);
    near(s.r, 4.75, 0, "r");
    near(s.q[0], 0.5, 8 * EPS, "q known");
    near(s.q[9], 0, 0, "q of r");
    near(s.q[3], 0, 0, "q of x and r");
    near(s.cov[9], 0, 0, "cov of r");
    near(s.ssr, 6 * 0.0625, 32 * EPS, "ssr");
    near(s.s, sqrt(6 * 0.0625 / 3), 16 * EPS, "s");
    near(resid[2], 0.25, 16 * EPS, "outside positive");
    ck_assert_int_eq(s.dof, 3);
}
END_TEST

START_TEST(four_touches)
{
    const jaw_vec3 p[] = {{5, 0, 0}, {0, 5, 0}, {-5, 0, 0}, {0, 0, 5}};
    jaw_sphere s;
    double resid[4];
    ck_assert_int_eq(jaw_fit_sphere(p, 4, &s, resid), JAW_OK);
    near(s.x, 0, 16 * EPS, "x");
    near(s.r, 5, 32 * EPS, "r");
    ck_assert_int_eq(s.dof, 0);
    ck_assert_uint_eq(s.flags, JAW_NO_CHECK);
    ck_assert(isnan(s.rms) && isnan(s.s));
    nan_all(s.cov, 10, "cov");
    for (int i = 0; i < 4; i++)
        near(resid[i], 0, 16 * EPS, "resid");
}
END_TEST

static void refused(const jaw_vec3 p[], size_t n, double known,
                    jaw_status want)
{
    jaw_sphere s;
    double resid[16] = {0};
    memset(&s, 0, sizeof s);
    ck_assert_int_eq(fit(p, n, known, &s, resid), want);
    nan_all(&s.x, offsetof(jaw_sphere, dof) / sizeof(double), "sphere");
    nan_all(resid, n, "resid");
    ck_assert_int_eq(s.dof, 0);
    ck_assert_uint_eq(s.flags, 0);
    ck_assert_int_eq(fit(p, n, known, &s, NULL), want);
}

START_TEST(statuses)
{
    jaw_vec3 p[] = {{1, 7, 3}, {2, 6, -2}, {5, 8, 4},
                    {7, 7, -1}, {9, 5, 2}, {3, 7, 5.5}};
    jaw_sphere s;
    for (int form = 0; form < 2; form++) {
        const double known = form ? 5.5 : 0;
        refused(p, 0, known, JAW_EFEW);
        refused(p, 3, known, JAW_EFEW);
        for (int i = 0; i < 6; i++) {
            jaw_vec3 was = p[i];
            p[i].y = NAN_D;
            refused(p, 6, known, JAW_ENOTFINITE);
            p[i].y = -HUGE_VAL;
            refused(p, 6, known, JAW_ENOTFINITE);
            p[i] = was;
        }
        const jaw_vec3 one[] = {{7, 7, 7}, {7, 7, 7}, {7, 7, 7}, {7, 7, 7}};
        refused(one, 4, known, JAW_ERANK);
        const jaw_vec3 three[] = {{1, 2, 3}, {4, 0, 1}, {1, 2, 3},
                                  {4, 0, 1}, {2, 5, 7}, {2, 5, 7}};
        refused(three, 6, known, JAW_ERANK);
        const jaw_vec3 line[] = {{0, 0, 0}, {1, 2, 3}, {2, 4, 6}, {5, 10, 15}};
        refused(line, 4, known, JAW_ERANK);
    }
    const double bad[] = {0, -1, NAN_D, HUGE_VAL};
    const jaw_status why[] = {JAW_EDOMAIN, JAW_EDOMAIN, JAW_ENOTFINITE,
                              JAW_ENOTFINITE};
    for (int i = 0; i < 4; i++) {
        ck_assert_int_eq(jaw_fit_sphere_known(p, 6, bad[i], &s, NULL), why[i]);
        nan_all(&s.x, offsetof(jaw_sphere, dof) / sizeof(double), "sphere");
    }
}
END_TEST

/* In one plane as far as the last digits can tell, near and far. */
START_TEST(coplanar)
{
    random_start("sphere coplanar");
    for (int k = 0; k < 1000; k++) {
        jaw_vec3 p[12];
        size_t n = 4 + (size_t)random_even(0, 8);
        double far = random_even(0, 1) < 0.5 ? 0 : random_size(0, 9);
        for (size_t i = 0; i < n; i++) {
            double x = far + random_even(-9, 9), y = random_even(-9, 9) - far;
            p[i] = (jaw_vec3){x, y, 0.25 * x - 0.5 * y + 3};
        }
        refused(p, n, 0, JAW_ERANK);
        refused(p, n, 20, JAW_ERANK);
    }
}
END_TEST

/* A saddle: no sphere bends as it does, and the plane is better than any. */
START_TEST(plane_is_best)
{
    jaw_vec3 p[16];
    for (int i = 0; i < 16; i++) {
        double x = i % 4 - 1.5, y = i / 4 - 1.5;
        p[i] = (jaw_vec3){x, y, 0.05 * (x * x - y * y)};
    }
    refused(p, 16, 0, JAW_ENOCONV);
}
END_TEST

/* A small cap, no more curved than rough, may bend to either side. */
START_TEST(two_centres)
{
    const jaw_vec3 flat[] = {{0, 0, 0.01},  {2, 0, 0},  {-2, 0, 0},
                             {0, 2, -0.01}, {0, -2, 0}, {1, 1, 0},
                             {-1, -1, 0},   {1, -1, 0}};
    refused(flat, 8, 5000, JAW_ERANK);
    const jaw_vec3 bent[] = {{0, 0, 0.1}, {2, 0, 0},  {-2, 0, 0}, {0, 2, 0},
                             {0, -2, 0},  {1, 1, 0.05}, {-1, -1, 0.05},
                             {1, -1, 0.05}};
    jaw_sphere s;
    ck_assert_int_eq(jaw_fit_sphere_known(bent, 8, 20, &s, NULL), JAW_OK);
    near(s.z, -19.9, 0.01, "below");
}
END_TEST

TCase *sphere_case(void)
{
    TCase *tc = tcase_create("sphere");
    tcase_add_loop_test(tc, reference, 0, COUNT(files));
    tcase_add_test(tc, printed);
    tcase_add_test(tc, follows);
    tcase_add_test(tc, any_scale);
    tcase_add_test(tc, six_touches);
    tcase_add_test(tc, four_touches);
    tcase_add_test(tc, statuses);
    tcase_add_test(tc, coplanar);
    tcase_add_test(tc, plane_is_best);
    tcase_add_test(tc, two_centres);
    return tc;
}
