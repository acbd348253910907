/* SPDX-License-Identifier: GPL-3.0-or-later */
/* parts.h: what text and JSON reports share. */
#ifndef JAW__REPORT_PARTS_H
#define JAW__REPORT_PARTS_H

#include "buffer.h"

#include <jansson.h>
#include <jawline/report.h>

/* How lengths are shown: values with the decimals of the smallest entry,
 * figures that judge them with one more. */
typedef struct jaw__scale {
    jaw_unit unit;
    int decimals;
} jaw__scale;

jaw__scale jaw__scale_of(const jaw_control *control);

enum { JAW__ANGLE_DECIMALS = 4 }; /* of a degree; 0.3 um over 150 mm */

/* jaw__put_length: a value; jaw__put_fine: a figure that judges it. */
void jaw__put_length(jaw__buffer *b, jaw__scale scale, double mm, int width);
void jaw__put_fine(jaw__buffer *b, jaw__scale scale, double mm, int width);
void jaw__put_angle(jaw__buffer *b, double rad, int width); /* degrees */

/* jaw__put_register: begins a line.  Returns what a long name, such as
 * G54.1P123, takes from the room of the value. */
int jaw__put_register(jaw__buffer *b, const char *name, const char *word);

/* jaw__put_first: `look at this first: ` */
void jaw__put_first(jaw__buffer *b, bool colour);

/* jaw__put_cautions: a paragraph each. */
void jaw__put_cautions(jaw__buffer *b);

/* jaw__put_flags: a line for each flag that is a doubt, or that is none;
 * JAW_NO_CHECK is said beside the figures that it concerns and not here. */
void jaw__put_flags(jaw__buffer *b, unsigned flags, bool doubts, bool colour);

/* jaw__row_word: what one row of such a feature is: touch, place or reading. */
const char *jaw__row_word(jaw_feature_kind kind);

/* jaw__found_no_check: the residuals are no evidence. */
bool jaw__found_no_check(const jaw_found *found);

/* ------------------------------------------------------------------- JSON */

json_t *jaw__json_real(double value);       /* null for NaN */
json_t *jaw__json_length(double mm, jaw_unit unit);
json_t *jaw__json_degrees(double rad);
json_t *jaw__json_text(const char *text);   /* NULL gives null */
json_t *jaw__json_flags(unsigned flags);    /* their words */
json_t *jaw__json_point(jaw_vec2 p, jaw_unit unit);
json_t *jaw__json_direction(jaw_vec2 unit_vector);

/* jaw__json_put, jaw__json_push: value into an object, an array; a value or a
 * place that is NULL (out of memory) sets *failed. */
void jaw__json_put(json_t *object, const char *key, json_t *value,
                   bool *failed);
void jaw__json_push(json_t *array, json_t *value, bool *failed);

/* jaw__json_found: what was found and how good it is, without kind, unit and
 * flags. */
void jaw__json_found(json_t *object, const jaw_found *found, jaw_unit unit,
                     bool *failed);

/* jaw__json_take: one line of text; the object is given back. */
char *jaw__json_take(json_t *object, bool failed);

#endif
