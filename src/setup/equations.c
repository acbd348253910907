/* SPDX-License-Identifier: GPL-3.0-or-later */
/* equations.c: what every touch, every stated thing and every assumption of a
 * setup says of the unknowns, linear at the values they have now.
 *
 * Derivatives are analytic; with n = (-sin, cos), d n / d theta = -(cos, sin).
 * tests/setup/differences.c holds them against finite differences. */
#include "model.h"

/* ------------------------------------------------------------------ equations */

static void add(jaw__model *m, jaw_equation *e, jaw__origin origin, size_t *id)
{
    jaw__joint *j = m->j;
    jaw__origin *origins = jaw__grow(j->origins, j->n_origins,
                                     &j->room_origins, sizeof *origins);

    if (origins == NULL) {
        jaw__keep_first(m, JAW_ENOMEM);
        return;
    }
    j->origins = origins;
    jaw_equation *equations = jaw__grow(j->equations, j->n_origins,
                                        &j->room_equations, sizeof *equations);
    if (equations == NULL) {
        jaw__keep_first(m, JAW_ENOMEM);
        return;
    }
    j->equations = equations;
    e->known_spread =
        j->all_stated ? !jaw__is_by_hand(origin.source) : !origin.shown;
    jaw_status status = jaw_adjust_add(j->adjust, e, id);
    if (status != JAW_OK) {
        jaw__keep_first(m, status);
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

static jaw__origin origin_of(const jaw__model *m, long f, size_t touch)
{
    const jaw_setup *setup = m->sv->setup;
    size_t at = setup->shares[f].first_touch + touch;

    return (jaw__origin){.place = setup->touch_places[at],
                         .source = JAW__FROM_TOUCHES,
                         .of = (size_t)f,
                         .shown = !m->sv->out->features[f].repeat_stated};
}

/* -------------------------------------------------------------------- reach */

/* Adds the radius of the feature's tip, c times, where it is not exact. */
static void put_radius(const jaw__solver *sv, jaw_equation *e, long f,
                       double c)
{
    long tip = jaw__find_tip(sv->setup, sv->setup->features[f].tip);

    if (c != 0 && tip != JAW__NOWHERE &&
        sv->joint->tip_shared[tip] != JAW_NO_BLOCK)
        share(e, sv->joint->tip_shared[tip], c);
}

/* Adds the harmonics of the feature's tip at the approach angle a, c times,
 * where they are not exact; what the angle itself does is up to the caller. */
static void put_harmonics(const jaw__solver *sv, jaw_equation *e, long f,
                          double c, double a)
{
    long tip = jaw__find_tip(sv->setup, sv->setup->features[f].tip);

    for (size_t k = 0; k < 4 && tip != JAW__NOWHERE; k++) {
        size_t id = sv->joint->harmonic_shared[4 * (size_t)tip + k];
        double one[4] = {0};
        one[k] = 1;
        if (id != JAW_NO_BLOCK)
            share(e, id, c * jaw_tip_harmonics(one, a, NULL));
    }
}

/* The same of the whole reach. */
static void put_reach(const jaw__solver *sv, jaw_equation *e, long f, double c,
                      double a)
{
    put_radius(sv, e, f, c);
    put_harmonics(sv, e, f, c, a);
}

static jaw__came came_of(const jaw__solver *sv, long f)
{
    const jaw__part *part = &sv->joint->parts[f];
    double c = part->at[0];

    if (sv->setup->features[f].kind == JAW_BAR)
        return (jaw__came){.kind = JAW_BAR,
                           .theta = part->at[1],
                           .centre = {part->p0.x - c * sin(part->at[1]),
                                      part->p0.y + c * cos(part->at[1])}};

    return (jaw__came){.kind = sv->setup->features[f].kind,
                       .theta = part->at[1],
                       .sides = part->sides,
                       .centre = {part->at[0], part->at[1]}};
}

jaw_tip jaw__tip_now(const jaw__solver *sv, const jaw_feature_entry *entry)
{
    jaw_tip tip = jaw__tip_of(sv->setup, entry);
    long at = jaw__find_tip(sv->setup, entry->tip);

    if (at != JAW__NOWHERE && sv->joint != NULL && sv->joint->tip_off != NULL)
        tip.diameter = fmax(0, tip.diameter + 2 * sv->joint->tip_off[at]);
    return tip;
}

/* One row of what is stated of a tip (jaw__prior_of). */
static jaw_equation prior_equation(const jaw__model *m, size_t tip,
                                   const jaw__prior *p, size_t row)
{
    jaw_equation e = {.block = JAW_NO_BLOCK, .sigma = p->sigma[row]};

    for (size_t k = 0; k <= row; k++) {
        bool radius = p->part[k] == JAW_TIP_DIAMETER;
        size_t at = 4 * tip + (radius ? 0 : (size_t)p->part[k] - JAW_TIP_C1);
        share(&e, radius ? m->j->tip_shared[tip] : m->j->harmonic_shared[at],
              p->row[row][k]);
        e.off -= p->row[row][k] *
                 (radius ? m->j->tip_off[tip] : m->j->harmonic_off[at]);
    }
    return e;
}

static void state_tip(jaw__model *m, size_t tip)
{
    jaw__prior p;
    jaw_equation e;

    if (!jaw__prior_of(&m->sv->setup->tips[tip], &p)) /* then none uses it */
        return;
    jaw__source source = p.part[0] == JAW_TIP_DIAMETER ? JAW__FROM_DIAMETER
                                                       : JAW__FROM_REACH;
    for (size_t row = 0; row < p.n; row++) {
        e = prior_equation(m, tip, &p, row);
        add(m, &e,
            (jaw__origin){.place = m->sv->setup->tips[tip].place,
                          .source = source,
                          .of = tip},
            p.part[row] == JAW_TIP_DIAMETER ? &m->j->tip_equation[tip] : NULL);
    }
}

static void state_tips(jaw__model *m)
{
    for (size_t i = 0; i < m->sv->setup->n_tips; i++) {
        bool any = m->j->tip_shared[i] != JAW_NO_BLOCK;
        for (size_t k = 0; k < 4; k++)
            any = any || m->j->harmonic_shared[4 * i + k] != JAW_NO_BLOCK;
        if (any)
            state_tip(m, i);
    }
}

/* ---------------------------------------------------------------------- walls */

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
    jaw_vec2 dir = jaw__dir_of(part->at[1]), p = jaw__centre_of(part, t);
    jaw_equation e = {.block = part->block, .local = {1}};
    jaw__came came = came_of(sv, f);
    double a = jaw__approach(&came, t, true), slope;
    double reach = jaw__reach_now(sv, &sv->setup->features[f], a, &slope);

    put_turn(part, &e,
             jaw__along(dir, p, part->p0) + part->sides * slope);
    put_reach(sv, &e, f, part->sides, a);
    e.off = jaw__across(dir, p, part->p0) - part->sides * reach - part->at[0];
    return e;
}

/* In the order m, w, theta, so that theta is the last and may be shared. */
static jaw_equation walls_equation(const jaw__solver *sv, long f, jaw_touch t,
                                   bool first)
{
    const jaw__part *part = &sv->joint->parts[f];
    jaw_vec2 dir = jaw__dir_of(part->at[1]), p = jaw__centre_of(part, t);
    int wall = sv->setup->features[f].kind == JAW_SLOT ? -1 : 1;
    double side = first == (part->sides < 0) ? 0.5 : -0.5;
    jaw_equation e = {.block = part->block, .local = {1, side}};
    jaw__came came = came_of(sv, f);
    double a = jaw__approach(&came, t, first), slope;
    double reach = jaw__reach_now(sv, &sv->setup->features[f], a, &slope);

    put_turn(part, &e,
             jaw__along(dir, p, part->p0) + 2 * side * wall * slope);
    put_reach(sv, &e, f, 2 * side * wall, a);
    e.off = jaw__across(dir, p, part->p0) - part->at[0] -
            side * (part->at[2] + 2 * wall * reach);
    return e;
}

/* --------------------------------------------------------------------- rounds */

/* The first row along an axis has its half chord, the second less it; half
 * chords are never 0, or the two rows would be one place.  A half chord is that
 * of a plain tip without radius: what the two reaches share is in it, what
 * parts them moves the middle. */
static jaw_equation pair_equation(const jaw__solver *sv, long f, jaw_touch t,
                                  bool first)
{
    const jaw__part *part = &sv->joint->parts[f];
    size_t axis = isnan(t.y) ? 0u : 1u;
    double sign = first ? 1 : -1;
    jaw_equation e = {.block = part->block};
    jaw__came came = came_of(sv, f);
    double a = jaw__approach(&came, t, first), h[4];
    double toward = axis == 0 ? cos(a) : sin(a); /* +1 or -1 */

    e.local[axis] = 1;
    e.local[2 + axis] = sign;
    put_harmonics(sv, &e, f, -toward, a);
    jaw__harmonics_now(sv, &sv->setup->features[f], h);
    e.off = (axis == 0 ? t.x : t.y) + toward * jaw_tip_harmonics(h, a, NULL) -
            part->at[axis] - sign * part->at[2 + axis];
    return e;
}

static jaw_equation round_equation(const jaw__solver *sv, long f, jaw_touch t)
{
    const jaw__part *part = &sv->joint->parts[f];
    double wall = sv->setup->features[f].kind == JAW_BORE ? 1 : -1;
    double dx = t.x - part->at[0], dy = t.y - part->at[1], d = hypot(dx, dy);
    double ux = d > 0 ? dx / d : 1, uy = d > 0 ? dy / d : 0;
    jaw_equation e = {.block = part->block};
    jaw__came came = came_of(sv, f);
    double a = jaw__approach(&came, t, true), slope;
    double reach = jaw__reach_now(sv, &sv->setup->features[f], a, &slope);

    /* the angle turns by (uy, -ux) / d as the centre moves */
    double turn = d > 0 ? wall * slope / d : 0;
    e.local[0] = ux - turn * uy;
    e.local[1] = uy + turn * ux;
    if (part->n == 3)
        e.local[2] = 1;
    put_reach(sv, &e, f, -wall, a);
    e.off = d - part->at[2] + wall * reach;
    return e;
}

/* Exactly known things get a small share of a touch's spread, which leaves
 * them all but fixed and the arithmetic sound. */
#define EXACT (JAW_REPEAT_DEFAULT / 1000)

static double radius_of(const jaw_feature_entry *entry, const jaw__part *part)
{
    return part->at[entry->kind == JAW_BAR    ? 4
                    : entry->kind == JAW_BALL ? 3
                                              : 2];
}

/* What is known of a diameter, where that is not exact; of a ball or a bar in
 * any case. */
static void state_size(jaw__model *m, long f)
{
    const jaw_feature_entry *entry = &m->sv->setup->features[f];
    const jaw__part *part = &m->j->parts[f];
    jaw_equation e = {.block = part->block, .sigma = entry->size_known / 2};

    if (entry->size_use != JAW_SIZE_KNOWN || entry->kind == JAW_DIAL ||
        (part->n != 3 && !part->sized))
        return;
    e.local[part->sized ? 3 : 2] = 1;
    e.off = entry->size / 2 - radius_of(entry, part);
    if (part->sized && !(entry->size_known > 0))
        e.sigma = EXACT;
    add(m, &e,
        (jaw__origin){.place = entry->size_place,
                      .source = JAW__FROM_SIZE,
                      .of = (size_t)f},
        &m->j->size_equation[f]);
}

/* -------------------------------------------------------------------- heights */

/* Adds `sign` times a node to an equation: a feature's height is unknown in its
 * block, everything else is shared. */
static double put_node(const jaw__solver *sv, jaw_equation *e, size_t node,
                       double sign)
{
    const jaw__joint *j = sv->joint;

    if (node < sv->setup->n_features) {
        e->block = j->parts[node].block;
        e->local[j->parts[node].height] += sign;
        return sign * j->parts[node].at[j->parts[node].height_at];
    }
    share(e, j->node_shared[node], sign);
    return sign * j->node_at[node];
}

static bool has_node(const jaw__solver *sv, size_t node)
{
    const jaw__joint *j = sv->joint;

    if (node < sv->setup->n_features)
        return j->parts[node].high && j->parts[node].block != JAW_NO_BLOCK;
    return j->node_shared[node] != JAW_NO_BLOCK;
}

static size_t touching_node(const jaw__solver *sv, long f)
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
    jaw_vec2 p = jaw__centre_of(part, t);
    jaw_equation e = {.block = part->block};
    double seen = put_node(sv, &e, (size_t)f, 1) +
                  put_node(sv, &e, touching_node(sv, f), -1);

    if (part->n == 3) {
        e.local[1] = p.x - part->p0.x;
        e.local[2] = p.y - part->p0.y;
        seen += part->at[1] * e.local[1] + part->at[2] * e.local[2];
    }
    put_radius(sv, &e, f, r > 0 ? 1 / nz - 1 : 0);
    e.off = t.z - off - seen;
    return e;
}

/* ------------------------------------------------------------ balls and bars */

/* The tip's centre, with its runout and lobes (reach.c): where it is, from where
 * it came, and what its reach has there. */
typedef struct met {
    jaw_vec3 p;
    double a, on, slope, radius;
} met;

static met meet_solid(const jaw__solver *sv, long f, jaw_touch t)
{
    const jaw_feature_entry *entry = &sv->setup->features[f];
    jaw__came came = came_of(sv, f);
    jaw_tip tip = jaw__tip_now(sv, entry);
    met m = {.a = jaw__approach(&came, t, true), .radius = jaw_tip_side(&tip)};
    double h[4];

    jaw__harmonics_now(sv, entry, h);
    m.on = jaw_tip_harmonics(h, m.a, &m.slope);
    m.p = (jaw_vec3){t.x + m.on * cos(m.a), t.y + m.on * sin(m.a),
                     t.z + m.radius +
                         sv->joint->node_at[touching_node(sv, f)]};
    return m;
}

/* Of a touch whose wall rises by `up` for one of the normal: its tip's length is
 * in it with that share, and the radius in the height of the centre too. */
static void put_tip(const jaw__solver *sv, jaw_equation *e, long f, double up,
                    double level, double a)
{
    size_t node = sv->joint->node_shared[touching_node(sv, f)];

    share(e, node, -up);
    put_radius(sv, e, f, 1 - up);
    put_harmonics(sv, e, f, level, a);
}

/* As of a round, in space: off = |p - centre| - r - radius. */
static jaw_equation ball_equation(const jaw__solver *sv, long f, jaw_touch t)
{
    const jaw__part *part = &sv->joint->parts[f];
    met m = meet_solid(sv, f, t);
    jaw_vec3 v = {m.p.x - part->at[0], m.p.y - part->at[1],
                  m.p.z - part->at[2]};
    double d = hypot(hypot(v.x, v.y), v.z);
    double level = -(v.x * cos(m.a) + v.y * sin(m.a)) / d;
    double away = hypot(t.x - part->at[0], t.y - part->at[1]);
    /* the angle turns by (-sin, cos) / away as the centre moves */
    double turn = away > 0 ? level * m.slope / away : 0;
    jaw_equation e = {.block = part->block,
                      .local = {v.x / d - turn * sin(m.a),
                                v.y / d + turn * cos(m.a), v.z / d, 1}};

    put_tip(sv, &e, f, v.z / d, level, m.a);
    e.off = d - part->at[3] - m.radius;
    return e;
}

/* With the distances to the side of the axis and up from it, the latter along
 * z, and w = 1 + slope^2: d^2 = side^2 + up^2 / w. */
static jaw_equation bar_equation(const jaw__solver *sv, long f, jaw_touch t)
{
    const jaw__part *part = &sv->joint->parts[f];
    jaw_vec2 dir = jaw__dir_of(part->at[1]), q = {t.x, t.y};
    met m = meet_solid(sv, f, t);
    double along = jaw__along(dir, q, part->p0);
    double across = jaw__across(dir, q, part->p0);
    double s = across < part->at[0] ? -1 : 1, slope = part->at[3];
    double w = 1 + slope * slope;
    double side = across - part->at[0] - s * m.on;
    double up = m.p.z - part->at[2] - slope * along;
    double d = hypot(side, up / sqrt(w));
    double by_side = side / d, by_up = up / (w * d);
    jaw_equation e = {
        .block = part->block,
        .local = {by_side, by_up, by_up * along + by_up * slope * up / w, 1}};

    put_turn(part, &e,
             by_side * (along + s * m.slope) + by_up * slope * across);
    put_tip(sv, &e, f, by_up, s * by_side, m.a);
    e.off = d - part->at[4] - m.radius;
    return e;
}

/* ----------------------------------------------------------------- indicators */

/* A reading grows as the wall comes nearer (align.h): one more of the place
 * makes it outward . wall more. */
static jaw_equation sweep_equation(const jaw__solver *sv, long f, jaw_touch t)
{
    const jaw__part *part = &sv->joint->parts[f];
    jaw_vec2 out = jaw_side_normal(sv->setup->features[f].faces);
    double at = out.y != 0 ? t.x - part->p0.x : t.y - part->p0.y;
    double skew = part->at[1] - (out.y != 0 ? 0 : M_PI / 2);
    double sign = out.y - out.x, c = cos(skew);
    jaw_equation e = {.block = part->block, .local = {1}};

    put_turn(part, &e, sign * at / (c * c));
    e.off = t.z - part->at[0] - sign * at * tan(skew);
    return e;
}

/* d = e.u + sqrt(R^2 - w^2), w = e x u, as in src/align/round.c; without R to
 * first order.  R itself is left to the unknown b. */
double jaw__dial_rest(const jaw__solver *sv, long f, const jaw__part *part,
                      jaw_touch t, jaw_vec2 *slope)
{
    const jaw_feature_entry *entry = &sv->setup->features[f];
    double c = cos(t.x), s = sin(t.x), side = entry->inside ? -1 : 1;
    double ex = part->at[0] - entry->stands.x;
    double ey = part->at[1] - entry->stands.y;
    double w = ex * s - ey * c, g = 0, bend = 0;

    if (entry->size_use != JAW_SIZE_FREE) {
        double r = entry->size / 2, root = sqrt((r - w) * (r + w));
        g = w * w / (r + root);
        bend = w / root;
    }
    if (slope != NULL)
        *slope = (jaw_vec2){side * (c - bend * s), side * (s + bend * c)};
    return t.z - side * (ex * c + ey * s - g);
}

static jaw_equation dial_equation(const jaw__solver *sv, long f, jaw_touch t)
{
    const jaw__part *part = &sv->joint->parts[f];
    jaw_vec2 slope;
    double rest = jaw__dial_rest(sv, f, part, t, &slope);

    return (jaw_equation){.block = part->block,
                          .local = {slope.x, slope.y, 1},
                          .off = rest - part->at[2]};
}

/* ---------------------------------------------------------- stated and known */

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

static void state(jaw__model *m, size_t from, size_t to, double value,
                  double sigma, jaw__origin origin)
{
    jaw_equation e;

    if (difference(m->sv, from, to, value, sigma, &e))
        add(m, &e, origin, NULL);
}

static size_t surface_node_of(const jaw__solver *sv, const char *name)
{
    size_t node;

    return jaw__surface_node(sv, name, &node) ? node : JAW_NO_BLOCK;
}

static double spread_of(double known)
{
    return known > 0 ? known : EXACT;
}

static void state_tip_lengths(jaw__model *m)
{
    const jaw_tip_entry *e = m->sv->setup->tips;

    for (size_t i = 0; i < m->sv->setup->n_tips; i++)
        if (!isnan(e[i].tip.length))
            state(m, JAW_NO_BLOCK, jaw__tip_node(m->sv, i), -e[i].tip.length,
                  spread_of(e[i].length_known),
                  (jaw__origin){.place = e[i].place,
                                .source = JAW__FROM_TIP_LENGTH,
                                .of = i});
}

/* What the book says is known as it says (jaw_link). */
static jaw__origin linked_origin(jaw__origin origin, const jaw_link *link)
{
    if (link->wanted) {
        origin.seen = link->seen;
        origin.seen_dof = link->seen_dof;
    }
    return origin;
}

static bool tool_equation(const jaw__solver *sv, size_t i, jaw_equation *e)
{
    const jaw_tool_entry *t = &sv->setup->tools[i];
    size_t node = jaw__tool_node(sv, i);
    double sigma = spread_of(t->length_known);
    size_t above = t->above ? surface_node_of(sv, t->above) : JAW_NO_BLOCK;

    if (isnan(t->length) || (t->above != NULL && above == JAW_NO_BLOCK))
        return false;
    return t->above == NULL
               ? difference(sv, JAW_NO_BLOCK, node, -t->length, sigma, e)
               : difference(sv, node, above, t->length, sigma, e);
}

static void state_tool_lengths(jaw__model *m)
{
    const jaw_tool_entry *t = m->sv->setup->tools;
    jaw_equation e;

    for (size_t i = 0; i < m->sv->setup->n_tools; i++) {
        m->j->length_equation[i] = JAW_NO_BLOCK;
        if (tool_equation(m->sv, i, &e))
            add(m, &e,
                linked_origin((jaw__origin){.place = t[i].place,
                                            .source = JAW__FROM_TOOL_LENGTH,
                                            .of = i},
                              &t[i].link),
                &m->j->length_equation[i]);
    }
}

static void state_setters(jaw__model *m)
{
    for (size_t i = 0; i < m->sv->setup->n_setters; i++) {
        const jaw_setter_entry *e = &m->sv->setup->setters[i];
        size_t node = jaw__setter_node(m->sv, i);
        size_t below = e->on ? surface_node_of(m->sv, e->on) : JAW_NO_BLOCK;
        if (!isnan(e->top))
            state(m, JAW_NO_BLOCK, node, e->top, spread_of(e->top_known),
                  linked_origin((jaw__origin){.place = e->place,
                                              .source = JAW__FROM_TOP,
                                              .of = i},
                                &e->link));
        if (below != JAW_NO_BLOCK && below != node)
            state(m, below, node, e->height, spread_of(e->height_known),
                  linked_origin((jaw__origin){.place = e->on_place,
                                              .source = JAW__FROM_HEIGHT,
                                              .of = i},
                                &e->link));
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
static jaw__origin contact_origin(const jaw__model *m,
                                  const jaw_contact_entry *e)
{
    long tip = jaw__find_tip(m->sv->setup, e->tip);
    long tool = jaw__find_tool(m->sv->setup, e->tool);
    bool stated = e->tool == 0 && tip != JAW__NOWHERE &&
                  !isnan(m->sv->setup->tips[tip].tip.repeat);

    return (jaw__origin){.place = e->place,
                         .source = e->tool != 0 ? JAW__FROM_TOOL
                                                : JAW__FROM_TIP,
                         .of = (size_t)(e->tool != 0 ? tool : tip),
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

static void state_contacts(jaw__model *m)
{
    jaw_equation e;

    for (size_t i = 0; i < m->sv->setup->n_contacts; i++)
        if (jaw__contact_equation(m->sv, i, &e))
            add(m, &e, contact_origin(m, &m->sv->setup->contacts[i]), NULL);
}

/* A chain without ground is held at its root; differences do not feel it. */
static void hold_chains(jaw__model *m)
{
    for (size_t i = 0; i < m->sv->n_nodes; i++)
        if (has_node(m->sv, i) && !m->sv->nodes[i].grounded &&
            m->sv->nodes[i].chain == i)
            state(m, JAW_NO_BLOCK, i, m->sv->nodes[i].value, 1,
                  (jaw__origin){.source = JAW__FROM_ELSE});
}

/* ------------------------------------------------------------------- patterns */

/* *id is left as it is when the hole says nothing. */
static void hole_equation(jaw__model *m, long f, const jaw_hole_entry *hole,
                          int axis, size_t *id)
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
    double typed =
        bore == JAW__NOWHERE ? jaw__repeat_at(m->sv->setup, entry) : 0;
    jaw_equation e = {.block = JAW_NO_BLOCK, .sigma = hypot(spacing, typed)};

    if (bore != JAW__NOWHERE) {
        e.block = j->parts[bore].block;
        if (e.block == JAW_NO_BLOCK)
            return;
        e.local[axis] = -1;
        e.off = j->parts[bore].at[axis] - belongs;
    } else {
        e.off = (axis == 0 ? hole->touched.x : hole->touched.y) - belongs;
    }
    share(&e, frame + (size_t)axis, 1);
    share(&e, frame + 2, arm);
    if (j->growth_shared != JAW_NO_BLOCK)
        share(&e, j->growth_shared, axis == 0 ? n.x : n.y);
    add(m, &e,
        (jaw__origin){.place = hole->place,
                      .source = JAW__FROM_SPACING,
                      .of = (size_t)f,
                      .typed = typed},
        id);
}

static void state_growth(jaw__model *m)
{
    jaw_equation e = {.block = JAW_NO_BLOCK};
    double stated = jaw__growth_of(m->sv->setup, &e.sigma);

    if (m->j->growth_shared == JAW_NO_BLOCK)
        return;
    share(&e, m->j->growth_shared, 1);
    e.off = stated - m->j->growth_at;
    add(m, &e,
        (jaw__origin){.place = m->sv->setup->temperature.place,
                      .source = JAW__FROM_TEMPERATURE},
        NULL);
}

static void pattern_equations(jaw__model *m, long f)
{
    const jaw__share *s = &m->sv->setup->shares[f];
    size_t in_y;

    for (size_t i = 0; i < s->n_holes; i++) {
        size_t at = s->first_hole + i;
        hole_equation(m, f, &m->sv->setup->holes[at], 0,
                      &m->j->hole_equation[at]);
        hole_equation(m, f, &m->sv->setup->holes[at], 1, &in_y);
    }
}

/* --------------------------------------------------------- what gives the turn */

/* A direction that nobody measured is tied to that of the part. */
static void tie_direction(jaw__model *m, long f)
{
    jaw__part *part = &m->j->parts[f];
    jaw_axis axis;
    const jaw_zero_entry *zero = jaw__zero_of(m->sv->setup, f, &axis);
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
                                    : (jaw_place){0},
                      .source = JAW__FROM_SQUARE,
                      .of = (size_t)f},
        NULL);
}

/* ----------------------------------------------------------------------- whole */

jaw_equation jaw__touch_equation(const jaw__solver *sv, long f, jaw_touch t,
                                 bool first)
{
    jaw_equation e;

    switch (sv->setup->features[f].kind) {
    case JAW_EDGE: e = edge_equation(sv, f, t); break;
    case JAW_FACE: e = face_equation(sv, f, t); break;
    case JAW_SLOT:
    case JAW_WEB: e = walls_equation(sv, f, t, first); break;
    case JAW_BALL: e = ball_equation(sv, f, t); break;
    case JAW_BAR: e = bar_equation(sv, f, t); break;
    case JAW_SWEEP: e = sweep_equation(sv, f, t); break;
    case JAW_DIAL: e = dial_equation(sv, f, t); break;
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

static void touch_equations(jaw__model *m, long f)
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

static void feature_equations(jaw__model *m, long f)
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
    if (jaw__is_wall(found) && part->assumed)
        tie_direction(m, f);
}

void jaw__write_equations(jaw__model *m)
{
    m->j->n_origins = 0;
    for (size_t f = 0; f < m->sv->setup->n_features; f++)
        feature_equations(m, (long)f);
    state_tips(m);
    state_growth(m);
    state_tip_lengths(m);
    state_tool_lengths(m);
    state_setters(m);
    state_contacts(m);
    hold_chains(m);
}
