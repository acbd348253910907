/* SPDX-License-Identifier: GPL-3.0-or-later */
/* unknowns.c: what the joint adjustment seeks of each feature, where it starts
 * from, and which unknowns several features share. */
#include "model.h"

static size_t new_block(jaw__model *m, size_t n)
{
    size_t id = JAW_NO_BLOCK;

    jaw__keep_first(m, jaw_adjust_add_block(m->j->adjust, n, &id));
    return id;
}

static size_t new_shared(jaw__model *m)
{
    size_t id = JAW_NO_BLOCK;

    jaw__keep_first(m, jaw_adjust_add_shared(m->j->adjust, &id));
    return id;
}

/* The zero that first names a feature in x or y; NULL when none does. */
const jaw_zero_entry *jaw__zero_of(const jaw_setup *setup, long f,
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
    const jaw_zero_entry *zero = jaw__zero_of(sv->setup, f, &axis);
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
        double theta = jaw__theta_of_found(found);
        skew = zero->turn_along == JAW_Y ? jaw_angle_half(theta - M_PI / 2)
                                         : theta;
    }
    return skew + (axis == JAW_X ? M_PI / 2 : 0);
}

static jaw_vec2 or_zero(jaw_vec2 p)
{
    return (jaw_vec2){isnan(p.x) ? 0 : p.x, isnan(p.y) ? 0 : p.y};
}

static void begin_edge(jaw__model *m, long f, jaw__part *part)
{
    const jaw_edge *edge = &m->sv->out->features[f].as.edge;

    part->beside = isnan(edge->point.x) || isnan(edge->point.y);
    part->assumed = !part->beside && (edge->flags & JAW_DIRECTION_ASSUMED);
    part->p0 = or_zero(edge->point);
    part->at[1] = part->assumed ? part_direction(m->sv, f, edge->theta)
                                : edge->theta;
    jaw_vec2 dir = jaw__dir_of(part->at[1]);
    double out = dir.x * edge->normal.y - dir.y * edge->normal.x;
    part->sides = isnan(out) ? 0 : out > 0 ? 1 : -1;
    part->n = part->beside || part->turn != JAW_NO_BLOCK ? 1 : 2;
}

static void begin_walls(jaw__model *m, long f, jaw__part *part)
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
    jaw_vec2 dir = jaw__dir_of(part->at[1]);
    double first = jaw__across(dir, jaw__centre_of(part, t[0]), part->p0);
    double second =
        jaw__across(dir, jaw__centre_of(part, t[s->first_wall]), part->p0);
    part->sides = second > first ? 1 : -1;
    part->n = part->beside || part->turn != JAW_NO_BLOCK ? 2 : 3;
}

static void begin_round(jaw__model *m, long f, jaw__part *part)
{
    const jaw_round *round = &m->sv->out->features[f].as.round;
    const jaw__share *s = &m->sv->setup->shares[f];
    const jaw_touch *t = m->sv->setup->touches + s->first_touch;
    size_t seen[2] = {0, 0};

    part->at[0] = round->centre.x;
    part->at[1] = round->centre.y;
    part->at[2] = round->diameter / 2;
    part->n = jaw__is_exact(&m->sv->setup->features[f]) ? 2 : 3;
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

static void begin_face(jaw__model *m, long f, jaw__part *part)
{
    const jaw_face *face = &m->sv->out->features[f].as.face;
    bool level = (face->flags & JAW_LEVEL_ASSUMED) != 0;

    part->p0 = or_zero((jaw_vec2){face->point.x, face->point.y});
    part->at[0] = m->sv->nodes[f].value;
    part->at[1] = level ? 0 : face->slope.x;
    part->at[2] = level ? 0 : face->slope.y;
    part->n = level ? 1 : 3;
    part->high = true;
}

/* A size that is stated stays an unknown, all but held where it is exact: then
 * what the touches say of it is seen. */
static void begin_ball(jaw__model *m, long f, jaw__part *part)
{
    const jaw_ball *ball = &m->sv->out->features[f].as.ball;

    part->at[0] = ball->centre.x;
    part->at[1] = ball->centre.y;
    part->at[2] = m->sv->nodes[f].value;
    part->at[3] = ball->diameter / 2;
    part->n = 4;
    part->high = part->sized = true;
    part->height = part->height_at = 2;
}

static void begin_bar(jaw__model *m, long f, jaw__part *part)
{
    const jaw_bar *bar = &m->sv->out->features[f].as.bar;

    part->p0 = (jaw_vec2){bar->point.x, bar->point.y};
    part->at[1] = bar->theta;
    part->at[2] = m->sv->nodes[f].value;
    part->at[3] = bar->slope;
    part->at[4] = bar->diameter / 2;
    part->n = 5;
    part->high = part->sized = true;
    part->height = 1;
    part->height_at = 2;
}

/* P0 is the middle of the places, so that what the indicator says there and the
 * direction do not feel one another. */
static void begin_sweep(jaw__model *m, long f, jaw__part *part)
{
    const jaw__share *s = &m->sv->setup->shares[f];
    const jaw_touch *t = m->sv->setup->touches + s->first_touch;

    for (size_t i = 0; i < s->n_touches; i++) {
        part->p0.x += (isnan(t[i].x) ? 0 : t[i].x) / (double)s->n_touches;
        part->p0.y += (isnan(t[i].y) ? 0 : t[i].y) / (double)s->n_touches;
        part->at[0] += t[i].z / (double)s->n_touches;
    }
    part->at[1] = m->sv->out->features[f].as.sweep.theta;
    part->n = 2;
}

static void begin_dial(jaw__model *m, long f, jaw__part *part)
{
    const jaw_swept_centre *dial = &m->sv->out->features[f].as.dial;
    const jaw__share *s = &m->sv->setup->shares[f];

    part->at[0] = dial->centre.x;
    part->at[1] = dial->centre.y;
    for (size_t i = 0; i < s->n_touches; i++)
        part->at[2] += jaw__dial_rest(m->sv, f, part,
                                      m->sv->setup->touches[s->first_touch + i],
                                      NULL) /
                       (double)s->n_touches;
    part->n = 3;
}

void  jaw__begin_part(jaw__model *m, long f)
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
    case JAW_BALL: begin_ball(m, f, part); break;
    case JAW_BAR: begin_bar(m, f, part); break;
    case JAW_SWEEP: begin_sweep(m, f, part); break;
    case JAW_DIAL: begin_dial(m, f, part); break;
    default:
        m->j->frame_at[3 * f] = found->as.pattern.frame.origin.x;
        m->j->frame_at[3 * f + 1] = found->as.pattern.frame.origin.y;
        m->j->frame_at[3 * f + 2] = found->as.pattern.frame.turn;
        break;
    }
}

/* Unknowns are numbered anew each round, always in the same order. */
static void number_part(jaw__model *m, long f)
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
    if (jaw__is_wall(found) && !part->beside && !part->assumed &&
        gives_turn(m->sv->setup, f)) {
        if (part->turn == JAW_NO_BLOCK)
            part->n--;
        part->turn = new_shared(m);
    }
    part->block = new_block(m, part->n);
}

/* The radius and the harmonics of a tip, where they are not exact. */
static void number_reach(jaw__model *m, size_t tip)
{
    const jaw_tip_entry *e = &m->sv->setup->tips[tip];

    if (e->diameter_known > 0)
        m->j->tip_shared[tip] = new_shared(m);
    for (size_t k = 0; k < 4; k++)
        if (e->harmonic_known[k] > 0)
            m->j->harmonic_shared[4 * tip + k] = new_shared(m);
}

static bool is_numbered(const jaw__model *m, size_t tip)
{
    const size_t *h = m->j->harmonic_shared + 4 * tip;

    return m->j->tip_shared[tip] != JAW_NO_BLOCK || h[0] != JAW_NO_BLOCK ||
           h[1] != JAW_NO_BLOCK || h[2] != JAW_NO_BLOCK ||
           h[3] != JAW_NO_BLOCK;
}

/* Of the tips that touched something. */
static void number_tips(jaw__model *m)
{
    const jaw_setup *setup = m->sv->setup;

    for (size_t i = 0; i < setup->n_tips; i++)
        m->j->tip_shared[i] = JAW_NO_BLOCK;
    for (size_t i = 0; i < 4 * setup->n_tips; i++)
        m->j->harmonic_shared[i] = JAW_NO_BLOCK;
    for (size_t f = 0; f < setup->n_features; f++) {
        long tip = jaw__find_tip(setup, setup->features[f].tip);
        if (m->sv->out->features[f].status == JAW_OK && tip != JAW__NOWHERE &&
            !is_numbered(m, (size_t)tip))
            number_reach(m, (size_t)tip);
    }
}

/* Where a pattern feels it, and it is not exact. */
static void number_growth(jaw__model *m)
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

static void number_nodes(jaw__model *m)
{
    const jaw_setup *setup = m->sv->setup;

    for (size_t i = setup->n_features; i < m->sv->n_nodes; i++)
        m->j->node_shared[i] =
            m->sv->nodes[i].n_obs > 0 ? new_shared(m) : JAW_NO_BLOCK;
}

void jaw__number_unknowns(jaw__model *m)
{
    for (size_t f = 0; f < m->sv->setup->n_features; f++)
        number_part(m, (long)f);
    number_nodes(m);
    number_tips(m);
    number_growth(m);
}
