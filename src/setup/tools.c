/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tools.c: what to enter in each tool's length register, from the chain of
 * heights and by the control's convention. */
#include "solve.h"

#include <math.h>
#include <stdio.h>

static jaw_tool_found tool_nan(int number)
{
    const double nan = (double)NAN;

    return (jaw_tool_found){.number = number,
                            .length = nan,
                            .tip_to_part = nan,
                            .reference = nan,
                            .value = nan,
                            .enter = nan,
                            .rms = nan,
                            .trust = jaw__trust_none(),
                            .since = nan,
                            .since_limit = nan};
}

/* Z of the first work zero that asks for one, against its chain of heights. */
static const jaw__node *first_zero(const jaw__solver *sv, double *at)
{
    size_t node;
    const jaw_zero_entry *first = jaw__first_height(sv, &node);

    if (first == NULL)
        return NULL;
    *at = first->term[JAW_Z].at;
    return &sv->nodes[node];
}

static const jaw__node *reference_node(const jaw__solver *sv)
{
    const jaw_control *c = &sv->setup->control;
    long tool = jaw__find_tool(sv->setup, c->reference);

    if (c->lengths != JAW_REFERENCE_TOOL || tool == JAW__NOWHERE)
        return NULL;
    return &sv->nodes[jaw__tool_node(sv, (size_t)tool)];
}

/* node->value is -L, so each convention is a difference of two nodes. */
static void find_lengths(const jaw__solver *sv, const jaw__node *node,
                         jaw_tool_found *tool)
{
    double at;
    const jaw__node *zero = first_zero(sv, &at);
    const jaw__node *ref = reference_node(sv);

    if (node->grounded)
        tool->length = -node->value;
    if (zero != NULL && zero->n_obs > 0 && zero->chain == node->chain)
        tool->tip_to_part = zero->value - at - node->value;
    if (ref != NULL && ref->chain == node->chain)
        tool->reference = ref->value - node->value;
    switch (sv->setup->control.lengths) {
    case JAW_TIP_TO_PART: tool->value = tool->tip_to_part; break;
    case JAW_REFERENCE_TOOL: tool->value = tool->reference; break;
    default: tool->value = tool->length; break;
    }
}

static void say_missing(jaw__solver *sv, const jaw_tool_entry *e)
{
    const jaw_control *c = &sv->setup->control;
    char tool[24];

    switch (c->lengths) {
    case JAW_TIP_TO_PART:
        jaw__tell(sv, SAY_TOOL_NO_ZERO, e->place, NULL, e->number);
        break;
    case JAW_REFERENCE_TOOL:
        snprintf(tool, sizeof tool, "tool %d", e->number);
        jaw__tell(sv, SAY_NO_REFERENCE, e->place, "the setter", tool,
                 c->reference);
        break;
    default:
        jaw__tell(sv, SAY_TOOL_NO_LENGTH, e->place, NULL, e->number);
        break;
    }
}

/* ------------------------------------------------------------------- working */

static double surface_z(const jaw__solver *sv, const char *name)
{
    long f = jaw__find_feature(sv->setup, name);
    long s = jaw__find_setter(sv->setup, name);

    if (f != JAW__NOWHERE)
        return sv->nodes[jaw__feature_node(sv, (size_t)f)].value;
    if (s != JAW__NOWHERE)
        return sv->nodes[jaw__setter_node(sv, (size_t)s)].value;
    return (double)NAN;
}

static void step_tool(jaw__solver *sv, const jaw_tool_entry *e,
                      const jaw__node *node, const jaw_tool_found *tool)
{
    const jaw_control *c = &sv->setup->control;
    const jaw_contact_entry *contacts = sv->setup->contacts;

    for (size_t i = 0; i < sv->setup->n_contacts; i++) {
        if (contacts[i].tool != e->number)
            continue;
        jaw__step(sv, contacts[i].reading, JAW_LENGTH, "reading on '%s'",
                  contacts[i].surface);
        if (contacts[i].between > 0)
            jaw__step(sv, -contacts[i].between, JAW_LENGTH,
                      "less what lay between");
        if (node->grounded)
            jaw__step(sv, -surface_z(sv, contacts[i].surface), JAW_LENGTH,
                      "less machine Z of '%s'", contacts[i].surface);
    }
    if (!isnan(e->length) && e->above != NULL)
        jaw__step(sv, e->length, JAW_LENGTH, "length above '%s', from the book",
                  e->above);
    else if (!isnan(e->length))
        jaw__step(sv, e->length, JAW_LENGTH,
                  e->link.wanted ? "length from the book" : "length as stated");
    if (!isnan(tool->length))
        jaw__step(sv, tool->length, JAW_LENGTH, "length from the gauge line");
    jaw__step(sv, tool->value, JAW_LENGTH, "register: %s",
              jaw_length_text(c->lengths));
    jaw__step(sv, tool->enter, JAW_LENGTH, "rounded to the control's step");
}

/* -------------------------------------------------------------------- doubts */

static void judge_same_reading(jaw__solver *sv, const jaw_tool_entry *e)
{
    const jaw_contact_entry *c = sv->setup->contacts;

    for (size_t i = 0; i < sv->setup->n_contacts; i++)
        for (size_t j = 0; j < i; j++)
            if (c[i].tool == e->number && c[j].tool != 0 &&
                c[j].tool != c[i].tool && c[i].reading == c[j].reading &&
                c[i].between == c[j].between &&
                jaw__find_feature(sv->setup, c[i].surface) ==
                    jaw__find_feature(sv->setup, c[j].surface) &&
                jaw__find_setter(sv->setup, c[i].surface) ==
                    jaw__find_setter(sv->setup, c[j].surface)) {
                jaw__tell(sv, SAY_TOOL_SAME, c[i].place, NULL, e->number,
                         c[i].surface, c[j].tool);
                return;
            }
}

/* mm.  Common practice, no source: on a small mill no tool in its holder comes
 * near this. */
#define LENGTH_MAX 400

static void judge_tool(jaw__solver *sv, const jaw_tool_entry *e,
                       const jaw__node *node, jaw_tool_found *tool)
{
    if (tool->length <= 0 || tool->length > LENGTH_MAX)
        jaw__tell(sv, SAY_TOOL_SIGN, e->place, NULL, e->number,
                 jaw__length_text(sv, tool->length).s);
    if (node->worst > 0 && !e->link.wanted) { /* else see judge_since */
        tool->flags |= JAW_RESIDUAL;
        jaw__tell(sv, SAY_TOOL_CONFLICT, e->place, NULL, e->number,
                 jaw__length_text(sv, node->worst).s);
    }
    judge_same_reading(sv, e);
}

static size_t count_contacts(const jaw_setup *setup, int number)
{
    size_t n = 0;

    for (size_t i = 0; i < setup->n_contacts; i++)
        n += setup->contacts[i].tool == number ? 1 : 0;
    return n;
}

static void solve_tool(jaw__solver *sv, size_t i)
{
    const jaw_tool_entry *e = &sv->setup->tools[i];
    const jaw__node *node = &sv->nodes[jaw__tool_node(sv, i)];
    jaw_tool_found *tool = &sv->out->tools[i];

    sv->step_of = sv->setup->n_zeros + i;
    *tool = tool_nan(e->number);
    tool->n_contacts = count_contacts(sv->setup, e->number);
    tool->status = JAW_EUNKNOWN;
    if (jaw__find_tool(sv->setup, e->number) != (long)i) {
        tool->status = JAW_ECONFLICT;
        jaw__tell(sv, SAY_TOOL_TWICE, e->place, NULL, e->number);
        return;
    }
    if (node->n_obs == 0) {
        if (tool->n_contacts == 0) /* else what it touched was not found */
            jaw__tell(sv, SAY_TOOL_UNTOUCHED, e->place, NULL, e->number);
        return;
    }
    find_lengths(sv, node, tool);
    if (isnan(tool->value)) {
        say_missing(sv, e);
        return;
    }
    tool->status = JAW_OK;
    tool->enter = jaw_round_to_step(tool->value, sv->setup->control.step);
    tool->dof = node->dof;
    if (node->n_checked > 0)
        tool->rms = sqrt(node->ssr / (double)node->n_checked);
    else
        tool->flags |= JAW_NO_CHECK;
    step_tool(sv, e, node, tool);
    judge_tool(sv, e, node, tool);
}

void jaw__solve_tools(jaw__solver *sv)
{
    sv->out->n_tools = sv->setup->n_tools;
    for (size_t i = 0; i < sv->setup->n_tools; i++)
        solve_tool(sv, i);
}
