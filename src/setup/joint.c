/* SPDX-License-Identifier: GPL-3.0-or-later */
/* joint.c: every touch and every known thing of a setup as one weighted
 * least-squares adjustment (trust.h).  It starts from the features as each was
 * found by itself, and where nothing ties them together it ends there: then the
 * joint solution is that of each feature.  Where something does (holes with
 * known spacing, a chain of heights with a second way round), the corrections
 * go back into the features, so that all that follows is the joint solution.
 *
 * Derivatives are analytic; with n = (-sin, cos), d n / d theta = -(cos, sin).
 */
#include "joint.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { ROUNDS_MAX = 25 };

typedef struct model {
    jaw__solver *sv;
    jaw__joint *j;
    jaw_status status; /* of the first that went wrong */
} model;

static void keep_first(model *m, jaw_status status)
{
    if (m->status == JAW_OK)
        m->status = status;
}

/* ------------------------------------------------------------------ equations */

static void add(model *m, jaw_equation *e, jaw__origin origin, size_t *id)
{
    jaw__joint *j = m->j;
    jaw__origin *origins = jaw__grow(j->origins, j->n_origins,
                                     &j->room_origins, sizeof *origins);

    if (origins == NULL) {
        keep_first(m, JAW_ENOMEM);
        return;
    }
    j->origins = origins;
    jaw_equation *equations = jaw__grow(j->equations, j->n_origins,
                                        &j->room_equations, sizeof *equations);
    if (equations == NULL) {
        keep_first(m, JAW_ENOMEM);
        return;
    }
    j->equations = equations;
    jaw_status status = jaw_adjust_add(j->adjust, e, id);
    if (status != JAW_OK) {
        keep_first(m, status);
        return;
    }
    origin.sigma = e->sigma;
    equations[j->n_origins] = *e;
    origins[j->n_origins++] = origin;
}

static void share(jaw_equation *e, size_t which, double coefficient)
{
    e->which[e->n_shared] = which;
    e->shared[e->n_shared++] = coefficient;
}

static size_t new_block(model *m, size_t n)
{
    size_t id = JAW_NO_BLOCK;

    keep_first(m, jaw_adjust_add_block(m->j->adjust, n, &id));
    return id;
}

static size_t new_shared(model *m)
{
    size_t id = JAW_NO_BLOCK;

    keep_first(m, jaw_adjust_add_shared(m->j->adjust, &id));
    return id;
}

static jaw__origin origin_of(const model *m, long f, size_t touch)
{
    const jaw_setup *setup = m->sv->setup;
    size_t at = setup->shares[f].first_touch + touch;

    return (jaw__origin){.place = setup->touch_places[at],
                         .feature = f,
                         .touch = touch,
                         .shown = !m->sv->out->features[f].repeat_stated};
}

/* -------------------------------------------------------------------- radii */

/* Adds the radius of the feature's tip, c times, where it is not exact. */
static void put_radius(const jaw__solver *sv, jaw_equation *e, long f,
                       double c)
{
    long tip = jaw__find_tip(sv->setup, sv->setup->features[f].tip);

    if (c != 0 && tip != JAW__NOWHERE &&
        sv->joint->tip_shared[tip] != JAW_NO_BLOCK)
        share(e, sv->joint->tip_shared[tip], c);
}

jaw_tip jaw__tip_now(const jaw__solver *sv, const jaw_feature_entry *entry)
{
    jaw_tip tip = jaw__tip_of(sv->setup, entry);
    long at = jaw__find_tip(sv->setup, entry->tip);

    if (at != JAW__NOWHERE && sv->joint != NULL && sv->joint->tip_off != NULL)
        tip.diameter = fmax(0, tip.diameter + 2 * sv->joint->tip_off[at]);
    return tip;
}

static void state_radii(model *m)
{
    const jaw_setup *setup = m->sv->setup;

    for (size_t i = 0; i < setup->n_tips; i++) {
        jaw_equation e = {.block = JAW_NO_BLOCK,
                          .sigma = setup->tips[i].diameter_known / 2,
                          .off = -m->j->tip_off[i]};
        if (m->j->tip_shared[i] == JAW_NO_BLOCK)
            continue;
        share(&e, m->j->tip_shared[i], 1);
        add(m, &e,
            (jaw__origin){.place = setup->tips[i].place,
                          .feature = JAW__NOWHERE},
            &m->j->tip_equation[i]);
    }
}

/* ---------------------------------------------------------------------- walls */

static jaw_vec2 dir_of(double theta)
{
    return (jaw_vec2){cos(theta), sin(theta)};
}

static double along(jaw_vec2 dir, jaw_vec2 p, jaw_vec2 p0)
{
    return dir.x * (p.x - p0.x) + dir.y * (p.y - p0.y);
}

static double across(jaw_vec2 dir, jaw_vec2 p, jaw_vec2 p0)
{
    return dir.x * (p.y - p0.y) - dir.y * (p.x - p0.x);
}

/* A coordinate that was not read is that of p0. */
static jaw_vec2 centre_of(const jaw__part *part, jaw_touch t)
{
    return (jaw_vec2){isnan(t.x) ? part->p0.x : t.x,
                      isnan(t.y) ? part->p0.y : t.y};
}

/* Coefficient of the direction, its own or shared. */
static void put_turn(const jaw__part *part, jaw_equation *e, double arm)
{
    if (part->beside)
        return;
    if (part->turn != JAW_NO_BLOCK)
        share(e, part->turn, arm);
    else
        e->local[part->n - 1] = arm;
}

static jaw_equation edge_equation(const jaw__solver *sv, long f, jaw_touch t)
{
    const jaw__part *part = &sv->joint->parts[f];
    jaw_tip tip = jaw__tip_now(sv, &sv->setup->features[f]);
    jaw_vec2 dir = dir_of(part->at[1]), p = centre_of(part, t);
    jaw_equation e = {.block = part->block, .local = {1}};

    put_turn(part, &e, along(dir, p, part->p0));
    put_radius(sv, &e, f, part->sides);
    e.off = across(dir, p, part->p0) - part->sides * jaw_tip_side(&tip) -
            part->at[0];
    return e;
}

/* In the order m, w, theta, so that theta is the last and may be shared. */
static jaw_equation walls_equation(const jaw__solver *sv, long f, jaw_touch t,
                                   bool first)
{
    const jaw__part *part = &sv->joint->parts[f];
    jaw_tip tip = jaw__tip_now(sv, &sv->setup->features[f]);
    jaw_vec2 dir = dir_of(part->at[1]), p = centre_of(part, t);
    int wall = sv->setup->features[f].kind == JAW_SLOT ? -1 : 1;
    double side = first == (part->sides < 0) ? 0.5 : -0.5;
    jaw_equation e = {.block = part->block, .local = {1, side}};

    put_turn(part, &e, along(dir, p, part->p0));
    put_radius(sv, &e, f, 2 * side * wall);
    e.off = across(dir, p, part->p0) - part->at[0] -
            side * (part->at[2] + 2 * wall * jaw_tip_side(&tip));
    return e;
}

/* --------------------------------------------------------------------- rounds */

/* The first row along an axis has its half chord, the second less it; half
 * chords are never 0, or the two rows would be one place. */
static jaw_equation pair_equation(const jaw__solver *sv, long f, jaw_touch t,
                                  bool first)
{
    const jaw__part *part = &sv->joint->parts[f];
    size_t axis = isnan(t.y) ? 0u : 1u;
    double sign = first ? 1 : -1;
    jaw_equation e = {.block = part->block};

    e.local[axis] = 1;
    e.local[2 + axis] = sign;
    e.off = (axis == 0 ? t.x : t.y) - part->at[axis] -
            sign * part->at[2 + axis];
    return e;
}

static jaw_equation round_equation(const jaw__solver *sv, long f, jaw_touch t)
{
    const jaw__part *part = &sv->joint->parts[f];
    jaw_tip tip = jaw__tip_now(sv, &sv->setup->features[f]);
    double wall = sv->setup->features[f].kind == JAW_BORE ? 1 : -1;
    double dx = t.x - part->at[0], dy = t.y - part->at[1], d = hypot(dx, dy);
    jaw_equation e = {.block = part->block};

    e.local[0] = d > 0 ? dx / d : 1;
    e.local[1] = d > 0 ? dy / d : 0;
    if (part->n == 3)
        e.local[2] = 1;
    put_radius(sv, &e, f, -wall);
    e.off = d - part->at[2] + wall * jaw_tip_side(&tip);
    return e;
}

/* What is known of a diameter, where that is not exact. */
static void state_size(model *m, long f)
{
    const jaw_feature_entry *entry = &m->sv->setup->features[f];
    const jaw__part *part = &m->j->parts[f];
    jaw_equation e = {.block = part->block, .sigma = entry->size_known / 2};

    if (entry->size_use != JAW_SIZE_KNOWN || part->n != 3)
        return;
    e.local[2] = 1;
    e.off = entry->size / 2 - part->at[2];
    add(m, &e,
        (jaw__origin){.place = entry->size_place, .feature = JAW__NOWHERE},
        NULL);
}

/* -------------------------------------------------------------------- heights */

/* Adds `sign` times a node to an equation: a face's height is unknown in its
 * block, everything else is shared. */
static double put_node(const jaw__solver *sv, jaw_equation *e, size_t node,
                       double sign)
{
    const jaw__joint *j = sv->joint;

    if (node < sv->setup->n_features) {
        e->block = j->parts[node].block;
        e->local[0] += sign;
        return sign * j->parts[node].at[0];
    }
    share(e, j->node_shared[node], sign);
    return sign * j->node_at[node];
}

static bool has_node(const jaw__solver *sv, size_t node)
{
    const jaw__joint *j = sv->joint;

    if (node < sv->setup->n_features)
        return sv->setup->features[node].kind == JAW_FACE &&
               j->parts[node].block != JAW_NO_BLOCK;
    return j->node_shared[node] != JAW_NO_BLOCK;
}

static size_t face_tip_node(const jaw__solver *sv, long f)
{
    long tip = jaw__find_tip(sv->setup, sv->setup->features[f].tip);

    return jaw__tip_node(sv, (size_t)tip);
}

/* reading - what the end stands off = height there - (-L) */
static jaw_equation face_equation(const jaw__solver *sv, long f, jaw_touch t)
{
    const jaw__part *part = &sv->joint->parts[f];
    jaw_tip tip = jaw__tip_now(sv, &sv->setup->features[f]);
    double slope = hypot(part->at[1], part->at[2]);
    double nz = 1 / hypot(1, slope), r = jaw_tip_end_radius(&tip);
    /* height of the face straight below the centre of the tip's end */
    double off = (r + jaw_tip_end(&tip)) / nz - r;
    jaw_vec2 p = centre_of(part, t);
    jaw_equation e = {.block = part->block};
    double seen = put_node(sv, &e, (size_t)f, 1) +
                  put_node(sv, &e, face_tip_node(sv, f), -1);

    if (part->n == 3) {
        e.local[1] = p.x - part->p0.x;
        e.local[2] = p.y - part->p0.y;
        seen += part->at[1] * e.local[1] + part->at[2] * e.local[2];
    }
    put_radius(sv, &e, f, r > 0 ? 1 / nz - 1 : 0);
    e.off = t.z - off - seen;
    return e;
}

/* Exactly known things get a small share of a touch's spread, which leaves
 * them all but fixed and the arithmetic sound. */
#define EXACT (JAW_REPEAT_DEFAULT / 1000)

/* to - from = value; from may be no node: the ground.  False when one of them
 * is no unknown. */
static bool difference(const jaw__solver *sv, size_t from, size_t to,
                       double value, double sigma, jaw_equation *e)
{
    double seen;

    *e = (jaw_equation){.block = JAW_NO_BLOCK, .sigma = sigma};
    if (!has_node(sv, to) || (from != JAW_NO_BLOCK && !has_node(sv, from)))
        return false;
    /* two faces can not stand in one equation, and nothing states that */
    seen = put_node(sv, e, to, 1);
    if (from != JAW_NO_BLOCK)
        seen += put_node(sv, e, from, -1);
    e->off = value - seen;
    return true;
}

static void state(model *m, size_t from, size_t to, double value, double sigma,
                  jaw_place place)
{
    jaw_equation e;

    if (difference(m->sv, from, to, value, sigma, &e))
        add(m, &e, (jaw__origin){.place = place, .feature = JAW__NOWHERE},
            NULL);
}

static size_t surface_node_of(const jaw__solver *sv, const char *name)
{
    long f = jaw__find_feature(sv->setup, name);
    long s = jaw__find_setter(sv->setup, name);

    if (f != JAW__NOWHERE && sv->setup->features[f].kind == JAW_FACE)
        return jaw__feature_node(sv, (size_t)f);
    return s == JAW__NOWHERE ? JAW_NO_BLOCK : jaw__setter_node(sv, (size_t)s);
}

static double spread_of(double known)
{
    return known > 0 ? known : EXACT;
}

static void state_known(model *m)
{
    const jaw_setup *setup = m->sv->setup;

    for (size_t i = 0; i < setup->n_tips; i++)
        if (!isnan(setup->tips[i].tip.length))
            state(m, JAW_NO_BLOCK, jaw__tip_node(m->sv, i),
                  -setup->tips[i].tip.length,
                  spread_of(setup->tips[i].length_known),
                  setup->tips[i].place);
    for (size_t i = 0; i < setup->n_tools; i++)
        if (!isnan(setup->tools[i].length))
            state(m, JAW_NO_BLOCK, jaw__tool_node(m->sv, i),
                  -setup->tools[i].length,
                  spread_of(setup->tools[i].length_known),
                  setup->tools[i].place);
    for (size_t i = 0; i < setup->n_setters; i++) {
        const jaw_setter_entry *e = &setup->setters[i];
        size_t node = jaw__setter_node(m->sv, i);
        size_t below = e->on ? surface_node_of(m->sv, e->on) : JAW_NO_BLOCK;
        if (!isnan(e->top))
            state(m, JAW_NO_BLOCK, node, e->top, spread_of(e->top_known),
                  e->place);
        if (below != JAW_NO_BLOCK && below != node)
            state(m, below, node, e->height, spread_of(e->height_known),
                  e->on_place);
    }
}

static size_t contact_from(const jaw__solver *sv, const jaw_contact_entry *e,
                           double *paper, double *repeat)
{
    long tool = jaw__find_tool(sv->setup, e->tool);
    long tip = jaw__find_tip(sv->setup, e->tip);

    *paper = 0;
    *repeat = JAW_REPEAT_DEFAULT;
    if (e->tool != 0)
        return tool == JAW__NOWHERE ? JAW_NO_BLOCK
                                    : jaw__tool_node(sv, (size_t)tool);
    if (tip == JAW__NOWHERE)
        return JAW_NO_BLOCK;
    *paper = jaw_tip_end(&sv->setup->tips[tip].tip);
    *repeat = jaw__repeat_of(&sv->setup->tips[tip].tip);
    return jaw__tip_node(sv, (size_t)tip);
}

/* A tool has no repeat of its own to state: the default counts as stated where
 * all that can be is. */
static jaw__origin contact_origin(const model *m, const jaw_contact_entry *e)
{
    long tip = jaw__find_tip(m->sv->setup, e->tip);
    bool stated = e->tool == 0 && tip != JAW__NOWHERE &&
                  !isnan(m->sv->setup->tips[tip].tip.repeat);

    return (jaw__origin){.place = e->place,
                         .feature = JAW__NOWHERE,
                         .shown = !m->j->all_stated && !stated};
}

bool jaw__contact_equation(const jaw__solver *sv, size_t i, jaw_equation *e)
{
    const jaw_contact_entry *c = &sv->setup->contacts[i];
    double paper, repeat;
    size_t from = contact_from(sv, c, &paper, &repeat);
    size_t to = surface_node_of(sv, c->surface);

    return from != JAW_NO_BLOCK && to != JAW_NO_BLOCK &&
           difference(sv, from, to, c->reading - c->between - paper, repeat, e);
}

static void state_contacts(model *m)
{
    jaw_equation e;

    for (size_t i = 0; i < m->sv->setup->n_contacts; i++)
        if (jaw__contact_equation(m->sv, i, &e))
            add(m, &e, contact_origin(m, &m->sv->setup->contacts[i]), NULL);
}

/* A chain without ground is held at its root; differences do not feel it. */
static void hold_chains(model *m)
{
    for (size_t i = 0; i < m->sv->n_nodes; i++)
        if (has_node(m->sv, i) && !m->sv->nodes[i].grounded &&
            m->sv->nodes[i].chain == i)
            state(m, JAW_NO_BLOCK, i, m->sv->nodes[i].value, 1,
                  (jaw_place){0, 0});
}

/* ------------------------------------------------------------------- patterns */

static void hole_equation(model *m, long f, const jaw_hole_entry *hole,
                          int axis)
{
    const jaw__joint *j = m->j;
    const double *at = j->frame_at + 3 * f;
    size_t frame = j->parts[f].frame;
    jaw_frame turn = jaw_frame_make((jaw_vec2){0, 0}, at[2]);
    jaw_vec2 n = jaw_machine_from_work(&turn, hole->nominal);
    double grown = 1 + j->growth_at;
    double belongs = axis == 0 ? at[0] + grown * n.x : at[1] + grown * n.y;
    double arm = grown * (axis == 0 ? -n.y : n.x);
    long bore = hole->feature == NULL
                    ? JAW__NOWHERE
                    : jaw__find_feature(m->sv->setup, hole->feature);
    const jaw_feature_entry *entry = &m->sv->setup->features[f];
    double spacing = entry->places_known > 0 ? entry->places_known
                                             : JAW_SPACING_DEFAULT;
    jaw_equation e = {.block = JAW_NO_BLOCK, .sigma = spacing};

    if (bore != JAW__NOWHERE) {
        e.block = j->parts[bore].block;
        if (e.block == JAW_NO_BLOCK)
            return;
        e.local[axis] = -1;
        e.off = j->parts[bore].at[axis] - belongs;
    } else {
        e.sigma = hypot(spacing, jaw__repeat_at(m->sv->setup, entry));
        e.off = (axis == 0 ? hole->touched.x : hole->touched.y) - belongs;
    }
    share(&e, frame + (size_t)axis, 1);
    share(&e, frame + 2, arm);
    if (j->growth_shared != JAW_NO_BLOCK)
        share(&e, j->growth_shared, axis == 0 ? n.x : n.y);
    add(m, &e, (jaw__origin){.place = hole->place, .feature = JAW__NOWHERE},
        NULL);
}

static void state_growth(model *m)
{
    jaw_equation e = {.block = JAW_NO_BLOCK};
    double stated = jaw__growth_of(m->sv->setup, &e.sigma);

    if (m->j->growth_shared == JAW_NO_BLOCK)
        return;
    share(&e, m->j->growth_shared, 1);
    e.off = stated - m->j->growth_at;
    add(m, &e,
        (jaw__origin){.place = m->sv->setup->temperature.place,
                      .feature = JAW__NOWHERE},
        NULL);
}

static void pattern_equations(model *m, long f)
{
    const jaw__share *s = &m->sv->setup->shares[f];

    for (size_t i = 0; i < s->n_holes; i++)
        for (int axis = 0; axis < 2; axis++)
            hole_equation(m, f, &m->sv->setup->holes[s->first_hole + i], axis);
}

/* --------------------------------------------------------- what gives the turn */

/* The zero that first names a feature in x or y; NULL when none does. */
static const jaw_zero_entry *user_of(const jaw_setup *setup, long f,
                                     jaw_axis *axis)
{
    for (size_t i = 0; i < setup->n_zeros; i++)
        for (jaw_axis a = JAW_X; a <= JAW_Y; a++)
            if (jaw__find_feature(setup, setup->zeros[i].term[a].feature) ==
                f) {
                *axis = a;
                return &setup->zeros[i];
            }
    return NULL;
}

/* A direction that nobody measured is tied to that of the part. */
static void tie_direction(model *m, long f)
{
    jaw__part *part = &m->j->parts[f];
    jaw_axis axis;
    const jaw_zero_entry *zero = user_of(m->sv->setup, f, &axis);
    jaw_equation e = {.block = part->block, .sigma = jaw__square_of(zero)};
    long turn = zero == NULL || zero->turn_use != JAW_TURN_FEATURE
                    ? JAW__NOWHERE
                    : jaw__find_feature(m->sv->setup, zero->turn_feature);

    e.local[part->n - 1] = 1;
    if (turn != JAW__NOWHERE && turn != f) {
        const jaw__part *giver = &m->j->parts[turn];
        if (giver->frame != JAW_NO_BLOCK)
            share(&e, giver->frame + 2, -1);
        else if (giver->turn != JAW_NO_BLOCK)
            share(&e, giver->turn, -1);
    }
    add(m, &e,
        (jaw__origin){.place = zero ? zero->term[axis].place
                                    : (jaw_place){0, 0},
                      .feature = JAW__NOWHERE},
        NULL);
}

/* ----------------------------------------------------------------------- model */

static bool is_wall(const jaw_found *found)
{
    return found->kind == JAW_EDGE || found->kind == JAW_SLOT ||
           found->kind == JAW_WEB;
}

static bool gives_turn(const jaw_setup *setup, long f)
{
    for (size_t i = 0; i < setup->n_zeros; i++)
        if (setup->zeros[i].turn_use == JAW_TURN_FEATURE &&
            jaw__find_feature(setup, setup->zeros[i].turn_feature) == f)
            return true;
    return false;
}

/* The direction of the part for a wall that shows none of its own. */
static double part_direction(const jaw__solver *sv, long f, double seen)
{
    jaw_axis axis;
    const jaw_zero_entry *zero = user_of(sv->setup, f, &axis);
    double skew = 0;

    if (zero == NULL)
        return seen;
    if (zero->turn_use == JAW_TURN_STATED)
        skew = zero->turn;
    if (zero->turn_use == JAW_TURN_FEATURE) {
        long g = jaw__find_feature(sv->setup, zero->turn_feature);
        const jaw_found *found =
            g == JAW__NOWHERE ? NULL : &sv->out->features[g];
        if (found == NULL || found->status != JAW_OK)
            return seen;
        double theta = found->kind == JAW_PATTERN
                           ? found->as.pattern.frame.turn
                       : found->kind == JAW_EDGE ? found->as.edge.theta
                                                 : found->as.walls.theta;
        skew = zero->turn_along == JAW_Y ? jaw_angle_half(theta - M_PI / 2)
                                         : theta;
    }
    return skew + (axis == JAW_X ? M_PI / 2 : 0);
}

static jaw_vec2 or_zero(jaw_vec2 p)
{
    return (jaw_vec2){isnan(p.x) ? 0 : p.x, isnan(p.y) ? 0 : p.y};
}

static void begin_edge(model *m, long f, jaw__part *part)
{
    const jaw_edge *edge = &m->sv->out->features[f].as.edge;

    part->beside = isnan(edge->point.x) || isnan(edge->point.y);
    part->assumed = !part->beside && (edge->flags & JAW_DIRECTION_ASSUMED);
    part->p0 = or_zero(edge->point);
    part->at[1] = part->assumed ? part_direction(m->sv, f, edge->theta)
                                : edge->theta;
    jaw_vec2 dir = dir_of(part->at[1]);
    double out = dir.x * edge->normal.y - dir.y * edge->normal.x;
    part->sides = isnan(out) ? 0 : out > 0 ? 1 : -1;
    part->n = part->beside || part->turn != JAW_NO_BLOCK ? 1 : 2;
}

static void begin_walls(model *m, long f, jaw__part *part)
{
    const jaw_walls *walls = &m->sv->out->features[f].as.walls;
    const jaw__share *s = &m->sv->setup->shares[f];
    const jaw_touch *t = m->sv->setup->touches + s->first_touch;

    part->beside = isnan(walls->middle.x) || isnan(walls->middle.y);
    part->assumed = !part->beside && (walls->flags & JAW_DIRECTION_ASSUMED);
    part->p0 = or_zero(walls->middle);
    part->at[1] = part->assumed ? part_direction(m->sv, f, walls->theta)
                                : walls->theta;
    if (part->beside) /* read along a machine axis */
        part->at[1] = isnan(walls->middle.y) ? M_PI / 2 : 0;
    part->at[2] = walls->width;
    jaw_vec2 dir = dir_of(part->at[1]);
    double second = across(dir, centre_of(part, t[s->first_wall]), part->p0);
    part->sides = second > across(dir, centre_of(part, t[0]), part->p0) ? 1
                                                                        : -1;
    part->n = part->beside || part->turn != JAW_NO_BLOCK ? 2 : 3;
}

static void begin_round(model *m, long f, jaw__part *part)
{
    const jaw_round *round = &m->sv->out->features[f].as.round;
    const jaw__share *s = &m->sv->setup->shares[f];
    const jaw_touch *t = m->sv->setup->touches + s->first_touch;
    size_t seen[2] = {0, 0};

    part->at[0] = round->centre.x;
    part->at[1] = round->centre.y;
    part->at[2] = round->diameter / 2;
    const jaw_feature_entry *entry = &m->sv->setup->features[f];
    bool exact = entry->size_use == JAW_SIZE_KNOWN && !(entry->size_known > 0);
    part->n = exact ? 2 : 3;
    part->pairs = (round->flags & JAW_SIZE_NOT_SEEN) != 0;
    if (!part->pairs)
        return;
    part->n = 4;
    for (size_t i = 0; i < s->n_touches; i++) {
        size_t axis = isnan(t[i].y) ? 0u : 1u;
        if (seen[axis]++ == 0)
            part->at[2 + axis] = (axis == 0 ? t[i].x : t[i].y) -
                                 part->at[axis];
    }
}

static void begin_face(model *m, long f, jaw__part *part)
{
    const jaw_face *face = &m->sv->out->features[f].as.face;
    bool level = (face->flags & JAW_LEVEL_ASSUMED) != 0;

    part->p0 = or_zero((jaw_vec2){face->point.x, face->point.y});
    part->at[0] = m->sv->nodes[f].value;
    part->at[1] = level ? 0 : face->slope.x;
    part->at[2] = level ? 0 : face->slope.y;
    part->n = level ? 1 : 3;
}

static void begin_part(model *m, long f)
{
    const jaw_found *found = &m->sv->out->features[f];
    jaw__part *part = &m->j->parts[f];

    *part = (jaw__part){.block = JAW_NO_BLOCK,
                        .turn = JAW_NO_BLOCK,
                        .frame = JAW_NO_BLOCK};
    if (found->status != JAW_OK)
        return;
    switch (found->kind) {
    case JAW_EDGE: begin_edge(m, f, part); break;
    case JAW_FACE: begin_face(m, f, part); break;
    case JAW_BORE:
    case JAW_BOSS: begin_round(m, f, part); break;
    case JAW_SLOT:
    case JAW_WEB: begin_walls(m, f, part); break;
    default:
        m->j->frame_at[3 * f] = found->as.pattern.frame.origin.x;
        m->j->frame_at[3 * f + 1] = found->as.pattern.frame.origin.y;
        m->j->frame_at[3 * f + 2] = found->as.pattern.frame.turn;
        break;
    }
}

/* Unknowns are numbered anew each round, always in the same order. */
static void number_part(model *m, long f)
{
    const jaw_found *found = &m->sv->out->features[f];
    jaw__part *part = &m->j->parts[f];

    if (found->status != JAW_OK)
        return;
    if (found->kind == JAW_PATTERN) {
        part->frame = new_shared(m);
        new_shared(m);
        new_shared(m);
        return;
    }
    if (is_wall(found) && !part->beside && !part->assumed &&
        gives_turn(m->sv->setup, f)) {
        if (part->turn == JAW_NO_BLOCK)
            part->n--;
        part->turn = new_shared(m);
    }
    part->block = new_block(m, part->n);
}

/* The radius of a tip that touched something, where it is not exact. */
static void number_radii(model *m)
{
    const jaw_setup *setup = m->sv->setup;

    for (size_t i = 0; i < setup->n_tips; i++)
        m->j->tip_shared[i] = JAW_NO_BLOCK;
    for (size_t f = 0; f < setup->n_features; f++) {
        long tip = jaw__find_tip(setup, setup->features[f].tip);
        if (m->sv->out->features[f].status == JAW_OK && tip != JAW__NOWHERE &&
            setup->tips[tip].diameter_known > 0 &&
            m->j->tip_shared[tip] == JAW_NO_BLOCK)
            m->j->tip_shared[tip] = new_shared(m);
    }
}

/* Where a pattern feels it, and it is not exact. */
static void number_growth(model *m)
{
    double u;

    jaw__growth_of(m->sv->setup, &u);
    m->j->growth_shared = JAW_NO_BLOCK;
    for (size_t f = 0; f < m->sv->setup->n_features && u > 0; f++)
        if (m->j->parts[f].frame != JAW_NO_BLOCK) {
            m->j->growth_shared = new_shared(m);
            return;
        }
}

static void number_nodes(model *m)
{
    const jaw_setup *setup = m->sv->setup;

    for (size_t i = setup->n_features; i < m->sv->n_nodes; i++)
        m->j->node_shared[i] =
            m->sv->nodes[i].n_obs > 0 ? new_shared(m) : JAW_NO_BLOCK;
}

jaw_equation jaw__touch_equation(const jaw__solver *sv, long f, jaw_touch t,
                                 bool first)
{
    jaw_equation e;

    switch (sv->setup->features[f].kind) {
    case JAW_EDGE: e = edge_equation(sv, f, t); break;
    case JAW_FACE: e = face_equation(sv, f, t); break;
    case JAW_SLOT:
    case JAW_WEB: e = walls_equation(sv, f, t, first); break;
    default:
        e = sv->joint->parts[f].pairs ? pair_equation(sv, f, t, first)
                                      : round_equation(sv, f, t);
        break;
    }
    e.sigma = sv->out->features[f].repeat;
    return e;
}

bool jaw__touch_first(const jaw__solver *sv, long f, size_t i)
{
    const jaw__share *s = &sv->setup->shares[f];
    const jaw_touch *t = sv->setup->touches + s->first_touch;

    if (!sv->joint->parts[f].pairs)
        return i < s->first_wall;
    for (size_t k = 0; k < i; k++)
        if (isnan(t[k].y) == isnan(t[i].y))
            return false;
    return true;
}

static void touch_equations(model *m, long f)
{
    const jaw__share *s = &m->sv->setup->shares[f];

    for (size_t i = 0; i < s->n_touches; i++) {
        size_t at = s->first_touch + i;
        jaw_equation e =
            jaw__touch_equation(m->sv, f, m->sv->setup->touches[at],
                                jaw__touch_first(m->sv, f, i));
        add(m, &e, origin_of(m, f, i), &m->j->touch_equation[at]);
    }
}

static void feature_equations(model *m, long f)
{
    const jaw_found *found = &m->sv->out->features[f];
    const jaw__part *part = &m->j->parts[f];

    if (found->status != JAW_OK)
        return;
    if (found->kind == JAW_PATTERN) {
        pattern_equations(m, f);
        return;
    }
    touch_equations(m, f);
    state_size(m, f);
    if (is_wall(found) && part->assumed)
        tie_direction(m, f);
}

static void write_equations(model *m)
{
    size_t n = m->sv->setup->n_features;

    jaw_adjust_clear(m->j->adjust);
    m->j->n_origins = 0;
    for (size_t f = 0; f < n; f++)
        number_part(m, (long)f);
    number_nodes(m);
    number_radii(m);
    number_growth(m);
    for (size_t f = 0; f < n; f++)
        feature_equations(m, (long)f);
    state_radii(m);
    state_growth(m);
    state_known(m);
    state_contacts(m);
    hold_chains(m);
}

/* ------------------------------------------------------------------ correcting */

/* Which of at[] the k-th unknown of a block is. */
static size_t slot_of(const jaw_found *found, size_t k)
{
    bool walls = found->kind == JAW_SLOT || found->kind == JAW_WEB;

    return walls && k > 0 ? 3 - k : k; /* m, w, theta in the block */
}

static double correct_part(model *m, long f)
{
    const jaw_found *found = &m->sv->out->features[f];
    jaw__part *part = &m->j->parts[f];
    double most = 0;

    if (part->block != JAW_NO_BLOCK) {
        const double *x = jaw_adjust_block(m->j->adjust, part->block);
        for (size_t k = 0; k < part->n; k++) {
            part->at[slot_of(found, k)] += x[k];
            most = fmax(most, fabs(x[k]));
        }
    }
    if (part->turn != JAW_NO_BLOCK) {
        double x = jaw_adjust_shared(m->j->adjust, part->turn);
        part->at[1] += x;
        most = fmax(most, fabs(x));
    }
    for (size_t k = 0; part->frame != JAW_NO_BLOCK && k < 3; k++) {
        double x = jaw_adjust_shared(m->j->adjust, part->frame + k);
        m->j->frame_at[3 * f + (long)k] += x;
        most = fmax(most, fabs(x));
    }
    return most;
}

static double correct_all(model *m)
{
    double most = 0;

    for (size_t f = 0; f < m->sv->setup->n_features; f++)
        most = fmax(most, correct_part(m, (long)f));
    for (size_t i = m->sv->setup->n_features; i < m->sv->n_nodes; i++) {
        if (m->j->node_shared[i] == JAW_NO_BLOCK)
            continue;
        double x = jaw_adjust_shared(m->j->adjust, m->j->node_shared[i]);
        m->j->node_at[i] += x;
        most = fmax(most, fabs(x));
    }
    if (m->j->growth_shared != JAW_NO_BLOCK)
        m->j->growth_at +=
            jaw_adjust_shared(m->j->adjust, m->j->growth_shared);
    for (size_t i = 0; i < m->sv->setup->n_tips; i++) {
        if (m->j->tip_shared[i] == JAW_NO_BLOCK)
            continue;
        double x = jaw_adjust_shared(m->j->adjust, m->j->tip_shared[i]);
        m->j->tip_off[i] += x;
        most = fmax(most, fabs(x));
    }
    return most;
}

/* Corrections below this (mm, rad) are rounding of machine coordinates. */
#define SETTLED 1e-11

/* Until the corrections are rounding; then the adjustment that is left stands
 * at the solution and its covariance is the solution's. */
static jaw_status settle(model *m)
{
    for (int round = 0; round < ROUNDS_MAX; round++) {
        write_equations(m);
        if (m->status == JAW_OK)
            m->status = jaw_adjust_solve(m->j->adjust, NULL, NULL);
        if (m->status != JAW_OK || correct_all(m) <= SETTLED)
            return m->status;
    }
    return JAW_ENOCONV;
}

/* ------------------------------------------------------------------ write back */

/* What was not moved keeps the digits of its own fit. */
#define MOVED 1e-9

/* A wall with a direction that is not its own is moved by the tip alone. */
static void back_to_edge(const jaw__part *part, double off, jaw_edge *edge)
{
    jaw_vec2 dir = dir_of(part->at[1]);

    if ((part->beside || part->assumed) && fabs(off) >= MOVED) {
        edge->point.x -= off * edge->normal.x;
        edge->point.y -= off * edge->normal.y;
    }
    if (part->beside || part->assumed ||
        (fabs(part->at[0]) < MOVED &&
         fabs(jaw_angle_half(part->at[1] - edge->theta)) < MOVED))
        return;
    double sign = -dir.y * edge->normal.x + dir.x * edge->normal.y < 0 ? -1 : 1;
    edge->theta = jaw_angle_half(part->at[1]);
    edge->dir = dir_of(edge->theta);
    if (!isnan(edge->normal.x))
        edge->normal = (jaw_vec2){-sign * dir.y, sign * dir.x};
    edge->point.x = part->p0.x - dir.y * part->at[0];
    edge->point.y = part->p0.y + dir.x * part->at[0];
}

static void back_to_walls(const jaw__part *part, jaw_walls *walls)
{
    jaw_vec2 dir = dir_of(part->at[1]);

    if (fabs(part->at[2] - walls->width) >= MOVED)
        walls->width = part->at[2];
    if (part->beside || part->assumed ||
        (fabs(part->at[0]) < MOVED &&
         fabs(jaw_angle_half(part->at[1] - walls->theta)) < MOVED))
        return;
    walls->theta = jaw_angle_half(part->at[1]);
    walls->dir = dir_of(walls->theta);
    walls->middle.x = part->p0.x - dir.y * part->at[0];
    walls->middle.y = part->p0.y + dir.x * part->at[0];
}

static void back_to_round(const jaw__part *part, jaw_round *round)
{
    if (hypot(part->at[0] - round->centre.x, part->at[1] - round->centre.y) >=
        MOVED)
        round->centre = (jaw_vec2){part->at[0], part->at[1]};
    if (part->n == 3 && fabs(2 * part->at[2] - round->diameter) >= MOVED)
        round->diameter = 2 * part->at[2];
}

static void back_to_face(jaw__solver *sv, const jaw__part *part, long f)
{
    double *z = &sv->nodes[f].value;

    if (fabs(part->at[0] - *z) < MOVED)
        return;
    *z = part->at[0];
}

static void back_to_pattern(const double at[3], jaw_pattern *pattern)
{
    const jaw_frame *seen = &pattern->frame;

    if (hypot(at[0] - seen->origin.x, at[1] - seen->origin.y) < MOVED &&
        fabs(at[2] - seen->turn) < MOVED)
        return;
    pattern->frame = jaw_frame_make((jaw_vec2){at[0], at[1]},
                                    jaw_angle_full(at[2]));
}

static void write_back(model *m)
{
    jaw__solver *sv = m->sv;

    for (size_t f = 0; f < sv->setup->n_features; f++) {
        jaw_found *found = &sv->out->features[f];
        const jaw__part *part = &m->j->parts[f];
        if (found->status != JAW_OK)
            continue;
        long tip = jaw__find_tip(sv->setup, sv->setup->features[f].tip);
        if (found->kind == JAW_EDGE)
            back_to_edge(part, tip == JAW__NOWHERE ? 0 : m->j->tip_off[tip],
                         &found->as.edge);
        if (found->kind == JAW_SLOT || found->kind == JAW_WEB)
            back_to_walls(part, &found->as.walls);
        if (found->kind == JAW_BORE || found->kind == JAW_BOSS)
            back_to_round(part, &found->as.round);
        if (found->kind == JAW_FACE)
            back_to_face(sv, part, (long)f);
        if (found->kind == JAW_PATTERN)
            back_to_pattern(m->j->frame_at + 3 * f, &found->as.pattern);
    }
    for (size_t i = sv->setup->n_features; i < sv->n_nodes; i++)
        if (m->j->node_shared[i] != JAW_NO_BLOCK &&
            fabs(m->j->node_at[i] - sv->nodes[i].value) >= MOVED)
            sv->nodes[i].value = m->j->node_at[i];
}

/* ---------------------------------------------------------------------- whole */

static bool make_room(jaw__joint *j, const jaw__solver *sv)
{
    size_t n = sv->setup->n_features + 1;

    j->adjust = jaw_adjust_alloc();
    j->parts = calloc(n, sizeof *j->parts);
    j->node_at = calloc(sv->n_nodes + 1, sizeof *j->node_at);
    j->node_shared = calloc(sv->n_nodes + 1, sizeof *j->node_shared);
    j->frame_at = calloc(3 * n, sizeof *j->frame_at);
    j->tip_shared = calloc(sv->setup->n_tips + 1, sizeof *j->tip_shared);
    j->tip_equation = calloc(sv->setup->n_tips + 1, sizeof *j->tip_equation);
    j->tip_off = calloc(sv->setup->n_tips + 1, sizeof *j->tip_off);
    j->touch_equation =
        calloc(sv->setup->n_touches + 1, sizeof *j->touch_equation);
    return j->adjust && j->parts && j->node_at && j->node_shared &&
           j->frame_at && j->tip_shared && j->tip_off && j->tip_equation &&
           j->touch_equation;
}

static bool all_stated(const jaw__solver *sv)
{
    for (size_t f = 0; f < sv->setup->n_features; f++) {
        const jaw_found *found = &sv->out->features[f];
        if (found->status == JAW_OK && found->kind != JAW_PATTERN &&
            !found->repeat_stated)
            return false;
    }
    return true;
}

void jaw__solve_joint(jaw__solver *sv)
{
    jaw__joint *j = calloc(1, sizeof *j);
    model m = {.sv = sv, .j = j};

    sv->joint = j;
    if (j == NULL || !make_room(j, sv)) {
        sv->no_memory = true;
        return;
    }
    for (size_t i = 0; i < sv->setup->n_touches; i++)
        j->touch_equation[i] = JAW_NO_BLOCK;
    for (size_t i = 0; i < sv->n_nodes; i++)
        j->node_at[i] = sv->nodes[i].value;
    for (size_t f = 0; f < sv->setup->n_features; f++)
        begin_part(&m, (long)f);
    j->growth_at = jaw__growth_of(sv->setup, NULL);
    j->all_stated = all_stated(sv);
    jaw_status status = settle(&m);
    j->solved = status == JAW_OK;
    if (!j->solved)
        memset(j->tip_off, 0, sv->setup->n_tips * sizeof *j->tip_off);
    if (j->solved)
        write_back(&m);
    else if (status == JAW_ENOMEM)
        sv->no_memory = true;
    else
        jaw__tell(sv, SAY_NO_JOINT, (jaw_place){0, 0}, NULL);
}

void jaw__drop_joint(jaw__solver *sv)
{
    jaw__joint *j = sv->joint;

    if (j == NULL)
        return;
    jaw_adjust_free(j->adjust);
    free(j->parts);
    free(j->node_at);
    free(j->node_shared);
    free(j->frame_at);
    free(j->tip_shared);
    free(j->tip_off);
    free(j->tip_equation);
    free(j->origins);
    free(j->equations);
    free(j->touch_equation);
    free(j);
    sv->joint = NULL;
}
