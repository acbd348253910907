/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is written stays, undone or not, and what is current follows from it. */
#include "book_tests.h"

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

START_TEST(comes_back_to_the_last_bit)
{
    jaw_book_record in = shop_length(3, 79.0 / 3, 0), out;
    long long id = shop_write(&s, in);

    shop_reopen(&s, JAW_BOOK_READ);
    ck_assert_int_eq(jaw_book_get(s.book, id, &out), JAW_OK);
    ck_assert_int_eq(out.kind, JAW_BOOK_LENGTH);
    ck_assert_int_eq(out.at, in.at);
    ck_assert_str_eq(out.machine, "mill");
    ck_assert_str_eq(out.subject, "3//");
    ck_assert_str_eq(out.as.length.text, "3/8 ball mill");
    ck_assert(out.as.length.value == 79.0 / 3);
    ck_assert(out.as.length.dof == 2);
    ck_assert_uint_eq(out.n_readings, 3);
    ck_assert(out.reading[0] == 79.0 / 3 - 150.001);
    ck_assert(!out.undone && out.doubts == 0);
}
END_TEST

START_TEST(not_known_and_endless_come_back)
{
    jaw_book_record in = shop_length(3, 60, 0), out;
    in.as.length.repeat = (double)NAN;
    in.as.length.dof = (double)INFINITY;
    long long id = shop_write(&s, in);

    ck_assert_int_eq(jaw_book_get(s.book, id, &out), JAW_OK);
    ck_assert(isnan(out.as.length.repeat));
    ck_assert(isinf(out.as.length.dof));
}
END_TEST

static bool count(void *user, const jaw_book_record *r)
{
    (void)r;
    ++*(int *)user;
    return true;
}

static bool first_only(void *user, const jaw_book_record *r)
{
    *(double *)user = r->as.length.value;
    return false;
}

START_TEST(undo_and_undo_of_undo)
{
    long long which = 0;
    int n = 0;
    double newest = 0;
    shop_write(&s, shop_length(3, 60, 0));
    shop_write(&s, shop_length(3, 59, 1));
    shop_write(&s, shop_length(12, 80, 2));

    ck_assert(shop_value(&s, 3) == 59);
    ck_assert_int_eq(jaw_book_undo(s.book, 2, shop_time(3), &which), JAW_OK);
    ck_assert_int_eq(which, 2);
    ck_assert(shop_value(&s, 3) == 60);
    ck_assert_int_eq(jaw_book_undo(s.book, 4, shop_time(4), &which), JAW_OK);
    ck_assert(shop_value(&s, 3) == 59);
    ck_assert_int_eq(jaw_book_undo(s.book, 5, shop_time(5), NULL), JAW_OK);
    ck_assert(shop_value(&s, 3) == 60);
    /* without a number: the newest that holds and is no undo */
    ck_assert_int_eq(jaw_book_undo(s.book, 0, shop_time(6), &which), JAW_OK);
    ck_assert_int_eq(which, 3);
    ck_assert_int_eq(jaw_book_undo(s.book, 0, shop_time(7), &which), JAW_OK);
    ck_assert_int_eq(which, 1);
    ck_assert(isnan(shop_value(&s, 3)));
    ck_assert_int_eq(jaw_book_undo(s.book, 0, shop_time(8), &which),
                     JAW_EUNKNOWN);
    shop_said(&s, "there is nothing in the book to undo");
    ck_assert_int_eq(jaw_book_undo(s.book, 2, shop_time(8), &which),
                     JAW_EUNKNOWN);
    shop_said(&s, "entry 2 is undone already, by entry 4; to bring it back, undo");
    ck_assert_int_eq(jaw_book_undo(s.book, 99, shop_time(8), &which),
                     JAW_EUNKNOWN);
    shop_said(&s, "there is no entry 99 in the book");
    /* all of it is still there */
    ck_assert_int_eq(jaw_book_history(s.book, JAW_BOOK_LENGTH, "mill", "3//",
                                      0, count, &n), JAW_OK);
    ck_assert_int_eq(n, 2);
    ck_assert_int_eq(jaw_book_history(s.book, JAW_BOOK_LENGTH, "mill", "3//",
                                      1, first_only, &newest), JAW_OK);
    ck_assert(newest == 59);
    n = 0;
    ck_assert_int_eq(jaw_book_log(s.book, 0, count, &n), JAW_OK);
    ck_assert_int_eq(n, 8);
    n = 0;
    ck_assert_int_eq(jaw_book_current(s.book, JAW_BOOK_LENGTH, NULL, count,
                                      &n), JAW_OK);
    ck_assert_int_eq(n, 0);
    ck_assert_int_eq(jaw_book_check(s.book, NULL), JAW_OK);
}
END_TEST

START_TEST(a_long_chain_of_undos)
{
    shop_write(&s, shop_length(3, 60, 0));
    for (int i = 0; i < 60; i++)
        ck_assert_int_eq(jaw_book_undo(s.book, i + 1, shop_time(i), NULL),
                         JAW_OK);
    ck_assert(shop_value(&s, 3) == 60);
    ck_assert_int_eq(jaw_book_check(s.book, NULL), JAW_OK);
}
END_TEST

START_TEST(one_tool_in_two_holders_is_two_histories)
{
    jaw_book_record r = shop_length(3, 60, 0);
    int n = 0;
    shop_write(&s, r);
    r.as.length.holder = "er20-2";
    r.subject = "3/er20-2/";
    r.as.length.value = 71;
    shop_write(&s, r);

    ck_assert(shop_value(&s, 3) == 60);
    ck_assert_int_eq(jaw_book_current(s.book, JAW_BOOK_LENGTH, "mill", count,
                                      &n), JAW_OK);
    ck_assert_int_eq(n, 2);
}
END_TEST

START_TEST(a_clock_that_runs_backwards)
{
    jaw_book_record r = shop_length(3, 60, 10), out;
    long long id;
    shop_write(&s, r);
    r = shop_length(3, 59, 4);

    ck_assert_int_eq(jaw_book_add(s.book, &r, &id), JAW_OK);
    ck_assert_uint_eq(r.doubts, JAW_BOOK_CLOCK_BACK);
    shop_said(&s, "the clock says 2026-03-02 07:04:00, and that is before the "
                  "entry before, 2026-03-02 07:10:00");
    ck_assert_int_eq(jaw_book_get(s.book, id, &out), JAW_OK);
    ck_assert_uint_eq(out.doubts, JAW_BOOK_CLOCK_BACK);
    ck_assert(shop_value(&s, 3) == 59); /* the order is that of writing */
}
END_TEST

/* Whoever tries, with whatever program. */
START_TEST(nothing_can_be_changed)
{
    static const char *const sql[] = {
        "UPDATE entry SET at = 0", "DELETE FROM entry",
        "UPDATE length SET value = 1", "DELETE FROM length",
        "UPDATE reading SET value = 1", "DELETE FROM reading",
        "REPLACE INTO length (id, value) VALUES (1, 1)",
        "INSERT OR REPLACE INTO reading (id, n, value) VALUES (1, 1, 1)",
        "REPLACE INTO entry VALUES (1, 1, 'length', '', '', 0, '', NULL)",
        "PRAGMA foreign_keys = OFF; UPDATE length SET value = 1"};
    shop_write(&s, shop_length(3, 60, 0));

    for (size_t i = 0; i < sizeof sql / sizeof sql[0]; i++)
        ck_assert_str_eq(shop_sql(&s, sql[i]),
                         "what is written in a book stays");
    ck_assert(shop_value(&s, 3) == 60);
    /* and a wrong type has no place in it */
    ck_assert_str_eq(shop_sql(&s, "INSERT INTO reading (id, n, value) "
                                  "VALUES (1, 9, 'long')"),
                     "cannot store TEXT value in REAL column reading.value");
}
END_TEST

START_TEST(check_finds_what_was_done)
{
    static const struct {
        const char *sql, *said;
    } row[] = {
        {"DROP TRIGGER length_no_update", "has been taken out"},
        {"INSERT INTO undone (id) VALUES (1)", "whether entry 1 is undone"},
        {"UPDATE newest SET id = 1", "what is current of `3//'"},
        {"DELETE FROM newest", "what is current of `3//'"},
        {"INSERT INTO entry (at, kind, machine, subject, doubts) VALUES"
         " (1, 'undo', '', '', 'odd')", "a doubt that does not exist"},
        {"INSERT INTO entry (at, kind, machine, subject, doubts, part_of)"
         " VALUES (1, 'undo', '', '', '', 3)", "entry 3 is part of can not"},
        {"INSERT INTO reading (id, n, value) VALUES (7, 1, 1)",
         "a row of `reading' hangs from no entry"},
    };
    long long n = 0;
    shop_write(&s, shop_length(3, 60, 0));
    shop_write(&s, shop_length(3, 59, 0));
    ck_assert_int_eq(jaw_book_check(s.book, &n), JAW_OK);
    ck_assert_int_eq(n, 2);

    ck_assert_str_eq(shop_sql(&s, row[_i].sql), "");
    ck_assert_int_eq(jaw_book_check(s.book, NULL), JAW_EDAMAGED);
    shop_said(&s, row[_i].said);
}
END_TEST

TCase *keep_case(void)
{
    TCase *tc = tcase_create("keep");
    tcase_add_checked_fixture(tc, begin, end);
    tcase_add_test(tc, comes_back_to_the_last_bit);
    tcase_add_test(tc, not_known_and_endless_come_back);
    tcase_add_test(tc, undo_and_undo_of_undo);
    tcase_add_test(tc, a_long_chain_of_undos);
    tcase_add_test(tc, one_tool_in_two_holders_is_two_histories);
    tcase_add_test(tc, a_clock_that_runs_backwards);
    tcase_add_test(tc, nothing_can_be_changed);
    tcase_add_loop_test(tc, check_finds_what_was_done, 0, 7);
    return tc;
}
