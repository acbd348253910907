/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tip.h: what `jawline tip` finds out, and who prints it. */
#ifndef JAW__CLI_TIP_H
#define JAW__CLI_TIP_H

#include "cli.h"

/* Columns: identifier, word, the fewest and the most numbers of a row. */
#define TIP_KIND_LIST(X)                                                       \
    X(TIP_RING, "ring", 2, 3)                                                  \
    X(TIP_PLUG, "plug", 2, 3)                                                  \
    X(TIP_BALL, "ball", 3, 3)                                                  \
    X(TIP_BLOCK, "block", 2, 3)                                                \
    X(TIP_REPEAT, "repeat", 1, 3)                                              \
    X(TIP_REVERSAL, "reversal", 1, 2)                                          \
    X(TIP_KEPT, "kept", 0, 0)

typedef enum tip_kind {
#define TIP_KIND_ENUM(id, word, least, most) id,
    TIP_KIND_LIST(TIP_KIND_ENUM)
#undef TIP_KIND_ENUM
    TIP_KINDS
} tip_kind;

const char *tip_kind_word(tip_kind kind);

typedef struct tip_job {
    tip_kind kind;
    jaw_unit unit;
    bool json;
    jaw_known_size known[2];
    bool u_stated;
    double repeat; /* NaN: not stated */
    const char *name;
    bool keep, fresh;
    bool shape_stated;
    jaw_tip_shape shape;
    double length, length_u; /* mm; NaN, 0: not stated */
} tip_job;

enum { TIP_HISTORY = 6 };

/* An entry of the book about this tip. */
typedef struct tip_entry {
    long long id, at;
    double diameter, half95, runout; /* mm; NaN: not known */
    bool undone;
} tip_entry;

/* What became of it in the book. */
typedef struct tip_kept {
    bool done;
    long long id;
    char machine[JAW_BOOK_NAME_SIZE];
    jaw_tip_shape shape;
    bool shape_taken;     /* from the last entry */
    jaw_book_tip_change change;
    tip_entry entry[TIP_HISTORY]; /* newest first, this one the first */
    size_t n;
} tip_kept;

typedef struct tip_found {
    size_t n;      /* touches */
    double *resid; /* of ring, plug, ball, block */
    size_t same[2]; /* from 1, a touch and an earlier one that is the same; 0 */
    bool turned;   /* the spindle was, for some */
    jaw_tip_calibration round;
    jaw_tip_block block;
    jaw_spread spread[3]; /* of repeat, one a column */
    int columns;
    jaw_reversal *reversal; /* one a place */
    size_t places;
    bool nominal; /* readings are deviations */
    jaw_positioning axis;
    tip_kept kept;
} tip_found;

/* tip_keep: into the book that the arguments mean, from the rows behind what
 * was found; doubts are printed.  Returns the exit status. */
int tip_keep(const arguments *args, const tip_job *job, const jaw_row *row,
             tip_found *found);

/* tip_list: `jawline tip kept'. */
int tip_list(const arguments *args, const tip_job *job);

/* tip_shape_of: as stated, or by what it touched. */
jaw_tip_shape tip_shape_of(const tip_job *job);

/* tip_report: on stdout; false when out of memory.  tip_doubts: whether there
 * is something to look at first; tip_flags: of the calibration. */
bool tip_report(const tip_job *job, const tip_found *found);
bool tip_doubts(const tip_job *job, const tip_found *found);
unsigned tip_flags(const tip_job *job, const tip_found *found);

#endif
