/* SPDX-License-Identifier: GPL-3.0-or-later */
/* book_tests.h: a shop to write down, and the test cases of src/book. */
#ifndef TESTS_BOOK_TESTS_H
#define TESTS_BOOK_TESTS_H

#include <check.h>
#include <jawline.h>

/* A folder of its own, and a path in it; shop_end removes both. */
typedef struct shop {
    char folder[64];
    char path[128];
    jaw_notes *notes;
    jaw_book *book;
} shop;

/* shop_begin: with an empty book that is open for writing. */
void shop_begin(shop *s);
void shop_end(shop *s);
/* shop_reopen: closes and opens; its status is checked to be JAW_OK. */
void shop_reopen(shop *s, jaw_book_use use);

/* 2026-03-02 07:00:00 UTC, and so many minutes later. */
long long shop_time(int minutes);

/* shop_length: a length of `number` at that minute, with three readings. */
jaw_book_record shop_length(int number, double value, int minutes);
/* shop_setup: a setup of that title with the work zeros G54 at x, y, z and G55
 * beside it, and the register of tool 3. */
enum { SHOP_SETUP = 4 };
void shop_setup(const char *title, double x, int minutes,
                jaw_book_record r[SHOP_SETUP]);
/* shop_machine: in mm, lengths from the gauge line, Z from -400 to 0. */
jaw_book_record shop_machine(const char *name);
/* shop_height: of a surface of the mill; shop_block: of no machine.  u is known
 * for certain. */
jaw_book_record shop_height(const char *name, double value, double u,
                            int minutes);
jaw_book_record shop_block(const char *name, double value, double u,
                           int minutes);
/* shop_touch: readings of a tool on `setter'; nobody said how they repeat. */
jaw_book_touch shop_touch(int number, const double reading[], size_t n);
/* shop_write: adds it; its id. */
long long shop_write(shop *s, jaw_book_record record);
/* shop_value: the current length of a tool; NaN: there is none. */
double shop_value(shop *s, int number);

/* shop_measure: what a touch comes to, written down. */
jaw_book_measured shop_measure(shop *s, const jaw_book_touch *t);
/* shop_quick: the disk is not waited for. */
void shop_quick(const shop *s);
/* shop_export: all of the book, to be freed. */
char *shop_export(const shop *s, jaw_book_form form);

/* A sheet that was read and solved; where: asked for where features are. */
typedef struct shop_solved {
    jaw_setup *setup;
    jaw_solution *solution;
} shop_solved;
shop_solved shop_solve(const char *sheet, bool where);
void shop_drop(shop_solved *v);

/* shop_said: the last note is that one, whole: "what; cure". */
void shop_said(const shop *s, const char *text);
/* shop_told: one of the notes is. */
void shop_told(const shop *s, const char *text);
/* shop_lacked: what came of it when allocation k failed, or was not reached:
 * false. */
bool shop_lacked(long k, bool failed, jaw_status status);
/* shop_sql: straight to the file, as any program could; SQLite's message, ""
 * when all went well. */
const char *shop_sql(const shop *s, const char *sql);

TCase *keep_case(void);
TCase *refuse_case(void);
TCase *move_case(void);
TCase *change_case(void);
TCase *conventions_case(void);
TCase *diameter_case(void);
TCase *published_case(void);
TCase *trend_case(void);
TCase *together_case(void);
TCase *moved_case(void);
TCase *homing_case(void);
TCase *homing_memory_case(void); /* NULL, as memory_case */
TCase *fill_case(void);
TCase *tips_case(void);
TCase *memory_case(void); /* NULL: allocations can not be seen */
TCase *setups_memory_case(void);

#endif
