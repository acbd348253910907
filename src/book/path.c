/* SPDX-License-Identifier: GPL-3.0-or-later */
/* path.c: where the book is, when nothing else is said: the user's data folder
 * (XDG Base Directory Specification 0.8). */
#include <jawline/book.h>

#include <stdio.h>
#include <stdlib.h>

static bool is_set(const char *text)
{
    return text != NULL && *text != '\0';
}

jaw_status jaw_book_path(const char *given, char *path, size_t size)
{
    const char *book = getenv("JAWLINE_BOOK");
    const char *data = getenv("XDG_DATA_HOME"), *home = getenv("HOME");
    int n;

    if (is_set(given))
        n = snprintf(path, size, "%s", given);
    else if (is_set(book))
        n = snprintf(path, size, "%s", book);
    else if (is_set(data) && data[0] == '/') /* others are to be ignored */
        n = snprintf(path, size, "%s/jawline/book.sqlite", data);
    else if (is_set(home))
        n = snprintf(path, size, "%s/.local/share/jawline/book.sqlite", home);
    else
        return JAW_EUNKNOWN;
    return n >= 0 && (size_t)n < size ? JAW_OK : JAW_ESIZE;
}
