/* SPDX-License-Identifier: GPL-3.0-or-later */
/* synth_stations.c: the same part at places whose spacing is stated.  Each
 * place stands off by an error of its own, in x, y and z, as well as it is said
 * to be known; the part at each lies as the whole does. */
#include "synth.h"

#include <stdio.h>

enum { STATIONS_MAX = 8 };

typedef struct row {
    const job *j;
    lie plate;
    double stylus;
    int n;
    jaw_vec3 nominal[STATIONS_MAX];
    lie is[STATIONS_MAX];
    bool touched[STATIONS_MAX];
} row;

/* A register by its number from 0: G54 to G59, then G54.1 P1 and on; `blank` as
 * a sheet has it, or as JSON does. */
static const char *register_of(int i, const char *blank, char text[32])
{
    if (i < 6)
        snprintf(text, 32, "G%d", 54 + i);
    else
        snprintf(text, 32, "G54.1%sP%d", blank, i - 5);
    return text;
}

/* In rows of `across`, the second row higher than the first. */
static void place_all(row *r, const job *j, int n, int across)
{
    jaw_vec3 at = any_place(j);
    *r = (row){.j = j, .plate = {{at.x, at.y, at.z - 250}, j->skew}, .n = n};
    r->stylus = between(j, 90, 110);
    for (int i = 0; i < n; i++) {
        const int line = i / across;
        jaw_vec3 nominal = {1.5 * j->size * (i % across), 1.2 * j->size * line,
                            0.1 * j->size * line};
        double x = noisy(j, nominal.x), y = noisy(j, nominal.y);
        jaw_vec3 stands = {x, y, noisy(j, nominal.z)};
        r->nominal[i] = nominal;
        r->is[i] = (lie){reading_of(&r->plate, stands, 0), j->skew};
    }
}

static void put_truths(const row *r)
{
    char name[32];
    for (int i = 0; i < r->n; i++)
        put_truth_zero(r->j, register_of(i, "", name), &r->is[i]);
    put_truth_angle("row.turn_of_the_stations", r->plate.skew);
}

/* What the touched ones are off, of which each has its error: 0. */
static void put_truths_off(const row *r, bool turn_too)
{
    char name[32], text[64];
    for (int i = 0; i < r->n; i++) {
        if (!r->touched[i])
            continue;
        register_of(i, "", name);
        for (int axis = 'X'; axis <= 'Z'; axis++) {
            snprintf(text, sizeof text, "row.%s_off_in_%c", name, axis);
            put_truth(r->j, text, 0);
        }
        snprintf(text, sizeof text, "row.%s_turn_off", name);
        if (turn_too)
            put_truth_angle(text, 0);
    }
}

static void put_stations(const row *r, const char *more)
{
    put_head(r->j, "Made-up clamps at places with known spacing");
    put_stylus(r->j, r->stylus, r->j->noise);
    printf("stations row");
    if (r->j->noise > 0)
        put_setting(r->j, "places known to", r->j->noise);
    printf("\n%s", more);
}

static void put_part(const row *r, int i)
{
    double s = r->j->size;
    char name[32];
    snprintf(name, sizeof name, "front%d", i + 1);
    put_front(r->j, name, &r->is[i], s);
    snprintf(name, sizeof name, "left%d", i + 1);
    put_left(r->j, name, &r->is[i], 0.5 * s);
    snprintf(name, sizeof name, "top%d", i + 1);
    put_flat(r->j, name, &r->is[i], (jaw_vec3){0.5 * s, 0.25 * s, 0},
             (jaw_vec2){0.4 * s, 0.2 * s}, r->stylus);
}

static void put_zeros(const row *r)
{
    char name[32];
    for (int i = 0; i < r->n; i++)
        if (r->touched[i])
            put_part(r, i);
    for (int i = 0; i < r->n; i++) {
        printf("zero %s\n", register_of(i, " ", name));
        if (r->touched[i])
            printf("  turn front%d along x\n  x left%d\n  y front%d\n"
                   "  z top%d\n",
                   i + 1, i + 1, i + 1, i + 1);
        printf("  station row at ");
        put_number(r->j, r->nominal[i].x, " ");
        put_number(r->j, r->nominal[i].y, " ");
        put_number(r->j, r->nominal[i].z, "\n");
    }
}

/* Each keeps its own values and is held against the others. */
void synth_stations_own(const job *j)
{
    row r;
    place_all(&r, j, 3, 3);
    for (int i = 0; i < r.n; i++)
        r.touched[i] = true;
    put_truths(&r);
    put_truths_off(&r, true);
    put_stations(&r, "");
    put_zeros(&r);
}

/* One alone, whose turn is that of the whole, says where the others are. */
void synth_stations_one(const job *j)
{
    row r;
    place_all(&r, j, 8, 4);
    r.touched[0] = true;
    put_truths(&r);
    put_stations(&r, "");
    put_zeros(&r);
}

/* The first and the third, and an edge of the plate, take what all say. */
void synth_stations_row(const job *j)
{
    row r;
    place_all(&r, j, 4, 4);
    r.touched[0] = r.touched[2] = true;
    put_truths(&r);
    put_truths_off(&r, true);
    put_stations(&r, "  turn rail along x\n  adjusted yes\n");
    lie rail = r.plate;
    rail.zero = reading_of(&r.plate, (jaw_vec3){0, -0.2 * j->size, 0}, 0);
    put_front(j, "rail", &rail, 6 * j->size);
    put_zeros(&r);
}
