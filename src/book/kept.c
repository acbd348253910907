/* SPDX-License-Identifier: GPL-3.0-or-later */
/* kept.c: a solved setup as entries of a book. */
#include "change.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct maker {
    const jaw_control *control;
    const char *machine;
    jaw_book_kept *kept;
} maker;

static jaw_book_record *next_record(maker *m, jaw_book_kind kind,
                                    const char *subject)
{
    jaw_book_record *r = &m->kept->record[m->kept->n++];

    jaw__book_blank(kind, r);
    r->machine = m->machine;
    r->subject = subject;
    return r;
}

static void put_setup(maker *m, const jaw_setup *setup)
{
    jaw_book_record *r =
        next_record(m, JAW_BOOK_SETUP, jaw_setup_title(setup));
    const jaw_control *c = m->control;

    r->as.setup = (jaw_book_setup){
        .file = "", .sheet = "", .included = "", .report = "",
        .lengths = c->lengths, .reference = c->reference, .turns = c->can_turn,
        .step = c->step, .angle_step = c->angle_step, .unit = c->unit};
}

/* What the touches show, or what is stated; where neither does, the part is
 * taken as square, and nothing is known of its turn. */
static jaw_figure turn_of(const jaw_zero_entry *e, const jaw_zero_found *z)
{
    if (isnan(z->skew))
        return jaw__book_figure(z->skew, &z->turn_trust);
    if (e->turn_use == JAW_TURN_STATED)
        return jaw_figure_make(z->skew, 0, (double)INFINITY);
    return jaw__book_figure(isnan(z->turn_trust.u) && isnan(z->turn)
                                ? (double)NAN
                                : z->skew,
                            &z->turn_trust);
}

/* One of which nothing was found says nothing of where it is. */
static void put_zero(maker *m, const jaw_zero_entry *e,
                     const jaw_zero_found *z)
{
    const double value[] = {z->zero.x, z->zero.y, z->zero.z};
    const jaw_control *c = m->control;

    if (isnan(value[0]) && isnan(value[1]) && isnan(value[2]))
        return;
    jaw_book_zero *zero =
        &next_record(m, JAW_BOOK_ZERO, z->name)->as.zero;
    zero->setup = JAW_BOOK_FIRST;
    for (int a = 0; a < JAW_AXES; a++)
        if (!isnan(value[a]))
            zero->at[a] = jaw__book_figure(value[a], &z->trust[a]);
    zero->at[JAW_AXES] = turn_of(e, z);
    zero->turns = !isnan(z->turn);
    zero->lengths = c->lengths;
    zero->step = c->step;
    zero->angle_step = c->angle_step;
    zero->unit = c->unit;
}

static void put_offset(maker *m, const jaw_tool_entry *e,
                       const jaw_tool_found *t)
{
    const jaw_control *c = m->control;
    char *name = m->kept->name[m->kept->n];

    if (isnan(t->value))
        return;
    snprintf(name, JAW_REGISTER_NAME, "H%d", t->number);
    next_record(m, JAW_BOOK_OFFSET, name)->as.offset = (jaw_book_offset){
        .setup = JAW_BOOK_FIRST, .number = t->number,
        .text = e->text == NULL ? "" : e->text,
        .length = jaw__book_figure(t->value, &t->trust), .lengths = c->lengths,
        .reference = c->reference, .step = c->step, .unit = c->unit};
}

jaw_status jaw_book_kept_make(const jaw_setup *setup,
                              const jaw_solution *solution,
                              const char *machine, jaw_book_kept *kept)
{
    maker m = {jaw_setup_control(setup), machine, kept};
    size_t zeros, tools;
    const jaw_zero_entry *stated = jaw_setup_zeros(setup, &zeros);
    const jaw_zero_found *z = jaw_solution_zeros(solution, &zeros);
    const jaw_tool_entry *e = jaw_setup_tools(setup, &tools);
    const jaw_tool_found *t = jaw_solution_tools(solution, &tools);

    *kept = (jaw_book_kept){0};
    kept->record = calloc(1 + zeros + tools, sizeof *kept->record);
    kept->name = calloc(1 + zeros + tools, sizeof *kept->name);
    if (kept->record == NULL || kept->name == NULL) {
        jaw_book_kept_free(kept);
        return JAW_ENOMEM;
    }
    put_setup(&m, setup);
    for (size_t i = 0; i < zeros; i++)
        put_zero(&m, &stated[i], &z[i]);
    for (size_t i = 0; i < tools; i++)
        put_offset(&m, &e[i], &t[i]);
    return JAW_OK;
}

/* ------------------------------------------------------------- does it fit */

/* What is entered in Z follows the convention as much as a length does. */
static bool has_heights(const jaw_book_kept *kept)
{
    for (size_t i = 1; i < kept->n; i++)
        if (kept->record[i].kind == JAW_BOOK_OFFSET ||
            !isnan(kept->record[i].as.zero.at[JAW_Z].value))
            return true;
    return false;
}

static void say_rule(jaw_book *book, const jaw_book_kept *kept,
                     const jaw_book_machine *about)
{
    const jaw_book_record *r = &kept->record[0];

    if (has_heights(kept) && about->lengths != r->as.setup.lengths)
        jaw__book_say(book, SAY_LINK_RULE, r->machine,
                      jaw_length_word(about->lengths),
                      jaw_length_word(r->as.setup.lengths));
}

static void say_turns(jaw_book *book, const char *name,
                      const jaw_book_machine *about, bool turns)
{
    static const char *const does[] = {"takes no turn", "takes a turn"};

    if (about->turns != JAW_TURNS_UNSAID &&
        turns != (about->turns == JAW_TURNS_YES))
        jaw__book_say(book, SAY_RULE_TURN, name, does[!turns], does[turns]);
}

static double along(const jaw_touch *t, int axis)
{
    return axis == 0 ? t->x : axis == 1 ? t->y : t->z;
}

/* The first touch of a setup that lies outside; nothing lies outside a travel
 * that is not known. */
static void say_outside(jaw_book *book, const jaw_book_machine *m,
                        const jaw_setup *setup, int axis)
{
    const jaw_unit unit = jaw_setup_control(setup)->unit;
    size_t n, n_touches, wall;
    const jaw_feature_entry *e = jaw_setup_features(setup, &n);

    for (size_t f = 0; f < n; f++) {
        const jaw_touch *t = jaw_setup_touches(setup, f, &n_touches, &wall);
        for (size_t i = 0; i < n_touches; i++) {
            double at = along(&t[i], axis);
            if (!(at < m->low[axis] || at > m->high[axis]))
                continue;
            jaw__book_say(book, SAY_TOUCH_OUTSIDE, i + 1, e[f].name,
                          jaw_setup_touch_places(setup, f)[i].line,
                          jaw__book_mm(at, unit, m).s,
                          jaw_book_axis_word((unsigned)axis),
                          jaw__book_mm(m->low[axis], unit, m).s,
                          jaw__book_mm(m->high[axis], unit, m).s);
            return;
        }
    }
}

jaw_status jaw_book_kept_fits(jaw_book *book, const jaw_book_kept *kept,
                              const jaw_setup *setup, bool rule)
{
    const jaw_book_record *r = &kept->record[0];
    jaw_book_machine about;
    bool known;
    jaw_status status =
        jaw_book_machine_of(book, r->machine, &about, &known);

    if (status != JAW_OK || !known)
        return status;
    if (rule)
        say_rule(book, kept, &about);
    say_turns(book, r->machine, &about, r->as.setup.turns);
    for (int axis = 0; axis < 3; axis++)
        say_outside(book, &about, setup, axis);
    return JAW_OK;
}

void jaw_book_kept_free(jaw_book_kept *kept)
{
    free(kept->record);
    free(kept->name);
    *kept = (jaw_book_kept){0};
}
