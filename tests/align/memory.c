/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sweeps without memory: it is told, all is NaN, nothing leaks. */
#include "align_tests.h"

#include "tests/alloc/alloc.h"

static jaw_status call(int which, double *first, double resid[12])
{
    double at[12], v[12];
    jaw_status status;
    for (int i = 0; i < 12; i++) {
        at[i] = 0.5 * i;
        v[i] = 0.01 * cos(at[i]) + 0.001 * (i % 5);
    }
    if (which == 0) {
        jaw_swept_wall s;
        status = jaw_align_wall(at, v, 12, JAW_SIDE_YPLUS, NOT, &s, resid);
        *first = s.skew.value;
        return status;
    }
    jaw_swept_round s;
    status = jaw_align_round(at, v, 12, true, which == 1 ? NOT : 20, NOT, &s,
                             resid);
    *first = s.shift[0].value;
    return status;
}

START_TEST(sweep_without_memory)
{
    double first, resid[12];
    int failures = 0;
    for (long k = 0;; k++) {
        alloc_fail_after(k);
        jaw_status status = call(_i, &first, resid);
        bool failed = alloc_failed();
        alloc_fail_never();
        ck_assert_int_eq(alloc_live(), 0);
        if (!failed) {
            ck_status(status, JAW_OK, "with memory");
            ck_assert(isfinite(first));
            break;
        }
        failures++;
        ck_status(status, JAW_ENOMEM, "without");
        ck_assert(isnan(first));
        all_nan(resid, 12, "residuals");
    }
    ck_assert_int_ge(failures, 1);
}
END_TEST

TCase *memory_case(void)
{
    if (!alloc_works())
        return NULL;
    TCase *tc = tcase_create("memory");
    tcase_add_loop_test(tc, sweep_without_memory, 0, 3);
    return tc;
}
