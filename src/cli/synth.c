/* SPDX-License-Identifier: GPL-3.0-or-later */
/* synth.c: `jawline synth`: touches of a known truth, with noise.
 *
 * Random numbers: Matsumoto & Nishimura, ACM TOMACS 8 (1998) 3-30, as GSL has
 * it, so that a seed gives the same numbers on every machine. */
#include "synth.h"

#include <gsl/gsl_errno.h>
#include <string.h>

static const struct {
    const char *word;
    void (*make)(const job *);
} sheet_rows[] = {
#define ROW(id, word, make, text) {word, make},
    SHEET_LIST(ROW)
#undef ROW
};

enum { TOUCHES_MAX = 100000000 };

/* --------------------------------------------------------------- arguments */

static double default_size(const job *j)
{
    if (j->sheet != SHEETS)
        return 100;
    switch (j->kind) {
    case JAW_BORE:
    case JAW_BOSS:
        return 30;
    case JAW_SLOT:
    case JAW_WEB:
    case JAW_BALL:
    case JAW_BAR:
        return 20;
    default:
        return 100;
    }
}

static bool kind_read(const arguments *args, job *j)
{
    const char *also[SHEETS + 1] = {NULL};
    if (args->operands != 1) {
        complain("such as `jawline synth bore' or `jawline synth setup'",
                 args->operands ? "one KIND at a time"
                                : "which KIND of feature is not said");
        return false;
    }
    for (int i = 0; i < SHEETS; i++) {
        also[i] = sheet_rows[i].word;
        if (strcmp(args->operand[0], also[i]) == 0)
            j->sheet = (sheet_id)i;
    }
    return j->sheet != SHEETS || kind_find(args->operand[0], also, &j->kind);
}

/* A bore in a sheet is a tenth of --size across. */
static bool tip_fits(const job *j)
{
    bool sheet = j->sheet != SHEETS;
    bool within = sheet || j->kind == JAW_BORE || j->kind == JAW_SLOT;
    if (!within || j->tip < (sheet ? 0.1 * j->size : j->size))
        return true;
    complain(sheet ? "the bore is a tenth of --size across, the tip must be "
                     "smaller"
                   : "make --tip smaller or --size larger",
             "the tip does not fit in");
    return false;
}

static unsigned long default_touches(const job *j)
{
    if (j->sheet != SHEETS)
        return 4;
    return j->kind == JAW_BAR ? 9 : j->kind == JAW_PATTERN ? 5
           : j->kind == JAW_BALL                           ? 6
                                                           : 4;
}

static bool job_read(const arguments *args, job *j)
{
    *j = (job){.sheet = SHEETS,
               .unit = JAW_MM,
               .noise = 0.002,
               .skew = jaw_rad(0.2),
               .arc = jaw_rad(360),
               .seed = 1};
    if (!kind_read(args, j))
        return false;
    j->size = default_size(j);
    j->tip = j->sheet != SHEETS ? 4 : 0;
    j->touches = default_touches(j);
    return option_unit(args, &j->unit) &&
           option_length(args, OPT_TIP, j->unit, true, &j->tip) &&
           option_length(args, OPT_NOISE, j->unit, true, &j->noise) &&
           option_length(args, OPT_SIZE, j->unit, false, &j->size) &&
           option_angle(args, OPT_SKEW, &j->skew) &&
           option_angle(args, OPT_ARC, &j->arc) &&
           option_count(args, OPT_TOUCHES, TOUCHES_MAX, &j->touches) &&
           option_count(args, OPT_SEED, 0xffffffff, &j->seed) && tip_fits(j);
}

/* ------------------------------------------------------------------ output */

static void put_options(const job *j, const char *kind)
{
    double mm = jaw_unit_mm(j->unit);
    printf("# made by: jawline synth %s --seed %lu --noise %.17g --touches %lu "
           "--tip %.17g --unit %s --skew %.17g --arc %.17g --size %.17g\n",
           kind, j->seed, j->noise / mm, j->touches, j->tip / mm,
           jaw_unit_word(j->unit), jaw_deg(j->skew), jaw_deg(j->arc),
           j->size / mm);
}

int command_synth(const arguments *args)
{
    job j;
    if (!job_read(args, &j))
        return EXIT_USAGE;
    /* GSL would end the process when it is out of memory */
    gsl_set_error_handler_off();
    j.rng = gsl_rng_alloc(gsl_rng_mt19937);
    if (!j.rng) {
        no_memory();
        return EXIT_USAGE;
    }
    gsl_rng_set(j.rng, j.seed);
    put_options(&j, args->operand[0]);
    if (j.sheet != SHEETS) {
        puts("# to find it: jawline solve");
        sheet_rows[j.sheet].make(&j);
    } else {
        synth_feature(&j);
    }
    gsl_rng_free(j.rng);
    return EXIT_STANDS;
}
