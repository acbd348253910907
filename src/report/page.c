/* SPDX-License-Identifier: GPL-3.0-or-later */
/* page.c: headings of the page to read. */
#include "page.h"

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
