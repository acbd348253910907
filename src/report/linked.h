/* SPDX-License-Identifier: GPL-3.0-or-later */
/* linked.h: what a setup took from a book, as text and as JSON. */
#ifndef JAW__REPORT_LINKED_H
#define JAW__REPORT_LINKED_H

#include "page.h"

/* jaw__put_linked: a line for each thing, and what was seen of it since. */
void jaw__put_linked(jaw__page *p);
/* jaw__json_linked: an array of them; NULL: nothing comes from a book. */
json_t *jaw__json_linked(const jaw_setup *setup, const jaw_solution *solution,
                         bool *failed);

#endif
