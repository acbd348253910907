/* SPDX-License-Identifier: GPL-3.0-or-later */
/* asked.h: which cases a command line asks for: PROGRAM [TRIALS [SEED [CASE...]]],
 * a CASE being what their names begin with; without one, all. */
#ifndef TESTS_SIMULATE_ASKED_H
#define TESTS_SIMULATE_ASKED_H

#include <stdbool.h>
#include <string.h>

static inline bool is_asked(const char *name, int argc, char *argv[])
{
    for (int i = 3; i < argc; i++)
        if (strncmp(name, argv[i], strlen(argv[i])) == 0)
            return true;
    return argc <= 3;
}

#endif
