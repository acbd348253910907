/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tasks.c: what is stated beside features and zeros, kept in the order in which
 * it came, with its readings. */
#include "setup.h"

#include <math.h>
#include <stdlib.h>

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

static jaw_status take_rotary(jaw_setup *setup, jaw_rotary_task *t, bool *ok)
{
    if ((unsigned)t->about >= JAW_AXES || abs((int)t->sense) > 1 ||
        isinf(t->apart) || !is_size(t->repeat))
        return JAW_EDOMAIN;
    t->tip = jaw__pool_text(&setup->names, t->tip, ok);
    for (int k = 0; k < 2; k++)
        t->runout[k] = jaw__pool_text(&setup->names, t->runout[k], ok);
    return JAW_OK;
}

static jaw_status take_runout(const jaw_runout_task *t)
{
    return (unsigned)t->on < JAW_AXES && isfinite(t->at) && is_size(t->repeat)
               ? JAW_OK
               : JAW_EDOMAIN;
}

static jaw_status take_datums(jaw_setup *setup, jaw_datums_task *t, bool *ok)
{
    if (!isfinite(t->at.x) || !isfinite(t->at.y) || !isfinite(t->at.z))
        return JAW_EDOMAIN;
    for (int k = 0; k < 3; k++) {
        if (t->feature[k] == NULL)
            return JAW_EDOMAIN;
        t->feature[k] = jaw__pool_text(&setup->names, t->feature[k], ok);
    }
    return JAW_OK;
}

static jaw_status take_vee(jaw_setup *setup, const jaw_task *task)
{
    const jaw_vee_task *v = &task->as.vee;
    jaw_held_round held;
    jaw_status status = jaw_hold_vee(v->apex, v->angle, v->diameter, &held);
    jaw_setter_entry top = {.name = task->name,
                            .top = held.top.value,
                            .height = (double)NAN,
                            .place = task->place,
                            .top_known = held.top.u};

    return status == JAW_OK ? jaw_setup_add_setter(setup, &top) : JAW_EDOMAIN;
}

static jaw_status take_sine(const jaw_sine_task *t)
{
    jaw_figure f;
    bool angle = !isnan(t->angle), stack = !isnan(t->stack.value);
    jaw_status status = angle || stack ? JAW_OK : JAW_EDOMAIN;

    if (status == JAW_OK && angle)
        status = jaw_hold_stack(t->bar, t->angle, &f);
    if (status == JAW_OK && stack)
        status = jaw_hold_sine(t->bar, t->stack, &f);
    return status == JAW_OK ? JAW_OK : JAW_EDOMAIN;
}

static jaw_status take_stations(jaw_setup *setup, jaw_stations_task *t, bool *ok)
{
    bool along = t->turn_along == JAW_X || t->turn_along == JAW_Y ||
                 t->turn_along == JAW_AXES;

    if (!(t->known >= 0) || isinf(t->known) ||
        (t->turn_use == JAW_TURN_STATED && !isfinite(t->turn)) ||
        (t->turn_use == JAW_TURN_FEATURE && (!t->turn_feature || !along)))
        return JAW_EDOMAIN;
    t->turn_feature = jaw__pool_text(&setup->names, t->turn_feature, ok);
    return *ok ? JAW_OK : JAW_ENOMEM;
}

/* A part is turned over once. */
static jaw_status take_side(const jaw_setup *setup, const jaw_side_task *t)
{
    for (size_t i = 0; i < setup->n_tasks; i++)
        if (setup->tasks[i].kind == JAW_TASK_SIDE)
            return JAW_EDOMAIN;
    return (unsigned)t->over <= JAW_OVER_Z && isfinite(t->zero.x) &&
                   isfinite(t->zero.y) && isfinite(t->zero.z) &&
                   t->cut >= 0 && isfinite(t->cut)
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
    case JAW_TASK_ROTARY: return take_rotary(setup, &task->as.rotary, ok);
    case JAW_TASK_RUNOUT: return take_runout(&task->as.runout);
    case JAW_TASK_DATUMS: return take_datums(setup, &task->as.datums, ok);
    case JAW_TASK_VEE: return take_vee(setup, task);
    case JAW_TASK_SINE: return take_sine(&task->as.sine);
    case JAW_TASK_STATIONS:
        return take_stations(setup, &task->as.stations, ok);
    case JAW_TASK_SIDE: return take_side(setup, &task->as.side);
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

static bool reading_is_good(jaw_task_kind kind, const jaw_reading *r)
{
    bool two = kind == JAW_TASK_ROTARY || kind == JAW_TASK_DATUMS;

    if (!isfinite(r->at))
        return false;
    if (r->feature != NULL)
        return kind == JAW_TASK_ROTARY;
    return isfinite(r->value) && (!two || isfinite(r->other));
}

jaw_status jaw_setup_add_reading(jaw_setup *setup, const jaw_reading *reading)
{
    jaw_reading copy = *reading;
    bool ok = true;

    if (setup->n_tasks == 0)
        return JAW_EUNKNOWN;
    if (!reading_is_good(setup->tasks[setup->n_tasks - 1].kind, reading))
        return JAW_EDOMAIN;
    copy.feature = jaw__pool_text(&setup->names, reading->feature, &ok);
    if (!ok)
        return JAW_ENOMEM;
    void *readings = jaw__grow(setup->readings, setup->n_readings,
                               &setup->room_readings, sizeof *setup->readings);
    if (readings == NULL)
        return JAW_ENOMEM;
    setup->readings = readings;
    setup->readings[setup->n_readings++] = copy;
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
