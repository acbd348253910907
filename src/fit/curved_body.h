/* SPDX-License-Identifier: GPL-3.0-or-later */
/* curved_body.h: the looks of curved_passes.h, once for each width of lanes: a
 * file that includes this has chosen the width.  Not a header of its own. */
#include "curved_passes.h"
#include "slope.h"

#ifdef JAW__AVX2
#define PASS_FN static __attribute__((target("avx2,fma")))
#else
#define PASS_FN static
#endif

/* Sums are taken over blocks and the blocks' sums added: the rounding of ten
 * million additions stays that of some thousand. */
enum { BLOCK = 512, SLOTS = 32 };

LANES_FN size_t block_of(size_t n, size_t from)
{
    return n - from < BLOCK ? n - from : BLOCK;
}

/* --------------------------------------------------------------------- bulk */

/* Products of the coordinates by degree, each once: xx xy xz yy yz zz; x times
 * these, y times the last three, zzz; xx times all, xy and xz times zz and the
 * like. */
typedef struct powers {
    lanes two[6], three[10], four[15];
} powers;

LANES_FN void add_powers(powers *sum, lanes x, lanes y, lanes z)
{
    const lanes pair[6] = {x * x, x * y, x * z, y * y, y * z, z * z};
    const lanes zz = pair[5];

    JAW__UNROLL
    for (int i = 0; i < 6; i++) {
        sum->two[i] += pair[i];
        sum->three[i] = lanes_add(sum->three[i], x, pair[i]);
        sum->four[i] = lanes_add(sum->four[i], pair[0], pair[i]);
    }
    JAW__UNROLL
    for (int i = 3; i < 6; i++) {
        sum->three[3 + i] = lanes_add(sum->three[3 + i], y, pair[i]);
        sum->four[3 + i] = lanes_add(sum->four[3 + i], pair[1], pair[i]);
        sum->four[7 + i] = lanes_add(sum->four[7 + i], pair[3], pair[i]);
    }
    sum->three[9] = lanes_add(sum->three[9], z, zz);
    sum->four[9] = lanes_add(sum->four[9], pair[2], zz);
    sum->four[13] = lanes_add(sum->four[13], pair[4], zz);
    sum->four[14] = lanes_add(sum->four[14], zz, zz);
}

PASS_FN void spread_powers(const powers *sum, double share, jaw__bulk *bulk)
{
    static const int three[3][6] = {
        {0, 1, 2, 3, 4, 5}, {1, 3, 4, 6, 7, 8}, {2, 4, 5, 7, 8, 9}};
    static const int four[6][6] = {
        {0, 1, 2, 3, 4, 5},    {1, 3, 4, 6, 7, 8},    {2, 4, 5, 7, 8, 9},
        {3, 6, 7, 10, 11, 12}, {4, 7, 8, 11, 12, 13}, {5, 8, 9, 12, 13, 14}};
    double part[15];

    JAW__UNROLL
    for (int i = 0; i < 6; i++)
        bulk->two[i] += lanes_sum(sum->two[i]) * share;
    JAW__UNROLL
    for (int i = 0; i < 10; i++)
        part[i] = lanes_sum(sum->three[i]) * share;
    JAW__UNROLL
    for (int i = 0; i < 18; i++)
        bulk->three[i / 6][i % 6] += part[three[i / 6][i % 6]];
    JAW__UNROLL
    for (int i = 0; i < 15; i++)
        part[i] = lanes_sum(sum->four[i]) * share;
    JAW__UNROLL
    for (int i = 0; i < 36; i++)
        bulk->four[i / 6][i % 6] += part[four[i / 6][i % 6]];
}

PASS_FN void bulk_block(const jaw__space *space, size_t from, jaw__bulk *bulk)
{
    const size_t n = block_of(space->n, from);
    const lanes k = lanes_all(space->unit), zero = lanes_all(0);
    const lanes m[3] = {lanes_all(space->m.x), lanes_all(space->m.y),
                        lanes_all(space->m.z)};
    powers sum;
    lanes d[3];

    JAW__UNROLL
    for (int i = 0; i < 15; i++)
        sum.two[i % 6] = sum.three[i % 10] = sum.four[i] = zero;
    for (size_t i = 0; i < n; i += JAW__LANES) {
        const lanes on = lanes_mask(n - i);
        jaw__load(space->p + from + i, n - i, d);
        JAW__UNROLL
        for (int l = 0; l < 3; l++)
            d[l] = (d[l] * k - m[l]) * on;
        add_powers(&sum, d[0], d[1], d[2]);
    }
    spread_powers(&sum, 1 / (double)space->n, bulk);
}

PASS_FN void bulk_sums(const jaw__space *space, jaw__bulk *bulk)
{
    for (size_t i = 0; i < space->n; i += BLOCK)
        bulk_block(space, i, bulk);
}

/* ------------------------------------------------------------------- survey */

/* m: products of a; e: g w times 1 t u v tt tu tv uu uv vv. */
typedef struct tally {
    lanes ssr, g[JAW__FREE], m[JAW__PAIRS], e[10], bend;
} tally;

LANES_FN void add_touch(tally *sum, lanes t, lanes u, lanes v, lanes bend,
                        lanes on, bool round)
{
    jaw__slope s = jaw__slope_at(t, u, v, bend, round);
    lanes *e = sum->e, wa[JAW__FREE], w = s.w * on;

    s.g = s.g * on;
    lanes gg = s.g * s.g;
    sum->ssr += gg;
    JAW__UNROLL
    for (int i = 0; i < JAW__FREE; i++) {
        sum->g[i] = lanes_add(sum->g[i], s.g, s.a[i]);
        wa[i] = w * s.a[i];
    }
    JAW__UNROLL
    for (int i = 0, k = 0; i < JAW__BEND; i++, k++) {
        JAW__UNROLL
        for (int l = i; l < JAW__BEND; l++, k++)
            sum->m[k] = lanes_add(sum->m[k], wa[i], s.a[l]);
        sum->m[k] = lanes_add(sum->m[k], wa[i], s.a[JAW__BEND] + gg);
    }
    lanes *last = &sum->m[JAW__PAIRS - 1];
    sum->bend = lanes_add(sum->bend, wa[JAW__BEND], s.a[JAW__BEND]);
    *last = lanes_add(*last, wa[JAW__BEND], s.a[JAW__BEND] + 2 * gg);
    lanes x = s.g * s.w, xt = x * t, xu = x * u, xv = x * v;
    e[0] += x;
    e[1] += xt;
    e[2] += xu;
    e[3] += xv;
    if (round)
        return;
    e[4] = lanes_add(e[4], xt, t);
    e[5] = lanes_add(e[5], xt, u);
    e[6] = lanes_add(e[6], xt, v);
    e[7] = lanes_add(e[7], xu, u);
    e[8] = lanes_add(e[8], xu, v);
    e[9] = lanes_add(e[9], xv, v);
}

/* What the second derivatives of q add, half of each. */
static void add_bends(const double e[10], double b, bool round,
                      double m[JAW__PAIRS])
{
    m[jaw__place[JAW__SHIFT][JAW__SHIFT]] -= b * e[0];
    m[jaw__place[JAW__SHIFT][JAW__PITCH]] -= b * e[1];
    m[jaw__place[JAW__SHIFT][JAW__ROLL]] -= b * e[2];
    m[jaw__place[JAW__SHIFT][JAW__BEND]] += e[3];
    m[jaw__place[JAW__PITCH][JAW__PITCH]] -= e[3];
    m[jaw__place[JAW__ROLL][JAW__ROLL]] -= e[3];
    if (round)
        return;
    m[jaw__place[JAW__PITCH][JAW__PITCH]] += b * (e[9] - e[4]);
    m[jaw__place[JAW__PITCH][JAW__ROLL]] -= b * e[5] / 2;
    m[jaw__place[JAW__PITCH][JAW__YAW]] += b * e[8] - e[2] / 2;
    m[jaw__place[JAW__PITCH][JAW__BEND]] += e[6];
    m[jaw__place[JAW__ROLL][JAW__YAW]] += (e[1] + b * e[6]) / 2;
    m[jaw__place[JAW__YAW][JAW__YAW]] += b * (e[7] - e[4]);
    m[jaw__place[JAW__YAW][JAW__BEND]] += e[5];
}

LANES_FN void survey_block(const jaw__space *space, size_t from,
                           const jaw__curved *at, bool round, jaw__normal *sum,
                           double e[10])
{
    const size_t n = block_of(space->n, from);
    const lanes bend = lanes_all(at->bend);
    const jaw__seat seat = jaw__seat_make(space, at->foot,
                                          (const double (*)[3])at->axis);
    tally part;
    lanes t, u, v;

    part.ssr = part.bend = lanes_all(0);
    JAW__UNROLL
    for (int i = 0; i < JAW__PAIRS; i++)
        part.g[i % JAW__FREE] = part.e[i % 10] = part.m[i] = part.ssr;
    for (size_t i = 0; i < n; i += JAW__LANES) {
        jaw__look_space(space, &seat, space->p + from + i, n - i, &t, &u, &v);
        add_touch(&part, t, u, v, bend, lanes_mask(n - i), round);
    }
    sum->ssr += lanes_sum(part.ssr);
    sum->size[JAW__BEND] += lanes_sum(part.bend);
    JAW__UNROLL
    for (int i = 0; i < JAW__FREE; i++)
        sum->g[i] += lanes_sum(part.g[i]);
    JAW__UNROLL
    for (int i = 0; i < JAW__PAIRS; i++)
        sum->m[i] += lanes_sum(part.m[i]);
    for (int i = 0; i < (round ? 4 : 10); i++)
        e[i] += lanes_sum(part.e[i]);
}

PASS_FN jaw__normal survey(const jaw__space *space, const jaw__curved *at)
{
    jaw__normal sum = {0, {0}, {0}, {0}};
    double e[10] = {0};

    for (size_t i = 0; i < space->n; i += BLOCK)
        if (at->round)
            survey_block(space, i, at, true, &sum, e);
        else
            survey_block(space, i, at, false, &sum, e);
    JAW__UNROLL
    for (int i = 0; i < JAW__BEND; i++)
        sum.size[i] = sum.m[jaw__place[i][i]];
    add_bends(e, at->bend, at->round, sum.m);
    return sum;
}

/* ----------------------------------------------------------------- triangle */

/* The touches' rows of the columns that move, a slot the rows of all lanes. */
typedef struct strip {
    lanes column[JAW__FREE][SLOTS];
    int used;
} strip;

LANES_FN void take_rows(const jaw__space *space, size_t from,
                        const jaw__curved *at, double scale, jaw__triangle *f,
                        strip *rows, double resid[])
{
    const size_t most = SLOTS * JAW__LANES, left = space->n - from;
    const lanes bend = lanes_all(at->bend);
    const jaw__seat seat = jaw__seat_make(space, at->foot,
                                          (const double (*)[3])at->axis);
    lanes t, u, v, ssr = lanes_all(0), low = ssr, high = ssr;

    rows->used = 0;
    for (size_t i = 0; i < left && i < most; i += JAW__LANES) {
        jaw__look_space(space, &seat, space->p + from + i, left - i, &t, &u,
                        &v);
        jaw__slope s = at->round ? jaw__slope_at(t, u, v, bend, true)
                                 : jaw__slope_at(t, u, v, bend, false);
        const lanes on = lanes_mask(left - i);
        ssr = lanes_add(ssr, s.g * on, s.g);
        low = i ? lanes_larger(low, -t) : -t;
        high = i ? lanes_larger(high, t) : t;
        for (int k = 0; k < f->n; k++)
            rows->column[k][rows->used] = s.a[f->from[k]] * on;
        if (resid)
            lanes_store_some(s.g * lanes_all(scale), resid + from + i,
                             left - i);
        rows->used++;
    }
    f->ssr += lanes_sum(ssr);
    f->low = fmin(f->low, -lanes_most(low));
    f->high = fmax(f->high, lanes_most(high));
}

LANES_FN double product(const strip *rows, int i, int k)
{
    lanes sum = lanes_all(0);

    for (int l = 0; l < rows->used; l++)
        sum = lanes_add(sum, rows->column[i][l], rows->column[k][l]);
    return lanes_sum(sum);
}

/* Householder's reflection of column i: top of the triangle and the rows below
 * become one number (Golub & Van Loan, Matrix Computations, 5.2 and 12.1). */
LANES_FN void reflect(strip *rows, int i, jaw__triangle *f)
{
    const double top = f->r[i][i];
    const double length = sqrt(top * top + product(rows, i, i));
    const double first = top + copysign(length, top);

    if (!(length > 0))
        return;
    const double by = 1 / (length * fabs(first));
    for (int k = i + 1; k < f->n; k++) {
        const double share = (first * f->r[i][k] + product(rows, i, k)) * by;
        f->r[i][k] -= share * first;
        for (int l = 0; l < rows->used; l++)
            rows->column[k][l] -= lanes_all(share) * rows->column[i][l];
    }
    f->r[i][i] = -copysign(length, top);
}

PASS_FN void triangle(const jaw__space *space, const jaw__curved *at,
                      double scale, jaw__triangle *f, double resid[])
{
    strip rows;

    f->ssr = 0;
    f->low = HUGE_VAL;
    f->high = -HUGE_VAL;
    for (size_t i = 0; i < space->n; i += SLOTS * JAW__LANES) {
        take_rows(space, i, at, scale, f, &rows, resid);
        for (int k = 0; k < f->n; k++)
            reflect(&rows, k, f);
    }
}

/* --------------------------------------------------------------------- ways */

LANES_FN lanes on_pairs(const double a[6], const lanes pairs[6])
{
    lanes sum = lanes_all(a[0]) * pairs[0];

    JAW__UNROLL
    for (int i = 1; i < 6; i++)
        sum = lanes_add(sum, lanes_all(a[i]), pairs[i]);
    return sum;
}

LANES_FN void cross(const lanes a[3], const lanes b[3], lanes c[3])
{
    c[0] = a[1] * b[2] - a[2] * b[1];
    c[1] = a[2] * b[0] - a[0] * b[2];
    c[2] = a[0] * b[1] - a[1] * b[0];
}

/* y = A x. */
LANES_FN void image_of(const double a[6], const lanes x[3], lanes y[3])
{
    static const int row[3][3] = {{0, 1, 2}, {1, 3, 4}, {2, 4, 5}};

    JAW__UNROLL
    for (int i = 0; i < 3; i++) {
        y[i] = lanes_all(a[row[i][0]]) * x[0];
        y[i] = lanes_add(y[i], lanes_all(a[row[i][1]]), x[1]);
        y[i] = lanes_add(y[i], lanes_all(a[row[i][2]]), x[2]);
    }
}

/* Kasa's circle across w, of unit length: its centre c, what it leaves of
 * squared distances, mean square, and the square of its radius.  Across w the
 * inverse of the scatter A is its image turned by a right angle, divided by
 * its determinant, which is w . adj(A) w. */
LANES_FN void kasa(const jaw__scale *s, const lanes w[3], lanes c[3],
                   lanes *left, lanes *square)
{
    const lanes zero = lanes_all(0), one = lanes_all(1);
    const double *a = s->bulk->two;
    const lanes ww[6] = {w[0] * w[0], 2 * w[0] * w[1], 2 * w[0] * w[2],
                         w[1] * w[1], 2 * w[1] * w[2], w[2] * w[2]};
    const lanes across[6] = {one - ww[0], -ww[1],       -ww[2],
                             one - ww[3], -ww[4], one - ww[5]};
    lanes b[3], turned[3], image[3], taken = zero, r2 = on_pairs(a, across);

    *left = zero;
    JAW__UNROLL
    for (int i = 0; i < 6; i++) {
        lanes sum = zero;
        JAW__UNROLL
        for (int k = i; k < 6; k++)
            sum = lanes_add(sum, lanes_all(s->four[i][k]), across[k]);
        *left = lanes_add(*left, across[i], sum);
    }
    JAW__UNROLL
    for (int i = 0; i < 3; i++)
        b[i] = on_pairs(s->bulk->three[i], across);
    cross(w, b, turned);
    image_of(a, turned, image);
    const lanes det = lanes_larger(on_pairs(s->minor, ww),
                                   lanes_all(0x1p-50) * r2 * r2);
    const lanes share = one / det;
    cross(w, image, c);
    JAW__UNROLL
    for (int i = 0; i < 3; i++) {
        taken = lanes_add(taken, turned[i], image[i]);
        c[i] = c[i] * share * lanes_all(-0.5);
        r2 = lanes_add(r2, c[i], c[i]);
    }
    *left = lanes_larger(*left - taken * share, zero);
    *square = r2;
}

PASS_FN void rate(const jaw__scale *s, jaw__way ways[], int n)
{
    for (int i = 0; i < n; i += JAW__LANES) {
        lanes w[3], c[3], left, square;
        double off[JAW__LANES], r[JAW__LANES], centre[3][JAW__LANES];
        jaw_vec3 q[JAW__LANES];
        JAW__UNROLL
        for (int l = 0; l < JAW__LANES; l++) {
            const double *from = ways[i + l < n ? i + l : i].w;
            q[l] = (jaw_vec3){from[0], from[1], from[2]};
        }
        lanes_load_solid(q, 1, &w[0], &w[1], &w[2]);
        kasa(s, w, c, &left, &square);
        lanes_store(left / (4 * square), off);
        lanes_store(lanes_root(square), r);
        JAW__UNROLL
        for (int k = 0; k < 3; k++)
            lanes_store(c[k], centre[k]);
        for (int l = 0; l < JAW__LANES && i + l < n; l++) {
            jaw__way *way = &ways[i + l];
            way->off = off[l];
            way->r = r[l];
            JAW__UNROLL
            for (int k = 0; k < 3; k++)
                way->c[k] = centre[k][l];
        }
    }
}
