/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rows.c: rows of numbers without a sheet, separated by blanks or commas. */
#include "log.h"

#include <jawline/sheet.h>
#include <src/setup/store.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct jaw_rows {
    jaw_row *row;
    size_t n, room;
};

enum { WIDTH = 4 }; /* the most numbers of a row */

typedef struct reader {
    jaw__log log;
    jaw_rows *rows;
    double bare; /* mm in a number without a unit */
    int want_min, want_max;
    bool gap; /* an empty row or a / since the last row */
    jaw__line line;
    size_t at;  /* of the line */
    int column; /* of line.text[at] */
} reader;

/* What the numbers of one row look like beyond their values. */
typedef struct looks {
    int n;
    bool good;
    bool point;       /* one has a point */
    bool tight_comma; /* 3,125 */
    bool blank;       /* two are parted by blanks alone */
} looks;

/* ---------------------------------------------------------------- scanning */

static bool is_blank(char c)
{
    return c == ' ' || c == '\t';
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static bool row_ends(const reader *r)
{
    return r->at == r->line.len || r->line.text[r->at] == '#';
}

static void skip_blanks(reader *r)
{
    while (!row_ends(r) && is_blank(r->line.text[r->at])) {
        r->at++;
        r->column++;
    }
}

static bool at_comma(const reader *r)
{
    return !row_ends(r) && r->line.text[r->at] == ',';
}

static jaw__token field_next(reader *r)
{
    jaw__token t = {.kind = JAW__WORD,
                    .s = r->line.text + r->at,
                    .place = {r->line.number, r->column, 0}};

    while (!row_ends(r) && !at_comma(r) && !is_blank(r->line.text[r->at])) {
        bool valid;
        r->at += jaw__char_bytes(r->line.text + r->at, r->line.len - r->at,
                                 &valid);
        r->column++;
    }
    t.len = (size_t)(r->line.text + r->at - t.s);
    return t;
}

static void say(reader *r, jaw_place place, jaw__message id,
                const jaw__token *t, const char *b)
{
    jaw__shown word = jaw__show(t ? t->s : "", t ? t->len : 0);
    jaw__mistake(&r->log, place, id, word.text, b, NULL, NULL);
}

/* ----------------------------------------------------------------- numbers */

static bool number_read(reader *r, const jaw__token *t, double *mm)
{
    static const char example[] = "12.5 -3.1";
    jaw__quantity q = jaw__quantity_read(t->s, t->len);

    *mm = (double)NAN;
    if (q.trouble == JAW__SEMICOLON) {
        say(r, t->place, JAW__SAY_ROWS_SEMICOLON, t, NULL);
        return false;
    }
    if (q.trouble != JAW__NO_TROUBLE) {
        jaw__log_trouble(&r->log, t, &q, "a length", example);
        return false;
    }
    if (q.suffix == JAW__DEG || q.suffix == JAW__RAD) {
        say(r, t->place, JAW__SAY_ANGLE_FOR_LENGTH, t, "a length");
        return false;
    }
    double unit = q.suffix == JAW__MM     ? 1
                  : q.suffix == JAW__INCH ? JAW_MM_PER_INCH
                                          : r->bare;
    *mm = q.number * unit;
    if (fabs(*mm) <= JAW_LENGTH_LARGEST)
        return true;
    say(r, t->place, JAW__SAY_TOO_LARGE, t, NULL);
    return false;
}

/* Between two numbers: blanks, one comma, blanks.  False when a comma has no
 * number on one of its sides, which was then said. */
static bool separator_read(reader *r, looks *row)
{
    size_t start = r->at;

    skip_blanks(r);
    if (!at_comma(r)) {
        row->blank |= !row_ends(r);
        return true;
    }
    bool tight = r->at == start;
    jaw_place place = {r->line.number, r->column, 0};
    r->at++;
    r->column++;
    row->tight_comma |= tight && is_digit(r->line.text[start - 1]) &&
                        !row_ends(r) && is_digit(r->line.text[r->at]);
    skip_blanks(r);
    if (!row_ends(r) && !at_comma(r))
        return true;
    say(r, place, JAW__SAY_ROWS_GAP, NULL, NULL);
    return false;
}

static looks numbers_read(reader *r, double value[WIDTH])
{
    looks row = {.good = true};

    if (at_comma(r)) {
        say(r, (jaw_place){r->line.number, r->column, 0}, JAW__SAY_ROWS_GAP, NULL,
            NULL);
        row.good = false;
        return row;
    }
    while (!row_ends(r)) {
        double more;
        jaw__token t = field_next(r);
        row.good &= number_read(r, &t, row.n < WIDTH ? &value[row.n] : &more);
        row.point |= memchr(t.s, '.', t.len) != NULL;
        row.n++;
        if (!separator_read(r, &row)) {
            row.good = false;
            break;
        }
    }
    return row;
}

/* -------------------------------------------------------------------- rows */

static jaw__shown wanted(const reader *r)
{
    jaw__shown text = jaw__show_int(r->want_min);

    if (r->want_max > r->want_min) {
        strcat(text.text, r->want_max == r->want_min + 1 ? " or " : " to ");
        strcat(text.text, jaw__show_int(r->want_max).text);
    }
    return text;
}

/* Commas and blanks mixed, and no point anywhere: 3,125 4,250 was meant as two
 * numbers, and four of them would be silently wrong. */
static bool decimal_commas(const reader *r, const looks *row)
{
    return row->tight_comma && !row->point &&
           (row->blank || row->n > r->want_max);
}

static bool count_check(reader *r, const looks *row, jaw_place place)
{
    bool commas = decimal_commas(r, row);

    if (row->n >= r->want_min && row->n <= r->want_max && !commas)
        return true;
    jaw__shown count = jaw__show_int(row->n), want = wanted(r);
    jaw__mistake(&r->log, place,
                 commas ? JAW__SAY_ROWS_COMMAS : JAW__SAY_ROWS_COUNT,
                 count.text, want.text, NULL, NULL);
    return false;
}

static void row_add(reader *r, const double value[WIDTH], int n,
                    jaw_place place)
{
    jaw_rows *rows = r->rows;
    jaw_row *more = jaw__grow(rows->row, rows->n, &rows->room, sizeof *more);

    if (!more) {
        r->log.no_memory = true;
        return;
    }
    rows->row = more;
    jaw_row *row = &more[rows->n];
    memcpy(row->value, value, sizeof row->value);
    row->n = n;
    row->place = place;
    row->group = rows->n > 0 ? more[rows->n - 1].group + r->gap : 0;
    r->gap = false;
    rows->n++;
}

static void slash_read(reader *r)
{
    jaw__token slash = field_next(r);

    r->gap = true;
    skip_blanks(r);
    if (slash.len > 1) {
        say(r, slash.place, JAW__SAY_SLASH_TRAILING, &slash, NULL);
    } else if (!row_ends(r)) {
        jaw__token t = field_next(r);
        t.len += t.len == 0; /* a comma */
        say(r, t.place, JAW__SAY_SLASH_TRAILING, &t, NULL);
    }
}

static void line_read(reader *r)
{
    double value[WIDTH] = {(double)NAN, (double)NAN, (double)NAN, (double)NAN};
    int column;
    jaw__bad_char bad = jaw__line_check(&r->line, &column);

    if (bad != JAW__CHAR_GOOD) {
        jaw__log_bad_char(&r->log,
                          (jaw_place){r->line.number, column, r->line.source},
                          bad);
        return;
    }
    r->at = 0;
    r->column = 1;
    skip_blanks(r);
    if (row_ends(r)) {
        /* A line with a comment alone is no row, not even an empty one. */
        r->gap |= r->at == r->line.len;
        return;
    }
    if (r->line.text[r->at] == '/') {
        slash_read(r);
        return;
    }
    jaw_place place = {r->line.number, r->column, 0};
    looks row = numbers_read(r, value);
    if (row.good && count_check(r, &row, place))
        row_add(r, value, row.n, place);
}

static void text_read(reader *r, const char *text, size_t len)
{
    jaw__lines lines = jaw__lines_start(text, len);

    if (jaw__looks_utf16(text, len)) {
        jaw__mistake(&r->log, (jaw_place){0}, JAW__SAY_UTF16, NULL, NULL,
                     NULL, NULL);
        return;
    }
    while (!jaw__log_stopped(&r->log) && jaw__lines_next(&lines, &r->line))
        line_read(r);
}

jaw_status jaw_rows_read_text(const char *text, size_t len, const char *file,
                              jaw_unit unit, int want_min, int want_max,
                              jaw_rows **rows, jaw_notes *notes)
{
    reader r = {.bare = jaw_unit_mm(unit),
                .want_min = want_min,
                .want_max = want_max < WIDTH ? want_max : WIDTH,
                .rows = calloc(1, sizeof(jaw_rows))};

    if (jaw__log_start(&r.log) && r.rows)
        text_read(&r, text, len);
    else
        r.log.no_memory = true;
    jaw_status status = jaw__log_end(&r.log, text, len, file, notes);
    if (status == JAW_ENOMEM) {
        jaw_rows_free(r.rows);
        r.rows = NULL;
    }
    *rows = r.rows;
    return status;
}

const jaw_row *jaw_rows_get(const jaw_rows *rows, size_t *n)
{
    *n = rows ? rows->n : 0;
    return rows ? rows->row : NULL;
}

void jaw_rows_free(jaw_rows *rows)
{
    if (!rows)
        return;
    free(rows->row);
    free(rows);
}
