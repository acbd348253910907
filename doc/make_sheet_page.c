/* SPDX-License-Identifier: GPL-3.0-or-later */
/* make_sheet_page.c: writes jawline-sheet(5) from the table that drives the
 * reader (src/sheet/grammar.h), so that the page can not say otherwise.
 *
 *     make_sheet_page EXAMPLE.jaw MISTAKE.jaw MISTAKE.expect
 *
 * The three files are printed as they stand; make check solves the first and
 * compares the others. */
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <jawline/feature.h>
#include <jawline/setup.h>

#include "src/report/cautions.h"
#include "src/sheet/grammar.h"

#ifndef PACKAGE_STRING
#define PACKAGE_STRING "jawline"
#endif

/* When the grammar last changed. */
#define PAGE_DATE "2026-11-26"

/* -------------------------------------------------------------------- roff */

static void put_char(char c)
{
    if (c == '\\')
        fputs("\\e", stdout);
    else if (c == '-')
        fputs("\\-", stdout);
    else if (c == '\'')
        fputs("\\(aq", stdout);
    else if (c == '`')
        fputs("\\(ga", stdout);
    else if (c == '^')
        fputs("\\(ha", stdout);
    else
        putchar(c);
}

/* Text that roff shows as it stands, line for line. */
static void put(const char *text)
{
    for (const char *s = text; *s; s++) {
        if ((s == text || s[-1] == '\n') && *s == '.')
            fputs("\\&", stdout);
        put_char(*s);
    }
}

/* Prose in short lines.  *word* is set in bold, ~word~ in italics. */
static void prose(const char *text)
{
    bool bold = false, italic = false;
    int column = 0;

    for (const char *s = text; *s; s++) {
        if (*s == '*') {
            bold = !bold;
            fputs(bold ? "\\fB" : "\\fR", stdout);
        } else if (*s == '~') {
            italic = !italic;
            fputs(italic ? "\\fI" : "\\fR", stdout);
        } else if (*s == ' ' && column > 60) {
            putchar('\n');
            column = 0;
            if (s[1] == '.')
                fputs("\\&", stdout);
        } else {
            if (column == 0 && s == text && *s == '.')
                fputs("\\&", stdout);
            put_char(*s);
            column++;
        }
    }
    putchar('\n');
}

static void paragraph(const char *text)
{
    puts(".PP");
    prose(text);
}

/* Capitals first: small letters in a message, large ones in a page. */
static void sentence(const char *text)
{
    char first[1000];
    size_t len = strlen(text);

    snprintf(first, sizeof first, "%s%s", text,
             len > 0 && text[len - 1] == '.' ? "" : ".");
    if (first[0] >= 'a' && first[0] <= 'z')
        first[0] = (char)(first[0] - 'a' + 'A');
    prose(first);
}

static void display(const char *text)
{
    puts(".PP\n.RS 4\n.EX");
    put(text);
    puts("\n.EE\n.RE");
}

/* A form of the grammar: kinds in italics, words in bold. */
static void put_form(const char *form)
{
    while (*form) {
        size_t len = strcspn(form, " []|");
        if (len == 0) {
            put_char(*form++);
            continue;
        }
        bool kind = form[0] >= 'A' && form[0] <= 'Z';
        fputs(kind ? "\\fI" : "\\fB", stdout);
        for (size_t i = 0; i < len; i++)
            put_char(form[i]);
        fputs("\\fR", stdout);
        form += len;
    }
}

static bool put_file(const char *path)
{
    char line[1000];
    FILE *f = fopen(path, "r");

    if (!f) {
        perror(path);
        return false;
    }
    puts(".PP\n.RS 4\n.EX");
    while (fgets(line, sizeof line, f))
        if (strncmp(line, "# SPDX", 6) != 0)
            put(line);
    puts(".EE\n.RE");
    fclose(f);
    return true;
}

/* ---------------------------------------------------------------- sections */

static void head(void)
{
    puts(".\\\" Made by doc/make_sheet_page.c from src/sheet/grammar.h.");
    printf(".TH JAWLINE-SHEET 5 \"%s\" \"%s\" \"File Formats\"\n", PAGE_DATE,
           PACKAGE_STRING);
    puts(".SH NAME\njawline\\-sheet \\- one setup of a mill as text");
}

static void idea(void)
{
    puts(".SH DESCRIPTION");
    prose("A sheet is one setup, written as it would be pencilled on paper: "
          "what touched, what was touched and what the control showed at each "
          "touch, and what is to be found from it. *jawline solve* "
          "reads it and gives every value to enter on the control. "
          "The name of a sheet ends in *.jaw* by custom.");
    paragraph("A sheet says what was done, not how to compute. Its entries may "
              "stand in any order, because they are put together when all of "
              "them are read; only *unit* must stand above the first length "
              "that carries none.");
}

static void layout(void)
{
    puts(".SH LAYOUT");
    prose("A line that starts at the margin opens an entry: its word, what "
          "belongs to that word, then fields. Indented lines belong to the "
          "entry above them. Each either goes on with fields or is one row of "
          "numbers, or a lone */* between two walls, two sweeps or two "
          "places. A row starts with a number, with *x*, *y* or *z* and a "
          "number, or with a side that stands for an angle, such as *x+*.");
    paragraph("Words are parted by blanks or tabs. *#* starts a comment, "
              "except within double quotes. Empty lines mean nothing. Words "
              "of the grammar are written in small letters. The text is "
              "UTF-8; a byte-order mark and any of the usual line ends are "
              "fine.");
    puts(".SS Names");
    prose("A name is a letter, then letters, digits, *-* and *_*.");
    prose("Features, setters and what stands beside them (vises, stock, "
          "tables and so on) share one set of names, tips have their own. "
          "What a name stands for may be stated above or below.");
    puts(".SS Numbers");
    prose("A number has a sign, digits, one point and an exponent, as far as "
          "they are needed. Its unit stands directly behind it: *25.4mm*, "
          "*1in*, *0.02deg*, *0.001rad*. A length without a unit is in the "
          "sheet's *unit*, an angle without one is in degrees. 1 inch is "
          "25.4 mm exactly.");
    puts(".SS Rows");
    prose("Rows of touches hold readings: the position that the control "
          "shows, in machine coordinates. Without labels the numbers are x, y and z; trailing "
          "ones may be left out where they are not needed. With labels, as in "
          "*x 0.8820*, only what was read is given, each axis at most once. "
          "What other rows hold stands with their entries.");
    paragraph("A row may end in *set aside*: the touch is kept and shown, with "
              "how far it would lie off, and nothing follows from it. Nothing "
              "else leaves a touch out.");
}

static void values(void)
{
    puts(".SH VALUES");
    prose("In the forms below, capitals stand for a value, brackets for what "
          "may be left out, bars for a choice.");
    for (int i = 0; i < JAW__KINDS; i++) {
        printf(".TP\n\\fI%s\\fR\n", jaw__kinds[i].word);
        sentence(jaw__kinds[i].text);
    }
}

static void put_rows(jaw__rows_rule rows)
{
    char text[600];

    if (rows == JAW__NO_ROWS)
        return;
    snprintf(text, sizeof text, "Rows: %s", jaw__rows_kinds[rows].text);
    paragraph(text);
}

static void put_field(const jaw__field_rule *f)
{
    puts(".TP");
    if (f->word[0]) {
        fputs("\\fB", stdout);
        put(f->word);
        fputs("\\fR ", stdout);
    }
    put_form(f->form);
    putchar('\n');
    sentence(f->text);
    if (f->often == JAW__MUST)
        puts("It must be given.");
    if (f->often == JAW__MANY)
        puts("It may be given more than once.");
}

static void put_entry(const jaw__entry_rule *e)
{
    printf(".SS %s\n", e->word);
    printf("\\fB%s\\fR%s", e->word, e->head[0] ? " " : "");
    put_form(e->head);
    puts("\n.PP");
    sentence(e->text);
    if (e->often == JAW__ONCE)
        puts("There is at most one.");
    put_rows(e->rows);
    for (int i = 0; i < jaw__field_count; i++)
        if (jaw__fields[i].entry == e->id)
            put_field(&jaw__fields[i]);
    display(e->example);
}

static void entries(void)
{
    puts(".SH ENTRIES");
    prose("Every entry with its fields and an example.");
    for (int i = 0; i < JAW__ENTRIES; i++)
        put_entry(&jaw__entries[i]);
}

static void conventions(void)
{
    puts(".SH CONVENTIONS");
    prose("All of it follows from one line:");
    display("reading = W + Rz(skew) work + (0, 0, L)");
    paragraph("~reading~ is what the control shows for the spindle: x and y of "
              "its axis, z of its gauge line. ~W~ is the work zero, ~work~ "
              "the place in part coordinates, ~L~ the length of the tool from "
              "the gauge line to its tip. ~skew~ is the angle from the "
              "machine's axes to the part's, counter-clockwise positive seen "
              "from +Z; ~Rz~ turns by it.");
    puts(".SS Which way a wall faces");
    prose("*faces* is the outward normal of a wall, by the machine axis "
          "nearest to it: it points out of the material, to where the tip "
          "is. The face of a fixed jaw that looks at the operator faces y-. "
          "A tip that touches this wall moves y+; where *moving* is given too and "
          "says otherwise, it is an error and never a guess.");
    paragraph("The centres of the tip are fitted first; then the line, circle "
              "or plane is offset by the tip's effective radius, and by the "
              "paper if there was any.");
    puts(".SS Heights");
    prose("A *face* that was touched in z gives its height only when the "
          "length of what touched it is known, or when everything else was "
          "touched with the same chain of tools. A reading of z for a *block* "
          "or *paper* in between counts that much higher.");
}

static void lengths(void)
{
    puts(".SH LENGTHS");
    prose("The field *lengths* of *control* says what a length register holds. "
          "The three are rewritings of the line above; ~H~ is the length "
          "register, ~Z~ the Z of the work zero, ~Wz~ the z of ~W~, ~Lref~ "
          "the length of the reference tool.");
    static const char *const rule[JAW_LENGTH_RULES] = {
        [JAW_GAUGE_LINE] = "H = L, and Z = Wz.",
        [JAW_TIP_TO_PART] = "H = Wz + L, where the tip meets Z 0, and Z = 0.",
        [JAW_REFERENCE_TOOL] = "H = L - Lref, and Z = Wz + Lref.",
    };
    static const struct {
        const char *word, *text;
    } list[] = {
#define AS_ROW(name, word, text) {word, text},
        JAW_LENGTH_LIST(AS_ROW)
#undef AS_ROW
    };
    for (int i = 0; i < JAW_LENGTH_RULES; i++) {
        puts(".TP");
        printf("\\fB");
        put(list[i].word);
        puts("\\fR");
        sentence(list[i].text);
        put(rule[i]);
        putchar('\n');
    }
    paragraph("Look up in the control's own manual which of them it uses: a "
              "length in one convention taken for another breaks the tool or "
              "the part.");
}

static void errors(void)
{
    puts(".SH ERRORS");
    prose("All mistakes of a sheet are told in one run, up to a hundred, each "
          "with its line, its column in characters, what is wrong and what "
          "would be right. A sheet with a mistake in it is not solved. What "
          "was taken for granted, such as a unit that is not stated, is told "
          "with the values.");
}

static void cautions(void)
{
    puts(".SH CAUTIONS");
#define LINE(text) prose(text);
    JAW__CAUTION_LIST(LINE)
#undef LINE
    paragraph("A sheet describes what was touched when it was written. After "
              "the vise was moved, the machine homed again or a tool changed, "
              "touch again.");
}

int main(int argc, char *argv[])
{
    if (argc != 4) {
        fputs("make_sheet_page EXAMPLE.jaw MISTAKE.jaw MISTAKE.expect\n",
              stderr);
        return EXIT_FAILURE;
    }
    head();
    idea();
    layout();
    values();
    entries();
    conventions();
    lengths();
    puts(".SH EXAMPLES");
    prose("A whole setup:");
    bool good = put_file(argv[1]);
    errors();
    prose("Of the sheet");
    good &= put_file(argv[2]);
    paragraph("it is said:");
    good &= put_file(argv[3]);
    cautions();
    puts(".SH SEE ALSO\n.BR jawline (1),\n.BR libjawline (3)");
    return good && fflush(stdout) == 0 && !ferror(stdout) ? EXIT_SUCCESS
                                                          : EXIT_FAILURE;
}
