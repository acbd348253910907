/* SPDX-License-Identifier: GPL-3.0-or-later */
/* passes_avx2.c: the passes four doubles at a time, for machines that say they
 * can.  Only this file is compiled for them; the choice is made at run time
 * and needs nothing of the linker. */
#if defined(__GNUC__) && defined(__x86_64__)
#define JAW__AVX2
#include "passes_body.h"
#include "wide_body.h"

const jaw__passes *jaw__passes_avx2(void)
{
    static const jaw__passes passes = {circle, strips, slabs};

    return __builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma")
               ? &passes
               : NULL;
}
#else
#include "passes.h"

const jaw__passes *jaw__passes_avx2(void)
{
    return NULL;
}
#endif
