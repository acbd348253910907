/* SPDX-License-Identifier: GPL-3.0-or-later */
/* block.c: the effective diameter from opposite faces of a block of known
 * size.  With n the normal of both, pointing from the low face to the high
 * one, and m their middle, a touch p says
 *     high   n . p = m + (size + D) / 2        low   n . p = m - (size + D) / 2
 * so that D is known as well along each pair's normal as the size is. */
#include "model.h"

#include <math.h>

#define NO_NUMBER ((double)NAN)
#define PI 3.14159265358979323846

/* unknowns of a pair, from its first on */
enum { MIDDLE, DIAMETER, SIZE, TURN, PAIR_UNKNOWNS };

/* -------------------------------------------------------------------- model */

double jaw__faces_touch(const void *faces, const double x[], size_t i,
                        double dg[])
{
    const jaw__faces *f = faces;
    size_t k = 0, count = f->pair[0].n_low + f->pair[0].n_high;

    for (size_t j = 0; j < JAW__MODEL_MAX; j++)
        dg[j] = 0;
    if (i >= count) {
        i -= count;
        k = 1;
    }
    const jaw_tip_faces *pair = &f->pair[k];
    bool high = i >= pair->n_low;
    jaw_vec2 p = high ? pair->high[i - pair->n_low] : pair->low[i];
    const double *y = x + f->first[k];
    double turn = f->assumed[k] ? 0 : y[TURN], side = high ? 1 : -1;
    double c = cos(f->theta[k] + turn), s = sin(f->theta[k] + turn);
    double dx = p.x - f->mean[k].x, dy = p.y - f->mean[k].y;

    dg += f->first[k];
    dg[MIDDLE] = -side;
    dg[DIAMETER] = dg[SIZE] = -0.5;
    if (!f->assumed[k])
        dg[TURN] = side * (c * dy - s * dx);
    return side * (c * dx + s * dy - y[MIDDLE]) - (y[DIAMETER] + y[SIZE]) / 2;
}

/* -------------------------------------------------------------------- start */

static jaw_status mean_of(const jaw_vec2 p[], size_t n, jaw_vec2 *mean)
{
    *mean = (jaw_vec2){0, 0};
    if (n < 1)
        return JAW_EFEW;
    for (size_t i = 0; i < n; i++) {
        if (!isfinite(p[i].x) || !isfinite(p[i].y))
            return JAW_ENOTFINITE;
        mean->x += p[i].x / (double)n;
        mean->y += p[i].y / (double)n;
    }
    return isfinite(hypot(mean->x, mean->y)) ? JAW_OK : JAW_ENOTFINITE;
}

/* Sums of the touches' products about their face's mean: a direction along
 * both faces by the largest extent (Shakarji & Srinivasan, J. Comput. Inf. Sci.
 * Eng. 13 (2013) 031008). */
static void add_extent(const jaw_vec2 p[], size_t n, jaw_vec2 mean,
                       double sum[3])
{
    for (size_t i = 0; i < n; i++) {
        double dx = p[i].x - mean.x, dy = p[i].y - mean.y;
        sum[0] += dx * dx;
        sum[1] += dx * dy;
        sum[2] += dy * dy;
    }
}

/* Touches of a face that lie closer together than this share of the gap show
 * its direction no better than an eye does (a degree: 1 in 57): they are meant
 * for one place. */
#define ONE_PLACE 0.01

/* The normal's direction of pair k, and its middle. */
static jaw_status start_pair(jaw__faces *f, size_t k, double *scale)
{
    const jaw_tip_faces *pair = &f->pair[k];
    jaw_vec2 low, high;
    double sum[3] = {0, 0, 0};
    jaw_status status = mean_of(pair->low, pair->n_low, &low);

    if (status == JAW_OK)
        status = mean_of(pair->high, pair->n_high, &high);
    if (status != JAW_OK)
        return status;
    f->mean[k] = (jaw_vec2){low.x / 2 + high.x / 2, low.y / 2 + high.y / 2};
    double dx = high.x - low.x, dy = high.y - low.y;
    add_extent(pair->low, pair->n_low, low, sum);
    add_extent(pair->high, pair->n_high, high, sum);
    double extent = sqrt(sum[0] + sum[2]);
    if (!isfinite(extent))
        return JAW_ENOTFINITE;
    if (dx == 0 && dy == 0)
        return JAW_ERANK;
    *scale = fmax(*scale, fmax(hypot(dx, dy), extent));
    f->assumed[k] = !(extent > hypot(dx, dy) * ONE_PLACE);
    f->theta[k] = f->assumed[k]
                      ? (fabs(dx) >= fabs(dy) ? 0 : PI / 2)
                      : atan2(2 * sum[1], sum[0] - sum[2]) / 2 + PI / 2;
    /* from the low face to the high one */
    if (cos(f->theta[k]) * dx + sin(f->theta[k]) * dy < 0)
        f->theta[k] -= PI;
    return JAW_OK;
}

static double gap(const jaw__faces *f, size_t k)
{
    const jaw_tip_faces *pair = &f->pair[k];
    jaw_vec2 low, high;

    mean_of(pair->low, pair->n_low, &low);
    mean_of(pair->high, pair->n_high, &high);
    return cos(f->theta[k]) * (high.x - low.x) +
           sin(f->theta[k]) * (high.y - low.y);
}

static jaw_status fit(jaw__faces *f, jaw__solved *s)
{
    jaw__model m = {.data = f, .touch = jaw__faces_touch, .n_known = f->n};
    *s = (jaw__solved){.x = {0}};

    for (size_t k = 0; k < f->n; k++) {
        const jaw_tip_faces *pair = &f->pair[k];
        jaw_status status = start_pair(f, k, &m.scale);
        if (status != JAW_OK)
            return status;
        f->first[k] = m.unknowns;
        m.size[k] = m.unknowns + SIZE;
        m.value[k] = pair->known.size;
        s->x[m.unknowns + SIZE] = pair->known.size;
        s->x[m.unknowns + DIAMETER] = gap(f, k) - pair->known.size;
        m.unknowns += f->assumed[k] ? PAIR_UNKNOWNS - 1 : PAIR_UNKNOWNS;
        m.n_touch += pair->n_low + pair->n_high;
    }
    return jaw__model_solve(&m, s);
}

/* ------------------------------------------------------------------ results */

static void clear(jaw_tip_block *b)
{
    *b = (jaw_tip_block){.differs = false};
    double *const all[] = {
        &b->diameter[0], &b->diameter[1], &b->u_diameter[0], &b->u_diameter[1],
        &b->dof[0],      &b->dof[1],      &b->theta[0],      &b->theta[1],
        &b->both,        &b->u_both,      &b->dof_both,      &b->differ,
        &b->u_differ,    &b->repeat,      &b->seen,          &b->dof_repeat,
        &b->ssr,         &b->rms,         &b->within[0],     &b->within[1],
        &b->within_both};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++)
        *all[i] = NO_NUMBER;
}

static size_t count_touches(const jaw_tip_faces pair[], size_t n)
{
    size_t count = 0;

    for (size_t k = 0; k < n && k < 2; k++)
        count += pair[k].n_low + pair[k].n_high;
    return count;
}

static jaw_status check(const jaw_tip_faces pair[], size_t n, double repeat)
{
    if (n < 1 || n > 2)
        return JAW_EDOMAIN;
    jaw_status status = jaw__repeat_check(repeat);
    for (size_t k = 0; status == JAW_OK && k < n; k++)
        status = jaw__known_check(pair[k].known);
    return status;
}

/* Weighted by what is known of each (JCGM 100 knows no better of independent
 * estimates); by the touches' geometry alone when no spread is known. */
static void put_both(jaw_tip_block *b, const double touch[2],
                     const double size_u[2], const double q[2])
{
    bool known = b->u_diameter[0] > 0 && b->u_diameter[1] > 0;
    double v0 = known ? b->u_diameter[0] * b->u_diameter[0] : q[0];
    double v1 = known ? b->u_diameter[1] * b->u_diameter[1] : q[1];
    double w = v1 / (v0 + v1);
    double u = hypot(w * touch[0], (1 - w) * touch[1]);
    double exact = hypot(w * size_u[0], (1 - w) * size_u[1]);

    b->both = b->diameter[1] + w * (b->diameter[0] - b->diameter[1]);
    b->u_both = hypot(u, exact);
    b->dof_both = jaw__effective(u, b->dof_repeat, exact);
    b->within_both = jaw_trust_within(u, b->dof_repeat, exact);
    u = hypot(touch[0], touch[1]);
    exact = hypot(size_u[0], size_u[1]);
    b->differ = b->diameter[0] - b->diameter[1];
    b->u_differ = hypot(u, exact);
    double f = b->differ / b->u_differ;
    f *= f;
    b->differs = f > jaw_trust_f(JAW_TIP_LEVEL, 1,
                                 jaw__effective(u, b->dof_repeat, exact));
}

static bool same_on_face(const void *touches, size_t i, size_t j)
{
    const jaw_vec2 *p = touches;

    return p[i].x == p[j].x && p[i].y == p[j].y;
}

static int same_of(const jaw__faces *f)
{
    int same = 0;

    for (size_t k = 0; k < f->n; k++) {
        const jaw_tip_faces *pair = &f->pair[k];
        same += jaw__same_touches(same_on_face, pair->low, pair->n_low) +
                jaw__same_touches(same_on_face, pair->high, pair->n_high);
    }
    return same;
}

static void put_results(const jaw__faces *f, const jaw__solved *s,
                        double repeat, size_t count, jaw_tip_block *b)
{
    jaw__spread spread = jaw__spread_but(same_of(f), repeat, s, count);
    double touch[2] = {0, 0}, size_u[2] = {0, 0}, q[2] = {1, 1};

    b->n = f->n;
    b->repeat = spread.repeat;
    b->seen = spread.seen;
    b->dof_repeat = spread.dof;
    b->rms = spread.rms;
    b->ssr = s->ssr;
    b->dof_touch = spread.spare;
    b->flags = spread.flags;
    for (size_t k = 0; k < f->n; k++) {
        size_t d = f->first[k] + DIAMETER;
        double turn = f->assumed[k] ? 0 : s->x[f->first[k] + TURN];
        q[k] = s->q[d][d];
        touch[k] = sqrt(q[k]) * spread.repeat;
        size_u[k] = f->pair[k].known.u;
        b->diameter[k] = s->x[d];
        b->u_diameter[k] = hypot(touch[k], size_u[k]);
        b->dof[k] = jaw__effective(touch[k], spread.dof, size_u[k]);
        b->within[k] = jaw_trust_within(touch[k], spread.dof, size_u[k]);
        b->theta[k] = jaw_angle_half(f->theta[k] + turn);
        b->flags |= f->assumed[k] ? JAW_DIRECTION_ASSUMED : 0;
        if (!(q[k] / 4 <= JAW__WEAK * JAW__WEAK))
            b->flags |= JAW_WEAK;
    }
    b->both = b->diameter[0];
    b->u_both = b->u_diameter[0];
    b->dof_both = b->dof[0];
    b->within_both = b->within[0];
    if (f->n == 2)
        put_both(b, touch, size_u, q);
}

jaw_status jaw_tip_calibrate_block(const jaw_tip_faces pair[], size_t n,
                                   double repeat, jaw_tip_block *block,
                                   double resid[])
{
    jaw__faces f = {.pair = pair, .n = n};
    jaw__solved s = {.x = {0}};
    double dg[JAW__MODEL_MAX];
    size_t count = count_touches(pair, n);
    jaw_status status = check(pair, n, repeat);

    clear(block);
    if (status == JAW_OK)
        status = fit(&f, &s);
    for (size_t k = 0; status == JAW_OK && k < n; k++)
        if (!(s.x[f.first[k] + DIAMETER] > 0))
            status = JAW_ESIZE;
    for (size_t i = 0; resid != NULL && i < count; i++)
        resid[i] = status == JAW_OK ? jaw__faces_touch(&f, s.x, i, dg)
                                    : NO_NUMBER;
    if (status == JAW_OK)
        put_results(&f, &s, repeat, count, block);
    return status;
}
