/* SPDX-License-Identifier: GPL-3.0-or-later */
/* book.h: the shop's lasting record.
 *
 * A book is one file.  What is written into it stays: an entry is never changed
 * and never taken out, and undoing one is a further entry.  Every entry is
 * about a subject (a tool in its holder, a surface, a machine); what is current
 * of a subject is its newest entry that is not undone.  The order of entries is
 * the order in which they became known; the clock is only noted.
 *
 * The file is a database of SQLite (sqlite.org), with a STRICT table for every
 * kind of entry.  Each write is one transaction that reaches the disk before
 * the call returns, so a kill or a power cut leaves the book as it was or with
 * the whole entry.  Lengths are in mm, uncertainties standard uncertainties
 * with their degrees of freedom, as everywhere; doubles come back to the last
 * bit.
 *
 * A jaw_book belongs to one thread at a time; several may be open on one file,
 * in one program or in many. */
#ifndef JAWLINE_BOOK_H
#define JAWLINE_BOOK_H

#include <jawline/setup.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef struct jaw_book jaw_book;

/* ----------------------------------------------------------- open and close */

typedef enum jaw_book_use {
    JAW_BOOK_READ, /* a file that is not there is JAW_ENOBOOK */
    JAW_BOOK_WRITE /* folders and file are made when they are not there */
} jaw_book_use;

/* jaw_book_path: which file a person means: `given`, else the environment's
 * JAWLINE_BOOK, else jawline/book.sqlite in XDG_DATA_HOME or, without that, in
 * HOME/.local/share.  An empty text counts as not given.
 *
 * Status:    JAW_OK; JAW_EUNKNOWN: none of them is set; JAW_ESIZE: path is too
 *            small */
jaw_status jaw_book_path(const char *given, char *path, size_t size);

/* jaw_book_open: in constant time, whatever the book holds.
 *
 * Given:     notes   where this book says what is wrong, until it is closed;
 *                    may be NULL
 * Returned:  *book, for jaw_book_close; NULL on failure
 * Status:    JAW_OK; JAW_ENOBOOK (reading); JAW_ENEWER; JAW_EDAMAGED: damaged,
 *            or something else than a book; JAW_EREADONLY: it must be brought
 *            up to this version, or set right after an interrupted write, and
 *            can not be written; JAW_EBUSY, JAW_EFULL, JAW_EIO, JAW_ENOMEM.
 *            Each failure but the last is also a note with its cure
 * A file that can only be read opens all the same; writing then says so. */
jaw_status jaw_book_open(const char *path, jaw_book_use use, jaw_notes *notes,
                         jaw_book **book);
void jaw_book_close(jaw_book *book); /* NULL is fine */

/* jaw_book_patience: how long to wait for another writer; 5 s at first. */
void jaw_book_patience(jaw_book *book, int milliseconds);

/* ------------------------------------------------------------------ entries */

/* Columns: kind, its word (in the file and in exports), what it is. */
#define JAW_BOOK_KIND_LIST(X)                                                  \
    X(JAW_BOOK_UNDO, "undo", "an earlier entry does not hold")                 \
    X(JAW_BOOK_MACHINE, "machine", "a machine: travel, step, conventions")     \
    X(JAW_BOOK_HEIGHT, "height", "how high a surface is, or how thick a block")\
    X(JAW_BOOK_LENGTH, "length", "the length of a tool")                       \
    X(JAW_BOOK_DIAMETER, "diameter", "the diameter of a tool")                 \
    X(JAW_BOOK_SETUP, "setup", "a setup that was kept, as it was then")        \
    X(JAW_BOOK_ZERO, "zero", "where a work zero is")                           \
    X(JAW_BOOK_OFFSET, "offset", "what a length register is to hold")          \
    X(JAW_BOOK_ENTERED, "entered", "what the control was seen to show")        \
    X(JAW_BOOK_MARK, "mark", "where a mark on the table was found")            \
    X(JAW_BOOK_FIXTURE, "fixture", "a vise or fixture, and where it lay")      \
    X(JAW_BOOK_TIP, "tip", "what a tip was found to measure as")

typedef enum jaw_book_kind {
#define JAW_BOOK_KIND_ENUM(name, word, text) name,
    JAW_BOOK_KIND_LIST(JAW_BOOK_KIND_ENUM)
#undef JAW_BOOK_KIND_ENUM
    JAW_BOOK_KINDS
} jaw_book_kind;

const char *jaw_book_kind_word(jaw_book_kind kind); /* NULL when unknown */
const char *jaw_book_kind_text(jaw_book_kind kind);

/* What is to be looked at in an entry; kept with it as words.  Columns: name,
 * bit, word, what it means. */
#define JAW_BOOK_DOUBT_LIST(X)                                                 \
    X(JAW_BOOK_CLOCK_BACK, 0, "clock-back",                                    \
      "its clock is earlier than that of the entry before")                    \
    X(JAW_BOOK_TOO_LONG, 1, "too-long", "it is longer than Z can travel")      \
    X(JAW_BOOK_NEGATIVE, 2, "negative", "a length below zero")                 \
    X(JAW_BOOK_UNIT_JUMP, 3, "unit-jump",                                      \
      "25.4 times the last, or a 25.4th: perhaps inch for mm")                 \
    X(JAW_BOOK_SCATTER, 4, "scatter",                                          \
      "its readings lie farther apart than readings do on this machine")       \
    X(JAW_BOOK_CHANGED, 5, "changed", "not what was measured last time")       \
    X(JAW_BOOK_OUTSIDE, 6, "outside", "read where Z can not be")               \
    X(JAW_BOOK_DOUBTED, 7, "doubted",                                          \
      "it was solved with a doubt, which its report says first")               \
    X(JAW_BOOK_DIGITS, 8, "digits",                                            \
      "its digits are those of the last reading, mistyped")                    \
    X(JAW_BOOK_HOLDER, 9, "holder",                                            \
      "its holder is named nearly as another one")                             \
    X(JAW_BOOK_BETWEEN, 10, "between",                                         \
      "another block in between than was said explains it")

enum {
#define JAW_BOOK_DOUBT_ENUM(name, bit, word, text) name = 1 << (bit),
    JAW_BOOK_DOUBT_LIST(JAW_BOOK_DOUBT_ENUM)
#undef JAW_BOOK_DOUBT_ENUM
    JAW_BOOK_DOUBTS_END
};

/* A slip of the pen is likelier than such a value: nothing is compared with it,
 * and it is not to be entered. */
#define JAW_BOOK_SLIPS                                                         \
    (JAW_BOOK_TOO_LONG | JAW_BOOK_NEGATIVE | JAW_BOOK_UNIT_JUMP |              \
     JAW_BOOK_OUTSIDE | JAW_BOOK_SCATTER | JAW_BOOK_DIGITS |                   \
     JAW_BOOK_BETWEEN)

const char *jaw_book_doubt_word(unsigned doubt); /* of one bit; NULL */
const char *jaw_book_doubt_text(unsigned doubt);

/* What a change since the last measurement probably is (jaw_book_compare). */
#define JAW_BOOK_CHANGE_LIST(X)                                                \
    X(JAW_CHANGE_FIRST, "first", "there is nothing to compare with")           \
    X(JAW_CHANGE_NOISE, "within-noise", "no change beyond the measuring")      \
    X(JAW_CHANGE_UNSURE, "can-not-tell", "the reading itself is in doubt")     \
    X(JAW_CHANGE_WORN, "worn", "shorter by a little: worn")                    \
    X(JAW_CHANGE_PULLED, "pulled-out", "longer: pulled out of the holder")     \
    X(JAW_CHANGE_BROKEN, "broken", "shorter by much: broken, or pushed in")    \
    X(JAW_CHANGE_OTHER, "other-tool", "another tool in this holder")           \
    X(JAW_CHANGE_SMALLER, "smaller",                                           \
      "smaller by much: chipped, or ground anew")                              \
    X(JAW_CHANGE_LARGER, "larger",                                             \
      "larger: something sticks to it, or it is another tool")                 \
    X(JAW_CHANGE_SURFACE, "surface",                                           \
      "the height of what it touched changed, not the tool")

typedef enum jaw_book_change {
#define JAW_BOOK_CHANGE_ENUM(name, word, text) name,
    JAW_BOOK_CHANGE_LIST(JAW_BOOK_CHANGE_ENUM)
#undef JAW_BOOK_CHANGE_ENUM
    JAW_BOOK_CHANGES
} jaw_book_change;

const char *jaw_book_change_word(jaw_book_change change);
const char *jaw_book_change_text(jaw_book_change change);
/* jaw_book_change_ends: whether earlier values tell nothing of the wear of what
 * is there now. */
bool jaw_book_change_ends(jaw_book_change change);

/* What became of a mark or a fixture since it was found last. */
#define JAW_BOOK_MOVE_LIST(X)                                                  \
    X(JAW_MOVE_FIRST, "first", "there is nothing to compare with")             \
    X(JAW_MOVE_STAYED, "within-noise", "no movement beyond the measuring")     \
    X(JAW_MOVE_UNCLEAR, "not-clear", "perhaps moved, perhaps not")             \
    X(JAW_MOVE_MOVED, "moved", "moved")                                        \
    X(JAW_MOVE_CARRIED, "carried", "not found again, but carried by marks")

typedef enum jaw_book_move {
#define JAW_BOOK_MOVE_ENUM(name, word, text) name,
    JAW_BOOK_MOVE_LIST(JAW_BOOK_MOVE_ENUM)
#undef JAW_BOOK_MOVE_ENUM
    JAW_BOOK_MOVES
} jaw_book_move;

const char *jaw_book_move_word(jaw_book_move move); /* NULL when unknown */
const char *jaw_book_move_text(jaw_book_move move);

/* Whether a control takes a turn of the coordinates. */
typedef enum jaw_book_turns {
    JAW_TURNS_UNSAID,
    JAW_TURNS_YES,
    JAW_TURNS_NO
} jaw_book_turns;

/* A machine.  Its name is `machine` of the entry. */
typedef struct jaw_book_machine {
    jaw_unit unit;           /* in which values are typed and shown */
    double step;             /* mm, smallest step of the display, > 0 */
    int decimals;            /* that are shown; -1: those of the step */
    jaw_length_rule lengths;
    int reference;           /* tool number; 0: none */
    double low[3], high[3];  /* mm, travel of X, Y and Z; NaN: not stated */
    double seat;             /* mm, how well a tool comes back when it was taken
                                out, one standard deviation; NaN: not stated */
    jaw_book_turns turns;
} jaw_book_machine;

/* The top of a surface, or a block; its name is the subject. */
typedef struct jaw_book_height {
    bool block;       /* thickness of a block, gauge or paper; else machine Z of
                         the top for a tool of length 0 */
    double value;     /* mm */
    double u, dof;    /* mm, standard uncertainty; 0: taken as exact */
    double half95;    /* mm */
    int tool;         /* from a tool of known length: its number; 0: stated */
    double length;    /* mm, that length; NaN */
    double length_u;  /* mm; NaN */
    jaw_unit unit;    /* as typed */
} jaw_book_height;

/* A tool's length as it follows from readings.  Where the surface's height is
 * known it is the length L from the gauge line; where it is not, what is known
 * is L plus that height, and `datum` names the surface: values of one datum
 * differ as the tools do. */
typedef struct jaw_book_length {
    int number;           /* 1..9999 */
    const char *holder;   /* "": none named */
    const char *text;     /* "": none */
    const char *datum;    /* "": the gauge line; else a surface, "part" */
    const char *on;       /* surface touched; "": the length was stated */
    const char *through;  /* block in between, by name; "": none, or its size */
    double value;         /* mm, from the datum */
    double u, dof;        /* mm, of value: readings and all that is known */
    double half95;        /* mm */
    double repeat;        /* mm, of one reading; NaN: not known */
    double repeat_dof;    /* INFINITY: stated */
    double known;         /* mm, the share of step, surface and block */
    double between;       /* mm, thickness in between, >= 0 */
    double between_u;     /* mm */
    long long surface;    /* entry of the surface's height; 0: none */
    bool fresh;           /* a new cutter, or it was set anew: earlier lengths
                             are those of another */
    jaw_book_change change;
    jaw_unit unit;
} jaw_book_length;

typedef struct jaw_book_diameter {
    int number;
    const char *holder;
    double value;     /* mm, > 0 */
    double u, dof;    /* mm; NaN: not known */
    bool fresh;
    jaw_unit unit;
    double half95;    /* mm; these four NaN in entries of the first version */
    double repeat;    /* mm, of one reading; NaN: not known */
    double repeat_dof; /* INFINITY: stated */
    double known;     /* mm, the share of the step */
    jaw_book_change change;
} jaw_book_diameter;

/* A setup that was kept.  Its title is the subject; its zeros and offsets are
 * entries that were written together with it (part_of). */
typedef struct jaw_book_setup {
    const char *file;     /* name of the sheet, as it was read; "-" */
    const char *sheet;    /* its whole text */
    const char *included; /* the sheets that it includes (jaw_book_included) */
    const char *report;   /* what was printed then */
    jaw_length_rule lengths;
    int reference;        /* tool number; 0: none */
    bool turns;           /* the control takes a turn */
    double step, angle_step; /* mm and rad, > 0, smallest entries */
    jaw_unit unit;        /* of the control */
} jaw_book_setup;

/* A work zero: the line `reading = W + Rz(skew) work + (0, 0, L)`, W as the
 * convention of lengths has it (setup.h).  The register is the subject: "G54",
 * "G54.1P1". */
typedef struct jaw_book_zero {
    long long setup;   /* entry of the setup that it is of; 0: of none */
    jaw_figure at[4];  /* X Y Z, mm, and the turn, rad, none of them rounded;
                          value NaN: not asked for, or (turn) taken as square */
    bool turns;        /* the control takes the turn */
    jaw_length_rule lengths;
    double step, angle_step; /* mm and rad, > 0, smallest entries */
    jaw_unit unit;
} jaw_book_zero;

/* A tool's length register, the subject: "H3". */
typedef struct jaw_book_offset {
    long long setup;
    int number;
    const char *text;
    jaw_figure length; /* mm, by the convention, not rounded */
    jaw_length_rule lengths;
    int reference;     /* tool number; 0: none */
    double step;       /* mm, > 0 */
    jaw_unit unit;
} jaw_book_offset;

/* One register, or one axis of it, as the control showed it.  The subject is
 * that of jaw_book_shown_subject. */
typedef struct jaw_book_entered {
    long long setup;  /* entry of the kept setup it was held against; 0 */
    const char *title;/* of that setup or sheet; "" */
    const char *name; /* register: "G54", "H3" */
    int axis;         /* 0..2: X Y Z, 3: turn, 4: length */
    double shown;     /* mm or rad */
    double wanted;    /* what was to be entered; NaN: not found */
    double half95;    /* of that; NaN: not known */
    double step;      /* smallest entry, > 0 */
    jaw_unit unit;
} jaw_book_entered;

/* A mark: something permanent on the table, as it was found once; its name is
 * the subject.  Machine coordinates, Z for a tool of length 0.  A place (a
 * bore, a ball) has x and y, perhaps z; a face z alone; a wall some place of it
 * in x and y, where u is that across the wall, and its direction. */
typedef struct jaw_book_mark {
    const char *feature;  /* the sheet's word for it; "": typed by hand */
    jaw_figure at[3];     /* mm; value NaN: it has no such coordinate */
    jaw_figure direction; /* rad, of a wall as of jaw_edge, u NaN: assumed;
                             value NaN: it is no wall */
    jaw_book_move move;   /* of all marks that were found with it, together */
    long long since;      /* entry that it was compared with; 0: none */
    jaw_unit unit;        /* as typed */
} jaw_book_mark;

/* A vise or fixture, and where it lay when it was found; its name is the
 * subject.  The sizes are those of the sheet's vise (setup.h). */
typedef struct jaw_book_fixture {
    const char *text;     /* what it is; "" */
    double jaw_width, jaw_height, opening; /* mm, > 0; NaN: not stated */
    double parallels;     /* mm, >= 0; NaN */
    jaw_figure at[4];     /* mm and rad: X and Y of its zero, Z of its bed or
                             zero, and its skew; value NaN: not found */
    bool stood;           /* it had not been off the table since last time */
    bool fresh;           /* it was set elsewhere on purpose: what it repeats to
                             starts here */
    jaw_book_move move;   /* CARRIED: by a homing */
    long long since;      /* entry that it was compared with; 0: none */
    jaw_unit unit;
} jaw_book_fixture;

/* A tip as a calibration found it (measure.h); its name is the subject.  The
 * readings are its touches in their order, `columns` numbers each: two are x
 * and y; a third is 1 where the spindle was turned half a turn (ring, plug), z
 * (ball), or the face (block). */
typedef struct jaw_book_tip {
    jaw_tip_shape shape;
    const char *on;        /* what was touched: ring, plug, ball or block */
    double size, size_u;   /* mm, of that, and its standard uncertainty */
    double size_2;         /* mm, of a block's second pair of faces; NaN */
    double value;          /* mm, effective diameter */
    double u, dof, half95; /* mm; NaN: not known */
    jaw_tip_term_state runout, lobes;
    double harmonic[4];    /* mm, c1 s1 c3 s3; 0: not kept */
    double cov[15];        /* mm^2, upper triangle in the order diameter c1 s1
                              c3 s3, all of it; NaN: not known */
    double repeat;         /* mm, of one touch; NaN */
    double repeat_dof;     /* INFINITY: stated */
    double length, length_u; /* mm, gauge line to its end; NaN: not stated */
    bool fresh;            /* another tip under this name */
    int columns;           /* 2 or 3 */
    jaw_unit unit;
} jaw_book_tip;

enum { JAW_BOOK_AXES = 5 };

/* jaw_book_axis_word: "X", "Y", "Z", "turn", "length", as a readback value has
 * them; NULL for what is none. */
const char *jaw_book_axis_word(unsigned axis);

/* One entry.  To write one: kind, at, machine, subject, doubts and what the
 * kind asks for; id, undoes and undone are found.  Subjects of lengths and
 * diameters are those of jaw_book_tool_subject. */
typedef struct jaw_book_record {
    jaw_book_kind kind;
    long long id;        /* 1 and up, in the order of writing */
    long long at;        /* ms since 1970-01-01 UTC, as the clock said; 0 when
                            writing: the moment at which it is written */
    const char *machine; /* "": of no machine (a block) */
    const char *subject;
    long long undoes;    /* of an undo: which entry; 0 */
    long long part_of;   /* the entry that it was written together with, and is
                            undone with; 0: it stands by itself */
    unsigned doubts;     /* JAW_BOOK_CLOCK_BACK is found when writing */
    bool undone;         /* it does not hold (any more) */
    const double *reading; /* mm, those behind the value, as read */
    size_t n_readings;
    union {
        jaw_book_machine machine;
        jaw_book_height height;
        jaw_book_length length;
        jaw_book_diameter diameter;
        jaw_book_setup setup;
        jaw_book_zero zero;
        jaw_book_offset offset;
        jaw_book_entered entered;
        jaw_book_mark mark;
        jaw_book_fixture fixture;
        jaw_book_tip tip;
    } as;
} jaw_book_record;

/* Room for any such name, and for the subject of a length, a diameter, or what
 * a control takes or shows. */
enum { JAW_BOOK_NAME_SIZE = 44, JAW_BOOK_SUBJECT_SIZE = 100 };

/* jaw_book_name_is_good: of machines, holders, surfaces and blocks: letters,
 * digits, - _ and ., 1 to 40 of them, a letter or digit first. */
bool jaw_book_name_is_good(const char *name);

/* jaw_book_tool_subject: the subject of a tool's length (datum "" or a
 * surface) or diameter (datum NULL) in a holder.  JAW_BOOK_SUBJECT_SIZE is
 * enough.
 * Status:    JAW_OK, JAW_EDOMAIN (number, or a name that is none), JAW_ESIZE */
jaw_status jaw_book_tool_subject(int number, const char *holder,
                                 const char *datum, char *subject, size_t size);

/* jaw_book_shown_subject: the subject of what the control showed: "G54 X",
 * "H3".  size >= 24 is enough.
 * Status:    JAW_OK, JAW_EDOMAIN (a name or an axis that is none), JAW_ESIZE */
jaw_status jaw_book_shown_subject(const char *name, int axis, char *subject,
                                  size_t size);

/* The sheets that a kept setup includes, as one text: each after a line with
 * its length in bytes and its name.
 *
 * jaw_book_included: the next one.
 * Given:     *at      start of such a text, or what the last call left there
 * Returned:  true, and name[name_len], text[text_len] within that text; false
 *            at its end, or where it is no such text */
bool jaw_book_included(const char **at, const char **name, size_t *name_len,
                       const char **text, size_t *text_len);

/* jaw_book_add: write one entry, its readings with it, whole or not at all.
 *
 * Returned:  *id of it; record->at when that was 0; record->doubts has
 *            JAW_BOOK_CLOCK_BACK when its clock is earlier than that of the
 *            entry before (which is also a note, a doubt).  Unchanged on
 *            failure
 * Status:    JAW_OK; JAW_EDOMAIN: something in it that no book may hold, which
 *            the note names; JAW_EREADONLY, JAW_EBUSY, JAW_EFULL, JAW_EIO,
 *            JAW_EDAMAGED, JAW_ENOMEM: nothing was written */
jaw_status jaw_book_add(jaw_book *book, jaw_book_record *record, long long *id);

/* jaw_book_add_all: several entries in one transaction, all of them or none.
 * The first stands for them all: the others are part of it, so that undoing one
 * undoes all.
 *
 * Given:     record[n], n >= 1; a `setup` that is JAW_BOOK_FIRST is the number
 *            of the first of them, which is not known yet
 * Returned:  *id of the first, the others follow it; record[].at and doubts as
 *            of jaw_book_add, part_of of all but the first, setup where it was
 *            JAW_BOOK_FIRST
 * Status:    as jaw_book_add */
#define JAW_BOOK_FIRST (-1LL)
jaw_status jaw_book_add_all(jaw_book *book, jaw_book_record record[], size_t n,
                            long long *id);

/* jaw_book_undo: the entry `id` does not hold; an undo that is undone brings
 * back what it undid.  id 0: the newest that holds and is no undo.  What was
 * written together is undone together, whichever of it is named.
 *
 * Given:     at       the clock, as in a record
 * Returned:  *undone: which, the first of what was written together; may be
 *            NULL
 * Status:    as jaw_book_add; JAW_EUNKNOWN: there is no such entry, or it is
 *            undone already */
jaw_status jaw_book_undo(jaw_book *book, long long id, long long at,
                         long long *undone);
/* jaw_book_undone_by: the undo by which an entry does not hold; 0: it holds.
 * Status:    JAW_OK; those of reading a book */
jaw_status jaw_book_undone_by(jaw_book *book, long long id, long long *by);

/* ------------------------------------------------------------------ reading */

/* Each is called with every record in turn; its texts and readings live only
 * that long.  false ends the reading. */
typedef bool (*jaw_book_take)(void *user, const jaw_book_record *record);

/* jaw_book_current: the newest of every subject of a kind that holds, in the
 * order of the subjects' text.  machine NULL: of all machines.
 * jaw_book_history: all entries of one subject, undone ones too, newest first;
 * most: at most so many, 0: all.
 * jaw_book_log: the newest entries of any kind, newest first.
 * jaw_book_older: how many entries are older than `id`; what was written
 * together counts once.
 * jaw_book_parts: what was written together with entry `id`, in its order.
 * jaw_book_parts_now: the same of a kept setup, each zero and register as marks
 * carried it since (part_of is then that of the marks).
 *
 * Status:    JAW_OK, also when there is none and when it was ended;
 *            JAW_EDAMAGED, JAW_EBUSY, JAW_EIO, JAW_ENOMEM */
jaw_status jaw_book_current(jaw_book *book, jaw_book_kind kind,
                            const char *machine, jaw_book_take take,
                            void *user);
jaw_status jaw_book_history(jaw_book *book, jaw_book_kind kind,
                            const char *machine, const char *subject,
                            size_t most, jaw_book_take take, void *user);
jaw_status jaw_book_log(jaw_book *book, size_t most, jaw_book_take take,
                        void *user);

jaw_status jaw_book_older(jaw_book *book, long long id, long long *n);
jaw_status jaw_book_parts(jaw_book *book, long long id, jaw_book_take take,
                          void *user);
jaw_status jaw_book_parts_now(jaw_book *book, long long id, jaw_book_take take,
                              void *user);

/* jaw_book_find: the current entry of a subject.  jaw_book_get: any by its id.
 * Returned:  *record; its texts and readings live until the next call with
 *            this book
 * Status:    as above; JAW_EUNKNOWN: there is none (no note) */
jaw_status jaw_book_find(jaw_book *book, jaw_book_kind kind,
                         const char *machine, const char *subject,
                         jaw_book_record *record);
jaw_status jaw_book_get(jaw_book *book, long long id, jaw_book_record *record);

/* jaw_book_length_find: the length of a subject to go by: the newest that holds
 * and shows no slip (JAW_BOOK_SLIPS), or where each shows one the newest.
 * Where the newest is in doubt, a note, a doubt, says so and which is taken; so
 * does one where the height that it was measured by is undone.
 * Returned, status: as jaw_book_find */
jaw_status jaw_book_length_find(jaw_book *book, const char *machine,
                                const char *subject, jaw_book_record *record);

/* jaw_book_reference: the length that others of the same datum count from, in
 * whatever holder the tool is.
 * Returned:  as jaw_book_length_find
 * Status:    that too; JAW_ECONFLICT: it is in the book in two holders, which a
 *            note, a doubt, names */
jaw_status jaw_book_reference(jaw_book *book, const char *machine, int number,
                              const char *datum, jaw_book_record *record);

/* ----------------------------------------------------- looking after a book */

/* jaw_book_check: SQLite's integrity check, then ours: each entry has its row
 * in the table of its kind, and what is current is what follows from all
 * entries.  Every finding is a note.
 * Returned:  *entries, how many there are; may be NULL
 * Status:    JAW_OK; JAW_EDAMAGED: something was found; JAW_EBUSY, JAW_EIO,
 *            JAW_ENOMEM */
jaw_status jaw_book_check(jaw_book *book, long long *entries);

/* jaw_book_backup: a copy of the whole book as it is at one moment, while
 * others may write, by SQLite's online backup.  A file that is there already is
 * left alone.
 * Status:    JAW_OK; JAW_ECONFLICT: there is a file already; JAW_EFULL,
 *            JAW_EIO, JAW_EBUSY, JAW_ENOMEM: no copy is left behind */
jaw_status jaw_book_backup(jaw_book *book, const char *path);

/* JSON: one object a line, the first says what it is.  CSV (RFC 4180): one
 * entry a row under one row of column names; an empty field is not known, ""
 * an empty text.  Both hold every digit: what is imported from them is what was
 * exported.  Both say first how many entries they have (JSON: "entries" of the
 * first object; CSV: a last column, called entries=8, with nothing in it), and
 * a file with fewer is refused; one that does not say it is read as it is. */
typedef enum jaw_book_form { JAW_BOOK_JSON, JAW_BOOK_CSV } jaw_book_form;

/* Takes a piece of text; false ends the writing. */
typedef bool (*jaw_book_put)(void *user, const char *text, size_t len);

/* jaw_book_export: all entries in their order, as of one moment.
 * Status:    JAW_OK; JAW_EIO: put ended it; JAW_EDAMAGED, JAW_EBUSY,
 *            JAW_ENOMEM */
jaw_status jaw_book_export(jaw_book *book, jaw_book_form form,
                           jaw_book_put put, void *user);

/* jaw_book_import: all of it or nothing.  An entry that the book holds already,
 * equal in everything, is passed over; one with a number that the book uses for
 * something else is a mistake.  Rows without a number are written behind the
 * others in their order; without a time, at `at`.
 *
 * Given:     text[len], name for messages; the form is seen from the first
 *            character: { is JSON
 * Returned:  *added, *held: how many were written, and passed over
 * Status:    JAW_OK; JAW_ESYNTAX: mistakes, each a note with its line, nothing
 *            written; JAW_EDAMAGED, JAW_EFULL, JAW_EBUSY, JAW_EIO,
 *            JAW_ENOMEM */
jaw_status jaw_book_import(jaw_book *book, const char *text, size_t len,
                           const char *name, long long at, long long *added,
                           long long *held);

/* ----------------------------------------------------- the length of a tool */

/* How a tool was touched.  With the one line of DESIGN, reading = W + work + L,
 * a surface whose top is at machine Z `top` for a tool of length 0 gives
 * L = reading - top - what lies in between. */
typedef struct jaw_book_touch {
    const char *machine;
    int number;
    const char *holder, *text; /* "": none */
    const char *on;            /* surface; "part": work Z 0, whose height is
                                  nobody's but this part's; "": the readings are
                                  lengths from the gauge line */
    const char *through;       /* a block of the book; "": none */
    double between;            /* mm, >= 0, when no block is named */
    double between_u;          /* mm */
    const double *reading;     /* mm */
    size_t n;                  /* >= 1 */
    double repeat;             /* mm, > 0, of one reading; NaN: not stated */
    bool fresh;
    jaw_unit unit;
    long long at;
} jaw_book_touch;

/* A change that is real is told from the others by how likely each would have
 * made it.  Columns: change, its share before anything is known; ours, no
 * source.  The likelihoods: worn, exponential about what the tool lost at each
 * earlier change, or else about JAW_BOOK_WEAR; pulled out and broken, any
 * amount up to the whole length alike; another tool, the length of each other
 * one in the book, as well as it is known. */
#define JAW_BOOK_PRIOR_LIST(X)                                                 \
    X(JAW_CHANGE_WORN, 0.50)                                                   \
    X(JAW_CHANGE_PULLED, 0.15)                                                 \
    X(JAW_CHANGE_BROKEN, 0.15)                                                 \
    X(JAW_CHANGE_OTHER, 0.20)

/* The same of diameters: worn about twice JAW_BOOK_WEAR, for there is a flank
 * on either side; smaller and larger by any amount up to the diameter. */
#define JAW_BOOK_PRIOR_DIAMETER_LIST(X)                                        \
    X(JAW_CHANGE_WORN, 0.55)                                                   \
    X(JAW_CHANGE_LARGER, 0.10)                                                 \
    X(JAW_CHANGE_SMALLER, 0.10)                                                \
    X(JAW_CHANGE_OTHER, 0.25)

/* mm: the flank wear of 0.3 mm that ends an end mill's life (ISO 8688-2:1989,
 * from memory), on a relief of 10 degrees: 0.3 tan 10. */
#define JAW_BOOK_WEAR 0.053

/* Within noise: less than 1 in 100 of unchanged tools would differ more. */
#define JAW_BOOK_ALPHA JAW_TRUST_CHANGE

/* mm, of one reading, taken where it is neither stated nor seen, and said: twice
 * JAW_REPEAT_DEFAULT, for a person is sent to look at a tool by it; common
 * practice, no source. */
#define JAW_BOOK_REPEAT 0.01

typedef struct jaw_book_verdict {
    jaw_book_change change;
    long long last_id;   /* what it is compared with: the newest that holds and
                            is no slip; 0: nothing */
    double last, differ; /* mm; NaN */
    double u, dof;       /* mm, of differ: readings, step, seat, and surface and
                            block where they are not the same ones */
    double limit;        /* mm: within it is noise (jaw_trust_limit) */
    double noticed;      /* mm: a change of so much is noticed in 80 of 100, if
                            the spreads are what they were seen to be */
    double share[JAW_BOOK_CHANGES]; /* of a real change, sum 1; else 0 */
    double wear;         /* mm, the wear that worn is judged by */
    int other;           /* tool whose length it is nearest to; 0: none */
    char other_holder[JAW_BOOK_NAME_SIZE];
    bool repeat_assumed; /* JAW_BOOK_REPEAT */
    long long surface, surface_last; /* SURFACE: the entries of its two heights;
                                        0 */
    bool surface_carried; /* the newer by marks */
    /* NOISE, but since the cutter was new it is more: */
    long long first_id;  /* its first entry; 0: it is not */
    double first_differ, first_limit; /* mm, as differ and limit; NaN */
} jaw_book_verdict;

typedef struct jaw_book_measured {
    jaw_book_record record; /* for jaw_book_add; its texts are those of the
                               touch, and subject, datum */
    jaw_book_verdict verdict;
    double top, top_u;      /* mm, of the surface; NaN: not known */
    double top_dof, between_dof;
    char subject[JAW_BOOK_SUBJECT_SIZE];
} jaw_book_measured;

/* jaw_book_measure: what a touch amounts to, and what became of the tool since
 * last time.  Nothing is written.
 *
 * The spread of one reading is what was stated, or else what was seen: the
 * pooled spread of these readings and of the newest 40 lengths of this machine
 * that were touched on the same surface (through a block is another way to
 * touch), with its degrees of freedom.  What was seen of readings, surface and
 * block meets what is known of them in half95 (jaw_trust_among).
 *
 * Status:    JAW_OK; JAW_EFEW (n = 0), JAW_EUNKNOWN: no such block, or a
 *            surface named nearly as another; JAW_EDOMAIN; those of reading a
 *            book.  Each is a note, as are doubts and assumptions
 * False alarms: within noise is missed by an unchanged tool in 1 of 100.  0.95
 *            to 1.05 where repeats are stated or seen with four degrees of
 *            freedom and more, 0.8 to 1.2 with two and three, up to 1.45 with
 *            one; 0.5 to 1.05 where a setter or block was calibrated in
 *            between, with four of its own.  Less where readings hardly differ,
 *            for a display that shows steps can not be wrong by a hundredth
 * Misses:    a change of `noticed` is missed in 20 of 100 (19 to 21; 15 to 21
 *            with fewer than four degrees of freedom, and where a setter or
 *            block was calibrated in between; up to 45 where readings hardly
 *            differ and a change is a step or two)
 *            All: tests/simulate/changes.c, by simulation
 * Source of noticed: Johnson & Welch, Biometrika 31 (1940) 362-389 (from
 *            memory), the normal limit of noncentral t */
jaw_status jaw_book_measure(jaw_book *book, const jaw_book_touch *touch,
                            jaw_book_measured *out);

/* A cutter's diameter as measured by itself, with a micrometer say. */
typedef struct jaw_book_gauge {
    const char *machine;
    int number;
    const char *holder;    /* "": none */
    const double *reading; /* mm */
    size_t n;              /* >= 1 */
    double repeat;         /* mm, > 0, of one reading; NaN: not stated */
    double step;           /* mm, > 0, what the readings are rounded to */
    bool fresh;
    bool beside;           /* a length is measured with it, which says what is
                              odd about the holder */
    jaw_unit unit;
    long long at;
} jaw_book_gauge;

/* jaw_book_measure_diameter: the same of a diameter.  The spread of one reading
 * is pooled with the newest 40 diameters of this machine.
 *
 * Status, false alarms, misses: as jaw_book_measure */
jaw_status jaw_book_measure_diameter(jaw_book *book,
                                     const jaw_book_gauge *gauge,
                                     jaw_book_measured *out);

/* jaw_book_machine_of: what the book knows of a machine.  One that it does not
 * know has the defaults of jaw_control_default(JAW_MM) and no travel; *known is
 * then false. */
jaw_status jaw_book_machine_of(jaw_book *book, const char *name,
                               jaw_book_machine *machine, bool *known);
/* jaw_book_machine_tell: that those are taken; a note, an assumption. */
void jaw_book_machine_tell(jaw_book *book, const char *name);

/* jaw_book_machine_check: whether a machine's travel and step fit the heights
 * and lengths that the book has of it, and its last step; of a record that is
 * yet to be written.  Each that does not is a note, a doubt, with the entry.
 * Status:    JAW_OK; as jaw_book_find */
jaw_status jaw_book_machine_check(jaw_book *book,
                                  const jaw_book_record *record);

/* jaw_book_register: what a length register holds by a rule (setup.h).
 *
 * Given:     length    as kept
 *            reference the reference tool's; NULL: not known
 *            work_z    mm, Z of the work zero, for tip to part; NaN
 * Status:    JAW_OK; JAW_EUNKNOWN: it does not follow: tip to part of a tool
 *            that did not touch the part needs work_z, a length from the gauge
 *            line a surface whose height is known, a difference two tools of
 *            one datum; JAW_EDOMAIN (rule).  On failure *value is NaN */
jaw_status jaw_book_register(const jaw_book_length *length,
                             jaw_length_rule rule,
                             const jaw_book_length *reference, double work_z,
                             double *value);
/* jaw_book_register_check: a value, mm, of a machine's length register that its
 * Z can not reach by the rule: a note, a doubt, says so.
 * Status:    JAW_OK; as jaw_book_machine_of */
jaw_status jaw_book_register_check(jaw_book *book, const char *machine,
                                   jaw_length_rule rule, int number,
                                   double value);

/* ------------------------------------------------------- setters and blocks */

/* jaw_book_length_sure: how sure a length is that something is to stand on.
 * Where the book does not know, JAW_BOOK_REPEAT is taken for one reading, with
 * what is known beside it; a note, an assumption, says so.  Where it was measured
 * on the surface itself, one that is a doubt does.
 *
 * Given:     record   of kind LENGTH
 *            on       the surface whose height is to stand on it
 * Returned:  *u       mm, one standard deviation, and *dof of it; NaN on failure
 * Status:    JAW_OK; JAW_EDOMAIN (kind); those of reading a book */
jaw_status jaw_book_length_sure(jaw_book *book, const jaw_book_record *record,
                                const char *on, double *u, double *dof);

/* jaw_book_calibrate: the height of a surface from a tool or tip of known
 * length that touched it: top = mean reading - length - what lies in between.
 *
 * Given:     touch    on: the surface; number: of the tool, or 0
 *            length, length_u, length_dof  mm, of the tool or tip; dof INFINITY
 *            or NaN: stated; u 0: it counts as exact, and a note says so
 * Returned:  *record for jaw_book_add; subject is touch->on
 * Status:    as jaw_book_measure; JAW_EUNKNOWN: how well it repeats is neither
 *            stated nor seen in two readings or more */
jaw_status jaw_book_calibrate(jaw_book *book, const jaw_book_touch *touch,
                              double length, double length_u,
                              double length_dof, jaw_book_record *record);

/* jaw_book_height_check: may a height or a thickness be written down?
 * Given:     record   of kind HEIGHT, with its readings, or none: it is stated
 * Status:    JAW_OK; JAW_EDOMAIN: a reading or a top where Z, as far as its
 *            travel is known, can not be; JAW_ECONFLICT: the inch and mm of what
 *            the book has under that name, or its sign, were mixed up; those of
 *            reading a book.  Each is a note */
jaw_status jaw_book_height_check(jaw_book *book, const jaw_book_record *record);

/* jaw_book_height_compare: a height or a thickness that is not written yet,
 * with the current one of its name.
 * Returned:  *verdict   last_id (0: there is none), last, differ, u, dof and
 *                       limit, as of a length; limit 0: both are taken as
 *                       exact.  change is NOISE or UNSURE, or FIRST
 * Status:    JAW_OK; those of reading a book */
jaw_status jaw_book_height_compare(jaw_book *book,
                                   const jaw_book_record *record,
                                   jaw_book_verdict *verdict);

/* ------------------------------------------------------------ kept setups */

/* What a solved setup is in a book: the setup, then each of its work zeros and
 * length registers that has a value.  Its texts are those of the setup that was
 * solved; file, sheet, included and report of the first are "" and to be filled
 * in. */
typedef struct jaw_book_kept {
    jaw_book_record *record; /* n of them, for jaw_book_add_all */
    size_t n;
    char (*name)[JAW_REGISTER_NAME];
} jaw_book_kept;

/* jaw_book_kept_make: to be freed by jaw_book_kept_free.
 * Status:    JAW_OK; JAW_ENOMEM.  One without a title no book takes */
jaw_status jaw_book_kept_make(const jaw_setup *setup,
                              const jaw_solution *solution,
                              const char *machine, jaw_book_kept *kept);
void jaw_book_kept_free(jaw_book_kept *kept);

/* jaw_book_kept_fits: whether a setup fits what the book has of its machine: its
 * control turns coordinates as the machine's does, and its touches lie within
 * the travel.  Each that does not is a note, a doubt; of an axis the first touch.
 *
 * Given:     rule     whether its heights and lengths are to follow the machine's
 *                     convention of length registers as well; tools that a setup
 *                     leaves to the book are held against that by jaw_book_fill
 * Status:    JAW_OK; those of reading a book */
jaw_status jaw_book_kept_fits(jaw_book *book, const jaw_book_kept *kept,
                              const jaw_setup *setup, bool rule);

/* jaw_book_kept_old: whether a setup that is solved again has values that were
 * kept before the machine was homed, and that marks carried since: to half a
 * step the same, where that homing moved them by more.
 *
 * Returned:  *n        values of which that is so; each is a note, a doubt, that
 *                      says which marks carried it and what holds now
 * Status:    JAW_OK; those of reading a book */
jaw_status jaw_book_kept_old(jaw_book *book, const jaw_book_kept *kept,
                             size_t *n);

/* jaw_book_setup_find: the kept setup that a person means: by its title, by a
 * part of a title that no other one has (upper and lower case are the same),
 * or, when it is a number and no title, by its entry: then an older or undone
 * one too.
 *
 * Returned:  *record as of jaw_book_find
 * Status:    as jaw_book_find; JAW_EUNKNOWN: none, with a note that says which
 *            title is near; JAW_ECONFLICT: several, with a note */
jaw_status jaw_book_setup_find(jaw_book *book, const char *machine,
                               const char *text, jaw_book_record *record);

/* jaw_book_setup_near: of a title under which no setup is kept, whether one is
 * kept under nearly that title; a note, an assumption, says so.  Titles that
 * only numbers tell apart are not near: they count sides or parts.
 * Status:    JAW_OK, also when there is none; those of reading a book */
jaw_status jaw_book_setup_near(jaw_book *book, const char *machine,
                               const char *title);

/* What became of a register since a setup was kept.  Columns: kind, word, what
 * it means. */
#define JAW_BOOK_SHIFT_LIST(X)                                                 \
    X(JAW_SHIFT_NOISE, "within-noise", "within noise")                         \
    X(JAW_SHIFT_REAL, "real", "it moved")                                      \
    X(JAW_SHIFT_UNSURE, "can-not-tell", "how well it is known is not known")   \
    X(JAW_SHIFT_RULE, "other-convention",                                      \
      "not compared: the convention of lengths is another one")                \
    X(JAW_SHIFT_NEW, "new", "it was not there before")                         \
    X(JAW_SHIFT_GONE, "gone", "it is not there now")

typedef enum jaw_book_shift_kind {
#define JAW_BOOK_SHIFT_ENUM(name, word, text) name,
    JAW_BOOK_SHIFT_LIST(JAW_BOOK_SHIFT_ENUM)
#undef JAW_BOOK_SHIFT_ENUM
    JAW_SHIFT_KINDS
} jaw_book_shift_kind;

const char *jaw_book_shift_word(jaw_book_shift_kind kind); /* NULL */
const char *jaw_book_shift_text(jaw_book_shift_kind kind);

/* A move that looks like a slip of the hand. */
typedef enum jaw_book_slip {
    JAW_SLIP_NONE,
    JAW_SLIP_SIGN, /* the same with the other sign */
    JAW_SLIP_INCH  /* 25.4 times, or a 25.4th */
} jaw_book_slip;

/* At most so many of all setups that stayed where they were are said to have
 * moved, however many values they have. */
#define JAW_SHIFT_ALPHA 0.01

typedef struct jaw_book_shift {
    char name[JAW_REGISTER_NAME]; /* "G54", "H3" */
    int axis;                     /* as of jaw_book_entered */
    jaw_figure before, after;     /* mm or rad; value NaN: not there */
    double differ;                /* after less before; a turn in (-pi, pi] */
    double u, half95;             /* of differ */
    double limit;                 /* within it is noise */
    double noticed;               /* so much is noticed in 80 of 100 */
    jaw_book_shift_kind kind;
    jaw_book_slip slip;
} jaw_book_shift;

typedef struct jaw_book_moved {
    long long before, at;   /* the entry compared with, and its clock */
    jaw_book_shift *shift;  /* n of them, in the order of `kept`, then those
                               that are gone */
    size_t n, real, unsure; /* how many are so */
    bool together;          /* two work zeros and more, and all of them moved
                               alike: */
    jaw_moved whole;        /* by so much, only then */
} jaw_book_moved;

/* jaw_book_moved_find: what moved since entry `before`, a kept setup.
 *
 * Given:     kept     as it is now
 *            tip      mm, diameter of the largest tip that touched: a lost sign
 *                     and inch for mm are seen across it
 * Returned:  *moved   to be freed by jaw_book_moved_free.  Each slip is also a
 *                     note, a doubt
 * Status:    JAW_OK, JAW_EUNKNOWN (there is no such setup); those of reading
 * A difference d of two values with u1 and u2 is real when
 * d^2 > (t1 u1)^2 + (t2 u2)^2, t1 and t2 Student's factor for its own degrees
 * of freedom and for JAW_SHIFT_ALPHA shared among all values that are compared
 * (Bonferroni).  Where u comes of a known and a seen share, its degrees of
 * freedom are at most those that its 95 % interval stands for.
 * False alarms: at most 1 of 100 setups that stayed, by the bound; of 3000
 *            where repeats are stated 0.5 to 1.5 of 100 are counted.  Fewer, 0.5
 *            at most, where they are only seen, and down to none where both
 *            setups share an error (that of a tip's diameter).  A move of
 *            `noticed` is missed in 20 of 100 (15 to 25) where repeats are
 *            stated; tests/book/moved.c
 * Source:    Banerjee, Sankhya 22 (1960) 359-378 (the bound; from memory);
 *            all moved alike: jaw_place_moved */
jaw_status jaw_book_moved_find(jaw_book *book, long long before,
                               const jaw_book_kept *kept, double tip,
                               jaw_book_moved *moved);
void jaw_book_moved_free(jaw_book_moved *moved);

/* --------------------------------------------------------- homed once more */

/* After a homing every machine coordinate may be another.  Marks that are found
 * again say by what everything moved, and with that where the work zeros are,
 * the surfaces and fixtures that are on the table, and, where lengths go from
 * tip to part, what the length registers hold.
 *
 * A reading of the marks that is kept begins a stretch of the book's history,
 * in which the machine stands as it was homed then, unless it says that nothing
 * moved; and it says so of the axes alone along which a mark was compared: along
 * the others the stretch begins anew, and with it a mark that was left out.
 * Only what was found since the stretch began can be carried over: by
 * what the machine moved before that nobody knows.  Within noise, and while it
 * is not clear, nothing is carried: the reading that began the stretch goes on
 * holding, so that noise does not add up. */

/* Why something in the book is not carried. */
#define JAW_BOOK_CARRY_LIST(X)                                                 \
    X(JAW_CARRY_DONE, "carried", "carried over")                               \
    X(JAW_CARRY_BEFORE, "before",                                              \
      "found before the marks were read first: what the machine moved by "     \
      "since then nobody knows")                                               \
    X(JAW_CARRY_AFTER, "after",                                                \
      "found after the machine was homed: it is right as it is")               \
    X(JAW_CARRY_UNSHOWN, "not-shown", "the marks show no height")

typedef enum jaw_book_carry {
#define JAW_BOOK_CARRY_ENUM(name, word, text) name,
    JAW_BOOK_CARRY_LIST(JAW_BOOK_CARRY_ENUM)
#undef JAW_BOOK_CARRY_ENUM
    JAW_BOOK_CARRIES
} jaw_book_carry;

const char *jaw_book_carry_word(jaw_book_carry carry); /* NULL when unknown */
const char *jaw_book_carry_text(jaw_book_carry carry);

/* A zero, offset, height or fixture that holds now, and what it is after the
 * homing. */
typedef struct jaw_book_carried {
    jaw_book_carry how;
    jaw_book_record before; /* as it is in the book */
    jaw_book_record after;  /* as it is to be written; of DONE only.  What the
                               marks do not show is NaN: it must be found again,
                               unless it did not move */
} jaw_book_carried;

/* jaw_book_mark_found: a mark from a feature of a solved setup that was asked
 * where its features are (jaw_setup_ask_where).
 *
 * Returned:  *mark; feature, place and direction
 * Status:    JAW_OK; JAW_EUNKNOWN: it was not found, or it is of a kind that is
 *            no mark (pattern, bar, sweep); JAW_ERANK: a wall of which one
 *            coordinate alone was read */
jaw_status jaw_book_mark_found(const jaw_found *found, jaw_book_mark *mark);

/* Readings of one mark's place, typed by hand; NaN: that coordinate is not
 * read, of any of them. */
typedef struct jaw_book_typed {
    const jaw_vec3 *reading; /* n of them, mm */
    size_t n;
} jaw_book_typed;

/* jaw_book_mark_typed: marks from readings of their places.
 *
 * Given:     typed[n]
 *            repeat    mm, > 0, of one reading; NaN: what the readings show,
 *                      all coordinates of all marks together
 *            step      mm, of the control: readings are rounded to it
 * Returned:  mark[n]: the means; feature ""
 * Status:    JAW_OK; JAW_EFEW: no reading; JAW_EUNKNOWN: how well a reading
 *            comes back is neither stated nor seen; JAW_EDOMAIN: a repeat or
 *            step, readings of one mark with different coordinates, or with
 *            neither x and y nor z; JAW_ENOTFINITE */
jaw_status jaw_book_mark_typed(const jaw_book_typed typed[], size_t n,
                               double repeat, double step,
                               jaw_book_mark mark[]);

/* One mark as it was found now. */
typedef struct jaw_book_marked {
    long long since;  /* entry that it is compared with; 0: none */
    long long at;     /* its clock */
    jaw_vec3 before;  /* mm; NaN */
    jaw_vec3 off;     /* mm, from where all together put it; NaN: not shown */
} jaw_book_marked;

typedef struct jaw_book_homing {
    const jaw_book_record *mark; /* n, as given, with move and since */
    jaw_book_marked *marked;     /* n */
    size_t n, n_compared;
    jaw_book_move move; /* of all together */
    jaw_moved moved;    /* NaN when n_compared is 0; while the marks disagree,
                           what fits all of them best */
    bool doubtful;      /* a slip of the hand, touches that scatter, marks that
                           moved against one another, or a new name that is
                           nearly an old one: nothing is carried, nothing can be
                           kept */
    long long first;    /* entry since which the marks show all that they show;
                           0 */
    jaw_book_carried *carried; /* n_carried: zeros, offsets, heights, fixtures;
                           when it is not clear: what it would be */
    size_t n_carried;
    char **text;        /* owned */
    size_t n_texts;
} jaw_book_homing;

/* jaw_book_homed: what marks that were found again say.  Nothing is written.
 *
 * Given:     mark[n]   records of marks, 1 <= n <= JAW_MARKS_MAX, of one
 *                      machine, with subject, at, doubts (JAW_BOOK_SCATTER:
 *                      its touches disagree), feature, place, direction, unit;
 *                      fresh[n] (NULL: none): it is another mark under
 *                      that name, and is not compared
 *            homed     when the machine was homed, ms as in a record: what was
 *                      written later is not carried; 0: after all that is in
 *                      the book
 * Returned:  *homing for jaw_book_homing_free; it refers to mark[], whose move
 *            and since are set
 * Status:    JAW_OK; JAW_EDOMAIN: something in a mark that no book may hold, a
 *            name twice, or several machines; JAW_ERANK, as jaw_place_moved;
 *            those of reading a book.  Each is a note, as are doubts and
 *            assumptions
 * False alarms: as jaw_place_moved, in the plane and in height each: of marks
 *            that stayed 1 in 1000 are MOVED, and 49 in 1000 UNCLEAR;
 *            tests/book/homing.c */
jaw_status jaw_book_homed(jaw_book *book, jaw_book_record mark[],
                          const bool fresh[], size_t n, long long homed,
                          jaw_book_homing *homing);
void jaw_book_homing_free(jaw_book_homing *homing);

/* jaw_book_homing_keep: marks, and if they moved all that is carried, in one
 * transaction.
 * Returned:  *id of the first mark
 * Status:    JAW_OK; JAW_ECONFLICT: it is doubtful; as jaw_book_add_all */
jaw_status jaw_book_homing_keep(jaw_book *book, jaw_book_homing *homing,
                                long long *id);

/* By what the machine's Z moved since an entry was written. */
typedef struct jaw_book_rise {
    size_t n;        /* homings whose marks moved, and do not show that Z
                        stayed */
    long long marks; /* entry of the newest; 0: none */
    double by;       /* mm, all of them together; NaN: one does not show it */
} jaw_book_rise;

/* jaw_book_rise_since: of lengths above the part, or above a surface whose
 * height is not known: what was read before `after` moved with the machine.
 * Status:    JAW_OK; those of reading a book; by is NaN then
 * jaw_book_rise_tell: a note, a doubt, about such a length of a tool.  Status:
 * the same */
jaw_status jaw_book_rise_since(jaw_book *book, const char *machine,
                               long long after, jaw_book_rise *rise);
jaw_status jaw_book_rise_tell(jaw_book *book, const char *machine, int number,
                              const char *datum, const jaw_book_rise *rise);

/* ---------------------------------------------------------------- fixtures */

/* What a fixture moved by since it was found last, coordinate for coordinate
 * (X Y Z, skew), and what it comes back to.
 *
 * Within noise: each coordinate by itself against both uncertainties, at a
 * level that makes 5 of 100 of all that stayed look like more at most, however
 * their errors hang together (Bonferroni; Dunn, J. Am. Stat. Assoc. 56 (1961)
 * 52-64); moved: 1 of 1000 at most.  The repeatability is the standard
 * deviation of the places since it was set there, one a time that it was put
 * back; what was carried over by marks is carried in all that came before.
 * False alarms: tests/book/homing.c */
typedef struct jaw_book_put_back {
    jaw_figure by[4];      /* now less last; value NaN: not known of one */
    jaw_book_move move[4], all; /* FIRST: not known; all: the worst of them */
    bool doubtful;         /* a slip of the hand is likelier, or its name is
                              nearly an old one: nothing is said of what it
                              comes back to, and it can not be kept */
    long long since;       /* entry; 0: none */
    size_t times;          /* that it was put there, this one too */
    double repeat[4];      /* mm, rad: one standard deviation; NaN: one time */
    double repeat_high[4]; /* in 95 of 100 it is not more than that */
    double dof[4];
    double measuring[4];   /* mm, rad: what measuring alone would show of it */
    bool as_measured[4];   /* repeat is no more than that (chi-square, 5 of 100
                              that come back exactly look like more) */
} jaw_book_put_back;

/* jaw_book_fixture_found: a vise or fixture from a solved setup that was asked
 * where its features are.  Sizes, bed and fixed jaw are those of a vise of the
 * setup; x, y and skew those of a zero: the fixture's own point, the same each
 * time.  Without a zero there is the skew of the fixed jaw alone; without a
 * vise z is that of the zero, where lengths go from the gauge line.
 *
 * Given:     vise      its name; NULL: the only one, or none
 *            zero      its register; NULL: the first that takes its turn, x or
 *                      y from the fixed jaw, else the only one, else none
 * Returned:  *fixture; *named: the vise's name, NULL: there is none; *by: the
 *            zero's register, NULL
 * Status:    JAW_OK; JAW_EUNKNOWN: there is no such vise (*named NULL) or zero
 *            (*by NULL); JAW_ERANK: it says nothing of where the fixture is */
jaw_status jaw_book_fixture_found(const jaw_setup *setup,
                                  const jaw_solution *solution,
                                  const char *vise, const char *zero,
                                  jaw_book_fixture *fixture,
                                  const char **named, const char **by);

/* jaw_book_compare_fixture: what is in the book against a fixture as it was
 * found now.  Nothing is written.
 *
 * Given:     record    of a fixture, with machine and subject
 *            tip       mm, >= 0, across the largest that touched it: a sign that
 *                      was lost comes back as that much less
 * Returned:  *out; record's move and since.  One that moved while it stood is
 *            also a note, a doubt, and so is what looks like a slip
 * Status:    JAW_OK; JAW_EDOMAIN; those of reading a book */
jaw_status jaw_book_compare_fixture(jaw_book *book, jaw_book_record *record,
                                    double tip, jaw_book_put_back *out);

/* jaw_book_fixture_keep: one that was compared.
 * Returned:  *id of it
 * Status:    JAW_OK; JAW_ECONFLICT: it is doubtful; as jaw_book_add */
jaw_status jaw_book_fixture_keep(jaw_book *book, jaw_book_record *record,
                                 const jaw_book_put_back *compared,
                                 long long *id);

/* -------------------------------------------------------------------- tips */

/* jaw_book_tip_of: what a book keeps of a calibration: diameter, harmonics,
 * covariance, repeat and size_u; the rest of *tip is left as it was. */
void jaw_book_tip_of(const jaw_tip_calibration *cal, jaw_book_tip *tip);

/* How a tip changed since it was calibrated last: the diameter, and its runout
 * and lobes as vectors.  Each limit holds 99 of 100 unchanged tips
 * (JAW_BOOK_ALPHA), with the uncertainty of both calibrations: Student's t with
 * effective degrees of freedom, and F for a vector (Hotelling, Ann. Math. Stat.
 * 2 (1931) 360-378, with the degrees of freedom of the poorer one).  The known
 * size is taken as the same thing where kind, size and uncertainty are alike;
 * its error is then the same in both. */
typedef struct jaw_book_tip_change {
    long long last_id, last_at;   /* what it is compared with; 0: nothing */
    double last, last_half95;     /* mm, its diameter then; NaN */
    double differ, u, limit;      /* mm; NaN: not known */
    double runout, runout_limit;  /* mm, by how much its middle moved; NaN: not
                                     found in both */
    double lobes, lobes_limit;    /* mm, the same of the lobes */
    bool same_size;               /* see above */
    bool changed;                 /* one of them is beyond its limit */
} jaw_book_tip_change;

/* jaw_book_tip_judge: compares a tip's record, not yet written, with the newest
 * that holds and is no slip of the unit.
 * Returned:  *change; record->doubts, each of which is a note too
 * Status:    JAW_OK; those of reading a book
 * False alarms: each of the three in 1 of 100 unchanged tips (diameter 0.5 to
 *            1.5; runout and lobes up to 1.5), tests/book/tips.c */
jaw_status jaw_book_tip_judge(jaw_book *book, jaw_book_record *record,
                              jaw_book_tip_change *change);

/* ------------------------------------------------------- links from a setup */

/* jaw_book_fill: whatever a setup leaves to the book (jaw_link) is looked up
 * and filled in: lengths of tools from the gauge line, or above a surface of
 * the setup with the same name; tops of surfaces and thicknesses of blocks;
 * tips.  The book is opened for reading alone, and only where something is
 * asked for.
 *
 * Of each the entry to go by is taken, as by jaw_book_length_find, and a doubt
 * says where a newer one shows a slip.
 *
 * A length whose surface is in the setup and from the same entry of the book is
 * put down as what was read above that surface, so that what is wrong with its
 * height counts once.
 *
 * Given:     path     of the book, as of jaw_book_path
 *            machine  NULL: the only one that the book knows
 * Returned:  notes    errors and doubts at the places of the setup, without
 *                     files (jaw_notes_locate): what is not there, undone,
 *                     in another holder or on another machine; doubts that the
 *                     entry has, and what was measured since
 * Status:    JAW_OK, also when nothing is asked for; JAW_EUNKNOWN: something
 *            was not found, and waits; those of opening and reading a book */
jaw_status jaw_book_fill(const char *path, const char *machine,
                         jaw_setup *setup, jaw_notes *notes);

/* jaw_book_machine_pick: the only machine that the book knows; "mill" in a book
 * that knows none.  JAW_BOOK_NAME_SIZE is enough.
 * Status:    JAW_OK; JAW_ECONFLICT: several (no note); as jaw_book_current */
jaw_status jaw_book_machine_pick(jaw_book *book, char *name, size_t size);

/* jaw_book_machine_near: whether a name is nearly that of a machine of which
 * the book has anything that holds, and none of them: probably a slip, which
 * would start a machine of its own.
 * Status:    JAW_OK: it is one of them, or like none; JAW_EUNKNOWN: a slip,
 *            with a note that names the other one; as jaw_book_current */
jaw_status jaw_book_machine_near(jaw_book *book, const char *name);

/* -------------------------------------------------------------------- wear */

/* A line through lengths over time. */
typedef struct jaw_book_line {
    size_t n;
    double slope;      /* y per x: median of the slopes of all pairs */
    double low, high;  /* 95 % interval of it; NaN: fewer than five */
    bool real;         /* the interval leaves 0 out */
    double middle_x, middle_y;    /* medians: where the line passes */
    double square_slope, s;       /* of least squares; s: NaN below three */
    double mean_x, mean_y, sum_xx;
    bool agree;        /* least squares lies within low, high */
} jaw_book_line;

/* jaw_book_trend: of n >= 3 lengths.
 * Given:     x, none before the one that goes before it; y; step, to which y
 *            are rounded, 0: not at all: the interval is no narrower than that
 *            alone makes it
 * Status:    JAW_OK, JAW_EFEW, JAW_ERANK (x goes back, or is one place),
 *            JAW_ENOTFINITE, JAW_ENOMEM; on failure all NaN
 * Sources:   Theil, Proc. K. Ned. Akad. Wet. 53 (1950) 386-392; interval: Sen,
 *            J. Am. Stat. Assoc. 63 (1968) 1379-1389, with the exact
 *            distribution of Kendall's S up to n = 60, and its normal limit
 *            beyond and where x are the same; places: Hollander & Wolfe,
 *            Nonparametric Statistical Methods, 1973, 9.3 (from memory)
 * Accuracy:  the interval holds the slope in 95.0 of 100 and more (98.3 with
 *            five), that of the forecast in 95 (94 to 96);
 *            tests/book/trend.c */
jaw_status jaw_book_trend(const double x[], const double y[], size_t n,
                          double step, jaw_book_line *line);

/* jaw_book_forecast: the next length at x, with the 95 % interval of a single
 * new one by least squares (Draper & Smith, Applied Regression Analysis, 1998,
 * 3.1); where that line and the robust one disagree, and below three lengths to
 * spare, the robust line's value, and no interval. */
jaw_figure jaw_book_forecast(const jaw_book_line *line, double x);

#ifdef __cplusplus
}
#endif
#endif
