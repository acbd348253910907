/* SPDX-License-Identifier: GPL-3.0-or-later */
/* names.c: what only the whole sheet can tell.  An entry may name what stands
 * below it, so names given twice, registers that are taken and the tips of
 * edges are judged at the end, over the names in sorted order. */
#include "reader.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void jaw__name_add(jaw__reader *r, jaw__name name)
{
    jaw__name *names =
        jaw__more(r, r->names, r->n_names, &r->room_names, sizeof *names);

    if (!names)
        return;
    r->names = names;
    name.order = r->n_names;
    names[r->n_names++] = name;
}

void jaw__edge_add(jaw__reader *r, jaw__open_edge edge)
{
    jaw__open_edge *edges =
        jaw__more(r, r->edges, r->n_edges, &r->room_edges, sizeof *edges);

    if (!edges)
        return;
    r->edges = edges;
    edges[r->n_edges++] = edge;
}

/* ------------------------------------------------------------------- order */

static int compare_what(const jaw__name *a, const jaw__name *b)
{
    if (a->space != b->space)
        return a->space < b->space ? -1 : 1;
    if (a->space == JAW__SPACE_TOOL)
        return (a->number > b->number) - (a->number < b->number);
    return strcmp(a->text, b->text);
}

static int compare(const void *one, const void *other)
{
    const jaw__name *a = one, *b = other;
    int what = compare_what(a, b);
    return what ? what : (a->order > b->order) - (a->order < b->order);
}

/* ------------------------------------------------------------------- twice */

static void say_twice(jaw__reader *r, const jaw__name *first,
                      const jaw__name *again)
{
    static const jaw__message say[] = {
        [JAW__SPACE_TIP] = JAW__SAY_TIP_TWICE,
        [JAW__SPACE_FEATURE] = JAW__SAY_NAME_TWICE,
        [JAW__SPACE_TOOL] = JAW__SAY_TOOL_TWICE,
    };
    jaw__shown name = again->text ? jaw__show(again->text, strlen(again->text))
                                  : jaw__show_int(again->number);
    jaw__shown line = jaw__show_line(r, first->place);
    jaw__mistake(&r->log, again->place, say[again->space], name.text,
                 line.text, NULL, NULL);
}

static void check_twice(jaw__reader *r)
{
    size_t first = 0;

    for (size_t i = 1; i < r->n_names; i++) {
        if (compare_what(&r->names[first], &r->names[i]) != 0)
            first = i;
        else if (r->names[i].space != JAW__SPACE_ZERO)
            say_twice(r, &r->names[first], &r->names[i]);
    }
}

/* --------------------------------------------------------------- registers */

enum { FIRST_REGISTER = 54, REGISTERS = JAW__REGISTERS - JAW__EXTENSION_MAX };

int jaw__register_of(const char *word)
{
    char *end;

    if (strncmp(word, "G54.1P", 6) == 0) {
        long n = word[6] >= '1' && word[6] <= '9' ? strtol(word + 6, &end, 10)
                                                  : 0;
        return n >= 1 && n <= JAW__EXTENSION_MAX && *end == '\0'
                   ? REGISTERS - 1 + (int)n
                   : -1;
    }
    if (word[0] != 'G' || word[1] != '5' || word[2] < '4' || word[2] > '9' ||
        word[3] != '\0')
        return -1;
    return word[2] - '4';
}

static void register_text(int which, char text[16])
{
    if (which < REGISTERS)
        snprintf(text, 16, "G%d", FIRST_REGISTER + which);
    else
        snprintf(text, 16, "G54.1P%d", which - REGISTERS + 1);
}

/* The first that no zero takes; there always is one, since a sheet has not so
 * many entries as there are registers, or is told of the first it has not. */
static void free_register(const jaw__reader *r, char text[16])
{
    static const int last = REGISTERS + JAW__EXTENSION_MAX;
    bool taken[REGISTERS + JAW__EXTENSION_MAX + 1] = {false};
    int which = 0;

    for (size_t i = 0; i < r->n_names; i++)
        if (r->names[i].space == JAW__SPACE_ZERO &&
            (which = jaw__register_of(r->names[i].text)) >= 0)
            taken[which] = true;
    for (which = 0; which < last - 1 && taken[which];)
        which++;
    register_text(which, text);
}

/* `first` has the same register, or is the same zero. */
static void check_zero(jaw__reader *r, const jaw__name *first,
                       const jaw__name *zero)
{
    jaw__shown name = jaw__show(zero->text, strlen(zero->text));
    char use[16];

    if (jaw__register_of(zero->text) < 0) {
        free_register(r, use);
        jaw__mistake(&r->log, zero->place, JAW__SAY_ZERO_UNKNOWN, name.text,
                     use, NULL, NULL);
    } else if (first != zero) {
        jaw__shown line = jaw__show_line(r, first->place);
        free_register(r, use);
        jaw__mistake(&r->log, zero->place, JAW__SAY_ZERO_TWICE, name.text,
                     line.text, use, NULL);
    }
}

/* Names stand in order, so that those of one register are together. */
static void check_zeros(jaw__reader *r)
{
    size_t first = 0;

    for (size_t i = 0; i < r->n_names && !jaw__log_stopped(&r->log); i++) {
        if (r->names[i].space != JAW__SPACE_ZERO)
            continue;
        if (compare_what(&r->names[first], &r->names[i]) != 0)
            first = i;
        check_zero(r, &r->names[first], &r->names[i]);
    }
}

/* ------------------------------------------------------------------- edges */

static void check_edges(jaw__reader *r)
{
    for (size_t i = 0; i < r->n_edges; i++) {
        jaw__name key = {.space = JAW__SPACE_TIP, .text = r->edges[i].tip};
        size_t low = 0, high = r->n_names;
        while (low < high) {
            size_t middle = low + (high - low) / 2;
            if (compare_what(&r->names[middle], &key) < 0)
                low = middle + 1;
            else
                high = middle;
        }
        if (low == r->n_names || compare_what(&r->names[low], &key) != 0 ||
            !(r->names[low].diameter > 0))
            continue;
        jaw__shown name =
            jaw__show(r->edges[i].name, strlen(r->edges[i].name));
        jaw__mistake(&r->log, r->edges[i].place, JAW__SAY_FACES_MISSING,
                     name.text, NULL, NULL, NULL);
    }
}

void jaw__names_check(jaw__reader *r)
{
    if (r->n_names > 0)
        qsort(r->names, r->n_names, sizeof *r->names, compare);
    check_twice(r);
    check_zeros(r);
    check_edges(r);
}
