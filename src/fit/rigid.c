/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rigid.c: the turn and shift that carry one set of points onto another,
 * weighted, never a mirror image.  In the plane the singular value
 * decomposition of the general case (Umeyama, IEEE PAMI 13 (1991) 376-380)
 * comes down to one arc tangent: the turn is the direction of
 * (sum w a.b, sum w a x b), a and b about their means. */
#include <jawline/fit.h>

#include "weights.h"

enum { FEW = 16 };

typedef struct match {
    const jaw_vec2 *from, *to;
    jaw__weights weights;
    size_t n;
    double unit;        /* of coordinates */
    double noise;       /* of a singular value of either set */
    double total;       /* weight */
    jaw_vec2 a, b;      /* weighted means, in units, rounded */
    jaw_vec2 a_low, b_low; /* what rounding took from them */
    double aa, bb;      /* weighted squares about the means */
    jaw__turn turn;
    jaw_vec2 few[2][FEW]; /* the points from their means, when they are few */
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

/* Weighted mean, from differences to the first point and then from itself:
 * rounded, and what is left. */
static jaw_vec2 mean_of(const match *m, const jaw_vec2 p[], jaw_vec2 *low)
{
    jaw_vec2 at = {p->x * m->unit, p->y * m->unit};

    for (int pass = 0; pass < 2; pass++) {
        double x = 0, y = 0;
        for (size_t i = 0; i < m->n; i++) {
            x += jaw__weight(&m->weights, i) * (p[i].x * m->unit - at.x);
            y += jaw__weight(&m->weights, i) * (p[i].y * m->unit - at.y);
        }
        *low = (jaw_vec2){x / m->total, y / m->total};
        if (pass == 0)
            at = (jaw_vec2){at.x + low->x, at.y + low->y};
    }
    return at;
}

static jaw_vec2 seen(const match *m, const jaw_vec2 *p, jaw_vec2 mean,
                     jaw_vec2 low)
{
    return (jaw_vec2){(p->x * m->unit - mean.x) - low.x,
                      (p->y * m->unit - mean.y) - low.y};
}

static jaw_status begin(match *m, const jaw_vec2 from[], const jaw_vec2 to[],
                        const double weight[], size_t n)
{
    const double size_a = jaw__size(&from->x, 2 * n);
    const double size_b = jaw__size(&to->x, 2 * n);

    m->from = from;
    m->to = to;
    m->n = n;
    jaw_status status = jaw__weights_take(&m->weights, weight, n);

    if (isnan(size_a) || isnan(size_b))
        return JAW_ENOTFINITE;
    if (status != JAW_OK)
        return status;
    m->unit = jaw__unit(fmax(size_a, size_b));
    m->noise = jaw__noise(fmax(size_a, size_b) * m->unit, m->n);
    m->total = 0;
    for (size_t i = 0; i < n; i++)
        m->total += jaw__weight(&m->weights, i);
    m->a = mean_of(m, m->from, &m->a_low);
    m->b = mean_of(m, m->to, &m->b_low);
    for (size_t i = 0; n <= FEW && i < n; i++) {
        m->few[0][i] = seen(m, &from[i], m->a, m->a_low);
        m->few[1][i] = seen(m, &to[i], m->b, m->b_low);
    }
    return JAW_OK;
}

static void see(const match *m, size_t i, jaw_vec2 *a, jaw_vec2 *b)
{
    if (m->n <= FEW) {
        *a = m->few[0][i];
        *b = m->few[1][i];
        return;
    }
    *a = seen(m, &m->from[i], m->a, m->a_low);
    *b = seen(m, &m->to[i], m->b, m->b_low);
}

typedef struct left {
    double ssr, cross; /* of the turn; cross: what a further small turn would
                          take away */
    double mirror_ssr; /* of the mirror's */
} left;

/* What turn t of the points, and turn u of their mirror images, leave about the
 * means: to - R from. */
static left leave(const match *m, jaw__turn t, jaw__turn u)
{
    left sum = {0, 0, 0};

    for (size_t i = 0; i < m->n; i++) {
        jaw_vec2 a, b;
        see(m, i, &a, &b);
        double x = t.c * a.x - t.s * a.y, y = t.s * a.x + t.c * a.y;
        double dx = b.x - x, dy = b.y - y, w = jaw__weight(&m->weights, i);
        double mx = b.x - (u.c * a.x + u.s * a.y);
        double my = b.y - (u.s * a.x - u.c * a.y);
        sum.ssr += w * (dx * dx + dy * dy);
        sum.cross += w * (x * dy - y * dx);
        sum.mirror_ssr += w * (mx * mx + my * my);
    }
    return sum;
}

typedef struct crossed {
    double dot, cross;               /* of a and b */
    double mirror_dot, mirror_cross; /* of a with y reversed, and b */
} crossed;

static crossed cross_of(match *m)
{
    crossed k = {0, 0, 0, 0};

    m->aa = m->bb = 0;
    for (size_t i = 0; i < m->n; i++) {
        jaw_vec2 a, b;
        see(m, i, &a, &b);
        double w = jaw__weight(&m->weights, i);
        double xx = w * a.x * b.x, yy = w * a.y * b.y;
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

static jaw__turn turn_to(double c, double s, double h)
{
    return h > 0 ? (jaw__turn){c / h, s / h} : (jaw__turn){1, 0};
}

/* One place: no extent.  No turn is better than another when what the sets
 * have in common is less than rounding of either makes of it. */
static bool undetermined(const match *m, double common)
{
    const double noise = m->noise;
    const double a = sqrt(m->aa / m->total), b = sqrt(m->bb / m->total);

    return a <= noise || b <= noise || common / m->total <= noise * (a + b);
}

static jaw_status solve(match *m, jaw_rigid *fit)
{
    const crossed k = cross_of(m);
    const double common = hypot(k.dot, k.cross);
    const double mirrored = hypot(k.mirror_dot, k.mirror_cross);

    if (undetermined(m, common))
        return JAW_ERANK;
    const jaw__turn t = turn_to(k.dot, k.cross, common);
    const left l = leave(m, t, turn_to(k.mirror_dot, k.mirror_cross, mirrored));
    /* what rounding of the sums left of the turn, found from the residuals */
    const double more = l.cross / common;
    m->turn = turn_to(t.c - t.s * more, t.s + t.c * more,
                      sqrt(1 + more * more));
    fit->ssr = fmax(l.ssr - l.cross * more, 0);
    fit->scale = common / m->aa;
    fit->mirror_ssr = l.mirror_ssr;
    return JAW_OK;
}

/* Away from quarter turns an arc tangent is in (-pi, pi] as it comes. */
static double angle_of(jaw__turn t)
{
    const double a = atan2(t.s, t.c);

    return fabs(t.c * t.s) < 0x1p-50 ? jaw_angle_full(a) : a;
}

static void report(const match *m, jaw_rigid *fit)
{
    const double n = (double)m->n, dof = 2 * n - 3;
    const double back = 1 / m->unit; /* a power of two */
    const double wu = m->weights.unit, share = 1 / sqrt(m->total);
    const jaw__turn t = m->turn;
    const double root = sqrt(fit->ssr), spread = root / sqrt(dof);

    fit->from_mean = (jaw_vec2){m->a.x * back, m->a.y * back};
    fit->to_mean = (jaw_vec2){m->b.x * back, m->b.y * back};
    fit->frame.c = t.c;
    fit->frame.s = t.s;
    fit->frame.turn = angle_of(t);
    fit->frame.origin.x = (m->b.x - (t.c * m->a.x - t.s * m->a.y)) * back;
    fit->frame.origin.y = (m->b.y - (t.s * m->a.x + t.c * m->a.y)) * back;
    fit->q_turn = m->unit * m->unit / m->aa * wu;
    fit->q_shift = wu / m->total;
    fit->rms = root * share * back;
    fit->u_turn = spread / sqrt(m->aa);
    fit->u_shift = spread * share * back;
    fit->s = spread * back / sqrt(wu);
    fit->ssr = fit->ssr * back * back / wu;
    fit->mirror_ssr = fit->mirror_ssr * back * back / wu;
    fit->dof = jaw__dof(dof);
    fit->flags = 0;
}

static void leave_each(const match *m, jaw_vec2 resid[])
{
    const jaw__turn t = m->turn;
    const double back = 1 / m->unit; /* a power of two */

    for (size_t i = 0; i < m->n; i++) {
        jaw_vec2 a, b;
        see(m, i, &a, &b);
        resid[i].x = (b.x - (t.c * a.x - t.s * a.y)) * back;
        resid[i].y = (b.y - (t.s * a.x + t.c * a.y)) * back;
    }
}

jaw_status jaw_fit_rigid(const jaw_vec2 from[], const jaw_vec2 to[],
                         const double weight[], size_t n, jaw_rigid *fit,
                         jaw_vec2 resid[])
{
    match m;
    jaw_status status = n < 2 ? JAW_EFEW : begin(&m, from, to, weight, n);

    if (status == JAW_OK)
        status = solve(&m, fit);
    if (status != JAW_OK)
        return give_up(status, n, fit, resid);
    report(&m, fit);
    if (resid)
        leave_each(&m, resid);
    return JAW_OK;
}
