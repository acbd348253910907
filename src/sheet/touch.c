/* SPDX-License-Identifier: GPL-3.0-or-later */
/* touch.c: the rows of an entry: touches, with or without labels, the lone /
 * between two walls, and the places of a pattern. */
#include "reader.h"

#include <math.h>
#include <string.h>

static const double nan_ = (double)NAN;

static const jaw__rows_kind *kind_of(const jaw__reader *r)
{
    return &jaw__rows_kinds[r->entry.rule->rows];
}

/* The axis that a label names, 0 to 2; -1 when the token is no label. */
static int label_of(const jaw__token *t)
{
    static const char *const axis[] = {"x", "y", "z"};
    for (int i = 0; i < 3; i++)
        if (jaw__token_is(t, axis[i]))
            return i;
    return -1;
}

static bool is_number(const jaw__token *t)
{
    return t->kind == JAW__WORD && jaw__number_like(t->s, t->len);
}

/* A side as an angle from X; NaN when the token is none. */
static double side_angle(const jaw__token *t)
{
    static const char *const side[] = {"x+", "y+", "x-", "y-"};

    for (int i = 0; i < 4; i++)
        if (jaw__token_is(t, side[i]))
            return jaw_rad(90 * i);
    return nan_;
}

bool jaw__row_starts(const jaw__reader *r)
{
    const jaw__token *t = &r->token;

    if (kind_of(r)->angle_first && !isnan(side_angle(t)))
        return true;
    if (is_number(t) || (t->kind == JAW__WORD && t->s[0] == '/'))
        return true;
    if (label_of(t) < 0 || jaw__field_rule_find(r->entry.rule, t))
        return false;
    jaw__cursor ahead = r->cursor;
    jaw__token next = jaw__token_next(&ahead);
    return r->entry.rule->rows != JAW__NO_ROWS || is_number(&next);
}

/* ------------------------------------------------------------------- slash */

/* The mistake of a / that stands where it should not; MESSAGES when none. */
static jaw__message slash_mistake(const jaw__entry *e, const jaw__token *t)
{
    if (jaw__rows_kinds[e->rule->rows].slash == JAW__SLASH_NEVER)
        return JAW__SAY_SLASH_NONE;
    if (e->slash.line != 0)
        return JAW__SAY_SLASH_TWICE;
    if (t->len > 1)
        return JAW__SAY_SLASH_TRAILING;
    return e->n_touches + e->n_holes == 0 && !e->broken ? JAW__SAY_SLASH_EMPTY
                                                        : JAW__MESSAGES;
}

/* "slot, web and rotary": the entries that take a lone /. */
static jaw__shown slash_words(void)
{
    jaw__shown out = {{0}};
    const char *word[JAW__ENTRIES];
    int n = 0;

    for (int i = 0; i < JAW__ENTRIES; i++)
        if (jaw__rows_kinds[jaw__entries[i].rows].slash != JAW__SLASH_NEVER)
            word[n++] = jaw__entries[i].word;
    for (int i = 0; i < n; i++) {
        strcat(out.text, i == 0 ? "" : i == n - 1 ? " and " : ", ");
        strcat(out.text, word[i]);
    }
    return out;
}

static void slash_read(jaw__reader *r)
{
    jaw__entry *e = &r->entry;
    jaw__message mistake = slash_mistake(e, &r->token);

    if (mistake == JAW__SAY_SLASH_TRAILING) {
        jaw__say(r, mistake, NULL, NULL);
    } else if (mistake != JAW__MESSAGES) {
        jaw__shown line = jaw__show_int(e->slash.line);
        jaw__shown words = slash_words();
        jaw__mistake(&r->log, r->token.place, mistake, e->rule->word,
                     line.text, words.text, NULL);
    }
    if (e->slash.line == 0) {
        e->slash = r->token.place;
        e->first_wall = e->n_touches + e->n_holes; /* one of them is 0 */
    }
    jaw__advance(r);
    if (mistake == JAW__MESSAGES && !jaw__at_end(r)) {
        jaw__say(r, JAW__SAY_SLASH_TRAILING, NULL, NULL);
        mistake = JAW__SAY_SLASH_TRAILING;
    }
    e->broken |= mistake != JAW__MESSAGES;
}

/* --------------------------------------------------------------- set aside */

/* The numbers of a row end at its end, or where it is set aside. */
static bool numbers_end(const jaw__reader *r)
{
    return jaw__at_end(r) || jaw__token_is(&r->token, "set");
}

/* `set aside` at the end of a good row; false when something else is there. */
static bool aside_read(jaw__reader *r, bool *aside)
{
    *aside = !jaw__at_end(r);
    if (!*aside)
        return true;
    jaw__advance(r);
    if (jaw__at_end(r)) {
        jaw__mistake(&r->log, r->token.place, JAW__SAY_VALUE_MISSING, "'aside'",
                     "set", "1.5000 -3.1120 set aside", NULL);
        return false;
    }
    if (!jaw__token_is(&r->token, "aside")) {
        jaw__say(r, JAW__SAY_VALUE_WRONG, "'aside'",
                 "1.5000 -3.1120 set aside");
        return false;
    }
    jaw__advance(r);
    if (jaw__at_end(r))
        return true;
    jaw__say(r, JAW__SAY_TOO_MUCH, "set aside", NULL);
    return false;
}

/* ----------------------------------------------------------------- numbers */

/* One number, or what is wrong with it; reading goes on behind it, so that all
 * mistakes of a row are told. */
static bool number_read(jaw__reader *r, bool angle, const char *example,
                        double *value)
{
    if (angle && !isnan(side_angle(&r->token))) {
        *value = side_angle(&r->token);
        jaw__advance(r);
        return true;
    }
    bool good = angle ? jaw__angle_read(r, "an angle", example, value)
                      : jaw__length_read(r, JAW__ANY, "a length", example,
                                         value);

    if (!jaw__at_end(r))
        jaw__advance(r);
    return good;
}

/* Something else than what the row should go on with. */
static void say_odd(jaw__reader *r, jaw__message id)
{
    if (jaw__token_is_unit(&r->token))
        jaw__say(r, JAW__SAY_LOOSE_UNIT, NULL, NULL);
    else
        jaw__say(r, id, kind_of(r)->shape, NULL);
}

/* Labelled numbers, each axis at most once. */
static bool labelled_read(jaw__reader *r, double value[3])
{
    bool good = true;

    while (!numbers_end(r)) {
        int axis = label_of(&r->token);
        if (axis < 0) {
            say_odd(r, is_number(&r->token) ? JAW__SAY_ROW_BARE
                                            : JAW__SAY_ROW_WORD);
            return false;
        }
        if (!isnan(value[axis])) {
            jaw__say(r, JAW__SAY_ROW_LABEL_TWICE, NULL, NULL);
            return false;
        }
        jaw__advance(r);
        good &= number_read(r, false, "x 0.8820", &value[axis]);
    }
    return good;
}

/* Up to four numbers; more are counted. */
static bool numbers_read(jaw__reader *r, double value[4], int *n)
{
    const jaw__rows_kind *kind = kind_of(r);
    bool labels = kind->what == JAW__LABELLED, good = true;
    const char *example = kind->what == JAW__READINGS ? kind->example
                                                      : "1.5000 -3.1120";

    for (*n = 0; !numbers_end(r); ++*n) {
        bool angle = kind->angle_first && *n == 0;
        double more;
        if (!(angle && !isnan(side_angle(&r->token))) &&
            !is_number(&r->token)) {
            say_odd(r, labels && label_of(&r->token) >= 0
                           ? JAW__SAY_ROW_LABEL
                           : JAW__SAY_ROW_WORD);
            return false;
        }
        good &= number_read(r, angle, example, *n < 4 ? &value[*n] : &more);
    }
    return good;
}

/* ----------------------------------------------------------------- touches */

/* Whether number n of the touches or holes is set aside. */
static bool aside_add(jaw__reader *r, size_t n, bool set)
{
    jaw__entry *e = &r->entry;
    bool *aside =
        jaw__more(r, e->aside, n, &e->room_aside, sizeof *aside);

    if (!aside)
        return false;
    e->aside = aside;
    aside[n] = set;
    return true;
}

static void touch_add(jaw__reader *r, jaw_touch touch, jaw_place place,
                      bool aside)
{
    jaw__entry *e = &r->entry;
    jaw_touch *touches = jaw__more(r, e->touches, e->n_touches,
                                   &e->room_touches, sizeof *touches);
    if (!touches)
        return;
    e->touches = touches;
    jaw_place *places = jaw__more(r, e->places, e->n_touches, &e->room_places,
                                  sizeof *places);
    if (!places)
        return;
    e->places = places;
    if (!aside_add(r, e->n_touches, aside))
        return;
    places[e->n_touches] = place;
    touches[e->n_touches++] = touch;
}

void jaw__hole_add(jaw__reader *r, jaw_hole_entry hole, bool aside)
{
    jaw__entry *e = &r->entry;
    jaw_hole_entry *holes =
        jaw__more(r, e->holes, e->n_holes, &e->room_holes, sizeof *holes);

    if (!holes)
        return;
    e->holes = holes;
    if (!aside_add(r, e->n_holes, aside))
        return;
    holes[e->n_holes++] = hole;
}

/* True when the row was good: values in v, in the order x y z. */
static bool row_values(jaw__reader *r, double v[4])
{
    const jaw__rows_kind *kind = kind_of(r);
    jaw_place place = r->token.place;
    int n;

    if (kind->what == JAW__LABELLED && label_of(&r->token) >= 0)
        return labelled_read(r, v);
    if (!numbers_read(r, v, &n))
        return false;
    if (n >= kind->least && n <= kind->most)
        return true;
    jaw__shown count = jaw__show_int(n);
    jaw__mistake(&r->log, place,
                 n > kind->most ? JAW__SAY_ROW_LONG : JAW__SAY_ROW_SHORT,
                 count.text, kind->shape, NULL, NULL);
    return false;
}

void jaw__row_read(jaw__reader *r)
{
    jaw__entry *e = &r->entry;
    double v[4] = {nan_, nan_, nan_, nan_};
    jaw_place place = r->token.place;
    bool aside;

    if (e->rule->rows == JAW__NO_ROWS) {
        if (!e->said_rows)
            jaw__mistake(&r->log, place, JAW__SAY_NO_ROWS, e->rule->word, NULL,
                         NULL, NULL);
        e->said_rows = e->broken = true;
    } else if (r->token.s[0] == '/') {
        slash_read(r);
    } else if (!row_values(r, v) || !aside_read(r, &aside)) {
        e->broken = true;
    } else if (e->rule->rows == JAW__ROWS_HOLES) {
        jaw__hole_add(r, (jaw_hole_entry){.nominal = {v[0], v[1]},
                                          .touched = {v[2], v[3]},
                                          .place = place},
                      aside);
    } else if (e->rule->rows == JAW__ROWS_TABLE) {
        jaw__hole_add(r, (jaw_hole_entry){.nominal = {v[0], 0},
                                          .touched = {v[1], v[2]},
                                          .place = place},
                      aside);
    } else {
        touch_add(r, (jaw_touch){v[0], v[1], v[2]}, place, aside);
    }
}
