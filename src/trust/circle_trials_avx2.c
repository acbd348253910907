/* SPDX-License-Identifier: GPL-3.0-or-later */
/* circle_trials_avx2.c: the same four trials at a time, for machines that say
 * they can; chosen at run time. */
#if defined(__GNUC__) && defined(__x86_64__)
#define JAW__AVX2
#include "circle_trials_body.h"

__attribute__((target("avx2,fma"))) static void
group(const jaw__circle_trials *t, unsigned long long first,
      double a[JAW__GROUP], double b[JAW__GROUP], double rho[JAW__GROUP],
      double good[JAW__GROUP])
{
    do_group(t, first, a, b, rho, good);
}

jaw__circle_group *jaw__circle_group_avx2(void)
{
    return __builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma")
               ? group
               : NULL;
}
#else
#include "circle_trials.h"

jaw__circle_group *jaw__circle_group_avx2(void)
{
    return NULL;
}
#endif
