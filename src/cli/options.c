/* SPDX-License-Identifier: GPL-3.0-or-later */
/* options.c: arguments by the table of options.h.
 *
 * getopt takes `-3.1,2` for options, and a touch often begins with a minus.
 * The arguments are therefore sorted first: options with their values, then
 * `--`, then everything else. */
#include "cli.h"

#include <errno.h>
#include <getopt.h>
#include <stdlib.h>
#include <string.h>

typedef struct command_row {
    const char *word, *operands, *brief, *text;
} command_row;

static const command_row commands[] = {
#define ROW(id, word, operands, brief, text) {word, operands, brief, text},
    COMMAND_LIST(ROW)
#undef ROW
};

typedef struct option_row {
    const char *word, *value;
    int on;
    const char *text;
} option_row;

static const option_row options[] = {
#define ROW(id, word, value, on, text) {word, value, on, text},
    OPTION_LIST(ROW)
#undef ROW
};

static int command_bit(command_id command)
{
    return 1 << command;
}

/* ------------------------------------------------------------------- words */

command_id command_find(const char *word)
{
    for (int i = 0; i < COMMANDS; i++)
        if (strcmp(commands[i].word, word) == 0)
            return (command_id)i;
    return COMMANDS;
}

const char *command_nearest(const char *word)
{
    const char *words[COMMANDS];
    for (int i = 0; i < COMMANDS; i++)
        words[i] = commands[i].word;
    return jaw_word_nearest(word, words, COMMANDS);
}

const char *option_word(option_id id)
{
    return options[id].word;
}

/* An option by its word or an unmistakable beginning of it, among those of
 * this command; OPTIONS when there is none. */
static option_id option_find(int bit, const char *word, size_t len)
{
    int found = OPTIONS, count = 0;
    for (int i = 0; i < OPTIONS; i++) {
        if (!(options[i].on & bit) || strncmp(options[i].word, word, len) != 0)
            continue;
        if (options[i].word[len] == '\0')
            return (option_id)i;
        found = i;
        count++;
    }
    return count == 1 ? (option_id)found : OPTIONS;
}

static void complain_option(command_id command, const char *word, size_t len)
{
    const char *words[OPTIONS], *near;
    char *copy = strndup(word, len);
    size_t n = 0;
    int bit = command_bit(command);
    for (int i = 0; i < OPTIONS; i++)
        if (options[i].on & bit)
            words[n++] = options[i].word;
    near = copy ? jaw_word_nearest(copy, words, n) : NULL;
    option_id other = option_find(ON_ALL, word, len);
    if (near)
        complain(NULL, "unknown option `--%.*s'; did you mean `--%s'?",
                 (int)len, word, near);
    else if (command != COMMANDS && other != OPTIONS)
        complain("see `jawline --help'", "`--%.*s' does not belong to `%s'",
                 (int)len, word, commands[command].word);
    else
        complain("see `jawline --help'", "unknown option `--%.*s'", (int)len,
                 word);
    free(copy);
}

/* ----------------------------------------------------------------- parsing */

/* `-` alone is standard input, and -3 or -.5 a number. */
static bool is_option(const char *arg)
{
    return arg[0] == '-' && arg[1] != '\0' && arg[1] != '.' &&
           !(arg[1] >= '0' && arg[1] <= '9');
}

/* The option that arg is; OPTIONS after complaining. */
static option_id option_of(command_id command, const char *arg)
{
    if (arg[1] != '-') {
        complain("options have two dashes and a word; see `jawline --help'",
                 "unknown option `%s'", arg);
        return OPTIONS;
    }
    size_t len = strcspn(arg + 2, "=");
    option_id id = option_find(command_bit(command), arg + 2, len);
    if (id == OPTIONS)
        complain_option(command, arg + 2, len);
    return id;
}

/* Sorts argv[1..] into options and operands; sorted has room for 2 argc + 4.
 * Returns the count, or -1 after complaining. */
static int sort_arguments(command_id command, int argc, char *argv[],
                          char *sorted[])
{
    static char dashes[] = "--";
    int n = 0, rest = 0, i = 1;
    char **operand = sorted + argc + 2;
    sorted[n++] = argv[0];
    for (; i < argc && strcmp(argv[i], "--") != 0; i++) {
        if (!is_option(argv[i])) {
            operand[rest++] = argv[i];
            continue;
        }
        option_id id = option_of(command, argv[i]);
        if (id == OPTIONS)
            return -1;
        sorted[n++] = argv[i];
        if (!options[id].value || strchr(argv[i], '='))
            continue;
        if (i + 1 == argc) {
            complain("write it behind the option", "`%s' needs a value",
                     argv[i]);
            return -1;
        }
        sorted[n++] = argv[++i];
    }
    while (++i < argc)
        operand[rest++] = argv[i];
    sorted[n++] = dashes;
    memmove(sorted + n, operand, (size_t)rest * sizeof *sorted);
    return n + rest;
}

static void long_options(struct option table[OPTIONS + 1], int bit)
{
    int n = 0;
    for (int i = 0; i < OPTIONS; i++)
        if (options[i].on & bit)
            table[n++] = (struct option){
                options[i].word,
                options[i].value ? required_argument : no_argument, NULL, i};
    table[n] = (struct option){0};
}

bool arguments_read(command_id command, int argc, char *argv[],
                    arguments *args)
{
    struct option table[OPTIONS + 1];
    *args = (arguments){.command = command};
    args->sorted = calloc(2 * (size_t)argc + 4, sizeof *args->sorted);
    if (!args->sorted)
        return no_memory();
    int n = sort_arguments(command, argc, argv, args->sorted);
    long_options(table, command_bit(command));
    int id = -1;
    while (n > 0 &&
           (id = getopt_long(n, args->sorted, ":", table, NULL)) >= 0) {
        if (id == '?') { /* all else was found before */
            const char *arg = args->sorted[optind - 1];
            complain(NULL, "`%.*s' takes no value", (int)strcspn(arg, "="),
                     arg);
            n = -1;
        } else {
            args->value[id] = optarg ? optarg : "";
        }
    }
    if (n < 0) {
        arguments_drop(args);
        return false;
    }
    args->operand = args->sorted + optind;
    args->operands = n - optind;
    return true;
}

void arguments_drop(arguments *args)
{
    free(args->sorted);
    args->sorted = NULL;
}

/* ------------------------------------------------------------------ values */

bool unit_read(const char *word, jaw_unit *unit)
{
    for (jaw_unit u = JAW_MM; u <= JAW_IN; u++) {
        if (strcmp(word, jaw_unit_word(u)) == 0) {
            *unit = u;
            return true;
        }
    }
    return false;
}

bool option_unit(const arguments *args, jaw_unit *unit)
{
    const char *word = args->value[OPT_UNIT];
    if (!word || unit_read(word, unit))
        return true;
    complain("--unit is mm or in", "unknown unit `%s'", word);
    return false;
}

/* The number at the start and the word behind it; NULL after complaining. */
static const char *number_value(const arguments *args, option_id id,
                                double *value)
{
    const char *text = args->value[id];
    size_t used;
    bool good = jaw_number_read(text, strlen(text), value, &used) == JAW_OK;
    if (good && text[used] != ',')
        return text + used;
    complain("a number with a point, such as 6.35", "--%s: `%s' is no number",
             options[id].word, text);
    return NULL;
}

bool option_length(const arguments *args, option_id id, jaw_unit unit,
                   bool zero_is_good, double *mm)
{
    double value;
    if (!args->value[id])
        return true;
    const char *word = number_value(args, id, &value);
    if (!word)
        return false;
    if (*word && !unit_read(word, &unit)) {
        complain("a length is in mm or in", "--%s: unknown unit `%s'",
                 options[id].word, word);
        return false;
    }
    value *= jaw_unit_mm(unit);
    if (!(value <= JAW_LENGTH_LARGEST) || value < 0 ||
        (value == 0 && !zero_is_good)) {
        complain(zero_is_good ? "a size is 0 or more, and not larger than 1 km"
                              : "a size is larger than 0, but not than 1 km",
                 "--%s: `%s' can not be", options[id].word, args->value[id]);
        return false;
    }
    *mm = value;
    return true;
}

bool option_angle(const arguments *args, option_id id, double *rad)
{
    double value;
    if (!args->value[id])
        return true;
    const char *word = number_value(args, id, &value);
    if (!word)
        return false;
    if (strcmp(word, "rad") == 0) {
        *rad = value;
        return true;
    }
    if (*word && strcmp(word, "deg") != 0) {
        complain("an angle is in deg or rad", "--%s: unknown unit `%s'",
                 options[id].word, word);
        return false;
    }
    *rad = jaw_rad(value);
    return true;
}

bool option_count(const arguments *args, option_id id, unsigned long most,
                  unsigned long *n)
{
    const char *text = args->value[id];
    char *end;
    if (!text)
        return true;
    errno = 0;
    unsigned long value = strtoul(text, &end, 10);
    if (text[0] >= '0' && text[0] <= '9' && !*end && !errno && value <= most) {
        *n = value;
        return true;
    }
    complain(NULL, "--%s: `%s' is no whole number from 0 to %lu",
             options[id].word, text, most);
    return false;
}

/* -------------------------------------------------------------------- help */

enum { HELP_WIDTH = 78 };

void print_wrapped(FILE *out, const char *text, int indent, int column)
{
    while (*text) {
        int len = (int)strcspn(text, " ");
        if (column > indent && column + 1 + len > HELP_WIDTH) {
            fputc('\n', out);
            column = 0;
        }
        if (column <= indent)
            column += fprintf(out, "%*s", indent - column, "");
        else
            column += fprintf(out, " ");
        column += fprintf(out, "%.*s", len, text);
        text += len;
        text += strspn(text, " ");
    }
    fputc('\n', out);
}

static void put_option(FILE *out, const option_row *row)
{
    enum { INDENT = 22 };
    int column = fprintf(out, "  --%s%s%s", row->word, row->value ? " " : "",
                         row->value ? row->value : "");
    if (column >= INDENT) {
        fputc('\n', out);
        column = 0;
    }
    print_wrapped(out, row->text, INDENT, column);
}

static void put_options(FILE *out, int bit)
{
    fputs("\nOptions:\n", out);
    for (int i = 0; i < OPTIONS; i++)
        if (options[i].on & bit)
            put_option(out, &options[i]);
}

static void put_sheets(FILE *out)
{
    fputs("\nSheets:\n", out);
#define SHEET(id, word, make, text)                                            \
    print_wrapped(out, text, 16, fprintf(out, "  %s", word));
    SHEET_LIST(SHEET)
#undef SHEET
}

static void put_statuses(FILE *out)
{
    static const struct {
        int status;
        const char *text;
    } rows[] = {
#define ROW(name, status, text) {status, text},
        EXIT_LIST(ROW)
#undef ROW
    };
    fputs("\nExit status:\n", out);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        print_wrapped(out, rows[i].text, 5,
                      fprintf(out, "  %d", rows[i].status));
}

static void help_all(FILE *out)
{
    fputs("usage: jawline COMMAND ...\n"
          "Work offsets, skew and tool lengths from what was touched.\n\n",
          out);
    for (int i = 0; i < COMMANDS; i++)
        print_wrapped(out, commands[i].brief, 14,
                    fprintf(out, "  %s", commands[i].word));
    put_options(out, ON_NONE);
    put_statuses(out);
    fputs("\n`jawline COMMAND --help' says more; so does jawline(1).\n", out);
}

void help_print(FILE *out, command_id command)
{
    if (command == COMMANDS) {
        help_all(out);
        return;
    }
    const command_row *row = &commands[command];
    fprintf(out, "usage: jawline %s [OPTION...]%s%s\n\n", row->word,
            *row->operands ? " " : "", row->operands);
    print_wrapped(out, row->text, 0, 0);
    if (command == CMD_FIT || command == CMD_TIP) {
        fputc('\n', out);
        print_wrapped(out, POINT_TEXT, 0, 0);
    }
    if (command == CMD_SYNTH)
        put_sheets(out);
    put_options(out, command_bit(command));
    put_statuses(out);
}
