/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tasks.c: entries beside features and zeros, handed to the setup. */
#include "reader.h"

#include <math.h>

static const double nan_ = (double)NAN;

/* A value that may have been left out. */
static double value_of(const jaw__field *f, int i)
{
    return f && f->v[i].given ? f->v[i].number : nan_;
}

static jaw_length length_of(const jaw__field *f, int i, int known)
{
    return (jaw_length){value_of(f, i),
                        f && f->v[known].given ? f->v[known].number : 0};
}

/* Nothing else may have its name: it may be that of a surface. */
static void task_name(jaw__reader *r, const char *name)
{
    jaw__name_add(r, (jaw__name){.space = JAW__SPACE_FEATURE,
                                 .text = name,
                                 .place = r->entry.head[0].place});
}

void jaw__build_vise(jaw__reader *r, const char *name)
{
    const jaw__field *jaws = jaw__good(r, JAW__JAWS);
    jaw_task task = {
        .kind = JAW_TASK_VISE,
        .name = name,
        .place = r->entry.place,
        .as.vise = {.bed = length_of(jaw__good(r, JAW__BED), 0, 1),
                    .jaw_height = value_of(jaws, 0),
                    .jaw_width = value_of(jaws, 1),
                    .opening = value_of(jaws, 2),
                    .fixed = jaw__text_of(r, JAW__FIXED),
                    .fixed_place = jaw__place_of(r, JAW__FIXED)}};

    task_name(r, name);
    jaw__took(r, jaw_setup_add_task(r->setup, &task));
}

void jaw__build_stock(jaw__reader *r, const char *name)
{
    const jaw__field *size = jaw__good(r, JAW__SIZE);
    jaw_task task = {
        .kind = JAW_TASK_STOCK,
        .name = name,
        .place = r->entry.place,
        .as.stock = {.vise = jaw__text_of(r, JAW__IN),
                     .parallels = length_of(jaw__good(r, JAW__PARALLELS), 0, 1),
                     .size = {{value_of(size, 0), 0},
                              {value_of(size, 1), 0},
                              length_of(size, 2, 3)},
                     .least_grip = jaw__number_of(r, JAW__GRIP, nan_),
                     .top = jaw__text_of(r, JAW__TOP),
                     .vise_place = jaw__place_of(r, JAW__IN),
                     .top_place = jaw__place_of(r, JAW__TOP)}};

    task_name(r, name);
    jaw__took(r, jaw_setup_add_task(r->setup, &task));
}

/* ---------------------------------------------------------------- readings */

/* Handed over with its rows; without any there is nothing to look at. */
static void add_task(jaw__reader *r, const jaw_task *task)
{
    const jaw__entry *e = &r->entry;

    jaw__check_rows(r, task->name);
    jaw_status status = jaw_setup_add_task(r->setup, task);
    jaw__took(r, status);
    for (size_t i = 0; status == JAW_OK && i < e->n_touches; i++) {
        jaw_reading reading = {.at = e->touches[i].x,
                               .value = e->touches[i].y,
                               .second = e->slash.line != 0 &&
                                         i >= e->first_wall,
                               .aside = e->aside[i],
                               .place = e->places[i]};
        jaw__took(r, jaw_setup_add_reading(r->setup, &reading));
    }
}

void jaw__build_tram(jaw__reader *r, const char *name)
{
    jaw_task task = {
        .kind = JAW_TASK_TRAM,
        .name = name,
        .place = r->entry.place,
        .as.tram = {.radius = jaw__number_of(r, JAW__RADIUS, nan_),
                    .cutter = jaw__number_of(r, JAW__CUTTER, nan_),
                    .base = jaw__number_of(r, JAW__BASE, nan_),
                    .repeat = jaw__number_of(r, JAW__REPEAT, nan_)}};

    task_name(r, name);
    add_task(r, &task);
}

void jaw__build_square(jaw__reader *r, const char *name)
{
    const jaw__field *faces = jaw__good(r, JAW__FACES);
    jaw_task task = {
        .kind = JAW_TASK_SQUARE,
        .name = name,
        .place = r->entry.place,
        .as.square = {.over = jaw__number_of(r, JAW__OVER, nan_),
                      .repeat = jaw__number_of(r, JAW__REPEAT, nan_)}};

    if (faces) {
        const jaw__value *then = &faces->v[faces->v[1].given ? 1 : 0];
        task.as.square.faces[0] = (jaw_side)(faces->v[0].choice + 1);
        task.as.square.faces[1] = (jaw_side)(then->choice + 1);
    }
    task_name(r, name);
    add_task(r, &task);
}
