/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rotary.c: the centre line of a rotary table from one feature at several
 * angles, which way the table counts, and how its axis leans.  The centre is
 * linear in the places (rotary.h), so where they are centres of features its
 * uncertainty is that of a linear form of the adjustment: what the features
 * share, a tip's diameter say, is shared there too. */
#include "worth.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char letter[] = {'X', 'Y', 'Z'};

static const jaw_reading *readings_of(const jaw__solver *sv,
                                      const jaw__table *t, int k)
{
    return sv->setup->readings + t->place[k].first;
}

/* The letters run y z, z x, x y in the plane; a person writes x before z. */
static jaw_vec2 plane_of(const jaw_rotary_task *r, jaw_vec2 typed)
{
    return r->about == JAW_Y ? (jaw_vec2){typed.y, typed.x} : typed;
}

static void fail(jaw__table *t, jaw_status status)
{
    if (t->status == JAW_OK)
        t->status = status;
}

/* ------------------------------------------------------------ what was seen */

static bool is_round(const jaw_found *f)
{
    return f->kind == JAW_BORE || f->kind == JAW_BOSS;
}

static void check_feature(jaw__solver *sv, jaw__table *t, const jaw_task *task,
                          const jaw_reading *r)
{
    long f = jaw__find_feature(sv->setup, r->feature);

    if (f == JAW__NOWHERE)
        jaw__tell(sv, SAY_FEATURE_UNKNOWN, r->place,
                  jaw__feature_hint(sv->setup, r->feature).s, r->feature);
    else if (!is_round(&sv->out->features[f]))
        jaw__tell(sv, SAY_ROTARY_UNROUND, r->place, NULL, r->feature);
    else if (task->as.rotary.about != JAW_Z)
        jaw__tell(sv, SAY_ROTARY_UPRIGHT, r->place, NULL, r->feature);
    else if (sv->out->features[f].status != JAW_OK)
        jaw__tell(sv, SAY_ROTARY_UNSOLVED, r->place, r->feature, r->feature,
                  task->name);
    else
        return;
    fail(t, JAW_EUNKNOWN);
}

static bool same_seen(const jaw_reading *a, const jaw_reading *b)
{
    if (a->second != b->second || !a->feature != !b->feature)
        return false;
    return a->feature ? strcmp(a->feature, b->feature) == 0
                      : a->at == b->at && a->value == b->value &&
                            a->other == b->other;
}

static void check_rows(jaw__solver *sv, jaw__table *t, const jaw_task *task)
{
    const jaw_reading *r = readings_of(sv, t, 0);
    size_t n = t->place[0].n + t->place[1].n, named = 0, used = 0;

    for (size_t i = 0; i < n; i++) {
        if (r[i].aside)
            continue;
        used++;
        named += r[i].feature != NULL;
        if (r[i].feature)
            check_feature(sv, t, task, &r[i]);
        size_t from = i > JAW__SAME_AMONG ? i - JAW__SAME_AMONG : 0;
        for (size_t j = from; j < i; j++)
            if (!r[j].aside && same_seen(&r[i], &r[j])) {
                jaw__tell(sv, SAY_ROTARY_TWICE, r[i].place, NULL, task->name,
                          j + 1);
                break;
            }
    }
    t->named = named > 0;
    if (named == 0 || named == used)
        return;
    jaw__tell(sv, SAY_ROTARY_MIXED, task->place, NULL, task->name);
    fail(t, JAW_ECONFLICT);
}

static void check_tip(jaw__solver *sv, jaw__table *t, const jaw_task *task)
{
    const jaw_rotary_task *r = &task->as.rotary;
    long tip = jaw__find_tip(sv->setup, r->tip);

    t->tip = JAW_NO_BLOCK;
    if (r->tip == NULL || r->about == JAW_Z)
        return;
    if (tip == JAW__NOWHERE) {
        jaw__tell(sv, SAY_TIP_UNKNOWN, r->tip_place,
                  jaw__tip_hint(sv->setup, r->tip).s, r->tip);
        fail(t, JAW_EUNKNOWN);
        return;
    }
    t->tip = jaw__tip_node(sv, (size_t)tip);
    if (sv->nodes[t->tip].grounded)
        return;
    jaw__tell(sv, SAY_ROTARY_TIP, r->tip_place, NULL, r->tip, task->name);
    fail(t, JAW_EUNKNOWN);
}

static void check_apart(jaw__solver *sv, jaw__table *t, const jaw_task *task)
{
    bool stated = fabs(task->as.rotary.apart) > 0, two = t->place[1].n > 0;

    if (stated == two)
        return;
    jaw__tell(sv, two ? SAY_ROTARY_APART : SAY_ROTARY_ONE_PLACE, task->place,
              NULL, task->name);
    fail(t, JAW_EUNKNOWN);
}

/* ---------------------------------------------------------------- one place */

typedef struct seen {
    double *angle; /* NULL: out of memory */
    jaw_vec2 *p, *resid;
    double repeat;
} seen;

/* What a centre of a feature repeats to, its touches all the way round: the
 * root of 2 / n of one touch.  It judges the fit; what the centre is worth comes
 * from the adjustment. */
static double centre_repeat(const jaw__solver *sv, const jaw_reading *r,
                            const jaw__table_place *place)
{
    double sum = 0;

    for (size_t i = 0; i < place->n; i++) {
        if (r[i].aside)
            continue;
        long f = jaw__find_feature(sv->setup, r[i].feature);
        const jaw_found *found = &sv->out->features[f];
        sum += 2 * found->repeat * found->repeat / (double)found->n;
    }
    return sqrt(sum / (double)place->used);
}

static void take_seen(jaw__solver *sv, const jaw__table *t,
                      const jaw_task *task, int k, seen *s)
{
    const jaw_rotary_task *rotary = &task->as.rotary;
    const jaw_reading *r = readings_of(sv, t, k);
    size_t n = 0;
    double z = t->tip == JAW_NO_BLOCK ? 0 : sv->nodes[t->tip].value;

    for (size_t i = 0; i < t->place[k].n; i++) {
        if (r[i].aside)
            continue;
        s->angle[n] = r[i].at;
        if (r[i].feature) {
            long f = jaw__find_feature(sv->setup, r[i].feature);
            s->p[n++] = sv->out->features[f].as.round.centre;
            continue;
        }
        s->p[n] = plane_of(rotary, (jaw_vec2){r[i].value, r[i].other});
        *(rotary->about == JAW_Y ? &s->p[n].x : &s->p[n].y) += z;
        n++;
    }
    s->repeat = rotary->repeat;
    if (t->named && isnan(s->repeat))
        s->repeat = centre_repeat(sv, r, &t->place[k]);
}

/* A sense that is to be found needs angles that tell it; others may not. */
static void tell_rank(jaw__solver *sv, const jaw_task *task, const seen *s,
                      size_t n)
{
    jaw_rotary r;

    if (jaw_rotary_centre(s->angle, s->p, n, JAW_SENSE_RIGHT, (double)NAN, &r,
                          NULL) == JAW_ERANK)
        jaw__tell(sv, SAY_ROTARY_ANGLES, task->place, NULL, task->name);
    else
        jaw__tell(sv, SAY_ROTARY_SENSE_OPEN, task->place, NULL, task->name);
}

static void tell_unsolved(jaw__solver *sv, const jaw__table *t,
                          const jaw_task *task, const seen *s, size_t n,
                          jaw_sense sense)
{
    const jaw_rotary_task *r = &task->as.rotary;

    if (t->status == JAW_EFEW)
        jaw__tell(sv, SAY_ROTARY_FEW, task->place, NULL, task->name,
                  sense == JAW_SENSE_FIND ? 3 : 2, n);
    else if (t->status == JAW_ERANK)
        tell_rank(sv, task, s, n);
    else
        jaw__tell(sv, SAY_ROTARY_SENSE,
                  r->sense == JAW_SENSE_FIND ? task->place : r->sense_place,
                  NULL, task->name,
                  sense == JAW_SENSE_RIGHT ? "right" : "left");
}

static void tell_flags(jaw__solver *sv, const jaw_task *task, unsigned flags,
                       double repeat)
{
    if (flags & JAW_WEAK)
        jaw__tell(sv, SAY_ROTARY_CROWD, task->place, NULL, task->name);
    if (flags & JAW_RESIDUAL)
        jaw__tell(sv, SAY_ROTARY_SCATTER, task->place, NULL, task->name,
                  jaw__fine_text(sv, repeat).s);
}

/* Where the places scatter more than they repeat, their scatter counts. */
static void solve_seen(jaw__solver *sv, jaw__table *t, const jaw_task *task,
                       int k, const seen *s)
{
    jaw__table_place *place = &t->place[k];
    jaw_sense sense = k == 0 ? task->as.rotary.sense : t->place[0].r.sense;
    double *resid = sv->out->task_resid + place->first;

    t->status = jaw_rotary_centre(s->angle, s->p, place->used, sense, s->repeat,
                                  &place->r, s->resid);
    if (t->status != JAW_OK) {
        tell_unsolved(sv, t, task, s, place->used, sense);
        return;
    }
    unsigned flags = place->r.flags;
    tell_flags(sv, task, flags, s->repeat);
    place->formed = t->named && !(flags & JAW_RESIDUAL);
    if (flags & JAW_RESIDUAL)
        (void)jaw_rotary_centre(s->angle, s->p, place->used, place->r.sense,
                                (double)NAN, &place->r, s->resid);
    place->r.flags |= flags;
    size_t n = 0;
    for (size_t i = 0; i < place->n; i++)
        if (!readings_of(sv, t, k)[i].aside) {
            resid[i] = hypot(s->resid[n].x, s->resid[n].y);
            n++;
        }
}

static void solve_place(jaw__solver *sv, jaw__table *t, const jaw_task *task,
                        int k)
{
    size_t n = t->place[k].n;
    seen s = {.angle = malloc((n + 1) * sizeof *s.angle),
              .p = malloc((n + 1) * sizeof *s.p),
              .resid = malloc((n + 1) * sizeof *s.resid)};

    if (s.angle && s.p && s.resid) {
        take_seen(sv, t, task, k, &s);
        solve_seen(sv, t, task, k, &s);
    } else {
        sv->no_memory = true;
    }
    free(s.angle);
    free(s.p);
    free(s.resid);
}

static void solve_table(jaw__solver *sv, const jaw_task *task, jaw__table *t)
{
    const jaw__readings *own = 
        &sv->setup->task_readings[jaw__task_number(sv->setup, task)];

    t->task = task;
    t->place[0] = (jaw__table_place){.first = own->first};
    for (size_t i = 0; i < own->n; i++) {
        const jaw_reading *r = &sv->setup->readings[own->first + i];
        sv->out->task_resid[own->first + i] = (double)NAN;
        t->place[r->second].n++;
        t->place[r->second].used += !r->aside;
    }
    t->place[1].first = own->first + t->place[0].n;
    check_rows(sv, t, task);
    check_tip(sv, t, task);
    check_apart(sv, t, task);
    for (int k = 0; k < 2 && t->status == JAW_OK && !sv->no_memory; k++)
        if (k == 0 || t->place[1].n > 0)
            solve_place(sv, t, task, k);
}

void jaw__solve_tables(jaw__solver *sv)
{
    for (size_t i = 0; i < sv->setup->n_tasks && !sv->no_memory; i++)
        if (sv->setup->tasks[i].kind == JAW_TASK_ROTARY)
            solve_table(sv, &sv->setup->tasks[i], &sv->tables[i]);
}

const jaw__table *jaw__table_of(const jaw__solver *sv, const char *name)
{
    const jaw_task *task = jaw__find_task(sv->setup, JAW_TASK_ROTARY, name);

    /* without memory none may have been looked at */
    return task == NULL || sv->no_memory
               ? NULL
               : &sv->tables[jaw__task_number(sv->setup, task)];
}

/* --------------------------------------------------------- what it is worth */

static jaw_vec2 times(jaw_vec2 a, jaw_vec2 b)
{
    return (jaw_vec2){a.x * b.x - a.y * b.y, a.x * b.y + a.y * b.x};
}

static jaw_vec2 turned(const jaw__table_place *place, const jaw_reading *r)
{
    double a = (double)place->r.sense * r->at;

    return (jaw_vec2){cos(a), sin(a)};
}

/* With z_i the turns, z their mean and w_i = z_i - z: q = sum w_i* p_i / sum
 * |w|^2 and the centre is p - z q, so it moves with p_i by 1/n - z w_i* / sum
 * |w|^2, a complex number. */
static void put_places(jaw__worth *w, const jaw__table *t, int k,
                       int coordinate, double c)
{
    const jaw__table_place *place = &t->place[k];
    const jaw_reading *r = readings_of(w->sv, t, k);
    double n = (double)place->used, ss = 0;
    jaw_vec2 mean = {0, 0};

    for (size_t i = 0; i < place->n; i++) {
        if (r[i].aside)
            continue;
        jaw_vec2 z = turned(place, &r[i]);
        mean.x += z.x / n;
        mean.y += z.y / n;
    }
    for (size_t i = 0; i < place->n; i++) {
        if (r[i].aside)
            continue;
        jaw_vec2 z = turned(place, &r[i]);
        ss += (z.x - mean.x) * (z.x - mean.x) + (z.y - mean.y) * (z.y - mean.y);
    }
    for (size_t i = 0; i < place->n; i++) {
        if (r[i].aside)
            continue;
        jaw_vec2 z = turned(place, &r[i]);
        jaw_vec2 by = times(mean, (jaw_vec2){z.x - mean.x, mean.y - z.y});
        by = (jaw_vec2){1 / n - by.x / ss, -by.y / ss};
        const jaw__part *part =
            &w->j->parts[jaw__find_feature(w->sv->setup, r[i].feature)];
        jaw__put_local(w, part, 0, c * (coordinate == 0 ? by.x : by.y));
        jaw__put_local(w, part, 1, c * (coordinate == 0 ? -by.y : by.x));
    }
}

/* The coordinate of the plane that is machine Z; -1 about Z. */
static int upward(const jaw__table *t)
{
    jaw_axis about = t->task->as.rotary.about;

    return about == JAW_X ? 1 : about == JAW_Y ? 0 : -1;
}

void jaw__put_centre(jaw__worth *w, const jaw__table *t, int k, int coordinate,
                     double c)
{
    if (w->f == NULL || c == 0)
        return;
    if (t->place[k].formed)
        put_places(w, t, k, coordinate, c);
    if (t->tip != JAW_NO_BLOCK && coordinate == upward(t))
        jaw__put_node(w, t->tip, c);
}

double jaw__centre_beside(const jaw__table *t, int k)
{
    return t->place[k].formed ? 0 : sqrt(t->place[k].r.cov[0]);
}

/* What is put together so far, and beside it a spread of the readings. */
static double half95(jaw__worth *w, double beside, double dof)
{
    jaw_value_trust trust = jaw__weigh(w);

    if (w->f == NULL) /* nothing else is in it */
        return jaw_figure_make(0, beside, dof).half95;
    jaw__join(&trust, beside, dof);
    return trust.half95;
}

/* ------------------------------------------------------------------ finding */

static char axis_of(const jaw__table *t, int coordinate)
{
    return letter[((int)t->task->as.rotary.about + 1 + coordinate) % 3];
}

static void say_centre(jaw__worth *w, jaw_finding *f, const jaw__table *t,
                       int coordinate)
{
    const jaw_rotary *r = &t->place[0].r;

    jaw__form_start(w);
    jaw__put_centre(w, t, 0, coordinate, 1);
    jaw__item(w->sv, f, coordinate == 0 ? r->centre.x : r->centre.y, JAW_LENGTH,
              half95(w, jaw__centre_beside(t, 0), r->dof_of),
              "centre line, machine %c", axis_of(t, coordinate));
}

static void say_tilt(jaw__worth *w, jaw_finding *f, const jaw__table *t,
                     const jaw_figure tilt[2], int coordinate, bool *leans)
{
    double apart = t->task->as.rotary.apart;
    double slope = tan(tilt[coordinate].value);
    double each = 1 / apart / (1 + slope * slope);
    double u[2] = {each * jaw__centre_beside(t, 0),
                   each * jaw__centre_beside(t, 1)};
    double dof[2] = {t->place[0].r.dof_of, t->place[1].r.dof_of};

    jaw__form_start(w);
    jaw__put_centre(w, t, 0, coordinate, -each);
    jaw__put_centre(w, t, 1, coordinate, each);
    double spread = half95(w, hypot(u[0], u[1]),
                           jaw_trust_effective_dof(u, dof, 2));
    *leans |= fabs(tilt[coordinate].value) > spread;
    jaw__item(w->sv, f, tilt[coordinate].value, JAW_ANGLE, spread,
              "leans to %c+, going %c+", axis_of(t, coordinate),
              letter[t->task->as.rotary.about]);
}

static void say_lean(jaw__worth *w, jaw_finding *f, const jaw__table *t)
{
    const jaw_rotary place[2] = {t->place[0].r, t->place[1].r};
    jaw_figure tilt[2];
    bool leans = false;

    if (t->place[1].n == 0)
        return;
    f->status = jaw_rotary_tilt(place, t->task->as.rotary.apart, tilt);
    for (int k = 0; k < 2; k++)
        say_tilt(w, f, t, tilt, k, &leans);
    if (leans)
        jaw__advise(w->sv, f, "align the table; until then the centre line "
                    "holds at the first place only");
}

static void say_sense(jaw__solver *sv, jaw_finding *f, const jaw__table *t)
{
    bool right = t->place[0].r.sense == JAW_SENSE_RIGHT;

    jaw__advise(sv, f, "it counts by the %s hand, %s: seen from %c+ a larger "
                "angle turns the work %s",
                right ? "right" : "left",
                t->task->as.rotary.sense == JAW_SENSE_FIND ? "as was seen"
                                                           : "as stated",
                letter[t->task->as.rotary.about],
                right ? "counter-clockwise" : "clockwise");
}

/* Of both places. */
static void take_quality(jaw_finding *f, const jaw__table *t)
{
    double sum = 0, n = 0;

    for (int k = 0; k < 2; k++) {
        const jaw__table_place *place = &t->place[k];
        if (place->n == 0)
            continue;
        f->flags |= place->r.flags;
        f->dof += place->r.dof;
        if (place->r.dof < 1)
            continue;
        sum += (double)place->used * place->r.rms * place->r.rms;
        n += (double)place->used;
    }
    f->rms = n > 0 ? sqrt(sum / n) : (double)NAN;
}

void jaw__find_rotary(jaw__worth *w, const jaw_task *task, jaw_finding *f)
{
    const jaw__table *t = 
        &w->sv->tables[jaw__task_number(w->sv->setup, task)];
    const jaw_rotary *r = &t->place[0].r;

    f->status = t->status;
    if (f->status != JAW_OK)
        return;
    take_quality(f, t);
    for (int k = 0; k < 2; k++)
        say_centre(w, f, t, k);
    jaw__item(w->sv, f, hypot(r->arm.x, r->arm.y), JAW_LENGTH, (double)NAN,
              "radius to the feature");
    if (r->dof > 0)
        jaw__item(w->sv, f, r->other_rms, JAW_LENGTH, (double)NAN,
                  "rms if it counted the other way");
    say_lean(w, f, t);
    say_sense(w->sv, f, t);
}
