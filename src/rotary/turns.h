/* SPDX-License-Identifier: GPL-3.0-or-later */
/* turns.h: the known angles of a table as complex numbers z_i of length 1, counted
 * from the first; shared inside src/rotary. */
#ifndef JAW__TURNS_H
#define JAW__TURNS_H

#include <jawline/base.h>

#include <math.h>

typedef struct jaw__turns {
    const double *angle;
    size_t n;
    double sense;
    jaw_vec2 mean; /* of z_i - 1 */
    double ss;     /* sum |z_i - mean z|^2 */
} jaw__turns;

/* jaw__turn_off: z_i less the mean. */
static inline jaw_vec2 jaw__turn_off(const jaw__turns *t, size_t i)
{
    const double a = t->sense * (t->angle[i] - t->angle[0]), h = sin(a / 2);

    return (jaw_vec2){-2 * h * h - t->mean.x, sin(a) - t->mean.y};
}

static inline jaw__turns jaw__turns_of(const double angle[], size_t n,
                                       double sense)
{
    jaw__turns t = {.angle = angle, .n = n, .sense = sense};
    jaw_vec2 mean = {0, 0};

    for (size_t i = 0; i < n; i++) {
        const jaw_vec2 z = jaw__turn_off(&t, i);
        mean.x += z.x / (double)n;
        mean.y += z.y / (double)n;
    }
    t.mean = mean;
    for (size_t i = 0; i < n; i++) {
        const jaw_vec2 w = jaw__turn_off(&t, i);
        t.ss += w.x * w.x + w.y * w.y;
    }
    return t;
}

#endif
