/* SPDX-License-Identifier: GPL-3.0-or-later */
/* homed.h: what marks said after a homing, as a person or a program reads
 * it. */
#ifndef JAW__CLI_HOMED_H
#define JAW__CLI_HOMED_H

#include "shop.h"

/* homed_print: id: of the first mark that was kept; 0: nothing was kept. */
void homed_print(const shop *s, const jaw_book_homing *h, long long id);
void homed_json(const shop *s, const jaw_book_homing *h, long long id);

/* mark_what: its feature, or that it was typed; mark_half: the half-width of
 * its worst coordinate; mark_json: what, where and in which direction it is. */
const char *mark_what(const jaw_book_mark *m);
double mark_half(const jaw_book_mark *m);
void mark_json(const shop *s, const jaw_book_mark *m);

/* put_place: X, Y and Z of a mark, columns of 12, `-' for what it has not;
 * figure_json: value and half95; angle_text: degrees with so many decimals. */
void put_place(const shop *s, const jaw_figure at[3]);
void figure_json(const shop *s, const char *name, const jaw_figure *f,
                 bool angle);
number_text angle_text(double rad, int decimals);

#endif
