/* SPDX-License-Identifier: GPL-3.0-or-later */
/* simulate.c: do the stated 95 % intervals hold the truth?
 *
 *     simulate TRIALS SEED SHEET...
 *
 * Each sheet is free of noise; what it solves to is the truth.  In every trial
 * each coordinate that was read is off by a normal error of the repeat that
 * its tip states, the setup is solved again, and it is counted how often each
 * value lies within its interval, how often a touch is called doubtful though
 * nothing is wrong with it, and what the interval's half-width was on average.
 * Exit status 1 when a count is off by more than chance allows (four standard
 * deviations of a binomial, around 95 %). */
#include <jawline.h>

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { VALUES_MAX = 400 };

typedef struct value {
    char name[48];
    double is, half95;
} value;

typedef struct tally {
    size_t inside;
    double half95, off2;
} tally;

static size_t list_values(const jaw_solution *s, value v[])
{
    static const char *const words[] = {"X", "Y", "Z"};
    size_t n, count = 0;
    const jaw_zero_found *z = jaw_solution_zeros(s, &n);

    for (size_t i = 0; i < n; i++) {
        double is[] = {z[i].zero.x, z[i].zero.y, z[i].zero.z};
        for (int a = 0; a < 3; a++)
            if (!isnan(is[a]) && count < VALUES_MAX) {
                snprintf(v[count].name, sizeof v->name, "%s %s", z[i].name,
                         words[a]);
                v[count].is = is[a];
                v[count++].half95 = z[i].trust[a].half95;
            }
        if (!isnan(z[i].turn_trust.u) && count < VALUES_MAX) {
            snprintf(v[count].name, sizeof v->name, "%s turn", z[i].name);
            v[count].is = z[i].skew;
            v[count++].half95 = z[i].turn_trust.half95;
        }
    }
    const jaw_tool_found *t = jaw_solution_tools(s, &n);
    for (size_t i = 0; i < n && count < VALUES_MAX; i++) {
        snprintf(v[count].name, sizeof v->name, "tool %d", t[i].number);
        v[count].is = t[i].value;
        v[count++].half95 = t[i].trust.half95;
    }
    return count;
}

static double noise(gsl_rng *rng, double sigma)
{
    return rng == NULL ? 0 : gsl_ran_gaussian_ziggurat(rng, sigma);
}

static double repeat_of(const jaw_setup *from, const char *name)
{
    size_t n;
    const jaw_tip_entry *tips = jaw_setup_tips(from, &n);

    for (size_t i = 0; name != NULL && i < n; i++)
        if (strcmp(tips[i].name, name) == 0 && !isnan(tips[i].tip.repeat))
            return tips[i].tip.repeat;
    return JAW_REPEAT_DEFAULT;
}

static void copy_feature(const jaw_setup *from, size_t f, jaw_setup *to,
                         gsl_rng *rng)
{
    size_t n, first, holes, features;
    const jaw_feature_entry *e = jaw_setup_features(from, &features) + f;
    const jaw_touch *t = jaw_setup_touches(from, f, &n, &first);
    const jaw_place *place = jaw_setup_touch_places(from, f);
    const jaw_hole_entry *hole = jaw_setup_holes(from, f, &holes);
    double sigma = repeat_of(from, e->tip);

    jaw_setup_add_feature(to, e);
    for (size_t i = 0; i < n; i++) {
        jaw_touch off = {t[i].x + noise(rng, sigma), t[i].y + noise(rng, sigma),
                         t[i].z + noise(rng, sigma)};
        if (i == first && first > 0)
            jaw_setup_other_wall(to);
        jaw_setup_add_touch(to, off, place[i]);
    }
    for (size_t i = 0; i < holes; i++) {
        jaw_hole_entry off = hole[i];
        /* what the spacing is off: the centre moves against its place */
        off.nominal.x += noise(rng, JAW_SPACING_DEFAULT);
        off.nominal.y += noise(rng, JAW_SPACING_DEFAULT);
        off.touched.x += noise(rng, JAW_REPEAT_DEFAULT);
        off.touched.y += noise(rng, JAW_REPEAT_DEFAULT);
        jaw_setup_add_hole(to, &off);
    }
}

static jaw_setup *copy_setup(const jaw_setup *from, gsl_rng *rng)
{
    jaw_setup *to = jaw_setup_alloc();
    size_t n;

    jaw_setup_set_control(to, jaw_setup_control(from));
    const jaw_tip_entry *tips = jaw_setup_tips(from, &n);
    for (size_t i = 0; i < n; i++)
        jaw_setup_add_tip(to, &tips[i]);
    jaw_setup_features(from, &n);
    for (size_t f = 0; f < n; f++)
        copy_feature(from, f, to, rng);
    const jaw_setter_entry *setters = jaw_setup_setters(from, &n);
    for (size_t i = 0; i < n; i++)
        jaw_setup_add_setter(to, &setters[i]);
    const jaw_tool_entry *tools = jaw_setup_tools(from, &n);
    for (size_t i = 0; i < n; i++)
        jaw_setup_add_tool(to, &tools[i]);
    const jaw_contact_entry *contacts = jaw_setup_contacts(from, &n);
    for (size_t i = 0; i < n; i++) {
        jaw_contact_entry off = contacts[i];
        off.reading += noise(rng, off.tool != 0 ? JAW_REPEAT_DEFAULT
                                                : repeat_of(from, off.tip));
        jaw_setup_add_contact(to, &off);
    }
    const jaw_zero_entry *zeros = jaw_setup_zeros(from, &n);
    for (size_t i = 0; i < n; i++)
        jaw_setup_add_zero(to, &zeros[i]);
    return to;
}

static jaw_setup *read_sheet(const char *file)
{
    static char text[1 << 20];
    FILE *in = fopen(file, "r");
    jaw_setup *setup = jaw_setup_alloc();

    if (in == NULL)
        return NULL;
    size_t len = fread(text, 1, sizeof text, in);
    fclose(in);
    jaw_status status = jaw_sheet_read_text(text, len, file, setup, NULL);
    if (status == JAW_OK)
        return setup;
    jaw_setup_free(setup);
    return NULL;
}

/* One noisy copy, solved; false when it could not be. */
static bool one_trial(const jaw_setup *base, gsl_rng *rng, const value truth[],
                      size_t n, tally t[])
{
    jaw_setup *setup = copy_setup(base, rng);
    jaw_solution *solution;
    value v[VALUES_MAX];
    bool good = jaw_setup_solve(setup, NULL, &solution) == JAW_OK &&
                list_values(solution, v) == n;

    for (size_t i = 0; good && i < n; i++) {
        double off = v[i].is - truth[i].is;
        t[i].inside += fabs(off) <= v[i].half95 + 1e-12;
        t[i].half95 += v[i].half95;
        t[i].off2 += off * off;
    }
    jaw_solution_free(solution);
    jaw_setup_free(setup);
    return good;
}

static int judge(const value truth[], size_t n, const tally t[], size_t trials)
{
    double allowed = 4 * sqrt(0.95 * 0.05 / (double)trials) + 0.001;
    int bad = 0;

    for (size_t i = 0; i < n; i++) {
        double share = (double)t[i].inside / (double)trials;
        /* a value that nothing can move (a register that is 0 by convention,
         * a stated turn) is always inside */
        bool fixed = t[i].half95 == 0;
        bool good = fixed ? share == 1 : fabs(share - 0.95) <= allowed;
        printf("  %-12s inside %.4f  half-width %.3g  spread %.3g  %s\n",
               truth[i].name, share, t[i].half95 / (double)trials,
               sqrt(t[i].off2 / (double)trials), good ? "ok" : "OFF");
        bad += !good;
    }
    return bad;
}

static int simulate(const char *file, size_t trials, gsl_rng *rng)
{
    static value truth[VALUES_MAX];
    tally t[VALUES_MAX] = {{0, 0, 0}};
    jaw_setup *base = read_sheet(file), *exact;
    jaw_solution *solution;
    size_t failed = 0;

    printf("%s\n", file);
    if (base == NULL) {
        puts("  can not be read");
        return 1;
    }
    exact = copy_setup(base, NULL);
    jaw_setup_solve(exact, NULL, &solution);
    size_t n = list_values(solution, truth);
    for (size_t i = 0; i < trials; i++)
        failed += !one_trial(base, rng, truth, n, t);
    int bad = judge(truth, n, t, trials) + (failed > 0 || n == 0);
    if (failed > 0)
        printf("  %zu trials could not be solved\n", failed);
    jaw_solution_free(solution);
    jaw_setup_free(exact);
    jaw_setup_free(base);
    return bad;
}

int main(int argc, char *argv[])
{
    if (argc < 4) {
        fputs("usage: simulate TRIALS SEED SHEET...\n", stderr);
        return 2;
    }
    size_t trials = strtoul(argv[1], NULL, 10);
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    int bad = 0;
    gsl_rng_set(rng, strtoul(argv[2], NULL, 10));
    printf("%zu trials, seed %s\n", trials, argv[2]);
    for (int i = 3; i < argc; i++)
        bad += simulate(argv[i], trials, rng);
    gsl_rng_free(rng);
    printf("%s\n", bad ? "FAILED" : "all as stated");
    return bad ? 1 : 0;
}
