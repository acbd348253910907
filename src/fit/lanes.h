/* SPDX-License-Identifier: GPL-3.0-or-later */
/* lanes.h: some doubles at a time: two where every machine of the kind has
 * them (SSE2, AArch64), one elsewhere, and four in a file that defines
 * JAW__AVX2 before and calls its functions only where the machine has them, and
 * fused multiply-add with them.
 * The vector extension of GCC and Clang gives the arithmetic; only roots and
 * the way in are spelled out.  A plain loop would do, but sqrt sets errno, and
 * that keeps compilers from joining two of them.
 *
 * Error-free differences and products: Knuth, TAOCP 2, 4.2.2, theorem B;
 * Dekker, Numer. Math. 18 (1971) 224-242.  Where a fused multiply-add exists
 * it is asked for by name, so that a compiler that fuses on its own
 * (-ffp-contract) finds nothing that could spoil the error term. */
#ifndef JAW_FIT_LANES_H
#define JAW_FIT_LANES_H

#include <jawline/base.h>

#include <math.h>

#if defined(__GNUC__) && defined(__SSE2__)
#include <immintrin.h>
#elif defined(__GNUC__) && defined(__aarch64__)
#include <arm_neon.h>
#endif

#ifdef JAW__AVX2
#define JAW__LANES 4
#define LANES_FN                                                               \
    static inline __attribute__((target("avx2,fma"), always_inline))
typedef double lanes __attribute__((vector_size(32)));
#elif defined(__GNUC__) && (defined(__SSE2__) || defined(__aarch64__))
#define JAW__LANES 2
#define LANES_FN static inline __attribute__((always_inline))
typedef double lanes __attribute__((vector_size(16)));
#else
#define JAW__LANES 1
#define LANES_FN static inline
typedef double lanes;
#endif

/* lanes_load: x and y of p[0], p[stride] ...; lanes_most: the largest. */

#if JAW__LANES == 4

LANES_FN lanes lanes_all(double a)
{
    return (lanes){a, a, a, a};
}

LANES_FN double lanes_sum(lanes a)
{
    return (a[0] + a[2]) + (a[1] + a[3]);
}

LANES_FN double lanes_most(lanes a)
{
    return fmax(fmax(a[0], a[1]), fmax(a[2], a[3]));
}

LANES_FN void lanes_load(const jaw_vec2 *p, size_t stride, lanes *x, lanes *y)
{
    const __m128d a = _mm_loadu_pd(&p->x), b = _mm_loadu_pd(&p[stride].x);
    const __m128d c = _mm_loadu_pd(&p[2 * stride].x);
    const __m128d d = _mm_loadu_pd(&p[3 * stride].x);
    const __m256d ac = _mm256_insertf128_pd(_mm256_castpd128_pd256(a), c, 1);
    const __m256d bd = _mm256_insertf128_pd(_mm256_castpd128_pd256(b), d, 1);

    *x = (lanes)_mm256_unpacklo_pd(ac, bd);
    *y = (lanes)_mm256_unpackhi_pd(ac, bd);
}

LANES_FN void lanes_load_solid(const jaw_vec3 *p, size_t stride, lanes *x,
                               lanes *y, lanes *z)
{
    const jaw_vec3 *q = p + stride, *r = q + stride, *s = r + stride;

    *x = (lanes){p->x, q->x, r->x, s->x};
    *y = (lanes){p->y, q->y, r->y, s->y};
    *z = (lanes){p->z, q->z, r->z, s->z};
}

LANES_FN lanes lanes_read(const double *from)
{
    return (lanes)_mm256_loadu_pd(from);
}

LANES_FN void lanes_store(lanes a, double *out)
{
    _mm256_storeu_pd(out, (__m256d)a);
}

LANES_FN lanes lanes_root(lanes a)
{
    return (lanes)_mm256_sqrt_pd((__m256d)a);
}

LANES_FN lanes lanes_size(lanes a)
{
    return (lanes)_mm256_andnot_pd(_mm256_set1_pd(-0.0), (__m256d)a);
}

LANES_FN lanes lanes_larger(lanes a, lanes b)
{
    return (lanes)_mm256_max_pd((__m256d)a, (__m256d)b);
}

#elif JAW__LANES == 2

LANES_FN lanes lanes_all(double a)
{
    return (lanes){a, a};
}

LANES_FN double lanes_sum(lanes a)
{
    return a[0] + a[1];
}

LANES_FN double lanes_most(lanes a)
{
    return fmax(a[0], a[1]);
}

LANES_FN void lanes_load(const jaw_vec2 *p, size_t stride, lanes *x, lanes *y)
{
    *x = (lanes){p->x, p[stride].x};
    *y = (lanes){p->y, p[stride].y};
}

LANES_FN void lanes_load_solid(const jaw_vec3 *p, size_t stride, lanes *x,
                               lanes *y, lanes *z)
{
    *x = (lanes){p->x, p[stride].x};
    *y = (lanes){p->y, p[stride].y};
    *z = (lanes){p->z, p[stride].z};
}

LANES_FN lanes lanes_read(const double *from)
{
    return (lanes){from[0], from[1]};
}

LANES_FN void lanes_store(lanes a, double *out)
{
    out[0] = a[0];
    out[1] = a[1];
}

LANES_FN lanes lanes_root(lanes a)
{
#ifdef __SSE2__
    return (lanes)_mm_sqrt_pd((__m128d)a);
#else
    return (lanes)vsqrtq_f64((float64x2_t)a);
#endif
}

LANES_FN lanes lanes_size(lanes a)
{
#ifdef __SSE2__
    return (lanes)_mm_andnot_pd(_mm_set1_pd(-0.0), (__m128d)a);
#else
    return (lanes)vabsq_f64((float64x2_t)a);
#endif
}

LANES_FN lanes lanes_larger(lanes a, lanes b)
{
#ifdef __SSE2__
    return (lanes)_mm_max_pd((__m128d)a, (__m128d)b);
#else
    return (lanes)vmaxq_f64((float64x2_t)a, (float64x2_t)b);
#endif
}

#else

LANES_FN lanes lanes_all(double a)
{
    return a;
}

LANES_FN double lanes_sum(lanes a)
{
    return a;
}

LANES_FN double lanes_most(lanes a)
{
    return a;
}

LANES_FN void lanes_load(const jaw_vec2 *p, size_t stride, lanes *x, lanes *y)
{
    (void)stride;
    *x = p->x;
    *y = p->y;
}

LANES_FN void lanes_load_solid(const jaw_vec3 *p, size_t stride, lanes *x,
                               lanes *y, lanes *z)
{
    (void)stride;
    *x = p->x;
    *y = p->y;
    *z = p->z;
}

LANES_FN lanes lanes_read(const double *from)
{
    return *from;
}

LANES_FN void lanes_store(lanes a, double *out)
{
    *out = a;
}

LANES_FN lanes lanes_root(lanes a)
{
    return sqrt(a);
}

LANES_FN lanes lanes_size(lanes a)
{
    return fabs(a);
}

LANES_FN lanes lanes_larger(lanes a, lanes b)
{
    return a > b ? a : b;
}

#endif

/* 1 in the lanes of `count` touches (at least one), 0 beyond. */
LANES_FN lanes lanes_mask(size_t count)
{
    static const double on[7] = {1, 1, 1, 1};

    return lanes_read(on + 4 - (count < JAW__LANES ? count : JAW__LANES));
}

/* As lanes_load, of fewer touches than lanes: p[0] stands for the missing. */
LANES_FN void lanes_load_some(const jaw_vec2 *p, size_t stride, size_t count,
                              lanes *x, lanes *y)
{
    jaw_vec2 q[JAW__LANES];

    for (size_t i = 0; i < JAW__LANES; i++)
        q[i] = p[i < count ? i * stride : 0];
    lanes_load(q, 1, x, y);
}

LANES_FN void lanes_store_some(lanes a, double *out, size_t count)
{
    double all[JAW__LANES];

    if (count >= JAW__LANES) {
        lanes_store(a, out);
        return;
    }
    lanes_store(a, all);
    for (size_t i = 0; i < count; i++)
        out[i] = all[i];
}

/* Numbers that stand one after another, 0 beyond the last. */
LANES_FN lanes lanes_read_some(const double *from, size_t count)
{
    double all[JAW__LANES] = {0};

    if (count >= JAW__LANES)
        return lanes_read(from);
    for (size_t i = 0; i < count; i++)
        all[i] = from[i];
    return lanes_read(all);
}

/* sum + a b, in one rounding where that is as fast. */
LANES_FN lanes lanes_add(lanes sum, lanes a, lanes b)
{
#if JAW__LANES == 4
    return (lanes)_mm256_fmadd_pd((__m256d)a, (__m256d)b, (__m256d)sum);
#elif JAW__LANES == 2 && defined(__aarch64__)
    return (lanes)vfmaq_f64((float64x2_t)sum, (float64x2_t)a, (float64x2_t)b);
#else
    return sum + a * b;
#endif
}

/* a - b = result + *rest, exactly. */
LANES_FN lanes lanes_differ(lanes a, lanes b, lanes *rest)
{
    lanes d = a - b;
    lanes back = d - a;

    *rest = (a - (d - back)) - (b + back);
    return d;
}

/* a * b = result + *rest, exactly while nothing over- or underflows. */
LANES_FN lanes lanes_product(lanes a, lanes b, lanes *rest)
{
    lanes p = a * b;

#if JAW__LANES == 2 && defined(__FMA__)
    *rest = (lanes)_mm_fmsub_pd((__m128d)a, (__m128d)b, (__m128d)p);
#elif JAW__LANES == 4
    *rest = (lanes)_mm256_fmsub_pd((__m256d)a, (__m256d)b, (__m256d)p);
#elif JAW__LANES == 2 && defined(__aarch64__)
    *rest = (lanes)vfmaq_f64((float64x2_t)(-p), (float64x2_t)a, (float64x2_t)b);
#elif JAW__LANES == 1 && defined(FP_FAST_FMA)
    *rest = fma(a, b, -p);
#else
    const lanes split = lanes_all(0x1p27 + 1);
    lanes a_far = split * a - a, b_far = split * b - b;
    lanes ah = split * a - a_far, bh = split * b - b_far;
    lanes al = a - ah, bl = b - bh;
    *rest = ((ah * bh - p) + (ah * bl + al * bh)) + al * bl;
#endif
    return p;
}

#endif
