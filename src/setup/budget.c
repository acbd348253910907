/* SPDX-License-Identifier: GPL-3.0-or-later */
/* budget.c: what the uncertainty of a value is made of (JCGM 100, 5.1.2 and
 * clause 7): every equation moves a value by its influence, and the errors of
 * different equations are independent, so the squares of what each source adds
 * sum up to the square of the whole. */
#include "worth.h"

#include <jawline/trust.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ------------------------------------------------------------------- sources */

static size_t count_of(const jaw_setup *setup, jaw__source source)
{
    const size_t features = setup->n_features, tools = setup->n_tools,
                 tips = setup->n_tips, setters = setup->n_setters,
                 none = 1;

    switch (source) {
#define COUNT(id, of, before, after) case id: return of;
        JAW__SOURCE_LIST(COUNT)
#undef COUNT
    default: return 0;
    }
}

bool jaw__budget_start(jaw__worth *w)
{
    size_t n = 0;

    for (int s = 0; s < JAW__SOURCES; s++) {
        w->first[s] = n;
        n += count_of(w->sv->setup, (jaw__source)s);
    }
    w->first[JAW__SOURCES] = n;
    w->sums = calloc(n, sizeof *w->sums);
    w->order = calloc(n, sizeof *w->order);
    return w->sums != NULL && w->order != NULL;
}

static void add(jaw__worth *w, jaw__source source, size_t of, double variance)
{
    w->sums[w->first[source] + of] += variance;
}

/* Whether its sigma is multiplied by the spread that was seen. */
static bool grows(const jaw__worth *w, const jaw__origin *o)
{
    switch (w->grown) {
    case JAW__SHOWN: return o->shown;
    case JAW__HANDS: return jaw__is_by_hand(o->source);
    default: return true; /* by 1, where none is */
    }
}

double jaw__times(const jaw__worth *w, const jaw__origin *o)
{
    return grows(w, o) ? w->scale : 1;
}

static void add_recorded(jaw__recorded *b, const jaw__origin *o, double u)
{
    double seen = fmin(u * o->seen / o->sigma, u);

    b->variance += seen * seen;
    b->u4 += pow(seen, 4) / o->seen_dof;
    if (b->n < JAW__RECORDED_PARTS) {
        b->u[b->n] = seen;
        b->dof[b->n++] = o->seen_dof;
        return;
    }
    double *last = &b->u[b->n - 1], *free = &b->dof[b->n - 1];
    double two[] = {*last, seen}, dof[] = {*free, o->seen_dof};
    *last = hypot(two[0], two[1]);
    *free = jaw_trust_effective_dof(two, dof, 2);
}

double jaw__budget_sum(jaw__worth *w)
{
    double known = 0;

    w->recorded = (jaw__recorded){.n = 0};
    for (size_t k = 0; k < w->first[JAW__SOURCES]; k++)
        w->sums[k] = 0;
    for (size_t i = 0; i < w->j->n_origins; i++) {
        const jaw__origin *o = &w->j->origins[i];
        double moved = jaw_adjust_influence(w->j->adjust, i, w->f) *
                       jaw__times(w, o);
        bool follows = fabs(moved) > JAW__FOLLOWS; /* else it is rounding */
        double typed = moved * o->typed, all = moved * o->sigma;
        if (o->typed > 0)
            add(w, JAW__FROM_PLACES, o->of, typed * typed);
        add(w, o->source, o->of, fmax(0, all * all - typed * typed));
        if (grows(w, o) && w->grown != JAW__NONE)
            continue;
        if (w->grown != JAW__NONE)
            known += all * all;
        if (o->seen > 0 && follows)
            add_recorded(&w->recorded, o, fabs(all));
    }
    return known;
}

/* --------------------------------------------------------------------- lines */

static jaw__source source_of(const jaw__worth *w, size_t k)
{
    int s = 0;

    while (k >= w->first[s + 1])
        s++;
    return (jaw__source)s;
}

enum { none, features, tools, tips, setters };

/* What a budget calls each source. */
static const struct {
    int of;
    const char *before, *after;
} words[] = {
#define WORDS(id, of, before, after) [id] = {of, before, after},
    JAW__SOURCE_LIST(WORDS)
#undef WORDS
};

static jaw__text name_of(const jaw_setup *setup, int of, size_t i)
{
    jaw__text t = {""};

    if (of == tools)
        snprintf(t.s, sizeof t.s, "%d", setup->tools[i].number);
    else if (of != none)
        snprintf(t.s, sizeof t.s, "'%.60s'",
                 of == features ? setup->features[i].name
                 : of == tips   ? setup->tips[i].name
                                : setup->setters[i].name);
    return t;
}

/* The record that a source stands on; NULL: none.  known: mm, of what it says;
 * of a tip, which has no seen share, 0. */
static const jaw_link *link_of(const jaw_setup *setup, jaw__source s, size_t of,
                               double *known)
{
    const jaw_link *link = NULL;

    *known = 0;
    if (s == JAW__FROM_TOOL_LENGTH) {
        link = &setup->tools[of].link;
        *known = setup->tools[of].length_known;
    } else if (s == JAW__FROM_TOP || s == JAW__FROM_HEIGHT) {
        link = &setup->setters[of].link;
        *known = s == JAW__FROM_TOP ? setup->setters[of].top_known
                                    : setup->setters[of].height_known;
    } else if (s == JAW__FROM_DIAMETER || s == JAW__FROM_REACH) {
        link = &setup->tips[of].link;
    }
    return link != NULL && link->wanted ? link : NULL;
}

/* "stated length of tool 3"; of a book "length of tool 3, from the book". */
static const char *line_text(jaw__worth *w, size_t k)
{
    jaw__source s = source_of(w, k);
    jaw__text name = name_of(w->sv->setup, words[s].of, k - w->first[s]);
    double known;
    const jaw_link *link = link_of(w->sv->setup, s, k - w->first[s], &known);
    char text[200];
    bool ok = true;

    snprintf(text, sizeof text, "%s%s%s%s",
             words[s].before + (link ? strlen("stated ") : 0), name.s,
             words[s].after, link ? ", from the book" : "");
    const char *copy = jaw__pool_text(&w->sv->out->names, text, &ok);
    w->sv->no_memory |= !ok;
    return copy;
}

/* Those that matter, largest first; alike to rounding: in the order of the
 * list.  Few are left, so that insertion will do. */
static size_t order_sums(jaw__worth *w, double least)
{
    size_t n = 0;

    for (size_t k = 0; k < w->first[JAW__SOURCES]; k++) {
        if (!(w->sums[k] > least))
            continue;
        size_t at = n++;
        for (; at > 0 &&
               w->sums[w->order[at - 1]] < w->sums[k] * (1 - 1e-9);
             at--)
            w->order[at] = w->order[at - 1];
        w->order[at] = k;
    }
    return n;
}

/* Less than a millionth of the whole: a hundred together say nothing. */
#define LINE_LEAST 1e-12

static bool stands_as_stated(const jaw__worth *w, jaw__source source, size_t of)
{
    if (w->grown == JAW__NONE || !jaw__is_by_hand(source))
        return w->grown != JAW__ALL;
    if (w->grown != JAW__SHOWN || source == JAW__FROM_TOOL)
        return false;
    return source == JAW__FROM_TOUCHES
               ? w->sv->out->features[of].repeat_stated
               : !isnan(w->sv->setup->tips[of].tip.repeat);
}

static double line_dof(const jaw__worth *w, jaw__source source, size_t of)
{
    double known;
    const jaw_link *link = link_of(w->sv->setup, source, of, &known);

    if (!stands_as_stated(w, source, of))
        return w->dof;
    return link != NULL && link->seen > 0 && known > 0
               ? link->seen_dof * pow(known / link->seen, 4)
               : (double)INFINITY;
}

/* The lines that are written next are those of this value. */
static bool begin_value(jaw_solution *out, jaw_value_trust *t)
{
    jaw__weighed *weighed = jaw__grow(out->weighed, out->n_weighed,
                                      &out->room_weighed, sizeof *weighed);

    if (weighed == NULL)
        return false;
    out->weighed = weighed;
    weighed[out->n_weighed++] = (jaw__weighed){t, out->n_budget};
    return true;
}

/* One more line, not yet written; NULL without memory, which is kept. */
static jaw_budget_line *one_more(jaw__worth *w)
{
    jaw_solution *out = w->sv->out;
    jaw_budget_line *lines = jaw__grow(out->budget, out->n_budget,
                                       &out->room_budget, sizeof *lines);

    if (lines == NULL) {
        w->sv->no_memory = true;
        return NULL;
    }
    out->budget = lines;
    return &lines[out->n_budget++];
}

void jaw__budget_write(jaw__worth *w, jaw_value_trust *t)
{
    jaw_solution *out = w->sv->out;
    size_t n = order_sums(w, LINE_LEAST * t->u * t->u);

    if (!begin_value(out, t)) {
        w->sv->no_memory = true;
        return;
    }
    for (size_t i = 0; i < n; i++) {
        size_t k = w->order[i];
        jaw__source s = source_of(w, k);
        jaw_budget_line *line = one_more(w);
        if (line == NULL)
            return;
        *line = (jaw_budget_line){
            .text = line_text(w, k),
            .u = sqrt(w->sums[k]),
            .dof = line_dof(w, s, k - w->first[s])};
        t->n_budget++;
    }
}

void jaw__budget_beside(jaw__worth *w, jaw_value_trust *t, double u,
                        double dof, const char *text)
{
    jaw_solution *out = w->sv->out;
    bool ok = t->n_budget > 0 || begin_value(out, t);
    const char *copy = jaw__pool_text(&out->names, text, &ok);
    jaw_budget_line *line = ok ? one_more(w) : NULL;

    if (line == NULL) {
        w->sv->no_memory = true;
        return;
    }
    for (size_t k = t->n_budget++; k > 0 && line[-1].u < u; k--, line--)
        *line = line[-1];
    *line = (jaw_budget_line){.text = copy, .u = u, .dof = dof};
}

/* The array has grown meanwhile.  Of a value that was weighed anew the last
 * lines stand. */
void jaw__budget_hand_out(jaw_solution *out)
{
    for (size_t i = 0; i < out->n_weighed && out->budget != NULL; i++)
        out->weighed[i].of->budget = out->budget + out->weighed[i].first;
}
