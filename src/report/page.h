/* SPDX-License-Identifier: GPL-3.0-or-later */
/* page.h: the page to read while it is being written, shared by text.c (values
 * and how good they are) and explain.c (how they came about). */
#ifndef JAW__REPORT_PAGE_H
#define JAW__REPORT_PAGE_H

#include "parts.h"

typedef struct jaw__page {
    jaw__buffer b;
    const jaw_setup *setup;
    const jaw_solution *solution;
    const jaw_notes *notes;
    const jaw_control *control;
    jaw__scale scale;
    jaw_report_style style;
    const jaw_next *next, *first; /* a touch to take next, and the first value
                                     that it helps of */
    size_t helped;                /* as many */
} jaw__page;

void jaw__page_heading(jaw__page *p, const char *text);

/* jaw__page_under: a heading, and what stands under it; neither, and false,
 * when there is nothing. */
bool jaw__page_under(jaw__page *p, const char *heading,
                     void (*lines)(jaw__page *p));

/* A value to enter, as the lines about it need it. */
typedef struct jaw__page_value {
    char name[40]; /* "G54 X", "tool 3" */
    const jaw_value_trust *trust;
    const jaw_next *next; /* NULL: of a tool, which has none */
    bool said_above; /* beside its touches: that nothing checks it */
    bool angle;
} jaw__page_value;

/* jaw__page_values: put of every value, zeros first, in their order. */
void jaw__page_values(jaw__page *p,
                      void (*put)(jaw__page *p, const jaw__page_value *v));

/* jaw__page_explain: every step of every value, and what its +- is made of. */
void jaw__page_explain(jaw__page *p);

#endif
