/* SPDX-License-Identifier: GPL-3.0-or-later */
/* entry.c: the open entry: its head, its fields, and what is missing or given
 * twice.  After a mistake reading goes on at the next word that the entry
 * knows, and what a broken part may have said is not missed later: one slip
 * makes one message. */
#include "reader.h"

#include <stdlib.h>
#include <string.h>

/* ------------------------------------------------------------------- rules */

const jaw__entry_rule *jaw__entry_rule_find(const jaw__token *t)
{
    for (int i = 0; i < JAW__ENTRIES; i++)
        if (jaw__token_is(t, jaw__entries[i].word))
            return &jaw__entries[i];
    return NULL;
}

const jaw__field_rule *jaw__field_rule_find(const jaw__entry_rule *entry,
                                            const jaw__token *t)
{
    for (int i = 0; i < jaw__field_count; i++) {
        const jaw__field_rule *f = &jaw__fields[i];
        if (f->entry != entry->id)
            continue;
        if (f->word[0] ? jaw__token_is(t, f->word)
                       : jaw__form_starts(f->form, t))
            return f;
    }
    return NULL;
}

/* -------------------------------------------------------------- complaints */

/* "tip, faces and moving" */
static jaw__shown fields_of(const jaw__entry_rule *entry)
{
    jaw__shown out = {{0}};
    const char *list[JAW__ROLES];
    int n = 0;

    for (int i = 0; i < jaw__field_count; i++)
        if (jaw__fields[i].entry == entry->id)
            list[n++] = jaw__fields[i].word[0] ? jaw__fields[i].word
                                               : jaw__fields[i].form;
    for (int i = 0; i < n; i++) {
        if (i > 0)
            strcat(out.text, i == n - 1 ? " and " : ", ");
        strcat(out.text, list[i]);
    }
    return out;
}

/* The field whose word is nearest to the next token; NULL when none. */
static const jaw__field_rule *nearest_field(const jaw__reader *r)
{
    const jaw__field_rule *rule[JAW__ROLES];
    const char *word[JAW__ROLES] = {0};
    char wrong[32];
    size_t n = 0;

    if (r->token.kind != JAW__WORD || r->token.len >= sizeof wrong)
        return NULL;
    memcpy(wrong, r->token.s, r->token.len);
    wrong[r->token.len] = '\0';
    for (int i = 0; i < jaw__field_count; i++)
        if (jaw__fields[i].entry == r->entry.rule->id &&
            jaw__fields[i].word[0]) {
            word[n] = jaw__fields[i].word;
            rule[n++] = &jaw__fields[i];
        }
    const char *near = jaw_word_nearest(wrong, word, n);
    for (size_t i = 0; near && i < n; i++)
        if (word[i] == near)
            return rule[i];
    return NULL;
}

bool jaw__token_is_unit(const jaw__token *t)
{
    return jaw__token_is(t, "mm") || jaw__token_is(t, "in") ||
           jaw__token_is(t, "deg") || jaw__token_is(t, "rad");
}

/* The next token is nothing that this entry knows. */
static void say_unknown(jaw__reader *r)
{
    jaw__entry *e = &r->entry;
    const jaw__token *t = &r->token;
    const char *entry = e->rule->word;
    jaw__shown takes = fields_of(e->rule);
    const jaw__field_rule *near = nearest_field(r);
    bool number = t->kind == JAW__WORD && jaw__number_like(t->s, t->len);

    e->broken = true;
    if (jaw__token_is_unit(t))
        jaw__say(r, JAW__SAY_LOOSE_UNIT, NULL, NULL);
    else if (jaw__token_odd_quote(t))
        jaw__say(r, JAW__SAY_ODD_QUOTE, NULL, NULL);
    else if (t->kind == JAW__OPEN_TEXT)
        jaw__say(r, JAW__SAY_OPEN_QUOTE, NULL, NULL);
    else if (!takes.text[0])
        jaw__say(r, JAW__SAY_TOO_MUCH, entry, NULL);
    else if (jaw__row_starts(r) && e->rule->rows != JAW__NO_ROWS)
        jaw__say(r, JAW__SAY_ROW_IN_LINE, NULL, NULL);
    else if (number)
        jaw__say(r, JAW__SAY_LOOSE_NUMBER, entry, takes.text);
    else if (near)
        jaw__say(r, JAW__SAY_UNKNOWN_FIELD_NEAR, entry, near->word);
    else
        jaw__say(r, JAW__SAY_UNKNOWN_FIELD, entry, takes.text);
    if (near)
        e->field[near->role].state = JAW__BROKEN;
    else if (!number && !jaw__token_is_unit(t))
        e->unsure = true;
}

static void say_twice(jaw__reader *r, const jaw__field *first)
{
    jaw__shown line = jaw__show_int(first->place.line);
    jaw__say(r, JAW__SAY_FIELD_TWICE, line.text, NULL);
}

/* ------------------------------------------------------------------ fields */

static void skip_to_field(jaw__reader *r)
{
    while (!jaw__at_end(r) && !jaw__field_rule_find(r->entry.rule, &r->token))
        jaw__advance(r);
}

static void field_read(jaw__reader *r, const jaw__field_rule *rule)
{
    jaw__entry *e = &r->entry;
    jaw__field field = {.state = JAW__GOOD, .place = r->token.place};
    bool twice = rule->often != JAW__MANY &&
                 e->field[rule->role].state != JAW__ABSENT;

    if (twice) {
        say_twice(r, &e->field[rule->role]);
        e->broken = true;
    }
    if (rule->word[0])
        jaw__advance(r);
    if (!jaw__form_read(r, rule->form, rule->example, &field.alternative,
                        field.v)) {
        field.state = JAW__BROKEN;
        e->broken = true;
        skip_to_field(r);
    }
    if (!twice)
        e->field[rule->role] = field;
    if (rule->often == JAW__MANY && field.state == JAW__GOOD)
        jaw__build_field(r, rule, &field);
}

void jaw__entry_fields(jaw__reader *r)
{
    while (!jaw__at_end(r) && !jaw__log_stopped(&r->log)) {
        const jaw__field_rule *rule =
            jaw__field_rule_find(r->entry.rule, &r->token);
        if (rule) {
            field_read(r, rule);
            continue;
        }
        say_unknown(r);
        jaw__advance(r);
        skip_to_field(r);
    }
}

/* ------------------------------------------------------------ opening, end */

/* The arrays stay, so that they are grown only as far as the longest. */
static void clear(jaw__entry *e)
{
    *e = (jaw__entry){.touches = e->touches,
                      .places = e->places,
                      .room_touches = e->room_touches,
                      .room_places = e->room_places,
                      .holes = e->holes,
                      .room_holes = e->room_holes,
                      .aside = e->aside,
                      .room_aside = e->room_aside};
}

void jaw__entry_drop(jaw__entry *e)
{
    free(e->touches);
    free(e->places);
    free(e->holes);
    free(e->aside);
    *e = (jaw__entry){0};
}

/* `edge tip finder`: the word of a field with what belongs behind it stands
 * where the name should; but `setter top touched ...` is called top. */
static bool name_is_missing(const jaw__reader *r, const jaw__entry_rule *rule)
{
    const jaw__field_rule *field = jaw__field_rule_find(rule, &r->token);

    if (strcmp(rule->head, "NAME") != 0 || !field || !field->word[0])
        return false;
    jaw__cursor ahead = r->cursor;
    jaw__token next = jaw__token_next(&ahead);
    return jaw__form_starts(field->form, &next) &&
           !jaw__field_rule_find(rule, &next);
}

/* Without the blanks that only align it with other lines. */
static jaw__shown first_line(const char *example)
{
    jaw__shown line = {{0}};
    size_t n = 0;

    for (; *example && *example != '\n' && n + 1 < sizeof line.text; example++)
        if (example[0] != ' ' || example[1] != ' ')
            line.text[n++] = *example;
    return line;
}

void jaw__entry_open(jaw__reader *r, const jaw__entry_rule *rule,
                     jaw_place place)
{
    jaw__entry *e = &r->entry;
    int alternative;

    clear(e);
    e->rule = rule;
    e->place = place;
    r->any_entry = true;
    r->skipping = false;
    if (rule->often == JAW__ONCE && r->first_place[rule->id].line != 0) {
        jaw__shown line = jaw__show_line(r, r->first_place[rule->id]);
        jaw__mistake(&r->log, place, JAW__SAY_ENTRY_TWICE, rule->word,
                     line.text, NULL, NULL);
        e->broken = true;
    } else {
        r->first_place[rule->id] = place;
    }
    jaw__shown example = first_line(rule->example);
    if (name_is_missing(r, rule)) {
        jaw__say(r, JAW__SAY_VALUE_WRONG, "a name", example.text);
        e->broken = true;
    } else if (!jaw__form_read(r, rule->head, example.text, &alternative,
                               e->head)) {
        e->broken = true;
        skip_to_field(r);
    }
    jaw__entry_fields(r);
}

static void check_missing(jaw__reader *r)
{
    jaw__entry *e = &r->entry;

    if (e->unsure || !e->head[0].given || !e->head[0].text ||
        e->field[JAW__FROM].state != JAW__ABSENT) /* the book says it */
        return;
    /* Entries with a field that must be there have a name. */
    jaw__shown name = jaw__show(e->head[0].text, strlen(e->head[0].text));
    for (int i = 0; i < jaw__field_count; i++) {
        const jaw__field_rule *f = &jaw__fields[i];
        if (f->entry != e->rule->id || f->often != JAW__MUST ||
            e->field[f->role].state != JAW__ABSENT)
            continue;
        jaw__mistake(&r->log, e->place, JAW__SAY_FIELD_MISSING, e->rule->word,
                     name.text, f->word, f->example);
        e->broken = true;
    }
}

void jaw__entry_close(jaw__reader *r)
{
    if (!r->entry.rule)
        return;
    if (!jaw__log_stopped(&r->log)) {
        check_missing(r);
        jaw__build_entry(r);
    }
    r->entry.rule = NULL;
}
