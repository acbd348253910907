/* SPDX-License-Identifier: GPL-3.0-or-later */
/* random.h: the same as in trust.h, inline for the trials. */
#ifndef JAW__RANDOM_H
#define JAW__RANDOM_H

#include "ziggurat.h"

#include <jawline/trust.h>

#include <math.h>
#include <stdint.h>
#include <string.h>

double jaw__random_edge(jaw_random *random, unsigned long long bits);

static inline uint64_t jaw__mix(uint64_t z)
{
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

static inline jaw_random jaw__random_start(uint64_t seed, uint64_t trial)
{
    const uint64_t step = 0x9e3779b97f4a7c15u;
    uint64_t at = jaw__mix(seed + step) + 4 * trial * step;

    return (jaw_random){{jaw__mix(at + step), jaw__mix(at + 2 * step),
                         jaw__mix(at + 3 * step), jaw__mix(at + 4 * step)}};
}

static inline uint64_t jaw__rotated(uint64_t x, int by)
{
    return (x << by) | (x >> (64 - by));
}

static inline uint64_t jaw__random_next(jaw_random *random)
{
    unsigned long long *s = random->s;
    const uint64_t out = jaw__rotated(s[0] + s[3], 23) + s[0], t = s[1] << 17;

    s[2] ^= s[0];
    s[3] ^= s[1];
    s[1] ^= s[2];
    s[0] ^= s[3];
    s[2] ^= t;
    s[3] = jaw__rotated(s[3], 45);
    return out;
}

/* In the middle of its cell: never 0, never 1. */
static inline double jaw__random_even(jaw_random *random)
{
    return ((double)(jaw__random_next(random) >> 12) + 0.5) * 0x1p-52;
}

/* Bit 8 is the sign; a branch would be guessed wrong every other time. */
static inline double jaw__signed(double x, uint64_t bits)
{
    uint64_t word;

    memcpy(&word, &x, sizeof word);
    word ^= (bits & 256) << 55;
    memcpy(&x, &word, sizeof x);
    return x;
}

static inline double jaw__random_normal(jaw_random *random)
{
    const uint64_t bits = jaw__random_next(random);
    const size_t layer = bits & 255;
    const double x = (double)(int64_t)(bits >> 11) * 0x1p-53 *
                     ziggurat_x[layer];

    if (x < ziggurat_x[layer + 1])
        return jaw__signed(x, bits);
    return jaw__random_edge(random, bits);
}

#endif
