/* SPDX-License-Identifier: GPL-3.0-or-later */
/* notes.c: messages to a person, kept in the order in which they came.
 *
 * A note and its texts are one block, so that a note either exists whole or
 * not at all.  The collection is a growing array of pointers to these blocks:
 * growing moves the pointers and never a note, because notes that were got
 * earlier must stay where they are. */
#include <jawline/base.h>

#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct jaw_notes {
    jaw_note **note;
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
    for (size_t i = 0; i < notes->count; i++)
        free(notes->note[i]);
    free(notes->note);
    free(notes);
}

/* Room for one more; false when out of memory, and then nothing changed. */
static bool grow(jaw_notes *notes)
{
    if (notes->count < notes->room)
        return true;
    if (notes->room > SIZE_MAX / 2 / sizeof *notes->note)
        return false;
    size_t room = notes->room ? 2 * notes->room : 8;
    jaw_note **note = realloc(notes->note, room * sizeof *note);
    if (!note)
        return false;
    notes->note = note;
    notes->room = room;
    return true;
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
static jaw_note *note_alloc(const char *file, const char *source,
                            const char *cure, size_t what_size, char **what)
{
    size_t file_size = strlen(file) + 1;
    size_t source_size = strlen(source) + 1;
    size_t cure_size = strlen(cure) + 1;
    jaw_note *note = malloc(sizeof *note + file_size + source_size +
                            cure_size + what_size);
    if (!note)
        return NULL;
    char *end = (char *)(note + 1);
    note->file = put(&end, file, file_size);
    note->source = put(&end, source, source_size);
    note->cure = put(&end, cure, cure_size);
    note->what = *what = end;
    return note;
}

/* NULL without memory, and when printf can not say the text (longer than
 * INT_MAX, or a wide character that does not exist): lost either way, since
 * the person will not see it. */
static jaw_note *note_make(const char *file, const char *source,
                           const char *cure, const char *format, va_list args)
{
    va_list again;
    va_copy(again, args);
    int length = vsnprintf(NULL, 0, format, args);
    jaw_note *note = NULL;
    char *what;
    if (length >= 0)
        note = note_alloc(file, source, cure, (size_t)length + 1, &what);
    if (note)
        vsnprintf(what, (size_t)length + 1, format, again);
    va_end(again);
    return note;
}

jaw_status jaw_notes_add(jaw_notes *notes, jaw_severity severity,
                         jaw_status status, const char *file, jaw_place place,
                         const char *source, const char *cure,
                         const char *format, ...)
{
    if (!notes)
        return JAW_OK;
    jaw_note *note = NULL;
    if (grow(notes)) {
        va_list args;
        va_start(args, format);
        note = note_make(file ? file : "", source ? source : "",
                         cure ? cure : "", format, args);
        va_end(args);
    }
    if (!note) {
        notes->lost++;
        return JAW_ENOMEM;
    }
    note->severity = severity;
    note->status = status;
    note->place = place;
    notes->note[notes->count++] = note;
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
        if (notes->note[i]->severity >= severity)
            n++;
    return n;
}

const jaw_note *jaw_notes_get(const jaw_notes *notes, size_t i)
{
    return i < jaw_notes_count(notes) ? notes->note[i] : NULL;
}

/* A lost note may have been an error, so losing one is as bad as the worst. */
jaw_status jaw_notes_status(const jaw_notes *notes)
{
    if (jaw_notes_lost(notes) > 0)
        return JAW_ENOMEM;
    for (size_t i = 0; i < jaw_notes_count(notes); i++)
        if (notes->note[i]->severity == JAW_ERROR)
            return notes->note[i]->status;
    return JAW_OK;
}
