/* SPDX-License-Identifier: GPL-3.0-or-later */
/* findings.c: the answers to the tasks of a setup, and how they are written
 * down.  One file a kind finds what there is to say; here it is kept. */
#include "worth.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>

static const char *kept(jaw__solver *sv, const char *format, va_list args)
{
    char text[300];
    bool ok = true;

    vsnprintf(text, sizeof text, format, args);
    const char *copy = jaw__pool_text(&sv->out->names, text, &ok);
    if (!ok)
        sv->no_memory = true;
    return copy;
}

void jaw__item(jaw__solver *sv, jaw_finding *f, double value,
               jaw_quantity quantity, double half95, const char *format, ...)
{
    jaw_solution *out = sv->out;
    va_list args;

    va_start(args, format);
    const char *text = kept(sv, format, args);
    va_end(args);
    void *items =
        jaw__grow(out->items, out->n_items, &out->room_items,
                  sizeof *out->items);
    if (items != NULL)
        out->items = items;
    if (text == NULL || items == NULL) {
        sv->no_memory = true;
        return;
    }
    out->items[out->n_items++] = (jaw_item){text, value, quantity, half95};
    f->n_items++;
}

void jaw__advise(jaw__solver *sv, jaw_finding *f, const char *format, ...)
{
    jaw_solution *out = sv->out;
    va_list args;

    va_start(args, format);
    const char *text = kept(sv, format, args);
    va_end(args);
    void *advice = jaw__grow(out->advice, out->n_advice, &out->room_advice,
                             sizeof *out->advice);
    if (advice != NULL)
        out->advice = advice;
    if (text == NULL || advice == NULL) {
        sv->no_memory = true;
        return;
    }
    out->advice[out->n_advice++] = text;
    f->n_advice++;
}

static void find(jaw__worth *w, const jaw_task *task, jaw_finding *f)
{
    switch (task->kind) {
    case JAW_TASK_VISE: jaw__find_vise(w, task, f); break;
    case JAW_TASK_STOCK: jaw__find_stock(w, task, f); break;
    case JAW_TASK_TRAM: jaw__find_tram(w, task, f); break;
    case JAW_TASK_SQUARE: jaw__find_square(w, task, f); break;
    case JAW_TASK_RUNOUT: jaw__find_runout(w, task, f); break;
    case JAW_TASK_ROTARY: jaw__find_rotary(w, task, f); break;
    case JAW_TASK_DATUMS: jaw__find_datums(w, task, f); break;
    case JAW_TASK_VEE: jaw__find_vee(w, task, f); break;
    case JAW_TASK_SINE: jaw__find_sine(w, task, f); break;
    case JAW_TASK_STATIONS: jaw__find_stations(w, task, f); break;
    case JAW_TASK_SIDE: jaw__find_side(w, task, f); break;
    case JAW_TASK_KINDS: break;
    }
}

/* Items and advice were counted from the start of growing arrays. */
static void hand_out(jaw_solution *out)
{
    const jaw_item *item = out->items;
    const char *const *advice = out->advice;

    for (size_t i = 0; i < out->n_findings; i++) {
        jaw_finding *f = &out->findings[i];
        f->items = item;
        f->advice = advice;
        if (item != NULL)
            item += f->n_items;
        if (advice != NULL)
            advice += f->n_advice;
    }
}

void jaw__solve_tasks(jaw__worth *w)
{
    jaw__solver *sv = w->sv;
    const jaw_setup *setup = sv->setup;

    for (size_t i = 0; i < setup->n_tasks && !sv->no_memory; i++) {
        jaw_finding *f = &sv->out->findings[i];
        *f = (jaw_finding){.name = setup->tasks[i].name,
                           .kind = setup->tasks[i].kind,
                           .resid = sv->out->task_resid +
                                    setup->task_readings[i].first,
                           .n = setup->task_readings[i].n,
                           .rms = (double)NAN};
        for (size_t k = 0; k < f->n; k++)
            f->n_aside +=
                setup->readings[setup->task_readings[i].first + k].aside;
        sv->out->n_findings++;
        find(w, &setup->tasks[i], f);
        if (f->n == 0)
            f->resid = NULL;
    }
    hand_out(sv->out);
}

const jaw_finding *jaw_solution_findings(const jaw_solution *s, size_t *n)
{
    *n = s->n_findings;
    return s->findings;
}
