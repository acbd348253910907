/* SPDX-License-Identifier: GPL-3.0-or-later */
/* registers.c: the values to enter in the order in which a person reads them
 * off the control: work zeros by their number, each along its axes, then tool
 * lengths by theirs. */
#include "setup.h"

#include <src/readback/words.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* What was asked for, or carries a value all the same. */
static bool asked(const jaw_zero_entry *entry, int axis, double value)
{
    return entry->term[axis].feature != NULL || !isnan(value);
}

static const char *const words[] = JAW__VALUE_WORDS;
enum { TURN = JAW_AXES, LENGTH };

static jaw_readback_value value_of(const char *name, int word, double value,
                                   double half95, double step)
{
    jaw_readback_value v = {.word = words[word],
                            .step = step,
                            .value = value,
                            .half95 = half95,
                            .before = (double)NAN,
                            .shown = (double)NAN};

    snprintf(v.name, sizeof v.name, "%s", name);
    return v;
}

static size_t zero_values(const jaw_control *c, const jaw_zero_entry *entry,
                          const jaw_zero_found *z, jaw_readback_value *out)
{
    const double enter[JAW_AXES] = {z->enter.x, z->enter.y, z->enter.z};
    size_t n = 0;

    for (int a = 0; a < JAW_AXES; a++)
        if (asked(entry, a, enter[a]))
            out[n++] = value_of(z->name, a, enter[a], z->trust[a].half95,
                                c->step);
    if (c->can_turn &&
        (entry->turn_use != JAW_TURN_NONE || !isnan(z->turn))) {
        out[n] = value_of(z->name, TURN, z->turn, z->turn_trust.half95,
                          c->angle_step);
        out[n++].angle = true;
    }
    return n;
}

/* G54 to G59, G54.1P1 and so on, H1 and so on. */
static long place_of(const char *name)
{
    if (name[0] == 'H')
        return 1000000 + strtol(name + 1, NULL, 10);
    if (strncmp(name, "G54.1P", 6) == 0)
        return 1000 + strtol(name + 6, NULL, 10);
    return strtol(name + 1, NULL, 10);
}

/* Those of one register have their order already. */
static int compare(const void *one, const void *other)
{
    const jaw_readback_value *a = one, *b = other;
    long i = place_of(a->name), k = place_of(b->name);

    if (i == k)
        return strcmp(a->word, b->word); /* X Y Z turn */
    return (i > k) - (i < k);
}

void jaw_registers_sort(jaw_readback_value value[], size_t n)
{
    if (n > 0)
        qsort(value, n, sizeof *value, compare);
}

jaw_status jaw_solution_registers(const jaw_setup *setup,
                                  const jaw_solution *s,
                                  jaw_readback_value **value, size_t *n)
{
    size_t zeros, tools, all = 0;
    const jaw_control *c = jaw_setup_control(setup);
    const jaw_zero_found *z = jaw_solution_zeros(s, &zeros);
    const jaw_zero_entry *entry = jaw_setup_zeros(setup, &zeros);
    const jaw_tool_found *t = jaw_solution_tools(s, &tools);
    char name[JAW_REGISTER_NAME];

    *n = 0;
    *value = calloc((JAW_AXES + 1) * zeros + tools + 1, sizeof **value);
    if (!*value)
        return JAW_ENOMEM;
    for (size_t i = 0; i < zeros; i++)
        all += zero_values(c, &entry[i], &z[i], *value + all);
    for (size_t i = 0; i < tools; i++) {
        snprintf(name, sizeof name, "H%d", t[i].number);
        (*value)[all++] = value_of(name, LENGTH, t[i].enter,
                                   t[i].trust.half95, c->step);
    }
    jaw_registers_sort(*value, all);
    *n = all;
    return JAW_OK;
}
