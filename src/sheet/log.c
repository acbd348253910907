/* SPDX-License-Identifier: GPL-3.0-or-later */
/* log.c: mistakes, collected while reading and told in the order of lines.
 * Some are only seen at the end of an entry or of the text, so they are
 * ordered before they are handed over; there are a hundred at most. */
#include "log.h"

#include <stdio.h>
#include <string.h>

static const struct {
    const char *what, *cure;
} messages[JAW__MESSAGES] = {
#define AS_ROW(id, what, cure) {what, cure},
    JAW_SHEET_MESSAGES(AS_ROW)
#undef AS_ROW
};

bool jaw__log_start(jaw__log *log)
{
    *log = (jaw__log){.notes = jaw_notes_alloc()};
    log->no_memory = log->notes == NULL;
    return !log->no_memory;
}

void jaw__log_drop(jaw__log *log)
{
    jaw_notes_free(log->notes);
    log->notes = NULL;
}

bool jaw__log_stopped(const jaw__log *log)
{
    return log->full || log->no_memory;
}

/* ------------------------------------------------------------------- words */

/* Copies s[len] to out[size], at most `most` characters: what is no UTF-8 or
 * would move a terminal becomes `?`, so that columns stay what they are.
 * Returns false when something was cut off. */
static bool copy_clean(const char *s, size_t len, int most, char *out,
                       size_t size)
{
    size_t n = 0, i = 0;

    for (int count = 0; i < len && count < most; count++) {
        bool valid;
        size_t bytes = jaw__char_bytes(s + i, len - i, &valid);
        unsigned char c = (unsigned char)s[i];
        bool control = (c < 0x20 && c != '\t') || c == 0x7F ||
                       (c == 0xC2 && bytes == 2 &&
                        (unsigned char)s[i + 1] < 0xA0);
        if (n + bytes + 1 > size)
            break;
        if (!valid || control)
            out[n++] = '?';
        else
            for (size_t k = 0; k < bytes; k++)
                out[n++] = s[i + k];
        i += bytes;
    }
    out[n] = '\0';
    return i == len;
}

jaw__shown jaw__show(const char *s, size_t len)
{
    enum { MOST = 40, DOTS = 4 };
    jaw__shown shown;

    if (!copy_clean(s, len, MOST, shown.text, sizeof shown.text - DOTS))
        strcat(shown.text, "...");
    return shown;
}

jaw__shown jaw__show_int(long value)
{
    jaw__shown shown;
    snprintf(shown.text, sizeof shown.text, "%ld", value);
    return shown;
}

/* ---------------------------------------------------------------- messages */

enum { FILLED_SIZE = 1200 };

/* text with %1 to %4 filled in.  The arguments are short (jaw__show), or of
 * the grammar. */
static void fill(char out[FILLED_SIZE], const char *text,
                 const char *const arg[4])
{
    size_t n = 0;

    for (; *text; text++) {
        const char *put = NULL;
        if (text[0] == '%' && text[1] >= '1' && text[1] <= '4')
            put = arg[*++text - '1'];
        size_t len = put ? strlen(put) : 1;
        if (n + len >= FILLED_SIZE)
            break;
        memcpy(out + n, put ? put : text, len);
        n += len;
    }
    out[n] = '\0';
}

static void add(jaw__log *log, jaw_severity severity, jaw_place place,
                jaw__message id, const char *const arg[4])
{
    char what[FILLED_SIZE], cure[FILLED_SIZE];
    jaw_status status = severity == JAW_ERROR ? JAW_ESYNTAX : JAW_OK;

    fill(what, messages[id].what, arg);
    fill(cure, messages[id].cure, arg);
    if (jaw_notes_add(log->notes, severity, status, NULL, place, NULL, cure,
                      "%s", what) != JAW_OK)
        log->no_memory = true;
}

void jaw__mistake(jaw__log *log, jaw_place place, jaw__message id,
                  const char *a, const char *b, const char *c, const char *d)
{
    const char *arg[4] = {a ? a : "", b ? b : "", c ? c : "", d ? d : ""};

    if (jaw__log_stopped(log))
        return;
    log->full = log->mistakes == JAW__MISTAKES_MAX;
    log->mistakes++;
    add(log, JAW_ERROR, place, log->full ? JAW__SAY_MORE : id, arg);
}

void jaw__assumed(jaw__log *log, jaw_place place, jaw__message id,
                  const char *a)
{
    const char *arg[4] = {a ? a : "", "", "", ""};

    if (!jaw__log_stopped(log))
        add(log, JAW_ASSUMPTION, place, id, arg);
}

void jaw__log_bad_char(jaw__log *log, jaw_place place, jaw__bad_char bad)
{
    static const jaw__message say[] = {
        [JAW__CHAR_NUL] = JAW__SAY_NUL_BYTE,
        [JAW__CHAR_CONTROL] = JAW__SAY_CONTROL_BYTE,
        [JAW__CHAR_NOT_UTF8] = JAW__SAY_NOT_UTF8,
        [JAW__CHAR_BLANK] = JAW__SAY_ODD_BLANK,
    };
    jaw__mistake(log, place, say[bad], NULL, NULL, NULL, NULL);
}

void jaw__log_trouble(jaw__log *log, const jaw__token *t,
                      const jaw__quantity *q, const char *wanted,
                      const char *example)
{
    static const jaw__message say[] = {
        [JAW__NOT_A_NUMBER] = JAW__SAY_VALUE_WRONG,
        [JAW__NOT_FINITE] = JAW__SAY_NOT_FINITE,
        [JAW__TOO_LARGE] = JAW__SAY_TOO_LARGE,
        [JAW__DECIMAL_COMMA] = JAW__SAY_DECIMAL_COMMA,
        [JAW__LOOSE_COMMA] = JAW__SAY_LOOSE_COMMA,
        [JAW__SEMICOLON] = JAW__SAY_SEMICOLON,
        [JAW__TYPED_MINUS] = JAW__SAY_TYPED_MINUS,
        [JAW__DEGREE_SIGN] = JAW__SAY_DEGREE_SIGN,
        [JAW__INCH_MARK] = JAW__SAY_INCH_MARK,
        [JAW__FRACTION] = JAW__SAY_FRACTION,
        [JAW__TWO_NUMBERS] = JAW__SAY_TWO_NUMBERS,
        [JAW__NO_DIGITS] = JAW__SAY_NO_DIGITS,
        [JAW__ODD_UNIT] = JAW__SAY_ODD_UNIT,
    };
    jaw__shown word = jaw__show(t->s, t->len);
    jaw__message id = say[q->trouble];
    const char *cured = q->cured;

    if (id == JAW__SAY_ODD_UNIT && cured[0])
        id = JAW__SAY_ODD_UNIT_NEAR;
    else if (id == JAW__SAY_TWO_NUMBERS && !cured[0])
        id = JAW__SAY_TWO_POINTS;
    else if (id == JAW__SAY_VALUE_WRONG)
        cured = wanted;
    jaw__mistake(log, t->place, id, word.text, cured, example, NULL);
}

/* ------------------------------------------------------------ handing over */

/* A line is kept for the caret up to some way behind the place; a place
 * farther right than anybody can count is told without the line.  So no text,
 * however long its lines, is copied a hundred times. */
enum { BEHIND = 160, COLUMN_MAX = 1000,
       SOURCE_SIZE = 4 * (COLUMN_MAX + BEHIND) + 1 };

static void source_of(const jaw__line *line, int column, char *out)
{
    out[0] = '\0';
    if (line && column <= COLUMN_MAX)
        copy_clean(line->text, line->len, column + BEHIND, out, SOURCE_SIZE);
}

/* Places in order, and those without a line at the end; the note that more
 * mistakes follow stays the last. */
static bool comes_before(const jaw_note *a, const jaw_note *b)
{
    if (a->place.line != b->place.line)
        return b->place.line == 0 ||
               (a->place.line != 0 && a->place.line < b->place.line);
    return a->place.column < b->place.column;
}

/* Insertion keeps equal places in the order in which they came. */
static size_t order(const jaw__log *log, int source, bool last,
                    const jaw_note *note[JAW__NOTES_MAX])
{
    size_t all = jaw_notes_count(log->notes), n = 0;
    size_t movable = log->full ? all - 1 : all;

    for (size_t i = 0; i < movable; i++) {
        const jaw_note *one = jaw_notes_get(log->notes, i);
        if (one->place.source == source)
            note[n++] = one;
    }
    for (size_t i = 1; i < n; i++) {
        const jaw_note *one = note[i];
        size_t k = i;
        for (; k > 0 && comes_before(one, note[k - 1]); k--)
            note[k] = note[k - 1];
        note[k] = one;
    }
    if (log->full && last)
        note[n++] = jaw_notes_get(log->notes, all - 1);
    return n;
}

/* On to the line of that number; NULL when it is behind or there is none.  A
 * line is looked for forward only, and the last note starts again. */
static const jaw__line *go_to(jaw__lines *lines, jaw__line *line, int number)
{
    while (line->number < number)
        if (!jaw__lines_next(lines, line))
            return NULL;
    return line->number == number && number > 0 ? line : NULL;
}

jaw_status jaw__log_pour(const jaw__log *log, int source, bool last,
                         const char *text, size_t len, const char *file,
                         jaw_notes *notes)
{
    const jaw_note *note[JAW__NOTES_MAX];
    char shown[SOURCE_SIZE];
    jaw__lines lines = jaw__lines_start(text, len);
    jaw__line line = {0};
    size_t n = order(log, source, last, note);

    for (size_t i = 0; i < n; i++) {
        if (note[i]->place.line < line.number) {
            lines = jaw__lines_start(text, len);
            line = (jaw__line){0};
        }
        source_of(go_to(&lines, &line, note[i]->place.source == source
                                          ? note[i]->place.line
                                          : 0),
                  note[i]->place.column, shown);
        jaw_status status = jaw_notes_add(
            notes, note[i]->severity, note[i]->status, file, note[i]->place,
            shown, note[i]->cure, "%s", note[i]->what);
        if (status != JAW_OK)
            return status;
    }
    return JAW_OK;
}

jaw_status jaw__log_end(jaw__log *log, const char *text, size_t len,
                        const char *file, jaw_notes *notes)
{
    if (log->notes == NULL ||
        jaw__log_pour(log, 0, true, text, len, file, notes) != JAW_OK)
        log->no_memory = true;
    jaw__log_drop(log);
    if (log->no_memory)
        return JAW_ENOMEM;
    return log->mistakes > 0 ? JAW_ESYNTAX : JAW_OK;
}
