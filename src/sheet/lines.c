/* SPDX-License-Identifier: GPL-3.0-or-later */
/* lines.c: text to lines, and a line to tokens with their places.  A column
 * counts characters as a person does, so that a caret stands where it should
 * under a line with letters beyond ASCII. */
#include "lines.h"

#include <limits.h>
#include <string.h>

/* ------------------------------------------------------------------- lines */

jaw__lines jaw__lines_start(const char *text, size_t len)
{
    size_t mark = len >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
    return (jaw__lines){.text = text, .len = len, .at = mark};
}

bool jaw__lines_next(jaw__lines *lines, jaw__line *line)
{
    if (lines->at >= lines->len || lines->number == INT_MAX)
        return false;
    const char *s = lines->text;
    size_t end = lines->at;

    while (end < lines->len && s[end] != '\n' && s[end] != '\r')
        end++;
    line->text = s + lines->at;
    line->len = end - lines->at;
    line->number = ++lines->number;
    line->source = lines->source;
    if (end + 1 < lines->len && s[end] == '\r' && s[end + 1] == '\n')
        end++;
    lines->at = end + 1;
    return true;
}

bool jaw__looks_utf16(const char *text, size_t len)
{
    if (len >= 2 && (memcmp(text, "\xFF\xFE", 2) == 0 ||
                     memcmp(text, "\xFE\xFF", 2) == 0))
        return true;
    /* Without a mark: plain letters with every other byte zero. */
    if (len < 4)
        return false;
    bool little = text[0] && !text[1] && text[2] && !text[3];
    bool big = !text[0] && text[1] && !text[2] && text[3];
    return little || big;
}

/* -------------------------------------------------------------- characters */

/* Unicode 15, table 3-7: well-formed byte sequences. */
size_t jaw__char_bytes(const char *s, size_t len, bool *valid)
{
    const unsigned char *u = (const unsigned char *)s;
    unsigned char low = 0x80, high = 0xBF;
    *valid = true;
    if (u[0] < 0x80)
        return 1;
    size_t want = u[0] < 0xC2   ? 0
                  : u[0] < 0xE0 ? 2
                  : u[0] < 0xF0 ? 3
                  : u[0] < 0xF5 ? 4
                                : 0;
    if (u[0] == 0xE0)
        low = 0xA0;
    if (u[0] == 0xED)
        high = 0x9F;
    if (u[0] == 0xF0)
        low = 0x90;
    if (u[0] == 0xF4)
        high = 0x8F;
    *valid = want > 0 && want <= len;
    for (size_t i = 1; *valid && i < want; i++) {
        *valid = u[i] >= low && u[i] <= high;
        low = 0x80;
        high = 0xBF;
    }
    return *valid ? want : 1;
}

static bool is_blank(char c)
{
    return c == ' ' || c == '\t';
}

/* The blanks that word processors put in: no-break space, the spaces of
 * U+2000 to U+200B, narrow no-break space, ideographic space, and the
 * byte-order mark where it is none. */
static bool is_odd_blank(const char *s, size_t bytes)
{
    if (bytes == 2)
        return memcmp(s, "\xC2\xA0", 2) == 0;
    if (bytes != 3)
        return false;
    if (memcmp(s, "\xE2\x80", 2) == 0)
        return (unsigned char)s[2] <= 0x8B || s[2] == '\xAF';
    return memcmp(s, "\xE3\x80\x80", 3) == 0 ||
           memcmp(s, "\xEF\xBB\xBF", 3) == 0;
}

static jaw__bad_char judge(const char *s, size_t bytes, bool valid)
{
    unsigned char c = (unsigned char)s[0];

    if (!valid)
        return JAW__CHAR_NOT_UTF8;
    if (c == 0)
        return JAW__CHAR_NUL;
    if ((c < 0x20 && c != '\t') || c == 0x7F ||
        (bytes == 2 && c == 0xC2 && (unsigned char)s[1] < 0xA0))
        return JAW__CHAR_CONTROL;
    return is_odd_blank(s, bytes) ? JAW__CHAR_BLANK : JAW__CHAR_GOOD;
}

jaw__bad_char jaw__line_check(const jaw__line *line, int *column)
{
    bool quoted = false, starts = true;

    *column = 1;
    for (size_t i = 0; i < line->len; ++*column) {
        const char *s = line->text + i;
        if (!quoted && *s == '#')
            break;
        bool valid;
        size_t bytes = jaw__char_bytes(s, line->len - i, &valid);
        jaw__bad_char bad = judge(s, bytes, valid);
        if (bad != JAW__CHAR_GOOD)
            return bad;
        if (*s == '"' && (quoted || starts))
            quoted = !quoted;
        starts = !quoted && is_blank(*s);
        i += bytes;
    }
    return JAW__CHAR_GOOD;
}

/* ------------------------------------------------------------------ tokens */

jaw__cursor jaw__cursor_start(const jaw__line *line)
{
    return (jaw__cursor){.line = line, .at = 0, .column = 1};
}

static void step(jaw__cursor *c)
{
    bool valid;
    c->at += jaw__char_bytes(c->line->text + c->at, c->line->len - c->at,
                             &valid);
    c->column++;
}

static bool more(const jaw__cursor *c)
{
    return c->at < c->line->len;
}

static char here(const jaw__cursor *c)
{
    return c->line->text[c->at];
}

static jaw__token start_token(jaw__cursor *c, jaw__token_kind kind)
{
    return (jaw__token){.kind = kind,
                        .s = c->line->text + c->at,
                        .place = {c->line->number, c->column,
                                  c->line->source}};
}

static jaw__token quoted(jaw__cursor *c)
{
    jaw__token t = start_token(c, JAW__OPEN_TEXT);

    step(c);
    t.s = c->line->text + c->at;
    while (more(c) && here(c) != '"')
        step(c);
    t.len = (size_t)(c->line->text + c->at - t.s);
    if (more(c)) {
        t.kind = JAW__TEXT_TOKEN;
        step(c);
    }
    return t;
}

static void skip_blanks(jaw__cursor *c)
{
    while (more(c) && is_blank(here(c)))
        step(c);
}

jaw__token jaw__token_next(jaw__cursor *c)
{
    skip_blanks(c);
    if (!more(c) || here(c) == '#')
        return start_token(c, JAW__END);
    if (here(c) == '"')
        return quoted(c);
    jaw__token t = start_token(c, JAW__WORD);
    while (more(c) && !is_blank(here(c)) && here(c) != '#')
        step(c);
    t.len = (size_t)(c->line->text + c->at - t.s);
    return t;
}

jaw__token jaw__token_rest(jaw__cursor *c)
{
    skip_blanks(c);
    if (!more(c) || here(c) == '#')
        return start_token(c, JAW__END);
    if (here(c) == '"')
        return quoted(c);
    jaw__token t = start_token(c, JAW__WORD);
    size_t end = 0;
    while (more(c) && here(c) != '#') {
        bool blank = is_blank(here(c));
        step(c);
        if (!blank)
            end = c->at;
    }
    t.len = (size_t)(c->line->text + end - t.s);
    return t;
}

bool jaw__token_is(const jaw__token *t, const char *word)
{
    return t->kind == JAW__WORD && strlen(word) == t->len &&
           memcmp(t->s, word, t->len) == 0;
}

bool jaw__token_odd_quote(const jaw__token *t)
{
    return t->kind == JAW__WORD && t->len >= 3 &&
           memcmp(t->s, "\xE2\x80", 2) == 0 &&
           (unsigned char)t->s[2] >= 0x9C && (unsigned char)t->s[2] <= 0x9F;
}
