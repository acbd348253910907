/* SPDX-License-Identifier: GPL-3.0-or-later */
/* random.c: random numbers, a stream of its own for each trial, so that trials
 * come out the same however they are shared out.
 *
 * xoshiro256++ 1.0: Blackman & Vigna, ACM Trans. Math. Softw. 47 (2021) no. 4,
 * 36; its state comes from splitmix64 (Steele, Lea & Flood, OOPSLA 2014), as
 * its authors ask.  Trial t takes numbers 4 t + 1 ... 4 t + 4 of one splitmix64
 * sequence, so no two trials of a run share a state.
 * Normal numbers: the ziggurat of Marsaglia & Tsang, J. Stat. Softw. 5 (2000)
 * no. 8, with 53 bits for the place, 8 for the layer and one for the sign, no
 * bit used twice (Doornik, An improved ziggurat method, 2005). */
#include "random.h"

jaw_random jaw_random_stream(unsigned long long seed, unsigned long long trial)
{
    return jaw__random_start(seed, trial);
}

unsigned long long jaw_random_bits(jaw_random *random)
{
    return jaw__random_next(random);
}

double jaw_random_even(jaw_random *random)
{
    return jaw__random_even(random);
}

double jaw_random_normal(jaw_random *random)
{
    return jaw__random_normal(random);
}

/* Beyond x[1]: Marsaglia, Technometrics 6 (1964) 101-102. */
static double tail(jaw_random *random)
{
    for (;;) {
        double a = -log(jaw__random_even(random)) / ziggurat_x[1];
        double b = -log(jaw__random_even(random));
        if (2 * b > a * a)
            return ziggurat_x[1] + a;
    }
}

/* What the first look did not decide: the layer and the place are known. */
double jaw__random_edge(jaw_random *random, unsigned long long bits)
{
    for (;;) {
        size_t layer = bits & 255;
        double x = (double)(bits >> 11) * 0x1p-53 * ziggurat_x[layer];
        double sign = bits & 256 ? -1 : 1;
        if (x < ziggurat_x[layer + 1])
            return sign * x;
        if (layer == 0)
            return sign * tail(random);
        double low = ziggurat_y[layer], high = ziggurat_y[layer + 1];
        if (low + jaw__random_even(random) * (high - low) < exp(-0.5 * x * x))
            return sign * x;
        bits = jaw__random_next(random);
    }
}
