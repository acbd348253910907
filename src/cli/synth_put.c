/* SPDX-License-Identifier: GPL-3.0-or-later */
/* synth_put.c: what is written of a known truth: numbers with their noise, the
 * truth itself, and the head of a sheet. */
#include "synth.h"

#include <gsl/gsl_randist.h>
#include <math.h>

/* ------------------------------------------------------------------ chance */

double noisy(const job *j, double mm)
{
    return mm + gsl_ran_gaussian(j->rng, j->noise);
}

double between(const job *j, double low, double high)
{
    return low + (high - low) * gsl_rng_uniform(j->rng);
}

jaw_vec3 any_place(const job *j)
{
    double x = between(j, 100, 300);
    double y = between(j, -200, -50);
    return (jaw_vec3){x, y, between(j, -150, -50)};
}

/* ----------------------------------------------------------------- numbers */

void put_number(const job *j, double mm, const char *after)
{
    char text[64];
    jaw_number_write(mm / jaw_unit_mm(j->unit), 9, text, sizeof text);
    printf("%s%s", text, after);
}

void put_setting(const job *j, const char *word, double mm)
{
    printf("  %s ", word);
    put_number(j, mm, "");
}

void put_known(const job *j, const char *word, double mm, double spread)
{
    put_setting(j, word, mm + gsl_ran_gaussian(j->rng, spread));
    if (spread > 0)
        put_setting(j, "known to", spread);
}

void put_repeat(const job *j)
{
    if (j->noise > 0)
        put_setting(j, "repeat", j->noise);
    printf("\n");
}

void put_row2(const job *j, const char *before, jaw_vec2 p)
{
    double x = noisy(j, p.x);
    printf("%s", before);
    put_number(j, x, "  ");
    put_number(j, noisy(j, p.y), "\n");
}

void put_row3(const job *j, const char *before, jaw_vec3 p)
{
    double x = noisy(j, p.x), y = noisy(j, p.y);
    printf("%s", before);
    put_number(j, x, "  ");
    put_number(j, y, "  ");
    put_number(j, noisy(j, p.z), "\n");
}

void put_truth(const job *j, const char *name, double mm)
{
    printf("# truth %s %.17g\n", name, mm / jaw_unit_mm(j->unit));
}

void put_truth_angle(const char *name, double rad)
{
    printf("# truth %s %.17g\n", name, jaw_deg(rad));
}

void put_truth_place(const job *j, const char *name, jaw_vec2 p)
{
    double mm = jaw_unit_mm(j->unit);
    printf("# truth %s %.17g %.17g\n", name, p.x / mm, p.y / mm);
}

void put_truth_zero(const job *j, const char *name, const lie *w)
{
    const double zero[] = {w->zero.x, w->zero.y, w->zero.z};
    char text[64];

    for (int a = 0; a < 3; a++) {
        snprintf(text, sizeof text, "%s.%c", name, 'X' + a);
        put_truth(j, text, zero[a]);
    }
    snprintf(text, sizeof text, "%s.turn", name);
    put_truth_angle(text, w->skew);
}

/* ------------------------------------------------------------------- sheets */

void put_head(const job *j, const char *title)
{
    printf("title  %s\n", title);
    printf("unit   %s\n", jaw_unit_word(j->unit));
    printf("control  step %s  angle-step 0.0001  turn yes  "
           "lengths gauge-line\n",
           j->unit == JAW_IN ? "0.0001" : "0.001");
}

void put_stylus(const job *j, double length, double spread)
{
    printf("tip stylus  ball");
    put_setting(j, "diameter", j->tip);
    put_known(j, "length", length, spread);
    put_repeat(j);
}
