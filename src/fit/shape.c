/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shape.c: what touches on a circle look like as a whole: their best line, and
 * two starts for the search.  Along the line's axes both are one division:
 * Kasa, IEEE Trans. Instrum. Meas. 25 (1976) 8-14 (exact when the touches lie
 * on a circle), and the parabola by least squares (the limit of a flat arc,
 * where Kasa's circle is far too small once there is noise). */
#include "bend.h"

#define BLOCK 512

typedef struct moments {
    double zu, zv;       /* z = u^2 + v^2 */
    double uuv, uuu, u4; /* about the mean, along the line */
} moments;

static void add_block(const jaw__parallel *line, size_t from, jaw_vec2 mean,
                      moments *sum)
{
    const jaw__view *view = &line->view[0];
    const size_t n = view->n - from < BLOCK ? view->n - from : BLOCK;
    const lanes zero = lanes_all(0);
    lanes zu = zero, zv = zero, uuv = zero, uuu = zero, u4 = zero, u, v;

    for (size_t i = 0; i < n; i += JAW__LANES) {
        lanes on = lanes_mask(n - i);
        jaw__look(view, view->p + from + i, n - i, mean, line->dir, &u, &v);
        u = u * on;
        v = v * on;
        lanes uu = u * u, z = uu + v * v;
        zu += z * u;
        zv += z * v;
        uuv += uu * v;
        uuu += uu * u;
        u4 += uu * uu;
    }
    sum->zu += lanes_sum(zu);
    sum->zv += lanes_sum(zv);
    sum->uuv += lanes_sum(uuv);
    sum->uuu += lanes_sum(uuu);
    sum->u4 += lanes_sum(u4);
}

/* The mean of the touches, seen from the view's m. */
static jaw_vec2 mean_of(const jaw__parallel *line)
{
    const jaw__turn t = line->seen;
    const jaw__sums *s = &line->sums[0];

    return (jaw_vec2){t.c * s->u - t.s * s->v, t.s * s->u + t.c * s->v};
}

static void start_kasa(jaw__shape *shape, const moments *k, jaw_vec2 mean)
{
    const jaw__parallel *line = &shape->line;
    const jaw__turn t = line->dir;
    double a = k->zu / (2 * line->uu);
    double b = k->zv / (2 * line->vv);
    double square = (line->uu + line->vv) / (double)line->view[0].n;
    double r = hypot(hypot(a, b), sqrt(square));
    jaw_vec2 centre = {t.c * a - t.s * b, t.s * a + t.c * b};

    shape->kasa = jaw__bend_circle(centre, r);
    shape->kasa.foot.x += mean.x;
    shape->kasa.foot.y += mean.y;
}

static void start_bow(jaw__shape *shape, const moments *k, jaw_vec2 mean)
{
    const jaw__parallel *line = &shape->line;
    const double n = (double)line->view[0].n;
    double left = k->u4 - line->uu / n * line->uu -
                  k->uuu / line->uu * k->uuu;
    double bow = left > 0x1p-40 * k->u4 ? k->uuv / left : 0;
    double slope = -bow * k->uuu / line->uu, lift = -bow * line->uu / n;
    double h = hypot(1, slope);

    shape->bow.bend = 2 * bow / (h * h * h);
    shape->bow.turn = jaw__turn_by(line->dir, (jaw__turn){1 / h, slope / h});
    shape->bow.foot.x = mean.x - line->dir.s * lift;
    shape->bow.foot.y = mean.y + line->dir.c * lift;
}

jaw_status jaw__shape_make(jaw__shape *shape, const jaw_vec2 p[], size_t n)
{
    moments k = {0, 0, 0, 0, 0};
    jaw_status status = jaw__parallel_begin(&shape->line, p, n, NULL, 0);

    if (status != JAW_OK)
        return status;
    (void)jaw__parallel_free(&shape->line); /* as wide as long is welcome */
    if (!(sqrt(shape->line.uu) > shape->line.noise))
        return JAW_ERANK;
    jaw_vec2 mean = mean_of(&shape->line);
    for (size_t i = 0; i < n; i += BLOCK)
        add_block(&shape->line, i, mean, &k);
    start_kasa(shape, &k, mean);
    start_bow(shape, &k, mean);
    return JAW_OK;
}

bool jaw__shape_is_line(const jaw__shape *shape)
{
    return !(sqrt(shape->line.vv) > shape->line.noise);
}
