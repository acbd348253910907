/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sheet.c: a sheet into a setup.  One pass over the lines: a line at the
 * margin opens an entry, an indented one belongs to it.  Where that rule was
 * broken, what was meant is usually plain; it is told, and reading goes on as
 * if it had been written right. */
#include "reader.h"

#include <src/setup/store.h>

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* ------------------------------------------------------------------ shared */

void jaw__advance(jaw__reader *r)
{
    r->before = r->token;
    r->token = jaw__token_next(&r->cursor);
}

bool jaw__at_end(const jaw__reader *r)
{
    return r->token.kind == JAW__END;
}

/* The byte behind a token is a blank, a quote, `#` or an end of line, and none
 * of these is looked at again in the copy. */
char *jaw__string(jaw__reader *r, const jaw__token *t)
{
    const jaw__source *s = &r->sources[r->source];
    size_t at = (size_t)(t->s - s->given.text);
    s->copy[at + t->len] = '\0';
    return s->copy + at;
}

void *jaw__more(jaw__reader *r, void *array, size_t n, size_t *room,
                size_t size)
{
    void *more = jaw__grow(array, n, room, size);

    if (!more)
        r->log.no_memory = true;
    return more;
}

void jaw__say(jaw__reader *r, jaw__message id, const char *b, const char *c)
{
    jaw__shown word = jaw__show(r->token.s, r->token.len);
    jaw__mistake(&r->log, r->token.place, id, word.text, b, c, NULL);
}

/* ----------------------------------------------------------- at the margin */

/* "bore, boss, ... and zero": all words that open an entry. */
static jaw__shown entry_words(void)
{
    jaw__shown out = {{0}};

    for (int i = 0; i < JAW__ENTRIES; i++) {
        if (i > 0)
            strcat(out.text, i == JAW__ENTRIES - 1 ? " or " : ", ");
        strcat(out.text, jaw__entries[i].word);
    }
    return out;
}

static const jaw__entry_rule *nearest_entry(const jaw__token *t)
{
    const char *word[JAW__ENTRIES];
    char wrong[32];

    if (t->kind != JAW__WORD || t->len >= sizeof wrong)
        return NULL;
    memcpy(wrong, t->s, t->len);
    wrong[t->len] = '\0';
    for (int i = 0; i < JAW__ENTRIES; i++)
        word[i] = jaw__entries[i].word;
    const char *near = jaw_word_nearest(wrong, word, JAW__ENTRIES);
    for (int i = 0; i < JAW__ENTRIES; i++)
        if (near == word[i])
            return &jaw__entries[i];
    return NULL;
}

static void open_entry(jaw__reader *r, const jaw__entry_rule *rule)
{
    jaw_place place = r->token.place;

    jaw__entry_close(r);
    jaw__advance(r);
    jaw__entry_open(r, rule, place);
}

static void unknown_entry(jaw__reader *r)
{
    const jaw__entry_rule *near = nearest_entry(&r->token);

    if (near) {
        jaw__say(r, JAW__SAY_UNKNOWN_ENTRY_NEAR, near->word, NULL);
        open_entry(r, near);
        return;
    }
    jaw__shown words = entry_words();
    jaw__say(r, JAW__SAY_UNKNOWN_ENTRY, words.text, NULL);
    jaw__entry_close(r);
    r->any_entry = true;
    r->skipping = true;
}

/* Told once for all rows of an entry. */
static void margin_row(jaw__reader *r)
{
    jaw__entry *e = &r->entry;

    if (!e->said_rows && e->rule->rows != JAW__NO_ROWS) {
        jaw__mistake(&r->log, r->token.place, JAW__SAY_MARGIN_ROW,
                     e->rule->word, NULL, NULL, NULL);
        e->said_rows = true;
    }
    e->broken = true;
    jaw__row_read(r);
}

static void margin_line(jaw__reader *r)
{
    const jaw__entry_rule *rule = jaw__entry_rule_find(&r->token);

    if (rule)
        open_entry(r, rule);
    else if (r->entry.rule && jaw__row_starts(r))
        margin_row(r);
    else if (r->entry.rule && jaw__field_rule_find(r->entry.rule, &r->token)) {
        jaw__say(r, JAW__SAY_MARGIN_FIELD, r->entry.rule->word, NULL);
        r->entry.broken = true;
        jaw__entry_fields(r);
    } else if (!r->any_entry && jaw__number_like(r->token.s, r->token.len)) {
        if (!r->said_first)
            jaw__say(r, JAW__SAY_ROW_FIRST, NULL, NULL);
        r->said_first = true;
    } else if (!r->skipping ||
               !jaw__number_like(r->token.s, r->token.len)) {
        unknown_entry(r);
    }
}

/* ---------------------------------------------------------------- indented */

static void indented_line(jaw__reader *r)
{
    const jaw__entry_rule *rule = jaw__entry_rule_find(&r->token);
    jaw__entry *e = &r->entry;

    if (r->skipping)
        return;
    if (e->rule && jaw__row_starts(r)) {
        jaw__row_read(r);
    } else if (rule &&
               (!e->rule || !jaw__field_rule_find(e->rule, &r->token))) {
        jaw__say(r, JAW__SAY_INDENTED_ENTRY, NULL, NULL);
        open_entry(r, rule);
    } else if (e->rule) {
        jaw__entry_fields(r);
    } else if (!r->said_first) {
        bool row = jaw__number_like(r->token.s, r->token.len);
        jaw__say(r, row ? JAW__SAY_ROW_FIRST : JAW__SAY_INDENTED_FIRST, NULL,
                 NULL);
        r->said_first = true;
    }
}

/* ------------------------------------------------------------------- lines */

/* Nothing of such a line is taken.  At the margin it may have opened an entry,
 * so what is indented below it is not judged either. */
static void bad_line(jaw__reader *r, jaw__bad_char bad, int column,
                     bool indented)
{
    jaw__log_bad_char(&r->log,
                      (jaw_place){r->line.number, column, r->line.source}, bad);
    if (!indented) {
        jaw__entry_close(r);
        r->any_entry = r->skipping = true;
    } else if (r->entry.rule) {
        r->entry.broken = r->entry.unsure = true;
    }
}

static void line_read(jaw__reader *r)
{
    bool indented =
        r->line.len > 0 && (r->line.text[0] == ' ' || r->line.text[0] == '\t');
    int column;
    jaw__bad_char bad = jaw__line_check(&r->line, &column);

    if (bad != JAW__CHAR_GOOD) {
        bad_line(r, bad, column, indented);
        return;
    }
    r->cursor = jaw__cursor_start(&r->line);
    r->token = jaw__token_next(&r->cursor);
    if (jaw__at_end(r))
        return;
    if (indented)
        indented_line(r);
    else
        margin_line(r);
}

static void sheet_end(jaw__reader *r)
{
    if (jaw__log_stopped(&r->log))
        return;
    jaw__names_check(r);
    if (!r->any_entry && r->log.mistakes == 0)
        jaw__mistake(&r->log, (jaw_place){0}, JAW__SAY_NOTHING, NULL, NULL,
                     NULL, NULL);
    if (!r->unit_stated && r->log.mistakes == 0)
        jaw__assumed(&r->log, r->bare_place, JAW__SAY_UNIT_ASSUMED, NULL);
    jaw__build_control(r);
}

void jaw__source_read(jaw__reader *r)
{
    const jaw_sheet_text given = r->sources[r->source].given;
    jaw__lines lines = jaw__lines_start(given.text, given.len);

    lines.source = r->source;
    if (jaw__looks_utf16(given.text, given.len)) {
        jaw__mistake(&r->log, (jaw_place){0, 0, r->source}, JAW__SAY_UTF16,
                     NULL, NULL, NULL, NULL);
        r->any_entry = true;
        return;
    }
    while (!jaw__log_stopped(&r->log) && jaw__lines_next(&lines, &r->line))
        line_read(r);
    jaw__entry_close(r);
}

/* ------------------------------------------------------------------- whole */

static jaw__reader *reader_alloc(jaw_sheet_text sheet, jaw_setup *setup)
{
    jaw__reader *r = calloc(1, sizeof *r);

    if (!r)
        return NULL;
    r->setup = setup;
    r->control = jaw_control_default(JAW_MM);
    r->control.step = r->control.angle_step = (double)NAN;
    if (!jaw__log_start(&r->log) || !jaw__source_add(r, sheet, -1))
        r->log.no_memory = true;
    return r;
}

static void reader_free(jaw__reader *r)
{
    jaw__log_drop(&r->log);
    jaw__sources_drop(r);
    jaw__entry_drop(&r->entry);
    free(r->names);
    free(r->edges);
    free(r);
}

static jaw_status outcome(const jaw__reader *r)
{
    if (r->log.no_memory)
        return JAW_ENOMEM;
    return r->log.mistakes > 0 ? JAW_ESYNTAX : r->refused;
}

static void pour(jaw__reader *r, jaw_notes *notes)
{
    for (size_t i = 0; i < r->n_sources; i++) {
        const jaw_sheet_text *t = &r->sources[i].given;
        if (jaw__log_pour(&r->log, (int)i, i + 1 == r->n_sources, t->text,
                          t->len, t->file, notes) != JAW_OK)
            r->log.no_memory = true;
    }
}

jaw_status jaw_sheet_read(const jaw_sheet_text *sheet, jaw_sheet_fetch fetch,
                          void *user, jaw_setup *setup, jaw_notes *notes)
{
    jaw__reader *r = reader_alloc(*sheet, setup);

    if (!r)
        return JAW_ENOMEM;
    r->fetch = fetch;
    r->user = user;
    if (!r->log.no_memory) {
        jaw__source_read(r);
        sheet_end(r);
    }
    if (r->log.notes)
        pour(r, notes);
    jaw_status status = outcome(r);
    reader_free(r);
    return status;
}

jaw_status jaw_sheet_read_text(const char *text, size_t len, const char *file,
                               jaw_setup *setup, jaw_notes *notes)
{
    jaw_sheet_text sheet = {text, len, file};

    return jaw_sheet_read(&sheet, NULL, NULL, setup, notes);
}
