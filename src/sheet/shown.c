/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shown.c: what the control shows, as a person reads it off:
 *
 *     G54  x -12.3450  y 3.2000
 *     H3   101.2000
 *
 * A register stands for all that follows it, over the ends of lines too.  The
 * letter of an axis may touch its number, and upper and lower case
 * are the same. */
#include "reader.h"

#include <jawline/sheet.h>
#include <src/readback/words.h>
#include <src/setup/store.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    TOOLS = 10000,                         /* a tool has four digits */
    ZEROS = JAW__REGISTERS * (JAW_AXES + 1)
};

static const char *const words[] = JAW__VALUE_WORDS;
enum { TURN = JAW_AXES, LENGTH, NO_WORD };

struct jaw_shown_list {
    jaw_shown *one;
    size_t n, room;
    int line[ZEROS + TOOLS]; /* where each was given; 0: not yet */
};

typedef struct reader {
    jaw__log log;
    jaw_shown_list *list;
    double bare;                 /* mm in a number without a unit */
    char name[JAW_REGISTER_NAME]; /* "" before the first register */
    int at;                      /* of it in list->line */
    int word;                    /* whose number is to follow, or NO_WORD */
    bool empty;                  /* nothing was said of the register yet */
    const char *half;            /* "G54.1" or "H" that waits for its number */
    bool lost;                   /* which register it was can not be told */
    jaw__token last;             /* what stood before, for messages */
} reader;

static const char example[] = "G54 x -12.3450";

static void say(reader *r, const jaw__token *t, jaw__message id, const char *b,
                const char *c)
{
    jaw__shown word = jaw__show(t->s, t->len);
    jaw__mistake(&r->log, t->place, id, word.text, b, c, NULL);
}

/* --------------------------------------------------------------- registers */

/* Upper case; "" when it is too long for any register. */
static void upper(const jaw__token *t, char out[JAW_REGISTER_NAME])
{
    size_t n = t->len < JAW_REGISTER_NAME ? t->len : 0;

    for (size_t i = 0; i < n; i++)
        out[i] = t->s[i] >= 'a' && t->s[i] <= 'z'
                     ? (char)(t->s[i] - 'a' + 'A')
                     : t->s[i];
    out[n] = '\0';
}

/* A tool's number, 1 to 9999; 0 for anything else. */
static int tool_of(const char *text)
{
    const size_t n = strspn(text, "0123456789");
    const bool fits = n >= 1 && n <= 4 && text[n] == '\0';

    return fits ? (int)strtol(text, NULL, 10) : 0;
}

static void missing_number(reader *r)
{
    if (r->name[0] == '\0' || (r->word == NO_WORD && !r->empty))
        return;
    jaw__shown after = jaw__show(r->last.s, r->last.len);
    jaw__mistake(&r->log, r->last.place, JAW__SAY_VALUE_MISSING, "a number",
                 after.text, r->name[0] == 'H' ? "H3 101.2000" : example,
                 NULL);
}

static void open_register(reader *r, const char *name, int at, int word)
{
    snprintf(r->name, sizeof r->name, "%s", name);
    r->at = at;
    r->word = word;
    r->empty = true;
    r->half = NULL;
    r->lost = false;
}

/* What follows is passed over up to the next register, said once. */
static void lose_register(reader *r, const jaw__token *t, jaw__message id)
{
    say(r, t, id, NULL, NULL);
    r->name[0] = '\0';
    r->half = NULL;
    r->lost = true;
}

static bool open_tool(reader *r, int number)
{
    char name[JAW_REGISTER_NAME];

    if (number == 0)
        return false;
    snprintf(name, sizeof name, "H%d", number);
    open_register(r, name, ZEROS + number, LENGTH);
    return true;
}

static bool open_zero(reader *r, const char *name)
{
    int which = jaw__register_of(name);

    if (which < 0)
        return false;
    open_register(r, name, which * (JAW_AXES + 1), NO_WORD);
    return true;
}

/* The rest of "tool 3" or "G54.1 P2". */
static void finish_register(reader *r, const jaw__token *t)
{
    char text[JAW_REGISTER_NAME], name[JAW_REGISTER_NAME];
    const char *half = r->half;

    upper(t, text);
    /* what no longer fits is no register with what does */
    snprintf(name, sizeof name, "%.5s%.10s", half, text);
    if (half[0] == 'H' ? !open_tool(r, tool_of(text)) : !open_zero(r, name))
        lose_register(r, t, half[0] == 'H' ? JAW__SAY_TOOL_BAD
                                           : JAW__SAY_SHOWN_WORD);
    r->last = *t;
}

/* false when the token begins no register. */
static bool register_read(reader *r, const jaw__token *t)
{
    char text[JAW_REGISTER_NAME];
    bool half;

    upper(t, text);
    half = strcmp(text, "G54.1") == 0 || strcmp(text, "TOOL") == 0;
    if (!half && jaw__register_of(text) < 0 &&
        !(text[0] == 'H' && tool_of(text + 1) > 0))
        return false;
    missing_number(r);
    if (half)
        r->half = text[0] == 'G' ? "G54.1" : "H";
    else if (text[0] == 'H')
        open_tool(r, tool_of(text + 1));
    else
        open_zero(r, text);
    r->last = *t;
    return true;
}

/* ----------------------------------------------------------------- numbers */

/* Into mm or rad; false when it is none of either. */
static bool convert(reader *r, const jaw__token *t, const jaw__quantity *q,
                    double *value)
{
    bool angle = q->suffix == JAW__DEG || q->suffix == JAW__RAD;
    bool length = q->suffix == JAW__MM || q->suffix == JAW__INCH;

    if (r->word == TURN ? length : angle) {
        say(r, t, angle ? JAW__SAY_ANGLE_FOR_LENGTH
                        : JAW__SAY_LENGTH_FOR_ANGLE,
            angle ? "a length" : "the turn", NULL);
        return false;
    }
    if (r->word == TURN)
        *value = q->suffix == JAW__RAD ? q->number : jaw_rad(q->number);
    else
        *value = q->number * (q->suffix == JAW__MM     ? 1
                              : q->suffix == JAW__INCH ? JAW_MM_PER_INCH
                                                       : r->bare);
    if (fabs(*value) <= JAW_LENGTH_LARGEST)
        return true;
    say(r, t, JAW__SAY_TOO_LARGE, NULL, NULL);
    return false;
}

static void add(reader *r, const jaw__token *t, double value)
{
    jaw_shown_list *list = r->list;
    int *line = &list->line[r->at + (r->word == LENGTH ? 0 : r->word)];
    char text[JAW_REGISTER_NAME + 8];

    if (*line > 0) {
        jaw__shown first = jaw__show_int(*line);
        snprintf(text, sizeof text, "%s %s", r->name, words[r->word]);
        jaw__mistake(&r->log, t->place, JAW__SAY_FIELD_TWICE, text, first.text,
                     NULL, NULL);
        return;
    }
    jaw_shown *more = jaw__grow(list->one, list->n, &list->room, sizeof *more);
    if (!more) {
        r->log.no_memory = true;
        return;
    }
    *line = t->place.line;
    list->one = more;
    more += list->n++;
    *more = (jaw_shown){.word = words[r->word], .value = value,
                        .place = t->place};
    strcpy(more->name, r->name);
}

static void number_read(reader *r, const jaw__token *t)
{
    double value;
    jaw__quantity q = jaw__quantity_read(t->s, t->len);

    if (q.trouble != JAW__NO_TROUBLE)
        jaw__log_trouble(&r->log, t, &q, "a number", example);
    else if (convert(r, t, &q, &value))
        add(r, t, value);
    r->word = NO_WORD;
    r->empty = false;
}

/* ------------------------------------------------------------------ tokens */

/* The axis that the token is, or begins with, and the rest behind it. */
static int axis_of(const jaw__token *t, jaw__token *rest)
{
    char text[JAW_REGISTER_NAME];

    upper(t, text);
    *rest = *t;
    if (strcmp(text, "TURN") == 0)
        rest->len = 0;
    if (rest->len == 0)
        return TURN;
    const char letter = (char)(t->s[0] & ~0x20);
    if (letter < 'X' || letter > 'Z' ||
        (t->len > 1 && !jaw__number_like(t->s + 1, t->len - 1)))
        return NO_WORD;
    rest->s++;
    rest->len--;
    rest->place.column++;
    return letter - 'X';
}

static void axis_read(reader *r, const jaw__token *t, int axis,
                      const jaw__token *rest)
{
    if (r->word != NO_WORD)
        missing_number(r);
    r->word = axis;
    r->last = *t;
    if (rest->len > 0)
        number_read(r, rest);
}

/* A number where no axis says whose it is. */
static void loose_number(reader *r, const jaw__token *t)
{
    say(r, t, JAW__SAY_SHOWN_LOOSE, r->name, NULL);
    r->empty = false;
}

static bool is_length_word(const reader *r, const jaw__token *t)
{
    char text[JAW_REGISTER_NAME];

    upper(t, text);
    return r->word == LENGTH && r->empty && strcmp(text, "LENGTH") == 0;
}

static void token_read(reader *r, const jaw__token *t)
{
    jaw__token rest;
    int axis = NO_WORD;

    if (t->kind != JAW__WORD) { /* in quotes */
        lose_register(r, t, JAW__SAY_SHOWN_WORD);
        return;
    }
    if (r->half) {
        finish_register(r, t);
        return;
    }
    if (register_read(r, t) || is_length_word(r, t))
        return;
    if (r->name[0] != 'H')
        axis = axis_of(t, &rest);
    bool number = jaw__number_like(t->s, t->len);
    if (r->lost && (number || axis != NO_WORD))
        return;
    if (r->name[0] == '\0' && (number || axis != NO_WORD))
        lose_register(r, t, JAW__SAY_SHOWN_FIRST);
    else if (axis != NO_WORD)
        axis_read(r, t, axis, &rest);
    else if (r->word != NO_WORD)
        number_read(r, t);
    else if (number)
        loose_number(r, t);
    else
        lose_register(r, t, JAW__SAY_SHOWN_WORD);
}

/* -------------------------------------------------------------------- text */

static void line_read(reader *r, const jaw__line *line)
{
    int column;
    jaw__bad_char bad = jaw__line_check(line, &column);
    jaw__cursor cursor = jaw__cursor_start(line);
    jaw__token t;

    if (bad != JAW__CHAR_GOOD) {
        jaw__log_bad_char(&r->log, (jaw_place){line->number, column, 0}, bad);
        return;
    }
    while (!jaw__log_stopped(&r->log) &&
           (t = jaw__token_next(&cursor)).kind != JAW__END)
        token_read(r, &t);
}

static void text_read(reader *r, const char *text, size_t len)
{
    jaw__lines lines = jaw__lines_start(text, len);
    jaw__line line;

    if (jaw__looks_utf16(text, len)) {
        jaw__mistake(&r->log, (jaw_place){0}, JAW__SAY_UTF16, NULL, NULL,
                     NULL, NULL);
        return;
    }
    while (!jaw__log_stopped(&r->log) && jaw__lines_next(&lines, &line))
        line_read(r, &line);
    if (r->half)
        say(r, &r->last, JAW__SAY_SHOWN_WORD, NULL, NULL);
    else
        missing_number(r);
    if (r->list->n == 0 && r->log.mistakes == 0)
        jaw__mistake(&r->log, (jaw_place){0}, JAW__SAY_SHOWN_NOTHING, NULL,
                     NULL, NULL, NULL);
}

jaw_status jaw_shown_read_text(const char *text, size_t len, const char *file,
                               jaw_unit unit, jaw_shown_list **list,
                               jaw_notes *notes)
{
    reader r = {.bare = jaw_unit_mm(unit),
                .word = NO_WORD,
                .list = calloc(1, sizeof *r.list)};

    if (jaw__log_start(&r.log) && r.list)
        text_read(&r, text, len);
    else
        r.log.no_memory = true;
    jaw_status status = jaw__log_end(&r.log, text, len, file, notes);
    if (status == JAW_ENOMEM) {
        jaw_shown_free(r.list);
        r.list = NULL;
    }
    *list = r.list;
    return status;
}

const jaw_shown *jaw_shown_get(const jaw_shown_list *list, size_t *n)
{
    *n = list ? list->n : 0;
    return list ? list->one : NULL;
}

void jaw_shown_free(jaw_shown_list *list)
{
    if (!list)
        return;
    free(list->one);
    free(list);
}

/* --------------------------------------------------- into what is compared */

static jaw_readback_value *find(const jaw_shown *s, jaw_readback_value value[],
                                size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(value[i].name, s->name) == 0 &&
            strcmp(value[i].word, s->word) == 0)
            return &value[i];
    return NULL;
}

/* "G54 X Y Z, H1, H2", as far as there is room. */
static void list_names(const jaw_readback_value value[], size_t n,
                       char out[JAW__SHOWN_SIZE])
{
    size_t at = 0;

    strcpy(out, n == 0 ? "none" : "");
    for (size_t i = 0; i < n && at + 40 < JAW__SHOWN_SIZE; i++) {
        bool more = i > 0 && strcmp(value[i].name, value[i - 1].name) == 0;
        bool length = strcmp(value[i].word, words[LENGTH]) == 0;
        at += (size_t)snprintf(out + at, JAW__SHOWN_SIZE - at, "%s%s%s%s",
                               i == 0 || more ? "" : ", ",
                               more ? "" : value[i].name, length ? "" : " ",
                               length ? "" : value[i].word);
        if (i + 1 < n && at + 40 >= JAW__SHOWN_SIZE)
            strcpy(out + at, ", ...");
    }
}

static void unknown(jaw__log *log, const jaw_shown *s,
                    const jaw_readback_value value[], size_t n)
{
    char name[JAW_REGISTER_NAME + 8], all[JAW__SHOWN_SIZE];
    bool length = strcmp(s->word, words[LENGTH]) == 0;

    snprintf(name, sizeof name, "%s%s%s", s->name, length ? "" : " ",
             length ? "" : s->word);
    list_names(value, n, all);
    jaw__mistake(log, s->place, JAW__SAY_SHOWN_UNKNOWN, name, all, NULL, NULL);
}

jaw_status jaw_shown_put(const jaw_shown_list *list, bool before,
                         jaw_readback_value value[], size_t n,
                         jaw_notes *notes)
{
    jaw__log log;
    size_t shown;
    const jaw_shown *s = jaw_shown_get(list, &shown);

    if (!jaw__log_start(&log))
        return JAW_ENOMEM;
    for (size_t i = 0; i < shown; i++) {
        jaw_readback_value *v = find(&s[i], value, n);
        if (v && before)
            v->before = s[i].value;
        else if (v)
            v->shown = s[i].value;
        else if (!before)
            unknown(&log, &s[i], value, n);
    }
    return jaw__log_end(&log, "", 0, NULL, notes);
}
