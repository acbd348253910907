/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shop.h: what the commands about the book share. */
#ifndef JAW__CLI_SHOP_H
#define JAW__CLI_SHOP_H

#include "cli.h"

typedef struct shop {
    jaw_notes *notes;
    jaw_book *book;
    char machine[JAW_BOOK_NAME_SIZE]; /* "": several, which `machine' lists */
    jaw_book_machine about;
    bool known;    /* the book knows the machine */
    jaw_unit unit; /* of numbers that carry none, and of the output */
    long long at;  /* 0: now */
    size_t told;   /* notes that shop_tell has printed */
} shop;

/* name_is_good: of a mark, say; machine_is_good: the same, or NULL; book_path:
 * which file the arguments mean; false after complaining.  book_is_there:
 * whether there is such a file. */
bool name_is_good(const char *name, const char *what);
bool machine_is_good(const char *name);
bool book_path(const arguments *args, char *path, size_t size);
bool book_is_there(const arguments *args);

/* shop_open: the book and the machine that the arguments mean; false after
 * complaining.  shop_close: prints notes and gives the exit status: 1 with a
 * doubt.  shop_leave: after complaining; EXIT_USAGE. */
bool shop_open(const arguments *args, jaw_book_use use, shop *s);
/* shop_tell: prints the notes that came since; before values. */
void shop_tell(shop *s);
int shop_close(shop *s, jaw_status status);
int shop_leave(shop *s);
/* sheet_keeps: whether what follows from a sheet of this exit status can be
 * kept, if that is asked for; false after complaining. */
bool sheet_keeps(const arguments *args, int status);

/* shop_time: an option's time; as it was if not given; false after
 * complaining. */
bool shop_time(const arguments *args, option_id id, long long *at);

/* shop_length: an option's length, shop_number: a whole number; as it was if
 * the option was not given; false after complaining. */
bool shop_length(const arguments *args, option_id id, const shop *s,
                 bool negative, double *mm);
bool shop_number(const arguments *args, option_id id, int most, int *n);

/* touch_options: what --between, its uncertainty and --repeat say of a touch;
 * false after complaining. */
bool touch_options(const arguments *args, const shop *s, jaw_book_touch *t);

/* holders_find: the holders that the book has tool `number` in, with a length from
 * the gauge line or with any; of those that are named the first few by name.
 * holders_text: "er-1, er-2". */
enum { HOLDERS_MAX = 8, HOLDERS_TEXT = HOLDERS_MAX * (JAW_BOOK_NAME_SIZE + 2) };
typedef struct holders {
    int number;
    bool gauge_line;
    char name[HOLDERS_MAX][JAW_BOOK_NAME_SIZE];
    size_t n;
    bool unnamed; /* and one that was never named */
} holders;
jaw_status holders_find(shop *s, holders *h);
const char *holders_text(const holders *h, char text[HOLDERS_TEXT]);

/* half_told: of readings that disagree nothing tells how far off their mean is. */
double half_told(unsigned doubts, double half95);

/* length_read: a number with mm, in or without a unit; false: it is none. */
bool length_read(const char *text, jaw_unit unit, double *mm);
/* readings_read: of operands; malloc'd, NULL after complaining. */
double *readings_read(char *const text[], int n, jaw_unit unit);

/* shop_text: --text, or else what the book calls the first of these subjects
 * that it has a text of; whole, for a letter may be several bytes.  malloc'd,
 * NULL when out of memory. */
char *shop_text(const arguments *args, shop *s, jaw_book_kind kind,
                const char *const subject[], int n);

/* mm_text: a length in the shop's unit, by the step of its control, and so many
 * decimals more.  step_text: a value as the control takes it, in units of
 * `one'.  date_text: of an entry. */
typedef struct number_text {
    char s[48];
} number_text;
number_text mm_text(const shop *s, double mm, int more);
number_text step_text(double value, double step, double one);
number_text date_text(long long at);

/* cautions_print: under values to enter. */
void cautions_print(void);

/* put_entry_end: two blanks and a word for each doubt, and whether it is
 * undone; json_doubts: their words as an array. */
void put_entry_end(const jaw_book_record *r);
void json_doubts(unsigned doubts);

/* json_text, json_number: with what JSON asks for. */
void json_text(const char *text);
void json_number(const shop *s, double mm);

#endif
