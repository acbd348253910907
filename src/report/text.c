/* SPDX-License-Identifier: GPL-3.0-or-later */
/* text.c: a solved setup as a page to read: doubts, values to enter, how good
 * they are, what was taken for granted, cautions. */
#include "findings.h"
#include "linked.h"
#include "page.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef jaw__page page;

/* ------------------------------------------------------------------- lines */

static void put(page *p, const char *text)
{
    jaw__buffer_text(&p->b, text);
}

static void put_words(page *p, const char *text, size_t *column, size_t indent)
{
    jaw__buffer_words(&p->b, text, column, indent);
}

/* "line 14", or "line 3 of vise.jaw" in a text that is included. */
static void put_line(page *p, const char *before, jaw_place place,
                     const char *after)
{
    const char *file = jaw_setup_source(p->setup, place.source);
    jaw__buffer_printf(&p->b, "%sline %d", before, place.line);
    if (*file) {
        put(p, " of ");
        jaw__buffer_clean(&p->b, file, strlen(file));
    }
    put(p, after);
}

/* ------------------------------------------------------------------- notes */

static void put_note(page *p, const jaw_note *note, size_t column)
{
    enum { INDENT = 4 };
    const char *what = note->what;
    size_t before = p->b.len;
    if (note->place.line > 0) {
        put_line(p, "", note->place, ":");
    } else { /* its first word stands where the line would */
        size_t len = strcspn(what, " ");
        jaw__buffer_clean(&p->b, what, len);
        what += len + strspn(what + len, " ");
    }
    column += p->b.len - before;
    put_words(p, what, &column, INDENT);
    if (*note->cure) {
        put(p, ";");
        column++;
        put_words(p, note->cure, &column, INDENT);
    }
    put(p, "\n");
}

/* Doubts, and what could not be solved, before anything else. */
static void put_first(page *p)
{
    const jaw_note *note;
    for (size_t i = 0; (note = jaw_notes_get(p->notes, i)) != NULL; i++) {
        if (note->severity != JAW_DOUBT)
            continue;
        jaw__put_first(&p->b, p->style.colour);
        put_note(p, note, strlen("look at this first: "));
    }
    for (size_t i = 0; (note = jaw_notes_get(p->notes, i)) != NULL; i++) {
        if (note->severity != JAW_ERROR)
            continue;
        jaw__buffer_colour(&p->b, p->style.colour, "1;31");
        put(p, "not solved:");
        jaw__buffer_colour(&p->b, p->style.colour, NULL);
        put(p, " ");
        put_note(p, note, strlen("not solved: "));
    }
}

static void put_granted_lines(page *p)
{
    const jaw_note *note;
    for (size_t i = 0; (note = jaw_notes_get(p->notes, i)) != NULL; i++) {
        if (note->severity != JAW_ASSUMPTION)
            continue;
        put(p, "  - ");
        put_note(p, note, 4);
    }
}

/* ---------------------------------------------------------- values to enter */

static void put_value(page *p, const char *name, const char *word, double mm)
{
    int width = 14 - jaw__put_register(&p->b, name, word);
    if (isnan(mm))
        jaw__buffer_printf(&p->b, "%*s", width, "not found");
    else
        jaw__put_length(&p->b, p->scale, mm, width);
}

/* The half-width of the 95 % interval, in the value's own unit. */
static void put_within(page *p, double half95)
{
    if (isnan(half95))
        return;
    put(p, "  +- ");
    jaw__put_fine(&p->b, p->scale, half95, 0);
}

static bool is_asked(const jaw_zero_entry *entry, int axis)
{
    return entry->term[axis].feature != NULL;
}

static void put_turn(page *p, const char *name, const jaw_zero_found *zero)
{
    int decimals = jaw_step_decimals(jaw_deg(p->control->angle_step));
    jaw__buffer_printf(&p->b, "  %-8s%-6s", name, "turn");
    if (isnan(zero->turn))
        jaw__buffer_printf(&p->b, "%14s", "not found");
    else
        jaw__buffer_number(&p->b, jaw_deg(zero->turn), decimals, 14);
    if (!isnan(zero->turn) && !isnan(zero->turn_trust.half95)) {
        put(p, "  +- ");
        jaw__buffer_number(&p->b, jaw_deg(zero->turn_trust.half95), decimals,
                           0);
    }
    put(p, " deg\n");
}

static void put_zero(page *p, const jaw_zero_entry *entry,
                     const jaw_zero_found *zero)
{
    static const char *const word[JAW_AXES] = {"X", "Y", "Z"};
    double value[JAW_AXES] = {zero->enter.x, zero->enter.y, zero->enter.z};
    const char *name = zero->name;
    for (int axis = 0; axis < JAW_AXES; axis++) {
        if (!is_asked(entry, axis) && isnan(value[axis]))
            continue;
        put_value(p, name, word[axis], value[axis]);
        put_within(p, zero->trust[axis].half95);
        put(p, "\n");
        name = "";
    }
    if (p->control->can_turn &&
        (entry->turn_use != JAW_TURN_NONE || !isnan(zero->turn)))
        put_turn(p, name, zero);
}

static void put_tool(page *p, const jaw_tool_entry *entry,
                     const jaw_tool_found *tool)
{
    char name[24];
    snprintf(name, sizeof name, "tool %d", tool->number);
    jaw__buffer_printf(&p->b, "  %-10s", name);
    jaw__buffer_printf(&p->b, "%-6s", "length");
    if (isnan(tool->enter))
        jaw__buffer_printf(&p->b, "%12s", "not found");
    else
        jaw__put_length(&p->b, p->scale, tool->enter, 12);
    put_within(p, tool->trust.half95);
    if (entry->text && *entry->text) {
        put(p, "   ");
        jaw__buffer_clean(&p->b, entry->text, strlen(entry->text));
    }
    put(p, "\n");
}

static void put_length_rule(page *p)
{
    jaw__buffer_printf(&p->b, "  tool lengths: %s",
                       jaw_length_text(p->control->lengths));
    if (p->control->lengths == JAW_REFERENCE_TOOL)
        jaw__buffer_printf(&p->b, ", tool %d", p->control->reference);
    put(p, "\n");
}

static void put_enter_lines(page *p)
{
    size_t n, m;
    const jaw_zero_found *zeros = jaw_solution_zeros(p->solution, &n);
    const jaw_zero_entry *entries = jaw_setup_zeros(p->setup, &m);
    for (size_t i = 0; i < n && i < m; i++)
        put_zero(p, &entries[i], &zeros[i]);
    const jaw_tool_found *tools = jaw_solution_tools(p->solution, &n);
    const jaw_tool_entry *kept = jaw_setup_tools(p->setup, &m);
    if (n > 0)
        put_length_rule(p);
    for (size_t i = 0; i < n && i < m; i++)
        put_tool(p, &kept[i], &tools[i]);
}

static void put_enter(page *p)
{
    const char *heading = p->control->unit == JAW_IN
                              ? "Enter on the control, inch"
                              : "Enter on the control, millimetres";
    if (jaw__page_under(p, heading, put_enter_lines))
        return;
    jaw__page_heading(p, "Enter on the control");
    put(p, "  nothing: no work zero asks for a value, and there is no tool\n");
}

/* ---------------------------------------------------------------- how good */

static void put_named(page *p, const char *name, double mm)
{
    if (isnan(mm))
        return;
    jaw__buffer_printf(&p->b, "  %s ", name);
    jaw__put_length(&p->b, p->scale, mm, 0);
}

static void put_degrees(page *p, const char *name, double rad)
{
    jaw__buffer_printf(&p->b, "  %s ", name);
    jaw__put_angle(&p->b, rad, 0);
    put(p, " deg");
}

static void put_place(page *p, const char *name, jaw_vec2 at)
{
    jaw__buffer_printf(&p->b, "  %s", name);
    put_named(p, "x", at.x);
    put_named(p, "y", at.y);
}

static void put_edge(page *p, const jaw_found *found)
{
    const jaw_edge *edge = &found->as.edge;
    put_place(p, "on it", edge->point);
    if (!(found->flags & JAW_DIRECTION_ASSUMED))
        put_degrees(p, "direction", edge->theta);
}

/* Machine height of a face, NaN where no chain of lengths leads to it. */
static double height_of(const page *p, const char *name)
{
    size_t n;
    const jaw_surface_found *s = jaw_solution_surfaces(p->solution, &n);
    for (size_t i = 0; i < n; i++)
        if (strcmp(s[i].name, name) == 0)
            return s[i].z;
    return (double)NAN;
}

/* A slope is said over a length that a person can see on the part. */
static void put_slope(page *p, jaw_vec2 slope)
{
    bool inch = p->scale.unit == JAW_IN;
    double over = inch ? 4 * JAW_MM_PER_INCH : 100;
    put(p, inch ? "  rises over 4 in" : "  rises over 100 mm");
    put_named(p, "x", slope.x * over);
    put_named(p, "y", slope.y * over);
}

static void put_face(page *p, const char *name, const jaw_found *found)
{
    double z = height_of(p, name);
    put_named(p, isnan(z) ? "reading z" : "z",
              isnan(z) ? found->as.face.point.z : z);
    if (!(found->flags & JAW_LEVEL_ASSUMED))
        put_slope(p, found->as.face.slope);
}

/* " +- 0.0012 deg" behind an angle, which carries its unit already. */
static void put_within_degrees(page *p, double half95)
{
    if (isnan(half95))
        return;
    put(p, " +- ");
    jaw__put_angle(&p->b, half95, 0);
    put(p, " deg");
}

/* More of the same, under its name. */
static void put_under(page *p)
{
    put(p, "\n");
    jaw__buffer_pad(&p->b, 12);
}

static void put_bar(page *p, const jaw_found *found)
{
    const jaw_bar *bar = &found->as.bar;
    put_place(p, "axis", (jaw_vec2){bar->point.x, bar->point.y});
    put_named(p, isnan(found->height) ? "reading z" : "z",
              isnan(found->height) ? bar->point.z : found->height);
    put_under(p);
    put_degrees(p, "direction", bar->theta);
    put_within_degrees(p, found->turn.half95);
    put_named(p, "diameter", bar->diameter);
}

static void put_ball(page *p, const jaw_found *found)
{
    const jaw_ball *ball = &found->as.ball;
    put_place(p, "centre", (jaw_vec2){ball->centre.x, ball->centre.y});
    put_named(p, isnan(found->height) ? "reading z" : "z",
              isnan(found->height) ? ball->centre.z : found->height);
    put_named(p, "diameter", ball->diameter);
}

static void put_sweep(page *p, const jaw_found *found)
{
    const jaw_swept_edge *s = &found->as.sweep;
    put_degrees(p, "skew", s->skew);
    put_within_degrees(p, found->turn.half95);
    put_named(p, "over", s->span);
    if (!isnan(s->straight)) {
        put_under(p);
        put(p, "  straight within ");
        jaw__put_fine(&p->b, p->scale, s->straight, 0);
    }
}

static void put_dial(page *p, const jaw_found *found)
{
    const jaw_swept_centre *d = &found->as.dial;
    put_place(p, "centre", d->centre);
    put_under(p);
    put_place(p, "move by", d->shift);
    put_within(p, fmax(found->centre[0].half95, found->centre[1].half95));
    if (!isnan(d->roundness)) {
        put(p, "  round within ");
        jaw__put_fine(&p->b, p->scale, d->roundness, 0);
    }
}

static void put_what(page *p, const char *name, const jaw_found *found)
{
    switch (found->kind) {
    case JAW_EDGE:
        put_edge(p, found);
        break;
    case JAW_FACE:
        put_face(p, name, found);
        break;
    case JAW_BORE:
    case JAW_BOSS:
        put_place(p, "centre", found->as.round.centre);
        put_named(p, "diameter", found->as.round.diameter);
        break;
    case JAW_SLOT:
    case JAW_WEB:
        put_place(p, "middle", found->as.walls.middle);
        put_named(p, "width", found->as.walls.width);
        if (!(found->flags & JAW_DIRECTION_ASSUMED))
            put_degrees(p, "direction", found->as.walls.theta);
        break;
    case JAW_BALL: put_ball(p, found); break;
    case JAW_BAR: put_bar(p, found); break;
    case JAW_SWEEP: put_sweep(p, found); break;
    case JAW_DIAL: put_dial(p, found); break;
    default:
        put_place(p, "origin", found->as.pattern.frame.origin);
        put_degrees(p, "turn", found->as.pattern.frame.turn);
        put(p, "  spacing ");
        jaw__buffer_number(&p->b, found->as.pattern.scale, 6, 0);
        break;
    }
}

/* Where a touch or a hole stands; line 0: nowhere. */
static jaw_place place_of(const page *p, size_t feature, size_t touch)
{
    size_t n, first;
    const jaw_hole_entry *holes = jaw_setup_holes(p->setup, feature, &n);
    if (n > 0)
        return touch < n ? holes[touch].place : (jaw_place){0};
    jaw_setup_touches(p->setup, feature, &n, &first);
    const jaw_place *places = jaw_setup_touch_places(p->setup, feature);
    return places && touch < n ? places[touch] : (jaw_place){0};
}

static void put_judgement(page *p, size_t feature, const jaw_found *found)
{
    if (jaw__found_no_check(found)) {
        put(p, "no check\n");
        return;
    }
    put(p, "rms ");
    jaw__put_fine(&p->b, p->scale, found->rms, 0);
    put(p, "  largest ");
    jaw__put_fine(&p->b, p->scale, found->resid[found->largest], 0);
    jaw_place place = place_of(p, feature, found->largest);
    jaw__buffer_printf(&p->b, " at %s %zu",
                       jaw__row_word(found->kind), found->largest + 1);
    if (place.line > 0)
        put_line(p, " (", place, ")");
    put(p, "\n");
}

/* What the part's temperature does to the drawing's distances. */
static void put_growth(page *p, const jaw_found *found)
{
    const jaw_temperature *t = jaw_setup_temperature(p->setup);
    if (!t || isnan(found->grown))
        return;
    jaw__buffer_pad(&p->b, 14);
    put(p, "at ");
    jaw__buffer_number(&p->b, t->at, 1, 0);
    put(p, " degrees Celsius its ");
    jaw__put_length(&p->b, p->scale, found->grown_over, 0);
    put(p, " are taken as ");
    jaw__put_fine(&p->b, p->scale, fabs(found->grown), 0);
    put(p, found->grown < 0 ? " shorter\n" : " longer\n");
}

/* A wall before and after it was tapped. */
static void put_change(page *p, const jaw_feature_entry *entry,
                       const jaw_found *found)
{
    if (isnan(found->changed))
        return;
    jaw__buffer_pad(&p->b, 14);
    jaw__buffer_printf(&p->b, "its skew changed since '%s' by ", entry->after);
    jaw__put_angle(&p->b, found->changed, 0);
    put(p, " deg");
    put_within_degrees(p, found->changed_trust.half95);
    put(p, ";\n");
    jaw__buffer_pad(&p->b, 14);
    jaw__put_angle(&p->b, found->as.sweep.skew, 0);
    put(p, " deg is left, ");
    jaw__put_fine(&p->b, p->scale,
                  fabs(found->as.sweep.span * tan(found->as.sweep.skew)), 0);
    put(p, " over its ");
    jaw__put_length(&p->b, p->scale, found->as.sweep.span, 0);
    put(p, "\n");
}

static double size_of(const jaw_found *found)
{
    switch (found->kind) {
    case JAW_BORE:
    case JAW_BOSS: return found->as.round.diameter;
    case JAW_BALL: return found->as.ball.diameter;
    case JAW_BAR: return found->as.bar.diameter;
    default: return found->as.walls.width;
    }
}

static void put_verdict(page *p, const jaw_feature_entry *entry,
                        const jaw_found *found)
{
    static const char *const verdict[] = {
        [JAW_FITS] = "fits",
        [JAW_DOES_NOT] = "does not fit",
        [JAW_CAN_NOT_TELL] = "can not tell whether it fits",
    };
    if (!found->decided)
        return;
    jaw__buffer_pad(&p->b, 14);
    jaw__put_length(&p->b, p->scale, size_of(found), 0);
    put_within(p, found->size.half95);
    jaw__buffer_printf(&p->b, ": %s ", verdict[found->verdict]);
    jaw__put_length(&p->b, p->scale, entry->size, 0);
    put(p, " within ");
    jaw__put_length(&p->b, p->scale, entry->within, 0);
    put(p, "\n");
}

/* What was set aside is never silent. */
static void put_asides(page *p, size_t feature, const jaw_found *found)
{
    size_t n;
    const jaw_aside_entry *a = jaw_setup_asides(p->setup, feature, &n);
    for (size_t i = 0; i < n; i++) {
        jaw__buffer_pad(&p->b, 14);
        jaw__buffer_printf(&p->b, "set aside: %s", jaw__row_word(found->kind));
        if (a[i].place.line > 0)
            put_line(p, " at ", a[i].place, "");
        if (i < found->n_aside && !isnan(found->aside[i])) {
            put(p, ", it would lie ");
            jaw__put_length(&p->b, p->scale, found->aside[i], 0);
            put(p, " off");
        }
        put(p, "\n");
    }
}

static void put_feature(page *p, size_t i, const jaw_feature_entry *entry,
                        const jaw_found *found)
{
    jaw__buffer_printf(&p->b, "  %-10s", entry->name);
    jaw__buffer_printf(&p->b, "  %s", jaw_feature_word(entry->kind));
    if ((entry->kind == JAW_EDGE || entry->kind == JAW_SWEEP) &&
        entry->faces != JAW_SIDE_NONE)
        jaw__buffer_printf(&p->b, " facing %s", jaw_side_word(entry->faces));
    const char *row = jaw__row_word(entry->kind);
    jaw__buffer_printf(&p->b, ", %zu %s%s", found->n, row,
                       found->n == 1             ? ""
                       : strcmp(row, "touch") == 0 ? "es"
                                                   : "s");
    if (found->status != JAW_OK) {
        jaw__buffer_printf(&p->b, "  not found: %s\n",
                           jaw_status_text(found->status));
        put_asides(p, i, found);
        return;
    }
    put(p, "\n");
    jaw__buffer_pad(&p->b, 12);
    put_what(p, entry->name, found);
    put(p, "\n");
    jaw__buffer_pad(&p->b, 14);
    put_judgement(p, i, found);
    put_growth(p, found);
    put_change(p, entry, found);
    put_verdict(p, entry, found);
    put_asides(p, i, found);
}

static void put_line_of(page *p, const char **name)
{
    jaw__buffer_printf(&p->b, "  %-10s", *name);
    *name = "";
}

/* A positive tap means that the part stands counter-clockwise: its x+ end has
 * gone to y+, its y+ end to x-, and it must be tapped back. */
static void put_tap(page *p, const char **name, jaw_axis along,
                    const jaw_zero_found *zero)
{
    bool left = zero->tap > 0;
    const char *toward = along == JAW_X ? (left ? "y-" : "y+")
                                        : (left ? "x+" : "x-");
    put_line_of(p, name);
    jaw__buffer_printf(&p->b, "  tap its %s end toward %s by ",
                       along == JAW_X ? "x+" : "y+", toward);
    jaw__put_length(&p->b, p->scale, fabs(zero->tap), 0);
    put(p, " over ");
    jaw__put_length(&p->b, p->scale, zero->tap_span, 0);
    put(p, "\n");
}

/* What a skew costs that the control can not take out. */
static void put_skew(page *p, const char **name, const jaw_zero_entry *entry,
                     const jaw_zero_found *zero)
{
    if (isnan(zero->far_cost.x) || isnan(zero->far_cost.y) || zero->skew == 0)
        return;
    put_line_of(p, name);
    put_degrees(p, "turned by", zero->skew);
    put(p, " (+ counter-clockwise); this control can not turn\n");
    if (!isnan(zero->tap))
        put_tap(p, name, entry->turn_along, zero);
    put_line_of(p, name);
    put_place(p, "as it lies, the part is off by", zero->far_cost);
    put(p, "\n");
    put_line_of(p, name);
    put_place(p, "at its touched place farthest from zero,", zero->far_work);
    put(p, "\n");
}

static void put_zero_quality(page *p, const jaw_zero_entry *entry,
                             const jaw_zero_found *zero)
{
    const char *name = zero->name;
    if (!isnan(zero->squareness)) {
        put_line_of(p, &name);
        put_degrees(p, "its two walls are off square by", zero->squareness);
        put(p, "\n");
    }
    put_skew(p, &name, entry, zero);
}

static void put_tool_quality(page *p, const jaw_tool_found *tool)
{
    char name[24];
    if (tool->n_contacts == 0)
        return;
    snprintf(name, sizeof name, "tool %d", tool->number);
    jaw__buffer_printf(&p->b, "  %-10s  %zu touch%s", name, tool->n_contacts,
                       tool->n_contacts == 1 ? "" : "es");
    if (isnan(tool->rms) || tool->dof < 1) {
        put(p, "  no check\n");
        return;
    }
    put(p, "  rms ");
    jaw__put_fine(&p->b, p->scale, tool->rms, 0);
    put(p, "\n");
}

/* --------------------------------------------------------- what goes unseen */

/* Smallest that is worth a word: what the last decimal shown can show. */
static bool is_shown(const page *p, double mm)
{
    return mm >= p->control->step / 2;
}

static void put_unseen(page *p, const jaw__page_value *v)
{
    const jaw_value_trust *trust = v->trust;
    if (v->said_above || isnan(trust->unnoticed) ||
        (!v->angle && !is_shown(p, trust->unnoticed)))
        return;
    jaw__buffer_printf(&p->b, "  %-10s  ", v->name);
    if (isinf(trust->unnoticed)) {
        put(p, "no check: a slip of any size would go unseen");
    } else {
        put(p, "a slip could go unseen and move it by ");
        if (v->angle) {
            jaw__put_angle(&p->b, trust->unnoticed, 0);
            put(p, " deg");
        } else {
            jaw__put_length(&p->b, p->scale, trust->unnoticed, 0);
        }
    }
    if (trust->where.line > 0)
        put_line(p, " (", trust->where, ")");
    put(p, "\n");
}

static void put_unseen_lines(page *p)
{
    jaw__page_values(p, put_unseen);
}

/* "G54 X +- 0.0004 becomes 0.0002" */
static void put_gain(page *p, jaw__buffer *line, const jaw__page_value *v)
{
    int decimals = jaw_step_decimals(jaw_deg(p->control->angle_step));

    jaw__buffer_printf(line, "%s +- ", v->name);
    if (v->angle)
        jaw__buffer_number(line, jaw_deg(v->trust->half95), decimals, 0);
    else
        jaw__put_fine(line, p->scale, v->trust->half95, 0);
    jaw__buffer_text(line, " becomes ");
    if (v->angle)
        jaw__buffer_number(line, jaw_deg(v->next->half95), decimals, 0);
    else
        jaw__put_fine(line, p->scale, v->next->half95, 0);
    if (v->next->checks)
        jaw__buffer_text(line, " and has a check");
}

static void put_next_line(page *p, jaw__buffer *line, size_t indent)
{
    enum { INDENT = 4 };
    size_t column = indent;
    char *text = jaw__buffer_take(line);

    if (!text) {
        p->b.failed = true;
        return;
    }
    jaw__buffer_pad(&p->b, column);
    put_words(p, text, &column, INDENT);
    put(p, "\n");
    free(text);
}

/* Does the touch that p->next tells of help this value? */
static bool is_helped(const page *p, const jaw__page_value *v)
{
    return v->next && v->next->text &&
           strcmp(v->next->text, p->next->text) == 0;
}

static void count_helped(page *p, const jaw__page_value *v)
{
    if (!is_helped(p, v))
        return;
    if (p->helped++ == 0)
        p->first = v->next;
}

static void put_helped(page *p, const jaw__page_value *v)
{
    enum { BELOW = 4 };
    jaw__buffer line = {0};

    if (!is_helped(p, v))
        return;
    put_gain(p, &line, v);
    put_next_line(p, &line, BELOW);
}

/* A touch that helps several values is told once, and they stand below. */
static void put_next(page *p, const jaw__page_value *v)
{
    enum { BESIDE = 2 };
    jaw__buffer line = {0};

    if (!v->next || !v->next->text)
        return;
    p->next = v->next;
    p->helped = 0;
    jaw__page_values(p, count_helped);
    if (p->first != v->next)
        return;
    jaw__buffer_printf(&line, "next: %s:", v->next->text);
    if (p->helped == 1) {
        jaw__buffer_text(&line, " ");
        put_gain(p, &line, v);
    }
    put_next_line(p, &line, BESIDE);
    if (p->helped > 1)
        jaw__page_values(p, put_helped);
}

static void put_next_lines(page *p)
{
    jaw__page_values(p, put_next);
}

/* The repeats against what was seen, where there is anything to see. */
static void put_scatter(page *p)
{
    jaw_solution_quality q = jaw_solution_total(p->solution);
    if (!(q.dof > 0))
        return;
    put(p, "  the touches scatter ");
    jaw__buffer_number(&p->b, q.s0, 2, 0);
    jaw__buffer_printf(&p->b, " times as far as %s, %.0f to spare\n",
                       q.stated ? "their repeats say"
                                : "taken for granted",
                       q.dof);
    put(p, q.stated && !(q.s0 > 1 && q.chance < 0.001)
               ? "  +- stands on the repeats that are stated, 95 times in 100\n"
               : "  +- stands on the scatter that was seen, 95 times in 100\n");
}

static void put_quality_lines(page *p)
{
    size_t n, m;
    const jaw_found *found = jaw_solution_features(p->solution, &n);
    const jaw_feature_entry *entries = jaw_setup_features(p->setup, &m);
    for (size_t i = 0; i < n && i < m; i++)
        put_feature(p, i, &entries[i], &found[i]);
    const jaw_zero_found *zeros = jaw_solution_zeros(p->solution, &n);
    const jaw_zero_entry *asked = jaw_setup_zeros(p->setup, &m);
    for (size_t i = 0; i < n && i < m; i++)
        put_zero_quality(p, &asked[i], &zeros[i]);
    const jaw_tool_found *tools = jaw_solution_tools(p->solution, &n);
    for (size_t i = 0; i < n; i++)
        put_tool_quality(p, &tools[i]);
    put_scatter(p);
}

/* ------------------------------------------------------------ around the part */

static void put_findings(page *p)
{
    size_t n;
    const jaw_finding *f = jaw_solution_findings(p->solution, &n);
    for (size_t i = 0; i < n; i++)
        jaw__put_finding(&p->b, p->scale, &f[i]);
}

static void put_quality(page *p)
{
    jaw__page_under(p, "How good", put_quality_lines);
    jaw__page_under(p, "What a slip of the hand could do unseen",
                    put_unseen_lines);
    jaw__page_under(p, "Where one more touch helps most", put_next_lines);
}

/* ------------------------------------------------------------------ cautions */

static void put_cautions(page *p)
{
    jaw__page_heading(p, "Before you press start");
    jaw__put_cautions(&p->b);
}

char *jaw_report_text(const jaw_setup *setup, const jaw_solution *solution,
                      const jaw_notes *notes, jaw_report_style style)
{
    page p = {.setup = setup,
              .solution = solution,
              .notes = notes,
              .control = jaw_setup_control(setup),
              .style = style};
    const char *title = jaw_setup_title(setup);
    p.scale = jaw__scale_of(p.control);
    jaw__buffer_clean(&p.b, title, strlen(title));
    put(&p, *title ? "\n" : "");
    put_first(&p);
    put_enter(&p);
    jaw__page_under(&p, "From the book", jaw__put_linked);
    put_quality(&p);
    jaw__page_under(&p, "Around the part", put_findings);
    if (style.explain)
        jaw__page_explain(&p);
    jaw__page_under(&p, "Taken for granted", put_granted_lines);
    put_cautions(&p);
    return jaw__buffer_take(&p.b);
}
