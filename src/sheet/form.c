/* SPDX-License-Identifier: GPL-3.0-or-later */
/* form.c: the values that follow a word, read by its form in grammar.h. */
#include "reader.h"

#include <src/base/name.h>

#include <math.h>
#include <string.h>

/* ------------------------------------------------------------------- forms */

/* One part of a form: `[`, `]`, `|`, a kind (upper case), or words. */
typedef struct part {
    char what; /* 'K' kind, 'W' words, '[', ']', '|', 0 at the end */
    const char *s;
    size_t len;
} part;

static part next_part(const char **form)
{
    const char *s = *form;

    while (*s == ' ')
        s++;
    part p = {.what = *s, .s = s, .len = *s != '\0'};
    if (*s != '\0' && !strchr("[]", *s) && !(s[0] == '|' && s[1] == ' ')) {
        p.what = *s >= 'A' && *s <= 'Z' && s[1] >= 'A' ? 'K' : 'W';
        p.len = strcspn(s, " []");
    }
    *form = s + p.len;
    return p;
}

static const jaw__kind_rule *kind_of(const part *p)
{
    for (int i = 0; i < JAW__KINDS; i++)
        if (strlen(jaw__kinds[i].word) == p->len &&
            memcmp(jaw__kinds[i].word, p->s, p->len) == 0)
            return &jaw__kinds[i];
    return NULL;
}

/* The next of the words a|b|c; false after the last. */
static bool next_word(part *words, part *word)
{
    if (words->len == 0)
        return false;
    const char *bar = memchr(words->s, '|', words->len);
    size_t len = bar ? (size_t)(bar - words->s) : words->len;
    *word = (part){.what = 'W', .s = words->s, .len = len};
    size_t gone = bar ? len + 1 : len;
    words->s += gone;
    words->len -= gone;
    return true;
}

/* Which of the words the token is, from 0; -1 when none. */
static int choice_of(part words, const jaw__token *t)
{
    part word;

    for (int i = 0; next_word(&words, &word); i++)
        if (t->kind == JAW__WORD && word.len == t->len &&
            memcmp(word.s, t->s, t->len) == 0)
            return i;
    return -1;
}

static bool fits(const part *p, const jaw__token *t)
{
    if (p->what == 'W')
        return choice_of(*p, t) >= 0;
    const jaw__kind_rule *kind = kind_of(p);
    bool number = t->kind == JAW__WORD && jaw__number_like(t->s, t->len);
    switch (kind->reads) {
    case JAW__AS_LENGTH:
    case JAW__AS_ANGLE:
    case JAW__AS_PLAIN:
    case JAW__AS_TOOL:
        return number;
    case JAW__AS_NAME:
    case JAW__AS_REGISTER:
    case JAW__AS_TOUCHER:
        return t->kind == JAW__WORD && !number;
    case JAW__AS_LABEL:
        return t->kind == JAW__WORD;
    case JAW__AS_TEXT:
        return t->kind == JAW__TEXT_TOKEN || t->kind == JAW__OPEN_TEXT;
    case JAW__AS_REST:
        return t->kind != JAW__END;
    }
    return false;
}

bool jaw__form_starts(const char *form, const jaw__token *t)
{
    part p = next_part(&form);
    return p.what != '\0' && fits(&p, t);
}

/* -------------------------------------------------------------- complaints */

/* What a form's part is called: "a size", "'at'", "'x+', 'x-' or 'y+'". */
static jaw__shown called(part p)
{
    jaw__shown out = {{0}};
    part word;
    size_t n = 0;

    if (p.what == 'K') {
        strncat(out.text, kind_of(&p)->called, sizeof out.text - 1);
        return out;
    }
    while (next_word(&p, &word)) {
        const char *join = n == 0 ? "" : p.len == 0 ? " or " : ", ";
        if (n + word.len + 8 > sizeof out.text)
            break;
        n += strlen(strcat(out.text + n, join));
        out.text[n++] = '\'';
        memcpy(out.text + n, word.s, word.len);
        n += word.len;
        out.text[n++] = '\'';
        out.text[n] = '\0';
    }
    return out;
}

/* The next token is missing or is not what is wanted. */
static void say_wrong(jaw__reader *r, const char *wanted, const char *example)
{
    if (!jaw__at_end(r)) {
        jaw__say(r, JAW__SAY_VALUE_WRONG, wanted, example);
        return;
    }
    jaw__shown last = jaw__show(r->before.s, r->before.len);
    jaw__mistake(&r->log, r->token.place, JAW__SAY_VALUE_MISSING, wanted,
                 last.text, example, NULL);
}

enum { WORDS_MAX = 8, WORD_SIZE = 24 };

/* Which of the words the token is nearest to; "" when none. */
static void nearest(part words, const jaw__token *t, char out[WORD_SIZE])
{
    char text[WORDS_MAX][WORD_SIZE], wrong[WORD_SIZE];
    const char *list[WORDS_MAX];
    size_t n = 0;
    part word;

    out[0] = '\0';
    while (n < WORDS_MAX && next_word(&words, &word)) {
        memcpy(text[n], word.s, word.len);
        text[n][word.len] = '\0';
        list[n] = text[n];
        n++;
    }
    if (t->len >= sizeof wrong || t->kind != JAW__WORD)
        return;
    memcpy(wrong, t->s, t->len);
    wrong[t->len] = '\0';
    const char *near = jaw_word_nearest(wrong, list, n);
    if (near)
        strcpy(out, near);
}

static void say_wrong_word(jaw__reader *r, part words, const char *example)
{
    char near[WORD_SIZE];
    jaw__shown wanted = called(words);

    nearest(words, &r->token, near);
    if (jaw__at_end(r))
        say_wrong(r, wanted.text, example);
    else if (near[0])
        jaw__say(r, JAW__SAY_WORD_WRONG_NEAR, near, NULL);
    else
        jaw__say(r, JAW__SAY_VALUE_WRONG, wanted.text, example);
}

/* ----------------------------------------------------------------- numbers */

/* The next token as a number; false when it is none, which was then said. */
static bool number_read(jaw__reader *r, const char *wanted,
                        const char *example, jaw__quantity *q)
{
    const jaw__token *t = &r->token;

    if (t->kind != JAW__WORD || !jaw__number_like(t->s, t->len)) {
        say_wrong(r, wanted, example);
        return false;
    }
    *q = jaw__quantity_read(t->s, t->len);
    if (q->trouble == JAW__NO_TROUBLE)
        return true;
    jaw__log_trouble(&r->log, t, q, wanted, example);
    return false;
}

static bool in_range(jaw__reader *r, double value, jaw__range range,
                     const char *wanted, const char *example)
{
    if (range == JAW__ANY || value > 0 ||
        (range == JAW__NOT_NEGATIVE && value >= 0))
        return true;
    jaw__say(r, range == JAW__POSITIVE ? JAW__SAY_NOT_POSITIVE
                                       : JAW__SAY_NEGATIVE,
             wanted, example);
    return false;
}

bool jaw__length_read(jaw__reader *r, jaw__range range, const char *wanted,
                      const char *example, double *mm)
{
    jaw__quantity q;

    if (!number_read(r, wanted, example, &q))
        return false;
    if (q.suffix == JAW__DEG || q.suffix == JAW__RAD) {
        jaw__say(r, JAW__SAY_ANGLE_FOR_LENGTH, wanted, NULL);
        return false;
    }
    if (q.suffix == JAW__BARE && r->bare_place.line == 0)
        r->bare_place = r->token.place;
    jaw_unit unit = q.suffix == JAW__MM     ? JAW_MM
                    : q.suffix == JAW__INCH ? JAW_IN
                                            : r->unit;
    *mm = q.number * jaw_unit_mm(unit);
    if (!(fabs(*mm) <= JAW_LENGTH_LARGEST)) {
        jaw__say(r, JAW__SAY_TOO_LARGE, NULL, NULL);
        return false;
    }
    return in_range(r, *mm, range, wanted, example);
}

static bool angle_read(jaw__reader *r, const jaw__kind_rule *kind,
                       const char *example, double *rad)
{
    jaw__quantity q;

    if (!number_read(r, kind->called, example, &q))
        return false;
    if (q.suffix == JAW__MM || q.suffix == JAW__INCH) {
        jaw__say(r, JAW__SAY_LENGTH_FOR_ANGLE, kind->called, NULL);
        return false;
    }
    *rad = q.suffix == JAW__RAD ? q.number : jaw_rad(q.number);
    if (!(fabs(*rad) <= jaw_rad(360))) {
        jaw__say(r, JAW__SAY_TOO_LARGE, NULL, NULL);
        return false;
    }
    return in_range(r, *rad, kind->range, kind->called, example);
}

bool jaw__angle_read(jaw__reader *r, const char *called, const char *example,
                     double *rad)
{
    jaw__kind_rule any = {.range = JAW__ANY, .called = called};

    return angle_read(r, &any, example, rad);
}

/* More than any temperature, and any expansion in millionths. */
static const double plain_max = 1000;

static bool plain_read(jaw__reader *r, const jaw__kind_rule *kind,
                       const char *example, double *number)
{
    jaw__quantity q;

    if (!number_read(r, kind->called, example, &q))
        return false;
    if (q.suffix != JAW__BARE) {
        jaw__say(r, JAW__SAY_PLAIN_UNIT, kind->called, example);
        return false;
    }
    *number = q.number;
    if (!(fabs(q.number) <= plain_max)) {
        jaw__say(r, JAW__SAY_TOO_LARGE, NULL, NULL);
        return false;
    }
    return in_range(r, q.number, kind->range, kind->called, example);
}

static bool tool_read(jaw__reader *r, const char *wanted, const char *example,
                      int *number)
{
    jaw__quantity q;

    if (!number_read(r, wanted, example, &q))
        return false;
    if (q.suffix != JAW__BARE || q.number != floor(q.number) ||
        !(q.number >= 1 && q.number <= 9999)) {
        jaw__say(r, JAW__SAY_TOOL_BAD, NULL, NULL);
        return false;
    }
    *number = (int)q.number;
    return true;
}

/* ------------------------------------------------------------------- names */

static bool is_letter(char c)
{
    return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static bool is_name(const jaw__token *t)
{
    if (!is_letter(t->s[0]))
        return false;
    for (size_t i = 1; i < t->len; i++)
        if (!is_letter(t->s[i]) && !is_digit(t->s[i]) && t->s[i] != '-' &&
            t->s[i] != '_')
            return false;
    return true;
}

static bool name_read(jaw__reader *r, const char *wanted, const char *example,
                      jaw__value *v)
{
    const jaw__token *t = &r->token;

    if (t->kind != JAW__WORD || jaw__number_like(t->s, t->len)) {
        say_wrong(r, wanted, example);
        return false;
    }
    if (!is_name(t)) {
        jaw__say(r, JAW__SAY_NAME_BAD, NULL, NULL);
        return false;
    }
    v->text = jaw__string(r, t);
    return true;
}

static bool label_read(jaw__reader *r, const char *wanted, const char *example,
                       jaw__value *v)
{
    if (r->token.kind != JAW__WORD) {
        say_wrong(r, wanted, example);
        return false;
    }
    if (!jaw__name_is_good(r->token.s, r->token.len)) {
        jaw__say(r, JAW__SAY_LABEL_BAD, NULL, NULL);
        return false;
    }
    v->text = jaw__string(r, &r->token);
    return true;
}

/* G54.1P7, or G54.1 P7, which is the same: the blanks are taken out of the
 * copy. */
static bool register_read(jaw__reader *r, const char *wanted,
                          const char *example, jaw__value *v)
{
    const jaw__token *t = &r->token;

    if (t->kind != JAW__WORD || t->len < 5 || memcmp(t->s, "G54.1", 5) != 0)
        return name_read(r, wanted, example, v);
    char *text = jaw__string(r, t);
    jaw__cursor ahead = r->cursor;
    jaw__token next = jaw__token_next(&ahead);
    if (t->len == 5 && next.kind == JAW__WORD && next.s[0] == 'P') {
        memcpy(text + 5, next.s, next.len);
        text[5 + next.len] = '\0';
        jaw__advance(r);
    }
    v->text = text;
    return true;
}

static bool toucher_read(jaw__reader *r, const char *wanted,
                         const char *example, jaw__value *v)
{
    if (!jaw__token_is(&r->token, "tool"))
        return name_read(r, wanted, example, v);
    jaw__advance(r);
    return tool_read(r, "a tool number", example, &v->choice);
}

static bool text_read(jaw__reader *r, const char *wanted, const char *example,
                      jaw__value *v)
{
    if (r->token.kind == JAW__OPEN_TEXT) {
        jaw__say(r, JAW__SAY_OPEN_QUOTE, NULL, NULL);
        return false;
    }
    if (r->token.kind == JAW__END) {
        say_wrong(r, wanted, example);
        return false;
    }
    v->text = jaw__string(r, &r->token);
    return true;
}

/* The rest of the line, which the reader has split at the first blank. */
static bool rest_read(jaw__reader *r, const char *wanted, const char *example,
                      jaw__value *v)
{
    if (r->token.kind == JAW__WORD) {
        r->cursor.at = (size_t)(r->token.s - r->line.text);
        r->cursor.column = r->token.place.column;
        r->token = jaw__token_rest(&r->cursor);
    }
    return text_read(r, wanted, example, v);
}

/* ------------------------------------------------------------------- parts */

static bool kind_read(jaw__reader *r, const jaw__kind_rule *kind,
                      const char *example, jaw__value *v)
{
    switch (kind->reads) {
    case JAW__AS_LENGTH:
        return jaw__length_read(r, kind->range, kind->called, example,
                                &v->number);
    case JAW__AS_ANGLE:
        return angle_read(r, kind, example, &v->number);
    case JAW__AS_PLAIN:
        return plain_read(r, kind, example, &v->number);
    case JAW__AS_TOOL:
        return tool_read(r, kind->called, example, &v->choice);
    case JAW__AS_NAME:
        return name_read(r, kind->called, example, v);
    case JAW__AS_REGISTER:
        return register_read(r, kind->called, example, v);
    case JAW__AS_TOUCHER:
        return toucher_read(r, kind->called, example, v);
    case JAW__AS_LABEL:
        return label_read(r, kind->called, example, v);
    case JAW__AS_TEXT:
        return text_read(r, kind->called, example, v);
    case JAW__AS_REST:
        return rest_read(r, kind->called, example, v);
    }
    return false;
}

/* Words of which there is only one are not kept as a value. */
static bool is_value(const part *p)
{
    return p->what == 'K' ||
           (p->what == 'W' && memchr(p->s, '|', p->len) != NULL);
}

/* What may be left out and holds words alone is told by its first word, which
 * is kept as a value: form stands behind the bracket. */
static bool is_remark(const char *form)
{
    part p;

    while ((p = next_part(&form)).what != ']' && p.what != '\0')
        if (is_value(&p))
            return false;
    return true;
}

static bool part_read(jaw__reader *r, const part *p, const char *example,
                      jaw__value *v)
{
    v->place = r->token.place;
    if (p->what == 'W') {
        v->choice = choice_of(*p, &r->token);
        if (v->choice < 0) {
            say_wrong_word(r, *p, example);
            return false;
        }
    } else if (!kind_read(r, kind_of(p), example, v)) {
        return false;
    }
    v->given = true;
    jaw__advance(r);
    return true;
}

/* To the alternative whose first part fits the next token, counting the
 * values of those before it.  With one alone there is no choice. */
static bool pick(jaw__reader *r, const char **form, const char *example,
                 int *alternative, int *value)
{
    const char *at = *form;
    part first = next_part(&at), wanted[JAW__VALUES], p;
    int n = 0;

    if (strstr(*form, " | ") == NULL)
        return true;
    at = *form;
    for (*alternative = 0; n < JAW__VALUES; ++*alternative) {
        const char *start = at;
        first = next_part(&at);
        if (fits(&first, &r->token)) {
            *form = start;
            return true;
        }
        wanted[n++] = first;
        for (p = first; p.what != '|' && p.what != '\0'; p = next_part(&at))
            *value += is_value(&p);
        if (p.what == '\0')
            break;
    }
    /* Words first: a misspelt one is likelier than a misplaced number. */
    char text[JAW__SHOWN_SIZE] = "";
    for (int i = 0; i < n; i++) {
        if (wanted[i].what != 'W' || strlen(text) + wanted[i].len + 2 >
                                         sizeof text)
            continue;
        strcat(text, text[0] ? "|" : "");
        strncat(text, wanted[i].s, wanted[i].len);
    }
    if (text[0])
        say_wrong_word(r, (part){'W', text, strlen(text)}, example);
    else
        say_wrong(r, called(wanted[0]).text, example);
    return false;
}

bool jaw__form_read(jaw__reader *r, const char *form, const char *example,
                    int *alternative, jaw__value v[JAW__VALUES])
{
    int n = 0;

    *alternative = 0;
    for (int i = 0; i < JAW__VALUES; i++)
        v[i] = (jaw__value){.number = (double)NAN};
    if (!pick(r, &form, example, alternative, &n))
        return false;
    for (part p = next_part(&form); p.what != '\0' && p.what != '|';
         p = next_part(&form)) {
        if (p.what == ']')
            continue;
        if (p.what == '[') {
            bool given = jaw__form_starts(form, &r->token);
            if (is_remark(form))
                v[n++].given = given;
            if (given)
                continue;
            for (; p.what != ']'; p = next_part(&form))
                n += is_value(&p);
            continue;
        }
        jaw__value none;
        if (!part_read(r, &p, example, is_value(&p) ? &v[n] : &none))
            return false;
        n += is_value(&p);
    }
    return true;
}
