/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every status, provoked; and without memory. */
#include "place_tests.h"

#include "tests/alloc/alloc.h"

static void plain(jaw_station s[4])
{
    for (int i = 0; i < 4; i++)
        s[i] = (jaw_station){.nominal = {100 * (i % 2), 80 * (i / 2), 0},
                             .touched = {100 * (i % 2) + 7, 80 * (i / 2) - 3,
                                         -10},
                             .u_xy = 0.004,
                             .u_z = 0.004,
                             .known = 0.002};
}

static void all_nan(const outcome *o, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        const jaw_station_found *f = &o->at[i];
        const jaw_vec3 v[3] = {f->place, f->off, f->off_u};
        for (int k = 0; k < 3; k++) {
            ck_assert(isnan(v[k].x) && isnan(v[k].y) && isnan(v[k].z));
            ck_assert(isnan(f->axis[k].value) && isnan(f->axis[k].u) &&
                      isnan(f->axis[k].half95));
        }
    }
    ck_assert(isnan(o->turn.value) && isnan(o->turn.u) && isnan(o->rms));
    ck_assert(o->dof == 0 && o->flags == 0);
}

static void fails(const jaw_station s[], size_t n, jaw_figure turn,
                  jaw_status want)
{
    outcome o;

    memset(&o, 0, sizeof o);
    ck_status(stations(s, n, turn, false, &o), want);
    all_nan(&o, n);
}

START_TEST(too_few)
{
    jaw_station s[4];

    plain(s);
    fails(s, 0, free_turn(), JAW_EFEW);
    fails(s, 1, free_turn(), JAW_EFEW);
    for (int i = 0; i < 4; i++)
        s[i].touched.x = s[i].touched.y = NOT;
    fails(s, 4, free_turn(), JAW_EFEW);
    fails(s, 4, given_turn(0, 0), JAW_EFEW);
    s[0].touched.x = s[0].touched.y = 0;
    fails(s, 4, free_turn(), JAW_EFEW);
}
END_TEST

START_TEST(not_finite)
{
    jaw_station s[4];

    for (int k = 0; k < 9; k++) {
        plain(s);
        jaw_station *q = &s[2];
        double *const x[] = {&q->nominal.x, &q->nominal.y, &q->nominal.z,
                             &q->touched.x, &q->touched.y, &q->touched.z,
                             &q->touched.x, &q->touched.y, &q->known};
        *x[k] = k < 3 || k > 5 ? NOT : INFINITY;
        fails(s, 4, free_turn(), JAW_ENOTFINITE);
    }
    plain(s);
    fails(s, 4, (jaw_figure){INFINITY, 0, 1, 0}, JAW_ENOTFINITE);
}
END_TEST

START_TEST(out_of_domain)
{
    jaw_station s[4];

    for (int k = 0; k < 8; k++) {
        plain(s);
        jaw_station *q = &s[1];
        double *const x[] = {&q->u_xy, &q->u_xy, &q->u_z, &q->u_z,
                             &q->known, &q->known, &q->u_xy, &q->u_z};
        /* a spread that is known of some and not of all is the last two */
        const double bad[] = {0, INFINITY, -1, INFINITY, -1, INFINITY, NOT,
                              NOT};
        *x[k] = bad[k];
        fails(s, 4, free_turn(), JAW_EDOMAIN);
    }
    plain(s);
    fails(s, 4, (jaw_figure){0.1, -1, INFINITY, 0}, JAW_EDOMAIN);
    fails(s, 4, (jaw_figure){0.1, NOT, INFINITY, 0}, JAW_EDOMAIN);
    fails(s, 4, (jaw_figure){0.1, INFINITY, INFINITY, 0}, JAW_EDOMAIN);
}
END_TEST

START_TEST(no_rank)
{
    jaw_station s[4];
    outcome o;

    plain(s);
    for (int i = 1; i < 4; i++)
        s[i].nominal = s[0].nominal;
    fails(s, 4, free_turn(), JAW_ERANK);
    plain(s);
    for (int i = 1; i < 4; i++)
        s[i].touched = s[0].touched;
    fails(s, 4, free_turn(), JAW_ERANK);
    /* with a turn from elsewhere one place is enough, touched twice */
    plain(s);
    s[1] = s[0];
    ck_status(stations(s, 2, given_turn(0, 1e-4), false, &o), JAW_OK);
    ck_assert_int_eq(o.dof, 2);
    /* the others in one place predict nothing: `off` of the odd one is not
     * known, of the others it is */
    plain(s);
    s[1] = s[0];
    ck_status(stations(s, 3, free_turn(), false, &o), JAW_OK);
    ck_assert(isnan(o.at[2].off.x) && isnan(o.at[2].off_u.y));
    ck_assert(!isnan(o.at[2].off.z) && !isnan(o.at[0].off.x));
}
END_TEST

TCase *status_case(void)
{
    TCase *tc = tcase_create("status");
    tcase_add_test(tc, too_few);
    tcase_add_test(tc, not_finite);
    tcase_add_test(tc, out_of_domain);
    tcase_add_test(tc, no_rank);
    return tc;
}

START_TEST(without_memory)
{
    jaw_station s[4];
    outcome o;
    int failures = 0;

    plain(s);
    for (long k = 0;; k++) {
        alloc_fail_after(k);
        jaw_status status = stations(s, 4, free_turn(), false, &o);
        bool failed = alloc_failed();
        alloc_fail_never();
        ck_assert_int_eq(alloc_live(), 0);
        if (!failed) {
            ck_status(status, JAW_OK);
            break;
        }
        failures++;
        ck_status(status, JAW_ENOMEM);
        all_nan(&o, 4);
    }
    ck_assert_int_eq(failures, 1);
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
