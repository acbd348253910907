/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shop.c: which book, which machine, which unit, what time. */
#include "shop.h"

#include "src/report/cautions.h" /* a list of texts, nothing else */

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

/* ------------------------------------------------------------------- time */

static bool is_day(long long at, int day)
{
    time_t seconds = (time_t)(at / 1000);
    struct tm tm;

    return gmtime_r(&seconds, &tm) != NULL && tm.tm_mday == day;
}

/* All that is right after an entry of a time to come would be in doubt for its
 * clock.  A clock that is kept right may step back a little between two looks
 * at it, by less than a second, the shortest step that --at has. */
static bool is_past(const char *option, const char *text, long long at)
{
    enum { SECOND = 1000 };
    struct timespec now;

    clock_gettime(CLOCK_REALTIME, &now);
    long long clock = 1000LL * now.tv_sec + now.tv_nsec / 1000000;
    if (at <= clock + SECOND)
        return true;
    complain("the time of what was measured, in UTC; or set the clock",
             "--%s: `%s' is still to come: the clock says %s", option, text,
             date_text(clock).s);
    return false;
}

/* 2026-03-02, 2026-03-02T08:15 or with :30 seconds; UTC. */
bool shop_time(const arguments *args, option_id id, long long *at)
{
    static const char *const forms[] = {"%Y-%m-%dT%H:%M:%S", "%Y-%m-%dT%H:%M",
                                        "%Y-%m-%d"};
    const long long day = 86400;
    const char *text = args->value[id];

    if (text == NULL)
        return true;
    for (size_t i = 0; i < sizeof forms / sizeof forms[0]; i++) {
        struct tm tm = {0};
        const char *end = strptime(text, forms[i], &tm);
        if (end == NULL || *end != '\0' || tm.tm_year < 70)
            continue;
        /* days since 1970 (Fliegel & van Flandern, CACM 11 (1968) 657) */
        long long y = tm.tm_year + 1900, m = tm.tm_mon + 1, d = tm.tm_mday;
        long long j = (m - 14) / 12;
        long long days = d - 32075 + 1461 * (y + 4800 + j) / 4 +
                         367 * (m - 2 - j * 12) / 12 -
                         3 * ((y + 4900 + j) / 100) / 4 - 2440588;
        *at = 1000 * (days * day + tm.tm_hour * 3600LL + tm.tm_min * 60LL +
                      tm.tm_sec);
        if (!is_day(*at, (int)d))
            continue; /* the 31st of February */
        return is_past(option_word(id), text, *at);
    }
    complain("such as 2026-03-02T08:15, UTC", "--%s: `%s' is no time",
             option_word(id), text);
    return false;
}

number_text date_text(long long at)
{
    number_text text;

    if (jaw_time_write(at, text.s, sizeof text.s) != JAW_OK)
        strcpy(text.s, "?");
    return text;
}

/* ---------------------------------------------------------------- machine */

bool name_is_good(const char *name, const char *what)
{
    if (jaw_book_name_is_good(name))
        return true;
    complain("letters, digits, - _ and ., a letter or digit first",
             "`%s' can not be the name of a %s", name, what);
    return false;
}

bool machine_is_good(const char *name)
{
    return name == NULL || name_is_good(name, "machine");
}

static bool pick_machine(const arguments *args, shop *s)
{
    const char *name = args->command == CMD_MACHINE
                           ? (args->operands > 0 ? args->operand[0] : NULL)
                           : args->value[OPT_MACHINE];

    if (!machine_is_good(name))
        return false;
    jaw_status status = JAW_OK;
    if (name != NULL)
        snprintf(s->machine, sizeof s->machine, "%s", name);
    else
        status = jaw_book_machine_pick(s->book, s->machine, sizeof s->machine);
    if (status == JAW_ECONFLICT && args->command == CMD_MACHINE)
        return true; /* it lists them */
    if (status == JAW_ECONFLICT)
        complain("`jawline machine' lists them",
                 "the book knows several machines: say which with --machine");
    bool one_more = args->command == CMD_MACHINE && args->value[OPT_NEW];
    if (status == JAW_OK)
        status = jaw_book_machine_of(s->book, s->machine, &s->about, &s->known);
    if (status == JAW_OK && !s->known && !one_more)
        status = jaw_book_machine_near(s->book, s->machine);
    return status == JAW_OK;
}

/* ------------------------------------------------------------ open, close */

bool book_path(const arguments *args, char *path, size_t size)
{
    if (jaw_book_path(args->value[OPT_BOOK], path, size) == JAW_OK)
        return true;
    complain("name a file with --book or JAWLINE_BOOK",
             "where the book is can not be told");
    return false;
}

bool book_is_there(const arguments *args)
{
    char path[4096];

    return jaw_book_path(args->value[OPT_BOOK], path, sizeof path) == JAW_OK &&
           access(path, F_OK) == 0;
}

static bool open_book(const arguments *args, jaw_book_use use, shop *s)
{
    char path[4096];

    s->notes = jaw_notes_alloc();
    if (s->notes == NULL)
        return no_memory();
    if (!book_path(args, path, sizeof path))
        return false;
    jaw_status status = jaw_book_open(path, use, s->notes, &s->book);
    if (status == JAW_ENOMEM)
        no_memory();
    return status == JAW_OK;
}

bool shop_open(const arguments *args, jaw_book_use use, shop *s)
{
    *s = (shop){.unit = JAW_MM};
    bool ok = shop_time(args, OPT_AT, &s->at) &&
              option_unit(args, &s->unit) && open_book(args, use, s);

    if (ok && args->command != CMD_BOOK && pick_machine(args, s)) {
        if (args->value[OPT_UNIT] == NULL)
            s->unit = s->about.unit;
        return true;
    }
    if (ok && args->command == CMD_BOOK)
        return true;
    shop_close(s, JAW_OK);
    return false;
}

/* What was said is not said again, from wherever it comes. */
static bool is_told(const shop *s, const jaw_note *note)
{
    for (size_t i = 0; i < s->told; i++) {
        const jaw_note *old = jaw_notes_get(s->notes, i);
        if (old->place.line == note->place.line &&
            strcmp(old->what, note->what) == 0 &&
            strcmp(old->cure, note->cure) == 0)
            return true;
    }
    return false;
}

void shop_tell(shop *s)
{
    jaw_report_style style = {.colour = colour_on(stderr)};
    const jaw_note *note;

    for (; (note = jaw_notes_get(s->notes, s->told)) != NULL; s->told++) {
        if (is_told(s, note))
            continue;
        char *text = jaw_report_note(note, style);
        fputs(text ? text : "jawline: out of memory\n", stderr);
        free(text);
    }
}

int shop_close(shop *s, jaw_status status)
{
    /* nothing here is geometry */
    int answer = status == JAW_OK ? EXIT_STANDS : EXIT_USAGE;

    shop_tell(s);
    if (status == JAW_ENOMEM)
        no_memory();
    if (status == JAW_OK && s->notes != NULL &&
        jaw_notes_at_least(s->notes, JAW_DOUBT) > 0)
        answer = EXIT_DOUBT;
    jaw_book_close(s->book);
    jaw_notes_free(s->notes);
    s->book = NULL;
    s->notes = NULL;
    return answer;
}

int shop_leave(shop *s)
{
    shop_close(s, JAW_OK);
    return EXIT_USAGE;
}

bool sheet_keeps(const arguments *args, int status)
{
    if (status < EXIT_USAGE || args->value[OPT_KEEP] == NULL)
        return true;
    complain("mend what is said above, or leave it out of the sheet",
             "of a sheet with an error nothing is kept");
    return false;
}

/* ------------------------------------------------------------------- texts */

static const char *text_of(const jaw_book_record *r)
{
    return r->kind == JAW_BOOK_FIXTURE ? r->as.fixture.text
                                       : r->as.length.text;
}

char *shop_text(const arguments *args, shop *s, jaw_book_kind kind,
                const char *const subject[], int n)
{
    const char *given = args->value[OPT_TEXT];
    jaw_book_record r;

    for (int i = 0; given == NULL && i < n; i++)
        if (jaw_book_find(s->book, kind, s->machine, subject[i], &r) ==
                JAW_OK && *text_of(&r) != '\0')
            given = text_of(&r); /* the book's own, until the next call */
    return strdup(given ? given : "");
}

/* ----------------------------------------------------------------- holders */

static bool take_holder(void *user, const jaw_book_record *r)
{
    holders *h = user;
    const jaw_book_length *l = &r->as.length;

    if (l->number != h->number || (h->gauge_line && *l->datum != '\0'))
        return true;
    if (*l->holder == '\0')
        h->unnamed = true;
    for (size_t i = 0; i < h->n; i++)
        if (strcmp(h->name[i], l->holder) == 0)
            return true;
    if (*l->holder != '\0' && h->n < HOLDERS_MAX)
        snprintf(h->name[h->n++], sizeof h->name[0], "%s", l->holder);
    return true;
}

jaw_status holders_find(shop *s, holders *h)
{
    return jaw_book_current(s->book, JAW_BOOK_LENGTH, s->machine, take_holder,
                            h);
}

const char *holders_text(const holders *h, char text[HOLDERS_TEXT])
{
    text[0] = '\0';
    for (size_t i = 0; i < h->n; i++) {
        strcat(text, i > 0 ? ", " : "");
        strcat(text, h->name[i]);
    }
    return text;
}

/* ----------------------------------------------------------------- numbers */

double half_told(unsigned doubts, double half95)
{
    return doubts & JAW_BOOK_SCATTER ? (double)NAN : half95;
}

bool length_read(const char *text, jaw_unit unit, double *mm)
{
    size_t used;

    if (jaw_number_read(text, strlen(text), mm, &used) != JAW_OK)
        return false;
    if (text[used] != '\0' && !unit_read(text + used, &unit))
        return false;
    *mm *= jaw_unit_mm(unit);
    return fabs(*mm) <= JAW_LENGTH_LARGEST;
}

double *readings_read(char *const text[], int n, jaw_unit unit)
{
    double *mm = calloc((size_t)n + 1, sizeof *mm);

    if (mm == NULL)
        no_memory();
    for (int i = 0; mm != NULL && i < n; i++) {
        if (length_read(text[i], unit, &mm[i]))
            continue;
        complain("a number with a point, such as -8.1234 or -206.3mm",
                 "`%s' is no reading", text[i]);
        free(mm);
        return NULL;
    }
    return mm;
}

bool shop_length(const arguments *args, option_id id, const shop *s,
                 bool negative, double *mm)
{
    const char *text = args->value[id];

    if (negative && text != NULL) {
        if (length_read(text, s->unit, mm))
            return true;
        complain("a number with a point, perhaps with mm or in",
                 "`%s' is no length", text);
        return false;
    }
    return option_length(args, id, s->unit, true, mm);
}

bool shop_number(const arguments *args, option_id id, int most, int *n)
{
    unsigned long value = (unsigned long)(*n < 0 ? 0 : *n);

    if (args->value[id] == NULL)
        return true;
    if (!option_count(args, id, (unsigned long)most, &value))
        return false;
    *n = (int)value;
    return true;
}

bool touch_options(const arguments *args, const shop *s, jaw_book_touch *t)
{
    return shop_length(args, OPT_BETWEEN, s, false, &t->between) &&
           shop_length(args, OPT_BETWEEN_U, s, false, &t->between_u) &&
           option_length(args, OPT_REPEAT, s->unit, false, &t->repeat);
}

number_text mm_text(const shop *s, double mm, int more)
{
    double one = jaw_unit_mm(s->unit);
    int decimals = s->unit != s->about.unit ? (s->unit == JAW_IN ? 4 : 3)
                   : s->about.decimals >= 0
                       ? s->about.decimals
                       : jaw_step_decimals(s->about.step / one);
    number_text text = {"?"};

    jaw_number_write(mm / one, decimals + more, text.s, sizeof text.s);
    return text;
}

number_text step_text(double value, double step, double one)
{
    number_text text = {"?"};

    jaw_number_write(jaw_round_to_step(value, step) / one,
                     jaw_step_decimals(step / one), text.s, sizeof text.s);
    return text;
}

void cautions_print(void)
{
#define PUT_CAUTION(text) puts(text);
    JAW__CAUTION_LIST(PUT_CAUTION)
#undef PUT_CAUTION
}

/* ------------------------------------------------------------------ doubts */

void put_entry_end(const jaw_book_record *r)
{
    for (unsigned bit = 1; bit < JAW_BOOK_DOUBTS_END; bit <<= 1)
        if (r->doubts & bit)
            printf("  %s", jaw_book_doubt_word(bit));
    fputs(r->undone ? "  (undone)" : "", stdout);
}

void json_doubts(unsigned doubts)
{
    const char *comma = "";

    putchar('[');
    for (unsigned bit = 1; bit < JAW_BOOK_DOUBTS_END; bit <<= 1) {
        if (!(doubts & bit))
            continue;
        fputs(comma, stdout);
        json_text(jaw_book_doubt_word(bit));
        comma = ", ";
    }
    putchar(']');
}

/* -------------------------------------------------------------------- JSON */

void json_text(const char *text)
{
    putchar('"');
    for (; *text != '\0'; text++) {
        unsigned char c = (unsigned char)*text;
        if (c < 0x20 || c == '"' || c == '\\')
            printf("\\u%04x", c);
        else
            putchar(c);
    }
    putchar('"');
}

void json_number(const shop *s, double mm)
{
    char text[48];

    if (!isfinite(mm)) {
        fputs("null", stdout);
        return;
    }
    /* the command never sets a locale, so the point is a point */
    snprintf(text, sizeof text, "%.17g", mm / jaw_unit_mm(s->unit));
    fputs(text, stdout);
}
