/* SPDX-License-Identifier: GPL-3.0-or-later */
/* homed.c: what marks said after a homing: what to enter again first, then by
 * what the machine moved, then the marks themselves. */
#include "homed.h"

#include <math.h>
#include <string.h>

/* ----------------------------------------------------------------- numbers */

number_text angle_text(double rad, int decimals)
{
    number_text text = {"?"};

    jaw_number_write(jaw_deg(rad), decimals, text.s, sizeof text.s);
    return text;
}

/* Of a movement that does not show in so many digits there is none. */
static const char *sign(double value, const char *text)
{
    return value > 0 && text[strcspn(text, "123456789")] ? "+" : "";
}

void put_place(const shop *s, const jaw_figure at[3])
{
    for (int k = 0; k < 3; k++) {
        const number_text text = mm_text(s, at[k].value, 1);
        printf(" %12s", isnan(at[k].value) ? "-" : text.s);
    }
}

void figure_json(const shop *s, const char *name, const jaw_figure *f,
                 bool angle)
{
    double scale = angle ? jaw_unit_mm(s->unit) / jaw_rad(1) : 1;

    printf("\"%s\": {\"value\": ", name);
    json_number(s, f->value * scale);
    fputs(", \"half95\": ", stdout);
    json_number(s, f->half95 * scale);
    putchar('}');
}

/* ------------------------------------------------------------------- marks */

const char *mark_what(const jaw_book_mark *m)
{
    return *m->feature ? m->feature : "typed";
}

double mark_half(const jaw_book_mark *m)
{
    return fmax(m->at[0].half95, fmax(m->at[1].half95, m->at[2].half95));
}

void mark_json(const shop *s, const jaw_book_mark *m)
{
    static const char *const name[3] = {"x", "y", "z"};

    printf("\"what\": \"%s\", ", mark_what(m));
    for (int k = 0; k < 3; k++) {
        figure_json(s, name[k], &m->at[k], false);
        fputs(", ", stdout);
    }
    figure_json(s, "direction", &m->direction, true);
}

/* ------------------------------------------------------------------- enter */

/* One value of a register: what it was, what it is now. */
typedef struct value {
    const char *name, *word;
    const jaw_figure *before, *after;
    double step;
    jaw_unit unit;
    bool angle, noise; /* the movement it is carried by is within noise */
} value;

static bool is_asked(const value *v)
{
    return !isnan(v->before->value);
}

static bool is_same(const value *v)
{
    return jaw_round_to_step(v->before->value, v->step) ==
           jaw_round_to_step(v->after->value, v->step);
}

static const char *need_of(const value *v)
{
    if (isnan(v->after->value))
        return "not-shown";
    return v->noise ? "within-noise" : is_same(v) ? "same" : "enter";
}

/* As the control takes it, where that is the unit of what is shown. */
static number_text value_text(const shop *s, const value *v, double x)
{
    if (!v->angle && v->unit != s->unit)
        return mm_text(s, x, 1);
    return step_text(x, v->step, v->angle ? jaw_rad(1) : jaw_unit_mm(v->unit));
}

static void put_value(const shop *s, const value *v)
{
    const char *need = need_of(v);

    printf("%-8s %-6s %12s", v->name, v->word,
           value_text(s, v, v->before->value).s);
    if (strcmp(need, "not-shown") == 0)
        puts("  the marks do not show it: touch it off again");
    else if (strcmp(need, "within-noise") == 0)
        puts("  no need: within noise");
    else if (strcmp(need, "same") == 0)
        puts("  no need: the same to the last digit");
    else
        printf("  enter %12s  +- %s\n",
               value_text(s, v, v->after->value).s,
               v->angle ? angle_text(v->after->half95, 4).s
                        : mm_text(s, v->after->half95, 1).s);
}

static void put_value_json(const shop *s, const value *v, const char *comma)
{
    double scale = v->angle ? jaw_unit_mm(s->unit) / jaw_rad(1) : 1;
    double after = jaw_round_to_step(v->after->value, v->step);

    printf("%s{\"register\": \"%s\", \"axis\": \"%s\", \"was\": ", comma,
           v->name, v->word);
    json_number(s, jaw_round_to_step(v->before->value, v->step) * scale);
    fputs(", \"enter\": ", stdout);
    json_number(s, (isnan(v->after->value) ? v->after->value : after) * scale);
    fputs(", ", stdout);
    figure_json(s, "now", v->after, v->angle);
    printf(", \"need\": \"%s\"}", need_of(v));
}

/* Each value of a register in turn; their number. */
typedef void (*each_value)(const shop *s, const value *v, int *n);

static void each_of(const shop *s, const jaw_book_homing *h,
                    const jaw_book_carried *c, each_value each, int *n)
{
    const jaw_book_zero *z = &c->before.as.zero, *now = &c->after.as.zero;
    bool plane = h->moved.plane == JAW_STAYED;
    bool high = h->moved.height == JAW_STAYED;

    if (c->how != JAW_CARRY_DONE)
        return;
    if (c->before.kind == JAW_BOOK_OFFSET) {
        const jaw_book_offset *o = &c->before.as.offset;
        each(s, &(value){c->before.subject, "length", &o->length,
                         &c->after.as.offset.length, o->step, o->unit, false,
                         high}, n);
        return;
    }
    for (int k = 0; k < 4 && c->before.kind == JAW_BOOK_ZERO; k++) {
        bool turn = k == 3;
        value v = {c->before.subject, jaw_book_axis_word((unsigned)k),
                   &z->at[k], &now->at[k],
                   turn ? z->angle_step : z->step, z->unit, turn,
                   k == 2 ? high : plane};
        if (is_asked(&v) && (!turn || z->turns))
            each(s, &v, n);
    }
}

static void count_value(const shop *s, const value *v, int *n)
{
    (void)s;
    *n += strcmp(need_of(v), "enter") == 0;
}

static void count_all(const shop *s, const value *v, int *n)
{
    (void)s;
    (void)v;
    ++*n;
}

static void print_value(const shop *s, const value *v, int *n)
{
    put_value(s, v);
    ++*n;
}

static void json_value(const shop *s, const value *v, int *n)
{
    put_value_json(s, v, (*n)++ > 0 ? ", " : "");
}

static int for_all(const shop *s, const jaw_book_homing *h, each_value each)
{
    int n = 0;

    for (size_t i = 0; i < h->n_carried; i++)
        each_of(s, h, &h->carried[i], each, &n);
    return n;
}

/* --------------------------------------------------------------- the rest */

static void put_height(const shop *s, const jaw_book_carried *c)
{
    const jaw_book_height *a = &c->before.as.height, *b = &c->after.as.height;

    printf("%-8s top    %12s  now   %12s  +- %s\n", c->before.subject,
           mm_text(s, a->value, 1).s, mm_text(s, b->value, 1).s,
           mm_text(s, b->half95, 1).s);
}

static void put_fixture(const shop *s, const jaw_book_carried *c)
{
    const jaw_figure *a = c->before.as.fixture.at, *b = c->after.as.fixture.at;

    for (int k = 0; k < 3; k++)
        if (!isnan(a[k].value) && !isnan(b[k].value))
            printf("%-8s %-6s %12s  now   %12s  +- %s\n", c->before.subject,
                   jaw_book_axis_word((unsigned)k),
                   mm_text(s, a[k].value, 1).s, mm_text(s, b[k].value, 1).s,
                   mm_text(s, b[k].half95, 1).s);
}

/* What stayed within noise is as it was, only less sure. */
static bool is_place(const jaw_book_homing *h, const jaw_book_carried *c)
{
    return c->how == JAW_CARRY_DONE &&
           ((c->before.kind == JAW_BOOK_HEIGHT &&
             h->moved.height != JAW_STAYED) ||
            c->before.kind == JAW_BOOK_FIXTURE);
}

static void put_places(const shop *s, const jaw_book_homing *h)
{
    const char *head = "\nsurfaces and fixtures, nothing to enter\n";

    for (size_t i = 0; i < h->n_carried; i++) {
        const jaw_book_carried *c = &h->carried[i];
        if (!is_place(h, c))
            continue;
        fputs(head, stdout);
        head = "";
        if (c->before.kind == JAW_BOOK_HEIGHT)
            put_height(s, c);
        else
            put_fixture(s, c);
    }
}

static void put_left(const jaw_book_homing *h)
{
    const char *head = "\nnot carried\n";

    for (size_t i = 0; i < h->n_carried; i++) {
        const jaw_book_carried *c = &h->carried[i];
        if (c->how == JAW_CARRY_DONE)
            continue;
        printf("%s%-8s entry %lld, %s: ", head, c->before.subject,
               c->before.id, date_text(c->before.at).s);
        print_wrapped(stdout, jaw_book_carry_text(c->how), 9,
                      36 + (int)strlen(c->before.subject));
        head = "";
    }
}

static void put_list(const shop *s, const jaw_book_homing *h)
{
    int enter = for_all(s, h, count_value);
    bool clear = h->move == JAW_MOVE_MOVED;

    if (for_all(s, h, count_all) == 0)
        puts("the machine moved; the book has no work zero that could be "
             "carried");
    else if (enter > 0)
        printf("%s, %s\n", clear ? "enter again" : "if it did move, this "
                                                   "would be to enter",
               jaw_unit_word(s->unit));
    else
        puts("nothing need be entered again");
    for_all(s, h, print_value);
    put_left(h);
    put_places(s, h);
    if (enter == 0)
        return;
    putchar('\n');
    cautions_print();
}

/* ------------------------------------------------------------------- moved */

static const char *const movement_word[] = {"within-noise", "not-clear",
                                            "moved"};

static void put_shift(const shop *s, const jaw_figure *f, const char *axis)
{
    if (isnan(f->value))
        printf("%-8s the marks do not show it\n", axis);
    else
        printf("%-8s %s%s +- %s (95 %%)\n", axis,
               sign(f->value, mm_text(s, f->value, 1).s),
               mm_text(s, f->value, 1).s, mm_text(s, f->half95, 1).s);
}

/* Of those that stayed, 5 in 100 look like more than noise. */
static void put_movement(const char *what, jaw_movement m)
{
    const char *text =
        m == JAW_STAYED ? "within noise"
        : m == JAW_MOVED
            ? "moved: fewer than 1 in 1000 that stayed look like this"
            : "not clear: fewer than 5 in 100 that stayed look like this, "
              "more than 1 in 1000";

    printf("%-8s %s\n", what, text);
}

static void put_moved(const shop *s, const jaw_book_homing *h)
{
    const jaw_moved *m = &h->moved;
    bool plane = !isnan(m->shift[0].value) || !isnan(m->shift[1].value);

    printf("\nmoved%s, %s\n", h->doubtful ? ", as the marks stand" : "",
           jaw_unit_word(s->unit));
    for (int k = 0; k < 3; k++)
        put_shift(s, &m->shift[k], jaw_book_axis_word((unsigned)k));
    if (!(m->flags & JAW_DIRECTION_ASSUMED))
        printf("%-8s %s%s +- %s deg, about X %s Y %s\n", "turn",
               sign(m->turn.value, angle_text(m->turn.value, 4).s),
               angle_text(m->turn.value, 4).s,
               angle_text(m->turn.half95, 4).s, mm_text(s, m->about.x, 0).s,
               mm_text(s, m->about.y, 0).s);
    if (plane)
        put_movement("plane", m->plane);
    if (!isnan(m->shift[2].value))
        put_movement("height", m->height);
}

static number_text off_text(const shop *s, jaw_vec3 off)
{
    double plane = isnan(off.x) ? 0 : hypot(off.x, off.y);
    double all = isnan(off.z) ? plane : hypot(plane, off.z);

    return mm_text(s, all, 1);
}

static void put_marks(const shop *s, const jaw_book_homing *h)
{
    printf("\nmarks, %s\n%-12s %-8s %12s %12s %12s  %10s%s\n",
           jaw_unit_word(s->unit), "name", "what", "X", "Y", "Z", "+- (95 %)",
           h->n_compared > 0 ? "  off, and compared with" : "");
    for (size_t i = 0; i < h->n; i++) {
        const jaw_book_mark *m = &h->mark[i].as.mark;
        printf("%-12s %-8s", h->mark[i].subject, mark_what(m));
        put_place(s, m->at);
        printf("  %10s", mm_text(s, mark_half(m), 1).s);
        if (h->marked[i].since > 0)
            printf("  %s, entry %lld of %s\n", off_text(s, h->marked[i].off).s,
                   h->marked[i].since, date_text(h->marked[i].at).s);
        else
            puts(h->n_compared > 0 ? "  the first time" : "");
    }
}

static void put_stayed(const jaw_moved *m)
{
    const char *shown = "";

    fputs("nothing need be entered again: the machine is where it was in ",
          stdout);
    for (int k = 0; k < 3; k++) {
        if (isnan(m->shift[k].value))
            continue;
        printf("%s%s", shown, jaw_book_axis_word((unsigned)k));
        shown = " and ";
    }
    for (int k = 0; k < 3; k++)
        if (isnan(m->shift[k].value))
            printf("; the marks do not show %s",
                   jaw_book_axis_word((unsigned)k));
    putchar('\n');
}

static void put_verdict(const jaw_book_homing *h)
{
    if (h->doubtful)
        puts("nothing follows before the doubt above is cleared: enter "
             "nothing");
    else if (h->n_compared == 0)
        puts("the first time these marks are found: there is nothing to "
             "compare with");
    else if (h->move == JAW_MOVE_STAYED)
        put_stayed(&h->moved);
}

static void put_kept(const jaw_book_homing *h, long long id)
{
    size_t carried = 0;

    for (size_t i = 0; i < h->n_carried && h->move == JAW_MOVE_MOVED; i++)
        carried += h->carried[i].how == JAW_CARRY_DONE;
    if (id == 0 && h->doubtful)
        puts("\nnothing was kept");
    else if (id == 0)
        puts("\nnothing was kept: --keep writes it into the book");
    else
        printf("\nkept: %zu mark%s%s; `jawline book undo %lld' takes %s back\n",
               h->n, h->n == 1 ? "" : "s",
               carried > 0 ? ", and all that was carried" : "", id,
               carried > 0 ? "all of it" : h->n == 1 ? "it" : "them");
}

void homed_print(const shop *s, const jaw_book_homing *h, long long id)
{
    put_verdict(h);
    if (!h->doubtful && h->move >= JAW_MOVE_UNCLEAR)
        put_list(s, h);
    if (h->n_compared > 0)
        put_moved(s, h);
    put_marks(s, h);
    put_kept(h, id);
}

/* -------------------------------------------------------------------- JSON */

static void moved_json(const shop *s, const jaw_book_homing *h)
{
    static const char *const name[3] = {"x", "y", "z"};
    const jaw_moved *m = &h->moved;

    fputs(", \"moved\": ", stdout);
    if (h->n_compared == 0) {
        fputs("null", stdout);
        return;
    }
    putchar('{');
    for (int k = 0; k < 3; k++) {
        figure_json(s, name[k], &m->shift[k], false);
        fputs(", ", stdout);
    }
    figure_json(s, "turn", &m->turn, true);
    printf(", \"turn_assumed\": %s, \"about_x\": ",
           m->flags & JAW_DIRECTION_ASSUMED ? "true" : "false");
    json_number(s, m->about.x);
    fputs(", \"about_y\": ", stdout);
    json_number(s, m->about.y);
    printf(", \"plane\": \"%s\", \"height\": \"%s\"}",
           movement_word[m->plane], movement_word[m->height]);
}

static void found_json(const shop *s, const jaw_book_homing *h, size_t i)
{
    const jaw_vec3 off = h->marked[i].off;

    fputs(i > 0 ? ", {\"name\": " : "{\"name\": ", stdout);
    json_text(h->mark[i].subject);
    fputs(", ", stdout);
    mark_json(s, &h->mark[i].as.mark);
    printf(", \"since\": %lld, \"off\": [", h->marked[i].since);
    json_number(s, off.x);
    fputs(", ", stdout);
    json_number(s, off.y);
    fputs(", ", stdout);
    json_number(s, off.z);
    fputs("]}", stdout);
}

static void left_json(const jaw_book_homing *h)
{
    const char *comma = "";

    fputs("], \"not_carried\": [", stdout);
    for (size_t i = 0; i < h->n_carried; i++) {
        const jaw_book_carried *c = &h->carried[i];
        if (c->how == JAW_CARRY_DONE)
            continue;
        printf("%s{\"name\": ", comma);
        json_text(c->before.subject);
        printf(", \"entry\": %lld, \"why\": \"%s\"}", c->before.id,
               jaw_book_carry_word(c->how));
        comma = ", ";
    }
}

void homed_json(const shop *s, const jaw_book_homing *h, long long id)
{
    printf("{\"machine\": ");
    json_text(s->machine);
    printf(", \"unit\": \"%s\", \"entry\": %lld, \"move\": \"%s\", "
           "\"doubtful\": %s",
           jaw_unit_word(s->unit), id, jaw_book_move_word(h->move),
           h->doubtful ? "true" : "false");
    moved_json(s, h);
    fputs(", \"registers\": [", stdout);
    for_all(s, h, json_value);
    left_json(h);
    fputs("], \"marks\": [", stdout);
    for (size_t i = 0; i < h->n; i++)
        found_json(s, h, i);
    puts("]}");
}
