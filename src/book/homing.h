/* SPDX-License-Identifier: GPL-3.0-or-later */
/* homing.h: what marks say (homing.c), since when they say it (stretch.c), what
 * a hand did to them and to fixtures (slip.c) and what follows for everything
 * else (carry.c); for whoever asks by what the machine moved. */
#ifndef JAW__BOOK_HOMING_H
#define JAW__BOOK_HOMING_H

#include "change.h"

/* jaw__book_session: the first of what was written together. */
long long jaw__book_session(const jaw_book_record *r);

/* jaw__book_mark_axes: bits 1, 2, 4: X, Y, Z, of which a mark shows something.
 * A wall that runs askew to both axes shows of both, with others. */
unsigned jaw__book_mark_axes(const jaw_book_mark *m);

/* jaw__book_stretch: the session since which the machine's X, Y and Z stand as
 * they were homed; 0: since the first marks, and perhaps longer. */
jaw_status jaw__book_stretch(jaw_book *book, const char *machine,
                             long long start[3]);

/* jaw__book_pair: a mark that was found twice. */
jaw_mark jaw__book_pair(const jaw_book_mark *before, const jaw_book_mark *now);

/* jaw__marks_high: how many of them show a height. */
size_t jaw__marks_high(const jaw_mark pair[], size_t n);

/* jaw__book_slips: marks that a slip of the hand spoilt, said; and marks that
 * moved against one another.  pair[]: those that are compared, which[] of the
 * homing's marks they are.  Sets homing->doubtful. */
void jaw__book_slips(jaw_book *book, const jaw_book_machine *machine,
                     const jaw_mark pair[], const size_t which[],
                     const jaw_vec3 resid[], jaw_book_homing *homing);

/* jaw__book_fixture_slips: what looks like one in a fixture, said; tip: mm,
 * across the largest that touched it; step: mm, the last digit shown. */
bool jaw__book_fixture_slips(jaw_book *book, const char *name,
                             const jaw_book_fixture *last,
                             const jaw_book_fixture *now, double tip,
                             double step);

/* jaw__book_carry: what is to be carried; also where it is not. */
jaw_status jaw__book_carry(jaw_book *book, const jaw_book_machine *machine,
                           long long homed, jaw_book_homing *homing);

#endif
