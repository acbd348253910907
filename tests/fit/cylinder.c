/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cylinder: the stress set, what is given, statuses. */
#include "sphere_tests.h"

static const struct {
    const char *file;
    bool axis; /* the direction is given: rows ax, ay, az */
    double r;  /* given; 0: to be found */
    unsigned flags;
} files[] = {
    /* computed by this project with 50 digits, tests/data/README.md; no
     * published set of touches on a cylinder with its answer was found */
    {"stress/cylinder_bore", false, 0, 0},
    {"stress/cylinder_short", false, 0, 0},
    {"stress/cylinder_arc60", false, 0, 0},
    {"stress/cylinder_patch", false, 0, JAW_WEAK},
    {"stress/cylinder_far", false, 0, 0},
    {"stress/cylinder_six", false, 0, 0},
    {"stress/cylinder_long", false, 0, 0},
    {"stress/cylinder_rough", false, 0, 0},
    {"stress/cylinder_known_r", false, 15.001, 0},
    {"stress/cylinder_along", true, 0, 0},
    {"stress/cylinder_along_r", true, 8.002, 0},
};

static jaw_vec3 want_vec(const data *d, const char *x, const char *y,
                         const char *z)
{
    return (jaw_vec3){data_want(d, NULL, x), data_want(d, NULL, y),
                      data_want(d, NULL, z)};
}

static double shift_q(const jaw_cylinder *c)
{
    return fmax(fmax(c->q[0], c->q[5]), c->q[14]);
}

static double tilt_q(const jaw_cylinder *c)
{
    return fmax(c->q[9], c->q[12]);
}

static double length3(jaw_vec3 a)
{
    return sqrt(dot3(a, a));
}

/* How far b's axis lies off a's, at a's point and in direction. */
static double off_axis(const jaw_cylinder *c, jaw_vec3 p, double *along,
                       double *lean, jaw_vec3 axis)
{
    jaw_vec3 d = less3(c->p, p);
    *along = dot3(d, axis);
    double side = dot3(c->axis, axis) < 0 ? -1 : 1;
    *lean = length3((jaw_vec3){c->axis.x - side * axis.x,
                               c->axis.y - side * axis.y,
                               c->axis.z - side * axis.z});
    return length3((jaw_vec3){d.x - *along * axis.x, d.y - *along * axis.y,
                              d.z - *along * axis.z});
}

/* What does not depend on how `across` lies. */
static void same_cov(const data *d, const jaw_cylinder *c, double share)
{
    const double have[] = {c->cov[0] + c->cov[5], c->cov[9] + c->cov[12],
                           c->cov[14]};
    static const char *const name[] = {"cov_shift", "cov_tilt", "cov_r_r"};
    for (int i = 0; i < 3; i++) {
        double want = data_want(d, NULL, name[i]);
        if (!isnan(want))
            near(have[i], want, share * want, name[i]);
    }
}

START_TEST(reference)
{
    data d;
    jaw_vec3 p[ROWS];
    jaw_cylinder c;
    double resid[ROWS], most = -HUGE_VAL, least = HUGE_VAL, along, lean;
    const char *file = files[_i].file;
    data_read(&d, file);
    size_t n = data_solids(&d, p);
    const jaw_vec3 axis = want_vec(&d, "ax", "ay", "az");
    const jaw_cylinder_given given = {files[_i].axis ? &axis : NULL,
                                      files[_i].r};
    const int free = 5 - 2 * files[_i].axis - (files[_i].r > 0);
    ck_assert_int_eq(jaw_fit_cylinder(p, n, &given, &c, resid), JAW_OK);
    double root = sqrt((double)n), move = solid_moved(p, n, FACTOR);
    double place = EPS * (fabs(c.p.x) + fabs(c.p.y) + fabs(c.p.z) + c.r);
    double allow = move * root * sqrt(shift_q(&c)) + place;
    double off = off_axis(&c, want_vec(&d, "px", "py", "pz"), &along, &lean,
                          axis);
    near(off, 0, allow, file);
    near(along, 0, move + place, file);
    near(lean, 0, move * root * sqrt(tilt_q(&c)) + 2 * EPS, file);
    near(c.r, data_want(&d, NULL, "r"), allow, file);
    ck_assert_uint_eq(c.flags, files[_i].flags);
    ck_assert_int_eq(c.dof, (int)n - free);
    double ssr = data_want(&d, NULL, "ssr");
    near(sqrt(c.ssr), sqrt(ssr), root * move, file);
    near(c.s, data_want(&d, NULL, "s"), root * move, file);
    near(c.rms, sqrt(ssr / (double)n), move, file);
    for (size_t i = 0; i < n; i++) {
        most = fmax(most, resid[i]);
        least = fmin(least, resid[i]);
    }
    move = solid_moved(p, n, FACTOR_RESID);
    near(most, data_want(&d, NULL, "res_max"), move, file);
    near(least, data_want(&d, NULL, "res_min"), move, file);
    same_cov(&d, &c, 4 * root * move / sqrt(ssr) +
                         8 * move / solid_extent(p, n) *
                             sqrt((double)n * shift_q(&c)));
    data_free(&d);
}
END_TEST

/* ------------------------------------------------------------- invariances */

static size_t random_bar(jaw_vec3 p[], double *r, jaw_vec3 *axis)
{
    size_t n = 10 + (size_t)random_even(0, 14);
    double half = random_even(0, 1) < 0.6 ? 3.1 : random_size(-0.6, 0.3);
    double length = random_size(-0.5, 1);
    pose f = random_pose(9);
    *r = random_size(-1, 2);
    double rough = random_size(-8, -4) * fmin(half * half, 1);
    for (size_t i = 0; i < n; i++) {
        double a = half * random_even(-1, 1), d = *r + *r * rough *
                                                         random_normal();
        p[i] = carried(&f, (jaw_vec3){d * cos(a), d * sin(a),
                                      *r * length * random_even(-1, 1)});
    }
    *axis = turned(&f, (jaw_vec3){0, 0, 1});
    return n;
}

static void right_handed(const jaw_cylinder *c)
{
    const jaw_vec3 a = c->across[0], b = c->across[1], w = c->axis;
    near(a.y * b.z - a.z * b.y, w.x, 8 * EPS, "x");
    near(a.z * b.x - a.x * b.z, w.y, 8 * EPS, "y");
    near(a.x * b.y - a.y * b.x, w.z, 8 * EPS, "z");
    near(dot3(a, a), 1, 8 * EPS, "unit");
    near(dot3(a, b), 0, 8 * EPS, "square");
    ck_assert(w.z > 0 || (w.z == 0 && w.y >= 0));
}

/* The cylinder turns, moves and grows with the touches, whatever their order,
 * and whatever is given. */
START_TEST(follows)
{
    int fitted = 0;
    random_start("cylinder follows");
    for (int k = 0; k < 1200; k++) {
        jaw_vec3 p[24], q[24], axis, to;
        jaw_cylinder c, e;
        double r, along, lean;
        size_t n = random_bar(p, &r, &axis);
        pose f = random_pose(99);
        to = turned(&f, axis);
        const jaw_cylinder_given g = {k & 1 ? &axis : NULL, k & 2 ? r : 0};
        const jaw_cylinder_given h = {k & 1 ? &to : NULL, k & 2 ? 25.4 * r : 0};
        for (size_t i = 0; i < n; i++) {
            jaw_vec3 at = carried(&f, p[i]);
            q[n - 1 - i] = (jaw_vec3){25.4 * at.x, 25.4 * at.y, 25.4 * at.z};
        }
        jaw_status status = jaw_fit_cylinder(p, n, &g, &c, NULL);
        ck_assert_int_eq(jaw_fit_cylinder(q, n, &h, &e, NULL), status);
        if (status != JAW_OK)
            continue;
        fitted++;
        right_handed(&c);
        right_handed(&e);
        jaw_vec3 want = carried(&f, c.p);
        want = (jaw_vec3){25.4 * want.x, 25.4 * want.y, 25.4 * want.z};
        double root = sqrt((double)n), move = solid_carried(q, n);
        double place = 8 * EPS * (solid_size(q, n) + length3(want) + e.r);
        double allow = 2 * move * root * sqrt(shift_q(&e)) + place;
        near(off_axis(&e, want, &along, &lean, turned(&f, c.axis)), 0, allow,
             "axis");
        near(along, 0, allow, "along");
        near(lean, 0, 2 * move * root * sqrt(tilt_q(&e)) + 16 * EPS, "lean");
        near(e.r, 25.4 * c.r, allow, "r");
        near(sqrt(e.ssr), 25.4 * sqrt(c.ssr), root * move, "ssr");
        double share = 1e-6;
        near(e.q[14], c.q[14], share * c.q[14], "q of r");
        near(e.q[0] + e.q[5], c.q[0] + c.q[5], share * (c.q[0] + c.q[5]),
             "q of shift");
        double tilt = (c.q[9] + c.q[12]) / (25.4 * 25.4);
        near(e.q[9] + e.q[12], tilt, share * tilt, "q of tilt");
        ck_assert_uint_eq(e.flags, c.flags);
    }
    ck_assert_msg(fitted > 1150, "only %d", fitted);
}
END_TEST

START_TEST(any_scale)
{
    static const int power[] = {-1000, -500, -200, 200, 500, 900};
    jaw_vec3 p[12], q[12], axis;
    double r, r1[12], r2[12];
    random_start("cylinder any scale");
    do
        axis.x = (double)random_bar(p, &r, &axis);
    while (r < 1);
    for (int form = 0; form < 4; form++) {
        jaw_cylinder one, c;
        const jaw_vec3 up = {0.1, -0.3, 0.7};
        jaw_cylinder_given g = {form & 1 ? &up : NULL, form & 2 ? r : 0};
        jaw_status status = jaw_fit_cylinder(p, 10, &g, &one, r1);
        for (int k = 0; k < COUNT(power); k++) {
            const int e = power[k];
            for (int i = 0; i < 10; i++)
                q[i] = (jaw_vec3){ldexp(p[i].x, e), ldexp(p[i].y, e),
                                  ldexp(p[i].z, e)};
            const jaw_vec3 far = {ldexp(up.x, -e), ldexp(up.y, -e),
                                  ldexp(up.z, -e)};
            g = (jaw_cylinder_given){form & 1 ? &far : NULL,
                                     form & 2 ? ldexp(r, e) : 0};
            ck_assert_int_eq(jaw_fit_cylinder(q, 10, &g, &c, r2), status);
            if (status != JAW_OK)
                continue;
            const double off = 256 * EPS * (fabs(one.p.x) + fabs(one.p.y) +
                                            fabs(one.p.z) + one.r) *
                               sqrt(1 + shift_q(&one));
            near(c.p.x, ldexp(one.p.x, e), ldexp(off, e), "x");
            near(c.p.z, ldexp(one.p.z, e), ldexp(off, e), "z");
            near(c.r, ldexp(one.r, e), ldexp(off, e), "r");
            near(c.s, ldexp(one.s, e), ldexp(off, e), "s");
            near(c.q[14], one.q[14], 1e-9 * one.q[14], "q of r");
            for (int i = 0; i < 10; i++)
                near(r2[i], ldexp(r1[i], e), ldexp(off, e), "resid");
        }
        ck_assert(form != 0 || status == JAW_OK);
    }
}
END_TEST

/* --------------------------------------------------------- what is given */

/* Along z the fit is that of a circle in x and y. */
START_TEST(along_z_is_a_circle)
{
    random_start("cylinder along z");
    for (int k = 0; k < 1000; k++) {
        jaw_vec3 p[16];
        jaw_vec2 flat[16];
        jaw_circle a;
        jaw_cylinder c;
        double ra[16], rc[16], half = random_even(0.3, 3.14);
        size_t n = 4 + (size_t)random_even(0, 12);
        const jaw_vec3 axis = {0, 0, k & 2 ? -3 : 5};
        const double known = k & 1 ? 10 : 0;
        const jaw_cylinder_given g = {&axis, known};
        for (size_t i = 0; i < n; i++) {
            double t = half * (2 * ((double)i + random_even(0.2, 0.8)) /
                               (double)n - 1);
            double d = 10 + 1e-3 * half * half * random_normal();
            flat[i] = (jaw_vec2){30 + d * cos(t), d * sin(t) - 7};
            p[i] = (jaw_vec3){flat[i].x, flat[i].y, random_even(-30, 30)};
        }
        jaw_status status = known > 0
                                ? jaw_fit_circle_known(flat, n, known, &a, ra)
                                : jaw_fit_circle(flat, n, &a, ra);
        ck_assert_int_eq(status, JAW_OK);
        ck_assert_int_eq(jaw_fit_cylinder(p, n, &g, &c, rc), JAW_OK);
        double allow = 16 * EPS * (40 + 20 * sqrt((double)n * a.q[0] +
                                                  (double)n * a.q[3]));
        near(c.p.x, a.x, allow, "x");
        near(c.p.y, a.y, allow, "y");
        near(c.r, a.r, allow, "r");
        near(c.axis.z, 1, 0, "up");
        near(c.across[0].x, 1, 0, "across x");
        near(c.across[1].y, 1, 0, "across y");
        double share = 1e-9;
        near(c.q[0], a.q[0], share * a.q[0], "xx");
        near(c.q[5], a.q[3], share * a.q[3], "yy");
        near(c.q[1], a.q[1], share * (a.q[0] + a.q[3]), "xy");
        near(c.q[14], a.q[5], share * a.q[5], "rr");
        near(c.q[9] + c.q[12], 0, 0, "no tilt");
        near(c.s, a.s, 1e-13, "s");
        ck_assert_int_eq(c.dof, a.dof);
        ck_assert_uint_eq(c.flags, a.flags);
        for (size_t i = 0; i < n; i++)
            near(rc[i], ra[i], 1e-13, "resid");
    }
}
END_TEST

/* Two rings of six, by hand: shift 1/6 each, tilt 1 / (12 (h/2)^2 / 2). */
START_TEST(cofactors)
{
    jaw_vec3 p[12];
    jaw_cylinder c;
    for (int i = 0; i < 12; i++) {
        double a = acos(-1.0) / 3 * (i % 6), d = 10 + (i & 1 ? 0.25 : -0.25);
        p[i] = (jaw_vec3){d * cos(a), d * sin(a), i < 6 ? 4 : -4};
    }
    ck_assert_int_eq(jaw_fit_cylinder(p, 12, NULL, &c, NULL), JAW_OK);
    const double q[] = {1.0 / 6, 0, 0, 0, 0, 1.0 / 6, 0, 0, 0,
                        1.0 / 96, 0, 0, 1.0 / 96, 0, 1.0 / 12};
    for (int i = 0; i < 15; i++)
        near(c.q[i], q[i], 1e-14, "q");
    near(c.ssr, 12 * 0.0625, 1e-13, "ssr");
    near(c.s, sqrt(0.75 / 7), 1e-14, "s");
    near(c.cov[9], 0.75 / 7 / 96, 1e-15, "tilt");
    near(c.axis.z, 1, 4 * EPS, "axis");
    ck_assert_uint_eq(c.flags, 0);
    for (int i = 0; i < 12; i++) { /* rings 0.02 apart: sure over that */
        double a = acos(-1.0) / 3 * (i % 6), d = 10 + (i & 1 ? 1e-4 : -1e-4);
        p[i] = (jaw_vec3){d * cos(a), d * sin(a), i < 6 ? 0.01 : -0.01};
    }
    ck_assert_int_eq(jaw_fit_cylinder(p, 12, NULL, &c, NULL), JAW_OK);
    ck_assert_uint_eq(c.flags, 0);
    near(c.q[9], 160000.0 / 96, 1e-6, "tilt of a low ring");
}
END_TEST

/* ------------------------------------------------------------- statuses */

static void refused(const jaw_vec3 p[], size_t n, const jaw_cylinder_given *g,
                    jaw_status want)
{
    jaw_cylinder c;
    double resid[32] = {0};
    memset(&c, 0, sizeof c);
    ck_assert_int_eq(jaw_fit_cylinder(p, n, g, &c, resid), want);
    nan_all(&c.p.x, offsetof(jaw_cylinder, dof) / sizeof(double), "cylinder");
    nan_all(resid, n, "resid");
    ck_assert_int_eq(c.dof, 0);
    ck_assert_uint_eq(c.flags, 0);
    ck_assert_int_eq(jaw_fit_cylinder(p, n, g, &c, NULL), want);
}

START_TEST(statuses)
{
    jaw_vec3 p[12];
    const jaw_vec3 axis = {0, 0, 2}, none = {0, 0, 0}, odd = {NAN_D, 0, 1};
    const jaw_vec3 wide = {0, HUGE_VAL, 0};
    const jaw_cylinder_given along = {&axis, 0}, size = {NULL, 10};
    const jaw_cylinder_given both = {&axis, 10};
    for (int i = 0; i < 12; i++)
        p[i] = (jaw_vec3){10 * cos(i * 0.9), 10 * sin(i * 0.9), i * 1.7};
    refused(p, 0, NULL, JAW_EFEW);
    refused(p, 5, NULL, JAW_EFEW);
    refused(p, 4, &size, JAW_EFEW);
    refused(p, 2, &along, JAW_EFEW);
    refused(p, 2, &both, JAW_EFEW);
    const jaw_cylinder_given bad[] = {{&none, 0}, {NULL, -1}, {&axis, -1}};
    for (int i = 0; i < COUNT(bad); i++)
        refused(p, 12, &bad[i], JAW_EDOMAIN);
    const jaw_cylinder_given wild[] = {
        {&odd, 0}, {&wide, 0}, {NULL, NAN_D}, {NULL, HUGE_VAL}};
    for (int i = 0; i < COUNT(wild); i++)
        refused(p, 12, &wild[i], JAW_ENOTFINITE);
    for (int i = 0; i < 12; i++) {
        jaw_vec3 was = p[i];
        p[i].z = i & 1 ? NAN_D : HUGE_VAL;
        refused(p, 12, NULL, JAW_ENOTFINITE);
        refused(p, 12, &both, JAW_ENOTFINITE);
        p[i] = was;
    }
}
END_TEST

/* Touches that lie on many cylinders, or on two, or on none. */
START_TEST(not_determined)
{
    jaw_vec3 p[12];
    const jaw_vec3 z = {0, 0, 1}, x = {1, 0, 0};
    const jaw_cylinder_given along = {&z, 0}, both = {&z, 7}, side = {&x, 0};
    for (int i = 0; i < 12; i++)
        p[i] = (jaw_vec3){3, 4, 5};
    refused(p, 12, NULL, JAW_ERANK);
    refused(p, 12, &along, JAW_ERANK);
    for (int i = 0; i < 12; i++)
        p[i] = (jaw_vec3){1 + i, 2 - 0.5 * i, 3 * i};
    refused(p, 12, NULL, JAW_ERANK);
    for (int i = 0; i < 12; i++) /* one ring: the tilt is open */
        p[i] = (jaw_vec3){10 * cos(i * 0.9), 10 * sin(i * 0.9), 2};
    refused(p, 12, NULL, JAW_ERANK);
    refused(p, 12, &side, JAW_ERANK); /* seen from the side, a line */
    p[3].z = 40; /* and one touch more is not enough */
    refused(p, 12, NULL, JAW_ERANK);
    for (int i = 0; i < 12; i++) /* seen along z two places, or a line */
        p[i] = (jaw_vec3){i & 1 ? 10 : -10, 0, i};
    refused(p, 12, &along, JAW_ERANK);
    for (int i = 0; i < 12; i++)
        p[i] = (jaw_vec3){i, 2 * i, i * i};
    refused(p, 12, &along, JAW_ERANK);
    refused(p, 12, &both, JAW_ERANK);
}
END_TEST

/* Corners of a box lie on three cylinders.  Slightly off they still do, as far
 * as their own spread tells; a known direction, or radius, decides. */
START_TEST(box)
{
    jaw_vec3 p[8];
    const jaw_vec3 z = {0, 0, 1};
    const jaw_cylinder_given along = {&z, 0}, size = {NULL, hypot(3, 3)};
    jaw_cylinder c;
    int open = 0;
    for (int i = 0; i < 8; i++)
        p[i] = (jaw_vec3){i & 1 ? 3 : -3, i & 2 ? 3 : -3, i & 4 ? 5 : -5};
    refused(p, 8, NULL, JAW_ERANK);
    ck_assert_int_eq(jaw_fit_cylinder(p, 8, &along, &c, NULL), JAW_OK);
    near(c.r, hypot(3, 3), 1e-14, "r");
    ck_assert_int_eq(jaw_fit_cylinder(p, 8, &size, &c, NULL), JAW_OK);
    near(c.axis.z, 1, 1e-14, "axis");
    random_start("box");
    for (int k = 0; k < 200; k++) {
        for (int i = 0; i < 8; i++) {
            double share = 1 + 1e-3 * random_normal();
            p[i] = (jaw_vec3){i & 1 ? 3 * share : -3 * share,
                              i & 2 ? 3 * share : -3 * share, i & 4 ? 5 : -5};
        }
        open += jaw_fit_cylinder(p, 8, NULL, &c, NULL) == JAW_ERANK;
    }
    /* 19 to 1: 190 of 200, and three standard deviations */
    ck_assert_msg(open > 180, "answered in %d of 200", 200 - open);
}
END_TEST

/* A plane is better than any cylinder: a saddle, touched evenly. */
START_TEST(plane_is_best)
{
    jaw_vec3 p[16];
    const jaw_vec3 x = {1, 0, 0};
    const jaw_cylinder_given along = {&x, 0};
    for (int i = 0; i < 16; i++) {
        double a = i % 4 - 1.5, b = i / 4 - 1.5;
        p[i] = (jaw_vec3){a, b, 0.05 * a * b};
    }
    refused(p, 16, &along, JAW_ENOCONV);
}
END_TEST

/* A wall bent the one or the other way, as its roughness has it. */
START_TEST(either_side)
{
    jaw_vec3 p[20];
    const jaw_vec3 x = {1, 0, 0};
    const jaw_cylinder_given both = {&x, 900};
    random_start("either side");
    for (int i = 0; i < 20; i++)
        p[i] = (jaw_vec3){random_even(-5, 5), i % 5 - 2,
                          0.01 * random_normal()};
    refused(p, 20, &both, JAW_ERANK);
}
END_TEST

START_TEST(weak)
{
    jaw_vec3 p[20];
    jaw_cylinder c;
    for (int i = 0; i < 20; i++) { /* 11 degrees of the wall */
        double a = 0.1 * ((i % 5) - 2) / 2.0 + 1e-4 * (i % 3);
        p[i] = (jaw_vec3){100 * cos(a), 100 * sin(a), 7 * (i / 5)};
    }
    ck_assert_int_eq(jaw_fit_cylinder(p, 20, NULL, &c, NULL), JAW_OK);
    ck_assert_uint_eq(c.flags, JAW_WEAK);
    near(c.r, 100, 1e-8, "r");
    ck_assert(c.q[0] > 100 || c.q[5] > 100);
}
END_TEST

/* 2026-11-25: of a patch along a given direction the starts come to rest with
 * their feet apart; they were taken for different cylinders, and nothing was
 * answered. */
START_TEST(patch_along)
{
    random_start("patch along");
    for (int k = 0; k < 400; k++) {
        jaw_vec3 p[12], axis;
        jaw_cylinder c;
        double half = random_size(-1.3, -0.4);
        pose f = random_pose(30);
        for (int i = 0; i < 12; i++) {
            double a = half * (2 * (i + random_even(0.1, 0.9)) / 12 - 1);
            double d = 10 * (1 + 1e-5 * half * half * random_normal());
            p[i] = carried(&f, (jaw_vec3){d * cos(a), d * sin(a),
                                          10 * half * random_even(-1, 1)});
        }
        axis = turned(&f, (jaw_vec3){0, 0, 1});
        const jaw_cylinder_given g = {&axis, k & 1 ? 10 : 0};
        ck_assert_int_eq(jaw_fit_cylinder(p, 12, &g, &c, NULL), JAW_OK);
        near(c.r, 10, 0.1, "r");
    }
}
END_TEST

START_TEST(three_touches_along)
{
    const jaw_vec3 p[] = {{5, 0, 1}, {0, 5, 7}, {-5, 0, -4}}, z = {0, 0, 1e-9};
    const jaw_cylinder_given along = {&z, 0};
    jaw_cylinder c;
    ck_assert_int_eq(jaw_fit_cylinder(p, 3, &along, &c, NULL), JAW_OK);
    near(c.r, 5, 16 * EPS, "r");
    ck_assert_int_eq(c.dof, 0);
    ck_assert_uint_eq(c.flags, JAW_NO_CHECK);
    ck_assert(isnan(c.s) && isnan(c.rms));
    nan_all(c.cov, 15, "cov");
    near(c.q[14], 0.5, 16 * EPS, "q");
}
END_TEST

TCase *cylinder_case(void)
{
    TCase *tc = tcase_create("cylinder");
    tcase_add_loop_test(tc, reference, 0, COUNT(files));
    tcase_add_test(tc, follows);
    tcase_add_test(tc, any_scale);
    tcase_add_test(tc, along_z_is_a_circle);
    tcase_add_test(tc, cofactors);
    tcase_add_test(tc, statuses);
    tcase_add_test(tc, not_determined);
    tcase_add_test(tc, box);
    tcase_add_test(tc, plane_is_best);
    tcase_add_test(tc, either_side);
    tcase_add_test(tc, weak);
    tcase_add_test(tc, patch_along);
    tcase_add_test(tc, three_touches_along);
    return tc;
}
