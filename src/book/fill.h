/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fill.h: between fill.c and fill_tool.c: what a setup leaves to the book. */
#ifndef JAW__BOOK_FILL_H
#define JAW__BOOK_FILL_H

#include "change.h"

typedef struct jaw__fill {
    jaw_book *book;
    jaw_setup *setup;
    jaw_notes *notes;
    char machine[JAW_BOOK_NAME_SIZE];
    jaw_book_machine about;
    bool known;         /* the book knows the machine */
    jaw_status missing; /* of the first that was not found */
} jaw__fill;

/* What is being filled in: "the length of tool 3". */
typedef struct jaw__what {
    char s[80];
} jaw__what;

/* Each of these returns JAW_OK when the reading of the book went well; what is
 * missing is told and kept in f->missing. */

/* jaw__fill_tool: the i-th tool of the setup. */
jaw_status jaw__fill_tool(jaw__fill *f, size_t i);

/* jaw__fill_missing: keeps the status of what was told. */
void jaw__fill_missing(jaw__fill *f, jaw_status told);

/* jaw__fill_elsewhere: of a kind on another machine, whose name is returned;
 * "": there is none.  number: of a tool, else 0 and by subject. */
jaw_status jaw__fill_elsewhere(jaw__fill *f, jaw_book_kind kind,
                               const char *subject, int number,
                               char machine[JAW_BOOK_NAME_SIZE]);

/* jaw__fill_gone: told when the newest entry of a subject, of which none holds,
 * is undone; *gone says so. */
jaw_status jaw__fill_gone(jaw__fill *f, jaw_place place, jaw_book_kind kind,
                          const char *machine, const char *subject,
                          const jaw__what *what, bool *gone);

/* jaw__fill_doubts: those of the entry, and that a later one is undone, or that
 * the newest one shows a slip and is passed over (jaw__book_stands). */
jaw_status jaw__fill_doubts(jaw__fill *f, jaw_place place,
                            const jaw_book_record *r,
                            const jaw__newest *holds, const jaw__what *what);

/* jaw__fill_link: what a link says once it is filled in; seen is left as it is.
 */
void jaw__fill_link(jaw_link *link, const jaw_book_record *r, double value,
                    double u, double dof, double half95);

#endif
