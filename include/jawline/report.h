/* SPDX-License-Identifier: GPL-3.0-or-later */
/* report.h: results out, as text and as JSON.  It sees results and computes
 * none beyond the change of unit.  Every function returns a NUL-terminated
 * string that the caller frees with free(), or NULL when out of memory. */
#ifndef JAWLINE_REPORT_H
#define JAWLINE_REPORT_H

#include <jawline/book.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef struct jaw_report_style {
    bool explain; /* every step of every value */
    bool colour;  /* terminal escapes */
} jaw_report_style;

/* jaw_report_text: values to enter first, then how good each is. Doubts among
 * the notes are said before anything else; notes may be NULL. */
char *jaw_report_text(const jaw_setup *setup, const jaw_solution *solution,
                      const jaw_notes *notes, jaw_report_style style);

/* jaw_report_json: the same as one JSON object: keys in plain words, lengths
 * in the control's unit, angles in degrees, null for what is not known. */
char *jaw_report_json(const jaw_setup *setup, const jaw_solution *solution,
                      const jaw_notes *notes, jaw_report_style style);

/* jaw_report_feature_text, jaw_report_feature_json: one feature without a
 * setup; lengths in `unit`. */
char *jaw_report_feature_text(const jaw_found *found, jaw_unit unit,
                              jaw_report_style style);
char *jaw_report_feature_json(const jaw_found *found, jaw_unit unit,
                              jaw_report_style style);

/* What the control shows, compared (readback.h). */
typedef struct jaw_readback {
    const char *title;        /* "" when there is none */
    jaw_unit unit;            /* of lengths on the control */
    const jaw_readback_value *value;
    const jaw_readback_found *found;
    size_t n;
    const char *before;       /* where what they held before is from; NULL: not
                                 to be said */
} jaw_readback;

/* jaw_report_readback_text: what differs first, then what was not shown, then
 * what is as it should be.  jaw_report_readback_json: the same as one JSON
 * object. */
char *jaw_report_readback_text(const jaw_readback *r, jaw_report_style style);
char *jaw_report_readback_json(const jaw_readback *r);

/* jaw_report_readback_reason: why value i is off, in one line without an end:
 * all reasons that fit equally, or by how much; "" when it is not off. */
char *jaw_report_readback_reason(const jaw_readback *r, size_t i);

/* jaw_report_moved_text: what moved since a setup was kept, a line a value, in
 * the unit and by the steps of `setup`; what moved alike in one paragraph behind
 * them.  jaw_report_moved_json: the same as one JSON object. */
char *jaw_report_moved_text(const jaw_book_moved *moved,
                            const jaw_book_setup *setup,
                            jaw_report_style style);
char *jaw_report_moved_json(const jaw_book_moved *moved,
                            const jaw_book_setup *setup);

/* jaw_report_note: one note as `file:line:column: what; cure`, and under it
 * the line and a caret when they are known.  Ends in a newline. */
char *jaw_report_note(const jaw_note *note, jaw_report_style style);

#ifdef __cplusplus
}
#endif
#endif
