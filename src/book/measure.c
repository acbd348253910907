/* SPDX-License-Identifier: GPL-3.0-or-later */
/* measure.c: from readings on a surface to the length of a tool: the mean, its
 * uncertainty, and what is strange about it. */
#include "change.h"

#include <jawline/measure.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

static jaw__book_text length_text(double mm, jaw_unit unit,
                                  const jaw_book_machine *machine, int more)
{
    double one = jaw_unit_mm(unit);
    int decimals = unit == machine->unit && machine->decimals >= 0
                       ? machine->decimals
                   : unit == machine->unit
                       ? jaw_step_decimals(machine->step / one)
                       : (unit == JAW_IN ? 4 : 3);
    jaw__book_text text;
    char number[40];

    if (jaw_number_write(mm / one, decimals + more, number, sizeof number) !=
        JAW_OK)
        strcpy(number, "?");
    snprintf(text.s, sizeof text.s, "%s %s", number, jaw_unit_word(unit));
    return text;
}

jaw__book_text jaw__book_mm(double mm, jaw_unit unit,
                            const jaw_book_machine *machine)
{
    return length_text(mm, unit, machine, 0);
}

jaw__book_text jaw__book_fine(double mm, jaw_unit unit,
                              const jaw_book_machine *machine)
{
    return length_text(mm, unit, machine, 1);
}

jaw_status jaw_book_machine_of(jaw_book *book, const char *name,
                               jaw_book_machine *machine, bool *known)
{
    const double nan = (double)NAN;
    jaw_control control = jaw_control_default(JAW_MM);
    jaw_book_record r;

    *machine = (jaw_book_machine){.unit = control.unit,
                                  .step = control.step,
                                  .decimals = -1,
                                  .lengths = control.lengths,
                                  .low = {nan, nan, nan},
                                  .high = {nan, nan, nan},
                                  .seat = nan};
    *known = false;
    jaw_status status =
        jaw_book_find(book, JAW_BOOK_MACHINE, name, "", &r);
    if (status == JAW_OK) {
        *machine = r.as.machine;
        *known = true;
    }
    return status == JAW_EUNKNOWN ? JAW_OK : status;
}

/* ------------------------------------------------------------------ spread */

/* Sum of squares about the means, and degrees of freedom. */
typedef struct pool {
    double ss, dof;
} pool;

static pool pool_of(const double reading[], size_t n)
{
    jaw_spread spread;

    if (jaw_measure_spread(reading, n, &spread) != JAW_OK)
        return (pool){0, 0};
    return (pool){spread.s * spread.s * (double)(n - 1), (double)(n - 1)};
}

/* The readings of one entry, before those of the next begin. */
static void add_pool(pool *p, const double reading[], size_t n)
{
    pool one = pool_of(reading, n);

    p->ss += one.ss;
    p->dof += one.dof;
}

/* Readings of one entry beyond these say nothing more of a spread. */
enum { READINGS_POOLED = 50 };

/* Rows of entry and reading, those of an entry together. */
static int pool_rows(sqlite3_stmt *stmt, pool *p)
{
    double reading[READINGS_POOLED];
    sqlite3_int64 last = 0;
    size_t n = 0;
    int code;

    while ((code = sqlite3_step(stmt)) == SQLITE_ROW) {
        sqlite3_int64 id = sqlite3_column_int64(stmt, 0);
        if (id != last) {
            add_pool(p, reading, n);
            n = 0;
        }
        last = id;
        if (n < READINGS_POOLED)
            reading[n++] = sqlite3_column_double(stmt, 1);
    }
    add_pool(p, reading, n);
    return code;
}

/* Of the newest 40 lengths among the newest 400 entries, so that it takes the
 * same time in any book.  One whose readings scatter may be a slip of the
 * pen. */
static jaw_status earlier_pool(jaw_book *book, const char *machine, pool *p)
{
    jaw_status status;
    sqlite3_stmt *stmt = jaw__book_prepare(
        book,
        "SELECT r.id, r.value FROM (SELECT e.id FROM"
        "  (SELECT * FROM entry ORDER BY id DESC LIMIT 400) e"
        "  WHERE e.kind = 'length' AND e.machine = ?1"
        "  AND instr(e.doubts, 'scatter') = 0 AND NOT EXISTS"
        "  (SELECT 1 FROM undone u WHERE u.id = e.id)"
        "  ORDER BY e.id DESC LIMIT 40) l"
        " JOIN reading r ON r.id = l.id ORDER BY r.id, r.n",
        &status);

    *p = (pool){0, 0};
    if (stmt == NULL)
        return status;
    sqlite3_bind_text(stmt, 1, machine, -1, SQLITE_STATIC);
    status = jaw__book_failed(book, pool_rows(stmt, p));
    sqlite3_finalize(stmt);
    return status;
}

static void find_repeat(const jaw_book_touch *t, pool own, pool earlier,
                        jaw_book_length *l)
{
    double dof = own.dof + earlier.dof;

    l->repeat = t->repeat;
    l->repeat_dof = isnan(t->repeat) ? (double)NAN : (double)INFINITY;
    if (isnan(t->repeat) && dof > 0) {
        l->repeat = sqrt((own.ss + earlier.ss) / dof);
        l->repeat_dof = dof;
    }
}

/* Two spreads that should be one: F test (trust.h), at the level at which
 * everything here is doubted. */
static bool scatters(pool own, pool earlier, double step)
{
    double least = step * step / 12; /* of a reading that is rounded */

    if (own.dof < 1 || earlier.dof < 1)
        return false;
    double usual = fmax(earlier.ss / earlier.dof, least);
    return own.ss / own.dof >
           usual * jaw_trust_f(JAW_TRUST_ALPHA, own.dof, earlier.dof);
}

/* ----------------------------------------------------------------- surface */

typedef struct nearness {
    const char *wanted, *found;
    char name[44];
} nearness;

static bool take_near(void *user, const jaw_book_record *r)
{
    nearness *n = user;
    const char *words[] = {r->subject};

    if (r->as.height.block || jaw_word_nearest(n->wanted, words, 1) == NULL)
        return true;
    snprintf(n->name, sizeof n->name, "%s", r->subject);
    n->found = n->name;
    return false;
}

static jaw_status unknown_surface(jaw_book *book, const jaw_book_touch *t,
                                  jaw_book_length *l)
{
    nearness near = {.wanted = t->on};
    jaw_status status = jaw_book_current(book, JAW_BOOK_HEIGHT, t->machine,
                                         take_near, &near);

    if (status == JAW_OK && near.found != NULL)
        return jaw__book_say(book, SAY_SURFACE_NEAR, t->on, near.found);
    l->datum = t->on;
    if (status == JAW_OK)
        jaw__book_say(book, SAY_SURFACE_UNKNOWN, t->on);
    return status;
}

static jaw_status find_surface(jaw_book *book, const jaw_book_touch *t,
                               jaw_book_measured *out)
{
    jaw_book_length *l = &out->record.as.length;
    jaw_book_record r;

    out->top = *t->on == '\0' ? 0 : (double)NAN;
    out->top_u = *t->on == '\0' ? 0 : (double)NAN;
    if (*t->on == '\0')
        return JAW_OK;
    if (strcmp(t->on, "part") == 0) {
        l->datum = t->on;
        return JAW_OK;
    }
    jaw_status status =
        jaw_book_find(book, JAW_BOOK_HEIGHT, t->machine, t->on, &r);
    if (status == JAW_EUNKNOWN)
        return unknown_surface(book, t, l);
    if (status == JAW_OK) {
        l->surface = r.id;
        out->top = r.as.height.value;
        out->top_u = isnan(r.as.height.u) ? 0 : r.as.height.u;
    }
    return status;
}

static jaw_status find_between(jaw_book *book, const jaw_book_touch *t,
                               double *between, double *u)
{
    jaw_book_record r;

    *between = t->between;
    *u = t->between_u;
    if (*t->through == '\0')
        return JAW_OK;
    jaw_status status =
        jaw_book_find(book, JAW_BOOK_HEIGHT, "", t->through, &r);
    if (status == JAW_EUNKNOWN)
        return jaw__book_say(book, SAY_NO_BLOCK, t->through);
    if (status == JAW_OK) {
        *between = r.as.height.value;
        *u = isnan(r.as.height.u) ? 0 : r.as.height.u;
    }
    return status;
}

/* ----------------------------------------------------------------- strange */

static void doubt_size(jaw_book *book, const jaw_book_touch *t,
                       const jaw_book_machine *m, jaw_book_measured *out)
{
    const jaw_book_length *l = &out->record.as.length;
    double travel = m->high[2] - m->low[2];

    if (*l->datum != '\0')
        return;
    if (l->value <= 0) {
        out->record.doubts |= JAW_BOOK_NEGATIVE;
        jaw__book_say(book, SAY_NEGATIVE, t->number,
                      jaw__book_mm(l->value, t->unit, m).s);
    } else if (l->value > travel) {
        out->record.doubts |= JAW_BOOK_TOO_LONG;
        jaw__book_say(book, SAY_TOO_LONG, t->number,
                      jaw__book_mm(l->value, t->unit, m).s,
                      jaw__book_mm(travel, t->unit, m).s);
    }
}

static void doubt_place(jaw_book *book, const jaw_book_touch *t,
                        const jaw_book_machine *m, jaw_book_measured *out)
{
    for (size_t i = 0; *t->on != '\0' && i < t->n; i++) {
        if (!(t->reading[i] < m->low[2]) && !(t->reading[i] > m->high[2]))
            continue;
        out->record.doubts |= JAW_BOOK_OUTSIDE;
        jaw__book_say(book, SAY_OUTSIDE,
                      jaw__book_mm(t->reading[i], t->unit, m).s, t->number,
                      jaw__book_mm(m->low[2], t->unit, m).s,
                      jaw__book_mm(m->high[2], t->unit, m).s);
        return;
    }
}

static void doubt_scatter(jaw_book *book, const jaw_book_touch *t,
                          const jaw_book_machine *m, pool own, pool earlier,
                          jaw_book_measured *out)
{
    jaw_spread spread;

    if (!scatters(own, earlier, m->step) ||
        jaw_measure_spread(t->reading, t->n, &spread) != JAW_OK)
        return;
    out->record.doubts |= JAW_BOOK_SCATTER;
    jaw__book_say(book, SAY_SCATTER, t->number,
                  jaw__book_mm(spread.range, t->unit, m).s,
                  jaw__book_mm(sqrt(earlier.ss / earlier.dof), t->unit, m).s);
}

/* The reading that the last length would give, against this one: a wrong unit
 * leaves less than a hundredth of the jump, which chance does in one of a
 * hundred. */
static void doubt_unit(jaw_book *book, const jaw_book_touch *t, double mean,
                       jaw_book_measured *out)
{
    const double k = JAW_MM_PER_INCH;
    double expected = mean - out->verdict.differ;
    double off = fabs(out->verdict.differ);
    bool times = fabs(mean / k - expected) < off / 100;
    bool part = fabs(mean * k - expected) < off / 100;

    if (!(off > out->verdict.limit) || (!times && !part))
        return;
    out->record.doubts |= JAW_BOOK_UNIT_JUMP;
    jaw__book_say(book, SAY_UNIT_JUMP, t->number,
                  times ? "25.4 times" : "a 25.4th of");
}

/* A slip of the pen is likelier than anything that befell the tool. */
static void doubt_change(jaw_book_measured *out)
{
    const unsigned slips = JAW_BOOK_NEGATIVE | JAW_BOOK_TOO_LONG |
                           JAW_BOOK_OUTSIDE | JAW_BOOK_UNIT_JUMP;
    jaw_book_verdict *v = &out->verdict;

    if (!(out->record.doubts & slips) || v->last_id == 0 ||
        v->change == JAW_CHANGE_FIRST)
        return;
    out->record.doubts &= ~(unsigned)JAW_BOOK_CHANGED;
    for (int i = 0; i < JAW_BOOK_CHANGES; i++)
        v->share[i] = 0;
    out->record.as.length.change = v->change = JAW_CHANGE_UNSURE;
}

/* ----------------------------------------------------------------- measure */

static jaw_status check_touch(jaw_book *book, const jaw_book_touch *t)
{
    if (t->n == 0)
        return jaw__book_say(book, SAY_NO_READING, t->number);
    for (size_t i = 0; i < t->n; i++)
        if (!isfinite(t->reading[i]))
            return jaw__book_say(book, SAY_BAD_ENTRY, "reading",
                                 "it is no finite number");
    if (t->repeat <= 0 || isinf(t->repeat))
        return jaw__book_say(book, SAY_BAD_ENTRY, "repeat",
                             "it is more than 0");
    if (!(t->between >= 0) || !(t->between_u >= 0))
        return jaw__book_say(book, SAY_BAD_ENTRY, "what lies in between",
                             "it is not thinner than 0");
    return JAW_OK;
}

static double mean_of(const double reading[], size_t n)
{
    jaw_spread spread;

    return jaw_measure_spread(reading, n, &spread) == JAW_OK ? spread.mean
                                                             : reading[0];
}

/* The step of the display is a rectangle of width step (JCGM 100, F.2.2.1);
 * rounding is alike for readings of one place, so it is not divided by n. */
static void find_trust(const jaw_book_touch *t, const jaw_book_machine *m,
                       jaw_book_measured *out)
{
    jaw_book_length *l = &out->record.as.length;
    double top_u = isnan(out->top_u) ? 0 : out->top_u;
    double u[2], dof[2] = {l->repeat_dof, (double)INFINITY};

    l->known = hypot(hypot(m->step / sqrt(12), top_u), l->between_u);
    u[0] = l->repeat / sqrt((double)t->n);
    u[1] = l->known;
    l->u = hypot(u[0], u[1]);
    l->dof = isnan(l->u) ? (double)NAN : jaw_trust_effective_dof(u, dof, 2);
    l->half95 = isnan(l->u) ? (double)NAN
                            : jaw_trust_within(u[0], dof[0], u[1]);
}

static void begin_record(const jaw_book_touch *t, jaw_book_measured *out)
{
    jaw__book_blank(JAW_BOOK_LENGTH, &out->record);
    out->record.at = t->at;
    out->record.machine = t->machine;
    out->record.subject = out->subject;
    out->record.reading = t->reading;
    out->record.n_readings = t->n;
    jaw_book_length *l = &out->record.as.length;
    l->number = t->number;
    l->holder = t->holder;
    l->text = t->text;
    l->on = t->on;
    l->through = t->through;
    l->fresh = t->fresh;
    l->unit = t->unit;
}

static jaw_status find_value(jaw_book *book, const jaw_book_touch *t,
                             const jaw_book_machine *m, jaw_book_measured *out)
{
    jaw_book_length *l = &out->record.as.length;
    pool own = pool_of(t->reading, t->n), earlier;
    jaw_status status = find_surface(book, t, out);

    if (status == JAW_OK)
        status = find_between(book, t, &l->between, &l->between_u);
    if (status == JAW_OK)
        status = earlier_pool(book, t->machine, &earlier);
    if (status != JAW_OK)
        return status;
    find_repeat(t, own, earlier, l);
    l->value = mean_of(t->reading, t->n) - l->between -
               (isnan(out->top) ? 0 : out->top);
    find_trust(t, m, out);
    doubt_scatter(book, t, m, own, earlier, out);
    if (jaw_book_tool_subject(t->number, t->holder, l->datum, out->subject,
                              sizeof out->subject) != JAW_OK)
        return jaw__book_say(book, SAY_BAD_ENTRY, "tool or holder",
                             "a tool's number is 1 to 9999, and a holder's "
                             "name letters, digits, - _ and .");
    return JAW_OK;
}

jaw_status jaw_book_measure(jaw_book *book, const jaw_book_touch *touch,
                            jaw_book_measured *out)
{
    jaw_book_machine m;
    bool known;

    *out = (jaw_book_measured){.top = (double)NAN};
    begin_record(touch, out);
    jaw_status status = check_touch(book, touch);
    if (status == JAW_OK)
        status = jaw_book_machine_of(book, touch->machine, &m, &known);
    if (status == JAW_OK && !known)
        jaw__book_say(book, SAY_MACHINE_UNKNOWN, touch->machine);
    if (status == JAW_OK)
        status = find_value(book, touch, &m, out);
    if (status == JAW_OK)
        status = jaw__book_compare(book, &m, out);
    if (status != JAW_OK)
        return status;
    doubt_size(book, touch, &m, out);
    doubt_place(book, touch, &m, out);
    doubt_unit(book, touch, mean_of(touch->reading, touch->n), out);
    doubt_change(out);
    jaw__book_tell_change(book, &m, out);
    return JAW_OK;
}

/* -------------------------------------------------------------- calibration */

/* The readings' share and what is known beside it, as a height. */
static void put_height(const jaw_book_touch *t, double known,
                       jaw_book_height *h)
{
    pool own = pool_of(t->reading, t->n);
    bool stated = !isnan(t->repeat);
    double repeat = stated ? t->repeat : sqrt(own.ss / own.dof);
    double u[2] = {repeat / sqrt((double)t->n), known};
    double dof[2] = {stated ? (double)INFINITY : own.dof, (double)INFINITY};

    h->u = hypot(u[0], u[1]);
    h->dof = jaw_trust_effective_dof(u, dof, 2);
    h->half95 = jaw_trust_within(u[0], dof[0], u[1]);
}

static void begin_height(const jaw_book_touch *t, jaw_book_record *record)
{
    jaw__book_blank(JAW_BOOK_HEIGHT, record);
    record->at = t->at;
    record->machine = t->machine;
    record->subject = t->on;
    record->reading = t->reading;
    record->n_readings = t->n;
}

jaw_status jaw_book_calibrate(jaw_book *book, const jaw_book_touch *touch,
                              double length, double length_u,
                              jaw_book_record *record)
{
    jaw_book_machine m;
    bool known;
    double between, between_u;
    jaw_status status = check_touch(book, touch);

    if (status == JAW_OK && (!isfinite(length) || !(length_u >= 0)))
        return jaw__book_say(book, SAY_BAD_ENTRY, "length", "it is not known");
    if (status == JAW_OK)
        status = jaw_book_machine_of(book, touch->machine, &m, &known);
    if (status == JAW_OK)
        status = find_between(book, touch, &between, &between_u);
    if (status != JAW_OK)
        return status;
    if (isnan(touch->repeat) && touch->n < 2)
        return jaw__book_say(book, SAY_REPEAT_UNKNOWN, touch->on);
    begin_height(touch, record);
    jaw_book_height *h = &record->as.height;
    h->value = mean_of(touch->reading, touch->n) - length - between;
    h->tool = touch->number;
    h->length = length;
    h->length_u = length_u;
    h->unit = touch->unit;
    put_height(touch, hypot(hypot(m.step / sqrt(12), length_u), between_u), h);
    return JAW_OK;
}
