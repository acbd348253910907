/* SPDX-License-Identifier: GPL-3.0-or-later */
/* near.c: a mark or fixture that nobody found before, under a name that is
 * nearly that of one in the book: a slip of the keyboard would begin anew, and
 * the one that was meant would not be compared. */
#include "homing.h"

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
        snprintf(s->name, JAW__NAME_SIZE, "%s", r->subject);
    return true;
}

jaw_status jaw__book_near(jaw_book *book, const jaw_book_record given[],
                          size_t n, const char *subject,
                          char name[JAW__NAME_SIZE])
{
    nearness s = {subject, given, n, name};

    name[0] = '\0';
    return jaw_book_current(book, given[0].kind, given[0].machine, take, &s);
}
