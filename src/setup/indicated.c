/* SPDX-License-Identifier: GPL-3.0-or-later */
/* indicated.c: what an indicator said of the machine itself: how the head leans
 * (tram), and how square two axes are (square), with what to do about it. */
#include "worth.h"

#include <math.h>
#include <stdlib.h>

/* The readings of a task in two columns; at is NULL without memory. */
typedef struct columns {
    double *at, *value, *resid;
    const jaw_reading *row;
    size_t n, first; /* how many stand before the lone / */
} columns;

static columns take_columns(jaw__solver *sv, const jaw_task *task)
{
    size_t i = (size_t)(task - sv->setup->tasks);
    const jaw__readings *own = &sv->setup->task_readings[i];
    columns c = {.n = own->n};

    c.resid = sv->out->task_resid + own->first;
    c.row = jaw__readings_at(sv->setup, own->first);
    c.at = malloc((2 * own->n + 1) * sizeof *c.at);
    if (c.at == NULL) {
        sv->no_memory = true;
        return c;
    }
    c.value = c.at + own->n;
    c.n = 0;
    for (size_t k = 0; k < own->n; k++) {
        c.resid[k] = (double)NAN;
        if (c.row[k].aside)
            continue;
        c.at[c.n] = c.row[k].at;
        c.value[c.n++] = c.row[k].value;
        c.first += c.row[k].second ? 0 : 1;
    }
    return c;
}

/* Residuals came without those set aside; each goes to its own row. */
static void spread_resid(const columns *c, size_t n)
{
    size_t from = c->n;

    for (size_t k = n; k-- > 0;)
        c->resid[k] = c->row[k].aside ? (double)NAN : c->resid[--from];
}

static void tell_status(jaw__solver *sv, const jaw_task *task, size_t n,
                        int least, jaw_status status)
{
    const char *word = jaw_task_word(task->kind);

    if (status == JAW_EFEW)
        jaw__tell(sv, SAY_READINGS_FEW, task->place, NULL, word, task->name,
                  least, n);
    else if (status == JAW_ERANK)
        jaw__tell(sv, SAY_READINGS_RANK, task->place, NULL, word, task->name);
    else if (status == JAW_ENOMEM)
        sv->no_memory = true;
    else if (status != JAW_OK)
        jaw__tell(sv, SAY_READINGS_ODD, task->place, NULL, word, task->name);
}

static void tell_flags(jaw__solver *sv, const jaw_task *task, unsigned flags,
                       double repeat)
{
    const char *word = jaw_task_word(task->kind);

    if (flags & JAW_RESIDUAL)
        jaw__tell(sv, SAY_READINGS_SCATTER, task->place, NULL, word,
                  task->name, jaw__fine_text(sv, repeat).s);
    if (flags & JAW_WEAK)
        jaw__tell(sv, SAY_READINGS_CROWD, task->place, NULL, word, task->name);
}

/* ------------------------------------------------------------------- tram */

/* What is smaller than its own interval is not worth a wrench. */
static void advise_head(jaw__solver *sv, jaw_finding *f,
                        const jaw_swung_head *h)
{
    static const char *const to[2][2] = {{"X-", "X+"}, {"Y-", "Y+"}};
    bool any = false;

    for (int a = 0; a < 2; a++) {
        if (!(fabs(h->tilt[a].value) > h->tilt[a].half95))
            continue;
        any = true;
        jaw__advise(sv, f, "tilt the head so that its top goes %s toward %s, "
                    "then swing it again",
                    jaw__angle_text(fabs(h->tilt[a].value)).s,
                    to[a][h->tilt[a].value < 0]);
    }
    if (!any && !isnan(h->tilt[0].half95))
        jaw__advise(sv, f, "no lean can be told from these readings: leave the "
                    "head as it is");
}

/* More than a head is off that somebody set by eye: common practice, no
 * source. */
#define MUCH_LEAN (1 * M_PI / 180)

static void tell_lean(jaw__solver *sv, const jaw_task *task, double lean)
{
    if (lean > MUCH_LEAN)
        jaw__tell(sv, SAY_LEAN, task->place, NULL, task->name,
                  jaw__angle_text(lean).s);
}

static void say_head(jaw__solver *sv, jaw_finding *f, const jaw_tram_task *t,
                     const jaw_swung_head *h)
{
    const double nan = (double)NAN;
    static const char axis[2] = {'X', 'Y'};

    for (int a = 0; a < 2; a++)
        jaw__item(sv, f, h->tilt[a].value, JAW_ANGLE, h->tilt[a].half95,
                  "leans towards %c+, going up", axis[a]);
    for (int a = 0; a < 2; a++)
        jaw__item(sv, f, h->rise[a], JAW_LENGTH, nan, "%c+ reads above %c-",
                  axis[a], axis[a]);
    if (!isnan(t->cutter)) {
        for (int a = 0; a < 2; a++)
            jaw__item(sv, f, fabs(h->over_cutter[a]), JAW_LENGTH, nan,
                      "step between passes along %c", axis[1 - a]);
        jaw__item(sv, f, h->dish, JAW_LENGTH, nan,
                  "hollow of a pass along the lean");
    }
    for (int a = 0; a < 2 && !isnan(t->base); a++)
        jaw__item(sv, f, h->shim[a], JAW_LENGTH, nan,
                  "shim under the %c+ end", axis[a]);
}

void jaw__find_tram(jaw__worth *w, const jaw_task *task, jaw_finding *f)
{
    const jaw_tram_task *t = &task->as.tram;
    columns c = take_columns(w->sv, task);
    jaw_swung_head h;

    if (c.at == NULL)
        return;
    f->status = jaw_align_head(c.at, c.value, c.n, t->radius, t->cutter,
                               t->base, t->repeat, &h, c.resid);
    free(c.at);
    tell_status(w->sv, task, c.n, 3, f->status);
    if (f->status != JAW_OK)
        return;
    spread_resid(&c, f->n);
    f->rms = h.rms;
    f->dof = h.dof;
    f->flags = h.flags;
    tell_flags(w->sv, task, h.flags, t->repeat);
    tell_lean(w->sv, task, hypot(h.tilt[0].value, h.tilt[1].value));
    say_head(w->sv, f, t, &h);
    advise_head(w->sv, f, &h);
}

/* ----------------------------------------------------------------- runout */

/* Where the readings scatter more than they repeat, their scatter counts. */
static jaw_status find_runout(const jaw_runout_task *t, const columns *c,
                              double towards, jaw_sense sense,
                              jaw_rotary_runout *r)
{
    jaw_status status = jaw_rotary_find_runout(c->at, c->value, c->n, towards,
                                               sense, t->repeat, r, c->resid);

    if (status == JAW_OK && (r->flags & JAW_RESIDUAL)) {
        (void)jaw_rotary_find_runout(c->at, c->value, c->n, towards, sense,
                                     (double)NAN, r, c->resid);
        r->flags |= JAW_RESIDUAL;
    }
    return status;
}

jaw_status jaw__runout_of(jaw__solver *sv, const jaw_task *task, double towards,
                          jaw_sense sense, jaw_rotary_runout *found)
{
    columns c = take_columns(sv, task);

    if (c.at == NULL)
        return JAW_ENOMEM;
    jaw_status status = find_runout(&task->as.runout, &c, towards, sense,
                                    found);
    free(c.at);
    return status;
}

void jaw__judge_runouts(jaw__solver *sv)
{
    const jaw_setup *setup = sv->setup;
    jaw_rotary_runout r;

    for (size_t i = 0; i < setup->n_tasks && !sv->no_memory; i++) {
        const jaw_task *task = &setup->tasks[i];
        if (task->kind != JAW_TASK_RUNOUT)
            continue;
        size_t n = 0;
        for (size_t k = 0; k < setup->task_readings[i].n; k++)
            n += !setup->readings[setup->task_readings[i].first + k].aside;
        tell_status(sv, task, n, 3,
                    jaw__runout_of(sv, task, 0, JAW_SENSE_RIGHT, &r));
    }
}

/* The angles are the table's own, so the sense does not matter here. */
void jaw__find_runout(jaw__worth *w, const jaw_task *task, jaw_finding *f)
{
    columns c = take_columns(w->sv, task);
    jaw_rotary_runout r;

    if (c.at == NULL)
        return;
    f->status = find_runout(&task->as.runout, &c, 0, JAW_SENSE_RIGHT, &r);
    free(c.at);
    if (f->status != JAW_OK) /* which was said: jaw__judge_runouts */
        return;
    spread_resid(&c, f->n);
    f->rms = r.rms;
    f->dof = r.dof;
    f->flags = r.flags;
    tell_flags(w->sv, task, r.flags, task->as.runout.repeat);
    jaw__item(w->sv, f, r.full.value, JAW_LENGTH, r.full.half95,
              "runout, what the hand moves in a turn");
    jaw__item(w->sv, f, r.high, JAW_ANGLE, (double)NAN,
              "high spot at the indicator, table at");
    if (r.full.value > r.full.half95)
        jaw__advise(w->sv, f, "to centre the bar, turn the table to %s and tap "
                    "the bar %s away from the indicator",
                    jaw__angle_text(r.high).s,
                    jaw__fine_text(w->sv, r.full.value / 2).s);
}

/* ----------------------------------------------------------------- square */

static jaw_status sweep_arms(const jaw_square_task *t, const columns *c,
                             jaw_swept_wall arm[2])
{
    size_t from[] = {0, c->first}, n[] = {c->first, c->n - c->first};
    jaw_status status = JAW_OK;

    for (int k = 0; k < 2 && status == JAW_OK; k++)
        status = jaw_align_wall(c->at + from[k], c->value + from[k], n[k],
                                t->faces[k], t->repeat, &arm[k],
                                c->resid + from[k]);
    return status;
}

static double both_rms(const jaw_swept_wall arm[2], const columns *c)
{
    double a = (double)c->first, b = (double)(c->n - c->first);

    return sqrt((a * arm[0].rms * arm[0].rms + b * arm[1].rms * arm[1].rms) /
                (a + b));
}

void jaw__find_square(jaw__worth *w, const jaw_task *task, jaw_finding *f)
{
    const jaw_square_task *t = &task->as.square;
    columns c = take_columns(w->sv, task);
    jaw_swept_wall arm[2];
    jaw_reversed_square found;

    if (c.at == NULL)
        return;
    f->status = sweep_arms(t, &c, arm);
    free(c.at);
    if (f->status == JAW_OK)
        f->status = jaw_align_square(arm, NULL, t->over, &found);
    tell_status(w->sv, task, c.n, 4, f->status);
    if (f->status != JAW_OK)
        return;
    spread_resid(&c, f->n);
    f->rms = both_rms(arm, &c);
    f->dof = arm[0].dof + arm[1].dof;
    f->flags = found.flags;
    tell_flags(w->sv, task, found.flags, t->repeat);
    jaw__tell(w->sv, SAY_ARM_TRUE, task->place, NULL, task->name);
    jaw__item(w->sv, f, found.machine.value, JAW_ANGLE, found.machine.half95,
              "angle between the axes, less 90");
    jaw__item(w->sv, f, found.square.value, JAW_ANGLE, found.square.half95,
              "the square's own angle, less 90");
    if (!isnan(t->over))
        jaw__item(w->sv, f, found.over, JAW_LENGTH, (double)NAN,
                  "the axes, over %s", jaw__length_text(w->sv, t->over).s);
}
