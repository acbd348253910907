/* SPDX-License-Identifier: GPL-3.0-or-later */
/* solve.c: the order in which a setup is solved, and what the parts share. */
#include "solve.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct {
    jaw_severity severity;
    jaw_status status;
    const char *what, *cure;
} messages[JAW__MESSAGES] = {
#define MESSAGE_ROW(id, severity, status, what, cure)                          \
    [id] = {severity, status, what, cure},
    JAW__SETUP_MESSAGES(MESSAGE_ROW)
#undef MESSAGE_ROW
};

/* The formats are the literals of messages.h, so they may be passed on. */
#if defined(__GNUC__)
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
#endif

void jaw__tell(jaw__solver *sv, enum jaw__message id, jaw_place place,
              const char *hint, ...)
{
    char what[400], cure[300];
    va_list args;

    va_start(args, hint);
    vsnprintf(what, sizeof what, messages[id].what, args);
    va_end(args);
    snprintf(cure, sizeof cure, messages[id].cure, hint == NULL ? "" : hint);
    if (sv->first == JAW_OK)
        sv->first = messages[id].status;
    sv->slip_said = sv->slip_said || id == SAY_RESIDUAL || id == SAY_SLIP ||
                    id == SAY_SUSPECTS ||
                    id == SAY_HOLE_OFF || id == SAY_KNOWN_SIZE ||
                    id == SAY_SCALE ||
                    id == SAY_MIRRORED || id == SAY_TOOL_CONFLICT ||
                    id == SAY_HEIGHT_CONFLICT;
    if (jaw_notes_add(sv->notes, messages[id].severity, messages[id].status,
                      NULL, place, NULL, cure, "%s", what) != JAW_OK)
        sv->no_memory = true;
}

#if defined(__GNUC__)
#pragma GCC diagnostic pop
#endif

void jaw__step(jaw__solver *sv, double value, jaw_quantity quantity,
               const char *format, ...)
{
    jaw_solution *out = sv->out;
    char text[300];
    va_list args;
    bool ok = true;

    va_start(args, format);
    vsnprintf(text, sizeof text, format, args);
    va_end(args);
    const char *copy = jaw__pool_text(&out->names, text, &ok);
    jaw_step *steps =
        jaw__grow(out->steps, out->n_steps, &out->room_steps, sizeof *steps);
    if (steps != NULL)
        out->steps = steps;
    if (!ok || steps == NULL) {
        sv->no_memory = true;
        return;
    }
    steps[out->n_steps++] = (jaw_step){copy, value, quantity};
}

static jaw__text length_text(const jaw__solver *sv, double mm, int more)
{
    const jaw_control *control = &sv->setup->control;
    double unit = jaw_unit_mm(control->unit);
    char number[48];
    jaw__text text;

    jaw_number_write(mm / unit, jaw_step_decimals(control->step / unit) + more,
                     number, sizeof number);
    snprintf(text.s, sizeof text.s, "%s %s", number,
             jaw_unit_word(control->unit));
    return text;
}

jaw__text jaw__length_text(const jaw__solver *sv, double mm)
{
    return length_text(sv, mm, 0);
}

jaw__text jaw__fine_text(const jaw__solver *sv, double mm)
{
    return length_text(sv, mm, 1);
}

jaw__text jaw__angle_text(double rad)
{
    char number[48];
    jaw__text text;

    jaw_number_write(jaw_deg(rad), 3, number, sizeof number);
    snprintf(text.s, sizeof text.s, "%s deg", number);
    return text;
}

/* ------------------------------------------------------------------- names */

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
    return hint_from(name, names, n, "face or setter");
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

/* ------------------------------------------------------------------- solve */

static void *room_for(size_t n, size_t size)
{
    return calloc(n == 0 ? 1 : n, size);
}

static bool solution_make_room(jaw__solver *sv)
{
    const jaw_setup *setup = sv->setup;
    jaw_solution *out = sv->out;

    sv->n_nodes = jaw__tool_node(sv, setup->n_tools);
    sv->nodes = room_for(sv->n_nodes, sizeof *sv->nodes);
    sv->repeat_said = room_for(setup->n_tips, sizeof *sv->repeat_said);
    out->features = room_for(setup->n_features, sizeof *out->features);
    out->resid =
        room_for(setup->n_touches + setup->n_holes, sizeof *out->resid);
    out->touch =
        room_for(setup->n_touches, sizeof *out->touch);
    out->aside = room_for(setup->n_asides, sizeof *out->aside);
    out->zeros = room_for(setup->n_zeros, sizeof *out->zeros);
    out->tools = room_for(setup->n_tools, sizeof *out->tools);
    out->surfaces = room_for(setup->n_features + setup->n_setters,
                             sizeof *out->surfaces);
    return sv->nodes && sv->repeat_said && out->features && out->resid && out->touch &&
           out->aside && out->zeros && out->tools && out->surfaces;
}

static void list_surfaces(jaw__solver *sv)
{
    const jaw_setup *setup = sv->setup;
    jaw_solution *out = sv->out;

    for (size_t i = 0; i < setup->n_features + setup->n_setters; i++) {
        bool setter = i >= setup->n_features;
        if (!setter && setup->features[i].kind != JAW_FACE)
            continue;
        const jaw__node *node = &sv->nodes[i];
        out->surfaces[out->n_surfaces++] = (jaw_surface_found){
            .name = setter ? setup->setters[i - setup->n_features].name
                           : setup->features[i].name,
            .z = node->grounded ? node->value : (double)NAN,
            .is_setter = setter,
        };
    }
}

/* Steps were counted from the start of one growing array. */
static void hand_out_steps(jaw_solution *out)
{
    const jaw_step *at = out->steps;

    for (size_t i = 0; i < out->n_zeros; i++) {
        out->zeros[i].steps = at;
        if (at != NULL)
            at += out->zeros[i].n_steps;
    }
    for (size_t i = 0; i < out->n_tools; i++) {
        out->tools[i].steps = at;
        if (at != NULL)
            at += out->tools[i].n_steps;
    }
}

jaw_status jaw_setup_solve(const jaw_setup *setup, jaw_notes *notes,
                           jaw_solution **solution)
{
    jaw__solver sv = {.setup = setup, .notes = notes};
    size_t before = jaw_notes_count(notes);

    *solution = sv.out = calloc(1, sizeof *sv.out);
    if (sv.out == NULL)
        return JAW_ENOMEM;
    if (solution_make_room(&sv)) {
        jaw__solve_features(&sv);
        jaw__solve_heights(&sv);
        jaw__solve_joint(&sv);
        jaw__solve_zeros(&sv);
        jaw__solve_tools(&sv);
        jaw__solve_worth(&sv);
        jaw__judge_sizes(&sv);
        jaw__try_rounds(&sv);
        list_surfaces(&sv);
        hand_out_steps(sv.out);
        jaw_notes_sort(notes, before);
    } else {
        sv.no_memory = true;
    }
    jaw__drop_joint(&sv);
    free(sv.nodes);
    free(sv.repeat_said);
    if (sv.no_memory) {
        jaw_solution_free(sv.out);
        *solution = NULL;
        return JAW_ENOMEM;
    }
    return sv.first;
}

void jaw_solution_free(jaw_solution *solution)
{
    if (solution == NULL)
        return;
    jaw__pool_drop(&solution->names);
    free(solution->features);
    free(solution->resid);
    free(solution->touch);
    free(solution->aside);
    free(solution->zeros);
    free(solution->tools);
    free(solution->surfaces);
    free(solution->steps);
    free(solution);
}

const jaw_found *jaw_solution_features(const jaw_solution *s, size_t *n)
{
    *n = s->n_features;
    return s->features;
}

const jaw_zero_found *jaw_solution_zeros(const jaw_solution *s, size_t *n)
{
    *n = s->n_zeros;
    return s->zeros;
}

const jaw_tool_found *jaw_solution_tools(const jaw_solution *s, size_t *n)
{
    *n = s->n_tools;
    return s->tools;
}

const jaw_surface_found *jaw_solution_surfaces(const jaw_solution *s,
                                               size_t *n)
{
    *n = s->n_surfaces;
    return s->surfaces;
}

jaw_solution_quality jaw_solution_total(const jaw_solution *s)
{
    return s->total;
}
