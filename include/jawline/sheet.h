/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sheet.h: text in.  A sheet is one setup as a person would pencil it; rows
 * are the touches of one feature without a sheet.  The grammar stands in
 * src/sheet/grammar.h and makes the manual jawline-sheet(5) as well. */
#ifndef JAWLINE_SHEET_H
#define JAWLINE_SHEET_H

#include <jawline/setup.h>

#ifdef __cplusplus
extern "C" {
#endif

/* jaw_sheet_read_text: a sheet into a setup.
 *
 * Given:     text[len]  UTF-8, any bytes; a byte-order mark, CR LF and a
 *                       missing last newline are fine
 *            file       name for the messages
 * Returned:  setup      everything that could be understood
 *            notes      every mistake in the text, in the order of its lines,
 *                       with file, line, column, the line itself (not when
 *                       the column is beyond 1000) and the cure; after 100
 *                       one that says so, and the rest is not read.  Without
 *                       mistakes: what was taken for granted (unit, step)
 * Status:    JAW_OK; JAW_ESYNTAX when there is at least one mistake;
 *            JAW_ENOMEM
 * Names that are referred to are not looked up here: jaw_setup_solve does.
 * Cost:      linear in len; n log n in the number of names. */
jaw_status jaw_sheet_read_text(const char *text, size_t len, const char *file,
                               jaw_setup *setup, jaw_notes *notes);

/* A text to be read; file: its name for messages, and from which a sheet that
 * it includes is looked for. */
typedef struct jaw_sheet_text {
    const char *text;
    size_t len;
    const char *file;
} jaw_sheet_text;

/* jaw_sheet_fetch: brings the sheet that an `include` names.
 *
 * Given:     user   as given to jaw_sheet_read
 *            name   as it was typed; from: file of the sheet that names it
 * Returned:  *sheet which lives until jaw_sheet_read returns; a file that is
 *                   named twice must come under the same name, so that a loop
 *                   is seen
 * Status:    JAW_OK, JAW_EIO (told as a mistake), JAW_ENOMEM */
typedef jaw_status (*jaw_sheet_fetch)(void *user, const char *name,
                                      const char *from, jaw_sheet_text *sheet);

/* jaw_sheet_read: as jaw_sheet_read_text, and follows `include`, at most eight
 * deep and 64 in all.  The n-th sheet that was fetched is source n of all
 * places, and setup knows its name (jaw_setup_source).  fetch NULL: none can be
 * read. */
jaw_status jaw_sheet_read(const jaw_sheet_text *sheet, jaw_sheet_fetch fetch,
                          void *user, jaw_setup *setup, jaw_notes *notes);

/* Rows of numbers. */
typedef struct jaw_row {
    double value[4]; /* mm; NaN past n */
    int n;
    int group;       /* 0, and one more after every empty row or lone `/` */
    jaw_place place;
} jaw_row;

typedef struct jaw_rows jaw_rows;

/* jaw_rows_read_text: rows of numbers, separated by blanks or by commas, one
 * touch a row; `#` starts a comment; a number may carry its unit (25.4mm,
 * 1in).  Empty rows between two rows, or a lone `/`, start the next group;
 * several of them together start one.  Before the first row and after the last
 * they mean nothing, and a row with a comment alone is not empty.
 *
 * A row without any point that mixes commas and blanks (3,125 4), or has more
 * numbers than it takes, is a mistake: its commas were meant as points.
 *
 * Given:     text[len], file  as above
 *            unit             of numbers that carry none
 *            want_min, want_max  how many numbers a row must have (1..4)
 * Returned:  *rows   the good rows, maybe none; to be freed by jaw_rows_free;
 *                    NULL only when out of memory
 *            notes   every mistake, as above
 * Status:    JAW_OK, JAW_ESYNTAX, JAW_ENOMEM
 * Cost:      linear in len. */
jaw_status jaw_rows_read_text(const char *text, size_t len, const char *file,
                              jaw_unit unit, int want_min, int want_max,
                              jaw_rows **rows, jaw_notes *notes);
const jaw_row *jaw_rows_get(const jaw_rows *rows, size_t *n);
void jaw_rows_free(jaw_rows *rows); /* NULL is fine */

/* What the control shows, as a person reads it off. */
typedef struct jaw_shown {
    char name[JAW_REGISTER_NAME]; /* "G54", "H3" */
    const char *word;             /* "X", "Y", "Z", "turn", "length" */
    double value;                 /* mm or rad */
    jaw_place place;
} jaw_shown;

typedef struct jaw_shown_list jaw_shown_list;

/* jaw_shown_read_text: rows such as `G54 x -12.3450 y 3.2000 turn 0.1` and
 * `H3 101.2000`.  A register stands for all that follows it, over the ends of
 * lines too; the letter of an axis may touch its number; upper and lower case
 * are the same; `tool 3` is H3; `#` starts a comment; a number may carry its
 * unit.
 *
 * Given:     text[len], file  as above
 *            unit             of lengths that carry none; turns are in degrees
 * Returned:  *list   what could be understood; to be freed by jaw_shown_free;
 *                    NULL only when out of memory
 *            notes   every mistake, as above; a register that is given twice,
 *                    and a text without any, are mistakes
 * Status:    JAW_OK, JAW_ESYNTAX, JAW_ENOMEM
 * Cost:      linear in len. */
jaw_status jaw_shown_read_text(const char *text, size_t len, const char *file,
                               jaw_unit unit, jaw_shown_list **list,
                               jaw_notes *notes);
const jaw_shown *jaw_shown_get(const jaw_shown_list *list, size_t *n);
void jaw_shown_free(jaw_shown_list *list); /* NULL is fine */

/* jaw_shown_put: what was read into value[n], as what is shown, or with
 * `before` as what stood there before.  One that is none of value[n] is a
 * mistake; of those from before, which may be of another setup, it is left out.
 *
 * Returned:  notes   with places but without files (jaw_notes_locate)
 * Status:    JAW_OK, JAW_ESYNTAX, JAW_ENOMEM */
jaw_status jaw_shown_put(const jaw_shown_list *list, bool before,
                         jaw_readback_value value[], size_t n,
                         jaw_notes *notes);

#ifdef __cplusplus
}
#endif
#endif
