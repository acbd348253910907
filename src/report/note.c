/* SPDX-License-Identifier: GPL-3.0-or-later */
/* note.c: one message to a person, with the line it speaks of. */
#include "buffer.h"

#include <jawline/report.h>

#include <string.h>

/* A line is shown up to here, so that a file without line ends does not fill
 * the screen. */
enum { SHOWN = 160, BEFORE = 60 };

static void put_place(jaw__buffer *b, const jaw_note *note)
{
    if (*note->file) {
        jaw__buffer_clean(b, note->file, strlen(note->file));
        jaw__buffer_text(b, ":");
    } else if (note->place.line > 0) {
        jaw__buffer_text(b, "line ");
    }
    if (note->place.line > 0) {
        jaw__buffer_printf(b, "%d:", note->place.line);
        if (note->place.column > 0)
            jaw__buffer_printf(b, "%d:", note->place.column);
    }
    if (b->len > 0)
        jaw__buffer_text(b, " ");
}

static void put_severity(jaw__buffer *b, jaw_severity severity, bool colour)
{
    static const char *const word[] = {"assumption", "doubt", "error"};
    static const char *const code[] = {"1", "1;33", "1;31"};
    jaw__buffer_colour(b, colour, code[severity]);
    jaw__buffer_printf(b, "%s:", word[severity]);
    jaw__buffer_colour(b, colour, NULL);
}

/* The start of the n-th character from s on, n from 0; UTF-8 continuation
 * bytes do not count. */
static const char *skip_characters(const char *s, int n)
{
    while (*s && n > 0) {
        s++;
        while (((unsigned char)*s & 0xc0) == 0x80)
            s++;
        n--;
    }
    return s;
}

static void put_caret(jaw__buffer *b, const char *from, const char *to)
{
    for (const char *s = from; s < to; s = skip_characters(s, 1))
        jaw__buffer_text(b, *s == '\t' ? "\t" : " ");
    jaw__buffer_text(b, "^\n");
}

static void put_source(jaw__buffer *b, const jaw_note *note)
{
    int column = note->place.column;
    if (!*note->source)
        return;
    int skip = column > SHOWN ? column - 1 - BEFORE : 0;
    const char *from = skip_characters(note->source, skip);
    const char *to = skip_characters(from, SHOWN);
    jaw__buffer_text(b, skip ? " ... " : "  ");
    jaw__buffer_clean(b, from, (size_t)(to - from));
    jaw__buffer_text(b, *to ? " ...\n" : "\n");
    if (column < 1)
        return;
    jaw__buffer_text(b, skip ? "     " : "  ");
    put_caret(b, from, skip_characters(from, column - 1 - skip));
}

char *jaw_report_note(const jaw_note *note, jaw_report_style style)
{
    jaw__buffer b = {0};
    put_place(&b, note);
    put_severity(&b, note->severity, style.colour);
    jaw__buffer_text(&b, " ");
    jaw__buffer_clean(&b, note->what, strlen(note->what));
    if (*note->cure) {
        jaw__buffer_text(&b, "; ");
        jaw__buffer_clean(&b, note->cure, strlen(note->cure));
    }
    jaw__buffer_text(&b, "\n");
    put_source(&b, note);
    return jaw__buffer_take(&b);
}
