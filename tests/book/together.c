/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is written together: all of it or nothing, undone together; kept setups;
 * and a book of the version before. */
#include "book_tests.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static shop s;

static void begin(void)
{
    shop_begin(&s);
}

static void end(void)
{
    shop_end(&s);
}

static long long keep(const char *title, double x, int minutes)
{
    jaw_book_record r[SHOP_SETUP];
    long long id = 0;
    shop_setup(title, x, minutes, r);
    ck_assert_int_eq(jaw_book_add_all(s.book, r, SHOP_SETUP, &id), JAW_OK);
    ck_assert_int_eq(r[1].as.zero.setup, id);
    ck_assert_int_eq(r[3].part_of, id);
    return id;
}

/* Where G54 is in X; NaN: it is nowhere. */
static double zero_x(void)
{
    jaw_book_record r;
    jaw_status status =
        jaw_book_find(s.book, JAW_BOOK_ZERO, "mill", "G54", &r);
    ck_assert(status == JAW_OK || status == JAW_EUNKNOWN);
    return status == JAW_OK ? r.as.zero.at[0].value : (double)NAN;
}

static bool count(void *user, const jaw_book_record *r)
{
    (void)r;
    ++*(int *)user;
    return true;
}

static int current(jaw_book_kind kind)
{
    int n = 0;
    ck_assert_int_eq(jaw_book_current(s.book, kind, "mill", count, &n),
                     JAW_OK);
    return n;
}

START_TEST(comes_back_whole)
{
    jaw_book_record r;
    long long id = keep("Plate, side 1", 1.0 / 3, 0);
    int parts = 0;
    shop_reopen(&s, JAW_BOOK_READ);
    ck_assert_int_eq(jaw_book_find(s.book, JAW_BOOK_SETUP, "mill",
                                   "Plate, side 1", &r), JAW_OK);
    ck_assert_int_eq(r.id, id);
    ck_assert_int_eq(r.part_of, 0);
    ck_assert_str_eq(r.as.setup.sheet, "title  Plate\n");
    ck_assert(r.as.setup.turns && r.as.setup.step == 1e-3);
    ck_assert_int_eq(jaw_book_find(s.book, JAW_BOOK_ZERO, "mill", "G55", &r),
                     JAW_OK);
    ck_assert_int_eq(r.part_of, id);
    ck_assert_int_eq(r.as.zero.setup, id);
    ck_assert(r.as.zero.at[0].value == 1.0 / 3 + 200);
    ck_assert(r.as.zero.at[0].u == 2e-3 && r.as.zero.at[0].dof == 4);
    ck_assert(isinf(r.as.zero.at[1].dof));
    ck_assert(isnan(r.as.zero.at[2].value));
    ck_assert(r.as.zero.at[3].value == 1e-3 / 3);
    ck_assert_int_eq(jaw_book_find(s.book, JAW_BOOK_OFFSET, "mill", "H3", &r),
                     JAW_OK);
    ck_assert(r.as.offset.length.value == 60.0 / 7);
    ck_assert_int_eq(jaw_book_parts(s.book, id, count, &parts), JAW_OK);
    ck_assert_int_eq(parts, SHOP_SETUP - 1);
}
END_TEST

START_TEST(undone_together)
{
    long long first = keep("Plate", 10, 0), second = keep("Plate", 11, 1);
    long long which = 0;
    ck_assert(zero_x() == 111);
    /* whichever part is named, or none */
    ck_assert_int_eq(jaw_book_undo(s.book, _i == 0 ? 0 : second + _i - 1,
                                   shop_time(2), &which), JAW_OK);
    ck_assert_int_eq(which, second);
    ck_assert(zero_x() == 110);
    ck_assert_int_eq(jaw_book_check(s.book, NULL), JAW_OK);
    ck_assert_int_eq(jaw_book_undo(s.book, second + 2, 0, NULL), JAW_EUNKNOWN);
    /* the undo undone brings all of it back */
    ck_assert_int_eq(jaw_book_undo(s.book, second + SHOP_SETUP, shop_time(3),
                                   NULL), JAW_OK);
    ck_assert(zero_x() == 111);
    ck_assert_int_eq(jaw_book_check(s.book, NULL), JAW_OK);
    ck_assert_int_eq(jaw_book_undo(s.book, first, shop_time(4), NULL), JAW_OK);
    ck_assert(zero_x() == 111);
    ck_assert_int_eq(jaw_book_undo(s.book, 0, shop_time(5), NULL), JAW_OK);
    ck_assert(isnan(zero_x()));
    ck_assert_int_eq(current(JAW_BOOK_SETUP) + current(JAW_BOOK_ZERO) +
                     current(JAW_BOOK_OFFSET), 0);
    ck_assert_int_eq(jaw_book_check(s.book, NULL), JAW_OK);
}
END_TEST

START_TEST(check_finds_half_an_undo)
{
    keep("Plate", 10, 0);
    ck_assert_int_eq(jaw_book_undo(s.book, 0, shop_time(1), NULL), JAW_OK);
    ck_assert_str_eq(shop_sql(&s, "DELETE FROM undone WHERE id = 3"), "");
    ck_assert_int_eq(jaw_book_check(s.book, NULL), JAW_EDAMAGED);
    shop_said(&s, "whether entry 3 is undone is not what follows");
}
END_TEST

START_TEST(one_that_is_wrong_is_none)
{
    jaw_book_record r[SHOP_SETUP];
    long long id = -1;
    int n = 0;
    shop_setup("Plate", 10, 0, r);
    jaw_book_setup *setup = &r[0].as.setup;
    jaw_book_zero *zero = &r[2].as.zero;
    jaw_book_offset *offset = &r[3].as.offset;
    switch (_i) {
    case 0: r[0].subject = ""; break;
    case 1: r[0].subject = " "; break;
    case 2: r[0].subject = "Plate\nside 1"; break;
    case 3: setup->angle_step = 0; break;
    case 4: setup->step = (double)NAN; break;
    case 5: setup->report = "\xff"; break;
    case 6: setup->reference = -1; break;
    case 7: r[2].subject = "H3"; break;
    case 8: zero->at[1].value = (double)INFINITY; break;
    case 9: zero->at[3].u = -1; break;
    case 10: zero->angle_step = -1; break;
    case 11: zero->setup = -2; break;
    case 12: zero->lengths = JAW_LENGTH_RULES; break;
    case 13: r[3].subject = "H4"; break;
    case 14: offset->number = 0; break;
    case 15: offset->length.value = (double)INFINITY; break;
    case 16: offset->step = 0; break;
    case 17: offset->setup = -2; break;
    case 18: r[3].kind = JAW_BOOK_UNDO; break;
    case 19: r[1].machine = ""; break;
    }
    ck_assert_int_eq(jaw_book_add_all(s.book, r, SHOP_SETUP, &id),
                     JAW_EDOMAIN);
    shop_said(&s, "nothing was written");
    ck_assert_int_eq(id, -1);
    ck_assert_int_eq(jaw_book_log(s.book, 0, count, &n), JAW_OK);
    ck_assert_int_eq(n, 0);
}
END_TEST

START_TEST(none_and_first_alone)
{
    jaw_book_record r[SHOP_SETUP];
    long long id;
    shop_setup("Plate", 10, 0, r);
    ck_assert_int_eq(jaw_book_add_all(s.book, r, 0, &id), JAW_EFEW);
    /* one that stands by itself is of no first one */
    ck_assert_int_eq(jaw_book_add(s.book, &r[1], &id), JAW_EDOMAIN);
    r[1].as.zero.setup = 0;
    ck_assert_int_eq(jaw_book_add(s.book, &r[1], &id), JAW_OK);
    ck_assert(zero_x() == 110);
}
END_TEST

START_TEST(entered_values)
{
    jaw_book_record e = {.kind = JAW_BOOK_ENTERED, .machine = "mill",
                         .subject = "G54 X"};
    char subject[30];
    long long id = -1;
    e.as.entered = (jaw_book_entered){.title = "", .name = "G54",
                                      .shown = 1, .wanted = 1, .half95 = 0.1,
                                      .step = 1e-3};
    switch (_i) {
    case 0: e.as.entered.name = "X"; break;
    case 1: e.as.entered.axis = 4; break;
    case 2: e.as.entered.axis = -1; break;
    case 3: e.as.entered.shown = (double)NAN; break;
    case 4: e.as.entered.wanted = (double)INFINITY; break;
    case 5: e.as.entered.half95 = -1; break;
    case 6: e.as.entered.step = 0; break;
    case 7: e.subject = "G54 Y"; break;
    case 8: e.as.entered.name = "G54.1P123456789012"; break;
    case 9: e.as.entered.setup = -1; break;
    }
    ck_assert_int_eq(jaw_book_add(s.book, &e, &id),
                     _i < 10 ? JAW_EDOMAIN : JAW_OK);
    ck_assert_int_eq(jaw_book_shown_subject("H3", 4, subject, 3), JAW_OK);
    ck_assert_str_eq(subject, "H3");
    ck_assert_int_eq(jaw_book_shown_subject("H3", 4, subject, 2), JAW_ESIZE);
    ck_assert_int_eq(jaw_book_shown_subject("H3", 0, subject, 9), JAW_EDOMAIN);
    ck_assert_ptr_null(jaw_book_axis_word(JAW_BOOK_AXES));
}
END_TEST

START_TEST(what_is_included)
{
    static const char *const bad[] = {"", "x", "5 a\nab\n", "2 a\nabc\n",
                                      "3 a", "99999999999 a\n", "1a\nb\n"};
    const char *at = "3 a b.inc\n\n2 \n0 c\n\n", *name, *text;
    size_t name_len, text_len;
    ck_assert(jaw_book_included(&at, &name, &name_len, &text, &text_len));
    ck_assert(name_len == 7 && memcmp(name, "a b.inc", 7) == 0);
    ck_assert(text_len == 3 && memcmp(text, "\n2 ", 3) == 0);
    ck_assert(jaw_book_included(&at, &name, &name_len, &text, &text_len));
    ck_assert(name_len == 1 && text_len == 0);
    ck_assert(!jaw_book_included(&at, &name, &name_len, &text, &text_len));
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        at = bad[i];
        ck_assert(!jaw_book_included(&at, &name, &name_len, &text, &text_len));
        ck_assert_ptr_eq(at, bad[i]);
    }
}
END_TEST

/* ---------------------------------------------------------- version before */

static char *file_of(const char *name)
{
    const char *top = getenv("abs_srcdir");
    char path[1000];
    snprintf(path, sizeof path, "%s/tests/book/%s", top ? top : ".", name);
    FILE *f = fopen(path, "r");
    ck_assert_msg(f != NULL, "%s can not be read", path);
    char *text = calloc(1, 100000);
    ck_assert_uint_lt(fread(text, 1, 99999, f), 99999);
    fclose(f);
    return text;
}

/* What was exported then, read now, is what the old file has become. */
START_TEST(a_book_of_before)
{
    static const struct {
        const char *sql, *json;
        long long n;
    } old_book[] = {{"version-1.sql", "version-1.json", 9},
                    {"version-2.sql", "version-2.json", 15}};
    const int v = _i / 2;
    shop other;
    long long added, held, n = 0;
    char *sql = file_of(old_book[v].sql), *json = file_of(old_book[v].json);
    jaw_book_close(s.book);
    s.book = NULL;
    unlink(s.path);
    ck_assert_str_eq(shop_sql(&s, sql), "");
    /* reading brings it up to date too */
    shop_reopen(&s, (jaw_book_use)(_i % 2));
    ck_assert_int_eq(jaw_book_check(s.book, &n), JAW_OK);
    ck_assert_int_eq(n, old_book[v].n);
    char *old = shop_export(&s, JAW_BOOK_JSON);
    shop_begin(&other);
    ck_assert_int_eq(jaw_book_import(other.book, json, strlen(json), "old", 0,
                                     &added, &held), JAW_OK);
    char *now = shop_export(&other, JAW_BOOK_JSON);
    ck_assert_str_eq(old, now);
    free(old);
    free(now);
    shop_end(&other);
    shop_reopen(&s, JAW_BOOK_WRITE);
    ck_assert_int_eq(keep("Plate", 10, 100), old_book[v].n + 1);
    ck_assert_int_eq(jaw_book_undo(s.book, 0, 0, NULL), JAW_OK);
    ck_assert_int_eq(jaw_book_check(s.book, NULL), JAW_OK);
    free(sql);
    free(json);
}
END_TEST

TCase *together_case(void)
{
    TCase *tc = tcase_create("together");
    tcase_add_checked_fixture(tc, begin, end);
    tcase_add_test(tc, comes_back_whole);
    tcase_add_loop_test(tc, undone_together, 0, SHOP_SETUP + 1);
    tcase_add_test(tc, check_finds_half_an_undo);
    tcase_add_loop_test(tc, one_that_is_wrong_is_none, 0, 20);
    tcase_add_test(tc, none_and_first_alone);
    tcase_add_loop_test(tc, entered_values, 0, 11);
    tcase_add_test(tc, what_is_included);
    tcase_add_loop_test(tc, a_book_of_before, 0, 4);
    return tc;
}
