/* SPDX-License-Identifier: GPL-3.0-or-later */
/* homing.h: between homing.c (what marks say), slip.c (what a hand did to them)
 * and carry.c (what follows for everything else). */
#ifndef JAW__BOOK_HOMING_H
#define JAW__BOOK_HOMING_H

#include "change.h"

/* jaw__book_figure_spread: the standard uncertainty that a normal distribution
 * with the same 95 % interval has. */
double jaw__book_figure_spread(const jaw_figure *f);

/* jaw__book_session: the entry that stands for all marks found together.
 * jaw__book_pair: one that was found twice. */
long long jaw__book_session(const jaw_book_record *mark);
jaw_mark jaw__book_pair(const jaw_book_mark *before, const jaw_book_mark *now);

/* jaw__book_slips: marks that a slip of the hand spoilt, said; and marks that
 * moved against one another.  pair[]: those that are compared, which[] of the
 * homing's marks they are.  Sets homing->doubtful. */
void jaw__book_slips(jaw_book *book, const jaw_book_machine *machine,
                     const jaw_mark pair[], const size_t which[],
                     const jaw_vec3 resid[], jaw_book_homing *homing);

/* jaw__book_fixture_slips: what looks like one in a fixture, said; tip: mm,
 * across the largest that touched it; step: mm, the last digit that is shown. */
bool jaw__book_fixture_slips(jaw_book *book, const char *name,
                             const jaw_book_fixture *last,
                             const jaw_book_fixture *now, double tip,
                             double step);

#define JAW__NAME_SIZE 44

/* jaw__book_near: of all marks or fixtures of the machine that are not among
 * those given, one with nearly that name; "": there is none, or the name itself
 * is there. */
jaw_status jaw__book_near(jaw_book *book, const jaw_book_record given[],
                          size_t n, const char *subject,
                          char name[JAW__NAME_SIZE]);

/* jaw__book_carry: what is to be carried; also where it is not. */
jaw_status jaw__book_carry(jaw_book *book, const jaw_book_machine *machine,
                           long long homed, jaw_book_homing *homing);

#endif
