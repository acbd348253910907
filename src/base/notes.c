/* SPDX-License-Identifier: GPL-3.0-or-later */
/* notes.c: messages to a person, kept in the order in which they came.
 *
 * A note and its texts are one block, so that a note either exists whole or
 * not at all.  The collection is a growing array of pointers to these blocks:
 * growing moves the pointers and never a note, because notes that were got
 * earlier must stay where they are.  The place that a note is given later is a
 * second block of its own. */
#include <jawline/base.h>

#include "grow.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct held {
    jaw_note note;
    char *located; /* file and source from jaw_notes_locate; NULL: not given */
} held;

struct jaw_notes {
    held **note;
    size_t count, room;
    size_t lost;
};

jaw_notes *jaw_notes_alloc(void)
{
    return calloc(1, sizeof(jaw_notes));
}

void jaw_notes_free(jaw_notes *notes)
{
    if (!notes)
        return;
    for (size_t i = 0; i < notes->count; i++) {
        free(notes->note[i]->located);
        free(notes->note[i]);
    }
    free(notes->note);
    free(notes);
}

/* Room for one more; false when out of memory, and then nothing changed. */
static bool grow(jaw_notes *notes)
{
    held **note = jaw__grow(notes->note, notes->count, &notes->room,
                            sizeof *note);

    if (note != NULL)
        notes->note = note;
    return note != NULL;
}

/* Copies text with its NUL to *end and moves *end behind it. */
static const char *put(char **end, const char *text, size_t size)
{
    char *start = *end;
    memcpy(start, text, size);
    *end += size;
    return start;
}

/* The block of one note: the struct, then file, source, cure and what.  `what`
 * is left to be written by the caller: what_size bytes at *what. */
static held *note_alloc(const char *file, const char *source,
                            const char *cure, size_t what_size, char **what)
{
    size_t file_size = strlen(file) + 1;
    size_t source_size = strlen(source) + 1;
    size_t cure_size = strlen(cure) + 1;
    held *block = malloc(sizeof *block + file_size + source_size + cure_size +
                         what_size);
    if (!block)
        return NULL;
    char *end = (char *)(block + 1);
    block->located = NULL;
    block->note.file = put(&end, file, file_size);
    block->note.source = put(&end, source, source_size);
    block->note.cure = put(&end, cure, cure_size);
    block->note.what = *what = end;
    return block;
}

/* NULL without memory, and when printf can not say the text (longer than
 * INT_MAX, or a wide character that does not exist): lost either way, since
 * the person will not see it. */
static held *note_make(const char *file, const char *source,
                       const char *cure, const char *format, va_list args)
{
    va_list again;
    va_copy(again, args);
    int length = vsnprintf(NULL, 0, format, args);
    held *block = NULL;
    char *what;
    if (length >= 0)
        block = note_alloc(file, source, cure, (size_t)length + 1, &what);
    if (block)
        vsnprintf(what, (size_t)length + 1, format, again);
    va_end(again);
    return block;
}

jaw_status jaw_notes_add(jaw_notes *notes, jaw_severity severity,
                         jaw_status status, const char *file, jaw_place place,
                         const char *source, const char *cure,
                         const char *format, ...)
{
    if (!notes)
        return JAW_OK;
    held *block = NULL;
    if (grow(notes)) {
        va_list args;
        va_start(args, format);
        block = note_make(file ? file : "", source ? source : "",
                          cure ? cure : "", format, args);
        va_end(args);
    }
    if (!block) {
        notes->lost++;
        return JAW_ENOMEM;
    }
    block->note.severity = severity;
    block->note.status = status;
    block->note.place = place;
    notes->note[notes->count++] = block;
    return JAW_OK;
}

size_t jaw_notes_count(const jaw_notes *notes)
{
    return notes ? notes->count : 0;
}

size_t jaw_notes_lost(const jaw_notes *notes)
{
    return notes ? notes->lost : 0;
}

size_t jaw_notes_at_least(const jaw_notes *notes, jaw_severity severity)
{
    size_t n = 0;
    for (size_t i = 0; i < jaw_notes_count(notes); i++)
        if (notes->note[i]->note.severity >= severity)
            n++;
    return n;
}

const jaw_note *jaw_notes_get(const jaw_notes *notes, size_t i)
{
    return i < jaw_notes_count(notes) ? &notes->note[i]->note : NULL;
}

static bool comes_after(const held *a, const held *b)
{
    const jaw_place *p = &a->note.place, *q = &b->note.place;

    if (p->line <= 0 || q->line <= 0)
        return p->line <= 0 && q->line > 0;
    return p->source != q->source ? p->source > q->source : p->line > q->line;
}

/* By insertion: notes are few, and mostly in order. */
void jaw_notes_sort(jaw_notes *notes, size_t first)
{
    for (size_t i = first + 1; i < jaw_notes_count(notes); i++) {
        held *note = notes->note[i];
        size_t at = i;
        for (; at > first && comes_after(notes->note[at - 1], note); at--)
            notes->note[at] = notes->note[at - 1];
        notes->note[at] = note;
    }
}

/* A lost note may have been an error, so losing one is as bad as the worst. */
jaw_status jaw_notes_status(const jaw_notes *notes)
{
    if (jaw_notes_lost(notes) > 0)
        return JAW_ENOMEM;
    for (size_t i = 0; i < jaw_notes_count(notes); i++)
        if (notes->note[i]->note.severity == JAW_ERROR)
            return notes->note[i]->note.status;
    return JAW_OK;
}

/* ------------------------------------------------------------------- places */

/* Where a walk through a text stands: at the start of a line. */
typedef struct walk {
    const char *at, *end;
    int line;
} walk;

static walk walk_start(const char *text, size_t len)
{
    walk w = {text, text + len, 1};
    if (len >= 3 && memcmp(text, "\xef\xbb\xbf", 3) == 0)
        w.at += 3; /* a byte-order mark is no part of its line */
    return w;
}

static size_t line_length(const walk *w)
{
    const char *c = w->at;
    while (c < w->end && *c != '\n' && *c != '\r')
        c++;
    return (size_t)(c - w->at);
}

/* To the start of that line, which is not before this one; the end of the text
 * when there are not so many. */
static void walk_to(walk *w, int line)
{
    while (w->line < line && w->at < w->end) {
        w->at += line_length(w);
        if (w->end - w->at >= 2 && w->at[0] == '\r' && w->at[1] == '\n')
            w->at++;
        if (w->at < w->end)
            w->at++;
        w->line++;
    }
}

static int by_line(const void *a, const void *b)
{
    int la = (*(held *const *)a)->note.place.line;
    int lb = (*(held *const *)b)->note.place.line;
    return (la > lb) - (la < lb);
}

static bool give_place(held *block, const char *file, const char *source,
                       size_t length)
{
    size_t file_size = strlen(file) + 1;
    char *located = malloc(file_size + length + 1);
    if (!located)
        return false;
    char *end = located;
    block->note.file = put(&end, file, file_size);
    block->note.source = put(&end, source, length);
    *end = '\0';
    block->located = located;
    return true;
}

/* Notes come in any order and a text may be long: they are visited by line, so
 * that one walk serves all. */
jaw_status jaw_notes_locate(jaw_notes *notes, size_t first, int source,
                            const char *file, const char *text, size_t len)
{
    if (first >= jaw_notes_count(notes) || file[0] == '\0')
        return JAW_OK;
    held **order = malloc((notes->count - first) * sizeof(held *));
    if (!order)
        return JAW_ENOMEM;
    size_t n = 0;
    for (size_t i = first; i < notes->count; i++) {
        const jaw_note *note = &notes->note[i]->note;
        if (note->place.line > 0 && note->place.source == source &&
            note->file[0] == '\0')
            order[n++] = notes->note[i];
    }
    qsort(order, n, sizeof *order, by_line);
    jaw_status status = JAW_OK;
    walk w = walk_start(text, len);
    for (size_t i = 0; i < n; i++) {
        walk_to(&w, order[i]->note.place.line);
        if (!give_place(order[i], file, w.at, line_length(&w)))
            status = JAW_ENOMEM;
    }
    free(order);
    return status;
}
