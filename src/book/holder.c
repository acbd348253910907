/* SPDX-License-Identifier: GPL-3.0-or-later */
/* holder.c: a tool in a holder that the book does not know, under a name that
 * is nearly one that it knows: a slip of the keyboard would begin a second tool,
 * and the one that was meant would not be compared. */
#include "change.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

/* Without what is easily typed otherwise: case, and - _ and . */
static void fold(const char *name, char *to, size_t size)
{
    size_t n = 0;

    for (; *name != '\0' && n + 1 < size; name++)
        if (strchr("-_.", *name) == NULL)
            to[n++] = (char)tolower((unsigned char)*name);
    to[n] = '\0';
}

/* A letter beside another one is part of a word; alone, as in `holder-b', it
 * counts things, and so does every digit. */
static bool in_word(const char *text, size_t i)
{
    return isalpha((unsigned char)text[i]) &&
           ((i > 0 && isalpha((unsigned char)text[i - 1])) ||
            isalpha((unsigned char)text[i + 1]));
}

/* One letter is another, is missing or too many, or two have changed places.
 * The names are written as they were typed, in lower case. */
static bool one_letter(const char *a, const char *b)
{
    size_t i = 0, na = strlen(a), nb = strlen(b);

    if (na < nb)
        return one_letter(b, a);
    while (i < nb && a[i] == b[i])
        i++;
    if (i == na)
        return false;
    if (na == nb && in_word(a, i) && in_word(b, i) &&
        (strcmp(a + i + 1, b + i + 1) == 0 ||
         (a[i] == b[i + 1] && a[i + 1] == b[i] &&
          strcmp(a + i + 2, b + i + 2) == 0)))
        return true;
    return na == nb + 1 && in_word(a, i) && strcmp(a + i + 1, b + i) == 0;
}

static void lower(const char *name, char *to, size_t size)
{
    snprintf(to, size, "%s", name);
    for (; *to != '\0'; to++)
        *to = (char)tolower((unsigned char)*to);
}

static bool is_near(const char *a, const char *b)
{
    char x[48], y[48];

    fold(a, x, sizeof x);
    fold(b, y, sizeof y);
    if (strcmp(x, y) == 0)
        return true;
    lower(a, x, sizeof x);
    lower(b, y, sizeof y);
    return one_letter(x, y);
}

typedef struct nearness {
    const char *wanted;
    bool known;
    char name[JAW_BOOK_NAME_SIZE];
} nearness;

static bool take(void *user, const jaw_book_record *r)
{
    nearness *n = user;
    const char *holder = r->kind == JAW_BOOK_LENGTH ? r->as.length.holder
                                                    : r->as.diameter.holder;

    n->known = strcmp(holder, n->wanted) == 0;
    if (!n->known && *holder != '\0' && *n->name == '\0' &&
        is_near(n->wanted, holder))
        snprintf(n->name, sizeof n->name, "%s", holder);
    return !n->known;
}

jaw_status jaw__doubt_holder(jaw_book *book, const char *holder, bool fresh,
                             jaw_book_measured *out)
{
    nearness n = {.wanted = holder};
    const char *machine = out->record.machine;

    if (*holder == '\0' || fresh || out->verdict.last_id != 0)
        return JAW_OK;
    jaw_status status =
        jaw_book_current(book, JAW_BOOK_LENGTH, machine, take, &n);
    if (status == JAW_OK && !n.known)
        status = jaw_book_current(book, JAW_BOOK_DIAMETER, machine, take, &n);
    if (status != JAW_OK || n.known || *n.name == '\0')
        return status;
    out->record.doubts |= JAW_BOOK_HOLDER;
    jaw__book_say(book, SAY_HOLDER_NEAR, holder, n.name);
    return JAW_OK;
}
