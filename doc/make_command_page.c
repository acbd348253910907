/* SPDX-License-Identifier: GPL-3.0-or-later */
/* make_command_page.c: writes jawline(1) from the tables that drive the
 * command itself, so that the page can not say otherwise.  With --examples it
 * writes what the page shows, for the test that runs it: blocks of
 *
 *     $ arguments
 *     ? exit status
 *     output, each line behind "| " */
#include <stdio.h>
#include <string.h>

#include "src/cli/options.h"
#include "src/report/cautions.h"

#ifndef PACKAGE_STRING
#define PACKAGE_STRING "jawline"
#endif

/* Text that roff shows as it stands. */
static void put(const char *text)
{
    bool start = true;
    for (; *text; text++) {
        if (start && (*text == '.' || *text == '\''))
            fputs("\\&", stdout);
        start = *text == '\n';
        if (*text == '\\')
            fputs("\\e", stdout);
        else if (*text == '-')
            fputs("\\-", stdout);
        else
            putchar(*text);
    }
}

/* Prose, in lines that an editor shows whole. */
static void put_prose(const char *text)
{
    int column = 0;
    while (*text) {
        int len = (int)strcspn(text, " ");
        if (column > 0 && column + len > 70) {
            putchar('\n');
            column = 0;
        } else if (column > 0) {
            putchar(' ');
        }
        char word[80];
        snprintf(word, sizeof word, "%.*s", len, text);
        put(word);
        column += len + 1;
        text += len;
        text += *text == ' ';
    }
    putchar('\n');
}

static void put_bold(const char *text)
{
    fputs("\\fB", stdout);
    put(text);
    fputs("\\fR", stdout);
}

/* Operands: words of ours in capitals are set in italics. */
static void put_operands(const char *text)
{
    fputs("\\fI", stdout);
    put(text);
    fputs("\\fR", stdout);
}

static void put_paragraph(const char *text)
{
    puts(".PP");
    put_prose(text);
}

static void head(void)
{
    puts(".\\\" Made by doc/make_command_page.c from src/cli/options.h.");
    printf(".TH JAWLINE 1 \"\" \"%s\" \"User Commands\"\n", PACKAGE_STRING);
    puts(".SH NAME\njawline \\- work offsets, skew and tool lengths from what "
         "was touched");
}

static void synopsis(void)
{
    puts(".SH SYNOPSIS");
#define LINE(id, word, operands, brief, text)                                  \
    fputs(".B jawline " word "\n", stdout);                                    \
    fputs("[\\fIOPTION\\fR...] ", stdout);                                     \
    put_operands(operands);                                                    \
    puts("\n.br");
    COMMAND_LIST(LINE)
#undef LINE
    puts(".B jawline\n\\fB\\-\\-help\\fR | \\fB\\-\\-version\\fR");
}

static void description(void)
{
    puts(".SH DESCRIPTION");
    put_prose("jawline takes what was touched on a mill with an edge finder, a "
        "probe or a pin, works out every value to enter on the control, and "
        "says how good each one is and which touch spoils it. It advises; the "
        "person enters. A book keeps the lengths of tools, what was entered, and "
        "where things stood, and says what has changed. Results go to standard "
        "output, everything else to standard error.");
}

static void options_on(int on)
{
#define LINE(id, word, value, where, text)                                     \
    if ((where) & on) {                                                        \
        const char *name = value;                                              \
        puts(".TP");                                                           \
        put_bold("--" word);                                                   \
        if (name) {                                                            \
            putchar(' ');                                                      \
            put_operands(name);                                                \
        }                                                                      \
        putchar('\n');                                                         \
        put_prose(text ".");                                                   \
    }
    OPTION_LIST(LINE)
#undef LINE
}

static void command(const char *word, const char *brief, const char *text,
                    int on)
{
    printf(".SS ");
    put(word);
    fputs(": ", stdout);
    put(brief);
    putchar('\n');
    put_prose(text);
    options_on(on);
}

static void commands(void)
{
    puts(".SH COMMANDS");
    put_prose("An option may be written anywhere behind the command, "
              "shortened as far as it stays unmistakable, and with its value "
              "as --tip 4 or --tip=4.");
#define LINE(id, word, operands, brief, text)                                  \
    command(word, brief, text, ON_##id);
    COMMAND_LIST(LINE)
#undef LINE
    puts(".SS without a command");
    options_on(ON_NONE);
}

static void sheets(void)
{
    puts(".SH SHEETS\nWhat synth makes beside single features:");
#define LINE(id, word, make, text)                                             \
    puts(".TP");                                                               \
    put_bold(word);                                                            \
    putchar('\n');                                                             \
    put_prose(text ".");
    SHEET_LIST(LINE)
#undef LINE
}

static void statuses(void)
{
    puts(".SH EXIT STATUS");
#define LINE(name, status, text)                                               \
    puts(".TP\n.B " #status);                                                  \
    put_prose(text ".");
    EXIT_LIST(LINE)
#undef LINE
}

static void environment(void)
{
    puts(".SH ENVIRONMENT\n.TP\n.B NO_COLOR");
    put_prose("When it is set and not empty nothing is coloured. Nothing is "
              "either when the output is no terminal, or TERM is dumb.");
    puts(".TP\n.B JAWLINE_BOOK");
    put_prose("The file that the book is in, where --book does not name one.");
    puts(".TP\n.B XDG_DATA_HOME, HOME");
    put_prose("Without either the book is jawline/book.sqlite in the first of "
              "them, or in .local/share of the second.");
}

static void example(const char *what, const char *line,
                    const char *output)
{
    put_paragraph(what);
    puts(".PP\n.RS 4\n.EX");
    fputs("$ jawline ", stdout);
    put(line);
    putchar('\n');
    put(output);
    puts(".EE\n.RE");
}

static void examples(void)
{
    puts(".SH EXAMPLES");
#define LINE(what, arguments, status, output) example(what, arguments, output);
    EXAMPLE_LIST(LINE)
#undef LINE
}

static void cautions(void)
{
    puts(".SH CAUTIONS");
#define LINE(text) puts(".br"), put_prose(text);
    JAW__CAUTION_LIST(LINE)
#undef LINE
}

static void page(void)
{
    head();
    synopsis();
    description();
    commands();
    puts(".SH POINTS");
    put_prose(POINT_TEXT);
    sheets();
    statuses();
    environment();
    examples();
    cautions();
    puts(".SH SEE ALSO\n.BR jawline\\-sheet (5),\n.BR libjawline (3)");
}

static void plain_example(const char *line, int status, const char *output)
{
    printf("$ %s\n? %d\n", line, status);
    while (*output) {
        int len = (int)strcspn(output, "\n");
        printf("| %.*s\n", len, output);
        output += len + (output[len] == '\n');
    }
}

static void plain_examples(void)
{
#define LINE(what, arguments, status, output)                                  \
    plain_example(arguments, status, output);
    EXAMPLE_LIST(LINE)
#undef LINE
}

int main(int argc, char *argv[])
{
    if (argc > 1 && strcmp(argv[1], "--examples") == 0)
        plain_examples();
    else
        page();
    return fflush(stdout) != 0 || ferror(stdout);
}
