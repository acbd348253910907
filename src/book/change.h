/* SPDX-License-Identifier: GPL-3.0-or-later */
/* change.h: between measure.c and change.c. */
#ifndef JAW__BOOK_CHANGE_H
#define JAW__BOOK_CHANGE_H

#include "book.h"

/* jaw__book_compare: a measured length with the current one of its subject;
 * fills in out->verdict. */
jaw_status jaw__book_compare(jaw_book *book, const jaw_book_machine *machine,
                             jaw_book_measured *out);

/* jaw__book_tell_change: what it found, as notes. */
void jaw__book_tell_change(jaw_book *book, const jaw_book_machine *machine,
                           const jaw_book_measured *out);

/* jaw__book_judge: what a real change probably is; shares and change. */
typedef struct jaw__other_tool {
    int number;
    char holder[44];
    double value, u; /* mm */
} jaw__other_tool;

void jaw__book_judge(jaw_book_verdict *v, double reach,
                     const jaw__other_tool other[], size_t n);

/* A length as text in the unit as typed, with the decimals of the step;
 * jaw__book_fine: with one more. */
typedef struct jaw__book_text {
    char s[48];
} jaw__book_text;
jaw__book_text jaw__book_mm(double mm, jaw_unit unit,
                            const jaw_book_machine *machine);
jaw__book_text jaw__book_fine(double mm, jaw_unit unit,
                              const jaw_book_machine *machine);

#endif
