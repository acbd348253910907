/* SPDX-License-Identifier: GPL-3.0-or-later */
/* entered.c: `jawline entered`: what the control shows, held against what was
 * to be entered. */
#include "cli.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

typedef struct job {
    const arguments *args;
    jaw_length_rule lengths;
    const char *before; /* file; NULL: none */
    bool ask;           /* on a terminal */
    jaw_notes *notes;
    jaw_setup *setup;
    jaw_solution *solution;
    jaw_readback_value *value;
    jaw_readback_found *found;
    size_t n;
} job;

static bool no_memory(void)
{
    complain(NULL, "out of memory");
    return false;
}

/* --------------------------------------------------------------- arguments */

/* A lone word is a file: a value takes two at least. */
static bool is_file(const arguments *args)
{
    return args->operands == 2 && !strpbrk(args->operand[1], " \t\n");
}

static bool is_input(const char *path)
{
    return path && strcmp(path, "-") == 0;
}

/* Standard input can be read once. */
static bool input_is_free(const job *j)
{
    const arguments *args = j->args;
    bool values = args->operands == 1 ||
                  (is_file(args) && is_input(args->operand[1]));
    int n = is_input(args->operand[0]) + is_input(j->before) + values;

    if (n > 1)
        complain("give a file for all but one",
                 "standard input can not be the sheet, what is shown and what "
                 "was before at once");
    return n <= 1;
}

static bool job_read(const arguments *args, job *j)
{
    *j = (job){.args = args,
               .before = args->value[OPT_BEFORE],
               .ask = args->operands == 1 && isatty(STDIN_FILENO)};
    if (args->operands < 1) {
        complain("such as `jawline entered plate.jaw'; see `jawline entered "
                 "--help'",
                 "which SHEET is not said");
        return false;
    }
    return lengths_read(args, &j->lengths) && input_is_free(j);
}

static void job_drop(job *j)
{
    free(j->found);
    free(j->value);
    jaw_solution_free(j->solution);
    jaw_setup_free(j->setup);
    jaw_notes_free(j->notes);
}

/* ------------------------------------------------------------------- sheet */

/* A sheet with a mistake in it is not solved, as by `jawline solve`. */
static jaw_status sheet_solve(job *j, const input *in)
{
    sheets all;
    jaw_status status = sheets_read(&all, in, j->setup, j->notes);

    if (status == JAW_OK && jaw_notes_at_least(j->notes, JAW_ERROR) > 0)
        status = JAW_ESYNTAX;
    if (status == JAW_OK && !lengths_put(j->lengths, j->setup)) {
        sheets_drop(&all);
        return JAW_EDOMAIN;
    }
    if (status == JAW_OK) {
        size_t first = jaw_notes_count(j->notes);
        status = jaw_setup_solve(j->setup, j->notes, &j->solution);
        if (sheets_locate(&all, j->setup, j->notes, first) != JAW_OK)
            status = JAW_ENOMEM;
    }
    sheets_drop(&all);
    notes_print(j->notes, JAW_DOUBT);
    return status;
}

static bool registers_list(job *j)
{
    if (jaw_solution_registers(j->setup, j->solution, &j->value, &j->n) !=
        JAW_OK)
        return no_memory();
    j->found = calloc(j->n + 1, sizeof *j->found);
    if (!j->found)
        return no_memory();
    if (j->n > 0)
        return true;
    complain("let the sheet ask for a zero or a tool",
             "`%s' has no value to enter", j->args->operand[0]);
    return false;
}

/* Everything up to the list of values; the exit status that the sheet alone
 * stands for, EXIT_USAGE when there is no list. */
static int sheet_read(job *j)
{
    input in;
    int status = EXIT_USAGE;

    if (!input_read(j->args->operand[0], &in))
        return EXIT_USAGE;
    j->setup = jaw_setup_alloc();
    j->notes = jaw_notes_alloc();
    if (!j->setup || !j->notes) {
        no_memory();
    } else {
        jaw_status solved = sheet_solve(j, &in);
        if (solved == JAW_ENOMEM)
            no_memory();
        else if (j->solution && registers_list(j))
            status = exit_from_solution(j->solution, j->notes, solved);
    }
    input_drop(&in);
    return status;
}

/* ------------------------------------------------------------------ values */

static jaw_unit unit_of(const job *j)
{
    return jaw_setup_control(j->setup)->unit;
}

/* Rows into the list; notes say what is wrong with them. */
static jaw_status rows_put(job *j, const input *in, bool before,
                           jaw_notes *notes)
{
    jaw_shown_list *list;
    jaw_status status = jaw_shown_read_text(in->text, in->len, in->name,
                                            unit_of(j), &list, notes);

    if (status == JAW_OK) {
        size_t first = jaw_notes_count(notes);
        status = jaw_shown_put(list, before, j->value, j->n, notes);
        if (jaw_notes_locate(notes, first, 0, in->name, in->text, in->len) !=
            JAW_OK)
            status = JAW_ENOMEM;
    }
    jaw_shown_free(list);
    return status;
}

static bool input_put(job *j, const input *in, bool before)
{
    jaw_notes *notes = jaw_notes_alloc();
    jaw_status status = notes ? rows_put(j, in, before, notes) : JAW_ENOMEM;

    notes_print(notes, JAW_ERROR);
    jaw_notes_free(notes);
    return status == JAW_ENOMEM ? no_memory() : status == JAW_OK;
}

static bool file_put(job *j, const char *path, bool before)
{
    input in;

    if (!input_read(path, &in))
        return false;
    bool good = input_put(j, &in, before);
    input_drop(&in);
    return good;
}

/* The arguments as rows, one each, so that messages say which it was. */
static bool arguments_put(job *j)
{
    input in = {.name = "VALUE"};
    size_t size = 1;

    for (int i = 1; i < j->args->operands; i++)
        size += strlen(j->args->operand[i]) + 1;
    in.text = malloc(size);
    if (!in.text)
        return no_memory();
    for (int i = 1; i < j->args->operands; i++) {
        size_t len = strlen(j->args->operand[i]);
        memcpy(in.text + in.len, j->args->operand[i], len);
        in.len += len + 1;
        in.text[in.len - 1] = '\n';
    }
    bool good = input_put(j, &in, false);
    input_drop(&in);
    return good;
}

/* ----------------------------------------------------------------- compare */

static jaw_readback readback_of(const job *j)
{
    return (jaw_readback){jaw_setup_title(j->setup), unit_of(j), j->value,
                          j->found, j->n};
}

/* Every step and value comes from a solved setup, so none is out of range
 * unless it lies beyond a million; that is then said. */
static bool compare(job *j)
{
    if (jaw_readback_compare(j->value, j->n, unit_of(j), j->found) == JAW_OK)
        return true;
    complain("look at the sheet's numbers and at the control's step",
             "a value to enter is larger than a million, or its step is "
             "finer than nine decimals");
    return false;
}

/* ------------------------------------------------------------------ asking */

/* What is wrong with a line that was typed. */
static void say_notes(const jaw_notes *notes)
{
    const jaw_note *note;

    for (size_t i = 0; (note = jaw_notes_get(notes, i)) != NULL; i++) {
        int column = fprintf(stderr, "    %s;", note->what);
        print_wrapped(stderr, note->cure, 4, column);
    }
}

static void say_off(const job *j, size_t i)
{
    jaw_readback r = readback_of(j);
    char *why = jaw_report_readback_reason(&r, i);
    double scale = j->value[i].angle ? jaw_rad(1) : jaw_unit_mm(unit_of(j));
    char number[64] = "?";

    jaw_number_write(j->value[i].value / scale,
                     jaw_step_decimals(j->value[i].step / scale), number,
                     sizeof number);
    int column = fprintf(stderr, "    %s %s was to be %s:", j->value[i].name,
                         j->value[i].word, number);
    print_wrapped(stderr, why ? why : "out of memory", 4, column);
    free(why);
}

/* A bare number belongs to the register that is asked for, and so does an axis
 * without its register; a whole row may be of any other. */
/* NULL: of the axis that is asked for; "": of what it names itself. */
static const char *row_of(const jaw_readback_value *v, const char *line)
{
    line += strspn(line, " \t");
    if (strchr("GgHh", line[0]) || strncmp(line, "tool", 4) == 0)
        return "";
    return isalpha((unsigned char)line[0]) ? v->name : NULL;
}

static char *row_make(const jaw_readback_value *v, const char *line)
{
    size_t size = sizeof v->name + strlen(v->word) + strlen(line) + 3;
    const char *name = row_of(v, line);
    char *row = malloc(size);

    if (row)
        snprintf(row, size, "%s%s%s %s", name ? name : v->name,
                 name ? "" : " ", name ? "" : v->word, line);
    return row;
}

/* A line that was typed when value i was asked for.  false when it can not be
 * understood, or is wrong: then it is asked for again. */
static bool line_take(job *j, size_t i, const char *line)
{
    char *row = row_make(&j->value[i], line);
    jaw_notes *notes = jaw_notes_alloc();
    jaw_status status = JAW_ENOMEM;
    double *old = calloc(j->n + 1, sizeof *old);

    for (size_t k = 0; old && k < j->n; k++)
        old[k] = j->value[k].shown;
    if (row && notes && old)
        status = rows_put(j, &(input){"", row, strlen(row)}, false, notes);
    if (status == JAW_ENOMEM)
        no_memory();
    else
        say_notes(notes);
    bool good = status == JAW_OK && compare(j);
    for (size_t k = 0; good && k < j->n; k++) {
        bool same = old[k] == j->value[k].shown;
        if (j->found[k].state == JAW_READ_OFF && (k == i || !same) &&
            !isnan(j->value[k].shown))
            say_off(j, k);
    }
    free(old);
    free(row);
    jaw_notes_free(notes);
    return good && j->found[i].state == JAW_READ_GOOD;
}

static bool is_blank_line(const char *line)
{
    return line[strspn(line, " \t\r\n")] == '\0';
}

/* false at the end of input. */
static bool ask_one(job *j, size_t i, char **line, size_t *room)
{
    const jaw_readback_value *v = &j->value[i];

    for (;;) {
        bool tool = v->name[0] == 'H';
        fprintf(stderr, "%s%s%s%s, %s: ", v->name, tool ? "" : " ",
                tool ? "" : v->word, isnan(v->shown) ? "" : " again",
                v->angle ? "deg" : jaw_unit_word(unit_of(j)));
        if (getline(line, room, stdin) < 0) {
            fputc('\n', stderr);
            return false;
        }
        if (is_blank_line(*line) || line_take(j, i, *line))
            return true;
    }
}

static void ask_all(job *j)
{
    char *line = NULL;
    size_t room = 0;

    fputs("Type what the control shows. Empty: leave it out; Ctrl-D: end.\n",
          stderr);
    for (size_t i = 0; i < j->n; i++)
        if (!isnan(j->value[i].value) && isnan(j->value[i].shown) &&
            !ask_one(j, i, &line, &room))
            break;
    free(line);
}

/* ------------------------------------------------------------------ command */

static bool values_read(job *j)
{
    if (j->before && !file_put(j, j->before, true))
        return false;
    if (j->ask)
        ask_all(j);
    else if (j->args->operands == 1)
        return file_put(j, "-", false);
    else if (is_file(j->args))
        return file_put(j, j->args->operand[1], false);
    else
        return arguments_put(j);
    return true;
}

static bool print(const job *j)
{
    jaw_readback r = readback_of(j);
    bool json = j->args->value[OPT_JSON] != NULL;
    jaw_report_style style = {.colour = !json && colour_on(stdout)};
    char *text = json ? jaw_report_readback_json(&r)
                      : jaw_report_readback_text(&r, style);

    if (!text)
        return no_memory();
    fputs(text, stdout);
    free(text);
    return true;
}

static int worst_of(const job *j, int status)
{
    for (size_t i = 0; i < j->n; i++)
        if (j->found[i].state != JAW_READ_GOOD && status < EXIT_DOUBT)
            status = EXIT_DOUBT;
    return status;
}

int command_entered(const arguments *args)
{
    job j;
    int status = EXIT_USAGE;

    if (!job_read(args, &j))
        return EXIT_USAGE;
    int sheet = sheet_read(&j);
    if (j.found && values_read(&j) && compare(&j) && print(&j))
        status = worst_of(&j, sheet);
    job_drop(&j);
    return status;
}
