/* SPDX-License-Identifier: GPL-3.0-or-later */
/* robust.c: several bad touches at once.
 *
 * Start: the least median of squares (Rousseeuw, JASA 79 (1984) 871-880): of
 * the features through as few touches as make one, that which leaves the
 * smallest h-th residual, h = [n/2] + [(p+1)/2]; scale 1.4826 (1 + 5/(n-p))
 * times that residual (Rousseeuw & Leroy, Robust Regression and Outlier
 * Detection, 1987, ch. 5).  What lies beyond 2.5 scales is a candidate, and the
 * rest is fitted by least squares (reweighted least squares, ibid.).
 * Decision: with few touches one in three sets has a candidate without cause,
 * so each is tested on its way back, nearest first, by its residual over its
 * own standard deviation (Rosner, Technometrics 25 (1983) 165-172, carried to
 * regression by Paul & Fung, Technometrics 33 (1991) 339-348): suspect is the
 * largest number of candidates of which the nearest fails the test. */
#include "robust.h"

#include "lever.h"
#include "random.h"

#include <stdlib.h>

enum { SETS_MOST = 3000 };

/* ------------------------------------------------------------------- kinds */

static bool circle_through(const jaw__robust *w, const size_t pick[],
                           double shape[])
{
    const jaw_vec2 *p = w->p, *a = &p[pick[0]];
    double bx = p[pick[1]].x - a->x, by = p[pick[1]].y - a->y;
    double cx = p[pick[2]].x - a->x, cy = p[pick[2]].y - a->y;
    double bb = bx * bx + by * by, cc = cx * cx + cy * cy;
    double det = 2 * (bx * cy - by * cx);

    shape[0] = (cy * bb - by * cc) / det;
    shape[1] = (bx * cc - cx * bb) / det;
    shape[2] = a->x;
    shape[3] = a->y;
    return isfinite(shape[0]) && isfinite(shape[1]);
}

/* d - r as (d^2 - r^2) / (d + r), seen from the first touch. */
static double circle_off(const jaw__robust *w, size_t i, const double shape[])
{
    const jaw_vec2 *p = w->p;
    double x = p[i].x - shape[2], y = p[i].y - shape[3];
    double r = hypot(shape[0], shape[1]);
    double d = hypot(x - shape[0], y - shape[1]);

    return (x * (x - 2 * shape[0]) + y * (y - 2 * shape[1])) / (d + r);
}

static jaw_status circle_fit(jaw__robust *w, const void *p, size_t n)
{
    jaw_status status = jaw_fit_circle(p, n, &w->fit.circle, NULL);

    w->ssr = w->fit.circle.ssr;
    return status;
}

static double circle_lever(const jaw__robust *w, const void *of, size_t i,
                           double *resid)
{
    const jaw_vec2 *p = of;

    return jaw__lever_circle(&w->fit.circle, false, p[i], resid);
}

static bool line_through(const jaw__robust *w, const size_t pick[],
                         double shape[])
{
    const jaw_vec2 *p = w->p;
    double x = p[pick[1]].x - p[pick[0]].x, y = p[pick[1]].y - p[pick[0]].y;
    double d = hypot(x, y);

    shape[0] = -y / d;
    shape[1] = x / d;
    shape[2] = p[pick[0]].x;
    shape[3] = p[pick[0]].y;
    return d > 0;
}

static double line_off(const jaw__robust *w, size_t i, const double shape[])
{
    const jaw_vec2 *p = w->p;

    return (p[i].x - shape[2]) * shape[0] + (p[i].y - shape[3]) * shape[1];
}

static jaw_status line_fit(jaw__robust *w, const void *p, size_t n)
{
    jaw_status status = jaw_fit_line(p, n, &w->fit.line, NULL);

    w->ssr = w->fit.line.ssr;
    return status;
}

static double line_lever(const jaw__robust *w, const void *of, size_t i,
                          double *resid)
{
    const jaw_vec2 *p = of;

    return jaw__lever_line(&w->fit.line, p[i], resid);
}

static bool plane_through(const jaw__robust *w, const size_t pick[],
                          double shape[])
{
    const jaw_vec3 *p = w->p, *a = &p[pick[0]];
    const jaw_vec3 *b = &p[pick[1]], *c = &p[pick[2]];
    double bx = b->x - a->x, by = b->y - a->y, bz = b->z - a->z;
    double cx = c->x - a->x, cy = c->y - a->y, cz = c->z - a->z;
    double x = by * cz - bz * cy, y = bz * cx - bx * cz, z = bx * cy - by * cx;
    double d = hypot(hypot(x, y), z);

    shape[0] = x / d;
    shape[1] = y / d;
    shape[2] = z / d;
    shape[3] = a->x;
    shape[4] = a->y;
    shape[5] = a->z;
    return d > 0;
}

static double plane_off(const jaw__robust *w, size_t i, const double shape[])
{
    const jaw_vec3 *p = w->p;

    return (p[i].x - shape[3]) * shape[0] + (p[i].y - shape[4]) * shape[1] +
           (p[i].z - shape[5]) * shape[2];
}

static jaw_status plane_fit(jaw__robust *w, const void *p, size_t n)
{
    jaw_status status = jaw_fit_plane(p, n, &w->fit.plane, NULL);

    w->ssr = w->fit.plane.ssr;
    return status;
}

static double plane_lever(const jaw__robust *w, const void *of, size_t i,
                          double *resid)
{
    const jaw_vec3 *p = of;

    return jaw__lever_plane(&w->fit.plane, p[i], resid);
}

/* ------------------------------------------------------------------- start */

/* The h smallest of v[n] come first, in order. */
static double nth_smallest(double v[], size_t n, size_t h)
{
    for (size_t at = 0; at < n; at++) {
        double x = v[at];
        size_t k = at;
        if (at >= h) {
            if (x >= v[h - 1])
                continue;
            k = h - 1;
        }
        for (; k > 0 && v[k - 1] > x; k--)
            v[k] = v[k - 1];
        v[k] = x;
    }
    return v[h - 1];
}

/* The h-th smallest |residual| of a feature; anything above `best` as soon as
 * it can't be smaller than that. */
static double middle_off(jaw__robust *w, const double shape[], double best)
{
    size_t above = 0;

    for (size_t i = 0; i < w->n; i++) {
        w->off[i] = fabs(w->kind->off(w, i, shape));
        above += w->off[i] < best ? 0 : 1;
        if (above > w->n - w->h)
            return HUGE_VAL;
    }
    return nth_smallest(w->off, w->n, w->h);
}

/* The next set in order (0 1 2, 0 1 3 ...); false after the last. */
static bool next_set(size_t pick[], size_t need, size_t n)
{
    size_t k = need;

    while (k > 0 && pick[k - 1] == n - need + k - 1)
        k--;
    if (k == 0)
        return false;
    pick[k - 1]++;
    for (; k < need; k++)
        pick[k] = pick[k - 1] + 1;
    return true;
}

static bool all_sets_are_few(size_t n, size_t need)
{
    double sets = 1;

    for (size_t k = 0; k < need; k++)
        sets *= (double)(n - k) / (double)(k + 1);
    return sets <= SETS_MOST;
}

static void draw_set(jaw_random *random, size_t pick[], size_t need, size_t n)
{
    for (size_t k = 0; k < need; k++) {
        bool again = true;
        while (again) {
            pick[k] = (size_t)(jaw__random_even(random) * (double)n);
            again = false;
            for (size_t j = 0; j < k; j++)
                again = again || pick[j] == pick[k];
        }
    }
}

/* The smallest middle residual, and every touch's residual then. */
static double start(jaw__robust *w, size_t *tried)
{
    const jaw__robust_kind *as = w->kind;
    size_t pick[JAW__NEED_MOST] = {0, 1, 2, 3, 4};
    bool all = all_sets_are_few(w->n, as->need), more = true;
    jaw_random random = jaw__random_start(w->n, 0);
    double best = HUGE_VAL;
    double shape[JAW__SHAPE_MOST] = {0}, kept[JAW__SHAPE_MOST] = {0};

    for (*tried = 0; more; ++*tried) {
        if (!all)
            draw_set(&random, pick, as->need, w->n);
        if (as->through(w, pick, shape)) {
            double middle = middle_off(w, shape, best);
            for (int k = 0; k < JAW__SHAPE_MOST && middle < best; k++)
                kept[k] = shape[k];
            best = fmin(best, middle);
        }
        more = all ? next_set(pick, as->need, w->n) : *tried < SETS_MOST;
    }
    for (size_t i = 0; i < w->n && best < HUGE_VAL; i++)
        w->far[i] = fabs(as->off(w, i, kept));
    return best;
}

/* ---------------------------------------------------------------- decision */

static void order_by(jaw__robust *w, size_t from, const double key[])
{
    for (size_t i = from + 1; i < w->n; i++) {
        size_t one = w->order[i], k = i;
        for (; k > from && key[w->order[k - 1]] > key[one]; k--)
            w->order[k] = w->order[k - 1];
        w->order[k] = one;
    }
}

/* The first m touches of the order. */
static jaw_status fit_first(jaw__robust *w, size_t m)
{
    const char *from = w->p;
    char *to = w->some;

    for (size_t i = 0; i < m; i++)
        for (size_t b = 0; b < w->kind->size; b++)
            to[i * w->kind->size + b] = from[w->order[i] * w->kind->size + b];
    return w->kind->fit(w, w->some, m);
}

/* Whether the last of the first m touches is too far off the others. */
static bool last_is_bad(jaw__robust *w, size_t m)
{
    double dof = (double)m - (double)w->kind->need, resid;
    double level = JAW_ROBUST_ALPHA / (double)m;

    if (fit_first(w, m) != JAW_OK || dof < (w->sigma > 0 ? 1 : 2))
        return false;
    double lever = w->kind->lever(w, w->p, w->order[m - 1], &resid);
    double spread = w->sigma > 0 ? w->sigma : sqrt(w->ssr / dof);
    double limit = w->sigma > 0 ? jaw_trust_cover(1 - level, (double)INFINITY)
                                : jaw_trust_tau(level, dof);
    return fabs(resid) > limit * spread * sqrt(1 - lever);
}

/* How many stay, of `kept` that certainly do. */
static size_t decide(jaw__robust *w, size_t kept)
{
    double resid;

    if (kept < w->n && fit_first(w, kept) == JAW_OK) {
        for (size_t i = kept; i < w->n; i++) {
            w->kind->lever(w, w->p, w->order[i], &resid);
            w->far[w->order[i]] = fabs(resid);
        }
        order_by(w, kept, w->far);
    }
    for (size_t m = kept + 1; m <= w->n; m++)
        if (last_is_bad(w, m))
            return m - 1;
    return w->n;
}

static jaw_status find(jaw__robust *w, bool suspect[], jaw_robust *out)
{
    double middle = start(w, &out->tried);
    double unknowns = (double)w->kind->need, n = (double)w->n;

    for (size_t i = 0; i < w->n; i++)
        w->order[i] = i;
    size_t kept = w->n;
    if (middle < HUGE_VAL && w->n > w->kind->need) {
        out->scale = 1.4826 * (1 + 5 / (n - unknowns)) * middle;
        double cut = 2.5 * (w->sigma > 0 ? w->sigma : out->scale);
        order_by(w, 0, w->far);
        for (kept = w->h; kept < w->n && w->far[w->order[kept]] <= cut;)
            kept++;
    }
    kept = decide(w, kept);
    jaw_status status = fit_first(w, kept);
    for (size_t i = 0; i < w->n && status == JAW_OK; i++)
        suspect[w->order[i]] = i >= kept;
    out->suspects = w->n - kept;
    if (status == JAW_OK && kept > w->kind->need)
        out->spread = sqrt(w->ssr / ((double)kept - unknowns));
    return status;
}

static jaw_status check(const double x[], size_t n, double sigma)
{
    for (size_t i = 0; i < n; i++)
        if (!isfinite(x[i]))
            return JAW_ENOTFINITE;
    return sigma >= 0 && !isinf(sigma) ? JAW_OK : JAW_EDOMAIN;
}

jaw_status jaw__robust_run(jaw__robust *w, bool suspect[], jaw_robust *out,
                           jaw_status status)
{

    *out = (jaw_robust){.scale = (double)NAN, .spread = (double)NAN};
    for (size_t i = 0; i < w->n; i++)
        suspect[i] = false;
    if (status != JAW_OK)
        return status;
    if (w->n < w->kind->need)
        return JAW_EFEW;
    status = check(w->p, w->n * (w->kind->size / sizeof(double)), w->sigma);
    if (status != JAW_OK)
        return status;
    w->h = w->n / 2 + (w->kind->need + 1) / 2;
    w->h = w->h < w->n ? w->h : w->n;
    w->off = malloc(2 * w->n * sizeof *w->off);
    w->far = malloc(w->n * sizeof *w->far);
    w->order = malloc(w->n * sizeof *w->order);
    w->some = malloc(w->n * w->kind->size);
    status = w->off && w->far && w->order && w->some ? find(w, suspect, out)
                                                     : JAW_ENOMEM;
    free(w->off);
    free(w->far);
    free(w->order);
    free(w->some);
    if (status != JAW_OK)
        *out = (jaw_robust){.scale = (double)NAN, .spread = (double)NAN};
    return status;
}

/* ------------------------------------------------------------------ public */

jaw_status jaw_robust_circle(const jaw_vec2 p[], size_t n, double sigma,
                             bool suspect[], jaw_circle *c, jaw_robust *robust)
{
    static const jaw__robust_kind circle = {
        sizeof(jaw_vec2), 3, circle_through, circle_off, circle_fit,
        circle_lever};
    jaw__robust w = {.kind = &circle, .p = p, .n = n, .sigma = sigma};
    jaw_status status = jaw__robust_run(&w, suspect, robust, JAW_OK);

    if (status != JAW_OK) /* as the fit says it of nothing */
        jaw_fit_circle(NULL, 0, &w.fit.circle, NULL);
    *c = w.fit.circle;
    return status;
}

jaw_status jaw_robust_line(const jaw_vec2 p[], size_t n, double sigma,
                           bool suspect[], jaw_line *line, jaw_robust *robust)
{
    static const jaw__robust_kind straight = {
        sizeof(jaw_vec2), 2, line_through, line_off, line_fit, line_lever};
    jaw__robust w = {.kind = &straight, .p = p, .n = n, .sigma = sigma};
    jaw_status status = jaw__robust_run(&w, suspect, robust, JAW_OK);

    if (status != JAW_OK)
        jaw_fit_line(NULL, 0, &w.fit.line, NULL);
    *line = w.fit.line;
    return status;
}

jaw_status jaw_robust_plane(const jaw_vec3 p[], size_t n, double sigma,
                            bool suspect[], jaw_plane *plane,
                            jaw_robust *robust)
{
    static const jaw__robust_kind flat = {
        sizeof(jaw_vec3), 3, plane_through, plane_off, plane_fit,
        plane_lever};
    jaw__robust w = {.kind = &flat, .p = p, .n = n, .sigma = sigma};
    jaw_status status = jaw__robust_run(&w, suspect, robust, JAW_OK);

    if (status != JAW_OK)
        jaw_fit_plane(NULL, 0, &w.fit.plane, NULL);
    *plane = w.fit.plane;
    return status;
}
