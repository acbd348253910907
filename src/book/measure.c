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

void jaw_book_machine_tell(jaw_book *book, const char *name)
{
    jaw__book_say(book, SAY_MACHINE_UNKNOWN, name);
}

/* ----------------------------------------------------------------- surface */

static jaw_status unknown_surface(jaw_book *book, const jaw_book_touch *t,
                                  jaw_book_length *l)
{
    char near[JAW_BOOK_NAME_SIZE];
    jaw_status status = jaw__book_near(book, JAW_BOOK_HEIGHT, t->machine, NULL,
                                       0, t->on, near);

    if (status == JAW_OK && *near != '\0')
        return jaw__book_say(book, SAY_SURFACE_NEAR, t->on, near);
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
    out->top_dof = (double)INFINITY;
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
        out->top_dof = r.as.height.dof;
    }
    return status;
}

static jaw_status find_between(jaw_book *book, const jaw_book_touch *t,
                               double *between, double *u, double *dof)
{
    jaw_book_record r;

    *between = t->between;
    *u = t->between_u;
    *dof = (double)INFINITY;
    if (*t->through == '\0')
        return JAW_OK;
    jaw_status status =
        jaw_book_find(book, JAW_BOOK_HEIGHT, "", t->through, &r);
    if (status == JAW_EUNKNOWN)
        return jaw__book_say(book, SAY_NO_BLOCK, t->through);
    if (status == JAW_OK) {
        *between = r.as.height.value;
        *u = isnan(r.as.height.u) ? 0 : r.as.height.u;
        *dof = r.as.height.dof;
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

/* Work Z 0 lies elsewhere on every part, so only a number that a slip makes of
 * the last one there is held against it.  The jump is a hundred steps at least:
 * near Z 0 the other sign is a small change. */
static jaw_status doubt_part(jaw_book *book, const jaw_book_touch *t,
                             const jaw_book_machine *m, jaw_book_measured *out)
{
    const jaw_book_length *l = &out->record.as.length;
    double now = jaw__mean(t->reading, t->n), then;
    jaw_book_record last;

    if (strcmp(l->datum, "part") != 0 || t->fresh)
        return JAW_OK;
    jaw_status status = jaw__book_sound(book, JAW_BOOK_LENGTH, t->machine,
                                        out->subject, &last);
    if (status != JAW_OK)
        return status == JAW_EUNKNOWN ? JAW_OK : status;
    then = last.as.length.value + l->between;
    jaw_book_slip slip = fabs(now - then) > 100 * m->step
                             ? jaw__slip_of(then, now, 0)
                             : JAW_SLIP_NONE;
    if (slip == JAW_SLIP_INCH) {
        out->record.doubts |= JAW_BOOK_UNIT_JUMP;
        jaw__book_say(book, SAY_UNIT_JUMP, t->number,
                      jaw__times_of(then, now));
    } else if (slip == JAW_SLIP_SIGN &&
               !(out->record.doubts & JAW_BOOK_SLIPS)) {
        out->record.doubts |= JAW_BOOK_DIGITS;
        jaw__book_say(book, SAY_DIGITS, jaw__book_mm(now, t->unit, m).s,
                      t->number, jaw__book_mm(then, t->unit, m).s,
                      "its sign is another");
    }
    return JAW_OK;
}

void jaw__doubt_scatter(jaw_book *book, const jaw_book_machine *m,
                        jaw__pool own, jaw__pool earlier,
                        jaw_book_measured *out, int number, double step)
{
    const jaw_book_record *r = &out->record;
    jaw_unit unit = r->kind == JAW_BOOK_LENGTH ? r->as.length.unit
                                               : r->as.diameter.unit;
    jaw_spread spread;

    if (!jaw__pool_scatters(own, earlier, step) ||
        jaw_measure_spread(r->reading, r->n_readings, &spread) != JAW_OK)
        return;
    out->record.doubts |= JAW_BOOK_SCATTER;
    jaw__book_say(book, SAY_SCATTER, number,
                  jaw__book_mm(spread.range, unit, m).s,
                  jaw__book_mm(sqrt(earlier.ss / earlier.dof), unit, m).s);
}

/* The reading that the last length would give, against this one. */
void jaw__doubt_unit(jaw_book *book, int number, double mean,
                     jaw_book_measured *out)
{
    double expected = mean - out->verdict.differ;

    if (!(fabs(out->verdict.differ) > out->verdict.limit) ||
        jaw__slip_of(expected, mean, 0) != JAW_SLIP_INCH)
        return;
    out->record.doubts |= JAW_BOOK_UNIT_JUMP;
    jaw__book_say(book, SAY_UNIT_JUMP, number,
                  jaw__times_of(expected, mean));
}

void jaw__doubt_change(jaw_book_measured *out)
{
    jaw_book_verdict *v = &out->verdict;

    if (!(out->record.doubts & JAW_BOOK_SLIPS) || v->last_id == 0 ||
        v->change == JAW_CHANGE_FIRST)
        return;
    out->record.doubts &= ~(unsigned)JAW_BOOK_CHANGED;
    for (int i = 0; i < JAW_BOOK_CHANGES; i++)
        v->share[i] = 0;
    v->change = JAW_CHANGE_UNSURE;
    if (out->record.kind == JAW_BOOK_LENGTH)
        out->record.as.length.change = v->change;
    else
        out->record.as.diameter.change = v->change;
}

/* ----------------------------------------------------------------- measure */

jaw_status jaw__check_readings(jaw_book *book, int number,
                               const double reading[], size_t n,
                               double repeat)
{
    if (n == 0)
        return jaw__book_say(book, SAY_NO_READING, number);
    for (size_t i = 0; i < n; i++)
        if (!isfinite(reading[i]))
            return jaw__book_say(book, SAY_BAD_ENTRY, "reading",
                                 "it is no finite number");
    if (repeat <= 0 || isinf(repeat))
        return jaw__book_say(book, SAY_BAD_ENTRY, "repeat",
                             "it is more than 0");
    return JAW_OK;
}

static jaw_status check_touch(jaw_book *book, const jaw_book_touch *t)
{
    jaw_status status =
        jaw__check_readings(book, t->number, t->reading, t->n, t->repeat);

    if (status == JAW_OK && (!(t->between >= 0) || !(t->between_u >= 0)))
        return jaw__book_say(book, SAY_BAD_ENTRY, "what lies in between",
                             "it is not thinner than 0");
    return status;
}

double jaw__mean(const double reading[], size_t n)
{
    jaw_spread spread;

    return jaw_measure_spread(reading, n, &spread) == JAW_OK ? spread.mean
                                                             : reading[0];
}

/* Rounding is alike for readings of one place (jaw__rounding_u), a surface and
 * a block for all of them. */
static void find_trust(const jaw_book_touch *t, const jaw_book_machine *m,
                       jaw_book_measured *out)
{
    jaw_book_length *l = &out->record.as.length;
    double rounding = jaw__rounding_u(m->step, l->repeat, l->repeat_dof, t->n);
    double top_u = isnan(out->top_u) ? 0 : out->top_u;
    jaw__parts p = {.known = rounding};

    l->known = hypot(hypot(rounding, top_u), l->between_u);
    l->u = l->dof = l->half95 = (double)NAN;
    if (isnan(l->repeat))
        return;
    jaw__parts_add(&p, l->repeat / sqrt((double)t->n), l->repeat_dof);
    jaw__parts_add(&p, top_u, out->top_dof);
    jaw__parts_add(&p, l->between_u, out->between_dof);
    l->u = jaw__parts_u(&p, &l->dof);
    l->half95 = jaw_trust_among(p.u, p.dof, p.n, p.known);
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
    jaw__pool own = jaw__pool_of(t->reading, t->n), earlier;
    jaw_status status = find_surface(book, t, out);

    if (status == JAW_OK)
        status = find_between(book, t, &l->between, &l->between_u,
                              &out->between_dof);
    if (status == JAW_OK)
        status = jaw__pool_lengths(book, t->machine, t->on, l->between > 0,
                                   &earlier);
    if (status != JAW_OK)
        return status;
    jaw__pool_repeat(t->repeat, own, earlier, m->step, &l->repeat,
                     &l->repeat_dof);
    l->value = jaw__mean(t->reading, t->n) - l->between -
               (isnan(out->top) ? 0 : out->top);
    find_trust(t, m, out);
    jaw__doubt_scatter(book, m, own, earlier, out, t->number, m->step);
    if (jaw_book_tool_subject(t->number, t->holder, l->datum, out->subject,
                              sizeof out->subject) != JAW_OK)
        return jaw__book_say(book, SAY_BAD_ENTRY, "tool or holder",
                             JAW__TOOL_CURE);
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
        jaw_book_machine_tell(book, touch->machine);
    if (status == JAW_OK)
        status = find_value(book, touch, &m, out);
    if (status == JAW_OK)
        status = jaw__book_compare(book, &m, out);
    if (status != JAW_OK)
        return status;
    doubt_size(book, touch, &m, out);
    doubt_place(book, touch, &m, out);
    status = doubt_part(book, touch, &m, out);
    if (status != JAW_OK)
        return status;
    jaw__doubt_unit(book, touch->number, jaw__mean(touch->reading, touch->n),
                    out);
    status = jaw__doubt_between(book, touch, &m, out);
    if (status == JAW_OK)
        status = jaw__doubt_holder(book, touch->holder, touch->fresh, out);
    if (status != JAW_OK)
        return status;
    jaw__doubt_digits(book, touch, &m, out);
    jaw__doubt_change(out);
    jaw__book_tell_change(book, &m, out);
    return JAW_OK;
}

/* -------------------------------------------------------------- calibration */

/* A tool that was measured on a surface brings its height back as it was, with
 * every error that it had. */
jaw_status jaw_book_length_sure(jaw_book *book, const jaw_book_record *record,
                                const char *on, double *u, double *dof)
{
    const jaw_book_length *l = &record->as.length;
    jaw_book_machine m;
    bool known;

    *u = *dof = (double)NAN;
    if (record->kind != JAW_BOOK_LENGTH)
        return JAW_EDOMAIN;
    if (strcmp(l->on, on) == 0)
        jaw__book_say(book, SAY_CIRCLE, l->number, on, record->id);
    jaw_status status = isnan(l->u) ? jaw_book_machine_of(book, record->machine,
                                                          &m, &known)
                                    : JAW_OK;
    if (status != JAW_OK)
        return status;
    *u = jaw__length_u(record);
    *dof = isnan(l->u) ? (double)INFINITY : l->dof;
    if (isnan(l->u))
        jaw__book_say(book, SAY_LINK_SPREAD, l->number,
                      jaw__book_mm(JAW_BOOK_REPEAT, l->unit, &m).s);
    return JAW_OK;
}

/* The readings, what is seen beside them (p), and the step, as a height. */
static void put_height(const jaw_book_touch *t, double step, jaw__parts p,
                       jaw_book_height *h)
{
    const jaw__pool none = {0, 0};
    double repeat, dof;

    jaw__pool_repeat(t->repeat, jaw__pool_of(t->reading, t->n), none, step,
                     &repeat, &dof);
    jaw__parts_add(&p, repeat / sqrt((double)t->n), dof);
    jaw__parts_add(&p, jaw__rounding_u(step, repeat, dof, t->n),
                   (double)INFINITY);
    h->u = jaw__parts_u(&p, &h->dof);
    h->half95 = jaw_trust_among(p.u, p.dof, p.n, p.known);
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
                              double length_dof, jaw_book_record *record)
{
    jaw_book_machine m;
    jaw__parts p = {.n = 0};
    bool known;
    double between, between_u, between_dof;
    jaw_status status = check_touch(book, touch);

    if (status == JAW_OK && (!isfinite(length) || !(length_u >= 0)))
        return jaw__book_say(book, SAY_BAD_ENTRY, "length", "it is not known");
    if (status == JAW_OK)
        status = jaw_book_machine_of(book, touch->machine, &m, &known);
    if (status == JAW_OK)
        status = find_between(book, touch, &between, &between_u, &between_dof);
    if (status != JAW_OK)
        return status;
    if (isnan(touch->repeat) && touch->n < 2)
        return jaw__book_say(book, SAY_REPEAT_UNKNOWN, touch->on);
    if (length_u == 0)
        jaw__book_say(book, SAY_CALIBRATED_EXACT, touch->on);
    begin_height(touch, record);
    jaw_book_height *h = &record->as.height;
    h->value = jaw__mean(touch->reading, touch->n) - length - between;
    h->tool = touch->number;
    h->length = length;
    h->length_u = length_u;
    h->unit = touch->unit;
    jaw__parts_add(&p, length_u, length_dof);
    jaw__parts_add(&p, between_u, between_dof);
    put_height(touch, m.step, p, h);
    return JAW_OK;
}
