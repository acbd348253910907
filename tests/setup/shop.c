/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shop.c: a setup told line by line. */
#include "setup_tests.h"

#include <stdio.h>
#include <string.h>

void shop_open(shop *s, jaw_unit unit)
{
    *s = (shop){.setup = jaw_setup_alloc(),
                .notes = jaw_notes_alloc(),
                .unit = jaw_unit_mm(unit)};
    ck_assert_ptr_nonnull(s->setup);
    ck_assert_ptr_nonnull(s->notes);
    jaw_control c = jaw_control_default(unit);
    ck_status(jaw_setup_set_control(s->setup, &c), JAW_OK);
}

void shop_close(shop *s)
{
    jaw_solution_free(s->solution);
    jaw_notes_free(s->notes);
    jaw_setup_free(s->setup);
}

jaw_place shop_next(shop *s)
{
    return (jaw_place){++s->line, 1, 0};
}

void control(shop *s, bool can_turn, jaw_length_rule lengths, int reference)
{
    jaw_control c = *jaw_setup_control(s->setup);
    c.can_turn = can_turn;
    c.lengths = lengths;
    c.reference = reference;
    ck_status(jaw_setup_set_control(s->setup, &c), JAW_OK);
}

void tip(shop *s, const char *name, jaw_tip_shape shape, double diameter,
         double repeat, double length)
{
    jaw_tip_entry e = {.name = name,
                       .tip = jaw_tip_make(shape, diameter * s->unit),
                       .place = shop_next(s)};
    e.tip.repeat = repeat * s->unit;
    e.tip.length = length * s->unit;
    ck_status(jaw_setup_add_tip(s->setup, &e), JAW_OK);
}

static void add_feature(shop *s, jaw_feature_entry e)
{
    e.place = e.tip_place = e.faces_place = e.size_place = shop_next(s);
    e.within = NOT;
    ck_status(jaw_setup_add_feature(s->setup, &e), JAW_OK);
}

void edge(shop *s, const char *name, const char *tip_name, jaw_side faces)
{
    add_feature(s, (jaw_feature_entry){.name = name, .kind = JAW_EDGE,
                                       .tip = tip_name, .faces = faces});
}

void feature(shop *s, jaw_feature_kind kind, const char *name,
             const char *tip_name)
{
    add_feature(s, (jaw_feature_entry){.name = name, .kind = kind,
                                       .tip = tip_name});
}

void sized(shop *s, jaw_feature_kind kind, const char *name,
           const char *tip_name, jaw_size_use use, double size)
{
    add_feature(s, (jaw_feature_entry){.name = name, .kind = kind,
                                       .tip = tip_name, .size_use = use,
                                       .size = size * s->unit});
}

void sweep(shop *s, const char *name, jaw_side faces, double repeat,
           const char *after)
{
    add_feature(s, (jaw_feature_entry){.name = name, .kind = JAW_SWEEP,
                                       .faces = faces,
                                       .repeat = repeat * s->unit,
                                       .after = after,
                                       .after_place = {s->line + 1, 1, 0}});
}

void dial(shop *s, const char *name, bool inside, double x, double y,
          double diameter, double repeat)
{
    add_feature(s, (jaw_feature_entry){
                       .name = name, .kind = JAW_DIAL, .inside = inside,
                       .stands = {x * s->unit, y * s->unit},
                       .size = diameter * s->unit,
                       .size_use = diameter > 0 ? JAW_SIZE_KNOWN
                                                : JAW_SIZE_FREE,
                       .repeat = repeat * s->unit});
}

void touch(shop *s, double x, double y, double z)
{
    jaw_touch t = {x * s->unit, y * s->unit, z * s->unit};
    ck_status(jaw_setup_add_touch(s->setup, t, shop_next(s)), JAW_OK);
}

void other_wall(shop *s)
{
    ck_status(jaw_setup_other_wall(s->setup), JAW_OK);
}

void hole(shop *s, double nx, double ny, double x, double y)
{
    jaw_hole_entry e = {.nominal = {nx * s->unit, ny * s->unit},
                        .touched = {x * s->unit, y * s->unit},
                        .place = shop_next(s)};
    ck_status(jaw_setup_add_hole(s->setup, &e), JAW_OK);
}

void hole_of(shop *s, double nx, double ny, const char *name)
{
    jaw_hole_entry e = {.nominal = {nx * s->unit, ny * s->unit},
                        .touched = {NOT, NOT},
                        .feature = name,
                        .place = shop_next(s)};
    ck_status(jaw_setup_add_hole(s->setup, &e), JAW_OK);
}

void setter(shop *s, const char *name, double top, double height,
            const char *on)
{
    jaw_place at = shop_next(s);
    jaw_setter_entry e = {name, top * s->unit, height * s->unit, on, at, at,
                          0, 0, {0}};
    ck_status(jaw_setup_add_setter(s->setup, &e), JAW_OK);
}

void tool(shop *s, int number, double length)
{
    jaw_tool_entry e = {number, "", length * s->unit, NOT, shop_next(s), 0,
                        NULL, {0}};
    ck_status(jaw_setup_add_tool(s->setup, &e), JAW_OK);
}

void touched(shop *s, int number, double reading, const char *surface,
             double between)
{
    jaw_place at = shop_next(s);
    jaw_contact_entry e = {number, NULL, reading * s->unit, surface,
                           between * s->unit, at, at};
    ck_status(jaw_setup_add_contact(s->setup, &e), JAW_OK);
}

void tip_touched(shop *s, const char *tip_name, double reading,
                 const char *surface, double between)
{
    jaw_place at = shop_next(s);
    jaw_contact_entry e = {0, tip_name, reading * s->unit, surface,
                           between * s->unit, at, at};
    ck_status(jaw_setup_add_contact(s->setup, &e), JAW_OK);
}

/* Turn in one line, each axis in one of its own, as in a sheet. */
void zero(shop *s, const char *name, wanted w)
{
    const char *features[] = {w.x, w.y, w.z};
    const double at[] = {w.at_x, w.at_y, w.at_z};
    jaw_zero_entry e = {.name = name, .place = shop_next(s),
                        .turn_feature = w.turn, .turn_along = w.along,
                        .turn = w.stated};
    e.turn_use = w.turn ? JAW_TURN_FEATURE
                 : w.stated != 0 ? JAW_TURN_STATED
                                 : JAW_TURN_NONE;
    if (e.turn_use != JAW_TURN_NONE)
        e.turn_place = shop_next(s);
    e.station = w.station;
    e.station_at = (jaw_vec3){w.among[0] * s->unit, w.among[1] * s->unit,
                              w.among[2] * s->unit};
    if (w.station)
        e.station_place = shop_next(s);
    for (int a = 0; a < JAW_AXES; a++)
        if (features[a])
            e.term[a] = (jaw_zero_term){features[a], at[a] * s->unit,
                                        shop_next(s)};
    ck_status(jaw_setup_add_zero(s->setup, &e), JAW_OK);
}

void solve(shop *s)
{
    jaw_solution_free(s->solution);
    s->status = jaw_setup_solve(s->setup, s->notes, &s->solution);
    ck_assert_ptr_nonnull(s->solution);
    ck_status(jaw_notes_status(s->notes), s->status);
}

const jaw_found *found(const shop *s, const char *name)
{
    size_t n, m;
    const jaw_found *all = jaw_solution_features(s->solution, &n);
    const jaw_feature_entry *e = jaw_setup_features(s->setup, &m);
    ck_assert_uint_eq(n, m);
    for (size_t i = 0; i < n; i++)
        if (strcmp(e[i].name, name) == 0)
            return &all[i];
    ck_abort_msg("no feature %s", name);
    return NULL;
}

const jaw_zero_found *zero_found(const shop *s, const char *name)
{
    size_t n;
    const jaw_zero_found *all = jaw_solution_zeros(s->solution, &n);
    for (size_t i = 0; i < n; i++)
        if (strcmp(all[i].name, name) == 0)
            return &all[i];
    ck_abort_msg("no zero %s", name);
    return NULL;
}

const jaw_finding *finding(const shop *s, const char *name)
{
    size_t n;
    const jaw_finding *f = jaw_solution_findings(s->solution, &n);

    for (size_t i = 0; i < n; i++)
        if (strcmp(f[i].name, name) == 0)
            return &f[i];
    ck_abort_msg("no finding '%s'", name);
    return NULL;
}

const jaw_item *item(const jaw_finding *f, const char *text)
{
    for (size_t i = 0; i < f->n_items; i++)
        if (strstr(f->items[i].text, text))
            return &f->items[i];
    ck_abort_msg("'%s' has no '%s'", f->name, text);
    return NULL;
}

const jaw_tool_found *tool_found(const shop *s, int number)
{
    size_t n;
    const jaw_tool_found *all = jaw_solution_tools(s->solution, &n);
    for (size_t i = 0; i < n; i++)
        if (all[i].number == number)
            return &all[i];
    ck_abort_msg("no tool %d", number);
    return NULL;
}

double surface_z(const shop *s, const char *name)
{
    size_t n;
    const jaw_surface_found *all = jaw_solution_surfaces(s->solution, &n);
    for (size_t i = 0; i < n; i++)
        if (strcmp(all[i].name, name) == 0)
            return all[i].z;
    ck_abort_msg("no surface %s", name);
    return NOT;
}

size_t severe(const shop *s, jaw_severity severity)
{
    return jaw_notes_at_least(s->notes, severity);
}

void print_notes(const shop *s)
{
    for (size_t i = 0; i < jaw_notes_count(s->notes); i++) {
        const jaw_note *n = jaw_notes_get(s->notes, i);
        printf("%d: %d %s; %s\n", n->place.line, (int)n->severity, n->what,
               n->cure);
    }
}

void task(shop *s, jaw_task task)
{
    task.place = shop_next(s);
    ck_status(jaw_setup_add_task(s->setup, &task), JAW_OK);
}

/* Jaws of 40 mm, 150 wide, open to 100. */
void vise(shop *s, const char *name, double bed, const char *fixed)
{
    jaw_task t = {.kind = JAW_TASK_VISE, .name = name};

    t.as.vise = (jaw_vise_task){.bed = {bed * s->unit, 0},
                                .jaw_height = 40,
                                .jaw_width = 150,
                                .opening = 100,
                                .fixed = fixed,
                                .fixed_place = {s->line + 1, 1, 0}};
    task(s, t);
}

void stock(shop *s, const char *name, const char *vise, const double size[3],
           double parallels, const char *top)
{
    jaw_task t = {.kind = JAW_TASK_STOCK, .name = name};
    jaw_place here = {s->line + 1, 1, 0};

    t.as.stock = (jaw_stock_task){.vise = vise,
                                  .parallels = {parallels * s->unit, 0},
                                  .size = {{size[0] * s->unit, 0},
                                           {size[1] * s->unit, 0},
                                           {size[2] * s->unit, 0.01}},
                                  .least_grip = (double)NAN,
                                  .top = top,
                                  .vise_place = here,
                                  .top_place = here};
    task(s, t);
}

void reading(shop *s, double at, double value, bool second)
{
    jaw_reading r = {.at = at,
                     .value = value,
                     .second = second,
                     .place = shop_next(s)};

    ck_status(jaw_setup_add_reading(s->setup, &r), JAW_OK);
}
