/* SPDX-License-Identifier: GPL-3.0-or-later */
/* csv.c: rows of an import as CSV (RFC 4180): fields parted by commas, quoted
 * where they hold one, a quote doubled; lines end in LF or CR LF, and a quoted
 * field may hold line ends. */
#include "columns.h"

#include <stdlib.h>
#include <string.h>

typedef struct csv {
    jaw__import *im;
    const char *at, *end;
    char *text, *free; /* the fields of one row, each with its NUL */
    int line;
    size_t column_of[JAW__COLUMNS_MAX]; /* of each field of a row */
    size_t n_fields, count; /* count: which one says how many there are */
} csv;

static jaw_place place_of(const csv *c)
{
    return (jaw_place){c->line, 0, 0};
}

static bool at_line_end(const csv *c)
{
    return c->at == c->end || *c->at == '\n' ||
           (*c->at == '\r' && c->at + 1 < c->end && c->at[1] == '\n');
}

/* Behind an opening quote; false when it never closes. */
static bool read_quoted(csv *c)
{
    while (c->at < c->end) {
        char letter = *c->at++;
        if (letter == '\n')
            c->line++;
        if (letter == '"') {
            if (c->at == c->end || *c->at != '"')
                return c->at == c->end || *c->at == ',' || at_line_end(c);
            c->at++;
        }
        *c->free++ = letter;
    }
    return false;
}

/* NULL for an empty one without quotes. */
static bool read_field(csv *c, const char **field)
{
    const char *start = c->free;
    bool quoted = c->at < c->end && *c->at == '"';

    if (quoted) {
        c->at++;
        if (!read_quoted(c))
            return false;
    }
    while (!quoted && !at_line_end(c) && *c->at != ',')
        *c->free++ = *c->at++;
    *field = quoted || c->free > start ? start : NULL;
    *c->free++ = '\0';
    return true;
}

/* Fields of one row, at most so many; -1 after telling. */
static int read_fields(csv *c, const char *field[], size_t most)
{
    size_t n = 0;
    jaw_place place = place_of(c);

    c->free = c->text;
    for (;;) {
        if (n == most) {
            jaw__import_wrong(c->im, place, "mend the row",
                              "a row with more than %zu fields", most);
            return -1;
        }
        if (!read_field(c, &field[n++])) {
            jaw__import_wrong(c->im, place,
                              "a field that holds a quote has it twice, and "
                              "quotes around it",
                              "a quote does not end where a field does");
            return -1;
        }
        if (at_line_end(c))
            break;
        c->at++; /* the comma */
    }
    if (c->at < c->end && *c->at == '\r')
        c->at++;
    c->at += c->at < c->end;
    return (int)n;
}

static void unknown_column(csv *c, jaw_place place, const char *name)
{
    jaw__import_wrong(c->im, place, jaw__import_cure(c->im, name).s,
                      "there is no column `%.60s'", name);
}

static bool is_count(csv *c, const char *name)
{
    size_t len = strlen(JAW__COUNT_COLUMN);

    return strncmp(name, JAW__COUNT_COLUMN, len) == 0 &&
           jaw__import_count(c->im, name + len);
}

static bool read_head(csv *c)
{
    const char *field[JAW__COLUMNS_MAX];
    jaw_place place = place_of(c);
    int n = read_fields(c, field, JAW__COLUMNS_MAX);

    c->count = JAW__COLUMNS_MAX;
    for (int i = 0; i < n; i++) {
        const char *name = field[i] == NULL ? "" : field[i];
        c->column_of[i] = jaw__column_find(&c->im->columns, name);
        if (c->column_of[i] < c->im->columns.n)
            continue;
        if (c->count == JAW__COLUMNS_MAX && is_count(c, name))
            c->count = (size_t)i;
        else
            unknown_column(c, place, name);
    }
    c->n_fields = n < 0 ? 0 : (size_t)n;
    c->line++;
    return c->im->status == JAW_OK;
}

static bool read_row(csv *c)
{
    const char *field[JAW__COLUMNS_MAX];
    jaw__row row = {.place = place_of(c)};
    int n = read_fields(c, field, c->n_fields);

    c->line++;
    if (n < 0)
        return false;
    if (n == 1 && field[0] == NULL)
        return true; /* an empty line */
    if (c->count < (size_t)n && field[c->count] != NULL) {
        jaw__import_wrong(c->im, row.place, "mend the row",
                          "`%.60s' stands under the count of entries",
                          field[c->count]);
        return c->im->mistakes < JAW__MISTAKES_MAX;
    }
    for (int i = 0; i < n; i++)
        if ((size_t)i != c->count)
            row.cell[c->column_of[i]] = field[i];
    return jaw__import_row(c->im, &row);
}

void jaw__import_csv(jaw__import *im)
{
    static const char mark[] = "\xef\xbb\xbf"; /* that spreadsheets put */
    csv c = {.im = im, .at = im->text, .end = im->text + im->len, .line = 1};

    if (memchr(im->text, '\0', im->len) != NULL) {
        jaw__import_wrong(im, (jaw_place){1, 0, 0},
                          "it is what `jawline book export` writes",
                          "this is no text");
        return;
    }
    if (im->len >= 3 && memcmp(im->text, mark, 3) == 0)
        c.at += 3;
    c.text = malloc(2 * im->len + 2); /* a NUL a field */
    if (c.text == NULL) {
        im->status = JAW_ENOMEM;
        return;
    }
    if (read_head(&c))
        while (c.at < c.end && read_row(&c))
            ;
    free(c.text);
}
