/* SPDX-License-Identifier: GPL-3.0-or-later */
/* solve.c: the order in which a setup is solved, and its solution. */
#include "solve.h"

#include <math.h>
#include <stdlib.h>

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
    sv->spindle_said = room_for(setup->n_tips, sizeof *sv->spindle_said);
    sv->feature_bad = room_for(setup->n_features, sizeof *sv->feature_bad);
    sv->tip_bad = room_for(setup->n_tips, sizeof *sv->tip_bad);
    out->features = room_for(setup->n_features, sizeof *out->features);
    out->resid =
        room_for(setup->n_touches + setup->n_holes, sizeof *out->resid);
    out->touch =
        room_for(setup->n_touches + setup->n_holes, sizeof *out->touch);
    out->aside = room_for(setup->n_asides, sizeof *out->aside);
    out->zeros = room_for(setup->n_zeros, sizeof *out->zeros);
    out->tools = room_for(setup->n_tools, sizeof *out->tools);
    out->surfaces = room_for(setup->n_features + setup->n_setters,
                             sizeof *out->surfaces);
    out->findings = room_for(setup->n_tasks, sizeof *out->findings);
    out->task_resid = room_for(setup->n_readings, sizeof *out->task_resid);
    sv->tables = room_for(setup->n_tasks, sizeof *sv->tables);
    sv->lies = room_for(setup->n_tasks, sizeof *sv->lies);
    sv->chains = room_for(setup->n_zeros, sizeof *sv->chains);
    return sv->tables && sv->lies && sv->chains && sv->nodes &&
           sv->repeat_said && sv->spindle_said && sv->tip_bad &&
           sv->feature_bad && out->features && out->resid && out->touch &&
           out->aside && out->zeros && out->tools && out->surfaces &&
           out->findings && out->task_resid;
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
            .trust = jaw__trust_none(),
        };
    }
}

/* Those that are no surface. */
static void take_heights(jaw__solver *sv)
{
    for (size_t f = 0; f < sv->setup->n_features; f++) {
        jaw_found *found = &sv->out->features[f];
        bool high = found->kind == JAW_BALL || found->kind == JAW_BAR;
        if (high && found->status == JAW_OK && sv->nodes[f].grounded)
            found->height = sv->nodes[f].value;
    }
}

/* A zero or a tool, and where its steps begin. */
static size_t *count_of(jaw_solution *out, size_t of)
{
    return of < out->n_zeros ? &out->zeros[of].n_steps
                             : &out->tools[of - out->n_zeros].n_steps;
}

static const jaw_step **steps_of(jaw_solution *out, size_t of)
{
    return of < out->n_zeros ? &out->zeros[of].steps
                             : &out->tools[of - out->n_zeros].steps;
}

/* A zero that follows from others is told after them: steps are put into the
 * order of zeros and tools, each with its own in the order of their coming. */
static void hand_out_steps(jaw__solver *sv)
{
    jaw_solution *out = sv->out;
    jaw_step *sorted = room_for(out->n_steps, sizeof *sorted);
    size_t at = 0;

    if (sorted == NULL) {
        sv->no_memory = true;
        return;
    }
    for (size_t k = 0; k < out->n_steps; k++)
        ++*count_of(out, out->step_of[k]);
    for (size_t of = 0; of < out->n_zeros + out->n_tools; of++) {
        *steps_of(out, of) = sorted + at;
        at += *count_of(out, of);
        *count_of(out, of) = 0;
    }
    for (size_t k = 0; k < out->n_steps; k++) {
        size_t of = out->step_of[k];
        size_t first = (size_t)(*steps_of(out, of) - sorted);
        sorted[first + (*count_of(out, of))++] = out->steps[k];
    }
    free(out->steps);
    out->steps = sorted;
}

/* Each step needs those before it. */
static void solve_all(jaw__solver *sv)
{
    jaw__tell_twice(sv);
    jaw__solve_features(sv);
    jaw__solve_heights(sv);
    jaw__solve_joint(sv);
    jaw__solve_tables(sv);
    jaw__solve_lies(sv);
    jaw__solve_zeros(sv);
    jaw__solve_tools(sv);
    list_surfaces(sv);
    jaw__solve_worth(sv);
    jaw__judge_sizes(sv);
    jaw__try_rounds(sv);
    take_heights(sv);
    hand_out_steps(sv);
}

static void solver_drop(jaw__solver *sv)
{
    jaw__drop_joint(sv);
    jaw__turn_back(sv);
    free(sv->nodes);
    free(sv->tables);
    free(sv->lies);
    free(sv->chains);
    free(sv->repeat_said);
    free(sv->spindle_said);
    free(sv->tip_bad);
    free(sv->feature_bad);
}

jaw_status jaw_setup_solve(const jaw_setup *setup, jaw_notes *notes,
                           jaw_solution **solution)
{
    jaw__solver sv = {.setup = setup, .notes = notes};
    size_t before = jaw_notes_count(notes), waits = jaw_setup_waits(setup);
    jaw_setup over;

    *solution = sv.out = calloc(1, sizeof *sv.out);
    if (sv.out == NULL)
        return JAW_ENOMEM;
    if (waits > 0) {
        jaw__tell(&sv, SAY_WAITS, (jaw_place){0}, NULL, waits);
    } else if (jaw__turn_over(&sv, &over) && solution_make_room(&sv)) {
        solve_all(&sv);
        jaw_notes_sort(notes, before);
    } else {
        sv.no_memory = true;
    }
    solver_drop(&sv);
    if (!sv.no_memory)
        return sv.first;
    jaw_solution_free(sv.out);
    *solution = NULL;
    return JAW_ENOMEM;
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
    free(solution->step_of);
    free(solution->budget);
    free(solution->weighed);
    free(solution->findings);
    free(solution->task_resid);
    free(solution->items);
    free(solution->advice);
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
