/* SPDX-License-Identifier: GPL-3.0-or-later */
/* setup.c: what a person stated, kept in the order in which it came. */
#include "setup.h"

#include <math.h>
#include <stdlib.h>

/* Room for one more in an array of the setup; false when out of memory. */
#define MAKE_ROOM(setup, array, room)                                          \
    make_room((void **)&(setup)->array, (setup)->n_##array, &(setup)->room,    \
              sizeof *(setup)->array)

static bool make_room(void **array, size_t n, size_t *room, size_t size)
{
    void *grown = jaw__grow(*array, n, room, size);

    if (grown == NULL)
        return false;
    *array = grown;
    return true;
}

jaw_control jaw_control_default(jaw_unit unit)
{
    const double nan = (double)NAN;

    return (jaw_control){
        .unit = unit,
        .step = unit == JAW_IN ? 0.0001 * JAW_MM_PER_INCH : 0.001,
        .angle_step = jaw_rad(0.0001),
        .lengths = JAW_GAUGE_LINE,
        .low = {nan, nan, nan},
        .high = {nan, nan, nan},
    };
}

jaw_setup *jaw_setup_alloc(void)
{
    jaw_setup *setup = calloc(1, sizeof *setup);

    if (setup == NULL)
        return NULL;
    setup->title = "";
    setup->control = jaw_control_default(JAW_MM);
    return setup;
}

void jaw_setup_free(jaw_setup *setup)
{
    if (setup == NULL)
        return;
    jaw__pool_drop(&setup->names);
    free(setup->tips);
    free(setup->features);
    free(setup->shares);
    free(setup->touches);
    free(setup->touch_places);
    free(setup->holes);
    free(setup->asides);
    free(setup->setters);
    free(setup->tools);
    free(setup->contacts);
    free(setup->zeros);
    free(setup->sources);
    free(setup->tasks);
    free(setup->task_readings);
    free(setup->readings);
    free(setup);
}

jaw_status jaw_setup_add_source(jaw_setup *setup, const char *file)
{
    bool ok = true;
    const char *copy = jaw__pool_text(&setup->names, file, &ok);

    if (!ok || !MAKE_ROOM(setup, sources, room_sources))
        return JAW_ENOMEM;
    setup->sources[setup->n_sources++] = copy == NULL ? "" : copy;
    return JAW_OK;
}

const char *jaw_setup_source(const jaw_setup *setup, int source)
{
    return source > 0 && (size_t)source <= setup->n_sources
               ? setup->sources[source - 1]
               : "";
}

jaw_status jaw_setup_set_title(jaw_setup *setup, const char *title)
{
    bool ok = true;
    const char *copy = jaw__pool_text(&setup->names, title, &ok);

    if (!ok)
        return JAW_ENOMEM;
    setup->title = copy == NULL ? "" : copy;
    return JAW_OK;
}

static bool known_is_good(double known)
{
    return known >= 0 && isfinite(known);
}

void jaw_setup_ask_where(jaw_setup *setup)
{
    setup->asks_where = true;
}

jaw_status jaw_setup_set_temperature(jaw_setup *setup,
                                     const jaw_temperature *temperature)
{
    const jaw_temperature *t = temperature;

    if (!(fabs(t->at) <= 1000) || !(fabs(t->expansion) <= 1e-3) ||
        !known_is_good(t->at_known) || !known_is_good(t->expansion_known))
        return JAW_EDOMAIN;
    setup->temperature = *t;
    setup->temperature_stated = true;
    return JAW_OK;
}

jaw_status jaw_setup_set_control(jaw_setup *setup, const jaw_control *control)
{
    if (!(control->step > 0 && isfinite(control->step)) ||
        !(control->angle_step > 0 && isfinite(control->angle_step)) ||
        jaw_length_word(control->lengths) == NULL ||
        jaw_unit_word(control->unit) == NULL)
        return JAW_EDOMAIN;
    setup->control = *control;
    return JAW_OK;
}

/* Whether they can all be is seen when it is solved (jaw__prior_of). */
static bool correlations_are_good(const jaw_tip_entry *e)
{
    for (int i = 0; i < JAW_TIP_PARTS; i++)
        for (int j = i + 1; j < JAW_TIP_PARTS; j++) {
            double c = e->correlation[jaw_tip_pair((jaw_tip_part)i,
                                                   (jaw_tip_part)j)];
            double u = i == 0 ? e->diameter_known : e->harmonic_known[i - 1];
            if (!(fabs(c) < 1) ||
                (c != 0 && !(u > 0 && e->harmonic_known[j - 1] > 0)))
                return false;
        }
    return true;
}

static bool reach_is_good(const jaw_tip_entry *e)
{
    for (int k = 0; k < 4; k++)
        if (!isfinite(e->harmonic[k]) || !known_is_good(e->harmonic_known[k]))
            return false;
    return correlations_are_good(e);
}

/* The record of what is asked for is not there yet. */
static bool waits(const jaw_link *link)
{
    return link->wanted && link->entry == 0;
}

static bool link_is_good(const jaw_link *link)
{
    return !link->wanted || (link->entry >= 0 && known_is_good(link->seen) &&
                             (link->seen_dof > 0 || link->seen == 0));
}

static bool tip_is_good(const jaw_tip_entry *e)
{
    jaw_tip tip = e->tip;

    if (waits(&e->link))
        tip.diameter = 0;
    return e->name != NULL && jaw_tip_check(&tip) == JAW_OK &&
           known_is_good(e->diameter_known) &&
           known_is_good(e->length_known) && link_is_good(&e->link) &&
           reach_is_good(e);
}

jaw_status jaw_setup_add_tip(jaw_setup *setup, const jaw_tip_entry *entry)
{
    jaw_tip_entry copy = *entry;
    bool ok = true;

    if (!tip_is_good(entry))
        return JAW_EDOMAIN;
    copy.name = jaw__pool_text(&setup->names, entry->name, &ok);
    if (!ok || !MAKE_ROOM(setup, tips, room_tips))
        return JAW_ENOMEM;
    setup->tips[setup->n_tips++] = copy;
    return JAW_OK;
}

static bool size_is_good(const jaw_feature_entry *entry)
{
    if (entry->size_use == JAW_SIZE_FREE)
        return true;
    return entry->size > 0 && isfinite(entry->size) && !(entry->within <= 0);
}

/* What only an indicator's rows have. */
static bool sweep_is_good(const jaw_feature_entry *e)
{
    if (e->kind == JAW_SWEEP)
        return e->faces != JAW_SIDE_NONE;
    if (e->kind == JAW_DIAL)
        return isfinite(e->stands.x) && isfinite(e->stands.y);
    return true;
}

static bool side_is_good(jaw_side side)
{
    return side == JAW_SIDE_NONE || jaw_side_word(side) != NULL;
}

jaw_status jaw_setup_add_feature(jaw_setup *setup,
                                 const jaw_feature_entry *entry)
{
    jaw_feature_entry copy = *entry;
    bool ok = true;

    if (entry->name == NULL || jaw_feature_word(entry->kind) == NULL ||
        !size_is_good(entry) || !side_is_good(entry->faces) ||
        !side_is_good(entry->moving) || !sweep_is_good(entry) ||
        !known_is_good(entry->size_known) ||
        !known_is_good(entry->places_known) || !known_is_good(entry->repeat))
        return JAW_EDOMAIN;
    copy.name = jaw__pool_text(&setup->names, entry->name, &ok);
    copy.tip = jaw__pool_text(&setup->names, entry->tip, &ok);
    copy.after = jaw__pool_text(&setup->names, entry->after, &ok);
    /* Both arrays grow before either counts one more. */
    void *shares = jaw__grow(setup->shares, setup->n_features,
                             &setup->room_shares, sizeof *setup->shares);
    if (shares == NULL)
        return JAW_ENOMEM;
    setup->shares = shares;
    if (!ok || !MAKE_ROOM(setup, features, room_features))
        return JAW_ENOMEM;
    setup->shares[setup->n_features] =
        (jaw__share){.first_touch = setup->n_touches,
                     .first_hole = setup->n_holes,
                     .first_aside = setup->n_asides};
    setup->features[setup->n_features++] = copy;
    return JAW_OK;
}

jaw_status jaw_setup_add_touch(jaw_setup *setup, jaw_touch touch,
                               jaw_place place)
{
    if (setup->n_features == 0)
        return JAW_EUNKNOWN;
    void *places =
        jaw__grow(setup->touch_places, setup->n_touches, &setup->room_places,
                  sizeof *setup->touch_places);
    if (places == NULL)
        return JAW_ENOMEM;
    setup->touch_places = places;
    if (!MAKE_ROOM(setup, touches, room_touches))
        return JAW_ENOMEM;
    setup->touch_places[setup->n_touches] = place;
    setup->touches[setup->n_touches++] = touch;
    jaw__share *share = &setup->shares[setup->n_features - 1];
    share->n_touches++;
    if (!share->other_wall)
        share->first_wall++;
    return JAW_OK;
}

jaw_status jaw_setup_other_wall(jaw_setup *setup)
{
    if (setup->n_features == 0)
        return JAW_EUNKNOWN;
    setup->shares[setup->n_features - 1].other_wall = true;
    return JAW_OK;
}

jaw_status jaw_setup_add_hole(jaw_setup *setup, const jaw_hole_entry *entry)
{
    jaw_hole_entry copy = *entry;
    bool ok = true;

    if (setup->n_features == 0)
        return JAW_EUNKNOWN;
    copy.feature = jaw__pool_text(&setup->names, entry->feature, &ok);
    if (!ok || !MAKE_ROOM(setup, holes, room_holes))
        return JAW_ENOMEM;
    setup->holes[setup->n_holes++] = copy;
    setup->shares[setup->n_features - 1].n_holes++;
    return JAW_OK;
}

static jaw_status add_aside(jaw_setup *setup, const jaw_aside_entry *aside)
{
    if (!MAKE_ROOM(setup, asides, room_asides))
        return JAW_ENOMEM;
    setup->asides[setup->n_asides++] = *aside;
    setup->shares[setup->n_features - 1].n_asides++;
    return JAW_OK;
}

jaw_status jaw_setup_aside_touch(jaw_setup *setup, jaw_touch touch,
                                 jaw_place place)
{
    if (setup->n_features == 0)
        return JAW_EUNKNOWN;
    jaw_aside_entry aside = {
        .touch = touch,
        .other_wall = setup->shares[setup->n_features - 1].other_wall,
        .place = place};
    return add_aside(setup, &aside);
}

jaw_status jaw_setup_aside_hole(jaw_setup *setup, const jaw_hole_entry *entry)
{
    const double nan = (double)NAN;
    jaw_aside_entry aside = {.touch = {nan, nan, nan},
                             .hole = *entry,
                             .place = entry->place};
    bool ok = true;

    if (setup->n_features == 0)
        return JAW_EUNKNOWN;
    aside.hole.feature = jaw__pool_text(&setup->names, entry->feature, &ok);
    return ok ? add_aside(setup, &aside) : JAW_ENOMEM;
}

static bool setter_is_good(const jaw_setter_entry *e)
{
    bool block = isnan(e->height) && !waits(&e->link);

    return e->name != NULL && !isinf(e->top) && !isinf(e->height) &&
           (waits(&e->link) || block == (e->on == NULL)) &&
           known_is_good(e->top_known) && known_is_good(e->height_known) &&
           link_is_good(&e->link);
}

static bool keep_setter(jaw_setup *setup, jaw_setter_entry *copy)
{
    bool ok = true;

    copy->name = jaw__pool_text(&setup->names, copy->name, &ok);
    copy->on = jaw__pool_text(&setup->names, copy->on, &ok);
    return ok;
}

jaw_status jaw_setup_add_setter(jaw_setup *setup,
                                const jaw_setter_entry *entry)
{
    jaw_setter_entry copy = *entry;

    if (!setter_is_good(entry))
        return JAW_EDOMAIN;
    if (!keep_setter(setup, &copy) || !MAKE_ROOM(setup, setters, room_setters))
        return JAW_ENOMEM;
    setup->setters[setup->n_setters++] = copy;
    return JAW_OK;
}

static bool tool_is_good(const jaw_tool_entry *e)
{
    return e->number >= 1 && e->number <= 9999 && !isinf(e->length) &&
           !isinf(e->diameter) && known_is_good(e->length_known) &&
           link_is_good(&e->link);
}

static bool keep_tool(jaw_setup *setup, jaw_tool_entry *copy)
{
    bool ok = true;

    copy->text = jaw__pool_text(&setup->names, copy->text, &ok);
    copy->above = jaw__pool_text(&setup->names, copy->above, &ok);
    copy->link.holder = jaw__pool_text(&setup->names, copy->link.holder, &ok);
    if (copy->text == NULL)
        copy->text = "";
    return ok;
}

jaw_status jaw_setup_add_tool(jaw_setup *setup, const jaw_tool_entry *entry)
{
    jaw_tool_entry copy = *entry;

    if (!tool_is_good(entry))
        return JAW_EDOMAIN;
    if (!keep_tool(setup, &copy) || !MAKE_ROOM(setup, tools, room_tools))
        return JAW_ENOMEM;
    setup->tools[setup->n_tools++] = copy;
    return JAW_OK;
}

/* ------------------------------------------------------- filled in later */

jaw_status jaw_setup_fill_tip(jaw_setup *setup, size_t i,
                              const jaw_tip_entry *entry)
{
    jaw_tip_entry copy = *entry;
    bool ok = true;

    if (i >= setup->n_tips || !waits(&setup->tips[i].link))
        return JAW_EUNKNOWN;
    if (!tip_is_good(entry))
        return JAW_EDOMAIN;
    copy.name = jaw__pool_text(&setup->names, entry->name, &ok);
    if (!ok)
        return JAW_ENOMEM;
    setup->tips[i] = copy;
    return JAW_OK;
}

jaw_status jaw_setup_fill_setter(jaw_setup *setup, size_t i,
                                 const jaw_setter_entry *entry)
{
    jaw_setter_entry copy = *entry;

    if (i >= setup->n_setters || !waits(&setup->setters[i].link))
        return JAW_EUNKNOWN;
    if (!setter_is_good(entry))
        return JAW_EDOMAIN;
    if (!keep_setter(setup, &copy))
        return JAW_ENOMEM;
    setup->setters[i] = copy;
    return JAW_OK;
}

jaw_status jaw_setup_fill_tool(jaw_setup *setup, size_t i,
                               const jaw_tool_entry *entry)
{
    jaw_tool_entry copy = *entry;

    if (i >= setup->n_tools || !waits(&setup->tools[i].link))
        return JAW_EUNKNOWN;
    if (!tool_is_good(entry))
        return JAW_EDOMAIN;
    if (!keep_tool(setup, &copy))
        return JAW_ENOMEM;
    setup->tools[i] = copy;
    return JAW_OK;
}

size_t jaw_setup_waits(const jaw_setup *setup)
{
    size_t n = 0;

    for (size_t i = 0; i < setup->n_tips; i++)
        n += waits(&setup->tips[i].link) ? 1 : 0;
    for (size_t i = 0; i < setup->n_setters; i++)
        n += waits(&setup->setters[i].link) ? 1 : 0;
    for (size_t i = 0; i < setup->n_tools; i++)
        n += waits(&setup->tools[i].link) ? 1 : 0;
    return n;
}

jaw_status jaw_setup_add_contact(jaw_setup *setup,
                                 const jaw_contact_entry *entry)
{
    jaw_contact_entry copy = *entry;
    bool ok = true;

    if (entry->surface == NULL || (entry->tool == 0 && entry->tip == NULL) ||
        !isfinite(entry->reading) || !(entry->between >= 0) ||
        isinf(entry->between))
        return JAW_EDOMAIN;
    copy.tip = jaw__pool_text(&setup->names, entry->tip, &ok);
    copy.surface = jaw__pool_text(&setup->names, entry->surface, &ok);
    if (!ok || !MAKE_ROOM(setup, contacts, room_contacts))
        return JAW_ENOMEM;
    setup->contacts[setup->n_contacts++] = copy;
    return JAW_OK;
}

static bool along_is_good(jaw_axis along)
{
    return along == JAW_X || along == JAW_Y || along == JAW_AXES;
}

static bool place_is_good(jaw_vec3 at)
{
    return isfinite(at.x) && isfinite(at.y) && !isinf(at.z);
}

jaw_status jaw_setup_add_zero(jaw_setup *setup, const jaw_zero_entry *entry)
{
    jaw_zero_entry copy = *entry;
    bool ok = true;

    if (entry->name == NULL || !known_is_good(entry->square_known) ||
        (entry->turn_use == JAW_TURN_STATED && !isfinite(entry->turn)) ||
        (entry->turn_use == JAW_TURN_FEATURE &&
         (entry->turn_feature == NULL || !along_is_good(entry->turn_along))) ||
        (entry->station != NULL && !place_is_good(entry->station_at)))
        return JAW_EDOMAIN;
    for (int a = JAW_X; a < JAW_AXES; a++)
        if (entry->term[a].feature != NULL && !isfinite(entry->term[a].at))
            return JAW_EDOMAIN;
    if (entry->index.table != NULL &&
        (entry->index.source == NULL || !isfinite(entry->index.to) ||
         isinf(entry->index.from)))
        return JAW_EDOMAIN;
    if (entry->station != NULL &&
        (entry->datums != NULL || entry->index.table != NULL))
        return JAW_EDOMAIN;
    copy.name = jaw__pool_text(&setup->names, entry->name, &ok);
    copy.turn_feature =
        jaw__pool_text(&setup->names, entry->turn_feature, &ok);
    copy.station = jaw__pool_text(&setup->names, entry->station, &ok);
    for (int a = JAW_X; a < JAW_AXES; a++)
        copy.term[a].feature =
            jaw__pool_text(&setup->names, entry->term[a].feature, &ok);
    copy.index.source = jaw__pool_text(&setup->names, entry->index.source, &ok);
    copy.index.table = jaw__pool_text(&setup->names, entry->index.table, &ok);
    copy.datums = jaw__pool_text(&setup->names, entry->datums, &ok);
    if (!ok || !MAKE_ROOM(setup, zeros, room_zeros))
        return JAW_ENOMEM;
    setup->zeros[setup->n_zeros++] = copy;
    return JAW_OK;
}

const char *jaw_setup_title(const jaw_setup *setup)
{
    return setup->title;
}

const jaw_control *jaw_setup_control(const jaw_setup *setup)
{
    return &setup->control;
}

const jaw_temperature *jaw_setup_temperature(const jaw_setup *setup)
{
    return setup->temperature_stated ? &setup->temperature : NULL;
}

const jaw_tip_entry *jaw_setup_tips(const jaw_setup *setup, size_t *n)
{
    *n = setup->n_tips;
    return setup->tips;
}

const jaw_feature_entry *jaw_setup_features(const jaw_setup *setup, size_t *n)
{
    *n = setup->n_features;
    return setup->features;
}

const jaw_touch *jaw_setup_touches(const jaw_setup *setup, size_t feature,
                                   size_t *n, size_t *first_wall)
{
    *n = *first_wall = 0;
    if (feature >= setup->n_features || setup->touches == NULL)
        return NULL;
    const jaw__share *share = &setup->shares[feature];
    *n = share->n_touches;
    *first_wall = share->first_wall;
    return setup->touches + share->first_touch;
}

const jaw_place *jaw_setup_touch_places(const jaw_setup *setup, size_t feature)
{
    if (feature >= setup->n_features || setup->touch_places == NULL)
        return NULL;
    return setup->touch_places + setup->shares[feature].first_touch;
}

const jaw_hole_entry *jaw_setup_holes(const jaw_setup *setup, size_t feature,
                                      size_t *n)
{
    *n = 0;
    if (feature >= setup->n_features || setup->holes == NULL)
        return NULL;
    *n = setup->shares[feature].n_holes;
    return setup->holes + setup->shares[feature].first_hole;
}

const jaw_aside_entry *jaw_setup_asides(const jaw_setup *setup, size_t feature,
                                        size_t *n)
{
    *n = 0;
    if (feature >= setup->n_features || setup->asides == NULL)
        return NULL;
    *n = setup->shares[feature].n_asides;
    return setup->asides + setup->shares[feature].first_aside;
}

const jaw_setter_entry *jaw_setup_setters(const jaw_setup *setup, size_t *n)
{
    *n = setup->n_setters;
    return setup->setters;
}

const jaw_tool_entry *jaw_setup_tools(const jaw_setup *setup, size_t *n)
{
    *n = setup->n_tools;
    return setup->tools;
}

const jaw_contact_entry *jaw_setup_contacts(const jaw_setup *setup, size_t *n)
{
    *n = setup->n_contacts;
    return setup->contacts;
}

const jaw_zero_entry *jaw_setup_zeros(const jaw_setup *setup, size_t *n)
{
    *n = setup->n_zeros;
    return setup->zeros;
}
