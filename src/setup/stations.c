/* SPDX-License-Identifier: GPL-3.0-or-later */
/* stations.c: zeros at places with known spacing: what was not touched follows
 * from what was (jaw_place_stations), and each touched one is held against the
 * others.
 *
 * Every such value is a sum of touched zeros and of the turn that was measured
 * apart, so its uncertainty is that of a linear form (forms.c), which knows what
 * the touched ones share: a tip, a wall, a length.  What the nominal places may
 * lie off stands beside the adjustment.  With weights w of the touched ones, R of
 * how all lie, r = R (place - mean place), and g = 1 / u^2 of a turn that was
 * measured apart:
 *     d turn = (sum w (r x dt) + g dturn) / (sum w r^2 + g)
 *     d fit  = sum w dt / sum w + (arm turned by 90 degrees) d turn
 * which are the normal equations of jaw_place_stations, to the first order. */
#include "worth.h"
#include "zero.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* mm.  A touched value that is known exactly still weighs something: far below
 * the step of any control. */
#define U_LEAST 1e-6

typedef struct row {
    jaw__worth *w;
    const jaw_task *task;
    const jaw_stations_task *as;
    jaw_finding *f;
    double known;
    size_t n, n_xy, n_z;  /* in all, and touched */
    size_t *zero;         /* number of each */
    jaw_station *station;
    jaw_station_found *found;
    jaw_vec3 *moved;      /* of the value at hand: how it goes with each place */
    jaw_figure turn;      /* measured apart; NaN: not */
    const jaw_zero_entry *turned_by; /* whose turn that is; NULL: an angle */
    jaw_zero_entry asked; /* the turn that the task states */
    jaw_figure lies;      /* turn of the whole */
    double rms;
    int dof;
    unsigned flags;
    bool spread_xy, spread_z;
} row;

static const jaw_zero_entry *entry_of(const row *s, size_t i)
{
    return &s->w->sv->setup->zeros[s->zero[i]];
}

static jaw_zero_found *zero_of(const row *s, size_t i)
{
    return &s->w->sv->out->zeros[s->zero[i]];
}

static bool has_xy(const row *s, size_t i)
{
    return !isnan(s->station[i].touched.x);
}

static bool has_z(const row *s, size_t i)
{
    return !isnan(s->station[i].touched.z);
}

static bool has(const row *s, size_t i, jaw_axis axis)
{
    return axis == JAW_Z ? has_z(s, i) : has_xy(s, i);
}

static double coordinate(jaw_vec3 v, jaw_axis axis)
{
    return axis == JAW_X ? v.x : axis == JAW_Y ? v.y : v.z;
}

/* ------------------------------------------------------------------ gather */

static double u_of(const row *s, size_t i, jaw_axis axis)
{
    jaw__form_start(s->w);
    if (!jaw__put_zero(s->w, s->zero[i], axis, 1))
        return (double)NAN;
    return fmax(jaw__weigh(s->w).u, U_LEAST);
}

static void take_station(row *s, size_t i)
{
    const jaw_zero_entry *e = entry_of(s, i);
    const jaw_zero_found *z = zero_of(s, i);
    const double nan = (double)NAN, x = u_of(s, i, JAW_X),
                 y = u_of(s, i, JAW_Y);
    bool xy = !isnan(z->zero.x) && !isnan(z->zero.y);

    s->station[i] = (jaw_station){
        .nominal = {e->station_at.x, e->station_at.y,
                    isnan(e->station_at.z) ? 0 : e->station_at.z},
        .touched = {xy ? z->zero.x : nan, xy ? z->zero.y : nan, z->zero.z},
        .u_xy = sqrt((x * x + y * y) / 2),
        .u_z = u_of(s, i, JAW_Z),
        .known = s->known};
    s->n_xy += has_xy(s, i);
    s->n_z += has_z(s, i);
    s->spread_xy &= !has_xy(s, i) || !isnan(s->station[i].u_xy);
    s->spread_z &= !has_z(s, i) || !isnan(s->station[i].u_z);
}

/* Of all or of none. */
static void drop_spreads(row *s)
{
    for (size_t i = 0; i < s->n; i++) {
        if (!s->spread_xy)
            s->station[i].u_xy = (double)NAN;
        if (!s->spread_z)
            s->station[i].u_z = (double)NAN;
    }
}

/* A zero that was not found, for its terms or its name, is no station. */
static bool gather(row *s)
{
    const jaw_setup *setup = s->w->sv->setup;
    size_t room = setup->n_zeros + 1;

    s->zero = calloc(room, sizeof *s->zero);
    s->station = calloc(room, sizeof *s->station);
    s->found = calloc(room, sizeof *s->found);
    s->moved = calloc(room, sizeof *s->moved);
    if (!s->zero || !s->station || !s->found || !s->moved) {
        s->w->sv->no_memory = true;
        return false;
    }
    s->spread_xy = s->spread_z = true;
    for (size_t i = 0; i < setup->n_zeros; i++) {
        const char *name = setup->zeros[i].station;
        if (name == NULL || strcmp(name, s->task->name) != 0 ||
            s->w->sv->out->zeros[i].status != JAW_OK)
            continue;
        s->zero[s->n] = i;
        take_station(s, s->n++);
    }
    drop_spreads(s);
    return true;
}

/* -------------------------------------------------------------------- turn */

/* The turn that the task states, as a zero would have it. */
static bool find_asked(row *s)
{
    jaw_zero_found z = {.status = JAW_OK};
    jaw__zero_work work = {.sv = s->w->sv, .e = &s->asked, .z = &z};

    s->asked = (jaw_zero_entry){.name = s->task->name,
                                .turn_use = s->as->turn_use,
                                .turn_feature = s->as->turn_feature,
                                .turn_along = s->as->turn_along,
                                .turn = s->as->turn,
                                .place = s->task->place,
                                .turn_place = s->as->turn_place};
    if (s->as->turn_use == JAW_TURN_NONE)
        return true;
    if (!jaw__find_skew(&work)) {
        s->f->status = z.status;
        return false;
    }
    s->turn.value = z.skew;
    s->turned_by = s->as->turn_use == JAW_TURN_FEATURE ? &s->asked : NULL;
    return true;
}

/* With one station alone, its own turn is that of the whole. */
static void turn_of_only(row *s)
{
    for (size_t i = 0; i < s->n; i++) {
        const jaw_zero_entry *e = entry_of(s, i);
        if (!has_xy(s, i) || e->turn_use == JAW_TURN_NONE)
            continue;
        s->turn.value = zero_of(s, i)->skew;
        s->turned_by = e->turn_use == JAW_TURN_FEATURE ? e : NULL;
    }
}

static bool find_turn(row *s)
{
    s->turn = (jaw_figure){.value = (double)NAN, .u = 0};
    if (!find_asked(s))
        return false;
    if (isnan(s->turn.value) && s->n_xy == 1)
        turn_of_only(s);
    if (isnan(s->turn.value) && s->n_xy == 1) {
        jaw__tell(s->w->sv, SAY_STATIONS_TURN, s->task->place, NULL,
                  s->task->name);
        s->f->status = JAW_EUNKNOWN;
        return false;
    }
    if (s->turned_by == NULL)
        return true;
    jaw__form_start(s->w);
    jaw__put_skew(s->w, s->turned_by, 1);
    double u = jaw__weigh(s->w).u;
    s->turn.u = isnan(u) ? 0 : u;
    return true;
}

/* ------------------------------------------------------------------- forms */

/* How the touched ones, all but one, make up what the whole is; skip = n: all. */
typedef struct make_up {
    double total, spread, given, total_z;
    jaw_vec2 about;
    jaw_frame turn;
} make_up;

static double weight_of(const row *s, size_t i, jaw_axis axis)
{
    const jaw_station *t = &s->station[i];
    const double u = axis == JAW_Z ? t->u_z : t->u_xy;

    return isnan(u) ? 1 : 1 / (u * u + t->known * t->known);
}

static bool counts(const row *s, size_t i, size_t skip, jaw_axis axis)
{
    return i != skip && has(s, i, axis);
}

static jaw_vec2 from_mean(const make_up *m, jaw_vec3 nominal)
{
    return jaw_machine_from_work(&m->turn, (jaw_vec2){nominal.x - m->about.x,
                                                      nominal.y - m->about.y});
}

static make_up make_up_of(const row *s, size_t skip)
{
    make_up m = {.turn = jaw_frame_make((jaw_vec2){0, 0}, s->lies.value)};
    size_t n = 0;

    for (size_t i = 0; i < s->n; i++) {
        m.total_z += counts(s, i, skip, JAW_Z) ? weight_of(s, i, JAW_Z) : 0;
        if (!counts(s, i, skip, JAW_X))
            continue;
        double w = weight_of(s, i, JAW_X);
        m.about.x += w * s->station[i].nominal.x;
        m.about.y += w * s->station[i].nominal.y;
        m.total += w;
        n++;
    }
    m.about.x /= m.total;
    m.about.y /= m.total;
    for (size_t i = 0; i < s->n; i++) {
        if (!counts(s, i, skip, JAW_X))
            continue;
        jaw_vec2 r = from_mean(&m, s->station[i].nominal);
        m.spread += weight_of(s, i, JAW_X) * (r.x * r.x + r.y * r.y);
    }
    bool apart = !isnan(s->turn.value);
    bool weighs = apart && s->turn.u > 0 && s->spread_xy && n > 1;
    m.given = weighs ? 1 / (s->turn.u * s->turn.u) : apart ? HUGE_VAL : 0;
    return m;
}

/* Adds c times touched coordinate of a station; what its nominal place lies off
 * comes with it. */
static void put_touched(row *s, size_t i, jaw_axis axis, double c)
{
    double *moved = axis == JAW_X   ? &s->moved[i].x
                    : axis == JAW_Y ? &s->moved[i].y
                                    : &s->moved[i].z;

    *moved += c;
    jaw__put_zero(s->w, s->zero[i], axis, c);
}

/* Adds c times the turn of the whole. */
static void put_lies(row *s, const make_up *m, size_t skip, double c)
{
    bool whole = isinf(m->given);
    double all = m->spread + m->given;

    if (s->turned_by != NULL)
        jaw__put_skew(s->w, s->turned_by, whole ? c : c * m->given / all);
    for (size_t i = 0; i < s->n && !whole; i++) {
        if (!counts(s, i, skip, JAW_X))
            continue;
        jaw_vec2 r = from_mean(m, s->station[i].nominal);
        double share = c * weight_of(s, i, JAW_X) / all;
        put_touched(s, i, JAW_Y, share * r.x);
        put_touched(s, i, JAW_X, -share * r.y);
    }
}

/* Adds c times where the whole puts station `at`, without what was touched at
 * `skip`. */
static void put_fit(row *s, size_t at, size_t skip, jaw_axis axis, double c)
{
    make_up m = make_up_of(s, skip);
    jaw_vec2 arm = from_mean(&m, s->station[at].nominal);

    for (size_t i = 0; i < s->n; i++)
        if (counts(s, i, skip, axis))
            put_touched(s, i, axis, c * weight_of(s, i, axis) /
                                        (axis == JAW_Z ? m.total_z : m.total));
    if (axis != JAW_Z)
        put_lies(s, &m, skip, c * (axis == JAW_X ? -arm.y : arm.x));
}

static void form_start(row *s)
{
    jaw__form_start(s->w);
    for (size_t i = 0; i < s->n; i++)
        s->moved[i] = (jaw_vec3){0, 0, 0};
}

/* What the nominal places leave open of the form that was put together: each
 * place is off by its own error, in the coordinates of the whole. */
static double spread_of_places(const row *s)
{
    double sum = 0;

    for (size_t i = 0; i < s->n; i++)
        sum += s->moved[i].x * s->moved[i].x + s->moved[i].y * s->moved[i].y +
               s->moved[i].z * s->moved[i].z;
    return s->known * sqrt(sum);
}

static jaw_value_trust weigh(row *s)
{
    jaw_value_trust t = jaw__weigh(s->w);

    jaw__join_known(s->w, &t, spread_of_places(s));
    return t;
}

static void weigh_value(row *s, jaw_value_trust *t, jaw_next *next)
{
    const double u = spread_of_places(s);
    char text[120];

    jaw__weigh_value(s->w, t);
    const jaw_value_trust own = *t;
    jaw__join_known(s->w, t, u);
    if (!isnan(t->u))
        jaw__next_beside(s->w, &own, u, (double)INFINITY, t, next);
    if (isnan(t->u) || u == 0)
        return;
    snprintf(text, sizeof text, "how true the places of '%.60s' are",
             s->task->name);
    jaw__budget_beside(s->w, t, u, (double)INFINITY, text);
}

/* The adjusted place: a share of its own touch, the rest of the whole; and its
 * own nominal place lies off as well (jaw_place_stations). */
static void put_place(row *s, size_t i, jaw_axis axis)
{
    const double known = s->known;
    const double u = axis == JAW_Z ? s->station[i].u_z : s->station[i].u_xy;
    bool touched = has(s, i, axis) && !isnan(u);
    double share = touched ? known * known / (known * known + u * u) : 0;

    form_start(s);
    put_fit(s, i, s->n, axis, 1 - share);
    if (share > 0)
        put_touched(s, i, axis, share);
    *(axis == JAW_X   ? &s->moved[i].x
      : axis == JAW_Y ? &s->moved[i].y
                      : &s->moved[i].z) -= 1;
}

/* ------------------------------------------------------------------- zeros */

static void set_axis(row *s, size_t i, jaw_axis axis)
{
    const double step = s->w->sv->setup->control.step;
    jaw__solver *sv = s->w->sv;
    jaw_zero_found *z = zero_of(s, i);
    double *zero[] = {&z->zero.x, &z->zero.y, &z->zero.z};
    double *enter[] = {&z->enter.x, &z->enter.y, &z->enter.z};
    double value = coordinate(s->found[i].place, axis);
    const char *cap = jaw__axis_cap(axis);

    if (isnan(value))
        return;
    jaw__step(sv, coordinate(s->station[i].nominal, axis), JAW_LENGTH,
              "%s  place among the stations of '%s'", cap, s->task->name);
    *zero[axis] = value;
    *enter[axis] = jaw_round_to_step(value, step);
    jaw__step(sv, value, JAW_LENGTH, "%s  where the %zu touched put%s that", cap,
              axis == JAW_Z ? s->n_z : s->n_xy,
              (axis == JAW_Z ? s->n_z : s->n_xy) == 1 ? "s" : "");
    jaw__step(sv, *enter[axis], JAW_LENGTH, "%s  rounded to the control's step",
              cap);
    z->next[axis] = (jaw_next){.half95 = (double)NAN};
    put_place(s, i, axis);
    weigh_value(s, &z->trust[axis], &z->next[axis]);
}

/* A turn is asked for when it is stated of the whole or of a touched one. */
static bool turns(const row *s)
{
    bool any = s->as->turn_use != JAW_TURN_NONE;

    for (size_t i = 0; i < s->n; i++)
        any = any || (has_xy(s, i) && entry_of(s, i)->turn_use != JAW_TURN_NONE);
    return any;
}

static void set_turn(row *s, size_t i)
{
    const jaw_control *c = &s->w->sv->setup->control;
    jaw_zero_found *z = zero_of(s, i);

    if (entry_of(s, i)->turn_use != JAW_TURN_NONE)
        return;
    if (!turns(s)) {
        jaw__tell(s->w->sv, SAY_TURN_NONE, entry_of(s, i)->place, NULL,
                  z->name);
        return;
    }
    z->flags &= ~(unsigned)JAW_DIRECTION_ASSUMED;
    z->skew = s->lies.value;
    make_up m = make_up_of(s, s->n);
    form_start(s);
    put_lies(s, &m, s->n, 1);
    weigh_value(s, &z->turn_trust, &z->turn_next);
    if (!c->can_turn)
        return;
    z->turn = jaw_round_to_step(z->skew, c->angle_step);
    jaw__step(s->w->sv, z->skew, JAW_ANGLE, "turn  of the stations of '%s'",
              s->task->name);
    jaw__step(s->w->sv, z->turn, JAW_ANGLE,
              "turn  rounded to the control's step");
}

static void set_zero(row *s, size_t i)
{
    const jaw_zero_entry *e = entry_of(s, i);
    jaw__zero_work work = {.sv = s->w->sv, .e = e, .z = zero_of(s, i)};
    bool plane = !has_xy(s, i) || s->as->adjusted;

    s->w->sv->step_of = s->zero[i];
    for (jaw_axis a = JAW_X; a < JAW_AXES; a++)
        if (!has(s, i, a) || s->as->adjusted)
            set_axis(s, i, a);
    if (!has_xy(s, i))
        set_turn(s, i);
    if (plane)
        jaw__judge_zero_travel(&work);
}

/* -------------------------------------------------------------- differences */

/* A touched one against what the others say; returned: the largest test. */
static double say_off(row *s, size_t i, double *off)
{
    double worst = 0;

    *off = 0;
    for (jaw_axis a = JAW_X; a < JAW_AXES; a++) {
        double value = coordinate(s->found[i].off, a);
        if (isnan(value))
            continue;
        form_start(s);
        put_touched(s, i, a, 1);
        put_fit(s, i, i, a, -1);
        jaw_value_trust t = weigh(s);
        jaw__item(s->w->sv, s->f, value, JAW_LENGTH, t.half95, "%s off in %s",
                  zero_of(s, i)->name, jaw__axis_cap(a));
        if (t.u > 0 && fabs(value) / t.u > worst) {
            worst = fabs(value) / t.u;
            *off = value;
        }
    }
    return worst;
}

static void tell_off(row *s, const double test[], const double off[],
                     double most)
{
    jaw__solver *sv = s->w->sv;
    size_t worst = 0;
    double sum = 0;

    for (size_t i = 0; i < s->n; i++) {
        sum += exp((test[i] * test[i] - most * most) / 2);
        worst = test[i] > test[worst] ? i : worst;
    }
    s->f->flags |= JAW_RESIDUAL;
    if (1 / sum >= JAW__NAMED)
        jaw__tell(sv, SAY_STATION_OFF, entry_of(s, worst)->station_place, NULL,
                  zero_of(s, worst)->name,
                  jaw__length_text(sv, fabs(off[worst])).s, s->task->name);
    else
        jaw__tell(sv, SAY_STATIONS_OFF, s->task->place, NULL, s->task->name,
                  jaw__length_text(sv, fabs(off[worst])).s);
}

/* Every one in turn; the one far off spoils what is said of the others. */
static void compare(row *s)
{
    double *test = calloc(2 * s->n, sizeof *test), most = 0;

    if (test == NULL) {
        s->w->sv->no_memory = true;
        return;
    }
    for (size_t i = 0; i < s->n; i++) {
        test[i] = say_off(s, i, &test[s->n + i]);
        most = fmax(most, test[i]);
    }
    bool explained = (s->flags & (JAW_SCALE_OFF | JAW_MIRRORED)) != 0;
    if (most > JAW__DOUBTFUL && !explained)
        tell_off(s, test, test + s->n, most);
    else if (s->flags & JAW_RESIDUAL && !explained)
        jaw__tell(s->w->sv, SAY_STATIONS_OFF, s->task->place, NULL,
                  s->task->name, jaw__length_text(s->w->sv, 2 * s->rms).s);
    free(test);
}

/* ------------------------------------------------------------------- doubts */

/* How much farther apart the touched ones are than stated. */
static double scale_of(const row *s)
{
    jaw_vec2 from[2] = {{0, 0}, {0, 0}};
    double far = -1, scale = (double)NAN;
    size_t first = 0;

    while (!has_xy(s, first))
        first++;
    from[0] = (jaw_vec2){s->station[first].nominal.x,
                         s->station[first].nominal.y};
    from[1] = (jaw_vec2){s->station[first].touched.x,
                         s->station[first].touched.y};
    for (size_t i = first + 1; i < s->n; i++) {
        const jaw_station *t = &s->station[i];
        double stated = hypot(t->nominal.x - from[0].x,
                              t->nominal.y - from[0].y);
        if (!has_xy(s, i) || stated <= far)
            continue;
        far = stated;
        scale = hypot(t->touched.x - from[1].x, t->touched.y - from[1].y) /
                stated;
    }
    return scale;
}

static void tell_flags(row *s)
{
    jaw__solver *sv = s->w->sv;
    const bool mirrored = (s->flags & JAW_MIRRORED) != 0;
    double scale = s->flags & JAW_SCALE_OFF ? scale_of(s) : 1;
    char times[48];

    jaw_number_write(scale, 5, times, sizeof times);
    if (s->flags & JAW_SCALE_OFF && !mirrored)
        jaw__tell(sv, SAY_STATIONS_SCALE, s->task->place,
                  scale > 20 || scale < 0.05
                      ? "one of the two is in inches, the other in millimetres"
                      : "check their places, and which zero is which",
                  s->task->name, times);
    if (mirrored)
        jaw__tell(sv, SAY_STATIONS_MIRRORED, s->task->place, NULL,
                  s->task->name);
    if (fabs(s->lies.value) > JAW__STEEP && isnan(s->turn.value) && !mirrored)
        jaw__tell(sv, SAY_STATIONS_STEEP, s->task->place, NULL, s->task->name,
                  jaw__angle_text(s->lies.value).s);
    if (!(s->as->known > 0))
        jaw__tell(sv, SAY_STATIONS_SPACING, s->task->place, NULL, s->task->name,
                  jaw__fine_text(sv, s->known).s);
}

static bool all_apart(row *s)
{
    for (size_t i = 0; i < s->n; i++)
        for (size_t k = 0; k < i; k++) {
            jaw_vec3 a = s->station[i].nominal, b = s->station[k].nominal;
            if (a.x != b.x || a.y != b.y)
                continue;
            jaw__tell(s->w->sv, SAY_STATIONS_SAME,
                      entry_of(s, i)->station_place, NULL, zero_of(s, k)->name,
                      zero_of(s, i)->name, s->task->name);
            s->f->status = JAW_ECONFLICT;
            return false;
        }
    if (s->n_xy > 0)
        return true;
    jaw__tell(s->w->sv, SAY_STATIONS_NONE, s->task->place, NULL, s->task->name);
    s->f->status = JAW_EFEW;
    return false;
}

/* -------------------------------------------------------------------- whole */

static void say_turn(row *s)
{
    make_up m = make_up_of(s, s->n);

    form_start(s);
    put_lies(s, &m, s->n, 1);
    jaw__item(s->w->sv, s->f, s->lies.value, JAW_ANGLE, weigh(s).half95,
              "turn of the stations");
}

/* How each touched one lies turned against the whole, where that was measured
 * by something else. */
static void say_turn_off(row *s, size_t i)
{
    const jaw_zero_entry *e = entry_of(s, i);
    make_up m = make_up_of(s, s->n);

    if (!has_xy(s, i) || e->turn_use != JAW_TURN_FEATURE ||
        (s->turned_by != NULL && isinf(m.given) &&
         strcmp(s->turned_by->turn_feature, e->turn_feature) == 0))
        return;
    form_start(s);
    jaw__put_skew(s->w, e, 1);
    put_lies(s, &m, s->n, -1);
    jaw__item(s->w->sv, s->f, zero_of(s, i)->skew - s->lies.value, JAW_ANGLE,
              weigh(s).half95, "%s turn off", zero_of(s, i)->name);
}

static void say_agreement(row *s)
{
    if (s->dof < 1)
        jaw__advise(s->w->sv, s->f, "no check of the spacing: touch one more "
                                    "station in x and y to see");
    else
        jaw__item(s->w->sv, s->f, s->rms, JAW_LENGTH, (double)NAN,
                  "off where they belong, rms");
}

static void place(row *s)
{
    s->f->status = jaw_place_stations(s->station, s->n, s->turn,
                                      !s->as->adjusted, s->found, &s->lies,
                                      &s->rms, &s->dof, &s->flags);
    if (s->f->status == JAW_ENOMEM)
        s->w->sv->no_memory = true;
    else if (s->f->status != JAW_OK)
        jaw__tell(s->w->sv, SAY_STATIONS_PLACE, s->task->place, NULL,
                  s->task->name);
    if (s->f->status != JAW_OK)
        return;
    s->f->flags = s->flags;
    s->f->rms = s->dof > 0 ? s->rms : (double)NAN;
    s->f->dof = s->dof;
    tell_flags(s);
    say_turn(s);
    for (size_t i = 0; i < s->n; i++)
        say_turn_off(s, i);
    compare(s);
    say_agreement(s);
    for (size_t i = 0; i < s->n; i++)
        set_zero(s, i);
}

static void fail_zeros(row *s)
{
    for (size_t i = 0; i < s->n; i++)
        if (!has_xy(s, i))
            zero_of(s, i)->status = s->f->status;
}

void jaw__find_stations(jaw__worth *w, const jaw_task *task, jaw_finding *f)
{
    row s = {.w = w,
             .task = task,
             .as = &task->as.stations,
             .f = f,
             .known = task->as.stations.known > 0 ? task->as.stations.known
                                                  : JAW_SPACING_DEFAULT};

    if (gather(&s) && all_apart(&s) && find_turn(&s))
        place(&s);
    if (s.zero != NULL && s.station != NULL && f->status != JAW_OK)
        fail_zeros(&s);
    free(s.zero);
    free(s.station);
    free(s.found);
    free(s.moved);
}
