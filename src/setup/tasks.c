/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tasks.c: what is stated beside features and zeros, kept in the order in which
 * it came, with its readings. */
#include "setup.h"

#include <math.h>

const char *jaw_task_word(jaw_task_kind kind)
{
    static const char *const word[] = {
#define AS_WORD(name, word, text) word,
        JAW_TASK_LIST(AS_WORD)
#undef AS_WORD
    };

    return (unsigned)kind < JAW_TASK_KINDS ? word[kind] : NULL;
}

/* --------------------------------------------------------------- each kind */

static bool length_is_good(const jaw_length *l)
{
    return !isinf(l->value) && l->known >= 0 && isfinite(l->known);
}

static bool is_size(double mm) /* or not stated */
{
    return isnan(mm) || (mm > 0 && isfinite(mm));
}

/* The bed is a surface that tools and tips may touch. */
static jaw_status take_vise(jaw_setup *setup, jaw_task *task, bool *ok)
{
    jaw_vise_task *v = &task->as.vise;
    jaw_setter_entry bed = {.name = task->name,
                            .top = v->bed.value,
                            .height = (double)NAN,
                            .place = task->place,
                            .top_known = v->bed.known};

    if (!length_is_good(&v->bed) || !(v->jaw_height > 0) ||
        !is_size(v->jaw_height) || !is_size(v->jaw_width) ||
        !is_size(v->opening))
        return JAW_EDOMAIN;
    v->fixed = jaw__pool_text(&setup->names, v->fixed, ok);
    return *ok ? jaw_setup_add_setter(setup, &bed) : JAW_ENOMEM;
}

/* The stock's top stands on the bed: heights add, variances too.  Whether the
 * jaws can hold it is a question for the solution. */
static jaw_status take_stock(jaw_setup *setup, jaw_task *task, bool *ok)
{
    jaw_stock_task *s = &task->as.stock;
    double parallels = isnan(s->parallels.value) ? 0 : s->parallels.value;
    jaw_setter_entry top = {.name = task->name,
                            .top = (double)NAN,
                            .height = parallels + s->size[2].value,
                            .on = s->vise,
                            .place = task->place,
                            .on_place = s->vise_place,
                            .height_known = hypot(s->parallels.known,
                                                  s->size[2].known)};

    if (s->vise == NULL || !length_is_good(&s->parallels) || parallels < 0 ||
        !(s->size[2].value > 0) || !is_size(s->least_grip))
        return JAW_EDOMAIN;
    for (int i = 0; i < 3; i++)
        if (!length_is_good(&s->size[i]) || !is_size(s->size[i].value))
            return JAW_EDOMAIN;
    s->vise = jaw__pool_text(&setup->names, s->vise, ok);
    s->top = jaw__pool_text(&setup->names, s->top, ok);
    return *ok ? jaw_setup_add_setter(setup, &top) : JAW_ENOMEM;
}

static jaw_status take_tram(const jaw_tram_task *t)
{
    return t->radius > 0 && is_size(t->radius) && is_size(t->cutter) &&
                   is_size(t->base) && is_size(t->repeat)
               ? JAW_OK
               : JAW_EDOMAIN;
}

static bool faces_x(jaw_side side)
{
    return side == JAW_SIDE_XPLUS || side == JAW_SIDE_XMINUS;
}

/* The sign of what follows is that of an arm along Y (align.h). */
static jaw_status take_square(const jaw_square_task *t)
{
    return faces_x(t->faces[0]) && faces_x(t->faces[1]) &&
                   is_size(t->over) && is_size(t->repeat)
               ? JAW_OK
               : JAW_EDOMAIN;
}

/* Names into the pool, surfaces to the setters; JAW_EDOMAIN for what no setup
 * may hold. */
static jaw_status take(jaw_setup *setup, jaw_task *task, bool *ok)
{
    switch (task->kind) {
    case JAW_TASK_VISE: return take_vise(setup, task, ok);
    case JAW_TASK_STOCK: return take_stock(setup, task, ok);
    case JAW_TASK_TRAM: return take_tram(&task->as.tram);
    case JAW_TASK_SQUARE: return take_square(&task->as.square);
    case JAW_TASK_KINDS: break;
    }
    return JAW_EDOMAIN;
}

/* --------------------------------------------------------------------- add */

/* Both arrays grow before either counts one more. */
static bool make_room(jaw_setup *setup)
{
    void *readings = jaw__grow(setup->task_readings, setup->n_tasks,
                               &setup->room_task_readings,
                               sizeof *setup->task_readings);
    if (readings == NULL)
        return false;
    setup->task_readings = readings;
    void *tasks = jaw__grow(setup->tasks, setup->n_tasks, &setup->room_tasks,
                            sizeof *setup->tasks);
    if (tasks == NULL)
        return false;
    setup->tasks = tasks;
    return true;
}

jaw_status jaw_setup_add_task(jaw_setup *setup, const jaw_task *task)
{
    jaw_task copy = *task;
    bool ok = true;

    if (task->name == NULL)
        return JAW_EDOMAIN;
    if (!make_room(setup))
        return JAW_ENOMEM;
    copy.name = jaw__pool_text(&setup->names, task->name, &ok);
    jaw_status status = ok ? take(setup, &copy, &ok) : JAW_ENOMEM;
    if (status != JAW_OK || !ok)
        return ok ? status : JAW_ENOMEM;
    setup->task_readings[setup->n_tasks] =
        (jaw__readings){setup->n_readings, 0};
    setup->tasks[setup->n_tasks++] = copy;
    return JAW_OK;
}

jaw_status jaw_setup_add_reading(jaw_setup *setup, const jaw_reading *reading)
{
    if (setup->n_tasks == 0)
        return JAW_EUNKNOWN;
    if (!isfinite(reading->at) || !isfinite(reading->value))
        return JAW_EDOMAIN;
    void *readings = jaw__grow(setup->readings, setup->n_readings,
                               &setup->room_readings, sizeof *setup->readings);
    if (readings == NULL)
        return JAW_ENOMEM;
    setup->readings = readings;
    setup->readings[setup->n_readings++] = *reading;
    setup->task_readings[setup->n_tasks - 1].n++;
    return JAW_OK;
}

const jaw_task *jaw_setup_tasks(const jaw_setup *setup, size_t *n)
{
    *n = setup->n_tasks;
    return setup->tasks;
}

const jaw_reading *jaw_setup_readings(const jaw_setup *setup, size_t task,
                                      size_t *n)
{
    *n = 0;
    if (task >= setup->n_tasks || setup->readings == NULL)
        return NULL;
    *n = setup->task_readings[task].n;
    return setup->readings + setup->task_readings[task].first;
}
