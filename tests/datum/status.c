/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every status and every flag, provoked; and the levels. */
#include "datum_tests.h"

#include "tests/alloc/alloc.h"

/* A plain set that is good: corner at 0, square, ball of 2. */
static void plain(touched *t)
{
    static const jaw_touch top[4] = {{5, 5, 0}, {80, 6, 0}, {8, 50, 0},
                                     {75, 48, 0}};
    static const jaw_touch wall[3] = {{10, -1, -10}, {70, -1, -11},
                                      {40, -1, -30}};
    static const jaw_touch stop[2] = {{-1, 10, -10}, {-1, 40, -10}};

    *t = (touched){.tip = {jaw_tip_make(JAW_TIP_BALL, 2),
                           jaw_tip_make(JAW_TIP_BALL, 2),
                           jaw_tip_make(JAW_TIP_BALL, 2)}};
    memcpy(t->t[0], top, sizeof top);
    memcpy(t->t[1], wall, sizeof wall);
    memcpy(t->t[2], stop, sizeof stop);
    t->d[0] = (jaw_datum){t->t[0], 4, &t->tip[0], JAW_SIDE_NONE, 0.002};
    t->d[1] = (jaw_datum){t->t[1], 3, &t->tip[1], JAW_SIDE_YMINUS, 0.002};
    t->d[2] = (jaw_datum){t->t[2], 2, &t->tip[2], JAW_SIDE_XMINUS, 0.002};
}

static void fails(const touched *t, jaw_status want)
{
    jaw_attitude a;
    double resid[MOST];

    for (int i = 0; i < MOST; i++)
        resid[i] = 1;
    ck_status(find(t, &a, resid), want);
    attitude_is_nan(&a);
    size_t count = t->d[0].n + t->d[1].n + t->d[2].n;
    for (size_t i = 0; i < count; i++)
        ck_assert(isnan(resid[i]));
    ck_assert(resid[count] == 1);
    ck_status(find(t, &a, NULL), want);
    attitude_is_nan(&a);
}

START_TEST(plain_is_good)
{
    touched t;
    jaw_attitude a;
    double resid[9];

    plain(&t);
    ck_status(find(&t, &a, resid), JAW_OK);
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++)
            near(a.turn[i][j], i == j, 1e-15, "turn");
    near(hypot(hypot(a.origin.x, a.origin.y), a.origin.z), 0, 1e-14, "origin");
    ck_assert_uint_eq(a.flags, 0);
    ck_assert_int_eq(a.dof[0], 1);
    ck_assert_int_eq(a.dof[1], 1);
    ck_assert_int_eq(a.dof[2], 1);
    near(a.rms[0] + a.rms[1] + a.rms[2], 0, 1e-13, "rms");
    near(a.between[0].value, 0, 1e-15, "between");
    near(a.between[1].value, 0, 1e-15, "between");
    ck_assert(a.between[0].u > 0 && isinf(a.between[0].dof));
}
END_TEST

START_TEST(too_few)
{
    for (int k = 0; k < 3; k++) {
        touched t;
        plain(&t);
        t.d[k].n = (size_t)(2 - k);
        fails(&t, JAW_EFEW);
    }
}
END_TEST

START_TEST(not_finite)
{
    static const double bad[] = {NAN, INFINITY, -INFINITY};
    for (int k = 0; k < 3; k++)
        for (int c = 0; c < 3; c++) {
            touched t;
            plain(&t);
            jaw_touch *p = &t.t[k][0];
            *(c == 0 ? &p->x : c == 1 ? &p->y : &p->z) = bad[_i];
            fails(&t, JAW_ENOTFINITE);
        }
    touched t;
    plain(&t);
    t.d[1].repeat = NAN;
    fails(&t, JAW_ENOTFINITE);
    plain(&t);
    t.tip[2].diameter = NAN;
    fails(&t, JAW_ENOTFINITE);
}
END_TEST

START_TEST(out_of_domain)
{
    static const double bad[] = {0, -1, INFINITY};
    for (int k = 0; k < 3; k++)
        for (int i = 0; i < 3; i++) {
            touched t;
            plain(&t);
            t.d[k].repeat = bad[i];
            fails(&t, JAW_EDOMAIN);
        }
    touched t;
    plain(&t);
    t.tip[0].diameter = -1;
    fails(&t, JAW_EDOMAIN);
}
END_TEST

START_TEST(no_rank)
{
    touched t;
    plain(&t);
    t.t[0][2] = (jaw_touch){30, 5 + 25. / 75, 0};
    t.d[0].n = 3; /* on one line */
    fails(&t, JAW_ERANK);
    plain(&t);
    t.t[1][1] = t.t[1][2] = t.t[1][0]; /* the secondary in one place */
    fails(&t, JAW_ERANK);
    plain(&t);
    for (int i = 0; i < 4; i++) /* an upright strip is no face */
        t.t[0][i] = (jaw_touch){t.t[0][i].x, 0, t.t[0][i].y};
    fails(&t, JAW_ESIDE);
}
END_TEST

START_TEST(wrong_side)
{
    static const jaw_side pair[][2] = {
        {JAW_SIDE_YMINUS, JAW_SIDE_YPLUS},  {JAW_SIDE_XMINUS, JAW_SIDE_XPLUS},
        {JAW_SIDE_YMINUS, JAW_SIDE_NONE},   {JAW_SIDE_NONE, JAW_SIDE_XPLUS},
        {JAW_SIDE_XPLUS, JAW_SIDE_YMINUS}, /* walls taken for one another */
        {(jaw_side)99, JAW_SIDE_XPLUS},
    };
    for (int i = 0; i < COUNT(pair); i++) {
        touched t;
        plain(&t);
        t.d[1].faces = pair[i][0];
        t.d[2].faces = pair[i][1];
        fails(&t, JAW_ESIDE);
    }
    /* the tertiary's touches lie along a wall of the secondary */
    touched t;
    plain(&t);
    t.t[2][0] = (jaw_touch){10, 61, -10};
    t.t[2][1] = (jaw_touch){60, 61, -10};
    fails(&t, JAW_ESIDE);
}
END_TEST

START_TEST(flags)
{
    touched t;
    jaw_attitude a;

    plain(&t);
    t.d[1].n = 2; /* 10 and 70 */
    ck_status(find(&t, &a, NULL), JAW_OK);
    ck_assert_uint_eq(a.flags, JAW_NO_CHECK);
    ck_assert(isnan(a.rms[1]) && !isnan(a.rms[0]));
    ck_assert(isnan(a.between[0].value) && !isnan(a.between[1].value));
    plain(&t);
    t.d[2].n = 1;
    ck_status(find(&t, &a, NULL), JAW_OK);
    ck_assert_uint_eq(a.flags, JAW_NO_CHECK);
    ck_assert(isnan(a.between[1].value) && !isnan(a.between[0].value));
    plain(&t);
    t.t[1][2].y += 0.03;
    ck_status(find(&t, &a, NULL), JAW_OK);
    ck_assert_uint_eq(a.flags, JAW_RESIDUAL);
    plain(&t);
    t.t[2][1] = t.t[2][0];
    ck_status(find(&t, &a, NULL), JAW_OK);
    ck_assert_uint_eq(a.flags, JAW_SAME_TOUCH);
    ck_assert(isnan(a.between[1].value));
    plain(&t);
    for (int i = 0; i < 4; i++)
        t.t[0][i].z = 0.1 * t.t[0][i].x;
    ck_status(find(&t, &a, NULL), JAW_OK);
    ck_assert(a.flags & JAW_STEEP);
    plain(&t);
    t.t[0][2].y = t.t[0][3].y = 6.01; /* a strip */
    t.t[0][0].y = 6;
    ck_status(find(&t, &a, NULL), JAW_OK);
    ck_assert(a.flags & JAW_WEAK);
}
END_TEST

/* One height: a touch's repeat would turn the wall by any angle. */
START_TEST(one_height_shows_no_angle)
{
    touched t;
    jaw_attitude a;

    plain(&t);
    for (int i = 0; i < 3; i++)
        t.t[1][i].z = -10 + 0.001 * i * i;
    t.t[1][2].y += 0.001;
    ck_status(find(&t, &a, NULL), JAW_OK);
    ck_assert(isnan(a.between[0].value));
    for (int i = 0; i < 3; i++)
        t.t[1][i].z = -10;
    ck_status(find(&t, &a, NULL), JAW_OK);
    ck_assert(isnan(a.between[0].value));
}
END_TEST

TCase *status_case(void)
{
    TCase *tc = tcase_create("status");
    tcase_add_test(tc, plain_is_good);
    tcase_add_test(tc, too_few);
    tcase_add_loop_test(tc, not_finite, 0, 3);
    tcase_add_test(tc, out_of_domain);
    tcase_add_test(tc, no_rank);
    tcase_add_test(tc, wrong_side);
    tcase_add_test(tc, flags);
    tcase_add_test(tc, one_height_shows_no_angle);
    return tc;
}

/* ------------------------------------------------------------------- levels */

/* A plate 100 by 60 that rises 0.1 along X and falls 0.03 along Y; the zero at
 * its middle. */
START_TEST(shims_bring_it_level)
{
    touched t;
    jaw_attitude a;
    static const jaw_vec2 corner[4] = {{0, 0}, {100, 0}, {0, 60}, {100, 60}};
    double shim[4], top = -HUGE_VAL;
    jaw_figure error[4];

    plain(&t);
    for (int i = 0; i < 4; i++)
        t.t[0][i].z = 1e-3 * t.t[0][i].x - 5e-4 * t.t[0][i].y;
    ck_status(find(&t, &a, NULL), JAW_OK);
    ck_status(jaw_datum_level(&a, (jaw_vec2){50, 30}, corner, 4, error, shim),
              JAW_OK);
    for (int i = 0; i < 4; i++) {
        /* part and machine coordinates differ by second order here */
        double want = 1e-3 * (corner[i].x - 50) - 5e-4 * (corner[i].y - 30);
        near(error[i].value, want, 1e-6, "error");
        ck_assert(error[i].u > 0 && isinf(error[i].dof));
        top = fmax(top, error[i].value);
    }
    for (int i = 0; i < 4; i++)
        near(error[i].value + shim[i], top, 1e-15, "all level");
    near(shim[1], 0, 0, "the highest");
    near(shim[2], 0.13, 1e-6, "the lowest");
}
END_TEST

/* Shims under the part, and the part as it then lies: turned back by what they
 * lift. */
START_TEST(shimmed_part_is_level)
{
    random_source r = random_start("shimmed_part_is_level", 2300);
    const size_t n[3] = {5, 3, 2};
    jaw_tip ball = jaw_tip_make(JAW_TIP_BALL, 4), tip[3] = {ball, ball, ball};

    for (int set = 0; set < 50; set++) {
        block b = world_block(&r, JAW_SIDE_YMINUS, JAW_SIDE_XMINUS, 0.003, 0.3);
        static const jaw_vec2 under[3] = {{5, 5}, {85, 10}, {40, 55}};
        touched t;
        jaw_attitude a;
        jaw_figure error[3];
        double shim[3];
        jaw_vec3 p[3];
        world_touch(&r, &b, JAW_SIDE_YMINUS, JAW_SIDE_XMINUS, n, tip, &t);
        ck_status(find(&t, &a, NULL), JAW_OK);
        ck_status(jaw_datum_level(&a, (jaw_vec2){0, 0}, under, 3, error, shim),
                  JAW_OK);
        for (int i = 0; i < 3; i++) {
            p[i] = world_at(&b, (jaw_vec3){under[i].x, under[i].y, 0});
            p[i].z += shim[i];
        }
        near(p[1].z, p[0].z, 1e-10, "level");
        near(p[2].z, p[0].z, 1e-10, "level");
    }
}
END_TEST

START_TEST(level_fails)
{
    touched t;
    jaw_attitude a;
    jaw_figure error[2];
    double shim[2];
    jaw_vec2 work[2] = {{0, 0}, {1, 1}}, zero = {0, 0};

    plain(&t);
    ck_status(find(&t, &a, NULL), JAW_OK);
    ck_status(jaw_datum_level(&a, zero, work, 0, error, shim), JAW_EFEW);
    ck_status(jaw_datum_level(&a, (jaw_vec2){NOT, 0}, work, 2, error, shim),
              JAW_ENOTFINITE);
    ck_assert(isnan(error[1].value) && isnan(error[1].u) && isnan(shim[1]));
    work[1].y = INFINITY;
    ck_status(jaw_datum_level(&a, zero, work, 2, error, shim), JAW_ENOTFINITE);
    ck_assert(isnan(error[0].value) && isnan(shim[0]));
    work[1].y = 1;
    t.d[0].n = 1;
    ck_status(find(&t, &a, NULL), JAW_EFEW);
    ck_status(jaw_datum_level(&a, zero, work, 2, error, shim), JAW_ENOTFINITE);
    ck_assert(isnan(error[0].value) && isnan(shim[1]));
}
END_TEST

TCase *level_case(void)
{
    TCase *tc = tcase_create("level");
    tcase_add_test(tc, shims_bring_it_level);
    tcase_add_test(tc, shimmed_part_is_level);
    tcase_add_test(tc, level_fails);
    return tc;
}

/* ------------------------------------------------------------------- memory */

START_TEST(without_memory)
{
    touched t;
    jaw_touch many[100];
    jaw_attitude a, few;
    double resid[110];
    int failures = 0;

    plain(&t);
    alloc_count_start();
    jaw_status status = find(&t, &few, NULL);
    ck_assert_int_eq(alloc_count_stop(), 0);
    ck_status(status, JAW_OK);
    for (int i = 0; i < 100; i++)
        many[i] = t.t[1][i % 3];
    t.d[1].t = many;
    t.d[1].n = 100;
    for (long k = 0;; k++) {
        alloc_fail_after(k);
        status = find(&t, &a, resid);
        bool failed = alloc_failed();
        alloc_fail_never();
        ck_assert_int_eq(alloc_live(), 0);
        if (!failed) {
            ck_status(status, JAW_OK);
            break;
        }
        failures++;
        ck_status(status, JAW_ENOMEM);
        attitude_is_nan(&a);
        for (int i = 0; i < 106; i++)
            ck_assert(isnan(resid[i]));
    }
    ck_assert_int_eq(failures, 2);
    near(a.origin.y, few.origin.y, 1e-12, "origin");
}
END_TEST

TCase *memory_case(void)
{
    if (!alloc_works())
        return NULL;
    TCase *tc = tcase_create("memory");
    tcase_add_test(tc, without_memory);
    return tc;
}
