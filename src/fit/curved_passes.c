/* SPDX-License-Identifier: GPL-3.0-or-later */
/* curved_passes.c: the looks as every machine of the kind can run them, and
 * the choice between these and wider ones. */
#include "curved_body.h"

const jaw__curved_passes *jaw__curved_passes_plain(void)
{
    static const jaw__curved_passes passes = {bulk_sums, survey, triangle,
                                              rate};

    return &passes;
}

const jaw__curved_passes *jaw__curved_passes_best(void)
{
    const jaw__curved_passes *wide = jaw__curved_passes_avx2();

    return wide ? wide : jaw__curved_passes_plain();
}
