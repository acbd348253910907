/* SPDX-License-Identifier: GPL-3.0-or-later */
/* lanes.h: two doubles at a time where every machine of the kind has them
 * (SSE2, AArch64), one elsewhere.  The vector extension of GCC and Clang gives
 * the arithmetic; only root, products and the way in are spelled out.  A plain
 * loop would do, but sqrt sets errno, and that keeps compilers from joining
 * two of them.
 *
 * Error-free sums and products: Knuth, TAOCP 2, 4.2.2, theorem B; Dekker,
 * Numer. Math. 18 (1971) 224-242.  Where a fused multiply-add exists it is
 * asked for by name, so that a compiler that fuses on its own (-ffp-contract)
 * finds nothing that could spoil the error term. */
#ifndef JAW_FIT_LANES_H
#define JAW_FIT_LANES_H

#include <jawline/base.h>

#include <math.h>

#if defined(__GNUC__) && defined(__SSE2__)
#include <immintrin.h>
#define JAW__LANES 2
#elif defined(__GNUC__) && defined(__aarch64__)
#include <arm_neon.h>
#define JAW__LANES 2
#else
#define JAW__LANES 1
#endif

#if JAW__LANES == 2

typedef double lanes __attribute__((vector_size(16)));

static inline lanes lanes_all(double a)
{
    return (lanes){a, a};
}

static inline double lanes_sum(lanes a)
{
    return a[0] + a[1];
}

/* The first `count` of the touches p[0], p[1]; a missing one repeats p[0]. */
static inline void lanes_load(const jaw_vec2 *p, size_t count, lanes *x,
                              lanes *y)
{
    const jaw_vec2 *q = p + (count > 1);

    *x = (lanes){p->x, q->x};
    *y = (lanes){p->y, q->y};
}

/* 1 for each lane that holds a touch, 0 for one that only repeats. */
static inline lanes lanes_mask(size_t count)
{
    return (lanes){1, count > 1 ? 1 : 0};
}

static inline void lanes_store(lanes a, double *out, size_t count)
{
    out[0] = a[0];
    if (count > 1)
        out[1] = a[1];
}

#else

typedef double lanes;

static inline lanes lanes_all(double a)
{
    return a;
}

static inline double lanes_sum(lanes a)
{
    return a;
}

static inline void lanes_load(const jaw_vec2 *p, size_t count, lanes *x,
                              lanes *y)
{
    (void)count;
    *x = p->x;
    *y = p->y;
}

static inline lanes lanes_mask(size_t count)
{
    (void)count;
    return 1;
}

static inline void lanes_store(lanes a, double *out, size_t count)
{
    (void)count;
    *out = a;
}

#endif

static inline lanes lanes_root(lanes a)
{
#if defined(__GNUC__) && defined(__SSE2__)
    return (lanes)_mm_sqrt_pd((__m128d)a);
#elif defined(__GNUC__) && defined(__aarch64__)
    return (lanes)vsqrtq_f64((float64x2_t)a);
#else
    return sqrt(a);
#endif
}

static inline lanes lanes_size(lanes a)
{
#if defined(__GNUC__) && defined(__SSE2__)
    return (lanes)_mm_andnot_pd(_mm_set1_pd(-0.0), (__m128d)a);
#elif defined(__GNUC__) && defined(__aarch64__)
    return (lanes)vabsq_f64((float64x2_t)a);
#else
    return fabs(a);
#endif
}

/* The larger of each lane; of no use where one is not a number. */
static inline lanes lanes_larger(lanes a, lanes b)
{
#if defined(__GNUC__) && defined(__SSE2__)
    return (lanes)_mm_max_pd((__m128d)a, (__m128d)b);
#elif defined(__GNUC__) && defined(__aarch64__)
    return (lanes)vmaxq_f64((float64x2_t)a, (float64x2_t)b);
#else
    return a > b ? a : b;
#endif
}

/* a - b = result + *rest, exactly. */
static inline lanes lanes_differ(lanes a, lanes b, lanes *rest)
{
    lanes d = a - b;
    lanes back = d - a;

    *rest = (a - (d - back)) - (b + back);
    return d;
}

/* a * b = result + *rest, exactly while nothing over- or underflows. */
static inline lanes lanes_product(lanes a, lanes b, lanes *rest)
{
    lanes p = a * b;

#if JAW__LANES == 2 && defined(__FMA__)
    *rest = (lanes)_mm_fmsub_pd((__m128d)a, (__m128d)b, (__m128d)p);
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
