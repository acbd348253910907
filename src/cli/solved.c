/* SPDX-License-Identifier: GPL-3.0-or-later */
/* solved.c: a sheet, read and solved. */
#include "cli.h"

/* A sheet with a mistake in it is not solved: what was meant is not known, and
 * a value that follows from half of it would look like any other. */
jaw_status sheets_ready(const arguments *args, jaw_length_rule lengths,
                        const input *in, sheets *all, jaw_setup *setup,
                        jaw_notes *notes)
{
    jaw_status status = sheets_read(all, in, setup, notes);

    if (status == JAW_OK && jaw_notes_at_least(notes, JAW_ERROR) > 0)
        return JAW_ESYNTAX;
    if (status == JAW_OK && !lengths_put(lengths, setup))
        return JAW_EDOMAIN;
    return status == JAW_OK ? links_fill(args, all, setup, notes) : status;
}

jaw_status sheets_solve(const sheets *all, const jaw_setup *setup,
                        jaw_notes *notes, jaw_solution **solution)
{
    size_t first = jaw_notes_count(notes);
    jaw_status status = jaw_setup_solve(setup, notes, solution);

    return sheets_locate(all, setup, notes, first) == JAW_OK ? status
                                                             : JAW_ENOMEM;
}

static bool solve(const arguments *args, jaw_length_rule lengths, bool where,
                  solved *s)
{
    s->status =
        sheets_ready(args, lengths, &s->in, &s->all, s->setup, s->notes);
    if (where)
        jaw_setup_ask_where(s->setup);
    if (s->status == JAW_OK)
        s->status = sheets_solve(&s->all, s->setup, s->notes, &s->solution);
    return s->status != JAW_ENOMEM;
}

bool solved_read(const arguments *args, const char *path,
                 jaw_length_rule lengths, bool where, solved *s)
{
    *s = (solved){.status = JAW_ENOMEM};
    if (!input_read(path, &s->in))
        return false;
    s->setup = jaw_setup_alloc();
    s->notes = jaw_notes_alloc();
    bool good = s->setup && s->notes && solve(args, lengths, where, s);
    if (!good) {
        notes_print(s->notes, JAW_DOUBT);
        no_memory();
    }
    return good;
}

void solved_drop(solved *s)
{
    jaw_solution_free(s->solution);
    jaw_setup_free(s->setup);
    jaw_notes_free(s->notes);
    sheets_drop(&s->all);
    input_drop(&s->in);
    *s = (solved){0};
}

double tip_across(const jaw_setup *setup)
{
    size_t n;
    const jaw_tip_entry *tip = jaw_setup_tips(setup, &n);
    double most = 0;

    for (size_t i = 0; i < n; i++)
        if (tip[i].tip.diameter > most)
            most = tip[i].tip.diameter;
    return most;
}
