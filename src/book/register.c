/* SPDX-License-Identifier: GPL-3.0-or-later */
/* register.c: what a length register holds, by the rule of the control, and
 * whether it can. */
#include "change.h"

#include <math.h>
#include <string.h>

static bool is_datum(const jaw_book_length *l, const char *datum)
{
    return strcmp(l->datum, datum) == 0;
}

jaw_status jaw_book_register(const jaw_book_length *length,
                             jaw_length_rule rule,
                             const jaw_book_length *reference, double work_z,
                             double *value)
{
    *value = (double)NAN;
    switch (rule) {
    case JAW_GAUGE_LINE:
        if (is_datum(length, ""))
            *value = length->value;
        break;
    case JAW_TIP_TO_PART:
        if (is_datum(length, "part"))
            *value = length->value;
        else if (is_datum(length, ""))
            *value = length->value + work_z;
        break;
    case JAW_REFERENCE_TOOL:
        if (reference != NULL && is_datum(length, reference->datum))
            *value = length->value - reference->value;
        break;
    default:
        return JAW_EDOMAIN;
    }
    return isfinite(*value) ? JAW_OK : JAW_EUNKNOWN;
}

/* From tip to part it holds where Z stands when the tip is at the work zero. */
jaw_status jaw_book_register_check(jaw_book *book, const char *machine,
                                   jaw_length_rule rule, int number,
                                   double value)
{
    jaw_book_machine m;
    bool known;

    if (rule != JAW_TIP_TO_PART)
        return JAW_OK;
    jaw_status status = jaw_book_machine_of(book, machine, &m, &known);
    if (status == JAW_OK && (value < m.low[2] || value > m.high[2]))
        jaw__book_say(book, SAY_REGISTER_OUTSIDE, number,
                      jaw__book_mm(value, m.unit, &m).s,
                      jaw__book_mm(m.low[2], m.unit, &m).s,
                      jaw__book_mm(m.high[2], m.unit, &m).s);
    return status;
}
