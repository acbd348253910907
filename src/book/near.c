/* SPDX-License-Identifier: GPL-3.0-or-later */
/* near.c: a name that is not in the book, and nearly one that is.  By a slip of
 * the keyboard a mark or a fixture would begin anew, and the one that was meant
 * would not be compared. */
#include "book.h"

#include <stdio.h>
#include <string.h>

typedef struct nearness {
    const char *wanted;
    const jaw_book_record *given;
    size_t n;
    char *name;
} nearness;

static bool is_given(const nearness *s, const char *name)
{
    for (size_t i = 0; i < s->n; i++)
        if (strcmp(s->given[i].subject, name) == 0)
            return true;
    return false;
}

static bool take(void *user, const jaw_book_record *r)
{
    nearness *s = user;
    const char *words[] = {r->subject};

    if (strcmp(r->subject, s->wanted) == 0) {
        s->name[0] = '\0';
        return false;
    }
    if (s->name[0] == '\0' && !is_given(s, r->subject) &&
        jaw_word_nearest(s->wanted, words, 1) != NULL)
        snprintf(s->name, JAW_BOOK_NAME_SIZE, "%s", r->subject);
    return true;
}

jaw_status jaw__book_near(jaw_book *book, jaw_book_kind kind,
                          const char *machine, const jaw_book_record given[],
                          size_t n, const char *subject,
                          char name[JAW_BOOK_NAME_SIZE])
{
    nearness s = {subject, given, n, name};

    name[0] = '\0';
    return jaw_book_current(book, kind, machine, take, &s);
}
