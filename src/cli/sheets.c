/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sheets.c: a sheet and those that it includes, kept until all is told. */
#include "cli.h"

#include <stdlib.h>
#include <string.h>

/* `name` as seen from the folder of `from`; NULL without memory. */
static char *beside(const char *name, const char *from)
{
    const char *slash = name[0] == '/' ? NULL : strrchr(from, '/');
    size_t folder = slash ? (size_t)(slash - from) + 1 : 0;
    char *path = malloc(folder + strlen(name) + 1);

    if (!path)
        return NULL;
    memcpy(path, from, folder);
    strcpy(path + folder, name);
    return path;
}

static input *room_for_one(sheets *s)
{
    input *more = realloc(s->included, (s->n + 1) * sizeof *more);

    if (more)
        s->included = more;
    return more ? &more[s->n] : NULL;
}

static jaw_status fetch(void *user, const char *name, const char *from,
                        jaw_sheet_text *sheet)
{
    sheets *s = user;
    char *path = beside(name, from);
    input *in = path ? room_for_one(s) : NULL;

    if (!in || input_try(path, in) != NULL) {
        free(path);
        return in ? JAW_EIO : JAW_ENOMEM;
    }
    s->n++;
    *sheet = (jaw_sheet_text){in->text, in->len, in->name};
    return JAW_OK;
}

jaw_status sheets_read(sheets *s, const input *in, jaw_setup *setup,
                       jaw_notes *notes)
{
    jaw_sheet_text text = {in->text, in->len, in->name};

    *s = (sheets){.first = in};
    return jaw_sheet_read(&text, fetch, s, setup, notes);
}

/* A sheet that was refused (a loop) was fetched too and counts for nothing, so
 * the sources are those that the setup knows, in their order. */
static const input *source(const sheets *s, const char *file)
{
    for (size_t i = 0; i < s->n; i++)
        if (strcmp(s->included[i].name, file) == 0)
            return &s->included[i];
    return NULL;
}

jaw_status sheets_locate(const sheets *s, const jaw_setup *setup,
                         jaw_notes *notes, size_t from)
{
    const input *in = s->first;
    jaw_status status = jaw_notes_locate(notes, from, 0, in->name, in->text,
                                         in->len);

    for (int i = 1; status == JAW_OK && (size_t)i <= s->n; i++) {
        in = source(s, jaw_setup_source(setup, i));
        if (in)
            status = jaw_notes_locate(notes, from, i, in->name, in->text,
                                      in->len);
    }
    return status;
}

void sheets_drop(sheets *s)
{
    for (size_t i = 0; i < s->n; i++) {
        free((char *)s->included[i].name);
        input_drop(&s->included[i]);
    }
    free(s->included);
    *s = (sheets){0};
}
