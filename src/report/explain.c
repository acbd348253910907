/* SPDX-License-Identifier: GPL-3.0-or-later */
/* explain.c: how each value came about, step by step, and what its uncertainty
 * is made of (JCGM 100, clause 7: enough to do the sum again). */
#include "page.h"

#include <math.h>
#include <string.h>

typedef jaw__page page;

static void put(page *p, const char *text)
{
    jaw__buffer_text(&p->b, text);
}

/* -------------------------------------------------------------------- steps */

static void put_step(page *p, const jaw_step *step)
{
    enum { TEXT = 61 };
    jaw__buffer_printf(&p->b, "    %-*s", TEXT, step->text);
    if (strlen(step->text) > TEXT) {
        put(p, "\n");
        jaw__buffer_pad(&p->b, 4 + TEXT);
    }
    if (step->quantity == JAW_ANGLE) {
        jaw__buffer_number(&p->b, jaw_deg(step->value), 5, 11);
        put(p, " deg\n");
        return;
    }
    jaw__put_fine(&p->b, p->scale, step->value, 11);
    put(p, "\n");
}

static void put_step_lines(page *p)
{
    size_t n;
    const jaw_zero_found *zeros = jaw_solution_zeros(p->solution, &n);
    for (size_t i = 0; i < n; i++) {
        if (zeros[i].n_steps == 0)
            continue;
        jaw__buffer_printf(&p->b, "  %s\n", zeros[i].name);
        for (size_t k = 0; k < zeros[i].n_steps; k++)
            put_step(p, &zeros[i].steps[k]);
    }
    const jaw_tool_found *tools = jaw_solution_tools(p->solution, &n);
    for (size_t i = 0; i < n; i++) {
        if (tools[i].n_steps == 0)
            continue;
        jaw__buffer_printf(&p->b, "  tool %d\n", tools[i].number);
        for (size_t k = 0; k < tools[i].n_steps; k++)
            put_step(p, &tools[i].steps[k]);
    }
}

/* ------------------------------------------------------------ uncertainties */

/* In the value's own unit, with the decimals of what stands behind +-, and one
 * more: shares are small. */
static void put_share(page *p, double u, bool angle, int width)
{
    int angle_decimals = jaw_step_decimals(jaw_deg(p->control->angle_step));
    if (angle)
        jaw__buffer_number(&p->b, jaw_deg(u), angle_decimals + 1, width);
    else
        jaw__buffer_number(&p->b, u / jaw_unit_mm(p->scale.unit),
                           p->scale.decimals + 2, width);
}

static void put_budget_head(page *p, const char *name,
                            const jaw_value_trust *t, bool angle)
{
    jaw__buffer_printf(&p->b, "  %-10s u ", name);
    put_share(p, t->u, angle, 0);
    jaw__buffer_printf(&p->b, "%s, times ", angle ? " deg" : "");
    jaw__buffer_number(&p->b, t->half95 / t->u, 2, 0);
    put(p, " is +- ");
    put_share(p, t->half95, angle, 0);
    put(p, "; dof ");
    if (isinf(t->dof))
        put(p, "no limit");
    else
        jaw__buffer_number(&p->b, t->dof, 1, 0);
    put(p, "\n");
}

static void put_budget_line(page *p, const jaw_budget_line *line, double u,
                            bool angle)
{
    enum { TEXT = 50, PARTS = 100 };
    double parts = PARTS * (line->u / u) * (line->u / u);
    size_t len = strlen(line->text);
    jaw__buffer_pad(&p->b, 4);
    jaw__buffer_clean(&p->b, line->text, len);
    if (len > TEXT) {
        put(p, "\n");
        len = 0;
        jaw__buffer_pad(&p->b, 4);
    }
    jaw__buffer_pad(&p->b, TEXT - len);
    put_share(p, line->u, angle, 12);
    jaw__buffer_number(&p->b, parts, 1, 8);
    put(p, " %");
    if (!isinf(line->dof)) {
        put(p, "  dof ");
        jaw__buffer_number(&p->b, line->dof, 1, 0);
    }
    put(p, "\n");
}

/* Lines that would show as 0 are summed up in one, so that what is printed
 * adds up to u; unless that shows as 0 as well. */
static void put_budget(page *p, const jaw__page_value *v)
{
    const jaw_value_trust *t = v->trust;
    bool angle = v->angle;
    double least = angle ? p->control->angle_step / 20
                         : p->control->step / 200;
    jaw_budget_line rest = {.text = "what is smaller, together",
                            .dof = (double)INFINITY};
    if (!(t->u > 0))
        return;
    put_budget_head(p, v->name, t, angle);
    for (size_t i = 0; i < t->n_budget; i++) {
        if (t->budget[i].u >= least)
            put_budget_line(p, &t->budget[i], t->u, angle);
        else
            rest.u = hypot(rest.u, t->budget[i].u);
    }
    if (rest.u >= least)
        put_budget_line(p, &rest, t->u, angle);
}

static void put_budget_lines(page *p)
{
    jaw__page_values(p, put_budget);
}

void jaw__page_explain(jaw__page *p)
{
    jaw__page_under(p, "How each value came about", put_step_lines);
    jaw__page_under(p, "What each +- is made of (squares add up to that of u)",
              put_budget_lines);
}
