/* SPDX-License-Identifier: GPL-3.0-or-later */
/* readback.c: what the control shows and what was to be entered, as a page and
 * as JSON: what differs first, and why it probably does. */
#include "page.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct list {
    const jaw_readback *r;
    jaw__buffer *b;
} list;

/* ----------------------------------------------------------------- numbers */

/* In what the control displays it in. */
static double displayed(const jaw_readback *r, size_t i, double x)
{
    return r->value[i].angle ? jaw_deg(x) : x / jaw_unit_mm(r->unit);
}

/* As many decimals as the step has, and more where x is finer: two numbers
 * that differ must never look the same. */
static int decimals_of(double x, int least)
{
    double scale = pow(10, least);

    for (int d = least; d < 9; d++) {
        if (fabs(round(x * scale) / scale - x) < 0.5e-9)
            return d;
        scale *= 10;
    }
    return 9;
}

static int step_decimals(const jaw_readback *r, size_t i)
{
    return jaw_step_decimals(displayed(r, i, r->value[i].step));
}

/* Flush right by its point: `width` is that of one with the step's decimals. */
static void put_number(list *l, size_t i, double x, int width)
{
    int least = step_decimals(l->r, i);
    double number = displayed(l->r, i, x);
    int decimals = decimals_of(number, least);

    jaw__buffer_number(l->b, number, decimals,
                       width > 0 ? width + decimals - least : 0);
}

/* "G54 X"; a tool's register has nothing but its length. */
static void put_name(list *l, size_t i)
{
    const jaw_readback_value *v = &l->r->value[i];
    bool tool = v->name[0] == 'H';

    jaw__buffer_printf(l->b, "%s%s%s", v->name, tool ? "" : " ",
                       tool ? "" : v->word);
}

/* ----------------------------------------------------------------- reasons */

static const char *decimal_word(int place)
{
    static const char *const words[] = {"first", "second", "third", "fourth",
                                        "fifth", "sixth", "seventh", "eighth",
                                        "ninth"};
    return words[-place - 1];
}

static void put_place(list *l, int place)
{
    static const char *const words[] = {"ones", "tens", "hundreds",
                                        "thousands"};

    if (place < 0)
        jaw__buffer_printf(l->b, "%s decimal", decimal_word(place));
    else if (place < 4)
        jaw__buffer_text(l->b, words[place]);
    else
        jaw__buffer_printf(l->b, "digit %d before the point", place + 1);
}

static void put_places(list *l, const int place[2])
{
    if (place[0] < 0)
        jaw__buffer_text(l->b, decimal_word(place[0]));
    else
        put_place(l, place[0]);
    jaw__buffer_text(l->b, " and ");
    put_place(l, place[1]);
}

static void put_other(list *l, const char *before,
                      const jaw_readback_reason *why)
{
    jaw__buffer_text(l->b, before);
    put_name(l, why->other);
}

static void put_inch(list *l, const jaw_readback_reason *why)
{
    static const char *const text[2][2] = {
        {"1/25.4 of it: the figure in inch",
         "25.4 times as large: taken for inch and turned into mm"},
        {"1/25.4 of it: taken for mm and turned into inch",
         "25.4 times as large: the figure in mm"}};

    jaw__buffer_text(l->b, text[l->r->unit == JAW_IN][why->power > 0]);
}

/* A number without its point is so many steps to many controls: common
 * practice, no source. */
static void put_point(list *l, size_t i, const jaw_readback_reason *why)
{
    int places = abs(why->power);

    jaw__buffer_printf(l->b, "the point is %d place%s too far %s", places,
                       places == 1 ? "" : "s",
                       why->power > 0 ? "right" : "left");
    if (-why->power == step_decimals(l->r, i))
        jaw__buffer_text(l->b, ", as when it is left out and the control "
                               "counts steps");
}

static void put_digits(list *l, const jaw_readback_reason *why)
{
    const char *d = why->digit;
    bool two = why->kind == JAW_READ_TRANSPOSED || why->kind == JAW_READ_APART;

    if (two)
        jaw__buffer_printf(l->b, "%c and %c have changed places", d[0], d[1]);
    else if (why->kind == JAW_READ_LOST)
        jaw__buffer_printf(l->b, "the %c is lost", d[0]);
    else if (why->kind == JAW_READ_DOUBLED)
        jaw__buffer_printf(l->b, "the %c is doubled", d[0]);
    else if (why->kind == JAW_READ_EXTRA)
        jaw__buffer_printf(l->b, "a %c too many", d[0]);
    else
        jaw__buffer_printf(l->b, "%c where %c belongs", d[1], d[0]);
    jaw__buffer_text(l->b, ", ");
    if (two)
        put_places(l, why->place);
    else
        put_place(l, why->place[0]);
}

static void put_sign(list *l, size_t i)
{
    jaw__buffer_text(l->b, l->r->value[i].value < 0 ? "the minus is lost"
                                                    : "a minus too many");
}

static void put_reason(list *l, size_t i, const jaw_readback_reason *why)
{
    switch (why->kind) {
    case JAW_READ_LAST_DIGIT:
        jaw__buffer_text(l->b, "off by the last digit, as when it is rounded "
                               "the other way");
        break;
    case JAW_READ_SIGN: put_sign(l, i); break;
    case JAW_READ_INCH: put_inch(l, why); break;
    case JAW_READ_NOTHING:
        jaw__buffer_text(l->b, "nothing is entered");
        break;
    case JAW_READ_STALE:
        jaw__buffer_text(l->b, "the value from before");
        break;
    case JAW_READ_EXCHANGED:
        put_other(l, "it has changed places with ", why);
        break;
    case JAW_READ_OTHER: put_other(l, "it is the value of ", why); break;
    case JAW_READ_POINT: put_point(l, i, why); break;
    default: put_digits(l, why); break;
    }
    if (why->sign_too)
        jaw__buffer_text(l->b, ", and the sign is changed");
}

static void put_off(list *l, size_t i)
{
    const jaw_readback_value *v = &l->r->value[i];

    jaw__buffer_text(l->b, "wrong by ");
    put_number(l, i, v->shown - v->value, 0);
}

static void put_reasons(list *l, size_t i)
{
    const jaw_readback_found *f = &l->r->found[i];

    if (f->state != JAW_READ_OFF)
        return;
    if (f->n == 0)
        put_off(l, i);
    for (size_t k = 0; k < f->n; k++) {
        jaw__buffer_text(l->b, k > 0 ? "; or " : "");
        put_reason(l, i, &f->reason[k]);
    }
    if (f->within)
        jaw__buffer_text(l->b, " (less than the value's own +-)");
}

char *jaw_report_readback_reason(const jaw_readback *r, size_t i)
{
    jaw__buffer b = {0};
    list l = {r, &b};

    put_reasons(&l, i);
    return jaw__buffer_take(&b);
}

/* -------------------------------------------------------------------- page */

static size_t count(const jaw_readback *r, jaw_readback_state state)
{
    size_t n = 0;

    for (size_t i = 0; i < r->n; i++)
        n += r->found[i].state == state;
    return n;
}

static void put_value(list *l, size_t i, double x)
{
    const jaw_readback_value *v = &l->r->value[i];
    bool again = i > 0 && strcmp(v->name, l->r->value[i - 1].name) == 0 &&
                 l->r->found[i].state == l->r->found[i - 1].state &&
                 l->r->found[i].state == JAW_READ_GOOD;
    int over = jaw__put_register(l->b, again ? "" : v->name, v->word);

    put_number(l, i, x, 14 - over);
}

/* Both numbers under one another, so that the eye finds the digit. */
static void put_differs(list *l, size_t i)
{
    const jaw_readback_value *v = &l->r->value[i];
    const char *unit = v->angle ? " deg" : "";
    char *why = jaw_report_readback_reason(l->r, i);

    put_value(l, i, v->shown);
    jaw__buffer_printf(l->b, "%s  is shown\n", unit);
    jaw__buffer_pad(l->b, 16);
    put_number(l, i, v->value, 14);
    jaw__buffer_printf(l->b, "%s  was to be entered\n", unit);
    if (why)
        jaw__buffer_paragraph(l->b, why, 10);
    else
        l->b->failed = true;
    free(why);
}

static void put_good(list *l, size_t i)
{
    const jaw_readback_value *v = &l->r->value[i];

    put_value(l, i, v->value);
    jaw__buffer_text(l->b, v->angle ? " deg\n" : "\n");
}

static void put_names(list *l, jaw_readback_state state)
{
    jaw__buffer names = {0};
    list n = {l->r, &names};

    for (size_t i = 0; i < l->r->n; i++) {
        if (l->r->found[i].state != state)
            continue;
        jaw__buffer_text(&names, names.len > 0 ? ", " : "");
        put_name(&n, i);
    }
    char *text = jaw__buffer_take(&names);
    if (text)
        jaw__buffer_paragraph(l->b, text, 2);
    else
        l->b->failed = true;
    free(text);
}

/* What to look at, in one line. */
static void put_first(list *l, bool colour)
{
    size_t off = count(l->r, JAW_READ_OFF);
    size_t missing = count(l->r, JAW_READ_MISSING);
    size_t unknown = count(l->r, JAW_READ_UNKNOWN);

    if (off + missing + unknown == 0) {
        jaw__buffer_printf(l->b, "all %zu as they should be\n", l->r->n);
        return;
    }
    jaw__put_first(l->b, colour);
    jaw__buffer_printf(l->b, "of %zu values", l->r->n);
    if (off > 0)
        jaw__buffer_printf(l->b, " %zu differ%s", off, off == 1 ? "s" : "");
    if (missing > 0)
        jaw__buffer_printf(l->b, "%s %zu %s not shown", off > 0 ? "," : "",
                           missing, missing == 1 ? "was" : "were");
    if (unknown > 0)
        jaw__buffer_printf(l->b, "%s %zu %s not found by the sheet",
                           off + missing > 0 ? "," : "", unknown,
                           unknown == 1 ? "was" : "were");
    jaw__buffer_text(l->b, "\n");
}

static void put_under(jaw__page *p, list *l, const char *heading,
                      jaw_readback_state state)
{
    char text[80];

    if (count(l->r, state) == 0)
        return;
    if (state == JAW_READ_MISSING || state == JAW_READ_UNKNOWN) {
        jaw__page_heading(p, heading);
        put_names(l, state);
        return;
    }
    snprintf(text, sizeof text, "%s, %s", heading,
             l->r->unit == JAW_IN ? "inch" : "millimetres");
    jaw__page_heading(p, text);
    for (size_t i = 0; i < l->r->n; i++)
        if (l->r->found[i].state == state)
            (state == JAW_READ_OFF ? put_differs : put_good)(l, i);
}

char *jaw_report_readback_text(const jaw_readback *r, jaw_report_style style)
{
    jaw__page p = {.style = style};
    list l = {r, &p.b};

    if (*r->title) {
        jaw__buffer_clean(&p.b, r->title, strlen(r->title));
        jaw__buffer_text(&p.b, "\n\n");
    }
    put_first(&l, style.colour);
    put_under(&p, &l, "Differs", JAW_READ_OFF);
    put_under(&p, &l, "Not shown", JAW_READ_MISSING);
    put_under(&p, &l, "Not found, so not compared", JAW_READ_UNKNOWN);
    put_under(&p, &l, "As it should be", JAW_READ_GOOD);
    if (r->before) {
        jaw__page_heading(&p, "What they held before");
        jaw__buffer_paragraph(&p.b, r->before, 2);
    }
    jaw__page_heading(&p, "Before you press start");
    jaw__put_cautions(&p.b);
    return jaw__buffer_take(&p.b);
}

/* -------------------------------------------------------------------- JSON */

static json_t *number(const jaw_readback *r, size_t i, double x)
{
    return jaw__json_real(displayed(r, i, x));
}

static json_t *reason_of(const jaw_readback *r, size_t i,
                         const jaw_readback_reason *why, bool *failed)
{
    json_t *object = json_object();
    jaw__buffer b = {0};
    list l = {r, &b};

    put_reason(&l, i, why);
    char *text = jaw__buffer_take(&b);
    *failed |= !text;
    jaw__json_put(object, "kind", jaw__json_text(jaw_readback_word(why->kind)),
                  failed);
    jaw__json_put(object, "text", jaw__json_text(text), failed);
    jaw__json_put(object, "sign_too", json_boolean(why->sign_too), failed);
    if (why->kind == JAW_READ_OTHER || why->kind == JAW_READ_EXCHANGED) {
        const jaw_readback_value *v = &r->value[why->other];
        jaw__json_put(object, "register", jaw__json_text(v->name), failed);
        jaw__json_put(object, "word", jaw__json_text(v->word), failed);
    }
    free(text);
    return object;
}

static json_t *value_of(const jaw_readback *r, size_t i, bool *failed)
{
    static const char *const state[] = {"not-found", "not-shown", "good",
                                        "differs"};
    const jaw_readback_value *v = &r->value[i];
    const jaw_readback_found *f = &r->found[i];
    json_t *object = json_object(), *reasons = json_array();

    jaw__json_put(object, "register", jaw__json_text(v->name), failed);
    jaw__json_put(object, "word", jaw__json_text(v->word), failed);
    jaw__json_put(object, "state", jaw__json_text(state[f->state]), failed);
    jaw__json_put(object, "value", number(r, i, v->value), failed);
    jaw__json_put(object, "half95", number(r, i, v->half95), failed);
    jaw__json_put(object, "before", number(r, i, v->before), failed);
    jaw__json_put(object, "shown", number(r, i, v->shown), failed);
    jaw__json_put(object, "off", number(r, i, f->off), failed);
    jaw__json_put(object, "within", json_boolean(f->within), failed);
    for (size_t k = 0; k < f->n; k++)
        jaw__json_push(reasons, reason_of(r, i, &f->reason[k], failed), failed);
    jaw__json_put(object, "reasons", reasons, failed);
    return object;
}

char *jaw_report_readback_json(const jaw_readback *r)
{
    bool failed = false;
    json_t *object = json_object(), *values = json_array();

    for (size_t i = 0; i < r->n; i++)
        jaw__json_push(values, value_of(r, i, &failed), &failed);
    jaw__json_put(object, "title", jaw__json_text(r->title), &failed);
    jaw__json_put(object, "unit", jaw__json_text(jaw_unit_word(r->unit)),
                  &failed);
    jaw__json_put(object, "good",
                  json_integer((json_int_t)count(r, JAW_READ_GOOD)), &failed);
    jaw__json_put(object, "differ",
                  json_integer((json_int_t)count(r, JAW_READ_OFF)), &failed);
    jaw__json_put(object, "not_shown",
                  json_integer((json_int_t)count(r, JAW_READ_MISSING)),
                  &failed);
    jaw__json_put(object, "not_found",
                  json_integer((json_int_t)count(r, JAW_READ_UNKNOWN)),
                  &failed);
    if (r->before)
        jaw__json_put(object, "before_from", jaw__json_text(r->before),
                      &failed);
    jaw__json_put(object, "values", values, &failed);
    return jaw__json_take(object, failed);
}
