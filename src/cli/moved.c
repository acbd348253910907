/* SPDX-License-Identifier: GPL-3.0-or-later */
/* moved.c: `jawline moved`: a setup as it is now, against what was kept. */
#include "keep.h"

static bool print(const arguments *args, const keeping *k)
{
    bool json = args->value[OPT_JSON] != NULL;

    if (!json)
        return moved_print(k);
    bool good = moved_json(k);
    putchar('\n');
    return good;
}

static int compare(const arguments *args, const solved *now)
{
    const char *since = args->operands > 1 ? args->operand[1] : NULL;
    int worst = exit_from_solution(now->solution, now->notes, now->status);
    const answer a = {&now->all, now->setup, now->solution, now->notes};
    keeping k;
    bool good = keep_begin(args, JAW_BOOK_READ, since, &a, &k);

    notes_print(now->notes, JAW_DOUBT);
    good = good && print(args, &k);
    const bool moved = k.moved.real + k.moved.unsure + k.old > 0;
    if (keep_end(&k) == EXIT_USAGE || !good)
        return EXIT_USAGE;
    return moved && worst < EXIT_DOUBT ? EXIT_DOUBT : worst;
}

int command_moved(const arguments *args)
{
    jaw_length_rule lengths;
    int status = EXIT_USAGE;
    solved now;

    if (args->operands < 1 || args->operands > 2) {
        complain("such as `jawline moved plate.jaw'; see `jawline moved "
                 "--help'",
                 args->operands < 1 ? "which SHEET is not said"
                                    : "`moved' takes a SHEET and one TITLE");
        return EXIT_USAGE;
    }
    if (!lengths_read(args, &lengths))
        return EXIT_USAGE;
    if (solved_read(args, args->operand[0], lengths, false, &now)) {
        if (now.solution)
            status = compare(args, &now);
        else
            notes_print(now.notes, JAW_DOUBT);
    }
    solved_drop(&now);
    return status;
}
