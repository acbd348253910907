/* SPDX-License-Identifier: GPL-3.0-or-later */
/* curved_passes_avx2.c: the looks four doubles at a time, as passes_avx2.c. */
#if defined(__GNUC__) && defined(__x86_64__)
#define JAW__AVX2
#include "curved_body.h"

const jaw__curved_passes *jaw__curved_passes_avx2(void)
{
    static const jaw__curved_passes passes = {bulk_sums, survey, triangle,
                                              rate};

    return __builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma")
               ? &passes
               : NULL;
}
#else
#include "curved_passes.h"

const jaw__curved_passes *jaw__curved_passes_avx2(void)
{
    return NULL;
}
#endif
