/* SPDX-License-Identifier: GPL-3.0-or-later */
/* register.h: a value that is held against what the control shows. */
#ifndef TESTS_READBACK_REGISTER_H
#define TESTS_READBACK_REGISTER_H

#include <jawline/readback.h>

#include <math.h>
#include <string.h>

/* A number of the control: in `unit`, or degrees. */
static inline jaw_readback_value register_of(const char *name,
                                             const char *word, jaw_unit unit,
                                             double step, double value)
{
    double scale = jaw_unit_mm(unit);
    jaw_readback_value v = {.word = word,
                            .step = step * scale,
                            .value = value * scale,
                            .half95 = (double)NAN,
                            .before = (double)NAN,
                            .shown = (double)NAN};
    strcpy(v.name, name);
    return v;
}

#endif
