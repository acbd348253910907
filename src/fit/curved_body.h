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
enum { BLOCK = 512, SLOTS = 32, STRIP = SLOTS * JAW__LANES };

LANES_FN size_t block_of(size_t n, size_t from)
{
    return n - from < BLOCK ? n - from : BLOCK;
}

LANES_FN size_t strip_of(size_t n, size_t from)
{
    return n - from < STRIP ? n - from : STRIP;
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

/* --------------------------------------------------------------------- rows */

/* What is known of each touch, a slot that of all lanes: how it is seen, how
 * far off and by what derivatives; g and a are 0 in lanes without a touch.
 * Sums over a few columns at a time stay in registers. */
typedef struct strip {
    lanes t[SLOTS], u[SLOTS], v[SLOTS], g[SLOTS], w[SLOTS];
    lanes a[JAW__FREE][SLOTS];
    int used;
} strip;

LANES_FN void see_rows(const jaw__space *space, size_t from,
                       const jaw__curved *at, bool round, strip *rows)
{
    const size_t n = strip_of(space->n, from);
    const lanes bend = lanes_all(at->bend);
    const jaw__seat seat = jaw__seat_make(space, at->foot,
                                          (const double (*)[3])at->axis);

    rows->used = 0;
    for (size_t i = 0; i < n; i += JAW__LANES) {
        const lanes on = lanes_mask(n - i);
        const int l = rows->used++;
        lanes t, u, v;
        jaw__look_space(space, &seat, space->p + from + i, n - i, &t, &u, &v);
        const jaw__slope s = jaw__slope_at(t, u, v, bend, round);
        rows->t[l] = t;
        rows->u[l] = u;
        rows->v[l] = v;
        rows->g[l] = s.g * on;
        rows->w[l] = s.w;
        JAW__UNROLL
        for (int k = 0; k < JAW__FREE; k++)
            rows->a[k][l] = s.a[k] * on;
    }
}

PASS_FN void take_rows(const jaw__space *space, size_t from,
                       const jaw__curved *at, strip *rows)
{
    if (at->round)
        see_rows(space, from, at, true, rows);
    else
        see_rows(space, from, at, false, rows);
}

/* ------------------------------------------------------------------- survey */

LANES_FN void add_slopes(const strip *rows, jaw__normal *to)
{
    lanes ssr = lanes_all(0), sum[JAW__FREE];

    JAW__UNROLL
    for (int i = 0; i < JAW__FREE; i++)
        sum[i] = lanes_all(0);
    for (int l = 0; l < rows->used; l++) {
        const lanes g = rows->g[l];
        ssr = lanes_add(ssr, g, g);
        JAW__UNROLL
        for (int i = 0; i < JAW__FREE; i++)
            sum[i] = lanes_add(sum[i], g, rows->a[i][l]);
    }
    to->ssr += lanes_sum(ssr);
    JAW__UNROLL
    for (int i = 0; i < JAW__FREE; i++)
        to->g[i] += lanes_sum(sum[i]);
}

/* Row i of the products of a, and the bend's second derivatives. */
LANES_FN void add_products(const strip *rows, int i, jaw__normal *to)
{
    lanes sum[JAW__FREE], bent = lanes_all(0);

    JAW__UNROLL
    for (int k = i; k < JAW__FREE; k++)
        sum[k] = lanes_all(0);
    for (int l = 0; l < rows->used; l++) {
        const lanes wa = rows->w[l] * rows->a[i][l];
        JAW__UNROLL
        for (int k = i; k < JAW__FREE; k++)
            sum[k] = lanes_add(sum[k], wa, rows->a[k][l]);
        bent = lanes_add(bent, wa, rows->g[l] * rows->g[l]);
    }
    JAW__UNROLL
    for (int k = i; k < JAW__FREE; k++)
        to->m[jaw__place[i][k]] += lanes_sum(sum[k]);
    to->size[i] += lanes_sum(sum[i]);
    to->m[jaw__place[i][JAW__BEND]] +=
        (i == JAW__BEND ? 2 : 1) * lanes_sum(bent);
}

/* g w times 1 t u v tt tu tv uu uv vv. */
LANES_FN void add_places(const strip *rows, double e[10])
{
    lanes sum[10];

    JAW__UNROLL
    for (int i = 0; i < 10; i++)
        sum[i] = lanes_all(0);
    for (int l = 0; l < rows->used; l++) {
        const lanes t = rows->t[l], u = rows->u[l], v = rows->v[l];
        const lanes x = rows->g[l] * rows->w[l];
        const lanes xt = x * t, xu = x * u, xv = x * v;
        sum[0] += x;
        sum[1] += xt;
        sum[2] += xu;
        sum[3] += xv;
        sum[4] = lanes_add(sum[4], xt, t);
        sum[5] = lanes_add(sum[5], xt, u);
        sum[6] = lanes_add(sum[6], xt, v);
        sum[7] = lanes_add(sum[7], xu, u);
        sum[8] = lanes_add(sum[8], xu, v);
        sum[9] = lanes_add(sum[9], xv, v);
    }
    JAW__UNROLL
    for (int i = 0; i < 10; i++)
        e[i] += lanes_sum(sum[i]);
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

PASS_FN jaw__normal survey(const jaw__space *space, const jaw__curved *at)
{
    jaw__normal sum = {0, {0}, {0}, {0}};
    double e[10] = {0};
    strip rows;

    for (size_t i = 0; i < space->n; i += STRIP) {
        take_rows(space, i, at, &rows);
        add_slopes(&rows, &sum);
        JAW__UNROLL
        for (int k = 0; k < JAW__FREE; k++)
            add_products(&rows, k, &sum);
        add_places(&rows, e);
    }
    add_bends(e, at->bend, at->round, sum.m);
    return sum;
}

/* ----------------------------------------------------------------- triangle */

LANES_FN void measure(const strip *rows, jaw__triangle *f)
{
    lanes ssr = lanes_all(0), low = -rows->t[0], high = rows->t[0];

    for (int l = 0; l < rows->used; l++) {
        ssr = lanes_add(ssr, rows->g[l], rows->g[l]);
        low = lanes_larger(low, -rows->t[l]);
        high = lanes_larger(high, rows->t[l]);
    }
    f->ssr += lanes_sum(ssr);
    f->low = fmin(f->low, -lanes_most(low));
    f->high = fmax(f->high, lanes_most(high));
}

LANES_FN void put_resid(const strip *rows, double scale, double resid[],
                        size_t n)
{
    for (size_t i = 0, l = 0; i < n; i += JAW__LANES, l++)
        lanes_store_some(rows->g[l] * lanes_all(scale), resid + i, n - i);
}

/* Householder's reflection of column i: top of the triangle and the rows below
 * become one number (Golub & Van Loan, Matrix Computations, 5.2 and 12.1). */
LANES_FN void reflect(strip *rows, int i, jaw__triangle *f)
{
    const lanes *column = rows->a[i];
    lanes sum[JAW__FREE];

    JAW__UNROLL
    for (int k = i; k < JAW__FREE; k++)
        sum[k] = lanes_all(0);
    for (int l = 0; l < rows->used; l++)
        JAW__UNROLL
        for (int k = i; k < JAW__FREE; k++)
            sum[k] = lanes_add(sum[k], column[l], rows->a[k][l]);
    const double top = f->r[i][i];
    const double length = sqrt(top * top + lanes_sum(sum[i]));
    const double first = top + copysign(length, top);
    if (!(length > 0))
        return;
    const double by = 1 / (length * fabs(first));
    JAW__UNROLL
    for (int k = i + 1; k < JAW__FREE; k++) {
        const double share = (first * f->r[i][k] + lanes_sum(sum[k])) * by;
        f->r[i][k] -= share * first;
        sum[k] = lanes_all(-share);
    }
    for (int l = 0; l < rows->used; l++)
        JAW__UNROLL
        for (int k = i + 1; k < JAW__FREE; k++)
            rows->a[k][l] = lanes_add(rows->a[k][l], sum[k], column[l]);
    f->r[i][i] = -copysign(length, top);
}

LANES_FN void leave_out(strip *rows, int i)
{
    for (int l = 0; l < rows->used; l++)
        rows->a[i][l] = lanes_all(0);
}

PASS_FN void triangle(const jaw__search *search, const jaw__curved *at,
                      double scale, jaw__triangle *f, double resid[])
{
    const jaw__space *space = search->space;
    strip rows;

    *f = (jaw__triangle){.low = HUGE_VAL, .high = -HUGE_VAL};
    for (size_t i = 0; i < space->n; i += STRIP) {
        take_rows(space, i, at, &rows);
        measure(&rows, f);
        if (resid)
            put_resid(&rows, scale, resid + i, strip_of(space->n, i));
        for (int k = 0; k < JAW__FREE; k++)
            if (!search->free[k])
                leave_out(&rows, k);
        JAW__UNROLL
        for (int k = 0; k < JAW__FREE; k++)
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
