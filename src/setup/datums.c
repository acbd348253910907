/* SPDX-License-Identifier: GPL-3.0-or-later */
/* datums.c: how a part lies by three datums in their order (ISO 5459), what of
 * that can not be entered on three axes, and what to put under the part.  The
 * touches are those of the features; their repeats make the covariance, and
 * what a tip's diameter and length are worth comes from the adjustment. */
#include "joint.h"
#include "worth.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *const rank[3] = {"primary", "secondary", "tertiary"};

static void fail(jaw__lie *l, jaw_status status)
{
    if (l->status == JAW_OK)
        l->status = status;
}

/* ------------------------------------------------------------ what is named */

static bool take_feature(jaw__solver *sv, jaw__lie *l, int k)
{
    const jaw_datums_task *d = &l->task->as.datums;
    const char *name = d->feature[k];
    long f = jaw__find_feature(sv->setup, name);

    if (f == JAW__NOWHERE)
        jaw__tell(sv, SAY_FEATURE_UNKNOWN, d->feature_place[k],
                  jaw__feature_hint(sv->setup, name).s, name);
    else if (sv->setup->features[f].kind != (k == 0 ? JAW_FACE : JAW_EDGE))
        jaw__tell(sv, SAY_DATUM_KIND, d->feature_place[k], NULL,
                  k == 0 ? "face" : "edge", name, rank[k]);
    else if (sv->out->features[f].status != JAW_OK)
        jaw__tell(sv, SAY_DATUM_UNSOLVED, d->feature_place[k], name, name,
                  l->task->name);
    else {
        l->feature[k] = (size_t)f;
        return true;
    }
    fail(l, JAW_EUNKNOWN);
    return false;
}

static bool take_touches(jaw__solver *sv, jaw__lie *l, int k)
{
    const jaw__share *share = &sv->setup->shares[l->feature[k]];
    const jaw_touch *t = sv->setup->touches + share->first_touch;
    const char *name = l->task->as.datums.feature[k];
    size_t least = (size_t)(3 - k);

    if (share->n_touches < least) {
        jaw__tell(sv, SAY_DATUM_FEW, l->task->as.datums.feature_place[k], NULL,
                  rank[k], name, least, share->n_touches);
        fail(l, JAW_EFEW);
        return false;
    }
    for (size_t i = 0; i < share->n_touches; i++)
        if (isnan(t[i].x) || isnan(t[i].y) || isnan(t[i].z)) {
            jaw__tell(sv, SAY_DATUM_Z,
                      sv->setup->touch_places[share->first_touch + i], NULL,
                      rank[k], name);
            fail(l, JAW_ENOTFINITE);
            return false;
        }
    return true;
}

static const jaw_feature_entry *entry_of(const jaw__solver *sv,
                                         const jaw__lie *l, int k)
{
    return &sv->setup->features[l->feature[k]];
}

static size_t tip_of(const jaw__solver *sv, const jaw__lie *l, int k)
{
    return (size_t)jaw__find_tip(sv->setup, entry_of(sv, l, k)->tip);
}

/* Heights are told by tips whose lengths are known against one another. */
static bool take_tips(jaw__solver *sv, jaw__lie *l)
{
    l->tip = jaw__tip_node(sv, tip_of(sv, l, 0));
    for (int k = 1; k < 3; k++) {
        size_t other = jaw__tip_node(sv, tip_of(sv, l, k));
        if (sv->nodes[other].chain == sv->nodes[l->tip].chain)
            continue;
        jaw__tell(sv, SAY_DATUM_TIPS, l->task->as.datums.feature_place[k],
                  NULL, entry_of(sv, l, k)->tip, entry_of(sv, l, 0)->tip);
        fail(l, JAW_EUNKNOWN);
        return false;
    }
    return true;
}

static bool take_sides(jaw__solver *sv, jaw__lie *l)
{
    jaw_vec2 a = jaw_side_normal(jaw__side_of(entry_of(sv, l, 1)));
    jaw_vec2 b = jaw_side_normal(jaw__side_of(entry_of(sv, l, 2)));

    if (fabs(a.x) + fabs(b.x) == 1) /* NaN when one has no side */
        return true;
    jaw__tell(sv, SAY_DATUM_SIDES, l->task->as.datums.feature_place[2], NULL,
              l->task->as.datums.feature[1], l->task->as.datums.feature[2]);
    fail(l, JAW_ESIDE);
    return false;
}

/* ------------------------------------------------------------- how it lies */

/* As tips without harmonics would have read them, z for a length of 0. */
static void gather(const jaw__solver *sv, const jaw__lie *l, int k,
                   jaw_touch *t)
{
    const jaw_feature_entry *e = entry_of(sv, l, k);
    const size_t f = l->feature[k];
    const jaw__share *share = &sv->setup->shares[f];
    double z = sv->nodes[jaw__tip_node(sv, tip_of(sv, l, k))].value;

    memcpy(t, sv->setup->touches + share->first_touch,
           share->n_touches * sizeof *t);
    if (k > 0 && jaw__has_harmonics(sv->setup, e)) {
        jaw__came came = jaw__came_of(sv, f);
        (void)jaw__meet(sv, f, &came, t);
    }
    for (size_t i = 0; i < share->n_touches; i++)
        t[i].z += z;
}

bool jaw__lie_gather(const jaw__solver *sv, const jaw__lie *l,
                     jaw__lie_touches *all)
{
    size_t room = 0;

    for (int k = 0; k < 3; k++) /* and for one more of each */
        room += sv->setup->shares[l->feature[k]].n_touches + 1;
    all->n = room - 3;
    all->t[0] = malloc(room * sizeof *all->t[0]);
    if (all->t[0] == NULL)
        return false;
    for (int k = 0; k < 3; k++) {
        const jaw_feature_entry *e = entry_of(sv, l, k);
        size_t n = sv->setup->shares[l->feature[k]].n_touches;
        gather(sv, l, k, all->t[k]);
        all->tip[k] = jaw__tip_now(sv, e);
        all->d[k] = (jaw_datum){all->t[k], n, &all->tip[k],
                                k == 0 ? JAW_SIDE_NONE : jaw__side_of(e),
                                jaw__repeat_at(sv->setup, e)};
        if (k < 2)
            all->t[k + 1] = all->t[k] + n + 1;
    }
    return true;
}

void jaw__lie_drop(jaw__lie_touches *all)
{
    free(all->t[0]);
}

static bool all_stated(const jaw__solver *sv, const jaw__lie *l)
{
    for (int k = 0; k < 3; k++)
        if (!sv->out->features[l->feature[k]].repeat_stated)
            return false;
    return true;
}

/* The scatter counts where a repeat is not stated, or is more than the repeats
 * explain: then it makes cov what it is, and how square the datums are is as
 * unsure.  With none to spare the default is all there is. */
static void take_spread(const jaw__solver *sv, jaw__lie *l)
{
    double ssr = 0, spare = 0;

    l->dof = (double)INFINITY;
    l->grown = 1;
    if (all_stated(sv, l) && !(l->a.flags & JAW_RESIDUAL))
        return;
    for (int k = 0; k < 3; k++) {
        ssr += l->a.dof[k] > 0 ? l->a.scatter[k] : 0;
        spare += l->a.dof[k];
    }
    if (!(ssr > 0))
        return;
    l->dof = spare;
    l->grown = sqrt(ssr / spare);
    for (int i = 0; i < 21; i++)
        l->a.cov[i] *= ssr / spare;
    for (int k = 0; k < 2; k++)
        l->a.between[k] = jaw_figure_make(l->a.between[k].value,
                                          l->a.between[k].u * l->grown,
                                          spare);
}

/* One that is off by itself is seen by its own test before it is by that of all;
 * how large a slip goes unseen (datum_touches.c) counts on that. */
static bool scatters(const jaw__lie *l, const jaw__lie_touches *all, int k,
                     const double resid[], const jaw_datum_share share[])
{
    if (l->a.dof[k] < 1)
        return false;
    for (size_t i = 0; i < all->d[k].n; i++)
        if (share[i].redundancy > JAW__FOLLOWS &&
            fabs(resid[i]) > JAW__DOUBTFUL * share[i].resid_u)
            return true;
    return l->a.scatter[k] > jaw_trust_chi2(JAW_TRUST_ALPHA, l->a.dof[k]);
}

static void tell_flags(jaw__solver *sv, const jaw__lie *l,
                       const jaw__lie_touches *all, const double resid[],
                       const jaw_datum_share share[])
{
    const jaw_datums_task *d = &l->task->as.datums;
    size_t first = 0;

    for (int k = 0; k < 3; k++) {
        if (scatters(l, all, k, resid + first, share + first))
            jaw__tell(sv, SAY_DATUM_SCATTER, d->feature_place[k], NULL, rank[k],
                      d->feature[k], jaw__fine_text(sv, l->a.rms[k]).s);
        first += all->d[k].n;
    }
    if (l->a.flags & JAW_STEEP)
        jaw__tell(sv, SAY_DATUM_STEEP, l->task->place, NULL, l->task->name);
}

static void find_attitude(jaw__solver *sv, jaw__lie *l, jaw__lie_touches *all)
{
    double *resid = malloc(all->n * sizeof *resid);
    jaw_datum_share *share = malloc(all->n * sizeof *share);

    l->status = JAW_ENOMEM;
    if (resid != NULL && share != NULL)
        l->status = jaw_datum_find(&all->d[0], &all->d[1], &all->d[2], &l->a,
                                   resid);
    if (l->status == JAW_OK)
        l->status = jaw_datum_shares(&all->d[0], &all->d[1], &all->d[2], &l->a,
                                     share);
    if (l->status == JAW_ENOMEM)
        sv->no_memory = true;
    else if (l->status != JAW_OK)
        jaw__tell(sv, SAY_DATUM_ASKEW, l->task->place, NULL, l->task->name);
    if (l->status == JAW_OK) {
        tell_flags(sv, l, all, resid, share);
        take_spread(sv, l);
    }
    free(resid);
    free(share);
}

static void solve_lie(jaw__solver *sv, const jaw_task *task, jaw__lie *l)
{
    jaw__lie_touches all;
    bool good = true;

    l->task = task;
    for (int k = 0; k < 3; k++)
        good &= take_feature(sv, l, k) && take_touches(sv, l, k);
    if (!good || !take_sides(sv, l) || !take_tips(sv, l))
        return;
    if (!jaw__lie_gather(sv, l, &all))
        sv->no_memory = true;
    else
        find_attitude(sv, l, &all);
    jaw__lie_drop(&all);
}

void jaw__solve_lies(jaw__solver *sv)
{
    for (size_t i = 0; i < sv->setup->n_tasks && !sv->no_memory; i++)
        if (sv->setup->tasks[i].kind == JAW_TASK_DATUMS)
            solve_lie(sv, &sv->setup->tasks[i], &sv->lies[i]);
}

const jaw__lie *jaw__lie_of(const jaw__solver *sv, const char *name)
{
    const jaw_task *task = jaw__find_task(sv->setup, JAW_TASK_DATUMS, name);

    /* without memory none may have been looked at */
    return task == NULL || sv->no_memory
               ? NULL
               : &sv->lies[jaw__task_number(sv->setup, task)];
}

/* --------------------------------------------------------- what it is worth */

/* Skew is atan2 of part X seen from +Z, and a small turn r moves that axis by
 * r x X. */
void jaw__skew_gradient(const jaw_attitude *a, double g[3])
{
    double x = a->turn[0][0], y = a->turn[1][0], z = a->turn[2][0];
    double flat = x * x + y * y;

    g[0] = -x * z / flat;
    g[1] = -y * z / flat;
    g[2] = 1;
}

static double element(const jaw_attitude *a, int i, int j)
{
    int low = i < j ? i : j, high = i < j ? j : i;

    return a->cov[low * 6 - low * (low - 1) / 2 + high - low];
}

double jaw__lie_spread(const jaw__lie *l, jaw_vec3 by, double skew)
{
    double g[6] = {by.x, by.y, by.z, 0, 0, 0}, sum = 0;

    jaw__skew_gradient(&l->a, g + 3);
    for (int k = 3; k < 6; k++)
        g[k] *= skew;
    for (int i = 0; i < 6; i++)
        for (int j = 0; j < 6; j++)
            sum += g[i] * g[j] * element(&l->a, i, j);
    return sqrt(fmax(0, sum));
}

/* A wall's plane lies a reach inside the tip's centres, along its normal. */
static void put_reach(jaw__worth *w, const jaw__lie *l, int k, double c,
                      jaw_vec2 out)
{
    size_t tip = tip_of(w->sv, l, k);
    double a = atan2(-out.y, -out.x);
    double by[] = {cos(a), sin(a), cos(3 * a), sin(3 * a)};

    if (w->j->tip_shared[tip] != JAW_NO_BLOCK)
        jaw__put_shared(w, w->j->tip_shared[tip], c);
    for (size_t h = 0; h < 4; h++)
        if (w->j->harmonic_shared[4 * tip + h] != JAW_NO_BLOCK)
            jaw__put_shared(w, w->j->harmonic_shared[4 * tip + h], c * by[h]);
}

void jaw__put_lie(jaw__worth *w, const jaw__lie *l, jaw_axis axis, double c)
{
    if (w->f == NULL)
        return;
    for (int k = 1; k < 3; k++) {
        jaw_vec2 side = jaw_side_normal(jaw__side_of(entry_of(w->sv, l, k)));
        int column = side.x != 0 ? 0 : 1;
        double sign = side.x + side.y;
        jaw_vec2 out = {sign * l->a.turn[0][column],
                        sign * l->a.turn[1][column]};
        put_reach(w, l, k, -c * sign * l->a.turn[axis][column], out);
    }
    if (axis == JAW_Z)
        jaw__put_node(w, l->tip, c);
}

/* ------------------------------------------------------------------ finding */

static void say_attitude(jaw__solver *sv, jaw_finding *f, const jaw__lie *l)
{
    static const char *const to[2] = {"X+", "Y+"};
    /* a lean towards X is a turn about Y, towards Y one about X the other way */
    double u[2] = {sqrt(element(&l->a, 4, 4)), sqrt(element(&l->a, 3, 3))};
    jaw_vec3 none = {0, 0, 0};

    jaw__item(sv, f, l->a.skew, JAW_ANGLE,
              jaw_figure_make(0, jaw__lie_spread(l, none, 1), l->dof).half95,
              "skew, seen from above");
    for (int k = 0; k < 2; k++)
        jaw__item(sv, f, l->a.tilt[k], JAW_ANGLE,
                  jaw_figure_make(0, u[k], l->dof).half95,
                  "part Z leans to %s", to[k]);
}

static void say_squareness(jaw__solver *sv, jaw_finding *f, const jaw__lie *l)
{
    const jaw_datums_task *d = &l->task->as.datums;

    for (int k = 0; k < 2; k++)
        if (!isnan(l->a.between[k].value))
            jaw__item(sv, f, l->a.between[k].value, JAW_ANGLE,
                      l->a.between[k].half95, "angle '%s' to '%s', less 90",
                      d->feature[k], d->feature[k + 1]);
    for (int k = 0; k < 3; k++)
        if (l->a.dof[k] > 0)
            jaw__item(sv, f, l->a.rms[k], JAW_LENGTH, (double)NAN,
                      "touches off the %s, rms", rank[k]);
    for (int k = 0; k < 3; k++)
        if (l->a.dof[k] < 1)
            jaw__advise(sv, f, "nothing checks the %s: touch '%s' once more",
                        rank[k], d->feature[k]);
}

typedef struct points {
    jaw_vec2 *work; /* NULL: out of memory */
    double *shim;
    jaw_figure *error;
} points;

/* Both coordinates, without their unit; as they are stated, of side one where
 * the part was turned over. */
static jaw__text place_text(const jaw__solver *sv, size_t reading)
{
    const jaw_setup *stated = sv->stated == NULL ? sv->setup : sv->stated;
    const jaw_reading *r = &stated->readings[reading];
    jaw__text x = jaw__length_text(sv, r->value);
    jaw__text y = jaw__length_text(sv, r->other), both;

    x.s[strcspn(x.s, " ")] = '\0';
    y.s[strcspn(y.s, " ")] = '\0';
    snprintf(both.s, sizeof both.s, "%.31s %.31s", x.s, y.s);
    return both;
}

/* Heights against the level through the datums' corner, where Z is set. */
static void level(const jaw__solver *sv, const jaw__lie *l, bool corner,
                  const points *p, const jaw__readings *own)
{
    const jaw_reading *r = jaw__readings_at(sv->setup, own->first);
    jaw_vec3 at = l->task->as.datums.at;
    size_t n = 0;

    for (size_t i = 0; i < own->n; i++)
        if (r[i].second == corner)
            p->work[n++] =
                (jaw_vec2){r[i].value - at.x, r[i].other - at.y};
    if (n > 0)
        (void)jaw_datum_level(&l->a, (jaw_vec2){0, 0}, p->work, n, p->error,
                              p->shim);
}

static void say_points(jaw__solver *sv, jaw_finding *f, const jaw__lie *l,
                       bool corner, const points *p, const jaw__readings *own)
{
    const jaw_reading *r = jaw__readings_at(sv->setup, own->first);
    size_t n = 0;
    bool any = false;

    level(sv, l, corner, p, own);
    for (size_t i = 0; i < own->n; i++) {
        if (r[i].second != corner)
            continue;
        jaw__text where = place_text(sv, own->first + i);
        jaw_figure e = p->error[n];
        if (corner)
            jaw__item(sv, f, e.value, JAW_LENGTH,
                      jaw_figure_make(0, e.u, l->dof).half95,
                      "Z off at %s", where.s);
        else
            jaw__item(sv, f, p->shim[n], JAW_LENGTH, (double)NAN,
                      "shim under %s", where.s);
        any |= !corner && p->shim[n] >= sv->setup->control.step / 2;
        n++;
    }
    if (any)
        jaw__advise(sv, f, "put the shims under the part, then touch it again");
    else if (!corner && n > 0)
        jaw__advise(sv, f,
                    "it lies level to the last digit: no shim is needed");
}

void jaw__find_datums(jaw__worth *w, const jaw_task *task, jaw_finding *f)
{
    size_t at = (size_t)(task - w->sv->setup->tasks);
    const jaw__readings *own = &w->sv->setup->task_readings[at];
    const jaw__lie *l = &w->sv->lies[at];
    points p = {.work = malloc((own->n + 1) * sizeof *p.work),
                .shim = malloc((own->n + 1) * sizeof *p.shim),
                .error = malloc((own->n + 1) * sizeof *p.error)};

    f->n = 0; /* its readings are places, not what was read there */
    f->status = l->status;
    if (p.work == NULL || p.shim == NULL || p.error == NULL) {
        w->sv->no_memory = true;
    } else if (l->status == JAW_OK) {
        f->flags = l->a.flags;
        f->dof = l->a.dof[0] + l->a.dof[1] + l->a.dof[2];
        say_attitude(w->sv, f, l);
        say_squareness(w->sv, f, l);
        say_points(w->sv, f, l, false, &p, own);
        say_points(w->sv, f, l, true, &p, own);
    }
    free(p.work);
    free(p.shim);
    free(p.error);
}
