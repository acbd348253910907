/* SPDX-License-Identifier: GPL-3.0-or-later */
/* findings.c: the answers to tasks, all kinds alike: figures with their names,
 * how well the readings agree, and what to do. */
#include "findings.h"

#include <math.h>
#include <string.h>

enum { NAME = 12, TEXT = 32 };

static void put_quantity(jaw__buffer *b, jaw__scale scale, double value,
                         jaw_quantity quantity, int width)
{
    if (quantity == JAW_ANGLE)
        jaw__put_angle(b, value, width);
    else
        jaw__put_fine(b, scale, value, width);
}

static void put_item(jaw__buffer *b, jaw__scale scale, const jaw_item *item)
{
    jaw__buffer_pad(b, NAME + 2);
    jaw__buffer_printf(b, "%-*s ", TEXT, item->text);
    if (isnan(item->value)) {
        jaw__buffer_printf(b, "%12s\n", "not found");
        return;
    }
    put_quantity(b, scale, item->value, item->quantity, 12);
    if (!isnan(item->half95)) {
        jaw__buffer_text(b, "  +- ");
        put_quantity(b, scale, item->half95, item->quantity, 0);
    }
    jaw__buffer_text(b, item->quantity == JAW_ANGLE ? " deg\n" : "\n");
}

static void put_agreement(jaw__buffer *b, jaw__scale scale,
                          const jaw_finding *f)
{
    if (f->n == 0 || f->status != JAW_OK)
        return;
    if (f->n_aside > 0) {
        jaw__buffer_pad(b, NAME + 2);
        jaw__buffer_printf(b, "set aside: %zu reading%s\n", f->n_aside,
                           f->n_aside == 1 ? "" : "s");
    }
    jaw__buffer_pad(b, NAME + 2);
    if (f->dof < 1 || isnan(f->rms)) {
        jaw__buffer_text(b, "no check\n");
        return;
    }
    size_t largest = 0;
    for (size_t i = 1; i < f->n; i++)
        if (fabs(f->resid[i]) > fabs(f->resid[largest]) + 1e-9 ||
            isnan(f->resid[largest]))
            largest = i;
    jaw__buffer_text(b, "rms ");
    jaw__put_fine(b, scale, f->rms, 0);
    jaw__buffer_text(b, "  largest ");
    jaw__put_fine(b, scale, f->resid[largest], 0);
    jaw__buffer_printf(b, " at reading %zu\n", largest + 1);
}

static void put_sentence(jaw__buffer *b, const char *text)
{
    enum { WIDTH = 78, IN = NAME + 5 };
    size_t column = IN;
    jaw__buffer_pad(b, NAME + 2);
    jaw__buffer_text(b, "-> ");
    while (*text) {
        size_t len = strcspn(text, " ");
        if (column + len > WIDTH && column > IN) {
            jaw__buffer_text(b, "\n");
            jaw__buffer_pad(b, IN);
            column = IN;
        }
        if (column > IN)
            jaw__buffer_text(b, " ");
        jaw__buffer_clean(b, text, len);
        column += len + 1;
        text += len + strspn(text + len, " ");
    }
    jaw__buffer_text(b, "\n");
}

void jaw__put_finding(jaw__buffer *b, jaw__scale scale, const jaw_finding *f)
{
    jaw__buffer_printf(b, "  %-*s", NAME, f->name);
    jaw__buffer_printf(b, "%s%s", jaw_task_word(f->kind),
                       f->status == JAW_OK ? "" : ", not found: ");
    if (f->status != JAW_OK)
        jaw__buffer_text(b, jaw_status_text(f->status));
    jaw__buffer_text(b, "\n");
    for (size_t i = 0; i < f->n_items; i++)
        put_item(b, scale, &f->items[i]);
    put_agreement(b, scale, f);
    for (size_t i = 0; i < f->n_advice; i++)
        put_sentence(b, f->advice[i]);
}

/* -------------------------------------------------------------------- JSON */

static json_t *json_item(const jaw_item *item, jaw_unit unit, bool *failed)
{
    json_t *object = json_object();
    bool angle = item->quantity == JAW_ANGLE;

    jaw__json_put(object, "what", jaw__json_text(item->text), failed);
    jaw__json_put(object, "unit",
                  jaw__json_text(angle ? "deg" : jaw_unit_word(unit)), failed);
    jaw__json_put(object, "value",
                  angle ? jaw__json_degrees(item->value)
                        : jaw__json_length(item->value, unit),
                  failed);
    jaw__json_put(object, "half95",
                  angle ? jaw__json_degrees(item->half95)
                        : jaw__json_length(item->half95, unit),
                  failed);
    return object;
}

json_t *jaw__json_finding(const jaw_finding *f, jaw_unit unit, bool *failed)
{
    json_t *object = json_object(), *items = json_array();
    json_t *advice = json_array(), *resid = json_array();

    jaw__json_put(object, "name", jaw__json_text(f->name), failed);
    jaw__json_put(object, "kind", jaw__json_text(jaw_task_word(f->kind)),
                  failed);
    jaw__json_put(object, "solved", json_boolean(f->status == JAW_OK), failed);
    for (size_t i = 0; i < f->n_items; i++)
        jaw__json_push(items, json_item(&f->items[i], unit, failed), failed);
    jaw__json_put(object, "figures", items, failed);
    for (size_t i = 0; i < f->n_advice; i++)
        jaw__json_push(advice, jaw__json_text(f->advice[i]), failed);
    jaw__json_put(object, "advice", advice, failed);
    for (size_t i = 0; i < f->n; i++)
        jaw__json_push(resid, jaw__json_length(f->resid[i], unit), failed);
    jaw__json_put(object, "residuals", resid, failed);
    jaw__json_put(object, "set_aside", json_integer((json_int_t)f->n_aside),
                  failed);
    jaw__json_put(object, "rms", jaw__json_length(f->rms, unit), failed);
    jaw__json_put(object, "dof", json_integer(f->dof), failed);
    jaw__json_put(object, "flags", jaw__json_flags(f->flags), failed);
    return object;
}
