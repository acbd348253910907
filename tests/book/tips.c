/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tips: a calibration comes back as it was written and goes on into a setup as
 * it would have come from the calibration itself; false alarms at the stated
 * rates, by simulation. */
#include "book_tests.h"

#include "src/book/book.h"
#include "tests/feature/random.h"

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

enum { TOUCHES = 16 };

/* A ring of 50 mm, touched all round with the spindle turned half way through;
 * the tip is 4 mm, runs out by 8 um along x and has lobes of 2 um. */
static jaw_tip_calibration calibrate(random_source *r, double noise,
                                     double diameter, double runout)
{
    const jaw_known_size ring = {50, 1e-3};
    jaw_tip_calibration cal;
    jaw_vec2 p[TOUCHES];
    bool turned[TOUCHES];
    for (int i = 0; i < TOUCHES; i++) {
        double a = acos(-1) * i / 4 + 0.1;
        turned[i] = i >= TOUCHES / 2;
        double at = turned[i] ? a - acos(-1) : a; /* as the tip sees it */
        double d = 25 - diameter / 2 - runout * cos(at) -
                   2e-3 * cos(3 * at) + noise * random_normal(r);
        p[i] = (jaw_vec2){100 + d * cos(a), -40 + d * sin(a)};
    }
    ck_assert_int_eq(jaw_tip_calibrate_ring(p, turned, TOUCHES, false, ring,
                                            (double)NAN, &cal, NULL), JAW_OK);
    return cal;
}

static jaw_book_record tip_record(const jaw_tip_calibration *cal, int minutes)
{
    const double nan = (double)NAN;
    jaw_book_record r = {.kind = JAW_BOOK_TIP, .machine = "mill",
                         .subject = "stylus", .at = shop_time(minutes)};
    r.as.tip = (jaw_book_tip){.shape = JAW_TIP_BALL, .on = "ring", .size = 50,
                              .size_2 = nan, .length = nan, .length_u = nan,
                              .columns = 2};
    jaw_book_tip_of(cal, &r.as.tip);
    return r;
}

/* To the last digit: diameter, harmonics, and how sure they are together. */
START_TEST(a_sheet_gets_what_the_calibration_found)
{
    random_source r = random_start("tips", 20260302);
    jaw_tip_calibration cal = calibrate(&r, 0.3e-3, 4, 8e-3);
    ck_assert_int_eq(cal.first.state, JAW_TERM_KEPT);
    ck_assert_int_eq(cal.third.state, JAW_TERM_KEPT);
    jaw_book_record kept = tip_record(&cal, 0);
    kept.as.tip.length = 90;
    kept.as.tip.length_u = 4e-3;
    long long id = shop_write(&s, kept);
    jaw_setup *setup = jaw_setup_alloc();
    jaw_tip_entry want = {.name = "stylus",
                          .tip = jaw_tip_make(JAW_TIP_CYLINDER, (double)NAN),
                          .link = {.wanted = true}};
    ck_assert_int_eq(jaw_setup_add_tip(setup, &want), JAW_OK);
    ck_assert_int_eq(jaw_book_fill(s.path, NULL, setup, s.notes), JAW_OK);
    jaw_tip_calibrated(&cal, &want);
    size_t n;
    const jaw_tip_entry *got = jaw_setup_tips(setup, &n);
    ck_assert_int_eq(got->tip.shape, JAW_TIP_BALL);
    ck_assert(got->tip.diameter == want.tip.diameter);
    ck_assert(got->tip.repeat == want.tip.repeat);
    ck_assert(got->tip.length == 90 && got->length_known == 4e-3);
    ck_assert(got->diameter_known == want.diameter_known);
    for (int k = 0; k < 4; k++) {
        ck_assert(got->harmonic[k] == want.harmonic[k]);
        ck_assert(got->harmonic_known[k] == want.harmonic_known[k]);
    }
    for (int k = 0; k < 10; k++)
        ck_assert(got->correlation[k] == want.correlation[k]);
    ck_assert_int_eq(got->link.entry, id);
    ck_assert_int_eq(got->link.at, shop_time(0));
    ck_assert(got->link.value == cal.diameter);
    ck_assert(got->link.half95 == cal.within);
    jaw_setup_free(setup);
}
END_TEST

/* What the sheet states itself stays. */
START_TEST(what_is_stated_beside_it_holds)
{
    random_source r = random_start("tips", 20260303);
    jaw_tip_calibration cal = calibrate(&r, 0.3e-3, 4, 8e-3);
    jaw_book_record kept = tip_record(&cal, 0);
    kept.as.tip.length = 90;
    shop_write(&s, kept);
    jaw_setup *setup = jaw_setup_alloc();
    jaw_tip_entry want = {.name = "stylus",
                          .tip = jaw_tip_make(JAW_TIP_PIN, (double)NAN),
                          .link = {.wanted = true, .shape = true}};
    want.tip.repeat = 5e-3;
    want.tip.length = 80;
    want.length_known = 1e-3;
    ck_assert_int_eq(jaw_setup_add_tip(setup, &want), JAW_OK);
    ck_assert_int_eq(jaw_book_fill(s.path, "mill", setup, s.notes), JAW_OK);
    size_t n;
    const jaw_tip_entry *got = jaw_setup_tips(setup, &n);
    ck_assert_int_eq(got->tip.shape, JAW_TIP_PIN);
    ck_assert(got->tip.repeat == 5e-3);
    ck_assert(got->tip.length == 80 && got->length_known == 1e-3);
    jaw_setup_free(setup);
}
END_TEST

/* On a block there is one interval for all, and nothing by direction. */
START_TEST(a_block_has_an_interval)
{
    jaw_book_record kept = {.kind = JAW_BOOK_TIP, .machine = "mill",
                            .subject = "pin", .at = shop_time(0)};
    kept.as.tip = (jaw_book_tip){.shape = JAW_TIP_PIN, .on = "block",
                                 .size = 25, .size_2 = 50, .value = 6,
                                 .u = 1e-3, .dof = 3, .half95 = 3.9e-3,
                                 .cov = {1e-6}, .repeat = 2e-3,
                                 .repeat_dof = 3, .length = (double)NAN,
                                 .length_u = (double)NAN, .columns = 3};
    shop_write(&s, kept);
    jaw_setup *setup = jaw_setup_alloc();
    jaw_tip_entry want = {.name = "pin",
                          .tip = jaw_tip_make(JAW_TIP_CYLINDER, (double)NAN),
                          .link = {.wanted = true}};
    ck_assert_int_eq(jaw_setup_add_tip(setup, &want), JAW_OK);
    ck_assert_int_eq(jaw_book_fill(s.path, NULL, setup, s.notes), JAW_OK);
    size_t n;
    const jaw_tip_entry *got = jaw_setup_tips(setup, &n);
    double known = 3.9e-3 / jaw_trust_cover(0.95, (double)INFINITY);
    ck_assert_double_eq_tol(got->diameter_known, known, 1e-15);
    ck_assert(isnan(got->tip.length));
    jaw_setup_free(setup);
}
END_TEST

/* ---------------------------------------------------------------- a change */

static jaw_book_tip_change judge(const jaw_tip_calibration *cal, bool fresh,
                                 unsigned *doubts)
{
    jaw_book_tip_change change;
    jaw_book_record now = tip_record(cal, 1);
    now.as.tip.fresh = fresh;
    ck_assert_int_eq(jaw_book_tip_judge(s.book, &now, &change), JAW_OK);
    *doubts = now.doubts;
    return change;
}

START_TEST(nothing_to_compare_with)
{
    random_source r = random_start("tips", 20260304);
    jaw_tip_calibration cal = calibrate(&r, 0.3e-3, 4, 8e-3);
    unsigned doubts;
    jaw_book_tip_change c = judge(&cal, false, &doubts);
    ck_assert_int_eq(c.last_id, 0);
    ck_assert(!c.changed && isnan(c.differ) && isnan(c.limit));
    shop_write(&s, tip_record(&cal, 0));
    c = judge(&cal, true, &doubts);
    ck_assert_int_eq(c.last_id, 1);
    ck_assert(!c.changed && isnan(c.differ));
    c = judge(&cal, false, &doubts);
    ck_assert(c.differ == 0 && c.runout == 0 && !c.changed && c.same_size);
    ck_assert(c.limit > 0 && c.runout_limit > 0 && c.lobes_limit > 0);
    ck_assert_uint_eq(doubts, 0);
}
END_TEST

START_TEST(a_change_is_told)
{
    random_source r = random_start("tips", 20260305);
    jaw_tip_calibration cal = calibrate(&r, 0.3e-3, 4, 8e-3);
    shop_write(&s, tip_record(&cal, 0));
    unsigned doubts;
    cal = calibrate(&r, 0.3e-3, 4.01, 8e-3);
    jaw_book_tip_change c = judge(&cal, false, &doubts);
    ck_assert(c.changed && fabs(c.differ - 0.01) < 1e-3);
    ck_assert_uint_eq(doubts, JAW_BOOK_CHANGED);
    cal = calibrate(&r, 0.3e-3, 4, 18e-3);
    c = judge(&cal, false, &doubts);
    ck_assert(c.changed && fabs(c.runout - 0.01) < 1e-3 &&
              fabs(c.differ) < c.limit);
    ck_assert_uint_eq(doubts, JAW_BOOK_CHANGED);
    /* 4 inch for 4 mm */
    jaw_tip_calibration inch = cal;
    inch.diameter = 4 * 25.4;
    judge(&inch, false, &doubts);
    ck_assert_uint_eq(doubts, JAW_BOOK_UNIT_JUMP);
}
END_TEST

/* 2026-11-26: what came after a slip of the unit was compared with the slip,
 * and called one in its place. */
START_TEST(nothing_is_compared_with_a_slip)
{
    random_source r = random_start("tips", 20260309);
    jaw_tip_calibration cal = calibrate(&r, 0.3e-3, 4, 8e-3), inch = cal;
    long long first = shop_write(&s, tip_record(&cal, 0));
    inch.diameter = 4 / 25.4;
    jaw_book_record slip = tip_record(&inch, 0);
    slip.doubts = JAW_BOOK_UNIT_JUMP;
    shop_write(&s, slip);
    unsigned doubts;
    jaw_book_tip_change c = judge(&cal, false, &doubts);
    ck_assert_int_eq(c.last_id, first);
    ck_assert(c.differ == 0 && !c.changed);
    ck_assert_uint_eq(doubts, 0);
    judge(&inch, false, &doubts);
    ck_assert_uint_eq(doubts, JAW_BOOK_UNIT_JUMP);
}
END_TEST

/* Where one has no spread nothing can be told, and nothing is. */
START_TEST(without_a_spread)
{
    random_source r = random_start("tips", 20260306);
    jaw_tip_calibration cal = calibrate(&r, 0.3e-3, 4, 8e-3), three = cal;
    three.u_diameter = three.dof = three.within = (double)NAN;
    three.repeat = three.dof_repeat = (double)NAN;
    three.first.state = three.third.state = JAW_TERM_NOT_SEEN;
    memset(three.harmonic, 0, sizeof three.harmonic);
    for (int i = 0; i < 15; i++)
        three.cov[i] = i == 0 ? (double)NAN : 0;
    shop_write(&s, tip_record(&three, 0));
    unsigned doubts;
    jaw_book_tip_change c = judge(&cal, false, &doubts);
    ck_assert(isnan(c.limit) && !c.changed && !isnan(c.differ));
    ck_assert(isnan(c.runout) && isnan(c.lobes));
    jaw_setup *setup = jaw_setup_alloc();
    jaw_tip_entry want = {.name = "stylus",
                          .tip = jaw_tip_make(JAW_TIP_CYLINDER, (double)NAN),
                          .link = {.wanted = true}};
    ck_assert_int_eq(jaw_setup_add_tip(setup, &want), JAW_OK);
    ck_assert_int_eq(jaw_book_fill(s.path, NULL, setup, s.notes), JAW_OK);
    shop_said(&s, "the book does not know how sure the diameter of tip "
                  "'stylus' is: it counts as exact; calibrate it with touches "
                  "to spare, or state --repeat");
    size_t n;
    ck_assert(jaw_setup_tips(setup, &n)->diameter_known == 0);
    jaw_setup_free(setup);
}
END_TEST

/* The tip as it was: 1 in 100 each, and a vector with the degrees of freedom of
 * the poorer one fewer. */
START_TEST(unchanged_tips_seldom_alarm)
{
    enum { SETS = 4000 };
    random_source r = random_start("tips", 20260307);
    int diameter = 0, runout = 0, lobes = 0;
    shop_quick(&s);
    for (int k = 0; k < SETS; k++) {
        jaw_tip_calibration last = calibrate(&r, 0.3e-3, 4, 8e-3);
        jaw_tip_calibration now = calibrate(&r, 0.3e-3, 4, 8e-3);
        shop_write(&s, tip_record(&last, 0));
        unsigned doubts;
        jaw_book_tip_change c = judge(&now, false, &doubts);
        diameter += fabs(c.differ) > c.limit;
        runout += c.runout > c.runout_limit;
        lobes += c.lobes > c.lobes_limit;
        ck_assert_int_eq(c.changed, doubts == JAW_BOOK_CHANGED);
    }
    printf("alarms in %d: diameter %d, runout %d, lobes %d\n", SETS, diameter,
           runout, lobes);
    ck_assert_int_ge(diameter, (int)(0.005 * SETS));
    ck_assert_int_le(diameter, (int)(0.015 * SETS));
    ck_assert_int_le(runout, (int)(0.015 * SETS));
    ck_assert_int_le(lobes, (int)(0.015 * SETS));
}
END_TEST

/* ---------------------------------------------------------- what is refused */

static void no_diameter(jaw_book_record *r) { r->as.tip.value = 0; }
static void no_size(jaw_book_record *r) { r->as.tip.size = (double)NAN; }
static void no_shape(jaw_book_record *r) { r->as.tip.shape = JAW_TIP_SHAPES; }
static void no_thing(jaw_book_record *r) { r->as.tip.on = "rung"; }
static void no_runout(jaw_book_record *r) { r->as.tip.harmonic[1] = INFINITY; }
static void no_length(jaw_book_record *r) { r->as.tip.length = -1; }
static void no_rows(jaw_book_record *r) { r->as.tip.columns = 1; }
static void no_variance(jaw_book_record *r) { r->as.tip.cov[5] = -1e-9; }
static void no_name(jaw_book_record *r) { r->subject = "a b"; }
static void no_machine(jaw_book_record *r) { r->machine = ""; }

static const struct {
    void (*spoil)(jaw_book_record *r);
    const char *said;
} refused[] = {
    {no_diameter, "a diameter is more than 0"},
    {no_size, "what is touched has a size"},
    {no_shape, "a word that does not exist"},
    {no_thing, "a word that does not exist"},
    {no_runout, "a runout or lobe is no finite number"},
    {no_length, "the length of a tip is more than 0"},
    {no_rows, "the readings are no rows of touches"},
    {no_variance, "a spread is not negative"},
    {no_name, "the subject does not fit the rest"},
    {no_machine, "a machine has a name: letters, digits, - _ and ."},
};

START_TEST(what_no_book_may_hold_of_a_tip)
{
    random_source r = random_start("tips", 20260308);
    jaw_tip_calibration cal = calibrate(&r, 0.3e-3, 4, 8e-3);
    jaw_book_record t = tip_record(&cal, 0);
    long long id = 0;
    refused[_i].spoil(&t);
    ck_assert_int_eq(jaw_book_add(s.book, &t, &id), JAW_EDOMAIN);
    ck_assert_ptr_nonnull(strstr(jaw_notes_get(s.notes, 0)->what,
                                 refused[_i].said));
    ck_assert_int_eq(id, 0);
}
END_TEST

TCase *tips_case(void)
{
    TCase *tc = tcase_create("tips");
    tcase_add_checked_fixture(tc, begin, end);
    tcase_set_timeout(tc, 60);
    tcase_add_test(tc, a_sheet_gets_what_the_calibration_found);
    tcase_add_test(tc, what_is_stated_beside_it_holds);
    tcase_add_test(tc, a_block_has_an_interval);
    tcase_add_test(tc, nothing_to_compare_with);
    tcase_add_test(tc, a_change_is_told);
    tcase_add_test(tc, nothing_is_compared_with_a_slip);
    tcase_add_test(tc, without_a_spread);
    tcase_add_test(tc, unchanged_tips_seldom_alarm);
    tcase_add_loop_test(tc, what_no_book_may_hold_of_a_tip, 0,
                        (int)(sizeof refused / sizeof refused[0]));
    return tc;
}
