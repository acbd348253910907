/* SPDX-License-Identifier: GPL-3.0-or-later */
/* placed.c: what a solved setup says of a vise or fixture: its sizes, its bed,
 * where it lies and how it is turned. */
#include "book.h"

#include <math.h>
#include <string.h>

#define NO_NUMBER ((double)NAN)

/* ------------------------------------------------------------------- asked */

static const jaw_task *find_vise(const jaw_setup *setup, const char *name)
{
    const jaw_task *found = NULL;
    size_t n;
    const jaw_task *task = jaw_setup_tasks(setup, &n);

    for (size_t i = 0; i < n; i++) {
        if (task[i].kind != JAW_TASK_VISE)
            continue;
        if (name != NULL && strcmp(task[i].name, name) == 0)
            return &task[i];
        if (name == NULL && found != NULL)
            return NULL; /* several */
        found = name == NULL ? &task[i] : NULL;
    }
    return found;
}

static bool names(const char *feature, const char *fixed)
{
    return feature != NULL && fixed != NULL && strcmp(feature, fixed) == 0;
}

static bool stands_on(const jaw_zero_entry *z, const char *fixed)
{
    return (z->turn_use == JAW_TURN_FEATURE && names(z->turn_feature, fixed)) ||
           names(z->term[JAW_X].feature, fixed) ||
           names(z->term[JAW_Y].feature, fixed);
}

/* Its number; n: there is none. */
static size_t find_zero(const jaw_setup *setup, const char *name,
                        const jaw_task *vise, size_t *n)
{
    const jaw_zero_entry *z = jaw_setup_zeros(setup, n);

    for (size_t i = 0; i < *n; i++)
        if (name != NULL ? strcmp(z[i].name, name) == 0
                         : vise != NULL &&
                               stands_on(&z[i], vise->as.vise.fixed))
            return i;
    return name == NULL && *n == 1 ? 0 : *n;
}

/* ------------------------------------------------------------------- found */

static void take_zero(const jaw_setup *setup, const jaw_zero_found *z,
                      jaw_book_fixture *f)
{
    bool square = (z->flags & JAW_DIRECTION_ASSUMED) != 0;

    f->at[0] = jaw__book_figure(z->zero.x, &z->trust[JAW_X]);
    f->at[1] = jaw__book_figure(z->zero.y, &z->trust[JAW_Y]);
    if (jaw_setup_control(setup)->lengths == JAW_GAUGE_LINE)
        f->at[2] = jaw__book_figure(z->zero.z, &z->trust[JAW_Z]);
    f->at[3] = jaw__book_figure(square || isnan(z->turn_trust.u) ? NO_NUMBER
                                                                : z->skew,
                                &z->turn_trust);
}

/* The skew of the fixed jaw, a wall along X or Y that has a direction. */
static void take_jaw(const jaw_setup *setup, const jaw_solution *s,
                     const char *fixed, jaw_book_fixture *f)
{
    size_t n;
    const jaw_feature_entry *entry = jaw_setup_features(setup, &n);
    const jaw_found *found = jaw_solution_features(s, &n);

    for (size_t i = 0; i < n; i++) {
        if (!names(entry[i].name, fixed) || found[i].status != JAW_OK)
            continue;
        bool swept = found[i].kind == JAW_SWEEP;
        double theta = swept ? found[i].as.sweep.theta : found[i].where.theta;
        bool y = entry[i].faces == JAW_SIDE_XPLUS ||
                 entry[i].faces == JAW_SIDE_XMINUS;
        const jaw_value_trust *t = swept ? &found[i].turn
                                         : &found[i].where.turn;
        f->at[3] = jaw__book_figure(
            isnan(t->u) ? NO_NUMBER
                        : jaw_angle_half(y ? theta - acos(-1) / 2 : theta), t);
    }
}

/* Of the vise of a stack that stands in it; the parallels are the stack's. */
static void take_parallels(const jaw_setup *setup, const char *vise,
                           jaw_book_fixture *f)
{
    size_t n;
    const jaw_task *task = jaw_setup_tasks(setup, &n);

    for (size_t i = 0; i < n; i++)
        if (task[i].kind == JAW_TASK_STOCK &&
            names(task[i].as.stock.vise, vise))
            f->parallels = task[i].as.stock.parallels.value;
}

static void take_vise(const jaw_setup *setup, const jaw_solution *s,
                      const jaw_task *vise, jaw_book_fixture *f)
{
    size_t n;
    const jaw_surface_found *surface = jaw_solution_surfaces(s, &n);

    f->jaw_width = vise->as.vise.jaw_width;
    f->jaw_height = vise->as.vise.jaw_height;
    f->opening = vise->as.vise.opening;
    for (size_t i = 0; i < n; i++)
        if (surface[i].is_setter && names(surface[i].name, vise->name))
            f->at[2] = jaw__book_figure(surface[i].z, &surface[i].trust);
    take_parallels(setup, vise->name, f);
    if (isnan(f->at[3].value))
        take_jaw(setup, s, vise->as.vise.fixed, f);
}

jaw_status jaw_book_fixture_found(const jaw_setup *setup,
                                  const jaw_solution *solution,
                                  const char *vise, const char *zero,
                                  jaw_book_fixture *f, const char **named,
                                  const char **by)
{
    const jaw_task *task = find_vise(setup, vise);
    const jaw_value_trust none = {0};
    size_t n, i = find_zero(setup, zero, task, &n);

    *f = (jaw_book_fixture){.text = "", .jaw_width = NO_NUMBER,
                            .jaw_height = NO_NUMBER, .opening = NO_NUMBER,
                            .parallels = NO_NUMBER};
    for (int k = 0; k < 4; k++)
        f->at[k] = jaw__book_figure(NO_NUMBER, &none);
    *named = task != NULL ? task->name : NULL;
    *by = i < n ? jaw_setup_zeros(setup, &n)[i].name : NULL;
    if ((vise != NULL && task == NULL) || (zero != NULL && *by == NULL))
        return JAW_EUNKNOWN;
    if (*by != NULL)
        take_zero(setup, &jaw_solution_zeros(solution, &n)[i], f);
    if (task != NULL)
        take_vise(setup, solution, task, f);
    for (int k = 0; k < 4; k++)
        if (!isnan(f->at[k].value))
            return JAW_OK;
    return JAW_ERANK;
}
