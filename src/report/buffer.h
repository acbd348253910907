/* SPDX-License-Identifier: GPL-3.0-or-later */
/* buffer.h: a text that grows.  Running out of memory is kept in it, so that a
 * report is written straight through and asked once, at its end. */
#ifndef JAW__BUFFER_H
#define JAW__BUFFER_H

#include <jawline/base.h>

typedef struct jaw__buffer {
    char *text;
    size_t len, room;
    bool failed;
} jaw__buffer;

void jaw__buffer_add(jaw__buffer *b, const char *text, size_t len);
void jaw__buffer_text(jaw__buffer *b, const char *text);
void jaw__buffer_pad(jaw__buffer *b, size_t n); /* n blanks */

/* jaw__buffer_printf: for everything but doubles, which would follow the
 * locale. */
void jaw__buffer_printf(jaw__buffer *b, const char *format, ...)
    JAW_PRINTF(2, 3);

/* jaw__buffer_number: with that many decimals, set flush right in `width`. */
void jaw__buffer_number(jaw__buffer *b, double value, int decimals, int width);

/* jaw__buffer_clean: text that a person wrote; what a terminal would obey is
 * shown as `?`.  Tabs stay. */
void jaw__buffer_clean(jaw__buffer *b, const char *text, size_t len);

/* jaw__buffer_words: the same, its words up to the page's width; further lines
 * begin with `indent` blanks.  *column is where the line stands.
 * jaw__buffer_paragraph: a whole one, with the blanks of its first line and its
 * end. */
enum { JAW__PAGE_WIDTH = 78 };
void jaw__buffer_words(jaw__buffer *b, const char *text, size_t *column,
                       size_t indent);
void jaw__buffer_paragraph(jaw__buffer *b, const char *text, size_t indent);

/* jaw__buffer_cut: takes back what came after the first len bytes. */
void jaw__buffer_cut(jaw__buffer *b, size_t len);

/* jaw__buffer_colour: an escape such as "1;31" when `on`; NULL ends it. */
void jaw__buffer_colour(jaw__buffer *b, bool on, const char *code);

/* jaw__buffer_take: the text, to be freed by the caller; NULL when out of
 * memory. */
char *jaw__buffer_take(jaw__buffer *b);

#endif
