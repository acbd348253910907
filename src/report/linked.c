/* SPDX-License-Identifier: GPL-3.0-or-later */
/* linked.c: what came from the book: how much it was there, how sure, and from
 * when; and of a tool that was touched here as well, how the two agree. */
#include "linked.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* One thing of any kind. */
typedef struct linked {
    const char *kind; /* "tool" */
    char name[80];
    const char *what; /* "length" */
    const jaw_link *link;
    const jaw_tool_found *tool; /* NULL */
} linked;

typedef void (*put_one)(void *user, const linked *one);

static void each_tool(const jaw_setup *setup, const jaw_solution *solution,
                      put_one put, void *user)
{
    size_t n, m;
    const jaw_tool_entry *e = jaw_setup_tools(setup, &n);
    const jaw_tool_found *found = jaw_solution_tools(solution, &m);

    for (size_t i = 0; i < n; i++) {
        linked one = {.kind = "tool", .what = "length", .link = &e[i].link,
                      .tool = i < m ? &found[i] : NULL};
        if (!e[i].link.wanted)
            continue;
        snprintf(one.name, sizeof one.name, "%d", e[i].number);
        put(user, &one);
    }
}

static void each(const jaw_setup *setup, const jaw_solution *solution,
                 put_one put, void *user)
{
    size_t n;

    each_tool(setup, solution, put, user);
    const jaw_setter_entry *s = jaw_setup_setters(setup, &n);
    for (size_t i = 0; i < n; i++) {
        linked one = {.kind = "setter", .link = &s[i].link,
                      .what = s[i].on ? "thickness" : "top"};
        snprintf(one.name, sizeof one.name, "%s", s[i].name);
        if (s[i].link.wanted)
            put(user, &one);
    }
    const jaw_tip_entry *t = jaw_setup_tips(setup, &n);
    for (size_t i = 0; i < n; i++) {
        linked one = {.kind = "tip", .what = "diameter", .link = &t[i].link};
        snprintf(one.name, sizeof one.name, "%s", t[i].name);
        if (t[i].link.wanted)
            put(user, &one);
    }
}

/* -------------------------------------------------------------------- text */

static void put_since(jaw__page *p, const jaw_tool_found *tool)
{
    if (tool == NULL || isnan(tool->since))
        return;
    jaw__buffer_printf(&p->b, "  %-24s", "  as touched here");
    jaw__put_fine(&p->b, p->scale, fabs(tool->since), 0);
    jaw__buffer_printf(&p->b, " %s; up to ",
                       tool->since < 0 ? "shorter" : "longer");
    jaw__put_fine(&p->b, p->scale, tool->since_limit, 0);
    jaw__buffer_text(&p->b, " is noise\n");
}

static void put_line(void *user, const linked *one)
{
    jaw__page *p = user;
    char at[32];
    size_t before = p->b.len;

    jaw__buffer_printf(&p->b, "  %s ", one->kind);
    jaw__buffer_clean(&p->b, one->name, strlen(one->name));
    size_t column = p->b.len - before;
    jaw__buffer_printf(&p->b, "%*s  %-9s",
                       column < 18 ? 18 - (int)column : 0, "", one->what);
    jaw__put_fine(&p->b, p->scale, one->link->value, 11);
    jaw__buffer_text(&p->b, "  ");
    if (isnan(one->link->half95)) {
        jaw__buffer_text(&p->b, "how sure is not known");
    } else if (one->link->half95 == 0) {
        jaw__buffer_text(&p->b, "taken as exact");
    } else {
        jaw__buffer_text(&p->b, "+- ");
        jaw__put_fine(&p->b, p->scale, one->link->half95, 0);
    }
    if (jaw_time_write(one->link->at, at, sizeof at) == JAW_OK)
        jaw__buffer_printf(&p->b, "   %s, entry %lld\n", at,
                           one->link->entry);
    put_since(p, one->tool);
}

void jaw__put_linked(jaw__page *p)
{
    each(p->setup, p->solution, put_line, p);
}

/* -------------------------------------------------------------------- JSON */

typedef struct object_list {
    json_t *array;
    jaw_unit unit;
    bool *failed;
} object_list;

static void push_one(void *user, const linked *one)
{
    object_list *all = user;
    json_t *o = json_object();
    const jaw_link *link = one->link;
    const char *holder = link->holder ? link->holder : "";
    bool *failed = all->failed;

    if (all->array == NULL)
        all->array = json_array();
    jaw__json_put(o, "kind", jaw__json_text(one->kind), failed);
    jaw__json_put(o, "name", jaw__json_text(one->name), failed);
    if (one->tool != NULL)
        jaw__json_put(o, "holder", jaw__json_text(holder), failed);
    jaw__json_put(o, "what", jaw__json_text(one->what), failed);
    jaw__json_put(o, "entry", json_integer((json_int_t)link->entry), failed);
    jaw__json_put(o, "at_ms", json_integer((json_int_t)link->at), failed);
    jaw__json_put(o, "value", jaw__json_length(link->value, all->unit),
                  failed);
    jaw__json_put(o, "u", jaw__json_length(link->u, all->unit), failed);
    jaw__json_put(o, "dof", jaw__json_real(link->dof), failed);
    jaw__json_put(o, "half95", jaw__json_length(link->half95, all->unit),
                  failed);
    if (one->tool != NULL) {
        jaw__json_put(o, "touched_less_book",
                      jaw__json_length(one->tool->since, all->unit), failed);
        jaw__json_put(o, "noise",
                      jaw__json_length(one->tool->since_limit, all->unit),
                      failed);
    }
    jaw__json_push(all->array, o, failed);
}

json_t *jaw__json_linked(const jaw_setup *setup, const jaw_solution *solution,
                         bool *failed)
{
    object_list all = {NULL, jaw_setup_control(setup)->unit, failed};

    each(setup, solution, push_one, &all);
    return all.array;
}
