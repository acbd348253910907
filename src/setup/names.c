/* SPDX-License-Identifier: GPL-3.0-or-later */
/* names.c: what a name or a number in a setup stands for, what a person most
 * likely meant by one that is not there, and what is taken where nothing is
 * stated. */
#include "solve.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

long jaw__find_tip(const jaw_setup *setup, const char *name)
{
    for (size_t i = 0; name != NULL && i < setup->n_tips; i++)
        if (strcmp(setup->tips[i].name, name) == 0)
            return (long)i;
    return JAW__NOWHERE;
}

long jaw__find_feature(const jaw_setup *setup, const char *name)
{
    for (size_t i = 0; name != NULL && i < setup->n_features; i++)
        if (strcmp(setup->features[i].name, name) == 0)
            return (long)i;
    return JAW__NOWHERE;
}

long jaw__find_setter(const jaw_setup *setup, const char *name)
{
    for (size_t i = 0; name != NULL && i < setup->n_setters; i++)
        if (strcmp(setup->setters[i].name, name) == 0)
            return (long)i;
    return JAW__NOWHERE;
}

bool jaw__has_height(jaw_feature_kind kind)
{
    return kind == JAW_FACE || kind == JAW_BALL || kind == JAW_BAR;
}

bool jaw__is_indicated(jaw_feature_kind kind)
{
    return kind == JAW_SWEEP || kind == JAW_DIAL;
}

bool jaw__centre_of_found(const jaw_found *found, jaw_vec2 *centre)
{
    switch (found->kind) {
    case JAW_BORE:
    case JAW_BOSS: *centre = found->as.round.centre; return true;
    case JAW_DIAL: *centre = found->as.dial.centre; return true;
    case JAW_BALL:
        *centre = (jaw_vec2){found->as.ball.centre.x,
                             found->as.ball.centre.y};
        return true;
    default: return false;
    }
}

bool jaw__height_node(const jaw__solver *sv, const char *name, size_t *node)
{
    long f = jaw__find_feature(sv->setup, name);
    long s = jaw__find_setter(sv->setup, name);

    if (f != JAW__NOWHERE && jaw__has_height(sv->setup->features[f].kind))
        *node = jaw__feature_node(sv, (size_t)f);
    else if (f == JAW__NOWHERE && s != JAW__NOWHERE)
        *node = jaw__setter_node(sv, (size_t)s);
    else
        return false;
    return true;
}

bool jaw__surface_node(const jaw__solver *sv, const char *name, size_t *node)
{
    long f = jaw__find_feature(sv->setup, name);
    long s = jaw__find_setter(sv->setup, name);

    if (f != JAW__NOWHERE && sv->setup->features[f].kind == JAW_FACE)
        *node = jaw__feature_node(sv, (size_t)f);
    else if (s != JAW__NOWHERE)
        *node = jaw__setter_node(sv, (size_t)s);
    else
        return false;
    return true;
}

const jaw_zero_entry *jaw__first_height(const jaw__solver *sv, size_t *node)
{
    const jaw_setup *setup = sv->setup;

    for (size_t i = 0; i < setup->n_zeros; i++)
        if (jaw__height_node(sv, setup->zeros[i].term[JAW_Z].feature, node))
            return &setup->zeros[i];
    return NULL;
}

long jaw__find_tool(const jaw_setup *setup, int number)
{
    for (size_t i = 0; i < setup->n_tools; i++)
        if (setup->tools[i].number == number)
            return (long)i;
    return JAW__NOWHERE;
}

/* Names of a kind, handed one by one to the search for the nearest. */
enum { HINT_NAMES = 64 };

static jaw__text hint_from(const char *name, const char *const names[],
                           size_t n, const char *what)
{
    const char *near = jaw_word_nearest(name, names, n);
    jaw__text text;

    if (near != NULL)
        snprintf(text.s, sizeof text.s, "did you mean '%.40s'?", near);
    else if (n == 0)
        snprintf(text.s, sizeof text.s, "add an entry for it: no %s is there",
                 what);
    else
        snprintf(text.s, sizeof text.s, "add a %s of that name", what);
    return text;
}

jaw__text jaw__tip_hint(const jaw_setup *setup, const char *name)
{
    const char *names[HINT_NAMES];
    size_t n = 0;

    for (size_t i = 0; i < setup->n_tips && n < HINT_NAMES; i++)
        names[n++] = setup->tips[i].name;
    return hint_from(name, names, n, "tip");
}

jaw__text jaw__feature_hint(const jaw_setup *setup, const char *name)
{
    const char *names[HINT_NAMES];
    size_t n = 0;

    for (size_t i = 0; i < setup->n_features && n < HINT_NAMES; i++)
        names[n++] = setup->features[i].name;
    return hint_from(name, names, n, "feature");
}

jaw__text jaw__surface_hint(const jaw_setup *setup, const char *name)
{
    const char *names[HINT_NAMES];
    size_t n = 0;

    for (size_t i = 0; i < setup->n_features && n < HINT_NAMES; i++)
        if (setup->features[i].kind == JAW_FACE)
            names[n++] = setup->features[i].name;
    for (size_t i = 0; i < setup->n_setters && n < HINT_NAMES; i++)
        names[n++] = setup->setters[i].name;
    return hint_from(name, names, n, "face, setter, vise or stock");
}

jaw__text jaw__task_hint(const jaw_setup *setup, jaw_task_kind kind,
                         const char *name)
{
    const char *names[HINT_NAMES];
    char what[40];
    size_t n = 0;

    for (size_t i = 0; i < setup->n_tasks && n < HINT_NAMES; i++)
        if (setup->tasks[i].kind == kind)
            names[n++] = setup->tasks[i].name;
    snprintf(what, sizeof what, "%s entry", jaw_task_word(kind));
    return hint_from(name, names, n, what);
}

const jaw_task *jaw__find_task(const jaw_setup *setup, jaw_task_kind kind,
                               const char *name)
{
    for (size_t i = 0; name != NULL && i < setup->n_tasks; i++)
        if (setup->tasks[i].kind == kind &&
            strcmp(setup->tasks[i].name, name) == 0)
            return &setup->tasks[i];
    return NULL;
}

size_t jaw__task_number(const jaw_setup *setup, const jaw_task *task)
{
    return (size_t)(task - setup->tasks);
}

jaw_tip jaw__tip_of(const jaw_setup *setup, const jaw_feature_entry *entry)
{
    long at = jaw__find_tip(setup, entry->tip);

    return at == JAW__NOWHERE ? jaw_tip_make(JAW_TIP_CYLINDER, 0)
                              : setup->tips[at].tip;
}

double jaw__repeat_of(const jaw_tip *tip)
{
    return isnan(tip->repeat) ? JAW_REPEAT_DEFAULT : tip->repeat;
}

double jaw__repeat_at(const jaw_setup *setup, const jaw_feature_entry *entry)
{
    jaw_tip tip = jaw__tip_of(setup, entry);

    return entry->repeat > 0 ? entry->repeat : jaw__repeat_of(&tip);
}

double jaw__growth_of(const jaw_setup *setup, double *u)
{
    const jaw_temperature *t = &setup->temperature;
    double above = t->at - JAW_REFERENCE_DEGREES;

    if (u != NULL)
        *u = setup->temperature_stated
                 ? hypot(hypot(t->expansion * t->at_known,
                               above * t->expansion_known),
                         t->at_known * t->expansion_known)
                 : 0;
    return setup->temperature_stated ? t->expansion * above : 0;
}

double jaw__square_of(const jaw_zero_entry *zero)
{
    return zero != NULL && zero->square_known > 0 ? zero->square_known
                                                  : JAW_SQUARE_DEFAULT;
}

jaw_side jaw__side_of(const jaw_feature_entry *entry)
{
    return entry->faces != JAW_SIDE_NONE ? entry->faces
                                         : jaw_side_opposite(entry->moving);
}

size_t jaw__feature_node(const jaw__solver *sv, size_t feature)
{
    (void)sv;
    return feature;
}

size_t jaw__setter_node(const jaw__solver *sv, size_t setter)
{
    return sv->setup->n_features + setter;
}

size_t jaw__tool_node(const jaw__solver *sv, size_t tool)
{
    return sv->setup->n_features + sv->setup->n_setters + sv->setup->n_tips +
           tool;
}

/* A tip that is a tool shares the tool's node. */
size_t jaw__tip_node(const jaw__solver *sv, size_t tip)
{
    const jaw_setup *setup = sv->setup;
    long tool = jaw__find_tool(setup, setup->tips[tip].tool);

    if (setup->tips[tip].tool != 0 && tool != JAW__NOWHERE)
        return jaw__tool_node(sv, (size_t)tool);
    return setup->n_features + setup->n_setters + tip;
}

jaw__text jaw__line_text(const jaw_setup *setup, jaw_place place)
{
    jaw__text text;

    if (place.source == 0)
        snprintf(text.s, sizeof text.s, "line %d", place.line);
    else
        snprintf(text.s, sizeof text.s, "line %d of %.40s", place.line,
                 jaw_setup_source(setup, place.source));
    return text;
}
