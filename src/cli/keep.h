/* SPDX-License-Identifier: GPL-3.0-or-later */
/* keep.h: a solved setup beside what was kept of it. */
#ifndef JAW__CLI_KEEP_H
#define JAW__CLI_KEEP_H

#include "shop.h"

/* What was solved, and what is to be said of it. */
typedef struct answer {
    const sheets *all;
    const jaw_setup *setup;
    const jaw_solution *solution;
    jaw_notes *notes;
} answer;

typedef struct keeping {
    shop s;
    jaw_book_kept kept;
    jaw_book_moved moved;
    char *included; /* the sheets it includes, as jaw_book_included reads */
    bool open, compared;
    bool same; /* the sheet is the one that was kept then, to the letter */
    size_t old; /* values that marks carried since, of a sheet of before */
    long long entry; /* as which it was kept; 0: not yet */
} keeping;

/* keep_begin: opens the book, and compares with the setup that `since` names,
 * or without it with the last one of the same title, if there is one; what
 * looks like a slip is added to its notes.  false after complaining; to be
 * ended either way. */
bool keep_begin(const arguments *args, jaw_book_use use, const char *since,
                const answer *a, keeping *k);
/* keep_write: into the book, with its sheet and report; false after
 * complaining. */
bool keep_write(keeping *k, const answer *a, const char *report,
                bool doubted);
/* keep_end: the exit status that the book alone stands for. */
int keep_end(keeping *k);

/* moved_print: what moved, as a page.  moved_json: as an object, or null. */
bool moved_print(const keeping *k);
bool moved_json(const keeping *k);

#endif
