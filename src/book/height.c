/* SPDX-License-Identifier: GPL-3.0-or-later */
/* height.c: a height or a thickness that can not be, or that a slip of the pen
 * explains.  Every length measured there would be wrong by it, so it is refused
 * and not just doubted. */
#include "change.h"

#include <math.h>

static jaw_status check_readings(jaw_book *book, const jaw_book_machine *m,
                                 const jaw_book_record *r)
{
    jaw_unit unit = r->as.height.unit;

    for (size_t i = 0; i < r->n_readings; i++)
        if (r->reading[i] < m->low[2] || r->reading[i] > m->high[2])
            return jaw__book_say(book, SAY_HEIGHT_OUTSIDE,
                                 jaw__book_mm(r->reading[i], unit, m).s,
                                 r->subject,
                                 jaw__book_mm(m->low[2], unit, m).s,
                                 jaw__book_mm(m->high[2], unit, m).s);
    return JAW_OK;
}

/* A tool touches where Z is higher than the top by its length, and none is
 * longer than Z can travel. */
bool jaw__top_fits(const jaw_book_machine *m, double top)
{
    double lowest = m->low[2] - (m->high[2] - m->low[2]);

    return !(top > m->high[2]) && !(top < lowest);
}

static jaw_status check_top(jaw_book *book, const jaw_book_machine *m,
                            const jaw_book_record *r)
{
    const jaw_book_height *h = &r->as.height;

    if (jaw__top_fits(m, h->value))
        return JAW_OK;
    return jaw__book_say(book, SAY_HEIGHT_TOP, r->subject,
                         jaw__book_mm(h->value, h->unit, m).s,
                         jaw__book_mm(m->low[2], h->unit, m).s,
                         jaw__book_mm(m->high[2], h->unit, m).s);
}

static const char *slip_of(double now, double before)
{
    jaw_book_slip slip = jaw__slip_of(before, now, 0);

    if (slip == JAW_SLIP_SIGN)
        return "the last with the other sign";
    if (slip == JAW_SLIP_NONE)
        return NULL;
    return fabs(now) > fabs(before) ? "25.4 times the last"
                                    : "a 25.4th of the last";
}

static jaw_status check_jump(jaw_book *book, const jaw_book_machine *m,
                             const jaw_book_record *r)
{
    const jaw_book_height *h = &r->as.height;
    jaw_book_record last;
    jaw_status status =
        jaw_book_find(book, JAW_BOOK_HEIGHT, r->machine, r->subject, &last);

    if (status != JAW_OK)
        return status == JAW_EUNKNOWN ? JAW_OK : status;
    const jaw_book_height *then = &last.as.height;
    double differ = h->value - then->value;
    double now = r->n_readings > 0 ? jaw__mean(r->reading, r->n_readings)
                                   : h->value;
    const char *slip = slip_of(now, now - differ);
    if (slip == NULL)
        slip = slip_of(h->value, then->value);
    if (slip == NULL || !(fabs(differ) > fmax(m->step, JAW_TRUST_LIMIT *
                                                hypot(h->u, then->u))))
        return JAW_OK;
    return jaw__book_say(book, SAY_HEIGHT_SLIP, r->subject,
                         jaw__book_mm(h->value, h->unit, m).s,
                         jaw__book_mm(then->value, h->unit, m).s, last.id,
                         slip);
}

jaw_status jaw_book_height_check(jaw_book *book, const jaw_book_record *record)
{
    jaw_book_machine m;
    bool known, block = record->as.height.block;
    jaw_status status =
        jaw_book_machine_of(book, record->machine, &m, &known);

    if (status == JAW_OK && !block)
        status = check_readings(book, &m, record);
    if (status == JAW_OK && !block)
        status = check_top(book, &m, record);
    return status == JAW_OK ? check_jump(book, &m, record) : status;
}

/* ----------------------------------------------------------------- compare */

/* A tool that touched was put into the spindle for it. */
static void add_seat(jaw__parts *p, const jaw_book_machine *m, size_t readings)
{
    if (readings > 0 && m->seat > 0)
        jaw__parts_add(p, m->seat, (double)INFINITY);
}

jaw_status jaw_book_height_compare(jaw_book *book,
                                   const jaw_book_record *record,
                                   jaw_book_verdict *v)
{
    jaw_book_machine m;
    bool known;
    jaw__parts p = {.n = 0};
    jaw_book_record last;

    jaw__compare_begin(v);
    jaw_status status =
        jaw_book_machine_of(book, record->machine, &m, &known);
    if (status == JAW_OK)
        status = jaw_book_find(book, JAW_BOOK_HEIGHT, record->machine,
                               record->subject, &last);
    if (status != JAW_OK)
        return status == JAW_EUNKNOWN ? JAW_OK : status;
    v->last_id = last.id;
    v->last = last.as.height.value;
    v->differ = record->as.height.value - v->last;
    const jaw__top now = jaw__top_of(record), then = jaw__top_of(&last);
    jaw__parts_tops(&p, &now, &then);
    add_seat(&p, &m, record->n_readings);
    add_seat(&p, &m, last.n_readings);
    v->u = jaw__parts_u(&p, &v->dof);
    v->limit = jaw_trust_limit(p.u, p.dof, p.n, p.known);
    v->change = fabs(v->differ) <= v->limit ? JAW_CHANGE_NOISE
                                            : JAW_CHANGE_UNSURE;
    return JAW_OK;
}
