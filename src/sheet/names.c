/* SPDX-License-Identifier: GPL-3.0-or-later */
/* names.c: what only the whole sheet can tell.  An entry may name what stands
 * below it, so names given twice, registers that are taken and the tips of
 * edges are judged at the end, over the names in sorted order. */
#include "reader.h"

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

enum { FIRST_REGISTER = 54, REGISTERS = 6 };

/* 0 to 5; -1 for a word that is no register. */
static int register_of(const char *word)
{
    if (word[0] != 'G' || word[1] != '5' || word[2] < '4' || word[2] > '9' ||
        word[3] != '\0')
        return -1;
    return word[2] - '4';
}

static void check_zero(jaw__reader *r, const jaw__name *zero,
                       const jaw_place taken[REGISTERS])
{
    int which = register_of(zero->text), free_one = 0;

    if (which >= 0 && taken[which].line == zero->place.line &&
        taken[which].source == zero->place.source)
        return;
    while (free_one < REGISTERS && taken[free_one].line != 0)
        free_one++;
    jaw__shown name = jaw__show(zero->text, strlen(zero->text));
    char use[] = "G54";
    use[2] = (char)('4' + free_one);
    if (free_one == REGISTERS) {
        jaw__mistake(&r->log, zero->place, JAW__SAY_ZERO_FULL, name.text, NULL,
                     NULL, NULL);
    } else if (which < 0) {
        jaw__mistake(&r->log, zero->place, JAW__SAY_ZERO_UNKNOWN, name.text,
                     use, NULL, NULL);
    } else {
        jaw__shown line = jaw__show_line(r, taken[which]);
        jaw__mistake(&r->log, zero->place, JAW__SAY_ZERO_TWICE, name.text,
                     line.text, use, NULL);
    }
}

static void check_zeros(jaw__reader *r)
{
    jaw_place taken[REGISTERS] = {{0}};

    for (size_t i = 0; i < r->n_names; i++) {
        const jaw__name *zero = &r->names[i];
        int which =
            zero->space == JAW__SPACE_ZERO ? register_of(zero->text) : -1;
        if (which >= 0 && taken[which].line == 0)
            taken[which] = zero->place;
    }
    for (size_t i = 0; i < r->n_names; i++)
        if (r->names[i].space == JAW__SPACE_ZERO)
            check_zero(r, &r->names[i], taken);
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
