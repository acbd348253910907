/* SPDX-License-Identifier: GPL-3.0-or-later */
/* passes.c: the passes as every machine of the kind can run them, and the
 * choice between these and wider ones. */
#include "passes_body.h"
#include "wide_body.h"

const jaw__passes jaw__passes_plain = {circle, strips, slabs};

const jaw__passes *jaw__passes_best(void)
{
    const jaw__passes *wide = jaw__passes_avx2();

    return wide ? wide : &jaw__passes_plain;
}
