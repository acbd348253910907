/* SPDX-License-Identifier: GPL-3.0-or-later */
/* forms.c: values as linear forms of the unknowns of the joint adjustment: each
 * derivative by each unknown, times what a value that is made of several asks
 * for.
 *
 * A work zero is W = P - R(turn) at, and P is where two lines meet:
 *     n_i . dP = d_i,   d_i = dc + (dir . (P - p0)) dtheta   on a wall,
 *                       d_i = n . dcentre + (dir . (P - centre)) dturn
 * through a centre, dir being n turned by -90 degrees. */
#include "model.h"
#include "worth.h"

#include <math.h>

void jaw__form_start(jaw__worth *w)
{
    if (w->f != NULL)
        jaw_linear_zero(w->f);
}

/* ------------------------------------------------------------------ unknowns */

void jaw__put_local(jaw__worth *w, const jaw__part *part, size_t k, double c)
{
    if (w->f != NULL && c != 0 &&
        jaw_linear_local(w->f, part->block, k, c) != JAW_OK)
        w->sv->no_memory = true;
}

void jaw__put_shared(jaw__worth *w, size_t id, double c)
{
    if (w->f != NULL && c != 0 && jaw_linear_shared(w->f, id, c) != JAW_OK)
        w->sv->no_memory = true;
}

static void put_theta(jaw__worth *w, const jaw__part *part, double c)
{
    if (part->beside)
        return;
    if (part->turn != JAW_NO_BLOCK)
        jaw__put_shared(w, part->turn, c);
    else
        jaw__put_local(w, part, part->n - 1, c);
}

void jaw__put_direction(jaw__worth *w, size_t feature, double c)
{
    if (w->f != NULL)
        put_theta(w, &w->j->parts[feature], c);
}

/* The turn of the part, as far as it was measured. */
void jaw__put_skew(jaw__worth *w, const jaw_zero_entry *e, double c)
{
    long f = e->turn_use == JAW_TURN_FEATURE
                 ? jaw__find_feature(w->sv->setup, e->turn_feature)
                 : JAW__NOWHERE;

    if (f == JAW__NOWHERE || w->f == NULL)
        return;
    if (w->j->parts[f].frame != JAW_NO_BLOCK)
        jaw__put_shared(w, w->j->parts[f].frame + 2, c);
    else
        put_theta(w, &w->j->parts[f], c);
}

void jaw__put_node(jaw__worth *w, size_t node, double c)
{
    if (node < w->sv->setup->n_features)
        jaw__put_local(w, &w->j->parts[node], w->j->parts[node].height, c);
    else if (w->j->node_shared[node] != JAW_NO_BLOCK)
        jaw__put_shared(w, w->j->node_shared[node], c);
}

/* A line as worth.c needs it. */
typedef struct line {
    jaw_vec2 n;
    const jaw_found *found;
    const jaw__part *part;
} line;

static bool find_line(jaw__worth *w, const jaw_zero_entry *e, jaw_axis axis,
                      double turn, line *l)
{
    long f = jaw__find_feature(w->sv->setup, e->term[axis].feature);

    if (f == JAW__NOWHERE || w->sv->out->features[f].status != JAW_OK)
        return false;
    l->found = &w->sv->out->features[f];
    l->part = &w->j->parts[f];
    double theta = turn + (axis == JAW_X ? M_PI / 2 : 0);
    bool wall = jaw__is_wall(l->found);
    if (wall)
        theta = l->part->at[1];
    l->n = (jaw_vec2){-sin(theta), cos(theta)};
    if (wall && l->part->beside)
        l->n = axis == JAW_X ? (jaw_vec2){-1, 0} : (jaw_vec2){0, 1};
    return true;
}

/* Adds c d_i of the line. */
static void put_line(jaw__worth *w, const jaw_zero_entry *e, const line *l,
                     jaw_vec2 p, bool turns, double c)
{
    const jaw__part *part = l->part;
    jaw_vec2 dir = {l->n.y, -l->n.x}, from = part->p0;

    switch (l->found->kind) {
    case JAW_EDGE:
    case JAW_SLOT:
    case JAW_WEB:
    case JAW_BAR:
        jaw__put_local(w, part, 0, c);
        put_theta(w, part,
                  c * (dir.x * (p.x - from.x) + dir.y * (p.y - from.y)));
        return;
    case JAW_PATTERN:
        from = l->found->as.pattern.frame.origin;
        jaw__put_shared(w, part->frame, c * l->n.x);
        jaw__put_shared(w, part->frame + 1, c * l->n.y);
        break;
    default:
        from = (jaw_vec2){part->at[0], part->at[1]};
        jaw__put_local(w, part, 0, c * l->n.x);
        jaw__put_local(w, part, 1, c * l->n.y);
        break;
    }
    if (turns)
        jaw__put_skew(w, e, c * (dir.x * (p.x - from.x) + dir.y * (p.y - from.y)));
}

/* One axis of a corner, times c. */
static bool put_corner(jaw__worth *w, const jaw_zero_entry *e,
                       const jaw_zero_found *z, jaw_axis axis, double c)
{
    bool turns = w->sv->setup->control.can_turn;
    double turn = turns ? z->skew : 0;
    jaw_frame r = jaw_frame_make((jaw_vec2){0, 0}, turn);
    jaw_vec2 at = jaw_machine_from_work(
        &r, (jaw_vec2){e->term[JAW_X].at, e->term[JAW_Y].at});
    jaw_vec2 p = {z->zero.x + at.x, z->zero.y + at.y};
    line l[2];

    if (!find_line(w, e, JAW_X, turn, &l[0]) ||
        !find_line(w, e, JAW_Y, turn, &l[1]))
        return false;
    double det = l[0].n.x * l[1].n.y - l[0].n.y * l[1].n.x;
    double inverse[2][2] = {{l[1].n.y / det, -l[0].n.y / det},
                            {-l[1].n.x / det, l[0].n.x / det}};
    for (int i = 0; i < 2; i++)
        put_line(w, e, &l[i], p, turns, c * inverse[axis][i]);
    if (turns) /* d(R at) = (-at.y, at.x) dturn */
        jaw__put_skew(w, e, c * (axis == JAW_X ? at.y : -at.x));
    return true;
}

static bool put_lone(jaw__worth *w, const jaw_zero_entry *e, jaw_axis axis,
                     double c)
{
    line l;

    if (!find_line(w, e, axis, 0, &l))
        return false;
    jaw_vec2 p = l.part->p0; /* beside the touches: no arm */
    put_line(w, e, &l, p, false, c / (axis == JAW_X ? l.n.x : l.n.y));
    return true;
}

/* -------------------------------------------------------------------- heights */

void jaw__put_base(jaw__worth *w, double c)
{
    const jaw_control *control = &w->sv->setup->control;
    long ref = jaw__find_tool(w->sv->setup, control->reference);
    size_t node;

    if (control->lengths == JAW_REFERENCE_TOOL && ref != JAW__NOWHERE)
        jaw__put_node(w, jaw__tool_node(w->sv, (size_t)ref), c);
    if (control->lengths == JAW_TIP_TO_PART &&
        jaw__first_height(w->sv, &node) != NULL)
        jaw__put_node(w, node, c);
}

/* H is -u: and with it the first zero's height (tip to part), or less the
 * reference tool's -u. */
void jaw__put_tool(jaw__worth *w, size_t tool, double c)
{
    if (w->f == NULL)
        return;
    jaw__put_node(w, jaw__tool_node(w->sv, tool), -c);
    jaw__put_base(w, c);
}

/* Z is the surface's height, less that of the first zero (tip to part), or plus
 * the length of the reference tool, -u. */
static bool put_height(jaw__worth *w, const jaw_zero_entry *e, double c)
{
    size_t node;

    if (!jaw__height_node(w->sv, e->term[JAW_Z].feature, &node) ||
        (node < w->sv->setup->n_features &&
         w->j->parts[node].block == JAW_NO_BLOCK))
        return false;
    jaw__put_node(w, node, c);
    jaw__put_base(w, -c);
    return true;
}

/* ------------------------------------------------------------------- a zero */

bool jaw__put_zero(jaw__worth *w, size_t i, jaw_axis axis, double c)
{
    const jaw_zero_entry *e = &w->sv->setup->zeros[i];
    const jaw_zero_found *z = &w->sv->out->zeros[i];
    double value = axis == JAW_X   ? z->zero.x
                   : axis == JAW_Y ? z->zero.y
                                   : z->zero.z;

    if (isnan(value) || w->f == NULL)
        return false;
    if (jaw__is_carried(e))
        return jaw__put_carried(w, i, axis, c);
    if (axis == JAW_Z)
        return put_height(w, e, c);
    if (!isnan(z->zero.x) && !isnan(z->zero.y) && e->term[JAW_X].feature &&
        e->term[JAW_Y].feature)
        return put_corner(w, e, z, axis, c);
    return put_lone(w, e, axis, c);
}

bool jaw__put_turn(jaw__worth *w, size_t i, double c)
{
    const jaw_zero_entry *e = &w->sv->setup->zeros[i];

    if (w->f == NULL || isnan(w->sv->out->zeros[i].skew))
        return false;
    if (jaw__is_carried(e))
        return jaw__put_carried_turn(w, i, c);
    if (e->turn_use != JAW_TURN_FEATURE)
        return false;
    jaw__put_skew(w, e, c);
    return true;
}
