/* SPDX-License-Identifier: GPL-3.0-or-later */
/* worth.c: what each value to enter is worth: its derivative by every unknown
 * of the joint adjustment (joint.h), and from that its uncertainty (JCGM 100,
 * 5.2), the 95 % interval (Student's t) and the slip that would go unseen.
 *
 * A work zero is W = P - R(turn) at, and P is where two lines meet:
 *     n_i . dP = d_i,   d_i = dc + (dir . (P - p0)) dtheta   on a wall,
 *                       d_i = n . dcentre + (dir . (P - centre)) dturn
 * through a centre, dir being n turned by -90 degrees. */
#include "worth.h"

#include <math.h>
#include <stdlib.h>

jaw_value_trust jaw__trust_none(void)
{
    const double nan = (double)NAN;

    return (jaw_value_trust){
        .u = nan, .dof = nan, .half95 = nan, .unnoticed = nan};
}

/* -------------------------------------------------------------------- spread */

/* A share of the sum of squares, and of what is spare. */
typedef struct spread {
    double ssr, spare;
} spread;

static void add_spread(const jaw__joint *j, size_t i, spread *s)
{
    jaw_reliability r = jaw_adjust_reliability(j->adjust, i);
    double v = r.resid / j->origins[i].sigma;

    s->ssr += v * v;
    s->spare += r.redundancy;
}

/* With less than one to spare there is nothing to judge a spread by. */
static bool has_spare(const spread *s)
{
    return s->spare > 0.999 && s->ssr > 0;
}

static bool is_denied(const spread *s)
{
    return s->spare > 1e-6 &&
           s->ssr > jaw_trust_chi2(JAW__SPREAD_CHANCE, s->spare);
}

static void grow(jaw__worth *w, jaw__grown grown, const spread *s)
{
    w->grown = grown;
    w->scale = sqrt(s->ssr / s->spare);
    w->dof = s->spare;
}

/* With every repeat stated the sigmas hold until the touches deny it; with one
 * that is not, only the scatter of the touches themselves can tell.  What is
 * known beside them (the spacing of holes) has its own share of the sum of
 * squares, which says nothing of a touch; but where less than one touch is
 * spare, only all together can tell. */
static void find_scale(jaw__worth *w)
{
    const jaw_solution_quality *q = &w->sv->out->total;
    spread shown = {0, 0}, hands = {0, 0}, rest = {0, 0};
    spread all = {q->s0 * q->s0 * q->dof, q->dof};

    w->grown = JAW__NONE;
    w->scale = 1;
    w->dof = (double)INFINITY;
    if (!(q->dof > 0) || !(q->s0 > 0))
        return;
    if (q->stated && q->chance >= JAW__SPREAD_CHANCE)
        return;
    for (size_t i = 0; i < w->j->n_origins; i++) {
        const jaw__origin *o = &w->j->origins[i];
        add_spread(w->j, i, jaw__is_by_hand(o->source) ? &hands : &rest);
        if (o->shown)
            add_spread(w->j, i, &shown);
    }
    if (!q->stated)
        grow(w, JAW__SHOWN, has_spare(&shown) ? &shown : &all);
    else if (has_spare(&hands) && is_denied(&hands) && !is_denied(&rest))
        grow(w, JAW__HANDS, &hands);
    else
        grow(w, JAW__ALL, &all);
}

/* ------------------------------------------------------------------ unknowns */

static void put_local(jaw__worth *w, const jaw__part *part, size_t k, double c)
{
    if (c != 0 && jaw_linear_local(w->f, part->block, k, c) != JAW_OK)
        w->sv->no_memory = true;
}

static void put_shared(jaw__worth *w, size_t id, double c)
{
    if (c != 0 && jaw_linear_shared(w->f, id, c) != JAW_OK)
        w->sv->no_memory = true;
}

static void put_theta(jaw__worth *w, const jaw__part *part, double c)
{
    if (part->beside)
        return;
    if (part->turn != JAW_NO_BLOCK)
        put_shared(w, part->turn, c);
    else
        put_local(w, part, part->n - 1, c);
}

/* The turn of the part, as far as it was measured. */
static void put_skew(jaw__worth *w, const jaw_zero_entry *e, double c)
{
    long f = e->turn_use == JAW_TURN_FEATURE
                 ? jaw__find_feature(w->sv->setup, e->turn_feature)
                 : JAW__NOWHERE;

    if (f == JAW__NOWHERE)
        return;
    if (w->j->parts[f].frame != JAW_NO_BLOCK)
        put_shared(w, w->j->parts[f].frame + 2, c);
    else
        put_theta(w, &w->j->parts[f], c);
}

static void put_node(jaw__worth *w, size_t node, double c)
{
    if (node < w->sv->setup->n_features)
        put_local(w, &w->j->parts[node], 0, c);
    else if (w->j->node_shared[node] != JAW_NO_BLOCK)
        put_shared(w, w->j->node_shared[node], c);
}

/* ------------------------------------------------------------------- a value */

/* The seen share of the variance has few degrees of freedom and the known one
 * any number.  Student's t with those of both (Welch and Satterthwaite) holds
 * too little where both matter (measure.h), so the interval is the root of the
 * sum of the squares of the two shares' own. */
static void spread_value(jaw__worth *w, double variance, jaw_value_trust *t)
{
    double known = fmin(jaw__budget_sum(w), variance);
    double u[] = {w->scale * sqrt(variance - known), sqrt(known)};
    double dof[] = {w->dof, (double)INFINITY};

    t->u = hypot(u[0], u[1]);
    t->dof = known > 0 ? jaw_trust_effective_dof(u, dof, 2) : w->dof;
    t->half95 = hypot(u[0] * jaw_trust_cover(0.95, dof[0]),
                      u[1] * jaw_trust_cover(0.95, dof[1]));
}

static jaw_value_trust weigh(jaw__worth *w)
{
    jaw_value_trust t = jaw__trust_none();
    size_t equation;
    double variance = jaw_adjust_variance(w->j->adjust, w->f);

    if (!(variance >= 0)) { /* the value belongs to it, so memory ran out */
        w->sv->no_memory = true;
        return t;
    }
    spread_value(w, variance, &t);
    jaw__budget_write(w, &t);
    t.unnoticed = jaw_adjust_reach_scaled(w->j->adjust, w->f, w->scale,
                                          &equation);
    if (equation != JAW_NO_BLOCK && equation < w->j->n_origins)
        t.where = w->j->origins[equation].place;
    w->worst = equation;
    return t;
}

/* The same, and what one more touch would make of it. */
static void weigh_value(jaw__worth *w, jaw_value_trust *trust, jaw_next *next)
{
    *trust = weigh(w);
    if (isnan(trust->u))
        return;
    jaw__want want = {.f = w->f,
                      .worst = w->worst,
                      .unchecked = isinf(trust->unnoticed),
                      .half95 = trust->half95,
                      .dof = w->dof,
                      .mixed = trust->dof != w->dof};
    jaw__find_next(w->sv, &want, next);
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
    bool wall = l->found->kind == JAW_EDGE || l->found->kind == JAW_SLOT ||
                l->found->kind == JAW_WEB;
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
        put_local(w, part, 0, c);
        put_theta(w, part,
                  c * (dir.x * (p.x - from.x) + dir.y * (p.y - from.y)));
        return;
    case JAW_PATTERN:
        from = l->found->as.pattern.frame.origin;
        put_shared(w, part->frame, c * l->n.x);
        put_shared(w, part->frame + 1, c * l->n.y);
        break;
    default:
        from = (jaw_vec2){part->at[0], part->at[1]};
        put_local(w, part, 0, c * l->n.x);
        put_local(w, part, 1, c * l->n.y);
        break;
    }
    if (turns)
        put_skew(w, e, c * (dir.x * (p.x - from.x) + dir.y * (p.y - from.y)));
}

static void weigh_corner(jaw__worth *w, const jaw_zero_entry *e,
                         jaw_zero_found *z)
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
        return;
    double det = l[0].n.x * l[1].n.y - l[0].n.y * l[1].n.x;
    double inverse[2][2] = {{l[1].n.y / det, -l[0].n.y / det},
                            {-l[1].n.x / det, l[0].n.x / det}};
    for (int axis = 0; axis < 2; axis++) {
        jaw_linear_zero(w->f);
        for (int i = 0; i < 2; i++)
            put_line(w, e, &l[i], p, turns, inverse[axis][i]);
        if (turns) /* d(R at) = (-at.y, at.x) dturn */
            put_skew(w, e, axis == 0 ? at.y : -at.x);
        weigh_value(w, &z->trust[axis], &z->next[axis]);
    }
}

static void weigh_lone(jaw__worth *w, const jaw_zero_entry *e, jaw_axis axis,
                       jaw_zero_found *z)
{
    line l;

    if (!find_line(w, e, axis, 0, &l))
        return;
    jaw_vec2 p = l.part->p0; /* beside the touches: no arm */
    jaw_linear_zero(w->f);
    put_line(w, e, &l, p, false, 1 / (axis == JAW_X ? l.n.x : l.n.y));
    weigh_value(w, &z->trust[axis], &z->next[axis]);
}

/* -------------------------------------------------------------------- heights */

static const jaw_zero_term *first_height(const jaw_setup *setup, size_t *node)
{
    for (size_t i = 0; i < setup->n_zeros; i++) {
        const jaw_zero_term *term = &setup->zeros[i].term[JAW_Z];
        long f = jaw__find_feature(setup, term->feature);
        if (f == JAW__NOWHERE || setup->features[f].kind != JAW_FACE)
            continue;
        *node = (size_t)f;
        return term;
    }
    return NULL;
}

/* Adds c times what a register of the convention has beyond Z or L alone. */
static void put_base(jaw__worth *w, double c)
{
    const jaw_control *control = &w->sv->setup->control;
    long ref = jaw__find_tool(w->sv->setup, control->reference);
    size_t node;

    if (control->lengths == JAW_REFERENCE_TOOL && ref != JAW__NOWHERE)
        put_node(w, jaw__tool_node(w->sv, (size_t)ref), c);
    if (control->lengths == JAW_TIP_TO_PART &&
        first_height(w->sv->setup, &node) != NULL)
        put_node(w, node, c);
}

/* Z is the face's height, less that of the first zero (tip to part), or plus
 * the length of the reference tool, -u. */
static void weigh_height(jaw__worth *w, const jaw_zero_entry *e,
                         jaw_zero_found *z)
{
    long f = jaw__find_feature(w->sv->setup, e->term[JAW_Z].feature);

    if (f == JAW__NOWHERE || w->j->parts[f].block == JAW_NO_BLOCK)
        return;
    jaw_linear_zero(w->f);
    put_node(w, (size_t)f, 1);
    put_base(w, -1);
    weigh_value(w, &z->trust[JAW_Z], &z->next[JAW_Z]);
}

/* H is -u: and with it the first zero's height (tip to part), or less the
 * reference tool's -u. */
static void weigh_tool(jaw__worth *w, size_t i, jaw_tool_found *tool)
{
    jaw_linear_zero(w->f);
    put_node(w, jaw__tool_node(w->sv, i), -1);
    put_base(w, 1);
    tool->trust = weigh(w);
}

/* ----------------------------------------------------------------------- sizes */

static void weigh_size(jaw__worth *w, size_t f)
{
    jaw_found *found = &w->sv->out->features[f];
    const jaw__part *part = &w->j->parts[f];
    bool walls = found->kind == JAW_SLOT || found->kind == JAW_WEB;
    bool round = found->kind == JAW_BORE || found->kind == JAW_BOSS;

    if (found->status != JAW_OK || (!walls && (!round || part->n != 3)))
        return;
    jaw_linear_zero(w->f);
    put_local(w, part, walls ? 1 : 2, walls ? 1 : 2);
    found->size = weigh(w);
}

/* ----------------------------------------------------------------------- whole */

static void weigh_zero(jaw__worth *w, size_t i)
{
    const jaw_zero_entry *e = &w->sv->setup->zeros[i];
    jaw_zero_found *z = &w->sv->out->zeros[i];
    bool x = !isnan(z->zero.x), y = !isnan(z->zero.y);

    if (x && y && e->term[JAW_X].feature && e->term[JAW_Y].feature)
        weigh_corner(w, e, z);
    else if (x)
        weigh_lone(w, e, JAW_X, z);
    else if (y)
        weigh_lone(w, e, JAW_Y, z);
    if (!isnan(z->zero.z))
        weigh_height(w, e, z);
    if (isnan(z->skew) || e->turn_use != JAW_TURN_FEATURE)
        return;
    jaw_linear_zero(w->f);
    put_skew(w, e, 1);
    weigh_value(w, &z->turn_trust, &z->turn_next);
}

static void take_total(jaw__solver *sv)
{
    jaw_adjust_quality q = jaw_adjust_total(sv->joint->adjust);

    sv->out->total = (jaw_solution_quality){q.dof, q.s0, q.chi2_p,
                                            sv->joint->all_stated};
}

static bool make_room(jaw__worth *w)
{
    w->f = jaw_linear_alloc(w->j->adjust);
    w->spoken = calloc(w->sv->setup->n_features + 1, sizeof *w->spoken);
    return w->f != NULL && w->spoken != NULL && jaw__budget_start(w);
}

static void weigh_all(jaw__worth *w)
{
    jaw_solution *out = w->sv->out;

    find_scale(w);
    for (size_t i = 0; i < out->n_zeros; i++)
        weigh_zero(w, i);
    for (size_t i = 0; i < out->n_tools; i++)
        if (out->tools[i].status == JAW_OK)
            weigh_tool(w, i, &out->tools[i]);
    for (size_t f = 0; f < w->sv->setup->n_features; f++)
        weigh_size(w, f);
    jaw__budget_hand_out(out);
    jaw__judge(w);
}

void jaw__solve_worth(jaw__solver *sv)
{
    const double nan = (double)NAN;
    jaw__worth w = {.sv = sv, .j = sv->joint};

    sv->out->total = (jaw_solution_quality){nan, nan, nan, false};
    if (sv->joint == NULL || !sv->joint->solved)
        return;
    take_total(sv);
    if (make_room(&w))
        weigh_all(&w);
    else
        sv->no_memory = true;
    jaw_linear_free(w.f);
    free(w.spoken);
    free(w.sums);
    free(w.order);
}
