/* SPDX-License-Identifier: GPL-3.0-or-later */
/* passes_body.h: the passes of passes.h, once for each width of lanes: a file
 * that includes this has chosen the width.  Not a header of its own. */
#include "lanes.h"
#include "passes.h"

enum { BLOCK = 2048 };

#ifdef JAW__AVX2
#define PASS_FN static __attribute__((target("avx2,fma")))
#else
#define PASS_FN static
#endif

LANES_FN size_t block_end(size_t n, size_t from)
{
    return n - from < BLOCK ? n : from + BLOCK;
}

/* Runs ADD(x, y, on, i) for the touches from .. end, the lanes full but for
 * the last; then `on` masks those that are not there. */
#define EACH(t, from, end, ADD)                                                \
    do {                                                                       \
        lanes x, y;                                                            \
        size_t i = from;                                                       \
        for (; i + JAW__LANES <= end; i += JAW__LANES) {                       \
            lanes_load(t->p + i * t->stride, t->stride, &x, &y);               \
            ADD(x, y, lanes_all(1), i);                                        \
        }                                                                      \
        if (i < end) {                                                         \
            lanes_load_some(t->p + i * t->stride, t->stride, end - i, &x, &y); \
            ADD(x, y, lanes_mask(end - i), i);                                 \
        }                                                                      \
    } while (0)

/* ------------------------------------------------------------------ moments */

LANES_FN void moments_block(const jaw__touches *t, size_t from, size_t end,
                           jaw_vec2 o, jaw__moments *sum)
{
    const lanes ox = lanes_all(o.x), oy = lanes_all(o.y);
    lanes sx = lanes_all(0), sy = sx, xx = sx, xy = sx, yy = sx, xz = sx;
    lanes yz = sx;

#define ADD(px, py, on, i)                                                     \
    do {                                                                       \
        lanes ax = (px - ox) * (on), ay = (py - oy) * (on);                    \
        lanes x2 = ax * ax, y2 = ay * ay, z = x2 + y2;                         \
        sx += ax;                                                              \
        sy += ay;                                                              \
        xx += x2;                                                              \
        yy += y2;                                                              \
        xy = lanes_add(xy, ax, ay);                                            \
        xz = lanes_add(xz, ax, z);                                             \
        yz = lanes_add(yz, ay, z);                                             \
    } while (0)
    EACH(t, from, end, ADD);
#undef ADD
    sum->x += lanes_sum(sx);
    sum->y += lanes_sum(sy);
    sum->xx += lanes_sum(xx);
    sum->xy += lanes_sum(xy);
    sum->yy += lanes_sum(yy);
    sum->xz += lanes_sum(xz);
    sum->yz += lanes_sum(yz);
}

LANES_FN jaw__moments moments(const jaw__touches *t, jaw_vec2 from)
{
    jaw__moments sum = {0, 0, 0, 0, 0, 0, 0};

    for (size_t i = 0; i < t->n; i += BLOCK)
        moments_block(t, i, block_end(t->n, i), from, &sum);
    return sum;
}

/* ------------------------------------------------------------------- slopes */

/* f, u, v and w of lanes of touches at a trial circle. */
#define AT_TRIAL(px, py, on)                                                   \
    lanes ax = (px - ox) - oa, ay = (py - oy) - ob;                            \
    lanes d = lanes_root(lanes_add(ax * ax, ay, ay)), w = lanes_all(1) / d;    \
    lanes f = (d - r) * (on), u = ax * w * (on), v = ay * w * (on)

#define TRIAL_LANES(at)                                                        \
    const lanes ox = lanes_all(at->from.x), oy = lanes_all(at->from.y);        \
    const lanes oa = lanes_all(at->a), ob = lanes_all(at->b);                  \
    const lanes r = lanes_all(at->r)

LANES_FN void slopes_block(const jaw__touches *t, size_t from, size_t end,
                          const jaw__trial *at, jaw__slopes *sum)
{
    TRIAL_LANES(at);
    lanes sf = lanes_all(0), fu = sf, fv = sf, su = sf, sv = sf, uu = sf;
    lanes uv = sf, vv = sf, uuu = sf, uuv = sf, uvv = sf, vvv = sf;

#define ADD(px, py, on, i)                                                     \
    do {                                                                       \
        AT_TRIAL(px, py, on);                                                  \
        lanes wu = w * u, wv = w * v;                                          \
        lanes wuu = wu * u, wuv = wu * v, wvv = wv * v;                        \
        sf += f;                                                               \
        fu = lanes_add(fu, f, u);                                              \
        fv = lanes_add(fv, f, v);                                              \
        su += u;                                                               \
        sv += v;                                                               \
        uu += wuu;                                                             \
        uv += wuv;                                                             \
        vv += wvv;                                                             \
        uuu = lanes_add(uuu, wuu, wu);                                         \
        uuv = lanes_add(uuv, wuu, wv);                                         \
        uvv = lanes_add(uvv, wvv, wu);                                         \
        vvv = lanes_add(vvv, wvv, wv);                                         \
    } while (0)
    EACH(t, from, end, ADD);
#undef ADD
    sum->f += lanes_sum(sf);
    sum->fu += lanes_sum(fu);
    sum->fv += lanes_sum(fv);
    sum->u += lanes_sum(su);
    sum->v += lanes_sum(sv);
    sum->wuu += lanes_sum(uu);
    sum->wuv += lanes_sum(uv);
    sum->wvv += lanes_sum(vv);
    sum->wwuuu += lanes_sum(uuu);
    sum->wwuuv += lanes_sum(uuv);
    sum->wwuvv += lanes_sum(uvv);
    sum->wwvvv += lanes_sum(vvv);
}

LANES_FN jaw__slopes slopes(const jaw__touches *t, const jaw__trial *at)
{
    jaw__slopes sum = {0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0};

    for (size_t i = 0; i < t->n; i += BLOCK)
        slopes_block(t, i, block_end(t->n, i), at, &sum);
    return sum;
}

/* ------------------------------------------------------------------- closes */

LANES_FN void closes_block(const jaw__touches *t, size_t from, size_t end,
                          const jaw__trial *at, double resid[],
                          jaw__closes *sum)
{
    TRIAL_LANES(at);
    lanes sf = lanes_all(0), ff = sf, fu = sf, fv = sf, su = sf, sv = sf;
    lanes uu = sf, uv = sf;

#define ADD(px, py, on, i)                                                     \
    do {                                                                       \
        AT_TRIAL(px, py, on);                                                  \
        sf += f;                                                               \
        ff = lanes_add(ff, f, f);                                              \
        fu = lanes_add(fu, f, u);                                              \
        fv = lanes_add(fv, f, v);                                              \
        su += u;                                                               \
        sv += v;                                                               \
        uu = lanes_add(uu, u, u);                                              \
        uv = lanes_add(uv, u, v);                                              \
        if (!resid)                                                            \
            break;                                                             \
        if (end - i >= JAW__LANES)                                             \
            lanes_store(f, resid + i);                                         \
        else                                                                   \
            lanes_store_some(f, resid + i, end - i);                           \
    } while (0)
    EACH(t, from, end, ADD);
#undef ADD
    sum->f += lanes_sum(sf);
    sum->ff += lanes_sum(ff);
    sum->fu += lanes_sum(fu);
    sum->fv += lanes_sum(fv);
    sum->u += lanes_sum(su);
    sum->v += lanes_sum(sv);
    sum->uu += lanes_sum(uu);
    sum->uv += lanes_sum(uv);
}

LANES_FN jaw__closes closes(const jaw__touches *t, const jaw__trial *at,
                           double resid[])
{
    jaw__closes sum = {0, 0, 0, 0, 0, 0, 0, 0};

    for (size_t i = 0; i < t->n; i += BLOCK)
        closes_block(t, i, block_end(t->n, i), at, resid, &sum);
    return sum;
}

/* --------------------------------------------------------------------- both */

/* Thirteen running sums are more than the registers hold: a first loop leaves
 * u, v and w of some touches where the second finds them, which takes two at a
 * time, so that no sum waits for itself. */
enum { SHELF = 96 };

typedef struct shelf {
    lanes u[SHELF], v[SHELF], w[SHELF];
    size_t count;
} shelf;

PASS_FN void both_first(const jaw__touches *t, size_t from, size_t end,
                        const jaw__trial *at, shelf *kept, jaw__both *sum)
{
    TRIAL_LANES(at);
    lanes sf = lanes_all(0), ff = sf, fu = sf, fv = sf, su = sf, sv = sf;
    lanes uu = sf, uv = sf;
    size_t k = 0;

#define ADD(px, py, on, i)                                                     \
    do {                                                                       \
        AT_TRIAL(px, py, on);                                                  \
        kept->u[k] = u;                                                        \
        kept->v[k] = v;                                                        \
        kept->w[k++] = w * (on);                                               \
        sf += f;                                                               \
        ff = lanes_add(ff, f, f);                                              \
        fu = lanes_add(fu, f, u);                                              \
        fv = lanes_add(fv, f, v);                                              \
        su += u;                                                               \
        sv += v;                                                               \
        uu = lanes_add(uu, u, u);                                              \
        uv = lanes_add(uv, u, v);                                              \
    } while (0)
    EACH(t, from, end, ADD);
#undef ADD
    if (k % 2)
        kept->u[k] = kept->v[k] = kept->w[k] = lanes_all(0);
    kept->count = k;
    sum->s.f += lanes_sum(sf);
    sum->s.fu += lanes_sum(fu);
    sum->s.fv += lanes_sum(fv);
    sum->s.u += lanes_sum(su);
    sum->s.v += lanes_sum(sv);
    sum->ff += lanes_sum(ff);
    sum->uu += lanes_sum(uu);
    sum->uv += lanes_sum(uv);
}

/* The sums of w and its products of one half of the touches on the shelf. */
typedef struct shelved {
    lanes w, wuu, wuv, wwuuu, wwuuv;
} shelved;

LANES_FN void add_shelved(lanes u, lanes v, lanes w, shelved *sum)
{
    const lanes wu = w * u, wv = w * v, wuu = wu * u;

    sum->w += w;
    sum->wuu += wuu;
    sum->wuv = lanes_add(sum->wuv, wu, v);
    sum->wwuuu = lanes_add(sum->wwuuu, wuu, wu);
    sum->wwuuv = lanes_add(sum->wwuuv, wuu, wv);
}

/* vv is 1 - uu, and so are its products; those of w^2 follow in complete. */
PASS_FN void both_second(const shelf *kept, jaw__both *sum)
{
    const lanes none = lanes_all(0);
    shelved a = {none, none, none, none, none}, b = a;

    for (size_t k = 0; k < kept->count; k += 2) {
        add_shelved(kept->u[k], kept->v[k], kept->w[k], &a);
        add_shelved(kept->u[k + 1], kept->v[k + 1], kept->w[k + 1], &b);
    }
    const double wuu = lanes_sum(a.wuu + b.wuu);
    sum->s.wuu += wuu;
    sum->s.wuv += lanes_sum(a.wuv + b.wuv);
    sum->s.wvv += lanes_sum(a.w + b.w) - wuu;
    sum->s.wwuuu += lanes_sum(a.wwuuu + b.wwuuu);
    sum->s.wwuuv += lanes_sum(a.wwuuv + b.wwuuv);
}

/* With w = 1 / (r + f), w^2 u is u (1 - 2 f / r) / r^2 but for the square of
 * f / r, and the sums that it leads to count with the square of a step only. */
LANES_FN void complete(jaw__slopes *s, double r)
{
    const double square = r * r;

    s->wwuvv = (s->u - 2 * s->fu / r) / square - s->wwuuu;
    s->wwvvv = (s->v - 2 * s->fv / r) / square - s->wwuuv;
}

PASS_FN jaw__both both(const jaw__touches *t, const jaw__trial *at)
{
    enum { STEP = SHELF * JAW__LANES };
    jaw__both sum = {{0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0}, 0, 0, 0};
    shelf kept;

    for (size_t i = 0; i < t->n; i += STEP) {
        both_first(t, i, t->n - i < STEP ? t->n : i + STEP, at, &kept, &sum);
        both_second(&kept, &sum);
    }
    complete(&sum.s, at->r);
    return sum;
}

/* ------------------------------------------------------------------- strips */

PASS_FN void strips_block(const jaw__touches *t, size_t from, size_t end,
                          jaw_vec2 o, double cosine, double sine,
                          jaw__strips *sum)
{
    const lanes ox = lanes_all(o.x), oy = lanes_all(o.y);
    const lanes c = lanes_all(cosine), s = lanes_all(sine);
    lanes su = lanes_all(0), sv = su, uu = su, uv = su, vv = su, size = su;

#define ADD(px, py, on, i)                                                     \
    do {                                                                       \
        size = lanes_larger(size, lanes_larger(lanes_size(px),                 \
                                               lanes_size(py)));               \
        lanes ax = (px - ox) * (on), ay = (py - oy) * (on);                    \
        lanes u = lanes_add(c * ax, s, ay), v = lanes_add(c * ay, -s, ax);     \
        su += u;                                                               \
        sv += v;                                                               \
        uu = lanes_add(uu, u, u);                                              \
        uv = lanes_add(uv, u, v);                                              \
        vv = lanes_add(vv, v, v);                                              \
    } while (0)
    EACH(t, from, end, ADD);
#undef ADD
    sum->u += lanes_sum(su);
    sum->v += lanes_sum(sv);
    sum->uu += lanes_sum(uu);
    sum->uv += lanes_sum(uv);
    sum->vv += lanes_sum(vv);
    sum->size = fmax(sum->size, lanes_most(size));
}

PASS_FN jaw__strips strips(const jaw__touches *t, jaw_vec2 from, double c,
                           double s)
{
    jaw__strips sum = {0, 0, 0, 0, 0, 0};

    for (size_t i = 0; i < t->n; i += BLOCK)
        strips_block(t, i, block_end(t->n, i), from, c, s, &sum);
    return sum;
}

/* -------------------------------------------------------------------- slabs */

/* The last touches of a block that do not fill the lanes are left out: the
 * caller's blocks end where the lanes do, and adds_solid takes the rest. */
PASS_FN void slabs_block(const jaw__solids *t, size_t from, size_t end,
                         jaw_vec3 o, const double axis[3][3], jaw__slabs *sum)
{
    const lanes ox = lanes_all(o.x), oy = lanes_all(o.y), oz = lanes_all(o.z);
    lanes a[3][3], s[9], size = lanes_all(0), x, y, z, w[3];

    for (int k = 0; k < 9; k++) {
        a[k / 3][k % 3] = lanes_all(axis[k / 3][k % 3]);
        s[k] = lanes_all(0);
    }
    for (size_t i = from; i + JAW__LANES <= end; i += JAW__LANES) {
        lanes_load_solid(t->p + i * t->stride, t->stride, &x, &y, &z);
        size = lanes_larger(size, lanes_larger(lanes_size(x), lanes_size(y)));
        size = lanes_larger(size, lanes_size(z));
        x -= ox;
        y -= oy;
        z -= oz;
        for (int k = 0; k < 3; k++) {
            w[k] = lanes_add(lanes_add(a[k][0] * x, a[k][1], y), a[k][2], z);
            s[k] += w[k];
        }
        s[3] = lanes_add(s[3], w[0], w[0]);
        s[4] = lanes_add(s[4], w[0], w[1]);
        s[5] = lanes_add(s[5], w[0], w[2]);
        s[6] = lanes_add(s[6], w[1], w[1]);
        s[7] = lanes_add(s[7], w[1], w[2]);
        s[8] = lanes_add(s[8], w[2], w[2]);
    }
    for (int k = 0; k < 9; k++)
        sum->sum[k] += lanes_sum(s[k]);
    sum->size = fmax(sum->size, lanes_most(size));
}

static void slabs_one(const jaw_vec3 *p, jaw_vec3 o, const double axis[3][3],
                      jaw__slabs *sum)
{
    const double d[3] = {p->x - o.x, p->y - o.y, p->z - o.z};
    double w[3];

    for (int k = 0; k < 3; k++) {
        w[k] = axis[k][0] * d[0] + axis[k][1] * d[1] + axis[k][2] * d[2];
        sum->sum[k] += w[k];
    }
    for (int i = 0, k = 3; i < 3; i++)
        for (int j = i; j < 3; j++, k++)
            sum->sum[k] += w[i] * w[j];
    sum->size = fmax(sum->size, fmax(fabs(p->x), fmax(fabs(p->y), fabs(p->z))));
}

PASS_FN jaw__slabs slabs(const jaw__solids *t, jaw_vec3 from,
                         const double axis[3][3])
{
    jaw__slabs sum = {{0, 0, 0, 0, 0, 0, 0, 0, 0}, 0};
    const size_t full = t->n - t->n % JAW__LANES;

    for (size_t i = 0; i < full; i += BLOCK)
        slabs_block(t, i, block_end(full, i), from, axis, &sum);
    for (size_t i = full; i < t->n; i++)
        slabs_one(t->p + i * t->stride, from, axis, &sum);
    return sum;
}
