/* SPDX-License-Identifier: GPL-3.0-or-later */
/* heights.c: surfaces, setters, blocks, tips and tools as one chain of heights.
 *
 * With u = -L each contact is a difference of two unknowns,
 *     z - u = reading - between,
 * as in a level net (Baarda 1968), and so is a setter that stands on a face,
 *     z(setter) - z(face) = height.
 * A stated length or top ties its node to the ground, the machine's own zero.
 * Which values can be known at all is then a question of what is connected
 * with what, and is answered exactly, before any number is solved for: a chain
 * without ground still knows differences, and those are all that two of the
 * three length conventions need.
 *
 * The least-squares solution is by Householder QR of the incidence matrix; it
 * has full rank because every chain is connected and one node of it is held.
 *
 * A statement is judged by its standardised residual v / (sigma sqrt(r)), r its
 * share of redundancy (Baarda 1968).  What is told is v / r: how far it lies
 * from what the others say without it. */
#include "solve.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

enum { GROUND = -1 };

/* value = node(to) - node(from), weight 1 / variance (mm^-2). */
typedef struct statement {
    long from, to;
    double value, weight;
    bool checked; /* others lead from one of its ends to the other */
} statement;

typedef struct height_net {
    jaw__solver *sv;
    statement *s;
    size_t n, room;
    size_t *parent; /* forest of chains; the last one is the ground */
    size_t *column; /* of each node among the unknowns; SIZE_MAX: held */
    int *spare;     /* of each chain, by its root: statements less unknowns */
    size_t *walk;   /* room for find_checked */
} height_net;

/* ---------------------------------------------------------------- collecting */

static void state(height_net *net, long from, long to, double value, double sigma,
                  double count)
{
    statement *s = jaw__grow(net->s, net->n, &net->room, sizeof *s);

    if (s == NULL) {
        net->sv->no_memory = true;
        return;
    }
    net->s = s;
    s[net->n++] = (statement){from, to, value, count / (sigma * sigma), false};
}

static double spread_of(double known)
{
    return known > 0 ? known : JAW_REPEAT_DEFAULT;
}

/* Node of a surface by name, or JAW__NOWHERE with the message given. */
static long surface_node(jaw__solver *sv, const char *name, jaw_place place)
{
    size_t node;

    if (jaw__surface_node(sv, name, &node))
        return (long)node;
    jaw__text hint = jaw__surface_hint(sv->setup, name);
    jaw__tell(sv, SAY_SURFACE_UNKNOWN, place, hint.s, name);
    return JAW__NOWHERE;
}

/* Counted from a surface it is like a contact with it: z - u = length. */
static void state_tool(height_net *net, size_t i)
{
    const jaw_tool_entry *e = &net->sv->setup->tools[i];
    long node = (long)jaw__tool_node(net->sv, i);
    double sigma = spread_of(e->length_known);

    if (isnan(e->length))
        return;
    if (e->above == NULL) {
        state(net, GROUND, node, -e->length, sigma, 1);
        return;
    }
    long surface = surface_node(net->sv, e->above, e->link.place);
    if (surface != JAW__NOWHERE)
        state(net, node, surface, e->length, sigma, 1);
}

static void state_lengths(height_net *net)
{
    const jaw_setup *setup = net->sv->setup;

    for (size_t i = 0; i < setup->n_tips; i++) {
        const jaw_tip_entry *e = &setup->tips[i];
        if (!isnan(e->tip.length))
            state(net, GROUND, (long)jaw__tip_node(net->sv, i),
                  -e->tip.length, spread_of(e->length_known), 1);
    }
    for (size_t i = 0; i < setup->n_tools; i++)
        state_tool(net, i);
}

/* The height that a feature has by itself, and how many touches it is worth. */
static bool seen_height(const jaw_found *found, double *z, double *count)
{
    switch (found->kind) {
    case JAW_FACE:
        *z = found->as.face.point.z;
        *count = (double)found->n;
        return true;
    case JAW_BALL:
        *z = found->as.ball.centre.z;
        *count = 1 / found->as.ball.q_height;
        return true;
    case JAW_BAR:
        *z = found->as.bar.point.z;
        *count = 1 / found->as.bar.q_height;
        return true;
    default: return false;
    }
}

/* The fitted height of a face, ball or bar is what its touches say together. */
static void state_faces(height_net *net)
{
    const jaw_setup *setup = net->sv->setup;
    double z, count;

    for (size_t f = 0; f < setup->n_features; f++) {
        const jaw_found *found = &net->sv->out->features[f];
        long tip = jaw__find_tip(setup, setup->features[f].tip);
        if (found->status != JAW_OK || tip == JAW__NOWHERE ||
            !seen_height(found, &z, &count))
            continue;
        state(net, (long)jaw__tip_node(net->sv, (size_t)tip), (long)f,
              z, found->repeat, count);
    }
}

static void state_setters(height_net *net)
{
    const jaw_setup *setup = net->sv->setup;

    for (size_t i = 0; i < setup->n_setters; i++) {
        const jaw_setter_entry *e = &setup->setters[i];
        long node = (long)jaw__setter_node(net->sv, i);
        if (!isnan(e->top))
            state(net, GROUND, node, e->top, spread_of(e->top_known), 1);
        if (e->on == NULL)
            continue;
        long below = surface_node(net->sv, e->on, e->on_place);
        if (below == node)
            jaw__tell(net->sv, SAY_ON_ITSELF, e->on_place, NULL, e->name);
        else if (below != JAW__NOWHERE)
            state(net, below, node, e->height, spread_of(e->height_known), 1);
    }
}

static void say_tool_unknown(jaw__solver *sv, int number, jaw_place place)
{
    char text[16];

    snprintf(text, sizeof text, "%d", number);
    jaw__tell(sv, SAY_TOOL_UNKNOWN, place, text, number);
}

/* Node of what was brought down on the surface, with its paper and repeat. */
static long contact_node(jaw__solver *sv, const jaw_contact_entry *e,
                         double *paper, double *repeat)
{
    *paper = 0;
    *repeat = JAW_REPEAT_DEFAULT;
    if (e->tool != 0) {
        long tool = jaw__find_tool(sv->setup, e->tool);
        if (tool == JAW__NOWHERE) {
            say_tool_unknown(sv, e->tool, e->place);
            return JAW__NOWHERE;
        }
        return (long)jaw__tool_node(sv, (size_t)tool);
    }
    long tip = jaw__find_tip(sv->setup, e->tip);
    if (tip == JAW__NOWHERE) {
        jaw__text hint = jaw__tip_hint(sv->setup, e->tip);
        jaw__tell(sv, SAY_TIP_UNKNOWN, e->place, hint.s, e->tip);
        return JAW__NOWHERE;
    }
    *paper = jaw_tip_end(&sv->setup->tips[tip].tip);
    *repeat = jaw__repeat_of(&sv->setup->tips[tip].tip);
    return (long)jaw__tip_node(sv, (size_t)tip);
}

/* Said once of tools, which have no field for it, and once of a tip. */
static void say_repeat(jaw__solver *sv, const jaw_contact_entry *e)
{
    long tip = e->tool != 0 ? JAW__NOWHERE : jaw__find_tip(sv->setup, e->tip);
    jaw__text taken = jaw__fine_text(sv, JAW_REPEAT_DEFAULT);

    if (e->tool != 0 && !sv->tool_said) {
        jaw__tell(sv, SAY_TOOL_REPEAT, e->place, NULL, taken.s);
        sv->tool_said = true;
    } else if (tip != JAW__NOWHERE && !sv->repeat_said[tip] &&
               isnan(sv->setup->tips[tip].tip.repeat)) {
        jaw__tell(sv, SAY_REPEAT_DEFAULT, sv->setup->tips[tip].place, NULL,
                  e->tip, taken.s);
        sv->repeat_said[tip] = true;
    }
}

static void state_contacts(height_net *net)
{
    const jaw_setup *setup = net->sv->setup;
    double paper, repeat;

    for (size_t i = 0; i < setup->n_contacts; i++) {
        const jaw_contact_entry *e = &setup->contacts[i];
        long from = contact_node(net->sv, e, &paper, &repeat);
        long to = surface_node(net->sv, e->surface, e->surface_place);
        if (from == JAW__NOWHERE || to == JAW__NOWHERE)
            continue;
        state(net, from, to, e->reading - e->between - paper, repeat, 1);
        say_repeat(net->sv, e);
    }
}

/* A tip that says it is a tool which is not there was mistyped, and so was a
 * reference tool. */
static void check_tip_tools(jaw__solver *sv)
{
    const jaw_control *control = &sv->setup->control;

    if (control->lengths == JAW_REFERENCE_TOOL &&
        jaw__find_tool(sv->setup, control->reference) == JAW__NOWHERE)
        say_tool_unknown(sv, control->reference, (jaw_place){0});
    for (size_t i = 0; i < sv->setup->n_tips; i++) {
        const jaw_tip_entry *e = &sv->setup->tips[i];
        if (e->tool != 0 && jaw__find_tool(sv->setup, e->tool) == JAW__NOWHERE)
            say_tool_unknown(sv, e->tool, e->place);
    }
}

/* -------------------------------------------------------------------- chains */

static size_t root_of(height_net *net, size_t i)
{
    while (net->parent[i] != i) {
        net->parent[i] = net->parent[net->parent[i]];
        i = net->parent[i];
    }
    return i;
}

static size_t end_of(const height_net *net, long node)
{
    return node == GROUND ? net->sv->n_nodes : (size_t)node;
}

static void join_chains(height_net *net)
{
    for (size_t i = 0; i <= net->sv->n_nodes; i++)
        net->parent[i] = i;
    for (size_t k = 0; k < net->n; k++) {
        size_t a = root_of(net, end_of(net, net->s[k].from));
        size_t b = root_of(net, end_of(net, net->s[k].to));
        if (a != b)
            net->parent[a] = b;
    }
}

/* One node of each chain is held at 0: the ground where it belongs to one,
 * else the chain's root.  All others become unknowns. */
static size_t number_unknowns(height_net *net)
{
    size_t ground = root_of(net, net->sv->n_nodes), unknowns = 0;

    for (size_t i = 0; i < net->sv->n_nodes; i++) {
        jaw__node *node = &net->sv->nodes[i];
        node->chain = root_of(net, i);
        node->grounded = node->chain == ground;
        bool held = !node->grounded && node->chain == i;
        net->column[i] = held ? SIZE_MAX : unknowns++;
    }
    return unknowns;
}

/* What was said about each node, and how much of it is spare in its chain. */
static void count_statements(height_net *net)
{
    jaw__node *nodes = net->sv->nodes;

    for (size_t k = 0; k < net->n; k++) {
        net->spare[nodes[net->s[k].to].chain]++;
        nodes[net->s[k].to].n_obs++;
        if (net->s[k].from != GROUND)
            nodes[net->s[k].from].n_obs++;
    }
    for (size_t i = 0; i < net->sv->n_nodes; i++)
        if (net->column[i] != SIZE_MAX)
            net->spare[nodes[i].chain]--;
    for (size_t i = 0; i < net->sv->n_nodes; i++)
        nodes[i].dof = net->spare[nodes[i].chain];
}

/* --------------------------------------------------------- what has a check */

/* A statement is checked when the two ends stay connected without it.  One that
 * is a bridge of its chain has redundancy 0 (Baarda 1968): its residual is 0
 * whatever was typed, which is no evidence.  Bridges by depth first search:
 * Tarjan, SIAM J. Comput. 1 (1972) 146-160, without recursion. */
typedef struct walk {
    size_t *head;  /* first half-statement at each node */
    size_t *next;  /* next one at the same node; 2 k and 2 k + 1 are the two
                      halves of statement k */
    size_t *order; /* when the node was reached; 0: not yet */
    size_t *low;   /* earliest node that is reached from below it */
    size_t *stack, *by; /* nodes on the way, and the half that led there */
} walk;

static walk walk_in(const height_net *net)
{
    size_t nodes = net->sv->n_nodes + 1, *at = net->walk;
    walk w = {.head = at, .order = at + nodes, .low = at + 2 * nodes};

    w.stack = at + 3 * nodes;
    w.by = at + 4 * nodes;
    w.next = at + 5 * nodes;
    return w;
}

/* The node at the other end of a half-statement. */
static size_t far_end(const height_net *net, size_t half)
{
    const statement *s = &net->s[half / 2];

    return end_of(net, half % 2 == 0 ? s->to : s->from);
}

static void hang_halves(const height_net *net, walk *w)
{
    for (size_t i = 0; i <= net->sv->n_nodes; i++) {
        w->head[i] = SIZE_MAX;
        w->order[i] = 0;
    }
    for (size_t half = 0; half < 2 * net->n; half++) {
        size_t node = far_end(net, half ^ 1);
        w->next[half] = w->head[node];
        w->head[node] = half;
    }
}

/* Back from the node on top to the one before it. */
static void step_back(height_net *net, walk *w, size_t depth)
{
    size_t below = w->stack[depth], node = w->stack[depth - 1];

    if (w->low[below] < w->low[node])
        w->low[node] = w->low[below];
    net->s[w->by[depth] / 2].checked = w->low[below] <= w->order[node];
}

static size_t visit(walk *w, size_t depth, size_t node, size_t by,
                    size_t *reached)
{
    w->stack[depth] = node;
    w->by[depth] = by;
    w->order[node] = w->low[node] = ++*reached;
    return depth + 1;
}

static void walk_chain(height_net *net, walk *w, size_t start,
                       size_t *reached)
{
    size_t depth = visit(w, 0, start, SIZE_MAX, reached);

    while (depth > 0) {
        size_t node = w->stack[depth - 1], half = w->head[node];
        if (half == SIZE_MAX) {
            depth--;
            if (depth > 0)
                step_back(net, w, depth);
            continue;
        }
        w->head[node] = w->next[half];
        size_t to = far_end(net, half);
        if (w->by[depth - 1] != SIZE_MAX && half == (w->by[depth - 1] ^ 1))
            continue; /* the way we came */
        if (w->order[to] == 0) {
            depth = visit(w, depth, to, half, reached);
            continue;
        }
        net->s[half / 2].checked = true; /* it closes a ring */
        if (w->order[to] < w->low[node])
            w->low[node] = w->order[to];
    }
}

static void find_checked(height_net *net)
{
    walk w = walk_in(net);
    size_t reached = 0;

    hang_halves(net, &w);
    for (size_t i = 0; i <= net->sv->n_nodes; i++)
        if (w.order[i] == 0)
            walk_chain(net, &w, i, &reached);
}

/* ------------------------------------------------------------------- solving */

static void fill_matrix(const height_net *net, gsl_matrix *a, gsl_vector *b)
{
    gsl_matrix_set_zero(a);
    for (size_t k = 0; k < net->n; k++) {
        const statement *s = &net->s[k];
        double root = sqrt(s->weight);
        if (s->from != GROUND && net->column[s->from] != SIZE_MAX)
            gsl_matrix_set(a, k, net->column[s->from], -root);
        if (net->column[s->to] != SIZE_MAX)
            gsl_matrix_set(a, k, net->column[s->to], root);
        gsl_vector_set(b, k, root * s->value);
    }
}

/* The share of a statement that the others check: 1 - |R^-T a|^2 with a its
 * row of the weighted matrix; y is room for that row. */
static double redundancy(const height_net *net, const statement *s,
                         const gsl_matrix *r, gsl_vector *y)
{
    double root = sqrt(s->weight);

    gsl_vector_set_zero(y);
    if (s->from != GROUND && net->column[s->from] != SIZE_MAX)
        gsl_vector_set(y, net->column[s->from], -root);
    if (net->column[s->to] != SIZE_MAX)
        gsl_vector_set(y, net->column[s->to], root);
    gsl_blas_dtrsv(CblasUpper, CblasTrans, CblasNonUnit, r, y);
    double norm = gsl_blas_dnrm2(y);
    return 1 - norm * norm;
}

/* A share lost in rounding belongs to a statement far surer than the others in
 * its ring; those show the conflict. */
static void take_residual(jaw__node *node, double off, double share,
                          double weight)
{
    node->n_checked++;
    node->ssr += off * off;
    if (share > 1e-12 && fabs(off) * sqrt(weight / share) > JAW__DOUBTFUL)
        node->worst = fmax(node->worst, fabs(off) / share);
}

static void take_residuals(const height_net *net, const gsl_matrix *qr,
                           gsl_vector *y)
{
    jaw__node *nodes = net->sv->nodes;
    gsl_matrix_const_view r =
        gsl_matrix_const_submatrix(qr, 0, 0, y->size, y->size);

    for (size_t k = 0; k < net->n; k++) {
        const statement *s = &net->s[k];
        if (!s->checked)
            continue;
        double low = s->from == GROUND ? 0 : nodes[s->from].value;
        double off = nodes[s->to].value - low - s->value;
        double share = redundancy(net, s, &r.matrix, y);
        take_residual(&nodes[s->to], off, share, s->weight);
        if (s->from != GROUND)
            take_residual(&nodes[s->from], off, share, s->weight);
    }
}

/* All views stand on memory of our own, so GSL allocates nothing and its
 * error handler has nothing to say: n >= unknowns and full rank hold because
 * every chain is connected. */
static bool solve_unknowns(height_net *net, size_t unknowns)
{
    size_t n = net->n;

    if (unknowns == 0)
        return true;
    double *room = calloc(n * unknowns + 2 * n + 2 * unknowns, sizeof *room);
    if (room == NULL)
        return false;
    gsl_matrix_view a = gsl_matrix_view_array(room, n, unknowns);
    gsl_vector_view b = gsl_vector_view_array(room + n * unknowns, n);
    gsl_vector_view r = gsl_vector_view_array(room + n * unknowns + n, n);
    double *at = room + n * unknowns + 2 * n;
    gsl_vector_view tau = gsl_vector_view_array(at, unknowns);
    gsl_vector_view x = gsl_vector_view_array(at + unknowns, unknowns);
    fill_matrix(net, &a.matrix, &b.vector);
    gsl_linalg_QR_decomp(&a.matrix, &tau.vector);
    gsl_linalg_QR_lssolve(&a.matrix, &tau.vector, &b.vector, &x.vector,
                          &r.vector);
    for (size_t i = 0; i < net->sv->n_nodes; i++)
        net->sv->nodes[i].value =
            net->column[i] == SIZE_MAX
                ? 0
                : gsl_vector_get(&x.vector, net->column[i]);
    take_residuals(net, &a.matrix, &x.vector);
    free(room);
    return true;
}

/* Said at tools by tools.c; here for faces and setters. */
static void judge_surfaces(jaw__solver *sv)
{
    const jaw_setup *setup = sv->setup;

    for (size_t i = 0; i < setup->n_features + setup->n_setters; i++) {
        const jaw__node *node = &sv->nodes[i];
        bool setter = i >= setup->n_features;
        if (node->worst == 0)
            continue;
        jaw__tell(sv, SAY_HEIGHT_CONFLICT,
                 setter ? setup->setters[i - setup->n_features].place
                        : setup->features[i].place,
                 NULL,
                 setter ? setup->setters[i - setup->n_features].name
                        : setup->features[i].name,
                 jaw__length_text(sv, node->worst).s);
    }
}

void jaw__solve_heights(jaw__solver *sv)
{
    height_net net = {.sv = sv};
    size_t nodes = sv->n_nodes + 1;

    check_tip_tools(sv);
    state_lengths(&net);
    state_faces(&net);
    state_setters(&net);
    state_contacts(&net);
    net.parent = malloc(nodes * sizeof *net.parent);
    net.column = malloc(nodes * sizeof *net.column);
    net.spare = calloc(nodes, sizeof *net.spare);
    net.walk = calloc(5 * nodes + 2 * net.n, sizeof *net.walk);
    if (net.parent == NULL || net.column == NULL || net.spare == NULL ||
        net.walk == NULL)
        sv->no_memory = true;
    if (!sv->no_memory) {
        join_chains(&net);
        size_t unknowns = number_unknowns(&net);
        count_statements(&net);
        find_checked(&net);
        if (!solve_unknowns(&net, unknowns))
            sv->no_memory = true;
    }
    free(net.s);
    free(net.parent);
    free(net.column);
    free(net.spare);
    free(net.walk);
    if (!sv->no_memory)
        judge_surfaces(sv);
}
