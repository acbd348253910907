/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What features allocate: nothing up to 64 touches, and beyond that a failure
 * is told, leaves NaN and leaks nothing. */
#include "feature_tests.h"

#include "tests/alloc/alloc.h"

#define NOT ((double)NAN)

enum { MANY = 200 };

/* Touches of a wall, a circle or a face, all in one. */
static jaw_touch line[MANY], circle[MANY], flat[MANY];
static jaw_vec2 places[MANY];
static double resid[2 * MANY];

static void make_touches(void)
{
    for (int i = 0; i < MANY; i++) {
        line[i] = (jaw_touch){i, 0.25 * i, NOT};
        circle[i] = (jaw_touch){30 * cos(i), 30 * sin(i), NOT};
        flat[i] = (jaw_touch){i, 17 * i % 31, 0};
        places[i] = (jaw_vec2){i, 17 * i % 31};
    }
}

/* Every solver with n touches; the first number of its result. */
static jaw_status call(int which, size_t n, double *first)
{
    jaw_tip tip = jaw_tip_make(JAW_TIP_BALL, 3);
    jaw_edge e;
    jaw_face f;
    jaw_round b;
    jaw_walls w;
    jaw_pattern p;
    jaw_touch far[MANY];
    jaw_status s;

    switch (which) {
    case 0:
        s = jaw_feature_edge(line, n, &tip, JAW_SIDE_YPLUS, NOT, &e, resid);
        *first = e.point.x;
        return s;
    case 1:
        s = jaw_feature_face(flat, n, &tip, &f, resid);
        *first = f.point.z;
        return s;
    case 2:
    case 3:
        s = jaw_feature_bore(circle, n, &tip, which == 2 ? NOT : 63, &b,
                             resid);
        *first = b.diameter;
        return s;
    case 4:
        s = jaw_feature_boss(circle, n, &tip, NOT, &b, resid);
        *first = b.diameter;
        return s;
    case 5:
    case 6:
        for (size_t i = 0; i < n; i++)
            far[i] = (jaw_touch){line[i].x, line[i].y + 40, NOT};
        s = which == 5
                ? jaw_feature_slot(line, n, far, n, &tip, NOT, &w, resid)
                : jaw_feature_web(line, n, far, n, &tip, NOT, &w, resid);
        *first = w.width;
        return s;
    default:
        s = jaw_feature_pattern(places, places, n, &p, resid);
        *first = p.frame.origin.x;
        return s;
    }
}

START_TEST(few_touches_allocate_nothing)
{
    double first;
    make_touches();
    for (size_t n = 3; n <= 64; n += n < 10 ? 1 : 9) {
        alloc_count_start();
        jaw_status s = call(_i, n, &first);
        ck_assert_int_eq(alloc_count_stop(), 0);
        ck_status(s, JAW_OK);
    }
}
END_TEST

START_TEST(many_touches_without_memory)
{
    double first;
    int failures = 0;
    make_touches();
    for (long k = 0;; k++) {
        alloc_fail_after(k);
        jaw_status s = call(_i, MANY, &first);
        bool failed = alloc_failed();
        alloc_fail_never();
        ck_assert_int_eq(alloc_live(), 0);
        if (!failed) {
            ck_status(s, JAW_OK);
            ck_assert(!isnan(first));
            break;
        }
        failures++;
        ck_status(s, JAW_ENOMEM);
        ck_assert(isnan(first));
        all_nan(resid, MANY, "residuals");
    }
    ck_assert_int_gt(failures, 0);
}
END_TEST

/* Without residuals a pattern needs no memory at all. */
START_TEST(pattern_without_residuals)
{
    jaw_pattern p;
    make_touches();
    alloc_count_start();
    jaw_status s = jaw_feature_pattern(places, places, MANY, &p, NULL);
    ck_assert_int_eq(alloc_count_stop(), 0);
    ck_status(s, JAW_OK);
}
END_TEST

TCase *memory_case(void)
{
    if (!alloc_works())
        return NULL;
    TCase *tc = tcase_create("memory");
    tcase_add_loop_test(tc, few_touches_allocate_nothing, 0, 8);
    tcase_add_loop_test(tc, many_touches_without_memory, 0, 8);
    tcase_add_test(tc, pattern_without_residuals);
    return tc;
}
