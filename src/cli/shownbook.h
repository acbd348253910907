/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shownbook.h: what `jawline entered' takes from the book, and writes into
 * it. */
#ifndef JAW__CLI_SHOWNBOOK_H
#define JAW__CLI_SHOWNBOOK_H

#include "shop.h"

typedef struct shownbook {
    shop s;
    bool open;
    long long setup;  /* the kept setup; 0: none */
    struct held *held; /* of each value */
    char before[160]; /* where what was held before is from */
} shownbook;

/* shownbook_begin: opens the book where there is one, or with --keep makes it;
 * false after complaining, and only where it is needed.  shownbook_end: the
 * exit status that it stands for. */
bool shownbook_begin(const arguments *args, shownbook *b);
int shownbook_end(shownbook *b);

/* shownbook_find: whether a kept setup is meant; what the book says of it is
 * printed at the end.  shownbook_kept: its values to enter, in the order of
 * jaw_solution_registers; false after complaining. */
bool shownbook_find(shownbook *b, const char *what);
bool shownbook_kept(shownbook *b, char **title, jaw_unit *unit, int *stands,
                    jaw_readback_value **value, size_t *n);

/* shownbook_before: what each value held before, where the book knows; false
 * when out of memory.  shownbook_pick: of several such values the one that is
 * shown, if one is. */
bool shownbook_before(shownbook *b, jaw_readback_value value[], size_t n);
void shownbook_pick(const shownbook *b, jaw_readback_value value[], size_t n);

/* shownbook_write: what is shown into the book; false after complaining. */
bool shownbook_write(shownbook *b, const char *title, jaw_unit unit,
                     const jaw_readback_value value[], size_t n, bool say);

#endif
