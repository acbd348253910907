/* SPDX-License-Identifier: GPL-3.0-or-later */
/* turned.c: a rotary table's centre from what it holds as found at one angle,
 * and an indicator's readings of the same while it turned
 * (jaw_rotary_find_runout): the centre is what was found less the runout,
 * turned.
 *
 * A bar's runout is read in one place or in two; between two it changes evenly,
 * as the axis of a straight bar does. */
#include "worth.h"

#include <math.h>

static const jaw_task *runout_task(const jaw__solver *sv, const jaw__table *t,
                                   int k)
{
    return jaw__find_task(sv->setup, JAW_TASK_RUNOUT,
                          t->task->as.rotary.runout[k]);
}

/* ---------------------------------------------------------------- checking */

/* Which coordinate of the plane an axis is; 2: it is none. */
static int coordinate_of(const jaw__table *t, jaw_axis axis)
{
    return ((int)axis - (int)t->task->as.rotary.about + 2) % 3;
}

static bool check_named(jaw__solver *sv, const jaw__table *t, int k)
{
    const jaw_rotary_task *r = &t->task->as.rotary;
    const jaw_task *task = runout_task(sv, t, k);

    if (task == NULL)
        jaw__tell(sv, SAY_RUNOUT_UNKNOWN, r->runout_place[k],
                  jaw__task_hint(sv->setup, JAW_TASK_RUNOUT, r->runout[k]).s,
                  r->runout[k]);
    else if (coordinate_of(t, task->as.runout.on) == 2)
        jaw__tell(sv, SAY_RUNOUT_ALONG, r->runout_place[k], NULL, task->name,
                  t->task->name);
    else
        return true;
    return false;
}

static void place_bar(const jaw__solver *sv, jaw__table *t)
{
    double at[2];

    for (int k = 0; k < t->runouts; k++)
        at[k] = runout_task(sv, t, k)->as.runout.at;
    t->station = t->runouts == 1 ? at[0] : (at[0] + at[1]) / 2;
    t->apart = t->runouts == 1 ? (double)NAN : at[1] - at[0];
}

/* One angle in each place, one runout for each, and a sense. */
static bool check_places(jaw__solver *sv, const jaw__table *t)
{
    const jaw_task *task = t->task;
    int places = t->place[1].n > 0 ? 2 : 1;

    for (int k = 0; k < places; k++)
        if (t->place[k].used != 1) {
            jaw__tell(sv, SAY_RUNOUT_ANGLES, task->as.rotary.runout_place[0],
                      NULL, task->name, t->place[k].used);
            return false;
        }
    if (!t->bars && places != t->runouts) {
        jaw__tell(sv, SAY_RUNOUT_PLACES, task->as.rotary.runout_place[0], NULL,
                  task->name, places, t->runouts);
        return false;
    }
    if (task->as.rotary.sense != JAW_SENSE_FIND)
        return true;
    jaw__tell(sv, SAY_ROTARY_SENSE_OPEN, task->place, NULL, task->name);
    return false;
}

bool jaw__check_runouts(jaw__solver *sv, jaw__table *t)
{
    const jaw_rotary_task *r = &t->task->as.rotary;
    bool good = true;

    for (int k = 0; k < 2; k++)
        if (r->runout[k] != NULL) {
            t->runouts++;
            good = check_named(sv, t, k) && good;
        }
    if (t->runouts == 0 || !good)
        return good;
    if (!check_places(sv, t))
        return false;
    if (!t->bars)
        return true;
    place_bar(sv, t);
    if (t->apart != 0)
        return true;
    jaw__tell(sv, SAY_RUNOUT_SAME, r->runout_place[1], NULL, t->task->name);
    return false;
}

/* ----------------------------------------------------------------- finding */

/* An arm, its covariance and the degrees of freedom of that. */
typedef struct arm {
    jaw_vec2 q;
    double cov[3], dof;
    unsigned flags;
} arm;

static bool find_arm(jaw__solver *sv, jaw__table *t, int k, arm *a)
{
    const jaw_task *task = runout_task(sv, t, k);
    double towards = coordinate_of(t, task->as.runout.on) * M_PI / 2 +
                     (task->as.runout.minus ? M_PI : 0);
    jaw_rotary_runout r;

    t->status = jaw__runout_of(sv, task, towards, t->task->as.rotary.sense, &r);
    if (t->status != JAW_OK) {
        jaw__tell(sv, SAY_ROTARY_UNSOLVED, t->task->as.rotary.runout_place[k],
                  task->name, task->name, t->task->name);
        return false;
    }
    *a = (arm){.q = r.arm, .dof = r.dof_of, .flags = r.flags};
    for (int i = 0; i < 3; i++)
        a->cov[i] = r.cov[i];
    return true;
}

/* by[0] times the first and by[1] times the second. */
static arm combined(const arm a[2], const double by[2])
{
    double u[2], dof[2] = {a[0].dof, a[1].dof};
    arm out = {.q = {by[0] * a[0].q.x + by[1] * a[1].q.x,
                     by[0] * a[0].q.y + by[1] * a[1].q.y},
               .flags = a[0].flags | a[1].flags};

    for (int i = 0; i < 3; i++)
        out.cov[i] = by[0] * by[0] * a[0].cov[i] + by[1] * by[1] * a[1].cov[i];
    for (int i = 0; i < 2; i++)
        u[i] = fabs(by[i]) * sqrt((a[i].cov[0] + a[i].cov[2]) / 2);
    out.dof = jaw_trust_effective_dof(u, dof, 2);
    return out;
}

/* Of a bar with two: halfway between them, or the difference. */
static bool arm_of(jaw__solver *sv, jaw__table *t, int k, arm *out)
{
    static const double by[2][2] = {{0.5, 0.5}, {-1, 1}};
    arm a[2];

    if (!t->bars || t->runouts == 1)
        return find_arm(sv, t, k, out);
    if (!find_arm(sv, t, 0, &a[0]) || !find_arm(sv, t, 1, &a[1]))
        return false;
    *out = combined(a, by[k]);
    return true;
}

/* R v R^T */
static void turn_cov(double angle, const double v[3], double out[3])
{
    double c = cos(angle), s = sin(angle);

    out[0] = c * c * v[0] - 2 * c * s * v[1] + s * s * v[2];
    out[1] = c * s * (v[0] - v[2]) + (c * c - s * s) * v[1];
    out[2] = s * s * v[0] + 2 * c * s * v[1] + c * c * v[2];
}

/* What a row of numbers repeats to is stated, or not known. */
static void spread_place(const jaw__solver *sv, const jaw__table *t,
                         jaw__table_place *place)
{
    double own = t->task->as.rotary.repeat;

    place->formed = t->named && sv->joint->solved;
    for (int i = 0; i < 3; i++) {
        if (!place->formed && i != 1)
            place->r.cov[i] += own * own;
        place->beside[i] = place->r.cov[i];
    }
}

void jaw__centre_by_runout(jaw__solver *sv, jaw__table *t, int k, jaw_vec2 p,
                           double angle)
{
    jaw__table_place *place = &t->place[k];
    double turn = (double)t->task->as.rotary.sense * angle;
    double c = cos(turn), s = sin(turn);
    arm a;

    if (!arm_of(sv, t, k, &a))
        return;
    place->r = (jaw_rotary){.centre = {p.x - (c * a.q.x - s * a.q.y),
                                       p.y - (s * a.q.x + c * a.q.y)},
                            .arm = a.q,
                            .dof_of = a.dof,
                            .sense = t->task->as.rotary.sense,
                            .rms = (double)NAN,
                            .other_rms = (double)NAN,
                            .flags = a.flags | JAW_NO_CHECK};
    turn_cov(turn, a.cov, place->r.cov);
    spread_place(sv, t, place);
    place->reach = (double)INFINITY;
    place->whose =
        jaw__used_reading(jaw__readings_at(sv->setup, place->first), 0)->place;
}
