/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a book refuses, and how it says so: every status, provoked. */
#include "book_tests.h"

#include <math.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
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

/* Opens the shop's file anew; the status. */
static jaw_status open_again(jaw_book_use use)
{
    jaw_book_close(s.book);
    return jaw_book_open(s.path, use, s.notes, &s.book);
}

static long file_size(const char *path)
{
    struct stat st;
    return stat(path, &st) == 0 ? (long)st.st_size : -1;
}

START_TEST(no_book_yet)
{
    jaw_book_close(s.book);
    unlink(s.path);
    ck_assert_int_eq(jaw_book_open(s.path, JAW_BOOK_READ, s.notes, &s.book),
                     JAW_ENOBOOK);
    ck_assert_ptr_null(s.book);
    shop_said(&s, "there is no book yet");
    ck_assert_int_eq(file_size(s.path), -1); /* reading makes none */
}
END_TEST

START_TEST(folders_are_made_on_writing)
{
    snprintf(s.path, sizeof s.path, "%s/deep/er/b.sqlite", s.folder);
    ck_assert_int_eq(open_again(JAW_BOOK_READ), JAW_ENOBOOK);
    ck_assert_int_eq(open_again(JAW_BOOK_WRITE), JAW_OK);
    ck_assert_int_gt(file_size(s.path), 0);
}
END_TEST

START_TEST(a_folder_that_can_not_be)
{
    char path[200];
    snprintf(path, sizeof path, "%s/x/b.sqlite", s.path); /* below a file */
    jaw_book *book;
    ck_assert_int_eq(jaw_book_open(path, JAW_BOOK_WRITE, s.notes, &book),
                     JAW_EIO);
    ck_assert_int_eq(jaw_book_open(s.folder, JAW_BOOK_WRITE, s.notes, &book),
                     JAW_EDAMAGED);
    shop_said(&s, "is something else than a book");
    ck_assert_int_eq(jaw_book_open("", JAW_BOOK_WRITE, s.notes, &book),
                     JAW_EDAMAGED);
}
END_TEST

START_TEST(a_name_that_looks_like_no_file)
{
    jaw_book *book;
    ck_assert_int_eq(chdir(s.folder), 0);
    ck_assert_int_eq(jaw_book_open(":memory:", JAW_BOOK_WRITE, s.notes, &book),
                     JAW_OK);
    jaw_book_close(book);
    ck_assert_int_gt(file_size("./:memory:"), 0);
}
END_TEST

static void fill(const char *path, const char *bytes, size_t n, size_t times)
{
    FILE *f = fopen(path, "wb");
    for (size_t i = 0; i < times; i++)
        ck_assert_uint_eq(fwrite(bytes, 1, n, f), n);
    ck_assert_int_eq(fclose(f), 0);
}

START_TEST(something_else)
{
    fill(s.path, "title  Focuser plate\n", 21, 100);
    ck_assert_int_eq(open_again(JAW_BOOK_WRITE), JAW_EDAMAGED);
    shop_said(&s, "is something else than a book; it is left as it is; name "
                  "another file");
    ck_assert_int_eq(file_size(s.path), 2100);
}
END_TEST

START_TEST(the_file_of_another_program)
{
    jaw_book_close(s.book);
    s.book = NULL;
    unlink(s.path);
    ck_assert_str_eq(shop_sql(&s, "CREATE TABLE bolts (m REAL)"), "");
    ck_assert_int_eq(open_again(JAW_BOOK_WRITE), JAW_EDAMAGED);
    shop_said(&s, "is something else than a book");
    ck_assert_str_eq(shop_sql(&s, "SELECT * FROM entry"),
                     "no such table: entry");
}
END_TEST

START_TEST(an_empty_file_is_a_book_to_be)
{
    fill(s.path, "", 0, 0);
    ck_assert_int_eq(open_again(JAW_BOOK_READ), JAW_ENOBOOK);
    ck_assert_int_eq(open_again(JAW_BOOK_WRITE), JAW_OK);
    shop_write(&s, shop_length(3, 60, 0));
}
END_TEST

START_TEST(a_newer_book_is_left_alone)
{
    shop_write(&s, shop_length(3, 60, 0));
    ck_assert_str_eq(shop_sql(&s, "PRAGMA user_version = 99"), "");
    long size = file_size(s.path);
    ck_assert_int_eq(open_again(JAW_BOOK_WRITE), JAW_ENEWER);
    shop_said(&s, "was made by a newer version (99, this one knows 3); it is "
                  "left as it is; use the newer version");
    ck_assert_int_eq(open_again(JAW_BOOK_READ), JAW_ENEWER);
    ck_assert_int_eq(file_size(s.path), size);
}
END_TEST

/* Bytes from a place of the file on overwritten with others. */
static void damage(long from)
{
    jaw_book_close(s.book);
    s.book = NULL;
    FILE *f = fopen(s.path, "r+b");
    long size = file_size(s.path);
    fseek(f, from, SEEK_SET);
    for (long at = from; at < size; at++)
        fputc((int)(at * 37 % 251), f);
    fclose(f);
}

/* Many entries in one transaction. */
static void write_many(int n)
{
    char text[12000] = "kind,machine,tool,value\n";
    long long added, held;
    for (int i = 0; i < n; i++)
        snprintf(text + strlen(text), 40, "length,mill,%d,60\n", i + 1);
    ck_assert_int_eq(jaw_book_import(s.book, text, strlen(text), "t.csv", 0,
                                     &added, &held), JAW_OK);
}

START_TEST(damaged_bytes)
{
    write_many(400);
    damage(file_size(s.path) / 4 * 3); /* behind the tables' own */
    ck_assert_int_eq(jaw_book_open(s.path, JAW_BOOK_WRITE, s.notes, &s.book),
                     JAW_OK); /* opening does not look through it */
    ck_assert_int_eq(jaw_book_check(s.book, NULL), JAW_EDAMAGED);
    jaw_book_record r = shop_length(3, 60, 100);
    long long id = -1;
    ck_assert_int_eq(jaw_book_add(s.book, &r, &id), JAW_EDAMAGED);
    shop_said(&s, "is damaged: ");
    ck_assert_int_eq(id, -1);
}
END_TEST

START_TEST(damaged_from_the_start)
{
    shop_write(&s, shop_length(3, 60, 0));
    damage(4096);
    ck_assert_int_eq(jaw_book_open(s.path, JAW_BOOK_WRITE, s.notes, &s.book),
                     JAW_EDAMAGED);
    shop_said(&s, "is damaged: ");
}
END_TEST

START_TEST(half_a_file)
{
    write_many(400);
    jaw_book_close(s.book);
    ck_assert_int_eq(truncate(s.path, file_size(s.path) / 8192 * 4096), 0);
    ck_assert_int_eq(jaw_book_open(s.path, JAW_BOOK_READ, s.notes, &s.book),
                     JAW_EDAMAGED);
    shop_said(&s, "is damaged: ");
}
END_TEST

/* Root may write everything, so it steps down first (the test runs in a
 * process of its own). */
static void step_down(void)
{
    chmod(s.folder, 0755);
    chmod(s.path, 0444);
    if (geteuid() == 0)
        ck_assert_int_eq(seteuid(65534), 0);
    else
        chmod(s.folder, 0555);
}

static void step_up(void)
{
    if (getuid() == 0)
        ck_assert_int_eq(seteuid(0), 0);
    chmod(s.folder, 0755);
}

START_TEST(a_file_that_can_only_be_read)
{
    jaw_book_record r = shop_length(3, 59, 1);
    long long id;
    shop_write(&s, shop_length(3, 60, 0));
    step_down();
    ck_assert_int_eq(open_again(JAW_BOOK_WRITE), JAW_OK);
    ck_assert(shop_value(&s, 3) == 60);
    ck_assert_int_eq(jaw_book_add(s.book, &r, &id), JAW_EREADONLY);
    shop_said(&s, "can only be read; make the file and its folder writable");
    ck_assert_int_eq(jaw_book_undo(s.book, 1, 0, NULL), JAW_EREADONLY);
    ck_assert(shop_value(&s, 3) == 60);
    jaw_book_close(s.book);
    s.book = NULL;
    step_up();
}
END_TEST

START_TEST(a_writer_that_does_not_end)
{
    jaw_book_record r = shop_length(3, 60, 0);
    sqlite3 *other;
    long long id;
    ck_assert_int_eq(sqlite3_open(s.path, &other), SQLITE_OK);
    ck_assert_int_eq(sqlite3_exec(other, "BEGIN EXCLUSIVE", 0, 0, 0),
                     SQLITE_OK);
    jaw_book_patience(s.book, 50);
    ck_assert_int_eq(jaw_book_add(s.book, &r, &id), JAW_EBUSY);
    shop_said(&s, "another program has been writing to the book");
    ck_assert_int_eq(jaw_book_log(s.book, 0, NULL, NULL), JAW_EBUSY);
    sqlite3_exec(other, "ROLLBACK", 0, 0, 0);
    sqlite3_close(other);
    ck_assert_int_eq(jaw_book_add(s.book, &r, &id), JAW_OK);
}
END_TEST

/* What no book may hold. */
START_TEST(bad_entries)
{
    jaw_book_record r = shop_length(3, 60, 0);
    double nan_reading = (double)NAN;
    long long id = -1;
    switch (_i) {
    case 0: r.as.length.number = 0; break;
    case 1: r.as.length.value = (double)NAN; break;
    case 2: r.as.length.holder = "er 20"; break;
    case 3: r.as.length.u = -1; break;
    case 4: r.machine = ""; break;
    case 5: r.subject = "4//"; break;
    case 6: r.at = -1; break;
    case 7: r.undoes = 3; break;
    case 8: r.reading = &nan_reading; r.n_readings = 1; break;
    case 9: r.kind = JAW_BOOK_KINDS; break;
    case 10: r.as.length.between = -0.1; break;
    case 11: r.as.length.change = JAW_BOOK_CHANGES; break;
    case 12: r.machine = NULL; break;
    case 13: r.kind = JAW_BOOK_UNDO; r.machine = ""; r.undoes = 1; break;
    case 14: r.reading = NULL; break;
    case 15: r.as.length.dof = 0; break;
    case 16: r.as.length.text = "M\xfcller"; break; /* Latin-1 */
    case 17: r.as.length.text = "\xe2\x82"; break;  /* cut off */
    case 18: r.as.length.text = "\xc0\xaf"; break;  /* longer than need be */
    case 19: r.as.length.text = "\xed\xa0\x80"; break; /* half a pair */
    case 20: r.as.length.text = "\xff"; break;
    case 21: r.as.length.text = NULL; break;
    }
    ck_assert_int_eq(jaw_book_add(s.book, &r, &id), JAW_EDOMAIN);
    ck_assert_int_eq(id, -1);
    shop_said(&s, "nothing was written");
    ck_assert_int_eq(jaw_book_log(s.book, 0, NULL, NULL), JAW_OK);
}
END_TEST

START_TEST(bad_machines_heights_diameters)
{
    jaw_book_record m = {.kind = JAW_BOOK_MACHINE, .machine = "mill",
                         .subject = ""};
    m.as.machine = (jaw_book_machine){.step = 1e-3, .decimals = 3,
                                      .seat = (double)NAN};
    jaw_book_record h = {.kind = JAW_BOOK_HEIGHT, .machine = "mill",
                         .subject = "setter"};
    jaw_book_record d = {.kind = JAW_BOOK_DIAMETER, .machine = "mill",
                         .subject = "3/"};
    d.as.diameter = (jaw_book_diameter){.number = 3, .holder = "",
                                        .value = 9.5, .u = 0.01, .dof = 2,
                                        .repeat_dof = 2};
    jaw_book_record *r = _i < 6 ? &m : _i < 11 ? &h : &d;
    h.as.height.dof = 3;
    switch (_i) {
    case 0: m.as.machine.step = 0; break;
    case 1: m.as.machine.decimals = 12; break;
    case 2: m.as.machine.lengths = JAW_REFERENCE_TOOL; break;
    case 3: m.as.machine.low[2] = 1; m.as.machine.high[2] = 1; break;
    case 4: m.as.machine.unit = (jaw_unit)7; break;
    case 5: m.as.machine.seat = -1; break;
    case 6: h.as.height.value = (double)INFINITY; break;
    case 7: h.as.height.block = true; h.as.height.value = -1; break;
    case 8: h.subject = "the setter"; break;
    case 9: h.as.height.block = true; break; /* and names a machine */
    case 10: h.as.height.tool = -1; break;
    case 11: d.as.diameter.value = 0; break;
    case 12: d.subject = "3//"; break;
    case 13: d.as.diameter.number = 10000; break;
    case 14: d.as.diameter.change = JAW_BOOK_CHANGES; break;
    case 15: d.as.diameter.known = -1; break;
    case 16: d.as.diameter.repeat_dof = 0; break;
    }
    if (_i < 6 && _i != 3)
        for (int i = 0; i < 3; i++)
            m.as.machine.low[i] = m.as.machine.high[i] = (double)NAN;
    long long id;
    ck_assert_int_eq(jaw_book_add(s.book, r, &id), JAW_EDOMAIN);
}
END_TEST

START_TEST(words_and_paths)
{
    char path[100];
    ck_assert_ptr_null(jaw_book_kind_word(JAW_BOOK_KINDS));
    ck_assert_ptr_null(jaw_book_kind_text(JAW_BOOK_KINDS));
    ck_assert_ptr_null(jaw_book_change_word(JAW_BOOK_CHANGES));
    ck_assert_ptr_null(jaw_book_change_text(JAW_BOOK_CHANGES));
    ck_assert_ptr_null(jaw_book_doubt_word(0));
    ck_assert_ptr_null(jaw_book_doubt_text(JAW_BOOK_DOUBTS_END));
    ck_assert_str_eq(jaw_book_doubt_text(JAW_BOOK_NEGATIVE),
                     "a length below zero");
    ck_assert_int_eq(jaw_book_current(s.book, JAW_BOOK_KINDS, NULL, NULL, NULL),
                     JAW_EDOMAIN);
    ck_assert(!jaw_book_name_is_good(NULL) && !jaw_book_name_is_good("-x") &&
              jaw_book_name_is_good("er20-2"));
    ck_assert_int_eq(jaw_book_tool_subject(3, "a", "b", path, 4), JAW_ESIZE);

    ck_assert_int_eq(jaw_book_path("x", path, sizeof path), JAW_OK);
    ck_assert_str_eq(path, "x");
    setenv("JAWLINE_BOOK", "/a/b", 1);
    ck_assert_int_eq(jaw_book_path("", path, sizeof path), JAW_OK);
    ck_assert_str_eq(path, "/a/b");
    setenv("JAWLINE_BOOK", "", 1);
    setenv("XDG_DATA_HOME", "/d", 1);
    ck_assert_int_eq(jaw_book_path(NULL, path, sizeof path), JAW_OK);
    ck_assert_str_eq(path, "/d/jawline/book.sqlite");
    setenv("XDG_DATA_HOME", "not-absolute", 1);
    setenv("HOME", "/h", 1);
    ck_assert_int_eq(jaw_book_path(NULL, path, sizeof path), JAW_OK);
    ck_assert_str_eq(path, "/h/.local/share/jawline/book.sqlite");
    ck_assert_int_eq(jaw_book_path(NULL, path, 5), JAW_ESIZE);
    unsetenv("HOME");
    ck_assert_int_eq(jaw_book_path(NULL, path, sizeof path), JAW_EUNKNOWN);
}
END_TEST

TCase *refuse_case(void)
{
    TCase *tc = tcase_create("refuse");
    tcase_add_checked_fixture(tc, begin, end);
    tcase_add_test(tc, no_book_yet);
    tcase_add_test(tc, folders_are_made_on_writing);
    tcase_add_test(tc, a_folder_that_can_not_be);
    tcase_add_test(tc, a_name_that_looks_like_no_file);
    tcase_add_test(tc, something_else);
    tcase_add_test(tc, the_file_of_another_program);
    tcase_add_test(tc, an_empty_file_is_a_book_to_be);
    tcase_add_test(tc, a_newer_book_is_left_alone);
    tcase_add_test(tc, damaged_bytes);
    tcase_add_test(tc, damaged_from_the_start);
    tcase_add_test(tc, half_a_file);
    tcase_add_test(tc, a_file_that_can_only_be_read);
    tcase_add_test(tc, a_writer_that_does_not_end);
    tcase_add_loop_test(tc, bad_entries, 0, 22);
    tcase_add_loop_test(tc, bad_machines_heights_diameters, 0, 17);
    tcase_add_test(tc, words_and_paths);
    return tc;
}
