/* SPDX-License-Identifier: GPL-3.0-or-later */
/* vise.c: what holds the stock: how the fixed jaw lies and which end to tap, how
 * high the stock's top stands, whether the jaws have enough of it, and whether
 * the top that was touched is where the stack says; round stock in a V-block;
 * and a vise on a sine bar. */
#include "worth.h"

#include <math.h>

/* Machine Z of a task's own surface, when it is known. */
static void say_surface(jaw__worth *w, const jaw_task *task, jaw_finding *f,
                        const char *text)
{
    jaw__solver *sv = w->sv;
    size_t node = jaw__setter_node(
        sv, (size_t)jaw__find_setter(sv->setup, task->name));

    if (!sv->nodes[node].grounded)
        return; /* said where the heights were solved */
    jaw__form_start(w);
    jaw__put_node(w, node, 1);
    jaw__item(sv, f, sv->nodes[node].value, JAW_LENGTH, jaw__weigh(w).half95,
              "%s", text);
}

/* -------------------------------------------------------------- fixed jaw */

/* Which end of a wall to tap, how far and to which side. */
static void advise_tap(jaw__solver *sv, jaw_finding *f, const char *name,
                       jaw_side faces, double skew, double span)
{
    bool x = jaw__along_x(faces);
    jaw_vec2 out = jaw_side_normal(faces);
    /* the wall's outward shift for one more mm along the axis */
    double rise = (x ? out.y : -out.x) * tan(skew);
    double tap = fabs(rise) * span;

    if (tap < sv->setup->control.step / 2) {
        jaw__advise(sv, f, "'%s' lies along %s to the last digit", name,
                    x ? "X" : "Y");
        return;
    }
    jaw__advise(sv, f, "tap the %s end of '%s' toward %s by %s over %s, then "
                "look at it again",
                x ? rise > 0 ? "x+" : "x-" : rise > 0 ? "y+" : "y-", name,
                jaw_side_word(jaw_side_opposite(faces)),
                jaw__fine_text(sv, tap).s, jaw__length_text(sv, span).s);
}

/* A wall's direction is known up to half a turn. */
static double against_axis(double theta, jaw_side faces)
{
    return remainder(jaw__along_x(faces) ? theta : theta - M_PI / 2, M_PI);
}

static void find_fixed(jaw__worth *w, const jaw_task *task, jaw_finding *f)
{
    jaw__solver *sv = w->sv;
    const jaw_vise_task *v = &task->as.vise;
    long at = jaw__find_feature(sv->setup, v->fixed);

    if (at == JAW__NOWHERE || (sv->setup->features[at].kind != JAW_EDGE &&
                               sv->setup->features[at].kind != JAW_SWEEP)) {
        f->status = JAW_EUNKNOWN;
        jaw__tell(sv, SAY_JAW_UNKNOWN, v->fixed_place,
                  jaw__feature_hint(sv->setup, v->fixed).s, v->fixed);
        return;
    }
    const jaw_found *found = &sv->out->features[at];
    jaw_side faces = jaw__side_of(&sv->setup->features[at]);
    f->status = found->status;
    if (found->status != JAW_OK || faces == JAW_SIDE_NONE)
        return;
    if (found->flags & JAW_DIRECTION_ASSUMED) {
        jaw__advise(sv, f, "touch '%s' in a second place to see how it lies",
                    v->fixed);
        return;
    }
    bool swept = found->kind == JAW_SWEEP;
    double span = swept ? found->as.sweep.span : found->as.edge.span;
    double skew = against_axis(jaw__theta_of_found(found), faces);
    jaw__form_start(w);
    jaw__put_direction(w, (size_t)at, 1);
    jaw__item(sv, f, skew, JAW_ANGLE, jaw__weigh(w).half95,
              "skew of the fixed jaw");
    if (swept && !isnan(found->as.sweep.straight))
        jaw__item(sv, f, found->as.sweep.straight, JAW_LENGTH, (double)NAN,
                  "straightness of the fixed jaw");
    advise_tap(sv, f, v->fixed, faces, skew, span);
}

void jaw__find_vise(jaw__worth *w, const jaw_task *task, jaw_finding *f)
{
    say_surface(w, task, f, "bed, machine Z");
    if (task->as.vise.fixed != NULL)
        find_fixed(w, task, f);
}

/* ------------------------------------------------------------------ stock */

static void tell_wrong(jaw__solver *sv, const jaw_task *task,
                       const jaw_held *held)
{
    const jaw_stock_task *s = &task->as.stock;
    const struct {
        unsigned bit;
        enum jaw__message say;
        double mm;
    } wrong[] = {{JAW_HOLD_LITTLE_GRIP, SAY_LITTLE_GRIP, held->grip},
                 {JAW_HOLD_BELOW_JAWS, SAY_BELOW_JAWS, -held->above},
                 {JAW_HOLD_TOO_WIDE, SAY_TOO_WIDE, s->size[1].value},
                 {JAW_HOLD_LONG, SAY_LONG_STOCK, s->size[0].value}};

    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++)
        if (held->wrong & wrong[i].bit)
            jaw__tell(sv, wrong[i].say, task->place, NULL, s->vise,
                      jaw__length_text(sv, wrong[i].mm).s);
}

/* Heights above the bed are enough to judge the stack. */
static bool judge_stack(jaw__solver *sv, const jaw_task *task, jaw_finding *f,
                        const jaw_vise_task *v)
{
    const jaw_stock_task *s = &task->as.stock;
    jaw_vise stack = {.bed = {0, 0},
                      .parallels = s->parallels,
                      .jaw_height = v->jaw_height,
                      .jaw_width = v->jaw_width,
                      .opening = v->opening,
                      .stock = {s->size[0], s->size[1], s->size[2]},
                      .least_grip = s->least_grip};
    jaw_held held;

    f->status = jaw_hold_vise(&stack, &held);
    if (f->status == JAW_ECONFLICT)
        jaw__tell(sv, SAY_PARALLELS_HIGH, task->place, NULL, s->vise,
                  jaw__length_text(sv, stack.parallels.value).s,
                  jaw__length_text(sv, stack.jaw_height).s);
    if (f->status != JAW_OK)
        return false;
    tell_wrong(sv, task, &held);
    jaw__item(sv, f, held.grip, JAW_LENGTH, (double)NAN, "height in the jaws");
    jaw__item(sv, f, held.above, JAW_LENGTH, (double)NAN, "height above the jaws");
    return true;
}

/* How far the face that was touched lies from where the stack has it. */
static void check_top(jaw__worth *w, const jaw_task *task, jaw_finding *f)
{
    jaw__solver *sv = w->sv;
    const jaw_stock_task *s = &task->as.stock;
    long at = jaw__find_feature(sv->setup, s->top);

    if (s->top == NULL)
        return;
    if (at == JAW__NOWHERE || sv->setup->features[at].kind != JAW_FACE) {
        jaw__tell(sv, SAY_TOP_UNKNOWN, s->top_place,
                  jaw__surface_hint(sv->setup, s->top).s, s->top);
        return;
    }
    size_t face = jaw__feature_node(sv, (size_t)at);
    size_t node = jaw__setter_node(
        sv, (size_t)jaw__find_setter(sv->setup, task->name));
    if (!sv->nodes[face].grounded || !sv->nodes[node].grounded)
        return;
    double off = sv->nodes[face].value - sv->nodes[node].value;
    jaw__form_start(w);
    jaw__put_node(w, face, 1);
    jaw__put_node(w, node, -1);
    jaw_value_trust t = jaw__weigh(w);
    jaw__item(sv, f, off, JAW_LENGTH, t.half95, "'%s' as touched, above it",
              s->top);
    if (fabs(off) > JAW__DOUBTFUL * t.u)
        jaw__tell(sv, SAY_TOP_OFF, s->top_place, NULL, s->top,
                  jaw__fine_text(sv, off).s, task->name);
}

void jaw__find_stock(jaw__worth *w, const jaw_task *task, jaw_finding *f)
{
    const jaw_stock_task *s = &task->as.stock;
    const jaw_task *vise =
        jaw__find_task(w->sv->setup, JAW_TASK_VISE, s->vise);
    size_t node;

    if (vise == NULL) {
        f->status = JAW_EUNKNOWN;
        if (jaw__height_node(w->sv, s->vise, &node)) /* else it was told */
            jaw__tell(w->sv, SAY_VISE_UNKNOWN, s->vise_place, NULL, s->vise);
        return;
    }
    if (!judge_stack(w->sv, task, f, &vise->as.vise))
        return;
    say_surface(w, task, f, "top by the stack, machine Z");
    check_top(w, task, f);
}

/* -------------------------------------------------------------------- vee */

/* The errors of axis and top are shared, so each is told by itself. */
void jaw__find_vee(jaw__worth *w, const jaw_task *task, jaw_finding *f)
{
    const jaw_vee_task *v = &task->as.vee;
    jaw_held_round held;

    f->status = jaw_hold_vee(v->apex, v->angle, v->diameter, &held);
    if (f->status != JAW_OK)
        return;
    jaw__item(w->sv, f, held.axis.value, JAW_LENGTH, held.axis.half95,
              "axis of the stock, machine Z");
    jaw__item(w->sv, f, held.top.value, JAW_LENGTH, held.top.half95,
              "its top, machine Z");
}

/* --------------------------------------------------------------- sine bar */

/* Above that a stack shows ever less of an angle.  Common practice, no source. */
#define SINE_MOST (M_PI / 4)

/* Where nothing is stated of bar and blocks nothing is known of the figure. */
static double half_of(const jaw_figure *f)
{
    return f->u > 0 ? f->half95 : (double)NAN;
}

static void say_stack(jaw__solver *sv, jaw_finding *f, const jaw_sine_task *t,
                      const jaw_figure *stack)
{
    const double step = sv->setup->control.step;

    jaw__item(sv, f, stack->value, JAW_LENGTH, half_of(stack),
              "stack for %s", jaw__angle_text(t->angle).s);
    jaw__item(sv, f, step / (t->bar.value * cos(t->angle)), JAW_ANGLE,
              (double)NAN, "%s more of it turns it by",
              jaw__fine_text(sv, step).s);
    if (t->angle > SINE_MOST)
        jaw__advise(sv, f, "above 45 degrees a sine bar is not sure: set %s "
                    "from the other side of a square",
                    jaw__angle_text(M_PI_2 - t->angle).s);
}

static void say_angle(jaw__solver *sv, jaw_finding *f, const jaw_sine_task *t,
                      const jaw_figure *wanted)
{
    jaw_figure angle;

    f->status = jaw_hold_sine(t->bar, t->stack, &angle);
    if (f->status != JAW_OK)
        return;
    jaw__item(sv, f, angle.value, JAW_ANGLE, half_of(&angle),
              "angle of the stack");
    if (isnan(wanted->value))
        return;
    double more = wanted->value - t->stack.value;
    jaw__item(sv, f, angle.value - t->angle, JAW_ANGLE, half_of(&angle),
              "more than is wanted");
    if (fabs(more) >= sv->setup->control.step / 2)
        jaw__advise(sv, f, "the stack wants %s %s",
                    jaw__fine_text(sv, fabs(more)).s, more > 0 ? "more" : "less");
}

void jaw__find_sine(jaw__worth *w, const jaw_task *task, jaw_finding *f)
{
    const double nan = (double)NAN;
    const jaw_sine_task *t = &task->as.sine;
    jaw_figure stack = jaw_figure_make(nan, nan, nan);

    if (!isnan(t->angle)) {
        f->status = jaw_hold_stack(t->bar, t->angle, &stack);
        if (f->status == JAW_OK)
            say_stack(w->sv, f, t, &stack);
    }
    if (!isnan(t->stack.value) && f->status == JAW_OK)
        say_angle(w->sv, f, t, &stack);
}
