/* SPDX-License-Identifier: GPL-3.0-or-later */
/* base.h: status and notes, vectors and frames, units, number text.
 *
 * Nothing here knows what a touch is.  All functions are thread-safe: there is
 * no global state, no output and no exit. */
#ifndef JAWLINE_BASE_H
#define JAWLINE_BASE_H

#include <stdbool.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

#if defined(__GNUC__)
#define JAW_PRINTF(fmt, first) __attribute__((format(printf, fmt, first)))
#else
#define JAW_PRINTF(fmt, first)
#endif

#define JAW_MM_PER_INCH 25.4 /* exact; 1959 agreement, ISO 31 */

/* ------------------------------------------------------------------ status */

/* Every failure: name, value, what it means to the person at the machine.
 * 0 is good, negative is not.  On failure every result is NaN. */
#define JAW_STATUS_LIST(X)                                                     \
    X(JAW_OK, 0, "good")                                                       \
    X(JAW_EFEW, -1, "too few touches")                                         \
    X(JAW_ENOTFINITE, -2, "a number is not finite")                            \
    X(JAW_ERANK, -3, "the touches do not determine the feature")               \
    X(JAW_ENOCONV, -4, "no best fit exists or it was not reached")             \
    X(JAW_EDOMAIN, -5, "an argument is out of its range")                      \
    X(JAW_ESIZE, -6, "the size that follows is not positive")                  \
    X(JAW_ESIDE, -7, "the stated side contradicts the touches")                \
    X(JAW_EUNKNOWN, -8, "a value needed here is not known")                    \
    X(JAW_ECONFLICT, -9, "two statements contradict each other")               \
    X(JAW_ESYNTAX, -10, "the text can not be understood")                      \
    X(JAW_EIO, -11, "the file can not be read or written")                     \
    X(JAW_ENOMEM, -12, "out of memory")                                        \
    X(JAW_ENOBOOK, -13, "there is no book yet")                                \
    X(JAW_ENEWER, -14, "the book was made by a newer version")                 \
    X(JAW_EDAMAGED, -15, "the file is no book, or is damaged")                 \
    X(JAW_EREADONLY, -16, "the book can only be read")                         \
    X(JAW_EBUSY, -17, "another program is writing")                            \
    X(JAW_EFULL, -18, "the disk is full")

typedef enum jaw_status {
#define JAW_STATUS_ENUM(name, value, text) name = value,
    JAW_STATUS_LIST(JAW_STATUS_ENUM)
#undef JAW_STATUS_ENUM
} jaw_status;

/* jaw_status_text: what a status means, in a few words; never NULL. */
const char *jaw_status_text(jaw_status status);

/* ------------------------------------------------------------------- flags */

/* A doubt or an assumption is not a failure: it is a bit in a result's flags.
 * Columns: name, bit, the word that reports and JSON use, what it means,
 * whether it is a doubt (a doubt is said first and sets exit status 1). */
#define JAW_FLAG_LIST(X)                                                       \
    X(JAW_NO_CHECK, 0, "no-check", "no touch is spare: a slip of any size would go unseen", false) \
    X(JAW_WEAK, 1, "weak-geometry", "the touches lie so close together that small slips are magnified", true) \
    X(JAW_DIRECTION_ASSUMED, 2, "direction-assumed", "the direction was not measured; it is assumed", false) \
    X(JAW_LEVEL_ASSUMED, 3, "level-assumed", "the face was not measured for tilt; it is assumed level", false) \
    X(JAW_SIDE_NOT_STATED, 4, "side-not-stated", "which side is outward was not stated", false) \
    X(JAW_SIZE_NOT_SEEN, 5, "size-not-seen", "the touches do not show the size", false) \
    X(JAW_SIZE_OFF, 6, "size-off", "the size found is far from the size expected", true) \
    X(JAW_SCALE_OFF, 7, "scale-off", "nominal and touched spacings differ: perhaps inch for mm, or a wrong hole", true) \
    X(JAW_MIRRORED, 8, "mirrored", "the touched pattern fits far better as a mirror image", true) \
    X(JAW_SAME_TOUCH, 9, "same-touch-twice", "two touches are the same to the last digit", true) \
    X(JAW_RESIDUAL, 10, "large-residual", "a touch lies farther off than the tip's repeatability explains", true) \
    X(JAW_STEEP, 11, "steep", "the angle found is larger than hand setting leaves", true) \
    X(JAW_SAME_PLACE, 12, "place-assumed", "a coordinate was not read and is assumed", false)

enum {
#define JAW_FLAG_ENUM(name, bit, word, text, doubt) name = 1 << (bit),
    JAW_FLAG_LIST(JAW_FLAG_ENUM)
#undef JAW_FLAG_ENUM
    JAW_FLAGS_END
};

/* jaw_flag_word, jaw_flag_text, jaw_flag_is_doubt: of one bit (a power of two);
 * NULL, NULL and false for a bit that is not a flag. */
const char *jaw_flag_word(unsigned flag);
const char *jaw_flag_text(unsigned flag);
bool jaw_flag_is_doubt(unsigned flag);

/* jaw_flags_doubts: those bits of flags that are doubts. */
unsigned jaw_flags_doubts(unsigned flags);

/* ------------------------------------------------------------------- notes */

/* A note is one message to a person.  `jaw_notes` collects them in the order
 * in which they were added; the caller owns it and everything got from it
 * lives as long as it does. */
typedef enum jaw_severity {
    JAW_ASSUMPTION, /* taken for granted, and said */
    JAW_DOUBT,      /* values are given, but look at this first */
    JAW_ERROR       /* no value */
} jaw_severity;

typedef struct jaw_place {
    int line;   /* from 1; 0: no place in a text */
    int column; /* from 1, in characters as a person counts them; 0: whole line */
    int source; /* which text: 0, or the number of one that it includes */
} jaw_place;

typedef struct jaw_note {
    jaw_severity severity;
    jaw_status status; /* JAW_OK for doubts and assumptions */
    jaw_place place;
    const char *file;   /* never NULL; "" when there is no file */
    const char *what;   /* what is wrong, or assumed; never NULL */
    const char *cure;   /* what would be right; "" when there is none to give */
    const char *source; /* the line of text, for the caret; "" when unknown */
} jaw_note;

typedef struct jaw_notes jaw_notes;

/* jaw_notes_alloc: an empty collection; NULL when out of memory. */
jaw_notes *jaw_notes_alloc(void);
void jaw_notes_free(jaw_notes *notes); /* NULL is fine */

/* jaw_notes_add: append a note.
 *
 * Given:     file, source  copied; NULL means ""
 *            cure          copied; NULL means ""
 *            format ...    as printf, makes `what`
 * Status:    JAW_OK; JAW_ENOMEM, and then jaw_notes_lost counts one more, so
 *            that a caller who ignores the status still learns of it.
 * notes == NULL is fine and drops the note with JAW_OK. */
jaw_status jaw_notes_add(jaw_notes *notes, jaw_severity severity,
                         jaw_status status, const char *file, jaw_place place,
                         const char *source, const char *cure,
                         const char *format, ...) JAW_PRINTF(8, 9);

size_t jaw_notes_count(const jaw_notes *notes); /* NULL counts 0 */
size_t jaw_notes_lost(const jaw_notes *notes);
/* jaw_notes_worst: how many notes have at least this severity. */
size_t jaw_notes_at_least(const jaw_notes *notes, jaw_severity severity);
/* jaw_notes_get: the i-th note, i < count; NULL past the end. */
const jaw_note *jaw_notes_get(const jaw_notes *notes, size_t i);
/* jaw_notes_status: the status of the first error; JAW_OK when there is none,
 * JAW_ENOMEM when a note was lost. */
jaw_status jaw_notes_status(const jaw_notes *notes);

/* jaw_notes_sort: bring the notes from the first-th on into the order of their
 * sources and lines; those of one line, and those without, keep theirs, the
 * latter last. */
void jaw_notes_sort(jaw_notes *notes, size_t first);

/* jaw_notes_locate: give every note from the first-th on that has a line of a
 * source but no file the file's name and that line of its text.
 *
 * Given:     text[len]  the source's whole text; lines end in LF, CR LF or CR
 * Status:    JAW_OK, JAW_ENOMEM */
jaw_status jaw_notes_locate(jaw_notes *notes, size_t first, int source,
                            const char *file, const char *text, size_t len);

/* --------------------------------------------------------- vectors, frames */

typedef struct jaw_vec2 {
    double x, y;
} jaw_vec2;

typedef struct jaw_vec3 {
    double x, y, z;
} jaw_vec3;

/* A frame places the part's plane on the machine's:
 * machine = origin + R(turn) work, R = [c -s; s c] (DESIGN: the one line that
 * everything about offsets follows from).  c and s are kept so that a turn of
 * 90 degrees is exact. */
typedef struct jaw_frame {
    jaw_vec2 origin; /* mm, machine */
    double turn;     /* rad, counter-clockwise positive seen from +Z */
    double c, s;     /* cosine and sine of turn */
} jaw_frame;

/* jaw_frame_make: from origin and turn (any finite angle). */
jaw_frame jaw_frame_make(jaw_vec2 origin, double turn);
jaw_vec2 jaw_machine_from_work(const jaw_frame *frame, jaw_vec2 work);
jaw_vec2 jaw_work_from_machine(const jaw_frame *frame, jaw_vec2 machine);

/* jaw_angle_half: the same direction of a line in (-pi/2, pi/2].
 * jaw_angle_full: the same direction in (-pi, pi]. */
double jaw_angle_half(double angle);
double jaw_angle_full(double angle);

/* ------------------------------------------------------------------- units */

typedef enum jaw_unit { JAW_MM = 0, JAW_IN = 1 } jaw_unit;

/* mm.  A larger length is more than any machine, a slip of the keyboard; it is
 * far below where squares overflow. */
#define JAW_LENGTH_LARGEST 1e6

double jaw_unit_mm(jaw_unit unit);         /* millimetres in one unit, exact */
const char *jaw_unit_word(jaw_unit unit);  /* "mm", "in" */
double jaw_deg(double rad);                /* degrees from radians */
double jaw_rad(double deg);                /* radians from degrees */

/* ------------------------------------------------------------- number text */

/* jaw_number_read: a decimal number at the start of s, the same in every
 * locale.  Accepted: sign, digits, one point, exponent.  Not accepted: nan,
 * inf, hexadecimal, thousands separators, a comma for the point.
 *
 * Given:     s[len]   text, need not end in NUL
 * Returned:  *value   NaN on failure
 *            *used    characters that belong to the number; 0 on failure
 * Status:    JAW_OK; JAW_ESYNTAX: no number here; JAW_ENOTFINITE: a number
 *            too large for a double (1e400) */
jaw_status jaw_number_read(const char *s, size_t len, double *value,
                           size_t *used);

/* jaw_time_write: a moment, ms since 1970-01-01 UTC, as "2026-03-02 08:15",
 * UTC; size >= 17 is enough.
 * Status:    JAW_OK, JAW_EDOMAIN (not between 1970 and 9999), JAW_ESIZE; text
 *            is then empty */
jaw_status jaw_time_write(long long at, char *text, size_t size);

/* jaw_number_write: fixed decimals, the same in every locale, never "-0.000".
 *
 * Given:     value     NaN is written as "?"
 *            decimals  0..17
 *            size      of text; 40 is enough for |value| < 1e18
 * Returned:  text      always ends in NUL when size > 0
 * Status:    JAW_OK, JAW_EDOMAIN (decimals), JAW_ESIZE (text too small) */
jaw_status jaw_number_write(double value, int decimals, char *text,
                            size_t size);

/* jaw_round_to_step: the nearest multiple of step (> 0), halves away from
 * zero; step 0 returns value as it is. */
double jaw_round_to_step(double value, double step);

/* jaw_step_decimals: how many decimals show every multiple of step (> 0);
 * at most 9 */
int jaw_step_decimals(double step);

/* --------------------------------------------------------------- word text */

/* jaw_word_nearest: which of words[n] a person most likely meant by `word`;
 * NULL when none is near, or when `word` has more than 64 characters.  Upper
 * and lower case are the same; of equally near words the first.
 *
 * Distance: letters put in, left out or changed, and a swap of two neighbours,
 * count one each (Damerau 1964); at most a third of the longer word. */
const char *jaw_word_nearest(const char *word, const char *const words[],
                             size_t n);

#ifdef __cplusplus
}
#endif
#endif
