/* SPDX-License-Identifier: GPL-3.0-or-later */
/* solved.c: a sheet, read and solved. */
#include "cli.h"

/* A sheet with a mistake in it is not solved, as by `jawline solve`. */
static bool solve(const arguments *args, jaw_length_rule lengths, solved *s)
{
    s->status = sheets_read(&s->all, &s->in, s->setup, s->notes);
    if (s->status == JAW_OK && jaw_notes_at_least(s->notes, JAW_ERROR) > 0)
        s->status = JAW_ESYNTAX;
    if (s->status == JAW_OK && !lengths_put(lengths, s->setup))
        s->status = JAW_EDOMAIN;
    if (s->status == JAW_OK)
        s->status = links_fill(args, &s->all, s->setup, s->notes);
    if (s->status != JAW_OK)
        return s->status != JAW_ENOMEM;
    size_t first = jaw_notes_count(s->notes);
    jaw_setup_ask_where(s->setup);
    s->status = jaw_setup_solve(s->setup, s->notes, &s->solution);
    if (sheets_locate(&s->all, s->setup, s->notes, first) != JAW_OK)
        s->status = JAW_ENOMEM;
    return s->status != JAW_ENOMEM;
}

bool solved_read(const arguments *args, const char *path,
                 jaw_length_rule lengths, solved *s)
{
    *s = (solved){.status = JAW_ENOMEM};
    if (!input_read(path, &s->in))
        return false;
    s->setup = jaw_setup_alloc();
    s->notes = jaw_notes_alloc();
    bool good = s->setup && s->notes && solve(args, lengths, s);
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
