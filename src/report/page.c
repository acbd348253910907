/* SPDX-License-Identifier: GPL-3.0-or-later */
/* page.c: headings of the page to read, and the values that its parts go
 * through. */
#include "page.h"

#include <stdio.h>

void jaw__page_heading(jaw__page *p, const char *text)
{
    jaw__buffer_text(&p->b, "\n");
    jaw__buffer_colour(&p->b, p->style.colour, "1");
    jaw__buffer_text(&p->b, text);
    jaw__buffer_colour(&p->b, p->style.colour, NULL);
    jaw__buffer_text(&p->b, "\n");
}

bool jaw__page_under(jaw__page *p, const char *heading,
                     void (*lines)(jaw__page *p))
{
    size_t before = p->b.len;
    jaw__page_heading(p, heading);
    size_t head = p->b.len;
    lines(p);
    if (p->b.len > head)
        return true;
    jaw__buffer_cut(&p->b, before);
    return false;
}

static void put_zero_values(jaw__page *p, const jaw_zero_found *z,
                            void (*put)(jaw__page *p, const jaw__page_value *v))
{
    static const char *const word[JAW_AXES + 1] = {"X", "Y", "Z", "turn"};

    for (int a = 0; a <= JAW_AXES; a++) {
        bool turn = a == JAW_AXES;
        jaw__page_value v = {.trust = turn ? &z->turn_trust : &z->trust[a],
                             .next = turn ? &z->turn_next : &z->next[a],
                             .angle = turn};
        snprintf(v.name, sizeof v.name, "%s %s", z->name, word[a]);
        put(p, &v);
    }
}

void jaw__page_values(jaw__page *p,
                      void (*put)(jaw__page *p, const jaw__page_value *v))
{
    size_t n;
    const jaw_zero_found *z = jaw_solution_zeros(p->solution, &n);

    for (size_t i = 0; i < n; i++)
        put_zero_values(p, &z[i], put);
    const jaw_tool_found *t = jaw_solution_tools(p->solution, &n);
    for (size_t i = 0; i < n; i++) {
        jaw__page_value v = {.trust = &t[i].trust,
                             .said_above = t[i].flags & JAW_NO_CHECK};
        snprintf(v.name, sizeof v.name, "tool %d", t[i].number);
        put(p, &v);
    }
}
