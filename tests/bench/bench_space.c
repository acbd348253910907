/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench_space.c: sphere and cylinder against a general solver, in one run.
 * Printed are ratios, which say the same on another machine, beside the times,
 * which do not.
 *
 * With residuals and covariance: gsl_multifit_nlinear, Levenberg-Marquardt, QR,
 * analytic Jacobian, covariance; workspace made beforehand.  It goes on to
 * 1e-12 of the unknowns and starts where ours starts, or, late, where ours has
 * only the geometric fit before it; for ours to find that start is part of its
 * time, for GSL it is not. */
#include <jawline/fit.h>

#include "src/fit/cylinder.h"
#include "src/fit/sphere.h"

#include "bench.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { TOUCHES = 32, SETS = 64, ROUNDS = 200, SPHERE = 4, CYLINDER = 5 };

typedef struct set {
    jaw_vec3 p[TOUCHES];
    double start[3], w[3], r; /* centre, or a point of the axis; direction */
    double e[3], f[3];        /* square to it */
} set;

static set sets[SETS];

/* ------------------------------------------------------------------ touches */

static void make_cylinder(set *s, double noise)
{
    const double whole = 2 * acos(-1.0);
    double axis[3] = {even(-1, 1), even(-1, 1), even(-1, 1)};
    jaw__normalise(axis);
    const jaw__curved frame = jaw__bow(axis, NULL, 0);

    for (int i = 0; i < TOUCHES; i++) {
        const double a = even(0, whole), t = even(-20, 20);
        const double r = 10 + noise * even(-1, 1);
        double d[3];
        for (int k = 0; k < 3; k++)
            d[k] = t * axis[k] + r * cos(a) * frame.axis[0][k] +
                   r * sin(a) * frame.axis[1][k];
        s->p[i] = (jaw_vec3){123.4 + d[0], -45.6 + d[1], 7.8 + d[2]};
    }
}

static void make_sphere(set *s, double noise)
{
    const double whole = 2 * acos(-1.0);

    for (int i = 0; i < TOUCHES; i++) {
        const double a = even(0, whole), z = even(-0.2, 1);
        const double r = 10 + noise * even(-1, 1), c = r * sqrt(1 - z * z);
        s->p[i] = (jaw_vec3){123.4 + c * cos(a), -45.6 + c * sin(a),
                             7.8 + r * z};
    }
}

/* Ours starts here too; late: not at the direction where ours begins but where
 * its search in sums over the touches ends. */
static void set_start(set *s, bool round, bool late)
{
    jaw__quadrics quadrics;
    jaw__space space;
    jaw__bulk bulk;
    jaw__way way;
    double c[3];

    if (jaw__space_make(&space, s->p, TOUCHES) != JAW_OK)
        exit(EXIT_FAILURE);
    jaw__bulk_make(&space, &bulk);
    jaw__quadrics_make(&bulk, &quadrics);
    jaw__quadrics_way(&quadrics, &way);
    if (late)
        jaw__way_refine(&bulk, &way);
    else
        jaw__way_along(&bulk, way.w, &way);
    jaw__curved at = round ? jaw__sphere_kasa(&bulk)
                           : jaw__curved_round(way.c, way.r, way.w);
    jaw__curved_centre(&at, c);
    s->r = 1 / at.bend;
    s->start[0] = space.m.x + c[0];
    s->start[1] = space.m.y + c[1];
    s->start[2] = space.m.z + c[2];
    for (int i = 0; i < 3; i++) {
        s->w[i] = at.axis[0][i];
        s->e[i] = at.axis[1][i];
        s->f[i] = at.axis[2][i];
    }
}

/* --------------------------------------------------------------------- ours */

static double our_cylinders(void)
{
    jaw_cylinder c;
    double resid[TOUCHES], sum = 0;

    for (int k = 0; k < SETS; k++) {
        if (jaw_fit_cylinder(sets[k].p, TOUCHES, NULL, &c, resid) != JAW_OK)
            exit(EXIT_FAILURE);
        sum += c.r + c.cov[0] + resid[0];
    }
    return sum;
}

static double our_spheres(void)
{
    jaw_sphere c;
    double resid[TOUCHES], sum = 0;

    for (int k = 0; k < SETS; k++) {
        if (jaw_fit_sphere(sets[k].p, TOUCHES, &c, resid) != JAW_OK)
            exit(EXIT_FAILURE);
        sum += c.r + c.cov[0] + resid[0];
    }
    return sum;
}

/* ---------------------------------------------------------------------- GSL */

/* Unknowns of a cylinder: shifts of the point along e and f, lean of the
 * direction along them, radius. */
typedef struct axis {
    double a[3], c[3];
} axis;

static axis axis_at(const set *s, const double x[])
{
    axis at;
    double h = 0;

    for (int i = 0; i < 3; i++) {
        at.a[i] = s->w[i] + x[2] * s->e[i] + x[3] * s->f[i];
        at.c[i] = s->start[i] + x[0] * s->e[i] + x[1] * s->f[i];
        h += at.a[i] * at.a[i];
    }
    for (int i = 0; i < 3; i++)
        at.a[i] /= sqrt(h);
    return at;
}

/* From the axis to a touch: d along it, v square to it. */
static double off_axis(const axis *at, const jaw_vec3 *p, double *d,
                       double v[3])
{
    v[0] = p->x - at->c[0];
    v[1] = p->y - at->c[1];
    v[2] = p->z - at->c[2];
    *d = jaw__dot3(v, at->a);
    for (int i = 0; i < 3; i++)
        v[i] -= *d * at->a[i];
    return sqrt(jaw__dot3(v, v));
}

static int cylinder_f(const gsl_vector *x, void *data, gsl_vector *f)
{
    const set *s = data;
    const axis at = axis_at(s, x->data);
    double d, v[3];

    for (size_t i = 0; i < TOUCHES; i++)
        f->data[i] = off_axis(&at, &s->p[i], &d, v) - x->data[4];
    return GSL_SUCCESS;
}

static int cylinder_df(const gsl_vector *x, void *data, gsl_matrix *j)
{
    const set *s = data;
    const axis at = axis_at(s, x->data);
    const double lean = 1 / sqrt(1 + x->data[2] * x->data[2] +
                                 x->data[3] * x->data[3]);
    double d, v[3];

    for (size_t i = 0; i < TOUCHES; i++) {
        double *row = j->data + i * j->tda;
        const double h = off_axis(&at, &s->p[i], &d, v);
        row[0] = -jaw__dot3(v, s->e) / h;
        row[1] = -jaw__dot3(v, s->f) / h;
        row[2] = d * lean * row[0];
        row[3] = d * lean * row[1];
        row[4] = -1;
    }
    return GSL_SUCCESS;
}

static int sphere_f(const gsl_vector *x, void *data, gsl_vector *f)
{
    const set *s = data;
    const double *c = x->data;

    for (size_t i = 0; i < TOUCHES; i++) {
        const double d[3] = {s->p[i].x - c[0], s->p[i].y - c[1],
                             s->p[i].z - c[2]};
        f->data[i] = sqrt(jaw__dot3(d, d)) - c[3];
    }
    return GSL_SUCCESS;
}

static int sphere_df(const gsl_vector *x, void *data, gsl_matrix *j)
{
    const set *s = data;
    const double *c = x->data;

    for (size_t i = 0; i < TOUCHES; i++) {
        double *row = j->data + i * j->tda;
        const double d[3] = {s->p[i].x - c[0], s->p[i].y - c[1],
                             s->p[i].z - c[2]};
        const double h = sqrt(jaw__dot3(d, d));
        for (int k = 0; k < 3; k++)
            row[k] = -d[k] / h;
        row[3] = -1;
    }
    return GSL_SUCCESS;
}

static gsl_multifit_nlinear_workspace *work;
static gsl_matrix *cov;

static void gsl_make(size_t unknowns)
{
    gsl_multifit_nlinear_parameters how =
        gsl_multifit_nlinear_default_parameters();

    how.trs = gsl_multifit_nlinear_trs_lm;
    how.solver = gsl_multifit_nlinear_solver_qr;
    work = gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &how,
                                      TOUCHES, unknowns);
    cov = gsl_matrix_alloc(unknowns, unknowns);
}

static void gsl_done(void)
{
    gsl_matrix_free(cov);
    gsl_multifit_nlinear_free(work);
}

static double gsl_solve(set *s, size_t unknowns, double x[])
{
    gsl_multifit_nlinear_fdf what = {.n = TOUCHES, .p = unknowns, .params = s};
    gsl_vector_view at = gsl_vector_view_array(x, unknowns);
    double ssr;
    int info;

    what.f = unknowns == SPHERE ? sphere_f : cylinder_f;
    what.df = unknowns == SPHERE ? sphere_df : cylinder_df;
    gsl_multifit_nlinear_init(&at.vector, &what, work);
    if (gsl_multifit_nlinear_driver(100, 1e-12, 1e-15, 0, NULL, NULL, &info,
                                    work))
        exit(EXIT_FAILURE);
    gsl_multifit_nlinear_covar(gsl_multifit_nlinear_jac(work), 0, cov);
    gsl_vector *f = gsl_multifit_nlinear_residual(work);
    gsl_blas_ddot(f, f, &ssr);
    gsl_matrix_scale(cov, ssr / (TOUCHES - (double)unknowns));
    return gsl_multifit_nlinear_position(work)->data[unknowns - 1];
}

static double gsl_cylinders(void)
{
    double sum = 0;

    for (int k = 0; k < SETS; k++) {
        double x[CYLINDER] = {0, 0, 0, 0, sets[k].r};
        sum += gsl_solve(&sets[k], CYLINDER, x);
    }
    return sum;
}

static double gsl_spheres(void)
{
    double sum = 0;

    for (int k = 0; k < SETS; k++) {
        const double *c = sets[k].start;
        double x[SPHERE] = {c[0], c[1], c[2], sets[k].r};
        sum += gsl_solve(&sets[k], SPHERE, x);
    }
    return sum;
}

/* --------------------------------------------------------------------- runs */

static void clocked(double (*solve)(void), double *best)
{
    double t = now();

    sink = solve();
    t = (now() - t) / SETS * 1e6;
    if (t < *best)
        *best = t;
}

static double against_gsl(const char *what, bool round, bool late, double noise)
{
    double mine = HUGE_VAL, gsl = HUGE_VAL;

    for (int k = 0; k < SETS; k++) {
        if (round)
            make_sphere(&sets[k], noise);
        else
            make_cylinder(&sets[k], noise);
        set_start(&sets[k], round, late);
    }
    gsl_make(round ? SPHERE : CYLINDER);
    for (int i = 0; i < ROUNDS; i++) {
        clocked(round ? our_spheres : our_cylinders, &mine);
        clocked(round ? gsl_spheres : gsl_cylinders, &gsl);
    }
    gsl_done();
    printf("%-14s %d touches, noise %-6g %8.3f us\n", what, TOUCHES, noise,
           mine);
    printf("  gsl_multifit_nlinear                %8.3f us  %6.1f times\n", gsl,
           gsl / mine);
    return gsl / mine;
}

/* Both find the same radius. */
static bool agree(bool round)
{
    double worst = 0;

    gsl_make(round ? SPHERE : CYLINDER);
    for (int k = 0; k < SETS; k++) {
        jaw_sphere sphere;
        jaw_cylinder cylinder;
        const double *c = sets[k].start;
        double x[CYLINDER] = {0, 0, 0, 0, sets[k].r};
        double y[SPHERE] = {c[0], c[1], c[2], sets[k].r};
        double theirs = round ? gsl_solve(&sets[k], SPHERE, y)
                              : gsl_solve(&sets[k], CYLINDER, x);
        (void)jaw_fit_sphere(sets[k].p, TOUCHES, &sphere, NULL);
        (void)jaw_fit_cylinder(sets[k].p, TOUCHES, NULL, &cylinder, NULL);
        worst = fmax(worst, fabs(theirs - (round ? sphere.r : cylinder.r)));
    }
    gsl_done();
    printf("  radius: at most %.1g mm apart\n", worst);
    return worst < 1e-8;
}

int main(void)
{
    bool good = true;

    for (int i = 0; i < 2; i++) {
        const double noise = i ? 2e-2 : 2e-3;
        good = against_gsl("cylinder", false, false, noise) >= 10 && good;
        good = against_gsl("cylinder, late", false, true, noise) >= 10 && good;
        good = agree(false) && good;
        good = against_gsl("sphere", true, false, noise) >= 3 && good;
        good = agree(true) && good;
    }
    printf("%s\n", good ? "at least 10 times GSL, spheres 3 times"
                        : "SLOWER THAN PROMISED");
    return good ? EXIT_SUCCESS : EXIT_FAILURE;
}
