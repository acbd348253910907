/* SPDX-License-Identifier: GPL-3.0-or-later */
/* joint.c: every touch and every known thing of a setup as one weighted
 * least-squares adjustment (trust.h).  It starts from the features as each was
 * found by itself, and where nothing ties them together it ends there: then the
 * joint solution is that of each feature.  Where something does (holes with
 * known spacing, a chain of heights with a second way round), the corrections
 * go back into the features, so that all that follows is the joint solution.
 */
#include "model.h"

#include <stdlib.h>
#include <string.h>

/* A few are enough where the touches agree.  Where they do not, each round
 * takes away a share only: a ring that is out of round by five repeats, and a
 * tip of which little is known but that, leave half (tests/known). */
enum { ROUNDS_MAX = 100 };

/* ------------------------------------------------------------------ correcting */

/* Which of at[] the k-th unknown of a block is. */
static size_t slot_of(const jaw_found *found, size_t k)
{
    bool walls = found->kind == JAW_SLOT || found->kind == JAW_WEB;

    if (found->kind == JAW_BAR && k > 0) /* c, z, slope, r, theta */
        return k < 4 ? k + 1 : 1;

    return walls && k > 0 ? 3 - k : k; /* m, w, theta in the block */
}

/* Of an unknown that may not be one; the larger of `most` and how far. */
static double correct(const jaw__model *m, size_t shared, double *at,
                      double most)
{
    if (shared == JAW_NO_BLOCK)
        return most;
    double x = jaw_adjust_shared(m->j->adjust, shared);
    *at += x;
    return fmax(most, fabs(x));
}

static double correct_part(jaw__model *m, long f)
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
    most = correct(m, part->turn, &part->at[1], most);
    for (size_t k = 0; part->frame != JAW_NO_BLOCK && k < 3; k++)
        most = correct(m, part->frame + k, &m->j->frame_at[3 * f + (long)k],
                       most);
    return most;
}

static double correct_all(jaw__model *m)
{
    const jaw_setup *setup = m->sv->setup;
    jaw__joint *j = m->j;
    double most = 0;

    for (size_t f = 0; f < setup->n_features; f++)
        most = fmax(most, correct_part(m, (long)f));
    for (size_t i = setup->n_features; i < m->sv->n_nodes; i++)
        most = correct(m, j->node_shared[i], &j->node_at[i], most);
    correct(m, j->growth_shared, &j->growth_at, 0); /* no length: not in most */
    for (size_t i = 0; i < setup->n_tips; i++)
        most = correct(m, j->tip_shared[i], &j->tip_off[i], most);
    for (size_t i = 0; i < 4 * setup->n_tips; i++)
        most = correct(m, j->harmonic_shared[i], &j->harmonic_off[i], most);
    return most;
}

bool jaw__add_equation(jaw_linear *form, const jaw_equation *e, double c)
{
    bool good = form != NULL;

    for (size_t k = 0; good && k < JAW_ADJUST_BLOCK_MAX; k++)
        if (e->block != JAW_NO_BLOCK && e->local[k] != 0)
            good = jaw_linear_local(form, e->block, k, c * e->local[k]) ==
                   JAW_OK;
    for (size_t k = 0; good && k < e->n_shared; k++)
        good = jaw_linear_shared(form, e->which[k], c * e->shared[k]) == JAW_OK;
    return good;
}

/* Corrections below this (mm, rad) are rounding of machine coordinates. */
#define SETTLED 1e-11

/* Where the geometry is weak rounding is magnified, and corrections come to
 * jitter above that: what no longer shrinks is settled below this, which is far
 * less than any control takes. */
#define JITTER 1e-7

/* Until the corrections are rounding; then the adjustment that is left stands
 * at the solution and its covariance is the solution's. */
static jaw_status settle(jaw__model *m)
{
    double last = HUGE_VAL;

    for (int round = 0; round < ROUNDS_MAX; round++) {
        jaw_adjust_clear(m->j->adjust);
        jaw__number_unknowns(m);
        jaw__write_equations(m);
        if (m->status == JAW_OK)
            m->status = jaw_adjust_solve(m->j->adjust, NULL, NULL);
        if (m->status != JAW_OK)
            return m->status;
        double most = correct_all(m);
        if (most <= SETTLED || (most <= JITTER && most > last / 2))
            return JAW_OK;
        last = most;
    }
    return JAW_ENOCONV;
}

/* ------------------------------------------------------------------ write back */

/* What was not moved keeps the digits of its own fit. */
#define MOVED 1e-9

/* mm, what was found more than stated of the reach with which an edge was met.
 */
static double reach_off(const jaw__solver *sv, size_t f, const jaw__part *part)
{
    long tip = jaw__find_tip(sv->setup, sv->setup->features[f].tip);
    double a = part->at[1] - part->sides * M_PI / 2; /* as jaw__approach */

    return tip == JAW__NOWHERE
               ? 0
               : sv->joint->tip_off[tip] +
                     jaw_tip_harmonics(sv->joint->harmonic_off + 4 * tip, a,
                                       NULL);
}

/* A wall with a direction that is not its own is moved by the tip alone. */
static void back_to_edge(const jaw__part *part, double off, jaw_edge *edge)
{
    jaw_vec2 dir = jaw__dir_of(part->at[1]);

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
    edge->dir = jaw__dir_of(edge->theta);
    if (!isnan(edge->normal.x))
        edge->normal = (jaw_vec2){-sign * dir.y, sign * dir.x};
    edge->point.x = part->p0.x - dir.y * part->at[0];
    edge->point.y = part->p0.y + dir.x * part->at[0];
}

static void back_to_walls(const jaw__part *part, jaw_walls *walls)
{
    jaw_vec2 dir = jaw__dir_of(part->at[1]);

    if (fabs(part->at[2] - walls->width) >= MOVED)
        walls->width = part->at[2];
    if ((part->beside || part->assumed) && fabs(part->at[0]) >= MOVED) {
        walls->middle.x -= dir.y * part->at[0]; /* what was not read is NaN */
        walls->middle.y += dir.x * part->at[0];
    }
    if (part->beside || part->assumed ||
        (fabs(part->at[0]) < MOVED &&
         fabs(jaw_angle_half(part->at[1] - walls->theta)) < MOVED))
        return;
    walls->theta = jaw_angle_half(part->at[1]);
    walls->dir = jaw__dir_of(walls->theta);
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

/* z of what was found is that of a tip without length. */
static double less_tip(const jaw__solver *sv, size_t f, double z)
{
    long tip = jaw__find_tip(sv->setup, sv->setup->features[f].tip);

    return z - sv->joint->node_at[jaw__tip_node(sv, (size_t)tip)];
}

static bool has_moved(double now, double was)
{
    return fabs(now - was) >= MOVED;
}

static void back_to_ball(jaw__solver *sv, const jaw__part *part, size_t f)
{
    jaw_ball *ball = &sv->out->features[f].as.ball;
    double z = less_tip(sv, f, part->at[2]);

    if (has_moved(part->at[0], ball->centre.x) ||
        has_moved(part->at[1], ball->centre.y) || has_moved(z, ball->centre.z))
        ball->centre = (jaw_vec3){part->at[0], part->at[1], z};
    if (!jaw__is_exact(&sv->setup->features[f]) &&
        has_moved(2 * part->at[3], ball->diameter))
        ball->diameter = 2 * part->at[3];
    if (has_moved(part->at[2], sv->nodes[f].value))
        sv->nodes[f].value = part->at[2];
}

static void back_to_bar(jaw__solver *sv, const jaw__part *part, size_t f)
{
    jaw_bar *bar = &sv->out->features[f].as.bar;
    jaw_vec2 dir = jaw__dir_of(part->at[1]);
    double z = less_tip(sv, f, part->at[2]), w = hypot(1, part->at[3]);

    if (!jaw__is_exact(&sv->setup->features[f]) &&
        has_moved(2 * part->at[4], bar->diameter))
        bar->diameter = 2 * part->at[4];
    if (has_moved(part->at[2], sv->nodes[f].value))
        sv->nodes[f].value = part->at[2];
    if (!has_moved(part->at[0], 0) && !has_moved(z, bar->point.z) &&
        !has_moved(part->at[3], bar->slope) &&
        fabs(jaw_angle_half(part->at[1] - bar->theta)) < MOVED)
        return;
    bar->point = (jaw_vec3){part->p0.x - dir.y * part->at[0],
                            part->p0.y + dir.x * part->at[0], z};
    bar->theta = jaw_angle_half(part->at[1]);
    bar->slope = part->at[3];
    bar->axis = (jaw_vec3){dir.x / w, dir.y / w, part->at[3] / w};
}

static void back_to_sweep(const jaw__part *part, jaw_swept_edge *sweep)
{
    double by = jaw_angle_half(part->at[1] - sweep->theta);

    if (fabs(by) < MOVED)
        return;
    sweep->theta = jaw_angle_half(part->at[1]);
    sweep->skew += by;
}

static void back_to_dial(const jaw__part *part, const jaw_feature_entry *entry,
                         jaw_swept_centre *dial)
{
    if (!has_moved(part->at[0], dial->centre.x) &&
        !has_moved(part->at[1], dial->centre.y))
        return;
    dial->centre = (jaw_vec2){part->at[0], part->at[1]};
    dial->shift = (jaw_vec2){part->at[0] - entry->stands.x,
                             part->at[1] - entry->stands.y};
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

static void write_back(jaw__model *m)
{
    jaw__solver *sv = m->sv;

    for (size_t f = 0; f < sv->setup->n_features; f++) {
        jaw_found *found = &sv->out->features[f];
        const jaw__part *part = &m->j->parts[f];
        if (found->status != JAW_OK)
            continue;
        if (found->kind == JAW_EDGE)
            back_to_edge(part, reach_off(sv, f, part), &found->as.edge);
        if (found->kind == JAW_SLOT || found->kind == JAW_WEB)
            back_to_walls(part, &found->as.walls);
        if (found->kind == JAW_BORE || found->kind == JAW_BOSS)
            back_to_round(part, &found->as.round);
        if (found->kind == JAW_FACE)
            back_to_face(sv, part, (long)f);
        if (found->kind == JAW_BALL)
            back_to_ball(sv, part, f);
        if (found->kind == JAW_BAR)
            back_to_bar(sv, part, f);
        if (found->kind == JAW_SWEEP)
            back_to_sweep(part, &found->as.sweep);
        if (found->kind == JAW_DIAL)
            back_to_dial(part, &sv->setup->features[f], &found->as.dial);
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
    j->harmonic_shared =
        calloc(4 * sv->setup->n_tips + 1, sizeof *j->harmonic_shared);
    j->harmonic_off =
        calloc(4 * sv->setup->n_tips + 1, sizeof *j->harmonic_off);
    j->touch_equation =
        calloc(sv->setup->n_touches + 1, sizeof *j->touch_equation);
    j->hole_equation =
        calloc(sv->setup->n_holes + 1, sizeof *j->hole_equation);
    j->size_equation = calloc(n, sizeof *j->size_equation);
    j->length_equation =
        calloc(sv->setup->n_tools + 1, sizeof *j->length_equation);
    return j->adjust && j->parts && j->node_at && j->node_shared &&
           j->frame_at && j->tip_shared && j->tip_off && j->tip_equation &&
           j->harmonic_shared && j->harmonic_off && j->touch_equation &&
           j->hole_equation && j->size_equation && j->length_equation;
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

static void forget_tips(jaw__joint *j, size_t n)
{
    memset(j->tip_off, 0, n * sizeof *j->tip_off);
    memset(j->harmonic_off, 0, 4 * n * sizeof *j->harmonic_off);
}

void jaw__solve_joint(jaw__solver *sv)
{
    jaw__joint *j = calloc(1, sizeof *j);
    jaw__model m = {.sv = sv, .j = j};

    sv->joint = j;
    if (j == NULL || !make_room(j, sv)) {
        sv->no_memory = true;
        return;
    }
    for (size_t i = 0; i < sv->setup->n_touches; i++)
        j->touch_equation[i] = JAW_NO_BLOCK;
    for (size_t i = 0; i < sv->setup->n_holes; i++)
        j->hole_equation[i] = JAW_NO_BLOCK;
    for (size_t i = 0; i < sv->n_nodes; i++)
        j->node_at[i] = sv->nodes[i].value;
    for (size_t f = 0; f < sv->setup->n_features; f++)
        jaw__begin_part(&m, (long)f);
    j->growth_at = jaw__growth_of(sv->setup, NULL);
    j->all_stated = all_stated(sv);
    jaw_status status = settle(&m);
    j->solved = status == JAW_OK;
    if (!j->solved)
        forget_tips(j, sv->setup->n_tips);
    if (j->solved)
        write_back(&m);
    else if (status == JAW_ENOMEM)
        sv->no_memory = true;
    else
        jaw__tell(sv, SAY_NO_JOINT, (jaw_place){0}, "");
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
    free(j->harmonic_shared);
    free(j->harmonic_off);
    free(j->origins);
    free(j->equations);
    free(j->touch_equation);
    free(j->hole_equation);
    free(j->size_equation);
    free(j->length_equation);
    free(j->spots);
    free(j);
    sv->joint = NULL;
}
