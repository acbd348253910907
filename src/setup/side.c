/* SPDX-License-Identifier: GPL-3.0-or-later */
/* side.c: the part turned over.  All part coordinates that a person states are
 * those of side one's drawing; here, at the border of the solver, they become
 * those of side two (jaw_place_turned), and nothing behind it knows of side one.
 *
 * Both sides meet as far as side two's zero is where side one's drawing has it.
 * What is touched now was cut on side one, or stands where that was clamped, and
 * lies off by its own error; what the cut of side two is to meet lies off by
 * another such one.  So the mismatch has the zero's uncertainty and twice the
 * variance of `cut` (JCGM 100, 5.1.2), and as its expected value what rounding,
 * and a turn that the control can not take, leave. */
#include "worth.h"
#include "zero.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const jaw_task *jaw__side_task(const jaw_setup *setup)
{
    for (size_t i = 0; i < setup->n_tasks; i++)
        if (setup->tasks[i].kind == JAW_TASK_SIDE)
            return &setup->tasks[i];
    return NULL;
}

/* ------------------------------------------------------------------ border */

static void turn_place(const jaw_side_task *side, jaw_vec2 *at)
{
    jaw_vec3 p = {at->x, at->y, 0};

    p = jaw_place_turned(side->over, side->zero, p);
    *at = (jaw_vec2){p.x, p.y};
}

/* Each coordinate of side two follows from its own of side one.  That of a
 * pattern is how far its nominal places are shifted, all of them: a difference,
 * which has no zero. */
static void turn_terms(const jaw_setup *from, const jaw_side_task *side,
                       jaw_zero_entry *e)
{
    jaw_vec3 p = {e->term[JAW_X].at, e->term[JAW_Y].at, e->term[JAW_Z].at};
    jaw_vec3 as[] = {jaw_place_turned(side->over, side->zero, p),
                     jaw_place_turned(side->over, (jaw_vec3){0, 0, 0}, p)};

    for (jaw_axis a = JAW_X; a < JAW_AXES; a++) {
        long f = jaw__find_feature(from, e->term[a].feature);
        bool shift = f != JAW__NOWHERE && from->features[f].kind == JAW_PATTERN;
        e->term[a].at = a == JAW_X   ? as[shift].x
                        : a == JAW_Y ? as[shift].y
                                     : as[shift].z;
    }
}

/* Where the datums meet, and the places of shims and corners. */
static void turn_datums(const jaw_side_task *side, jaw_setup *over, size_t task)
{
    jaw_datums_task *t = &over->tasks[task].as.datums;
    const jaw__readings *own = &over->task_readings[task];

    t->at = jaw_place_turned(side->over, side->zero, t->at);
    for (size_t k = own->first; k < own->first + own->n; k++) {
        jaw_vec2 at = {over->readings[k].value, over->readings[k].other};
        turn_place(side, &at);
        over->readings[k].value = at.x;
        over->readings[k].other = at.y;
    }
}

static void *copy_of(const void *array, size_t n, size_t size)
{
    void *copy = calloc(n + 1, size);

    if (copy != NULL && n > 0)
        memcpy(copy, array, n * size);
    return copy;
}

bool jaw__turn_over(jaw__solver *sv, jaw_setup *over)
{
    const jaw_task *task = jaw__side_task(sv->setup);

    if (task == NULL)
        return true;
    const jaw_side_task *side = &task->as.side;
    const jaw_setup *from = sv->setup;
    *over = *from;
    over->zeros = copy_of(from->zeros, from->n_zeros, sizeof *over->zeros);
    over->holes = copy_of(from->holes, from->n_holes, sizeof *over->holes);
    over->asides = copy_of(from->asides, from->n_asides, sizeof *over->asides);
    sv->stated = from;
    sv->setup = over;
    over->tasks = copy_of(from->tasks, from->n_tasks, sizeof *over->tasks);
    over->readings = copy_of(from->readings, from->n_readings,
                             sizeof *over->readings);
    if (!over->zeros || !over->holes || !over->asides || !over->tasks ||
        !over->readings)
        return false;
    for (size_t i = 0; i < from->n_tasks; i++)
        if (from->tasks[i].kind == JAW_TASK_DATUMS)
            turn_datums(side, over, i);
    for (size_t i = 0; i < from->n_zeros; i++)
        turn_terms(from, side, &over->zeros[i]);
    for (size_t i = 0; i < from->n_holes; i++)
        turn_place(side, &over->holes[i].nominal);
    for (size_t i = 0; i < from->n_asides; i++)
        turn_place(side, &over->asides[i].hole.nominal);
    return true;
}

void jaw__turn_back(jaw__solver *sv)
{
    if (sv->stated == NULL)
        return;
    free(sv->setup->zeros);
    free(sv->setup->holes);
    free(sv->setup->asides);
    free(sv->setup->tasks);
    free(sv->setup->readings);
    sv->setup = sv->stated;
}

void jaw__step_over(jaw__zero_work *w)
{
    const jaw__solver *sv = w->sv;

    if (sv->stated == NULL)
        return;
    const jaw_zero_entry *one = &sv->stated->zeros[sv->step_of];
    for (jaw_axis a = JAW_X; a < JAW_AXES; a++)
        if (one->term[a].feature != NULL)
            jaw__step(w->sv, w->e->term[a].at, JAW_LENGTH,
                      "%s  '%s' on side two, where side one has %s",
                      jaw__axis_cap(a), one->term[a].feature,
                      jaw__length_text(sv, one->term[a].at).s);
}

/* ---------------------------------------------------------------- mismatch */

typedef struct mismatch {
    jaw__worth *w;
    jaw_finding *f;
    size_t zero;
    const jaw_zero_found *z;
} mismatch;

/* The figure that was put together: by, of the zero's axes, and turn.  What the
 * zero stands on beside the adjustment is in it, and twice what `cut` knows: of
 * what was touched now, and of what the cut is to meet. */
static void say_mismatch(const mismatch *m, const jaw_task *task, jaw_vec3 by,
                         double turn, double value, const char *what)
{
    jaw__solver *sv = m->w->sv;
    jaw_value_trust t = jaw__weigh(m->w);
    jaw__beside b;

    jaw__join_known(m->w, &t, M_SQRT2 * task->as.side.cut);
    if (jaw__is_carried(&sv->setup->zeros[m->zero])) {
        jaw__beside_of(sv, m->zero, by, turn, &b);
        for (int k = 0; k < 2; k++)
            jaw__join(&t, b.u[k], b.dof[k]);
    }
    jaw__item(sv, m->f, value, JAW_LENGTH, t.half95, "%s %s", m->z->name, what);
}

/* Where the part's own zero lies and how the part lies: the values to enter
 * have it elsewhere when the control can not turn. */
static bool find_frame(const mismatch *m, jaw_frame *part)
{
    const jaw_zero_found *z = m->z;
    jaw_vec2 at = {z->zero.x, z->zero.y};

    if (isnan(at.x) || isnan(at.y))
        return false;
    if (!isnan(z->far_cost.x) && !isnan(z->far_cost.y)) {
        jaw_frame turn = jaw_frame_make((jaw_vec2){0, 0}, z->skew);
        jaw_vec2 arm = jaw_machine_from_work(&turn, z->far_work);
        at.x += z->far_work.x + z->far_cost.x - arm.x;
        at.y += z->far_work.y + z->far_cost.y - arm.y;
    }
    *part = jaw_frame_make(at, z->skew);
    return true;
}

/* The part coordinates that were stated of the zero. */
static jaw_vec2 stated_at(const mismatch *m)
{
    const jaw__solver *sv = m->w->sv;
    const jaw_zero_entry *e = &sv->setup->zeros[m->zero];
    const jaw__lie *l = e->datums == NULL ? NULL : jaw__lie_of(sv, e->datums);

    if (l != NULL)
        return (jaw_vec2){l->task->as.datums.at.x, l->task->as.datums.at.y};
    return jaw__is_carried(e)
               ? (jaw_vec2){0, 0}
               : (jaw_vec2){e->term[JAW_X].at, e->term[JAW_Y].at};
}

/* A turn that is taken out moves the place about the zero; one that is not has
 * left its trace only from the stated coordinates on. */
static jaw_vec2 arm_of(const mismatch *m, jaw_vec2 place)
{
    jaw_frame turn = jaw_frame_make((jaw_vec2){0, 0}, m->z->skew);
    jaw_vec2 at = stated_at(m);

    if (!m->w->sv->setup->control.can_turn)
        place = (jaw_vec2){place.x - at.x, place.y - at.y};
    return jaw_machine_from_work(&turn, place);
}

static void say_plane(const mismatch *m, const jaw_task *task, jaw_vec2 place,
                      const char *const what[2])
{
    const jaw_zero_found *z = m->z;
    jaw_frame part;

    if (!find_frame(m, &part))
        return;
    jaw_frame entered =
        jaw_frame_make((jaw_vec2){z->enter.x, z->enter.y},
                       isnan(z->turn) ? 0 : z->turn);
    jaw_vec2 is = jaw_machine_from_work(&part, place);
    jaw_vec2 cut = jaw_machine_from_work(&entered, place);
    jaw_vec2 arm = arm_of(m, place);
    for (jaw_axis a = JAW_X; a <= JAW_Y; a++) {
        double lever = a == JAW_X ? -arm.y : arm.x;
        jaw__form_start(m->w);
        jaw__put_zero(m->w, m->zero, a, 1);
        jaw__put_turn(m->w, m->zero, lever);
        say_mismatch(m, task, (jaw_vec3){a == JAW_X, a == JAW_Y, 0}, lever,
                     a == JAW_X ? cut.x - is.x : cut.y - is.y, what[a]);
    }
}

/* What a tool cuts lies as high as the zero and its register together say,
 * whatever the convention for lengths. */
static void say_height(const mismatch *m, const jaw_task *task)
{
    const jaw__solver *sv = m->w->sv;
    const double off = m->z->enter.z - m->z->zero.z;
    const jaw_vec3 up = {0, 0, 1};
    char what[40];

    for (size_t i = 0; i < sv->out->n_tools; i++) {
        const jaw_tool_found *tool = &sv->out->tools[i];
        if (tool->status != JAW_OK)
            continue;
        jaw__form_start(m->w);
        jaw__put_zero(m->w, m->zero, JAW_Z, 1);
        jaw__put_tool(m->w, i, 1);
        snprintf(what, sizeof what, "Z off, tool %d", tool->number);
        say_mismatch(m, task, up, 0, off + tool->enter - tool->value, what);
    }
    if (sv->out->n_tools > 0)
        return;
    jaw__form_start(m->w);
    jaw__put_zero(m->w, m->zero, JAW_Z, 1);
    say_mismatch(m, task, up, 0, off, "Z off");
}

static void say_zero(const mismatch *m, const jaw_task *task)
{
    const jaw_zero_found *z = m->z;
    const jaw_zero_entry *e = &m->w->sv->setup->zeros[m->zero];

    static const char *const at_zero[] = {"X off, at the zero",
                                          "Y off, at the zero"};
    static const char *const far[] = {"X off, at the far end",
                                      "Y off, at the far end"};

    say_plane(m, task, (jaw_vec2){0, 0}, at_zero);
    if (!isnan(z->far_work.x) && !isnan(z->far_work.y))
        say_plane(m, task, z->far_work, far);
    /* a Z that stations gave was not held against side one either */
    if (!isnan(z->zero.z) &&
        (e->term[JAW_Z].feature != NULL || jaw__is_carried(e)))
        say_height(m, task);
}

void jaw__find_side(jaw__worth *w, const jaw_task *task, jaw_finding *f)
{
    const jaw_solution *out = w->sv->out;

    if (!(task->as.side.cut > 0))
        jaw__tell(w->sv, SAY_CUT_EXACT, task->place, NULL);
    for (size_t i = 0; i < out->n_zeros; i++) {
        const jaw_zero_entry *e = &w->sv->setup->zeros[i];
        mismatch m = {w, f, i, &out->zeros[i]};
        /* what is predicted was not held against side one */
        if (out->zeros[i].status == JAW_OK &&
            (e->station == NULL || e->term[JAW_X].feature != NULL))
            say_zero(&m, task);
    }
}
