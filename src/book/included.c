/* SPDX-License-Identifier: GPL-3.0-or-later */
/* included.c: the sheets that a kept setup includes, as one text.  Each stands
 * behind a line with its length, so that whatever it holds it ends where it
 * ended. */
#include "book.h"

#include <string.h>

/* The number in front of a blank; false: there is none, or it is too large. */
static bool read_size(const char **at, size_t *size)
{
    const char *s = *at;

    for (*size = 0; *s >= '0' && *s <= '9' && s - *at < 10; s++)
        *size = 10 * *size + (size_t)(*s - '0');
    if (s == *at || *s != ' ')
        return false;
    *at = s + 1;
    return true;
}

bool jaw_book_included(const char **at, const char **name, size_t *name_len,
                       const char **text, size_t *text_len)
{
    const char *s = *at;

    if (!read_size(&s, text_len))
        return false;
    *name = s;
    *name_len = strcspn(s, "\n");
    s += *name_len;
    if (*s++ != '\n' || memchr(s, '\0', *text_len) != NULL ||
        s[*text_len] != '\n')
        return false;
    *text = s;
    *at = s + *text_len + 1;
    return true;
}
