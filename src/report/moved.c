/* SPDX-License-Identifier: GPL-3.0-or-later */
/* moved.c: what moved since a setup was kept, as lines and as JSON. */
#include "parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct page {
    jaw__buffer b;
    const jaw_book_moved *moved;
    jaw__scale scale;
    int angle_decimals;
    jaw_report_style style;
} page;

static page page_of(const jaw_book_moved *moved, const jaw_book_setup *setup)
{
    return (page){
        .moved = moved,
        .scale = {setup->unit,
                  jaw_step_decimals(setup->step / jaw_unit_mm(setup->unit))},
        .angle_decimals = jaw_step_decimals(jaw_deg(setup->angle_step))};
}

/* One decimal more than is entered: a difference is judged, not typed. */
static void put_number(page *p, bool angle, double value, int width)
{
    if (angle)
        jaw__buffer_number(&p->b, jaw_deg(value), p->angle_decimals, width);
    else
        jaw__put_fine(&p->b, p->scale, value, width);
}

static bool has_number(const jaw_book_shift *s)
{
    return s->kind <= JAW_SHIFT_UNSURE;
}

static void put_differ(page *p, const jaw_book_shift *s)
{
    bool angle = s->axis == 3;

    put_number(p, angle, s->differ, 15);
    if (!isnan(s->half95)) {
        jaw__buffer_text(&p->b, "  +- ");
        put_number(p, angle, s->half95, 0);
    }
    jaw__buffer_text(&p->b, angle ? " deg  " : "  ");
}

static void put_verdict(page *p, const jaw_book_shift *s)
{
    bool real = s->kind == JAW_SHIFT_REAL;

    jaw__buffer_colour(&p->b, p->style.colour && real, "1");
    jaw__buffer_text(&p->b, jaw_book_shift_text(s->kind));
    jaw__buffer_colour(&p->b, p->style.colour && real, NULL);
    if (s->kind == JAW_SHIFT_NOISE) {
        jaw__buffer_text(&p->b, ", up to ");
        put_number(p, s->axis == 3, s->limit, 0);
    }
    if (s->slip != JAW_SLIP_NONE)
        jaw__buffer_text(&p->b, s->slip == JAW_SLIP_SIGN
                                    ? ": perhaps a lost sign"
                                    : ": perhaps inch for mm");
    jaw__buffer_text(&p->b, "\n");
}

static void put_shift(page *p, size_t i)
{
    const jaw_book_shift *s = &p->moved->shift[i];
    bool again = i > 0 && strcmp(s->name, s[-1].name) == 0;

    jaw__put_register(&p->b, again ? "" : s->name,
                      jaw_book_axis_word((unsigned)s->axis));
    if (has_number(s))
        put_differ(p, s);
    else
        jaw__buffer_text(&p->b, "         ");
    put_verdict(p, s);
}

/* "X 0.4120, Y -0.0013, Z 0.0001, turn 0.0120 deg" */
static void put_whole(page *p)
{
    const jaw_moved *w = &p->moved->whole;
    page line = *p;

    line.b = (jaw__buffer){0};
    jaw__buffer_text(&line.b, "all work zeros moved alike: ");
    for (int a = 0; a < 3; a++) {
        if (isnan(w->shift[a].value))
            continue;
        jaw__buffer_printf(&line.b, "%s ", jaw_book_axis_word((unsigned)a));
        put_number(&line, false, w->shift[a].value, 0);
        jaw__buffer_text(&line.b, ", ");
    }
    jaw__buffer_text(&line.b, "turn ");
    put_number(&line, true, w->turn.value, 0);
    jaw__buffer_text(&line.b, " deg about X ");
    put_number(&line, false, w->about.x, 0);
    jaw__buffer_text(&line.b, " Y ");
    put_number(&line, false, w->about.y, 0);
    jaw__buffer_text(&line.b, ", as when the machine was homed anew, or what "
                              "carries them all was moved");
    char *text = jaw__buffer_take(&line.b);
    if (text)
        jaw__buffer_paragraph(&p->b, text, 2);
    else
        p->b.failed = true;
    free(text);
}

char *jaw_report_moved_text(const jaw_book_moved *moved,
                            const jaw_book_setup *setup,
                            jaw_report_style style)
{
    page p = page_of(moved, setup);

    p.style = style;
    for (size_t i = 0; i < moved->n; i++)
        put_shift(&p, i);
    if (moved->together)
        put_whole(&p);
    return jaw__buffer_take(&p.b);
}

/* -------------------------------------------------------------------- JSON */

static json_t *number(const page *p, bool angle, double value)
{
    return angle ? jaw__json_degrees(value)
                 : jaw__json_length(value, p->scale.unit);
}

static json_t *shift_of(const page *p, const jaw_book_shift *s, bool *failed)
{
    static const char *const slip[] = {NULL, "sign", "inch-for-mm"};
    const struct {
        const char *key;
        double value;
    } figures[] = {{"before", s->before.value}, {"after", s->after.value},
                   {"differ", s->differ},       {"half95", s->half95},
                   {"limit", s->limit},         {"noticed", s->noticed}};
    json_t *object = json_object();

    jaw__json_put(object, "register", jaw__json_text(s->name), failed);
    jaw__json_put(object, "word",
                  jaw__json_text(jaw_book_axis_word((unsigned)s->axis)),
                  failed);
    jaw__json_put(object, "kind", jaw__json_text(jaw_book_shift_word(s->kind)),
                  failed);
    for (size_t i = 0; i < sizeof figures / sizeof figures[0]; i++)
        jaw__json_put(object, figures[i].key,
                      number(p, s->axis == 3, figures[i].value), failed);
    jaw__json_put(object, "slip", jaw__json_text(slip[s->slip]), failed);
    return object;
}

static json_t *whole_of(const page *p, bool *failed)
{
    const jaw_moved *w = &p->moved->whole;
    json_t *object = json_object(), *shift = json_array();

    for (int a = 0; a < 3; a++)
        jaw__json_push(shift, number(p, false, w->shift[a].value), failed);
    jaw__json_put(object, "shift", shift, failed);
    jaw__json_put(object, "turn_deg", number(p, true, w->turn.value), failed);
    jaw__json_put(object, "about", jaw__json_point(w->about, p->scale.unit),
                  failed);
    return object;
}

char *jaw_report_moved_json(const jaw_book_moved *moved,
                            const jaw_book_setup *setup)
{
    page p = page_of(moved, setup);
    bool failed = false;
    json_t *object = json_object(), *list = json_array();

    for (size_t i = 0; i < moved->n; i++)
        jaw__json_push(list, shift_of(&p, &moved->shift[i], &failed), &failed);
    jaw__json_put(object, "since", json_integer((json_int_t)moved->before),
                  &failed);
    jaw__json_put(object, "at", json_integer((json_int_t)moved->at), &failed);
    jaw__json_put(object, "unit",
                  jaw__json_text(jaw_unit_word(setup->unit)), &failed);
    jaw__json_put(object, "moved", json_integer((json_int_t)moved->real),
                  &failed);
    jaw__json_put(object, "registers", list, &failed);
    jaw__json_put(object, "together",
                  moved->together ? whole_of(&p, &failed) : json_null(),
                  &failed);
    return jaw__json_take(object, failed);
}
