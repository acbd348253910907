/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Averages and spreads of published data as the book finds them, and outliers
 * that it must see: NIST StRD univariate; Tietjen & Moore 1972 (uranium) and
 * Rosner 1983 (tests/data/README.md says where from). */
#include "book_tests.h"

#include "tests/trust/table.h"

#include <math.h>

static shop s;
static double rows[2000];

static void begin(void)
{
    shop_begin(&s);
}

static void end(void)
{
    shop_end(&s);
}

/* Stated lengths, so that nothing is taken off; kept while it lives. */
static jaw_book_measured measure(const double reading[], size_t n, bool keep)
{
    jaw_book_touch t = shop_touch(3, reading, n);
    jaw_book_measured m;
    t.on = "";
    ck_assert_int_eq(jaw_book_measure(s.book, &t, &m), JAW_OK);
    if (keep)
        shop_write(&s, m.record);
    return m;
}

/* Digits of the mean and of the deviation; NumAcc4's .1 of 1e7 is rounded in
 * the data themselves. */
START_TEST(nist_univariate)
{
    static const struct {
        const char *name;
        double mean, spread;
    } set[] = {{"stat_gum_443", 14, 13},
               {"stat_nist_michelson", 14, 12},
               {"stat_nist_numacc1", 14, 14},
               {"stat_nist_numacc4", 14, 8}};
    const char *name = set[_i].name;
    size_t n = table_read(name, 1, rows, 2000);
    jaw_book_measured m = measure(rows, n, false);
    double mean = table_value(name, "mean"), sd = table_value(name, "sd");
    ck_assert(fabs(m.record.as.length.value - mean) <=
              pow(10, -set[_i].mean) * fabs(mean));
    ck_assert(fabs(m.record.as.length.repeat - sd) <=
              pow(10, -set[_i].spread) * sd);
    ck_assert(m.record.as.length.repeat_dof == (double)n - 1);
}
END_TEST

/* The readings that are left once the published outliers are out teach the
 * spread; then the whole set is seen to scatter, and what was left is not. */
START_TEST(published_outliers)
{
    static const struct {
        const char *name;
        double above; /* published outliers are those above */
    } set[] = {{"outlier_grubbs_uranium", 240}, {"outlier_rosner1983", 5.3}};
    static double good[100];
    size_t n = table_read(set[_i].name, 1, rows, 100), left = 0;
    for (size_t i = 0; i < n; i++)
        if (rows[i] < set[_i].above)
            good[left++] = rows[i];
    ck_assert_uint_eq(n - left, _i == 0 ? 1 : 3);
    for (int i = 0; i < 3; i++)
        measure(good, left, true);
    ck_assert(!(measure(good, left, false).record.doubts & JAW_BOOK_SCATTER));
    ck_assert(measure(rows, n, false).record.doubts & JAW_BOOK_SCATTER);
}
END_TEST

TCase *published_case(void)
{
    TCase *tc = tcase_create("published");
    tcase_add_checked_fixture(tc, begin, end);
    tcase_add_loop_test(tc, nist_univariate, 0, 4);
    tcase_add_loop_test(tc, published_outliers, 0, 2);
    return tc;
}
