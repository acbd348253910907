/* SPDX-License-Identifier: GPL-3.0-or-later */
/* entered.c: `jawline entered`: what the control shows, held against what was
 * to be entered. */
#include "shownbook.h"

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
    solved sheet;       /* empty when a kept setup is meant */
    shownbook book;
    char *title;
    jaw_unit unit;
    int stands;         /* exit status that the sheet alone stands for */
    jaw_readback_value *value;
    jaw_readback_found *found;
    size_t n;
} job;

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
    free(j->title);
    solved_drop(&j->sheet);
}

/* ------------------------------------------------------------------- sheet */

static bool has_values(job *j)
{
    j->found = calloc(j->n + 1, sizeof *j->found);
    if (!j->found)
        return no_memory();
    if (j->n > 0)
        return true;
    complain("let the sheet ask for a zero or a tool",
             "`%s' has no value to enter", j->args->operand[0]);
    return false;
}

/* Values that marks carried since, of a sheet from before. */
static bool old_told(job *j)
{
    jaw_book_kept kept;
    size_t n;

    if (!j->book.open)
        return true;
    jaw_status status = jaw_book_kept_make(j->sheet.setup, j->sheet.solution,
                                           j->book.s.machine, &kept);
    if (status == JAW_OK)
        status = jaw_book_kept_old(j->book.s.book, &kept, &n);
    jaw_book_kept_free(&kept);
    shop_tell(&j->book.s);
    return status == JAW_ENOMEM ? no_memory() : true;
}

/* Everything up to the list of values. */
static bool sheet_read(job *j)
{
    solved *s = &j->sheet;

    if (!solved_read(j->args, j->args->operand[0], j->lengths, false, s))
        return false;
    notes_print(s->notes, JAW_DOUBT);
    if (!s->solution)
        return false;
    j->stands = exit_from_solution(s->solution, s->notes, s->status);
    j->unit = jaw_setup_control(s->setup)->unit;
    j->title = strdup(jaw_setup_title(s->setup));
    if (!j->title || jaw_solution_registers(s->setup, s->solution, &j->value,
                                            &j->n) != JAW_OK)
        return no_memory();
    return has_values(j) && old_told(j);
}

/* A setup of the book, by its title, where there is no such file. */
static bool kept_read(job *j)
{
    if (j->lengths != JAW_LENGTH_RULES) {
        complain("leave it out, or give the sheet itself",
                 "--lengths does not go with a kept setup");
        return false;
    }
    return shownbook_kept(&j->book, &j->title, &j->unit, &j->stands,
                          &j->value, &j->n) &&
           has_values(j);
}

/* A file that is there is a sheet; anything else may be a title. */
static bool setup_read(job *j)
{
    const char *what = j->args->operand[0];

    if (is_input(what) || access(what, F_OK) == 0 || !j->book.open)
        return sheet_read(j);
    if (shownbook_find(&j->book, what))
        return kept_read(j);
    return sheet_read(j); /* which says that there is none */
}

/* ------------------------------------------------------------------ values */

/* Rows into the list; notes say what is wrong with them. */
static jaw_status rows_put(job *j, const input *in, bool before,
                           jaw_notes *notes)
{
    jaw_shown_list *list;
    jaw_status status = jaw_shown_read_text(in->text, in->len, in->name,
                                            j->unit, &list, notes);

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

static bool arguments_put(job *j)
{
    input in;

    if (!operands_join(j->args->operand + 1, j->args->operands - 1, "VALUE",
                       &in))
        return false;
    bool good = input_put(j, &in, false);
    input_drop(&in);
    return good;
}

/* ----------------------------------------------------------------- compare */

static jaw_readback readback_of(const job *j)
{
    return (jaw_readback){.title = j->title,
                          .unit = j->unit,
                          .value = j->value,
                          .found = j->found,
                          .n = j->n,
                          .before = *j->book.before ? j->book.before : NULL};
}

/* Every step and value comes from a solved setup, so none is out of range
 * unless it lies beyond a million; that is then said. */
static bool compare(job *j)
{
    shownbook_pick(&j->book, j->value, j->n);
    if (jaw_readback_compare(j->value, j->n, j->unit, j->found) == JAW_OK)
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
    double scale = j->value[i].angle ? jaw_rad(1) : jaw_unit_mm(j->unit);
    int column =
        fprintf(stderr, "    %s %s was to be %s:", j->value[i].name,
                j->value[i].word,
                step_text(j->value[i].value, j->value[i].step, scale).s);

    print_wrapped(stderr, why ? why : "out of memory", 4, column);
    free(why);
}

/* A bare number belongs to the register that is asked for, and so does an axis
 * without its register; a whole row may be of any other.  NULL: of the axis that
 * is asked for; "": of what it names itself. */
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
        if (j->found[k].state == JAW_READ_OFF && (k == i || !same))
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
                v->angle ? "deg" : jaw_unit_word(j->unit));
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
    if (!j->before && j->book.open &&
        !shownbook_before(&j->book, j->value, j->n))
        return no_memory();
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

static int worst_of(const job *j)
{
    int status = j->stands;

    for (size_t i = 0; i < j->n; i++)
        if (j->found[i].state != JAW_READ_GOOD && status < EXIT_DOUBT)
            status = EXIT_DOUBT;
    return status;
}

static int answer(job *j)
{
    if (!setup_read(j) || !values_read(j) || !compare(j) || !print(j))
        return EXIT_USAGE;
    if (j->args->value[OPT_KEEP] &&
        !shownbook_write(&j->book, j->title, j->unit, j->value, j->n,
                         j->args->value[OPT_JSON] == NULL))
        return EXIT_USAGE;
    return worst_of(j);
}

int command_entered(const arguments *args)
{
    job j;
    int status = EXIT_USAGE;

    if (!job_read(args, &j))
        return EXIT_USAGE;
    if (shownbook_begin(args, &j.book))
        status = answer(&j);
    int book = shownbook_end(&j.book);
    job_drop(&j);
    return book > status ? book : status;
}
