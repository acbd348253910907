/* SPDX-License-Identifier: GPL-3.0-or-later */
/* lines.h: text to lines, and a line to tokens with their places. */
#ifndef JAW__LINES_H
#define JAW__LINES_H

#include <jawline/base.h>

typedef struct jaw__line {
    const char *text;
    size_t len; /* without the line's end */
    int number; /* from 1 */
    int source; /* of which text, as in jaw_place */
} jaw__line;

typedef struct jaw__lines {
    const char *text;
    size_t len, at;
    int number, source;
} jaw__lines;

/* jaw__lines_start: at the first line, a byte-order mark left out; of source
 * 0 unless the caller says otherwise. */
jaw__lines jaw__lines_start(const char *text, size_t len);
/* jaw__lines_next: the next line, ended by LF, CR LF, CR or the end of the
 * text; false when there is none. */
bool jaw__lines_next(jaw__lines *lines, jaw__line *line);

/* jaw__looks_utf16: two bytes a character, with or without a mark. */
bool jaw__looks_utf16(const char *text, size_t len);

/* jaw__char_bytes: bytes of the character at s[len], len > 0.  A byte that is
 * no UTF-8 counts as one character, and *valid is false. */
size_t jaw__char_bytes(const char *s, size_t len, bool *valid);

/* What can not stand in a line, outside of a comment. */
typedef enum jaw__bad_char {
    JAW__CHAR_GOOD,
    JAW__CHAR_NUL,
    JAW__CHAR_CONTROL,
    JAW__CHAR_NOT_UTF8,
    JAW__CHAR_BLANK /* a no-break or other blank that is not the plain one */
} jaw__bad_char;

/* jaw__line_check: the first character that can not stand here, its column. */
jaw__bad_char jaw__line_check(const jaw__line *line, int *column);

typedef enum jaw__token_kind {
    JAW__END,  /* the line's end or a comment; len 0 */
    JAW__WORD, /* up to a blank, `#` or the end */
    JAW__TEXT_TOKEN, /* in quotes; s and len without them */
    JAW__OPEN_TEXT   /* the same without its closing quote */
} jaw__token_kind;

typedef struct jaw__token {
    jaw__token_kind kind;
    const char *s;
    size_t len;
    jaw_place place;
} jaw__token;

typedef struct jaw__cursor {
    const jaw__line *line;
    size_t at;
    int column; /* of line->text[at] */
} jaw__cursor;

jaw__cursor jaw__cursor_start(const jaw__line *line);
/* jaw__token_next: the next token.  jaw__token_rest: all that is left of the
 * line up to a comment, as one WORD, or a text in quotes; END when nothing. */
jaw__token jaw__token_next(jaw__cursor *cursor);
jaw__token jaw__token_rest(jaw__cursor *cursor);

bool jaw__token_is(const jaw__token *token, const char *word);
/* jaw__token_odd_quote: it begins with a typographic quote, U+201C to U+201F,
 * where an ordinary one was meant. */
bool jaw__token_odd_quote(const jaw__token *token);

#endif
