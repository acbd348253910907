/* SPDX-License-Identifier: GPL-3.0-or-later */
/* view.c: sums over touches seen from a near point (see view.h). */
#include "view.h"

double jaw__size(const double v[], size_t n)
{
    const size_t over = n % JAW__LANES;
    lanes size = lanes_all(0), odd = size, a;

    for (size_t i = 0; i < n - over; i += JAW__LANES) {
        a = lanes_size(lanes_read(v + i));
        size = lanes_larger(a, size);
        odd += a * lanes_all(0); /* not a number unless a is finite */
    }
    a = lanes_size(lanes_read_some(v + n - over, over));
    odd += a * lanes_all(0);
    return lanes_most(lanes_larger(a, size)) + lanes_sum(odd);
}

/* Products of four coordinates occur, of which each may be as small as
 * DBL_EPSILON of the size: between these bounds they stay in range. */
double jaw__unit(double size)
{
    int e;

    if (size == 0 || (size > 0x1p-120 && size < 0x1p+120))
        return 1;
    frexp(size, &e);
    e = e > 1000 ? 1000 : e < -1000 ? -1000 : e;
    return ldexp(1, -e);
}

/* Sums are taken over blocks and the blocks' sums added: the rounding of ten
 * million additions stays that of some thousand. */
enum { BLOCK = 2048 };

static size_t block_of(size_t n, size_t at)
{
    return n - at < BLOCK ? n - at : BLOCK;
}

static jaw_vec2 block_shift(const jaw_vec2 p[], size_t n, double unit,
                            jaw_vec2 from)
{
    lanes sx = lanes_all(0), sy = sx, x, y;
    const lanes k = lanes_all(unit);

    for (size_t i = 0; i < n; i += JAW__LANES) {
        lanes on = lanes_mask(n - i);
        lanes_load_some(p + i, 1, n - i, &x, &y);
        sx += (x * k - lanes_all(from.x)) * on;
        sy += (y * k - lanes_all(from.y)) * on;
    }
    return (jaw_vec2){lanes_sum(sx), lanes_sum(sy)};
}

/* The mean from differences to the first touch; m is kept rounded and the
 * sums that follow find what is left of it. */
void jaw__view_make(jaw__view *view, const jaw_vec2 p[], size_t n, double unit)
{
    const jaw_vec2 first = {p->x * unit, p->y * unit};
    jaw_vec2 sum = {0, 0};

    for (size_t i = 0; i < n; i += BLOCK) {
        jaw_vec2 part = block_shift(p + i, block_of(n, i), unit, first);
        sum.x += part.x;
        sum.y += part.y;
    }
    *view = (jaw__view){.p = p, .n = n, .unit = unit};
    view->m.x = first.x + sum.x / (double)n;
    view->m.y = first.y + sum.y / (double)n;
}

static void block_sums(const jaw__view *view, size_t from, jaw__turn turn,
                       jaw__sums *sums)
{
    const jaw_vec2 here = {0, 0};
    const size_t n = block_of(view->n, from);
    lanes su = lanes_all(0), sv = su, suu = su, suv = su, svv = su, u, v;

    for (size_t i = 0; i < n; i += JAW__LANES) {
        lanes on = lanes_mask(n - i);
        jaw__look(view, view->p + from + i, n - i, here, turn, &u, &v);
        u = u * on;
        v = v * on;
        su += u;
        sv += v;
        suu += u * u;
        suv += u * v;
        svv += v * v;
    }
    sums->u += lanes_sum(su);
    sums->v += lanes_sum(sv);
    sums->uu += lanes_sum(suu);
    sums->uv += lanes_sum(suv);
    sums->vv += lanes_sum(svv);
}

jaw__sums jaw__view_sums(const jaw__view *view, jaw__turn turn)
{
    const double n = (double)view->n;
    jaw__sums sums = {0, 0, 0, 0, 0};

    for (size_t i = 0; i < view->n; i += BLOCK)
        block_sums(view, i, turn, &sums);
    sums.u /= n;
    sums.v /= n;
    sums.uu = fmax(sums.uu - n * sums.u * sums.u, 0);
    sums.uv -= n * sums.u * sums.v;
    sums.vv = fmax(sums.vv - n * sums.v * sums.v, 0);
    return sums;
}

void jaw__view_across(const jaw__view *view, jaw__turn turn,
                      const jaw__sums *sums, jaw__turn more, double sign,
                      double resid[])
{
    const jaw_vec2 here = {0, 0};
    const lanes c = lanes_all(more.c * sign / view->unit);
    const lanes s = lanes_all(more.s * sign / view->unit);
    lanes u, v;

    for (size_t i = 0; i < view->n; i += JAW__LANES) {
        jaw__look(view, view->p + i, view->n - i, here, turn, &u, &v);
        v = c * (v - lanes_all(sums->v)) - s * (u - lanes_all(sums->u));
        lanes_store_some(v, resid + i, view->n - i);
    }
}

/* Half of the angle of (uu - vv, 2 uv), by half-angle formulas that cancel
 * nothing (Golub & Van Loan, 8.5.2). */
jaw__turn jaw__turn_principal(double uu, double uv, double vv)
{
    double d = uu - vv, e = 2 * uv, h = hypot(d, e);

    if (!(h > 0))
        return (jaw__turn){1, 0};
    if (d >= 0) {
        double c = sqrt((1 + d / h) / 2);
        return (jaw__turn){c, e / (2 * h * c)};
    }
    double s = sqrt((1 - d / h) / 2);
    return (jaw__turn){fabs(e) / (2 * h * s), copysign(s, e)};
}

jaw__turn jaw__turn_by(jaw__turn a, jaw__turn b)
{
    double c = a.c * b.c - a.s * b.s;
    double s = a.s * b.c + a.c * b.s;
    double h = hypot(c, s);

    return (jaw__turn){c / h, s / h};
}
