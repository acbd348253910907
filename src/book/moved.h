/* SPDX-License-Identifier: GPL-3.0-or-later */
/* moved.h: differences of registers, judged. */
#ifndef JAW__BOOK_MOVED_H
#define JAW__BOOK_MOVED_H

#include "book.h"

/* jaw__shifts_judge: each of n differences whose before and after are filled
 * in, and kind where they can not be compared. */
void jaw__shifts_judge(jaw_book_shift shift[], size_t n, double tip);

typedef struct jaw__value_text {
    char s[48];
} jaw__value_text;

/* jaw__value_text_of: a register's value, with its unit, as the control of that
 * setup takes it; axis as of jaw_book_entered. */
jaw__value_text jaw__value_text_of(int axis, double value,
                                   const jaw_book_setup *rules);

#endif
