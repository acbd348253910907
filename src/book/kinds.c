/* SPDX-License-Identifier: GPL-3.0-or-later */
/* kinds.c: kinds of entries and their fields as data, from the lists of
 * kinds.h and book.h. */
#include "book.h"
#include "kinds.h"

#include <jawline/measure.h>
#include <src/readback/words.h>

#include <math.h>
#include <string.h>

/* ------------------------------------------------------------------- words */

#define AS_WORD(name, word, text) word,
#define AS_TEXT(name, word, text) text,
#define LOOK_UP(function, type, LIST, COLUMN, end)                             \
    const char *function(type value)                                           \
    {                                                                          \
        static const char *const column[] = {LIST(COLUMN)};                    \
                                                                               \
        return (unsigned)value < end ? column[value] : NULL;                   \
    }
#define WORDS(name, type, LIST, end)                                           \
    LOOK_UP(name##_word, type, LIST, AS_WORD, end)                             \
    LOOK_UP(name##_text, type, LIST, AS_TEXT, end)

WORDS(jaw_book_kind, jaw_book_kind, JAW_BOOK_KIND_LIST, JAW_BOOK_KINDS)
WORDS(jaw_book_change, jaw_book_change, JAW_BOOK_CHANGE_LIST, JAW_BOOK_CHANGES)
WORDS(jaw_book_shift, jaw_book_shift_kind, JAW_BOOK_SHIFT_LIST,
      JAW_SHIFT_KINDS)
WORDS(jaw_book_move, jaw_book_move, JAW_BOOK_MOVE_LIST, JAW_BOOK_MOVES)
WORDS(jaw_book_carry, jaw_book_carry, JAW_BOOK_CARRY_LIST, JAW_BOOK_CARRIES)
#undef WORDS
#undef LOOK_UP
#undef AS_TEXT
#undef AS_WORD

bool jaw_book_change_ends(jaw_book_change change)
{
    return change != JAW_CHANGE_FIRST && change != JAW_CHANGE_NOISE &&
           change != JAW_CHANGE_WORN;
}

const char *jaw_book_doubt_word(unsigned doubt)
{
    switch (doubt) {
#define CASE(name, bit, word, text)                                            \
    case name:                                                                 \
        return word;
        JAW_BOOK_DOUBT_LIST(CASE)
#undef CASE
    }
    return NULL;
}

const char *jaw_book_doubt_text(unsigned doubt)
{
    switch (doubt) {
#define CASE(name, bit, word, text)                                            \
    case name:                                                                 \
        return text;
        JAW_BOOK_DOUBT_LIST(CASE)
#undef CASE
    }
    return NULL;
}

const char *jaw_book_axis_word(unsigned axis)
{
    static const char *const word[JAW_BOOK_AXES] = JAW__VALUE_WORDS;

    return axis < JAW_BOOK_AXES ? word[axis] : NULL;
}

static const char *unit_word(unsigned value)
{
    return value <= JAW_IN ? jaw_unit_word((jaw_unit)value) : NULL;
}

static const char *shape_word(unsigned value)
{
    return jaw_tip_shape_word((jaw_tip_shape)value);
}

static const char *term_word(unsigned value)
{
    return jaw_tip_term_word((jaw_tip_term_state)value);
}

static const char *turns_word(unsigned value)
{
    static const char *const word[] = {"unsaid", "yes", "no"};

    return value < sizeof word / sizeof word[0] ? word[value] : NULL;
}

static const char *rule_word(unsigned value)
{
    return jaw_length_word((jaw_length_rule)value);
}

static const char *change_word(unsigned value)
{
    return jaw_book_change_word((jaw_book_change)value);
}

static const char *move_word(unsigned value)
{
    return jaw_book_move_word((jaw_book_move)value);
}

/* ------------------------------------------------------------------ fields */

#define FIELD(type, name, member, since, word)                                 \
    {#name, type, offsetof(jaw_book_record, as.member), since, word},
#define FIELDS(kind, array, LIST, since)                                       \
    static const jaw__field array[] = {                                        \
        LIST(FIELD){NULL, JAW__REAL, 0, 0, NULL}};
JAW__BOOK_KIND_FIELDS(FIELDS)
#undef FIELDS
#undef FIELD

#define KIND(kind, array, LIST, since)                                         \
    [kind] = {array, sizeof array / sizeof array[0] - 1, since},
const jaw__kind jaw__book_kinds[JAW_BOOK_KINDS] = {JAW__BOOK_KIND_FIELDS(KIND)};
#undef KIND

jaw_book_kind jaw__book_kind_find(const char *word)
{
    for (int k = 0; k < JAW_BOOK_KINDS; k++)
        if (strcmp(jaw_book_kind_word((jaw_book_kind)k), word) == 0)
            return (jaw_book_kind)k;
    return JAW_BOOK_KINDS;
}

void *jaw__book_field_at(const jaw__field *field, jaw_book_record *record)
{
    return (char *)record + field->offset;
}

const void *jaw__book_field_of(const jaw__field *field,
                          const jaw_book_record *record)
{
    return (const char *)record + field->offset;
}

int jaw__word_value(const char *(*word)(unsigned value), const char *text)
{
    const char *w;

    for (unsigned i = 0; (w = word(i)) != NULL; i++)
        if (strcmp(w, text) == 0)
            return (int)i;
    return -1;
}

void jaw__book_blank(jaw_book_kind kind, jaw_book_record *record)
{
    *record = (jaw_book_record){.kind = kind, .machine = "", .subject = ""};
    for (size_t i = 0; i < jaw__book_kinds[kind].n_fields; i++) {
        const jaw__field *f = &jaw__book_kinds[kind].field[i];
        if (f->type == JAW__REAL)
            *(double *)jaw__book_field_at(f, record) = (double)NAN;
        else if (f->type == JAW__TEXT)
            *(const char **)jaw__book_field_at(f, record) = "";
    }
    if (kind == JAW_BOOK_MACHINE)
        record->as.machine.decimals = -1;
    else if (kind == JAW_BOOK_LENGTH)
        record->as.length.between = 0;
}
