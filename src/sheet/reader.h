/* SPDX-License-Identifier: GPL-3.0-or-later */
/* reader.h: what the files that read a sheet share.
 *
 * sheet.c  goes through the lines and decides what each one is;
 * form.c   reads the values that follow a word, by its form in grammar.h;
 * entry.c  the open entry: its fields, what is missing or given twice;
 * touch.c  its rows;
 * include.c a sheet within the sheet;
 * build.c  what an entry means, handed to the setup;
 * tasks.c  the same for what is stated beside features and zeros;
 * names.c  what only the whole sheet can tell: names given twice and such. */
#ifndef JAW__READER_H
#define JAW__READER_H

#include <jawline/sheet.h>

#include "grammar.h"
#include "log.h"
#include "quantity.h"

enum { JAW__VALUES = 4 }; /* the most that a form has */

/* G54.1P1 to P999: more than any control has. */
enum { JAW__EXTENSION_MAX = 999, JAW__REGISTERS = 6 + JAW__EXTENSION_MAX };

/* jaw__register_of: G54 to G59 are 0 to 5, and G54.1P1 and so on 6 and more; -1
 * for a word that is no register. */
int jaw__register_of(const char *word);

typedef struct jaw__value {
    bool given;
    double number;    /* mm or rad */
    int choice;       /* which of a|b|c, from 0; a tool's number */
    const char *text; /* a name or text; NULL for a tool */
    jaw_place place;
} jaw__value;

typedef struct jaw__field {
    enum { JAW__ABSENT, JAW__GOOD, JAW__BROKEN } state;
    jaw_place place;
    int alternative; /* which of this | that, from 0 */
    jaw__value v[JAW__VALUES];
} jaw__field;

/* The entry that is being read. */
typedef struct jaw__entry {
    const jaw__entry_rule *rule; /* NULL: none is open */
    jaw_place place;
    jaw__value head[JAW__VALUES];
    bool broken;    /* something in it was not understood */
    bool unsure;    /* something unknown may have been a field that is needed */
    bool said_rows; /* told once that it takes no rows, or none at the margin */
    jaw__field field[JAW__ROLES];
    jaw_touch *touches;
    jaw_place *places;
    size_t n_touches, room_touches, room_places;
    jaw_hole_entry *holes;
    size_t n_holes, room_holes;
    bool *aside; /* one a touch, or in a pattern one a hole: it is set aside */
    size_t room_aside;
    size_t first_wall;
    jaw_place slash; /* line 0: no lone / yet */
    double correlation[10]; /* of a tip, as in jaw_tip_entry */
    jaw_place correlated[10]; /* line 0: not given */
} jaw__entry;

typedef enum jaw__space {
    JAW__SPACE_TIP,
    JAW__SPACE_FEATURE, /* and setters */
    JAW__SPACE_TOOL,
    JAW__SPACE_ZERO
} jaw__space;

/* A name that was given to something. */
typedef struct jaw__name {
    jaw__space space;
    const char *text; /* NULL for a tool */
    int number;       /* of a tool */
    double diameter;  /* of a tip, mm; NaN when it is not known */
    jaw_place place;
    size_t order; /* of its coming */
} jaw__name;

/* An edge that does not say which way it faces. */
typedef struct jaw__open_edge {
    const char *name, *tip;
    jaw_place place;
} jaw__open_edge;

/* One text of all that are read: the sheet, and what it includes. */
typedef struct jaw__source {
    jaw_sheet_text given;
    char *copy; /* in which names are ended by NUL */
    int within; /* the source that includes it; -1: none */
} jaw__source;

typedef struct jaw__reader {
    jaw__source *sources;
    size_t n_sources, room_sources;
    int source; /* the one being read */
    jaw_sheet_fetch fetch;
    void *user;
    jaw_setup *setup;
    jaw__log log;
    jaw_status refused; /* by the setup, of an entry that seemed good */

    jaw__line line;
    jaw__cursor cursor;
    jaw__token token;  /* the next one */
    jaw__token before; /* the one before it */

    jaw_unit unit;
    bool unit_stated;
    jaw_place bare_place; /* of the first length without a unit */
    jaw_control control;
    bool step_stated, angle_step_stated;

    bool skipping; /* lines of an entry that is not known */
    bool any_entry, said_first;
    jaw_place first_place[JAW__ENTRIES]; /* of those that may be there once */
    jaw__entry entry;

    jaw__name *names;
    size_t n_names, room_names;
    jaw__open_edge *edges;
    size_t n_edges, room_edges;
} jaw__reader;

/* ----------------------------------------------------------------- sheet.c */

void jaw__advance(jaw__reader *r);
bool jaw__at_end(const jaw__reader *r);
/* jaw__string: a token's text, kept as long as the reader. */
char *jaw__string(jaw__reader *r, const jaw__token *token);
/* jaw__more: room for one more of `size` bytes after the n that are used: the
 * array, which may have moved; NULL when out of memory, which the log keeps,
 * and then the old array stands as it was. */
void *jaw__more(jaw__reader *r, void *array, size_t n, size_t *room,
                size_t size);
/* jaw__say: jaw__mistake at the next token, its text as %1. */
void jaw__say(jaw__reader *r, jaw__message id, const char *b, const char *c);

/* jaw__source_read: the lines of the source that is set, to its last entry. */
void jaw__source_read(jaw__reader *r);

/* --------------------------------------------------------------- include.c */

/* jaw__source_add: one more text; false when out of memory, which the log
 * keeps. */
bool jaw__source_add(jaw__reader *r, jaw_sheet_text text, int within);
void jaw__sources_drop(jaw__reader *r);
/* jaw__include: what an include entry asks for. */
void jaw__include(jaw__reader *r, const char *name, jaw_place place);
/* jaw__show_line: "12", or "12 of vise.jaw" when that is another text than the
 * one being read. */
jaw__shown jaw__show_line(const jaw__reader *r, jaw_place place);

/* ------------------------------------------------------------------ form.c */

/* jaw__form_read: the values that a form asks for, from the next token on.
 * False when one of them is not there or is wrong, which was then said.
 *
 * Given:     example      for the messages
 * Returned:  *alternative, v[] in the order of the form, alternatives and
 *                         what may be left out counted too */
bool jaw__form_read(jaw__reader *r, const char *form, const char *example,
                    int *alternative, jaw__value v[JAW__VALUES]);

/* jaw__form_starts: the form's first part fits this token. */
bool jaw__form_starts(const char *form, const jaw__token *token);

/* jaw__length_read: the next token as a length in mm.  called, example: for
 * the messages. */
bool jaw__length_read(jaw__reader *r, jaw__range range, const char *called,
                      const char *example, double *mm);

/* jaw__angle_read: the same as an angle in rad. */
bool jaw__angle_read(jaw__reader *r, const char *called, const char *example,
                     double *rad);

/* ----------------------------------------------------------------- entry.c */

const jaw__entry_rule *jaw__entry_rule_find(const jaw__token *token);
const jaw__field_rule *jaw__field_rule_find(const jaw__entry_rule *entry,
                                            const jaw__token *token);
bool jaw__token_is_unit(const jaw__token *token);
/* jaw__entry_open: from the token behind the entry's word on. */
void jaw__entry_open(jaw__reader *r, const jaw__entry_rule *rule,
                     jaw_place place);
/* jaw__entry_fields: fields, to the end of the line. */
void jaw__entry_fields(jaw__reader *r);
/* jaw__entry_drop: frees what it holds. */
void jaw__entry_drop(jaw__entry *entry);
/* jaw__entry_close: judges it as a whole and hands it over; none is open
 * after that. */
void jaw__entry_close(jaw__reader *r);

/* ----------------------------------------------------------------- touch.c */

/* jaw__row_starts: a row, rather than a field, begins at the next token. */
bool jaw__row_starts(const jaw__reader *r);
void jaw__row_read(jaw__reader *r);
/* jaw__hole_add: one more place of a pattern. */
void jaw__hole_add(jaw__reader *r, jaw_hole_entry hole, bool aside);

/* ----------------------------------------------------------------- build.c */

/* jaw__good: the good field of that role; NULL when it is absent or broken.
 * The next four are of its first value, or of another when it is not there;
 * jaw__known_of: value i, 0 when that is not stated. */
const jaw__field *jaw__good(const jaw__reader *r, jaw__role role);
double jaw__number_of(const jaw__reader *r, jaw__role role, double otherwise);
double jaw__known_of(const jaw__reader *r, jaw__role role, int i);
const char *jaw__text_of(const jaw__reader *r, jaw__role role);
jaw_place jaw__place_of(const jaw__reader *r, jaw__role role);
/* jaw__take_turn: turn as a zero or stations state it. */
void jaw__take_turn(const jaw__reader *r, jaw_zero_entry *zero);
/* jaw__took: what the setup said of an entry.  A broken entry may lack what the
 * setup insists on: it is left out, and the mistake was told already. */
void jaw__took(jaw__reader *r, jaw_status status);
/* jaw__check_rows: what no row, or none of one wall, leaves open. */
void jaw__check_rows(jaw__reader *r, const char *name);

/* jaw__build_field: takes a field that may be given more than once. */
void jaw__build_field(jaw__reader *r, const jaw__field_rule *rule,
                      const jaw__field *field);
void jaw__build_entry(jaw__reader *r);
/* jaw__build_control: from all that the sheet said. */
void jaw__build_control(jaw__reader *r);

/* ----------------------------------------------------------------- tasks.c */

void jaw__build_vise(jaw__reader *r, const char *name);
void jaw__build_stock(jaw__reader *r, const char *name);
void jaw__build_tram(jaw__reader *r, const char *name);
void jaw__build_square(jaw__reader *r, const char *name);
void jaw__build_runout(jaw__reader *r, const char *name);
void jaw__build_rotary(jaw__reader *r, const char *name);
void jaw__build_datums(jaw__reader *r, const char *name);
void jaw__build_vee(jaw__reader *r, const char *name);
void jaw__build_sine(jaw__reader *r, const char *name);
/* jaw__build_seen: a line of one of these that may be given many times. */
void jaw__build_seen(jaw__reader *r, jaw__role role, const jaw__field *f);
void jaw__build_stations(jaw__reader *r, const char *name);
/* jaw__build_side: it has no name. */
void jaw__build_side(jaw__reader *r);

/* ----------------------------------------------------------------- names.c */

void jaw__name_add(jaw__reader *r, jaw__name name);
void jaw__edge_add(jaw__reader *r, jaw__open_edge edge);
void jaw__names_check(jaw__reader *r);

#endif
