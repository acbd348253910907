/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rigid.c: the turn and shift that carry one set of points onto another,
 * weighted, never a mirror image.  In the plane the singular value
 * decomposition of the general case (Umeyama, IEEE PAMI 13 (1991) 376-380)
 * comes down to one arc tangent: the turn is the direction of
 * (sum w a.b, sum w a x b), a and b about their means. */
#include <jawline/fit.h>

#include "view.h"

typedef struct match {
    const jaw_vec2 *from, *to;
    const double *weight;
    size_t n;
    double unit;        /* of coordinates */
    double weight_unit; /* of weights */
    double noise;       /* of a singular value of either set */
    double total;       /* weight */
    jaw_vec2 a, b;      /* weighted means, in units, rounded */
    jaw_vec2 a_low, b_low; /* what rounding took from them */
    double aa, bb;      /* weighted squares about the means */
    jaw__turn turn;
} match;

static jaw_status give_up(jaw_status status, size_t n, jaw_rigid *fit,
                          jaw_vec2 resid[])
{
    const jaw_vec2 nowhere = {JAW__NAN, JAW__NAN};

    *fit = (jaw_rigid){
        .frame = {nowhere, JAW__NAN, JAW__NAN, JAW__NAN},
        .from_mean = nowhere,   .to_mean = nowhere,
        .scale = JAW__NAN,      .u_turn = JAW__NAN,
        .u_shift = JAW__NAN,    .q_turn = JAW__NAN,
        .q_shift = JAW__NAN,    .mirror_ssr = JAW__NAN,
        .ssr = JAW__NAN,        .rms = JAW__NAN,
        .s = JAW__NAN};
    for (size_t i = 0; resid && i < n; i++)
        resid[i] = nowhere;
    return status;
}

static double weight_of(const match *m, size_t i)
{
    return m->weight ? m->weight[i] * m->weight_unit : 1;
}

static jaw_status check_weights(match *m)
{
    double size;

    m->weight_unit = 1;
    if (!m->weight)
        return JAW_OK;
    size = jaw__size(m->weight, m->n);
    if (isnan(size))
        return JAW_ENOTFINITE;
    for (size_t i = 0; i < m->n; i++)
        if (!(m->weight[i] > 0))
            return JAW_EDOMAIN;
    m->weight_unit = jaw__unit(size);
    return JAW_OK;
}

/* Weighted mean, from differences to the first point and then from itself:
 * rounded, and what is left. */
static jaw_vec2 mean_of(const match *m, const jaw_vec2 p[], jaw_vec2 *low)
{
    jaw_vec2 at = {p->x * m->unit, p->y * m->unit};

    for (int pass = 0; pass < 2; pass++) {
        double x = 0, y = 0;
        for (size_t i = 0; i < m->n; i++) {
            x += weight_of(m, i) * (p[i].x * m->unit - at.x);
            y += weight_of(m, i) * (p[i].y * m->unit - at.y);
        }
        *low = (jaw_vec2){x / m->total, y / m->total};
        if (pass == 0)
            at = (jaw_vec2){at.x + low->x, at.y + low->y};
    }
    return at;
}

static jaw_status begin(match *m)
{
    const double size_a = jaw__size(&m->from->x, 2 * m->n);
    const double size_b = jaw__size(&m->to->x, 2 * m->n);
    jaw_status status = check_weights(m);

    if (isnan(size_a) || isnan(size_b))
        return JAW_ENOTFINITE;
    if (status != JAW_OK)
        return status;
    m->unit = jaw__unit(fmax(size_a, size_b));
    m->noise = jaw__noise(fmax(size_a, size_b) * m->unit, m->n);
    for (size_t i = 0; i < m->n; i++)
        m->total += weight_of(m, i);
    m->a = mean_of(m, m->from, &m->a_low);
    m->b = mean_of(m, m->to, &m->b_low);
    return JAW_OK;
}

static jaw_vec2 seen(const match *m, const jaw_vec2 *p, jaw_vec2 mean,
                     jaw_vec2 low)
{
    return (jaw_vec2){(p->x * m->unit - mean.x) - low.x,
                      (p->y * m->unit - mean.y) - low.y};
}

static void see(const match *m, size_t i, jaw_vec2 *a, jaw_vec2 *b)
{
    *a = seen(m, &m->from[i], m->a, m->a_low);
    *b = seen(m, &m->to[i], m->b, m->b_low);
}

/* What turn t leaves, about the means: to - R from; mirror -1 turns the mirror
 * image instead.  *cross: the sum that a further small turn would take away. */
static double leave(const match *m, jaw__turn t, double mirror, double *cross)
{
    double ssr = 0, sum = 0;

    for (size_t i = 0; i < m->n; i++) {
        jaw_vec2 a, b;
        see(m, i, &a, &b);
        double x = t.c * a.x - t.s * mirror * a.y;
        double y = t.s * a.x + t.c * mirror * a.y;
        double dx = b.x - x, dy = b.y - y, w = weight_of(m, i);
        ssr += w * (dx * dx + dy * dy);
        sum += w * (x * dy - y * dx);
    }
    *cross = sum;
    return ssr;
}

typedef struct crossed {
    double dot, cross;               /* of a and b */
    double mirror_dot, mirror_cross; /* of a with y reversed, and b */
} crossed;

static crossed cross_of(match *m)
{
    crossed k = {0, 0, 0, 0};

    for (size_t i = 0; i < m->n; i++) {
        jaw_vec2 a, b;
        see(m, i, &a, &b);
        double w = weight_of(m, i), xx = w * a.x * b.x, yy = w * a.y * b.y;
        double xy = w * a.x * b.y, yx = w * a.y * b.x;
        k.dot += xx + yy;
        k.cross += xy - yx;
        k.mirror_dot += xx - yy;
        k.mirror_cross += xy + yx;
        m->aa += w * (a.x * a.x + a.y * a.y);
        m->bb += w * (b.x * b.x + b.y * b.y);
    }
    return k;
}

static jaw__turn turn_to(double c, double s)
{
    double h = hypot(c, s);

    return h > 0 ? (jaw__turn){c / h, s / h} : (jaw__turn){1, 0};
}

/* One place: no extent.  No turn is better than another when what the sets
 * have in common is less than rounding of either makes of it. */
static bool undetermined(const match *m, const crossed *k)
{
    const double noise = m->noise;
    const double a = sqrt(m->aa / m->total), b = sqrt(m->bb / m->total);

    return a <= noise || b <= noise ||
           hypot(k->dot, k->cross) / m->total <= noise * (a + b);
}

static jaw_status solve(match *m, jaw_rigid *fit)
{
    const crossed k = cross_of(m);
    double cross, ssr;

    if (undetermined(m, &k))
        return JAW_ERANK;
    m->turn = turn_to(k.dot, k.cross);
    ssr = leave(m, m->turn, 1, &cross);
    /* what rounding of the sums left of the turn, found from the residuals */
    double more = cross / hypot(k.dot, k.cross);
    m->turn = turn_to(m->turn.c - m->turn.s * more,
                      m->turn.s + m->turn.c * more);
    fit->ssr = fmax(ssr - cross * more, 0);
    fit->scale = hypot(k.dot, k.cross) / m->aa;
    fit->mirror_ssr = leave(m, turn_to(k.mirror_dot, k.mirror_cross), -1,
                            &cross);
    return JAW_OK;
}

static void report(const match *m, jaw_rigid *fit)
{
    const double n = (double)m->n, dof = 2 * n - 3, unit = m->unit;
    const double wu = m->weight_unit;
    const jaw__turn t = m->turn;
    jaw_vec2 a = {m->a.x / unit, m->a.y / unit};
    jaw_vec2 b = {m->b.x / unit, m->b.y / unit};
    double root = sqrt(fit->ssr);

    fit->from_mean = a;
    fit->to_mean = b;
    fit->frame.c = t.c;
    fit->frame.s = t.s;
    fit->frame.turn = jaw_angle_full(atan2(t.s, t.c));
    fit->frame.origin.x = (m->b.x - (t.c * m->a.x - t.s * m->a.y)) / unit;
    fit->frame.origin.y = (m->b.y - (t.s * m->a.x + t.c * m->a.y)) / unit;
    fit->q_turn = unit * unit / m->aa * wu;
    fit->q_shift = wu / m->total;
    fit->rms = root / sqrt(m->total) / unit;
    fit->u_turn = root / sqrt(dof) / sqrt(m->aa);
    fit->u_shift = root / sqrt(dof) / sqrt(m->total) / unit;
    fit->s = root / sqrt(dof) / unit / sqrt(wu);
    fit->ssr = fit->ssr / unit / unit / wu;
    fit->mirror_ssr = fit->mirror_ssr / unit / unit / wu;
    fit->dof = jaw__dof(dof);
    fit->flags = 0;
}

static void leave_each(const match *m, jaw_vec2 resid[])
{
    const jaw__turn t = m->turn;

    for (size_t i = 0; i < m->n; i++) {
        jaw_vec2 a, b;
        see(m, i, &a, &b);
        resid[i].x = (b.x - (t.c * a.x - t.s * a.y)) / m->unit;
        resid[i].y = (b.y - (t.s * a.x + t.c * a.y)) / m->unit;
    }
}

jaw_status jaw_fit_rigid(const jaw_vec2 from[], const jaw_vec2 to[],
                         const double weight[], size_t n, jaw_rigid *fit,
                         jaw_vec2 resid[])
{
    match m = {.from = from, .to = to, .weight = weight, .n = n};
    jaw_status status = n < 2 ? JAW_EFEW : begin(&m);

    if (status == JAW_OK)
        status = solve(&m, fit);
    if (status != JAW_OK)
        return give_up(status, n, fit, resid);
    report(&m, fit);
    if (resid)
        leave_each(&m, resid);
    return JAW_OK;
}
