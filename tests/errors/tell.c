/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tell.c: every note that a sheet (NAME.jaw), rows (NAME.rows, mm, two or three
 * numbers a row) or what the control shows (NAME.shown, of shown-sheet.inc in
 * the folder that this runs in) bring about, as jaw_report_note writes it.  The
 * file's name is told without its folder. */
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

/* Sheets that are included lie in the folder that this runs in. */
static jaw_status fetch(void *user, const char *name, const char *from,
                        jaw_sheet_text *sheet)
{
    static struct {
        char name[64], text[4096];
    } files[80];
    size_t *n = user;

    (void)from;
    snprintf(files[*n].name, sizeof files[*n].name, "%s", name);
    *sheet = (jaw_sheet_text){files[*n].text, 0, files[*n].name};
    FILE *f = fopen(name, "rb");
    if (!f)
        return JAW_EIO;
    sheet->len = fread(files[*n].text, 1, sizeof files[*n].text, f);
    fclose(f);
    ++*n;
    return JAW_OK;
}

static void locate(const jaw_setup *setup, jaw_notes *notes, size_t first)
{
    static char text[ROOM];
    size_t len;

    for (int i = 1; *jaw_setup_source(setup, i); i++) {
        const char *name = jaw_setup_source(setup, i);
        if (read_file(name, text, &len))
            jaw_notes_locate(notes, first, i, name, text, len);
    }
}

static void tell_sheet(const char *text, size_t len, const char *name,
                       jaw_notes *notes)
{
    jaw_setup *setup = jaw_setup_alloc();
    jaw_solution *solution = NULL;
    jaw_sheet_text sheet = {text, len, name};
    size_t fetched = 0;

    if (setup && jaw_sheet_read(&sheet, fetch, &fetched, setup, notes) == JAW_OK) {
        size_t first = jaw_notes_count(notes);
        jaw_setup_solve(setup, notes, &solution);
        jaw_notes_locate(notes, first, 0, name, text, len);
        locate(setup, notes, first);
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

/* What it was read into is of no use here, but for registers that are none. */
static void tell_put(const jaw_shown_list *list, const char *text, size_t len,
                     const char *name, jaw_notes *notes)
{
    static char sheet[ROOM];
    jaw_setup *setup = jaw_setup_alloc();
    jaw_solution *solution = NULL;
    jaw_readback_value *value = NULL;
    size_t n, sheet_len, first = jaw_notes_count(notes);

    if (setup && read_file("shown-sheet.inc", sheet, &sheet_len) &&
        jaw_sheet_read_text(sheet, sheet_len, "", setup, NULL) == JAW_OK &&
        jaw_setup_solve(setup, NULL, &solution) == JAW_OK &&
        jaw_solution_registers(setup, solution, &value, &n) == JAW_OK)
        jaw_shown_put(list, false, value, n, notes);
    jaw_notes_locate(notes, first, 0, name, text, len);
    free(value);
    jaw_solution_free(solution);
    jaw_setup_free(setup);
}

static void tell_shown(const char *text, size_t len, const char *name,
                       jaw_notes *notes)
{
    jaw_shown_list *list;

    if (jaw_shown_read_text(text, len, name, JAW_MM, &list, notes) == JAW_OK)
        tell_put(list, text, len, name, notes);
    jaw_shown_free(list);
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
    else if (dot && strcmp(dot, ".shown") == 0)
        tell_shown(text, len, name, notes);
    else
        tell_sheet(text, len, name, notes);
    bool good = print_notes(notes);
    jaw_notes_free(notes);
    return good ? EXIT_SUCCESS : fail("a note was lost");
}
