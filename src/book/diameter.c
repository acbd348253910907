/* SPDX-License-Identifier: GPL-3.0-or-later */
/* diameter.c: the diameter of a cutter from readings: the mean, its
 * uncertainty, and what became of it since last time.  What measured it is
 * nobody's but the person's; what is known of it is its step and how well it
 * comes back. */
#include "change.h"

#include <math.h>

static void begin_record(const jaw_book_gauge *g, jaw_book_measured *out)
{
    jaw__book_blank(JAW_BOOK_DIAMETER, &out->record);
    out->record.at = g->at;
    out->record.machine = g->machine;
    out->record.subject = out->subject;
    out->record.reading = g->reading;
    out->record.n_readings = g->n;
    jaw_book_diameter *d = &out->record.as.diameter;
    d->number = g->number;
    d->holder = g->holder;
    d->fresh = g->fresh;
    d->unit = g->unit;
}

static jaw_status check_gauge(jaw_book *book, const jaw_book_gauge *g,
                              jaw_book_measured *out)
{
    jaw_status status =
        jaw__check_readings(book, g->number, g->reading, g->n, g->repeat);

    if (status != JAW_OK)
        return status;
    for (size_t i = 0; i < g->n; i++)
        if (!(g->reading[i] > 0))
            return jaw__book_say(book, SAY_BAD_ENTRY, "diameter",
                                 "it is more than 0");
    if (!(g->step > 0) || isinf(g->step))
        return jaw__book_say(book, SAY_BAD_ENTRY, "step", "it is more than 0");
    if (jaw_book_tool_subject(g->number, g->holder, NULL, out->subject,
                              sizeof out->subject) != JAW_OK)
        return jaw__book_say(book, SAY_BAD_ENTRY, "tool or holder",
                             JAW__TOOL_CURE);
    return JAW_OK;
}

static jaw_status find_value(jaw_book *book, const jaw_book_machine *m,
                             const jaw_book_gauge *g, jaw_book_measured *out)
{
    jaw_book_diameter *d = &out->record.as.diameter;
    jaw__pool own = jaw__pool_of(g->reading, g->n), earlier;
    jaw__parts p = {.n = 0};
    jaw_status status = jaw__pool_diameters(book, g->machine, &earlier);

    if (status != JAW_OK)
        return status;
    jaw__pool_repeat(g->repeat, own, earlier, g->step, &d->repeat,
                     &d->repeat_dof);
    d->value = jaw__mean(g->reading, g->n);
    d->known = p.known =
        jaw__rounding_u(g->step, d->repeat, d->repeat_dof, g->n);
    if (!isnan(d->repeat)) {
        jaw__parts_add(&p, d->repeat / sqrt((double)g->n), d->repeat_dof);
        d->u = jaw__parts_u(&p, &d->dof);
        d->half95 = jaw_trust_among(p.u, p.dof, p.n, p.known);
    }
    jaw__doubt_scatter(book, m, own, earlier, out, g->number, g->step);
    return JAW_OK;
}

static jaw_status compare(jaw_book *book, jaw_book_measured *out)
{
    jaw_book_verdict *v = &out->verdict;
    const jaw_book_diameter *d = &out->record.as.diameter;
    jaw_book_record last;

    jaw__compare_begin(v);
    jaw_status status = jaw__book_sound(book, JAW_BOOK_DIAMETER,
                                        out->record.machine, out->subject,
                                        &last);
    if (status != JAW_OK)
        return status == JAW_EUNKNOWN ? JAW_OK : status;
    const jaw_book_diameter *then = &last.as.diameter;
    jaw__parts p = {.known = d->known};
    jaw__parts_add(&p, then->known, (double)INFINITY);
    v->last_id = last.id;
    v->last = then->value;
    v->differ = d->value - v->last;
    jaw__compare_limit(v, (jaw__read){d->repeat, d->repeat_dof,
                                      out->record.n_readings},
                       (jaw__read){then->repeat, then->repeat_dof,
                                   last.n_readings},
                       true, p);
    return jaw__compare_settle(book, fmax(v->last, fabs(v->differ)), out);
}

jaw_status jaw_book_measure_diameter(jaw_book *book,
                                     const jaw_book_gauge *gauge,
                                     jaw_book_measured *out)
{
    jaw_book_machine m;
    bool known;

    *out = (jaw_book_measured){.top = (double)NAN, .top_u = (double)NAN,
                               .top_dof = (double)NAN,
                               .between_dof = (double)NAN};
    jaw__compare_begin(&out->verdict);
    begin_record(gauge, out);
    jaw_status status = check_gauge(book, gauge, out);
    if (status == JAW_OK)
        status = jaw_book_machine_of(book, gauge->machine, &m, &known);
    if (status == JAW_OK)
        status = find_value(book, &m, gauge, out);
    if (status == JAW_OK)
        status = compare(book, out);
    if (status != JAW_OK)
        return status;
    if (!gauge->beside)
        status = jaw__doubt_holder(book, gauge->holder, gauge->fresh, out);
    if (status != JAW_OK)
        return status;
    jaw__doubt_unit(book, gauge->number, out->record.as.diameter.value, out);
    jaw__doubt_change(out);
    jaw__book_tell_change(book, &m, out);
    return JAW_OK;
}
