/* SPDX-License-Identifier: GPL-3.0-or-later */
/* main.c: which command, and whether what it printed has arrived. */
#include "cli.h"

#include <errno.h>
#include <signal.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

void complain(const char *cure, const char *format, ...)
{
    va_list list;
    va_start(list, format);
    fputs("jawline: ", stderr);
    vfprintf(stderr, format, list);
    va_end(list);
    if (cure && *cure)
        fprintf(stderr, "; %s", cure);
    fputc('\n', stderr);
}

void complain_unknown(const char *what, const char *word, const char *near,
                      const char *cure)
{
    if (near)
        complain(NULL, "%s `%s'; did you mean `%s'?", what, word, near);
    else
        complain(cure, "%s `%s'", what, word);
}

bool no_memory(void)
{
    complain(NULL, "out of memory");
    return false;
}

/* Statuses that say "state it otherwise" are input; those that say "touch it
 * otherwise" are geometry. */
int exit_from(jaw_status status)
{
    switch (status) {
    case JAW_OK:
        return EXIT_STANDS;
    case JAW_EFEW:
    case JAW_ERANK:
    case JAW_ENOCONV:
    case JAW_ESIZE:
        return EXIT_UNSOLVED;
    default:
        return EXIT_USAGE;
    }
}

bool colour_on(FILE *stream)
{
    const char *no = getenv("NO_COLOR");
    const char *term = getenv("TERM");
    return isatty(fileno(stream)) && !(no && *no) && term &&
           strcmp(term, "dumb") != 0;
}

void notes_print(const jaw_notes *notes, jaw_severity severity)
{
    jaw_report_style style = {.colour = colour_on(stderr)};
    const jaw_note *note;
    for (size_t i = 0; (note = jaw_notes_get(notes, i)) != NULL; i++) {
        if (note->severity < severity)
            continue;
        char *text = jaw_report_note(note, style);
        fputs(text ? text : "jawline: out of memory\n", stderr);
        free(text);
    }
    if (jaw_notes_lost(notes) > 0)
        complain(NULL, "out of memory: %zu more messages were lost",
                 jaw_notes_lost(notes));
}

static int run_command(command_id command, int argc, char *argv[])
{
    static int (*const run[COMMANDS])(const arguments *) = {
        command_solve,   command_entered,  command_moved,  command_setups,
        command_fit,     command_selftest, command_synth,  command_tip,
        command_tool,    command_tools,    command_setter, command_machine,
        command_mark,    command_marks,    command_fixture, command_fixtures,
        command_book};
    arguments args;
    if (!arguments_read(command, argc, argv, &args))
        return EXIT_USAGE;
    int status = EXIT_STANDS;
    if (args.value[OPT_HELP])
        help_print(stdout, command);
    else
        status = run[command](&args);
    arguments_drop(&args);
    return status;
}

static int run_none(int argc, char *argv[])
{
    arguments args;
    if (!arguments_read(COMMANDS, argc, argv, &args))
        return EXIT_USAGE;
    int status = EXIT_STANDS;
    if (args.value[OPT_HELP]) {
        help_print(stdout, COMMANDS);
    } else if (args.value[OPT_VERSION]) {
        puts(PACKAGE_STRING);
    } else {
        help_print(stderr, COMMANDS);
        status = EXIT_USAGE;
    }
    arguments_drop(&args);
    return status;
}

static int run(int argc, char *argv[])
{
    if (argc < 2 || argv[1][0] == '-')
        return run_none(argc, argv);
    command_id command = command_find(argv[1]);
    if (command != COMMANDS)
        return run_command(command, argc - 1, argv + 1);
    complain_unknown("unknown command", argv[1], command_nearest(argv[1]),
                     "`jawline --help' lists the commands");
    return EXIT_USAGE;
}

/* A value that did not reach the disk or the next program was not given. */
static int close_output(int status)
{
    bool bad = ferror(stdout) != 0;
    errno = 0;
    if (fclose(stdout) != 0)
        bad = true;
    if (!bad)
        return status;
    complain(NULL, "standard output can not be written%s%s",
             errno ? ": " : "", errno ? strerror(errno) : "");
    return EXIT_USAGE;
}

int main(int argc, char *argv[])
{
    /* so that a closed pipe is an error to report and not a silent end */
    signal(SIGPIPE, SIG_IGN);
    return close_output(run(argc, argv));
}
