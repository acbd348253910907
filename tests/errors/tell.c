/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tell.c: every note that a sheet (NAME.jaw) or rows (NAME.rows, mm, two or
 * three numbers a row) bring about, as jaw_report_note writes it.  The file's
 * name is told without its folder. */
#include <jawline.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { ROOM = 1 << 20 };

static int fail(const char *what)
{
    fprintf(stderr, "tell: %s\n", what);
    return EXIT_FAILURE;
}

static bool read_file(const char *path, char *text, size_t *len)
{
    FILE *f = fopen(path, "rb");
    if (!f)
        return false;
    *len = fread(text, 1, ROOM, f);
    bool good = feof(f) && !ferror(f);
    return fclose(f) == 0 && good;
}

static void tell_sheet(const char *text, size_t len, const char *name,
                       jaw_notes *notes)
{
    jaw_setup *setup = jaw_setup_alloc();
    jaw_solution *solution = NULL;

    if (setup && jaw_sheet_read_text(text, len, name, setup, notes) == JAW_OK) {
        size_t first = jaw_notes_count(notes);
        jaw_setup_solve(setup, notes, &solution);
        jaw_notes_locate(notes, first, name, text, len);
    }
    jaw_solution_free(solution);
    jaw_setup_free(setup);
}

static void tell_rows(const char *text, size_t len, const char *name,
                      jaw_notes *notes)
{
    jaw_rows *rows;
    jaw_rows_read_text(text, len, name, JAW_MM, 2, 3, &rows, notes);
    jaw_rows_free(rows);
}

static bool print_notes(const jaw_notes *notes)
{
    const jaw_note *note;

    for (size_t i = 0; (note = jaw_notes_get(notes, i)) != NULL; i++) {
        char *line = jaw_report_note(note, (jaw_report_style){0});
        if (!line)
            return false;
        fputs(line, stdout);
        free(line);
    }
    return jaw_notes_lost(notes) == 0;
}

int main(int argc, char *argv[])
{
    static char text[ROOM];
    size_t len;

    if (argc != 2 || !read_file(argv[1], text, &len))
        return fail("give one file that can be read");
    const char *slash = strrchr(argv[1], '/');
    const char *name = slash ? slash + 1 : argv[1];
    const char *dot = strrchr(name, '.');
    jaw_notes *notes = jaw_notes_alloc();
    if (!notes)
        return fail("out of memory");
    if (dot && strcmp(dot, ".rows") == 0)
        tell_rows(text, len, name, notes);
    else
        tell_sheet(text, len, name, notes);
    bool good = print_notes(notes);
    jaw_notes_free(notes);
    return good ? EXIT_SUCCESS : fail("a note was lost");
}
