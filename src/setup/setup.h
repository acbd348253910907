/* SPDX-License-Identifier: GPL-3.0-or-later */
/* setup.h: what a setup holds, shared inside src/setup.  Touches and holes of
 * all features stand in one array each, in the order in which they came. */
#ifndef JAW__SETUP_H
#define JAW__SETUP_H

#include <jawline/setup.h>

#include "store.h"

/* The readings that belong to one task. */
typedef struct jaw__readings {
    size_t first, n;
} jaw__readings;

/* The part of the touches and holes that belongs to one feature. */
typedef struct jaw__share {
    size_t first_touch, n_touches;
    size_t first_wall; /* how many touches came before the other wall */
    bool other_wall;
    size_t first_hole, n_holes;
    size_t first_aside, n_asides;
} jaw__share;

struct jaw_setup {
    jaw__pool names;
    const char *title;
    jaw_control control;
    jaw_temperature temperature;
    bool temperature_stated;
    bool asks_where;
    jaw_tip_entry *tips;
    jaw_feature_entry *features;
    jaw__share *shares; /* one a feature */
    jaw_touch *touches;
    jaw_place *touch_places;
    jaw_hole_entry *holes;
    jaw_aside_entry *asides;
    jaw_setter_entry *setters;
    jaw_tool_entry *tools;
    jaw_contact_entry *contacts;
    jaw_zero_entry *zeros;
    jaw_task *tasks;
    jaw__readings *task_readings; /* one a task */
    jaw_reading *readings;
    const char **sources; /* the first is that of number 1 */
    size_t n_tips, n_features, n_touches, n_holes, n_asides;
    size_t n_setters, n_tools, n_contacts, n_zeros, n_sources;
    size_t n_tasks, n_readings;
    size_t room_tips, room_features, room_shares, room_touches, room_places;
    size_t room_holes, room_asides, room_setters, room_tools, room_contacts;
    size_t room_zeros, room_sources, room_tasks, room_task_readings, room_readings;
};

/* jaw__readings_at: from number `first` on; NULL where the whole setup has none,
 * for nothing is added to NULL. */
static inline const jaw_reading *jaw__readings_at(const jaw_setup *setup,
                                                  size_t first)
{
    return setup->readings == NULL ? NULL : setup->readings + first;
}

#endif
