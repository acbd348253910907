/* SPDX-License-Identifier: GPL-3.0-or-later */
/* links.c: what a sheet leaves to the book. */
#include "shop.h"

jaw_status links_fill(const arguments *args, const sheets *all,
                      jaw_setup *setup, jaw_notes *notes)
{
    const char *machine = args->value[OPT_MACHINE];
    size_t first = jaw_notes_count(notes);
    char path[4096];

    if (jaw_setup_waits(setup) == 0)
        return JAW_OK;
    if (!machine_is_good(machine) || !book_path(args, path, sizeof path))
        return JAW_EDOMAIN;
    jaw_status status = jaw_book_fill(path, machine, setup, notes);
    if (sheets_locate(all, setup, notes, first) != JAW_OK)
        status = JAW_ENOMEM;
    return status;
}
