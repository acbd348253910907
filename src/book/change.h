/* SPDX-License-Identifier: GPL-3.0-or-later */
/* change.h: readings and what became of what they measure: how well one comes
 * back, what two do not share, whether there is a change, what is odd; and
 * lengths as text. */
#ifndef JAW__BOOK_CHANGE_H
#define JAW__BOOK_CHANGE_H

#include "book.h"

/* ------------------------------------------------------------------- spread */

/* Sum of squares about the means, and degrees of freedom. */
typedef struct jaw__pool {
    double ss, dof;
} jaw__pool;

jaw__pool jaw__pool_of(const double reading[], size_t n);
/* Of the newest entries of a machine: lengths touched on a surface, with
 * something in between or nothing; diameters. */
jaw_status jaw__pool_lengths(jaw_book *book, const char *machine,
                             const char *on, bool between, jaw__pool *p);
jaw_status jaw__pool_diameters(jaw_book *book, const char *machine,
                               jaw__pool *p);

/* jaw__pool_repeat: of one reading: what was stated, or else what was seen; NaN
 * when it is neither. */
void jaw__pool_repeat(double stated, jaw__pool own, jaw__pool earlier,
                      double step, double *repeat, double *repeat_dof);
bool jaw__pool_scatters(jaw__pool own, jaw__pool earlier, double step);

/* jaw__length_u: one standard deviation of a length; where it is not known, that
 * of its readings as nobody stated it (JAW_BOOK_REPEAT), and what is known. */
double jaw__length_u(const jaw_book_record *r);

/* jaw__rounding_u: what rounding to a step leaves in the mean of n readings
 * beside a spread that was seen or stated. */
double jaw__rounding_u(double step, double repeat, double repeat_dof, size_t n);

/* -------------------------------------------------------------------- parts */

/* The independent parts of an error: those seen with few degrees of freedom,
 * and all that is known. */
enum { JAW__PARTS_MAX = 6 };
typedef struct jaw__parts {
    double u[JAW__PARTS_MAX], dof[JAW__PARTS_MAX];
    size_t n;
    double known;
} jaw__parts;

/* jaw__parts_add: one more, known where dof is INFINITY or NaN; u NaN is not
 * counted. */
void jaw__parts_add(jaw__parts *p, double u, double dof);
/* jaw__parts_tops: two heights of one thing that are compared. */
typedef struct jaw__top {
    jaw_book_height h;
    size_t n;          /* readings */
    long long part_of; /* 0: it was not carried by marks */
} jaw__top;
jaw__top jaw__top_of(const jaw_book_record *height);
void jaw__parts_tops(jaw__parts *p, const jaw__top *a, const jaw__top *b);
/* jaw__parts_u: all together, and its degrees of freedom (NaN where u is 0). */
double jaw__parts_u(const jaw__parts *p, double *dof);

/* ------------------------------------------------------------------ compare */

/* A value with what a comparison asks of its readings. */
typedef struct jaw__read {
    double repeat, repeat_dof; /* of one; NaN: not known */
    size_t n;
} jaw__read;

/* jaw__compare_begin: v for nothing to compare with.
 * jaw__compare_limit: u, dof, limit, noticed; `p` holds what is not of the
 * readings.  `alike`: they were taken in the same way, and have one spread, of
 * which the newer one is the better one. */
void jaw__compare_begin(jaw_book_verdict *v);
void jaw__compare_limit(jaw_book_verdict *v, jaw__read now, jaw__read then,
                        bool alike, jaw__parts p);

/* jaw__book_sound: the newest entry of a subject that holds and shows no slip;
 * as jaw_book_find. */
jaw_status jaw__book_sound(jaw_book *book, jaw_book_kind kind,
                           const char *machine, const char *subject,
                           jaw_book_record *record);

/* jaw__book_stands: the entry of a subject to go by: the sound one, or where
 * each shows a slip the newest; as jaw_book_find.  `newest`: what holds
 * besides, with all its doubts but that of the clock. */
typedef struct jaw__newest {
    long long id;
    unsigned doubts;
} jaw__newest;

jaw_status jaw__book_stands(jaw_book *book, jaw_book_kind kind,
                            const char *machine, const char *subject,
                            jaw_book_record *record, jaw__newest *newest);
/* jaw__book_first_doubt: of several, as text. */
const char *jaw__book_first_doubt(unsigned doubts);

/* jaw__compare_settle: from the difference and its limit: what became of the
 * tool, in the verdict and in the record, with the doubt.  `reach` is the most
 * that a real change can be. */
jaw_status jaw__compare_settle(jaw_book *book, double reach,
                               jaw_book_measured *out);

/* jaw__book_compare: a measured length with the current one of its subject;
 * fills in out->verdict. */
jaw_status jaw__book_compare(jaw_book *book, const jaw_book_machine *machine,
                             jaw_book_measured *out);

/* jaw__book_tell_change: what it found, as notes. */
void jaw__book_tell_change(jaw_book *book, const jaw_book_machine *machine,
                           const jaw_book_measured *out);

typedef struct jaw__other_tool {
    int number;
    char holder[JAW_BOOK_NAME_SIZE];
    double value, u; /* mm */
} jaw__other_tool;

/* jaw__book_judge: what a real change of a length or a diameter probably is;
 * shares and change. */
void jaw__book_judge(jaw_book_verdict *v, jaw_book_kind kind, double reach,
                     const jaw__other_tool other[], size_t n);

/* ------------------------------------------------------------------ strange */

/* What is odd about readings, whatever was measured; each a doubt in the record
 * and a note. */
void jaw__doubt_scatter(jaw_book *book, const jaw_book_machine *m,
                        jaw__pool own, jaw__pool earlier,
                        jaw_book_measured *out, int number, double step);
void jaw__doubt_unit(jaw_book *book, int number, double mean,
                     jaw_book_measured *out);
/* jaw__slip_of: what explains a number that jumped by more than u leaves to
 * chance: the other unit, or a lost sign.  jaw__times_of: how many times as
 * large the other unit made it. */
jaw_book_slip jaw__slip_of(double before, double now, double u);
const char *jaw__times_of(double before, double now);
/* jaw__doubt_between: a length that another block in between explains. */
jaw_status jaw__doubt_between(jaw_book *book, const jaw_book_touch *t,
                              const jaw_book_machine *m,
                              jaw_book_measured *out);
/* jaw__doubt_digits: the first reading is that of last time, mistyped. */
void jaw__doubt_digits(jaw_book *book, const jaw_book_touch *t,
                       const jaw_book_machine *m, jaw_book_measured *out);
/* jaw__typed_slip: whether a number that jumped by more than noise, all mm, is
 * that of then, mistyped: what was done to it, as `jawline entered' names it.
 * Of real jumps one in fifty looks like it where it is a lone reading, fewer
 * where it is not. */
typedef struct jaw__typing {
    double then, now, noise, step;
    jaw_unit unit;
    bool lone;
} jaw__typing;
bool jaw__typed_slip(const jaw__typing *typing, char text[60]);
/* jaw__doubt_holder: a holder that is new to the book, and named nearly as one
 * that is not. */
jaw_status jaw__doubt_holder(jaw_book *book, const char *holder, bool fresh,
                             jaw_book_measured *out);
/* jaw__doubt_change: a slip of the pen is likelier than anything that befell
 * the tool. */
void jaw__doubt_change(jaw_book_measured *out);

/* jaw__check_readings: there are some, finite; repeat is stated as more than 0
 * or not at all. */
jaw_status jaw__check_readings(jaw_book *book, int number,
                               const double reading[], size_t n,
                               double repeat);
double jaw__mean(const double reading[], size_t n);

#define JAW__TOOL_CURE                                                         \
    "a tool's number is 1 to 9999, and a holder's name letters, digits, - _ "  \
    "and ."

/* --------------------------------------------------------------------- text */

/* A length as text in the unit as typed, with the decimals of the step;
 * jaw__book_fine: with one more. */
typedef struct jaw__book_text {
    char s[48];
} jaw__book_text;
jaw__book_text jaw__book_mm(double mm, jaw_unit unit,
                            const jaw_book_machine *machine);
jaw__book_text jaw__book_fine(double mm, jaw_unit unit,
                              const jaw_book_machine *machine);

/* jaw__top_fits: some tool can touch a top at that Z. */
bool jaw__top_fits(const jaw_book_machine *m, double top);

#endif
