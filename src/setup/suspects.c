/* SPDX-License-Identifier: GPL-3.0-or-later */
/* suspects.c: several bad touches of one feature.  Chips come in pairs, and two
 * slips that pull the same way hide one another from a test of one touch at a
 * time; a robust fit looks for what most of the touches agree on (trust.h). */
#include "joint.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* With fewer there is no majority to speak of, and beyond, ordering is slow. */
enum { TOUCHES_MIN = 6, TOUCHES_MAX = 1000, NAMED_MAX = 8 };

/* A touch of an edge or a round may lack a coordinate. */
static bool is_read(const jaw__solver *sv, size_t f)
{
    const jaw__share *share = &sv->setup->shares[f];
    const jaw_touch *t = sv->setup->touches + share->first_touch;

    for (size_t i = 0; i < share->n_touches; i++)
        if (isnan(t[i].x) || isnan(t[i].y))
            return false;
    return true;
}

static bool takes_robust(const jaw__solver *sv, size_t f)
{
    const jaw_found *found = &sv->out->features[f];

    if (found->n < TOUCHES_MIN || found->n > TOUCHES_MAX)
        return false;
    switch (found->kind) {
    case JAW_EDGE:
    case JAW_BORE:
    case JAW_BOSS: return is_read(sv, f);
    case JAW_BALL:
    case JAW_BAR:
    case JAW_SWEEP:
    case JAW_DIAL: return true;
    default: return false;
    }
}

/* What is looked through, and what comes of it. */
typedef struct search {
    const jaw__solver *sv;
    const jaw_found *found;
    const jaw_feature_entry *e;
    const jaw_touch *t;
    size_t f;
    bool *suspect;
    jaw_robust robust;
} search;

static jaw_status look_flat(search *s)
{
    const jaw_found *found = s->found;
    jaw_vec2 *p = malloc(found->n * sizeof *p);
    jaw_status status;
    jaw_line line;
    jaw_circle circle;
    double h[4];

    if (p == NULL)
        return JAW_ENOMEM;
    jaw__came came = jaw__came_of(s->sv, s->f);
    jaw__harmonics_now(s->sv, s->e, h);
    for (size_t i = 0; i < found->n; i++) {
        double a = jaw__approach(&came, s->t[i], true);
        double on = jaw_tip_harmonics(h, a, NULL);
        p[i] = (jaw_vec2){s->t[i].x + on * cos(a), s->t[i].y + on * sin(a)};
    }
    if (found->kind == JAW_EDGE)
        status = jaw_robust_line(p, found->n, found->repeat, s->suspect, &line,
                                 &s->robust);
    else
        status = jaw_robust_circle(p, found->n, found->repeat, s->suspect,
                                   &circle, &s->robust);
    free(p);
    return status;
}

/* What is nearest to p of a ball's centre or a bar's axis. */
static jaw_vec3 middle_of(const jaw_found *found, jaw_vec3 p)
{
    const jaw_bar *bar = &found->as.bar;

    if (found->kind == JAW_BALL)
        return found->as.ball.centre;
    double on = (p.x - bar->point.x) * bar->axis.x +
                (p.y - bar->point.y) * bar->axis.y +
                (p.z - bar->point.z) * bar->axis.z;
    return (jaw_vec3){bar->point.x + on * bar->axis.x,
                      bar->point.y + on * bar->axis.y,
                      bar->point.z + on * bar->axis.z};
}

/* Where a tip without harmonics would have stood: a residual off what was
 * found. */
static jaw_vec3 stood(const search *s, const jaw_tip *tip, double reach,
                      size_t i)
{
    jaw_vec3 p = {s->t[i].x, s->t[i].y, s->t[i].z + tip->diameter / 2};
    jaw_vec3 o = middle_of(s->found, p);
    double by = (reach + s->found->resid[i]) /
                hypot(hypot(p.x - o.x, p.y - o.y), p.z - o.z);

    return (jaw_vec3){o.x + by * (p.x - o.x), o.y + by * (p.y - o.y),
                      o.z + by * (p.z - o.z)};
}

static jaw_status look_solid(search *s)
{
    const jaw_found *found = s->found;
    bool ball = found->kind == JAW_BALL;
    jaw_tip tip = jaw__tip_now(s->sv, s->e);
    double reach = (ball ? found->as.ball.diameter : found->as.bar.diameter) / 2 +
                   jaw_tip_side(&tip);
    jaw_vec3 *p = malloc(found->n * sizeof *p);
    jaw_sphere sphere;
    jaw_cylinder cylinder;

    if (p == NULL)
        return JAW_ENOMEM;
    for (size_t i = 0; i < found->n; i++)
        p[i] = stood(s, &tip, reach, i);
    double known = jaw__is_exact(s->e) ? reach : 0;
    jaw_status status =
        ball ? jaw_robust_sphere(p, found->n, known, found->repeat, s->suspect,
                                 &sphere, &s->robust)
             : jaw_robust_cylinder(p, found->n, known, found->repeat,
                                   s->suspect, &cylinder, &s->robust);
    free(p);
    return status;
}

/* Readings less what was found of them: whom they suspect is the same, and what
 * is not linear in the shift is out of them. */
static jaw_status look_swept(search *s)
{
    const jaw_found *found = s->found;
    bool dial = found->kind == JAW_DIAL;
    bool x = dial || jaw__along_x(s->e->faces);
    jaw_vec2 *p = malloc(found->n * sizeof *p);
    jaw_status status;
    jaw_sweep sweep;
    jaw_line line;

    if (p == NULL)
        return JAW_ENOMEM;
    for (size_t i = 0; i < found->n; i++)
        p[i] = (jaw_vec2){x ? s->t[i].x : s->t[i].y, found->resid[i]};
    if (dial)
        status = jaw_robust_sweep(p, found->n, found->repeat, s->suspect,
                                  &sweep, &s->robust);
    else
        status = jaw_robust_line(p, found->n, found->repeat, s->suspect, &line,
                                 &s->robust);
    free(p);
    return status;
}

static jaw_status find_suspects(search *s)
{
    switch (s->found->kind) {
    case JAW_BALL:
    case JAW_BAR: return look_solid(s);
    case JAW_SWEEP:
    case JAW_DIAL: return look_swept(s);
    default: return look_flat(s);
    }
}

/* "3, 4 and 7"; cut with dots when there are many. */
static void name_suspects(const bool suspect[], size_t n, size_t count,
                          char *text, size_t size)
{
    size_t at = 0, named = 0;

    text[0] = '\0';
    for (size_t i = 0; i < n && named < NAMED_MAX; i++) {
        if (!suspect[i])
            continue;
        named++;
        const char *sep = named == 1 ? "" : named == count ? " and " : ", ";
        int used = snprintf(text + at, size - at, "%s%zu", sep, i + 1);
        at += used > 0 && (size_t)used < size - at ? (size_t)used : 0;
    }
    if (count > NAMED_MAX)
        snprintf(text + at, size - at, " ...");
}

static void tell(jaw__solver *sv, const search *s)
{
    size_t n = s->found->n, count = s->robust.suspects;
    char named[120];

    name_suspects(s->suspect, n, count, named, sizeof named);
    jaw__tell(sv, SAY_SUSPECTS, s->e->place, NULL,
              jaw__is_indicated(s->e->kind) ? "readings" : "touches", named,
              jaw_feature_word(s->e->kind), s->e->name, n - count);
}

bool jaw__tell_suspects(jaw__solver *sv, size_t f)
{
    search s = {.sv = sv,
                .found = &sv->out->features[f],
                .e = &sv->setup->features[f],
                .t = sv->setup->touches + sv->setup->shares[f].first_touch,
                .f = f};

    if (!takes_robust(sv, f))
        return false;
    s.suspect = calloc(s.found->n, sizeof *s.suspect);
    jaw_status status = s.suspect == NULL ? JAW_ENOMEM : find_suspects(&s);
    if (status == JAW_ENOMEM)
        sv->no_memory = true;
    bool several = status == JAW_OK && s.robust.suspects > 1;
    if (several)
        tell(sv, &s);
    free(s.suspect);
    return several;
}
