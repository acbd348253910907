/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Diameters of cutters: their uncertainty by hand, each verdict, and what is
 * refused. */
#include "book_tests.h"

#include "src/book/change.h"

#include <math.h>
#include <string.h>

static shop s;

static void begin(void)
{
    shop_begin(&s);
}

static void end(void)
{
    shop_end(&s);
}

static jaw_book_gauge gauge_of(int number, const double reading[], size_t n)
{
    return (jaw_book_gauge){.machine = "mill", .number = number, .holder = "",
                            .reading = reading, .n = n,
                            .repeat = (double)NAN, .step = 1e-3,
                            .at = shop_time(number)};
}

static jaw_book_measured keep(int number, double value, bool fresh)
{
    static double reading[3];
    reading[0] = value - 1e-3;
    reading[1] = value;
    reading[2] = value + 1e-3;
    jaw_book_gauge g = gauge_of(number, reading, 3);
    jaw_book_measured m;
    g.fresh = fresh;
    ck_assert_int_eq(jaw_book_measure_diameter(s.book, &g, &m), JAW_OK);
    shop_write(&s, m.record);
    return m;
}

/* Spread 1 step, seen with two degrees of freedom: of the rounding nothing is
 * left in common but exp(-2 pi^2 (1 - 1/12)) of it. */
START_TEST(by_hand)
{
    jaw_book_measured m = keep(3, 10, true);
    const jaw_book_diameter *d = &m.record.as.diameter;
    double common = 1e-3 / sqrt(12) * exp(-2 * acos(-1) * acos(-1) * 11 / 12);
    ck_assert(fabs(d->value - 10) < 1e-12);
    ck_assert(fabs(d->repeat - 1e-3) < 1e-12 && d->repeat_dof == 2);
    ck_assert(fabs(d->known - common) < 1e-12);
    ck_assert(fabs(d->u - hypot(1e-3 / sqrt(3), common)) < 1e-12);
    ck_assert(fabs(d->half95 - jaw_trust_within(1e-3 / sqrt(3), 2, common)) <
              1e-12);
    ck_assert(m.verdict.change == JAW_CHANGE_FIRST);
    m = keep(3, 10.001, false);
    ck_assert(m.record.as.diameter.repeat_dof == 4);
    double u = 1e-3 * sqrt(2.0 / 3), dof = 4;
    double known = sqrt(2) * common;
    ck_assert(fabs(m.verdict.limit - jaw_trust_limit(&u, &dof, 1, known)) <
              1e-6);
    ck_assert(m.verdict.change == JAW_CHANGE_NOISE);
}
END_TEST

START_TEST(each_verdict)
{
    static const struct {
        double to;
        jaw_book_change change;
        unsigned doubts;
    } row[] = {
        {9.98, JAW_CHANGE_WORN, 0},
        {9.981, JAW_CHANGE_NOISE, 0},
        {10.03, JAW_CHANGE_LARGER, JAW_BOOK_CHANGED},
        {9.2, JAW_CHANGE_SMALLER, JAW_BOOK_CHANGED},
        {12, JAW_CHANGE_OTHER, JAW_BOOK_CHANGED},
        {12 * 25.4, JAW_CHANGE_UNSURE, JAW_BOOK_UNIT_JUMP},
        {12, JAW_CHANGE_NOISE, 0}, /* the slip is passed over */
    };
    for (int i = 0; i < 4; i++)
        keep(10 + i, 11.5 + 0.5 * i, true);
    keep(3, 10, true);
    for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
        jaw_book_measured m = keep(3, row[i].to, false);
        ck_assert_msg(m.verdict.change == row[i].change, "%g: %s", row[i].to,
                      jaw_book_change_word(m.verdict.change));
        ck_assert_uint_eq(m.record.doubts, row[i].doubts);
        ck_assert(m.record.as.diameter.change == m.verdict.change);
        if (m.verdict.change == JAW_CHANGE_OTHER)
            ck_assert_int_eq(m.verdict.other, 11);
    }
    keep(3, 8, true);
    ck_assert(keep(3, 7.99, false).verdict.change == JAW_CHANGE_WORN);
}
END_TEST

/* Its own wear is what the next one is judged by. */
START_TEST(wear_of_its_own)
{
    keep(3, 10, true);
    for (int i = 1; i <= 4; i++)
        keep(3, 10 - 0.02 * i, false);
    jaw_book_measured m = keep(3, 9.9, false);
    ck_assert(fabs(m.verdict.wear - 0.02) < 1e-9);
    ck_assert(m.verdict.change == JAW_CHANGE_WORN);
    ck_assert(keep(3, 9.4, false).verdict.change == JAW_CHANGE_SMALLER);
}
END_TEST

START_TEST(refused)
{
    double r[] = {10, 10.001};
    jaw_book_gauge g = gauge_of(3, r, 2);
    jaw_book_measured m;
    g.n = 0;
    ck_assert_int_eq(jaw_book_measure_diameter(s.book, &g, &m), JAW_EFEW);
    g.n = 2;
    r[1] = 0;
    ck_assert_int_eq(jaw_book_measure_diameter(s.book, &g, &m), JAW_EDOMAIN);
    shop_said(&s, "diameter: it is more than 0; nothing was written");
    r[1] = (double)NAN;
    ck_assert_int_eq(jaw_book_measure_diameter(s.book, &g, &m), JAW_EDOMAIN);
    r[1] = 10;
    g.step = 0;
    ck_assert_int_eq(jaw_book_measure_diameter(s.book, &g, &m), JAW_EDOMAIN);
    g.step = 1e-3;
    g.repeat = -1;
    ck_assert_int_eq(jaw_book_measure_diameter(s.book, &g, &m), JAW_EDOMAIN);
    g.repeat = 1e-3;
    g.number = 0;
    ck_assert_int_eq(jaw_book_measure_diameter(s.book, &g, &m), JAW_EDOMAIN);
    ck_assert(isnan(m.verdict.limit) && isnan(m.record.as.diameter.u));
}
END_TEST

TCase *diameter_case(void)
{
    TCase *tc = tcase_create("diameter");
    tcase_add_checked_fixture(tc, begin, end);
    tcase_add_test(tc, by_hand);
    tcase_add_test(tc, each_verdict);
    tcase_add_test(tc, wear_of_its_own);
    tcase_add_test(tc, refused);
    return tc;
}
