/* SPDX-License-Identifier: GPL-3.0-or-later */
/* name.h: what machines, holders, fixtures and marks may be called, in a sheet
 * and in the book; shared by the modules, not public. */
#ifndef JAW__NAME_H
#define JAW__NAME_H

#include <stdbool.h>
#include <stddef.h>
#include <string.h>

/* jaw__name_is_good: name[len] is letters, digits, - _ and ., at most 40, a
 * letter or digit first. */
static inline bool jaw__name_is_good(const char *name, size_t len)
{
    static const char all[] = "abcdefghijklmnopqrstuvwxyz"
                              "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_.";

    for (size_t i = 0; i < len; i++)
        if (memchr(all, name[i], sizeof all - 1) == NULL)
            return false;
    return len > 0 && len <= 40 && strchr("-_.", name[0]) == NULL;
}

#endif
