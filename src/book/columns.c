/* SPDX-License-Identifier: GPL-3.0-or-later */
/* columns.c: names of columns, and numbers with every digit. */
#include "columns.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

size_t jaw__column_find(const jaw__columns *columns, const char *name)
{
    size_t i = 0;

    while (i < columns->n && strcmp(columns->name[i], name) != 0)
        i++;
    return i;
}

static void add(jaw__columns *columns, const char *name)
{
    if (columns->n < JAW__COLUMNS_MAX &&
        jaw__column_find(columns, name) == columns->n)
        columns->name[columns->n++] = name;
}

void jaw__columns_fill(jaw__columns *columns)
{
    columns->n = 0;
#define ADD(id, name) add(columns, name);
    JAW__ENTRY_COLUMN_LIST(ADD)
#undef ADD
    for (int k = 0; k < JAW_BOOK_KINDS; k++)
        for (size_t i = 0; i < jaw__book_kinds[k].n_fields; i++)
            add(columns, jaw__book_kinds[k].field[i].name);
}

const jaw__field *jaw__book_field_find(jaw_book_kind kind, const char *name)
{
    const jaw__kind *k = &jaw__book_kinds[kind];

    for (size_t i = 0; i < k->n_fields; i++)
        if (strcmp(k->field[i].name, name) == 0)
            return &k->field[i];
    return NULL;
}

void jaw__digits(double value, char *text, size_t size)
{
    if (isnan(value)) {
        text[0] = '\0';
        return;
    }
    snprintf(text, size, "%.17g", value);
    if (isinf(value))
        return;
    char *point = text + strspn(text, "+-0123456789e");
    char *behind = point;
    while (*behind != '\0' && strchr("+-0123456789e", *behind) == NULL)
        behind++; /* the locale's point may be several bytes */
    if (behind == point)
        return;
    *point = '.';
    memmove(point + 1, behind, strlen(behind) + 1);
}
