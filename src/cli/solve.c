/* SPDX-License-Identifier: GPL-3.0-or-later */
/* solve.c: `jawline solve`: every value to enter, from setup sheets. */
#include "keep.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

typedef struct job {
    const arguments *args;
    bool json, explain, keep;
    jaw_length_rule lengths; /* --lengths */
} job;

static bool job_read(const arguments *args, job *j)
{
    *j = (job){.args = args,
               .json = args->value[OPT_JSON] != NULL,
               .explain = args->value[OPT_EXPLAIN] != NULL,
               .keep = args->value[OPT_KEEP] != NULL};
    return lengths_read(args, &j->lengths);
}

static int worse(int a, int b)
{
    return a > b ? a : b;
}

/* ------------------------------------------------------------------- output */

/* A person at a terminal has the doubts at the head of the page already. */
static void print_notes(const job *j, const jaw_notes *notes)
{
    bool seen = !j->json && isatty(STDOUT_FILENO) && isatty(STDERR_FILENO);
    notes_print(notes, seen ? JAW_ERROR : JAW_DOUBT);
}

/* With --keep the line is still open: the book is to be told of first. */
static bool print_solution(const job *j, const answer *a)
{
    jaw_report_style style = {.explain = j->explain,
                              .colour = !j->json && colour_on(stdout)};
    char *text = (j->json ? jaw_report_json : jaw_report_text)(
        a->setup, a->solution, a->notes, style);
    if (!text)
        return no_memory();
    if (j->json && j->keep)
        text[strlen(text) - 2] = '\0'; /* without }, and its line's end */
    fputs(text, stdout);
    fflush(stdout);
    free(text);
    return true;
}

/* ------------------------------------------------------------------- status */

static unsigned all_flags(const jaw_solution *solution)
{
    unsigned flags = 0;
    size_t n;
    const jaw_found *found = jaw_solution_features(solution, &n);
    for (size_t i = 0; i < n; i++)
        flags |= found[i].flags;
    const jaw_zero_found *zeros = jaw_solution_zeros(solution, &n);
    for (size_t i = 0; i < n; i++)
        flags |= zeros[i].flags;
    const jaw_tool_found *tools = jaw_solution_tools(solution, &n);
    for (size_t i = 0; i < n; i++)
        flags |= tools[i].flags;
    return flags;
}

int exit_from_solution(const jaw_solution *solution, const jaw_notes *notes,
                       jaw_status status)
{
    const jaw_note *note;
    int worst = exit_from(status);
    for (size_t i = 0; (note = jaw_notes_get(notes, i)) != NULL; i++) {
        if (note->severity == JAW_DOUBT)
            worst = worse(worst, EXIT_DOUBT);
        if (note->severity == JAW_ERROR)
            worst = worse(worst, exit_from(note->status));
    }
    if (jaw_notes_lost(notes) > 0)
        worst = worse(worst, EXIT_USAGE);
    if (jaw_flags_doubts(all_flags(solution)))
        worst = worse(worst, EXIT_DOUBT);
    return worst;
}

/* --------------------------------------------------------------------- keep */

/* As it was printed, but for colours; of --json what would have been. */
static bool write_kept(const job *j, const answer *a, int worst, keeping *k)
{
    jaw_report_style style = {.explain = j->explain};
    char *report = jaw_report_text(a->setup, a->solution, a->notes, style);
    bool good = keep_write(k, a, report, worst == EXIT_DOUBT);
    free(report);
    return good;
}

static bool print_kept(const job *j, const keeping *k)
{
    if (j->json) {
        printf(", \"kept\": {\"entry\": %lld, \"moved\": ", k->entry);
        bool good = moved_json(k);
        puts("}}");
        return good;
    }
    if (k->compared) {
        putchar('\n');
        if (!moved_print(k))
            return false;
    }
    printf("\nkept as entry %lld on %s\n", k->entry, k->s.machine);
    return true;
}

/* Kept, it would put what marks carried since out of force. */
static bool is_old(const keeping *k, const answer *a)
{
    if (k->old > 0)
        complain("touch it off anew, then keep it",
                 "`%s' is not kept: it is as it was before the machine moved",
                 a->all->first->name);
    return k->old > 0;
}

static int give_and_keep(const job *j, const answer *a, jaw_status status,
                         bool *printed)
{
    keeping k = {0};
    int worst = exit_from_solution(a->solution, a->notes, status);
    bool good = worst <= EXIT_DOUBT;
    if (good)
        good = keep_begin(j->args, JAW_BOOK_WRITE, NULL, a, &k);
    worst = exit_from_solution(a->solution, a->notes, status);
    print_notes(j, a->notes);
    *printed = print_solution(j, a);
    if (worst > EXIT_DOUBT)
        complain("mend it, then keep it", "`%s' is not kept: it has an error",
                 a->all->first->name);
    bool old = good && is_old(&k, a);
    good = good && !old && *printed && write_kept(j, a, worst, &k);
    if (good)
        good = print_kept(j, &k);
    else if (*printed && j->json)
        puts(", \"kept\": null}");
    int book = keep_end(&k);
    if (worst <= EXIT_DOUBT)
        worst = worse(worst, good || old ? book : EXIT_USAGE);
    return worst;
}

/* -------------------------------------------------------------------- sheet */

static int give(const job *j, const answer *a, jaw_status status, bool *printed)
{
    if (j->keep)
        return give_and_keep(j, a, status, printed);
    print_notes(j, a->notes);
    *printed = print_solution(j, a);
    return exit_from_solution(a->solution, a->notes, status);
}

static int solve_setup(const job *j, const sheets *all, jaw_setup *setup,
                       jaw_notes *notes, bool *printed)
{
    jaw_solution *solution = NULL;
    jaw_status status = sheets_solve(all, setup, notes, &solution);
    if (!solution || status == JAW_ENOMEM) {
        print_notes(j, notes);
        no_memory();
        jaw_solution_free(solution);
        return EXIT_USAGE;
    }
    answer a = {all, setup, solution, notes};
    int worst = give(j, &a, status, printed);
    jaw_solution_free(solution);
    return *printed ? worst : EXIT_USAGE;
}

static int solve_text(const job *j, const input *in, jaw_setup *setup,
                      jaw_notes *notes, bool *printed)
{
    sheets all;
    int end = EXIT_USAGE;
    jaw_status status =
        sheets_ready(j->args, j->lengths, in, &all, setup, notes);
    if (status == JAW_OK) {
        end = solve_setup(j, &all, setup, notes, printed);
    } else {
        if (status == JAW_ENOMEM)
            no_memory();
        notes_print(notes, JAW_ERROR);
    }
    sheets_drop(&all);
    return end;
}

static int solve_sheet(const job *j, const char *path)
{
    input in;
    bool printed = false;
    int status = EXIT_USAGE;
    if (input_read(path, &in)) {
        jaw_setup *setup = jaw_setup_alloc();
        jaw_notes *notes = jaw_notes_alloc();
        if (setup && notes)
            status = solve_text(j, &in, setup, notes, &printed);
        else
            no_memory();
        jaw_notes_free(notes);
        jaw_setup_free(setup);
        input_drop(&in);
    }
    if (j->json && !printed)
        puts("null");
    return status;
}

int command_solve(const arguments *args)
{
    job j;
    int worst = EXIT_STANDS;
    if (!job_read(args, &j))
        return EXIT_USAGE;
    if (args->operands < 1 && isatty(STDIN_FILENO)) {
        complain("such as `jawline solve plate.jaw'; see `jawline solve "
                 "--help'",
                 "which SHEET is not said");
        return EXIT_USAGE;
    }
    if (args->operands < 1)
        return solve_sheet(&j, "-");
    for (int i = 0; i < args->operands; i++) {
        if (args->operands > 1 && !j.json)
            printf("%s==== %s\n", i > 0 ? "\n" : "", args->operand[i]);
        fflush(stdout);
        worst = worse(worst, solve_sheet(&j, args->operand[i]));
    }
    return worst;
}
