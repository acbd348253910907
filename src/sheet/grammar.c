/* SPDX-License-Identifier: GPL-3.0-or-later */
/* grammar.c: the table of grammar.h as arrays. */
#include "grammar.h"

const jaw__kind_rule jaw__kinds[JAW__KINDS] = {
#define AS_ROW(kind, reads, range, called, text)                               \
    {#kind, JAW__##reads, JAW__##range, called, text},
    JAW_GRAMMAR_KINDS(AS_ROW)
#undef AS_ROW
};

const jaw__rows_kind jaw__rows_kinds[JAW__ROWS_RULES] = {
#define AS_ROW(id, what, least, most, angle, called, slash, parts, shape,      \
               example, text)                                                  \
    {JAW__##what, least, most, angle, called, JAW__SLASH_##slash, parts,       \
     "a row is " shape, example, text},
    JAW_GRAMMAR_ROWS(AS_ROW)
#undef AS_ROW
};

const jaw__entry_rule jaw__entries[JAW__ENTRIES] = {
#define AS_ROW(id, word, head, rows, often, text, example)                     \
    {JAW__ENTRY_##id, word, head, JAW__##rows, JAW__##often, text, example},
    JAW_GRAMMAR_ENTRIES(AS_ROW)
#undef AS_ROW
};

const jaw__field_rule jaw__fields[] = {
#define AS_ROW(entry, role, word, form, often, text, example)                  \
    {JAW__ENTRY_##entry, JAW__##role, word, form, JAW__##often, text, example},
    JAW_GRAMMAR_FIELDS(AS_ROW)
#undef AS_ROW
};

const int jaw__field_count = (int)(sizeof jaw__fields / sizeof jaw__fields[0]);
