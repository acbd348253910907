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
    return jaw__readings_at(sv->setup, t->place[k].first);
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
    size_t n = t->place[0].n + t->place[1].n, named = 0, bars = 0, used = 0;

    for (size_t i = 0; i < n; i++) {
        if (r[i].aside)
            continue;
        used++;
        named += r[i].feature != NULL;
        bars += r[i].feature != NULL && jaw__is_bar(sv, &r[i]);
        if (r[i].feature && !jaw__check_across(sv, t, &r[i]))
            fail(t, JAW_EUNKNOWN);
        size_t from = i > JAW__SAME_AMONG ? i - JAW__SAME_AMONG : 0;
        for (size_t j = from; j < i; j++)
            if (!r[j].aside && same_seen(&r[i], &r[j])) {
                jaw__tell(sv, SAY_ROTARY_TWICE, r[i].place, NULL, task->name,
                          j + 1);
                break;
            }
    }
    t->named = named > 0;
    t->bars = bars > 0;
    if ((named == 0 || named == used) && (bars == 0 || bars == used))
        return;
    jaw__tell(sv, SAY_ROTARY_MIXED, task->place, NULL, task->name,
              named == used ? "bars and other features"
                            : "features and places");
    fail(t, JAW_ECONFLICT);
}

static void check_tip(jaw__solver *sv, jaw__table *t, const jaw_task *task)
{
    const jaw_rotary_task *r = &task->as.rotary;
    long tip = jaw__find_tip(sv->setup, r->tip);

    t->tip = JAW_NO_BLOCK;
    if (r->tip == NULL || r->about == JAW_Z)
        return;
    if (t->named) {
        jaw__tell(sv, SAY_ROTARY_OWN_TIP, r->tip_place, NULL, task->name);
        fail(t, JAW_ECONFLICT);
        return;
    }
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

    t->apart = task->as.rotary.apart;
    if (t->bars && (stated || two)) {
        jaw__tell(sv, SAY_ROTARY_BARS, task->place, NULL, task->name);
        fail(t, JAW_ECONFLICT);
    }
    if (t->bars || stated == two)
        return;
    jaw__tell(sv, two ? SAY_ROTARY_APART : SAY_ROTARY_ONE_PLACE, task->place,
              NULL, task->name);
    fail(t, JAW_EUNKNOWN);
}

/* ---------------------------------------------------------------- one place */

typedef struct seen {
    double *angle; /* NULL: out of memory */
    jaw_vec2 *p, *resid;
    jaw_rotary_slip *slip;
    double repeat;
} seen;

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
            s->p[n++] = jaw__seen_across(sv, t, &r[i], k);
            continue;
        }
        s->p[n] = plane_of(rotary, (jaw_vec2){r[i].value, r[i].other});
        *(rotary->about == JAW_Y ? &s->p[n].x : &s->p[n].y) += z;
        n++;
    }
    s->repeat = rotary->repeat;
    if (t->named && isnan(s->repeat))
        s->repeat = jaw__across_repeat(sv, t, r, k);
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

/* `named`: of what scatters one was named already. */
static void tell_flags(jaw__solver *sv, const jaw_task *task, unsigned flags,
                       double repeat, bool named)
{
    if (flags & JAW_WEAK)
        jaw__tell(sv, SAY_ROTARY_CROWD, task->place, NULL, task->name);
    if ((flags & JAW_RESIDUAL) && !named)
        jaw__tell(sv, SAY_ROTARY_SCATTER, task->place, NULL, task->name,
                  jaw__fine_text(sv, repeat).s);
}

/* Of two whose tests agree to this nobody can tell which is off. */
#define ALIKE 0.999

/* The one that is off most; NULL when none stands out. */
static const jaw_rotary_slip *worst_of(const jaw_rotary_slip slip[], size_t n)
{
    const jaw_rotary_slip *worst = NULL;

    for (size_t i = 0; i < n; i++)
        if (slip[i].standard > slip[i].limit &&
            (worst == NULL || slip[i].standard > worst->standard))
            worst = &slip[i];
    for (size_t i = 0; worst != NULL && i < n; i++)
        if (&slip[i] != worst && slip[i].standard > ALIKE * worst->standard)
            return NULL;
    return worst;
}

const jaw_reading *jaw__used_reading(const jaw_reading *r, size_t i)
{
    for (;; r++)
        if (!r->aside && i-- == 0)
            return r;
}

/* Returned: whether one was named. */
static bool judge_slips(jaw__solver *sv, jaw__table *t, const jaw_task *task,
                        int k, const seen *s)
{
    jaw__table_place *place = &t->place[k];
    const jaw_reading *r = readings_of(sv, t, k);
    size_t n = place->used;

    if (jaw_rotary_slips(s->angle, s->resid, n, &place->r, s->repeat,
                         s->slip) != JAW_OK)
        return false;
    for (size_t i = 0; i < n; i++)
        if (s->slip[i].moves > place->reach) {
            place->reach = s->slip[i].moves;
            place->whose = jaw__used_reading(r, i)->place;
        }
    const jaw_rotary_slip *worst = worst_of(s->slip, n);
    if (worst == NULL)
        return false;
    size_t at = (size_t)(worst - s->slip);
    double off = hypot(s->resid[at].x, s->resid[at].y) / worst->redundancy;
    place->off = jaw__used_reading(r, at);
    if (!t->bars || k == 0 || t->place[0].off != place->off)
        jaw__tell(sv, SAY_ROTARY_SLIP, place->off->place, NULL, task->name,
                  jaw__fine_text(sv, off).s);
    return true;
}

/* Of a bar the farther of its two. */
static void keep_resid(jaw__solver *sv, const jaw__table *t, int k,
                       const seen *s)
{
    const jaw__table_place *place = &t->place[k];
    double *resid = sv->out->task_resid + place->first;
    size_t n = 0;

    for (size_t i = 0; i < place->n; i++)
        if (!readings_of(sv, t, k)[i].aside) {
            double off = hypot(s->resid[n].x, s->resid[n].y);
            resid[i] = t->bars && k == 1 ? fmax(resid[i], off) : off;
            n++;
        }
}

/* Where the places scatter more than they repeat, their scatter counts. */
static void solve_seen(jaw__solver *sv, jaw__table *t, const jaw_task *task,
                       int k, const seen *s)
{
    jaw__table_place *place = &t->place[k];
    jaw_sense sense = k == 0 ? task->as.rotary.sense : t->place[0].r.sense;

    t->status = jaw_rotary_centre(s->angle, s->p, place->used, sense, s->repeat,
                                  &place->r, s->resid);
    if (t->status != JAW_OK) {
        tell_unsolved(sv, t, task, s, place->used, sense);
        return;
    }
    unsigned flags = place->r.flags;
    bool named = judge_slips(sv, t, task, k, s);
    /* both places of bars are of the same readings: nothing is said twice */
    unsigned said = t->bars && k == 1 ? t->place[0].r.flags : 0;
    tell_flags(sv, task, flags & ~said, s->repeat, named);
    place->formed =
        t->named && sv->joint->solved && !(flags & JAW_RESIDUAL);
    if (flags & JAW_RESIDUAL)
        (void)jaw_rotary_centre(s->angle, s->p, place->used, place->r.sense,
                                (double)NAN, &place->r, s->resid);
    place->r.flags |= flags;
    for (int i = 0; i < 3; i++)
        place->beside[i] = place->formed ? 0 : place->r.cov[i];
    keep_resid(sv, t, k, s);
}

static void solve_place(jaw__solver *sv, jaw__table *t, const jaw_task *task,
                        int k)
{
    size_t n = t->place[k].n;
    seen s = {.angle = malloc((n + 1) * sizeof *s.angle),
              .p = malloc((n + 1) * sizeof *s.p),
              .resid = malloc((n + 1) * sizeof *s.resid),
              .slip = malloc((n + 1) * sizeof *s.slip)};

    if (s.angle && s.p && s.resid && s.slip) {
        take_seen(sv, t, task, k, &s);
        if (t->runouts > 0)
            jaw__centre_by_runout(sv, t, k, s.p[0], s.angle[0]);
        else
            solve_seen(sv, t, task, k, &s);
    } else {
        sv->no_memory = true;
    }
    free(s.angle);
    free(s.p);
    free(s.resid);
    free(s.slip);
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
    if (t->status == JAW_OK && !jaw__check_runouts(sv, t))
        fail(t, JAW_ECONFLICT);
    if (t->bars && t->status == JAW_OK) {
        if (t->runouts == 0)
            jaw__place_bars(sv, t, readings_of(sv, t, 0));
        if (t->runouts != 1)
            t->place[1] = t->place[0];
    }
    for (int k = 0; k < 2 && t->status == JAW_OK && !sv->no_memory; k++)
        if (k == 0 || t->place[1].n > 0)
            solve_place(sv, t, task, k);
}

void jaw__solve_tables(jaw__solver *sv)
{
    jaw__judge_runouts(sv);
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

/* The coordinate of the plane that is machine Z; -1 about Z. */
static int upward(const jaw__table *t)
{
    jaw_axis about = t->task->as.rotary.about;

    return about == JAW_X ? 1 : about == JAW_Y ? 0 : -1;
}

/* by: of both coordinates.  Of places that scatter more than their touches
 * repeat only the tips' lengths are of the adjustment. */
static void put_place(jaw__worth *w, const jaw__table *t, int k,
                      const jaw_reading *r, jaw_vec2 by)
{
    if (t->place[k].formed) {
        jaw__put_across(w, t, r, k, 0, by.x);
        jaw__put_across(w, t, r, k, 1, by.y);
    } else if (!(t->bars && k == 1)) {
        jaw__put_across_tip(w, t, r, upward(t) == 0 ? by.x : by.y);
    }
}

/* The one place that is there, less a runout that is beside the adjustment. */
static void put_only(jaw__worth *w, const jaw__table *t, int k, int coordinate,
                     double c)
{
    put_place(w, t, k, jaw__used_reading(readings_of(w->sv, t, k), 0),
              coordinate == 0 ? (jaw_vec2){c, 0} : (jaw_vec2){0, c});
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
        put_place(w, t, k, &r[i], coordinate == 0
                                      ? (jaw_vec2){c * by.x, -c * by.y}
                                      : (jaw_vec2){c * by.y, c * by.x});
    }
}

void jaw__put_centre(jaw__worth *w, const jaw__table *t, int k, int coordinate,
                     double c)
{
    if (w->f == NULL || c == 0)
        return;
    if (t->named && t->runouts > 0)
        put_only(w, t, k, coordinate, c);
    else if (t->named)
        put_places(w, t, k, coordinate, c);
    if (t->tip != JAW_NO_BLOCK && coordinate == upward(t))
        jaw__put_node(w, t->tip, c);
}

double jaw__centre_beside(const jaw__table *t, int k, const double by[2])
{
    const double *v = t->place[k].beside;

    double variance = by[0] * by[0] * v[0] + 2 * by[0] * by[1] * v[1] +
                      by[1] * by[1] * v[2];

    return sqrt(variance < 0 ? 0 : variance); /* rounding; NaN stays */
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
    return letter[jaw__plane_axis(t, coordinate)];
}

/* One coordinate of the plane alone. */
static const double along[2][2] = {{1, 0}, {0, 1}};

static void say_centre(jaw__worth *w, jaw_finding *f, const jaw__table *t,
                       int coordinate)
{
    const jaw_rotary *r = &t->place[0].r;

    jaw__form_start(w);
    jaw__put_centre(w, t, 0, coordinate, 1);
    jaw__item(w->sv, f, coordinate == 0 ? r->centre.x : r->centre.y, JAW_LENGTH,
              half95(w, jaw__centre_beside(t, 0, along[coordinate]),
                     r->dof_of),
              "centre line, machine %c", axis_of(t, coordinate));
}

static void say_tilt(jaw__worth *w, jaw_finding *f, const jaw__table *t,
                     const jaw_figure tilt[2], int coordinate, bool *leans)
{
    double slope = tan(tilt[coordinate].value);
    double each = 1 / t->apart / (1 + slope * slope);
    double from = t->bars ? 0 : each; /* a bar has it from itself */
    double u[2] = {from * jaw__centre_beside(t, 0, along[coordinate]),
                   each * jaw__centre_beside(t, 1, along[coordinate])};
    double dof[2] = {t->place[0].r.dof_of, t->place[1].r.dof_of};

    jaw__form_start(w);
    jaw__put_centre(w, t, 0, coordinate, -from);
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
    jaw_rotary place[2] = {t->place[0].r, t->place[1].r};
    jaw_figure tilt[2];
    bool leans = false;

    if (t->place[1].n == 0)
        return;
    if (t->bars)
        place[0].centre = (jaw_vec2){0, 0};
    f->status = jaw_rotary_tilt(place, t->apart, tilt);
    for (int k = 0; k < 2; k++)
        say_tilt(w, f, t, tilt, k, &leans);
    if (leans && t->bars)
        jaw__advise(w->sv, f, "align the table; until then the centre line "
                    "holds at %c %s only",
                    letter[t->task->as.rotary.about],
                    jaw__length_text(w->sv, t->station).s);
    else if (leans)
        jaw__advise(w->sv, f, "align the table; until then the centre line "
                    "holds at the first place only");
}

/* What an indicator that stands still shows of a bar is twice what its axis
 * lies off the table's. */
static void say_arm(jaw__solver *sv, jaw_finding *f, const jaw__table *t)
{
    const jaw_rotary *r = &t->place[0].r, *over = &t->place[1].r;
    double arm = hypot(r->arm.x, r->arm.y);

    if (!t->bars) {
        jaw__item(sv, f, arm, JAW_LENGTH, (double)NAN,
                  "radius to the feature");
        return;
    }
    jaw__item(sv, f, t->station, JAW_LENGTH, (double)NAN, "seen at machine %c",
              letter[t->task->as.rotary.about]);
    jaw__item(sv, f, 2 * arm, JAW_LENGTH, (double)NAN,
              "runout of the bar there");
    if (t->place[1].n > 0)
        jaw__item(sv, f, atan(hypot(over->arm.x, over->arm.y) / fabs(t->apart)),
                  JAW_ANGLE, (double)NAN, "the bar leans in the table");
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
    say_arm(w->sv, f, t);
    if (r->dof > 0)
        jaw__item(w->sv, f, r->other_rms, JAW_LENGTH, (double)NAN,
                  "rms if it counted the other way");
    say_lean(w, f, t);
    say_sense(w->sv, f, t);
}
