/* SPDX-License-Identifier: GPL-3.0-or-later */
/* include.c: a sheet within a sheet, such as a shop's vise described once.  Its
 * entries count as if they stood where it is included, but for its title and
 * its unit, which are its own: a file that was right by itself must not change
 * its meaning with the sheet that takes it in. */
#include "reader.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* More than any shop needs; they bound what a few lines can ask for. */
enum { DEEP_MAX = 8, SOURCES_MAX = 64 };

bool jaw__source_add(jaw__reader *r, jaw_sheet_text text, int within)
{
    jaw__source *all = jaw__more(r, r->sources, r->n_sources,
                                 &r->room_sources, sizeof *all);

    if (!all)
        return false;
    r->sources = all;
    jaw__source *s = &all[r->n_sources];
    *s = (jaw__source){.given = text, .within = within};
    s->copy = text.len < SIZE_MAX ? malloc(text.len + 1) : NULL;
    if (!s->copy) {
        r->log.no_memory = true;
        return false;
    }
    if (text.len > 0)
        memcpy(s->copy, text.text, text.len);
    r->n_sources++;
    return true;
}

void jaw__sources_drop(jaw__reader *r)
{
    for (size_t i = 0; i < r->n_sources; i++)
        free(r->sources[i].copy);
    free(r->sources);
}

jaw__shown jaw__show_line(const jaw__reader *r, jaw_place place)
{
    jaw__shown line = jaw__show_int(place.line);

    if (place.source == r->source)
        return line;
    const char *file = r->sources[place.source].given.file;
    jaw__shown name = jaw__show(file, strlen(file));
    snprintf(line.text, sizeof line.text, "%d of %.150s", place.line,
             name.text);
    return line;
}

/* How many sheets the one being read stands in; *loop: one of them, or itself,
 * is that file. */
static int depth_of(const jaw__reader *r, const char *file, bool *loop)
{
    int depth = 0;

    *loop = false;
    for (int s = r->source; s >= 0; s = r->sources[s].within) {
        *loop = *loop || strcmp(r->sources[s].given.file, file) == 0;
        depth++;
    }
    return depth;
}

static void wrong(jaw__reader *r, jaw_place place, jaw__message id,
                  const char *name)
{
    jaw__shown shown = jaw__show(name, strlen(name));

    jaw__mistake(&r->log, place, id, shown.text, NULL, NULL, NULL);
}

/* What belongs to one text, and stands aside while another one is read. */
typedef struct outer {
    int source;
    jaw__line line;
    jaw__cursor cursor;
    jaw__token token, before;
    jaw_unit unit;
    bool unit_stated, skipping, said_first;
    jaw_place bare_place, title, unit_at;
    jaw__entry entry;
} outer;

static outer set_aside(const jaw__reader *r)
{
    return (outer){r->source, r->line, r->cursor, r->token, r->before,
                   r->unit, r->unit_stated, r->skipping, r->said_first,
                   r->bare_place, r->first_place[JAW__ENTRY_TITLE],
                   r->first_place[JAW__ENTRY_UNIT], r->entry};
}

static void begin(jaw__reader *r, int source)
{
    r->source = source;
    r->unit = JAW_MM;
    r->unit_stated = r->skipping = r->said_first = false;
    r->bare_place = (jaw_place){0};
    r->first_place[JAW__ENTRY_TITLE] = (jaw_place){0};
    r->first_place[JAW__ENTRY_UNIT] = (jaw_place){0};
    r->entry = (jaw__entry){0};
}

static void take_back(jaw__reader *r, const outer *o)
{
    jaw__entry_drop(&r->entry);
    r->source = o->source;
    r->line = o->line;
    r->cursor = o->cursor;
    r->token = o->token;
    r->before = o->before;
    r->unit = o->unit;
    r->unit_stated = o->unit_stated;
    r->skipping = o->skipping;
    r->said_first = o->said_first;
    r->bare_place = o->bare_place;
    r->first_place[JAW__ENTRY_TITLE] = o->title;
    r->first_place[JAW__ENTRY_UNIT] = o->unit_at;
    r->entry = o->entry;
}

static void read_within(jaw__reader *r, jaw_sheet_text text)
{
    outer o = set_aside(r);

    if (!jaw__source_add(r, text, o.source))
        return;
    if (jaw_setup_add_source(r->setup, text.file) != JAW_OK) {
        r->log.no_memory = true;
        return;
    }
    begin(r, (int)r->n_sources - 1);
    jaw__source_read(r);
    if (!r->unit_stated && r->bare_place.line > 0)
        wrong(r, r->bare_place, JAW__SAY_INCLUDE_UNIT, text.file);
    take_back(r, &o);
}

void jaw__include(jaw__reader *r, const char *name, jaw_place place)
{
    jaw_sheet_text text = {NULL, 0, NULL};
    bool loop;

    if (r->n_sources > SOURCES_MAX) {
        wrong(r, place, JAW__SAY_INCLUDE_MANY, name);
        return;
    }
    jaw_status status =
        r->fetch ? r->fetch(r->user, name, r->sources[r->source].given.file,
                            &text)
                 : JAW_EIO;
    if (status == JAW_ENOMEM)
        r->log.no_memory = true;
    else if (status != JAW_OK)
        wrong(r, place, JAW__SAY_INCLUDE_READ, name);
    if (status != JAW_OK)
        return;
    int depth = depth_of(r, text.file, &loop);
    if (loop)
        wrong(r, place, JAW__SAY_INCLUDE_LOOP, name);
    else if (depth > DEEP_MAX)
        wrong(r, place, JAW__SAY_INCLUDE_DEEP, name);
    else
        read_within(r, text);
}
