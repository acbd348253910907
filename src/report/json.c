/* SPDX-License-Identifier: GPL-3.0-or-later */
/* json.c: a solved setup as one JSON object. */
#include "findings.h"
#include "linked.h"

#include <math.h>

typedef struct page {
    const jaw_setup *setup;
    const jaw_solution *solution;
    const jaw_control *control;
    jaw_unit unit;
    bool explain;
    unsigned flags; /* of everything */
    bool failed;
} page;

static void put(page *p, json_t *object, const char *key, json_t *value)
{
    jaw__json_put(object, key, value, &p->failed);
}

static void push(page *p, json_t *array, json_t *value)
{
    jaw__json_push(array, value, &p->failed);
}

static json_t *length(const page *p, double mm)
{
    return jaw__json_length(mm, p->unit);
}

static void put_status(page *p, json_t *object, jaw_status status)
{
    put(p, object, "solved", json_boolean(status == JAW_OK));
    put(p, object, "status", jaw__json_text(jaw_status_text(status)));
}

static void put_flags(page *p, json_t *object, unsigned flags)
{
    p->flags |= flags;
    put(p, object, "flags", jaw__json_flags(flags));
}

/* ---------------------------------------------------------- values to enter */

static json_t *register_value(page *p, const char *name, const char *word,
                              json_t *value, json_t *exact)
{
    json_t *object = json_object();
    put(p, object, "register", jaw__json_text(name));
    put(p, object, "word", jaw__json_text(word));
    put(p, object, "value", value);
    put(p, object, "exact", exact);
    return object;
}

/* Only for a text that the sheet includes: the sheet's own name is the
 * caller's. */
static void put_source(page *p, json_t *object, const char *key,
                       jaw_place place)
{
    if (place.source > 0)
        put(p, object, key,
            jaw__json_text(jaw_setup_source(p->setup, place.source)));
}

/* Largest first; the squares of their u add up to that of the value's. */
static void put_budget(page *p, json_t *object, const jaw_value_trust *t,
                       bool angle)
{
    if (!p->explain)
        return;
    json_t *array = json_array();
    for (size_t i = 0; i < t->n_budget; i++) {
        const jaw_budget_line *line = &t->budget[i];
        json_t *row = json_object();
        put(p, row, "source", jaw__json_text(line->text));
        put(p, row, "u",
            angle ? jaw__json_degrees(line->u) : length(p, line->u));
        put(p, row, "dof",
            jaw__json_real(isinf(line->dof) ? (double)NAN : line->dof));
        push(p, array, row);
    }
    put(p, object, "budget", array);
    put(p, object, "cover",
        jaw__json_real(t->u > 0 ? t->half95 / t->u : (double)NAN));
}

/* Degrees of freedom and reach without bound are null, and said in words. */
static void put_trust(page *p, json_t *object, const jaw_value_trust *t,
                      bool angle)
{
    bool unseen = isinf(t->unnoticed);
    double reach = unseen ? (double)NAN : t->unnoticed;
    put(p, object, "u", angle ? jaw__json_degrees(t->u) : length(p, t->u));
    put(p, object, "half95",
        angle ? jaw__json_degrees(t->half95) : length(p, t->half95));
    put(p, object, "dof", jaw__json_real(isinf(t->dof) ? (double)NAN : t->dof));
    put(p, object, "unnoticed",
        angle ? jaw__json_degrees(reach) : length(p, reach));
    put(p, object, "checked",
        isnan(t->unnoticed) ? json_null() : json_boolean(!unseen));
    put(p, object, "unnoticed_line", json_integer(t->where.line));
    put_source(p, object, "unnoticed_file", t->where);
    put_budget(p, object, t, angle);
}

static void put_next(page *p, json_t *object, const jaw_next *next, bool angle)
{
    if (!next->text) {
        put(p, object, "next", json_null());
        return;
    }
    json_t *touch = json_object();
    put(p, touch, "touch", jaw__json_text(next->text));
    put(p, touch, "half95",
        angle ? jaw__json_degrees(next->half95) : length(p, next->half95));
    put(p, touch, "checks", json_boolean(next->checks));
    put(p, object, "next", touch);
}

static void push_zero_values(page *p, json_t *values,
                             const jaw_zero_entry *entry,
                             const jaw_zero_found *zero)
{
    static const char *const word[JAW_AXES] = {"X", "Y", "Z"};
    double enter[JAW_AXES] = {zero->enter.x, zero->enter.y, zero->enter.z};
    double exact[JAW_AXES] = {zero->zero.x, zero->zero.y, zero->zero.z};
    for (int a = 0; a < JAW_AXES; a++) {
        if (!entry->term[a].feature && isnan(enter[a]))
            continue;
        json_t *object = register_value(p, zero->name, word[a],
                                        length(p, enter[a]),
                                        length(p, exact[a]));
        put_trust(p, object, &zero->trust[a], false);
        put_next(p, object, &zero->next[a], false);
        push(p, values, object);
    }
    if (!p->control->can_turn ||
        (entry->turn_use == JAW_TURN_NONE && isnan(zero->turn)))
        return;
    json_t *object =
        register_value(p, zero->name, "turn", jaw__json_degrees(zero->turn),
                       jaw__json_degrees(zero->skew));
    put_trust(p, object, &zero->turn_trust, true);
    put_next(p, object, &zero->turn_next, true);
    push(p, values, object);
}

static json_t *all_values(page *p)
{
    size_t n, m;
    json_t *values = json_array();
    const jaw_zero_found *zeros = jaw_solution_zeros(p->solution, &n);
    const jaw_zero_entry *entries = jaw_setup_zeros(p->setup, &m);
    for (size_t i = 0; i < n && i < m; i++)
        push_zero_values(p, values, &entries[i], &zeros[i]);
    const jaw_tool_found *tools = jaw_solution_tools(p->solution, &n);
    for (size_t i = 0; i < n; i++) {
        json_t *object = json_object();
        put(p, object, "tool", json_integer(tools[i].number));
        put(p, object, "word", jaw__json_text("length"));
        put(p, object, "value", length(p, tools[i].enter));
        put(p, object, "exact", length(p, tools[i].value));
        put_trust(p, object, &tools[i].trust, false);
        push(p, values, object);
    }
    return values;
}

/* ----------------------------------------------------------------- the rest */

static void put_steps(page *p, json_t *object, const jaw_step *steps, size_t n)
{
    if (!p->explain)
        return;
    json_t *array = json_array();
    for (size_t i = 0; i < n; i++) {
        json_t *step = json_object();
        put(p, step, "text", jaw__json_text(steps[i].text));
        put(p, step, steps[i].quantity == JAW_ANGLE ? "angle_deg" : "length",
            steps[i].quantity == JAW_ANGLE ? jaw__json_degrees(steps[i].value)
                                           : length(p, steps[i].value));
        push(p, array, step);
    }
    put(p, object, "steps", array);
}

static json_t *all_zeros(page *p)
{
    size_t n;
    const jaw_zero_found *z = jaw_solution_zeros(p->solution, &n);
    json_t *array = json_array();
    for (size_t i = 0; i < n; i++) {
        json_t *object = json_object();
        put(p, object, "register", jaw__json_text(z[i].name));
        put_status(p, object, z[i].status);
        put(p, object, "skew_deg", jaw__json_degrees(z[i].skew));
        put(p, object, "off_square_deg", jaw__json_degrees(z[i].squareness));
        put(p, object, "far_part", jaw__json_point(z[i].far_work, p->unit));
        put(p, object, "far_off", jaw__json_point(z[i].far_cost, p->unit));
        put(p, object, "tap", length(p, z[i].tap));
        put(p, object, "tap_over", length(p, z[i].tap_span));
        put_steps(p, object, z[i].steps, z[i].n_steps);
        put_flags(p, object, z[i].flags);
        push(p, array, object);
    }
    return array;
}

static void put_touches(page *p, json_t *object, const jaw_found *found)
{
    json_t *redundancy = json_array(), *standard = json_array();
    json_t *noticeable = json_array(), *limit = json_array();
    for (size_t i = 0; found->touch && i < found->n; i++) {
        const jaw_touch_trust *t = &found->touch[i];
        double slip = isinf(t->noticeable) ? (double)NAN : t->noticeable;
        push(p, redundancy, jaw__json_real(t->redundancy));
        push(p, standard, jaw__json_real(t->standard));
        push(p, limit, jaw__json_real(t->limit));
        push(p, noticeable, length(p, slip));
    }
    put(p, object, "redundancy", redundancy);
    put(p, object, "standardised", standard);
    put(p, object, "doubted_beyond", limit);
    put(p, object, "noticeable", noticeable);
}

static void put_size(page *p, json_t *object, const jaw_found *found)
{
    static const char *const verdict[] = {
        [JAW_FITS] = "fits",
        [JAW_DOES_NOT] = "does not fit",
        [JAW_CAN_NOT_TELL] = "can not tell",
    };
    put(p, object, "size_u", length(p, found->size.u));
    put(p, object, "size_half95", length(p, found->size.half95));
    put(p, object, "verdict",
        jaw__json_text(found->decided ? verdict[found->verdict] : NULL));
}

static json_t *half_degrees(const jaw_value_trust *t)
{
    return jaw__json_degrees(t->half95);
}

/* What only some kinds have. */
static void put_own(page *p, json_t *object, const jaw_feature_entry *entry,
                    const jaw_found *found)
{
    switch (found->kind) {
    case JAW_BALL:
        put(p, object, "machine_z", length(p, found->height));
        break;
    case JAW_BAR:
        put(p, object, "machine_z", length(p, found->height));
        put(p, object, "direction_half95_deg", half_degrees(&found->turn));
        break;
    case JAW_SWEEP:
        put(p, object, "skew_half95_deg", half_degrees(&found->turn));
        put(p, object, "after", jaw__json_text(entry->after));
        put(p, object, "changed_deg", jaw__json_degrees(found->changed));
        put(p, object, "changed_half95_deg",
            half_degrees(&found->changed_trust));
        break;
    case JAW_DIAL:
        put(p, object, "centre_half95",
            jaw__json_point((jaw_vec2){found->centre[0].half95,
                                       found->centre[1].half95},
                            p->unit));
        break;
    default: break;
    }
}

static json_t *temperature_of(page *p)
{
    const jaw_temperature *t = jaw_setup_temperature(p->setup);
    if (!t)
        return json_null();
    json_t *object = json_object();
    put(p, object, "celsius", jaw__json_real(t->at));
    put(p, object, "celsius_known", jaw__json_real(t->at_known));
    put(p, object, "expansion", jaw__json_real(t->expansion));
    put(p, object, "expansion_known", jaw__json_real(t->expansion_known));
    return object;
}

static json_t *all_asides(page *p, size_t feature, const jaw_found *found)
{
    size_t n;
    json_t *array = json_array();
    const jaw_aside_entry *a = jaw_setup_asides(p->setup, feature, &n);
    for (size_t i = 0; i < n && i < found->n_aside; i++) {
        json_t *object = json_object();
        put(p, object, "line", json_integer(a[i].place.line));
        put_source(p, object, "file", a[i].place);
        put(p, object, "off", length(p, found->aside[i]));
        push(p, array, object);
    }
    return array;
}

static json_t *all_features(page *p)
{
    size_t n, m;
    const jaw_found *found = jaw_solution_features(p->solution, &n);
    const jaw_feature_entry *entry = jaw_setup_features(p->setup, &m);
    json_t *array = json_array();
    for (size_t i = 0; i < n && i < m; i++) {
        json_t *object = json_object();
        put(p, object, "name", jaw__json_text(entry[i].name));
        put(p, object, "kind", jaw__json_text(jaw_feature_word(entry[i].kind)));
        put(p, object, "line", json_integer(entry[i].place.line));
        put_source(p, object, "file", entry[i].place);
        put(p, object, "tip", jaw__json_text(entry[i].tip));
        put(p, object, "touches", json_integer((json_int_t)found[i].n));
        put_status(p, object, found[i].status);
        put(p, object, "set_aside", all_asides(p, i, &found[i]));
        if (found[i].status == JAW_OK) {
            jaw__json_found(object, &found[i], p->unit, &p->failed);
            put(p, object, "repeat", length(p, found[i].repeat));
            put(p, object, "repeat_stated",
                json_boolean(found[i].repeat_stated));
            put_own(p, object, &entry[i], &found[i]);
            put_touches(p, object, &found[i]);
            put_size(p, object, &found[i]);
            put(p, object, "grown", length(p, found[i].grown));
            put(p, object, "grown_over", length(p, found[i].grown_over));
        }
        put_flags(p, object, found[i].flags);
        push(p, array, object);
    }
    return array;
}

static json_t *all_tools(page *p)
{
    size_t n, m;
    const jaw_tool_found *t = jaw_solution_tools(p->solution, &n);
    const jaw_tool_entry *entry = jaw_setup_tools(p->setup, &m);
    json_t *array = json_array();
    for (size_t i = 0; i < n && i < m; i++) {
        json_t *object = json_object();
        put(p, object, "tool", json_integer(t[i].number));
        put(p, object, "text", jaw__json_text(entry[i].text));
        put_status(p, object, t[i].status);
        put(p, object, "gauge_line", length(p, t[i].length));
        put(p, object, "tip_to_part", length(p, t[i].tip_to_part));
        put(p, object, "reference_tool", length(p, t[i].reference));
        put(p, object, "touches", json_integer((json_int_t)t[i].n_contacts));
        put(p, object, "rms", length(p, t[i].rms));
        put(p, object, "dof", json_integer(t[i].dof));
        put_steps(p, object, t[i].steps, t[i].n_steps);
        put_flags(p, object, t[i].flags);
        push(p, array, object);
    }
    return array;
}

static json_t *all_surfaces(page *p)
{
    size_t n;
    const jaw_surface_found *s = jaw_solution_surfaces(p->solution, &n);
    json_t *array = json_array();
    for (size_t i = 0; i < n; i++) {
        json_t *object = json_object();
        put(p, object, "name", jaw__json_text(s[i].name));
        put(p, object, "setter", json_boolean(s[i].is_setter));
        put(p, object, "z", length(p, s[i].z));
        push(p, array, object);
    }
    return array;
}

static json_t *all_findings(page *p)
{
    size_t n;
    const jaw_finding *f = jaw_solution_findings(p->solution, &n);
    json_t *array = json_array();
    for (size_t i = 0; i < n; i++)
        push(p, array, jaw__json_finding(&f[i], p->control->unit, &p->failed));
    return array;
}

static json_t *all_notes(page *p, const jaw_notes *notes)
{
    static const char *const severity[] = {"assumption", "doubt", "error"};
    const jaw_note *note;
    json_t *array = json_array();
    for (size_t i = 0; (note = jaw_notes_get(notes, i)) != NULL; i++) {
        json_t *object = json_object();
        put(p, object, "severity", jaw__json_text(severity[note->severity]));
        put(p, object, "file", jaw__json_text(note->file));
        put(p, object, "line", json_integer(note->place.line));
        put(p, object, "column", json_integer(note->place.column));
        put(p, object, "what", jaw__json_text(note->what));
        put(p, object, "cure", jaw__json_text(note->cure));
        push(p, array, object);
    }
    return array;
}

char *jaw_report_json(const jaw_setup *setup, const jaw_solution *solution,
                      const jaw_notes *notes, jaw_report_style style)
{
    page p = {.setup = setup,
              .solution = solution,
              .control = jaw_setup_control(setup),
              .explain = style.explain};
    json_t *object = json_object();
    p.unit = p.control->unit;
    put(&p, object, "title", jaw__json_text(jaw_setup_title(setup)));
    put(&p, object, "unit", jaw__json_text(jaw_unit_word(p.unit)));
    put(&p, object, "lengths",
        jaw__json_text(jaw_length_word(p.control->lengths)));
    put(&p, object, "temperature", temperature_of(&p));
    put(&p, object, "values", all_values(&p));
    put(&p, object, "zeros", all_zeros(&p));
    put(&p, object, "features", all_features(&p));
    put(&p, object, "tools", all_tools(&p));
    put(&p, object, "surfaces", all_surfaces(&p));
    put(&p, object, "findings", all_findings(&p));
    json_t *linked = jaw__json_linked(setup, solution, &p.failed);
    if (linked != NULL)
        put(&p, object, "from_book", linked);
    jaw_solution_quality q = jaw_solution_total(solution);
    json_t *scatter = json_object();
    put(&p, scatter, "dof", jaw__json_real(q.dof));
    put(&p, scatter, "times_stated", jaw__json_real(q.s0));
    put(&p, scatter, "chance", jaw__json_real(q.chance));
    put(&p, scatter, "repeats_stated", json_boolean(q.stated));
    put(&p, object, "scatter", scatter);
    put(&p, object, "notes", all_notes(&p, notes));
    put(&p, object, "flags", jaw__json_flags(p.flags));
    return jaw__json_take(object, p.failed);
}
