/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What moved since a setup was kept: false alarms and misses at the stated
 * rates, by simulation of whole setups; then every verdict and slip. */
#include "../alloc/alloc.h"
#include "book_tests.h"

#include "src/book/moved.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
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

/* ------------------------------------------------------------------ setups */

typedef struct solved {
    shop_solved at;
    jaw_book_kept kept;
} solved;

static solved solve(const char *sheet)
{
    solved v = {.at = shop_solve(sheet, false)};
    ck_assert_int_eq(jaw_book_kept_make(v.at.setup, v.at.solution, "mill",
                                        &v.kept), JAW_OK);
    return v;
}

static void drop(solved *v)
{
    jaw_book_kept_free(&v->kept);
    shop_drop(&v->at);
}

static long long keep(solved *v)
{
    long long id = 0;
    ck_assert_int_eq(jaw_book_add_all(s.book, v->kept.record, v->kept.n, &id),
                     JAW_OK);
    return id;
}

/* Two vises with a corner each, and a tool on a puck. */
typedef struct truth {
    double x, y, z, turn; /* of the whole */
    double sigma;
    bool stated; /* the repeats are */
} truth;

typedef struct sheet {
    char text[4000];
    size_t len;
    jaw_random *random;
    const truth *t;
} sheet;

static void put(sheet *h, const char *format, double a, double b, double c)
{
    h->len += (size_t)snprintf(h->text + h->len, sizeof h->text - h->len,
                               format, a, b, c);
    ck_assert_uint_lt(h->len, sizeof h->text);
}

static double noise(const sheet *h)
{
    return h->t->sigma * jaw_random_normal(h->random);
}

/* A place of the part, turned and shifted, as it is read. */
static void put_touch(sheet *h, double x, double y)
{
    double c = cos(h->t->turn), d = sin(h->t->turn);
    put(h, "  %.6f %.6f\n", h->t->x + c * x - d * y + noise(h),
        h->t->y + d * x + c * y + noise(h), 0);
}

static void put_corner(sheet *h, const char *name, double x)
{
    h->len += (size_t)sprintf(h->text + h->len, "edge jaw%s tip pin faces y-\n",
                              name);
    for (int i = 0; i < 4; i++)
        put_touch(h, x + 20 + 40 * i, 0);
    h->len += (size_t)sprintf(h->text + h->len,
                              "edge stop%s tip pin faces x-\n", name);
    for (int i = 0; i < 3; i++)
        put_touch(h, x, -5 - 15 * i);
    h->len += (size_t)sprintf(h->text + h->len, "face top%s tip ball\n", name);
    for (int i = 0; i < 4; i++)
        put(h, "  %.3f %.3f %.6f\n", x + 30 * (i % 2), -20.0 * (i / 2),
            h->t->z + noise(h));
}

static void put_zero(sheet *h, const char *name, const char *of)
{
    h->len += (size_t)sprintf(
        h->text + h->len,
        "zero %s\n  turn jaw%s along x\n  x stop%s at 0\n"
        "  y jaw%s at 0\n  z top%s at 0\n", name, of, of, of, of);
}

static solved draw(const truth *t, jaw_random *random)
{
    sheet h = {.random = random, .t = t};
    put(&h, "title Two vises\nunit mm\n"
            "control step 0.001 angle-step 0.0001deg turn yes\n", 0, 0, 0);
    if (t->stated) {
        put(&h, "tip pin cylinder diameter 0.0001 repeat %.6f\n", t->sigma, 0,
            0);
        put(&h, "tip ball ball diameter 4 length 50 repeat %.6f\n", t->sigma,
            0, 0);
    } else {
        put(&h, "tip pin cylinder diameter 0.0001\n"
                "tip ball ball diameter 4 length 50\n", 0, 0, 0);
    }
    put_corner(&h, "a", 0);
    put_corner(&h, "b", 300);
    put(&h, "tool 1 length 80\n", 0, 0, 0);
    put_zero(&h, "G54", "a");
    put_zero(&h, "G55", "b");
    return solve(h.text);
}

/* Compares without a book, as jaw_book_moved_find does with one. */
static size_t values_of(const jaw_book_kept *kept, jaw_book_shift *shift,
                        bool after)
{
    size_t n = 0;
    for (size_t i = 1; i < kept->n; i++) {
        const jaw_book_record *r = &kept->record[i];
        for (int a = 0; r->kind == JAW_BOOK_ZERO && a < 4; a++) {
            *(after ? &shift[n].after : &shift[n].before) = r->as.zero.at[a];
            snprintf(shift[n].name, sizeof shift[n].name, "%s", r->subject);
            shift[n++].axis = a;
        }
    }
    return n;
}

/* How many of so many setups have a value that moved; *noticed of the first. */
static int alarms(int trials, const truth *then, const truth *now,
                  unsigned long long seed, double *noticed)
{
    jaw_random random = jaw_random_stream(seed, 3);
    int count = 0;
    for (int i = 0; i < trials; i++) {
        jaw_book_shift shift[8] = {0};
        solved a = draw(then, &random), b = draw(now, &random);
        size_t n = values_of(&a.kept, shift, false);
        ck_assert_uint_eq(n, 8);
        ck_assert_uint_eq(values_of(&b.kept, shift, true), 8);
        jaw__shifts_judge(shift, n, 0);
        bool real = false;
        for (size_t k = 0; k < n; k++) {
            ck_assert_int_le(shift[k].kind, JAW_SHIFT_REAL);
            real = real || shift[k].kind == JAW_SHIFT_REAL;
        }
        count += real;
        *noticed = shift[0].noticed;
        drop(&a);
        drop(&b);
    }
    return count;
}

enum { TRIALS = 3000 };

/* At most 1 of 100. */
START_TEST(one_in_a_hundred_that_stayed)
{
    const truth t = {-300, -150, -200, 2e-3, 3e-3, true};
    double noticed;
    int n = alarms(TRIALS, &t, &t, 11, &noticed);
    printf("stayed, repeats stated: %d of %d said to have moved\n", n, TRIALS);
    ck_assert_msg(n >= 15 && n <= 45, "%d alarms of %d", n, TRIALS);
}
END_TEST

START_TEST(fewer_where_repeats_are_only_seen)
{
    const truth t = {-300, -150, -200, 2e-3, 3e-3, false};
    double noticed;
    int n = alarms(TRIALS, &t, &t, 12, &noticed);
    printf("stayed, repeats seen: %d of %d said to have moved\n", n, TRIALS);
    ck_assert_msg(n <= 15, "%d alarms of %d", n, TRIALS);
}
END_TEST

/* X of the first zero alone, so that one value decides. */
START_TEST(what_is_said_to_be_noticed_is)
{
    truth t = {-300, -150, -200, 2e-3, 3e-3, true}, moved = t;
    jaw_random random = jaw_random_stream(13, 3);
    int missed = 0;
    double noticed;
    alarms(1, &t, &t, 13, &noticed);
    moved.x += noticed;
    for (int i = 0; i < 1000; i++) {
        jaw_book_shift shift[8] = {0};
        solved a = draw(&t, &random), b = draw(&moved, &random);
        values_of(&a.kept, shift, false);
        values_of(&b.kept, shift, true);
        jaw__shifts_judge(shift, 8, 0);
        missed += shift[0].kind == JAW_SHIFT_NOISE;
        drop(&a);
        drop(&b);
    }
    printf("moved by %.4f: %d of 1000 missed\n", noticed, missed);
    ck_assert_msg(missed >= 150 && missed <= 250, "%d missed of 1000", missed);
}
END_TEST

/* The bound itself, down to one degree of freedom a side, or one side known:
 * 0.01 of one value; four deviations. */
START_TEST(the_bound_holds_for_few_degrees_of_freedom)
{
    static const struct {
        int dof[2]; /* 0: known */
        double ratio;
    } row[] = {{{1, 1}, 1}, {{1, 5}, 0.3}, {{2, 2}, 3}, {{3, 0}, 0.3},
               {{1, 0}, 0.3}, {{5, 5}, 1}, {{10, 2}, 3}, {{20, 20}, 1}};
    jaw_random random = jaw_random_stream(14, (unsigned long long)_i);
    int count = 0;
    for (int i = 0; i < 20000; i++) {
        jaw_book_shift one = {.name = "G54"};
        jaw_figure *f[2] = {&one.before, &one.after};
        for (int k = 0; k < 2; k++) {
            double true_u = k == 0 ? 1 : row[_i].ratio, sum = 0;
            int dof = row[_i].dof[k];
            for (int d = 0; d < dof; d++)
                sum += pow(jaw_random_normal(&random), 2);
            *f[k] = jaw_figure_make(
                1000 + true_u * jaw_random_normal(&random),
                dof > 0 ? true_u * sqrt(sum / dof) : true_u,
                dof > 0 ? dof : (double)INFINITY);
        }
        jaw__shifts_judge(&one, 1, 0);
        count += one.kind == JAW_SHIFT_REAL;
    }
    ck_assert_msg(count <= 256, "row %d: %d of 20000", _i, count);
}
END_TEST

/* ----------------------------------------------------------- through a book */

static jaw_book_moved compare(long long id, solved *now, double tip)
{
    jaw_book_moved m;
    ck_assert_int_eq(jaw_book_moved_find(s.book, id, &now->kept, tip, &m),
                     JAW_OK);
    return m;
}

/* What became of a register; NULL: it is not in the list. */
static const jaw_book_shift *shift_of(const jaw_book_moved *m,
                                      const char *name, int axis)
{
    for (size_t i = 0; i < m->n; i++)
        if (m->shift[i].axis == axis && strcmp(m->shift[i].name, name) == 0)
            return &m->shift[i];
    return NULL;
}

START_TEST(all_moved_alike)
{
    truth t = {-300, -150, -200, 2e-3, 1e-3, true};
    jaw_random random = jaw_random_stream(15, 3);
    solved a = draw(&t, &random);
    long long id = keep(&a);
    t.x += 0.4;
    t.y -= 0.2;
    t.z += 0.1;
    solved b = draw(&t, &random);
    jaw_book_moved m = compare(id, &b, 0);
    ck_assert(m.together);
    ck_assert(fabs(m.whole.shift[0].value - 0.4) < 0.01);
    ck_assert(fabs(m.whole.shift[2].value - 0.1) < 0.01);
    ck_assert_int_eq(m.before, id);
    ck_assert_uint_eq(m.n, 9);
    ck_assert_uint_eq(m.real, 6);
    ck_assert_int_eq(shift_of(&m, "H1", 4)->kind, JAW_SHIFT_NOISE);
    jaw_book_moved_free(&m);
    /* one of them by itself */
    jaw_figure *at = b.kept.record[1].as.zero.at;
    at[0].value += 0.5;
    m = compare(id, &b, 0);
    ck_assert(!m.together);
    at[0].value -= 0.5;
    jaw_book_moved_free(&m);
    /* turned apart from the others */
    at[3].value += 0.01;
    m = compare(id, &b, 0);
    ck_assert(!m.together);
    at[3].value -= 0.01;
    jaw_book_moved_free(&m);
    /* one that is not compared */
    at[0].u = (double)NAN;
    m = compare(id, &b, 0);
    ck_assert(!m.together);
    ck_assert_uint_eq(m.unsure, 1);
    jaw_book_moved_free(&m);
    drop(&a);
    drop(&b);
}
END_TEST

/* A setup of one zero and one tool, made by hand. */
static jaw_book_kept by_hand(double x, double turn, double length,
                             jaw_book_record r[SHOP_SETUP])
{
    const double u = 1e-3, many = (double)INFINITY;
    shop_setup("Plate", 0, 0, r);
    r[1].as.zero.at[0] = jaw_figure_make(x, u, many);
    r[1].as.zero.at[3] = jaw_figure_make(turn, 1e-5, many);
    r[3].as.offset.length = jaw_figure_make(length, u, many);
    return (jaw_book_kept){.record = r, .n = SHOP_SETUP};
}

START_TEST(slips_are_named)
{
    static const struct {
        double x, turn, length; /* before: 120, 0.003, 80 */
        double tip;
        int axis;
        jaw_book_slip slip;
        const char *said;
    } row[] = {
        {-120.001, 0.003, 80, 0, 0, JAW_SLIP_SIGN,
         "G54 X would be -120.001 mm, and was 120.000 mm when the setup was "
         "kept last (entry 1): the same with the other sign"},
        {-118, 0.003, 80, 4, 0, JAW_SLIP_SIGN, "the same with the other sign"},
        {-118, 0.003, 80, 1, 0, JAW_SLIP_NONE, NULL},
        {3048.01, 0.003, 80, 0, 0, JAW_SLIP_INCH,
         "that is 25.4 times as much; check the unit"},
        {4.7244, 0.003, 80, 0, 0, JAW_SLIP_INCH, "that is a 25.4th of it"},
        {120, -0.003, 80, 4, 3, JAW_SLIP_SIGN,
         "G54 turn would be -0.171887339 deg, and was 0.171887339 deg"},
        {120, 0.0762, 80, 4, 3, JAW_SLIP_NONE, NULL},
        {120, 0.003, 2032, 4, 4, JAW_SLIP_INCH, "H3 would be 2032.000 mm"},
        {100, 0.003, 80, 0, 0, JAW_SLIP_NONE, NULL},
    };
    jaw_book_record then[SHOP_SETUP], now[SHOP_SETUP];
    jaw_book_kept a = by_hand(120, 0.003, 80, then);
    jaw_book_kept b = by_hand(row[_i].x, row[_i].turn, row[_i].length, now);
    jaw_book_moved m;
    long long id;
    ck_assert_int_eq(jaw_book_add_all(s.book, a.record, a.n, &id), JAW_OK);
    ck_assert_int_eq(jaw_book_moved_find(s.book, id, &b, row[_i].tip, &m),
                     JAW_OK);
    const jaw_book_shift *shift =
        shift_of(&m, row[_i].axis == 4 ? "H3" : "G54", row[_i].axis);
    ck_assert_int_eq(shift->kind, JAW_SHIFT_REAL);
    ck_assert_int_eq(shift->slip, row[_i].slip);
    if (row[_i].said)
        shop_said(&s, row[_i].said);
    else
        ck_assert_uint_eq(jaw_notes_count(s.notes), 0);
    jaw_book_moved_free(&m);
}
END_TEST

START_TEST(what_can_not_be_compared)
{
    jaw_book_record then[SHOP_SETUP], now[SHOP_SETUP];
    jaw_book_kept a = by_hand(120, 0.003, 80, then);
    jaw_book_kept b = by_hand(120, 0.003, 80, now);
    jaw_book_moved m;
    long long id;
    ck_assert_int_eq(jaw_book_add_all(s.book, a.record, a.n, &id), JAW_OK);
    now[0].as.setup.lengths = JAW_TIP_TO_PART;
    now[1].as.zero.at[0].u = (double)NAN;
    now[2].subject = "G56";
    ck_assert_int_eq(jaw_book_moved_find(s.book, id, &b, 0, &m), JAW_OK);
    ck_assert_int_eq(shift_of(&m, "G54", 0)->kind, JAW_SHIFT_UNSURE);
    ck_assert_int_eq(shift_of(&m, "G54", 1)->kind, JAW_SHIFT_NOISE);
    ck_assert_int_eq(shift_of(&m, "H3", 4)->kind, JAW_SHIFT_RULE);
    ck_assert_int_eq(shift_of(&m, "G56", 0)->kind, JAW_SHIFT_NEW);
    ck_assert_int_eq(shift_of(&m, "G55", 0)->kind, JAW_SHIFT_GONE);
    ck_assert(isnan(shift_of(&m, "G55", 0)->differ));
    ck_assert(isnan(shift_of(&m, "H3", 4)->differ));
    jaw_book_moved_free(&m);
    ck_assert_int_eq(jaw_book_moved_find(s.book, id + 1, &b, 0, &m),
                     JAW_EUNKNOWN);
    ck_assert_int_eq(jaw_book_moved_find(s.book, 99, &b, 0, &m), JAW_EUNKNOWN);
    ck_assert_ptr_null(jaw_book_shift_word(JAW_SHIFT_KINDS));
    ck_assert_ptr_null(jaw_book_shift_text(JAW_SHIFT_KINDS));
    ck_assert_str_eq(jaw_book_shift_word(JAW_SHIFT_REAL), "real");
}
END_TEST

/* Exact values, and others tools as the reference. */
START_TEST(exact_and_against_a_tool)
{
    jaw_book_record then[SHOP_SETUP], now[SHOP_SETUP];
    jaw_book_kept a = by_hand(120, 0.003, 80, then);
    jaw_book_kept b = by_hand(120, 0.003, 80.5, now);
    jaw_book_moved m;
    long long id;
    then[3].as.offset.length = jaw_figure_make(80, 0, (double)INFINITY);
    now[3].as.offset.length = jaw_figure_make(80.5, 0, (double)INFINITY);
    then[0].as.setup.lengths = now[0].as.setup.lengths = JAW_REFERENCE_TOOL;
    then[0].as.setup.reference = now[0].as.setup.reference = 1;
    ck_assert_int_eq(jaw_book_add_all(s.book, a.record, a.n, &id), JAW_OK);
    ck_assert_int_eq(jaw_book_moved_find(s.book, id, &b, 0, &m), JAW_OK);
    ck_assert_int_eq(shift_of(&m, "H3", 4)->kind, JAW_SHIFT_REAL);
    jaw_book_moved_free(&m);
    now[0].as.setup.reference = 2;
    ck_assert_int_eq(jaw_book_moved_find(s.book, id, &b, 0, &m), JAW_OK);
    ck_assert_int_eq(shift_of(&m, "H3", 4)->kind, JAW_SHIFT_RULE);
    jaw_book_moved_free(&m);
}
END_TEST

/* ------------------------------------------------------------------- found */

static long long keep_title(const char *title)
{
    jaw_book_record r[SHOP_SETUP];
    long long id = 0;
    shop_setup(title, 1, 0, r);
    ck_assert_int_eq(jaw_book_add_all(s.book, r, SHOP_SETUP, &id), JAW_OK);
    return id;
}

START_TEST(found_by_title)
{
    static const struct {
        const char *text;
        jaw_status status;
        int which; /* 1 to 4 in the order of keeping */
        const char *said;
    } row[] = {
        {"Focuser plate, side 1", JAW_OK, 2, NULL},
        {"focuser plate, SIDE 1", JAW_OK, 2, NULL},
        {"side 2", JAW_OK, 3, NULL},
        {"Saddle", JAW_OK, 4, NULL},
        {"1", JAW_OK, 1, NULL}, /* the entry, not a part of a title */
        {"focuser", JAW_ECONFLICT, 0,
         "`focuser' is in several titles: `Focuser plate, side 1', `Focuser "
         "plate, side 2'; give more"},
        {"Sadle", JAW_EUNKNOWN, 0,
         "no setup `Sadle' is kept, but there is `Saddle'; mend the title"},
        {"foucser", JAW_EUNKNOWN, 0,
         "no setup `foucser' is kept, but there is `Focuser plate, side 1'"},
        {"Tube ring", JAW_EUNKNOWN, 0,
         "no setup with `Tube ring' in its title is kept for `mill'"},
        {"", JAW_EUNKNOWN, 0, "no setup with `' in its title"},
        {"2", JAW_EUNKNOWN, 0, "entry 2 is no kept setup, it is of kind zero"},
        {"99", JAW_EUNKNOWN, 0, "there is no entry 99 in the book"},
    };
    long long id[4];
    jaw_book_record r;
    ck_assert_int_eq(jaw_book_setup_find(s.book, "mill", "Saddle", &r),
                     JAW_EUNKNOWN);
    shop_said(&s, "no setup is kept in the book for `mill'");
    id[0] = keep_title("Focuser plate, side 1");
    id[1] = keep_title("Focuser plate, side 1");
    id[2] = keep_title("Focuser plate, side 2");
    id[3] = keep_title("Saddle");
    ck_assert_int_eq(jaw_book_setup_find(s.book, "mill", row[_i].text, &r),
                     row[_i].status);
    if (row[_i].said)
        shop_said(&s, row[_i].said);
    else
        ck_assert_int_eq(r.id, id[row[_i].which - 1]);
    ck_assert_int_eq(jaw_book_setup_find(s.book, "lathe", "Saddle", &r),
                     JAW_EUNKNOWN);
}
END_TEST

START_TEST(many_long_titles)
{
    char title[120];
    jaw_book_record r;
    for (int i = 0; i < 9; i++) {
        snprintf(title, sizeof title, "%d %60s plate", i, "of the telescope");
        keep_title(title);
    }
    ck_assert_int_eq(jaw_book_setup_find(s.book, "mill", "plate", &r),
                     JAW_ECONFLICT);
    shop_said(&s, "plate', ...; give more");
}
END_TEST

/* ---------------------------------------------------------- without memory */

static jaw_status all_of_it(const solved *v, long long *id)
{
    jaw_book_kept kept;
    jaw_book_record r;
    jaw_book_moved m;
    jaw_status status =
        jaw_book_kept_make(v->at.setup, v->at.solution, "mill", &kept);
    if (status == JAW_OK)
        status = jaw_book_add_all(s.book, kept.record, kept.n, id);
    if (status == JAW_OK)
        status = jaw_book_setup_find(s.book, "mill", "vises", &r);
    if (status == JAW_OK) {
        status = jaw_book_moved_find(s.book, *id, &kept, 4, &m);
        jaw_book_moved_free(&m);
    }
    jaw_book_kept_free(&kept);
    return status;
}

START_TEST(setups_without_memory)
{
    const truth t = {-300, -150, -200, 2e-3, 3e-3, true};
    jaw_random random = jaw_random_stream(16, 3);
    solved v = draw(&t, &random);
    long long id;
    for (long k = 0;; k += k < 100 ? 3 : 37) {
        alloc_fail_after(k);
        jaw_status status = all_of_it(&v, &id);
        bool failed = alloc_failed();
        alloc_fail_never();
        if (!shop_lacked(k, failed, status))
            break;
    }
    ck_assert_int_eq(jaw_book_check(s.book, NULL), JAW_OK);
    drop(&v);
}
END_TEST

TCase *setups_memory_case(void)
{
    if (!alloc_works())
        return NULL;
    TCase *tc = tcase_create("setups, memory");
    tcase_add_checked_fixture(tc, begin, end);
    tcase_set_timeout(tc, 120);
    tcase_add_test(tc, setups_without_memory);
    return tc;
}

TCase *moved_case(void)
{
    TCase *tc = tcase_create("moved");
    tcase_add_checked_fixture(tc, begin, end);
    tcase_set_timeout(tc, 120);
    tcase_add_test(tc, one_in_a_hundred_that_stayed);
    tcase_add_test(tc, fewer_where_repeats_are_only_seen);
    tcase_add_test(tc, what_is_said_to_be_noticed_is);
    tcase_add_loop_test(tc, the_bound_holds_for_few_degrees_of_freedom, 0, 8);
    tcase_add_test(tc, all_moved_alike);
    tcase_add_loop_test(tc, slips_are_named, 0, 9);
    tcase_add_test(tc, what_can_not_be_compared);
    tcase_add_test(tc, exact_and_against_a_tool);
    tcase_add_loop_test(tc, found_by_title, 0, 12);
    tcase_add_test(tc, many_long_titles);
    return tc;
}
