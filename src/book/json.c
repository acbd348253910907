/* SPDX-License-Identifier: GPL-3.0-or-later */
/* json.c: rows of an import as JSON: objects one behind the other, each laid
 * out as its writer likes. */
#include "columns.h"

#include <jansson.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* What one object needs: a text a value. */
typedef struct texts {
    char *text[JAW__COLUMNS_MAX];
    size_t n;
} texts;

static void drop(texts *t)
{
    for (size_t i = 0; i < t->n; i++)
        free(t->text[i]);
    t->n = 0;
}

static char *number_text(const json_t *value)
{
    char text[32];

    if (json_is_integer(value))
        snprintf(text, sizeof text, "%lld",
                 (long long)json_integer_value(value));
    else
        jaw__digits(json_real_value(value), text, sizeof text);
    return strdup(text);
}

/* Numbers parted by blanks; anything else in it is a text that no reading can
 * be. */
static char *list_text(const json_t *list)
{
    size_t n = json_array_size(list);
    char *text = calloc(n + 1, 32), *at = text;

    for (size_t i = 0; text != NULL && i < n; i++) {
        const json_t *value = json_array_get(list, i);
        char *number = json_is_number(value) ? number_text(value)
                                             : strdup("?");
        if (number == NULL) {
            free(text);
            return NULL;
        }
        at += sprintf(at, "%s%s", i > 0 ? " " : "", number);
        free(number);
    }
    return text;
}

static char *value_text(const json_t *value)
{
    switch (json_typeof(value)) {
    case JSON_STRING: return strdup(json_string_value(value));
    case JSON_INTEGER:
    case JSON_REAL: return number_text(value);
    case JSON_TRUE: return strdup("true");
    case JSON_FALSE: return strdup("false");
    case JSON_ARRAY: return list_text(value);
    default: return strdup("{");
    }
}

static void unknown_name(jaw__import *im, jaw_place place, const char *name)
{
    jaw__import_wrong(im, place, jaw__import_cure(im, name).s,
                      "there is no `%.60s' in an entry", name);
}

static bool take_object(jaw__import *im, json_t *object, jaw_place place)
{
    jaw__row row = {.place = place};
    texts t = {.n = 0};
    const char *name;
    json_t *value;
    bool ok = true;

    json_object_foreach(object, name, value) {
        size_t column = jaw__column_find(&im->columns, name);
        if (column == im->columns.n) {
            unknown_name(im, place, name);
            ok = false;
            break;
        }
        if (json_is_null(value))
            continue;
        char *text = value_text(value);
        if (text == NULL) {
            im->status = JAW_ENOMEM;
            ok = false;
            break;
        }
        row.cell[column] = t.text[t.n++] = text;
    }
    bool goes_on = ok ? jaw__import_row(im, &row)
                      : im->status != JAW_ENOMEM &&
                            im->mistakes < JAW__MISTAKES_MAX;
    drop(&t);
    return goes_on;
}

/* How many entries follow; files from before do not say. */
static bool take_count(jaw__import *im, const json_t *entries)
{
    im->entries = json_integer_value(entries); /* 0 of what is none */
    if (json_is_integer(entries) && im->entries >= 0)
        return true;
    jaw__import_wrong(im, (jaw_place){1, 0, 0},
                      "a whole number, such as \"entries\": 8",
                      "how many entries it has is no number");
    return false;
}

static bool take_head(jaw__import *im, const json_t *object)
{
    const json_t *entries = json_object_get(object, "entries");
    const json_t *book = json_object_get(object, "book");
    const json_t *version = json_object_get(object, "version");

    if (!json_is_string(book) ||
        strcmp(json_string_value(book), "jawline") != 0 ||
        !json_is_integer(version)) {
        jaw__import_wrong(im, (jaw_place){1, 0, 0},
                          "it begins with {\"book\": \"jawline\", "
                          "\"version\": 1}",
                          "this is no export of a book");
        return false;
    }
    if (json_integer_value(version) > JAW__BOOK_VERSION) {
        jaw__import_wrong(im, (jaw_place){1, 0, 0}, "use the newer version",
                          "this is the export of a newer version");
        return false;
    }
    return entries == NULL || take_count(im, entries);
}

static const char *skip_blanks(const char *at, const char *end, int *line)
{
    while (at < end && (*at == ' ' || *at == '\t' || *at == '\r' ||
                        *at == '\n'))
        *line += *at++ == '\n';
    return at;
}

static int lines_in(const char *at, size_t len)
{
    int lines = 0;

    for (size_t i = 0; i < len; i++)
        lines += at[i] == '\n';
    return lines;
}

/* One object, the first is the head; how many bytes it has, 0 to end. */
static size_t take_next(jaw__import *im, const char *at, const char *end,
                        int line, bool head)
{
    json_error_t error;
    json_t *object = json_loadb(at, (size_t)(end - at),
                                JSON_DISABLE_EOF_CHECK |
                                    JSON_REJECT_DUPLICATES, &error);

    /* where jansson has no memory it mostly has no text either */
    if (object == NULL && *error.text == '\0') {
        im->status = JAW_ENOMEM;
        return 0;
    }
    if (object == NULL) {
        jaw__import_wrong(im, (jaw_place){line + error.line - 1, 0, 0},
                          "mend the text there", "%s", error.text);
        return 0;
    }
    bool goes_on = json_is_object(object);
    if (!goes_on)
        jaw__import_wrong(im, (jaw_place){line, 0, 0}, "one object an entry",
                          "this is no object");
    else
        goes_on = head ? take_head(im, object)
                       : take_object(im, object, (jaw_place){line, 0, 0});
    json_decref(object);
    return goes_on ? (size_t)error.position : 0;
}

void jaw__import_json(jaw__import *im)
{
    const char *end = im->text + im->len;
    int line = 1;
    const char *at = skip_blanks(im->text, end, &line);

    for (bool head = true; at < end; head = false) {
        size_t used = take_next(im, at, end, line, head);
        if (used == 0)
            return;
        line += lines_in(at, used);
        at = skip_blanks(at + used, end, &line);
    }
}
