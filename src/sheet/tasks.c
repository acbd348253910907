/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tasks.c: entries beside features and zeros, handed to the setup. */
#include "reader.h"

#include <math.h>

static const double nan_ = (double)NAN;

/* The choices of grammar.h stand in the order of this list. */
_Static_assert(JAW_OVER_X == 0 && JAW_OVER_Y == 1 && JAW_OVER_Z == 2, "x|y|z");

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

/* The choices of grammar.h: of each axis first plus, then minus. */
void jaw__build_runout(jaw__reader *r, const char *name)
{
    const jaw__field *on = jaw__good(r, JAW__ON);
    jaw_task task = {
        .kind = JAW_TASK_RUNOUT,
        .name = name,
        .place = r->entry.place,
        .as.runout = {.on = on ? (jaw_axis)(on->v[0].choice / 2) : JAW_X,
                      .minus = on && on->v[0].choice % 2 == 1,
                      .at = jaw__number_of(r, JAW__WHERE, nan_),
                      .repeat = jaw__number_of(r, JAW__REPEAT, nan_)}};

    task_name(r, name);
    add_task(r, &task);
}

/* ------------------------------------------------ places, angles, features */

/* Kept as holes: what the table or the part has there is the nominal place, and
 * what was seen the touched one.  A corner stands behind the places of shims. */
void jaw__build_seen(jaw__reader *r, jaw__role role, const jaw__field *f)
{
    jaw_hole_entry hole = {.place = f->v[0].place, .touched = {nan_, nan_}};

    if (role == JAW__SEEN) {
        hole.nominal.x = f->v[0].number;
        hole.feature = f->v[1].text;
    } else {
        hole.touched = (jaw_vec2){f->v[0].number, f->v[1].number};
        hole.nominal.y = role == JAW__CORNER;
    }
    jaw__hole_add(r, hole, role == JAW__SEEN && f->v[2].given);
}

static void add_seen(jaw__reader *r, const jaw_task *task)
{
    const jaw__entry *e = &r->entry;
    bool places = task->kind == JAW_TASK_DATUMS;
    jaw_status status = jaw_setup_add_task(r->setup, task);

    jaw__took(r, status);
    for (size_t i = 0; status == JAW_OK && i < e->n_holes; i++) {
        const jaw_hole_entry *h = &e->holes[i];
        jaw_reading reading = {
            .at = h->nominal.x,
            .aside = e->aside[i],
            .value = h->touched.x,
            .second = places ? h->nominal.y != 0
                             : e->slash.line != 0 && i >= e->first_wall,
            .place = h->place,
            .other = h->touched.y,
            .feature = h->feature};
        jaw__took(r, jaw_setup_add_reading(r->setup, &reading));
    }
}

void jaw__build_rotary(jaw__reader *r, const char *name)
{
    const jaw__field *about = jaw__good(r, JAW__ABOUT);
    const jaw__field *sense = jaw__good(r, JAW__SENSE);
    jaw_task task = {
        .kind = JAW_TASK_ROTARY,
        .name = name,
        .place = r->entry.place,
        .as.rotary = {.about = about ? (jaw_axis)about->v[0].choice : JAW_X,
                      .sense = !sense                   ? JAW_SENSE_FIND
                               : sense->v[0].choice == 0 ? JAW_SENSE_RIGHT
                                                         : JAW_SENSE_LEFT,
                      .apart = jaw__number_of(r, JAW__APART, nan_),
                      .repeat = jaw__number_of(r, JAW__REPEAT, nan_),
                      .tip = jaw__text_of(r, JAW__TIP),
                      .sense_place = jaw__place_of(r, JAW__SENSE),
                      .tip_place = jaw__place_of(r, JAW__TIP)}};

    const jaw__field *runout = jaw__good(r, JAW__RUNOUT);

    for (int k = 0; runout && k < 2 && runout->v[k].given; k++) {
        task.as.rotary.runout[k] = runout->v[k].text;
        task.as.rotary.runout_place[k] = runout->v[k].place;
    }
    task_name(r, name);
    jaw__check_rows(r, name);
    add_seen(r, &task);
}

void jaw__build_datums(jaw__reader *r, const char *name)
{
    static const jaw__role role[3] = {JAW__PRIMARY, JAW__SECONDARY,
                                      JAW__TERTIARY};
    const jaw__field *at = jaw__good(r, JAW__WHERE);
    jaw_task task = {.kind = JAW_TASK_DATUMS,
                     .name = name,
                     .place = r->entry.place};

    for (int k = 0; k < 3; k++) {
        task.as.datums.feature[k] = jaw__text_of(r, role[k]);
        task.as.datums.feature_place[k] = jaw__place_of(r, role[k]);
    }
    if (at)
        task.as.datums.at = (jaw_vec3){at->v[0].number, at->v[1].number,
                                       at->v[2].number};
    task_name(r, name);
    add_seen(r, &task);
}

void jaw__build_vee(jaw__reader *r, const char *name)
{
    const jaw__field *angle = jaw__good(r, JAW__VEE_ANGLE);
    jaw_task task = {
        .kind = JAW_TASK_VEE,
        .name = name,
        .place = r->entry.place,
        .as.vee = {.apex = length_of(jaw__good(r, JAW__APEX), 0, 1),
                   .angle = jaw__number_of(r, JAW__VEE_ANGLE, nan_),
                   .diameter = length_of(jaw__good(r, JAW__SIZE), 0, 1)}};

    if (angle && task.as.vee.angle >= jaw_rad(180)) {
        jaw__mistake(&r->log, angle->v[0].place, JAW__SAY_VEE_ANGLE, NULL, NULL,
                     NULL, NULL);
        r->entry.broken = true;
    }
    task_name(r, name);
    jaw__took(r, jaw_setup_add_task(r->setup, &task));
}

static void sine_mistake(jaw__reader *r, jaw_place place, jaw__message id,
                         const char *name)
{
    jaw__mistake(&r->log, place, id, name, NULL, NULL, NULL);
    r->entry.broken = true;
}

void jaw__build_sine(jaw__reader *r, const char *name)
{
    const jaw__field *angle = jaw__good(r, JAW__VEE_ANGLE);
    const jaw__field *stack = jaw__good(r, JAW__STACK);
    jaw_task task = {
        .kind = JAW_TASK_SINE,
        .name = name,
        .place = r->entry.place,
        .as.sine = {.bar = length_of(jaw__good(r, JAW__BAR), 0, 1),
                    .angle = jaw__number_of(r, JAW__VEE_ANGLE, nan_),
                    .stack = length_of(stack, 0, 1)}};
    const jaw_sine_task *s = &task.as.sine;

    if (angle && s->angle >= M_PI_2)
        sine_mistake(r, angle->v[0].place, JAW__SAY_SINE_ANGLE, NULL);
    if (stack && s->stack.value >= s->bar.value)
        sine_mistake(r, stack->v[0].place, JAW__SAY_SINE_STACK, NULL);
    if (!angle && !stack && !r->entry.broken)
        sine_mistake(r, r->entry.place, JAW__SAY_SINE_NOTHING, name);
    task_name(r, name);
    jaw__took(r, jaw_setup_add_task(r->setup, &task));
}

/* -------------------------------------------------------- several, and over */

void jaw__build_stations(jaw__reader *r, const char *name)
{
    const jaw__field *adjusted = jaw__good(r, JAW__ADJUSTED);
    jaw_zero_entry turn = {.turn_use = JAW_TURN_NONE};

    jaw__take_turn(r, &turn);
    jaw_task task = {
        .kind = JAW_TASK_STATIONS,
        .name = name,
        .place = r->entry.place,
        .as.stations = {.turn_use = turn.turn_use,
                        .turn_feature = turn.turn_feature,
                        .turn_along = turn.turn_along,
                        .turn = turn.turn,
                        .known = jaw__known_of(r, JAW__PLACES, 0),
                        .adjusted = adjusted && adjusted->v[0].choice == 0,
                        .turn_place = turn.turn_place}};

    task_name(r, name);
    jaw__took(r, jaw_setup_add_task(r->setup, &task));
}

void jaw__build_side(jaw__reader *r)
{
    const jaw__value *v = r->entry.head;
    jaw_task task = {
        .kind = JAW_TASK_SIDE,
        .name = "two",
        .place = r->entry.place,
        .as.side = {.over = (jaw_over)v[0].choice,
                    .zero = {v[1].number, v[2].number, v[3].number},
                    .cut = jaw__known_of(r, JAW__CUT, 0)}};

    if (!r->entry.broken)
        jaw__took(r, jaw_setup_add_task(r->setup, &task));
}
