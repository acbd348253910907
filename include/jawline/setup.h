/* SPDX-License-Identifier: GPL-3.0-or-later */
/* setup.h: from features to the values to enter.
 *
 * Everything here is a rewriting of one line:
 *
 *     reading = W + Rz(skew) work + (0, 0, L)
 *
 * W is the work zero, skew the turn of the part, L the length of the tool from
 * the gauge line to its tip.
 *
 * A `jaw_setup` holds what a person stated: tips, features with their touches,
 * surfaces of known height, tools and work zeros, each with its place in the
 * text for the messages.  Names are resolved when it is solved, so the order
 * of the statements does not matter.  A `jaw_solution` holds what follows. */
#ifndef JAWLINE_SETUP_H
#define JAWLINE_SETUP_H

#include <jawline/align.h>
#include <jawline/datum.h>
#include <jawline/feature.h>
#include <jawline/hold.h>
#include <jawline/rotary.h>
#include <jawline/place.h>
#include <jawline/readback.h>
#include <jawline/trust.h>

#ifdef __cplusplus
extern "C" {
#endif

/* ----------------------------------------------------------------- stated */

/* What a length register holds (three rewritings of the same line):
 *   gauge line  H = L            work-zero Z = W_z
 *   tip to part H = W_z + L      work-zero Z = 0 (of the first work zero)
 *   reference   H = L - L_ref    work-zero Z = W_z + L_ref */
#define JAW_LENGTH_LIST(X)                                                     \
    X(JAW_GAUGE_LINE, "gauge-line", "from the gauge line to the tip")          \
    X(JAW_TIP_TO_PART, "tip-to-part", "reading at which the tip meets Z 0")    \
    X(JAW_REFERENCE_TOOL, "reference-tool", "difference to a reference tool")

typedef enum jaw_length_rule {
#define JAW_LENGTH_ENUM(name, word, text) name,
    JAW_LENGTH_LIST(JAW_LENGTH_ENUM)
#undef JAW_LENGTH_ENUM
    JAW_LENGTH_RULES
} jaw_length_rule;

const char *jaw_length_word(jaw_length_rule rule); /* NULL when unknown */
const char *jaw_length_text(jaw_length_rule rule);

typedef struct jaw_control {
    jaw_unit unit;      /* in which values are entered */
    double step;        /* mm, smallest entry, > 0 */
    double angle_step;  /* rad, smallest entry of an angle, > 0 */
    bool can_turn;      /* takes a turn of the work coordinates */
    jaw_length_rule lengths;
    int reference;      /* tool number for JAW_REFERENCE_TOOL */
    jaw_vec3 low, high; /* mm, travel; NaN: not stated */
} jaw_control;

/* jaw_control_default: 0.0001 in or 0.001 mm, 0.0001 deg, can not turn, gauge
 * line, no travel stated. */
jaw_control jaw_control_default(jaw_unit unit);

/* How well a stated thing is known: one standard deviation, in mm or rad.
 * 0, as in an initialiser that leaves it out, is nothing stated: a size, length
 * or height is then taken as exact, a spacing or squareness as the defaults at
 * the end of this header say.  Every `known` below is one. */

/* Something that a record of the shop is to say, such as that of book.h: which,
 * and once it is filled in (jaw_setup_fill_tool and the like), from when.
 *
 * What was measured before may stand on few readings, and then its 95 %
 * interval is wider than a standard deviation of normal errors says
 * (jaw_trust_within): `seen` is that share of the `known` of the length, top or
 * height of the entry. */
typedef struct jaw_link {
    bool wanted;        /* false: none of this is used */
    const char *holder; /* of a tool; NULL or "": none is named */
    bool shape;         /* a tip's is stated; else it is that of the record */
    jaw_place place;    /* of the words that ask for it */
    long long entry;    /* its number in the record; 0: not filled in */
    long long at;       /* when that was written, ms since 1970-01-01 UTC */
    double value;       /* mm, the length, height or diameter as recorded */
    double u, dof, half95; /* mm, of it, as recorded; NaN: not known there */
    double seen;        /* mm, the share that stands on readings; 0: none */
    double seen_dof;    /* its degrees of freedom; 0 where there is none */
} jaw_link;

typedef struct jaw_tip_entry {
    const char *name;
    jaw_tip tip;
    int tool; /* this tip is the tool of that number; 0: no tool */
    jaw_place place;
    double diameter_known; /* mm; all touches with the tip share its error */
    double length_known;   /* mm */
    /* What its reach has beyond half the diameter, by the direction in which it
     * moved: measure.h, under calibration.  The spindle stands at its position
     * 0 there. */
    double harmonic[4];       /* mm, c1 s1 c3 s3; 0: none */
    double harmonic_known[4]; /* mm; 0: exact, as none is */
    double correlation[10]; /* of the errors of diameter c1 s1 c3 s3: upper
                               triangle, without its diagonal */
    jaw_link link; /* of diameter, harmonics and how well they are known, and of
                      repeat and length where they are not stated; seen is not
                      used: see jaw_tip_carry */
} jaw_tip_entry;

/* The terms of a tip's reach in the order of jaw_tip_entry.correlation.
 * jaw_tip_pair: where the correlation of two different ones stands there. */
typedef enum jaw_tip_part {
    JAW_TIP_DIAMETER,
    JAW_TIP_C1,
    JAW_TIP_S1,
    JAW_TIP_C3,
    JAW_TIP_S3,
    JAW_TIP_PARTS
} jaw_tip_part;

size_t jaw_tip_pair(jaw_tip_part a, jaw_tip_part b);

/* jaw_tip_calibrated: puts into *entry what a calibration found: diameter,
 * repeat, harmonics and how well all of that is known (jaw_tip_carry).  The
 * rest of it is left as it was.  Where the calibration does not know how sure
 * it is, nothing is stated of that. */
void jaw_tip_calibrated(const jaw_tip_calibration *cal, jaw_tip_entry *entry);

typedef enum jaw_size_use {
    JAW_SIZE_FREE,     /* find it */
    JAW_SIZE_EXPECTED, /* find it, compare it */
    JAW_SIZE_KNOWN     /* take it as given */
} jaw_size_use;

typedef struct jaw_feature_entry {
    const char *name;
    jaw_feature_kind kind;
    const char *tip;  /* name; NULL or "": a tip without radius (pattern) */
    jaw_side faces;   /* edge: outward normal */
    jaw_side moving;  /* edge: direction of motion at the touch, if stated */
    jaw_size_use size_use;
    double size;      /* mm, diameter or width */
    double within;    /* mm, how near an expected size must be; NaN: default */
    jaw_place place, tip_place, faces_place, size_place;
    double size_known;   /* mm, of JAW_SIZE_KNOWN */
    double places_known; /* mm, of each place of a pattern, in x and in y */
    double repeat;       /* mm, of one touch here; 0: as the tip states */
    const char *after;   /* sweep: one of the same wall that came before it;
                            NULL: none */
    jaw_place after_place;
    bool inside;         /* dial: a bore */
    jaw_vec2 stands;     /* mm, dial: where the spindle stood, machine X Y */
} jaw_feature_entry;

/* A sweep and a dial have no tip.  Their touches are readings of an indicator,
 * which grow as the plunger is pushed in (align.h): touch.z is the reading, and
 * touch.x or touch.y of a sweep the place along the wall; touch.x of a dial is
 * the angle, rad.  Of a dial, size is the diameter of what is swept, as
 * jaw_align_round wants it, and known or not stated. */

/* One row of a pattern: nominal place, and either what was touched or the name
 * of a bore or boss whose centre was found. */
typedef struct jaw_hole_entry {
    jaw_vec2 nominal;
    jaw_vec2 touched;    /* NaN when `feature` is given */
    const char *feature; /* NULL when `touched` is given */
    jaw_place place;
} jaw_hole_entry;

/* A touch or a place of a pattern that the person has set aside: it is kept and
 * shown, and nothing follows from it. */
typedef struct jaw_aside_entry {
    jaw_touch touch;     /* NaN for a place of a pattern */
    jaw_hole_entry hole; /* only then */
    bool other_wall;     /* of a slot or web: it was of the second wall */
    jaw_place place;
} jaw_aside_entry;

typedef enum jaw_turn_use {
    JAW_TURN_NONE,    /* nothing stated: the part is taken as square */
    JAW_TURN_FEATURE, /* from an edge, slot, web, pattern, bar or sweep */
    JAW_TURN_STATED   /* the angle is given */
} jaw_turn_use;

typedef enum jaw_axis { JAW_X, JAW_Y, JAW_Z, JAW_AXES } jaw_axis;

/* `x stop at 0.25`: the feature has that part coordinate. */
typedef struct jaw_zero_term {
    const char *feature; /* NULL: this axis is not asked for */
    double at;           /* mm, part coordinate */
    jaw_place place;
} jaw_zero_term;

/* `indexed G54 on table to 90 from 0`: where the zero of another register goes
 * when the table is indexed.  The axes of the work stay the machine's, but for
 * the turn that the other zero has: the table carries it along.  The other may
 * be indexed itself, on the same table: turns about one axis add. */
typedef struct jaw_zero_index {
    const char *source; /* another zero */
    const char *table;  /* rotary; NULL: not indexed */
    double to, from;    /* rad, as the table counts; from NaN: where the other
                           was indexed to, or 0 */
    jaw_place place, table_place;
} jaw_zero_index;

typedef struct jaw_zero_entry {
    const char *name; /* G54 ... G59 */
    jaw_turn_use turn_use;
    const char *turn_feature;
    jaw_axis turn_along; /* JAW_X or JAW_Y: the part axis that runs along a
                            wall; JAW_AXES: not stated, as for a pattern */
    double turn;         /* rad, when stated */
    jaw_zero_term term[JAW_AXES];
    jaw_place place, turn_place;
    double square_known; /* rad, of walls that are taken as square */
    jaw_zero_index index;
    const char *datums; /* all of it, turn too, from this task; NULL */
    jaw_place datums_place;
    const char *station; /* the stations that it is one of; NULL: none, as it
                            must be with datums or index */
    jaw_vec3 station_at; /* mm, its nominal place among them; z NaN: 0 */
    jaw_place station_place;
} jaw_zero_entry;

/* A length that counts from a surface is the tool's own and that surface's
 * machine Z together: what is wrong with the surface cancels between two tools
 * that were measured on it. */
typedef struct jaw_tool_entry {
    int number; /* 1..9999 */
    const char *text;
    double length;   /* mm, when known; NaN: find it */
    double diameter; /* mm, for the record; NaN: not stated */
    jaw_place place;
    double length_known; /* mm */
    const char *above; /* the setter or face from which length counts; NULL: the
                          gauge line */
    jaw_link link;     /* of the length */
} jaw_tool_entry;

/* A setter, or any surface of known height: its top's machine Z when known,
 * or its height above another surface, or neither (then a contact finds it) */
typedef struct jaw_setter_entry {
    const char *name;
    double top;     /* mm, machine Z of the top for a tool of length 0; NaN */
    double height;  /* mm; NaN */
    const char *on; /* name of a face or setter below; NULL */
    jaw_place place, on_place;
    double top_known, height_known; /* mm */
    jaw_link link; /* of the height where `on` is stated, else of the top */
} jaw_setter_entry;

/* A reading of Z when a tool or tip met a surface, perhaps through a block. */
typedef struct jaw_contact_entry {
    int tool;            /* number; 0: `tip` is used */
    const char *tip;     /* name; NULL for a tool */
    double reading;      /* mm */
    const char *surface; /* name of a face or setter */
    double between;      /* mm, block, gauge or paper in between, >= 0 */
    jaw_place place, surface_place;
} jaw_contact_entry;

/* The part's temperature and what its material makes of it.  A drawing's lengths
 * hold at 20 degrees (ISO 1), so nominal spacings are longer on a part that is
 * warmer, by expansion (at - 20) of themselves; nothing that was measured is
 * changed.  Typical: steel 11.5e-6, aluminium 23.1e-6 (Swyt, J. Res. NIST 99
 * (1994) 31-44). */
#define JAW_REFERENCE_DEGREES 20.0

typedef struct jaw_temperature {
    double at;        /* degrees Celsius, within +-1000 */
    double expansion; /* of a length, per kelvin, within +-1e-3 */
    double at_known, expansion_known; /* K and per K */
    jaw_place place;
} jaw_temperature;

/* Beside features and zeros a setup may state tasks: something to be looked at
 * by itself, such as what holds the part.  Each is answered by a finding.
 * Columns: kind, the sheet's word, what it is. */
#define JAW_TASK_LIST(X)                                                       \
    X(JAW_TASK_VISE, "vise", "a vise on the table")                            \
    X(JAW_TASK_STOCK, "stock", "what stands in a vise")                        \
    X(JAW_TASK_TRAM, "tram", "the head, swung over the table")                 \
    X(JAW_TASK_SQUARE, "square", "two axes, by a square that is turned over")  \
    X(JAW_TASK_RUNOUT, "runout", "a bar that turns under an indicator")        \
    X(JAW_TASK_ROTARY, "rotary", "the centre line of a rotary table")          \
    X(JAW_TASK_DATUMS, "datums", "how a part lies, by three datums in order")  \
    X(JAW_TASK_VEE, "vee", "round stock in a V-block")                         \
    X(JAW_TASK_SINE, "sine", "a sine bar on gauge blocks")                     \
    X(JAW_TASK_STATIONS, "stations", "places with known spacing")              \
    X(JAW_TASK_SIDE, "side", "the part turned over")

typedef enum jaw_task_kind {
#define JAW_TASK_ENUM(name, word, text) name,
    JAW_TASK_LIST(JAW_TASK_ENUM)
#undef JAW_TASK_ENUM
    JAW_TASK_KINDS
} jaw_task_kind;

const char *jaw_task_word(jaw_task_kind kind); /* NULL when unknown */

/* The vise's name is also that of its bed, a setter. */
typedef struct jaw_vise_task {
    jaw_length bed;     /* mm, machine Z for a tool of length 0; NaN: what touches
                           it finds it */
    double jaw_height;  /* mm, top of the jaws above the bed, > 0 */
    double jaw_width;   /* mm, > 0; NaN: not stated */
    double opening;     /* mm, > 0; NaN */
    const char *fixed;  /* edge or sweep of the fixed jaw: its skew and how far
                           to tap; NULL */
    jaw_place fixed_place;
} jaw_vise_task;

/* Its name is also that of the stock's top, a setter on the vise's bed, so that
 * a zero may take its Z from it before anything is touched. */
typedef struct jaw_stock_task {
    const char *vise;
    jaw_length parallels; /* mm, >= 0; NaN: none */
    jaw_length size[3];   /* mm, > 0: along the jaws, across, height; the last
                             must be stated */
    double least_grip;    /* mm, > 0; NaN: 3 mm (hold.h) */
    const char *top;      /* face that is the stock's top as touched, to be held
                             against what the stack says; NULL */
    jaw_place vise_place, top_place;
} jaw_stock_task;

/* Readings round the spindle: `at` is the angle.  See jaw_align_head. */
typedef struct jaw_tram_task {
    double radius;       /* mm, > 0 */
    double cutter, base; /* mm, > 0; NaN */
    double repeat;       /* mm, > 0, of one reading; NaN: the readings tell */
} jaw_tram_task;

/* Two sweeps of one arm, the second with the square turned over; the other arm
 * is taken to lie true.  See jaw_align_square. */
typedef struct jaw_square_task {
    jaw_side faces[2]; /* of the arm along Y in each sweep: x+ or x- */
    double over;       /* mm, > 0; NaN */
    double repeat;
} jaw_square_task;

/* The centre line of a table that turns about one machine axis (rotary.h), from
 * one feature at known angles: its readings.  Each names a feature as it was
 * found at that angle, or gives the two coordinates across the axis; behind the
 * lone / those of another feature farther along the axis, which show how it
 * leans.  Features are bores, bosses and dials (about z only), balls, or bars
 * that the table holds along its axis (about x or y only), all of them bars: each
 * of these shows by itself how the axis leans, so that nothing stands behind a
 * /.  With a runout one angle is enough, and all that there may be: see
 * jaw_rotary_find_runout.  A bar takes two, from which it shows how the axis
 * leans; all else one for each place.
 * Z is for a tool of length 0, or as read with a tip. */
typedef struct jaw_rotary_task {
    jaw_axis about;
    jaw_sense sense;  /* stated, or JAW_SENSE_FIND */
    double apart;     /* mm, signed: where the second feature stands along the
                         axis less the first; NaN: there is none */
    double repeat;    /* mm, > 0, of each coordinate; NaN: the readings tell */
    const char *tip;  /* whose length is in z; NULL */
    const char *runout[2]; /* of what it holds; NULL: none */
    jaw_place sense_place, tip_place, runout_place[2];
} jaw_rotary_task;

/* An indicator that stands still beside a round bar while the table that holds
 * it turns: `at` is the table's angle.  See jaw_rotary_find_runout. */
typedef struct jaw_runout_task {
    jaw_axis on;   /* it stands on that side of the bar, */
    bool minus;    /* towards minus */
    double at;     /* mm, machine coordinate along the table's axis */
    double repeat; /* mm, > 0, of one reading; NaN: the readings tell */
} jaw_runout_task;

/* Three features of the setup as datums (datum.h); its readings are points of
 * the part, value and other x and y: those that a shim goes under, and behind
 * the / the corners at which the error in Z is asked for. */
typedef struct jaw_datums_task {
    const char *feature[3]; /* a face, an edge, an edge */
    jaw_place feature_place[3];
    jaw_vec3 at;            /* mm, part coordinates where the three meet */
} jaw_datums_task;

/* Its name is also that of the stock's top, a setter. */
typedef struct jaw_vee_task {
    jaw_length apex;     /* mm, machine Z of the V's sharp bottom for a tool of
                            length 0 */
    double angle;        /* rad, between the flanks, (0, pi) */
    jaw_length diameter; /* mm, > 0 */
} jaw_vee_task;

/* A vise, an angle plate or a part set at an angle: the stack for an angle, or
 * the angle of a stack (jaw_hold_sine); one of the two at least is stated. */
typedef struct jaw_sine_task {
    jaw_length bar;   /* mm, > 0, between its rollers */
    double angle;     /* rad, [0, pi / 2), that is wanted; NaN */
    jaw_length stack; /* mm, [0, bar), that stands there; NaN */
} jaw_sine_task;

/* Places with known spacing: the zeros that name them.  A zero that has terms of
 * its own is a touched station; what it has none for, x and y together and z, is
 * predicted from the others.  See jaw_place_stations. */
typedef struct jaw_stations_task {
    jaw_turn_use turn_use; /* of the whole: as for a zero; none: the touched
                              ones tell, and if there is one alone its own */
    const char *turn_feature;
    jaw_axis turn_along;
    double turn;
    double known;  /* mm, of each nominal place, in x, y and z */
    bool adjusted; /* touched ones too take what all say together */
    jaw_place turn_place;
} jaw_stations_task;

/* The part is turned over, once a setup: all part coordinates that are stated
 * (`at` of zeros, nominal places of patterns) are those of side one, the zeros
 * those of side two, and what is found in part coordinates is of side two. */
typedef struct jaw_side_task {
    jaw_over over;
    jaw_vec3 zero; /* mm, that of side two, on side one's drawing */
    double cut;    /* mm, how well what was cut on side one lies where it was
                      meant, x y and z each; 0: exactly */
} jaw_side_task;

typedef struct jaw_task {
    jaw_task_kind kind;
    const char *name;
    jaw_place place;
    union {
        jaw_vise_task vise;
        jaw_stock_task stock;
        jaw_tram_task tram;
        jaw_square_task square;
        jaw_rotary_task rotary;
        jaw_runout_task runout;
        jaw_datums_task datums;
        jaw_vee_task vee;
        jaw_sine_task sine;
        jaw_stations_task stations;
        jaw_side_task side;
    } as;
} jaw_task;

/* One reading of a task: where (mm, or rad round something), and what.  A
 * rotary's: the angle, and in value and other the two coordinates across the
 * axis in the order of the letters, or else a feature's name. */
typedef struct jaw_reading {
    double at, value;
    bool second; /* behind the lone / */
    bool aside;  /* set aside: kept and counted, and nothing follows from it */
    jaw_place place;
    double other;        /* mm; only rotary and datums have it */
    const char *feature; /* NULL: value and other */
} jaw_reading;

typedef struct jaw_setup jaw_setup;

/* jaw_setup_alloc: an empty setup, default control in mm; NULL when out of
 * memory.  The setup copies all names that are given to it. */
jaw_setup *jaw_setup_alloc(void);
void jaw_setup_free(jaw_setup *setup); /* NULL is fine */

/* jaw_setup_add_source: one more text that places speak of, after those added
 * before; jaw_setup_source: its file, "" for 0 and for one that is not there. */
jaw_status jaw_setup_add_source(jaw_setup *setup, const char *file);
const char *jaw_setup_source(const jaw_setup *setup, int source);

jaw_status jaw_setup_set_title(jaw_setup *setup, const char *title);
jaw_status jaw_setup_set_control(jaw_setup *setup, const jaw_control *control);
jaw_status jaw_setup_set_temperature(jaw_setup *setup,
                                     const jaw_temperature *temperature);

/* jaw_setup_ask_where: that jaw_found.where and the trust of surfaces be found
 * too, which no value to enter needs. */
void jaw_setup_ask_where(jaw_setup *setup);

/* Each adds one entry; JAW_OK, JAW_ENOMEM, JAW_EDOMAIN (a NULL name or a
 * number out of range; a tip's correlation not within +-1, or of something that
 * is exact).  Touches, the change to the other wall (slot and web)
 * and holes go to the feature that was added last (JAW_EUNKNOWN: none yet). */
jaw_status jaw_setup_add_tip(jaw_setup *setup, const jaw_tip_entry *entry);
jaw_status jaw_setup_add_feature(jaw_setup *setup,
                                 const jaw_feature_entry *entry);
jaw_status jaw_setup_add_touch(jaw_setup *setup, jaw_touch touch,
                               jaw_place place);
jaw_status jaw_setup_other_wall(jaw_setup *setup);
jaw_status jaw_setup_add_hole(jaw_setup *setup, const jaw_hole_entry *entry);
/* the same of a touch or hole that is set aside */
jaw_status jaw_setup_aside_touch(jaw_setup *setup, jaw_touch touch,
                                 jaw_place place);
jaw_status jaw_setup_aside_hole(jaw_setup *setup, const jaw_hole_entry *entry);
jaw_status jaw_setup_add_setter(jaw_setup *setup,
                                const jaw_setter_entry *entry);
jaw_status jaw_setup_add_tool(jaw_setup *setup, const jaw_tool_entry *entry);
jaw_status jaw_setup_add_contact(jaw_setup *setup,
                                 const jaw_contact_entry *entry);
jaw_status jaw_setup_add_zero(jaw_setup *setup, const jaw_zero_entry *entry);

/* jaw_setup_fill_...: puts *entry in place of the i-th that waits for a record;
 * its link.entry says that it no longer does.
 * Status:    as above; JAW_EUNKNOWN: there is none, or it does not wait */
jaw_status jaw_setup_fill_tip(jaw_setup *setup, size_t i,
                              const jaw_tip_entry *entry);
jaw_status jaw_setup_fill_setter(jaw_setup *setup, size_t i,
                                 const jaw_setter_entry *entry);
jaw_status jaw_setup_fill_tool(jaw_setup *setup, size_t i,
                               const jaw_tool_entry *entry);

/* jaw_setup_waits: how many entries wait for a record to be filled in. */
size_t jaw_setup_waits(const jaw_setup *setup);

/* jaw_setup_add_task; readings go to the task that was added last.  A vise,
 * stock and a V-block add their surfaces as setters of their names. */
jaw_status jaw_setup_add_task(jaw_setup *setup, const jaw_task *task);
jaw_status jaw_setup_add_reading(jaw_setup *setup, const jaw_reading *reading);

/* What is in it; the arrays live until the next add or free. */
const char *jaw_setup_title(const jaw_setup *setup); /* "" when none */
const jaw_control *jaw_setup_control(const jaw_setup *setup);
const jaw_temperature *jaw_setup_temperature(const jaw_setup *setup); /* NULL:
                                                              not stated */
const jaw_tip_entry *jaw_setup_tips(const jaw_setup *setup, size_t *n);
const jaw_feature_entry *jaw_setup_features(const jaw_setup *setup, size_t *n);
const jaw_touch *jaw_setup_touches(const jaw_setup *setup, size_t feature,
                                   size_t *n, size_t *first_wall);
const jaw_place *jaw_setup_touch_places(const jaw_setup *setup, size_t feature);
const jaw_hole_entry *jaw_setup_holes(const jaw_setup *setup, size_t feature,
                                      size_t *n);
const jaw_aside_entry *jaw_setup_asides(const jaw_setup *setup, size_t feature,
                                        size_t *n);
const jaw_setter_entry *jaw_setup_setters(const jaw_setup *setup, size_t *n);
const jaw_tool_entry *jaw_setup_tools(const jaw_setup *setup, size_t *n);
const jaw_contact_entry *jaw_setup_contacts(const jaw_setup *setup, size_t *n);
const jaw_zero_entry *jaw_setup_zeros(const jaw_setup *setup, size_t *n);
const jaw_task *jaw_setup_tasks(const jaw_setup *setup, size_t *n);
const jaw_reading *jaw_setup_readings(const jaw_setup *setup, size_t task,
                                      size_t *n);

/* ------------------------------------------------------------------ solved */

/* One source of a value's uncertainty: what it alone would leave of it (JCGM
 * 100, 5.1.3: the sensitivity times the standard uncertainty of the source). */
typedef struct jaw_budget_line {
    const char *text; /* "touches of 'jaw'" */
    double u;         /* mm or rad */
    double dof;       /* INFINITY: as stated */
} jaw_budget_line;

/* What is known of a value's error, from the joint adjustment of the whole
 * setup (trust.h).  While the repeats are stated and the touches do not deny
 * them (chi-square, 1 in 1000), half95 holds the truth in 95 of 100.  Where one
 * is not stated the touches alone show their spread; what is known or taken as
 * square or as drawn keeps its own, and where a value stands on both, half95 is
 * that of jaw_trust_within.  What is known with errors and looks like scatter
 * then counts twice, which is on the safe side: of the lobes of a tip up to 98
 * of 100, of the places of a pattern 96.  Measured by tests/simulate.  Where the
 * touches deny their stated repeats, what is known keeps its own spread too,
 * unless that is denied as well: then nobody can tell what is wrong, and all of
 * u grows. */
typedef struct jaw_value_trust {
    double u;         /* mm or rad, standard uncertainty; NaN: not known */
    double dof;       /* its degrees of freedom (Welch-Satterthwaite); INFINITY:
                         repeats as stated */
    double half95;    /* half-width of the 95 % interval */
    double unnoticed; /* how far a slip that nothing shows can move the value;
                         INFINITY: a slip of any size goes unseen */
    jaw_place where;  /* the touch or statement whose slip that is; what is
                         known slips by its own spread, however touches scatter */
    const jaw_budget_line *budget; /* n_budget of them, largest first: their
                                      squares add up to that of u */
    size_t n_budget;
} jaw_value_trust;

/* Where one more touch reduces a value's uncertainty most. */
typedef struct jaw_next {
    const char *text; /* "touch 'stop' once more, ..."; NULL: none reduces it by
                         a fifth or gives it a check that it lacks */
    double half95;    /* mm or rad, half-width of the 95 % interval with it */
    bool checks;      /* it would check what nothing checks now */
} jaw_next;

/* What is known of one touch, or of one place of a pattern, which can slip in two
 * directions (jaw_adjust_place). */
typedef struct jaw_touch_trust {
    double redundancy; /* 0: nothing checks it; 1: fully checked; NaN; of a
                          place in the direction that is checked least */
    double standard;   /* residual over its standard deviation; NaN; of a place
                          the root of chi-square of both directions */
    double limit;      /* a larger |standard| is a doubt: 1 in 1000 */
    double noticeable; /* mm, the smallest slip that would be noticed */
} jaw_touch_trust;

/* A wall as an indicator saw it: it has a direction and no place. */
typedef struct jaw_swept_edge {
    jaw_side faces;
    double theta;    /* rad, as of jaw_edge */
    double skew;     /* rad, the same against the axis it was swept along */
    double straight; /* mm, as of jaw_swept_wall; NaN without a spare reading */
    double span;     /* mm, between the outermost places */
    double rms;
    int dof;
    unsigned flags;
} jaw_swept_edge;

/* A round as an indicator in the spindle saw it. */
typedef struct jaw_swept_centre {
    jaw_vec2 centre;  /* mm, where the spindle stands over it */
    jaw_vec2 shift;   /* mm, from where the spindle stood to there */
    double roundness; /* mm, as of jaw_swept_round */
    double second;    /* mm, the same; NaN: no diameter is stated */
    double rms;
    int dof;
    unsigned flags;
} jaw_swept_centre;

/* Where a feature stands on the machine, for whoever keeps it.  Of an edge, slot
 * or web: the middle of what was touched of the wall, or of the middle between
 * the walls. */
typedef struct jaw_where {
    jaw_vec3 at;     /* mm; z of a ball or face for a tool of length 0; NaN what
                        does not follow */
    bool wall;       /* an edge, slot or web: */
    double theta;    /* rad, as of jaw_edge; NaN: no wall */
    jaw_value_trust trust[3]; /* of at; of a wall the first is across it, the
                                 others NaN */
    jaw_value_trust turn;     /* of theta; NaN where it is assumed */
} jaw_where;

typedef struct jaw_found {
    jaw_status status;
    jaw_feature_kind kind;
    unsigned flags; /* of the fit, and those that judge it */
    union {
        jaw_edge edge;
        jaw_face face; /* point.z is the height for a tip of length 0 */
        jaw_round round;
        jaw_walls walls;
        jaw_pattern pattern;
        jaw_ball ball; /* centre.z as touched: less the tip's length */
        jaw_bar bar;   /* point.z likewise */
        jaw_swept_edge sweep;
        jaw_swept_centre dial;
    } as;
    const double *resid; /* n of them, mm; NULL when not solved */
    const jaw_touch_trust *touch; /* n of them, of a pattern its places; NULL
                                     when not known */
    size_t n;
    const double *aside; /* n_aside of them: mm, how far each touch or place
                            that was set aside would lie off; NaN: not known */
    size_t n_aside;
    double grown, grown_over; /* mm, of a pattern: how much longer than drawn
                                 its longest distance is at the part's
                                 temperature; NaN: none is stated */
    jaw_value_trust size; /* of a diameter or width that was found */
    double height;        /* mm, machine Z of a ball's centre or a bar's axis for
                             a tool of length 0; NaN: not determined */
    jaw_value_trust turn; /* of the direction of a sweep or bar */
    jaw_value_trust centre[2]; /* of a dial, x and y */
    double changed;       /* rad, of a sweep: its skew less that of the sweep
                             that it comes after; NaN */
    jaw_value_trust changed_trust;
    bool decided;         /* a size is expected within stated limits: */
    jaw_verdict verdict;  /* by ISO 14253-1, from `size` */
    size_t largest; /* which residual is the largest in size */
    double rms;
    int dof;
    double repeat;  /* mm, of one touch, stated or default */
    bool repeat_stated;
    jaw_where where; /* all NaN unless it was asked for, and of a bar, pattern
                        or sweep */
} jaw_found;

/* One line of working: `text` names it, value is mm or rad. */
typedef enum jaw_quantity { JAW_LENGTH, JAW_ANGLE } jaw_quantity;

typedef struct jaw_step {
    const char *text;
    double value;
    jaw_quantity quantity;
} jaw_step;

typedef struct jaw_zero_found {
    const char *name;
    jaw_status status;  /* JAW_OK when everything asked for was found */
    jaw_vec3 zero;      /* mm, W as the length convention has it; NaN: axis not
                           asked for or not found */
    jaw_vec3 enter;     /* mm, the same rounded to the control's step */
    double skew;        /* rad, of the part; 0 with JAW_DIRECTION_ASSUMED */
    double turn;        /* rad, to enter, rounded; NaN: control can not turn or
                           no turn was asked for */
    double squareness;  /* rad, angle of the two walls minus 90 degrees; NaN */
    jaw_vec2 far_work;  /* mm, part coordinates of the touched place farthest
                           from the zero */
    jaw_vec2 far_cost;  /* mm, how far the place lies from where the values put
                           it (machine x, y) when the skew is not entered; NaN
                           when it is */
    double tap_span;    /* mm, distance over which the skew was measured; NaN */
    double tap;         /* mm, how far to tap the end over that span; NaN */
    jaw_value_trust trust[JAW_AXES]; /* of zero */
    jaw_value_trust turn_trust;      /* of skew */
    jaw_next next[JAW_AXES];         /* of zero */
    jaw_next turn_next;              /* of skew */
    unsigned flags;
    const jaw_step *steps;
    size_t n_steps;
} jaw_zero_found;

typedef struct jaw_tool_found {
    int number;
    jaw_status status;
    double length;      /* mm, from the gauge line; NaN: not determined */
    double tip_to_part; /* mm; NaN: not determined */
    double reference;   /* mm, against the control's reference; NaN */
    double value;       /* mm, by the control's convention */
    double enter;       /* mm, value rounded to the control's step */
    double rms;         /* mm, of this tool's contacts; NaN without check */
    size_t n_contacts;
    int dof;            /* spare contacts in the whole chain of heights */
    jaw_value_trust trust; /* of value */
    double since;       /* mm, how much longer it is by what else is known here
                           than by its record; NaN: no record, or nothing else */
    double since_limit; /* mm; within it is noise in 99 of 100 */
    unsigned flags;
    const jaw_step *steps;
    size_t n_steps;
} jaw_tool_found;

typedef struct jaw_surface_found {
    const char *name;
    double z; /* mm, machine Z of the surface; NaN: not determined */
    bool is_setter;
    jaw_value_trust trust; /* of z; NaN unless jaw_setup_ask_where */
} jaw_surface_found;

/* The answer to a task: figures with their names, and what to do. */
typedef struct jaw_item {
    const char *text; /* "skew", "stock's top" */
    double value;     /* mm or rad */
    jaw_quantity quantity;
    double half95;    /* of the 95 % interval; NaN: not known, or a plain fact */
} jaw_item;

typedef struct jaw_finding {
    const char *name;
    jaw_task_kind kind;
    jaw_status status;
    unsigned flags;
    const jaw_item *items; /* n_items */
    size_t n_items;
    const char *const *advice; /* n_advice sentences, each something to do */
    size_t n_advice;
    const double *resid; /* mm, one a reading, NaN when it is set aside; NULL
                            when there are none */
    size_t n, n_aside;
    double rms;
    int dof;
} jaw_finding;

/* The setup as a whole: do the touches scatter as their repeats say? */
typedef struct jaw_solution_quality {
    double dof;    /* spare statements */
    double s0;     /* seen spread over stated; NaN without dof */
    double chance; /* of a spread this large or larger if the repeats hold */
    bool stated;   /* every tip in use states its repeat; otherwise the
                      uncertainties stand on the spread that was seen */
} jaw_solution_quality;

typedef struct jaw_solution jaw_solution;

/* jaw_setup_solve: everything that follows from a setup.
 *
 * Returned:  *solution  never NULL unless out of memory; to be freed by
 *                       jaw_solution_free; it refers to the setup's names, so
 *                       the setup must live as long
 *            notes      one note for every assumption, doubt and error, with
 *                       places but without files (jaw_notes_locate)
 * Status:    JAW_OK; otherwise that of the first error: what was not solved
 *            is NaN, what was is given.  JAW_EUNKNOWN and an empty solution
 *            while something waits for a record (jaw_setup_waits)
 * Cost:      linear in the touches; heights cubic in the number of tools and
 *            surfaces. */
jaw_status jaw_setup_solve(const jaw_setup *setup, jaw_notes *notes,
                           jaw_solution **solution);
void jaw_solution_free(jaw_solution *solution); /* NULL is fine */

const jaw_found *jaw_solution_features(const jaw_solution *s, size_t *n);
const jaw_zero_found *jaw_solution_zeros(const jaw_solution *s, size_t *n);
const jaw_tool_found *jaw_solution_tools(const jaw_solution *s, size_t *n);
const jaw_surface_found *jaw_solution_surfaces(const jaw_solution *s,
                                               size_t *n);

const jaw_finding *jaw_solution_findings(const jaw_solution *s, size_t *n);

/* jaw_solution_registers: every value to enter, in the order in which a person
 * reads them off the control: work zeros by number, each X, Y, Z and turn, then
 * the length of tool N as register HN.
 *
 * Returned:  *value  *n of them, as entered; not yet shown, and without what
 *                    they held before; NaN where not found.  To be freed with
 *                    free(); NULL only when out of memory
 * Status:    JAW_OK, JAW_ENOMEM */
jaw_status jaw_solution_registers(const jaw_setup *setup,
                                  const jaw_solution *s,
                                  jaw_readback_value **value, size_t *n);

/* jaw_registers_sort: into that order, whoever has made them. */
void jaw_registers_sort(jaw_readback_value value[], size_t n);

jaw_solution_quality jaw_solution_total(const jaw_solution *s);

/* What is taken when nobody states it, printed as an assumption where it is
 * used.  Common practice, no source. */
#define JAW_SQUARE_DEFAULT (0.02 * 0.017453292519943295) /* rad, one standard
    deviation of a wall that is taken as square */
#define JAW_SPACING_DEFAULT 0.003 /* mm, of each hole's place in a pattern */

/* jaw_length_convert: the register value in one convention from another.
 *
 * Given:     value    mm, in convention `from`
 *            zero_z   mm, W_z: reading of the gauge line at part Z 0 (needed
 *                     when either convention is tip to part)
 *            ref      mm, L_ref (needed when either is reference tool)
 * Returned:  *out     mm, in convention `to`; NaN on failure
 * Status:    JAW_OK, JAW_EDOMAIN (rule), JAW_ENOTFINITE (something needed is) */
jaw_status jaw_length_convert(double value, jaw_length_rule from,
                              jaw_length_rule to, double zero_z, double ref,
                              double *out);

#ifdef __cplusplus
}
#endif
#endif
