/* SPDX-License-Identifier: GPL-3.0-or-later */
/* worth.c: what each value to enter is worth: its derivative by every unknown
 * of the joint adjustment (joint.h), and from that its uncertainty (JCGM 100,
 * 5.2), the 95 % interval (Student's t) and the slip that would go unseen.
 *
 * A work zero is W = P - R(turn) at, and P is where two lines meet:
 *     n_i . dP = d_i,   d_i = dc + (dir . (P - p0)) dtheta   on a wall,
 *                       d_i = n . dcentre + (dir . (P - centre)) dturn
 * through a centre, dir being n turned by -90 degrees. */
#include "joint.h"

#include <math.h>
#include <stdlib.h>

/* A spread this much larger than stated happens once in a thousand setups. */
#define SPREAD_CHANCE 0.001

jaw_value_trust jaw__trust_none(void)
{
    const double nan = (double)NAN;

    return (jaw_value_trust){nan, nan, nan, nan, {0}};
}

/* The spread that the touches show, over that taken for granted: their share of
 * the sum of squares over their share of what is spare.  What is known beside
 * them (the spacing of holes) has its own share, which says nothing of a touch;
 * but where less than one touch is spare, only all together can tell. */
static void seen_spread(const jaw__solver *sv, double *scale, double *dof)
{
    const jaw__joint *j = sv->joint;
    double ssr = 0, spare = 0;

    *scale = sv->out->total.s0;
    *dof = sv->out->total.dof;
    for (size_t i = 0; i < j->n_origins; i++) {
        if (!j->origins[i].shown)
            continue;
        jaw_reliability r = jaw_adjust_reliability(j->adjust, i);
        double v = r.resid / j->origins[i].sigma;
        ssr += v * v;
        spare += r.redundancy;
    }
    if (!(spare > 0.999) || !(ssr > 0))
        return;
    *scale = sqrt(ssr / spare);
    *dof = spare;
}

/* With every repeat stated the sigmas hold until the touches deny it; with one
 * that is not, only the scatter of the touches themselves can tell. */
void jaw__joint_scale(const jaw__solver *sv, double *scale, double *dof)
{
    const jaw_solution_quality *q = &sv->out->total;

    *scale = 1;
    *dof = (double)INFINITY;
    if (!(q->dof > 0) || !(q->s0 > 0))
        return;
    if (q->stated && q->chance >= SPREAD_CHANCE)
        return;
    if (!q->stated) {
        seen_spread(sv, scale, dof);
        return;
    }
    *scale = q->s0;
    *dof = q->dof;
}

typedef struct worth {
    jaw__solver *sv;
    const jaw__joint *j;
    jaw_linear *f;
    double scale, dof;
    size_t worst; /* equation that reaches farthest, of the value weighed last */
} worth;

/* ------------------------------------------------------------------ unknowns */

static void put_local(worth *w, const jaw__part *part, size_t k, double c)
{
    if (c != 0 && jaw_linear_local(w->f, part->block, k, c) != JAW_OK)
        w->sv->no_memory = true;
}

static void put_shared(worth *w, size_t id, double c)
{
    if (c != 0 && jaw_linear_shared(w->f, id, c) != JAW_OK)
        w->sv->no_memory = true;
}

static void put_theta(worth *w, const jaw__part *part, double c)
{
    if (part->beside)
        return;
    if (part->turn != JAW_NO_BLOCK)
        put_shared(w, part->turn, c);
    else
        put_local(w, part, part->n - 1, c);
}

/* The turn of the part, as far as it was measured. */
static void put_skew(worth *w, const jaw_zero_entry *e, double c)
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

static void put_node(worth *w, size_t node, double c)
{
    if (node < w->sv->setup->n_features)
        put_local(w, &w->j->parts[node], 0, c);
    else if (w->j->node_shared[node] != JAW_NO_BLOCK)
        put_shared(w, w->j->node_shared[node], c);
}

/* ------------------------------------------------------------------- a value */

/* What the equations add to the variance whose sigma is known.  Repeats that
 * are stated and denied spoil all alike: nobody can tell which of them is
 * wrong. */
static double known_variance(const worth *w)
{
    double sum = 0;

    if (w->j->all_stated)
        return 0;
    for (size_t i = 0; i < w->j->n_origins; i++) {
        const jaw__origin *o = &w->j->origins[i];
        if (o->shown)
            continue;
        double moved =
            jaw_adjust_influence(w->j->adjust, i, w->f) * o->sigma;
        sum += moved * moved;
    }
    return sum;
}

/* The seen share of the variance has few degrees of freedom and the known one
 * any number.  Student's t with those of both (Welch and Satterthwaite) holds
 * too little where both matter (measure.h), so the interval is the root of the
 * sum of the squares of the two shares' own. */
static void spread_value(const worth *w, double variance, jaw_value_trust *t)
{
    double known = isinf(w->dof) ? 0 : fmin(known_variance(w), variance);
    double u[] = {w->scale * sqrt(variance - known), sqrt(known)};
    double dof[] = {w->dof, (double)INFINITY};

    t->u = hypot(u[0], u[1]);
    t->dof = known > 0 ? jaw_trust_effective_dof(u, dof, 2) : w->dof;
    t->half95 = hypot(u[0] * jaw_trust_cover(0.95, dof[0]),
                      u[1] * jaw_trust_cover(0.95, dof[1]));
}

static jaw_value_trust weigh(worth *w)
{
    jaw_value_trust t = jaw__trust_none();
    size_t equation;
    double variance = jaw_adjust_variance(w->j->adjust, w->f);

    if (!(variance >= 0)) { /* the value belongs to it, so memory ran out */
        w->sv->no_memory = true;
        return t;
    }
    spread_value(w, variance, &t);
    t.unnoticed =
        w->scale * jaw_adjust_reach(w->j->adjust, w->f, &equation);
    if (equation != JAW_NO_BLOCK && equation < w->j->n_origins)
        t.where = w->j->origins[equation].place;
    w->worst = equation;
    return t;
}

/* The same, and what one more touch would make of it. */
static void weigh_value(worth *w, jaw_value_trust *trust, jaw_next *next)
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

static bool find_line(worth *w, const jaw_zero_entry *e, jaw_axis axis,
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
static void put_line(worth *w, const jaw_zero_entry *e, const line *l,
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

static void weigh_corner(worth *w, const jaw_zero_entry *e, jaw_zero_found *z)
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

static void weigh_lone(worth *w, const jaw_zero_entry *e, jaw_axis axis,
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
static void put_base(worth *w, double c)
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
static void weigh_height(worth *w, const jaw_zero_entry *e, jaw_zero_found *z)
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
static void weigh_tool(worth *w, size_t i, jaw_tool_found *tool)
{
    jaw_linear_zero(w->f);
    put_node(w, jaw__tool_node(w->sv, i), -1);
    put_base(w, 1);
    tool->trust = weigh(w);
}

/* --------------------------------------------------------------------- touches */

/* Tests this alike are the same test, but for rounding. */
#define ALIKE 1e-3
/* A touch is named when it is this likely to be the one. */
#define NAMED 0.95

/* How likely the largest test is that of the touch that slipped, if one did and
 * any of them may have: a slip in touch i takes its test's square out of the
 * sum of squares (Baarda 1968), so its likelihood goes with exp(square / 2). */
static double blame(const jaw_touch_trust touch[], size_t n, double most)
{
    double sum = 0;

    for (size_t i = 0; i < n; i++) {
        double test = fabs(touch[i].standard);
        if (test > (1 - ALIKE) * most)
            sum += 1;
        else if (!isnan(test))
            sum += exp((test * test - most * most) / 2);
    }
    return 1 / sum;
}

/* Sums over the directions of a round's touches: of cos, of sin, and products.
 */
typedef struct spokes {
    double n, c, s, cc, cs, ss;
} spokes;

static spokes count_spokes(const jaw_touch t[], size_t n, jaw_vec2 centre)
{
    spokes k = {.n = (double)n};

    for (size_t i = 0; i < n; i++) {
        double a = atan2(t[i].y - centre.y, t[i].x - centre.x);
        double c = cos(a), s = sin(a);
        k.c += c;
        k.s += s;
        k.cc += c * c;
        k.cs += c * s;
        k.ss += s * s;
    }
    return k;
}

/* By how much the touches would have the known radius larger, if it were free,
 * and the standard deviation of that: one more unknown, with the residuals r
 * of the fit with the known one, is sum r / (n - s' M^-1 s), because they are
 * square to the two directions of the centre. */
static double radius_misfit(const worth *w, size_t f, double *spread)
{
    const jaw_setup *setup = w->sv->setup;
    const jaw_feature_entry *e = &setup->features[f];
    const jaw_found *found = &w->sv->out->features[f];
    const jaw__part *part = &w->j->parts[f];
    spokes k = count_spokes(setup->touches + setup->shares[f].first_touch,
                            found->n, found->as.round.centre);
    double det = k.cc * k.ss - k.cs * k.cs, sum = 0;
    long tip = jaw__find_tip(setup, e->tip);

    *spread = (double)NAN;
    if (e->size_use != JAW_SIZE_KNOWN || part->pairs || !(det > 0))
        return 0;
    double left = k.n - (k.c * (k.ss * k.c - k.cs * k.s) +
                         k.s * (k.cc * k.s - k.cs * k.c)) / det;
    if (!(left > 1e-9 * k.n)) /* so short an arc shows no radius */
        return 0;
    for (size_t i = 0; i < found->n; i++)
        sum += found->resid[i];
    *spread = hypot(found->repeat / sqrt(left), e->size_known / 2);
    if (tip != JAW__NOWHERE)
        *spread = hypot(*spread, setup->tips[tip].diameter_known / 2);
    return sum / left;
}

/* The size rather than a touch is wrong when its test is the larger one. */
static bool judge_known_size(worth *w, size_t f, double most)
{
    jaw_found *found = &w->sv->out->features[f];
    const jaw_feature_entry *e = &w->sv->setup->features[f];
    double spread, off;

    if (found->kind != JAW_BORE && found->kind != JAW_BOSS)
        return false;
    off = radius_misfit(w, f, &spread);
    if (!(fabs(off) > JAW__DOUBTFUL * spread) ||
        fabs(off) / spread < (1 - ALIKE) * most)
        return false;
    found->flags |= JAW_SIZE_OFF;
    jaw__tell(w->sv, SAY_KNOWN_SIZE, e->size_place, NULL,
              jaw_feature_word(e->kind), e->name,
              jaw__length_text(w->sv, 2 * off).s);
    return true;
}

static void judge_touches(worth *w, size_t f, const jaw_touch_trust touch[])
{
    jaw_found *found = &w->sv->out->features[f];
    const jaw_feature_entry *e = &w->sv->setup->features[f];
    const jaw__share *share = &w->sv->setup->shares[f];
    const jaw_place *places = w->sv->setup->touch_places + share->first_touch;
    size_t worst = 0;

    for (size_t i = 0; i < found->n; i++)
        if (fabs(touch[i].standard) > fabs(touch[worst].standard) ||
            isnan(touch[worst].standard))
            worst = i;
    double most = fabs(touch[worst].standard);
    if (judge_known_size(w, f, isnan(most) ? 0 : most) ||
        !(most > JAW__DOUBTFUL))
        return;
    found->flags |= JAW_RESIDUAL;
    if (jaw__tell_suspects(w->sv, f))
        return;
    /* what it lies off the others: its residual over its redundancy */
    double off = most * found->repeat / sqrt(touch[worst].redundancy);
    jaw__text size = jaw__length_text(w->sv, off);
    jaw__text repeat = jaw__fine_text(w->sv, found->repeat);
    if (blame(touch, found->n, most) < NAMED)
        jaw__tell(w->sv, SAY_SLIP, e->place, NULL, jaw_feature_word(e->kind),
                  e->name, size.s, repeat.s);
    else
        jaw__tell(w->sv, SAY_RESIDUAL, places[worst], NULL, worst + 1,
                  jaw_feature_word(e->kind), e->name, size.s, repeat.s);
}

static void weigh_touches(worth *w, size_t f)
{
    const jaw__share *share = &w->sv->setup->shares[f];
    jaw_found *found = &w->sv->out->features[f];
    jaw_touch_trust *touch = w->sv->out->touch + share->first_touch;

    if (found->status != JAW_OK || found->kind == JAW_PATTERN)
        return;
    for (size_t i = 0; i < share->n_touches; i++) {
        size_t equation = w->j->touch_equation[share->first_touch + i];
        jaw_reliability r = jaw_adjust_reliability(w->j->adjust, equation);
        if (isnan(r.redundancy))
            w->sv->no_memory = true;
        touch[i] = (jaw_touch_trust){r.redundancy, r.standard,
                                     r.noticeable * w->scale};
    }
    found->touch = touch;
    judge_touches(w, f, touch);
}

/* ----------------------------------------------------------------------- sizes */

static void weigh_size(worth *w, size_t f)
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

/* ------------------------------------------------------------------- set aside */

/* Signed as the residuals of its kind; of a pair, as the nearer of the two. */
static double touch_off(const worth *w, size_t f, const jaw_aside_entry *a)
{
    const jaw__part *part = &w->j->parts[f];
    double off =
        jaw__touch_equation(w->sv, (long)f, a->touch, !a->other_wall).off;

    if (part->pairs) {
        double second =
            jaw__touch_equation(w->sv, (long)f, a->touch, a->other_wall).off;
        return fabs(second) < fabs(off) ? second : off;
    }
    if (w->sv->setup->features[f].kind == JAW_EDGE && part->sides < 0)
        return -off;
    return off;
}

static double hole_off(const worth *w, size_t f, const jaw_hole_entry *hole)
{
    const jaw_frame *frame = &w->sv->out->features[f].as.pattern.frame;
    double grown = 1 + w->j->growth_at;
    jaw_vec2 belongs = jaw_machine_from_work(
        frame,
        (jaw_vec2){grown * hole->nominal.x, grown * hole->nominal.y});
    jaw_vec2 at = hole->touched;
    long bore = jaw__find_feature(w->sv->setup, hole->feature);

    if (bore != JAW__NOWHERE && w->sv->out->features[bore].status == JAW_OK &&
        (w->sv->setup->features[bore].kind == JAW_BORE ||
         w->sv->setup->features[bore].kind == JAW_BOSS))
        at = w->sv->out->features[bore].as.round.centre;
    return hypot(at.x - belongs.x, at.y - belongs.y);
}

static void place_asides(const worth *w, size_t f)
{
    const jaw__share *share = &w->sv->setup->shares[f];
    bool pattern = w->sv->setup->features[f].kind == JAW_PATTERN;

    if (w->sv->out->features[f].status != JAW_OK)
        return;
    for (size_t i = 0; i < share->n_asides; i++) {
        const jaw_aside_entry *a =
            &w->sv->setup->asides[share->first_aside + i];
        w->sv->out->aside[share->first_aside + i] =
            pattern ? hole_off(w, f, &a->hole) : touch_off(w, f, a);
    }
}

/* ----------------------------------------------------------------------- whole */

static void weigh_zero(worth *w, size_t i)
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

/* A stated diameter of a tip against what the known sizes say that it touched.
 * When something was already said of what spoils the whole, it is no news. */
static void judge_tip(worth *w, size_t i)
{
    const jaw_tip_entry *e = &w->sv->setup->tips[i];
    double off = 2 * w->j->tip_off[i];

    if (w->sv->slip_said || w->j->tip_shared[i] == JAW_NO_BLOCK)
        return;
    jaw_reliability r =
        jaw_adjust_reliability(w->j->adjust, w->j->tip_equation[i]);
    if (fabs(r.standard) > JAW__DOUBTFUL)
        jaw__tell(w->sv, SAY_KNOWN_TIP, e->place, NULL, e->name,
                  jaw__length_text(w->sv, e->tip.diameter + off).s,
                  jaw__length_text(w->sv, off).s);
}

/* As for a tip: no news after that. */
static void judge_spread(jaw__solver *sv)
{
    const jaw_solution_quality *q = &sv->out->total;
    char times[48];

    if (sv->slip_said || !q->stated || !(q->s0 > 1) ||
        !(q->chance < SPREAD_CHANCE))
        return;
    jaw_number_write(q->s0, 1, times, sizeof times);
    jaw__tell(sv, SAY_SPREAD, (jaw_place){0}, "", times);
}

void jaw__solve_worth(jaw__solver *sv)
{
    const double nan = (double)NAN;
    worth w = {.sv = sv, .j = sv->joint};

    sv->out->total = (jaw_solution_quality){nan, nan, nan, false};
    if (sv->joint == NULL || !sv->joint->solved)
        return;
    take_total(sv);
    jaw__joint_scale(sv, &w.scale, &w.dof);
    w.f = jaw_linear_alloc(sv->joint->adjust);
    if (w.f == NULL) {
        sv->no_memory = true;
        return;
    }
    for (size_t i = 0; i < sv->out->n_zeros; i++)
        weigh_zero(&w, i);
    for (size_t i = 0; i < sv->out->n_tools; i++)
        if (sv->out->tools[i].status == JAW_OK)
            weigh_tool(&w, i, &sv->out->tools[i]);
    for (size_t f = 0; f < sv->setup->n_features; f++) {
        weigh_size(&w, f);
        weigh_touches(&w, f);
        place_asides(&w, f);
    }
    for (size_t i = 0; i < sv->setup->n_tips; i++)
        judge_tip(&w, i);
    judge_spread(sv);
    jaw_linear_free(w.f);
}
